/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The rows in the way of an undo, and the later actions that touched them.
 */

#include "config.h"

#include "store-block-private.h"
#include "store-history-private.h"
#include "store-pack-private.h"
#include "store-touch-private.h"


#define ROWS_ASKED   256 /* rows in the way whose later actions are looked for */
#define ACTIONS_MOST 64

struct _StoreWay
{
  guint    n_tables;
  GArray **rows;  /* one a table, made on first use: gint64, at most ROWS_ASKED */
  guint64 *count; /* of all rows, by table */
};

StoreWay *
store_way_new (guint n_tables)
{
  StoreWay *way = g_new0 (StoreWay, 1);

  way->n_tables = n_tables;
  way->rows = g_new0 (GArray *, n_tables);
  way->count = g_new0 (guint64, n_tables);
  return way;
}

void
store_way_free (StoreWay *way)
{
  for (guint i = 0; i < way->n_tables; i++)
    g_clear_pointer (&way->rows[i], g_array_unref);
  g_free (way->rows);
  g_free (way->count);
  g_free (way);
}

void
store_way_add (StoreWay *way, guint table, gint64 id)
{
  if (way->rows[table] == NULL)
    way->rows[table] = g_array_new (FALSE, FALSE, sizeof (gint64));
  way->count[table]++;
  if (way->rows[table]->len < ROWS_ASKED)
    g_array_append_val (way->rows[table], id);
}

gboolean
store_way_is_empty (StoreWay *way)
{
  for (guint i = 0; i < way->n_tables; i++)
    if (way->count[i] > 0)
      return FALSE;
  return TRUE;
}

/* Places after @last_place whose entries may have touched one of @rows, as a set of gint64. */
static GHashTable *
find_places (StoreDb *db, guint table, GArray *rows, gint64 last_place, GError **error)
{
  g_autoptr(GHashTable) places = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr(GArray) list = store_touch_list (db, table, g_array_index (rows, gint64, i), last_place, error);

      if (list == NULL)
        return NULL;
      for (guint k = 0; k < list->len; k++)
        g_hash_table_add (places, g_memdup2 (&g_array_index (list, gint64, k), sizeof (gint64)));
    }
  return g_steal_pointer (&places);
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  gint64 one = **(gint64 *const *) a, other = **(gint64 *const *) b;

  return one < other ? 1 : one > other ? -1 : 0; /* newest first */
}

/* Actions, newest first, that touched one of @rows after @last_place and stand. */
static GArray *
find_actions (StoreDb *db, guint table, GArray *rows, gint64 last_place, GError **error)
{
  g_autoptr(GHashTable) places = find_places (db, table, rows, last_place, error);
  g_autoptr(GHashTable) ids = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr(GArray) actions = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GPtrArray) sorted = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer key;
  gint64 last = 0;

  if (places == NULL)
    return NULL;
  for (guint i = 0; i < rows->len; i++)
    g_hash_table_add (ids, &g_array_index (rows, gint64, i));
  g_hash_table_iter_init (&iter, places);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    g_ptr_array_add (sorted, key);
  g_ptr_array_sort (sorted, compare_places);
  for (guint i = 0; i < sorted->len && actions->len < ACTIONS_MOST; i++)
    {
      gint64 place = *(gint64 *) sorted->pdata[i];
      g_autoptr(StoreActionInfo) info = store_history_at (db, place, error);
      gboolean any;

      if (info == NULL || !store_history_touches (db, place, table, ids, &any, error))
        return NULL;
      if (any && !info->undone && info->kind != STORE_UNDO && info->id != last)
        {
          last = info->id;
          g_array_append_val (actions, last);
        }
    }
  return g_steal_pointer (&actions);
}

StoreBlock *
store_way_to_block (StoreWay *way, StoreDb *db, StoreBlockReason reason, gint64 action, gint64 last_place, GError **error)
{
  g_autoptr(StoreBlock) block = g_new0 (StoreBlock, 1);
  g_autoptr(GArray) actions = NULL;

  block->reason = reason;
  block->action = action;
  block->table = -1;
  for (guint i = 0; i < way->n_tables && block->table < 0; i++)
    if (way->count[i] > 0)
      {
        block->table = (int) i;
        block->rows = way->count[i];
        block->id = g_array_index (way->rows[i], gint64, 0);
        actions = find_actions (db, i, way->rows[i], last_place, error);
        if (actions == NULL)
          return NULL;
        block->n_actions = actions->len;
        block->actions = (gint64 *) (gpointer) g_array_free (g_steal_pointer (&actions), FALSE);
      }
  return g_steal_pointer (&block);
}

void
store_block_free (StoreBlock *block)
{
  if (block == NULL)
    return;
  g_free (block->actions);
  g_free (block);
}
