/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Moments in two passes: deviations are taken from the mean, so that a large offset costs no digits, and sums are kept
 * in long double, which neither overflows nor loses the small terms of a long sum.
 */
#include "num-describe.h"

#include "num-order.h"

#include <math.h>
#include <stdlib.h>

/**
 * num_all_finite:
 * @values: (array length=n): values
 * @n: their number
 *
 * Returns: whether no value is infinite or NAN; true for none
 */
bool
num_all_finite (const double *values, size_t n)
{
  /* A difference of a value with itself is 0, unless it is infinite or NAN. */
  double sum = 0.0;

  for (size_t i = 0; i < n; i++)
    sum += values[i] - values[i];
  return sum == 0.0;
}

/**
 * num_moments:
 * @values: (array length=n): finite values in any order
 * @n: their number
 * @out: (out): moments and extremes
 *
 * Two passes; with one value the deviation is NAN and the result still %NUM_OK.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no values; %NUM_BAD_INPUT if one is not finite
 */
NumStatus
num_moments (const double *values, size_t n, NumMoments *out)
{
  long double sum = 0.0L;
  long double squares = 0.0L;
  long double rest = 0.0L;
  long double mean;
  double least = INFINITY;
  double most = -INFINITY;

  *out = (NumMoments){ n, NAN, NAN, NAN, NAN };
  if (n == 0)
    return NUM_TOO_FEW;
  if (!num_all_finite (values, n))
    return NUM_BAD_INPUT;

  for (size_t i = 0; i < n; i++)
    {
      sum += values[i];
      least = values[i] < least ? values[i] : least;
      most = values[i] > most ? values[i] : most;
    }
  mean = sum / (long double) n;
  for (size_t i = 0; i < n; i++)
    {
      long double d = values[i] - mean;

      rest += d;
      squares += d * d;
    }
  out->mean = (double) (mean + rest / (long double) n);
  out->min = least;
  out->max = most;
  if (n > 1) /* the second term takes out what rounding of the mean added (Chan, Golub and LeVeque 1983) */
    out->sd = least == most ? 0.0 : (double) sqrtl ((squares - rest * rest / (long double) n) / (long double) (n - 1));
  return NUM_OK;
}

/* Central moments 2 to 4, each a sum, and the sum of neighbouring products, of deviations in units of their largest. */
typedef struct
{
  long double second;
  long double third;
  long double fourth;
  long double lagged;
} Sums;

static Sums
higher_sums (const double *values, size_t n, double mean, double unit)
{
  Sums sums = { 0.0L, 0.0L, 0.0L, 0.0L };
  long double before = 0.0L;

  for (size_t i = 0; i < n; i++)
    {
      long double d = ((long double) values[i] - mean) / unit;
      long double square = d * d;

      sums.second += square;
      sums.third += square * d;
      sums.fourth += square * square;
      sums.lagged += before * d;
      before = d;
    }
  return sums;
}

/**
 * num_describe:
 * @values: (array length=n): finite values, in the order in which they were taken
 * @n: their number
 * @out: (out): the description
 *
 * Quartiles by linear interpolation at position (n-1)p+1 (Hyndman and Fan 1996, definition 7). Skewness G1 and excess
 * kurtosis G2 are the adjusted ones of Joanes and Gill 1998 (type 2). Autocorrelation at lag 1 divides the sum of
 * products of neighbours by the sum of squares (NIST/SEMATECH e-Handbook 1.3.5.12). A figure that does not exist is NAN:
 * the deviation of one value; skewness below 3 values, kurtosis below 4, and all three without variation.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no values; %NUM_BAD_INPUT if one is not finite; %NUM_NO_MEMORY
 */
NumStatus
num_describe (const double *values, size_t n, NumDescription *out)
{
  NumMoments moments;
  NumStatus status;
  double quartiles[3];
  static const double shares[3] = { 0.25, 0.5, 0.75 };
  double unit;
  Sums sums;
  long double count = (long double) n;
  long double variance;

  *out = (NumDescription){ n, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  status = num_moments (values, n, &moments);
  if (status == NUM_OK)
    status = num_quantiles (values, n, shares, 3, quartiles);
  if (status != NUM_OK)
    return status;

  out->mean = moments.mean;
  out->sd = moments.sd;
  out->min = moments.min;
  out->max = moments.max;
  out->q1 = quartiles[0];
  out->median = quartiles[1];
  out->q3 = quartiles[2];

  unit = fmax (moments.max - moments.mean, moments.mean - moments.min);
  if (moments.min == moments.max || !isfinite (unit))
    return NUM_OK;
  sums = higher_sums (values, n, moments.mean, unit);
  variance = sums.second / count;
  out->autocorrelation = (double) (sums.lagged / sums.second);
  if (n > 2)
    out->skewness = (double) (sums.third / count / powl (variance, 1.5L) * sqrtl (count * (count - 1.0L)) / (count - 2.0L));
  if (n > 3)
    out->kurtosis = (double) ((count - 1.0L) / ((count - 2.0L) * (count - 3.0L))
                              * ((count + 1.0L) * (sums.fourth / count / (variance * variance) - 3.0L) + 6.0L));
  return NUM_OK;
}
