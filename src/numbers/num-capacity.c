/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a row of benches can make in a month. */
#include "num-capacity.h"

#include <math.h>
#include <stdlib.h>

static bool
step_fits (const NumCapacityStep *step)
{
  const double positive[] = { step->machines, step->people, step->share, step->hours_week,
                              step->uptime,   step->batch,  step->yield };
  const double not_negative[] = { step->cycle_min, step->setup_min, step->rework_share, step->rework_min };

  for (size_t i = 0; i < sizeof positive / sizeof *positive; i++)
    if (!(positive[i] > 0.0 && isfinite (positive[i])))
      return false;
  for (size_t i = 0; i < sizeof not_negative / sizeof *not_negative; i++)
    if (!(not_negative[i] >= 0.0 && isfinite (not_negative[i])))
      return false;
  return step->uptime <= 1.0 && step->share <= 1.0 && step->yield <= 1.0 && step->rework_share <= 1.0;
}

static bool
same_bench (const NumCapacityStep *a, const NumCapacityStep *b)
{
  return a->bench != NUM_CAPACITY_ALONE && a->bench == b->bench;
}

/* Steps of one bench describe the same bench. */
static bool
benches_agree (const NumCapacityStep *steps, size_t count)
{
  for (size_t i = 0; i < count; i++)
    for (size_t j = 0; j < i; j++)
      if (same_bench (&steps[i], &steps[j])
          && (steps[i].machines != steps[j].machines || steps[i].hours_week != steps[j].hours_week
              || steps[i].uptime != steps[j].uptime || steps[i].people != steps[j].people
              || steps[i].share != steps[j].share))
        return false;
  return true;
}

/**
 * num_capacity:
 * @steps: (array length=count): the steps in order
 * @count: at least 1
 * @weeks_month: weeks a month, above 0
 * @rates: (out) (array length=count): shippable pieces a month of each step's bench
 * @out: (out): the least of them and where it is
 *
 * Rate of a bench = min(machines, people) share hours 60 uptime weeks / sum over its steps of (cycle + setup/batch + rework
 * share rework minutes) / product of the yields from that step on (arithmetic; common practice, no source).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW steps; %NUM_BAD_INPUT, also when steps of one bench describe it differently;
 * %NUM_NO_SOLUTION when a bench needs no time at all; %NUM_NO_MEMORY
 */
NumStatus
num_capacity (const NumCapacityStep *steps, size_t count, double weeks_month, double *rates, NumCapacity *out)
{
  double *minutes; /* a shippable piece, of each step */
  double yield = 1.0;

  *out = (NumCapacity){ NAN, 0 };
  if (count == 0)
    return NUM_TOO_FEW;
  if (!(weeks_month > 0.0 && isfinite (weeks_month)))
    return NUM_BAD_INPUT;
  for (size_t i = 0; i < count; i++)
    if (!step_fits (&steps[i]))
      return NUM_BAD_INPUT;
  if (!benches_agree (steps, count))
    return NUM_BAD_INPUT;
  minutes = calloc (count, sizeof *minutes);
  if (minutes == NULL)
    return NUM_NO_MEMORY;

  for (size_t i = count; i > 0; i--)
    {
      const NumCapacityStep *step = &steps[i - 1];

      yield *= step->yield;
      minutes[i - 1]
          = (step->cycle_min + step->setup_min / step->batch + step->rework_share * step->rework_min) / yield;
    }
  for (size_t i = 0; i < count; i++)
    {
      double needed = 0.0;

      for (size_t j = 0; j < count; j++)
        needed += i == j || same_bench (&steps[i], &steps[j]) ? minutes[j] : 0.0;
      rates[i] = fmin (steps[i].machines, steps[i].people) * steps[i].share * steps[i].hours_week * 60.0 * steps[i].uptime
                 * weeks_month / needed;
      if (!(needed > 0.0))
        {
          free (minutes);
          return NUM_NO_SOLUTION;
        }
      if (i == 0 || rates[i] < rates[out->constraint])
        out->constraint = i;
    }
  free (minutes);
  out->month = rates[out->constraint];
  return NUM_OK;
}
