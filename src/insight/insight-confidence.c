/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-demonstration.h"
#include "num-describe.h"
#include "num-lots.h"
#include "num-proportion.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * The confidence of a checked or measured characteristic, and the state that follows from it.
 */

/* The counted units, and what was made of them. */
typedef struct
{
  GPtrArray *units;     /* const InsightUnit *, in the order of build */
  double    *values;    /* of the same; NAN for checks */
  guint      failed;    /* of the same */
  guint      censored;  /* of the same, those whose value is no plain number */
  double     resolution; /* in which they were read, 0 when not known */
  gboolean   by_count;
  gboolean   is_plan;
  gboolean   plan_complete;
  gboolean   blocked;   /* something stands in the way of met whatever the confidence */
} Evidence;

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
is_committed (const InsightQuestion *question, const Evidence *evidence, BookDay *first_day)
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
            entered_after |= e->boundaries[k].term == question->terms.row && reading->id >= e->boundaries[k].first
                             && reading->id <= e->boundaries[k].high;
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
apply_plan (InsightQuestion *question, Evidence *evidence)
{
  const BookEvidenceTerm *term = question->terms.term;
  BookDay first_day;

  if (term == NULL || term->plan_units <= 0)
    return;
  if (!is_committed (question, evidence, &first_day))
    {
      g_autofree char *from = book_day_format (term->from);
      g_autofree char *first = book_day_format (first_day);
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
say_plan (InsightQuestion *question, const Evidence *evidence)
{
  const BookEvidenceTerm *term = question->terms.term;
  InsightReason *reason = insight_say (question, evidence->plan_complete ? INSIGHT_REASON_PLAN : INSIGHT_REASON_PLAN_INCOMPLETE);

  insight_reason_add_count (reason, term->plan_units);
  insight_reason_add_count (reason, term->plan_failures);
  insight_reason_add_count (reason, evidence->units->len);
}

/* Whether values are counted as inside or outside instead of being judged by their shape. */
static void
choose_way (InsightQuestion *question, Evidence *evidence)
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
describe_values (InsightQuestion *question, Evidence *evidence)
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
judge_by_count (InsightQuestion *question, Evidence *evidence)
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

static NumShape
shape_of (const InsightQuestion *question)
{
  return characteristic_of (question)->shape == BOOK_SHAPE_LOG_NORMAL ? NUM_SHAPE_LOGNORMAL : NUM_SHAPE_LEAST;
}

static void
judge_by_values (InsightQuestion *question, Evidence *evidence)
{
  InsightCriterion *out = question->out;
  guint j = MAX (MAX (out->looks, out->attempts), 1);
  NumShape shape = shape_of (question);
  double bound_at = question->brief ? NAN : question->terms.confidence;
  NumConformance answer;
  NumStatus status;

  out->method = shape == NUM_SHAPE_LOGNORMAL ? INSIGHT_METHOD_LOG_NORMAL : INSIGHT_METHOD_LEAST;
  out->wanted = question->criterion->strict ? insight_surcharged (question->terms.confidence, j) : question->terms.confidence;
  if (out->n < 2)
    return;

  status = num_conformance_values (evidence->values, out->n, question->units->limits, question->terms.share, bound_at, shape,
                                   evidence->resolution, &answer);
  if (status == NUM_NO_VARIATION && evidence->resolution == 0.0)
    { /* all values are equal and no gauge is known: they were written in steps of the last decimal */
      evidence->resolution = pow (10.0, -characteristic_of (question)->decimals);
      status = num_conformance_values (evidence->values, out->n, question->units->limits, question->terms.share, bound_at,
                                       shape, evidence->resolution, &answer);
    }
  if (status != NUM_OK)
    {
      insight_say (question, status == NUM_NO_VARIATION ? INSIGHT_REASON_NO_VARIATION : INSIGHT_REASON_NOT_COMPUTED);
      return;
    }
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

static const char *
name_of_dependence (const BookEvidence *e, InsightDependence on)
{
  return on.part >= 0 ? e->parts[on.part].name : e->steps[on.step].name;
}

/* The counted units dealt out by the lots of one part or step; units without a lot make a group of their own. */
typedef struct
{
  int       *lots;   /* by group; -1: without */
  guint     *sizes;
  guint      n;
  guint      known;  /* groups that are lots */
  guint      unknown; /* units without a lot */
  guint     *group;  /* by counted unit */
} Lots;

static void
deal_by_lot (const InsightQuestion *question, const Evidence *evidence, InsightDependence on, Lots *lots)
{
  const InsightBasis *basis = question->basis;
  guint width = basis->e->n_parts + basis->e->n_steps;
  guint place = on.part >= 0 ? (guint) on.part : basis->e->n_parts + (guint) on.step;

  lots->n = lots->known = lots->unknown = 0;
  for (guint i = 0; i < evidence->units->len; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];
      int lot = basis->lot_of[(gsize) unit->unit * width + place];
      guint g = 0;

      while (g < lots->n && lots->lots[g] != lot)
        g++;
      if (g == lots->n)
        {
          lots->lots[g] = lot;
          lots->sizes[g] = 0;
          lots->n++;
          lots->known += lot >= 0;
        }
      lots->unknown += lot < 0;
      lots->sizes[g]++;
      lots->group[i] = g;
    }
}

static void
judge_by_lots (InsightQuestion *question, Evidence *evidence, const Lots *lots, InsightDependence on)
{
  InsightCriterion *out = question->out;
  g_autofree double *dealt = g_new (double, out->n + 1);
  g_autofree NumSample *samples = g_new (NumSample, lots->n + 1);
  NumLots answer;
  InsightReason *reason;
  guint at = 0;

  for (guint g = 0; g < lots->n; g++)
    {
      samples[g] = (NumSample){ dealt + at, lots->sizes[g] };
      for (guint i = 0; i < evidence->units->len; i++)
        if (lots->group[i] == g)
          dealt[at++] = evidence->values[i];
    }
  if (num_lots (samples, lots->n, question->units->limits, question->terms.share, shape_of (question), evidence->resolution,
                &answer) != NUM_OK
      || !(answer.lots < out->confidence))
    return;

  for (guint i = 0; i < out->reasons->len; i++) /* the last and lowest grouping speaks */
    if (((InsightReason *) out->reasons->pdata[i])->code == INSIGHT_REASON_LOTS_DECIDED)
      g_ptr_array_remove_index (out->reasons, i--);
  reason = insight_say (question, INSIGHT_REASON_LOTS_DECIDED);
  insight_reason_add_name (reason, name_of_dependence (question->basis->e, on));
  insight_reason_add_count (reason, lots->n);
  insight_reason_add_number (reason, answer.lots);
  insight_reason_add_number (reason, answer.pooled);
  out->confidence = answer.lots;
  out->share_low = NAN; /* the pooled bound would claim more than the lots allow */
  out->method = INSIGHT_METHOD_LOTS;
}

/* Lots of every part and step that the characteristic depends on. */
static void
look_at_lots (InsightQuestion *question, Evidence *evidence)
{
  const InsightBasis *basis = question->basis;
  int characteristic = question->criterion->characteristic;
  guint n = evidence->units->len;
  g_autofree int *numbers = g_new (int, n + 1);
  g_autofree guint *sizes = g_new (guint, n + 1);
  g_autofree guint *group = g_new (guint, n + 1);
  Lots lots = { numbers, sizes, 0, 0, 0, group };

  for (guint i = basis->depend[characteristic]; n > 0 && i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      const char *name = name_of_dependence (basis->e, on);

      if (!basis->lotted[on.part >= 0 ? (guint) on.part : basis->e->n_parts + (guint) on.step])
        continue;
      deal_by_lot (question, evidence, on, &lots);
      if (lots.known == 0)
        continue;
      if (question->out->lots == 0 || lots.known < question->out->lots)
        question->out->lots = lots.known;
      if (lots.unknown > 0)
        {
          InsightReason *reason = insight_say (question, INSIGHT_REASON_LOT_UNKNOWN);

          insight_reason_add_name (reason, name);
          insight_reason_add_count (reason, lots.unknown);
        }
      if (lots.known < NUM_LOTS_LEAST)
        {
          gboolean strict = question->criterion->strict;
          InsightReason *reason = insight_say (question, strict ? INSIGHT_REASON_LOTS_THIRD : INSIGHT_REASON_LOTS_FEW);

          insight_reason_add_name (reason, name);
          insight_reason_add_count (reason, lots.known);
          evidence->blocked |= strict;
        }
      else if (!evidence->by_count && !isnan (question->out->confidence))
        judge_by_lots (question, evidence, &lots, on);
    }
}

/* Judged once a round, when its testing is declared finished. */
static void
wait_for_tested (InsightQuestion *question, Evidence *evidence)
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

static gboolean
has_disposition (const InsightQuestion *question, guint unit)
{
  const InsightBasis *basis = question->basis;
  const BookEvidence *e = basis->e;
  BookDay end = question->look->end;

  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];

      if (finding->unit == (int) unit && finding->disposition != 0 && finding->day <= end
          && (finding->issue < 0 || e->issues[finding->issue].seen_by < 0
              || e->issues[finding->issue].seen_by == question->criterion->characteristic))
        return TRUE;
    }
  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    if (e->events[i].kind == BOOK_EVENT_SCRAPPED && e->events[i].day <= end)
      return TRUE;
  return FALSE;
}

static void
ask_for_dispositions (InsightQuestion *question, Evidence *evidence)
{
  const BookEvidence *e = question->basis->e;
  InsightReason *reason = NULL;

  if (evidence->failed == 0)
    return;
  for (guint i = 0; i < evidence->units->len; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];
      g_autofree char *name = NULL;

      if (!insight_is_failing (unit->verdict) || has_disposition (question, unit->unit))
        continue;
      if (reason == NULL)
        reason = insight_say (question, INSIGHT_REASON_DISPOSITION);
      name = insight_unit_name (e, unit->unit);
      insight_reason_add_name (reason, name);
      insight_reason_add_id (reason, e->units[unit->unit].id);
      evidence->blocked = TRUE;
    }
}

/* With no counted unit: was anything of a kind that counts measured, and all of it in another state? */
static InsightState
state_without_units (const InsightQuestion *question)
{
  gboolean other_state = FALSE;

  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];

      if (!unit->is_kind || !unit->has_data)
        continue;
      if (unit->counting != INSIGHT_NOT_STATE && unit->counting != INSIGHT_NOT_LATER_STATE)
        return INSIGHT_TOO_FEW;
      other_state = TRUE;
    }
  return other_state ? INSIGHT_NO_LONGER : INSIGHT_NO_DATA;
}

static void
decide (InsightQuestion *question, const Evidence *evidence)
{
  InsightCriterion *out = question->out;
  gboolean reached;

  if (out->n == 0)
    {
      out->state = state_without_units (question);
      return;
    }
  reached = !isnan (out->confidence) && out->confidence >= out->wanted - INSIGHT_ROUNDING;
  if (evidence->is_plan && out->failed > (guint) question->terms.term->plan_failures)
    reached = FALSE;

  if (reached && !out->so_far && !evidence->blocked)
    out->state = INSIGHT_MET;
  else if (out->n >= INSIGHT_AGAINST_UNITS && out->contrary >= INSIGHT_AGAINST_FROM)
    out->state = INSIGHT_AGAINST;
  else
    out->state = INSIGHT_TOO_FEW;
}

/* The counted units, their values, and how many of them fail or carry no plain value, in one pass. */
static void
collect (InsightQuestion *question, Evidence *evidence)
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
list_units (InsightQuestion *question, const Evidence *evidence)
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
  Evidence evidence = { 0 };
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

  if (!has_limits)
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
  look_at_lots (question, &evidence);
  decide (question, &evidence);
  if (!question->brief)
    {
      insight_tell_units (question, evidence.by_count);
      out->units_needed = insight_units_wanted (question, evidence.by_count, evidence.values);
    }
  g_ptr_array_unref (evidence.units);
  g_free (evidence.values);
}
