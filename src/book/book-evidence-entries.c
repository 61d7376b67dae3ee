/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include "book-fields.h"
#include "store-history.h"
#include "store-id.h"

#include <glib/gi18n-lib.h>

/*
 * What was entered before or after what, by the journal.
 *
 * Method. Asking the journal for the entry of each reading would take longer than everything else. But keys of one origin
 * rise in the order in which they were given out, the action's own key before those of its rows: so a point in the journal
 * parts the keys of each origin in two, and one look-up an origin tells it for all its rows.
 */

static gboolean
ask_key (BookLoader *loader, StoreStatement *statement, gint64 *key, GError **error)
{
  gboolean ok, row;

  *key = 0;
  ok = store_db_next (loader->db, statement, _("The journal could not be read"), &row, error);
  if (ok && row)
    *key = sqlite3_column_int64 (statement, 0);
  return ok;
}

/* The first key from @low to @high that was given out after the action with @place; 0 when none was. */
static gboolean
find_first_key (BookLoader *loader, gint64 place, gint64 low, gint64 high, gint64 *first, GError **error)
{
  static const char sql[] = "SELECT id FROM action WHERE first_place > ?1 AND id BETWEEN ?2 AND ?3"
                            " ORDER BY first_place LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (loader->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, place);
  sqlite3_bind_int64 (statement, 2, low);
  sqlite3_bind_int64 (statement, 3, high);
  return ask_key (loader, statement, first, error);
}

static void
add_origin (GArray *origins, gint64 *last, gint64 key)
{
  gint64 origin = store_id_origin (key);

  if (origin == *last)
    return;
  *last = origin;
  for (guint i = 0; i < origins->len; i++)
    if (g_array_index (origins, gint64, i) == origin)
      return;
  g_array_append_val (origins, origin);
}

/* Of all rows that are asked about. */
static GArray *
list_origins (const BookEvidence *e)
{
  GArray *origins = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 last = -1;

  for (guint i = 0; i < e->n_readings; i++)
    add_origin (origins, &last, e->readings[i].id);
  for (guint i = 0; i < e->n_units; i++)
    add_origin (origins, &last, e->units[i].id);
  for (guint i = 0; i < e->n_limits; i++)
    add_origin (origins, &last, e->limits[i].id);
  return origins;
}

/* @action is the key of the action with @place, 0 when the point is a moment and not an action. */
static gboolean
add_boundaries (BookLoader *loader, GArray *origins, BookBoundaryKind kind, int record, gint64 place, gint64 action,
                GError **error)
{
  for (guint i = 0; i < origins->len; i++)
    {
      gint64 origin = g_array_index (origins, gint64, i);
      gint64 low = store_id_make (origin, 1), high = store_id_make (origin, STORE_ID_COUNTER_MOST), first;

      if (!find_first_key (loader, place, low, high, &first, error))
        return FALSE;
      if (first == 0)
        first = G_MAXINT64;
      *book_loader_add (loader->e, boundaries) = (BookEvidenceBoundary){
        kind, record, low, high, store_id_origin (action) == origin ? action : first, first
      };
    }
  return TRUE;
}

/* When a row was last written. */
static gboolean
add_written (BookLoader *loader, GArray *origins, BookBoundaryKind kind, int record, const char *table, gint64 id,
             BookDay *day, GError **error)
{
  StoreHistoryQuery query = { store_db_find_table (loader->db, table), id, .most = 1 };
  g_autoptr(GPtrArray) actions = store_history_list (loader->db, &query, error);
  const StoreActionInfo *info;

  if (actions == NULL)
    return FALSE;
  if (actions->len == 0)
    return TRUE;
  info = actions->pdata[0];
  if (day != NULL)
    *day = book_day_parse (info->time, NULL);
  return add_boundaries (loader, origins, kind, record, info->first_place, info->id, error);
}

/* Than any before it: a row that repeats a wider one may hide it. */
static gboolean
is_wider_than_before (const BookEvidence *e, guint limit)
{
  const BookEvidenceLimit *one = &e->limits[limit];

  for (guint i = limit; i > 0 && e->limits[i - 1].characteristic == one->characteristic; i--)
    if (one->lower < e->limits[i - 1].lower || one->upper > e->limits[i - 1].upper)
      return TRUE;
  return FALSE;
}

/* The place of the first action from @time on; G_MAXINT64 when there is none. */
static gboolean
find_place_since (BookLoader *loader, const char *time, gint64 *place, GError **error)
{
  static const char sql[] = "SELECT first_place FROM action WHERE time >= ?1 ORDER BY time LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (loader->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, time, -1, SQLITE_TRANSIENT);
  if (!ask_key (loader, statement, place, error))
    return FALSE;
  if (*place == 0)
    *place = G_MAXINT64;
  return TRUE;
}

/* The place of the action that made the row with @key. */
static gboolean
find_place_made (BookLoader *loader, gint64 key, gint64 *place, GError **error)
{
  static const char sql[] = "SELECT first_place FROM action WHERE id BETWEEN ?1 AND ?2 ORDER BY id DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (loader->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, store_id_make (store_id_origin (key), 1));
  sqlite3_bind_int64 (statement, 2, key);
  return ask_key (loader, statement, place, error);
}

typedef struct
{
  guint    column;
  gboolean changed;
} ColumnChange;

static gboolean
note_column (const StoreRow *row, gpointer data)
{
  ColumnChange *change = data;

  change->changed |= row->after != NULL && change->column < row->n_columns
                     && row->after[change->column].type != STORE_UNCHANGED;
  return !change->changed;
}

/*
 * The place where the decision of a round was entered on the day of the decision; 0 when it was entered on another day.
 * Only that day's actions are opened.
 */
static gboolean
find_decision (BookLoader *loader, const BookEvidenceRound *round, const char *day, gint64 *place, GError **error)
{
  int table = store_db_find_table (loader->db, "round");
  guint column = (guint) book_field_index (book_record (BOOK_RECORD_ROUND), "decided") + 1; /* after the key */
  StoreHistoryQuery query = { table, round->id, .from = day, .to = day };
  g_autoptr(GPtrArray) actions = store_history_list (loader->db, &query, error);

  *place = 0;
  for (guint i = 0; actions != NULL && i < actions->len && *place == 0; i++)
    {
      const StoreActionInfo *info = actions->pdata[i];
      ColumnChange change = { column, FALSE };

      if (info->erased) /* nothing is left to look at */
        continue;
      if (!store_history_rows (loader->db, info->id, table, round->id, note_column, &change, error))
        return FALSE;
      if (change.changed)
        *place = info->first_place;
    }
  return actions != NULL;
}

static gboolean
add_decided (BookLoader *loader, GArray *origins, int record, GError **error)
{
  const BookEvidenceRound *round = &loader->e->rounds[record];
  g_autofree char *day = book_day_format (round->decided);
  g_autofree char *next = book_day_format (round->decided + 1);
  gint64 since, end, made, decision;

  if (!find_place_since (loader, day, &since, error))
    return FALSE;
  if (since == G_MAXINT64)
    return TRUE; /* nothing was entered since */
  if (!find_place_since (loader, next, &end, error) || !find_place_made (loader, round->id, &made, error)
      || !find_decision (loader, round, day, &decision, error))
    return FALSE;
  if (decision == 0 && end == G_MAXINT64)
    return TRUE;
  return add_boundaries (loader, origins, BOOK_BOUNDARY_ROUND, record, MAX (decision != 0 ? decision : end - 1, made), 0,
                         error);
}

gboolean
book_load_entries (BookLoader *loader, GError **error)
{
  BookEvidence *e = loader->e;
  gboolean ok = book_load_earlier_limits (loader, error);
  g_autoptr(GArray) origins = ok ? list_origins (e) : NULL;

  for (guint i = 0; ok && i < e->n_terms; i++)
    if (e->terms[i].plan_units > 0)
      ok = add_written (loader, origins, BOOK_BOUNDARY_TERM, (int) i, "criterion_term", e->terms[i].id, NULL, error);
  for (guint i = 0; ok && i < e->n_limits; i++)
    if (is_wider_than_before (e, i))
      ok = add_written (loader, origins, BOOK_BOUNDARY_LIMIT, (int) i, "limit", e->limits[i].id, &e->limits[i].entered, error);
  for (guint i = 0; ok && i < e->n_rounds; i++)
    if (e->rounds[i].decided != 0)
      ok = add_decided (loader, origins, (int) i, error);
  return ok;
}
