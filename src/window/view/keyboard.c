/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "keyboard.h"

/**
 * fettle_keyboard_comes_back:
 * @widget: that was just told that the keyboard has left it
 *
 * GTK says the same when a person turns to another window, to look something up or to copy it. What is typed is not finished by that.
 *
 * Returns: whether the keyboard is in @widget again as soon as its window is turned to
 */
gboolean
fettle_keyboard_comes_back (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL; /* none while it goes from one widget to another */

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

/**
 * fettle_keyboard_is_in:
 * @widget: a page, or a part of one
 *
 * Returns: whether something in @widget has the keyboard that one can see; a pane that only scrolls does not count
 */
gboolean
fettle_keyboard_is_in (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && gtk_widget_is_ancestor (focus, widget) && gtk_widget_get_mapped (focus) && !GTK_IS_SCROLLED_WINDOW (focus);
}

/**
 * fettle_keyboard_begin:
 * @page: a page in view
 *
 * Gives the keyboard to the first control of @page, unless something there has it already.
 *
 * Returns: whether @page has it now; %FALSE while it shows nothing yet
 */
gboolean
fettle_keyboard_begin (GtkWidget *page)
{
  GtkRoot *root = gtk_widget_get_root (page);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (fettle_keyboard_is_in (page))
    return TRUE;
  if (focus != NULL && gtk_widget_is_ancestor (focus, page))
    gtk_root_set_focus (root, NULL); /* a pane leads out of itself, never in */
  gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
  return fettle_keyboard_is_in (page);
}
