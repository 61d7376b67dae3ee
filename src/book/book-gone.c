/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-gone-private.h"

#include "book-rules.h"
#include "store-history.h"

/*
 * Method. A record that is gone was deleted by the newest action that touched it, and that action's rows say what its key
 * was; what the key refers to may be gone as well, in the same action even. So an action that has to be read for one row
 * is read once, and all rows that it made or deleted are remembered.
 */

#define REMEMBERED_MOST 100000 /* rows of one action whose keys are remembered; parents come first */

struct _BookGone
{
  StoreDb    *db;
  GHashTable *rows;    /* gint64 * to GoneRow */
  GHashTable *actions; /* gint64 *: read already */
};

typedef struct
{
  const BookRecord *record;
  BookValue         key[BOOK_MAX_KEY]; /* texts owned */
} GoneRow;

static void
gone_row_free (gpointer data)
{
  GoneRow *row = data;

  for (guint i = 0; i < row->record->n_key; i++)
    if (row->key[i].type == SQLITE_TEXT)
      g_free ((char *) row->key[i].text);
  g_free (row);
}

/*
 * book_gone_new:
 * @db: any connection; kept
 *
 * Returns: (transfer full): nothing remembered yet
 */
BookGone *
book_gone_new (StoreDb *db)
{
  BookGone *gone = g_new0 (BookGone, 1);

  gone->db = db;
  gone->rows = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, gone_row_free);
  gone->actions = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  return gone;
}

void
book_gone_free (BookGone *gone)
{
  if (gone == NULL)
    return;
  g_hash_table_unref (gone->rows);
  g_hash_table_unref (gone->actions);
  g_free (gone);
}

/* The key that a row of the journal says; what an update left alone is empty. */
static void
take_key (const BookRecord *record, const StoreValue *columns, guint n_columns, BookValue *key)
{
  for (guint i = 0; i < record->n_key; i++)
    {
      guint column = (guint) book_field_index (record, record->key[i]) + 1;

      key[i] = column < n_columns && columns[column].type != STORE_UNCHANGED ? columns[column] : BOOK_VALUE_EMPTY;
    }
}

static gboolean
remember_key (const StoreRow *row, gpointer data)
{
  BookGone *gone = data;
  GoneRow *key;

  if (row->op == STORE_UPDATE)
    return TRUE;
  if (g_hash_table_size (gone->rows) >= REMEMBERED_MOST)
    return FALSE;
  key = g_new0 (GoneRow, 1);
  key->record = book_record_of_table (row->table);
  take_key (key->record, row->op == STORE_DELETE ? row->before : row->after, row->n_columns, key->key);
  for (guint i = 0; i < key->record->n_key; i++)
    if (key->key[i].type == SQLITE_TEXT)
      key->key[i].text = g_strndup (key->key[i].text, key->key[i].length);
  g_hash_table_insert (gone->rows, g_memdup2 (&row->id, sizeof row->id), key);
  return TRUE;
}

/*
 * book_gone_read:
 * @gone: what is remembered so far
 * @action: key of an action
 * @error: return location
 *
 * Remembers the keys of the rows that @action made or deleted.
 *
 * Returns: whether the journal could be asked; %STORE_ERROR_ERASED where the action was erased
 */
gboolean
book_gone_read (BookGone *gone, gint64 action, GError **error)
{
  if (!g_hash_table_add (gone->actions, g_memdup2 (&action, sizeof action)))
    return TRUE;
  return store_history_rows (gone->db, action, -1, 0, remember_key, gone, error);
}

/* Reads the newest action that touched a record; without an answer the record stays without a name: no error to pass on. */
static void
read_last_action (BookGone *gone, const BookRecord *record, gint64 id)
{
  const StoreHistoryQuery query = { .table = (int) book_table_of_record (record), .id = id, .most = 1 };
  g_autoptr(GPtrArray) last = store_history_list (gone->db, &query, NULL);

  if (last != NULL && last->len > 0 && !book_gone_read (gone, ((StoreActionInfo *) last->pdata[0])->id, NULL))
    g_debug ("An action that changed a record that is gone could not be read");
}

/*
 * book_gone_find:
 * @gone: what is remembered
 * @record: what kind
 * @id: which
 * @key: (out) (array): its key; texts are borrowed from @gone
 *
 * Returns: whether the journal knows the key of a record that is gone
 */
gboolean
book_gone_find (BookGone *gone, const BookRecord *record, gint64 id, BookValue *key)
{
  const GoneRow *row = g_hash_table_lookup (gone->rows, &id);

  if (row == NULL && g_hash_table_size (gone->rows) < REMEMBERED_MOST)
    {
      read_last_action (gone, record, id);
      row = g_hash_table_lookup (gone->rows, &id);
    }
  if (row == NULL || row->record != record)
    return FALSE;
  for (guint i = 0; i < row->record->n_key; i++)
    key[i] = row->key[i];
  return TRUE;
}

/*
 * book_gone_key_text:
 * @gone: what is remembered
 * @record: what kind
 * @id: which
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the key of a record as it is now, else as it was last, as shown; "" if there was
 *   never such a record, or what was known of it is erased; %NULL if the book could not be asked
 */
char *
book_gone_key_text (BookGone *gone, const BookRecord *record, gint64 id, GError **error)
{
  g_autofree char *key = book_record_key_text (gone->db, record, id, BOOK_KEY_TEXT_SHOWN, error);
  BookValue last[BOOK_MAX_KEY];

  if (key == NULL || *key != '\0' || !book_gone_find (gone, record, id, last))
    return g_steal_pointer (&key);
  return book_key_text (gone->db, gone, record, last, BOOK_KEY_TEXT_SHOWN, error);
}
