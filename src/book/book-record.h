/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Any record by its description: read, find, insert, update, delete. Values stand in the order of the description's
 * fields; a reference is the id of what it refers to.
 */

#include "book.h"
#include "book-values.h"

G_BEGIN_DECLS

/**
 * BookRow:
 * @record: what kind
 * @id: its key
 * @values: (array): n_fields values; texts belong to the row and end in a zero byte
 *
 * One record as read.
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  BookValue        *values;
} BookRow;

BookRow *book_record_read (StoreDb          *db,
                           const BookRecord *record,
                           gint64            id,
                           GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void     book_row_free    (BookRow          *row);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookRow, book_row_free)

/* The value of a field by name; a field that the record does not have is a mistake of the caller. */
const BookValue *book_row_get (const BookRow *row,
                               const char    *field);

/**
 * BookKeyText:
 * @BOOK_KEY_TEXT_EXACT: every part, empty ones too: what files carry and book_record_find_text() reads
 * @BOOK_KEY_TEXT_SHOWN: without empty parts
 * @BOOK_KEY_TEXT_SHORT: without empty parts and without the model
 *
 * How a visible key is written as one text: its parts joined by '/'; a '/' or '\\' within a part follows a '\\'.
 */
typedef enum
{
  BOOK_KEY_TEXT_EXACT,
  BOOK_KEY_TEXT_SHOWN,
  BOOK_KEY_TEXT_SHORT
} BookKeyText;

/* Called for each row; the row and its texts are valid during the call. FALSE with @error set stops. */
typedef gboolean (*BookRowFunc) (const BookRow *row,
                                 gpointer       data,
                                 GError       **error);

gboolean book_record_each     (StoreDb          *db,
                               const BookRecord *record,
                               BookRowFunc       func,
                               gpointer          data,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_each_by_key (StoreDb       *db,
                               const BookRecord *record,
                               BookRowFunc       func,
                               gpointer          data,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_count    (StoreDb          *db,
                               const BookRecord *record,
                               gint64           *count,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_count_of (StoreDb          *db,
                               const BookRecord *record,
                               gint64            model,
                               gint64           *count,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;

gboolean book_record_find_id  (StoreDb          *db,
                               const BookRecord *record,
                               const BookValue  *key,
                               gint64           *id,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_find_text (StoreDb         *db,
                               const BookRecord *record,
                               const char       *text,
                               gint64           *id,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_next_ordinal (StoreDb      *db,
                               const BookRecord *record,
                               const BookValue  *key,
                               gint64           *ordinal,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
char    *book_record_key_text (StoreDb          *db,
                               const BookRecord *record,
                               gint64            id,
                               BookKeyText       form,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
char    *book_record_key_text_of (StoreDb       *db,
                               const BookRecord *record,
                               const BookValue  *values,
                               BookKeyText       form,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;

gboolean book_record_insert   (StoreAction      *action,
                               const BookRecord *record,
                               const BookValue  *values,
                               gint64           *id,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_update   (StoreAction      *action,
                               const BookRecord *record,
                               gint64            id,
                               const BookValue  *values,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_delete   (StoreAction      *action,
                               const BookRecord *record,
                               gint64            id,
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_record_goes_with (StoreDb         *db,
                               const BookRecord *record,
                               gint64            id,
                               guint             counts[BOOK_N_RECORDS + 1],
                               GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
