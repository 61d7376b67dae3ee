/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much of what a measuring method shows is its own. */
#include "num-gauge.h"

#include "num-control.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-random.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

/* Mean squares with their degrees of freedom. One person has no terms of persons and interaction. */
typedef struct
{
  double person, part, interaction, error;
  double df_person, df_part, df_interaction, df_error;
  bool pooled; /* the interaction is counted in the error */
} MeanSquares;

static NumStatus
study_fits (const NumGaugeStudy *study)
{
  if (study->persons < 1 || study->parts < 2 || study->trials < 2)
    return NUM_TOO_FEW;
  return num_all_finite (study->values, study->persons * study->parts * study->trials) ? NUM_OK : NUM_BAD_INPUT;
}

/* Means by cell, person and part, in one allocation. */
typedef struct
{
  long double *cell;
  long double *person;
  long double *part;
  long double all;
} Means;

static bool
means_init (Means *means, const NumGaugeStudy *study)
{
  size_t cells = study->persons * study->parts;

  *means = (Means){ .cell = calloc (cells + study->persons + study->parts, sizeof *means->cell) };
  if (means->cell == NULL)
    return false;
  means->person = means->cell + cells;
  means->part = means->person + study->persons;
  for (size_t i = 0; i < cells; i++)
    {
      for (size_t t = 0; t < study->trials; t++)
        means->cell[i] += study->values[i * study->trials + t];
      means->cell[i] /= (long double) study->trials;
      means->person[i / study->parts] += means->cell[i] / (long double) study->parts;
      means->part[i % study->parts] += means->cell[i] / (long double) study->persons;
      means->all += means->cell[i] / (long double) cells;
    }
  return true;
}

static NumStatus
mean_squares (const NumGaugeStudy *study, MeanSquares *out)
{
  double persons = (double) study->persons;
  double parts = (double) study->parts;
  double trials = (double) study->trials;
  long double person = 0.0L, part = 0.0L, interaction = 0.0L, error = 0.0L, largest = 0.0L;
  Means means;
  double p;

  if (!means_init (&means, study))
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < study->persons * study->parts; i++)
    {
      size_t who = i / study->parts;
      size_t which = i % study->parts;

      interaction += powl (means.cell[i] - means.person[who] - means.part[which] + means.all, 2.0L);
      for (size_t t = 0; t < study->trials; t++)
        {
          error += powl (study->values[i * study->trials + t] - means.cell[i], 2.0L);
          largest = fmaxl (largest, fabsl (study->values[i * study->trials + t]));
        }
      person += powl (means.person[who] - means.all, 2.0L);
      part += powl (means.part[which] - means.all, 2.0L);
    }
  free (means.cell);

  /* A sum that rounding alone can make is none. */
  largest = powl (largest * DBL_EPSILON, 2.0L) * persons * parts;
  interaction = interaction <= largest ? 0.0L : interaction * trials;
  person = person <= largest ? 0.0L : person * trials;
  part = part <= largest ? 0.0L : part * trials;

  *out = (MeanSquares){
    .df_person = persons - 1.0,
    .df_part = parts - 1.0,
    .df_interaction = (persons - 1.0) * (parts - 1.0),
    .df_error = persons * parts * (trials - 1.0),
  };
  out->part = (double) (part / out->df_part);
  out->error = (double) (error / out->df_error);
  if (study->persons == 1)
    return NUM_OK;
  out->person = (double) (person / out->df_person);
  out->interaction = (double) (interaction / out->df_interaction);
  p = out->interaction > 0.0 ? num_f_upper (out->interaction / out->error, out->df_interaction, out->df_error) : 1.0;
  out->pooled = p > NUM_GAUGE_POOL_ABOVE;
  if (out->pooled)
    {
      out->error = (double) ((interaction + error) / (out->df_interaction + out->df_error));
      out->df_error += out->df_interaction;
    }
  return NUM_OK;
}

/* Variances from mean squares; negative ones are 0. */
static void
components (const NumGaugeStudy *study, const MeanSquares *ms, double *repeat, double *reproduce, double *between)
{
  double persons = (double) study->persons;
  double parts = (double) study->parts;
  double trials = (double) study->trials;
  double below = study->persons == 1 || ms->pooled ? ms->error : ms->interaction;

  *repeat = ms->error;
  *between = fmax (0.0, (ms->part - below) / (persons * trials));
  *reproduce = study->persons == 1 ? 0.0 : fmax (0.0, (ms->person - below) / (parts * trials));
  if (study->persons > 1 && !ms->pooled)
    *reproduce += fmax (0.0, (ms->interaction - ms->error) / trials);
}

static void
finish (NumGauge *out, double ev, double av, double pv)
{
  out->ev = ev;
  out->av = av;
  out->pv = pv;
  out->grr = hypot (ev, av);
  out->tv = hypot (out->grr, pv);
  out->grr_share = out->grr / out->tv; /* 0/0 is NAN: nothing varies */
  if (out->grr > 0.0) /* the small addition keeps a ratio that is whole but for rounding */
    out->ndc = fmax (1.0, floor (1.41 * pv / out->grr + 1e-9));
}

/**
 * num_gauge_anova:
 * @study: the study
 * @out: (out): its deviations
 *
 * Two-way crossed analysis of variance with random effects (AIAG, Measurement Systems Analysis). The interaction is pooled
 * with the error when its p exceeds 0.25, else kept and counted in av. Negative variances are 0. One person: av is 0 and the
 * analysis is one-way. ndc = 1.41 pv/grr rounded down, at least 1.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW parts or trials; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_gauge_anova (const NumGaugeStudy *study, NumGauge *out)
{
  MeanSquares ms;
  NumStatus status = study_fits (study);
  double repeat, reproduce, between;

  *out = (NumGauge){ NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  if (status == NUM_OK)
    status = mean_squares (study, &ms);
  if (status != NUM_OK)
    return status;
  components (study, &ms, &repeat, &reproduce, &between);
  finish (out, sqrt (repeat), sqrt (reproduce), sqrt (between));
  return NUM_OK;
}

/* Least and greatest of an array of means. */
static double
range_of (const long double *means, size_t count)
{
  long double least = means[0];
  long double most = means[0];

  for (size_t i = 1; i < count; i++)
    {
      least = fminl (least, means[i]);
      most = fmaxl (most, means[i]);
    }
  return (double) (most - least);
}

/* d2*: for the range of one group, which estimates a variance rather than a deviation. */
static double
range_root (size_t size)
{
  return hypot (num_range_mean (size), num_range_sd (size));
}

/**
 * num_gauge_range:
 * @study: the study
 * @out: (out): its deviations
 *
 * The way of averages and ranges (AIAG, Measurement Systems Analysis): ev = mean range/d2(trials); av = sqrt((largest -
 * smallest person mean)^2/d2*(persons)^2 - ev^2/(parts trials)), 0 when negative or for one person; pv = range of the part
 * means/d2*(parts); d2*(m) = sqrt(d2(m)^2 + d3(m)^2), unrounded (the manual's K factors are 1/d2 and 1/d2*).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW parts or trials; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE of the constants; %NUM_NO_MEMORY
 */
NumStatus
num_gauge_range (const NumGaugeStudy *study, NumGauge *out)
{
  size_t cells = study->persons * study->parts;
  Means means;
  double ev;
  double av = 0.0;
  double pv;
  double sum = 0.0;
  NumStatus status = study_fits (study);

  *out = (NumGauge){ NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  if (status != NUM_OK)
    return status;
  if (!means_init (&means, study))
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < cells; i++)
    {
      NumMoments moments;

      num_moments (study->values + i * study->trials, study->trials, &moments);
      sum += (moments.max - moments.min) / (double) cells;
    }
  ev = sum / num_range_mean (study->trials);
  pv = range_of (means.part, study->parts) / range_root (study->parts);
  if (study->persons > 1)
    {
      double people = range_of (means.person, study->persons) / range_root (study->persons);

      av = sqrt (fmax (0.0, people * people - ev * ev / (double) (study->parts * study->trials)));
    }
  free (means.cell);
  if (isnan (ev) || isnan (pv) || isnan (av))
    return NUM_NO_CONVERGENCE;
  finish (out, ev, av, pv);
  return NUM_OK;
}

/**
 * num_gauge_confidence:
 * @study: the study
 * @tolerance: width of the tolerance, above 0
 * @share_most: largest acceptable 6 grr/tolerance, for instance %NUM_GAUGE_SHARE_MOST
 * @key_high: key of the draws
 * @key_low: key of the draws
 * @draws: how many, at most 2^32
 * @confidence: (out): that 6 grr/tolerance is at most @share_most
 * @error: (out): its standard error
 *
 * Components as in num_gauge_anova(), pooled alike; in each draw every mean square is multiplied by its degrees of freedom
 * over a chi-square (Burdick, Borror and Montgomery 2005).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW parts or trials; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_gauge_confidence (const NumGaugeStudy *study, double tolerance, double share_most, uint64_t key_high,
                      uint64_t key_low, size_t draws, double *confidence, double *error)
{
  double most = share_most * tolerance / 6.0;
  size_t good = 0;
  MeanSquares ms;
  NumRandom random;
  NumStatus status = study_fits (study);

  *confidence = *error = NAN;
  if (!(most > 0.0 && isfinite (most)) || draws == 0 || draws > UINT32_MAX)
    return NUM_BAD_INPUT;
  if (status == NUM_OK)
    status = mean_squares (study, &ms);
  if (status != NUM_OK)
    return status;

  num_random_init (&random, key_high, key_low);
  for (size_t i = 0; i < draws; i++)
    {
      MeanSquares drawn = ms;
      double repeat, reproduce, between;

      num_random_draw (&random, (uint32_t) i);
      drawn.error *= ms.df_error / num_random_chi_square (&random, ms.df_error);
      if (study->persons > 1)
        {
          drawn.person *= ms.df_person / num_random_chi_square (&random, ms.df_person);
          if (!ms.pooled)
            drawn.interaction *= ms.df_interaction / num_random_chi_square (&random, ms.df_interaction);
        }
      components (study, &drawn, &repeat, &reproduce, &between);
      good += repeat + reproduce <= most * most;
    }
  *confidence = (double) good / (double) draws;
  *error = sqrt (*confidence * (1.0 - *confidence) / (double) draws);
  return NUM_OK;
}
