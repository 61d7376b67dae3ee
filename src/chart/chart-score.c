/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The readiness score through the rounds. The score is that of its lowest class, so no line lies below it: its
 * figures stand below the points, where nothing crosses them.
 */
#include "chart-score.h"

#include "chart-frame-private.h"
#include "chart-labels.h"
#include "chart-private.h"

#include <math.h>

#define SCORE_MOST  100.0
#define POINT       3.5
#define CLASS_POINT 1.75
#define SCORE_LINE  2.5

typedef struct
{
  ChartScoreRound *rounds;
  guint n_rounds;
  ChartScoreClass *classes;
  double *scores; /* of all classes, a class after the other */
  guint n_classes;
  const char *title, *empty, *name;
} Data;

static double
middle_of (const ChartFrame *frame, guint round)
{
  return (frame->slots[round].slot_left + frame->slots[round].slot_right) / 2.0;
}

static void
add_class (const Data *data, const ChartFrame *frame, ChartScene *scene, guint number)
{
  static const ChartDash dashes[]
      = { CHART_DASH_LONG, CHART_DASH_SHORT, CHART_DASH_DOTS, CHART_DASH_MIXED, CHART_DASH_NONE };
  const double *scores = data->classes[number].scores;
  gboolean open = FALSE;

  for (guint i = 0; i < data->n_rounds; i++)
    {
      if (!isfinite (scores[i]))
        {
          open = FALSE;
          continue;
        }
      if (!open)
        chart_scene_path (scene, "class-line", CHART_TONE_INK, 1.0)->dash
            = dashes[number % G_N_ELEMENTS (dashes)];
      open = TRUE;
      chart_scene_point (scene, middle_of (frame, i), chart_frame_y (frame, scores[i]));
    }
  for (guint i = 0; i < data->n_rounds; i++)
    if (isfinite (scores[i]))
      chart_scene_mark (scene,
                        "class-point",
                        CHART_SHAPE_DISC,
                        CHART_TONE_INK,
                        middle_of (frame, i),
                        chart_frame_y (frame, scores[i]),
                        CLASS_POINT);
}

static void
add_score (const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  gboolean open = FALSE;

  for (guint i = 0; i < data->n_rounds; i++)
    {
      if (!isfinite (data->rounds[i].score))
        {
          open = FALSE;
          continue;
        }
      if (!open)
        chart_scene_path (scene, "score-line", CHART_TONE_COPPER, SCORE_LINE);
      open = TRUE;
      chart_scene_point (scene, middle_of (frame, i), chart_frame_y (frame, data->rounds[i].score));
    }
}

static void
add_points (const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  for (guint i = 0; i < data->n_rounds; i++)
    {
      double x = middle_of (frame, i), y;

      if (!isfinite (data->rounds[i].score))
        continue;
      y = chart_frame_y (frame, data->rounds[i].score);
      chart_scene_mark (scene, "score-point", CHART_SHAPE_DISC, CHART_TONE_COPPER, x, y, POINT);
      chart_scene_spot (scene, i, x, y, POINT, POINT);
    }
}

/* The figure of each round, below its point or, near the ground, above it; thinned where rounds are close. */
static void
add_figures (const Data *data, const ChartFrame *frame, ChartScene *scene)
{
  g_autofree ChartLabel *labels = g_new0 (ChartLabel, MAX (data->n_rounds, 1));
  g_autofree guint *which = g_new (guint, MAX (data->n_rounds, 1));
  g_autoptr(GPtrArray) layouts = g_ptr_array_new_with_free_func (g_object_unref);
  guint n = 0;

  for (guint i = 0; i < data->n_rounds; i++)
    {
      g_autofree char *text = NULL;

      if (!isfinite (data->rounds[i].score))
        continue;
      text = chart_number (data->rounds[i].score, 0);
      g_ptr_array_add (layouts, chart_scene_layout (scene, CHART_TEXT_STRONG, text));
      chart_text_size (layouts->pdata[n], &labels[n].size, NULL);
      labels[n].wanted = middle_of (frame, i);
      which[n++] = i;
    }
  chart_labels_thin (labels, n, frame->x, frame->x + frame->w, 8.0, -1);
  for (guint i = 0; i < n; i++)
    {
      double y = chart_frame_y (frame, data->rounds[which[i]].score);
      double below = y + POINT + 2.0, above = y - POINT - 2.0 - frame->line;

      if (!labels[i].placed || frame->h < 2.0 * frame->line + 4.0 * POINT)
        continue;
      chart_scene_text (scene,
                        "figure",
                        CHART_TONE_COPPER,
                        g_object_ref (layouts->pdata[i]),
                        labels[i].at - labels[i].size / 2.0,
                        below + frame->line - 3.0 <= frame->y + frame->h ? below : above);
    }
}

/* A label for the last score and for each class's. Returns how many. */
static guint
right_ends (const Data *data, ChartEnd *ends)
{
  guint n = 0;

  for (guint c = 0; c <= data->n_classes; c++)
    {
      const char *name = c == 0 ? data->name : data->classes[c - 1].name;
      int last = (int) data->n_rounds - 1;

      while (last >= 0 && !isfinite (c == 0 ? data->rounds[last].score : data->classes[c - 1].scores[last]))
        last--;
      if (last < 0 || name == NULL)
        continue;
      ends[n++] = (ChartEnd){ name,
                              NULL,
                              c == 0 ? "score" : "class",
                              c == 0 ? CHART_TONE_COPPER : CHART_TONE_INK,
                              c == 0 ? CHART_TEXT_STRONG : CHART_TEXT_LABEL,
                              c == 0 ? data->rounds[last].score : data->classes[c - 1].scores[last],
                              c };
    }
  return n;
}

static gboolean
has_scores (const Data *data)
{
  for (guint i = 0; i < data->n_rounds; i++)
    if (isfinite (data->rounds[i].score))
      return TRUE;
  for (gsize i = 0; i < (gsize) data->n_classes * data->n_rounds; i++)
    if (isfinite (data->scores[i]))
      return TRUE;
  return FALSE;
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  g_autofree ChartColumn *columns = g_new0 (ChartColumn, MAX (data->n_rounds, 1));
  g_autofree ChartEnd *ends = g_new (ChartEnd, data->n_classes + 1);
  g_auto(ChartFrame) frame = { 0 };
  ChartFrameAsk ask = { .title = data->title,
                        .columns = columns,
                        .n_columns = data->n_rounds,
                        .low = 0.0,
                        .high = SCORE_MOST,
                        .as_given = TRUE,
                        .flush = TRUE,
                        .ends = ends };

  ask.n_ends = right_ends (data, ends);
  if (data->n_rounds == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  for (guint i = 0; i < data->n_rounds; i++)
    columns[i] = (ChartColumn){
      data->rounds[i].name, data->rounds[i].count, data->rounds[i].short_count, data->rounds[i].current, 1.0
    };
  if (!chart_frame_lay (&frame, scene, &ask))
    return;

  chart_frame_behind (&frame, scene, has_scores (data));
  add_score (data, &frame, scene);
  for (guint i = 0; i < data->n_classes; i++)
    add_class (data, &frame, scene, i);
  add_points (data, &frame, scene);
  add_figures (data, &frame, scene);
  chart_frame_labels (&frame, scene);
  if (!has_scores (data))
    chart_scene_say (scene, data->empty);
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  g_free (data->rounds);
  g_free (data->classes);
  g_free (data->scores);
  g_free (data);
}

static const ChartKind kind = { "score", FALSE, lay, clear };

static double
within (double score)
{
  return isfinite (score) ? CLAMP (score, 0.0, SCORE_MOST) : NAN;
}

/**
 * chart_score_new:
 * @data: what to draw; everything is copied; scores beyond 0 to 100 are held at the ends
 *
 * The readiness score through the rounds.
 *
 * Returns: (transfer full): the chart
 */
Chart *
chart_score_new (const ChartScore *data)
{
  Data *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (Data, 1);
  chart = chart_new (&kind, own, data->n_rounds);
  own->n_rounds = data->n_rounds;
  own->rounds = g_new0 (ChartScoreRound, MAX (data->n_rounds, 1));
  for (guint i = 0; i < data->n_rounds; i++)
    {
      own->rounds[i] = data->rounds[i];
      own->rounds[i].name = chart_keep (chart, data->rounds[i].name);
      own->rounds[i].count = chart_keep (chart, data->rounds[i].count);
      own->rounds[i].short_count = chart_keep (chart, data->rounds[i].short_count);
      own->rounds[i].score = within (data->rounds[i].score);
      chart_set_mark (chart, i, i, data->rounds[i].key, data->rounds[i].words);
    }
  chart_order_marks (chart, data->n_rounds);

  own->n_classes = data->n_classes;
  own->classes = g_new0 (ChartScoreClass, MAX (data->n_classes, 1));
  own->scores = g_new (double, MAX ((gsize) data->n_classes * data->n_rounds, 1));
  for (guint c = 0; c < data->n_classes; c++)
    {
      for (guint i = 0; i < data->n_rounds; i++)
        own->scores[(gsize) c * data->n_rounds + i] = within (data->classes[c].scores[i]);
      own->classes[c] = (ChartScoreClass){ chart_keep (chart, data->classes[c].name),
                                           own->scores + (gsize) c * data->n_rounds };
    }
  own->title = chart_keep (chart, data->title);
  own->empty = chart_keep (chart, data->empty);
  own->name = chart_keep (chart, data->name);
  return chart;
}
