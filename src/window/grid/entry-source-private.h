/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the files of the round that is filled in share: its cells (entry-cells.c), storing and voiding (entry-store.c), the
 * table (entry-source.c), and what is said about it (entry-words.c). Rows and columns are those of the table.
 */

#include "entry-source.h"

#include "book-edit.h"

G_BEGIN_DECLS

/* What was typed into a cell and is with the writer. */
typedef struct
{
  BookMark mark;
  double   value;
  char    *note;
  char    *text; /* all of it, as it was typed */
} FettleEntryPending;

struct _FettleEntrySource
{
  GObject parent_instance;

  FettleSitting     *sitting;
  FettleDrafts      *drafts;
  InsightEntry      *entry; /* NULL until something is shown */
  GHashTable        *notes; /* key of a reading -> its note */
  FettleTableColumn *columns;
  char             **titles;
  char             **limits; /* second line of the heading */
  char              *counted; /* third line, of the column asked for last */
  GHashTable        *pending; /* draft name -> FettleEntryPending */
  guint             *less;    /* of what is missing, what is on its way: of all, then by unit, then by characteristic; NULL: not counted */
  GHashTable        *right;   /* draft names of values that somebody said are right */
  FettleVisit       *visit;   /* the sitting's */
  gint64             gauge;   /* other than the usual one; 0 */
  char              *asked;   /* draft name of the cell that a question is about; NULL */
};

/* entry-cells.c */
gboolean fettle_entry_is_value (FettleEntrySource *self, guint row, guint column);
InsightEntryCell *fettle_entry_cell_at (FettleEntrySource *self, guint row, guint column);
InsightEntryColumn *fettle_entry_column_at (FettleEntrySource *self, guint column);
char *fettle_entry_draft_name (FettleEntrySource *self, guint row, guint column);
gboolean fettle_entry_find_draft (FettleEntrySource *self, const char *name, guint *row, guint *column);
const FettleEntryPending *fettle_entry_pending_at (FettleEntrySource *self, guint row, guint column);
gboolean fettle_entry_get_value (FettleEntrySource *self, guint row, guint column, BookMark *mark, double *value);
InsightEntryJudged fettle_entry_judge (FettleEntrySource *self, guint row, guint column);
double fettle_entry_slip (FettleEntrySource *self, guint row, guint column);
void fettle_entry_pending_changed (FettleEntrySource *self);
guint fettle_entry_count_missing (FettleEntrySource *self, int row, int column);

/* entry-store.c: as FettleTableSourceInterface has them. */
char *fettle_entry_commit (FettleTableSource *source, guint row, guint column, const char *text);
char *fettle_entry_put (FettleTableSource *source, guint row, guint column, const char *const *texts, guint n_rows, guint n_columns);
char *fettle_entry_clear (FettleTableSource *source, guint row, guint column, guint n_rows, guint n_columns);

G_END_DECLS
