/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * When the criteria that block will be met: against closed forms, and day by day by hand.
 */
#include "config.h"

#include <math.h>

#include "evidence-fixture.h"
#include "insight-forecast.h"

#define DRAWS 10000

/* A check about function that blocks; 22 units without a failure meet it (0.9^22 = 0.0985). */
static int
want_check (Fixture *f)
{
  int characteristic = fixture_checked (f, "LH", BOOK_CLASS_FUNCTION);

  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, characteristic), "2026-01-01", 0.90, 0.90);
  return characteristic;
}

/* Three finished rounds of the same number of working days (they begin on Mondays, eight weeks apart), and a check on which
 * nothing was measured. */
static void
three_rounds (Fixture *f)
{
  static const char *const opened[] = { "2026-01-05", "2026-03-02", "2026-04-27" };
  static const char *const labels[] = { "P1", "P2", "P3" };

  want_check (f);
  for (guint i = 0; i < G_N_ELEMENTS (opened); i++)
    fixture_round (f, labels[i], BOOK_ROUND_PROTOTYPE, opened[i], TRUE);
  fixture_units (f, 2, 22);
}

static InsightForecastInput *
input_of (Fixture *f, const char *today)
{
  const InsightSpan span = { 0, today };
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightIssues) issues = NULL;
  InsightForecastInput *input;

  fixture_finish (f);
  standing = insight_standing (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  issues = insight_issues (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  input = insight_forecast_input (f->e, standing, issues, &error);
  g_assert_no_error (error);
  return input;
}

/* Every fix works at once, and nothing is left over. */
static InsightForecastSettings
fixes_work (const InsightForecastInput *input)
{
  InsightForecastSettings settings = input->defaults;

  settings.worked = 1000000;
  settings.residual = 0.0;
  return settings;
}

/* E (1-p)^s over Beta (1/2, 1/2): B (1/2, s + 1/2) / pi. */
static double
mean_power (double s)
{
  return exp (lgamma (s + 0.5) + lgamma (0.5) - lgamma (s + 1.0)) / G_PI;
}

/*
 * While no fix works, each round of 22 units passes with (1-p)^22 and the number of rounds is geometric; p is drawn from the
 * posterior without data, Beta (1/2, 1/2) (Jeffreys). The share that is ready after k rounds is therefore
 * 1 - sum over i of binomial (k, i) (-1)^i E (1-p)^(22 i). Geometric distribution and beta moments: NIST Handbook 1.3.6.
 */
static void
test_geometric (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  InsightForecastSettings settings;
  double length, never = 0.0, sign = 1.0, choose = 1.0;

  three_rounds (f);
  input = input_of (f, "2026-07-01");
  g_assert_cmpuint (input->n_lengths, ==, 3);
  length = input->lengths[0].days;
  g_assert_cmpfloat (input->lengths[1].days, ==, length);
  g_assert_cmpfloat (input->lengths[2].days, ==, length);
  g_assert_cmpuint (input->n_in, ==, 1);
  g_assert_cmpuint (input->criteria[0].play.units_round, ==, 22);

  settings = input->defaults;
  settings.failed = 1000000;
  forecast = insight_forecast (input, &settings, DRAWS, NULL);
  g_assert_cmpint (forecast->status, ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (forecast->points[0].days, length, 1e-9);
  /* four standard errors of a share of 10,000 futures */
  g_assert_cmpfloat_with_epsilon (forecast->points[0].share, mean_power (22.0), 4.0 * sqrt (0.12 * 0.88 / DRAWS));
  for (int i = 0; i <= NUM_FORECAST_ROUNDS / 4; i++) /* 1 - ready after 10 rounds */
    {
      never += sign * choose * mean_power (22.0 * i);
      choose *= (NUM_FORECAST_ROUNDS / 4 - i) / (i + 1.0);
      sign = -sign;
    }
  for (guint i = 0; i < forecast->n_points; i++)
    if (forecast->points[i].days >= 10.0 * length - 1e-9)
      {
        double rounds = floor (forecast->points[i].days / length + 1e-9);

        if (rounds == 10.0)
          g_assert_cmpfloat_with_epsilon (forecast->points[i].share, 1.0 - never, 4.0 * sqrt (0.25 / DRAWS));
      }
}

/* When every fix works at once, the second round passes: what is left over then fails next to never. */
static void
test_fixes (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  InsightForecastSettings settings;

  three_rounds (f);
  input = input_of (f, "2026-07-01");
  settings = fixes_work (input);
  forecast = insight_forecast (input, &settings, DRAWS, NULL);
  g_assert_cmpuint (forecast->rounds, ==, 2);
  g_assert_cmpfloat_with_epsilon (forecast->dates[1].days, 2.0 * input->lengths[0].days, 1e-9);
  g_assert_cmpfloat (forecast->never, ==, 0.0);
}

/* 2026-07-01 is a Wednesday: twice the length in working days of five a week. */
static void
test_dates (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  InsightForecastSettings settings;
  guint days;

  three_rounds (f);
  input = input_of (f, "2026-07-01");
  settings = fixes_work (input);
  forecast = insight_forecast (input, &settings, DRAWS, NULL);
  g_assert_cmpstr (input->begin, ==, "2026-07-01");
  g_assert_cmpstr (input->begin_round, ==, "");
  days = insight_days_working (f->e, "2026-07-01", forecast->dates[1].date);
  g_assert_cmpuint (days, ==, (guint) (2.0 * input->lengths[0].days));
  g_assert_cmpuint (insight_days_working (f->e, "2026-07-01", forecast->dates[0].date), ==, days);
}

/* A round that is under way and not tested is the first of the further ones, from its first day; never ready before tomorrow. */
static void
test_present_round (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  int round;

  three_rounds (f);
  round = fixture_round (f, "P4", BOOK_ROUND_PROTOTYPE, "2026-06-22", FALSE);
  f->e->rounds[round].tested = f->e->rounds[round].built = 0;
  input = input_of (f, "2027-01-01");
  g_assert_cmpstr (input->begin, ==, "2026-06-22");
  g_assert_cmpstr (input->begin_round, ==, "P4");
  forecast = insight_forecast (input, &input->defaults, DRAWS, NULL);
  g_assert_cmpstr (forecast->range[0].date, >, "2027-01-01");
}

static void
test_range (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  InsightForecastSettings settings;

  three_rounds (f);
  f->e->rounds[2].decided = 0;
  input = input_of (f, "2026-07-01");
  g_assert_cmpuint (input->n_lengths, ==, 2);
  settings = fixes_work (input);
  settings.shortest = 30.0;
  settings.longest = 40.0;
  forecast = insight_forecast (input, &settings, DRAWS, NULL);
  /* Two rounds of 30 to 40 days each, evenly: the sum is triangular, its 0.9 quantile 80 - 20 sqrt (0.1/2). */
  g_assert_cmpfloat_with_epsilon (forecast->range[1].days, 80.0 - 20.0 * sqrt (0.05), 0.4);
  g_assert_cmpuint (forecast->n_dates, ==, 2);
}

/* Of a wait of some weeks at a supplier five days are left; the other two rounds stay as they were. */
static void
test_waits (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) now = NULL, cut = NULL;
  g_autoptr(GArray) helps = NULL;
  InsightForecastSettings settings;
  gboolean found = FALSE;
  guint waited;

  three_rounds (f);
  for (int r = 0; r < 3; r++)
    {
      static const char *const from[] = { "2026-01-12", "2026-03-09", "2026-05-04" };
      static const char *const to[] = { "2026-01-27", "2026-03-24", "2026-05-19" };

      fixture_wait (f, r, BOOK_WAIT_OUTSIDE_STEP, r == 0 ? fixture_supplier (f, "Alder Hardening") : 0, from[r], to[r]);
    }
  input = input_of (f, "2026-07-01");
  waited = insight_days_working (f->e, "2026-01-12", "2026-01-27");
  g_assert_cmpuint (input->n_waits, ==, 1);
  g_assert_cmpstr (input->waits[0].name, ==, "Alder Hardening");
  g_assert_cmpuint (input->waits[0].n, ==, 3);
  g_assert_cmpfloat (input->waits[0].days, ==, 3.0 * waited);
  settings = fixes_work (input);
  now = insight_forecast (input, &settings, DRAWS, NULL);
  helps = insight_forecast_helps (input, &settings, NULL);
  settings.waits = 0;
  cut = insight_forecast (input, &settings, DRAWS, NULL);
  g_assert_cmpfloat_with_epsilon (now->dates[1].days - cut->dates[1].days, 2.0 * (waited - INSIGHT_FORECAST_WAIT), 1e-9);
  for (guint i = 0; i < helps->len; i++)
    {
      const InsightForecastHelp *help = &g_array_index (helps, InsightForecastHelp, i);

      if (help->waits != 0)
        continue;
      found = TRUE;
      g_assert_cmpfloat_with_epsilon (help->gain, 2.0 * (waited - INSIGHT_FORECAST_WAIT), 1e-9);
    }
  g_assert_true (found);
}

static void
test_left_out (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  int value, other;

  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  value = fixture_measured (f, "SP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_limit (f, value, "2026-01-01", 1.0, INFINITY);
  fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, value);
  fixture_criterion (f, "C2", BOOK_CRITERION_YIELD, -1);
  other = fixture_criterion (f, "C3", BOOK_CRITERION_YIELD, -1);
  f->e->criteria[other].blocking = FALSE;
  input = input_of (f, "2026-07-01");
  g_assert_cmpuint (input->n_criteria, ==, 2);
  g_assert_cmpuint (input->n_in, ==, 0);
  g_assert_cmpint (input->criteria[0].left, ==, INSIGHT_FORECAST_LEFT_NO_VALUES);
  g_assert_cmpint (input->criteria[1].left, ==, INSIGHT_FORECAST_LEFT_RUN);
  forecast = insight_forecast (input, &input->defaults, DRAWS, NULL);
  g_assert_cmpint (forecast->status, ==, NUM_TOO_FEW);
}

/* The units of P1 are too few, those of P2 enough: what P1 would have said was met when P2 was decided. */
static void
test_past (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightStanding) now = NULL;
  g_autoptr(GArray) past = NULL;
  g_autoptr(GError) error = NULL;
  const InsightForecastPast *first, *second;
  int characteristic = want_check (f);

  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-02", TRUE);
  fixture_checked_units (f, 0, 6, characteristic, 0);
  fixture_checked_units (f, 1, 22, characteristic, 0);
  fixture_finish (f);
  now = insight_standing (f->e, &(InsightSpan){ 0, "2026-07-01" }, NULL, &error);
  g_assert_no_error (error);
  past = insight_forecast_past (f->e, now, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (past->len, ==, 2);
  first = &g_array_index (past, InsightForecastPast, 0);
  second = &g_array_index (past, InsightForecastPast, 1);
  g_assert_cmpstr (first->round, ==, "P1");
  g_assert_cmpuint (first->lengths, ==, 1);
  g_assert_cmpint (first->status, ==, NUM_OK);
  g_assert_cmpstr (first->dates[0], >, first->decided);
  g_assert_cmpstr (first->met, ==, second->decided);
  g_assert_cmpint (second->status, ==, NUM_TOO_FEW); /* nothing blocks any more */
  g_assert_false (first->late);
  g_assert_false (first->recorded);
}

/* Of what was recorded then, six failed; that the failures were no such thing is known now, and nobody knew it. */
static void
test_recorded (void)
{
  g_autoptr(Fixture) f = fixture_new (), then = fixture_new ();
  g_autoptr(InsightStanding) now = NULL;
  g_autoptr(GArray) plain = NULL, recorded = NULL;
  g_autoptr(GError) error = NULL;
  const BookEvidence *rounds[] = { NULL, NULL };
  const InsightForecastPast *first;

  for (guint i = 0; i < 2; i++)
    {
      Fixture *one = i == 0 ? f : then;
      int lock = want_check (one);

      fixture_round (one, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
      if (i == 0)
        fixture_round (one, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-02", TRUE);
      fixture_checked_units (one, 0, 22, lock, i == 0 ? 0 : 6);
      fixture_finish (one);
    }
  then->e->rounds[0].id = f->e->rounds[0].id;
  then->e->criteria[0].id = f->e->criteria[0].id;
  rounds[0] = then->e;
  now = insight_standing (f->e, &(InsightSpan){ 0, "2026-07-01" }, NULL, &error);
  g_assert_no_error (error);
  plain = insight_forecast_past (f->e, now, NULL, NULL, &error);
  g_assert_no_error (error);
  recorded = insight_forecast_past (f->e, now, rounds, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (g_array_index (plain, InsightForecastPast, 0).status, ==, NUM_TOO_FEW); /* nothing blocks */
  first = &g_array_index (recorded, InsightForecastPast, 0);
  g_assert_true (first->recorded);
  g_assert_false (first->unread);
  g_assert_true (g_array_index (plain, InsightForecastPast, 0).unread);
  g_assert_cmpint (first->status, ==, NUM_OK);
  g_assert_cmpstr (first->met, ==, first->decided); /* by what is known now */
  g_assert_false (g_array_index (recorded, InsightForecastPast, 1).recorded);
  g_assert_false (g_array_index (recorded, InsightForecastPast, 1).unread); /* gone through, and nothing found */
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/forecast/rounds-are-geometric-while-no-fix-works", test_geometric);
  g_test_add_func ("/insight/forecast/a-fix-that-works-needs-one-more-round", test_fixes);
  g_test_add_func ("/insight/forecast/dates-count-the-shops-working-days", test_dates);
  g_test_add_func ("/insight/forecast/the-present-round-is-the-first-of-the-further-ones", test_present_round);
  g_test_add_func ("/insight/forecast/few-rounds-are-played-by-a-persons-range", test_range);
  g_test_add_func ("/insight/forecast/shorter-waits-shorten-rounds", test_waits);
  g_test_add_func ("/insight/forecast/what-cannot-be-played-is-left-out-by-name", test_left_out);
  g_test_add_func ("/insight/forecast/tells-what-earlier-rounds-would-have-said", test_past);
  g_test_add_func ("/insight/forecast/an-earlier-round-is-told-from-what-was-recorded-then", test_recorded);
  return g_test_run ();
}
