/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "release-page.h"

#include <glib/gi18n.h>

#include "forecast-view.h"
#include "progress.h"
#include "release-answer.h"
#include "release-deeds.h"
#include "sentence.h"
#include "sheet-view.h"
#include "store.h"
#include "unparent.h"

#define PATIENCE (400 * G_TIME_SPAN_MILLISECOND) /* before it is said how far it is */

/* The tables, from above. */
enum { CRITERIA, BESIDE, SERIES, SINCE, DECISIONS, OPINIONS, WAIVERS, REMARKS, VOIDS, CONCESSIONS, AFTERWARDS, SIGNED_FOR, TAKES, PROVES, N_SHEETS };

struct _FettleReleasePage
{
  GtkWidget parent_instance;

  GtkWidget          *content;
  GtkWidget          *gates; /* a button each, where there are several */
  GtkWidget          *making; /* how far everything is that a decision would freeze */
  GtkLabel           *made;
  GtkButton          *stop;
  GtkLabel           *headline;
  GtkLabel           *span_label;
  GtkBox             *stops;
  GtkLabel           *decided;
  GtkWidget          *deeds_place;
  GtkWidget          *upper;
  FettleForecastView *forecast;
  GtkLabel           *caution;
  FettleReleaseDeeds *deeds;
  FettleSheetView    *sheets[N_SHEETS];

  FettleSitting       *sitting;
  FettleSpan           span;
  gint64               gate;   /* key of the one that is shown */
  FettleReleaseAnswer *answer; /* the newest */
  GCancellable        *asking;
  FettleProgress      *progress; /* of everything; NULL: it is not on its way */
  gint64               since;    /* when it was asked for */
  gboolean             stopped;  /* by hand */
  gboolean             setting;
  gboolean             interrupted; /* what was asked was stopped, since somebody went to another page */
  gboolean             awaited;     /* the criteria get the keyboard once they are there */
};

static void fettle_release_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleReleasePage, fettle_release_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_release_page_page_init))

static void ask (FettleReleasePage *self, gboolean whole);
static void on_gate_chosen (FettleReleasePage *self, GtkWidget *button);

static void
make_gates (FettleReleasePage *self, guint n)
{
  GtkWidget *first = NULL;

  fettle_unparent_children (self->gates);
  for (guint i = 0; i < n; i++)
    {
      GtkWidget *button = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "css-classes", (const char *[]){ "plain", NULL }, NULL);

      if (first == NULL)
        first = button;
      else
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (first));
      g_signal_connect_object (button, "toggled", G_CALLBACK (on_gate_chosen), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->gates), button);
    }
}

static void
show_gates (FettleReleasePage *self, guint chosen)
{
  const GPtrArray *gates = self->answer->dossier->gates->gates;
  GtkWidget *button = gtk_widget_get_first_child (self->gates);
  guint n = 0;

  for (GtkWidget *child = button; child != NULL; child = gtk_widget_get_next_sibling (child))
    n++;
  if (n != gates->len)
    make_gates (self, gates->len);
  button = gtk_widget_get_first_child (self->gates);
  self->setting = TRUE;
  for (guint i = 0; i < gates->len; i++, button = gtk_widget_get_next_sibling (button))
    {
      gtk_button_set_label (GTK_BUTTON (button), ((const PresentGate *) gates->pdata[i])->data->name);
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), i == chosen);
    }
  self->setting = FALSE;
  gtk_widget_set_visible (self->gates, gates->len > 1);
}

static void
show_stops (FettleReleasePage *self, const PresentGate *gate)
{
  if (gate != NULL)
    fettle_sentences_show (self->stops, gate->stops, "open");
  else
    fettle_unparent_children (self->stops);
}

/* What was decided, by whom; what came of a release; on a line of its own, what keeps what was frozen then from being trusted. */
static void
show_decided (FettleReleasePage *self, const PresentGate *gate, const PresentDossierFrozen *frozen)
{
  const BookGateDeed *decision = gate != NULL ? gate->decided : NULL;
  g_autofree char *words = decision != NULL ? present_decision_words (decision) : NULL;
  const PresentFirstSeries *series = self->answer->dossier->series_words;
  g_autofree char *line = NULL;
  g_autoptr(GString) whole = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->decided), decision != NULL);
  if (decision == NULL)
    return;
  line = g_strdup_printf (_("Decided on %s by %s: %s."), decision->date, *decision->name != '\0' ? decision->name : decision->person, words);
  whole = g_string_new (line);
  if (series != NULL)
    g_string_append_printf (whole, " %s", series->headline);
  if (frozen != NULL && frozen->problem != NULL)
    g_string_append_printf (whole, "\n%s", frozen->problem);
  gtk_label_set_label (self->decided, whole->str);
}

static void
set_sheet (FettleReleasePage *self, guint which, const PresentSheet *sheet)
{
  g_autoptr(PresentSheet) empty = sheet == NULL ? present_sheet_new ("") : NULL;

  fettle_sheet_view_set (self->sheets[which], sheet != NULL ? sheet : empty);
}

static void
show_sheets (FettleReleasePage *self, const PresentGate *gate, const PresentDossierFrozen *frozen)
{
  const PresentDossier *dossier = self->answer->dossier;

  set_sheet (self, CRITERIA, gate != NULL ? gate->criteria : NULL);
  set_sheet (self, BESIDE, frozen != NULL ? frozen->beside : NULL);
  set_sheet (self, SERIES, dossier->series_words != NULL ? dossier->series_words->figures : NULL);
  set_sheet (self, SINCE, dossier->series_words != NULL ? dossier->series_words->issues : NULL);
  set_sheet (self, DECISIONS, gate != NULL ? gate->decisions : NULL);
  set_sheet (self, OPINIONS, gate != NULL ? gate->opinions : NULL);
  set_sheet (self, WAIVERS, dossier->gates->waivers);
  set_sheet (self, REMARKS, dossier->gates->remarks);
  set_sheet (self, VOIDS, dossier->voids);
  set_sheet (self, CONCESSIONS, dossier->concessions);
  set_sheet (self, AFTERWARDS, dossier->gates->afterwards);
  set_sheet (self, SIGNED_FOR, dossier->gates->signed_for);
  set_sheet (self, TAKES, dossier->another_words != NULL ? dossier->another_words->takes : NULL);
  set_sheet (self, PROVES, dossier->another_words != NULL ? dossier->another_words->proves : NULL);
}

static void
show_gate (FettleReleasePage *self)
{
  const PresentDossier *dossier = self->answer->dossier;
  const guint chosen = present_release_find_gate (dossier->gates, self->gate);
  const PresentGate *gate = chosen != G_MAXUINT ? dossier->gates->gates->pdata[chosen] : NULL;
  const PresentDossierFrozen *frozen = NULL;

  self->gate = gate != NULL ? gate->data->id : 0;
  for (guint i = 0; gate != NULL && i < dossier->list->n_gates; i++)
    if (dossier->list->gates[i].id == self->gate)
      frozen = dossier->frozen->pdata[i];
  show_gates (self, chosen);
  gtk_label_set_label (self->headline, gate != NULL ? gate->headline
                                                    : _("There is no gate yet: on the Set-up page enter one, and the criteria that must be shown there."));
  gtk_label_set_label (self->span_label, dossier->standing->span);
  gtk_label_set_label (self->caution, dossier->standing->caution);
  show_stops (self, gate);
  show_decided (self, gate, frozen);
  fettle_release_deeds_set_gate (self->deeds, self->span.model, self->gate);
  fettle_release_deeds_set_answer (self->deeds, self->answer, chosen);
  show_sheets (self, gate, frozen);
  gtk_widget_set_visible (self->content, TRUE);
  if (self->awaited)
    fettle_sheet_view_focus (self->sheets[CRITERIA]);
  self->awaited = FALSE;
}

static void
on_gate_chosen (FettleReleasePage *self, GtkWidget *button)
{
  guint chosen = 0;

  if (self->setting || self->answer == NULL || !gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button)))
    return;
  while ((button = gtk_widget_get_prev_sibling (button)) != NULL)
    chosen++;
  if (chosen >= self->answer->dossier->gates->gates->len)
    return;
  self->gate = ((const PresentGate *) self->answer->dossier->gates->gates->pdata[chosen])->data->id;
  show_gate (self);
}

/* What is soon there needs no words. */
static void
show_making (FettleReleasePage *self, const char *words)
{
  gtk_label_set_label (self->made, words);
  gtk_button_set_label (self->stop, self->stopped ? _("Put It Together") : _("Stop"));
  gtk_widget_set_visible (self->making, *words != '\0');
}

static void
on_progress (double share, gpointer data)
{
  FettleReleasePage *self = data;
  g_autofree char *words = g_strdup_printf (_("Putting together what is known: %d %%"), (int) fettle_progress_percent (share));

  if (self->progress != NULL && g_get_monotonic_time () - self->since >= PATIENCE)
    show_making (self, words);
}

static void
end_progress (FettleReleasePage *self)
{
  if (self->progress != NULL)
    fettle_progress_end (self->progress);
  g_clear_pointer (&self->progress, fettle_progress_unref);
  self->stopped = FALSE;
  show_making (self, "");
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleReleasePage) self = FETTLE_RELEASE_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleReleaseAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  gboolean whole;

  if (answer == NULL)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) /* else another question is on its way, or none is wanted */
        end_progress (self);
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_release_answer_unref (answer);
      return;
    }
  whole = answer->documents != NULL;
  g_clear_object (&self->asking);
  end_progress (self);
  g_clear_pointer (&self->answer, fettle_release_answer_unref);
  self->answer = answer;
  show_gate (self);
  fettle_forecast_view_show (self->forecast, answer);
  if (!whole)
    ask (self, TRUE);
}

/* First the gates, then (@whole) what takes longer. */
static void
ask (FettleReleasePage *self, gboolean whole)
{
  const char *book = store_get_uuid (book_get_store (fettle_sitting_get_book (self->sitting)));

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  end_progress (self);
  self->interrupted = FALSE;
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  if (whole)
    self->progress = fettle_progress_new (on_progress, self);
  self->since = g_get_monotonic_time ();
  fettle_sitting_ask (self->sitting, fettle_release_ask_work, fettle_release_ask_new (&self->span, book, self->progress), fettle_release_ask_free,
                      fettle_release_answer_unref, self->asking, on_answer, g_object_ref (self));
}

/* Stopped by hand the gates stay to be read; what was not put together can neither be decided on nor shown. */
static void
on_stop (FettleReleasePage *self)
{
  if (self->stopped)
    {
      ask (self, TRUE);
      return;
    }
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  end_progress (self);
  self->stopped = TRUE;
  show_making (self, _("It was stopped: forecast, first series and what a decision freezes are missing."));
}

static void
fettle_release_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleReleasePage *self = FETTLE_RELEASE_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.to == span->to;

  if (self->span.model != span->model)
    self->gate = 0;
  self->span = *span;
  if (!same)
    ask (self, FALSE);
}

static void
fettle_release_page_refresh (FettlePage *page)
{
  ask (FETTLE_RELEASE_PAGE (page), FALSE);
}

static void
fettle_release_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_release_page_set_span;
  iface->refresh = fettle_release_page_refresh;
}

static void
on_criterion_chosen (FettleReleasePage *self, gint64 id)
{
  const InsightCriterion *criterion = insight_standing_find_criterion (self->answer->dossier->standing->data, id);

  fettle_release_deeds_set_criterion (self->deeds, id, criterion != NULL ? criterion->code : "");
}

static void
on_deed_chosen (FettleReleasePage *self, gint64 deed, FettleSheetView *sheet)
{
  fettle_release_deeds_set_deed (self->deeds,
                                 sheet == self->sheets[DECISIONS]  ? BOOK_RECORD_DECISION
                                 : sheet == self->sheets[OPINIONS] ? BOOK_RECORD_SIGNOFF
                                                                   : BOOK_RECORD_WAIVER,
                                 deed);
}

/* What was stopped by hand is wanted after all. */
static void
on_awaits_evidence (FettleReleasePage *self)
{
  if (self->stopped)
    ask (self, TRUE);
}

static void
on_deeds_closed (FettleReleasePage *self)
{
  fettle_sheet_view_focus (self->sheets[CRITERIA]);
}

/* By its keys and the menu: 'opinion', 'waive', 'decide', 'withdraw'. */
static void
on_act (GtkWidget *widget, G_GNUC_UNUSED const char *action, GVariant *parameter)
{
  fettle_release_deeds_act (FETTLE_RELEASE_PAGE (widget)->deeds, g_variant_get_string (parameter, NULL));
}

/* The whole answer takes seconds, and other pages ask the same reader: it waits until somebody looks here again. */
static void
fettle_release_page_unmap (GtkWidget *widget)
{
  FettleReleasePage *self = FETTLE_RELEASE_PAGE (widget);

  GTK_WIDGET_CLASS (fettle_release_page_parent_class)->unmap (widget);
  if (self->asking == NULL)
    return;
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  end_progress (self);
  self->interrupted = TRUE;
}

static void
fettle_release_page_map (GtkWidget *widget)
{
  FettleReleasePage *self = FETTLE_RELEASE_PAGE (widget);

  GTK_WIDGET_CLASS (fettle_release_page_parent_class)->map (widget);
  if (self->interrupted)
    ask (self, self->answer != NULL);
}

/* Whoever comes by a key walks the criteria next. */
static gboolean
fettle_release_page_grab_focus (GtkWidget *widget)
{
  FettleReleasePage *self = FETTLE_RELEASE_PAGE (widget);

  self->awaited = self->answer == NULL;
  if (self->answer != NULL)
    fettle_sheet_view_focus (self->sheets[CRITERIA]);
  return TRUE;
}

static void
fettle_release_page_dispose (GObject *object)
{
  FettleReleasePage *self = FETTLE_RELEASE_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->progress, fettle_progress_unref);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_RELEASE_PAGE);
  fettle_unparent_children (self);
  g_clear_pointer (&self->answer, fettle_release_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_release_page_parent_class)->dispose (object);
}

static void
fettle_release_page_class_init (FettleReleasePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_release_page_dispose;
  widget_class->grab_focus = fettle_release_page_grab_focus;
  widget_class->map = fettle_release_page_map;
  widget_class->unmap = fettle_release_page_unmap;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_FORECAST_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/release-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, gates);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, making);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, made);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, stop);
  gtk_widget_class_bind_template_callback (widget_class, on_stop);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, headline);
  gtk_widget_class_bind_template_child_full (widget_class, "span", FALSE, G_STRUCT_OFFSET (FettleReleasePage, span_label));
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, stops);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, decided);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, deeds_place);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, upper);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, forecast);
  gtk_widget_class_bind_template_child (widget_class, FettleReleasePage, caution);
  gtk_widget_class_install_action (widget_class, "release.act", "s", on_act);
}

static void
fettle_release_page_init (FettleReleasePage *self)
{
  static const char *const names[N_SHEETS] = {
    "release-criteria", "release-beside", "release-series", "release-since", "release-decisions", "release-opinions", "release-waivers", "release-remarks",
    "release-voids",    "release-concessions", "release-changed", "release-signed-for",
    "release-takes",    "release-proves",
  };

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_append (GTK_BOX (self->upper), GTK_WIDGET (self->sheets[i]));
    }
}

/**
 * fettle_release_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_release_page_new (FettleSitting *sitting)
{
  static const guint deeds[] = { DECISIONS, OPINIONS, WAIVERS };
  FettleReleasePage *self = g_object_new (FETTLE_TYPE_RELEASE_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->deeds = FETTLE_RELEASE_DEEDS (fettle_release_deeds_new (sitting));
  gtk_box_append (GTK_BOX (self->deeds_place), GTK_WIDGET (self->deeds));
  g_signal_connect_object (self->sheets[CRITERIA], "selected", G_CALLBACK (on_criterion_chosen), self, G_CONNECT_SWAPPED);
  for (guint i = 0; i < G_N_ELEMENTS (deeds); i++)
    g_signal_connect_object (self->sheets[deeds[i]], "selected", G_CALLBACK (on_deed_chosen), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->deeds, "awaits-evidence", G_CALLBACK (on_awaits_evidence), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->deeds, "closed", G_CALLBACK (on_deeds_closed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

/* Whether the gates are there to be read; the forecast may still be on its way. */
gboolean
fettle_release_page_has_gates (FettleReleasePage *self)
{
  g_return_val_if_fail (FETTLE_IS_RELEASE_PAGE (self), FALSE);

  return self->answer != NULL;
}
