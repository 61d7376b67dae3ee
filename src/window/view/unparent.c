/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "unparent.h"

/**
 * fettle_unparent_children:
 * @widget: a widget
 *
 * Takes all children away, those of a template too: a widget that is finalized with one left warns.
 */
void
fettle_unparent_children (gpointer widget)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (widget))) != NULL)
    gtk_widget_unparent (child);
}
