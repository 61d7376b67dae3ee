/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The parts of FettleTable that its files share: where cells lie (table-draw.c) and how they are drawn. */

#include "table.h"

G_BEGIN_DECLS

#define TABLE_ROW_HEIGHT 30
#define TABLE_HEAD_HEIGHT 30

struct _FettleTable
{
  GtkWidget parent_instance;

  GtkAdjustment    *hadjustment;
  GtkAdjustment    *vadjustment;
  GtkScrollablePolicy hpolicy;
  GtkScrollablePolicy vpolicy;

  FettleTableSource *source;
  GtkWidget         *text; /* GtkText, shown while a cell is typed into */
  gboolean           editing;
  guint              row;
  guint              column;
  int                letter; /* width of a figure, in pixels */
};

guint    fettle_table_n_rows      (FettleTable  *self);
double   fettle_table_scrolled    (FettleTable  *self);
gboolean fettle_table_column_shown (FettleTable *self,
                                   guint         column);
int      fettle_table_content_width (FettleTable *self);
void     fettle_table_place_column (FettleTable *self,
                                   guint         column,
                                   int          *left,
                                   int          *width);
void     fettle_table_place_cell  (FettleTable  *self,
                                   guint         row,
                                   guint         column,
                                   GdkRectangle *place);
void     fettle_table_draw        (FettleTable  *self,
                                   GtkSnapshot  *snapshot);

G_END_DECLS
