/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reading-void.h"

#include "book-edit.h"
#include "typed.h"
#include "unparent.h"

#define REASON_DRAFT "void-reason"

struct _FettleReadingVoid
{
  GtkBox parent_instance;

  FettleSitting   *sitting;
  FettleDrafts    *drafts;
  GtkToggleButton *open;
  gint64           reading; /* 0: none */
  gboolean         wanted;  /* as soon as a person is chosen */

  GtkLabel  *what;
  GtkEntry  *reason;
  GtkWidget *act;
};

enum { LEAVE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleReadingVoid, fettle_reading_void, GTK_TYPE_BOX)

static void
on_toggled (FettleReadingVoid *self)
{
  gboolean open = gtk_toggle_button_get_active (self->open);

  self->wanted = open && !fettle_sitting_need_person (self->sitting);
  if (self->wanted)
    {
      gtk_toggle_button_set_active (self->open, FALSE);
      self->wanted = TRUE;
      return;
    }
  if (!open && (gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    g_signal_emit (self, signals[LEAVE], 0); /* before the entry goes */
  gtk_widget_set_visible (GTK_WIDGET (self), open);
  if (open)
    gtk_widget_grab_focus (GTK_WIDGET (self->reason));
}

static void
on_person_changed (FettleReadingVoid *self)
{
  if (self->wanted && fettle_sitting_get_person (self->sitting) != 0 && gtk_widget_is_sensitive (GTK_WIDGET (self->open)))
    gtk_toggle_button_set_active (self->open, TRUE);
  self->wanted = FALSE;
}

static void
on_reason_changed (FettleReadingVoid *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->reason));
  g_autofree char *reason = g_strstrip (g_strdup (typed));

  gtk_widget_set_sensitive (self->act, reason[0] != '\0');
  if (self->drafts != NULL)
    fettle_drafts_keep (self->drafts, REASON_DRAFT, typed[0] != '\0' ? typed : NULL);
}

/* The last window on this book ended while a reason was typed: it is brought back. */
static void
on_restored (FettleReadingVoid *self)
{
  const char *reason = fettle_drafts_get (self->drafts, REASON_DRAFT);

  if (reason != NULL && gtk_editable_get_text (GTK_EDITABLE (self->reason))[0] == '\0')
    fettle_typed_set (GTK_EDITABLE (self->reason), reason);
}

static void
on_voided (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleReadingVoid) self = data;
  g_autoptr(GError) error = NULL;

  if (self->sitting == NULL)
    return;
  if (!fettle_sitting_edit_finish (self->sitting, result, NULL, NULL, &error))
    {
      fettle_sitting_say_error (self->sitting, error);
      return; /* the reason stays typed */
    }
  fettle_typed_set (GTK_EDITABLE (self->reason), "");
}

static void
on_act (FettleReadingVoid *self)
{
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->reason))));

  if (reason[0] == '\0' || self->reading == 0)
    return;
  fettle_sitting_edit (self->sitting, book_edit_void (self->reading, reason), on_voided, g_object_ref (self));
  gtk_toggle_button_set_active (self->open, FALSE);
}

void
fettle_reading_void_set_reading (FettleReadingVoid *self, gint64 reading, const char *words)
{
  g_return_if_fail (FETTLE_IS_READING_VOID (self));

  if (reading != self->reading)
    self->wanted = FALSE;
  self->reading = reading;
  gtk_label_set_label (self->what, words != NULL ? words : "");
  gtk_widget_set_sensitive (GTK_WIDGET (self->open), reading != 0);
  if (reading == 0)
    gtk_toggle_button_set_active (self->open, FALSE);
}

static void
fettle_reading_void_dispose (GObject *object)
{
  FettleReadingVoid *self = FETTLE_READING_VOID (object);

  if (self->drafts != NULL)
    g_signal_handlers_disconnect_by_data (self->drafts, self);
  g_clear_object (&self->drafts);
  if (self->sitting != NULL)
    g_signal_handlers_disconnect_by_data (self->sitting, self);
  g_clear_object (&self->sitting);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_READING_VOID);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_reading_void_parent_class)->dispose (object);
}

static void
fettle_reading_void_class_init (FettleReadingVoidClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_reading_void_dispose;
  signals[LEAVE] = g_signal_new ("leave", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/reading-void.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleReadingVoid, what);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingVoid, reason);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingVoid, act);
  gtk_widget_class_bind_template_callback (widget_class, on_reason_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_act);
}

static void
fettle_reading_void_init (FettleReadingVoid *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
fettle_reading_void_set_up (FettleReadingVoid *self, FettleSitting *sitting, GtkToggleButton *open)
{
  g_return_if_fail (FETTLE_IS_READING_VOID (self) && self->sitting == NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  self->open = open;
  g_signal_connect_object (open, "toggled", G_CALLBACK (on_toggled), self, G_CONNECT_SWAPPED);
  g_signal_connect_swapped (sitting, "person-changed", G_CALLBACK (on_person_changed), self);
  g_signal_connect_swapped (self->drafts, "restored", G_CALLBACK (on_restored), self);
  if (fettle_drafts_is_restored (self->drafts))
    on_restored (self);
}
