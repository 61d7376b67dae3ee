/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Reading beside the main thread, and hearing of commits. */

#include "store-tray.h"

#include "store-reader.h"

#include <string.h>

static gpointer
count_boxes (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  static const char sql[] = "SELECT count(*) FROM box";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;
  gint64 *count;

  if (statement == NULL || !store_db_next (db, statement, "Boxes could not be counted", &row, error))
    return NULL;
  count = g_new (gint64, 1);
  *count = sqlite3_column_int64 (statement, 0);
  return count;
}

typedef struct
{
  StoreReader *reader;
  GString     *log;
  guint        left;
} Asker;

static void
on_answer (GObject *source, GAsyncResult *result, gpointer data)
{
  Asker *asker = data;
  g_autoptr(GError) error = NULL;
  g_autofree gint64 *count = store_reader_run_finish (asker->reader, result, &error);

  if (count != NULL)
    g_string_append_printf (asker->log, "%" G_GINT64_FORMAT, *count);
  else
    g_string_append (asker->log, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? "c" : "x");
  asker->left--;
}

static void
test_in_order (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (tray->store, &error);
  g_autoptr(GCancellable) cancelled = g_cancellable_new ();
  g_autoptr(GString) log = g_string_new (NULL);
  Asker asker = { reader, log, 3 };

  g_assert_no_error (error);
  g_cancellable_cancel (cancelled);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  store_reader_run_async (reader, count_boxes, NULL, NULL, g_free, NULL, on_answer, &asker);
  store_reader_run_async (reader, count_boxes, NULL, NULL, g_free, cancelled, on_answer, &asker);
  while (asker.left > 1)
    g_main_context_iteration (NULL, TRUE);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'b', NULL)");
  store_reader_run_async (reader, count_boxes, NULL, NULL, g_free, NULL, on_answer, &asker);
  while (asker.left > 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (log->str, ==, "1c2");
}

static gpointer
write_between (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  Tray *tray = data;
  g_autofree gint64 *before = count_boxes (db, NULL, NULL, error);
  g_autofree gint64 *after = NULL;

  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'between', NULL)");
  after = count_boxes (db, NULL, NULL, error);
  g_assert_cmpint (*before, ==, *after);
  store_reader_done_reading (db);
  g_clear_pointer (&after, g_free);
  after = count_boxes (db, NULL, NULL, error);
  g_assert_cmpint (*before + 1, ==, *after);
  return g_steal_pointer (&after);
}

static void
test_one_state (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (tray->store, &error);
  g_autofree gint64 *count = NULL;

  g_test_summary ("A request sees one state of the file, until it says that it is done reading");
  count = store_reader_run (reader, write_between, tray, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (*count, ==, 1);
}

static gpointer
try_to_write (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return store_db_exec (db, "INSERT INTO box VALUES (1, 'x', NULL)", error) ? g_strdup ("wrote") : NULL;
}

static gpointer
endless (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  g_cancellable_cancel (cancellable);
  return store_db_exec (db, "WITH RECURSIVE c (x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c) SELECT max(x) FROM c", error)
             ? g_strdup ("ended")
             : NULL;
}

static void
test_cannot_write (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (tray->store, &error);
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();

  g_assert_null (store_reader_run (reader, try_to_write, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_READ_ONLY);
  g_assert_null (store_reader_run (reader, endless, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static gpointer
wait_for_free (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  g_usleep (20000);
  return g_strdup ("done");
}

static void
on_dropped (GObject *source, GAsyncResult *result, gpointer data)
{
  Asker *asker = data;
  g_autoptr(GError) error = NULL;
  g_autofree char *answer = g_task_propagate_pointer (G_TASK (result), &error);

  g_string_append_c (asker->log, answer != NULL ? 'd' : 'c');
  asker->left--;
}

static void
test_free (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  StoreReader *reader = store_reader_new (tray->store, &error);
  g_autoptr(GString) log = g_string_new (NULL);
  Asker asker = { reader, log, 3 };

  g_test_summary ("Freeing a reader ends what waits as cancelled; every request is answered");
  for (guint i = 0; i < 3; i++)
    store_reader_run_async (reader, wait_for_free, g_strdup ("data"), g_free, g_free, NULL, on_dropped, &asker);
  store_reader_free (reader);
  while (asker.left > 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (log->len, ==, 3); /* in which order depends on how far the thread was */
  g_assert_cmpuint (strspn (log->str, "cd"), ==, 3);
}

static void
note_change (gpointer data)
{
  ++*(guint *) data;
}

static gboolean
on_deadline (gpointer data)
{
  g_error ("nobody told of the commit");
  return G_SOURCE_REMOVE;
}

static void
test_watch (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  guint changes = 0, deadline = g_timeout_add_seconds (20, on_deadline, NULL);
  g_autoptr(StoreWatch) watch = store_watch (tray->store, 5, note_change, &changes, &error);
  gint64 quiet;

  g_test_summary ("A watch tells of commits of this program and of others, and of nothing else");
  g_assert_no_error (error);
  g_assert_nonnull (watch);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  while (changes < 1)
    g_main_context_iteration (NULL, TRUE);
  tray_tamper (tray->path, "UPDATE keeper SET name = 'x'; INSERT INTO keeper VALUES ('AB', 'invented')");
  while (changes < 2)
    g_main_context_iteration (NULL, TRUE);
  tray_do (tray->store, 0, "UPDATE box SET name = 'a'");
  quiet = g_get_monotonic_time () + 50000;
  while (g_get_monotonic_time () < quiet)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (changes, <=, 3); /* the two statements above may have been heard one by one */
  g_source_remove (deadline);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/reader/answers-in-order-and-drops-what-was-cancelled", test_in_order);
  tray_test ("/store/reader/a-request-sees-one-state", test_one_state);
  tray_test ("/store/reader/cannot-write-and-can-be-stopped", test_cannot_write);
  tray_test ("/store/reader/freeing-answers-what-waits", test_free);
  tray_test ("/store/watch/tells-of-every-commit", test_watch);
  return g_test_run ();
}
