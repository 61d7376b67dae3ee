/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weibull life with units that were stopped before they failed, by maximum likelihood. */
#include "num-weibull.h"

#include "num-dist.h"

#include <math.h>
#include <stdlib.h>

#define SHAPE_MOST 1e12 /* a likelihood that still rises there has no maximum that a double can tell */
#define STEPS_MOST 200

/* Sums over all units at a shape, weights exp (shape (x - largest)). */
typedef struct
{
  double weight;
  double first;  /* of weight times x - largest */
  double second;
} Sums;

static Sums
sums_at (const double *logs, size_t n, double largest, double shape)
{
  Sums sums = { 0.0, 0.0, 0.0 };

  for (size_t i = 0; i < n; i++)
    {
      double x = logs[i] - largest;
      double weight = exp (shape * x);

      sums.weight += weight;
      sums.first += weight * x;
      sums.second += weight * x * x;
    }
  return sums;
}

/* Newton's steps within a bracket for the shape at which weighted mean - 1/shape = mean of the failures, which rises in the
 * shape. @below is how far that mean lies below the largest. */
static NumStatus
solve_shape (const double *logs, size_t n, double largest, double below, double guess, double *shape, Sums *sums)
{
  double low = 0.0;
  double high = HUGE_VAL;

  *shape = guess;
  for (int i = 0; i < STEPS_MOST; i++)
    {
      double mean, excess, slope, next;

      *sums = sums_at (logs, n, largest, *shape);
      mean = sums->first / sums->weight;
      excess = mean - 1.0 / *shape + below;
      slope = sums->second / sums->weight - mean * mean + 1.0 / (*shape * *shape);
      if (excess > 0.0)
        high = *shape;
      else
        low = *shape;
      next = *shape - excess / slope;
      if (!(next > low && next < high))
        next = isinf (high) ? 2.0 * low : 0.5 * (low + high);
      if (fabs (next - *shape) <= 1e-14 * next || excess == 0.0)
        return NUM_OK;
      if (next > SHAPE_MOST)
        return NUM_NO_SOLUTION;
      *shape = next;
    }
  return NUM_OK; /* the bracket is as small as rounding lets it be */
}

/**
 * num_weibull_fit_logs:
 * @logs: (array length=n): logarithms of times, those of the failures first
 * @failures: at least 1
 * @n: units
 * @out: (out): the fit with its covariance
 *
 * Allocates nothing, for use within simulations.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW without a failure; %NUM_NO_SOLUTION when the likelihood has no maximum: all failures at one
 * time and no unit stopped later
 */
NumStatus
num_weibull_fit_logs (const double *logs, size_t failures, size_t n, NumWeibullFit *out)
{
  double r = (double) failures;
  double largest = logs[0];
  double below = 0.0;
  double squares = 0.0;
  double shape, a, b, c, determinant, shift;
  double first = 0.0;
  double second = 0.0;
  Sums sums;
  NumStatus status;

  *out = (NumWeibullFit){ NAN, NAN, NAN, NAN, NAN };
  if (failures == 0)
    return NUM_TOO_FEW;
  for (size_t i = 1; i < n; i++)
    largest = logs[i] > largest ? logs[i] : largest;
  for (size_t i = 0; i < failures; i++)
    below += (largest - logs[i]) / r;
  if (!(below > 0.0))
    return NUM_NO_SOLUTION;
  for (size_t i = 0; i < failures; i++)
    squares += (largest - logs[i] - below) * (largest - logs[i] - below) / r;
  status = solve_shape (logs, n, largest, below, 1.3 / sqrt (squares + 0.1 * below * below), &shape, &sums);
  if (status != NUM_OK)
    return status;

  out->sigma = 1.0 / shape;
  out->location = largest + log (sums.weight / r) / shape;
  shift = largest - out->location;
  /* With w = shape (x - location) and e^w = r weight / sum of weights: sums of w e^w and w^2 e^w. */
  first = r * shape * (sums.first / sums.weight + shift);
  second = r * shape * shape * (sums.second / sums.weight + 2.0 * shift * sums.first / sums.weight + shift * shift);
  a = r * shape * shape;
  b = first * shape;
  c = r + second;
  determinant = a * c - b * b;
  out->var_location = c / determinant;
  out->var_log_sigma = a / determinant;
  out->covariance = -b / determinant;
  return determinant > 0.0 ? NUM_OK : NUM_NO_CONVERGENCE;
}

/**
 * num_weibull_u:
 * @fit: a fit
 * @log_time: logarithm of a time
 * @se: (out): standard error of the result, by the delta method
 *
 * Returns: u = (ln t - location)/sigma, with which the survival is exp (-exp (u))
 */
double
num_weibull_u (const NumWeibullFit *fit, double log_time, double *se)
{
  double u = (log_time - fit->location) / fit->sigma;

  *se = sqrt (fit->var_location / (fit->sigma * fit->sigma) + u * u * fit->var_log_sigma
              + 2.0 * u / fit->sigma * fit->covariance);
  return u;
}

static NumInterval
log_interval (double value, double variance, double z)
{
  double factor = exp (z * sqrt (variance));

  return (NumInterval){ value / factor, value * factor };
}

/**
 * num_weibull:
 * @failed: (array length=failures): times of failure, above 0
 * @failures: at least 1
 * @stopped: (array length=stops) (nullable): times at which other units stopped without failing, above 0
 * @stops: their number, may be 0
 * @confidence: two-sided of shape and scale, one-sided of b10, in (0, 1)
 * @out: (out): the fit
 *
 * Maximum likelihood; intervals of Wald's kind from the observed information in (ln scale, ln (1/shape)); b10 = scale
 * (-ln 0.9)^(1/shape), its bound by the delta method on the log scale (as R's survreg; Meeker and Escobar 1998, chapter 8, from
 * memory). For few failures such bounds promise too much: see num_life().
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW without a failure; %NUM_BAD_INPUT; %NUM_NO_SOLUTION when the likelihood has no maximum;
 * %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_weibull (const double *failed, size_t failures, const double *stopped, size_t stops, double confidence,
             NumWeibull *out)
{
  double z_two = -num_normal_quantile (0.5 * (1.0 - confidence));
  double z_one = num_normal_quantile (confidence);
  double u10 = log (-log1p (-0.1)); /* ln (-ln 0.9) */
  double *logs;
  double se;
  bool positive = true;
  NumStatus status;

  *out = (NumWeibull){ { NAN, NAN, NAN, NAN, NAN }, NAN, NAN, { NAN, NAN }, { NAN, NAN }, NAN, NAN };
  if (failures == 0)
    return NUM_TOO_FEW;
  logs = calloc (failures + stops, sizeof *logs);
  if (logs == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < failures + stops; i++)
    {
      double time = i < failures ? failed[i] : stopped[i - failures];

      positive = positive && time > 0.0 && isfinite (time);
      logs[i] = log (time);
    }
  status = positive && confidence > 0.0 && confidence < 1.0
               ? num_weibull_fit_logs (logs, failures, failures + stops, &out->fit)
               : NUM_BAD_INPUT;
  free (logs);
  if (status != NUM_OK)
    return status;

  out->shape = 1.0 / out->fit.sigma;
  out->scale = exp (out->fit.location);
  out->shape_interval = log_interval (out->shape, out->fit.var_log_sigma, z_two);
  out->scale_interval = log_interval (out->scale, out->fit.var_location, z_two);
  out->b10 = exp (out->fit.location + out->fit.sigma * u10);
  se = sqrt (out->fit.var_location + out->fit.sigma * out->fit.sigma * u10 * u10 * out->fit.var_log_sigma
             + 2.0 * out->fit.sigma * u10 * out->fit.covariance);
  out->b10_low = out->b10 * exp (-z_one * se);
  return NUM_OK;
}

/**
 * num_weibull_survival:
 * @weibull: a fit
 * @at: a time above 0
 * @confidence: one-sided, in (0, 1)
 * @survival: (out): share that lives beyond it
 * @low: (out): lower bound, exp (-exp (u + z se(u)))
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_weibull_survival (const NumWeibull *weibull, double at, double confidence, double *survival, double *low)
{
  double u, se;

  *survival = *low = NAN;
  if (!(at > 0.0 && isfinite (at)) || !(confidence > 0.0 && confidence < 1.0))
    return NUM_BAD_INPUT;
  u = num_weibull_u (&weibull->fit, log (at), &se);
  *survival = exp (-exp (u));
  *low = exp (-exp (u + num_normal_quantile (confidence) * se));
  return NUM_OK;
}
