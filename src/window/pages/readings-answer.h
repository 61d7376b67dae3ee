/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Readings page asks of the book, in the reader thread, and what it is told. */

#include <gio/gio.h>

#include "chart.h"
#include "insight-series.h"
#include "store-db.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 model;
  gint64 characteristic; /* 0: every one */
  gint64 from;           /* rounds */
  gint64 to;
  char  *today;
} FettleReadingsAsk;

/* @names and @choices: the model's characteristics, 'OF  Opening force' and their keys; @series and @chart: of one. */
typedef struct
{
  GPtrArray     *names;
  GArray        *choices;
  gint64         characteristic;
  GArray        *keys;
  InsightSeries *series;
  Chart         *chart;
  char          *words;
} FettleReadingsAnswer;

void     fettle_readings_ask_free    (FettleReadingsAsk    *ask);
void     fettle_readings_answer_free (FettleReadingsAnswer *answer);
gpointer fettle_readings_answer_read (StoreDb              *db,
                                      gpointer              data,
                                      GCancellable         *cancellable,
                                      GError              **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleReadingsAnswer, fettle_readings_answer_free)

G_END_DECLS
