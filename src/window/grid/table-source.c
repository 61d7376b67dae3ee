/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "table-source.h"

#include <glib/gi18n.h>

enum
{
  SIGNAL_RESET,
  SIGNAL_ROWS_CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_INTERFACE (FettleTableSource, fettle_table_source, G_TYPE_OBJECT)

static void
fettle_table_source_default_init (FettleTableSourceInterface *iface)
{
  signals[SIGNAL_RESET] = g_signal_new ("reset", FETTLE_TYPE_TABLE_SOURCE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 0);
  signals[SIGNAL_ROWS_CHANGED] = g_signal_new ("rows-changed", FETTLE_TYPE_TABLE_SOURCE, G_SIGNAL_RUN_LAST, 0, NULL,
                                               NULL, NULL, G_TYPE_NONE, 0);
}

/**
 * fettle_table_source_columns:
 * @self: a source
 * @n_columns: (out): how many
 *
 * Returns: (transfer none) (array length=n_columns): the columns
 */
const FettleTableColumn *
fettle_table_source_columns (FettleTableSource *self, guint *n_columns)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->columns (self, n_columns);
}

guint
fettle_table_source_n_rows (FettleTableSource *self)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->n_rows (self);
}

/**
 * fettle_table_source_dup_text:
 * @self: a source
 * @row: below the number of rows
 * @column: below the number of columns
 * @tone: (out): how it is drawn
 * @pending: (out): typed, and not confirmed by the writer yet
 *
 * Returns: (transfer full): the text of a cell; "" for a row that is gone
 */
char *
fettle_table_source_dup_text (FettleTableSource *self,
                              guint              row,
                              guint              column,
                              FettleTableTone   *tone,
                              gboolean          *pending)
{
  *tone = FETTLE_TONE_INK;
  *pending = FALSE;
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->dup_text (self, row, column, tone, pending);
}

gboolean
fettle_table_source_editable (FettleTableSource *self, guint row, guint column)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->editable (self, row, column);
}

/**
 * fettle_table_source_commit:
 * @self: a source
 * @row: of the cell
 * @column: of the cell
 * @text: what was typed
 *
 * Hands what was typed to the source, which shows it as pending until it is stored.
 *
 * Returns: (transfer full) (nullable): %NULL when it was taken, else the sentence why not
 */
char *
fettle_table_source_commit (FettleTableSource *self, guint row, guint column, const char *text)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->commit (self, row, column, text);
}

char *
fettle_table_source_describe (FettleTableSource *self, guint row, guint column)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->describe (self, row, column);
}

/**
 * fettle_table_source_get_key:
 * @self: a source
 * @row: below the number of rows
 *
 * Returns: what the row is known by; never 0
 */
gint64
fettle_table_source_get_key (FettleTableSource *self, guint row)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  return iface->get_key != NULL ? iface->get_key (self, row) : (gint64) row + 1;
}

/**
 * fettle_table_source_find:
 * @self: a source
 * @key: of a row
 * @row: (out): where it stands now
 *
 * Returns: whether it is still there
 */
gboolean
fettle_table_source_find (FettleTableSource *self, gint64 key, guint *row)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  if (iface->find != NULL)
    return iface->find (self, key, row);
  if (key < 1 || key > (gint64) fettle_table_source_n_rows (self))
    return FALSE;
  *row = (guint) (key - 1);
  return TRUE;
}

void
fettle_table_source_keep_typed (FettleTableSource *self, gint64 key, guint column, const char *text)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  if (iface->keep_typed != NULL)
    iface->keep_typed (self, key, column, text);
}

char *
fettle_table_source_dup_typed (FettleTableSource *self, gint64 key, guint column)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  return iface->dup_typed != NULL ? iface->dup_typed (self, key, column) : NULL;
}

char *
fettle_table_source_dup_mark (FettleTableSource *self, guint row, guint column)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  return iface->dup_mark != NULL ? iface->dup_mark (self, row, column) : NULL;
}

char *
fettle_table_source_dup_edit (FettleTableSource *self, guint row, guint column)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);
  FettleTableTone tone;
  gboolean pending;

  return iface->dup_edit != NULL ? iface->dup_edit (self, row, column)
                                 : fettle_table_source_dup_text (self, row, column, &tone, &pending);
}

guint
fettle_table_source_n_head_notes (FettleTableSource *self)
{
  const FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  return iface->n_head_notes > 0 && iface->head_note (self, 0, 0) != NULL ? iface->n_head_notes : 0;
}

const char *
fettle_table_source_head_note (FettleTableSource *self, guint column, guint line)
{
  return FETTLE_TABLE_SOURCE_GET_IFACE (self)->head_note (self, column, line);
}

/**
 * fettle_table_source_put:
 * @self: a source
 * @row: the uppermost
 * @column: the leftmost
 * @texts: (array) (element-type utf8): row by row; %NULL: that cell is left alone
 * @n_rows: of the block, which lies within the table
 * @n_columns: of the block
 *
 * Hands over a block that was pasted or filled in.
 *
 * Returns: (transfer full) (nullable): %NULL, or the sentence what was not taken
 */
char *
fettle_table_source_put (FettleTableSource *self, guint row, guint column, const char *const *texts, guint n_rows, guint n_columns)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  if (iface->put == NULL)
    return g_strdup (_("Nothing can be pasted here: type into one cell after the other."));
  return iface->put (self, row, column, texts, n_rows, n_columns);
}

char *
fettle_table_source_clear (FettleTableSource *self, guint row, guint column, guint n_rows, guint n_columns)
{
  FettleTableSourceInterface *iface = FETTLE_TABLE_SOURCE_GET_IFACE (self);

  if (iface->clear == NULL)
    return g_strdup (_("What stands here is not emptied: type what it should be, or undo it."));
  return iface->clear (self, row, column, n_rows, n_columns);
}

void
fettle_table_source_reset (FettleTableSource *self)
{
  g_signal_emit (self, signals[SIGNAL_RESET], 0);
}

void
fettle_table_source_rows_changed (FettleTableSource *self)
{
  g_signal_emit (self, signals[SIGNAL_ROWS_CHANGED], 0);
}
