/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "insight-memo.h"
#include "insight-study.h"
#include "num-demonstration.h"

#include <math.h>

/*
 * Criteria about measuring: whether the gauge takes up little enough of the tolerance, and whether a check finds what is
 * bad. They look at the newest study, or at all known bad pieces, and have neither looks nor attempts.
 */

/* The newest study that has no gaps; trials of a newer one with gaps are told. */
static const InsightStudy *
newest_study (InsightQuestion *question, GPtrArray *studies)
{
  const InsightStudy *newest = NULL, *gaps = NULL;

  for (guint i = 0; i < studies->len; i++)
    {
      const InsightStudy *study = studies->pdata[i];

      if (study->computed && (newest == NULL || study->day >= newest->day))
        newest = study;
      if (!study->computed && (gaps == NULL || study->day >= gaps->day))
        gaps = study;
    }
  if (gaps != NULL && (newest == NULL || gaps->day > newest->day))
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_STUDY_GAPS), gaps->end - gaps->first);
  return newest;
}

/* The confidence that the gauge takes up no more of the tolerance than the target allows, with its error. */
static gboolean
draw_share (InsightQuestion *question, const NumGaugeStudy *study, double tolerance, double *confidence, double *error)
{
  const guint draws = question->brief ? INSIGHT_DRAWS_BRIEF : INSIGHT_DRAWS;
  const gint64 model = question->basis->e->model_id, id = question->out->id;
  const double figures[] = { tolerance, question->out->target };
  g_autoptr(GByteArray) key = insight_memo_key (INSIGHT_MEMO_GAUGE, model, id, draws);
  double said[2];

  insight_memo_numbers (key, figures, G_N_ELEMENTS (figures));
  insight_memo_integer (key, (gint64) study->persons);
  insight_memo_integer (key, (gint64) study->parts);
  insight_memo_numbers (key, study->values, study->persons * study->parts * study->trials);
  if (!insight_memo_find (key, said, G_N_ELEMENTS (said)))
    {
      if (num_gauge_confidence (study, tolerance, question->out->target, (guint64) model, (guint64) id, draws, &said[0], &said[1])
          != NUM_OK)
        return FALSE;
      insight_memo_keep (key, said, G_N_ELEMENTS (said));
    }
  *confidence = said[0];
  *error = said[1];
  return TRUE;
}

/**
 * insight_judge_method:
 * @question: about a measured characteristic
 *
 * The confidence that 6 grr takes up at most the target of the terms, else three tenths, of the tolerance.
 */
void
insight_judge_method (InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  InsightCriterion *out = question->out;
  g_autoptr(GPtrArray) studies = NULL;
  const InsightStudy *study;
  double error = 0.0;

  out->share = NAN;
  out->target = isnan (question->terms.target) ? NUM_GAUGE_SHARE_MOST : question->terms.target;
  out->method = INSIGHT_METHOD_METHOD;
  studies = insight_studies (e, question->criterion->characteristic, question->look->end);
  study = newest_study (question, studies);
  if (study != NULL)
    {
      NumGaugeStudy numbers = insight_study_numbers (study);

      out->n = study->end - study->first;
      if (isnan (study->tolerance))
        insight_say (question, INSIGHT_REASON_NO_TOLERANCE);
      else
        {
          out->estimate = study->tolerance_share;
          if (draw_share (question, &numbers, study->tolerance, &out->confidence, &error))
            out->contrary = 1.0 - out->confidence;
        }
      if (!question->brief)
        {
          InsightReason *reason = insight_say (question, INSIGHT_REASON_STUDY);

          insight_reason_add_name (reason, study->gauge >= 0 ? e->gauges[study->gauge].name : "");
          insight_reason_add_name (reason, study->last);
          insight_reason_add_count (reason, study->n_persons);
          insight_reason_add_count (reason, study->n_pieces);
          insight_reason_add_count (reason, study->n_trials);
          insight_reason_add_count (reason, isnan (study->answer.ndc) ? 0 : (gint64) study->answer.ndc);
        }
    }
  out->state = insight_state_of (out, error, TRUE);
}

/**
 * insight_judge_detection:
 * @question: about a checked characteristic
 *
 * The confidence that the check finds at least the share of the terms of what is bad: exact binomial, of the inspector
 * for whom it is least.
 */
void
insight_judge_detection (InsightQuestion *question)
{
  InsightCriterion *out = question->out;
  g_autoptr(GArray) inspectors
      = insight_bad_pieces (question->basis->e, question->criterion->characteristic, question->look->end);
  const InsightBadPieces *least = NULL;

  out->target = out->share = isnan (question->terms.target) ? question->terms.share : question->terms.target;
  out->method = INSIGHT_METHOD_DETECTION;
  for (guint i = 0; i < inspectors->len; i++)
    {
      const InsightBadPieces *one = &g_array_index (inspectors, InsightBadPieces, i);
      double confidence, contrary;

      if (num_demonstration_confidence (one->tried - one->caught, one->tried, 1.0 - out->share, &confidence) != NUM_OK
          || num_demonstration_contrary (one->tried - one->caught, one->tried, 1.0 - out->share, &contrary) != NUM_OK
          || (least != NULL && confidence >= out->confidence))
        continue;
      least = one;
      out->confidence = confidence;
      out->contrary = contrary;
    }
  if (least != NULL)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_INSPECTORS);

      out->n = least->tried;
      out->failed = least->tried - least->caught;
      out->estimate = (double) least->caught / least->tried;
      insight_reason_add_count (reason, inspectors->len);
      insight_reason_add_count (reason, least->caught);
      insight_reason_add_count (reason, least->tried);
    }
  if (question->criterion->klass == BOOK_CLASS_SAFETY)
    insight_say (question, INSIGHT_REASON_IN_ADDITION);
  out->state = insight_state_of (out, 0.0, TRUE);
  if (out->state != INSIGHT_MET && out->state != INSIGHT_AGAINST)
    {
      size_t units;

      if (num_demonstration_units (out->failed, 1.0 - out->share, out->wanted, &units) == NUM_OK && units < G_MAXINT)
        out->units_needed = MAX ((int) units - (int) out->n, 1);
    }
}
