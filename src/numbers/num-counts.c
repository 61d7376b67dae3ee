/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts of counts: shares of units (p), and events on equal (c) or unequal (u) areas of opportunity. */
#include "num-control.h"

#include <math.h>
#include <stdlib.h>

/* Checks the counts and sums them up. @sizes may be NULL: each 1. */
static NumStatus
total_share (const double *counts, const double *sizes, size_t n, bool of_units, double *mean)
{
  long double count_sum = 0.0L;
  long double size_sum = 0.0L;

  *mean = NAN;
  if (n == 0)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    {
      double size = sizes != NULL ? sizes[i] : 1.0;

      if (!(counts[i] >= 0.0 && isfinite (counts[i]) && counts[i] == floor (counts[i])) || !(size > 0.0 && isfinite (size))
          || (of_units && (counts[i] > size || size != floor (size))))
        return NUM_BAD_INPUT;
      count_sum += counts[i];
      size_sum += size;
    }
  *mean = (double) (count_sum / size_sum);
  return NUM_OK;
}

/* @variance is that of a point of size 1. */
static NumStatus
chart (const double *counts, const double *sizes, size_t n, double mean, double variance, double most,
       NumRatePoint *points, NumSignal *signals, size_t *signal_count)
{
  double *z = calloc (n, sizeof *z);

  if (z == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    {
      double size = sizes != NULL ? sizes[i] : 1.0;
      double sd = sqrt (variance / size);

      points[i].value = counts[i] / size;
      points[i].lower = fmax (0.0, mean - 3.0 * sd);
      points[i].upper = fmin (most, mean + 3.0 * sd);
      z[i] = sd > 0.0 ? (points[i].value - mean) / sd : 0.0;
    }
  *signal_count = num_signals (z, n, NUM_RULES_COUNTS, signals);
  free (z);
  return NUM_OK;
}

/**
 * num_fraction_chart:
 * @counts: (array length=n): units with the property, whole, at most the size
 * @sizes: (array length=n): units looked at, whole, above 0
 * @n: points, at least 1
 * @mean: (out): total count over total size
 * @points: (out) (array length=n): shares with limits mean ± 3 sqrt(mean (1-mean)/size), cut at 0 and 1
 * @signals: (out) (array): room for %NUM_SIGNALS_A_POINT times @n; rules 1 and 2
 * @signal_count: (out): their number
 *
 * The p chart (NIST/SEMATECH e-Handbook 6.3.3.2). Without variation there is no signal.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_fraction_chart (const double *counts, const double *sizes, size_t n, double *mean, NumRatePoint *points,
                    NumSignal *signals, size_t *signal_count)
{
  NumStatus status = total_share (counts, sizes, n, true, mean);

  *signal_count = 0;
  if (status != NUM_OK)
    return status;
  return chart (counts, sizes, n, *mean, *mean * (1.0 - *mean), 1.0, points, signals, signal_count);
}

/**
 * num_count_chart:
 * @counts: (array length=n): events, whole
 * @sizes: (array length=n) (nullable): areas of opportunity, above 0; NULL for the c chart
 * @n: points, at least 1
 * @mean: (out): total count over total size
 * @points: (out) (array length=n): rates with limits mean ± 3 sqrt(mean/size), cut at 0
 * @signals: (out) (array): room for %NUM_SIGNALS_A_POINT times @n; rules 1 and 2
 * @signal_count: (out): their number
 *
 * The c and u charts (NIST/SEMATECH e-Handbook 6.3.3.1). Without variation there is no signal.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_count_chart (const double *counts, const double *sizes, size_t n, double *mean, NumRatePoint *points,
                 NumSignal *signals, size_t *signal_count)
{
  NumStatus status = total_share (counts, sizes, n, false, mean);

  *signal_count = 0;
  if (status != NUM_OK)
    return status;
  return chart (counts, sizes, n, *mean, *mean, HUGE_VAL, points, signals, signal_count);
}
