/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-demonstration.h"
#include "num-plan.h"
#include "num-tolerance.h"

#include <math.h>

/*
 * What a number of units can prove. Of counts all is exact: the greatest number of failures with which the confidence is
 * still reached, the chance of no more than that by the posterior of the failing share (Jeffreys), and at the tolerated share.
 * Of values the chances are shares of draws, the same draws for each number of units, so that two numbers can be compared.
 */

#define FAILURES_MOST 2000 /* nobody plans with more */

static double
confidence_of_counts (const InsightPlanCriterion *told, guint failed, guint n)
{
  double confidence = NAN, e;

  if (n == 0)
    return NAN;
  if (told->method == INSIGHT_METHOD_ANYTIME)
    num_anytime_confidence (failed, n, told->tolerated, &e, &confidence);
  else
    num_demonstration_confidence (failed, n, told->tolerated, &confidence);
  return confidence;
}

/**
 * insight_plan_confidence:
 * @input: a criterion of a plan
 * @further: units beside those that count already
 * @failing: of these failing; of values 0: mean and deviation stay as they are
 *
 * Returns: the confidence reached then; NAN when none can be told
 */
double
insight_plan_confidence (const InsightPlanInput *input, guint further, guint failing)
{
  const InsightPlanCriterion *told = &input->told;
  double confidence = NAN;

  if (told->no_limits)
    return NAN;
  if (told->by_count)
    return confidence_of_counts (told, told->failed + failing, told->n + further);
  if (isnan (told->sd) || told->n + further < INSIGHT_UNITS_LEAST)
    return NAN;
  num_conformance_confidence (told->n + further, told->mean, told->sd, input->limits, told->share, &confidence);
  return confidence;
}

/* Units in all with which @failed failures in all are few enough; 0: no number. */
size_t
insight_plan_units_allowing (const InsightPlanCriterion *told, guint failed)
{
  size_t units = 0;
  NumStatus status;

  if (told->method == INSIGHT_METHOD_ANYTIME)
    status = num_anytime_units (failed, told->tolerated, told->wanted, &units);
  else
    status = num_demonstration_units (failed, told->tolerated, told->wanted, &units);
  return status == NUM_OK ? units : 0;
}

/* The most of @further units that may fail; -1: not even none would do. The confidence falls with each failure. */
static int
most_failures (const InsightPlanInput *input, guint further)
{
  const InsightPlanCriterion *told = &input->told;
  int low = -1, high = (int) MIN (further, FAILURES_MOST) + 1;

  if (told->plan_units > 0)
    { /* judged once, when complete, on its own number of units */
      gboolean complete = further >= told->plan_units;

      if (!complete || confidence_of_counts (told, told->plan_failures, told->plan_units) < told->wanted - INSIGHT_ROUNDING)
        return -1;
      return (int) told->plan_failures;
    }
  while (high - low > 1)
    {
      int middle = low + (high - low) / 2;

      if (insight_plan_confidence (input, further, (guint) middle) >= told->wanted - INSIGHT_ROUNDING)
        low = middle;
      else
        high = middle;
    }
  return low;
}

static void
prove_by_count (const InsightPlanInput *input, InsightPlanProof *proof)
{
  const InsightPlanCriterion *told = &input->told;
  guint further = told->plan_units > 0 ? MIN (proof->counted, told->plan_units) : proof->counted;
  NumPlan chance;

  proof->confidence = insight_plan_confidence (input, further, 0);
  proof->allowed = most_failures (input, further);
  proof->proves = proof->allowed >= 0;
  proof->assurance = proof->bad_passes = 0.0;
  if (proof->proves
      && num_plan_counts_chance (told->failed, told->n, further, (size_t) proof->allowed, told->tolerated, &chance) == NUM_OK)
    {
      proof->assurance = chance.assurance;
      proof->bad_passes = chance.bad_passes;
    }
  if (told->n == 0)
    proof->assurance = NAN;
}

static void
prove_by_values (const InsightPlan *plan, const InsightPlanInput *input, InsightPlanProof *proof)
{
  const InsightPlanCriterion *told = &input->told;
  gboolean one_sided = !isfinite (input->limits.lower) || !isfinite (input->limits.upper);
  const NumPlanQuestion question = { told->n, told->mean, told->sd, input->limits, told->share, told->wanted, INSIGHT_PLAN_ASSURANCE };
  guint all = told->n + proof->counted;
  NumPlan chance;

  proof->confidence = insight_plan_confidence (input, proof->counted, 0);
  if (all >= INSIGHT_UNITS_LEAST && one_sided)
    num_tolerance_one (all, told->share, told->wanted, &proof->distance);
  if (isnan (told->sd))
    proof->proves = all >= INSIGHT_UNITS_LEAST; /* if they lie far enough inside */
  else
    proof->proves = !isnan (proof->confidence) && proof->confidence >= told->wanted - INSIGHT_ROUNDING;
  if (isnan (told->sd) || told->n < 2)
    return;
  if (all < INSIGHT_UNITS_LEAST)
    proof->assurance = proof->bad_passes = 0.0;
  else if (num_plan_measured_chance (&question, proof->counted, (guint64) plan->model, (guint64) told->id, NUM_PLAN_DRAWS, &chance)
           == NUM_OK)
    {
      proof->assurance = chance.assurance;
      proof->bad_passes = chance.bad_passes;
    }
}

/**
 * insight_plan_prove:
 * @plan: a plan
 * @units: how many units are built
 * @cancellable: (nullable): asked once a criterion
 * @error: return location
 *
 * What that many units can prove, for every criterion. Pure, and safe in any thread.
 *
 * Returns: (transfer full) (nullable): the answer; %G_IO_ERROR_CANCELLED
 */
InsightPlanAnswer *
insight_plan_prove (const InsightPlan *plan, guint units, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightPlanAnswer) answer = g_new0 (InsightPlanAnswer, 1);

  g_return_val_if_fail (plan != NULL, NULL);

  answer->units = MIN (units, INSIGHT_PLAN_UNITS_MOST);
  answer->n = plan->inputs->len;
  answer->proofs = g_new0 (InsightPlanProof, answer->n + 1);
  answer->all_pass = NAN;
  for (guint i = 0; i < answer->n; i++)
    {
      const InsightPlanInput *input = &g_array_index (plan->inputs, InsightPlanInput, i);
      InsightPlanProof *proof = &answer->proofs[i];

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      proof->confidence = proof->pooled = proof->assurance = proof->bad_passes = proof->distance = NAN;
      proof->allowed = -1;
      insight_plan_count (plan, input, answer->units, proof);
      if (input->told.no_limits)
        continue;
      if (input->told.by_count)
        prove_by_count (input, proof);
      else
        prove_by_values (plan, input, proof);
      insight_plan_look_at_lots (plan, input, answer->units, proof);
      answer->n_proves += proof->proves && !input->told.not_enough_alone;
      if (isnan (proof->assurance))
        continue;
      answer->at_most |= proof->by_lots_of != NULL;
      answer->all_pass = answer->n_known++ == 0 ? proof->assurance : answer->all_pass * proof->assurance;
    }
  return g_steal_pointer (&answer);
}

void
insight_plan_answer_free (InsightPlanAnswer *answer)
{
  if (answer == NULL)
    return;
  g_free (answer->proofs);
  g_free (answer);
}
