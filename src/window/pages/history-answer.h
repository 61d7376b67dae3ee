/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the History page asks of the journal, in the reader thread, and what it is told. */

#include <gio/gio.h>

#include "book-history.h"
#include "store-db.h"

G_BEGIN_DECLS

#define FETTLE_HISTORY_RECORDS 200 /* of one action are told: an import of thousands by its first ones */

/**
 * FettleHistoryAsk:
 * @from: (nullable): ISO 8601, the first day; %NULL: from the beginning
 * @to: (nullable): the last day; %NULL: to the end
 * @person: only what this person did; 0: everybody
 * @record: (nullable): only what touched records of this kind; %NULL: of all
 * @id: with @record, only what touched this one; 0: all of the kind
 * @most: how many actions at most
 * @action: whose fields are told; 0: of the newest
 * @model: whose rounds are told; 0: none
 * @compare: instead of actions: what @from and @to differ by
 */
typedef struct
{
  char             *from;
  char             *to;
  gint64            person;
  const BookRecord *record;
  gint64            id;
  guint             most;
  gint64            action;
  gint64            model;
  gboolean          compare;
} FettleHistoryAsk;

/**
 * FettleHistoryAnswer:
 * @actions: (element-type BookHistoryAction): newest first
 * @is_cut: there are older ones
 * @action: whose fields @lines are; 0: no action
 * @lines: (nullable) (element-type BookHistoryLine): %NULL: they were erased
 * @n_records: how many records the action changed: one more than are told stands for any number
 * @key: (nullable): visible key of the one record asked about
 * @persons: keys of all persons
 * @names: their initials
 * @rounds: (element-type BookRound): of the model, so that a person can write one in place of a day
 * @journal: length and head of the journal, in words
 */
typedef struct
{
  GPtrArray *actions;
  gboolean   is_cut;
  gint64     action;
  GPtrArray *lines;
  guint64    n_records;
  char      *key;
  GArray    *persons;
  GPtrArray *names;
  GPtrArray *rounds;
  char      *journal;
} FettleHistoryAnswer;

void     fettle_history_ask_free    (gpointer      ask);
void     fettle_history_answer_free (gpointer      answer);
gpointer fettle_history_answer_read (StoreDb      *db,
                                     gpointer      ask,
                                     GCancellable *cancellable,
                                     GError      **error);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleHistoryAnswer, fettle_history_answer_free)

G_END_DECLS
