/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Gauge studies page asks the book, and the answer.
 */

#include "page.h"
#include "present-gauge.h"
#include "study-source.h"

G_BEGIN_DECLS

/**
 * FettleGaugeAsk:
 * @characteristic: of which the study is entered; 0: the one studied last, else the first that is measured
 * @person: who measures; 0: nobody yet
 * @pieces: planned; those of the study so far if there are more
 * @trials: planned, a piece
 */
typedef struct
{
  gint64 model;
  gint64 characteristic;
  gint64 person;
  guint  pieces;
  guint  trials;
  char  *today;
} FettleGaugeAsk;

/* A measured characteristic. */
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
} FettleGaugeAnswer;

void     fettle_gauge_ask_free    (gpointer      data);
gpointer fettle_gauge_ask_work    (StoreDb      *db,
                                   gpointer      data,
                                   GCancellable *cancellable,
                                   GError      **error);
void     fettle_gauge_answer_free (gpointer      data);

G_END_DECLS
