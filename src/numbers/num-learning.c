/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wright's learning curve in Crawford's unit form. */
#include "num-learning.h"

#include "num-line.h"

#include <math.h>
#include <stdlib.h>

#define INTERVAL 0.9
#define SUMMED 100000 /* units added up one by one */

/**
 * num_learning_fit:
 * @minutes: (array length=n): time of each unit in the order of building, above 0
 * @n: at least 2
 * @out: (out): the curve
 *
 * Least squares of ln (minutes) on ln (unit).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT for a time of 0 or less; %NUM_NO_MEMORY
 */
NumStatus
num_learning_fit (const double *minutes, size_t n, NumLearning *out)
{
  double *logs;
  NumLine line;
  NumStatus status;

  *out = (NumLearning){ NAN, NAN, NAN, NAN, { NAN, NAN } };
  if (n < 2)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    if (!(minutes[i] > 0.0 && isfinite (minutes[i])))
      return NUM_BAD_INPUT;
  logs = calloc (2 * n, sizeof *logs);
  if (logs == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    {
      logs[i] = log ((double) (i + 1));
      logs[n + i] = log (minutes[i]);
    }
  status = num_line (logs, logs + n, n, INTERVAL, &line);
  free (logs);
  if (status != NUM_OK)
    return status;
  out->first = exp (line.intercept);
  out->slope = line.slope;
  out->rate = exp2 (line.slope);
  out->r2 = line.r2;
  out->slope_interval = line.slope_interval;
  return NUM_OK;
}

/* Sum of i^b from 1 to n: one by one as far as that is quick, then by Euler and Maclaurin's formula, whose next term is
 * below 1e-20 of the sum from there on. */
static double
power_sum (double b, size_t n)
{
  size_t plain = n < SUMMED ? n : SUMMED;
  double from = (double) plain;
  double to = (double) n;
  long double sum = 0.0L;

  for (size_t i = plain; i > 0; i--)
    sum += powl ((long double) i, b);
  if (n > plain)
    {
      long double area = fabs (b + 1.0) < 1e-12 ? logl (to / from)
                                                : (powl (to, b + 1.0L) - powl (from, b + 1.0L)) / (b + 1.0L);

      sum += area + 0.5L * (powl (to, b) - powl (from, b))
             + (long double) b / 12.0L * (powl (to, b - 1.0L) - powl (from, b - 1.0L));
    }
  return (double) sum;
}

/**
 * num_learning_predict:
 * @first: time of the first unit, above 0
 * @rate: time of unit 2i over that of unit i, above 0
 * @unit: from 1
 * @unit_minutes: (out): time of that unit
 * @cumulative_minutes: (out): time of all units up to it, the exact sum
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_learning_predict (double first, double rate, size_t unit, double *unit_minutes, double *cumulative_minutes)
{
  double slope = log2 (rate);

  *unit_minutes = *cumulative_minutes = NAN;
  if (!(first > 0.0 && isfinite (first) && rate > 0.0 && isfinite (rate)) || unit == 0)
    return NUM_BAD_INPUT;
  *unit_minutes = first * pow ((double) unit, slope);
  *cumulative_minutes = first * power_sum (slope, unit);
  return NUM_OK;
}
