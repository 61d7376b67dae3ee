/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A wait that lasts, with what ends it: today by one press, or on another day by a deed. Without a wait it hides itself.
 */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_WAIT_ENDING (fettle_wait_ending_get_type ())
G_DECLARE_FINAL_TYPE (FettleWaitEnding, fettle_wait_ending, FETTLE, WAIT_ENDING, GtkWidget)

/**
 * FettleWaitEnding::closed:
 *
 * The wait has ended, or a person left the deed: whoever shows it takes the keyboard back.
 */

GtkWidget *fettle_wait_ending_new   (FettleSitting    *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_wait_ending_show  (FettleWaitEnding *self,
                                     gint64            wait,
                                     const char       *words,
                                     gint64            model);
void       fettle_wait_ending_today (FettleWaitEnding *self);
void       fettle_wait_ending_on    (FettleWaitEnding *self);

G_END_DECLS
