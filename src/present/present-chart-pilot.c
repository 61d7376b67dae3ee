/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run as drawings: the yields of its steps, what was lost to what, and what each bench could make. */

#include "config.h"

#include "present-pilot-private.h"

#include "chart-rows.h"
#include "present-chart.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef struct
{
  GArray    *rows;  /* ChartRow */
  GPtrArray *texts; /* owned, until the chart has made its copies */
  GPtrArray *parts; /* likewise */
} Making;

static Making
making_new (void)
{
  return (Making){ g_array_new (FALSE, FALSE, sizeof (ChartRow)), g_ptr_array_new_with_free_func (g_free),
                   g_ptr_array_new_with_free_func (g_free) };
}

static Chart *
making_finish (Making *making, ChartRows *data)
{
  Chart *chart;

  data->rows = (const ChartRow *) (gpointer) making->rows->data;
  data->n_rows = making->rows->len;
  chart = chart_rows_new (data);
  g_array_unref (making->rows);
  g_ptr_array_unref (making->texts);
  g_ptr_array_unref (making->parts);
  return chart;
}

static const char *
keep (Making *making, char *text)
{
  g_ptr_array_add (making->texts, text);
  return text;
}

/* '93 % (89 to 97 %), n 60' */
static char *
share_figure (double share, const NumInterval *interval, guint n)
{
  g_autofree char *value = present_value (100.0 * share, 0, "%");
  g_autofree char *low = NULL, *high = NULL;

  if (isnan (interval->low))
    return g_steal_pointer (&value);
  low = present_number (100.0 * interval->low, 0);
  high = present_number (100.0 * interval->high, 0);
  if (n == 0) /* of several steps, each with its own */
    return g_strdup_printf (_("%s (%s to %s %%)"), value, low, high);
  return g_strdup_printf (_("%s (%s to %s %%), n %u"), value, low, high, n);
}

static char *
step_words (const InsightPilotStep *step, const char *figure)
{
  g_autofree char *low = present_number (100.0 * step->final_range.low, 0), *high = present_number (100.0 * step->final_range.high, 0);

  return g_strdup_printf (_("%s: good the first time %s; in the end %s to %s %%"), step->name, figure, low, high);
}

static void
add_step (Making *making, const InsightPilotStep *step)
{
  g_autofree char *figure = share_figure (step->first_pass, &step->first_interval, step->n);
  ChartRow row = { .name = keep (making, g_strdup_printf ("%d %s", step->position, step->name)),
                   .value = 100.0 * step->first_pass,
                   .low = 100.0 * step->first_interval.low,
                   .high = 100.0 * step->first_interval.high,
                   .range_low = 100.0 * step->final_range.low,
                   .range_high = 100.0 * step->final_range.high,
                   .key = step->id,
                   .words = keep (making, step_words (step, figure)) };

  row.figure = keep (making, g_steal_pointer (&figure));
  g_array_append_val (making->rows, row);
}

static void
add_rolled (Making *making, const InsightPilot *pilot)
{
  g_autofree char *figure = share_figure (pilot->rolled, &pilot->rolled_interval, 0);
  ChartRow row = { .name = _("all steps"),
                   .value = 100.0 * pilot->rolled,
                   .low = 100.0 * pilot->rolled_interval.low,
                   .high = 100.0 * pilot->rolled_interval.high,
                   .range_low = 100.0 * pilot->final_range.low,
                   .range_high = 100.0 * pilot->final_range.high,
                   .strong = TRUE,
                   .apart = TRUE,
                   .words = keep (making, g_strdup_printf (_("all steps: good the first time %s"), figure)) };

  row.figure = keep (making, g_steal_pointer (&figure));
  g_array_append_val (making->rows, row);
}

/* A round ten below the lowest figure: yields lie close to 100, and discs are read by their place. */
static double
scale_begin (const Making *making)
{
  double lowest = 100.0;

  for (guint i = 0; i < making->rows->len; i++)
    {
      const ChartRow *row = &g_array_index (making->rows, ChartRow, i);

      lowest = MIN (lowest, MIN (row->low, row->range_low));
    }
  return MAX (10.0 * floor ((lowest - 2.0) / 10.0), 0.0);
}

/**
 * present_chart_yield:
 * @pilot: what was counted in a round
 * @with_title: with a heading
 *
 * Returns: (transfer full): a drawing with a row for each step that has counts, and one for all of them; a disc with its
 *   interval is good the first time, the bar good in the end; keys are the steps'
 */
Chart *
present_chart_yield (const InsightPilot *pilot, gboolean with_title)
{
  g_autoptr(PresentPilot) words = present_pilot_new (pilot);
  Making making = making_new ();
  g_autofree char *title = g_strdup_printf (_("Yield by step, round %s"), pilot->label);
  ChartRows data = { .kind = "yield",
                     .title = with_title ? title : NULL,
                     .empty = _("Nothing was counted yet."),
                     .scale = _("% good: disc the first time, bar in the end"),
                     .most = 100.0 };

  for (guint i = 0; i < pilot->n_steps; i++)
    if (pilot->steps[i].n > 0)
      add_step (&making, &pilot->steps[i]);
  if (pilot->counted_steps > 1)
    add_rolled (&making, pilot);
  data.least = scale_begin (&making);
  return present_chart_say (making_finish (&making, &data), words->headline, words->steps);
}

enum
{
  PART_SCRAPPED,
  PART_REWORKED,
  PART_TALLIED,
  N_PARTS
};

static const char *
step_name (const InsightPilot *pilot, int index)
{
  return index >= 0 ? pilot->steps[index].name : _("not said");
}

static char *
loss_words (const InsightPilot *pilot, const InsightPilotLoss *loss, const char *name)
{
  g_autofree char *minutes = isnan (loss->minutes) ? NULL : present_value (loss->minutes, 0, _("min"));
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, ngettext ("%s: %u unit not good the first time; found at: %s; caused at: %s",
                                           "%s: %u units not good the first time; found at: %s; caused at: %s", loss->units),
                          name, loss->units, step_name (pilot, loss->found), step_name (pilot, loss->caused));
  if (loss->scrapped > 0)
    g_string_append_printf (words, ngettext ("; %u scrapped", "; %u scrapped", loss->scrapped), loss->scrapped);
  if (minutes != NULL)
    g_string_append_printf (words, _("; rework %s"), minutes);
  return g_string_free (words, FALSE);
}

static void
add_loss (Making *making, const InsightPilot *pilot, const InsightPilotLoss *loss)
{
  g_autofree char *name = loss->issue != 0 ? g_strdup_printf ("%d %s", loss->issue_no, loss->title)
                                           : g_strdup (step_name (pilot, loss->found));
  g_autofree char *minutes = isnan (loss->minutes) ? NULL : present_value (loss->minutes, 0, _("min"));
  double *parts = g_new0 (double, N_PARTS);
  gboolean tallied = loss->found >= 0 && pilot->steps[loss->found].source == INSIGHT_PILOT_TALLY;
  ChartRow row = { .note = loss->issue != 0 ? step_name (pilot, loss->found) : _("no issue was named"), .parts = parts, .value = NAN, .low = NAN, .high = NAN, .range_low = NAN,
                   .range_high = NAN, .key = loss->issue };

  parts[PART_SCRAPPED] = loss->scrapped;
  parts[tallied ? PART_TALLIED : PART_REWORKED] = loss->units - loss->scrapped;
  g_ptr_array_add (making->parts, parts);
  row.words = keep (making, loss_words (pilot, loss, name));
  row.figure = keep (making, minutes != NULL ? g_strdup_printf ("%u, %s", loss->units, minutes) : g_strdup_printf ("%u", loss->units));
  row.name = keep (making, g_steal_pointer (&name));
  g_array_append_val (making->rows, row);
}

static char *
losses_sentence (const InsightPilot *pilot, const char *empty)
{
  const InsightPilotLoss *most = pilot->losses;
  guint units = 0;

  if (pilot->n_losses == 0)
    return g_strdup (empty);
  for (guint i = 0; i < pilot->n_losses; i++)
    units += pilot->losses[i].units;
  return g_strdup_printf (ngettext ("%u unit was not good the first time at a step; the most at one place: %s, found at: %s.",
                                    "%u times a unit was not good the first time at a step; the most at one place: %s, found at: %s.",
                                    units),
                          units, most->issue != 0 ? most->title : _("no issue was named"), step_name (pilot, most->found));
}

/**
 * present_chart_losses:
 * @pilot: what was counted in a round
 * @with_title: with a heading
 *
 * Returns: (transfer full): a drawing with a row for each issue at the step that found it, most units first; keys are the
 *   issues', 0 where none was named
 */
Chart *
present_chart_losses (const InsightPilot *pilot, gboolean with_title)
{
  const ChartRowsPart parts[N_PARTS] = { [PART_SCRAPPED] = { _("scrapped"), CHART_HATCH_DARK },
                                         [PART_REWORKED] = { _("reworked or in hand"), CHART_HATCH_LINES },
                                         [PART_TALLIED] = { _("tallied as not good"), CHART_HATCH_GREY } };
  g_autoptr(PresentPilot) words = present_pilot_new (pilot);
  Making making = making_new ();
  g_autofree char *title = g_strdup_printf (_("What was lost, and to what, round %s"), pilot->label);
  g_autofree char *sentence = NULL;
  ChartRows data = { .kind = "losses",
                     .title = with_title ? title : NULL,
                     .empty = pilot->counted_steps > 0 ? _("All that was counted was good the first time.") : _("Nothing was counted yet."),
                     .scale = _("units"),
                     .most = NAN,
                     .parts = parts,
                     .n_parts = N_PARTS };

  for (guint i = 0; i < pilot->n_losses; i++)
    add_loss (&making, pilot, &pilot->losses[i]);
  sentence = losses_sentence (pilot, data.empty);
  return present_chart_say (making_finish (&making, &data), sentence, words->losses);
}

static void
add_line (Making *making, const InsightRateInput *input, const InsightRate *rate, guint number)
{
  const InsightRateLine *line = &rate->lines[number];
  g_autofree char *name = g_strdup (line->bench >= 0 ? input->benches[line->bench].name : input->steps[line->step].name);
  g_autofree char *month = present_number (floor (line->month + 1e-9), 0);
  g_autofree char *low = NULL, *high = NULL;
  ChartRow row = { .value = line->month, .low = line->interval.low, .high = line->interval.high, .range_low = NAN, .range_high = NAN,
                   .strong = present_rate_is_pace (rate, number),
                   .key = line->bench >= 0 ? input->benches[line->bench].id : input->steps[line->step].id };

  if (!isnan (line->interval.low))
    {
      low = present_number (floor (line->interval.low + 1e-9), 0);
      high = present_number (floor (line->interval.high + 1e-9), 0);
      row.figure = keep (making, g_strdup_printf (_("%s (%s to %s)"), month, low, high));
    }
  else
    row.figure = keep (making, g_strdup (month));
  row.words = keep (making, g_strdup_printf (_("%s: good units a month: %s"), name, row.figure));
  row.name = keep (making, g_steal_pointer (&name));
  g_array_append_val (making->rows, row);
}

/**
 * present_chart_rate:
 * @input: what the rate is made of
 * @rate: the rate, with intervals or without
 * @with_title: with a heading
 *
 * Returns: (transfer full): a drawing with a row for each bench and outside step, the one that sets the pace set off; keys are
 *   those of benches and steps
 */
Chart *
present_chart_rate (const InsightRateInput *input, const InsightRate *rate, gboolean with_title)
{
  g_autoptr(PresentRate) words = present_rate_new (input, rate);
  Making making = making_new ();
  ChartRows data = { .kind = "rate",
                     .title = with_title ? _("What each bench could make in a month") : NULL,
                     .empty = _("The steps of the route need a bench and minutes."),
                     .scale = _("good units a month"),
                     .most = NAN };

  for (guint i = 0; i < rate->n_lines; i++)
    add_line (&making, input, rate, i);
  return present_chart_say (making_finish (&making, &data), words->headline, words->benches);
}
