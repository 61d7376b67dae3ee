/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history.h"

#include <string.h>

#include "book-history-private.h"

/*
 * Taps of a tally are stored one by one, so that none is lost and the last one can be taken back; who reads the journal
 * afterwards reads of one visit to the bench. Only what stands next to one another, was done in one sitting by one person
 * and counts at the same row is told as one.
 */

static gboolean
is_blame (const BookHistoryAction *action)
{
  return g_str_equal (action->message, "tally-blamed");
}

static gboolean
is_tap (const BookHistoryAction *action)
{
  return action->kind == STORE_DO && !action->undone && !action->erased && action->sitting != 0
         && g_str_has_prefix (action->message, "tally-");
}

static gboolean
goes_on (const BookHistoryAction *action, const BookHistoryAction *first, gint64 row)
{
  return is_tap (action) && action->sitting == first->sitting && g_strcmp0 (action->person, first->person) == 0
         && (is_blame (action) || row == 0 || action->about == row);
}

static void
tell_as_one (StoreDb *db, GPtrArray *actions, guint from, guint n, gint64 row)
{
  BookHistoryAction *newest = g_ptr_array_index (actions, from);
  GVariantBuilder builder;
  g_autoptr(GVariant) arguments = NULL;

  newest->visit = g_array_sized_new (FALSE, FALSE, sizeof (gint64), n);
  for (guint i = 0; i < n; i++)
    g_array_append_val (newest->visit, ((BookHistoryAction *) g_ptr_array_index (actions, from + i))->id);
  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", "tally", row);
  g_variant_builder_add (&builder, "(sx)", "count", (gint64) n);
  arguments = g_variant_ref_sink (g_variant_builder_end (&builder));
  g_free (newest->sentence);
  newest->sentence = book_message_text (db, BOOK_MESSAGE_TAPS, arguments);
  g_ptr_array_remove_range (actions, from + 1, n - 1);
}

/**
 * book_history_gather:
 * @db: any connection
 * @actions: (element-type BookHistoryAction): from book_history_list()
 *
 * Tells the taps of one visit as one action, named by the newest of them; where they are cut off by how many were asked
 * for, those that are there.
 */
void
book_history_gather (StoreDb *db, GPtrArray *actions)
{
  for (guint i = 0; i < actions->len; i++)
    {
      const BookHistoryAction *first = g_ptr_array_index (actions, i);
      gint64 row = 0;
      guint n = 0;

      if (!is_tap (first))
        continue;
      for (; i + n < actions->len && goes_on (g_ptr_array_index (actions, i + n), first, row); n++)
        if (row == 0 && !is_blame (g_ptr_array_index (actions, i + n)))
          row = ((const BookHistoryAction *) g_ptr_array_index (actions, i + n))->about;
      if (n > 1 && row != 0)
        tell_as_one (db, actions, i, n, row);
    }
}

/* What one action changed further, and what it changed anew. */
static void
add_up (GPtrArray *lines, GPtrArray *further)
{
  for (guint i = 0; i < further->len; i++)
    {
      BookHistoryLine *line = g_ptr_array_index (further, i);
      gboolean found = FALSE;

      for (guint k = 0; k < lines->len && !found; k++)
        {
          BookHistoryLine *before = g_ptr_array_index (lines, k);

          found = before->record == line->record && before->id == line->id && before->field == line->field;
          if (found)
            {
              g_free (before->after);
              before->after = g_steal_pointer (&line->after);
            }
        }
      if (!found)
        {
          g_ptr_array_add (lines, line);
          further->pdata[i] = NULL;
        }
    }
}

static guint64
count_records (GPtrArray *lines)
{
  g_autoptr(GHashTable) ids = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < lines->len; i++)
    g_hash_table_add (ids, &((BookHistoryLine *) g_ptr_array_index (lines, i))->id);
  return g_hash_table_size (ids);
}

/**
 * book_history_lines_of_visit:
 * @db: any connection
 * @visit: (element-type gint64): keys of actions, newest first, as book_history_gather() found them
 * @record: (nullable): only rows of this kind; %NULL: all
 * @id: with @record, only this row; 0: all
 * @most_records: of how many records of one action the fields are told
 * @n_records: (out): how many records they changed
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookHistoryLine) (nullable): what they changed together, from before the first to
 *   after the last
 */
GPtrArray *
book_history_lines_of_visit (StoreDb *db, GArray *visit, const BookRecord *record, gint64 id, guint most_records, guint64 *n_records,
                             GError **error)
{
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);

  for (guint i = visit->len; i > 0; i--)
    {
      g_autoptr(GPtrArray) further = book_history_lines (db, g_array_index (visit, gint64, i - 1), record, id, most_records,
                                                         most_records + 1, NULL, error);

      if (further == NULL)
        return NULL;
      add_up (lines, further);
    }
  *n_records = count_records (lines);
  return g_steal_pointer (&lines);
}
