/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "round-forecast.h"

#include <glib/gi18n.h>

#include "beside.h"
#include "present-plan.h"
#include "sentence.h"
#include "tip.h"
#include "unparent.h"

#define N_COLUMNS   7
#define ARROW_WIDTH 12

struct _FettleRoundForecast
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  GtkWidget     *box;
  GtkWidget     *line;  /* the number of units */
  GtkWidget     *units; /* spin button */
  GtkWidget     *headline;
  GtkWidget     *table;
  GtkWidget     *notes;
  InsightPlan   *plan;  /* NULL until it is known */
  guint          shown; /* the number of units the figures are for */
  gboolean       typed; /* by a person; else as planned */
  gboolean       setting;
  GHashTable    *open;    /* gint64 *: criteria whose sentences are shown */
  GCancellable  *asking;
  GCancellable  *proving;
};

G_DEFINE_FINAL_TYPE (FettleRoundForecast, fettle_round_forecast, GTK_TYPE_WIDGET)

static void
attach (FettleRoundForecast *self, int column, int row, const char *text, gboolean figures, gboolean head, const char *words)
{
  const char *const classes[] = { head ? "dim" : figures ? "num" : "strong", head ? "small" : NULL, NULL };
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", figures ? 1.0f : 0.0f, "yalign", 0.0f, "wrap", !figures,
                                   "max-width-chars", figures ? -1 : 30, "hexpand", column == 0, "css-classes", classes, NULL);

  if (words != NULL)
    fettle_tip_set (label, words);
  gtk_grid_attach (GTK_GRID (self->table), label, column, row, 1, 1);
}

/* That the name of a criterion opens is to be seen, and whether it is open. */
static const char *
arrow (gboolean open)
{
  return open ? "▾" : "▸";
}

/* What shows the sentences of a criterion below its row; the figures may be made anew meanwhile. */
static void
on_toggled (GtkToggleButton *button, GtkWidget *sentences)
{
  FettleRoundForecast *self = FETTLE_ROUND_FORECAST (gtk_widget_get_ancestor (GTK_WIDGET (button), FETTLE_TYPE_ROUND_FORECAST));
  gint64 id = *(const gint64 *) g_object_get_data (G_OBJECT (button), "criterion");
  gboolean open = gtk_toggle_button_get_active (button);

  if (open)
    g_hash_table_add (self->open, g_memdup2 (&id, sizeof id));
  else
    g_hash_table_remove (self->open, &id);
  gtk_widget_set_visible (sentences, open);
  gtk_label_set_label (GTK_LABEL (gtk_widget_get_first_child (gtk_button_get_child (GTK_BUTTON (button)))), arrow (open));
  gtk_accessible_update_state (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
}

/* The name of a criterion as a button, and its sentences in the line below. */
static GtkWidget *
attach_criterion (FettleRoundForecast *self, const PresentPlanRow *row, int at)
{
  g_autofree char *about = g_strdup_printf ("%s %s", row->sign, row->about);
  gboolean open = g_hash_table_contains (self->open, &row->id);
  GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", arrow (open), "yalign", 0.0f, "width-request", ARROW_WIDTH, "css-classes",
                                  (const char *[]){ "dim", NULL }, NULL);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", about, "xalign", 0.0f, "yalign", 0.0f, "wrap", TRUE, "max-width-chars", 30,
                                   "css-classes", (const char *[]){ "strong", NULL }, NULL);
  GtkWidget *child = fettle_beside_new (sign, label, 4);
  GtkWidget *button = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "child", child, "active", open, "has-frame", FALSE, "hexpand", TRUE, "valign",
                                    GTK_ALIGN_START, "name", "forecast-criterion", "css-classes",
                                    (const char *[]){ "cell", NULL }, NULL);
  GtkWidget *sentences = fettle_sentence_new (row->words, "dim");

  fettle_tip_set (button, row->words);
  gtk_widget_set_name (sentences, "forecast-sentences");
  gtk_widget_set_visible (sentences, open);
  gtk_widget_set_margin_bottom (sentences, 6);
  g_object_set_data_full (G_OBJECT (button), "criterion", g_memdup2 (&row->id, sizeof row->id), g_free);
  g_signal_connect_object (button, "toggled", G_CALLBACK (on_toggled), sentences, 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, about, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  row->words, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
  gtk_grid_attach (GTK_GRID (self->table), button, 0, at, 1, 1);
  gtk_grid_attach (GTK_GRID (self->table), sentences, 0, at + 1, N_COLUMNS, 1);
  return button;
}

/* The criterion whose button has the keyboard; 0: none. */
static gint64
focused_criterion (FettleRoundForecast *self)
{
  GtkWidget *child = gtk_widget_get_focus_child (self->table);
  const gint64 *id = child == NULL ? NULL : g_object_get_data (G_OBJECT (child), "criterion");

  return id == NULL ? 0 : *id;
}

static void
show_table (FettleRoundForecast *self, const PresentPlan *present)
{
  const char *const heads[N_COLUMNS] = { _("Criterion"), _("Counts now"), _("Further"), _("If none fails"), _("Passes"),
                                         _("A bad one passes"), _("Units for 80 %") };
  gint64 focused = focused_criterion (self);

  fettle_unparent_children (self->table);
  for (int i = 0; i < N_COLUMNS && present->rows->len > 0; i++)
    attach (self, i, 0, heads[i], i > 0, TRUE, NULL);
  for (guint i = 0; i < present->rows->len; i++)
    {
      const PresentPlanRow *row = g_ptr_array_index (present->rows, i);
      const char *const cells[N_COLUMNS] = { NULL, row->before, row->further, row->reached, row->assurance, row->bad, row->needed };
      int at = 2 * (int) i + 1;
      GtkWidget *button = attach_criterion (self, row, at);

      for (int k = 1; k < N_COLUMNS; k++)
        attach (self, k, at, cells[k], TRUE, FALSE, row->words);
      if (row->id == focused)
        gtk_widget_grab_focus (button);
    }
}

static void
show_notes (FettleRoundForecast *self, GPtrArray *notes)
{
  fettle_unparent_children (self->notes);
  for (guint i = 0; i < notes->len; i++)
    {
      GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", "◇", "yalign", 0.0f, "width-request", 16, "css-classes",
                                      (const char *[]){ "dim", NULL }, NULL);

      gtk_box_append (GTK_BOX (self->notes), fettle_beside_new (sign, fettle_sentence_new (g_ptr_array_index (notes, i), NULL), 8));
    }
}

/* ---- what a number of units can show ---- */

typedef struct
{
  InsightPlan *plan;
  guint        units;
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;

  insight_plan_unref (question->plan);
  g_free (question);
}

static void
present_free (gpointer data)
{
  present_plan_free (data);
}

static void
prove_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  GError *error = NULL;
  g_autoptr(InsightPlanAnswer) answer = insight_plan_prove (question->plan, question->units, cancellable, &error);

  if (answer == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, present_plan_new (question->plan, answer), present_free);
}

static void
on_proved (GObject *source, GAsyncResult *result, gpointer data)
{
  FettleRoundForecast *self = FETTLE_ROUND_FORECAST (source);
  g_autoptr(PresentPlan) present = g_task_propagate_pointer (G_TASK (result), NULL); /* only cancelling fails */

  if (present == NULL || self->box == NULL)
    return;
  gtk_label_set_label (GTK_LABEL (self->headline), present->headline);
  show_table (self, present);
  show_notes (self, present->notes);
}

static void
prove (FettleRoundForecast *self)
{
  Question *question;
  g_autoptr(GTask) task = NULL;

  g_cancellable_cancel (self->proving);
  g_clear_object (&self->proving);
  if (self->plan == NULL)
    return;
  self->proving = g_cancellable_new ();
  question = g_new0 (Question, 1);
  question->plan = insight_plan_ref (self->plan);
  question->units = self->shown;
  task = g_task_new (self, self->proving, on_proved, NULL);
  g_task_set_task_data (task, question, question_free);
  g_task_run_in_thread (task, prove_in_thread);
}

/* The figures follow each key: the button itself takes a text only when it is left. */
static void
on_text (FettleRoundForecast *self)
{
  guint64 units;

  if (self->setting || !g_ascii_string_to_unsigned (gtk_editable_get_text (GTK_EDITABLE (self->units)), 10, 0, INSIGHT_PLAN_UNITS_MOST,
                                                    &units, NULL))
    return;
  self->shown = (guint) units;
  self->typed = TRUE;
  prove (self);
}

/* ---- asking ---- */

static void
on_figures (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleRoundForecast) self = data;
  g_autoptr(GError) error = NULL;
  FettleRoundFigures *figures = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (figures == NULL || self->box == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      fettle_round_figures_free (figures);
      return;
    }
  g_clear_pointer (&self->plan, insight_plan_unref);
  gtk_widget_set_visible (self->line, figures->plan != NULL);
  if (figures->plan != NULL)
    {
      self->plan = insight_plan_ref (figures->plan);
      if (!self->typed)
        {
          self->shown = insight_plan_get_units (figures->plan);
          self->setting = TRUE;
          gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->units), self->shown);
          self->setting = FALSE;
        }
      prove (self);
    }
  else
    {
      g_autoptr(GPtrArray) sentences = present_round_answer (figures->answer);

      fettle_unparent_children (self->table);
      gtk_label_set_label (GTK_LABEL (self->headline), sentences->len > 0 ? "" : _("It has nothing to answer with: no criteria yet."));
      gtk_widget_set_visible (self->headline, sentences->len == 0);
      show_notes (self, sentences);
    }
  fettle_round_figures_free (figures);
}

/**
 * fettle_round_forecast_ask:
 * @self: a forecast
 * @model: key
 * @round: of which round
 *
 * Of a round that is tested or decided: what it answered; of another one: what it can show.
 */
void
fettle_round_forecast_ask (FettleRoundForecast *self, gint64 model, const InsightRound *round)
{
  gboolean finished;

  g_return_if_fail (FETTLE_IS_ROUND_FORECAST (self));

  finished = round->dates[BOOK_ROUND_TESTED][0] != '\0' || round->dates[BOOK_ROUND_DECIDED][0] != '\0';
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_round_figures_work, fettle_rounds_ask_new (model, round->id, finished), fettle_rounds_ask_free,
                      fettle_round_figures_free, self->asking, on_figures, g_object_ref (self));
}

/* ---- as a widget ---- */

static void
fettle_round_forecast_dispose (GObject *object)
{
  FettleRoundForecast *self = FETTLE_ROUND_FORECAST (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_cancellable_cancel (self->proving);
  g_clear_object (&self->proving);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->plan, insight_plan_unref);
  g_clear_pointer (&self->open, g_hash_table_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_round_forecast_parent_class)->dispose (object);
}

static void
fettle_round_forecast_class_init (FettleRoundForecastClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_round_forecast_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_round_forecast_init (FettleRoundForecast *self)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", _("Units built:"), NULL);
  GtkWidget *hint = g_object_new (GTK_TYPE_LABEL, "label", _("only to look at; the plan is changed in its form"), "css-classes",
                                  (const char *[]){ "dim", NULL }, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
  GtkWidget *scroll;

  self->open = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->units = gtk_spin_button_new_with_range (0, INSIGHT_PLAN_UNITS_MOST, 1);
  gtk_widget_set_name (self->units, "forecast-units");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->units), 6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->units), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Units built"), -1);
  g_signal_connect_object (self->units, "changed", G_CALLBACK (on_text), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->line), label);
  gtk_box_append (GTK_BOX (self->line), self->units);
  gtk_box_append (GTK_BOX (self->line), hint);
  gtk_widget_set_visible (self->line, FALSE);
  gtk_box_append (GTK_BOX (self->box), self->line);
  self->headline = fettle_sentence_new ("", "strong");
  gtk_widget_set_name (self->headline, "forecast-headline");
  gtk_box_append (GTK_BOX (self->box), self->headline);
  self->table = g_object_new (GTK_TYPE_GRID, "column-spacing", 14, "row-spacing", 2, "name", "forecast-table", NULL);
  scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "vscrollbar-policy", GTK_POLICY_NEVER, "child", self->table, NULL);
  gtk_box_append (GTK_BOX (self->box), scroll);
  self->notes = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 2, "name", "forecast-notes", NULL);
  gtk_box_append (GTK_BOX (self->box), self->notes);
}

/**
 * fettle_round_forecast_new:
 * @sitting: to be asked
 *
 * Returns: empty until it is asked
 */
GtkWidget *
fettle_round_forecast_new (FettleSitting *sitting)
{
  FettleRoundForecast *self = g_object_new (FETTLE_TYPE_ROUND_FORECAST, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
