/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the files of this folder share about rows and their keys.
 */

#include "book-record.h"

G_BEGIN_DECLS

/* Rows that are no longer in the book: @find gives the key of one by its id. */
typedef struct _BookGone BookGone;
struct _BookGone
{
  gboolean (*find) (const BookGone *gone,
                    gint64          id,
                    BookValue      *key);
};

char *book_key_text (StoreDb          *db,
                     const BookGone   *gone,
                     const BookRecord *record,
                     const BookValue  *key,
                     BookKeyText       form,
                     GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
