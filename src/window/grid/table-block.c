/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocks of a grid: what is selected, and what is copied, pasted, emptied and filled in of it, as spreadsheets do. */
#include "config.h"

#include "table-private.h"

#include <glib/gi18n.h>
#include <string.h>

/**
 * fettle_table_get_block:
 * @self: a grid
 * @row: (out): uppermost row of what is selected
 * @column: (out): its leftmost column
 * @n_rows: (out): of one cell at least, where there are rows
 * @n_columns: (out): of one cell at least
 */
void
fettle_table_get_block (FettleTable *self, guint *row, guint *column, guint *n_rows, guint *n_columns)
{
  *row = MIN (self->row, self->anchor_row);
  *column = MIN (self->column, self->anchor_column);
  *n_rows = MAX (self->row, self->anchor_row) - *row + 1;
  *n_columns = MAX (self->column, self->anchor_column) - *column + 1;
}

/* One cell alone is not a selection: it has its frame. */
gboolean
fettle_table_is_selected (FettleTable *self, guint row, guint column)
{
  guint top, left, rows, columns;

  fettle_table_get_block (self, &top, &left, &rows, &columns);
  return rows * columns > 1 && row >= top && row < top + rows && column >= left && column < left + columns;
}

/* A cell with a tab, a line's end or a quotation mark is quoted, as spreadsheets read it back. */
static void
append_cell (GString *block, const char *cell)
{
  g_autoptr(GString) quoted = NULL;

  if (strpbrk (cell, "\t\n\r\"") == NULL)
    {
      g_string_append (block, cell);
      return;
    }
  quoted = g_string_new (cell);
  g_string_replace (quoted, "\"", "\"\"", 0);
  g_string_append_printf (block, "\"%s\"", quoted->str);
}

void
fettle_table_copy_block (FettleTable *self)
{
  g_autoptr(GString) block = g_string_new (NULL);
  guint top, left, rows, columns;

  if (self->row >= fettle_table_n_rows (self))
    return;
  fettle_table_get_block (self, &top, &left, &rows, &columns);
  for (guint row = top; row < top + rows; row++)
    for (guint column = left; column < left + columns; column++)
      {
        FettleTableTone tone;
        gboolean pending;
        g_autofree char *cell = fettle_table_source_dup_text (self->source, row, column, &tone, &pending);

        append_cell (block, cell);
        g_string_append_c (block, column + 1 < left + columns ? '\t' : '\n');
      }
  if (rows * columns == 1)
    g_string_truncate (block, block->len - 1); /* of one cell the value alone */
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), block->str);
}

/* ---- reading a block ---- */

typedef struct
{
  GPtrArray *rows; /* of GPtrArray of texts */
  guint      n_columns;
} Block;

static void
block_clear (Block *block)
{
  g_clear_pointer (&block->rows, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Block, block_clear)

/* The end of a cell that begins at @at: its text, without quotation marks, goes to @cell. */
static const char *
read_cell (const char *at, GString *cell)
{
  gboolean quoted = *at == '"';

  if (quoted)
    at++;
  for (; *at != '\0'; at++)
    {
      if (quoted && at[0] == '"' && at[1] == '"')
        at++;
      else if (quoted && at[0] == '"')
        {
          quoted = FALSE;
          continue;
        }
      else if (!quoted && strchr ("\t\r\n", *at) != NULL)
        break;
      g_string_append_c (cell, *at);
    }
  return at;
}

static void
read_block (const char *text, Block *block)
{
  GPtrArray *row = NULL;

  block->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  while (*text != '\0')
    {
      g_autoptr(GString) cell = g_string_new (NULL);

      if (row == NULL)
        {
          row = g_ptr_array_new_with_free_func (g_free);
          g_ptr_array_add (block->rows, row);
        }
      text = read_cell (text, cell);
      g_strstrip (cell->str);
      g_ptr_array_add (row, g_strdup (cell->str));
      block->n_columns = MAX (block->n_columns, row->len);
      if (*text == '\t')
        {
          text++;
          if (*text == '\0' || *text == '\r' || *text == '\n')
            {
              g_ptr_array_add (row, g_strdup (""));
              block->n_columns = MAX (block->n_columns, row->len);
            }
          else
            continue;
        }
      if (*text == '\r')
        text++;
      if (*text == '\n')
        text++;
      row = NULL;
    }
}

/* ---- into the table ---- */

/* Says what a source did not take, and what lay outside. */
static void
tell_put (FettleTable *self, const char *refused, guint outside)
{
  g_autofree char *rest = outside == 0 ? NULL
                          : g_strdup_printf (ngettext ("%u cell of the block lies outside the table and was left out.",
                                                       "%u cells of the block lie outside the table and were left out.", outside),
                                             outside);
  g_autofree char *both = refused != NULL && rest != NULL ? g_strdup_printf ("%s %s", refused, rest) : NULL;

  fettle_table_tell_refused (self, both != NULL ? both : refused != NULL ? refused : rest);
  fettle_table_redraw (self);
}

/**
 * fettle_table_paste_text:
 * @self: a grid
 * @text: rows by line ends, cells by tabs, as spreadsheets write it
 *
 * Puts a block where the keyboard stands, as one deed. One value goes into all that is selected. Empty cells of the block
 * leave what stands there alone.
 */
void
fettle_table_paste_text (FettleTable *self, const char *text)
{
  g_auto(Block) block = { NULL, 0 };
  g_autoptr(GPtrArray) texts = g_ptr_array_new ();
  g_autofree char *refused = NULL;
  guint top, left, rows, columns, n_columns, outside = 0, n_rows = fettle_table_n_rows (self);

  if (self->source == NULL || self->row >= n_rows || !fettle_table_take (self))
    return;
  read_block (text, &block);
  if (block.rows->len == 0)
    return;
  if (block.rows->len == 1 && block.n_columns == 1 && fettle_table_fill_with (self, ((GPtrArray *) block.rows->pdata[0])->pdata[0]))
    return;
  fettle_table_get_block (self, &top, &left, &rows, &columns);
  fettle_table_source_columns (self->source, &n_columns);
  rows = MIN (block.rows->len, n_rows - top);
  columns = MIN (block.n_columns, n_columns - left);
  for (guint r = 0; r < block.rows->len; r++)
    {
      const GPtrArray *row = block.rows->pdata[r];

      for (guint c = 0; c < block.n_columns; c++)
        {
          const char *cell = c < row->len && *(const char *) row->pdata[c] != '\0' ? row->pdata[c] : NULL;

          if (r < rows && c < columns)
            g_ptr_array_add (texts, (gpointer) cell);
          else
            outside += cell != NULL;
        }
    }
  refused = fettle_table_source_put (self->source, top, left, (const char *const *) texts->pdata, rows, columns);
  fettle_table_go_to (self, top, left);
  self->anchor_row = top + rows - 1;
  self->anchor_column = left + columns - 1;
  tell_put (self, refused, outside);
}

static void
on_clipboard (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleTable) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);

  if (self->source == NULL || gtk_widget_get_root (GTK_WIDGET (self)) == NULL)
    return;
  if (text == NULL || *text == '\0')
    fettle_table_tell_refused (self, _("There is no text to paste: copy cells in the spreadsheet first."));
  else
    fettle_table_paste_text (self, text);
}

void
fettle_table_paste (FettleTable *self)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), NULL, on_clipboard, g_object_ref (self));
}

void
fettle_table_clear_block (FettleTable *self)
{
  guint top, left, rows, columns;
  g_autofree char *refused = NULL;

  if (self->row >= fettle_table_n_rows (self) || fettle_table_take_back_kept (self))
    return;
  fettle_table_get_block (self, &top, &left, &rows, &columns);
  refused = fettle_table_source_clear (self->source, top, left, rows, columns);
  tell_put (self, refused, 0);
}

/* What stands in the first row of the selection goes into the rows below it. */
void
fettle_table_fill_down (FettleTable *self)
{
  guint top, left, rows, columns;
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *refused = NULL;

  fettle_table_get_block (self, &top, &left, &rows, &columns);
  if (rows < 2)
    {
      fettle_table_tell_refused (self, _("Select the cell to copy and those below it with Shift and the arrows, then Ctrl+D fills them."));
      return;
    }
  for (guint row = top + 1; row < top + rows; row++)
    for (guint column = left; column < left + columns; column++)
      {
        FettleTableTone tone;
        gboolean pending;
        g_autofree char *cell = fettle_table_source_dup_text (self->source, top, column, &tone, &pending);

        g_ptr_array_add (texts, *cell != '\0' ? g_steal_pointer (&cell) : NULL);
      }
  refused = fettle_table_source_put (self->source, top + 1, left, (const char *const *) texts->pdata, rows - 1, columns);
  tell_put (self, refused, 0);
}

/* Puts one text into all that is selected; FALSE when that is one cell only. */
gboolean
fettle_table_fill_with (FettleTable *self, const char *text)
{
  guint top, left, rows, columns;
  g_autofree const char **texts = NULL;
  g_autofree char *refused = NULL;

  fettle_table_get_block (self, &top, &left, &rows, &columns);
  if (rows * columns < 2)
    return FALSE;
  texts = g_new (const char *, (gsize) rows * columns);
  for (gsize i = 0; i < (gsize) rows * columns; i++)
    texts[i] = text;
  refused = fettle_table_source_put (self->source, top, left, texts, rows, columns);
  tell_put (self, refused, 0);
  return TRUE;
}
