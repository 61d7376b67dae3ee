/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-widening-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "book.h"
#include "book-choices.h"
#include "book-record.h"
#include "store-error.h"

/*
 * Method. Limits that became wider may let a unit pass that failed. Where the book names persons or roles, as in
 * 'owner, EH', only they may do that, however it is done: by a row of a later day, by changing a row, by deleting a
 * narrower one, or by undoing any of these. The setting itself, once it names somebody, is theirs as well: else it were
 * no hindrance. When a journal is replayed nobody writes, and nothing is asked.
 */

/* A row of limits as it was before; of a new one only the key. */
typedef struct
{
  StoreOp op;
  gint64  id;
  gint64  characteristic; /* 0: as it is now */
  char    from[11];       /* "": as it is now */
  double  lower;          /* NAN: as it is now */
  double  upper;
} Moved;

struct _BookWidening
{
  GArray  *moved;       /* Moved */
  char    *allowed;     /* what the setting said before this commit, if that was changed */
  gboolean has_setting; /* it was touched */
};

void
book_widening_free (BookWidening *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->moved);
  g_free (self->allowed);
  g_free (self);
}

static const StoreValue *
before (const StoreRow *row, const char *field)
{
  guint i = (guint) book_field_index (book_record_of_table (row->table), field) + 1;

  return row->before != NULL && i < row->n_columns && row->before[i].type != STORE_UNCHANGED ? &row->before[i] : NULL;
}

static void
note_limit (BookWidening *self, const StoreRow *row)
{
  const StoreValue *characteristic = before (row, "characteristic"), *from = before (row, "from_date");
  const StoreValue *lower = before (row, "lower"), *upper = before (row, "upper");
  Moved moved = { row->op, row->id, characteristic != NULL ? characteristic->integer : 0, "", NAN, NAN };

  if (from != NULL && from->text != NULL)
    g_strlcpy (moved.from, from->text, sizeof moved.from);
  if (lower != NULL)
    moved.lower = store_value_real (lower, -INFINITY);
  if (upper != NULL)
    moved.upper = store_value_real (upper, INFINITY);
  g_array_append_val (self->moved, moved);
}

/* Whether a changed row is the setting, by its name before or now. */
static gboolean
is_the_setting (StoreDb *db, const StoreRow *row, gboolean *is, GError **error)
{
  static const char sql[] = "SELECT name FROM setting WHERE id = ?1";
  const StoreValue *name = before (row, "name");
  g_autoptr(StoreStatement) statement = NULL;
  gboolean found;

  *is = name != NULL && name->type == SQLITE_TEXT && strcmp (name->text, BOOK_SETTING_WIDEN) == 0;
  if (*is || row->op == STORE_DELETE)
    return TRUE;
  statement = store_db_statement (db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, row->id);
  if (!store_db_next (db, statement, _("The settings could not be read"), &found, error))
    return FALSE;
  *is = found && g_strcmp0 ((const char *) sqlite3_column_text (statement, 0), BOOK_SETTING_WIDEN) == 0;
  return TRUE;
}

/**
 * book_widening_note:
 * @self: (inout) (nullable): made when there is something to note
 * @db: the writing connection, after the change
 * @row: a changed row of any kind
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_widening_note (BookWidening **self, StoreDb *db, const StoreRow *row, GError **error)
{
  BookRecordId id = book_record_of_table (row->table)->id;
  const StoreValue *value;
  gboolean is = FALSE;

  if (id != BOOK_RECORD_LIMIT && id != BOOK_RECORD_SETTING)
    return TRUE;
  if (*self == NULL)
    {
      *self = g_new0 (BookWidening, 1);
      (*self)->moved = g_array_new (FALSE, FALSE, sizeof (Moved));
    }
  if (id == BOOK_RECORD_LIMIT)
    {
      note_limit (*self, row);
      return TRUE;
    }
  if (!is_the_setting (db, row, &is, error))
    return FALSE;
  value = before (row, "value");
  if (is && !(*self)->has_setting && value != NULL && value->type == SQLITE_TEXT)
    (*self)->allowed = g_strdup (value->text);
  (*self)->has_setting |= is;
  return TRUE;
}

/* Whether @word is a role, or the initials of somebody in the book. */
static gboolean
is_known (StoreDb *db, const char *word, gboolean *known, GError **error)
{
  static const char sql[] = "SELECT 1 FROM person WHERE initials = ?1";
  g_autoptr(StoreStatement) statement = NULL;

  *known = TRUE;
  for (const BookChoice *role = book_roles; role->text != NULL; role++)
    if (strcmp (role->text, word) == 0)
      return TRUE;
  statement = store_db_statement (db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, word, -1, SQLITE_TRANSIENT);
  return store_db_next (db, statement, _("The persons could not be read"), known, error);
}

/* A word that names nobody would lock everybody out. */
static gboolean
check_words (StoreDb *db, const char *allowed, GError **error)
{
  g_auto(GStrv) words = g_strsplit (allowed, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      const char *word = g_strstrip (words[i]);
      gboolean known;

      if (!is_known (db, word, &known, error))
        return FALSE;
      if (known)
        continue;
      g_set_error (error, STORE_ERROR, STORE_ERROR_RULE,
                   _("Setting '%s': '%s' is neither a role nor the initials of anybody: write roles or initials with "
                     "commas between, as in 'owner, lead'."), BOOK_SETTING_WIDEN, word);
      return FALSE;
    }
  return TRUE;
}

/* Whether @allowed names @person or the person's role. */
static gboolean
may_widen (StoreDb *db, const char *allowed, gint64 person, gboolean *may, GError **error)
{
  static const char sql[] = "SELECT initials, role FROM person WHERE id = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_auto(GStrv) words = g_strsplit (allowed, ",", -1);
  gboolean found;

  *may = FALSE;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, person);
  if (!store_db_next (db, statement, _("The persons could not be read"), &found, error))
    return FALSE;
  for (guint i = 0; found && words[i] != NULL; i++)
    {
      const char *word = g_strstrip (words[i]);

      *may |= g_strcmp0 (word, (const char *) sqlite3_column_text (statement, 0)) == 0;
      for (const BookChoice *role = book_roles; role->text != NULL; role++)
        *may |= role->code == sqlite3_column_int (statement, 1) && strcmp (role->text, word) == 0;
    }
  return TRUE;
}

/* Fills in what a changed row did not say: of a deleted one all is known. */
static gboolean
read_now (StoreDb *db, const Moved *moved, Moved *now, GError **error)
{
  static const char sql[] = "SELECT characteristic, from_date, lower, upper FROM \"limit\" WHERE id = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  StoreValue lower, upper;
  gboolean found;

  *now = *moved;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, moved->id);
  if (!store_db_next (db, statement, _("The limits could not be read"), &found, error))
    return FALSE;
  if (!found) /* deleted, now or later in the same action */
    return TRUE;
  store_value_read (statement, 2, &lower);
  store_value_read (statement, 3, &upper);
  now->characteristic = sqlite3_column_int64 (statement, 0);
  g_strlcpy (now->from, (const char *) sqlite3_column_text (statement, 1), sizeof now->from);
  now->lower = store_value_real (&lower, -INFINITY);
  now->upper = store_value_real (&upper, INFINITY);
  return TRUE;
}

/* The limits in force just before a row's day; FALSE in @found when there were none. */
static gboolean
read_prior (StoreDb *db, const Moved *row, Moved *prior, gboolean *found, GError **error)
{
  static const char sql[] = "SELECT lower, upper FROM \"limit\" WHERE characteristic = ?1 AND from_date < ?2 AND id <> ?3 "
                            "ORDER BY from_date DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  StoreValue lower, upper;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, row->characteristic);
  sqlite3_bind_text (statement, 2, row->from, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 3, row->id);
  if (!store_db_next (db, statement, _("The limits could not be read"), found, error))
    return FALSE;
  if (!*found)
    return TRUE;
  store_value_read (statement, 0, &lower);
  store_value_read (statement, 1, &upper);
  prior->lower = store_value_real (&lower, -INFINITY);
  prior->upper = store_value_real (&upper, INFINITY);
  return TRUE;
}

/* NAN, which stands for 'as it is now', is never wider. */
static gboolean
is_wider (const Moved *one, const Moved *than)
{
  return one->lower < than->lower || one->upper > than->upper;
}

static gboolean
is_widening (StoreDb *db, const Moved *moved, Moved *now, gboolean *widening, GError **error)
{
  Moved prior = *moved;
  gboolean found;

  *widening = FALSE;
  if (!read_now (db, moved, now, error))
    return FALSE;
  if (moved->op == STORE_UPDATE && is_wider (now, moved))
    *widening = TRUE;
  if (*widening || (moved->op == STORE_UPDATE && moved->from[0] == '\0'))
    return TRUE;
  if (!read_prior (db, now, &prior, &found, error))
    return FALSE;
  *widening = found && (moved->op == STORE_DELETE ? is_wider (&prior, moved) : is_wider (now, &prior));
  return TRUE;
}

static gboolean
refuse (StoreDb *db, gint64 characteristic, const char *allowed, GError **error)
{
  g_autofree char *key = characteristic == 0 ? NULL
                         : book_record_key_text (db, book_record (BOOK_RECORD_CHARACTERISTIC), characteristic,
                                                 BOOK_KEY_TEXT_SHOWN, NULL);

  if (key != NULL)
    g_set_error (error, STORE_ERROR, STORE_ERROR_RULE,
                 _("The limits of '%s' would become wider, and in this book only these widen limits: %s. Let one of them do it."),
                 key, allowed);
  else
    g_set_error (error, STORE_ERROR, STORE_ERROR_RULE,
                 _("Only those who may widen limits now can say who may: %s. Let one of them do it."), allowed);
  return FALSE;
}

/**
 * book_widening_check:
 * @self: what was noted
 * @db: the writing connection, after all changes
 * @error: return location: %STORE_ERROR_RULE when the writer may not do it
 *
 * Returns: whether the commit may go on
 */
gboolean
book_widening_check (BookWidening *self, StoreDb *db, GError **error)
{
  gint64 person = store_db_writer (db);
  g_autofree char *now_allowed = NULL;
  const char *allowed;
  gboolean may;

  if (person < 0)
    return TRUE; /* a replay */
  if (!book_setting_read (db, BOOK_SETTING_WIDEN, &now_allowed, error)
      || (self->has_setting && now_allowed != NULL && !check_words (db, now_allowed, error)))
    return FALSE;
  allowed = self->has_setting ? self->allowed : now_allowed;
  if (allowed == NULL) /* nobody is named, or first by this commit: a whole book may come in one */
    return TRUE;
  if (!may_widen (db, allowed, person, &may, error))
    return FALSE;
  if (may)
    return TRUE;
  if (self->allowed != NULL)
    return refuse (db, 0, allowed, error);
  for (guint i = 0; i < self->moved->len; i++)
    {
      const Moved *moved = &g_array_index (self->moved, Moved, i);
      gboolean widening;
      Moved now;

      if (!is_widening (db, moved, &now, &widening, error))
        return FALSE;
      if (widening)
        return refuse (db, now.characteristic, allowed, error);
    }
  return TRUE;
}
