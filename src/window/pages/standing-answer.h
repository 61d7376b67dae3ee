/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Standing page asks the book: the kept answer when it still holds, else a new one, which is then kept. Runs
 * in the reader thread.
 */

#include "book.h"
#include "present-chart.h"
#include "present-standing.h"
#include "store-reader.h"

G_BEGIN_DECLS

typedef struct
{
  PresentStanding *standing;
  Chart           *score; /* (nullable): taken by the page */
} FettleStandingAnswer;

typedef struct _FettleStandingAsk FettleStandingAsk;

/* A question about a model up to a round, and its work for fettle_sitting_ask(): a FettleStandingAnswer. */
InsightStanding *fettle_standing_read (StoreDb *db, Book *book, gint64 model, gint64 through, const char *today,
                                       GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
FettleStandingAsk *fettle_standing_ask_new     (Book                 *book,
                                                gint64                model,
                                                gint64                through) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_standing_ask_free    (gpointer              ask);
gpointer           fettle_standing_ask_work    (StoreDb              *db,
                                                gpointer              ask,
                                                GCancellable         *cancellable,
                                                GError              **error);
void               fettle_standing_answer_free (gpointer              answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleStandingAnswer, fettle_standing_answer_free)

/* One characteristic's drawing through the same rounds; its words in @words. */
typedef struct
{
  Chart *chart;
  char  *name;
  char  *words;
} FettleSeriesAnswer;

typedef struct _FettleSeriesAsk FettleSeriesAsk;

/* The same for one characteristic: a FettleSeriesAnswer. */
FettleSeriesAsk   *fettle_series_ask_new       (gint64                model,
                                                gint64                characteristic,
                                                gint64                through) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_series_ask_free      (gpointer              ask);
gpointer           fettle_series_ask_work      (StoreDb              *db,
                                                gpointer              ask,
                                                GCancellable         *cancellable,
                                                GError              **error);
void               fettle_series_answer_free   (gpointer              answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleSeriesAnswer, fettle_series_answer_free)

G_END_DECLS
