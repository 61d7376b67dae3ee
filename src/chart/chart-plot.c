/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Method. Values go through a function of their axis and then along a straight scale. What lies where its axis has no
 * place (a share of 0, a cycle of 0) is not drawn and cannot be found.
 */
#include "chart-plot-private.h"

#include "chart-density-private.h"
#include "chart-labels.h"

#include <math.h>
#include <stdlib.h>

#define CROSS 6.0
#define CROWD 2000 /* more points are thinned to one a cell, over a picture of their density */
#define CELL  4.0

static gboolean
place_of (const ChartPlotLayout *layout, const ChartPlotData *data, double x, double y, double *at_x, double *at_y)
{
  double across = chart_plot_through (data->across.scale, x), up = chart_plot_through (data->up.scale, y);

  if (!isfinite (across) || !isfinite (up))
    return FALSE;
  *at_x = chart_scale_at (&layout->across, across);
  *at_y = chart_scale_at (&layout->up, up);
  return isfinite (*at_x) && isfinite (*at_y);
}

/* The part of a straight piece that lies within the plot (Liang and Barsky 1984, from memory). */
static gboolean
clip (const ChartPlotLayout *layout, double *x0, double *y0, double *x1, double *y1)
{
  double dx = *x1 - *x0, dy = *y1 - *y0, from = 0.0, to = 1.0;
  const double p[] = { -dx, dx, -dy, dy };
  const double q[] = { *x0 - layout->x, layout->x + layout->w - *x0, *y0 - layout->y, layout->y + layout->h - *y0 };
  double start_x = *x0, start_y = *y0;

  for (guint i = 0; i < 4; i++)
    if (p[i] == 0.0)
      {
        if (q[i] < 0.0)
          return FALSE;
      }
    else if (p[i] < 0.0)
      from = MAX (from, q[i] / p[i]);
    else
      to = MIN (to, q[i] / p[i]);
  if (from >= to)
    return FALSE;
  *x0 = start_x + from * dx;
  *y0 = start_y + from * dy;
  *x1 = start_x + to * dx;
  *y1 = start_y + to * dy;
  return TRUE;
}

/* One path from where the line enters the plot to where it leaves it, so that dashes run through. */
static void
add_line (const ChartPlotLayout *layout, const ChartPlotData *data, const ChartPlotOwnLine *line)
{
  double before_x = 0.0, before_y = 0.0;
  gboolean has_before = FALSE, is_open = FALSE;

  for (guint i = 0; i < line->n; i++)
    {
      double x, y, x0 = before_x, y0 = before_y, x1, y1;
      gboolean here = place_of (layout, data, line->xs[i], line->ys[i], &x, &y);

      x1 = x;
      y1 = y;
      if (here && has_before && clip (layout, &x0, &y0, &x1, &y1))
        {
          if (!is_open || x0 != before_x || y0 != before_y)
            {
              chart_scene_path (layout->scene, "line", chart_plot_line_tone (line), chart_plot_line_width (line))->dash = chart_plot_line_dash (line);
              chart_scene_point (layout->scene, x0, y0);
            }
          chart_scene_point (layout->scene, x1, y1);
          is_open = x1 == x && y1 == y;
        }
      else
        is_open = FALSE;
      has_before = here;
      before_x = x;
      before_y = y;
    }
}

/* Rounds and the like: a line from top to bottom, its name beside it at the top. */
static void
add_uprights (const ChartPlotLayout *layout, const ChartPlotData *data)
{
  g_autofree ChartLabel *labels = g_new0 (ChartLabel, data->n_uprights + 1);

  for (guint i = 0; i < data->n_uprights; i++)
    {
      double across = chart_plot_through (data->across.scale, data->uprights[i].x), x;

      if (!isfinite (across))
        continue;
      x = chart_scale_at (&layout->across, across);
      if (!(x >= layout->x && x <= layout->x + layout->w))
        continue;
      x = chart_crisp (x);
      chart_scene_line (layout->scene, "upright", CHART_TONE_FAINT, 1.0, x, layout->y - (layout->lane ? layout->line : 0.0), x, layout->y + layout->h)
          ->dash = CHART_DASH_DOTS;
      labels[i].size = chart_scene_text_width (layout->scene, CHART_TEXT_LABEL, data->uprights[i].name);
      labels[i].wanted = x - 3.0 - labels[i].size / 2.0;
    }
  if (!layout->lane)
    return;
  chart_labels_pick (labels, data->n_uprights, layout->x, layout->x + layout->w, 6.0);
  for (guint i = 0; i < data->n_uprights; i++)
    if (labels[i].placed && labels[i].size > 0.0)
      chart_scene_fit_text (layout->scene, "upright-name", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->uprights[i].name,
                labels[i].at - labels[i].size / 2.0, layout->y - layout->line, labels[i].size + 1.0);
}

/* Where a point stands; FALSE where it has no place. */
static gboolean
place_point (const ChartPlotLayout *layout, const ChartPlotData *data, const ChartPlotPoint *point, double *x, double *y)
{
  double across = chart_plot_through (data->across.scale, point->x);

  if (!point->tick)
    return place_of (layout, data, point->x, point->y, x, y);
  if (!isfinite (across))
    return FALSE;
  *x = chart_scale_at (&layout->across, across);
  *y = layout->y + layout->h - CHART_PLOT_FOOT / 2.0;
  return TRUE;
}

static void
add_density (const ChartPlotLayout *layout)
{
  ChartScene *scene = layout->scene;
  g_auto(ChartDensity) density = { 0 };
  cairo_surface_t *mask;

  chart_density_init (&density, floor (layout->x), floor (layout->y), layout->w, layout->h, CELL);
  for (guint i = 0; i < scene->n_spots; i++)
    if (!isnan (scene->spots[i].x))
      chart_density_take (&density, scene->spots[i].x, scene->spots[i].y);
  mask = chart_density_mask (&density);
  if (mask != NULL)
    chart_scene_density (scene, "points", CHART_TONE_INK, density.x, density.y, density.w, density.h, mask)->alpha = 0.5;
}

/* Crowds are told by their density; of the points themselves those are drawn that lie apart. */
static void
add_points (const ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  const gboolean crowd = data->n_points > CROWD;
  g_auto(ChartDensity) cells = { 0 };

  for (guint i = 0; i < data->n_points; i++)
    {
      double x, y;

      if (place_point (layout, data, &data->points[i], &x, &y))
        chart_scene_spot (scene, i, x, y, 0.0, 0.0);
    }
  if (crowd)
    {
      add_density (layout);
      chart_density_init (&cells, floor (layout->x), floor (layout->y), layout->w, layout->h, 3.0 * CHART_PLOT_RADIUS);
    }
  for (guint i = 0; i < data->n_points; i++)
    {
      const ChartPlotPoint *point = &data->points[i];
      const double x = scene->spots[i].x, y = scene->spots[i].y;

      if (isnan (x) || (crowd && !chart_density_take (&cells, x, y)))
        continue;
      if (point->tick)
        chart_scene_line (scene, "stopped", CHART_TONE_INK, 1.0, chart_crisp (x), y - CHART_PLOT_FOOT / 2.0, chart_crisp (x), y + CHART_PLOT_FOOT / 2.0 - 1.0);
      else
        chart_scene_mark (scene, "point", point->shape, CHART_TONE_INK, x, y, CHART_PLOT_RADIUS);
    }
}

static void
add_wanted (const ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  double x, y, width, words_y;

  if (!place_of (layout, data, data->wanted_x, data->wanted_y, &x, &y))
    return;
  chart_scene_line (scene, "wanted", CHART_TONE_COPPER, 2.0, x - CROSS, y, x + CROSS, y);
  chart_scene_line (scene, "wanted", CHART_TONE_COPPER, 2.0, x, y - CROSS, x, y + CROSS);
  if (data->wanted == NULL)
    return;
  width = chart_scene_text_width (scene, CHART_TEXT_LABEL, data->wanted);
  words_y = MAX (y - layout->line - 2.0, layout->y);
  if (x + CROSS + 4.0 + width <= layout->x + layout->w)
    chart_scene_fit_text (scene, "wanted-words", CHART_TONE_COPPER, CHART_TEXT_LABEL, data->wanted, x + CROSS + 4.0, words_y, width + 1.0);
  else if (x - CROSS - 4.0 - width >= layout->x)
    chart_scene_fit_text (scene, "wanted-words", CHART_TONE_COPPER, CHART_TEXT_LABEL, data->wanted, x - CROSS - 4.0 - width, words_y, width + 1.0);
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const ChartPlotData *data = chart->data;
  ChartPlotLayout layout = { .scene = scene };

  if (data->n_points == 0 && data->n_lines == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  chart_plot_lay (&layout, data);
  add_uprights (&layout, data);
  for (guint i = 0; i < data->n_lines; i++)
    add_line (&layout, data, &data->lines[i]);
  add_points (&layout, data);
  add_wanted (&layout, data);
}

static void
clear (gpointer pointer)
{
  ChartPlotData *data = pointer;

  for (guint i = 0; i < data->n_lines; i++)
    {
      g_free (data->lines[i].xs);
      g_free (data->lines[i].ys);
    }
  g_free (data->lines);
  g_free (data->points);
  g_free (data->shapes);
  g_free (data->uprights);
  g_free (data);
}

static const ChartKind kind = { "plot", FALSE, lay, clear };

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const ChartPlotPoint *x = a, *y = b;

  if (isnan (x->x) || isnan (y->x)) /* nowhere, at the end */
    return (isnan (x->x) != 0) - (isnan (y->x) != 0);
  return (x->x > y->x) - (x->x < y->x);
}

/**
 * chart_plot_new:
 * @data: what is drawn; copied
 *
 * Returns: (transfer full): the drawing
 */
Chart *
chart_plot_new (const ChartPlot *data)
{
  ChartPlotData *own = g_new0 (ChartPlotData, 1);
  Chart *chart = chart_new (&kind, own, data->n_points);

  own->title = chart_keep (chart, data->title);
  own->empty = chart_keep (chart, data->empty);
  own->note = chart_keep (chart, data->note);
  own->wanted = chart_keep (chart, data->wanted);
  own->across = (ChartPlotAxis){ data->across.scale, chart_keep (chart, data->across.words) };
  own->up = (ChartPlotAxis){ data->up.scale, chart_keep (chart, data->up.words) };
  own->wanted_x = data->wanted_x;
  own->wanted_y = data->wanted_y;
  own->n_points = data->n_points;
  own->points = g_new0 (ChartPlotPoint, data->n_points + 1);
  for (guint i = 0; i < data->n_points; i++)
    own->points[i] = data->points[i];
  qsort (own->points, own->n_points, sizeof *own->points, compare_points);
  for (guint i = 0; i < own->n_points; i++)
    chart_set_mark (chart, i, 0, own->points[i].key, own->points[i].words);
  own->n_lines = data->n_lines;
  own->lines = g_new0 (ChartPlotOwnLine, data->n_lines + 1);
  for (guint i = 0; i < data->n_lines; i++)
    own->lines[i] = (ChartPlotOwnLine){ g_memdup2 (data->lines[i].xs, data->lines[i].n * sizeof (double)),
                            g_memdup2 (data->lines[i].ys, data->lines[i].n * sizeof (double)), data->lines[i].n,
                            data->lines[i].dashed, data->lines[i].faint, chart_keep (chart, data->lines[i].name) };
  own->n_shapes = data->n_shapes;
  own->shapes = g_new0 (struct ChartPlotShape, data->n_shapes + 1);
  for (guint i = 0; i < data->n_shapes; i++)
    own->shapes[i] = (struct ChartPlotShape){ data->shapes[i].shape, chart_keep (chart, data->shapes[i].name) };
  own->tick_name = chart_keep (chart, data->tick_name);
  own->n_uprights = data->n_uprights;
  own->uprights = g_new0 (ChartPlotUpright, data->n_uprights + 1);
  for (guint i = 0; i < data->n_uprights; i++)
    own->uprights[i] = (ChartPlotUpright){ data->uprights[i].x, chart_keep (chart, data->uprights[i].name) };
  chart_order_marks (chart, 1);
  return chart;
}
