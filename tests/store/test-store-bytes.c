/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The bytes of the journal: reading changesets that may be damaged or hostile, packing, ranges. */

#include "store-tray.h"

#include "store-changes-private.h"
#include "store-pack-private.h"
#include "store-touch-private.h"

#include <string.h>

/* A changeset of an insert, an update and a delete, recorded by SQLite itself. */
static GBytes *
record (void)
{
  sqlite3 *db;
  sqlite3_session *session;
  void *bytes;
  int length;

  g_assert_cmpint (sqlite3_open (":memory:", &db), ==, SQLITE_OK);
  sqlite3_exec (db,
                "CREATE TABLE box (id INTEGER PRIMARY KEY, name TEXT, note TEXT);"
                "CREATE TABLE item (id INTEGER PRIMARY KEY, box INTEGER, size INTEGER, weight REAL, label TEXT, picture BLOB);"
                "INSERT INTO item VALUES (1, 2, 3, 0.5, 'old', x'0102'), (2, 2, 3, 0.5, 'old', NULL)",
                NULL, NULL, NULL);
  g_assert_cmpint (sqlite3session_create (db, "main", &session), ==, SQLITE_OK);
  sqlite3session_attach (session, NULL);
  sqlite3_exec (db,
                "INSERT INTO box VALUES (-9223372036854775808, '', NULL), (9223372036854775807, hex (zeroblob (200)), 'n');"
                "UPDATE item SET weight = -1e300, label = NULL WHERE id = 1; DELETE FROM item WHERE id = 2",
                NULL, NULL, NULL);
  g_assert_cmpint (sqlite3session_changeset (session, &length, &bytes), ==, SQLITE_OK);
  sqlite3session_delete (session);
  sqlite3_close (db);
  return g_bytes_new_with_free_func (bytes, (gsize) length, sqlite3_free, bytes);
}

/* Reads all rows as text; NULL when the bytes are refused. */
static char *
read_all (const guint8 *bytes, gsize length)
{
  g_auto(StoreChanges) changes = { 0 };
  g_autoptr(GString) text = g_string_new (NULL);
  g_autoptr(GError) error = NULL;
  const StoreRow *row;

  store_changes_init (&changes, &tray_profile, "test", bytes, length);
  while (store_changes_next (&changes, &row, &error) && row != NULL)
    {
      g_string_append_printf (text, "%d %u %" G_GINT64_FORMAT, row->op, row->table, row->id);
      for (guint i = 0; i < row->n_columns; i++)
        {
          g_autofree char *before = row->before != NULL ? store_value_dup_print (&row->before[i]) : NULL;
          g_autofree char *after = row->after != NULL ? store_value_dup_print (&row->after[i]) : NULL;

          g_string_append_printf (text, " %s>%s", before != NULL ? before : "", after != NULL ? after : "");
        }
      g_string_append_c (text, '\n');
    }
  if (error != NULL)
    {
      g_assert_error (error, STORE_ERROR, STORE_ERROR_DAMAGED);
      return NULL;
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
test_reads_what_sqlite_recorded (void)
{
  g_autoptr(GBytes) bytes = record ();
  g_autoptr(GString) zeros = g_string_new (NULL);
  g_autofree char *text = read_all (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes)), *wanted = NULL;
  sqlite3_changeset_iter *iter;
  guint rows = 0;

  for (guint i = 0; i < 400; i++)
    g_string_append_c (zeros, '0');
  wanted = g_strdup_printf ("18 0 -9223372036854775808 >-9223372036854775808 > >\n"
                            "18 0 9223372036854775807 >9223372036854775807 >%s >n\n",
                            zeros->str);
  g_assert_nonnull (text);
  g_assert_nonnull (strstr (text, "18 0 -9223372036854775808 >-9223372036854775808 > >\n"));
  g_assert_nonnull (strstr (text, strchr (wanted, '\n') + 1));
  g_assert_nonnull (strstr (text, "23 1 1 > > > 0.5>-1.0000000000000001e+300 old> >\n"));
  g_assert_nonnull (strstr (text, "9 1 2 2> 2> 3> 0.5> old> >\n"));

  /* SQLite's own reader sees as many rows. */
  g_assert_cmpint (sqlite3changeset_start (&iter, (int) g_bytes_get_size (bytes), (void *) g_bytes_get_data (bytes, NULL)), ==,
                   SQLITE_OK);
  while (sqlite3changeset_next (iter) == SQLITE_ROW)
    rows++;
  sqlite3changeset_finalize (iter);
  g_assert_cmpuint (rows, ==, 4);
}

static void
test_every_cut (void)
{
  g_autoptr(GBytes) bytes = record ();
  gsize length = g_bytes_get_size (bytes);
  guint refused = 0;

  for (gsize cut = 1; cut < length; cut++)
    {
      /* A copy of its own, so that the address sanitizer sees any byte read beyond. */
      g_autofree guint8 *part = g_memdup2 (g_bytes_get_data (bytes, NULL), cut);
      g_autofree char *text = read_all (part, cut);

      refused += text == NULL;
    }
  g_assert_cmpuint (refused, >, length - 10); /* only a cut between rows is well-formed */
}

static void
test_every_byte (void)
{
  g_autoptr(GBytes) bytes = record ();
  gsize length = g_bytes_get_size (bytes);
  static const guint8 values[] = { 0, 1, 2, 3, 4, 5, 9, 18, 23, 'T', 0x7f, 0x80, 0xff };

  for (gsize at = 0; at < length; at++)
    for (guint i = 0; i < G_N_ELEMENTS (values); i++)
      {
        g_autofree guint8 *other = g_memdup2 (g_bytes_get_data (bytes, NULL), length);
        g_autofree char *text = NULL;
        g_autoptr(GBytes) sorted = NULL;
        void *again = sqlite3_malloc ((int) length);

        other[at] = values[i];
        text = read_all (other, length); /* refused or read: never beyond its end */
        memcpy (again, other, length);
        sorted = store_changes_sort (&tray_profile, "test", again, length, NULL);
        g_assert_true ((text == NULL) == (sorted == NULL));
      }
}

static void
test_sort (void)
{
  sqlite3 *db;
  sqlite3_session *session;
  void *bytes;
  int length;
  g_autoptr(GBytes) sorted = NULL;
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gint64 last = 0;
  guint rows = 0;

  g_assert_cmpint (sqlite3_open (":memory:", &db), ==, SQLITE_OK);
  sqlite3_exec (db, "CREATE TABLE box (id INTEGER PRIMARY KEY, name TEXT, note TEXT)", NULL, NULL, NULL);
  sqlite3session_create (db, "main", &session);
  sqlite3session_attach (session, NULL);
  sqlite3_exec (db, "WITH RECURSIVE c (x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c LIMIT 5000) INSERT INTO box SELECT x * 7919 % 5003, x, NULL FROM c",
                NULL, NULL, NULL);
  sqlite3session_changeset (session, &length, &bytes);
  sqlite3session_delete (session);
  sorted = store_changes_sort (&tray_profile, "test", bytes, (gsize) length, NULL);
  g_assert_cmpuint (g_bytes_get_size (sorted), ==, (gsize) length);
  store_changes_init (&changes, &tray_profile, "test", g_bytes_get_data (sorted, NULL), g_bytes_get_size (sorted));
  while (store_changes_next (&changes, &row, NULL) && row != NULL)
    {
      g_assert_cmpint (row->id, >, last);
      last = row->id;
      rows++;
    }
  g_assert_cmpuint (rows, ==, 5000);
  /* SQLite takes it as its own: inverted, it empties the table. */
  g_assert_cmpint (sqlite3changeset_invert (length, g_bytes_get_data (sorted, NULL), &length, &bytes), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3changeset_apply (db, length, bytes, NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_free (bytes);
  g_assert_cmpint (sqlite3_total_changes (db), ==, 10000);
  sqlite3_close (db);
}

static void
test_pack (void)
{
  static const gsize lengths[] = { 1, 511, 512, 513, 65535, 65536, 300000 };
  g_autoptr(GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());

  g_test_summary ("What is packed is unpacked the same, small and large, even and random");
  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    for (guint random = 0; random < 2; random++)
      {
        g_autofree guint8 *bytes = g_malloc0 (lengths[i]);
        g_autoptr(GBytes) raw = NULL;
        g_autoptr(GBytes) back = NULL;
        g_autoptr(GError) error = NULL;
        StorePack *pack;

        for (gsize k = 0; random && k < lengths[i]; k++)
          bytes[k] = (guint8) g_rand_int (rand);
        raw = g_bytes_new (bytes, lengths[i]);
        pack = store_pack_start (raw);
        store_pack_wait (pack);
        g_assert_cmpint (pack->packing, ==, (lengths[i] >= 512 && !random ? STORE_PACKING_ZLIB : STORE_PACKING_RAW));
        back = store_unpack (pack->packing, g_bytes_get_data (pack->packed, NULL), g_bytes_get_size (pack->packed),
                             (gint64) lengths[i], "test", &error);
        g_assert_no_error (error);
        g_assert_true (g_bytes_equal (raw, back));
        store_pack_free (pack);
      }
}

static void
test_unpack_refuses (void)
{
  g_autofree guint8 *zeros = g_malloc0 (100000);
  g_autoptr(GBytes) raw = g_bytes_new (zeros, 100000);
  StorePack *pack = store_pack_start (raw);
  const guint8 *bytes;
  gsize length;
  static const gint64 sizes[] = { 0, -1, 99999, 100001, G_MAXINT64, G_MININT64, 999999999 };

  g_test_summary ("A payload that is not what it claims to be is refused before memory is taken for it");
  store_pack_wait (pack);
  bytes = g_bytes_get_data (pack->packed, &length);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (store_unpack (STORE_PACKING_ZLIB, bytes, length, sizes[i], "test", &error));
      tray_assert_sentence (&error, STORE_ERROR_DAMAGED);
      g_assert_null (store_unpack (STORE_PACKING_RAW, bytes, length, sizes[i], "test", &error));
      tray_assert_sentence (&error, STORE_ERROR_DAMAGED);
    }
  g_assert_null (store_unpack (STORE_PACKING_ZLIB, bytes, length - 1, 100000, "test", NULL));
  g_assert_null (store_unpack (STORE_PACKING_ZLIB, bytes, 0, 100000, "test", NULL));
  g_assert_null (store_unpack ((StorePacking) 7, bytes, length, 100000, "test", NULL));
  store_pack_free (pack);
}

static gboolean
print_range (guint table, gint64 low, gint64 high, gpointer data, GError **error)
{
  g_string_append_printf (data, "%u:%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT " ", table, low, high);
  return TRUE;
}

static void
test_ranges (void)
{
  g_autoptr(StoreTouch) touch = store_touch_new (3);
  g_autoptr(GString) text = g_string_new (NULL);

  store_touch_add (touch, 1, 5000);
  store_touch_add (touch, 0, 7);
  store_touch_add (touch, 0, 5);
  store_touch_add (touch, 0, 6);
  store_touch_add (touch, 0, 9);
  store_touch_add (touch, 0, 4095);
  store_touch_add (touch, 0, 4096);
  store_touch_add (touch, 0, 5);
  store_touch_add (touch, 2, G_MAXINT64);
  g_assert_true (store_touch_flush (touch, print_range, text, NULL));
  g_assert_cmpstr (text->str, ==,
                   "0:5-7 0:9-9 0:4095-4095 0:4096-4096 1:5000-5000 2:9223372036854775807-9223372036854775807 ");
  g_string_set_size (text, 0);
  g_assert_true (store_touch_flush (touch, print_range, text, NULL));
  g_assert_cmpstr (text->str, ==, ""); /* forgotten */

  for (gint64 id = 0; id < 4096; id += 2) /* 2,048 gaps: bridged, but within the block, and nothing is left out */
    store_touch_add (touch, 0, id);
  g_assert_true (store_touch_flush (touch, print_range, text, NULL));
  g_assert_true (g_str_has_prefix (text->str, "0:0-"));
  g_assert_true (g_str_has_suffix (text->str, "-4094 "));
  g_assert_cmpuint (text->len, <, 17 * 14);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/store/bytes/reads-what-sqlite-recorded", test_reads_what_sqlite_recorded);
  g_test_add_func ("/store/bytes/refuses-a-changeset-cut-anywhere", test_every_cut);
  g_test_add_func ("/store/bytes/survives-any-byte-changed", test_every_byte);
  g_test_add_func ("/store/bytes/sorts-rows-by-key-for-sqlite-to-apply", test_sort);
  g_test_add_func ("/store/bytes/packs-and-unpacks-the-same", test_pack);
  g_test_add_func ("/store/bytes/refuses-a-payload-that-lies", test_unpack_refuses);
  g_test_add_func ("/store/bytes/ranges-hold-every-touched-key", test_ranges);
  return g_test_run ();
}
