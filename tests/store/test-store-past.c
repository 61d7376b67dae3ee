/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The journal gone through from its beginning: how far it is, never backwards; stopped, it stands where it stood. */

#include "store-tray.h"

#include "store-past.h"
#include "store-private.h"

static const char *moment = "2026-03-02T12:00:00Z";

GDateTime *g_date_time_new_now_utc (void); /* ours in this program: what the library says is not asked */

GDateTime *
g_date_time_new_now_utc (void)
{
  return g_date_time_new_from_iso8601 (moment, NULL);
}

#define DAYS  4
#define BOXES 250   /* a day, an action each */
#define ITEMS 10000 /* in one entry */

static const char *const days[DAYS] = { "2026-03-02", "2026-03-03", "2026-03-04", "2026-03-05" };

static void
fill (Tray *tray)
{
  for (guint d = 0; d < DAYS; d++)
    {
      g_autofree char *when = g_strdup_printf ("%sT12:00:00Z", days[d]);

      moment = when;
      for (guint i = 0; i < BOXES; i++)
        {
          g_autofree char *sql = g_strdup_printf ("INSERT INTO box VALUES (%%id, '%u-%u', 'a note of some length, so that there is something to apply')", d, i);

          tray_do (tray->store, 1, sql);
        }
    }
  moment = "2026-03-06T12:00:00Z";
}

typedef struct
{
  GArray       *told; /* guint64 */
  guint64       total;
  guint64       stop_at; /* 0: never */
  GCancellable *cancellable;
} Hearer;

static void
hear (guint64 done, guint64 total, gpointer data)
{
  Hearer *hearer = data;

  g_array_append_val (hearer->told, done);
  hearer->total = total;
  if (hearer->stop_at > 0 && done >= hearer->stop_at)
    g_cancellable_cancel (hearer->cancellable);
}

static gint64
count (StoreDb *db, const char *sql)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, &error);
  gint64 n = -1;

  g_assert_nonnull (statement);
  g_assert_true (store_db_ask_integer (db, statement, "The count could not be read", NULL, &n, &error));
  g_assert_no_error (error);
  return n;
}

static gint64
boxes_of (StoreDb *db)
{
  return count (db, "SELECT count (*) FROM box");
}

static StorePast *
pass_of (StoreDb *db, Hearer *hearer)
{
  g_autoptr(GError) error = NULL;
  StorePast *past = store_past_new (db, &error);

  g_assert_no_error (error);
  g_assert_true (store_past_tell (past, days[DAYS - 1], hear, hearer, &error));
  g_assert_no_error (error);
  return past;
}

static void
test_progress (Tray *tray, gconstpointer unused)
{
  Hearer hearer = { .told = g_array_new (FALSE, FALSE, sizeof (guint64)) };
  g_autoptr(GError) error = NULL;
  g_autoptr(StorePast) past = NULL;
  StoreDb *then;

  fill (tray);
  past = pass_of (store_front_db (tray->store, NULL), &hearer);
  for (guint d = 0; d < DAYS; d++)
    {
      guint64 share;

      g_assert_true (store_past_forward (past, days[d], &then, NULL, &error));
      g_assert_no_error (error);
      g_assert_cmpint (boxes_of (then), ==, (d + 1) * BOXES);
      share = g_array_index (hearer.told, guint64, hearer.told->len - 1);
      g_assert_cmpuint (share, >=, hearer.total * (d + 1) / DAYS - hearer.total / 50); /* days are alike */
      g_assert_cmpuint (share, <=, hearer.total * (d + 1) / DAYS + hearer.total / 50);
    }
  g_assert_cmpuint (hearer.told->len, >, 100);
  for (guint i = 1; i < hearer.told->len; i++)
    g_assert_cmpuint (g_array_index (hearer.told, guint64, i), >, g_array_index (hearer.told, guint64, i - 1));
  g_assert_cmpuint (g_array_index (hearer.told, guint64, hearer.told->len - 1), ==, hearer.total);
  g_array_unref (hearer.told);
}

/* In the midst of the third day: the second still stands, and the pass can go on. */
static void
test_stop (Tray *tray, gconstpointer unused)
{
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  Hearer hearer = { .told = g_array_new (FALSE, FALSE, sizeof (guint64)), .stop_at = 600, .cancellable = cancellable };
  g_autoptr(GError) error = NULL;
  g_autoptr(StorePast) past = NULL;
  StoreDb *then = NULL;
  g_autofree char *before = NULL, *after = NULL;

  fill (tray);
  before = tray_dump (tray->store);
  past = pass_of (store_front_db (tray->store, NULL), &hearer);
  g_assert_true (store_past_forward (past, days[1], &then, cancellable, &error));
  g_assert_cmpint (boxes_of (then), ==, 2 * BOXES);
  g_assert_false (store_past_forward (past, days[2], &then, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_null (then);
  g_clear_error (&error);

  hearer.stop_at = 0;
  g_assert_true (store_past_forward (past, days[1], &then, NULL, &error));
  g_assert_cmpint (boxes_of (then), ==, 2 * BOXES); /* of the third day nothing */
  g_assert_true (store_past_forward (past, days[3], &then, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpint (boxes_of (then), ==, DAYS * BOXES);
  for (guint i = 1; i < hearer.told->len; i++)
    g_assert_cmpuint (g_array_index (hearer.told, guint64, i), >, g_array_index (hearer.told, guint64, i - 1));
  g_assert_cmpuint (g_array_index (hearer.told, guint64, hearer.told->len - 1), ==, hearer.total);
  after = tray_dump (tray->store);
  g_assert_cmpstr (before, ==, after);
  g_array_unref (hearer.told);
}

static gboolean
fill_at_once (StoreAction *action, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO item VALUES (?1, (SELECT min(id) FROM box), 1, 0.5, 'one of many', NULL)";

  for (guint i = 0; i < ITEMS; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (store_action_db (action), sql, error);

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, store_action_new_id (action));
      if (!store_db_run (store_action_db (action), statement, "The item could not be stored", error))
        return FALSE;
    }
  return TRUE;
}

typedef struct
{
  GCancellable *cancellable;
  guint         rows;
} Watch;

/* From within SQLite, while it applies an entry. */
static void
on_row (void *data, int op, const char *database, const char *table, sqlite3_int64 row)
{
  Watch *watch = data;

  if (++watch->rows == 100)
    g_cancellable_cancel (watch->cancellable);
}

/* One entry can be as long as an import: it is stopped within. */
static void
test_stop_within (Tray *tray, gconstpointer unused)
{
  const StoreIntent intent = { .action = "items", .sitting = 1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(StorePast) past = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  Watch watch = { cancellable, 0 };
  StoreDb *then = NULL, *scratch;

  moment = "2026-03-02T12:00:00Z";
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  moment = "2026-03-03T12:00:00Z";
  g_assert_true (store_write (tray->store, &intent, fill_at_once, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  past = store_past_new (store_front_db (tray->store, NULL), &error);
  g_assert_no_error (error);
  g_assert_true (store_past_forward (past, days[0], &scratch, cancellable, &error));
  sqlite3_update_hook (scratch->handle, on_row, &watch);
  g_assert_false (store_past_forward (past, days[1], &then, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (watch.rows, >=, 100);
  g_assert_cmpuint (watch.rows, <, ITEMS / 2);
  g_clear_error (&error);
  sqlite3_update_hook (scratch->handle, NULL, NULL);
  g_assert_true (store_past_forward (past, days[0], &then, NULL, &error));
  g_assert_cmpint (count (then, "SELECT count (*) FROM item"), ==, 0);
  g_assert_true (store_past_forward (past, days[1], &then, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpint (count (then, "SELECT count (*) FROM item"), ==, ITEMS);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  tray_in_memory ();
  tray_test ("/store/past/how-far-it-is-is-told-and-never-goes-back", test_progress);
  tray_test ("/store/past/stopped-it-stands-where-it-stood", test_stop);
  tray_test ("/store/past/a-long-entry-is-stopped-within", test_stop_within);
  return g_test_run ();
}
