/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One characteristic through the rounds, and where the rounds' days went. */
#include "config.h"
#include "evidence-fixture.h"

static InsightSeries *
series_of (Fixture *f, int characteristic, const char *today)
{
  InsightSpan span = { 0, today };
  g_autoptr(GError) error = NULL;
  InsightSeries *series;

  fixture_finish (f);
  series = insight_series (f->e, f->e->characteristics[characteristic].id, &span, NULL, &error);
  g_assert_no_error (error);
  return series;
}

static void
test_marks (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  int p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-01", FALSE);
  int part = fixture_part (f, "LEVER"), c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int first, second, typed_wrong;
  g_autoptr(InsightSeries) series = NULL;

  fixture_plan (f, p1, part, fixture_revision (f, part, "A", "2026-01-01"), -1, "");
  fixture_plan (f, p2, part, fixture_revision (f, part, "B", "2026-02-15"), -1, "");
  first = fixture_units (f, p1, 2);
  second = fixture_units (f, p2, 2);
  fixture_limit (f, c, "2026-01-01", 1.0, 2.0);
  fixture_limit (f, c, "2026-03-15", 1.0, 2.5);
  fixture_value (f, first, c, 1.5);
  fixture_value (f, first + 1, c, 2.6);
  fixture_reading (f, first + 1, c, 2, 1, BOOK_MARK_MEASURED, 1.7, "2026-01-25"); /* after rework */
  typed_wrong = fixture_value (f, second, c, 120.0);
  f->e->readings[typed_wrong].voided = TRUE;
  fixture_reading (f, second, c, 1, 2, BOOK_MARK_MEASURED, 1.2, "2026-03-21");
  fixture_value (f, second + 1, c, 2.2);
  series = series_of (f, c, "2027-01-01");

  g_assert_cmpuint (series->n_marks, ==, 6);
  g_assert_cmpstr (series->marks[0].serial, ==, "P1-001");
  g_assert_cmpint (series->marks[0].counting, ==, INSIGHT_NOT_STATE);
  g_assert_cmpint (series->marks[0].verdict, ==, INSIGHT_INSIDE);
  g_assert_cmpint (series->marks[1].verdict, ==, INSIGHT_OUTSIDE);
  g_assert_cmpuint (series->marks[2].attempt, ==, 2);
  g_assert_cmpint (series->marks[2].counting, ==, INSIGHT_NOT_LATER_ATTEMPT);
  g_assert_cmpfloat (series->marks[3].value, ==, 1.2);
  g_assert_cmpint (series->marks[3].counting, ==, INSIGHT_COUNTS);
  g_assert_cmpint (series->marks[4].counting, ==, INSIGHT_NOT_VOIDED);
  g_assert_cmpfloat (series->marks[4].value, ==, 120.0);
  g_assert_cmpstr (series->marks[5].date, ==, "2026-03-21");

  g_assert_cmpuint (series->n_limits, ==, 2);
  g_assert_cmpint (series->now, ==, 1);
  g_assert_cmpfloat (series->limits[0].from, ==, 0.0);
  g_assert_cmpfloat (series->limits[1].from, ==, 1.0); /* before the first reading of P2 */
  g_assert_cmpuint (series->n, ==, 2);
  assert_near (series->mean, 1.7, 1e-12);
  g_assert_true (series->rounds[0].no_longer);
  g_assert_false (series->rounds[1].no_longer);
  g_assert_true (series->rounds[1].current);
}

static void
test_round_mean (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL), first = fixture_units (f, round, 5);
  g_autoptr(InsightSeries) series = NULL;

  for (int i = 0; i < 5; i++)
    fixture_value (f, first + i, c, i + 1.0);
  series = series_of (f, c, "2027-01-01");
  /* R: t.test (1:5) gives 3 with 1.036757 to 4.963243 */
  assert_near (series->rounds[0].mean, 3.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (series->rounds[0].low, 1.036757, 1e-6);
  g_assert_cmpfloat_with_epsilon (series->rounds[0].high, 4.963243, 1e-6);
  g_assert_cmpint (series->now, ==, -1);
  g_assert_cmpint (series->marks[0].verdict, ==, INSIGHT_NO_VERDICT);
}

static void
test_round_share (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION), first = fixture_units (f, round, 10);
  g_autoptr(InsightSeries) series = NULL;

  for (int i = 0; i < 10; i++)
    fixture_check (f, first + i, c, i != 3);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, c), "2026-01-01", 0.95, 0.90);
  series = series_of (f, c, "2027-01-01");
  /* R: binom.test (1, 10) gives 0.002528579 to 0.4450161 */
  assert_near (series->rounds[0].mean, 0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (series->rounds[0].low, 0.002528579, 1e-7);
  g_assert_cmpfloat_with_epsilon (series->rounds[0].high, 0.4450161, 1e-6);
  assert_near (series->tolerated, 0.05, 1e-9);
  g_assert_cmpuint (series->failed, ==, 1);
}

static void
test_later_is_not_seen (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  int c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION), first = fixture_units (f, round, 2);
  g_autoptr(InsightSeries) series = NULL;

  fixture_check (f, first, c, TRUE);
  fixture_reading (f, first + 1, c, 1, 1, BOOK_MARK_FAILED, NAN, "2026-03-01");
  series = series_of (f, c, "2026-02-01");
  g_assert_cmpuint (series->n, ==, 1);
  g_assert_cmpuint (series->n_marks, ==, 2);
  g_assert_cmpint (series->marks[1].counting, ==, INSIGHT_NOT_SPAN);
}

static void
test_unknown_characteristic (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  InsightSpan span = { 0, "2026-01-01" };
  g_autoptr(GError) error = NULL;

  fixture_finish (f);
  g_assert_null (insight_series (f->e, 4711, &span, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_CHARACTERISTIC);
}

static void
test_days (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE); /* a Monday */
  g_autoptr(InsightDays) days = NULL;
  g_autoptr(GError) error = NULL;
  BookEvidenceRound *round = &f->e->rounds[p1];

  round->design_fixed = book_day_parse ("2026-01-12", NULL);
  round->built = book_day_parse ("2026-01-26", NULL);
  round->tested = book_day_parse ("2026-01-30", NULL);
  round->decided = book_day_parse ("2026-02-02", NULL);
  f->e->holidays = g_new0 (BookDay, 1);
  f->e->holidays[0] = book_day_parse ("2026-01-07", NULL);
  f->e->n_holidays = 1;
  fixture_wait (f, p1, BOOK_WAIT_OTHER, -1, "2026-01-14", "2026-01-20"); /* overlapping ones count once */
  fixture_wait (f, p1, BOOK_WAIT_OTHER, -1, "2026-01-19", "2026-01-21");
  fixture_finish (f);
  days = insight_days (f->e, "2026-06-01", &error);
  g_assert_no_error (error);

  /* Counted on a calendar of January 2026, the day after the first up to and including the last of each phase. */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_DESIGN], ==, 4); /* 6, 8, 9, 12 */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_WAIT], ==, 5);   /* 15, 16, 19, 20, 21 */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_MAKE], ==, 5);   /* 13, 14, 22, 23, 26 */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_TEST], ==, 4);   /* 27 to 30 */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_DECIDE], ==, 1); /* 2 February */
  g_assert_cmpfloat (days->rounds[0].total, ==, 19);
  g_assert_false (days->rounds[0].open);
}

static void
test_open_days (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", FALSE);
  g_autoptr(InsightDays) days = NULL;
  BookEvidenceRound *round = &f->e->rounds[p1];

  round->design_fixed = book_day_parse ("2026-01-12", NULL);
  round->built = round->tested = 0;
  fixture_wait (f, p1, BOOK_WAIT_OTHER, -1, "2026-01-15", NULL); /* lasts */
  fixture_finish (f);
  days = insight_days (f->e, "2026-01-21", NULL);
  g_assert_true (days->rounds[0].open);
  g_assert_cmpint (days->rounds[0].phase, ==, INSIGHT_PHASE_MAKE);
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_MAKE], ==, 3); /* 13 to 15 */
  g_assert_cmpfloat (days->rounds[0].days[INSIGHT_PHASE_WAIT], ==, 4); /* 16, 19, 20, 21 */
}

static void
test_working_week (void)
{
  g_autoptr(Fixture) f = fixture_new ();

  g_assert_cmpuint (insight_days_working (f->e, "2026-01-05", "2026-01-05"), ==, 0);
  g_assert_cmpuint (insight_days_working (f->e, "2026-01-05", "2026-01-06"), ==, 1);
  g_assert_cmpuint (insight_days_working (f->e, "2026-01-09", "2026-01-12"), ==, 1); /* over a week-end */
  f->e->week[5] = 4.0; /* Saturdays too */
  g_assert_cmpuint (insight_days_working (f->e, "2026-01-09", "2026-01-12"), ==, 2);
  g_assert_cmpuint (insight_days_working (f->e, "2026-01-12", "2026-01-09"), ==, 0);
  g_assert_cmpuint (insight_days_working (f->e, "", "2026-01-09"), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/series/every-reading-is-a-mark-with-its-reason", test_marks);
  g_test_add_func ("/insight/series/round-mean-has-a-t-interval", test_round_mean);
  g_test_add_func ("/insight/series/round-share-has-an-exact-interval", test_round_share);
  g_test_add_func ("/insight/series/later-readings-are-not-seen", test_later_is_not_seen);
  g_test_add_func ("/insight/series/refuses-an-unknown-characteristic", test_unknown_characteristic);
  g_test_add_func ("/insight/days/phases-without-waits", test_days);
  g_test_add_func ("/insight/days/an-open-phase-runs-to-today", test_open_days);
  g_test_add_func ("/insight/days/working-days-after-the-first", test_working_week);
  return g_test_run ();
}
