/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A choice of a few: closed until it is opened, and light until then.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_CHOICE_LIST (fettle_choice_list_get_type ())
G_DECLARE_FINAL_TYPE (FettleChoiceList, fettle_choice_list, FETTLE, CHOICE_LIST, GtkWidget)

GtkWidget *fettle_choice_list_new          (const char       *name,
                                            char            **choices) G_GNUC_WARN_UNUSED_RESULT;
guint      fettle_choice_list_get_selected (FettleChoiceList *self);
void       fettle_choice_list_set_selected (FettleChoiceList *self,
                                            guint             selected);

G_END_DECLS
