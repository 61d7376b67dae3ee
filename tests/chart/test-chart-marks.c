/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What pointer and keys find, and the round strip's selection and scrolling.
 */
#include "chart-choice.h"
#include "chart-private.h"
#include "chart-samples.h"
#include "chart-test.h"

#include <math.h>
#include <string.h>

static const ChartTheme *
light (void)
{
  return chart_theme (CHART_LOOK_LIGHT);
}

static void
test_own_copy (void)
{
  char name[] = "R1", words[] = "unit 7: 3.5 mm";
  ChartRound round = { name, NULL, NAN, NAN, NAN, FALSE, FALSE, NULL };
  ChartReading reading = { 0, 3.5, CHART_READING_PLAIN, 77, words };
  ChartCharacteristic data = { .rounds = &round, .n_rounds = 1, .readings = &reading, .n_readings = 1 };
  g_autoptr(Chart) chart = chart_characteristic_new (&data);
  g_autofree char *dump = NULL;

  memset (name, 'x', 2);
  memset (words, 'x', 5);
  chart_layout (chart, 400.0, 300.0, light ());
  dump = chart_layout_dump (chart);
  g_assert_nonnull (strstr (dump, "\"R1\""));
  g_assert_cmpstr (chart_mark_text (chart, 0), ==, "unit 7: 3.5 mm");
  g_assert_cmpint (chart_mark_key (chart, 0), ==, 77);
  g_assert_cmpint (chart_find_key (chart, 77), ==, 0);
  g_assert_cmpint (chart_find_key (chart, 78), ==, -1);
  g_assert_null (chart_mark_text (chart, 1));
  g_assert_null (chart_mark_text (chart, -1));
}

static void
test_hit_finds_each_mark (void)
{
  const Sample samples[] = { { 7, 0, 5, FALSE, FALSE }, { 7, 0, 5, FALSE, TRUE } };
  Chart *(*makers[]) (const Sample *) = { sample_characteristic, sample_checked, sample_score, sample_strip, sample_effect,
                                        sample_issues, sample_plot, sample_rows, sample_yields, sample_individuals,
                                        sample_distribution, sample_wall };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    for (guint s = 0; s < G_N_ELEMENTS (samples); s++)
      {
        g_autoptr(Chart) chart = makers[m](&samples[s]);

        g_assert_cmpint (chart_hit (chart, 10.0, 10.0), ==, -1);
        chart_layout (chart, 1000.0, 400.0, light ());
        for (guint i = 0; i < chart_count_marks (chart); i++)
          {
            double x, y, found_x, found_y;
            int found;

            g_assert_true (chart_mark_position (chart, (int) i, &x, &y));
            found = chart_hit (chart, x, y);
            g_assert_cmpint (found, >=, 0);
            g_assert_true (
                chart_mark_position (chart, found, &found_x, &found_y)); /* two may lie on one place */
            g_assert_cmpfloat (hypot (found_x - x, found_y - y), <, 1e-6);
          }
        g_assert_cmpint (chart_hit (chart, -1.0, 100.0), ==, -1);
        g_assert_cmpint (chart_hit (chart, NAN, NAN), ==, -1);
        g_assert_cmpint (chart_hit (chart, 999.0, 399.0), ==, -1);
      }
}

/* Rounds come mixed, values are missing: order of build within rounds, missing ones stepped over. */
static void
test_steps (void)
{
  static const struct
  {
    guint round;
    double value;
  } given[] = { { 1, 1.0 }, { 0, 2.0 }, { 1, NAN }, { 0, 3.0 }, { 2, NAN }, { 1, 4.0 }, { 3, 5.0 } };
  ChartReading readings[G_N_ELEMENTS (given)];
  ChartRound rounds[4] = { 0 };
  ChartCharacteristic data
      = { .rounds = rounds, .n_rounds = 4, .readings = readings, .n_readings = G_N_ELEMENTS (given) };
  g_autoptr(Chart) chart = NULL;
  static const int order[] = { 1, 3, 0, 5, 6 };
  int at = -1;

  for (guint i = 0; i < G_N_ELEMENTS (given); i++)
    readings[i] = (ChartReading){ given[i].round, given[i].value, CHART_READING_PLAIN, i, NULL };
  for (guint i = 0; i < 4; i++)
    rounds[i] = (ChartRound){ "R", NULL, NAN, NAN, NAN, FALSE, FALSE, NULL };
  chart = chart_characteristic_new (&data);
  chart_layout (chart, 600.0, 300.0, light ());

  at = chart_step (chart, -1, CHART_STEP_FIRST);
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    {
      g_assert_cmpint (at, ==, order[i]);
      at = chart_step (chart, at, CHART_STEP_NEXT);
    }
  g_assert_cmpint (at, ==, 6); /* stays at the end */
  for (guint i = G_N_ELEMENTS (order); i-- > 0;)
    {
      g_assert_cmpint (at, ==, order[i]);
      at = chart_step (chart, at, CHART_STEP_PREVIOUS);
    }
  g_assert_cmpint (at, ==, 1);
  g_assert_cmpint (chart_step (chart, 3, CHART_STEP_NEXT_ROUND), ==, 0);
  g_assert_cmpint (
      chart_step (chart, 0, CHART_STEP_NEXT_ROUND), ==, 6); /* the third round has nothing to show */
  g_assert_cmpint (chart_step (chart, 6, CHART_STEP_PREVIOUS_ROUND), ==, 0);
  g_assert_cmpint (chart_step (chart, 5, CHART_STEP_PREVIOUS_ROUND), ==, 1);
  g_assert_cmpint (chart_step (chart, 1, CHART_STEP_PREVIOUS_ROUND), ==, 1);
  g_assert_cmpint (chart_step (chart, -1, CHART_STEP_NEXT), ==, 6); /* from nowhere to the newest */
  g_assert_cmpint (chart_step (chart, 99, CHART_STEP_LAST), ==, 6);
}

/* Of a wall the worst is wanted first, of rows the one on top. */
static void
test_steps_begin_on_top (void)
{
  const Sample sample = { 7, 0, 5, FALSE, FALSE };
  Chart *(*makers[]) (const Sample *) = { sample_wall, sample_rows, sample_effect };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    {
      g_autoptr(Chart) chart = makers[m](&sample);

      chart_layout (chart, 1000.0, 600.0, light ());
      for (int step = CHART_STEP_NEXT; step <= CHART_STEP_FIRST; step++)
        g_assert_cmpint (chart_step (chart, -1, step), ==, 0);
      g_assert_cmpint (chart_step (chart, -1, CHART_STEP_LAST), >, 0);
      g_assert_cmpint (chart_step (chart, 0, CHART_STEP_NEXT), ==, 1);
    }
}

/* One by one, between two, in a box; a later drawing keeps the choice by key. */
static void
test_choice (void)
{
  const Sample sample = { 7, 0, 5, FALSE, FALSE };
  Chart *(*makers[]) (const Sample *) = { sample_characteristic, sample_individuals, sample_distribution };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    {
      g_autoptr(Chart) chart = makers[m](&sample), later = makers[m](&sample);
      g_autoptr(GArray) keys = NULL;
      int first, second, third;
      double x, y;

      chart_layout (chart, 1000.0, 400.0, light ());
      g_assert_cmpuint (chart_choice_count (chart), ==, 0);
      g_assert_false (chart_choice_clear (chart));
      first = chart_step (chart, -1, CHART_STEP_FIRST);
      second = chart_step (chart, first, CHART_STEP_NEXT);
      third = chart_step (chart, second, CHART_STEP_NEXT);
      chart_choice_set (chart, second, TRUE);
      chart_choice_set (chart, second, TRUE);
      chart_choice_set (chart, -1, TRUE);
      g_assert_cmpuint (chart_choice_count (chart), ==, 1);
      g_assert_true (chart_choice_has (chart, second));
      chart_choice_set (chart, second, FALSE);
      g_assert_cmpuint (chart_choice_count (chart), ==, 0);
      chart_choice_between (chart, third, first);
      g_assert_cmpuint (chart_choice_count (chart), ==, 3);
      keys = chart_choice_keys (chart);
      g_assert_cmpuint (keys->len, ==, 3);
      g_assert_cmpint (g_array_index (keys, gint64, 1), ==, chart_mark_key (chart, second));
      chart_choice_take (later, chart);
      g_assert_true (chart_choice_has (later, third));
      g_assert_cmpuint (chart_choice_count (later), ==, 3);
      g_assert_true (chart_choice_clear (chart));
      g_assert_true (chart_mark_position (chart, first, &x, &y));
      g_assert_cmpuint (chart_choice_box (chart, x + 1.0, y + 1.0, x - 1.0, y - 1.0), >=, 1);
      g_assert_true (chart_choice_has (chart, first));
      g_assert_cmpuint (chart_choice_box (chart, -1.0, -1.0, 1001.0, 401.0), <=, chart_count_marks (chart));
      g_assert_cmpuint (chart_choice_box (chart, NAN, 0.0, NAN, 9.0), ==, 0);
    }
}

static void
test_steps_without_marks (void)
{
  const Sample none = { 0, 0, 1, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_characteristic (&none);

  chart_layout (chart, 600.0, 300.0, light ());
  for (int step = CHART_STEP_NEXT; step <= CHART_STEP_LAST; step++)
    g_assert_cmpint (chart_step (chart, -1, step), ==, -1);
  chart_set_focus (chart, 3);
  g_assert_cmpint (chart_get_focus (chart), ==, -1);
}

static double
block_width (Chart *chart, guint round)
{
  return 2.0 * chart->scene->spots[round].half_width;
}

static Chart *
strip_of_days (const double *days, guint n)
{
  g_autofree ChartStripRound *rounds = g_new0 (ChartStripRound, n);
  ChartStrip data = { .rounds = rounds, .n_rounds = n, .show_issues = TRUE };

  for (guint i = 0; i < n; i++)
    {
      rounds[i].name = "R";
      rounds[i].days[CHART_PHASE_DESIGN] = days[i] / 4.0;
      rounds[i].days[CHART_PHASE_TEST] = days[i] * 3.0 / 4.0;
    }
  return chart_strip_new (&data);
}

static void
test_blocks_are_days (void)
{
  static const double days[] = { 20.0, 40.0, 80.0, 0.0, NAN };
  g_autoptr(Chart) chart = strip_of_days (days, G_N_ELEMENTS (days));
  guint hatches = 0;
  double design = NAN, test = NAN;

  g_test_summary ("blocks are as wide as their days, a round without days has a least width, phases share the "
                  "block by days");
  chart_layout (chart, 900.0, 110.0, light ());
  g_assert_cmpfloat_with_epsilon (block_width (chart, 1), 2.0 * block_width (chart, 0), 2.0);
  g_assert_cmpfloat_with_epsilon (block_width (chart, 2), 4.0 * block_width (chart, 0), 4.0);
  g_assert_cmpfloat (block_width (chart, 3), >=, 20.0);
  g_assert_cmpfloat_with_epsilon (block_width (chart, 3), block_width (chart, 4), 1.0);
  for (guint i = 0; i < chart->scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (chart->scene->items, ChartItem, i);

      hatches += strcmp (item->role, "design") == 0;
      if (strcmp (item->role, "design") == 0)
        design = item->w;
      if (strcmp (item->role, "test") == 0)
        test = item->w;
    }
  g_assert_cmpuint (hatches, ==, 3);
  g_assert_cmpfloat_with_epsilon (test, 3.0 * design, 3.0);
}

static guint
count_role (Chart *chart, const char *role)
{
  guint n = 0;

  for (guint i = 0; i < chart->scene->items->len; i++)
    n += strcmp (g_array_index (chart->scene->items, ChartItem, i).role, role) == 0;
  return n;
}

static void
test_strip_selection (void)
{
  const Sample sample = { 7, 0, 5, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_strip (&sample);

  chart_layout (chart, 1000.0, 110.0, light ());
  g_assert_cmpuint (count_role (chart, "chosen") + count_role (chart, "span"), ==, 0);
  chart_strip_set_selection (chart, 3, 3);
  chart_layout (chart, 1000.0, 110.0, light ());
  g_assert_cmpuint (count_role (chart, "chosen"), ==, 1);
  g_assert_cmpuint (count_role (chart, "span"), ==, 1);
  chart_strip_set_selection (chart, 5, 2);
  chart_layout (chart, 1000.0, 110.0, light ());
  g_assert_cmpuint (count_role (chart, "chosen"), ==, 2);
  for (guint i = 0; i < chart->scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (chart->scene->items, ChartItem, i);

      if (strcmp (item->role, "span") != 0)
        continue;
      g_assert_cmpfloat_with_epsilon (
          item->x, chart->scene->spots[2].x - chart->scene->spots[2].half_width, 1.5);
      g_assert_cmpfloat_with_epsilon (
          item->x + item->w, chart->scene->spots[5].x + chart->scene->spots[5].half_width, 1.5);
    }
  chart_strip_set_selection (chart, 2, 7); /* there is no eighth round */
  chart_layout (chart, 1000.0, 110.0, light ());
  g_assert_cmpuint (count_role (chart, "chosen") + count_role (chart, "span"), ==, 0);
}

static void
test_strip_legend_and_height (void)
{
  const Sample sample = { 7, 0, 5, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_strip (&sample);
  double plain = chart_strip_height (chart, light ()), with;

  chart_layout (chart, 1000.0, plain, light ());
  g_assert_cmpuint (count_role (chart, "legend"), ==, 0);
  g_assert_cmpuint (count_role (chart, "verdict"), ==, 7);
  g_assert_cmpuint (count_role (chart, "units"), ==, 7);
  g_assert_cmpuint (count_role (chart, "issue"), >, 7);
  chart_strip_set_legend (chart, TRUE);
  with = chart_strip_height (chart, light ());
  g_assert_cmpfloat (with, >, plain + 10.0);
  chart_layout (chart, 1000.0, with, light ());
  g_assert_cmpuint (count_role (chart, "legend"), ==, 5);
  chart_layout (chart, 1000.0, plain, light ()); /* without its room it is left out, nothing overlaps */
  g_assert_cmpuint (count_role (chart, "legend"), ==, 0);
}

static void
test_strip_scrolls (void)
{
  const Sample sample = { 60, 3, 5, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_strip (&sample);
  double x, y;

  g_test_summary ("sixty rounds in 320 dots: begins at the newest, reveals any, stays in its bounds");
  chart_layout (chart, 320.0, 110.0, light ());
  g_assert_cmpfloat (chart_strip_scroll_most (chart), >, 1000.0);
  g_assert_cmpfloat (chart_strip_get_scroll (chart), ==, chart_strip_scroll_most (chart));
  g_assert_true (chart_mark_position (chart, 59, &x, &y) && x > 0.0 && x < 320.0);
  g_assert_cmpint (chart_hit (chart, x, y), ==, 59);

  g_assert_true (chart_strip_reveal (chart, 20));
  chart_layout (chart, 320.0, 110.0, light ());
  g_assert_true (chart_mark_position (chart, 20, &x, &y));
  g_assert_cmpfloat (x - chart->scene->spots[20].half_width, >=, 0.0);
  g_assert_cmpfloat (x + chart->scene->spots[20].half_width, <=, 320.0);
  g_assert_cmpint (chart_hit (chart, x, y), ==, 20);
  g_assert_cmpuint (count_role (chart, "more"), ==, 2);

  chart_strip_set_scroll (chart, 0.0);
  chart_layout (chart, 320.0, 110.0, light ());
  g_assert_cmpuint (count_role (chart, "more"), ==, 1);
  chart_strip_set_scroll (chart, 1e9);
  chart_layout (chart, 320.0, 110.0, light ());
  g_assert_cmpfloat (chart_strip_get_scroll (chart), ==, chart_strip_scroll_most (chart));
  g_assert_false (chart_strip_reveal (chart, 60));
  g_assert_false (chart_strip_reveal (chart, -1));

  chart_layout (chart, 20000.0, 110.0, light ()); /* wide enough: all of it */
  g_assert_cmpfloat (chart_strip_scroll_most (chart), ==, 0.0);
}

static void
test_many_issues_are_counted (void)
{
  ChartStripRound round = { .name = "R1", .days = { 1.0, 0.0, 0.0, 0.0, 0.0 }, .found = 3, .shown = 200 };
  ChartStrip data = { .rounds = &round, .n_rounds = 1, .show_issues = TRUE };
  g_autoptr(Chart) chart = chart_strip_new (&data);
  g_autofree char *dump = NULL;

  chart_layout (chart, 600.0, 110.0, light ());
  dump = chart_layout_dump (chart);
  g_assert_cmpuint (count_role (chart, "issue"), ==, 2);
  g_assert_nonnull (strstr (dump, "\"3\""));
  g_assert_nonnull (strstr (dump, "\"200\""));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/marks/chart-keeps-its-own-copy", test_own_copy);
  g_test_add_func ("/chart/marks/pointer-finds-each-mark", test_hit_finds_each_mark);
  g_test_add_func ("/chart/marks/arrow-keys-walk-in-order-of-build", test_steps);
  g_test_add_func ("/chart/marks/keys-begin-with-the-worst", test_steps_begin_on_top);
  g_test_add_func ("/chart/marks/are-chosen-one-by-one-between-and-in-a-box", test_choice);
  g_test_add_func ("/chart/marks/no-marks-no-steps", test_steps_without_marks);
  g_test_add_func ("/chart/strip/blocks-are-as-wide-as-their-days", test_blocks_are_days);
  g_test_add_func ("/chart/strip/a-round-or-a-span-is-chosen", test_strip_selection);
  g_test_add_func ("/chart/strip/legend-only-when-asked", test_strip_legend_and_height);
  g_test_add_func ("/chart/strip/too-many-rounds-scroll", test_strip_scrolls);
  g_test_add_func ("/chart/strip/many-issues-become-numbers", test_many_issues_are_counted);
  return chart_test_run ();
}
