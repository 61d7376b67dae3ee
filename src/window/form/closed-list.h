/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The button of a list that is opened: what is chosen, and an arrow. It is one button and no more; a menu button or a
 * drop-down is made of three to twenty widgets, which a form of twenty fields cannot make within a frame.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *fettle_closed_list_new  (GtkLabel  **label) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_closed_list_show (GtkWidget  *button,
                                    GtkLabel   *label,
                                    const char *name,
                                    const char *chosen,
                                    gboolean    is_none);
void       fettle_closed_list_open (GtkWidget  *button,
                                    GtkPopover *popover);

G_END_DECLS
