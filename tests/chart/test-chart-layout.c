/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Layouts of all kinds over a grid of sizes, data and looks: no text lies on another, everything lies within
 * the drawing.
 */
#include "chart-private.h"
#include "chart-samples.h"
#include "chart-test.h"

#include <math.h>
#include <string.h>

#define SLACK 0.51 /* boxes are measured in fractions of a dot; half of one is not seen */

typedef Chart *(*Maker) (const Sample *);

static const struct
{
  const char *name;
  Maker make;
} makers[] = { { "characteristic", sample_characteristic },
               { "checked", sample_checked },
               { "issues", sample_issues },
               { "score", sample_score },
               { "strip", sample_strip },
               { "effect", sample_effect },
               { "plot", sample_plot },
               { "rows", sample_rows },
               { "yields", sample_yields },
               { "individuals", sample_individuals },
               { "distribution", sample_distribution },
               { "wall", sample_wall } };

static const struct
{
  double width, height;
} sizes[] = { { 320, 200 },      { 320, 640 },  { 400, 270 },  { 480, 320 },  { 640, 220 },
              { 801.5, 433.25 }, { 1040, 270 }, { 1000, 640 }, { 1600, 300 }, { 2560, 1440 } };

static gboolean
overlap (const ChartItem *one, const ChartItem *other)
{
  return one->x + one->w > other->x + SLACK && other->x + other->w > one->x + SLACK
         && one->y + one->h > other->y + SLACK && other->y + other->h > one->y + SLACK;
}

static void
check_inside (const ChartScene *scene, const ChartItem *item, const char *what)
{
  double left = item->x, top = item->y, right = item->x + item->w, bottom = item->y + item->h;

  if (item->kind == CHART_ITEM_MARK)
    {
      left -= item->w;
      top -= item->h;
    }
  for (guint i = 0; item->kind == CHART_ITEM_LINE && i < item->n_points; i++)
    {
      double x = g_array_index (scene->points, double, 2 * (item->first_point + i));
      double y = g_array_index (scene->points, double, 2 * (item->first_point + i) + 1);

      left = i == 0 ? x : MIN (left, x);
      right = i == 0 ? x : MAX (right, x);
      top = i == 0 ? y : MIN (top, y);
      bottom = i == 0 ? y : MAX (bottom, y);
    }
  if (!(left >= -SLACK && top >= -SLACK && right <= scene->width + SLACK && bottom <= scene->height + SLACK))
    g_test_message ("%s: %s at %g,%g to %g,%g", what, item->role, left, top, right, bottom);
  g_assert_true (left >= -SLACK && top >= -SLACK && right <= scene->width + SLACK
                 && bottom <= scene->height + SLACK);
}

static guint
check_scene (Chart *chart, const char *what)
{
  const ChartScene *scene = chart->scene;
  g_autofree guint *texts = g_new (guint, scene->items->len + 1);
  guint n_texts = 0;

  for (guint i = 0; i < scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (scene->items, ChartItem, i);

      check_inside (scene, item, what);
      if (item->kind != CHART_ITEM_TEXT)
        continue;
      for (guint t = 0; t < n_texts; t++)
        {
          const ChartItem *other = &g_array_index (scene->items, ChartItem, texts[t]);

          if (overlap (item, other))
            g_test_message ("%s: \"%s\" (%s %g,%g %gx%g) lies on \"%s\" (%s %g,%g %gx%g)",
                            what,
                            pango_layout_get_text (item->layout),
                            item->role,
                            item->x,
                            item->y,
                            item->w,
                            item->h,
                            pango_layout_get_text (other->layout),
                            other->role,
                            other->x,
                            other->y,
                            other->w,
                            other->h);
          g_assert_false (overlap (item, other));
        }
      texts[n_texts++] = i;
    }
  return n_texts;
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
try_sizes (const Sample *sample, guint maker)
{
  for (guint look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT;
       look += CHART_LOOK_PRINT - CHART_LOOK_LIGHT) /* dark has the fonts of light */
    for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
      {
        g_autoptr(Chart) chart = makers[maker].make (sample);
        g_autofree char *what = g_strdup_printf ("%s %gx%g look %u, %u rounds of %u, seed %u%s",
                                                 makers[maker].name,
                                                 sizes[s].width,
                                                 sizes[s].height,
                                                 look,
                                                 sample->rounds,
                                                 sample->units,
                                                 sample->seed,
                                                 sample->long_names ? ", long names" : "");

        if (makers[maker].make == sample_strip)
          chart_strip_set_legend (chart, s % 2 == 0);
        chart_layout (chart, sizes[s].width, sizes[s].height, chart_theme (look));
        g_assert_cmpuint (check_scene (chart, what), >=, 1);
      }
}

static void
test_no_text_on_another (void)
{
  static const Sample samples[]
      = { { 0, 0, 1, FALSE, FALSE },  { 1, 1, 2, FALSE, TRUE },   { 1, 60, 3, FALSE, FALSE },
          { 2, 3, 4, TRUE, TRUE },    { 7, 0, 5, FALSE, TRUE },   { 7, 0, 6, TRUE, FALSE },
          { 25, 4, 7, FALSE, FALSE }, { 200, 2, 8, FALSE, TRUE }, { 40, 3, 9, TRUE, FALSE } };

  g_test_summary ("texts do not overlap and nothing leaves the drawing, for each kind, size, look and sample");
  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
      try_sizes (&samples[i], m);
}

static void
test_pseudo_language (void)
{
  static const Sample samples[] = { { 1, 1, 2, FALSE, TRUE }, { 7, 0, 5, FALSE, TRUE }, { 9, 12, 6, FALSE, FALSE }, { 40, 3, 9, FALSE, TRUE } };

  g_test_summary ("a language of longer words changes nothing in this");
  samples_set_pseudo (TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
      try_sizes (&samples[i], m);
  samples_set_pseudo (FALSE);
}

static void
test_sizes_of_values (void)
{
  static const double factors[] = { -1.0, 1e-9, -1e-3, 1e6, -1e12, 1e200 };
  static const Sample samples[] = { { 1, 1, 2, FALSE, TRUE }, { 7, 0, 5, FALSE, FALSE } };

  g_test_summary ("negative, tiny and huge values are drawn as others are");
  for (guint f = 0; f < G_N_ELEMENTS (factors); f++)
    {
      samples_set_factor (factors[f]);
      for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
        for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
          try_sizes (&samples[i], m);
    }
  samples_set_factor (1.0);
}

static void
test_many_values (void)
{
  const Sample sample = { 5, 20000, 4, FALSE, FALSE };

  g_test_summary ("a hundred thousand values");
  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    for (guint s = 0; s < G_N_ELEMENTS (sizes); s += 3)
      {
        g_autoptr(Chart) chart = makers[m].make (&sample);

        chart_layout (chart, sizes[s].width, sizes[s].height, chart_theme (CHART_LOOK_LIGHT));
        check_scene (chart, makers[m].name);
        g_test_message ("%s %gx%g: %u items", makers[m].name, sizes[s].width, sizes[s].height, chart->scene->items->len);
        /* What is drawn is bounded by the dots there are, not by the values: at most an item in 36 of them. */
        g_assert_cmpuint (chart->scene->items->len, <, sizes[s].width * sizes[s].height / 36.0 + 1000.0);
      }
}

static void
test_random_data (void)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_message ("seed %u", seed);
  for (guint turn = 0; turn < 60; turn++)
    {
      Sample sample = { g_rand_int_range (rand, 0, 30),
                        g_rand_int_range (rand, 1, 70),
                        g_rand_int (rand),
                        g_rand_int_range (rand, 0, 6) == 0,
                        g_rand_boolean (rand) };
      guint maker = g_rand_int_range (rand, 0, G_N_ELEMENTS (makers));
      double width = g_rand_double_range (rand, 320.0, 2400.0),
             height = g_rand_double_range (rand, 200.0, 1400.0);
      g_autoptr(Chart) chart = makers[maker].make (&sample);
      g_autofree char *what = g_strdup_printf ("%s %gx%g, %u rounds of %u, seed %u",
                                               makers[maker].name,
                                               width,
                                               height,
                                               sample.rounds,
                                               sample.units,
                                               sample.seed);

      chart_layout (chart, width, height, chart_theme (turn % 3));
      check_scene (chart, what);
    }
}

static void
test_small_sizes (void)
{
  static const double lengths[] = { -5.0, 0.0, 1.0, 39.0, 41.0, 60.0, 90.0, 140.0, 199.0, NAN, 1e9 };
  const Sample sample = { 7, 0, 3, FALSE, TRUE };

  g_test_summary ("sizes in which a chart cannot be read draw less or nothing, and never beyond themselves");
  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    for (guint w = 0; w < G_N_ELEMENTS (lengths); w++)
      for (guint h = 0; h < G_N_ELEMENTS (lengths); h++)
        {
          g_autoptr(Chart) chart = makers[m].make (&sample);

          chart_layout (chart, lengths[w], lengths[h], chart_theme (CHART_LOOK_LIGHT));
          check_scene (chart, makers[m].name);
          if (!(lengths[w] >= 40.0 && lengths[h] >= 40.0))
            g_assert_cmpuint (chart->scene->items->len, ==, 0);
        }
}

static void
test_ink_inside (void)
{
  static const Sample samples[] = {
    { 7, 0, 5, FALSE, TRUE }, { 3, 900, 6, FALSE, FALSE }, { 60, 6, 7, FALSE, FALSE }, { 2, 9, 8, TRUE, TRUE }
  };

  g_test_summary ("what cairo really inks lies within the size, focus ring included");
  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
      for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
        {
          g_autoptr(Chart) chart = makers[m].make (&samples[i]);
          cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
          cairo_t *cr = cairo_create (surface);
          double x, y, width, height;

          if (makers[m].make == sample_strip)
            chart_strip_set_selection (chart, 0, (int) samples[i].rounds - 1);
          chart_set_focus (chart, (int) (i + s) % (int) chart_count_marks (chart));
          chart_draw (chart, cr, sizes[s].width, sizes[s].height, chart_theme (CHART_LOOK_LIGHT));
          g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
          cairo_recording_surface_ink_extents (surface, &x, &y, &width, &height);
          if (!(x >= -1.0 && y >= -1.0 && x + width <= sizes[s].width + 1.0
                && y + height <= sizes[s].height + 1.0))
            g_test_message ("%s sample %u at %gx%g inks %g,%g %gx%g",
                            makers[m].name,
                            i,
                            sizes[s].width,
                            sizes[s].height,
                            x,
                            y,
                            width,
                            height);
          g_assert_cmpfloat (x, >=, -1.0); /* extents are whole dots outwards */
          g_assert_cmpfloat (y, >=, -1.0);
          g_assert_cmpfloat (x + width, <=, sizes[s].width + 1.0);
          g_assert_cmpfloat (y + height, <=, sizes[s].height + 1.0);
          g_assert_cmpfloat (width * height, >, 0.25 * sizes[s].width * MIN (sizes[s].height, 60.0));
          cairo_destroy (cr);
          cairo_surface_destroy (surface);
        }
}

static void
test_ticks_are_round (void)
{
  static const Sample samples[]
      = { { 7, 0, 5, FALSE, TRUE }, { 1, 1, 6, FALSE, FALSE }, { 60, 6, 7, FALSE, FALSE } };

  g_test_summary ("the scale has at least two ticks, each a multiple of 1, 2 or 5 times a power of ten, "
                  "labelled so that they differ");
  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    for (guint m = 0; m < 3; m++)
      for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
        {
          g_autoptr(Chart) chart = makers[m].make (&samples[i]);
          double lead;

          chart_layout (chart, sizes[s].width, sizes[s].height, chart_theme (CHART_LOOK_LIGHT));
          g_assert_cmpuint (chart->scene->ticks.n, >=, 2);
          lead = chart->scene->ticks.step / pow (10.0, floor (log10 (chart->scene->ticks.step) + 1e-9));
          g_assert_true (fabs (lead - 1.0) < 1e-9 || fabs (lead - 2.0) < 1e-9 || fabs (lead - 5.0) < 1e-9);
          g_assert_cmpuint (count_role (chart, "tick"), ==, chart->scene->ticks.n);
        }
}

static void
test_same_layout_in_every_look (void)
{
  const Sample sample = { 7, 0, 5, FALSE, TRUE };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    {
      g_autoptr(Chart) chart = makers[m].make (&sample);
      g_autofree char *light = NULL, *dark = NULL, *again = NULL;

      chart_layout (chart, 900.0, 400.0, chart_theme (CHART_LOOK_LIGHT));
      light = chart_layout_dump (chart);
      chart_layout (chart, 500.0, 300.0, chart_theme (CHART_LOOK_PRINT));
      chart_layout (chart, 900.0, 400.0, chart_theme (CHART_LOOK_DARK));
      dark = chart_layout_dump (chart);
      g_assert_cmpstr (light, ==, dark);
      chart_layout (chart, 500.0, 300.0, chart_theme (CHART_LOOK_LIGHT));
      again = chart_layout_dump (chart);
      g_assert_cmpstr (light, !=, again);
    }
}

static void
test_limits_step (void)
{
  const Sample sample = { 6, 10, 5, FALSE, FALSE };
  g_autoptr(Chart) chart = sample_characteristic (&sample);

  g_test_summary ("two sets of limits: four lines, four hatched areas, two risers; all rounds have their mean "
                  "and interval");
  chart_layout (chart, 1000.0, 500.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (chart, "limit-line"), ==, 4);
  g_assert_cmpuint (count_role (chart, "outside"), ==, 4);
  g_assert_cmpuint (count_role (chart, "limit-change"), ==, 2);
  g_assert_cmpuint (count_role (chart, "limit"), ==, 2);
  g_assert_cmpuint (count_role (chart, "estimate"), ==, 6);
  g_assert_cmpuint (count_role (chart, "interval"), ==, 18);
  g_assert_cmpuint (count_role (chart, "course"), ==, 5);
  g_assert_cmpuint (count_role (chart, "reading"), ==, 60);
  g_assert_cmpuint (count_role (chart, "round"), ==, 6);
  g_assert_cmpuint (count_role (chart, "count"), ==, 6);
}

static Chart *
awkward_new (const double *values, guint n, double limit)
{
  g_autofree ChartReading *readings = g_new0 (ChartReading, n + 1);
  ChartRound rounds[] = { { "R1", "n", NAN, NAN, NAN, FALSE, FALSE, NULL },
                          { NULL, NULL, values[0], NAN, NAN, FALSE, TRUE, NULL } };
  ChartLimit limits[] = { { 0.0, limit, INFINITY } };
  ChartCharacteristic data = { .empty = "Nothing to draw.",
                               .rounds = rounds,
                               .n_rounds = 2,
                               .readings = readings,
                               .n_readings = n,
                               .limits = limits,
                               .n_limits = 1,
                               .decimals = -1 };

  for (guint i = 0; i < n; i++)
    readings[i] = (ChartReading){
      i % 3, values[i], CHART_READING_PLAIN, i, "\xff\xfe not UTF-8\ntwo lines"
    }; /* every third has no such round */
  return chart_characteristic_new (&data);
}

static void
test_awkward_numbers (void)
{
  static const struct
  {
    double values[4];
    guint n;
    double limit;
  } cases[] = {
    { { NAN, NAN, NAN, NAN }, 4, NAN },
    { { 1.0, 1.0, 1.0, 1.0 }, 4, NAN },
    { { 0.0, 0.0, 0.0, 0.0 }, 4, 0.0 },
    { { -0.0, 5e-324, NAN, 0.0 }, 4, NAN },
    { { 1e308, -1e308, 1e308, 0.0 }, 4, NAN },
    { { INFINITY, -INFINITY, NAN, 3.0 }, 4, INFINITY },
    { { 1e15, 1e15 + 0.125, 1e15 + 0.25, 1e15 }, 4, NAN },
    { { 10000000.1, 10000000.3, 10000000.2, 10000000.2 },
      4,
      NAN }, /* the shape of NIST's NumAcc3: a tiny spread on an offset */
    { { 1e-300, 2e-300, 3e-300, 4e-300 }, 4, NAN },
    { { 7.0, 0.0, 0.0, 0.0 }, 1, NAN },
    { { 7.0, 0.0, 0.0, 0.0 }, 0, 1e300 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
      {
        g_autoptr(Chart) chart = awkward_new (cases[i].values, cases[i].n, cases[i].limit);
        g_autofree char *what = g_strdup_printf ("case %u at %gx%g", i, sizes[s].width, sizes[s].height);

        chart_layout (chart, sizes[s].width, sizes[s].height, chart_theme (CHART_LOOK_LIGHT));
        g_assert_cmpuint (check_scene (chart, what), >=, 1);
        for (guint mark = 0; mark < cases[i].n; mark++)
          {
            double x, y;

            g_assert_cmpint (chart_mark_position (chart, (int) mark, &x, &y),
                             ==,
                             !isnan (cases[i].values[mark]) && mark % 3 < 2);
          }
      }
}

static void
test_effect_forms (void)
{
  const Sample sample = { 7, 12, 8, FALSE, TRUE };
  g_autoptr(Chart) chart = sample_effect (&sample);
  double whole = chart_effect_height (chart, chart_theme (CHART_LOOK_LIGHT));

  g_test_summary ("rows of effects: whole with all figures at their own height, then without names above, then means and "
                  "intervals alone, then some are left out and counted");
  chart_layout (chart, 900.0, whole, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (chart, "name"), ==, 7);
  g_assert_cmpuint (count_role (chart, "note"), ==, 7);
  g_assert_cmpuint (count_role (chart, "side"), ==, 14);
  g_assert_cmpuint (count_role (chart, "figure"), ==, 14 + 6); /* one row has no interval */
  g_assert_cmpuint (count_role (chart, "difference"), ==, 7);
  g_assert_cmpuint (count_role (chart, "interval"), ==, 6);
  g_assert_cmpuint (count_role (chart, "zero"), ==, 7);
  g_assert_cmpuint (count_role (chart, "unit"), >, 100);
  chart_layout (chart, 900.0, whole - 40.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (chart, "note"), ==, 0);
  g_assert_cmpuint (count_role (chart, "unit"), >, 100);
  chart_layout (chart, 900.0, 200.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (chart, "unit"), ==, 0);
  g_assert_cmpuint (count_role (chart, "interval"), ==, 6);
  g_assert_cmpuint (count_role (chart, "more"), ==, 0);
  chart_layout (chart, 900.0, 120.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (chart, "more"), ==, 1);
  g_assert_cmpuint (count_role (chart, "name"), <, 7);
}

/* An interval stands where its figures say: from the old mean, on the row's own scale. */
static void
test_effect_interval_place (void)
{
  const ChartEffectUnit old[] = { { 10.0, FALSE, 1, NULL }, { 12.0, FALSE, 2, NULL } };
  const ChartEffectUnit new[] = { { 13.0, FALSE, 3, NULL }, { 15.0, TRUE, 4, NULL } };
  const ChartEffectRow row = { .name = "C", .before = { "A", NULL, 11.0, old, 2 }, .after = { "B", NULL, 14.0, new, 2 },
                               .low = 1.0, .high = 5.0, .told_apart = TRUE };
  const ChartEffect data = { .rows = &row, .n_rows = 1 };
  g_autoptr(Chart) chart = chart_effect_new (&data);
  double x[5], y[5];

  chart_layout (chart, 600.0, 300.0, chart_theme (CHART_LOOK_LIGHT));
  for (int i = 0; i < 5; i++)
    g_assert_true (chart_mark_position (chart, i, &x[i], &y[i]));
  g_assert_cmpfloat (y[0], >, y[3]); /* the difference below the new units below the old ones */
  g_assert_cmpfloat (y[3], >, y[1]);
  for (guint i = 0; i < chart->scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (chart->scene->items, ChartItem, i);
      double unit = (x[2] - x[1]) / 2.0; /* dots of the drawing to 1 */

      if (strcmp (item->role, "interval") != 0)
        continue;
      g_assert_cmpfloat_with_epsilon (g_array_index (chart->scene->points, double, 2 * item->first_point),
                                      x[1] + (11.0 + 1.0 - 10.0) * unit, 0.01);
      g_assert_cmpfloat_with_epsilon (g_array_index (chart->scene->points, double, 2 * item->first_point + 2),
                                      x[1] + (11.0 + 5.0 - 10.0) * unit, 0.01);
    }
  g_assert_cmpuint (count_role (chart, "interval"), ==, 1);
}

static void
test_nothing_is_said (void)
{
  static const double none[4] = { NAN, NAN, NAN, NAN };
  static const ChartScoreRound rounds[] = { { "P1", "nothing asked", NAN, 1, NULL, TRUE, NULL } };
  static const ChartScore score = { .empty = "No criterion yet.", .rounds = rounds, .n_rounds = 1 };
  static const ChartRound checked_rounds[] = { { "P1", "n 0", NAN, NAN, NAN, FALSE, TRUE, NULL } };
  static const ChartChecked checked = { .empty = "Not checked yet.", .tolerated = NAN, .rounds = checked_rounds, .n_rounds = 1 };
  Chart *charts[] = { awkward_new (none, 4, NAN), chart_score_new (&score), chart_checked_new (&checked) };

  g_test_summary ("without a value the caller's sentence stands in the plot, and no line of the scale behind it");
  for (guint i = 0; i < G_N_ELEMENTS (charts); i++)
    {
      chart_layout (charts[i], 600.0, 300.0, chart_theme (CHART_LOOK_LIGHT));
      g_assert_cmpuint (count_role (charts[i], "empty"), ==, 1);
      g_assert_cmpuint (count_role (charts[i], "grid"), ==, 0);
      g_assert_cmpuint (count_role (charts[i], "ground"), ==, 1);
      chart_free (charts[i]);
    }
}

static void
test_many_readings (void)
{
  const Sample few = { 3, 300, 5, FALSE, FALSE }, many = { 3, 20000, 5, FALSE, FALSE };
  g_autoptr(Chart) single = sample_characteristic (&few);
  g_autoptr(Chart) dense = sample_characteristic (&many);
  guint voids = 0;

  g_test_summary (
      "many readings become cells; each void stays a mark, and the items stay few whatever the number");
  chart_layout (single, 1000.0, 600.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (single, "readings"), ==, 0);
  g_assert_cmpuint (count_role (single, "reading"), ==, 900);
  chart_layout (dense, 1000.0, 600.0, chart_theme (CHART_LOOK_LIGHT));
  g_assert_cmpuint (count_role (dense, "readings"), ==, 2); /* what counts and what does not */
  g_assert_cmpuint (dense->scene->items->len, <, 600);
  for (guint i = 0; i < dense->scene->items->len; i++)
    voids += g_array_index (dense->scene->items, ChartItem, i).kind == CHART_ITEM_MARK
             && g_array_index (dense->scene->items, ChartItem, i).shape == CHART_SHAPE_VOID;
  g_assert_cmpuint (voids, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/layout/longer-words-do-not-overlap", test_pseudo_language);
  g_test_add_func ("/chart/layout/negative-tiny-and-huge-values-do-not-overlap", test_sizes_of_values);
  g_test_add_func ("/chart/layout/a-hundred-thousand-values-stay-inside", test_many_values);
  g_test_add_func ("/chart/layout/no-text-lies-on-another", test_no_text_on_another);
  g_test_add_func ("/chart/layout/random-data-keep-the-rules", test_random_data);
  g_test_add_func ("/chart/layout/small-sizes-draw-less", test_small_sizes);
  g_test_add_func ("/chart/layout/ink-stays-inside", test_ink_inside);
  g_test_add_func ("/chart/layout/ticks-are-round", test_ticks_are_round);
  g_test_add_func ("/chart/layout/colours-do-not-move-anything", test_same_layout_in_every_look);
  g_test_add_func ("/chart/layout/limits-step-with-their-dates", test_limits_step);
  g_test_add_func ("/chart/layout/awkward-numbers-are-drawn-or-skipped", test_awkward_numbers);
  g_test_add_func ("/chart/layout/nothing-to-draw-is-said", test_nothing_is_said);
  g_test_add_func ("/chart/layout/many-readings-become-cells", test_many_readings);
  g_test_add_func ("/chart/layout/effects-take-the-first-form-that-has-room", test_effect_forms);
  g_test_add_func ("/chart/layout/effects-stand-where-their-figures-say", test_effect_interval_place);
  return chart_test_run ();
}
