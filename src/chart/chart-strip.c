/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The round strip. Method: each block asks for the width of its words and shares the rest by days. When the
 * words ask for too much they are given up in steps (units beside the name, the verdict, long names); when
 * even short names do not fit, the strip shows a part of itself and scrolls.
 */
#include "chart-strip-private.h"

#include <math.h>

#define PAD            4.0
#define BLOCK          30.0
#define BLOCK_LEAST    12.0
#define GAP            10.0
#define GAP_CLOSE      5.0
#define LEAST          20.0
#define LEAST_SCROLLED 40.0
#define MOST_A_DAY     12.0
#define ARROW          12.0 /* room at each side for 'there is more' */
#define ISSUE_STEP     11.0
#define ISSUE_RADIUS   4.0
#define ISSUE_ROW      15.0
#define BAR_GAP        3.0
#define BAR            3.0
#define SWATCH         16.0
#define VERDICT_CUT    90.0 /* in less room a cut verdict says nothing */

static const ChartHatch hatches[CHART_N_PHASES]
    = { CHART_HATCH_LINES, CHART_HATCH_DOTS, CHART_HATCH_DARK, CHART_HATCH_GREY, CHART_HATCH_BLANK };

static void
measure (const ChartStripData *data, ChartScene *scene, StripWords *words)
{
  for (guint i = 0; i < data->n_rounds; i++)
    {
      words[i].name = chart_scene_text_width (scene, CHART_TEXT_ROUND, data->rounds[i].name);
      words[i].units = chart_scene_text_width (scene, CHART_TEXT_LABEL, data->rounds[i].units);
      words[i].verdict = chart_scene_text_width (scene, CHART_TEXT_SLANTED, data->rounds[i].verdict);
      words[i].issues
          = (data->rounds[i].found + data->rounds[i].not_again + data->rounds[i].shown) * ISSUE_STEP;
    }
}

/* How wide a round's block should at least be when words are given up in @stage steps. */
static double
least_width (const StripWords *words, guint stage)
{
  double beside = words->name + (words->units > 0.0 ? 7.0 + words->units : 0.0);

  switch (stage)
    {
    case 0:
      return MAX (MAX (beside, words->verdict), MAX (MIN (words->issues, 120.0), LEAST));
    case 1:
      return MAX (MAX (beside, words->verdict), LEAST);
    case 2:
      return MAX (MAX (words->name, words->verdict), LEAST);
    case 3:
      return MAX (words->name, LEAST);
    default:
      return MAX (MIN (words->name, 34.0), LEAST);
    }
}
#define STAGES 5

static double
days_of (const ChartStripRound *round)
{
  double days = 0.0;

  for (guint p = 0; p < CHART_N_PHASES; p++)
    days += isfinite (round->days[p]) ? MAX (round->days[p], 0.0) : 0.0;
  return MIN (days, 1e6);
}

/* The blocks' places before scrolling; sets how much there is to scroll. */
static void
lay_blocks (ChartStripData *data, ChartScene *scene, const StripWords *words, StripBlock *blocks)
{
  guint n = data->n_rounds;
  g_autofree double *days = g_new (double, n);
  g_autofree double *least = g_new (double, n);
  g_autofree double *widths = g_new (double, n);
  double room = scene->width - 2.0 * PAD, gap = GAP, sum = 0.0, x = PAD;
  guint stage;

  for (guint i = 0; i < n; i++)
    days[i] = days_of (&data->rounds[i]);
  for (stage = 0; stage < STAGES; stage++)
    {
      gap = stage < 2 ? GAP : GAP_CLOSE;
      sum = gap * (n - 1);
      for (guint i = 0; i < n; i++)
        sum += least[i] = least_width (&words[i], stage);
      if (sum <= room)
        break;
    }

  data->scrolled = stage == STAGES;
  if (data->scrolled)
    {
      x += ARROW;
      room -= 2.0 * ARROW;
      sum = gap * (n - 1);
      for (guint i = 0; i < n; i++)
        sum += widths[i] = MIN (MAX (least_width (&words[i], 2), LEAST_SCROLLED), room);
    }
  else
    {
      chart_share_out (days, least, n, room - gap * (n - 1), MOST_A_DAY, widths);
    }

  data->view_left = x;
  data->view_right = x + room;
  data->scroll_most = data->scrolled ? MAX (sum - room, 0.0) : 0.0;
  if (data->reveal >= 0)
    chart_strip_follow (data, widths, gap);
  data->scroll = isnan (data->scroll) ? data->scroll_most : CLAMP (data->scroll, 0.0, data->scroll_most);
  x -= floor (data->scroll);
  for (guint i = 0; i < n; i++)
    {
      double end = x + widths[i];

      blocks[i] = (StripBlock){ floor (x), floor (end) - floor (x) };
      x = end + gap;
    }
}

/* Which rows have room, from the most to the least wanted. */
static StripRows
lay_rows (const ChartStripData *data, ChartScene *scene)
{
  double line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  double name = ceil (chart_scene_lines (scene, CHART_TEXT_ROUND));
  double room = scene->height - 2.0 * PAD;
  double used = BLOCK + BAR_GAP + BAR + 1.0 + name;
  StripRows rows = { .line = line, .name_line = name };
  double y = PAD;

  rows.verdicts = used + line <= room;
  used += rows.verdicts ? line : 0.0;
  rows.issues = data->show_issues && used + ISSUE_ROW <= room;
  used += rows.issues ? ISSUE_ROW : 0.0;
  rows.legend = data->legend && used + line + 4.0 <= room;

  y += rows.issues ? ISSUE_ROW : 0.0;
  rows.issues_y = PAD + ISSUE_ROW / 2.0 - 2.0;
  rows.block_y = floor (y);
  rows.block_h = floor (CLAMP (room - (used - BLOCK), BLOCK_LEAST, BLOCK));
  rows.bar_y = rows.block_y + rows.block_h + BAR_GAP;
  rows.names = rows.bar_y + BAR + 1.0 + name <= scene->height;
  rows.name_y = rows.bar_y + BAR + 1.0;
  rows.verdict_y = rows.name_y + name;
  rows.legend_y = rows.name_y + name + (rows.verdicts ? line : 0.0) + 3.0;
  rows.end_y = rows.verdicts ? rows.verdict_y + line : rows.names ? rows.name_y + name : rows.bar_y + BAR;
  return rows;
}

/* The part of a block that is in view; FALSE when none is. */
static gboolean
in_view (const ChartStripData *data, const StripBlock *block, double *left, double *right)
{
  *left = MAX (block->x, floor (data->view_left));
  *right = MIN (block->x + block->w, floor (data->view_right));
  return *right - *left >= 1.0;
}

/* The block's outline where it is in view; the right end of an open round is dotted. */
static void
add_edges (ChartScene *scene,
           const ChartStripRound *round,
           const StripBlock *block,
           double left,
           double right,
           const StripRows *rows)
{
  chart_scene_line (
      scene, "frame", CHART_TONE_INK, 1.0, left, rows->block_y + 0.5, right, rows->block_y + 0.5);
  chart_scene_line (scene,
                    "frame",
                    CHART_TONE_INK,
                    1.0,
                    left,
                    rows->block_y + rows->block_h - 0.5,
                    right,
                    rows->block_y + rows->block_h - 0.5);
  if (left == block->x)
    chart_scene_line (scene,
                      "frame",
                      CHART_TONE_INK,
                      1.0,
                      left + 0.5,
                      rows->block_y,
                      left + 0.5,
                      rows->block_y + rows->block_h);
  if (right == block->x + block->w)
    chart_scene_line (scene,
                      round->unfinished ? "open-end" : "frame",
                      CHART_TONE_INK,
                      1.0,
                      right - 0.5,
                      rows->block_y,
                      right - 0.5,
                      rows->block_y + rows->block_h)
        ->dash
        = round->unfinished ? CHART_DASH_DOTS : CHART_DASH_NONE;
}

static void
add_block (const ChartStripData *data,
           ChartScene *scene,
           guint number,
           const StripBlock *block,
           const StripRows *rows)
{
  const ChartStripRound *round = &data->rounds[number];
  double total = days_of (round), sum = 0.0, left, right;

  if (!in_view (data, block, &left, &right))
    return;

  chart_scene_hatch (scene, "block", CHART_HATCH_BLANK, left, rows->block_y, right - left, rows->block_h);
  for (guint p = 0; p < CHART_N_PHASES && total > 0.0; p++)
    {
      double from = block->x + floor (block->w * MIN (sum / total, 1.0));
      double to;

      sum += isfinite (round->days[p]) ? MAX (round->days[p], 0.0) : 0.0;
      to = block->x + floor (block->w * MIN (sum / total, 1.0));
      from = MAX (from, left);
      to = MIN (to, right);
      if (to - from < 1.0)
        continue;
      chart_scene_hatch (
          scene, data->phase_roles[p], hatches[p], from, rows->block_y, to - from, rows->block_h);
      if (from > left && hatches[p] != CHART_HATCH_DARK)
        chart_scene_line (scene,
                          "border",
                          CHART_TONE_INK,
                          1.0,
                          from + 0.5,
                          rows->block_y,
                          from + 0.5,
                          rows->block_y + rows->block_h)
            ->alpha
            = 0.55;
    }

  add_edges (scene, round, block, left, right, rows);
}

/* Blocks stand in a row; two rounds that ran at the same time are tied together, so that nobody takes one for the end of
 * the other. */
static void
add_tie (const ChartStripData *data, ChartScene *scene, const StripBlock *before, const StripBlock *block, const StripRows *rows)
{
  double left = before->x + before->w, right = block->x;

  if (left < floor (data->view_left) || right > data->view_right || right - left < 2.0)
    return;
  for (int i = 1; i <= 2; i++)
    {
      double y = rows->block_y + floor (rows->block_h * i / 3.0) + 0.5;

      chart_scene_line (scene, "tie", CHART_TONE_INK, 1.0, left, y, right, y);
    }
}

/* Adds words that lie wholly in view; the layout is taken over. */
static void
add_words (const ChartStripData *data,
           ChartScene *scene,
           const char *role,
           ChartTone tone,
           PangoLayout *layout,
           double x,
           double y)
{
  double width;

  chart_text_size (layout, &width, NULL);
  if (width > 0.0 && x >= floor (data->view_left) && x + width <= data->view_right + 0.5)
    chart_scene_text (scene, role, tone, layout, x, y);
  else
    g_object_unref (layout);
}

static void
add_names (const ChartStripData *data,
           ChartScene *scene,
           guint number,
           const StripBlock *block,
           const StripWords *words,
           const StripRows *rows)
{
  const ChartStripRound *round = &data->rounds[number];
  gboolean chosen = (int) number == data->from || (int) number == data->to;
  double room = MAX (block->w, 1.0);
  PangoLayout *name = chart_scene_layout (scene, CHART_TEXT_ROUND, round->name);

  if (words->units > 0.0 && words->name + 7.0 + words->units <= room)
    {
      PangoLayout *units = chart_scene_layout (scene, CHART_TEXT_LABEL, round->units);

      add_words (data,
                 scene,
                 "units",
                 CHART_TONE_FAINT,
                 units,
                 block->x + words->name + 7.0,
                 rows->name_y + chart_text_baseline (name) - chart_text_baseline (units));
    }
  chart_text_cut (name, room);
  add_words (data, scene, "round", chosen ? CHART_TONE_COPPER : CHART_TONE_INK, name, block->x, rows->name_y);

  if (rows->verdicts && words->verdict > 0.0 && (words->verdict <= room || room >= VERDICT_CUT))
    {
      PangoLayout *verdict = chart_scene_layout (scene, CHART_TEXT_SLANTED, round->verdict);

      chart_text_cut (verdict, room);
      add_words (data, scene, "verdict", CHART_TONE_FAINT, verdict, block->x, rows->verdict_y);
    }
}

static void
add_selection (const ChartStripData *data, ChartScene *scene, const StripBlock *blocks, const StripRows *rows)
{
  StripBlock span;
  double left, right;

  if (data->from < 0)
    return;

  for (int i = data->from; i <= data->to; i += MAX (data->to - data->from, 1))
    if (in_view (data, &blocks[i], &left, &right))
      chart_scene_box (scene,
                       "chosen",
                       CHART_TONE_COPPER,
                       left - 1.0,
                       rows->block_y - 1.0,
                       right - left + 2.0,
                       rows->block_h + 2.0)
          ->width
          = 2.0;
  span = (StripBlock){ blocks[data->from].x, blocks[data->to].x + blocks[data->to].w - blocks[data->from].x };
  if (in_view (data, &span, &left, &right))
    chart_scene_box (scene, "span", CHART_TONE_COPPER, left - 1.0, rows->bar_y, right - left + 2.0, BAR);
}

static void
add_arrows (const ChartStripData *data, ChartScene *scene, const StripRows *rows)
{
  double y = rows->block_y + rows->block_h / 2.0;

  if (!data->scrolled)
    return;
  for (guint side = 0; side < 2; side++)
    {
      double x = side == 0 ? data->view_left - ARROW + 5.0 : data->view_right + ARROW - 5.0;
      double out = side == 0 ? -2.0 : 2.0;

      if (side == 0 ? data->scroll <= 0.0 : data->scroll >= data->scroll_most)
        continue;
      chart_scene_path (scene, "more", CHART_TONE_INK, 1.75);
      chart_scene_point (scene, x - out, y - 5.0);
      chart_scene_point (scene, x + out, y);
      chart_scene_point (scene, x - out, y + 5.0);
    }
}

static void
add_legend (const ChartStripData *data, ChartScene *scene, const StripRows *rows)
{
  PangoLayout *layouts[CHART_N_PHASES];
  double widths[CHART_N_PHASES], total = 0.0, x;
  double most = (scene->width - 2.0 * PAD) / CHART_N_PHASES - SWATCH - 5.0 - 8.0;

  for (guint p = 0; p < CHART_N_PHASES; p++)
    {
      layouts[p] = chart_scene_layout (scene, CHART_TEXT_LABEL, data->phase_names[p]);
      chart_text_size (layouts[p], &widths[p], NULL);
      total += SWATCH + 5.0 + widths[p] + (p > 0 ? 14.0 : 0.0);
    }
  x = MAX (scene->width - PAD - total, PAD);
  for (guint p = 0; p < CHART_N_PHASES; p++)
    {
      double height;

      if (total > scene->width - 2.0 * PAD)
        {
          chart_text_cut (layouts[p], MAX (most, 1.0));
          x = PAD + p * (most + SWATCH + 13.0);
        }
      chart_text_size (layouts[p], &widths[p], &height);
      x = floor (x);
      chart_scene_hatch (
          scene, "swatch", hatches[p], x, rows->legend_y + floor (height / 2.0) - 5.0, SWATCH, 10.0);
      chart_scene_box (
          scene, "swatch", CHART_TONE_INK, x, rows->legend_y + floor (height / 2.0) - 5.0, SWATCH, 10.0)
          ->width
          = 1.0;
      chart_scene_text (scene, "legend", CHART_TONE_FAINT, layouts[p], x + SWATCH + 5.0, rows->legend_y);
      x += SWATCH + 5.0 + widths[p] + 14.0;
    }
}

/* Marks of one kind with their number instead of one each. Returns where the next may begin. */
static double
add_issue_count (const ChartStripData *data,
                 ChartScene *scene,
                 ChartShape shape,
                 ChartTone tone,
                 guint count,
                 double x,
                 double most,
                 double y)
{
  g_autofree char *text = NULL;
  PangoLayout *layout;
  double width, height;

  if (count == 0)
    return x;
  text = g_strdup_printf ("%u", count);
  layout = chart_scene_layout (scene, CHART_TEXT_LABEL, text);
  chart_text_size (layout, &width, &height);
  if (x + ISSUE_STEP + width > most)
    {
      g_object_unref (layout);
      return x;
    }
  if (x >= data->view_left - 0.5 && x + ISSUE_STEP + width <= data->view_right)
    {
      chart_scene_mark (scene, "issue", shape, tone, x + ISSUE_RADIUS + 0.5, y, ISSUE_RADIUS);
      chart_scene_text (scene,
                        "issues",
                        tone == CHART_TONE_COPPER ? tone : CHART_TONE_FAINT,
                        layout,
                        x + ISSUE_STEP,
                        y - height / 2.0);
    }
  else
    {
      g_object_unref (layout);
    }
  return x + ISSUE_STEP + width + 6.0;
}

static void
add_issues (const ChartStripData *data, ChartScene *scene, guint number, const StripBlock *block, double y)
{
  const ChartStripRound *round = &data->rounds[number];
  const ChartShape shapes[] = { CHART_SHAPE_DIAMOND_OPEN, CHART_SHAPE_DIAMOND_HALF, CHART_SHAPE_DIAMOND };
  const guint counts[] = { round->found, round->not_again, round->shown };
  double x = block->x, most = block->x + block->w + 2.0;
  guint64 all = (guint64) round->found + round->not_again + round->shown;

  for (guint k = 0; k < G_N_ELEMENTS (shapes); k++)
    {
      ChartTone tone
          = k == 0 ? CHART_TONE_COPPER : CHART_TONE_INK; /* found and nothing more: someone is needed */

      if (all * ISSUE_STEP > block->w + 2.0)
        {
          x = add_issue_count (data, scene, shapes[k], tone, counts[k], x, most, y);
          continue;
        }
      for (guint i = 0; i < counts[k]; i++, x += ISSUE_STEP)
        if (x >= data->view_left - 0.5 && x + ISSUE_STEP <= data->view_right + 2.0)
          chart_scene_mark (scene,
                            "issue",
                            shapes[k],
                            tone,
                            x + ISSUE_RADIUS + 0.5,
                            y,
                            shapes[k] == CHART_SHAPE_DIAMOND ? ISSUE_RADIUS + 0.5 : ISSUE_RADIUS);
    }
}

/* Lays out the strip; the scene's spots are the blocks with their words. */
void
chart_strip_lay (Chart *chart, ChartScene *scene)
{
  ChartStripData *data = chart->data;
  g_autofree StripWords *words = g_new0 (StripWords, MAX (data->n_rounds, 1));
  g_autofree StripBlock *blocks = g_new0 (StripBlock, MAX (data->n_rounds, 1));
  StripRows rows;

  scene->blocks = TRUE;
  if (data->n_rounds == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }

  measure (data, scene, words);
  lay_blocks (data, scene, words, blocks);
  rows = lay_rows (data, scene);
  for (guint i = 0; i < data->n_rounds; i++)
    {
      double middle = (rows.end_y + (rows.issues ? PAD : rows.block_y)) / 2.0;

      chart_scene_spot (
          scene, i, blocks[i].x + blocks[i].w / 2.0, middle, blocks[i].w / 2.0, rows.end_y - middle);
      add_block (data, scene, i, &blocks[i], &rows);
      if (i > 0 && data->rounds[i].overlaps)
        add_tie (data, scene, &blocks[i - 1], &blocks[i], &rows);
      if (rows.names)
        add_names (data, scene, i, &blocks[i], &words[i], &rows);
      if (rows.issues)
        add_issues (data, scene, i, &blocks[i], rows.issues_y);
    }
  add_selection (data, scene, blocks, &rows);
  add_arrows (data, scene, &rows);
  if (rows.legend)
    add_legend (data, scene, &rows);
}

/**
 * chart_strip_height:
 * @chart: a strip
 * @theme: fonts
 *
 * Returns: the height in which all of the strip (with its legend, when shown) has room
 */
double
chart_strip_height (Chart *chart, const ChartTheme *theme)
{
  ChartStripData *data = chart_strip_data (chart);
  ChartScene *scene;
  double height;

  g_return_val_if_fail (data != NULL && theme != NULL, 0.0);

  scene = chart_scene_new (1.0, 1.0, theme, 0);
  height = 2.0 * PAD + (data->show_issues ? ISSUE_ROW : 0.0) + BLOCK + BAR_GAP + BAR + 1.0;
  height += ceil (chart_scene_lines (scene, CHART_TEXT_ROUND))
            + ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  height += data->legend ? ceil (chart_scene_lines (scene, CHART_TEXT_LABEL)) + 4.0 : 0.0;
  chart_scene_free (scene);
  return height;
}
