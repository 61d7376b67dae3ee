/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values in order, and quantiles of them. */
#include "num-order.h"

#include <math.h>
#include <stdint.h>
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

/* The value a part of the way from one to the next; without the rounding of a sum where they are equal or the part is 0. */
double
num_between (double value, double next, double part)
{
  return part == 0.0 || value == next ? value : value * (1.0 - part) + next * part;
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
  return num_between (sorted[below], sorted[below + 1], part);
}

/*
 * Selection. A few ranks of a large sample need not the whole of it in order. Values are counted into cells of equal width;
 * those in cells that hold no wanted rank are dropped, and the ranks lowered by what was dropped below them. That is repeated
 * while it helps, as it does again when outliers stretch the first cells; what is left is sorted.
 */
#define CELLS 4096
#define PASSES_MOST 8
#define TOGETHER 8    /* values asked about at once, since few are wanted */

/* What one pass knows of its cells. */
typedef struct
{
  double least;
  double scale;
  uint32_t counts[CELLS];
  bool wanted[CELLS];
} Cells;

static unsigned
cell_of (const Cells *cells, double value)
{
  return (unsigned) (int) ((value - cells->least) * cells->scale); /* below CELLS by the choice of the scale */
}

/* Marks the cells that hold a rank and lowers the ranks by what lies below in other cells. Returns how many values stay. */
static size_t
mark_cells (Cells *cells, size_t *ranks, size_t count)
{
  size_t below = 0; /* values in the cells passed */
  size_t kept = 0;  /* of them in marked ones */
  size_t next = 0;

  for (size_t cell = 0; cell < CELLS; cell++)
    {
      size_t size = cells->counts[cell];

      for (; next < count && ranks[next] < below + size; next++)
        {
          cells->wanted[cell] = true;
          ranks[next] -= below - kept;
        }
      below += size;
      kept += cells->wanted[cell] ? size : 0;
    }
  return kept;
}

/*
 * One pass over @from. *@to, which may be the same array, takes what stays; NULL: an array of the size that it needs is made.
 * *@stay is how many stay: @n when the cells do not help, and *@to is then left as it was.
 */
static NumStatus
pass (const double *from, size_t n, double least, double most, size_t *ranks, size_t count, double **to, size_t *stay)
{
  Cells cells = { .least = least, .scale = (CELLS - 1) / (most - least) };
  size_t kept = 0;

  *stay = n;
  if (!(isfinite (cells.scale) && cells.scale > 0.0) || n > UINT32_MAX)
    return NUM_OK;
  for (size_t i = 0; i < n; i++)
    cells.counts[cell_of (&cells, from[i])]++;
  *stay = mark_cells (&cells, ranks, count);
  if (*stay == n)
    return NUM_OK;
  if (*to == NULL)
    *to = calloc (*stay, sizeof **to);
  if (*to == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < n; i += TOGETHER)
    {
      size_t end = n - i < TOGETHER ? n : i + TOGETHER;
      bool any = false;

      for (size_t k = i; k < end; k++)
        any |= cells.wanted[cell_of (&cells, from[k])];
      for (size_t k = i; any && k < end; k++)
        if (cells.wanted[cell_of (&cells, from[k])])
          (*to)[kept++] = from[k];
    }
  return NUM_OK;
}

static void
range_of (const double *values, size_t n, double *least, double *most)
{
  *least = *most = values[0];
  for (size_t i = 1; i < n; i++)
    {
      *least = values[i] < *least ? values[i] : *least;
      *most = values[i] > *most ? values[i] : *most;
    }
}

/**
 * num_select:
 * @values: (array length=n): finite values in any order
 * @n: their number, at least %NUM_SELECT_FROM
 * @least: the smallest of them
 * @most: the largest of them
 * @ranks: (array length=count): ranks wanted, from 0, in rising order; overwritten
 * @count: how many
 * @out: (out) (array length=count): the values of these ranks
 *
 * Returns: %NUM_OK; %NUM_NO_MEMORY
 */
NumStatus
num_select (const double *values, size_t n, double least, double most, size_t *ranks, size_t count, double *out)
{
  double *kept = NULL;
  size_t size = n;
  NumStatus status = NUM_OK;

  for (int i = 0; i < PASSES_MOST && size >= NUM_SELECT_FROM && least < most; i++)
    {
      size_t before = size;

      status = pass (kept != NULL ? kept : values, before, least, most, ranks, count, &kept, &size);
      if (status != NUM_OK || size == before)
        break;
      range_of (kept, size, &least, &most);
    }
  if (kept != NULL)
    num_sort (kept, size);
  else if (status == NUM_OK && least < most)
    status = num_sorted_copy (values, n, &kept);
  for (size_t i = 0; i < count && status == NUM_OK; i++)
    out[i] = kept != NULL ? kept[ranks[i]] : least; /* nothing was kept of values that are all the same */
  free (kept);
  return status;
}

/**
 * num_quantiles:
 * @values: (array length=n): finite values in any order
 * @n: their number, at least one
 * @shares: (array length=count): from 0 to 1, in rising order
 * @count: at most %NUM_QUANTILES_MOST
 * @out: (out) (array length=count): as num_sorted_quantile() has them
 *
 * A small sample is sorted; of a large one, the two neighbours of each quantile are selected.
 *
 * Returns: %NUM_OK; %NUM_NO_MEMORY
 */
NumStatus
num_quantiles (const double *values, size_t n, const double *shares, size_t count, double *out)
{
  size_t ranks[2 * NUM_QUANTILES_MOST];
  double found[2 * NUM_QUANTILES_MOST] = { 0 }; /* gcc's analyser takes it that twice the count may be none */
  double parts[NUM_QUANTILES_MOST];
  bool rising = n >= NUM_SELECT_FROM;
  double least, most;
  double *sorted;
  NumStatus status;

  for (size_t i = 0; i < count; i++)
    {
      double place = shares[i] * (double) (n - 1);

      ranks[2 * i] = (size_t) place;
      ranks[2 * i + 1] = ranks[2 * i] + 1 < n ? ranks[2 * i] + 1 : n - 1;
      parts[i] = place - (double) ranks[2 * i];
      rising = rising && (i == 0 || ranks[2 * i - 1] <= ranks[2 * i]);
    }
  if (rising)
    {
      range_of (values, n, &least, &most);
      status = num_select (values, n, least, most, ranks, 2 * count, found);
      for (size_t i = 0; i < count && status == NUM_OK; i++)
        out[i] = num_between (found[2 * i], found[2 * i + 1], parts[i]);
      return status;
    }
  status = num_sorted_copy (values, n, &sorted);
  for (size_t i = 0; i < count && status == NUM_OK; i++)
    out[i] = num_sorted_quantile (sorted, n, shares[i]);
  free (sorted);
  return status;
}
