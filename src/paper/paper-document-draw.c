/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How what is placed on the pages of a document becomes a PDF, or sheets for a printer. */
#include "config.h"

#include "paper-document-private.h"

#include "paper-pdf.h"
#include "paper-style.h"

#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>
#include <pango/pangocairo.h>
#include <string.h>

#define HEAD_Y       34.0 /* baselines of head and foot, from the edge of the paper */
#define FOOT_Y       30.0
#define RULE_WIDTH   0.5
#define EDGE_LEFT    0.64 /* of the width */
#define EDGE_RIGHT   0.34

static void
set_tone (cairo_t *cr, PaperTone tone)
{
  static const double greys[] = { [PAPER_INK] = 0.0, [PAPER_FAINT] = 0.33, [PAPER_RULE] = 0.65, [PAPER_BAND] = 0.945 };

  cairo_set_source_rgb (cr, greys[tone], greys[tone], greys[tone]);
}

static void
draw_text (cairo_t *cr, const PaperItem *item)
{
  PangoLayoutLine *line = pango_layout_get_line_readonly (item->layout, item->line);

  if (line == NULL)
    return;
  set_tone (cr, item->tone);
  cairo_move_to (cr, item->x, item->y);
  pango_cairo_show_layout_line (cr, line);
}

static void
draw_chart (cairo_t *cr, const PaperItem *item)
{
  cairo_save (cr);
  cairo_translate (cr, item->x, item->y);
  cairo_scale (cr, PAPER_POINTS_A_DOT, PAPER_POINTS_A_DOT);
  chart_draw (item->chart, cr, item->w / PAPER_POINTS_A_DOT, item->h / PAPER_POINTS_A_DOT, chart_theme (CHART_LOOK_PRINT));
  cairo_restore (cr);
}

static void
draw_picture (cairo_t *cr, const PaperItem *item)
{
  cairo_save (cr);
  cairo_translate (cr, item->x, item->y);
  cairo_scale (cr, item->w / cairo_image_surface_get_width (item->picture), item->h / cairo_image_surface_get_height (item->picture));
  cairo_set_source_surface (cr, item->picture, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
}

/* Modules side by side are one bar: no hair of white between them. */
static void
draw_bars (cairo_t *cr, const PaperItem *item)
{
  for (const char *at = item->name; *at != '\0';)
    {
      gsize run = strspn (at, "1");

      if (run > 0)
        cairo_rectangle (cr, item->x + (double) (at - item->name) * item->width, item->y, (double) run * item->width, item->h);
      at += MAX (run, 1);
    }
  set_tone (cr, PAPER_INK);
  cairo_fill (cr);
}

/* Attributes of cairo's tags: numbers with a point in every language. */
static char *
numbers (double a, double b)
{
  char one[G_ASCII_DTOSTR_BUF_SIZE], other[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup_printf ("%s %s", g_ascii_formatd (one, sizeof one, "%.2f", a), g_ascii_formatd (other, sizeof other, "%.2f", b));
}

static void
tag_target (cairo_t *cr, const PaperItem *item)
{
  char y[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *attributes
      = g_strdup_printf ("name='%s' x=0 y=%s", item->name, g_ascii_formatd (y, sizeof y, "%.2f", MAX (0.0, item->y)));

  cairo_tag_begin (cr, CAIRO_TAG_DEST, attributes);
  cairo_tag_end (cr, CAIRO_TAG_DEST);
}

static void
tag_link (cairo_t *cr, const PaperItem *item)
{
  g_autofree char *corner = numbers (item->x, item->y);
  g_autofree char *size = numbers (item->w, item->h);
  g_autofree char *attributes = g_strdup_printf ("rect=[%s %s] dest='%s'", corner, size, item->name);

  cairo_tag_begin (cr, CAIRO_TAG_LINK, attributes);
  cairo_tag_end (cr, CAIRO_TAG_LINK);
}

static void
draw_item (cairo_t *cr, const PaperItem *item)
{
  switch (item->kind)
    {
    case PAPER_ITEM_TEXT:
      draw_text (cr, item);
      break;
    case PAPER_ITEM_RULE:
      set_tone (cr, item->tone);
      cairo_set_line_width (cr, item->width);
      cairo_move_to (cr, item->x, item->y);
      cairo_line_to (cr, item->w, item->h);
      cairo_stroke (cr);
      break;
    case PAPER_ITEM_BOX:
      set_tone (cr, item->tone);
      cairo_rectangle (cr, item->x, item->y, item->w, item->h);
      cairo_set_line_width (cr, item->width);
      if (item->width > 0.0)
        cairo_stroke (cr);
      else
        cairo_fill (cr);
      break;
    case PAPER_ITEM_CHART:
      draw_chart (cr, item);
      break;
    case PAPER_ITEM_PICTURE:
      draw_picture (cr, item);
      break;
    case PAPER_ITEM_BARS:
      draw_bars (cr, item);
      break;
    case PAPER_ITEM_TARGET:
      tag_target (cr, item);
      break;
    case PAPER_ITEM_LINK:
      tag_link (cr, item);
      break;
    }
}

/* One line of head or foot, flush left or right; the left one has the more room, and neither reaches the other. */
static void
draw_edge (PaperDocument *document, cairo_t *cr, const char *text, gboolean right, double baseline)
{
  double inside = (document->width - 2.0 * document->shape.margin) * (right ? EDGE_RIGHT : EDGE_LEFT);
  double x = right ? document->width - document->shape.margin - inside : document->shape.margin;
  PangoLayout *layout;

  if (text == NULL)
    return;
  layout = paper_style_layout (document->context, PAPER_TEXT_SMALL, text, inside);
  pango_layout_set_alignment (layout, right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  set_tone (cr, PAPER_FAINT);
  cairo_move_to (cr, x, baseline - (double) pango_layout_get_baseline (layout) / PANGO_SCALE);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

/* The part that a page belongs to; @end: the page after its last. */
static const PaperPart *
find_part (PaperDocument *document, guint page, guint *end)
{
  guint found = 0;

  while (found + 1 < document->parts->len && g_array_index (document->parts, PaperPart, found + 1).first <= page)
    found++;
  *end = found + 1 < document->parts->len ? g_array_index (document->parts, PaperPart, found + 1).first : document->pages->len;
  return &g_array_index (document->parts, PaperPart, found);
}

static void
draw_page (PaperDocument *document, cairo_t *cr, guint page)
{
  const GArray *items = document->pages->pdata[page];
  guint end;
  const PaperPart *part = find_part (document, page, &end);
  /* Translators: the number of a page and how many there are */
  g_autofree char *number = g_strdup_printf (_("Page %u of %u"), page - part->first + 1, end - part->first);

  if (page > part->first)
    {
      draw_edge (document, cr, part->left, FALSE, HEAD_Y);
      draw_edge (document, cr, part->right, TRUE, HEAD_Y);
      draw_item (cr, &(PaperItem) { .kind = PAPER_ITEM_RULE, .tone = PAPER_RULE, .width = RULE_WIDTH, .x = document->shape.margin,
                                    .y = HEAD_Y + 6.0, .w = document->width - document->shape.margin, .h = HEAD_Y + 6.0 });
    }
  for (guint i = 0; i < items->len; i++)
    draw_item (cr, &g_array_index (items, PaperItem, i));
  /* Last, as it is read aloud last. */
  draw_edge (document, cr, document->foot, FALSE, document->height - FOOT_Y);
  draw_edge (document, cr, number, TRUE, document->height - FOOT_Y);
}

static void
add_outline (PaperDocument *document, cairo_surface_t *surface)
{
  int parents[4] = { CAIRO_PDF_OUTLINE_ROOT, CAIRO_PDF_OUTLINE_ROOT, CAIRO_PDF_OUTLINE_ROOT, CAIRO_PDF_OUTLINE_ROOT };

  for (guint i = 0; i < document->outline->len; i++)
    {
      const PaperEntry *entry = &g_array_index (document->outline, PaperEntry, i);
      guint level = MIN (entry->level, 2);
      g_autofree char *at = numbers (0.0, entry->y);
      g_autofree char *attributes = g_strdup_printf ("page=%u pos=[%s]", entry->page + 1, at);

      parents[level + 1] = cairo_pdf_surface_add_outline (surface, parents[level], entry->text, attributes,
                                                          CAIRO_PDF_OUTLINE_FLAG_OPEN);
    }
}

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/**
 * paper_document_to_pdf:
 * @document: a document
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the PDF; the same document gives the same bytes
 */
GBytes *
paper_document_to_pdf (PaperDocument *document, GCancellable *cancellable, GError **error)
{
  g_autoptr(GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append, bytes, document->width, document->height);
  cairo_t *cr = cairo_create (surface);
  g_autofree char *created = g_strdup_printf ("%sT00:00:00Z", document->date);
  cairo_status_t status;
  gboolean stopped = FALSE;

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, document->title);
  if (document->subject != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, document->subject);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Fettle");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, created);
  for (guint i = 0; i < document->pages->len && !stopped; i++)
    {
      stopped = g_cancellable_set_error_if_cancelled (cancellable, error);
      if (!stopped)
        {
          draw_page (document, cr, i);
          cairo_show_page (cr);
        }
    }
  if (!stopped)
    add_outline (document, surface);
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (stopped)
    return NULL;
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, PAPER_ERROR, PAPER_ERROR_DRAW, _("The pages could not be drawn, and nothing was written: %s."),
                   cairo_status_to_string (status));
      return NULL;
    }
  paper_pdf_mend (bytes);
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

/**
 * paper_document_to_sheets:
 * @document: a document
 *
 * Returns: (transfer full) (element-type cairo_surface_t): each page as it is drawn, in points, to be painted in any thread
 *   onto something else, as a printer is
 */
GPtrArray *
paper_document_to_sheets (PaperDocument *document)
{
  GPtrArray *sheets = g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  const cairo_rectangle_t whole = { 0.0, 0.0, document->width, document->height };

  for (guint i = 0; i < document->pages->len; i++)
    {
      cairo_surface_t *sheet = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, &whole);
      cairo_t *cr = cairo_create (sheet);

      draw_page (document, cr, i);
      cairo_destroy (cr);
      g_ptr_array_add (sheets, sheet);
    }
  return sheets;
}
