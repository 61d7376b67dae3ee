/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-document-private.h"

#include "paper-style.h"

#include <string.h>

G_DEFINE_QUARK (paper - error - quark, paper_error)

static void
item_clear (gpointer data)
{
  PaperItem *item = data;

  g_clear_object (&item->layout);
  g_clear_pointer (&item->chart, chart_free);
  g_clear_pointer (&item->picture, cairo_surface_destroy);
  g_free (item->name);
}

static void
entry_clear (gpointer data)
{
  g_free (((PaperEntry *) data)->text);
}

static void
part_clear (gpointer data)
{
  PaperPart *part = data;

  g_free (part->left);
  g_free (part->right);
}

/* Points: ISO 216; 8.5 x 11 in. */
static void
measure_paper (PaperSize size, double *width, double *height)
{
  static const double sizes[][2] = { [PAPER_A4] = { 595.28, 841.89 }, [PAPER_LETTER] = { 612.0, 792.0 }, [PAPER_A5] = { 419.53, 595.28 } };

  *width = sizes[size][0];
  *height = sizes[size][1];
}

/**
 * paper_document_new:
 * @size: of the paper, upright
 * @title: what it is called
 * @subject: (nullable): what it is about
 * @date: an ISO 8601 day, so that the same document gives the same bytes
 *
 * As paper_document_new_shaped(), upright, with the margin and the letters of what is read at a desk.
 *
 * Returns: (transfer full): an empty document
 */
PaperDocument *
paper_document_new (PaperSize size, const char *title, const char *subject, const char *date)
{
  const PaperShape shape = { size, FALSE, PAPER_MARGIN, 1.0 };

  return paper_document_new_shaped (&shape, title, subject, date);
}

/**
 * paper_document_new_shaped:
 * @shape: of the pages
 * @title: what it is called
 * @subject: (nullable): what it is about
 * @date: an ISO 8601 day, so that the same document gives the same bytes
 *
 * Title, subject and day are all that the PDF says about itself beside the program: no author.
 *
 * Returns: (transfer full): an empty document
 */
PaperDocument *
paper_document_new_shaped (const PaperShape *shape, const char *title, const char *subject, const char *date)
{
  PaperDocument *document = g_new0 (PaperDocument, 1);
  PaperPart whole = { 0, NULL, NULL };

  measure_paper (shape->size, shape->landscape ? &document->height : &document->width,
                 shape->landscape ? &document->width : &document->height);
  document->shape = *shape;
  document->title = g_utf8_make_valid (title, -1);
  document->subject = subject != NULL ? g_utf8_make_valid (subject, -1) : NULL;
  document->date = g_strdup (date);
  document->context = paper_style_context (shape->letters);
  document->pages = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  document->parts = g_array_new (FALSE, FALSE, sizeof (PaperPart));
  g_array_set_clear_func (document->parts, part_clear);
  g_array_append_val (document->parts, whole);
  document->outline = g_array_new (FALSE, FALSE, sizeof (PaperEntry));
  g_array_set_clear_func (document->outline, entry_clear);
  return document;
}

/**
 * paper_document_free:
 * @document: (transfer full) (nullable): a document
 */
void
paper_document_free (PaperDocument *document)
{
  if (document == NULL)
    return;
  g_free (document->title);
  g_free (document->subject);
  g_free (document->date);
  g_free (document->foot);
  g_array_unref (document->parts);
  g_object_unref (document->context);
  g_ptr_array_unref (document->pages);
  g_array_unref (document->outline);
  g_free (document);
}

/**
 * paper_document_set_heads:
 * @document: a document
 * @left: (nullable): on the left above each page but the first
 * @right: (nullable): on the right above each page but the first
 * @foot: (nullable): on the left below each page; the page's number stands on the right
 */
void
paper_document_set_heads (PaperDocument *document, const char *left, const char *right, const char *foot)
{
  PaperPart *part = &g_array_index (document->parts, PaperPart, document->parts->len - 1);

  part_clear (part);
  part->left = g_strdup (left);
  part->right = g_strdup (right);
  g_free (document->foot);
  document->foot = g_strdup (foot);
}

/**
 * paper_document_begin_part:
 * @document: a document
 * @left: (nullable): on the left above each page of the part but its first
 * @right: (nullable): on the right
 *
 * The page that is added next begins something of its own, whose pages are counted by themselves.
 */
void
paper_document_begin_part (PaperDocument *document, const char *left, const char *right)
{
  PaperPart part = { document->pages->len, g_strdup (left), g_strdup (right) };

  if (document->pages->len == 0)
    g_array_set_size (document->parts, 0);
  g_array_append_val (document->parts, part);
}

void
paper_document_get_shape (PaperDocument *document, PaperShape *shape)
{
  *shape = document->shape;
}

/* Left and right of the column of text. */
double
paper_document_margin (PaperDocument *document)
{
  return document->shape.margin;
}

double
paper_document_width (PaperDocument *document)
{
  return document->width;
}

double
paper_document_height (PaperDocument *document)
{
  return document->height;
}

guint
paper_document_count_pages (PaperDocument *document)
{
  return document->pages->len;
}

/* For the layouts of paper_place_line_of_text(): (transfer none), 72 dots an inch. */
PangoContext *
paper_document_context (PaperDocument *document)
{
  return document->context;
}

/* Adds an empty page; returns its number, from 0. */
guint
paper_document_add_page (PaperDocument *document)
{
  GArray *items = g_array_new (FALSE, TRUE, sizeof (PaperItem));

  g_array_set_clear_func (items, item_clear);
  g_ptr_array_add (document->pages, items);
  return document->pages->len - 1;
}

static void
place (PaperDocument *document, guint page, PaperItem item)
{
  g_return_if_fail (page < document->pages->len);

  g_array_append_val ((GArray *) document->pages->pdata[page], item);
}

/**
 * paper_place_line_of_text:
 * @document: a document
 * @page: number of the page
 * @layout: a layout of paper_document_context(); referred to
 * @line: which of its lines
 * @tone: of the letters
 * @x: where the line begins
 * @baseline: where the letters stand
 */
void
paper_place_line_of_text (PaperDocument *document, guint page, PangoLayout *layout, int line, PaperTone tone, double x,
                          double baseline)
{
  place (document, page,
         (PaperItem) { .kind = PAPER_ITEM_TEXT, .tone = tone, .layout = g_object_ref (layout), .line = line, .x = x,
                       .y = baseline });
}

/* A straight line. */
void
paper_place_rule (PaperDocument *document, guint page, PaperTone tone, double width, double x0, double y0, double x1, double y1)
{
  place (document, page, (PaperItem) { .kind = PAPER_ITEM_RULE, .tone = tone, .width = width, .x = x0, .y = y0, .w = x1, .h = y1 });
}

/* A filled box; with @width above 0 its outline. */
void
paper_place_box (PaperDocument *document, guint page, PaperTone tone, double width, double x, double y, double w, double h)
{
  place (document, page, (PaperItem) { .kind = PAPER_ITEM_BOX, .tone = tone, .width = width, .x = x, .y = y, .w = w, .h = h });
}

/* A drawing; @chart: (transfer full). */
void
paper_place_chart (PaperDocument *document, guint page, Chart *chart, double x, double y, double w, double h)
{
  place (document, page, (PaperItem) { .kind = PAPER_ITEM_CHART, .chart = chart, .x = x, .y = y, .w = w, .h = h });
}

/* A picture, drawn out into the box; @picture: referred to. */
void
paper_place_picture (PaperDocument *document, guint page, cairo_surface_t *picture, double x, double y, double w, double h)
{
  place (document, page,
         (PaperItem) { .kind = PAPER_ITEM_PICTURE, .picture = cairo_surface_reference (picture), .x = x, .y = y, .w = w, .h = h });
}

/* The bars of a code, the first at @x; @modules: '1' for black and '0' for white, each @module wide. */
void
paper_place_bars (PaperDocument *document, guint page, const char *modules, double x, double y, double module, double h)
{
  place (document, page,
         (PaperItem) { .kind = PAPER_ITEM_BARS, .name = g_strdup (modules), .width = module, .x = x, .y = y,
                       .w = module * strlen (modules), .h = h });
}

/* A place that links lead to. */
void
paper_place_target (PaperDocument *document, guint page, const char *name, double y)
{
  place (document, page, (PaperItem) { .kind = PAPER_ITEM_TARGET, .name = g_strdup (name), .y = y });
}

/* A box that leads to a target of the same name. */
void
paper_place_link (PaperDocument *document, guint page, const char *name, double x, double y, double w, double h)
{
  place (document, page, (PaperItem) { .kind = PAPER_ITEM_LINK, .name = g_strdup (name), .x = x, .y = y, .w = w, .h = h });
}

/* A line of the PDF's own table of contents; @level from 0. */
void
paper_document_outline (PaperDocument *document, guint page, guint level, const char *text, double y)
{
  PaperEntry entry = { page, level, g_utf8_make_valid (text, -1), y };

  g_array_append_val (document->outline, entry);
}

static void
dump_item (GString *dump, const PaperItem *item)
{
  static const char *const names[] = { "text", "rule", "box", "chart", "picture", "bars", "target", "link" };

  g_string_append_printf (dump, "  %s %.1f %.1f", names[item->kind], item->x, item->y);
  if (item->kind == PAPER_ITEM_TEXT)
    {
      PangoLayoutLine *line = pango_layout_get_line_readonly (item->layout, item->line);
      PangoRectangle box;

      pango_layout_line_get_extents (line, NULL, &box);
      g_string_append_printf (dump, " %.1f %.1f '%.*s'", (double) box.width / PANGO_SCALE, (double) box.height / PANGO_SCALE,
                              line->length, pango_layout_get_text (item->layout) + line->start_index);
    }
  else
    g_string_append_printf (dump, " %.1f %.1f %s", item->w, item->h, item->name != NULL ? item->name : "");
  g_string_append_c (dump, '\n');
}

/**
 * paper_document_dump:
 * @document: a document
 *
 * Returns: (transfer full): what is placed where, a line each, for tests
 */
char *
paper_document_dump (PaperDocument *document)
{
  GString *dump = g_string_new (NULL);

  for (guint i = 0; i < document->pages->len; i++)
    {
      const GArray *items = document->pages->pdata[i];

      g_string_append_printf (dump, "page %u\n", i + 1);
      for (guint j = 0; j < items->len; j++)
        dump_item (dump, &g_array_index (items, PaperItem, j));
    }
  return g_string_free (dump, FALSE);
}
