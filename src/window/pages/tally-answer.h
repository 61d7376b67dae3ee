/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Tally page asks the book, in the reader thread. */

#include "book-evidence.h"
#include "insight-tally.h"
#include "present-pilot.h"
#include "store-reader.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 model;
  gint64 round;
  gint64 step;
  gint64 person;
  char  *today;
} FettleTallyAsk;

/**
 * FettleTallyAnswer:
 * @data: what was counted; lives in @evidence
 * @rounds: (element-type gint64): keys of those that run, newest first, and of the one that is looked at
 * @pilot: the round's counts
 * @words: the same in words, with the table of all steps
 * @refusal: why nothing can be counted; %NULL
 * @today: what was counted today
 * @yield: of the step, ""
 * @unnamed: what is asked about pieces without an issue, ""
 */
typedef struct
{
  BookEvidence *evidence;
  InsightTally *data;
  GArray       *rounds;
  InsightPilot *pilot;
  PresentPilot *words;
  char         *refusal;
  char         *today;
  char         *yield;
  char         *unnamed;
} FettleTallyAnswer;

void     fettle_tally_ask_free    (gpointer      ask);
gpointer fettle_tally_answer_read (StoreDb      *db,
                                   gpointer      ask,
                                   GCancellable *cancellable,
                                   GError      **error);
void     fettle_tally_answer_free (gpointer      answer);

G_END_DECLS
