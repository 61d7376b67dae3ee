/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "entry-answer.h"

#include "book-evidence.h"
#include "book-readings.h"

void
fettle_entry_ask_free (gpointer data)
{
  FettleEntryAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

gpointer
fettle_entry_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleEntryAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_READINGS, error);
  g_autoptr(FettleEntryAnswer) answer = g_new0 (FettleEntryAnswer, 1);

  if (evidence == NULL)
    return NULL;
  answer->notes = book_reading_notes (db, ask->round, error);
  if (answer->notes == NULL)
    return NULL;
  store_reader_done_reading (db);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  answer->entry = insight_entry (evidence, ask->round, ask->attempt, ask->repeat, ask->today, error);
  return answer->entry != NULL ? g_steal_pointer (&answer) : NULL;
}

void
fettle_entry_answer_free (gpointer data)
{
  FettleEntryAnswer *answer = data;

  if (answer == NULL)
    return;

  insight_entry_free (answer->entry);
  g_clear_pointer (&answer->notes, g_hash_table_unref);
  g_free (answer);
}
