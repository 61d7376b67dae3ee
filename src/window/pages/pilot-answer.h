/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Pilot page asks the book, and the answer: read off the main thread, without readings.
 */

#include "page.h"
#include "present-pilot.h"

G_BEGIN_DECLS

typedef struct _FettlePilotAsk FettlePilotAsk;

/* @input, @yield and @losses may be stolen; the drawings are NULL where nothing was counted. */
typedef struct
{
  InsightPilot     *data;
  PresentPilot     *words;
  InsightRateInput *input;
  Chart            *yield;
  Chart            *losses;
} FettlePilotAnswer;

FettlePilotAsk *fettle_pilot_ask_new     (const FettleSpan *span) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_pilot_ask_free    (gpointer          data);
gpointer        fettle_pilot_ask_work    (StoreDb          *db,
                                          gpointer          data,
                                          GCancellable     *cancellable,
                                          GError          **error);
void            fettle_pilot_answer_free (gpointer          data);

G_END_DECLS
