/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a FettleTable shows: rows that are asked for only when they come into view, and cells that may be edited.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_TABLE_SOURCE (fettle_table_source_get_type ())
G_DECLARE_INTERFACE (FettleTableSource, fettle_table_source, FETTLE, TABLE_SOURCE, GObject)

/**
 * FettleTableColumn:
 * @title: translated heading
 * @letters: width in letters of an ordinary figure
 * @number: right-aligned, tabular figures
 * @grows: takes what is left of the width (one column at most)
 * @least_width: of the table, in pixels, below which the column is left out; 0: always shown
 */
typedef struct
{
  const char *title;
  guint       letters;
  gboolean    number;
  gboolean    grows;
  int         least_width;
} FettleTableColumn;

/**
 * FettleTableTone:
 * @FETTLE_TONE_INK: as ordinary text
 * @FETTLE_TONE_FAINT: of lesser weight: no longer counts
 * @FETTLE_TONE_OPEN: needs a person
 * @FETTLE_TONE_STRUCK: struck through: voided
 * @FETTLE_TONE_TYPED: underlined: typed and not stored, because it could not be or because nobody said so yet
 */
typedef enum
{
  FETTLE_TONE_INK,
  FETTLE_TONE_FAINT,
  FETTLE_TONE_OPEN,
  FETTLE_TONE_STRUCK,
  FETTLE_TONE_TYPED
} FettleTableTone;

/**
 * FettleTableSourceInterface:
 * @columns: the columns; they change only with a reset
 * @n_rows: how many rows there are
 * @dup_text: text of a cell; called for visible cells only. @pending says that what was typed is not confirmed yet
 * @editable: whether a cell can be typed into
 * @commit: takes what was typed; %NULL, or the sentence why it cannot be taken
 * @describe: a row and one of its cells in words, for those who do not see it
 * @get_key: (nullable): what a row is known by when others come and go; never 0. %NULL: rows stay where they are
 * @find: (nullable): where the row of a key stands; goes with @get_key
 * @keep_typed: (nullable): what stands in a cell and is not stored yet, at each keystroke; %NULL: nothing, it was taken
 *   back. A source that keeps it gives it back when the cell is typed into again
 * @dup_typed: (nullable): what @keep_typed kept; %NULL: nothing
 * @dup_mark: (nullable): a sign that stands before the words of a cell, so that nothing is told by colour alone; %NULL: none
 * @dup_edit: (nullable): what is typed into a cell at first; %NULL: as @dup_text
 * @head_note: (nullable): a line below the heading of a column, "" for none; valid until it is asked again; %NULL in the
 *   first column when this one has no such lines
 * @n_head_notes: how many such lines there are
 * @put: (nullable): takes a block at once, as one deed: @texts row by row, %NULL where a cell is left alone. %NULL, or the
 *   sentence what was not taken
 * @clear: (nullable): empties a block of cells as the rules want it; %NULL, or the sentence why not
 *
 * FettleTableSource::reset says that rows came or went; ::rows-changed that the texts of rows did.
 */
struct _FettleTableSourceInterface
{
  GTypeInterface parent_iface;

  const FettleTableColumn *(*columns) (FettleTableSource *self, guint *n_columns);
  guint                    (*n_rows) (FettleTableSource *self);
  char                    *(*dup_text) (FettleTableSource *self,
                                        guint              row,
                                        guint              column,
                                        FettleTableTone   *tone,
                                        gboolean          *pending);
  gboolean                 (*editable) (FettleTableSource *self, guint row, guint column);
  char                    *(*commit) (FettleTableSource *self, guint row, guint column, const char *text);
  char                    *(*describe) (FettleTableSource *self, guint row, guint column);
  gint64                   (*get_key) (FettleTableSource *self, guint row);
  gboolean                 (*find) (FettleTableSource *self, gint64 key, guint *row);
  void                     (*keep_typed) (FettleTableSource *self, gint64 key, guint column, const char *text);
  char                    *(*dup_typed) (FettleTableSource *self, gint64 key, guint column);
  char                    *(*dup_mark) (FettleTableSource *self, guint row, guint column);
  char                    *(*dup_edit) (FettleTableSource *self, guint row, guint column);
  const char              *(*head_note) (FettleTableSource *self, guint column, guint line);
  guint                      n_head_notes;
  char                    *(*put) (FettleTableSource  *self,
                                   guint               row,
                                   guint               column,
                                   const char *const  *texts,
                                   guint               n_rows,
                                   guint               n_columns);
  char                    *(*clear) (FettleTableSource *self, guint row, guint column, guint n_rows, guint n_columns);
};

const FettleTableColumn *fettle_table_source_columns      (FettleTableSource *self,
                                                           guint             *n_columns);
guint                    fettle_table_source_n_rows       (FettleTableSource *self);
char                    *fettle_table_source_dup_text     (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column,
                                                           FettleTableTone   *tone,
                                                           gboolean          *pending) G_GNUC_WARN_UNUSED_RESULT;
gboolean                 fettle_table_source_editable     (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column);
char                    *fettle_table_source_commit       (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column,
                                                           const char        *text) G_GNUC_WARN_UNUSED_RESULT;
char                    *fettle_table_source_describe     (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column) G_GNUC_WARN_UNUSED_RESULT;
gint64                   fettle_table_source_get_key      (FettleTableSource *self,
                                                           guint              row);
gboolean                 fettle_table_source_find         (FettleTableSource *self,
                                                           gint64             key,
                                                           guint             *row);
void                     fettle_table_source_keep_typed   (FettleTableSource *self,
                                                           gint64             key,
                                                           guint              column,
                                                           const char        *text);
char                    *fettle_table_source_dup_typed    (FettleTableSource *self,
                                                           gint64             key,
                                                           guint              column) G_GNUC_WARN_UNUSED_RESULT;
char                    *fettle_table_source_dup_mark     (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column) G_GNUC_WARN_UNUSED_RESULT;
char                    *fettle_table_source_dup_edit     (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column) G_GNUC_WARN_UNUSED_RESULT;
guint                    fettle_table_source_n_head_notes (FettleTableSource *self);
const char              *fettle_table_source_head_note    (FettleTableSource *self,
                                                           guint              column,
                                                           guint              line);
char                    *fettle_table_source_put          (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column,
                                                           const char *const *texts,
                                                           guint              n_rows,
                                                           guint              n_columns) G_GNUC_WARN_UNUSED_RESULT;
char                    *fettle_table_source_clear        (FettleTableSource *self,
                                                           guint              row,
                                                           guint              column,
                                                           guint              n_rows,
                                                           guint              n_columns) G_GNUC_WARN_UNUSED_RESULT;
void                     fettle_table_source_reset        (FettleTableSource *self);
void                     fettle_table_source_rows_changed (FettleTableSource *self);

G_END_DECLS
