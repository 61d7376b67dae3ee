/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Keeping what is searched for up to date; called by the hooks of a commit.
 */

#include "book-record.h"

G_BEGIN_DECLS

gboolean book_search_has_index (StoreDb          *db,
                                gboolean         *has_index,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_search_ready     (StoreDb          *db,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_search_put       (StoreDb          *db,
                                const BookRecord *record,
                                gint64            id,
                                gint64            model,
                                const BookValue  *values,
                                gboolean          is_new,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_search_remove    (StoreDb          *db,
                                const BookRecord *record,
                                gint64            id,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_search_rebuild   (StoreDb          *db,
                                gpointer          user,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
