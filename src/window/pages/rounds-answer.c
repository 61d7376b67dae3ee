/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "rounds-answer.h"

#include "book-evidence.h"
#include "today.h"

struct _FettleRoundsAsk
{
  gint64   model;
  gint64   round;
  gboolean finished;
  char    *today;
};

FettleRoundsAsk *
fettle_rounds_ask_new (gint64 model, gint64 round, gboolean finished)
{
  FettleRoundsAsk *ask = g_new0 (FettleRoundsAsk, 1);

  ask->model = model;
  ask->round = round;
  ask->finished = finished;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_rounds_ask_free (gpointer data)
{
  FettleRoundsAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static void
answer_clear (gpointer data)
{
  FettleRoundsAnswer *answer = data;

  insight_rounds_free (answer->rounds);
  book_round_draft_free (answer->draft);
}

gpointer
fettle_rounds_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleRoundsAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_RECORDS, error);
  FettleRoundsAnswer *answer;

  if (evidence == NULL)
    return NULL;
  answer = g_rc_box_new0 (FettleRoundsAnswer);
  answer->draft = book_round_draft (db, ask->model, error);
  store_reader_done_reading (db);
  if (answer->draft != NULL)
    answer->rounds = insight_rounds (evidence, ask->today, error);
  if (answer->rounds != NULL)
    return answer;
  fettle_rounds_answer_unref (answer);
  return NULL;
}

gpointer
fettle_round_figures_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleRoundsAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  FettleRoundFigures *figures;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  figures = g_new0 (FettleRoundFigures, 1);
  if (ask->finished)
    figures->answer = insight_round_answer (evidence, ask->round, ask->today, cancellable, error);
  else
    figures->plan = insight_plan_new (evidence, ask->round, ask->today, cancellable, error);
  if (figures->answer != NULL || figures->plan != NULL)
    return figures;
  fettle_round_figures_free (figures);
  return NULL;
}

FettleRoundsAnswer *
fettle_rounds_answer_ref (FettleRoundsAnswer *answer)
{
  return g_rc_box_acquire (answer);
}

void
fettle_rounds_answer_unref (gpointer answer)
{
  if (answer != NULL)
    g_rc_box_release_full (answer, answer_clear);
}

void
fettle_round_figures_free (gpointer data)
{
  FettleRoundFigures *figures = data;

  if (figures == NULL)
    return;
  insight_plan_unref (figures->plan);
  insight_round_answer_free (figures->answer);
  g_free (figures);
}

const InsightRound *
fettle_rounds_find (FettleRoundsAnswer *answer, gint64 round)
{
  for (guint i = 0; i < answer->rounds->rounds->len; i++)
    if (g_array_index (answer->rounds->rounds, InsightRound, i).id == round)
      return &g_array_index (answer->rounds->rounds, InsightRound, i);
  return NULL;
}
