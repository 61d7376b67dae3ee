/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Compare page asks the book, in the reader thread: the rounds of a span against each other; of one round alone
 * its two groups where it is split, else the round before against it.
 */

#include "page.h"
#include "present-compare.h"
#include "store-reader.h"

G_BEGIN_DECLS

/**
 * FettleCompareAnswer:
 * @comparison: (nullable): %NULL when there is no earlier round to compare with
 * @chart: (nullable): each unit before and after; taken by the page
 * @is_one: one round was chosen, and what it is compared with was found by the program
 */
typedef struct
{
  PresentComparison *comparison;
  Chart             *chart;
  gboolean           is_one;
} FettleCompareAnswer;

typedef struct _FettleCompareAsk FettleCompareAsk;

/* A question about a span and its work for fettle_sitting_ask(): a FettleCompareAnswer. */
FettleCompareAsk *fettle_compare_ask_new     (const FettleSpan    *span) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_compare_ask_free    (gpointer             ask);
gpointer          fettle_compare_ask_work    (StoreDb             *db,
                                              gpointer             ask,
                                              GCancellable        *cancellable,
                                              GError             **error);
void              fettle_compare_answer_free (gpointer             answer);

G_END_DECLS
