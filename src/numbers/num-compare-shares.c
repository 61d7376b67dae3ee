/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two shares: k of n before and after. */
#include "num-compare.h"

#include "num-dist.h"
#include "num-proportion.h"

#include <math.h>

#define UNITS_MOST ((size_t) 1 << 40) /* of both sides: the chances of a table are summed up, and more would take long */
#define EQUAL 1e-7 /* relative: tables this much more likely than the one seen still count as no more likely */

/* Chances of the failures after, given all four margins of the table. */
typedef struct
{
  double marked;   /* failures in all */
  double unmarked;
  double drawn;    /* units after */
  double chance;   /* of the table seen */
} Table;

static bool
is_rare (const Table *table, double k)
{
  return num_hypergeometric (k, table->marked, table->unmarked, table->drawn) <= table->chance * (1.0 + EQUAL);
}

/* The chances fall away from the mode on both sides, so that the edge of the rare tables of a side can be searched: from
 * @rare, which is rare, towards @mode, which is not. */
static double
rare_edge (const Table *table, double rare, double mode)
{
  while (fabs (mode - rare) > 1.0)
    {
      double middle = floor (0.5 * (rare + mode));

      if (is_rare (table, middle))
        rare = middle;
      else
        mode = middle;
    }
  return rare;
}

static double
fisher (double k_before, double n_before, double k_after, double n_after)
{
  Table table = { k_before + k_after, n_before + n_after - k_before - k_after, n_after, 0.0 };
  double least = fmax (0.0, n_after - table.unmarked);
  double most = fmin (table.marked, n_after);
  double mode = floor ((table.marked + 1.0) * (n_after + 1.0) / (n_before + n_after + 2.0));
  double low = 0.0;
  double high = 0.0;

  mode = fmin (most, fmax (least, mode));
  table.chance = num_hypergeometric (k_after, table.marked, table.unmarked, table.drawn);
  if (is_rare (&table, mode))
    return 1.0;
  if (is_rare (&table, least))
    low = num_hypergeometric_lower (rare_edge (&table, least, mode), table.marked, table.unmarked, table.drawn);
  if (is_rare (&table, most)) /* the upper tail as the lower one of the units that are left over */
    high = num_hypergeometric_lower (table.marked - rare_edge (&table, most, mode), table.marked, table.unmarked, n_before);
  return fmin (1.0, low + high);
}

/**
 * num_compare_shares:
 * @k_before: units with the property before, at most @n_before
 * @n_before: at least 1, at most 2^40
 * @k_after: units with the property after, at most @n_after
 * @n_after: at least 1, at most 2^40
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the comparison
 *
 * Interval by Newcombe 1998, method 10, from the Wilson ends. p by Fisher's exact test: the sum of all tables no more likely
 * than the one seen, within a relative 1e-7.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_compare_shares (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double confidence,
                    NumShareComparison *out)
{
  NumInterval before, after;
  double share_before, share_after;

  *out = (NumShareComparison){ NAN, { NAN, NAN }, NAN };
  if (n_before > UNITS_MOST || n_after > UNITS_MOST)
    return NUM_BAD_INPUT;
  if (num_proportion_wilson (k_before, n_before, confidence, &before) != NUM_OK
      || num_proportion_wilson (k_after, n_after, confidence, &after) != NUM_OK)
    return NUM_BAD_INPUT;

  share_before = (double) k_before / (double) n_before;
  share_after = (double) k_after / (double) n_after;
  out->difference = share_after - share_before;
  out->interval.low = out->difference - hypot (share_after - after.low, before.high - share_before);
  out->interval.high = out->difference + hypot (after.high - share_after, share_before - before.low);
  out->p = fisher ((double) k_before, (double) n_before, (double) k_after, (double) n_after);
  return NUM_OK;
}

/**
 * num_fisher_less:
 * @k_before: failures before, at most @n_before
 * @n_before: at least 1, at most 2^40
 * @k_after: failures after, at most @n_after
 * @n_after: at least 1, at most 2^40
 * @p: (out): chance of so few failures after, or fewer, if nothing changed
 *
 * Fisher's exact test, one-sided.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_fisher_less (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double *p)
{
  *p = NAN;
  if (n_before == 0 || n_after == 0 || k_before > n_before || k_after > n_after || n_before > UNITS_MOST
      || n_after > UNITS_MOST)
    return NUM_BAD_INPUT;
  *p = num_hypergeometric_lower ((double) k_after, (double) (k_before + k_after),
                                 (double) (n_before - k_before + n_after - k_after), (double) n_after);
  return NUM_OK;
}
