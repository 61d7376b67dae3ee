/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The share of a population from k of n, by the three intervals that textbooks compare. */
#include "num-proportion.h"

#include "num-dist.h"

#include <math.h>

static bool
counts_fit (size_t k, size_t n, double confidence)
{
  return n > 0 && k <= n && confidence > 0.0 && confidence < 1.0;
}

/**
 * num_proportion_wilson:
 * @k: units with the property
 * @n: units looked at, at least 1
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the interval
 *
 * The score interval without continuity correction (Wilson 1927). Its low end is exactly 0 at k = 0, its high end
 * exactly 1 at k = n.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_proportion_wilson (size_t k, size_t n, double confidence, NumInterval *out)
{
  double count = (double) n;
  double share, z, square, middle, half;

  *out = (NumInterval){ NAN, NAN };
  if (!counts_fit (k, n, confidence))
    return NUM_BAD_INPUT;

  share = (double) k / count;
  z = -num_normal_quantile (0.5 * (1.0 - confidence));
  square = z * z / count;
  middle = (share + 0.5 * square) / (1.0 + square);
  half = z / (1.0 + square) * sqrt (share * (1.0 - share) / count + 0.25 * square / count);
  out->low = k == 0 ? 0.0 : middle - half;
  out->high = k == n ? 1.0 : middle + half;
  return NUM_OK;
}

/**
 * num_proportion_exact:
 * @k: units with the property
 * @n: units looked at, at least 1
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the interval
 *
 * Clopper and Pearson 1934 by beta quantiles, half of the error in each tail also at k = 0 and k = n, where the outer
 * end is 0 or 1.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_proportion_exact (size_t k, size_t n, double confidence, NumInterval *out)
{
  double tail = 0.5 * (1.0 - confidence);

  *out = (NumInterval){ NAN, NAN };
  if (!counts_fit (k, n, confidence))
    return NUM_BAD_INPUT;

  out->low = k == 0 ? 0.0 : num_beta_quantile (tail, (double) k, (double) (n - k) + 1.0);
  out->high = k == n ? 1.0 : num_beta_quantile_upper (tail, (double) k + 1.0, (double) (n - k));
  return NUM_OK;
}

/**
 * num_proportion_lower:
 * @k: units with the property
 * @n: units looked at, at least 1
 * @confidence: one-sided, in (0, 1)
 * @low: (out): lower bound of the share; 0 for k = 0
 *
 * The exact one-sided bound of Clopper and Pearson 1934.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_proportion_lower (size_t k, size_t n, double confidence, double *low)
{
  *low = NAN;
  if (!counts_fit (k, n, confidence))
    return NUM_BAD_INPUT;
  *low = k == 0 ? 0.0 : num_beta_quantile (1.0 - confidence, (double) k, (double) (n - k) + 1.0);
  return NUM_OK;
}

/**
 * num_proportion:
 * @k: units with the property
 * @n: units looked at, at least 1
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the estimate k/n and three intervals
 *
 * Besides the two above: Jeffreys' interval, quantiles of Beta(k+1/2, n-k+1/2), with 0 at k = 0 and 1 at k = n (Brown,
 * Cai and DasGupta 2001).
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_proportion (size_t k, size_t n, double confidence, NumProportion *out)
{
  double tail = 0.5 * (1.0 - confidence);
  double a = (double) k + 0.5;
  double b;

  *out = (NumProportion){ NAN, { NAN, NAN }, { NAN, NAN }, { NAN, NAN } };
  if (!counts_fit (k, n, confidence))
    return NUM_BAD_INPUT;

  b = (double) (n - k) + 0.5;
  out->estimate = (double) k / (double) n;
  num_proportion_wilson (k, n, confidence, &out->wilson);
  num_proportion_exact (k, n, confidence, &out->exact);
  out->jeffreys.low = k == 0 ? 0.0 : num_beta_quantile (tail, a, b);
  out->jeffreys.high = k == n ? 1.0 : num_beta_quantile_upper (tail, a, b);
  return NUM_OK;
}
