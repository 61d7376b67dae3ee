/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What one more round takes and could prove: by hand, by a closed form, and as the planner says of a round in the book.
 */
#include "config.h"

#include <math.h>

#include "evidence-fixture.h"
#include "insight-another-round.h"

#define TODAY "2026-07-01"

/* Three finished rounds (costs a unit 30, 50 and 40), ten of the twelve units of the newest checked without a failure. */
static int
three_rounds (Fixture *f)
{
  static const struct
  {
    const char *opened;
    guint       units;
    double      cost;
  } rounds[] = { { "2026-01-05", 10, 300.0 }, { "2026-03-02", 20, 1000.0 }, { "2026-04-27", 12, 480.0 } };
  int lock = fixture_checked (f, "LH", BOOK_CLASS_FUNCTION);
  int first = 0;

  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, lock), "2026-01-01", 0.90, 0.90);
  for (guint i = 0; i < G_N_ELEMENTS (rounds); i++)
    {
      int round = fixture_round (f, i == 0 ? "P1" : i == 1 ? "P2" : "P3", BOOK_ROUND_PROTOTYPE, rounds[i].opened, TRUE);

      f->e->rounds[round].cost = rounds[i].cost;
      first = fixture_units (f, round, rounds[i].units);
    }
  for (int i = 0; i < 10; i++)
    fixture_check (f, first + i, lock, TRUE);
  return lock;
}

static InsightAnotherRound *
ask (Fixture *f)
{
  const InsightSpan span = { 0, TODAY };
  const InsightRateInput rate_input = { .run_days = 6 };
  const InsightRate rate = { .cost = 12.0, .cost_interval = { 10.0, 15.0 } };
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightIssues) issues = NULL;
  g_autoptr(InsightForecastInput) input = NULL;
  InsightAnotherRound *another;

  fixture_finish (f);
  standing = insight_standing (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  issues = insight_issues (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  input = insight_forecast_input (f->e, standing, issues, &error);
  g_assert_no_error (error);
  another = insight_another_round (f->e, standing, input, &rate_input, &rate, NULL, &error);
  g_assert_no_error (error);
  return another;
}

/* E (1-p)^s over Beta (1/2, 1/2) (Jeffreys): B (1/2, s + 1/2) / pi; NIST/SEMATECH Handbook 1.3.6.6.17 has the moments. */
static double
mean_power (double s)
{
  return exp (lgamma (s + 0.5) + lgamma (0.5) - lgamma (s + 1.0)) / G_PI;
}

static void
test_by_hand (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightAnotherRound) another = NULL;

  three_rounds (f);
  another = ask (f);
  g_assert_cmpstr (another->round, ==, "");
  g_assert_cmpuint (another->n_days, ==, 3);
  g_assert_cmpfloat (another->days[0], ==, another->days[2]); /* all begin on Mondays and take forty days */
  g_assert_cmpfloat (another->days[1], ==, another->days[0]);
  g_assert_cmpuint (another->n_costs, ==, 3);
  g_assert_cmpuint (another->ways[0].units, ==, 12);
  g_assert_cmpuint (another->ways[1].units, ==, 22);
  for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
    {
      const InsightAnotherWay *way = &another->ways[w];

      g_assert_cmpfloat_with_epsilon (way->outside[0], 30.0 * way->units, 1e-9);
      g_assert_cmpfloat_with_epsilon (way->outside[1], 40.0 * way->units, 1e-9);
      g_assert_cmpfloat_with_epsilon (way->outside[2], 50.0 * way->units, 1e-9);
      g_assert_cmpfloat_with_epsilon (way->inside, 12.0 * way->units, 1e-9);
      g_assert_cmpfloat_with_epsilon (way->inside_interval.low, 10.0 * way->units, 1e-9);
      g_assert_cmpfloat_with_epsilon (way->inside_interval.high, 15.0 * way->units, 1e-9);
    }
}

/* 22 without a failure meet it (0.9^22 < 0.1), 32 with one do not: all further ones have to pass, given the ten that did. */
static void
test_chance (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightAnotherRound) another = NULL;

  three_rounds (f);
  another = ask (f);
  g_assert_cmpuint (another->n_criteria, ==, 1);
  g_assert_cmpstr (another->criteria[0].code, ==, "C1");
  g_assert_cmpint (another->criteria[0].told, ==, INSIGHT_ANOTHER_CHANCE);
  g_assert_cmpuint (another->criteria[0].proofs[0].counted, ==, 12);
  g_assert_cmpfloat_with_epsilon (another->criteria[0].proofs[0].chance, mean_power (22.0) / mean_power (10.0), 1e-9);
  g_assert_cmpfloat_with_epsilon (another->criteria[0].proofs[1].chance, mean_power (32.0) / mean_power (10.0), 1e-9);
  g_assert_cmpfloat_with_epsilon (another->ways[0].all, another->criteria[0].proofs[0].chance, 1e-12);
  g_assert_cmpuint (another->n_chance, ==, 1);
}

/* Two independent criteria: the product; what no unit settles is named and has no chance. */
static void
test_all (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightAnotherRound) another = NULL;
  int lock = three_rounds (f);
  int second = fixture_checked (f, "OF", BOOK_CLASS_FUNCTION);

  (void) lock;
  fixture_term (f, fixture_criterion (f, "C2", BOOK_CRITERION_CHECKED, second), "2026-01-01", 0.90, 0.90);
  fixture_criterion (f, "C3", BOOK_CRITERION_DOCUMENTS, -1);
  for (int i = 0; i < 11; i++)
    fixture_check (f, 30 + i, second, TRUE);
  another = ask (f);
  g_assert_cmpuint (another->n_criteria, ==, 3);
  g_assert_cmpuint (another->n_chance, ==, 2);
  g_assert_cmpint (another->criteria[2].told, ==, INSIGHT_ANOTHER_OTHER);
  g_assert_true (isnan (another->criteria[2].proofs[0].chance));
  g_assert_cmpfloat_with_epsilon (another->ways[0].all,
                                  mean_power (22.0) / mean_power (10.0) * mean_power (23.0) / mean_power (11.0), 1e-9);
}

/* The round that is not in the book is told of as one that is and is planned alike, the planned tests included. */
static void
test_as_the_planner (void)
{
  g_autoptr(Fixture) f = fixture_new (), g = fixture_new ();
  g_autoptr(InsightAnotherRound) another = NULL;
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;
  g_autoptr(GError) error = NULL;
  int lock = three_rounds (f), p4;

  fixture_planned_for (f, 2, "P3-01", lock, FALSE, FALSE);
  fixture_planned_for (f, 2, "P3-02", lock, FALSE, FALSE);
  another = ask (f);
  lock = three_rounds (g);
  p4 = fixture_round (g, "P4", BOOK_ROUND_PROTOTYPE, TODAY, FALSE);
  g->e->rounds[p4].design_fixed = g->e->rounds[p4].built = g->e->rounds[p4].tested = 0;
  fixture_planned_for (g, p4, "P4-01", lock, FALSE, FALSE);
  fixture_planned_for (g, p4, "P4-02", lock, FALSE, FALSE);
  fixture_finish (g);
  plan = insight_plan_new (g->e, g->e->rounds[p4].id, TODAY, NULL, &error);
  g_assert_no_error (error);
  answer = insight_plan_prove (plan, 12, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (another->criteria[0].proofs[0].counted, ==, 2);
  g_assert_cmpuint (another->criteria[0].proofs[0].counted, ==, answer->proofs[0].counted);
  g_assert_cmpfloat (another->criteria[0].proofs[0].chance, ==, answer->proofs[0].assurance);
}

/* The present round is meant while it is not tested; fewer than three finished rounds leave only what somebody assumes. */
static void
test_present (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightAnotherRound) another = NULL;
  int lock = fixture_checked (f, "LH", BOOK_CLASS_FUNCTION), p2;

  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, lock), "2026-01-01", 0.90, 0.90);
  fixture_checked_units (f, fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE), 10, lock, 0);
  p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-06-22", FALSE);
  f->e->rounds[p2].planned_units = 12;
  another = ask (f);
  g_assert_cmpstr (another->round, ==, "P2");
  g_assert_cmpuint (another->n_days, ==, 1);
  g_assert_true (isnan (another->days[1]));
  g_assert_cmpfloat (another->days[0], <, another->days[2]);
  g_assert_cmpuint (another->n_costs, ==, 0);
  g_assert_true (isnan (another->ways[0].outside[1]));
  g_assert_cmpfloat_with_epsilon (another->criteria[0].proofs[0].chance, mean_power (22.0) / mean_power (10.0), 1e-9);
}

static void
test_no_round (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightAnotherRound) another = ask (f);

  g_assert_cmpuint (another->ways[0].units, ==, 0);
  g_assert_cmpuint (another->n_criteria, ==, 0);
  g_assert_true (isnan (another->ways[0].all));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/another-round/takes-what-a-hand-calculation-says", test_by_hand);
  g_test_add_func ("/insight/another-round/proves-what-the-closed-form-says", test_chance);
  g_test_add_func ("/insight/another-round/all-is-the-product-of-those-with-a-chance", test_all);
  g_test_add_func ("/insight/another-round/says-what-the-planner-says", test_as_the_planner);
  g_test_add_func ("/insight/another-round/is-the-present-one-while-that-is-not-tested", test_present);
  g_test_add_func ("/insight/another-round/needs-a-round", test_no_round);
  return g_test_run ();
}
