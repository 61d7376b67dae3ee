/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-frame-private.h"

#include <math.h>

#define PAD        10.0 /* between the edge and what is drawn */
#define PAD_NARROW 7.0  /* the same below NARROW */
#define NARROW     420.0
#define END_SHARE  0.26 /* most of the width that labels at the right may take */
#define LEAST_PLOT 24.0
#define TICKS_MOST 9
#define FLUSH      8.0 /* between the last point of a flush plot and its end */

/**
 * chart_share_out:
 * @weights: (array length=n): not negative
 * @least: (array length=n): least width of each
 * @n: how many
 * @total: width there is
 * @most_per_weight: most width for a weight of 1
 * @widths: (array length=n) (out): the widths
 *
 * Shares a width by weight, but no one gets less than its least. When even these are too much, they are
 * shortened alike.
 */
void
chart_share_out (const double *weights,
                 const double *least,
                 guint n,
                 double total,
                 double most_per_weight,
                 double *widths)
{
  double per_weight = most_per_weight;
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += least[i];
  if (sum >= total)
    {
      for (guint i = 0; i < n; i++)
        widths[i] = sum > 0.0 ? least[i] * MAX (total, 0.0) / sum : 0.0;
      return;
    }

  /* Those whose least is more than their share are taken out until none is: each turn takes at least one. */
  for (guint turn = 0; turn <= n; turn++)
    {
      double fixed = 0.0, weight = 0.0, now;

      for (guint i = 0; i < n; i++)
        if (weights[i] * per_weight <= least[i])
          fixed += least[i];
        else
          weight += weights[i];
      if (weight <= 0.0)
        break;
      now = MIN ((total - fixed) / weight, per_weight);
      if (now >= per_weight)
        break;
      per_weight = now;
    }
  for (guint i = 0; i < n; i++)
    widths[i] = MAX (weights[i] * per_weight, least[i]);
}

/* The label of a tick. */
char *
chart_frame_tick_text (const ChartFrame *frame, guint i)
{
  int lost = (int) round (log10 (frame->tick_factor));

  return chart_number (chart_ticks_value (&frame->ticks, i) * frame->tick_factor,
                       MAX (frame->ticks.decimals - lost, 0));
}

static void
measure_ends (ChartFrame *frame, ChartScene *scene, const ChartFrameAsk *ask)
{
  double most[2] = { 0.0, 0.0 };

  for (guint i = 0; i < ask->n_ends; i++)
    for (guint shorter = 0; shorter < 2; shorter++)
      {
        const char *words
            = shorter && ask->ends[i].short_words != NULL ? ask->ends[i].short_words : ask->ends[i].words;
        g_autoptr(PangoLayout) layout = chart_scene_layout (scene, ask->ends[i].style, words);
        double width;

        chart_text_size (layout, &width, NULL);
        most[shorter] = MAX (most[shorter], ceil (width));
      }

  frame->short_ends = most[0] > END_SHARE * scene->width;
  frame->end_room = MIN (most[frame->short_ends ? 1 : 0], floor (END_SHARE * scene->width));
}

/* Whether name and count of every column have room side by side. */
static gboolean
one_line_fits (ChartFrame *frame, ChartScene *scene, const ChartFrameAsk *ask)
{
  for (guint i = 0; i < ask->n_columns; i++)
    {
      g_autoptr(PangoLayout) name = chart_scene_layout (scene, CHART_TEXT_ROUND, ask->columns[i].name);
      g_autoptr(PangoLayout) count = chart_scene_layout (scene, CHART_TEXT_LABEL, ask->columns[i].count);
      double name_width, count_width;

      chart_text_size (name, &name_width, NULL);
      chart_text_size (count, &count_width, NULL);
      if (name_width + 6.0 + count_width + 18.0 > frame->slots[i].slot_right - frame->slots[i].slot_left)
        return FALSE;
      if ((frame->slots[i].slot_left + frame->slots[i].slot_right + name_width + 6.0 + count_width) / 2.0
          > scene->width - 4.0)
        return FALSE;
    }
  return TRUE;
}

/* Widens the columns until the last one's middle stands near the end of the plot. */
static void
stretch_flush (const double *weights, const double *least, guint n, double room, double *widths)
{
  double total = room;

  for (guint turn = 0; turn < 30; turn++)
    {
      double middle = -widths[n - 1] / 2.0;

      for (guint i = 0; i < n; i++)
        middle += widths[i];
      if (fabs (room - FLUSH - middle) < 0.25)
        break;
      total += room - FLUSH - middle;
      chart_share_out (weights, least, n, total, G_MAXDOUBLE / 1e6, widths);
    }
}

static void
lay_slots (ChartFrame *frame, ChartScene *scene, const ChartFrameAsk *ask)
{
  guint n = ask->n_columns;
  g_autofree double *weights = g_new (double, MAX (n, 1));
  g_autofree double *least = g_new (double, MAX (n, 1));
  g_autofree double *widths = g_new (double, MAX (n, 1));
  double x = frame->x, sum = 0.0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr(PangoLayout) name = chart_scene_layout (scene, CHART_TEXT_ROUND, ask->columns[i].name);
      g_autoptr(PangoLayout) count = chart_scene_layout (scene, CHART_TEXT_LABEL, ask->columns[i].count);
      double name_width, count_width;

      chart_text_size (name, &name_width, NULL);
      chart_text_size (count, &count_width, NULL);
      weights[i] = ask->columns[i].weight;
      least[i] = MIN (MAX (name_width, count_width) + 8.0, 160.0);
      sum += least[i];
    }
  if (sum > frame->w) /* not all have room for their labels: share by weight alone, and thin the labels */
    for (guint i = 0; i < n; i++)
      least[i] = 0.0;
  frame->flush = ask->flush && n > 1 && ask->n_ends > 0;
  chart_share_out (weights, least, n, frame->w, G_MAXDOUBLE / 1e6, widths);
  if (frame->flush)
    stretch_flush (weights, least, n, frame->w, widths);

  g_free (frame->slots);
  frame->slots = g_new (ChartSlot, MAX (n, 1));
  frame->n_slots = n;
  for (guint i = 0; i < n; i++)
    {
      double gap = MIN (widths[i] * 0.16, 16.0);

      frame->slots[i].slot_left = x;
      frame->slots[i].left = x + gap;
      x += widths[i];
      frame->slots[i].slot_right = x;
      frame->slots[i].right = x - gap;
    }
}

/* The scale's ends and ticks for the plot's height; returns the width of its labels. */
static double
lay_scale (ChartFrame *frame, ChartScene *scene, const ChartFrameAsk *ask)
{
  double low = ask->low, high = ask->high, most = 0.0;
  guint room = (guint) CLAMP (floor (frame->h / MAX (2.1 * frame->line, 30.0)) + 1.0, 2.0, TICKS_MOST);

  frame->ticks = ask->as_given ? chart_ticks (low, high, room) : chart_ticks_close (&low, &high, room);
  chart_scale_init (&frame->scale, low, high, frame->y + frame->h, frame->y);
  for (guint i = 0; i < frame->ticks.n; i++)
    {
      g_autofree char *text = chart_frame_tick_text (frame, i);
      g_autoptr(PangoLayout) layout = chart_scene_layout (scene, CHART_TEXT_LABEL, text);
      double width;

      chart_text_size (layout, &width, NULL);
      most = MAX (most, ceil (width));
    }
  return most;
}

/**
 * chart_frame_lay:
 * @frame: (out caller-allocates): the frame; clear it with chart_frame_clear() in any case
 * @scene: the scene it is for; nothing is added yet
 * @ask: what it must hold; it stays the caller's and must outlive @frame
 *
 * Lays the frame out and sets the plot of @scene.
 *
 * Returns: whether there is room for a plot
 */
gboolean
chart_frame_lay (ChartFrame *frame, ChartScene *scene, const ChartFrameAsk *ask)
{
  double pad = scene->width < NARROW ? PAD_NARROW : PAD;
  double top = pad, bottom, tick_width;

  *frame = (ChartFrame){ .ask = ask, .tick_factor = ask->tick_factor > 0.0 ? ask->tick_factor : 1.0 };
  frame->pad = pad;
  frame->line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  frame->name_line = ceil (chart_scene_lines (scene, CHART_TEXT_ROUND));
  frame->two_lines = TRUE;
  measure_ends (frame, scene, ask);

  frame->title_y = frame->scale_y = -1.0;
  if (ask->title != NULL && ask->title[0] != '\0')
    {
      frame->title_y = top;
      top += ceil (chart_scene_lines (scene, CHART_TEXT_TITLE)) + 2.0;
    }
  if (ask->scale_words != NULL && ask->scale_words[0] != '\0')
    {
      frame->scale_y = top;
      top += frame->line;
    }
  frame->y = chart_crisp (top + frame->line / 2.0 + 1.0); /* half a label stands above the highest tick */

  /* First with labels in two lines; if they fit in one, once more with the height that frees. */
  for (guint turn = 0; turn < 2; turn++)
    {
      gboolean stands;

      bottom = pad + frame->name_line + (frame->two_lines ? frame->line : 0.0) + 5.0;
      frame->h = floor (scene->height - bottom - frame->y);
      if (frame->h < LEAST_PLOT)
        return FALSE;
      tick_width = lay_scale (frame, scene, ask);
      frame->x = chart_crisp (pad + tick_width + CHART_TICK_GAP);
      frame->w = floor (scene->width - pad - frame->x
                        - (frame->end_room > 0.0 ? frame->end_room + CHART_END_GAP : 4.0));
      if (frame->w < LEAST_PLOT)
        return FALSE;
      lay_slots (frame, scene, ask);
      stands = frame->two_lines && one_line_fits (frame, scene, ask);
      if (!stands)
        break;
      frame->two_lines = FALSE;
    }

  scene->plot_x = frame->x;
  scene->plot_y = frame->y;
  scene->plot_w = frame->w;
  scene->plot_h = frame->h;
  scene->ticks = frame->ticks;
  return TRUE;
}

/* Cuts a lane of @height off the top of the plot (it begins at lane_y) and fits the scale to the rest;
 * refuses when too little would be left, or when the labels of the scale would need another width. */
gboolean
chart_frame_lane (ChartFrame *frame, ChartScene *scene, double height)
{
  ChartFrame before = *frame;
  double label_width;

  if (frame->h - height < 2.0 * LEAST_PLOT)
    return FALSE;

  frame->lane_y = frame->scale_y >= 0.0 ? frame->scale_y : frame->y - frame->line / 2.0;
  if (frame->scale_y >= 0.0)
    frame->scale_y += height;
  frame->y += height;
  frame->h -= height;
  label_width = lay_scale (frame, scene, frame->ask);
  if (label_width > frame->x - CHART_TICK_GAP)
    {
      *frame = before;
      lay_scale (frame, scene, frame->ask);
      return FALSE;
    }
  scene->plot_y = frame->y;
  scene->plot_h = frame->h;
  scene->ticks = frame->ticks;
  return TRUE;
}

void
chart_frame_clear (ChartFrame *frame)
{
  g_clear_pointer (&frame->slots, g_free);
}

/* The place of @value, on the dots so that hair lines are crisp. */
double
chart_frame_y (const ChartFrame *frame, double value)
{
  return chart_crisp (CLAMP (chart_scale_at (&frame->scale, value), frame->y, frame->y + frame->h));
}

/* The place of a time told in rounds: 2 is where the third round begins, 2.5 its middle. */
double
chart_frame_x (const ChartFrame *frame, double rounds)
{
  guint round;

  if (!(rounds > 0.0) || frame->n_slots == 0)
    return frame->x;
  if (rounds >= frame->n_slots)
    return frame->x + frame->w;
  round = (guint) rounds;
  return chart_crisp (frame->slots[round].slot_left
                      + (rounds - round) * (frame->slots[round].slot_right - frame->slots[round].slot_left));
}

/* Adds the lines that go behind the marks; without @grid only the ground, so that words can stand there. */
void
chart_frame_behind (ChartFrame *frame, ChartScene *scene, gboolean grid)
{
  for (guint i = 0; grid && i < frame->ticks.n; i++)
    {
      double y = chart_frame_y (frame, chart_ticks_value (&frame->ticks, i));

      chart_scene_line (scene, "grid", CHART_TONE_RULE, 1.0, frame->x, y, frame->x + frame->w, y)->alpha
          = 0.75;
    }
  chart_scene_line (scene,
                    "ground",
                    CHART_TONE_FAINT,
                    1.0,
                    frame->x,
                    chart_crisp (frame->y + frame->h),
                    frame->x + frame->w,
                    chart_crisp (frame->y + frame->h));
}
