/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A clock that is set back: the journal goes by its numbers, never by the time. */

#include "store-tray.h"

#include "store-check.h"
#include "store-history.h"
#include "store-undo.h"

static const char *moment = "2026-11-26T12:00:00Z";

GDateTime *g_date_time_new_now_utc (void); /* ours in this program: what the library says is not asked */

GDateTime *
g_date_time_new_now_utc (void)
{
  return g_date_time_new_from_iso8601 (moment, NULL);
}

static gint64
do_at (Tray *tray, const char *when, const char *sql)
{
  moment = when;
  return tray_do (tray->store, 1, sql);
}

static void
test_order (Tray *tray, gconstpointer unused)
{
  gint64 a = do_at (tray, "2026-11-26T12:00:00Z", "INSERT INTO box VALUES (%id, 'a', NULL)");
  gint64 b = do_at (tray, "2025-01-01T00:00:00Z", "INSERT INTO box VALUES (%id, 'b', NULL)");
  gint64 c = do_at (tray, "2026-11-26T11:59:00Z", "UPDATE box SET note = 'n'");
  const StoreHistoryQuery query = { .table = -1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) all = store_history_list (store_front_db (tray->store, NULL), &query, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (all->len, ==, 3);
  g_assert_cmpint (((StoreActionInfo *) all->pdata[0])->id, ==, c);
  g_assert_cmpint (((StoreActionInfo *) all->pdata[1])->id, ==, b);
  g_assert_cmpint (((StoreActionInfo *) all->pdata[2])->id, ==, a);
}

static void
test_undo (Tray *tray, gconstpointer unused)
{
  const StoreIntent intent = { .action = "undo", .sitting = 1 };
  g_autoptr(GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;

  do_at (tray, "2026-11-26T12:00:00Z", "INSERT INTO box VALUES (%id, 'a', NULL)");
  before = tray_dump (tray->store);
  do_at (tray, "2020-02-29T00:00:00Z", "UPDATE box SET note = 'later, at an earlier time'");
  moment = "2019-01-01T00:00:00Z";
  g_assert_true (store_undo (tray->store, &intent, 0, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  after = tray_dump (tray->store);
  g_assert_cmpstr (after, ==, before);
  g_assert_true (store_redo (tray->store, &intent, 0, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
}

static void
test_check (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;

  do_at (tray, "2026-11-26T12:00:00Z", "INSERT INTO box VALUES (%id, 'a', NULL)");
  do_at (tray, "1999-12-31T23:59:59Z", "INSERT INTO box VALUES (%id, 'b', NULL)");
  tray_reopen (tray);
  do_at (tray, "1970-01-01T00:00:00Z", "UPDATE box SET note = 'n'");
  g_assert_true (store_check (tray->store, TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  tray_in_memory ();
  tray_test ("/store/clock/set-back-the-journal-keeps-its-order", test_order);
  tray_test ("/store/clock/set-back-undo-takes-what-was-done-last", test_undo);
  tray_test ("/store/clock/set-back-the-check-holds", test_check);
  return g_test_run ();
}
