/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Method. SQLite looks for referring rows at each row that is deleted. Where the referring column has no index, it reads
 * the whole table each time: undoing a sheet with forty characteristics would read all readings of the file forty times.
 * Here the rows that are gone are gathered first. A column with an index is then asked row by row, and a table without
 * one is read once. Foreign keys are taken from the file's own schema, so that no table is known here. Names that get
 * into SQL text are quoted.
 */

#include "config.h"

#include "store-references-private.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  guint    child;
  guint    parent;
  char    *column; /* of the child */
  guint    at;     /* its place among the child's columns */
  gboolean indexed;
} ForeignKey;

struct _StoreReferences
{
  StoreDb     *db;
  GArray      *keys;   /* ForeignKey */
  GHashTable **gone;   /* one a table: keys of rows that the inverse deletes; NULL where nothing refers to the table */
  GHashTable **wanted; /* one a table: keys that rows refer to again */
};

static void
clear_foreign_key (gpointer data)
{
  g_free (((ForeignKey *) data)->column);
}

static GHashTable *
id_set_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
}

static void
id_set_add (GHashTable *set, gint64 id)
{
  if (!g_hash_table_contains (set, &id))
    g_hash_table_add (set, g_memdup2 (&id, sizeof id));
}

static gboolean
cannot_look (StoreDb *db, int code, GError **error)
{
  return store_db_fail_code (db, code, _("The records in the way could not be found"), error);
}

/* The foreign keys of the journaled table @child that point at journaled tables. */
static gboolean
read_foreign_keys (StoreReferences *references, guint child, GError **error)
{
  static const char sql[] =
    "SELECT f.\"from\", f.\"table\", c.cid, EXISTS (SELECT 1 FROM pragma_index_list (?1) l JOIN pragma_index_info (l.name) i"
    " WHERE i.seqno = 0 AND i.cid = c.cid AND NOT l.partial)"
    " FROM pragma_foreign_key_list (?1) f JOIN pragma_table_info (?1) c ON c.name = f.\"from\" COLLATE NOCASE";
  StoreDb *db = references->db;
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, db->profile->tables[child].name, -1, SQLITE_STATIC);
  while ((ok = store_db_next (db, statement, _("The records in the way could not be found"), &row, error)) && row)
    {
      const char *column = (const char *) sqlite3_column_text (statement, 0);
      const char *parent = (const char *) sqlite3_column_text (statement, 1);
      int index = parent != NULL ? store_db_find_table (db, parent) : -1;

      if (column == NULL || parent == NULL)
        return cannot_look (db, SQLITE_NOMEM, error);
      if (index >= 0)
        {
          ForeignKey key = { child, (guint) index, g_strdup (column), (guint) sqlite3_column_int (statement, 2),
                             sqlite3_column_int (statement, 3) != 0 };

          g_array_append_val (references->keys, key);
        }
    }
  return ok;
}

StoreReferences *
store_references_new (StoreDb *db, GError **error)
{
  g_autoptr(StoreReferences) references = g_new0 (StoreReferences, 1);
  guint n = db->profile->n_tables;

  references->db = db;
  references->keys = g_array_new (FALSE, FALSE, sizeof (ForeignKey));
  g_array_set_clear_func (references->keys, clear_foreign_key);
  references->gone = g_new0 (GHashTable *, n);
  references->wanted = g_new0 (GHashTable *, n);
  for (guint i = 0; i < n; i++)
    if (!read_foreign_keys (references, i, error))
      return NULL;
  for (guint i = 0; i < references->keys->len; i++)
    {
      guint parent = g_array_index (references->keys, ForeignKey, i).parent;

      if (references->gone[parent] == NULL)
        {
          references->gone[parent] = id_set_new ();
          references->wanted[parent] = id_set_new ();
        }
    }
  return g_steal_pointer (&references);
}

void
store_references_free (StoreReferences *references)
{
  for (guint i = 0; i < references->db->profile->n_tables; i++)
    {
      g_clear_pointer (&references->gone[i], g_hash_table_unref);
      g_clear_pointer (&references->wanted[i], g_hash_table_unref);
    }
  g_array_unref (references->keys);
  g_free (references->gone);
  g_free (references->wanted);
  g_free (references);
}

void
store_references_note (StoreReferences *references, const StoreRow *row)
{
  if (row->op == STORE_INSERT)
    {
      if (references->gone[row->table] != NULL)
        id_set_add (references->gone[row->table], row->id);
      return;
    }
  for (guint i = 0; i < references->keys->len; i++)
    {
      const ForeignKey *key = &g_array_index (references->keys, ForeignKey, i);

      if (key->child == row->table && key->at < row->n_columns && row->before[key->at].type == SQLITE_INTEGER)
        id_set_add (references->wanted[key->parent], row->before[key->at].integer);
    }
}

/* Takes over @sql, made by sqlite3_mprintf(). */
static sqlite3_stmt *
prepare (StoreDb *db, char *sql, GError **error)
{
  sqlite3_stmt *statement = NULL;
  int code = sql != NULL ? sqlite3_prepare_v2 (db->handle, sql, -1, &statement, NULL) : SQLITE_NOMEM;

  sqlite3_free (sql);
  if (code != SQLITE_OK)
    cannot_look (db, code, error);
  return statement;
}

/* Runs @statement with @id; whether it had a row comes in @any. Rows are keys, noted in @way if there is one. */
static gboolean
ask (StoreDb *db, sqlite3_stmt *statement, gint64 id, StoreWay *way, guint table, gboolean *any, GError **error)
{
  int code;

  *any = FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  while ((code = sqlite3_step (statement)) == SQLITE_ROW)
    {
      *any = TRUE;
      if (way != NULL)
        store_way_add (way, table, sqlite3_column_int64 (statement, 0));
    }
  sqlite3_reset (statement);
  return code == SQLITE_DONE || cannot_look (db, code, error);
}

/* Leaves in @ids only those that the table does not have. */
static gboolean
drop_present (StoreDb *db, guint table, GHashTable *ids, GError **error)
{
  sqlite3_stmt *statement = NULL;
  GHashTableIter iter;
  gpointer id;
  gboolean ok = TRUE;

  if (ids == NULL || g_hash_table_size (ids) == 0)
    return TRUE;
  statement = prepare (db, sqlite3_mprintf ("SELECT id FROM \"%w\" WHERE id = ?1", db->profile->tables[table].name), error);
  if (statement == NULL)
    return FALSE;
  g_hash_table_iter_init (&iter, ids);
  while (ok && g_hash_table_iter_next (&iter, &id, NULL))
    {
      gboolean there;

      ok = ask (db, statement, *(gint64 *) id, NULL, 0, &there, error);
      if (ok && there)
        g_hash_table_iter_remove (&iter);
    }
  sqlite3_finalize (statement);
  return ok;
}

static sqlite3_stmt *
prepare_referring (StoreDb *db, const ForeignKey *key, GError **error)
{
  return prepare (db, sqlite3_mprintf ("SELECT id FROM \"%w\" WHERE \"%w\" = ?1", db->profile->tables[key->child].name, key->column),
                  error);
}

/* By the index: row by row. */
static gboolean
ask_for_each (StoreDb *db, const ForeignKey *key, GHashTable *gone, StoreWay *referring, GError **error)
{
  sqlite3_stmt *statement = prepare_referring (db, key, error);
  GHashTableIter iter;
  gpointer id;
  gboolean ok = statement != NULL, any;

  g_hash_table_iter_init (&iter, gone);
  while (ok && g_hash_table_iter_next (&iter, &id, NULL))
    ok = ask (db, statement, *(gint64 *) id, referring, key->child, &any, error);
  sqlite3_finalize (statement);
  return ok;
}

/* Without one: through the whole table. */
static gboolean
read_through (StoreDb *db, const ForeignKey *key, GHashTable *gone, StoreWay *referring, GError **error)
{
  sqlite3_stmt *statement =
    prepare (db, sqlite3_mprintf ("SELECT id, \"%w\" FROM \"%w\" WHERE \"%w\" IS NOT NULL", key->column,
                                  db->profile->tables[key->child].name, key->column), error);
  int code;

  if (statement == NULL)
    return FALSE;
  while ((code = sqlite3_step (statement)) == SQLITE_ROW)
    {
      gint64 parent = sqlite3_column_int64 (statement, 1);

      if (g_hash_table_contains (gone, &parent))
        store_way_add (referring, key->child, sqlite3_column_int64 (statement, 0));
    }
  sqlite3_finalize (statement);
  return code == SQLITE_DONE || cannot_look (db, code, error);
}

/* What is wanted and not there: noted once, if a row really refers to it still. */
static gboolean
note_missing (StoreReferences *references, const ForeignKey *key, StoreWay *missing, GError **error)
{
  GHashTable *wanted = references->wanted[key->parent];
  sqlite3_stmt *statement = prepare_referring (references->db, key, error);
  GHashTableIter iter;
  gpointer id;
  gboolean ok = statement != NULL;

  g_hash_table_iter_init (&iter, wanted);
  while (ok && g_hash_table_iter_next (&iter, &id, NULL))
    {
      gboolean referred;

      ok = ask (references->db, statement, *(gint64 *) id, NULL, 0, &referred, error);
      if (!ok || !referred)
        continue;
      store_way_add (missing, key->parent, *(gint64 *) id);
      g_hash_table_iter_remove (&iter);
    }
  sqlite3_finalize (statement);
  return ok;
}

gboolean
store_references_find (StoreReferences *references, StoreWay *referring, StoreWay *missing, GError **error)
{
  StoreDb *db = references->db;

  for (guint i = 0; i < db->profile->n_tables; i++)
    if (!drop_present (db, i, references->gone[i], error) || !drop_present (db, i, references->wanted[i], error))
      return FALSE;
  for (guint i = 0; i < references->keys->len; i++)
    {
      const ForeignKey *key = &g_array_index (references->keys, ForeignKey, i);
      GHashTable *gone = references->gone[key->parent];

      if (g_hash_table_size (gone) > 0 && !(key->indexed ? ask_for_each : read_through) (db, key, gone, referring, error))
        return FALSE;
      if (g_hash_table_size (references->wanted[key->parent]) > 0 && !note_missing (references, key, missing, error))
        return FALSE;
    }
  return TRUE;
}
