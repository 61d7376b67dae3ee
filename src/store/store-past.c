/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Unlike a check's replay, the scratch file keeps its indexes and gets the journal's own rows too, since what is asked of it
 * is what is asked of a book.
 */

#include "config.h"
#include "store-past.h"

#include "store-changes-private.h"
#include "store-pack-private.h"
#include "store-private.h"
#include "store-schema-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>

struct _StorePast
{
  StoreDb *db;
  StoreDb *scratch;
  gint64   place;  /* of the last entry applied */
  gboolean broken; /* an entry on the way was erased: nothing after it can be made anew */

  StoreProgress progress;
  gpointer      progress_data;
  gint64        bytes; /* of changesets, applied */
  gint64        all;   /* up to the last day that will be asked for; 0: nobody is told */
  guint64       told;
};

#define OUT_OF 1000

enum
{
  COLUMN_PLACE,
  COLUMN_SIZE,
  COLUMN_PACKING,
  COLUMN_BYTES
};

/* Rows of the journal that come with entries, from one place to another. */
static const struct
{
  const char *from;
  const char *to;
} copies[] = {
  { "SELECT * FROM action WHERE first_place > ?1 AND first_place <= ?2", "INSERT INTO action VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)" },
  { "SELECT * FROM entry WHERE place > ?1 AND place <= ?2", "INSERT INTO entry VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)" },
  { "SELECT * FROM payload WHERE place > ?1 AND place <= ?2", "INSERT INTO payload VALUES (?1, ?2, ?3)" },
  { "SELECT * FROM entry_touch WHERE place > ?1 AND place <= ?2", "INSERT INTO entry_touch VALUES (?1, ?2, ?3, ?4)" },
};

gboolean
store_past_size (StoreDb *db, gint64 *bytes, GError **error)
{
  return store_db_get_integer (db, "SELECT coalesce (sum (size), 0) FROM entry", bytes, error);
}

StorePast *
store_past_new (StoreDb *db, GError **error)
{
  g_autoptr(StorePast) past = g_new0 (StorePast, 1);

  past->db = db;
  past->scratch = store_db_open ("", db->profile, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL, 0, error);
  if (past->scratch == NULL
      || !store_db_exec (past->scratch, "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; PRAGMA foreign_keys = OFF", error)
      || !store_schema_make (past->scratch, "", error))
    return NULL;
  return g_steal_pointer (&past);
}

void
store_past_free (StorePast *past)
{
  if (past == NULL)
    return;

  g_clear_pointer (&past->scratch, store_db_close);
  g_free (past);
}

/* The last entry before the first one that is later than @day: a clock that was set back hides entries, it shows none. */
static gboolean
find_last (StorePast *past, const char *day, gint64 *last, GError **error)
{
  static const char sql[] = "SELECT coalesce ((SELECT min (first_place) - 1 FROM action WHERE substr (time, 1, 10) > ?1),"
                            " (SELECT max (place) FROM entry), 0)";
  g_autoptr(StoreStatement) statement = store_db_statement (past->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, day, -1, SQLITE_STATIC);
  return store_db_ask_integer (past->db, statement, _("The journal could not be read"), NULL, last, error);
}

gboolean
store_past_tell (StorePast *past, const char *last, StoreProgress progress, gpointer progress_data, GError **error)
{
  static const char sql[] = "SELECT coalesce (sum (size), 0) FROM entry WHERE place <= ?1";
  g_autoptr(StoreStatement) statement = NULL;
  gint64 place;

  past->progress = progress;
  past->progress_data = progress_data;
  if (!find_last (past, last, &place, error))
    return FALSE;
  statement = store_db_statement (past->db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, place);
  return store_db_ask_integer (past->db, statement, _("The journal could not be read"), NULL, &past->all, error);
}

/* What was applied and is rolled back was told nevertheless: a share once told is not told again. */
static void
tell (StorePast *past, gint64 bytes)
{
  guint64 share = past->all > 0 ? (guint64) MIN (bytes, past->all) * OUT_OF / (guint64) past->all : 0;

  if (past->progress == NULL || share <= past->told)
    return;
  past->told = share;
  past->progress (share, OUT_OF, past->progress_data);
}

static int
on_conflict (void *data, int why, sqlite3_changeset_iter *at)
{
  return SQLITE_CHANGESET_ABORT;
}

static gboolean
apply (StorePast *past, StoreStatement *statement, GError **error)
{
  g_autoptr(GBytes) raw = store_unpack ((StorePacking) sqlite3_column_int (statement, COLUMN_PACKING),
                                        sqlite3_column_blob (statement, COLUMN_BYTES),
                                        (gsize) sqlite3_column_bytes (statement, COLUMN_BYTES),
                                        sqlite3_column_int64 (statement, COLUMN_SIZE), past->db->shown, error);
  const void *bytes;
  gsize length;
  int code;

  if (raw == NULL)
    return FALSE;
  bytes = g_bytes_get_data (raw, &length);
  code = sqlite3changeset_apply_v2 (past->scratch->handle, (int) length, (void *) bytes, NULL, on_conflict, past, NULL, NULL,
                                    SQLITE_CHANGESETAPPLY_NOSAVEPOINT);
  return code == SQLITE_OK || store_db_fail_code (past->scratch, code, _("The journal could not be replayed"), error);
}

static gboolean
apply_all (StorePast *past, gint64 last, gint64 *bytes, GCancellable *cancellable, GError **error)
{
  static const char sql[] = "SELECT e.place, e.size, p.packing, p.bytes FROM entry e LEFT JOIN payload p ON p.place = e.place"
                            " WHERE e.place > ?1 AND e.place <= ?2 ORDER BY e.place";
  g_autoptr(StoreStatement) statement = store_db_statement (past->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, past->place);
  sqlite3_bind_int64 (statement, 2, last);
  while ((ok = store_db_next (past->db, statement, _("The journal could not be read"), &row, error)) && row && !past->broken)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      past->broken = sqlite3_column_type (statement, COLUMN_PACKING) == SQLITE_NULL;
      if (!past->broken && !apply (past, statement, error))
        return FALSE;
      *bytes += sqlite3_column_int64 (statement, COLUMN_SIZE);
      tell (past, *bytes);
    }
  return ok;
}

static gboolean
copy_rows (StorePast *past, guint which, gint64 last, GError **error)
{
  g_autoptr(StoreStatement) from = store_db_statement (past->db, copies[which].from, error);
  gboolean ok, row;

  if (from == NULL)
    return FALSE;
  sqlite3_bind_int64 (from, 1, past->place);
  sqlite3_bind_int64 (from, 2, last);
  while ((ok = store_db_next (past->db, from, _("The journal could not be read"), &row, error)) && row)
    {
      g_autoptr(StoreStatement) to = store_db_statement (past->scratch, copies[which].to, error);

      if (to == NULL)
        return FALSE;
      for (int i = 0; i < sqlite3_column_count (from); i++)
        sqlite3_bind_value (to, i + 1, sqlite3_column_value (from, i));
      if (!store_db_run (past->scratch, to, _("The journal could not be replayed"), error))
        return FALSE;
    }
  return ok;
}

gboolean
store_past_forward (StorePast *past, const char *day, StoreDb **then, GCancellable *cancellable, GError **error)
{
  gint64 last, bytes = past->bytes;
  gboolean ok;

  *then = NULL;
  store_db_set_cancellable (past->scratch, cancellable);
  if (!find_last (past, day, &last, error))
    return FALSE;
  if (last > past->place && !past->broken)
    {
      if (!store_db_exec (past->scratch, "BEGIN", error))
        return FALSE;
      ok = apply_all (past, last, &bytes, cancellable, error);
      for (guint i = 0; ok && !past->broken && i < G_N_ELEMENTS (copies); i++)
        ok = copy_rows (past, i, last, error);
      if (!ok || !store_db_exec (past->scratch, "COMMIT", error))
        {
          store_db_set_cancellable (past->scratch, NULL); /* what is stopped must still be taken back */
          store_db_rollback (past->scratch);
          past->broken = FALSE;
          return FALSE;
        }
      past->place = last;
      past->bytes = bytes;
    }
  if (past->place > 0 && !past->broken)
    *then = past->scratch;
  return TRUE;
}
