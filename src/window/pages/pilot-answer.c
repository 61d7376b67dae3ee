/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pilot-answer.h"

#include "book-evidence.h"
#include "today.h"

struct _FettlePilotAsk
{
  FettleSpan span;
  char      *today;
};

FettlePilotAsk *
fettle_pilot_ask_new (const FettleSpan *span)
{
  FettlePilotAsk *ask = g_new0 (FettlePilotAsk, 1);

  ask->span = *span;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_pilot_ask_free (gpointer data)
{
  FettlePilotAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* The round chosen; where nothing was counted in it, the newest before it with counts, which the headline names. */
static InsightPilot *
look (const BookEvidence *evidence, const FettlePilotAsk *ask, GError **error)
{
  InsightSpan span = { ask->span.to, ask->today };
  g_autoptr(InsightPilot) pilot = insight_pilot (evidence, &span, error);

  if (pilot == NULL || pilot->counted_steps > 0 || pilot->rounds->len == 0)
    return g_steal_pointer (&pilot);
  span.through = g_array_index (pilot->rounds, gint64, pilot->rounds->len - 1);
  return insight_pilot (evidence, &span, error);
}

gpointer
fettle_pilot_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettlePilotAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->span.model, BOOK_EVIDENCE_RECORDS, error);
  InsightPilot *pilot;
  FettlePilotAnswer *answer;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  pilot = look (evidence, ask, error);
  if (pilot == NULL)
    return NULL;

  answer = g_new0 (FettlePilotAnswer, 1);
  answer->data = pilot;
  answer->words = present_pilot_new (pilot);
  answer->input = insight_rate_input (evidence, pilot);
  if (pilot->counted_steps > 0)
    {
      answer->yield = present_chart_yield (pilot, FALSE);
      answer->losses = present_chart_losses (pilot, FALSE);
    }
  return answer;
}

void
fettle_pilot_answer_free (gpointer data)
{
  FettlePilotAnswer *answer = data;

  if (answer == NULL)
    return;

  present_pilot_free (answer->words);
  insight_pilot_free (answer->data);
  insight_rate_input_free (answer->input);
  g_clear_pointer (&answer->yield, chart_free);
  g_clear_pointer (&answer->losses, chart_free);
  g_free (answer);
}
