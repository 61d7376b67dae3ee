/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is told apart by tone or pattern stays apart for those who see colours otherwise, and on a grey copy.
 */
#include "chart-hatch.h"
#include "chart-sight.h"
#include "chart-test.h"

#include <math.h>

#define TILE 60 /* a multiple of the patterns' periods, 5 and (of the limits' one) 7 nearly */

/* WCAG 2.1: 1.4.3, for text; more than 1.4.11 asks of parts of drawings. */
#define CONTRAST_TEXT    4.5

/* A difference in L* of 10 is seen at a glance (common practice, no source); one of 1 to 2 just so. */
#define SEEN 10.0

static void
test_matrices (void)
{
  const ChartColour white = { 1.0, 1.0, 1.0 }, black = { 0.0, 0.0, 0.0 }, red = { 1.0, 0.0, 0.0 }, green = { 0.0, 0.5, 0.0 };

  g_test_summary ("white stays white and black black; pure red loses its red where its cones are missing");
  for (guint s = 0; s < N_SIGHTS; s++)
    {
      ChartColour w = sight_see (s, &white), b = sight_see (s, &black);

      g_assert_cmpfloat_with_epsilon (w.red, 1.0, 1e-3);
      g_assert_cmpfloat_with_epsilon (w.green, 1.0, 1e-3);
      g_assert_cmpfloat_with_epsilon (w.blue, 1.0, 1e-3);
      g_assert_cmpfloat_with_epsilon (sight_luminance (&b), 0.0, 1e-9);
    }
  g_assert_cmpfloat_with_epsilon (sight_contrast (&white, &black), 21.0, 1e-9); /* WCAG 2.1: the largest there is */
  g_assert_cmpfloat_with_epsilon (sight_lightness (&white), 100.0, 1e-3);
  for (Sight s = SIGHT_PROTAN; s <= SIGHT_DEUTAN; s++)
    {
      ChartColour r = sight_see (s, &red), g = sight_see (s, &green);

      g_assert_cmpfloat (r.red - r.green, <, 0.25); /* near a yellow: red and green nearly alike */
      g_assert_cmpfloat (fabs (g.red - g.green), <, 0.25);
    }
}

static void
test_tones (void)
{
  g_test_summary ("texts and marks stand out from the sheet and the paper, however colours are seen");
  for (ChartLook look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT; look++)
    for (guint s = 0; s < N_SIGHTS; s++)
      {
        const ChartTheme *theme = chart_theme (look);
        const ChartColour *const tones[] = { &theme->ink, &theme->faint, &theme->copper };
        const ChartColour *const grounds[] = { &theme->sheet, &theme->paper };

        for (guint t = 0; t < G_N_ELEMENTS (tones); t++)
          for (guint g = 0; g < G_N_ELEMENTS (grounds); g++)
            {
              ChartColour tone = sight_see (s, tones[t]), ground = sight_see (s, grounds[g]);
              double contrast = sight_contrast (&tone, &ground);

              g_test_message ("look %u, %s, tone %u on ground %u: %.2f", look, sight_name (s), t, g, contrast);
              g_assert_cmpfloat (contrast, >=, CONTRAST_TEXT);
            }
      }
}

/* What an eye goes by: lightness, how much it changes, and how much from row to row. */
typedef struct
{
  double mean, spread, rows;
} Texture;

static Texture
texture_of (const ChartTheme *theme, ChartHatch hatch, Sight sight)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, TILE, TILE);
  cairo_t *cr = cairo_create (surface);
  double sum = 0.0, squares = 0.0, row_sum = 0.0, row_squares = 0.0, mean;
  const double n = TILE * TILE;

  cairo_set_source_rgb (cr, theme->sheet.red, theme->sheet.green, theme->sheet.blue);
  cairo_paint (cr);
  chart_hatch_fill (cr, theme, hatch, 0.0, 0.0, TILE, TILE);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  for (int y = 0; y < TILE; y++)
    {
      const guint32 *line = (const guint32 *) (const void *) (cairo_image_surface_get_data (surface)
                                                             + (gsize) y * cairo_image_surface_get_stride (surface));
      double row = 0.0;

      for (int x = 0; x < TILE; x++)
        {
          ChartColour colour = { ((line[x] >> 16) & 0xff) / 255.0, ((line[x] >> 8) & 0xff) / 255.0, (line[x] & 0xff) / 255.0 };
          double lightness;

          colour = sight_see (sight, &colour);
          lightness = sight_lightness (&colour);
          sum += lightness;
          squares += lightness * lightness;
          row += lightness / TILE;
        }
      row_sum += row;
      row_squares += row * row;
    }
  cairo_surface_destroy (surface);
  mean = sum / n;
  return (Texture){ mean, sqrt (MAX (squares / n - mean * mean, 0.0)),
                    sqrt (MAX (row_squares / TILE - (row_sum / TILE) * (row_sum / TILE), 0.0)) };
}

static void
test_hatches (void)
{
  g_test_summary ("no two patterns are alike in lightness, contrast within and run");
  for (ChartLook look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT; look++)
    for (guint s = 0; s < N_SIGHTS; s++)
      for (ChartHatch one = CHART_HATCH_LIMIT; one < CHART_HATCH_BLANK; one++)
        for (ChartHatch other = one + 1; other <= CHART_HATCH_BLANK; other++)
          {
            Texture a = texture_of (chart_theme (look), one, s), b = texture_of (chart_theme (look), other, s);
            double mean = fabs (a.mean - b.mean), spread = fabs (a.spread - b.spread), rows = fabs (a.rows - b.rows);

            g_test_message ("look %u, %s, hatches %u and %u: lightness %.1f, contrast within %.1f, run %.1f", look, sight_name (s),
                            one, other, mean, spread, rows);
            /* Outside the limits is a ground, meant to be faint, and ends at a line with its words. */
            g_assert_cmpfloat (MAX (MAX (mean, spread), rows), >=, one == CHART_HATCH_LIMIT ? SEEN / 5.0 : SEEN / 2.0);
          }
}

static void
test_phases_meet (void)
{
  g_test_summary ("phases that are told by tone alone stand out from each other and from the sheet");
  for (ChartLook look = CHART_LOOK_LIGHT; look <= CHART_LOOK_PRINT; look++)
    for (guint s = 0; s < N_SIGHTS; s++)
      {
        const ChartTheme *theme = chart_theme (look);
        Texture dark = texture_of (theme, CHART_HATCH_DARK, s), grey = texture_of (theme, CHART_HATCH_GREY, s),
                blank = texture_of (theme, CHART_HATCH_BLANK, s);

        g_assert_cmpfloat (fabs (dark.mean - grey.mean), >=, 2.0 * SEEN);
        g_assert_cmpfloat (fabs (grey.mean - blank.mean), >=, 2.0 * SEEN);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/sight/simulates-what-others-see", test_matrices);
  g_test_add_func ("/chart/sight/texts-and-marks-stand-out-from-the-ground", test_tones);
  g_test_add_func ("/chart/sight/patterns-stay-apart", test_hatches);
  g_test_add_func ("/chart/sight/tones-of-phases-stay-apart", test_phases_meet);
  return chart_test_run ();
}
