/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Fields of one record as a person wrote them into a form, on their way to values.
 */

#include "book-record.h"

G_BEGIN_DECLS

typedef struct _BookTexts BookTexts;

BookTexts *book_texts_new   (BookRecordId       record,
                             const char *const *fields,
                             const char *const *texts,
                             const char *const *expected) G_GNUC_WARN_UNUSED_RESULT;
void       book_texts_free  (BookTexts         *texts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookTexts, book_texts_free)

/* A reference by key instead of by text; 0: empty. */
void       book_texts_refer (BookTexts         *texts,
                             const char        *field,
                             gint64             id);

/* Whether the form said something about a field, and what; NULL: nothing. */
const char *book_texts_get  (const BookTexts   *texts,
                             const char        *field);

/*
 * Takes the fields into @values, which hold what there is without them (@id 0: a new record). Texts of @values belong
 * to @texts. A field that was changed meanwhile is refused with BOOK_ERROR_CHANGED.
 */
gboolean   book_texts_take  (BookTexts         *texts,
                             StoreDb           *db,
                             gint64             id,
                             const char        *today,
                             BookValue         *values,
                             GError           **error) G_GNUC_WARN_UNUSED_RESULT;

/* What a person added that is kept outside the record (the name of a person); NULL: nothing. */
const char *book_texts_kept (const BookTexts   *texts);

G_END_DECLS
