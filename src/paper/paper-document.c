/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-document.h"

#include "paper-pdf.h"
#include "paper-style.h"

#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

#define HEAD_Y       34.0 /* baselines of head and foot, from the edge of the paper */
#define FOOT_Y       30.0
#define RULE_WIDTH   0.5
#define EDGE_LEFT    0.64 /* of the width */
#define EDGE_RIGHT   0.34

G_DEFINE_QUARK (paper - error - quark, paper_error)

typedef enum
{
  ITEM_TEXT,
  ITEM_RULE,
  ITEM_BOX,
  ITEM_CHART,
  ITEM_PICTURE,
  ITEM_BARS,
  ITEM_TARGET,
  ITEM_LINK
} ItemKind;

typedef struct
{
  ItemKind         kind;
  PaperTone        tone;
  double           x, y, w, h; /* of a rule: its ends; of a text: start and baseline */
  double           width;
  PangoLayout     *layout;
  int              line;
  Chart           *chart;
  cairo_surface_t *picture;
  char            *name; /* of bars: their modules */
} Item;

/* Pages that belong together, with numbers and heads of their own: a card of many. */
typedef struct
{
  guint first; /* page */
  char *left;
  char *right;
} Part;

typedef struct
{
  guint  page;
  guint  level;
  char  *text;
  double y;
} Entry;

struct _PaperDocument
{
  double        width;
  double        height;
  PaperShape    shape;
  char         *title;
  char         *subject;
  char         *date;
  char         *foot;
  PangoContext *context;
  GArray       *parts; /* of Part; never empty */
  GPtrArray    *pages; /* of GArray of Item */
  GArray       *outline;
};

static void
item_clear (gpointer data)
{
  Item *item = data;

  g_clear_object (&item->layout);
  g_clear_pointer (&item->chart, chart_free);
  g_clear_pointer (&item->picture, cairo_surface_destroy);
  g_free (item->name);
}

static void
entry_clear (gpointer data)
{
  g_free (((Entry *) data)->text);
}

static void
part_clear (gpointer data)
{
  Part *part = data;

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
  Part whole = { 0, NULL, NULL };

  measure_paper (shape->size, shape->landscape ? &document->height : &document->width,
                 shape->landscape ? &document->width : &document->height);
  document->shape = *shape;
  document->title = g_utf8_make_valid (title, -1);
  document->subject = subject != NULL ? g_utf8_make_valid (subject, -1) : NULL;
  document->date = g_strdup (date);
  document->context = paper_style_context (shape->letters);
  document->pages = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  document->parts = g_array_new (FALSE, FALSE, sizeof (Part));
  g_array_set_clear_func (document->parts, part_clear);
  g_array_append_val (document->parts, whole);
  document->outline = g_array_new (FALSE, FALSE, sizeof (Entry));
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
  Part *part = &g_array_index (document->parts, Part, document->parts->len - 1);

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
  Part part = { document->pages->len, g_strdup (left), g_strdup (right) };

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
  GArray *items = g_array_new (FALSE, TRUE, sizeof (Item));

  g_array_set_clear_func (items, item_clear);
  g_ptr_array_add (document->pages, items);
  return document->pages->len - 1;
}

static void
place (PaperDocument *document, guint page, Item item)
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
         (Item) { .kind = ITEM_TEXT, .tone = tone, .layout = g_object_ref (layout), .line = line, .x = x, .y = baseline });
}

/* A straight line. */
void
paper_place_rule (PaperDocument *document, guint page, PaperTone tone, double width, double x0, double y0, double x1, double y1)
{
  place (document, page, (Item) { .kind = ITEM_RULE, .tone = tone, .width = width, .x = x0, .y = y0, .w = x1, .h = y1 });
}

/* A filled box; with @width above 0 its outline. */
void
paper_place_box (PaperDocument *document, guint page, PaperTone tone, double width, double x, double y, double w, double h)
{
  place (document, page, (Item) { .kind = ITEM_BOX, .tone = tone, .width = width, .x = x, .y = y, .w = w, .h = h });
}

/* A drawing; @chart: (transfer full). */
void
paper_place_chart (PaperDocument *document, guint page, Chart *chart, double x, double y, double w, double h)
{
  place (document, page, (Item) { .kind = ITEM_CHART, .chart = chart, .x = x, .y = y, .w = w, .h = h });
}

/* A picture, drawn out into the box; @picture: referred to. */
void
paper_place_picture (PaperDocument *document, guint page, cairo_surface_t *picture, double x, double y, double w, double h)
{
  place (document, page,
         (Item) { .kind = ITEM_PICTURE, .picture = cairo_surface_reference (picture), .x = x, .y = y, .w = w, .h = h });
}

/* The bars of a code, the first at @x; @modules: '1' for black and '0' for white, each @module wide. */
void
paper_place_bars (PaperDocument *document, guint page, const char *modules, double x, double y, double module, double h)
{
  place (document, page,
         (Item) { .kind = ITEM_BARS, .name = g_strdup (modules), .width = module, .x = x, .y = y, .w = module * strlen (modules), .h = h });
}

/* A place that links lead to. */
void
paper_place_target (PaperDocument *document, guint page, const char *name, double y)
{
  place (document, page, (Item) { .kind = ITEM_TARGET, .name = g_strdup (name), .y = y });
}

/* A box that leads to a target of the same name. */
void
paper_place_link (PaperDocument *document, guint page, const char *name, double x, double y, double w, double h)
{
  place (document, page, (Item) { .kind = ITEM_LINK, .name = g_strdup (name), .x = x, .y = y, .w = w, .h = h });
}

/* A line of the PDF's own table of contents; @level from 0. */
void
paper_document_outline (PaperDocument *document, guint page, guint level, const char *text, double y)
{
  Entry entry = { page, level, g_utf8_make_valid (text, -1), y };

  g_array_append_val (document->outline, entry);
}

static void
set_tone (cairo_t *cr, PaperTone tone)
{
  static const double greys[] = { [PAPER_INK] = 0.0, [PAPER_FAINT] = 0.33, [PAPER_RULE] = 0.65, [PAPER_BAND] = 0.945 };

  cairo_set_source_rgb (cr, greys[tone], greys[tone], greys[tone]);
}

static void
draw_text (cairo_t *cr, const Item *item)
{
  PangoLayoutLine *line = pango_layout_get_line_readonly (item->layout, item->line);

  if (line == NULL)
    return;
  set_tone (cr, item->tone);
  cairo_move_to (cr, item->x, item->y);
  pango_cairo_show_layout_line (cr, line);
}

static void
draw_chart (cairo_t *cr, const Item *item)
{
  cairo_save (cr);
  cairo_translate (cr, item->x, item->y);
  cairo_scale (cr, PAPER_POINTS_A_DOT, PAPER_POINTS_A_DOT);
  chart_draw (item->chart, cr, item->w / PAPER_POINTS_A_DOT, item->h / PAPER_POINTS_A_DOT, chart_theme (CHART_LOOK_PRINT));
  cairo_restore (cr);
}

static void
draw_picture (cairo_t *cr, const Item *item)
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
draw_bars (cairo_t *cr, const Item *item)
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
tag_target (cairo_t *cr, const Item *item)
{
  char y[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *attributes
      = g_strdup_printf ("name='%s' x=0 y=%s", item->name, g_ascii_formatd (y, sizeof y, "%.2f", MAX (0.0, item->y)));

  cairo_tag_begin (cr, CAIRO_TAG_DEST, attributes);
  cairo_tag_end (cr, CAIRO_TAG_DEST);
}

static void
tag_link (cairo_t *cr, const Item *item)
{
  g_autofree char *corner = numbers (item->x, item->y);
  g_autofree char *size = numbers (item->w, item->h);
  g_autofree char *attributes = g_strdup_printf ("rect=[%s %s] dest='%s'", corner, size, item->name);

  cairo_tag_begin (cr, CAIRO_TAG_LINK, attributes);
  cairo_tag_end (cr, CAIRO_TAG_LINK);
}

static void
draw_item (cairo_t *cr, const Item *item)
{
  switch (item->kind)
    {
    case ITEM_TEXT:
      draw_text (cr, item);
      break;
    case ITEM_RULE:
      set_tone (cr, item->tone);
      cairo_set_line_width (cr, item->width);
      cairo_move_to (cr, item->x, item->y);
      cairo_line_to (cr, item->w, item->h);
      cairo_stroke (cr);
      break;
    case ITEM_BOX:
      set_tone (cr, item->tone);
      cairo_rectangle (cr, item->x, item->y, item->w, item->h);
      cairo_set_line_width (cr, item->width);
      if (item->width > 0.0)
        cairo_stroke (cr);
      else
        cairo_fill (cr);
      break;
    case ITEM_CHART:
      draw_chart (cr, item);
      break;
    case ITEM_PICTURE:
      draw_picture (cr, item);
      break;
    case ITEM_BARS:
      draw_bars (cr, item);
      break;
    case ITEM_TARGET:
      tag_target (cr, item);
      break;
    case ITEM_LINK:
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
static const Part *
find_part (PaperDocument *document, guint page, guint *end)
{
  guint found = 0;

  while (found + 1 < document->parts->len && g_array_index (document->parts, Part, found + 1).first <= page)
    found++;
  *end = found + 1 < document->parts->len ? g_array_index (document->parts, Part, found + 1).first : document->pages->len;
  return &g_array_index (document->parts, Part, found);
}

static void
draw_page (PaperDocument *document, cairo_t *cr, guint page)
{
  const GArray *items = document->pages->pdata[page];
  guint end;
  const Part *part = find_part (document, page, &end);
  /* Translators: the number of a page and how many there are */
  g_autofree char *number = g_strdup_printf (_("Page %u of %u"), page - part->first + 1, end - part->first);

  if (page > part->first)
    {
      draw_edge (document, cr, part->left, FALSE, HEAD_Y);
      draw_edge (document, cr, part->right, TRUE, HEAD_Y);
      draw_item (cr, &(Item) { .kind = ITEM_RULE, .tone = PAPER_RULE, .width = RULE_WIDTH, .x = document->shape.margin,
                               .y = HEAD_Y + 6.0, .w = document->width - document->shape.margin, .h = HEAD_Y + 6.0 });
    }
  for (guint i = 0; i < items->len; i++)
    draw_item (cr, &g_array_index (items, Item, i));
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
      const Entry *entry = &g_array_index (document->outline, Entry, i);
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

static void
dump_item (GString *dump, const Item *item)
{
  static const char *const names[] = { "text", "rule", "box", "chart", "picture", "bars", "target", "link" };

  g_string_append_printf (dump, "  %s %.1f %.1f", names[item->kind], item->x, item->y);
  if (item->kind == ITEM_TEXT)
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
        dump_item (dump, &g_array_index (items, Item, j));
    }
  return g_string_free (dump, FALSE);
}
