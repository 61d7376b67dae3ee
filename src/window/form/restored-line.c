/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "restored-line.h"

#include <glib/gi18n.h>

typedef struct
{
  GCallback forget;
  gpointer  form;
} Forget;

/* When there is something to say for the first time, which in most forms is never. */
static void
on_show (GtkWidget *line, Forget *forget)
{
  GtkWidget *words, *button;

  if (gtk_widget_get_first_child (line) != NULL)
    return;
  words = g_object_new (GTK_TYPE_LABEL, "label", _("What was typed before and not stored is back in its fields."), "xalign", 0.0f,
                        "wrap", TRUE, "hexpand", TRUE, "width-chars", 24, "max-width-chars", 80, NULL);
  button = g_object_new (GTK_TYPE_BUTTON, "label", _("Forget It"), "name", "forget", "valign", GTK_ALIGN_CENTER,
                         "css-classes", (const char *[]){ "plain", NULL }, NULL);
  g_signal_connect_swapped (button, "clicked", forget->forget, forget->form);
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), button);
}

static void
free_forget (gpointer forget, GClosure *closure)
{
  g_free (forget);
}

GtkWidget *
fettle_restored_line_new (GCallback forget, gpointer form)
{
  GtkWidget *line = g_object_new (GTK_TYPE_BOX, "spacing", 12, "name", "restored", "visible", FALSE,
                                  "css-classes", (const char *[]){ "told", NULL }, NULL);
  Forget *data = g_new (Forget, 1);

  *data = (Forget){ forget, form };
  g_signal_connect_data (line, "show", G_CALLBACK (on_show), data, free_forget, 0);
  return line;
}
