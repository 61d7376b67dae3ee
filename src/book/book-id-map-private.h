/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A map from keys of rows to integers: asked a million times in one import, so without an allocation an entry.
 * Keys are above 0.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  gint64 key; /* 0: free */
  gint64 value;
} BookIdMapSlot;

/* @slots has room for a power of two and is at most half full, or is NULL when nothing was put yet. */
typedef struct
{
  BookIdMapSlot *slots;
  gsize          n_slots;
  gsize          n;
} BookIdMap;

void book_id_map_put    (BookIdMap *map,
                         gint64     key,
                         gint64     value);
void book_id_map_remove (BookIdMap *map,
                         gint64     key);
void book_id_map_clear  (BookIdMap *map);

static inline guint64
book_id_hash (guint64 key)
{
  key ^= key >> 32; /* finaliser of splitmix64, Steele, Lea and Flood 2014 (from memory) */
  key *= G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  key ^= key >> 27;
  key *= G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return key ^ (key >> 31);
}

static inline gboolean
book_id_map_get (const BookIdMap *map, gint64 key, gint64 *value)
{
  gsize i;

  if (map->n == 0)
    return FALSE;
  for (i = book_id_hash ((guint64) key) & (map->n_slots - 1); map->slots[i].key != 0; i = (i + 1) & (map->n_slots - 1))
    if (map->slots[i].key == key)
      {
        *value = map->slots[i].value;
        return TRUE;
      }
  return FALSE;
}

G_END_DECLS
