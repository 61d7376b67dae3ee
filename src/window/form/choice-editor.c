/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "choice-editor.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "unparent.h"

struct _FettleChoiceEditor
{
  GtkWidget parent_instance;

  GtkDropDown      *drop_down;
  const BookChoice *choices; /* of the description */
  gboolean          setting;
};

/* Of a field that may be left open, which a check cannot say. */
static const BookChoice yes_or_no[] = { { 1, "yes", N_("yes") }, { 0, "no", N_("no") }, { 0, NULL, NULL } };

static void fettle_choice_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleChoiceEditor, fettle_choice_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_choice_editor_editor_init))

static void
on_selected (FettleChoiceEditor *self)
{
  if (self->setting)
    return;
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

/* A letter chooses what begins with it, and once more the next one, without opening the list: as it is in the list of a reference. */
static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, FettleChoiceEditor *self)
{
  GListModel *names = gtk_drop_down_get_model (self->drop_down);
  guint n = g_list_model_get_n_items (names), selected = gtk_drop_down_get_selected (self->drop_down);
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (key));

  if (!g_unichar_isalnum (letter) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return FALSE;
  if (selected == GTK_INVALID_LIST_POSITION)
    selected = 0;
  for (guint step = 1; step <= n; step++)
    {
      guint i = (selected + step) % n; /* the first row is a hint, no choice */

      if (i != 0 && g_unichar_tolower (g_utf8_get_char (gtk_string_list_get_string (GTK_STRING_LIST (names), i))) == letter)
        {
          gtk_drop_down_set_selected (self->drop_down, i);
          return TRUE;
        }
    }
  return FALSE;
}

/* The first row stands for nothing. */
static char *
fettle_choice_editor_dup_text (FettleEditor *editor)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (editor);
  guint selected = gtk_drop_down_get_selected (self->drop_down);

  return g_strdup (selected == 0 || selected == GTK_INVALID_LIST_POSITION ? "" : self->choices[selected - 1].text);
}

static void
fettle_choice_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (editor);
  guint selected = 0;

  for (guint i = 0; self->choices[i].text != NULL; i++)
    if (g_str_equal (self->choices[i].text, text))
      selected = i + 1;
  self->setting = TRUE;
  gtk_drop_down_set_selected (self->drop_down, selected);
  self->setting = FALSE;
}

static GtkWidget *
fettle_choice_editor_get_control (FettleEditor *editor)
{
  return GTK_WIDGET (FETTLE_CHOICE_EDITOR (editor)->drop_down);
}

static void
fettle_choice_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_choice_editor_dup_text;
  iface->set_text = fettle_choice_editor_set_text;
  iface->get_control = fettle_choice_editor_get_control;
}

static void
fettle_choice_editor_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_choice_editor_parent_class)->dispose (object);
}

static void
fettle_choice_editor_class_init (FettleChoiceEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_choice_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_choice_editor_init (FettleChoiceEditor *self)
{
}

/**
 * fettle_choice_editor_new:
 * @field: with choices, or of yes or no
 *
 * Returns: (transfer floating): a drop-down of their labels
 */
GtkWidget *
fettle_choice_editor_new (const BookField *field)
{
  FettleChoiceEditor *self = g_object_new (FETTLE_TYPE_CHOICE_EDITOR, NULL);
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->choices = field->kind == BOOK_KIND_BOOLEAN ? yes_or_no : field->choices;
  gtk_string_list_append (names, field->required ? _("choose") : field->kind == BOOK_KIND_BOOLEAN ? _("left open") : _("none"));
  for (const BookChoice *choice = self->choices; choice->text != NULL; choice++)
    gtk_string_list_append (names, book_choice_label (choice));
  self->drop_down = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_widget_set_parent (GTK_WIDGET (self->drop_down), GTK_WIDGET (self));
  gtk_drop_down_set_model (self->drop_down, G_LIST_MODEL (names));
  fettle_choice_set_up (self->drop_down, book_field_label (field));
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (on_key), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->drop_down), keys);
  g_signal_connect_swapped (self->drop_down, "notify::selected", G_CALLBACK (on_selected), self);
  return GTK_WIDGET (self);
}
