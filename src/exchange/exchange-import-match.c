/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows of files against rows of the book, by visible key. All rows of a table stand in one hash table by their key; the
 * rows of the book are then walked once, or, where the file is small beside the book, looked up one by one.
 */
#include "config.h"

#include "exchange-import-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define FEW_ROWS 2000
#define FEW_SHARE 20 /* a file with less than this part of the book's rows is looked up row by row */

static guint64
hash_value (guint64 hash, const BookValue *value, const ExchangeText *text)
{
  guint64 bits = 0;

  if (value->type == SQLITE_INTEGER)
    bits = (guint64) value->integer;
  else if (value->type == SQLITE_FLOAT)
    memcpy (&bits, &value->real, sizeof bits);
  else if (value->type == SQLITE_TEXT)
    bits = (guint64) GPOINTER_TO_SIZE (text);
  return exchange_mix (hash ^ bits) + (guint64) value->type;
}

static const ExchangeText *
text_of (const ExchangeTable *table, guint row, guint field)
{
  return table->bits[(gsize) row * table->record->n_fields + field].text;
}

/* A key field whose column is absent is empty, or what the description puts there. */
static BookValue
key_value (const ExchangeTable *table, guint row, guint field)
{
  BookValue value = exchange_table_value (table, row, field);

  return value.type == STORE_UNCHANGED ? BOOK_VALUE_EMPTY : value;
}

static guint64
hash_row (const ExchangeTable *table, guint row)
{
  guint64 hash = 0;

  for (guint k = 0; k < table->record->n_key; k++)
    {
      guint f = (guint) table->key_fields[k];
      BookValue value = key_value (table, row, f);

      hash = hash_value (hash, &value, value.type == SQLITE_TEXT ? text_of (table, row, f) : NULL);
    }
  return hash;
}

static gboolean
has_key (const ExchangeTable *table, guint row, const BookValue *key)
{
  for (guint k = 0; k < table->record->n_key; k++)
    {
      BookValue value = key_value (table, row, (guint) table->key_fields[k]);

      if (value.type != key[k].type || !store_value_equal (&value, &key[k]))
        return FALSE;
    }
  return TRUE;
}

/* The bucket of a key: its row plus one, or a free one. */
static guint32 *
find_bucket (const ExchangeTable *table, guint64 hash, const BookValue *key)
{
  gsize at = hash & (table->n_buckets - 1);

  while (table->buckets[at] != 0 && !has_key (table, table->buckets[at] - 1, key))
    at = (at + 1) & (table->n_buckets - 1);
  return &table->buckets[at];
}

static void
reject_twice (ExchangeImport *import, ExchangeTable *table, guint row, guint first)
{
  const ExchangeSource *source = exchange_table_source (table, first);
  g_autofree char *what = g_strdup_printf (_("the row has the same key as the one at %s:%u: take one of them out"),
                                           source->path, table->lines[first]);

  exchange_import_reject (import, table, row, table->record->fields[table->key_fields[table->record->n_key - 1]].name,
                          what);
}

static void
fill_buckets (ExchangeImport *import, ExchangeTable *table)
{
  BookValue key[BOOK_MAX_KEY] = { 0 };

  table->n_buckets = 16;
  while (table->n_buckets < (gsize) table->n_rows * 2)
    table->n_buckets *= 2;
  table->buckets = g_new0 (guint32, table->n_buckets);
  for (guint row = 0; row < table->n_rows; row++)
    {
      guint32 *bucket;

      if (table->states[row] == EXCHANGE_ROW_REJECTED)
        continue;
      for (guint k = 0; k < table->record->n_key; k++)
        key[k] = key_value (table, row, (guint) table->key_fields[k]);
      bucket = find_bucket (table, hash_row (table, row), key);
      if (*bucket != 0)
        reject_twice (import, table, row, *bucket - 1);
      else
        *bucket = row + 1;
    }
}

/* What the book has, in the words of files; NULL where it cannot be said. */
static char *
print_old (ExchangeImport *import, const BookField *field, const BookValue *old)
{
  if (field->kind == BOOK_KIND_REFERENCE && old->type == SQLITE_INTEGER)
    return book_record_key_text (import->db, book_record (field->refers), old->integer, BOOK_KEY_TEXT_SHOWN, NULL);
  if (field->kind != BOOK_KIND_REFERENCE && field->kind != BOOK_KIND_ANY)
    return book_value_print (field, old);
  return NULL;
}

static void
reject_different (ExchangeImport *import, ExchangeTable *table, guint row, guint f, const BookValue *old)
{
  const BookField *field = &table->record->fields[f];
  g_autofree char *old_text = print_old (import, field, old);
  g_autofree char *new_text = exchange_table_print (import->db, table, row, f);
  g_autofree char *what = NULL;

  if (table->record->lasting)
    what = g_strdup_printf (
        _("the book has '%s' here, the file '%s'; such a row is never changed: add a new one that withdraws it"),
        old_text != NULL ? old_text : "", new_text);
  else
    what = g_strdup_printf (_("the book has '%s' here, the file '%s': import with --update to change it"),
                            old_text != NULL ? old_text : "", new_text);
  exchange_import_reject (import, table, row, field->name, what);
}

static gboolean
compare_kept (ExchangeImport *import, ExchangeTable *table, guint row, gboolean *differs, GError **error)
{
  const ExchangeText *text = table->kept != NULL ? table->kept[row] : NULL;
  g_autofree char *old = NULL;
  g_autofree char *what = NULL;

  *differs = FALSE;
  if (text == NULL)
    return TRUE;
  if (!book_person_name_read (import->db, table->ids[row], &old, error))
    return FALSE;
  if (g_strcmp0 (old != NULL ? old : "", text->text) == 0)
    return TRUE;
  *differs = TRUE;
  if (import->options->update || old == NULL)
    {
      if (import->rows != NULL)
        import->rows->changed (row, table->record->kept, old != NULL ? old : "", import->rows->data);
      return TRUE;
    }
  what = g_strdup_printf (_("the book has '%s' here, the file '%s': import with --update to change it"), old,
                          text->text);
  exchange_import_reject (import, table, row, table->record->kept->name, what);
  return TRUE;
}

/* A row of the file and the row of the book that has its key. */
static gboolean
compare_row (ExchangeImport *import, ExchangeTable *table, guint row, gint64 id, const BookValue *values,
             GError **error)
{
  const BookRecord *record = table->record;
  gboolean differs;

  table->ids[row] = id;
  table->states[row] = EXCHANGE_ROW_EQUAL;
  for (guint f = 0; f < record->n_fields; f++)
    {
      gsize at = (gsize) row * record->n_fields + f;
      BookValue value = exchange_table_value (table, row, f);

      if (value.type == STORE_UNCHANGED
          || (value.type == values[f].type && store_value_equal (&value, &values[f])
              && table->types[at] != EXCHANGE_CELL_REFERENCE))
        continue;
      if (table->types[at] == EXCHANGE_CELL_REFERENCE)
        {
          /* One to its own record may name a row that is still to be written; then the two differ. */
          if (!exchange_import_resolve (import, &record->fields[f], table->bits[at].text, error))
            return FALSE;
          value = exchange_table_value (table, row, f);
          if (value.type == values[f].type && value.type == SQLITE_INTEGER && value.integer == values[f].integer)
            continue;
        }
      if (!import->options->update || record->lasting)
        {
          reject_different (import, table, row, f, &values[f]);
          continue;
        }
      if (table->states[row] == EXCHANGE_ROW_EQUAL)
        table->states[row] = EXCHANGE_ROW_CHANGES;
      if (import->rows != NULL)
        {
          g_autofree char *old_text = print_old (import, &record->fields[f], &values[f]);

          import->rows->changed (row, &record->fields[f], old_text != NULL ? old_text : "", import->rows->data);
        }
    }
  if (!compare_kept (import, table, row, &differs, error))
    return FALSE;
  if (differs && table->states[row] == EXCHANGE_ROW_EQUAL)
    table->states[row] = EXCHANGE_ROW_CHANGES;
  return TRUE;
}

typedef struct
{
  ExchangeImport *import;
  ExchangeTable  *table;
  guint           n;
} Walk;

/* One row of the book: does a row of the file have its key? */
static gboolean
on_book_row (const BookRow *book_row, gpointer data, GError **error)
{
  Walk *walk = data;
  const ExchangeTable *table = walk->table;
  BookValue key[BOOK_MAX_KEY];
  guint64 hash = 0;
  guint32 row;

  if (++walk->n % 65536 == 0 && !exchange_import_tell (walk->import, error))
    return FALSE;
  for (guint k = 0; k < table->record->n_key; k++)
    {
      const ExchangeText *text = NULL;

      key[k] = book_row->values[table->key_fields[k]];
      if (key[k].type == SQLITE_TEXT)
        {
          text = exchange_pool_find (walk->import->texts, key[k].text, key[k].length);
          if (text == NULL)
            return TRUE; /* no row of any file holds this text */
        }
      hash = hash_value (hash, &key[k], text);
    }
  row = *find_bucket (table, hash, key);
  return row == 0 || compare_row (walk->import, walk->table, row - 1, book_row->id, book_row->values, error);
}

static gboolean
look_up_rows (ExchangeImport *import, ExchangeTable *table, GError **error)
{
  BookValue key[BOOK_MAX_KEY] = { 0 };

  for (guint row = 0; row < table->n_rows; row++)
    {
      g_autoptr(BookRow) found = NULL;
      gint64 id;

      if (table->states[row] == EXCHANGE_ROW_REJECTED)
        continue;
      for (guint k = 0; k < table->record->n_key; k++)
        key[k] = key_value (table, row, (guint) table->key_fields[k]);
      if (!book_record_find_id (import->db, table->record, key, &id, error))
        return FALSE;
      if (id == 0)
        continue;
      found = book_record_read (import->db, table->record, id, error);
      if (found == NULL || !compare_row (import, table, row, id, found->values, error))
        return FALSE;
    }
  return TRUE;
}

/**
 * exchange_import_match:
 * @import: the import, in its second half
 * @table: rows whose references are resolved
 *
 * Finds the row of the book for each row, and says whether it is new, equal or changes it. Rows with the key of another
 * row of the file, and without @update those that differ from the book, are noted as wrong.
 *
 * Returns: %FALSE when the book cannot be read or the import was cancelled
 */
gboolean
exchange_import_match (ExchangeImport *import, ExchangeTable *table, GError **error)
{
  Walk walk = { import, table, 0 };
  gint64 count;

  for (guint f = 0; f < table->record->n_fields && import->rows != NULL; f++)
    if (exchange_table_source (table, 0)->plans[f].is_ordinal && !exchange_table_source (table, 0)->plans[f].is_present)
      return exchange_import_number (import, table, f, error);
  fill_buckets (import, table);
  if (!book_record_count (import->db, table->record, &count, error))
    return FALSE;
  if (count == 0)
    return TRUE;
  if (table->n_rows <= FEW_ROWS && table->n_rows < count / FEW_SHARE)
    return look_up_rows (import, table, error);
  return book_record_each (import->db, table->record, on_book_row, &walk, error);
}
