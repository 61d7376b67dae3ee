/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets of how the work goes: yields and losses, rate and cost, days, and when it will be ready. */

#include "config.h"

#include "paper-workbook-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
add_steps (Sheets *sheets, const InsightPilot *pilot)
{
  const SheetsColumn columns[] = {
    { _("no"), 8 }, { _("step"), 30 }, { _("round"), 10 }, { _("counted by"), 12 }, { _("in"), 8 }, { _("good first"), 9 },
    { _("good after rework"), 10 }, { _("scrapped"), 10 }, { _("waiting"), 9 }, { _("set aside"), 9 }, { _("n"), 8 },
    { _("first-pass yield"), 10 }, { _("between"), 10 }, { _("and"), 10 }, { _("final yield"), 10 }, { _("at least"), 10 }, { _("at most"), 10 },
    { _("minutes"), 10 }, { _("for pieces"), 9 }, { _("minutes of setting up"), 12 }, { _("minutes of rework"), 12 }, { _("found here"), 9 },
    { _("caused here"), 9 }, { _("run days"), 9 },
  };

  sheets_begin_of (sheets, _("Pilot steps"), columns);
  for (guint i = 0; i < pilot->n_steps; i++)
    {
      const InsightPilotStep *step = &pilot->steps[i];

      sheets_count (sheets, step->position);
      sheets_own (sheets, step->name);
      sheets_text (sheets, pilot->label);
      sheets_text (sheets, step->source == INSIGHT_PILOT_TALLY ? _("tally") : step->source == INSIGHT_PILOT_EVENTS ? _("units") : "");
      sheets_count (sheets, step->in);
      sheets_count (sheets, step->first);
      sheets_count (sheets, step->reworked);
      sheets_count (sheets, step->scrapped);
      sheets_count (sheets, step->waiting);
      sheets_count (sheets, step->aside);
      sheets_count (sheets, step->n);
      sheets_share (sheets, step->first_pass);
      sheets_share (sheets, step->first_interval.low);
      sheets_share (sheets, step->first_interval.high);
      sheets_share (sheets, step->final);
      sheets_share (sheets, step->final_range.low);
      sheets_share (sheets, step->final_range.high);
      sheets_number (sheets, step->minutes, 1);
      sheets_count (sheets, step->minutes_n);
      sheets_number (sheets, step->setup_min, 1);
      sheets_number (sheets, step->rework_min, 1);
      sheets_count (sheets, step->lost_found);
      sheets_count (sheets, step->lost_caused);
      sheets_count (sheets, step->run_days);
      sheets_row (sheets);
    }
  sheets_skip (sheets, 1);
  sheets_text (sheets, _("all steps"));
  sheets_text (sheets, pilot->label);
  sheets_skip (sheets, 8);
  sheets_share (sheets, pilot->rolled);
  sheets_share (sheets, pilot->rolled_interval.low);
  sheets_share (sheets, pilot->rolled_interval.high);
  sheets_share (sheets, pilot->final);
  sheets_share (sheets, pilot->final_range.low);
  sheets_share (sheets, pilot->final_range.high);
  sheets_skip (sheets, 6);
  sheets_count (sheets, pilot->n_run_days);
  sheets_row (sheets);
}

static void
add_losses (Sheets *sheets, const InsightPilot *pilot)
{
  const SheetsColumn columns[] = {
    { _("issue"), 8 }, { _("title"), 40 }, { _("found at"), 30 }, { _("caused at"), 30 }, { _("units"), 9 }, { _("scrapped"), 10 },
    { _("minutes of rework"), 12 },
  };

  sheets_begin_of (sheets, _("Losses"), columns);
  for (guint i = 0; i < pilot->n_losses; i++)
    {
      const InsightPilotLoss *loss = &pilot->losses[i];

      if (loss->issue != 0)
        sheets_count (sheets, loss->issue_no);
      else
        sheets_skip (sheets, 1);
      sheets_own (sheets, loss->issue != 0 ? loss->title : _("no issue named"));
      sheets_own (sheets, loss->found >= 0 ? pilot->steps[loss->found].name : "");
      sheets_own (sheets, loss->caused >= 0 ? pilot->steps[loss->caused].name : "");
      sheets_count (sheets, loss->units);
      sheets_count (sheets, loss->scrapped);
      sheets_number (sheets, loss->minutes, 1);
      sheets_row (sheets);
    }
}

static void
add_run_days (Sheets *sheets, const InsightPilot *pilot)
{
  const SheetsColumn columns[] = { { _("step"), 30 }, { _("day"), 12 }, { _("n"), 8 }, { _("good first"), 9 }, { _("minutes"), 10 },
                                   { _("for pieces"), 9 } };

  sheets_begin_of (sheets, _("Run days"), columns);
  for (guint i = 0; i < pilot->n_days; i++)
    {
      const InsightPilotDay *day = &pilot->days[i];

      sheets_own (sheets, pilot->steps[day->step].name);
      sheets_date (sheets, day->date);
      sheets_count (sheets, day->n);
      sheets_count (sheets, day->first);
      sheets_number (sheets, day->minutes, 1);
      sheets_count (sheets, day->minutes_n);
      sheets_row (sheets);
    }
}

static void
add_rate (Sheets *sheets, const InsightRateInput *input, const InsightRate *rate, const PresentRate *words)
{
  const SheetsColumn columns[] = {
    { _("bench or outside step"), 30 }, { _("minutes a good unit"), 12 }, { _("minutes a month"), 12 }, { _("good units a month"), 12 },
    { _("between"), 10 }, { _("and"), 10 }, { _("sets the pace"), 10 }, { _("what may be said"), 70 },
  };

  sheets_begin_of (sheets, _("Rate"), columns);
  for (guint i = 0; i < rate->n_lines; i++)
    {
      const InsightRateLine *line = &rate->lines[i];

      sheets_own (sheets, line->bench >= 0 ? input->benches[line->bench].name : input->steps[line->step].name);
      sheets_number (sheets, line->minutes, 2);
      sheets_number (sheets, line->available, 0);
      sheets_number (sheets, line->month, 1);
      sheets_number (sheets, line->interval.low, 1);
      sheets_number (sheets, line->interval.high, 1);
      sheets_share (sheets, line->constraint_chance);
      sheets_row (sheets);
    }
  sheets_text (sheets, _("all together"));
  sheets_skip (sheets, 2);
  sheets_number (sheets, rate->month, 1);
  sheets_number (sheets, rate->interval.low, 1);
  sheets_number (sheets, rate->interval.high, 1);
  sheets_skip (sheets, 1);
  sheets_own (sheets, words->headline);
  sheets_row (sheets);
  sheets_text (sheets, _("a plan takes at most"));
  sheets_skip (sheets, 2);
  sheets_number (sheets, rate->plan, 1);
  sheets_row (sheets);
}

static void
add_cost (Sheets *sheets, const InsightRate *rate)
{
  const SheetsColumn columns[] = { { _("for"), 40 }, { _("cost of one good unit"), 14 }, { _("between"), 12 }, { _("and"), 12 }, { _("share"), 10 } };
  const struct
  {
    const char *what;
    double      cost;
  } lines[] = { { _("bought parts"), rate->cost_material }, { _("outside steps"), rate->cost_outside },
                { _("minutes at the benches"), rate->cost_minutes }, { _("rework"), rate->cost_rework },
                { _("what is scrapped on the way"), rate->cost_scrap }, { _("all"), rate->cost } };

  sheets_begin_of (sheets, _("Cost"), columns);
  for (guint i = 0; rate->cost > 0.0 && i < G_N_ELEMENTS (lines); i++)
    {
      sheets_text (sheets, lines[i].what);
      sheets_number (sheets, lines[i].cost, 2);
      if (i + 1 == G_N_ELEMENTS (lines))
        {
          sheets_number (sheets, rate->cost_interval.low, 2);
          sheets_number (sheets, rate->cost_interval.high, 2);
        }
      else
        sheets_skip (sheets, 2);
      sheets_share (sheets, lines[i].cost / rate->cost);
      sheets_row (sheets);
    }
}

void
sheets_add_runs (Sheets *sheets)
{
  const PresentDossier *dossier = sheets_dossier (sheets);

  if (dossier->pilot == NULL)
    return;
  add_steps (sheets, dossier->pilot);
  add_losses (sheets, dossier->pilot);
  add_run_days (sheets, dossier->pilot);
  add_rate (sheets, dossier->rate_input, dossier->rate, dossier->rate_words);
  add_cost (sheets, dossier->rate);
}

/* ---- days ---- */

static void
add_rounds (Sheets *sheets, const InsightLeadtime *leadtime)
{
  const SheetsColumn columns[] = {
    { _("round"), 10 }, { present_phase_words (INSIGHT_PHASE_DESIGN), 12 }, { present_phase_words (INSIGHT_PHASE_WAIT), 12 },
    { present_phase_words (INSIGHT_PHASE_MAKE), 12 }, { present_phase_words (INSIGHT_PHASE_TEST), 12 },
    { present_phase_words (INSIGHT_PHASE_DECIDE), 12 }, { _("working days"), 12 }, { _("open"), 9 },
  };

  sheets_begin_of (sheets, _("Lead time"), columns);
  for (guint i = 0; i < leadtime->n_rounds; i++)
    {
      const InsightRoundDays *round = &leadtime->rounds[i];

      sheets_text (sheets, round->label);
      for (guint p = 0; p < INSIGHT_N_PHASES; p++)
        sheets_number (sheets, round->days[p], 0);
      sheets_number (sheets, round->total, 0);
      sheets_yes (sheets, round->open);
      sheets_row (sheets);
    }
}

static void
add_waits (Sheets *sheets, const InsightLeadtime *leadtime)
{
  const SheetsColumn columns[] = { { _("round"), 10 }, { _("reason"), 20 }, { _("what for"), 40 }, { _("supplier"), 24 }, { _("from"), 12 },
                                   { _("to"), 12 }, { _("working days"), 12 } };

  sheets_begin_of (sheets, _("Waits"), columns);
  for (guint i = 0; i < leadtime->n_waits; i++)
    {
      const InsightWait *wait = &leadtime->waits[i];

      sheets_text (sheets, leadtime->rounds[wait->round].label);
      sheets_text (sheets, present_wait_words (wait->reason));
      sheets_own (sheets, wait->what);
      sheets_text (sheets, wait->supplier);
      sheets_date (sheets, wait->from);
      sheets_date (sheets, wait->to);
      sheets_number (sheets, wait->days, 0);
      sheets_row (sheets);
    }
}

static void
add_spread (Sheets *sheets, const char *what, const InsightSpread *spread)
{
  sheets_text (sheets, what);
  sheets_count (sheets, spread->n);
  sheets_count (sheets, spread->ended);
  sheets_number (sheets, spread->median, 1);
  sheets_number (sheets, spread->interval.low, 1);
  sheets_number (sheets, spread->interval.high, 1);
  sheets_number (sheets, spread->least, 1);
  sheets_number (sheets, spread->most, 1);
  sheets_number (sheets, spread->sum, 1);
  sheets_row (sheets);
}

static void
add_groups (Sheets *sheets, const GArray *groups)
{
  for (guint i = 0; i < groups->len; i++)
    {
      const InsightWaitGroup *group = &g_array_index (groups, InsightWaitGroup, i);
      g_autofree char *what = g_strdup_printf (_("a wait for: %s"), *group->name != '\0' ? group->name : present_wait_words (group->reason));

      add_spread (sheets, what, &group->spread);
    }
}

static void
add_spreads (Sheets *sheets, const InsightLeadtime *leadtime)
{
  const SheetsColumn columns[] = { { _("what"), 40 }, { _("n"), 8 }, { _("ended"), 9 }, { _("median"), 10 }, { _("between"), 10 },
                                   { _("and"), 10 }, { _("least"), 10 }, { _("most"), 10 }, { _("all days"), 10 } };

  sheets_begin_of (sheets, _("Working days"), columns);
  add_spread (sheets, _("a round"), &leadtime->rounds_spread);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    {
      g_autofree char *what = g_strdup_printf (_("%s, a round"), present_phase_words (p));

      add_spread (sheets, what, &leadtime->phases[p]);
    }
  add_spread (sheets, _("an issue, found to contained"), &leadtime->stages[INSIGHT_STAGE_CONTAINED]);
  add_spread (sheets, _("an issue, found to cause known"), &leadtime->stages[INSIGHT_STAGE_CAUSE]);
  add_spread (sheets, _("an issue, found to closed as solved"), &leadtime->stages[INSIGHT_STAGE_CLOSED]);
  add_groups (sheets, leadtime->by_supplier);
  add_groups (sheets, leadtime->by_reason);
}

static void
add_open (Sheets *sheets, const PresentLeadtime *words)
{
  const SheetsColumn columns[] = { { _("what runs now"), 60 }, { _("since"), 12 }, { _("working days"), 12 } };

  sheets_begin_of (sheets, _("Open now"), columns);
  for (guint i = 0; i < words->data->n_open; i++)
    {
      sheets_own (sheets, sheets_cell (words->open, i, 0));
      sheets_date (sheets, words->data->open[i].since);
      sheets_number (sheets, words->data->open[i].days, 0);
      sheets_row (sheets);
    }
}

void
sheets_add_times (Sheets *sheets)
{
  const PresentDossier *dossier = sheets_dossier (sheets);

  if (dossier->leadtime == NULL)
    return;
  add_rounds (sheets, dossier->leadtime);
  add_waits (sheets, dossier->leadtime);
  add_spreads (sheets, dossier->leadtime);
  add_open (sheets, dossier->leadtime_words);
}

/* ---- when it will be ready ---- */

static void
add_point (Sheets *sheets, const char *what, const InsightForecastDate *point)
{
  sheets_text (sheets, what);
  sheets_share (sheets, point->share);
  sheets_number (sheets, point->days, 0);
  sheets_date (sheets, point->date);
  sheets_row (sheets);
}

/* Dates that may be told, then the whole curve. */
static void
add_curve (Sheets *sheets, const InsightForecastInput *input, const InsightForecast *forecast)
{
  const SheetsColumn columns[] = { { _("what"), 30 }, { _("of the futures"), 10 }, { _("working days"), 12 }, { _("ready by"), 12 } };
  const gboolean only_range = input->n_lengths < NUM_FORECAST_LENGTHS;

  sheets_begin_of (sheets, _("Forecast"), columns);
  if (forecast->status != NUM_OK)
    return;
  for (guint i = 0; only_range && i < G_N_ELEMENTS (forecast->range); i++)
    add_point (sheets, _("range"), &forecast->range[i]);
  for (guint i = 0; !only_range && i < forecast->n_dates; i++)
    add_point (sheets, _("date"), &forecast->dates[i]);
  for (guint i = 0; !only_range && i < forecast->n_points; i++)
    add_point (sheets, _("curve"), &forecast->points[i]);
}

/* In words as everywhere, then as the figures that were played with. */
static void
add_assumptions (Sheets *sheets, const PresentForecast *words, const InsightForecastInput *input)
{
  const SheetsColumn columns[] = { { _("assumption"), 50 }, { _("set"), 24 }, { _("from the records"), 24 }, { _("of"), 16 }, { _("figure"), 12 },
                                   { _("unit of measure"), 10 } };
  const InsightForecastSettings *settings = &input->defaults;

  sheets_begin_of (sheets, _("Assumptions"), columns);
  for (guint i = 0; i < words->assumptions->rows->len; i++)
    {
      for (guint j = 0; j < 4; j++)
        sheets_own (sheets, sheets_cell (words->assumptions, i, j));
      sheets_row (sheets);
    }
  for (guint i = 0; i < INSIGHT_FORECAST_N_FIELDS; i++)
    {
      const PresentFigure *figure = present_forecast_field ((InsightForecastField) i);

      if (!present_forecast_field_applies (input, settings, (InsightForecastField) i))
        continue;
      sheets_text (sheets, _(figure->label));
      sheets_skip (sheets, 3);
      sheets_number (sheets, insight_forecast_get (settings, (InsightForecastField) i) * figure->factor, (int) figure->digits);
      sheets_text (sheets, *figure->unit != '\0' ? _(figure->unit) : "");
      sheets_row (sheets);
    }
  for (guint i = 0; i < input->n_lengths; i++)
    {
      g_autofree char *what = g_strdup_printf (_("length of round %s"), input->lengths[i].label);

      sheets_text (sheets, what);
      sheets_skip (sheets, 3);
      sheets_number (sheets, input->lengths[i].days, 0);
      sheets_text (sheets, _("days"));
      sheets_row (sheets);
    }
}

static void
add_played (Sheets *sheets, const PresentForecast *words, const InsightForecastInput *input)
{
  const SheetsColumn columns[] = {
    { _("criterion"), 12 }, { _("units so far"), 10 }, { _("failing"), 9 }, { _("mean"), 12 }, { _("standard deviation"), 18 }, { _("looks"), 9 },
    { _("attempt"), 9 }, { _("units a round"), 10 }, { _("may fail"), 10 }, { _("confidence wanted"), 12 }, { _("how"), 50 },
  };

  sheets_begin_of (sheets, _("Played criteria"), columns);
  for (guint i = 0; i < input->n_criteria; i++)
    {
      const InsightForecastCriterion *criterion = &input->criteria[i];
      const NumForecastCriterion *play = &criterion->play;

      sheets_text (sheets, criterion->code);
      if (criterion->is_in)
        {
          sheets_count (sheets, (gint64) play->n);
          if (play->measured)
            sheets_skip (sheets, 1);
          else
            sheets_count (sheets, (gint64) play->failed);
          sheets_number (sheets, play->measured ? play->mean : (double) NAN, -1);
          sheets_number (sheets, play->measured ? play->sd : (double) NAN, -1);
          sheets_count (sheets, (gint64) play->looks);
          sheets_count (sheets, (gint64) play->attempt);
          sheets_count (sheets, (gint64) play->units_round);
          sheets_share (sheets, play->tolerated);
          sheets_share (sheets, play->wanted);
        }
      else
        sheets_skip (sheets, 9);
      sheets_text (sheets, sheets_cell (words->criteria, i, 5));
      sheets_row (sheets);
    }
}

static void
add_helps (Sheets *sheets, const PresentForecast *words, const GArray *helps)
{
  const SheetsColumn columns[] = { { _("what would help"), 60 }, { _("working days earlier"), 12 }, { _("5 of 10 by"), 12 } };

  sheets_begin_of (sheets, _("What would help"), columns);
  for (guint i = 0; i < helps->len; i++)
    {
      const InsightForecastHelp *help = &g_array_index (helps, InsightForecastHelp, i);

      sheets_own (sheets, sheets_cell (words->helps, i, 0));
      sheets_number (sheets, floor (help->gain), 0);
      sheets_date (sheets, help->date);
      sheets_row (sheets);
    }
}

static void
add_past (Sheets *sheets, const PresentForecast *words, const GArray *past)
{
  const SheetsColumn columns[] = { { _("after round"), 12 }, { _("decided on"), 12 }, { _("finished rounds by then"), 12 }, { _("5 of 10 by"), 12 },
                                   { _("8 of 10 by"), 12 }, { _("met on"), 12 }, { _("beside it"), 40 } };

  sheets_begin_of (sheets, _("Earlier forecasts"), columns);
  for (guint i = 0; i < past->len; i++)
    {
      const InsightForecastPast *one = &g_array_index (past, InsightForecastPast, i);

      sheets_text (sheets, one->round);
      sheets_date (sheets, one->decided);
      sheets_count (sheets, one->lengths);
      sheets_date (sheets, one->status == NUM_OK ? one->dates[0] : "");
      sheets_date (sheets, one->status == NUM_OK ? one->dates[1] : "");
      sheets_date (sheets, one->met);
      sheets_text (sheets, sheets_cell (words->past, i, 5));
      sheets_row (sheets);
    }
}

void
sheets_add_forecast (Sheets *sheets)
{
  const PresentDossier *dossier = sheets_dossier (sheets);

  if (dossier->forecast == NULL)
    return;
  add_curve (sheets, dossier->forecast_input, dossier->forecast);
  add_assumptions (sheets, dossier->forecast_words, dossier->forecast_input);
  add_played (sheets, dossier->forecast_words, dossier->forecast_input);
  add_helps (sheets, dossier->forecast_words, dossier->helps);
  if (dossier->past != NULL)
    add_past (sheets, dossier->forecast_words, dossier->past);
}
