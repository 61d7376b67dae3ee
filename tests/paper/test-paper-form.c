/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paper-code.h"
#include "paper-form.h"

#include "chart-test.h"

#include <string.h>

#define LONG "Lever works through three thousand openings without a word of complaint "
#define MARGIN 28.0

static PaperDocument *
small_document (gboolean landscape)
{
  const PaperShape shape = { PAPER_A5, landscape, MARGIN, 1.1 };

  return paper_document_new_shaped (&shape, "Measuring sheet", NULL, "2026-05-03");
}

static const PaperFormColumn columns[] = { { .code = "Unit", .head = "", .share = 1.0, .is_strong = TRUE },
                                           { .code = "OF", .head = "Opening force\n9.0 to 17.0 N\nForce gauge 1", .share = 1.2, .is_number = TRUE },
                                           { .code = "LE", .head = "Lock engagement\nat least 1.20 mm", .share = 1.2 },
                                           { .head = LONG, .share = 2.0 } };

static void
fill (PaperFlow *flow, guint n_rows, const char *remark)
{
  g_autoptr(GPtrArray) cells = g_ptr_array_new ();

  for (guint i = 0; i < n_rows; i++)
    {
      g_ptr_array_add (cells, (gpointer) "P3-07");
      g_ptr_array_add (cells, (gpointer) "12.4");
      g_ptr_array_add (cells, (gpointer) "");
      g_ptr_array_add (cells, (gpointer) (i % 4 == 3 ? remark : ""));
    }
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, n_rows, PAPER_FORM_ROW);
}

typedef struct
{
  double x, y, w, h;
} Box;

/* Every text and every line lies within the margins and above the foot. */
static void
check_inside (PaperDocument *document, const char *dump)
{
  g_auto(GStrv) lines = g_strsplit (dump, "\n", -1);
  double right = paper_document_width (document) - MARGIN + 0.1, bottom = paper_document_height (document) - 50.0;
  guint n = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      Box box;

      if (sscanf (lines[i], "  text %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h) == 4)
        {
          g_assert_cmpfloat (box.x, >=, MARGIN - 0.1);
          g_assert_cmpfloat (box.x + box.w, <=, right);
          g_assert_cmpfloat (box.y, <=, bottom);
          n++;
        }
      if (sscanf (lines[i], "  rule %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h) == 4)
        {
          g_assert_cmpfloat (MAX (box.x, box.w), <=, right);
          g_assert_cmpfloat (MAX (box.y, box.h), <=, bottom);
        }
    }
  g_assert_cmpuint (n, >, 0);
}

static guint
count (const char *dump, const char *text)
{
  guint n = 0;

  for (const char *at = strstr (dump, text); at != NULL; at = strstr (at + 1, text))
    n++;
  return n;
}

static void
test_rows_stay_whole_and_heads_are_repeated (void)
{
  for (guint landscape = 0; landscape < 2; landscape++)
    {
      g_autoptr(PaperDocument) document = small_document (landscape);
      g_autoptr(PaperFlow) flow = paper_flow_new (document);
      g_autofree char *dump = NULL;

      fill (flow, 90, LONG);
      dump = paper_document_dump (document);
      check_inside (document, dump);
      g_assert_cmpuint (paper_document_count_pages (document), >=, 4);
      g_assert_cmpuint (count (dump, "'P3-07'"), ==, 90);
      g_assert_cmpuint (count (dump, "'OF'"), ==, paper_document_count_pages (document));
    }
}

static void
test_a_row_taller_than_a_page_is_cut_at_the_foot (void)
{
  g_autoptr(PaperDocument) document = small_document (TRUE);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autoptr(GString) text = g_string_new (NULL);
  g_autofree char *dump = NULL;

  for (guint i = 0; i < 60; i++)
    g_string_append (text, LONG);
  fill (flow, 4, text->str);
  dump = paper_document_dump (document);
  check_inside (document, dump);
  g_assert_cmpuint (count (dump, "'P3-07'"), ==, 4);
}

/* A row is at least as high as it was asked for: lines across are never nearer. */
static void
test_there_is_room_for_a_pencil (void)
{
  g_autoptr(PaperDocument) document = small_document (FALSE);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autofree char *dump = NULL;
  g_auto(GStrv) lines = NULL;
  double last = 0.0;
  guint rows = 0;

  fill (flow, 10, LONG);
  dump = paper_document_dump (document);
  lines = g_strsplit (dump, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      Box box;

      if (sscanf (lines[i], "  rule %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h) != 4 || box.y < box.h || box.y > box.h)
        continue;
      if (last > 0.0)
        g_assert_cmpfloat (box.y - last, >=, PAPER_FORM_ROW - 0.1);
      last = box.y;
      rows++;
    }
  g_assert_cmpuint (rows, ==, 12); /* above and below the head, below ten rows */
}

static void
test_ticks_are_counted_by_fives (void)
{
  g_autoptr(PaperDocument) document = small_document (FALSE);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autofree char *dump = NULL;
  guint n = paper_flow_count_ticks (240.0);

  g_assert_cmpuint (n % 5, ==, 0);
  g_assert_cmpuint (n, >=, 15);
  paper_flow_ticks (flow, 60.0, 100.0, 240.0, 2);
  dump = paper_document_dump (document);
  g_assert_cmpuint (count (dump, "  box "), ==, 2 * n);
}

/*
 * ISO/IEC 15417: a symbol character is 11 modules, three bars and three spaces, each of 1 to 4 modules, the bars together an even
 * number; the stop has 13. Start B is 11010010000 and the stop 1100011101011 (Table 1; from memory). What the bars say is read
 * back by a decoder in tests/batch/test-paper.py.
 */
static void
check_characters (const char *modules)
{
  gsize n = strlen (modules);

  g_assert_cmpuint (n % 11, ==, 2);
  g_assert_true (g_str_has_suffix (modules, "1100011101011"));
  for (gsize at = 0; at + 13 < n; at += 11)
    {
      guint runs = 1, black = 0, run = 1;

      for (gsize i = 0; i < 11; i++)
        {
          black += modules[at + i] == '1';
          if (i == 0)
            continue;
          run = modules[at + i] == modules[at + i - 1] ? run + 1 : 1;
          runs += run == 1;
          g_assert_cmpuint (run, <=, 4);
        }
      g_assert_true (modules[at] == '1');
      g_assert_cmpuint (runs, ==, 6);
      g_assert_cmpuint (black % 2, ==, 0);
    }
}

static void
test_a_serial_becomes_characters_of_code_128 (void)
{
  static const char *const serials[] = { "P3-04", "B-17", "A", "x y~", "0000123456789", "HF/2026-000-1" };

  for (guint i = 0; i < G_N_ELEMENTS (serials); i++)
    {
      g_autofree char *modules = paper_code_modules (serials[i]);

      g_assert_nonnull (modules);
      check_characters (modules);
    }
  {
    /* five characters in set B: start, five, check, stop */
    g_autofree char *modules = paper_code_modules ("P3-04");

    g_assert_true (g_str_has_prefix (modules, "11010010000"));
    g_assert_cmpuint (strlen (modules), ==, 7 * 11 + 13);
  }
}

static void
test_what_scanners_do_not_send_is_not_drawn (void)
{
  g_autoptr(GString) endless = g_string_new (NULL);

  g_assert_null (paper_code_modules (""));
  g_assert_null (paper_code_modules ("Größe-1"));
  g_assert_null (paper_code_modules ("a\tb"));
  g_assert_null (paper_code_modules ("\xff"));
  for (guint i = 0; i < 400; i++)
    g_string_append (endless, "ab");
  g_assert_null (paper_code_modules (endless->str));
}

/* Ten modules of white on either side, modules of 0.25 mm or more. */
static void
test_bars_keep_their_white_and_their_least_width (void)
{
  g_autoptr(PaperDocument) document = small_document (FALSE);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autofree char *modules = paper_code_modules ("P3-04");
  double wide = strlen (modules) + 2.0 * PAPER_CODE_QUIET;
  g_autofree char *dump = NULL;
  Box box;

  g_assert_false (paper_place_code (flow, "P3-04", 390.0, 100.0, wide * 0.70));
  dump = paper_document_dump (document);
  g_assert_null (strstr (dump, "bars"));
  g_assert_true (paper_place_code (flow, "P3-04", 390.0, 100.0, wide * 0.75));
  g_free (dump);
  dump = paper_document_dump (document);
  g_assert_nonnull (strstr (dump, "  bars"));
  g_assert_cmpint (sscanf (strstr (dump, "  bars"), "  bars %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h), ==, 4);
  g_assert_cmpfloat (box.w / strlen (modules), >=, 0.25 / 25.4 * 72.0 - 0.002);
  g_assert_cmpfloat (390.0 - (box.x + box.w), >=, 10.0 * 0.75 - 0.1);
  g_assert_cmpfloat (box.x - (390.0 - wide * 0.75), >=, 10.0 * 0.75 - 0.1);
}

/* Pages of a part are counted by themselves, and sheets for a printer are as many as pages. */
static void
test_parts_begin_pages_of_their_own (void)
{
  g_autoptr(PaperDocument) document = small_document (FALSE);
  g_autoptr(PaperFlow) flow = paper_flow_new_in_parts (document);
  g_autoptr(GPtrArray) sheets = NULL;
  g_autoptr(GBytes) pdf = NULL;

  paper_flow_begin_part (flow, "P3-01", "Unit card");
  paper_flow_title (flow, "P3-01");
  paper_flow_begin_part (flow, "P3-02", "Unit card");
  g_assert_cmpuint (paper_flow_page (flow), ==, 1);
  fill (flow, 40, LONG);
  g_assert_cmpuint (paper_document_count_pages (document), >=, 3);
  sheets = paper_document_to_sheets (document);
  g_assert_cmpuint (sheets->len, ==, paper_document_count_pages (document));
  for (guint i = 0; i < sheets->len; i++)
    {
      double x, y, w, h;

      cairo_recording_surface_ink_extents (sheets->pdata[i], &x, &y, &w, &h);
      g_assert_cmpfloat (x, >=, 0.0);
      g_assert_cmpfloat (x + w, <=, paper_document_width (document));
      g_assert_cmpfloat (y + h, <=, paper_document_height (document));
      g_assert_cmpfloat (h, >, 30.0);
    }
  pdf = paper_document_to_pdf (document, NULL, NULL);
  g_assert_nonnull (pdf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paper/form/rows-stay-whole-and-heads-are-repeated", test_rows_stay_whole_and_heads_are_repeated);
  g_test_add_func ("/paper/form/a-row-taller-than-a-page-is-cut-at-the-foot", test_a_row_taller_than_a_page_is_cut_at_the_foot);
  g_test_add_func ("/paper/form/there-is-room-for-a-pencil", test_there_is_room_for_a_pencil);
  g_test_add_func ("/paper/form/ticks-are-counted-by-fives", test_ticks_are_counted_by_fives);
  g_test_add_func ("/paper/code/a-serial-becomes-characters-of-code-128", test_a_serial_becomes_characters_of_code_128);
  g_test_add_func ("/paper/code/what-scanners-do-not-send-is-not-drawn", test_what_scanners_do_not_send_is_not_drawn);
  g_test_add_func ("/paper/code/bars-keep-their-white-and-their-least-width", test_bars_keep_their_white_and_their_least_width);
  g_test_add_func ("/paper/document/parts-begin-pages-of-their-own", test_parts_begin_pages_of_their_own);
  return chart_test_run ();
}
