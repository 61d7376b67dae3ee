/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Issues found in the course of testing, by Goel and Okumoto's curve m(t) = total (1 - exp (-rate t)) (1979).
 *
 * With x = rate end and the log-likelihood n ln total + n ln rate - rate sum(t) - total (1 - exp (-x)): maximum at n/rate =
 * sum(t) + n end/(exp (x) - 1), total = n/(1 - exp (-x)). As total grows without end and rate goes to 0 the curve becomes a
 * straight line with likelihood n ln (n/end) - n; when that is within the interval, the interval has no upper end.
 */
#include "num-discovery.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-solve.h"

#include <math.h>

#define GRID 240 /* places at which the profile likelihood is looked at before it is refined */

typedef struct
{
  double n;
  double mean; /* time over the end */
  double peak; /* greatest likelihood */
  double drop; /* by which the likelihood may lie below it */
} Found;

/* Slope of the likelihood over x at the best total, per issue: 1/x - 1/(e^x - 1) - mean. */
static double
slope (double x, void *data)
{
  const Found *found = data;
  /* 1/x - 1/(e^x - 1) = 1/2 - x/12 + x^3/720 near 0, where the two terms cancel */
  double share = x < 1e-3 ? 0.5 - x / 12.0 + x * x * x / 720.0 : 1.0 / x - 1.0 / expm1 (x);

  return share - found->mean;
}

/* Negative log-likelihood (time in units of the end) at a total, by x. */
typedef struct
{
  const Found *found;
  double total;
} AtTotal;

static double
deficit (double log_x, void *data)
{
  const AtTotal *at = data;
  double x = exp (log_x);
  double n = at->found->n;

  return -(n * log (at->total) + n * log_x - x * n * at->found->mean + at->total * expm1 (-x));
}

/* How far the profile likelihood of exp (@log_total) lies below the allowed drop; the valley of the deficit need not be the
 * only one, so that a grid finds the deepest first. */
static double
profile_excess (double log_total, void *data)
{
  const Found *found = data;
  AtTotal at = { found, exp (log_total) };
  double low = -30.0;
  double step = 36.0 / GRID;
  double best = HUGE_VAL;
  double place = low;
  double refined, least;

  for (int i = 0; i <= GRID; i++)
    {
      double value = deficit (low + step * i, &at);

      if (value < best)
        {
          best = value;
          place = low + step * i;
        }
    }
  if (num_minimise (deficit, &at, place - step, place + step, 1e-10, &refined, &least) == NUM_OK)
    best = fmin (best, least);
  return best + found->peak - found->drop;
}

static NumStatus
interval_of (Found *found, double total, double confidence, NumInterval *out)
{
  double line = found->n * log (found->n) - found->n; /* likelihood of the straight line */
  double log_total = log (total);
  double low = log_total;
  double high = log_total;
  NumStatus status;

  found->drop = 0.5 * num_chi_square_quantile (confidence, 1.0);
  do
    low -= 0.5;
  while (profile_excess (low, found) < 0.0);
  status = num_root (profile_excess, found, low, log_total, 1e-10, &out->low);
  out->low = exp (out->low);
  if (status != NUM_OK)
    return status;
  out->high = HUGE_VAL;
  if (found->peak - line <= found->drop)
    return NUM_OK;
  do
    high += 0.5;
  while (profile_excess (high, found) < 0.0 && high < log_total + 25.0);
  status = num_root (profile_excess, found, log_total, high, 1e-10, &out->high);
  out->high = exp (out->high);
  return status;
}

/**
 * num_discovery:
 * @times: (array length=n): when each issue was found, from 0, not after the end
 * @n: at least 1
 * @end: how long was searched, above 0
 * @confidence: two-sided, of the total, in (0, 1)
 * @out: (out): the curve
 *
 * See the top of this file. Laplace's statistic of a time-truncated search: (mean - end/2)/(end sqrt(1/(12 n))).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_SOLUTION when the mean time is not below end/2: discovery does not
 * slow down; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_discovery (const double *times, size_t n, double end, double confidence, NumDiscovery *out)
{
  Found found = { .n = (double) n };
  NumMoments moments;
  double x;
  NumStatus status;

  *out = (NumDiscovery){ NAN, NAN, n, NAN, NAN, { NAN, NAN } };
  if (!(end > 0.0 && isfinite (end)) || !(confidence > 0.0 && confidence < 1.0))
    return NUM_BAD_INPUT;
  status = num_moments (times, n, &moments);
  if (status != NUM_OK)
    return status;
  if (moments.min < 0.0 || moments.max > end)
    return NUM_BAD_INPUT;
  found.mean = moments.mean / end;
  out->laplace = (found.mean - 0.5) * sqrt (12.0 * found.n);
  if (!(found.mean < 0.5) || !(found.mean > 0.0))
    return NUM_NO_SOLUTION;
  status = num_root (slope, &found, 1e-9, 2.0 / found.mean, 1e-13, &x);
  if (status != NUM_OK)
    return status;

  out->rate = x / end;
  out->total = found.n / -expm1 (-x);
  out->expected_left = out->total - found.n;
  found.peak = found.n * log (out->total) + found.n * log (x) - x * found.n * found.mean - found.n;
  return interval_of (&found, out->total, confidence, &out->total_interval);
}
