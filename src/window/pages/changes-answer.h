/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Changes page asks the book, in the reader thread: the changes of a model and what follows from them. */

#include "insight-change.h"
#include "store-reader.h"

G_BEGIN_DECLS

typedef struct _FettleChangesAsk FettleChangesAsk;

/* A question about a model and its work for fettle_sitting_ask(): an InsightChanges, freed by the page. */
FettleChangesAsk *fettle_changes_ask_new     (gint64         model) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_changes_ask_free    (gpointer       ask);
gpointer          fettle_changes_ask_work    (StoreDb       *db,
                                              gpointer       ask,
                                              GCancellable  *cancellable,
                                              GError       **error);
void              fettle_changes_answer_free (gpointer       answer);

G_END_DECLS
