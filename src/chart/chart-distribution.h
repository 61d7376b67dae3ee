/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How the values of each round lie: a dot a unit where they are few, a silhouette with a box where they are many, limits
 * through all rounds. Quartiles come from the caller, nothing is computed here; so do all words.
 */

#include "chart-characteristic.h"

G_BEGIN_DECLS

#define CHART_DISTRIBUTION_DOTS 30 /* more readings of a round than these are drawn as a silhouette */

/* The box of a round: a line from @least to @most, a box from @q1 to @q3, a bar at @median. NAN: none. */
typedef struct
{
  double least;
  double q1;
  double median;
  double q3;
  double most;
} ChartBox;

/**
 * ChartDistribution:
 * @title: (nullable): heading drawn above, in serif
 * @unit: (nullable): drawn small above the scale
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @lower: limit; NAN or infinite for none
 * @upper: likewise
 * @lower_words: (nullable): its label
 * @upper_words: (nullable): likewise
 * @decimals: of limits that the chart writes itself; -1: as many as they need
 * @rounds: (array length=n_rounds): in their order; means and intervals are not drawn
 * @boxes: (array length=n_rounds): of each round
 * @readings: (array length=n_readings): in order of build
 * @heads: of the table
 */
typedef struct
{
  const char         *title;
  const char         *unit;
  const char         *empty;
  double              lower;
  double              upper;
  const char         *lower_words;
  const char         *upper_words;
  int                 decimals;
  const ChartRound   *rounds;
  const ChartBox     *boxes;
  guint               n_rounds;
  const ChartReading *readings;
  guint               n_readings;
  ChartReadingHeads   heads;
} ChartDistribution;

Chart *chart_distribution_new (const ChartDistribution *data) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
