/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The forecast against what can be worked out by hand, and its manners: keys, stopping, refusal. */
#include "num-forecast.h"

#include "num-dist.h"

#include <glib.h>
#include <math.h>

static const double lengths[] = { 20.0, 40.0, 30.0, 25.0 };

static NumForecastInput
input_of (const NumForecastCriterion *criteria, size_t count)
{
  return (NumForecastInput){ .criteria = criteria,
                             .count = count,
                             .shortest = 10.0,
                             .longest = 10.0,
                             .residual = 0.01 };
}

/* One plain checked criterion: 10 good of 10, 12 more are a success run of 22. It is ready after one round with the
 * chance that none of 12 fails, which is a beta-binomial probability. */
static void
test_chance_of_the_next_round (void)
{
  const NumForecastCriterion criterion = { .wanted = 0.9, .tolerated = 0.1, .n = 10, .looks = 1, .attempt = 1,
                                           .units_round = 12 };
  NumForecastInput input = input_of (&criterion, 1);
  const guint count = 40000;
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, count);
  double expected = exp (num_beta_function_log (0.5, 22.5) - num_beta_function_log (0.5, 10.5));

  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, runs, count), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (num_forecast_reached (runs, count, 10.0), expected, 4.0 * 0.5 / sqrt (count));
  g_assert_cmpfloat (num_forecast_reached (runs, count, 9.9), ==, 0.0);
}

/* A criterion that is met needs no round; the strict one asks for more units than the plain one. */
static void
test_met_and_strict (void)
{
  NumForecastCriterion criterion = { .wanted = 0.9, .tolerated = 0.1, .n = 22, .looks = 1, .attempt = 1, .units_round = 1 };
  NumForecastInput input = input_of (&criterion, 1);
  NumForecastRun runs[200];

  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, runs, 200), ==, NUM_OK);
  g_assert_cmpfloat (num_forecast_days (runs, 200, 1.0), ==, 0.0);
  criterion.strict = true; /* 33 units on the first attempt */
  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, runs, 200), ==, NUM_OK);
  for (guint i = 0; i < 200; i++)
    g_assert_cmpuint (runs[i].rounds, >=, 11);
}

/* Lengths from the rounds so far: half of the runs of one round lie below the geometric mean. */
static void
test_lengths (void)
{
  const NumForecastCriterion criterion = { .wanted = 0.5, .tolerated = 0.5, .n = 0, .attempt = 1, .units_round = 1000 };
  NumForecastInput input = input_of (&criterion, 1);
  const guint count = 20000;
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, count);
  double below = 0.0;
  double single = 0.0;

  input.round_days = lengths;
  input.rounds = G_N_ELEMENTS (lengths);
  input.residual = 0.0;
  input.fixes_worked = 100000; /* after one failure all is well */
  g_assert_cmpint (num_forecast (&input, 3, 4, NULL, NULL, runs, count), ==, NUM_OK);
  for (guint i = 0; i < count; i++)
    if (runs[i].rounds == 1)
      {
        single++;
        below += runs[i].days < exp ((log (20.0) + log (40.0) + log (30.0) + log (25.0)) / 4.0);
      }
  g_assert_cmpfloat (single, >, 100.0);
  g_assert_cmpfloat_with_epsilon (below / single, 0.5, 4.0 * 0.5 / sqrt (single));
}

/*
 * Many rounds ahead the length of all is as uncertain as that of one typical round: a run's mean over K rounds, of logarithms
 * with a small deviation s, is off by t(n-1) s sqrt(1/n + 1/K), the interval of a mean of further values. t(3) lies within
 * 3.182 with chance 0.95 (NIST/SEMATECH e-Handbook 1.3.6.7.2, table of Student's t).
 */
static void
test_lengths_of_many_rounds (void)
{
  static const double even[] = { 29.7, 30.3, 30.0, 30.1 };
  const NumForecastCriterion criterion = { .wanted = 0.9, .tolerated = 0.1, .n = 0, .attempt = 1, .units_round = 1 };
  NumForecastInput input = input_of (&criterion, 1);
  const guint count = 20000, n = G_N_ELEMENTS (even);
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, count);
  double mean = 0.0, squares = 0.0, within = 0.0, ready = 0.0;

  for (guint i = 0; i < n; i++)
    mean += log (even[i]) / n;
  for (guint i = 0; i < n; i++)
    squares += pow (log (even[i]) - mean, 2.0);
  input.round_days = even;
  input.rounds = n;
  input.residual = 0.0;
  input.fixes_worked = 100000; /* 22 rounds, and those until the first failure */
  g_assert_cmpint (num_forecast (&input, 7, 8, NULL, NULL, runs, count), ==, NUM_OK);
  for (guint i = 0; i < count; i++)
    if (isfinite (runs[i].days))
      {
        double rounds = runs[i].rounds;
        double off = log (runs[i].days / rounds) - mean;

        g_assert_cmpfloat (rounds, >=, 22.0);
        ready++;
        within += fabs (off) < 3.182 * sqrt (squares / (n - 1.0) * (1.0 / n + 1.0 / rounds));
      }
  g_assert_cmpfloat (ready, >, 0.5 * count);
  g_assert_cmpfloat_with_epsilon (within / ready, 0.95, 4.0 * sqrt (0.95 * 0.05 / ready));
}

static void
test_measured (void)
{
  NumForecastCriterion criterion = { .measured = true, .wanted = 0.9, .tolerated = 0.05, .n = 8, .mean = 0.0, .sd = 1.0,
                                     .limits = { -3.2, 3.4 }, .looks = 1, .attempt = 1, .units_round = 8 };
  NumForecastInput input = input_of (&criterion, 1);
  const guint count = 4000;
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, count);
  double good, poor;

  g_assert_cmpint (num_forecast (&input, 5, 6, NULL, NULL, runs, count), ==, NUM_OK);
  good = num_forecast_reached (runs, count, 30.0);
  criterion.mean = 1.5;
  g_assert_cmpint (num_forecast (&input, 5, 6, NULL, NULL, runs, count), ==, NUM_OK);
  poor = num_forecast_reached (runs, count, 30.0);
  g_test_message ("ready within three rounds: %.3f, %.3f nearer to the limit", good, poor);
  g_assert_cmpfloat (good, >, poor + 0.1);
}

static void
test_runs_are_keyed (void)
{
  const NumForecastCriterion criteria[] = {
    { .wanted = 0.9, .tolerated = 0.1, .n = 5, .failed = 1, .looks = 1, .attempt = 1, .units_round = 12, .strict = true },
    { .wanted = 0.9, .tolerated = 0.2, .n = 5, .looks = 1, .attempt = 1, .units_round = 6 },
  };
  NumForecastInput input = input_of (criteria, 2);
  NumForecastRun all[300], some[100], other[300];
  guint differ = 0;

  num_forecast (&input, 1, 2, NULL, NULL, all, 300);
  num_forecast (&input, 1, 2, NULL, NULL, some, 100);
  num_forecast (&input, 1, 3, NULL, NULL, other, 300);
  for (guint i = 0; i < 100; i++)
    {
      g_assert_cmpfloat (all[i].days, ==, some[i].days);
      differ += all[i].rounds != other[i].rounds;
    }
  g_assert_cmpuint (differ, >, 10);
}

static bool
stop_half_way (double share, void *data)
{
  guint *calls = data;

  ++*calls;
  return share < 0.5;
}

static void
test_stops (void)
{
  const NumForecastCriterion criterion = { .wanted = 0.9, .tolerated = 0.1, .attempt = 1, .units_round = 12 };
  NumForecastInput input = input_of (&criterion, 1);
  g_autofree NumForecastRun *runs = g_new (NumForecastRun, 10000);
  guint calls = 0;

  g_assert_cmpint (num_forecast (&input, 1, 2, stop_half_way, &calls, runs, 10000), ==, NUM_CANCELLED);
  g_assert_cmpuint (calls, >, 10);
}

static void
test_refuses (void)
{
  NumForecastCriterion criterion = { .wanted = 0.9, .tolerated = 0.1, .attempt = 1, .units_round = 12 };
  NumForecastInput input = input_of (&criterion, 1);
  NumForecastRun run;
  static const double bad[] = { 20.0, 0.0, 30.0 };

  input.count = 0;
  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, &run, 1), ==, NUM_TOO_FEW);
  input.count = 1;
  input.longest = 5.0;
  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, &run, 1), ==, NUM_BAD_INPUT);
  input.round_days = bad;
  input.rounds = 3;
  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, &run, 1), ==, NUM_BAD_INPUT);
  input.rounds = 0;
  input.longest = 10.0;
  criterion.units_round = 0;
  g_assert_cmpint (num_forecast (&input, 1, 2, NULL, NULL, &run, 1), ==, NUM_BAD_INPUT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/forecast/the-next-round-is-a-beta-binomial", test_chance_of_the_next_round);
  g_test_add_func ("/numbers/forecast/what-is-met-needs-no-round", test_met_and_strict);
  g_test_add_func ("/numbers/forecast/lengths-centre-on-the-geometric-mean", test_lengths);
  g_test_add_func ("/numbers/forecast/many-rounds-share-what-is-not-known-of-their-length", test_lengths_of_many_rounds);
  g_test_add_func ("/numbers/forecast/a-measured-criterion-nearer-its-limit-takes-longer", test_measured);
  g_test_add_func ("/numbers/forecast/runs-depend-on-their-keys-alone", test_runs_are_keyed);
  g_test_add_func ("/numbers/forecast/stops-when-told", test_stops);
  g_test_add_func ("/numbers/forecast/refuses-what-makes-no-sense", test_refuses);
  return g_test_run ();
}
