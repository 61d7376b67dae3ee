/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "message-bar.h"
#include "tip.h"

#include <glib/gi18n.h>

struct _FettleMessageBar
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkLabel  *sentence;
  GtkButton *action;
  gboolean   is_seen; /* something was pressed since */
};

G_DEFINE_FINAL_TYPE (FettleMessageBar, fettle_message_bar, GTK_TYPE_WIDGET)

/* The keyboard goes on where one works before the button goes, else GTK would take it to whatever comes next. */
static void
leave_keyboard (GtkWidget *widget)
{
  if ((gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_activate_action (widget, "win.keyboard-to-page", NULL);
}

static void
on_close (FettleMessageBar *self)
{
  leave_keyboard (GTK_WIDGET (self));
  fettle_message_bar_hide (self);
}

static void
fettle_message_bar_dispose (GObject *object)
{
  FettleMessageBar *self = FETTLE_MESSAGE_BAR (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_message_bar_parent_class)->dispose (object);
}

static void
fettle_message_bar_class_init (FettleMessageBarClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_message_bar_dispose;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "messagebar");
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_STATUS);
}

static void
fettle_message_bar_init (FettleMessageBar *self)
{
  GtkWidget *close;

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12); /* short sentences: measured seldom */
  gtk_widget_add_css_class (self->box, "message");
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->sentence = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "selectable", TRUE,
                                 "can-focus", FALSE, "name", "message", NULL);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->sentence));
  self->action = g_object_new (GTK_TYPE_BUTTON, "valign", GTK_ALIGN_CENTER, "name", "message-action",
                               "css-classes", (const char *[]){ "plain", NULL }, NULL);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->action));
  close = g_object_new (GTK_TYPE_BUTTON, "label", "×", "valign", GTK_ALIGN_CENTER, "name", "message-close",
                        "css-classes", (const char *[]){ "quiet", NULL }, NULL);
  fettle_tip_set (close, _("Close"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (close), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Close the message"), -1);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (on_close), self);
  gtk_box_append (GTK_BOX (self->box), close);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * fettle_message_bar_new:
 *
 * Returns: a bar that is hidden until something is said
 */
GtkWidget *
fettle_message_bar_new (void)
{
  return g_object_new (FETTLE_TYPE_MESSAGE_BAR, NULL);
}

/**
 * fettle_message_bar_say:
 * @self: a bar
 * @sentence: whole
 * @label: (nullable): of the button
 * @action: (nullable): detailed action of the button
 *
 * Shows @sentence until it is closed or another takes its place.
 */
void
fettle_message_bar_say (FettleMessageBar *self, const char *sentence, const char *label, const char *action)
{
  g_return_if_fail (FETTLE_IS_MESSAGE_BAR (self));

  self->is_seen = FALSE;
  gtk_label_set_label (self->sentence, sentence);
  gtk_widget_set_visible (GTK_WIDGET (self->action), label != NULL);
  if (label != NULL)
    {
      gtk_button_set_label (self->action, label);
      gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (self->action), action);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

/**
 * fettle_message_bar_withdraw:
 * @self: a bar
 * @action: detailed action
 *
 * Takes the button away where it does @action; the sentence stays.
 */
void
fettle_message_bar_withdraw (FettleMessageBar *self, const char *action)
{
  g_return_if_fail (FETTLE_IS_MESSAGE_BAR (self));

  if (g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (self->action)), action) != 0)
    return;
  leave_keyboard (GTK_WIDGET (self->action));
  gtk_widget_set_visible (GTK_WIDGET (self->action), FALSE);
}

/**
 * fettle_message_bar_see:
 * @self: a bar
 *
 * Called with every key and click: what is said now was there before it.
 */
void
fettle_message_bar_see (FettleMessageBar *self)
{
  g_return_if_fail (FETTLE_IS_MESSAGE_BAR (self));

  self->is_seen = TRUE;
}

/**
 * fettle_message_bar_go_on:
 * @self: a bar
 *
 * Whoever goes on elsewhere, or does the next thing, is done with what was said; what still offers something stays.
 */
void
fettle_message_bar_go_on (FettleMessageBar *self)
{
  g_return_if_fail (FETTLE_IS_MESSAGE_BAR (self));

  if (self->is_seen && !gtk_widget_get_visible (GTK_WIDGET (self->action)))
    fettle_message_bar_hide (self);
}

/**
 * fettle_message_bar_hide:
 * @self: a bar
 *
 * Takes the sentence away.
 */
void
fettle_message_bar_hide (FettleMessageBar *self)
{
  g_return_if_fail (FETTLE_IS_MESSAGE_BAR (self));

  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * fettle_message_bar_get_said:
 * @self: a bar
 *
 * Returns: (nullable): the sentence shown now
 */
const char *
fettle_message_bar_get_said (FettleMessageBar *self)
{
  g_return_val_if_fail (FETTLE_IS_MESSAGE_BAR (self), NULL);

  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_label (self->sentence) : NULL;
}
