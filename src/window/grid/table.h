/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table of any length with one cell that can be typed into: only what is in view is asked for and drawn.
 *
 * Keys: arrows, Page Up and Down, Home and End move; typing, F2 or Enter begins to edit the current cell, or the first of
 * its row that can be edited; Enter stores and goes down, Shift+Enter up, Tab right, Shift+Tab left, Escape takes back;
 * Ctrl+C copies the row; Tab leaves the table, Ctrl+Tab also while a cell is typed into.
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
 * FettleTable::refused:
 * @sentence: (nullable): why what was typed cannot be taken; %NULL: the matter is settled
 */

GtkWidget *fettle_table_new        (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_table_set_source (FettleTable       *self,
                                    FettleTableSource *source);
void       fettle_table_set_placeholder (FettleTable  *self,
                                         const char   *words);
gboolean   fettle_table_get_row    (FettleTable       *self,
                                    guint             *row);
void       fettle_table_go         (FettleTable       *self,
                                    guint              row);
void       fettle_table_go_to_cell (FettleTable       *self,
                                    guint              row,
                                    guint              column);
void       fettle_table_edit       (FettleTable       *self);
gboolean   fettle_table_is_editing (FettleTable       *self);
gboolean   fettle_table_finish     (FettleTable       *self);

G_END_DECLS
