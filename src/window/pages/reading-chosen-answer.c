/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reading-chosen-answer.h"

#include "book-evidence.h"
#include "present-chosen.h"
#include "store-reader.h"

void
fettle_chosen_ask_free (FettleChosenAsk *ask)
{
  g_free (ask->today);
  g_array_unref (ask->readings);
  g_free (ask);
}

/**
 * fettle_chosen_answer_read:
 * @db: the reader's connection
 * @data: a #FettleChosenAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #PresentChosen
 */
gpointer
fettle_chosen_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleChosenAsk *ask = data;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightChosen) chosen = NULL;
  InsightSpan span = { ask->to, ask->today };

  if (g_cancellable_set_error_if_cancelled (cancellable, error)) /* while keys are held down most questions are superseded */
    return NULL;
  evidence = book_evidence_load (db, ask->model, error);
  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  chosen = insight_chosen (evidence, ask->characteristic, (const gint64 *) (gpointer) ask->readings->data, ask->readings->len, &span,
                           cancellable, error);
  return chosen != NULL ? present_chosen_new (chosen) : NULL;
}
