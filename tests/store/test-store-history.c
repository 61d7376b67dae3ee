/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The journal read backwards, and content by its digest. */

#include "store-tray.h"

#include "store-content.h"
#include "store-history.h"
#include "store-undo.h"

#include <string.h>

static GPtrArray *
list (Tray *tray, StoreHistoryQuery query)
{
  g_autoptr(GError) error = NULL;
  GPtrArray *actions = store_history_list (store_front_db (tray->store, NULL), &query, &error);

  g_assert_no_error (error);
  return actions;
}

static gint64
nth (GPtrArray *actions, guint i)
{
  return ((StoreActionInfo *) actions->pdata[i])->id;
}

static void
test_newest_first (Tray *tray, gconstpointer unused)
{
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  gint64 b = tray_do (tray->store, 2, "INSERT INTO box VALUES (%id, 'b', NULL)");
  gint64 c = tray_do (tray->store, 1, "UPDATE box SET note = 'n'");
  g_autoptr(GPtrArray) all = list (tray, (StoreHistoryQuery){ .table = -1 });
  g_autoptr(GPtrArray) own = list (tray, (StoreHistoryQuery){ .table = -1, .sitting = 1 });
  g_autoptr(GPtrArray) first = list (tray, (StoreHistoryQuery){ .table = -1, .most = 2 });
  g_autoptr(GPtrArray) rest = NULL;

  g_assert_cmpuint (all->len, ==, 3);
  g_assert_cmpint (nth (all, 0), ==, c);
  g_assert_cmpint (nth (all, 1), ==, b);
  g_assert_cmpint (nth (all, 2), ==, a);
  g_assert_cmpuint (own->len, ==, 2);
  g_assert_cmpuint (first->len, ==, 2);
  rest = list (tray, (StoreHistoryQuery){ .table = -1, .most = 2, .before = ((StoreActionInfo *) first->pdata[1])->first_place });
  g_assert_cmpuint (rest->len, ==, 1);
  g_assert_cmpint (nth (rest, 0), ==, a);
}

static void
test_by_person_and_kind (Tray *tray, gconstpointer unused)
{
  const StoreIntent intent = { .action = "test", .person = 77 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) person = NULL;
  g_autoptr(GPtrArray) boxes = NULL;
  g_autoptr(GPtrArray) both = NULL;
  g_autoptr(GPtrArray) none = NULL;
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  StoreReceipt receipt;

  tray_do (tray->store, 1, "INSERT INTO seal SELECT %id, id, 'yes' FROM box");
  g_assert_true (store_write (tray->store, &intent, tray_run_sql, (gpointer) "UPDATE box SET note = 'n'", &receipt, NULL, &error));
  person = list (tray, (StoreHistoryQuery){ .table = -1, .person = 77 });
  g_assert_cmpuint (person->len, ==, 1);
  g_assert_cmpint (nth (person, 0), ==, receipt.action);
  boxes = list (tray, (StoreHistoryQuery){ .table = TRAY_BOX });
  g_assert_cmpuint (boxes->len, ==, 2);
  g_assert_cmpint (nth (boxes, 0), ==, receipt.action);
  g_assert_cmpint (nth (boxes, 1), ==, a);
  both = list (tray, (StoreHistoryQuery){ .table = TRAY_SEAL, .person = 77 });
  g_assert_cmpuint (both->len, ==, 0);
  none = list (tray, (StoreHistoryQuery){ .table = TRAY_TAG });
  g_assert_cmpuint (none->len, ==, 0);
}

static void
test_by_date (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) day = NULL;
  g_autoptr(GPtrArray) after = NULL;
  g_autoptr(GPtrArray) from = NULL;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'b', NULL)");
  tray_tamper (tray->path, "UPDATE action SET time = '2024-02-29T23:59:59Z' WHERE first_place = 1;"
                           "UPDATE action SET time = '2024-03-01T00:00:00Z' WHERE first_place = 2");
  day = list (tray, (StoreHistoryQuery){ .table = -1, .from = "2024-02-29", .to = "2024-02-29" });
  g_assert_cmpuint (day->len, ==, 1);
  from = list (tray, (StoreHistoryQuery){ .table = -1, .from = "2024-02-29" });
  g_assert_cmpuint (from->len, ==, 2);
  after = list (tray, (StoreHistoryQuery){ .table = -1, .from = "2024-03-02" });
  g_assert_cmpuint (after->len, ==, 0);
}

static void
test_by_record (Tray *tray, gconstpointer unused)
{
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL), (%id, 'b', NULL), (%id, 'c', NULL)");
  gint64 id = tray_ask (tray->path, "SELECT id FROM box WHERE name = 'b'");
  gint64 c, d;
  g_autoptr(GPtrArray) actions = NULL;
  g_autoptr(GPtrArray) none = NULL;

  tray_do (tray->store, 1, "UPDATE box SET note = 'n' WHERE name = 'a'");
  c = tray_do (tray->store, 1, "UPDATE box SET note = 'n' WHERE name = 'b'");
  d = tray_do (tray->store, 1, "DELETE FROM box WHERE name <> 'a'");
  actions = list (tray, (StoreHistoryQuery){ .table = TRAY_BOX, .id = id });
  g_assert_cmpuint (actions->len, ==, 3);
  g_assert_cmpint (nth (actions, 0), ==, d);
  g_assert_cmpint (nth (actions, 1), ==, c);
  g_assert_cmpint (nth (actions, 2), ==, a);
  none = list (tray, (StoreHistoryQuery){ .table = TRAY_ITEM, .id = id });
  g_assert_cmpuint (none->len, ==, 0);
}

static void
test_merged_ranges (Tray *tray, gconstpointer unused)
{
  g_autoptr(GString) sql = g_string_new (NULL);
  g_autoptr(GPtrArray) odd = NULL;
  g_autoptr(GPtrArray) even = NULL;

  g_test_summary ("Many gaps are bridged in the index, and still nothing is listed that did not change");
  for (guint i = 1; i <= 200; i++)
    g_string_append_printf (sql, "INSERT INTO box VALUES (%u, 'box %u', NULL);", i, i);
  tray_do (tray->store, 1, sql->str);
  tray_do (tray->store, 1, "UPDATE box SET note = 'odd' WHERE id % 2 = 1");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM entry_touch"), <=, 17);
  odd = list (tray, (StoreHistoryQuery){ .table = TRAY_BOX, .id = 51 });
  even = list (tray, (StoreHistoryQuery){ .table = TRAY_BOX, .id = 52 });
  g_assert_cmpuint (odd->len, ==, 2);
  g_assert_cmpuint (even->len, ==, 1);
}

static gboolean
print_row (const StoreRow *row, gpointer data)
{
  GString *text = data;

  g_string_append_printf (text, "%s %u:", row->op == STORE_INSERT ? "+" : row->op == STORE_DELETE ? "-" : "*", row->table);
  for (guint i = 1; i < row->n_columns; i++)
    {
      g_autofree char *before = row->before != NULL ? store_value_dup_print (&row->before[i]) : NULL;
      g_autofree char *after = row->after != NULL ? store_value_dup_print (&row->after[i]) : NULL;

      if (row->op == STORE_UPDATE && row->after[i].type == STORE_UNCHANGED)
        continue;
      g_string_append_printf (text, " %u[%s>%s]", i, before != NULL ? before : "", after != NULL ? after : "");
    }
  g_string_append_c (text, '\n');
  return TRUE;
}

static void
test_fields (Tray *tray, gconstpointer unused)
{
  g_autoptr(GString) text = g_string_new (NULL);
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (tray->store, NULL);
  gint64 a, b, c;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (9, 'a', NULL)");
  a = tray_do (tray->store, 1, "INSERT INTO item VALUES (%id, 9, 5, 0.5, 'größe', x'00ff')");
  b = tray_do (tray->store, 1, "UPDATE item SET size = NULL, weight = -0.25, label = ''; UPDATE box SET note = 'n'");
  c = tray_do (tray->store, 1, "DELETE FROM item");
  g_assert_true (store_history_rows (db, a, -1, 0, print_row, text, &error));
  g_assert_cmpstr (text->str, ==, "+ 1: 1[>9] 2[>5] 3[>0.5] 4[>größe] 5[>x'00ff']\n");
  g_string_set_size (text, 0);
  g_assert_true (store_history_rows (db, b, -1, 0, print_row, text, &error));
  g_assert_cmpstr (text->str, ==, "* 0: 2[>n]\n* 1: 2[5>] 3[0.5>-0.25] 4[größe>]\n");
  g_string_set_size (text, 0);
  g_assert_true (store_history_rows (db, b, TRAY_BOX, 9, print_row, text, &error));
  g_assert_cmpstr (text->str, ==, "* 0: 2[>n]\n");
  g_string_set_size (text, 0);
  g_assert_true (store_history_rows (db, c, TRAY_ITEM, 0, print_row, text, &error));
  g_assert_cmpstr (text->str, ==, "- 1: 1[9>] 2[>] 3[-0.25>] 4[>] 5[x'00ff'>]\n");
  g_assert_no_error (error);
}

static void
check_places (StoreDb *db, int table, gboolean older, guint n, const gint64 *actions)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) places = store_history_places (db, table, older, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (places->len, ==, n);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr(StoreActionInfo) info = store_history_at (db, g_array_index (places, gint64, i), &error);

      g_assert_no_error (error);
      g_assert_cmpint (info->id, ==, actions[i]);
    }
}

static void
test_older_rows (Tray *tray, gconstpointer unused)
{
  g_autoptr(GString) text = g_string_new (NULL);
  g_autoptr(GArray) places = NULL;
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (tray->store, NULL);
  gint64 box, a[4];

  box = tray_do (tray->store, 1, "INSERT INTO box VALUES (9, 'a', NULL)"); /* of no origin, so it may be older */
  a[0] = tray_do (tray->store, 1, "INSERT INTO item VALUES (%id, 9, 5, 0.5, 'x', NULL)");
  a[1] = tray_do (tray->store, 1, "INSERT INTO item VALUES (%id, 9, 6, 0.5, 'y', NULL); UPDATE item SET size = 7 WHERE size = 6");
  a[2] = tray_do (tray->store, 1, "INSERT INTO item VALUES (%id, 9, 8, 0.5, 'z', NULL); UPDATE item SET size = 9 WHERE size = 5");
  a[3] = tray_do (tray->store, 1, "DELETE FROM item WHERE size = 7");
  check_places (db, TRAY_BOX, TRUE, 1, &box);
  check_places (db, TRAY_ITEM, FALSE, 4, a);
  check_places (db, TRAY_ITEM, TRUE, 2, a + 2);

  places = store_history_places (db, TRAY_ITEM, TRUE, &error);
  g_assert_no_error (error);
  g_assert_true (store_history_rows_at (db, g_array_index (places, gint64, 1), print_row, text, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (text->str, ==, "- 1: 1[9>] 2[7>] 3[0.5>] 4[y>] 5[>]\n");
}

static void
test_undone (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "undo", .sitting = 1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = NULL;
  StoreActionInfo *info;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_true (store_undo (tray->store, &intent, 0, NULL, NULL, NULL, &error));
  actions = list (tray, (StoreHistoryQuery){ .table = -1 });
  info = actions->pdata[1];
  g_assert_true (info->undone);
  g_assert_cmpint (info->kind, ==, STORE_DO);
  info = actions->pdata[0];
  g_assert_false (info->undone);
  g_assert_cmpint (info->kind, ==, STORE_UNDO);
  g_assert_cmpint (info->reverses, ==, nth (actions, 1));
  g_clear_pointer (&actions, g_ptr_array_unref);

  g_assert_true (store_redo (tray->store, &intent, 0, NULL, NULL, NULL, &error));
  actions = list (tray, (StoreHistoryQuery){ .table = -1 });
  g_assert_true (((StoreActionInfo *) actions->pdata[1])->undone);
  g_assert_false (((StoreActionInfo *) actions->pdata[2])->undone);
}

static void
test_head (Tray *tray, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *none = NULL, *one = NULL;
  gint64 place;

  g_assert_true (store_history_head (store_front_db (tray->store, NULL), &place, &none, &error));
  g_assert_cmpint (place, ==, 0);
  g_assert_cmpstr (none, ==, "0000000000000000000000000000000000000000000000000000000000000000");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  g_assert_true (store_history_head (store_front_db (tray->store, NULL), &place, &one, &error));
  g_assert_cmpint (place, ==, 1);
  g_assert_cmpuint (strlen (one), ==, 64);
  g_assert_cmpstr (one, !=, none);
}

typedef struct
{
  GBytes *bytes;
  char   *sha256;
} Attach;

static gboolean
attach_work (StoreAction *action, gpointer data, GError **error)
{
  Attach *attach = data;

  g_clear_pointer (&attach->sha256, g_free);
  return store_content_add (action, attach->bytes, &attach->sha256, error) &&
         store_db_exec (store_action_db (action), "INSERT INTO tag SELECT 1 + count(*), 1, 'x' FROM tag", error);
}

static void
test_content (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "attached" };
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) back = NULL;
  Attach attach = { g_bytes_new_static ("abc", 3), NULL };

  tray_do (tray->store, 1, "INSERT INTO box VALUES (1, 'a', NULL); INSERT INTO item VALUES (1, 1, 1, 1, NULL, NULL)");
  g_assert_true (store_write (tray->store, &intent, attach_work, &attach, NULL, NULL, &error));
  g_assert_true (store_write (tray->store, &intent, attach_work, &attach, NULL, NULL, &error));
  g_assert_no_error (error);
  /* FIPS 180-4 example: SHA-256 of "abc", from memory */
  g_assert_cmpstr (attach.sha256, ==, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM content"), ==, 1);
  back = store_content_read (store_front_db (tray->store, NULL), attach.sha256, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (back, attach.bytes));
  g_assert_null (store_content_read (store_front_db (tray->store, NULL), "00", &error));
  tray_assert_sentence (&error, STORE_ERROR_MISSING);
  g_bytes_unref (attach.bytes);

  attach.bytes = g_bytes_new_take (g_malloc0 (STORE_CONTENT_MOST + 1), STORE_CONTENT_MOST + 1);
  g_assert_false (store_write (tray->store, &intent, attach_work, &attach, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_TOO_LARGE);
  g_bytes_unref (attach.bytes);
  g_free (attach.sha256);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/history/newest-first-page-by-page", test_newest_first);
  tray_test ("/store/history/by-date-with-both-days", test_by_date);
  tray_test ("/store/history/by-person-and-kind", test_by_person_and_kind);
  tray_test ("/store/history/by-record", test_by_record);
  tray_test ("/store/history/bridged-gaps-list-nothing-too-much", test_merged_ranges);
  tray_test ("/store/history/tells-old-and-new-of-each-field", test_fields);
  tray_test ("/store/history/opens-only-entries-of-older-rows", test_older_rows);
  tray_test ("/store/history/says-what-was-undone", test_undone);
  tray_test ("/store/history/tells-its-head", test_head);
  tray_test ("/store/content/is-kept-once-under-its-digest", test_content);
  return g_test_run ();
}
