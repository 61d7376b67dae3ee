/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Capability and performance indices. */
#include "num-capability.h"

#include "num-control.h"
#include "num-describe.h"
#include "num-dist.h"

#include <math.h>

/* Pooled deviation of consecutive groups; the last may be shorter. Gives its degrees of freedom, 0 when there are none. */
static double
pooled_sd (const double *values, size_t n, size_t group, double *df)
{
  long double squares = 0.0L;
  NumMoments moments;

  *df = 0.0;
  for (size_t from = 0; from < n; from += group)
    {
      size_t size = n - from < group ? n - from : group;

      if (size < 2)
        continue;
      num_moments (values + from, size, &moments);
      squares += (long double) moments.sd * moments.sd * (long double) (size - 1);
      *df += (double) (size - 1);
    }
  return *df > 0.0 ? (double) sqrtl (squares / *df) : 0.0;
}

static double
nearer (NumLimits limits, double mean, double sd)
{
  return fmin (limits.upper - mean, mean - limits.lower) / (3.0 * sd);
}

/* Bissell 1990, Applied Statistics 39, 331-340: how reliable is your capability index? */
static NumInterval
bissell (double index, double n, double df, double confidence)
{
  double half = -num_normal_quantile (0.5 * (1.0 - confidence)) * sqrt (1.0 / (9.0 * n) + index * index / (2.0 * df));

  return (NumInterval){ index - half, index + half };
}

/* NIST/SEMATECH e-Handbook 6.1.6: (n-1) s^2 / sigma^2 is chi-square, so that an index of the width alone has an exact interval. */
static NumInterval
of_width (double index, double df, double confidence)
{
  double tail = 0.5 * (1.0 - confidence);

  double low = sqrt (num_chi_square_quantile (tail, df) / df);
  double high = sqrt (num_chi_square_quantile (1.0 - tail, df) / df);

  return (NumInterval){ index * low, index * high };
}

/**
 * num_capability:
 * @values: (array length=n): finite values in the order of building
 * @n: at least 2
 * @limits: at least one finite
 * @target: NAN for none
 * @group: values a subgroup, 0 for none; then the deviation within is the mean moving range over 2/sqrt(pi)
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the indices
 *
 * cp = (upper - lower)/(6 sd_within), cpk the nearer side over 3 sd_within; pp, ppk with sd_overall (n-1); cpm =
 * (upper - lower)/(6 sqrt(sd_overall^2 + (mean - target)^2)) (NIST/SEMATECH e-Handbook 6.1.6). With one limit cp, pp and cpm
 * do not exist. Intervals of cpk and ppk by Bissell 1990 with the degrees of freedom of the pooled deviation for cpk with
 * subgroups, n-1 otherwise; of pp, and of cp with subgroups, from the chi-square distribution (the same section of the handbook).
 * Moving ranges have no such degrees of freedom: without subgroups cp has no interval.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION, also within the subgroups; %NUM_BAD_INPUT
 */
NumStatus
num_capability (const double *values, size_t n, NumLimits limits, double target, size_t group, double confidence,
                NumCapability *out)
{
  bool both = isfinite (limits.lower) && isfinite (limits.upper);
  double df = (double) n - 1.0;
  double width = limits.upper - limits.lower;
  NumMoments moments;
  NumStatus status;

  *out = (NumCapability){ NAN, NAN, NAN, NAN, NAN, { NAN, NAN }, { NAN, NAN }, { NAN, NAN }, { NAN, NAN }, NAN, NAN };
  if (n < 2)
    return NUM_TOO_FEW;
  if (!(limits.lower < limits.upper) || (isinf (limits.lower) && isinf (limits.upper)) || group == 1
      || !(confidence > 0.0 && confidence < 1.0))
    return NUM_BAD_INPUT;
  status = num_moments (values, n, &moments);
  if (status != NUM_OK)
    return status;
  out->sd_overall = moments.sd;
  out->sd_within = group > 0 ? pooled_sd (values, n, group, &df)
                             : num_moving_range (values, n) / num_range_mean (2);
  if (!(out->sd_overall > 0.0 && out->sd_within > 0.0))
    {
      out->sd_overall = out->sd_within = nan ("");
      return NUM_NO_VARIATION;
    }

  out->cpk = nearer (limits, moments.mean, out->sd_within);
  out->ppk = nearer (limits, moments.mean, out->sd_overall);
  out->cpk_interval = bissell (out->cpk, (double) n, df, confidence);
  out->ppk_interval = bissell (out->ppk, (double) n, (double) n - 1.0, confidence);
  if (both)
    {
      out->cp = width / (6.0 * out->sd_within);
      out->pp = width / (6.0 * out->sd_overall);
      out->pp_interval = of_width (out->pp, (double) n - 1.0, confidence);
      if (group > 0)
        out->cp_interval = of_width (out->cp, df, confidence);
      if (!isnan (target))
        out->cpm = width / (6.0 * hypot (out->sd_overall, moments.mean - target));
    }
  return NUM_OK;
}
