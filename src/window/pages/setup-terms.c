/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Terms are dated, so that evidence is judged by what was asked for then: what is changed becomes a row of today, which
 * begins as the one in force, and the earlier one stays for its days.
 */
#include "config.h"

#include "setup-terms.h"

#include <glib/gi18n.h>

#include "book-form.h"
#include "book-terms.h"
#include "present-setup.h"
#include "record-form.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"

struct _FettleSetupTerms
{
  GtkWidget parent_instance;

  FettleSitting    *sitting;
  gint64            criterion;
  GCancellable     *asking;
  GtkLabel         *heading;
  GtkLabel         *words;
  GtkWidget        *change;
  GtkBox           *place;
  FettleRecordForm *form;  /* NULL: none is open */
  gpointer          known; /* Known: what the form begins with; NULL until the book has answered */
};

G_DEFINE_FINAL_TYPE (FettleSetupTerms, fettle_setup_terms, GTK_TYPE_WIDGET)

/* ---- what the book has ---- */

typedef struct
{
  BookTermsNow *now;
  BookForm     *form; /* of the row in force; NULL: there is none */
} Known;

static void
known_free (gpointer data)
{
  Known *known = data;

  if (known == NULL)
    return;
  book_terms_now_free (known->now);
  g_clear_pointer (&known->form, book_form_free);
  g_free (known);
}

typedef struct
{
  gint64 criterion;
  char  *today;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static gpointer
work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Ask *ask = data;
  Known *known = g_new0 (Known, 1);

  known->now = book_terms_now (db, ask->criterion, ask->today, error);
  if (known->now != NULL && known->now->row != 0)
    known->form = book_form_read (db, book_record (BOOK_RECORD_CRITERION_TERM), known->now->row, error);
  if (known->now == NULL || (known->now->row != 0 && known->form == NULL))
    {
      known_free (known);
      return NULL;
    }
  return known;
}

/* ---- the form ---- */

static void
close_form (FettleSetupTerms *self)
{
  if (self->form == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->form, self);
  if ((gtk_widget_get_state_flags (GTK_WIDGET (self->form)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_grab_focus (self->change); /* before the form goes */
  fettle_unparent_children (self->place);
  self->form = NULL;
  gtk_widget_set_visible (GTK_WIDGET (self->place), FALSE);
  gtk_widget_set_visible (self->change, TRUE);
}

/* As the terms in force, but of today and by who writes. */
static void
preset (FettleSetupTerms *self, const Known *known, const char *const *fields, const char *today)
{
  fettle_record_form_preset_key (self->form, "criterion", self->criterion);
  for (guint i = 0; known->form != NULL && fields[i] != NULL; i++)
    {
      const BookFormField *field = book_form_find (known->form, fields[i]);

      if (field->refers == 0 && !g_str_equal (fields[i], "reason"))
        fettle_record_form_preset (self->form, fields[i], field->text);
    }
  fettle_record_form_preset (self->form, "from_date", today);
  fettle_record_form_preset_key (self->form, "person", fettle_sitting_get_person (self->sitting));
}

static void
open_form (FettleSetupTerms *self)
{
  const Known *known = self->known;
  const char *const *fields;
  g_autofree char *today = fettle_today ();

  if (known == NULL || self->form != NULL)
    return;
  fields = book_terms_fields (known->now->kind);
  self->form = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_CRITERION_TERM, fields));
  gtk_box_append (self->place, GTK_WIDGET (self->form));
  g_signal_connect_object (self->form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  gtk_widget_set_visible (GTK_WIDGET (self->place), TRUE);
  gtk_widget_set_visible (self->change, FALSE);
  if (g_str_equal (known->now->from, today))
    fettle_record_form_show (self->form, known->now->row);
  else
    {
      preset (self, known, fields, today);
      fettle_record_form_begin (self->form, self->criterion);
    }
  fettle_record_form_focus (self->form, fields[1]);
}

/* ---- showing ---- */

static void
on_answer (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSetupTerms) self = data;
  g_autoptr(GError) error = NULL;
  Known *known = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  g_autofree char *heading = NULL, *words = NULL;

  if (known == NULL || self->place == NULL)
    {
      known_free (known); /* a criterion that was deleted meanwhile: the page shows another one */
      return;
    }
  g_clear_pointer (&self->known, known_free);
  self->known = known;
  /* Translators: %s is the code of a criterion */
  heading = g_strdup_printf (_("What %s asks for"), known->now->code);
  words = present_setup_terms_now (known->now);
  gtk_label_set_label (self->heading, heading);
  gtk_label_set_label (self->words, words);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

static void
ask (FettleSetupTerms *self)
{
  Ask *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->criterion == 0)
    return;
  question = g_new (Ask, 1);
  *question = (Ask){ self->criterion, fettle_today () };
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, work, question, ask_free, known_free, self->asking, on_answer, g_object_ref (self));
}

void
fettle_setup_terms_show (FettleSetupTerms *self, gint64 criterion)
{
  g_return_if_fail (FETTLE_IS_SETUP_TERMS (self));

  if (self->criterion != criterion)
    {
      close_form (self); /* what is typed stays among the drafts */
      g_clear_pointer (&self->known, known_free);
      self->criterion = criterion;
      gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
    }
  ask (self); /* the page has an answer: somebody may have stored something */
}

/* ---- as an object ---- */

static void
fettle_setup_terms_dispose (GObject *object)
{
  FettleSetupTerms *self = FETTLE_SETUP_TERMS (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  self->place = NULL;
  g_clear_pointer (&self->known, known_free);
  g_clear_object (&self->sitting);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_setup_terms_parent_class)->dispose (object);
}

static void
fettle_setup_terms_class_init (FettleSetupTermsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_setup_terms_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static GtkLabel *
add_label (FettleSetupTerms *self, const char *name, const char *css)
{
  GtkLabel *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "name", name,
                                  "css-classes", (const char *[]){ css, NULL }, NULL);

  gtk_widget_set_parent (GTK_WIDGET (label), GTK_WIDGET (self));
  return label;
}

static void
fettle_setup_terms_init (FettleSetupTerms *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  self->heading = add_label (self, "terms-heading", "field-label");
  self->words = add_label (self, "terms-now", "words");
  self->change = g_object_new (GTK_TYPE_BUTTON, "label", _("Ask for Something Else…"), "name", "terms-change", "halign", GTK_ALIGN_START,
                               "css-classes", (const char *[]){ "plain", NULL }, NULL);
  fettle_tip_set (self->change, _("Other terms from today on; what was asked for before stays for its days"));
  g_signal_connect_object (self->change, "clicked", G_CALLBACK (open_form), self, G_CONNECT_SWAPPED);
  gtk_widget_set_parent (self->change, GTK_WIDGET (self));
  self->place = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "visible", FALSE, "name", "terms-form", NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->place), GTK_WIDGET (self));
}

GtkWidget *
fettle_setup_terms_new (FettleSitting *sitting)
{
  FettleSetupTerms *self = g_object_new (FETTLE_TYPE_SETUP_TERMS, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
