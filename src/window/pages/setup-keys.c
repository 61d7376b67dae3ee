/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-keys.h"

static gboolean
on_key (GtkEventController *controller, guint key, guint code, GdkModifierType state, gpointer data)
{
  GtkWidget *table = gtk_event_controller_get_widget (controller);

  switch (state & gtk_accelerator_get_default_mod_mask ())
    {
    case 0:
      if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter)
        gtk_widget_activate_action (table, "setup.act", "s", "edit");
      else if (key == GDK_KEY_Delete || key == GDK_KEY_KP_Delete)
        gtk_widget_activate_action (table, "setup.act", "s", "remove");
      else
        return FALSE;
      return TRUE;
    case GDK_ALT_MASK:
      if (key != GDK_KEY_Up && key != GDK_KEY_Down && key != GDK_KEY_KP_Up && key != GDK_KEY_KP_Down)
        return FALSE;
      gtk_widget_activate_action (table, "setup.move", "i", key == GDK_KEY_Up || key == GDK_KEY_KP_Up ? -1 : 1);
      return TRUE;
    default:
      return FALSE;
    }
}

void
fettle_setup_keys_set_up (GtkWidget *table)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), NULL);
  gtk_widget_add_controller (table, key);
}
