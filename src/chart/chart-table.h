/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A chart for those who do not see it, and for the clipboard: one sentence that sums it up, and its data as a table of
 * texts. Both are the caller's words; nothing here is computed from the drawing.
 */

#include "chart.h"

G_BEGIN_DECLS

/**
 * ChartTableColumn:
 * @head: of the column, translated
 * @figures: holds figures: right-aligned
 */
typedef struct
{
  const char *head;
  gboolean    figures;
} ChartTableColumn;

/**
 * ChartTableFill:
 * @chart: the chart whose table is asked for
 * @user_data: what was given to chart_table_set_fill()
 *
 * Adds the rows, by chart_table_add(), when somebody first asks for one of them.
 */
typedef void (*ChartTableFill) (Chart   *chart,
                                gpointer user_data);

void        chart_set_summary    (Chart                  *chart,
                                  const char             *sentence);
const char *chart_get_summary    (Chart                  *chart);

void        chart_table_begin    (Chart                  *chart,
                                  const ChartTableColumn *columns,
                                  guint                   n_columns);
void        chart_table_add      (Chart                  *chart,
                                  const char *const      *cells);
void        chart_table_set_fill (Chart                  *chart,
                                  ChartTableFill          fill,
                                  gpointer                user_data);

guint       chart_table_columns  (Chart                  *chart);
guint       chart_table_rows     (Chart                  *chart);
const char *chart_table_head     (Chart                  *chart,
                                  guint                   column);
gboolean    chart_table_figures  (Chart                  *chart,
                                  guint                   column);
const char *chart_table_cell     (Chart                  *chart,
                                  guint                   row,
                                  guint                   column);
char       *chart_table_tabs     (Chart                  *chart) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
