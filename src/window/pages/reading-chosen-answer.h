/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What is asked about chosen readings, in the reader thread; the answer is a #PresentChosen. */

#include <gio/gio.h>

#include "store-db.h"

G_BEGIN_DECLS

/**
 * FettleChosenAsk:
 * @model: key
 * @characteristic: key of the one that the chart shows
 * @to: key of the round looked through
 * @today: ISO 8601
 * @readings: (element-type gint64): keys of the chosen readings
 */
typedef struct
{
  gint64  model;
  gint64  characteristic;
  gint64  to;
  char   *today;
  GArray *readings;
} FettleChosenAsk;

void     fettle_chosen_ask_free    (FettleChosenAsk *ask);
gpointer fettle_chosen_answer_read (StoreDb         *db,
                                    gpointer         data,
                                    GCancellable    *cancellable,
                                    GError         **error);

G_END_DECLS
