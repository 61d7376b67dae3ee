/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-output.h"
#include "chart-samples.h"
#include "chart-test.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static const Sample sample = { 7, 0, 5, FALSE, TRUE };

typedef struct
{
  char *folder;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  fixture->folder = g_dir_make_tmp ("chart-XXXXXX", &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GDir) dir = g_dir_open (fixture->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (fixture->folder, name, NULL);

      g_assert_true (g_unlink (path) == 0 || g_rmdir (path) == 0);
    }
  g_assert_cmpint (g_rmdir (fixture->folder), ==, 0);
  g_free (fixture->folder);
}

static char *
write_and_read (Fixture *fixture, Chart *chart, const char *name, double width, double height, gsize *length)
{
  g_autofree char *path = g_build_filename (fixture->folder, name, NULL);
  g_autoptr(GError) error = NULL;
  gboolean ok = chart_write (chart, path, width, height, CHART_LOOK_LIGHT, &error);
  char *bytes;

  g_assert_no_error (error);
  g_assert_true (ok);
  g_file_get_contents (path, &bytes, length, &error);
  g_assert_no_error (error);
  return bytes;
}

static void
test_png (Fixture *fixture, gconstpointer data)
{
  g_autoptr(Chart) chart = sample_characteristic (&sample);
  gsize length;
  g_autofree char *bytes = write_and_read (fixture, chart, "a.PNG", 500.0, 300.0, &length);
  g_autofree char *path = g_build_filename (fixture->folder, "a.PNG", NULL);
  cairo_surface_t *surface = cairo_image_surface_create_from_png (path);
  guint32 dot;

  g_assert_cmpint (memcmp (bytes, "\211PNG\r\n\032\n", 8), ==, 0); /* signature: ISO/IEC 15948 */
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpint (cairo_image_surface_get_width (surface), ==, 500);
  g_assert_cmpint (cairo_image_surface_get_height (surface), ==, 300);
  memcpy (&dot, cairo_image_surface_get_data (surface), sizeof dot);
  g_assert_cmphex (dot & 0xffffff, ==, 0xfcf9f2); /* a picture has the sheet as its ground */
  cairo_surface_destroy (surface);
}

/* Cairo numbers its surfaces through the life of a process: that number is taken out, in place. */
static char *
without_counter (char *svg)
{
  static const char before[] = "id=\"surface";

  for (char *at = strstr (svg, before); at != NULL; at = strstr (at + 1, before))
    {
      char *digits = at + strlen (before), *end = digits;

      while (g_ascii_isdigit (*end))
        end++;
      memmove (digits, end, strlen (end) + 1);
    }
  return svg;
}

static void
test_svg (Fixture *fixture, gconstpointer data)
{
  g_autoptr(Chart) chart = sample_score (&sample);
  gsize length;
  g_autofree char *bytes = write_and_read (fixture, chart, "a.svg", 500.0, 300.0, &length);
  g_autofree char *again = write_and_read (fixture, chart, "b.svg", 500.0, 300.0, &length);

  g_assert_nonnull (strstr (bytes, "<svg"));
  g_assert_nonnull (strstr (bytes, "width=\"500px\" height=\"300px\""));
  g_assert_nonnull (strstr (bytes, "</svg>"));
  g_assert_true (g_str_equal (without_counter (bytes), without_counter (again)));
}

static char *
ask (const char *program, const char *option, const char *path)
{
  g_autoptr(GError) error = NULL;
  const char *arguments[] = { program, option, path, strcmp (program, "pdftotext") == 0 ? "-" : NULL, NULL };
  char *output = NULL;
  int status;

  g_spawn_sync (NULL,
                (char **) (gpointer) arguments,
                NULL,
                G_SPAWN_SEARCH_PATH,
                NULL,
                NULL,
                &output,
                NULL,
                &status,
                &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, NULL));
  return output;
}

static void
test_pdf (Fixture *fixture, gconstpointer data)
{
  static const char *const words[] = { "Lever height through the rounds",
                                       "upper limit 12.05",
                                       "lower limit 11.95",
                                       "mean of B",
                                       "n 60",
                                       "P3",
                                       "mm",
                                       "12.05" };
  g_autoptr(Chart) chart = sample_characteristic (&sample);
  g_autofree char *path = g_build_filename (fixture->folder, "a.pdf", NULL);
  g_autofree char *bytes = NULL, *again = NULL, *text = NULL, *info = NULL;
  gsize length, length_again;

  g_test_summary ("poppler reads the words, the title and the given date; the page is 3/4 point a dot; two "
                  "writings are the same");
  chart_set_document (chart, "Lever height", "2026-01-02T03:04:05Z");
  bytes = write_and_read (fixture, chart, "a.pdf", 800.0, 400.0, &length);
  again = write_and_read (fixture, chart, "b.pdf", 800.0, 400.0, &length_again);
  g_assert_cmpmem (bytes, length, again, length_again);
  text = ask ("pdftotext", "-layout", path);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      if (strstr (text, words[i]) == NULL)
        g_test_message ("no '%s' in: %s", words[i], text);
      g_assert_nonnull (strstr (text, words[i]));
    }
  info = ask ("pdfinfo", "-isodates", path);
  g_assert_nonnull (strstr (info, "Lever height"));
  g_assert_nonnull (strstr (info, "2026-01-02T03:04:05Z"));
  g_assert_nonnull (strstr (info, "600 x 300 pts"));
}

static void
check_refused (Chart *chart,
               const char *path,
               double width,
               double height,
               GQuark domain,
               int code,
               const char *part)
{
  g_autoptr(GError) error = NULL;

  g_assert_false (chart_write (chart, path, width, height, CHART_LOOK_LIGHT, &error));
  g_assert_error (error, domain, code);
  if (strstr (error->message, part) == NULL)
    g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, part));
}

static void
test_refusals (Fixture *fixture, gconstpointer data)
{
  g_autoptr(Chart) chart = sample_characteristic (&sample);
  g_autofree char *no_ending = g_build_filename (fixture->folder, "chart.jpg", NULL);
  g_autofree char *no_folder = g_build_filename (fixture->folder, "none", "chart.png", NULL);
  g_autofree char *fine = g_build_filename (fixture->folder, "chart.png", NULL);
  g_autofree char *folder = g_build_filename (fixture->folder, "folder.png", NULL);

  check_refused (
      chart, no_ending, 100.0, 100.0, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_KIND, ".png, .svg or .pdf");
  check_refused (chart, fine, 0.0, 100.0, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_SIZE, "0 by 100");
  check_refused (chart, fine, 100.0, 1e9, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_SIZE, "from 1 to");
  check_refused (chart, fine, NAN, 100.0, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_SIZE, "cannot be drawn");
  check_refused (chart, no_folder, 100.0, 100.0, G_FILE_ERROR, G_FILE_ERROR_NOENT, "could not be written");
  g_assert_cmpint (g_mkdir (folder, 0755), ==, 0);
  check_refused (chart, folder, 100.0, 100.0, G_FILE_ERROR, G_FILE_ERROR_ISDIR, "could not be written");
  g_assert_false (g_file_test (no_ending, G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (fine, G_FILE_TEST_EXISTS));
}

static void
test_old_file_stays (Fixture *fixture, gconstpointer data)
{
  g_autoptr(Chart) chart = sample_characteristic (&sample);
  g_autofree char *path = g_build_filename (fixture->folder, "old.png", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr(GDir) dir = NULL;
  g_autoptr(GError) error = NULL;
  guint files = 0;

  g_test_summary (
      "a refused writing leaves the old file; one that goes well replaces it and leaves no other file behind");
  g_assert_true (g_file_set_contents (path, "old", -1, NULL));
  check_refused (chart, path, -1.0, 100.0, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_SIZE, "cannot be drawn");
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_cmpstr (bytes, ==, "old");
  g_assert_true (chart_write (chart, path, 300.0, 200.0, CHART_LOOK_PRINT, &error));
  dir = g_dir_open (fixture->folder, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    files++;
  g_assert_cmpuint (files, ==, 1);
}

static void
test_every_kind_in_every_form (Fixture *fixture, gconstpointer data)
{
  Chart *(*makers[]) (const Sample *) = { sample_characteristic, sample_checked, sample_score, sample_strip };
  static const char *const names[] = { "k.png", "k.svg", "k.pdf" };
  static const Sample kinds[]
      = { { 0, 0, 1, FALSE, FALSE }, { 5, 3, 2, FALSE, TRUE }, { 3, 2000, 3, FALSE, FALSE } };

  for (guint m = 0; m < G_N_ELEMENTS (makers); m++)
    for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
      for (guint i = 0; i < G_N_ELEMENTS (names); i++)
        {
          g_autoptr(Chart) chart = makers[m](&kinds[k]);
          gsize length;
          g_autofree char *bytes = write_and_read (fixture, chart, names[i], 420.0, 260.0, &length);
          g_autofree char *tiny = write_and_read (fixture, chart, names[i], 1.0, 1.0, &length);

          g_assert_nonnull (bytes);
          g_assert_nonnull (tiny);
          g_assert_cmpuint (length, >, 50);
        }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/chart/output/png-has-its-size-and-ground", Fixture, NULL, set_up, test_png, tear_down);
  g_test_add ("/chart/output/svg-has-its-size-and-is-reproducible", Fixture, NULL, set_up, test_svg, tear_down);
  g_test_add ("/chart/output/pdf-words-can-be-read", Fixture, NULL, set_up, test_pdf, tear_down);
  g_test_add ("/chart/output/refusals-are-sentences", Fixture, NULL, set_up, test_refusals, tear_down);
  g_test_add (
      "/chart/output/a-refusal-leaves-the-old-file", Fixture, NULL, set_up, test_old_file_stays, tear_down);
  g_test_add ("/chart/output/every-kind-in-every-form",
              Fixture,
              NULL,
              set_up,
              test_every_kind_in_every_form,
              tear_down);
  return chart_test_run ();
}
