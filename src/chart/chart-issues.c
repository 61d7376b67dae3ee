/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Issues over time. Two stairs that never cross: whatever is shown to be solved was found before.
 */
#include "chart-issues.h"

#include "chart-frame-private.h"
#include "chart-private.h"

#include <math.h>

#define POINT      4.5
#define FOUND_LINE 1.0
#define SHOWN_LINE 2.5

typedef struct
{
  ChartIssuesRound *rounds;
  guint n_rounds;
  ChartIssuesPoint *points;
  guint n_points;
  double end;
  const char *title, *empty, *found_name, *shown_name;
} Data;

static guint
value_of (const ChartIssuesPoint *point, gboolean shown)
{
  return shown ? point->shown : point->found;
}

/* Level from one point to the next, then straight up or down; from the ground at the first point. */
static void
add_stair (const Data *data, const ChartFrame *frame, ChartScene *scene, gboolean shown)
{
  double y = chart_frame_y (frame, 0.0);

  chart_scene_path (scene, shown ? "shown-line" : "found-line", shown ? CHART_TONE_COPPER : CHART_TONE_INK,
                    shown ? SHOWN_LINE : FOUND_LINE);
  chart_scene_point (scene, frame->x, y);
  for (guint i = 0; i < data->n_points; i++)
    {
      double x = chart_frame_x (frame, data->points[i].at), to = chart_frame_y (frame, value_of (&data->points[i], shown));

      chart_scene_point (scene, x, y);
      chart_scene_point (scene, x, to);
      y = to;
    }
  chart_scene_point (scene, chart_frame_x (frame, data->end), y);
}

static void
add_marks (const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  static const ChartIssuesPoint nothing = { 0 };

  for (guint i = 0; i < data->n_points; i++)
    {
      const ChartIssuesPoint *point = &data->points[i], *before = i > 0 ? point - 1 : &nothing;
      double x = chart_frame_x (frame, point->at);
      gboolean shown = point->shown != before->shown;

      if (point->found != before->found || !shown)
        chart_scene_mark (scene, "found-point", CHART_SHAPE_DIAMOND_OPEN, CHART_TONE_INK, x,
                          chart_frame_y (frame, point->found), POINT);
      if (shown)
        chart_scene_mark (scene, "shown-point", CHART_SHAPE_DIAMOND, CHART_TONE_COPPER, x,
                          chart_frame_y (frame, point->shown), POINT);
      chart_scene_spot (scene, i, x, chart_frame_y (frame, shown ? point->shown : point->found), POINT, POINT);
    }
}

static guint
right_ends (const Data *data, ChartEnd ends[2])
{
  const ChartIssuesPoint *last = &data->points[data->n_points - 1];
  guint n = 0;

  if (data->found_name != NULL)
    ends[n++] = (ChartEnd){ data->found_name, NULL, "found", CHART_TONE_INK, CHART_TEXT_LABEL, last->found, 0 };
  if (data->shown_name != NULL)
    ends[n++] = (ChartEnd){ data->shown_name, NULL, "shown", CHART_TONE_COPPER, CHART_TEXT_STRONG, last->shown, 1 };
  return n;
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  g_autofree ChartColumn *columns = g_new0 (ChartColumn, MAX (data->n_rounds, 1));
  g_auto(ChartFrame) frame = { 0 };
  ChartEnd ends[2];
  ChartFrameAsk ask = { .title = data->title, .columns = columns, .n_columns = data->n_rounds, .low = 0.0, .ends = ends };

  if (data->n_rounds == 0 || data->n_points == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  ask.n_ends = right_ends (data, ends);
  for (guint i = 0; i < data->n_points; i++)
    ask.high = MAX (ask.high, MAX (data->points[i].found, data->points[i].shown));
  ask.high = MAX (ask.high, 4.0); /* below that the scale would have ticks between whole issues */
  for (guint i = 0; i < data->n_rounds; i++)
    columns[i] = (ChartColumn){ data->rounds[i].name, NULL, NULL, data->rounds[i].current, MAX (data->rounds[i].days, 0.1) };
  if (!chart_frame_lay (&frame, scene, &ask))
    return;

  chart_frame_behind (&frame, scene, TRUE);
  add_stair (data, &frame, scene, FALSE);
  add_stair (data, &frame, scene, TRUE);
  add_marks (data, &frame, scene);
  chart_frame_labels (&frame, scene);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  g_free (data->rounds);
  g_free (data->points);
  g_free (data);
}

static const ChartKind kind = { "issues", FALSE, lay, clear };

/**
 * chart_issues_new:
 * @data: what to draw; everything is copied
 *
 * Issues found and shown to be solved over the days of the rounds.
 *
 * Returns: (transfer full): the chart
 */
Chart *
chart_issues_new (const ChartIssues *data)
{
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_points);
  own->n_rounds = data->n_rounds;
  own->rounds = g_new0 (ChartIssuesRound, MAX (data->n_rounds, 1));
  for (guint i = 0; i < data->n_rounds; i++)
    own->rounds[i] = (ChartIssuesRound){ chart_keep (chart, data->rounds[i].name), data->rounds[i].days, data->rounds[i].current };
  own->n_points = data->n_points;
  own->points = g_new0 (ChartIssuesPoint, MAX (data->n_points, 1));
  for (guint i = 0; i < data->n_points; i++)
    {
      double at = data->points[i].at;
      guint round = data->n_rounds > 0 && at > 0.0 ? MIN ((guint) at, data->n_rounds - 1) : 0;

      own->points[i] = data->points[i];
      own->points[i].words = NULL;
      chart_set_mark (chart, i, round, data->points[i].key, data->points[i].words);
    }
  chart_order_marks (chart, data->n_rounds);
  own->end = data->end;
  own->title = chart_keep (chart, data->title);
  own->empty = chart_keep (chart, data->empty);
  own->found_name = chart_keep (chart, data->found_name);
  own->shown_name = chart_keep (chart, data->shown_name);
  return chart;
}
