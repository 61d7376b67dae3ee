/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The share of futures that is ready, by working days; with the days at which half and four in five are. */

#include "config.h"

#include "present-forecast.h"

#include "chart-plot.h"
#include "present-chart.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static PresentSheet *
table (const InsightForecast *forecast)
{
  PresentSheet *sheet = present_sheet_new (_("Share of futures that is ready"));

  present_sheet_add_column (sheet, _("by"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("in 100"), TRUE, FALSE, 0);
  for (guint i = 0; i < forecast->n_points; i++)
    present_sheet_add_row (sheet, NULL, 0, FALSE,
                           PRESENT_CELLS (g_strdup (forecast->points[i].date), present_number (forecast->points[i].days, 0),
                                          present_number (floor (100.0 * forecast->points[i].share), 0)));
  return sheet;
}

/**
 * present_chart_forecast:
 * @input: what it is made of
 * @settings: as they are set
 * @forecast: the answer
 * @with_title: with a heading
 *
 * Returns: (transfer full): the curve
 */
Chart *
present_chart_forecast (const InsightForecastInput *input, const InsightForecastSettings *settings, const InsightForecast *forecast,
                        gboolean with_title)
{
  g_autoptr(PresentForecast) words = present_forecast_new (input, settings, forecast, NULL, NULL);
  g_autoptr(PresentSheet) sheet = table (forecast);
  g_autofree double *xs = g_new0 (double, forecast->n_points + 1), *ys = g_new0 (double, forecast->n_points + 1);
  g_autofree char *across = g_strdup_printf (_("working days after %s"), input->begin);
  g_autofree ChartPlotPoint *points = g_new0 (ChartPlotPoint, forecast->n_points + 1);
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  const ChartPlotLine line = { .xs = xs, .ys = ys, .n = forecast->n_points };
  ChartPlotUpright uprights[2];
  ChartPlot data = { .kind = "forecast",
                     .title = with_title ? _("When it is ready") : NULL,
                     .empty = words->headline,
                     .across = { CHART_PLOT_LINEAR, across },
                     .up = { CHART_PLOT_LINEAR, _("in 100 futures ready") },
                     .points = points,
                     .lines = &line,
                     .n_lines = forecast->n_points > 1,
                     .wanted_x = NAN,
                     .wanted_y = NAN,
                     .uprights = uprights };

  for (guint i = 0; i < forecast->n_points; i++)
    {
      g_autofree char *share = present_number (floor (100.0 * forecast->points[i].share), 0);

      xs[i] = forecast->points[i].days;
      ys[i] = 100.0 * forecast->points[i].share;
      points[i] = (ChartPlotPoint){ .x = xs[i], .y = ys[i], .shape = CHART_SHAPE_DISC };
      points[i].words = g_strdup_printf (_("by %s: %s in 100 futures ready"), forecast->points[i].date, share);
      g_ptr_array_add (texts, (gpointer) points[i].words);
    }
  data.n_points = forecast->n_points;
  for (guint i = 0; forecast->status == NUM_OK && input->n_lengths >= NUM_FORECAST_LENGTHS && i < 2; i++)
    if (isfinite (forecast->dates[i].days) && *forecast->dates[i].date != '\0')
      uprights[data.n_uprights++] = (ChartPlotUpright){ forecast->dates[i].days, forecast->dates[i].date };
  return present_chart_say (chart_plot_new (&data), words->headline, sheet);
}
