/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "leadtime-answer.h"

#include "book-evidence.h"
#include "book-models.h"
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

static void
free_evidence (gpointer data)
{
  book_evidence_free (data);
}

/* The rounds of all other models; cancelled between two of them. */
static GPtrArray *
read_others (StoreDb *db, gint64 model, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) models = book_models_list (db, error);
  g_autoptr(GPtrArray) others = g_ptr_array_new_with_free_func (free_evidence);

  if (models == NULL)
    return NULL;
  for (guint i = 0; i < models->len; i++)
    {
      const BookModel *other = g_ptr_array_index (models, i);
      BookEvidence *evidence;

      if (other->id == model || other->n_rounds == 0)
        continue;
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      evidence = book_evidence_load_parts (db, other->id, BOOK_EVIDENCE_ROUNDS, error);
      if (evidence == NULL)
        return NULL;
      g_ptr_array_add (others, evidence);
    }
  return g_steal_pointer (&others);
}

gpointer
fettle_leadtime_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleLeadtimeAsk *ask = data;
  InsightSpan span = { ask->span.to, ask->today };
  g_autoptr(GPtrArray) others = read_others (db, ask->span.model, cancellable, error);
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
