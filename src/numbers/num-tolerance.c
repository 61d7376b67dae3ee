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

/* Half the width that holds the coverage around a place @z deviations off the middle of a normal population, by Newton's
 * steps from a guess: the share missed is convex where both tails are, and falls. */
static double
half_width (double z, double miss, double guess)
{
  double r = guess;

  for (int i = 0; i < 60; i++)
    {
      double excess = num_normal_upper (r - z) + num_normal_upper (r + z) - miss;
      double step = excess / (num_normal_density (r - z) + num_normal_density (r + z));

      r = fmax (0.5 * r, r + fmax (-1.0, fmin (1.0, step)));
      if (!(fabs (step) > 1e-8 * r)) /* the next step would be of the size of its square */
        break;
    }
  return r;
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

/* By how much the excess grows with ln k. */
static double
two_sides_slope (double k, const TwoSides *x)
{
  double sum = 0.0;

  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      double v = x->df * x->square[i] / (k * k);

      sum += x->weight[i] * 2.0 * v * num_chi_square_density (v, x->df);
    }
  return sum;
}

static void
two_sides_prepare (TwoSides *x, size_t n, double coverage)
{
  double root_n = sqrt ((double) n);
  double r = -num_normal_quantile (0.5 * (1.0 - coverage));
  double z[NUM_GAUSS_NODES];

  num_gauss_nodes (0.0, REACH / root_n, z, x->weight);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      r = half_width (z[i], 1.0 - coverage, r);
      x->square[i] = r * r;
      x->weight[i] *= 2.0 * root_n * num_normal_density (z[i] * root_n);
    }
}

/* Newton's steps from Howe's factor, which is near; NAN where they do not settle. */
static double
two_sides_newton (TwoSides *x, double guess)
{
  double k = guess;

  for (int i = 0; i < 12; i++)
    {
      double step = two_sides_excess (k, x) / two_sides_slope (k, x);

      k *= exp (-step);
      if (fabs (step) < 1e-7) /* the next step would be of the size of its square */
        return k;
      if (!(fabs (step) < 1.0))
        break;
    }
  return nan ("");
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
 * @coverage. By Gauss and Legendre's rule over nine deviations of the mean; the root by Newton's
 * steps, by Brent's method where those do not settle.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW below 2; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_tolerance_two (size_t n, double coverage, double confidence, double *k)
{
  TwoSides x = { .df = (double) n - 1.0, .confidence = confidence };
  double howe;

  *k = NAN;
  if (n < 2)
    return NUM_TOO_FEW;
  if (!arguments_fit (n, coverage, confidence))
    return NUM_BAD_INPUT;
  two_sides_prepare (&x, n, coverage);
  num_tolerance_howe (n, coverage, confidence, &howe);
  *k = two_sides_newton (&x, howe);
  if (isfinite (*k))
    return NUM_OK;
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
