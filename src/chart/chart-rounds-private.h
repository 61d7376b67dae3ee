/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the measured and the checked characteristic share: the copied rounds and readings, the shape of a
 * reading, and a round's estimate (mean or failed share) as a bar with the whiskers of its interval.
 */

#include "chart-characteristic.h"
#include "chart-frame-private.h"
#include "chart-private.h"
#include "chart-table.h"

G_BEGIN_DECLS

typedef struct
{
  ChartRound        *rounds;
  guint              n_rounds;
  double            *values;
  ChartReadingFlags *flags;
  guint             *counts;  /* readings of each round */
  gboolean           with_values; /* in the table */
} ChartRounds;

void       chart_rounds_copy     (ChartRounds         *own,
                                  Chart               *chart,
                                  const ChartRound    *rounds,
                                  guint                n_rounds,
                                  const ChartReading  *readings);
void       chart_rounds_table    (ChartRounds         *own,
                                  Chart               *chart,
                                  const ChartReadingHeads *heads,
                                  gboolean             with_values);
void       chart_rounds_clear    (ChartRounds         *own);
gboolean   chart_rounds_have_estimate (const ChartRounds *own);
ChartColumn *chart_rounds_columns (const ChartRounds  *own) G_GNUC_WARN_UNUSED_RESULT;
ChartShape chart_reading_shape   (ChartReadingFlags    flags,
                                  gboolean             checked);
double     chart_reading_alpha   (ChartReadingFlags    flags);
void       chart_rounds_estimate (const ChartRounds   *own,
                                  guint                round,
                                  const ChartFrame    *frame,
                                  ChartScene          *scene,
                                  double               left,
                                  double               right);

G_END_DECLS
