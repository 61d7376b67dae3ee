/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The difference of two means when units were assigned at random.
 *
 * Method (Pitman 1937). An arrangement swaps k units after against k before and changes the difference by k (1/m + 1/n)
 * times w, the mean of the swapped values after less that of the swapped before. If the change had the constant effect d,
 * the arrangement would be at least as extreme as the one seen exactly when w <= d (and at most when w >= d). So the ordered
 * w cut the effects that a test at half the error would not reject from those that it would: they are the interval's ends.
 */
#include "num-permutation.h"

#include "num-describe.h"
#include "num-order.h"
#include "num-random.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define EQUAL 1e-9       /* relative: differences that are equal but for rounding count as extreme */
#define WORK_MOST 4e7    /* swaps in all when sampling */
#define SAMPLES_LEAST 2000

typedef struct
{
  double *values;  /* less their mean: first before, then after */
  size_t *order;   /* indices; the last @n_after are those assigned to after */
  size_t n_before;
  size_t n_after;
  double sum;      /* of the values after, as seen */
  double extreme;  /* size of a sum after that counts as extreme */
  double *w;
  size_t count;    /* arrangements other than the one seen */
  size_t hits;     /* of them as extreme */
} Walk;

/* Arrangements of @n_after among all, or INFINITY where exactness is out of reach anyway. */
static double
arrangements_of (size_t n, size_t n_after)
{
  double count = 1.0;
  size_t least = n_after < n - n_after ? n_after : n - n_after;

  for (size_t i = 1; i <= least && count < 1e9; i++)
    count = count * (double) (n - least + i) / (double) i;
  return rint (count);
}

/* Takes in one arrangement by the indices assigned to after. */
static void
note (Walk *walk, const size_t *assigned)
{
  double sum = 0.0;
  size_t swapped = 0;

  for (size_t i = 0; i < walk->n_after; i++)
    {
      sum += walk->values[assigned[i]];
      swapped += assigned[i] < walk->n_before;
    }
  walk->hits += fabs (sum) >= walk->extreme;
  if (swapped > 0)
    walk->w[walk->count++] = (walk->sum - sum) / (double) swapped;
  else
    walk->hits--; /* the one seen; it is counted apart */
}

/* All subsets of the size in lexical order. */
static void
walk_all (Walk *walk)
{
  size_t n = walk->n_before + walk->n_after;
  size_t size = walk->n_after;
  size_t *chosen = walk->order;

  for (size_t i = 0; i < size; i++)
    chosen[i] = i;
  for (;;)
    {
      size_t i = size;

      note (walk, chosen);
      while (i > 0 && chosen[i - 1] == n - size + i - 1)
        i--;
      if (i == 0)
        return;
      chosen[i - 1]++;
      for (; i < size; i++)
        chosen[i] = chosen[i - 1] + 1;
    }
}

/* Random arrangements: the assigned places at the end are filled from all (Fisher and Yates). */
static void
walk_some (Walk *walk, size_t samples, uint64_t key_high, uint64_t key_low)
{
  size_t n = walk->n_before + walk->n_after;
  NumRandom random;

  num_random_init (&random, key_high, key_low);
  for (size_t i = 0; i < n; i++)
    walk->order[i] = i;
  for (size_t draw = 0; draw < samples; draw++)
    {
      num_random_draw (&random, (uint32_t) draw);
      for (size_t i = n; i > walk->n_before; i--)
        {
          size_t other = num_random_below (&random, (uint32_t) i);
          size_t kept = walk->order[other];

          walk->order[other] = walk->order[i - 1];
          walk->order[i - 1] = kept;
        }
      note (walk, walk->order + walk->n_before);
    }
}

static void
conclude (Walk *walk, double confidence, NumPermutation *out)
{
  double tail = 0.5 * (1.0 - confidence) * (double) (walk->count + 1);
  size_t rank = (size_t) floor (tail * (1.0 + 1e-12)); /* effects cut off at each end, the arrangement seen among them */

  out->arrangements = walk->count + 1;
  out->p = (double) (walk->hits + 1) / (double) out->arrangements;
  out->interval = (NumInterval){ -HUGE_VAL, HUGE_VAL };
  if (rank < 1 || rank > walk->count)
    return;
  num_sort (walk->w, walk->count);
  out->interval = (NumInterval){ walk->w[rank - 1], walk->w[walk->count - rank] };
}

static NumStatus
walk_init (Walk *walk, NumSample before, NumSample after, size_t room)
{
  size_t n = before.n + after.n;
  NumMoments all;
  double size = 0.0;

  *walk = (Walk){ .n_before = before.n, .n_after = after.n };
  walk->values = calloc (n, sizeof *walk->values);
  walk->order = calloc (n, sizeof *walk->order);
  walk->w = calloc (room, sizeof *walk->w);
  if (walk->values == NULL || walk->order == NULL || walk->w == NULL)
    return NUM_NO_MEMORY;
  memcpy (walk->values, before.values, before.n * sizeof *walk->values);
  memcpy (walk->values + before.n, after.values, after.n * sizeof *walk->values);
  num_moments (walk->values, n, &all);
  for (size_t i = 0; i < n; i++)
    {
      walk->values[i] -= all.mean; /* the sum after is then the difference but for a factor */
      size += fabs (walk->values[i]);
      walk->sum += i >= before.n ? walk->values[i] : 0.0;
    }
  walk->extreme = fabs (walk->sum) - EQUAL * size;
  return NUM_OK;
}

/**
 * num_permutation:
 * @before: finite values, at least one
 * @after: finite values, at least one
 * @confidence: two-sided, in (0, 1)
 * @key_high: key of the sampling
 * @key_low: key of the sampling
 * @out: (out): difference of means, its interval, and p
 *
 * p is the share of arrangements whose difference is in size at least the one seen. All arrangements are looked at when they
 * are fewer than 200,000, else as many are drawn (fewer above 200 values a side) and the one seen is added. The interval
 * inverts the one-sided tests at half the error each, for a constant effect.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT also above %NUM_PERMUTATION_VALUES values; %NUM_NO_MEMORY
 */
NumStatus
num_permutation (NumSample before, NumSample after, double confidence, uint64_t key_high, uint64_t key_low,
                 NumPermutation *out)
{
  size_t n = before.n + after.n;
  double all;
  size_t room;
  Walk walk;
  NumStatus status;

  *out = (NumPermutation){ NAN, { NAN, NAN }, NAN, 0, false };
  if (before.n == 0 || after.n == 0)
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || n > NUM_PERMUTATION_VALUES || !num_all_finite (before.values, before.n)
      || !num_all_finite (after.values, after.n))
    return NUM_BAD_INPUT;

  all = arrangements_of (n, after.n);
  out->exact = all < NUM_PERMUTATION_EXACT;
  room = out->exact ? (size_t) all
                    : (size_t) fmin (NUM_PERMUTATION_EXACT, fmax (SAMPLES_LEAST, WORK_MOST / (double) after.n));
  status = walk_init (&walk, before, after, room);
  if (status == NUM_OK)
    {
      if (out->exact)
        walk_all (&walk);
      else
        walk_some (&walk, room, key_high, key_low);
      out->difference = walk.sum * (1.0 / (double) before.n + 1.0 / (double) after.n);
      conclude (&walk, confidence, out);
    }
  free (walk.values);
  free (walk.order);
  free (walk.w);
  return status;
}
