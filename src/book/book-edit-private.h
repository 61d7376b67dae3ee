/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Commands that stand in files of their own: each gives its work and what the work needs.
 */

#include "book-edit.h"
#include "book-record.h"

G_BEGIN_DECLS

/* The work of a command in the writer thread. @id: key of the record that is edited or made. */
typedef gboolean (*BookEditWork) (StoreAction *action,
                                  gpointer     data,
                                  gint64      *id,
                                  GError     **error);

/**
 * book_edit_new:
 * @work: what is done
 * @message: (transfer none): id of the journal's sentence, static
 * @data: (transfer full): for @work
 * @free_data: (nullable): frees @data
 *
 * Returns: (transfer full): the command
 */
BookEdit *book_edit_new  (BookEditWork   work,
                          const char    *message,
                          gpointer       data,
                          GDestroyNotify free_data) G_GNUC_WARN_UNUSED_RESULT;

/* Says in the journal what was done to which record. */
void      book_edit_tell (StoreAction   *action,
                          const char    *message,
                          BookRecordId   record,
                          gint64         id);

G_END_DECLS
