/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Lines of the journal for those who want some of the records that an action changed.
 */

#include "book-history.h"

G_BEGIN_DECLS

#define BOOK_MESSAGE_TAPS "tally-taps"

typedef enum
{
  BOOK_HISTORY_TELL, /* the fields of this record */
  BOOK_HISTORY_SKIP, /* this record */
  BOOK_HISTORY_STOP  /* enough: read no further */
} BookHistoryChoice;

/* What becomes of a record that an action changed. */
typedef BookHistoryChoice (*BookHistoryWanted) (const BookRecord *record,
                                                gint64            id,
                                                StoreOp           op,
                                                gpointer          data);

/* Adds lines to @lines; @record and @id as in book_history_lines(). */
gboolean book_history_add_lines (StoreDb           *db,
                                 gint64             action,
                                 const BookRecord  *record,
                                 gint64             id,
                                 BookHistoryWanted  wanted,
                                 gpointer           data,
                                 GPtrArray         *lines,
                                 GError           **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
