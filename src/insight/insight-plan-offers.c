/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

/*
 * The cheaper way, where there is one: measuring a strength instead of pass or fail; and old beside new within one round,
 * since only then a difference may be put down to the change.
 */

#define MEASURE_INSTEAD_FROM 15 /* pass-or-fail units from which measuring a strength is the cheaper way */
#define SPLIT_LEAST          6  /* units of a round below which halves are too few to compare */

static gboolean
measures_something_of (const InsightPlan *plan, BookClass klass)
{
  for (guint i = 0; i < plan->inputs->len; i++)
    {
      const InsightPlanCriterion *told = &g_array_index (plan->inputs, InsightPlanInput, i).told;

      if (told->klass == klass && !told->by_count)
        return TRUE;
    }
  return FALSE;
}

static void
offer_measuring (InsightPlan *plan, const BookEvidence *e)
{
  for (guint i = 0; i < plan->inputs->len; i++)
    {
      const InsightPlanInput *input = &g_array_index (plan->inputs, InsightPlanInput, i);
      InsightPlanOffer *offer;

      if (!input->told.by_count || input->told.is_fix || input->told.needed_clean < MEASURE_INSTEAD_FROM
          || e->characteristics[input->characteristic].kind != BOOK_CHARACTERISTIC_CHECKED
          || measures_something_of (plan, input->told.klass))
        continue;
      offer = g_new0 (InsightPlanOffer, 1);
      offer->code = INSIGHT_PLAN_MEASURE_INSTEAD;
      offer->about = g_strdup (input->told.code);
      offer->name = g_strdup (input->told.name);
      offer->units = (guint) input->told.needed_clean;
      g_ptr_array_add (plan->offers, offer);
    }
}

/* Whether all units of the round get @revision of @part, by its plan. */
static gboolean
takes_only (const BookEvidence *e, int round, int part, int revision)
{
  gboolean split;

  return insight_plan_revision (e, round, part, &split) == revision && !split;
}

static void
offer_split (InsightPlan *plan, const BookEvidence *e, int round)
{
  if (e->rounds[round].planned_units > 0 && e->rounds[round].planned_units < SPLIT_LEAST)
    return;
  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];
      const BookEvidenceChange *change = &e->changes[item->change];
      InsightPlanOffer *offer;

      if (change->from_round != round || change->withdrawn != 0 || item->part < 0 || item->old_revision < 0 || item->new_revision < 0
          || !takes_only (e, round, item->part, item->new_revision))
        continue;
      offer = g_new0 (InsightPlanOffer, 1);
      offer->code = INSIGHT_PLAN_SPLIT;
      offer->about = g_strdup_printf ("%d", change->no);
      offer->name = g_strdup (change->title);
      offer->part = g_strdup (e->parts[item->part].name[0] != '\0' ? e->parts[item->part].name : e->parts[item->part].number);
      offer->old_label = g_strdup (e->revisions[item->old_revision].label);
      offer->new_label = g_strdup (e->revisions[item->new_revision].label);
      g_ptr_array_add (plan->offers, offer);
    }
}

void
insight_plan_offers (InsightPlan *plan, const BookEvidence *e, int round)
{
  offer_measuring (plan, e);
  offer_split (plan, e, round);
}
