/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-demonstration.h"
#include "num-describe.h"

#include <math.h>

/*
 * How many further units would do.
 */

#define UNITS_MOST 100000 /* nobody builds more to prove one thing */

/* Units in all that would do for a normal population with this mean and deviation; 0 when none would. */
static size_t
units_of_shape (const InsightQuestion *question, const double *values, size_t n, NumLimits limits, double resolution, double wanted)
{
  NumMoments moments;
  size_t units;

  if (num_moments (values, n, &moments) != NUM_OK
      || num_conformance_units (moments.mean, MAX (moments.sd, 0.5 * resolution), limits, question->terms.share, wanted,
                                MAX (n, INSIGHT_UNITS_LEAST), UNITS_MOST, &units) != NUM_OK)
    return 0;
  return units;
}

static int
units_by_values (const InsightQuestion *question, const double *values)
{
  const InsightCriterion *out = question->out;
  const BookEvidence *e = question->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[question->criterion->characteristic];
  gboolean looked = out->n > 0 && !insight_criterion_find_reason (out, INSIGHT_REASON_NOT_TESTED_YET);
  guint j = MAX (MAX (out->looks + looked, out->attempts), 1);
  double wanted = question->criterion->strict ? insight_surcharged (question->terms.confidence, j) : question->terms.confidence;
  double resolution = insight_resolution (e, question->criterion->characteristic);
  gboolean positive = out->min > 0.0;
  size_t units = 0, more = 0;

  if (out->n < 2)
    return INSIGHT_UNITS_LEAST - (int) out->n;
  if (one->shape != BOOK_SHAPE_LOG_NORMAL)
    {
      units = units_of_shape (question, values, out->n, question->units->limits, resolution, wanted);
      if (units == 0)
        return -1;
    }
  if (positive)
    {
      g_autofree double *logs = g_new (double, out->n);
      NumLimits limits = num_limits_log (question->units->limits);

      for (guint i = 0; i < out->n; i++)
        logs[i] = log (values[i]);
      if (isfinite (limits.lower) || isfinite (limits.upper))
        {
          more = units_of_shape (question, logs, out->n, limits, resolution / out->mean, wanted);
          if (more == 0)
            return -1;
        }
    }
  units = MAX (units, more);
  return units > out->n ? (int) (units - out->n) : 0;
}

/**
 * insight_units_wanted:
 * @question: judged
 * @by_count: whether units were counted as failing or not
 * @values: (nullable) (array length=n): of the counted units, for the answer's n
 *
 * How many further units would do if none fails, or if mean and deviation stay as they are.
 *
 * Returns: their number, 0 when met, -1 when no number would do or limits are missing
 */
int
insight_units_wanted (InsightQuestion *question, gboolean by_count, const double *values)
{
  const InsightCriterion *out = question->out;
  double tolerated = 1.0 - question->terms.share;
  const InsightReason *detection = insight_criterion_find_reason (out, INSIGHT_REASON_DETECTION);
  size_t units = 0;

  if (out->state == INSIGHT_MET)
    return 0;
  if (out->method == INSIGHT_METHOD_NONE)
    return -1;
  if (!by_count)
    return units_by_values (question, values);

  if (out->method == INSIGHT_METHOD_PLAN)
    {
      int left = question->terms.term->plan_units - (int) out->n;

      if (left > 0)
        return left;
    }
  if (detection != NULL)
    tolerated *= detection->numbers[0];
  if (out->method == INSIGHT_METHOD_ANYTIME)
    num_anytime_units (out->failed, tolerated, out->wanted, &units);
  else
    num_demonstration_units (out->failed, tolerated, out->wanted, &units);
  if (units == 0)
    return -1;
  return units > out->n ? (int) (units - out->n) : 0;
}
