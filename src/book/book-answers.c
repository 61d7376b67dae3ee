/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-answers.h"

#include <glib/gi18n-lib.h>

#include "store-history.h"

/**
 * book_version_read:
 * @db: any connection
 * @model: a model; 0: only what is shared
 * @version: (out): how often each was touched
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_version_read (StoreDb *db, gint64 model, BookVersion *version, GError **error)
{
  static const char sql[] = "SELECT model, version FROM model_version WHERE model IN (0, ?1)";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more;
  gboolean ok;

  *version = (BookVersion){ 0 };
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, model);
  while ((ok = store_db_next (db, statement, _("The book could not be read"), &more, error)) && more)
    *(sqlite3_column_int64 (statement, 0) == 0 ? &version->shared : &version->model) =
      sqlite3_column_int64 (statement, 1);
  return ok;
}

gboolean
book_head_read (StoreDb *db, gint64 *place, char **head, GError **error)
{
  return store_history_head (db, place, head, error);
}

gboolean
book_head_holds (StoreDb *db, gint64 place, const char *head, gboolean *holds, GError **error)
{
  return store_history_holds (db, place, head, holds, error);
}

/**
 * book_identity_read:
 * @db: a reader's connection
 * @uuid: (out) (transfer full): which book it is; copies of a book have the same
 * @error: return location
 *
 * Returns: whether it could be read
 */
gboolean
book_identity_read (StoreDb *db, char **uuid, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, "SELECT uuid FROM identity", error);
  gboolean row;

  if (statement == NULL || !store_db_next (db, statement, _("The book could not be read"), &row, error))
    return FALSE;
  *uuid = g_strdup (row ? (const char *) sqlite3_column_text (statement, 0) : "");
  return TRUE;
}

/**
 * book_written_by:
 * @db: a reader's connection
 * @origins: (out): different users, computers and copies of the file under which entries were made
 * @place: (out): the first entry of another one than the first; 0: there is none
 * @day: (out) (transfer full): ISO 8601 date on which it was made (UTC); "" without one
 * @error: return location
 *
 * An origin belongs to one user on one computer with one file: several do not prove that the file was copied, one does not
 * prove that it was not. Of what was entered in another copy the file itself can know nothing.
 *
 * Returns: whether it could be read
 */
gboolean
book_written_by (StoreDb *db, guint *origins, gint64 *place, char **day, GError **error)
{
  static const char sql[] = "SELECT (SELECT count (DISTINCT origin) FROM entry), e.place, substr (a.time, 1, 10) FROM entry e"
                            " JOIN action a ON a.id = e.action"
                            " WHERE e.origin <> (SELECT origin FROM entry ORDER BY place LIMIT 1) ORDER BY e.place LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  *origins = 1;
  *place = 0;
  *day = NULL;
  if (statement == NULL || !store_db_next (db, statement, _("The journal could not be read"), &row, error))
    return FALSE;
  if (row)
    {
      *origins = (guint) sqlite3_column_int (statement, 0);
      *place = sqlite3_column_int64 (statement, 1);
    }
  *day = g_strdup (row ? (const char *) sqlite3_column_text (statement, 2) : "");
  return TRUE;
}

/* Both statements begin with these parameters; nothing is copied. */
static void
bind_question (StoreStatement *statement, const BookQuestion *question)
{
  sqlite3_bind_int64 (statement, 1, question->model);
  sqlite3_bind_text (statement, 2, question->question, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 3, question->version.model);
  sqlite3_bind_int64 (statement, 4, question->version.shared);
  sqlite3_bind_int64 (statement, 5, question->through);
  sqlite3_bind_text (statement, 6, question->today, -1, SQLITE_STATIC);
}

/**
 * book_answer_get:
 * @db: any connection
 * @question: what is asked, at the versions as they are now
 * @answer: (out) (transfer full) (nullable): the kept answer; %NULL if none is kept or the kept one is out of date
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_answer_get (StoreDb *db, const BookQuestion *question, GBytes **answer, GError **error)
{
  static const char sql[] = "SELECT answer FROM answer WHERE model = ?1 AND question = ?2 AND model_version = ?3 "
                            "AND shared_version = ?4 AND through = ?5 AND today = ?6";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean found;

  *answer = NULL;
  if (statement == NULL)
    return FALSE;
  bind_question (statement, question);
  if (!store_db_next (db, statement, _("The book could not be read"), &found, error))
    return FALSE;
  if (found)
    *answer = g_bytes_new (sqlite3_column_blob (statement, 0), (gsize) sqlite3_column_bytes (statement, 0));
  return TRUE;
}

/**
 * book_answer_put:
 * @action: an action
 * @question: what was asked, at the versions that the answer was read at
 * @answer: the answer
 * @error: return location
 *
 * Keeps the last answer to each question about a model. It is no record: not journaled, not undone.
 *
 * Returns: whether it is kept
 */
gboolean
book_answer_put (StoreAction *action, const BookQuestion *question, GBytes *answer, GError **error)
{
  static const char sql[] =
    "INSERT INTO answer (model, question, model_version, shared_version, through, today, answer) "
    "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (model, question) DO UPDATE SET model_version = ?3, "
    "shared_version = ?4, through = ?5, today = ?6, answer = ?7";
  StoreDb *db = store_action_db (action);
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gsize size;
  const void *bytes = g_bytes_get_data (answer, &size);

  if (statement == NULL)
    return FALSE;
  bind_question (statement, question);
  sqlite3_bind_blob64 (statement, 7, size > 0 ? bytes : "", size, SQLITE_STATIC);
  store_action_keep (action);
  return store_db_run (db, statement, _("The answer could not be kept"), error);
}

typedef struct
{
  BookQuestion question;
  GBytes      *answer;
} Keeping;

static void
keeping_free (gpointer data)
{
  Keeping *keeping = data;

  g_free ((char *) keeping->question.question);
  g_free ((char *) keeping->question.today);
  g_bytes_unref (keeping->answer);
  g_free (keeping);
}

static gboolean
keep (StoreAction *action, gpointer data, GError **error)
{
  Keeping *keeping = data;

  return book_answer_put (action, &keeping->question, keeping->answer, error);
}

static void
kept (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  /* An answer that could not be kept is computed again: only the log is told. */
  if (!store_write_finish (data, result, NULL, &error))
    g_debug ("An answer was not kept: %s", error->message);
}

/**
 * book_answer_keep:
 * @book: a book, kept open until the write is done
 * @question: what was asked; copied
 * @answer: the answer
 *
 * As book_answer_put(), in the background, and nobody hears whether it worked.
 */
void
book_answer_keep (Book *book, const BookQuestion *question, GBytes *answer)
{
  const StoreIntent intent = { .action = "answer-kept" };
  Keeping *keeping;

  if (store_is_remote (book_get_store (book)))
    return; /* looking must not make a program the one writer */
  keeping = g_new0 (Keeping, 1);
  keeping->question = *question;
  keeping->question.question = g_strdup (question->question);
  keeping->question.today = g_strdup (question->today);
  keeping->answer = g_bytes_ref (answer);
  store_write_async (book_get_store (book), &intent, keep, keeping, keeping_free, NULL, kept, book_get_store (book));
}
