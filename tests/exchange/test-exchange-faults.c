/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * An import while the disk fails or the program is killed: afterwards the book holds either all of the call or nothing
 * of it, and its integrity check passes.
 */
#include "exchange-desk.h"
#include "fault-vfs.h"

#include "store-check.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define MOST_OPERATIONS 2000 /* the loop ends long before: when a run meets no fault */

static const char *own_path;

static char *
book_path (const Desk *desk)
{
  return g_build_filename (desk->folder, "book.fettle", NULL);
}

static void
copy (const char *from, const char *to)
{
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  g_file_get_contents (from, &text, &length, &error);
  g_assert_no_error (error);
  g_file_set_contents (to, text, (gssize) length, &error);
  g_assert_no_error (error);
}

static void
remove_beside (const char *path)
{
  static const char * const suffixes[] = { "", "-wal", "-shm", "-journal" };

  for (guint i = 0; i < G_N_ELEMENTS (suffixes); i++)
    {
      g_autofree char *file = g_strconcat (path, suffixes[i], NULL);

      g_remove (file);
    }
}

/* Files with a new unit and readings of three units, one of which changes a row of the book. */
static void
put_more (Desk *desk, guint n)
{
  g_autoptr(GString) text = g_string_new ("model,round,unit,characteristic,n,value,reason\n");

  for (guint i = 1; i <= n; i++)
    g_string_append_printf (text, "A,P1,U%u,W,%u,%u.5,measured in the evening of a long day\n", i % 3 + 1, i / 3 + 1, i);
  desk_clear (desk);
  desk_put (desk, "unit.csv", "model,round,serial\nA,P1,U3\n");
  desk_put (desk, "characteristic.csv", "model,code,name\nA,W,Width over all\n");
  desk_put (desk, "reading.csv", text->str);
}

/* The book as it is before the import, kept aside; and what it holds before and after. */
typedef struct
{
  Desk  desk;
  char *path;
  char *kept;
  char *before;
  char *after;
} Trial;

static void
open_again (Trial *trial, const char *vfs)
{
  StoreOptions options = trial->desk.options;
  g_autoptr(GError) error = NULL;

  options.vfs = vfs;
  trial->desk.book = book_open (trial->path, &options, &error);
  g_assert_no_error (error);
}

static void
trial_begin (Trial *trial, guint n)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autoptr(GError) error = NULL;
  g_autofree char *got = NULL;

  desk_open (&trial->desk, NULL);
  trial->path = book_path (&trial->desk);
  trial->kept = g_strconcat (trial->path, ".kept", NULL);
  desk_put_base (&trial->desk);
  desk_do (&trial->desk);
  trial->before = desk_dump (&trial->desk);
  g_assert_true (book_close (trial->desk.book, &error));
  copy (trial->path, trial->kept);
  open_again (trial, NULL);
  put_more (&trial->desk, n);
  got = desk_import (&trial->desk, &update);
  g_assert_nonnull (strstr (got, "reading +"));
  trial->after = desk_dump (&trial->desk);
  g_assert_cmpstr (trial->before, !=, trial->after);
}

/* The kept book in the place of the present one, which is closed. */
static void
trial_reset (Trial *trial)
{
  remove_beside (trial->path);
  copy (trial->kept, trial->path);
}

static void
trial_end (Trial *trial)
{
  desk_close (&trial->desk, NULL);
  g_free (trial->path);
  g_free (trial->kept);
  g_free (trial->before);
  g_free (trial->after);
}

/* Whether all of the import is there; it must be all or nothing, and sound. */
static gboolean
is_stored (Trial *trial)
{
  g_autofree char *now = desk_dump (&trial->desk);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) findings = NULL;

  g_assert_true (store_check (book_get_store (trial->desk.book), FALSE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
  if (strcmp (now, trial->before) == 0)
    return FALSE;
  g_assert_cmpstr (now, ==, trial->after);
  return TRUE;
}

static void
run_faults (FaultKind kind, FaultAt at, gboolean repeat)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  Trial trial = { 0 };
  guint stored = 0;
  guint lost = 0;

  fault_vfs_register ();
  trial_begin (&trial, 60);
  for (guint nth = 1; nth < MOST_OPERATIONS; nth++)
    {
      g_autofree char *got = NULL;
      gboolean struck;
      gboolean good;

      g_assert_true (book_close (trial.desk.book, NULL));
      trial_reset (&trial);
      open_again (&trial, FAULT_VFS);
      fault_vfs_arm (kind, at, nth, repeat);
      got = desk_import (&trial.desk, &update);
      good = strstr (got, "reading +") != NULL;
      struck = fault_vfs_struck ();
      book_close (trial.desk.book, NULL); /* may fail while the disk does */
      fault_vfs_disarm ();
      open_again (&trial, NULL);
      if (is_stored (&trial))
        stored++;
      else
        {
          lost++;
          g_assert_false (good); /* what was confirmed is there */
        }
      if (!good)
        g_assert_cmpuint (strlen (got), >, 10); /* a sentence */
      if (!struck)
        break;
      g_assert_cmpuint (nth, <, MOST_OPERATIONS - 1);
    }
  g_test_message ("%u runs stored the import, %u did not", stored, lost);
  g_assert_cmpuint (lost, >, 0);
  g_assert_cmpuint (stored, >, 0);
  trial_end (&trial);
}

static void
test_errors (void)
{
  g_test_summary ("Any one write, sync or truncation that fails once leaves all or nothing of the import.");
  run_faults (FAULT_ERROR, FAULT_AT_CHANGES, FALSE);
}

static void
test_full (void)
{
  g_test_summary ("A disk that is full from the n-th write on leaves all or nothing of the import.");
  run_faults (FAULT_FULL, FAULT_AT_CHANGES, TRUE);
}

/* The child kills itself when it is told of its progress for the n-th time. */
static guint kill_at;

static void
on_progress (guint64 done, guint64 total, gpointer data)
{
  if (--kill_at == 0)
    kill (getpid (), SIGKILL);
}

static int
run_child (char **argv)
{
  StoreOptions options = { .state_folder = argv[4] };
  const ExchangeImportOptions import = { .update = TRUE, .progress = on_progress };
  const char *paths[] = { argv[3], NULL };
  Book *book = book_open (argv[2], &options, NULL);

  kill_at = (guint) g_ascii_strtoull (argv[5], NULL, 10);
  if (book == NULL || !exchange_import (book, paths, &import, NULL, NULL, NULL) || !book_close (book, NULL))
    return 1;
  return 0;
}

static void
test_kill (void)
{
  Trial trial = { 0 };
  guint killed = 0;

  g_test_summary ("A program killed anywhere in an import leaves nothing of it, and the book is sound.");
  trial_begin (&trial, 12500);
  for (guint nth = 1; nth < MOST_OPERATIONS; nth++)
    {
      g_autofree char *n = g_strdup_printf ("%u", nth);
      char *argv[] = { (char *) own_path,      (char *) "--child",
                       trial.path,             trial.desk.files,
                       (char *) trial.desk.options.state_folder, n, NULL };
      g_autoptr(GError) error = NULL;
      int status;
      gboolean ended;

      g_assert_true (book_close (trial.desk.book, NULL));
      trial_reset (&trial);
      g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, &error);
      g_assert_no_error (error);
      ended = g_spawn_check_wait_status (status, NULL);
      if (!ended)
        g_assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
      open_again (&trial, NULL);
      g_assert_true (is_stored (&trial) == ended);
      if (ended)
        break;
      killed++;
    }
  g_test_message ("killed %u times", killed);
  g_assert_cmpuint (killed, >, 5);
  trial_end (&trial);
}

int
main (int argc, char **argv)
{
  if (argc == 6 && strcmp (argv[1], "--child") == 0)
    return run_child (argv);
  own_path = argv[0];
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/faults/an-operation-fails", test_errors);
  g_test_add_func ("/exchange/faults/the-disk-is-full", test_full);
  g_test_add_func ("/exchange/faults/killed-in-an-import", test_kill);
  return g_test_run ();
}
