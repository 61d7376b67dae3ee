/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Life tests page asks of the book, in the reader thread, and what it is told. */

#include "page.h"
#include "present-life.h"
#include "record-source.h"

G_BEGIN_DECLS

/* The columns of the grid. */
enum
{
  FETTLE_LIFE_DATE,
  FETTLE_LIFE_UNIT,
  FETTLE_LIFE_LOAD,
  FETTLE_LIFE_ENDED,
  FETTLE_LIFE_ISSUE,
  FETTLE_LIFE_CYCLES,
  FETTLE_LIFE_N_COLUMNS
};

extern const FettleRecordColumn fettle_life_columns[FETTLE_LIFE_N_COLUMNS];

/**
 * FettleLifeAnswer:
 * @data: the answer
 * @words: the same in words
 * @chart: Weibull paper
 * @growth: failures over cycles
 * @rows: (element-type FettleRecordRow): of the grid, in the order of the tests, the last one empty
 * @units: (element-type BookOption): units that can be named
 * @issues: (element-type BookOption): ways of failing likewise
 * @load: (nullable): of a new test, until another one is typed
 * @wanted: a test to be brought into view; 0: none
 */
typedef struct
{
  InsightLife *data;
  PresentLife *words;
  Chart       *chart;
  Chart       *growth;
  GPtrArray   *rows;
  GPtrArray   *units;
  GPtrArray   *issues;
  char        *load;
  gint64       wanted;
} FettleLifeAnswer;

typedef struct _FettleLifeAsk FettleLifeAsk;

FettleLifeAsk *fettle_life_ask_new     (const FettleSpan *span,
                                        gint64            characteristic,
                                        gint64            wanted) G_GNUC_WARN_UNUSED_RESULT;
void           fettle_life_ask_free    (gpointer          data);
gpointer       fettle_life_answer_read (StoreDb          *db,
                                        gpointer          data,
                                        GCancellable     *cancellable,
                                        GError          **error);
void           fettle_life_answer_free (gpointer          data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleLifeAnswer, fettle_life_answer_free)

G_END_DECLS
