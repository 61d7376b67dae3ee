/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A round as it is filled in: which reading a cell shows, what is missing, how values are judged, and slipped points. */
#include "config.h"
#include "evidence-fixture.h"
#include "insight-entry.h"

#define TODAY "2026-05-01"

typedef struct
{
  Fixture *f;
  int      length, lock, units;
} Story;

static void
story_up (Story *story, double lower, double upper)
{
  Fixture *f = story->f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-03-01", FALSE);

  story->length = fixture_measured (f, "LE", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  story->lock = fixture_checked (f, "LK", BOOK_CLASS_SAFETY);
  fixture_limit (f, story->length, "2026-01-01", lower, upper);
  story->units = fixture_units (f, round, 4);
}

static InsightEntry *
enter (Story *story, guint attempt, guint repeat)
{
  g_autoptr(GError) error = NULL;
  InsightEntry *entry;

  fixture_finish (story->f);
  entry = insight_entry (story->f->e, story->f->e->rounds[0].id, attempt, repeat, TODAY, &error);
  g_assert_no_error (error);
  return entry;
}

/* A second reading is the second that stands; what was voided keeps its number, and the next one gets another. */
static void
test_cells (void)
{
  Story story;
  g_autoptr(InsightEntry) first = NULL;
  g_autoptr(InsightEntry) second = NULL;
  g_autoptr(InsightEntry) again = NULL;
  int voided, last;

  story_up (&story, 12.4, 12.6);
  fixture_reading (story.f, story.units, story.length, 1, 1, BOOK_MARK_MEASURED, 12.5, "2026-03-10");
  fixture_reading (story.f, story.units, story.length, 1, 2, BOOK_MARK_MEASURED, 12.51, "2026-03-10");
  fixture_reading (story.f, story.units, story.length, 2, 1, BOOK_MARK_MEASURED, 12.45, "2026-03-12");
  voided = fixture_reading (story.f, story.units + 1, story.length, 1, 1, BOOK_MARK_MEASURED, 13.5, "2026-03-10");
  story.f->e->readings[voided].voided = TRUE;
  voided = fixture_reading (story.f, story.units + 2, story.length, 1, 1, BOOK_MARK_MEASURED, 13.6, "2026-03-10");
  story.f->e->readings[voided].voided = TRUE;
  last = fixture_reading (story.f, story.units + 2, story.length, 1, 2, BOOK_MARK_MEASURED, 12.55, "2026-03-10");
  g_assert_cmpint (last, >, 0);

  first = enter (&story, 1, 1);
  g_assert_cmpfloat (insight_entry_cell (first, 0, 0)->value, ==, 12.5);
  g_assert_cmpuint (insight_entry_cell (first, 0, 0)->others, ==, 2);
  g_assert_cmpint (insight_entry_cell (first, 1, 0)->reading, ==, 0);
  g_assert_cmpint (insight_entry_cell (first, 1, 0)->voided, !=, 0);
  g_assert_cmpuint (insight_entry_cell (first, 1, 0)->n, ==, 2);
  g_assert_cmpfloat (insight_entry_cell (first, 2, 0)->value, ==, 12.55);
  g_assert_cmpint (insight_entry_cell (first, 2, 0)->voided, ==, 0);
  g_assert_cmpuint (insight_entry_cell (first, 2, 0)->n, ==, 2);
  g_assert_cmpuint (insight_entry_cell (first, 3, 0)->n, ==, 1);
  g_assert_cmpuint (first->attempts, ==, 2);

  /* Two lengths and four checks are missing. */
  g_assert_cmpuint (first->missing, ==, 6);
  g_assert_cmpuint (first->columns[0].missing, ==, 2);
  g_assert_cmpuint (first->columns[1].missing, ==, 4);
  g_assert_cmpuint (first->units[0].missing, ==, 1);
  g_assert_cmpuint (first->units[3].missing, ==, 2);
  insight_entry_put (first, 3, 0, 99, BOOK_MARK_MEASURED, 12.5);
  g_assert_cmpuint (first->missing, ==, 5);
  g_assert_cmpuint (first->units[3].missing, ==, 1);

  second = enter (&story, 1, 2);
  g_assert_cmpfloat (insight_entry_cell (second, 0, 0)->value, ==, 12.51);
  g_assert_cmpint (insight_entry_cell (second, 2, 0)->reading, ==, 0);
  g_assert_cmpuint (insight_entry_cell (second, 2, 0)->n, ==, 3);
  g_assert_cmpuint (second->missing, ==, 0); /* a second reading is nobody's duty */

  again = enter (&story, 2, 1);
  g_assert_cmpfloat (insight_entry_cell (again, 0, 0)->value, ==, 12.45);
  g_assert_cmpint (insight_entry_cell (again, 1, 0)->reading, ==, 0);
  fixture_free (story.f);
}

static void
test_judged (void)
{
  static const struct
  {
    double             lower;
    double             upper;
    BookMark           mark;
    double             value;
    InsightEntryJudged judged;
  } cases[] = {
    { 1, 2, BOOK_MARK_MEASURED, 1, INSIGHT_ENTRY_INSIDE },
    { 1, 2, BOOK_MARK_MEASURED, 2, INSIGHT_ENTRY_INSIDE },
    { 1, 2, BOOK_MARK_MEASURED, 2.01, INSIGHT_ENTRY_ABOVE },
    { 1, 2, BOOK_MARK_MEASURED, 0.99, INSIGHT_ENTRY_BELOW },
    { 1, INFINITY, BOOK_MARK_MEASURED, 1e9, INSIGHT_ENTRY_INSIDE },
    { -INFINITY, INFINITY, BOOK_MARK_MEASURED, 5, INSIGHT_ENTRY_OPEN },
    /* beyond the range of the gauge: only where every value that it may be is on one side */
    { 1, 2, BOOK_MARK_ABOVE, 2, INSIGHT_ENTRY_ABOVE },
    { 1, 2, BOOK_MARK_ABOVE, 1.5, INSIGHT_ENTRY_OPEN },
    { 1, INFINITY, BOOK_MARK_ABOVE, 1.5, INSIGHT_ENTRY_INSIDE },
    { 1, 2, BOOK_MARK_BELOW, 1, INSIGHT_ENTRY_BELOW },
    { -INFINITY, 2, BOOK_MARK_BELOW, 1.5, INSIGHT_ENTRY_INSIDE },
    { 1, 2, BOOK_MARK_PASSED, 0, INSIGHT_ENTRY_INSIDE },
    { 1, 2, BOOK_MARK_FAILED, 0, INSIGHT_ENTRY_FAILED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      InsightEntryColumn column = { .lower = cases[i].lower, .upper = cases[i].upper };

      g_assert_cmpint (insight_entry_judge (&column, cases[i].mark, cases[i].value), ==, cases[i].judged);
    }
}

/* A reading found by its key: to the limits of its own characteristic that are in force today, whatever they were when it was read. */
static void
test_judged_by_key (void)
{
  Story story;
  const BookEvidence *e;
  int inside, below, failed, above;
  gint64 other = 0;

  story_up (&story, 12.4, 12.6);
  fixture_limit (story.f, story.length, "2026-04-01", 12.4, 12.55);
  inside = fixture_reading (story.f, story.units, story.length, 1, 1, BOOK_MARK_MEASURED, 12.5, "2026-03-10");
  below = fixture_reading (story.f, story.units + 1, story.length, 1, 1, BOOK_MARK_MEASURED, 12.39, "2026-03-10");
  above = fixture_reading (story.f, story.units + 2, story.length, 1, 1, BOOK_MARK_MEASURED, 12.58, "2026-03-10");
  failed = fixture_reading (story.f, story.units, story.lock, 1, 1, BOOK_MARK_FAILED, NAN, "2026-03-10");
  fixture_finish (story.f);
  e = story.f->e;
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[inside].id, TODAY), ==, INSIGHT_ENTRY_INSIDE);
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[below].id, TODAY), ==, INSIGHT_ENTRY_BELOW);
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[above].id, TODAY), ==, INSIGHT_ENTRY_ABOVE);
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[above].id, "2026-03-31"), ==, INSIGHT_ENTRY_INSIDE);
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[inside].id, "2025-12-31"), ==, INSIGHT_ENTRY_OPEN); /* no limits yet */
  g_assert_cmpint (insight_entry_judge_reading (e, e->readings[failed].id, TODAY), ==, INSIGHT_ENTRY_FAILED);
  for (guint i = 0; i < e->n_readings; i++)
    other = MAX (other, e->readings[i].id + 1);
  g_assert_cmpint (insight_entry_judge_reading (e, other, TODAY), ==, INSIGHT_ENTRY_EMPTY);
  fixture_free (story.f);
}

/* By the limits where there are two of one sign; what is merely bad is not asked about. */
static void
test_slip_by_limits (void)
{
  Story story;
  g_autoptr(InsightEntry) entry = NULL;

  story_up (&story, 12.4, 12.6);
  entry = enter (&story, 1, 1);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 1.25), 12.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 125.5), 12.55, 1e-12);
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 12.5)));
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 13.1)));
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 0.0)));
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, -12.5)));
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 1250.0)));
  fixture_free (story.f);
}

/* By the values of the other units where one limit, or none, does not say; the cell itself is left out. */
static void
test_slip_by_values (void)
{
  Story story;
  g_autoptr(InsightEntry) few = NULL;
  g_autoptr(InsightEntry) entry = NULL;

  story_up (&story, 30.0, INFINITY);
  fixture_value (story.f, story.units + 1, story.length, 41.0);
  fixture_value (story.f, story.units + 2, story.length, 44.0);
  few = enter (&story, 1, 1);
  g_assert_true (isnan (insight_entry_slip (few, 0, 0, 4.2))); /* two say too little */
  fixture_value (story.f, story.units + 3, story.length, 47.0);
  fixture_value (story.f, story.units, story.length, 4.2);
  entry = enter (&story, 1, 1);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 4.2), 42.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 430.0), 43.0, 1e-12);
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 28.0))); /* too little force, and no slip */
  fixture_free (story.f);
}

/* A slip that was let pass, or typed twice, does not make the next one usual. */
static void
test_slip_after_slips (void)
{
  Story story;
  g_autoptr(InsightEntry) entry = NULL;

  story_up (&story, 30.0, INFINITY);
  for (int i = 0; i < 4; i++)
    fixture_value (story.f, story.units + i, story.length, (const double[]){ 450.0, 45.1, 44.9, 45.0 }[i]);
  entry = enter (&story, 1, 1);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 450.0), 45.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 1, 0, 460.0), 46.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 1, 0, 430.0), 43.0, 1e-12);
  g_assert_true (isnan (insight_entry_slip (entry, 1, 0, 4500.0)));
  insight_entry_put (entry, 1, 0, 9001, BOOK_MARK_MEASURED, 4.4);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 1, 0, 4.4), 44.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (insight_entry_slip (entry, 0, 0, 450.0), 45.0, 1e-12);
  insight_entry_put (entry, 0, 0, 9002, BOOK_MARK_MEASURED, 45.2);
  g_assert_true (isnan (insight_entry_slip (entry, 0, 0, 45.2)));
  fixture_free (story.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/entry/a-cell-shows-the-reading-that-stands-and-what-is-missing", test_cells);
  g_test_add_func ("/insight/entry/judges-by-the-limits-in-force", test_judged);
  g_test_add_func ("/insight/entry/judges-a-reading-by-its-key", test_judged_by_key);
  g_test_add_func ("/insight/entry/asks-about-a-slip-by-the-limits", test_slip_by_limits);
  g_test_add_func ("/insight/entry/asks-about-a-slip-by-what-others-have", test_slip_by_values);
  g_test_add_func ("/insight/entry/asks-about-a-slip-after-one-was-let-pass", test_slip_after_slips);
  return g_test_run ();
}
