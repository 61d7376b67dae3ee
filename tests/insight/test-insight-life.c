/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Life tests on a few records, and the promise of the criterion played on many: developments of which exactly the tolerated
 * share fails must be called good no more often than promised, and a test that is stopped by its failures never.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-life.h"
#include "num-random.h"

static int
ask (Fixture *f, int characteristic, double cycles, double low, double high)
{
  int criterion = fixture_criterion (f, "C1", BOOK_CRITERION_LIFE, characteristic);
  int term = fixture_term (f, criterion, "2025-01-01", 0.9, 0.9);

  f->e->criteria[criterion].strict = FALSE;
  f->e->criteria[criterion].counts_from = BOOK_COUNTS_PROTOTYPE;
  f->e->terms[term].cycles = cycles;
  f->e->terms[term].shape_low = low;
  f->e->terms[term].shape_high = high;
  return term;
}

static InsightLife *
life_of (Fixture *f)
{
  g_autoptr(GError) error = NULL;
  InsightSpan span = { 0, "2027-01-01" };
  InsightLife *life;

  fixture_finish (f);
  life = insight_life (f->e, 0, &span, NULL, &error);
  g_assert_no_error (error);
  return life;
}

/* A unit lives once; what is stopped under too small a load says nothing, what fails under it does. */
static void
test_counting (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int bench = fixture_round (f, "M", BOOK_ROUND_BENCH, "2025-06-01", TRUE);
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
  int mock = fixture_units (f, bench, 1), unit = fixture_units (f, round, 3);
  int term = ask (f, cycles, 1000, 1, 3);
  g_autoptr(InsightLife) life = NULL;

  f->e->terms[term].load = 50;
  fixture_life_test (f, mock, cycles, 100, TRUE, -1);
  fixture_life_test (f, unit, cycles, 1000, FALSE, -1);
  fixture_life_test (f, unit, cycles, 400, TRUE, -1);
  fixture_life_test (f, unit + 1, cycles, 1000, FALSE, -1);
  fixture_life_test (f, unit + 2, cycles, 700, TRUE, -1);
  for (guint i = 0; i < f->e->n_life_tests; i++)
    f->e->life_tests[i].load = i == 1 ? 50 : 20;
  life = life_of (f);
  g_assert_cmpuint (life->n_tests, ==, 5);
  g_assert_cmpuint (life->n, ==, 2);
  g_assert_cmpuint (life->failed, ==, 1);
  for (guint i = 0; i < life->n_tests; i++)
    {
      const InsightLifeTest *test = &life->tests[i];

      g_assert_cmpint (test->again, ==, test->cycles == 400);
      g_assert_cmpint (test->short_load, ==, test->cycles == 1000 && test->load == 20);
      if (test->cycles == 100)
        g_assert_cmpint (test->counting, ==, INSIGHT_NOT_KIND);
    }
  g_assert_cmpuint (life->n_modes, ==, 1);
  g_assert_cmpuint (life->growth.n, ==, 3); /* growth runs all tests */
  g_assert_cmpfloat (life->growth.end, ==, 3200);
}

/* Three failures of one way: a line, and a plan that begins anew. */
static void
test_fresh_plan (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
  int issue = fixture_issue (f, cycles), unit = fixture_units (f, round, 6);
  const double times[] = { 300, 420, 560 };
  g_autoptr(InsightLife) life = NULL;
  const InsightLifePlan *row;

  for (int i = 0; i < 6; i++)
    fixture_life_test (f, unit + i, cycles, i < 3 ? times[i] : 1000, i < 3, i < 3 ? issue : -1);
  ask (f, cycles, 1000, 1, 3);
  life = life_of (f);
  g_assert_cmpuint (life->n_modes, ==, 1);
  g_assert_true (life->modes[0].fitted);
  g_assert_cmpuint (life->modes[0].n_line, ==, INSIGHT_LIFE_LINE);
  assert_state (insight_standing_get_criterion (life->standing, 0), INSIGHT_AGAINST);
  g_assert_true (life->plan_fresh);
  /* ln 0.1 / ln 0.9 = 21.9: the units of any test without a failure */
  row = &g_array_index (life->plan_units, InsightLifePlan, 0);
  g_assert_cmpuint (row->units, ==, 22);
  assert_near (row->bad_passes, pow (0.9, 22), 1e-12);
  g_assert_true (isnan (row->assurance)); /* of a design that is still to be changed nothing is known */
}

/* Two ways of failing: each must leave the square root of the share. */
static void
test_modes_share (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
  int first = fixture_issue (f, cycles), second = fixture_issue (f, cycles), unit = fixture_units (f, round, 40);
  g_autoptr(InsightLife) life = NULL;
  const InsightCriterion *criterion;

  for (int i = 0; i < 40; i++)
    fixture_life_test (f, unit + i, cycles, 1000, i < 2, i == 0 ? first : i == 1 ? second : -1);
  ask (f, cycles, 1000, 1, 1);
  life = life_of (f);
  criterion = insight_standing_get_criterion (life->standing, 0);
  g_assert_cmpuint (life->n_modes, ==, 2);
  /* P(chi-square (4) <= 2 h 40) with h = -ln (0.9) / 2: closed form of an Erlang distribution. */
  {
    double x = -0.5 * log (0.9) * 40;

    assert_near (criterion->confidence, 1 - exp (-x) * (1 + x), 1e-9);
  }
  assert_said (criterion, INSIGHT_REASON_LIFE_MODES);
}

/* 1 - 0.9^22 = 0.9015: 22 units that all live as long as wanted are enough for 90 % of nine tenths, 21 are not. */
static void
test_units_wanted (void)
{
  for (int n = 21; n <= 22; n++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
      int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
      int unit = fixture_units (f, round, (guint) n);
      g_autoptr(InsightStanding) standing = NULL;
      const InsightCriterion *criterion;

      for (int i = 0; i < n; i++)
        fixture_life_test (f, unit + i, cycles, 1000, FALSE, -1);
      ask (f, cycles, 1000, 1, 3);
      standing = fixture_standing (f, NULL);
      criterion = fixture_criterion_in (standing, "C1");
      assert_near (criterion->confidence, 1 - pow (0.9, n), 1e-9);
      g_assert_cmpint (criterion->state, ==, n == 22 ? INSIGHT_MET : INSIGHT_TOO_FEW);
      g_assert_cmpint (criterion->units_needed, ==, n == 22 ? 0 : 1);
    }
}

/* ---- the promise ---- */

#define SHAPE 2.0

typedef struct
{
  guint met;
  guint confident; /* the figure alone would have met it */
} Claims;

/* Ten units of which exactly a tenth fails by 1000 cycles; stopped at a planned number, or with the third failure. */
static void
play (NumRandom *random, gboolean by_failure, Claims *claims)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
  int unit = fixture_units (f, round, 10);
  double scale = 1000 / pow (-log (0.9), 1 / SHAPE), stop = scale * pow (-log (0.65), 1 / SHAPE), times[10], sorted[10];
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  for (guint i = 0; i < 10; i++)
    {
      guint k = i;

      times[i] = scale * pow (num_random_exponential (random), 1 / SHAPE);
      for (; k > 0 && sorted[k - 1] > times[i]; k--)
        sorted[k] = sorted[k - 1];
      sorted[k] = times[i];
    }
  if (by_failure)
    stop = sorted[2];
  for (int i = 0; i < 10; i++)
    {
      fixture_life_test (f, unit + i, cycles, MIN (times[i], stop), times[i] <= stop, -1);
      if (!by_failure)
        fixture_planned_test (f, unit + i, cycles, (double) NAN, stop);
    }
  ask (f, cycles, 1000, 1, 3);
  f->e->criteria[0].strict = FALSE;
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  claims->met += criterion->state == INSIGHT_MET;
  claims->confident += criterion->confidence >= criterion->wanted;
  if (by_failure)
    assert_said (criterion, INSIGHT_REASON_LIFE_STOPPED);
}

static guint
stories (guint usual)
{
  const char *wish = g_getenv ("FETTLE_STORIES");

  return wish != NULL ? (guint) CLAMP (g_ascii_strtoull (wish, NULL, 10), 10, 20000) : usual;
}

static void
test_promise (void)
{
  guint n = stories (20);
  NumRandom random;
  Claims claims = { 0 };

  num_random_init (&random, 20261125, 1);
  for (guint i = 0; i < n; i++)
    {
      num_random_draw (&random, i);
      play (&random, FALSE, &claims);
    }
  g_test_message ("%u of %u called good, 10 %% promised", claims.met, n);
  g_assert_cmpfloat (claims.met, <=, 0.1 * n + 3 * sqrt (0.09 * n));
}

static void
test_stopped_by_failure (void)
{
  guint n = stories (12);
  NumRandom random;
  Claims claims = { 0 };

  num_random_init (&random, 20261125, 2);
  for (guint i = 0; i < n; i++)
    {
      num_random_draw (&random, i);
      play (&random, TRUE, &claims);
    }
  g_test_message ("the figure alone would call %u of %u good, 10 %% promised", claims.confident, n);
  g_assert_cmpuint (claims.met, ==, 0);
  if (n >= 400) /* the rule is needed */
    g_assert_cmpfloat (claims.confident, >, 0.12 * n);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/life/first-tests-at-the-load-asked-for-count", test_counting);
  g_test_add_func ("/insight/life/after-three-failures-the-plan-begins-anew", test_fresh_plan);
  g_test_add_func ("/insight/life/ways-of-failing-divide-the-share", test_modes_share);
  g_test_add_func ("/insight/life/units-are-wanted-only-until-it-is-met", test_units_wanted);
  g_test_add_func ("/insight/life/claims-no-more-often-than-promised", test_promise);
  g_test_add_func ("/insight/life/a-test-stopped-by-its-failures-claims-nothing", test_stopped_by_failure);
  return g_test_run ();
}
