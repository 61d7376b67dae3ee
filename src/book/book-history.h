/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The journal in words: one sentence an action, one line a changed field, old to new.
 */

#include "book.h"
#include "store-history.h"

G_BEGIN_DECLS

/**
 * BookHistoryAction:
 * @id: key of the action
 * @kind: done, undone, redone
 * @undone: whether its effect was undone since
 * @erased: whether its payload was erased, so that it has no lines
 * @sitting: in which
 * @place: of its first entry
 * @time: ISO 8601, UTC
 * @person: (nullable): initials
 * @sentence: what was done, in the reader's language
 * @message: id of its message
 * @about: key of the first record that the message names; 0: none
 * @visit: (nullable) (element-type gint64): the actions that book_history_gather() told as this one, newest first
 */
typedef struct
{
  gint64          id;
  StoreActionKind kind;
  gboolean        undone;
  gboolean        erased;
  gint64          sitting;
  gint64          place;
  char           *time;
  char           *person;
  char           *sentence;
  char           *message;
  gint64          about;
  GArray         *visit;
} BookHistoryAction;

/**
 * BookHistoryLine:
 * @record: what kind of record
 * @id: its key
 * @key: its visible key as text, with the model
 * @op: whether the record came, changed or went
 * @field: which field
 * @before: (nullable): its value before, as shown; %NULL: empty
 * @after: (nullable): its value after, as shown; %NULL: empty
 *
 * One field of one record in one action. A record that came or went has one line for each field that holds something.
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  char             *key;
  StoreOp           op;
  const BookField  *field;
  char             *before;
  char             *after;
} BookHistoryLine;

void book_history_action_free (BookHistoryAction *action);
void book_history_line_free   (BookHistoryLine   *line);

GPtrArray *book_history_list  (StoreDb                 *db,
                               const StoreHistoryQuery *query,
                               GError                 **error) G_GNUC_WARN_UNUSED_RESULT;
void       book_history_gather (StoreDb                 *db,
                               GPtrArray               *actions);
GPtrArray *book_history_lines_of_visit (StoreDb         *db,
                               GArray                  *visit,
                               const BookRecord        *record,
                               gint64                   id,
                               guint                    most_records,
                               guint64                 *n_records,
                               GError                 **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *book_history_lines (StoreDb                 *db,
                               gint64                   action,
                               const BookRecord        *record,
                               gint64                   id,
                               guint                    most_records,
                               guint64                  count_to,
                               guint64                 *n_records,
                               GError                 **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *book_history_compare (StoreDb                *db,
                               const char              *from,
                               const char              *to,
                               const BookRecord        *record,
                               gint64                   id,
                               guint                    most_records,
                               guint64                 *n_records,
                               GCancellable            *cancellable,
                               GError                 **error) G_GNUC_WARN_UNUSED_RESULT;
char      *book_history_sentence (StoreDb               *db,
                                  const StoreActionInfo *info) G_GNUC_WARN_UNUSED_RESULT;
char      *book_message_text  (StoreDb                 *db,
                               const char              *message,
                               GVariant                *arguments) G_GNUC_WARN_UNUSED_RESULT;
const char *book_message_id   (guint                    i);

G_END_DECLS
