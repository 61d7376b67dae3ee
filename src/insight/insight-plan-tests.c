/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include <math.h>
#include <string.h>

/*
 * Method. A unit that is not built yet is known by its place in the order of serials: 'P4-07' is the seventh. Where tests are
 * planned for a characteristic, the units named for it count; where none are, all units of the round do. A unit that another
 * test destroys, or that is lent for another one, does not count. Of a split round only those units count that get the state
 * looked for.
 */

/* The number at the end of a serial; 0: none. */
static guint64
number_of (const char *serial)
{
  gsize length = strlen (serial);
  gsize from = length;

  while (from > 0 && g_ascii_isdigit (serial[from - 1]) && length - from < 9)
    from--;
  return from < length ? g_ascii_strtoull (serial + from, NULL, 10) : 0;
}

/* Serials that hold the round's label are numbered from 1; others run on from the least number there is. */
guint
insight_plan_place (const BookEvidence *e, int round, const char *serial)
{
  const char *label = e->rounds[round].label;
  guint64 number = number_of (serial);
  guint64 least = number;

  if (number == 0)
    return 0;
  if (label[0] != '\0' && strstr (serial, label) != NULL)
    return (guint) number - 1;
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].round == round && number_of (e->tests[i].serial) > 0)
      least = MIN (least, number_of (e->tests[i].serial));
  for (guint i = 0; i < e->n_units; i++)
    if (e->units[i].round == round && e->units[i].part < 0 && number_of (e->units[i].serial) > 0)
      least = MIN (least, number_of (e->units[i].serial));
  return (guint) (number - least);
}

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

/* The places that the state looked for gets of one part: [*from, *to). */
static void
narrow (InsightPlanInput *input, const InsightLook *look, int round, int part)
{
  const BookEvidence *e = look->basis->e;
  guint from = 0, to = G_MAXUINT, before = 0;
  gboolean found = FALSE, named = FALSE;

  for (guint i = 0; i < e->n_plans; i++)
    named |= e->plans[i].round == round && e->plans[i].part == part && e->plans[i].first_serial[0] != '\0';
  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];

      if (row->round != round || row->part != part)
        continue;
      if (row->revision == look->revision[part] && !found)
        {
          from = row->first_serial[0] != '\0' ? insight_plan_place (e, round, row->first_serial) : named ? 0 : before;
          if (!named && row->units > 0)
            to = from + (guint) row->units;
          found = TRUE;
        }
      before += (guint) MAX (row->units, 0);
    }
  /* It ends where another row begins. */
  for (guint i = 0; i < e->n_plans && found && named; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];
      guint place;

      if (row->round != round || row->part != part || row->revision == look->revision[part] || row->first_serial[0] == '\0')
        continue;
      place = insight_plan_place (e, round, row->first_serial);
      if (place > from)
        to = MIN (to, place);
    }
  input->from = MAX (input->from, from);
  input->to = MIN (input->to, to);
}

/**
 * insight_plan_range:
 * @input: with its characteristic
 * @look: the look at the planned round
 * @round: the planned round
 *
 * Of a split round: which units are of the state looked for, by all split parts that the characteristic depends on.
 */
void
insight_plan_range (InsightPlanInput *input, const InsightLook *look, int round)
{
  const InsightBasis *basis = look->basis;
  guint first = input->characteristic >= 0 ? basis->depend[input->characteristic] : 0;
  guint end = input->characteristic >= 0 ? basis->depend[input->characteristic + 1] : 0;

  input->from = 0;
  input->to = G_MAXUINT;
  for (guint p = 0; p < basis->e->n_parts; p++)
    {
      gboolean depends = first == end; /* without a word of it: on everything */

      for (guint i = first; i < end; i++)
        depends |= g_array_index (basis->dependences, InsightDependence, i).part == (int) p;
      if (depends && look->split[p] != INSIGHT_SPLIT_NO)
        narrow (input, look, round, (int) p);
    }
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

/**
 * insight_plan_count_within:
 * @plan: a plan
 * @input: one of its criteria
 * @from: first place
 * @to: place behind the last
 * @taken: (out) (optional): units there that other tests take away
 *
 * Returns: units at these places that count; units, never repeats
 */
guint
insight_plan_count_within (const InsightPlan *plan, const InsightPlanInput *input, guint from, guint to, guint *taken)
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
  proof->counted = insight_plan_count_within (plan, input, input->from, MIN (input->to, units), &proof->taken);
}
