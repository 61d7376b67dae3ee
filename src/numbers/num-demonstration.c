/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Demonstration by attributes: units tried, units failed, and the failing share that would still be tolerated. */
#include "num-demonstration.h"

#include "num-dist.h"
#include "num-search.h"

#include <math.h>

#define UNITS_MOST ((size_t) 1 << 52) /* counts beyond are not whole in a double */
#define EQUAL 1e-12                   /* relative; a chance that equals its limit but for rounding reaches it */

static bool
is_share (double share)
{
  return share > 0.0 && share < 1.0; /* false for NAN too */
}

/**
 * num_demonstration_confidence:
 * @failed: units that failed, at most @units
 * @units: independent units tried
 * @tolerated: largest acceptable failing share, in (0, 1)
 * @confidence: (out): in [0, 1]; NAN unless the result is %NUM_OK
 *
 * How sure the trials make us that the failing share is below @tolerated: P(X > failed) for X binomial, the level at
 * which the exact upper bound meets @tolerated. Without a failure it is 1 - (1 - tolerated)^units; 0 when all failed.
 * Source: Clopper and Pearson 1934, Biometrika 26, 404-413. Accuracy: that of pbinom().
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW if nothing was tried; %NUM_BAD_INPUT if an argument is out of range
 */
NumStatus
num_demonstration_confidence (size_t failed, size_t units, double tolerated, double *confidence)
{
  *confidence = NAN;
  if (failed > units || !is_share (tolerated))
    return NUM_BAD_INPUT;
  if (units == 0)
    return NUM_TOO_FEW;
  *confidence = num_binomial_upper ((double) failed, (double) units, tolerated);
  return NUM_OK;
}

/**
 * num_demonstration_contrary:
 * @failed: units that failed, at most @units
 * @units: independent units tried
 * @tolerated: failing share, in (0, 1)
 * @contrary: (out): in [0, 1]; NAN unless the result is %NUM_OK
 *
 * How sure the trials make us of the contrary, that the failing share is above @tolerated: P(X < failed). It is not
 * 1 minus the confidence, since the count is discrete; 0 without a failure.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW if nothing was tried; %NUM_BAD_INPUT if an argument is out of range
 */
NumStatus
num_demonstration_contrary (size_t failed, size_t units, double tolerated, double *contrary)
{
  *contrary = NAN;
  if (failed > units || !is_share (tolerated))
    return NUM_BAD_INPUT;
  if (units == 0)
    return NUM_TOO_FEW;
  *contrary = failed == 0 ? 0.0 : num_binomial_lower ((double) failed - 1.0, (double) units, tolerated);
  return NUM_OK;
}

typedef struct
{
  size_t failed;
  double tolerated;
  double chance; /* of so few failures, at most */
} Plan;

static NumStatus
plan_enough (size_t units, void *data, bool *enough)
{
  const Plan *plan = data;

  *enough = num_binomial_lower ((double) plan->failed, (double) units, plan->tolerated) <= plan->chance * (1.0 + EQUAL);
  return NUM_OK;
}

/**
 * num_demonstration_units:
 * @failed: failures allowed
 * @tolerated: largest acceptable failing share, in (0, 1)
 * @confidence: wanted, in (0, 1)
 * @units: (out): the smallest number of units; 0 unless the result is %NUM_OK
 *
 * The smallest n for which P(X <= failed) is at most 1 - confidence (equality counts, within a relative 1e-12).
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT; %NUM_NO_SOLUTION when even 2^52 units are too few
 */
NumStatus
num_demonstration_units (size_t failed, double tolerated, double confidence, size_t *units)
{
  Plan plan = { failed, tolerated, 1.0 - confidence };

  *units = 0;
  if (!is_share (tolerated) || !is_share (confidence) || failed >= UNITS_MOST)
    return NUM_BAD_INPUT;
  return num_search_least (plan_enough, &plan, failed + 1, UNITS_MOST, units);
}
