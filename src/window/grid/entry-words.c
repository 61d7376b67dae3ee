/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said about a round that is filled in: notes, what is missing, warnings, and questions about slipped points. */
#include "config.h"

#include "entry-source-private.h"

#include <math.h>

#include "present-entry.h"

char *
fettle_entry_source_dup_note (FettleEntrySource *self, guint row, guint column)
{
  const FettleEntryPending *pending = fettle_entry_pending_at (self, row, column);
  const InsightEntryCell *cell = fettle_entry_cell_at (self, row, column);
  gint64 key = cell->reading != 0 ? cell->reading : cell->voided;
  const char *note = pending != NULL && pending->note != NULL ? pending->note : g_hash_table_lookup (self->notes, &key);

  return note != NULL && *note != '\0' ? g_strdup (note) : NULL;
}

char *
fettle_entry_source_dup_missing (FettleEntrySource *self, guint row, guint column)
{
  gboolean there = fettle_entry_is_value (self, row, column);

  return present_entry_missing (self->entry, fettle_entry_count_missing (self, -1, -1), there ? row : G_MAXUINT,
                                there ? fettle_entry_count_missing (self, (int) row, -1) : 0, there ? column - FETTLE_ENTRY_FROZEN : G_MAXUINT,
                                there ? fettle_entry_count_missing (self, -1, (int) column) : 0);
}

/* That readings by the gauge in use do not count; NULL: they do. */
char *
fettle_entry_source_dup_warning (FettleEntrySource *self, guint column)
{
  const InsightEntryColumn *one;
  int gauge;

  if (self->entry == NULL || column < FETTLE_ENTRY_FROZEN || column - FETTLE_ENTRY_FROZEN >= self->entry->n_columns)
    return NULL;
  one = fettle_entry_column_at (self, column);
  gauge = one->gauge;
  for (guint i = 0; self->gauge != 0 && one->kind == BOOK_CHARACTERISTIC_MEASURED && i < self->entry->n_gauges; i++)
    if (self->entry->gauges[i].id == self->gauge)
      gauge = (int) i;
  return gauge >= 0 ? present_entry_gauge (&self->entry->gauges[gauge]) : NULL;
}

/**
 * fettle_entry_source_dup_question:
 * @self: the round
 * @other: (out): the value that may be meant
 *
 * Returns: (transfer full) (nullable): the question about the value typed last that looks like a slip
 */
char *
fettle_entry_source_dup_question (FettleEntrySource *self, char **other)
{
  guint row, column;
  BookMark mark;
  double value, meant;

  if (!fettle_entry_find_draft (self, self->asked, &row, &column))
    return NULL;
  meant = fettle_entry_slip (self, row, column);
  if (isnan (meant))
    return NULL;
  fettle_entry_get_value (self, row, column, &mark, &value);
  *other = present_entry_value (fettle_entry_column_at (self, column), mark, meant);
  return present_entry_slip (self->entry, row, column - FETTLE_ENTRY_FROZEN, value, meant);
}

/**
 * fettle_entry_source_get_outside:
 * @self: the round
 * @row: of the table
 * @column: of the table
 * @waits: (out): whether there is one that is on its way to the book: ask again when rows have changed
 *
 * Returns: key of the reading in a cell that lies outside its limits, or of the check that failed; 0: there is none, or it waits
 */
gint64
fettle_entry_source_get_outside (FettleEntrySource *self, guint row, guint column, gboolean *waits)
{
  gint64 reading;

  *waits = FALSE;
  if (!fettle_entry_is_value (self, row, column) || fettle_entry_judge (self, row, column) < INSIGHT_ENTRY_ABOVE)
    return 0;
  reading = fettle_entry_cell_at (self, row, column)->reading; /* below 0: stored with others, its key is not read yet */
  *waits = reading <= 0 || fettle_entry_pending_at (self, row, column) != NULL;
  return *waits ? 0 : reading;
}

/* @right: the value is right as typed; else the other one is stored. */
void
fettle_entry_source_answer (FettleEntrySource *self, gboolean right)
{
  g_autofree char *draft = g_steal_pointer (&self->asked);
  guint row, column;

  if (fettle_entry_find_draft (self, draft, &row, &column))
    {
      g_autofree char *refused = NULL;
      double meant = fettle_entry_slip (self, row, column);

      if (right)
        g_hash_table_add (self->right, g_strdup (draft));
      else if (!isnan (meant))
        {
          g_autofree char *text = present_entry_value (fettle_entry_column_at (self, column), BOOK_MARK_MEASURED, meant);

          refused = fettle_entry_commit (FETTLE_TABLE_SOURCE (self), row, column, text);
        }
    }
  g_signal_emit_by_name (self, "asked");
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
}
