/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands of the window and of scripts: each is one named action of the journal. Those about issues, changes and
 * units stand in book-issue.h, book-change.h and book-unit.h.
 */

#include <gio/gio.h>
#include "book.h"

G_BEGIN_DECLS

typedef struct _BookEdit BookEdit;

/* What a person typed into the cell of a reading. */
typedef struct
{
  BookMark mark;
  gboolean has_value;
  double   value;
} BookTyped;

gboolean  book_typed_parse          (BookCharacteristicKind kind,
                                     const char            *text,
                                     BookTyped             *typed,
                                     GError               **error) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_edit_reading         (gint64           unit,
                                     gint64           characteristic,
                                     guint            attempt,
                                     guint            n,
                                     const BookTyped *typed,
                                     const char      *taken) G_GNUC_WARN_UNUSED_RESULT;
/* Of book_edit_reading(): what it was measured with other than usual, and a note; "" takes a note away. */
void      book_edit_reading_gauge   (BookEdit        *edit,
                                     gint64           gauge);
void      book_edit_reading_note    (BookEdit        *edit,
                                     const char      *note);
BookEdit *book_edit_void            (gint64           reading,
                                     const char      *reason) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_add_unit        (gint64           round,
                                     const char      *serial,
                                     gint64           part) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_add_person      (const char      *initials,
                                     BookRole         role,
                                     const char      *name) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_field           (BookRecordId     record,
                                     gint64           id,
                                     const char      *field,
                                     const char      *text) G_GNUC_WARN_UNUSED_RESULT;

/* Any record from a form (book-form.h), and away with it. */
BookEdit *book_edit_record          (BookRecordId       record,
                                     gint64             id,
                                     const char *const *fields,
                                     const char *const *texts,
                                     const char *const *expected) G_GNUC_WARN_UNUSED_RESULT;
void      book_edit_record_refer    (BookEdit          *edit,
                                     const char        *field,
                                     gint64             id);
/* Several commands as one deed: a block that is pasted. */
BookEdit *book_edit_several         (const char        *message,
                                     BookRecordId       about,
                                     gint64             id,
                                     GPtrArray         *edits) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_delete          (BookRecordId       record,
                                     gint64             id) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_refused         (const char        *sentence) G_GNUC_WARN_UNUSED_RESULT;

void      book_edit_set_today       (BookEdit        *edit,
                                     const char      *today);
void      book_edit_free            (BookEdit        *edit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookEdit, book_edit_free)

gboolean  book_edit_run             (Book                *book,
                                     BookEdit            *edit,
                                     gint64               person,
                                     gint64               sitting,
                                     StoreReceipt        *receipt,
                                     gint64              *id,
                                     GError             **error);
void      book_edit_run_async       (Book                *book,
                                     BookEdit            *edit,
                                     gint64               person,
                                     gint64               sitting,
                                     GCancellable        *cancellable,
                                     GAsyncReadyCallback  done,
                                     gpointer             user_data);
void      book_edit_run_receipt     (GAsyncResult        *result,
                                     StoreReceipt        *receipt);
const GError *book_edit_run_error   (GAsyncResult        *result);
BookEdit *book_edit_run_take_back   (GAsyncResult        *result) G_GNUC_WARN_UNUSED_RESULT;
gboolean  book_edit_run_finish      (Book                *book,
                                     GAsyncResult        *result,
                                     StoreReceipt        *receipt,
                                     gint64              *id,
                                     GError             **error);

G_END_DECLS
