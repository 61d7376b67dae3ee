/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-pilot.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *
line_name (const InsightRateInput *input, const InsightRateLine *line)
{
  return line->bench >= 0 ? input->benches[line->bench].name : input->steps[line->step].name;
}

static char *
whole (double value)
{
  return isnan (value) ? g_strdup ("") : present_number (floor (value + 1e-9), 0);
}

static char *
between (const NumInterval *interval)
{
  g_autofree char *low = whole (interval->low), *high = whole (interval->high);

  return isnan (interval->low) ? g_strdup ("") : g_strdup_printf (_("%s to %s"), low, high);
}

static char *
headline (const InsightRateInput *input, const InsightRate *rate)
{
  g_autofree char *month = whole (rate->month), *plan = whole (rate->plan), *interval = between (&rate->interval);

  if (rate->n_lines == 0)
    return g_strdup (_("No rate can be given: the steps of the route need a bench and minutes."));
  if (*interval == '\0')
    return g_strdup_printf (_("At most %s good units a month can be made; a plan takes at most %s of them."), month, plan);
  return g_strdup_printf (_("At most %s good units a month can be made (%s); a plan takes at most %s of them."), month, interval, plan);
}

static char *
constraint (const InsightRateInput *input, const InsightRate *rate)
{
  const InsightRateLine *least = rate->n_lines > 0 ? &rate->lines[rate->constraint] : NULL;
  g_autofree char *chance = NULL;

  if (least == NULL)
    return g_strdup ("");
  if (isnan (least->constraint_chance))
    return g_strdup_printf (_("'%s' sets the pace."), line_name (input, least));
  chance = present_number (floor (100.0 * least->constraint_chance), 0);
  return g_strdup_printf (_("'%s' sets the pace, with a chance of %s in 100."), line_name (input, least), chance);
}

static PresentSheet *
benches_sheet (const InsightRateInput *input, const InsightRate *rate)
{
  PresentSheet *sheet = present_sheet_new (_("What each bench could make in a month"));

  present_sheet_add_column (sheet, _("bench"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("minutes a good unit"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("minutes a month"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("good units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("between"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("sets the pace"), TRUE, FALSE, 1);
  for (guint i = 0; i < rate->n_lines; i++)
    {
      const InsightRateLine *line = &rate->lines[i];
      gboolean least = i == rate->constraint;

      present_sheet_add_row (sheet, line->bench >= 0 ? "bench" : "step",
                             line->bench >= 0 ? input->benches[line->bench].id : input->steps[line->step].id, least,
                             PRESENT_CELLS (line->bench >= 0 ? g_strdup (line_name (input, line))
                                                             : g_strdup_printf (_("outside: %s"), line_name (input, line)),
                                            isnan (line->minutes) ? g_strdup ("") : present_number (line->minutes, 1),
                                            whole (line->available), whole (line->month), between (&line->interval),
                                            isnan (line->constraint_chance)
                                                ? g_strdup (least ? _("yes") : "")
                                                : present_value (floor (100.0 * line->constraint_chance), 0, "%")));
    }
  return sheet;
}

static void
add_cost (PresentSheet *sheet, const char *what, double cost, double whole_cost)
{
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (what), present_number (cost, 2),
                                        present_value (100.0 * cost / whole_cost, 0, "%")));
}

static PresentSheet *
cost_sheet (const InsightRate *rate)
{
  PresentSheet *sheet = present_sheet_new (_("Cost of one good unit"));

  present_sheet_add_column (sheet, _("for"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("cost"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("share"), TRUE, FALSE, 1);
  if (isnan (rate->cost) || !(rate->cost > 0.0))
    return sheet;
  add_cost (sheet, _("bought parts"), rate->cost_material, rate->cost);
  add_cost (sheet, _("outside steps"), rate->cost_outside, rate->cost);
  add_cost (sheet, _("minutes at the benches"), rate->cost_minutes, rate->cost);
  add_cost (sheet, _("rework"), rate->cost_rework, rate->cost);
  add_cost (sheet, _("what is scrapped on the way"), rate->cost_scrap, rate->cost);
  add_cost (sheet, _("all"), rate->cost, rate->cost);
  return sheet;
}

static void
add_names (GPtrArray *notes, const char *format, const InsightRateInput *input, gboolean (*wanted) (const InsightRateStep *))
{
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  g_autofree char *joined = NULL;

  for (guint i = 0; i < input->n_steps; i++)
    if (wanted (&input->steps[i]))
      g_ptr_array_add (names, input->steps[i].name);
  if (names->len == 0)
    return;
  g_ptr_array_add (names, NULL);
  joined = g_strjoinv (", ", (char **) names->pdata);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_ptr_array_add (notes, g_strdup_printf (format, joined));
#pragma GCC diagnostic pop
}

static gboolean
is_left_out (const InsightRateStep *step)
{
  return !step->counts;
}

static gboolean
is_uncounted (const InsightRateStep *step)
{
  return step->counts && step->n == 0 && !step->yield_fixed;
}

static GPtrArray *
rate_notes (const InsightRateInput *input, const InsightRate *rate)
{
  GPtrArray *notes = g_ptr_array_new_with_free_func (g_free);

  if (isnan (rate->interval.low) && rate->n_lines > 0 && input->run_days < INSIGHT_RATE_RUN_DAYS)
    g_ptr_array_add (notes, g_strdup_printf (ngettext ("With %u run day there is no interval: five are needed.",
                                                       "With %u run days there is no interval: five are needed.", input->run_days),
                                             input->run_days));
  add_names (notes, _("Not in the rate, for want of a bench, minutes or a supplier's days: %s."), input, is_left_out);
  add_names (notes, _("Taken to lose nothing, because nothing was counted there: %s."), input, is_uncounted);
  if (isnan (input->hourly_cost))
    g_ptr_array_add (notes, g_strdup (_("Without an hourly cost among the settings there is no cost.")));
  if (input->unpriced > 0)
    g_ptr_array_add (notes, g_strdup_printf (ngettext ("%u bought part has no price and is not in the cost.",
                                                       "%u bought parts have no price and are not in the cost.", input->unpriced),
                                             input->unpriced));
  return notes;
}

static char *
cost_sentence (const InsightRate *rate)
{
  g_autofree char *cost = NULL, *lost = NULL;

  if (isnan (rate->cost))
    return g_strdup ("");
  cost = present_number (rate->cost, 2);
  lost = present_number (rate->cost_rework + rate->cost_scrap, 2);
  return g_strdup_printf (_("One good unit costs %s, of which %s are for rework and for what is scrapped."), cost, lost);
}

/**
 * present_rate_new:
 * @input: what the rate is made of
 * @rate: the rate
 *
 * Returns: (transfer full): both in words; borrows nothing
 */
PresentRate *
present_rate_new (const InsightRateInput *input, const InsightRate *rate)
{
  PresentRate *present = g_new0 (PresentRate, 1);

  present->headline = headline (input, rate);
  present->constraint = constraint (input, rate);
  present->notes = rate_notes (input, rate);
  present->benches = benches_sheet (input, rate);
  present->cost = cost_sheet (rate);
  present->cost_sentence = cost_sentence (rate);
  return present;
}

void
present_rate_free (PresentRate *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_free (present->constraint);
  g_ptr_array_unref (present->notes);
  present_sheet_free (present->benches);
  present_sheet_free (present->cost);
  g_free (present->cost_sentence);
  g_free (present);
}

/**
 * present_rate_by:
 * @input: what the rate is made of
 * @rate: the rate
 * @working_days: from today to @date
 * @date: as it is shown
 *
 * Returns: (transfer full): how many good units a plan delivers by then
 */
char *
present_rate_by (const InsightRateInput *input, const InsightRate *rate, guint working_days, const char *date)
{
  double units = insight_rate_by (input, rate, working_days);
  g_autofree char *number = NULL, *days = NULL;

  if (isnan (units))
    return g_strdup ("");
  number = present_number (units, 0);
  days = present_number (rate->flow_days, 0);
  return g_strdup_printf (_("By %s a plan delivers %s good units, the first after the %s working days that it waits on the way."), date,
                          number, days);
}
