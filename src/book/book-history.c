/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history.h"

#include <glib/gi18n-lib.h>

#include "book-gone-private.h"
#include "book-history-private.h"

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
  g_free (action->message);
  g_clear_pointer (&action->visit, g_array_unref);
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

/**
 * book_history_sentence:
 * @db: any connection
 * @info: an action
 *
 * Returns: (transfer full): what was done, or undone, or done again, without a full stop; records that are gone are named
 *   as they were last
 */
char *
book_history_sentence (StoreDb *db, const StoreActionInfo *info)
{
  g_autofree char *sentence = book_message_text (db, info->message, info->arguments);

  switch (info->kind)
    {
    case STORE_DO:
      break;
    case STORE_UNDO:
      /* Translators: %s is the sentence of the action that was taken back */
      return g_strdup_printf (_("Undone: %s"), sentence);
    case STORE_REDO:
      /* Translators: %s is the sentence of the action that was done again */
      return g_strdup_printf (_("Redone: %s"), sentence);
    }
  return g_steal_pointer (&sentence);
}

static BookHistoryAction *
action_of (BookGone *gone, StoreDb *db, const StoreActionInfo *info, GError **error)
{
  BookHistoryAction *action = g_new0 (BookHistoryAction, 1);

  action->id = info->id;
  action->kind = info->kind;
  action->undone = info->undone;
  action->erased = info->erased;
  action->sitting = info->sitting;
  action->place = info->first_place;
  action->time = g_strdup (info->time);
  action->sentence = book_history_sentence (db, info);
  action->message = g_strdup (info->message);
  if (info->arguments != NULL && g_variant_n_children (info->arguments) > 0)
    g_variant_get_child (info->arguments, 0, "(&sx)", NULL, &action->about);
  if (info->person > 0)
    {
      action->person = book_gone_key_text (gone, book_record (BOOK_RECORD_PERSON), info->person, error);
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
  g_autoptr(BookGone) gone = book_gone_new (db);

  if (infos == NULL)
    return NULL;
  for (guint i = 0; i < infos->len; i++)
    {
      BookHistoryAction *action = action_of (gone, db, infos->pdata[i], error);

      if (action == NULL)
        return NULL;
      g_ptr_array_add (actions, action);
    }
  return g_steal_pointer (&actions);
}

/* A line names a record by its key as it is now, or as it was last. */
typedef struct
{
  StoreDb          *db;
  gint64            action;
  BookGone         *gone;
  GPtrArray        *lines;
  BookHistoryWanted wanted;
  gpointer          data;
} Reading;

static char *
key_of (Reading *reading, const BookRecord *record, gint64 id)
{
  g_autofree char *key = book_record_key_text (reading->db, record, id, BOOK_KEY_TEXT_SHOWN, NULL);

  if (key == NULL || *key == '\0')
    {
      /* First what this action knows of it, which is read only now: most records are still there. */
      if (!book_gone_read (reading->gone, reading->action, NULL))
        g_debug ("An action could not be read for the keys of what is gone");
      g_free (key);
      key = book_gone_key_text (reading->gone, record, id, NULL);
    }
  return key != NULL && *key != '\0' ? g_steal_pointer (&key) : g_strdup (_("(no longer there)"));
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

  switch (reading->wanted (record, row->id, row->op, reading->data))
    {
    case BOOK_HISTORY_TELL:
      break;
    case BOOK_HISTORY_SKIP:
      return TRUE;
    case BOOK_HISTORY_STOP:
      return FALSE;
    }
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

gboolean
book_history_add_lines (StoreDb *db, gint64 action, const BookRecord *record, gint64 id, BookHistoryWanted wanted, gpointer data,
                        GPtrArray *lines, GError **error)
{
  int table = record != NULL ? (int) book_table_of_record (record) : -1;
  g_autoptr(BookGone) gone = book_gone_new (db);
  Reading reading = { db, action, gone, lines, wanted, data };

  return store_history_rows (db, action, table, id, add_lines, &reading, error);
}

typedef struct
{
  guint64 n_records;
  guint   most_records;
  guint64 count_to;
} Count;

static BookHistoryChoice
is_among_the_first (const BookRecord *record, gint64 id, StoreOp op, gpointer data)
{
  Count *count = data;

  if (count->n_records++ < count->most_records)
    return BOOK_HISTORY_TELL;
  return count->n_records < count->count_to ? BOOK_HISTORY_SKIP : BOOK_HISTORY_STOP;
}

/**
 * book_history_lines:
 * @db: any connection
 * @action: key of an action
 * @record: (nullable): only rows of this kind; %NULL: all
 * @id: with @record, only this row; 0: all
 * @most_records: of how many records the fields are told
 * @count_to: how far records are counted; an action of a million takes a while
 * @n_records: (out) (optional): how many records the action changed, of those asked for, up to @count_to
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookHistoryLine) (nullable): what the action changed, field by field;
 *   %STORE_ERROR_ERASED where that was erased
 */
GPtrArray *
book_history_lines (StoreDb *db, gint64 action, const BookRecord *record, gint64 id, guint most_records,
                    guint64 count_to, guint64 *n_records, GError **error)
{
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);
  Count count = { .most_records = most_records, .count_to = count_to };

  if (!book_history_add_lines (db, action, record, id, is_among_the_first, &count, lines, error))
    return NULL;
  if (n_records != NULL)
    *n_records = count.n_records;
  return g_steal_pointer (&lines);
}
