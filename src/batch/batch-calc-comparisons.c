/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods that hold one thing against another. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-adjust.h"
#include "num-compare.h"
#include "num-fix.h"
#include "num-groups.h"
#include "num-line.h"
#include "num-permutation.h"

#include <glib/gi18n.h>
#include <math.h>

static const BatchCalcKey samples_keys[] = {
  { "before", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "after", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
compare (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample before = batch_calc_numbers (input, "before");
  NumSample after = batch_calc_numbers (input, "after");
  NumComparison out;
  NumStatus status = num_compare (before, after, batch_calc_number (input, "confidence", 0.0), &out);

  if (!batch_calc_ok (answer, status, before.n < 2 ? "before" : "after"))
    return;
  batch_calc_put (answer, "difference", out.difference);
  batch_calc_put_interval (answer, "interval", out.interval);
  batch_calc_put (answer, "t", out.t);
  batch_calc_put (answer, "df", out.df);
  batch_calc_put (answer, "p", out.p);
  batch_calc_put (answer, "spread_f", out.spread_f);
  batch_calc_put (answer, "spread_p", out.spread_p);
  batch_calc_put (answer, "rank_u", out.rank_u);
  batch_calc_put (answer, "rank_p", out.rank_p);
  batch_calc_put (answer, "variance_ratio", out.variance_ratio);
  if (answer->lacks)
    batch_calc_why (answer, _("The values before, or the deviations within the samples, do not vary."));
}

static void
permutation (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample before = batch_calc_numbers (input, "before");
  NumSample after = batch_calc_numbers (input, "after");
  NumPermutation out;
  NumStatus status = num_permutation (before, after, batch_calc_number (input, "confidence", 0.0), 0, 0, &out);

  if (before.n + after.n > NUM_PERMUTATION_VALUES)
    {
      batch_calc_fail (answer, _("\"before\" and \"after\" hold more than %d values together."), NUM_PERMUTATION_VALUES);
      return;
    }
  if (!batch_calc_ok (answer, status, "before"))
    return;
  batch_calc_put (answer, "difference", out.difference);
  if (isfinite (out.interval.low))
    batch_calc_put_interval (answer, "interval", out.interval);
  else
    batch_calc_put (answer, "interval", nan (""));
  batch_calc_put (answer, "p", out.p);
  if (answer->lacks)
    batch_calc_why (answer, _("There are too few arrangements for an interval at this confidence."));
}

static const BatchCalcKey share_keys[] = {
  { "k", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "n", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static const BatchCalcKey compare_shares_keys[] = {
  { "before", BATCH_CALC_OBJECT, BATCH_CALC_REQUIRED, NULL, share_keys },
  { "after", BATCH_CALC_OBJECT, BATCH_CALC_REQUIRED, NULL, share_keys },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static gboolean
shares_ok (BatchCalcAnswer *answer, NumStatus status)
{
  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("In \"before\" and \"after\", \"k\" must not exceed \"n\", and \"n\" must be 1 to 2^40."));
  return batch_calc_ok (answer, status, "after");
}

static void
compare_shares (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  const BatchCalcInput *before = batch_calc_object (input, "before");
  const BatchCalcInput *after = batch_calc_object (input, "after");
  NumShareComparison out;

  if (!shares_ok (answer, num_compare_shares (batch_calc_count (before, "k"), batch_calc_count (before, "n"),
                                              batch_calc_count (after, "k"), batch_calc_count (after, "n"),
                                              batch_calc_number (input, "confidence", 0.0), &out)))
    return;
  batch_calc_put (answer, "difference", out.difference);
  batch_calc_put_interval (answer, "interval", out.interval);
  batch_calc_put (answer, "p", out.p);
}

static const BatchCalcKey fix_keys[] = {
  { "before", BATCH_CALC_OBJECT, BATCH_CALC_REQUIRED, NULL, share_keys },
  { "after", BATCH_CALC_OBJECT, BATCH_CALC_REQUIRED, NULL, share_keys },
  { "tolerated", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "attempt", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "strict", BATCH_CALC_FLAG, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
fix (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  const BatchCalcInput *before = batch_calc_object (input, "before");
  const BatchCalcInput *after = batch_calc_object (input, "after");
  gsize attempt = batch_calc_count (input, "attempt");
  NumFix out;

  if (attempt == 0)
    {
      batch_calc_fail (answer, _("\"attempt\" counts from 1."));
      return;
    }
  if (!shares_ok (answer, num_fix (batch_calc_count (before, "k"), batch_calc_count (before, "n"),
                                   batch_calc_count (after, "k"), batch_calc_count (after, "n"),
                                   batch_calc_number (input, "tolerated", 0.0), batch_calc_number (input, "confidence", 0.0),
                                   attempt, batch_calc_flag (input, "strict", TRUE), &out)))
    return;
  batch_calc_put (answer, "confidence", out.confidence);
  batch_calc_put (answer, "fisher", out.fisher);
  batch_calc_put_flag (answer, "proven", out.proven);
}

static const BatchCalcKey adjust_keys[] = {
  { "p", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
adjust (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample p = batch_calc_numbers (input, "p");
  g_autofree double *holm = g_new (double, p.n);

  if (num_adjust_holm (p.values, p.n, holm) != NUM_OK)
    batch_calc_fail (answer, _("\"p\" must hold numbers from 0 to 1."));
  else
    batch_calc_put_numbers (answer, "holm", holm, p.n);
}

static const BatchCalcKey line_keys[] = {
  { "x", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "y", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
line (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample x = batch_calc_numbers (input, "x");
  NumSample y = batch_calc_numbers (input, "y");
  NumLine out;

  if (x.n != y.n)
    {
      batch_calc_fail (answer, _("\"y\" must have as many values as \"x\"."));
      return;
    }
  if (!batch_calc_ok (answer, num_line (x.values, y.values, x.n, batch_calc_number (input, "confidence", 0.0), &out), "x"))
    return;
  batch_calc_put (answer, "slope", out.slope);
  batch_calc_put (answer, "intercept", out.intercept);
  batch_calc_put (answer, "se_slope", out.se_slope);
  batch_calc_put (answer, "se_intercept", out.se_intercept);
  batch_calc_put (answer, "residual_sd", out.residual_sd);
  batch_calc_put (answer, "r2", out.r2);
  batch_calc_put_interval (answer, "slope_interval", out.slope_interval);
  if (answer->lacks)
    batch_calc_why (answer, x.n == 2 ? _("Two points leave nothing over to judge the line by.")
                                     : _("The values of \"y\" do not vary."));
}

static const BatchCalcKey groups_keys[] = {
  { "groups", BATCH_CALC_GROUPS, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
groups (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const NumSample *samples = batch_calc_groups (input, "groups", &count);
  NumGroups out;

  if (!batch_calc_ok (answer, num_groups (samples, count, &out), "groups"))
    return;
  batch_calc_put (answer, "f", out.f);
  batch_calc_put (answer, "df_between", out.df_between);
  batch_calc_put (answer, "df_within", out.df_within);
  batch_calc_put (answer, "p", out.p);
}

const BatchCalcMethod batch_calc_comparisons[] = {
  { "compare", samples_keys, compare },
  { "permutation", samples_keys, permutation },
  { "compare-shares", compare_shares_keys, compare_shares },
  { "fix", fix_keys, fix },
  { "adjust", adjust_keys, adjust },
  { "line", line_keys, line },
  { "groups", groups_keys, groups },
  { 0 },
};
