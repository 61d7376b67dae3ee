/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Conformance when the units come from several lots of a part or a step.
 *
 * Method. One-way random effects; generalised confidence by draws (Mee and Owen 1983; Krishnamoorthy and Mathew 2004; from
 * memory). With a lots of m units (m the harmonic mean when they differ), SSe the squares within, SSb = m times the
 * squares of the unweighted lot means around theirs:
 *
 *   within  = SSe / chi-square(N - a)
 *   between = max (0, (SSb / chi-square(a - 1) - within) / m)
 *   mean    = mean of lot means - Z sqrt (SSb / (chi-square(a - 1) a m)), with the same chi-square(a - 1)
 *
 * The confidence is the share of draws in which a normal population of that mean and variance between + within has the
 * coverage inside its limits. Each draw reads its own stretch of the keyed generator.
 */
#include "num-lots.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-random.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct
{
  double lots;        /* a */
  double size;        /* m */
  double mean;        /* of the lot means */
  double between;     /* SSb */
  double within;      /* SSe */
  double df_within;   /* N - a */
} Squares;

/* Takes logarithms where wanted; the resolution bounds the variation within from below. */
static NumStatus
find_squares (const NumSample *lots, size_t count, double step, Squares *out)
{
  double *means = calloc (count, sizeof *means);
  double reciprocals = 0.0;
  size_t n = 0;
  NumMoments moments;
  NumStatus status = means == NULL ? NUM_NO_MEMORY : NUM_OK;

  *out = (Squares){ .lots = (double) count };
  for (size_t i = 0; i < count && status == NUM_OK; i++)
    {
      status = num_moments (lots[i].values, lots[i].n, &moments);
      means[i] = moments.mean;
      if (lots[i].n > 1)
        out->within += moments.sd * moments.sd * (double) (lots[i].n - 1);
      reciprocals += 1.0 / (double) lots[i].n;
      n += lots[i].n;
    }
  if (status == NUM_OK)
    status = num_moments (means, count, &moments);
  free (means);
  if (status != NUM_OK)
    return status;

  out->size = (double) count / reciprocals;
  out->mean = moments.mean;
  out->between = out->size * moments.sd * moments.sd * (double) (count - 1);
  out->df_within = (double) (n - count);
  out->within = fmax (out->within, 0.25 * step * step * out->df_within);
  return out->within + out->between > 0.0 ? NUM_OK : NUM_NO_VARIATION;
}

/* Whether a normal population has the coverage inside; most draws are decided without a normal integral. */
static bool
conforms (double mean, double sd, NumLimits limits, double coverage, double z_one, double z_two)
{
  double near = fmin (mean - limits.lower, limits.upper - mean);

  if (near < z_one * sd)
    return false;
  if (near >= z_two * sd || isinf (limits.lower) || isinf (limits.upper))
    return true;
  return num_normal_share (mean, sd, limits) >= coverage;
}

static double
share_of_draws (const Squares *x, NumLimits limits, double coverage, uint64_t key_high, uint64_t key_low, size_t draws)
{
  double z_one = num_normal_quantile (coverage);
  double z_two = -num_normal_quantile (0.5 * (1.0 - coverage));
  size_t good = 0;
  NumRandom random;

  num_random_init (&random, key_high, key_low);
  for (size_t i = 0; i < draws; i++)
    {
      double within = 0.0;
      double ratio, total, mean;

      num_random_draw (&random, (uint32_t) i);
      if (x->df_within > 0.0)
        within = x->within / num_random_chi_square (&random, x->df_within);
      ratio = x->between / num_random_chi_square (&random, x->lots - 1.0);
      total = within + fmax (0.0, (ratio - within) / x->size);
      mean = x->mean - num_random_normal (&random) * sqrt (ratio / (x->lots * x->size));
      good += conforms (mean, sqrt (total), limits, coverage, z_one, z_two);
    }
  return (double) good / (double) draws;
}

static NumStatus
lots_confidence (const NumSample *lots, size_t count, NumLimits limits, double coverage, double step, uint64_t key_high,
                 uint64_t key_low, size_t draws, double *confidence)
{
  Squares squares;
  NumStatus status = find_squares (lots, count, step, &squares);

  *confidence = status == NUM_OK ? share_of_draws (&squares, limits, coverage, key_high, key_low, draws) : nan ("");
  return status;
}

/* All values in one array, and beside it their logarithms where all are above 0. */
typedef struct
{
  double *values;
  double *logs;      /* NULL where a value is not above 0 */
  NumSample *groups; /* lots of @logs */
  size_t n;
  double mean;
} Pool;

static void
pool_clear (Pool *pool)
{
  free (pool->values);
  free (pool->logs);
  free (pool->groups);
}

static NumStatus
pool_init (Pool *pool, const NumSample *lots, size_t count)
{
  NumMoments moments;
  NumStatus status;
  size_t at = 0;

  *pool = (Pool){ 0 };
  for (size_t i = 0; i < count; i++)
    {
      if (lots[i].n == 0)
        return NUM_TOO_FEW;
      pool->n += lots[i].n;
    }
  pool->values = calloc (pool->n, sizeof *pool->values);
  pool->logs = calloc (pool->n, sizeof *pool->logs);
  pool->groups = calloc (count, sizeof *pool->groups);
  if (pool->values == NULL || pool->logs == NULL || pool->groups == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    {
      memcpy (pool->values + at, lots[i].values, lots[i].n * sizeof *pool->values);
      pool->groups[i] = (NumSample){ pool->logs + at, lots[i].n };
      at += lots[i].n;
    }
  status = num_moments (pool->values, pool->n, &moments);
  if (status != NUM_OK)
    return status;
  pool->mean = moments.mean;
  if (!(moments.min > 0.0))
    {
      free (pool->logs);
      pool->logs = NULL;
      return NUM_OK;
    }
  for (size_t i = 0; i < pool->n; i++)
    pool->logs[i] = log (pool->values[i]);
  return NUM_OK;
}

/**
 * num_lots:
 * @lots: (array length=count): a sample a lot, none empty
 * @count: lots, at least %NUM_LOTS_LEAST
 * @limits: at least one finite
 * @coverage: share of the population wanted inside, in (0, 1)
 * @shape: what is assumed; %NUM_SHAPE_UNKNOWN has no lots method
 * @resolution: step in which the values were read, 0 where unknown
 * @key_high: key of the draws, for instance of the book
 * @key_low: key of the draws, for instance of the criterion
 * @draws: how many, at most 2^32; %NUM_LOTS_DRAWS at least where something is decided
 * @out: (out): the answer
 *
 * See the method above. Log-normal: on logarithms. Least: the smaller of the normal and, where all values are positive,
 * the log-normal share of draws, as with the pooled answer. The confidence is the smaller of the draws' and the pooled one;
 * whether something is met should be asked of lots - 2.58 error as well as of pooled.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW lots or an empty one; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE;
 * %NUM_NO_MEMORY
 */
NumStatus
num_lots (const NumSample *lots, size_t count, NumLimits limits, double coverage, NumShape shape, double resolution,
          uint64_t key_high, uint64_t key_low, size_t draws, NumLots *out)
{
  Pool pool = { 0 };
  NumConformance pooled;
  NumStatus status;
  double plain = NAN;
  double logged = NAN;

  *out = (NumLots){ NAN, NAN, NAN, NAN, NAN, draws };
  if (shape == NUM_SHAPE_UNKNOWN || draws == 0 || draws > UINT32_MAX)
    return NUM_BAD_INPUT;
  if (count < NUM_LOTS_LEAST)
    return NUM_TOO_FEW;

  status = pool_init (&pool, lots, count);
  if (status == NUM_OK)
    status = num_conformance_values (pool.values, pool.n, limits, coverage, 0.95, shape, resolution, &pooled);
  if (status == NUM_OK && shape != NUM_SHAPE_LOGNORMAL)
    status = lots_confidence (lots, count, limits, coverage, resolution, key_high, key_low, draws, &plain);
  if (status == NUM_OK && shape != NUM_SHAPE_NORMAL && pool.logs != NULL)
    status = lots_confidence (pool.groups, count, num_limits_log (limits), coverage, resolution / pool.mean, key_high, key_low, draws,
                              &logged);
  pool_clear (&pool);
  if (status != NUM_OK)
    return status;

  out->lots = fmin (plain, logged); /* the one that is not NAN where only one was asked */
  out->error = sqrt (out->lots * (1.0 - out->lots) / (double) draws);
  out->pooled = pooled.confidence;
  out->contrary = pooled.contrary;
  out->confidence = fmin (out->lots, out->pooled);
  return NUM_OK;
}
