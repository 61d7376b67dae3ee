/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-fix-private.h"

#include "num-proportion.h"

#include <math.h>

/*
 * The criterion that asks whether the fix of an issue is proven. Confidence and attempts are those of the issue under
 * the terms of the criterion; reproduction and the difference between before and after stand in the way of met.
 */

static void
list_units (InsightQuestion *question, const InsightFix *fix)
{
  InsightCriterion *out = question->out;
  const BookEvidence *e = question->basis->e;
  g_autofree guint8 *has = g_new0 (guint8, e->n_rounds + 1);
  g_autoptr(GPtrArray) labels = g_ptr_array_new ();

  for (guint i = 0; i < fix->after->len; i++)
    {
      const BookEvidenceUnit *unit = &e->units[g_array_index (fix->after, guint, i)];

      insight_ids_add (&out->counted, unit->id);
      has[unit->round] = 1;
    }
  for (guint i = 0; i < fix->failing->len; i++)
    insight_ids_add (&out->failing, e->units[g_array_index (fix->failing, guint, i)].id);
  for (guint r = 0; r < e->n_rounds; r++)
    if (has[r])
      {
        g_ptr_array_add (labels, g_strdup (e->rounds[r].label));
        insight_ids_add (&out->round_ids, e->rounds[r].id);
      }
  g_ptr_array_add (labels, NULL);
  g_strfreev (out->rounds);
  out->rounds = (char **) g_ptr_array_free (g_steal_pointer (&labels), FALSE);
}

static void
take_figures (InsightQuestion *question, const InsightFix *fix)
{
  InsightCriterion *out = question->out;
  double demand = question->basis->e->monthly_demand;

  out->share = fix->terms.share;
  out->wanted_base = fix->terms.confidence;
  out->wanted = fix->wanted;
  out->confidence = fix->confidence;
  out->contrary = fix->contrary;
  out->n = fix->after_n;
  out->failed = fix->after_failed;
  out->looks = fix->looks;
  out->attempts = fix->attempts;
  out->earlier_failures = fix->gone;
  out->earlier_units = fix->earlier_units;
  out->units_needed = fix->units_needed;
  out->method = fix->terms.strict ? INSIGHT_METHOD_ANYTIME : INSIGHT_METHOD_EXACT;
  if (out->n == 0)
    return;
  out->share_estimate = (double) (out->n - out->failed) / out->n;
  num_proportion_lower (out->n - out->failed, out->n, fix->terms.confidence, &out->share_low);
  if (!question->brief && !isnan (demand) && !isnan (out->share_low))
    out->failing_year = 12.0 * demand * (1.0 - out->share_low);
}

/* A finding of the issue that says what happens to the unit, or the unit was scrapped. */
static gboolean
has_disposition (const InsightFix *fix, guint unit)
{
  const InsightBasis *basis = fix->look->basis;
  const BookEvidence *e = basis->e;

  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].unit == (int) unit && e->findings[i].issue == fix->issue && e->findings[i].disposition != 0
        && e->findings[i].day <= fix->look->said)
      return TRUE;
  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    if (e->events[i].kind == BOOK_EVENT_SCRAPPED && e->events[i].day <= fix->look->said)
      return TRUE;
  return FALSE;
}

static gboolean
lacks_disposition (InsightQuestion *question, const InsightFix *fix)
{
  const BookEvidence *e = question->basis->e;
  InsightReason *reason = NULL;

  for (guint i = 0; i < fix->failing->len; i++)
    {
      guint unit = g_array_index (fix->failing, guint, i);

      if (has_disposition (fix, unit))
        continue;
      if (reason == NULL)
        reason = insight_say (question, INSIGHT_REASON_DISPOSITION);
      insight_reason_add_name (reason, e->units[unit].serial);
      insight_reason_add_id (reason, e->units[unit].id);
    }
  return reason != NULL;
}

static InsightState
state_of (const InsightCriterion *out, const InsightFix *fix, gboolean blocked)
{
  if (fix->state == INSIGHT_ISSUE_PROVEN && !blocked)
    return INSIGHT_MET;
  if (out->n >= INSIGHT_AGAINST_UNITS && out->contrary >= INSIGHT_AGAINST_FROM)
    return INSIGHT_AGAINST;
  if (out->n > 0 || fix->short_load + fix->short_cycles + fix->other_mode + fix->excused->len > 0)
    return INSIGHT_TOO_FEW;
  return fix->other_state > 0 ? INSIGHT_NO_LONGER : INSIGHT_NO_DATA;
}

/**
 * insight_judge_fix:
 * @question: about the fix of an issue
 *
 * Fills in confidence, state and everything said beside them.
 */
void
insight_judge_fix (InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  int issue = question->criterion->issue;
  int number = (int) (question->criterion - e->criteria);
  InsightFixTerms terms = insight_fix_terms (e, issue, number, question->look->end);
  g_autoptr(InsightFix) fix = insight_fix_new (question->look, question->units, issue, &terms);
  gboolean blocked;

  take_figures (question, fix);
  blocked = lacks_disposition (question, fix);
  if (question->criterion->klass == BOOK_CLASS_SAFETY && !question->terms.owner_share)
    {
      insight_say (question, INSIGHT_REASON_COUNT_NOT_SAFETY);
      blocked = TRUE;
    }
  question->out->state = state_of (question->out, fix, blocked);
  if (question->brief)
    return;
  list_units (question, fix);
  insight_fix_tell (fix, question->out->reasons);
  if (question->out->state == INSIGHT_MET)
    question->out->units_needed = 0;
}
