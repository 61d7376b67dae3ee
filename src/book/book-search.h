/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Search across the book: every word typed must begin a word of a record's texts, without regard to case and accents; a
 * fragment within a serial or another key is found too, with its hyphens and spaces or without, and one within a text where
 * nothing else is.
 */

#include "book.h"

G_BEGIN_DECLS

/**
 * BookHit:
 * @record: what kind of record
 * @id: its key
 * @model: of which model; 0: shared
 * @key: its visible key as text
 * @title: what people call it beside its key; "" if it is called nothing
 * @field: (nullable): in which field the words were found; %NULL if in the key
 * @piece: of the field's text, around what was found; "" without a field
 * @mark: where in @piece what was found begins, in bytes
 * @mark_length: how long it is
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            model;
  char             *key;
  char             *title;
  const BookField  *field;
  char             *piece;
  gsize             mark;
  gsize             mark_length;
} BookHit;

void       book_hit_free        (BookHit     *hit);
GPtrArray *book_search          (StoreDb     *db,
                                 const char  *words,
                                 gint64       model,
                                 guint        most,
                                 gboolean    *more,
                                 GError     **error) G_GNUC_WARN_UNUSED_RESULT;
char      *book_search_fold     (const char  *text,
                                 gssize       length) G_GNUC_WARN_UNUSED_RESULT;
char      *book_search_piece    (const char  *text,
                                 const char  *folded_word,
                                 gsize       *mark,
                                 gsize       *mark_length) G_GNUC_WARN_UNUSED_RESULT;
void       book_search_catch_up (Book        *book);

G_END_DECLS
