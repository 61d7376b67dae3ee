/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-rate.h"

#include "num-order.h"
#include "num-random.h"

#include <math.h>
#include <string.h>

/*
 * Method. Rate of a bench = min(machines, people) · share free · hours · 60 · uptime · weeks a month / sum over its steps of
 * (cycle + setup/batch + rework share · rework minutes) / product of the yields from that step on. An outside step gives a
 * batch every so many working days, as long as one batch is out at a time, times the yields from that step on. The least is
 * the ceiling (arithmetic; common practice, no source). Each draw takes scrap and rework shares from Beta(k + 1/2,
 * n - k + 1/2) and, from five run days with minutes on, minutes a piece of as many days drawn with replacement.
 */

#define KEY_RATE 0x72617465u

/* One set of figures: what is drawn, else what is written down. */
typedef struct
{
  double *yield;
  double *rework_share;
  double *cycle_min;
} Figures;

static Figures
figures_new (const InsightRateInput *input)
{
  Figures figures = { g_new (double, input->n_steps + 1), g_new (double, input->n_steps + 1), g_new (double, input->n_steps + 1) };

  for (guint s = 0; s < input->n_steps; s++)
    {
      figures.yield[s] = input->steps[s].yield;
      figures.rework_share[s] = input->steps[s].rework_share;
      figures.cycle_min[s] = input->steps[s].cycle_min;
    }
  return figures;
}

static void
figures_clear (Figures *figures)
{
  g_free (figures->yield);
  g_free (figures->rework_share);
  g_free (figures->cycle_min);
}

static double
step_minutes (const InsightRateStep *step, const Figures *figures, guint s)
{
  return figures->cycle_min[s] + step->setup_min / step->batch + figures->rework_share[s] * step->rework_min;
}

static double
available (const InsightRateBench *bench)
{
  return MIN (bench->machines, bench->people) * bench->share_free * bench->hours_week * 60.0 * bench->uptime
         * INSIGHT_RATE_WEEKS_MONTH;
}

/* Of a piece that leaves step @s, the share that will be shipped, with the step's own yield. */
static double
yield_from (const Figures *figures, guint n, guint s)
{
  double yield = 1.0;

  for (; s < n; s++)
    yield *= figures->yield[s];
  return yield;
}

static double
line_month (const InsightRateInput *input, const Figures *figures, const InsightRateLine *line, double *minutes)
{
  *minutes = 0.0;
  if (line->bench < 0)
    {
      const InsightRateStep *step = &input->steps[line->step];

      return step->batch * INSIGHT_RATE_WEEKS_MONTH * input->days_week / step->queue_days
             * yield_from (figures, input->n_steps, (guint) line->step);
    }
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].counts && input->steps[s].bench == line->bench)
      *minutes += step_minutes (&input->steps[s], figures, s) / yield_from (figures, input->n_steps, s);
  return available (&input->benches[line->bench]) / *minutes;
}

static gboolean
has_work (const InsightRateInput *input, guint bench)
{
  for (guint s = 0; s < input->n_steps; s++)
    if (input->steps[s].counts && input->steps[s].bench == (int) bench)
      return TRUE;
  return FALSE;
}

static void
add_line (InsightRate *rate, int bench, int step)
{
  rate->lines[rate->n_lines++] = (InsightRateLine){ .bench = bench,
                                                    .step = step,
                                                    .minutes = NAN,
                                                    .available = NAN,
                                                    .month = NAN,
                                                    .interval = { NAN, NAN },
                                                    .constraint_chance = NAN };
}

/* Benches in the order in which the route first comes to them, outside steps in between. */
static void
find_lines (InsightRate *rate, const InsightRateInput *input)
{
  g_autofree gboolean *seen = g_new0 (gboolean, input->n_benches + 1);

  rate->lines = g_new0 (InsightRateLine, input->n_benches + input->n_steps + 1);
  for (guint s = 0; s < input->n_steps; s++)
    {
      const InsightRateStep *step = &input->steps[s];

      if (!step->counts)
        continue;
      if (step->kind == BOOK_STEP_OUTSIDE)
        add_line (rate, -1, (int) s);
      else if (!seen[step->bench] && has_work (input, (guint) step->bench))
        {
          seen[step->bench] = TRUE;
          add_line (rate, step->bench, -1);
        }
    }
}

static void
find_cost (InsightRate *rate, const InsightRateInput *input, const Figures *figures)
{
  double hour = input->hourly_cost / 60.0, with_scrap;

  rate->cost_material = input->material;
  rate->cost_outside = rate->cost_minutes = rate->cost_rework = 0.0;
  with_scrap = input->material / yield_from (figures, input->n_steps, 0);
  for (guint s = 0; s < input->n_steps; s++)
    {
      const InsightRateStep *step = &input->steps[s];
      double outside = step->kind == BOOK_STEP_OUTSIDE && !isnan (step->price) ? step->price : 0.0;
      double minutes = 0.0, rework = 0.0;

      if (step->counts && step->bench >= 0)
        {
          minutes = (figures->cycle_min[s] + step->setup_min / step->batch) * hour;
          rework = figures->rework_share[s] * step->rework_min * hour;
        }
      rate->cost_outside += outside;
      rate->cost_minutes += minutes;
      rate->cost_rework += rework;
      with_scrap += (outside + minutes + rework) / yield_from (figures, input->n_steps, s);
    }
  rate->cost = isnan (hour) ? hour : with_scrap; /* also where no step has minutes */
  rate->cost_scrap = rate->cost - rate->cost_material - rate->cost_outside - rate->cost_minutes - rate->cost_rework;
}

/**
 * insight_rate:
 * @input: what a rate is made of
 *
 * The point answer: some microseconds.
 *
 * Returns: (transfer full): the rate, without intervals
 */
InsightRate *
insight_rate (const InsightRateInput *input)
{
  InsightRate *rate = g_new0 (InsightRate, 1);
  Figures figures = figures_new (input);

  rate->month = rate->plan = NAN;
  rate->interval = rate->cost_interval = (NumInterval){ NAN, NAN };
  for (guint s = 0; s < input->n_steps; s++)
    if (!isnan (input->steps[s].queue_days))
      rate->flow_days += input->steps[s].queue_days;
  find_lines (rate, input);
  for (guint i = 0; i < rate->n_lines; i++)
    {
      InsightRateLine *line = &rate->lines[i];
      double minutes;

      line->month = line_month (input, &figures, line, &minutes);
      if (line->bench >= 0)
        {
          line->minutes = minutes;
          line->available = available (&input->benches[line->bench]);
        }
      if (i == 0 || line->month < rate->lines[rate->constraint].month)
        rate->constraint = i;
    }
  if (rate->n_lines > 0)
    {
      rate->month = rate->lines[rate->constraint].month;
      rate->plan = INSIGHT_RATE_PLAN * rate->month;
    }
  find_cost (rate, input, &figures);
  figures_clear (&figures);
  return rate;
}

static double
draw_share (NumRandom *random, guint k, guint n)
{
  return num_random_beta (random, k + 0.5, n - k + 0.5);
}

/* As many days as there are, each any of them: their minutes over their pieces. */
static double
draw_minutes (NumRandom *random, const InsightRateStep *step)
{
  double minutes = 0.0, units = 0.0;

  for (guint i = 0; i < step->n_days; i++)
    {
      guint day = num_random_below (random, step->n_days);

      minutes += step->day_minutes[day];
      units += step->day_units[day];
    }
  return minutes / units;
}

/* What was set is drawn all the same and left: so that the other figures of a draw stay what they were without it. */
static void
draw_figures (NumRandom *random, const InsightRateInput *input, Figures *figures)
{
  for (guint s = 0; s < input->n_steps; s++)
    {
      const InsightRateStep *step = &input->steps[s];

      if (step->n > 0)
        {
          double yield = 1.0 - draw_share (random, step->scrapped, step->n);
          double share = draw_share (random, step->reworked, step->n);

          if (!step->yield_fixed)
            figures->yield[s] = yield;
          if (!step->rework_fixed)
            figures->rework_share[s] = share;
        }
      if (step->n_days >= INSIGHT_RATE_RUN_DAYS)
        {
          double minutes = draw_minutes (random, step);

          if (!step->cycle_fixed)
            figures->cycle_min[s] = minutes;
        }
    }
}

static NumInterval
interval_of (double *values, guint n)
{
  const double tail = 0.5 * (1.0 - INSIGHT_RATE_CONFIDENCE);

  num_sort (values, n);
  return (NumInterval){ num_sorted_quantile (values, n, tail), num_sorted_quantile (values, n, 1.0 - tail) };
}

/**
 * insight_rate_draw:
 * @rate: a point answer of @input; its intervals and chances are filled in
 * @input: what it is made of
 * @draws: how many
 * @target: a month, or NAN
 * @confidence: (out) (optional): share of draws whose ceiling reaches @target; NAN without one
 * @error_of: (out) (optional): its standard error
 * @cancellable: (nullable): asked every thousand draws
 *
 * Keyed by the model: the same records give the same draws.
 *
 * Returns: %FALSE when cancelled, or below %INSIGHT_RATE_RUN_DAYS run days: then nothing is filled in
 */
gboolean
insight_rate_draw (InsightRate *rate, const InsightRateInput *input, guint draws, double target, double *confidence,
                   double *error_of, GCancellable *cancellable)
{
  g_autofree double *months = NULL, *ceilings = NULL, *costs = NULL;
  InsightRate one = { .lines = NULL };
  g_autofree guint *least = NULL;
  Figures figures;
  NumRandom random;
  guint reached = 0, done = 0;

  if (confidence != NULL)
    *confidence = NAN;
  if (error_of != NULL)
    *error_of = NAN;
  if (input->run_days < INSIGHT_RATE_RUN_DAYS || rate->n_lines == 0 || draws == 0)
    return FALSE;

  months = g_new (double, (gsize) draws * rate->n_lines);
  ceilings = g_new (double, draws);
  costs = g_new (double, draws);
  least = g_new0 (guint, rate->n_lines);
  figures = figures_new (input);
  num_random_init (&random, (guint64) input->model, KEY_RATE);
  for (; done < draws && (done % 1000 != 0 || !g_cancellable_is_cancelled (cancellable)); done++)
    {
      guint constraint = 0;

      num_random_draw (&random, done);
      draw_figures (&random, input, &figures);
      for (guint i = 0; i < rate->n_lines; i++)
        {
          double minutes;

          months[(gsize) i * draws + done] = line_month (input, &figures, &rate->lines[i], &minutes);
          if (months[(gsize) i * draws + done] < months[(gsize) constraint * draws + done])
            constraint = i;
        }
      ceilings[done] = months[(gsize) constraint * draws + done];
      find_cost (&one, input, &figures);
      costs[done] = one.cost;
      least[constraint]++;
      reached += ceilings[done] >= target;
    }
  figures_clear (&figures);
  if (done < draws)
    return FALSE;

  for (guint i = 0; i < rate->n_lines; i++)
    {
      rate->lines[i].interval = interval_of (months + (gsize) i * draws, draws);
      rate->lines[i].constraint_chance = (double) least[i] / draws;
    }
  rate->interval = interval_of (ceilings, draws);
  if (!isnan (rate->cost))
    rate->cost_interval = interval_of (costs, draws);
  if (!isnan (target))
    {
      double share = (double) reached / draws;

      if (confidence != NULL)
        *confidence = share;
      if (error_of != NULL)
        *error_of = sqrt (share * (1.0 - share) / draws);
    }
  return TRUE;
}

/* Whole units of a plan in so many days of making. */
static double
units_in (const InsightRateInput *input, double month, double days)
{
  if (isnan (month))
    return month;
  return days <= 0.0 ? 0.0 : floor (INSIGHT_RATE_PLAN * month * days / (INSIGHT_RATE_WEEKS_MONTH * input->days_week) + 1e-9);
}

/**
 * insight_rate_by:
 * @input: what the rate is made of
 * @rate: the rate, with intervals or without
 * @working_days: from the first piece's start on
 * @interval: (out): of it, from that of the rate, with which it rises; NAN without one
 *
 * Returns: good units that a plan delivers by then: at %INSIGHT_RATE_PLAN of the ceiling, after the days that the first
 *   order waits at outside steps; NAN when there is no rate
 */
double
insight_rate_by (const InsightRateInput *input, const InsightRate *rate, guint working_days, NumInterval *interval)
{
  double days = working_days - rate->flow_days;

  *interval = (NumInterval){ NAN, NAN };
  if (isnan (rate->month) || !(input->days_week > 0.0))
    return NAN;
  interval->low = units_in (input, rate->interval.low, days);
  interval->high = units_in (input, rate->interval.high, days);
  return units_in (input, rate->month, days);
}

void
insight_rate_free (InsightRate *rate)
{
  if (rate == NULL)
    return;

  g_free (rate->lines);
  g_free (rate);
}
