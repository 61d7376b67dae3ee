/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Many marks in little room: cells that are darker the more marks they hold, and a choice of single marks of
 * which no two share a cell. No cell that holds a mark stays empty, so that extremes are always to be seen.
 */

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/* A picture of the plot in cells of a few dots; counts[] is row by row from the top. */
typedef struct
{
  double   x, y, w, h;
  guint    columns, rows;
  guint32 *counts;
  guint32  most;
} ChartDensity;

void             chart_density_init  (ChartDensity *density,
                                      double        x,
                                      double        y,
                                      double        w,
                                      double        h,
                                      double        cell);
void             chart_density_clear (ChartDensity *density);
gboolean         chart_density_take  (ChartDensity *density,
                                      double        x,
                                      double        y);
cairo_surface_t *chart_density_mask  (ChartDensity *density) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (ChartDensity, chart_density_clear)

G_END_DECLS
