/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows take one of three forms, the first in which all have room: whole, with a line for the name and figures at the
 * right; tight, the lanes alone with the name beside them; a single line of means and interval.
 */
#include "chart-effect.h"

#include "chart-private.h"

#include <math.h>

#define CROWD       1000
#define PAD         10.0
#define GAP         10.0 /* between columns */
#define ROW_GAP     10.0
#define TIGHT_LANE  9.0
#define TIGHT_GAP   7.0
#define NAME_SHARE  0.30 /* most of the width that names beside the lanes may take */
#define FIGURE_SHARE 0.36 /* the same of figures at the right */
#define LEAST_PLOT  60.0
#define DOT         2.6
#define MEAN        3.5
#define CAP         3.5 /* half of the line that ends an interval */
#define LEAST_LEGEND 90.0 /* plot width below which a line that tells how to read a row is left out */

typedef struct
{
  const char *name, *figure;
  double      mean;
  guint       first, n; /* in Data.values */
} Side;

typedef struct
{
  const char *name, *note, *figure;
  Side        sides[2];
  double      low, high;
  gboolean    told_apart;
  guint       mark; /* of the difference; its units follow */
} Row;

typedef struct
{
  Row      *rows;
  guint     n_rows;
  double   *values;
  gboolean *failed;
  const char *title, *legend, *empty;
} Data;

typedef enum
{
  FORM_WHOLE,
  FORM_TIGHT,
  FORM_LINE
} Form;

/* Where the columns and rows of one layout stand. */
typedef struct
{
  ChartScene *scene;
  Form        form;
  double      line;       /* height of a label */
  double      top;        /* of the first row */
  double      left;       /* of names, or of the sides' labels */
  double      label_room;
  double      plot_x, plot_w;
  double      figure_x, figure_room;
  double      row;        /* height of one, gap included */
  double      lane;
} Layout;

static double
row_height (Form form, double line)
{
  switch (form)
    {
    case FORM_WHOLE:
      return 4.0 * line + ROW_GAP;
    case FORM_TIGHT:
      return 3.0 * TIGHT_LANE + TIGHT_GAP;
    case FORM_LINE:
      return line + 2.0;
    }
  return 0.0;
}

static double
widest_name (const Data *data, ChartScene *scene)
{
  double most = 0.0;

  for (guint i = 0; i < data->n_rows; i++)
    most = MAX (most, chart_scene_text_width (scene, CHART_TEXT_LABEL, data->rows[i].name));
  return most;
}

static double
widest_side (const Data *data, ChartScene *scene)
{
  double most = 0.0;

  for (guint i = 0; i < data->n_rows; i++)
    for (guint side = 0; side < 2; side++)
      most = MAX (most, chart_scene_text_width (scene, CHART_TEXT_LABEL, data->rows[i].sides[side].name));
  return most;
}

static double
widest_figure (const Data *data, ChartScene *scene, Form form)
{
  double most = 0.0;

  for (guint i = 0; i < data->n_rows; i++)
    {
      most = MAX (most, chart_scene_text_width (scene, CHART_TEXT_STRONG, data->rows[i].figure));
      for (guint side = 0; form == FORM_WHOLE && side < 2; side++)
        most = MAX (most, chart_scene_text_width (scene, CHART_TEXT_LABEL, data->rows[i].sides[side].figure));
    }
  return most;
}

static void
lay_columns (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left;
  double names = layout->form == FORM_WHOLE ? widest_side (data, scene) : widest_name (data, scene);
  double figures = widest_figure (data, scene, layout->form);
  double least = layout->form == FORM_WHOLE ? LEAST_PLOT : 3.0 * LEAST_PLOT;

  layout->label_room = MIN (names, floor (NAME_SHARE * room));
  layout->figure_room = MIN (figures, floor (FIGURE_SHARE * room));
  if (room - layout->label_room - layout->figure_room - 2.0 * GAP < least)
    layout->figure_room = 0.0;
  layout->plot_x = layout->left + layout->label_room + GAP;
  layout->plot_w = scene->width - layout->left - layout->plot_x - (layout->figure_room > 0.0 ? layout->figure_room + GAP : 0.0);
  layout->figure_x = layout->plot_x + layout->plot_w + GAP;
}

/* Heading and legend; the rows begin below. */
static void
lay_head (Layout *layout, const Data *data)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left;

  layout->top = layout->left;
  if (data->title != NULL)
    {
      chart_scene_fit_text (scene, "title", CHART_TONE_INK, CHART_TEXT_TITLE, data->title, layout->left, layout->top, room);
      layout->top += chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0;
    }
  if (data->legend != NULL && room >= LEAST_LEGEND && scene->height - layout->top > 3.0 * layout->line)
    {
      chart_scene_fit_text (scene, "legend", CHART_TONE_FAINT, CHART_TEXT_LABEL, data->legend, layout->left, layout->top, room);
      layout->top += layout->line + 6.0;
    }
}

static void
choose_form (Layout *layout, const Data *data)
{
  double room = layout->scene->height - layout->top - layout->left / 2.0;

  layout->form = FORM_WHOLE;
  while (layout->form < FORM_LINE && data->n_rows * row_height (layout->form, layout->line) > room)
    layout->form++;
  layout->row = row_height (layout->form, layout->line);
  layout->lane = layout->form == FORM_WHOLE ? layout->line : layout->form == FORM_TIGHT ? TIGHT_LANE : 0.0;
}

static gboolean
has_interval (const Row *row)
{
  return isfinite (row->low) && isfinite (row->high) && isfinite (row->sides[0].mean);
}

/* From the least to the greatest of all that the row shows. */
static gboolean
scale_of (const Data *data, const Row *row, Form form, const Layout *layout, ChartScale *scale)
{
  double low, high;
  gboolean any = FALSE;

  chart_range_init (&low, &high);
  for (guint side = 0; side < 2; side++)
    {
      const Side *one = &row->sides[side];

      any |= isfinite (one->mean);
      chart_range_take (&low, &high, one->mean);
      for (guint i = 0; form != FORM_LINE && i < one->n; i++)
        {
          any |= isfinite (data->values[one->first + i]);
          chart_range_take (&low, &high, data->values[one->first + i]);
        }
    }
  if (has_interval (row))
    {
      chart_range_take (&low, &high, row->sides[0].mean + row->low);
      chart_range_take (&low, &high, row->sides[0].mean + row->high);
    }
  if (!any)
    return FALSE;
  if (form == FORM_LINE && isfinite (row->sides[0].mean))
    { /* the old mean in the middle, so that it is one line down all rows */
      double most = MAX (row->sides[0].mean - low, high - row->sides[0].mean);

      low = row->sides[0].mean - most;
      high = row->sides[0].mean + most;
    }
  chart_range_settle (&low, &high);
  chart_scale_init (scale, low, high, layout->plot_x + MEAN + 1.0, layout->plot_x + layout->plot_w - MEAN - 1.0);
  return TRUE;
}

/* The dots of one side. Of many that fall on one place of the drawing (half a dot, of a crowd two) one is drawn; each is
 * found. */
static void
add_units (const Data *data, const Layout *layout, const ChartScale *scale, const Side *side, guint mark, double y)
{
  g_autofree guint8 *drawn = g_new0 (guint8, (gsize) MAX (layout->plot_w, 0.0) * 2 + 2);
  const double places = side->n > CROWD ? 0.5 : 2.0; /* a dot */

  for (guint i = 0; i < side->n; i++)
    {
      double value = data->values[side->first + i], x;
      guint8 bit = data->failed[side->first + i] ? 2 : 1;
      gsize place;

      if (!isfinite (value))
        continue;
      x = CLAMP (chart_scale_at (scale, value), layout->plot_x, layout->plot_x + layout->plot_w);
      chart_scene_spot (layout->scene, mark + i, x, y, 0.0, 0.0);
      place = (gsize) ((x - layout->plot_x) * places);
      if (drawn[place] & bit)
        continue;
      drawn[place] |= bit;
      chart_scene_mark (layout->scene, "unit", bit == 2 ? CHART_SHAPE_DIAMOND : CHART_SHAPE_CIRCLE, CHART_TONE_INK, x, y,
                        (layout->form == FORM_WHOLE ? DOT : DOT - 0.4) + (bit == 2 ? 0.8 : 0.0))
        ->alpha = 0.75;
    }
}

/* A short upright line at the mean of a side's dots; a share has only this. */
static void
add_mean (const Layout *layout, const ChartScale *scale, const Side *side, double y)
{
  double x;

  if (!isfinite (side->mean))
    return;
  x = chart_crisp (chart_scale_at (scale, side->mean));
  chart_scene_line (layout->scene, "mean", CHART_TONE_INK, 1.5, x, y - layout->lane / 2.0 + 1.0, x, y + layout->lane / 2.0 - 1.0);
}

static void
add_difference (const Layout *layout, const ChartScale *scale, const Row *row, double y)
{
  ChartScene *scene = layout->scene;
  ChartTone tone = row->told_apart ? CHART_TONE_COPPER : CHART_TONE_INK;
  double width = row->told_apart ? 2.0 : 1.0;
  double x;

  if (!isfinite (row->sides[0].mean) || !isfinite (row->sides[1].mean))
    return;
  x = chart_scale_at (scale, row->sides[1].mean);
  if (has_interval (row))
    {
      double left = chart_scale_at (scale, row->sides[0].mean + row->low);
      double right = chart_scale_at (scale, row->sides[0].mean + row->high);
      double cap = MIN (CAP, layout->form == FORM_LINE ? CAP : layout->lane / 2.0 - 1.0);

      y = chart_crisp (y);
      chart_scene_line (scene, "interval", tone, width, left, y, right, y);
      chart_scene_line (scene, "interval-end", tone, width, left, y - cap, left, y + cap);
      chart_scene_line (scene, "interval-end", tone, width, right, y - cap, right, y + cap);
    }
  chart_scene_spot (scene, row->mark, x, y, 0.0, 0.0);
  chart_scene_mark (scene, "difference", row->told_apart ? CHART_SHAPE_DISC : CHART_SHAPE_CIRCLE, tone, x, y, MEAN);
}

/* The line of no difference: the old mean, through all lanes. */
static void
add_zero (const Layout *layout, const ChartScale *scale, const Row *row, double top, double bottom)
{
  double x;

  if (!isfinite (row->sides[0].mean))
    return;
  x = chart_crisp (chart_scale_at (scale, row->sides[0].mean));
  chart_scene_line (layout->scene, "zero", CHART_TONE_FAINT, 1.0, x, top, x, bottom)->dash = CHART_DASH_DOTS;
}

static void
add_names (const Layout *layout, const Row *row, double y)
{
  ChartScene *scene = layout->scene;
  double room = scene->width - 2.0 * layout->left;

  if (layout->form != FORM_WHOLE)
    {
      double height = layout->form == FORM_TIGHT ? 3.0 * TIGHT_LANE : layout->row;

      chart_scene_fit_text (scene, "name", CHART_TONE_INK, CHART_TEXT_LABEL, row->name, layout->left, y + (height - layout->line) / 2.0,
                layout->label_room);
      chart_scene_fit_text (scene, "figure", row->told_apart ? CHART_TONE_COPPER : CHART_TONE_INK, CHART_TEXT_STRONG, row->figure,
                layout->figure_x, y + (height - layout->line) / 2.0, layout->figure_room);
      return;
    }
  {
    double name = MIN (chart_scene_text_width (scene, CHART_TEXT_STRONG, row->name), room);

    chart_scene_fit_text (scene, "name", CHART_TONE_INK, CHART_TEXT_STRONG, row->name, layout->left, y, name + 0.5);
    chart_scene_fit_text (scene, "note", CHART_TONE_FAINT, CHART_TEXT_LABEL, row->note, layout->left + name + GAP, y, room - name - GAP);
  }
  for (guint side = 0; side < 2; side++)
    {
      chart_scene_fit_text (scene, "side", CHART_TONE_FAINT, CHART_TEXT_LABEL, row->sides[side].name, layout->left,
                y + (side + 1.0) * layout->line, layout->label_room);
      chart_scene_fit_text (scene, "figure", CHART_TONE_INK, CHART_TEXT_LABEL, row->sides[side].figure, layout->figure_x,
                y + (side + 1.0) * layout->line, layout->figure_room);
    }
  chart_scene_fit_text (scene, "figure", row->told_apart ? CHART_TONE_COPPER : CHART_TONE_INK, CHART_TEXT_STRONG, row->figure,
            layout->figure_x, y + 3.0 * layout->line, layout->figure_room);
}

static void
add_row (const Data *data, const Layout *layout, const Row *row, double y)
{
  double lanes = layout->form == FORM_WHOLE ? y + layout->line : y;
  double middle = layout->form == FORM_LINE ? y + layout->row / 2.0 : lanes + 2.5 * layout->lane;
  ChartScale scale;

  add_names (layout, row, y);
  if (layout->plot_w < LEAST_PLOT / 2.0 || !scale_of (data, row, layout->form, layout, &scale))
    return;
  if (layout->form == FORM_LINE)
    {
      add_zero (layout, &scale, row, y + 1.0, y + layout->row - 1.0);
      add_difference (layout, &scale, row, middle);
      return;
    }
  add_zero (layout, &scale, row, lanes + 1.0, lanes + 3.0 * layout->lane);
  for (guint side = 0; side < 2; side++)
    {
      add_units (data, layout, &scale, &row->sides[side], row->mark + 1 + (side == 1 ? row->sides[0].n : 0),
                 lanes + (side + 0.5) * layout->lane);
      add_mean (layout, &scale, &row->sides[side], lanes + (side + 0.5) * layout->lane);
    }
  add_difference (layout, &scale, row, middle);
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  Layout layout = { .scene = scene, .line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)),
                    .left = scene->width < 420.0 ? PAD - 3.0 : PAD };
  guint room;

  if (data->n_rows == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  lay_head (&layout, data);
  choose_form (&layout, data);
  lay_columns (&layout, data);
  room = (guint) MAX (floor ((scene->height - layout.top - 2.0) / layout.row), 0.0);
  if (room >= data->n_rows)
    room = data->n_rows;
  else if (room > 0)
    {
      g_autofree char *more = g_strdup_printf ("… +%u", data->n_rows - --room);

      chart_scene_fit_text (scene, "more", CHART_TONE_FAINT, CHART_TEXT_LABEL, more, layout.left, layout.top + room * layout.row,
                scene->width - 2.0 * layout.left);
    }
  for (guint i = 0; i < room; i++)
    {
      double y = layout.top + i * layout.row;

      if (i > 0 && layout.form == FORM_WHOLE)
        chart_scene_line (scene, "rule", CHART_TONE_RULE, 1.0, layout.left, chart_crisp (y - ROW_GAP / 2.0),
                          scene->width - layout.left, chart_crisp (y - ROW_GAP / 2.0));
      add_row (data, &layout, &data->rows[i], y);
    }
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  g_free (data->rows);
  g_free (data->values);
  g_free (data->failed);
  g_free (data);
}

static const ChartKind kind = { "effect", FALSE, lay, clear };

static void
copy_side (Chart *chart, Data *own, guint number, const ChartEffectSide *side, Side *copy, guint *next, guint *mark)
{
  copy->name = chart_keep (chart, side->name);
  copy->figure = chart_keep (chart, side->figure);
  copy->mean = side->mean;
  copy->first = *next;
  copy->n = side->n;
  for (guint i = 0; i < side->n; i++)
    {
      own->values[*next] = side->units[i].value;
      own->failed[(*next)++] = side->units[i].failed;
      chart_set_mark (chart, (*mark)++, number, side->units[i].key, side->units[i].words);
    }
}

/**
 * chart_effect_new:
 * @data: what to draw; everything is copied
 *
 * What changes did, a row a characteristic.
 *
 * Returns: (transfer full): the chart
 */
Chart *
chart_effect_new (const ChartEffect *data)
{
  guint n_units = 0, next = 0, mark = 0;
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  for (guint i = 0; i < data->n_rows; i++)
    n_units += data->rows[i].before.n + data->rows[i].after.n;
  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_rows + n_units);
  chart->worst_first = TRUE;
  chart->height = chart_effect_height;
  own->rows = g_new0 (Row, data->n_rows + 1);
  own->n_rows = data->n_rows;
  own->values = g_new0 (double, n_units + 1);
  own->failed = g_new0 (gboolean, n_units + 1);
  own->title = chart_keep (chart, data->title);
  own->legend = chart_keep (chart, data->legend);
  own->empty = chart_keep (chart, data->empty);
  for (guint i = 0; i < data->n_rows; i++)
    {
      const ChartEffectRow *row = &data->rows[i];
      Row *copy = &own->rows[i];

      copy->name = chart_keep (chart, row->name);
      copy->note = chart_keep (chart, row->note);
      copy->figure = chart_keep (chart, row->figure);
      copy->low = row->low;
      copy->high = row->high;
      copy->told_apart = row->told_apart;
      copy->mark = mark;
      chart_set_mark (chart, mark++, i, row->key, row->words);
      copy_side (chart, own, i, &row->before, &copy->sides[0], &next, &mark);
      copy_side (chart, own, i, &row->after, &copy->sides[1], &next, &mark);
    }
  chart_order_marks (chart, data->n_rows);
  return chart;
}

/**
 * chart_effect_height:
 * @chart: a chart of effects
 * @theme: fonts
 *
 * Returns: the height that all rows need with their figures
 */
double
chart_effect_height (Chart *chart, const ChartTheme *theme)
{
  const Data *data;
  ChartScene *scene;
  double height;

  g_return_val_if_fail (chart != NULL && chart->kind == &kind, 0.0);

  data = chart->data;
  scene = chart_scene_new (1000.0, 1000.0, theme, 0);
  height = 1.5 * PAD + 2.0 + data->n_rows * row_height (FORM_WHOLE, ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)));
  if (data->title != NULL)
    height += chart_scene_lines (scene, CHART_TEXT_TITLE) + 4.0;
  if (data->legend != NULL)
    height += ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)) + 6.0;
  chart_scene_free (scene);
  return ceil (MAX (height, 60.0));
}
