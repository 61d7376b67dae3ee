/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-hatch.h"

#include <math.h>

/**
 * chart_colour_mix:
 * @from: a colour
 * @to: another
 * @share: 0 gives @from, 1 gives @to
 *
 * Returns: the colour between
 */
ChartColour
chart_colour_mix (const ChartColour *from, const ChartColour *to, double share)
{
  ChartColour mixed = { from->red + (to->red - from->red) * share,
                        from->green + (to->green - from->green) * share,
                        from->blue + (to->blue - from->blue) * share };

  return mixed;
}

static void
set_mix (cairo_t *cr, const ChartColour *from, const ChartColour *to, double share)
{
  ChartColour colour = chart_colour_mix (from, to, share);

  cairo_set_source_rgb (cr, colour.red, colour.green, colour.blue);
}

/* Lines rising to the right, @apart along the horizontal, each cut to the area by hand: without a clip they
 * stay sharp vectors on paper and cheap on the screen. */
static void
rising_lines (cairo_t *cr, double apart, double x, double y, double width, double height)
{
  double first = ceil ((x + y) / apart) * apart;

  /* On such a line x + y is constant. */
  for (double sum = first; sum < x + width + y + height; sum += apart)
    {
      double left = MAX (x, sum - y - height);
      double right = MIN (x + width, sum - y);

      if (right - left < 0.5)
        continue;
      cairo_move_to (cr, left, sum - left);
      cairo_line_to (cr, right, sum - right);
    }
}

static void
dots (cairo_t *cr, double apart, double x, double y, double width, double height)
{
  const double size = 1.25;

  for (double row = ceil (y / apart) * apart; row + size <= y + height; row += apart)
    for (double column = ceil (x / apart) * apart; column + size <= x + width; column += apart)
      cairo_rectangle (cr, column, row, size, size);
}

/**
 * chart_hatch_fill:
 * @cr: where to draw
 * @theme: colours
 * @hatch: the pattern
 * @x: left
 * @y: top
 * @width: of the area
 * @height: of the area
 *
 * Fills an area with a pattern. Phases have the sheet as their ground; the pattern for limits leaves the ground
 * as it is.
 */
void
chart_hatch_fill (cairo_t *cr,
                  const ChartTheme *theme,
                  ChartHatch hatch,
                  double x,
                  double y,
                  double width,
                  double height)
{
  if (!(width > 0.0 && height > 0.0))
    return;

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_FAST);
  if (hatch != CHART_HATCH_LIMIT)
    {
      if (hatch == CHART_HATCH_DARK)
        set_mix (cr, &theme->ink, &theme->sheet, 0.17);
      else if (hatch == CHART_HATCH_GREY)
        set_mix (cr, &theme->ink, &theme->sheet, 0.66);
      else
        set_mix (cr, &theme->sheet, &theme->sheet, 0.0);
      cairo_rectangle (cr, x, y, width, height);
      cairo_fill (cr);
    }

  switch (hatch)
    {
    case CHART_HATCH_LIMIT:
      set_mix (cr, &theme->rule, &theme->sheet, 0.25);
      cairo_set_line_width (cr, 0.9);
      rising_lines (cr, 7.0, x, y, width, height);
      cairo_stroke (cr);
      break;
    case CHART_HATCH_LINES:
      set_mix (cr, &theme->ink, &theme->sheet, 0.35);
      cairo_set_line_width (cr, 0.9);
      rising_lines (cr, 5.0, x, y, width, height);
      cairo_stroke (cr);
      break;
    case CHART_HATCH_DOTS:
      set_mix (cr, &theme->ink, &theme->sheet, 0.35);
      dots (cr, 5.0, x, y, width, height);
      cairo_fill (cr);
      break;
    case CHART_HATCH_DARK:
    case CHART_HATCH_GREY:
    case CHART_HATCH_BLANK:
      break;
    }
  cairo_restore (cr);
}
