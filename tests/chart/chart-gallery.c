/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Draws every kind of chart in three looks and several sizes into a folder, for eyes. It checks nothing.
 * usage: chart-gallery FOLDER [pdf|svg|png|sight]
 * 'sight' draws them as people with the usual forms of colour blindness see them, and as a grey copy.
 */
#include "chart-output.h"
#include "chart-samples.h"
#include "chart-sight.h"

#include <string.h>

typedef struct
{
  const char *name;
  Chart *(*make) (const Sample *);
  Sample sample;
} Entry;

static const Entry entries[] = {
  { "characteristic", sample_characteristic, { 7, 0, 3, FALSE, FALSE } },
  { "characteristic-titled", sample_characteristic, { 3, 12, 5, FALSE, TRUE } },
  { "characteristic-dense", sample_characteristic, { 5, 20000, 4, FALSE, FALSE } },
  { "characteristic-many", sample_characteristic, { 60, 8, 6, FALSE, FALSE } },
  { "characteristic-none", sample_characteristic, { 0, 0, 1, FALSE, FALSE } },
  { "checked", sample_checked, { 7, 0, 8, FALSE, FALSE } },
  { "checked-large", sample_checked, { 4, 900, 8, FALSE, FALSE } },
  { "effect", sample_effect, { 7, 12, 8, FALSE, FALSE } },
  { "effect-few", sample_effect, { 3, 5, 4, FALSE, TRUE } },
  { "effect-many", sample_effect, { 24, 9, 3, FALSE, FALSE } },
  { "issues", sample_issues, { 7, 0, 2, FALSE, FALSE } },
  { "issues-titled", sample_issues, { 3, 0, 5, FALSE, TRUE } },
  { "life", sample_plot, { 2, 12, 1, FALSE, TRUE } },
  { "plot-linear", sample_plot, { 2, 12, 2, FALSE, FALSE } },
  { "growth", sample_plot, { 6, 0, 2, FALSE, TRUE } },
  { "life-dense", sample_plot, { 10, 10000, 1, FALSE, FALSE } },
  { "leadtime", sample_rows, { 7, 0, 2, FALSE, TRUE } },
  { "leadtime-many", sample_rows, { 40, 0, 2, FALSE, FALSE } },
  { "yield", sample_yields, { 9, 30, 2, FALSE, TRUE } },
  { "individuals", sample_individuals, { 5, 0, 2, FALSE, TRUE } },
  { "individuals-few", sample_individuals, { 2, 4, 2, FALSE, FALSE } },
  { "distribution", sample_distribution, { 7, 0, 2, FALSE, TRUE } },
  { "distribution-dense", sample_distribution, { 4, 20000, 2, FALSE, FALSE } },
  { "wall", sample_wall, { 14, 0, 2, FALSE, TRUE } },
  { "wall-many", sample_wall, { 60, 333, 2, FALSE, FALSE } },
  { "score", sample_score, { 7, 0, 2, FALSE, FALSE } },
  { "score-titled", sample_score, { 4, 0, 9, FALSE, TRUE } },
};

static const struct
{
  const char *name;
  ChartLook look;
} looks[] = { { "light", CHART_LOOK_LIGHT }, { "dark", CHART_LOOK_DARK }, { "print", CHART_LOOK_PRINT } };

static const struct
{
  double width, height;
} sizes[] = { { 1040.0, 270.0 }, { 1000.0, 640.0 }, { 480.0, 320.0 }, { 320.0, 200.0 } };

static void
put (Chart *chart, const char *folder, const char *name, const char *form, double width, double height)
{
  for (guint l = 0; l < G_N_ELEMENTS (looks); l++)
    {
      g_autofree char *path
          = g_strdup_printf ("%s/%s-%gx%g-%s.%s", folder, name, width, height, looks[l].name, form);
      g_autoptr(GError) error = NULL;

      chart_set_document (chart, name, "2026-01-02T03:04:05Z");
      if (!chart_write (chart, path, width, height, looks[l].look, &error))
        g_printerr ("%s\n", error->message);
    }
}

static void
see (cairo_surface_t *surface, Sight sight)
{
  const int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);

  cairo_surface_flush (surface);
  for (int y = 0; y < height; y++)
    {
      guint32 *line = (guint32 *) (void *) (cairo_image_surface_get_data (surface)
                                            + (gsize) y * (gsize) cairo_image_surface_get_stride (surface));

      for (int x = 0; x < width; x++)
        {
          ChartColour colour = { ((line[x] >> 16) & 0xff) / 255.0, ((line[x] >> 8) & 0xff) / 255.0, (line[x] & 0xff) / 255.0 };

          colour = sight_see (sight, &colour);
          line[x] = ((guint32) (colour.red * 255.0 + 0.5) << 16) | ((guint32) (colour.green * 255.0 + 0.5) << 8)
                    | (guint32) (colour.blue * 255.0 + 0.5);
        }
    }
  cairo_surface_mark_dirty (surface);
}

/* One size, light and dark, for each way of seeing. */
static void
put_sights (Chart *chart, const char *folder, const char *name)
{
  for (guint l = 0; l < 2; l++)
    for (guint s = 0; s < N_SIGHTS; s++)
      {
        g_autofree char *path = g_strdup_printf ("%s/%s-%s-%s.png", folder, name, looks[l].name, sight_name (s));
        const ChartTheme *theme = chart_theme (looks[l].look);
        cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 640, 400);
        cairo_t *cr = cairo_create (surface);

        cairo_set_source_rgb (cr, theme->sheet.red, theme->sheet.green, theme->sheet.blue);
        cairo_paint (cr);
        chart_draw (chart, cr, 640.0, 400.0, theme);
        cairo_destroy (cr);
        see (surface, s);
        if (cairo_surface_write_to_png (surface, path) != CAIRO_STATUS_SUCCESS)
          g_printerr ("'%s' cannot be written\n", path);
        cairo_surface_destroy (surface);
      }
}

static void
put_strips (const char *folder, const char *form)
{
  static const guint rounds[] = { 0, 1, 3, 7, 20 };
  static const double widths[] = { 1040.0, 640.0, 320.0 };

  for (guint i = 0; i < G_N_ELEMENTS (rounds); i++)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      {
        Sample sample = { rounds[i], 0, 11, FALSE, FALSE };
        g_autoptr(Chart) chart = sample_strip (&sample);
        g_autofree char *name = g_strdup_printf ("strip-%u", rounds[i]);

        chart_strip_set_selection (
            chart, rounds[i] == 3 ? (int) rounds[i] - 1 : (int) rounds[i] - 3, (int) rounds[i] - 1);
        chart_strip_set_legend (chart, i > 1);
        chart_set_focus (chart, rounds[i] == 20 ? 17 : -1);
        put (chart, folder, name, form, widths[w], chart_strip_height (chart, chart_theme (CHART_LOOK_LIGHT)));
      }
}

int
main (int argc, char **argv)
{
  const char *form = argc > 2 ? argv[2] : "png";

  if (argc < 2 || g_mkdir_with_parents (argv[1], 0755) != 0)
    {
      g_printerr ("usage: chart-gallery FOLDER [pdf|svg|png|sight]\n");
      return 2;
    }
  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    {
      g_autoptr(Chart) chart = entries[i].make (&entries[i].sample);

      if (strcmp (entries[i].name, "characteristic") == 0)
        chart_set_focus (chart, (int) chart_count_marks (chart) - 9);
      if (strcmp (form, "sight") == 0)
        {
          put_sights (chart, argv[1], entries[i].name);
          continue;
        }
      for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
        put (chart, argv[1], entries[i].name, form, sizes[s].width, sizes[s].height);
    }
  if (strcmp (form, "sight") != 0)
    put_strips (argv[1], form);
  return 0;
}
