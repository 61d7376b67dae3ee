/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many units to build before one knows. */
#include "num-plan.h"

#include "num-conformance.h"
#include "num-critical.h"
#include "num-demonstration.h"
#include "num-dist.h"
#include "num-random.h"
#include "num-search.h"
#include "num-solve.h"

#include <math.h>

/**
 * num_plan_counts:
 * @failed: failures so far, and the most that the plan allows in all
 * @units: units so far, at least @failed; may be 0
 * @tolerated: failing share still tolerated, in (0, 1)
 * @confidence: wanted, in (0, 1)
 * @out: (out): the plan
 *
 * Units: what num_demonstration_units() asks for in all, less those so far. Assurance: the chance that none of them fails,
 * by the posterior Beta(failed + 1/2, units - failed + 1/2) of the failing share (Jeffreys). A bad design passes with
 * (1 - tolerated)^units.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT; %NUM_NO_SOLUTION
 */
NumStatus
num_plan_counts (size_t failed, size_t units, double tolerated, double confidence, NumPlan *out)
{
  double a = (double) failed + 0.5;
  double b = (double) (units - failed) + 0.5;
  size_t all;
  double further;
  NumStatus status;

  *out = (NumPlan){ 0, NAN, NAN };
  if (failed > units)
    return NUM_BAD_INPUT;
  status = num_demonstration_units (failed, tolerated, confidence, &all);
  if (status != NUM_OK)
    return status;
  out->units = all > units ? all - units : 0;
  further = (double) out->units;
  out->assurance = exp (num_beta_function_log (a, b + further) - num_beta_function_log (a, b));
  out->bad_passes = exp (further * log1p (-tolerated));
  return NUM_OK;
}

/* A population, drawn or supposed. */
typedef struct
{
  double mean;
  double sd;
} Population;

typedef struct
{
  const NumPlanQuestion *question;
  uint64_t key_high;
  uint64_t key_low;
  size_t draws;
} Search;

/* A mean and deviation that the sample so far leaves possible: the fiducial distribution that the confidence itself uses. */
static Population
draw_population (const NumPlanQuestion *q, NumRandom *random)
{
  double df = (double) q->n - 1.0;
  double sd = q->sd * sqrt (df / num_random_chi_square (random, df));

  return (Population){ q->mean + sd / sqrt ((double) q->n) * num_random_normal (random), sd };
}

/* Adds @further units of the population to the sample so far; whether the confidence is then reached. */
static bool
passes (const NumPlanQuestion *q, Population population, size_t further, const NumCritical *critical, NumRandom *random)
{
  double n = (double) q->n;
  double m = (double) further;
  double mean = population.mean + population.sd / sqrt (m) * num_random_normal (random);
  double squares = further > 1 ? population.sd * population.sd * num_random_chi_square (random, m - 1.0) : 0.0;
  double off = mean - q->mean;

  squares += q->sd * q->sd * (n - 1.0) + off * off * n * m / (n + m);
  return num_critical_met (critical, q->mean + off * m / (n + m), sqrt (squares / (n + m - 1.0)), q->limits);
}

/* Chance of passing: with @fixed, of that population, else over what is possible. The same draws serve every number of
 * units, so that the chances of two numbers can be compared. */
static NumStatus
chance (const Search *search, size_t further, const Population *fixed, double *out)
{
  const NumPlanQuestion *q = search->question;
  bool two = isfinite (q->limits.lower) && isfinite (q->limits.upper);
  size_t good = 0;
  NumCritical critical;
  NumRandom random;
  NumStatus status = num_critical_init (&critical, q->n + further, two, q->coverage, q->confidence);

  if (status != NUM_OK)
    return status;
  if (further == 0)
    {
      *out = num_critical_met (&critical, q->mean, q->sd, q->limits) ? 1.0 : 0.0;
      return NUM_OK;
    }
  num_random_init (&random, search->key_high, search->key_low);
  for (size_t i = 0; i < search->draws; i++)
    {
      Population population;

      num_random_draw (&random, (uint32_t) i);
      population = fixed != NULL ? *fixed : draw_population (q, &random);
      good += passes (q, population, further, &critical, &random);
    }
  *out = (double) good / (double) search->draws;
  return NUM_OK;
}

static NumStatus
enough_units (size_t further, void *data, bool *enough)
{
  const Search *search = data;
  double reached;
  NumStatus status = chance (search, further, NULL, &reached);

  *enough = status == NUM_OK && reached >= search->question->assurance;
  return status;
}

static double
share_excess (double mean, void *data)
{
  const NumPlanQuestion *q = data;

  return num_normal_share (mean, q->sd, q->limits) - q->coverage;
}

/* The nearest population that is just not good enough: the deviation as it is, the mean moved to its nearer limit; where the
 * limits are too narrow for that deviation, the middle with one that just fits. */
static NumStatus
worst_tolerated (const NumPlanQuestion *q, Population *out)
{
  double z = num_normal_quantile (q->coverage);
  double middle = 0.5 * (q->limits.lower + q->limits.upper);
  bool upper = q->limits.upper - q->mean < q->mean - q->limits.lower;

  *out = (Population){ upper ? q->limits.upper - z * q->sd : q->limits.lower + z * q->sd, q->sd };
  if (isinf (middle) || isnan (middle))
    return NUM_OK;
  if (!(num_normal_share (middle, q->sd, q->limits) > q->coverage))
    {
      double half = 0.5 * (q->limits.upper - q->limits.lower);

      *out = (Population){ middle, half / -num_normal_quantile (0.5 * (1.0 - q->coverage)) };
      return NUM_OK;
    }
  return num_root (share_excess, (void *) (uintptr_t) q, middle, upper ? q->limits.upper + 40.0 * q->sd
                                                                       : q->limits.lower - 40.0 * q->sd,
                   1e-10, &out->mean);
}

/**
 * num_plan_measured:
 * @question: the sample so far and what is wanted; n at least 2, sd above 0, coverage at least 0.5, assurance in (0, 1)
 * @key_high: key of the draws
 * @key_low: key of the draws
 * @draws: how many a number of units, at most 2^32; %NUM_PLAN_DRAWS for plans
 * @out: (out): the plan
 *
 * The smallest number of further units with which the confidence is reached with the assurance wanted. Mean and deviation
 * are drawn from what the sample leaves possible, the further units from them. No number is enough when the chance that the
 * design is good is itself below the assurance.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_SOLUTION with up to %NUM_PLAN_UNITS_MOST;
 * %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_plan_measured (const NumPlanQuestion *question, uint64_t key_high, uint64_t key_low, size_t draws, NumPlan *out)
{
  const NumPlanQuestion *q = question;
  Search search = { q, key_high, key_low, draws };
  Population bad;
  double good_enough;
  NumStatus status;

  *out = (NumPlan){ 0, NAN, NAN };
  if (!(q->confidence > 0.0 && q->confidence < 1.0) || !(q->assurance > 0.0 && q->assurance < 1.0) || draws == 0
      || draws > UINT32_MAX || !(q->coverage >= 0.5))
    return NUM_BAD_INPUT;
  status = num_conformance_confidence (q->n, q->mean, q->sd, q->limits, q->coverage, &good_enough);
  if (status != NUM_OK)
    return status;
  if (good_enough < 0.9 * q->assurance) /* the limit for ever more units, with room for chance in the draws */
    return NUM_NO_SOLUTION;
  status = num_search_least (enough_units, &search, 0, NUM_PLAN_UNITS_MOST, &out->units);
  if (status == NUM_OK)
    status = chance (&search, out->units, NULL, &out->assurance);
  if (status == NUM_OK)
    status = worst_tolerated (q, &bad);
  if (status == NUM_OK)
    status = chance (&search, out->units, &bad, &out->bad_passes);
  return status;
}

/**
 * num_plan_counts_chance:
 * @failed: failures so far
 * @units: units so far, at least @failed; may be 0
 * @further: units that will be built
 * @allowed: how many of those may fail
 * @tolerated: failing share still tolerated, in (0, 1)
 * @out: (out): chance that no more than @allowed of them fail: by the posterior Beta(failed + 1/2, units - failed + 1/2) of
 *   the failing share (Jeffreys; beta-binomial), and at exactly @tolerated
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_plan_counts_chance (size_t failed, size_t units, size_t further, size_t allowed, double tolerated, NumPlan *out)
{
  double a = (double) failed + 0.5;
  double b = (double) (units - failed) + 0.5;
  double n = (double) further;
  double base;

  *out = (NumPlan){ further, NAN, NAN };
  if (failed > units || !(tolerated > 0.0 && tolerated < 1.0))
    return NUM_BAD_INPUT;
  if (allowed >= further)
    {
      out->assurance = out->bad_passes = 1.0;
      return NUM_OK;
    }
  out->assurance = 0.0;
  base = num_beta_function_log (a, b);
  for (size_t i = 0; i <= allowed; i++)
    { /* 1/C(n, x) = (n + 1) B(x + 1, n - x + 1) */
      double x = (double) i;

      out->assurance += exp (num_beta_function_log (a + x, b + n - x) - base - log (n + 1.0)
                             - num_beta_function_log (x + 1.0, n - x + 1.0));
    }
  if (out->assurance > 1.0)
    out->assurance = 1.0;
  out->bad_passes = num_binomial_lower ((double) allowed, n, tolerated);
  return NUM_OK;
}

/**
 * num_plan_measured_chance:
 * @question: as for num_plan_measured(); its assurance is not looked at
 * @further: units that will be built
 * @key_high: key of the draws
 * @key_low: key of the draws
 * @draws: how many, at most 2^32
 * @out: (out): chances with that many units, in the way of num_plan_measured()
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_plan_measured_chance (const NumPlanQuestion *question, size_t further, uint64_t key_high, uint64_t key_low, size_t draws,
                          NumPlan *out)
{
  Search search = { question, key_high, key_low, draws };
  Population bad;
  NumStatus status;

  *out = (NumPlan){ further, NAN, NAN };
  if (!(question->confidence > 0.0 && question->confidence < 1.0) || !(question->coverage >= 0.5) || draws == 0
      || draws > UINT32_MAX)
    return NUM_BAD_INPUT;
  if (question->n < 2)
    return NUM_TOO_FEW;
  if (!(question->sd > 0.0))
    return NUM_NO_VARIATION;
  status = chance (&search, further, NULL, &out->assurance);
  if (status == NUM_OK)
    status = worst_tolerated (question, &bad);
  if (status == NUM_OK)
    status = chance (&search, further, &bad, &out->bad_passes);
  return status;
}
