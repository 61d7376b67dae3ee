/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of FettleRecordSource that its files share: the table (record-source.c), reading what is typed
 * (record-source-read.c), storing it and keeping it meanwhile (record-source-store.c).
 */

#include "drafts.h"
#include "record-source.h"

G_BEGIN_DECLS

/*
 * Typing lives in the drafts alone, under the name of the row and the field: 'typed' is what stands in a cell and was not
 * finished, 'new' a finished cell of a row that is not in the book yet.
 */

struct _FettleRecordSource
{
  GObject parent_instance;

  FettleSitting      *sitting;
  FettleDrafts       *drafts;
  const BookRecord   *record;
  FettleRecordColumn *shapes;
  FettleTableColumn  *columns;
  const BookField   **fields;
  guint               n_columns;
  GPtrArray          *rows;    /* FettleRecordRow */
  char               *place;   /* which rows are shown, for the names of drafts */
  GHashTable         *pending; /* draft of a cell -> text that the writer has */
  GHashTable         *storing; /* names of new rows that the writer has */
  GHashTable         *refers;  /* field -> key, for new rows */
  GHashTable         *presets; /* field -> text, likewise */
  GHashTable         *offers;  /* field -> GPtrArray of BookOption */
};

/* The text that the book reads; NULL with a sentence in @refused. */
char       *fettle_record_read_cell     (FettleRecordSource    *self,
                                         guint                  column,
                                         const char            *text,
                                         char                 **refused) G_GNUC_WARN_UNUSED_RESULT;
char       *fettle_record_shown_text    (FettleRecordSource    *self,
                                         guint                  column,
                                         const char            *text) G_GNUC_WARN_UNUSED_RESULT;

char       *fettle_record_draft_name    (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         const char            *stage,
                                         guint                  column) G_GNUC_WARN_UNUSED_RESULT;
const char *fettle_record_kept          (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         const char            *stage,
                                         guint                  column);
void        fettle_record_keep          (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         const char            *stage,
                                         guint                  column,
                                         const char            *text);
const char *fettle_record_new_text      (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         guint                  column);
void        fettle_record_commit_new    (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         guint                  column,
                                         const char            *text);
void        fettle_record_commit_stored (FettleRecordSource    *self,
                                         const FettleRecordRow *row,
                                         guint                  column,
                                         const char            *text);

G_END_DECLS
