/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a planned round can prove. Figures marked R were computed by R 4.2.2: pbinom(), lbeta() for the beta-binomial sum,
 * pt() with a noncentrality for conformance, and 400,000 draws of its own for the chance of a measured characteristic.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-plan.h"
#include "num-lots.h"

#define TODAY "2027-01-01"

/* A round that is planned and not opened. */
static int
planned (Fixture *f, const char *label, int units)
{
  int round = fixture_round (f, label, BOOK_ROUND_PROTOTYPE, "2026-12-01", FALSE);
  BookEvidenceRound *row = &f->e->rounds[round];

  row->opened = row->design_fixed = row->parts_ready = row->built = row->tested = row->decided = 0;
  row->planned_units = units;
  return round;
}

static InsightPlan *
plan_of (Fixture *f, int round)
{
  g_autoptr(GError) error = NULL;
  InsightPlan *plan;

  fixture_finish (f);
  plan = insight_plan_new (f->e, f->e->rounds[round].id, TODAY, NULL, &error);
  g_assert_no_error (error);
  return plan;
}

static InsightPlanAnswer *
prove (InsightPlan *plan, guint units)
{
  g_autoptr(GError) error = NULL;
  InsightPlanAnswer *answer = insight_plan_prove (plan, units, NULL, &error);

  g_assert_no_error (error);
  return answer;
}

/* @n units checked without a failure in a round that is over. */
static int
checked_before (Fixture *f, BookClass klass, guint n, guint failed)
{
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-01", TRUE);
  int lv = fixture_checked (f, "LV", klass);
  int first = fixture_units (f, round, n);

  for (guint i = 0; i < n; i++)
    fixture_check (f, first + (int) i, lv, i >= failed);
  return lv;
}

static void
test_units_without_failure (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = checked_before (f, BOOK_CLASS_APPEARANCE, 10, 0);
  int p2 = planned (f, "P2", 12);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) twelve = NULL;
  g_autoptr(InsightPlanAnswer) eleven = NULL;
  g_autoptr(InsightPlanAnswer) forty = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  plan = plan_of (f, p2);
  g_assert_cmpuint (insight_plan_get_units (plan), ==, 12);
  g_assert_cmpuint (insight_plan_n_criteria (plan), ==, 1);
  g_assert_cmpuint (insight_plan_get_criterion (plan, 0)->n, ==, 10);
  g_assert_cmpint (insight_plan_get_criterion (plan, 0)->needed_clean, ==, 12); /* 22 in all for 0.90 and 0.90 */

  twelve = prove (plan, 12);
  g_assert_true (twelve->proofs[0].proves);
  g_assert_cmpint (twelve->proofs[0].allowed, ==, 0);
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].confidence, 0.9015229, 1e-7);  /* R: 1 - 0.9^22 */
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].assurance, 0.6788092, 1e-7);   /* R: exp (lbeta (.5, 22.5) - lbeta (.5, 10.5)) */
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].bad_passes, 0.2824295, 1e-7);  /* R: 0.9^12 */
  g_assert_cmpfloat_with_epsilon (twelve->all_pass, twelve->proofs[0].assurance, 1e-12);

  eleven = prove (plan, 11);
  g_assert_false (eleven->proofs[0].proves);
  g_assert_cmpfloat (eleven->proofs[0].assurance, ==, 0.0);
  g_assert_cmpuint (eleven->n_proves, ==, 0);

  forty = prove (plan, 40);
  g_assert_cmpint (forty->proofs[0].allowed, ==, 1); /* R: 1 - pbinom (1:2, 50, .1) is 0.966 and 0.888 */
  g_assert_cmpfloat_with_epsilon (forty->proofs[0].assurance, 0.6342132502, 1e-9);
  g_assert_cmpfloat_with_epsilon (forty->proofs[0].bad_passes, 0.0804737, 1e-7);
}

static void
test_strict_costs_attempts (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PILOT, "2026-02-01", TRUE);
  int part = fixture_part (f, "HF-10");
  int a = fixture_revision (f, part, "A", "2026-01-01"), b = fixture_revision (f, part, "B", "2026-06-01");
  int lv = fixture_checked (f, "LV", BOOK_CLASS_SAFETY);
  int criterion = fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  int first = fixture_units (f, round, 5), p2;
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;

  fixture_plan (f, round, part, a, -1, "");
  for (int i = 0; i < 5; i++)
    fixture_check (f, first + i, lv, i > 0); /* one fails */
  p2 = planned (f, "P2", 44);
  f->e->rounds[p2].kind = BOOK_ROUND_PILOT;
  fixture_plan (f, p2, part, b, -1, "");
  fixture_term (f, criterion, "2026-01-01", 0.9, 0.9);
  plan = plan_of (f, p2);
  g_assert_cmpuint (insight_plan_get_criterion (plan, 0)->n, ==, 0); /* of another state of design */
  g_assert_cmpfloat_with_epsilon (insight_plan_get_criterion (plan, 0)->wanted, 1.0 - 0.1 / 6.0, 1e-12);
  /* evidence rules: 44 units without a failure on attempt 2 of a strict criterion at 0.10 and 0.90 */
  g_assert_cmpint (insight_plan_get_criterion (plan, 0)->needed_clean, ==, 44);
  answer = prove (plan, 44);
  g_assert_true (answer->proofs[0].proves);
  g_assert_true (isnan (answer->proofs[0].assurance)); /* nothing is known of the new state */
  g_assert_cmpuint (answer->n_known, ==, 0);
  g_assert_true (isnan (answer->all_pass));
}

static void
test_destroyed_and_lent_units_do_not_count (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = fixture_checked (f, "LV", BOOK_CLASS_APPEARANCE);
  int ls = fixture_checked (f, "LS", BOOK_CLASS_APPEARANCE);
  int cy = fixture_checked (f, "CY", BOOK_CLASS_APPEARANCE);
  int p1 = planned (f, "P1", 10);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) ten = NULL;
  g_autoptr(InsightPlanAnswer) three = NULL;

  f->e->characteristics[ls].destructive = TRUE;
  fixture_criterion (f, "A", BOOK_CRITERION_CHECKED, lv);
  fixture_criterion (f, "B", BOOK_CRITERION_CHECKED, ls);
  fixture_criterion (f, "C", BOOK_CRITERION_CHECKED, cy);
  fixture_planned_for (f, p1, "P1-01", ls, TRUE, FALSE);
  fixture_planned_for (f, p1, "P1-02", ls, TRUE, FALSE);
  fixture_planned_for (f, p1, "P1-09", cy, FALSE, TRUE);
  fixture_planned_for (f, p1, "P1-02", cy, FALSE, FALSE); /* destroyed by the other test */
  fixture_planned_for (f, p1, "P1-03", cy, FALSE, FALSE);
  plan = plan_of (f, p1);
  ten = prove (plan, 10);
  g_assert_cmpuint (ten->proofs[0].counted, ==, 7); /* without 01, 02, 09 */
  g_assert_cmpuint (ten->proofs[0].taken, ==, 3);
  g_assert_cmpuint (ten->proofs[1].counted, ==, 2); /* its own test may destroy them */
  g_assert_cmpuint (ten->proofs[2].counted, ==, 2); /* 03, and 09, which is lent for this */
  g_assert_cmpuint (ten->proofs[2].taken, ==, 1);
  three = prove (plan, 3); /* 09 is not built then */
  g_assert_cmpuint (three->proofs[0].counted, ==, 1);
  g_assert_cmpuint (three->proofs[2].counted, ==, 1);
  g_assert_null (insight_plan_get_twice (plan)[0]);
}

static void
test_a_unit_used_up_twice_is_named (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int ls = fixture_checked (f, "LS", BOOK_CLASS_APPEARANCE);
  int cy = fixture_checked (f, "CY", BOOK_CLASS_APPEARANCE);
  int un = fixture_checked (f, "UN", BOOK_CLASS_APPEARANCE);
  int p1 = planned (f, "P1", 10);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;

  f->e->characteristics[un].destructive = TRUE;
  fixture_criterion (f, "U", BOOK_CRITERION_CHECKED, un);
  fixture_planned_for (f, p1, "P1-04", ls, TRUE, FALSE);
  fixture_planned_for (f, p1, "P1-04", cy, FALSE, TRUE);
  plan = plan_of (f, p1);
  g_assert_cmpstr (insight_plan_get_twice (plan)[0], ==, "P1-04");
  g_assert_null (insight_plan_get_twice (plan)[1]);
  answer = prove (plan, 10);
  g_assert_true (insight_plan_get_criterion (plan, 0)->needs_choice); /* destroys, and nobody said which */
  g_assert_cmpuint (answer->proofs[0].counted, ==, 0);
}

static void
test_of_a_split_round_the_new_half_counts (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int part = fixture_part (f, "HF-30"), other = fixture_part (f, "HF-40");
  int b = fixture_revision (f, part, "B", "2026-01-01"), c = fixture_revision (f, part, "C", "2026-06-01");
  int lv = fixture_checked (f, "LV", BOOK_CLASS_APPEARANCE), le = fixture_checked (f, "LE", BOOK_CLASS_APPEARANCE);
  int p3 = planned (f, "P3", 10);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) ten = NULL;
  g_autoptr(InsightPlanAnswer) twenty = NULL;

  fixture_plan (f, p3, part, b, -1, "P3-01");
  fixture_plan (f, p3, part, c, -1, "P3-06");
  fixture_depends (f, le, other, -1);
  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  fixture_criterion (f, "LE", BOOK_CRITERION_CHECKED, le);
  plan = plan_of (f, p3);
  ten = prove (plan, 10);
  g_assert_cmpuint (ten->proofs[0].counted + ten->proofs[1].counted, ==, 15); /* five of the one, all of the other */
  twenty = prove (plan, 20);
  g_assert_cmpuint (twenty->proofs[0].counted + twenty->proofs[1].counted, ==, 35);
}

/* A row of the plan for so many units, whoever they are. */
static void
plan_units (Fixture *f, int round, int part, int revision, int lot, int units)
{
  int row = fixture_plan (f, round, part, revision, lot, "");

  f->e->plans[row].units = units;
}

/* The new revision comes in two lots, so in two rows; once beside each other and once with the old one between. */
static void
test_of_a_split_round_every_row_counts (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int part = fixture_part (f, "HF-30");
  int b = fixture_revision (f, part, "B", "2026-01-01"), c = fixture_revision (f, part, "C", "2026-06-01");
  int one = fixture_lot (f, part, "L1"), other = fixture_lot (f, part, "L2");
  int lv = fixture_checked (f, "LV", BOOK_CLASS_APPEARANCE);
  int p3 = planned (f, "P3", 12), next;
  g_autoptr(InsightPlan) beside = NULL, apart = NULL, named = NULL, rest = NULL;
  g_autoptr(InsightPlanAnswer) nine = NULL, twelve = NULL, eight = NULL, serials = NULL, two = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  plan_units (f, p3, part, b, -1, 5);
  plan_units (f, p3, part, c, one, 3);
  plan_units (f, p3, part, c, other, 4);
  beside = plan_of (f, p3);
  twelve = prove (beside, 12);
  g_assert_cmpuint (twelve->proofs[0].counted, ==, 7);
  nine = prove (beside, 9);
  g_assert_cmpuint (nine->proofs[0].counted, ==, 4);

  next = planned (f, "P4", 12);
  plan_units (f, next, part, c, one, 3);
  plan_units (f, next, part, b, -1, 4);
  plan_units (f, next, part, c, other, 5);
  apart = plan_of (f, next);
  eight = prove (apart, 8);
  g_assert_cmpuint (eight->proofs[0].counted, ==, 4); /* three, and one behind the four old ones */

  next = planned (f, "P5", 12);
  fixture_plan (f, next, part, c, one, "P5-01");
  fixture_plan (f, next, part, b, -1, "P5-04");
  fixture_plan (f, next, part, c, other, "P5-08");
  named = plan_of (f, next);
  serials = prove (named, 12);
  g_assert_cmpuint (serials->proofs[0].counted, ==, 8); /* 01 to 03, and 08 to 12 */

  next = planned (f, "P6", 12);
  fixture_plan (f, next, part, c, one, "");
  fixture_plan (f, next, part, b, -1, "P6-01");
  fixture_plan (f, next, part, c, other, "P6-11");
  rest = plan_of (f, next);
  two = prove (rest, 12);
  g_assert_cmpuint (two->proofs[0].counted, ==, 2); /* 11 and 12: before the first serial there is none */
}

static void
test_measured_values (void)
{
  /* mean 10 and deviation 1 exactly: 10 + c*(-7, -5, ..., 7), c = sqrt (7 / 168) */
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-01", TRUE);
  int part = fixture_part (f, "HF-10");
  int a = fixture_revision (f, part, "A", "2026-01-01");
  int le = fixture_measured (f, "LE", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int first = fixture_units (f, round, 8), p2, criterion;
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) eight = NULL;
  g_autoptr(InsightPlanAnswer) none = NULL;
  const InsightPlanCriterion *told;

  fixture_plan (f, round, part, a, -1, "");
  fixture_limit (f, le, "2026-01-01", 7.0, INFINITY);
  for (int i = 0; i < 8; i++)
    fixture_value (f, first + i, le, 10.0 + sqrt (7.0 / 168.0) * (2.0 * i - 7.0));
  p2 = planned (f, "P2", 8);
  criterion = fixture_criterion (f, "LE", BOOK_CRITERION_MEASURED, le);
  fixture_term (f, criterion, "2026-01-01", 0.95, 0.9);
  plan = plan_of (f, p2);
  told = insight_plan_get_criterion (plan, 0);
  g_assert_cmpuint (told->n, ==, 8);
  g_assert_false (told->by_count);
  eight = prove (plan, 8);
  none = prove (plan, 0);
  if (!told->logs) /* where the normal answer is the lesser one */
    {
      g_assert_cmpfloat_with_epsilon (told->mean, 10.0, 1e-9);
      g_assert_cmpfloat_with_epsilon (told->sd, 1.0, 1e-9);
      g_assert_cmpfloat_with_epsilon (none->proofs[0].confidence, 0.932717969, 1e-6); /* R: pt (3 * sqrt (8), 7, ...) */
      g_assert_cmpfloat_with_epsilon (eight->proofs[0].confidence, 0.989067487, 1e-6);
      g_assert_cmpfloat_with_epsilon (eight->proofs[0].assurance, 0.840, 0.02); /* R: draws; 4000 here, 3.5 standard errors */
      g_assert_cmpfloat_with_epsilon (eight->proofs[0].bad_passes, 0.188, 0.022);
      g_assert_cmpfloat_with_epsilon (eight->proofs[0].distance, 2.2989955, 1e-4); /* R: uniroot */
    }
  g_assert_true (eight->proofs[0].proves);
  g_assert_cmpint (told->needed_clean, ==, 0);
  g_assert_false (told->logs);
}

static void
test_offers_measuring_and_splitting (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = checked_before (f, BOOK_CLASS_FUNCTION, 10, 0);
  int part = fixture_part (f, "HF-30");
  int b = fixture_revision (f, part, "B", "2026-01-01"), c = fixture_revision (f, part, "C", "2026-06-01");
  int p2 = planned (f, "P2", 12), change = fixture_change (f, "2026-06-01");
  g_autoptr(InsightPlan) plan = NULL;
  const InsightPlanOffer *offer;

  fixture_plan (f, 0, part, b, -1, "");
  fixture_plan (f, p2, part, c, -1, "");
  fixture_change_item (f, change, part, b, c);
  f->e->changes[change].from_round = p2;
  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  plan = plan_of (f, p2);
  g_assert_cmpuint (insight_plan_get_offers (plan)->len, ==, 2);
  offer = insight_plan_get_offers (plan)->pdata[0];
  g_assert_cmpint (offer->code, ==, INSIGHT_PLAN_MEASURE_INSTEAD);
  g_assert_cmpuint (offer->units, ==, 45); /* 0.95 and 0.90 without a failure */
  offer = insight_plan_get_offers (plan)->pdata[1];
  g_assert_cmpint (offer->code, ==, INSIGHT_PLAN_SPLIT);
  g_assert_cmpstr (offer->old_label, ==, "B");
  g_assert_cmpstr (offer->new_label, ==, "C");
}

static void
test_eighty_percent (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = checked_before (f, BOOK_CLASS_APPEARANCE, 80, 1);
  int p2 = planned (f, "P2", 0);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;
  g_autoptr(GCancellable) cancelled = g_cancellable_new ();
  g_autoptr(GError) error = NULL;
  int needed;

  fixture_term (f, fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv), "2026-01-01", 0.96, 0.9);
  plan = plan_of (f, p2);
  needed = insight_plan_get_criterion (plan, 0)->needed;
  /* R: smallest n with sum (dbetabinom (0:a)) >= 0.8, a the most failures of 80 + n that 1 - pbinom (1 + a, 80 + n, .04) >= .9 allows */
  g_assert_cmpint (needed, ==, 212);
  answer = prove (plan, (guint) needed);
  g_assert_cmpfloat (answer->proofs[0].assurance, >=, INSIGHT_PLAN_ASSURANCE);
  g_assert_true (answer->proofs[0].proves);
  g_cancellable_cancel (cancelled);
  g_assert_null (insight_plan_prove (plan, 10, cancelled, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

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
  d->next = planned (d->f, "P2", 10);
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
  plan = plan_of (d.f, d.next);
  few = prove (plan, 10);
  many = prove (plan, 500);
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
  plan = plan_of (d.f, d.next);
  ten = prove (plan, 10);
  five = prove (plan, 5);
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
    plan_units (d.f, d.next, d.part, d.revision, d.lots[i], numbers[i]);
  plan = plan_of (d.f, d.next);
  for (guint units = 1; units <= 10; units++)
    {
      g_autoptr(InsightPlanAnswer) answer = prove (plan, units);
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
  plan = plan_of (d.f, d.next);
  answer = prove (plan, 10);
  g_assert_cmpuint (answer->proofs[0].lots, ==, 2);
  g_assert_true (answer->proofs[0].lots_assumed);
  g_assert_true (answer->proofs[0].lots_short);
  g_assert_false (answer->proofs[0].proves);
  fixture_free (d.f);

  deliveries_init (&loose, 1, FALSE);
  plain = plan_of (loose.f, loose.next);
  other = prove (plain, 10);
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
  m->next = planned (m->f, "P2", 2 * FURTHER);
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
  plan = plan_of (m.f, m.next);
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      g_autoptr(InsightPlanAnswer) answer = prove (plan, asked[i].units);
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
  plan = plan_of (m.f, m.next);
  answer = prove (plan, 2 * FURTHER);
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

/* Without lots in the book nothing is said of them. */
static void
test_no_lots (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = checked_before (f, BOOK_CLASS_APPEARANCE, 10, 0);
  int p2 = planned (f, "P2", 12);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  f->e->criteria[0].strict = TRUE;
  plan = plan_of (f, p2);
  answer = prove (plan, 12);
  g_assert_cmpuint (answer->proofs[0].lots, ==, 0);
  g_assert_false (answer->proofs[0].lots_short);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/plan/units-without-failure", test_units_without_failure);
  g_test_add_func ("/insight/plan/strict-costs-attempts", test_strict_costs_attempts);
  g_test_add_func ("/insight/plan/destroyed-and-lent-units-do-not-count", test_destroyed_and_lent_units_do_not_count);
  g_test_add_func ("/insight/plan/a-unit-used-up-twice-is-named", test_a_unit_used_up_twice_is_named);
  g_test_add_func ("/insight/plan/of-a-split-round-the-new-half-counts", test_of_a_split_round_the_new_half_counts);
  g_test_add_func ("/insight/plan/of-a-split-round-every-row-of-the-new-state-counts", test_of_a_split_round_every_row_counts);
  g_test_add_func ("/insight/plan/measured-values", test_measured_values);
  g_test_add_func ("/insight/plan/offers-measuring-and-splitting", test_offers_measuring_and_splitting);
  g_test_add_func ("/insight/plan/eighty-percent", test_eighty_percent);
  g_test_add_func ("/insight/plan/two-lots-are-too-few-for-a-strict-criterion", test_two_lots);
  g_test_add_func ("/insight/plan/a-third-lot-counts-as-far-as-units-get-it", test_three_lots);
  g_test_add_func ("/insight/plan/lots-planned-by-number-are-used-one-after-the-other", test_lots_by_number);
  g_test_add_func ("/insight/plan/without-a-planned-lot-one-is-assumed", test_no_lot_planned);
  g_test_add_func ("/insight/plan/values-of-three-lots-are-judged-by-lot", test_values_by_lot);
  g_test_add_func ("/insight/plan/by-lot-it-says-what-the-standing-says-when-built", test_built_by_lot);
  g_test_add_func ("/insight/plan/without-lots-nothing-is-said-of-them", test_no_lots);
  return g_test_run ();
}
