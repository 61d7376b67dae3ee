/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The median and its interval by symmetric order statistics, whatever the shape of the population. */
#include "num-median.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-order.h"

#include <math.h>
#include <stdlib.h>

/* Coverage of the interval from the r-th smallest to the r-th largest of n. */
static double
coverage_of (size_t r, size_t n)
{
  return 1.0 - 2.0 * num_binomial_lower ((double) r - 1.0, (double) n, 0.5);
}

/**
 * num_median:
 * @values: (array length=n): finite values in any order
 * @n: their number
 * @confidence: wanted, in (0, 1)
 * @out: (out): median, interval and the coverage that it reaches
 *
 * The interval x(r), x(n+1-r) with the largest r whose coverage 1 - 2 P(Bin(n, 1/2) <= r-1) is at least @confidence
 * (David and Nagaraja, Order Statistics, section 7.1; from memory). Where even r = 1 falls short, interval and coverage
 * are NAN and the result is %NUM_OK.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no values; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_median (const double *values, size_t n, double confidence, NumMedian *out)
{
  double *sorted;
  NumStatus status;
  size_t low = 0; /* a rank that covers, or 0 */
  size_t high;

  *out = (NumMedian){ NAN, { NAN, NAN }, NAN };
  if (n == 0)
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || !num_all_finite (values, n))
    return NUM_BAD_INPUT;
  status = num_sorted_copy (values, n, &sorted);
  if (status != NUM_OK)
    return status;

  out->median = num_sorted_quantile (sorted, n, 0.5);
  high = (n + 1) / 2 + 1; /* a rank that does not, since its interval would be empty */
  while (high - low > 1)
    {
      size_t middle = low + (high - low) / 2;

      if (coverage_of (middle, n) >= confidence)
        low = middle;
      else
        high = middle;
    }
  if (low > 0)
    {
      out->interval = (NumInterval){ sorted[low - 1], sorted[n - low] };
      out->coverage = coverage_of (low, n);
    }
  free (sorted);
  return NUM_OK;
}
