/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Kept tables (identity, origin, sitting, action, entry, payload, erasure, content) hold the journal and what it speaks
 * of; entry_touch is derived from it. The payload stands apart from its entry, so that looking through entries does not
 * read it, and so that it can be erased.
 */

#include "config.h"

#include "store-changes-private.h"
#include "store-pack-private.h"
#include "store-schema-private.h"
#include "store-touch-private.h"

#include <glib/gi18n-lib.h>

#include <string.h>

static const char kept_tables[] =
    "CREATE TABLE identity (id INTEGER PRIMARY KEY CHECK (id = 1), format INTEGER NOT NULL, uuid TEXT NOT NULL) STRICT;"
    "CREATE TABLE origin (origin INTEGER PRIMARY KEY, counter INTEGER NOT NULL, number INTEGER NOT NULL) STRICT;"
    "CREATE TABLE sitting (id INTEGER PRIMARY KEY, person INTEGER NOT NULL, began TEXT NOT NULL) STRICT;"
    "CREATE TABLE action (id INTEGER PRIMARY KEY, kind INTEGER NOT NULL, reverses INTEGER NOT NULL,"
    " sitting INTEGER NOT NULL, person INTEGER NOT NULL, time TEXT NOT NULL, message TEXT NOT NULL,"
    " arguments TEXT NOT NULL, first_place INTEGER NOT NULL, entries INTEGER NOT NULL) STRICT;"
    "CREATE INDEX action_first_place ON action (first_place);"
    "CREATE INDEX action_time ON action (time);"
    "CREATE INDEX action_reverses ON action (reverses) WHERE reverses <> 0;"
    "CREATE TABLE entry (place INTEGER PRIMARY KEY, origin INTEGER NOT NULL, number INTEGER NOT NULL,"
    " action INTEGER NOT NULL, schema INTEGER NOT NULL, size INTEGER NOT NULL, digest BLOB NOT NULL,"
    " entry_hash BLOB NOT NULL, place_hash BLOB NOT NULL) STRICT;"
    "CREATE TABLE payload (place INTEGER PRIMARY KEY, packing INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;"
    "CREATE TABLE erasure (action INTEGER PRIMARY KEY, person INTEGER NOT NULL, time TEXT NOT NULL,"
    " word TEXT NOT NULL, reason TEXT NOT NULL) STRICT;"
    "CREATE TABLE content (id INTEGER PRIMARY KEY, sha256 TEXT NOT NULL UNIQUE, size INTEGER NOT NULL,"
    " bytes BLOB NOT NULL) STRICT;"
    "CREATE TABLE entry_touch (tab INTEGER NOT NULL, low INTEGER NOT NULL, high INTEGER NOT NULL,"
    " place INTEGER NOT NULL, PRIMARY KEY (tab, low, high, place)) STRICT, WITHOUT ROWID;";

/* Runs migrations @from + 1 and later. The texts are the program's own, so nothing of the file gets into them. */
static gboolean
run_migrations (StoreDb *db, guint from, GError **error)
{
  g_autofree char *version = g_strdup_printf ("PRAGMA user_version = %u", db->profile->n_migrations);

  for (guint i = from; i < db->profile->n_migrations; i++)
    if (!store_db_exec (db, db->profile->migrations[i], error))
      {
        g_prefix_error (error, _("Schema %u: "), i + 1);
        return FALSE;
      }
  return store_db_exec (db, version, error);
}

static gboolean
insert_identity (StoreDb *db, const char *uuid, GError **error)
{
  static const char sql[] = "INSERT INTO identity (id, format, uuid) VALUES (1, ?1, ?2)";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, STORE_FORMAT);
  sqlite3_bind_text (statement, 2, uuid, -1, SQLITE_STATIC);
  return store_db_run (db, statement, _("The file could not be made"), error);
}

static gboolean
rebuild_derived (StoreDb *db, GError **error)
{
  for (guint i = 0; i < db->profile->n_derived; i++)
    if (!db->profile->derived[i].rebuild (db, db->profile->user, error))
      return FALSE;
  return store_touch_rebuild (db, error);
}

gboolean
store_schema_make (StoreDb *db, const char *uuid, GError **error)
{
  g_autofree char *id = g_strdup_printf ("PRAGMA application_id = %u", db->profile->application_id);

  if (store_db_exec (db, "BEGIN IMMEDIATE", error) && store_db_exec (db, id, error) &&
      store_db_exec (db, kept_tables, error) && run_migrations (db, 0, error) && insert_identity (db, uuid, error) &&
      rebuild_derived (db, error) && store_schema_verify (db, error) && store_db_exec (db, "COMMIT", error))
    return TRUE;
  store_db_rollback (db);
  return FALSE;
}

gboolean
store_schema_migrate (StoreDb *db, gint64 from, GError **error)
{
  gint64 version;

  if (!store_db_exec (db, "BEGIN IMMEDIATE", error))
    return FALSE;
  /* Another program may have done it while we waited. */
  if (store_db_get_integer (db, "PRAGMA user_version", &version, error) &&
      (version != from || (run_migrations (db, (guint) from, error) && rebuild_derived (db, error))) &&
      store_db_exec (db, "COMMIT", error))
    return TRUE;
  store_db_rollback (db);
  return FALSE;
}

gboolean
store_schema_verify (StoreDb *db, GError **error)
{
  static const char sql[] =
      "SELECT (SELECT strict FROM pragma_table_list WHERE schema = 'main' AND name = ?1 AND type = 'table' AND NOT wr), "
      "(SELECT count(*) FROM pragma_table_info (?1) WHERE cid = 0 AND name = 'id' AND pk = 1 AND type = 'INTEGER'), "
      "(SELECT count(*) FROM pragma_table_xinfo (?1) WHERE hidden <> 0), "
      "(SELECT count(*) FROM pragma_foreign_key_list (?1) WHERE on_update <> 'NO ACTION' OR on_delete <> 'NO ACTION'), "
      "(SELECT count(*) FROM pragma_index_list (?1) WHERE \"unique\"), "
      "(SELECT count(*) FROM pragma_table_info (?1) WHERE pk > 1)";
  static const int wanted[] = { 1, 1, 0, 0, 0, 0 };

  for (guint i = 0; i < db->profile->n_tables; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
      gboolean row;

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_text (statement, 1, db->profile->tables[i].name, -1, SQLITE_STATIC);
      if (!store_db_next (db, statement, _("The file could not be read"), &row, error))
        return FALSE;
      for (guint k = 0; k < G_N_ELEMENTS (wanted); k++)
        if (!row || sqlite3_column_int (statement, (int) k) != wanted[k])
          {
            g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                         _("The table '%s' of '%s' is not as the journal needs it: open the latest copy of the file instead."),
                         db->profile->tables[i].name, db->shown);
            return FALSE;
          }
    }
  return TRUE;
}

gboolean
store_touch_rebuild (StoreDb *db, GError **error)
{
  static const char sql[] = "SELECT e.place FROM entry e JOIN payload p ON p.place = e.place ORDER BY e.place";
  /* What an erased payload touched can be known from the old ranges only: they are left as they are. */
  static const char clear[] = "DELETE FROM entry_touch WHERE place IN (SELECT place FROM payload)";
  g_autoptr(StoreTouch) touch = store_touch_new (db->profile->n_tables);
  g_autoptr(StoreStatement) statement = NULL;
  gboolean ok, row;

  if (!store_db_exec (db, clear, error))
    return FALSE;
  statement = store_db_statement (db, sql, error);
  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (db, statement, _("The journal could not be read"), &row, error)) && row)
    {
      gint64 place = sqlite3_column_int64 (statement, 0);
      g_autoptr(GBytes) raw = store_payload_read (db, place, error);
      g_auto(StoreChanges) changes = { 0 };
      const StoreRow *changed;

      if (raw == NULL)
        return FALSE;
      store_changes_open (&changes, db, raw);
      while ((ok = store_changes_next (&changes, &changed, error)) && changed != NULL)
        store_touch_add (touch, changed->table, changed->id);
      if (!ok || !store_touch_write (touch, db, place, error))
        return FALSE;
    }
  return ok;
}
