/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "compare-answer.h"

#include "book-evidence.h"
#include "today.h"

struct _FettleCompareAsk
{
  FettleSpan span;
  char      *today;
};

FettleCompareAsk *
fettle_compare_ask_new (const FettleSpan *span)
{
  FettleCompareAsk *ask = g_new0 (FettleCompareAsk, 1);

  ask->span = *span;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_compare_ask_free (gpointer data)
{
  FettleCompareAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* The groups of a split round; that a round is not split is no failure. */
static InsightComparison *
compare_groups (const BookEvidence *evidence, const FettleCompareAsk *ask, GCancellable *cancellable)
{
  InsightCompareAsk question = { .round = ask->span.to, .today = ask->today };

  return insight_compare (evidence, &question, cancellable, NULL);
}

static gint64
round_before (const BookEvidence *evidence, gint64 round)
{
  int index = book_evidence_find (evidence, rounds, round);

  return index > 0 ? evidence->rounds[index - 1].id : 0;
}

/* NULL without an error: there is nothing to compare with. */
static InsightComparison *
compare (const BookEvidence *evidence, const FettleCompareAsk *ask, GCancellable *cancellable, GError **error)
{
  InsightCompareAsk question = { .from = ask->span.from, .to = ask->span.to, .today = ask->today };

  if (ask->span.from == ask->span.to)
    {
      InsightComparison *groups = compare_groups (evidence, ask, cancellable);

      if (groups != NULL)
        return groups;
      question.from = round_before (evidence, ask->span.to);
      if (question.from == 0)
        return NULL;
    }
  return insight_compare (evidence, &question, cancellable, error);
}

gpointer
fettle_compare_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleCompareAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->span.model, error);
  GError *problem = NULL;
  InsightComparison *comparison;
  FettleCompareAnswer *answer;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  comparison = compare (evidence, ask, cancellable, &problem);
  if (problem != NULL)
    {
      g_propagate_error (error, problem);
      return NULL;
    }
  answer = g_new0 (FettleCompareAnswer, 1);
  answer->is_one = ask->span.from == ask->span.to;
  answer->comparison = comparison != NULL ? present_comparison_new (comparison, evidence->caution) : NULL;
  if (answer->comparison != NULL && answer->comparison->effects->len > 0)
    answer->chart = present_chart_effect (answer->comparison, FALSE);
  return answer;
}

void
fettle_compare_answer_free (gpointer data)
{
  FettleCompareAnswer *answer = data;

  if (answer == NULL)
    return;
  g_clear_pointer (&answer->comparison, present_comparison_free);
  g_clear_pointer (&answer->chart, chart_free);
  g_free (answer);
}
