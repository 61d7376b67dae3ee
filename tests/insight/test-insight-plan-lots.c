/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a planned round can prove where units come in lots. Figures marked R were computed by R 4.2.2: pbinom(), lbeta() for
 * the beta-binomial sum, pt() with a noncentrality for conformance.
 */
#include "config.h"

#include "planned-round.h"

#include "num-lots.h"

/* A strict criterion of which ten units are built of one lot; @planned_lots more of them go into the next ten, five each. */
typedef struct
{
  Fixture *f;
  int      part;
  int      revision;
  int      lots[4];
  int      lv;
  int      next;
} Deliveries;

static void
deliveries_init (Deliveries *d, guint planned_lots, gboolean strict)
{
  int round, first;

  *d = (Deliveries){ .f = fixture_new () };
  round = fixture_round (d->f, "P1", BOOK_ROUND_PILOT, "2026-02-01", TRUE);
  d->part = fixture_part (d->f, "HF-30");
  d->revision = fixture_revision (d->f, d->part, "A", "2026-01-01");
  for (int i = 0; i < 4; i++)
    d->lots[i] = fixture_lot (d->f, d->part, (const char *const[]){ "L1", "L2", "L3", "L4" }[i]);
  d->lv = fixture_checked (d->f, "LV", BOOK_CLASS_FUNCTION);
  fixture_depends (d->f, d->lv, d->part, -1);
  fixture_plan (d->f, round, d->part, d->revision, d->lots[0], "");
  first = fixture_units (d->f, round, 10);
  for (int i = 0; i < 10; i++)
    fixture_check (d->f, first + i, d->lv, TRUE);
  fixture_term (d->f, fixture_criterion (d->f, "LV", BOOK_CRITERION_CHECKED, d->lv), "2026-01-01", 0.8, 0.9);
  d->f->e->criteria[0].strict = strict;
  d->next = planned_round (d->f, "P2", 10);
  d->f->e->rounds[d->next].kind = BOOK_ROUND_PILOT;
  for (guint i = 0; i < planned_lots; i++)
    fixture_plan (d->f, d->next, d->part, d->revision, d->lots[1 + i], i == 0 ? "P2-001" : "P2-006");
}

/* The units are built as planned and pass. */
static const InsightCriterion *
build (Deliveries *d, InsightStanding **standing)
{
  BookEvidenceRound *row = &d->f->e->rounds[d->next];
  int first;

  row->opened = row->design_fixed = row->parts_ready = book_day_parse ("2026-06-01", NULL);
  row->built = row->tested = row->decided = book_day_parse ("2026-06-10", NULL);
  first = fixture_units (d->f, d->next, 10);
  for (int i = 0; i < 10; i++)
    fixture_check (d->f, first + i, d->lv, TRUE);
  *standing = fixture_standing (d->f, NULL);
  return fixture_criterion_in (*standing, "LV");
}

/* With one planned lot beside the one that was seen a strict criterion cannot be met, however many units are built of it. */
static void
test_two_lots (void)
{
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) few = NULL, many = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  Deliveries d;

  deliveries_init (&d, 1, TRUE);
  plan = planned_round_plan (d.f, d.next);
  few = planned_round_prove (plan, 10);
  many = planned_round_prove (plan, 500);
  g_assert_cmpuint (few->proofs[0].lots, ==, 2);
  g_assert_cmpstr (few->proofs[0].lots_of, ==, d.f->e->parts[d.part].name);
  g_assert_false (few->proofs[0].lots_assumed);
  g_assert_true (few->proofs[0].lots_short);
  g_assert_cmpfloat (few->proofs[0].confidence, >, 0.9); /* by their number they would do */
  g_assert_false (few->proofs[0].proves);
  g_assert_cmpfloat (few->proofs[0].assurance, ==, 0.0);
  g_assert_false (many->proofs[0].proves);
  g_assert_cmpuint (few->n_proves, ==, 0);
  /* and so it is when they are built */
  assert_said (build (&d, &standing), INSIGHT_REASON_LOTS_THIRD);
  g_assert_cmpint (fixture_criterion_in (standing, "LV")->state, !=, INSIGHT_MET);
  fixture_free (d.f);
}

/* A third lot lets it be met; only as far as units that are built get it. */
static void
test_three_lots (void)
{
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) ten = NULL, five = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  Deliveries d;

  deliveries_init (&d, 2, TRUE);
  plan = planned_round_plan (d.f, d.next);
  ten = planned_round_prove (plan, 10);
  five = planned_round_prove (plan, 5);
  g_assert_cmpuint (ten->proofs[0].lots, ==, 3);
  g_assert_false (ten->proofs[0].lots_few);
  g_assert_true (ten->proofs[0].proves);
  g_assert_cmpfloat (ten->proofs[0].assurance, >, 0.0);
  g_assert_cmpuint (five->proofs[0].lots, ==, 2); /* all five get the first of both */
  g_assert_false (five->proofs[0].proves);
  assert_not_said (build (&d, &standing), INSIGHT_REASON_LOTS_THIRD);
  assert_state (fixture_criterion_in (standing, "LV"), INSIGHT_MET);
  fixture_free (d.f);
}

/* Rows that say a number of units and no serial take their units one after the other, a lot that was seen before among them. */
static void
test_lots_by_number (void)
{
  static const int numbers[] = { 2, 5, 3 }; /* of a lot that was seen, and of two new ones */
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  Deliveries d;

  deliveries_init (&d, 0, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    planned_round_units (d.f, d.next, d.part, d.revision, d.lots[i], numbers[i]);
  plan = planned_round_plan (d.f, d.next);
  for (guint units = 1; units <= 10; units++)
    {
      g_autoptr(InsightPlanAnswer) answer = planned_round_prove (plan, units);
      const InsightPlanProof *proof = &answer->proofs[0];

      g_assert_cmpuint (proof->counted, ==, units);
      g_assert_false (proof->lots_assumed);
      g_assert_cmpuint (proof->lots, ==, units <= 2 ? 1 : units <= 7 ? 2 : 3);
      g_assert_true (proof->lots_short == (units <= 7));
    }
  /* Which unit got which lot is written down when they are built. */
  for (int i = 0; i < 10; i++)
    fixture_unit_part (d.f, (int) d.f->e->n_units + i, d.part, d.revision, d.lots[i < 2 ? 0 : i < 7 ? 1 : 2]);
  assert_not_said (build (&d, &standing), INSIGHT_REASON_LOTS_THIRD);
  assert_state (fixture_criterion_in (standing, "LV"), INSIGHT_MET);
  g_assert_cmpuint (fixture_criterion_in (standing, "LV")->lots, ==, 3);
  fixture_free (d.f);
}

/* Where no lot is planned one is assumed, and it is said; a criterion that is not strict only says it. */
static void
test_no_lot_planned (void)
{
  g_autoptr(InsightPlan) plan = NULL, plain = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL, other = NULL;
  Deliveries d, loose;

  deliveries_init (&d, 0, TRUE);
  plan = planned_round_plan (d.f, d.next);
  answer = planned_round_prove (plan, 10);
  g_assert_cmpuint (answer->proofs[0].lots, ==, 2);
  g_assert_true (answer->proofs[0].lots_assumed);
  g_assert_true (answer->proofs[0].lots_short);
  g_assert_false (answer->proofs[0].proves);
  fixture_free (d.f);

  deliveries_init (&loose, 1, FALSE);
  plain = planned_round_plan (loose.f, loose.next);
  other = planned_round_prove (plain, 10);
  g_assert_true (other->proofs[0].lots_few);
  g_assert_false (other->proofs[0].lots_short);
  g_assert_true (other->proofs[0].proves);
  fixture_free (loose.f);
}

/* ---- values by lot ---- */

#define LOT_UNITS 4
#define FURTHER   5 /* units of each planned row */

static const double by_lot[3][LOT_UNITS] = { { 9.4, 9.6, 9.5, 9.7 }, { 10.6, 10.4, 10.3, 10.5 }, { 10.0, 9.9, 10.2, 10.1 } };

/* Twelve units of three lots, and a round of ten with five of the first lot again and five of a fourth. */
typedef struct
{
  Fixture *f;
  int      le;
  int      next;
} Measured;

static void
measured_init (Measured *m, double lower)
{
  int round, part, revision, lots[4];

  m->f = fixture_new ();
  round = fixture_round (m->f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-01", TRUE);
  part = fixture_part (m->f, "HF-30");
  revision = fixture_revision (m->f, part, "A", "2026-01-01");
  for (int i = 0; i < 4; i++)
    lots[i] = fixture_lot (m->f, part, (const char *const[]){ "L1", "L2", "L3", "L4" }[i]);
  m->le = fixture_measured (m->f, "LE", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_depends (m->f, m->le, part, -1);
  fixture_limit (m->f, m->le, "2026-01-01", lower, INFINITY);
  fixture_plan (m->f, round, part, revision, lots[0], "P1-001");
  fixture_plan (m->f, round, part, revision, lots[1], "P1-005");
  fixture_plan (m->f, round, part, revision, lots[2], "P1-009");
  for (int i = 0, first = fixture_units (m->f, round, 3 * LOT_UNITS); i < 3 * LOT_UNITS; i++)
    fixture_value (m->f, first + i, m->le, by_lot[i / LOT_UNITS][i % LOT_UNITS]);
  fixture_term (m->f, fixture_criterion (m->f, "LE", BOOK_CRITERION_MEASURED, m->le), "2026-01-01", 0.9, 0.9);
  m->next = planned_round (m->f, "P2", 2 * FURTHER);
  fixture_plan (m->f, m->next, part, revision, lots[0], "P2-001");
  fixture_plan (m->f, m->next, part, revision, lots[3], "P2-006");
}

/* Five values of the mean and deviation of the twelve. */
static void
fill_further (double *values)
{
  NumMoments all;

  g_assert_cmpint (num_moments (by_lot[0], 3 * LOT_UNITS, &all), ==, NUM_OK);
  for (int i = 0; i < FURTHER; i++)
    values[i] = all.mean + all.sd * sqrt (0.4) * (i - 2); /* 0.4 * (4 + 1 + 0 + 1 + 4) is 5 - 1 */
}

/* Against the method asked by hand, on values of which the further ones are as said. */
static void
test_values_by_lot (void)
{
  double further[FURTHER], first[LOT_UNITS + FURTHER];
  const NumSample now[] = { { by_lot[0], LOT_UNITS }, { by_lot[1], LOT_UNITS }, { by_lot[2], LOT_UNITS } };
  const NumSample five[] = { { first, LOT_UNITS + FURTHER }, { by_lot[1], LOT_UNITS }, { by_lot[2], LOT_UNITS } };
  const NumSample ten[] = { { first, LOT_UNITS + FURTHER }, { by_lot[1], LOT_UNITS }, { by_lot[2], LOT_UNITS }, { further, FURTHER } };
  const struct
  {
    guint            units;
    const NumSample *lots;
    guint            n;
  } asked[] = { { 0, now, 3 }, { FURTHER, five, 3 }, { 2 * FURTHER, ten, 4 } };
  g_autoptr(InsightPlan) plan = NULL;
  Measured m;

  measured_init (&m, 8.0);
  fill_further (further);
  memcpy (first, by_lot[0], sizeof by_lot[0]);
  memcpy (first + LOT_UNITS, further, sizeof further);
  plan = planned_round_plan (m.f, m.next);
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      g_autoptr(InsightPlanAnswer) answer = planned_round_prove (plan, asked[i].units);
      const InsightPlanProof *proof = &answer->proofs[0];
      NumLots by_hand;

      g_assert_cmpint (num_lots (asked[i].lots, asked[i].n, (NumLimits){ 8.0, INFINITY }, 0.9, NUM_SHAPE_NORMAL, 0.0, &by_hand), ==, NUM_OK);
      g_assert_cmpfloat (by_hand.lots, <, by_hand.pooled); /* else this shows nothing */
      g_assert_cmpfloat_with_epsilon (proof->confidence, by_hand.lots, 1e-9);
      g_assert_cmpfloat (proof->pooled, >, proof->confidence);
      g_assert_cmpstr (proof->by_lots_of, ==, "HF-30");
      g_assert_true (answer->at_most);
      if (asked[i].units == 0)
        g_assert_cmpfloat_with_epsilon (insight_plan_get_criterion (plan, 0)->confidence, by_hand.lots, 1e-9);
    }
  fixture_free (m.f);
}

/* And against the standing, once the units are built as planned and come out as said. */
static void
test_built_by_lot (void)
{
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;
  g_autoptr(InsightStanding) before = NULL, after = NULL;
  BookEvidenceRound *row;
  double further[FURTHER];
  Measured m;
  int first;

  measured_init (&m, 9.2);
  plan = planned_round_plan (m.f, m.next);
  answer = planned_round_prove (plan, 2 * FURTHER);
  before = fixture_standing (m.f, "P1");
  g_assert_cmpfloat_with_epsilon (insight_plan_get_criterion (plan, 0)->confidence, fixture_criterion_in (before, "LE")->confidence, 1e-9);
  /* as one sample they would do, by lot they do not */
  g_assert_cmpfloat (answer->proofs[0].pooled, >, 0.9);
  g_assert_false (answer->proofs[0].proves);
  g_assert_cmpuint (answer->n_proves, ==, 0);

  row = &m.f->e->rounds[m.next];
  row->opened = row->design_fixed = row->parts_ready = book_day_parse ("2026-06-01", NULL);
  row->built = row->tested = row->decided = book_day_parse ("2026-06-10", NULL);
  fill_further (further);
  first = fixture_units (m.f, m.next, 2 * FURTHER);
  for (int i = 0; i < 2 * FURTHER; i++)
    fixture_value (m.f, first + i, m.le, further[i % FURTHER]);
  after = fixture_standing (m.f, NULL);
  assert_said (fixture_criterion_in (after, "LE"), INSIGHT_REASON_LOTS_DECIDED);
  g_assert_cmpfloat_with_epsilon (answer->proofs[0].confidence, fixture_criterion_in (after, "LE")->confidence, 1e-9);
  g_assert_cmpint (fixture_criterion_in (after, "LE")->state, !=, INSIGHT_MET);
  fixture_free (m.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/plan/two-lots-are-too-few-for-a-strict-criterion", test_two_lots);
  g_test_add_func ("/insight/plan/a-third-lot-counts-as-far-as-units-get-it", test_three_lots);
  g_test_add_func ("/insight/plan/lots-planned-by-number-are-used-one-after-the-other", test_lots_by_number);
  g_test_add_func ("/insight/plan/without-a-planned-lot-one-is-assumed", test_no_lot_planned);
  g_test_add_func ("/insight/plan/values-of-three-lots-are-judged-by-lot", test_values_by_lot);
  g_test_add_func ("/insight/plan/by-lot-it-says-what-the-standing-says-when-built", test_built_by_lot);
  return g_test_run ();
}
