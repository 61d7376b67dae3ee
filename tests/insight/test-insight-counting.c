/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which readings of a unit count, and by which limits. The rules are the program's own (see DEVELOPERS.md); expected counts
 * follow from them.
 */
#include "config.h"
#include "evidence-fixture.h"

/* A round of ten units with one checked or measured characteristic, judged at 0.9 and 0.9. */
typedef struct
{
  Fixture *f;
  int      round, c, first;
} One;

static void
one_up (One *one, BookCharacteristicKind kind, BookClass klass)
{
  Fixture *f = one->f = fixture_new ();

  one->round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE);
  one->c = kind == BOOK_CHARACTERISTIC_CHECKED ? fixture_checked (f, "HOLD", klass)
                                               : fixture_measured (f, "FORCE", klass, BOOK_SHAPE_NORMAL);
  one->first = fixture_units (f, one->round, 10);
  fixture_term (f, fixture_criterion (f, "C1", kind == BOOK_CHARACTERISTIC_CHECKED ? BOOK_CRITERION_CHECKED
                                                                                  : BOOK_CRITERION_MEASURED, one->c),
                "2026-01-01", 0.90, 0.90);
}

static void
test_first_attempt (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  for (int i = 0; i < 10; i++)
    fixture_check (one.f, one.first + i, one.c, i != 0);
  fixture_reading (one.f, one.first, one.c, 2, 1, BOOK_MARK_PASSED, NAN, "2026-01-22"); /* retested until it passes */
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 10);
  g_assert_cmpuint (criterion->failed, ==, 1);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_LATER_ATTEMPTS)->counts[0], ==, 1);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_LATER_ATTEMPTS)->counts[1], ==, 1);
  fixture_free (one.f);
}

static void
test_voided_first_attempt (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  for (int i = 0; i < 10; i++)
    fixture_check (one.f, one.first + i, one.c, i != 0);
  one.f->e->readings[0].voided = TRUE;
  fixture_reading (one.f, one.first, one.c, 2, 1, BOOK_MARK_PASSED, NAN, "2026-01-22");
  criterion = fixture_judge (one.f, NULL, &standing); /* the second attempt does not become the first */
  g_assert_cmpuint (criterion->n, ==, 9);
  g_assert_cmpuint (criterion->voided, ==, 1);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_VOIDED)->counts[0], ==, 1);
  g_assert_cmpuint (criterion->attempts, ==, 2);

  fixture_reading (one.f, one.first, one.c, 1, 2, BOOK_MARK_PASSED, NAN, "2026-01-21"); /* entered again, same attempt */
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 10);
  g_assert_cmpuint (criterion->attempts, ==, 1);
  fixture_free (one.f);
}

static void
test_units_not_repeats (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;
  static const struct
  {
    BookPerUnit rule;
    double mean;
    guint failed;
  } rows[] = { { BOOK_PER_UNIT_MEAN, 11.0, 0 }, { BOOK_PER_UNIT_WORST, 14.0, 1 }, { BOOK_PER_UNIT_FIRST, 10.0, 0 } };

  one_up (&one, BOOK_CHARACTERISTIC_MEASURED, BOOK_CLASS_FUNCTION);
  fixture_limit (one.f, one.c, "2026-01-01", 8.0, 13.0);
  fixture_reading (one.f, one.first, one.c, 1, 1, BOOK_MARK_MEASURED, 10.0, "2026-01-21");
  fixture_reading (one.f, one.first, one.c, 1, 2, BOOK_MARK_MEASURED, 14.0, "2026-01-21");
  fixture_reading (one.f, one.first, one.c, 1, 3, BOOK_MARK_MEASURED, 9.0, "2026-01-21");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      one.f->e->characteristics[one.c].per_unit = rows[i].rule;
      criterion = fixture_judge (one.f, NULL, &standing);
      g_assert_cmpuint (criterion->n, ==, 1);
      g_assert_cmpfloat_with_epsilon (criterion->mean, rows[i].mean, 1e-12);
      g_assert_cmpuint (criterion->failed, ==, rows[i].failed);
    }
  fixture_free (one.f);
}

static void
test_any_opportunity (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  for (guint n = 1; n <= 5; n++)
    fixture_reading (one.f, one.first, one.c, 1, n, n == 4 ? BOOK_MARK_FAILED : BOOK_MARK_PASSED, NAN, "2026-01-21");
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 1);
  g_assert_cmpuint (criterion->failed, ==, 1);
  fixture_free (one.f);
}

static void
test_deciding_step (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;
  int fitting, bench;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  fitting = fixture_step (one.f, "Fit");
  bench = fixture_step (one.f, "Bench test");
  one.f->e->characteristics[one.c].step = bench;
  fixture_reading (one.f, one.first, one.c, 1, 1, BOOK_MARK_FAILED, NAN, "2026-01-20");
  one.f->e->readings[0].step = (gint16) fitting;
  fixture_reading (one.f, one.first, one.c, 2, 1, BOOK_MARK_PASSED, NAN, "2026-01-21");
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 1);
  g_assert_cmpuint (criterion->failed, ==, 0);
  fixture_free (one.f);
}

static void
test_altered (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;
  int lead, issue, change;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  lead = fixture_person (one.f, "EH", BOOK_ROLE_LEAD);
  issue = fixture_issue (one.f, -1);
  fixture_event (one.f, one.first, BOOK_EVENT_ALTERED, "2026-01-22T10:00", -1, issue);
  fixture_event (one.f, one.first + 1, BOOK_EVENT_ALTERED, "2026-01-22T10:00", -1, issue);
  fixture_event (one.f, one.first + 2, BOOK_EVENT_ALTERED, "2026-01-22T10:00", -1, issue);
  fixture_reading (one.f, one.first, one.c, 1, 1, BOOK_MARK_PASSED, NAN, "2026-01-23"); /* after */
  fixture_reading (one.f, one.first + 1, one.c, 1, 1, BOOK_MARK_PASSED, NAN, "2026-01-22"); /* no time: before */
  fixture_reading (one.f, one.first + 2, one.c, 1, 1, BOOK_MARK_PASSED, NAN, "2026-01-22T11:30"); /* after */
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 1);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_ALTERED)->counts[0], ==, 2);

  change = fixture_change (one.f, "2026-01-10");
  fixture_carry (one.f, change, one.c, lead, -1);
  fixture_change_issue (one.f, change, issue);
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->n, ==, 3);
  fixture_free (one.f);
}

static void
test_excused (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  const InsightReason *reason;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  fixture_person (one.f, "MO", BOOK_ROLE_OWNER);
  for (int i = 0; i < 10; i++)
    fixture_check (one.f, one.first + i, one.c, i != 0);
  fixture_finding (one.f, fixture_issue (one.f, one.c), one.first, BOOK_DISPOSITION_USE_AS_IS, TRUE, "2026-01-25");
  fixture_event (one.f, one.first + 1, BOOK_EVENT_SET_ASIDE, "2026-01-25", -1, -1);
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 8);
  reason = insight_criterion_find_reason (criterion, INSIGHT_REASON_EXCUSED);
  g_assert_cmpint (reason->counts[0], ==, 2);
  g_assert_cmpint (reason->counts[1], ==, 1); /* taken out after failing */
  g_assert_cmpstr (reason->names[0], ==, "A-001");
  g_assert_cmpstr (reason->names[1], ==, "MO");
  g_assert_cmpstr (reason->names[2], ==, "as said");
  fixture_free (one.f);
}

static void
test_gauge_out (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  const InsightReason *reason;
  One one;
  guint excused;
  int gauge;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  gauge = fixture_gauge (one.f, "Caliper 3", 0.01);
  one.f->e->characteristics[one.c].gauge = gauge;
  for (int i = 0; i < 10; i++)
    fixture_reading (one.f, one.first + i, one.c, 1, 1, BOOK_MARK_PASSED, NAN, i < 5 ? "2026-01-10" : "2026-02-10");
  fixture_calibration (one.f, gauge, "2026-01-05", "2026-01-31", TRUE);
  criterion = fixture_judge (one.f, NULL, &standing); /* past its due date on 10 February */
  g_assert_cmpuint (criterion->n, ==, 5);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_GAUGE_OUT)->counts[0], ==, 5);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_GAUGE_OUT)->names[0], ==, "Caliper 3");

  fixture_calibration (one.f, gauge, "2026-02-05", "2027-02-05", TRUE);
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->n, ==, 10);
  fixture_calibration (one.f, gauge, "2026-02-20", "2027-02-20", FALSE); /* takes those since the one before it */
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 5);
  assert_not_said (criterion, INSIGHT_REASON_GAUGE_EXCUSED);

  /* until somebody excuses them by name; what was read past the due date stays out */
  excused = one.f->e->n_calibrations - 1;
  one.f->e->calibrations[excused].excused_by = fixture_person (one.f, "EH", BOOK_ROLE_LEAD);
  one.f->e->calibrations[excused].excused_on = book_day_parse ("2026-02-22", NULL);
  one.f->e->calibrations[excused].reason = "0.02 off at 25 mm, nothing at 10";
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 10);
  reason = insight_criterion_find_reason (criterion, INSIGHT_REASON_GAUGE_EXCUSED);
  g_assert_cmpint (reason->counts[0], ==, 5);
  g_assert_cmpstr (reason->names[0], ==, "Caliper 3");
  g_assert_cmpstr (reason->names[1], ==, "EH");
  g_assert_cmpstr (reason->names[2], ==, "0.02 off at 25 mm, nothing at 10");

  one.f->e->calibrations[excused].excused_on = book_day_parse ("2027-01-02", NULL); /* not yet */
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->n, ==, 5);
  fixture_free (one.f);
}

static void
test_limits_rejudge (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  const InsightReason *reason;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_MEASURED, BOOK_CLASS_FUNCTION);
  fixture_limit (one.f, one.c, "2026-01-01", 8.0, 12.0);
  for (int i = 0; i < 10; i++)
    fixture_value (one.f, one.first + i, one.c, 10.0 + 0.3 * i);
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->failed, ==, 3); /* 12.1, 12.4, 12.7 */
  fixture_limit (one.f, one.c, "2026-02-01", 8.0, 11.0); /* narrower: judges all readings, named nowhere */
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->failed, ==, 6);
  assert_not_said (criterion, INSIGHT_REASON_LIMIT_WIDENED);
  fixture_limit (one.f, one.c, "2026-02-10", 8.0, 12.5);
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->failed, ==, 1);
  reason = insight_criterion_find_reason (criterion, INSIGHT_REASON_LIMIT_WIDENED);
  g_assert_cmpstr (reason->names[0], ==, "2026-02-10");
  g_assert_cmpfloat (reason->numbers[3], ==, 12.5);
  fixture_limit (one.f, one.c, "2027-03-01", 8.0, 20.0); /* dated later: not seen */
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->failed, ==, 1);
  fixture_free (one.f);
}

static void
test_widened_safety (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_MEASURED, BOOK_CLASS_SAFETY);
  fixture_limit (one.f, one.c, "2026-01-01", 8.0, 12.0);
  fixture_limit (one.f, one.c, "2026-02-01", 7.0, 12.0);
  for (int i = 0; i < 10; i++)
    fixture_reading (one.f, one.first + i, one.c, 1, 1, BOOK_MARK_MEASURED, 10.0 + 0.1 * i,
                     i < 6 ? "2026-01-21" : "2026-02-02");
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 4); /* new units only */
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_WIDENED_SAFETY)->counts[0], ==, 6);
  assert_said (criterion, INSIGHT_REASON_LIMIT_WIDENED);
  fixture_free (one.f);
}

static void
test_older_limit_checks (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_CHECKED, BOOK_CLASS_FUNCTION);
  for (int i = 0; i < 10; i++)
    fixture_reading (one.f, one.first + i, one.c, 1, 1, BOOK_MARK_PASSED, NAN, i < 6 ? "2026-01-21" : "2026-02-02");
  fixture_limit (one.f, one.c, "2026-01-01", 8.0, 12.0);
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->n, ==, 10);
  fixture_limit (one.f, one.c, "2026-02-01", 8.5, 12.0);
  criterion = fixture_judge (one.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 4);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_OLDER_LIMIT)->counts[0], ==, 6);
  fixture_free (one.f);
}

static void
test_on_the_limit (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  One one;

  one_up (&one, BOOK_CHARACTERISTIC_MEASURED, BOOK_CLASS_FUNCTION);
  fixture_limit (one.f, one.c, "2026-01-01", 0.1, 0.3);
  fixture_reading (one.f, one.first, one.c, 1, 1, BOOK_MARK_MEASURED, 0.3, "2026-01-21");
  /* a mean that is the limit on paper: 0.1 + 0.2 is not 0.3 in binary */
  fixture_reading (one.f, one.first + 1, one.c, 1, 1, BOOK_MARK_MEASURED, 0.1 + 0.2, "2026-01-21");
  fixture_reading (one.f, one.first + 2, one.c, 1, 1, BOOK_MARK_MEASURED, 0.30001, "2026-01-21");
  g_assert_cmpuint (fixture_judge (one.f, NULL, &standing)->failed, ==, 1);
  fixture_free (one.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/counting/the-first-attempt-is-the-evidence", test_first_attempt);
  g_test_add_func ("/insight/counting/voiding-does-not-promote-a-retest", test_voided_first_attempt);
  g_test_add_func ("/insight/counting/repeats-are-one-unit", test_units_not_repeats);
  g_test_add_func ("/insight/counting/any-failed-opportunity-fails-the-unit", test_any_opportunity);
  g_test_add_func ("/insight/counting/only-the-deciding-step-is-evidence", test_deciding_step);
  g_test_add_func ("/insight/counting/after-an-alteration-nothing-counts", test_altered);
  g_test_add_func ("/insight/counting/excused-units-are-named", test_excused);
  g_test_add_func ("/insight/counting/a-gauge-out-of-calibration-takes-its-readings", test_gauge_out);
  g_test_add_func ("/insight/counting/limits-judge-old-readings-anew", test_limits_rejudge);
  g_test_add_func ("/insight/counting/a-widened-safety-limit-needs-new-units", test_widened_safety);
  g_test_add_func ("/insight/counting/checks-to-an-older-limit-do-not-count", test_older_limit_checks);
  g_test_add_func ("/insight/counting/on-the-limit-is-inside", test_on_the_limit);
  return g_test_run ();
}
