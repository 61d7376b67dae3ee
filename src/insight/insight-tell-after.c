/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What was found after the newest round was decided. By its date it belongs to no round, so it counts for no criterion; but
 * a round that was called decided early must not hide what failed afterwards.
 */
#include "config.h"

#include "insight-criterion-private.h"

/* What was read and set until today; the rounds are the same. */
static InsightLook *
look_until_today (const InsightLook *look)
{
  return insight_look_new (look->basis, look->through, look->said);
}

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

static void
take_failing (const InsightLook *look, int characteristic, InsightUnits *units, GArray *failing)
{
  insight_units_gather (units, look, characteristic, BOOK_COUNTS_PROTOTYPE);
  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];

      if (unit->is_kind && insight_is_failing (unit->verdict) && insight_units_match (units, unit->unit) <= INSIGHT_MATCH_CARRIED)
        g_array_append_val (failing, unit->unit);
    }
}

/**
 * insight_failing_units:
 * @look: the last look
 * @characteristic: a characteristic
 *
 * The units of the state of design looked for that fail at the attempt that is evidence, by the look's end or, where the
 * newest round is decided, by what was read since. A unit may be in it twice.
 *
 * Returns: (transfer full) (element-type guint): indices of units
 */
GArray *
insight_failing_units (const InsightLook *look, int characteristic)
{
  GArray *failing = g_array_new (FALSE, FALSE, sizeof (guint));
  g_auto(InsightUnits) units;

  insight_units_init (&units, look->basis);
  take_failing (look, characteristic, &units, failing);
  if (look->said > look->end && count_readings (look, characteristic) > 0)
    {
      g_autoptr(InsightLook) later = look_until_today (look);

      take_failing (later, characteristic, &units, failing);
    }
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

/* Whose deciding reading is later than the round, and outside. */
static void
tell_failing (InsightQuestion *question, int characteristic)
{
  g_autoptr(InsightLook) later = look_until_today (question->look);
  g_auto(InsightUnits) units;

  insight_units_init (&units, question->basis);
  insight_units_gather (&units, later, characteristic, BOOK_COUNTS_PROTOTYPE);
  for (guint i = 0; i < units.n; i++)
    if (units.units[i].day > question->look->end && insight_is_failing (units.units[i].verdict))
      add_failed (question, units.units[i].unit);
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
  if (readings > 0)
    tell_failing (question, characteristic);
  for (guint i = 0; i < e->n_life_tests; i++)
    if (is_after (look, &e->life_tests[i], characteristic) && e->life_tests[i].ended == BOOK_LIFE_FAILED)
      add_failed (question, (guint) e->life_tests[i].unit);
}
