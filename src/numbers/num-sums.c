/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The sums under moments, quickly and with all digits.
 *
 * Method. Deviations are taken from a shift near the mean, so that an offset of the values costs nothing; what is left between
 * shift and mean is taken out of the sums afterwards (Chan, Golub and LeVeque 1983). Four lanes add up side by side, so that
 * one addition need not wait for the last, and are emptied into long doubles after each block, so that a long sum loses no
 * more than a short one.
 */
#include "num-sums.h"

#include <math.h>

#define LANES 4
#define BLOCK 512  /* values between two emptyings; a multiple of the lanes */
#define SAMPLE 64  /* values whose mean is the shift */

/**
 * num_sums_shift:
 * @values: (array length=n): finite values, at least one
 * @n: their number
 *
 * Returns: the mean of some values spread over all
 */
double
num_sums_shift (const double *values, size_t n)
{
  size_t step = n / SAMPLE + 1;
  double sum = 0.0;
  double count = ceil ((double) n / (double) step);

  for (size_t i = 0; i < n; i += step)
    sum += values[i] / count;
  return sum;
}

static void
empty (long double *sum, const double lanes[LANES])
{
  for (int l = 0; l < LANES; l++)
    *sum += lanes[l];
}

/* Widens the extremes by a block of whole lanes. */
static void
extremes (const double *values, size_t n, NumSums *out)
{
  double least[LANES] = { out->min, out->min, out->min, out->min };
  double most[LANES] = { out->max, out->max, out->max, out->max };

  for (size_t i = 0; i < n; i += LANES)
    for (int l = 0; l < LANES; l++)
      {
        double value = values[i + (size_t) l];

        least[l] = value < least[l] ? value : least[l];
        most[l] = value > most[l] ? value : most[l];
      }
  for (int l = 0; l < LANES; l++)
    {
      out->min = least[l] < out->min ? least[l] : out->min;
      out->max = most[l] > out->max ? most[l] : out->max;
    }
}

/* One block of whole lanes: first and second powers. */
static void
add_two (const double *values, size_t n, double shift, NumSums *out)
{
  double first[LANES] = { 0 };
  double second[LANES] = { 0 };

  for (size_t i = 0; i < n; i += LANES)
    for (int l = 0; l < LANES; l++)
      {
        double d = values[i + (size_t) l] - shift;

        first[l] += d;
        second[l] += d * d;
      }
  empty (&out->first, first);
  empty (&out->second, second);
}

/* One block of whole lanes: four powers and the products with the value before, so that @values is not the first one. */
static void
add_four (const double *values, size_t n, double shift, NumSums *out)
{
  double first[LANES] = { 0 };
  double second[LANES] = { 0 };
  double third[LANES] = { 0 };
  double fourth[LANES] = { 0 };
  double lagged[LANES] = { 0 };

  for (size_t i = 0; i < n; i += LANES)
    for (int l = 0; l < LANES; l++)
      {
        const double *at = values + i + l;
        double d = at[0] - shift;
        double square = d * d;

        first[l] += d;
        second[l] += square;
        third[l] += square * d;
        fourth[l] += square * square;
        lagged[l] += d * (at[-1] - shift);
      }
  empty (&out->first, first);
  empty (&out->second, second);
  empty (&out->third, third);
  empty (&out->fourth, fourth);
  empty (&out->lagged, lagged);
}

/* The values that fill no lanes, one by one; the first of all has none before it. */
static void
add_single (const double *values, size_t i, double shift, NumSums *out)
{
  long double d = (long double) values[i] - shift;

  out->first += d;
  out->second += d * d;
  out->third += d * d * d;
  out->fourth += d * d * d * d;
  if (i > 0)
    out->lagged += d * ((long double) values[i - 1] - shift);
  out->min = values[i] < out->min ? values[i] : out->min;
  out->max = values[i] > out->max ? values[i] : out->max;
}

typedef void (*AddBlock) (const double *values, size_t n, double shift, NumSums *out);

static void
add_all (const double *values, size_t n, double shift, AddBlock add, NumSums *out)
{
  size_t at = 1;

  *out = (NumSums){ .n = n, .shift = shift, .min = values[0], .max = values[0] };
  add_single (values, 0, shift, out);
  while (n - at >= LANES)
    {
      size_t size = n - at < BLOCK ? n - at : BLOCK;

      size -= size % LANES;
      add (values + at, size, shift, out);
      extremes (values + at, size, out); /* apart from the sums, since the block is at hand still */
      at += size;
    }
  for (; at < n; at++)
    add_single (values, at, shift, out);
}

/**
 * num_sums_two:
 * @values: (array length=n): values, at least one
 * @n: their number
 * @shift: near their mean
 * @out: (out): extremes and the first two powers, not finite when a value is not; the others are not to be used
 */
void
num_sums_two (const double *values, size_t n, double shift, NumSums *out)
{
  add_all (values, n, shift, add_two, out);
}

/**
 * num_sums_four:
 * @values: (array length=n): finite values in order, at least one
 * @n: their number
 * @shift: near their mean
 * @out: (out): extremes and all sums
 */
void
num_sums_four (const double *values, size_t n, double shift, NumSums *out)
{
  add_all (values, n, shift, add_four, out);
}
