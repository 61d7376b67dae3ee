/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What the checks find, and that they find nothing where nothing is wrong. */

#include "store-tray.h"

#include "store-check.h"
#include "store-content.h"
#include "store-undo.h"

#include <string.h>

static GPtrArray *
check (Tray *tray, gboolean replay)
{
  GPtrArray *findings = NULL;
  g_autoptr(GError) error = NULL;

  if (!store_check (tray->store, replay, &findings, NULL, NULL, NULL, &error))
    g_error ("%s", error->message);
  for (guint i = 0; i < findings->len; i++)
    {
      const StoreFinding *finding = findings->pdata[i];

      g_test_message ("%s: %s", store_check_name (finding->kind), finding->sentence);
    }
  return findings;
}

/* Asserts that there is a finding of this kind, table, key and column (0 and NULL: any). */
static void
assert_found (GPtrArray *findings, StoreCheckKind kind, const char *table, gint64 id, const char *column)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const StoreFinding *finding = findings->pdata[i];

      if (finding->kind == kind && (table == NULL || g_strcmp0 (finding->table, table) == 0) && (id == 0 || finding->id == id) &&
          (column == NULL || g_strcmp0 (finding->column, column) == 0))
        return;
    }
  g_error ("nothing of %s %s %" G_GINT64_FORMAT " %s among %u", store_check_name (kind), table, id, column, findings->len);
}

static void
fill (Tray *tray)
{
  tray_do (tray->store, 1,
           "INSERT INTO box VALUES (%id, 'a', 'note');"
           "INSERT INTO item VALUES (%id, %last - 1, 5, 1.25, 'x', x'00ff'), (%id, %last - 2, 6, 2.5, 'y', NULL)");
  tray_do (tray->store, 1, "UPDATE item SET weight = weight * 2");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'b', NULL)");
  tray_do (tray->store, 1, "DELETE FROM item WHERE size = 6");
}

static void
test_holds (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) empty = check (tray, TRUE);
  g_autoptr(GPtrArray) full = NULL;
  g_autofree char *before = NULL, *after = NULL;

  g_assert_cmpuint (empty->len, ==, 0);
  fill (tray);
  before = tray_dump (tray->store);
  full = check (tray, TRUE);
  g_assert_cmpuint (full->len, ==, 0);
  after = tray_dump (tray->store);
  g_assert_cmpstr (before, ==, after);
}

/* Alters a file past the journal while it is closed, and checks it. */
static GPtrArray *
tampered (Tray *tray, const char *sql)
{
  g_autoptr(GError) error = NULL;

  fill (tray);
  store_close (g_steal_pointer (&tray->store), &error);
  g_assert_no_error (error);
  tray_tamper (tray->path, sql);
  tray_reopen (tray);
  return check (tray, TRUE);
}

static void
test_edited_row (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "UPDATE item SET weight = 2.6");
  gint64 id = tray_ask (tray->path, "SELECT id FROM item");

  g_assert_cmpuint (findings->len, ==, 1);
  assert_found (findings, STORE_CHECK_REPLAY, "item", id, "weight");
}

static void
test_edited_type (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "UPDATE box SET note = '' WHERE note IS NULL");

  g_assert_cmpuint (findings->len, ==, 1);
  assert_found (findings, STORE_CHECK_REPLAY, "box", 0, "note");
}

static void
test_extra_and_missing (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "DELETE FROM box WHERE name = 'b'; INSERT INTO box VALUES (77, 'c', NULL)");

  g_assert_cmpuint (findings->len, ==, 2);
  assert_found (findings, STORE_CHECK_REPLAY, "box", 77, NULL);
}

static void
test_keys (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "INSERT INTO tag VALUES (5, 99, 'w')");

  assert_found (findings, STORE_CHECK_KEYS, "tag", 5, NULL);
}

static void
test_rules (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "UPDATE item SET size = 5000; UPDATE box SET name = 'b'");

  assert_found (findings, STORE_CHECK_RULES, "item", 0, NULL);
  assert_found (findings, STORE_CHECK_RULES, NULL, 0, NULL);
}

static void
test_derived (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "UPDATE box_count SET items = 3");

  g_assert_cmpuint (findings->len, ==, 1);
  assert_found (findings, STORE_CHECK_DERIVED, "box_count", 0, NULL);
}

static void
test_touched (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = tampered (tray, "UPDATE entry_touch SET high = high + 1 WHERE place = 2");

  g_assert_cmpuint (findings->len, ==, 1);
  assert_found (findings, STORE_CHECK_DERIVED, "entry_touch", 2, NULL);
}

static void
test_chain (void)
{
  static const struct
  {
    const char *sql;
    gint64      place;
    const char *column;
  } cases[] = {
    { "UPDATE action SET person = 9 WHERE first_place = 2", 2, "entry_hash" },
    { "UPDATE action SET time = '2020-01-01T00:00:00Z' WHERE first_place = 3", 3, "entry_hash" },
    { "UPDATE action SET message = 'other' WHERE first_place = 1", 1, "entry_hash" },
    { "UPDATE action SET arguments = 'count:1' WHERE first_place = 1", 1, "entry_hash" },
    { "UPDATE entry SET schema = 2 WHERE place = 4", 4, "entry_hash" },
    { "UPDATE entry SET entry_hash = (SELECT entry_hash FROM entry WHERE place = 1) WHERE place = 4", 4, "place_hash" },
    { "UPDATE entry SET place_hash = (SELECT place_hash FROM entry WHERE place = 1) WHERE place = 4", 4, "place_hash" },
    { "UPDATE payload SET bytes = CAST (bytes || x'00' AS BLOB) WHERE place = 2", 2, "payload" },
    { "UPDATE payload SET bytes = (SELECT bytes FROM payload WHERE place = 1) WHERE place = 2", 2, "payload" },
    { "DELETE FROM payload WHERE place = 3", 3, "payload" },
    { "DELETE FROM entry WHERE place = 2", 3, "place" },
    { "DELETE FROM action WHERE first_place = 2", 2, "action" },
  };

  g_test_summary ("Whatever of the journal is altered by hand is found, with the place of the entry");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Tray tray = { 0 };
      g_autoptr(GPtrArray) findings = NULL;

      g_test_message ("%s", cases[i].sql);
      tray_set_up (&tray, NULL);
      findings = tampered (&tray, cases[i].sql);
      assert_found (findings, STORE_CHECK_CHAIN, "entry", cases[i].place, cases[i].column);
      tray_tear_down (&tray, NULL);
    }
}

static void
test_schema (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings =
      tampered (tray, "CREATE TRIGGER t AFTER INSERT ON box BEGIN DELETE FROM item; END; CREATE VIEW v AS SELECT * FROM box;"
                      "DROP INDEX item_box; DROP INDEX tag_item; CREATE INDEX tag_item ON tag (word)");

  g_assert_cmpuint (findings->len, ==, 4);
  assert_found (findings, STORE_CHECK_SCHEMA, "t", 0, NULL);
  assert_found (findings, STORE_CHECK_SCHEMA, "v", 0, NULL);
  assert_found (findings, STORE_CHECK_SCHEMA, "item_box", 0, NULL);
  assert_found (findings, STORE_CHECK_SCHEMA, "tag_item", 0, NULL);
}

static gboolean
attach_work (StoreAction *action, gpointer data, GError **error)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static ("a picture", 9);
  g_autofree char *sha256 = NULL;

  return store_content_add (action, bytes, &sha256, error) &&
         store_db_exec (store_action_db (action), "INSERT INTO box VALUES (1, 'with picture', NULL)", error);
}

static void
test_content (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "attach" };
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (store_write (tray->store, &intent, attach_work, NULL, NULL, NULL, &error));
  findings = check (tray, FALSE);
  g_assert_cmpuint (findings->len, ==, 0);
  g_clear_pointer (&findings, g_ptr_array_unref);
  findings = tampered (tray, "UPDATE content SET bytes = CAST ('a pictura' AS BLOB)");
  g_assert_cmpuint (findings->len, ==, 1);
  assert_found (findings, STORE_CHECK_CONTENT, "content", 0, "bytes");
}

static void
test_damage (Tray *tray, gconstpointer unused)
{
  g_autofree char *bytes = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  gsize length;

  g_test_summary ("Pages overwritten on disk are found, and do not stop the other checks");
  fill (tray);
  store_close (g_steal_pointer (&tray->store), &error);
  g_assert_true (g_file_get_contents (tray->path, &bytes, &length, &error));
  {
    gint64 page = 0;
    sqlite3 *db;

    g_assert_cmpint (sqlite3_open (tray->path, &db), ==, SQLITE_OK);
    sqlite3_close (db);
    page = tray_ask (tray->path, "SELECT rootpage FROM sqlite_schema WHERE name = 'item'");
    memset (bytes + (page - 1) * 4096, 0xa5, 4096);
  }
  g_assert_true (g_file_set_contents (tray->path, bytes, (gssize) length, &error));
  tray_reopen (tray);
  findings = check (tray, TRUE);
  assert_found (findings, STORE_CHECK_SQLITE, NULL, 0, NULL);
}

static void
count_up (guint64 done, guint64 total, gpointer data)
{
  guint64 *last = data;

  g_assert_cmpuint (total, ==, 1000);
  g_assert_cmpuint (done, >=, *last);
  *last = done;
}

static void
test_progress (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  guint64 last = 0;

  fill (tray);
  g_assert_true (store_check (tray->store, TRUE, &findings, count_up, &last, NULL, &error));
  g_assert_cmpuint (last, ==, 1000);
  g_clear_pointer (&findings, g_ptr_array_unref);
  g_cancellable_cancel (cancellable);
  g_assert_false (store_check (tray->store, TRUE, &findings, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_null (findings);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/check/finds-nothing-where-nothing-is-wrong", test_holds);
  tray_test ("/store/check/names-row-and-column-edited-past-the-journal", test_edited_row);
  tray_test ("/store/check/tells-nothing-from-an-empty-text", test_edited_type);
  tray_test ("/store/check/names-rows-that-came-or-went-past-the-journal", test_extra_and_missing);
  tray_test ("/store/check/names-a-reference-to-nothing", test_keys);
  tray_test ("/store/check/holds-every-row-against-the-rules", test_rules);
  tray_test ("/store/check/holds-derived-tables-against-rebuilt-ones", test_derived);
  tray_test ("/store/check/holds-touched-ranges-against-the-journal", test_touched);
  g_test_add_func ("/store/check/finds-every-alteration-of-the-journal", test_chain);
  tray_test ("/store/check/names-what-is-foreign-in-the-schema", test_schema);
  tray_test ("/store/check/proves-attached-content", test_content);
  tray_test ("/store/check/finds-damaged-pages", test_damage);
  tray_test ("/store/check/tells-progress-and-can-be-stopped", test_progress);
  return g_test_run ();
}
