/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Storing the figures that somebody tried out for a rate, as one action: of benches, which models share, and of the
 * steps of one model.
 */

#include "book-edit.h"
#include "book-fields.h"

G_BEGIN_DECLS

BookEdit *book_rate_store     (gint64        model) G_GNUC_WARN_UNUSED_RESULT;
void      book_rate_store_set (BookEdit     *edit,
                               BookRecordId  record,
                               gint64        id,
                               const char   *field,
                               double        value);

G_END_DECLS
