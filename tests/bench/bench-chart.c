/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-chart: redrawing one characteristic with 100,000 readings, as the Readings page shows it, against the
 * calibration loop. The chart is laid out for its size already, as after any change of focus or of what lies above it. */
#include "bench-pairs.h"

#include "chart-characteristic.h"

#include <math.h>

#define READINGS 100000
#define ROUNDS 8
#define WIDTH 1100
#define HEIGHT 520

typedef struct
{
  Chart           *chart;
  const ChartTheme *theme;
  cairo_surface_t *surface;
  cairo_t         *cr;
} Bench;

static double
normal (GRand *rand)
{
  return sqrt (-2.0 * log (1.0 - g_rand_double (rand))) * cos (2.0 * G_PI * g_rand_double (rand));
}

static Chart *
make_chart (void)
{
  static const char *const names[ROUNDS] = { "M1", "P1", "P2", "P3", "P4", "A", "B", "C" };
  g_autoptr(GRand) rand = g_rand_new_with_seed (20260301);
  g_autofree ChartReading *readings = g_new0 (ChartReading, READINGS);
  ChartRound rounds[ROUNDS];
  const ChartLimit limits[] = { { 0.0, 11.93, 12.07 }, { 4.0, 11.95, 12.05 } };
  const ChartCharacteristic data = { .unit = "mm", .empty = "No reading yet.", .lower_words = "lower limit 11.95",
                                     .upper_words = "upper limit 12.05", .decimals = 2, .rounds = rounds, .n_rounds = ROUNDS,
                                     .readings = readings, .n_readings = READINGS, .limits = limits,
                                     .n_limits = G_N_ELEMENTS (limits) };

  for (guint r = 0; r < ROUNDS; r++)
    {
      double mean = 11.98 + 0.003 * r;

      rounds[r] = (ChartRound){ .name = names[r], .count = "n 12500", .mean = mean, .low = mean - 0.001, .high = mean + 0.001,
                                .uncounted = r < 3, .current = r == ROUNDS - 1 };
    }
  for (guint i = 0; i < READINGS; i++)
    {
      guint round = i / (READINGS / ROUNDS);
      double value = rounds[round].mean + 0.02 * normal (rand);
      ChartReadingFlags flags = round < 3 ? CHART_READING_UNCOUNTED : CHART_READING_PLAIN;

      if (fabs (value - 12.0) > (round < 4 ? 0.07 : 0.05))
        flags |= CHART_READING_FAILED;
      if (i % 2003 == 0)
        flags |= CHART_READING_VOID;
      readings[i] = (ChartReading){ .round = round, .value = value, .flags = flags, .key = i + 1 };
    }
  return chart_characteristic_new (&data);
}

static void
redraw (gpointer data)
{
  Bench *bench = data;

  chart_draw (bench->chart, bench->cr, WIDTH, HEIGHT, bench->theme);
  cairo_surface_flush (bench->surface);
}

int
main (void)
{
  Bench bench = { .chart = make_chart (), .theme = chart_theme (CHART_LOOK_LIGHT) };

  bench.surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  bench.cr = cairo_create (bench.surface);
  bench_pairs (redraw, 10, bench_calibration, 1, &bench);
  if (cairo_status (bench.cr) != CAIRO_STATUS_SUCCESS)
    g_error ("the chart was not drawn: %s", cairo_status_to_string (cairo_status (bench.cr)));
  cairo_destroy (bench.cr);
  cairo_surface_destroy (bench.surface);
  chart_free (bench.chart);
  return 0;
}
