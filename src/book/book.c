/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book.h"

#include <glib/gi18n-lib.h>

#include "book-attach-private.h"
#include "book-record.h"
#include "book-rules-private.h"
#include "book-schema.h"
#include "book-search-private.h"

struct _Book
{
  Store *store;
};

static StoreTable tables[BOOK_N_RECORDS];
static guint      table_of[BOOK_N_RECORDS + 1];

static const StoreDerived derived[] = {
  { "search", book_search_rebuild },
};

static StoreProfile profile = {
  .application_id = BOOK_APPLICATION_ID,
  .n_migrations = BOOK_N_MIGRATIONS,
  .tables = tables,
  .n_tables = BOOK_N_RECORDS,
  .derived = derived,
  .n_derived = G_N_ELEMENTS (derived),
  .begin = book_rules_begin,
  .row = book_rules_row,
  .finish = book_rules_finish,
  .end = book_rules_end,
  .contents = book_contents_tell,
};

/**
 * book_profile:
 *
 * Returns: what the store must know about books
 */
const StoreProfile *
book_profile (void)
{
  static gsize ready = 0;

  if (g_once_init_enter (&ready))
    {
      for (guint i = 0; i < BOOK_N_RECORDS; i++)
        {
          const BookRecord *record = book_record_in_order (i);

          tables[i] = (StoreTable) { .name = record->name, .never_undo = record->lasting };
          table_of[record->id] = i;
        }
      /* Translators: what such a file is called in sentences such as 'This is not a Fettle book.' */
      profile.kind = _("a Fettle book");
      profile.migrations = book_schema_migrations ();
      g_once_init_leave (&ready, 1);
    }
  return &profile;
}

/**
 * book_record_of_table:
 * @table: index of a journaled table
 *
 * Returns: its description
 */
const BookRecord *
book_record_of_table (guint table)
{
  return book_record_in_order (table);
}

/**
 * book_table_of_record:
 * @record: a description
 *
 * Returns: the index of its journaled table
 */
guint
book_table_of_record (const BookRecord *record)
{
  book_profile ();
  return table_of[record->id];
}

static Book *
book_new (Store *store)
{
  Book *book;

  if (store == NULL)
    return NULL;
  book = g_new0 (Book, 1);
  book->store = store;
  return book;
}

/**
 * book_create:
 * @path: where; nothing may be there
 * @options: (nullable): %NULL for the defaults
 * @error: return location
 *
 * Returns: (transfer full) (nullable): an empty book, open
 */
Book *
book_create (const char *path, const StoreOptions *options, GError **error)
{
  return book_new (store_create (path, book_profile (), options, error));
}

/**
 * book_open:
 * @path: an existing book
 * @options: (nullable): %NULL for the defaults
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the book, or %NULL with a sentence why not
 */
Book *
book_open (const char *path, const StoreOptions *options, GError **error)
{
  return book_new (store_open (path, book_profile (), options, error));
}

/**
 * book_close:
 * @book: (transfer full): a book without readers, watches or writes under way
 * @error: return location
 *
 * Returns: whether everything was brought into the one file
 */
gboolean
book_close (Book *book, GError **error)
{
  Store *store = g_steal_pointer (&book->store);

  g_free (book);
  return store_close (store, error);
}

/**
 * book_free:
 * @book: (transfer full) (nullable): as for book_close()
 *
 * Closes, for g_autoptr(); nobody hears of a failed last checkpoint, and nothing is lost by it.
 */
void
book_free (Book *book)
{
  if (book == NULL)
    return;
  store_free (book->store);
  g_free (book);
}

/**
 * book_get_store:
 * @book: a book
 *
 * Returns: (transfer none): its file
 */
Store *
book_get_store (Book *book)
{
  return book->store;
}

/**
 * book_get_path:
 * @book: a book
 *
 * Returns: where its file is
 */
const char *
book_get_path (Book *book)
{
  return store_get_path (book->store);
}

static gboolean
read_text (StoreDb *db, StoreStatement *statement, char **text, GError **error)
{
  const char *what = _("The book could not be read");
  gboolean found;

  *text = NULL;
  if (!store_db_next (db, statement, what, &found, error))
    return FALSE;
  if (found)
    *text = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  return store_db_has_texts (db, what, error);
}

/**
 * book_person_name_read:
 * @db: any connection
 * @person: key of a person
 * @name: (out) (transfer full) (nullable): the full name; %NULL if none is kept
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_person_name_read (StoreDb *db, gint64 person, char **name, GError **error)
{
  static const char sql[] = "SELECT name FROM person_name WHERE person = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  *name = NULL;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, person);
  return read_text (db, statement, name, error);
}

/**
 * book_person_name_set:
 * @action: an action
 * @person: key of a person
 * @name: (nullable): the full name; %NULL erases it, for good
 * @error: return location
 *
 * Names are kept outside the journal: neither history nor undo knows them.
 *
 * Returns: whether it is set
 */
gboolean
book_person_name_set (StoreAction *action, gint64 person, const char *name, GError **error)
{
  static const char set[] = "INSERT INTO person_name (person, name) VALUES (?1, ?2) "
                            "ON CONFLICT (person) DO UPDATE SET name = ?2";
  static const char erase[] = "DELETE FROM person_name WHERE person = ?1";
  StoreDb *db = store_action_db (action);
  g_autoptr(StoreStatement) statement = NULL;

  if (name != NULL)
    {
      const BookValue value = book_value_text (name, -1);

      if (!book_value_check (book_record (BOOK_RECORD_PERSON)->kept, &value, error))
        return FALSE;
    }
  statement = store_db_statement (db, name != NULL ? set : erase, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, person);
  if (name != NULL)
    sqlite3_bind_text (statement, 2, name, -1, SQLITE_STATIC);
  store_action_keep (action);
  return store_db_run (db, statement, _("The name could not be stored"), error);
}

/**
 * book_setting_read:
 * @db: any connection
 * @name: of the setting
 * @value: (out) (transfer full) (nullable): its value; %NULL if it is not set
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_setting_read (StoreDb *db, const char *name, char **value, GError **error)
{
  static const char sql[] = "SELECT value FROM setting WHERE name = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  *value = NULL;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, name, -1, SQLITE_STATIC);
  return read_text (db, statement, value, error);
}

/**
 * book_setting_write:
 * @action: an action
 * @name: of the setting
 * @value: (nullable): its value; %NULL empties it
 * @error: return location
 *
 * Returns: whether it is set
 */
gboolean
book_setting_write (StoreAction *action, const char *name, const char *value, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_SETTING);
  const BookValue values[] = { book_value_text (name, -1), book_value_text (value, -1) };
  gint64 id;

  if (!book_record_find_id (store_action_db (action), record, values, &id, error))
    return FALSE;
  return id != 0 ? book_record_update (action, record, id, values, error)
                 : book_record_insert (action, record, values, NULL, error);
}
