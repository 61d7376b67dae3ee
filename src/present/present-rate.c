/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-pilot-private.h"

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

/* The line that is least most often; the figures alone may name another. */
static const InsightRateLine *
most_often (const InsightRate *rate)
{
  const InsightRateLine *most = &rate->lines[rate->constraint];

  for (guint i = 0; i < rate->n_lines; i++)
    if (rate->lines[i].constraint_chance > most->constraint_chance)
      most = &rate->lines[i];
  return most;
}

/**
 * present_rate_is_pace:
 * @rate: a rate
 * @line: index of one of its lines
 *
 * Where yields and minutes are uncertain, another line than the least may be the least most often: what a short run did not
 * lose counts as a little in each draw, and takes most from the benches early in the route.
 *
 * Returns: whether the line is to be marked as one that sets the pace
 */
gboolean
present_rate_is_pace (const InsightRate *rate, guint line)
{
  return line == rate->constraint || &rate->lines[line] == most_often (rate);
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
  if (least->constraint_chance > 0.99)
    return g_strdup_printf (_("'%s' sets the pace, however the run's days and yields are drawn (more than 99 times in 100)."),
                            line_name (input, least));
  chance = present_number (floor (100.0 * most_often (rate)->constraint_chance), 0);
  if (most_often (rate) != least)
    return g_strdup_printf (_("'%s' probably sets the pace, with a chance of %s in 100, though '%s' is the least by what was counted alone: look at both."),
                            line_name (input, most_often (rate)), chance, line_name (input, least));
  return g_strdup_printf (_("'%s' sets the pace, with a chance of %s in 100."), line_name (input, least), chance);
}

static void
add_step_source (PresentSheet *sheet, const InsightRateStep *step)
{
  present_sheet_add_source (sheet, "step", step->id, g_strdup_printf ("%d %s", step->position, step->name));
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
      gboolean least = i == rate->constraint, pace = least || present_rate_is_pace (rate, i);

      present_sheet_add_row (sheet, line->bench >= 0 ? "bench" : "step",
                             line->bench >= 0 ? input->benches[line->bench].id : input->steps[line->step].id, pace,
                             PRESENT_CELLS (line->bench >= 0 ? g_strdup (line_name (input, line))
                                                             : g_strdup_printf (_("outside: %s"), line_name (input, line)),
                                            isnan (line->minutes) ? g_strdup ("") : present_number (line->minutes, 1),
                                            whole (line->available), whole (line->month), between (&line->interval),
                                            isnan (line->constraint_chance)
                                                ? g_strdup (least ? _("yes") : "")
                                                : present_value (floor (100.0 * line->constraint_chance), 0, "%")));
      for (guint s = 0; line->bench >= 0 && s < input->n_steps; s++)
        if (input->steps[s].counts && input->steps[s].bench == line->bench)
          add_step_source (sheet, &input->steps[s]);
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

/* What the last row's cost is made of: steps of a kind, those that rework, those that scrap. */
static void
add_outside (PresentSheet *sheet, const InsightRateInput *input)
{
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].kind == BOOK_STEP_OUTSIDE && !isnan (input->steps[s].price))
      add_step_source (sheet, &input->steps[s]);
}

static void
add_minutes (PresentSheet *sheet, const InsightRateInput *input)
{
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].counts && input->steps[s].bench >= 0)
      add_step_source (sheet, &input->steps[s]);
}

static void
add_rework (PresentSheet *sheet, const InsightRateInput *input)
{
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].counts && input->steps[s].bench >= 0 && input->steps[s].rework_share > 0.0)
      add_step_source (sheet, &input->steps[s]);
}

static void
add_scrap (PresentSheet *sheet, const InsightRateInput *input)
{
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].yield < 1.0)
      add_step_source (sheet, &input->steps[s]);
}

static void
add_parts (PresentSheet *sheet, const InsightRateInput *input)
{
  for (guint i = 0; input->parts != NULL && i < input->parts->len; i++)
    {
      const InsightRatePart *part = &g_array_index (input->parts, InsightRatePart, i);
      g_autofree char *cost = present_number (part->cost, 2);

      present_sheet_add_source (sheet, "part", part->id, g_strdup_printf ("%s, %s", part->number, cost));
    }
}

static PresentSheet *
cost_sheet (const InsightRateInput *input, const InsightRate *rate)
{
  PresentSheet *sheet = present_sheet_new (_("Cost of one good unit"));

  present_sheet_add_column (sheet, _("for"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("cost"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("share"), TRUE, FALSE, 1);
  if (isnan (rate->cost) || !(rate->cost > 0.0))
    return sheet;
  add_cost (sheet, _("bought parts"), rate->cost_material, rate->cost);
  add_parts (sheet, input);
  add_cost (sheet, _("outside steps"), rate->cost_outside, rate->cost);
  add_outside (sheet, input);
  add_cost (sheet, _("minutes at the benches"), rate->cost_minutes, rate->cost);
  add_minutes (sheet, input);
  add_cost (sheet, _("rework"), rate->cost_rework, rate->cost);
  add_rework (sheet, input);
  add_cost (sheet, _("what is scrapped on the way"), rate->cost_scrap, rate->cost);
  add_scrap (sheet, input);
  add_cost (sheet, _("all"), rate->cost, rate->cost);
  add_parts (sheet, input);
  add_outside (sheet, input);
  add_minutes (sheet, input);
  return sheet;
}

/* Names of the steps that are @wanted; NULL when there is none. */
static char **
names_of (const InsightRateInput *input, gboolean (*wanted) (const InsightRateStep *))
{
  GPtrArray *names = g_ptr_array_new ();

  for (guint i = 0; i < input->n_steps; i++)
    if (wanted (&input->steps[i]))
      g_ptr_array_add (names, g_strdup (input->steps[i].name));
  if (names->len > 0)
    g_ptr_array_add (names, NULL);
  return (char **) g_ptr_array_free (names, names->len == 0);
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

/* How much of the bench that sets the pace the model's demand would take. */
static void
note_demand (GPtrArray *notes, GPtrArray *facts, const InsightRateInput *input, const InsightRate *rate)
{
  g_autofree char *wanted = NULL, *share = NULL, *most = NULL;
  char *name[] = { NULL, NULL };
  double busy;

  if (isnan (input->demand) || rate->n_lines == 0 || !(rate->month > 0.0))
    return;
  busy = input->demand / rate->month;
  wanted = present_number (input->demand, 0);
  share = present_number (ceil (100.0 * busy - 1e-9), 0);
  most = present_number (100.0 * INSIGHT_RATE_PLAN, 0);
  name[0] = (char *) line_name (input, &rate->lines[rate->constraint]);
  if (busy > 1.0)
    present_note_add (notes, facts, "demand-beyond", 0, name,
                      g_strdup_printf (_("%s a month are wanted: that is more than '%s' can give."), wanted, name[0]));
  else if (busy > INSIGHT_RATE_PLAN)
    present_note_add (notes, facts, "demand-tight", 0, name,
                      g_strdup_printf (_("%s a month are wanted: they take %s %% of '%s', and beyond %s %% waiting grows without bound."),
                                       wanted, share, name[0], most));
  else
    present_note_add (notes, facts, "demand-fits", 0, name,
                      g_strdup_printf (_("%s a month are wanted: they take %s %% of '%s'."), wanted, share, name[0]));
}

static void
note_steps (GPtrArray *notes, GPtrArray *facts, const InsightRateInput *input)
{
  g_auto(GStrv) left_out = names_of (input, is_left_out), uncounted = names_of (input, is_uncounted);
  g_autofree char *first = left_out != NULL ? g_strjoinv (", ", left_out) : NULL;
  g_autofree char *second = uncounted != NULL ? g_strjoinv (", ", uncounted) : NULL;

  if (first != NULL)
    present_note_add (notes, facts, "steps-left-out", 0, left_out,
                      g_strdup_printf (_("Not in the rate, for want of a bench, minutes or a supplier's days: %s."), first));
  if (second != NULL)
    present_note_add (notes, facts, "steps-assumed", 0, uncounted,
                      g_strdup_printf (_("Taken to lose nothing, because nothing was counted there: %s."), second));
}

static GPtrArray *
rate_notes (const InsightRateInput *input, const InsightRate *rate, GPtrArray *facts)
{
  GPtrArray *notes = g_ptr_array_new_with_free_func (g_free);

  note_demand (notes, facts, input, rate);
  if (isnan (rate->interval.low) && rate->n_lines > 0 && input->run_days < INSIGHT_RATE_RUN_DAYS)
    present_note_add (notes, facts, "run-days", input->run_days, NULL,
                      g_strdup_printf (ngettext ("With %u run day there is no interval: five are needed.",
                                                 "With %u run days there is no interval: five are needed.", input->run_days),
                                       input->run_days));
  note_steps (notes, facts, input);
  if (isnan (input->hourly_cost))
    present_note_add (notes, facts, "no-hourly-cost", 0, NULL,
                      g_strdup (_("Without an hourly cost among the settings there is no cost.")));
  if (input->unpriced > 0)
    present_note_add (notes, facts, "unpriced", input->unpriced, NULL,
                      g_strdup_printf (ngettext ("%u bought part has no price and is not in the cost.",
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
  if (!isnan (rate->cost_interval.low))
    {
      g_autofree char *low = present_number (rate->cost_interval.low, 2), *high = present_number (rate->cost_interval.high, 2);

      return g_strdup_printf (_("One good unit costs %s (%s to %s), of which %s are for rework and for what is scrapped."), cost, low,
                              high, lost);
    }
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
  present->facts = g_ptr_array_new_with_free_func (present_fact_free);
  present->notes = rate_notes (input, rate, present->facts);
  present->benches = benches_sheet (input, rate);
  present->cost = cost_sheet (input, rate);
  present->cost_sentence = cost_sentence (rate);
  present->delivery = g_strdup ("");
  present->delivery_units = NAN;
  present->delivery_interval = (NumInterval){ NAN, NAN };
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
  g_ptr_array_unref (present->facts);
  present_sheet_free (present->benches);
  present_sheet_free (present->cost);
  g_free (present->cost_sentence);
  g_free (present->delivery);
  g_free (present->delivery_date);
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
  NumInterval interval;
  double units = insight_rate_by (input, rate, working_days, &interval);
  g_autofree char *number = NULL, *days = NULL, *range = NULL, *amount = NULL;

  if (isnan (units))
    return g_strdup ("");
  number = present_number (units, 0);
  range = between (&interval);
  /* Translators: a number, and in brackets the interval of it */
  amount = *range != '\0' ? g_strdup_printf (_("%s (%s)"), number, range) : g_strdup (number);
  days = present_number (ceil (rate->flow_days - 1e-9), 0);
  if (!(rate->flow_days > 0.0))
    return g_strdup_printf (_("Good units that a plan delivers by %s: %s."), date, amount);
  return g_strdup_printf (_("Good units that a plan delivers by %s: %s. Before the first, an order waits for working days on its way: %s."),
                          date, amount, days);
}

/**
 * present_rate_deliver:
 * @present: the rate in words; what is delivered is filled in
 * @input: what the rate is made of
 * @rate: the rate
 * @working_days: from today to @date
 * @date: as it is shown
 */
void
present_rate_deliver (PresentRate *present, const InsightRateInput *input, const InsightRate *rate, guint working_days, const char *date)
{
  g_free (present->delivery);
  g_free (present->delivery_date);
  present->delivery = present_rate_by (input, rate, working_days, date);
  present->delivery_date = g_strdup (date);
  present->delivery_units = insight_rate_by (input, rate, working_days, &present->delivery_interval);
}
