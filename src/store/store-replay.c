/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Replay: the journaled tables made anew, without indexes, in a file that SQLite keeps to itself; every changeset
 * applied to it; then row by row against the records. Foreign keys are off: they are checked on the records.
 */

#include "config.h"

#include "store-changes-private.h"
#include "store-check-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>
#include <string.h>

#define PERMILLE_FIRST 500
#define PERMILLE_SPAN  200
#define ROWS_PER_TELL  50000

struct _StoreReplay
{
  StoreCheck *check;
  StoreDb    *scratch;
  gint64      place; /* of the entry at hand */
};

/* Drops what only slows an import down. */
static gboolean
drop_indexes (StoreDb *scratch, GError **error)
{
  static const char sql[] = "SELECT name FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL";
  g_autoptr(GString) drops = g_string_new (NULL);
  gboolean ok, row;

  {
    g_autoptr(StoreStatement) statement = store_db_statement (scratch, sql, error);

    if (statement == NULL)
      return FALSE;
    while ((ok = store_db_next (scratch, statement, _("The journal could not be replayed"), &row, error)) && row)
      {
        char *drop = sqlite3_mprintf ("DROP INDEX \"%w\";", sqlite3_column_text (statement, 0));

        if (drop == NULL)
          return store_db_fail_code (scratch, SQLITE_NOMEM, _("The journal could not be replayed"), error);
        g_string_append (drops, drop);
        sqlite3_free (drop);
      }
  }
  return ok && store_db_exec (scratch, drops->str, error);
}

StoreReplay *
store_replay_new (StoreCheck *check, GError **error)
{
  g_autoptr(StoreReplay) replay = g_new0 (StoreReplay, 1);
  const StoreProfile *profile = check->db->profile;

  replay->check = check;
  replay->scratch = store_db_open ("", profile, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL, 0, error);
  if (replay->scratch == NULL ||
      !store_db_exec (replay->scratch, "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; PRAGMA foreign_keys = OFF; "
                                       "PRAGMA cache_size = -262144", error))
    return NULL;
  for (guint i = 0; i < profile->n_migrations; i++)
    if (!store_db_exec (replay->scratch, profile->migrations[i], error))
      return NULL;
  if (!drop_indexes (replay->scratch, error) || !store_db_exec (replay->scratch, "BEGIN", error))
    return NULL;
  return g_steal_pointer (&replay);
}

void
store_replay_free (StoreReplay *replay)
{
  if (replay->scratch != NULL)
    store_db_rollback (replay->scratch);
  g_clear_pointer (&replay->scratch, store_db_close);
  g_free (replay);
}

static int
on_conflict (void *data, int why, sqlite3_changeset_iter *at)
{
  StoreReplay *replay = data;
  const char *name;
  gint64 id;

  if (!store_changes_conflict (at, &name, &id))
    return SQLITE_CHANGESET_ABORT;
  store_check_add (replay->check, STORE_CHECK_REPLAY, name, id, NULL,
                   g_strdup_printf (_("Entry %" PRId64 " of the journal does not fit row %" PRId64
                                      " of '%s': open the latest copy of the file instead."),
                                    replay->place, id, name));
  return SQLITE_CHANGESET_OMIT;
}

gboolean
store_replay_apply (StoreReplay *replay, gint64 place, GBytes *raw, GError **error)
{
  gsize length;
  const void *bytes = g_bytes_get_data (raw, &length);
  int code;

  replay->place = place;
  code = sqlite3changeset_apply_v2 (replay->scratch->handle, (int) length, (void *) bytes, NULL, on_conflict, replay, NULL, NULL,
                                    SQLITE_CHANGESETAPPLY_NOSAVEPOINT);
  if (code != SQLITE_OK)
    return store_db_fail_code (replay->scratch, code, _("The journal could not be replayed"), error);
  return TRUE;
}

static gboolean
columns_equal (sqlite3_stmt *a, sqlite3_stmt *b, int column)
{
  int type = sqlite3_column_type (a, column);
  double one, other;
  int length;

  if (type != sqlite3_column_type (b, column))
    return FALSE;
  switch (type)
    {
    case SQLITE_INTEGER:
      return sqlite3_column_int64 (a, column) == sqlite3_column_int64 (b, column);
    case SQLITE_FLOAT:
      one = sqlite3_column_double (a, column);
      other = sqlite3_column_double (b, column);
      return memcmp (&one, &other, sizeof one) == 0; /* NOLINT(bugprone-suspicious-memory-comparison): bits are kept */
    case SQLITE_TEXT:
    case SQLITE_BLOB:
      length = sqlite3_column_bytes (a, column);
      return length == sqlite3_column_bytes (b, column) &&
             (length == 0 || memcmp (sqlite3_column_blob (a, column), sqlite3_column_blob (b, column), (gsize) length) == 0);
    default:
      return TRUE;
    }
}

static void
compare_row (StoreReplay *replay, const char *table, sqlite3_stmt *record, sqlite3_stmt *replayed)
{
  int n_columns = MIN (sqlite3_column_count (record), sqlite3_column_count (replayed));
  gint64 id = sqlite3_column_int64 (record, 0);

  for (int i = 1; i < n_columns; i++)
    if (!columns_equal (record, replayed, i))
      {
        const char *column = sqlite3_column_name (record, i);

        store_check_add (replay->check, STORE_CHECK_REPLAY, table, id, column,
                         g_strdup_printf (_("Row %" PRId64 " of '%s' was altered past the journal in '%s': correct it."),
                                          id, table, column));
      }
}

static void
add_odd_row (StoreReplay *replay, const char *table, gint64 id, gboolean extra)
{
  char *sentence = extra ? g_strdup_printf (_("Row %" PRId64 " of '%s' came past the journal: remove it."), id, table)
                         : g_strdup_printf (_("Row %" PRId64 " of '%s' went past the journal: enter it again."), id, table);

  store_check_add (replay->check, STORE_CHECK_REPLAY, table, id, NULL, sentence);
}

/* Steps both in order of key. */
static gboolean
compare_rows (StoreReplay *replay, const char *table, sqlite3_stmt *record, sqlite3_stmt *replayed, guint permille, GError **error)
{
  StoreDb *db = replay->check->db;
  const char *what = _("The records could not be held against the journal");
  gboolean here, there, ok;
  guint64 rows = 0;

  ok = store_db_next (db, record, what, &here, error) && store_db_next (replay->scratch, replayed, what, &there, error);
  while (ok && (here || there) && !store_check_is_full (replay->check))
    {
      gint64 left = here ? sqlite3_column_int64 (record, 0) : G_MAXINT64;
      gint64 right = there ? sqlite3_column_int64 (replayed, 0) : G_MAXINT64;
      gboolean both = here && there && left == right;

      if (both)
        compare_row (replay, table, record, replayed);
      else
        add_odd_row (replay, table, MIN (left, right), left < right);
      if (both || left < right)
        ok = store_db_next (db, record, what, &here, error);
      if (ok && (both || right < left))
        ok = store_db_next (replay->scratch, replayed, what, &there, error);
      if (ok && ++rows % ROWS_PER_TELL == 0)
        ok = store_check_tell (replay->check, permille, error);
    }
  return ok;
}

/* A statement of its own, since the table's name differs each time. */
static sqlite3_stmt *
prepare_all (StoreDb *db, const char *table, GError **error)
{
  char *sql = sqlite3_mprintf ("SELECT * FROM \"%w\" ORDER BY id", table);
  sqlite3_stmt *statement = NULL;

  if (sql == NULL || sqlite3_prepare_v2 (db->handle, sql, -1, &statement, NULL) != SQLITE_OK)
    store_db_fail (db, _("The records could not be held against the journal"), error);
  sqlite3_free (sql);
  return statement;
}

gboolean
store_replay_compare (StoreReplay *replay, GError **error)
{
  const StoreProfile *profile = replay->check->db->profile;
  gboolean ok = TRUE;

  for (guint i = 0; ok && i < profile->n_tables; i++)
    {
      const char *table = profile->tables[i].name;
      sqlite3_stmt *record = prepare_all (replay->check->db, table, error);
      sqlite3_stmt *replayed = record != NULL ? prepare_all (replay->scratch, table, error) : NULL;

      ok = replayed != NULL &&
           compare_rows (replay, table, record, replayed, PERMILLE_FIRST + i * PERMILLE_SPAN / profile->n_tables, error);
      sqlite3_finalize (record);
      sqlite3_finalize (replayed);
    }
  return ok;
}
