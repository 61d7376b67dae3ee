/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The book: a journaled file with the records of book-fields. Reading goes through any StoreDb of its store; writing
 * through store_write() or the commands of book-edit.h.
 */

#include "book-fields.h"
#include "store.h"
#include "store-write.h"

G_BEGIN_DECLS

typedef struct _Book Book;

/**
 * BookError:
 * @BOOK_ERROR_VALUE: a text or value that a field cannot hold
 * @BOOK_ERROR_MISSING: no record has that visible key
 * @BOOK_ERROR_REFUSED: the command would make evidence vanish, or what it asks for is not possible
 * @BOOK_ERROR_CHANGED: somebody else changed the field meanwhile; book_error_now() has what it holds now
 *
 * What can be wrong with what a person asked for. A rule broken at a commit is %STORE_ERROR_RULE.
 */
typedef enum
{
  BOOK_ERROR_VALUE,
  BOOK_ERROR_MISSING,
  BOOK_ERROR_REFUSED,
  BOOK_ERROR_CHANGED
} BookError;

#define BOOK_ERROR (book_error_quark ())
GQuark book_error_quark (void);

/* For forms: the field to put the sentence beside, and what it holds now (book-error.c). */
const char *book_error_field (const GError *error);
const char *book_error_now   (const GError *error);

#define BOOK_APPLICATION_ID 0x4654544c /* 'FTTL' */
#define BOOK_SUFFIX         ".fettle"

/* What the store must know: journaled tables are those of book_record_in_order(), by the same index. */
const StoreProfile *book_profile (void);

/* The description of a journaled table by its index in the profile, and back. */
const BookRecord *book_record_of_table (guint table);
guint             book_table_of_record (const BookRecord *record);

Book       *book_create        (const char         *path,
                                const StoreOptions *options,
                                GError            **error) G_GNUC_WARN_UNUSED_RESULT;
Book       *book_open          (const char         *path,
                                const StoreOptions *options,
                                GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean    book_close         (Book               *book,
                                GError            **error);
void        book_free          (Book               *book);
Store      *book_get_store     (Book               *book);
const char *book_get_path      (Book               *book);

/* Names of people, kept outside the journal. */
gboolean book_person_name_read (StoreDb     *db,
                                gint64       person,
                                char       **name,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_person_name_set  (StoreAction *action,
                                gint64       person,
                                const char  *name,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;

gboolean book_setting_read     (StoreDb     *db,
                                const char  *name,
                                char       **value,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_setting_write    (StoreAction *action,
                                const char  *name,
                                const char  *value,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Book, book_free)

G_END_DECLS
