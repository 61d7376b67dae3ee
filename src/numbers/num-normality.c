/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Anderson and Darling's test of normality; it warns, and never decides which method is used. */
#include "num-normality.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-order.h"

#include <math.h>
#include <stdlib.h>

/* D'Agostino and Stephens 1986, Goodness-of-fit techniques, table 4.9, mean and deviation estimated. */
static double
probability (double a)
{
  if (a < 0.2)
    return 1.0 - exp (-13.436 + 101.14 * a - 223.73 * a * a);
  if (a < 0.34)
    return 1.0 - exp (-8.318 + 42.796 * a - 59.938 * a * a);
  if (a < 0.6)
    return exp (0.9177 - 4.279 * a - 1.38 * a * a);
  if (a < 10.0)
    return exp (1.2937 - 5.709 * a + 0.0186 * a * a);
  return 3.7e-24;
}

/**
 * num_normality:
 * @values: (array length=n): finite values in any order
 * @n: at least %NUM_NORMALITY_LEAST
 * @out: (out): A squared, adjusted for the sample size, and p
 *
 * Adjusted: a2 (1 + 0.75/n + 2.25/n^2). Source: D'Agostino and Stephens 1986, table 4.9.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_normality (const double *values, size_t n, NumNormality *out)
{
  NumMoments moments;
  double *sorted;
  double count = (double) n;
  long double sum = 0.0L;
  NumStatus status;

  *out = (NumNormality){ NAN, NAN, NAN };
  if (n < NUM_NORMALITY_LEAST)
    return NUM_TOO_FEW;
  status = num_moments (values, n, &moments);
  if (status != NUM_OK)
    return status;
  if (!(moments.sd > 0.0))
    return NUM_NO_VARIATION;
  status = num_sorted_copy (values, n, &sorted);
  if (status != NUM_OK)
    return status;

  for (size_t i = 0; i < n; i++)
    {
      double low = (sorted[i] - moments.mean) / moments.sd;
      double high = (sorted[n - 1 - i] - moments.mean) / moments.sd;

      sum += (2.0L * (long double) i + 1.0L) * (num_normal_lower_log (low) + num_normal_lower_log (-high));
    }
  free (sorted);
  out->a2 = (double) (-(long double) n - sum / (long double) n);
  out->a2_adjusted = out->a2 * (1.0 + 0.75 / count + 2.25 / (count * count));
  out->p = probability (out->a2_adjusted);
  return NUM_OK;
}
