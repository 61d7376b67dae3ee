/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart of subgroups: means beside ranges or deviations. */
#include "num-control.h"

#include "num-describe.h"

#include <math.h>
#include <stdlib.h>

/* What the spread of a group of one size is on average and how much it varies, in deviations of the process. */
typedef struct
{
  size_t size;
  double mean;
  double sd;
} SpreadOf;

static void
spread_of (SpreadOf *known, size_t size, NumSpread spread)
{
  if (known->size == size)
    return;
  known->size = size;
  known->mean = spread == NUM_SPREAD_RANGE ? num_range_mean (size) : num_deviation_mean (size);
  known->sd = spread == NUM_SPREAD_RANGE ? num_range_sd (size) : sqrt (1.0 - known->mean * known->mean);
}

/* Fills mean and spread of each group, and the mean of all values. */
static NumStatus
measure (const NumSample *groups, size_t count, NumSpread spread, double *mean, NumSubgroup *points)
{
  long double sum = 0.0L;
  size_t n = 0;
  NumMoments moments;

  for (size_t i = 0; i < count; i++)
    {
      NumStatus status = num_moments (groups[i].values, groups[i].n, &moments);

      if (status != NUM_OK)
        return status;
      if (groups[i].n < 2)
        return NUM_TOO_FEW;
      points[i].mean = moments.mean;
      points[i].spread = spread == NUM_SPREAD_RANGE ? moments.max - moments.min : moments.sd;
      sum += (long double) moments.mean * (long double) groups[i].n;
      n += groups[i].n;
    }
  *mean = (double) (sum / (long double) n);
  return NUM_OK;
}

/* Sets the limits of each point and its two standardised places. */
static void
place (const NumSample *groups, size_t count, NumSpread spread, double mean, double sigma, NumSubgroup *points,
       double *mean_z, double *spread_z)
{
  SpreadOf of = { 0, NAN, NAN };

  for (size_t i = 0; i < count; i++)
    {
      NumSubgroup *point = &points[i];
      double se = sigma / sqrt ((double) groups[i].n);

      spread_of (&of, groups[i].n, spread);
      point->lower = mean - 3.0 * se;
      point->upper = mean + 3.0 * se;
      point->spread_centre = of.mean * sigma;
      point->spread_lower = fmax (0.0, (of.mean - 3.0 * of.sd) * sigma);
      point->spread_upper = (of.mean + 3.0 * of.sd) * sigma;
      mean_z[i] = (point->mean - mean) / se;
      spread_z[i] = (point->spread - point->spread_centre) / (of.sd * sigma);
    }
}

/**
 * num_subgroups:
 * @groups: (array length=count): finite values, at least 2 a group
 * @count: groups, at least 1
 * @spread: which spread is charted and gives the deviation of the process
 * @mean: (out): of all values
 * @points: (out) (array length=count): each group with its limits
 * @mean_signals: (out) (array): room for %NUM_SIGNALS_A_POINT times @count, all rules on the standardised means
 * @mean_count: (out): their number
 * @spread_signals: (out) (array): room for @count, rule 1 on the spreads
 * @spread_count: (out): their number
 *
 * sigma = mean over the groups of range/d2(size) or deviation/c4(size). Limits mean ± 3 sigma/sqrt(size), (d2 ± 3 d3) sigma
 * or (c4 ± 3 sqrt(1-c4^2)) sigma, the lower not below 0 (NIST/SEMATECH e-Handbook 6.3.2.1).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no group or one of a single value; %NUM_NO_VARIATION within any group; %NUM_BAD_INPUT;
 * %NUM_NO_CONVERGENCE of the constants; %NUM_NO_MEMORY
 */
NumStatus
num_subgroups (const NumSample *groups, size_t count, NumSpread spread, double *mean, NumSubgroup *points,
               NumSignal *mean_signals, size_t *mean_count, NumSignal *spread_signals, size_t *spread_count)
{
  SpreadOf of = { 0, NAN, NAN };
  long double sum = 0.0L;
  double sigma;
  double *z;
  NumStatus status;

  *mean = NAN;
  *mean_count = *spread_count = 0;
  if (count == 0)
    return NUM_TOO_FEW;
  status = measure (groups, count, spread, mean, points);
  if (status != NUM_OK)
    return status;
  for (size_t i = 0; i < count; i++)
    {
      spread_of (&of, groups[i].n, spread);
      sum += points[i].spread / of.mean;
    }
  sigma = (double) (sum / (long double) count);
  if (isnan (sigma))
    return NUM_NO_CONVERGENCE;
  if (!(sigma > 0.0))
    return NUM_NO_VARIATION;

  z = calloc (2 * count, sizeof *z);
  if (z == NULL)
    return NUM_NO_MEMORY;
  place (groups, count, spread, *mean, sigma, points, z, z + count);
  *mean_count = num_signals (z, count, NUM_RULES_ALL, mean_signals);
  *spread_count = num_signals (z + count, count, NUM_RULE_ONE, spread_signals);
  free (z);
  return NUM_OK;
}
