/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "choice.h"

#include <glib/gi18n.h>

static void
set_label (GtkWidget *widget, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static GtkWidget *
find_inside (GtkWidget *widget, GType type)
{
  GtkWidget *found = NULL;

  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_inside (child, type);
  return found;
}

/* The button inside has the focus: it tells what is chosen. */
static void
on_selected (GtkDropDown *choice, GParamSpec *spec, char *label)
{
  GtkWidget *button = find_inside (GTK_WIDGET (choice), GTK_TYPE_TOGGLE_BUTTON);
  GObject *item = gtk_drop_down_get_selected_item (choice);
  g_autofree char *words = NULL;

  if (button == NULL)
    return;
  if (GTK_IS_STRING_OBJECT (item))
    /* Translators: name of a control and what is chosen in it: 'Characteristic: Opening force' */
    words = g_strdup_printf (_("%s: %s"), label, gtk_string_object_get_string (GTK_STRING_OBJECT (item)));
  set_label (button, words != NULL ? words : label);
}

static void
free_label (gpointer label, GClosure *closure)
{
  g_free (label);
}

static void
focus_search (gpointer data)
{
  g_autoptr(GtkWidget) search = data;

  if (gtk_widget_get_mapped (search))
    gtk_widget_grab_focus (search);
}

/* The list takes the focus while it opens; typing is meant for the search. */
static void
on_search_mapped (GtkWidget *search)
{
  g_idle_add_once (focus_search, g_object_ref (search));
}

/**
 * fettle_choice_set_up:
 * @choice: a drop-down of strings
 * @label: what is chosen with it
 *
 * Names the drop-down, the button inside it with what is chosen, and the entry in which its list is searched; that has
 * the focus when the list opens.
 */
void
fettle_choice_set_up (GtkDropDown *choice, const char *label)
{
  GtkWidget *search = find_inside (GTK_WIDGET (choice), GTK_TYPE_SEARCH_ENTRY);
  char *kept = g_strdup (label);

  g_return_if_fail (GTK_IS_DROP_DOWN (choice));

  set_label (GTK_WIDGET (choice), label);
  if (search != NULL)
    {
      set_label (search, _("Find in the list"));
      g_signal_connect (search, "map", G_CALLBACK (on_search_mapped), NULL);
    }
  g_signal_connect_data (choice, "notify::selected-item", G_CALLBACK (on_selected), kept, free_label, 0);
  on_selected (choice, NULL, kept);
}

/* Of nothing nothing can be chosen: GTK would show '(None)'. What a page hides for its own reasons stays hidden. */
static void
hide_empty (GtkDropDown *choice)
{
  static const char hidden[] = "hidden while empty";
  GListModel *names = gtk_drop_down_get_model (choice);
  gboolean is_empty = names == NULL || g_list_model_get_n_items (names) == 0;

  if (is_empty && gtk_widget_get_visible (GTK_WIDGET (choice)))
    {
      gtk_widget_set_visible (GTK_WIDGET (choice), FALSE);
      g_object_set_data (G_OBJECT (choice), hidden, choice);
    }
  else if (!is_empty && g_object_steal_data (G_OBJECT (choice), hidden) != NULL)
    gtk_widget_set_visible (GTK_WIDGET (choice), TRUE);
}

/**
 * fettle_choice_set_names:
 * @choice: a drop-down that is searched
 * @names: a #GtkStringList
 *
 * Shows other names, which are found by any part of them: the filter that GTK 4.8 makes knows beginnings only.
 */
void
fettle_choice_set_names (GtkDropDown *choice, GListModel *names)
{
  g_autoptr(GtkExpression) string = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");
  GtkWidget *list = find_inside (GTK_WIDGET (choice), GTK_TYPE_LIST_VIEW);
  GListModel *model;
  GtkWidget *search = find_inside (GTK_WIDGET (choice), GTK_TYPE_SEARCH_ENTRY);
  GtkFilter *filter = NULL;

  g_return_if_fail (GTK_IS_DROP_DOWN (choice));

  gtk_drop_down_set_expression (choice, string);
  gtk_drop_down_set_model (choice, names);
  hide_empty (choice);
  model = list != NULL ? G_LIST_MODEL (gtk_list_view_get_model (GTK_LIST_VIEW (list))) : NULL;
  if (GTK_IS_SINGLE_SELECTION (model))
    model = gtk_single_selection_get_model (GTK_SINGLE_SELECTION (model));
  if (GTK_IS_FILTER_LIST_MODEL (model))
    filter = gtk_filter_list_model_get_filter (GTK_FILTER_LIST_MODEL (model));
  if (!GTK_IS_STRING_FILTER (filter))
    return;
  gtk_string_filter_set_match_mode (GTK_STRING_FILTER (filter), GTK_STRING_FILTER_MATCH_MODE_SUBSTRING);
  if (search != NULL)
    gtk_search_entry_set_search_delay (GTK_SEARCH_ENTRY (search), 0); /* names are few; without a filter GTK would complain */
}

/* A list that is open stays so while it says the same. */
static gboolean
says_the_same (GListModel *shown, GtkStringList *names)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (names));

  if (!GTK_IS_STRING_LIST (shown) || g_list_model_get_n_items (shown) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (shown), i), gtk_string_list_get_string (names, i)))
      return FALSE;
  return TRUE;
}

/**
 * fettle_choice_show_names:
 * @choice: a drop-down that is searched
 * @names: what can be chosen now
 * @selected: which of them is, %GTK_INVALID_LIST_POSITION for none
 *
 * As fettle_choice_set_names(), unless it shows the same names already.
 */
void
fettle_choice_show_names (GtkDropDown *choice, GtkStringList *names, guint selected)
{
  g_return_if_fail (GTK_IS_DROP_DOWN (choice));

  if (!says_the_same (gtk_drop_down_get_model (choice), names))
    fettle_choice_set_names (choice, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (choice, selected);
}
