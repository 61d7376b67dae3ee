/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "check-editor.h"

#include "unparent.h"

struct _FettleCheckEditor
{
  GtkWidget parent_instance;

  GtkWidget *check;
  char      *text; /* as it was set; NULL once somebody toggled it */
  gboolean   setting;
};

static void fettle_check_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleCheckEditor, fettle_check_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_check_editor_editor_init))

static void
on_toggled (FettleCheckEditor *self)
{
  if (self->setting)
    return;
  g_clear_pointer (&self->text, g_free);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

/* What nobody touched is neither yes nor no until it is set: it would stand against what the book has. */
static char *
fettle_check_editor_dup_text (FettleEditor *editor)
{
  FettleCheckEditor *self = FETTLE_CHECK_EDITOR (editor);

  if (self->text != NULL)
    return g_strdup (self->text);
  return g_strdup (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->check)) ? "yes" : "no");
}

static void
fettle_check_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  FettleCheckEditor *self = FETTLE_CHECK_EDITOR (editor);

  g_free (self->text);
  self->text = g_strdup (text);
  self->setting = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->check), g_str_equal (text, "yes"));
  self->setting = FALSE;
}

static GtkWidget *
fettle_check_editor_get_control (FettleEditor *editor)
{
  return FETTLE_CHECK_EDITOR (editor)->check;
}

static void
fettle_check_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_check_editor_dup_text;
  iface->set_text = fettle_check_editor_set_text;
  iface->get_control = fettle_check_editor_get_control;
}

static void
fettle_check_editor_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_check_editor_parent_class)->dispose (object);
}

static void
fettle_check_editor_finalize (GObject *object)
{
  g_free (FETTLE_CHECK_EDITOR (object)->text);
  G_OBJECT_CLASS (fettle_check_editor_parent_class)->finalize (object);
}

static void
fettle_check_editor_class_init (FettleCheckEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_check_editor_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_check_editor_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_check_editor_init (FettleCheckEditor *self)
{
  self->text = g_strdup ("");
  self->check = gtk_check_button_new ();
  gtk_widget_set_parent (self->check, GTK_WIDGET (self));
  g_signal_connect_swapped (self->check, "toggled", G_CALLBACK (on_toggled), self);
}

/**
 * fettle_check_editor_new:
 * @field: of yes or no
 *
 * Returns: (transfer floating): a check
 */
GtkWidget *
fettle_check_editor_new (const BookField *field)
{
  FettleCheckEditor *self = g_object_new (FETTLE_TYPE_CHECK_EDITOR, NULL);

  gtk_check_button_set_label (GTK_CHECK_BUTTON (self->check), book_field_label (field));
  return GTK_WIDGET (self);
}
