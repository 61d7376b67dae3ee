/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A figure that may be set otherwise, as a row of a grid: its label, a slider and an entry that move together, and what it
 * is by the records.
 */

#include <gtk/gtk.h>

#include "present-figure.h"

G_BEGIN_DECLS

/* A person has moved the figure @number to @value. */
typedef void (*FettleFigureMoved) (guint    number,
                                   double   value,
                                   gpointer user_data);

void fettle_figure_row_attach (GtkGrid             *grid,
                               int                  row,
                               const PresentFigure *figure,
                               const char          *name,
                               double               now,
                               const char          *records,
                               guint                number,
                               FettleFigureMoved    moved,
                               gpointer             user_data);

G_END_DECLS
