/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A tooltip. GTK 4.8's own property asks the display where the pointer is, and waits for the answer, each time it is set: a
 * tenth of a millisecond a widget, which was half of what making a form took.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void        fettle_tip_set (GtkWidget  *widget,
                            const char *text);
const char *fettle_tip_get (GtkWidget  *widget);

G_END_DECLS
