/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-id-map-private.h"

static BookIdMapSlot *
find_slot (const BookIdMap *map, gint64 key)
{
  gsize i = book_id_hash ((guint64) key) & (map->n_slots - 1);

  while (map->slots[i].key != 0 && map->slots[i].key != key)
    i = (i + 1) & (map->n_slots - 1);
  return &map->slots[i];
}

static void
grow (BookIdMap *map)
{
  BookIdMap larger = { .n_slots = MAX (map->n_slots * 2, 16), .n = map->n };

  larger.slots = g_new0 (BookIdMapSlot, larger.n_slots);
  for (gsize i = 0; i < map->n_slots; i++)
    if (map->slots[i].key != 0)
      *find_slot (&larger, map->slots[i].key) = map->slots[i];
  g_free (map->slots);
  *map = larger;
}

/* Sets the value of a key, above 0. */
void
book_id_map_put (BookIdMap *map, gint64 key, gint64 value)
{
  BookIdMapSlot *slot;

  if (key <= 0)
    return;
  if (map->n * 2 >= map->n_slots)
    grow (map);
  slot = find_slot (map, key);
  map->n += slot->key == 0;
  slot->key = key;
  slot->value = value;
}

/* Forgets a key; the slots behind it move up, so that every key is still found from its own place on. */
void
book_id_map_remove (BookIdMap *map, gint64 key)
{
  gsize hole;

  if (map->n == 0 || key <= 0)
    return;
  hole = (gsize) (find_slot (map, key) - map->slots);
  if (map->slots[hole].key == 0)
    return;
  map->n--;
  for (gsize i = (hole + 1) & (map->n_slots - 1); map->slots[i].key != 0; i = (i + 1) & (map->n_slots - 1))
    {
      gsize home = book_id_hash ((guint64) map->slots[i].key) & (map->n_slots - 1);

      if (((i - home) & (map->n_slots - 1)) >= ((i - hole) & (map->n_slots - 1)))
        {
          map->slots[hole] = map->slots[i];
          hole = i;
        }
    }
  map->slots[hole].key = 0;
}

void
book_id_map_clear (BookIdMap *map)
{
  g_free (map->slots);
  *map = (BookIdMap){ 0 };
}
