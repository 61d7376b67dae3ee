/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Fonts that the first frame needs, loaded while the window waits for its book.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fettle_warm_fonts (GtkWidget *widget);

G_END_DECLS
