/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * A range never crosses a multiple of 4096, so the ranges that may hold a key begin between that multiple and the key:
 * an index range. Within a block at most RANGES_MOST ranges are kept; beyond that one range stands for all, which may
 * cover keys that were not touched. Whoever must be exact reads the entry itself. A bulk import of a million rows thus
 * leaves a few hundred ranges, and never more than some ten thousand.
 */

#include "config.h"

#include "store-touch-private.h"

#include <glib/gi18n-lib.h>

#define BLOCK_BITS  12
#define BLOCK       (G_GINT64_CONSTANT (1) << BLOCK_BITS)
#define WORDS       (BLOCK / 64)
#define RANGES_MOST 16

typedef struct
{
  gint64  number; /* key divided by BLOCK */
  guint64 bits[WORDS];
} Block;

struct _StoreTouch
{
  guint        n_tables;
  GHashTable **blocks; /* one a table, made on first use: Block by number */
  Block       *last;   /* most rows fall into the same block as the row before */
  guint        last_table;
};

StoreTouch *
store_touch_new (guint n_tables)
{
  StoreTouch *touch = g_new0 (StoreTouch, 1);

  touch->n_tables = n_tables;
  touch->blocks = g_new0 (GHashTable *, n_tables);
  return touch;
}

void
store_touch_free (StoreTouch *touch)
{
  for (guint i = 0; i < touch->n_tables; i++)
    g_clear_pointer (&touch->blocks[i], g_hash_table_unref);
  g_free (touch->blocks);
  g_free (touch);
}

void
store_touch_add (StoreTouch *touch, guint table, gint64 id)
{
  gint64 number = id >> BLOCK_BITS;
  guint bit = (guint) (id & (BLOCK - 1));

  if (touch->last == NULL || touch->last_table != table || touch->last->number != number)
    {
      Block *block;

      if (touch->blocks[table] == NULL)
        touch->blocks[table] = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);
      block = g_hash_table_lookup (touch->blocks[table], &number);
      if (block == NULL)
        {
          block = g_new0 (Block, 1);
          block->number = number;
          g_hash_table_insert (touch->blocks[table], &block->number, block);
        }
      touch->last = block;
      touch->last_table = table;
    }
  touch->last->bits[bit / 64] |= G_GUINT64_CONSTANT (1) << (bit % 64);
}

static int
compare_blocks (gconstpointer a, gconstpointer b)
{
  const Block *one = *(Block *const *) a, *other = *(Block *const *) b;

  return one->number < other->number ? -1 : one->number > other->number;
}

static gboolean
has_bit (const Block *block, guint bit)
{
  return bit < BLOCK && (block->bits[bit / 64] >> (bit % 64) & 1) != 0;
}

static gboolean
flush_block (const Block *block, guint table, StoreTouchFunc func, gpointer data, GError **error)
{
  struct
  {
    guint low, high;
  } ranges[RANGES_MOST];
  guint n = 0;
  gint64 base = block->number * BLOCK;

  for (guint bit = 0; bit < BLOCK; bit++)
    {
      if (!has_bit (block, bit))
        continue;
      if (n == RANGES_MOST) /* one too many: the first takes them all in */
        {
          ranges[0].high = ranges[n - 1].high;
          n = 1;
        }
      ranges[n].low = bit;
      while (has_bit (block, bit + 1))
        bit++;
      ranges[n].high = bit;
      n++;
    }
  for (guint i = 0; i < n; i++)
    if (!func (table, base + ranges[i].low, base + ranges[i].high, data, error))
      return FALSE;
  return TRUE;
}

gboolean
store_touch_flush (StoreTouch *touch, StoreTouchFunc func, gpointer data, GError **error)
{
  for (guint table = 0; table < touch->n_tables; table++)
    {
      g_autoptr(GPtrArray) blocks = NULL;
      GHashTableIter iter;
      gpointer block;

      if (touch->blocks[table] == NULL)
        continue;

      blocks = g_ptr_array_new ();
      g_hash_table_iter_init (&iter, touch->blocks[table]);
      while (g_hash_table_iter_next (&iter, NULL, &block))
        g_ptr_array_add (blocks, block);
      g_ptr_array_sort (blocks, compare_blocks);
      for (guint i = 0; i < blocks->len; i++)
        if (!flush_block (blocks->pdata[i], table, func, data, error))
          return FALSE;
      g_clear_pointer (&touch->blocks[table], g_hash_table_unref);
    }
  touch->last = NULL;
  return TRUE;
}

/* Where the ranges of an entry go. */
typedef struct
{
  StoreDb *db;
  gint64   place;
} Target;

static gboolean
write_range (guint table, gint64 low, gint64 high, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO entry_touch (tab, low, high, place) VALUES (?1, ?2, ?3, ?4)";
  const Target *target = data;
  g_autoptr(StoreStatement) statement = store_db_statement (target->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, table);
  sqlite3_bind_int64 (statement, 2, low);
  sqlite3_bind_int64 (statement, 3, high);
  sqlite3_bind_int64 (statement, 4, target->place);
  return store_db_run (target->db, statement, _("The journal could not be written"), error);
}

gboolean
store_touch_write (StoreTouch *touch, StoreDb *db, gint64 place, GError **error)
{
  Target target = { db, place };

  return store_touch_flush (touch, write_range, &target, error);
}

GArray *
store_touch_list (StoreDb *db, guint table, gint64 id, gint64 after, GError **error)
{
  static const char sql[] = "SELECT DISTINCT place FROM entry_touch WHERE tab = ?1 AND low BETWEEN ?2 AND ?3 "
                            "AND high >= ?3 AND place > ?4 ORDER BY place";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GArray) places = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, table);
  sqlite3_bind_int64 (statement, 2, id & ~(BLOCK - 1));
  sqlite3_bind_int64 (statement, 3, id);
  sqlite3_bind_int64 (statement, 4, after);
  return store_db_add_integers (db, statement, _("The history could not be read"), places, error) ? g_steal_pointer (&places) : NULL;
}
