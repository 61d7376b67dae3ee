/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-marks.h"

#include <math.h>

static const char *const names[] = {
  [CHART_SHAPE_CIRCLE] = "circle",
  [CHART_SHAPE_DISC] = "disc",
  [CHART_SHAPE_DIAMOND] = "diamond",
  [CHART_SHAPE_DIAMOND_OPEN] = "diamond-open",
  [CHART_SHAPE_DIAMOND_HALF] = "diamond-half",
  [CHART_SHAPE_VOID] = "void",
  [CHART_SHAPE_ABOVE] = "above",
  [CHART_SHAPE_BELOW] = "below",
  [CHART_SHAPE_ABOVE_FAILED] = "above-failed",
  [CHART_SHAPE_BELOW_FAILED] = "below-failed",
};

/**
 * chart_shape_name:
 * @shape: a shape
 *
 * Returns: (transfer none): its name in layout dumps
 */
const char *
chart_shape_name (ChartShape shape)
{
  g_return_val_if_fail ((guint) shape < G_N_ELEMENTS (names), "");

  return names[shape];
}

static void
diamond (cairo_t *cr, double x, double y, double radius)
{
  cairo_move_to (cr, x, y - radius);
  cairo_line_to (cr, x + radius, y);
  cairo_line_to (cr, x, y + radius);
  cairo_line_to (cr, x - radius, y);
  cairo_close_path (cr);
}

static void
triangle (cairo_t *cr, double x, double y, double radius, double up)
{
  cairo_move_to (cr, x, y - up * radius);
  cairo_line_to (cr, x + radius, y + up * radius * 0.75);
  cairo_line_to (cr, x - radius, y + up * radius * 0.75);
  cairo_close_path (cr);
}

static void
circle (cairo_t *cr, double x, double y, double radius)
{
  cairo_new_sub_path (cr); /* else the arc draws a line from where a text ended */
  cairo_arc (cr, x, y, radius, 0.0, 2.0 * G_PI);
  cairo_close_path (cr);
}

static void
half_diamond (cairo_t *cr, double x, double y, double radius)
{
  cairo_move_to (cr, x, y - radius);
  cairo_line_to (cr, x, y + radius);
  cairo_line_to (cr, x - radius, y);
  cairo_close_path (cr);
}

/**
 * chart_mark_draw:
 * @cr: where to draw
 * @shape: the shape
 * @x: its middle
 * @y: its middle
 * @radius: half its width
 * @ink: its colour
 * @ground: (nullable): colour inside open shapes that hide what lies below; %NULL leaves them clear
 * @alpha: 1 for a mark that counts, less for one that does not
 *
 * Draws one mark.
 */
void
chart_mark_draw (cairo_t *cr,
                 ChartShape shape,
                 double x,
                 double y,
                 double radius,
                 const ChartColour *ink,
                 const ChartColour *ground,
                 double alpha)
{
  gboolean open = FALSE;

  cairo_new_path (cr);
  switch (shape)
    {
    case CHART_SHAPE_CIRCLE:
      open = TRUE;
      G_GNUC_FALLTHROUGH;
    case CHART_SHAPE_DISC:
      circle (cr, x, y, radius);
      break;
    case CHART_SHAPE_DIAMOND_OPEN:
    case CHART_SHAPE_DIAMOND_HALF:
      open = TRUE;
      G_GNUC_FALLTHROUGH;
    case CHART_SHAPE_DIAMOND:
      diamond (cr, x, y, radius);
      break;
    case CHART_SHAPE_VOID:
      open = TRUE;
      cairo_rectangle (cr, x - radius, y - radius, 2.0 * radius, 2.0 * radius);
      break;
    case CHART_SHAPE_ABOVE:
    case CHART_SHAPE_BELOW:
      open = TRUE;
      G_GNUC_FALLTHROUGH;
    case CHART_SHAPE_ABOVE_FAILED:
    case CHART_SHAPE_BELOW_FAILED:
      triangle (cr, x, y, radius, shape == CHART_SHAPE_ABOVE || shape == CHART_SHAPE_ABOVE_FAILED ? 1.0 : -1.0);
      break;
    }

  if (open && ground != NULL)
    {
      cairo_set_source_rgb (cr, ground->red, ground->green, ground->blue);
      cairo_fill_preserve (cr);
    }
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, alpha);
  if (!open)
    {
      cairo_fill (cr);
      return;
    }

  if (shape == CHART_SHAPE_VOID)
    {
      cairo_move_to (cr, x - radius, y + radius);
      cairo_line_to (cr, x + radius, y - radius);
      cairo_move_to (cr, x - radius, y - radius);
      cairo_line_to (cr, x + radius, y + radius);
    }
  cairo_set_line_width (cr,
                        shape == CHART_SHAPE_DIAMOND_OPEN || shape == CHART_SHAPE_DIAMOND_HALF ? 1.25 : 1.0);
  cairo_stroke (cr);
  if (shape == CHART_SHAPE_DIAMOND_HALF)
    {
      half_diamond (cr, x, y, radius);
      cairo_fill (cr);
    }
}
