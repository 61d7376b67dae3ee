/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * First-pass yields of the steps in a row, and of the row.
 *
 * Method. Step i of s has the posterior Beta(k + 1/2 + (s-i)/(2s), n - k + 1/(2s)). The priors multiply to Beta(1/2, 1/2)
 * whatever s is, so that cutting the same work into more steps does not change the answer; and for a pure sequence, in which
 * each step is given just what the one before passed the first time, the product is exactly Beta(k_s + 1/2, n_1 - k_s + 1/2)
 * (products of betas: Jambunathan 1954, from memory). Other products are drawn.
 */
#include "num-yield.h"

#include "num-dist.h"
#include "num-order.h"
#include "num-parts.h"
#include "num-random.h"

#include <math.h>
#include <stdlib.h>

#define PART_LEAST 5000 /* draws that are worth a thread */

static size_t
units_of (const NumYieldStep *step)
{
  return step->first + step->reworked + step->scrapped + step->waiting;
}

static NumYieldAnswer
answer_of (const NumYieldStep *step)
{
  double n = (double) units_of (step);
  double good = (double) (step->first + step->reworked);

  return (NumYieldAnswer){
    .first_pass = (double) step->first / n,
    .final = good / (good + (double) step->scrapped), /* 0/0 is NAN: nothing is decided */
    .final_range = { good / n, (good + (double) step->waiting) / n },
  };
}

static double
draw_product (const NumYieldStep *steps, size_t count, NumRandom *random)
{
  double s = (double) count;
  double product = 1.0;

  for (size_t i = 0; i < count; i++)
    {
      double k = (double) steps[i].first;
      double rest = (double) (units_of (&steps[i]) - steps[i].first);

      product *= num_random_beta (random, k + 0.5 + (s - 1.0 - (double) i) / (2.0 * s), rest + 0.5 / s);
    }
  return product;
}

typedef struct
{
  const NumYieldStep *steps;
  size_t count;
  NumRandom random; /* before any draw */
  double *products;
} Draws;

static void
draw_part (size_t first, size_t end, void *data)
{
  const Draws *draws = data;
  NumRandom random = draws->random;

  for (size_t i = first; i < end; i++)
    {
      num_random_draw (&random, (uint32_t) i);
      draws->products[i] = draw_product (draws->steps, draws->count, &random);
    }
}

static NumStatus
draw_all (const NumYieldStep *steps, size_t count, double tail, double target, uint64_t key_high, uint64_t key_low,
          size_t draws, NumYield *out)
{
  const double tails[2] = { tail, 1.0 - tail };
  Draws all = { .steps = steps, .count = count, .products = calloc (draws, sizeof *all.products) };
  size_t reached = 0;
  double bounds[2];
  NumStatus status;

  if (all.products == NULL)
    return NUM_NO_MEMORY;
  num_random_init (&all.random, key_high, key_low);
  num_in_parts (draws, PART_LEAST, draw_part, &all);
  for (size_t i = 0; i < draws; i++)
    reached += all.products[i] >= target;
  status = num_quantiles (all.products, draws, tails, 2, bounds);
  free (all.products);
  if (status != NUM_OK)
    return status;
  out->interval = (NumInterval){ bounds[0], bounds[1] };
  if (!isnan (target))
    {
      double share = (double) reached / (double) draws;

      out->target_confidence = share;
      out->target_error = sqrt (share * (1.0 - share) / (double) draws);
    }
  return NUM_OK;
}

/**
 * num_yield:
 * @steps: (array length=count): the steps in order, each with at least one unit
 * @count: at least 1
 * @confidence: two-sided, of the rolled yield, in (0, 1)
 * @target: rolled yield wanted, in (0, 1), or NAN
 * @key_high: key of the draws
 * @key_low: key of the draws
 * @draws: how many, at most 2^32; used unless the answer is exact
 * @answers: (out) (array length=count): yields of each step
 * @out: (out): the product of the first-pass yields
 *
 * Low is 0 when a step had no first-time good unit, high is 1 when every step was all good.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW steps, or none of a step's units decided or waiting; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_yield (const NumYieldStep *steps, size_t count, double confidence, double target, uint64_t key_high,
           uint64_t key_low, size_t draws, NumYieldAnswer *answers, NumYield *out)
{
  double tail = 0.5 * (1.0 - confidence);
  bool sequence = true;
  bool none = false;
  bool all = true;
  NumStatus status = NUM_OK;

  *out = (NumYield){ 1.0, { NAN, NAN }, NAN, NAN };
  if (count == 0)
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || !(isnan (target) || (target > 0.0 && target < 1.0)) || draws == 0
      || draws > UINT32_MAX)
    return NUM_BAD_INPUT;
  for (size_t i = 0; i < count; i++)
    {
      if (units_of (&steps[i]) > steps[i].in)
        return NUM_BAD_INPUT;
      if (units_of (&steps[i]) == 0)
        return NUM_TOO_FEW;
      answers[i] = answer_of (&steps[i]);
      out->rolled *= answers[i].first_pass;
      none = none || steps[i].first == 0;
      all = all && steps[i].first == units_of (&steps[i]);
      sequence = sequence && (i == 0 || units_of (&steps[i]) == steps[i - 1].first);
    }

  if (sequence)
    {
      double a = (double) steps[count - 1].first + 0.5;
      double b = (double) (units_of (&steps[0]) - steps[count - 1].first) + 0.5;

      out->interval = (NumInterval){ num_beta_quantile (tail, a, b), num_beta_quantile_upper (tail, a, b) };
      if (!isnan (target))
        {
          out->target_confidence = num_beta_upper (target, a, b);
          out->target_error = 0.0;
        }
    }
  else
    status = draw_all (steps, count, tail, target, key_high, key_low, draws, out);
  if (none)
    out->interval.low = 0.0;
  if (all)
    out->interval.high = 1.0;
  return status;
}
