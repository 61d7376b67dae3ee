/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Normal tolerance factors: mean ± k deviations holds a share of the population at a confidence. */
#include "num-tolerance.h"

#include "num-dist.h"
#include "num-solve.h"

#include <math.h>

#define REACH 9.0      /* deviations of the mean beyond which nothing is left to integrate */
#define ACCURACY 1e-12 /* relative, of a factor */

static bool
arguments_fit (size_t n, double coverage, double confidence)
{
  return n >= 2 && coverage > 0.0 && coverage < 1.0 && confidence > 0.0 && confidence < 1.0;
}

typedef struct
{
  double root_n;
  double df;
  double ncp;
  double confidence;
} OneSide;

static double
one_side_excess (double k, void *data)
{
  const OneSide *x = data;

  return num_noncentral_t_lower (k * x->root_n, x->df, x->ncp) - x->confidence;
}

/* Widens [low, high] on both sides until the function changes its sign, then finds the root. */
static NumStatus
root_around (NumFunction function, void *data, double low, double high, bool positive, double *root)
{
  double width = high - low;

  for (int i = 0; i < 200 && function (low, data) > 0.0; i++, width *= 2.0)
    low = positive ? 0.5 * low : low - width;
  for (int i = 0; i < 200 && function (high, data) < 0.0; i++, width *= 2.0)
    high += width;
  return num_root (function, data, low, high, ACCURACY, root);
}

/**
 * num_tolerance_one:
 * @n: sample size, at least 2
 * @coverage: share of the population, in (0, 1)
 * @confidence: in (0, 1)
 * @k: (out): the factor; may be negative
 *
 * One-sided: k = t(confidence; n-1, z sqrt(n)) / sqrt(n) by the noncentral t, z the normal quantile of @coverage (ISO
 * 16269-6; NIST/SEMATECH e-Handbook 7.2.6.3).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW below 2; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_tolerance_one (size_t n, double coverage, double confidence, double *k)
{
  OneSide x = { .root_n = sqrt ((double) n), .df = (double) n - 1.0, .confidence = confidence };
  double z, spread;

  *k = NAN;
  if (n < 2)
    return NUM_TOO_FEW;
  if (!arguments_fit (n, coverage, confidence))
    return NUM_BAD_INPUT;
  z = num_normal_quantile (coverage);
  x.ncp = z * x.root_n;
  spread = sqrt (1.0 / (double) n + 0.5 * z * z / x.df);
  return root_around (one_side_excess, &x, z - spread, z + spread, false, k);
}

/* Half the width that holds the coverage around a place z deviations off the middle of a normal population. */
typedef struct
{
  double z;
  double miss;
} Reach;

static double
reach_excess (double r, void *data)
{
  const Reach *x = data;

  return x->miss - num_normal_upper (r - x->z) - num_normal_upper (r + x->z);
}

/* The integral over the place of the mean is a sum over fixed nodes; only k changes while its root is sought. */
typedef struct
{
  double df;
  double confidence;
  double square[NUM_GAUSS_NODES]; /* half width squared, of each node */
  double weight[NUM_GAUSS_NODES];
} TwoSides;

static double
two_sides_excess (double k, void *data)
{
  const TwoSides *x = data;
  double sum = 0.0;

  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    sum += x->weight[i] * num_chi_square_upper (x->df * x->square[i] / (k * k), x->df);
  return sum - x->confidence;
}

static NumStatus
two_sides_prepare (TwoSides *x, size_t n, double coverage)
{
  double root_n = sqrt ((double) n);
  double widest = -num_normal_quantile (0.5 * (1.0 - coverage));
  double z[NUM_GAUSS_NODES];

  num_gauss_nodes (0.0, REACH / root_n, z, x->weight);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      Reach reach = { z[i], 1.0 - coverage };
      double r;
      NumStatus status = num_root (reach_excess, &reach, 0.0, widest + z[i] + 1.0, ACCURACY, &r);

      if (status != NUM_OK)
        return status;
      x->square[i] = r * r;
      x->weight[i] *= 2.0 * root_n * num_normal_density (z[i] * root_n);
    }
  return NUM_OK;
}

/**
 * num_tolerance_two:
 * @n: sample size, at least 2
 * @coverage: share of the population, in (0, 1)
 * @confidence: in (0, 1)
 * @k: (out): the exact factor
 *
 * Two-sided, exact (ISO 16269-6; Odeh and Owen 1980): twice the integral over z from 0 of P(chi-square(n-1) > (n-1)
 * r(z)^2/k^2) times the density of a normal mean with deviation 1/sqrt(n) equals @confidence, with Phi(z+r) - Phi(z-r) =
 * @coverage. By Gauss and Legendre's rule over nine deviations of the mean, then Brent's root.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW below 2; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_tolerance_two (size_t n, double coverage, double confidence, double *k)
{
  TwoSides x = { .df = (double) n - 1.0, .confidence = confidence };
  double howe;
  NumStatus status;

  *k = NAN;
  if (n < 2)
    return NUM_TOO_FEW;
  if (!arguments_fit (n, coverage, confidence))
    return NUM_BAD_INPUT;
  status = two_sides_prepare (&x, n, coverage);
  if (status != NUM_OK)
    return status;
  num_tolerance_howe (n, coverage, confidence, &howe);
  return root_around (two_sides_excess, &x, 0.97 * howe, 1.03 * howe, true, k);
}

/**
 * num_tolerance_howe:
 * @n: sample size, at least 2
 * @coverage: share of the population, in (0, 1)
 * @confidence: in (0, 1)
 * @k: (out): the approximate factor
 *
 * Two-sided approximation of Howe 1969: z((1+coverage)/2) sqrt((n-1)(1+1/n)/chi2(1-confidence; n-1)), without further
 * correction (NIST/SEMATECH e-Handbook 7.2.6.3).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW below 2; %NUM_BAD_INPUT
 */
NumStatus
num_tolerance_howe (size_t n, double coverage, double confidence, double *k)
{
  double df = (double) n - 1.0;

  *k = NAN;
  if (n < 2)
    return NUM_TOO_FEW;
  if (!arguments_fit (n, coverage, confidence))
    return NUM_BAD_INPUT;
  *k = -num_normal_quantile (0.5 * (1.0 - coverage))
       * sqrt (df * (1.0 + 1.0 / (double) n) / num_chi_square_quantile (1.0 - confidence, df));
  return NUM_OK;
}
