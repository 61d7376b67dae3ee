/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * From a path to an open store, or to a sentence that says why not. A file is judged by its first bytes before SQLite
 * is let near it, since opening a database may already write beside it.
 */

#include "config.h"

#include "store-file-private.h"
#include "store-private.h"
#include "store-schema-private.h"
#include "store-writer-private.h"

#include <glib/gi18n-lib.h>

#define BUSY_MS 5000
#define IDLE_MS 2000
/* Large enough that bulk work writes each page once; given back when idle. */
#define WRITER_CACHE_KIB "262144"

static Store *
new_store (const char *path, const StoreProfile *profile, const StoreOptions *options)
{
  static const StoreOptions defaults = { 0 };
  Store *store = g_new0 (Store, 1);

  if (options == NULL)
    options = &defaults;
  store->path = g_canonicalize_filename (path, NULL);
  store->profile = profile;
  store->sole_fd = -1;
  store->vfs = g_strdup (options->vfs);
  store->busy_ms = options->busy_ms > 0 ? options->busy_ms : BUSY_MS;
  store->idle_ms = options->idle_ms > 0 ? options->idle_ms : IDLE_MS;
  store->remote = options->as_remote || store_file_is_remote (store->path);
  store->state_folder = options->state_folder != NULL ? g_strdup (options->state_folder)
                                                      : g_build_filename (g_get_user_state_dir (), "fettle", "books", NULL);
  return store;
}

static void
drop_store (Store *store)
{
  g_free (store->path);
  g_free (store->uuid);
  g_free (store->old_copy);
  g_free (store->state_folder);
  g_free (store->vfs);
  g_free (store);
}

/* Reads the result of a pragma that answers with a word. */
static char *
ask_word (StoreDb *db, const char *sql, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  if (statement == NULL || !store_db_next (db, statement, _("The file could not be opened"), &row, error))
    return NULL;
  if (row && sqlite3_column_text (statement, 0) == NULL)
    {
      store_db_fail_code (db, SQLITE_NOMEM, _("The file could not be opened"), error);
      return NULL;
    }
  return g_strdup (row ? (const char *) sqlite3_column_text (statement, 0) : "");
}

/*
 * WAL where the file system can share memory between programs; a rollback journal elsewhere. A file that comes from
 * a local disk may still be marked as WAL: it is converted under an exclusive lock, which needs no shared memory.
 */
static gboolean
choose_journal (Store *store, StoreDb *db, GError **error)
{
  g_autofree char *mode = NULL;

  if (store->remote)
    {
      if (!store_db_exec (db, "PRAGMA locking_mode = EXCLUSIVE", error))
        return FALSE;
      mode = ask_word (db, "PRAGMA journal_mode = DELETE", error);
      if (mode == NULL || !store_db_exec (db, "PRAGMA locking_mode = NORMAL; SELECT 1 FROM sqlite_schema", error))
        return FALSE;
    }
  else
    {
      mode = ask_word (db, "PRAGMA journal_mode = WAL", error);
      if (mode == NULL)
        return FALSE;
      store->remote = !g_str_equal (mode, "wal");
    }
  return store_db_exec (db, "PRAGMA synchronous = FULL", error);
}

/* Reads who the file is, through SQLite: what stands in the WAL counts. */
static gboolean
read_identity (Store *store, StoreDb *db, gint64 *version, GError **error)
{
  static const char sql[] = "SELECT format, uuid FROM identity WHERE id = 1";
  g_autoptr(StoreStatement) statement = NULL;
  const char *uuid;
  gboolean row;

  if (!store_db_get_integer (db, "PRAGMA user_version", version, error))
    return FALSE;
  statement = store_db_statement (db, sql, error);
  if (statement == NULL || !store_db_next (db, statement, _("The file could not be read"), &row, error))
    return FALSE;
  if (*version > store->profile->n_migrations || (row && sqlite3_column_int (statement, 0) > STORE_FORMAT))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NEWER,
                   _("'%s' was written by a newer version of this program: install that version to open it."), db->shown);
      return FALSE;
    }
  /* The UUID becomes the name of the state file, so it must be one. */
  uuid = row ? (const char *) sqlite3_column_text (statement, 1) : "";
  if (uuid == NULL && sqlite3_column_type (statement, 1) == SQLITE_TEXT)
    return store_db_fail_code (db, SQLITE_NOMEM, _("The file could not be read"), error);
  if (*version < 1 || uuid == NULL || !g_uuid_string_is_valid (uuid))
    return store_db_fail_code (db, SQLITE_CORRUPT, _("The file could not be read"), error);
  store->uuid = g_strdup (uuid);
  return TRUE;
}

/* Copies a file of an older schema beside itself, as 'name-schema-1.fettle', then migrates it. */
static gboolean
migrate (Store *store, StoreDb *db, gint64 version, GError **error)
{
  const char *dot = strrchr (store->path, '.');
  gsize stem = dot != NULL && strchr (dot, G_DIR_SEPARATOR) == NULL ? (gsize) (dot - store->path) : strlen (store->path);

  for (guint i = 1; store->old_copy == NULL; i++)
    {
      g_autofree char *count = i > 1 ? g_strdup_printf ("-%u", i) : g_strdup ("");
      g_autofree char *name = g_strdup_printf ("%.*s-schema-%d%s%s", (int) stem, store->path, (int) version, count,
                                               store->path + stem);
      g_autoptr(GError) local = NULL;

      if (store_file_copy (db, name, store->vfs, NULL, &local))
        store->old_copy = g_steal_pointer (&name);
      else if (!g_error_matches (local, STORE_ERROR, STORE_ERROR_EXISTS))
        {
          g_propagate_error (error, g_steal_pointer (&local));
          return FALSE;
        }
    }
  return store_schema_migrate (db, version, error);
}

static gboolean
connect_store (Store *store, GError **error)
{
  g_autoptr(StoreDb) db = store_db_open (store->path, store->profile, SQLITE_OPEN_READWRITE, store->vfs, store->busy_ms, error);
  gint64 version;

  if (db == NULL)
    return FALSE;
  if (sqlite3_db_readonly (db->handle, "main") == 1)
    return store_db_fail_code (db, SQLITE_READONLY, _("The file could not be opened"), error);
  if (!choose_journal (store, db, error) || !read_identity (store, db, &version, error))
    return FALSE;
  if (version < store->profile->n_migrations && !migrate (store, db, version, error))
    return FALSE;
  if (!store_db_exec (db, "PRAGMA cache_size = -" WRITER_CACHE_KIB, error))
    return FALSE;
  store_db_guard_commits (db);
  store->writer = store_writer_new (store, g_steal_pointer (&db));
  return TRUE;
}

Store *
store_open (const char *path, const StoreProfile *profile, const StoreOptions *options, GError **error)
{
  Store *store;

  g_return_val_if_fail (path != NULL && profile != NULL, NULL);

  if (!store_file_check_header (path, profile, error))
    return NULL;
  store = new_store (path, profile, options);
  if (!connect_store (store, error))
    {
      drop_store (store);
      return NULL;
    }
  return store;
}

static gboolean
fill_draft (const char *draft, const char *path, const StoreProfile *profile, const StoreOptions *options, GError **error)
{
  const char *vfs = options != NULL ? options->vfs : NULL;
  g_autoptr(StoreDb) db = store_db_open (draft, profile, SQLITE_OPEN_READWRITE, vfs, BUSY_MS, error);
  g_autofree char *uuid = g_uuid_string_random ();

  if (db == NULL)
    return FALSE;
  store_db_show_as (db, path);
  return store_db_exec (db, "PRAGMA synchronous = FULL", error) && store_schema_make (db, uuid, error);
}

Store *
store_create (const char *path, const StoreProfile *profile, const StoreOptions *options, GError **error)
{
  g_autofree char *draft = NULL;
  Store *store;

  g_return_val_if_fail (path != NULL && profile != NULL, NULL);

  draft = store_file_begin (path, error);
  if (draft == NULL)
    return NULL;
  if (!fill_draft (draft, path, profile, options, error) || !store_file_publish (draft, path, error))
    {
      store_file_abandon (draft);
      return NULL;
    }
  store = store_open (path, profile, options, error);
  if (store == NULL)
    store_file_abandon (path);
  return store;
}

gboolean
store_close (Store *store, GError **error)
{
  gboolean ok;

  g_return_val_if_fail (store != NULL, FALSE);

  /* The writing connection goes last: a read-only one cannot bring the WAL into the file. */
  g_clear_pointer (&store->front, store_db_close);
  ok = store_writer_end (store->writer, error);
  store_sole_give_up (store);
  drop_store (store);
  return ok;
}

void
store_free (Store *store)
{
  g_autoptr(GError) error = NULL;

  if (store != NULL && !store_close (store, &error))
    g_debug ("%s", error->message);
}

gboolean
store_save_copy (Store *store, const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr(StoreDb) db = store_open_reading (store, error);

  return db != NULL && store_file_copy (db, path, store->vfs, cancellable, error);
}

StoreDb *
store_open_reading (Store *store, GError **error)
{
  return store_db_open (store->path, store->profile, SQLITE_OPEN_READONLY, store->vfs, store->busy_ms, error);
}

StoreDb *
store_front_db (Store *store, GError **error)
{
  if (store->front == NULL)
    store->front = store_open_reading (store, error);
  return store->front;
}

const char *
store_get_path (Store *store)
{
  return store->path;
}

const char *
store_get_uuid (Store *store)
{
  return store->uuid;
}

const char *
store_get_old_copy (Store *store)
{
  return store->old_copy;
}

gboolean
store_is_remote (Store *store)
{
  return store->remote;
}
