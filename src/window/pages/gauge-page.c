/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gauge-page.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "gauge-answer.h"
#include "gauge-checks.h"
#include "record-form.h"
#include "sentence.h"
#include "sheet-view.h"
#include "table.h"
#include "today.h"
#include "typed.h"
#include "unparent.h"
#include "words.h"
#include "wrap.h"

/* The tables, from above. */
enum { STUDIES, CHECKS, GAUGES, N_SHEETS };

struct _FettleGaugePage
{
  GtkWidget parent_instance;

  GtkWidget       *content;
  GtkLabel        *lead;
  GtkBox          *sentences;
  GtkBox          *sheets_box;
  GtkBox          *notes;
  GtkWidget       *calibrate;
  GtkBox          *calibration_place;
  GtkDropDown     *choice;
  GtkSpinButton   *pieces;
  GtkSpinButton   *trials;
  GtkLabel        *gauge;
  GtkLabel        *state;
  GtkLabel        *said;
  GtkBox          *table_place;
  GtkMenuButton   *persons;
  GtkBox          *persons_box;
  GtkEntry        *labels;
  GtkLabel        *planned;
  GtkBox          *checks_place;
  FettleGaugeChecks *checks;
  FettleSheetView *sheets[N_SHEETS];
  FettleTable     *table;
  FettleRecordForm *calibration; /* NULL until it is wanted first */

  FettleSitting     *sitting;
  FettleStudySource *source;
  FettleGaugeAnswer *answer; /* shown */
  GCancellable      *asking;
  gint64             model;
  gint64             characteristic;
  gboolean           filling;
};

static void fettle_gauge_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleGaugePage, fettle_gauge_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_gauge_page_page_init))

static void on_answer (GObject *source, GAsyncResult *result, gpointer user_data);

/* What is planned, by draft: which of it is meant is known once the characteristic is. */
static GHashTable *
wishes_of (FettleGaugePage *self)
{
  FettleDrafts *drafts = fettle_sitting_get_drafts (self->sitting);
  g_auto(GStrv) names = fettle_drafts_list (drafts);
  GHashTable *wishes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_has_prefix (names[i], FETTLE_STUDY_WISH_PREFIX))
      g_hash_table_insert (wishes, g_strdup (names[i]), g_strdup (fettle_drafts_get (drafts, names[i])));
  return wishes;
}

static void
ask (FettleGaugePage *self)
{
  FettleGaugeAsk *ask;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->model == 0)
    return;

  ask = g_new0 (FettleGaugeAsk, 1);
  *ask = (FettleGaugeAsk){ self->model, self->characteristic, fettle_sitting_get_person (self->sitting),
                           fettle_gauge_checks_get_check (self->checks), wishes_of (self), fettle_today () };
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_gauge_ask_work, ask, fettle_gauge_ask_free, fettle_gauge_answer_free, self->asking,
                      on_answer, g_object_ref (self));
}

static void
show_choices (FettleGaugePage *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < self->answer->choices->len; i++)
    {
      const FettleGaugeChoice *choice = &g_array_index (self->answer->choices, FettleGaugeChoice, i);

      gtk_string_list_append (names, choice->name);
      if (choice->id == self->answer->characteristic)
        selected = i;
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->choice, names, selected);
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->choice)), self->answer->choices->len > 0); /* with how it is planned */
  self->filling = FALSE;
}

/* What is missing, and why nothing can be typed. */
static void
show_state (FettleGaugePage *self)
{
  g_autofree char *gauge = g_strdup_printf (_("with %s"), self->answer->gauge);
  g_autofree char *state = NULL;
  guint missing;

  gtk_label_set_label (self->gauge, *self->answer->gauge != '\0' ? gauge : "");
  if (self->answer->choices->len == 0)
    state = g_strdup (_("A study needs a measured characteristic: enter one on the Set-up page."));
  else if (self->answer->characteristic == 0)
    state = g_strdup (_("No characteristic names a gauge yet: choose one above, and enter its gauge on the Set-up page."));
  else if (*self->answer->gauge == '\0')
    state = g_strdup (_("The characteristic names no gauge: give it one, then its study can be typed here."));
  else if (fettle_sitting_get_person (self->sitting) == 0)
    state = g_strdup (_("Choose who measures: at the lower left, or Ctrl+P."));
  else
    {
      missing = fettle_study_source_count_missing (self->source);
      state = missing == 0 ? g_strdup (_("Your part is complete."))
              : self->answer->over
                ? g_strdup_printf (ngettext ("The last study is over; what is typed here begins a new one of %u value of yours.",
                                             "The last study is over; what is typed here begins a new one of %u values of yours.", missing),
                                   missing)
                : g_strdup_printf (ngettext ("%u value of your part is missing.", "%u values of your part are missing.", missing), missing);
    }
  gtk_label_set_label (self->state, state);
  gtk_widget_set_visible (GTK_WIDGET (self->table_place), self->answer->characteristic != 0 && *self->answer->gauge != '\0'
                                                              && fettle_sitting_get_person (self->sitting) != 0);
}

/* ---- the plan ---- */

static void on_person_ticked (FettleGaugePage *self);

static void
show_persons (FettleGaugePage *self)
{
  const FettleStudyWish *wish = self->answer->wish;
  g_autofree char *words = NULL;

  fettle_unparent_children (self->persons_box);
  for (guint i = 0; i < self->answer->persons->len; i++)
    {
      const FettleGaugeChoice *person = &g_array_index (self->answer->persons, FettleGaugeChoice, i);
      GtkWidget *check = gtk_check_button_new_with_label (person->name);

      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), fettle_study_wish_has (wish, person->id));
      g_signal_connect_object (check, "toggled", G_CALLBACK (on_person_ticked), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->persons_box, check);
    }
  words = wish->persons->len == 0 ? g_strdup (_("Persons: whoever measures"))
                                  : g_strdup_printf (ngettext ("%u person is planned", "%u persons are planned", wish->persons->len),
                                                     wish->persons->len);
  gtk_menu_button_set_label (self->persons, words);
}

/* What is planned in all, and whether who writes is among those planned. */
static void
show_planned (FettleGaugePage *self)
{
  const FettleGaugeAnswer *answer = self->answer;
  gint64 person = fettle_sitting_get_person (self->sitting);
  g_autofree char *size = NULL, *sum = NULL, *all = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->planned), answer->planned > 0);
  if (answer->planned == 0)
    return;
  sum = answer->missing == 0 ? g_strdup (_("All that is planned is measured."))
                             : g_strdup_printf (ngettext ("%u of the values planned of all persons is missing.",
                                                          "%u of the values planned of all persons are missing.", answer->missing),
                                                answer->missing);
  size = g_strdup_printf (_("Planned: %u × %u × %u values by persons, pieces and trials."), answer->wish->persons->len,
                          answer->plan->n_pieces, answer->plan->trials);
  all = g_strjoin (" ", size, sum,
                   person != 0 && !fettle_study_wish_has (answer->wish, person)
                     ? _("You are not among the persons planned: what you type joins the study all the same.") : NULL,
                   NULL);
  gtk_label_set_label (self->planned, all);
}

static void
show_wish (FettleGaugePage *self)
{
  const FettleStudyWish *wish = self->answer->wish;
  g_autofree char *labels = g_strjoinv (", ", wish->pieces);

  self->filling = TRUE;
  gtk_spin_button_set_value (self->pieces, wish->n_pieces);
  gtk_spin_button_set_value (self->trials, wish->trials);
  if (!(gtk_widget_get_state_flags (GTK_WIDGET (self->labels)) & GTK_STATE_FLAG_FOCUS_WITHIN))
    fettle_typed_set (GTK_EDITABLE (self->labels), labels);
  gtk_widget_set_sensitive (GTK_WIDGET (self->pieces), wish->pieces[0] == NULL);
  if (!gtk_widget_get_mapped (GTK_WIDGET (self->persons_box)))
    show_persons (self);
  show_planned (self);
  self->filling = FALSE;
}

/* Keeps the plan, and plans anew. */
static void
keep_wish (FettleGaugePage *self)
{
  FettleStudyWish *wish = self->answer->wish;
  const FettleStudyPlan *plan = fettle_study_source_get_plan (self->source);
  g_autofree char *draft = fettle_study_wish_draft (plan->gauge, plan->characteristic);
  g_autofree char *before = fettle_study_wish_to_text (wish), *text = NULL;
  GtkWidget *check = gtk_widget_get_first_child (GTK_WIDGET (self->persons_box));

  wish->n_pieces = (guint) gtk_spin_button_get_value_as_int (self->pieces);
  wish->trials = (guint) gtk_spin_button_get_value_as_int (self->trials);
  fettle_study_wish_set_pieces (wish, gtk_editable_get_text (GTK_EDITABLE (self->labels)));
  g_array_set_size (wish->persons, 0);
  for (guint i = 0; check != NULL && i < self->answer->persons->len; i++, check = gtk_widget_get_next_sibling (check))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (check)))
      g_array_append_val (wish->persons, g_array_index (self->answer->persons, FettleGaugeChoice, i).id);
  text = fettle_study_wish_to_text (wish);
  if (g_str_equal (text, before))
    return;
  fettle_drafts_keep_for_all (fettle_sitting_get_drafts (self->sitting), draft, text);
  ask (self);
}

static void
on_planned (FettleGaugePage *self)
{
  if (self->answer != NULL && self->answer->wish != NULL && !self->filling)
    keep_wish (self);
}

static void
on_person_ticked (FettleGaugePage *self)
{
  if (!self->filling)
    on_planned (self);
}

static void
on_person_changed (FettleGaugePage *self)
{
  if (self->answer != NULL)
    ask (self);
}

static void
show_answer (FettleGaugePage *self)
{
  const PresentGauges *words = self->answer->words;
  const PresentSheet *const sheets[N_SHEETS] = { words->studies, words->checks, words->gauges };

  gtk_label_set_label (self->lead, words->headline);
  fettle_sentences_show (self->sentences, words->out, "open");
  fettle_sentences_add (self->sentences, words->sentences, "words");
  for (guint i = 0; i < N_SHEETS; i++)
    fettle_sheet_view_set (self->sheets[i], sheets[i]);
  fettle_sentences_show (self->notes, words->notes, "dim");
  show_choices (self);
  self->characteristic = self->answer->characteristic; /* stays, whatever somebody else studies meanwhile */
  if (self->answer->plan != NULL) /* also while a cell is typed into: its row stays where it is */
    {
      show_wish (self);
      fettle_study_source_take (self->source, g_steal_pointer (&self->answer->plan));
    }
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->persons)), self->answer->wish != NULL);
  show_state (self);
  fettle_gauge_checks_take (self->checks, self->answer);
  gtk_widget_set_visible (self->calibrate, self->answer->data->n_gauges > 0);
  gtk_widget_set_visible (self->content, TRUE);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleGaugePage) self = FETTLE_GAUGE_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleGaugeAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_gauge_answer_free (answer);
      return;
    }
  fettle_gauge_answer_free (self->answer);
  self->answer = answer;
  show_answer (self);
}

static void
on_chosen (FettleGaugePage *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice);

  if (self->filling || self->answer == NULL || selected >= self->answer->choices->len)
    return;
  self->characteristic = g_array_index (self->answer->choices, FettleGaugeChoice, selected).id;
  ask (self);
}

/* ---- what is said about a cell ---- */

static void
on_refused (FettleGaugePage *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* ---- a calibration ---- */

static void
on_calibration_closed (FettleGaugePage *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->calibration), FALSE);
  gtk_widget_grab_focus (self->calibrate);
}

static void
on_calibrate (FettleGaugePage *self)
{
  static const char *const fields[] = { "gauge", "date", "due", "in_order", NULL };
  g_autofree char *today = fettle_today ();

  if (self->calibration == NULL)
    {
      self->calibration = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_GAUGE_CALIBRATION, fields));
      gtk_widget_set_name (GTK_WIDGET (self->calibration), "calibration");
      g_signal_connect_object (self->calibration, "closed", G_CALLBACK (on_calibration_closed), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->calibration_place, GTK_WIDGET (self->calibration));
    }
  fettle_record_form_preset (self->calibration, "date", today);
  fettle_record_form_begin (self->calibration, 0);
  gtk_widget_set_visible (GTK_WIDGET (self->calibration), TRUE);
  fettle_record_form_focus (self->calibration, "gauge");
}

/* ---- as a page ---- */

static void
fettle_gauge_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleGaugePage *self = FETTLE_GAUGE_PAGE (page);

  if (self->model == span->model && self->answer != NULL)
    return;
  if (self->model != span->model)
    self->characteristic = 0;
  self->model = span->model;
  ask (self);
}

static void
fettle_gauge_page_refresh (FettlePage *page)
{
  ask (FETTLE_GAUGE_PAGE (page));
}

static gboolean
fettle_gauge_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleGaugePage *self = FETTLE_GAUGE_PAGE (page);

  if (!g_str_equal (record, "characteristic"))
    return FALSE;
  self->characteristic = key;
  ask (self);
  return TRUE;
}

static gboolean
fettle_gauge_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleGaugePage *self = FETTLE_GAUGE_PAGE (page);

  *record = "characteristic";
  *key = self->characteristic;
  return self->characteristic != 0;
}

static void
fettle_gauge_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_gauge_page_set_span;
  iface->refresh = fettle_gauge_page_refresh;
  iface->show_record = fettle_gauge_page_show_record;
  iface->get_place = fettle_gauge_page_get_place;
}

static void
fettle_gauge_page_dispose (GObject *object)
{
  FettleGaugePage *self = FETTLE_GAUGE_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_GAUGE_PAGE);
  fettle_unparent_children (self);
  self->table = NULL;
  self->calibration = NULL;
  g_clear_pointer (&self->answer, fettle_gauge_answer_free);
  g_clear_object (&self->source);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_gauge_page_parent_class)->dispose (object);
}

static void
fettle_gauge_page_class_init (FettleGaugePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  g_type_ensure (FETTLE_TYPE_WRAP);
  G_OBJECT_CLASS (class)->dispose = fettle_gauge_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/gauge-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, sentences);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, sheets_box);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, notes);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, calibrate);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, calibration_place);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, choice);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, pieces);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, trials);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, gauge);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, state);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, table_place);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, persons);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, persons_box);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, labels);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, planned);
  gtk_widget_class_bind_template_child (widget_class, FettleGaugePage, checks_place);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_planned);
  gtk_widget_class_bind_template_callback (widget_class, on_calibrate);
}

static void
fettle_gauge_page_init (FettleGaugePage *self)
{
  static const char *const names[N_SHEETS] = { "gauge-studies", "gauge-checks", "gauges" };

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_append (self->sheets_box, GTK_WIDGET (self->sheets[i]));
    }
  fettle_choice_set_up (self->choice, _("Characteristic that is studied"));
  self->table = FETTLE_TABLE (fettle_table_new ());
  fettle_table_set_grid (self->table, 1);
  gtk_widget_set_name (GTK_WIDGET (self->table), "study-table");
  gtk_widget_set_vexpand (GTK_WIDGET (self->table), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->table), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Your values of the study"), -1);
  gtk_box_append (self->table_place, GTK_WIDGET (self->table));
  g_signal_connect_object (self->table, "refused", G_CALLBACK (on_refused), self, G_CONNECT_SWAPPED);
}

/**
 * fettle_gauge_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_gauge_page_new (FettleSitting *sitting)
{
  FettleGaugePage *self = g_object_new (FETTLE_TYPE_GAUGE_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->source = fettle_study_source_new (sitting);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  g_signal_connect_object (self->source, "refused", G_CALLBACK (on_refused), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "left", G_CALLBACK (fettle_study_source_leave), self->source, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "person-changed", G_CALLBACK (on_person_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (fettle_sitting_get_drafts (sitting), "restored", G_CALLBACK (ask), self, G_CONNECT_SWAPPED);
  self->checks = FETTLE_GAUGE_CHECKS (fettle_gauge_checks_new (sitting));
  g_signal_connect_object (self->checks, "chosen", G_CALLBACK (ask), self, G_CONNECT_SWAPPED);
  gtk_box_append (self->checks_place, GTK_WIDGET (self->checks));
  return GTK_WIDGET (self);
}
