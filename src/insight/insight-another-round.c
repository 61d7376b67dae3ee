/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-another-round.h"

#include "book-evidence.h"
#include "insight-plan-private.h"
#include "insight-span-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Method. The round is planned as the newest one was: its kind, units and tests, in the state of design that stands. The
 * chances are those of the planner (insight-plan.h); the days those that the forecast draws from. What was spent outside
 * and the cost of a unit by the run are two looks at the same money, since bought parts and outside steps may be in both:
 * they stand beside one another and are never added.
 */

#define FURTHER (-1) /* key of the round that is not in the book */

static const char *const names[] = { "chance", "unknown", "cannot", "other" };

const char *
insight_another_name (InsightAnotherCode code)
{
  return names[code];
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const double *x = a, *y = b;

  return (*x > *y) - (*x < *y);
}

/* Sorts @values. Least, median, most; NAN of none. */
static void
spread (double *values, guint n, double of[3])
{
  qsort (values, n, sizeof *values, compare);
  of[0] = n > 0 ? values[0] : NAN;
  of[1] = n > 0 ? (values[(n - 1) / 2] + values[n / 2]) / 2.0 : NAN;
  of[2] = n > 0 ? values[n - 1] : NAN;
}

static void
add_days (InsightAnotherRound *another, const InsightForecastInput *forecast)
{
  g_autofree double *days = g_new (double, forecast->n_lengths + 1);

  another->n_days = forecast->n_lengths;
  for (guint i = 0; i < forecast->n_lengths; i++)
    days[i] = forecast->lengths[i].days;
  spread (days, forecast->n_lengths, another->days);
  if (forecast->n_lengths >= NUM_FORECAST_LENGTHS)
    return;
  another->days[0] = forecast->defaults.shortest;
  another->days[1] = NAN;
  another->days[2] = forecast->defaults.longest;
}

static void
add_money (InsightAnotherRound *another, const BookEvidence *e, int through, BookDay today, const InsightRateInput *rate_input,
           const InsightRate *rate)
{
  g_autofree double *costs = g_new (double, e->n_rounds + 1);
  double a_unit[3];

  for (int r = 0; r <= through; r++)
    {
      const BookEvidenceRound *round = &e->rounds[r];
      const guint units = insight_plan_built (e, r);

      if (round->decided != 0 && round->decided <= today && !isnan (round->cost) && units > 0)
        costs[another->n_costs++] = round->cost / units;
    }
  spread (costs, another->n_costs, a_unit);
  another->run_days = rate_input->run_days;
  for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
    {
      InsightAnotherWay *way = &another->ways[w];

      for (guint i = 0; i < 3; i++)
        way->outside[i] = a_unit[i] * way->units;
      way->inside = rate->cost * way->units;
      way->inside_interval = (NumInterval){ rate->cost_interval.low * way->units, rate->cost_interval.high * way->units };
    }
}

/* The records up to @through with one round more, planned like that one. Only what is made anew here is freed. */
typedef struct
{
  BookEvidence       evidence;
  BookEvidenceRound *rounds;
  BookEvidenceTest  *tests;
} Further;

static void
further_init (Further *further, const BookEvidence *e, int through, BookDay today)
{
  const BookEvidenceRound *like = &e->rounds[through];
  guint n = e->n_tests;

  further->evidence = *e;
  further->rounds = g_new0 (BookEvidenceRound, e->n_rounds + 1);
  memcpy (further->rounds, e->rounds, e->n_rounds * sizeof *e->rounds);
  further->rounds[e->n_rounds] = (BookEvidenceRound){
    .id = FURTHER, .label = "", .question = "", .kind = like->kind, .planned_units = like->planned_units, .opened = today, .cost = NAN
  };
  further->tests = g_new0 (BookEvidenceTest, 2 * (gsize) e->n_tests + 1);
  if (e->n_tests > 0)
    memcpy (further->tests, e->tests, e->n_tests * sizeof *e->tests);
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].round == through)
      {
        further->tests[n] = e->tests[i];
        further->tests[n].round = (int) e->n_rounds;
        further->tests[n++].unit = -1;
      }
  further->evidence.rounds = further->rounds;
  further->evidence.n_rounds = e->n_rounds + 1;
  further->evidence.tests = further->tests;
  further->evidence.n_tests = n;
}

static void
take_proof (InsightAnotherCriterion *criterion, guint w, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  InsightAnotherProof *out = &criterion->proofs[w];
  InsightAnotherCode code = INSIGHT_ANOTHER_CHANCE;

  if (told->no_limits || told->not_enough_alone || told->needs_choice || proof->lots_short)
    code = INSIGHT_ANOTHER_CANNOT;
  else if (isnan (proof->assurance))
    code = INSIGHT_ANOTHER_UNKNOWN;
  out->counted = proof->counted;
  out->at_most = proof->by_lots_of != NULL;
  out->chance = code == INSIGHT_ANOTHER_CHANCE ? proof->assurance : (double) NAN;
  if (w == 0)
    criterion->told = code;
}

static gboolean
prove (InsightAnotherRound *another, const InsightPlan *plan, GCancellable *cancellable, GError **error)
{
  for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
    {
      InsightAnotherWay *way = &another->ways[w];
      g_autoptr(InsightPlanAnswer) answer = insight_plan_prove (plan, way->units, cancellable, error);
      guint n = 0;

      if (answer == NULL)
        return FALSE;
      way->all = NAN;
      for (guint i = 0; i < another->n_criteria; i++)
        {
          InsightAnotherCriterion *criterion = &another->criteria[i];

          for (guint k = 0; k < answer->n; k++)
            if (insight_plan_get_criterion (plan, k)->id == criterion->id)
              take_proof (criterion, w, insight_plan_get_criterion (plan, k), &answer->proofs[k]);
          if (isnan (criterion->proofs[w].chance))
            continue;
          way->all = n++ == 0 ? criterion->proofs[w].chance : way->all * criterion->proofs[w].chance;
          another->at_most |= criterion->proofs[w].at_most;
        }
    }
  for (guint i = 0; i < another->n_criteria; i++)
    another->n_chance += another->criteria[i].told == INSIGHT_ANOTHER_CHANCE;
  return TRUE;
}

static void
add_criteria (InsightAnotherRound *another, const InsightStanding *standing)
{
  another->n_asked = standing->criteria->len;
  another->criteria = g_new0 (InsightAnotherCriterion, standing->criteria->len + 1);
  for (guint i = 0; i < standing->criteria->len; i++)
    {
      const InsightCriterion *asked = insight_standing_get_criterion (standing, i);
      InsightAnotherCriterion *criterion = &another->criteria[another->n_criteria];

      if (!asked->blocks)
        continue;
      another->n_criteria++;
      criterion->id = asked->id;
      criterion->code = g_strdup (asked->code);
      criterion->told = INSIGHT_ANOTHER_OTHER;
      for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
        criterion->proofs[w].chance = NAN;
    }
}

/**
 * insight_another_round:
 * @evidence: the records of a model
 * @standing: where it stands; says through which round and as of which day
 * @forecast: what its forecast is made of, as of the same
 * @rate_input: what its rate is made of
 * @rate: the rate and cost of a unit
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what one more round takes and could prove; without a round nothing is told of days
 *   and chances. %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightAnotherRound *
insight_another_round (const BookEvidence *evidence, const InsightStanding *standing, const InsightForecastInput *forecast,
                       const InsightRateInput *rate_input, const InsightRate *rate, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { standing->round, standing->today };
  g_autoptr(InsightAnotherRound) another = g_new0 (InsightAnotherRound, 1);
  g_autoptr(InsightPlan) plan = NULL;
  const gboolean is_present = *forecast->begin_round != '\0';
  int through;
  BookDay today;

  if (!insight_span_resolve (evidence, &span, &through, &today, error))
    return NULL;
  another->round = g_strdup (forecast->begin_round);
  add_criteria (another, standing);
  add_days (another, forecast);
  if (through >= 0)
    {
      another->ways[0].units = MAX (MAX ((guint) MAX (evidence->rounds[through].planned_units, 0), insight_plan_built (evidence, through)), 1);
      another->ways[1].units = another->ways[0].units + INSIGHT_FORECAST_UNITS;
    }
  add_money (another, evidence, through, today, rate_input, rate);
  if (through < 0)
    {
      another->ways[0].all = another->ways[1].all = NAN;
      return g_steal_pointer (&another);
    }
  if (is_present || through + 1 < (int) evidence->n_rounds)
    plan = insight_plan_new (evidence, evidence->rounds[is_present ? through : through + 1].id, standing->today, cancellable, error);
  else
    {
      Further further;

      further_init (&further, evidence, through, today);
      plan = insight_plan_new (&further.evidence, FURTHER, standing->today, cancellable, error);
      g_free (further.rounds);
      g_free (further.tests);
    }
  return plan != NULL && prove (another, plan, cancellable, error) ? g_steal_pointer (&another) : NULL;
}

void
insight_another_round_free (InsightAnotherRound *another)
{
  if (another == NULL)
    return;

  for (guint i = 0; i < another->n_criteria; i++)
    g_free (another->criteria[i].code);
  g_free (another->criteria);
  g_free (another->round);
  g_free (another);
}
