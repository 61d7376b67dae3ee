/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Search across the book: every word typed must occur in a record's texts, without regard to case and accents.
 */

#include "book.h"

G_BEGIN_DECLS

/**
 * BookHit:
 * @record: what kind of record
 * @id: its key
 * @model: of which model; 0: shared
 * @key: its visible key as text
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            model;
  char             *key;
} BookHit;

void       book_hit_free      (BookHit     *hit);
GPtrArray *book_search        (StoreDb     *db,
                               const char  *words,
                               gint64       model,
                               guint        most,
                               GError     **error) G_GNUC_WARN_UNUSED_RESULT;
char      *book_search_fold   (const char  *text,
                               gssize       length) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
