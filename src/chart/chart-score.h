/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The readiness score through the rounds, 0 to 100: the score as one strong line, each class as a thin one.
 * The marks of this chart are its rounds.
 */

#include "chart.h"

G_BEGIN_DECLS

/**
 * ChartScoreRound:
 * @name: short label ('P3')
 * @count: (nullable): words below it ('31 of 34 met')
 * @score: 0 to 100, rounded by the caller; NAN when nothing was asked
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 * @current: the round looked at
 * @short_count: (nullable): what stands for @count when not all of these have room ('31/34')
 */
typedef struct
{
  const char *name;
  const char *count;
  double      score;
  gint64      key;
  const char *words;
  gboolean    current;
  const char *short_count;
} ChartScoreRound;

/**
 * ChartScoreClass:
 * @name: of the class ('safety'), its label at the line's end
 * @scores: (array length=n_rounds): 0 to 100; NAN where the class has no criterion
 */
typedef struct
{
  const char   *name;
  const double *scores;
} ChartScoreClass;

/**
 * ChartScore:
 * @title: (nullable): heading drawn above, in serif
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @name: (nullable): label of the score's line ('score')
 * @rounds: (array length=n_rounds): in their order
 * @classes: (array length=n_classes): drawn with different dashes in this order
 */
typedef struct
{
  const char            *title;
  const char            *empty;
  const char            *name;
  const ChartScoreRound *rounds;
  guint                  n_rounds;
  const ChartScoreClass *classes;
  guint                  n_classes;
} ChartScore;

Chart *chart_score_new (const ChartScore *data) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
