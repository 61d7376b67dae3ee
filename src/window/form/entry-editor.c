/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "entry-editor.h"

#include <langinfo.h>
#include <string.h>

#include "typed.h"
#include "unparent.h"

#define NUMBER_CHARS 10

struct _FettleEntryEditor
{
  GtkWidget parent_instance;

  GtkWidget *entry;
  gboolean   has_decimals;
  gboolean   setting;
};

static void fettle_entry_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleEntryEditor, fettle_entry_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_entry_editor_editor_init))

static void
on_changed (FettleEntryEditor *self)
{
  if (!self->setting)
    fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

static char *
fettle_entry_editor_dup_text (FettleEditor *editor)
{
  return g_strdup (gtk_editable_get_text (GTK_EDITABLE (FETTLE_ENTRY_EDITOR (editor)->entry)));
}

/* A number stands with the decimal sign that people here write; both signs are read. */
static void
fettle_entry_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  FettleEntryEditor *self = FETTLE_ENTRY_EDITOR (editor);
  g_autofree char *typed = g_strdup (text);
  const char *sign = nl_langinfo (RADIXCHAR);

  if (self->has_decimals && g_str_equal (sign, ","))
    g_strdelimit (typed, ".", ',');
  if (strcmp (gtk_editable_get_text (GTK_EDITABLE (self->entry)), typed) == 0)
    return; /* the cursor stays where it is */
  self->setting = TRUE;
  fettle_typed_set (GTK_EDITABLE (self->entry), typed);
  self->setting = FALSE;
}

static GtkWidget *
fettle_entry_editor_get_control (FettleEditor *editor)
{
  return FETTLE_ENTRY_EDITOR (editor)->entry;
}

static void
fettle_entry_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_entry_editor_dup_text;
  iface->set_text = fettle_entry_editor_set_text;
  iface->get_control = fettle_entry_editor_get_control;
}

static void
fettle_entry_editor_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_entry_editor_parent_class)->dispose (object);
}

static void
fettle_entry_editor_class_init (FettleEntryEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_entry_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static void
fettle_entry_editor_init (FettleEntryEditor *self)
{
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (fettle_editor_tell_entered), self);
}

/**
 * fettle_entry_editor_new:
 * @field: of a text, a number or a moment
 *
 * Returns: (transfer floating): an entry
 */
GtkWidget *
fettle_entry_editor_new (const BookField *field)
{
  FettleEntryEditor *self = g_object_new (FETTLE_TYPE_ENTRY_EDITOR, NULL);
  const char *unit = book_field_unit (field);

  self->has_decimals = field->kind == BOOK_KIND_REAL || field->kind == BOOK_KIND_SHARE || field->kind == BOOK_KIND_MONEY;
  if (self->has_decimals || field->kind == BOOK_KIND_INTEGER)
    {
      gtk_editable_set_alignment (GTK_EDITABLE (self->entry), 1.0f);
      gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), NUMBER_CHARS);
      gtk_widget_add_css_class (self->entry, "num");
      gtk_entry_set_input_purpose (GTK_ENTRY (self->entry), GTK_INPUT_PURPOSE_NUMBER);
    }
  if (unit != NULL)
    {
      GtkWidget *label = gtk_label_new (unit);

      gtk_widget_add_css_class (label, "dim");
      gtk_widget_set_parent (label, GTK_WIDGET (self));
    }
  return GTK_WIDGET (self);
}
