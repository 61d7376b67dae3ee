/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands about issues and their findings. A day may be earlier than today, never later, and %NULL is today; a
 * person of 0 is who writes. Fields and texts are as in book_edit_record().
 */

#include "book-edit.h"
#include "book-form.h"

G_BEGIN_DECLS

BookEdit *book_issue_raise       (gint64             model,
                                  const char *const *fields,
                                  const char *const *texts,
                                  const char *const *finding_fields,
                                  const char *const *finding_texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_issue_raise_from  (gint64             reading,
                                  const char *const *fields,
                                  const char *const *texts,
                                  const char *const *finding_fields,
                                  const char *const *finding_texts) G_GNUC_WARN_UNUSED_RESULT;
/* The two forms that book_issue_raise_from() would store, but for the title. */
gboolean  book_issue_draft       (StoreDb           *db,
                                  gint64             reading,
                                  const char        *today,
                                  BookForm         **issue,
                                  BookForm         **finding,
                                  GError           **error) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_issue_contain     (gint64             issue,
                                  const char        *on) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_issue_know_cause  (gint64             issue,
                                  const char        *cause,
                                  BookCauseBasis     basis,
                                  const char        *on) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_issue_close       (gint64             issue,
                                  BookIssueOutcome   outcome,
                                  gint64             by,
                                  const char        *on) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_issue_reopen      (gint64             issue) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_issue_add_finding (gint64             issue,
                                  const char *const *fields,
                                  const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_finding_dispose   (gint64             finding,
                                  BookDisposition    disposition,
                                  gint64             by,
                                  const char        *on,
                                  const char        *reason) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_finding_excuse    (gint64             finding,
                                  gint64             by,
                                  const char        *on,
                                  const char        *reason) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
