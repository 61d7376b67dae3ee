/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Lead time page asks the book, and the answer: read off the main thread, without readings.
 */

#include "page.h"
#include "present-leadtime.h"

G_BEGIN_DECLS

typedef struct _FettleLeadtimeAsk FettleLeadtimeAsk;

/* @chart may be stolen. */
typedef struct
{
  InsightLeadtime *data;
  PresentLeadtime *words;
  Chart           *chart;
} FettleLeadtimeAnswer;

FettleLeadtimeAsk *fettle_leadtime_ask_new     (const FettleSpan *span) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_leadtime_ask_free    (gpointer          data);
gpointer           fettle_leadtime_ask_work    (StoreDb          *db,
                                                gpointer          data,
                                                GCancellable     *cancellable,
                                                GError          **error);
void               fettle_leadtime_answer_free (gpointer          data);

G_END_DECLS
