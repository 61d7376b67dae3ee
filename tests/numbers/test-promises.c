/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Promises kept: for each rule of evidence that was made against a false claim, many invented developments whose truth sits
 * exactly at the unacceptable limit. Shown is the share of them called met by the naive rule and by the adopted one. The naive
 * one must break the promise (else the rule were not needed), the adopted one keep it within three standard errors.
 *
 * With fixed keys. FETTLE_PROMISES=N plays N developments a rule; a few hundred without.
 */
#include "num-anytime.h"
#include "num-compare.h"
#include "num-conformance.h"
#include "num-demonstration.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-fix.h"
#include "num-life.h"
#include "num-lots.h"
#include "num-normality.h"
#include "num-random.h"
#include "num-weibull.h"

#include <glib.h>
#include <math.h>
#include <stdlib.h>

#define TOLERATED 0.10
#define WANTED 0.90

/* Plays one development; whether each rule calls it met. */
typedef void (*Play) (NumRandom *random, gboolean *naive, gboolean *adopted);

typedef struct
{
  const char *path;
  Play play;
  double promised; /* share of false claims allowed */
  double named;    /* the naive share that the rules of evidence name */
  guint least;     /* developments in the short run */
  guint most;      /* in the long one: some are costly */
} Promise;

static gboolean
fails (NumRandom *random)
{
  return num_random_uniform (random) < TOLERATED;
}

/* Checks looked at after each unit, up to 124 units. */
static void
play_looking (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  size_t failed = 0;

  for (size_t n = 1; n <= 124; n++)
    {
      double plain, anytime;

      failed += fails (random);
      num_demonstration_confidence (failed, n, TOLERATED, &plain);
      num_anytime_confidence (failed, n, TOLERATED, NULL, &anytime);
      *naive = *naive || plain >= WANTED;
      *adopted = *adopted || anytime >= WANTED;
    }
}

/* A failure, something is changed that does not help, and the count begins anew: up to 124 units in all. */
static void
play_starting_again (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  size_t good = 0;
  size_t attempt = 1;

  for (size_t i = 0; i < 124; i++)
    {
      double plain, anytime;

      if (fails (random))
        {
          good = 0;
          attempt++;
          continue;
        }
      good++;
      num_demonstration_confidence (0, good, TOLERATED, &plain);
      num_anytime_confidence (0, good, TOLERATED, NULL, &anytime);
      *naive = *naive || plain >= WANTED;
      *adopted = *adopted || anytime >= num_wanted_at_attempt (WANTED, attempt);
    }
}

static double
one_limit (const double *values, size_t n, double upper, double coverage)
{
  NumMoments moments;
  double confidence;

  num_moments (values, n, &moments);
  num_conformance_confidence (n, moments.mean, moments.sd, (NumLimits){ -HUGE_VAL, upper }, coverage, &confidence);
  return confidence;
}

/* Five units read four times each, the reading's own deviation a fifth of that between units. */
static void
play_repeats (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  double readings[20];
  double means[5] = { 0 };
  double limit = num_normal_quantile (1.0 - TOLERATED);

  for (guint unit = 0; unit < 5; unit++)
    {
      double truth = num_random_normal (random);

      for (guint i = 0; i < 4; i++)
        {
          readings[4 * unit + i] = truth + 0.2 * num_random_normal (random);
          means[unit] += readings[4 * unit + i] / 4.0;
        }
    }
  *naive = one_limit (readings, 20, limit, 1.0 - TOLERATED) >= WANTED;
  *adopted = one_limit (means, 5, limit, 1.0 - TOLERATED) >= WANTED;
}

/* Twenty units of one lot, lots varying as much as units within; against five lots of four by the lots method. Coverage 0.99. */
static void
play_lots (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  double limit = num_normal_quantile (0.99) * sqrt (2.0);
  double single[20];
  double several[20];
  NumSample lots[5];
  double lot = num_random_normal (random);
  NumLots out;

  for (guint i = 0; i < 20; i++)
    single[i] = lot + num_random_normal (random);
  for (guint i = 0; i < 5; i++)
    {
      lot = num_random_normal (random);
      for (guint j = 0; j < 4; j++)
        several[4 * i + j] = lot + num_random_normal (random);
      lots[i] = (NumSample){ several + 4 * i, 4 };
    }
  *naive = one_limit (single, 20, limit, 0.99) >= WANTED;
  g_assert_cmpint (num_lots (lots, 5, (NumLimits){ -HUGE_VAL, limit }, 0.99, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  *adopted = out.confidence >= WANTED;
}

/* Exponential data, eight units, coverage 0.99: the normal answer where a test at 5 % did not reject, against 'least'. */
static void
play_shape (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  NumLimits limits = { -HUGE_VAL, -log (0.01) };
  double values[8];
  NumNormality test;
  NumConformance out;

  for (guint i = 0; i < 8; i++)
    values[i] = num_random_exponential (random);
  num_normality (values, 8, &test);
  num_conformance_values (values, 8, limits, 0.99, 0.95, NUM_SHAPE_LEAST, 0.0, &out);
  *naive = test.p >= 0.05 && out.normal >= WANTED;
  *adopted = out.confidence >= WANTED;
}

/* Ten units, stopped when 35 % of such units have failed; just 90 % live beyond the time wanted. Tests with fewer than three
 * failures have no fit. Naive: Wald's bound for the time that 90 % reach. */
static void
play_life (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  const double shape = 2.0;
  const double at = 1.0;
  const double scale = at / pow (-log (0.9), 1.0 / shape);
  const double stop = scale * pow (-log (0.65), 1.0 / shape);
  double failed[10], stopped[10];
  NumLifeQuestion question = { .failed = failed, .stopped = stopped, .at = at, .share = 0.9, .shape = { NAN, NAN } };
  NumWeibull wald;
  NumLife out;

  do
    {
      question.failures = question.stops = 0;
      for (guint i = 0; i < 10; i++)
        {
          double time = scale * pow (num_random_exponential (random), 1.0 / shape);

          if (time <= stop)
            failed[question.failures++] = time;
          else
            stopped[question.stops++] = stop;
        }
    }
  while (question.failures < NUM_LIFE_FIT_FROM || question.stops == 0);
  if (num_weibull (failed, question.failures, stopped, question.stops, WANTED, &wald) != NUM_OK)
    return;
  *naive = wald.b10_low >= at;
  g_assert_cmpint (num_life (&question, num_random_word (random), 1, 1000, &out), ==, NUM_OK);
  *adopted = out.confidence >= WANTED;
}

/* One-sided measured, 0.95 wanted: looked at after each of units 6 to 20, against looks at 6, 13 and 20 units at their level. */
static void
play_measured_looks (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  double limit = num_normal_quantile (0.9);
  double values[20];
  size_t look = 0;

  for (size_t i = 0; i < 20; i++)
    values[i] = num_random_normal (random);
  for (size_t n = 6; n <= 20; n++)
    {
      double confidence = one_limit (values, n, limit, 0.9);

      *naive = *naive || confidence >= 0.95;
      if (n == 6 || n == 13 || n == 20)
        *adopted = *adopted || confidence >= num_wanted_at_attempt (0.95, ++look);
    }
}

/* No effect; rounds differ by half of the deviation within. Ten units a side: across two rounds, and within one. */
static void
play_rounds (NumRandom *random, gboolean *naive, gboolean *adopted)
{
  double before[10], after[10], split[10];
  double round_before = 0.5 * num_random_normal (random);
  double round_after = 0.5 * num_random_normal (random);
  NumComparison out;

  for (guint i = 0; i < 10; i++)
    {
      before[i] = round_before + num_random_normal (random);
      after[i] = round_after + num_random_normal (random);
      split[i] = round_before + num_random_normal (random);
    }
  num_compare ((NumSample){ before, 10 }, (NumSample){ after, 10 }, 0.95, &out);
  *naive = out.p < 0.05;
  num_compare ((NumSample){ before, 10 }, (NumSample){ split, 10 }, 0.95, &out);
  *adopted = out.p < 0.05;
}

static const Promise promises[] = {
  { "checks-may-be-looked-at-after-each-unit", play_looking, 0.10, 0.25, 2000, 100000 },
  { "starting-again-after-a-failure-costs", play_starting_again, 0.10, 0.76, 2000, 100000 },
  { "repeats-are-not-units", play_repeats, 0.10, 0.34, 2000, 100000 },
  { "one-lot-is-not-the-population", play_lots, 0.10, 0.60, 300, 4000 },
  { "exponential-data-do-not-pass-for-normal", play_shape, 0.10, 0.47, 500, 20000 },
  { "few-failures-do-not-promise-a-life", play_life, 0.10, 0.17, 300, 4000 },
  { "measured-criteria-are-judged-once-a-round", play_measured_looks, 0.05, 0.16, 1000, 20000 },
  { "rounds-that-differ-are-not-an-effect", play_rounds, 0.05, 0.27, 2000, 100000 },
};

static void
test_promise (gconstpointer data)
{
  const Promise *promise = data;
  const char *wish = g_getenv ("FETTLE_PROMISES");
  guint count = wish != NULL ? (guint) CLAMP (g_ascii_strtoull (wish, NULL, 10), 100, promise->most) : promise->least;
  guint naive_claims = 0;
  guint adopted_claims = 0;
  double naive_share, adopted_share, error;
  NumRandom random;

  num_random_init (&random, 20260101, (guint64) (promise - promises));
  for (guint i = 0; i < count; i++)
    {
      gboolean naive = FALSE;
      gboolean adopted = FALSE;

      num_random_draw (&random, i);
      promise->play (&random, &naive, &adopted);
      naive_claims += naive;
      adopted_claims += adopted;
    }
  naive_share = naive_claims / (double) count;
  adopted_share = adopted_claims / (double) count;
  error = sqrt (promise->promised * (1.0 - promise->promised) / count);
  g_test_message ("%u developments: promised %.1f %%, naive %.1f %%, adopted %.1f %%", count, 100.0 * promise->promised,
                  100.0 * naive_share, 100.0 * adopted_share);
  g_assert_cmpfloat (naive_share, >, promise->promised + 3.0 * error);
  g_assert_cmpfloat (adopted_share, <=, promise->promised + 3.0 * error);
  g_assert_cmpfloat_with_epsilon (naive_share, promise->named, 0.03 + 3.0 * sqrt (0.25 / count));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (promises); i++)
    {
      g_autofree char *path = g_strdup_printf ("/numbers/promises/%s", promises[i].path);

      g_test_add_data_func (path, &promises[i], test_promise);
    }
  return g_test_run ();
}
