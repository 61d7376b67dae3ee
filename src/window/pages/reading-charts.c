/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reading-charts.h"

#include <glib/gi18n.h>

#include "chart-view.h"
#include "chart-wall.h"
#include "reading-chosen.h"
#include "unparent.h"
#include "words.h"

#define CHART_HEIGHT 236
#define CHOSEN_HEIGHT 360 /* while units are chosen: they stand beside the chart */
#define USUAL_WIDTH 800 /* until the page has its own */

struct _FettleReadingCharts
{
  GtkBox parent_instance;

  GtkLabel        *words;
  GtkWidget       *chart_frame;
  FettleChartView *chart;
  FettleReadingChosen *chosen;
  GtkWidget       *wall_frame;
  FettleChartView *wall;
};

enum { MARK, OPENED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleReadingCharts, fettle_reading_charts, GTK_TYPE_BOX)

static void
on_mark (FettleReadingCharts *self, gint64 key, FettleChartView *chart)
{
  g_signal_emit (self, signals[MARK], 0, key);
}

static void
on_opened (FettleReadingCharts *self, gint64 key, FettleChartView *wall)
{
  g_signal_emit (self, signals[OPENED], 0, key);
}

static void
on_choice (FettleReadingCharts *self, FettleChartView *chart)
{
  GArray *keys = fettle_chart_view_get_chosen (chart);

  fettle_chart_view_set_height (chart, keys->len > 0 ? CHOSEN_HEIGHT : CHART_HEIGHT);
  fettle_reading_chosen_show (self->chosen, keys);
}

static void
on_told (FettleReadingCharts *self, const char *words, FettleReadingChosen *chosen)
{
  fettle_chart_view_set_chosen_words (self->chart, words);
}

static void
on_clear (FettleReadingCharts *self, FettleReadingChosen *chosen)
{
  fettle_chart_view_clear_chosen (self->chart);
}

static void
on_leave (FettleReadingCharts *self, FettleReadingChosen *chosen)
{
  gtk_widget_child_focus (GTK_WIDGET (self->chart), GTK_DIR_TAB_FORWARD);
}

static void
show_words (FettleReadingCharts *self, const char *words)
{
  fettle_words_show (self->words, words);
}

/**
 * fettle_reading_charts_show:
 * @self: the charts
 * @chart: (transfer full) (nullable): of a characteristic; %NULL: of none
 * @name: (nullable): of the characteristic
 * @words: (nullable): what it says
 *
 * Shows one chart in place of the wall.
 */
void
fettle_reading_charts_show (FettleReadingCharts *self, Chart *chart, const char *name, const char *words)
{
  show_words (self, words);
  gtk_widget_set_visible (self->wall_frame, FALSE);
  gtk_widget_set_visible (self->chart_frame, chart != NULL);
  gtk_widget_set_vexpand (GTK_WIDGET (self), FALSE);
  if (chart == NULL)
    {
      fettle_chart_view_clear_chosen (self->chart);
      return;
    }
  fettle_chart_view_take_chart (self->chart, chart);
  fettle_chart_view_set_words (self->chart, name, words);
}

/**
 * fettle_reading_charts_show_wall:
 * @self: the charts
 * @wall: (transfer full): made by chart_wall_new()
 * @words: what it says
 *
 * Shows the wall, high enough for each of its small charts to be read.
 */
void
fettle_reading_charts_show_wall (FettleReadingCharts *self, Chart *wall, const char *words)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));

  show_words (self, words);
  fettle_chart_view_set_height (self->wall, (int) chart_wall_height (wall, width > 0 ? width : USUAL_WIDTH));
  fettle_chart_view_take_chart (self->wall, wall);
  fettle_chart_view_set_words (self->wall, _("All characteristics, the worst first"), words);
  gtk_widget_set_visible (self->chart_frame, FALSE);
  gtk_widget_set_visible (self->wall_frame, TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
}

/**
 * fettle_reading_charts_focus:
 * @self: the charts
 *
 * Gives what is drawn the keyboard.
 */
void
fettle_reading_charts_focus (FettleReadingCharts *self)
{
  g_return_if_fail (FETTLE_IS_READING_CHARTS (self));

  gtk_widget_child_focus (gtk_widget_get_visible (self->wall_frame) ? GTK_WIDGET (self->wall) : GTK_WIDGET (self->chart),
                          GTK_DIR_TAB_FORWARD);
}

/**
 * fettle_reading_charts_set_sitting:
 * @self: the charts
 * @sitting: the window's
 *
 * Whom to ask about chosen units.
 */
void
fettle_reading_charts_set_sitting (FettleReadingCharts *self, FettleSitting *sitting)
{
  fettle_reading_chosen_set_sitting (self->chosen, sitting);
}

/**
 * fettle_reading_charts_look_at:
 * @self: the charts
 * @model: key
 * @characteristic: key of the one that is shown next; 0: none
 * @to: key of the round looked through
 */
void
fettle_reading_charts_look_at (FettleReadingCharts *self, gint64 model, gint64 characteristic, gint64 to)
{
  fettle_reading_chosen_look_at (self->chosen, model, characteristic, to);
}

static void
fettle_reading_charts_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_READING_CHARTS);
  fettle_unparent_children (object);

  G_OBJECT_CLASS (fettle_reading_charts_parent_class)->dispose (object);
}

static void
fettle_reading_charts_class_init (FettleReadingChartsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_reading_charts_dispose;
  signals[MARK] = g_signal_new ("mark", FETTLE_TYPE_READING_CHARTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_INT64);
  signals[OPENED] = g_signal_new ("opened", FETTLE_TYPE_READING_CHARTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                  G_TYPE_INT64);

  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  g_type_ensure (FETTLE_TYPE_READING_CHOSEN);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/reading-charts.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, words);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, chart_frame);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, chosen);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, wall_frame);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingCharts, wall);
  gtk_widget_class_bind_template_callback (widget_class, on_mark);
  gtk_widget_class_bind_template_callback (widget_class, on_choice);
  gtk_widget_class_bind_template_callback (widget_class, on_told);
  gtk_widget_class_bind_template_callback (widget_class, on_clear);
  gtk_widget_class_bind_template_callback (widget_class, on_leave);
  gtk_widget_class_bind_template_callback (widget_class, on_opened);
}

static void
fettle_reading_charts_init (FettleReadingCharts *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_chart_view_set_height (self->chart, CHART_HEIGHT);
  fettle_chart_view_set_choosing (self->chart, TRUE);
}
