/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Patterns that tell areas apart without colour. They are anchored to the drawing, not to the area, so that
 * areas side by side continue each other.
 */

#include <cairo.h>
#include <glib.h>

#include "chart-theme.h"

G_BEGIN_DECLS

/**
 * ChartHatch:
 * @CHART_HATCH_LIMIT: wide, light lines: outside the limits
 * @CHART_HATCH_LINES: close lines
 * @CHART_HATCH_DOTS: dots
 * @CHART_HATCH_DARK: nearly the ink
 * @CHART_HATCH_GREY: between ink and paper
 * @CHART_HATCH_BLANK: the sheet
 */
typedef enum
{
  CHART_HATCH_LIMIT,
  CHART_HATCH_LINES,
  CHART_HATCH_DOTS,
  CHART_HATCH_DARK,
  CHART_HATCH_GREY,
  CHART_HATCH_BLANK
} ChartHatch;

ChartColour chart_colour_mix (const ChartColour *from,
                              const ChartColour *to,
                              double             share);
void        chart_hatch_fill (cairo_t           *cr,
                              const ChartTheme  *theme,
                              ChartHatch         hatch,
                              double             x,
                              double             y,
                              double             width,
                              double             height);

G_END_DECLS
