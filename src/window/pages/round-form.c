/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "round-form.h"

#include <glib/gi18n.h>

#include "record-form.h"

struct _FettleRoundForm
{
  GtkWidget parent_instance;

  FettleRoundsAnswer *answer;
  gint64              model;
  GtkWidget          *box;
  GtkWidget          *copy;    /* check button, NULL without a round yet */
  GtkWidget          *changes; /* box of check buttons */
  FettleRecordForm   *form;
};

enum { SAVED, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleRoundForm, fettle_round_form, GTK_TYPE_WIDGET)

static BookEdit *
make_edit (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  FettleRoundForm *self = data;
  const BookRoundDraft *draft = self->answer->draft;
  GtkWidget *tick;
  BookEdit *edit;

  if (self->copy == NULL || !gtk_check_button_get_active (GTK_CHECK_BUTTON (self->copy)))
    return book_round_plan (self->model, names, texts);
  edit = book_round_copy (draft->last, names, texts);
  tick = gtk_widget_get_first_child (self->changes);
  for (guint i = 0; i < draft->offers->len && tick != NULL; i++, tick = gtk_widget_get_next_sibling (tick))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)))
      book_round_copy_change (edit, ((const BookRoundOffer *) g_ptr_array_index (draft->offers, i))->id);
  return edit;
}

static void
on_copy (FettleRoundForm *self)
{
  gtk_widget_set_sensitive (self->changes, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->copy)));
}

static GtkWidget *
make_check (const char *text, const char *name)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "wrap", TRUE, "xalign", 0.0f, "max-width-chars", 90, NULL);
  GtkWidget *check = g_object_new (GTK_TYPE_CHECK_BUTTON, "active", TRUE, "name", name, NULL);

  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  return check;
}

static void
add_copy (FettleRoundForm *self, const BookRoundDraft *draft)
{
  g_autofree char *text = g_strdup_printf (_("Copy round %s: what goes in by revision, and which unit is for which test; lots and dates stay open"),
                                           draft->last_label);

  self->copy = make_check (text, "copy-round");
  g_signal_connect_object (self->copy, "toggled", G_CALLBACK (on_copy), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), self->copy);
  self->changes = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "margin-start", 24, "name", "round-changes", NULL);
  for (guint i = 0; i < draft->offers->len; i++)
    {
      const BookRoundOffer *offer = g_ptr_array_index (draft->offers, i);
      g_autofree char *put_in = g_strdup_printf (offer->carried_out ? _("Put in change %d, %s")
                                                                    : _("Put in change %d, %s; it is carried out today"),
                                                 offer->no, offer->title);

      gtk_box_append (GTK_BOX (self->changes), make_check (put_in, "put-in"));
    }
  gtk_box_append (GTK_BOX (self->box), self->changes);
}

static void
on_saved (FettleRoundForm *self, gint64 id)
{
  g_signal_emit (self, signals[SAVED], 0, id);
}

static void
on_closed (FettleRoundForm *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
add_form (FettleRoundForm *self, FettleSitting *sitting, BookRoundDraft *draft)
{
  static const char *const names[] = { "label", "kind", "planned_units", "question", "planned_design_fixed", "planned_parts_ready",
                                       "planned_built", "planned_tested", "planned_decided", NULL };
  static const char *const preset[] = { "label", "kind", "planned_units" };

  self->form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_ROUND, names));
  gtk_widget_set_name (GTK_WIDGET (self->form), "round-form");
  fettle_record_form_set_command (self->form, make_edit, self);
  fettle_record_form_set_label (self->form, _("Plan the Round"));
  for (guint i = 0; i < G_N_ELEMENTS (preset); i++)
    if (draft->last != 0 && book_form_find (draft->form, preset[i])->text[0] != '\0')
      fettle_record_form_preset (self->form, preset[i], book_form_find (draft->form, preset[i])->text);
  g_signal_connect_object (self->form, "saved", G_CALLBACK (on_saved), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->form, "closed", G_CALLBACK (on_closed), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->form));
  fettle_record_form_begin (self->form, self->model);
  fettle_record_form_focus (self->form, draft->last != 0 ? "question" : "label");
}

static void
fettle_round_form_dispose (GObject *object)
{
  FettleRoundForm *self = FETTLE_ROUND_FORM (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->answer, fettle_rounds_answer_unref);
  G_OBJECT_CLASS (fettle_round_form_parent_class)->dispose (object);
}

static void
fettle_round_form_class_init (FettleRoundFormClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_round_form_dispose;
  signals[SAVED] = g_signal_new ("saved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CLOSED] = g_signal_new ("closed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_round_form_init (FettleRoundForm *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

/**
 * fettle_round_form_new:
 * @sitting: to write
 * @model: key
 * @answer: what the next round begins with
 *
 * Returns: the form; copying the last round is what it begins with
 */
GtkWidget *
fettle_round_form_new (FettleSitting *sitting, gint64 model, FettleRoundsAnswer *answer)
{
  FettleRoundForm *self = g_object_new (FETTLE_TYPE_ROUND_FORM, NULL);

  self->model = model;
  self->answer = fettle_rounds_answer_ref (answer);
  if (answer->draft->last != 0)
    add_copy (self, answer->draft);
  add_form (self, sitting, answer->draft);
  return GTK_WIDGET (self);
}
