/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Gauge studies page asks the book, and the answer.
 */

#include "page.h"
#include "present-gauge.h"
#include "record-source.h"
#include "study-source.h"
#include "study-wish.h"

G_BEGIN_DECLS

/**
 * FettleGaugeAsk:
 * @characteristic: of which the study is entered; 0: the one studied last, else the first that is measured
 * @person: who measures; 0: nobody yet
 * @check: the check whose trials are entered; 0: the first that names a gauge
 * @wishes: (element-type utf8 utf8): what is planned, by the name of its draft
 */
typedef struct
{
  gint64 model;
  gint64 characteristic;
  gint64 person;
  gint64 check;
  GHashTable *wishes;
  char  *today;
} FettleGaugeAsk;

/* The columns in which checks of known pieces are entered. */
enum
{
  FETTLE_GAUGE_PIECE,
  FETTLE_GAUGE_KNOWN_BAD,
  FETTLE_GAUGE_TRIAL,
  FETTLE_GAUGE_VERDICT,
  FETTLE_GAUGE_N_COLUMNS
};

extern const FettleRecordColumn fettle_gauge_columns[FETTLE_GAUGE_N_COLUMNS];

/* A characteristic, or a person. */
typedef struct
{
  gint64 id;
  char  *name;
} FettleGaugeChoice;

/**
 * FettleGaugeAnswer:
 * @choices: (element-type FettleGaugeChoice): what can be studied
 * @characteristic: of the plan; 0: nothing can be studied
 * @gauge: by which; "" when the characteristic names none
 * @over: the study before is over, so that what is typed begins a new one
 * @plan: (nullable): may be stolen
 * @wish: (nullable): what is planned of it
 * @planned: values of all persons that are planned; 0: nobody is planned by name
 * @missing: of these
 * @persons: (element-type FettleGaugeChoice): who may be planned
 * @checks: (element-type FettleGaugeChoice): what can be checked
 * @check: of the rows; 0: nothing can be checked
 * @check_gauge: by which; 0: the check names none
 * @rows: (nullable) (element-type FettleRecordRow): the person's own trials of it, and an empty row; may be stolen
 */
typedef struct
{
  InsightGauges   *data;
  PresentGauges   *words;
  GArray          *choices;
  gint64           characteristic;
  char            *gauge;
  gboolean         over;
  FettleStudyPlan *plan;
  FettleStudyWish *wish;
  guint            planned;
  guint            missing;
  GArray          *persons;
  GArray          *checks;
  gint64           check;
  gint64           check_gauge;
  GPtrArray       *rows;
} FettleGaugeAnswer;

void     fettle_gauge_ask_free    (gpointer      data);
gpointer fettle_gauge_ask_work    (StoreDb      *db,
                                   gpointer      data,
                                   GCancellable *cancellable,
                                   GError      **error);
void     fettle_gauge_answer_free (gpointer      data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleGaugeAnswer, fettle_gauge_answer_free)

G_END_DECLS
