/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store-tray.h"

#include <glib/gstdio.h>

#include <string.h>
#include <unistd.h>

static const char migration_1[] =
    "CREATE TABLE box (id INTEGER PRIMARY KEY, name TEXT NOT NULL, note TEXT) STRICT;"
    "CREATE INDEX box_name ON box (name);"
    "CREATE TABLE item (id INTEGER PRIMARY KEY, box INTEGER NOT NULL REFERENCES box (id), size INTEGER, weight REAL,"
    " label TEXT, picture BLOB) STRICT;"
    "CREATE INDEX item_box ON item (box);"
    "CREATE TABLE tag (id INTEGER PRIMARY KEY, item INTEGER NOT NULL REFERENCES item (id), word TEXT NOT NULL) STRICT;"
    "CREATE INDEX tag_item ON tag (item);"
    "CREATE TABLE seal (id INTEGER PRIMARY KEY, box INTEGER NOT NULL REFERENCES box (id), word TEXT NOT NULL) STRICT;"
    "CREATE TABLE box_count (box INTEGER PRIMARY KEY, items INTEGER NOT NULL) STRICT;"
    "CREATE TABLE keeper (initials TEXT PRIMARY KEY, name TEXT) STRICT;";
static const char migration_2[] = "ALTER TABLE item ADD COLUMN colour TEXT DEFAULT 'grey'";

static const char *const migrations[] = { migration_1, migration_2 };

static const StoreTable tables[] = {
  [TRAY_BOX] = { "box", FALSE },
  [TRAY_ITEM] = { "item", FALSE },
  [TRAY_TAG] = { "tag", FALSE },
  [TRAY_SEAL] = { "seal", TRUE },
};

static gboolean
rebuild_box_count (StoreDb *db, gpointer user, GError **error)
{
  return store_db_exec (db, "DELETE FROM box_count; INSERT INTO box_count SELECT box, count(*) FROM item GROUP BY box", error);
}

static const StoreDerived derived[] = { { "box_count", rebuild_box_count } };

typedef struct
{
  GHashTable *boxes; /* touched, by key */
} Touched;

static gpointer
begin (StoreDb *db, gpointer user)
{
  Touched *touched = g_new0 (Touched, 1);

  touched->boxes = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  return touched;
}

static void
end (gpointer context)
{
  Touched *touched = context;

  g_hash_table_unref (touched->boxes);
  g_free (touched);
}

static void
note_box (Touched *touched, const StoreValue *value)
{
  if (value->type == SQLITE_INTEGER)
    g_hash_table_add (touched->boxes, g_memdup2 (&value->integer, sizeof value->integer));
}

static gboolean
see_row (StoreDb *db, const StoreRow *row, gpointer context, GError **error)
{
  Touched *touched = context;

  if (row->table == TRAY_BOX)
    g_hash_table_add (touched->boxes, g_memdup2 (&row->id, sizeof row->id));
  if (row->table != TRAY_ITEM)
    return TRUE;
  if (row->before != NULL)
    note_box (touched, &row->before[1]);
  if (row->after == NULL)
    return TRUE;
  note_box (touched, &row->after[1]);
  if (row->after[2].type == SQLITE_INTEGER && (row->after[2].integer < 0 || row->after[2].integer > 1000))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_RULE, "The size %" G_GINT64_FORMAT " is out of bounds: type one of 0 to 1000.",
                   row->after[2].integer);
      return FALSE;
    }
  return TRUE;
}

static gboolean
finish_box (StoreDb *db, gint64 box, GError **error)
{
  static const char twice[] = "SELECT 1 FROM box a JOIN box b ON b.name = a.name AND b.id <> a.id WHERE a.id = ?1";
  static const char drop[] = "DELETE FROM box_count WHERE box = ?1";
  static const char count[] = "INSERT INTO box_count SELECT box, count(*) FROM item WHERE box = ?1 GROUP BY box";
  g_autoptr(StoreStatement) ask = NULL;
  g_autoptr(StoreStatement) first = NULL;
  g_autoptr(StoreStatement) second = NULL;
  gboolean row;

  if ((ask = store_db_statement (db, twice, error)) == NULL || (first = store_db_statement (db, drop, error)) == NULL ||
      (second = store_db_statement (db, count, error)) == NULL)
    return FALSE;
  sqlite3_bind_int64 (ask, 1, box);
  sqlite3_bind_int64 (first, 1, box);
  sqlite3_bind_int64 (second, 1, box);
  if (!store_db_next (db, ask, "Names of boxes could not be read", &row, error))
    return FALSE;
  if (row)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_RULE, "Two boxes have one name: type another.");
      return FALSE;
    }
  return store_db_run (db, first, "Boxes could not be counted", error) &&
         store_db_run (db, second, "Boxes could not be counted", error);
}

static gboolean
finish (StoreDb *db, gpointer context, GError **error)
{
  Touched *touched = context;
  GHashTableIter iter;
  gpointer box;

  g_hash_table_iter_init (&iter, touched->boxes);
  while (g_hash_table_iter_next (&iter, &box, NULL))
    if (!finish_box (db, *(gint64 *) box, error))
      return FALSE;
  return TRUE;
}

#define TRAY_PROFILE(n)                                                                                           \
  { .application_id = 0x54726179, .kind = "a tray", .migrations = migrations, .n_migrations = n, .tables = tables, \
    .n_tables = TRAY_TABLES, .derived = derived, .n_derived = 1, .begin = begin, .row = see_row, .finish = finish, \
    .end = end }

const StoreProfile tray_profile = TRAY_PROFILE (1);
const StoreProfile tray_profile_2 = TRAY_PROFILE (2);

void
tray_in_memory (void)
{
  if (g_access ("/dev/shm", W_OK | X_OK) == 0)
    g_setenv ("TMPDIR", "/dev/shm", FALSE);
}

void
tray_set_up (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;

  tray->folder = g_dir_make_tmp ("tray-XXXXXX", &error);
  g_assert_no_error (error);
  tray->path = g_build_filename (tray->folder, "a.tray", NULL);
  tray->state = g_build_filename (tray->folder, "state", NULL);
  tray->options.state_folder = tray->state;
  tray->options.busy_ms = 200;
  tray->store = store_create (tray->path, &tray_profile, &tray->options, &error);
  g_assert_no_error (error);
}

static void
remove_folder (const char *path)
{
  g_autoptr(GDir) folder = g_dir_open (path, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);

      if (g_file_test (inside, G_FILE_TEST_IS_DIR) && !g_file_test (inside, G_FILE_TEST_IS_SYMLINK))
        remove_folder (inside);
      else
        g_assert_cmpint (g_unlink (inside), ==, 0);
    }
  g_assert_cmpint (g_rmdir (path), ==, 0);
}

void
tray_tear_down (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;

  if (tray->store != NULL)
    {
      gboolean closed = store_close (g_steal_pointer (&tray->store), &error);

      g_assert_no_error (error);
      g_assert_true (closed);
    }
  remove_folder (tray->folder);
  g_free (tray->folder);
  g_free (tray->path);
  g_free (tray->state);
}

void
tray_reopen (Tray *tray)
{
  g_autoptr(GError) error = NULL;

  if (tray->store != NULL)
    store_close (g_steal_pointer (&tray->store), &error);
  g_assert_no_error (error);
  tray->store = store_open (tray->path, &tray_profile, &tray->options, &error);
  g_assert_no_error (error);
}

gboolean
tray_run_sql (StoreAction *action, gpointer sql, GError **error)
{
  g_autoptr(GString) text = g_string_new (NULL);
  gint64 last = 0;

  for (const char *at = sql; *at != '\0'; at++)
    if (g_str_has_prefix (at, "%id"))
      {
        last = store_action_new_id (action);
        g_string_append_printf (text, "%" G_GINT64_FORMAT, last);
        at += strlen ("%id") - 1;
      }
    else if (g_str_has_prefix (at, "%last"))
      {
        g_string_append_printf (text, "%" G_GINT64_FORMAT, last);
        at += strlen ("%last") - 1;
      }
    else
      g_string_append_c (text, *at);
  return store_db_exec (store_action_db (action), text->str, error);
}

gint64
tray_do (Store *store, gint64 sitting, const char *sql)
{
  StoreIntent intent = { .action = "test", .sitting = sitting };
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;
  gboolean ok = store_write (store, &intent, tray_run_sql, (gpointer) sql, &receipt, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
  return receipt.action;
}

void
tray_refused (Store *store, const char *sql, StoreError code)
{
  StoreIntent intent = { .action = "test" };
  g_autofree char *before = tray_dump (store), *after = NULL;
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;

  g_assert_false (store_write (store, &intent, tray_run_sql, (gpointer) sql, &receipt, NULL, &error));
  tray_assert_sentence (&error, code);
  g_assert_cmpint (receipt.action, ==, 0);
  after = tray_dump (store);
  g_assert_cmpstr (before, ==, after);
}

static void
append_hex (GString *text, const char *bytes, int length)
{
  static const char digits[] = "0123456789abcdef";

  for (int i = 0; i < length; i++)
    {
      g_string_append_c (text, digits[(guint8) bytes[i] >> 4]);
      g_string_append_c (text, digits[bytes[i] & 15]);
    }
}

static void
dump_table (sqlite3 *db, const char *table, GString *text)
{
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s ORDER BY 1", table);
  sqlite3_stmt *statement;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      g_string_append (text, table);
      for (int i = 0; i < sqlite3_column_count (statement); i++)
        {
          int type = sqlite3_column_type (statement, i);
          const char *bytes = sqlite3_column_blob (statement, i);
          double real = sqlite3_column_double (statement, i);

          g_string_append_printf (text, "|%d:", type);
          if (type == SQLITE_FLOAT)
            bytes = (const char *) &real;
          if (type == SQLITE_INTEGER)
            g_string_append_printf (text, "%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (statement, i));
          else if (type != SQLITE_NULL)
            append_hex (text, bytes, type == SQLITE_FLOAT ? 8 : sqlite3_column_bytes (statement, i));
        }
      g_string_append_c (text, '\n');
    }
  sqlite3_finalize (statement);
}

char *
tray_dump (Store *store)
{
  GString *text = g_string_new (NULL);
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open_v2 (store_get_path (store), &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  for (guint i = 0; i < TRAY_TABLES; i++)
    dump_table (db, tables[i].name, text);
  dump_table (db, "box_count", text);
  sqlite3_close (db);
  return g_string_free (text, FALSE);
}

gint64
tray_ask (const char *path, const char *sql)
{
  sqlite3_stmt *statement;
  sqlite3 *db;
  gint64 value;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  value = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return value;
}

void
tray_tamper (const char *path, const char *sql)
{
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  sqlite3_close (db);
}

void
tray_assert_sentence (GError **error, StoreError code)
{
  const char *end, *message;

  g_assert_error (*error, STORE_ERROR, (int) code);
  message = (*error)->message;
  end = message + strlen (message) - 1;
  g_test_message ("%s", message);
  /* One sentence: ends in a full stop and says what to do after a colon or semicolon. */
  g_assert_cmpint (*end, ==, '.');
  g_assert_true (strchr (message, ':') != NULL || strchr (message, ';') != NULL);
  g_assert_null (strstr (message, "\n"));
  g_clear_error (error);
}
