/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* memmem */
#include "paper-flow.h"

#include "chart-test.h"
#include "paper-picture.h"

#include <string.h>

#define LONG "A unit counts when the revisions of the parts that the characteristic depends on are those of the newest round. "

static PaperDocument *
document_new (PaperSize size)
{
  PaperDocument *document = paper_document_new (size, "Hawfinch: what changed", "P1 to P2", "2026-05-03");

  paper_document_set_heads (document, "Hawfinch", "P1 to P2", "Names are left out.");
  return document;
}

static void
fill (PaperFlow *flow, guint n_rows)
{
  static const PaperColumn columns[] = { { "Old", 1.0, FALSE }, { "New", 1.0, FALSE }, { "n", 0.3, TRUE }, { "Why", 3.0, FALSE } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new ();
  g_autoptr(GString) paragraph = g_string_new (NULL);

  for (guint i = 0; i < 20; i++)
    g_string_append (paragraph, LONG);
  paper_flow_title (flow, "Hawfinch: what changed");
  paper_flow_link (flow, "Answers are asked for at the end.", "questions");
  for (guint i = 0; i < 4; i++)
    {
      paper_flow_heading (flow, 1, "A section", NULL, 40.0);
      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, paragraph->str);
    }
  for (guint i = 0; i < n_rows; i++)
    {
      g_ptr_array_add (cells, (gpointer) "B");
      g_ptr_array_add (cells, (gpointer) "C");
      g_ptr_array_add (cells, (gpointer) "12");
      g_ptr_array_add (cells, (gpointer) (i % 3 == 0 ? LONG LONG : "Slips"));
    }
  paper_flow_table (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, n_rows);
  paper_flow_note (flow, "A statistical result is not a safety certificate.");
  paper_flow_heading (flow, 1, "Questions", "questions", 60.0);
  paper_flow_answer (flow, "Answer", 4);
}

typedef struct
{
  double x, y, w, h;
} Box;

/* Every text of a page lies within the paper's margins, and on no other text. */
static void
check_dump (PaperDocument *document, const char *dump)
{
  g_auto(GStrv) lines = g_strsplit (dump, "\n", -1);
  g_autoptr(GArray) boxes = g_array_new (FALSE, FALSE, sizeof (Box));

  for (guint i = 0; lines[i] != NULL; i++)
    {
      Box box;

      if (g_str_has_prefix (lines[i], "page "))
        g_array_set_size (boxes, 0);
      if (sscanf (lines[i], "  text %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h) != 4 || box.w <= 0.0)
        continue;
      g_assert_cmpfloat (box.x, >=, PAPER_MARGIN - 0.1);
      g_assert_cmpfloat (box.x + box.w, <=, paper_document_width (document) - PAPER_MARGIN + 0.1);
      g_assert_cmpfloat (box.y, <=, paper_document_height (document) - 50.0);
      for (guint j = 0; j < boxes->len; j++)
        {
          const Box *other = &g_array_index (boxes, Box, j);
          /* letters reach about three quarters of the line's height above where they stand */
          gboolean apart = box.x >= other->x + other->w - 0.1 || other->x >= box.x + box.w - 0.1
                           || box.y - 0.7 * box.h >= other->y + 0.1 || other->y - 0.7 * other->h >= box.y + 0.1;

          if (!apart)
            g_error ("text lies on text: %s at %g %g %g %g", lines[i], other->x, other->y, other->w, other->h);
        }
      g_array_append_val (boxes, box);
    }
}

static void
test_texts_stay_apart_and_inside (void)
{
  static const guint rows[] = { 0, 1, 30, 200 };

  for (PaperSize size = PAPER_A4; size <= PAPER_LETTER; size++)
    for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
      {
        g_autoptr(PaperDocument) document = document_new (size);
        g_autoptr(PaperFlow) flow = paper_flow_new (document);
        g_autofree char *dump = NULL;

        fill (flow, rows[i]);
        dump = paper_document_dump (document);
        check_dump (document, dump);
        g_assert_cmpuint (paper_document_count_pages (document), >=, 2);
      }
}

static guint
count_texts (const char *dump, const char *text)
{
  guint n = 0;

  for (const char *at = strstr (dump, text); at != NULL; at = strstr (at + 1, text))
    n++;
  return n;
}

static void
test_tables_go_on_and_repeat_their_head (void)
{
  g_autoptr(PaperDocument) document = document_new (PAPER_A4);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autofree char *dump = NULL;
  guint first, last;

  first = paper_document_count_pages (document);
  fill (flow, 200);
  last = paper_document_count_pages (document);
  dump = paper_document_dump (document);
  g_assert_cmpuint (count_texts (dump, "'Slips'"), ==, 133); /* two of three of 200 rows, each once */
  g_assert_cmpuint (count_texts (dump, "'Why'"), >=, 4);
  g_assert_cmpuint (count_texts (dump, "'Why'"), <=, last - first + 1);
}

static void
test_a_row_taller_than_a_page_is_divided (void)
{
  static const PaperColumn columns[] = { { "Old", 1.0, FALSE }, { "Why", 1.0, FALSE } };
  g_autoptr(PaperDocument) document = document_new (PAPER_A4);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autoptr(GString) text = g_string_new (NULL);
  g_autofree char *dump = NULL;
  const char *cells[2];

  for (guint i = 0; i < 200; i++)
    g_string_append_printf (text, "word%03u ", i);
  for (guint i = 0; i < 6; i++)
    g_string_append (text, LONG LONG LONG LONG);
  cells[0] = "B";
  cells[1] = text->str;
  for (guint i = 0; i < 3; i++)
    g_string_append (text, text->str);
  cells[1] = text->str;
  paper_flow_table (flow, columns, 2, cells, 1);
  dump = paper_document_dump (document);
  check_dump (document, dump);
  g_assert_cmpuint (paper_document_count_pages (document), >=, 2);
}

static cairo_surface_t *
square (int side)
{
  return cairo_image_surface_create (CAIRO_FORMAT_RGB24, side, side);
}

/* Every picture lies within the margins, below the text of its cell and above the next row. */
static void
test_pictures_stand_in_their_cells (void)
{
  static const PaperColumn columns[] = { { "Old", 1.0, FALSE }, { "New", 1.0, FALSE }, { "Why", 1.0, FALSE } };
  g_autoptr(PaperDocument) document = document_new (PAPER_A4);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  cairo_surface_t *picture = square (300);
  cairo_surface_t *pictures[36] = { NULL };
  const char *cells[36];
  g_autofree char *dump = NULL;
  g_auto(GStrv) lines = NULL;
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      cells[i] = i % 3 == 2 ? LONG LONG LONG : "B\nramp";
      pictures[i] = i % 3 == 2 ? NULL : picture;
    }
  paper_flow_table_pictures (flow, columns, 3, cells, pictures, 12, 120.0);
  dump = paper_document_dump (document);
  check_dump (document, dump);
  lines = g_strsplit (dump, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      Box box;

      if (sscanf (lines[i], "  picture %lf %lf %lf %lf", &box.x, &box.y, &box.w, &box.h) != 4)
        continue;
      g_assert_cmpfloat (box.h, <=, 120.1);
      g_assert_cmpfloat_with_epsilon (box.w, box.h, 0.2);
      g_assert_cmpfloat (box.x + box.w, <=, paper_document_width (document) - PAPER_MARGIN);
      g_assert_cmpfloat (box.y + box.h, <=, paper_document_height (document) - 50.0);
      n++;
    }
  g_assert_cmpuint (n, ==, 24);
  cairo_surface_destroy (picture);
}

static void
test_a_heading_never_stands_alone (void)
{
  for (guint lines = 1; lines < 70; lines++)
    {
      g_autoptr(PaperDocument) document = document_new (PAPER_A4);
      g_autoptr(PaperFlow) flow = paper_flow_new (document);
      guint page;

      for (guint i = 0; i < lines; i++)
        paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, "one line");
      paper_flow_heading (flow, 1, "Heading", NULL, 30.0);
      page = paper_flow_page (flow);
      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, "first line of the section");
      g_assert_cmpuint (paper_flow_page (flow), ==, page);
    }
}

static void
test_the_pdf_says_nothing_of_people_and_is_the_same_twice (void)
{
  g_autoptr(GBytes) first = NULL;
  g_autoptr(GBytes) second = NULL;

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr(PaperDocument) document = document_new (PAPER_A4);
      g_autoptr(PaperFlow) flow = paper_flow_new (document);
      g_autoptr(GError) error = NULL;

      fill (flow, 40);
      *(i == 0 ? &first : &second) = paper_document_to_pdf (document, NULL, &error);
      g_assert_no_error (error);
    }
  g_assert_true (g_bytes_equal (first, second));
  g_assert_cmpint (memcmp (g_bytes_get_data (first, NULL), "%PDF-", 5), ==, 0);
  g_assert_null (memmem (g_bytes_get_data (first, NULL), g_bytes_get_size (first), "/Author", 7));
}

static void
test_drawing_can_be_stopped (void)
{
  g_autoptr(PaperDocument) document = document_new (PAPER_A4);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autoptr(GCancellable) stop = g_cancellable_new ();
  g_autoptr(GError) error = NULL;

  fill (flow, 10);
  g_cancellable_cancel (stop);
  g_assert_null (paper_document_to_pdf (document, stop, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_what_is_no_picture_is_refused (void)
{
  g_autoptr(GBytes) text = g_bytes_new_static ("text", 4);
  g_autoptr(GError) error = NULL;

  g_assert_null (paper_picture_new (text, "lock.jpg", 800, NULL, &error));
  g_assert_cmpstr (error->message, ==, "'lock.jpg' is no picture: choose a photograph, such as a JPEG or PNG file.");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paper/flow/texts-stay-apart-and-inside", test_texts_stay_apart_and_inside);
  g_test_add_func ("/paper/flow/tables-go-on-and-repeat-their-head", test_tables_go_on_and_repeat_their_head);
  g_test_add_func ("/paper/flow/a-row-taller-than-a-page-is-divided", test_a_row_taller_than_a_page_is_divided);
  g_test_add_func ("/paper/flow/pictures-stand-in-their-cells", test_pictures_stand_in_their_cells);
  g_test_add_func ("/paper/flow/a-heading-never-stands-alone", test_a_heading_never_stands_alone);
  g_test_add_func ("/paper/flow/the-pdf-says-nothing-of-people-and-is-the-same-twice", test_the_pdf_says_nothing_of_people_and_is_the_same_twice);
  g_test_add_func ("/paper/flow/drawing-can-be-stopped", test_drawing_can_be_stopped);
  g_test_add_func ("/paper/flow/what-is-no-picture-is-refused", test_what_is_no_picture_is_refused);
  return chart_test_run ();
}
