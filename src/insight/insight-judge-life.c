/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "insight-life-private.h"
#include "insight-span-private.h"
#include "num-life.h"

#include <math.h>

/*
 * Whether enough units live beyond the wanted cycles. Ways of failing are looked at apart, each with the others as
 * stopped, and the least confidence counts, each at the share R0^(1/modes). Looks and attempts count as for checks: a look
 * is a round with new counted tests, a start again a look at which a counted failure no longer counts.
 */

#define DRAWS_FIRST 4000 /* enough where the answer is far from what is wanted */
#define FAR         5.0  /* standard errors that are far */

typedef struct
{
  GArray *units;   /* InsightLifeUnit */
  GArray *modes;   /* int: issues behind failures, -1 where none was named */
  double  planned; /* longest cycles planned for a counted unit; 0 none */
  guint   failed;
} Life;

static gboolean
counts (const InsightLifeUnit *unit)
{
  return unit->counting == INSIGHT_COUNTS && !unit->short_load;
}

static void
add_mode (Life *life, int mode)
{
  for (guint i = 0; i < life->modes->len; i++)
    if (g_array_index (life->modes, int, i) == mode)
      return;
  g_array_append_val (life->modes, mode);
}

static void
take_units (InsightQuestion *question, Life *life)
{
  InsightCriterion *out = question->out;
  const BookEvidence *e = question->basis->e;

  life->modes = g_array_new (FALSE, FALSE, sizeof (int));
  for (guint i = 0; i < life->units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (life->units, InsightLifeUnit, i);

      if (!counts (unit))
        {
          if (unit->counting == INSIGHT_NOT_STATE || unit->counting == INSIGHT_NOT_LATER_STATE)
            insight_ids_add (&out->no_longer, e->units[unit->unit].id);
          continue;
        }
      out->n++;
      insight_ids_add (&out->counted, e->units[unit->unit].id);
      if (!isnan (unit->planned))
        life->planned = MAX (life->planned, unit->planned);
      if (!unit->failed)
        continue;
      life->failed++;
      insight_ids_add (&out->failing, e->units[unit->unit].id);
      add_mode (life, unit->mode);
    }
  out->failed = life->failed;
}

/* New data make a look; a counted failure that counts no more makes a start again. */
static void
count_looks (InsightQuestion *question, const Life *life)
{
  InsightLooks *looks = question->looks;
  gboolean new_data = FALSE, gone = FALSE;

  for (guint i = 0; i < life->units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (life->units, InsightLifeUnit, i);
      gboolean was_failure = looks->failure[unit->unit] == 1;

      if (unit->counting == INSIGHT_NOT_KIND)
        continue;
      if (looks->seen[unit->unit] < 0)
        {
          looks->seen[unit->unit] = question->look->through;
          new_data = TRUE;
        }
      if (was_failure && (unit->counting == INSIGHT_NOT_STATE || unit->counting == INSIGHT_NOT_LATER_STATE))
        {
          looks->failure[unit->unit] = 2;
          looks->earlier_failures++;
          gone = TRUE;
        }
      else if (!was_failure && unit->failed && looks->failure[unit->unit] == 0
               && (unit->counting == INSIGHT_COUNTS || unit->counting == INSIGHT_NOT_EXCUSED))
        looks->failure[unit->unit] = 1;
    }
  looks->looks += new_data;
  looks->attempts += gone;
}

/* One mode: its failures, and all other counted units as stopped. */
static NumStatus
ask_mode (const InsightQuestion *question, const Life *life, int mode, double share, guint number, guint draws, NumLife *out)
{
  guint n = life->units->len;
  g_autofree double *failed = g_new (double, n + 1);
  g_autofree double *stopped = g_new (double, n + 1);
  const BookEvidenceTerm *term = question->terms.term;
  NumLifeQuestion asked = { .failed = failed, .stopped = stopped, .planned = life->planned, .at = term->cycles, .share = share,
                            .shape = { term->shape_low, isnan (term->shape_high) ? term->shape_low : term->shape_high } };

  for (guint i = 0; i < n; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (life->units, InsightLifeUnit, i);

      if (!counts (unit) || !(unit->cycles > 0.0))
        continue;
      if (unit->failed && unit->mode == mode)
        failed[asked.failures++] = unit->cycles;
      else
        stopped[asked.stops++] = unit->cycles;
    }
  return num_life (&asked, (guint64) question->basis->e->model_id, (guint64) question->out->id + number, draws, out);
}

/* The least confidence of all modes; where draws cannot tell yet, more of them. */
static double
ask_modes (InsightQuestion *question, const Life *life)
{
  guint modes = MAX (life->modes->len, 1);
  double share = pow (question->terms.share, 1.0 / modes), error = 0.0;
  InsightCriterion *out = question->out;

  for (guint i = 0; i < modes; i++)
    {
      int mode = life->modes->len > 0 ? g_array_index (life->modes, int, i) : -1;
      NumLife answer;
      NumStatus status = ask_mode (question, life, mode, share, i, DRAWS_FIRST, &answer);

      if (status == NUM_OK && answer.way == NUM_LIFE_FITTED && !question->brief
          && answer.confidence >= out->wanted - FAR * answer.error - 1e-3)
        status = ask_mode (question, life, mode, share, i, NUM_LIFE_DRAWS, &answer);
      if (status != NUM_OK)
        {
          insight_say (question, status == NUM_TOO_FEW ? INSIGHT_REASON_LIFE_SHAPE : INSIGHT_REASON_NOT_COMPUTED);
          out->confidence = NAN;
          return 0.0;
        }
      if (i == 0 || answer.confidence < out->confidence)
        {
          out->confidence = answer.confidence;
          out->method = answer.way == NUM_LIFE_FITTED ? INSIGHT_METHOD_LIFE_FITTED : INSIGHT_METHOD_LIFE_STATED;
          error = answer.error;
        }
    }
  return error;
}

/*
 * No unit ran beyond the last failure, nor as far as was planned: the test may have been stopped because of its failures,
 * and such a test promises more than it holds (stopped at the third of ten: 22 % false claims where 10 % are promised).
 */
static gboolean
stopped_by_failure (const Life *life)
{
  double failed = 0.0, stopped = 0.0;

  for (guint i = 0; i < life->units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (life->units, InsightLifeUnit, i);

      if (!counts (unit))
        continue;
      if (unit->failed)
        failed = MAX (failed, unit->cycles);
      else
        stopped = MAX (stopped, unit->cycles);
    }
  return life->failed >= NUM_LIFE_FIT_FROM && stopped > 0.0 && stopped <= failed
         && (life->planned == 0.0 || stopped < life->planned);
}

static void
tell (InsightQuestion *question, const Life *life)
{
  const BookEvidence *e = question->basis->e;
  guint n_short = 0;
  InsightReason *reason;

  for (guint i = 0; i < life->units->len; i++)
    n_short += g_array_index (life->units, InsightLifeUnit, i).counting == INSIGHT_COUNTS
               && g_array_index (life->units, InsightLifeUnit, i).short_load;
  if (n_short > 0)
    {
      reason = insight_say (question, INSIGHT_REASON_LIFE_LOAD);
      insight_reason_add_count (reason, n_short);
      insight_reason_add_number (reason, question->terms.term->load);
    }
  if (life->modes->len > 1)
    {
      reason = insight_say (question, INSIGHT_REASON_LIFE_MODES);
      for (guint i = 0; i < life->modes->len; i++)
        {
          int mode = g_array_index (life->modes, int, i);

          if (mode >= 0) /* how the others failed has no name yet */
            insight_reason_add_name (reason, e->issues[mode].title);
        }
      insight_reason_add_count (reason, life->modes->len);
    }
  if (stopped_by_failure (life))
    insight_say (question, INSIGHT_REASON_LIFE_STOPPED);
  if (question->out->no_longer.n > 0)
    {
      reason = insight_say (question, INSIGHT_REASON_LIFE_OTHER_STATE);
      insight_reason_add_count (reason, question->out->no_longer.n);
    }
}

/* Units that live as long as wanted without a failure, that would do; by the stated shape or the exact share. */
static int
units_needed (const InsightQuestion *question)
{
  double share = question->terms.share, wanted = question->out->wanted;
  double all = ceil (log1p (-wanted) / log (share) - 1e-9);

  return question->out->failed > 0 || !isfinite (all) || all > 1e6 ? 0 : MAX ((int) all - (int) question->out->n, 1);
}

static gboolean
waits_for_tested (InsightQuestion *question)
{
  const BookEvidenceRound *round
      = question->look->newest >= 0 ? &question->basis->e->rounds[question->look->newest] : NULL;

  if (!question->criterion->strict || round == NULL || (round->tested != 0 && round->tested <= question->look->end))
    return FALSE;
  insight_reason_add_name (insight_say (question, INSIGHT_REASON_NOT_TESTED_YET), round->label);
  return TRUE;
}

static void
decide (InsightQuestion *question, double error)
{
  InsightCriterion *out = question->out;

  out->contrary = 1.0 - out->confidence;
  out->state = insight_state_of (out, error, !out->so_far);
  if (out->state == INSIGHT_NO_DATA && out->no_longer.n > 0)
    out->state = INSIGHT_NO_LONGER;
  else if (out->state == INSIGHT_AGAINST && out->failed == 0) /* short tests that all passed speak against nothing */
    out->state = INSIGHT_TOO_FEW;
}

/**
 * insight_judge_life:
 * @question: about a characteristic that life tests show
 *
 * The confidence that the share of the terms lives beyond their cycles (num-life.h).
 */
void
insight_judge_life (InsightQuestion *question)
{
  const BookEvidenceTerm *term = question->terms.term;
  InsightCriterion *out = question->out;
  Life life = { 0 };
  double error = 0.0;
  guint j;

  life.units = insight_life_units (question->look, question->criterion->characteristic, question->criterion->counts_from,
                                   term != NULL ? term->load : (double) NAN);
  take_units (question, &life);
  count_looks (question, &life);
  out->looks = question->looks->looks;
  out->attempts = question->looks->attempts;
  out->earlier_failures = question->looks->earlier_failures;
  j = MAX (MAX (out->looks, out->attempts), 1);
  if (question->criterion->strict)
    out->wanted = insight_surcharged (question->terms.confidence, j);
  out->target = term != NULL ? term->cycles : (double) NAN;
  if (isnan (out->target))
    insight_say (question, INSIGHT_REASON_LIFE_CYCLES);
  else if (out->n > 0)
    error = ask_modes (question, &life);
  out->so_far = waits_for_tested (question) || stopped_by_failure (&life);
  decide (question, error);
  if (!question->brief && term != NULL)
    {
      tell (question, &life);
      if (!isnan (out->target) && out->state != INSIGHT_MET)
        out->units_needed = units_needed (question);
    }
  g_array_unref (life.units);
  g_array_unref (life.modes);
}
