/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows are numbers: the texts stay with the chart, and a cell asks for its own when it comes into view. So the table of
 * a hundred thousand readings costs what is seen of it.
 */
#include "config.h"

#include "data-table.h"

#include <glib/gi18n.h>

#include "chart-table.h"
#include "tip.h"

#define CELL_GAP 4

/* What a cell needs to know: which chart, which column. */
typedef struct
{
  Chart *chart;
  guint  column;
} Column;

static void
on_setup (GtkSignalListItemFactory *factory, GtkListItem *item, Column *column)
{
  gboolean figures = chart_table_figures (column->chart, column->column);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", figures ? 1.0f : 0.0f, "ellipsize", PANGO_ELLIPSIZE_END,
                                   "margin-start", CELL_GAP, "margin-end", CELL_GAP, NULL);

  if (figures)
    gtk_widget_add_css_class (label, "num");
  gtk_list_item_set_child (item, label);
}

static void
on_bind (GtkSignalListItemFactory *factory, GtkListItem *item, Column *column)
{
  const char *text = chart_table_cell (column->chart, gtk_list_item_get_position (item), column->column);
  GtkWidget *label = gtk_list_item_get_child (item);

  gtk_label_set_label (GTK_LABEL (label), text);
  fettle_tip_set (label, *text == '\0' ? NULL : text);
  /* Else a reader is told what kind of widget it is. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, *text == '\0' ? _("empty") : text, -1);
}

static void
free_column (gpointer column, GClosure *closure)
{
  g_free (column);
}

static void
add_column (GtkColumnView *view, Chart *chart, guint number, gboolean expand)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  Column *setup = g_new (Column, 1), *bind = g_new (Column, 1);
  g_autoptr(GtkColumnViewColumn) column = NULL;

  *setup = *bind = (Column){ chart, number };
  g_signal_connect_data (factory, "setup", G_CALLBACK (on_setup), setup, free_column, 0);
  g_signal_connect_data (factory, "bind", G_CALLBACK (on_bind), bind, free_column, 0);
  column = gtk_column_view_column_new (chart_table_head (chart, number), factory);
  gtk_column_view_column_set_expand (column, expand);
  gtk_column_view_column_set_resizable (column, TRUE);
  gtk_column_view_append_column (view, column);
}

/**
 * fettle_data_table_new:
 * @chart: a chart, which must outlive the table
 * @label: what it is, for a screen reader
 *
 * Returns: the table of @chart
 */
GtkWidget *
fettle_data_table_new (Chart *chart, const char *label)
{
  const guint n_rows = chart_table_rows (chart), n_columns = chart_table_columns (chart);
  g_autofree const char **rows = g_new0 (const char *, n_rows + 1);
  GtkWidget *view, *scrolled;

  for (guint i = 0; i < n_rows; i++)
    rows[i] = ""; /* only their number matters */
  view = gtk_column_view_new (GTK_SELECTION_MODEL (gtk_single_selection_new (G_LIST_MODEL (gtk_string_list_new (rows)))));
  gtk_widget_set_name (view, "chart-table");
  gtk_widget_add_css_class (view, "ledger");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  for (guint c = 0; c < n_columns; c++)
    add_column (GTK_COLUMN_VIEW (view), chart, c, c + 1 == n_columns && !chart_table_figures (chart, c));
  scrolled = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "child", view, "hexpand", TRUE, "vexpand", TRUE, "propagate-natural-height",
                           FALSE, NULL);
  return scrolled;
}
