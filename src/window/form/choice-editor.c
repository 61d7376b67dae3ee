/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "choice-editor.h"

#include <glib/gi18n.h>

#include "closed-list.h"
#include "unparent.h"

#define MOST_HEIGHT 320

struct _FettleChoiceEditor
{
  GtkWidget parent_instance;

  const BookField  *field;
  const BookChoice *choices; /* of the description */
  guint             selected; /* 0: none; else the choice before it */

  GtkWidget  *button;
  GtkLabel   *label;
  GtkWidget  *popover; /* NULL until opened */
  GtkListBox *list;    /* likewise */
};

/* Of a field that may be left open, which a check cannot say. */
static const BookChoice yes_or_no[] = { { 1, "yes", N_("yes") }, { 0, "no", N_("no") }, { 0, NULL, NULL } };

static void fettle_choice_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleChoiceEditor, fettle_choice_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_choice_editor_editor_init))

/* The first row stands for nothing. */
static guint
n_rows (FettleChoiceEditor *self)
{
  guint n = 1;

  while (self->choices[n - 1].text != NULL)
    n++;
  return n;
}

static const char *
row_label (FettleChoiceEditor *self, guint row)
{
  if (row > 0)
    return book_choice_label (&self->choices[row - 1]);
  return self->field->required ? _("choose") : self->field->kind == BOOK_KIND_BOOLEAN ? _("left open") : _("none");
}

static void
show (FettleChoiceEditor *self, guint selected)
{
  self->selected = selected;
  fettle_closed_list_show (self->button, self->label, book_field_label (self->field), row_label (self, selected), selected == 0);
}

guint
fettle_choice_editor_get_selected (FettleChoiceEditor *self)
{
  g_return_val_if_fail (FETTLE_IS_CHOICE_EDITOR (self), 0);

  return self->selected;
}

/**
 * fettle_choice_editor_choose:
 * @self: a choice
 * @selected: which of the choices, from 1; 0: none
 *
 * As a person does: tells of it when it is another one.
 */
void
fettle_choice_editor_choose (FettleChoiceEditor *self, guint selected)
{
  g_return_if_fail (FETTLE_IS_CHOICE_EDITOR (self));
  g_return_if_fail (selected < n_rows (self));

  if (selected == self->selected)
    return;
  show (self, selected);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

/* ---- the open list ---- */

static void
on_row (FettleChoiceEditor *self, GtkListBoxRow *row)
{
  guint selected = (guint) gtk_list_box_row_get_index (row);

  gtk_popover_popdown (GTK_POPOVER (self->popover));
  fettle_choice_editor_choose (self, selected);
}

static void
on_closed (FettleChoiceEditor *self)
{
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_STATE_EXPANDED, FALSE, -1);
  gtk_widget_grab_focus (self->button);
}

/* The next after @from, or @from itself, that begins with a letter; 0: none. */
static guint
find_letter (FettleChoiceEditor *self, guint from, gunichar letter)
{
  guint n = n_rows (self);

  for (guint step = 1; step <= n; step++)
    {
      guint i = (from + step) % n;

      if (i != 0 && g_unichar_tolower (g_utf8_get_char (row_label (self, i))) == letter)
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
on_list_key (FettleChoiceEditor *self, guint keyval, guint keycode, GdkModifierType modifiers)
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
make_list (FettleChoiceEditor *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkWidget *scroll;

  self->list = g_object_new (GTK_TYPE_LIST_BOX, "selection-mode", GTK_SELECTION_BROWSE, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, book_field_label (self->field), -1);
  for (guint i = 0, n = n_rows (self); i < n; i++)
    {
      GtkWidget *row = gtk_list_box_row_new ();
      const char *label = row_label (self, i);

      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), g_object_new (GTK_TYPE_LABEL, "label", label, "xalign", 0.0f, NULL));
      gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
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
open_list (FettleChoiceEditor *self)
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
on_key (FettleChoiceEditor *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  gunichar letter;

  if ((keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down) && (modifiers & GDK_ALT_MASK) != 0)
    open_list (self);
  else if (take_letter (keyval, modifiers, &letter))
    {
      guint found = find_letter (self, self->selected, letter);

      if (found == 0)
        return GDK_EVENT_PROPAGATE;
      fettle_choice_editor_choose (self, found);
    }
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- as an editor ---- */

static char *
fettle_choice_editor_dup_text (FettleEditor *editor)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (editor);

  return g_strdup (self->selected == 0 ? "" : self->choices[self->selected - 1].text);
}

static void
fettle_choice_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (editor);
  guint selected = 0;

  for (guint i = 0; self->choices[i].text != NULL; i++)
    if (g_str_equal (self->choices[i].text, text))
      selected = i + 1;
  show (self, selected);
}

static GtkWidget *
fettle_choice_editor_get_control (FettleEditor *editor)
{
  return GTK_WIDGET (editor);
}

static void
fettle_choice_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_choice_editor_dup_text;
  iface->set_text = fettle_choice_editor_set_text;
  iface->get_control = fettle_choice_editor_get_control;
}

/* ---- as an object ---- */

/* On the way back GTK asks the editor itself once its button is left: it does not take the keyboard a second time. */
static gboolean
fettle_choice_editor_grab_focus (GtkWidget *widget)
{
  GtkWidget *button = FETTLE_CHOICE_EDITOR (widget)->button;

  return !gtk_widget_is_focus (button) && gtk_widget_grab_focus (button);
}

static void
fettle_choice_editor_dispose (GObject *object)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (object);

  if (self->popover != NULL)
    g_signal_handlers_disconnect_by_data (self->popover, self);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  self->list = NULL;
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_choice_editor_parent_class)->dispose (object);
}

static void
fettle_choice_editor_class_init (FettleChoiceEditorClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_choice_editor_dispose;
  widget_class->grab_focus = fettle_choice_editor_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_COMBO_BOX);
}

static void
fettle_choice_editor_init (FettleChoiceEditor *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->button = fettle_closed_list_new (&self->label);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (open_list), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
}

/**
 * fettle_choice_editor_new:
 * @field: with choices, or of yes or no
 *
 * Returns: (transfer floating): a list of their labels, which is opened
 */
GtkWidget *
fettle_choice_editor_new (const BookField *field)
{
  FettleChoiceEditor *self = g_object_new (FETTLE_TYPE_CHOICE_EDITOR, NULL);

  self->field = field;
  self->choices = field->kind == BOOK_KIND_BOOLEAN ? yes_or_no : field->choices;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, book_field_label (field), -1);
  show (self, 0);
  return GTK_WIDGET (self);
}
