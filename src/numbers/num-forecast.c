/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * When will all criteria be met, if work goes on as it does?
 *
 * Method. Each run draws one possible truth and plays rounds until every criterion is met:
 *
 * - Truth: failing shares from Beta(failed + 1/2, passed + 1/2) (Jeffreys), means and deviations from the fiducial
 *   distribution of the sample; the chance that a fix works from Beta(worked + 1/2, failed + 1/2), once a run.
 * - Length of a round: exp(m + t(n-1) s sqrt(1 + 1/n)) of the logarithms of the rounds so far, from three on; before that
 *   evenly within the person's range. The rounds of one run share one mean and one deviation, drawn from the fiducial
 *   distribution of the logarithms, which gives each of them this very distribution: t drawn anew for each round would lay
 *   the tails of a small sample upon one another, and a date some rounds ahead too late.
 * - A round adds its units to every criterion that is not met. A unit that fails starts the criterion again: a fix is tried,
 *   the evidence begins anew, one attempt later; when the fix works the failing share becomes the residual one (a measured
 *   population moves inside until that share is left outside).
 * - A criterion is met by the same rules as the standing: strict checked by the any-time confidence at alpha/(j(j+1)) of
 *   attempt j, strict measured at the larger of look and attempt, others plainly. Once met it stays met: what is fixed
 *   elsewhere is taken to carry over.
 *
 * After a start again no failure is in the count, so that a checked criterion is met by a number of units that depends on
 * the attempt alone; and what a measured one needs depends on size and level alone. Both are looked up once.
 */
#include "num-forecast.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-critical.h"
#include "num-demonstration.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-fix.h"
#include "num-random.h"

#include <math.h>
#include <stdlib.h>

#define MEASURED_LEAST 6  /* units below which a measured criterion is not judged */
#define ASKED_EVERY 256   /* runs between two questions whether to go on */
#define SIZES (2 * (NUM_FORECAST_ROUNDS + 1))

/* What a measured criterion needs at a size and a level; filled when first asked for. */
typedef struct
{
  bool known;
  NumCritical critical;
} Need;

/* A criterion with what can be looked up. */
typedef struct
{
  const NumForecastCriterion *criterion;
  size_t *units;   /* checked: needed at each attempt, the first with the failures so far */
  Need *needs;     /* measured: [anew or not][rounds since][level] */
  bool already;    /* met now */
} Known;

/* How a criterion stands within a run. */
typedef struct
{
  bool met;
  bool anew;       /* the units so far do not count */
  size_t since;    /* rounds that count besides */
  size_t attempt;
  size_t look;
  double share;    /* checked: true failing share */
  double mean, sd; /* measured: true population */
  double n, sample_mean, squares;
} State;

typedef struct
{
  const NumForecastInput *input;
  Known *known;
  State *states;
  double log_mean, log_sd; /* of the rounds' lengths */
  double mean, sd;         /* of the logarithms, as drawn for the run */
  NumStatus status;        /* of what is looked up within a run */
} Simulation;

static double
level_of (const NumForecastCriterion *c, size_t look, size_t attempt)
{
  size_t j = c->measured && look > attempt ? look : attempt;

  return c->strict ? num_wanted_at_attempt (c->wanted, j) : c->wanted;
}

static NumStatus
know_checked (Known *known)
{
  const NumForecastCriterion *c = known->criterion;
  NumStatus status = NUM_OK;

  known->units = calloc (NUM_FORECAST_ROUNDS + 1, sizeof *known->units);
  if (known->units == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i <= NUM_FORECAST_ROUNDS && status == NUM_OK; i++)
    {
      double level = level_of (c, 0, c->attempt + i);
      size_t failed = i == 0 ? c->failed : 0;

      status = c->strict ? num_anytime_units (failed, c->tolerated, level, &known->units[i])
                         : num_demonstration_units (failed, c->tolerated, level, &known->units[i]);
    }
  known->already = status == NUM_OK && c->n >= known->units[0];
  return status;
}

static NumStatus
know_measured (Known *known)
{
  const NumForecastCriterion *c = known->criterion;
  double reached;
  NumStatus status;

  known->needs = calloc ((size_t) SIZES * (2 * NUM_FORECAST_ROUNDS + 2), sizeof *known->needs);
  if (known->needs == NULL)
    return NUM_NO_MEMORY;
  if (c->n < MEASURED_LEAST)
    return NUM_OK;
  status = num_conformance_confidence (c->n, c->mean, c->sd, c->limits, 1.0 - c->tolerated, &reached);
  known->already = status == NUM_OK && reached >= level_of (c, c->looks, c->attempt);
  return status;
}

static bool
two_limits (const NumForecastCriterion *c)
{
  return isfinite (c->limits.lower) && isfinite (c->limits.upper);
}

/* Whether the sample of a state reaches its level. */
static bool
measured_met (Simulation *simulation, Known *known, const State *state)
{
  const NumForecastCriterion *c = known->criterion;
  size_t over = (state->look > state->attempt ? state->look : state->attempt)
                - (c->looks > c->attempt ? c->looks : c->attempt);
  size_t column = c->strict ? over : 0;
  size_t row = state->since + (state->anew ? NUM_FORECAST_ROUNDS + 1 : 0);
  Need *need = &known->needs[row * (2 * NUM_FORECAST_ROUNDS + 2) + column];

  if (state->n < MEASURED_LEAST)
    return false;
  if (!need->known)
    {
      simulation->status = num_critical_init (&need->critical, (size_t) state->n, two_limits (c), 1.0 - c->tolerated,
                                              level_of (c, state->look, state->attempt));
      need->known = simulation->status == NUM_OK;
      if (!need->known)
        return false;
    }
  return num_critical_met (&need->critical, state->sample_mean, sqrt (state->squares / (state->n - 1.0)), c->limits);
}

static State
first_state (const Known *known, NumRandom *random)
{
  const NumForecastCriterion *c = known->criterion;
  State state = { .met = known->already, .attempt = c->attempt, .look = c->looks };

  if (state.met)
    return state;
  if (c->measured)
    {
      double n = (double) c->n;

      state.sd = c->sd * sqrt ((n - 1.0) / num_random_chi_square (random, n - 1.0));
      state.mean = c->mean + state.sd / sqrt (n) * num_random_normal (random);
      state.n = n;
      state.sample_mean = c->mean;
      state.squares = c->sd * c->sd * (n - 1.0);
    }
  else
    {
      state.n = (double) c->n;
      state.share = num_random_beta (random, (double) c->failed + 0.5, (double) (c->n - c->failed) + 0.5);
    }
  return state;
}

/* A fix that works leaves the residual share: a measured population moves inside its nearer limit, or to the middle with a
 * smaller deviation where the limits are too narrow for it. */
static void
mend (State *state, const NumForecastCriterion *c, double residual)
{
  double z, distance;

  state->share = fmin (state->share, residual);
  if (!c->measured || !(num_normal_share (state->mean, state->sd, c->limits) < 1.0 - residual))
    return;
  z = -num_normal_quantile (fmax (0.5 * residual, 1e-12));
  distance = z * state->sd;
  if (c->limits.upper - c->limits.lower < 2.0 * distance)
    {
      state->mean = 0.5 * (c->limits.upper + c->limits.lower);
      state->sd = 0.5 * (c->limits.upper - c->limits.lower) / z;
    }
  else
    state->mean = fmin (fmax (state->mean, c->limits.lower + distance), c->limits.upper - distance);
}

static void
start_again (State *state, const NumForecastCriterion *c, double residual, bool works)
{
  state->anew = true;
  state->since = 0;
  state->attempt++;
  state->n = state->sample_mean = state->squares = 0.0;
  if (works)
    mend (state, c, residual);
}

/* Adds the round's units to a measured sample. */
static void
add_units (State *state, double m, NumRandom *random)
{
  double mean = state->mean + state->sd / sqrt (m) * num_random_normal (random);
  double squares = m > 1.0 ? state->sd * state->sd * num_random_chi_square (random, m - 1.0) : 0.0;
  double off = mean - state->sample_mean;

  state->squares += squares + off * off * state->n * m / (state->n + m);
  state->sample_mean += off * m / (state->n + m);
  state->n += m;
}

static void
play_criterion (Simulation *simulation, Known *known, State *state, double fix_chance, NumRandom *random)
{
  const NumForecastCriterion *c = known->criterion;
  double m = (double) c->units_round;
  double share = c->measured ? 1.0 - num_normal_share (state->mean, state->sd, c->limits) : state->share;

  state->look++;
  state->since++;
  if (num_random_uniform (random) > exp (m * log1p (-share))) /* some unit fails */
    {
      start_again (state, c, simulation->input->residual, num_random_uniform (random) < fix_chance);
      return;
    }
  if (c->measured)
    {
      add_units (state, m, random);
      state->met = measured_met (simulation, known, state);
    }
  else
    {
      state->n += m;
      state->met = state->n >= (double) known->units[state->attempt - c->attempt];
    }
}

static void
draw_lengths (Simulation *simulation, NumRandom *random)
{
  double n = (double) simulation->input->rounds;

  if (simulation->input->rounds < NUM_FORECAST_LENGTHS)
    return;
  simulation->sd = simulation->log_sd * sqrt ((n - 1.0) / num_random_chi_square (random, n - 1.0));
  simulation->mean = simulation->log_mean + simulation->sd / sqrt (n) * num_random_normal (random);
}

static double
round_length (const Simulation *simulation, NumRandom *random)
{
  const NumForecastInput *input = simulation->input;

  if (input->rounds < NUM_FORECAST_LENGTHS)
    return input->shortest + (input->longest - input->shortest) * num_random_uniform (random);
  return exp (simulation->mean + simulation->sd * num_random_normal (random));
}

static NumForecastRun
play (Simulation *simulation, NumRandom *random)
{
  const NumForecastInput *input = simulation->input;
  double fix_chance = num_random_beta (random, (double) input->fixes_worked + 0.5, (double) input->fixes_failed + 0.5);
  NumForecastRun run = { 0.0, 0 };
  size_t open = 0;

  draw_lengths (simulation, random);
  for (size_t i = 0; i < input->count; i++)
    {
      simulation->states[i] = first_state (&simulation->known[i], random);
      open += !simulation->states[i].met;
    }
  while (open > 0)
    {
      if (run.rounds == NUM_FORECAST_ROUNDS)
        {
          run.days = HUGE_VAL;
          break;
        }
      run.rounds++;
      run.days += round_length (simulation, random);
      for (size_t i = 0; i < input->count; i++)
        {
          State *state = &simulation->states[i];

          if (state->met)
            continue;
          play_criterion (simulation, &simulation->known[i], state, fix_chance, random);
          open -= state->met;
        }
    }
  return run;
}

static bool
criterion_fits (const NumForecastCriterion *c)
{
  if (!(c->wanted > 0.0 && c->wanted < 1.0) || !(c->tolerated > 0.0 && c->tolerated < 1.0) || c->units_round == 0
      || c->attempt == 0 || c->failed > c->n)
    return false;
  return !c->measured
         || (c->n >= 2 && c->sd > 0.0 && isfinite (c->sd) && isfinite (c->mean) && c->limits.lower < c->limits.upper
             && c->tolerated <= 0.5 && (isfinite (c->limits.lower) || isfinite (c->limits.upper)));
}

static NumStatus
lengths_fit (const NumForecastInput *input, double *log_mean, double *log_sd)
{
  double *logs;
  NumMoments moments;
  NumStatus status;

  if (input->rounds < NUM_FORECAST_LENGTHS)
    return input->shortest > 0.0 && input->shortest <= input->longest && isfinite (input->longest) ? NUM_OK
                                                                                                    : NUM_BAD_INPUT;
  logs = calloc (input->rounds, sizeof *logs);
  if (logs == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < input->rounds; i++)
    logs[i] = log (input->round_days[i]);
  status = num_moments (logs, input->rounds, &moments); /* a length of 0 or less is not finite here */
  free (logs);
  *log_mean = moments.mean;
  *log_sd = moments.sd;
  return status;
}

static NumStatus
simulation_init (Simulation *simulation, const NumForecastInput *input)
{
  NumStatus status;

  *simulation = (Simulation){ .input = input };
  if (input->count == 0)
    return NUM_TOO_FEW;
  if (!(input->residual >= 0.0 && input->residual < 1.0))
    return NUM_BAD_INPUT;
  status = lengths_fit (input, &simulation->log_mean, &simulation->log_sd);
  if (status != NUM_OK)
    return status;
  simulation->known = calloc (input->count, sizeof *simulation->known);
  simulation->states = calloc (input->count, sizeof *simulation->states);
  if (simulation->known == NULL || simulation->states == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < input->count && status == NUM_OK; i++)
    {
      Known *known = &simulation->known[i];

      known->criterion = &input->criteria[i];
      status = !criterion_fits (known->criterion)   ? NUM_BAD_INPUT
               : known->criterion->measured ? know_measured (known)
                                            : know_checked (known);
    }
  return status;
}

static void
simulation_clear (Simulation *simulation)
{
  for (size_t i = 0; simulation->known != NULL && i < simulation->input->count; i++)
    {
      free (simulation->known[i].units);
      free (simulation->known[i].needs);
    }
  free (simulation->known);
  free (simulation->states);
}

/**
 * num_forecast:
 * @input: criteria so far, lengths of rounds, fixes
 * @key_high: key of the draws, for instance of the book
 * @key_low: key of the draws, for instance of the model
 * @progress: (nullable): told the share done every few hundred runs; answers false to stop
 * @data: (nullable): handed to it
 * @runs: (out) (array length=count): a simulated future each
 * @count: how many, at least 1, at most 2^32
 *
 * See the method above; 'under these assumptions' belongs to every figure that is shown of it.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW criteria; %NUM_BAD_INPUT; %NUM_CANCELLED; %NUM_NO_SOLUTION when a criterion cannot be met at
 * all; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_forecast (const NumForecastInput *input, uint64_t key_high, uint64_t key_low, NumProgress progress, void *data,
              NumForecastRun *runs, size_t count)
{
  Simulation simulation;
  NumRandom random;
  NumStatus status = count == 0 || count > UINT32_MAX ? NUM_BAD_INPUT : NUM_OK;

  if (status != NUM_OK)
    return status;
  status = simulation_init (&simulation, input);
  num_random_init (&random, key_high, key_low);
  for (size_t i = 0; i < count && status == NUM_OK; i++)
    {
      if (progress != NULL && i % ASKED_EVERY == 0 && !progress ((double) i / (double) count, data))
        {
          status = NUM_CANCELLED;
          break;
        }
      num_random_draw (&random, (uint32_t) i);
      runs[i] = play (&simulation, &random);
      status = simulation.status;
    }
  simulation_clear (&simulation);
  return status;
}

static int
compare_runs (const void *a, const void *b)
{
  double x = ((const NumForecastRun *) a)->days;
  double y = ((const NumForecastRun *) b)->days;

  return (x > y) - (x < y);
}

/**
 * num_forecast_days:
 * @runs: (array length=count): simulated futures; they are put in order
 * @count: at least 1
 * @share: in (0, 1]
 *
 * Returns: the days within which at least that share of the runs was ready; INFINITY when fewer were
 */
double
num_forecast_days (NumForecastRun *runs, size_t count, double share)
{
  size_t rank = (size_t) ceil (share * (double) count);

  qsort (runs, count, sizeof *runs, compare_runs);
  return runs[rank > 0 ? rank - 1 : 0].days;
}

/**
 * num_forecast_reached:
 * @runs: (array length=count): simulated futures
 * @count: at least 1
 * @days: from now
 *
 * Returns: the share of the runs that are ready by then
 */
double
num_forecast_reached (const NumForecastRun *runs, size_t count, double days)
{
  size_t ready = 0;

  for (size_t i = 0; i < count; i++)
    ready += runs[i].days <= days;
  return (double) ready / (double) count;
}
