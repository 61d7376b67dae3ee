/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "choice-list.h"

#include "closed-list.h"
#include "unparent.h"

#define MOST_HEIGHT 320

struct _FettleChoiceList
{
  GtkWidget parent_instance;

  char    *name;
  GStrv    choices; /* the first is a hint, and stands for nothing */
  guint    selected;

  GtkWidget  *button;
  GtkLabel   *label;
  GtkWidget  *popover; /* NULL until opened */
  GtkListBox *list;    /* likewise */
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleChoiceList, fettle_choice_list, GTK_TYPE_WIDGET)

guint
fettle_choice_list_get_selected (FettleChoiceList *self)
{
  g_return_val_if_fail (FETTLE_IS_CHOICE_LIST (self), 0);

  return self->selected;
}

/**
 * fettle_choice_list_set_selected:
 * @self: a choice
 * @selected: which of the choices; 0: none
 *
 * Tells of it by 'changed' when it is another one.
 */
void
fettle_choice_list_set_selected (FettleChoiceList *self, guint selected)
{
  g_return_if_fail (FETTLE_IS_CHOICE_LIST (self));
  g_return_if_fail (selected < g_strv_length (self->choices));

  if (selected == self->selected)
    return;
  self->selected = selected;
  fettle_closed_list_show (self->button, self->label, self->name, self->choices[selected], selected == 0);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- the open list ---- */

static void
on_row (FettleChoiceList *self, GtkListBoxRow *row)
{
  guint selected = (guint) gtk_list_box_row_get_index (row);

  gtk_popover_popdown (GTK_POPOVER (self->popover));
  fettle_choice_list_set_selected (self, selected);
}

static void
on_closed (FettleChoiceList *self)
{
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_STATE_EXPANDED, FALSE, -1);
  gtk_widget_grab_focus (self->button);
}

/* The next after @from, or @from itself, that begins with a letter; 0: none. */
static guint
find_letter (FettleChoiceList *self, guint from, gunichar letter)
{
  guint n = g_strv_length (self->choices);

  for (guint step = 1; step <= n; step++)
    {
      guint i = (from + step) % n;

      if (i != 0 && g_unichar_tolower (g_utf8_get_char (self->choices[i])) == letter)
        return i;
    }
  return 0;
}

static gboolean
take_letter (guint keyval, GdkModifierType modifiers, gunichar *letter)
{
  *letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));
  return g_unichar_isalnum (*letter) && (modifiers & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) == 0;
}

static gboolean
on_list_key (FettleChoiceList *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);
  gunichar letter;
  guint found;

  if (!take_letter (keyval, modifiers, &letter))
    return GDK_EVENT_PROPAGATE;
  found = find_letter (self, row != NULL ? (guint) gtk_list_box_row_get_index (row) : 0, letter);
  if (found == 0)
    return GDK_EVENT_STOP;
  row = gtk_list_box_get_row_at_index (self->list, (int) found);
  gtk_list_box_select_row (self->list, row);
  gtk_widget_grab_focus (GTK_WIDGET (row));
  return GDK_EVENT_STOP;
}

static void
make_list (FettleChoiceList *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkWidget *scroll;

  self->list = g_object_new (GTK_TYPE_LIST_BOX, "selection-mode", GTK_SELECTION_BROWSE, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, self->name, -1);
  for (char **choice = self->choices; *choice != NULL; choice++)
    {
      GtkWidget *row = gtk_list_box_row_new ();

      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), g_object_new (GTK_TYPE_LABEL, "label", *choice, "xalign", 0.0f, NULL));
      gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, *choice, -1);
      gtk_list_box_append (self->list, row);
    }
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_list_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), key);
  scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "child", self->list, "hscrollbar-policy", GTK_POLICY_NEVER,
                         "propagate-natural-height", TRUE, "propagate-natural-width", TRUE, "max-content-height", MOST_HEIGHT, NULL);
  self->popover = g_object_new (GTK_TYPE_POPOVER, "child", scroll, "has-arrow", FALSE, "halign", GTK_ALIGN_START, NULL);
  g_signal_connect_swapped (self->popover, "closed", G_CALLBACK (on_closed), self);
  gtk_widget_set_parent (self->popover, self->button);
}

static void
open_list (FettleChoiceList *self)
{
  GtkListBoxRow *row;

  if (self->popover == NULL)
    make_list (self);
  row = gtk_list_box_get_row_at_index (self->list, (int) self->selected);
  gtk_list_box_select_row (self->list, row);
  fettle_closed_list_open (self->button, GTK_POPOVER (self->popover));
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_STATE_EXPANDED, TRUE, -1);
  gtk_widget_grab_focus (GTK_WIDGET (row));
}

/* A letter chooses what begins with it, and once more the next one, without opening the list: as it is in the list of a reference. */
static gboolean
on_key (FettleChoiceList *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  gunichar letter;

  if ((keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down) && (modifiers & GDK_ALT_MASK) != 0)
    open_list (self);
  else if (take_letter (keyval, modifiers, &letter))
    {
      guint found = find_letter (self, self->selected, letter);

      if (found == 0)
        return GDK_EVENT_PROPAGATE;
      fettle_choice_list_set_selected (self, found);
    }
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- as an object ---- */

static gboolean
fettle_choice_list_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (FETTLE_CHOICE_LIST (widget)->button);
}

static void
fettle_choice_list_dispose (GObject *object)
{
  FettleChoiceList *self = FETTLE_CHOICE_LIST (object);

  if (self->popover != NULL)
    g_signal_handlers_disconnect_by_data (self->popover, self);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  self->list = NULL;
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_choice_list_parent_class)->dispose (object);
}

static void
fettle_choice_list_finalize (GObject *object)
{
  FettleChoiceList *self = FETTLE_CHOICE_LIST (object);

  g_free (self->name);
  g_strfreev (self->choices);
  G_OBJECT_CLASS (fettle_choice_list_parent_class)->finalize (object);
}

static void
fettle_choice_list_class_init (FettleChoiceListClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = fettle_choice_list_dispose;
  object_class->finalize = fettle_choice_list_finalize;
  widget_class->grab_focus = fettle_choice_list_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_COMBO_BOX);
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_choice_list_init (FettleChoiceList *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->button = fettle_closed_list_new (&self->label);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (open_list), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
}

/**
 * fettle_choice_list_new:
 * @name: what is chosen with it
 * @choices: (transfer full): what can be; the first stands for nothing
 *
 * Returns: (transfer floating): a choice of which the first is selected
 */
GtkWidget *
fettle_choice_list_new (const char *name, char **choices)
{
  FettleChoiceList *self = g_object_new (FETTLE_TYPE_CHOICE_LIST, NULL);

  self->name = g_strdup (name);
  self->choices = choices;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  fettle_closed_list_show (self->button, self->label, name, choices[0], TRUE);
  return GTK_WIDGET (self);
}
