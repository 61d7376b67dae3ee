/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "insight-capability.h"

#include "insight-individuals.h"
#include "insight-values-private.h"
#include "num-capability.h"
#include "num-describe.h"
#include "num-proportion.h"

#include <math.h>

static const char *const names[]
    = { "given", "checked", "no-limits", "shape", "left-out", "too-few", "same" };
G_STATIC_ASSERT (G_N_ELEMENTS (names) == INSIGHT_N_CAPABILITIES);

/* An untranslated word, such as `too-few`. */
const char *
insight_capability_name (InsightCapabilityState state)
{
  g_return_val_if_fail ((guint) state < INSIGHT_N_CAPABILITIES, "");

  return names[state];
}

/* What stands in the way before anything is computed. */
static InsightCapabilityState
find_obstacle (const InsightSeries *series, const InsightValues *values)
{
  const InsightSeriesLimit *limit = series->now >= 0 ? &series->limits[series->now] : NULL;

  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    return INSIGHT_CAPABILITY_CHECKED;
  if (limit == NULL || (!isfinite (limit->lower) && !isfinite (limit->upper)))
    return INSIGHT_CAPABILITY_NO_LIMITS;
  if (series->shape != BOOK_SHAPE_NORMAL)
    return INSIGHT_CAPABILITY_SHAPE;
  if (values->left_out > 0)
    return INSIGHT_CAPABILITY_LEFT_OUT;
  return values->n < INSIGHT_CAPABILITY_LEAST ? INSIGHT_CAPABILITY_TOO_FEW : INSIGHT_CAPABILITY_GIVEN;
}

/**
 * insight_capability:
 * @series: one characteristic
 *
 * By num_capability() of the units that count, in order of build, against the limits in force (not pulled in).
 *
 * Returns: the indices, or why there are none
 */
InsightCapability
insight_capability (const InsightSeries *series)
{
  InsightCapability out = { .cp = NAN, .cpk = NAN, .pp = NAN, .pp_low = NAN, .pp_high = NAN, .ppk = NAN, .ppk_low = NAN,
                            .ppk_high = NAN, .sd_within = NAN, .sd_overall = NAN, .share_low = NAN, .share_high = NAN, .failed = series->failed,
                            .counted = series->n };
  g_auto(InsightValues) values = { 0 };
  g_autoptr(InsightIndividuals) individuals = NULL;
  NumCapability found;
  NumLimits limits;
  NumInterval share;

  if (series->n > 0
      && num_proportion_exact (series->failed, series->n, INSIGHT_CAPABILITY_CONFIDENCE, &share) == NUM_OK)
    {
      out.share_low = share.low;
      out.share_high = share.high;
    }
  insight_values_init (&values, series);
  out.n = values.n;
  out.state = find_obstacle (series, &values);
  if (out.state != INSIGHT_CAPABILITY_GIVEN)
    return out;
  limits = (NumLimits){ series->limits[series->now].lower, series->limits[series->now].upper };
  if (num_capability (values.values, values.n, limits, NAN, 0, INSIGHT_CAPABILITY_CONFIDENCE, &found) != NUM_OK)
    {
      out.state = INSIGHT_CAPABILITY_SAME;
      return out;
    }
  individuals = insight_individuals (series, INSIGHT_RULE_ONE);
  out.signals = individuals->n_signals;
  out.cp = found.cp;
  out.cpk = found.cpk;
  out.pp = found.pp;
  out.pp_low = found.pp_interval.low;
  out.pp_high = found.pp_interval.high;
  out.ppk = found.ppk;
  out.ppk_low = found.ppk_interval.low;
  out.ppk_high = found.ppk_interval.high;
  out.sd_within = found.sd_within;
  out.sd_overall = found.sd_overall;
  return out;
}

/* Whether @mark is the attempt that says something about its unit, whatever the unit was built to. */
gboolean
insight_mark_is_evidence (const InsightMark *mark)
{
  return mark->counting != INSIGHT_NOT_VOIDED && mark->counting != INSIGHT_NOT_LATER_ATTEMPT
         && mark->counting != INSIGHT_NOT_OTHER_STEP && mark->counting != INSIGHT_NOT_SPAN;
}

/**
 * insight_spreads:
 * @series: one measured characteristic
 *
 * Returns: (transfer full) (array length=series->n_rounds): how the values of each round lie; quartiles as num_describe() has
 *   them
 */
InsightSpread5 *
insight_spreads (const InsightSeries *series)
{
  InsightSpread5 *spreads = g_new0 (InsightSpread5, series->n_rounds + 1);
  g_autofree guint *starts = g_new0 (guint, series->n_rounds + 2);
  g_autofree guint *ends = NULL;
  g_autofree double *values = g_new (double, series->n_marks + 1);

  for (guint i = 0; i < series->n_marks; i++)
    if (insight_mark_is_evidence (&series->marks[i]) && isfinite (series->marks[i].value))
      starts[series->marks[i].round + 1]++;
  for (guint r = 0; r < series->n_rounds; r++)
    starts[r + 1] += starts[r];
  ends = g_memdup2 (starts, (series->n_rounds + 2) * sizeof *starts);
  for (guint i = 0; i < series->n_marks; i++)
    if (insight_mark_is_evidence (&series->marks[i]) && isfinite (series->marks[i].value))
      values[ends[series->marks[i].round]++] = series->marks[i].value;

  for (guint r = 0; r < series->n_rounds; r++)
    {
      NumDescription found;
      guint n = ends[r] - starts[r];

      spreads[r] = (InsightSpread5){ n, NAN, NAN, NAN, NAN, NAN };
      if (n == 1)
        spreads[r] = (InsightSpread5){ n, values[starts[r]], values[starts[r]], values[starts[r]], values[starts[r]],
                                       values[starts[r]] };
      else if (n > 1 && num_describe (values + starts[r], n, &found) == NUM_OK)
        spreads[r] = (InsightSpread5){ n, found.min, found.q1, found.median, found.q3, found.max };
    }
  return spreads;
}
