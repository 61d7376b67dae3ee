/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands about changes, from the proposal to carrying it out. A day may be earlier than today, never later, and
 * %NULL is today; a person of 0 is who writes. Fields and texts are as in book_edit_record().
 */

#include "book-attach.h"
#include "book-edit.h"
#include "book-form.h"

G_BEGIN_DECLS

BookEdit *book_change_propose       (gint64             model,
                                     const char *const *fields,
                                     const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
/* More of the same proposal, before it is run. */
void      book_change_propose_item  (BookEdit          *edit,
                                     const char *const *fields,
                                     const char *const *texts);
void      book_change_propose_issue (BookEdit          *edit,
                                     gint64             issue);

void      book_change_propose_attach (BookEdit             *edit,
                                     const BookAttachable *what,
                                     guint                 n);

/* What is in force: fills 'old' of an item that says part, step and setting, or characteristic. */
gboolean  book_change_fill_old      (StoreDb           *db,
                                     BookForm          *item,
                                     const char        *today,
                                     GError           **error) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_change_add_item      (gint64             change,
                                     const char *const *fields,
                                     const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_change_add_issue     (gint64             change,
                                     gint64             issue) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_change_set_effect    (gint64             change,
                                     gint64             characteristic,
                                     BookEffect         effect,
                                     gint64             by,
                                     gint64             second,
                                     const char        *reason) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_change_agree         (gint64             change,
                                     gint64             by,
                                     const char        *on,
                                     gint64             from_round,
                                     const char        *from_serial) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_change_carry_out     (gint64             change,
                                     const char        *on) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_change_withdraw      (gint64             change,
                                     const char        *on,
                                     const char        *reason) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
