/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * A file that is copied, sent, or restored from an older copy looks like the one it came from. If both wrote on under
 * one origin, they would give the same key to different rows. So an origin belongs to one user on one machine with one
 * file: a state file (one a UUID, one group a device and inode) remembers the origin, the number of its last entry, and
 * the last place with its digest. The origin is used again only if the file at that device and inode
 *   - knows the origin and has written at least as many entries under it, and
 *   - has the remembered digest at the remembered place.
 * A copy lies at another inode; an older copy put back in place lacks the last entries; a file that went on elsewhere
 * has other digests. Each of them takes a new origin with its first write. So does a file whose state was lost.
 */

#include "config.h"

#include "store-chain-private.h"
#include "store-id.h"
#include "store-origin-private.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include <string.h>
#include <sys/stat.h>

#define DRAWS_MOST 64
/* An origin with fewer keys left is given up: no action makes that many rows. */
#define KEYS_LEFT_LEAST (G_GINT64_CONSTANT (1) << 30)

static char *
state_path (Store *store)
{
  g_autofree char *name = g_strdup_printf ("%s.ini", store->uuid);

  return g_build_filename (store->state_folder, name, NULL);
}

/* The group of the file in its state file, or NULL. */
static char *
state_group (Store *store)
{
  GStatBuf info;

  if (g_stat (store->path, &info) != 0)
    return NULL;
  return g_strdup_printf ("%" G_GUINT64_FORMAT "-%" G_GUINT64_FORMAT, (guint64) info.st_dev, (guint64) info.st_ino);
}

static gboolean
find_origin (StoreDb *db, StoreOrigin *origin, gboolean *found, GError **error)
{
  static const char sql[] = "SELECT counter, number FROM origin WHERE origin = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, origin->origin);
  if (!store_db_next (db, statement, _("The file could not be read"), found, error))
    return FALSE;
  if (*found)
    {
      origin->counter = sqlite3_column_int64 (statement, 0);
      origin->number = sqlite3_column_int64 (statement, 1);
    }
  return TRUE;
}

static gboolean
has_head (StoreDb *db, gint64 place, const char *head, gboolean *has, GError **error)
{
  static const char sql[] = "SELECT 1 FROM entry WHERE place = ?1 AND lower (hex (place_hash)) = ?2";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, place);
  sqlite3_bind_text (statement, 2, head, -1, SQLITE_STATIC);
  return store_db_next (db, statement, _("The file could not be read"), has, error);
}

/* Looks whether the state file lets us go on under an origin we had. */
static gboolean
recall (Store *store, StoreDb *db, StoreOrigin *origin, gboolean *known, GError **error)
{
  g_autoptr(GKeyFile) state = g_key_file_new ();
  g_autofree char *path = state_path (store);
  g_autofree char *group = state_group (store);
  g_autofree char *head = NULL;
  gint64 number, place;

  *known = FALSE;
  if (group == NULL || !g_key_file_load_from_file (state, path, G_KEY_FILE_NONE, NULL))
    return TRUE; /* missing or damaged: nothing is remembered */

  origin->origin = g_key_file_get_int64 (state, group, "origin", NULL);
  number = g_key_file_get_int64 (state, group, "number", NULL);
  place = g_key_file_get_int64 (state, group, "place", NULL);
  head = g_key_file_get_string (state, group, "head", NULL);
  if (origin->origin < 1 || origin->origin > STORE_ID_ORIGIN_MOST || number < 0 || place < 1 || head == NULL)
    return TRUE;

  if (!find_origin (db, origin, known, error))
    return FALSE;
  if (!*known || origin->number < number || origin->counter < 0 ||
      origin->counter > STORE_ID_COUNTER_MOST - KEYS_LEFT_LEAST)
    {
      *known = FALSE;
      return TRUE;
    }
  return has_head (db, place, head, known, error);
}

gboolean
store_origin_take (Store *store, StoreDb *db, StoreOrigin *origin, GError **error)
{
  gboolean known;

  if (!recall (store, db, origin, &known, error))
    return FALSE;
  for (guint i = 0; !known && i < DRAWS_MOST; i++)
    {
      gboolean taken;

      *origin = (StoreOrigin){ .origin = g_random_int_range (1, (gint32) STORE_ID_ORIGIN_MOST) };
      if (!find_origin (db, origin, &taken, error))
        return FALSE;
      known = !taken;
    }
  if (!known)
    return store_db_fail_code (db, SQLITE_CORRUPT, _("No place for new records was found"), error);
  return TRUE;
}

gboolean
store_origin_put (StoreDb *db, const StoreOrigin *origin, GError **error)
{
  static const char sql[] = "INSERT INTO origin (origin, counter, number) VALUES (?1, ?2, ?3) "
                            "ON CONFLICT (origin) DO UPDATE SET counter = ?2, number = ?3";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, origin->origin);
  sqlite3_bind_int64 (statement, 2, origin->counter);
  sqlite3_bind_int64 (statement, 3, origin->number);
  return store_db_run (db, statement, _("The journal could not be written"), error);
}

void
store_origin_remember (Store *store, const StoreOrigin *origin, gint64 place, const guint8 head[STORE_DIGEST_LENGTH])
{
  g_autoptr(GKeyFile) state = g_key_file_new ();
  g_autofree char *path = state_path (store);
  g_autofree char *group = state_group (store);
  g_autofree char *hex = store_hex_dup (head);
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  if (group == NULL)
    return;
  /* Read anew each time: another program may write to another copy of the same UUID. */
  g_key_file_load_from_file (state, path, G_KEY_FILE_NONE, NULL);
  g_key_file_set_int64 (state, group, "origin", origin->origin);
  g_key_file_set_int64 (state, group, "number", origin->number);
  g_key_file_set_int64 (state, group, "place", place);
  g_key_file_set_string (state, group, "head", hex);
  text = g_key_file_to_data (state, &length, NULL);
  /* Not synced: after a crash the state may lag behind or be damaged, and both only cost a new origin at worst. */
  if (g_mkdir_with_parents (store->state_folder, 0700) != 0 ||
      !g_file_set_contents_full (path, text, (gssize) length, G_FILE_SET_CONTENTS_NONE, 0600, &error))
    g_debug ("The origin is not remembered: %s", error != NULL ? error->message : "no folder");
}
