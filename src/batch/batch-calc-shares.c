/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for units that pass or fail, and for how many of them to build. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-anytime.h"
#include "num-demonstration.h"
#include "num-plan.h"
#include "num-proportion.h"

#include <glib/gi18n.h>

static const BatchCalcKey proportion_keys[] = {
  { "k", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "n", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
proportion (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumProportion out;
  NumStatus status = num_proportion (batch_calc_count (input, "k"), batch_calc_count (input, "n"),
                                     batch_calc_number (input, "confidence", 0.0), &out);

  if (status != NUM_OK)
    {
      batch_calc_fail (answer, _("\"k\" must not exceed \"n\", and \"n\" must be at least 1."));
      return;
    }
  batch_calc_put (answer, "estimate", out.estimate);
  batch_calc_put_interval (answer, "wilson", out.wilson);
  batch_calc_put_interval (answer, "exact", out.exact);
  batch_calc_put_interval (answer, "jeffreys", out.jeffreys);
}

static const BatchCalcKey demonstration_keys[] = {
  { "reliability", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "failures", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "units", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

/* Of "units" and "confidence" exactly one is given, and the other is the answer. */
static gboolean
asks_for_units (const BatchCalcInput *input, BatchCalcAnswer *answer, gboolean *units)
{
  *units = batch_calc_has (input, "confidence");
  if (*units == batch_calc_has (input, "units"))
    {
      batch_calc_fail (answer, _("Give either \"units\" or \"confidence\": the other one is the answer."));
      return FALSE;
    }
  return TRUE;
}

static void
demonstration (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  double tolerated = 1.0 - batch_calc_number (input, "reliability", 0.0);
  gsize failed = batch_calc_count (input, "failures");
  gboolean units_wanted;

  if (!asks_for_units (input, answer, &units_wanted))
    return;
  if (units_wanted)
    {
      size_t units;
      NumStatus status
          = num_demonstration_units (failed, tolerated, batch_calc_number (input, "confidence", 0.0), &units);

      if (batch_calc_ok (answer, status, "reliability"))
        batch_calc_put_count (answer, "units", units);
    }
  else
    {
      double confidence;
      NumStatus status = num_demonstration_confidence (failed, batch_calc_count (input, "units"), tolerated, &confidence);

      if (batch_calc_ok (answer, status, "units"))
        batch_calc_put (answer, "confidence", confidence);
    }
}

static const BatchCalcKey anytime_keys[] = {
  { "failed", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "tolerated", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "units", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
anytime (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  double tolerated = batch_calc_number (input, "tolerated", 0.0);
  gsize failed = batch_calc_count (input, "failed");
  gboolean units_wanted;

  if (!asks_for_units (input, answer, &units_wanted))
    return;
  if (units_wanted)
    {
      size_t units;
      NumStatus status = num_anytime_units (failed, tolerated, batch_calc_number (input, "confidence", 0.0), &units);

      if (batch_calc_ok (answer, status, "tolerated"))
        batch_calc_put_count (answer, "units", units);
    }
  else
    {
      double e, confidence;
      NumStatus status = num_anytime_confidence (failed, batch_calc_count (input, "units"), tolerated, &e, &confidence);

      if (!batch_calc_ok (answer, status, "units"))
        return;
      batch_calc_put (answer, "e", e);
      batch_calc_put (answer, "confidence", confidence);
    }
}

static const BatchCalcKey plan_keys[] = {
  { "failed", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "units", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "tolerated", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "n", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "mean", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "sd", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "lower", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "upper", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "coverage", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "assurance", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static const char *const plan_counted[] = { "failed", "units", "tolerated", NULL };
static const char *const plan_measured[] = { "n", "mean", "sd", "coverage", NULL };
static const char *const plan_limits[] = { "lower", "upper", NULL };

#define ASSURANCE 0.8 /* common practice for plans, no source */

static gboolean
plan_of_counts (const BatchCalcInput *input, BatchCalcAnswer *answer, NumPlan *out)
{
  gsize failed = batch_calc_count (input, "failed");
  gsize units = batch_calc_count (input, "units");

  if (!batch_calc_refuse (input, answer, plan_measured) || !batch_calc_refuse (input, answer, plan_limits)
      || !batch_calc_need (input, answer, plan_counted))
    return FALSE;
  if (failed > units)
    batch_calc_fail (answer, _("\"failed\" must not exceed \"units\"."));
  return batch_calc_ok (answer,
                        num_plan_counts (failed, units, batch_calc_number (input, "tolerated", 0.0),
                                         batch_calc_number (input, "confidence", 0.0), out),
                        "tolerated");
}

static gboolean
plan_of_measured (const BatchCalcInput *input, BatchCalcAnswer *answer, NumPlan *out)
{
  NumPlanQuestion question = {
    .n = batch_calc_count (input, "n"),
    .mean = batch_calc_number (input, "mean", 0.0),
    .sd = batch_calc_number (input, "sd", 0.0),
    .coverage = batch_calc_number (input, "coverage", 0.0),
    .confidence = batch_calc_number (input, "confidence", 0.0),
    .assurance = batch_calc_number (input, "assurance", ASSURANCE),
  };
  NumStatus status;

  if (!batch_calc_refuse (input, answer, plan_counted) || !batch_calc_need (input, answer, plan_measured)
      || !batch_calc_limits (input, answer, &question.limits))
    return FALSE;
  if (question.coverage < 0.5)
    batch_calc_fail (answer, _("\"coverage\" must be at least 0.5 for a plan."));
  status = num_plan_measured (&question, 0, 0, NUM_PLAN_DRAWS, out);
  if (status == NUM_NO_SOLUTION)
    batch_calc_fail (answer, _("\"assurance\" is more than any number of further units can give: by the units so far the "
                               "design is not sure enough to be good."));
  return batch_calc_ok (answer, status, status == NUM_TOO_FEW ? "n" : "sd");
}

static void
plan (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gboolean counted = batch_calc_has (input, "tolerated") || batch_calc_has (input, "units");
  NumPlan out;

  if (!(counted ? plan_of_counts (input, answer, &out) : plan_of_measured (input, answer, &out)))
    return;
  batch_calc_put_count (answer, "units", out.units);
  batch_calc_put (answer, "assurance", out.assurance);
  batch_calc_put (answer, "bad_passes", out.bad_passes);
}

const BatchCalcMethod batch_calc_shares[] = {
  { "proportion", proportion_keys, proportion },
  { "demonstration", demonstration_keys, demonstration },
  { "anytime", anytime_keys, anytime },
  { "plan", plan_keys, plan },
  { 0 },
};
