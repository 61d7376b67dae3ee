/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Actions: what is stored, what is refused, what the receipt says, in which order, and what stops. */

#include "store-tray.h"

#include "store-history.h"
#include "store-id.h"

#include <string.h>

static void
test_id_ends (void)
{
  g_test_summary ("Keys hold the origin above the counter, and are positive up to both ends");
  g_assert_cmpint (store_id_make (1, 1), ==, (G_GINT64_CONSTANT (1) << 33) + 1);
  g_assert_cmpint (store_id_make (STORE_ID_ORIGIN_MOST, STORE_ID_COUNTER_MOST), ==, G_MAXINT64);
  g_assert_cmpint (store_id_origin (G_MAXINT64), ==, STORE_ID_ORIGIN_MOST);
  g_assert_cmpint (store_id_counter (G_MAXINT64), ==, STORE_ID_COUNTER_MOST);
  g_assert_cmpint (store_id_origin (store_id_make (STORE_ID_ORIGIN_MOST, 1)), ==, STORE_ID_ORIGIN_MOST);
  g_assert_cmpint (store_id_counter (store_id_make (1, STORE_ID_COUNTER_MOST)), ==, STORE_ID_COUNTER_MOST);
  g_assert_cmpint (store_id_origin (store_id_make (1, STORE_ID_COUNTER_MOST)), ==, 1);
  g_assert_cmpint (store_id_make (1, STORE_ID_COUNTER_MOST), <, store_id_make (2, 1));
}

static void
test_receipt (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "filled", .person = 7, .sitting = 9 };
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;

  store_write (tray->store, &intent, tray_run_sql,
               (gpointer) "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO item VALUES (%id, %last - 1, 5, 1.5, 'x', NULL)",
               &receipt, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (receipt.action, >, 0);
  g_assert_cmpuint (receipt.entries, ==, 1);
  g_assert_cmpuint (receipt.inserted, ==, 2);

  store_write (tray->store, &intent, tray_run_sql,
               (gpointer) "UPDATE item SET size = 6; DELETE FROM item WHERE size = 6; UPDATE box SET note = 'n'", &receipt, NULL,
               &error);
  g_assert_no_error (error);
  g_assert_cmpuint (receipt.inserted, ==, 0);
  g_assert_cmpuint (receipt.updated, ==, 1);
  g_assert_cmpuint (receipt.deleted, ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM sitting WHERE id = 9 AND person = 7"), ==, 1);
}

static void
test_nothing_changed (Tray *tray, gconstpointer unused)
{
  g_assert_cmpint (tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)"), !=, 0);
  g_assert_cmpint (tray_do (tray->store, 0, "UPDATE box SET name = 'a'"), ==, 0);
  g_assert_cmpint (tray_do (tray->store, 0, "UPDATE box SET name = 'b'; UPDATE box SET name = 'a'"), ==, 0);
  g_assert_cmpint (tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'b', NULL); DELETE FROM box WHERE name = 'b'"), ==, 0);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM action"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM entry"), ==, 1);
}

static gboolean
forget_keeper (StoreAction *action, gpointer data, GError **error)
{
  store_action_keep (action);
  return store_db_exec (store_action_db (action), "INSERT INTO keeper VALUES ('AB', 'invented')", error);
}

static void
test_kept (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "name-told" };
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;

  g_test_summary ("A change of a kept table alone is stored when the work says so, without an action");
  tray_do (tray->store, 0, "INSERT INTO keeper VALUES ('CD', 'dropped')");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM keeper"), ==, 0);
  store_write (tray->store, &intent, forget_keeper, NULL, &receipt, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (receipt.action, ==, 0);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM keeper"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM action"), ==, 0);
}

static void
test_refusals (Tray *tray, gconstpointer unused)
{
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
  tray_refused (tray->store, "INSERT INTO item SELECT %id, id, 1001, 0, NULL, NULL FROM box", STORE_ERROR_RULE);
  tray_refused (tray->store, "INSERT INTO box VALUES (%id, 'a', NULL)", STORE_ERROR_RULE);
  tray_refused (tray->store, "INSERT INTO item VALUES (%id, 77, 1, 0, NULL, NULL)", STORE_ERROR_RULE);
  tray_refused (tray->store, "INSERT INTO box VALUES (%id, NULL, NULL)", STORE_ERROR_RULE);
  tray_refused (tray->store, "INSERT INTO box VALUES (%id, 'b', NULL); this is no SQL", STORE_ERROR_FAILED);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM entry"), ==, 1);
}

static gboolean
ignore_rollback (StoreAction *action, gpointer data, GError **error)
{
  sqlite3 *db = store_db_handle (store_action_db (action));

  /* As SQLite itself does after some faults. */
  g_assert_cmpint (sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "INSERT INTO box VALUES (5, 'past the journal', NULL)", NULL, NULL, NULL), !=, SQLITE_OK);
  return TRUE;
}

static void
test_lost_transaction (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "careless" };
  g_autoptr(GError) error = NULL;

  g_test_summary ("When the transaction is gone, nothing that careless work still writes is stored");
  g_assert_false (store_write (tray->store, &intent, ignore_rollback, NULL, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_IO);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box"), ==, 0);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
}

static gboolean
fill_bulk (StoreAction *action, gpointer data, GError **error)
{
  static const char box[] = "INSERT INTO box VALUES (?1, 'bulk', NULL)";
  static const char item[] = "INSERT INTO item VALUES (?1, ?2, ?3, ?4, 'label', NULL)";
  StoreDb *db = store_action_db (action);
  guint n = *(guint *) data;
  gint64 key = store_action_new_id (action);
  g_autoptr(StoreStatement) first = store_db_statement (db, box, error);
  g_autoptr(StoreStatement) second = store_db_statement (db, item, error);

  sqlite3_bind_int64 (first, 1, key);
  if (!store_db_run (db, first, "The box could not be stored", error))
    return FALSE;
  store_action_message (action, "box-filled",
                        g_variant_new_parsed ("[('box', %x), ('count', %x)]", key, (gint64) n));
  for (guint i = 0; i < n; i++)
    {
      sqlite3_bind_int64 (second, 1, store_action_new_id (action));
      sqlite3_bind_int64 (second, 2, key);
      sqlite3_bind_int (second, 3, (int) (i % 1000));
      sqlite3_bind_double (second, 4, i / 7.0);
      if (!store_db_run (db, second, "The item could not be stored", error))
        return FALSE;
      if (i % 1000 == 999 && (!store_action_split (action, error) || !store_action_progress (action, i + 1, n, error)))
        return FALSE;
    }
  return TRUE;
}

static void
test_split (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "bulk" };
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreActionInfo) info = NULL;
  g_autofree char *arguments = NULL;
  StoreReceipt receipt;
  guint n = 20500;

  g_test_summary ("Bulk work is cut into entries of one action, and leaves few ranges");
  store_write (tray->store, &intent, fill_bulk, &n, &receipt, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (receipt.entries, ==, 21);
  g_assert_cmpuint (receipt.inserted, ==, n + 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM payload WHERE packing = 1"), ==, 21);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM entry_touch"), <, 2 * 21 + 21000 / 4096 + 2);
  g_assert_cmpint (tray_ask (tray->path, "SELECT items FROM box_count"), ==, n);

  info = store_history_get (store_front_db (tray->store, NULL), receipt.action, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (info->message, ==, "box-filled");
  g_assert_cmpuint (info->entries, ==, 21);
  arguments = g_variant_print (info->arguments, FALSE);
  g_assert_true (g_str_has_suffix (arguments, ", ('count', 20500)]"));
}

typedef struct
{
  GCancellable *cancellable;
  guint         told;
} Stopper;

static void
stop_soon (guint64 done, guint64 total, gpointer data)
{
  Stopper *stopper = data;

  g_assert_cmpuint (total, ==, 20000);
  stopper->told++;
  if (done == 5000)
    g_cancellable_cancel (stopper->cancellable);
}

static void
test_cancel (Tray *tray, gconstpointer unused)
{
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  Stopper stopper = { cancellable, 0 };
  StoreIntent intent = { .action = "bulk", .progress = stop_soon, .progress_data = &stopper };
  g_autoptr(GError) error = NULL;
  guint n = 20000;

  g_test_summary ("A cancelled action stores nothing, and the next one works");
  g_assert_false (store_write (tray->store, &intent, fill_bulk, &n, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (stopper.told, ==, 5);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM item"), ==, 0);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM payload"), ==, 0);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
}

static gboolean
endless_query (StoreAction *action, gpointer data, GError **error)
{
  g_cancellable_cancel (data);
  return store_db_exec (store_action_db (action),
                        "WITH RECURSIVE c (x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c) SELECT max(x) FROM c", error);
}

static void
test_cancel_statement (Tray *tray, gconstpointer unused)
{
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  StoreIntent intent = { .action = "endless" };
  g_autoptr(GError) error = NULL;

  g_assert_false (store_write (tray->store, &intent, endless_query, cancellable, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

typedef struct
{
  GString *order;
  guint    left;
  guint    told;
} Waiter;

static void
count_progress (guint64 done, guint64 total, gpointer data)
{
  ((Waiter *) data)->told++;
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer data)
{
  Waiter *waiter = data;
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;
  gboolean ok = store_write_finish (NULL, result, &receipt, &error);

  g_string_append_c (waiter->order, ok ? (receipt.inserted > 1 ? 'B' : 'i') : 'x');
  waiter->left--;
}

static void
test_async (Tray *tray, gconstpointer unused)
{
  g_autoptr(GString) order = g_string_new (NULL);
  Waiter waiter = { order, 4, 0 };
  StoreIntent bulk = { .action = "bulk", .progress = count_progress, .progress_data = &waiter };
  StoreIntent intent = { .action = "test" };
  guint n = 5000;

  g_test_summary ("Queued writes are done in order, refused ones between good ones, and tell their progress");
  store_write_async (tray->store, &intent, tray_run_sql, (gpointer) "INSERT INTO box VALUES (%id, 'a', NULL)", NULL, NULL,
                     on_written, &waiter);
  store_write_async (tray->store, &bulk, fill_bulk, g_memdup2 (&n, sizeof n), g_free, NULL, on_written, &waiter);
  store_write_async (tray->store, &intent, tray_run_sql, (gpointer) "INSERT INTO box VALUES (%id, 'a', NULL)", NULL, NULL,
                     on_written, &waiter);
  store_write_async (tray->store, &intent, tray_run_sql, (gpointer) "INSERT INTO box VALUES (%id, 'b', NULL)", NULL, NULL,
                     on_written, &waiter);
  while (waiter.left > 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (order->str, ==, "iBxi");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box"), ==, 3);
}

static void
test_second_writer (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  StoreIntent intent = { .action = "test" };
  sqlite3 *other;

  g_test_summary ("While another program writes, a write waits, then says so");
  g_assert_cmpint (sqlite3_open (tray->path, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_false (store_write (tray->store, &intent, tray_run_sql, (gpointer) "INSERT INTO box VALUES (%id, 'a', NULL)", NULL,
                               NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_LOCKED);
  g_assert_cmpint (sqlite3_exec (other, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (other);
  tray_do (tray->store, 0, "INSERT INTO box VALUES (%id, 'a', NULL)");
}

static void
test_two_stores (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) second = store_open (tray->path, &tray_profile, &tray->options, &error);

  g_test_summary ("Two programs of one user write to one file in turn, under one origin");
  g_assert_no_error (error);
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  tray_do (second, 2, "INSERT INTO box VALUES (%id, 'b', NULL)");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'c', NULL)");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM origin"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT max(number) FROM entry"), ==, 3);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(DISTINCT id) FROM box"), ==, 3);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/store/id/holds-at-both-ends", test_id_ends);
  tray_test ("/store/write/receipt-counts-what-was-stored", test_receipt);
  tray_test ("/store/write/nothing-changed-stores-nothing", test_nothing_changed);
  tray_test ("/store/write/kept-tables-are-stored-on-request", test_kept);
  tray_test ("/store/write/a-broken-rule-leaves-the-file-as-it-was", test_refusals);
  tray_test ("/store/write/nothing-gets-past-a-lost-transaction", test_lost_transaction);
  tray_test ("/store/write/bulk-work-is-split-into-entries", test_split);
  tray_test ("/store/write/cancelling-stores-nothing", test_cancel);
  tray_test ("/store/write/cancelling-stops-a-statement", test_cancel_statement);
  tray_test ("/store/write/queue-keeps-its-order", test_async);
  tray_test ("/store/write/waits-for-another-program-then-says-so", test_second_writer);
  tray_test ("/store/write/two-programs-write-in-turn", test_two_stores);
  return g_test_run ();
}
