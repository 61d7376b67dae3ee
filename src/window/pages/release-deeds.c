/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "release-deeds.h"

#include <glib/gi18n.h>

#include "book-evidence.h"
#include "book-release.h"
#include "deed-form.h"
#include "reveal.h"
#include "tip.h"
#include "unparent.h"

#define WORDS_LEAST_CHARS 24
#define WORDS_MOST_CHARS  80

enum { OPINION, WAIVE, DECIDE, WITHDRAW, N_DEEDS };

struct _FettleReleaseDeeds
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  gint64         model;
  gint64         gate;
  gint64         criterion;
  char          *code;
  BookRecordId   record; /* of the deed that is chosen */
  gint64         deed;
  BookRecordId   about_record; /* of what the form that is open names, whatever is chosen meanwhile */
  gint64         about;
  FettleReleaseAnswer *answer;   /* what is known; NULL: nothing yet */
  GBytes              *evidence; /* of it, what a decision freezes; NULL: on its way */
  FettleDeedForm      *waiting;  /* (weak) the decision that is taken as soon as the evidence is there */
  char               **waiting_texts; /* as they were when it was to be taken */
  GtkWidget     *buttons[N_DEEDS];
  GtkWidget     *form_place;
};

static const char *const deed_names[N_DEEDS] = { "opinion", "waive", "decide", "withdraw" };

enum { CLOSED, AWAITS_EVIDENCE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleReleaseDeeds, fettle_release_deeds, GTK_TYPE_WIDGET)

static void
close_form (FettleReleaseDeeds *self)
{
  g_signal_emit (self, signals[CLOSED], 0); /* before the form goes, so that the keyboard is somewhere */
  fettle_unparent_children (self->form_place);
}

/* The texts of @fields, as the commands take them. */
static char **
texts_of (FettleDeedForm *form, const char *const *fields)
{
  guint n = g_strv_length ((char **) fields);
  char **texts = g_new0 (char *, n + 1);

  for (guint i = 0; i < n; i++)
    texts[i] = fettle_deed_form_dup_text (form, fields[i]);
  return texts;
}

static const char *const opinion_fields[] = { "opinion", "conditions", "reason", "person", NULL };
static const char *const waiver_fields[] = { "reason", "until", "person", NULL };
static const char *const decision_fields[] = { "verdict", "at_most_units", "conditions", "reason", "person", NULL };
static const char *const withdrawal_fields[] = { "reason", "person", NULL };

static BookEdit *
make_opinion (FettleDeedForm *form, gpointer data)
{
  g_auto(GStrv) texts = texts_of (form, opinion_fields);

  return book_release_sign (((FettleReleaseDeeds *) data)->about, opinion_fields, (const char *const *) texts);
}

static BookEdit *
make_waiver (FettleDeedForm *form, gpointer data)
{
  g_auto(GStrv) texts = texts_of (form, waiver_fields);

  return book_release_waive (((FettleReleaseDeeds *) data)->about, waiver_fields, (const char *const *) texts);
}

static BookEdit *
make_decision (FettleDeedForm *form, gpointer data)
{
  FettleReleaseDeeds *self = data;
  g_auto(GStrv) texts = NULL;

  texts = texts_of (form, decision_fields);
  if (self->evidence == NULL)
    {
      fettle_deed_form_say (form, _("What is known now is still being put together; then it is decided. Escape leaves it undecided."));
      g_set_weak_pointer (&self->waiting, form);
      g_strfreev (self->waiting_texts);
      self->waiting_texts = g_steal_pointer (&texts);
      g_signal_emit (self, signals[AWAITS_EVIDENCE], 0);
      return NULL;
    }
  return book_release_decide (self->about, decision_fields, (const char *const *) texts, self->evidence, &self->answer->dossier->version);
}

static BookEdit *
make_withdrawal (FettleDeedForm *form, gpointer data)
{
  FettleReleaseDeeds *self = data;
  g_auto(GStrv) texts = texts_of (form, withdrawal_fields);

  return book_release_withdraw (self->about_record, self->about, withdrawal_fields, (const char *const *) texts);
}

/* The evidence has come, for which a decision waited; it is for good, so what was typed in the meantime does not go into it unasked. */
static void
stop_waiting (FettleReleaseDeeds *self)
{
  FettleDeedForm *form = self->waiting;
  g_auto(GStrv) wanted = g_steal_pointer (&self->waiting_texts);
  g_auto(GStrv) texts = NULL;

  if (form == NULL)
    return;
  g_clear_weak_pointer (&self->waiting);
  texts = texts_of (form, decision_fields);
  if (g_strv_equal ((const char *const *) texts, (const char *const *) wanted))
    fettle_deed_form_do (form);
  else
    fettle_deed_form_say (form, _("The evidence is there, but the form was changed meanwhile: look at it, and decide again."));
}

/* Whoever writes stands for it, and may say otherwise. */
static void
preset_person (FettleReleaseDeeds *self, FettleDeedForm *form)
{
  const BookEvidence *e = self->answer != NULL ? self->answer->dossier->evidence : NULL;
  const gint64 person = fettle_sitting_get_person (self->sitting);

  for (guint i = 0; e != NULL && person != 0 && i < e->n_persons; i++)
    if (e->persons[i].id == person)
      fettle_deed_form_preset (form, "person", e->persons[i].initials, e->persons[i].initials);
}

/* @about: key of what the deed is done to: a gate, a criterion, or what is withdrawn. */
static void
show_form (FettleReleaseDeeds *self, guint deed, BookRecordId record, const char *const *fields, const char *label, const char *sentence,
           FettleDeedMake make, gint64 about)
{
  GtkWidget *form = fettle_deed_form_new (self->sitting, record, fields, label, make, self);
  g_autofree char *place = g_strdup_printf ("release-%s-%" G_GINT64_FORMAT, deed_names[deed], about);

  self->about_record = record;
  self->about = about;
  gtk_widget_set_name (form, "release-form");
  fettle_unparent_children (self->form_place);
  if (sentence != NULL)
    gtk_box_append (GTK_BOX (self->form_place),
                    g_object_new (GTK_TYPE_LABEL, "label", sentence, "xalign", 0.0f, "wrap", TRUE, "width-chars", WORDS_LEAST_CHARS,
                                  "max-width-chars", WORDS_MOST_CHARS, "halign", GTK_ALIGN_START, "css-classes",
                                  (const char *[]){ "dim", NULL }, NULL));
  gtk_box_append (GTK_BOX (self->form_place), form);
  g_signal_connect_object (form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  preset_person (self, FETTLE_DEED_FORM (form));
  fettle_deed_form_begin (FETTLE_DEED_FORM (form), place, self->model);
  fettle_deed_form_focus (FETTLE_DEED_FORM (form), fields[0]);
  fettle_reveal (self->form_place);
}

static gboolean
is_met (FettleReleaseDeeds *self, gint64 id)
{
  const InsightCriterion *criterion = self->answer != NULL ? insight_standing_find_criterion (self->answer->dossier->standing->data, id) : NULL;

  return criterion != NULL && criterion->state == INSIGHT_MET;
}

static void
begin (FettleReleaseDeeds *self, guint deed)
{
  if (self->gate == 0)
    return;
  switch (deed)
    {
    case OPINION:
      show_form (self, deed, BOOK_RECORD_SIGNOFF, opinion_fields, _("Note the Opinion"),
                 _("An opinion is noted for good; the signature itself is on the printed pack. Without a person it is yours."), make_opinion,
                 self->gate);
      break;
    case WAIVE:
      if (self->criterion == 0)
        fettle_sitting_say (self->sitting, _("No criterion is chosen: choose the one to be waived in the list."), NULL, NULL);
      else if (is_met (self, self->criterion))
        {
          g_autofree char *said = g_strdup_printf (_("%s is met, so there is nothing to waive."), self->code);

          fettle_sitting_say (self->sitting, said, NULL, NULL);
        }
      else
        {
          g_autofree char *sentence = g_strdup_printf (_("Until its last day %s does not block. It stays unmet, and the waiver is named wherever "
                                                         "somebody decides. It is noted for good; what is withdrawn later stays to be "
                                                         "seen."), self->code);

          show_form (self, deed, BOOK_RECORD_WAIVER, waiver_fields, _("Waive It"), sentence, make_waiver, self->criterion);
        }
      break;
    case DECIDE:
      show_form (self, deed, BOOK_RECORD_DECISION, decision_fields, _("Decide"),
                 _("What is known now is frozen with the decision, which is never changed. Write a condition a line: what is to be done; who; "
                   "until when."), make_decision, self->gate);
      break;
    case WITHDRAW:
      if (self->deed == 0)
        fettle_sitting_say (self->sitting, _("Nothing is chosen: choose the opinion, waiver or decision to be withdrawn."), NULL, NULL);
      else
        show_form (self, deed, self->record, withdrawal_fields, _("Withdraw It"), _("It stays to be seen, as withdrawn."), make_withdrawal,
                   self->deed);
      break;
    default:
      break;
    }
}

/**
 * fettle_release_deeds_act:
 * @self: the widget
 * @what: 'opinion', 'waive', 'decide' or 'withdraw'
 */
void
fettle_release_deeds_act (FettleReleaseDeeds *self, const char *what)
{
  g_return_if_fail (FETTLE_IS_RELEASE_DEEDS (self));

  for (guint i = 0; i < N_DEEDS; i++)
    if (g_str_equal (what, deed_names[i]))
      begin (self, i);
}

static void
on_button (FettleReleaseDeeds *self, GtkWidget *button)
{
  for (guint i = 0; i < N_DEEDS; i++)
    if (self->buttons[i] == button)
      begin (self, i);
}

static void
set_sensitive (FettleReleaseDeeds *self)
{
  gtk_widget_set_sensitive (self->buttons[OPINION], self->gate != 0);
  gtk_widget_set_sensitive (self->buttons[DECIDE], self->gate != 0);
  gtk_widget_set_sensitive (self->buttons[WAIVE], self->criterion != 0);
  gtk_widget_set_sensitive (self->buttons[WITHDRAW], self->deed != 0);
}

void
fettle_release_deeds_set_gate (FettleReleaseDeeds *self, gint64 model, gint64 gate)
{
  if (gate != self->gate)
    {
      fettle_unparent_children (self->form_place); /* what is typed is kept among the drafts */
      self->criterion = self->deed = 0;
    }
  self->model = model;
  self->gate = gate;
  set_sensitive (self);
}

void
fettle_release_deeds_set_answer (FettleReleaseDeeds *self, FettleReleaseAnswer *answer, guint gate)
{
  g_clear_pointer (&self->evidence, g_bytes_unref);
  g_clear_pointer (&self->answer, fettle_release_answer_unref);
  self->answer = fettle_release_answer_ref (answer);
  if (answer->documents != NULL && gate < answer->documents->len)
    {
      self->evidence = g_bytes_ref (answer->documents->pdata[gate]);
      stop_waiting (self);
    }
}

void
fettle_release_deeds_set_criterion (FettleReleaseDeeds *self, gint64 criterion, const char *code)
{
  self->criterion = criterion;
  g_free (self->code);
  self->code = g_strdup (code);
  set_sensitive (self);
}

void
fettle_release_deeds_set_deed (FettleReleaseDeeds *self, BookRecordId record, gint64 id)
{
  self->record = record;
  self->deed = id;
  set_sensitive (self);
}

/* ---- as a widget ---- */

static void
fettle_release_deeds_dispose (GObject *object)
{
  FettleReleaseDeeds *self = FETTLE_RELEASE_DEEDS (object);

  fettle_unparent_children (self);
  g_clear_pointer (&self->evidence, g_bytes_unref);
  g_clear_pointer (&self->answer, fettle_release_answer_unref);
  g_clear_pointer (&self->code, g_free);
  g_clear_weak_pointer (&self->waiting);
  g_clear_pointer (&self->waiting_texts, g_strfreev);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_release_deeds_parent_class)->dispose (object);
}

static void
fettle_release_deeds_class_init (FettleReleaseDeedsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_release_deeds_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[AWAITS_EVIDENCE] = g_signal_new ("awaits-evidence", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_release_deeds_init (FettleReleaseDeeds *self)
{
  static const struct
  {
    const char *label, *name, *tooltip;
  } buttons[N_DEEDS] = {
    [OPINION] = { N_("Note an Opinion…"), "release-opinion", N_("What somebody thinks of passing this gate (F3)") },
    [WAIVE] = { N_("Waive…"), "release-waive", N_("Takes the chosen criterion out of what blocks, until a day (F4)") },
    [DECIDE] = { N_("Decide…"), "release-decide", N_("Release, another round, or stop; by an owner (F7)") },
    [WITHDRAW] = { N_("Withdraw…"), "release-withdraw", N_("Takes the chosen opinion, waiver or decision back (F6)") },
  };
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *pack;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  gtk_widget_set_margin_top (GTK_WIDGET (self), 10);
  for (guint i = 0; i < N_DEEDS; i++)
    {
      self->buttons[i] = g_object_new (GTK_TYPE_BUTTON, "label", _(buttons[i].label), "name", buttons[i].name, "css-classes",
                                       (const char *[]){ "plain", NULL }, NULL);
      fettle_tip_set (self->buttons[i], _(buttons[i].tooltip));
      g_signal_connect_object (self->buttons[i], "clicked", G_CALLBACK (on_button), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (line), self->buttons[i]);
    }
  pack = g_object_new (GTK_TYPE_BUTTON, "label", _("Decision Pack"), "name", "release-pack", "action-name", "win.pack",
                       "action-target", g_variant_new_string ("show"), "css-classes", (const char *[]){ "plain", NULL }, NULL);
  fettle_tip_set (pack, _("As it will be printed and signed (Ctrl+Shift+D)"));
  gtk_box_append (GTK_BOX (line), pack);
  self->form_place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->form_place, GTK_WIDGET (self));
  set_sensitive (self);
}

/**
 * fettle_release_deeds_new:
 * @sitting: whose book
 *
 * Returns: the widget, without a gate
 */
GtkWidget *
fettle_release_deeds_new (FettleSitting *sitting)
{
  FettleReleaseDeeds *self = g_object_new (FETTLE_TYPE_RELEASE_DEEDS, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
