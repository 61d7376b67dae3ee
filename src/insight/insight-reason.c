/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-reason.h"

/* Words of JSON output and of kept answers: never changed once released. */
static const char *const code_names[] = {
  [INSIGHT_REASON_NO_ROUND] = "no-round",
  [INSIGHT_REASON_NO_CHARACTERISTIC] = "no-characteristic",
  [INSIGHT_REASON_LIMITS_MISSING] = "limits-missing",
  [INSIGHT_REASON_TERM_MISSING] = "term-missing",
  [INSIGHT_REASON_OTHER_STATE] = "other-state",
  [INSIGHT_REASON_SPLIT_NEXT_PLAN] = "split-next-plan",
  [INSIGHT_REASON_SPLIT_LATER] = "split-later",
  [INSIGHT_REASON_CARRIED_OVER] = "carried-over",
  [INSIGHT_REASON_SECOND_PERSON] = "second-person",
  [INSIGHT_REASON_ALTERED] = "altered",
  [INSIGHT_REASON_KIND_EARLY] = "kind-early",
  [INSIGHT_REASON_LIMIT_WIDENED] = "limit-widened",
  [INSIGHT_REASON_WIDENED_SAFETY] = "widened-safety",
  [INSIGHT_REASON_OLDER_LIMIT] = "older-limit",
  [INSIGHT_REASON_LATER_ATTEMPTS] = "later-attempts",
  [INSIGHT_REASON_VOIDED] = "voided",
  [INSIGHT_REASON_UNDECIDABLE] = "undecidable",
  [INSIGHT_REASON_CENSORED] = "censored",
  [INSIGHT_REASON_SHAPE_UNKNOWN] = "shape-unknown",
  [INSIGHT_REASON_FITTED] = "fitted",
  [INSIGHT_REASON_LOG_NORMAL] = "log-normal",
  [INSIGHT_REASON_NO_VARIATION] = "no-variation",
  [INSIGHT_REASON_NOT_COMPUTED] = "not-computed",
  [INSIGHT_REASON_LOTS_FEW] = "lots-few",
  [INSIGHT_REASON_LOTS_THIRD] = "lots-third",
  [INSIGHT_REASON_LOTS_DECIDED] = "lots-decided",
  [INSIGHT_REASON_LOT_UNKNOWN] = "lot-unknown",
  [INSIGHT_REASON_GAUGE_NOT_STUDIED] = "gauge-not-studied",
  [INSIGHT_REASON_GUARD_BAND] = "guard-band",
  [INSIGHT_REASON_GUARD_TOO_WIDE] = "guard-too-wide",
  [INSIGHT_REASON_GAUGE_OUT] = "gauge-out",
  [INSIGHT_REASON_GAUGE_EXCUSED] = "gauge-excused",
  [INSIGHT_REASON_MISSES_NOTHING] = "misses-nothing",
  [INSIGHT_REASON_DETECTION] = "detection",
  [INSIGHT_REASON_BELOW_SIX] = "below-six",
  [INSIGHT_REASON_NOT_TESTED_YET] = "not-tested-yet",
  [INSIGHT_REASON_DISPOSITION] = "disposition",
  [INSIGHT_REASON_EXCUSED] = "excused",
  [INSIGHT_REASON_LOOKS] = "looks",
  [INSIGHT_REASON_ATTEMPTS] = "attempts",
  [INSIGHT_REASON_SURCHARGE] = "surcharge",
  [INSIGHT_REASON_PLAN] = "plan",
  [INSIGHT_REASON_PLAN_INCOMPLETE] = "plan-incomplete",
  [INSIGHT_REASON_PLAN_LATE] = "plan-late",
  [INSIGHT_REASON_COUNT_NOT_SAFETY] = "count-not-safety",
  [INSIGHT_REASON_COUNT_DONE] = "count-done",
  [INSIGHT_REASON_WAIVED] = "waived",
  [INSIGHT_REASON_ENTERED_LATER] = "entered-later",
  [INSIGHT_REASON_ISSUE_NO_TEST] = "issue-no-test",
  [INSIGHT_REASON_ISSUE_NO_CHANGE] = "issue-no-change",
  [INSIGHT_REASON_ISSUE_NO_STATE] = "issue-no-state",
  [INSIGHT_REASON_ISSUE_NOT_BUILT] = "issue-not-built",
  [INSIGHT_REASON_ISSUE_NOT_REPRODUCED] = "issue-not-reproduced",
  [INSIGHT_REASON_ISSUE_UNITS] = "issue-units",
  [INSIGHT_REASON_ISSUE_LOAD] = "issue-load",
  [INSIGHT_REASON_ISSUE_CYCLES] = "issue-cycles",
  [INSIGHT_REASON_ISSUE_LUCK] = "issue-luck",
  [INSIGHT_REASON_ISSUE_CAME_BACK] = "issue-came-back",
  [INSIGHT_REASON_ISSUE_OTHER_MODE] = "issue-other-mode",
  [INSIGHT_REASON_ISSUE_OTHER_STATE] = "issue-other-state",
  [INSIGHT_REASON_ISSUE_BEFORE_CHANGE] = "issue-before-change",
  [INSIGHT_REASON_ISSUE_NOT_SHOWN] = "issue-not-shown",
  [INSIGHT_REASON_CHANGED_BY] = "changed-by",
  [INSIGHT_REASON_NO_ISSUE] = "no-issue",
  [INSIGHT_REASON_ISSUES_EXCEPTED] = "issues-excepted",
  [INSIGHT_REASON_STEPS_UNCOUNTED] = "steps-uncounted",
  [INSIGHT_REASON_IN_HAND] = "in-hand",
  [INSIGHT_REASON_TALLIES_LEFT_OUT] = "tallies-left-out",
  [INSIGHT_REASON_STEPS_LEFT_OUT] = "steps-left-out",
  [INSIGHT_REASON_CONSTRAINT] = "constraint",
  [INSIGHT_REASON_RUN_DAYS] = "run-days",
  [INSIGHT_REASON_NO_TARGET] = "no-target",
  [INSIGHT_REASON_LIFE_CYCLES] = "life-cycles",
  [INSIGHT_REASON_LIFE_SHAPE] = "life-shape",
  [INSIGHT_REASON_LIFE_LOAD] = "life-load",
  [INSIGHT_REASON_LIFE_MODES] = "life-modes",
  [INSIGHT_REASON_LIFE_STOPPED] = "life-stopped",
  [INSIGHT_REASON_LIFE_OTHER_STATE] = "life-other-state",
  [INSIGHT_REASON_STUDY_GAPS] = "study-gaps",
  [INSIGHT_REASON_STUDY] = "study",
  [INSIGHT_REASON_NO_TOLERANCE] = "no-tolerance",
  [INSIGHT_REASON_INSPECTORS] = "inspectors",
  [INSIGHT_REASON_IN_ADDITION] = "in-addition",
  [INSIGHT_REASON_STEPS_WANTED] = "steps-wanted",
  [INSIGHT_REASON_SET_ASIDE] = "set-aside",
  [INSIGHT_REASON_AFTER_ROUND] = "after-round",
  [INSIGHT_REASON_FAILED_AFTER] = "failed-after-round",
};
G_STATIC_ASSERT (G_N_ELEMENTS (code_names) == INSIGHT_N_REASONS);

/**
 * insight_reason_code_name:
 * @code: a code
 *
 * Returns: its untranslated word, such as `lots-few`
 */
const char *
insight_reason_code_name (InsightReasonCode code)
{
  g_return_val_if_fail ((guint) code < INSIGHT_N_REASONS, "");

  return code_names[code];
}

/**
 * insight_reason_new:
 * @code: what has to be said
 *
 * Returns: (transfer full): a reason without arguments
 */
InsightReason *
insight_reason_new (InsightReasonCode code)
{
  InsightReason *reason = g_new0 (InsightReason, 1);

  reason->code = code;
  reason->names = g_new0 (char *, 1);
  return reason;
}

void
insight_reason_free (InsightReason *reason)
{
  if (reason == NULL)
    return;

  g_strfreev (reason->names);
  g_free (reason->counts);
  g_free (reason->numbers);
  g_free (reason->ids);
  g_free (reason);
}

void
insight_reason_add_name (InsightReason *reason, const char *name)
{
  guint n = g_strv_length (reason->names);

  reason->names = g_renew (char *, reason->names, n + 2);
  reason->names[n] = g_strdup (name);
  reason->names[n + 1] = NULL;
}

void
insight_reason_add_count (InsightReason *reason, gint64 count)
{
  reason->counts = g_renew (gint64, reason->counts, reason->n_counts + 1);
  reason->counts[reason->n_counts++] = count;
}

void
insight_reason_add_number (InsightReason *reason, double number)
{
  reason->numbers = g_renew (double, reason->numbers, reason->n_numbers + 1);
  reason->numbers[reason->n_numbers++] = number;
}

void
insight_reason_add_id (InsightReason *reason, gint64 id)
{
  reason->ids = g_renew (gint64, reason->ids, reason->n_ids + 1);
  reason->ids[reason->n_ids++] = id;
}
