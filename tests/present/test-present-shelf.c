/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Models side by side in words, and two courses as one drawing. */
#include "config.h"

#include <math.h>

#include "chart-table.h"
#include "present-shelf.h"

static InsightRoundDays first[] = { { .id = 1, .label = (char *) "P1", .days = { 2, 3, 4, 1, 0 }, .total = 10 },
                                    { .id = 2, .label = (char *) "A", .days = { 5, 0, 0, 0, 0 }, .total = 5, .open = TRUE } };
static InsightRoundDays second[] = { { .id = 3, .label = (char *) "P1", .days = { 1, 1, 1, 1, 1 }, .total = 5 } };

static const InsightShelf one = { .model = 11, .code = (char *) "M1", .name = (char *) "Test piece", .known = TRUE, .criteria = 5, .met = 3,
                                  .block = 2, .rounds = first, .n_rounds = 2, .total = 15, .open = TRUE, .run = (char *) "A",
                                  .month = 88.6, .interval = { 70.2, 95.4 }, .demand = 100, .open_safety = 1 };
static const InsightShelf other = { .model = 12, .code = (char *) "M2", .name = (char *) "Other piece", .rounds = second, .n_rounds = 1,
                                    .total = 5, .run = (char *) "", .month = NAN, .interval = { NAN, NAN }, .demand = NAN };

static const char *
cell (const PresentSheet *sheet, guint row, guint column)
{
  return g_array_index (sheet->rows, PresentSheetRow, row).cells[column];
}

static void
test_words (void)
{
  const InsightShelf *shelves[] = { &one, &other };
  g_autoptr(PresentShelf) words = present_shelf_new (shelves, 2);
  const PresentSheetRow *rows = (const PresentSheetRow *) (gpointer) words->models->rows->data;

  g_assert_cmpstr (words->headline, ==, "There are 2 models. A round is open in 1 of them. 1 safety issue is open.");
  g_assert_cmpstr (cell (words->models, 0, 1), ==, "3 of 5 met, 2 block");
  g_assert_cmpstr (cell (words->models, 0, 3), ==, "A, design");
  g_assert_cmpstr (cell (words->models, 0, 5), ==, "89");
  g_assert_cmpstr (cell (words->models, 0, 6), ==, "70 to 95");
  g_assert_cmpstr (cell (words->models, 1, 1), ==, "not known");
  g_assert_cmpstr (cell (words->models, 1, 3), ==, "P1, decided");
  g_assert_cmpstr (cell (words->models, 1, 5), ==, "");
  g_assert_cmpstr (cell (words->models, 1, 6), ==, "");
  g_assert_true (rows[0].open);
  g_assert_false (rows[1].open);
  g_assert_cmpstr (rows[1].record, ==, "model");
  g_assert_cmpint (rows[1].key, ==, 12);
}

/* By round every phase of some length is a mark, by days every round. */
static void
test_courses (void)
{
  g_autoptr(Chart) by_round = present_chart_courses (&one, &other, FALSE, TRUE);
  g_autoptr(Chart) by_days = present_chart_courses (&one, &other, TRUE, TRUE);
  g_autoptr(Chart) alone = present_chart_courses (&one, NULL, TRUE, FALSE);

  g_assert_cmpuint (chart_count_marks (by_round), ==, 4 + 1 + 5);
  g_assert_cmpuint (chart_count_marks (by_days), ==, 3);
  g_assert_cmpuint (chart_count_marks (alone), ==, 2);
  g_assert_cmpint (chart_mark_key (by_days, 2), ==, 12);
  g_assert_cmpstr (chart_get_summary (by_round), ==, "M1: 2 rounds, 15 working days so far. M2: 1 round, 5 working days.");
  g_assert_cmpstr (chart_get_summary (alone), ==, "M1: 2 rounds, 15 working days so far.");
  g_assert_cmpuint (chart_table_rows (by_days), ==, 3);
  g_assert_cmpstr (chart_table_cell (by_days, 2, 0), ==, "M2");
  g_assert_cmpstr (chart_table_cell (by_days, 0, 2), ==, "10");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/shelf/says-of-each-model-what-is-known", test_words);
  g_test_add_func ("/present/shelf/draws-two-courses-by-round-and-by-days", test_courses);
  return g_test_run ();
}
