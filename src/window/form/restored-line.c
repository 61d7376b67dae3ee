/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "restored-line.h"

#include <glib/gi18n.h>

GtkWidget *
fettle_restored_line_new (GCallback forget, gpointer form)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = g_object_new (GTK_TYPE_LABEL, "label", _("What was typed before and not stored is back in its fields."),
                                   "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 24, "max-width-chars", 80, NULL);
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", _("Forget It"), "name", "forget", "valign", GTK_ALIGN_CENTER,
                                    "css-classes", (const char *[]){ "plain", NULL }, NULL);

  g_signal_connect_swapped (button, "clicked", forget, form);
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), button);
  gtk_widget_set_name (line, "restored");
  gtk_widget_add_css_class (line, "told");
  gtk_widget_set_visible (line, FALSE);
  return line;
}
