/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Big changesets are packed in a second thread while the writer goes on: compressing a bulk import takes as long as
 * parsing its rows. The caller bounds how many are under way.
 */

#include "config.h"

#include "store-pack-private.h"

#include <glib/gi18n-lib.h>
#include <nettle/sha2.h>

#include <string.h>

#define BESIDE_FROM   (64 * 1024) /* bytes from which the second thread is worth its locks */
#define FAST_FROM     (64 * 1024) /* bytes from which the fast level is used */
#define LEVEL_FAST    1
#define LEVEL_GOOD    6
#define SIZE_MOST     1000000000 /* SQLite's own limit of a value */
#define EXPANDS_MOST  1100       /* zlib's limit is 1032 to 1 */
#define ROOM_AT_LEAST 1024

static GMutex pack_mutex; /* guards StorePack.done */
static GCond pack_cond;

G_STATIC_ASSERT (STORE_DIGEST_LENGTH == SHA256_DIGEST_SIZE);

/* By nettle, which uses what the processor has for it: ten times as fast as GChecksum, over megabytes. */
void
store_digest (const void *bytes, gsize length, guint8 digest[STORE_DIGEST_LENGTH])
{
  struct sha256_ctx context;

  sha256_init (&context);
  if (length > 0)
    sha256_update (&context, length, bytes);
  sha256_digest (&context, STORE_DIGEST_LENGTH, digest);
}

/* Runs all of @bytes through @converter into at most @most bytes; NULL when it does not fit or is not well-formed. */
static guint8 *
convert (GConverter *converter, const guint8 *bytes, gsize length, gsize room, gsize most, gsize *made)
{
  g_autofree guint8 *out = g_malloc (room = MIN (room, most));
  gsize used = 0, filled = 0;

  for (;;)
    {
      gsize n_read, n_written;
      g_autoptr(GError) error = NULL;
      GConverterResult result = g_converter_convert (converter, bytes + used, length - used, out + filled, room - filled,
                                                     G_CONVERTER_INPUT_AT_END, &n_read, &n_written, &error);

      if (result == G_CONVERTER_ERROR)
        {
          if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE) || room >= most)
            return NULL;
          room = MIN (room * 2, most);
          out = g_realloc (out, room);
          continue;
        }
      used += n_read;
      filled += n_written;
      if (result == G_CONVERTER_FINISHED)
        break;
      if (filled == room)
        {
          if (room >= most)
            return NULL;
          room = MIN (room * 2, most);
          out = g_realloc (out, room);
        }
    }
  if (used != length)
    return NULL;
  *made = filled;
  return g_steal_pointer (&out);
}

static void
pack (StorePack *self)
{
  gsize length, made = 0;
  const guint8 *bytes = g_bytes_get_data (self->raw, &length);
  guint8 *out = NULL;

  store_digest (bytes, length, self->digest);
  if (length >= STORE_PACK_RAW_BELOW)
    {
      g_autoptr(GZlibCompressor) compressor = g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB,
                                                                     length < FAST_FROM ? LEVEL_GOOD : LEVEL_FAST);

      out = convert (G_CONVERTER (compressor), bytes, length, MAX (ROOM_AT_LEAST, length / 4), length, &made);
    }
  if (out != NULL) /* else it is small, or would only grow */
    {
      self->packing = STORE_PACKING_ZLIB;
      self->packed = g_bytes_new_take (out, made);
      g_clear_pointer (&self->raw, g_bytes_unref);
    }
  else
    {
      self->packing = STORE_PACKING_RAW;
      self->packed = g_steal_pointer (&self->raw);
    }
}

static void
pack_beside (gpointer data, gpointer unused)
{
  StorePack *self = data;

  pack (self);
  g_mutex_lock (&pack_mutex);
  self->done = TRUE;
  g_cond_broadcast (&pack_cond);
  g_mutex_unlock (&pack_mutex);
}

static gpointer
make_pool (gpointer unused)
{
  return g_thread_pool_new (pack_beside, NULL, 1, FALSE, NULL);
}

/* Begins to pack @raw, which must not change meanwhile. */
StorePack *
store_pack_start (GBytes *raw)
{
  static GOnce once = G_ONCE_INIT;
  StorePack *self = g_new0 (StorePack, 1);

  self->size = g_bytes_get_size (raw);
  self->raw = g_bytes_ref (raw);
  if (self->size >= BESIDE_FROM)
    {
      GThreadPool *pool = g_once (&once, make_pool, NULL);

      if (g_thread_pool_push (pool, self, NULL))
        return self;
    }
  pack (self);
  self->done = TRUE;
  return self;
}

void
store_pack_wait (StorePack *self)
{
  g_mutex_lock (&pack_mutex);
  while (!self->done)
    g_cond_wait (&pack_cond, &pack_mutex);
  g_mutex_unlock (&pack_mutex);
}

void
store_pack_free (StorePack *self)
{
  store_pack_wait (self);
  g_clear_pointer (&self->raw, g_bytes_unref);
  g_clear_pointer (&self->packed, g_bytes_unref);
  g_free (self);
}

GBytes *
store_unpack (StorePacking packing, const void *bytes, gsize length, gint64 size, const char *shown, GError **error)
{
  g_autofree guint8 *out = NULL;
  gsize made = 0;

  if (packing == STORE_PACKING_RAW && (gint64) length == size)
    return g_bytes_new (bytes, length);

  if (packing == STORE_PACKING_ZLIB && size > 0 && size <= SIZE_MOST && (guint64) size / EXPANDS_MOST <= length)
    {
      g_autoptr(GZlibDecompressor) decompressor = g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB);

      out = convert (G_CONVERTER (decompressor), bytes, length, (gsize) size + 1, (gsize) size + 1, &made);
    }
  if (out == NULL || (gint64) made != size)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("The journal of '%s' holds an entry that cannot be read: open the latest copy of the file instead."),
                   shown);
      return NULL;
    }
  return g_bytes_new_take (g_steal_pointer (&out), made);
}

GBytes *
store_payload_read (StoreDb *db, gint64 place, GError **error)
{
  static const char sql[] = "SELECT p.packing, p.bytes, e.size, e.digest FROM entry e LEFT JOIN payload p ON p.place = e.place "
                            "WHERE e.place = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GBytes) raw = NULL;
  guint8 digest[STORE_DIGEST_LENGTH];
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, place);
  if (!store_db_next (db, statement, _("The history could not be read"), &row, error))
    return NULL;
  if (!row)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_MISSING,
                   _("The journal of '%s' lacks an entry: open the latest copy of the file instead."), db->shown);
      return NULL;
    }
  if (sqlite3_column_type (statement, 0) == SQLITE_NULL)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_ERASED,
                   _("What this action changed was erased from the journal of '%s': it can no longer be shown or undone."),
                   db->shown);
      return NULL;
    }

  raw = store_unpack ((StorePacking) sqlite3_column_int (statement, 0), sqlite3_column_blob (statement, 1),
                      (gsize) sqlite3_column_bytes (statement, 1), sqlite3_column_int64 (statement, 2), db->shown, error);
  if (raw == NULL)
    return NULL;
  store_digest (g_bytes_get_data (raw, NULL), g_bytes_get_size (raw), digest);
  if (sqlite3_column_bytes (statement, 3) != STORE_DIGEST_LENGTH ||
      memcmp (sqlite3_column_blob (statement, 3), digest, STORE_DIGEST_LENGTH) != 0)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("The journal of '%s' holds an entry that was altered: open the latest copy of the file instead."), db->shown);
      return NULL;
    }
  return g_steal_pointer (&raw);
}
