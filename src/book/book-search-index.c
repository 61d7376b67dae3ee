/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-search.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-record-private.h"
#include "book-rules.h"
#include "book-search-private.h"

/*
 * What is searched for is derived in two steps. 'search' has a row for each record with texts: the texts folded, one a
 * line, and what the record itself has of its visible key. 'search_word' is the index of its words (FTS5). The index
 * keeps no texts of its own: it reads them in 'search', by the id of the record, which no two records of a book share,
 * since one counter makes all of them.
 *
 * Both are made here rather than by the schema, and can be dropped at any time. Books of an older form have 'search'
 * without the key and no index. They are brought up to date by the first commit, or in the background when they are
 * opened; until then the texts are looked through one after the other.
 */

/* @model is 0 for what models share, @key what the record itself has of its visible key. */
static const char make_tables[] =
  "CREATE TABLE search (record INTEGER NOT NULL, id INTEGER NOT NULL, model INTEGER NOT NULL, text TEXT NOT NULL, "
  "key TEXT NOT NULL, PRIMARY KEY (record, id)) STRICT, WITHOUT ROWID;"
  "CREATE INDEX search_id ON search (id);"
  "CREATE INDEX search_key ON search (key, model);"
  "CREATE VIRTUAL TABLE search_word USING fts5 (key, text, model, content = 'search', content_rowid = 'id', "
  "tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3')";

/* Texts that nobody searches for: there may be a million, or they are settings of the program. */
static gboolean
is_searched (const BookRecord *record)
{
  switch (record->id)
    {
    case BOOK_RECORD_SETTING:
    case BOOK_RECORD_GAUGE_TRIAL:
    case BOOK_RECORD_ROUND_TEST:
    case BOOK_RECORD_TALLY:
      return FALSE;
    default:
      return TRUE;
    }
}

static void
append_folded (GString *folded, const char *text, gsize length)
{
  g_autofree char *valid = NULL;
  g_autofree char *decomposed = NULL;
  gsize i;

  for (i = 0; i < length && (guchar) text[i] < 0x80; i++)
    ;
  if (i == length) /* most texts */
    {
      for (i = 0; i < length; i++)
        g_string_append_c (folded, g_ascii_tolower (text[i]));
      return;
    }

  valid = g_utf8_make_valid (text, (gssize) length);
  decomposed = g_utf8_normalize (valid, -1, G_NORMALIZE_ALL);
  for (const char *c = decomposed; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar letter = g_utf8_get_char (c);

      if (!g_unichar_ismark (letter))
        g_string_append_unichar (folded, g_unichar_tolower (letter));
    }
}

/**
 * book_search_fold:
 * @text: any text
 * @length: its bytes; -1 if it ends in a zero byte
 *
 * Returns: (transfer full): in lower case and without accents
 */
char *
book_search_fold (const char *text, gssize length)
{
  GString *folded = g_string_new (NULL);

  append_folded (folded, text, length >= 0 ? (gsize) length : strlen (text));
  return g_string_free (folded, FALSE);
}

static gboolean
is_text (const BookField *field, const BookValue *value)
{
  return value->type == SQLITE_TEXT && (field->kind == BOOK_KIND_TEXT || field->kind == BOOK_KIND_LONG_TEXT);
}

static gboolean
has_texts (const BookRecord *record, const BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    if (is_text (&record->fields[i], &values[i]))
      return TRUE;
  return FALSE;
}

static void
append_texts (GString *folded, const BookRecord *record, const BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    {
      if (!is_text (&record->fields[i], &values[i]))
        continue;
      if (folded->len > 0)
        g_string_append_c (folded, '\n');
      append_folded (folded, values[i].text, values[i].length);
    }
}

/* What people say for the record: its own texts of the visible key, else its number. Parents may be renamed without it. */
static void
append_key (GString *folded, const BookRecord *record, const BookValue *values)
{
  for (guint i = 0; i < record->n_key; i++)
    {
      int field = book_field_index (record, record->key[i]);

      if (!is_text (&record->fields[field], &values[field]))
        continue;
      if (folded->len > 0)
        g_string_append_c (folded, ' ');
      append_folded (folded, values[field].text, values[field].length);
    }
  if (folded->len == 0 && record->ordinal != NULL)
    {
      const BookValue *number = &values[book_field_index (record, record->ordinal)];

      if (number->type == SQLITE_INTEGER)
        g_string_append_printf (folded, "%" G_GINT64_FORMAT, number->integer);
    }
}

static gboolean
run_for (StoreDb *db, const char *sql, const BookRecord *record, gint64 id, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, (int) record->id);
  sqlite3_bind_int64 (statement, 2, id);
  return store_db_run (db, statement, _("The search table could not be written"), error);
}

/* The index must be told of the old words before they are gone. */
static gboolean
forget_words (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  static const char sql[] = "INSERT INTO search_word (search_word, rowid, key, text, model) "
                            "SELECT 'delete', id, key, text, model FROM search WHERE record = ?1 AND id = ?2";

  return run_for (db, sql, record, id, error);
}

static gboolean
learn_words (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  static const char sql[] = "INSERT INTO search_word (rowid, key, text, model) "
                            "SELECT id, key, text, model FROM search WHERE record = ?1 AND id = ?2";

  return run_for (db, sql, record, id, error);
}

static gboolean
put_texts (StoreDb *db, const BookRecord *record, gint64 id, gint64 model, const BookValue *values, GError **error)
{
  static const char sql[] = "INSERT INTO search (record, id, model, text, key) VALUES (?1, ?2, ?3, ?4, ?5) "
                            "ON CONFLICT (record, id) DO UPDATE SET model = ?3, text = ?4, key = ?5";
  g_autoptr(GString) folded = g_string_new (NULL);
  g_autoptr(GString) key = g_string_new (NULL);
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  append_texts (folded, record, values);
  append_key (key, record, values);
  sqlite3_bind_int (statement, 1, (int) record->id);
  sqlite3_bind_int64 (statement, 2, id);
  sqlite3_bind_int64 (statement, 3, model);
  sqlite3_bind_text (statement, 4, folded->str, (int) folded->len, SQLITE_STATIC);
  sqlite3_bind_text (statement, 5, key->str, (int) key->len, SQLITE_STATIC);
  return store_db_run (db, statement, _("The search table could not be written"), error);
}

/*
 * book_search_put:
 * @db: the writable connection
 * @record: what kind
 * @id: which
 * @model: of which model; 0: shared
 * @values: (array): all its values
 * @is_new: it cannot stand in the table yet
 * @error: return location
 *
 * Brings table and index up to date with one record; book_search_ready() comes before it in a commit.
 *
 * Returns: whether they are up to date
 */
gboolean
book_search_put (StoreDb *db, const BookRecord *record, gint64 id, gint64 model, const BookValue *values, gboolean is_new,
                 GError **error)
{
  if (!is_searched (record))
    return TRUE;
  if (!has_texts (record, values)) /* nearly all readings */
    return is_new || book_search_remove (db, record, id, error);
  return forget_words (db, record, id, error) && put_texts (db, record, id, model, values, error)
         && learn_words (db, record, id, error);
}

/* Takes one record out of table and index. */
gboolean
book_search_remove (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  static const char sql[] = "DELETE FROM search WHERE record = ?1 AND id = ?2";

  return !is_searched (record) || (forget_words (db, record, id, error) && run_for (db, sql, record, id, error));
}

typedef struct
{
  StoreDb   *db;
  BookRules *rules; /* remembers which model each parent belongs to */
} Rebuild;

static gboolean
put_row (const BookRow *row, gpointer data, GError **error)
{
  Rebuild *rebuild = data;
  gint64 model;

  return book_rules_model_of (rebuild->rules, row->record, row->id, row->values, &model, error)
         && (!has_texts (row->record, row->values) || put_texts (rebuild->db, row->record, row->id, model, row->values, error));
}

/*
 * book_search_has_index:
 * @db: any connection
 * @has_index: (out): whether there is an index of words
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_search_has_index (StoreDb *db, gboolean *has_index, GError **error)
{
  static const char sql[] = "SELECT 1 FROM sqlite_schema WHERE name = 'search_word'";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  return statement != NULL && store_db_next (db, statement, _("The book could not be searched"), has_index, error);
}

/* Makes what a new book lacks, or one of an older form. */
static gboolean
make_form (StoreDb *db, GError **error)
{
  gboolean has_index;

  return book_search_has_index (db, &has_index, error)
         && (has_index || (store_db_exec (db, "DROP TABLE IF EXISTS search", error) && store_db_exec (db, make_tables, error)));
}

/* Empties table and index, makes them where there are none, and fills them from the records. */
gboolean
book_search_rebuild (StoreDb *db, gpointer user, GError **error)
{
  g_autoptr(BookRules) rules = book_rules_new (db);
  Rebuild rebuild = { db, rules };

  if (!make_form (db, error) || !store_db_exec (db, "DELETE FROM search", error))
    return FALSE;
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      const BookRecord *record = book_record_in_order (i);

      if (is_searched (record) && !book_record_each (db, record, put_row, &rebuild, error))
        return FALSE;
    }
  return store_db_exec (db, "INSERT INTO search_word (search_word) VALUES ('rebuild')", error);
}

/*
 * book_search_ready:
 * @db: the writable connection, within a transaction
 * @error: return location
 *
 * Builds table and index of a book of an older form.
 *
 * Returns: whether they can be written to
 */
gboolean
book_search_ready (StoreDb *db, GError **error)
{
  gboolean has_index;

  return book_search_has_index (db, &has_index, error) && (has_index || book_search_rebuild (db, NULL, error));
}

static gboolean
catch_up (StoreAction *action, gpointer data, GError **error)
{
  store_action_keep (action);
  return book_search_ready (store_action_db (action), error);
}

static void
caught_up (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  /* Until a commit manages it, searching takes longer: only the log is told. */
  if (!store_write_finish (data, result, NULL, &error))
    g_debug ("The index of words was not made: %s", error->message);
}

/**
 * book_search_catch_up:
 * @book: a book, kept open until the write is done
 *
 * Makes the index of a book of an older form in the background.
 */
void
book_search_catch_up (Book *book)
{
  const StoreIntent intent = { .action = "search-built" };
  Store *store = book_get_store (book);
  StoreDb *db = store_front_db (store, NULL);
  gboolean has_index;

  /* Looking must not make a program the one writer. */
  if (store_is_remote (store) || db == NULL || !book_search_has_index (db, &has_index, NULL) || has_index)
    return;
  store_write_async (store, &intent, catch_up, NULL, NULL, NULL, caught_up, store);
}
