/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least squares for a straight line. */
#include "num-line.h"

#include "num-describe.h"
#include "num-dist.h"

#include <math.h>

/**
 * num_line:
 * @x: (array length=n): finite places
 * @y: (array length=n): finite values
 * @n: points, at least 2
 * @confidence: two-sided, of the slope, in (0, 1)
 * @out: (out): the line
 *
 * Ordinary least squares from deviations of the means; interval by t with n-2 degrees of freedom (NIST/SEMATECH e-Handbook
 * 2.3.6). With two points only slope, intercept and r2 exist.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION when x does not vary; %NUM_BAD_INPUT
 */
NumStatus
num_line (const double *x, const double *y, size_t n, double confidence, NumLine *out)
{
  NumMoments mx, my;
  long double xx = 0.0L;
  long double xy = 0.0L;
  long double yy = 0.0L;
  long double rest = 0.0L;
  long double slope;
  double half;

  *out = (NumLine){ NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN } };
  if (n < 2)
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || num_moments (x, n, &mx) != NUM_OK || num_moments (y, n, &my) != NUM_OK)
    return NUM_BAD_INPUT;
  if (mx.min == mx.max)
    return NUM_NO_VARIATION;

  for (size_t i = 0; i < n; i++)
    {
      long double dx = (long double) x[i] - mx.mean;
      long double dy = (long double) y[i] - my.mean;

      xx += dx * dx;
      xy += dx * dy;
      yy += dy * dy;
    }
  slope = xy / xx;
  for (size_t i = 0; i < n; i++)
    {
      long double d = ((long double) y[i] - my.mean) - slope * ((long double) x[i] - mx.mean);

      rest += d * d;
    }
  out->slope = (double) slope;
  out->intercept = (double) (my.mean - slope * mx.mean);
  if (my.min != my.max)
    out->r2 = n == 2 ? 1.0 : (double) (1.0L - rest / yy);
  if (n == 2)
    return NUM_OK;

  out->residual_sd = (double) sqrtl (rest / (long double) (n - 2));
  out->se_slope = (double) (out->residual_sd / sqrtl (xx));
  out->se_intercept = (double) (out->residual_sd * sqrtl (1.0L / (long double) n + (long double) mx.mean * mx.mean / xx));
  half = -num_t_quantile (0.5 * (1.0 - confidence), (double) (n - 2)) * out->se_slope;
  out->slope_interval = (NumInterval){ out->slope - half, out->slope + half };
  return NUM_OK;
}
