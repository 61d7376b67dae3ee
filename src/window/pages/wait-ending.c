/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wait-ending.h"

#include <glib/gi18n.h>

#include "book-round.h"
#include "deed-form.h"
#include "reveal.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"

#define WORDS_LEAST_CHARS 16
#define WORDS_MOST_CHARS  60

struct _FettleWaitEnding
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  gint64         wait; /* 0: none */
  gint64         model;
  GtkLabel      *words;
  GtkWidget     *today;
  GtkWidget     *on;
  GtkWidget     *form_place;
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleWaitEnding, fettle_wait_ending, GTK_TYPE_WIDGET)

static void
close_form (FettleWaitEnding *self)
{
  g_signal_emit (self, signals[CLOSED], 0); /* before the form goes, so that the keyboard is somewhere */
  fettle_unparent_children (self->form_place);
}

static void
on_ended (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleWaitEnding) self = data;
  g_autoptr(GError) error = NULL;

  if (fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    {
      if (self->form_place != NULL)
        close_form (self);
    }
  else
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

/* Without a wait it says what to do instead. */
static gboolean
has_wait (FettleWaitEnding *self)
{
  if (self->wait == 0)
    fettle_sitting_say (self->sitting, _("No wait is chosen: choose the one that ended among what is open."), NULL, NULL);
  return self->wait != 0;
}

/**
 * fettle_wait_ending_today:
 * @self: the widget
 *
 * Notes that the wait ended today.
 */
void
fettle_wait_ending_today (FettleWaitEnding *self)
{
  g_return_if_fail (FETTLE_IS_WAIT_ENDING (self));

  if (has_wait (self))
    fettle_sitting_edit (self->sitting, book_round_end_wait (self->wait, NULL), on_ended, g_object_ref (self));
}

static BookEdit *
make_end (FettleDeedForm *form, gpointer data)
{
  g_autofree char *on = fettle_deed_form_dup_text (form, "to_date");

  return book_round_end_wait (((FettleWaitEnding *) data)->wait, on);
}

/**
 * fettle_wait_ending_on:
 * @self: the widget
 *
 * Asks for the day on which the wait ended.
 */
void
fettle_wait_ending_on (FettleWaitEnding *self)
{
  static const char *const fields[] = { "to_date", NULL };
  FettleDeedForm *form;
  g_autofree char *today = fettle_today ();
  g_autofree char *place = NULL;

  g_return_if_fail (FETTLE_IS_WAIT_ENDING (self));

  if (!has_wait (self))
    return;
  form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_WAIT, fields, _("End the Wait"), make_end, self));
  place = g_strdup_printf ("wait-end-%" G_GINT64_FORMAT, self->wait);
  gtk_widget_set_name (GTK_WIDGET (form), "wait-form");
  fettle_unparent_children (self->form_place);
  gtk_box_append (GTK_BOX (self->form_place), GTK_WIDGET (form));
  g_signal_connect_object (form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  fettle_deed_form_preset (form, "to_date", today, "");
  fettle_deed_form_begin (form, place, self->model);
  fettle_deed_form_focus (form, "to_date");
  fettle_reveal (GTK_WIDGET (self));
}

/**
 * fettle_wait_ending_show:
 * @self: the widget
 * @wait: key of a wait that lasts; 0: none
 * @words: what is waited for
 * @model: of which model
 *
 * The wait that is shown already keeps its deed, with what is typed.
 */
void
fettle_wait_ending_show (FettleWaitEnding *self, gint64 wait, const char *words, gint64 model)
{
  g_autofree char *end = NULL, *on = NULL;

  g_return_if_fail (FETTLE_IS_WAIT_ENDING (self));

  if (wait != self->wait)
    fettle_unparent_children (self->form_place); /* what is typed is kept among the drafts */
  self->wait = wait;
  self->model = model;
  gtk_widget_set_visible (GTK_WIDGET (self), wait != 0);
  if (wait == 0)
    return;
  end = g_strdup_printf (_("End today: %s"), words);
  on = g_strdup_printf (_("End on another day: %s"), words);
  gtk_label_set_label (self->words, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->today), GTK_ACCESSIBLE_PROPERTY_LABEL, end, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->on), GTK_ACCESSIBLE_PROPERTY_LABEL, on, -1);
}

/* ---- as a widget ---- */

static void
fettle_wait_ending_dispose (GObject *object)
{
  FettleWaitEnding *self = FETTLE_WAIT_ENDING (object);

  self->form_place = NULL;
  fettle_unparent_children (self);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_wait_ending_parent_class)->dispose (object);
}

static void
fettle_wait_ending_class_init (FettleWaitEndingClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_wait_ending_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
make_button (FettleWaitEnding *self, const char *label, const char *name, const char *tooltip, GCallback pressed)
{
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", label, "name", name, "valign", GTK_ALIGN_CENTER,
                                    "css-classes", (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (button, tooltip);
  g_signal_connect_object (button, "clicked", pressed, self, G_CONNECT_SWAPPED);
  return button;
}

static void
fettle_wait_ending_init (FettleWaitEnding *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  gtk_widget_set_margin_top (GTK_WIDGET (self), 6);
  self->words = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", WORDS_LEAST_CHARS, "max-width-chars",
                              WORDS_MOST_CHARS, "css-classes", (const char *[]){ "open", NULL }, NULL);
  self->today = make_button (self, _("Ended Today"), "wait-today", _("Notes that it ended today (F6)"), G_CALLBACK (fettle_wait_ending_today));
  self->on = make_button (self, _("On Another Day…"), "wait-on", _("Notes an earlier day for it (Shift+F6)"), G_CALLBACK (fettle_wait_ending_on));
  self->form_place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->words));
  gtk_box_append (GTK_BOX (line), self->today);
  gtk_box_append (GTK_BOX (line), self->on);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->form_place, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * fettle_wait_ending_new:
 * @sitting: the window's
 *
 * Returns: without a wait yet
 */
GtkWidget *
fettle_wait_ending_new (FettleSitting *sitting)
{
  FettleWaitEnding *self = g_object_new (FETTLE_TYPE_WAIT_ENDING, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
