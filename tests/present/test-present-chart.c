/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers as drawings: which marks, with which keys and words. What they look like is tested in tests/chart. */

#include "config.h"

#include "present-chart.h"

#include "chart-strip.h"
#include "chart-table.h"
#include "chart-test.h"

#include <math.h>
#include <string.h>

static InsightMark marks[] = {
  { .unit = 1, .reading = 11, .serial = "P1-01", .round = 0, .attempt = 1, .repeats = 1, .value = 12.031,
    .mark = BOOK_MARK_MEASURED, .verdict = INSIGHT_INSIDE, .counting = INSIGHT_NOT_STATE, .date = "2026-05-03", .lot = "" },
  { .unit = 2, .reading = 12, .serial = "A-01", .round = 1, .attempt = 1, .repeats = 3, .value = 12.2,
    .mark = BOOK_MARK_MEASURED, .verdict = INSIGHT_OUTSIDE, .counting = INSIGHT_COUNTS, .date = "2026-06-01", .lot = "S-42" },
  { .unit = 2, .reading = 13, .serial = "A-01", .round = 1, .attempt = 2, .repeats = 1, .value = 12.0,
    .mark = BOOK_MARK_MEASURED, .verdict = INSIGHT_INSIDE, .counting = INSIGHT_NOT_LATER_ATTEMPT, .date = "", .lot = "" },
  { .unit = 3, .reading = 14, .serial = "A-02", .round = 1, .attempt = 1, .repeats = 1, .value = 13,
    .mark = BOOK_MARK_ABOVE, .verdict = INSIGHT_UNDECIDABLE, .counting = INSIGHT_NOT_VOIDED, .date = "2026-06-02", .lot = "" },
};

static InsightSeriesRound rounds[] = {
  { .id = 101, .label = "P1", .n = 1, .mean = 12.031, .sd = NAN, .low = NAN, .high = NAN, .no_longer = TRUE },
  { .id = 102, .label = "A", .n = 2, .failed = 1, .counted = 1, .mean = 12.2, .sd = NAN, .low = NAN, .high = NAN, .current = TRUE },
};

static InsightSeriesLimit limits[] = {
  { .date = "", .from = 0, .lower = 11.95, .upper = 12.05, .nominal = 12 },
};

static InsightSeries
make_series (BookCharacteristicKind kind)
{
  const InsightSeries series = {
    .characteristic = 5, .code = "X", .name = "Lock engagement", .unit = "mm", .decimals = 3, .kind = kind, .marks = marks,
    .n_marks = G_N_ELEMENTS (marks), .rounds = rounds, .n_rounds = G_N_ELEMENTS (rounds), .limits = limits,
    .n_limits = G_N_ELEMENTS (limits), .now = 0, .tolerated = 0.05, .n = 1, .failed = 1, .mean = 12.2, .sd = NAN,
    .low = 11.9, .high = 12.5
  };

  return series;
}

static void
check_words (const InsightSeries *series, guint mark, const char *expected)
{
  g_autofree char *words = present_mark_words (series, mark);

  g_assert_cmpstr (words, ==, expected);
}

static void
test_words (void)
{
  const InsightSeries measured = make_series (BOOK_CHARACTERISTIC_MEASURED);
  const InsightSeries checked = make_series (BOOK_CHARACTERISTIC_CHECKED);
  g_autofree char *all = present_series_words (&measured);
  g_autofree char *shares = present_series_words (&checked);

  check_words (&measured, 0, "P1-01: 12.031 mm, another state of design, no longer counts, 2026-05-03");
  check_words (&measured, 1, "A-01: 12.200 mm, outside, 3 repeats, lot S-42, 2026-06-01");
  check_words (&measured, 2, "A-01: 12.000 mm, attempt 2, a later attempt, does not count");
  check_words (&measured, 3, "A-02: above 13.000 mm, cannot be told, counts as failing, voided, 2026-06-02");
  check_words (&checked, 1, "A-01: failed, 3 repeats, lot S-42, 2026-06-01");
  g_assert_cmpstr (all, ==,
                   "1 unit counts. 1 of them fails. The mean is 12.2000 mm (95 % interval 11.9000 to 12.5000 mm). Limits: "
                   "11.950 to 12.050 mm. 2 more units were measured that do not count. In the chart the mean of round A is that of all 2 units "
                   "measured in it, counting or not.");
  g_assert_null (strstr (shares, "In the chart"));
}

static void
check_characteristic (BookCharacteristicKind kind)
{
  const InsightSeries series = make_series (kind);
  g_autoptr(Chart) chart = present_chart_characteristic (&series, TRUE);

  chart_layout (chart, 600, 320, chart_theme (CHART_LOOK_PRINT));
  g_assert_cmpuint (chart_count_marks (chart), ==, G_N_ELEMENTS (marks));
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      g_autofree char *words = present_mark_words (&series, i);

      g_assert_cmpint (chart_mark_key (chart, (int) i), ==, marks[i].reading);
      g_assert_cmpstr (chart_mark_text (chart, (int) i), ==, words);
      g_assert_cmpstr (chart_table_cell (chart, i, chart_table_columns (chart) - 1), ==, words);
    }
}

static void
test_characteristic (void)
{
  check_characteristic (BOOK_CHARACTERISTIC_MEASURED);
  check_characteristic (BOOK_CHARACTERISTIC_CHECKED);
}

/* Without anything measured the chart says so and has no mark. */
static void
test_empty (void)
{
  InsightSeries series = make_series (BOOK_CHARACTERISTIC_MEASURED);
  InsightDays days = { NULL, 0 };
  g_autoptr(Chart) chart = NULL;
  g_autoptr(Chart) strip = present_chart_strip (&days);
  g_autofree char *dump = NULL;

  series.n_marks = 0;
  series.n_rounds = 0;
  series.n_limits = 0;
  series.now = -1;
  chart = present_chart_characteristic (&series, FALSE);
  chart_layout (chart, 600, 320, chart_theme (CHART_LOOK_LIGHT));
  dump = chart_layout_dump (chart);
  g_assert_cmpuint (chart_count_marks (chart), ==, 0);
  g_assert_nonnull (strstr (dump, "No unit was measured yet."));
  g_assert_cmpuint (chart_count_marks (strip), ==, 0);
}

static void
test_score (void)
{
  InsightCoursePoint points[] = {
    { .round = 1, .label = (char *) "P1", .all = { 3, 1, 0.4, 40 }, .classes = { { 1, 0, 0.4, 40 }, { 2, 1, 0.9, 90 }, { 0, 0, 0, -1 } } },
    { .round = 2, .label = (char *) "A", .all = { 3, 2, 0.7, 70 }, .classes = { { 0, 0, 0, -1 }, { 3, 2, 0.7, 70 }, { 0, 0, 0, -1 } } },
    { .round = 3, .label = (char *) "B", .all = { 0, 0, 0, -1 }, .classes = { { 0, 0, 0, -1 }, { 0, 0, 0, -1 }, { 0, 0, 0, -1 } } },
  };
  InsightStanding standing = { .round = 2, .course = g_ptr_array_new () };
  g_autoptr(Chart) chart = NULL;
  g_autofree char *dump = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (points); i++)
    g_ptr_array_add (standing.course, &points[i]);
  chart = present_chart_score (&standing, TRUE);
  chart_layout (chart, 600, 320, chart_theme (CHART_LOOK_LIGHT));
  dump = chart_layout_dump (chart);
  g_assert_cmpuint (chart_count_marks (chart), ==, 3);
  g_assert_cmpstr (chart_mark_text (chart, 0), ==, "P1: evidence gathered 40 of 100");
  g_assert_cmpstr (chart_mark_text (chart, 2), ==, "B: nothing was asked for yet");
  g_assert_cmpuint (chart_table_rows (chart), ==, 3);
  g_assert_cmpstr (chart_table_cell (chart, 0, 0), ==, "P1");
  g_assert_cmpstr (chart_table_cell (chart, 0, 1), ==, "40");
  g_assert_cmpstr (chart_table_cell (chart, 2, 1), ==, "");
  g_assert_true (g_str_has_prefix (chart_get_summary (chart), "Through round "));
  g_assert_nonnull (strstr (dump, "1 of 3 met"));
  g_assert_null (strstr (dump, "2 of 3 met")); /* no safety criterion then: nothing is called met */
  g_ptr_array_unref (standing.course);
}

static void
test_strip (void)
{
  InsightRoundDays round = {
    .id = 9, .label = (char *) "P1", .question = (char *) "", .kind = BOOK_ROUND_PROTOTYPE, .verdict = BOOK_VERDICT_GO_ON,
    .days = { 5, 10, 7, 3, 1 }, .total = 26, .units = 1, .planned = 6, .found = 2
  };
  InsightDays days = { &round, 1 };
  g_autoptr(Chart) chart = present_chart_strip (&days);

  chart_layout (chart, 600, chart_strip_height (chart, chart_theme (CHART_LOOK_LIGHT)), chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpint (chart_mark_key (chart, 0), ==, 9);
  g_assert_cmpstr (chart_mark_text (chart, 0), ==, "P1: working days: 26");
  g_assert_cmpstr (chart_table_head (chart, 1), ==, "Working days");
  g_assert_cmpstr (chart_table_cell (chart, 0, 1), ==, "26");
  g_assert_cmpstr (chart_get_summary (chart), ==, "1 round, working days: 26.");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/chart/a-mark-says-what-it-is-and-why-it-does-not-count", test_words);
  g_test_add_func ("/present/chart/marks-carry-the-keys-of-their-readings", test_characteristic);
  g_test_add_func ("/present/chart/an-empty-chart-says-so", test_empty);
  g_test_add_func ("/present/chart/the-score-counts-only-with-a-safety-criterion", test_score);
  g_test_add_func ("/present/chart/the-strip-tells-working-days", test_strip);
  return chart_test_run ();
}
