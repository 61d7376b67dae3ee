/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A checked characteristic through the rounds: above, each unit passed or failed, in order of build, line by
 * line; below, the failed share of each round as a bar with the whiskers of its exact interval. When the units
 * have no room the shares stand alone, and a unit is found on its round's bar.
 */
#include "chart-rounds-private.h"

#include <math.h>

#define CELL_MOST  10.0
#define CELL_LEAST 5.0
#define LANE_SHARE 0.42 /* most of the plot that the units may take */
#define LANE_GAP   12.0
#define BAR_MOST   54.0

typedef struct
{
  ChartRounds own;
  double tolerated;
  const char *title, *scale_words, *empty, *tolerated_words;
} Data;

static double
most_share (const Data *data)
{
  double low = 0.0, high = 0.0;

  for (guint i = 0; i < data->own.n_rounds; i++)
    {
      chart_range_take (&low, &high, data->own.rounds[i].mean);
      chart_range_take (&low, &high, data->own.rounds[i].high);
    }
  chart_range_take (&low, &high, data->tolerated * 1.5);
  return CLAMP (high, 0.05, 1.0);
}

static guint
lane_columns (const ChartSlot *slot, double cell)
{
  return (guint) MAX (floor ((slot->right - slot->left) / cell), 1.0);
}

static guint
lane_rows (const Data *data, const ChartFrame *frame, double cell)
{
  guint most = 0;

  for (guint i = 0; i < data->own.n_rounds; i++)
    {
      guint columns = lane_columns (&frame->slots[i], cell);

      if (data->own.counts[i] > 0 && frame->slots[i].right - frame->slots[i].left < cell)
        return G_MAXUINT / 2; /* not even one column */
      most = MAX (most, (data->own.counts[i] + columns - 1) / columns);
    }
  return most;
}

/* The widest cell with which all units have room in @height; 0 when there is none. */
static double
lane_cell (const Data *data, const ChartFrame *frame, double height)
{
  for (double cell = CELL_MOST; cell >= CELL_LEAST; cell -= 1.0)
    {
      guint rows = lane_rows (data, frame, cell);

      if (rows == 0)
        return 0.0;
      if (rows * cell <= height)
        return cell;
    }
  return 0.0;
}

static void
add_units (Chart *chart,
           const Data *data,
           const ChartFrame *frame,
           ChartScene *scene,
           double cell,
           double bottom)
{
  guint first = 0;

  for (guint r = 0; r < data->own.n_rounds; r++)
    {
      const ChartSlot *slot = &frame->slots[r];
      guint n = data->own.counts[r];
      guint columns = MIN (lane_columns (slot, cell), MAX (n, 1));
      guint rows = (n + columns - 1) / columns;
      double left = (slot->left + slot->right - columns * cell) / 2.0;

      for (guint i = 0; i < n; i++)
        {
          guint mark = chart->order[first + i];
          ChartReadingFlags flags = data->own.flags[mark];
          double x = left + (i % columns + 0.5) * cell;
          double y = bottom - (rows - i / columns - 0.5) * cell;
          gboolean failed = (flags & CHART_READING_FAILED) && !(flags & CHART_READING_VOID);

          chart_scene_spot (scene, mark, x, y, cell / 2.0, cell / 2.0);
          chart_scene_mark (scene,
                            "unit",
                            chart_reading_shape (flags, TRUE),
                            CHART_TONE_INK,
                            x,
                            y,
                            failed ? cell * 0.42 : cell * 0.29)
              ->alpha
              = failed && !(flags & CHART_READING_UNCOUNTED) ? 1.0 : chart_reading_alpha (flags);
        }
      first += n;
    }
}

static void
add_shares (Chart *chart, const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean spots)
{
  guint first = 0;

  for (guint r = 0; r < data->own.n_rounds; r++)
    {
      const ChartSlot *slot = &frame->slots[r];
      double half = MIN ((slot->right - slot->left) / 2.0, BAR_MOST / 2.0);
      double middle = (slot->left + slot->right) / 2.0;
      double y = frame->y + frame->h;

      if (isfinite (data->own.rounds[r].mean))
        {
          double bottom = y;

          y = chart_frame_y (frame, data->own.rounds[r].mean);
          if (bottom - y >= 1.0)
            chart_scene_hatch (
                scene, "failed", CHART_HATCH_GREY, floor (middle - half), y, floor (2.0 * half), bottom - y);
          chart_rounds_estimate (
              &data->own, r, frame, scene, floor (middle - half), floor (middle - half) + floor (2.0 * half));
        }
      if (spots)
        for (guint i = 0; i < data->own.counts[r]; i++)
          chart_scene_spot (scene, chart->order[first + i], middle, y, half, 3.0);
      first += data->own.counts[r];
    }
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  g_autofree ChartColumn *columns = chart_rounds_columns (&data->own);
  g_autofree char *short_words = NULL;
  ChartEnd end = { data->tolerated_words, NULL, "limit", CHART_TONE_INK, CHART_TEXT_LABEL, data->tolerated, 0 };
  g_auto(ChartFrame) frame = { 0 };
  ChartFrameAsk ask = { .title = data->title,
                        .scale_words = data->scale_words,
                        .columns = columns,
                        .n_columns = data->own.n_rounds,
                        .low = 0.0,
                        .high = most_share (data),
                        .tick_factor = 100.0,
                        .ends = &end };
  gboolean is_empty;
  double cell;

  if (data->own.n_rounds == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  if (isfinite (data->tolerated) && data->tolerated_words != NULL)
    {
      short_words = chart_number (data->tolerated * 100.0, -1);
      end.short_words = short_words;
      ask.n_ends = 1;
    }
  if (!chart_frame_lay (&frame, scene, &ask))
    return;

  /* The lane of units is cut off the top of the plot; the scale moves down with it. */
  cell = lane_cell (data, &frame, floor (frame.h * LANE_SHARE) - LANE_GAP);
  if (cell > 0.0 && chart_frame_lane (&frame, scene, ceil (lane_rows (data, &frame, cell) * cell + LANE_GAP)))
    add_units (chart, data, &frame, scene, cell, floor (frame.lane_y + lane_rows (data, &frame, cell) * cell));
  else
    cell = 0.0;

  is_empty = chart->n_marks == 0 && !chart_rounds_have_estimate (&data->own);
  chart_frame_behind (&frame, scene, !is_empty);
  if (isfinite (data->tolerated))
    chart_scene_line (scene,
                      "limit-line",
                      CHART_TONE_INK,
                      1.0,
                      frame.x,
                      chart_frame_y (&frame, data->tolerated),
                      frame.x + frame.w,
                      chart_frame_y (&frame, data->tolerated));
  add_shares (chart, data, &frame, scene, cell == 0.0);
  chart_frame_labels (&frame, scene);
  if (is_empty)
    chart_scene_say (scene, data->empty);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  chart_rounds_clear (&data->own);
  g_free (data);
}

static const ChartKind kind = { "checked", FALSE, lay, clear };

/**
 * chart_checked_new:
 * @data: what to draw; everything is copied
 *
 * A checked characteristic through the rounds.
 *
 * Returns: (transfer full): the chart
 */
Chart *
chart_checked_new (const ChartChecked *data)
{
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_readings);
  chart_rounds_copy (&own->own, chart, data->rounds, data->n_rounds, data->readings);
  chart_rounds_table (&own->own, chart, &data->heads, FALSE);
  own->tolerated = data->tolerated;
  own->title = chart_keep (chart, data->title);
  own->scale_words = chart_keep (chart, data->scale_words);
  own->empty = chart_keep (chart, data->empty);
  own->tolerated_words = chart_keep (chart, data->tolerated_words);
  return chart;
}
