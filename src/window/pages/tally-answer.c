/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tally-answer.h"

#include "present-tally.h"

void
fettle_tally_ask_free (gpointer data)
{
  FettleTallyAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

void
fettle_tally_answer_free (gpointer data)
{
  FettleTallyAnswer *answer = data;

  if (answer == NULL)
    return;
  g_clear_pointer (&answer->words, present_pilot_free);
  g_clear_pointer (&answer->pilot, insight_pilot_free);
  g_clear_pointer (&answer->data, insight_tally_free);
  g_clear_pointer (&answer->evidence, book_evidence_free);
  g_array_unref (answer->rounds);
  g_free (answer->refusal);
  g_free (answer->today);
  g_free (answer->yield);
  g_free (answer->unnamed);
  g_free (answer);
}

static void
list_rounds (FettleTallyAnswer *answer, const char *today)
{
  const BookEvidence *e = answer->evidence;
  BookDay day = book_day_parse (today, NULL);

  for (guint i = e->n_rounds; i-- > 0;)
    if (e->rounds[i].decided == 0 || e->rounds[i].decided > day || (int) i == answer->data->round)
      g_array_append_val (answer->rounds, e->rounds[i].id);
}

/**
 * fettle_tally_answer_read:
 * @db: the reader's connection
 * @data: a #FettleTallyAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleTallyAnswer
 */
gpointer
fettle_tally_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleTallyAsk *ask = data;
  BookEvidence *evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_RECORDS, error);
  FettleTallyAnswer *answer;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  answer = g_new0 (FettleTallyAnswer, 1);
  answer->evidence = evidence;
  answer->rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  answer->data = insight_tally (evidence, ask->round, ask->step, ask->person, ask->today);
  list_rounds (answer, ask->today);
  answer->refusal = present_tally_refusal (answer->data, evidence);
  answer->today = present_tally_today (answer->data);
  answer->unnamed = present_tally_unnamed (answer->data);
  if (answer->data->round >= 0)
    {
      const InsightSpan span = { evidence->rounds[answer->data->round].id, ask->today };

      answer->pilot = insight_pilot (evidence, &span, error);
      if (answer->pilot == NULL)
        {
          fettle_tally_answer_free (answer);
          return NULL;
        }
      answer->words = present_pilot_new (answer->pilot);
    }
  answer->yield = present_tally_yield (answer->pilot != NULL && answer->data->step >= 0
                                               && (guint) answer->data->step < answer->pilot->n_steps
                                               && answer->pilot->round == evidence->rounds[answer->data->round].id
                                           ? &answer->pilot->steps[answer->data->step]
                                           : NULL);
  return answer;
}
