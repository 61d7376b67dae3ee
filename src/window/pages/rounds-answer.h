/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Rounds page asks the book, in the reader thread: the rounds of a model and what the next one would begin with;
 * and of one round, what it can show before it is built and what it answered. The latter two read all readings.
 */

#include "book-round.h"
#include "insight-plan.h"
#include "present-round.h"
#include "store-reader.h"

G_BEGIN_DECLS

typedef struct
{
  InsightRounds  *rounds;
  BookRoundDraft *draft;
} FettleRoundsAnswer;

/* What one round can show, or what it answered: the other is NULL. */
typedef struct
{
  InsightPlan        *plan;
  InsightRoundAnswer *answer;
} FettleRoundFigures;

typedef struct _FettleRoundsAsk FettleRoundsAsk;

/* @round 0: all rounds of the model, a FettleRoundsAnswer; else a FettleRoundFigures of the one. */
FettleRoundsAsk    *fettle_rounds_ask_new      (gint64              model,
                                                gint64              round,
                                                gboolean            finished) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_rounds_ask_free     (gpointer            ask);
gpointer            fettle_rounds_ask_work     (StoreDb            *db,
                                                gpointer            ask,
                                                GCancellable       *cancellable,
                                                GError            **error);
gpointer            fettle_round_figures_work  (StoreDb            *db,
                                                gpointer            ask,
                                                GCancellable       *cancellable,
                                                GError            **error);
FettleRoundsAnswer *fettle_rounds_answer_ref   (FettleRoundsAnswer *answer);
void                fettle_rounds_answer_unref (gpointer            answer);
void                fettle_round_figures_free  (gpointer            figures);

/* The round with a key; NULL for none. */
const InsightRound *fettle_rounds_find         (FettleRoundsAnswer *answer,
                                                gint64              round);

G_END_DECLS
