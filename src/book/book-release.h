/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands about a gate: opinions, exceptions, the decision. What they store is never changed, deleted or undone; a
 * later one takes it back, by name and with a reason. Fields and texts are as in book_edit_record(); an empty date is
 * today, an empty person who writes.
 */

#include "book-answers.h"
#include "book-edit.h"

G_BEGIN_DECLS

BookEdit *book_release_sign      (gint64             gate,
                                  const char *const *fields,
                                  const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_release_waive     (gint64             criterion,
                                  const char *const *fields,
                                  const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_release_decide    (gint64             gate,
                                  const char *const *fields,
                                  const char *const *texts,
                                  GBytes            *evidence,
                                  const BookVersion *seen) G_GNUC_WARN_UNUSED_RESULT;
/* A condition of a decision that is not run yet: what is to be done, by whom, until when. */
void      book_release_condition (BookEdit          *edit,
                                  const char        *what,
                                  const char        *person,
                                  const char        *due);
BookEdit *book_release_withdraw  (BookRecordId       record,
                                  gint64             id,
                                  const char *const *fields,
                                  const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
