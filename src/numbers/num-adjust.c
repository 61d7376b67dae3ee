/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several tests at once. */
#include "num-adjust.h"

#include <math.h>
#include <stdlib.h>

typedef struct
{
  double p;
  size_t index;
} Ranked;

static int
compare (const void *a, const void *b)
{
  const Ranked *x = a;
  const Ranked *y = b;

  return (x->p > y->p) - (x->p < y->p);
}

/**
 * num_adjust_holm:
 * @p: (array length=n): probabilities, each in [0, 1]
 * @n: at least 1
 * @adjusted: (out) (array length=n): in the order of @p
 *
 * Holm 1979: the running maximum of (n-i+1) p(i) over the ordered values, at most 1.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for none; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_adjust_holm (const double *p, size_t n, double *adjusted)
{
  Ranked *ranked;
  double running = 0.0;

  if (n == 0)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    if (!(p[i] >= 0.0 && p[i] <= 1.0))
      return NUM_BAD_INPUT;
  ranked = calloc (n, sizeof *ranked);
  if (ranked == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    ranked[i] = (Ranked){ p[i], i };
  qsort (ranked, n, sizeof *ranked, compare);
  for (size_t i = 0; i < n; i++)
    {
      running = fmax (running, fmin (1.0, (double) (n - i) * ranked[i].p));
      adjusted[ranked[i].index] = running;
    }
  free (ranked);
  return NUM_OK;
}
