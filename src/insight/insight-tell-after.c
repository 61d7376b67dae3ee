/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What was found after the newest round was decided. By its date it belongs to no round, so it counts for no criterion; but
 * a round that was called decided early must not hide what failed afterwards.
 */
#include "config.h"

#include "insight-criterion-private.h"

static guint
count_readings (const InsightLook *look, int characteristic)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  guint n = 0;

  for (guint i = one->first_reading; i < one->end_reading; i++)
    n += e->readings[i].day > look->end && e->readings[i].day <= look->said && !e->readings[i].voided
         && e->units[e->readings[i].unit].round <= look->through;
  return n;
}

static gboolean
is_of (const InsightLook *look, int characteristic, guint unit)
{
  InsightMatching matching = { 0 };

  insight_look_match (look, characteristic, look->basis->build_of[unit], &matching);
  return matching.match <= INSIGHT_MATCH_CARRIED;
}

/*
 * The units, of those that would count, that failed after the round by its limits: of its design, or of that which is newest
 * today and would be made.
 */
static void
take_failing_later (const InsightLook *look, int characteristic, GArray *failing)
{
  g_autoptr(InsightLook) later = NULL, newest = NULL;
  g_auto(InsightUnits) units = { 0 };

  if (look->said <= look->end || count_readings (look, characteristic) == 0)
    return;
  later = insight_look_later (look);
  newest = insight_look_new (look->basis, look->through, look->said);
  insight_units_init (&units, look->basis);
  insight_units_gather (&units, later, characteristic, BOOK_COUNTS_PROTOTYPE);
  for (guint i = 0; i < units.n; i++)
    {
      const InsightUnit *unit = &units.units[i];

      if (unit->is_kind && unit->day > look->end && insight_is_failing (unit->verdict)
          && (insight_units_match (&units, unit->unit) <= INSIGHT_MATCH_CARRIED || is_of (newest, characteristic, unit->unit)))
        g_array_append_val (failing, unit->unit);
    }
}

/**
 * insight_failing_units:
 * @look: the last look
 * @characteristic: a characteristic
 *
 * The units of the state of design looked for that fail at the attempt that is evidence, by the look's end or, where the
 * newest round is decided, by what was read since and the limits of that round. A unit may be in it twice.
 *
 * Returns: (transfer full) (element-type guint): indices of units
 */
GArray *
insight_failing_units (const InsightLook *look, int characteristic)
{
  GArray *failing = g_array_new (FALSE, FALSE, sizeof (guint));
  g_auto(InsightUnits) units = { 0 };

  insight_units_init (&units, look->basis);
  insight_units_gather (&units, look, characteristic, BOOK_COUNTS_PROTOTYPE);
  for (guint i = 0; i < units.n; i++)
    if (units.units[i].is_kind && insight_is_failing (units.units[i].verdict)
        && insight_units_match (&units, units.units[i].unit) <= INSIGHT_MATCH_CARRIED)
      g_array_append_val (failing, units.units[i].unit);
  take_failing_later (look, characteristic, failing);
  return failing;
}

/* Once, however often it failed. */
static void
add_failed (InsightQuestion *question, guint unit)
{
  const BookEvidence *e = question->basis->e;
  g_autofree char *name = insight_unit_name (e, unit);
  InsightReason *reason = (InsightReason *) insight_criterion_find_reason (question->out, INSIGHT_REASON_FAILED_AFTER);

  if (reason == NULL)
    reason = insight_say (question, INSIGHT_REASON_FAILED_AFTER);
  for (guint i = 0; i < reason->n_ids; i++)
    if (reason->ids[i] == e->units[unit].id)
      return;
  insight_reason_add_name (reason, name);
  insight_reason_add_id (reason, e->units[unit].id);
}

static void
tell_failing (InsightQuestion *question, int characteristic)
{
  g_autoptr(GArray) failing = g_array_new (FALSE, FALSE, sizeof (guint));

  take_failing_later (question->look, characteristic, failing);
  for (guint i = 0; i < failing->len; i++)
    add_failed (question, g_array_index (failing, guint, i));
}

static gboolean
is_after (const InsightLook *look, const BookEvidenceLifeTest *test, int characteristic)
{
  return test->characteristic == characteristic && test->unit >= 0 && test->day > look->end && test->day <= look->said
         && look->basis->e->units[test->unit].round <= look->through;
}

/**
 * insight_tell_after_round:
 * @question: judged at the last look
 *
 * Says which readings and life tests of what is asked about are dated after the newest round was decided, and which units
 * failed in them.
 */
void
insight_tell_after_round (InsightQuestion *question)
{
  const InsightLook *look = question->look;
  const BookEvidence *e = question->basis->e;
  int characteristic = question->criterion->characteristic;
  guint readings, tests = 0;
  InsightReason *reason;

  if (characteristic < 0 && question->criterion->issue >= 0)
    characteristic = e->issues[question->criterion->issue].seen_by;
  if (question->brief || look->through < 0 || look->said <= look->end || characteristic < 0)
    return;
  readings = count_readings (look, characteristic);
  for (guint i = 0; i < e->n_life_tests; i++)
    tests += is_after (look, &e->life_tests[i], characteristic);
  if (readings + tests == 0)
    return;
  reason = insight_say (question, INSIGHT_REASON_AFTER_ROUND);
  insight_reason_add_name (reason, e->rounds[look->through].label);
  insight_reason_add_count (reason, readings);
  insight_reason_add_count (reason, tests);
  tell_failing (question, characteristic);
  for (guint i = 0; i < e->n_life_tests; i++)
    if (is_after (look, &e->life_tests[i], characteristic) && e->life_tests[i].ended == BOOK_LIFE_FAILED)
      add_failed (question, (guint) e->life_tests[i].unit);
}
