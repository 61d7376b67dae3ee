/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-flow.h"

#include "paper-flow-private.h"

#define TOP           58.0 /* below the head */
#define TOP_OF_FIRST  50.0 /* the first page has none */
#define BOTTOM        52.0 /* above the foot */
#define AFTER_TEXT    5.0
#define FIGURE_GAP    16.0
#define CAPTION_GAP   3.0
#define NOTE_PADDING  8.0
#define LEAST_LINES   2    /* of a paragraph on either side of a break */

struct _PaperFlow
{
  PaperDocument *document;
  guint          first; /* page of the part */
  guint          page;
  double         y;
};

/**
 * paper_flow_new:
 * @document: a document, kept by the caller
 *
 * Begins on a new page.
 *
 * Returns: (transfer full): a flow
 */
PaperFlow *
paper_flow_new (PaperDocument *document)
{
  PaperFlow *flow = g_new0 (PaperFlow, 1);

  flow->document = document;
  paper_flow_new_page (flow);
  return flow;
}

/* Has no page until paper_flow_begin_part() is called. */
PaperFlow *
paper_flow_new_in_parts (PaperDocument *document)
{
  PaperFlow *flow = g_new0 (PaperFlow, 1);

  flow->document = document;
  return flow;
}

void
paper_flow_free (PaperFlow *flow)
{
  g_free (flow);
}

PaperDocument *
paper_flow_document (PaperFlow *flow)
{
  return flow->document;
}

/* Where the column of text begins. */
double
paper_flow_left (PaperFlow *flow)
{
  return paper_document_margin (flow->document);
}

/* Of the column of text. */
double
paper_flow_width (PaperFlow *flow)
{
  return paper_document_width (flow->document) - 2.0 * paper_document_margin (flow->document);
}

guint
paper_flow_page (PaperFlow *flow)
{
  return flow->page;
}

double
paper_flow_y (PaperFlow *flow)
{
  return flow->y;
}

static double
top_of (PaperFlow *flow)
{
  return flow->page == flow->first ? TOP_OF_FIRST : TOP;
}

/* What is left on the page. */
double
paper_flow_room (PaperFlow *flow)
{
  return paper_document_height (flow->document) - BOTTOM - flow->y;
}

void
paper_flow_new_page (PaperFlow *flow)
{
  flow->page = paper_document_add_page (flow->document);
  flow->y = top_of (flow);
}

/* Begins something on a page of its own, with heads of its own: paper_document_begin_part(). */
void
paper_flow_begin_part (PaperFlow *flow, const char *left, const char *right)
{
  flow->first = paper_document_count_pages (flow->document);
  paper_document_begin_part (flow->document, left, right);
  paper_flow_new_page (flow);
}

/* Goes to a new page unless @height is left, or the page is empty. */
void
paper_flow_need (PaperFlow *flow, double height)
{
  if (paper_flow_room (flow) < height && flow->y > top_of (flow))
    paper_flow_new_page (flow);
}

/* Goes down by what was placed. */
void
paper_flow_move (PaperFlow *flow, double height)
{
  flow->y += height;
}

/* Leaves room, but not at the top of a page. */
void
paper_flow_space (PaperFlow *flow, double height)
{
  if (flow->y > top_of (flow))
    flow->y += height;
}

/* Places lines [@first, @end) of a layout, their top at @y; returns their height. */
double
paper_place_lines (PaperDocument *document, guint page, PangoLayout *layout, int first, int end, PaperTone tone, double x, double y)
{
  PangoLayoutIter *at = pango_layout_get_iter (layout);
  double top = 0.0, bottom = 0.0;
  int line = 0;

  do
    {
      PangoRectangle box;
      int low, high;

      if (line >= first && line < end)
        {
          pango_layout_iter_get_line_extents (at, NULL, &box);
          pango_layout_iter_get_line_yrange (at, &low, &high);
          if (line == first)
            top = (double) low / PANGO_SCALE;
          bottom = (double) high / PANGO_SCALE;
          paper_place_line_of_text (document, page, layout, line, tone, x + (double) box.x / PANGO_SCALE,
                                    y + (double) pango_layout_iter_get_baseline (at) / PANGO_SCALE - top);
        }
      line++;
    }
  while (pango_layout_iter_next_line (at) && line < end);
  pango_layout_iter_free (at);
  return bottom - top;
}

/* How many lines from @first on fit into @room. */
static int
count_fitting (PangoLayout *layout, int first, double room)
{
  PangoLayoutIter *at = pango_layout_get_iter (layout);
  double top = 0.0;
  int line = 0, fits = 0;

  do
    {
      int low, high;

      pango_layout_iter_get_line_yrange (at, &low, &high);
      if (line == first)
        top = (double) low / PANGO_SCALE;
      if (line >= first && (double) high / PANGO_SCALE - top <= room)
        fits++;
      line++;
    }
  while (pango_layout_iter_next_line (at));
  pango_layout_iter_free (at);
  return fits;
}

static void
set_text (PaperFlow *flow, PangoLayout *layout, PaperTone tone, double indent)
{
  int n = pango_layout_get_line_count (layout);
  int first = 0;

  while (first < n)
    {
      int fits = count_fitting (layout, first, paper_flow_room (flow));

      /* No single line is left behind, nor taken along. */
      if (fits < n - first && n - first - fits < LEAST_LINES)
        fits = n - first - LEAST_LINES;
      if (fits < n - first && fits < LEAST_LINES)
        fits = flow->y > top_of (flow) ? 0 : MAX (1, fits);
      if (fits > 0)
        flow->y += paper_place_lines (flow->document, flow->page, layout, first, first + fits, tone, paper_flow_left (flow) + indent, flow->y);
      first += fits;
      if (first < n)
        paper_flow_new_page (flow);
    }
}

/**
 * paper_flow_paragraph:
 * @flow: a flow
 * @style: of the letters
 * @tone: of the letters
 * @indent: from the left edge of the column
 * @text: one paragraph or more
 */
void
paper_flow_paragraph (PaperFlow *flow, PaperTextStyle style, PaperTone tone, double indent, const char *text)
{
  g_autoptr(PangoLayout) layout
      = paper_style_layout (paper_document_context (flow->document), style, text, paper_flow_width (flow) - indent);

  set_text (flow, layout, tone, indent);
  paper_flow_space (flow, AFTER_TEXT);
}

/* The name of the whole, with a line below. */
void
paper_flow_title (PaperFlow *flow, const char *text)
{
  g_autoptr(PangoLayout) layout
      = paper_style_layout (paper_document_context (flow->document), PAPER_TEXT_TITLE, text, paper_flow_width (flow));

  pango_layout_set_line_spacing (layout, 0.95f);
  paper_document_outline (flow->document, flow->page, 0, text, flow->y);
  set_text (flow, layout, PAPER_INK, 0.0);
  flow->y += 4.0;
  paper_place_rule (flow->document, flow->page, PAPER_INK, 1.0, paper_flow_left (flow), flow->y, paper_flow_left (flow) + paper_flow_width (flow), flow->y);
  flow->y += 8.0;
}

/**
 * paper_flow_heading:
 * @flow: a flow
 * @level: 1 for a section, 2 below one
 * @text: what it says; also a line of the PDF's table of contents
 * @target: (nullable): name for links that lead here
 * @with: height of what must stand on the same page
 */
void
paper_flow_heading (PaperFlow *flow, guint level, const char *text, const char *target, double with)
{
  g_autoptr(PangoLayout) layout
      = paper_style_layout (paper_document_context (flow->document), level <= 1 ? PAPER_TEXT_HEADING : PAPER_TEXT_SUBHEADING, text,
                            paper_flow_width (flow));
  double above = level <= 1 ? 14.0 : 8.0;

  paper_flow_need (flow, above + paper_style_height (layout) + with);
  paper_flow_space (flow, above);
  paper_document_outline (flow->document, flow->page, level, text, flow->y);
  if (target != NULL)
    paper_place_target (flow->document, flow->page, target, flow->y - above);
  set_text (flow, layout, PAPER_INK, 0.0);
  flow->y += 3.0;
}

/* A paragraph that leads to a target. */
void
paper_flow_link (PaperFlow *flow, const char *text, const char *target)
{
  double y = flow->y;
  guint page = flow->page;

  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, text);
  if (flow->page == page)
    paper_place_link (flow->document, page, target, paper_flow_left (flow), y, paper_flow_width (flow), flow->y - y);
}

static void
set_note (PaperFlow *flow, PaperTextStyle style, const char *text)
{
  double width = paper_flow_width (flow);
  g_autoptr(PangoLayout) layout = paper_style_layout (paper_document_context (flow->document), style, text,
                                                      width - 2.0 * NOTE_PADDING - 4.0);
  double height = paper_style_height (layout) + 2.0 * NOTE_PADDING;

  paper_flow_need (flow, height);
  paper_place_box (flow->document, flow->page, PAPER_BAND, 0.0, paper_flow_left (flow), flow->y, width, height);
  paper_place_box (flow->document, flow->page, PAPER_INK, 0.0, paper_flow_left (flow), flow->y, 3.0, height);
  paper_place_lines (flow->document, flow->page, layout, 0, G_MAXINT, PAPER_INK, paper_flow_left (flow) + NOTE_PADDING + 4.0,
                     flow->y + NOTE_PADDING);
  flow->y += height + AFTER_TEXT;
}

/* A text in a frame that nobody passes over. */
void
paper_flow_note (PaperFlow *flow, const char *text)
{
  set_note (flow, PAPER_TEXT_BODY, text);
}

/* The same in small letters, where room is for what is written by hand. */
void
paper_flow_small_note (PaperFlow *flow, const char *text)
{
  set_note (flow, PAPER_TEXT_SMALL, text);
}

/* A box with ruled lines to be written into by hand. */
void
paper_flow_answer (PaperFlow *flow, const char *label, guint lines)
{
  double width = paper_flow_width (flow);
  double height = lines * PAPER_ANSWER_LINE + 6.0;
  g_autoptr(PangoLayout) layout = paper_style_layout (paper_document_context (flow->document), PAPER_TEXT_SMALL, label, width - 12.0);

  paper_flow_need (flow, height);
  paper_place_box (flow->document, flow->page, PAPER_INK, 0.6, paper_flow_left (flow), flow->y, width, height);
  paper_place_lines (flow->document, flow->page, layout, 0, 1, PAPER_FAINT, paper_flow_left (flow) + 6.0, flow->y + 3.0);
  for (guint i = 1; i < lines; i++)
    paper_place_rule (flow->document, flow->page, PAPER_RULE, 0.4, paper_flow_left (flow) + 6.0, flow->y + i * PAPER_ANSWER_LINE,
                      paper_flow_left (flow) + width - 6.0, flow->y + i * PAPER_ANSWER_LINE);
  flow->y += height + AFTER_TEXT;
}

static void
figure_size (const PaperFigure *figure, double most_width, double *width, double *height)
{
  *width = most_width;
  *height = figure->height;
  if (figure->picture != NULL)
    {
      double w = cairo_image_surface_get_width (figure->picture);
      double h = cairo_image_surface_get_height (figure->picture);
      double scale = MIN (most_width / w, figure->height / h);

      *width = w * scale;
      *height = h * scale;
    }
}

static void
place_figure (PaperFlow *flow, const PaperFigure *figure, double x, double w, double h)
{
  if (figure->chart != NULL)
    paper_place_chart (flow->document, flow->page, figure->chart, x, flow->y, w, h);
  if (figure->picture == NULL)
    return;
  paper_place_picture (flow->document, flow->page, figure->picture, x, flow->y, w, h);
  paper_place_box (flow->document, flow->page, PAPER_RULE, 0.5, x, flow->y, w, h);
}

/**
 * paper_flow_figures:
 * @flow: a flow
 * @figures: (array length=n): their charts are taken over
 * @n: how many
 * @columns: how many stand side by side
 *
 * Figures of one row begin at the same height and stay on one page with their captions.
 */
void
paper_flow_figures (PaperFlow *flow, const PaperFigure *figures, guint n, guint columns)
{
  double room = (paper_flow_width (flow) - (columns - 1) * FIGURE_GAP) / columns;

  for (guint row = 0; row < n; row += columns)
    {
      guint in_row = MIN (columns, n - row);
      g_autoptr(GPtrArray) captions = g_ptr_array_new_with_free_func (g_object_unref);
      double tall = 0.0, below = 0.0;

      for (guint i = 0; i < in_row; i++)
        {
          PangoLayout *caption = paper_style_layout (paper_document_context (flow->document), PAPER_TEXT_SMALL,
                                                     figures[row + i].caption, room);
          double w, h;

          figure_size (&figures[row + i], room, &w, &h);
          g_ptr_array_add (captions, caption);
          tall = MAX (tall, h);
          if (figures[row + i].caption != NULL)
            below = MAX (below, CAPTION_GAP + paper_style_height (caption));
        }
      paper_flow_need (flow, tall + below);
      for (guint i = 0; i < in_row; i++)
        {
          double x = paper_flow_left (flow) + i * (room + FIGURE_GAP);
          double w, h;

          figure_size (&figures[row + i], room, &w, &h);
          place_figure (flow, &figures[row + i], x, w, h);
          if (figures[row + i].caption != NULL)
            paper_place_lines (flow->document, flow->page, captions->pdata[i], 0, G_MAXINT, PAPER_INK, x,
                               flow->y + tall + CAPTION_GAP);
        }
      flow->y += tall + below + 2.0 * AFTER_TEXT;
    }
}
