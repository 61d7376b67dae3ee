/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include <math.h>

/*
 * Method. Where tests are planned for a characteristic, the units named for it count; where none are, all units of the round
 * do. A unit that another test destroys, or that is lent for another one, does not count. Of a split round only those units
 * count that get the state looked for (insight-plan-places.c).
 */

static void
note_twice (InsightPlan *plan, const BookEvidence *e, int round)
{
  for (guint i = 0; i < e->n_tests; i++)
    {
      const BookEvidenceTest *one = &e->tests[i];
      gboolean again = FALSE;

      if (one->round != round || !(one->destroyed || one->lent))
        continue;
      for (guint k = 0; k < i && !again; k++)
        again = e->tests[k].round == round && (e->tests[k].destroyed || e->tests[k].lent)
                && g_str_equal (e->tests[k].serial, one->serial);
      for (guint k = 0; again && k < plan->twice->len; k++)
        again = !g_str_equal (plan->twice->pdata[k], one->serial);
      if (again)
        g_ptr_array_add (plan->twice, g_strdup (one->serial));
    }
}

/**
 * insight_plan_tests:
 * @plan: to be filled in
 * @e: the records
 * @round: the planned round
 *
 * Takes over which unit is planned for which test.
 */
void
insight_plan_tests (InsightPlan *plan, const BookEvidence *e, int round)
{
  for (guint i = 0; i < e->n_tests; i++)
    {
      const BookEvidenceTest *row = &e->tests[i];
      InsightPlanTest test = { 0, row->characteristic, row->load, row->cycles, row->destroyed || row->lent };

      if (row->round != round)
        continue;
      test.place = insight_plan_place (e, round, row->serial);
      g_array_append_val (plan->tests, test);
    }
  note_twice (plan, e, round);
  g_ptr_array_add (plan->twice, NULL);
}

gboolean
insight_plan_has_test (const InsightPlan *plan, int characteristic)
{
  for (guint i = 0; i < plan->tests->len; i++)
    if (g_array_index (plan->tests, InsightPlanTest, i).characteristic == characteristic)
      return TRUE;
  return FALSE;
}

/* Whether another test takes the unit at @place away. */
static gboolean
is_taken (const InsightPlan *plan, guint place, int characteristic)
{
  for (guint i = 0; i < plan->tests->len; i++)
    {
      const InsightPlanTest *test = &g_array_index (plan->tests, InsightPlanTest, i);

      if (test->place == place && test->lost && test->characteristic != characteristic)
        return TRUE;
    }
  return FALSE;
}

static gboolean
bears_enough (const InsightPlanCriterion *told, const InsightPlanTest *test)
{
  return (isnan (told->needed_load) || test->load >= told->needed_load)
         && (isnan (told->needed_cycles) || test->cycles >= told->needed_cycles);
}

/* Units at the places [@from, @to) that another test takes away, of all its rows once. */
static guint
count_lost (const InsightPlan *plan, guint from, guint to)
{
  guint lost = 0;

  for (guint i = 0; i < plan->tests->len; i++)
    {
      const InsightPlanTest *test = &g_array_index (plan->tests, InsightPlanTest, i);
      gboolean again = FALSE;

      if (!test->lost || test->place < from || test->place >= to)
        continue;
      for (guint k = 0; k < i && !again; k++)
        again = g_array_index (plan->tests, InsightPlanTest, k).lost
                && g_array_index (plan->tests, InsightPlanTest, k).place == test->place;
      lost += !again;
    }
  return lost;
}

/* Units at the places [@from, @to), all of the state looked for, that count. */
static guint
count_at (const InsightPlan *plan, const InsightPlanInput *input, guint from, guint to, guint *taken)
{
  gboolean named = insight_plan_has_test (plan, input->characteristic);
  gboolean must_bear = !isnan (input->told.needed_load) || !isnan (input->told.needed_cycles);
  guint counted = 0, lost = 0;

  if (!input->told.needs_choice && !named && !must_bear)
    {
      counted = to > from ? to - from : 0;
      lost = count_lost (plan, from, to);
      counted -= MIN (lost, counted);
    }
  for (guint i = 0; !input->told.needs_choice && named && i < plan->tests->len; i++)
    {
      const InsightPlanTest *test = &g_array_index (plan->tests, InsightPlanTest, i);

      if (test->characteristic != input->characteristic || test->place < from || test->place >= to)
        continue;
      if (is_taken (plan, test->place, input->characteristic))
        lost++;
      else
        counted += bears_enough (&input->told, test);
    }
  *taken += lost;
  return counted;
}

/**
 * insight_plan_count_within:
 * @plan: a plan
 * @input: one of its criteria
 * @from: first place
 * @to: place behind the last
 * @taken: (out) (optional): units there that other tests take away
 *
 * Returns: units of the state looked for at these places that count; units, never repeats
 */
guint
insight_plan_count_within (const InsightPlan *plan, const InsightPlanInput *input, guint from, guint to, guint *taken)
{
  guint counted = 0, lost = 0;

  for (guint i = 0; i < input->places->len; i++)
    {
      const InsightPlanPlaces *places = &g_array_index (input->places, InsightPlanPlaces, i);

      counted += count_at (plan, input, MAX (from, places->from), MIN (to, places->to), &lost);
    }
  if (taken != NULL)
    *taken = lost;
  return counted;
}

/**
 * insight_plan_count:
 * @plan: a plan
 * @input: one of its criteria
 * @units: how many units are built
 * @proof: (out): gets the numbers of units that count and that are taken away
 */
void
insight_plan_count (const InsightPlan *plan, const InsightPlanInput *input, guint units, InsightPlanProof *proof)
{
  proof->counted = insight_plan_count_within (plan, input, 0, units, &proof->taken);
}
