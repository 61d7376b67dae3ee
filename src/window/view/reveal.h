/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Bringing a widget into view.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* After the next layout, scrolls the nearest scrolled window above so that @widget is in view, its top first. */
void fettle_reveal      (GtkWidget *widget);
/* The same, but not of what begins in the upper half of what is in view: nobody asked for it, and the top of the page stays. */
void fettle_reveal_late (GtkWidget *widget);

G_END_DECLS
