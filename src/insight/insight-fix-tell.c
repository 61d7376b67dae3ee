/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-fix-private.h"

#include "num-fix.h"

#include <math.h>

/*
 * What is missing before a fix may be called proven, and what has to be said beside it: what hinders most comes first.
 */

static InsightReason *
say (GPtrArray *reasons, InsightReasonCode code)
{
  InsightReason *reason = insight_reason_new (code);

  g_ptr_array_add (reasons, reason);
  return reason;
}

static void
say_count (GPtrArray *reasons, InsightReasonCode code, guint count)
{
  if (count > 0)
    insight_reason_add_count (say (reasons, code), count);
}

static void
add_change (InsightReason *reason, const BookEvidenceChange *change)
{
  g_autofree char *name = g_strdup_printf ("%d %s", change->no, change->title);

  insight_reason_add_name (reason, name);
  insight_reason_add_id (reason, change->id);
}

static void
add_units (InsightReason *reason, const BookEvidence *e, const GArray *units)
{
  for (guint i = 0; i < units->len; i++)
    {
      const BookEvidenceUnit *unit = &e->units[g_array_index (units, guint, i)];

      insight_reason_add_name (reason, unit->serial);
      insight_reason_add_id (reason, unit->id);
    }
}

static void
tell_answer (const InsightFix *fix, GPtrArray *reasons)
{
  const BookEvidence *e = fix->look->basis->e;

  if (!fix->has_test)
    say (reasons, INSIGHT_REASON_ISSUE_NO_TEST);
  if (fix->change < 0)
    say (reasons, INSIGHT_REASON_ISSUE_NO_CHANGE);
  else if (!fix->names_state)
    add_change (say (reasons, INSIGHT_REASON_ISSUE_NO_STATE), &e->changes[fix->change]);
  else if (!fix->built)
    add_change (say (reasons, INSIGHT_REASON_ISSUE_NOT_BUILT), &e->changes[fix->change]);
}

static void
tell_missing (const InsightFix *fix, GPtrArray *reasons)
{
  InsightReason *reason;

  if (fix->state == INSIGHT_ISSUE_PROVEN || !fix->has_test)
    return;
  if (!fix->reproduced)
    insight_reason_add_count (say (reasons, INSIGHT_REASON_ISSUE_NOT_REPRODUCED), fix->before_n);
  if (fix->change < 0 || !fix->names_state)
    return;
  if (fix->units_needed > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_UNITS);
      insight_reason_add_count (reason, fix->units_needed);
      insight_reason_add_count (reason, fix->after_n);
    }
  if (fix->state == INSIGHT_ISSUE_NOT_AGAIN && !isnan (fix->fisher) && !(fix->fisher < NUM_FIX_FISHER))
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_LUCK);
      insight_reason_add_count (reason, fix->before_failed);
      insight_reason_add_count (reason, fix->before_n);
      insight_reason_add_count (reason, fix->after_failed);
      insight_reason_add_count (reason, fix->after_n);
      insight_reason_add_number (reason, fix->fisher);
    }
}

/* Names the changes that came between units with the fix and the state looked for; without one the part or step. */
static void
add_what_changed (const InsightFix *fix, InsightReason *reason)
{
  const InsightBasis *basis = fix->look->basis;
  const BookEvidence *e = basis->e;
  int characteristic = e->issues[fix->issue].seen_by;
  g_autoptr(GArray) changes = g_array_new (FALSE, FALSE, sizeof (int));
  InsightDependence differs = { -1, -1 };

  for (guint b = 0; characteristic >= 0 && b < basis->n_builds; b++)
    {
      InsightMatching matching = { 0 };

      if (insight_fix_side (fix->look, fix->change, b) != INSIGHT_SIDE_NEW)
        continue;
      insight_look_match (fix->look, characteristic, b, &matching);
      insight_look_add_changes (fix->look, characteristic, b, changes);
      if (matching.differs.part >= 0 || matching.differs.step >= 0)
        differs = matching.differs;
    }
  for (guint i = 0; i < changes->len; i++)
    add_change (reason, &e->changes[g_array_index (changes, int, i)]);
  if (changes->len == 0)
    insight_reason_add_name (reason, differs.part >= 0 ? e->parts[differs.part].name
                                     : differs.step >= 0 ? e->steps[differs.step].name : "");
}

static void
tell_left_out (const InsightFix *fix, GPtrArray *reasons)
{
  InsightReason *reason;

  if (fix->short_load > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_LOAD);
      insight_reason_add_count (reason, fix->short_load);
      insight_reason_add_number (reason, fix->needed_load);
    }
  if (fix->short_cycles > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_CYCLES);
      insight_reason_add_count (reason, fix->short_cycles);
      insight_reason_add_number (reason, fix->needed_cycles);
    }
  say_count (reasons, INSIGHT_REASON_ISSUE_OTHER_MODE, fix->other_mode);
  if (fix->other_state > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_OTHER_STATE);
      add_what_changed (fix, reason);
      insight_reason_add_count (reason, fix->other_state);
    }
  if (fix->early > 0)
    {
      reason = say (reasons, INSIGHT_REASON_KIND_EARLY);
      insight_reason_add_name (reason, fix->terms.counts_from == BOOK_COUNTS_PILOT ? "pilot" : "prototype");
      insight_reason_add_count (reason, fix->early);
    }
  if (fix->before_change > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ISSUE_BEFORE_CHANGE);
      add_change (reason, &fix->look->basis->e->changes[fix->change]);
      insight_reason_add_count (reason, fix->before_change);
    }
}

static void
tell_excused (const InsightFix *fix, GPtrArray *reasons)
{
  const InsightBasis *basis = fix->look->basis;
  InsightReason *reason;

  if (fix->excused->len == 0)
    return;
  reason = say (reasons, INSIGHT_REASON_EXCUSED);
  for (guint i = 0; i < fix->excused->len; i++)
    insight_reason_add_excuse (reason, basis, g_array_index (fix->excused, guint, i), fix->look->end);
  insight_reason_add_count (reason, fix->excused->len);
  insight_reason_add_count (reason, fix->excused_failing);
}

static void
tell_attempts (const InsightFix *fix, GPtrArray *reasons)
{
  const BookEvidence *e = fix->look->basis->e;
  InsightReason *reason;

  if (fix->gone > 0)
    {
      reason = say (reasons, INSIGHT_REASON_ATTEMPTS);
      /* oldest first: what comes after the one that is judged is not built yet */
      for (guint i = 0; i < fix->changes->len; i++)
        {
          add_change (reason, &e->changes[g_array_index (fix->changes, int, i)]);
          if (g_array_index (fix->changes, int, i) == fix->change)
            break;
        }
      insight_reason_add_count (reason, fix->attempts);
      insight_reason_add_count (reason, fix->gone);
      insight_reason_add_count (reason, fix->earlier_units);
    }
  if (fix->looks > 1)
    insight_reason_add_count (say (reasons, INSIGHT_REASON_LOOKS), fix->looks);
  if (fix->terms.strict && fix->attempts > 1)
    {
      reason = say (reasons, INSIGHT_REASON_SURCHARGE);
      insight_reason_add_number (reason, fix->terms.confidence);
      insight_reason_add_number (reason, fix->wanted);
      insight_reason_add_count (reason, fix->attempts);
    }
}

static void
tell_check (const InsightFix *fix, GPtrArray *reasons)
{
  const BookEvidence *e = fix->look->basis->e;
  const BookEvidenceIssue *issue = &e->issues[fix->issue];

  if (fix->after_n == 0 || issue->seen_in_life_test || issue->seen_by < 0
      || e->characteristics[issue->seen_by].kind != BOOK_CHARACTERISTIC_CHECKED)
    return;
  if (isnan (fix->detection))
    say (reasons, INSIGHT_REASON_MISSES_NOTHING);
  else
    insight_reason_add_number (say (reasons, INSIGHT_REASON_DETECTION), fix->detection);
}

/**
 * insight_fix_tell:
 * @fix: judged
 * @reasons: (element-type InsightReason): is added to
 *
 * Says what is missing and what stands beside the figures.
 */
void
insight_fix_tell (const InsightFix *fix, GPtrArray *reasons)
{
  const BookEvidence *e = fix->look->basis->e;

  if (fix->after_failed > 0)
    {
      InsightReason *reason = say (reasons, INSIGHT_REASON_ISSUE_CAME_BACK);

      add_units (reason, e, fix->failing);
      insight_reason_add_count (reason, fix->after_failed);
    }
  tell_answer (fix, reasons);
  tell_missing (fix, reasons);
  tell_left_out (fix, reasons);
  tell_excused (fix, reasons);
  tell_attempts (fix, reasons);
  tell_check (fix, reasons);
}
