/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether group means differ more than their members. */
#include "num-groups.h"

#include "num-describe.h"
#include "num-dist.h"

#include <float.h>
#include <math.h>

/**
 * num_groups:
 * @groups: (array length=count): samples, none empty
 * @count: at least 2
 * @out: (out): F, its degrees of freedom and p
 *
 * One-way analysis of variance with two-pass sums (NIST/SEMATECH e-Handbook 7.4.3.3). Variation within that is not more
 * than the rounding of the values counts as none.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for fewer than 2 groups, an empty one, or no degrees of freedom within;
 * %NUM_NO_VARIATION within; %NUM_BAD_INPUT
 */
NumStatus
num_groups (const NumSample *groups, size_t count, NumGroups *out)
{
  long double sum = 0.0L;
  long double between = 0.0L;
  long double within = 0.0L;
  double largest = 0.0;
  size_t n = 0;
  NumMoments moments;
  NumStatus status;

  *out = (NumGroups){ NAN, NAN, NAN, NAN };
  if (count < 2)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < count; i++)
    {
      status = num_moments (groups[i].values, groups[i].n, &moments);
      if (status != NUM_OK)
        return status;
      n += groups[i].n;
      sum += (long double) moments.mean * (long double) groups[i].n;
      largest = fmax (largest, fmax (fabs (moments.min), fabs (moments.max)));
      if (groups[i].n > 1)
        within += (long double) moments.sd * moments.sd * (long double) (groups[i].n - 1);
    }
  if (n == count)
    return NUM_TOO_FEW;
  if (within <= (long double) n * powl (2.0L * DBL_EPSILON * largest, 2.0L))
    return NUM_NO_VARIATION;
  for (size_t i = 0; i < count; i++)
    {
      long double d;

      num_moments (groups[i].values, groups[i].n, &moments);
      d = moments.mean - sum / (long double) n;
      between += d * d * (long double) groups[i].n;
    }

  out->df_between = (double) (count - 1);
  out->df_within = (double) (n - count);
  out->f = (double) (between / (long double) (count - 1) / (within / (long double) (n - count)));
  out->p = num_f_upper (out->f, out->df_between, out->df_within);
  return NUM_OK;
}
