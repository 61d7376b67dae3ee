/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-removal.h"

#include <glib/gi18n.h>

#include "book-edit.h"
#include "setup-answer.h"
#include "unparent.h"

struct _FettleSetupRemoval
{
  GtkWidget parent_instance;

  FettleSitting    *sitting;
  FettleSetupGoing *going; /* while a person is asked */
  GCancellable     *asking;
  GtkLabel         *words;
  GtkWidget        *keep;
  GtkWidget        *remove;
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleSetupRemoval, fettle_setup_removal, GTK_TYPE_WIDGET)

static void
hide (FettleSetupRemoval *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->going, fettle_setup_going_free);
  if (!gtk_widget_get_visible (GTK_WIDGET (self)))
    return;
  g_signal_emit (self, signals[CLOSED], 0); /* before it goes, so that the keyboard is somewhere */
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
fettle_setup_removal_keep (FettleSetupRemoval *self, gint64 id)
{
  g_return_if_fail (FETTLE_IS_SETUP_REMOVAL (self));

  if (self->going != NULL && self->going->id != id)
    hide (self);
}

static void
on_removed (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  if (fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say (FETTLE_SITTING (source), _("It is deleted, with all that belonged to it."), _("Undo"), "win.undo-book");
  else
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

static void
on_remove (FettleSetupRemoval *self)
{
  BookEdit *edit;

  if (self->going == NULL)
    return;
  edit = book_edit_delete (self->going->record, self->going->id);
  hide (self);
  fettle_sitting_edit (self->sitting, edit, on_removed, NULL);
}

static void
on_going (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSetupRemoval) self = data;
  g_autoptr(GError) error = NULL;
  g_autofree char *words = NULL;
  FettleSetupGoing *going = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (going == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_setup_going_free (going);
      return;
    }
  g_clear_pointer (&self->going, fettle_setup_going_free);
  self->going = going;
  if (going->refusal == NULL && going->goes_with == NULL)
    {
      on_remove (self);
      return;
    }
  words = going->refusal != NULL ? g_strdup (going->refusal)
                                 : g_strdup_printf (_("With '%s' goes all that belongs to it: %s."), going->key, going->goes_with);
  gtk_label_set_label (self->words, words);
  gtk_widget_set_visible (self->remove, going->refusal == NULL);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_widget_grab_focus (self->keep);
}

/**
 * fettle_setup_removal_begin:
 * @self: the line
 * @record: what kind
 * @id: which
 *
 * Finds out what would go along.
 */
void
fettle_setup_removal_begin (FettleSetupRemoval *self, BookRecordId record, gint64 id)
{
  g_return_if_fail (FETTLE_IS_SETUP_REMOVAL (self));

  hide (self);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_setup_going_work, fettle_setup_going_new (record, id), fettle_setup_going_free,
                      fettle_setup_going_free, self->asking, on_going, g_object_ref (self));
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  hide (FETTLE_SETUP_REMOVAL (widget));
  return TRUE;
}

static void
fettle_setup_removal_dispose (GObject *object)
{
  FettleSetupRemoval *self = FETTLE_SETUP_REMOVAL (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->going, fettle_setup_going_free);
  g_clear_object (&self->sitting);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_setup_removal_parent_class)->dispose (object);
}

static void
fettle_setup_removal_class_init (FettleSetupRemovalClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_setup_removal_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_setup_removal_init (FettleSetupRemoval *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_widget_set_name (GTK_WIDGET (self), "setup-going");
  gtk_widget_add_css_class (GTK_WIDGET (self), "told");
  gtk_widget_set_margin_bottom (GTK_WIDGET (self), 8);
  self->words = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 20, "max-width-chars", 80, "name",
                              "setup-going-words", NULL);
  self->keep = g_object_new (GTK_TYPE_BUTTON, "label", _("Keep"), "name", "setup-going-keep", "valign", GTK_ALIGN_CENTER,
                             "css-classes", (const char *[]){ "plain", NULL }, NULL);
  self->remove = g_object_new (GTK_TYPE_BUTTON, "label", _("Delete All of It"), "name", "setup-going-do", "valign", GTK_ALIGN_CENTER,
                               "css-classes", (const char *[]){ "primary", NULL }, NULL);
  g_signal_connect_object (self->keep, "clicked", G_CALLBACK (hide), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->remove, "clicked", G_CALLBACK (on_remove), self, G_CONNECT_SWAPPED);
  gtk_widget_set_parent (GTK_WIDGET (self->words), GTK_WIDGET (self));
  gtk_widget_set_parent (self->keep, GTK_WIDGET (self));
  gtk_widget_set_parent (self->remove, GTK_WIDGET (self));
}

GtkWidget *
fettle_setup_removal_new (FettleSitting *sitting)
{
  FettleSetupRemoval *self = g_object_new (FETTLE_TYPE_SETUP_REMOVAL, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
