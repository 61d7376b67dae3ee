/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pilot-page.h"

#include <glib/gi18n.h>

#include "chart-rows.h"
#include "chart-theme.h"
#include "chart-view.h"
#include "look.h"
#include "pilot-answer.h"
#include "rate-view.h"
#include "record-form.h"
#include "sentence.h"
#include "sheet-view.h"
#include "today.h"
#include "unparent.h"

#define CHART_WORDS      28 /* height of the line below the drawing */

/* The tables of the run, from above; the days come last of all. */
enum { STEPS, LOSSES, WORK, DAYS, N_SHEETS };

struct _FettlePilotPage
{
  GtkWidget parent_instance;

  GtkWidget       *content;
  GtkLabel        *lead;
  GtkWidget       *count;
  GtkBox          *form_place;
  GtkBox          *notes;
  GtkWidget       *yield_sheet;
  FettleChartView *yield;
  GtkWidget       *losses_head;
  GtkWidget       *losses_sheet;
  FettleChartView *losses;
  FettleSheetView *sheets[N_SHEETS];
  FettleRateView  *rate;

  FettleSitting *sitting;
  FettleSpan     span;
  gint64         tally; /* just stored; 0: none */
  GCancellable  *asking;
};

static void fettle_pilot_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettlePilotPage, fettle_pilot_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_pilot_page_page_init))

static void
show_chart (FettleChartView *view, GtkWidget *sheet, Chart *chart, const char *label, const char *words)
{
  int height;

  gtk_widget_set_visible (sheet, chart != NULL);
  if (chart == NULL)
    return;
  height = (int) chart_rows_height (chart, chart_theme (fettle_look_chart ()));
  gtk_widget_set_size_request (GTK_WIDGET (view), -1, height + CHART_WORDS);
  fettle_chart_view_set_height (view, height);
  fettle_chart_view_set_words (view, label, words);
  fettle_chart_view_take_chart (view, chart);
}

static void
show_notes (FettlePilotPage *self, GPtrArray *notes)
{
  fettle_sentences_show (self->notes, notes, "dim");
}

static void
show_answer (FettlePilotPage *self, FettlePilotAnswer *answer)
{
  const PresentPilot *words = answer->words;
  const PresentSheet *const sheets[N_SHEETS] = { words->steps, words->losses, words->work, words->days };
  gboolean lost = answer->data->n_losses > 0;

  gtk_label_set_label (self->lead, words->headline);
  show_notes (self, words->notes);
  show_chart (self->yield, self->yield_sheet, g_steal_pointer (&answer->yield), _("Yield by step"), words->headline);
  gtk_widget_set_visible (self->losses_head, lost);
  if (lost)
    show_chart (self->losses, self->losses_sheet, g_steal_pointer (&answer->losses), _("What was lost, and to what"), "");
  else
    gtk_widget_set_visible (self->losses_sheet, FALSE);
  for (guint i = 0; i < N_SHEETS; i++)
    fettle_sheet_view_set (self->sheets[i], sheets[i]);
  gtk_widget_set_visible (GTK_WIDGET (self->rate), answer->input->n_steps > 0);
  fettle_rate_view_take (self->rate, g_steal_pointer (&answer->input));
  gtk_widget_set_visible (self->count, self->span.to != 0 && answer->data->n_steps > 0);
  gtk_widget_set_visible (self->content, TRUE);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettlePilotPage) self = FETTLE_PILOT_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettlePilotAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting != NULL)
    show_answer (self, answer);
  fettle_pilot_answer_free (answer);
}

static void
ask (FettlePilotPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_pilot_ask_work, fettle_pilot_ask_new (&self->span), fettle_pilot_ask_free,
                      fettle_pilot_answer_free, self->asking, on_answer, g_object_ref (self));
}

static void
close_form (FettlePilotPage *self)
{
  fettle_unparent_children (self->form_place);
  gtk_widget_grab_focus (self->count);
}

static GtkWidget *
place_form (FettlePilotPage *self, const char *words, BookRecordId record, const char *const *fields)
{
  GtkWidget *form = fettle_record_form_new (self->sitting, record, fields);

  fettle_unparent_children (self->form_place);
  gtk_box_append (self->form_place, g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0f, "wrap", TRUE, "css-classes",
                                                  (const char *[]){ "dim", NULL }, NULL));
  gtk_widget_set_name (form, "pilot-form");
  gtk_box_append (self->form_place, form);
  return form;
}

/* What the tally that was just stored lost, issue after issue, until the form is closed. */
static void
ask_loss (FettlePilotPage *self)
{
  static const char *const fields[] = { "issue", "units", NULL };
  GtkWidget *form = place_form (self, _("The tally is stored. Where pieces were not good because of an issue, say which and how many; "
                                        "else leave."), BOOK_RECORD_TALLY_LOSS, fields);

  fettle_record_form_set_within (FETTLE_RECORD_FORM (form), "issue", self->span.model);
  g_signal_connect_object (form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  fettle_record_form_begin (FETTLE_RECORD_FORM (form), self->tally);
  fettle_record_form_focus (FETTLE_RECORD_FORM (form), "issue");
}

static void
on_tally_saved (FettlePilotPage *self, gint64 id)
{
  self->tally = id;
}

static void
on_tally_closed (FettlePilotPage *self)
{
  if (self->tally != 0)
    ask_loss (self);
  else
    close_form (self);
}

/* A tally: of which step, what went in and what became of it. */
static void
on_count (FettlePilotPage *self)
{
  static const char *const fields[] = { "step", "date", "person", "units_in", "good_first", "reworked_good", "waiting", "scrapped",
                                        "minutes", "setup_minutes", "rework_minutes", NULL };
  GtkWidget *form = place_form (self, _("What a step passed, reworked and scrapped on a day, before units have serials."),
                                BOOK_RECORD_TALLY, fields);
  g_autofree char *today = fettle_today ();

  self->tally = 0;
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "round", self->span.to);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "person", fettle_sitting_get_person (self->sitting));
  fettle_record_form_preset (FETTLE_RECORD_FORM (form), "date", today);
  fettle_record_form_set_within (FETTLE_RECORD_FORM (form), "step", self->span.model);
  g_signal_connect_object (form, "saved", G_CALLBACK (on_tally_saved), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (form, "closed", G_CALLBACK (on_tally_closed), self, G_CONNECT_SWAPPED);
  fettle_record_form_begin (FETTLE_RECORD_FORM (form), 0);
  fettle_record_form_focus (FETTLE_RECORD_FORM (form), "step");
}

static void
fettle_pilot_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettlePilotPage *self = FETTLE_PILOT_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.to == span->to;

  self->span = *span;
  if (same)
    return;
  fettle_unparent_children (self->form_place); /* it was for another round; what is typed is kept among the drafts */
  ask (self);
}

static void
fettle_pilot_page_refresh (FettlePage *page)
{
  ask (FETTLE_PILOT_PAGE (page));
}

static void
fettle_pilot_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_pilot_page_set_span;
  iface->refresh = fettle_pilot_page_refresh;
}

static void
on_loss_activated (FettlePilotPage *self, gint64 key)
{
  if (key != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "issue", key);
}

/* The menu's entry to store; the window itself turns it off while another page is in view. */
static void
show_can_store (FettlePilotPage *self)
{
  GtkRoot *window = gtk_widget_get_root (GTK_WIDGET (self));

  if (window != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_action_set_enabled (GTK_WIDGET (window), "win.pilot-store", fettle_rate_view_can_store (self->rate));
}

static void
fettle_pilot_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (fettle_pilot_page_parent_class)->map (widget);
  show_can_store (FETTLE_PILOT_PAGE (widget));
}

/* By its keys and the menu: 'count', 'store'. */
static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettlePilotPage *self = FETTLE_PILOT_PAGE (widget);

  if (g_str_equal (g_variant_get_string (parameter, NULL), "store"))
    {
      if (gtk_widget_get_mapped (GTK_WIDGET (self->rate)))
        fettle_rate_view_store (self->rate);
    }
  else if (gtk_widget_get_mapped (self->count))
    on_count (self);
}

static void
fettle_pilot_page_dispose (GObject *object)
{
  FettlePilotPage *self = FETTLE_PILOT_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_PILOT_PAGE);
  fettle_unparent_children (self);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_pilot_page_parent_class)->dispose (object);
}

static void
fettle_pilot_page_class_init (FettlePilotPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_pilot_page_dispose;
  widget_class->map = fettle_pilot_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  g_type_ensure (FETTLE_TYPE_RATE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/pilot-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, count);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, form_place);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, notes);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, yield_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, yield);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, losses_head);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, losses_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, losses);
  gtk_widget_class_bind_template_child (widget_class, FettlePilotPage, rate);
  gtk_widget_class_install_action (widget_class, "pilot.act", "s", on_act);
  gtk_widget_class_bind_template_callback (widget_class, on_count);
  gtk_widget_class_bind_template_callback (widget_class, on_loss_activated);
}

static void
fettle_pilot_page_init (FettlePilotPage *self)
{
  static const char *const names[N_SHEETS] = { "pilot-steps", "pilot-losses", "pilot-work", "pilot-days" };
  GtkWidget *after[N_SHEETS];

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < N_SHEETS; i++)
    self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
  after[STEPS] = self->yield_sheet;
  after[LOSSES] = self->losses_sheet;
  after[WORK] = GTK_WIDGET (self->sheets[LOSSES]);
  after[DAYS] = GTK_WIDGET (self->rate);
  for (guint i = 0; i < N_SHEETS; i++)
    gtk_box_insert_child_after (GTK_BOX (self->content), GTK_WIDGET (self->sheets[i]), after[i]);
}

/**
 * fettle_pilot_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_pilot_page_new (FettleSitting *sitting)
{
  FettlePilotPage *self = g_object_new (FETTLE_TYPE_PILOT_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  fettle_rate_view_set_sitting (self->rate, sitting);
  g_signal_connect_object (self->rate, "can-store-changed", G_CALLBACK (show_can_store), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
