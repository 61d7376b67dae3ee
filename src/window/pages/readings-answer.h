/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Readings page asks of the book, in the reader thread, and what it is told. */

#include <gio/gio.h>

#include "chart.h"
#include "insight-series.h"
#include "store-db.h"

G_BEGIN_DECLS

/* What is drawn, in the order of the page's list. */
typedef enum
{
  FETTLE_READINGS_ROUNDS,
  FETTLE_READINGS_SINGLE,
  FETTLE_READINGS_SPREAD,
  FETTLE_READINGS_WALL,
  FETTLE_N_READINGS_VIEWS
} FettleReadingsView;

/**
 * FettleReadingsAsk:
 * @model: key
 * @characteristic: key; 0: every one; -1: none yet
 * @is_chosen: a person chose it: it stays although there is no reading of it in the rounds
 * @from: key of the first round
 * @to: key of the last round
 * @wanted_unit: (optional): key of a unit to be brought into view; 0: none
 * @wanted_reading: (optional): key of a reading to be brought into view; 0: none
 * @view: what is to be drawn
 * @rules: of single values look for all patterns
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
  FettleReadingsView view;
  gboolean rules;
  char    *today;
} FettleReadingsAsk;

/**
 * FettleReadingsAnswer:
 * @names: the model's characteristics: 'OF  Opening force'
 * @choices: their keys
 * @characteristic: the one shown; 0: every one
 * @keys: the readings in order
 * @series: (nullable): of one characteristic
 * @view: what was drawn
 * @chart: (nullable): of the same, or the wall of all
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
  FettleReadingsView view;
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
