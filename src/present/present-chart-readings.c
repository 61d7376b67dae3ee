/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single values with control limits, how the values of each round lie, and the wall of small charts. */

#include "config.h"

#include "present-readings.h"

#include "chart-distribution.h"
#include "chart-table.h"
#include "chart-wall.h"
#include "present-chart-private.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *
keep (GStringChunk *strings, char *text)
{
  const char *kept = *text == '\0' ? NULL : g_string_chunk_insert_const (strings, text);

  g_free (text);
  return kept;
}

static ChartReadingHeads
heads_of (const InsightSeries *series)
{
  return (ChartReadingHeads){ _("Round"), *series->unit == '\0' ? _("Value") : series->unit, _("Reading") };
}

/* Rounds without means: what is drawn is values. */
static ChartRound *
make_rounds (const InsightSeries *series, gboolean with_failed, GStringChunk *strings)
{
  ChartRound *rounds = g_new0 (ChartRound, series->n_rounds + 1);

  for (guint i = 0; i < series->n_rounds; i++)
    {
      const InsightSeriesRound *round = &series->rounds[i];

      rounds[i] = (ChartRound){ .name = round->label, .mean = NAN, .low = NAN, .high = NAN, .uncounted = round->no_longer,
                                .current = round->current };
      if (round->n == 0)
        continue;
      if (with_failed)
        {
          /* Translators: stands below a round of a chart: how many units of how many lie outside the limits */
          rounds[i].count = keep (strings, g_strdup_printf (_("%u of %u outside"), round->failed, round->n));
          rounds[i].short_count = keep (strings, g_strdup_printf ("%u/%u", round->failed, round->n));
        }
      else
        rounds[i].count = keep (strings, g_strdup_printf (_("n %u"), round->n));
    }
  return rounds;
}

/* The marks of @series that @keep_all or evidence lets through. */
static ChartReading *
make_readings (const InsightSeries *series, gboolean keep_all, guint *n, GStringChunk *strings)
{
  ChartReading *readings = g_new0 (ChartReading, series->n_marks + 1);

  *n = 0;
  for (guint i = 0; i < series->n_marks; i++)
    if (keep_all || insight_mark_is_evidence (&series->marks[i]))
      readings[(*n)++] = (ChartReading){ series->marks[i].round, series->marks[i].value,
                                         present_reading_flags (&series->marks[i]), series->marks[i].reading,
                                         keep (strings, present_mark_words (series, i)) };
  return readings;
}

static Chart *
new_individuals (const PresentReadings *present, gboolean with_title, GStringChunk *strings)
{
  const InsightSeries *series = present->series;
  const InsightIndividuals *individuals = present->individuals;
  const InsightSeriesLimit *now = series->now >= 0 ? &series->limits[series->now] : NULL;
  const int decimals = series->decimals < 0 ? -1 : series->decimals + 1;
  g_autofree ChartRound *rounds = make_rounds (series, FALSE, strings);
  guint n_readings;
  g_autofree ChartReading *readings = make_readings (series, TRUE, &n_readings, strings);
  ChartControl control = { individuals->centre, individuals->lower, individuals->upper, individuals->so_far, NULL, NULL, NULL };
  ChartLimit limit = { 0 };
  ChartCharacteristic data = { .title = with_title ? series->name : NULL, .unit = *series->unit == '\0' ? NULL : series->unit,
                               .empty = _("No unit was measured yet."), .decimals = series->decimals, .rounds = rounds,
                               .n_rounds = series->n_rounds, .readings = readings, .n_readings = n_readings,
                               .heads = heads_of (series), .control = &control };

  for (guint i = 0; i < individuals->n_signals; i++)
    readings[individuals->signals[i].mark].flags |= CHART_READING_SIGNAL;
  if (isfinite (individuals->centre))
    {
      g_autofree char *centre = present_number (individuals->centre, decimals);

      control.centre_words = keep (strings, g_strdup_printf (_("centre %s"), centre));
    }
  if (isfinite (individuals->lower))
    {
      g_autofree char *lower = present_number (individuals->lower, decimals), *upper = present_number (individuals->upper, decimals);

      control.lower_words = keep (strings, g_strdup_printf (_("lower control limit %s"), lower));
      control.upper_words = keep (strings, g_strdup_printf (_("upper control limit %s"), upper));
    }
  if (now != NULL)
    {
      limit = (ChartLimit){ 0.0, now->lower, now->upper };
      data.limits = &limit;
      data.n_limits = 1;
      data.lower_words = keep (strings, present_limit_words (now->lower, _("lower limit {limit}")));
      data.upper_words = keep (strings, present_limit_words (now->upper, _("upper limit {limit}")));
    }
  return chart_characteristic_new (&data);
}

static Chart *
new_distribution (const PresentReadings *present, gboolean with_title, GStringChunk *strings)
{
  const InsightSeries *series = present->series;
  const InsightSeriesLimit *now = series->now >= 0 ? &series->limits[series->now] : NULL;
  g_autofree ChartRound *rounds = make_rounds (series, TRUE, strings);
  g_autofree ChartBox *boxes = g_new0 (ChartBox, series->n_rounds + 1);
  guint n_readings;
  g_autofree ChartReading *readings = make_readings (series, FALSE, &n_readings, strings);
  ChartDistribution data = { .title = with_title ? series->name : NULL, .unit = *series->unit == '\0' ? NULL : series->unit,
                             .empty = _("No unit was measured yet."), .lower = NAN, .upper = NAN,
                             .decimals = series->decimals, .rounds = rounds, .boxes = boxes, .n_rounds = series->n_rounds,
                             .readings = readings, .n_readings = n_readings, .heads = heads_of (series) };

  for (guint r = 0; r < series->n_rounds; r++)
    boxes[r] = (ChartBox){ present->spreads[r].least, present->spreads[r].q1, present->spreads[r].median,
                           present->spreads[r].q3, present->spreads[r].most };
  if (now != NULL)
    {
      data.lower = now->lower;
      data.upper = now->upper;
      data.lower_words = keep (strings, present_limit_words (now->lower, _("lower limit {limit}")));
      data.upper_words = keep (strings, present_limit_words (now->upper, _("upper limit {limit}")));
    }
  return chart_distribution_new (&data);
}

/**
 * present_chart_individuals:
 * @present: what its readings say
 * @with_title: draw its name above
 *
 * Returns: (transfer full): single values in order of build with control limits, signals ringed; marks are keyed by reading;
 *   of a check its share that fails
 */
Chart *
present_chart_individuals (const PresentReadings *present, gboolean with_title)
{
  GStringChunk *strings;
  Chart *chart;

  if (present->series->kind == BOOK_CHARACTERISTIC_CHECKED)
    return present_chart_characteristic (present->series, with_title);
  strings = g_string_chunk_new (4096);
  chart = new_individuals (present, with_title, strings);
  chart_set_summary (chart, present->control);
  g_string_chunk_free (strings);
  return chart;
}

/**
 * present_chart_distribution:
 * @present: what its readings say
 * @with_title: draw its name above
 *
 * Returns: (transfer full): how the values of each round lie between the limits; marks are keyed by reading; of a check its
 *   share that fails
 */
Chart *
present_chart_distribution (const PresentReadings *present, gboolean with_title)
{
  GStringChunk *strings;
  Chart *chart;

  if (present->series->kind == BOOK_CHARACTERISTIC_CHECKED)
    return present_chart_characteristic (present->series, with_title);
  strings = g_string_chunk_new (4096);
  chart = new_distribution (present, with_title, strings);
  chart_set_summary (chart, present->outside);
  g_string_chunk_free (strings);
  return chart;
}

static void
fill_cell (ChartWallCell *cell, const InsightWallItem *item, GPtrArray *arrays, GStringChunk *strings)
{
  const InsightSeries *series = item->series;
  ChartWallValue *values = g_new0 (ChartWallValue, series->n_marks + 1);

  g_ptr_array_add (arrays, values);
  *cell = (ChartWallCell){ .checked = series->kind == BOOK_CHARACTERISTIC_CHECKED, .open = item->group == INSIGHT_WALL_FAILS,
                           .lower = NAN, .upper = NAN, .control_lower = item->individuals->lower,
                           .control_upper = item->individuals->upper, .values = values, .key = series->characteristic };
  cell->name = keep (strings, g_strdup_printf ("%s  %s", series->code, series->name));
  cell->figure = keep (strings, present_wall_figure (item));
  cell->words = keep (strings, g_strdup_printf ("%s: %s", cell->name, cell->figure));
  if (series->now >= 0)
    {
      cell->lower = series->limits[series->now].lower;
      cell->upper = series->limits[series->now].upper;
    }
  for (guint i = 0, next = 0; i < series->n_marks; i++)
    {
      if (!insight_mark_is_evidence (&series->marks[i]))
        continue;
      values[cell->n_values] = (ChartWallValue){ series->marks[i].value, present_reading_flags (&series->marks[i]) };
      while (next < item->individuals->n_signals && item->individuals->signals[next].mark < i)
        next++;
      if (next < item->individuals->n_signals && item->individuals->signals[next].mark == i)
        values[cell->n_values].flags |= CHART_READING_SIGNAL;
      cell->n_values++;
    }
}

/**
 * present_chart_wall:
 * @wall: all characteristics
 * @with_title: with a heading
 *
 * Returns: (transfer full): a small chart each, the worst first; marks are keyed by characteristic
 */
Chart *
present_chart_wall (const InsightWall *wall, gboolean with_title)
{
  GStringChunk *strings = g_string_chunk_new (4096);
  g_autoptr(GPtrArray) arrays = g_ptr_array_new_with_free_func (g_free);
  g_autofree ChartWallCell *cells = g_new0 (ChartWallCell, wall->n_items + 1);
  g_autoptr(PresentSheet) sheet = present_wall_sheet (wall);
  g_autofree char *words = present_wall_words (wall);
  ChartWall data = { with_title ? _("All characteristics, the worst first") : NULL, _("The model has no characteristic yet."),
                     cells, wall->n_items };
  Chart *chart;

  for (guint i = 0; i < wall->n_items; i++)
    fill_cell (&cells[i], &wall->items[i], arrays, strings);
  chart = chart_wall_new (&data);
  g_string_chunk_free (strings);
  return present_chart_say (chart, words, sheet);
}
