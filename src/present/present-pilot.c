/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-pilot-private.h"

#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
count (guint n)
{
  return n == 0 ? g_strdup ("") : g_strdup_printf ("%u", n);
}

static char *
minutes (double value)
{
  return isnan (value) ? g_strdup ("") : present_value (value, value < 10 ? 1 : 0, _("min"));
}

static const char *
source_words (InsightPilotSource source)
{
  switch (source)
    {
    case INSIGHT_PILOT_NOTHING:
      return "";
    case INSIGHT_PILOT_TALLY:
      return _("tally");
    case INSIGHT_PILOT_EVENTS:
      return _("units");
    }
  return "";
}

/* The units and tallies behind a row, that it leads to them. */
static void
add_pieces (PresentSheet *sheet, const GArray *pieces)
{
  for (guint i = 0; pieces != NULL && i < pieces->len; i++)
    {
      const InsightPilotPiece *piece = &g_array_index (pieces, InsightPilotPiece, i);

      present_sheet_add_source (sheet, piece->tally ? "tally" : "unit", piece->id,
                                piece->tally ? g_strdup_printf (_("tally of %s"), piece->name) : g_strdup (piece->name));
    }
}

static void
add_step (PresentSheet *sheet, const InsightPilotStep *step)
{
  present_sheet_add_row (sheet, "step", step->id, FALSE,
                         PRESENT_CELLS (g_strdup_printf ("%d", step->position), g_strdup (step->name),
                                        g_strdup (source_words (step->source)), count (step->n), count (step->first),
                                        present_percent (step->first_pass, 0),
                                        present_percent_range (step->first_interval.low, step->first_interval.high),
                                        count (step->reworked), count (step->scrapped), count (step->waiting),
                                        present_percent_range (step->final_range.low, step->final_range.high),
                                        step->minutes_n > 0 ? minutes (step->minutes / step->minutes_n) : g_strdup ("")));
  add_pieces (sheet, step->pieces);
}

static PresentSheet *
steps_sheet (const InsightPilot *pilot)
{
  PresentSheet *sheet = present_sheet_new (_("Yield by step"));

  present_sheet_add_column (sheet, _("step"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("from"), FALSE, FALSE, 7);
  present_sheet_add_column (sheet, _("n"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("first"), TRUE, FALSE, 6);
  present_sheet_add_column (sheet, _("first pass"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("between"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("reworked"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("scrapped"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("in hand"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("final"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("a unit"), TRUE, FALSE, 5);
  for (guint i = 0; i < pilot->n_steps; i++)
    if (pilot->steps[i].source != INSIGHT_PILOT_NOTHING)
      add_step (sheet, &pilot->steps[i]);
  return sheet;
}

static char *
step_name (const InsightPilot *pilot, int index)
{
  return g_strdup (index < 0 ? _("not said") : pilot->steps[index].name);
}

/* Where it was found, where it was caused, and what mending it took. Steps that nothing is said of are left out. */
static PresentSheet *
work_sheet (const InsightPilot *pilot)
{
  PresentSheet *sheet = present_sheet_new (_("Losses and rework by step"));

  present_sheet_add_column (sheet, _("step"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("found here"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("caused here"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("reworked here"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("rework"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("setting up"), TRUE, FALSE, 2);
  for (guint i = 0; i < pilot->n_steps; i++)
    {
      const InsightPilotStep *step = &pilot->steps[i];

      if (step->lost_found + step->lost_caused + step->worked_again == 0 && isnan (step->rework_min) && isnan (step->setup_min))
        continue;
      present_sheet_add_row (sheet, "step", step->id, FALSE,
                             PRESENT_CELLS (g_strdup_printf ("%d", step->position), g_strdup (step->name), count (step->lost_found),
                                            count (step->lost_caused), count (step->worked_again), minutes (step->rework_min),
                                            minutes (step->setup_min)));
      add_pieces (sheet, step->pieces);
    }
  return sheet;
}

static PresentSheet *
losses_sheet (const InsightPilot *pilot)
{
  PresentSheet *sheet = present_sheet_new (_("What was lost, and to what"));

  present_sheet_add_column (sheet, _("issue"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("found at"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("caused at"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("scrapped"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("rework"), TRUE, FALSE, 2);
  for (guint i = 0; i < pilot->n_losses; i++)
    {
      const InsightPilotLoss *loss = &pilot->losses[i];

      present_sheet_add_row (sheet, loss->issue != 0 ? "issue" : NULL, loss->issue, FALSE,
                             PRESENT_CELLS (loss->issue != 0 ? g_strdup_printf ("%d %s", loss->issue_no, loss->title)
                                                             : g_strdup (_("no issue was named")),
                                            step_name (pilot, loss->found), step_name (pilot, loss->caused), count (loss->units),
                                            count (loss->scrapped), minutes (loss->minutes)));
      add_pieces (sheet, loss->pieces);
    }
  return sheet;
}

static PresentSheet *
days_sheet (const InsightPilot *pilot)
{
  PresentSheet *sheet = present_sheet_new (_("Day by day"));

  present_sheet_add_column (sheet, _("step"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("day"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("n"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("first"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("first pass"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("minutes"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("a unit"), TRUE, FALSE, 1);
  for (guint i = 0; i < pilot->n_days; i++)
    {
      const InsightPilotDay *day = &pilot->days[i];

      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (g_strdup (pilot->steps[day->step].name), g_strdup (day->date), count (day->n),
                                            g_strdup_printf ("%u", day->first), present_percent ((double) day->first / day->n, 0),
                                            minutes (day->minutes), minutes (day->minutes_n > 0 ? day->minutes / day->minutes_n : NAN)));
      add_pieces (sheet, day->pieces);
    }
  return sheet;
}

static char *
headline (const InsightPilot *pilot)
{
  g_autofree char *rolled = present_percent (pilot->rolled, 0);
  g_autofree char *between = present_percent_range (pilot->rolled_interval.low, pilot->rolled_interval.high);
  g_autofree char *final = present_percent_range (pilot->final_range.low, pilot->final_range.high);

  if (pilot->round == 0)
    return g_strdup (_("Nothing was counted yet: tally a step, or say of units that they passed, were sent back or scrapped."));
  if (pilot->counted_steps == 0)
    return g_strdup_printf (_("Nothing was counted in round %s."), pilot->label);
  return g_strdup_printf (ngettext ("In round %s %s of the units pass the one counted step the first time (%s); in the end %s are good.",
                                    "In round %s %s of the units pass all counted steps the first time (%s); in the end %s are good.",
                                    pilot->counted_steps),
                          pilot->label, rolled, between, final);
}

static GPtrArray *
pilot_notes (const InsightPilot *pilot, GPtrArray *facts)
{
  GPtrArray *notes = g_ptr_array_new_with_free_func (g_free);
  guint by_tally = 0, by_events = 0, left_out = 0, aside = 0;
  g_autoptr(GPtrArray) silent = g_ptr_array_new ();

  for (guint i = 0; i < pilot->n_steps; i++)
    {
      const InsightPilotStep *step = &pilot->steps[i];

      by_tally += step->source == INSIGHT_PILOT_TALLY;
      by_events += step->source == INSIGHT_PILOT_EVENTS;
      left_out += step->tallies_left_out;
      aside += step->aside;
      if (step->source == INSIGHT_PILOT_NOTHING)
        g_ptr_array_add (silent, step->name);
    }
  if (by_tally > 0 && by_events > 0)
    present_note_add (notes, facts, "tally-then-units", 0, NULL,
                      g_strdup (_("Before units have serials the tally counts, after that what happened to each unit; never both at one step.")));
  if (left_out > 0)
    present_note_add (notes, facts, "tallies-left-out", left_out, NULL,
                      g_strdup_printf (ngettext ("%u tally is left out, because the units of its step are counted themselves.",
                                                 "%u tallies are left out, because the units of their steps are counted themselves.",
                                                 left_out),
                                       left_out));
  if (pilot->waiting > 0)
    present_note_add (notes, facts, "in-hand", pilot->waiting, NULL,
                      g_strdup_printf (ngettext ("%u unit is in hand: the final yield is a range from all such scrapped to all good.",
                                                 "%u units are in hand: the final yield is a range from all of them scrapped to all good.",
                                                 pilot->waiting),
                                       pilot->waiting));
  if (aside > 0)
    present_note_add (notes, facts, "set-aside", aside, NULL,
                      g_strdup_printf (ngettext ("%u unit was set aside and is neither good nor counted.",
                                                 "%u units were set aside and are neither good nor counted.", aside),
                                       aside));
  if (silent->len > 0 && pilot->counted_steps > 0)
    {
      g_autofree char *names = NULL;

      g_ptr_array_add (silent, NULL);
      names = g_strjoinv (", ", (char **) silent->pdata);
      present_note_add (notes, facts, "steps-uncounted", 0, (char **) silent->pdata,
                        g_strdup_printf (_("Nothing was counted at: %s."), names));
    }
  return notes;
}

/**
 * present_pilot_new:
 * @pilot: what was counted; borrowed
 *
 * Returns: (transfer full): the same in words
 */
PresentPilot *
present_pilot_new (const InsightPilot *pilot)
{
  PresentPilot *present = g_new0 (PresentPilot, 1);

  present->data = pilot;
  present->headline = headline (pilot);
  present->facts = g_ptr_array_new_with_free_func (present_fact_free);
  present->notes = pilot_notes (pilot, present->facts);
  present->steps = steps_sheet (pilot);
  present->work = work_sheet (pilot);
  present->losses = losses_sheet (pilot);
  present->days = days_sheet (pilot);
  return present;
}

void
present_pilot_free (PresentPilot *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_ptr_array_unref (present->notes);
  g_ptr_array_unref (present->facts);
  present_sheet_free (present->steps);
  present_sheet_free (present->work);
  present_sheet_free (present->losses);
  present_sheet_free (present->days);
  g_free (present);
}

/**
 * present_pilot_to_text:
 * @pilot: in words
 * @rate: (nullable): the rate in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_pilot_to_text (const PresentPilot *pilot, const PresentRate *rate, guint width)
{
  GString *text = g_string_new (NULL);

  present_text_add (text, pilot->headline, width, "", "");
  for (guint i = 0; i < pilot->notes->len; i++)
    present_text_add (text, pilot->notes->pdata[i], width, "", "");
  present_sheet_add_text (pilot->steps, text, width);
  present_sheet_add_text (pilot->losses, text, width);
  present_sheet_add_text (pilot->work, text, width);
  present_sheet_add_text (pilot->days, text, width);
  if (rate != NULL)
    {
      g_string_append_c (text, '\n');
      present_text_add (text, rate->headline, width, "", "");
      present_text_add (text, rate->constraint, width, "", "");
      for (guint i = 0; i < rate->notes->len; i++)
        present_text_add (text, rate->notes->pdata[i], width, "", "");
      present_text_add (text, rate->delivery, width, "", "");
      present_sheet_add_text (rate->benches, text, width);
      if (rate->cost->rows->len > 0)
        {
          g_string_append_c (text, '\n');
          present_text_add (text, rate->cost_sentence, width, "", "");
        }
      present_sheet_add_text (rate->cost, text, width);
    }
  return g_string_free (text, FALSE);
}
