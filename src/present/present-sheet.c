/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-sheet.h"

#include "present-text.h"

#include <string.h>

static void
clear_column (gpointer data)
{
  g_free (((PresentSheetColumn *) data)->head);
}

static void
clear_row (gpointer data)
{
  PresentSheetRow *row = data;

  g_strfreev (row->cells);
  g_free (row->words);
  g_clear_pointer (&row->sources, g_array_unref);
}

static void
clear_source (gpointer data)
{
  g_free (((PresentSheetSource *) data)->words);
}

/**
 * present_sheet_new:
 * @title: of the table, translated; copied
 *
 * Returns: (transfer full): a table without columns
 */
PresentSheet *
present_sheet_new (const char *title)
{
  PresentSheet *sheet = g_new0 (PresentSheet, 1);

  sheet->title = g_strdup (title);
  sheet->columns = g_array_new (FALSE, FALSE, sizeof (PresentSheetColumn));
  sheet->rows = g_array_new (FALSE, FALSE, sizeof (PresentSheetRow));
  g_array_set_clear_func (sheet->columns, clear_column);
  g_array_set_clear_func (sheet->rows, clear_row);
  return sheet;
}

void
present_sheet_free (PresentSheet *sheet)
{
  if (sheet == NULL)
    return;

  g_array_unref (sheet->columns);
  g_array_unref (sheet->rows);
  g_free (sheet->title);
  g_free (sheet);
}

void
present_sheet_add_column (PresentSheet *sheet, const char *head, gboolean figures, gboolean expand, guint weight)
{
  PresentSheetColumn column = { g_strdup (head), figures, expand, weight };

  g_array_append_val (sheet->columns, column);
}

/* What the row says with the heads of its columns; empty cells are left out. */
static char *
words_of (const PresentSheet *sheet, char *const *cells)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < sheet->columns->len && cells[i] != NULL; i++)
    {
      const char *head = g_array_index (sheet->columns, PresentSheetColumn, i).head;

      if (*cells[i] == '\0')
        continue;
      if (words->len > 0)
        g_string_append (words, ", ");
      if (i > 0 && *head != '\0')
        g_string_append_printf (words, "%s ", head);
      g_string_append (words, cells[i]);
    }
  return g_string_free (words, FALSE);
}

/**
 * present_sheet_add_row:
 * @sheet: a table with all its columns
 * @record: (nullable): static name of the record that it leads to
 * @key: of it
 * @open: needs a person
 * @cells: (transfer full) (array zero-terminated=1): a text for each column
 */
void
present_sheet_add_row (PresentSheet *sheet, const char *record, gint64 key, gboolean open, char **cells)
{
  PresentSheetRow row = { cells, record, key, 0, open, words_of (sheet, cells), NULL };

  g_return_if_fail (g_strv_length (cells) == sheet->columns->len);

  g_array_append_val (sheet->rows, row);
}

/**
 * present_sheet_set_item:
 * @sheet: a table with a row at least
 * @item: what its last row is of, where other rows lead to the same record
 */
void
present_sheet_set_item (PresentSheet *sheet, gint64 item)
{
  g_return_if_fail (sheet->rows->len > 0);

  g_array_index (sheet->rows, PresentSheetRow, sheet->rows->len - 1).item = item;
}

/**
 * present_sheet_add_source:
 * @sheet: a table with a row at least
 * @record: static name of a record that the figures of its last row are made of
 * @key: of it
 * @words: (transfer full): how it is called
 */
void
present_sheet_add_source (PresentSheet *sheet, const char *record, gint64 key, char *words)
{
  PresentSheetSource source = { record, key, words };
  PresentSheetRow *row;

  g_return_if_fail (sheet->rows->len > 0);

  row = &g_array_index (sheet->rows, PresentSheetRow, sheet->rows->len - 1);
  if (row->sources == NULL)
    {
      row->sources = g_array_new (FALSE, FALSE, sizeof (PresentSheetSource));
      g_array_set_clear_func (row->sources, clear_source);
    }
  g_array_append_val (row->sources, source);
}

/**
 * present_cells_take:
 * @cells: (transfer none) (array zero-terminated=1) (element-type utf8): texts, each of them taken over; an array that ends
 *   at the first %NULL
 *
 * Returns: (transfer full): the same in an array of its own
 */
char **
present_cells_take (char **cells)
{
  guint n = 0;

  while (cells[n] != NULL)
    n++;
  return g_memdup2 (cells, (n + 1) * sizeof *cells);
}

/* Widths of the columns shown, with two spaces between; 0 for one that is left out. */
static guint
natural_width (const PresentSheet *sheet, const gboolean *shown)
{
  guint width = 0;

  for (guint i = 0; i < sheet->columns->len; i++)
    {
      guint most = present_text_columns (g_array_index (sheet->columns, PresentSheetColumn, i).head);

      for (guint r = 0; r < sheet->rows->len; r++)
        most = MAX (most, present_text_columns (g_array_index (sheet->rows, PresentSheetRow, r).cells[i]));
      width += shown[i] ? most + 2 : 0;
    }
  return width;
}

/* As a ledger does in a narrow window: the greatest weight goes first. */
static void
leave_out (const PresentSheet *sheet, guint width, gboolean *shown)
{
  while (natural_width (sheet, shown) > width + 2)
    {
      int worst = -1;

      for (guint i = 0; i < sheet->columns->len; i++)
        if (shown[i] && g_array_index (sheet->columns, PresentSheetColumn, i).weight > 0
            && (worst < 0 || g_array_index (sheet->columns, PresentSheetColumn, i).weight
                               >= g_array_index (sheet->columns, PresentSheetColumn, (guint) worst).weight))
          worst = (int) i;
      if (worst < 0)
        return;
      shown[worst] = FALSE;
    }
}

/**
 * present_sheet_to_text:
 * @sheet: a table
 * @width: in columns
 *
 * Columns that have no room are left out by their weight.
 *
 * Returns: (transfer full): its title and aligned rows, for a terminal; empty when it has no row
 */
char *
present_sheet_to_text (const PresentSheet *sheet, guint width)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;
  g_autofree gboolean *shown = g_new (gboolean, sheet->columns->len + 1);
  g_autofree const char **cells = g_new0 (const char *, sheet->columns->len + 1);

  if (sheet->rows->len == 0)
    return g_strdup ("");
  for (guint i = 0; i < sheet->columns->len; i++)
    shown[i] = TRUE;
  leave_out (sheet, width, shown);
  for (guint i = 0; i < sheet->columns->len; i++)
    {
      const PresentSheetColumn *column = &g_array_index (sheet->columns, PresentSheetColumn, i);

      if (shown[i])
        present_table_add_column (table, column->head, column->figures ? PRESENT_ALIGN_RIGHT : PRESENT_ALIGN_LEFT);
    }
  for (guint r = 0; r < sheet->rows->len; r++)
    {
      guint n = 0;

      for (guint i = 0; i < sheet->columns->len; i++)
        if (shown[i])
          cells[n++] = g_array_index (sheet->rows, PresentSheetRow, r).cells[i];
      cells[n] = NULL;
      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, width);
  return g_strdup_printf ("%s\n%s", sheet->title, text);
}

/**
 * present_sheet_add_text:
 * @sheet: (nullable): a table; without rows it adds nothing
 * @out: is added to
 * @width: in columns
 *
 * As present_sheet_to_text(), behind what is there and an empty line.
 */
void
present_sheet_add_text (const PresentSheet *sheet, GString *out, guint width)
{
  g_autofree char *table = sheet != NULL ? present_sheet_to_text (sheet, width) : NULL;

  if (table != NULL && *table != '\0')
    g_string_append_printf (out, "\n%s", table);
}

/**
 * present_sheet_to_tabs:
 * @sheet: a table
 *
 * Returns: (transfer full): heads and rows with tabs between, as a spreadsheet takes it from the clipboard
 */
char *
present_sheet_to_tabs (const PresentSheet *sheet)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < sheet->columns->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\t" : "", g_array_index (sheet->columns, PresentSheetColumn, i).head);
  g_string_append_c (text, '\n');
  for (guint r = 0; r < sheet->rows->len; r++)
    {
      g_autofree char *line = g_strjoinv ("\t", g_array_index (sheet->rows, PresentSheetRow, r).cells);

      g_string_append_printf (text, "%s\n", line);
    }
  return g_string_free (text, FALSE);
}
