/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Widgets above the columns of a table, each as wide as its column, which scroll with it. */

#include "table.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_COLUMN_HEADS (fettle_column_heads_get_type ())
G_DECLARE_FINAL_TYPE (FettleColumnHeads, fettle_column_heads, FETTLE, COLUMN_HEADS, GtkWidget)

/* @adjustment: by which the table scrolls sideways. */
void fettle_column_heads_set_table (FettleColumnHeads *self,
                                    FettleTable       *table,
                                    GtkAdjustment     *adjustment);
void fettle_column_heads_clear     (FettleColumnHeads *self);
void fettle_column_heads_add       (FettleColumnHeads *self,
                                    guint              column,
                                    GtkWidget         *child);

G_END_DECLS
