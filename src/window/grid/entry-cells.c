/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of a round that is filled in: what stands there, typed or stored, how it is judged, and what is missing. */
#include "config.h"

#include "entry-source-private.h"

#include <math.h>
#include <stdio.h>

gboolean
fettle_entry_is_value (FettleEntrySource *self, guint row, guint column)
{
  return self->entry != NULL && column >= FETTLE_ENTRY_FROZEN && column - FETTLE_ENTRY_FROZEN < self->entry->n_columns
         && row < self->entry->n_units;
}

InsightEntryCell *
fettle_entry_cell_at (FettleEntrySource *self, guint row, guint column)
{
  return insight_entry_cell (self->entry, row, column - FETTLE_ENTRY_FROZEN);
}

InsightEntryColumn *
fettle_entry_column_at (FettleEntrySource *self, guint column)
{
  return &self->entry->columns[column - FETTLE_ENTRY_FROZEN];
}

/* By what the cell is about, not by its place: units may come while something is typed. */
char *
fettle_entry_draft_name (FettleEntrySource *self, guint row, guint column)
{
  return g_strdup_printf ("entry-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT "-%u-%u", self->entry->units[row].id,
                          fettle_entry_column_at (self, column)->id, self->entry->attempt, self->entry->repeat);
}

gboolean
fettle_entry_find_draft (FettleEntrySource *self, const char *name, guint *row, guint *column)
{
  gint64 unit, characteristic;
  guint attempt, repeat;

  if (self->entry == NULL || name == NULL
      || sscanf (name, "entry-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT "-%u-%u", &unit, &characteristic, &attempt, &repeat) != 4
      || attempt != self->entry->attempt || repeat != self->entry->repeat)
    return FALSE;
  for (*row = 0; *row < self->entry->n_units && self->entry->units[*row].id != unit; ++*row)
    ;
  for (*column = 0; *column < self->entry->n_columns && self->entry->columns[*column].id != characteristic; ++*column)
    ;
  *column += FETTLE_ENTRY_FROZEN;
  return fettle_entry_is_value (self, *row, *column);
}

const FettleEntryPending *
fettle_entry_pending_at (FettleEntrySource *self, guint row, guint column)
{
  g_autofree char *name = NULL;

  if (g_hash_table_size (self->pending) == 0) /* asked for with every cell that is drawn */
    return NULL;
  name = fettle_entry_draft_name (self, row, column);
  return g_hash_table_lookup (self->pending, name);
}

/* Whether somebody said that the value of a cell is right. */
static gboolean
is_right (FettleEntrySource *self, guint row, guint column)
{
  g_autofree char *name = g_hash_table_size (self->right) > 0 ? fettle_entry_draft_name (self, row, column) : NULL;

  return name != NULL && g_hash_table_contains (self->right, name);
}

/* What stands in a cell: typed and on its way, else in the book; FALSE: nothing. */
gboolean
fettle_entry_get_value (FettleEntrySource *self, guint row, guint column, BookMark *mark, double *value)
{
  const FettleEntryPending *pending = fettle_entry_pending_at (self, row, column);
  const InsightEntryCell *cell = fettle_entry_cell_at (self, row, column);

  *mark = pending != NULL ? pending->mark : cell->mark;
  *value = pending != NULL ? pending->value : cell->value;
  return pending != NULL || cell->reading != 0;
}

InsightEntryJudged
fettle_entry_judge (FettleEntrySource *self, guint row, guint column)
{
  BookMark mark;
  double value;

  return fettle_entry_get_value (self, row, column, &mark, &value) ? insight_entry_judge (fettle_entry_column_at (self, column), mark, value) : INSIGHT_ENTRY_EMPTY;
}

/* What may be meant instead of what stands in a cell; NAN: nothing is strange, or somebody said that it is right. */
double
fettle_entry_slip (FettleEntrySource *self, guint row, guint column)
{
  BookMark mark;
  double value;

  if (!fettle_entry_get_value (self, row, column, &mark, &value) || mark != BOOK_MARK_MEASURED || is_right (self, row, column))
    return (double) NAN;
  return insight_entry_slip (self->entry, row, column - FETTLE_ENTRY_FROZEN, value);
}

void
fettle_entry_pending_changed (FettleEntrySource *self)
{
  g_clear_pointer (&self->less, g_free);
}

/* Once for all cells that are drawn: a block of thousands may be on its way. */
static void
count_less (FettleEntrySource *self)
{
  GHashTableIter iter;
  gpointer draft;
  guint row, column;

  self->less = g_new0 (guint, 1 + self->entry->n_units + self->entry->n_columns);
  g_hash_table_iter_init (&iter, self->pending);
  while (g_hash_table_iter_next (&iter, &draft, NULL))
    if (fettle_entry_find_draft (self, draft, &row, &column) && fettle_entry_cell_at (self, row, column)->expected
        && fettle_entry_cell_at (self, row, column)->reading == 0)
      {
        self->less[0]++;
        self->less[1 + row]++;
        self->less[1 + self->entry->n_units + column - FETTLE_ENTRY_FROZEN]++;
      }
}

/* Cells that are missing and not on their way: of a row, of a column, or, with -1 for both, of all. */
guint
fettle_entry_count_missing (FettleEntrySource *self, int row, int column)
{
  if (self->less == NULL)
    count_less (self);
  if (row >= 0)
    return self->entry->units[row].missing - self->less[1 + row];
  if (column >= 0)
    return fettle_entry_column_at (self, (guint) column)->missing
           - self->less[1 + self->entry->n_units + (guint) column - FETTLE_ENTRY_FROZEN];
  return self->entry->missing - self->less[0];
}
