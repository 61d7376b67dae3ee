/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The sentence and the table of a chart.
 */
#include "chart-samples.h"
#include "chart-table.h"
#include "chart-test.h"

#include <math.h>
#include <string.h>

static Chart *
chart_of (guint n)
{
  g_autofree ChartScoreRound *rounds = g_new0 (ChartScoreRound, n + 1);
  ChartScore data = { .rounds = rounds, .n_rounds = n };

  for (guint i = 0; i < n; i++)
    rounds[i] = (ChartScoreRound){ .name = "P", .score = i, .key = i, .words = i % 2 == 0 ? "even" : NULL };
  return chart_score_new (&data);
}

static void
test_own_copy (void)
{
  char head[] = "Round", cell[] = "P1", sentence[] = "It rose.";
  const ChartTableColumn columns[] = { { head, FALSE }, { "Score", TRUE } };
  g_autoptr(Chart) chart = chart_of (2);

  g_assert_null (chart_get_summary (chart));
  chart_set_summary (chart, sentence);
  chart_table_begin (chart, columns, G_N_ELEMENTS (columns));
  chart_table_add (chart, (const char *const[]){ cell, "20" });
  chart_table_add (chart, (const char *const[]){ "P2", NULL });
  memset (head, 'x', 5);
  memset (cell, 'x', 2);
  memset (sentence, 'x', 8);

  g_assert_cmpstr (chart_get_summary (chart), ==, "It rose.");
  g_assert_cmpuint (chart_table_columns (chart), ==, 2);
  g_assert_cmpuint (chart_table_rows (chart), ==, 2);
  g_assert_cmpstr (chart_table_head (chart, 0), ==, "Round");
  g_assert_false (chart_table_figures (chart, 0));
  g_assert_true (chart_table_figures (chart, 1));
  g_assert_cmpstr (chart_table_cell (chart, 0, 0), ==, "P1");
  g_assert_cmpstr (chart_table_cell (chart, 1, 1), ==, "");
  g_assert_cmpstr (chart_table_cell (chart, 2, 0), ==, "");
  g_assert_cmpstr (chart_table_cell (chart, 0, 2), ==, "");
  g_assert_cmpstr (chart_table_head (chart, 2), ==, "");

  chart_table_begin (chart, columns, 1);
  g_assert_cmpuint (chart_table_rows (chart), ==, 0);
}

static void
test_marks_stand_in (void)
{
  g_autoptr(Chart) chart = chart_of (5);
  g_autofree char *tabs = chart_table_tabs (chart);

  g_test_summary ("a chart without a table of its own lists the words of its marks");
  g_assert_cmpuint (chart_table_columns (chart), ==, 1);
  g_assert_cmpuint (chart_table_rows (chart), ==, 3);
  g_assert_cmpstr (chart_table_head (chart, 0), ==, "");
  g_assert_cmpstr (tabs, ==, "even\neven\neven\n");
}

static void
test_tabs (void)
{
  const ChartTableColumn columns[] = { { "What", FALSE }, { "How\tmuch", TRUE } };
  g_autoptr(Chart) chart = chart_of (1);
  g_autofree char *tabs = NULL;

  g_test_summary ("a tab or a line's end within a text makes no further cell");
  chart_table_begin (chart, columns, G_N_ELEMENTS (columns));
  chart_table_add (chart, (const char *const[]){ "two\nlines", "1\t2" });
  chart_table_add (chart, (const char *const[]){ "", "\342\210\2223.5" });
  tabs = chart_table_tabs (chart);
  g_assert_cmpstr (tabs, ==, "What\t" "How much\ntwo lines\t1 2\n\t\342\210\2223.5\n");
}

static void
test_readings (void)
{
  const ChartRound rounds[] = { { "A", NULL, NAN, NAN, NAN, FALSE, FALSE, NULL }, { "B", NULL, NAN, NAN, NAN, FALSE, FALSE, NULL } };
  const ChartReading readings[] = { { 1, 12.5, CHART_READING_PLAIN, 1, "B-01: 12.5 N" },
                                    { 0, -3.0, CHART_READING_FAILED, 2, "A-01: -3 N" },
                                    { 1, NAN, CHART_READING_PLAIN, 3, NULL } };
  ChartCharacteristic data = { .rounds = rounds, .n_rounds = 2, .readings = readings, .n_readings = 3,
                               .heads = { "Round", "N", "Reading" } };
  ChartChecked checked = { .tolerated = NAN, .rounds = rounds, .n_rounds = 2, .readings = readings, .n_readings = 3,
                           .heads = { "Round", NULL, "Check" } };
  g_autoptr(Chart) chart = chart_characteristic_new (&data);
  g_autoptr(Chart) other = chart_checked_new (&checked);
  g_autofree char *tabs = chart_table_tabs (chart);
  g_autofree char *again = chart_table_tabs (chart);
  g_autofree char *checks = chart_table_tabs (other);

  g_test_summary ("readings stand in order of their rounds, and are made once");
  g_assert_cmpstr (tabs, ==, "Round\tN\tReading\nA\t\342\210\2223\tA-01: -3 N\nB\t12.5\tB-01: 12.5 N\nB\t\t\n");
  g_assert_cmpstr (again, ==, tabs);
  g_assert_cmpstr (checks, ==, "Round\tCheck\nA\tA-01: -3 N\nB\tB-01: 12.5 N\nB\t\n");
}

static void
test_many (void)
{
  const Sample sample = { 5, 20000, 4, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_characteristic (&sample);

  g_assert_cmpuint (chart_table_rows (chart), ==, 100000);
  g_assert_cmpstr (chart_table_cell (chart, 99999, 0), !=, "");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/table/keeps-its-own-copy", test_own_copy);
  g_test_add_func ("/chart/table/lists-the-marks-where-there-is-none", test_marks_stand_in);
  g_test_add_func ("/chart/table/has-a-cell-between-two-tabs", test_tabs);
  g_test_add_func ("/chart/table/lists-readings-by-round", test_readings);
  g_test_add_func ("/chart/table/holds-a-hundred-thousand-readings", test_many);
  return chart_test_run ();
}
