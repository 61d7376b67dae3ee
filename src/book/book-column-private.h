/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a column of a row holds that SQLite gave. */

#include "book-day.h"
#include "store-db.h"

G_BEGIN_DECLS

/* A text that lives as long as @strings, or (transfer full) one of its own; "" for none. */
const char *book_column_keep (GStringChunk   *strings,
                              StoreStatement *statement,
                              int             column);
char       *book_column_dup  (StoreStatement *statement,
                              int             column) G_GNUC_WARN_UNUSED_RESULT;
BookDay     book_column_day  (StoreStatement *statement,
                              int             column);
/* @empty where there is none. */
double      book_column_real (StoreStatement *statement,
                              int             column,
                              double          empty);

G_END_DECLS
