/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-labels.h"
#include "chart-scale.h"

#include <float.h>
#include <math.h>
#include <string.h>

static void
check_ticks (double low, double high, guint most, guint n, double first, double step, const char *text)
{
  ChartTicks ticks = chart_ticks (low, high, most);
  g_autofree char *label = chart_number (chart_ticks_value (&ticks, 0), ticks.decimals);

  g_assert_cmpuint (ticks.n, ==, n);
  g_assert_cmpfloat_with_epsilon (ticks.step, step, step * 1e-12);
  g_assert_cmpfloat_with_epsilon (chart_ticks_value (&ticks, 0), first, step * 1e-9);
  g_assert_cmpstr (label, ==, text);
}

static void
test_round_ticks (void)
{
  g_test_summary ("ticks worked out by hand");
  check_ticks (0.0, 100.0, 6, 6, 0.0, 20.0, "0");
  check_ticks (0.0, 100.0, 5, 3, 0.0, 50.0, "0");
  check_ticks (11.9, 12.1, 5, 5, 11.90, 0.05, "11.90");
  check_ticks (11.93, 12.07, 8, 7, 11.94, 0.02, "11.94");
  check_ticks (-1.0, 1.0, 5, 5, -1.0, 0.5, "−1.0");
  check_ticks (0.001, 0.0019, 10, 10, 0.001, 0.0001, "0.0010");
  check_ticks (123456.0, 654321.0, 6, 5, 200000.0, 100000.0, "200000");
}

static void
test_ticks_over_a_grid (void)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_message ("seed %u", seed);
  for (guint turn = 0; turn < 20000; turn++)
    {
      double low = (g_rand_double (rand) - 0.5) * pow (10.0, g_rand_int_range (rand, -12, 13));
      double high = low + pow (10.0, g_rand_double_range (rand, -12.0, 13.0));
      guint most = g_rand_int_range (rand, 1, 12);
      ChartTicks ticks = chart_ticks (low, high, most);
      double lead, before = -INFINITY;

      if (!(high > low))
        continue;
      g_assert_cmpuint (ticks.n, <=, most);
      lead = ticks.step / pow (10.0, floor (log10 (ticks.step) + 1e-9));
      g_assert_true (fabs (lead - 1.0) < 1e-6 || fabs (lead - 2.0) < 1e-6 || fabs (lead - 5.0) < 1e-6);
      if (most >= 6 && high - low > 1e-9 * fabs (low))
        g_assert_cmpuint (ticks.n, >=, 2);
      for (guint i = 0; i < ticks.n; i++)
        {
          double value = chart_ticks_value (&ticks, i);

          g_assert_cmpfloat (value, >=, low - 1e-5 * ticks.step - 8.0 * DBL_EPSILON * fabs (low));
          g_assert_cmpfloat (value, <=, high + 1e-5 * ticks.step + 8.0 * DBL_EPSILON * fabs (high));
          g_assert_cmpfloat (value, >, before);
          before = value;
        }
    }
}

static void
test_ticks_around (void)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_message ("seed %u", seed);
  for (guint turn = 0; turn < 5000; turn++)
    {
      double low = (g_rand_double (rand) - 0.5) * 1000.0,
             high = low + pow (10.0, g_rand_double_range (rand, -3.0, 3.0));
      double wide_low = low, wide_high = high;
      guint most = g_rand_int_range (rand, 3, 10);
      ChartTicks ticks = chart_ticks_around (&wide_low, &wide_high, most);

      g_assert_cmpuint (ticks.n, >=, 2);
      g_assert_cmpuint (ticks.n, <=, most);
      g_assert_cmpfloat (wide_low, <=, low + 1e-5 * ticks.step);
      g_assert_cmpfloat (wide_high, >=, high - 1e-5 * ticks.step);
      g_assert_cmpfloat_with_epsilon (chart_ticks_value (&ticks, 0), wide_low, 1e-6 * ticks.step);
      g_assert_cmpfloat_with_epsilon (chart_ticks_value (&ticks, ticks.n - 1), wide_high, 1e-6 * ticks.step);
    }
}

/* The two rules are ours: nobody's plot should be three parts empty, and one tick alone says nothing of the step. */
static void
test_ticks_close (void)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  double low = 250.0 - 5.4, high = 430.0 + 5.4; /* readings from 365 to 430, a limit of 250, and some air */
  ChartTicks ticks;

  g_test_message ("seed %u", seed);
  ticks = chart_ticks_close (&low, &high, 3);
  g_assert_cmpfloat (low, >=, 200.0);
  g_assert_cmpfloat (high, <=, 450.0);
  g_assert_cmpuint (ticks.n, ==, 2);
  g_assert_cmpfloat (chart_ticks_value (&ticks, 0), ==, 300.0);
  g_assert_cmpfloat (chart_ticks_value (&ticks, 1), ==, 400.0);

  for (guint turn = 0; turn < 5000; turn++)
    {
      double least = (g_rand_double (rand) - 0.5) * 1000.0,
             greatest = least + pow (10.0, g_rand_double_range (rand, -3.0, 3.0));
      guint most = g_rand_int_range (rand, 2, 10);

      low = least;
      high = greatest;
      ticks = chart_ticks_close (&low, &high, most);
      g_assert_cmpuint (ticks.n, >=, 2);
      g_assert_cmpuint (ticks.n, <=, most);
      g_assert_cmpfloat (low, <=, least + 1e-5 * ticks.step);
      g_assert_cmpfloat (high, >=, greatest - 1e-5 * ticks.step);
      if (most >= 3)
        g_assert_cmpfloat (high - low, <=, 1.51 * (greatest - least));
    }
}

static void
test_scale_there_and_back (void)
{
  ChartScale scale;

  chart_scale_init (&scale, 10.0, 20.0, 300.0, 100.0);
  g_assert_cmpfloat (chart_scale_at (&scale, 10.0), ==, 300.0);
  g_assert_cmpfloat (chart_scale_at (&scale, 20.0), ==, 100.0);
  g_assert_cmpfloat (chart_scale_at (&scale, 15.0), ==, 200.0);
  g_assert_cmpfloat (chart_scale_at (&scale, INFINITY), ==, 100.0);
  g_assert_cmpfloat (chart_scale_at (&scale, -INFINITY), ==, 300.0);
  g_assert_true (isnan (chart_scale_at (&scale, NAN)));
  for (double value = -50.0; value < 90.0; value += 3.7)
    g_assert_cmpfloat_with_epsilon (chart_scale_value (&scale, chart_scale_at (&scale, value)), value, 1e-9);

  chart_scale_init (&scale, 5.0, 5.0, 0.0, 100.0);
  g_assert_cmpfloat (chart_scale_at (&scale, 5.0), ==, 50.0);
  chart_scale_init (&scale, -DBL_MAX, DBL_MAX, 0.0, 100.0);
  g_assert_cmpfloat_with_epsilon (chart_scale_at (&scale, 0.0), 50.0, 1e-9);
}

static void
test_ranges_settle (void)
{
  static const double values[][2] = { { 3.0, 3.0 },           { 0.0, 0.0 },      { -7e-300, -7e-300 },
                                      { 1e15, 1e15 + 0.125 }, { -1e308, 1e308 }, { 5e-324, 5e-324 } };
  double low, high;

  chart_range_init (&low, &high);
  chart_range_take (&low, &high, NAN);
  chart_range_take (&low, &high, INFINITY);
  chart_range_settle (&low, &high);
  g_assert_cmpfloat (low, ==, 0.0);
  g_assert_cmpfloat (high, ==, 1.0);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      chart_range_init (&low, &high);
      chart_range_take (&low, &high, values[i][0]);
      chart_range_take (&low, &high, values[i][1]);
      chart_range_settle (&low, &high);
      g_assert_true (isfinite (low) && isfinite (high) && isfinite (high - low));
      g_assert_cmpfloat (low, <, high);
      if (fabs (values[i][0]) < 1e300)
        {
          g_assert_cmpfloat (low, <=, values[i][0]);
          g_assert_cmpfloat (high, >=, values[i][1]);
        }
    }
}

static void
test_numbers_as_text (void)
{
  static const struct
  {
    double value;
    int decimals;
    const char *text;
  } cases[] = { { 12.05, 2, "12.05" },       { 12.05, -1, "12.05" },   { 5.0, -1, "5" },
                { -0.001, 2, "0.00" },       { -0.0, 0, "0" },         { -12.5, 1, "−12.5" },
                { 0.1 + 0.2, -1, "0.3" },    { 2.5e12, 0, "2.5e+12" }, { 1e-9, 10, "1e-09" },
                { 0.000125, -1, "0.000125" } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = chart_number (cases[i].value, cases[i].decimals);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static guint
day (guint year, guint month, guint number)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, number, month, year);
  return g_date_get_julian (&date);
}

static void
check_dates (guint low, guint high, guint most, guint n, const char *first, const char *last)
{
  g_autoptr(GArray) ticks = chart_date_ticks (low, high, most);

  g_assert_cmpuint (ticks->len, ==, n);
  g_assert_cmpstr (g_array_index (ticks, ChartDateTick, 0).text, ==, first);
  g_assert_cmpstr (g_array_index (ticks, ChartDateTick, n - 1).text, ==, last);
}

static void
test_dates (void)
{
  g_test_summary (
      "calendar facts: 26 February 2024 was a Monday, and 2024 had a 29 February (ISO 8601 week 2024-W09)");
  check_dates (day (2024, 2, 27), day (2024, 3, 1), 6, 4, "2024-02-27", "2024-03-01");
  check_dates (day (2024, 2, 25), day (2024, 3, 12), 6, 3, "2024-02-26", "2024-03-11");
  check_dates (day (2024, 1, 15), day (2024, 6, 15), 6, 5, "2024-02", "2024-06");
  check_dates (day (2024, 1, 1), day (2025, 12, 31), 8, 8, "2024-01", "2025-10");
  check_dates (day (1999, 5, 1), day (2026, 5, 1), 6, 6, "2000", "2025");
  check_dates (day (2024, 5, 5), day (2024, 5, 5), 1, 1, "2024-05-05", "2024-05-05");
  for (guint span = 0; span < 60000; span = span * 2 + 1)
    for (guint most = 1; most < 12; most++)
      {
        g_autoptr(GArray) ticks = chart_date_ticks (day (2001, 3, 9), day (2001, 3, 9) + span, most);

        g_assert_cmpuint (ticks->len, <=, most);
        for (guint i = 0; i < ticks->len; i++)
          {
            const ChartDateTick *tick = &g_array_index (ticks, ChartDateTick, i);

            g_assert_true (tick->day >= day (2001, 3, 9) && tick->day <= day (2001, 3, 9) + span);
            g_assert_true (i == 0 || tick->day > (tick - 1)->day);
          }
      }
}

static void
test_labels_spread (void)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_summary ("spread labels stay inside and apart, keep their order, and do not move without need");
  g_test_message ("seed %u", seed);
  for (guint turn = 0; turn < 5000; turn++)
    {
      ChartLabel labels[12] = { 0 };
      guint n = g_rand_int_range (rand, 0, 13), placed = 0;
      double high = g_rand_double_range (rand, 10.0, 400.0), length = 0.0;

      for (guint i = 0; i < n; i++)
        {
          labels[i] = (ChartLabel){ g_rand_double_range (rand, -50.0, high + 50.0),
                                    g_rand_double_range (rand, 5.0, 30.0),
                                    g_rand_int_range (rand, 0, 3),
                                    0.0,
                                    FALSE };
          length += labels[i].size + 2.0;
        }
      chart_labels_spread (labels, n, 0.0, high, 2.0);
      for (guint i = 0; i < n; i++)
        {
          gboolean alone = labels[i].wanted - labels[i].size / 2.0 >= 0.0
                           && labels[i].wanted + labels[i].size / 2.0 <= high;

          if (!labels[i].placed)
            continue;
          placed++;
          g_assert_cmpfloat (labels[i].at - labels[i].size / 2.0, >=, -1e-6);
          g_assert_cmpfloat (labels[i].at + labels[i].size / 2.0, <=, high + 1e-6);
          for (guint j = 0; j < n; j++)
            {
              if (j == i || !labels[j].placed)
                continue;
              g_assert_cmpfloat (
                  fabs (labels[i].at - labels[j].at), >=, (labels[i].size + labels[j].size) / 2.0 + 2.0 - 1e-6);
              if (labels[i].wanted - labels[i].size / 2.0 < labels[j].wanted - labels[j].size / 2.0
                  && labels[i].wanted < labels[j].wanted)
                g_assert_cmpfloat (labels[i].at, <, labels[j].at);
              alone = alone && fabs (labels[i].wanted - labels[j].wanted) > 400.0;
            }
          if (alone)
            g_assert_cmpfloat_with_epsilon (labels[i].at, labels[i].wanted, 1e-6);
        }
      if (length - 2.0 <= high)
        g_assert_cmpuint (placed, ==, n);
    }
}

static void
test_labels_lie_on_their_mean (void)
{
  ChartLabel labels[]
      = { { 50.0, 10.0, 0, 0.0, FALSE }, { 50.0, 10.0, 0, 0.0, FALSE }, { 90.0, 10.0, 0, 0.0, FALSE } };

  g_test_summary ("two labels that want one place share it evenly; a third that is far does not move");
  chart_labels_spread (labels, 3, 0.0, 100.0, 0.0);
  g_assert_cmpfloat_with_epsilon (labels[0].at, 45.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (labels[1].at, 55.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (labels[2].at, 90.0, 1e-9);
}

static void
test_labels_thin (void)
{
  ChartLabel labels[40] = { 0 };

  for (guint i = 0; i < 40; i++)
    labels[i] = (ChartLabel){ 5.0 + i * 10.0, 18.0, 0, 0.0, FALSE };
  chart_labels_thin (labels, 40, 0.0, 400.0, 4.0, 20);
  g_assert_true (labels[39].placed); /* the newest is always told */
  g_assert_true (labels[20].placed); /* and the one that should stay */
  g_assert_true (labels[36].placed && !labels[37].placed && !labels[38].placed);
  for (guint i = 0; i < 40; i++)
    for (guint j = 0; j < i; j++)
      if (labels[i].placed && labels[j].placed)
        g_assert_cmpfloat (labels[i].at - labels[j].at, >=, 22.0 - 1e-9);

  labels[0].size = 500.0;
  chart_labels_thin (labels, 1, 0.0, 400.0, 4.0, 0);
  g_assert_false (labels[0].placed);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/scale/ticks-are-those-worked-out-by-hand", test_round_ticks);
  g_test_add_func ("/chart/scale/ticks-are-round-and-few-for-any-range", test_ticks_over_a_grid);
  g_test_add_func ("/chart/scale/ticks-around-hold-the-range", test_ticks_around);
  g_test_add_func ("/chart/scale/ticks-close-leave-little-empty", test_ticks_close);
  g_test_add_func ("/chart/scale/maps-there-and-back", test_scale_there_and_back);
  g_test_add_func ("/chart/scale/any-range-can-be-drawn", test_ranges_settle);
  g_test_add_func ("/chart/scale/numbers-have-their-decimals-and-a-true-minus", test_numbers_as_text);
  g_test_add_func ("/chart/scale/dates-fall-on-days-mondays-months-years", test_dates);
  g_test_add_func ("/chart/labels/spread-stays-inside-and-apart", test_labels_spread);
  g_test_add_func ("/chart/labels/spread-shares-a-place-evenly", test_labels_lie_on_their_mean);
  g_test_add_func ("/chart/labels/thinning-keeps-the-newest", test_labels_thin);
  return g_test_run ();
}
