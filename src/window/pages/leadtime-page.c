/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "leadtime-page.h"

#include <glib/gi18n.h>

#include "chart-rows.h"
#include "chart-theme.h"
#include "chart-view.h"
#include "leadtime-answer.h"
#include "look.h"
#include "sentence.h"
#include "sheet-view.h"
#include "unparent.h"
#include "wait-ending.h"

#define CHART_WORDS      28 /* height of the line below the drawing */

/* The tables, from above. */
enum { OPEN, ROUNDS, SUPPLIERS, REASONS, MEDIANS, EARLIER, N_SHEETS };

struct _FettleLeadtimePage
{
  GtkWidget parent_instance;

  GtkWidget       *content;
  GtkLabel        *lead;
  GtkLabel        *next;
  GtkWidget       *chart_sheet;
  FettleChartView *chart;
  FettleSheetView *sheets[N_SHEETS];
  FettleWaitEnding *ending;
  PresentSheet    *open; /* as shown */
  GtkBox          *notes;

  FettleSitting *sitting;
  FettleSpan     span;
  GCancellable  *asking;
};

static void fettle_leadtime_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleLeadtimePage, fettle_leadtime_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_leadtime_page_page_init))

static void
show_chart (FettleLeadtimePage *self, FettleLeadtimeAnswer *answer)
{
  int height;

  gtk_widget_set_visible (self->chart_sheet, answer->chart != NULL);
  if (answer->chart == NULL)
    return;
  height = (int) chart_rows_height (answer->chart, chart_theme (fettle_look_chart ()));
  gtk_widget_set_size_request (GTK_WIDGET (self->chart), -1, height + CHART_WORDS);
  fettle_chart_view_set_height (self->chart, height);
  fettle_chart_view_set_words (self->chart, _("Where the days went"), answer->words->headline);
  fettle_chart_view_take_chart (self->chart, g_steal_pointer (&answer->chart));
}

/* What ends the wait that is selected among what is open. */
static void
show_ending (FettleLeadtimePage *self, gint64 wait)
{
  const char *words = "";

  for (guint i = 0; self->open != NULL && i < self->open->rows->len; i++)
    if (g_array_index (self->open->rows, PresentSheetRow, i).item == wait)
      words = g_array_index (self->open->rows, PresentSheetRow, i).cells[0];
  fettle_wait_ending_show (self->ending, wait, words, self->span.model);
}

static void
show_answer (FettleLeadtimePage *self, FettleLeadtimeAnswer *answer)
{
  PresentLeadtime *words = answer->words;
  const PresentSheet *const sheets[N_SHEETS] = { words->open, words->rounds, words->suppliers, words->reasons, words->medians,
                                                 words->earlier };

  gtk_label_set_label (self->lead, words->headline);
  gtk_label_set_label (self->next, words->next);
  show_chart (self, answer);
  g_clear_pointer (&self->open, present_sheet_free);
  self->open = g_steal_pointer (&words->open);
  for (guint i = 0; i < N_SHEETS; i++)
    fettle_sheet_view_set (self->sheets[i], sheets[i]);
  fettle_unparent_children (self->notes);
  if (answer->data->total > 0.0)
    fettle_sentences_add (self->notes, words->notes, "dim");
  gtk_widget_set_visible (self->content, TRUE);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleLeadtimePage) self = FETTLE_LEADTIME_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleLeadtimeAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting != NULL)
    show_answer (self, answer);
  fettle_leadtime_answer_free (answer);
}

static void
ask (FettleLeadtimePage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_leadtime_ask_work, fettle_leadtime_ask_new (&self->span), fettle_leadtime_ask_free,
                      fettle_leadtime_answer_free, self->asking, on_answer, g_object_ref (self));
}

static void
fettle_leadtime_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleLeadtimePage *self = FETTLE_LEADTIME_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.to == span->to;

  self->span = *span;
  if (!same)
    ask (self);
}

static void
fettle_leadtime_page_refresh (FettlePage *page)
{
  ask (FETTLE_LEADTIME_PAGE (page));
}

static void
fettle_leadtime_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_leadtime_page_set_span;
  iface->refresh = fettle_leadtime_page_refresh;
}

/* A phase of a round leads to the round. */
static void
on_mark_activated (FettleLeadtimePage *self, gint64 key)
{
  if (key != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "round", key);
}

/* By its keys and the menu: 'today', 'on'. */
static void
on_end_wait (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleLeadtimePage *self = FETTLE_LEADTIME_PAGE (widget);

  if (g_str_equal (g_variant_get_string (parameter, NULL), "on"))
    fettle_wait_ending_on (self->ending);
  else
    fettle_wait_ending_today (self->ending);
}

static void
on_ending_closed (FettleLeadtimePage *self)
{
  fettle_sheet_view_focus (self->sheets[OPEN]);
}

static void
fettle_leadtime_page_dispose (GObject *object)
{
  FettleLeadtimePage *self = FETTLE_LEADTIME_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_LEADTIME_PAGE);
  fettle_unparent_children (self);
  g_clear_pointer (&self->open, present_sheet_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_leadtime_page_parent_class)->dispose (object);
}

static void
fettle_leadtime_page_class_init (FettleLeadtimePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_leadtime_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/leadtime-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, next);
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, chart_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleLeadtimePage, notes);
  gtk_widget_class_bind_template_callback (widget_class, on_mark_activated);
  gtk_widget_class_install_action (widget_class, "leadtime.end-wait", "s", on_end_wait);
}

static void
fettle_leadtime_page_init (FettleLeadtimePage *self)
{
  static const char *const names[N_SHEETS] = { "leadtime-open", "leadtime-rounds", "leadtime-suppliers", "leadtime-reasons",
                                               "leadtime-medians", "leadtime-earlier" };
  GtkWidget *before;

  gtk_widget_init_template (GTK_WIDGET (self));
  before = self->chart_sheet;
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_insert_child_after (GTK_BOX (self->content), GTK_WIDGET (self->sheets[i]), before);
      before = GTK_WIDGET (self->sheets[i]);
    }
}

/**
 * fettle_leadtime_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_leadtime_page_new (FettleSitting *sitting)
{
  FettleLeadtimePage *self = g_object_new (FETTLE_TYPE_LEADTIME_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->ending = FETTLE_WAIT_ENDING (fettle_wait_ending_new (sitting));
  gtk_box_insert_child_after (GTK_BOX (self->content), GTK_WIDGET (self->ending), GTK_WIDGET (self->sheets[OPEN]));
  g_signal_connect_object (self->sheets[OPEN], "selected", G_CALLBACK (show_ending), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->ending, "closed", G_CALLBACK (on_ending_closed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
