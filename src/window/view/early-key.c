/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "early-key.h"

/**
 * fettle_early_key:
 * @widget: whose key it is
 * @trigger: as gtk_shortcut_trigger_parse_string() reads it
 * @func: called with @widget
 *
 * Lets @widget act on a key wherever the keyboard is inside it.
 */
void
fettle_early_key (GtkWidget *widget, const char *trigger, GtkShortcutFunc func)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_shortcut_trigger_parse_string (trigger),
                                                          gtk_callback_action_new (func, NULL, NULL)));
  gtk_widget_add_controller (widget, keys);
}
