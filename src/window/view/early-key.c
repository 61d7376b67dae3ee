/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "early-key.h"

#include "keyboard.h"

typedef struct
{
  GtkShortcutFunc func;
} Early;

static const char marked[] = "fettle-early-key";

/* Whether a widget further in, around the keyboard, acts on the same key: a form within a form. */
static gboolean
is_for_inner (GtkWidget *widget, const char *trigger)
{
  GtkWidget *focus = fettle_keyboard_focus (widget);

  for (; focus != NULL && focus != widget; focus = gtk_widget_get_parent (focus))
    if (g_strcmp0 (g_object_get_data (G_OBJECT (focus), marked), trigger) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
on_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  const Early *early = data;
  const char *trigger = g_object_get_data (G_OBJECT (widget), marked);

  return !is_for_inner (widget, trigger) && early->func (widget, arguments, NULL);
}

/**
 * fettle_early_key:
 * @widget: whose key it is
 * @trigger: as gtk_shortcut_trigger_parse_string() reads it
 * @func: called with @widget
 *
 * Lets @widget act on a key wherever the keyboard is inside it, unless a widget further in acts on the same.
 */
void
fettle_early_key (GtkWidget *widget, const char *trigger, GtkShortcutFunc func)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  Early *early = g_new (Early, 1);

  early->func = func;
  g_object_set_data_full (G_OBJECT (widget), marked, g_strdup (trigger), g_free);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_shortcut_trigger_parse_string (trigger),
                                                          gtk_callback_action_new (on_key, early, g_free)));
  gtk_widget_add_controller (widget, keys);
}

typedef struct
{
  FettleEarlyStep func;
} Steps;

static void
steps_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

static gboolean
on_step_key (GtkEventController *controller, guint keyval, guint keycode, GdkModifierType modifiers, gpointer data)
{
  const gboolean up = keyval == GDK_KEY_Page_Up || keyval == GDK_KEY_KP_Page_Up;
  const gboolean down = keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_KP_Page_Down;
  const Steps *steps = data;

  if ((!up && !down) || (modifiers & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != GDK_CONTROL_MASK)
    return GDK_EVENT_PROPAGATE;
  steps->func (gtk_event_controller_get_widget (controller), up ? -1 : 1, (modifiers & GDK_SHIFT_MASK) != 0);
  return GDK_EVENT_STOP;
}

/**
 * fettle_early_step:
 * @widget: that goes on by these keys
 * @func: called with @widget, 1 for the next and -1 for the one before, and whether Shift is held
 *
 * Lets @widget go on by Ctrl+Page Down and back by Ctrl+Page Up wherever the keyboard is inside it.
 */
void
fettle_early_step (GtkWidget *widget, FettleEarlyStep func)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  Steps *steps = g_new (Steps, 1);

  steps->func = func;
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_data (keys, "key-pressed", G_CALLBACK (on_step_key), steps, steps_free, 0);
  gtk_widget_add_controller (widget, keys);
}
