/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How sure a life test makes us that a share lives beyond a time.
 *
 * With at least three failures: u = ln(-ln survival) at that time is estimated by the Weibull fit with its standard error,
 * and z = (u0 - u)/se against u0 of the share wanted. The distribution of Z is simulated: times are drawn from the fit
 * restricted to the share wanted exactly, each unit keeps its stopping time (a failed one: the longest), and each draw is
 * fitted anew. The confidence is the share of draws with Z <= z; one without a fit counts as Z > z (Jeng and Meeker 2000, from
 * memory). Wald's bounds would promise far too much here.
 *
 * With fewer: the shape is stated beforehand as a range; P(chi-square(2r+2) <= 2(-ln share) sum of (t/at)^shape), at the
 * shape of the range that makes the sum least (Nelson 1985, from memory). The sum is convex in the shape.
 */
#include "num-life.h"

#include "num-dist.h"
#include "num-random.h"
#include "num-solve.h"
#include "num-weibull.h"

#include <math.h>
#include <stdlib.h>

/* Logarithms of time over the time wanted, failures first. */
typedef struct
{
  double *logs;
  size_t failures;
  size_t n;
  double hazard; /* -ln share */
} Times;

static double
log_sum (double shape, void *data)
{
  const Times *times = data;
  double largest = -HUGE_VAL;
  double sum = 0.0;

  for (size_t i = 0; i < times->n; i++)
    largest = fmax (largest, shape * times->logs[i]);
  for (size_t i = 0; i < times->n; i++)
    sum += exp (shape * times->logs[i] - largest);
  /* cppcheck-suppress invalidFunctionArg ; there is a time at least, and the largest adds 1 */
  return largest + log (sum);
}

static NumStatus
stated (Times *times, NumInterval shape, NumLife *out)
{
  double place;
  double least = log_sum (shape.low, times);
  NumStatus status = NUM_OK;

  if (shape.high > shape.low)
    status = num_minimise (log_sum, times, shape.low, shape.high, 1e-9, &place, &least);
  if (status != NUM_OK)
    return status;
  out->confidence = num_chi_square_lower (2.0 * times->hazard * exp (least), 2.0 * (double) times->failures + 2.0);
  out->error = 0.0;
  return NUM_OK;
}

/* Slope in the shape of the likelihood restricted to the share at the time wanted; it falls. */
static double
restricted_slope (double log_shape, void *data)
{
  const Times *times = data;
  double shape = exp (log_shape);
  double slope = (double) times->failures / shape;

  for (size_t i = 0; i < times->failures; i++)
    slope += times->logs[i];
  for (size_t i = 0; i < times->n; i++)
    slope -= times->hazard * times->logs[i] * exp (fmin (700.0, shape * times->logs[i]));
  return slope;
}

/* Draws a test under the restricted fit: its failures first in @drawn. */
static size_t
draw_test (const double *stops, size_t n, double location, double sigma, NumRandom *random, double *drawn)
{
  size_t failures = 0;
  size_t last = n;

  for (size_t i = 0; i < n; i++)
    {
      double x = location + sigma * log (num_random_exponential (random));

      if (x <= stops[i])
        drawn[failures++] = x;
      else
        drawn[--last] = stops[i];
    }
  return failures;
}

static double
statistic (const double *logs, size_t failures, size_t n, double hazard, NumStatus *status)
{
  NumWeibullFit fit;
  double u, se;

  *status = num_weibull_fit_logs (logs, failures, n, &fit);
  if (*status != NUM_OK)
    return HUGE_VAL;
  u = num_weibull_u (&fit, 0.0, &se);
  return (log (hazard) - u) / se;
}

static NumStatus
fitted (Times *times, double planned_log, uint64_t key_high, uint64_t key_low, size_t draws, NumLife *out)
{
  double *stops = calloc (2 * times->n, sizeof *stops);
  double *drawn;
  double log_shape, sigma, z;
  size_t below = 0;
  NumRandom random;
  NumStatus status;

  if (stops == NULL)
    return NUM_NO_MEMORY;
  drawn = stops + times->n;
  z = statistic (times->logs, times->failures, times->n, times->hazard, &status);
  if (status == NUM_OK)
    status = num_root (restricted_slope, times, log (1e-4), log (1e6), 1e-10, &log_shape);
  if (status != NUM_OK)
    {
      free (stops);
      return status;
    }
  sigma = exp (-log_shape);
  for (size_t i = 0; i < times->n; i++)
    stops[i] = i < times->failures ? fmax (planned_log, times->logs[i]) : times->logs[i];
  if (isinf (planned_log)) /* all failed and nothing was planned: no unit stops */
    for (size_t i = 0; i < times->failures; i++)
      stops[i] = HUGE_VAL;

  num_random_init (&random, key_high, key_low);
  for (size_t i = 0; i < draws; i++)
    {
      size_t failures;
      NumStatus one;

      num_random_draw (&random, (uint32_t) i);
      failures = draw_test (stops, times->n, -sigma * log (times->hazard), sigma, &random, drawn);
      below += statistic (drawn, failures, times->n, times->hazard, &one) <= z;
    }
  free (stops);
  out->confidence = (double) below / (double) draws;
  out->error = sqrt (out->confidence * (1.0 - out->confidence) / (double) draws);
  return NUM_OK;
}

static bool
question_fits (const NumLifeQuestion *q)
{
  for (size_t i = 0; i < q->failures; i++)
    if (!(q->failed[i] > 0.0 && isfinite (q->failed[i])))
      return false;
  for (size_t i = 0; i < q->stops; i++)
    if (!(q->stopped[i] > 0.0 && isfinite (q->stopped[i])))
      return false;
  return q->at > 0.0 && isfinite (q->at) && q->share > 0.0 && q->share < 1.0 && q->planned >= 0.0;
}

/**
 * num_life:
 * @question: the test and what is asked of it; times above 0
 * @key_high: key of the draws
 * @key_low: key of the draws
 * @draws: how many, at most 2^32; %NUM_LIFE_DRAWS at least where something is decided
 * @out: (out): the confidence and the way it was found
 *
 * See the top of this file.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no unit, or below 3 failures without a stated shape; %NUM_BAD_INPUT; %NUM_NO_SOLUTION
 * when the likelihood has no maximum; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_life (const NumLifeQuestion *question, uint64_t key_high, uint64_t key_low, size_t draws, NumLife *out)
{
  const NumLifeQuestion *q = question;
  Times times = { NULL, q->failures, q->failures + q->stops, -log (q->share) };
  double planned = q->planned > 0.0 ? log (q->planned / q->at) : -HUGE_VAL;
  NumStatus status;

  *out = (NumLife){ NAN, NAN, q->failures < NUM_LIFE_FIT_FROM ? NUM_LIFE_STATED : NUM_LIFE_FITTED };
  if (!question_fits (q) || draws == 0 || draws > UINT32_MAX)
    return NUM_BAD_INPUT;
  if (times.n == 0)
    return NUM_TOO_FEW;
  if (out->way == NUM_LIFE_STATED && isnan (q->shape.low))
    return NUM_TOO_FEW;
  if (out->way == NUM_LIFE_STATED && !(q->shape.low > 0.0 && q->shape.low <= q->shape.high && isfinite (q->shape.high)))
    return NUM_BAD_INPUT;

  times.logs = calloc (times.n, sizeof *times.logs);
  if (times.logs == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < times.n; i++)
    {
      times.logs[i] = log ((i < q->failures ? q->failed[i] : q->stopped[i - q->failures]) / q->at);
      if (i >= q->failures && !(q->planned > 0.0))
        planned = fmax (planned, times.logs[i]);
    }
  status = out->way == NUM_LIFE_STATED ? stated (&times, q->shape, out)
                                       : fitted (&times, planned, key_high, key_low, draws, out);
  free (times.logs);
  return status;
}
