/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-form.h"

#include "window-private.h"

void
window_form_open_window (WindowForm *self)
{
  self->base.window = window_test_open (self->base.book, "standing");
  self->model = fettle_window_get_span (self->base.window)->model;
}

void
window_form_set_up (WindowForm *self, gconstpointer data)
{
  window_test_set_up (&self->base, "standing");
  self->model = fettle_window_get_span (self->base.window)->model;
}

void
window_form_tear_down (WindowForm *self, gconstpointer data)
{
  if (self->form != NULL)
    window_form_drop (self);
  window_test_tear_down (&self->base, data);
}

FettleSitting *
window_form_sitting (WindowForm *self)
{
  return fettle_window_get_sitting (self->base.window);
}

static void
on_saved (WindowForm *self, gint64 id)
{
  self->saved = id;
  self->n_saved++;
}

static void
on_closed (WindowForm *self)
{
  self->n_closed++;
}

void
window_form_make (WindowForm *self, BookRecordId record, const char *const *fields)
{
  self->frame = GTK_WINDOW (gtk_window_new ());
  gtk_widget_add_css_class (GTK_WIDGET (self->frame), "fettle");
  gtk_window_set_default_size (self->frame, 800, 500);
  self->form = FETTLE_RECORD_FORM (fettle_record_form_new (window_form_sitting (self), record, fields));
  g_signal_connect_swapped (self->form, "saved", G_CALLBACK (on_saved), self);
  g_signal_connect_swapped (self->form, "closed", G_CALLBACK (on_closed), self);
  gtk_window_set_child (self->frame, GTK_WIDGET (self->form));
  gtk_window_present (self->frame);
}

static gboolean
has_focus (gpointer data)
{
  WindowForm *self = data;
  GtkWidget *focus = gtk_window_get_focus (self->frame);

  return focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->form));
}

/* The keyboard comes with the book's answer. */
static void
wait_focus (WindowForm *self, const char *field)
{
  fettle_record_form_focus (self->form, field);
  window_test_wait (has_focus, self, "the form");
  window_test_settle ();
}

void
window_form_begin (WindowForm *self, BookRecordId record, const char *const *fields, gint64 parent, const char *focus)
{
  window_form_make (self, record, fields);
  fettle_record_form_begin (self->form, parent);
  wait_focus (self, focus);
}

void
window_form_show (WindowForm *self, BookRecordId record, const char *const *fields, gint64 id, const char *focus)
{
  window_form_make (self, record, fields);
  fettle_record_form_show (self->form, id);
  wait_focus (self, focus);
}

void
window_form_drop (WindowForm *self)
{
  g_signal_handlers_disconnect_by_data (self->form, self);
  window_test_destroy (self->frame);
  self->form = NULL;
}

GtkWidget *
window_form_get (WindowForm *self, const char *name)
{
  return window_test_get (GTK_WIDGET (self->form), name);
}

void
window_form_type (WindowForm *self, const char *field, const char *text)
{
  gtk_widget_grab_focus (window_form_get (self, field));
  window_test_type (GTK_WIDGET (self->form), field, text);
}

const char *
window_form_wrong (WindowForm *self, const char *field)
{
  GtkWidget *inside = gtk_widget_get_ancestor (window_form_get (self, field), g_type_from_name ("FettleFormField"));
  GtkWidget *said = window_test_find (inside, "wrong"); /* none until something is wrong */

  return said != NULL && gtk_widget_get_visible (said) ? gtk_label_get_label (GTK_LABEL (said)) : "";
}

static gboolean
is_saved (gpointer data)
{
  return ((WindowForm *) data)->n_saved > 0;
}

void
window_form_wait_saved (WindowForm *self)
{
  window_test_wait (is_saved, self, "the record is stored");
  self->n_saved = 0;
  window_test_settle ();
}
