/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the drawing of points and lines keeps, and where its parts lie.
 */

#include "chart-plot.h"

#include "chart-private.h"

G_BEGIN_DECLS

#define CHART_PLOT_RADIUS 3.5
#define CHART_PLOT_FOOT   8.0 /* height of the ticks of stopped units */
#define CHART_PLOT_MOST_TICKS 24

typedef struct
{
  double    *xs, *ys;
  guint      n;
  gboolean   dashed, faint;
  const char *name;
} ChartPlotOwnLine;

typedef struct
{
  const char     *title, *empty, *note, *wanted;
  ChartPlotAxis   across, up;
  ChartPlotPoint *points;
  guint           n_points;
  ChartPlotOwnLine *lines;
  guint           n_lines;
  double          wanted_x, wanted_y;
  struct ChartPlotShape *shapes;
  guint           n_shapes;
  const char     *tick_name;
  ChartPlotUpright *uprights;
  guint           n_uprights;
} ChartPlotData;

/* A label of an axis. */
typedef struct
{
  double at; /* by the axis' function */
  guint  rank; /* which are labelled first */
  char   text[24];
} ChartPlotTick;

typedef struct
{
  ChartScene *scene;
  double      left, line, top;
  double      x, y, w, h;
  gboolean    bare; /* no room for any word */
  gboolean    key_full; /* the legend has no room for more */
  gboolean    lane; /* names of uprights stand above the plot */
  ChartScale  across, up;
  ChartPlotTick across_ticks[CHART_PLOT_MOST_TICKS], up_ticks[CHART_PLOT_MOST_TICKS];
  guint       n_across, n_up;
} ChartPlotLayout;

double    chart_plot_through    (ChartPlotScale          scale,
                                 double                  value);
ChartTone chart_plot_line_tone  (const ChartPlotOwnLine *line);
double    chart_plot_line_width (const ChartPlotOwnLine *line);
ChartDash chart_plot_line_dash  (const ChartPlotOwnLine *line);
void      chart_plot_lay        (ChartPlotLayout        *layout,
                                 const ChartPlotData    *data);

G_END_DECLS
