/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-life-parts-private.h"

#include "insight-criterion-private.h"
#include "num-dist.h"
#include "num-life.h"

#include <math.h>

/*
 * What would prove it: the confidence of the criterion itself (num-life.h, shape stated beforehand), asked of units that are
 * still to be cycled. They are added to what counts as long as that has fewer than NUM_LIFE_FIT_FROM failures of each way;
 * from then on a changed design is presumed and the plan is a test of its own. A unit that may fail on the way is reckoned
 * to fail at once.
 */

#define UNITS_MOST  10000
#define FACTOR_MOST 20.0  /* times the wanted cycles */
#define ANY_LOW     0.05  /* a shape that nobody stated lies in between */
#define ANY_HIGH    20.0

typedef struct
{
  const InsightLife *life;
  GArray            *units; /* InsightLifeUnit */
  GArray            *modes; /* int */
  NumInterval        shape;
  double             share; /* of each mode */
  double            *failed;
  double            *stopped;
} Plan;

/* The least confidence of all modes with @units more of @cycles each, @failures of which fail. */
static double
confidence_with (const Plan *plan, guint units, double cycles, guint failures)
{
  double least = 1.0;

  for (guint i = 0; i < plan->modes->len; i++)
    {
      NumLifeQuestion asked = { .failed = plan->failed, .stopped = plan->stopped, .at = plan->life->wanted_cycles,
                                .share = plan->share, .shape = plan->shape };
      NumLife answer;

      for (guint k = 0; !plan->life->plan_fresh && k < plan->units->len; k++)
        {
          const InsightLifeUnit *unit = &g_array_index (plan->units, InsightLifeUnit, k);

          if (!insight_life_counts (unit))
            continue;
          if (unit->failed && unit->mode == g_array_index (plan->modes, int, i))
            plan->failed[asked.failures++] = unit->cycles;
          else
            plan->stopped[asked.stops++] = unit->cycles;
        }
      if (asked.failures + failures >= NUM_LIFE_FIT_FROM || units < failures)
        return 0.0;
      for (guint k = 0; k < failures; k++)
        plan->failed[asked.failures++] = 1e-6 * cycles;
      for (guint k = failures; k < units; k++)
        plan->stopped[asked.stops++] = cycles;
      if (num_life (&asked, 0, 0, 1, &answer) != NUM_OK)
        return 0.0;
      least = MIN (least, answer.confidence);
    }
  return least;
}

static gboolean
reaches (const Plan *plan, guint units, double cycles, guint failures)
{
  return confidence_with (plan, units, cycles, failures) >= plan->life->plan_wanted - INSIGHT_ROUNDING;
}

/* The fewest units; 0: more than %UNITS_MOST. */
static guint
units_for (const Plan *plan, double cycles, guint failures)
{
  guint low = failures, high = failures + 1;

  while (high <= UNITS_MOST && !reaches (plan, high, cycles, failures))
    {
      low = high;
      high *= 2;
    }
  if (high > UNITS_MOST)
    return 0;
  while (high - low > 1)
    {
      guint middle = low + (high - low) / 2;

      if (reaches (plan, middle, cycles, failures))
        high = middle;
      else
        low = middle;
    }
  return high;
}

/* The fewest cycles, rounded up to two figures; 0: not within %FACTOR_MOST times those wanted. */
static double
cycles_for (const Plan *plan, guint units)
{
  double wanted = plan->life->wanted_cycles, low = log (0.01), high = log (FACTOR_MOST), step, cycles;

  if (!reaches (plan, units, FACTOR_MOST * wanted, 0))
    return 0.0;
  for (guint i = 0; i < 40; i++)
    {
      double middle = 0.5 * (low + high);

      if (reaches (plan, units, exp (middle) * wanted, 0))
        high = middle;
      else
        low = middle;
    }
  cycles = exp (high) * wanted;
  step = pow (10.0, floor (log10 (cycles)) - 1.0);
  return ceil (cycles / step - 1e-6) * step;
}

/* At most @failures of @units fail where each does with a chance drawn from Beta (a, b). */
static double
predictive (guint units, guint failures, double a, double b)
{
  double sum = 0.0;

  for (guint x = 0; x <= failures && x <= units; x++)
    sum += exp (num_gamma_function_log (units + 1.0) - num_gamma_function_log (x + 1.0) - num_gamma_function_log (units - x + 1.0)
                + num_beta_function_log (a + x, b + units - x) - num_beta_function_log (a, b));
  return MIN (sum, 1.0);
}

/* Chance to get there by what is known: by the lines where every way has one, else by the share of units that lived as long, where one did. */
static double
assurance_of (const Plan *plan, const InsightLifePlan *row)
{
  const InsightLife *life = plan->life;
  double survival = 1.0, lived = 0.0, failed = 0.0;

  if (life->plan_fresh || life->n == 0)
    return (double) NAN;
  for (guint i = 0; i < life->n_modes; i++)
    {
      double share = (double) NAN, low;

      if (life->modes[i].fitted
          && num_weibull_survival (&life->modes[i].fit, row->cycles, INSIGHT_LIFE_CONFIDENCE, &share, &low) != NUM_OK)
        share = (double) NAN;
      survival *= share;
    }
  if (life->n_modes > 0 && !isnan (survival))
    return num_binomial_lower (row->failures, row->units, 1.0 - survival);
  for (guint i = 0; i < plan->units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (plan->units, InsightLifeUnit, i);

      if (!insight_life_counts (unit))
        continue;
      lived += unit->cycles >= row->cycles;
      failed += unit->failed && unit->cycles < row->cycles;
    }
  return lived > 0.0 ? predictive (row->units, row->failures, failed + 0.5, lived + 0.5) : (double) NAN;
}

/* A design of which exactly the tolerated share fails by the wanted cycles: the shape that lets most of it through. */
static double
bad_passes (const Plan *plan, const InsightLifePlan *row)
{
  double hazard = -log (plan->life->share);
  double factor = row->cycles / plan->life->wanted_cycles;
  double least = MIN (pow (factor, plan->shape.low), pow (factor, plan->shape.high));

  return num_binomial_lower (row->failures, row->units, -expm1 (-hazard * least));
}

static void
add_row (Plan *plan, GArray *rows, guint units, double cycles, guint failures)
{
  InsightLifePlan row = { .units = units, .cycles = cycles, .failures = failures };

  if (units == 0 || !(cycles > 0.0))
    return;
  row.bad_passes = bad_passes (plan, &row);
  row.assurance = assurance_of (plan, &row);
  g_array_append_val (rows, row);
}

static gboolean
has_many_failures (const InsightLife *life)
{
  for (guint i = 0; i < life->n_modes; i++)
    if (life->modes[i].failures >= NUM_LIFE_FIT_FROM)
      return TRUE;
  return FALSE;
}

static void
list_modes (Plan *plan)
{
  const int none = -1;

  for (guint i = 0; !plan->life->plan_fresh && i < plan->units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (plan->units, InsightLifeUnit, i);

      if (insight_life_counts (unit) && unit->failed)
        insight_add_once (plan->modes, unit->mode);
    }
  if (plan->modes->len == 0)
    g_array_append_val (plan->modes, none);
  plan->share = pow (plan->life->share, 1.0 / plan->modes->len);
}

/* A strict criterion wants more at the next look, and the plan is for that one. */
static double
wanted_next (const InsightLife *life)
{
  const InsightCriterion *c = insight_standing_get_criterion (life->standing, 0);
  guint j = MAX (MAX (c->looks, c->attempts), 1);

  if (!c->strict)
    return c->wanted;
  if (life->plan_fresh)
    return insight_surcharged (c->wanted_base, MAX (c->looks + 1, c->attempts + 1));
  return insight_surcharged (c->wanted_base, c->so_far || c->looks == 0 ? j : j + 1);
}

void
insight_life_add_plan (InsightLife *life, const BookEvidence *evidence, GArray *units)
{
  static const double factors[] = { 1.0, 1.5, 2.0, 3.0 };
  static const guint numbers[] = { 3, 5, 8, 12, 20 };
  gboolean stated = !isnan (life->shape.low);
  Plan plan = { .life = life, .units = units };

  if (life->standing == NULL || isnan (life->wanted_cycles) || !(life->share > 0.0 && life->share < 1.0))
    return;
  if (insight_standing_get_criterion (life->standing, 0)->state == INSIGHT_MET)
    return;
  life->plan_fresh = has_many_failures (life);
  life->plan_wanted = wanted_next (life);
  plan.shape = stated ? life->shape : (NumInterval){ ANY_LOW, ANY_HIGH };
  plan.modes = g_array_new (FALSE, FALSE, sizeof (int));
  plan.failed = g_new0 (double, units->len + NUM_LIFE_FIT_FROM);
  plan.stopped = g_new0 (double, units->len + 2 * UNITS_MOST + 1);
  list_modes (&plan);
  for (guint i = 0; i < (stated ? G_N_ELEMENTS (factors) : 1); i++)
    {
      double cycles = factors[i] * life->wanted_cycles;

      add_row (&plan, life->plan_units, units_for (&plan, cycles, 0), cycles, 0);
    }
  for (guint failures = 1; failures < NUM_LIFE_FIT_FROM; failures++)
    add_row (&plan, life->plan_units, units_for (&plan, life->wanted_cycles, failures), life->wanted_cycles, failures);
  for (guint i = 0; stated && i < G_N_ELEMENTS (numbers); i++)
    add_row (&plan, life->plan_cycles, numbers[i], cycles_for (&plan, numbers[i]), 0);
  g_array_unref (plan.modes);
  g_free (plan.failed);
  g_free (plan.stopped);
}
