/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-answer-private.h"
#include "insight-criterion-private.h"
#include "insight-span-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * The looks of a model, one at the end of each round in order, and every criterion taken through them: the earlier ones
 * count looks and attempts and give the course of the score, the last one is the standing.
 */

G_DEFINE_QUARK (insight-error-quark, insight_error)

void
insight_course_free (InsightCoursePoint *point)
{
  g_free (point->label);
  g_free (point);
}

InsightStanding *
insight_standing_new (void)
{
  InsightStanding *standing = g_new0 (InsightStanding, 1);

  g_atomic_ref_count_init (&standing->references);
  standing->criteria = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_criterion_free);
  standing->gaps = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_gap_free);
  standing->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_step_free);
  standing->course = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_course_free);
  return standing;
}

InsightStanding *
insight_standing_ref (InsightStanding *standing)
{
  g_atomic_ref_count_inc (&standing->references);
  return standing;
}

void
insight_standing_unref (InsightStanding *standing)
{
  if (standing == NULL || !g_atomic_ref_count_dec (&standing->references))
    return;

  g_free (standing->model_code);
  g_free (standing->model_name);
  g_free (standing->round_label);
  g_free (standing->end);
  g_free (standing->today);
  g_ptr_array_unref (standing->criteria);
  g_ptr_array_unref (standing->gaps);
  g_ptr_array_unref (standing->steps);
  g_ptr_array_unref (standing->course);
  g_free (standing);
}

/* Shared with the other questions about a model: see insight-span-private.h. */
gboolean
insight_span_resolve (const BookEvidence *e, const InsightSpan *span, int *through, BookDay *today, GError **error)
{
  *today = book_day_parse (span->today, NULL);
  if (*today == 0)
    {
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_DATE,
                   _("'%s' is not a date: write it as YYYY-MM-DD."), span->today != NULL ? span->today : "");
      return FALSE;
    }
  *through = (int) e->n_rounds - 1;
  if (span->through == 0)
    { /* the newest that was opened by then */
      while (*through >= 0 && e->rounds[*through].opened > *today)
        (*through)--;
      return TRUE;
    }

  *through = book_evidence_find (e, rounds, span->through);
  if (*through < 0)
    {
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND,
                   _("The model '%s' has no such round: choose one of its rounds."), e->code);
      return FALSE;
    }
  return TRUE;
}

/* What is known of a criterion before anything is judged. */
static InsightCriterion *
describe (const InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  const BookEvidenceCriterion *asked = question->criterion;
  InsightCriterion *out = insight_criterion_new ();

  out->id = asked->id;
  out->code = g_strdup (asked->code);
  out->gate = g_strdup (asked->gate >= 0 ? e->gates[asked->gate].name : "");
  out->gate_order = asked->gate >= 0 ? e->gates[asked->gate].position : 0;
  out->kind = asked->kind;
  out->klass = asked->klass;
  out->blocking = asked->blocking;
  out->strict = asked->strict;
  out->share = question->terms.share;
  out->wanted = out->wanted_base = question->terms.confidence;
  if (asked->characteristic >= 0)
    {
      const BookEvidenceCharacteristic *one = &e->characteristics[asked->characteristic];
      int limit = insight_limit_on (e, insight_limit_rows (e, asked->characteristic), question->look->end);

      out->about_kind = one->kind;
      out->characteristic = one->id;
      out->about_code = g_strdup (one->code);
      out->about_name = g_strdup (one->name);
      out->unit = g_strdup (one->unit);
      out->decimals = one->decimals;
      if (limit >= 0)
        {
          out->lower = e->limits[limit].lower;
          out->upper = e->limits[limit].upper;
          out->nominal = e->limits[limit].nominal;
        }
    }
  else
    {
      out->about_code = g_strdup ("");
      out->about_name = g_strdup (asked->issue >= 0 ? e->issues[asked->issue].title : "");
      out->decimals = -1;
      out->unit = g_strdup ("");
    }
  return out;
}

static gboolean
is_waived (InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  BookDay end = question->look->said;

  for (guint i = 0; i < e->n_waivers; i++)
    {
      const BookEvidenceWaiver *waiver = &e->waivers[i];

      if (&e->criteria[waiver->criterion] != question->criterion || waiver->day > end || (waiver->until != 0 && waiver->until < end))
        continue;
      if (!question->brief)
        {
          g_autofree char *until = book_day_format (waiver->until);
          InsightReason *reason = insight_say (question, INSIGHT_REASON_WAIVED);

          insight_reason_add_name (reason, waiver->person >= 0 ? e->persons[waiver->person].initials : "");
          insight_reason_add_name (reason, until);
          insight_reason_add_name (reason, waiver->reason);
        }
      return TRUE;
    }
  return FALSE;
}

static gboolean
asks_about_units (const InsightQuestion *question)
{
  const BookEvidenceCriterion *asked = question->criterion;

  return (asked->kind == BOOK_CRITERION_CHECKED || asked->kind == BOOK_CRITERION_MEASURED) && asked->characteristic >= 0
         && !(asked->kind == BOOK_CRITERION_MEASURED
              && question->basis->e->characteristics[asked->characteristic].kind == BOOK_CHARACTERISTIC_CHECKED);
}

/* Kinds that ask about a characteristic by something else than its readings. */
static void
judge_characteristic (InsightQuestion *question)
{
  if (question->criterion->characteristic < 0)
    insight_say (question, INSIGHT_REASON_NO_CHARACTERISTIC);
  else if (question->criterion->kind == BOOK_CRITERION_LIFE)
    insight_judge_life (question);
  else if (question->criterion->kind == BOOK_CRITERION_METHOD)
    insight_judge_method (question);
  else
    insight_judge_detection (question);
}

static void
judge (InsightQuestion *question)
{
  switch (question->criterion->kind)
    {
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_MEASURED:
      if (asks_about_units (question))
        insight_judge_units (question);
      else
        insight_say (question, INSIGHT_REASON_NO_CHARACTERISTIC);
      break;
    case BOOK_CRITERION_DOCUMENTS:
    case BOOK_CRITERION_REVISIONS:
    case BOOK_CRITERION_SIGN_OFFS:
    case BOOK_CRITERION_LOTS:
    case BOOK_CRITERION_ISSUES:
      insight_judge_count (question);
      break;
    case BOOK_CRITERION_FIX:
      if (question->criterion->issue >= 0)
        insight_judge_fix (question);
      else
        insight_say (question, INSIGHT_REASON_NO_ISSUE);
      break;
    case BOOK_CRITERION_YIELD:
      insight_judge_yield (question);
      break;
    case BOOK_CRITERION_RATE:
      insight_judge_rate (question);
      break;
    case BOOK_CRITERION_LIFE:
    case BOOK_CRITERION_METHOD:
    case BOOK_CRITERION_DETECTION:
      judge_characteristic (question);
      break;
    }
  if (question->look->newest < 0 && asks_about_units (question))
    insight_say (question, INSIGHT_REASON_NO_ROUND);
  if (question->terms.is_default && question->out->method != INSIGHT_METHOD_COUNT && asks_about_units (question))
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_TERM_MISSING);

      insight_reason_add_number (reason, question->terms.share);
      insight_reason_add_number (reason, question->terms.confidence);
    }
  insight_tell_after_round (question);
  question->out->score = insight_score_of (question->out);
  question->out->blocks = question->out->blocking && question->out->state != INSIGHT_MET && !is_waived (question);
}

/* One criterion at all looks, the answers of each into @answers[look]. */
static void
take_through_looks (const InsightBasis *basis, GPtrArray *looks_at, guint number, GPtrArray **answers)
{
  g_auto(InsightUnits) units;
  g_auto(InsightLooks) looks;
  InsightQuestion question = { .basis = basis, .looks = &looks, .units = &units, .criterion = &basis->e->criteria[number] };

  insight_units_init (&units, basis);
  insight_looks_init (&looks, basis->e);
  for (guint i = 0; i < looks_at->len; i++)
    {
      question.look = looks_at->pdata[i];
      question.terms = insight_terms_on (basis->e, number, question.look->end);
      question.brief = i + 1 < looks_at->len;
      question.out = describe (&question);
      if (asks_about_units (&question))
        {
          insight_units_gather (&units, question.look, question.criterion->characteristic, question.criterion->counts_from);
          insight_looks_add (&looks, &units);
        }
      judge (&question);
      g_ptr_array_add (answers[i], question.out);
    }
}

static void
add_course (InsightStanding *standing, const BookEvidenceRound *round, GPtrArray *criteria)
{
  InsightCoursePoint *point = g_new0 (InsightCoursePoint, 1);

  point->round = round->id;
  point->label = g_strdup (round->label);
  point->kind = round->kind;
  insight_score_all (criteria, &point->all, point->classes);
  g_ptr_array_add (standing->course, point);
}

static void
summarise (InsightStanding *standing)
{
  insight_score_all (standing->criteria, &standing->score, standing->classes);
  standing->n_total = standing->score.total;
  standing->n_met = standing->score.met;
  standing->no_safety = standing->classes[BOOK_CLASS_SAFETY - 1].total == 0;
  for (guint i = 0; i < standing->criteria->len; i++)
    standing->n_block += ((const InsightCriterion *) standing->criteria->pdata[i])->blocks;
}

/* Of all criteria, or of one alone (@only not negative), which says nothing of what was not looked at. */
static InsightStanding *
stand (const BookEvidence *evidence, int only, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightStanding) standing = insight_standing_new ();
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(GPtrArray) looks = NULL;
  g_autofree GPtrArray **answers = NULL;
  gboolean cancelled = FALSE;
  int through;
  BookDay today, end;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;

  basis = insight_basis_new (evidence);
  looks = insight_look_list (basis, through, today);
  end = ((const InsightLook *) looks->pdata[looks->len - 1])->end;

  answers = g_new0 (GPtrArray *, looks->len);
  for (guint i = 0; i < looks->len; i++)
    answers[i] = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_criterion_free);
  for (guint i = 0; !cancelled && i < evidence->n_criteria; i++)
    {
      cancelled = g_cancellable_set_error_if_cancelled (cancellable, error);
      if (!cancelled && (only < 0 || (guint) only == i))
        take_through_looks (basis, looks, i, answers);
    }

  standing->model = evidence->model_id;
  standing->model_code = g_strdup (evidence->code);
  standing->model_name = g_strdup (evidence->name);
  standing->round = through >= 0 ? evidence->rounds[through].id : 0;
  standing->round_label = g_strdup (through >= 0 ? evidence->rounds[through].label : "");
  standing->round_kind = through >= 0 ? evidence->rounds[through].kind : 0;
  standing->round_open = through >= 0 && (evidence->rounds[through].decided == 0 || evidence->rounds[through].decided > today);
  standing->end = book_day_format (end);
  standing->today = book_day_format (today);
  for (int r = 0; r <= through; r++)
    add_course (standing, &evidence->rounds[r], answers[r]);
  g_ptr_array_unref (standing->criteria);
  standing->criteria = g_ptr_array_ref (answers[looks->len - 1]);
  for (guint i = 0; i < looks->len; i++)
    g_ptr_array_unref (answers[i]);
  if (cancelled)
    return NULL;

  summarise (standing);
  if (only < 0)
    insight_find_gaps (standing, looks->pdata[looks->len - 1]);
  insight_find_steps (standing, evidence);
  return g_steal_pointer (&standing);
}

/**
 * insight_standing:
 * @evidence: the records of a model
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked once a criterion
 * @error: return location
 *
 * Computes where a model stands. Pure: the same records and span give the same answer.
 *
 * Returns: (transfer full) (nullable): the standing; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightStanding *
insight_standing (const BookEvidence *evidence, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  return stand (evidence, -1, span, cancellable, error);
}

/**
 * insight_standing_of:
 * @evidence: the records of a model; the readings may be missing where the criterion asks about none
 * @criterion: which of them, by its place
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked once
 * @error: return location
 *
 * As insight_standing(), of one criterion alone.
 *
 * Returns: (transfer full) (nullable): a standing with one criterion; the same errors
 */
InsightStanding *
insight_standing_of (const BookEvidence *evidence, guint criterion, const InsightSpan *span, GCancellable *cancellable,
                     GError **error)
{
  g_return_val_if_fail (criterion < evidence->n_criteria, NULL);

  return stand (evidence, (int) criterion, span, cancellable, error);
}

/**
 * insight_standing_get_criterion:
 * @standing: a standing
 * @i: below the number of criteria
 *
 * Returns: the criterion
 */
const InsightCriterion *
insight_standing_get_criterion (const InsightStanding *standing, guint i)
{
  g_return_val_if_fail (i < standing->criteria->len, NULL);

  return standing->criteria->pdata[i];
}

/**
 * insight_standing_find_criterion:
 * @standing: (nullable): a standing
 * @id: key
 *
 * Returns: (nullable): the criterion of that key
 */
const InsightCriterion *
insight_standing_find_criterion (const InsightStanding *standing, gint64 id)
{
  for (guint i = 0; standing != NULL && i < standing->criteria->len; i++)
    if (insight_standing_get_criterion (standing, i)->id == id)
      return insight_standing_get_criterion (standing, i);
  return NULL;
}
