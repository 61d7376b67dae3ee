/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a planned round can prove. Figures marked R were computed by R 4.2.2: pbinom(), lbeta() for the beta-binomial sum,
 * pt() with a noncentrality for conformance, and 400,000 draws of its own for the chance of a measured characteristic.
 */
#include "config.h"

#include "planned-round.h"

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
  int p2 = planned_round (f, "P2", 12);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) twelve = NULL;
  g_autoptr(InsightPlanAnswer) eleven = NULL;
  g_autoptr(InsightPlanAnswer) forty = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  plan = planned_round_plan (f, p2);
  g_assert_cmpuint (insight_plan_get_units (plan), ==, 12);
  g_assert_cmpuint (insight_plan_n_criteria (plan), ==, 1);
  g_assert_cmpuint (insight_plan_get_criterion (plan, 0)->n, ==, 10);
  g_assert_cmpint (insight_plan_get_criterion (plan, 0)->needed_clean, ==, 12); /* 22 in all for 0.90 and 0.90 */

  twelve = planned_round_prove (plan, 12);
  g_assert_true (twelve->proofs[0].proves);
  g_assert_cmpint (twelve->proofs[0].allowed, ==, 0);
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].confidence, 0.9015229, 1e-7);  /* R: 1 - 0.9^22 */
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].assurance, 0.6788092, 1e-7);   /* R: exp (lbeta (.5, 22.5) - lbeta (.5, 10.5)) */
  g_assert_cmpfloat_with_epsilon (twelve->proofs[0].bad_passes, 0.2824295, 1e-7);  /* R: 0.9^12 */
  g_assert_cmpfloat_with_epsilon (twelve->all_pass, twelve->proofs[0].assurance, 1e-12);

  eleven = planned_round_prove (plan, 11);
  g_assert_false (eleven->proofs[0].proves);
  g_assert_cmpfloat (eleven->proofs[0].assurance, ==, 0.0);
  g_assert_cmpuint (eleven->n_proves, ==, 0);

  forty = planned_round_prove (plan, 40);
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
  p2 = planned_round (f, "P2", 44);
  f->e->rounds[p2].kind = BOOK_ROUND_PILOT;
  fixture_plan (f, p2, part, b, -1, "");
  fixture_term (f, criterion, "2026-01-01", 0.9, 0.9);
  plan = planned_round_plan (f, p2);
  g_assert_cmpuint (insight_plan_get_criterion (plan, 0)->n, ==, 0); /* of another state of design */
  g_assert_cmpfloat_with_epsilon (insight_plan_get_criterion (plan, 0)->wanted, 1.0 - 0.1 / 6.0, 1e-12);
  /* evidence rules: 44 units without a failure on attempt 2 of a strict criterion at 0.10 and 0.90 */
  g_assert_cmpint (insight_plan_get_criterion (plan, 0)->needed_clean, ==, 44);
  answer = planned_round_prove (plan, 44);
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
  int p1 = planned_round (f, "P1", 10);
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
  plan = planned_round_plan (f, p1);
  ten = planned_round_prove (plan, 10);
  g_assert_cmpuint (ten->proofs[0].counted, ==, 7); /* without 01, 02, 09 */
  g_assert_cmpuint (ten->proofs[0].taken, ==, 3);
  g_assert_cmpuint (ten->proofs[1].counted, ==, 2); /* its own test may destroy them */
  g_assert_cmpuint (ten->proofs[2].counted, ==, 2); /* 03, and 09, which is lent for this */
  g_assert_cmpuint (ten->proofs[2].taken, ==, 1);
  three = planned_round_prove (plan, 3); /* 09 is not built then */
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
  int p1 = planned_round (f, "P1", 10);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;

  f->e->characteristics[un].destructive = TRUE;
  fixture_criterion (f, "U", BOOK_CRITERION_CHECKED, un);
  fixture_planned_for (f, p1, "P1-04", ls, TRUE, FALSE);
  fixture_planned_for (f, p1, "P1-04", cy, FALSE, TRUE);
  plan = planned_round_plan (f, p1);
  g_assert_cmpstr (insight_plan_get_twice (plan)[0], ==, "P1-04");
  g_assert_null (insight_plan_get_twice (plan)[1]);
  answer = planned_round_prove (plan, 10);
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
  int p3 = planned_round (f, "P3", 10);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) ten = NULL;
  g_autoptr(InsightPlanAnswer) twenty = NULL;

  fixture_plan (f, p3, part, b, -1, "P3-01");
  fixture_plan (f, p3, part, c, -1, "P3-06");
  fixture_depends (f, le, other, -1);
  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  fixture_criterion (f, "LE", BOOK_CRITERION_CHECKED, le);
  plan = planned_round_plan (f, p3);
  ten = planned_round_prove (plan, 10);
  g_assert_cmpuint (ten->proofs[0].counted + ten->proofs[1].counted, ==, 15); /* five of the one, all of the other */
  twenty = planned_round_prove (plan, 20);
  g_assert_cmpuint (twenty->proofs[0].counted + twenty->proofs[1].counted, ==, 35);
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
  int p3 = planned_round (f, "P3", 12), next;
  g_autoptr(InsightPlan) beside = NULL, apart = NULL, named = NULL, rest = NULL;
  g_autoptr(InsightPlanAnswer) nine = NULL, twelve = NULL, eight = NULL, serials = NULL, two = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  planned_round_units (f, p3, part, b, -1, 5);
  planned_round_units (f, p3, part, c, one, 3);
  planned_round_units (f, p3, part, c, other, 4);
  beside = planned_round_plan (f, p3);
  twelve = planned_round_prove (beside, 12);
  g_assert_cmpuint (twelve->proofs[0].counted, ==, 7);
  nine = planned_round_prove (beside, 9);
  g_assert_cmpuint (nine->proofs[0].counted, ==, 4);

  next = planned_round (f, "P4", 12);
  planned_round_units (f, next, part, c, one, 3);
  planned_round_units (f, next, part, b, -1, 4);
  planned_round_units (f, next, part, c, other, 5);
  apart = planned_round_plan (f, next);
  eight = planned_round_prove (apart, 8);
  g_assert_cmpuint (eight->proofs[0].counted, ==, 4); /* three, and one behind the four old ones */

  next = planned_round (f, "P5", 12);
  fixture_plan (f, next, part, c, one, "P5-01");
  fixture_plan (f, next, part, b, -1, "P5-04");
  fixture_plan (f, next, part, c, other, "P5-08");
  named = planned_round_plan (f, next);
  serials = planned_round_prove (named, 12);
  g_assert_cmpuint (serials->proofs[0].counted, ==, 8); /* 01 to 03, and 08 to 12 */

  next = planned_round (f, "P6", 12);
  fixture_plan (f, next, part, c, one, "");
  fixture_plan (f, next, part, b, -1, "P6-01");
  fixture_plan (f, next, part, c, other, "P6-11");
  rest = planned_round_plan (f, next);
  two = planned_round_prove (rest, 12);
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
  p2 = planned_round (f, "P2", 8);
  criterion = fixture_criterion (f, "LE", BOOK_CRITERION_MEASURED, le);
  fixture_term (f, criterion, "2026-01-01", 0.95, 0.9);
  plan = planned_round_plan (f, p2);
  told = insight_plan_get_criterion (plan, 0);
  g_assert_cmpuint (told->n, ==, 8);
  g_assert_false (told->by_count);
  eight = planned_round_prove (plan, 8);
  none = planned_round_prove (plan, 0);
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
  int p2 = planned_round (f, "P2", 12), change = fixture_change (f, "2026-06-01");
  g_autoptr(InsightPlan) plan = NULL;
  const InsightPlanOffer *offer;

  fixture_plan (f, 0, part, b, -1, "");
  fixture_plan (f, p2, part, c, -1, "");
  fixture_change_item (f, change, part, b, c);
  f->e->changes[change].from_round = p2;
  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  plan = planned_round_plan (f, p2);
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
  int p2 = planned_round (f, "P2", 0);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;
  g_autoptr(GCancellable) cancelled = g_cancellable_new ();
  g_autoptr(GError) error = NULL;
  int needed;

  fixture_term (f, fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv), "2026-01-01", 0.96, 0.9);
  plan = planned_round_plan (f, p2);
  needed = insight_plan_get_criterion (plan, 0)->needed;
  /* R: smallest n with sum (dbetabinom (0:a)) >= 0.8, a the most failures of 80 + n that 1 - pbinom (1 + a, 80 + n, .04) >= .9 allows */
  g_assert_cmpint (needed, ==, 212);
  answer = planned_round_prove (plan, (guint) needed);
  g_assert_cmpfloat (answer->proofs[0].assurance, >=, INSIGHT_PLAN_ASSURANCE);
  g_assert_true (answer->proofs[0].proves);
  g_cancellable_cancel (cancelled);
  g_assert_null (insight_plan_prove (plan, 10, cancelled, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

/* Without lots in the book nothing is said of them. */
static void
test_no_lots (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lv = checked_before (f, BOOK_CLASS_APPEARANCE, 10, 0);
  int p2 = planned_round (f, "P2", 12);
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;

  fixture_criterion (f, "LV", BOOK_CRITERION_CHECKED, lv);
  f->e->criteria[0].strict = TRUE;
  plan = planned_round_plan (f, p2);
  answer = planned_round_prove (plan, 12);
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
  g_test_add_func ("/insight/plan/without-lots-nothing-is-said-of-them", test_no_lots);
  return g_test_run ();
}
