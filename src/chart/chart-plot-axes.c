/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Heading, legend, scales and their labels of a plot. Ticks of uneven scales have ranks: a power of ten, or a share that
 * everybody knows, keeps its label where others lose theirs.
 */
#include "chart-plot-private.h"

#include "chart-labels.h"

#include <math.h>

#define PAD        10.0
#define TICK_ROOM  52.0
#define LINE_ROOM  22.0
#define BARE_LINES 7.0
#define BARE_WIDTH 100.0
#define SWATCH     18.0
#define NOTE_LINES 10.0 /* below so many lines of height that are left there is no note, */
#define KEY_LINES  12.0 /* nor a line of the legend */

/* NAN where the axis has no place for @value. */
double
chart_plot_through (ChartPlotScale scale, double value)
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
add_tick (ChartPlotTick *ticks, guint *n, double at, guint rank, double low, double high, const char *text)
{
  if (*n >= CHART_PLOT_MOST_TICKS || !(at >= low - 1e-9 && at <= high + 1e-9))
    return;
  ticks[*n].at = at;
  ticks[*n].rank = rank;
  g_strlcpy (ticks[*n].text, text, sizeof ticks[*n].text);
  (*n)++;
}

/* Powers of ten, with 2 and 5 between where a decade has room for them, and more within hardly a decade. */
static void
log_ticks (ChartPlotTick *ticks, guint *n, double low, double high, guint most)
{
  static const struct
  {
    double step;
    guint  rank, fine; /* from which fineness on */
  } steps[] = { { 1.0, 0, 0 }, { 1.5, 3, 2 }, { 2.0, 2, 1 }, { 3.0, 3, 2 }, { 4.0, 4, 2 }, { 5.0, 1, 1 }, { 7.0, 3, 2 } };
  int first = (int) floor (low), last = (int) ceil (high), stride = MAX (1, (last - first) / (int) MAX (most, 1u));
  guint fine = high - low < 1.0 ? 2 : (guint) (last - first) * 3 <= most + 2 ? 1 : 0;

  for (int decade = first; decade <= last; decade += stride)
    for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
      {
        g_autofree char *text = chart_number (steps[i].step * pow (10.0, decade), MAX (steps[i].step == 1.5 ? 1 - decade : -decade, 0));

        if (steps[i].fine <= fine && (steps[i].step != 1.5 || decade > 0)) /* half a failure would be odd */
          add_tick (ticks, n, decade + log10 (steps[i].step), steps[i].rank, low, high, text);
      }
}

static void
weibull_ticks (ChartPlotTick *ticks, guint *n, double low, double high)
{
  static const struct
  {
    double share;
    guint  rank;
  } shares[] = { { 0.0001, 1 }, { 0.001, 1 }, { 0.005, 3 }, { 0.01, 0 }, { 0.02, 2 }, { 0.05, 2 }, { 0.1, 0 },  { 0.2, 2 },
                 { 0.3, 3 },    { 0.5, 0 },   { 0.7, 3 },   { 0.8, 3 },  { 0.9, 0 },  { 0.95, 3 }, { 0.99, 1 }, { 0.999, 2 } };

  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      g_autofree char *number = chart_number (100.0 * shares[i].share, -1);
      g_autofree char *text = g_strdup_printf ("%s %%", number);

      add_tick (ticks, n, chart_plot_through (CHART_PLOT_WEIBULL, shares[i].share), shares[i].rank, low, high, text);
    }
}

static void
linear_ticks (ChartPlotTick *ticks, guint *n, double *low, double *high, guint most)
{
  ChartTicks even = chart_ticks_around (low, high, MIN (most, CHART_PLOT_MOST_TICKS - 2));

  for (guint i = 0; i < even.n; i++)
    {
      g_autofree char *text = chart_number (chart_ticks_value (&even, i), even.decimals);

      add_tick (ticks, n, chart_ticks_value (&even, i), 0, *low, *high, text);
    }
}

static void
make_ticks (ChartPlotScale scale, ChartPlotTick *ticks, guint *n, double *low, double *high, guint most)
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
  double at = chart_plot_through (axis->scale, value);

  if (!isfinite (at))
    return;
  chart_range_take (low, high, at);
  (*n)++;
}

/* Points and what is wanted decide; lines are cut at the edge. */
static gboolean
find_range (const ChartPlotData *data, gboolean is_across, double *low, double *high)
{
  const ChartPlotAxis *axis = is_across ? &data->across : &data->up;
  gboolean from_nothing;
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
      *low = axis->scale == CHART_PLOT_WEIBULL ? chart_plot_through (axis->scale, 0.01) : 0.0;
      *high = axis->scale == CHART_PLOT_WEIBULL ? chart_plot_through (axis->scale, 0.9) : 1.0;
      return FALSE;
    }
  from_nothing = *low >= 0.0;
  if (axis->scale == CHART_PLOT_LINEAR)
    *low = MIN (*low, 0.0);
  margin = axis->scale == CHART_PLOT_LOG ? 0.12 : 0.06 * (*high - *low);
  if (axis->scale != CHART_PLOT_LINEAR)
    {
      *low -= margin;
      *high += margin;
    }
  chart_range_settle (low, high);
  if (axis->scale == CHART_PLOT_LINEAR && from_nothing)
    *low = 0.0; /* the air is at the other end */
  return TRUE;
}

ChartTone
chart_plot_line_tone (const ChartPlotOwnLine *line)
{
  return line->faint ? CHART_TONE_FAINT : CHART_TONE_INK;
}

double
chart_plot_line_width (const ChartPlotOwnLine *line)
{
  return line->faint ? 1.0 : 1.5;
}

ChartDash
chart_plot_line_dash (const ChartPlotOwnLine *line)
{
  return line->dashed ? CHART_DASH_LONG : CHART_DASH_NONE;
}

/* Begins an entry of the legend, in a new line where this one is full: where its picture begins; -1: no room. */
static double
next_entry (ChartPlotLayout *layout, double *x, double swatch, const char *name)
{
  double at, width = swatch + 5.0 + chart_scene_text_width (layout->scene, CHART_TEXT_LABEL, name), end = layout->scene->width - layout->left;

  if (layout->key_full || (*x > layout->left && *x + width > end && layout->scene->height - layout->top < (KEY_LINES + 1.0) * layout->line))
    {
      layout->key_full = TRUE;
      return -1.0;
    }
  if (*x > layout->left && *x + width > end)
    {
      *x = layout->left;
      layout->top += layout->line + 2.0;
    }
  at = *x;
  chart_scene_fit_text (layout->scene, "legend", CHART_TONE_FAINT, CHART_TEXT_LABEL, name, at + swatch + 5.0, layout->top,
            end - at - swatch - 5.0);
  *x += width + 14.0;
  return at;
}

static gboolean
is_named_before (const ChartPlotData *data, guint line)
{
  for (guint i = 0; i < line; i++)
    if (g_strcmp0 (data->lines[i].name, data->lines[line].name) == 0)
      return TRUE;
  return FALSE;
}

/* What shapes, lines and ticks mean. */
static void
lay_legend (ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  double x = layout->left;

  if (scene->height - layout->top < KEY_LINES * layout->line)
    return;
  for (guint i = 0; data->n_shapes > 1 && i < data->n_shapes; i++)
    {
      double at = next_entry (layout, &x, 2.0 * CHART_PLOT_RADIUS, data->shapes[i].name);

      if (at >= 0.0)
        chart_scene_mark (scene, "swatch", data->shapes[i].shape, CHART_TONE_INK, at + CHART_PLOT_RADIUS, layout->top + layout->line / 2.0, CHART_PLOT_RADIUS);
    }
  if (data->tick_name != NULL)
    {
      double at = next_entry (layout, &x, 2.0 * CHART_PLOT_RADIUS, data->tick_name), y = layout->top + layout->line / 2.0;

      if (at >= 0.0)
        chart_scene_line (scene, "swatch", CHART_TONE_INK, 1.0, chart_crisp (at + CHART_PLOT_RADIUS), y - CHART_PLOT_FOOT / 2.0,
                          chart_crisp (at + CHART_PLOT_RADIUS), y + CHART_PLOT_FOOT / 2.0);
    }
  for (guint i = 0; i < data->n_lines; i++)
    if (data->lines[i].name != NULL && !is_named_before (data, i))
      {
        const ChartPlotOwnLine *line = &data->lines[i];
        double at = next_entry (layout, &x, SWATCH, line->name), y = chart_crisp (layout->top + layout->line / 2.0);

        if (at >= 0.0)
          chart_scene_line (scene, "swatch", chart_plot_line_tone (line), chart_plot_line_width (line), at, y, at + SWATCH, y)->dash = chart_plot_line_dash (line);
      }
  if (x > layout->left)
    layout->top += layout->line + 6.0;
}

static void
lay_head (ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left;

  layout->top = layout->bare ? 2.0 : layout->left;
  if (layout->bare)
    return;
  if (data->title != NULL)
    {
      chart_scene_fit_text (scene, "title", CHART_TONE_INK, CHART_TEXT_TITLE, data->title, layout->left, layout->top, room);
      layout->top += chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0;
    }
  if (data->note != NULL && scene->height - layout->top > NOTE_LINES * layout->line)
    {
      chart_scene_fit_text (scene, "note", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->note, layout->left, layout->top, room);
      layout->top += layout->line + 4.0;
    }
  lay_legend (layout, data);
  chart_scene_fit_text (scene, "scale-up", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->up.words, layout->left, layout->top, room);
  layout->top += layout->line + 4.0;
  layout->lane = data->n_uprights > 0 && scene->height - layout->top > 8.0 * layout->line;
  if (layout->lane)
    layout->top += layout->line;
}

static void
lay_axes (ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  double low, high, widest = 0.0;

  if (!layout->bare)
    layout->top += layout->line / 2.0; /* the topmost label stands half above the plot */
  layout->h = layout->bare ? MAX (scene->height - 4.0, CHART_PLOT_FOOT + 4.0)
                           : MAX (scene->height - layout->top - 2.0 * layout->line - 8.0 - layout->left / 2.0, 10.0);
  layout->y = layout->top;
  find_range (data, FALSE, &low, &high);
  make_ticks (data->up.scale, layout->up_ticks, &layout->n_up, &low, &high, (guint) CLAMP (layout->h / LINE_ROOM, 2.0, 12.0));
  for (guint i = 0; !layout->bare && i < layout->n_up; i++)
    widest = MAX (widest, chart_scene_text_width (scene, CHART_TEXT_LABEL, layout->up_ticks[i].text));
  widest = MIN (widest, 0.3 * scene->width);
  chart_scale_init (&layout->up, low, high, layout->y + layout->h - CHART_PLOT_FOOT, layout->y + 2.0);

  layout->x = layout->left + widest + 8.0;
  layout->w = MAX (scene->width - layout->left - layout->x - 4.0, 10.0);
  find_range (data, TRUE, &low, &high);
  make_ticks (data->across.scale, layout->across_ticks, &layout->n_across, &low, &high,
              (guint) CLAMP (layout->w / TICK_ROOM, 2.0, 12.0));
  chart_scale_init (&layout->across, low, high, layout->x + 2.0, layout->x + layout->w - 2.0);
}

static void
add_up_labels (const ChartPlotLayout *layout)
{
  ChartScene *scene = layout->scene;
  ChartLabel labels[CHART_PLOT_MOST_TICKS] = { 0 };

  for (guint i = 0; i < layout->n_up; i++)
    labels[i] = (ChartLabel){ .wanted = chart_scale_at (&layout->up, layout->up_ticks[i].at), .size = layout->line,
                              .rank = layout->up_ticks[i].rank };
  chart_labels_pick (labels, layout->n_up, layout->y - layout->line / 2.0, layout->y + layout->h + layout->line / 2.0, 1.0);
  for (guint i = 0; i < layout->n_up; i++)
    {
      double y = chart_crisp (labels[i].wanted), width = chart_scene_text_width (scene, CHART_TEXT_LABEL, layout->up_ticks[i].text);

      chart_scene_line (scene, "grid", CHART_TONE_RULE, 1.0, layout->x, y, layout->x + layout->w, y);
      if (labels[i].placed && width <= layout->x - layout->left - 4.0)
        chart_scene_fit_text (scene, "tick", CHART_TONE_FAINT, CHART_TEXT_LABEL, layout->up_ticks[i].text, layout->x - 6.0 - width,
                  labels[i].at - layout->line / 2.0, width + 1.0);
    }
}

static void
add_across_labels (const ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;
  ChartLabel labels[CHART_PLOT_MOST_TICKS] = { 0 };
  double y = layout->y + layout->h + 3.0;

  for (guint i = 0; i < layout->n_across; i++)
    labels[i] = (ChartLabel){ .wanted = chart_scale_at (&layout->across, layout->across_ticks[i].at),
                              .size = chart_scene_text_width (scene, CHART_TEXT_LABEL, layout->across_ticks[i].text),
                              .rank = layout->across_ticks[i].rank };
  chart_labels_pick (labels, layout->n_across, layout->left, scene->width - 2.0, 6.0);
  for (guint i = 0; i < layout->n_across; i++)
    {
      double x = chart_crisp (labels[i].wanted);

      chart_scene_line (scene, "grid", CHART_TONE_RULE, 1.0, x, layout->y, x, layout->y + layout->h);
      if (labels[i].placed)
        chart_scene_fit_text (scene, "tick", CHART_TONE_FAINT, CHART_TEXT_LABEL, layout->across_ticks[i].text, labels[i].at - labels[i].size / 2.0,
                  y, labels[i].size + 1.0);
    }
  {
    double width = MIN (chart_scene_text_width (scene, CHART_TEXT_LABEL, data->across.words), scene->width - 2.0 * layout->left);

    chart_scene_fit_text (scene, "scale-across", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->across.words, scene->width - layout->left - width,
              y + layout->line + 1.0, width + 1.0);
  }
}

/* Lays out everything but what is drawn in the plot. */
void
chart_plot_lay (ChartPlotLayout *layout, const ChartPlotData *data)
{
  ChartScene *scene = layout->scene;

  layout->line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  layout->left = scene->width < 420.0 ? PAD - 3.0 : PAD;
  layout->bare = scene->height < BARE_LINES * layout->line || scene->width < BARE_WIDTH;
  lay_head (layout, data);
  lay_axes (layout, data);
  scene->plot_x = layout->x;
  scene->plot_y = layout->y;
  scene->plot_w = layout->w;
  scene->plot_h = layout->h;
  if (layout->bare)
    return;
  add_up_labels (layout);
  add_across_labels (layout, data);
}
