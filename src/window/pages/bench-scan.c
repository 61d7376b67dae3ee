/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-scan.h"

static gboolean
on_key (GtkEventController *controller, guint keyval, guint keycode, GdkModifierType modifiers, gpointer data)
{
  GtkWidget *line = data;
  gunichar typed = gdk_keyval_to_unicode (keyval);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (gtk_widget_get_root (line)));
  char text[8] = "";
  int position = -1;

  if ((modifiers & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0 || !g_unichar_isgraph (typed)
      || GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus))
    return GDK_EVENT_PROPAGATE;
  g_unichar_to_utf8 (typed, text);
  gtk_entry_grab_focus_without_selecting (GTK_ENTRY (line));
  gtk_editable_delete_selection (GTK_EDITABLE (line));
  position = (int) g_utf8_strlen (gtk_editable_get_text (GTK_EDITABLE (line)), -1);
  gtk_editable_insert_text (GTK_EDITABLE (line), text, -1, &position);
  gtk_editable_set_position (GTK_EDITABLE (line), -1);
  return GDK_EVENT_STOP;
}

/* The page list, the strip and the buttons of the window do nothing with letters: they come up to the window. */
static void
on_map (GtkWidget *page, gpointer line)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  g_signal_connect_object (key, "key-pressed", G_CALLBACK (on_key), line, 0);
  gtk_widget_add_controller (GTK_WIDGET (gtk_widget_get_root (page)), key);
  g_object_set_data_full (G_OBJECT (page), "scan-controller", g_object_ref (key), g_object_unref);
}

static void
on_unmap (GtkWidget *page)
{
  GtkEventController *key = g_object_get_data (G_OBJECT (page), "scan-controller");
  GtkWidget *window = key != NULL ? gtk_event_controller_get_widget (key) : NULL;

  if (window != NULL)
    gtk_widget_remove_controller (window, key);
  g_object_set_data (G_OBJECT (page), "scan-controller", NULL);
}

void
fettle_bench_scan_into (GtkWidget *page, GtkWidget *line)
{
  g_signal_connect_object (page, "map", G_CALLBACK (on_map), line, 0);
  g_signal_connect (page, "unmap", G_CALLBACK (on_unmap), NULL);
}
