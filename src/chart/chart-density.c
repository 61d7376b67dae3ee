/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-density-private.h"

#include <math.h>

#define FAINTEST 82.0 /* of 255: a cell with a single mark */

/* Cells of @cell dots over a box; the last row and column may be cut. */
void
chart_density_init (ChartDensity *density, double x, double y, double w, double h, double cell)
{
  density->x = x;
  density->y = y;
  density->columns = (guint) MAX (ceil (w / cell), 1.0);
  density->rows = (guint) MAX (ceil (h / cell), 1.0);
  density->w = density->columns * cell;
  density->h = density->rows * cell;
  density->counts = g_new0 (guint32, (gsize) density->columns * density->rows);
  density->most = 0;
}

void
chart_density_clear (ChartDensity *density)
{
  g_clear_pointer (&density->counts, g_free);
}

/* Counts a mark; what lies outside counts for the nearest cell. Returns whether it is the first of its cell. */
gboolean
chart_density_take (ChartDensity *density, double x, double y)
{
  double column = floor ((x - density->x) / density->w * density->columns);
  double row = floor ((y - density->y) / density->h * density->rows);
  guint32 *count = &density->counts[(gsize) CLAMP (row, 0.0, density->rows - 1.0) * density->columns
                                    + (gsize) CLAMP (column, 0.0, density->columns - 1.0)];

  (*count)++;
  density->most = MAX (density->most, *count);
  return *count == 1;
}

/* The rows and columns that hold anything, so that nothing empty is painted. */
static void
find_used (const ChartDensity *density, guint *left, guint *top, guint *right, guint *bottom)
{
  *left = density->columns;
  *top = density->rows;
  *right = *bottom = 0;
  for (guint r = 0; r < density->rows; r++)
    for (guint c = 0; c < density->columns; c++)
      if (density->counts[(gsize) r * density->columns + c] > 0)
        {
          *left = MIN (*left, c);
          *right = MAX (*right, c + 1);
          *top = MIN (*top, r);
          *bottom = r + 1;
        }
}

/* The cells as a mask: the darkness grows with the logarithm of the count. Box and cells of @density shrink to
 * those that hold something; @counts is gone afterwards. %NULL when nothing was taken. */
cairo_surface_t *
chart_density_mask (ChartDensity *density)
{
  cairo_surface_t *mask;
  unsigned char *row;
  guint left, top, right, bottom;
  double cell = density->w / density->columns;
  double scale = density->most > 1 ? (235.0 - FAINTEST) / log (density->most) : 0.0;

  if (density->most == 0)
    return NULL;

  find_used (density, &left, &top, &right, &bottom);
  mask = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) (right - left), (int) (bottom - top));
  if (cairo_surface_status (mask) == CAIRO_STATUS_SUCCESS) /* one in error is reported by the drawing */
    {
      row = cairo_image_surface_get_data (mask);
      for (guint r = top; r < bottom; r++, row += cairo_image_surface_get_stride (mask))
        for (guint c = left; c < right; c++)
          {
            guint32 count = density->counts[(gsize) r * density->columns + c];

            row[c - left] = count == 0 ? 0 : (unsigned char) (FAINTEST + scale * log (count));
          }
      cairo_surface_mark_dirty (mask);
    }

  density->x += left * cell;
  density->y += top * cell;
  density->w = (right - left) * cell;
  density->h = (bottom - top) * cell;
  density->columns = right - left;
  density->rows = bottom - top;
  g_clear_pointer (&density->counts, g_free);
  return mask;
}
