/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-flow.h"

#include "paper-flow-private.h"

/*
 * Tables: hair lines between rows, no boxes. A row stays whole where it fits on a page, else its cells go on line by line
 * on the next; the head is set again on each page.
 */

#define GAP     8.0 /* between columns */
#define PADDING 2.5 /* above and below the text of a row */

typedef struct
{
  PaperFlow         *flow;
  const PaperColumn *columns;
  guint              n_columns;
  double            *lefts;
  double            *widths;
  PangoLayout      **heads;
  double             head_height;
} Table;

static PangoLayout **
make_row (const Table *table, PaperTextStyle style, const char *const *cells, double *height)
{
  PangoContext *context = paper_document_context (paper_flow_document (table->flow));
  PangoLayout **row = g_new0 (PangoLayout *, table->n_columns);

  *height = 0.0;
  for (guint c = 0; c < table->n_columns; c++)
    {
      double tall;

      row[c] = paper_style_layout (context, style, cells != NULL ? cells[c] : table->columns[c].head, table->widths[c]);
      pango_layout_set_line_spacing (row[c], 1.0f);
      if (table->columns[c].is_number)
        pango_layout_set_alignment (row[c], PANGO_ALIGN_RIGHT);
      tall = paper_style_height (row[c]);
      *height = MAX (*height, tall);
    }
  return row;
}

static void
free_row (const Table *table, PangoLayout **row)
{
  for (guint c = 0; c < table->n_columns; c++)
    g_object_unref (row[c]);
  g_free (row);
}

static void
set_rule (const Table *table, PaperTone tone, double width)
{
  double y = paper_flow_y (table->flow);

  paper_place_rule (paper_flow_document (table->flow), paper_flow_page (table->flow), tone, width, PAPER_MARGIN, y,
                    PAPER_MARGIN + paper_flow_width (table->flow), y);
}

static void
set_head (const Table *table)
{
  for (guint c = 0; c < table->n_columns; c++)
    paper_place_lines (paper_flow_document (table->flow), paper_flow_page (table->flow), table->heads[c], 0, G_MAXINT, PAPER_FAINT,
                       table->lefts[c], paper_flow_y (table->flow) + PADDING);
  paper_flow_move (table->flow, table->head_height + 2.0 * PADDING);
  set_rule (table, PAPER_INK, 0.7);
}

/* Sets as many lines of each cell as fit; @from: the first line of each cell, brought forward. */
static double
set_lines (const Table *table, PangoLayout **row, int *from)
{
  double room = paper_flow_room (table->flow) - 2.0 * PADDING;
  double tallest = 0.0;

  for (guint c = 0; c < table->n_columns; c++)
    {
      int n = pango_layout_get_line_count (row[c]);
      double line = paper_style_height (row[c]) / MAX (1, n);
      int end = MIN (n, from[c] + MAX (1, (int) (room / line)));

      double height = 0.0;

      if (from[c] < n)
        height = paper_place_lines (paper_flow_document (table->flow), paper_flow_page (table->flow), row[c], from[c], end, PAPER_INK,
                                    table->lefts[c], paper_flow_y (table->flow) + PADDING);
      tallest = MAX (tallest, height);
      from[c] = MAX (from[c], end);
    }
  return tallest;
}

static gboolean
is_set (const Table *table, PangoLayout **row, const int *from)
{
  for (guint c = 0; c < table->n_columns; c++)
    if (from[c] < pango_layout_get_line_count (row[c]))
      return FALSE;
  return TRUE;
}

static void
set_row (const Table *table, const char *const *cells)
{
  g_autofree int *from = g_new0 (int, table->n_columns);
  double height;
  PangoLayout **row = make_row (table, PAPER_TEXT_BODY, cells, &height);
  guint page = paper_flow_page (table->flow);

  paper_flow_need (table->flow, height + 2.0 * PADDING);
  for (;;)
    {
      if (paper_flow_page (table->flow) != page)
        set_head (table);
      page = paper_flow_page (table->flow);
      paper_flow_move (table->flow, set_lines (table, row, from) + 2.0 * PADDING);
      if (is_set (table, row, from))
        break;
      paper_flow_new_page (table->flow);
    }
  set_rule (table, PAPER_RULE, 0.4);
  free_row (table, row);
}

/**
 * paper_flow_table:
 * @flow: a flow
 * @columns: (array length=n_columns): from left to right
 * @n_columns: how many
 * @cells: row by row
 * @n_rows: how many
 *
 * A table that goes on over as many pages as it needs.
 */
void
paper_flow_table (PaperFlow *flow, const PaperColumn *columns, guint n_columns, const char *const *cells, guint n_rows)
{
  g_autofree double *lefts = g_new0 (double, n_columns);
  g_autofree double *widths = g_new0 (double, n_columns);
  Table table = { flow, columns, n_columns, lefts, widths, NULL, 0.0 };
  double room = paper_flow_width (flow) - (n_columns - 1) * GAP;
  double shares = 0.0, left = PAPER_MARGIN, first_height = 0.0;

  for (guint c = 0; c < n_columns; c++)
    shares += columns[c].share;
  for (guint c = 0; c < n_columns; c++)
    {
      widths[c] = room * columns[c].share / shares;
      lefts[c] = left;
      left += widths[c] + GAP;
    }
  table.heads = make_row (&table, PAPER_TEXT_SMALL, NULL, &table.head_height);
  if (n_rows > 0)
    {
      free_row (&table, make_row (&table, PAPER_TEXT_BODY, cells, &first_height));
      paper_flow_need (flow, table.head_height + first_height + 4.0 * PADDING); /* never a head alone */
    }
  set_head (&table);
  for (guint r = 0; r < n_rows; r++)
    set_row (&table, cells + (gsize) r * n_columns);
  free_row (&table, table.heads);
  paper_flow_move (flow, 6.0);
}
