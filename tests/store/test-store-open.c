/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What is opened, what is refused and left untouched, and what is left behind. */

#include "store-tray.h"

#include "store-content.h"
#include "store-history.h"

#include <glib/gstdio.h>

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char *
digest_of (const char *path)
{
  g_autofree char *bytes = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, &error));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
}

static guint
count_files (const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
close_tray (Tray *tray)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (store_close (g_steal_pointer (&tray->store), &error));
  g_assert_no_error (error);
}

/* Expects a refusal of @path that leaves it and its folder as they were. */
static void
assert_refused (Tray *tray, const char *path, StoreError code)
{
  g_autofree char *folder = g_path_get_dirname (path), *before = NULL, *after = NULL;
  g_autoptr(GError) error = NULL;
  gboolean is_file = g_file_test (path, G_FILE_TEST_IS_REGULAR);
  guint files = count_files (folder);

  if (is_file)
    before = digest_of (path);
  g_assert_null (store_open (path, &tray_profile, &tray->options, &error));
  tray_assert_sentence (&error, code);
  if (is_file)
    after = digest_of (path);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (count_files (folder), ==, files);
}

static char *
put_file (Tray *tray, const char *name, const char *bytes, gssize length)
{
  char *path = g_build_filename (tray->folder, name, NULL);
  g_autoptr(GError) error = NULL;

  g_assert_true (g_file_set_contents (path, bytes, length, &error));
  return path;
}

static void
test_refusals (Tray *tray, gconstpointer unused)
{
  g_autofree char *missing = g_build_filename (tray->folder, "none.tray", NULL);
  g_autofree char *empty = put_file (tray, "empty.tray", "", 0);
  g_autofree char *text = put_file (tray, "text.tray", "id,name\n1,a\n", -1);
  g_autofree char *cut = put_file (tray, "cut.tray", "SQLite format 3", 16);
  g_autofree char *foreign = put_file (tray, "foreign.tray", "", 0);

  tray_tamper (foreign, "CREATE TABLE t (x); PRAGMA application_id = 252006673");
  assert_refused (tray, missing, STORE_ERROR_MISSING);
  assert_refused (tray, tray->folder, STORE_ERROR_NOT_A_BOOK);
  assert_refused (tray, "/dev/null", STORE_ERROR_NOT_A_BOOK);
  assert_refused (tray, empty, STORE_ERROR_NOT_A_BOOK);
  assert_refused (tray, text, STORE_ERROR_NOT_A_BOOK);
  assert_refused (tray, cut, STORE_ERROR_NOT_A_BOOK);
  assert_refused (tray, foreign, STORE_ERROR_NOT_A_BOOK);
}

static void
test_newer (Tray *tray, gconstpointer unused)
{
  close_tray (tray);
  tray_tamper (tray->path, "PRAGMA user_version = 2");
  assert_refused (tray, tray->path, STORE_ERROR_NEWER);
  tray_tamper (tray->path, "PRAGMA user_version = 1; UPDATE identity SET format = 2");
  assert_refused (tray, tray->path, STORE_ERROR_NEWER);
}

static void
test_odd_identity (Tray *tray, gconstpointer unused)
{
  g_test_summary ("A UUID that is none, which would become the name of a file, is refused");
  close_tray (tray);
  tray_tamper (tray->path, "UPDATE identity SET uuid = '../../x'");
  assert_refused (tray, tray->path, STORE_ERROR_DAMAGED);
  tray_tamper (tray->path, "DELETE FROM identity");
  assert_refused (tray, tray->path, STORE_ERROR_DAMAGED);
}

static void
test_damaged (Tray *tray, gconstpointer unused)
{
  g_autofree char *bytes = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  close_tray (tray);
  g_assert_true (g_file_get_contents (tray->path, &bytes, &length, &error));
  memset (bytes + 100, 0xff, 4096 - 100);
  g_assert_true (g_file_set_contents (tray->path, bytes, (gssize) length, &error));
  g_assert_null (store_open (tray->path, &tray_profile, &tray->options, &error));
  tray_assert_sentence (&error, STORE_ERROR_DAMAGED);
}

static void
test_create_refusals (Tray *tray, gconstpointer unused)
{
  g_autofree char *nowhere = g_build_filename (tray->folder, "none", "b.tray", NULL);
  g_autoptr(GError) error = NULL;
  guint files = count_files (tray->folder);

  g_assert_null (store_create (tray->path, &tray_profile, &tray->options, &error));
  tray_assert_sentence (&error, STORE_ERROR_EXISTS);
  g_assert_null (store_create (nowhere, &tray_profile, &tray->options, &error));
  tray_assert_sentence (&error, STORE_ERROR_MISSING);
  g_assert_null (store_create (tray->folder, &tray_profile, &tray->options, &error));
  tray_assert_sentence (&error, STORE_ERROR_EXISTS);
  g_assert_cmpuint (count_files (tray->folder), ==, files);
}

static void
test_unfit_profile (Tray *tray, gconstpointer unused)
{
  static const struct
  {
    const char *sql;
  } cases[] = {
    { "CREATE TABLE t (id INTEGER PRIMARY KEY, x TEXT)" },
    { "CREATE TABLE t (id INTEGER PRIMARY KEY, x TEXT UNIQUE) STRICT" },
    { "CREATE TABLE t (id TEXT PRIMARY KEY, x TEXT) STRICT" },
    { "CREATE TABLE t (x TEXT, id INTEGER PRIMARY KEY) STRICT" },
    { "CREATE TABLE t (id INTEGER PRIMARY KEY, x INTEGER, y INTEGER AS (x + 1)) STRICT" },
    { "CREATE TABLE t (id INTEGER PRIMARY KEY, x INTEGER REFERENCES t (id) ON DELETE CASCADE) STRICT" },
    { "CREATE TABLE t (id INTEGER PRIMARY KEY) STRICT, WITHOUT ROWID" },
    { "CREATE TABLE u (id INTEGER PRIMARY KEY) STRICT" },
  };
  static const StoreTable tables[] = { { "t", FALSE } };

  g_test_summary ("A journaled table that the journal could not hold is refused when the file is made");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *migrations[] = { cases[i].sql };
      StoreProfile profile = { .application_id = 1, .kind = "a test", .migrations = migrations, .n_migrations = 1,
                               .tables = tables, .n_tables = 1 };
      g_autofree char *path = g_build_filename (tray->folder, "unfit.tray", NULL);
      g_autoptr(GError) error = NULL;
      Store *store = store_create (path, &profile, &tray->options, &error);

      g_test_message ("%s", cases[i].sql);
      g_assert_null (store);
      tray_assert_sentence (&error, STORE_ERROR_DAMAGED);
    }
}

static void
test_one_file (Tray *tray, gconstpointer unused)
{
  g_test_summary ("The last close leaves one file, with everything in it");
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_cmpuint (count_files (tray->folder), ==, 4); /* with -wal, -shm and the state folder */
  close_tray (tray);
  g_assert_cmpuint (count_files (tray->folder), ==, 2);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "PRAGMA application_id"), ==, 0x54726179);
  g_assert_cmpint (tray_ask (tray->path, "PRAGMA user_version"), ==, 1);
}

static gint64
wal_size (Tray *tray)
{
  g_autofree char *path = g_strconcat (tray->path, "-wal", NULL);
  GStatBuf info;

  return g_stat (path, &info) == 0 ? (gint64) info.st_size : -1;
}

static void
test_idle_checkpoint (Tray *tray, gconstpointer unused)
{
  gint64 deadline = g_get_monotonic_time () + 20 * G_USEC_PER_SEC;

  g_test_summary ("After quiet time the WAL is brought into the file");
  close_tray (tray);
  tray->options.idle_ms = 20;
  tray_reopen (tray);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  while (wal_size (tray) != 0 && g_get_monotonic_time () < deadline)
    g_usleep (2000);
  g_assert_cmpint (wal_size (tray), ==, 0);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");
}

static void
test_older (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *uuid = g_strdup (store_get_uuid (tray->store)), *copy = NULL;
  gint64 undo = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO item VALUES (%id, %last - 1, 5, 1, 'x', NULL)");
  Store *again;

  g_test_summary ("An older schema is copied first, then migrated; derived tables are rebuilt");
  g_assert_null (store_get_old_copy (tray->store));
  close_tray (tray);
  tray_tamper (tray->path, "DELETE FROM box_count; DELETE FROM entry_touch");
  tray->store = store_open (tray->path, &tray_profile_2, &tray->options, &error);
  g_assert_no_error (error);
  copy = g_build_filename (tray->folder, "a-schema-1.tray", NULL);
  g_assert_cmpstr (store_get_old_copy (tray->store), ==, copy);
  g_assert_cmpstr (store_get_uuid (tray->store), ==, uuid);
  g_assert_cmpint (tray_ask (tray->path, "PRAGMA user_version"), ==, 2);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM item WHERE colour = 'grey'"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT items FROM box_count"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM entry_touch"), ==, 2);
  g_assert_cmpint (tray_ask (copy, "PRAGMA user_version"), ==, 1);
  g_assert_cmpint (tray_ask (copy, "SELECT count(*) FROM pragma_table_info ('item')"), ==, 6);
  g_assert_cmpint (undo, !=, 0);
  close_tray (tray);

  /* A second one of that name gets a number. */
  tray->store = store_open (copy, &tray_profile_2, &tray->options, &error);
  g_assert_no_error (error);
  close_tray (tray);
  g_assert_cmpint (g_rename (copy, tray->path), ==, 0);
  again = store_open (tray->path, &tray_profile_2, &tray->options, &error);
  g_assert_no_error (error);
  g_assert_null (store_get_old_copy (again));
  tray->store = again;
}

static void
test_triggers (Tray *tray, gconstpointer unused)
{
  g_test_summary ("Nothing of a file's triggers and views runs");
  close_tray (tray);
  tray_tamper (tray->path, "INSERT INTO box VALUES (9, 'hidden', NULL);"
                           "CREATE TRIGGER t AFTER INSERT ON item BEGIN UPDATE box SET name = 'changed'; END;"
                           "CREATE TRIGGER u BEFORE UPDATE ON box BEGIN SELECT RAISE (FAIL, 'no'); END;"
                           "CREATE VIEW v AS SELECT * FROM box");
  tray_reopen (tray);
  tray_do (tray->store, 0, "INSERT INTO item VALUES (%id, 9, 1, 1, NULL, NULL)");
  tray_do (tray->store, 0, "UPDATE box SET note = 'n'");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name = 'hidden' AND note = 'n'"), ==, 1);
  tray_refused (tray->store, "INSERT INTO item SELECT 5, id, 1, 1, NULL, NULL FROM v", STORE_ERROR_FAILED);
}

static void
test_remote (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;

  g_test_summary ("Where memory cannot be shared, there is no WAL, and a file that had one is converted");
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_false (store_is_remote (tray->store));
  close_tray (tray);
  tray->options.as_remote = TRUE;
  tray_reopen (tray);
  g_assert_true (store_is_remote (tray->store));
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");
  g_assert_cmpint (wal_size (tray), ==, -1);
  g_assert_cmpuint (count_files (tray->folder), ==, 3); /* with what says who writes */
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box"), ==, 2);
  g_assert_nonnull (store_front_db (tray->store, &error));
  g_assert_true (store_history_head (store_front_db (tray->store, NULL), NULL, NULL, &error));
  close_tray (tray);
  tray->options.as_remote = FALSE;
  tray_reopen (tray);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'c', NULL)");
  g_assert_cmpint (wal_size (tray), >, 0);
}

static void
test_one_writer (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) second = NULL;
  g_autofree char *lock = g_strconcat (tray->path, "-writer", NULL);
  const StoreIntent intent = { .action = "test" };
  const char *sql = "INSERT INTO box VALUES (%id, 'c', NULL)";

  g_test_summary ("Where the disk is not local the first that writes is the one writer, until it closes the file");
  close_tray (tray);
  tray->options.as_remote = TRUE;
  tray->options.busy_ms = 200;
  tray_reopen (tray);
  second = store_open (tray->path, &tray_profile, &tray->options, &error);
  g_assert_no_error (error);
  g_assert_false (g_file_test (lock, G_FILE_TEST_EXISTS)); /* nobody has written yet */

  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_false (store_write (second, &intent, tray_run_sql, (gpointer) sql, NULL, NULL, &error));
  g_assert_nonnull (strstr (error->message, g_get_host_name ()));
  tray_assert_sentence (&error, STORE_ERROR_LOCKED);
  g_assert_true (store_history_head (store_front_db (second, NULL), NULL, NULL, &error)); /* reading goes on */
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");

  close_tray (tray);
  g_assert_false (g_file_test (lock, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_set_contents (lock, "left behind by a program that was killed", -1, &error));
  g_assert_true (store_write (second, &intent, tray_run_sql, (gpointer) sql, NULL, NULL, &error));
  tray_reopen (tray);
  tray_refused (tray->store, "INSERT INTO box VALUES (%id, 'd', NULL)", STORE_ERROR_LOCKED);
}

static void
test_save_copy (Tray *tray, gconstpointer unused)
{
  g_autofree char *copy = g_build_filename (tray->folder, "copy.tray", NULL), *here = NULL, *there = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) second = NULL;

  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_true (store_save_copy (tray->store, copy, NULL, &error));
  g_assert_no_error (error);
  g_assert_false (store_save_copy (tray->store, copy, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_EXISTS);
  second = store_open (copy, &tray_profile, &tray->options, &error);
  g_assert_no_error (error);
  here = tray_dump (tray->store);
  there = tray_dump (second);
  g_assert_cmpstr (here, ==, there);
}

/* Nobody but this connection writes; as root, permissions do not hold, so that a child becomes somebody else. */
static void
test_read_only_folder (void)
{
  if (g_test_subprocess ())
    {
      Tray tray = { 0 };
      g_autoptr(GError) error = NULL;
      g_autofree char *other = NULL;

      if (getuid () == 0)
        g_assert_true (setgid (65534) == 0 && setuid (65534) == 0);
      tray_set_up (&tray, NULL);
      close_tray (&tray);
      other = g_build_filename (tray.folder, "b.tray", NULL);
      g_assert_cmpint (g_chmod (tray.folder, 0500), ==, 0);
      g_assert_null (store_create (other, &tray_profile, &tray.options, &error));
      tray_assert_sentence (&error, STORE_ERROR_READ_ONLY);
      g_assert_null (store_open (tray.path, &tray_profile, &tray.options, &error));
      tray_assert_sentence (&error, STORE_ERROR_READ_ONLY);
      g_assert_cmpint (g_chmod (tray.folder, 0700), ==, 0);
      g_assert_cmpint (g_chmod (tray.path, 0400), ==, 0);
      g_assert_null (store_open (tray.path, &tray_profile, &tray.options, &error));
      tray_assert_sentence (&error, STORE_ERROR_READ_ONLY);
      g_assert_cmpint (g_chmod (tray.path, 0000), ==, 0);
      g_assert_null (store_open (tray.path, &tray_profile, &tray.options, &error));
      tray_assert_sentence (&error, STORE_ERROR_READ_ONLY);
      tray_tear_down (&tray, NULL);
      return;
    }
  g_test_trap_subprocess (NULL, 0, G_TEST_SUBPROCESS_DEFAULT);
  g_test_trap_assert_passed ();
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/open/refuses-what-is-no-such-file", test_refusals);
  tray_test ("/store/open/leaves-a-newer-file-untouched", test_newer);
  tray_test ("/store/open/refuses-an-odd-identity", test_odd_identity);
  tray_test ("/store/open/refuses-a-damaged-file", test_damaged);
  tray_test ("/store/open/does-not-make-a-file-over-another", test_create_refusals);
  tray_test ("/store/open/refuses-tables-the-journal-cannot-hold", test_unfit_profile);
  tray_test ("/store/open/leaves-one-file", test_one_file);
  tray_test ("/store/open/tidies-up-when-idle", test_idle_checkpoint);
  tray_test ("/store/open/copies-and-migrates-an-older-file", test_older);
  tray_test ("/store/open/runs-no-trigger-and-no-view", test_triggers);
  tray_test ("/store/open/writes-without-shared-memory", test_remote);
  tray_test ("/store/open/a-remote-file-has-one-writer", test_one_writer);
  tray_test ("/store/open/saves-a-copy-while-open", test_save_copy);
  g_test_add_func ("/store/open/says-what-may-not-be-written", test_read_only_folder);
  return g_test_run ();
}
