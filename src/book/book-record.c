/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-record.h"

#include <glib/gi18n-lib.h>

#include "book-record-private.h"
#include "book-sql-private.h"

/* Reading, inserting and updating by the description; deleting is in book-delete.c, key texts in book-key-text.c. */

static void
read_row (sqlite3_stmt *statement, BookRow *row)
{
  row->id = sqlite3_column_int64 (statement, 0);
  for (guint i = 0; i < row->record->n_fields; i++)
    store_value_read (statement, (int) i + 1, &row->values[i]);
}

/* With texts of its own, each with a zero byte after it. */
static BookRow *
copy_row (const BookRow *row)
{
  BookRow *copy = g_new0 (BookRow, 1);

  copy->record = row->record;
  copy->id = row->id;
  copy->values = g_memdup2 (row->values, row->record->n_fields * sizeof *row->values);
  for (guint i = 0; i < row->record->n_fields; i++)
    if (row->values[i].type == SQLITE_TEXT)
      copy->values[i].text = g_strndup (row->values[i].text, row->values[i].length);
  return copy;
}

/**
 * book_record_read:
 * @db: any connection
 * @record: what kind
 * @id: which
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the record; %NULL with %BOOK_ERROR_MISSING if there is none
 */
BookRow *
book_record_read (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, BOOK_SQL_READ), error);
  const char *what = _("The record could not be read");
  BookValue values[BOOK_MAX_FIELDS];
  BookRow row = { .record = record, .values = values };
  gboolean found;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, id);
  if (!store_db_next (db, statement, what, &found, error))
    return NULL;
  if (!found)
    {
      g_set_error (error, BOOK_ERROR, BOOK_ERROR_MISSING, _("The record is no longer in the book: look again. (%s)"),
                   book_record_label (record));
      return NULL;
    }

  read_row (statement, &row);
  if (!store_db_has_texts (db, what, error))
    return NULL;
  return copy_row (&row);
}

/**
 * book_row_free:
 * @row: (transfer full) (nullable): from book_record_read()
 */
void
book_row_free (BookRow *row)
{
  if (row == NULL)
    return;
  for (guint i = 0; i < row->record->n_fields; i++)
    if (row->values[i].type == SQLITE_TEXT)
      g_free ((char *) row->values[i].text);
  g_free (row->values);
  g_free (row);
}

/**
 * book_row_get:
 * @row: a row
 * @field: name of one of its fields
 *
 * Returns: its value
 */
const BookValue *
book_row_get (const BookRow *row, const char *field)
{
  int i = book_field_index (row->record, field);

  g_assert (i >= 0);
  return &row->values[i];
}

static gboolean
each (StoreDb *db, const BookRecord *record, BookSql which, BookRowFunc func, gpointer data, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, which), error);
  BookValue values[BOOK_MAX_FIELDS];
  BookRow row = { .record = record, .values = values };
  const char *what = _("The records could not be read");
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (db, statement, what, &more, error)) && more)
    {
      read_row (statement, &row);
      if (!func (&row, data, error))
        return FALSE;
    }
  return ok;
}

/**
 * book_record_each:
 * @db: any connection
 * @record: what kind
 * @func: called for each row, in order of entry; asks for no rows of this kind itself
 * @data: for @func
 * @error: return location
 *
 * Returns: whether all rows were read and @func was content with each
 */
gboolean
book_record_each (StoreDb *db, const BookRecord *record, BookRowFunc func, gpointer data, GError **error)
{
  return each (db, record, BOOK_SQL_EACH, func, data, error);
}

/* Rows whose key names any record: few, and their order is that of texts which only we can write. */
typedef struct
{
  char    *sort;
  BookRow *row;
} SortedRow;

static void
sorted_row_free (gpointer data)
{
  SortedRow *sorted = data;

  g_free (sorted->sort);
  book_row_free (sorted->row);
  g_free (sorted);
}

static int
compare_sorted (gconstpointer a, gconstpointer b)
{
  const SortedRow *const *x = a;
  const SortedRow *const *y = b;

  return strcmp ((*x)->sort, (*y)->sort);
}

static gboolean
collect_row (const BookRow *row, gpointer data, GError **error)
{
  GPtrArray *rows = data;
  SortedRow *sorted = g_new0 (SortedRow, 1);

  sorted->row = copy_row (row);
  g_ptr_array_add (rows, sorted);
  return TRUE;
}

static gboolean
each_sorted_by_text (StoreDb *db, const BookRecord *record, BookRowFunc func, gpointer data, GError **error)
{
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func (sorted_row_free);

  if (!each (db, record, BOOK_SQL_EACH, collect_row, rows, error))
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      SortedRow *sorted = rows->pdata[i];
      g_autofree char *key = book_record_key_text_of (db, record, sorted->row->values, BOOK_KEY_TEXT_EXACT, error);
      int ordinal = record->ordinal != NULL ? book_field_index (record, record->ordinal) : -1;

      if (key == NULL)
        return FALSE;
      /* The ordinal is the last part: of one width, numbers sort as numbers. */
      if (ordinal >= 0 && strrchr (key, '/') != NULL)
        *strrchr (key, '/') = '\0';
      sorted->sort = g_strdup_printf ("%s/%020" G_GINT64_FORMAT, key,
                                      ordinal >= 0 ? sorted->row->values[ordinal].integer : 0);
    }
  g_ptr_array_sort (rows, compare_sorted);
  for (guint i = 0; i < rows->len; i++)
    if (!func (((SortedRow *) rows->pdata[i])->row, data, error))
      return FALSE;
  return TRUE;
}

/**
 * book_record_each_by_key:
 * @db: any connection
 * @record: what kind
 * @func: called for each row; asks for no rows of this kind itself
 * @data: for @func
 * @error: return location
 *
 * As book_record_each(), but by visible key as files show it, part by part: numbers as numbers, texts bytewise.
 *
 * Returns: whether all rows were read and @func was content with each
 */
gboolean
book_record_each_by_key (StoreDb *db, const BookRecord *record, BookRowFunc func, gpointer data, GError **error)
{
  for (guint i = 0; i < record->n_key; i++)
    if (book_field_find (record, record->key[i])->kind == BOOK_KIND_ANY)
      return each_sorted_by_text (db, record, func, data, error);
  return each (db, record, BOOK_SQL_EACH_BY_KEY, func, data, error);
}

/**
 * book_record_count:
 * @db: any connection
 * @record: what kind
 * @count: (out): how many there are
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_record_count (StoreDb *db, const BookRecord *record, gint64 *count, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, BOOK_SQL_COUNT), error);

  return statement != NULL
         && store_db_ask_integer (db, statement, _("The record could not be looked for"), NULL, count, error);
}

/**
 * book_record_count_of:
 * @db: any connection
 * @record: what kind; each record above it is told by a reference
 * @model: key of a model
 * @count: (out): how many there are of it and of no model
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_record_count_of (StoreDb *db, const BookRecord *record, gint64 model, gint64 *count, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, BOOK_SQL_COUNT_OF), error);

  if (statement == NULL)
    return FALSE;
  if (sqlite3_bind_parameter_count (statement) > 0)
    sqlite3_bind_int64 (statement, 1, model);
  return store_db_ask_integer (db, statement, _("The record could not be looked for"), NULL, count, error);
}

/* Asks @which, whose parameters are the key fields, for its one integer. */
static gboolean
ask_by_key (StoreDb *db, const BookRecord *record, BookSql which, const BookValue *key, gint64 *integer, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, which), error);
  const char *what = _("The record could not be looked for");

  *integer = 0;
  if (statement == NULL)
    return FALSE;
  for (guint i = 0; i < record->n_key; i++)
    {
      if (which == BOOK_SQL_ORDINAL && g_strcmp0 (record->key[i], record->ordinal) == 0)
        continue;
      if (!store_value_bind (statement, (int) i + 1, &key[i]))
        return store_db_fail (db, what, error);
    }
  return store_db_ask_integer (db, statement, what, NULL, integer, error);
}

/**
 * book_record_find_id:
 * @db: any connection
 * @record: what kind
 * @key: (array): a value for each key field in order, references as ids
 * @id: (out): which; 0 if there is none
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_record_find_id (StoreDb *db, const BookRecord *record, const BookValue *key, gint64 *id, GError **error)
{
  return ask_by_key (db, record, BOOK_SQL_FIND, key, id, error);
}

/**
 * book_record_next_ordinal:
 * @db: any connection
 * @record: a kind that has an ordinal
 * @key: (array): a value for each key field in order; that of the ordinal does not count
 * @ordinal: (out): one more than the greatest in use; 1 for the first
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_record_next_ordinal (StoreDb *db, const BookRecord *record, const BookValue *key, gint64 *ordinal, GError **error)
{
  g_return_val_if_fail (record->ordinal != NULL, FALSE);

  if (!ask_by_key (db, record, BOOK_SQL_ORDINAL, key, ordinal, error))
    return FALSE;
  *ordinal += 1;
  return TRUE;
}

static gboolean
write_row (StoreAction *action, const BookRecord *record, BookSql which, gint64 id, const BookValue *values,
           GError **error)
{
  StoreDb *db = store_action_db (action);
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, which), error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  for (guint i = 0; i < record->n_fields; i++)
    if (!store_value_bind (statement, (int) i + 2, &values[i]))
      return store_db_fail (db, _("The record could not be stored"), error);
  /* Stepped here, not by store_db_run(): a sentence looked up for each of a million rows costs more than the rules. */
  return sqlite3_step (statement) == SQLITE_DONE || store_db_fail (db, _("The record could not be stored"), error);
}

/**
 * book_record_insert:
 * @action: an action
 * @record: what kind
 * @values: (array): a value for each field in order; none %STORE_UNCHANGED
 * @id: (out) (optional): its key
 * @error: return location
 *
 * The rules are asked when the action commits.
 *
 * Returns: whether it is inserted
 */
gboolean
book_record_insert (StoreAction *action, const BookRecord *record, const BookValue *values, gint64 *id, GError **error)
{
  gint64 key = store_action_new_id (action);

  if (id != NULL)
    *id = key;
  return write_row (action, record, BOOK_SQL_INSERT, key, values, error);
}

/**
 * book_record_update:
 * @action: an action
 * @record: what kind
 * @id: which
 * @values: (array): a value for each field in order; %STORE_UNCHANGED leaves a field alone
 * @error: return location
 *
 * Returns: whether it is updated
 */
gboolean
book_record_update (StoreAction *action, const BookRecord *record, gint64 id, const BookValue *values, GError **error)
{
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, id, error);
  BookValue merged[BOOK_MAX_FIELDS];

  if (row == NULL)
    return FALSE;
  for (guint i = 0; i < record->n_fields; i++)
    merged[i] = values[i].type == STORE_UNCHANGED ? row->values[i] : values[i];
  return write_row (action, record, BOOK_SQL_UPDATE, id, merged, error);
}
