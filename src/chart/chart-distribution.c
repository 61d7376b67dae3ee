/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Method. The scale is cut into rows as high as a dot. Few readings of a round lie side by side in their rows, from the middle
 * outwards; of many the rows become bars as wide as their counts. What fails stays a mark of its own either way.
 */
#include "chart-distribution.h"

#include "chart-rounds-private.h"

#include <math.h>

#define RADIUS      3.0
#define ROW         (2.0 * RADIUS + 0.5)
#define FAILED_MOST 100 /* failing readings of a round that are drawn one by one above a silhouette */
#define BOX_HALF    5.0

typedef struct
{
  ChartRounds own;
  ChartBox   *boxes;
  double      lower, upper;
  int         decimals;
  const char *title, *unit, *empty, *lower_words, *upper_words;
} Data;

/* The rows of the plot and how many readings of one round each holds. */
typedef struct
{
  guint *counts, *placed;
  guint  n, most;
} Rows;

static void
rows_clear (Rows *rows)
{
  g_clear_pointer (&rows->counts, g_free);
  g_clear_pointer (&rows->placed, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Rows, rows_clear)

static void
value_range (const Data *data, guint n, double *low, double *high)
{
  chart_range_init (low, high);
  for (guint i = 0; i < n; i++)
    chart_range_take (low, high, data->own.values[i]);
  chart_range_take (low, high, data->lower);
  chart_range_take (low, high, data->upper);
  chart_range_settle (low, high);
}

static guint
row_of (const Rows *rows, const ChartFrame *frame, double value)
{
  double at = (frame->y + frame->h - chart_scale_at (&frame->scale, value)) / ROW;

  return (guint) CLAMP (at, 0.0, rows->n - 1.0);
}

static void
count_rows (Rows *rows, Chart *chart, const Data *data, const ChartFrame *frame, guint first, guint n)
{
  rows->most = 0;
  for (guint i = 0; i < rows->n; i++)
    rows->counts[i] = rows->placed[i] = 0;
  for (guint i = 0; i < n; i++)
    {
      double value = data->own.values[chart->order[first + i]];

      if (!isnan (value))
        {
          guint row = row_of (rows, frame, value);

          rows->counts[row]++;
          rows->most = MAX (rows->most, rows->counts[row]);
        }
    }
}

static void
add_mark (const Data *data, ChartScene *scene, guint mark)
{
  ChartReadingFlags flags = data->own.flags[mark];

  chart_scene_mark (scene, "reading", chart_reading_shape (flags, FALSE), CHART_TONE_INK, scene->spots[mark].x,
                    scene->spots[mark].y, flags & CHART_READING_FAILED ? RADIUS + 1.0 : RADIUS)->alpha
      = flags & CHART_READING_FAILED && !(flags & CHART_READING_UNCOUNTED) ? 1.0 : chart_reading_alpha (flags);
}

/* A dot a reading, those of a row side by side around the middle, at their own heights. */
static void
add_dots (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, guint round, guint first, Rows *rows)
{
  const ChartSlot *slot = &frame->slots[round];
  double middle = (slot->left + slot->right) / 2.0, room = MAX (slot->right - slot->left - 2.0 * RADIUS, 0.0);

  for (guint i = 0; i < data->own.counts[round]; i++)
    {
      guint mark = chart->order[first + i], row;
      double value = data->own.values[mark], step;

      if (isnan (value))
        continue;
      row = row_of (rows, frame, value);
      step = rows->counts[row] > 1 ? MIN (ROW, room / (rows->counts[row] - 1)) : 0.0;
      chart_scene_spot (scene, mark, middle + (rows->placed[row] - (rows->counts[row] - 1) / 2.0) * step,
                        chart_scale_at (&frame->scale, value), 0.0, 0.0);
      rows->placed[row]++;
      add_mark (data, scene, mark);
    }
}

static void
add_box (const Data *data, const ChartFrame *frame, ChartScene *scene, guint round)
{
  const ChartBox *box = &data->boxes[round];
  const ChartSlot *slot = &frame->slots[round];
  double middle = chart_crisp ((slot->left + slot->right) / 2.0), half = MIN (BOX_HALF, (slot->right - slot->left) / 2.0);
  double q1, q3, median;

  if (!isfinite (box->median))
    return;
  q1 = chart_frame_y (frame, box->q1);
  q3 = chart_frame_y (frame, box->q3);
  median = chart_frame_y (frame, box->median);
  chart_scene_line (scene, "box-range", CHART_TONE_COPPER, 1.0, middle, chart_frame_y (frame, box->least), middle,
                    chart_frame_y (frame, box->most));
  if (q1 - q3 >= 1.0)
    chart_scene_box (scene, "box", CHART_TONE_COPPER, middle - half, q3, 2.0 * half, q1 - q3)->width = 1.5;
  chart_scene_line (scene, "median", CHART_TONE_COPPER, 3.0, middle - half, median, middle + half, median);
}

/* Bars as wide as the rows are full; failing readings above them, by hundreds no more. */
static void
add_silhouette (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, guint round, guint first,
                const Rows *rows)
{
  const ChartSlot *slot = &frame->slots[round];
  double middle = (slot->left + slot->right) / 2.0, room = MAX (slot->right - slot->left, 2.0);
  guint failed = 0;

  for (guint i = 0; i < rows->n; i++)
    if (rows->counts[i] > 0)
      {
        double width = MAX (room * rows->counts[i] / rows->most, 1.0), bottom = frame->y + frame->h - i * ROW;
        double top = MAX (bottom - ROW, frame->y);

        chart_scene_box (scene, "silhouette", CHART_TONE_INK, middle - width / 2.0, top, width, bottom - top)->alpha
            = data->own.rounds[round].uncounted ? 0.12 : 0.25;
      }
  add_box (data, frame, scene, round);
  for (guint i = 0; i < data->own.counts[round]; i++)
    {
      guint mark = chart->order[first + i];

      if (isnan (data->own.values[mark]))
        continue;
      chart_scene_spot (scene, mark, middle, chart_scale_at (&frame->scale, data->own.values[mark]), 0.0, 0.0);
      if ((data->own.flags[mark] & CHART_READING_FAILED) && failed++ < FAILED_MOST)
        add_mark (data, scene, mark);
    }
}

static guint
add_rounds (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  guint n_rows = (guint) MAX (ceil (frame->h / ROW), 1.0), first = 0;
  g_auto(Rows) rows = { g_new0 (guint, n_rows), g_new0 (guint, n_rows), n_rows, 0 };
  guint shown = 0;

  for (guint r = 0; r < data->own.n_rounds; r++)
    {
      count_rows (&rows, chart, data, frame, first, data->own.counts[r]);
      if (data->own.counts[r] <= CHART_DISTRIBUTION_DOTS)
        add_dots (chart, data, frame, scene, r, first, &rows);
      else
        add_silhouette (chart, data, frame, scene, r, first, &rows);
      first += data->own.counts[r];
      shown += rows.most;
    }
  return shown;
}

static void
add_limit (const ChartFrame *frame, ChartScene *scene, double value, gboolean upper, gboolean line)
{
  double y;

  if (!isfinite (value))
    return;
  y = chart_frame_y (frame, value);
  if (line)
    chart_scene_line (scene, "limit-line", CHART_TONE_INK, 1.0, frame->x, y, frame->x + frame->w, y);
  else
    chart_scene_hatch (scene, "outside", CHART_HATCH_LIMIT, frame->x, upper ? frame->y : y, frame->w,
                       upper ? y - frame->y : frame->y + frame->h - y);
}

static guint
right_ends (const Data *data, ChartEnd *ends, char **numbers)
{
  const double values[] = { data->lower, data->upper };
  const char *words[] = { data->lower_words, data->upper_words };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (isfinite (values[i]))
      {
        numbers[n] = chart_number (values[i], data->decimals);
        ends[n] = (ChartEnd){ words[i] != NULL ? words[i] : numbers[n], numbers[n], "limit", CHART_TONE_INK, CHART_TEXT_LABEL,
                              values[i], 0 };
        n++;
      }
  return n;
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  g_autofree ChartColumn *columns = chart_rounds_columns (&data->own);
  g_auto(ChartFrame) frame = { 0 };
  char *numbers[2] = { NULL, NULL };
  ChartEnd ends[2];
  ChartFrameAsk ask = { .title = data->title,
                        .scale_words = data->unit,
                        .columns = columns,
                        .n_columns = data->own.n_rounds,
                        .ends = ends };

  if (data->own.n_rounds == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  value_range (data, chart->n_marks, &ask.low, &ask.high);
  ask.n_ends = right_ends (data, ends, numbers);
  if (chart_frame_lay (&frame, scene, &ask))
    {
      guint shown;

      add_limit (&frame, scene, data->lower, FALSE, FALSE);
      add_limit (&frame, scene, data->upper, TRUE, FALSE);
      chart_frame_behind (&frame, scene, chart->n_marks > 0);
      shown = add_rounds (chart, data, &frame, scene);
      add_limit (&frame, scene, data->lower, FALSE, TRUE);
      add_limit (&frame, scene, data->upper, TRUE, TRUE);
      chart_frame_labels (&frame, scene);
      if (shown == 0)
        chart_scene_say (scene, data->empty);
    }
  g_free (numbers[0]);
  g_free (numbers[1]);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  chart_rounds_clear (&data->own);
  g_free (data->boxes);
  g_free (data);
}

static const ChartKind kind = { "distribution", FALSE, lay, clear };

/**
 * chart_distribution_new:
 * @data: what to draw; everything is copied
 *
 * Returns: (transfer full): the drawing; its marks are the readings
 */
Chart *
chart_distribution_new (const ChartDistribution *data)
{
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_readings);
  chart_rounds_copy (&own->own, chart, data->rounds, data->n_rounds, data->readings);
  chart_rounds_table (&own->own, chart, &data->heads, TRUE);
  own->boxes = g_memdup2 (data->boxes, data->n_rounds * sizeof *data->boxes);
  own->lower = data->lower;
  own->upper = data->upper;
  own->decimals = MIN (data->decimals, CHART_DECIMALS_MOST);
  own->title = chart_keep (chart, data->title);
  own->unit = chart_keep (chart, data->unit);
  own->empty = chart_keep (chart, data->empty);
  own->lower_words = chart_keep (chart, data->lower_words);
  own->upper_words = chart_keep (chart, data->upper_words);
  return chart;
}
