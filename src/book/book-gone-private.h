/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Keys of records that are no longer in the book, as the journal tells.
 */

#include "book-record-private.h"

G_BEGIN_DECLS

BookGone *book_gone_new      (StoreDb          *db) G_GNUC_WARN_UNUSED_RESULT;
void      book_gone_free     (BookGone         *gone);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookGone, book_gone_free)

gboolean  book_gone_read     (BookGone         *gone,
                              gint64            action,
                              GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean  book_gone_find     (BookGone         *gone,
                              const BookRecord *record,
                              gint64            id,
                              BookValue        *key);
char     *book_gone_key_text (BookGone         *gone,
                              const BookRecord *record,
                              gint64            id,
                              GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
