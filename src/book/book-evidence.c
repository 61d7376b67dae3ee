/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include "book-models.h"
#include "store-error.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/*
 * The order of loading: what others refer to comes first. All queries go by an index from the model down, so that the
 * time depends on the model and not on the book around it.
 */

#define NEAR 16 /* a table of keys may have this many places a key */

gpointer
book_loader_grow (gpointer array, guint n, gsize size)
{
  /* Room for 16, 32, 64 and so on: whenever the array is full it doubles. */
  if (n == 0 || (n >= 16 && (n & (n - 1)) == 0))
    array = g_realloc_n (array, n == 0 ? 16 : (gsize) n * 2, size);
  memset ((char *) array + (gsize) n * size, 0, size);
  return array;
}

typedef struct
{
  gint64 key;
  int    index;
} KeyIndex;

static int
compare_keys (gconstpointer a, gconstpointer b)
{
  gint64 first = ((const KeyIndex *) a)->key, second = ((const KeyIndex *) b)->key;

  return (first > second) - (first < second);
}

/* @records is an array of structs that begin with their key. */
void
book_key_map_set (BookKeyMap *map, gconstpointer records, guint n, gsize size)
{
  g_autofree KeyIndex *pairs = g_new (KeyIndex, n + 1);

  for (guint i = 0; i < n; i++)
    {
      memcpy (&pairs[i].key, (const char *) records + (gsize) i * size, sizeof (gint64));
      pairs[i].index = (int) i;
    }
  qsort (pairs, n, sizeof *pairs, compare_keys);

  book_key_map_clear (map);
  map->n = n;
  map->keys = g_new (gint64, n + 1);
  map->indices = g_new (int, n + 1);
  for (guint i = 0; i < n; i++)
    {
      map->keys[i] = pairs[i].key;
      map->indices[i] = pairs[i].index;
    }

  if (n == 0 || (guint64) (map->keys[n - 1] - map->keys[0]) >= (guint64) n * NEAR)
    return;
  map->n_near = (guint) (map->keys[n - 1] - map->keys[0]) + 1;
  map->near = g_new (int, map->n_near);
  for (guint i = 0; i < map->n_near; i++)
    map->near[i] = -1;
  for (guint i = 0; i < n; i++)
    map->near[map->keys[i] - map->keys[0]] = map->indices[i];
}

void
book_key_map_clear (BookKeyMap *map)
{
  g_clear_pointer (&map->keys, g_free);
  g_clear_pointer (&map->indices, g_free);
  g_clear_pointer (&map->near, g_free);
  map->n = map->n_near = 0;
}

int
book_key_map_search (const BookKeyMap *map, gint64 key)
{
  guint low = 0, high = map->n;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (map->keys[middle] < key)
        low = middle + 1;
      else
        high = middle;
    }
  return low < map->n && map->keys[low] == key ? map->indices[low] : -1;
}

StoreStatement *
book_loader_query (BookLoader *loader, const char *sql, GError **error)
{
  StoreStatement *statement = store_db_statement (loader->db, sql, error);

  if (statement != NULL && sqlite3_bind_parameter_count (statement) > 0)
    sqlite3_bind_int64 (statement, 1, loader->e->model_id);
  return statement;
}

gboolean
book_loader_next (BookLoader *loader, StoreStatement *statement, gboolean *ok, GError **error)
{
  gboolean row;

  *ok = store_db_next (loader->db, statement, loader->what, &row, error);
  return row;
}

gboolean
book_loader_run (BookLoader *loader, const BookQuery *queries, guint n, GError **error)
{
  for (guint i = 0; i < n; i++)
    {
      g_autoptr(StoreStatement) statement = book_loader_query (loader, queries[i].sql, error);
      gboolean ok;

      if (statement == NULL)
        return FALSE;
      while (book_loader_next (loader, statement, &ok, error))
        queries[i].row (loader, statement);
      if (!ok)
        return FALSE;
      if (queries[i].after != NULL)
        queries[i].after (loader);
    }
  return TRUE;
}

const char *
book_column_text (BookLoader *loader, StoreStatement *statement, int column)
{
  return book_column_keep (loader->e->strings, statement, column);
}

int
book_column_ref (StoreStatement *statement, int column, const BookKeyMap *map)
{
  return sqlite3_column_type (statement, column) == SQLITE_NULL
           ? -1 : book_key_map_find (map, sqlite3_column_int64 (statement, column));
}

static gboolean
load_model (BookLoader *loader, GError **error)
{
  static const char sql[] = "SELECT code, name, monthly_demand, target_release, caution_text FROM model WHERE id = ?1";
  g_autoptr(StoreStatement) statement = book_loader_query (loader, sql, error);
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  if (!book_loader_next (loader, statement, &ok, error))
    {
      if (ok)
        g_set_error_literal (error, STORE_ERROR, STORE_ERROR_MISSING,
                             _("The model is no longer in the book: choose another one."));
      return FALSE;
    }
  loader->e->code = book_column_text (loader, statement, 0);
  loader->e->name = book_column_text (loader, statement, 1);
  loader->e->monthly_demand = book_column_real (statement, 2, NAN);
  loader->e->target_release = book_column_day (statement, 3);
  loader->e->caution = book_column_text (loader, statement, 4);
  return store_db_has_texts (loader->db, loader->what, error);
}

/**
 * book_evidence_new:
 *
 * Returns: (transfer full): evidence of nothing, with a working week of five days of eight hours; for tests to fill
 */
BookEvidence *
book_evidence_new (void)
{
  BookEvidence *e = g_new0 (BookEvidence, 1);

  e->strings = g_string_chunk_new (4096);
  e->code = e->name = e->caution = "";
  e->monthly_demand = e->hourly_cost = NAN;
  for (guint i = 0; i < 5; i++)
    e->week[i] = 8;
  return e;
}

/**
 * book_evidence_load_parts:
 * @db: a connection in a read transaction
 * @model: key of a model
 * @parts: what is read
 * @error: return location
 *
 * Reads what evidence about one model is made from. Without %BOOK_EVIDENCE_READINGS no characteristic has any.
 *
 * Returns: (transfer full) (nullable): the evidence; %STORE_ERROR_MISSING when there is no such model
 */
BookEvidence *
book_evidence_load_parts (StoreDb *db, gint64 model, BookEvidenceParts parts, GError **error)
{
  static const struct
  {
    BookLoadPart      load;
    BookEvidenceParts needed;
  } steps[] = {
    { load_model, BOOK_EVIDENCE_ROUNDS },
    { book_load_shop, BOOK_EVIDENCE_ROUNDS },
    { book_load_rounds, BOOK_EVIDENCE_ROUNDS },
    { book_load_design, BOOK_EVIDENCE_RECORDS },
    { book_load_units, BOOK_EVIDENCE_RECORDS },
    { book_load_runs, BOOK_EVIDENCE_RECORDS },
    { book_load_readings, BOOK_EVIDENCE_READINGS },
    { book_load_studies, BOOK_EVIDENCE_RECORDS },
    { book_load_gates, BOOK_EVIDENCE_RECORDS },
    { book_load_entries, BOOK_EVIDENCE_ENTRIES },
  };
  g_autoptr(BookEvidence) e = book_evidence_new ();
  BookLoader loader = { .db = db, .what = _("The evidence could not be read"), .e = e };
  BookKeyMap *const maps[] = { &loader.persons, &loader.suppliers, &loader.benches, &loader.rounds, &loader.parts, &loader.revisions, &loader.lots,
                               &loader.steps, &loader.characteristics, &loader.units, &loader.gauges, &loader.gates,
                               &loader.criteria, &loader.changes, &loader.issues, &loader.tallies };
  gboolean ok = TRUE;

  e->model_id = model;
  for (guint i = 0; ok && i < G_N_ELEMENTS (steps); i++)
    ok = (parts & steps[i].needed) != steps[i].needed || steps[i].load (&loader, error);
  for (guint i = 0; i < G_N_ELEMENTS (maps); i++)
    book_key_map_clear (maps[i]);
  return ok ? g_steal_pointer (&e) : NULL;
}

/**
 * book_evidence_load_others:
 * @db: a connection in a read transaction
 * @model: key of a model
 * @cancellable: (nullable): asked between two models
 * @error: return location
 *
 * Reads the rounds of all models but @model; a model without rounds is left out.
 *
 * Returns: (transfer full) (element-type BookEvidence) (nullable): in the order of book_models_list()
 */
GPtrArray *
book_evidence_load_others (StoreDb *db, gint64 model, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) models = book_models_list (db, error);
  g_autoptr(GPtrArray) others = g_ptr_array_new_with_free_func ((GDestroyNotify) book_evidence_free);

  if (models == NULL)
    return NULL;
  for (guint i = 0; i < models->len; i++)
    {
      const BookModel *other = models->pdata[i];
      BookEvidence *evidence;

      if (other->id == model || other->n_rounds == 0)
        continue;
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      evidence = book_evidence_load_parts (db, other->id, BOOK_EVIDENCE_ROUNDS, error);
      if (evidence == NULL)
        return NULL;
      g_ptr_array_add (others, evidence);
    }
  return g_steal_pointer (&others);
}

/**
 * book_evidence_load:
 * @db: a connection in a read transaction
 * @model: key of a model
 * @error: return location
 *
 * Reads everything that evidence about one model is made from.
 *
 * Returns: (transfer full) (nullable): the evidence; %STORE_ERROR_MISSING when there is no such model
 */
BookEvidence *
book_evidence_load (StoreDb *db, gint64 model, GError **error)
{
  return book_evidence_load_parts (db, model, BOOK_EVIDENCE_ALL, error);
}

void
book_evidence_free (BookEvidence *evidence)
{
  if (evidence == NULL)
    return;

#define FREE(type, name) g_free (evidence->name);
  BOOK_EVIDENCE_TABLES (FREE)
#undef FREE
  g_string_chunk_free (evidence->strings);
  g_free (evidence);
}
