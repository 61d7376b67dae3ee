/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-memo.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-demonstration.h"
#include "num-describe.h"
#include "num-proportion.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * The confidence of a checked or measured characteristic, and the state that follows from it.
 */

static const BookEvidenceCharacteristic *
characteristic_of (const InsightQuestion *question)
{
  return &question->basis->e->characteristics[question->criterion->characteristic];
}

static gboolean
is_checked (const InsightQuestion *question)
{
  return characteristic_of (question)->kind == BOOK_CHARACTERISTIC_CHECKED;
}

static int
compare_by_date (gconstpointer a, gconstpointer b, gpointer data)
{
  const InsightUnit *first = *(const InsightUnit *const *) a, *second = *(const InsightUnit *const *) b;
  const BookEvidence *e = data;

  if (first->day != second->day)
    return first->day < second->day ? -1 : 1;
  return book_serial_compare (e->units[first->unit].serial, e->units[second->unit].serial);
}

/* Whether the term was written before any of the counted readings, by date and by journal. */
static gboolean
is_committed (const InsightQuestion *question, const InsightEvidence *evidence, BookDay *first_day)
{
  const BookEvidence *e = question->basis->e;

  *first_day = 0;
  for (guint i = 0; i < evidence->units->len; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];

      for (guint r = unit->first; r < unit->end; r++)
        {
          const BookEvidenceReading *reading = &e->readings[r];
          gboolean entered_after = FALSE;

          if (reading->attempt != unit->attempt || reading->day > question->look->end)
            continue;
          for (guint k = 0; k < e->n_boundaries; k++)
            entered_after |= e->boundaries[k].kind == BOOK_BOUNDARY_TERM && e->boundaries[k].record == question->terms.row
                             && book_boundary_is_after (&e->boundaries[k], reading->id);
          if (!entered_after || (reading->day != 0 && reading->day < question->terms.term->from))
            {
              *first_day = reading->day;
              return FALSE;
            }
        }
    }
  return TRUE;
}

/* A declared plan is judged on its first units by date; without commitment it is none. */
static void
apply_plan (InsightQuestion *question, InsightEvidence *evidence)
{
  const BookEvidenceTerm *term = question->terms.term;
  BookDay first_day;

  if (term == NULL || term->plan_units <= 0)
    return;
  if (!is_committed (question, evidence, &first_day))
    {
      g_autofree char *from = book_day_format (term->from);
      g_autofree char *first = book_day_format (first_day < term->from ? first_day : 0);
      InsightReason *reason = insight_say (question, INSIGHT_REASON_PLAN_LATE);

      insight_reason_add_name (reason, from);
      insight_reason_add_name (reason, first);
      return;
    }

  evidence->is_plan = evidence->by_count = TRUE;
  evidence->plan_complete = evidence->units->len >= (guint) term->plan_units;
  if (evidence->units->len > (guint) term->plan_units)
    {
      g_ptr_array_sort_with_data (evidence->units, compare_by_date, (gpointer) question->basis->e);
      g_ptr_array_set_size (evidence->units, term->plan_units);
      evidence->failed = 0;
      for (guint i = 0; i < evidence->units->len; i++)
        {
          const InsightUnit *unit = evidence->units->pdata[i];

          evidence->failed += insight_is_failing (unit->verdict);
          evidence->values[i] = unit->value;
        }
    }
}

static void
say_plan (InsightQuestion *question, const InsightEvidence *evidence)
{
  const BookEvidenceTerm *term = question->terms.term;
  InsightReason *reason = insight_say (question, evidence->plan_complete ? INSIGHT_REASON_PLAN : INSIGHT_REASON_PLAN_INCOMPLETE);

  insight_reason_add_count (reason, term->plan_units);
  insight_reason_add_count (reason, term->plan_failures);
  insight_reason_add_count (reason, evidence->units->len);
}

/* Whether values are counted as inside or outside instead of being judged by their shape. */
static void
choose_way (InsightQuestion *question, InsightEvidence *evidence)
{
  const BookEvidenceCharacteristic *one = characteristic_of (question);
  guint censored = evidence->censored;

  if (is_checked (question) || question->criterion->kind == BOOK_CRITERION_CHECKED)
    {
      evidence->by_count = TRUE;
      return;
    }

  evidence->by_count = one->shape == BOOK_SHAPE_UNKNOWN || one->fitted || censored > 0;
  if (one->fitted)
    insight_say (question, INSIGHT_REASON_FITTED);
  else if (one->shape == BOOK_SHAPE_UNKNOWN)
    insight_say (question, INSIGHT_REASON_SHAPE_UNKNOWN);
  else if (censored > 0)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_CENSORED), censored);
}

static void
describe_values (InsightQuestion *question, InsightEvidence *evidence)
{
  g_autofree double *plain = NULL;
  guint n = 0;
  NumMoments moments;

  evidence->resolution = insight_resolution (question->basis->e, question->criterion->characteristic);
  if (is_checked (question) || question->brief)
    return;
  plain = g_new (double, evidence->units->len + 1);
  for (guint i = 0; i < evidence->units->len; i++)
    if (!isnan (evidence->values[i]))
      plain[n++] = evidence->values[i];
  if (n == 0 || (num_moments (plain, n, &moments) != NUM_OK && n > 1))
    return;
  question->out->mean = moments.mean;
  question->out->min = moments.min;
  question->out->max = moments.max;
  if (n > 1)
    question->out->sd = MAX (moments.sd, 0.5 * evidence->resolution);
}

/* The share of failing units that is tolerated: less of it is left where the check does not find everything. */
static double
tolerated_share (InsightQuestion *question)
{
  double detection = NAN;

  if (is_checked (question))
    {
      detection = insight_detection (question->basis->e, question->criterion->characteristic, question->look->end,
                                     question->terms.confidence);
      if (isnan (detection))
        insight_say (question, INSIGHT_REASON_MISSES_NOTHING);
      else
        insight_reason_add_number (insight_say (question, INSIGHT_REASON_DETECTION), detection);
    }
  return (1.0 - question->terms.share) * (isnan (detection) ? 1.0 : detection);
}

static void
judge_by_count (InsightQuestion *question, InsightEvidence *evidence)
{
  InsightCriterion *out = question->out;
  double tolerated = tolerated_share (question), e;
  gboolean strict = question->criterion->strict;

  out->method = evidence->is_plan ? INSIGHT_METHOD_PLAN : strict ? INSIGHT_METHOD_ANYTIME : INSIGHT_METHOD_EXACT;
  out->wanted = strict ? insight_surcharged (question->terms.confidence, out->attempts) : question->terms.confidence;
  if (out->n == 0)
    return;

  if (out->method == INSIGHT_METHOD_ANYTIME)
    num_anytime_confidence (out->failed, out->n, tolerated, &e, &out->confidence);
  else
    num_demonstration_confidence (out->failed, out->n, tolerated, &out->confidence);
  num_demonstration_contrary (out->failed, out->n, tolerated, &out->contrary);
  num_proportion_lower (out->n - out->failed, out->n, question->terms.confidence, &out->share_low);
  out->share_estimate = (double) (out->n - out->failed) / out->n;
}

static guint
count_not_positive (const double *values, guint n)
{
  guint found = 0;

  for (guint i = 0; i < n; i++)
    found += !(values[i] > 0.0);
  return found;
}

/* num_conformance_values(), which integrates, or what it said of the same values. */
static NumStatus
conform (const InsightQuestion *question, const InsightEvidence *evidence, NumShape shape, double bound_at, NumConformance *out)
{
  const double makings[] = { question->units->limits.lower, question->units->limits.upper, question->terms.share, bound_at,
                             evidence->resolution };
  const guint n = question->out->n;
  g_autoptr(GByteArray) key = insight_memo_key (INSIGHT_MEMO_CONFORMANCE, 0, 0, 0);
  double said[6];
  NumStatus status;

  insight_memo_integer (key, shape);
  insight_memo_numbers (key, makings, G_N_ELEMENTS (makings));
  insight_memo_numbers (key, evidence->values, n);
  if (insight_memo_find (key, said, G_N_ELEMENTS (said)))
    {
      *out = (NumConformance){ .confidence = said[0], .contrary = said[1], .normal = said[2], .lognormal = said[3], .share = said[4],
                               .share_low = said[5] };
      return NUM_OK;
    }
  status = num_conformance_values (evidence->values, n, question->units->limits, question->terms.share, bound_at, shape,
                                   evidence->resolution, out);
  if (status == NUM_OK)
    insight_memo_keep (key, (const double[]){ out->confidence, out->contrary, out->normal, out->lognormal, out->share, out->share_low },
                       G_N_ELEMENTS (said));
  return status;
}

static void
judge_by_values (InsightQuestion *question, InsightEvidence *evidence)
{
  InsightCriterion *out = question->out;
  guint j = MAX (MAX (out->looks, out->attempts), 1);
  NumShape shape = insight_shape_of (question);
  double bound_at = question->brief ? NAN : question->terms.confidence;
  NumConformance answer;
  NumStatus status;

  out->method = shape == NUM_SHAPE_LOGNORMAL ? INSIGHT_METHOD_LOG_NORMAL : INSIGHT_METHOD_LEAST;
  out->wanted = question->criterion->strict ? insight_surcharged (question->terms.confidence, j) : question->terms.confidence;
  if (out->n < 2)
    return;

  status = conform (question, evidence, shape, bound_at, &answer);
  if (status == NUM_NO_VARIATION && evidence->resolution == 0.0)
    { /* all values are equal and no gauge is known: they were written in steps of the last decimal */
      evidence->resolution = pow (10.0, -characteristic_of (question)->decimals);
      status = conform (question, evidence, shape, bound_at, &answer);
    }
  if (status == NUM_NO_VARIATION)
    insight_say (question, INSIGHT_REASON_NO_VARIATION);
  else if (status != NUM_OK)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_NOT_COMPUTED),
                              shape == NUM_SHAPE_LOGNORMAL ? count_not_positive (evidence->values, out->n) : 0);
  if (status != NUM_OK)
    return;
  out->confidence = answer.confidence;
  out->contrary = answer.contrary;
  out->share_estimate = answer.share;
  out->share_low = answer.share_low;
  if (shape == NUM_SHAPE_LEAST && answer.lognormal < answer.normal)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_LOG_NORMAL);

      insight_reason_add_number (reason, answer.normal);
      insight_reason_add_number (reason, answer.lognormal);
    }
}

/* Judged once a round, when its testing is declared finished. */
static void
wait_for_tested (InsightQuestion *question, InsightEvidence *evidence)
{
  const BookEvidence *e = question->basis->e;
  BookDay end = question->look->end;
  InsightReason *reason = NULL;

  if (!question->criterion->strict || evidence->by_count)
    return;
  for (guint r = 0; r < e->n_rounds; r++)
    {
      const BookEvidenceRound *round = &e->rounds[r];
      gboolean used = FALSE;

      if ((round->tested != 0 && round->tested <= end) || (round->decided != 0 && round->decided <= end))
        continue;
      for (guint i = 0; !used && i < evidence->units->len; i++)
        used = question->looks->seen[((const InsightUnit *) evidence->units->pdata[i])->unit] == (int) r;
      if (!used)
        continue;
      if (reason == NULL)
        reason = insight_say (question, INSIGHT_REASON_NOT_TESTED_YET);
      insight_reason_add_name (reason, round->label);
      question->out->so_far = TRUE;
    }
}

/* Whether it was decided by @end what becomes of a unit that fails @characteristic. */
gboolean
insight_has_disposition (const InsightBasis *basis, int characteristic, guint unit, BookDay end)
{
  const BookEvidence *e = basis->e;

  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];

      if (finding->unit == (int) unit && finding->disposition != 0 && finding->day <= end
          && (finding->issue < 0 || e->issues[finding->issue].seen_by < 0
              || e->issues[finding->issue].seen_by == characteristic))
        return TRUE;
    }
  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    if (e->events[i].kind == BOOK_EVENT_SCRAPPED && e->events[i].day <= end)
      return TRUE;
  return FALSE;
}

static void
ask_for_dispositions (InsightQuestion *question, InsightEvidence *evidence)
{
  const BookEvidence *e = question->basis->e;
  InsightReason *reason = NULL;

  if (evidence->failed == 0)
    return;
  for (guint i = 0; i < evidence->units->len; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];
      g_autofree char *name = NULL;

      if (!insight_is_failing (unit->verdict) || insight_has_disposition (question->basis, question->criterion->characteristic, unit->unit, question->look->said))
        continue;
      if (reason == NULL)
        reason = insight_say (question, INSIGHT_REASON_DISPOSITION);
      name = insight_unit_name (e, unit->unit);
      insight_reason_add_name (reason, name);
      insight_reason_add_id (reason, e->units[unit->unit].id);
      evidence->blocked = TRUE;
    }
}

/*
 * With no counted unit: was anything of a kind that counts measured, and all of it in another state? Asked of the design
 * itself: an excused unit of another state is of another state.
 */
static InsightState
state_without_units (const InsightQuestion *question)
{
  gboolean other_state = FALSE;

  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];
      InsightMatch match;

      if (!unit->is_kind || !unit->has_data)
        continue;
      match = insight_units_match (question->units, unit->unit);
      if (match == INSIGHT_MATCH_SAME || match == INSIGHT_MATCH_CARRIED)
        return INSIGHT_TOO_FEW;
      other_state = TRUE;
    }
  return other_state ? INSIGHT_NO_LONGER : INSIGHT_NO_DATA;
}

static void
decide (InsightQuestion *question, const InsightEvidence *evidence)
{
  InsightCriterion *out = question->out;
  gboolean kept_plan = !evidence->is_plan || out->failed <= (guint) question->terms.term->plan_failures;

  out->state = out->n == 0 ? state_without_units (question)
                           : insight_state_of (out, 0.0, kept_plan && !out->so_far && !evidence->blocked);
}

/* The counted units, their values, and how many of them fail or carry no plain value, in one pass. */
static void
collect (InsightQuestion *question, InsightEvidence *evidence)
{
  const InsightUnits *units = question->units;

  evidence->units = g_ptr_array_sized_new (units->n);
  evidence->values = g_new (double, units->n + 1);
  for (guint i = 0; i < units->n; i++)
    {
      InsightUnit *unit = &units->units[i];

      if (unit->counting != INSIGHT_COUNTS)
        continue;
      evidence->values[evidence->units->len] = unit->value;
      evidence->failed += insight_is_failing (unit->verdict);
      evidence->censored += unit->censored || isnan (unit->value);
      g_ptr_array_add (evidence->units, unit);
    }
}

static void
list_units (InsightQuestion *question, const InsightEvidence *evidence)
{
  InsightCriterion *out = question->out;

  out->n = evidence->units->len;
  out->failed = evidence->failed;
  for (guint i = 0; i < evidence->units->len && !question->brief; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];
      gint64 id = question->basis->e->units[unit->unit].id;

      insight_ids_add (&out->counted, id);
      if (insight_is_failing (unit->verdict))
        insight_ids_add (&out->failing, id);
    }
}

/**
 * insight_judge_units:
 * @question: about a checked or measured characteristic, with its units gathered and its looks counted
 *
 * Fills in confidence, state and everything said beside them.
 */
void
insight_judge_units (InsightQuestion *question)
{
  InsightCriterion *out = question->out;
  InsightEvidence evidence = { 0 };
  gboolean has_limits;

  out->looks = question->looks->looks;
  out->attempts = question->looks->attempts;
  collect (question, &evidence);
  choose_way (question, &evidence);
  apply_plan (question, &evidence);
  list_units (question, &evidence);
  describe_values (question, &evidence);

  has_limits = is_checked (question) || question->units->limit >= 0;
  if (!has_limits)
    insight_say (question, INSIGHT_REASON_LIMITS_MISSING);
  ask_for_dispositions (question, &evidence);
  if (evidence.is_plan)
    say_plan (question, &evidence);
  out->so_far = evidence.is_plan && !evidence.plan_complete;

  if (question->units->nothing_fits)
    insight_reason_add_number (insight_say (question, INSIGHT_REASON_GUARD_TOO_WIDE), question->units->guard.width);
  if (!has_limits || question->units->nothing_fits)
    out->wanted = question->terms.confidence;
  else if (evidence.by_count)
    judge_by_count (question, &evidence);
  else
    judge_by_values (question, &evidence);

  if (evidence.by_count && question->criterion->klass == BOOK_CLASS_SAFETY && !question->terms.owner_share)
    {
      insight_say (question, INSIGHT_REASON_COUNT_NOT_SAFETY);
      evidence.blocked = TRUE;
    }
  if (!evidence.by_count && out->n > 0 && out->n < INSIGHT_UNITS_LEAST)
    {
      insight_reason_add_count (insight_say (question, INSIGHT_REASON_BELOW_SIX), out->n);
      out->so_far = TRUE;
    }
  wait_for_tested (question, &evidence);
  insight_look_at_lots (question, &evidence);
  decide (question, &evidence);
  if (!question->brief)
    {
      insight_tell_units (question, evidence.by_count);
      out->units_needed = insight_units_wanted (question, evidence.by_count, evidence.values);
    }
  g_ptr_array_unref (evidence.units);
  g_free (evidence.values);
}
