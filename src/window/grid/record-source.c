/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "record-source-private.h"

#include <glib/gi18n.h>

#include "book-form.h"

static void fettle_record_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleRecordSource, fettle_record_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_record_source_table_init))

/* ---- rows ---- */

static const FettleRecordRow *
row_at (FettleRecordSource *self, guint row)
{
  return self->rows != NULL && row < self->rows->len ? self->rows->pdata[row] : NULL;
}

/* A row that is not in the book is known by its name: below 0, so that it is never a record's key. */
static gint64
key_of (const FettleRecordRow *row)
{
  return row->key != 0 ? row->key : -1 - (gint64) g_str_hash (row->name);
}

static const FettleRecordRow *
row_of_key (FettleRecordSource *self, gint64 key)
{
  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (key_of (self->rows->pdata[i]) == key)
      return self->rows->pdata[i];
  return NULL;
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_record_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  *n_columns = self->n_columns;
  return self->columns;
}

static guint
fettle_record_source_n_rows (FettleTableSource *source)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  return self->rows != NULL ? self->rows->len : 0;
}

static char *
fettle_record_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);
  g_autofree char *draft = NULL;
  const char *text;

  *tone = FETTLE_TONE_INK;
  *pending = FALSE;
  if (at == NULL)
    return g_strdup ("");
  if (at->key != 0)
    {
      draft = fettle_record_draft_name (self, at, "typed", column);
      text = g_hash_table_lookup (self->pending, draft);
      *pending = text != NULL;
      return text != NULL ? fettle_record_shown_text (self, column, text) : g_strdup (at->shown[column]);
    }
  text = fettle_record_kept (self, at, "new", column);
  *pending = g_hash_table_contains (self->storing, at->name);
  *tone = text != NULL ? FETTLE_TONE_TYPED : FETTLE_TONE_FAINT;
  if (text == NULL && *at->shown[column] != '\0')
    return g_strdup (at->shown[column]);
  return fettle_record_shown_text (self, column, fettle_record_new_text (self, at, column));
}

static gboolean
fettle_record_source_editable (FettleTableSource *source, guint row, guint column)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);

  return at != NULL && !self->shapes[column].fixed && !(at->key == 0 && g_hash_table_contains (self->storing, at->name));
}

static char *
fettle_record_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);
  g_autofree char *read = NULL;
  char *refused = NULL;

  if (at == NULL)
    return g_strdup (_("This row is no longer in the book."));
  read = fettle_record_read_cell (self, column, text, &refused);
  if (read == NULL)
    return refused;
  if (at->key == 0)
    {
      fettle_record_commit_new (self, at, column, read);
      return NULL;
    }
  if (*read == '\0' && self->fields[column]->required)
    return g_strdup_printf (_("'%s' cannot be empty: Escape leaves the cell as it was."), book_field_label (self->fields[column]));
  fettle_record_commit_stored (self, at, column, read);
  return NULL;
}

static char *
fettle_record_source_describe (FettleTableSource *source, guint row, guint column)
{
  char *words = fettle_record_source_dup_words (FETTLE_RECORD_SOURCE (source), row);

  return words != NULL ? words : g_strdup ("");
}

static gint64
fettle_record_source_key_at (FettleTableSource *source, guint row)
{
  const FettleRecordRow *at = row_at (FETTLE_RECORD_SOURCE (source), row);

  return at != NULL ? key_of (at) : 0;
}

static gboolean
fettle_record_source_find_key (FettleTableSource *source, gint64 key, guint *row)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (key_of (self->rows->pdata[i]) == key)
      {
        *row = i;
        return TRUE;
      }
  return FALSE;
}

static void
fettle_record_source_keep_typed (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *row = row_of_key (self, key);

  if (row != NULL)
    fettle_record_keep (self, row, "typed", column, text);
}

static char *
fettle_record_source_dup_typed (FettleTableSource *source, gint64 key, guint column)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *row = row_of_key (self, key);

  return row != NULL ? g_strdup (fettle_record_kept (self, row, "typed", column)) : NULL;
}

static void
fettle_record_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_record_source_columns;
  iface->n_rows = fettle_record_source_n_rows;
  iface->dup_text = fettle_record_source_dup_text;
  iface->editable = fettle_record_source_editable;
  iface->commit = fettle_record_source_commit;
  iface->describe = fettle_record_source_describe;
  iface->get_key = fettle_record_source_key_at;
  iface->find = fettle_record_source_find_key;
  iface->keep_typed = fettle_record_source_keep_typed;
  iface->dup_typed = fettle_record_source_dup_typed;
}

/* ---- the object ---- */

static void
fettle_record_source_finalize (GObject *object)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (object);

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_hash_table_unref (self->pending);
  g_hash_table_unref (self->storing);
  g_hash_table_unref (self->refers);
  g_hash_table_unref (self->presets);
  g_hash_table_unref (self->offers);
  for (guint i = 0; i < self->n_columns; i++)
    g_free ((char *) self->columns[i].title);
  g_free (self->columns);
  g_free (self->shapes);
  g_free (self->fields);
  g_free (self->place);
  g_object_unref (self->drafts);
  g_object_unref (self->sitting);

  G_OBJECT_CLASS (fettle_record_source_parent_class)->finalize (object);
}

static void
fettle_record_source_class_init (FettleRecordSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_record_source_finalize;

  g_signal_new ("stored", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
free_offers (gpointer data)
{
  g_ptr_array_unref (data);
}

static void
fettle_record_source_init (FettleRecordSource *self)
{
  self->pending = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->storing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->refers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->presets = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->offers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_offers);
  self->place = g_strdup ("");
}

static char *
title_of (const BookField *field)
{
  const char *unit = book_field_unit (field);

  return unit != NULL && *unit != '\0' ? g_strdup_printf ("%s, %s", book_field_label (field), unit)
                                       : g_strdup (book_field_label (field));
}

/**
 * fettle_record_source_new:
 * @sitting: whose book
 * @record: what kind
 * @columns: (array length=n_columns): fields shown; copied
 *
 * Returns: (transfer full): a source without rows
 */
FettleRecordSource *
fettle_record_source_new (FettleSitting *sitting, BookRecordId record, const FettleRecordColumn *columns, guint n_columns)
{
  FettleRecordSource *self = g_object_new (FETTLE_TYPE_RECORD_SOURCE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  self->record = book_record (record);
  self->n_columns = n_columns;
  self->shapes = g_memdup2 (columns, n_columns * sizeof *columns);
  self->columns = g_new0 (FettleTableColumn, n_columns);
  self->fields = g_new0 (const BookField *, n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      const BookField *field = book_field_find (self->record, columns[i].field);
      gboolean number = field->kind == BOOK_KIND_INTEGER || field->kind == BOOK_KIND_REAL || field->kind == BOOK_KIND_SHARE
                        || field->kind == BOOK_KIND_MONEY;

      self->fields[i] = field;
      self->columns[i]
          = (FettleTableColumn){ title_of (field), columns[i].letters, number, columns[i].grows, columns[i].least_width };
    }
  return self;
}

void
fettle_record_source_refer (FettleRecordSource *self, const char *field, gint64 key)
{
  g_hash_table_insert (self->refers, g_strdup (field), g_memdup2 (&key, sizeof key));
}

void
fettle_record_source_preset (FettleRecordSource *self, const char *field, const char *text)
{
  if (text != NULL)
    g_hash_table_insert (self->presets, g_strdup (field), g_strdup (text));
  else
    g_hash_table_remove (self->presets, field);
}

void
fettle_record_source_offer (FettleRecordSource *self, const char *field, GPtrArray *options)
{
  g_hash_table_insert (self->offers, g_strdup (field), options);
}

static gboolean
same_rows (GPtrArray *a, GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (key_of (a->pdata[i]) != key_of (b->pdata[i]))
      return FALSE;
  return TRUE;
}

/**
 * fettle_record_source_take:
 * @self: a source
 * @place: what rows these are, as 'CY': rows that are not in the book yet keep their typing by it
 * @rows: (transfer full) (element-type FettleRecordRow): in order
 *
 * Shows other rows.
 */
void
fettle_record_source_take (FettleRecordSource *self, const char *place, GPtrArray *rows)
{
  gboolean same = same_rows (self->rows, rows) && g_str_equal (self->place, place);

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->rows = rows;
  g_free (self->place);
  self->place = g_strdup (place);
  if (same)
    fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  else
    fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

const BookRecord *
fettle_record_source_get_record (FettleRecordSource *self)
{
  return self->record;
}

/**
 * fettle_record_source_get_key:
 * @self: a source
 * @row: which row
 *
 * Returns: key of its record; 0: it is not in the book, or there is no such row
 */
gint64
fettle_record_source_get_key (FettleRecordSource *self, guint row)
{
  const FettleRecordRow *at = row_at (self, row);

  return at != NULL ? at->key : 0;
}

/**
 * fettle_record_source_get_reference:
 * @self: a source
 * @row: which row
 * @field: a reference among the columns
 *
 * Returns: key of what it refers to; 0: nothing
 */
gint64
fettle_record_source_get_reference (FettleRecordSource *self, guint row, const char *field)
{
  const FettleRecordRow *at = row_at (self, row);

  for (guint i = 0; at != NULL && i < self->n_columns; i++)
    if (g_str_equal (self->shapes[i].field, field))
      return at->refers[i];
  return 0;
}

/**
 * fettle_record_source_dup_words:
 * @self: a source
 * @row: which row
 *
 * Returns: (transfer full) (nullable): the row in words; %NULL when there is no such row
 */
char *
fettle_record_source_dup_words (FettleRecordSource *self, guint row)
{
  const FettleRecordRow *at = row_at (self, row);
  GString *words;

  if (at == NULL)
    return NULL;
  words = g_string_new (at->key == 0 ? _("New row") : NULL);
  for (guint i = 0; i < self->n_columns; i++)
    {
      FettleTableTone tone;
      gboolean pending;
      g_autofree char *text = fettle_record_source_dup_text (FETTLE_TABLE_SOURCE (self), row, i, &tone, &pending);

      if (*text != '\0')
        g_string_append_printf (words, "%s%s %s", words->len > 0 ? ", " : "", self->columns[i].title, text);
    }
  return g_string_free (words, FALSE);
}

/**
 * fettle_record_source_has_typed:
 * @self: a source
 *
 * Returns: whether something is typed in records of this kind that is not stored, shown or not
 */
gboolean
fettle_record_source_has_typed (FettleRecordSource *self)
{
  g_auto (GStrv) names = fettle_drafts_list (self->drafts);
  g_autofree char *prefix = g_strdup_printf ("grid-%s-", self->record->name);

  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_has_prefix (names[i], prefix))
      return TRUE;
  return FALSE;
}
