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

#define PICTURE_GAP 4.0 /* between the text of a cell and its picture */

typedef struct
{
  PaperFlow         *flow;
  const PaperColumn *columns;
  guint              n_columns;
  double            *lefts;
  double            *widths;
  PangoLayout      **heads;
  double             head_height; /* 0: no column has a head */
  double             picture_height;
  guint              n_links; /* of a row, each over as many columns */
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

  paper_place_rule (paper_flow_document (table->flow), paper_flow_page (table->flow), tone, width, paper_flow_left (table->flow), y,
                    paper_flow_left (table->flow) + paper_flow_width (table->flow), y);
}

static void
set_head (const Table *table)
{
  if (table->head_height <= 0.0)
    {
      set_rule (table, PAPER_RULE, 0.4);
      return;
    }
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
picture_size (const Table *table, guint column, cairo_surface_t *picture, double *width, double *height)
{
  double w = cairo_image_surface_get_width (picture), h = cairo_image_surface_get_height (picture);
  double scale = MIN (table->widths[column] / w, table->picture_height / h);

  *width = w * scale;
  *height = h * scale;
}

/* Below the text of each cell when @row is given, else side by side where the flow stands; returns how far down they reach. */
static double
set_pictures (const Table *table, PangoLayout **row, cairo_surface_t *const *pictures, gboolean measure)
{
  double y = paper_flow_y (table->flow) + PADDING, reach = 0.0;

  for (guint c = 0; pictures != NULL && c < table->n_columns; c++)
    {
      double w, h, top = 0.0;

      if (pictures[c] == NULL)
        continue;
      if (row != NULL)
        top = paper_style_height (row[c]) + PICTURE_GAP;
      picture_size (table, c, pictures[c], &w, &h);
      reach = MAX (reach, top + h + PICTURE_GAP);
      if (measure)
        continue;
      paper_place_picture (paper_flow_document (table->flow), paper_flow_page (table->flow), pictures[c], table->lefts[c], y + top, w, h);
      paper_place_box (paper_flow_document (table->flow), paper_flow_page (table->flow), PAPER_RULE, 0.4, table->lefts[c], y + top, w, h);
    }
  return reach;
}

static void
set_links (const Table *table, const char *const *leads, double top)
{
  const guint each = table->n_links > 0 ? table->n_columns / table->n_links : 0;

  for (guint i = 0; leads != NULL && i < table->n_links; i++)
    {
      const guint from = i * each, last = from + each - 1;

      if (leads[i] != NULL)
        paper_place_link (paper_flow_document (table->flow), paper_flow_page (table->flow), leads[i], table->lefts[from], top,
                          table->lefts[last] + table->widths[last] - table->lefts[from], paper_flow_y (table->flow) - top);
    }
}

static void
set_row (const Table *table, const char *const *cells, cairo_surface_t *const *pictures, const char *const *leads)
{
  g_autofree int *from = g_new0 (int, table->n_columns);
  double height;
  PangoLayout **row = make_row (table, PAPER_TEXT_BODY, cells, &height);
  guint page = paper_flow_page (table->flow), first;
  double reach = set_pictures (table, row, pictures, TRUE);
  double below, top;

  paper_flow_need (table->flow, MAX (height, reach) + 2.0 * PADDING);
  first = paper_flow_page (table->flow);
  for (;;)
    {
      gboolean is_whole;

      if (paper_flow_page (table->flow) != page)
        set_head (table);
      page = paper_flow_page (table->flow);
      top = paper_flow_y (table->flow);
      is_whole = MAX (height, reach) + 2.0 * PADDING <= paper_flow_room (table->flow);
      if (is_whole)
        set_pictures (table, row, pictures, FALSE);
      below = set_lines (table, row, from);
      paper_flow_move (table->flow, (is_whole ? MAX (below, reach) : below) + 2.0 * PADDING);
      if (page == first)
        set_links (table, leads, top);
      if (is_set (table, row, from))
        {
          /* The text took more than the page: its pictures follow. */
          if (!is_whole && reach > 0.0)
            {
              reach = set_pictures (table, NULL, pictures, TRUE);
              paper_flow_need (table->flow, reach);
              paper_flow_move (table->flow, set_pictures (table, NULL, pictures, FALSE));
            }
          break;
        }
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
  paper_flow_table_pictures (flow, columns, n_columns, cells, NULL, n_rows, 0.0);
}

/* Makes the head and the places of the columns; what it holds is freed by table_clear(). */
static void
table_init (Table *table, PaperFlow *flow, const PaperColumn *columns, guint n_columns, double picture_height)
{
  double room = paper_flow_width (flow) - (n_columns - 1) * GAP;
  double shares = 0.0, left = paper_flow_left (flow);
  gboolean says = FALSE;

  *table = (Table) { .flow = flow, .columns = columns, .n_columns = n_columns, .picture_height = picture_height };
  table->lefts = g_new0 (double, n_columns);
  table->widths = g_new0 (double, n_columns);
  for (guint c = 0; c < n_columns; c++)
    shares += columns[c].share;
  for (guint c = 0; c < n_columns; c++)
    {
      table->widths[c] = room * columns[c].share / shares;
      table->lefts[c] = left;
      left += table->widths[c] + GAP;
    }
  table->heads = make_row (table, PAPER_TEXT_SMALL, NULL, &table->head_height);
  for (guint c = 0; c < n_columns; c++)
    says |= columns[c].head != NULL && *columns[c].head != '\0';
  if (!says)
    table->head_height = 0.0;
}

static void
table_clear (Table *table)
{
  free_row (table, table->heads);
  g_free (table->lefts);
  g_free (table->widths);
}

/* Of the head and the first row. */
static double
least_height (const Table *table, const char *const *cells, cairo_surface_t *const *pictures)
{
  double height;
  PangoLayout **first = make_row (table, PAPER_TEXT_BODY, cells, &height);
  double reach = set_pictures (table, first, pictures, TRUE);

  free_row (table, first);
  return table->head_height + MAX (height, reach) + 4.0 * PADDING;
}

/**
 * paper_flow_table_least:
 * @flow: a flow
 * @columns: (array length=n_columns): as of paper_flow_table_pictures()
 * @n_columns: how many
 * @cells: at least one row
 * @pictures: (nullable): at least one row
 * @picture_height: the most that a picture may take
 *
 * Returns: the height of the table's head and first row, which a heading above must not be parted from
 */
double
paper_flow_table_least (PaperFlow *flow, const PaperColumn *columns, guint n_columns, const char *const *cells,
                        cairo_surface_t *const *pictures, double picture_height)
{
  Table table;
  double height;

  table_init (&table, flow, columns, n_columns, picture_height);
  height = least_height (&table, cells, pictures);
  table_clear (&table);
  return height;
}

static void
set_rows (const Table *table, const char *const *cells, cairo_surface_t *const *pictures, const char *const *leads, guint n_rows)
{
  const gsize n = table->n_columns;

  if (n_rows > 0)
    paper_flow_need (table->flow, least_height (table, cells, pictures)); /* never a head alone */
  set_head (table);
  for (guint r = 0; r < n_rows; r++)
    set_row (table, cells + r * n, pictures != NULL ? pictures + r * n : NULL, leads != NULL ? leads + (gsize) r * table->n_links : NULL);
  paper_flow_move (table->flow, 6.0);
}

/**
 * paper_flow_table_pictures:
 * @flow: a flow
 * @columns: (array length=n_columns): from left to right
 * @n_columns: how many
 * @cells: row by row
 * @pictures: (nullable): row by row, %NULL where a cell has none; each stands below its cell's text
 * @n_rows: how many
 * @picture_height: the most that a picture may take
 *
 * As paper_flow_table(), with pictures.
 */
void
paper_flow_table_pictures (PaperFlow *flow, const PaperColumn *columns, guint n_columns, const char *const *cells,
                           cairo_surface_t *const *pictures, guint n_rows, double picture_height)
{
  Table table;

  table_init (&table, flow, columns, n_columns, picture_height);
  set_rows (&table, cells, pictures, NULL, n_rows);
  table_clear (&table);
}

/**
 * paper_flow_table_leading:
 * @flow: a flow
 * @columns: (array length=n_columns): from left to right
 * @n_columns: how many
 * @cells: row by row
 * @leads: row by row: targets that a row leads to, which must be placed somewhere; %NULL: nowhere
 * @n_links: how many of them a row has, each over as many columns
 * @n_rows: how many
 *
 * As paper_flow_table(), with rows that are links.
 */
void
paper_flow_table_leading (PaperFlow *flow, const PaperColumn *columns, guint n_columns, const char *const *cells,
                          const char *const *leads, guint n_links, guint n_rows)
{
  Table table;

  table_init (&table, flow, columns, n_columns, 0.0);
  table.n_links = n_links;
  set_rows (&table, cells, NULL, leads, n_rows);
  table_clear (&table);
}
