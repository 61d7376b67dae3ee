/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-fix-private.h"

#include <math.h>

/*
 * What has to be said about the units beside a confidence: which do not count and why, which limit was moved, how often
 * was looked.
 */

static const BookEvidence *
records (const InsightQuestion *question)
{
  return question->basis->e;
}

/* A reason made when the first thing to say turns up. */
static InsightReason *
once (InsightQuestion *question, InsightReason **reason, InsightReasonCode code)
{
  if (*reason == NULL)
    *reason = insight_say (question, code);
  return *reason;
}

/* What there is to tell at all: most of it is rare, and a model has many units. */
typedef struct
{
  guint excluded[INSIGHT_N_COUNTINGS]; /* units with data, by why they do not count */
  guint not_counted; /* of a kind that counts */
  guint altered;
  guint gauge_out;
  guint gauge_excused;
  guint tried_again;
  guint passed_later;
  guint undecidable;
  guint voided;
  guint wider;
  guint dated_back;
} Summary;

static Summary
summarise (const InsightUnits *units)
{
  Summary summary = { 0 };

  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];
      guint kind = unit->is_kind;

      summary.excluded[unit->counting] += unit->has_data;
      summary.not_counted += kind & (unit->counting != INSIGHT_COUNTS);
      summary.altered += kind * unit->altered;
      summary.gauge_out += kind * unit->gauge_out;
      summary.gauge_excused += kind * unit->gauge_excused;
      summary.tried_again += kind & (unit->attempts > 1);
      summary.passed_later += kind & unit->passed_later;
      summary.undecidable += (unit->counting == INSIGHT_COUNTS) & (unit->verdict == INSIGHT_UNDECIDABLE);
      summary.voided += kind * unit->voided;
      summary.wider += unit->wider;
      summary.dated_back += unit->dated_back;
    }
  return summary;
}

/* The narrowest limits that measured units were under, against those in force. */
static void
tell_limits (InsightQuestion *question, const Summary *summary)
{
  const BookEvidence *e = records (question);
  const InsightUnits *units = question->units;
  guint safety = summary->excluded[INSIGHT_NOT_OLDER_LIMIT];
  gboolean checks = e->characteristics[units->characteristic].kind == BOOK_CHARACTERISTIC_CHECKED;
  g_autofree char *date = NULL;
  int then = -1;

  if (units->limit < 0 || (summary->wider == 0 && safety == 0))
    return;
  /* Of limits that were dated back the day on which they were entered tells more. */
  date = book_day_format (summary->dated_back > 0 ? MAX (e->limits[units->limit].from, e->limits[units->limit].entered)
                                                  : e->limits[units->limit].from);
  /* A widening is named also where the units measured before it no longer count. */
  for (guint i = units->rows.first; summary->wider > 0 && i < (guint) units->limit; i++)
    if (insight_limit_is_wider (e, units->limit, (int) i))
      then = (int) i;
  if (then >= 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_LIMIT_WIDENED);

      insight_reason_add_name (reason, date);
      insight_reason_add_number (reason, e->limits[then].lower);
      insight_reason_add_number (reason, e->limits[then].upper);
      insight_reason_add_number (reason, e->limits[units->limit].lower);
      insight_reason_add_number (reason, e->limits[units->limit].upper);
      insight_reason_add_id (reason, e->limits[units->limit].change >= 0 ? e->changes[e->limits[units->limit].change].id : 0);
    }
  if (safety > 0)
    {
      InsightReason *reason = insight_say (question, checks || then < 0 ? INSIGHT_REASON_OLDER_LIMIT : INSIGHT_REASON_WIDENED_SAFETY);

      insight_reason_add_name (reason, date);
      insight_reason_add_count (reason, safety);
    }
}

/**
 * insight_reason_add_excuse:
 * @reason: of units that were excused
 * @basis: a basis
 * @unit: excused
 * @end: last day that is seen
 *
 * Adds the unit, who excused it, and why.
 */
void
insight_reason_add_excuse (InsightReason *reason, const InsightBasis *basis, guint unit, BookDay end)
{
  const BookEvidence *e = basis->e;
  int finding = basis->excused[unit], person = -1;
  const char *why = "";
  g_autofree char *name = insight_unit_name (e, unit);

  if (finding >= 0 && e->findings[finding].day <= end)
    {
      person = e->findings[finding].person;
      why = e->findings[finding].reason;
    }
  else
    for (guint k = basis->event[unit]; k < basis->event[unit + 1]; k++)
      if (e->events[k].kind == BOOK_EVENT_SET_ASIDE)
        {
          person = e->events[k].person;
          why = e->events[k].reason;
          break;
        }
  insight_reason_add_name (reason, name);
  insight_reason_add_name (reason, person >= 0 ? e->persons[person].initials : "");
  insight_reason_add_name (reason, why);
  insight_reason_add_id (reason, e->units[unit].id);
}

static void
tell_excused (InsightQuestion *question, const Summary *summary)
{
  InsightReason *reason = NULL;
  guint n = 0, failing = 0;

  if (summary->excluded[INSIGHT_NOT_EXCUSED] == 0)
    return;
  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];

      if (unit->counting != INSIGHT_NOT_EXCUSED)
        continue;
      insight_reason_add_excuse (once (question, &reason, INSIGHT_REASON_EXCUSED), question->basis, unit->unit,
                                 question->look->end);
      n++;
      failing += insight_is_failing (unit->verdict);
    }
  insight_reason_add_count (reason, n);
  insight_reason_add_count (reason, failing);
}

static void
tell_altered (InsightQuestion *question, const Summary *summary)
{
  InsightReason *reason = NULL;

  if (summary->altered == 0)
    return;
  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];
      g_autofree char *name = NULL;

      if (unit->altered == 0 || !unit->is_kind)
        continue;
      name = insight_unit_name (records (question), unit->unit);
      insight_reason_add_name (once (question, &reason, INSIGHT_REASON_ALTERED), name);
      insight_reason_add_id (reason, records (question)->units[unit->unit].id);
    }
  insight_reason_add_count (reason, summary->altered);
}

static void
add_gauge_once (InsightReason *reason, const char *name)
{
  if (!g_strv_contains ((const char *const *) reason->names, name))
    insight_reason_add_name (reason, name);
}

static void
tell_guard (InsightQuestion *question, const InsightGuard *guard)
{
  InsightReason *reason;

  if (!guard->has_study)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_GAUGE_NOT_STUDIED), guard->incomplete);
  if (!guard->has_study && guard->width <= 0.0)
    return;
  reason = insight_say (question, INSIGHT_REASON_GUARD_BAND);
  insight_reason_add_number (reason, guard->width);
  if (guard->has_study)
    {
      g_autofree char *day = book_day_format (guard->studied);

      insight_reason_add_number (reason, guard->grr);
      insight_reason_add_count (reason, guard->incomplete);
      insight_reason_add_name (reason, day);
    }
}

/* Readings that count only because somebody says so: by which calibrations, who and why. */
static void
tell_excused_gauges (InsightQuestion *question, const Summary *summary)
{
  const BookEvidence *e = records (question);
  const BookEvidenceCharacteristic *one = &e->characteristics[question->criterion->characteristic];
  InsightGaugeMemo memo = { -1, 0, INSIGHT_GAUGE_IN_ORDER, -1 };
  g_autoptr(GArray) told = g_array_new (FALSE, FALSE, sizeof (int));
  InsightReason *reason = NULL;

  for (guint i = 0; summary->gauge_excused > 0 && i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];

      for (guint r = unit->first; unit->gauge_excused > 0 && unit->is_kind && r < unit->end; r++)
        {
          const BookEvidenceReading *reading = &e->readings[r];
          BookDay day = reading->day != 0 ? reading->day : question->basis->built[unit->unit];

          if (insight_gauge_state (e, reading->gauge >= 0 ? reading->gauge : one->gauge, day, question->look->end, &memo)
              == INSIGHT_GAUGE_EXCUSED)
            insight_add_once (told, memo.calibration);
        }
    }
  for (guint i = 0; i < told->len; i++)
    {
      const BookEvidenceCalibration *calibration = &e->calibrations[g_array_index (told, int, i)];

      once (question, &reason, INSIGHT_REASON_GAUGE_EXCUSED);
      insight_reason_add_name (reason, e->gauges[calibration->gauge].name);
      insight_reason_add_name (reason, e->persons[calibration->excused_by].initials);
      insight_reason_add_name (reason, calibration->reason);
    }
  if (reason != NULL)
    insight_reason_add_count (reason, summary->gauge_excused);
}

static void
tell_gauges (InsightQuestion *question, const Summary *summary)
{
  const BookEvidence *e = records (question);
  const BookEvidenceCharacteristic *one = &e->characteristics[question->criterion->characteristic];
  InsightReason *reason = NULL;

  for (guint i = 0; summary->gauge_out > 0 && i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];
      int gauge = e->readings[unit->first].gauge >= 0 ? e->readings[unit->first].gauge : one->gauge;

      if (unit->gauge_out == 0 || !unit->is_kind)
        continue;
      once (question, &reason, INSIGHT_REASON_GAUGE_OUT);
      if (gauge >= 0)
        add_gauge_once (reason, e->gauges[gauge].name);
    }
  if (reason != NULL)
    insight_reason_add_count (reason, summary->gauge_out);
  tell_excused_gauges (question, summary);

  if (one->klass != BOOK_CLASS_SAFETY || one->kind != BOOK_CHARACTERISTIC_MEASURED)
    return;
  tell_guard (question, &question->units->guard);
}

static void
tell_readings (InsightQuestion *question, const Summary *summary)
{
  const BookEvidence *e = records (question);

  question->out->voided = summary->voided;
  if (summary->undecidable > 0)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_UNDECIDABLE), summary->undecidable);
  if (summary->tried_again > 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_LATER_ATTEMPTS);

      insight_reason_add_count (reason, summary->tried_again);
      insight_reason_add_count (reason, summary->passed_later);
    }
  if (summary->voided > 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_VOIDED);

      insight_reason_add_count (reason, summary->voided);
      for (guint i = 0; i < question->units->n; i++)
        {
          const InsightUnit *unit = &question->units->units[i];

          for (guint r = unit->first; unit->is_kind && r < unit->end; r++)
            if (e->readings[r].voided && e->readings[r].day <= question->look->end)
              insight_reason_add_id (reason, e->readings[r].id);
        }
    }
}

static void
tell_looks (InsightQuestion *question, const Summary *summary)
{
  InsightCriterion *out = question->out;

  out->earlier_failures = question->looks->earlier_failures;
  out->earlier_units = summary->not_counted;

  if (out->looks > 1)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_LOOKS), out->looks);
  if (out->attempts > 1)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_ATTEMPTS);

      insight_add_changes_to_state (question, reason);
      insight_reason_add_count (reason, out->attempts);
      insight_reason_add_count (reason, out->earlier_failures);
      insight_reason_add_count (reason, out->earlier_units);
    }
  if (out->wanted > out->wanted_base)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_SURCHARGE);
      gboolean by_looks = out->method != INSIGHT_METHOD_ANYTIME && out->method != INSIGHT_METHOD_PLAN;

      insight_reason_add_number (reason, out->wanted_base);
      insight_reason_add_number (reason, out->wanted);
      insight_reason_add_count (reason, by_looks ? MAX (MAX (out->looks, out->attempts), 1) : out->attempts);
    }
}

static void
tell_rounds (InsightQuestion *question, const Summary *summary)
{
  const BookEvidence *e = records (question);
  g_autofree guint8 *has = g_new0 (guint8, e->n_rounds + 1);
  g_autoptr(GPtrArray) labels = g_ptr_array_new ();
  guint early = summary->excluded[INSIGHT_NOT_KIND];

  for (guint i = 0; i < question->units->n; i++)
    if (question->units->units[i].counting == INSIGHT_COUNTS)
      has[e->units[question->units->units[i].unit].round] = 1;
  for (guint r = 0; r < e->n_rounds; r++)
    if (has[r])
      {
        g_ptr_array_add (labels, g_strdup (e->rounds[r].label));
        insight_ids_add (&question->out->round_ids, e->rounds[r].id);
      }
  g_ptr_array_add (labels, NULL);
  g_strfreev (question->out->rounds);
  question->out->rounds = (char **) g_ptr_array_free (g_steal_pointer (&labels), FALSE);

  if (early > 0 && question->out->n == 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_KIND_EARLY);

      insight_reason_add_name (reason, question->criterion->counts_from == BOOK_COUNTS_PILOT ? "pilot" : "prototype");
      insight_reason_add_count (reason, early);
    }
}

static gboolean
is_any_after (const BookEvidenceBoundary *const *boundaries, guint n, gint64 key)
{
  for (guint i = 0; i < n; i++)
    if (book_boundary_is_after (boundaries[i], key))
      return TRUE;
  return FALSE;
}

/* What the deciders of the round looked through did not have before them, though its date says so. */
static void
tell_entered_later (InsightQuestion *question)
{
  const BookEvidence *e = records (question);
  const InsightUnits *units = question->units;
  const InsightLook *look = question->look;
  g_autofree const BookEvidenceBoundary **boundaries = g_new (const BookEvidenceBoundary *, e->n_boundaries + 1);
  guint n = 0, readings = 0, late_units = 0, limits;
  InsightReason *reason;

  if (look->through < 0 || e->rounds[look->through].decided == 0 || e->rounds[look->through].decided > look->end)
    return;
  for (guint i = 0; i < e->n_boundaries; i++)
    if (e->boundaries[i].kind == BOOK_BOUNDARY_ROUND && e->boundaries[i].record == look->through)
      boundaries[n++] = &e->boundaries[i];
  if (n == 0)
    return;

  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];

      if (unit->counting != INSIGHT_COUNTS)
        continue;
      late_units += is_any_after (boundaries, n, e->units[unit->unit].id);
      for (guint r = unit->first; r < unit->end; r++)
        readings += e->readings[r].attempt == unit->attempt && !e->readings[r].voided && e->readings[r].day <= look->end
                    && is_any_after (boundaries, n, e->readings[r].id);
    }
  limits = units->limit >= 0 && is_any_after (boundaries, n, e->limits[units->limit].id);
  if (readings + late_units + limits == 0)
    return;
  reason = insight_say (question, INSIGHT_REASON_ENTERED_LATER);
  insight_reason_add_name (reason, e->rounds[look->through].label);
  insight_reason_add_count (reason, readings);
  insight_reason_add_count (reason, late_units);
  insight_reason_add_count (reason, limits);
}

/**
 * insight_tell_units:
 * @question: judged
 * @by_count: whether units were counted as failing or not
 *
 * Adds to the answer what has to be said about its units.
 */
void
insight_tell_units (InsightQuestion *question, gboolean by_count)
{
  double demand = records (question)->monthly_demand;
  const Summary summary = summarise (question->units);

  tell_rounds (question, &summary);
  insight_tell_design (question, summary.excluded[INSIGHT_NOT_STATE] + summary.excluded[INSIGHT_NOT_LATER_STATE] > 0);
  tell_limits (question, &summary);
  tell_excused (question, &summary);
  tell_altered (question, &summary);
  tell_gauges (question, &summary);
  tell_readings (question, &summary);
  tell_looks (question, &summary);
  tell_entered_later (question);
  if (!isnan (demand) && !isnan (question->out->share_low))
    question->out->failing_year = 12.0 * demand * (1.0 - question->out->share_low);
}
