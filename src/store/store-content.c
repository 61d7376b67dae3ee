/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-chain-private.h"
#include "store-content.h"
#include "store-pack-private.h"

#include <glib/gi18n-lib.h>

gboolean
store_content_add (StoreAction *action, GBytes *bytes, char **sha256, GError **error)
{
  /* What was altered past the program is mended by attaching the same file again. */
  static const char sql[] = "INSERT INTO content (sha256, size, bytes) VALUES (?1, ?2, ?3) ON CONFLICT (sha256)"
                            " DO UPDATE SET size = excluded.size, bytes = excluded.bytes"
                            " WHERE size != excluded.size OR bytes != excluded.bytes";
  StoreDb *db = store_action_db (action);
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  guint8 digest[STORE_DIGEST_LENGTH];
  g_autofree char *hex = NULL;
  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);

  if (statement == NULL)
    return FALSE;
  if (length > STORE_CONTENT_MOST)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_TOO_LARGE,
                   _("The file is larger than %d MiB: make it smaller, or attach a link to it."), STORE_CONTENT_MOST / 1024 / 1024);
      return FALSE;
    }
  store_digest (data, length, digest);
  hex = store_hex_dup (digest);
  sqlite3_bind_text (statement, 1, hex, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 2, (gint64) length);
  if (length > 0)
    sqlite3_bind_blob64 (statement, 3, data, length, SQLITE_STATIC);
  else
    sqlite3_bind_zeroblob (statement, 3, 0);
  if (!store_db_run (db, statement, _("The file could not be attached"), error))
    return FALSE;
  *sha256 = g_steal_pointer (&hex);
  return TRUE;
}

GBytes *
store_content_read (StoreDb *db, const char *sha256, GError **error)
{
  static const char sql[] = "SELECT bytes FROM content WHERE sha256 = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GBytes) bytes = NULL;
  guint8 digest[STORE_DIGEST_LENGTH];
  g_autofree char *hex = NULL;
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_text (statement, 1, sha256, -1, SQLITE_STATIC);
  if (!store_db_next (db, statement, _("The attached file could not be read"), &row, error))
    return NULL;
  if (!row)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_MISSING,
                   _("'%s' holds no attached file %s: attach it again."), db->shown, sha256);
      return NULL;
    }
  bytes = g_bytes_new (sqlite3_column_blob (statement, 0), (gsize) sqlite3_column_bytes (statement, 0));
  store_digest (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), digest);
  hex = store_hex_dup (digest);
  if (!g_str_equal (hex, sha256))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("The attached file %s in '%s' was altered: attach it again."), sha256, db->shown);
      return NULL;
    }
  return g_steal_pointer (&bytes);
}
