/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-form.h"

#include "paper-flow-private.h"

#define PADDING 2.5
#define OUTLINE 1.0
#define INNER   0.5

#define TICK       9.0 /* side of a box that a pencil ticks */
#define TICK_STEP  12.0
#define TICK_GROUP 5 /* counted by fives, as tallies are */
#define TICK_GAP   5.0
#define TICK_LINE  14.0

typedef struct
{
  PaperFlow             *flow;
  const PaperFormColumn *columns;
  guint                  n_columns;
  double                *lefts; /* of the boxes, and the right end */
  PangoLayout          **codes;
  PangoLayout          **heads;
  double                 code_height;
  double                 head_height;
  double                 row_height;
  double                 begin; /* where the boxes of this page begin */
} Form;

static PangoLayout *
make_cell (const Form *form, guint column, gboolean is_cell, PaperTextStyle style, const char *text)
{
  PangoContext *context = paper_document_context (paper_flow_document (form->flow));
  double width = form->lefts[column + 1] - form->lefts[column] - 2.0 * PADDING;
  PangoLayout *layout = paper_style_layout (context, style, text, width);

  pango_layout_set_line_spacing (layout, 1.0f);
  if (is_cell && form->columns[column].is_number)
    pango_layout_set_alignment (layout, PANGO_ALIGN_RIGHT);
  return layout;
}

static void
form_init (Form *form, PaperFlow *flow, const PaperFormColumn *columns, guint n_columns, double row_height)
{
  double shares = 0.0, width = paper_flow_width (flow), left = paper_flow_left (flow);

  *form = (Form) { .flow = flow, .columns = columns, .n_columns = n_columns, .row_height = row_height };
  form->lefts = g_new0 (double, n_columns + 1);
  form->codes = g_new0 (PangoLayout *, n_columns);
  form->heads = g_new0 (PangoLayout *, n_columns);
  for (guint c = 0; c < n_columns; c++)
    shares += columns[c].share;
  for (guint c = 0; c < n_columns; c++)
    {
      form->lefts[c] = left;
      left += width * columns[c].share / shares;
    }
  form->lefts[n_columns] = left;
  for (guint c = 0; c < n_columns; c++)
    {
      double tall;

      form->heads[c] = make_cell (form, c, FALSE, PAPER_TEXT_SMALL, columns[c].head);
      tall = paper_style_height (form->heads[c]);
      form->head_height = MAX (form->head_height, tall);
      if (columns[c].code == NULL)
        continue;
      form->codes[c] = make_cell (form, c, FALSE, PAPER_TEXT_STRONG, columns[c].code);
      tall = paper_style_height (form->codes[c]);
      form->code_height = MAX (form->code_height, tall);
    }
}

static void
form_clear (Form *form)
{
  for (guint c = 0; c < form->n_columns; c++)
    {
      g_clear_object (&form->codes[c]);
      g_clear_object (&form->heads[c]);
    }
  g_free (form->codes);
  g_free (form->heads);
  g_free (form->lefts);
}

static double
head_room (const Form *form)
{
  return form->code_height + form->head_height + 2.0 * PADDING;
}

static void
set_across (const Form *form, double width)
{
  double y = paper_flow_y (form->flow);

  paper_place_rule (paper_flow_document (form->flow), paper_flow_page (form->flow), PAPER_INK, width, form->lefts[0], y,
                    form->lefts[form->n_columns], y);
}

static void
set_head (Form *form)
{
  PaperDocument *document = paper_flow_document (form->flow);
  guint page = paper_flow_page (form->flow);
  double y = paper_flow_y (form->flow);

  form->begin = y;
  set_across (form, OUTLINE);
  for (guint c = 0; c < form->n_columns; c++)
    {
      if (form->codes[c] != NULL)
        paper_place_lines (document, page, form->codes[c], 0, G_MAXINT, PAPER_INK, form->lefts[c] + PADDING, y + PADDING);
      paper_place_lines (document, page, form->heads[c], 0, G_MAXINT, PAPER_INK, form->lefts[c] + PADDING,
                         y + PADDING + form->code_height);
    }
  paper_flow_move (form->flow, head_room (form));
  set_across (form, OUTLINE);
}

/* The upright lines of this page. */
static void
end_page (const Form *form)
{
  double y = paper_flow_y (form->flow);

  for (guint c = 0; c <= form->n_columns; c++)
    paper_place_rule (paper_flow_document (form->flow), paper_flow_page (form->flow), PAPER_INK,
                      c == 0 || c == form->n_columns ? OUTLINE : INNER, form->lefts[c], form->begin, form->lefts[c], y);
}

/* @height: what the row takes. */
static GPtrArray *
make_row (const Form *form, const char *const *cells, double *height)
{
  GPtrArray *row = g_ptr_array_new_with_free_func (g_object_unref);

  *height = form->row_height;
  for (guint c = 0; c < form->n_columns; c++)
    {
      PangoLayout *cell = make_cell (form, c, TRUE, form->columns[c].is_strong ? PAPER_TEXT_STRONG : PAPER_TEXT_BODY, cells[c]);
      double tall = paper_style_height (cell) + 2.0 * PADDING;

      g_ptr_array_add (row, cell);
      *height = MAX (*height, tall);
    }
  return row;
}

static void
set_row (Form *form, const char *const *cells, gboolean is_last)
{
  double height;
  g_autoptr(GPtrArray) row = make_row (form, cells, &height);

  if (paper_flow_room (form->flow) < height)
    {
      end_page (form);
      paper_flow_new_page (form->flow);
      set_head (form);
      /* Taller than a page: nothing of it may run over the foot. */
      if (paper_flow_room (form->flow) < height)
        {
          height = paper_flow_room (form->flow);
          for (guint c = 0; c < form->n_columns; c++)
            {
              pango_layout_set_height (row->pdata[c], (int) ((height - 2.0 * PADDING) * PANGO_SCALE));
              pango_layout_set_ellipsize (row->pdata[c], PANGO_ELLIPSIZE_END);
            }
        }
    }
  for (guint c = 0; c < form->n_columns; c++)
    {
      double tall = paper_style_height (row->pdata[c]);

      paper_place_lines (paper_flow_document (form->flow), paper_flow_page (form->flow), row->pdata[c], 0, G_MAXINT, PAPER_INK,
                         form->lefts[c] + PADDING,
                         paper_flow_y (form->flow) + (height > form->row_height ? PADDING : (height - tall) / 2.0));
    }
  paper_flow_move (form->flow, height);
  set_across (form, is_last ? OUTLINE : INNER);
}

/* The head with the first row, which it is not parted from; @cells NULL: a row of the least height. */
static double
with_head (const Form *form, const char *const *cells)
{
  double height = form->row_height;

  if (cells != NULL)
    g_ptr_array_unref (make_row (form, cells, &height)); /* only how high it is */
  return head_room (form) + height;
}

/**
 * paper_flow_form:
 * @flow: a flow
 * @columns: (array length=n_columns): from left to right
 * @n_columns: how many
 * @cells: row by row; "" to be written into
 * @n_rows: how many
 * @row_height: that each row has at least
 *
 * A table in boxes that goes on over as many pages as it needs; no row is divided.
 */
void
paper_flow_form (PaperFlow *flow, const PaperFormColumn *columns, guint n_columns, const char *const *cells, guint n_rows, double row_height)
{
  Form form;

  form_init (&form, flow, columns, n_columns, row_height);
  paper_flow_need (flow, with_head (&form, n_rows > 0 ? cells : NULL));
  set_head (&form);
  for (guint r = 0; r < n_rows; r++)
    set_row (&form, cells + (gsize) r * n_columns, r + 1 == n_rows);
  end_page (&form);
  form_clear (&form);
  paper_flow_move (flow, 8.0);
}

/* The width of a column that a strong cell takes on one line. */
double
paper_flow_form_width (PaperFlow *flow, const char *text)
{
  g_autoptr(PangoLayout) layout
      = paper_style_layout (paper_document_context (paper_flow_document (flow)), PAPER_TEXT_STRONG, text, 0.0);
  PangoRectangle box;

  pango_layout_get_extents (layout, NULL, &box);
  return (double) box.width / PANGO_SCALE + 2.0 * PADDING + 1.0;
}

/* The height of the head and the first row, or a blank one for NULL: what a heading above must not be parted from. */
double
paper_flow_form_least (PaperFlow *flow, const PaperFormColumn *columns, guint n_columns, const char *const *cells, double row_height)
{
  Form form;
  double height;

  form_init (&form, flow, columns, n_columns, row_height);
  height = with_head (&form, cells);
  form_clear (&form);
  return height;
}

/* How many boxes to be ticked stand side by side, in whole groups of five. */
guint
paper_flow_count_ticks (double width)
{
  double group = TICK_GROUP * TICK_STEP + TICK_GAP;

  return width < group ? TICK_GROUP : (guint) (width / group) * TICK_GROUP;
}

/* Boxes to be ticked, a piece each, on the page where the flow stands. */
void
paper_flow_ticks (PaperFlow *flow, double x, double y, double width, guint lines)
{
  guint n = paper_flow_count_ticks (width);

  for (guint line = 0; line < lines; line++)
    for (guint i = 0; i < n; i++)
      paper_place_box (paper_flow_document (flow), paper_flow_page (flow), PAPER_INK, 0.6,
                       x + i * TICK_STEP + (i / TICK_GROUP) * TICK_GAP, y + line * TICK_LINE, TICK, TICK);
}
