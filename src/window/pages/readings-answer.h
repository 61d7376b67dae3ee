/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Readings page asks of the book, in the reader thread, and what it is told. */

#include <gio/gio.h>

#include "chart.h"
#include "insight-series.h"
#include "store-db.h"

G_BEGIN_DECLS

/**
 * FettleReadingsAsk:
 * @model: key
 * @characteristic: key; 0: every one; -1: none yet
 * @is_chosen: a person chose it: it stays although there is no reading of it in the rounds
 * @from: key of the first round
 * @to: key of the last round
 * @wanted_unit: (optional): key of a unit to be brought into view; 0: none
 * @wanted_reading: (optional): key of a reading to be brought into view; 0: none
 * @today: ISO 8601
 */
typedef struct
{
  gint64   model;
  gint64   characteristic;
  gboolean is_chosen;
  gint64   from;
  gint64   to;
  gint64   wanted_unit;
  gint64   wanted_reading;
  char    *today;
} FettleReadingsAsk;

/**
 * FettleReadingsAnswer:
 * @names: the model's characteristics: 'OF  Opening force'
 * @choices: their keys
 * @characteristic: the one shown; 0: every one
 * @keys: the readings in order
 * @series: (nullable): of one characteristic
 * @chart: (nullable): the same
 * @words: (nullable): the same, in sentences
 * @wanted: key of the reading to be brought into view; 0: none
 * @wanted_round: key of its round when that is not among the rounds asked about; 0: it is
 * @missing: (nullable): a sentence: what was wanted has no reading
 */
typedef struct
{
  GPtrArray     *names;
  GArray        *choices;
  gint64         characteristic;
  GArray        *keys;
  InsightSeries *series;
  Chart         *chart;
  char          *words;
  gint64         wanted;
  gint64         wanted_round;
  char          *missing;
} FettleReadingsAnswer;

void     fettle_readings_ask_free    (FettleReadingsAsk    *ask);
void     fettle_readings_answer_free (FettleReadingsAnswer *answer);
gpointer fettle_readings_answer_read (StoreDb              *db,
                                      gpointer              data,
                                      GCancellable         *cancellable,
                                      GError              **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleReadingsAnswer, fettle_readings_answer_free)

G_END_DECLS
