/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words around a plot. Where there is no room for all, names are thinned, counts stand only under a name,
 * and a label at the right that is moved aside keeps a thread to its line.
 */
#include "chart-frame-private.h"

#include "chart-labels.h"

#include <math.h>

typedef enum
{
  LABEL_NAME,
  LABEL_COUNT,
  LABEL_SHORT_COUNT
} LabelKind;

static void
label_scale (ChartFrame *frame, ChartScene *scene)
{
  double end = -INFINITY;

  if (frame->title_y >= 0.0)
    {
      PangoLayout *title = chart_scene_layout (scene, CHART_TEXT_TITLE, frame->ask->title);

      chart_text_cut (title, scene->width - 2.0 * frame->pad);
      chart_scene_text (scene, "title", CHART_TONE_INK, title, frame->pad, frame->title_y);
    }
  if (frame->scale_y >= 0.0)
    {
      PangoLayout *words = chart_scene_layout (scene, CHART_TEXT_LABEL, frame->ask->scale_words);
      double width, x;

      /* Right-aligned with the labels of the scale while it is short, from the edge when it is long. */
      chart_text_cut (words, scene->width - 2.0 * frame->pad);
      chart_text_size (words, &width, NULL);
      x = MAX (frame->x - CHART_TICK_GAP - width, frame->pad);
      chart_scene_text (scene, "scale", CHART_TONE_FAINT, words, x, frame->scale_y);
    }
  for (guint i = frame->ticks.n; i-- > 0;)
    {
      g_autofree char *text = chart_frame_tick_text (frame, i);
      PangoLayout *layout = chart_scene_layout (scene, CHART_TEXT_LABEL, text);
      double width, height, y;

      chart_text_size (layout, &width, &height);
      y = chart_frame_y (frame, chart_ticks_value (&frame->ticks, i)) - height / 2.0;
      if (y < end)
        {
          g_object_unref (layout);
          continue;
        }
      chart_scene_text (scene, "tick", CHART_TONE_FAINT, layout, frame->x - CHART_TICK_GAP - width, y);
      end = y + height;
    }
}

/* How far the labels below the plot may reach. */
static double
row_end (const ChartFrame *frame, const ChartScene *scene)
{
  return frame->flush ? scene->width - 4.0 : frame->x + frame->w + 4.0;
}

/* Measures the names (or counts) of the columns in @which, each below its column's middle. */
static GPtrArray *
measure_row (ChartFrame *frame,
             ChartScene *scene,
             const guint *which,
             guint n,
             LabelKind labels_kind,
             ChartLabel *labels)
{
  GPtrArray *layouts = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < n; i++)
    {
      const ChartColumn *column = &frame->ask->columns[which[i]];
      const ChartSlot *slot = &frame->slots[which[i]];
      const char *text = labels_kind == LABEL_NAME    ? column->name
                         : labels_kind == LABEL_COUNT ? column->count
                                                      : column->short_count;
      PangoLayout *layout
          = chart_scene_layout (scene, labels_kind == LABEL_NAME ? CHART_TEXT_ROUND : CHART_TEXT_LABEL, text);

      chart_text_cut (layout, MAX (slot->slot_right - slot->slot_left - 6.0, MIN (96.0, frame->w)));
      chart_text_size (layout, &labels[i].size, NULL);
      labels[i].wanted = (slot->slot_left + slot->slot_right) / 2.0;
      g_ptr_array_add (layouts, layout);
    }
  return layouts;
}

/* One row of labels below the plot, thinned until they stand apart; *@which and *@n become those that were
 * placed. */
static void
label_row (ChartFrame *frame, ChartScene *scene, LabelKind labels_kind, guint *which, guint *n, double y)
{
  g_autofree ChartLabel *labels = g_new0 (ChartLabel, MAX (*n, 1));
  g_autoptr(GPtrArray) layouts = measure_row (frame, scene, which, *n, labels_kind, labels);
  guint placed = 0;
  int current = -1;

  for (guint i = 0; i < *n; i++)
    if (frame->ask->columns[which[i]].current)
      current = (int) i;
  chart_labels_thin (labels, *n, frame->x - 4.0, row_end (frame, scene), 6.0, current);

  for (guint i = 0; i < *n; i++)
    {
      ChartTone tone = labels_kind != LABEL_NAME ? CHART_TONE_FAINT
                       : (int) i == current      ? CHART_TONE_COPPER
                                                 : CHART_TONE_INK;

      if (!labels[i].placed || labels[i].size <= 0.0)
        continue;
      chart_scene_text (scene,
                        labels_kind == LABEL_NAME ? "round" : "count",
                        tone,
                        g_object_ref (layouts->pdata[i]),
                        labels[i].at - labels[i].size / 2.0,
                        y);
      which[placed++] = which[i];
    }
  *n = placed;
}

/* Whether all counts of the columns in @which can stand in their places. */
static gboolean
counts_fit (ChartFrame *frame, ChartScene *scene, const guint *which, guint n)
{
  g_autofree ChartLabel *labels = g_new0 (ChartLabel, MAX (n, 1));
  g_autoptr(GPtrArray) layouts = measure_row (frame, scene, which, n, LABEL_COUNT, labels);

  chart_labels_thin (labels, n, frame->x - 4.0, row_end (frame, scene), 6.0, -1);
  for (guint i = 0; i < n; i++)
    if (!labels[i].placed || pango_layout_is_ellipsized (layouts->pdata[i]))
      return FALSE;
  return TRUE;
}

/* Names in one row and counts below, counts only where there is a name. */
static void
label_below (ChartFrame *frame, ChartScene *scene, double y)
{
  guint n = frame->n_slots;
  g_autofree guint *which = g_new (guint, MAX (n, 1));
  gboolean have_short = FALSE;

  for (guint i = 0; i < n; i++)
    {
      which[i] = i;
      have_short = have_short || frame->ask->columns[i].short_count != NULL;
    }
  label_row (frame, scene, LABEL_NAME, which, &n, y);
  label_row (frame,
             scene,
             have_short && !counts_fit (frame, scene, which, n) ? LABEL_SHORT_COUNT : LABEL_COUNT,
             which,
             &n,
             y + frame->name_line);
}

static void
label_beside (ChartFrame *frame, ChartScene *scene, double y)
{
  for (guint i = 0; i < frame->n_slots; i++)
    {
      const ChartColumn *column = &frame->ask->columns[i];
      PangoLayout *name = chart_scene_layout (scene, CHART_TEXT_ROUND, column->name);
      PangoLayout *count = chart_scene_layout (scene, CHART_TEXT_LABEL, column->count);
      double name_width, count_width, x;

      chart_text_size (name, &name_width, NULL);
      chart_text_size (count, &count_width, NULL);
      x = (frame->slots[i].slot_left + frame->slots[i].slot_right - name_width - 6.0 - count_width) / 2.0;
      chart_scene_text (scene, "round", column->current ? CHART_TONE_COPPER : CHART_TONE_INK, name, x, y);
      if (count_width > 0.0)
        chart_scene_text (scene,
                          "count",
                          CHART_TONE_FAINT,
                          count,
                          x + name_width + 6.0,
                          y + chart_text_baseline (name) - chart_text_baseline (count));
      else
        g_object_unref (count);
    }
}

static void
label_ends (ChartFrame *frame, ChartScene *scene)
{
  guint n = frame->ask->n_ends;
  g_autofree ChartLabel *labels = g_new0 (ChartLabel, MAX (n, 1));
  g_autoptr(GPtrArray) layouts = g_ptr_array_new ();
  double x = frame->x + frame->w;

  for (guint i = 0; i < n; i++)
    {
      const ChartEnd *end = &frame->ask->ends[i];
      const char *words = frame->short_ends && end->short_words != NULL ? end->short_words : end->words;
      PangoLayout *layout = chart_scene_layout (scene, end->style, words);

      chart_text_cut (layout, frame->end_room + 0.5);
      chart_text_size (layout, NULL, &labels[i].size);
      labels[i].wanted = chart_frame_y (frame, end->value);
      labels[i].rank = end->rank;
      g_ptr_array_add (layouts, layout);
    }

  /* Below a flush plot the last column's name reaches under these labels. */
  chart_labels_spread (labels,
                       n,
                       frame->y - frame->line / 2.0,
                       frame->y + frame->h + (frame->flush ? 3.0 : frame->line / 2.0),
                       0.0);
  for (guint i = 0; i < n; i++)
    {
      const ChartEnd *end = &frame->ask->ends[i];

      if (!labels[i].placed)
        {
          g_object_unref (layouts->pdata[i]);
          continue;
        }
      if (fabs (labels[i].at - labels[i].wanted) > 2.0) /* moved aside: a thread back to its line */
        chart_scene_line (
            scene, "thread", end->tone, 1.0, x + 1.0, labels[i].wanted, x + CHART_END_GAP - 2.0, labels[i].at)
            ->alpha
            = 0.6;
      chart_scene_text (scene,
                        end->role,
                        end->tone,
                        layouts->pdata[i],
                        x + CHART_END_GAP,
                        labels[i].at - labels[i].size / 2.0);
    }
}

/* Adds all the words around the plot. */
void
chart_frame_labels (ChartFrame *frame, ChartScene *scene)
{
  double y = frame->y + frame->h + 4.0;

  label_scale (frame, scene);
  if (frame->two_lines)
    label_below (frame, scene, y);
  else
    label_beside (frame, scene, y);
  label_ends (frame, scene);
}
