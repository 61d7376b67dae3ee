/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * From above: heading, legend of the parts, scale, rows. What has no room is left out in this order: notes, figures, legend;
 * of rows those at the end, with their number said.
 */
#include "chart-rows.h"

#include "chart-labels.h"
#include "chart-private.h"

#include <math.h>

#define PAD          10.0
#define GAP          10.0
#define ROW_GAP      8.0
#define SWATCH       10.0
#define NAME_SHARE   0.34 /* most of the width that names may take */
#define FIGURE_SHARE 0.22
#define LEAST_PLOT   70.0
#define DOT          3.5
#define CAP          3.5
#define BARE_LINES   5.0  /* height below which rows alone are drawn */
#define TICK_ROOM    46.0 /* width a tick's label asks for */

typedef struct
{
  const char *name, *note, *figure;
  double     *parts;
  double      value, low, high, range_low, range_high;
  gboolean    open, strong, apart;
  guint       mark; /* of the first part, or of the row */
} Row;

typedef struct
{
  const char    *title, *empty, *scale;
  double         least, most;
  ChartRowsPart *parts;
  guint          n_parts;
  Row           *rows;
  guint          n_rows;
} Data;

typedef struct
{
  ChartScene *scene;
  double      left, line, top, row;
  double      name_room, figure_room, figure_x;
  double      plot_x, plot_w;
  ChartScale  scale;
  ChartTicks  ticks;
} Layout;

static double
row_end (const Data *data, const Row *row)
{
  double end = 0.0;

  for (guint i = 0; row->parts != NULL && i < data->n_parts; i++)
    if (row->parts[i] > 0.0)
      end += row->parts[i];
  return end;
}

static double
scale_end (const Data *data)
{
  double most = 0.0;

  if (isfinite (data->most))
    return data->most;
  for (guint i = 0; i < data->n_rows; i++)
    {
      const Row *row = &data->rows[i];
      const double ends[] = { row_end (data, row), row->value, row->high, row->range_high };

      for (guint k = 0; k < G_N_ELEMENTS (ends); k++)
        if (isfinite (ends[k]))
          most = MAX (most, ends[k]);
    }
  return most > 0.0 ? most : 1.0;
}

static void
lay_columns (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left, names = 0.0, figures = 0.0;

  for (guint i = 0; i < data->n_rows; i++)
    {
      names = MAX (names, chart_scene_text_width (scene, data->rows[i].strong ? CHART_TEXT_STRONG : CHART_TEXT_LABEL, data->rows[i].name));
      figures = MAX (figures, chart_scene_text_width (scene, CHART_TEXT_STRONG, data->rows[i].figure));
    }
  layout->name_room = MIN (names, floor (NAME_SHARE * room));
  layout->figure_room = MIN (figures, floor (FIGURE_SHARE * room));
  if (room - layout->name_room - layout->figure_room - 2.0 * GAP < LEAST_PLOT)
    layout->figure_room = 0.0;
  layout->plot_x = layout->left + layout->name_room + GAP;
  layout->plot_w = scene->width - layout->left - layout->plot_x - (layout->figure_room > 0.0 ? layout->figure_room + GAP : 0.0);
  layout->figure_x = layout->plot_x + layout->plot_w + GAP;
}

static void
lay_legend (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double x = layout->left, end = scene->width - layout->left;

  if (data->n_parts < 2 || scene->height - layout->top < 6.0 * layout->line)
    return;
  for (guint i = 0; i < data->n_parts; i++)
    {
      double width = SWATCH + 5.0 + chart_scene_text_width (scene, CHART_TEXT_LABEL, data->parts[i].name);
      double y = layout->top + (layout->line - SWATCH) / 2.0;

      if (x > layout->left && x + width > end)
        {
          x = layout->left;
          layout->top += layout->line + 2.0;
          y = layout->top + (layout->line - SWATCH) / 2.0;
        }
      chart_scene_hatch (scene, "swatch", data->parts[i].hatch, x, y, SWATCH, SWATCH);
      chart_scene_box (scene, "swatch-edge", CHART_TONE_INK, x, y, SWATCH, SWATCH)->width = 1.0;
      chart_scene_fit_text (scene, "legend", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->parts[i].name, x + SWATCH + 5.0, layout->top,
                end - x - SWATCH - 5.0);
      x += width + 14.0;
    }
  layout->top += layout->line + 6.0;
}

/* Ticks with their labels above the rows, and what they count at the left of them where the names stand. */
static void
lay_scale (Layout *layout, const Data *data, gboolean labelled)
{
  ChartScene *scene = layout->scene;
  double low = data->least, high = scale_end (data);
  guint most = (guint) CLAMP (layout->plot_w / TICK_ROOM, 2.0, 10.0);
  g_autofree ChartLabel *labels = NULL;

  layout->ticks = isfinite (data->most) ? chart_ticks (low, high, most) : chart_ticks_around (&low, &high, most);
  chart_scale_init (&layout->scale, low, high, layout->plot_x, layout->plot_x + layout->plot_w);
  if (!labelled)
    return;
  if (chart_scene_text_width (scene, CHART_TEXT_LABEL, data->scale) <= layout->name_room)
    chart_scene_fit_text (scene, "scale", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->scale, layout->left, layout->top, layout->name_room);
  else if (chart_scene_fit_text (scene, "scale", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->scale, layout->plot_x, layout->top, layout->plot_w) > 0.0)
    layout->top += layout->line;
  labels = g_new0 (ChartLabel, layout->ticks.n + 1);
  for (guint i = 0; i < layout->ticks.n; i++)
    {
      g_autofree char *text = chart_number (chart_ticks_value (&layout->ticks, i), layout->ticks.decimals);

      labels[i].wanted = chart_scale_at (&layout->scale, chart_ticks_value (&layout->ticks, i));
      labels[i].size = chart_scene_text_width (scene, CHART_TEXT_LABEL, text);
      labels[i].rank = layout->ticks.n - i;
    }
  chart_labels_thin (labels, layout->ticks.n, layout->plot_x - GAP / 2.0, scene->width - 1.0, 6.0, -1);
  for (guint i = 0; i < layout->ticks.n; i++)
    {
      g_autofree char *text = chart_number (chart_ticks_value (&layout->ticks, i), layout->ticks.decimals);

      if (labels[i].placed)
        chart_scene_fit_text (scene, "tick", CHART_TONE_FAINT, CHART_TEXT_LABEL, text, labels[i].at - labels[i].size / 2.0, layout->top,
                  labels[i].size + 1.0);
    }
  layout->top += layout->line + 3.0;
}

static void
add_ticks (const Layout *layout, double bottom)
{
  for (guint i = 0; i < layout->ticks.n; i++)
    {
      double x = chart_crisp (chart_scale_at (&layout->scale, chart_ticks_value (&layout->ticks, i)));

      if (x <= layout->plot_x + layout->plot_w + 1.0)
        chart_scene_line (layout->scene, "grid", CHART_TONE_RULE, 1.0, x, layout->top, x, bottom);
    }
}

static void
add_bar (const Layout *layout, const Data *data, const Row *row, double y, double height)
{
  ChartScene *scene = layout->scene;
  double end = 0.0;
  guint mark = row->mark; /* of each part of some length */

  for (guint i = 0; i < data->n_parts; i++)
    {
      double length = row->parts[i] > 0.0 ? row->parts[i] : 0.0;
      double x0 = round (chart_scale_at (&layout->scale, end)), x1;

      end += length;
      x1 = round (chart_scale_at (&layout->scale, end));
      if (length <= 0.0)
        continue;
      x1 = MIN (MAX (x1, x0 + 2.0), layout->plot_x + layout->plot_w);
      chart_scene_hatch (scene, "part", data->parts[i].hatch, x0, y, x1 - x0, height);
      chart_scene_box (scene, "part-edge", CHART_TONE_INK, x0, y, x1 - x0, height)->width = 1.0;
      chart_scene_spot (scene, mark++, (x0 + x1) / 2.0, y + height / 2.0, (x1 - x0) / 2.0, height / 2.0);
    }
  if (row->open && end > 0.0)
    {
      double x = MIN (chart_scale_at (&layout->scale, end) + 3.0, layout->plot_x + layout->plot_w);

      chart_scene_line (scene, "open", CHART_TONE_COPPER, 2.0, x, y - 1.0, x, y + height + 1.0)->dash = CHART_DASH_SHORT;
    }
}

static void
add_estimate (const Layout *layout, const Row *row, double y, double height, gboolean alone)
{
  ChartScene *scene = layout->scene;
  double middle = y + height / 2.0, at = NAN;

  if (isfinite (row->range_low) && isfinite (row->range_high))
    {
      double x0 = chart_scale_at (&layout->scale, row->range_low), x1 = chart_scale_at (&layout->scale, row->range_high);

      chart_scene_hatch (scene, "range", CHART_HATCH_LIMIT, x0, middle - height / 4.0, MAX (x1 - x0, 2.0), height / 2.0);
      chart_scene_box (scene, "range-edge", CHART_TONE_FAINT, x0, middle - height / 4.0, MAX (x1 - x0, 2.0), height / 2.0)->width = 1.0;
      at = (x0 + x1) / 2.0;
    }
  if (isfinite (row->low) && isfinite (row->high))
    {
      double x0 = chart_scale_at (&layout->scale, row->low), x1 = chart_scale_at (&layout->scale, row->high);
      double line = chart_crisp (middle), width = row->strong ? 2.0 : 1.0;

      chart_scene_line (scene, "interval", CHART_TONE_INK, width, x0, line, x1, line);
      chart_scene_line (scene, "interval-end", CHART_TONE_INK, width, x0, line - CAP, x0, line + CAP);
      chart_scene_line (scene, "interval-end", CHART_TONE_INK, width, x1, line - CAP, x1, line + CAP);
    }
  if (isfinite (row->value))
    {
      at = chart_scale_at (&layout->scale, row->value);
      chart_scene_mark (scene, "estimate", CHART_SHAPE_DISC, row->strong ? CHART_TONE_COPPER : CHART_TONE_INK, at, middle,
                        row->strong ? DOT + 1.0 : DOT);
    }
  if (alone)
    chart_scene_spot (scene, row->mark, isfinite (at) ? at : layout->plot_x, middle, height / 2.0, height / 2.0);
}

static void
add_row (const Layout *layout, const Data *data, const Row *row, double y, double height)
{
  ChartScene *scene = layout->scene;
  ChartTextStyle style = row->strong ? CHART_TEXT_STRONG : CHART_TEXT_LABEL;
  double text_y = y + (height - layout->line) / 2.0;
  double name;

  if (row->apart)
    chart_scene_line (scene, "rule", CHART_TONE_RULE, 1.0, layout->left, chart_crisp (y - ROW_GAP / 2.0),
                      scene->width - layout->left, chart_crisp (y - ROW_GAP / 2.0));
  name = chart_scene_fit_text (scene, "name", CHART_TONE_INK, style, row->name, layout->left, text_y, layout->name_room + 0.5);
  if (row->note != NULL && layout->name_room - name > 30.0
      && chart_scene_text_width (scene, CHART_TEXT_LABEL, row->note) <= layout->name_room - name - 6.0)
    chart_scene_fit_text (scene, "note", CHART_TONE_FAINT, CHART_TEXT_LABEL, row->note, layout->left + name + 6.0, text_y,
              layout->name_room - name - 6.0);
  if (layout->figure_room > 0.0)
    chart_scene_fit_text (scene, "figure", CHART_TONE_INK, style, row->figure,
              layout->figure_x + MAX (layout->figure_room - chart_scene_text_width (scene, style, row->figure), 0.0), text_y, layout->figure_room + 0.5);
  if (layout->plot_w < LEAST_PLOT / 2.0)
    return;
  if (row->parts != NULL)
    add_bar (layout, data, row, y, height);
  add_estimate (layout, row, y, height, row->parts == NULL);
}

static double
bar_height (double line)
{
  return line + 2.0;
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  Layout layout = { .scene = scene, .line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)),
                    .left = scene->width < 420.0 ? PAD - 3.0 : PAD };
  double height = bar_height (layout.line), gap = ROW_GAP, room;
  gboolean bare = scene->height < BARE_LINES * layout.line;
  guint n = data->n_rows;

  if (n == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  scene->blocks = TRUE;
  layout.top = bare ? 1.0 : layout.left;
  if (data->title != NULL && !bare)
    {
      chart_scene_fit_text (scene, "title", CHART_TONE_INK, CHART_TEXT_TITLE, data->title, layout.left, layout.top, scene->width - 2.0 * layout.left);
      layout.top += chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0;
    }
  lay_legend (&layout, data);
  lay_columns (&layout, data);
  lay_scale (&layout, data, !bare && scene->height - layout.top > 3.0 * height);
  room = scene->height - layout.top - (bare ? 0.0 : layout.left / 2.0);
  if (n * (height + gap) > room)
    gap = 2.0;
  if (n * (height + gap) > room)
    {
      double one = height + gap;

      n = (guint) MAX (floor ((room - layout.line) / one), 0.0);
      if (n < data->n_rows && room >= layout.line)
        {
          g_autofree char *more = g_strdup_printf ("… +%u", data->n_rows - n);

          chart_scene_fit_text (scene, "more", CHART_TONE_FAINT, CHART_TEXT_LABEL, more, layout.left, layout.top + n * one, scene->width - 2.0 * layout.left);
        }
    }
  if (n > 0)
    add_ticks (&layout, layout.top + n * (height + gap));
  for (guint i = 0; i < n; i++)
    add_row (&layout, data, &data->rows[i], layout.top + i * (height + gap) + gap / 2.0, height);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  for (guint i = 0; i < data->n_rows; i++)
    g_free (data->rows[i].parts);
  g_free (data->rows);
  g_free (data->parts);
  g_free (data);
}

static const ChartKind kind = { "rows", FALSE, lay, clear };

static guint
count_parts (const ChartRows *data, const ChartRow *row)
{
  guint n = 0;

  for (guint i = 0; i < data->n_parts; i++)
    n += row->parts[i] > 0.0;
  return n;
}

/**
 * chart_rows_new:
 * @data: what is drawn; copied
 *
 * Returns: (transfer full): the drawing
 */
Chart *
chart_rows_new (const ChartRows *data)
{
  Data *own = g_new0 (Data, 1);
  guint marks = 0, mark = 0;
  Chart *chart;

  for (guint i = 0; i < data->n_rows; i++)
    marks += data->rows[i].parts != NULL ? count_parts (data, &data->rows[i]) : 1;
  chart = chart_new (&kind, own, marks);
  chart->worst_first = TRUE;
  chart->height = chart_rows_height;
  own->title = chart_keep (chart, data->title);
  own->empty = chart_keep (chart, data->empty);
  own->scale = chart_keep (chart, data->scale);
  own->least = data->least;
  own->most = data->most;
  own->n_parts = data->n_parts;
  own->parts = g_new0 (ChartRowsPart, data->n_parts + 1);
  for (guint i = 0; i < data->n_parts; i++)
    own->parts[i] = (ChartRowsPart){ chart_keep (chart, data->parts[i].name), data->parts[i].hatch };
  own->n_rows = data->n_rows;
  own->rows = g_new0 (Row, data->n_rows + 1);
  for (guint i = 0; i < data->n_rows; i++)
    {
      const ChartRow *from = &data->rows[i];
      guint parts = from->parts != NULL ? data->n_parts : 0;

      own->rows[i] = (Row){ chart_keep (chart, from->name), chart_keep (chart, from->note), chart_keep (chart, from->figure),
                            parts > 0 ? g_memdup2 (from->parts, parts * sizeof *from->parts) : NULL, from->value, from->low,
                            from->high, from->range_low, from->range_high, from->open, from->strong, from->apart, mark };
      for (guint k = 0; k < (parts > 0 ? count_parts (data, from) : 1); k++)
        chart_set_mark (chart, mark++, i, from->key, from->words);
    }
  chart_order_marks (chart, data->n_rows);
  return chart;
}

/**
 * chart_rows_height:
 * @chart: of this kind
 * @theme: the fonts
 *
 * Returns: the height at which all rows have room, with a legend of one line
 */
double
chart_rows_height (Chart *chart, const ChartTheme *theme)
{
  const Data *data = chart->data;
  ChartScene *scene = chart_scene_new (600.0, 400.0, theme, 0);
  double line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  double height = 2.0 * PAD + line + 6.0 + data->n_rows * (bar_height (line) + ROW_GAP)
                  + (data->n_parts > 1 ? 2.0 * line + 8.0 : 0.0)
                  + (data->title != NULL ? chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0 : 0.0);

  chart_scene_free (scene);
  return ceil (height);
}
