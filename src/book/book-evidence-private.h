/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How the evidence is read: rows into growing arrays, keys into indices by binary search.
 */

#include "book-column-private.h"
#include "book-evidence.h"
#include "store-db.h"

G_BEGIN_DECLS

/*
 * Keys in rising order, each with the index of its record. Keys that were given out close together, as those of one
 * import, also stand in a table by their distance from the first.
 */
typedef struct
{
  gint64 *keys;
  int    *indices;
  guint   n;
  int    *near; /* by key - keys[0]: index, -1 none; %NULL when keys lie far apart */
  guint   n_near;
} BookKeyMap;

typedef struct
{
  StoreDb      *db;
  const char   *what; /* begins the sentence when a query fails */
  BookEvidence *e;
  BookKeyMap    persons, suppliers, benches, rounds, parts, revisions, lots, steps, characteristics, units, gauges, gates, criteria, changes,
    issues, tallies;
} BookLoader;

typedef gboolean (*BookLoadPart) (BookLoader *loader, GError **error);

/* One query: its text (a static array), what becomes of a row, and what is done after the last. */
typedef struct
{
  const char *sql;
  void (*row) (BookLoader *loader, StoreStatement *statement);
  void (*after) (BookLoader *loader);
} BookQuery;

/* The next record of a growing array, zeroed. */
#define book_loader_add(e, name) \
  ((e)->name = book_loader_grow ((e)->name, (e)->n_##name, sizeof *(e)->name), &(e)->name[(e)->n_##name++])
gpointer    book_loader_grow (gpointer array,
                              guint    n,
                              gsize    size);

#define book_key_map_fill(map, array, n) book_key_map_set (map, array, n, sizeof *(array))
void        book_key_map_set (BookKeyMap   *map,
                              gconstpointer records,
                              guint         n,
                              gsize         size);
int         book_key_map_search (const BookKeyMap *map,
                                 gint64            key);
void        book_key_map_clear  (BookKeyMap *map);

static inline int
book_key_map_find (const BookKeyMap *map, gint64 key)
{
  if (map->near != NULL)
    {
      guint64 distance = (guint64) key - (guint64) map->keys[0];

      return distance < map->n_near ? map->near[distance] : -1;
    }
  return book_key_map_search (map, key);
}

/* Makes map_NAME(), for the keys of a table to be found once it is read. */
#define MAP_AFTER(name)                                                \
  static void map_##name (BookLoader *loader)                          \
  {                                                                    \
    book_key_map_fill (&loader->name, loader->e->name, loader->e->n_##name); \
  }

gboolean        book_loader_run   (BookLoader      *loader,
                                   const BookQuery *queries,
                                   guint            n,
                                   GError         **error);
StoreStatement *book_loader_query (BookLoader *loader,
                                   const char *sql,
                                   GError    **error);
gboolean        book_loader_next  (BookLoader     *loader,
                                   StoreStatement *statement,
                                   gboolean       *ok,
                                   GError        **error);
const char     *book_column_text  (BookLoader     *loader,
                                   StoreStatement *statement,
                                   int             column);
int             book_column_ref   (StoreStatement   *statement,
                                   int               column,
                                   const BookKeyMap *map);

gboolean book_load_shop     (BookLoader *loader, GError **error);
gboolean book_load_rounds   (BookLoader *loader, GError **error);
gboolean book_load_design   (BookLoader *loader, GError **error);
gboolean book_load_units    (BookLoader *loader, GError **error);
gboolean book_load_runs     (BookLoader *loader, GError **error);
gboolean book_load_readings (BookLoader *loader, GError **error);
gboolean book_load_studies  (BookLoader *loader, GError **error);
gboolean book_load_gates    (BookLoader *loader, GError **error);
gboolean book_load_entries  (BookLoader *loader, GError **error);
gboolean    book_load_earlier_limits (BookLoader *loader,
                                      GError    **error);

G_END_DECLS
