/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-rate.h"

#include "insight-memo.h"
#include "num-order.h"
#include "num-parts.h"
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

#define KEY_RATE   0x72617465u
#define PART_LEAST 5000 /* draws that are worth a thread */

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

/* What draws say; first the share that reaches the target with its error, last one for each line. */
enum
{
  SHARE,
  SHARE_ERROR,
  MONTH_LOW,
  MONTH_HIGH,
  COST_LOW,
  COST_HIGH,
  LINES
};

enum
{
  LINE_LOW,
  LINE_HIGH,
  LINE_CHANCE,
  LINE_FIGURES
};

static gboolean
put_interval (double *at, const double *values, guint n)
{
  const double tail = 0.5 * (1.0 - INSIGHT_RATE_CONFIDENCE), tails[] = { tail, 1.0 - tail };

  return num_quantiles (values, n, tails, G_N_ELEMENTS (tails), at) == NUM_OK;
}

/* What is drawn, by draw; the counts are locked. */
typedef struct
{
  const InsightRate      *rate;
  const InsightRateInput *input;
  GCancellable           *cancellable;
  guint                   draws;
  double                 *months; /* line by line */
  double                 *ceilings;
  double                 *costs;
  GMutex                  lock;
  guint                   done;
  guint                  *least; /* by line: how often it sets the pace */
} Draws;

static void
draw_part (size_t first, size_t end, void *data)
{
  Draws *all = data;
  const InsightRate *rate = all->rate;
  const InsightRateInput *input = all->input;
  g_autofree guint *least = g_new0 (guint, rate->n_lines);
  InsightRate one = { .lines = NULL };
  Figures figures = figures_new (input);
  NumRandom random;
  size_t at = first;

  num_random_init (&random, (guint64) input->model, KEY_RATE);
  for (; at < end && (at % 1000 != 0 || !g_cancellable_is_cancelled (all->cancellable)); at++)
    {
      double *months = all->months + at;
      guint constraint = 0;

      num_random_draw (&random, (guint32) at);
      draw_figures (&random, input, &figures);
      for (guint i = 0; i < rate->n_lines; i++)
        {
          double minutes;

          months[(gsize) i * all->draws] = line_month (input, &figures, &rate->lines[i], &minutes);
          if (months[(gsize) i * all->draws] < months[(gsize) constraint * all->draws])
            constraint = i;
        }
      all->ceilings[at] = months[(gsize) constraint * all->draws];
      find_cost (&one, input, &figures);
      all->costs[at] = one.cost;
      least[constraint]++;
    }
  figures_clear (&figures);

  g_mutex_lock (&all->lock);
  all->done += (guint) (at - first);
  for (guint i = 0; i < rate->n_lines; i++)
    all->least[i] += least[i];
  g_mutex_unlock (&all->lock);
}

static gboolean
say_draws (const Draws *all, double target, double *said)
{
  const InsightRate *rate = all->rate;
  const guint draws = all->draws;
  gboolean ok = put_interval (&said[MONTH_LOW], all->ceilings, draws);
  guint reached = 0;

  for (guint i = 0; ok && i < rate->n_lines; i++)
    {
      double *line = said + LINES + i * LINE_FIGURES;

      ok = put_interval (&line[LINE_LOW], all->months + (gsize) i * draws, draws);
      line[LINE_CHANCE] = (double) all->least[i] / draws;
    }
  said[COST_LOW] = said[COST_HIGH] = NAN;
  if (ok && !isnan (rate->cost))
    ok = put_interval (&said[COST_LOW], all->costs, draws);
  for (guint i = 0; i < draws; i++)
    reached += all->ceilings[i] >= target;
  said[SHARE] = isnan (target) ? NAN : (double) reached / draws;
  said[SHARE_ERROR] = sqrt (said[SHARE] * (1.0 - said[SHARE]) / draws);
  return ok;
}

static gboolean
draw (const InsightRate *rate, const InsightRateInput *input, guint draws, double target, GCancellable *cancellable, double *said)
{
  g_autofree double *months = g_new (double, (gsize) draws * rate->n_lines);
  g_autofree double *ceilings = g_new (double, draws);
  g_autofree double *costs = g_new (double, draws);
  g_autofree guint *least = g_new0 (guint, rate->n_lines);
  Draws all = { rate, input, cancellable, draws, months, ceilings, costs, .least = least };

  g_mutex_init (&all.lock);
  num_in_parts (draws, PART_LEAST, draw_part, &all);
  g_mutex_clear (&all.lock);
  return all.done == draws && say_draws (&all, target, said);
}

/* Every figure of @input that a draw looks at. */
static GByteArray *
key_of (const InsightRateInput *input, guint draws, double target)
{
  GByteArray *key = insight_memo_key (INSIGHT_MEMO_RATE, input->model, 0, draws);
  const double shop[] = { target, input->material, input->hourly_cost, input->days_week };

  insight_memo_integer (key, input->n_benches);
  insight_memo_integer (key, input->n_steps);
  insight_memo_numbers (key, shop, G_N_ELEMENTS (shop));
  for (guint b = 0; b < input->n_benches; b++)
    {
      const InsightRateBench *bench = &input->benches[b];
      const double figures[] = { bench->machines, bench->people, bench->hours_week, bench->uptime, bench->share_free };

      insight_memo_numbers (key, figures, G_N_ELEMENTS (figures));
    }
  for (guint s = 0; s < input->n_steps; s++)
    {
      const InsightRateStep *step = &input->steps[s];
      const double figures[] = { step->batch,      step->setup_min, step->cycle_min,    step->rework_min,
                                 step->queue_days, step->price,     step->rework_share, step->yield };
      const gint64 whole[] = { step->kind,         step->bench,        step->n,           step->reworked, step->scrapped,
                               step->yield_fixed,  step->rework_fixed, step->cycle_fixed, step->counts };

      insight_memo_numbers (key, figures, G_N_ELEMENTS (figures));
      for (gsize i = 0; i < G_N_ELEMENTS (whole); i++)
        insight_memo_integer (key, whole[i]);
      insight_memo_numbers (key, step->day_minutes, step->n_days);
      for (guint day = 0; day < step->n_days; day++)
        insight_memo_integer (key, step->day_units[day]);
    }
  return key;
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
 * Keyed by the model: the same records give the same draws, and are drawn once.
 *
 * Returns: %FALSE when cancelled, or below %INSIGHT_RATE_RUN_DAYS run days: then nothing is filled in
 */
gboolean
insight_rate_draw (InsightRate *rate, const InsightRateInput *input, guint draws, double target, double *confidence,
                   double *error_of, GCancellable *cancellable)
{
  const gsize n = LINES + rate->n_lines * LINE_FIGURES;
  g_autofree double *said = g_new0 (double, n);
  g_autoptr(GByteArray) key = NULL;

  if (confidence != NULL)
    *confidence = NAN;
  if (error_of != NULL)
    *error_of = NAN;
  if (input->run_days < INSIGHT_RATE_RUN_DAYS || rate->n_lines == 0 || draws == 0)
    return FALSE;
  key = key_of (input, draws, target);
  if (!insight_memo_find (key, said, n))
    {
      if (!draw (rate, input, draws, target, cancellable, said))
        return FALSE;
      insight_memo_keep (key, said, n);
    }

  for (guint i = 0; i < rate->n_lines; i++)
    {
      const double *line = said + LINES + i * LINE_FIGURES;

      rate->lines[i].interval = (NumInterval){ line[LINE_LOW], line[LINE_HIGH] };
      rate->lines[i].constraint_chance = line[LINE_CHANCE];
    }
  rate->interval = (NumInterval){ said[MONTH_LOW], said[MONTH_HIGH] };
  if (!isnan (rate->cost))
    rate->cost_interval = (NumInterval){ said[COST_LOW], said[COST_HIGH] };
  if (confidence != NULL)
    *confidence = said[SHARE];
  if (error_of != NULL)
    *error_of = said[SHARE_ERROR];
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
