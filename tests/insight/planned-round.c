/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "planned-round.h"

#define TODAY "2027-01-01"

int
planned_round (Fixture *f, const char *label, int units)
{
  int round = fixture_round (f, label, BOOK_ROUND_PROTOTYPE, "2026-12-01", FALSE);
  BookEvidenceRound *row = &f->e->rounds[round];

  row->opened = row->design_fixed = row->parts_ready = row->built = row->tested = row->decided = 0;
  row->planned_units = units;
  return round;
}

InsightPlan *
planned_round_plan (Fixture *f, int round)
{
  g_autoptr(GError) error = NULL;
  InsightPlan *plan;

  fixture_finish (f);
  plan = insight_plan_new (f->e, f->e->rounds[round].id, TODAY, NULL, &error);
  g_assert_no_error (error);
  return plan;
}

InsightPlanAnswer *
planned_round_prove (InsightPlan *plan, guint units)
{
  g_autoptr(GError) error = NULL;
  InsightPlanAnswer *answer = insight_plan_prove (plan, units, NULL, &error);

  g_assert_no_error (error);
  return answer;
}

void
planned_round_units (Fixture *f, int round, int part, int revision, int lot, int units)
{
  int row = fixture_plan (f, round, part, revision, lot, "");

  f->e->plans[row].units = units;
}
