/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "forecast-view.h"

#include <glib/gi18n.h>

#include "chart-view.h"
#include "choice.h"
#include "figure-row.h"
#include "sheet-view.h"
#include "unparent.h"
#include "words.h"

enum { HELPS, PLAYED, ASSUMPTIONS, PAST, N_SHEETS };

struct _FettleForecastView
{
  GtkWidget parent_instance;

  GtkLabel        *lead;
  GtkLabel        *note;
  GtkWidget       *chart_sheet;
  FettleChartView *chart;
  GtkWidget       *what_if;
  GtkDropDown     *waits;
  GtkWidget       *reset;
  GtkGrid         *fields;
  GtkLabel        *instead;
  GtkBox          *tables;
  FettleSheetView *sheets[N_SHEETS];

  FettleReleaseAnswer    *answer; /* NULL until there is a forecast */
  InsightForecastSettings now;
  GCancellable           *playing;
  gboolean                setting;
};

G_DEFINE_FINAL_TYPE (FettleForecastView, fettle_forecast_view, GTK_TYPE_WIDGET)

static const InsightForecastInput *
input_of (FettleForecastView *self)
{
  return self->answer->dossier->forecast_input;
}

static gboolean
is_set (FettleForecastView *self)
{
  const InsightForecastInput *input = input_of (self);

  for (guint f = 0; f < INSIGHT_FORECAST_N_FIELDS; f++)
    if (present_forecast_field_applies (input, &self->now, f)
        && insight_forecast_get (&self->now, f) != insight_forecast_get (&input->defaults, f))
      return TRUE;
  return self->now.waits != input->defaults.waits;
}

/* Without @helps the tables stay as they are: they come with the finer answer. */
static void
show_forecast (FettleForecastView *self, const InsightForecast *forecast, const PresentForecast *words, gboolean with_tables)
{
  const InsightForecastInput *input = input_of (self);
  g_autofree char *instead = is_set (self) ? present_forecast_instead (self->answer->dossier->forecast, forecast) : g_strdup ("");
  gboolean has_curve = forecast->n_points > 1;

  fettle_words_show (self->lead, words->headline);
  fettle_words_show (self->note, words->note);
  fettle_words_show (self->instead, instead);
  gtk_widget_set_sensitive (self->reset, is_set (self));
  gtk_widget_set_visible (self->chart_sheet, has_curve);
  if (has_curve)
    {
      fettle_chart_view_set_words (self->chart, _("When it is ready"), words->headline);
      fettle_chart_view_take_chart (self->chart, present_chart_forecast (input, &self->now, forecast, FALSE));
    }
  if (!with_tables)
    return;
  fettle_sheet_view_set (self->sheets[HELPS], words->helps);
  fettle_sheet_view_set (self->sheets[PLAYED], words->criteria);
  fettle_sheet_view_set (self->sheets[ASSUMPTIONS], words->assumptions);
}

/* ---- what if ---- */

typedef struct
{
  FettleReleaseAnswer    *answer;
  InsightForecastSettings settings;
  gboolean                fine;
} Play;

typedef struct
{
  InsightForecast *forecast;
  PresentForecast *words;
  gboolean         fine;
} Played;

static void
play_free (gpointer data)
{
  Play *play = data;

  fettle_release_answer_unref (play->answer);
  g_free (play);
}

static void
played_free (gpointer data)
{
  Played *played = data;

  insight_forecast_free (played->forecast);
  g_clear_pointer (&played->words, present_forecast_free);
  g_free (played);
}

static void
play_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Play *play = data;
  const InsightForecastInput *input = play->answer->dossier->forecast_input;
  g_autoptr(GArray) helps = NULL;
  Played *played = g_new0 (Played, 1);

  played->fine = play->fine;
  played->forecast = insight_forecast (input, &play->settings, play->fine ? INSIGHT_FORECAST_DRAWS : INSIGHT_FORECAST_BRIEF, cancellable);
  if (played->forecast != NULL && play->fine)
    helps = insight_forecast_helps (input, &play->settings, cancellable);
  if (played->forecast != NULL && (helps != NULL || !play->fine))
    played->words = present_forecast_new (input, &play->settings, played->forecast, helps, NULL);
  g_task_return_pointer (task, played, played_free);
}

static void play (FettleForecastView *self, gboolean fine);

static void
on_played (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleForecastView *self = FETTLE_FORECAST_VIEW (source);
  Played *played = g_task_propagate_pointer (G_TASK (result), NULL); /* NULL: cancelled */

  if (played == NULL)
    return;
  if (played->words != NULL && self->answer != NULL)
    {
      show_forecast (self, played->forecast, played->words, played->fine);
      if (!played->fine)
        play (self, TRUE);
    }
  played_free (played);
}

static void
stop (FettleForecastView *self)
{
  g_cancellable_cancel (self->playing);
  g_clear_object (&self->playing);
}

static void
play (FettleForecastView *self, gboolean fine)
{
  g_autoptr(GTask) task = NULL;
  Play *asked = g_new0 (Play, 1);

  stop (self);
  self->playing = g_cancellable_new ();
  asked->answer = fettle_release_answer_ref (self->answer);
  asked->settings = self->now;
  asked->fine = fine;
  task = g_task_new (self, self->playing, on_played, NULL);
  g_task_set_task_data (task, asked, play_free);
  g_task_run_in_thread (task, play_in_thread);
}

/* What the records say is there already. */
static void
follow (FettleForecastView *self)
{
  const PresentDossier *dossier = self->answer->dossier;

  if (is_set (self))
    play (self, FALSE);
  else
    {
      stop (self);
      show_forecast (self, dossier->forecast, dossier->forecast_words, TRUE);
    }
}

/* The shortest round is never longer than the longest. */
static void
on_moved (guint field, double value, gpointer user_data)
{
  FettleForecastView *self = user_data;

  if (self->setting || self->answer == NULL || !insight_forecast_set (&self->now, field, value))
    return;
  if (field == INSIGHT_FORECAST_SHORTEST)
    self->now.longest = MAX (self->now.longest, self->now.shortest);
  if (field == INSIGHT_FORECAST_LONGEST)
    self->now.shortest = MIN (self->now.longest, self->now.shortest);
  follow (self);
}

static void
show_fields (FettleForecastView *self)
{
  const InsightForecastInput *input = input_of (self);
  int row = 0;

  fettle_unparent_children (self->fields);
  for (guint f = 0; f < INSIGHT_FORECAST_N_FIELDS; f++)
    {
      g_autofree char *records = NULL;

      if (!present_forecast_field_applies (input, &self->now, f))
        continue;
      records = present_forecast_field_records (input, &self->now, f);
      fettle_figure_row_attach (self->fields, row++, present_forecast_field (f), insight_forecast_field_name (f),
                                insight_forecast_get (&self->now, f), records, f, on_moved, self);
    }
}

static void
on_waits (FettleForecastView *self)
{
  guint selected = gtk_drop_down_get_selected (self->waits);

  if (self->setting || self->answer == NULL || selected == GTK_INVALID_LIST_POSITION)
    return;
  self->now.waits = (int) selected - 1;
  show_fields (self);
  follow (self);
}

static void
show_waits (FettleForecastView *self)
{
  g_autoptr(GPtrArray) names = present_forecast_waits_names (input_of (self));
  g_autoptr(GtkStringList) list = gtk_string_list_new (NULL);

  for (guint i = 0; i < names->len; i++)
    gtk_string_list_append (list, g_ptr_array_index (names, i));
  self->setting = TRUE;
  fettle_choice_show_names (self->waits, list, (guint) (self->now.waits + 1));
  self->setting = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->waits), names->len > 1);
}

static void
on_reset (FettleForecastView *self)
{
  if (self->answer == NULL)
    return;
  self->now = input_of (self)->defaults;
  show_waits (self);
  show_fields (self);
  follow (self);
  gtk_widget_child_focus (GTK_WIDGET (self->fields), GTK_DIR_TAB_FORWARD);
}

/* ---- answers ---- */

/* What somebody set stays set when the book says something new, also whose waits are cut. */
static void
carry_settings (FettleForecastView *self, const InsightForecastInput *old, const InsightForecastInput *new)
{
  InsightForecastSettings now = new->defaults;

  if (old == NULL || old->model != new->model)
    {
      self->now = now;
      return;
    }
  for (guint f = 0; f < INSIGHT_FORECAST_N_FIELDS; f++)
    if (insight_forecast_get (&self->now, f) != insight_forecast_get (&old->defaults, f))
      insight_forecast_set (&now, f, insight_forecast_get (&self->now, f));
  for (guint i = 0; self->now.waits >= 0 && i < new->n_waits; i++)
    if (new->waits[i].supplier == old->waits[self->now.waits].supplier && new->waits[i].reason == old->waits[self->now.waits].reason)
      now.waits = (int) i;
  self->now = now;
}

/**
 * fettle_forecast_view_show:
 * @self: the view
 * @answer: (nullable): with a forecast; otherwise what is shown stays, since it is on its way
 */
void
fettle_forecast_view_show (FettleForecastView *self, FettleReleaseAnswer *answer)
{
  const InsightForecastInput *input;
  FettleReleaseAnswer *old;

  g_return_if_fail (FETTLE_IS_FORECAST_VIEW (self));

  if (answer == NULL || answer->dossier->forecast_words == NULL)
    return;
  old = self->answer;
  input = answer->dossier->forecast_input;
  carry_settings (self, old != NULL ? old->dossier->forecast_input : NULL, input);
  self->answer = fettle_release_answer_ref (answer);
  g_clear_pointer (&old, fettle_release_answer_unref);
  gtk_widget_set_visible (self->what_if, input->n_in > 0);
  show_waits (self);
  if (gtk_widget_get_focus_child (GTK_WIDGET (self->fields)) == NULL) /* a figure that is being typed stays */
    show_fields (self);
  fettle_sheet_view_set (self->sheets[PAST], answer->dossier->forecast_words->past);
  if (is_set (self))
    fettle_sheet_view_set (self->sheets[PLAYED], answer->dossier->forecast_words->criteria);
  follow (self);
}

/* ---- as a widget ---- */

static void
fettle_forecast_view_dispose (GObject *object)
{
  FettleForecastView *self = FETTLE_FORECAST_VIEW (object);

  stop (self);
  self->setting = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_FORECAST_VIEW);
  fettle_unparent_children (self);
  g_clear_pointer (&self->answer, fettle_release_answer_unref);
  G_OBJECT_CLASS (fettle_forecast_view_parent_class)->dispose (object);
}

static void
fettle_forecast_view_class_init (FettleForecastViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_forecast_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/forecast-view.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, note);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, chart_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, what_if);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, waits);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, reset);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, fields);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, instead);
  gtk_widget_class_bind_template_child (widget_class, FettleForecastView, tables);
  gtk_widget_class_bind_template_callback (widget_class, on_reset);
  gtk_widget_class_bind_template_callback (widget_class, on_waits);
}

static void
fettle_forecast_view_init (FettleForecastView *self)
{
  static const char *const names[N_SHEETS] = { "release-helps", "release-played", "release-assumptions", "release-past" };

  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_choice_set_up (self->waits, _("Whose waits are cut"));
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_append (self->tables, GTK_WIDGET (self->sheets[i]));
    }
}

/**
 * fettle_forecast_view_new:
 *
 * Returns: a view of no forecast yet
 */
GtkWidget *
fettle_forecast_view_new (void)
{
  return g_object_new (FETTLE_TYPE_FORECAST_VIEW, NULL);
}
