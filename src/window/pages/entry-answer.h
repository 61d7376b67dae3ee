/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the page that fills a round in asks the book, and the answer. */

#include "insight-entry.h"
#include "page.h"

G_BEGIN_DECLS

/* @round: key; @attempt, @repeat: of the readings, from 1 */
typedef struct
{
  gint64 model;
  gint64 round;
  guint  attempt;
  guint  repeat;
  char  *today;
} FettleEntryAsk;

/* @entry, @notes (by key of a reading): may be stolen. */
typedef struct
{
  InsightEntry *entry;
  GHashTable   *notes;
} FettleEntryAnswer;

void     fettle_entry_ask_free    (gpointer      data);
gpointer fettle_entry_ask_work    (StoreDb      *db,
                                   gpointer      data,
                                   GCancellable *cancellable,
                                   GError      **error);
void     fettle_entry_answer_free (gpointer      data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleEntryAnswer, fettle_entry_answer_free)

G_END_DECLS
