/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include "book-fields.h"
#include "store-history.h"

#include <math.h>
#include <string.h>

/*
 * Limits that were changed in their row, instead of by a new row of a later day.
 *
 * Method. The journal still has what the row said before. Each earlier saying that is narrower than the present one on
 * some side becomes a row of its own, of the same day and just before the present one: so whoever compares rows finds
 * that the limits were widened, and which readings were entered before that. What was corrected to be narrower judges all
 * readings anyway.
 */

typedef struct
{
  guint             lower; /* columns */
  guint             upper;
  BookEvidenceLimit at;    /* as it was before the actions looked at so far */
  gboolean          changed;
} Backwards;

static gboolean
step_back (const StoreRow *row, gpointer data)
{
  Backwards *back = data;
  const StoreValue *lower, *upper;

  if (row->op != STORE_UPDATE || back->upper >= row->n_columns)
    return TRUE;
  lower = &row->before[back->lower];
  upper = &row->before[back->upper];
  if (lower->type != STORE_UNCHANGED)
    back->at.lower = store_value_real (lower, -INFINITY);
  if (upper->type != STORE_UNCHANGED)
    back->at.upper = store_value_real (upper, INFINITY);
  back->changed |= lower->type != STORE_UNCHANGED || upper->type != STORE_UNCHANGED;
  return TRUE;
}

/* Puts @earlier in the place of row @i, which with all that follow moves on by one. */
static void
insert_limit (BookEvidence *e, guint i, const BookEvidenceLimit *earlier)
{
  book_loader_add (e, limits);
  memmove (&e->limits[i + 1], &e->limits[i], (e->n_limits - 1 - i) * sizeof e->limits[0]);
  e->limits[i] = *earlier;
}

/* How many rows were put before row @i. */
static gboolean
add_earlier (BookLoader *loader, guint i, guint *added, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_LIMIT);
  const BookEvidenceLimit now = loader->e->limits[i];
  Backwards back = { (guint) book_field_index (record, "lower") + 1, (guint) book_field_index (record, "upper") + 1, now, FALSE };
  StoreHistoryQuery query = { .table = store_db_find_table (loader->db, "limit"), .id = now.id };
  g_autoptr(GPtrArray) actions = NULL;
  gboolean may;

  *added = 0;
  if (!store_history_may_have_more (loader->db, query.table, now.id, &may, error))
    return FALSE;
  if (!may) /* mostly */
    return TRUE;
  actions = store_history_list (loader->db, &query, error);
  for (guint a = 0; actions != NULL && a + 1 < actions->len; a++) /* the oldest one made the row */
    {
      const StoreActionInfo *info = actions->pdata[a];

      back.changed = FALSE;
      if (info->erased) /* nothing is left to look at */
        break;
      if (!store_history_rows (loader->db, info->id, query.table, now.id, step_back, &back, error))
        return FALSE;
      if (!back.changed || !(now.lower < back.at.lower || now.upper > back.at.upper))
        continue;
      insert_limit (loader->e, i, &back.at);
      (*added)++;
    }
  return actions != NULL;
}

/* After the limits were read. */
gboolean
book_load_earlier_limits (BookLoader *loader, GError **error)
{
  for (guint i = 0; i < loader->e->n_limits; i++)
    {
      guint added;

      if (!add_earlier (loader, i, &added, error))
        return FALSE;
      i += added;
    }
  return TRUE;
}
