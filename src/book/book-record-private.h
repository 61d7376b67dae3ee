/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the files of this folder share about rows and their keys.
 */

#include "book-record.h"

G_BEGIN_DECLS

/* Knows rows that are no longer in the book: book-gone-private.h. */
typedef struct _BookGone BookGone;

char *book_key_text (StoreDb          *db,
                     BookGone         *gone,
                     const BookRecord *record,
                     const BookValue  *key,
                     BookKeyText       form,
                     GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
