/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The shapes of marks. What a mark tells, it tells by its shape; colour only repeats it.
 */

#include <cairo.h>
#include <glib.h>

#include "chart-theme.h"

G_BEGIN_DECLS

/**
 * ChartShape:
 * @CHART_SHAPE_CIRCLE: open circle: a reading
 * @CHART_SHAPE_DISC: filled circle: a point of a line
 * @CHART_SHAPE_DIAMOND: filled diamond: failed; on the strip: an issue whose fix is shown
 * @CHART_SHAPE_DIAMOND_OPEN: open diamond: an issue found
 * @CHART_SHAPE_DIAMOND_HALF: half-filled diamond: an issue not seen again
 * @CHART_SHAPE_VOID: crossed-out open square: voided
 * @CHART_SHAPE_ABOVE: open triangle upwards: more than the value
 * @CHART_SHAPE_BELOW: open triangle downwards: less than the value
 * @CHART_SHAPE_ABOVE_FAILED: filled triangle upwards: more than the value, and failed
 * @CHART_SHAPE_BELOW_FAILED: filled triangle downwards: less than the value, and failed
 */
typedef enum
{
  CHART_SHAPE_CIRCLE,
  CHART_SHAPE_DISC,
  CHART_SHAPE_DIAMOND,
  CHART_SHAPE_DIAMOND_OPEN,
  CHART_SHAPE_DIAMOND_HALF,
  CHART_SHAPE_VOID,
  CHART_SHAPE_ABOVE,
  CHART_SHAPE_BELOW,
  CHART_SHAPE_ABOVE_FAILED,
  CHART_SHAPE_BELOW_FAILED
} ChartShape;

const char *chart_shape_name (ChartShape         shape);
void        chart_mark_draw  (cairo_t           *cr,
                              ChartShape         shape,
                              double             x,
                              double             y,
                              double             radius,
                              const ChartColour *ink,
                              const ChartColour *ground,
                              double             alpha);

G_END_DECLS
