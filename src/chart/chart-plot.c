/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Method. Values go through a function of their axis and then along a straight scale. What lies where its axis has no
 * place (a share of 0, a cycle of 0) is not drawn and cannot be found.
 */
#include "chart-plot.h"

#include "chart-labels.h"
#include "chart-private.h"

#include <math.h>
#include <stdlib.h>

#define PAD       10.0
#define RADIUS    3.5
#define FOOT      8.0  /* height of the ticks of stopped units */
#define LEAST_TEXT 16.0 /* a text is not cut to less */
#define TICK_ROOM 52.0
#define LINE_ROOM 22.0
#define CROSS     6.0
#define BARE_LINES 7.0
#define BARE_WIDTH 100.0
#define MOST_TICKS 24

typedef struct
{
  double    *xs, *ys;
  guint      n;
  gboolean   dashed, faint;
  const char *name;
} Line;

typedef struct
{
  const char     *title, *empty, *note, *wanted;
  ChartPlotAxis   across, up;
  ChartPlotPoint *points;
  guint           n_points;
  Line           *lines;
  guint           n_lines;
  double          wanted_x, wanted_y;
  struct ChartPlotShape *shapes;
  guint           n_shapes;
} Data;

/* A label of an axis. */
typedef struct
{
  double at; /* by the axis' function */
  char   text[24];
} Tick;

typedef struct
{
  ChartScene *scene;
  double      left, line, top;
  double      x, y, w, h;
  gboolean    bare; /* no room for any word */
  ChartScale  across, up;
  Tick        across_ticks[MOST_TICKS], up_ticks[MOST_TICKS];
  guint       n_across, n_up;
} Layout;

/* NAN where the axis has no place for @value. */
static double
through (ChartPlotScale scale, double value)
{
  switch (scale)
    {
    case CHART_PLOT_LINEAR:
      return value;
    case CHART_PLOT_LOG:
      return value > 0.0 ? log10 (value) : (double) NAN;
    case CHART_PLOT_WEIBULL:
      return value > 0.0 && value < 1.0 ? log (-log1p (-value)) : (double) NAN;
    }
  return NAN;
}

static void
add_tick (Tick *ticks, guint *n, double at, double low, double high, const char *text)
{
  if (*n >= MOST_TICKS || !(at >= low - 1e-9 && at <= high + 1e-9))
    return;
  ticks[*n].at = at;
  g_strlcpy (ticks[*n].text, text, sizeof ticks[*n].text);
  (*n)++;
}

/* Powers of ten, with 2 and 5 between where a decade has room for them. */
static void
log_ticks (Tick *ticks, guint *n, double low, double high, guint most)
{
  static const double steps[] = { 1.0, 2.0, 5.0 };
  int first = (int) floor (low), last = (int) ceil (high), stride = MAX (1, (last - first) / (int) MAX (most, 1u));
  gboolean between = (guint) (last - first) * 3 <= most + 2;

  for (int decade = first; decade <= last; decade += stride)
    for (guint i = 0; i < (between ? G_N_ELEMENTS (steps) : 1); i++)
      {
        g_autofree char *text = g_strdup_printf ("%g", steps[i] * pow (10.0, decade));

        add_tick (ticks, n, decade + log10 (steps[i]), low, high, text);
      }
}

static void
weibull_ticks (Tick *ticks, guint *n, double low, double high)
{
  static const double shares[] = { 0.0001, 0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999 };

  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      g_autofree char *text = g_strdup_printf ("%g %%", 100.0 * shares[i]);

      add_tick (ticks, n, through (CHART_PLOT_WEIBULL, shares[i]), low, high, text);
    }
}

static void
linear_ticks (Tick *ticks, guint *n, double *low, double *high, guint most)
{
  ChartTicks even = chart_ticks_around (low, high, MIN (most, MOST_TICKS - 2));

  for (guint i = 0; i < even.n; i++)
    {
      g_autofree char *text = chart_number (chart_ticks_value (&even, i), even.decimals);

      add_tick (ticks, n, chart_ticks_value (&even, i), *low, *high, text);
    }
}

static void
make_ticks (ChartPlotScale scale, Tick *ticks, guint *n, double *low, double *high, guint most)
{
  *n = 0;
  switch (scale)
    {
    case CHART_PLOT_LINEAR:
      linear_ticks (ticks, n, low, high, most);
      break;
    case CHART_PLOT_LOG:
      log_ticks (ticks, n, *low, *high, most);
      break;
    case CHART_PLOT_WEIBULL:
      weibull_ticks (ticks, n, *low, *high);
      break;
    }
}

static void
take (const ChartPlotAxis *axis, double value, double *low, double *high, guint *n)
{
  double at = through (axis->scale, value);

  if (!isfinite (at))
    return;
  chart_range_take (low, high, at);
  (*n)++;
}

/* Points and what is wanted decide; lines are cut at the edge. */
static gboolean
find_range (const Data *data, gboolean is_across, double *low, double *high)
{
  const ChartPlotAxis *axis = is_across ? &data->across : &data->up;
  guint n = 0;
  double margin;

  chart_range_init (low, high);
  for (guint i = 0; i < data->n_points; i++)
    if (is_across || !data->points[i].tick)
      take (axis, is_across ? data->points[i].x : data->points[i].y, low, high, &n);
  take (axis, is_across ? data->wanted_x : data->wanted_y, low, high, &n);
  for (guint l = 0; n == 0 && l < data->n_lines; l++)
    for (guint i = 0; i < data->lines[l].n; i++)
      take (axis, is_across ? data->lines[l].xs[i] : data->lines[l].ys[i], low, high, &n);
  if (n == 0)
    {
      *low = axis->scale == CHART_PLOT_WEIBULL ? through (axis->scale, 0.01) : 0.0;
      *high = axis->scale == CHART_PLOT_WEIBULL ? through (axis->scale, 0.9) : 1.0;
      return FALSE;
    }
  if (axis->scale == CHART_PLOT_LINEAR)
    *low = MIN (*low, 0.0);
  margin = axis->scale == CHART_PLOT_LOG ? 0.12 : 0.06 * (*high - *low);
  if (axis->scale != CHART_PLOT_LINEAR)
    {
      *low -= margin;
      *high += margin;
    }
  chart_range_settle (low, high);
  return TRUE;
}

static double
text_width (ChartScene *scene, const char *text)
{
  g_autoptr(PangoLayout) layout = chart_scene_layout (scene, CHART_TEXT_LABEL, text);
  double width;

  chart_text_size (layout, &width, NULL);
  return ceil (width);
}

/* Cut to @room; nothing where that would leave a few letters. */
static void
add_text (ChartScene *scene, const char *role, ChartTone tone, ChartTextStyle style, const char *text, double x, double y, double room)
{
  PangoLayout *layout;
  double width;

  if (text == NULL || *text == '\0')
    return;
  layout = chart_scene_layout (scene, style, text);
  chart_text_size (layout, &width, NULL);
  if (width > room && room < LEAST_TEXT)
    {
      g_object_unref (layout);
      return;
    }
  if (width > room)
    chart_text_cut (layout, room);
  chart_scene_text (scene, role, tone, layout, x, y);
}

/* Shapes and their names in one line, as many as have room. */
static void
lay_legend (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double x = layout->left, end = scene->width - layout->left;

  if (data->n_shapes < 2 || scene->height - layout->top < 8.0 * layout->line)
    return;
  for (guint i = 0; i < data->n_shapes; i++)
    {
      double width = 2.0 * RADIUS + 5.0 + text_width (scene, data->shapes[i].name);

      if (x + width > end)
        break;
      chart_scene_mark (scene, "swatch", data->shapes[i].shape, CHART_TONE_INK, x + RADIUS, layout->top + layout->line / 2.0, RADIUS);
      add_text (scene, "legend", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->shapes[i].name, x + 2.0 * RADIUS + 5.0, layout->top,
                end - x - 2.0 * RADIUS - 5.0);
      x += width + 14.0;
    }
  layout->top += layout->line + 6.0;
}

static void
lay_head (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left;

  layout->top = layout->bare ? 2.0 : layout->left;
  if (layout->bare)
    return;
  if (data->title != NULL)
    {
      add_text (scene, "title", CHART_TONE_INK, CHART_TEXT_TITLE, data->title, layout->left, layout->top, room);
      layout->top += chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0;
    }
  if (data->note != NULL && scene->height - layout->top > 8.0 * layout->line)
    {
      add_text (scene, "note", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->note, layout->left, layout->top, room);
      layout->top += layout->line + 4.0;
    }
  lay_legend (layout, data);
  add_text (scene, "scale-up", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->up.words, layout->left, layout->top, room);
  layout->top += layout->line + 4.0;
}

static void
lay_axes (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double low, high, widest = 0.0;

  if (!layout->bare)
    layout->top += layout->line / 2.0; /* the topmost label stands half above the plot */
  layout->h = layout->bare ? MAX (scene->height - 4.0, FOOT + 4.0)
                           : MAX (scene->height - layout->top - 2.0 * layout->line - 8.0 - layout->left / 2.0, 10.0);
  layout->y = layout->top;
  find_range (data, FALSE, &low, &high);
  make_ticks (data->up.scale, layout->up_ticks, &layout->n_up, &low, &high, (guint) CLAMP (layout->h / LINE_ROOM, 2.0, 12.0));
  for (guint i = 0; !layout->bare && i < layout->n_up; i++)
    widest = MAX (widest, text_width (scene, layout->up_ticks[i].text));
  widest = MIN (widest, 0.3 * scene->width);
  chart_scale_init (&layout->up, low, high, layout->y + layout->h - FOOT, layout->y + 2.0);

  layout->x = layout->left + widest + 8.0;
  layout->w = MAX (scene->width - layout->left - layout->x - 4.0, 10.0);
  find_range (data, TRUE, &low, &high);
  make_ticks (data->across.scale, layout->across_ticks, &layout->n_across, &low, &high,
              (guint) CLAMP (layout->w / TICK_ROOM, 2.0, 12.0));
  chart_scale_init (&layout->across, low, high, layout->x + 2.0, layout->x + layout->w - 2.0);
}

static void
add_up_labels (const Layout *layout)
{
  ChartScene *scene = layout->scene;
  ChartLabel labels[MOST_TICKS] = { 0 };

  for (guint i = 0; i < layout->n_up; i++)
    labels[i] = (ChartLabel){ .wanted = chart_scale_at (&layout->up, layout->up_ticks[i].at), .size = layout->line,
                              .rank = layout->n_up - i };
  chart_labels_thin (labels, layout->n_up, layout->y - layout->line / 2.0, layout->y + layout->h + layout->line / 2.0, 1.0, -1);
  for (guint i = 0; i < layout->n_up; i++)
    {
      double y = chart_crisp (labels[i].wanted), width = text_width (scene, layout->up_ticks[i].text);

      chart_scene_line (scene, "grid", CHART_TONE_RULE, 1.0, layout->x, y, layout->x + layout->w, y);
      if (labels[i].placed && width <= layout->x - layout->left - 4.0)
        add_text (scene, "tick", CHART_TONE_FAINT, CHART_TEXT_LABEL, layout->up_ticks[i].text, layout->x - 6.0 - width,
                  labels[i].at - layout->line / 2.0, width + 1.0);
    }
}

static void
add_across_labels (const Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  ChartLabel labels[MOST_TICKS] = { 0 };
  double y = layout->y + layout->h + 3.0;

  for (guint i = 0; i < layout->n_across; i++)
    labels[i] = (ChartLabel){ .wanted = chart_scale_at (&layout->across, layout->across_ticks[i].at),
                              .size = text_width (scene, layout->across_ticks[i].text), .rank = i % 3 == 0 ? 0 : 1 };
  chart_labels_thin (labels, layout->n_across, layout->left, scene->width - 2.0, 6.0, -1);
  for (guint i = 0; i < layout->n_across; i++)
    {
      double x = chart_crisp (labels[i].wanted);

      chart_scene_line (scene, "grid", CHART_TONE_RULE, 1.0, x, layout->y, x, layout->y + layout->h);
      if (labels[i].placed)
        add_text (scene, "tick", CHART_TONE_FAINT, CHART_TEXT_LABEL, layout->across_ticks[i].text, labels[i].at - labels[i].size / 2.0,
                  y, labels[i].size + 1.0);
    }
  {
    double width = MIN (text_width (scene, data->across.words), scene->width - 2.0 * layout->left);

    add_text (scene, "scale-across", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->across.words, scene->width - layout->left - width,
              y + layout->line + 1.0, width + 1.0);
  }
}

static gboolean
place_of (const Layout *layout, const Data *data, double x, double y, double *at_x, double *at_y)
{
  double across = through (data->across.scale, x), up = through (data->up.scale, y);

  if (!isfinite (across) || !isfinite (up))
    return FALSE;
  *at_x = chart_scale_at (&layout->across, across);
  *at_y = chart_scale_at (&layout->up, up);
  return isfinite (*at_x) && isfinite (*at_y);
}

/* The part of a straight piece that lies within the plot (Liang and Barsky 1984, from memory). */
static gboolean
clip (const Layout *layout, double *x0, double *y0, double *x1, double *y1)
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

static void
add_line (const Layout *layout, const Data *data, const Line *line)
{
  double before_x = 0.0, before_y = 0.0;
  gboolean has_before = FALSE;

  for (guint i = 0; i < line->n; i++)
    {
      double x, y, x0 = before_x, y0 = before_y, x1, y1;
      gboolean here = place_of (layout, data, line->xs[i], line->ys[i], &x, &y);

      x1 = x;
      y1 = y;
      if (here && has_before && clip (layout, &x0, &y0, &x1, &y1))
        {
          ChartItem *item = chart_scene_line (layout->scene, "line", line->faint ? CHART_TONE_FAINT : CHART_TONE_INK,
                                              line->faint ? 1.0 : 1.5, x0, y0, x1, y1);

          item->dash = line->dashed ? CHART_DASH_LONG : CHART_DASH_NONE;
        }
      has_before = here;
      before_x = x;
      before_y = y;
    }
}

static void
add_points (const Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;

  for (guint i = 0; i < data->n_points; i++)
    {
      const ChartPlotPoint *point = &data->points[i];
      double x, y;

      if (point->tick)
        {
          double across = through (data->across.scale, point->x);

          if (!isfinite (across))
            continue;
          x = chart_scale_at (&layout->across, across);
          y = layout->y + layout->h - FOOT / 2.0;
          chart_scene_line (scene, "stopped", CHART_TONE_INK, 1.0, chart_crisp (x), y - FOOT / 2.0, chart_crisp (x), y + FOOT / 2.0 - 1.0);
        }
      else if (place_of (layout, data, point->x, point->y, &x, &y))
        chart_scene_mark (scene, "point", point->shape, CHART_TONE_INK, x, y, RADIUS);
      else
        continue;
      chart_scene_spot (scene, i, x, y, 0.0, 0.0);
    }
}

static void
add_wanted (const Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double x, y, width;

  if (!place_of (layout, data, data->wanted_x, data->wanted_y, &x, &y))
    return;
  chart_scene_line (scene, "wanted", CHART_TONE_COPPER, 2.0, x - CROSS, y, x + CROSS, y);
  chart_scene_line (scene, "wanted", CHART_TONE_COPPER, 2.0, x, y - CROSS, x, y + CROSS);
  if (data->wanted == NULL)
    return;
  width = text_width (scene, data->wanted);
  if (x + CROSS + 4.0 + width <= layout->x + layout->w)
    add_text (scene, "wanted-words", CHART_TONE_COPPER, CHART_TEXT_LABEL, data->wanted, x + CROSS + 4.0, y - layout->line - 2.0, width + 1.0);
  else if (x - CROSS - 4.0 - width >= layout->x)
    add_text (scene, "wanted-words", CHART_TONE_COPPER, CHART_TEXT_LABEL, data->wanted, x - CROSS - 4.0 - width, y - layout->line - 2.0,
              width + 1.0);
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  Layout layout = { .scene = scene, .line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)),
                    .left = scene->width < 420.0 ? PAD - 3.0 : PAD };

  if (data->n_points == 0 && data->n_lines == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  layout.bare = scene->height < BARE_LINES * layout.line || scene->width < BARE_WIDTH;
  lay_head (&layout, data);
  lay_axes (&layout, data);
  scene->plot_x = layout.x;
  scene->plot_y = layout.y;
  scene->plot_w = layout.w;
  scene->plot_h = layout.h;
  if (!layout.bare)
    {
      add_up_labels (&layout);
      add_across_labels (&layout, data);
    }
  for (guint i = 0; i < data->n_lines; i++)
    add_line (&layout, data, &data->lines[i]);
  add_points (&layout, data);
  add_wanted (&layout, data);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  for (guint i = 0; i < data->n_lines; i++)
    {
      g_free (data->lines[i].xs);
      g_free (data->lines[i].ys);
    }
  g_free (data->lines);
  g_free (data->points);
  g_free (data->shapes);
  g_free (data);
}

static const ChartKind kind = { "plot", FALSE, lay, clear };

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const ChartPlotPoint *x = a, *y = b;

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
  Data *own = g_new0 (Data, 1);
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
  own->lines = g_new0 (Line, data->n_lines + 1);
  for (guint i = 0; i < data->n_lines; i++)
    own->lines[i] = (Line){ g_memdup2 (data->lines[i].xs, data->lines[i].n * sizeof (double)),
                            g_memdup2 (data->lines[i].ys, data->lines[i].n * sizeof (double)), data->lines[i].n,
                            data->lines[i].dashed, data->lines[i].faint, chart_keep (chart, data->lines[i].name) };
  own->n_shapes = data->n_shapes;
  own->shapes = g_new0 (struct ChartPlotShape, data->n_shapes + 1);
  for (guint i = 0; i < data->n_shapes; i++)
    own->shapes[i] = (struct ChartPlotShape){ data->shapes[i].shape, chart_keep (chart, data->shapes[i].name) };
  chart_order_marks (chart, 1);
  return chart;
}
