/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two samples of measured values: means, spreads and ranks. */
#include "num-compare.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-groups.h"
#include "num-order.h"

#include <math.h>
#include <stdlib.h>

#define EXACT_BELOW 50 /* values a side below which the rank test is exact, when there are no ties */

/* Welch 1947, with Satterthwaite's degrees of freedom. */
static void
welch (const NumMoments *before, const NumMoments *after, double confidence, NumComparison *out)
{
  double part_before = before->sd * before->sd / (double) before->n;
  double part_after = after->sd * after->sd / (double) after->n;
  double se = sqrt (part_before + part_after);
  double share = part_after / (part_before + part_after); /* a ratio, so that tiny variances do not vanish when squared */
  double half;

  out->difference = after->mean - before->mean;
  out->df = 1.0
            / (share * share / ((double) after->n - 1.0) + (1.0 - share) * (1.0 - share) / ((double) before->n - 1.0));
  out->t = out->difference / se;
  out->p = 2.0 * num_t_upper (fabs (out->t), out->df);
  half = -num_t_quantile (0.5 * (1.0 - confidence), out->df) * se;
  out->interval = (NumInterval){ out->difference - half, out->difference + half };
  out->variance_ratio = (after->sd / before->sd) * (after->sd / before->sd);
}

/* Analysis of variance of the absolute deviations from each sample's median (Brown and Forsythe 1974). */
static NumStatus
spreads (NumSample before, NumSample after, const double *sorted_before, const double *sorted_after, NumComparison *out)
{
  double *deviations = calloc (before.n + after.n, sizeof *deviations);
  NumSample groups[2] = { { deviations, before.n }, { deviations + before.n, after.n } };
  double median_before = num_sorted_quantile (sorted_before, before.n, 0.5);
  double median_after = num_sorted_quantile (sorted_after, after.n, 0.5);
  double largest = 0.0;
  NumGroups variance;
  NumStatus status;

  if (deviations == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < before.n; i++)
    {
      deviations[i] = fabs (before.values[i] - median_before);
      largest = fmax (largest, fabs (before.values[i]));
    }
  for (size_t i = 0; i < after.n; i++)
    {
      deviations[before.n + i] = fabs (after.values[i] - median_after);
      largest = fmax (largest, fabs (after.values[i]));
    }
  /* Deviations carry the rounding of the values: what is equal but for it is set equal. */
  for (size_t i = 0; i < before.n + after.n; i++)
    deviations[i] = rint (deviations[i] / (largest * 0x1p-50)) * (largest * 0x1p-50);
  status = num_groups (groups, 2, &variance);
  free (deviations);
  if (status == NUM_OK)
    {
      out->spread_f = variance.f;
      out->spread_p = variance.p;
    }
  return status == NUM_NO_MEMORY ? status : NUM_OK;
}

/* Walks both sorted samples: counts pairs, and sums t^3 - t over groups of t equal values. */
static double
count_pairs (const double *before, size_t n_before, const double *after, size_t n_after, double *ties)
{
  double u = 0.0;
  size_t b = 0;
  size_t a = 0;

  *ties = 0.0;
  while (a < n_after || b < n_before)
    {
      double value = b == n_before ? after[a] : a == n_after ? before[b] : fmin (before[b], after[a]);
      size_t equal_before = 0;
      size_t equal_after = 0;
      double equal;

      for (; b + equal_before < n_before && before[b + equal_before] == value; equal_before++)
        ;
      for (; a + equal_after < n_after && after[a + equal_after] == value; equal_after++)
        ;
      u += (double) equal_after * ((double) b + 0.5 * (double) equal_before);
      equal = (double) (equal_before + equal_after);
      *ties += equal * (equal * equal - 1.0);
      b += equal_before;
      a += equal_after;
    }
  return u;
}

/* Mann and Whitney 1947; p by the rules of R's wilcox.test. */
static void
ranks (const double *before, size_t n_before, const double *after, size_t n_after, NumComparison *out)
{
  double m = (double) n_before;
  double n = (double) n_after;
  double ties;
  double u = count_pairs (before, n_before, after, n_after, &ties);

  out->rank_u = u;
  if (ties == 0.0 && n_before < EXACT_BELOW && n_after < EXACT_BELOW)
    out->rank_p = fmin (1.0, 2.0 * num_rank_sum_lower (fmin (u, m * n - u), n, m));
  else
    {
      double sd = sqrt (m * n / 12.0 * (m + n + 1.0 - ties / ((m + n) * (m + n - 1.0))));
      double off = fabs (u - 0.5 * m * n);

      out->rank_p = fmin (1.0, 2.0 * num_normal_upper ((off > 0.0 ? off - 0.5 : 0.0) / sd));
    }
}

/**
 * num_compare:
 * @before: finite values, at least 2
 * @after: finite values, at least 2
 * @confidence: two-sided, of the difference, in (0, 1)
 * @out: (out): the comparison
 *
 * Means by Welch's t, spreads by Brown and Forsythe, ranks by Mann and Whitney (exact without ties below 50 values a side,
 * else normal with tie and continuity correction). The variance ratio is NAN or infinite when the first does not vary.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION on both sides; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_compare (NumSample before, NumSample after, double confidence, NumComparison *out)
{
  NumMoments moments_before, moments_after;
  double *sorted_before = NULL;
  double *sorted_after = NULL;
  NumStatus status;

  *out = (NumComparison){ NAN, { NAN, NAN }, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  if (!(confidence > 0.0 && confidence < 1.0))
    return NUM_BAD_INPUT;
  if (before.n < 2 || after.n < 2)
    return NUM_TOO_FEW;
  status = num_moments (before.values, before.n, &moments_before);
  if (status == NUM_OK)
    status = num_moments (after.values, after.n, &moments_after);
  if (status != NUM_OK)
    return status;
  if (!(moments_before.sd > 0.0 || moments_after.sd > 0.0))
    return NUM_NO_VARIATION;

  status = num_sorted_copy (before.values, before.n, &sorted_before);
  if (status == NUM_OK)
    status = num_sorted_copy (after.values, after.n, &sorted_after);
  if (status == NUM_OK)
    status = spreads (before, after, sorted_before, sorted_after, out);
  if (status == NUM_OK)
    {
      welch (&moments_before, &moments_after, confidence, out);
      ranks (sorted_before, before.n, sorted_after, after.n, out);
    }
  free (sorted_before);
  free (sorted_after);
  return status;
}
