/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the files that hold commands share. A command owns what it needs, so that it can run in the writer thread long
 * after the widget that asked is gone.
 */

#include "book-edit.h"
#include "book-error-private.h"
#include "book-record.h"

G_BEGIN_DECLS

/* The work of a command in the writer thread. @id: key of the record that is edited or made. */
typedef gboolean (*BookEditWork) (StoreAction *action,
                                  gpointer     data,
                                  gint64      *id,
                                  GError     **error);

/* The same for one that must know the day: it is given the command itself. */
typedef gboolean (*BookEditDatedWork) (BookEdit    *edit,
                                       StoreAction *action,
                                       GError     **error);

struct _BookEdit
{
  BookEditDatedWork work;
  BookEditWork      plain;   /* NULL where @work does it */
  const char       *message; /* static */
  gint64            id;      /* in or out: of the record that is edited */
  char             *today;   /* ISO 8601 */
  gpointer          data;
  GDestroyNotify    free_data;
};

/**
 * book_edit_new:
 * @work: what is done
 * @message: (transfer none): id of the journal's sentence, static
 * @data: (transfer full): for @work
 * @free_data: (nullable): frees @data
 *
 * Returns: (transfer full): the command
 */
BookEdit *book_edit_new    (BookEditWork      work,
                            const char       *message,
                            gpointer          data,
                            GDestroyNotify    free_data) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_edit_new_dated (BookEditDatedWork work,
                            const char       *message,
                            gpointer          data,
                            GDestroyNotify    free_data) G_GNUC_WARN_UNUSED_RESULT;

/* Says in the journal what was done to which record. */
void      book_edit_tell   (StoreAction     *action,
                            const char      *message,
                            BookRecordId     record,
                            gint64           id);

/* The same, with the one field that it was; its number goes into the journal, since texts have no place in messages. */
void      book_edit_tell_field (StoreAction *action,
                                BookRecordId record,
                                gint64       id,
                                guint        field);

/* Who writes, as a value; empty: nobody by name. */
BookValue book_edit_person (StoreAction     *action);

/* Fills @values: all with @value, or each with what stands in a new record; or one by name. */
void      book_values_fill (const BookRecord *record,
                            BookValue        *values,
                            BookValue         value);
void      book_values_begin (const BookRecord *record,
                            BookValue        *values);
void      book_values_set  (const BookRecord *record,
                            BookValue        *values,
                            const char       *field,
                            BookValue         value);

/* A day as a person gives it; NULL or empty: today. Its text lives as long as @on and the command. */
gboolean  book_edit_day    (BookEdit         *edit,
                            const BookRecord *record,
                            const char       *field,
                            const char       *on,
                            BookValue        *day,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;

/* A text as a person gives it; NULL: empty. */
gboolean  book_edit_text   (const BookRecord *record,
                            const char       *field,
                            const char       *text,
                            BookValue        *value,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;

/* @person, or who writes where that is 0; refused with @sentence where it is nobody. */
gboolean  book_edit_name   (StoreAction      *action,
                            const BookRecord *record,
                            const char       *field,
                            gint64            person,
                            const char       *sentence,
                            BookValue        *value,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;

/*
 * Stores a row after the rules were asked, so that the error names the field to blame. With @id 0 a new one, whose
 * ordinal is filled in where it is empty; else only what is not STORE_UNCHANGED.
 */
gboolean  book_edit_store  (StoreAction      *action,
                            const BookRecord *record,
                            BookValue        *values,
                            gint64           *id,
                            GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
