/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measuring sheet of a round. The rules are the program's own (see DEVELOPERS.md); what is expected follows from them. */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-sheet.h"

#define TODAY "2026-02-12"

static const InsightSheetColumn *
column_of (const InsightSheet *sheet, guint c)
{
  return &g_array_index (sheet->columns, InsightSheetColumn, c);
}

static const char *
serial_of (const InsightSheet *sheet, guint r)
{
  return g_array_index (sheet->rows, InsightSheetRow, r).serial;
}

static void
test_units_stand_in_order_of_build_and_limits_are_those_of_the_day (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightSheet) sheet = NULL;
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  int other = fixture_round (f, "B", BOOK_ROUND_PILOT, "2026-02-05", FALSE);
  int force = fixture_measured (f, "OF", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int unit = fixture_units (f, round, 3);

  fixture_units (f, other, 2);
  fixture_limit (f, force, "2026-01-01", 9.0, 15.0);
  fixture_limit (f, force, "2026-02-01", 9.0, 17.0);
  fixture_limit (f, force, "2026-03-01", 9.0, 19.0);
  fixture_finish (f);
  sheet = insight_sheet_new (f->e, f->e->rounds[round].id, TODAY);
  g_assert_cmpuint (sheet->columns->len, ==, 1);
  g_assert_cmpfloat (column_of (sheet, 0)->upper, ==, 17.0);
  g_assert_cmpuint (sheet->rows->len, ==, 3);
  g_assert_cmpstr (serial_of (sheet, 0), ==, f->e->units[unit].serial);
  g_assert_cmpint (insight_sheet_find (sheet, unit + 2), ==, 2);
  g_assert_cmpint (insight_sheet_find (sheet, unit + 3), ==, -1);
  g_assert_cmpint (insight_sheet_find (sheet, -1), ==, -1);
  g_assert_null (insight_sheet_new (f->e, -5, TODAY));
}

static void
test_the_last_attempt_that_stands_is_shown (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightSheet) sheet = NULL;
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  int force = fixture_measured (f, "OF", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int unit = fixture_units (f, round, 4);
  int voided;

  fixture_reading (f, unit, force, 1, 1, BOOK_MARK_MEASURED, 18.0, "2026-02-01");
  fixture_reading (f, unit, force, 2, 1, BOOK_MARK_MEASURED, 14.0, "2026-02-02");
  fixture_reading (f, unit, force, 2, 2, BOOK_MARK_MEASURED, 14.5, "2026-02-02");
  voided = fixture_reading (f, unit + 1, force, 1, 1, BOOK_MARK_MEASURED, 140.0, "2026-02-01");
  f->e->readings[voided].voided = TRUE;
  fixture_reading (f, unit + 2, force, 1, 1, BOOK_MARK_ABOVE, 20.0, "2026-02-01");
  fixture_reading (f, unit + 3, force, 1, 1, BOOK_MARK_MEASURED, 13.0, "2026-02-20"); /* later than today */
  fixture_finish (f);
  sheet = insight_sheet_new (f->e, f->e->rounds[round].id, TODAY);
  g_assert_cmpint (insight_sheet_cell (sheet, 0, 0)->state, ==, INSIGHT_SHEET_READ);
  g_assert_cmpfloat (insight_sheet_cell (sheet, 0, 0)->value, ==, 14.0);
  g_assert_cmpuint (insight_sheet_cell (sheet, 0, 0)->n, ==, 2);
  g_assert_cmpint (insight_sheet_cell (sheet, 1, 0)->state, ==, INSIGHT_SHEET_WANTED);
  g_assert_cmpint (insight_sheet_cell (sheet, 2, 0)->mark, ==, BOOK_MARK_ABOVE);
  g_assert_cmpint (insight_sheet_cell (sheet, 3, 0)->state, ==, INSIGHT_SHEET_WANTED);
}

static void
test_only_those_named_by_the_plan_are_asked (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightSheet) sheet = NULL;
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  int play = fixture_measured (f, "AP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int load = fixture_measured (f, "LS", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  int life = fixture_checked (f, "LX", BOOK_CLASS_FUNCTION);
  int unit = fixture_units (f, round, 2);

  f->e->characteristics[load].destructive = TRUE;
  fixture_planned_test (f, unit, life, NAN, 3000);
  fixture_life_test (f, unit, life, 1980, TRUE, -1);
  fixture_finish (f);
  sheet = insight_sheet_new (f->e, f->e->rounds[round].id, "2027-01-01");
  g_assert_cmpint (insight_sheet_cell (sheet, 0, (guint) play)->state, ==, INSIGHT_SHEET_WANTED);
  g_assert_cmpint (insight_sheet_cell (sheet, 1, (guint) play)->state, ==, INSIGHT_SHEET_WANTED);
  g_assert_cmpint (insight_sheet_cell (sheet, 0, (guint) load)->state, ==, INSIGHT_SHEET_LEFT_OUT);
  g_assert_false (column_of (sheet, (guint) load)->is_wanted);
  g_assert_true (column_of (sheet, (guint) life)->is_life);
  g_assert_true (insight_sheet_cell (sheet, 0, (guint) life)->is_planned);
  g_assert_cmpint (insight_sheet_cell (sheet, 0, (guint) life)->state, ==, INSIGHT_SHEET_READ);
  g_assert_cmpfloat (insight_sheet_cell (sheet, 0, (guint) life)->value, ==, 1980);
  g_assert_cmpint (insight_sheet_cell (sheet, 1, (guint) life)->state, ==, INSIGHT_SHEET_LEFT_OUT);
}

/* A check that is made after some hundred cycles has life tests beside its readings: it is read, and asked of all. */
static void
test_what_is_cycled_before_it_is_read_is_no_life (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightSheet) sheet = NULL;
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  int sticks = fixture_checked (f, "LV", BOOK_CLASS_FUNCTION);
  int unit = fixture_units (f, round, 2);

  fixture_check (f, unit, sticks, TRUE);
  fixture_life_test (f, unit, sticks, 300, FALSE, -1);
  fixture_finish (f);
  sheet = insight_sheet_new (f->e, f->e->rounds[round].id, "2027-01-01");
  g_assert_false (column_of (sheet, 0)->is_life);
  g_assert_cmpint (insight_sheet_cell (sheet, 0, 0)->mark, ==, BOOK_MARK_PASSED);
  g_assert_cmpint (insight_sheet_cell (sheet, 1, 0)->state, ==, INSIGHT_SHEET_WANTED);
}

static void
test_a_planned_round_has_rows_to_write_serials_in (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightSheet) sheet = NULL;
  int round = fixture_round (f, "C", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  int load = fixture_measured (f, "LS", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);

  f->e->rounds[round].planned_units = 5;
  fixture_planned_for (f, round, "C-02", load, TRUE, FALSE);
  fixture_finish (f);
  sheet = insight_sheet_new (f->e, f->e->rounds[round].id, TODAY);
  g_assert_cmpuint (sheet->rows->len, ==, 5);
  g_assert_cmpstr (serial_of (sheet, 0), ==, "C-02");
  g_assert_cmpstr (serial_of (sheet, 4), ==, "");
  g_assert_cmpint (insight_sheet_cell (sheet, 0, 0)->state, ==, INSIGHT_SHEET_WANTED);
  g_assert_cmpint (insight_sheet_cell (sheet, 4, 0)->state, ==, INSIGHT_SHEET_LEFT_OUT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/sheet/units-stand-in-order-of-build-and-limits-are-those-of-the-day",
                   test_units_stand_in_order_of_build_and_limits_are_those_of_the_day);
  g_test_add_func ("/insight/sheet/the-last-attempt-that-stands-is-shown", test_the_last_attempt_that_stands_is_shown);
  g_test_add_func ("/insight/sheet/only-those-named-by-the-plan-are-asked", test_only_those_named_by_the_plan_are_asked);
  g_test_add_func ("/insight/sheet/what-is-cycled-before-it-is-read-is-no-life", test_what_is_cycled_before_it_is_read_is_no_life);
  g_test_add_func ("/insight/sheet/a-planned-round-has-rows-to-write-serials-in", test_a_planned_round_has_rows_to_write_serials_in);
  return g_test_run ();
}
