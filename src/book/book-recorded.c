/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-recorded.h"

#include "store-past.h"

#include <glib/gi18n-lib.h>

static void
clear_round (gpointer data)
{
  if (data != NULL)
    book_evidence_free (data);
}

void
book_recorded_free (BookRecorded *recorded)
{
  if (recorded == NULL)
    return;

  g_ptr_array_unref (recorded->rounds);
  g_free (recorded);
}

static gboolean
has_round (StoreDb *db, gint64 round, gboolean *has, GError **error)
{
  static const char sql[] = "SELECT 1 FROM round WHERE id = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gint64 one;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, round);
  return store_db_ask_integer (db, statement, _("The evidence could not be read"), has, &one, error);
}

static int
compare_rounds (gconstpointer a, gconstpointer b, gpointer data)
{
  const BookEvidence *e = data;
  BookDay x = e->rounds[*(const guint *) a].decided, y = e->rounds[*(const guint *) b].decided;

  return (x > y) - (x < y);
}

static gboolean
tell_until (StorePast *past, const BookEvidenceRound *last, StoreProgress progress, gpointer progress_data, GError **error)
{
  g_autofree char *day = book_day_format (last->decided);

  return store_past_tell (past, day, progress, progress_data, error);
}

/**
 * book_recorded_load:
 * @db: a reader's connection, in one transaction
 * @evidence: of the model, read in it
 * @today: ISO 8601 date: of rounds decided later nothing is made
 * @most: bytes of changesets up to which the journal is replayed; G_MAXINT64: whatever it takes
 * @progress: (nullable): told how far it is, in the calling thread, out of @total, never going back
 * @progress_data: for @progress
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * The journal is gone through once, and stops at the end of each day on which a round was decided.
 *
 * Returns: (transfer full) (nullable): the records of then; %G_IO_ERROR_CANCELLED
 */
BookRecorded *
book_recorded_load (StoreDb *db, const BookEvidence *evidence, const char *today, gint64 most, StoreProgress progress,
                    gpointer progress_data, GCancellable *cancellable, GError **error)
{
  g_autoptr(BookRecorded) recorded = g_new0 (BookRecorded, 1);
  g_autoptr(GArray) order = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr(StorePast) past = NULL;
  BookDay end = book_day_parse (today, NULL);
  gint64 bytes;

  recorded->rounds = g_ptr_array_new_with_free_func (clear_round);
  g_ptr_array_set_size (recorded->rounds, (int) evidence->n_rounds);
  for (guint r = 0; r < evidence->n_rounds; r++)
    if (evidence->rounds[r].decided != 0 && evidence->rounds[r].decided <= end)
      g_array_append_val (order, r);
  g_array_sort_with_data (order, compare_rounds, (gpointer) evidence);
  if (!store_past_size (db, &bytes, error))
    return NULL;
  recorded->too_long = bytes > most;
  if (order->len == 0 || recorded->too_long)
    return g_steal_pointer (&recorded);

  past = store_past_new (db, error);
  if (past == NULL || !tell_until (past, &evidence->rounds[g_array_index (order, guint, order->len - 1)], progress, progress_data, error))
    return NULL;
  for (guint i = 0; i < order->len; i++)
    {
      const BookEvidenceRound *round = &evidence->rounds[g_array_index (order, guint, i)];
      g_autofree char *day = book_day_format (round->decided);
      gboolean has = FALSE;
      StoreDb *then;

      if (!store_past_forward (past, day, &then, cancellable, error) || (then != NULL && !has_round (then, round->id, &has, error)))
        return NULL;
      if (!has)
        continue;
      recorded->rounds->pdata[g_array_index (order, guint, i)] = book_evidence_load (then, evidence->model_id, error);
      if (recorded->rounds->pdata[g_array_index (order, guint, i)] == NULL)
        return NULL;
    }
  return g_steal_pointer (&recorded);
}
