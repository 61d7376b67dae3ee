/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "text-source.h"

#include <glib/gi18n.h>

typedef struct
{
  gint64          key;
  FettleTableTone tone;
  char          **cells;
} Row;

struct _FettleTextSource
{
  GObject parent_instance;

  FettleTableColumn *columns;
  guint              n_columns;
  const char       **units;  /* below the headings, "" for none; NULL: no column has one */
  GArray            *rows;   /* Row */
  GHashTable        *places; /* key -> index, plus one; of the first row with it */
};

static void fettle_text_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleTextSource, fettle_text_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_text_source_table_init))

static const Row *
row_at (FettleTextSource *self, guint row)
{
  return row < self->rows->len ? &g_array_index (self->rows, Row, row) : NULL;
}

static void
clear_row (gpointer data)
{
  g_strfreev (((Row *) data)->cells);
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_text_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleTextSource *self = FETTLE_TEXT_SOURCE (source);

  *n_columns = self->n_columns;
  return self->columns;
}

static guint
fettle_text_source_n_rows (FettleTableSource *source)
{
  return FETTLE_TEXT_SOURCE (source)->rows->len;
}

static char *
fettle_text_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  const Row *found = row_at (FETTLE_TEXT_SOURCE (source), row);

  if (found == NULL)
    return g_strdup ("");
  *tone = found->tone;
  return g_strdup (found->cells[column]);
}

static gboolean
fettle_text_source_editable (FettleTableSource *source, guint row, guint column)
{
  return FALSE;
}

static char *
fettle_text_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  return g_strdup (_("This table is only read."));
}

static char *
fettle_text_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleTextSource *self = FETTLE_TEXT_SOURCE (source);
  const Row *found = row_at (self, row);
  GString *words = g_string_new (NULL);

  for (guint i = 0; found != NULL && i < self->n_columns; i++)
    if (found->cells[i][0] != '\0')
      {
        g_string_append_printf (words, "%s%s: %s", words->len > 0 ? "; " : "", self->columns[i].title, found->cells[i]);
        if (self->units != NULL && self->units[i][0] != '\0')
          g_string_append_printf (words, " %s", self->units[i]);
      }
  return g_string_free (words, FALSE);
}

static gint64
fettle_text_source_get_key (FettleTableSource *source, guint row)
{
  const Row *found = row_at (FETTLE_TEXT_SOURCE (source), row);

  return found != NULL ? found->key : 0;
}

static gboolean
fettle_text_source_find (FettleTableSource *source, gint64 key, guint *row)
{
  guint place = GPOINTER_TO_UINT (g_hash_table_lookup (FETTLE_TEXT_SOURCE (source)->places, &key));

  if (place == 0)
    return FALSE;
  *row = place - 1;
  return TRUE;
}

static const char *
fettle_text_source_head_note (FettleTableSource *source, guint column, guint line)
{
  FettleTextSource *self = FETTLE_TEXT_SOURCE (source);

  return self->units != NULL ? self->units[column] : NULL;
}

static void
fettle_text_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_text_source_columns;
  iface->n_rows = fettle_text_source_n_rows;
  iface->dup_text = fettle_text_source_dup_text;
  iface->editable = fettle_text_source_editable;
  iface->commit = fettle_text_source_commit;
  iface->describe = fettle_text_source_describe;
  iface->get_key = fettle_text_source_get_key;
  iface->find = fettle_text_source_find;
  iface->head_note = fettle_text_source_head_note;
  iface->n_head_notes = 1;
}

static void
fettle_text_source_finalize (GObject *object)
{
  FettleTextSource *self = FETTLE_TEXT_SOURCE (object);

  g_array_unref (self->rows);
  g_hash_table_unref (self->places);
  g_free (self->columns);
  g_free (self->units);

  G_OBJECT_CLASS (fettle_text_source_parent_class)->finalize (object);
}

static void
fettle_text_source_class_init (FettleTextSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_text_source_finalize;
}

static void
fettle_text_source_init (FettleTextSource *self)
{
  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  g_array_set_clear_func (self->rows, clear_row);
  self->places = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
}

/**
 * fettle_text_source_new:
 * @columns: (array length=n_columns): copied, but for their translated titles
 * @n_columns: how many
 *
 * Returns: (transfer full): a table without rows
 */
FettleTextSource *
fettle_text_source_new (const FettleTableColumn *columns, guint n_columns)
{
  FettleTextSource *self = g_object_new (FETTLE_TYPE_TEXT_SOURCE, NULL);

  self->columns = g_memdup2 (columns, n_columns * sizeof *columns);
  self->n_columns = n_columns;
  return self;
}

/**
 * fettle_text_source_set_units:
 * @self: a source that is not shown yet
 * @units: (array): translated, of each column, "" for none; the array is copied
 *
 * Shows below each heading in what its numbers are.
 */
void
fettle_text_source_set_units (FettleTextSource *self, const char *const *units)
{
  g_free (self->units);
  self->units = g_memdup2 (units, self->n_columns * sizeof *units);
}

/* Takes all rows away; nothing is shown of it before fettle_text_source_show(). */
void
fettle_text_source_clear (FettleTextSource *self)
{
  g_array_set_size (self->rows, 0);
  g_hash_table_remove_all (self->places);
}

/**
 * fettle_text_source_add:
 * @self: a source
 * @key: what the row is known by, so that who looked at it goes on looking at it; not 0
 * @tone: of all its cells
 * @cells: (array): as many as there are columns; copied, %NULL for an empty one
 *
 * Adds a row at the end.
 */
void
fettle_text_source_add (FettleTextSource *self, gint64 key, FettleTableTone tone, const char *const *cells)
{
  Row row = { key, tone, g_new0 (char *, self->n_columns + 1) };

  for (guint i = 0; i < self->n_columns; i++)
    row.cells[i] = g_strdup (cells[i] != NULL ? cells[i] : "");
  g_array_append_val (self->rows, row);
  if (!g_hash_table_contains (self->places, &key))
    g_hash_table_insert (self->places, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (self->rows->len));
}

/* The rows are complete. */
void
fettle_text_source_show (FettleTextSource *self)
{
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}
