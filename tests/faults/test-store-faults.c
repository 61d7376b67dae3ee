/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Whatever goes wrong with the disk: after opening again, the content equals before or after the action, never between;
 * what was confirmed is there; and every check holds. The n-th operation fails for n = 1, 2, … until a run ends without
 * a fault having come.
 */

#define _GNU_SOURCE /* unshare() */

#include "fault-vfs.h"
#include "store-tray.h"

#include "store-check.h"
#include "store-undo.h"

#include <glib/gstdio.h>

#include <errno.h>
#include <fcntl.h>
#include <sched.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#define RUNS_MOST 5000 /* a loop that needs more does not end */

/* Everything in a file that must survive: journaled and derived rows, and what only the journal holds. */
static char *
content_of (Store *store)
{
  g_autofree char *rows = tray_dump (store);

  return g_strdup_printf ("%sentries %" G_GINT64_FORMAT " actions %" G_GINT64_FORMAT, rows,
                          tray_ask (store_get_path (store), "SELECT count(*) FROM entry"),
                          tray_ask (store_get_path (store), "SELECT count(*) FROM action"));
}

static void
check_holds (Store *store)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;

  if (!store_check (store, TRUE, &findings, NULL, NULL, NULL, &error))
    g_error ("%s", error->message);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((StoreFinding *) findings->pdata[i])->sentence);
  g_assert_cmpuint (findings->len, ==, 0);
}

static gboolean
edit_work (StoreAction *action, gpointer data, GError **error)
{
  return tray_run_sql (action,
                       (gpointer) "INSERT INTO item SELECT %id, min(id), 8, 0.5, 'edited', NULL FROM box; UPDATE box SET note = 'n'",
                       error);
}

static gboolean
bulk_work (StoreAction *action, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO item SELECT ?1, min(id), ?2, ?3, 'bulk', NULL FROM box";
  StoreDb *db = store_action_db (action);
  guint n = GPOINTER_TO_UINT (data);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, store_action_new_id (action));
      sqlite3_bind_int (statement, 2, (int) (i % 1000));
      sqlite3_bind_double (statement, 3, i / 7.0);
      if (!store_db_run (db, statement, "The item could not be stored", error) ||
          (i % 100 == 99 && !store_action_split (action, error)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
undo_last (Store *store, GError **error)
{
  StoreIntent intent = { .action = "undo" };

  return store_undo (store, &intent, 0, NULL, NULL, NULL, error);
}

/* What is done while things go wrong. */
typedef struct
{
  const char *name;
  StoreWork   work; /* NULL: an undo of the last action */
  guint       rows;
  gboolean    remote;
} Scene;

static gboolean
play (Store *store, const Scene *scene, GError **error)
{
  StoreIntent intent = { .action = scene->name };

  if (scene->work == NULL)
    return undo_last (store, error);
  return store_write (store, &intent, scene->work, GUINT_TO_POINTER (scene->rows), NULL, NULL, error);
}

static void
copy_file (const char *from, const char *to)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (from, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents_full (to, bytes, (gssize) length, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
}

static void
remove_beside (const char *path, const char *ending)
{
  g_autofree char *name = g_strconcat (path, ending, NULL);

  g_unlink (name);
}

/* A closed file with some content, and where it is copied to for each run. */
typedef struct
{
  Tray  tray;
  char *origin;
  char *before;
  char *after;
} Stage;

static void
build_stage (Stage *stage, const Scene *scene)
{
  g_autoptr(GError) error = NULL;

  *stage = (Stage){ 0 };
  tray_set_up (&stage->tray, NULL);
  tray_do (stage->tray.store, 0, "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO item VALUES (%id, %last - 1, 5, 1, 'x', NULL)");
  stage->before = content_of (stage->tray.store);
  g_assert_true (store_close (g_steal_pointer (&stage->tray.store), &error));
  stage->origin = g_build_filename (stage->tray.folder, "origin.tray", NULL);
  copy_file (stage->tray.path, stage->origin);
  stage->tray.options.vfs = FAULT_VFS;
  stage->tray.options.as_remote = scene->remote;
  stage->tray.options.busy_ms = 1;
}

static void
clear_stage (Stage *stage)
{
  g_free (stage->origin);
  g_free (stage->before);
  g_free (stage->after);
  tray_tear_down (&stage->tray, NULL);
}

static int
compare_lines (const void *a, const void *b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The keys of new rows hold a random origin, so that contents of two runs are compared without keys and their order. */
static char *
without_keys (const char *content)
{
  g_autoptr(GRegex) digits = g_regex_new ("\\|1:[0-9]{11,}", 0, 0, NULL);
  g_autofree char *plain = g_regex_replace_literal (digits, content, -1, 0, "|key", 0, NULL);
  g_auto(GStrv) lines = g_strsplit (plain, "\n", -1);

  qsort (lines, g_strv_length (lines), sizeof *lines, compare_lines);
  return g_strjoinv ("\n", lines);
}

/* Opens without faults and holds the content against what it may be. */
static void
assert_before_or_after (Stage *stage, gboolean confirmed)
{
  StoreOptions options = stage->tray.options;
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) store = NULL;
  g_autofree char *content = NULL, *plain = NULL, *before = without_keys (stage->before), *after = without_keys (stage->after);

  options.vfs = NULL;
  options.busy_ms = 1000;
  store = store_open (stage->tray.path, &tray_profile, &options, &error);
  g_assert_no_error (error);
  content = content_of (store);
  plain = without_keys (content);
  if (confirmed || !g_str_equal (plain, before))
    g_assert_cmpstr (plain, ==, after);
  check_holds (store);
}

/* One run in which the n-th operation goes wrong. Says whether it came to that. */
static gboolean
run_once (Stage *stage, const Scene *scene, FaultKind kind, FaultAt at, guint nth, gboolean repeat, GRand *rand)
{
  g_autoptr(GError) error = NULL;
  Store *store;
  gboolean confirmed = FALSE, struck;

  copy_file (stage->origin, stage->tray.path);
  fault_vfs_arm (kind, at, nth, repeat);
  store = store_open (stage->tray.path, &tray_profile, &stage->tray.options, &error);
  if (store != NULL)
    {
      confirmed = play (store, scene, &error);
      store_close (store, NULL);
    }
  struck = fault_vfs_struck ();
  g_assert_true (struck || confirmed);
  if (error != NULL)
    {
      g_assert_true (error->domain == STORE_ERROR);
      if (at != FAULT_AT_MEMORY)
        g_assert_cmpint (error->code, !=, STORE_ERROR_FAILED);
      tray_assert_sentence (&error, (StoreError) error->code);
    }
  if (kind == FAULT_POWER)
    {
      fault_vfs_power_off (rand);
      remove_beside (stage->tray.path, "-shm"); /* it was memory */
    }
  fault_vfs_disarm ();
  assert_before_or_after (stage, confirmed);
  remove_beside (stage->tray.path, "-wal");
  remove_beside (stage->tray.path, "-shm");
  remove_beside (stage->tray.path, "-journal");
  return struck;
}

static void
run_all (const Scene *scene, FaultKind kind, FaultAt at, gboolean repeat, guint step)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  Stage stage;
  guint nth = 1 + (guint) g_test_rand_int_range (0, (gint32) step), runs = 0; /* a sample begins anywhere */

  fault_vfs_register ();
  build_stage (&stage, scene);
  /* The content after, from a run without faults. */
  {
    g_autoptr(GError) error = NULL;
    Store *store = store_open (stage.tray.path, &tray_profile, &stage.tray.options, &error);

    g_assert_no_error (error);
    g_assert_true (play (store, scene, &error));
    stage.after = content_of (store);
    store_close (store, NULL);
  }
  while (run_once (&stage, scene, kind, at, nth, repeat, kind == FAULT_POWER && runs % 2 ? rand : NULL))
    {
      nth += step;
      g_assert_cmpuint (++runs, <, RUNS_MOST);
    }
  g_test_message ("%s: %u faults", scene->name, runs);
  g_assert_cmpuint (runs, >, 0);
  clear_stage (&stage);
}

static const Scene edit = { "edit", edit_work, 0, FALSE };
static const Scene undo = { "undo", NULL, 0, FALSE };
static const Scene remote_edit = { "edit without WAL", edit_work, 0, TRUE };
static const Scene bulk = { "bulk", bulk_work, 600, FALSE };
static const Scene remote_bulk = { "bulk without WAL", bulk_work, 600, TRUE };

/* Long scenes are sampled, unless all is wanted. */
static guint
bulk_step (void)
{
  return g_test_slow () ? 1 : 7;
}

static void
test_errors (void)
{
  run_all (&edit, FAULT_ERROR, FAULT_AT_ALL, FALSE, 1);
  run_all (&edit, FAULT_ERROR, FAULT_AT_ALL, TRUE, 1);
  run_all (&undo, FAULT_ERROR, FAULT_AT_ALL, FALSE, 1);
  run_all (&bulk, FAULT_ERROR, FAULT_AT_CHANGES, FALSE, bulk_step ());
  run_all (&bulk, FAULT_ERROR, FAULT_AT_CHANGES, TRUE, bulk_step ());
}

static void
test_memory (void)
{
  guint step = g_test_slow () ? 1 : 23;

  run_all (&edit, FAULT_ERROR, FAULT_AT_MEMORY, FALSE, step);
  run_all (&edit, FAULT_ERROR, FAULT_AT_MEMORY, TRUE, step);
  run_all (&undo, FAULT_ERROR, FAULT_AT_MEMORY, FALSE, step);
  run_all (&undo, FAULT_ERROR, FAULT_AT_MEMORY, TRUE, step);
}

static void
test_short (void)
{
  run_all (&edit, FAULT_SHORT, FAULT_AT_WRITE, FALSE, 1);
  run_all (&bulk, FAULT_SHORT, FAULT_AT_WRITE, FALSE, bulk_step ());
}

static void
test_full (void)
{
  run_all (&edit, FAULT_FULL, FAULT_AT_WRITE, TRUE, 1);
  run_all (&bulk, FAULT_FULL, FAULT_AT_WRITE, TRUE, bulk_step ());
  run_all (&bulk, FAULT_FULL, FAULT_AT_WRITE, FALSE, bulk_step ());
}

static void
test_power (void)
{
  run_all (&edit, FAULT_POWER, FAULT_AT_CHANGES, FALSE, 1);
  run_all (&undo, FAULT_POWER, FAULT_AT_CHANGES, FALSE, 1);
  run_all (&bulk, FAULT_POWER, FAULT_AT_CHANGES, FALSE, bulk_step ());
}

static void
test_remote (void)
{
  run_all (&remote_edit, FAULT_ERROR, FAULT_AT_ALL, FALSE, 1);
  run_all (&remote_edit, FAULT_FULL, FAULT_AT_WRITE, TRUE, 1);
  run_all (&remote_edit, FAULT_POWER, FAULT_AT_CHANGES, FALSE, 1);
  run_all (&remote_bulk, FAULT_POWER, FAULT_AT_CHANGES, FALSE, bulk_step ());
}

/* Making a file: it is there whole, or not at all. */
static void
test_create (void)
{
  static const FaultKind kinds[] = { FAULT_ERROR, FAULT_SHORT, FAULT_FULL };
  Stage stage;

  fault_vfs_register ();
  build_stage (&stage, &edit);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      gboolean struck = TRUE;

      for (guint nth = 1; struck && nth < RUNS_MOST; nth++)
        {
          g_autofree char *path = g_build_filename (stage.tray.folder, "new.tray", NULL);
          g_autoptr(GError) error = NULL;
          Store *store;

          fault_vfs_arm (kinds[i], FAULT_AT_ALL, nth, FALSE);
          store = store_create (path, &tray_profile, &stage.tray.options, &error);
          struck = fault_vfs_struck ();
          fault_vfs_disarm ();
          if (store != NULL)
            {
              check_holds (store);
              store_close (store, NULL);
              g_assert_cmpint (g_unlink (path), ==, 0);
            }
          else
            {
              tray_assert_sentence (&error, (StoreError) error->code);
              g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
            }
          remove_beside (path, "-wal");
          remove_beside (path, "-shm");
        }
      g_assert_false (struck);
    }
  clear_stage (&stage);
}

/* A child that writes until it is killed, and tells each receipt when it has it. */
static void
write_until_killed (const char *path, const char *state, gboolean large, int tell)
{
  StoreOptions options = { .state_folder = state };
  g_autoptr(GError) error = NULL;
  Store *store = store_open (path, &tray_profile, &options, &error);

  for (guint i = 0; store != NULL; i++)
    {
      StoreIntent intent = { .action = "test" };
      StoreReceipt receipt;

      if (!store_write (store, &intent, large ? bulk_work : edit_work, GUINT_TO_POINTER (4000), &receipt, NULL, &error) ||
          write (tell, &receipt.action, sizeof receipt.action) != sizeof receipt.action)
        break;
    }
  _exit (1);
}

/* Reads the receipts that a dead child told, and looks each up. */
static guint
assert_confirmed (const char *path, int told)
{
  gint64 action;
  guint n = 0;

  while (read (told, &action, sizeof action) == sizeof action)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT count(*) FROM action WHERE id = %" G_GINT64_FORMAT, action);

      g_assert_cmpint (tray_ask (path, sql), ==, 1);
      n++;
    }
  return n;
}

static void
kill_writers (gboolean large)
{
  guint rounds = g_test_slow () ? 250 : 6, confirmed = 0;
  gint64 longest = large ? 600000 : 60000; /* microseconds until the kill */
  Tray tray = { 0 };
  g_autoptr(GError) error = NULL;

  tray_set_up (&tray, NULL);
  tray_do (tray.store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  for (guint i = 0; i < rounds; i++)
    {
      int ends[2];
      pid_t child;

      g_assert_true (store_close (g_steal_pointer (&tray.store), &error));
      g_assert_no_error (error);
      g_assert_cmpint (pipe (ends), ==, 0);
      child = fork ();
      g_assert_cmpint (child, >=, 0);
      if (child == 0)
        {
          close (ends[0]);
          write_until_killed (tray.path, tray.state, large, ends[1]);
        }
      close (ends[1]);
      g_usleep ((gulong) g_test_rand_int_range (1000, (gint32) longest));
      g_assert_cmpint (kill (child, SIGKILL), ==, 0);
      g_assert_cmpint (waitpid (child, NULL, 0), ==, child);

      tray_reopen (&tray);
      confirmed += assert_confirmed (tray.path, ends[0]);
      close (ends[0]);
      check_holds (tray.store);
      if (large) /* keeps the file small */
        tray_do (tray.store, 0, "DELETE FROM item");
    }
  g_test_message ("%u kills, %u confirmed actions, all there", rounds, confirmed);
  if (!large) /* of the large ones, most are killed before their end */
    g_assert_cmpuint (confirmed, >, 0);
  tray_tear_down (&tray, NULL);
}

static void
test_kill_commits (void)
{
  kill_writers (FALSE);
}

static void
test_kill_bulk (void)
{
  kill_writers (TRUE);
}

/* A small disk of our own, if we may make one: in a child, so that the mount goes with it. */
static void
test_small_disk (void)
{
  g_autofree char *ballast = NULL;
  g_autoptr(GError) error = NULL;
  StoreIntent intent = { .action = "bulk" };
  Tray tray = { 0 };
  int fd;

  if (!g_test_subprocess ())
    {
      g_test_trap_subprocess (NULL, 0, G_TEST_SUBPROCESS_DEFAULT);
      if (g_test_trap_has_passed ())
        return;
      g_test_trap_assert_stdout ("*no disk of our own*"); /* anything else is a failure */
      g_test_skip ("no disk of our own can be mounted here; the VFS stands for it");
      return;
    }
  if (unshare (CLONE_NEWNS) != 0 || mount (NULL, "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0 ||
      mount ("tmpfs", g_get_tmp_dir (), "tmpfs", 0, "size=2m") != 0)
    {
      g_print ("no disk of our own: %s\n", g_strerror (errno));
      exit (77);
    }

  tray_set_up (&tray, NULL);
  tray_do (tray.store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  {
    g_autofree char *before = content_of (tray.store), *after = NULL;

    g_assert_false (store_write (tray.store, &intent, bulk_work, GUINT_TO_POINTER (200000), NULL, NULL, &error));
    tray_assert_sentence (&error, STORE_ERROR_FULL);
    after = content_of (tray.store);
    g_assert_cmpstr (before, ==, after);
  }
  check_holds (tray.store);

  /* To the last byte: refused, and works again when there is space. Opened anew, since a WAL keeps the space it had. */
  tray_reopen (&tray);
  ballast = g_build_filename (tray.folder, "ballast", NULL);
  fd = g_open (ballast, O_WRONLY | O_CREAT, 0600);
  for (char block[512] = { 1 }; write (fd, block, sizeof block) == sizeof block;)
    ;
  g_close (fd, NULL);
  for (guint i = 0; i < 200 && error == NULL; i++)
    store_write (tray.store, &intent, bulk_work, GUINT_TO_POINTER (500), NULL, NULL, &error);
  tray_assert_sentence (&error, STORE_ERROR_FULL);
  g_assert_cmpint (g_unlink (ballast), ==, 0);
  tray_do (tray.store, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");
  check_holds (tray.store);
  tray_tear_down (&tray, NULL);
}

/* Copied by a file manager while open: the file alone, without what stands beside it. */
static void
test_copied_while_open (void)
{
  Tray tray = { 0 };
  g_autofree char *copy = NULL, *full = NULL, *there = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) second = NULL;
  gint64 mine, theirs;

  tray_set_up (&tray, NULL);
  tray_do (tray.store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  tray_reopen (&tray);
  full = tray_dump (tray.store);
  tray_do (tray.store, 0, "INSERT INTO box VALUES (%id, 'not in the file yet', NULL)");
  copy = g_build_filename (tray.folder, "copy.tray", NULL);
  {
    g_autofree char *quoted = g_strdup_printf ("cp '%s' '%s'", tray.path, copy);

    g_assert_cmpint (system (quoted), ==, 0); /* another process: closing a file here would drop our locks */
  }
  second = store_open (copy, &tray_profile, &tray.options, &error);
  g_assert_no_error (error);
  there = tray_dump (second);
  g_assert_cmpstr (there, ==, full);
  check_holds (second);
  tray_do (second, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");
  mine = tray_ask (tray.path, "SELECT origin FROM entry ORDER BY place DESC LIMIT 1");
  theirs = tray_ask (copy, "SELECT origin FROM entry ORDER BY place DESC LIMIT 1");
  g_assert_cmpint (mine, !=, theirs);
  store_close (g_steal_pointer (&second), NULL);
  tray_tear_down (&tray, NULL);
}

int
main (int argc, char **argv)
{
  tray_in_memory (); /* faults come from the VFS */
  fault_vfs_take_memory ();
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/faults/store/an-operation-fails", test_errors);
  g_test_add_func ("/faults/store/memory-runs-out", test_memory);
  g_test_add_func ("/faults/store/a-write-stops-half-way", test_short);
  g_test_add_func ("/faults/store/the-disk-is-full", test_full);
  g_test_add_func ("/faults/store/the-power-fails", test_power);
  g_test_add_func ("/faults/store/all-that-without-shared-memory", test_remote);
  g_test_add_func ("/faults/store/a-file-is-made-whole-or-not-at-all", test_create);
  g_test_add_func ("/faults/store/killed-between-commits", test_kill_commits);
  g_test_add_func ("/faults/store/killed-in-bulk-work", test_kill_bulk);
  g_test_add_func ("/faults/store/a-small-disk-fills-up", test_small_disk);
  g_test_add_func ("/faults/store/copied-while-open", test_copied_while_open);
  return g_test_run ();
}
