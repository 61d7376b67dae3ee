/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table of any length with one cell that can be typed into: only what is in view is asked for and drawn.
 *
 * Keys: arrows, Page Up and Down, Home and End move; typing, F2 or Enter begins to edit the current cell, or the first of
 * its row that can be edited; Enter stores and goes down, Shift+Enter up, Tab right, Shift+Tab left, Escape takes back;
 * Ctrl+C copies the row; Tab leaves the table, Ctrl+Tab also while a cell is typed into.
 *
 * As a grid (fettle_table_set_grid()) it is filled in cell by cell, as a caliper or a tester types: a value and Enter goes
 * down, or right by a switch, and from the end of a column to the top of the next. Arrows move between cells, with Shift
 * they select, with Ctrl they go to the edge; Home and End go along the row, with Ctrl to the first and the last cell; Tab
 * goes right and on to the next row, and leaves at the last cell, Ctrl+Tab anywhere. Typing writes over, F2 mends, Delete
 * empties, Ctrl+C and Ctrl+V copy and paste a block as spreadsheets do, Ctrl+D fills the selection down from its first row,
 * Ctrl+Enter puts what is typed into all that is selected.
 */

#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_TABLE (fettle_table_get_type ())
G_DECLARE_FINAL_TYPE (FettleTable, fettle_table, FETTLE, TABLE, GtkWidget)

/**
 * FettleTable::moved:
 * @row: the row now current
 *
 * The current row is another one, or was asked for again.
 */

/**
 * FettleTable::left:
 *
 * The keyboard went from the table, or a cell of it, to another widget of the window.
 */

/**
 * FettleTable::refused:
 * @sentence: (nullable): why what was typed cannot be taken; %NULL: the matter is settled
 */

GtkWidget *fettle_table_new        (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_table_set_source (FettleTable       *self,
                                    FettleTableSource *source);
FettleTableSource *fettle_table_get_source (FettleTable *self); /* (nullable) */
void       fettle_table_set_placeholder (FettleTable  *self,
                                         const char   *words);
/* The row drawn at this height of the table; FALSE: none. */
gboolean   fettle_table_row_at     (FettleTable       *self,
                                    double             y,
                                    guint             *row);
gboolean   fettle_table_get_row    (FettleTable       *self,
                                    guint             *row);
void       fettle_table_go         (FettleTable       *self,
                                    guint              row);
void       fettle_table_go_to_cell (FettleTable       *self,
                                    guint              row,
                                    guint              column);
void       fettle_table_set_grid   (FettleTable       *self,
                                    guint              n_frozen);
void       fettle_table_set_rightward (FettleTable    *self,
                                    gboolean           rightward);
gboolean   fettle_table_get_cell   (FettleTable       *self,
                                    guint             *row,
                                    guint             *column);
void       fettle_table_get_block  (FettleTable       *self,
                                    guint             *row,
                                    guint             *column,
                                    guint             *n_rows,
                                    guint             *n_columns);
void       fettle_table_paste_text (FettleTable       *self,
                                    const char        *text);
void       fettle_table_edit       (FettleTable       *self);
gboolean   fettle_table_is_editing (FettleTable       *self);
gboolean   fettle_table_finish     (FettleTable       *self);

G_END_DECLS
