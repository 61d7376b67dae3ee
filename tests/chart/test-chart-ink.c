/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is inked: relations between drawings, never a reference picture.
 */
#include "chart-private.h"
#include "chart-samples.h"
#include "chart-test.h"

#include <math.h>
#include <string.h>

#define WIDTH  640
#define HEIGHT 360

static cairo_surface_t *
draw (Chart *chart, ChartLook look)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);

  chart_draw (chart, cr, WIDTH, HEIGHT, chart_theme (look));
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static guint32
dot (cairo_surface_t *surface, double x, double y)
{
  const unsigned char *row
      = cairo_image_surface_get_data (surface) + (gsize) floor (y) * cairo_image_surface_get_stride (surface);
  guint32 value;

  memcpy (&value, row + 4 * (gsize) floor (x), sizeof value);
  return value;
}

/* The sum of the alpha of all dots: how much ink there is. */
static guint64
ink_within (cairo_surface_t *surface, double x, double y, double w, double h)
{
  guint64 sum = 0;

  for (double row = floor (y); row < y + h; row++)
    for (double column = floor (x); column < x + w; column++)
      sum += dot (surface, column, row) >> 24;
  return sum;
}

static guint64
ink (cairo_surface_t *surface)
{
  return ink_within (surface, 0.0, 0.0, WIDTH, HEIGHT);
}

static Chart *
one_round (const ChartReading *readings, guint n, double mean)
{
  static const ChartLimit limits[] = { { 0.0, 0.0, 10.0 } };
  ChartRound round = { "R1", "n", mean, mean - 1.0, mean + 1.0, FALSE, FALSE, NULL };
  ChartCharacteristic data = {
    .rounds = &round, .n_rounds = 1, .readings = readings, .n_readings = n, .limits = limits, .n_limits = 1
  };

  return chart_characteristic_new (&data);
}

static void
test_two_drawings_are_equal (void)
{
  const Sample sample = { 7, 0, 5, FALSE, TRUE };
  g_autoptr(Chart) chart = sample_characteristic (&sample);
  g_autoptr(Chart) other = sample_characteristic (&sample);
  cairo_surface_t *one = draw (chart, CHART_LOOK_LIGHT), *again = draw (chart, CHART_LOOK_LIGHT),
                  *two = draw (other, CHART_LOOK_LIGHT);
  gsize size = (gsize) cairo_image_surface_get_stride (one) * HEIGHT;

  g_test_summary ("a cached layout and a new one give the same dots");
  g_assert_cmpmem (cairo_image_surface_get_data (one), size, cairo_image_surface_get_data (again), size);
  g_assert_cmpmem (cairo_image_surface_get_data (one), size, cairo_image_surface_get_data (two), size);
  cairo_surface_destroy (one);
  cairo_surface_destroy (again);
  cairo_surface_destroy (two);
}

static void
test_a_reading_adds_ink (void)
{
  const ChartReading readings[] = { { 0, 2.0, CHART_READING_PLAIN, 1, NULL },
                                    { 0, 5.0, CHART_READING_PLAIN, 2, NULL },
                                    { 0, 7.5, CHART_READING_PLAIN, 3, NULL } };
  guint64 before = 0;

  for (guint n = 0; n <= G_N_ELEMENTS (readings); n++)
    {
      g_autoptr(Chart) chart = one_round (readings, n, NAN);
      cairo_surface_t *surface = draw (chart, CHART_LOOK_LIGHT);

      g_assert_cmpuint (ink (surface), >, before);
      before = ink (surface);
      for (guint i = 0; i < n; i++)
        {
          double x, y;

          g_assert_true (chart_mark_position (chart, (int) i, &x, &y));
          g_assert_cmpuint (ink_within (surface, x - 5.0, y - 5.0, 10.0, 10.0), >, 1000);
        }
      cairo_surface_destroy (surface);
    }
}

static guint64
ink_of_mark (ChartReadingFlags flags)
{
  const ChartReading reading = { 0, 4.95, flags, 1, NULL };
  g_autoptr(Chart) chart = one_round (&reading, 1, NAN);
  cairo_surface_t *surface = draw (chart, CHART_LOOK_LIGHT);
  double x, y; /* between two ticks, so that no grid line adds to the ink */
  guint64 sum;

  g_assert_true (chart_mark_position (chart, 0, &x, &y));
  sum = ink_within (surface, x - 6.0, y - 6.0, 12.0, 12.0);
  cairo_surface_destroy (surface);
  return sum;
}

static void
test_marks_tell_by_shape (void)
{
  guint64 plain = ink_of_mark (CHART_READING_PLAIN), uncounted = ink_of_mark (CHART_READING_UNCOUNTED);
  guint64 failed = ink_of_mark (CHART_READING_FAILED), above = ink_of_mark (CHART_READING_ABOVE);

  g_test_summary (
      "failed is heavier than plain, what does not count is lighter, in ink alone, whatever the colour");
  g_assert_cmpuint (failed, >, 3 * plain / 2);
  g_assert_cmpuint (uncounted, <, 2 * plain / 3);
  g_assert_cmpuint (ink_of_mark (CHART_READING_FAILED | CHART_READING_UNCOUNTED), <, failed);
  g_assert_cmpuint (above, !=, plain);
  g_assert_cmpuint (above, !=, ink_of_mark (CHART_READING_VOID));
}

/* Mean and spread of the grey of a pattern: two patterns must differ in one of them to be told apart without
 * colour. */
static void
grey_of (ChartHatch hatch, ChartLook look, double *mean, double *spread)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 60, 60);
  cairo_t *cr = cairo_create (surface);
  double sum = 0.0, squares = 0.0;

  chart_hatch_fill (cr, chart_theme (look), CHART_HATCH_BLANK, 0.0, 0.0, 60.0, 60.0);
  chart_hatch_fill (cr, chart_theme (look), hatch, 0.0, 0.0, 60.0, 60.0);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  for (guint y = 10; y < 50; y++)
    for (guint x = 10; x < 50; x++)
      {
        guint32 value = dot (surface, x, y);
        double grey
            = (0.2126 * (value >> 16 & 0xff) + 0.7152 * (value >> 8 & 0xff) + 0.0722 * (value & 0xff)) / 255.0;

        sum += grey;
        squares += grey * grey;
      }
  *mean = sum / 1600.0;
  *spread = sqrt (MAX (squares / 1600.0 - *mean * *mean, 0.0));
  cairo_surface_destroy (surface);
}

static void
test_patterns_differ_in_grey (void)
{
  for (int look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT; look++)
    for (int one = CHART_HATCH_LIMIT; one <= CHART_HATCH_BLANK; one++)
      for (int two = CHART_HATCH_LIMIT; two < one; two++)
        {
          double mean_one, mean_two, spread_one, spread_two;

          grey_of (one, look, &mean_one, &spread_one);
          grey_of (two, look, &mean_two, &spread_two);
          g_assert_cmpfloat (fabs (mean_one - mean_two) + fabs (spread_one - spread_two), >, 0.02);
        }
}

/* Relative luminance and contrast as WCAG 2.1 defines them; 4.5 is its level AA for text, 3 for graphics. */
static double
luminance (const ChartColour *colour)
{
  const double parts[] = { colour->red, colour->green, colour->blue }, weights[] = { 0.2126, 0.7152, 0.0722 };
  double sum = 0.0;

  for (guint i = 0; i < 3; i++)
    sum += weights[i] * (parts[i] <= 0.03928 ? parts[i] / 12.92 : pow ((parts[i] + 0.055) / 1.055, 2.4));
  return sum;
}

static double
contrast (const ChartColour *one, const ChartColour *other)
{
  double a = luminance (one), b = luminance (other);

  return (MAX (a, b) + 0.05) / (MIN (a, b) + 0.05);
}

static void
test_words_can_be_read (void)
{
  for (int look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT; look++)
    {
      const ChartTheme *theme = chart_theme (look);

      g_assert_cmpfloat (contrast (&theme->ink, &theme->sheet), >, 7.0);
      g_assert_cmpfloat (contrast (&theme->ink, &theme->paper), >, 7.0);
      g_assert_cmpfloat (contrast (&theme->faint, &theme->sheet), >, 4.5);
      g_assert_cmpfloat (contrast (&theme->faint, &theme->paper), >, 4.5);
      g_assert_cmpfloat (contrast (&theme->copper, &theme->sheet), >, 4.5);
      g_assert_cmpfloat (contrast (&theme->copper, &theme->paper), >, 4.5);
      g_assert_cmpfloat (contrast (&theme->on_copper, &theme->copper), >, 4.5);
    }
}

static void
test_dense_extremes_are_seen (void)
{
  guint n = 50000;
  g_autofree ChartReading *readings = g_new0 (ChartReading, n);
  g_autoptr(GRand) rand = g_rand_new_with_seed (4);
  g_autoptr(Chart) chart = NULL;
  cairo_surface_t *surface;
  double x, y;

  g_test_summary (
      "among fifty thousand a single far reading and a single failed one are inked; an empty place is not");
  for (guint i = 0; i < n; i++)
    readings[i] = (ChartReading){ 0, 4.0 + g_rand_double (rand), CHART_READING_PLAIN, i, NULL };
  readings[20000].value = 9.0;
  readings[30000].value = 11.0;
  readings[30000].flags = CHART_READING_FAILED;
  chart = one_round (readings, n, 4.5);
  surface = draw (chart, CHART_LOOK_LIGHT);
  for (guint i = 20000; i <= 30000; i += 10000)
    {
      g_assert_true (chart_mark_position (chart, (int) i, &x, &y));
      g_assert_cmpuint (ink_within (surface, x - 3.0, y - 3.0, 6.0, 6.0), >, 1500);
      g_assert_cmpint (chart_hit (chart, x, y), ==, i);
    }
  g_assert_true (chart_mark_position (chart, 20000, &x, &y));
  g_assert_cmpuint (ink_within (surface, x + 40.0, y - 3.0, 6.0, 6.0), ==, 0);
  for (guint i = 0; i < n; i += 997) /* every reading lies on ink */
    {
      g_assert_true (chart_mark_position (chart, (int) i, &x, &y));
      g_assert_cmpuint (ink_within (surface, x - 1.0, y - 1.0, 2.0, 2.0), >, 0);
    }
  cairo_surface_destroy (surface);
}

static void
test_estimate_in_copper (void)
{
  const ChartReading reading = { 0, 2.0, CHART_READING_PLAIN, 1, NULL };
  g_autoptr(Chart) chart = one_round (&reading, 1, 6.0);
  cairo_surface_t *surface = draw (chart, CHART_LOOK_PRINT);
  guint seen = 0;

  g_test_summary ("the bar of the mean lies at its value, in copper, also on paper");
  for (guint i = 0; i < chart->scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (chart->scene->items, ChartItem, i);
      double x, y;

      if (strcmp (item->role, "estimate") != 0)
        continue;
      x = g_array_index (chart->scene->points, double, 2 * item->first_point);
      y = g_array_index (chart->scene->points, double, 2 * item->first_point + 1);
      g_assert_cmpfloat (fabs (y
                               - (chart->scene->plot_y
                                  + chart->scene->plot_h
                                        * (1.0
                                           - (6.0 - chart->scene->ticks.first * chart->scene->ticks.step)
                                                 / ((chart->scene->ticks.n - 1) * chart->scene->ticks.step)))),
                         <=,
                         1.0);
      g_assert_cmphex (dot (surface, x + 4.0, y), ==, 0xff9c4a1a);
      seen++;
    }
  g_assert_cmpuint (seen, ==, 1);
  cairo_surface_destroy (surface);
}

static void
test_focus_adds_a_ring (void)
{
  const Sample samples[] = { { 7, 0, 5, FALSE, FALSE } };
  Chart *(*makers[]) (const Sample *) = { sample_characteristic, sample_checked, sample_score, sample_strip, sample_effect,
                                        sample_issues, sample_plot, sample_rows, sample_yields, sample_individuals,
                                        sample_distribution, sample_wall };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    {
      g_autoptr(Chart) chart = makers[m](samples);
      cairo_surface_t *before = draw (chart, CHART_LOOK_DARK), *after;

      chart_set_focus (chart, 2);
      after = draw (chart, CHART_LOOK_DARK);
      g_assert_cmpuint (ink (after), >, ink (before));
      cairo_surface_destroy (before);
      cairo_surface_destroy (after);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/ink/two-drawings-of-one-chart-are-equal", test_two_drawings_are_equal);
  g_test_add_func ("/chart/ink/a-reading-adds-ink-at-its-place", test_a_reading_adds_ink);
  g_test_add_func ("/chart/ink/marks-tell-by-shape-and-weight", test_marks_tell_by_shape);
  g_test_add_func ("/chart/ink/patterns-differ-in-grey", test_patterns_differ_in_grey);
  g_test_add_func ("/chart/ink/words-stand-out-from-their-ground", test_words_can_be_read);
  g_test_add_func ("/chart/ink/extremes-are-seen-among-many", test_dense_extremes_are_seen);
  g_test_add_func ("/chart/ink/the-mean-is-a-copper-bar", test_estimate_in_copper);
  g_test_add_func ("/chart/ink/focus-adds-a-ring", test_focus_adds_a_ring);
  return chart_test_run ();
}
