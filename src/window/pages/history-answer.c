/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "history-answer.h"

#include "book-models.h"
#include "book-record.h"
#include "present-check.h"

#define COMPARED_MOST 2000

void
fettle_history_ask_free (gpointer data)
{
  FettleHistoryAsk *ask = data;

  g_free (ask->from);
  g_free (ask->to);
  g_free (ask);
}

void
fettle_history_answer_free (gpointer data)
{
  FettleHistoryAnswer *answer = data;

  g_clear_pointer (&answer->actions, g_ptr_array_unref);
  g_clear_pointer (&answer->lines, g_ptr_array_unref);
  g_clear_pointer (&answer->persons, g_array_unref);
  g_clear_pointer (&answer->names, g_ptr_array_unref);
  g_clear_pointer (&answer->rounds, g_ptr_array_unref);
  g_free (answer->journal);
  g_free (answer->key);
  g_free (answer);
}

static gboolean
read_actions (StoreDb *db, const FettleHistoryAsk *ask, FettleHistoryAnswer *answer, GError **error)
{
  const StoreHistoryQuery query = { .table = ask->record != NULL ? (int) book_table_of_record (ask->record) : -1,
                                    .id = ask->id,
                                    .person = ask->person,
                                    .from = ask->from,
                                    .to = ask->to,
                                    .most = ask->most + 1 }; /* one more tells that there are older ones */
  g_autoptr(GPtrArray) actions = book_history_list (db, &query, error);

  if (actions == NULL)
    return FALSE;
  answer->is_cut = actions->len > ask->most;
  if (answer->is_cut)
    g_ptr_array_set_size (actions, (int) ask->most);
  book_history_gather (db, actions);
  g_ptr_array_unref (answer->actions);
  answer->actions = g_steal_pointer (&actions);
  return TRUE;
}

static gboolean
read_lines (StoreDb *db, const FettleHistoryAsk *ask, FettleHistoryAnswer *answer, GError **error)
{
  const BookHistoryAction *chosen = answer->actions->len > 0 ? g_ptr_array_index (answer->actions, 0) : NULL;

  for (guint i = 0; ask->action != 0 && i < answer->actions->len; i++)
    if (((const BookHistoryAction *) g_ptr_array_index (answer->actions, i))->id == ask->action)
      chosen = g_ptr_array_index (answer->actions, i);
  if (chosen == NULL)
    return TRUE;
  answer->action = chosen->id;
  if (chosen->erased)
    return TRUE;
  if (chosen->visit != NULL)
    answer->lines = book_history_lines_of_visit (db, chosen->visit, ask->id != 0 ? ask->record : NULL, ask->id, FETTLE_HISTORY_RECORDS,
                                                 &answer->n_records, error);
  else
    answer->lines = book_history_lines (db, chosen->id, ask->id != 0 ? ask->record : NULL, ask->id, FETTLE_HISTORY_RECORDS,
                                        FETTLE_HISTORY_RECORDS + 1, &answer->n_records, error);
  return answer->lines != NULL;
}

static gboolean
add_person (const BookRow *row, gpointer data, GError **error)
{
  FettleHistoryAnswer *answer = data;

  g_array_append_val (answer->persons, row->id);
  g_ptr_array_add (answer->names, book_value_show (&row->record->fields[0], book_row_get (row, "initials")));
  return TRUE;
}

static gboolean
read_head (StoreDb *db, FettleHistoryAnswer *answer, GError **error)
{
  g_autofree char *head = NULL;
  gint64 place;

  if (!store_history_head (db, &place, &head, error))
    return FALSE;
  answer->journal = present_check_journal (place, head);
  return TRUE;
}

static gboolean
read_difference (StoreDb *db, const FettleHistoryAsk *ask, FettleHistoryAnswer *answer, GCancellable *cancellable, GError **error)
{
  answer->lines = book_history_compare (db, ask->from, ask->to, ask->record, ask->id, COMPARED_MOST, &answer->n_records,
                                        cancellable, error);
  return answer->lines != NULL;
}

/**
 * fettle_history_answer_read:
 * @db: the reader's connection
 * @data: a #FettleHistoryAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleHistoryAnswer
 */
gpointer
fettle_history_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleHistoryAsk *ask = data;
  g_autoptr(FettleHistoryAnswer) answer = g_new0 (FettleHistoryAnswer, 1);

  answer->actions = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_action_free);
  if (ask->id != 0)
    answer->key = book_record_key_text (db, ask->record, ask->id, BOOK_KEY_TEXT_SHOWN, NULL);
  answer->persons = g_array_new (FALSE, FALSE, sizeof (gint64));
  answer->names = g_ptr_array_new_with_free_func (g_free);
  answer->rounds = ask->model != 0 ? book_rounds_list (db, ask->model, error) : g_ptr_array_new ();
  if (answer->rounds == NULL || !book_record_each_by_key (db, book_record (BOOK_RECORD_PERSON), add_person, answer, error)
      || !read_head (db, answer, error)
      || !(ask->compare ? read_difference (db, ask, answer, cancellable, error)
                        : read_actions (db, ask, answer, error) && read_lines (db, ask, answer, error)))
    return NULL;
  return g_steal_pointer (&answer);
}
