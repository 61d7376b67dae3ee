/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long things last when some have not ended yet: Kaplan and Meier's curve. */
#include "num-survival.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-order.h"

#include <math.h>
#include <stdlib.h>

#define EQUAL 1.5e-8 /* a curve this close to one half is at it; R's survfit takes the same square root of epsilon */

typedef struct
{
  double time;
  bool ended;
} Exit;

static int
compare_exits (const void *a, const void *b)
{
  const Exit *x = a;
  const Exit *y = b;

  return (x->time > y->time) - (x->time < y->time);
}

/* One of the three curves: the estimate (@side 0), or the lower or upper end of its pointwise interval. */
static double
curve (const NumSurvivalStep *step, double side, double z)
{
  double s = step->survival;
  double relative;

  if (side == 0.0)
    return s;
  if (isnan (step->se))
    return nan ("");
  relative = step->se / (s * fabs (log (s))); /* standard error of ln(-ln s) */
  return exp (-exp (log (-log (s)) - side * z * relative));
}

/*
 * Where a falling curve passes one half: its first time below, or the middle of the while for which it lies exactly there, up
 * to @last, the last time of all, when it falls no further.
 */
static double
crossing (const NumSurvivalStep *steps, size_t count, double side, double z, double last)
{
  for (size_t i = 0; i < count; i++)
    {
      double at = curve (&steps[i], side, z);

      if (isnan (at) || !(at < 0.5 + EQUAL))
        continue;
      if (!(fabs (at - 0.5) < EQUAL))
        return steps[i].time;
      for (size_t j = i + 1; j < count; j++)
        if (curve (&steps[j], side, z) < at)
          return 0.5 * (steps[i].time + steps[j].time);
      return 0.5 * (steps[i].time + last);
    }
  return nan ("");
}

/* Entry times and exits in order; steps are filled by walking both. */
static size_t
walk (const Exit *exits, const double *entries, size_t n, NumSurvivalStep *steps)
{
  size_t count = 0;
  size_t entered = 0;
  double survival = 1.0;
  double variance = 0.0; /* of the logarithm of the curve */

  for (size_t i = 0; i < n;)
    {
      NumSurvivalStep step = { .time = exits[i].time };
      size_t left = i;

      for (; i < n && exits[i].time == step.time; i++)
        step.ended += exits[i].ended;
      if (step.ended == 0)
        continue;
      for (; entered < n && entries[entered] < step.time; entered++)
        ;
      step.at_risk = entered - left;
      survival *= (double) (step.at_risk - step.ended) / (double) step.at_risk;
      variance += (double) step.ended / ((double) step.at_risk * (double) (step.at_risk - step.ended));
      step.survival = survival;
      step.se = survival > 0.0 ? survival * sqrt (variance) : nan ("");
      steps[count++] = step;
    }
  return count;
}

/**
 * num_survival:
 * @times: (array length=n): when each was last seen
 * @ended: (array length=n): whether it ended then
 * @entered: (array length=n) (nullable): since when it was looked at, before its time; NULL for always
 * @n: at least 1
 * @confidence: two-sided, of the median, in (0, 1)
 * @steps: (out) (array): room for @n; the curve at the times at which something ended
 * @out: (out): the number of steps and the median
 *
 * Kaplan and Meier 1958; at risk: entered < t <= time. se by Greenwood. Median as described in crossing(); its interval where
 * the ends of the pointwise log-minus-log interval cross one half, as R's survfit (conf.type = "log-log").
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_survival (const double *times, const bool *ended, const double *entered, size_t n, double confidence,
              NumSurvivalStep *steps, NumSurvival *out)
{
  double z = -num_normal_quantile (0.5 * (1.0 - confidence));
  Exit *exits;
  double *entries;
  double last;

  *out = (NumSurvival){ 0, NAN, { NAN, NAN } };
  if (n == 0)
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || !num_all_finite (times, n)
      || (entered != NULL && !num_all_finite (entered, n)))
    return NUM_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    if (times[i] < 0.0 || (entered != NULL && !(entered[i] < times[i])))
      return NUM_BAD_INPUT;
  exits = calloc (n, sizeof *exits);
  entries = calloc (n, sizeof *entries);
  if (exits == NULL || entries == NULL)
    {
      free (exits);
      free (entries);
      return NUM_NO_MEMORY;
    }
  for (size_t i = 0; i < n; i++)
    {
      exits[i] = (Exit){ times[i], ended[i] };
      entries[i] = entered != NULL ? entered[i] : -HUGE_VAL;
    }
  qsort (exits, n, sizeof *exits, compare_exits);
  num_sort (entries, n);
  out->steps = walk (exits, entries, n, steps);
  last = exits[n - 1].time;
  free (exits);
  free (entries);
  out->median = crossing (steps, out->steps, 0.0, z, last);
  out->interval = (NumInterval){ crossing (steps, out->steps, -1.0, z, last), crossing (steps, out->steps, 1.0, z, last) };
  return NUM_OK;
}
