/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * All visible keys of one kind of record in memory: key to id and id to key, for importing and exporting many rows.
 * A key is the values of the record's key fields in order, references as ids: a unit is (id of its round, serial).
 */

#include "book-record.h"

G_BEGIN_DECLS

typedef struct _BookKeys BookKeys;

BookKeys *book_keys_load   (StoreDb          *db,
                            const BookRecord *record,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void      book_keys_free   (BookKeys         *keys);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookKeys, book_keys_free)

gsize     book_keys_count  (const BookKeys   *keys);
gint64    book_keys_find   (const BookKeys   *keys,
                            const BookValue  *key);
gboolean  book_keys_add    (BookKeys         *keys,
                            const BookValue  *key,
                            gint64            id);
gboolean  book_keys_get    (const BookKeys   *keys,
                            gint64            id,
                            BookValue        *key);

G_END_DECLS
