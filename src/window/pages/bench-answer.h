/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Bench page asks the book, in the reader thread: what waits, what to measure, what came back. */

#include "book-evidence.h"
#include "insight-bench.h"
#include "present-sheet.h"
#include "store-reader.h"

G_BEGIN_DECLS

/* @bench 0: all. @from and @to: rounds whose units came back. */
typedef struct
{
  gint64 model;
  gint64 bench;
  gint64 from;
  gint64 to;
  char  *today;
} FettleBenchAsk;

/**
 * FettleBenchAnswer:
 * @benches: (element-type gint64): keys of the shop's benches
 * @names: (element-type utf8): of these
 * @waiting: what lies here, as a table
 * @measure: likewise
 * @returns: likewise
 * @more: how many wait that the table does not list, ""
 * @elsewhere: what waits here of other models, ""
 *
 * @data lives in @evidence.
 */
typedef struct
{
  BookEvidence *evidence;
  InsightBench *data;
  GArray       *benches;
  GPtrArray    *names;
  char         *headline;
  PresentSheet *waiting;
  PresentSheet *measure;
  PresentSheet *returns;
  char         *more;
  char         *elsewhere;
} FettleBenchAnswer;

void     fettle_bench_ask_free    (gpointer      ask);
gpointer fettle_bench_answer_read (StoreDb      *db,
                                   gpointer      ask,
                                   GCancellable *cancellable,
                                   GError      **error);
void     fettle_bench_answer_free (gpointer      answer);

/* The unit with a key; NULL for none. */
const InsightBenchUnit *fettle_bench_answer_find (const FettleBenchAnswer *answer,
                                                  gint64                   unit);
/* The unit that waits before (-1) or after (1) another one, in the order of the table; 0: none. */
gint64   fettle_bench_answer_next (const FettleBenchAnswer *answer,
                                   gint64                   unit,
                                   int                      direction);

G_END_DECLS
