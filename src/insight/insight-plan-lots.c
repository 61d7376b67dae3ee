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
 *
 * Values are judged by lot too from three lots on, and the lesser answer counts, as it will when the round is built. Each lot
 * of further units is taken to have the mean and the deviation of all values so far; what counts already keeps its own.
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
  g_array_unref (grouping->of);
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
                                       g_array_new (FALSE, FALSE, sizeof (int)), g_array_new (FALSE, FALSE, sizeof (InsightPlanLot)) };

      for (guint i = 0; i < units->n; i++)
        {
          const InsightUnit *unit = &units->units[i];
          int lot = basis->lot_of[(gsize) unit->unit * width + place];

          if (unit->counting != INSIGHT_COUNTS || e->units[unit->unit].round == round)
            continue;
          g_array_append_val (grouping.of, lot);
          if (lot >= 0 && !is_among (seen, grouping.seen, lot))
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

/* Lots of one part or step that will have been seen, when @further units count. */
static guint
count_lots (const InsightPlan *plan, const InsightPlanInput *input, const InsightPlanGrouping *grouping, guint units, guint further)
{
  g_autofree int *counted = g_new (int, grouping->lots->len + 1);
  guint n = 0;

  if (grouping->lots->len == 0)
    return grouping->seen + (further > 0);
  for (guint i = 0; i < grouping->lots->len; i++)
    {
      const InsightPlanLot *lot = &g_array_index (grouping->lots, InsightPlanLot, i);

      if (!lot->seen && !is_among (counted, n, lot->lot)
          && insight_plan_count_within (plan, input, lot->places.from, MIN (units, lot->places.to), NULL) > 0)
        counted[n++] = lot->lot;
    }
  return grouping->seen + MIN (n, further);
}

/* ---- values by lot ---- */

#define LOT_UNKNOWN (-1) /* units without a lot make a group of their own */
#define LOT_ASSUMED (-2)

typedef struct
{
  int        lot;
  guint      further; /* units of it that are planned */
  NumMoments moments; /* of all its units */
} Group;

static Group *
group_of (GArray *groups, int lot)
{
  Group group = { .lot = lot };

  for (guint i = 0; i < groups->len; i++)
    if (g_array_index (groups, Group, i).lot == lot)
      return &g_array_index (groups, Group, i);
  g_array_append_val (groups, group);
  return &g_array_index (groups, Group, groups->len - 1);
}

/* @n more values of that mean and deviation. */
static void
add_values (NumMoments *moments, guint n, double mean, double sd)
{
  double before = (double) moments->n, all = before + n, apart = mean - moments->mean;
  double squares = (before > 1.0 ? moments->sd * moments->sd * (before - 1.0) : 0.0) + (n > 1 ? sd * sd * (n - 1) : 0.0);

  if (n == 0)
    return;
  squares += apart * apart * before * n / all;
  moments->mean += apart * n / all;
  moments->n += n;
  moments->sd = sqrt (squares / MAX (all - 1.0, 1.0));
}

/* How many of the @further units that count each lot gets. Where rows of the plan say neither number nor serial they share. */
static void
deal_further (const InsightPlan *plan, const InsightPlanInput *input, const InsightPlanGrouping *grouping, guint units, guint further,
              GArray *groups)
{
  guint dealt = 0, rest = further;

  for (guint i = 0; i < grouping->lots->len; i++)
    {
      const InsightPlanLot *lot = &g_array_index (grouping->lots, InsightPlanLot, i);
      guint own = insight_plan_count_within (plan, input, lot->places.from, MIN (units, lot->places.to), NULL);

      group_of (groups, lot->lot)->further += own;
      dealt += own;
    }
  for (guint i = 0; i < groups->len; i++)
    {
      Group *group = &g_array_index (groups, Group, i);

      if (dealt > further)
        group->further = MAX ((guint) ((guint64) group->further * further / dealt), group->further > 0);
      group->further = MIN (group->further, rest);
      rest -= group->further;
    }
  if (rest > 0)
    group_of (groups, grouping->lots->len == 0 ? LOT_ASSUMED : LOT_UNKNOWN)->further += rest;
}

static double
confidence_by_lot (const InsightPlan *plan, const InsightPlanInput *input, const InsightPlanGrouping *grouping,
                   const InsightPlanScale *scale, guint units, guint further)
{
  g_autoptr(GArray) groups = g_array_new (FALSE, FALSE, sizeof (Group));
  g_autofree NumMoments *lots = NULL;
  guint n = 0;
  double confidence = NAN;

  for (guint i = 0; i < scale->values->len; i++)
    add_values (&group_of (groups, g_array_index (grouping->of, int, i))->moments, 1, g_array_index (scale->values, double, i), NAN);
  deal_further (plan, input, grouping, units, further, groups);
  lots = g_new (NumMoments, groups->len + 1);
  for (guint i = 0; i < groups->len; i++)
    {
      Group *group = &g_array_index (groups, Group, i);

      add_values (&group->moments, group->further, scale->mean, scale->sd);
      if (group->moments.n > 0)
        lots[n++] = group->moments;
    }
  if (num_lots_moments (lots, n, scale->limits, input->told.share, scale->resolution, &confidence) != NUM_OK)
    return NAN;
  return confidence;
}

/**
 * insight_plan_by_lot:
 * @plan: a plan
 * @input: one of its criteria
 * @units: how many units are built
 * @counted: how many of them count
 * @of: (out) (optional): name of the part or step that it is by
 *
 * Of each part or step of which three lots or more will have been seen: the confidence with its lots as groups, by each shape
 * that is asked.
 *
 * Returns: the least of them; NAN where there is none
 */
double
insight_plan_by_lot (const InsightPlan *plan, const InsightPlanInput *input, guint units, guint counted, const char **of)
{
  double least = NAN;

  for (guint i = 0; input->scales != NULL && input->groupings != NULL && i < input->groupings->len; i++)
    {
      const InsightPlanGrouping *grouping = &g_array_index (input->groupings, InsightPlanGrouping, i);

      if (count_lots (plan, input, grouping, units, counted) < NUM_LOTS_LEAST)
        continue;
      for (guint k = 0; k < input->scales->len; k++)
        {
          const InsightPlanScale *scale = &g_array_index (input->scales, InsightPlanScale, k);
          double confidence = confidence_by_lot (plan, input, grouping, scale, units, counted);

          if (isnan (confidence) || least <= confidence)
            continue;
          least = confidence;
          if (of != NULL)
            *of = grouping->name;
        }
    }
  return least;
}

/* ---- what follows ---- */

static void
decide_by_lot (const InsightPlan *plan, const InsightPlanInput *input, guint units, InsightPlanProof *proof)
{
  const char *of = NULL;
  double by_lot = insight_plan_by_lot (plan, input, units, proof->counted, &of);

  proof->pooled = proof->confidence;
  if (!(by_lot < proof->confidence)) /* nor where one of them cannot be told */
    return;
  proof->by_lots_of = of;
  proof->confidence = by_lot;
  proof->proves = proof->proves && by_lot >= input->told.wanted - INSIGHT_ROUNDING;
}

/**
 * insight_plan_look_at_lots:
 * @plan: a plan
 * @input: one of its criteria
 * @units: how many units are built
 * @proof: (inout): proven as if all were of one lot
 *
 * The part or step of which the fewest lots are seen decides. Without a unit that counts only what is seen by now is judged.
 */
void
insight_plan_look_at_lots (const InsightPlan *plan, const InsightPlanInput *input, guint units, InsightPlanProof *proof)
{
  decide_by_lot (plan, input, units, proof);
  for (guint i = 0; (proof->counted > 0 || proof->by_lots_of != NULL) && input->groupings != NULL && i < input->groupings->len; i++)
    {
      const InsightPlanGrouping *grouping = &g_array_index (input->groupings, InsightPlanGrouping, i);
      guint lots = count_lots (plan, input, grouping, units, proof->counted);

      if (lots == 0 || (proof->lots > 0 && lots >= proof->lots))
        continue;
      proof->lots = lots;
      proof->lots_of = grouping->name;
      proof->lots_assumed = grouping->lots->len == 0 && proof->counted > 0;
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
