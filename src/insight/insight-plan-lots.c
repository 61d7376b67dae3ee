/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include "num-lots.h"

#include <math.h>

/*
 * Method. Units of one delivery are more alike than deliveries are, so that a strict criterion waits for a third lot of
 * every part and step that its characteristic depends on (insight-lots.c). Beside the lots of units that count already
 * stand those that the plan names, as far as a unit that will count gets one of them. Where the plan names none, all
 * units are taken to come of one lot that was not seen before; where it names some, units without one add none.
 */

static gboolean
is_among (const int *lots, guint n, int lot)
{
  for (guint i = 0; i < n; i++)
    if (lots[i] == lot)
      return TRUE;
  return FALSE;
}

static void
grouping_clear (gpointer data)
{
  InsightPlanGrouping *grouping = data;

  g_free (grouping->name);
  g_array_unref (grouping->lots);
}

/**
 * insight_plan_groupings:
 * @input: gets what its units are grouped by
 * @units: those of its characteristic at the planned round
 * @basis: the records
 * @round: the planned round, whose own units are left out
 */
void
insight_plan_groupings (InsightPlanInput *input, const InsightUnits *units, const InsightBasis *basis, int round)
{
  const BookEvidence *e = basis->e;
  guint width = e->n_parts + e->n_steps;
  g_autofree int *seen = g_new (int, e->n_units + 1);

  input->groupings = g_array_new (FALSE, FALSE, sizeof (InsightPlanGrouping));
  g_array_set_clear_func (input->groupings, grouping_clear);
  for (guint d = basis->depend[input->characteristic]; d < basis->depend[input->characteristic + 1]; d++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, d);
      guint place = on.part >= 0 ? (guint) on.part : e->n_parts + (guint) on.step;
      InsightPlanGrouping grouping = { g_strdup (on.part >= 0 ? e->parts[on.part].name : e->steps[on.step].name), 0,
                                       g_array_new (FALSE, FALSE, sizeof (InsightPlanLot)) };

      for (guint i = 0; i < units->n; i++)
        {
          const InsightUnit *unit = &units->units[i];
          int lot = basis->lot_of[(gsize) unit->unit * width + place];

          if (unit->counting == INSIGHT_COUNTS && e->units[unit->unit].round != round && lot >= 0 && !is_among (seen, grouping.seen, lot))
            seen[grouping.seen++] = lot;
        }
      for (guint i = 0; i < e->n_plans; i++)
        {
          const BookEvidencePlan *row = &e->plans[i];
          InsightPlanLot lot = { .lot = row->lot, .seen = is_among (seen, grouping.seen, row->lot) };

          if (row->round != round || row->lot < 0 || (on.part >= 0 ? row->part != on.part : row->step != on.step))
            continue;
          lot.places = insight_plan_places (e, row);
          g_array_append_val (grouping.lots, lot);
        }
      if (basis->lotted[place] || grouping.lots->len > 0)
        g_array_append_val (input->groupings, grouping);
      else
        grouping_clear (&grouping);
    }
}

/* Lots of one part or step that will have been seen. */
static guint
count_lots (const InsightPlan *plan, const InsightPlanInput *input, const InsightPlanGrouping *grouping, guint units)
{
  g_autofree int *counted = g_new (int, grouping->lots->len + 1);
  guint n = 0;

  for (guint i = 0; i < grouping->lots->len; i++)
    {
      const InsightPlanLot *lot = &g_array_index (grouping->lots, InsightPlanLot, i);

      if (!lot->seen && !is_among (counted, n, lot->lot)
          && insight_plan_count_within (plan, input, lot->places.from, MIN (units, lot->places.to), NULL) > 0)
        counted[n++] = lot->lot;
    }
  return grouping->seen + n;
}

/**
 * insight_plan_look_at_lots:
 * @plan: a plan
 * @input: one of its criteria
 * @units: how many units are built
 * @proof: (inout): proven as if all were of one lot
 *
 * The part or step of which the fewest lots are seen decides. Without a unit that counts nothing is said.
 */
void
insight_plan_look_at_lots (const InsightPlan *plan, const InsightPlanInput *input, guint units, InsightPlanProof *proof)
{
  for (guint i = 0; proof->counted > 0 && input->groupings != NULL && i < input->groupings->len; i++)
    {
      const InsightPlanGrouping *grouping = &g_array_index (input->groupings, InsightPlanGrouping, i);
      gboolean assumed = grouping->lots->len == 0;
      guint lots = assumed ? grouping->seen + 1 : count_lots (plan, input, grouping, units);

      if (lots == 0 || (proof->lots > 0 && lots >= proof->lots))
        continue;
      proof->lots = lots;
      proof->lots_of = grouping->name;
      proof->lots_assumed = assumed;
    }
  proof->lots_few = proof->lots > 0 && proof->lots < NUM_LOTS_LEAST;
  proof->lots_short = proof->lots_few && input->told.strict;
  if (!proof->lots_short)
    return;
  proof->proves = FALSE;
  proof->allowed = -1;
  if (!isnan (proof->assurance))
    proof->assurance = proof->bad_passes = 0.0;
}
