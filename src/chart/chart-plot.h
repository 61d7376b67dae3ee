/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Points, lines and bands over two scales, either of which may be logarithmic or that of Weibull paper: the lives of units,
 * failures over cycles. The marks are the points, from left to right.
 */

#include "chart.h"
#include "chart-marks.h"

G_BEGIN_DECLS

/**
 * ChartPlotScale:
 * @CHART_PLOT_LINEAR: even
 * @CHART_PLOT_LOG: by powers of ten; values above 0
 * @CHART_PLOT_WEIBULL: ln (-ln (1 - F)) of a share F in (0, 1), on which a Weibull life is a straight line
 */
typedef enum
{
  CHART_PLOT_LINEAR,
  CHART_PLOT_LOG,
  CHART_PLOT_WEIBULL
} ChartPlotScale;

typedef struct
{
  ChartPlotScale scale;
  const char    *words; /* what it counts */
} ChartPlotAxis;

/* @tick: drawn as a short upright line at the foot: a unit that was stopped; then @y is not looked at. */
typedef struct
{
  double      x;
  double      y;
  ChartShape  shape;
  gboolean    tick;
  gint64      key;
  const char *words;
} ChartPlotPoint;

/* Points joined in their order. @dashed: so far, or an end of a band. Lines with the same @name share a line of the legend. */
typedef struct
{
  const double *xs;
  const double *ys;
  guint         n;
  gboolean      dashed;
  gboolean      faint;
  const char   *name; /* (nullable): at its right end */
} ChartPlotLine;

/* Something that happened at @x: the end of a round. Its name stands at the top where there is room. */
typedef struct
{
  double      x;
  const char *name;
} ChartPlotUpright;

/**
 * ChartPlot:
 * @kind: static name of what is drawn ('life')
 * @title: (nullable): heading drawn above, in serif
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @note: (nullable): a line below the heading: why something is left out
 * @wanted_x: where a cross is drawn; NAN for none
 * @wanted_y: likewise
 * @wanted: (nullable): words beside the cross
 * @shapes: (array length=n_shapes): legend: shapes with their names
 * @tick_name: (nullable): legend: what the short upright lines at the foot are
 * @uprights: (array length=n_uprights): in rising order of @x
 */
typedef struct
{
  const char           *kind;
  const char           *title;
  const char           *empty;
  const char           *note;
  ChartPlotAxis         across;
  ChartPlotAxis         up;
  const ChartPlotPoint *points;
  guint                 n_points;
  const ChartPlotLine  *lines;
  guint                 n_lines;
  double                wanted_x;
  double                wanted_y;
  const char           *wanted;
  const struct ChartPlotShape
  {
    ChartShape  shape;
    const char *name;
  }                    *shapes;
  guint                 n_shapes;
  const char           *tick_name;
  const ChartPlotUpright *uprights;
  guint                 n_uprights;
} ChartPlot;

Chart *chart_plot_new (const ChartPlot *data) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
