/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Records of one kind as the rows of a FettleTable, a field in each column, typed into cell by cell. Rows that are not in
 * the book yet are filled in like the others: as soon as every required field is there, the row is stored, as one deed.
 * What is typed and not stored is kept among the drafts, whatever becomes of the window.
 *
 * A reference is typed as people write it ('P2-04', an issue's number), a choice by its word or the beginning of it.
 */

#include "book-fields.h"
#include "sitting.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_RECORD_SOURCE (fettle_record_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleRecordSource, fettle_record_source, FETTLE, RECORD_SOURCE, GObject)

/**
 * FettleRecordSource::stored:
 * @key: of the record that a new row became
 */

/**
 * FettleRecordColumn:
 * @field: name in the description of the record; static
 * @letters: width in letters of an ordinary figure
 * @grows: takes what is left of the width (one column at most)
 * @least_width: of the table, below which the column is left out; 0: always shown
 * @fixed: is shown and cannot be typed into
 * @wanted: a new row is not stored before it holds something here, though the description does not require it
 */
typedef struct
{
  const char *field;
  guint       letters;
  gboolean    grows;
  int         least_width;
  gboolean    fixed;
  gboolean    wanted;
} FettleRecordColumn;

/**
 * FettleRecordRow:
 * @key: of the record; 0: not in the book yet
 * @name: (nullable): of a row that is not in the book: what its typing is kept by; "" for the last, empty row
 * @texts: by column: as book_edit_record() takes it
 * @shown: by column: as people read it
 * @refers: by column: key of what a reference refers to; 0: nothing
 */
typedef struct
{
  gint64  key;
  char   *name;
  char  **texts;
  char  **shown;
  gint64 *refers;
} FettleRecordRow;

FettleRecordRow    *fettle_record_row_new      (guint                     n_columns) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_record_row_free     (FettleRecordRow          *row);
GPtrArray          *fettle_record_rows_read    (StoreDb                  *db,
                                                BookRecordId              record,
                                                const FettleRecordColumn *columns,
                                                guint                     n_columns,
                                                const gint64             *keys,
                                                guint                     n_keys,
                                                GError                  **error) G_GNUC_WARN_UNUSED_RESULT;

FettleRecordSource *fettle_record_source_new   (FettleSitting            *sitting,
                                                BookRecordId              record,
                                                const FettleRecordColumn *columns,
                                                guint                     n_columns) G_GNUC_WARN_UNUSED_RESULT;
/* What references of new rows refer to; 0: nothing. */
void                fettle_record_source_refer (FettleRecordSource       *self,
                                                const char               *field,
                                                gint64                    key);
/* What stands in the cell of a new row until something else is typed; NULL: nothing. */
void                fettle_record_source_preset (FettleRecordSource      *self,
                                                const char               *field,
                                                const char               *text);
/* What a reference can mean: (transfer full) (element-type BookOption). What is typed is checked against these at once. */
void                fettle_record_source_offer (FettleRecordSource       *self,
                                                const char               *field,
                                                GPtrArray                *options);
void                fettle_record_source_take  (FettleRecordSource       *self,
                                                const char               *place,
                                                GPtrArray                *rows);
const BookRecord   *fettle_record_source_get_record (FettleRecordSource  *self);
gint64              fettle_record_source_get_key (FettleRecordSource     *self,
                                                guint                     row);
gint64              fettle_record_source_get_reference (FettleRecordSource *self,
                                                guint                     row,
                                                const char               *field);
char               *fettle_record_source_dup_words (FettleRecordSource   *self,
                                                guint                     row) G_GNUC_WARN_UNUSED_RESULT;
/* Whether something is typed here that is not stored. */
gboolean            fettle_record_source_has_typed (FettleRecordSource   *self);

G_END_DECLS
