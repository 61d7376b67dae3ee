/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Confidence and state of one criterion, against published and reference values. */
#include "config.h"
#include "evidence-fixture.h"

#include <string.h>

/* A model with one round; the criterion asks for @share at @confidence of @c. */
static void
ask (Fixture *f, BookCriterionKind kind, int c, double share, double confidence)
{
  fixture_term (f, fixture_criterion (f, "C1", kind, c), "2026-01-01", share, confidence);
}

static void
add_checks (Fixture *f, int round, int c, guint n, guint failed)
{
  int first = fixture_units (f, round, n);
  int issue = fixture_issue (f, c);

  for (guint i = 0; i < n; i++)
    {
      fixture_check (f, first + (int) i, c, i >= failed);
      if (i < failed)
        fixture_finding (f, issue, first + (int) i, BOOK_DISPOSITION_SCRAP, FALSE, "2026-01-25");
    }
}

static void
add_values (Fixture *f, int round, int c, const double *values, guint n)
{
  int first = fixture_units (f, round, n);

  for (guint i = 0; i < n; i++)
    fixture_value (f, first + (int) i, c, values[i]);
}

static InsightStanding *
checked_standing (guint n, guint failed, double share, double confidence, gboolean strict)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);

  ask (f, BOOK_CRITERION_CHECKED, c, share, confidence);
  f->e->criteria[0].strict = strict;
  add_checks (f, round, c, n, failed);
  return fixture_standing (f, NULL);
}

static void
test_checked_plain (void)
{
  static const struct
  {
    guint n, failed;
    double share, confidence;
    InsightState state;
  } rows[] = {
    /* R 4.2.2: 1 - pbinom (failed, n, 1 - share) */
    { 22, 0, 0.90, 0.901522909781639, INSIGHT_MET },
    { 40, 1, 0.90, 0.919526303985523, INSIGHT_MET },
    { 58, 0, 0.95, 0.948953131316397, INSIGHT_MET },
    /* Success run, n = ln (1 - C) / ln R rounded up: 22 for 90 % at 90 %, so 21 do not do (common practice) */
    { 21, 0, 0.90, 1.0 - 0.1094189891, INSIGHT_TOO_FEW },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(InsightStanding) standing = checked_standing (rows[i].n, rows[i].failed, rows[i].share, 0.90, FALSE);
      const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

      assert_near (criterion->confidence, rows[i].confidence, 1e-9);
      assert_state (criterion, rows[i].state);
      g_assert_cmpuint (criterion->n, ==, rows[i].n);
      g_assert_cmpuint (criterion->failed, ==, rows[i].failed);
      assert_said (criterion, INSIGHT_REASON_MISSES_NOTHING);
      g_assert_cmpint (criterion->method, ==, INSIGHT_METHOD_EXACT);
    }
}

static void
test_checked_needs (void)
{
  g_autoptr(InsightStanding) standing = checked_standing (21, 0, 0.90, 0.90, FALSE);
  const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

  /* 22 units without a failure (success run, common practice) */
  g_assert_cmpint (criterion->units_needed, ==, 1);
  g_assert_cmpuint (standing->steps->len, ==, 1);
  g_assert_cmpint (((const InsightStep *) standing->steps->pdata[0])->code, ==, INSIGHT_STEP_TEST);
  /* a product that fails 1 in 10 passes one more unit 9 times in 10 */
  assert_near (((const InsightStep *) standing->steps->pdata[0])->numbers[0], 0.9, 1e-12);
}

static void
test_checked_strict (void)
{
  static const struct
  {
    guint n, failed;
    double share, confidence;
  } rows[] = {
    /* SciPy 1.10.1, betaln and beta.logcdf of the beta-binomial mixture */
    { 22, 0, 0.90, 0.8589404124357212 },
    { 26, 0, 0.90, 0.9041974829214631 },
    { 66, 1, 0.90, 0.905468735359432 },
    { 40, 2, 0.90, 0.0 },
    { 60, 0, 0.95, 0.9298528754190327 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(InsightStanding) standing = checked_standing (rows[i].n, rows[i].failed, rows[i].share, 0.90, TRUE);
      const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

      g_assert_cmpfloat_with_epsilon (criterion->confidence, rows[i].confidence, 1e-9);
      /* at the first attempt half of the error may be spent */
      assert_near (criterion->wanted, 0.95, 1e-12);
      g_assert_cmpint (criterion->method, ==, INSIGHT_METHOD_ANYTIME);
    }
}

static void
test_strict_price (void)
{
  /* SciPy 1.10.1: 33 units without a failure reach 0.95 of the mixture at a tolerated 0.10 */
  g_autoptr(InsightStanding) met = checked_standing (33, 0, 0.90, 0.90, TRUE);
  g_autoptr(InsightStanding) not_yet = checked_standing (32, 0, 0.90, 0.90, TRUE);

  assert_state (fixture_criterion_in (met, "C1"), INSIGHT_MET);
  assert_state (fixture_criterion_in (not_yet, "C1"), INSIGHT_TOO_FEW);
  g_assert_cmpint (fixture_criterion_in (not_yet, "C1")->units_needed, ==, 1);
}

static void
test_checked_against (void)
{
  g_autoptr(InsightStanding) standing = checked_standing (10, 3, 0.90, 0.90, FALSE);
  const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

  /* R: pbinom (2, 10, 0.1) = 0.9298091736 */
  assert_near (criterion->contrary, 0.9298091736, 1e-9);
  assert_state (criterion, INSIGHT_AGAINST);
  /* the next step is never 'test more' */
  for (guint i = 0; i < standing->steps->len; i++)
    g_assert_cmpint (((const InsightStep *) standing->steps->pdata[i])->code, !=, INSIGHT_STEP_TEST);
  g_assert_cmpint (((const InsightStep *) standing->steps->pdata[0])->code, ==, INSIGHT_STEP_FIND_CAUSE);
}

static void
test_against_needs_three (void)
{
  g_autoptr(InsightStanding) standing = checked_standing (2, 2, 0.90, 0.90, FALSE);

  /* R: pbinom (1, 2, 0.1) = 0.99, yet two units are too few to speak against anything */
  assert_near (fixture_criterion_in (standing, "C1")->contrary, 0.99, 1e-9);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_TOO_FEW);
}

/* One measured characteristic with shape @shape and the given limits. */
static InsightStanding *
measured_standing (const double *values, guint n, BookShape shape, double lower, double upper, double share)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, shape);

  fixture_limit (f, c, "2026-01-01", lower, upper);
  ask (f, BOOK_CRITERION_MEASURED, c, share, 0.95);
  add_values (f, round, c, values, n);
  return fixture_standing (f, NULL);
}

/* Values with mean 0 and deviation 1: half of them at -s, half at s. */
static void
fill_standard (double *values, guint n)
{
  double s = sqrt ((n - 1.0) / n);

  for (guint i = 0; i < n; i++)
    values[i] = i % 2 == 0 ? -s : s;
}

static void
test_measured_one_sided (void)
{
  double values[10];
  g_autoptr(InsightStanding) six = NULL;
  g_autoptr(InsightStanding) ten = NULL;

  fill_standard (values, 6);
  six = measured_standing (values, 6, BOOK_SHAPE_NORMAL, -INFINITY, 4.4111, 0.90);
  /* NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: exact one-sided factor 4.411 for n 6, 90 %, 99 % */
  g_assert_cmpfloat_with_epsilon (fixture_criterion_in (six, "C1")->confidence, 0.99, 1e-5);
  assert_state (fixture_criterion_in (six, "C1"), INSIGHT_MET);

  fill_standard (values, 10);
  ten = measured_standing (values, 10, BOOK_SHAPE_NORMAL, -INFINITY, 3.2, 0.99);
  /* R 4.2.2: pt (3.2 * sqrt (10), 9, qnorm (0.99) * sqrt (10)) */
  assert_near (fixture_criterion_in (ten, "C1")->confidence, 0.833637997374723, 1e-9);
  assert_state (fixture_criterion_in (ten, "C1"), INSIGHT_TOO_FEW);
}

static void
test_measured_two_sided (void)
{
  double values[20];
  g_autoptr(InsightStanding) ten = NULL;
  g_autoptr(InsightStanding) twenty = NULL;

  fill_standard (values, 10);
  ten = measured_standing (values, 10, BOOK_SHAPE_NORMAL, -3.0, 2.5, 0.90);
  /* R 4.2.2: integrate over the chi-square of the deviation */
  assert_near (fixture_criterion_in (ten, "C1")->confidence, 0.930228629088812, 1e-7);
  assert_near (fixture_criterion_in (ten, "C1")->share_estimate, 0.992440436642594, 1e-7);
  assert_near (fixture_criterion_in (ten, "C1")->share_low, 0.880779277992738, 1e-6);

  fill_standard (values, 20);
  twenty = measured_standing (values, 20, BOOK_SHAPE_NORMAL, -2.6, 2.6, 0.95);
  assert_near (fixture_criterion_in (twenty, "C1")->confidence, 0.910233373128166, 1e-7);
}

static void
test_measured_least (void)
{
  static const double values[] = { 12.1, 12.4, 11.8, 12.9, 12.2, 12.6, 12.0, 12.3, 13.1, 12.5 };
  g_autoptr(InsightStanding) standing = measured_standing (values, 10, BOOK_SHAPE_NORMAL, -INFINITY, 14.2, 0.99);
  const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

  /* SciPy 1.10.1: nct on the values 0.9775019042596566, on their logarithms 0.9665541827323177 */
  assert_near (criterion->confidence, 0.9665541827323177, 1e-9);
  assert_said (criterion, INSIGHT_REASON_LOG_NORMAL);
  assert_near (insight_criterion_find_reason (criterion, INSIGHT_REASON_LOG_NORMAL)->numbers[0], 0.9775019042596566, 1e-9);
}

static void
test_shape_unknown (void)
{
  static const double values[] = { 5.1, 5.0, 5.2, 4.9, 5.3, 5.1, 5.0, 5.2, 5.6, 5.1 };
  g_autoptr(InsightStanding) standing = measured_standing (values, 10, BOOK_SHAPE_UNKNOWN, 4.5, 5.5, 0.90);
  const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

  /* SciPy 1.10.1: 1 - binom.cdf (1, 10, 0.1): one of ten is outside */
  assert_near (criterion->confidence, 0.2639010708999999, 1e-9);
  g_assert_cmpuint (criterion->failed, ==, 1);
  assert_said (criterion, INSIGHT_REASON_SHAPE_UNKNOWN);
}

static void
test_below_six (void)
{
  double values[4];
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fill_standard (values, 4);
  standing = measured_standing (values, 4, BOOK_SHAPE_NORMAL, -INFINITY, 9.0, 0.90);
  criterion = fixture_criterion_in (standing, "C1");
  g_assert_cmpfloat (criterion->confidence, >, 0.99);
  g_assert_true (criterion->so_far);
  assert_state (criterion, INSIGHT_TOO_FEW);
  assert_said (criterion, INSIGHT_REASON_BELOW_SIX);
}

static void
test_measured_against (void)
{
  double values[8];
  g_autoptr(InsightStanding) standing = NULL;

  fill_standard (values, 8);
  standing = measured_standing (values, 8, BOOK_SHAPE_NORMAL, -INFINITY, 0.0, 0.90);
  /* half of the units are outside: the contrary is all but certain */
  g_assert_cmpfloat (fixture_criterion_in (standing, "C1")->contrary, >, 0.99);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_AGAINST);
}

static const double lot_values[3][5] = { { 52.1, 52.6, 51.8, 52.3, 52.4 }, { 53.0, 52.7, 53.4, 53.1, 52.9 },
                                         { 51.9, 52.2, 51.6, 52.0, 52.3 } };

static InsightStanding *
lots_standing (guint n_lots, gboolean strict)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  int part = fixture_part (f, "SPRING");
  int revision = fixture_revision (f, part, "A", "2026-01-01");
  int c = fixture_measured (f, "FORCE", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int first = fixture_units (f, round, 15);

  fixture_plan (f, round, part, revision, -1, "");
  fixture_limit (f, c, "2026-01-01", 50.0, INFINITY);
  ask (f, BOOK_CRITERION_MEASURED, c, 0.99, 0.90);
  f->e->criteria[0].strict = strict;
  for (guint l = 0; l < n_lots; l++)
    fixture_lot (f, part, "L");
  for (int i = 0; i < 15; i++)
    {
      fixture_unit_part (f, first + i, part, revision, MIN (i / 5, (int) n_lots - 1));
      fixture_value (f, first + i, c, lot_values[i / 5][i % 5]);
    }
  return fixture_standing (f, NULL);
}

static void
test_three_lots (void)
{
  g_autoptr(InsightStanding) standing = lots_standing (3, FALSE);
  const InsightCriterion *criterion = fixture_criterion_in (standing, "C1");

  /* NumPy 1.24.2, two million draws of the generalised confidence: 0.7465235; pooled by quadrature in SciPy 1.10.1:
   * 0.9962158878309436. The standard error of two million draws is 0.0003 */
  g_assert_cmpfloat_with_epsilon (criterion->confidence, 0.7465235, 0.001);
  g_assert_cmpint (criterion->method, ==, INSIGHT_METHOD_LOTS);
  g_assert_cmpuint (criterion->lots, ==, 3);
  g_assert_cmpfloat (insight_criterion_find_reason (criterion, INSIGHT_REASON_LOTS_DECIDED)->numbers[1], >, 0.98);
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_true (isnan (criterion->share_low)); /* the pooled bound would claim too much */
  g_assert_cmpint (((const InsightStep *) standing->steps->pdata[0])->code, ==, INSIGHT_STEP_MORE_LOTS);
}

static void
test_two_lots (void)
{
  g_autoptr(InsightStanding) plain = lots_standing (2, FALSE);
  g_autoptr(InsightStanding) strict = lots_standing (2, TRUE);

  assert_said (fixture_criterion_in (plain, "C1"), INSIGHT_REASON_LOTS_FEW);
  assert_state (fixture_criterion_in (plain, "C1"), INSIGHT_MET);
  assert_said (fixture_criterion_in (strict, "C1"), INSIGHT_REASON_LOTS_THIRD);
  assert_state (fixture_criterion_in (strict, "C1"), INSIGHT_TOO_FEW);
  g_assert_cmpint (((const InsightStep *) strict->steps->pdata[0])->code, ==, INSIGHT_STEP_THIRD_LOT);
}

static void
test_disposition (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  int first = fixture_units (f, round, 40);
  g_autoptr(InsightStanding) without = NULL;
  g_autoptr(InsightStanding) with = NULL;

  ask (f, BOOK_CRITERION_CHECKED, c, 0.90, 0.90);
  for (int i = 0; i < 40; i++)
    fixture_check (f, first + i, c, i != 7);
  without = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (without, "C1"), INSIGHT_TOO_FEW);
  g_assert_cmpstr (insight_criterion_find_reason (fixture_criterion_in (without, "C1"), INSIGHT_REASON_DISPOSITION)->names[0],
                   ==, "P1-008");

  /* R 4.2.2: 1 - pbinom (1, 40, 0.1) = 0.9195 */
  fixture_finding (f, fixture_issue (f, c), first + 7, BOOK_DISPOSITION_USE_AS_IS, FALSE, "2026-01-25");
  with = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (with, "C1"), INSIGHT_MET);
  /* another issue's disposition says nothing about this one */
  f->e->issues[0].seen_by = fixture_checked (f, "RUB", BOOK_CLASS_APPEARANCE);
  g_clear_pointer (&with, insight_standing_unref);
  with = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (with, "C1"), INSIGHT_TOO_FEW);
}

static void
test_safety_count (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int owner = fixture_person (f, "MO", BOOK_ROLE_OWNER);
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  int c = fixture_checked (f, "HOLD", BOOK_CLASS_SAFETY);
  g_autoptr(InsightStanding) lead = NULL;
  g_autoptr(InsightStanding) by_owner = NULL;

  ask (f, BOOK_CRITERION_CHECKED, c, 0.90, 0.90);
  add_checks (f, round, c, 60, 0);
  lead = fixture_standing (f, NULL);
  assert_said (fixture_criterion_in (lead, "C1"), INSIGHT_REASON_COUNT_NOT_SAFETY);
  assert_state (fixture_criterion_in (lead, "C1"), INSIGHT_TOO_FEW);

  f->e->terms[0].person = owner;
  by_owner = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (by_owner, "C1"), INSIGHT_MET);
}

static void
test_safety_strength (void)
{
  double values[10];
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  int c = fixture_measured (f, "SLIP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  int first = fixture_units (f, round, 10);
  g_autoptr(InsightStanding) inside = NULL;
  g_autoptr(InsightStanding) short_of = NULL;

  /* Ten units, mean 6.92 deviations inside at the 0.975 wanted at the first look, at a share of 0.9999:
   * scipy.stats.nct.ppf (0.975, 9, norm.ppf (0.9999) * sqrt (10)) / sqrt (10) = 6.92 */
  fill_standard (values, 10);
  for (int i = 0; i < 10; i++)
    fixture_value (f, first + i, c, values[i]);
  fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, c);
  fixture_limit (f, c, "2026-01-01", -6.93, INFINITY);
  inside = fixture_standing (f, NULL);
  assert_near (fixture_criterion_in (inside, "C1")->wanted, 0.975, 1e-12);
  assert_state (fixture_criterion_in (inside, "C1"), INSIGHT_MET);
  assert_said (fixture_criterion_in (inside, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);
  assert_said (fixture_criterion_in (inside, "C1"), INSIGHT_REASON_TERM_MISSING);

  f->e->limits[0].lower = -6.91;
  short_of = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (short_of, "C1"), INSIGHT_TOO_FEW);
}

static void
test_guard_band (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  int c = fixture_measured (f, "GAP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  int unit = fixture_units (f, round, 2);
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  /* g = 1.645 * 0.1 / sqrt (12) = 0.0474870 (JCGM 106:2012: guard band of a resolution alone) */
  f->e->characteristics[c].gauge = fixture_gauge (f, "Caliper", 0.1);
  fixture_limit (f, c, "2026-01-01", 1.0, INFINITY);
  fixture_value (f, unit, c, 1.04);
  fixture_value (f, unit + 1, c, 1.05);
  fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, c);
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  assert_near (insight_criterion_find_reason (criterion, INSIGHT_REASON_GUARD_BAND)->numbers[0], 0.0474870597, 1e-6);
  g_assert_cmpuint (criterion->n, ==, 2);
  g_assert_cmpuint (criterion->failed, ==, 1);
}

static void
test_no_limits (void)
{
  double values[8];
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  g_autoptr(InsightStanding) standing = NULL;

  fill_standard (values, 8);
  add_values (f, round, c, values, 8);
  ask (f, BOOK_CRITERION_MEASURED, c, 0.90, 0.90);
  standing = fixture_standing (f, NULL);
  assert_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_LIMITS_MISSING);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_TOO_FEW);
  g_assert_true (isnan (fixture_criterion_in (standing, "C1")->confidence));
}

static void
test_detection (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_checked (f, "RUB", BOOK_CLASS_FUNCTION);
  g_autoptr(InsightStanding) standing = NULL;
  double d, tolerated;

  add_checks (f, round, c, 30, 0);
  ask (f, BOOK_CRITERION_CHECKED, c, 0.90, 0.90);
  f->e->bad_trials = g_new0 (BookEvidenceBadTrial, 40);
  f->e->n_bad_trials = 40;
  for (guint i = 0; i < 40; i++)
    f->e->bad_trials[i] = (BookEvidenceBadTrial){ .characteristic = c, .person_id = 1 + i / 20, .day = 1, .caught = TRUE,
                                                  .gauge = -1, .piece = "", .trial = (int) i };
  standing = fixture_standing (f, NULL);

  /* 20 of 20 found by each: the one-sided exact bound is 0.1^(1/20) (Clopper and Pearson, closed form without a miss) */
  d = pow (0.1, 1.0 / 20.0);
  tolerated = 0.1 * d;
  assert_near (insight_criterion_find_reason (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_DETECTION)->numbers[0], d, 1e-9);
  assert_near (fixture_criterion_in (standing, "C1")->confidence, 1.0 - pow (1.0 - tolerated, 30.0), 1e-9);
  assert_not_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_MISSES_NOTHING);
}

static void
test_censored (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_measured (f, "SLIP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int first = fixture_units (f, round, 10);
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fixture_limit (f, c, "2026-01-01", 250.0, INFINITY);
  ask (f, BOOK_CRITERION_MEASURED, c, 0.90, 0.90);
  for (int i = 0; i < 8; i++)
    fixture_value (f, first + i, c, 300.0 + i);
  fixture_reading (f, first + 8, c, 1, 1, BOOK_MARK_ABOVE, 400.0, "2026-01-21"); /* inside whatever it is */
  fixture_reading (f, first + 9, c, 1, 1, BOOK_MARK_BELOW, 400.0, "2026-01-21"); /* cannot be told: counts as failing */
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  assert_said (criterion, INSIGHT_REASON_CENSORED);
  assert_said (criterion, INSIGHT_REASON_UNDECIDABLE);
  g_assert_cmpuint (criterion->n, ==, 10);
  g_assert_cmpuint (criterion->failed, ==, 1);
  /* SciPy 1.10.1: 1 - binom.cdf (1, 10, 0.1) */
  assert_near (criterion->confidence, 0.2639010708999999, 1e-9);
}

static void
test_not_tested (void)
{
  double values[10];
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  int c = fixture_measured (f, "SLIP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fill_standard (values, 10);
  add_values (f, round, c, values, 10);
  fixture_limit (f, c, "2026-01-01", -8.0, INFINITY);
  fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, c);
  f->e->rounds[round].tested = 0;
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  g_assert_true (criterion->so_far);
  g_assert_cmpfloat (criterion->confidence, >, criterion->wanted);
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_cmpint (((const InsightStep *) standing->steps->pdata[0])->code, ==, INSIGHT_STEP_FINISH_ROUND);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/confidence/checked-is-the-exact-binomial", test_checked_plain);
  g_test_add_func ("/insight/confidence/says-how-many-units-are-needed", test_checked_needs);
  g_test_add_func ("/insight/confidence/strict-check-is-any-time", test_checked_strict);
  g_test_add_func ("/insight/confidence/strict-costs-33-units-for-22", test_strict_price);
  g_test_add_func ("/insight/confidence/failures-speak-against", test_checked_against);
  g_test_add_func ("/insight/confidence/two-units-speak-against-nothing", test_against_needs_three);
  g_test_add_func ("/insight/confidence/one-limit-is-the-tolerance-factor", test_measured_one_sided);
  g_test_add_func ("/insight/confidence/two-limits-integrate-the-deviation", test_measured_two_sided);
  g_test_add_func ("/insight/confidence/normal-takes-the-lower-of-two-shapes", test_measured_least);
  g_test_add_func ("/insight/confidence/unknown-shape-is-counted", test_shape_unknown);
  g_test_add_func ("/insight/confidence/below-six-is-so-far", test_below_six);
  g_test_add_func ("/insight/confidence/values-speak-against", test_measured_against);
  g_test_add_func ("/insight/confidence/three-lots-are-a-grouping-factor", test_three_lots);
  g_test_add_func ("/insight/confidence/two-lots-are-named", test_two_lots);
  g_test_add_func ("/insight/confidence/a-failing-unit-needs-a-disposition", test_disposition);
  g_test_add_func ("/insight/confidence/a-count-does-not-meet-safety", test_safety_count);
  g_test_add_func ("/insight/confidence/a-strength-meets-safety-with-ten-units", test_safety_strength);
  g_test_add_func ("/insight/confidence/safety-limits-are-pulled-in", test_guard_band);
  g_test_add_func ("/insight/confidence/limits-are-missing", test_no_limits);
  g_test_add_func ("/insight/confidence/detection-lowers-the-tolerated-share", test_detection);
  g_test_add_func ("/insight/confidence/readings-beyond-the-gauge-are-counted", test_censored);
  g_test_add_func ("/insight/confidence/strict-waits-for-the-end-of-testing", test_not_tested);
  return g_test_run ();
}
