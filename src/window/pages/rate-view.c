/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "rate-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "book-rate.h"
#include "chart-rows.h"
#include "chart-theme.h"
#include "chart-view.h"
#include "choice.h"
#include "deed-form.h"
#include "look.h"
#include "present-pilot.h"
#include "rate-fields.h"
#include "reveal.h"
#include "sentence.h"
#include "sheet-view.h"
#include "unparent.h"
#include "words.h"

#define CHART_WORDS      28 /* height of the line below the drawing */

struct _FettleRateView
{
  GtkWidget parent_instance;

  GtkLabel        *lead;
  GtkLabel        *constraint;
  GtkLabel        *instead;
  FettleChartView *chart;
  GtkDropDown     *subject;
  GtkGrid         *fields;
  GtkWidget       *what_if;
  GtkBox          *changes;
  GtkWidget       *reset;
  GtkWidget       *store;
  GtkBox          *form_place;
  FettleSheetView *benches;
  GtkLabel        *cost_words;
  FettleSheetView *cost;
  GtkBox          *notes;

  FettleSitting    *sitting;
  FettleDeedForm   *form;   /* NULL: closed */
  gboolean          stored; /* what was set is in the book, and the answer with it is on its way */
  InsightRateInput *before; /* as the book has it */
  InsightRateInput *now;    /* with what was set */
  InsightRate      *rate_before;
  GCancellable     *drawing;
};

G_DEFINE_FINAL_TYPE (FettleRateView, fettle_rate_view, GTK_TYPE_WIDGET)

static guint can_store_changed;

static void
close_form (FettleRateView *self)
{
  if (self->form == NULL)
    return;
  if (gtk_widget_get_focus_child (GTK_WIDGET (self->form_place)) != NULL)
    gtk_widget_grab_focus (gtk_widget_get_sensitive (self->store) ? self->store : GTK_WIDGET (self->subject));
  self->form = NULL;
  fettle_unparent_children (self->form_place);
  gtk_widget_set_visible (GTK_WIDGET (self->changes), TRUE);
}

/* What would be stored follows what is set while somebody decides. */
static void
show_storing (FettleRateView *self, gboolean any)
{
  gtk_widget_set_sensitive (self->reset, any);
  if (gtk_widget_get_sensitive (self->store) != any)
    {
      gtk_widget_set_sensitive (self->store, any);
      g_signal_emit (self, can_store_changed, 0);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->changes), self->form == NULL || !any); /* else the form says the same and more */
  if (self->form != NULL && any)
    {
      g_autoptr(GPtrArray) lines = present_rate_storing (self->before, self->now);
      g_autofree char *text = NULL;

      g_ptr_array_add (lines, NULL);
      text = g_strjoinv ("\n", (char **) lines->pdata);
      fettle_deed_form_say (self->form, text);
    }
  else
    close_form (self);
}

/* Labels and drawing: what follows a slider within a frame. */
static void
show_rate (FettleRateView *self, const InsightRate *rate, const PresentRate *words)
{
  Chart *chart = present_chart_rate (self->now, rate, FALSE);
  g_autoptr(GPtrArray) changes = present_rate_changes (self->before, self->now);
  g_autofree char *instead = changes->len > 0 ? present_rate_instead (self->rate_before, rate) : g_strdup ("");
  int height = (int) chart_rows_height (chart, chart_theme (fettle_look_chart ()));

  fettle_words_show (self->lead, words->headline);
  fettle_words_show (self->constraint, words->constraint);
  fettle_words_show (self->instead, instead);
  gtk_widget_set_size_request (GTK_WIDGET (self->chart), -1, height + CHART_WORDS);
  fettle_chart_view_set_height (self->chart, height);
  fettle_chart_view_set_words (self->chart, _("What each bench could make in a month"), words->headline);
  fettle_chart_view_take_chart (self->chart, chart);
  fettle_sentences_show (self->changes, changes, "num");
  show_storing (self, changes->len > 0);
}

/* The tables too, when the figures have come to rest. */
static void
show_tables (FettleRateView *self, const PresentRate *words)
{
  fettle_sheet_view_set (self->benches, words->benches);
  fettle_sheet_view_set (self->cost, words->cost);
  fettle_words_show (self->cost_words, words->cost_sentence);
  fettle_sentences_show (self->notes, words->notes, "dim");
}

static void
draw_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const InsightRateInput *input = data;
  InsightRate *rate = insight_rate (input);

  if (!insight_rate_draw (rate, input, FETTLE_RATE_DRAWS, NAN, NULL, NULL, cancellable))
    g_debug ("There is no interval of the rate");
  g_task_return_pointer (task, rate, (GDestroyNotify) insight_rate_free);
}

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleRateView *self = FETTLE_RATE_VIEW (source);
  g_autoptr(InsightRate) rate = g_task_propagate_pointer (G_TASK (result), NULL);
  g_autoptr(PresentRate) words = NULL;

  if (rate == NULL || self->now == NULL) /* cancelled, or the view is gone */
    return;
  words = present_rate_new (self->now, rate);
  show_rate (self, rate, words);
  show_tables (self, words);
}

static void
draw (FettleRateView *self)
{
  g_autoptr(GTask) task = NULL;

  g_cancellable_cancel (self->drawing);
  g_clear_object (&self->drawing);
  self->drawing = g_cancellable_new ();
  task = g_task_new (self, self->drawing, on_drawn, NULL);
  g_task_set_task_data (task, insight_rate_input_copy (self->now), (GDestroyNotify) insight_rate_input_free);
  g_task_run_in_thread (task, draw_work);
}

static void
compute (FettleRateView *self, gboolean tables)
{
  g_autoptr(InsightRate) rate = insight_rate (self->now);
  g_autoptr(PresentRate) words = present_rate_new (self->now, rate);

  show_rate (self, rate, words);
  if (tables)
    show_tables (self, words);
  draw (self);
}

/* The choice lists benches, then steps. */
static gboolean
chosen (FettleRateView *self, gboolean *of_bench, guint *index)
{
  guint selected = gtk_drop_down_get_selected (self->subject);

  if (selected == GTK_INVALID_LIST_POSITION || self->now == NULL)
    return FALSE;
  *of_bench = selected < self->now->n_benches;
  *index = *of_bench ? selected : selected - self->now->n_benches;
  return *of_bench || *index < self->now->n_steps;
}

static void
on_moved (guint field, double value, gpointer user_data)
{
  FettleRateView *self = user_data;
  gboolean of_bench;
  guint index;

  if (chosen (self, &of_bench, &index) && insight_rate_set (self->now, index, field, value))
    compute (self, FALSE);
}

static void
show_fields (FettleRateView *self)
{
  gboolean of_bench;
  guint index;

  if (chosen (self, &of_bench, &index))
    fettle_rate_fields_fill (self->fields, self->before, self->now, of_bench, index, on_moved, self);
}

static void
on_reset (FettleRateView *self)
{
  g_clear_pointer (&self->now, insight_rate_input_free);
  self->now = insight_rate_input_copy (self->before);
  show_fields (self);
  compute (self, FALSE);
  gtk_widget_grab_focus (GTK_WIDGET (self->subject));
}

static BookEdit *
make_store (FettleDeedForm *form, gpointer user_data)
{
  FettleRateView *self = user_data;
  BookEdit *edit = book_rate_store (self->before->model);
  g_autoptr(GArray) changes = insight_rate_changes (self->before, self->now);

  for (guint i = 0; i < changes->len; i++)
    {
      const InsightRateChange *change = &g_array_index (changes, InsightRateChange, i);
      gboolean of_bench = insight_rate_field_of_bench (change->field);

      if (!change->counted)
        book_rate_store_set (edit, of_bench ? BOOK_RECORD_BENCH : BOOK_RECORD_STEP,
                             of_bench ? self->before->benches[change->index].id : self->before->steps[change->index].id,
                             insight_rate_field_name (change->field), change->value);
    }
  return edit;
}

static void
on_stored (FettleRateView *self)
{
  self->stored = TRUE;
}

/**
 * fettle_rate_view_store:
 * @self: the view
 *
 * Shows what of the figures that are set would be written where, with the button that does it; says so where none is set.
 */
void
fettle_rate_view_store (FettleRateView *self)
{
  static const char *const no_fields[] = { NULL };

  g_return_if_fail (FETTLE_IS_RATE_VIEW (self));

  if (!gtk_widget_get_sensitive (self->store))
    {
      fettle_sitting_say (self->sitting, _("Nothing is set that can be stored: set a figure first."), NULL, NULL);
      return;
    }
  if (self->form == NULL)
    {
      self->form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_BENCH, no_fields, _("Store"), make_store, self));
      gtk_widget_set_name (GTK_WIDGET (self->form), "rate-form");
      g_signal_connect_object (self->form, "done", G_CALLBACK (on_stored), self, G_CONNECT_SWAPPED);
      g_signal_connect_object (self->form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->form_place, GTK_WIDGET (self->form));
    }
  show_storing (self, TRUE);
  fettle_deed_form_begin (self->form, "rate-store", 0);
  fettle_reveal (GTK_WIDGET (self->form));
}

/**
 * fettle_rate_view_can_store:
 * @self: the view
 *
 * 'can-store-changed' tells when this changes.
 *
 * Returns: whether a figure is set
 */
gboolean
fettle_rate_view_can_store (FettleRateView *self)
{
  g_return_val_if_fail (FETTLE_IS_RATE_VIEW (self), FALSE);

  return gtk_widget_get_sensitive (self->store);
}

/* Benches and steps as choices; of the same model the one chosen before stays chosen where its name is there still. */
static void
list_subjects (FettleRateView *self, guint first, gboolean same_model)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  GObject *item = gtk_drop_down_get_selected_item (self->subject);
  g_autofree char *before = item == NULL ? NULL : g_strdup (gtk_string_object_get_string (GTK_STRING_OBJECT (item)));
  guint selected = first;

  for (guint i = 0; i < self->now->n_benches + self->now->n_steps; i++)
    {
      guint step = i - self->now->n_benches;
      g_autofree char *name = i < self->now->n_benches
                                  ? g_strdup (self->now->benches[i].name)
                                  : g_strdup_printf ("%d %s", self->now->steps[step].position, self->now->steps[step].name);

      if (same_model && g_strcmp0 (name, before) == 0)
        selected = i;
      gtk_string_list_append (names, name);
    }
  fettle_choice_set_names (self->subject, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->subject, selected);
}

static void
set_again (InsightRateInput *now, const InsightRateInput *old_before, const InsightRateInput *old_now, gboolean of_bench, guint from,
           guint to)
{
  for (guint f = 0; f < INSIGHT_RATE_N_FIELDS; f++)
    {
      double was, set;

      if (!present_rate_field_applies (old_before, of_bench, from, f))
        continue;
      was = insight_rate_get (old_before, from, f);
      set = insight_rate_get (old_now, from, f);
      if ((was < set || was > set || isnan (was) != isnan (set)) && !insight_rate_set (now, to, f, set))
        g_debug ("A figure that was set cannot be set again");
    }
}

/* What was set stays set, by key, when the book has changed. */
static void
carry_over (InsightRateInput *now, const InsightRateInput *old_before, const InsightRateInput *old_now)
{
  for (guint i = 0; i < old_before->n_benches; i++)
    for (guint k = 0; k < now->n_benches; k++)
      if (old_before->benches[i].id == now->benches[k].id)
        set_again (now, old_before, old_now, TRUE, i, k);
  for (guint i = 0; i < old_before->n_steps; i++)
    for (guint k = 0; k < now->n_steps; k++)
      if (old_before->steps[i].id == now->steps[k].id)
        set_again (now, old_before, old_now, FALSE, i, k);
}

/**
 * fettle_rate_view_take:
 * @self: the view
 * @input: (transfer full): what the rate is made of from now on
 */
void
fettle_rate_view_take (FettleRateView *self, InsightRateInput *input)
{
  InsightRateInput *now;
  const InsightRateLine *least;
  gboolean same_model;

  g_return_if_fail (FETTLE_IS_RATE_VIEW (self));

  now = insight_rate_input_copy (input);
  same_model = self->before != NULL && self->before->model == input->model;
  if (same_model && !self->stored)
    carry_over (now, self->before, self->now);
  g_clear_pointer (&self->before, insight_rate_input_free);
  g_clear_pointer (&self->now, insight_rate_input_free);
  g_clear_pointer (&self->rate_before, insight_rate_free);
  self->stored = FALSE;
  self->before = input;
  self->now = now;
  self->rate_before = insight_rate (input);
  gtk_widget_set_visible (self->what_if, self->rate_before->n_lines > 0);
  if (self->rate_before->n_lines > 0)
    {
      least = &self->rate_before->lines[self->rate_before->constraint];
      list_subjects (self, least->bench >= 0 ? (guint) least->bench : self->now->n_benches + (guint) least->step, same_model);
      if (gtk_widget_get_focus_child (GTK_WIDGET (self->fields)) == NULL) /* else somebody is typing there */
        show_fields (self);
    }
  compute (self, TRUE);
}

static void
fettle_rate_view_dispose (GObject *object)
{
  FettleRateView *self = FETTLE_RATE_VIEW (object);

  g_cancellable_cancel (self->drawing);
  g_clear_object (&self->drawing);
  self->form = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_RATE_VIEW);
  fettle_unparent_children (self);
  g_clear_pointer (&self->before, insight_rate_input_free);
  g_clear_pointer (&self->now, insight_rate_input_free);
  g_clear_pointer (&self->rate_before, insight_rate_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_rate_view_parent_class)->dispose (object);
}

static void
fettle_rate_view_class_init (FettleRateViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_rate_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  can_store_changed = g_signal_new ("can-store-changed", FETTLE_TYPE_RATE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  g_type_ensure (FETTLE_TYPE_SHEET_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/rate-view.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, constraint);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, instead);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, subject);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, fields);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, what_if);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, changes);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, reset);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, store);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, form_place);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, cost_words);
  gtk_widget_class_bind_template_child (widget_class, FettleRateView, notes);
  gtk_widget_class_bind_template_callback (widget_class, on_reset);
  gtk_widget_class_bind_template_callback (widget_class, fettle_rate_view_store);
  gtk_widget_class_bind_template_callback (widget_class, show_fields);
}

static void
fettle_rate_view_init (FettleRateView *self)
{
  GtkBox *box;

  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_choice_set_up (self->subject, _("Bench or step"));
  self->benches = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("rate-benches"));
  self->cost = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("rate-cost"));
  box = GTK_BOX (gtk_widget_get_parent (self->what_if));
  gtk_box_insert_child_after (box, GTK_WIDGET (self->benches), self->what_if);
  gtk_box_insert_child_after (box, GTK_WIDGET (self->cost), GTK_WIDGET (self->cost_words));
}

/**
 * fettle_rate_view_set_sitting:
 * @self: the view
 * @sitting: whose book figures are stored in
 */
void
fettle_rate_view_set_sitting (FettleRateView *self, FettleSitting *sitting)
{
  g_return_if_fail (FETTLE_IS_RATE_VIEW (self));

  g_set_object (&self->sitting, sitting);
}

/**
 * fettle_rate_view_new:
 *
 * Returns: a view of no rate yet
 */
GtkWidget *
fettle_rate_view_new (void)
{
  return g_object_new (FETTLE_TYPE_RATE_VIEW, NULL);
}
