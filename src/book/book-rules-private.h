/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The three parts of the rules: what one row must say by itself and with the rows it refers to (book-rules.c, with the
 * list of sentences in book-rules-rows.c), and what the store's hooks do with them at a commit (book-commit.c).
 */

#include "book-rules.h"

G_BEGIN_DECLS

/* book-rules.c */
gboolean book_rules_kind_of (BookRules        *rules,
                             gint64            characteristic,
                             gint64           *kind,
                             GError          **error);
gboolean book_rules_is_safety (BookRules      *rules,
                             gint64            characteristic,
                             gboolean         *is_safety,
                             GError          **error);
void     book_rules_forget  (BookRules        *rules,
                             const BookRecord *record,
                             gint64            id);

/* book-rules-rows.c */
gboolean book_rules_check_row (BookRules        *rules,
                               const BookRecord *record,
                               const BookValue  *values,
                               const BookField **field,
                               GError          **error);

/* book-commit.c: hooks of the profile */
gpointer book_rules_begin  (StoreDb        *db,
                            gpointer        user);
gboolean book_rules_row    (StoreDb        *db,
                            const StoreRow *row,
                            gpointer        context,
                            GError        **error);
gboolean book_rules_finish (StoreDb        *db,
                            gpointer        context,
                            GError        **error);
void     book_rules_end    (gpointer        context);

G_END_DECLS
