/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "leadtime-answer.h"

#include "book-evidence.h"
#include "today.h"

struct _FettleLeadtimeAsk
{
  FettleSpan span;
  char      *today;
};

FettleLeadtimeAsk *
fettle_leadtime_ask_new (const FettleSpan *span)
{
  FettleLeadtimeAsk *ask = g_new0 (FettleLeadtimeAsk, 1);

  ask->span = *span;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_leadtime_ask_free (gpointer data)
{
  FettleLeadtimeAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

gpointer
fettle_leadtime_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleLeadtimeAsk *ask = data;
  InsightSpan span = { ask->span.to, ask->today };
  g_autoptr(GPtrArray) others = book_evidence_load_others (db, ask->span.model, cancellable, error);
  g_autoptr(BookEvidence) evidence = NULL;
  InsightLeadtime *leadtime;
  FettleLeadtimeAnswer *answer;

  if (others != NULL)
    evidence = book_evidence_load_parts (db, ask->span.model, BOOK_EVIDENCE_RECORDS, error);
  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  leadtime = insight_leadtime (evidence, (const BookEvidence *const *) others->pdata, others->len, &span, error);
  if (leadtime == NULL)
    return NULL;

  answer = g_new0 (FettleLeadtimeAnswer, 1);
  answer->data = leadtime;
  answer->words = present_leadtime_new (leadtime);
  answer->chart = leadtime->total > 0.0 ? present_chart_leadtime (leadtime, FALSE) : NULL;
  return answer;
}

void
fettle_leadtime_answer_free (gpointer data)
{
  FettleLeadtimeAnswer *answer = data;

  if (answer == NULL)
    return;

  present_leadtime_free (answer->words);
  insight_leadtime_free (answer->data);
  g_clear_pointer (&answer->chart, chart_free);
  g_free (answer);
}
