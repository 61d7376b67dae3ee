/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moments and the description of a sample. */
#include "num-describe.h"

#include "num-order.h"
#include "num-sums.h"

#include <math.h>
#include <stdlib.h>

/* Deviations between these, to the fourth power, neither overflow nor vanish. */
#define UNIT_LEAST 1e-60
#define UNIT_MOST 1e60

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
  /* A difference of a value with itself is 0, unless it is infinite or NAN; four sums need not wait for each other. */
  double sums[4] = { 0 };
  size_t whole = n - n % 4;

  for (size_t i = 0; i < whole; i += 4)
    for (size_t l = 0; l < 4; l++)
      sums[l] += values[i + l] - values[i + l];
  for (size_t i = whole; i < n; i++)
    sums[0] += values[i] - values[i];
  return sums[0] + sums[1] + sums[2] + sums[3] == 0.0;
}

/* Sums of deviations in units of @unit, one by one in long double: for magnitudes whose powers leave a double. */
static void
sums_slowly (const double *values, size_t n, double shift, double unit, NumSums *out)
{
  long double before = 0.0L;

  for (size_t i = 0; i < n; i++)
    {
      long double d = ((long double) values[i] - shift) / unit;

      out->first += d;
      out->second += d * d;
      out->third += d * d * d;
      out->fourth += d * d * d * d;
      out->lagged += i > 0 ? d * before : 0.0L;
      before = d;
    }
}

/*
 * Fills sums about a shift that is as good as the mean, in units of @unit: 1, or the largest deviation where that is huge or
 * tiny. A shift that turns out far from the mean, measured by the deviation, is improved once. Returns whether all values are
 * finite.
 */
static bool
sums_of (const double *values, size_t n, bool four, NumSums *out, double *unit)
{
  double shift = num_sums_shift (values, n);

  *unit = 1.0;
  for (int i = 0; i < 2; i++)
    {
      (four ? num_sums_four : num_sums_two) (values, n, shift, out);
      if (!isfinite ((double) out->second) || out->first * out->first <= 0.1L * out->second * (long double) n)
        break;
      shift += (double) (out->first / (long double) n);
    }
  /* Sums that are not finite may come from values that are not, or from huge ones. */
  if (!isfinite ((double) out->second) && !num_all_finite (values, n))
    return false;
  *unit = fmax (out->max / 2.0 - shift / 2.0, shift / 2.0 - out->min / 2.0);
  if ((*unit > UNIT_LEAST && *unit < UNIT_MOST) || out->min == out->max)
    {
      *unit = 1.0;
      return true;
    }
  *out = (NumSums){ .n = n, .shift = shift, .min = out->min, .max = out->max };
  sums_slowly (values, n, shift, *unit, out);
  return true;
}

/* The mean, and the deviation by the sum of squares about it. */
static void
put_moments (const NumSums *sums, double unit, NumMoments *out)
{
  long double n = (long double) sums->n;
  long double squares = sums->second - sums->first * sums->first / n;

  out->mean = (double) ((long double) sums->shift + (long double) unit * sums->first / n);
  out->mean = fmin (sums->max, fmax (sums->min, out->mean));
  out->min = sums->min;
  out->max = sums->max;
  if (sums->n > 1)
    out->sd = sums->min == sums->max ? 0.0 : (double) ((long double) unit * sqrtl (squares / (n - 1.0L)));
}

/**
 * num_moments:
 * @values: (array length=n): finite values in any order
 * @n: their number
 * @out: (out): moments and extremes
 *
 * Sums of deviations from a value near the mean, corrected for what that is off (num-sums.c): an offset costs no digits. With
 * one value the deviation is NAN and the result still %NUM_OK.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no values; %NUM_BAD_INPUT if one is not finite
 */
NumStatus
num_moments (const double *values, size_t n, NumMoments *out)
{
  NumSums sums;
  double unit;

  *out = (NumMoments){ n, NAN, NAN, NAN, NAN };
  if (n == 0)
    return NUM_TOO_FEW;
  if (!sums_of (values, n, false, &sums, &unit))
    return NUM_BAD_INPUT;
  put_moments (&sums, unit, out);
  return NUM_OK;
}

/* Skewness, kurtosis and autocorrelation from sums about a shift: all three without a unit. */
static void
put_shape (const double *values, const NumSums *sums, double unit, NumDescription *out)
{
  long double n = (long double) sums->n;
  long double off = sums->first / n; /* of the mean from the shift */
  long double second = sums->second - n * off * off;
  long double third = sums->third - 3.0L * off * sums->second + 2.0L * n * off * off * off;
  long double fourth = sums->fourth - 4.0L * off * sums->third + 6.0L * off * off * sums->second
                       - 3.0L * n * off * off * off * off;
  long double ends = ((long double) values[0] - sums->shift + values[sums->n - 1] - sums->shift) / unit;
  long double lagged = sums->lagged - off * (2.0L * sums->first - ends) + (n - 1.0L) * off * off;
  long double variance = second / n;

  out->autocorrelation = (double) (lagged / second);
  if (sums->n > 2)
    out->skewness = (double) (third / n / (variance * sqrtl (variance)) * sqrtl (n * (n - 1.0L)) / (n - 2.0L));
  if (sums->n > 3)
    out->kurtosis = (double) ((n - 1.0L) / ((n - 2.0L) * (n - 3.0L))
                              * ((n + 1.0L) * (fourth / n / (variance * variance) - 3.0L) + 6.0L));
}

static NumStatus
put_quartiles (const double *values, const NumSums *sums, NumDescription *out)
{
  static const double shares[3] = { 0.25, 0.5, 0.75 };
  double found[3];
  NumStatus status = num_quantiles (values, sums->n, shares, 3, found);

  if (status != NUM_OK)
    return status;
  out->q1 = found[0];
  out->median = found[1];
  out->q3 = found[2];
  return NUM_OK;
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
  NumMoments moments = { n, NAN, NAN, NAN, NAN };
  NumSums sums;
  double unit;
  NumStatus status;

  *out = (NumDescription){ n, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  if (n == 0)
    return NUM_TOO_FEW;
  if (!sums_of (values, n, true, &sums, &unit))
    return NUM_BAD_INPUT;
  status = put_quartiles (values, &sums, out);
  if (status != NUM_OK)
    return status;
  put_moments (&sums, unit, &moments);
  out->mean = moments.mean;
  out->sd = moments.sd;
  out->min = moments.min;
  out->max = moments.max;
  if (moments.min < moments.max)
    put_shape (values, &sums, unit, out);
  return NUM_OK;
}
