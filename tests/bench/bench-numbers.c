/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-numbers CASE: one method of src/numbers against the calibration loop, `describe` against a bare loop. */
#include "bench-pairs.h"

#include "num-anytime.h"
#include "num-conformance.h"
#include "num-describe.h"
#include "num-forecast.h"
#include "num-lots.h"
#include "num-random.h"
#include "num-tolerance.h"
#include "num-weibull.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define MILLION 1000000
#define LOTS 5
#define LOT_UNITS 12
#define UNITS 1000
#define RUNS 2000
#define CRITERIA 34 /* of these, every third is met already */

typedef struct
{
  double          *values; /* MILLION, normal */
  double           failed[UNITS], stopped[UNITS];
  gsize            n_failed, n_stopped;
  NumRandom        random;
  NumForecastRun   runs[RUNS];
  double           rounds; /* simulated by one forecast */
} Bench;

static void
hold (NumStatus status)
{
  if (status != NUM_OK)
    g_error ("a method answered: %s", num_status_name (status));
}

/*
 * Each call another sample, so that nothing can be kept from the one before. The confidence, as a criterion is judged by; the
 * bound of the share is another question, asked where a failing share is told, and takes five of these.
 */
static void
conformance (gpointer data)
{
  Bench *bench = data;
  gsize n = 6 + num_random_below (&bench->random, 60);
  NumLimits limits = { -3.0 - num_random_uniform (&bench->random), 3.5 + num_random_uniform (&bench->random) };
  NumConformance out;

  hold (num_conformance (n, 0.4 * num_random_uniform (&bench->random), 1.0, limits, 0.95, NAN, &out));
  bench_use (out.confidence);
}

static void
tolerance (gpointer data)
{
  Bench *bench = data;
  double k;

  hold (num_tolerance_two (3 + num_random_below (&bench->random, 200), 0.99, 0.95, &k));
  bench_use (k);
}

static void
anytime (gpointer data)
{
  Bench *bench = data;
  gsize units = 10 + num_random_below (&bench->random, 120);
  double e, confidence;

  hold (num_anytime_confidence (num_random_below (&bench->random, 3), units, 0.1, &e, &confidence));
  bench_use (confidence);
}

static void
lots (gpointer data)
{
  Bench *bench = data;
  NumSample samples[LOTS];
  NumLots out;

  for (guint i = 0; i < LOTS; i++)
    samples[i] = (NumSample){ bench->values + i * LOT_UNITS, LOT_UNITS };
  hold (num_lots (samples, LOTS, (NumLimits){ -4.0, 4.2 + num_random_uniform (&bench->random) }, 0.95, NUM_SHAPE_NORMAL, 0.0, &out));
  bench_use (out.confidence);
}

static void
describe (gpointer data)
{
  Bench *bench = data;
  NumDescription out;

  hold (num_describe (bench->values, MILLION, &out));
  bench_use (out.median + out.autocorrelation);
}

static void
bare_loop (gpointer data)
{
  const Bench *bench = data;
  double sum = 0.0, squares = 0.0;

  for (guint i = 0; i < MILLION; i++)
    {
      sum += bench->values[i];
      squares += bench->values[i] * bench->values[i];
    }
  bench_use (sum + squares);
}

static void
weibull (gpointer data)
{
  Bench *bench = data;
  NumWeibull out;

  hold (num_weibull (bench->failed, bench->n_failed, bench->stopped, bench->n_stopped, 0.9, &out));
  bench_use (out.shape);
}

/* A product half way: checked and measured criteria, strict ones among them, a third of them met. */
static void
forecast (gpointer data)
{
  static const double days[] = { 31.0, 24.0, 36.0, 28.0 };
  Bench *bench = data;
  NumForecastCriterion criteria[CRITERIA];
  NumForecastInput input = { .criteria = criteria, .count = CRITERIA, .round_days = days, .rounds = G_N_ELEMENTS (days),
                             .fixes_worked = 5, .fixes_failed = 2, .residual = 0.005 };

  for (guint i = 0; i < CRITERIA; i++)
    criteria[i] = (NumForecastCriterion){ .measured = i % 2 == 0, .strict = i % 4 < 2, .wanted = 0.9, .tolerated = 0.05,
                                          .n = i % 3 == 0 ? 120 : 12, .mean = 0.1, .sd = 1.0, .limits = { -4.0, 3.6 },
                                          .looks = 2, .attempt = 1, .units_round = 10 };
  hold (num_forecast (&input, 1, num_random_word (&bench->random), NULL, NULL, bench->runs, RUNS));
  bench->rounds = 0.0;
  for (guint i = 0; i < RUNS; i++)
    bench->rounds += bench->runs[i].rounds;
}

typedef struct
{
  const char *name;
  BenchSide   left;
  guint       times;
  BenchSide   right;
} Case;

static const Case cases[] = {
  { "conformance", conformance, 2000, bench_calibration },
  { "tolerance", tolerance, 200, bench_calibration },
  { "anytime", anytime, 20000, bench_calibration },
  { "lots", lots, 1, bench_calibration },
  { "describe", describe, 4, bare_loop },
  { "weibull", weibull, 10, bench_calibration },
  { "forecast", forecast, 1, bench_calibration },
};

static void
fill (Bench *bench)
{
  bench->values = g_new (double, MILLION);
  num_random_init (&bench->random, 20260301, 1);
  for (guint i = 0; i < MILLION; i++)
    bench->values[i] = num_random_normal (&bench->random);
  for (guint i = 0; i < UNITS; i++)
    {
      double life = 1000.0 * pow (num_random_exponential (&bench->random), 0.5);

      if (life < 900.0)
        bench->failed[bench->n_failed++] = life;
      else
        bench->stopped[bench->n_stopped++] = 900.0;
    }
}

/* Time is told by the simulated round, of which a run has as many as it happens to need. */
static void
print_rounds (Bench *bench)
{
  forecast (bench);
  bench_calibration (NULL);
  for (guint i = 0; i < BENCH_PAIRS; i++)
    {
      double start = bench_computed (), middle;

      forecast (bench);
      middle = bench_computed ();
      bench_calibration (NULL);
      printf ("%.12f %.9f\n", (middle - start) / bench->rounds, bench_computed () - middle);
    }
}

int
main (int argc, char **argv)
{
  static Bench bench;

  fill (&bench);
  for (guint i = 0; argc == 2 && i < G_N_ELEMENTS (cases); i++)
    if (strcmp (argv[1], cases[i].name) == 0)
      {
        if (cases[i].left == forecast)
          print_rounds (&bench);
        else
          bench_pairs (cases[i].left, cases[i].times, cases[i].right, 1, &bench);
        g_free (bench.values);
        return 0;
      }
  fprintf (stderr, "bench-numbers needs one case: conformance tolerance anytime lots describe weibull forecast\n");
  return 2;
}
