/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What must hold of records beyond their SQL types. The same rules are asked before a row is stored (by the importer,
 * to name line and column) and by the store's hooks on every row that a commit touches, however it came.
 */

#include "book-record.h"

G_BEGIN_DECLS

typedef struct _BookRules BookRules;

/* Remembers what it looked up; meant for one action or one reading transaction. */
BookRules *book_rules_new      (StoreDb          *db);
void       book_rules_free     (BookRules        *rules);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookRules, book_rules_free)

gboolean   book_rules_check    (BookRules        *rules,
                                const BookRecord *record,
                                const BookValue  *values,
                                const BookField **field,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   book_rules_model_of (BookRules        *rules,
                                const BookRecord *record,
                                gint64            id,
                                const BookValue  *values,
                                gint64           *model,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
