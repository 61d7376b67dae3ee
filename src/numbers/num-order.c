/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values in order, and quantiles of them. */
#include "num-order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Sorts finite values upward. */
void
num_sort (double *values, size_t n)
{
  if (n > 1)
    qsort (values, n, sizeof *values, compare);
}

/**
 * num_sorted_copy:
 * @values: (array length=n): finite values
 * @n: their number, may be 0
 * @sorted: (out) (transfer full): a copy in rising order, to be released with free()
 *
 * Returns: %NUM_OK; %NUM_NO_MEMORY
 */
NumStatus
num_sorted_copy (const double *values, size_t n, double **sorted)
{
  *sorted = calloc (n > 0 ? n : 1, sizeof **sorted);
  if (*sorted == NULL)
    return NUM_NO_MEMORY;
  if (n > 0)
    memcpy (*sorted, values, n * sizeof **sorted);
  num_sort (*sorted, n);
  return NUM_OK;
}

/**
 * num_sorted_quantile:
 * @sorted: (array length=n): values in rising order, at least one
 * @n: their number
 * @share: from 0 to 1
 *
 * Returns: the quantile by linear interpolation at position (n-1) share + 1 (Hyndman and Fan 1996, definition 7)
 */
double
num_sorted_quantile (const double *sorted, size_t n, double share)
{
  double place = share * (double) (n - 1);
  size_t below = (size_t) place;
  double part = place - (double) below;

  if (below + 1 >= n)
    return sorted[n - 1];
  return part == 0.0 ? sorted[below] : sorted[below] * (1.0 - part) + sorted[below + 1] * part;
}

/**
 * num_quantiles:
 * @values: (array length=n): finite values in any order, at least one
 * @n: their number
 * @shares: (array length=count): from 0 to 1
 * @count: how many quantiles
 * @out: (out) (array length=count): the quantiles
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for no values; %NUM_NO_MEMORY
 */
NumStatus
num_quantiles (const double *values, size_t n, const double *shares, size_t count, double *out)
{
  double *sorted;
  NumStatus status;

  for (size_t i = 0; i < count; i++)
    out[i] = NAN;
  if (n == 0)
    return NUM_TOO_FEW;
  status = num_sorted_copy (values, n, &sorted);
  if (status != NUM_OK)
    return status;
  for (size_t i = 0; i < count; i++)
    out[i] = num_sorted_quantile (sorted, n, shares[i]);
  free (sorted);
  return NUM_OK;
}
