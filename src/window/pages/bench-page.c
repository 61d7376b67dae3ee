/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include <glib/gi18n.h>

#include "bench-answer.h"
#include "bench-buttons.h"
#include "bench-deed.h"
#include "bench-measure.h"
#include "bench-scan.h"
#include "book-unit-line.h"
#include "book-unit.h"
#include "choice.h"
#include "deed-form.h"
#include "present-bench.h"
#include "remembered.h"
#include "reveal.h"
#include "sheet-view.h"
#include "today.h"
#include "typed.h"
#include "unparent.h"
#include "words.h"

#define BENCHES "benches" /* setting */

/* The tables, from above. */
enum { WAITING, MEASURE, RETURNS, N_SHEETS };

struct _FettleBenchPage
{
  GtkBox parent_instance;

  FettleSitting     *sitting;
  FettleSpan         span;
  FettleBenchAnswer *answer; /* shown */
  GCancellable      *asking;
  gint64             bench;       /* 0: all */
  gint64             at_hand;     /* unit; 0: none */
  gint64             follows;     /* unit that is at hand once that one has left; 0: none */
  GtkWidget         *form;        /* NULL: none is open */
  gboolean           filling;

  GtkDropDown     *choice;
  GtkLabel        *lead;
  GtkLabel        *elsewhere;
  GtkWidget       *line;
  GtkLabel        *said;
  GtkWidget       *hand;
  GtkLabel        *hand_title;
  GtkLabel        *hand_place;
  GtkLabel        *hand_wanted;
  GtkWidget       *deeds;
  GtkWidget       *content;
  GtkWidget       *form_place;
  GtkLabel        *more;
  FettleSheetView *sheets[N_SHEETS];
};

static void fettle_bench_page_page_init (FettlePageInterface *iface);
static void ask (FettleBenchPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleBenchPage, fettle_bench_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_bench_page_page_init))

static void
tell (FettleBenchPage *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

static const InsightBenchUnit *
unit_at_hand (FettleBenchPage *self)
{
  return self->answer != NULL ? fettle_bench_answer_find (self->answer, self->at_hand) : NULL;
}

/* ---- forms: one at a time, above the tables ---- */

static void
close_form (FettleBenchPage *self)
{
  if (self->form == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->form, self);
  if ((gtk_widget_get_state_flags (self->form) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_grab_focus (self->line); /* before the form goes */
  fettle_unparent_children (self->form_place);
  self->form = NULL;
  gtk_widget_set_visible (self->form_place, FALSE);
  gtk_widget_set_visible (self->deeds, TRUE);
}

static void
place_form (FettleBenchPage *self, GtkWidget *form)
{
  close_form (self);
  self->form = form;
  gtk_box_append (GTK_BOX (self->form_place), form);
  gtk_widget_set_visible (self->form_place, TRUE);
  gtk_widget_set_visible (self->deeds, FALSE); /* their room is the form's; their keys go on */
  fettle_reveal (self->form_place);
}

/* ---- the answer ---- */

static void
fill_choice (FettleBenchPage *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = 0;

  gtk_string_list_append (names, _("All benches"));
  for (guint i = 0; i < self->answer->names->len; i++)
    {
      gtk_string_list_append (names, g_ptr_array_index (self->answer->names, i));
      if (g_array_index (self->answer->benches, gint64, i) == self->bench)
        selected = i + 1;
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->choice, names, selected);
  self->filling = FALSE;
}

static void
show_hand (FettleBenchPage *self)
{
  const InsightBenchUnit *unit = unit_at_hand (self);
  g_autofree char *title = NULL, *place = NULL, *wanted = NULL;

  gtk_widget_set_visible (self->hand, unit != NULL);
  if (unit == NULL)
    return;
  title = present_bench_title (unit);
  place = present_bench_place (unit);
  wanted = present_bench_wanted (unit);
  gtk_label_set_label (self->hand_title, title);
  gtk_label_set_label (self->hand_place, place);
  fettle_words_show (self->hand_wanted, wanted);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "bench.measure", *wanted != '\0');
}

/* Another unit at hand; a form that is open was about the one before, and what is typed there is kept. */
static void
take_to_hand (FettleBenchPage *self, gint64 unit)
{
  if (unit != self->at_hand)
    close_form (self);
  self->at_hand = unit;
  self->follows = 0;
  show_hand (self);
  for (guint i = 0; i < RETURNS; i++)
    fettle_sheet_view_select (self->sheets[i], unit);
}

static void
show_answer (FettleBenchPage *self)
{
  const FettleBenchAnswer *answer = self->answer;
  const PresentSheet *const sheets[N_SHEETS] = { answer->waiting, answer->measure, answer->returns };
  const InsightBenchUnit *unit = unit_at_hand (self);

  if (self->follows != 0 && (unit == NULL || !unit->here))
    self->at_hand = self->follows;
  if (self->follows != 0 || fettle_bench_answer_find (answer, self->at_hand) == NULL)
    take_to_hand (self, fettle_bench_answer_find (answer, self->at_hand) != NULL ? self->at_hand : 0);
  fill_choice (self);
  gtk_label_set_label (self->lead, answer->headline);
  fettle_words_show (self->elsewhere, answer->elsewhere);
  self->filling = TRUE;
  for (guint i = 0; i < N_SHEETS; i++)
    fettle_sheet_view_set (self->sheets[i], sheets[i]);
  self->filling = FALSE;
  for (guint i = 0; i < RETURNS; i++)
    fettle_sheet_view_select (self->sheets[i], self->at_hand);
  fettle_words_show (self->more, answer->more);
  show_hand (self);
  if (FETTLE_IS_BENCH_MEASURE (self->form) && unit_at_hand (self) != NULL)
    fettle_bench_measure_show (FETTLE_BENCH_MEASURE (self->form), unit_at_hand (self));
  gtk_widget_set_visible (self->content, TRUE);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleBenchPage) self = FETTLE_BENCH_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleBenchAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_bench_answer_free (answer);
      return;
    }
  fettle_bench_answer_free (self->answer);
  self->answer = answer;
  show_answer (self);
}

static void
ask (FettleBenchPage *self)
{
  FettleBenchAsk *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;
  self->asking = g_cancellable_new ();
  question = g_new0 (FettleBenchAsk, 1);
  *question = (FettleBenchAsk){ self->span.model, self->bench, self->span.from, self->span.to, fettle_today () };
  fettle_sitting_ask (self->sitting, fettle_bench_answer_read, question, fettle_bench_ask_free, fettle_bench_answer_free, self->asking,
                      on_answer, g_object_ref (self));
}

/* ---- deeds ---- */

/* Where the list is worked off, the next comes to hand once this one has left; a scanned one stays until another is scanned. */
static void
follow (FettleBenchPage *self)
{
  const InsightBenchUnit *unit = unit_at_hand (self);

  self->follows = unit != NULL && unit->here ? fettle_bench_answer_next (self->answer, unit->unit, 1) : 0;
}

typedef struct
{
  FettleBenchPage *self;
  char            *said;  /* when it is stored */
  gboolean         typed; /* in the line, which is emptied */
} Doing;

static void
on_event_done (GObject *source, GAsyncResult *result, gpointer data)
{
  Doing *doing = data;
  FettleBenchPage *self = doing->self;
  g_autoptr(GError) error = NULL;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  if (self->sitting != NULL && stored)
    {
      tell (self, doing->said);
      if (doing->typed)
        fettle_typed_set (GTK_EDITABLE (self->line), "");
    }
  else if (self->sitting != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      self->follows = 0;
      tell (self, error->message); /* what is typed stays */
    }
  g_object_unref (self);
  g_free (doing->said);
  g_free (doing);
}

static void
store_event (FettleBenchPage *self, const InsightBenchUnit *unit, BookEdit *edit, BookEventKind kind, gboolean typed)
{
  const BookChoice *choice = book_choice_by_code (book_event_kinds, kind);
  Doing *doing = g_new0 (Doing, 1);

  doing->self = g_object_ref (self);
  /* Translators: what happened and the unit, as in 'Passed: B-08. Ctrl+Z takes it back.' */
  doing->said = g_strdup_printf (_("%s: %s. Ctrl+Z takes it back."), book_choice_label (choice), unit->serial);
  doing->typed = typed;
  follow (self);
  fettle_sitting_edit (self->sitting, edit, on_event_done, doing);
}

static void
begin_deed (FettleBenchPage *self, const InsightBenchUnit *unit, FettleBenchDeed deed)
{
  g_autofree char *place = g_strdup_printf ("bench-%s-%" G_GINT64_FORMAT, fettle_bench_deeds[deed].name, unit->unit);
  GtkWidget *form = fettle_bench_deed_new (self->sitting, self->answer, unit, deed);

  place_form (self, form);
  g_signal_connect_swapped (form, "done", G_CALLBACK (follow), self);
  g_signal_connect_swapped (form, "closed", G_CALLBACK (close_form), self);
  fettle_deed_form_begin (FETTLE_DEED_FORM (form), place, self->span.model);
}

static gboolean
has_unit (FettleBenchPage *self)
{
  if (unit_at_hand (self) != NULL)
    return TRUE;
  tell (self, _("Choose a unit first: scan or type its serial, or choose one below."));
  return FALSE;
}

static void
do_deed (FettleBenchPage *self, FettleBenchDeed deed)
{
  const InsightBenchUnit *unit;
  g_autofree char *stuck = NULL;
  BookEdit *edit;

  if (!has_unit (self) || !fettle_sitting_need_person (self->sitting)) /* what happened to a unit is said by somebody */
    return;
  unit = unit_at_hand (self);
  tell (self, "");
  if (deed != FETTLE_BENCH_PASSED)
    {
      begin_deed (self, unit, deed);
      return;
    }
  stuck = present_bench_stuck (unit);
  if (stuck != NULL)
    {
      tell (self, stuck);
      return;
    }
  edit = book_unit_add_event (unit->unit, BOOK_EVENT_PASSED, NULL, NULL);
  book_unit_event_at (edit, unit->step_id);
  store_event (self, unit, edit, BOOK_EVENT_PASSED, FALSE);
}

static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  for (guint i = 0; i < FETTLE_BENCH_N_DEEDS; i++)
    if (g_str_equal (fettle_bench_deeds[i].name, g_variant_get_string (parameter, NULL)))
      do_deed (FETTLE_BENCH_PAGE (widget), (FettleBenchDeed) i);
}

/* What was said of the last reading outlives the line that it was typed into. */
static void
on_measured (FettleBenchPage *self)
{
  g_autofree char *said = fettle_bench_measure_dup_last (FETTLE_BENCH_MEASURE (self->form));

  close_form (self);
  if (said != NULL)
    tell (self, said);
}

static void
on_measure (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleBenchPage *self = FETTLE_BENCH_PAGE (widget);
  GtkWidget *form;

  if (!has_unit (self) || !fettle_sitting_need_person (self->sitting))
    return;
  if (FETTLE_IS_BENCH_MEASURE (self->form))
    {
      fettle_bench_measure_focus (FETTLE_BENCH_MEASURE (self->form));
      return;
    }
  form = fettle_bench_measure_new (self->sitting);
  place_form (self, form);
  g_signal_connect_swapped (form, "closed", G_CALLBACK (on_measured), self);
  fettle_bench_measure_show (FETTLE_BENCH_MEASURE (form), unit_at_hand (self));
  if (self->form == form)
    fettle_bench_measure_focus (FETTLE_BENCH_MEASURE (form));
  else
    tell (self, _("What is left to do on this unit is a life test: it is entered on the page of life tests."));
}

static void
on_step (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleBenchPage *self = FETTLE_BENCH_PAGE (widget);
  gint64 next = self->answer != NULL ? fettle_bench_answer_next (self->answer, self->at_hand, g_variant_get_int32 (parameter)) : 0;

  tell (self, next == 0 ? _("There is no further unit that waits here.") : "");
  if (next != 0)
    take_to_hand (self, next);
}

static void
on_unit (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleBenchPage *self = FETTLE_BENCH_PAGE (widget);

  if (has_unit (self))
    gtk_widget_activate_action (widget, "win.show-unit", "x", self->at_hand);
}

/* ---- the line ---- */

static void
on_line (FettleBenchPage *self)
{
  g_autoptr(BookUnitLine) line = book_unit_line_parse (gtk_editable_get_text (GTK_EDITABLE (self->line)));
  const InsightBenchUnit *unit;

  if (self->answer == NULL || (!line->is_event && *line->serial == '\0'))
    return;
  if (*line->serial != '\0')
    {
      g_autofree char *unknown = present_bench_unknown (line->serial);

      unit = insight_bench_find (self->answer->data, line->serial);
      tell (self, unit == NULL ? unknown : "");
      if (unit == NULL)
        {
          gtk_editable_select_region (GTK_EDITABLE (self->line), 0, -1); /* the next scan replaces it */
          return;
        }
      take_to_hand (self, unit->unit);
    }
  if (!line->is_event)
    {
      fettle_typed_set (GTK_EDITABLE (self->line), "");
      return;
    }
  if (!has_unit (self) || !fettle_sitting_need_person (self->sitting))
    return;
  unit = unit_at_hand (self);
  if (line->kind == BOOK_EVENT_PASSED && unit->step < 0)
    {
      g_autofree char *stuck = present_bench_stuck (unit);

      tell (self, stuck);
      return;
    }
  store_event (self, unit, book_unit_line_edit (line, unit->unit, unit->step_id), line->kind, TRUE);
}

/* ---- what a person chooses ---- */

static void
on_chosen (FettleBenchPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice);

  if (self->filling || self->answer == NULL || selected == GTK_INVALID_LIST_POSITION || selected > self->answer->benches->len)
    return;
  self->bench = selected == 0 ? 0 : g_array_index (self->answer->benches, gint64, selected - 1);
  fettle_remembered_set (BENCHES, fettle_sitting_get_person (self->sitting), self->bench);
  ask (self);
}

/* Each has a bench of one's own; who has chosen none yet takes that of before. */
static void
on_person_changed (FettleBenchPage *self)
{
  gint64 bench = fettle_remembered_get (BENCHES, fettle_sitting_get_person (self->sitting));

  if (bench == 0 || bench == self->bench)
    return;
  self->bench = bench;
  ask (self);
}

static void
on_row_selected (FettleBenchPage *self, gint64 unit)
{
  if (self->filling || unit == 0)
    return;
  tell (self, "");
  take_to_hand (self, unit);
}

static void
on_waiting_activated (const char *record, gint64 key, gpointer user_data)
{
  gtk_widget_activate_action (GTK_WIDGET (user_data), "win.show-unit", "x", key);
}

static void
on_measure_activated (const char *record, gint64 key, gpointer user_data)
{
  take_to_hand (FETTLE_BENCH_PAGE (user_data), key);
  gtk_widget_activate_action (GTK_WIDGET (user_data), "bench.measure", NULL);
}

/* ---- as a page ---- */

static void
fettle_bench_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleBenchPage *self = FETTLE_BENCH_PAGE (page);

  if (self->span.model != span->model)
    {
      close_form (self);
      self->at_hand = 0;
      tell (self, "");
    }
  self->span = *span;
  ask (self);
}

static void
fettle_bench_page_refresh (FettlePage *page)
{
  ask (FETTLE_BENCH_PAGE (page));
}

static gboolean
fettle_bench_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  if (g_str_equal (record, "unit"))
    take_to_hand (FETTLE_BENCH_PAGE (page), key);
  return g_str_equal (record, "unit");
}

/* The unit at hand, so that its card is offered. */
static gboolean
fettle_bench_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  *record = "unit";
  *key = FETTLE_BENCH_PAGE (page)->at_hand;
  return *key != 0;
}

static void
fettle_bench_page_page_init (FettlePageInterface *iface)
{
  iface->show_record = fettle_bench_page_show_record;
  iface->get_place = fettle_bench_page_get_place;
  iface->set_span = fettle_bench_page_set_span;
  iface->refresh = fettle_bench_page_refresh;
}

/* A scanner types wherever the keyboard is: into the line. */
static gboolean
fettle_bench_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (FETTLE_BENCH_PAGE (widget)->line);
}

static void
fettle_bench_page_dispose (GObject *object)
{
  FettleBenchPage *self = FETTLE_BENCH_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->answer, fettle_bench_answer_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_BENCH_PAGE);
  fettle_unparent_children (self);
  G_OBJECT_CLASS (fettle_bench_page_parent_class)->dispose (object);
}

static void
fettle_bench_page_class_init (FettleBenchPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_bench_page_dispose;
  widget_class->grab_focus = fettle_bench_page_grab_focus;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/bench-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, choice);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, elsewhere);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, line);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, hand);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, hand_title);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, hand_place);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, hand_wanted);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleBenchPage, form_place);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_line);
  gtk_widget_class_install_action (widget_class, "bench.act", "s", on_act);
  gtk_widget_class_install_action (widget_class, "bench.measure", NULL, on_measure);
  gtk_widget_class_install_action (widget_class, "bench.step", "i", on_step);
  gtk_widget_class_install_action (widget_class, "bench.unit", NULL, on_unit);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_u, GDK_CONTROL_MASK, "bench.unit", NULL);
}

static void
fettle_bench_page_init (FettleBenchPage *self)
{
  static const char *const names[N_SHEETS] = { "bench-waiting", "bench-measure", "bench-returns" };

  gtk_widget_init_template (GTK_WIDGET (self));
  self->deeds = fettle_bench_buttons_new ();
  gtk_box_append (GTK_BOX (self->hand), self->deeds);
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_append (GTK_BOX (self->content), GTK_WIDGET (self->sheets[i]));
    }
  for (guint i = 0; i < RETURNS; i++)
    g_signal_connect_object (self->sheets[i], "selected", G_CALLBACK (on_row_selected), self, G_CONNECT_SWAPPED);
  fettle_sheet_view_set_lead (self->sheets[WAITING], on_waiting_activated, self);
  fettle_sheet_view_set_lead (self->sheets[MEASURE], on_measure_activated, self);
  self->more = g_object_new (GTK_TYPE_LABEL, "name", "bench-more", "xalign", 0.0f, "wrap", TRUE, "visible", FALSE, "css-classes",
                             (const char *[]){ "dim", NULL }, NULL);
  gtk_box_insert_child_after (GTK_BOX (self->content), GTK_WIDGET (self->more), GTK_WIDGET (self->sheets[WAITING]));
  fettle_choice_set_up (self->choice, _("Bench"));
  fettle_bench_scan_into (GTK_WIDGET (self), self->line);
}

/**
 * fettle_bench_page_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the page, empty until a span is set
 */
GtkWidget *
fettle_bench_page_new (FettleSitting *sitting)
{
  FettleBenchPage *self = g_object_new (FETTLE_TYPE_BENCH_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->bench = fettle_remembered_get (BENCHES, fettle_sitting_get_person (sitting));
  g_signal_connect_object (sitting, "person-changed", G_CALLBACK (on_person_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
