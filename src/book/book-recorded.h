/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was recorded of a model at the end of the days on which its rounds were decided.
 */

#include "book-evidence.h"
#include "store-write.h"

G_BEGIN_DECLS

#define BOOK_RECORDED_BYTES (G_GINT64_CONSTANT (32) << 20) /* of changesets, up to which the journal is replayed without being asked for */

/**
 * BookRecorded:
 * @rounds: (element-type BookEvidence): by round of the evidence; %NULL: not decided yet, or nothing of it was recorded by then
 * @too_long: the journal is longer than was asked for: nothing was replayed
 */
typedef struct
{
  GPtrArray *rounds;
  gboolean   too_long;
} BookRecorded;

BookRecorded *book_recorded_load (StoreDb            *db,
                                  const BookEvidence *evidence,
                                  const char         *today,
                                  gint64              most,
                                  StoreProgress       progress,
                                  gpointer            progress_data,
                                  GCancellable       *cancellable,
                                  GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void          book_recorded_free (BookRecorded       *recorded);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookRecorded, book_recorded_free)

G_END_DECLS
