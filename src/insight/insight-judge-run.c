/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-pilot-private.h"
#include "insight-rate.h"

#include "insight-counting-private.h"
#include "insight-memo.h"
#include "num-yield.h"

#include <math.h>

/*
 * Criteria about a run rather than about units: whether enough pass all steps the first time, and whether the shop can
 * make enough a month. Both look at the newest round of a kind that counts in which anything was counted. They have
 * neither looks nor attempts. Neither is met while a step in the shop has no counts, nor a rate while a step has no minutes:
 * else leaving out the worst step would be the shortest way there.
 */

static int
newest_round (const InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;

  for (int r = question->look->through; r >= 0; r--)
    if (insight_kind_counts (e->rounds[r].kind, question->criterion->counts_from)
        && insight_pilot_has_counts (e, r, question->look->end))
      return r;
  return -1;
}

static void
name_round (InsightCriterion *out, const BookEvidenceRound *round)
{
  g_strfreev (out->rounds);
  out->rounds = g_new0 (char *, 2);
  out->rounds[0] = g_strdup (round->label);
  insight_ids_add (&out->round_ids, round->id);
}

/* @error: standard error of a confidence that was drawn, 0 of one that is exact. @whole: no step is left out. */
static void
decide (InsightCriterion *out, double error, gboolean whole)
{
  out->contrary = 1.0 - out->confidence;
  out->state = insight_state_of (out, error, whole);
}

static void
add_step_name (InsightQuestion *question, InsightReason **reason, InsightReasonCode code, const char *name)
{
  if (*reason == NULL)
    *reason = insight_say (question, code);
  insight_reason_add_name (*reason, name);
}

/* Returns: whether something was counted at each step in the shop; what suppliers lose shows at the next step at the latest. */
static gboolean
tell_steps (InsightQuestion *question, const InsightPilotStep *steps)
{
  const BookEvidence *e = question->basis->e;
  InsightReason *uncounted = NULL, *wanted = NULL;
  guint waiting = 0, left_out = 0, aside = 0;

  for (guint s = 0; s < e->n_steps; s++)
    {
      waiting += steps[s].waiting;
      left_out += steps[s].tallies_left_out;
      aside += steps[s].aside;
      if (steps[s].n > 0)
        continue;
      if (e->steps[s].kind == BOOK_STEP_OUTSIDE)
        add_step_name (question, &uncounted, INSIGHT_REASON_STEPS_UNCOUNTED, e->steps[s].name);
      else
        add_step_name (question, &wanted, INSIGHT_REASON_STEPS_WANTED, e->steps[s].name);
    }
  if (waiting > 0)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_IN_HAND), waiting);
  if (left_out > 0)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_TALLIES_LEFT_OUT), left_out);
  if (aside > 0)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_SET_ASIDE), aside);
  return wanted == NULL;
}

/* The steps with units, as num-yield.h takes them; @least is the least n among them. */
static guint
steps_with_units (const InsightPilotStep *steps, guint n_steps, NumYieldStep *out, guint *least)
{
  guint n = 0;

  *least = 0;
  for (guint s = 0; s < n_steps; s++)
    {
      const InsightPilotStep *step = &steps[s];

      if (step->n == 0)
        continue;
      out[n++] = (NumYieldStep){ MAX (step->in, step->n), step->first, step->reworked, step->scrapped, step->waiting };
      *least = n == 1 ? step->n : MIN (*least, step->n);
    }
  return n;
}

/* What num_yield() says of the rolled yield: the confidence that it reaches @target, its error, itself and its interval. */
enum
{
  TARGET_CONFIDENCE,
  TARGET_ERROR,
  ROLLED,
  ROLLED_LOW,
  ROLLED_HIGH,
  YIELD_FIGURES
};

static gboolean
roll (InsightQuestion *question, const NumYieldStep *steps, guint n, double target, double *said)
{
  const guint draws = question->brief ? INSIGHT_DRAWS_BRIEF : INSIGHT_DRAWS;
  const gint64 model = question->basis->e->model_id, id = question->out->id;
  g_autoptr(GByteArray) key = insight_memo_key (INSIGHT_MEMO_YIELD, model, id, draws);
  g_autofree NumYieldAnswer *answers = NULL;
  NumYield yield;

  insight_memo_numbers (key, &target, 1);
  for (guint s = 0; s < n; s++)
    {
      insight_memo_integer (key, (gint64) steps[s].in);
      insight_memo_integer (key, (gint64) steps[s].first);
      insight_memo_integer (key, (gint64) steps[s].reworked);
      insight_memo_integer (key, (gint64) steps[s].scrapped);
      insight_memo_integer (key, (gint64) steps[s].waiting);
    }
  if (insight_memo_find (key, said, YIELD_FIGURES))
    return TRUE;
  answers = g_new0 (NumYieldAnswer, n + 1);
  if (num_yield (steps, n, INSIGHT_PILOT_CONFIDENCE, target, (guint64) model, (guint64) id, draws, answers, &yield) != NUM_OK)
    return FALSE;
  said[TARGET_CONFIDENCE] = yield.target_confidence;
  said[TARGET_ERROR] = yield.target_error;
  said[ROLLED] = yield.rolled;
  said[ROLLED_LOW] = yield.interval.low;
  said[ROLLED_HIGH] = yield.interval.high;
  insight_memo_keep (key, said, YIELD_FIGURES);
  return TRUE;
}

/**
 * insight_judge_yield:
 * @question: about the yield of all steps in a row
 *
 * The confidence that the rolled first-pass yield reaches the target, else the share, of the terms.
 */
void
insight_judge_yield (InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  InsightCriterion *out = question->out;
  double target = isnan (question->terms.target) ? question->terms.share : question->terms.target;
  int round = newest_round (question);
  g_autofree InsightPilotStep *steps = g_new0 (InsightPilotStep, e->n_steps + 1);
  g_autofree NumYieldStep *numbers = g_new0 (NumYieldStep, e->n_steps + 1);
  double said[YIELD_FIGURES], error = 0.0;
  gboolean whole;
  guint n;

  out->share = out->target = target;
  out->method = INSIGHT_METHOD_YIELD;
  if (round < 0)
    {
      decide (out, error, FALSE);
      return;
    }
  insight_pilot_count_steps (e, round, question->look->end, steps);
  n = steps_with_units (steps, e->n_steps, numbers, &out->n);
  if (roll (question, numbers, n, target, said))
    {
      out->confidence = said[TARGET_CONFIDENCE];
      error = said[TARGET_ERROR];
      out->estimate = said[ROLLED];
      out->estimate_low = said[ROLLED_LOW];
      out->estimate_high = said[ROLLED_HIGH];
    }
  name_round (out, &e->rounds[round]);
  whole = tell_steps (question, steps);
  decide (out, error, whole);
}

/* Returns: whether all steps take part. */
static gboolean
tell_rate (InsightQuestion *question, const InsightRateInput *input, const InsightRate *rate)
{
  const InsightRateLine *least = rate->n_lines > 0 ? &rate->lines[rate->constraint] : NULL;
  InsightReason *missing = NULL, *reason;

  for (guint s = 0; s < input->n_steps; s++)
    if (!input->steps[s].counts)
      add_step_name (question, &missing, INSIGHT_REASON_STEPS_LEFT_OUT, input->steps[s].name);
  if (least == NULL)
    return FALSE;
  reason = insight_say (question, INSIGHT_REASON_CONSTRAINT);
  insight_reason_add_name (reason, least->bench >= 0 ? input->benches[least->bench].name : input->steps[least->step].name);
  insight_reason_add_number (reason, round (rate->month));
  insight_reason_add_number (reason, floor (rate->plan));
  return missing == NULL;
}

/**
 * insight_judge_rate:
 * @question: about good units a month
 *
 * The confidence that the ceiling reaches the target of the terms, else the model's monthly demand; none below five run days.
 */
void
insight_judge_rate (InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  InsightCriterion *out = question->out;
  int round = newest_round (question);
  InsightSpan span = { 0, NULL };
  g_autofree char *today = book_day_format (question->look->end);
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;
  gboolean whole;
  double error = 0.0;

  out->share = NAN;
  out->target = isnan (question->terms.target) ? e->monthly_demand : question->terms.target;
  out->method = INSIGHT_METHOD_RATE;
  if (isnan (out->target))
    insight_say (question, INSIGHT_REASON_NO_TARGET);
  if (round < 0)
    {
      decide (out, error, FALSE);
      return;
    }
  span = (InsightSpan){ e->rounds[round].id, today };
  pilot = insight_pilot (e, &span, NULL);
  if (pilot == NULL)
    return;
  input = insight_rate_input (e, pilot);
  rate = insight_rate (input);
  out->n = pilot->n_run_days;
  out->estimate = rate->month;
  name_round (out, &e->rounds[round]);
  if (input->run_days < INSIGHT_RATE_RUN_DAYS)
    insight_reason_add_count (insight_say (question, INSIGHT_REASON_RUN_DAYS), input->run_days);
  else if (!isnan (out->target)
           && insight_rate_draw (rate, input, question->brief ? INSIGHT_DRAWS_BRIEF : INSIGHT_DRAWS, out->target, &out->confidence, &error, NULL))
    {
      out->estimate_low = rate->interval.low;
      out->estimate_high = rate->interval.high;
    }
  whole = tell_rate (question, input, rate);
  whole = tell_steps (question, pilot->steps) && whole;
  decide (out, error, whole);
}
