/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Polls `PRAGMA data_version` on a connection of its own that never writes: the number moves with every commit of any
 * other connection, in this program or another.
 */

#include "config.h"

#include "store-private.h"
#include "store-reader.h"

#define INTERVAL_MS 250

struct _StoreWatch
{
  StoreDb *db;
  GSource *source;
  gint64   version;
  void     (*changed) (gpointer data);
  gpointer data;
};

static gboolean
look (StoreWatch *self, gint64 *version, GError **error)
{
  return store_db_get_integer (self->db, "PRAGMA data_version", version, error);
}

static gboolean
on_tick (gpointer data)
{
  StoreWatch *self = data;
  g_autoptr(GError) error = NULL;
  gint64 version;

  if (!look (self, &version, &error))
    g_debug ("%s", error->message); /* locked just now: the next tick tells */
  else if (version != self->version)
    {
      self->version = version;
      self->changed (self->data);
    }
  return G_SOURCE_CONTINUE;
}

StoreWatch *
store_watch (Store *store, guint interval_ms, void (*changed) (gpointer data), gpointer data, GError **error)
{
  g_autoptr(StoreWatch) self = g_new0 (StoreWatch, 1);

  self->changed = changed;
  self->data = data;
  self->db = store_open_reading (store, error);
  if (self->db == NULL || !look (self, &self->version, error))
    return NULL;
  self->db->busy_ms = 0; /* a tick never waits */
  self->source = g_timeout_source_new (interval_ms > 0 ? interval_ms : INTERVAL_MS);
  g_source_set_callback (self->source, on_tick, self, NULL);
  g_source_attach (self->source, g_main_context_get_thread_default ());
  return g_steal_pointer (&self);
}

void
store_watch_free (StoreWatch *self)
{
  if (self == NULL)
    return;
  if (self->source != NULL)
    g_source_destroy (self->source);
  g_clear_pointer (&self->source, g_source_unref);
  store_db_close (self->db);
  g_free (self);
}
