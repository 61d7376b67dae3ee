/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "long-text-editor.h"

#include <string.h>

#include "unparent.h"

#define LEAST_HEIGHT 62  /* about three lines */
#define MOST_HEIGHT 180

struct _FettleLongTextEditor
{
  GtkWidget parent_instance;

  GtkWidget     *scroll;
  GtkWidget     *view;
  GtkTextBuffer *buffer;
  gboolean       setting;
};

static void fettle_long_text_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleLongTextEditor, fettle_long_text_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_long_text_editor_editor_init))

static void
on_changed (FettleLongTextEditor *self)
{
  if (!self->setting)
    fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

static char *
fettle_long_text_editor_dup_text (FettleEditor *editor)
{
  GtkTextBuffer *buffer = FETTLE_LONG_TEXT_EDITOR (editor)->buffer;
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static void
fettle_long_text_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  FettleLongTextEditor *self = FETTLE_LONG_TEXT_EDITOR (editor);
  g_autofree char *before = fettle_long_text_editor_dup_text (editor);

  if (strcmp (before, text) == 0)
    return;
  self->setting = TRUE;
  gtk_text_buffer_set_text (self->buffer, text, -1);
  self->setting = FALSE;
}

static GtkWidget *
fettle_long_text_editor_get_control (FettleEditor *editor)
{
  return FETTLE_LONG_TEXT_EDITOR (editor)->view;
}

static void
fettle_long_text_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_long_text_editor_dup_text;
  iface->set_text = fettle_long_text_editor_set_text;
  iface->get_control = fettle_long_text_editor_get_control;
}

static void
fettle_long_text_editor_dispose (GObject *object)
{
  FettleLongTextEditor *self = FETTLE_LONG_TEXT_EDITOR (object);

  if (self->buffer != NULL)
    g_signal_handlers_disconnect_by_data (self->buffer, self);
  self->buffer = NULL;
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_long_text_editor_parent_class)->dispose (object);
}

static void
fettle_long_text_editor_class_init (FettleLongTextEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_long_text_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_long_text_editor_init (FettleLongTextEditor *self)
{
  self->view = g_object_new (GTK_TYPE_TEXT_VIEW, "accepts-tab", FALSE, "wrap-mode", GTK_WRAP_WORD_CHAR, "top-margin", 5,
                             "bottom-margin", 5, "left-margin", 8, "right-margin", 8, NULL);
  self->buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->view));
  g_signal_connect_swapped (self->buffer, "changed", G_CALLBACK (on_changed), self);
  self->scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "child", self->view, "hscrollbar-policy", GTK_POLICY_NEVER,
                               "min-content-height", LEAST_HEIGHT, "max-content-height", MOST_HEIGHT,
                               "propagate-natural-height", TRUE, "css-classes", (const char *[]){ "text", NULL }, NULL);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

/**
 * fettle_long_text_editor_new:
 * @field: of some lines
 *
 * Returns: (transfer floating): a box to write in
 */
GtkWidget *
fettle_long_text_editor_new (const BookField *field)
{
  return g_object_new (FETTLE_TYPE_LONG_TEXT_EDITOR, NULL);
}
