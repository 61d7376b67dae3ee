/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include <math.h>

#define ERRORS 2.58 /* standard errors of the draws that are taken off: 99 % of them */

InsightCriterion *
insight_criterion_new (void)
{
  InsightCriterion *criterion = g_new0 (InsightCriterion, 1);

  criterion->reasons = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_reason_free);
  criterion->rounds = g_new0 (char *, 1);
  criterion->state = INSIGHT_NO_DATA;
  criterion->lower = -INFINITY;
  criterion->upper = INFINITY;
  criterion->nominal = criterion->share = criterion->wanted = criterion->wanted_base = NAN;
  criterion->confidence = criterion->contrary = NAN;
  criterion->mean = criterion->sd = criterion->min = criterion->max = NAN;
  criterion->share_estimate = criterion->share_low = criterion->failing_year = NAN;
  criterion->target = criterion->estimate = criterion->estimate_low = criterion->estimate_high = NAN;
  criterion->attempts = 1;
  return criterion;
}

void
insight_criterion_free (InsightCriterion *criterion)
{
  if (criterion == NULL)
    return;

  g_free (criterion->code);
  g_free (criterion->gate);
  g_free (criterion->about_code);
  g_free (criterion->about_name);
  g_free (criterion->unit);
  g_strfreev (criterion->rounds);
  g_free (criterion->round_ids.ids);
  g_free (criterion->counted.ids);
  g_free (criterion->failing.ids);
  g_free (criterion->no_longer.ids);
  g_ptr_array_unref (criterion->reasons);
  g_free (criterion);
}

void
insight_ids_add (InsightIds *ids, gint64 id)
{
  if (ids->n == 0 || (ids->n >= 16 && (ids->n & (ids->n - 1)) == 0))
    ids->ids = g_renew (gint64, ids->ids, ids->n == 0 ? 16 : (gsize) ids->n * 2);
  ids->ids[ids->n++] = id;
}

/**
 * insight_state_of:
 * @criterion: the answer, with what was counted, its confidence and that of the contrary (NAN: none can be told)
 * @error: standard error of a confidence that was drawn, 0 of one that is exact
 * @may_be_met: whether nothing but the confidence stands in the way of met
 *
 * Returns: the state that follows
 */
InsightState
insight_state_of (const InsightCriterion *criterion, double error, gboolean may_be_met)
{
  if (criterion->n == 0)
    return INSIGHT_NO_DATA;
  if (may_be_met && criterion->confidence - ERRORS * error >= criterion->wanted - INSIGHT_ROUNDING)
    return INSIGHT_MET;
  if (criterion->n >= INSIGHT_AGAINST_UNITS && criterion->contrary >= INSIGHT_AGAINST_FROM)
    return INSIGHT_AGAINST;
  return INSIGHT_TOO_FEW;
}

/* Adds a reason to the answer; it is owned by the answer. */
InsightReason *
insight_say (InsightQuestion *question, InsightReasonCode code)
{
  InsightReason *reason = insight_reason_new (code);

  g_ptr_array_add (question->out->reasons, reason);
  return reason;
}

/* A unit as people call it: by its serial, which begins with the round's label where the shop does it so. */
char *
insight_unit_name (const BookEvidence *evidence, guint unit)
{
  return g_strdup (evidence->units[unit].serial);
}

/**
 * insight_criterion_find_reason:
 * @criterion: a criterion
 * @code: what is looked for
 *
 * Returns: (nullable): the first reason with that code
 */
const InsightReason *
insight_criterion_find_reason (const InsightCriterion *criterion, InsightReasonCode code)
{
  for (guint i = 0; i < criterion->reasons->len; i++)
    {
      const InsightReason *reason = criterion->reasons->pdata[i];

      if (reason->code == code)
        return reason;
    }
  return NULL;
}

static const char *const state_names[] = { "met", "too-few", "against", "no-longer", "no-data" };
static const char *const method_names[] = { "none",  "exact",      "any-time", "plan", "normal",
                                            "least", "log-normal", "lots",     "count",      "yield",    "rate", "life-stated",
                                            "life-fitted", "method",  "detection" };
G_STATIC_ASSERT (G_N_ELEMENTS (state_names) == INSIGHT_NO_DATA + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (method_names) == INSIGHT_N_METHODS);

/* An untranslated word, such as `too-few`. */
const char *
insight_state_name (InsightState state)
{
  g_return_val_if_fail ((guint) state < G_N_ELEMENTS (state_names), "");

  return state_names[state];
}

/* An untranslated word, such as `any-time`. */
const char *
insight_method_name (InsightMethod method)
{
  g_return_val_if_fail ((guint) method < G_N_ELEMENTS (method_names), "");

  return method_names[method];
}
