/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where the keyboard is: in another widget, or only in another window for a while; and where one begins on a page. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *fettle_keyboard_focus      (GtkWidget  *widget);
gboolean   fettle_keyboard_comes_back (GtkWidget  *widget);
gboolean   fettle_keyboard_is_in      (GtkWidget  *widget);
gboolean   fettle_keyboard_begin      (GtkWidget  *page);
GtkWidget *fettle_keyboard_pane       (GtkWidget  *page);
void       fettle_keyboard_settle     (GtkWidget  *page);
void       fettle_keyboard_name_pane  (GtkWidget  *page,
                                       const char *name);

G_END_DECLS
