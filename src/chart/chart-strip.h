/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The round strip: the model's rounds as blocks in order, as wide as their days, each divided by where the
 * days went; issue marks above; name, units and verdict below. A round or a span of rounds is chosen on it.
 * The marks of this chart are its rounds. It has a height of its own (chart_strip_height()).
 */

#include "chart.h"

G_BEGIN_DECLS

typedef enum
{
  CHART_PHASE_DESIGN,
  CHART_PHASE_WAIT,
  CHART_PHASE_MAKE,
  CHART_PHASE_TEST,
  CHART_PHASE_DECIDE
} ChartPhase;
#define CHART_N_PHASES 5

/**
 * ChartStripRound:
 * @name: short label ('P3')
 * @units: (nullable): words beside it ('10 units')
 * @verdict: (nullable): words below it, in italics ('go on')
 * @days: (array fixed-size=5): days by #ChartPhase; negative and NAN count as 0; all 0: a blank block
 * @unfinished: the round is open: its block has no right end yet
 * @overlaps: it began before the round before it was decided: the two blocks are tied together
 * @found: issues found and nothing more: hollow marks
 * @not_again: issues not seen again: half-filled marks
 * @shown: issues whose fix is shown to work: filled marks
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 */
typedef struct
{
  const char *name;
  const char *units;
  const char *verdict;
  double      days[CHART_N_PHASES];
  gboolean    unfinished;
  gboolean    overlaps;
  guint       found;
  guint       not_again;
  guint       shown;
  gint64      key;
  const char *words;
} ChartStripRound;

/**
 * ChartStrip:
 * @empty: sentence drawn when there is no round
 * @rounds: (array length=n_rounds): in their order
 * @phase_names: (array fixed-size=5) (nullable): words of the legend by #ChartPhase
 * @show_issues: keep a line for issue marks, also when there are none
 */
typedef struct
{
  const char            *empty;
  const ChartStripRound *rounds;
  guint                  n_rounds;
  const char            *phase_names[CHART_N_PHASES];
  gboolean               show_issues;
} ChartStrip;

Chart   *chart_strip_new           (const ChartStrip *data) G_GNUC_WARN_UNUSED_RESULT;
void     chart_strip_set_selection (Chart            *chart,
                                    int               from,
                                    int               to);
void     chart_strip_set_legend    (Chart            *chart,
                                    gboolean          shown);
void     chart_strip_set_scroll    (Chart            *chart,
                                    double            offset);
double   chart_strip_get_scroll    (Chart            *chart);
double   chart_strip_scroll_most   (Chart            *chart);
gboolean chart_strip_reveal        (Chart            *chart,
                                    int               round);
double   chart_strip_height        (Chart            *chart,
                                    const ChartTheme *theme);

G_END_DECLS
