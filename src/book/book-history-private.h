/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Keys of records that are gone, as the action that last knew them tells.
 */

#include "book-history.h"

G_BEGIN_DECLS

char *book_history_key_then  (StoreDb          *db,
                              gint64            action,
                              const BookRecord *record,
                              gint64            id) G_GNUC_WARN_UNUSED_RESULT;
char *book_message_text_then (StoreDb          *db,
                              gint64            action,
                              const char       *message,
                              GVariant         *arguments) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
