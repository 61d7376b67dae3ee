/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-sheet.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define GAP     8.0   /* between columns, as paper-table.c has it */
#define ANYHOW  1e4   /* wider than any line */
#define SPARE   1.0   /* so that rounding breaks no word */
#define FIGURES_MOST 90.0 /* width of figures that stay in one line */

/* A column that is shown. Figures are never broken. */
typedef struct
{
  guint  index;   /* in the sheet */
  double natural; /* width of its widest cell in one line */
  double least;   /* width of its longest word */
  double width;
} Column;

static double
width_of (PaperFlow *flow, PaperTextStyle style, const char *text)
{
  g_autoptr(PangoLayout) layout = paper_style_layout (paper_document_context (paper_flow_document (flow)), style, text, ANYHOW);
  int width;

  pango_layout_get_size (layout, &width, NULL);
  return (double) width / PANGO_SCALE + SPARE;
}

/* The longest by its letters: near enough to the widest. */
static double
width_of_longest_word (PaperFlow *flow, PaperTextStyle style, const char *text)
{
  g_auto(GStrv) words = g_strsplit_set (text, " \n", -1);
  const char *longest = "";

  for (guint i = 0; words[i] != NULL; i++)
    if (g_utf8_strlen (words[i], -1) > g_utf8_strlen (longest, -1))
      longest = words[i];
  return width_of (flow, style, longest);
}

static void
measure (Column *column, PaperFlow *flow, PaperTextStyle style, const char *text)
{
  double natural = width_of (flow, style, text), least = width_of_longest_word (flow, style, text);

  column->natural = MAX (column->natural, natural);
  column->least = MAX (column->least, least);
}

static GArray *
list_columns (PaperFlow *flow, const PresentSheet *sheet, GPtrArray *cells, guint n_rows)
{
  GArray *columns = g_array_new (FALSE, TRUE, sizeof (Column));

  for (guint c = 0; c < sheet->columns->len; c++)
    {
      Column column = { c, 0.0, 0.0, 0.0 };
      gboolean says = FALSE;

      for (guint r = 0; r < n_rows; r++)
        {
          const char *cell = cells->pdata[r * sheet->columns->len + c];

          says |= *cell != '\0';
          measure (&column, flow, PAPER_TEXT_BODY, cell);
        }
      if (g_array_index (sheet->columns, PresentSheetColumn, c).figures)
        column.least = MIN (column.natural, FIGURES_MOST);
      measure (&column, flow, PAPER_TEXT_SMALL, g_array_index (sheet->columns, PresentSheetColumn, c).head);
      if (says)
        g_array_append_val (columns, column);
    }
  return columns;
}

static double
sum (GArray *columns, gboolean least)
{
  double all = columns->len > 0 ? (columns->len - 1) * GAP : 0.0;

  for (guint i = 0; i < columns->len; i++)
    {
      const Column *column = &g_array_index (columns, Column, i);

      all += least ? column->least : column->natural;
    }
  return all;
}

/* Takes the least weighty column away; FALSE when all that are left must stay. */
static gboolean
drop_one (GArray *columns, const PresentSheet *sheet)
{
  guint weight = 0, last = 0;

  for (guint i = 0; i < columns->len; i++)
    {
      const PresentSheetColumn *column = &g_array_index (sheet->columns, PresentSheetColumn, g_array_index (columns, Column, i).index);

      if (column->weight >= MAX (weight, 1))
        {
          weight = column->weight;
          last = i;
        }
    }
  if (weight > 0)
    g_array_remove_index (columns, last);
  return weight > 0;
}

/* All in one line where there is room, else each as wide as its longest word and what is left by what they hold. */
static void
share_room (GArray *columns, const PresentSheet *sheet, double room, double *spare)
{
  double natural, least;

  *spare = 0.0;
  while (sum (columns, TRUE) > room && drop_one (columns, sheet))
    ;
  natural = sum (columns, FALSE);
  least = sum (columns, TRUE);
  for (guint i = 0; i < columns->len; i++)
    {
      Column *column = &g_array_index (columns, Column, i);

      if (natural <= room)
        column->width = column->natural;
      else if (least >= room)
        column->width = column->least;
      else
        column->width = column->least + (column->natural - column->least) * (room - least) / (natural - least);
    }
  if (natural <= room && columns->len > 0)
    *spare = room - natural;
}

/* What is over goes to the column that says the most; without one the table is narrower, so that figures stay beside what they are of. */
static void
share_spare (GArray *columns, const PresentSheet *sheet, double *spare)
{
  for (guint i = 0; i < columns->len; i++)
    {
      Column *column = &g_array_index (columns, Column, i);

      if (!g_array_index (sheet->columns, PresentSheetColumn, column->index).expand)
        continue;
      column->width += *spare;
      *spare = 0.0;
      return;
    }
}

static GPtrArray *
list_cells (const PresentSheet *sheet, const PaperDiscretion *discretion, guint n_rows)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);

  for (guint r = 0; r < n_rows; r++)
    for (guint c = 0; c < sheet->columns->len; c++)
      {
        const char *cell = g_array_index (sheet->rows, PresentSheetRow, r).cells[c];

        g_ptr_array_add (cells, discretion != NULL ? paper_discretion_check (discretion, cell) : g_strdup (cell));
      }
  return cells;
}

static void
set_columns (PaperFlow *flow, const PresentSheet *sheet, GArray *columns, GPtrArray *all, guint n_rows, double spare,
             const PaperSheetWay *way)
{
  const guint n = columns->len + (spare > GAP ? 1 : 0);
  g_autofree PaperColumn *heads = g_new0 (PaperColumn, n);
  g_autoptr(GPtrArray) cells = g_ptr_array_new ();
  g_autofree const char **leads = g_new0 (const char *, n_rows);

  for (guint i = 0; i < columns->len; i++)
    {
      const Column *column = &g_array_index (columns, Column, i);
      const PresentSheetColumn *shown = &g_array_index (sheet->columns, PresentSheetColumn, column->index);

      heads[i] = (PaperColumn) { shown->head, column->width, shown->figures };
    }
  if (n > columns->len)
    heads[columns->len] = (PaperColumn) { "", spare - GAP, FALSE };
  for (guint r = 0; r < n_rows; r++)
    {
      const gint64 key = g_array_index (sheet->rows, PresentSheetRow, r).key;

      leads[r] = way->leads != NULL && key != 0 ? g_hash_table_lookup (way->leads, &key) : NULL;
      for (guint i = 0; i < columns->len; i++)
        g_ptr_array_add (cells, all->pdata[r * sheet->columns->len + g_array_index (columns, Column, i).index]);
      if (n > columns->len)
        g_ptr_array_add (cells, (gpointer) "");
    }
  if (way->level > 0 && *sheet->title != '\0')
    paper_flow_heading (flow, way->level, sheet->title, way->target,
                        paper_flow_table_least (flow, heads, n, (const char *const *) cells->pdata, NULL, 0.0));
  paper_flow_table_leading (flow, heads, n, (const char *const *) cells->pdata, leads, 1, n_rows);
}

/**
 * paper_flow_sheet:
 * @flow: a flow
 * @sheet: what is set; nothing when it has no row
 * @way: how
 */
void
paper_flow_sheet (PaperFlow *flow, const PresentSheet *sheet, const PaperSheetWay *way)
{
  guint n_rows = way->most > 0 ? MIN (way->most, sheet->rows->len) : sheet->rows->len;
  g_autoptr(GPtrArray) cells = NULL;
  g_autoptr(GArray) columns = NULL;
  double spare;

  if (sheet->rows->len == 0)
    return;
  cells = list_cells (sheet, way->discretion, n_rows);
  columns = list_columns (flow, sheet, cells, n_rows);
  if (columns->len == 0)
    return;
  share_room (columns, sheet, paper_flow_width (flow), &spare);
  share_spare (columns, sheet, &spare);
  set_columns (flow, sheet, columns, cells, n_rows, spare, way);
  if (n_rows < sheet->rows->len)
    {
      guint more = sheet->rows->len - n_rows;
      g_autofree char *said = g_strdup_printf (ngettext ("%u further row is left out for want of room; the book has it.",
                                                         "%u further rows are left out for want of room; the book has them.", more), more);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, said);
    }
}
