/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * A connection set up so that nothing a file holds can run by itself: no trigger, no view, no unsafe function, no
 * writing to the schema; and its statements, prepared once.
 */

#include "config.h"

#include "store-private.h"

#include <glib/gi18n-lib.h>

#define STATEMENTS_PER_CHECK 4000 /* virtual machine steps between two looks at the cancellable */
#define CACHE_KIB            32768

static int
on_progress (void *data)
{
  StoreDb *db = data;

  return g_cancellable_is_cancelled (db->cancellable);
}

static int
on_busy (void *data, int tries)
{
  StoreDb *db = data;
  gint64 now = g_get_monotonic_time ();

  if (tries == 0)
    db->busy_since = now;
  if (g_cancellable_is_cancelled (db->cancellable) || now - db->busy_since >= (gint64) db->busy_ms * 1000)
    return 0;

  g_usleep (tries < 5 ? 1000 : 10000);
  return 1;
}

static int
on_commit (void *data)
{
  StoreDb *db = data;

  return !db->may_commit; /* not 0: the commit becomes a rollback */
}

/* Settings that make a file's own schema harmless; see https://www.sqlite.org/security.html, 'untrusted files'. */
static gboolean
harden (StoreDb *db, GError **error)
{
  static const struct
  {
    int op;
    int value;
  } settings[] = {
    { SQLITE_DBCONFIG_DEFENSIVE, 1 },
    { SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0 },
    { SQLITE_DBCONFIG_ENABLE_TRIGGER, 0 },
    { SQLITE_DBCONFIG_ENABLE_VIEW, 0 },
    { SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0 },
    { SQLITE_DBCONFIG_DQS_DML, 0 },
    { SQLITE_DBCONFIG_DQS_DDL, 0 },
    { SQLITE_DBCONFIG_ENABLE_FKEY, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (settings); i++)
    if (sqlite3_db_config (db->handle, settings[i].op, settings[i].value, NULL) != SQLITE_OK)
      return store_db_fail (db, _("The file could not be opened"), error);
  return TRUE;
}

static void
finalize (gpointer statement)
{
  sqlite3_finalize (statement);
}

/* Without its count of all memory, which nobody asks for, SQLite takes one lock less at every allocation. */
static gpointer
configure_sqlite (gpointer unused)
{
  if (sqlite3_config (SQLITE_CONFIG_MEMSTATUS, 0) != SQLITE_OK)
    g_debug ("SQLite was in use before");
  return NULL;
}

/* Opens a connection. Nothing is read from the file yet. */
StoreDb *
store_db_open (const char *path, const StoreProfile *profile, int flags, const char *vfs, guint busy_ms, GError **error)
{
  static GOnce once = G_ONCE_INIT;
  g_autoptr(StoreDb) db = g_new0 (StoreDb, 1);
  g_autofree char *cache = g_strdup_printf ("PRAGMA cache_size = -%d", CACHE_KIB);

  g_once (&once, configure_sqlite, NULL);
  db->path = g_strdup (path);
  db->shown = g_filename_display_name (path);
  db->profile = profile;
  db->busy_ms = busy_ms;
  db->may_commit = TRUE;
  db->writer = -1;
  db->statements = g_hash_table_new_full (NULL, NULL, NULL, finalize);

  if (sqlite3_open_v2 (path, &db->handle, flags | SQLITE_OPEN_NOMUTEX, vfs) != SQLITE_OK)
    {
      if (db->handle == NULL)
        store_db_fail_code (db, SQLITE_NOMEM, _("The file could not be opened"), error);
      else
        store_db_fail (db, _("The file could not be opened"), error);
      return NULL;
    }

  sqlite3_extended_result_codes (db->handle, 1);
  sqlite3_busy_handler (db->handle, on_busy, db);
  if (!harden (db, error) || !store_db_exec (db, cache, error) ||
      !store_db_exec (db, "PRAGMA temp_store = MEMORY; PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0", error))
    return NULL;
  return g_steal_pointer (&db);
}

void
store_db_close (StoreDb *db)
{
  if (db == NULL)
    return;

  g_clear_pointer (&db->statements, g_hash_table_unref);
  g_clear_object (&db->cancellable);
  if (db->handle != NULL && sqlite3_close (db->handle) != SQLITE_OK)
    {
      g_critical ("A statement outlives its connection");
      sqlite3_close_v2 (db->handle);
    }
  g_free (db->path);
  g_free (db->shown);
  g_free (db);
}

void
store_db_show_as (StoreDb *db, const char *path)
{
  g_free (db->shown);
  db->shown = g_filename_display_name (path);
}

/* From now on @cancellable (or nothing, if NULL) stops what the connection does. */
void
store_db_set_cancellable (StoreDb *db, GCancellable *cancellable)
{
  g_set_object (&db->cancellable, cancellable);
  if (cancellable != NULL)
    sqlite3_progress_handler (db->handle, STATEMENTS_PER_CHECK, on_progress, db);
  else
    sqlite3_progress_handler (db->handle, 0, NULL, NULL);
}

/*
 * Refuses every commit while may_commit is unset. SQLite rolls a transaction back by itself after some faults; whatever
 * a careless caller then still writes would be committed statement by statement, past the journal.
 */
void
store_db_guard_commits (StoreDb *db)
{
  db->may_commit = FALSE;
  sqlite3_commit_hook (db->handle, on_commit, db);
}

/* Puts the busy wait back that a busy timeout replaced. */
void
store_db_restore_busy (StoreDb *db)
{
  sqlite3_busy_handler (db->handle, on_busy, db);
}

void
store_statement_done (StoreStatement *statement)
{
  sqlite3_reset (statement); /* an open read would hold back the checkpoint */
  sqlite3_clear_bindings (statement);
}

gboolean
store_db_is_prepared (StoreDb *db, const char *sql)
{
  return g_hash_table_contains (db->statements, sql);
}

StoreStatement *
store_db_statement (StoreDb *db, const char *sql, GError **error)
{
  sqlite3_stmt *statement;

  g_return_val_if_fail (db != NULL && sql != NULL, NULL);

  statement = g_hash_table_lookup (db->statements, sql);
  if (statement == NULL)
    {
      if (sqlite3_prepare_v3 (db->handle, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL) != SQLITE_OK)
        {
          store_db_fail (db, _("The file could not be asked"), error);
          return NULL;
        }
      g_hash_table_insert (db->statements, (gpointer) sql, statement);
    }

  g_assert (!sqlite3_stmt_busy (statement)); /* a query that calls itself needs a statement of its own */
  return statement;
}

gboolean
store_db_run (StoreDb *db, StoreStatement *statement, const char *what, GError **error)
{
  int code = sqlite3_step (statement);

  if (code == SQLITE_ROW)
    g_critical ("A statement that should return nothing returns rows: %s", sqlite3_sql (statement));
  else if (code != SQLITE_DONE)
    store_db_fail (db, what, error);
  sqlite3_reset (statement);
  return code == SQLITE_DONE || code == SQLITE_ROW;
}

gboolean
store_db_next (StoreDb *db, StoreStatement *statement, const char *what, gboolean *row, GError **error)
{
  int code = sqlite3_step (statement);

  *row = code == SQLITE_ROW;
  if (code == SQLITE_ROW || code == SQLITE_DONE)
    return TRUE;
  return store_db_fail (db, what, error);
}

gboolean
store_db_ask_integer (StoreDb *db, StoreStatement *statement, const char *what, gboolean *found, gint64 *value, GError **error)
{
  gboolean row;

  *value = 0;
  if (!store_db_next (db, statement, what, &row, error))
    return FALSE;
  if (row)
    *value = sqlite3_column_int64 (statement, 0);
  if (found != NULL)
    *found = row;
  return TRUE;
}

gboolean
store_db_add_integers (StoreDb *db, StoreStatement *statement, const char *what, GArray *values, GError **error)
{
  gboolean ok, row;

  while ((ok = store_db_next (db, statement, what, &row, error)) && row)
    {
      gint64 value = sqlite3_column_int64 (statement, 0);

      g_array_append_val (values, value);
    }
  return ok;
}

gboolean
store_db_has_texts (StoreDb *db, const char *what, GError **error)
{
  return sqlite3_errcode (db->handle) != SQLITE_NOMEM || store_db_fail (db, what, error);
}

gboolean
store_db_exec (StoreDb *db, const char *sql, GError **error)
{
  if (sqlite3_exec (db->handle, sql, NULL, NULL, NULL) != SQLITE_OK)
    return store_db_fail (db, _("The file could not be asked"), error);
  return TRUE;
}

/* The one integer that a query returns; 0 when it returns no row or NULL. */
gboolean
store_db_get_integer (StoreDb *db, const char *sql, gint64 *value, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  *value = 0;
  return statement != NULL && store_db_ask_integer (db, statement, _("The file could not be read"), NULL, value, error);
}

/* Ends the transaction that may or may not be open still: SQLite ends it by itself after some faults. */
void
store_db_rollback (StoreDb *db)
{
  if (!sqlite3_get_autocommit (db->handle) && sqlite3_exec (db->handle, "ROLLBACK", NULL, NULL, NULL) != SQLITE_OK)
    g_debug ("Rolling back: %s", sqlite3_errmsg (db->handle));
}

sqlite3 *
store_db_handle (StoreDb *db)
{
  return db->handle;
}

gint64
store_db_writer (StoreDb *db)
{
  return db->writer;
}

int
store_db_find_table (StoreDb *db, const char *name)
{
  for (guint i = 0; i < db->profile->n_tables; i++)
    if (g_str_equal (db->profile->tables[i].name, name))
      return (int) i;
  return -1;
}
