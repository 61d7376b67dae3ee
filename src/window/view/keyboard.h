/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where the keyboard is: in another widget, or only in another window for a while. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

gboolean fettle_keyboard_comes_back (GtkWidget *widget);

G_END_DECLS
