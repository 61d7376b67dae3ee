/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A measured characteristic through the rounds. Up to a number of readings each is a mark of its own; beyond it
 * the readings become a picture of cells, and failures, voids and the extremes of each round stay marks.
 */
#include "chart-density-private.h"
#include "chart-rounds-private.h"

#include <math.h>

#define SINGLE_MOST   1000 /* more readings than these are drawn as cells */
#define MARKS_MOST    300  /* single marks above the cells */
#define CELL          2.0
#define RADIUS        2.75
#define RADIUS_SMALL  2.25
#define RADIUS_FAILED 4.0
#define RADIUS_CLOSE  3.0  /* of failed ones above cells */
#define BEYOND        11.0 /* how far inside a reading beyond the scale is drawn */
#define SPACING_MOST  13.0

typedef struct
{
  ChartRounds own;
  ChartLimit *limits;
  guint n_limits;
  int decimals;
  const char *title, *unit, *empty, *lower_words, *upper_words, *mean_words;
  gboolean has_control;
  ChartControl control;
} Data;

/* Where the marks of a round lie: from left to right in steps. */
typedef struct
{
  double left, step, right;
} Span;

static Span
round_span (const Data *data, const ChartFrame *frame, guint round)
{
  const ChartSlot *slot = &frame->slots[round];
  double middle = (slot->left + slot->right) / 2.0;
  guint n = data->own.counts[round];
  double room = MAX (slot->right - slot->left - 2.0 * RADIUS, 0.0);
  double step = n > 1 ? MIN (room / (n - 1), SPACING_MOST) : 0.0;
  double half = step * (n > 1 ? n - 1 : 0) / 2.0;

  return (Span){ middle - half, step, middle + half };
}

static double
middle_radius (const ChartFrame *frame, double step)
{
  return step < 4.0 || frame->h < 110.0 ? RADIUS_SMALL : RADIUS;
}

/* The values that the scale must hold. A voided reading is often a slip of the decimal point: it does not count
 * here, and is drawn at the edge when it lies beyond. */
static void
value_range (const Data *data, guint n_readings, double *low, double *high)
{
  chart_range_init (low, high);
  for (guint i = 0; i < n_readings; i++)
    if (!(data->own.flags[i] & CHART_READING_VOID))
      chart_range_take (low, high, data->own.values[i]);
  if (!(*low <= *high))
    for (guint i = 0; i < n_readings; i++)
      chart_range_take (low, high, data->own.values[i]);
  for (guint i = 0; i < data->own.n_rounds; i++)
    {
      chart_range_take (low, high, data->own.rounds[i].mean);
      chart_range_take (low, high, data->own.rounds[i].low);
      chart_range_take (low, high, data->own.rounds[i].high);
    }
  for (guint i = 0; i < data->n_limits; i++)
    {
      chart_range_take (low, high, data->limits[i].lower);
      chart_range_take (low, high, data->limits[i].upper);
    }
  if (data->has_control)
    {
      chart_range_take (low, high, data->control.centre);
      chart_range_take (low, high, data->control.lower);
      chart_range_take (low, high, data->control.upper);
    }
  chart_range_settle (low, high);
}

/* One side of the limits: hatched outside, a line, and a riser where it changes. @upper chooses the side. */
static void
add_limits (const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean upper, gboolean lines)
{
  double before = NAN;

  for (guint i = 0; i < data->n_limits; i++)
    {
      double value = upper ? data->limits[i].upper : data->limits[i].lower;
      double left = chart_frame_x (frame, data->limits[i].from);
      double right
          = i + 1 < data->n_limits ? chart_frame_x (frame, data->limits[i + 1].from) : frame->x + frame->w;
      double y = chart_frame_y (frame, value);

      if (isfinite (value) && right > left)
        {
          if (!lines)
            chart_scene_hatch (scene,
                               "outside",
                               CHART_HATCH_LIMIT,
                               left,
                               upper ? frame->y : y,
                               right - left,
                               upper ? y - frame->y : frame->y + frame->h - y);
          else
            chart_scene_line (scene, "limit-line", CHART_TONE_INK, 1.0, left, y, right, y);
          if (lines && isfinite (before) && before != y)
            chart_scene_line (scene, "limit-change", CHART_TONE_INK, 1.0, left, before, left, y)->dash
                = CHART_DASH_SHORT;
        }
      before = isfinite (value) ? y : NAN;
    }
}

static void
add_means (const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  double end_x = NAN, end_y = NAN;

  for (guint i = 0; i < data->own.n_rounds; i++)
    {
      Span span = round_span (data, frame, i);
      double half = MAX ((span.right - span.left) / 2.0 + 7.0, 14.0);
      double middle = (span.left + span.right) / 2.0;
      double left, right, y;

      if (!isfinite (data->own.rounds[i].mean))
        continue;
      half = MIN (half, MAX ((frame->slots[i].slot_right - frame->slots[i].slot_left) / 2.0 - 2.0, 0.5));
      left = middle - half;
      right = middle + half;
      y = chart_frame_y (frame, data->own.rounds[i].mean);
      if (isfinite (end_x))
        chart_scene_line (scene, "course", CHART_TONE_COPPER, 1.25, end_x, end_y, left, y)->alpha
            = data->own.rounds[i].uncounted ? 0.42 : 0.9;
      chart_rounds_estimate (&data->own, i, frame, scene, left, right);
      end_x = right;
      end_y = y;
    }
}

/* Centre line and limits of single values, and the thread through those that count. */
static void
add_control (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean thread)
{
  const double values[] = { data->control.centre, data->control.lower, data->control.upper };
  gboolean open = FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (isfinite (values[i]))
      {
        double y = chart_frame_y (frame, values[i]);
        ChartItem *line = chart_scene_line (scene, i == 0 ? "centre-line" : "control-line", CHART_TONE_COPPER,
                                            i == 0 ? 1.5 : 1.25, frame->x, y, frame->x + frame->w, y);

        line->dash = data->control.so_far ? CHART_DASH_LONG : i == 0 ? CHART_DASH_NONE : CHART_DASH_MIXED;
        line->alpha = 0.9;
      }
  for (guint i = 0; thread && i < chart->n_marks; i++)
    {
      guint mark = chart->order[i];

      if (isnan (scene->spots[mark].x) || (data->own.flags[mark] & (CHART_READING_VOID | CHART_READING_UNCOUNTED)))
        continue;
      if (!open)
        chart_scene_path (scene, "thread", CHART_TONE_FAINT, 0.75)->alpha = 0.7;
      open = TRUE;
      chart_scene_point (scene, scene->spots[mark].x, scene->spots[mark].y);
    }
}

static gboolean
stands_out (ChartReadingFlags flags)
{
  return (flags & (CHART_READING_SIGNAL | CHART_READING_FAILED | CHART_READING_VOID | CHART_READING_ABOVE | CHART_READING_BELOW)) != 0;
}

static double
reading_y (const ChartFrame *frame, double value)
{
  double at = chart_scale_at (&frame->scale, value);

  if (at < frame->y - 0.5)
    return frame->y + BEYOND;
  if (at > frame->y + frame->h + 0.5)
    return frame->y + frame->h - BEYOND;
  return at;
}

/* Gives each reading its spot; returns how many are shown. */
static guint
place_readings (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  guint shown = 0, first = 0;

  for (guint r = 0; r < data->own.n_rounds; r++)
    {
      Span span = round_span (data, frame, r);

      for (guint i = 0; i < data->own.counts[r]; i++)
        {
          guint mark = chart->order[first + i];
          double value = data->own.values[mark];

          if (isnan (value))
            continue;
          chart_scene_spot (scene, mark, span.left + i * span.step, reading_y (frame, value), 0.0, 0.0);
          shown++;
        }
      first += data->own.counts[r];
    }
  return shown;
}

static void
add_reading (const Data *data, const ChartFrame *frame, ChartScene *scene, guint mark, double radius)
{
  const ChartSpot *spot = &scene->spots[mark];
  ChartReadingFlags flags = data->own.flags[mark];
  double at = chart_scale_at (&frame->scale, data->own.values[mark]);
  ChartShape shape = chart_reading_shape (flags, FALSE);

  chart_scene_mark (scene, "reading", shape, CHART_TONE_INK, spot->x, spot->y, radius)->alpha
      = flags & CHART_READING_FAILED && !(flags & (CHART_READING_UNCOUNTED | CHART_READING_VOID))
            ? 1.0
            : chart_reading_alpha (flags);

  if (flags & CHART_READING_SIGNAL)
    chart_scene_mark (scene, "signal", CHART_SHAPE_CIRCLE, CHART_TONE_COPPER, spot->x, spot->y, radius + 3.0);

  /* Only a voided value can lie beyond the scale: an arrow outwards says that it is not where it is drawn. */
  if (at < frame->y - 0.5)
    chart_scene_mark (
        scene, "beyond", CHART_SHAPE_ABOVE_FAILED, CHART_TONE_FAINT, spot->x, spot->y - BEYOND + 4.0, 2.5);
  else if (at > frame->y + frame->h + 0.5)
    chart_scene_mark (
        scene, "beyond", CHART_SHAPE_BELOW_FAILED, CHART_TONE_FAINT, spot->x, spot->y + BEYOND - 4.0, 2.5);
}

static void
add_plain (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean uncounted)
{
  for (guint i = 0; i < chart->n_marks; i++)
    {
      guint mark = chart->order[i];
      ChartReadingFlags flags = data->own.flags[mark];

      if (!isnan (scene->spots[mark].x) && !stands_out (flags)
          && ((flags & CHART_READING_UNCOUNTED) != 0) == uncounted)
        add_reading (data,
                     frame,
                     scene,
                     mark,
                     middle_radius (frame, round_span (data, frame, chart->rounds[mark]).step));
    }
}

static void
add_cells (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean uncounted)
{
  g_auto(ChartDensity) density = { 0 };
  cairo_surface_t *mask;

  chart_density_init (&density, floor (frame->x), floor (frame->y), frame->w, frame->h + 1.0, CELL);
  for (guint i = 0; i < chart->n_marks; i++)
    if (!isnan (scene->spots[i].x) && !(data->own.flags[i] & CHART_READING_VOID)
        && ((data->own.flags[i] & CHART_READING_UNCOUNTED) != 0) == uncounted)
      chart_density_take (&density, scene->spots[i].x, scene->spots[i].y);
  mask = chart_density_mask (&density);
  if (mask != NULL)
    chart_scene_density (scene, "readings", CHART_TONE_INK, density.x, density.y, density.w, density.h, mask)
        ->alpha
        = uncounted ? 0.42 : 0.85;
}

/* The readings that stand out; where they are many, only the first of each cell, with cells wide enough. */
static void
choose_standing_out (Chart *chart,
                     const Data *data,
                     const ChartFrame *frame,
                     const ChartScene *scene,
                     double cell,
                     GArray *chosen)
{
  g_auto(ChartDensity) density = { 0 };

  g_array_set_size (chosen, 0);
  chart_density_init (&density, frame->x, frame->y, frame->w, frame->h + 1.0, MAX (cell, 1.0));
  for (guint i = 0; i < chart->n_marks; i++)
    {
      guint mark = chart->order[i];
      const ChartSpot *spot = &scene->spots[mark];

      if (!isnan (spot->x) && stands_out (data->own.flags[mark])
          && (cell == 0.0 || chart_density_take (&density, spot->x, spot->y)))
        g_array_append_val (chosen, mark);
    }
}

static void
add_standing_out (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean many)
{
  g_autoptr(GArray) chosen = g_array_new (FALSE, FALSE, sizeof (guint));

  choose_standing_out (chart, data, frame, scene, many ? 2.0 * RADIUS_CLOSE : 0.0, chosen);
  for (double cell = 4.0 * RADIUS_CLOSE; many && chosen->len > MARKS_MOST && cell <= 100.0; cell *= 2.0)
    choose_standing_out (chart, data, frame, scene, cell, chosen);
  for (guint i = 0; i < chosen->len; i++)
    {
      guint mark = g_array_index (chosen, guint, i);
      double radius = data->own.flags[mark] & CHART_READING_FAILED ? RADIUS_FAILED : RADIUS + 0.5;

      add_reading (data, frame, scene, mark, many ? RADIUS_CLOSE : radius);
    }
}

/* Among cells a single far reading would be a speck: the lowest and the highest of each round are marks. */
static void
add_extremes (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  g_autofree int *lowest = g_new (int, data->own.n_rounds + 1);
  g_autofree int *highest = g_new (int, data->own.n_rounds + 1);

  for (guint r = 0; r < data->own.n_rounds; r++)
    lowest[r] = highest[r] = -1;
  for (guint i = 0; i < chart->n_marks; i++)
    {
      guint r = chart->rounds[i];

      if (isnan (scene->spots[i].x) || stands_out (data->own.flags[i]))
        continue;
      if (lowest[r] < 0 || data->own.values[i] < data->own.values[lowest[r]])
        lowest[r] = (int) i;
      if (highest[r] < 0 || data->own.values[i] > data->own.values[highest[r]])
        highest[r] = (int) i;
    }
  for (guint r = 0; r < data->own.n_rounds && data->own.n_rounds <= MARKS_MOST / 2; r++)
    {
      if (lowest[r] >= 0)
        add_reading (data, frame, scene, (guint) lowest[r], RADIUS_SMALL);
      if (highest[r] >= 0 && highest[r] != lowest[r])
        add_reading (data, frame, scene, (guint) highest[r], RADIUS_SMALL);
    }
}

/* Everything in the plot; @shown readings have their spots. */
static void
fill (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, guint shown)
{
  if (data->has_control)
    add_control (chart, data, frame, scene, shown <= SINGLE_MOST);
  for (guint pass = 0; pass < 2; pass++)
    if (shown <= SINGLE_MOST)
      add_plain (chart, data, frame, scene, pass == 0);
    else
      add_cells (chart, data, frame, scene, pass == 0);
  if (shown > SINGLE_MOST)
    add_extremes (chart, data, frame, scene);
  add_limits (data, frame, scene, FALSE, TRUE);
  add_limits (data, frame, scene, TRUE, TRUE);
  add_means (data, frame, scene);
  add_standing_out (chart, data, frame, scene, shown > SINGLE_MOST);
}

static guint
control_ends (const Data *data, ChartEnd *ends, GPtrArray *texts)
{
  const double values[] = { data->control.centre, data->control.lower, data->control.upper };
  const char *words[] = { data->control.centre_words, data->control.lower_words, data->control.upper_words };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (isfinite (values[i]))
      {
        char *number = chart_number (values[i], data->decimals < 0 ? -1 : data->decimals + 1);

        g_ptr_array_add (texts, number);
        ends[n++] = (ChartEnd){ words[i] != NULL ? words[i] : number, number, "control", CHART_TONE_COPPER, CHART_TEXT_LABEL,
                                values[i], i == 0 ? 2 : 1 };
      }
  return n;
}

/* The labels at the right: the newest limits and the last mean. Returns how many; the short forms are owned by
 * @texts. */
static guint
right_ends (const Data *data, ChartEnd *ends, GPtrArray *texts)
{
  guint n = 0;
  int last = (int) data->own.n_rounds - 1;

  if (data->n_limits > 0)
    for (guint upper = 0; upper < 2; upper++)
      {
        const ChartLimit *limit = &data->limits[data->n_limits - 1];
        double value = upper ? limit->upper : limit->lower;
        const char *words = upper ? data->upper_words : data->lower_words;

        if (!isfinite (value))
          continue;
        g_ptr_array_add (texts, chart_number (value, data->decimals));
        ends[n++] = (ChartEnd){ words != NULL ? words : texts->pdata[texts->len - 1],
                                texts->pdata[texts->len - 1],
                                "limit",
                                CHART_TONE_INK,
                                CHART_TEXT_LABEL,
                                value,
                                0 };
      }
  if (data->has_control)
    return n + control_ends (data, ends + n, texts);
  while (last >= 0 && !isfinite (data->own.rounds[last].mean))
    last--;
  if (last >= 0 && data->mean_words != NULL)
    {
      g_ptr_array_add (
          texts, chart_number (data->own.rounds[last].mean, data->decimals < 0 ? -1 : data->decimals + 1));
      ends[n++] = (ChartEnd){ data->mean_words, texts->pdata[texts->len - 1], "mean", CHART_TONE_COPPER,
                              CHART_TEXT_LABEL, data->own.rounds[last].mean,  1 };
    }
  return n;
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  g_autofree ChartColumn *columns = chart_rounds_columns (&data->own);
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  ChartEnd ends[5];
  g_auto(ChartFrame) frame = { 0 };
  ChartFrameAsk ask = { .title = data->title,
                        .scale_words = data->unit,
                        .columns = columns,
                        .n_columns = data->own.n_rounds,
                        .ends = ends };
  gboolean is_empty;
  guint shown;

  if (data->own.n_rounds == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  value_range (data, chart->n_marks, &ask.low, &ask.high);
  ask.n_ends = right_ends (data, ends, texts);
  if (!chart_frame_lay (&frame, scene, &ask))
    return;

  add_limits (data, &frame, scene, FALSE, FALSE);
  add_limits (data, &frame, scene, TRUE, FALSE);
  shown = place_readings (chart, data, &frame, scene);
  is_empty = shown == 0 && !chart_rounds_have_estimate (&data->own);
  chart_frame_behind (&frame, scene, !is_empty);
  fill (chart, data, &frame, scene, shown);
  chart_frame_labels (&frame, scene);
  if (is_empty)
    chart_scene_say (scene, data->empty);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  chart_rounds_clear (&data->own);
  g_free (data->limits);
  g_free (data);
}

static const ChartKind kind = { "characteristic", FALSE, lay, clear };

/**
 * chart_characteristic_new:
 * @data: what to draw; everything is copied
 *
 * A measured characteristic through the rounds. Without rounds it says @data's sentence; rounds without
 * readings keep their columns.
 *
 * Returns: (transfer full): the chart
 */
Chart *
chart_characteristic_new (const ChartCharacteristic *data)
{
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_readings);
  chart_rounds_copy (&own->own, chart, data->rounds, data->n_rounds, data->readings);
  chart_rounds_table (&own->own, chart, &data->heads, TRUE);
  own->limits = g_memdup2 (data->limits, data->n_limits * sizeof *data->limits);
  own->n_limits = data->n_limits;
  own->decimals = MIN (data->decimals, CHART_DECIMALS_MOST);
  own->title = chart_keep (chart, data->title);
  own->unit = chart_keep (chart, data->unit);
  own->empty = chart_keep (chart, data->empty);
  own->lower_words = chart_keep (chart, data->lower_words);
  own->upper_words = chart_keep (chart, data->upper_words);
  own->mean_words = chart_keep (chart, data->mean_words);
  if (data->control != NULL)
    {
      own->has_control = TRUE;
      own->control = *data->control;
      own->control.centre_words = chart_keep (chart, data->control->centre_words);
      own->control.lower_words = chart_keep (chart, data->control->lower_words);
      own->control.upper_words = chart_keep (chart, data->control->upper_words);
    }
  return chart;
}
