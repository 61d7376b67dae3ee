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
