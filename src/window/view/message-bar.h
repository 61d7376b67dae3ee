/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One sentence at the top of the window, with at most one thing to do about it. Never modal; a newer sentence takes
 * the place of the one before.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_MESSAGE_BAR (fettle_message_bar_get_type ())
G_DECLARE_FINAL_TYPE (FettleMessageBar, fettle_message_bar, FETTLE, MESSAGE_BAR, GtkWidget)

GtkWidget  *fettle_message_bar_new      (void) G_GNUC_WARN_UNUSED_RESULT;
void        fettle_message_bar_say      (FettleMessageBar *self,
                                         const char       *sentence,
                                         const char       *label,
                                         const char       *action);
void        fettle_message_bar_withdraw (FettleMessageBar *self,
                                         const char       *action);
void        fettle_message_bar_see      (FettleMessageBar *self);
void        fettle_message_bar_go_on    (FettleMessageBar *self);
void        fettle_message_bar_hide     (FettleMessageBar *self);
const char *fettle_message_bar_get_said (FettleMessageBar *self);

G_END_DECLS
