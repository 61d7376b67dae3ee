/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A way is a text of steps, outermost first, one a line: place among the siblings of that name, whether it is a row that was
 * selected, name. A name is the last, since it may hold anything but the end of a line.
 */
#include "config.h"

#include "way.h"

#include <string.h>

/**
 * fettle_way_name:
 * @record: name of a record type
 * @key: of the record
 *
 * Returns: (transfer full): a name for gtk_widget_set_name(), the same for the same record
 */
char *
fettle_way_name (const char *record, gint64 key)
{
  return g_strdup_printf ("%s %" G_GINT64_FORMAT, record, key);
}

static gboolean
is_selected_row (GtkWidget *widget)
{
  return GTK_IS_LIST_BOX_ROW (widget) && gtk_list_box_row_is_selected (GTK_LIST_BOX_ROW (widget));
}

/**
 * fettle_way_new:
 * @root: a widget
 * @widget: one within it
 *
 * Returns: (transfer full) (nullable): the way from @root to @widget; %NULL: there is none
 */
char *
fettle_way_new (GtkWidget *root, GtkWidget *widget)
{
  g_autoptr(GString) way = g_string_new (NULL);

  g_return_val_if_fail (GTK_IS_WIDGET (root), NULL);

  for (; widget != NULL && widget != root; widget = gtk_widget_get_parent (widget))
    {
      const char *name = gtk_widget_get_name (widget);
      g_autofree char *step = NULL;
      guint at = 0;

      for (GtkWidget *before = widget; (before = gtk_widget_get_prev_sibling (before)) != NULL;)
        at += g_str_equal (gtk_widget_get_name (before), name);
      step = g_strdup_printf ("%u %d %s\n", at, is_selected_row (widget), name);
      g_string_prepend (way, step);
    }
  return widget == root ? g_string_free (g_steal_pointer (&way), FALSE) : NULL;
}

static GtkWidget *
find_child (GtkWidget *parent, const char *name, guint at)
{
  for (GtkWidget *child = gtk_widget_get_first_child (parent); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (g_str_equal (gtk_widget_get_name (child), name) && at-- == 0)
      return child;
  return NULL;
}

/**
 * fettle_way_find:
 * @root: a widget
 * @way: from fettle_way_new()
 *
 * Goes the way. A row that was selected is so again, which brings back what it shows below its cells.
 *
 * Returns: (transfer none) (nullable): what stands at the end of @way now; %NULL: it leads nowhere any more
 */
GtkWidget *
fettle_way_find (GtkWidget *root, const char *way)
{
  g_auto(GStrv) steps = g_strsplit (way, "\n", -1);
  GtkWidget *widget = root;

  g_return_val_if_fail (GTK_IS_WIDGET (root), NULL);

  for (guint i = 0; widget != NULL && *steps[i] != '\0'; i++)
    {
      char *selected, *name;
      guint at = (guint) g_ascii_strtoull (steps[i], &selected, 10);

      name = strchr (selected + 1, ' ') + 1;
      widget = find_child (widget, name, at);
      if (widget != NULL && selected[1] == '1' && !is_selected_row (widget) && GTK_IS_LIST_BOX (gtk_widget_get_parent (widget)))
        gtk_list_box_select_row (GTK_LIST_BOX (gtk_widget_get_parent (widget)), GTK_LIST_BOX_ROW (widget));
    }
  return widget;
}
