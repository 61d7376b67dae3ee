/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Copies write under origins of their own, so that their keys never meet. */

#include "store-tray.h"

#include "store-id.h"

#include <glib/gstdio.h>

#include <string.h>
#include <sys/stat.h>

static gint64
origin_now (Tray *tray)
{
  return tray_ask (tray->path, "SELECT origin FROM entry ORDER BY place DESC LIMIT 1");
}

static void
write_one (Tray *tray)
{
  static guint n;
  g_autofree char *sql = g_strdup_printf ("INSERT INTO box VALUES (%%id, 'box %u', NULL)", n++);

  tray_do (tray->store, 1, sql);
}

static void
close_tray (Tray *tray)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (store_close (g_steal_pointer (&tray->store), &error));
}

/* Writes the bytes of one file over another, in place: device and inode stay. */
static void
put_over (const char *from, const char *to)
{
  g_autofree char *bytes = NULL;
  gsize length;
  FILE *file;

  g_assert_true (g_file_get_contents (from, &bytes, &length, NULL));
  file = g_fopen (to, "r+b");
  g_assert_nonnull (file);
  g_assert_cmpuint (fwrite (bytes, 1, length, file), ==, length);
  fclose (file);
}

static void
test_goes_on (Tray *tray, gconstpointer unused)
{
  gint64 first;

  g_test_summary ("A file goes on under its origin, also after it was closed");
  write_one (tray);
  first = origin_now (tray);
  tray_reopen (tray);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), ==, first);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM origin"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT max(number) FROM entry"), ==, 2);
}

static void
test_copy (Tray *tray, gconstpointer unused)
{
  g_autofree char *copy = g_build_filename (tray->folder, "copy.tray", NULL), *path = NULL;
  gint64 first, second;

  g_test_summary ("A copied file takes a new origin with its first write; the one it came from keeps its own");
  write_one (tray);
  first = origin_now (tray);
  close_tray (tray);
  g_assert_true (g_file_set_contents (copy, "", 0, NULL));
  put_over (tray->path, copy);

  path = tray->path;
  tray->path = copy;
  tray_reopen (tray);
  write_one (tray);
  second = origin_now (tray);
  g_assert_cmpint (second, !=, first);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), ==, second);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(DISTINCT id >> 33) FROM box"), ==, 2);

  tray->path = path;
  tray_reopen (tray);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), ==, first);
  tray->path = path;
  path = NULL;
}

static void
test_restored (Tray *tray, gconstpointer unused)
{
  g_autofree char *backup = g_build_filename (tray->folder, "backup.tray", NULL);
  gint64 first;

  g_test_summary ("An older copy put back in place takes a new origin; a copy of the present state does not");
  write_one (tray);
  first = origin_now (tray);
  close_tray (tray);
  g_assert_true (g_file_set_contents (backup, "", 0, NULL));
  put_over (tray->path, backup);
  put_over (backup, tray->path);
  tray_reopen (tray);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), ==, first);

  close_tray (tray);
  put_over (backup, tray->path);
  tray_reopen (tray);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), !=, first);
}

static void
test_diverged (Tray *tray, gconstpointer unused)
{
  g_autofree char *copy = g_build_filename (tray->folder, "copy.tray", NULL), *path = tray->path;
  gint64 first;

  g_test_summary ("A copy that went on elsewhere and was put back does not use the origin of here again");
  write_one (tray);
  first = origin_now (tray);
  close_tray (tray);
  g_assert_true (g_file_set_contents (copy, "", 0, NULL));
  put_over (tray->path, copy);
  tray_reopen (tray);
  write_one (tray); /* here, a second entry */
  close_tray (tray);

  tray->path = copy; /* there, two others */
  tray_reopen (tray);
  write_one (tray);
  write_one (tray);
  close_tray (tray);

  tray->path = path;
  path = NULL;
  put_over (copy, tray->path);
  tray_reopen (tray);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), !=, first);
}

static void
test_lost_state (Tray *tray, gconstpointer unused)
{
  static const char *const damages[] = { "", "no key file", "[1-1]\norigin=x\n", "\xff\xfe" };
  g_autofree char *name = g_strconcat (store_get_uuid (tray->store), ".ini", NULL);
  g_autofree char *state = g_build_filename (tray->state, name, NULL);

  g_test_summary ("A state file that is missing, damaged or cannot be written costs a new origin and nothing else");
  write_one (tray);
  for (guint i = 0; i < G_N_ELEMENTS (damages); i++)
    {
      gint64 last = origin_now (tray);

      g_assert_true (g_file_set_contents (state, damages[i], -1, NULL));
      write_one (tray);
      g_assert_cmpint (origin_now (tray), !=, last);
    }
  g_assert_cmpint (g_unlink (state), ==, 0);
  g_assert_cmpint (g_mkdir (state, 0700), ==, 0); /* in its place: cannot be written */
  write_one (tray);
  write_one (tray);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(DISTINCT id) FROM box"), ==, 7);
}

static void
test_used_up (Tray *tray, gconstpointer unused)
{
  g_autofree char *sql = g_strdup_printf ("UPDATE origin SET counter = %" G_GINT64_FORMAT, STORE_ID_COUNTER_MOST - 1);
  gint64 first;

  g_test_summary ("A counter at its end, by hand or by use, leads to a new origin");
  write_one (tray);
  first = origin_now (tray);
  tray_tamper (tray->path, sql);
  write_one (tray);
  g_assert_cmpint (origin_now (tray), !=, first);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/origin/goes-on-after-closing", test_goes_on);
  tray_test ("/store/origin/a-copy-takes-a-new-one", test_copy);
  tray_test ("/store/origin/an-older-copy-put-back-takes-a-new-one", test_restored);
  tray_test ("/store/origin/a-diverged-copy-put-back-takes-another", test_diverged);
  tray_test ("/store/origin/a-lost-state-costs-a-new-one", test_lost_state);
  tray_test ("/store/origin/a-used-up-one-is-replaced", test_used_up);
  return g_test_run ();
}
