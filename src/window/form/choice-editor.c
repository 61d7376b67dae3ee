/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "choice-editor.h"

#include <glib/gi18n.h>

#include "choice-list.h"
#include "unparent.h"

struct _FettleChoiceEditor
{
  GtkWidget parent_instance;

  FettleChoiceList *list;
  const BookChoice *choices; /* of the description */
  gboolean          setting;
};

/* Of a field that may be left open, which a check cannot say. */
static const BookChoice yes_or_no[] = { { 1, "yes", N_("yes") }, { 0, "no", N_("no") }, { 0, NULL, NULL } };

static void fettle_choice_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleChoiceEditor, fettle_choice_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_choice_editor_editor_init))

static void
on_changed (FettleChoiceEditor *self)
{
  if (self->setting)
    return;
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

/* The first row stands for nothing. */
static char *
fettle_choice_editor_dup_text (FettleEditor *editor)
{
  FettleChoiceEditor *self = FETTLE_CHOICE_EDITOR (editor);
  guint selected = fettle_choice_list_get_selected (self->list);

  return g_strdup (selected == 0 ? "" : self->choices[selected - 1].text);
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
  fettle_choice_list_set_selected (self->list, selected);
  self->setting = FALSE;
}

static GtkWidget *
fettle_choice_editor_get_control (FettleEditor *editor)
{
  return GTK_WIDGET (FETTLE_CHOICE_EDITOR (editor)->list);
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
 * Returns: (transfer floating): a list of their labels, which is opened
 */
GtkWidget *
fettle_choice_editor_new (const BookField *field)
{
  FettleChoiceEditor *self = g_object_new (FETTLE_TYPE_CHOICE_EDITOR, NULL);
  g_autoptr(GStrvBuilder) labels = g_strv_builder_new ();

  self->choices = field->kind == BOOK_KIND_BOOLEAN ? yes_or_no : field->choices;
  g_strv_builder_add (labels, field->required ? _("choose") : field->kind == BOOK_KIND_BOOLEAN ? _("left open") : _("none"));
  for (const BookChoice *choice = self->choices; choice->text != NULL; choice++)
    g_strv_builder_add (labels, book_choice_label (choice));
  self->list = FETTLE_CHOICE_LIST (fettle_choice_list_new (book_field_label (field), g_strv_builder_end (labels)));
  gtk_widget_set_parent (GTK_WIDGET (self->list), GTK_WIDGET (self));
  g_signal_connect_swapped (self->list, "changed", G_CALLBACK (on_changed), self);
  return GTK_WIDGET (self);
}
