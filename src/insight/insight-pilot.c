/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-pilot-private.h"

#include "insight-span-private.h"
#include "num-proportion.h"
#include "num-yield.h"

#include <math.h>

#define DRAWS     20000     /* of the rolled yield's interval, where it is not exact */
#define DRAWS_KEY 0x79656c64u

static void
set_shares (InsightPilotStep *step)
{
  NumProportion share;

  if (num_proportion (step->first, step->n, INSIGHT_PILOT_CONFIDENCE, &share) != NUM_OK)
    return;
  step->first_pass = share.estimate;
  step->first_interval = share.jeffreys;
}

/* The steps in a row: the product of their yields. */
static void
roll (InsightPilot *pilot)
{
  g_autofree NumYieldStep *steps = g_new0 (NumYieldStep, pilot->n_steps + 1);
  g_autofree NumYieldAnswer *answers = g_new0 (NumYieldAnswer, pilot->n_steps + 1);
  g_autofree guint *at = g_new0 (guint, pilot->n_steps + 1);
  guint n = 0;
  NumYield rolled;

  pilot->rolled = pilot->final = NAN;
  pilot->rolled_interval = pilot->final_range = (NumInterval){ NAN, NAN };
  for (guint s = 0; s < pilot->n_steps; s++)
    {
      const InsightPilotStep *step = &pilot->steps[s];

      pilot->waiting += step->waiting;
      if (step->n == 0)
        continue;
      steps[n] = (NumYieldStep){ MAX (step->in, step->n), step->first, step->reworked, step->scrapped, step->waiting };
      at[n++] = s;
    }
  pilot->counted_steps = n;
  if (num_yield (steps, n, INSIGHT_PILOT_CONFIDENCE, NAN, (guint64) pilot->model, DRAWS_KEY, DRAWS, answers, &rolled) != NUM_OK)
    return;
  pilot->rolled = rolled.rolled;
  pilot->rolled_interval = rolled.interval;
  pilot->final = 1.0;
  pilot->final_range = (NumInterval){ 1.0, 1.0 };
  for (guint i = 0; i < n; i++)
    {
      InsightPilotStep *step = &pilot->steps[at[i]];

      step->final = answers[i].final;
      step->final_range = answers[i].final_range;
      pilot->final *= step->final;
      pilot->final_range.low *= step->final_range.low;
      pilot->final_range.high *= step->final_range.high;
    }
}

/**
 * insight_pilot:
 * @evidence: the records of a model; readings are not needed
 * @span: through which round, as of which day; the round looked at is the span's last, or for a span without one the
 *   newest that has something to count
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what was counted in one round; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE
 */
InsightPilot *
insight_pilot (const BookEvidence *evidence, const InsightSpan *span, GError **error)
{
  InsightPilot *pilot;
  int through, round = -1;
  BookDay today;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;

  pilot = g_new0 (InsightPilot, 1);
  pilot->model = evidence->model_id;
  pilot->model_code = g_strdup (evidence->code);
  pilot->today = book_day_format (today);
  pilot->rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (int r = 0; r <= through; r++)
    if (insight_pilot_has_counts (evidence, r, today))
      {
        g_array_append_val (pilot->rounds, evidence->rounds[r].id);
        round = r;
      }
  if (span->through != 0)
    round = through;
  pilot->n_steps = evidence->n_steps;
  pilot->steps = g_new0 (InsightPilotStep, evidence->n_steps + 1);
  insight_pilot_count_steps (evidence, round, today, pilot->steps);
  for (guint s = 0; s < pilot->n_steps; s++)
    {
      pilot->steps[s].name = g_strdup (evidence->steps[s].name);
      set_shares (&pilot->steps[s]);
    }
  pilot->round = round >= 0 ? evidence->rounds[round].id : 0;
  pilot->label = g_strdup (round >= 0 ? evidence->rounds[round].label : "");
  pilot->kind = round >= 0 ? evidence->rounds[round].kind : 0;
  insight_pilot_list_pieces (evidence, round, today, pilot);
  insight_pilot_find_losses (evidence, round, today, pilot);
  insight_pilot_find_days (evidence, round, today, pilot);
  roll (pilot);
  return pilot;
}

void
insight_pilot_free (InsightPilot *pilot)
{
  if (pilot == NULL)
    return;

  for (guint i = 0; i < pilot->n_steps; i++)
    {
      g_free (pilot->steps[i].name);
      g_array_unref (pilot->steps[i].pieces);
    }
  for (guint i = 0; i < pilot->n_losses; i++)
    {
      g_free (pilot->losses[i].title);
      g_array_unref (pilot->losses[i].pieces);
    }
  for (guint i = 0; i < pilot->n_days; i++)
    {
      g_free (pilot->days[i].date);
      g_array_unref (pilot->days[i].pieces);
    }
  g_free (pilot->steps);
  g_free (pilot->losses);
  g_free (pilot->days);
  g_array_unref (pilot->rounds);
  g_free (pilot->model_code);
  g_free (pilot->label);
  g_free (pilot->today);
  g_free (pilot);
}
