/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history.h"

#include <glib/gi18n-lib.h>

#include "book-history-private.h"
#include "book-record-private.h"

#define REMEMBERED_MOST 100000 /* rows of one action whose keys are remembered; parents come first */

/**
 * book_history_action_free:
 * @action: (transfer full) (nullable): from book_history_list()
 */
void
book_history_action_free (BookHistoryAction *action)
{
  if (action == NULL)
    return;
  g_free (action->time);
  g_free (action->person);
  g_free (action->sentence);
  g_free (action);
}

/**
 * book_history_line_free:
 * @line: (transfer full) (nullable): from book_history_lines()
 */
void
book_history_line_free (BookHistoryLine *line)
{
  if (line == NULL)
    return;
  g_free (line->key);
  g_free (line->before);
  g_free (line->after);
  g_free (line);
}

static BookHistoryAction *
action_of (StoreDb *db, const StoreActionInfo *info, GError **error)
{
  BookHistoryAction *action = g_new0 (BookHistoryAction, 1);
  g_autofree char *sentence = book_message_text_then (db, info->id, info->message, info->arguments);

  action->id = info->id;
  action->kind = info->kind;
  action->undone = info->undone;
  action->erased = info->erased;
  action->sitting = info->sitting;
  action->place = info->first_place;
  action->time = g_strdup (info->time);
  switch (info->kind)
    {
    case STORE_DO:
      action->sentence = g_steal_pointer (&sentence);
      break;
    case STORE_UNDO:
      /* Translators: %s is the sentence of the action that was taken back */
      action->sentence = g_strdup_printf (_("Undone: %s"), sentence);
      break;
    case STORE_REDO:
      /* Translators: %s is the sentence of the action that was done again */
      action->sentence = g_strdup_printf (_("Redone: %s"), sentence);
      break;
    }
  if (info->person > 0)
    {
      action->person = book_record_key_text (db, book_record (BOOK_RECORD_PERSON), info->person, BOOK_KEY_TEXT_SHOWN,
                                             error);
      if (action->person == NULL)
        {
          book_history_action_free (action);
          return NULL;
        }
      if (*action->person == '\0')
        g_clear_pointer (&action->person, g_free);
    }
  return action;
}

/**
 * book_history_list:
 * @db: any connection
 * @query: which actions
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookHistoryAction) (nullable): newest first
 */
GPtrArray *
book_history_list (StoreDb *db, const StoreHistoryQuery *query, GError **error)
{
  g_autoptr(GPtrArray) infos = store_history_list (db, query, error);
  g_autoptr(GPtrArray) actions = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_action_free);

  if (infos == NULL)
    return NULL;
  for (guint i = 0; i < infos->len; i++)
    {
      BookHistoryAction *action = action_of (db, infos->pdata[i], error);

      if (action == NULL)
        return NULL;
      g_ptr_array_add (actions, action);
    }
  return g_steal_pointer (&actions);
}

/*
 * Method. A line names a record by its key as it is now. A record that is gone is named by the values it had, and what
 * these refer to may be gone as well, in the same action even: so the keys of the rows that an action made or deleted
 * are remembered, and asked where the book no longer knows a row.
 */
typedef struct
{
  BookGone    gone; /* first: find_gone() is given it */
  StoreDb    *db;
  GHashTable *rows; /* gint64 * to GoneRow */
  GPtrArray  *lines;
  guint64     n_records;
  guint       most_records;
} Reading;

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

static gboolean
find_gone (const BookGone *gone, gint64 id, BookValue *key)
{
  const Reading *reading = (const Reading *) gone;
  const GoneRow *row = g_hash_table_lookup (reading->rows, &id);

  if (row == NULL)
    return FALSE;
  for (guint i = 0; i < row->record->n_key; i++)
    key[i] = row->key[i];
  return TRUE;
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
  Reading *reading = data;
  GoneRow *gone;

  if (row->op == STORE_UPDATE || g_hash_table_size (reading->rows) >= REMEMBERED_MOST)
    return TRUE;
  gone = g_new0 (GoneRow, 1);
  gone->record = book_record_of_table (row->table);
  take_key (gone->record, row->op == STORE_DELETE ? row->before : row->after, row->n_columns, gone->key);
  for (guint i = 0; i < gone->record->n_key; i++)
    if (gone->key[i].type == SQLITE_TEXT)
      gone->key[i].text = g_strndup (gone->key[i].text, gone->key[i].length);
  g_hash_table_insert (reading->rows, g_memdup2 (&row->id, sizeof row->id), gone);
  return TRUE;
}

/* The key of a record, now or as it was; owned. */
static char *
key_of (Reading *reading, const BookRecord *record, gint64 id)
{
  g_autofree char *key = book_record_key_text (reading->db, record, id, BOOK_KEY_TEXT_SHOWN, NULL);
  BookValue gone[BOOK_MAX_KEY];

  if (key != NULL && *key != '\0')
    return g_steal_pointer (&key);
  if (find_gone (&reading->gone, id, gone))
    return book_key_text (reading->db, &reading->gone, record, gone, BOOK_KEY_TEXT_SHOWN, NULL);
  return g_strdup (_("(no longer there)"));
}

static char *
show (Reading *reading, const BookRecord *record, guint field, const StoreValue *columns, guint n_columns)
{
  const BookField *described = &record->fields[field];
  const StoreValue *value;

  if (columns == NULL || field + 1 >= n_columns)
    return NULL;
  value = &columns[field + 1];
  if (value->type == SQLITE_NULL || value->type == STORE_UNCHANGED)
    return NULL;
  if (described->kind == BOOK_KIND_REFERENCE)
    return key_of (reading, book_record (described->refers), value->integer);
  if (described->kind == BOOK_KIND_ANY && columns[field].type == SQLITE_INTEGER
      && book_record ((BookRecordId) columns[field].integer) != NULL)
    return key_of (reading, book_record ((BookRecordId) columns[field].integer), value->integer);
  return book_value_show (described, value);
}

static gboolean
add_lines (const StoreRow *row, gpointer data)
{
  Reading *reading = data;
  const BookRecord *record = book_record_of_table (row->table);
  g_autofree char *key = NULL;

  if (reading->n_records++ >= reading->most_records)
    return TRUE; /* counted only */
  key = key_of (reading, record, row->id);
  for (guint i = 0; i < record->n_fields && i + 1 < row->n_columns; i++)
    {
      g_autofree char *before = show (reading, record, i, row->before, row->n_columns);
      g_autofree char *after = show (reading, record, i, row->after, row->n_columns);
      BookHistoryLine *line;

      if (row->op == STORE_UPDATE && row->after[i + 1].type == STORE_UNCHANGED)
        continue;
      if (row->op != STORE_UPDATE && before == NULL && after == NULL)
        continue;
      line = g_new0 (BookHistoryLine, 1);
      line->record = record;
      line->id = row->id;
      line->key = g_strdup (key != NULL ? key : "");
      line->op = row->op;
      line->field = &record->fields[i];
      line->before = g_steal_pointer (&before);
      line->after = g_steal_pointer (&after);
      g_ptr_array_add (reading->lines, line);
    }
  return TRUE;
}

/*
 * book_history_key_then:
 * @db: any connection
 * @action: key of an action
 * @record: what kind
 * @id: which
 *
 * Returns: (transfer full) (nullable): the key of a record that is gone as the action that made or deleted it knew it;
 *   %NULL if the action did neither, or is erased
 */
char *
book_history_key_then (StoreDb *db, gint64 action, const BookRecord *record, gint64 id)
{
  g_autoptr(GHashTable) rows = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, gone_row_free);
  Reading reading = { .gone.find = find_gone, .db = db, .rows = rows };
  BookValue key[BOOK_MAX_KEY];

  /* Without an answer the message does without the key: no error to pass on. */
  if (!store_history_rows (db, action, -1, 0, remember_key, &reading, NULL) || !find_gone (&reading.gone, id, key))
    return NULL;
  return book_key_text (db, &reading.gone, record, key, BOOK_KEY_TEXT_SHOWN, NULL);
}

/**
 * book_history_lines:
 * @db: any connection
 * @action: key of an action
 * @record: (nullable): only rows of this kind; %NULL: all
 * @id: with @record, only this row; 0: all
 * @most_records: of how many records the fields are told
 * @n_records: (out) (optional): how many records the action changed, of those asked for
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookHistoryLine) (nullable): what the action changed, field by field;
 *   %STORE_ERROR_ERASED where that was erased
 */
GPtrArray *
book_history_lines (StoreDb *db, gint64 action, const BookRecord *record, gint64 id, guint most_records,
                    guint64 *n_records, GError **error)
{
  int table = record != NULL ? (int) book_table_of_record (record) : -1;
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);
  g_autoptr(GHashTable) rows = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, gone_row_free);
  Reading reading = { .gone.find = find_gone, .db = db, .rows = rows, .lines = lines, .most_records = most_records };

  if (!store_history_rows (db, action, -1, 0, remember_key, &reading, error)
      || !store_history_rows (db, action, table, id, add_lines, &reading, error))
    return NULL;
  if (n_records != NULL)
    *n_records = reading.n_records;
  return g_steal_pointer (&lines);
}
