/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issue-raise.h"

#include <glib/gi18n.h>

#include "issue-form.h"
#include "issues-answer.h"
#include "reveal.h"
#include "today.h"
#include "unparent.h"

struct _FettleIssueRaise
{
  GtkWidget parent_instance;

  FettleSitting     *sitting;
  FettleSpan         span;
  FettleIssueOrigin *origin; /* the reading that it is raised from; NULL: none */
  GCancellable      *asking;
  GtkWidget         *box;
  GtkWidget         *form; /* NULL: none is open */
};

enum { RAISED, CLOSING, TOGGLED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleIssueRaise, fettle_issue_raise, GTK_TYPE_WIDGET)

void
fettle_issue_raise_close (FettleIssueRaise *self)
{
  g_return_if_fail (FETTLE_IS_ISSUE_RAISE (self));

  g_cancellable_cancel (self->asking);
  if (self->form == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->form, self);
  g_signal_emit (self, signals[CLOSING], 0);
  fettle_unparent_children (self->box);
  self->form = NULL;
  g_clear_pointer (&self->origin, fettle_issue_origin_free);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_signal_emit (self, signals[TOGGLED], 0);
}

static void
on_saved (FettleIssueRaise *self, gint64 issue)
{
  g_signal_emit (self, signals[RAISED], 0, issue);
}

/* What the book knows of the reading. */
static void
preset_from (FettleRecordForm *form, const BookForm *known)
{
  for (guint i = 0; i < known->n_fields; i++)
    {
      const BookFormField *field = &known->fields[i];

      if (field->text[0] == '\0')
        continue;
      if (field->field->kind == BOOK_KIND_REFERENCE)
        fettle_record_form_preset_key (form, field->field->name, field->refers);
      else
        fettle_record_form_preset (form, field->field->name, field->text);
    }
}

static void
show_form (FettleIssueRaise *self)
{
  g_autofree char *today = fettle_today ();
  const FettleIssueOrigin *origin = self->origin;
  g_autofree char *heading = origin != NULL ? g_strdup_printf (_("A new issue, seen on %s"), origin->words) : g_strdup (_("A new issue"));

  self->form = fettle_issue_form_raise (self->sitting, origin != NULL ? &origin->reading : NULL);
  gtk_box_append (GTK_BOX (self->box), g_object_new (GTK_TYPE_LABEL, "label", heading, "xalign", 0.0f, "wrap", TRUE, "width-chars",
                                                     24, "max-width-chars", 90, "css-classes",
                                                     (const char *[]){ "section", NULL }, NULL));
  gtk_box_append (GTK_BOX (self->box), self->form);
  g_signal_connect_swapped (self->form, "saved", G_CALLBACK (on_saved), self);
  g_signal_connect_swapped (self->form, "closed", G_CALLBACK (fettle_issue_raise_close), self);
  if (origin != NULL)
    {
      preset_from (FETTLE_RECORD_FORM (self->form), origin->form);
      fettle_record_form_preset (FETTLE_RECORD_FORM (self->form), "title", origin->title);
    }
  else
    {
      fettle_record_form_preset_key (FETTLE_RECORD_FORM (self->form), "found_round", self->span.to);
      fettle_record_form_preset (FETTLE_RECORD_FORM (self->form), "found_on", today);
    }
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (self->form), "owner", fettle_sitting_get_person (self->sitting));
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  fettle_record_form_begin (FETTLE_RECORD_FORM (self->form), self->span.model);
  fettle_record_form_focus (FETTLE_RECORD_FORM (self->form), NULL);
  fettle_reveal (GTK_WIDGET (self));
  g_signal_emit (self, signals[TOGGLED], 0);
}

void
fettle_issue_raise_begin (FettleIssueRaise *self, const FettleSpan *span)
{
  g_return_if_fail (FETTLE_IS_ISSUE_RAISE (self));

  self->span = *span;
  if (self->form != NULL)
    fettle_record_form_focus (FETTLE_RECORD_FORM (self->form), NULL);
  else if (span->model != 0)
    show_form (self);
}

static void
on_origin (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleIssueRaise) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleIssueOrigin) origin = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (origin == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->box == NULL)
    return;
  fettle_issue_raise_close (self);
  self->origin = g_steal_pointer (&origin);
  show_form (self);
}

void
fettle_issue_raise_from (FettleIssueRaise *self, const FettleSpan *span, gint64 reading)
{
  g_return_if_fail (FETTLE_IS_ISSUE_RAISE (self));

  self->span = *span;
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_issue_origin_work, g_memdup2 (&reading, sizeof reading), g_free,
                      fettle_issue_origin_free, self->asking, on_origin, g_object_ref (self));
}

gboolean
fettle_issue_raise_is_open (FettleIssueRaise *self)
{
  g_return_val_if_fail (FETTLE_IS_ISSUE_RAISE (self), FALSE);

  return self->form != NULL;
}

static void
fettle_issue_raise_dispose (GObject *object)
{
  FettleIssueRaise *self = FETTLE_ISSUE_RAISE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->origin, fettle_issue_origin_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_issue_raise_parent_class)->dispose (object);
}

static void
fettle_issue_raise_class_init (FettleIssueRaiseClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_issue_raise_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  signals[RAISED] = g_signal_new ("raised", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CLOSING] = g_signal_new ("closing", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOGGLED] = g_signal_new ("toggled", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_issue_raise_init (FettleIssueRaise *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_name (GTK_WIDGET (self), "new-issue");
  gtk_widget_add_css_class (GTK_WIDGET (self), "sheet");
  gtk_widget_add_css_class (GTK_WIDGET (self), "form-sheet");
  gtk_widget_set_margin_top (GTK_WIDGET (self), 10);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * fettle_issue_raise_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): a place that is hidden until something is begun in it
 */
GtkWidget *
fettle_issue_raise_new (FettleSitting *sitting)
{
  FettleIssueRaise *self = g_object_new (FETTLE_TYPE_ISSUE_RAISE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
