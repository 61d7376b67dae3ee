/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-strip-private.h"

#include <math.h>

static void
clear (gpointer pointer)
{
  ChartStripData *data = pointer;

  g_free (data->rounds);
  g_free (data);
}

static const ChartKind kind = { "strip", TRUE, chart_strip_lay, clear };

/* The data of a strip; %NULL for another kind of chart. */
ChartStripData *
chart_strip_data (Chart *chart)
{
  return chart != NULL && chart->kind == &kind ? chart->data : NULL;
}

/**
 * chart_strip_new:
 * @data: what to draw; everything is copied
 *
 * The round strip. Nothing is chosen, the legend is not shown, and when it must scroll it shows the newest
 * rounds.
 *
 * Returns: (transfer full): the strip
 */
Chart *
chart_strip_new (const ChartStrip *data)
{
  static const char *const roles[CHART_N_PHASES] = { "design", "wait", "make", "test", "decide" };
  ChartStripData *own;
  Chart *chart;

  g_return_val_if_fail (data != NULL, NULL);

  own = g_new0 (ChartStripData, 1);
  chart = chart_new (&kind, own, data->n_rounds);
  chart->height = chart_strip_height;
  own->n_rounds = data->n_rounds;
  own->rounds = g_new0 (ChartStripRound, MAX (data->n_rounds, 1));
  for (guint i = 0; i < data->n_rounds; i++)
    {
      own->rounds[i] = data->rounds[i];
      own->rounds[i].name = chart_keep (chart, data->rounds[i].name);
      own->rounds[i].units = chart_keep (chart, data->rounds[i].units);
      own->rounds[i].verdict = chart_keep (chart, data->rounds[i].verdict);
      chart_set_mark (chart, i, i, data->rounds[i].key, data->rounds[i].words);
    }
  chart_order_marks (chart, data->n_rounds);
  for (guint p = 0; p < CHART_N_PHASES; p++)
    {
      own->phase_roles[p] = roles[p];
      own->phase_names[p] = chart_keep (chart, data->phase_names[p]);
    }
  own->empty = chart_keep (chart, data->empty);
  own->show_issues = data->show_issues;
  own->from = own->to = own->reveal = -1;
  own->scroll = NAN;
  return chart;
}

/**
 * chart_strip_set_selection:
 * @chart: a strip
 * @from: first round of the span, or -1 for none
 * @to: last round; the same as @from for a single round
 *
 * Chooses a round or a span of rounds. The ends may come in either order; what does not exist chooses nothing.
 */
void
chart_strip_set_selection (Chart *chart, int from, int to)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_if_fail (data != NULL);

  data->from = MIN (from, to);
  data->to = MAX (from, to);
  if (data->from < 0 || (guint) data->to >= data->n_rounds)
    data->from = data->to = -1;
  chart_changed (chart);
}

/**
 * chart_strip_set_legend:
 * @chart: a strip
 * @shown: whether the patterns are explained below
 *
 * Shows or hides the legend; ask chart_strip_height() again afterwards.
 */
void
chart_strip_set_legend (Chart *chart, gboolean shown)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_if_fail (data != NULL);

  data->legend = shown;
  chart_changed (chart);
}

/**
 * chart_strip_set_scroll:
 * @chart: a strip
 * @offset: dots from the oldest round; held between 0 and chart_strip_scroll_most() at the next layout
 *
 * Scrolls a strip that does not fit.
 */
void
chart_strip_set_scroll (Chart *chart, double offset)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_if_fail (data != NULL);

  data->scroll = MAX (offset, 0.0);
  data->reveal = -1;
  chart_changed (chart);
}

/**
 * chart_strip_get_scroll:
 * @chart: a strip that was laid out
 *
 * Returns: how far it is scrolled; 0 before the first layout
 */
double
chart_strip_get_scroll (Chart *chart)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_val_if_fail (data != NULL, 0.0);

  return isnan (data->scroll) ? 0.0 : data->scroll;
}

/**
 * chart_strip_scroll_most:
 * @chart: a strip that was laid out
 *
 * Returns: how far it can be scrolled; 0 when all of it is shown
 */
double
chart_strip_scroll_most (Chart *chart)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_val_if_fail (data != NULL, 0.0);

  return data->scroll_most;
}

/**
 * chart_strip_reveal:
 * @chart: a strip
 * @round: a round
 *
 * Lets the next layout scroll as little as needed to show all of @round.
 *
 * Returns: whether there is such a round
 */
gboolean
chart_strip_reveal (Chart *chart, int round)
{
  ChartStripData *data = chart_strip_data (chart);

  g_return_val_if_fail (data != NULL, FALSE);

  if (round < 0 || (guint) round >= data->n_rounds)
    return FALSE;
  data->reveal = round;
  chart_changed (chart);
  return TRUE;
}

/* Scrolls to the round that was asked for, now that the widths are known. */
void
chart_strip_follow (ChartStripData *data, const double *widths, double gap)
{
  double room = data->view_right - data->view_left;
  double left = 0.0;

  for (int i = 0; i < data->reveal; i++)
    left += widths[i] + gap;
  if (isnan (data->scroll))
    data->scroll = data->scroll_most;
  data->scroll = MAX (data->scroll, left + widths[data->reveal] - room);
  data->scroll = MIN (data->scroll, left);
  data->reveal = -1;
}
