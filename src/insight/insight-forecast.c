/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-forecast.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Draws are keyed by the model and this: setting something otherwise plays the same futures. */
#define KEY_FORECAST G_GUINT64_CONSTANT (0x666f7265)

/* Working days that a finished round would have taken if nobody among @settings->waits took longer than that each time. */
static double
length_with (const InsightForecastInput *input, const InsightForecastSettings *settings, guint i)
{
  double saved = 0.0;

  if (settings->waits >= 0)
    {
      const InsightForecastWaits *group = &input->waits[settings->waits];

      for (guint w = 0; w < input->n_waited; w++)
        {
          const InsightWait *wait = &input->waited[w];

          if (wait->round == input->length_rounds[i] && g_str_equal (wait->supplier, group->name)
              && (*group->name != '\0' || wait->reason == group->reason))
            saved += MAX (wait->days - settings->wait_most, 0.0);
        }
    }
  return MAX (input->lengths[i].days - saved, 0.5);
}

typedef struct
{
  NumForecastInput      input;
  NumForecastCriterion *criteria;
  double               *lengths;
} Play;

static Play
play_new (const InsightForecastInput *input, const InsightForecastSettings *settings, int without)
{
  Play play = { .criteria = g_new0 (NumForecastCriterion, input->n_criteria + 1), .lengths = g_new0 (double, input->n_lengths + 1) };
  gsize n = 0;

  for (guint i = 0; i < input->n_criteria; i++)
    if (input->criteria[i].is_in && (int) i != without)
      {
        play.criteria[n] = input->criteria[i].play;
        play.criteria[n++].units_round += settings->more_units;
      }
  for (guint i = 0; i < input->n_lengths; i++)
    play.lengths[i] = length_with (input, settings, i);
  play.input = (NumForecastInput){ .criteria = play.criteria,
                                   .count = n,
                                   .round_days = play.lengths,
                                   .rounds = input->n_lengths,
                                   .shortest = settings->shortest,
                                   .longest = settings->longest,
                                   .fixes_worked = settings->worked,
                                   .fixes_failed = settings->failed,
                                   .residual = settings->residual };
  return play;
}

static void
play_clear (Play *play)
{
  g_free (play->criteria);
  g_free (play->lengths);
}

static bool
may_go_on (G_GNUC_UNUSED double share, void *data)
{
  return !g_cancellable_is_cancelled (data);
}

/* The date after so many working days, and not before the day after today: the present round lasts at least until then. */
static char *
date_of (const InsightForecastInput *input, double days)
{
  g_autofree char *date = NULL;
  gsize at;

  if (!isfinite (days) || days > input->n_calendar)
    return g_strdup ("");
  if (days <= 0.0)
    return g_strdup (input->today);
  at = (gsize) MAX (ceil (days - 1e-6), 1.0) - 1; /* lengths went through logarithms */
  date = book_day_format (input->calendar[at]);
  while (strcmp (date, input->today) <= 0 && at + 1 < input->n_calendar)
    {
      g_free (date);
      date = book_day_format (input->calendar[++at]);
    }
  return g_steal_pointer (&date);
}

static InsightForecastDate
date_at (const InsightForecastInput *input, NumForecastRun *runs, guint draws, double share)
{
  InsightForecastDate out = { .share = share, .days = num_forecast_days (runs, draws, share) };

  out.date = date_of (input, out.days);
  return out;
}

/* Dates at which the curve is drawn: evenly up to where 95 of 100 of those ready are. */
static void
add_points (InsightForecast *forecast, const InsightForecastInput *input, NumForecastRun *runs)
{
  gsize ready = forecast->draws;
  double last, least;

  while (ready > 0 && !isfinite (runs[ready - 1].days))
    ready--;
  if (ready == 0)
    return;
  last = runs[(gsize) (0.95 * (double) (ready - 1))].days;
  least = runs[0].days;
  forecast->points = g_new0 (InsightForecastDate, INSIGHT_FORECAST_POINTS);
  for (guint i = 0; i < INSIGHT_FORECAST_POINTS; i++)
    {
      double days = least + (last - least) * i / (INSIGHT_FORECAST_POINTS - 1);
      InsightForecastDate *point = &forecast->points[forecast->n_points];

      *point = (InsightForecastDate){ num_forecast_reached (runs, forecast->draws, days), days, date_of (input, days) };
      if (*point->date == '\0')
        {
          g_free (point->date);
          break;
        }
      forecast->n_points++;
    }
}

static int
compare_rounds (const void *a, const void *b)
{
  const NumForecastRun *x = a, *y = b;

  return (x->rounds > y->rounds) - (x->rounds < y->rounds);
}

static void
read_runs (InsightForecast *forecast, const InsightForecastInput *input, NumForecastRun *runs)
{
  static const double shares[] = { 0.50, 0.80, 0.95 };

  forecast->n_dates = input->n_lengths >= INSIGHT_FORECAST_95 ? 3 : 2;
  for (guint i = 0; i < forecast->n_dates; i++)
    forecast->dates[i] = date_at (input, runs, forecast->draws, shares[i]);
  forecast->range[0] = date_at (input, runs, forecast->draws, 0.10);
  forecast->range[1] = date_at (input, runs, forecast->draws, 0.90);
  forecast->never = 1.0 - num_forecast_reached (runs, forecast->draws, G_MAXDOUBLE);
  add_points (forecast, input, runs); /* the runs are in order of days by now */
  qsort (runs, forecast->draws, sizeof *runs, compare_rounds);
  forecast->rounds = runs[(forecast->draws - 1) / 2].rounds;
}

static InsightForecast *
forecast_without (const InsightForecastInput *input, const InsightForecastSettings *settings, int without, guint draws,
                  GCancellable *cancellable)
{
  g_autoptr(InsightForecast) forecast = g_new0 (InsightForecast, 1);
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, MAX (draws, 1));
  Play play = play_new (input, settings, without);

  forecast->draws = draws;
  forecast->status = num_forecast (&play.input, (guint64) input->model, KEY_FORECAST, may_go_on, cancellable, runs, draws);
  play_clear (&play);
  if (forecast->status == NUM_CANCELLED)
    return NULL;
  if (forecast->status == NUM_OK)
    read_runs (forecast, input, runs);
  return g_steal_pointer (&forecast);
}

/**
 * insight_forecast:
 * @input: what it is made of
 * @settings: the defaults, or what somebody set
 * @draws: futures, at least 1
 * @cancellable: (nullable): to stop
 *
 * Returns: (transfer full) (nullable): when it will be ready under these assumptions; %NULL: cancelled
 */
InsightForecast *
insight_forecast (const InsightForecastInput *input, const InsightForecastSettings *settings, guint draws, GCancellable *cancellable)
{
  g_return_val_if_fail (draws > 0, NULL);

  return forecast_without (input, settings, -1, draws, cancellable);
}

static void
free_dates (InsightForecastDate *dates, guint n)
{
  for (guint i = 0; i < n; i++)
    g_free (dates[i].date);
}

void
insight_forecast_free (InsightForecast *forecast)
{
  if (forecast == NULL)
    return;

  free_dates (forecast->dates, G_N_ELEMENTS (forecast->dates));
  free_dates (forecast->range, G_N_ELEMENTS (forecast->range));
  free_dates (forecast->points, forecast->n_points);
  g_free (forecast->points);
  g_free (forecast);
}

static void
clear_help (gpointer data)
{
  g_free (((InsightForecastHelp *) data)->date);
}

static int
compare_helps (gconstpointer a, gconstpointer b)
{
  const InsightForecastHelp *x = a, *y = b;

  return (x->gain < y->gain) - (x->gain > y->gain);
}

typedef struct
{
  const InsightForecastInput *input;
  double                      now; /* at the middle, as things are */
  GArray                     *helps;
  GCancellable               *cancellable;
} Search;

static gboolean
try (Search *search, const InsightForecastSettings *settings, InsightForecastHelp help)
{
  g_autoptr(InsightForecast) forecast = forecast_without (search->input, settings, help.criterion, INSIGHT_FORECAST_BRIEF,
                                                          search->cancellable);
  double days;

  if (forecast == NULL)
    return FALSE;
  if (forecast->status != NUM_OK && forecast->status != NUM_TOO_FEW)
    return TRUE;
  days = forecast->status == NUM_TOO_FEW ? 0.0 : forecast->dates[0].days; /* nothing else was left to play */
  help.gain = search->now - days;
  if (!(help.gain >= 1.0) || !isfinite (days))
    return TRUE;
  g_array_append_val (search->helps, help);
  g_array_index (search->helps, InsightForecastHelp, search->helps->len - 1).date = date_of (search->input, days);
  return TRUE;
}

/**
 * insight_forecast_helps:
 * @input: what the forecast is made of
 * @settings: as they are now
 * @cancellable: (nullable): to stop
 *
 * Plays the same futures with more units a round, with the waits of each one waited for cut short, and with each criterion
 * met at once.
 *
 * Returns: (transfer full) (element-type InsightForecastHelp) (nullable): what gains a working day or more at the middle,
 *   most first; %NULL: cancelled
 */
GArray *
insight_forecast_helps (const InsightForecastInput *input, const InsightForecastSettings *settings, GCancellable *cancellable)
{
  g_autoptr(InsightForecast) now = insight_forecast (input, settings, INSIGHT_FORECAST_BRIEF, cancellable);
  g_autoptr(GArray) helps = g_array_new (FALSE, FALSE, sizeof (InsightForecastHelp));
  Search search = { input, 0.0, helps, cancellable };
  InsightForecastSettings changed = *settings;

  g_array_set_clear_func (helps, clear_help);
  if (now == NULL)
    return NULL;
  if (now->status != NUM_OK)
    return g_steal_pointer (&helps);
  search.now = now->dates[0].days;
  changed.more_units += INSIGHT_FORECAST_UNITS;
  if (!try (&search, &changed, (InsightForecastHelp){ INSIGHT_FORECAST_UNITS, -1, -1, 0.0, NULL }))
    return NULL;
  for (guint i = 0; i < input->n_waits && settings->waits < 0; i++)
    {
      changed = *settings;
      changed.waits = (int) i;
      if (!try (&search, &changed, (InsightForecastHelp){ 0, (int) i, -1, 0.0, NULL }))
        return NULL;
    }
  for (guint i = 0; i < input->n_criteria; i++)
    if (input->criteria[i].is_in && !try (&search, settings, (InsightForecastHelp){ 0, -1, (int) i, 0.0, NULL }))
      return NULL;
  g_array_sort (helps, compare_helps);
  return g_steal_pointer (&helps);
}
