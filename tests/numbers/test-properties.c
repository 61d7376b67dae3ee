/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold whatever the numbers: identities by another route, inverses, order, scale, coverage by enumeration. */
#include "num-anytime.h"
#include "num-compare.h"
#include "num-conformance.h"
#include "num-control.h"
#include "num-critical.h"
#include "num-demonstration.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-fix.h"
#include "num-gauge.h"
#include "num-life.h"
#include "num-lots.h"
#include "num-median.h"
#include "num-permutation.h"
#include "num-plan.h"
#include "num-proportion.h"
#include "num-random.h"
#include "num-tolerance.h"
#include "num-weibull.h"
#include "num-yield.h"

#include <glib.h>
#include <math.h>

static const NumLimits none = { -HUGE_VAL, HUGE_VAL };

static double
confidence_of (size_t n, double mean, double sd, NumLimits limits, double coverage)
{
  double confidence;

  g_assert_cmpint (num_conformance_confidence (n, mean, sd, limits, coverage, &confidence), ==, NUM_OK);
  g_assert_true (confidence >= 0.0 && confidence <= 1.0);
  return confidence;
}

static NumLimits
upper_only (double upper)
{
  return (NumLimits){ none.lower, upper };
}

static void
test_one_limit_is_noncentral_t (void)
{
  static const size_t sizes[] = { 2, 3, 6, 20, 200, 1000 };
  static const double coverages[] = { 0.3, 0.5, 0.9, 0.99, 0.9999 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (guint j = 0; j < G_N_ELEMENTS (coverages); j++)
      for (double k = -1.0; k < 6.0; k += 0.7)
        {
          double root = sqrt ((double) sizes[i]);
          double t = num_noncentral_t_lower (k * root, (double) sizes[i] - 1.0, num_normal_quantile (coverages[j]) * root);
          double one = confidence_of (sizes[i], 0.0, 1.0, upper_only (k), coverages[j]);
          double mirror = confidence_of (sizes[i], 0.0, 1.0, (NumLimits){ -k, HUGE_VAL }, coverages[j]);

          g_assert_cmpfloat_with_epsilon (one, t, 1e-10);
          g_assert_cmpfloat_with_epsilon (mirror, one, 1e-12);
        }
}

/* The series and the integral meet at the border between them. */
static void
test_noncentral_t_is_smooth (void)
{
  for (double k = 30.0; k < 50.0; k += 2.5)
    {
      double below = num_noncentral_t_lower (k, 60.0, 37.6199);
      double above = num_noncentral_t_lower (k, 60.0, 37.6201);

      g_assert_cmpfloat (below, >=, above);
      g_assert_cmpfloat_with_epsilon (below, above, 2e-4 * 0.4);
    }
}

/* A far second limit changes nothing, and two limits ask for at least as much as each of them. */
static void
test_two_limits_meet_one (void)
{
  static const size_t sizes[] = { 3, 10, 50, 500 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (double k = 0.5; k < 5.0; k += 0.5)
      {
        double one = confidence_of (sizes[i], 0.0, 1.0, upper_only (k), 0.95);
        double far = confidence_of (sizes[i], 0.0, 1.0, (NumLimits){ -1e7, k }, 0.95);
        double other = confidence_of (sizes[i], 0.0, 1.0, (NumLimits){ -4.0, HUGE_VAL }, 0.95);
        double two = confidence_of (sizes[i], 0.0, 1.0, (NumLimits){ -4.0, k }, 0.95);

        g_assert_cmpfloat_with_epsilon (far, one, 1e-6);
        g_assert_cmpfloat (two, <=, fmin (one, other) + 1e-9);
        g_assert_cmpfloat (two, >=, one + other - 1.0 - 0.05); /* fails only where both nearly do */
      }
}

/* The sample mean outside the limits: little confidence, but not none. Quadrature over the chi-square with SciPy 1.10.1. */
static void
test_mean_outside (void)
{
  static const struct
  {
    size_t n;
    double mean, confidence;
  } table[] = { { 2, 10.74, 9.656847517049e-05 }, { 2, 10.55, 0.006235203494995 }, { 5, 10.6, 1.18769582561e-05 },
                { 20, 10.51, 6.204600912852e-10 } };
  NumConformance out, mirrored;

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_assert_cmpint (num_conformance (table[i].n, table[i].mean, 0.125, (NumLimits){ 9.5, 10.5 }, 0.9, NAN, &out), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (out.confidence, table[i].confidence, 1e-6 * table[i].confidence + 1e-13);
      num_conformance (table[i].n, 20.0 - table[i].mean, 0.125, (NumLimits){ 9.5, 10.5 }, 0.9, NAN, &mirrored);
      g_assert_cmpfloat_with_epsilon (out.confidence, mirrored.confidence, 1e-12);
    }
}

/* Two limits by draws: the definition itself, with a kept key; within four standard errors. */
static void
test_two_limits_agree_with_draws (void)
{
  static const struct
  {
    size_t n;
    double mean, lower, upper, coverage;
  } cases[] = {
    { 5, 0.3, -2.5, 3.0, 0.9 }, { 12, -0.5, -3.0, 3.0, 0.95 }, { 40, 0.8, -2.6, 3.4, 0.97 }, { 6, 0.2, -1.0, 1.4, 0.4 },
    { 3, 0.0, -9.0, 4.0, 0.6 },
  };
  const guint draws = 40000;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      NumLimits limits = { cases[i].lower, cases[i].upper };
      double df = (double) cases[i].n - 1.0;
      double confidence = confidence_of (cases[i].n, cases[i].mean, 1.0, limits, cases[i].coverage);
      guint good = 0;
      NumRandom random;

      num_random_init (&random, 99, i);
      for (guint j = 0; j < draws; j++)
        {
          double sd, mean;

          num_random_draw (&random, j);
          sd = sqrt (df / num_random_chi_square (&random, df));
          mean = cases[i].mean + sd / sqrt ((double) cases[i].n) * num_random_normal (&random);
          good += num_normal_share (mean, sd, limits) >= cases[i].coverage;
        }
      g_test_message ("%.5f by quadrature, %.5f by draws", confidence, good / (double) draws);
      g_assert_cmpfloat_with_epsilon (confidence, good / (double) draws, 4.0 * 0.5 / sqrt (draws));
    }
}

static void
test_tolerance_is_the_inverse (void)
{
  static const size_t sizes[] = { 2, 5, 10, 30, 300, 3000 };
  static const double shares[] = { 0.6, 0.9, 0.99, 0.9999 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (guint j = 0; j < G_N_ELEMENTS (shares); j++)
      for (guint c = 0; c < G_N_ELEMENTS (shares); c++)
        {
          double k, howe;

          g_assert_cmpint (num_tolerance_one (sizes[i], shares[j], shares[c], &k), ==, NUM_OK);
          g_assert_cmpfloat_with_epsilon (confidence_of (sizes[i], 0.0, 1.0, upper_only (k), shares[j]), shares[c], 1e-8);
          g_assert_cmpint (num_tolerance_two (sizes[i], shares[j], shares[c], &k), ==, NUM_OK);
          num_tolerance_howe (sizes[i], shares[j], shares[c], &howe);
          if (sizes[i] >= 10)
            g_assert_cmpfloat_with_epsilon (k / howe, 1.0, 0.03);
        }
}

static void
test_share_low_is_the_inverse (void)
{
  static const NumLimits limits[] = { { -HUGE_VAL, 2.5 }, { -3.0, HUGE_VAL }, { -2.0, 3.0 }, { -0.4, 0.5 }, { 0.5, 3.0 } };
  static const size_t sizes[] = { 2, 6, 25, 400 };

  for (guint i = 0; i < G_N_ELEMENTS (limits); i++)
    for (guint j = 0; j < G_N_ELEMENTS (sizes); j++)
      {
        NumConformance out;

        g_assert_cmpint (num_conformance (sizes[j], 0.0, 1.0, limits[i], 0.9, 0.9, &out), ==, NUM_OK);
        g_assert_cmpfloat (out.share_low, <, out.share);
        if (out.share_low > 1e-6 && out.share_low < 1.0)
          g_assert_cmpfloat_with_epsilon (confidence_of (sizes[j], 0.0, 1.0, limits[i], out.share_low), 0.9, 1e-6);
      }
}

/* Each further coverage asks for more, and more units with the same mean and deviation make surer of a good design. */
static void
test_conformance_is_monotone (void)
{
  NumLimits limits = { -3.1, 2.9 };
  double before = 2.0;

  for (double coverage = 0.02; coverage < 1.0; coverage += 0.02)
    {
      double confidence = confidence_of (9, 0.1, 1.0, limits, coverage);

      g_assert_cmpfloat (confidence, <=, before + 1e-9);
      before = confidence;
    }
  before = 0.0;
  for (size_t n = 4; n < 4000; n = n * 3 / 2)
    {
      double confidence = confidence_of (n, 0.1, 1.0, limits, 0.95);

      g_assert_cmpfloat (confidence, >=, before - 1e-9);
      before = confidence;
    }
}

static void
test_scale_and_shift (void)
{
  static const double values[] = { 12.1, 12.4, 11.8, 12.9, 12.2, 12.6, 12.0, 12.3, 13.1, 12.5 };
  static const double scales[] = { 1.0, 1e-6, 254.0, 1e9 };
  const NumLimits limits = { 10.0, 14.2 };
  NumConformance base;

  num_conformance_values (values, G_N_ELEMENTS (values), limits, 0.95, 0.9, NUM_SHAPE_LEAST, 0.1, &base);
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    for (guint shifted = 0; shifted < 2; shifted++)
      {
        double shift = shifted ? 1000.0 * scales[i] : 0.0;
        NumShape shape = shifted ? NUM_SHAPE_NORMAL : NUM_SHAPE_LEAST;
        double moved[G_N_ELEMENTS (values)];
        NumLimits at = { limits.lower * scales[i] + shift, limits.upper * scales[i] + shift };
        NumConformance out;

        for (guint j = 0; j < G_N_ELEMENTS (values); j++)
          moved[G_N_ELEMENTS (values) - 1 - j] = values[j] * scales[i] + shift; /* and the other way round */
        g_assert_cmpint (num_conformance_values (moved, G_N_ELEMENTS (values), at, 0.95, 0.9, shape, 0.1 * scales[i], &out),
                         ==, NUM_OK);
        g_assert_cmpfloat_with_epsilon (out.normal, base.normal, 1e-8);
        if (!shifted)
          {
            g_assert_cmpfloat_with_epsilon (out.lognormal, base.lognormal, 1e-8);
            g_assert_cmpfloat_with_epsilon (out.share_low, base.share_low, 1e-8);
          }
      }
}

static void
test_shapes (void)
{
  static const double values[] = { 3.1, 2.8, 3.4, 4.9, 2.6, 3.0, 3.9, 3.3 };
  static const double equal[] = { 2.0, 2.0, 2.0, 2.0, 2.0, 2.0 };
  static const double mixed[] = { -1.0, 2.0, 3.0, 1.0 };
  double logs[G_N_ELEMENTS (values)];
  NumConformance least, normal, lognormal, on_logs, count;
  NumLimits limits = { 2.0, 7.0 };

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    logs[i] = log (values[i]);
  num_conformance_values (values, 8, limits, 0.95, 0.95, NUM_SHAPE_LEAST, 0.0, &least);
  num_conformance_values (values, 8, limits, 0.95, 0.95, NUM_SHAPE_NORMAL, 0.0, &normal);
  num_conformance_values (values, 8, limits, 0.95, 0.95, NUM_SHAPE_LOGNORMAL, 0.0, &lognormal);
  num_conformance_values (logs, 8, (NumLimits){ log (2.0), log (7.0) }, 0.95, 0.95, NUM_SHAPE_NORMAL, 0.0, &on_logs);
  num_conformance_values (values, 8, (NumLimits){ 2.0, 4.0 }, 0.95, 0.95, NUM_SHAPE_UNKNOWN, 0.0, &count);
  g_assert_cmpfloat (least.confidence, ==, fmin (normal.confidence, lognormal.confidence));
  g_assert_cmpfloat (least.contrary, ==, fmin (normal.contrary, lognormal.contrary));
  g_assert_cmpfloat (lognormal.confidence, ==, on_logs.confidence);
  g_assert_cmpuint (count.outside, ==, 1);
  g_assert_cmpfloat_with_epsilon (count.contrary, pow (0.95, 8.0), 1e-12); /* P(no failure of 8 at 5 %) */

  g_assert_cmpint (num_conformance_values (equal, 6, limits, 0.9, 0.9, NUM_SHAPE_LEAST, 0.0, &least), ==, NUM_NO_VARIATION);
  g_assert_cmpint (num_conformance_values (equal, 6, limits, 0.9, 0.9, NUM_SHAPE_LEAST, 0.5, &least), ==, NUM_OK);
  g_assert_cmpfloat (least.normal, ==, confidence_of (6, 2.0, 0.25, limits, 0.9));
  g_assert_cmpint (num_conformance_values (mixed, 4, limits, 0.9, 0.9, NUM_SHAPE_LOGNORMAL, 0.0, &least), ==, NUM_BAD_INPUT);
  g_assert_cmpint (num_conformance_values (mixed, 4, limits, 0.9, 0.9, NUM_SHAPE_LEAST, 0.0, &least), ==, NUM_OK);
  g_assert_true (isnan (least.lognormal));
}

static void
test_units_are_the_smallest (void)
{
  NumLimits limits = { -4.0, 3.2 };
  size_t units;

  g_assert_cmpint (num_conformance_units (0.0, 1.0, limits, 0.99, 0.95, 2, 5000, &units), ==, NUM_OK);
  g_assert_cmpfloat (confidence_of (units, 0.0, 1.0, limits, 0.99), >=, 0.95);
  g_assert_cmpfloat (confidence_of (units - 1, 0.0, 1.0, limits, 0.99), <, 0.95);
  g_assert_cmpint (num_conformance_units (0.0, 1.0, upper_only (2.0), 0.99, 0.95, 2, 5000, &units), ==, NUM_NO_SOLUTION);
  for (size_t failed = 0; failed < 6; failed++)
    for (double tolerated = 0.01; tolerated < 0.7; tolerated *= 1.7)
      {
        double below, at;

        g_assert_cmpint (num_demonstration_units (failed, tolerated, 0.9, &units), ==, NUM_OK);
        num_demonstration_confidence (failed, units, tolerated, &at);
        g_assert_cmpfloat (at, >=, 0.9 - 1e-12);
        if (units > failed + 1)
          {
            num_demonstration_confidence (failed, units - 1, tolerated, &below);
            g_assert_cmpfloat (below, <, 0.9);
          }
        g_assert_cmpint (num_anytime_units (failed, tolerated, 0.9, &units), ==, NUM_OK);
        num_anytime_confidence (failed, units, tolerated, NULL, &at);
        g_assert_cmpfloat (at, >=, 0.9 - 1e-12);
        num_anytime_confidence (failed, units - 1, tolerated, NULL, &below);
        g_assert_cmpfloat (below, <, 0.9);
      }
}

/* A success run: 1 - (1 - p)^n by hand. */
static void
test_success_run (void)
{
  for (size_t n = 1; n < 300; n += 7)
    {
      double confidence, contrary;

      num_demonstration_confidence (0, n, 0.07, &confidence);
      num_demonstration_contrary (0, n, 0.07, &contrary);
      g_assert_cmpfloat_with_epsilon (confidence, 1.0 - pow (0.93, (double) n), 1e-13);
      g_assert_cmpfloat (contrary, ==, 0.0);
    }
}

/* E against a sum: the mixture over q in (0, p0) by a fine midpoint rule. */
static void
test_anytime_is_its_definition (void)
{
  for (size_t n = 1; n < 60; n += 8)
    for (size_t k = 0; k <= n && k < 4; k++)
      {
        const double p0 = 0.15;
        const guint cells = 20000;
        double sum = 0.0;
        double e, confidence;

        for (guint i = 0; i < cells; i++)
          {
            double q = p0 * (i + 0.5) / cells;

            sum += pow (q / p0, (double) k) * pow ((1.0 - q) / (1.0 - p0), (double) (n - k)) / cells;
          }
        sum = 0.5 * sum + (k == 0 ? 0.5 * pow (1.0 - p0, -(double) n) : 0.0);
        num_anytime_confidence (k, n, p0, &e, &confidence);
        g_assert_cmpfloat_with_epsilon (e / sum, 1.0, 1e-7);
        g_assert_cmpfloat_with_epsilon (confidence, fmax (0.0, 1.0 - 1.0 / sum), 1e-7);
      }
}

/* Its promise, exactly: the chance that E ever passes 1/alpha within 150 units when the failing share is just tolerated. */
static void
test_anytime_keeps_its_promise (void)
{
  const double p0 = 0.10;
  const double wanted = 0.90;
  enum { N = 150 };
  double chance[N + 2] = { 1.0 };
  double claimed = 0.0;

  for (size_t n = 1; n <= N; n++)
    {
      for (size_t k = n; k > 0; k--)
        chance[k] = chance[k] * (1.0 - p0) + chance[k - 1] * p0;
      chance[0] *= 1.0 - p0;
      for (size_t k = 0; k <= n; k++)
        {
          double confidence;

          if (chance[k] == 0.0)
            continue;
          num_anytime_confidence (k, n, p0, NULL, &confidence);
          if (confidence >= wanted)
            {
              claimed += chance[k];
              chance[k] = 0.0;
            }
        }
    }
  g_test_message ("claimed wrongly at any look up to %d units: %.4f", N, claimed);
  g_assert_cmpfloat (claimed, <=, 1.0 - wanted);
  g_assert_cmpfloat (claimed, >, 0.02); /* and the rule is not empty */
}

/* Clopper and Pearson's interval covers every share at least as often as it says, by full enumeration. */
static void
test_exact_limits_cover (void)
{
  for (size_t n = 1; n <= 60; n += (n < 12 ? 1 : 6))
    {
      g_autofree NumInterval *intervals = g_new (NumInterval, n + 1);

      for (size_t k = 0; k <= n; k++)
        {
          NumProportion out;

          g_assert_cmpint (num_proportion (k, n, 0.9, &out), ==, NUM_OK);
          intervals[k] = out.exact;
          g_assert_cmpfloat (out.exact.low, <=, out.estimate);
          g_assert_cmpfloat (out.exact.high, >=, out.estimate);
          g_assert_cmpfloat (out.wilson.low, <=, out.estimate);
          g_assert_cmpfloat (out.wilson.high, >=, out.estimate);
        }
      for (double p = 0.0025; p < 1.0; p += 0.005)
        {
          double covered = 0.0;

          for (size_t k = 0; k <= n; k++)
            if (p >= intervals[k].low && p <= intervals[k].high)
              covered += num_binomial_lower ((double) k, (double) n, p)
                         - (k > 0 ? num_binomial_lower ((double) k - 1.0, (double) n, p) : 0.0);
          g_assert_cmpfloat (covered, >=, 0.9 - 1e-12);
        }
    }
}

static void
test_intervals_shrink (void)
{
  double wilson = 2.0;
  double exact = 2.0;
  double jeffreys = 2.0;

  for (size_t n = 10; n < 100000; n *= 3)
    {
      NumProportion out;

      num_proportion (n / 5, n, 0.95, &out);
      g_assert_cmpfloat (out.wilson.high - out.wilson.low, <, wilson);
      g_assert_cmpfloat (out.exact.high - out.exact.low, <, exact);
      g_assert_cmpfloat (out.jeffreys.high - out.jeffreys.low, <, jeffreys);
      wilson = out.wilson.high - out.wilson.low;
      exact = out.exact.high - out.exact.low;
      jeffreys = out.jeffreys.high - out.jeffreys.low;
    }
}

/* Fisher's two-sided p against adding up all tables; and the one-sided one against the same sum. */
static void
test_fisher_is_a_sum (void)
{
  for (size_t na = 1; na <= 12; na += 3)
    for (size_t nb = 1; nb <= 14; nb += 4)
      for (size_t ka = 0; ka <= na; ka++)
        for (size_t kb = 0; kb <= nb; kb++)
          {
            double marked = (double) (ka + kb);
            double seen = num_hypergeometric ((double) kb, marked, (double) (na + nb) - marked, (double) nb);
            double two = 0.0;
            double less = 0.0;
            double one;
            NumShareComparison out;

            for (size_t k = 0; k <= nb; k++)
              {
                double p = num_hypergeometric ((double) k, marked, (double) (na + nb) - marked, (double) nb);

                two += p <= seen * (1.0 + 1e-7) ? p : 0.0;
                less += k <= kb ? p : 0.0;
              }
            g_assert_cmpint (num_compare_shares (ka, na, kb, nb, 0.9, &out), ==, NUM_OK);
            g_assert_cmpfloat_with_epsilon (out.p, fmin (1.0, two), 1e-12);
            g_assert_cmpint (num_fisher_less (ka, na, kb, nb, &one), ==, NUM_OK);
            g_assert_cmpfloat_with_epsilon (one, less, 1e-12);
          }
}

/* The permutation interval holds the difference, moves with a shift of one side, and agrees with its own test at its ends. */
static void
test_permutation_inverts_itself (void)
{
  static const double before[] = { 9.1, 8.7, 9.4, 8.9, 9.6, 8.8 };
  static const double after[] = { 8.1, 8.4, 9.0, 8.6, 8.2, 8.9, 8.05 };
  NumPermutation out, moved;
  double shifted[G_N_ELEMENTS (after)];

  g_assert_cmpint (num_permutation ((NumSample){ before, 6 }, (NumSample){ after, 7 }, 0.95, 0, 0, &out), ==, NUM_OK);
  g_assert_true (out.exact);
  g_assert_cmpuint (out.arrangements, ==, 1716);
  g_assert_cmpfloat (out.interval.low, <, out.difference);
  g_assert_cmpfloat (out.interval.high, >, out.difference);
  for (guint end = 0; end < 2; end++)
    for (int side = -1; side <= 1; side += 2)
      {
        double place = (end == 0 ? out.interval.low : out.interval.high) + side * 1e-6;
        gboolean inside = (end == 0) == (side > 0);

        for (guint i = 0; i < G_N_ELEMENTS (after); i++)
          shifted[i] = after[i] - place;
        num_permutation ((NumSample){ before, 6 }, (NumSample){ shifted, 7 }, 0.95, 0, 0, &moved);
        /* the interval of what is left holds 0 exactly when the effect lies in the interval */
        g_assert_cmpint (moved.interval.low <= 0.0 && moved.interval.high >= 0.0, ==, inside);
      }
}

/* Drawn and exact permutation agree: 200,000 draws of a case that is just too large to be enumerated. */
static void
test_permutation_draws_agree (void)
{
  double before[10], after[11];
  NumPermutation drawn;
  NumComparison welch;
  NumRandom random;

  num_random_init (&random, 7, 7);
  for (guint i = 0; i < 10; i++)
    before[i] = num_random_normal (&random);
  for (guint i = 0; i < 11; i++)
    after[i] = 0.9 + num_random_normal (&random);
  num_permutation ((NumSample){ before, 10 }, (NumSample){ after, 11 }, 0.95, 1, 2, &drawn);
  num_compare ((NumSample){ before, 10 }, (NumSample){ after, 11 }, 0.95, &welch);
  g_assert_false (drawn.exact);
  g_assert_cmpfloat_with_epsilon (drawn.difference, welch.difference, 1e-12);
  g_assert_cmpfloat_with_epsilon (drawn.p, welch.p, 0.02); /* the t test approximates the permutation test (Fisher 1935) */
  g_assert_cmpfloat_with_epsilon (drawn.interval.low, welch.interval.low, 0.12);
  g_assert_cmpfloat_with_epsilon (drawn.interval.high, welch.interval.high, 0.12);
}

/* Control chart constants against the printed tables (Montgomery, Introduction to Statistical Quality Control, appendix VI:
 * from memory), three digits. */
static void
test_chart_constants (void)
{
  static const struct
  {
    size_t size;
    double d2, d3, c4;
  } table[] = {
    { 2, 1.128, 0.853, 0.7979 }, { 3, 1.693, 0.888, 0.8862 },  { 5, 2.326, 0.864, 0.9400 },
    { 8, 2.847, 0.820, 0.9650 }, { 10, 3.078, 0.797, 0.9727 }, { 25, 3.931, 0.708, 0.9896 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_assert_cmpfloat_with_epsilon (num_range_mean (table[i].size), table[i].d2, 0.0006);
      g_assert_cmpfloat_with_epsilon (num_range_sd (table[i].size), table[i].d3, 0.0006);
      g_assert_cmpfloat_with_epsilon (num_deviation_mean (table[i].size), table[i].c4, 0.00006);
    }
  g_assert_cmpfloat_with_epsilon (num_range_mean (3), 3.0 / (2.0 * sqrt (G_PI)) * 2.0, 1e-8); /* exact: 3/sqrt(pi) */
}

/* Lots: the same answer whatever the order; one lot effect makes less sure. */
static void
test_lots (void)
{
  static const double a[] = { 52.1, 52.6, 51.8, 52.3, 52.4 };
  static const double b[] = { 53.0, 52.7, 53.4, 53.1, 52.9 };
  static const double c[] = { 51.9, 52.2, 51.6, 52.0, 52.3 };
  const NumSample lots[] = { { a, 5 }, { b, 5 }, { c, 5 } };
  const NumSample turned[] = { { c, 5 }, { a, 5 }, { b, 5 } };
  const NumLimits limits = { 50.0, HUGE_VAL };
  NumLots out, again, least;

  g_assert_cmpint (num_lots (lots, 3, limits, 0.99, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  num_lots (turned, 3, limits, 0.99, NUM_SHAPE_NORMAL, 0.0, &again);
  g_assert_cmpfloat_with_epsilon (out.lots, again.lots, 1e-12);
  g_assert_cmpfloat (out.lots, <, out.pooled);
  g_assert_cmpfloat (out.confidence, ==, out.lots);
  num_lots (lots, 3, limits, 0.99, NUM_SHAPE_LEAST, 0.0, &least);
  g_assert_cmpfloat (least.lots, <=, out.lots);
  g_assert_cmpint (num_lots (lots, 2, limits, 0.99, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_TOO_FEW);
}

/* Lots of one unit each are a plain sample of as many units, and the answer that of the plain method, by another route. */
static void
test_lots_of_one (void)
{
  static const double values[] = { 5.1, 4.9, 5.4, 5.0, 5.2, 5.3 };
  NumSample lots[6];
  NumLots out;

  for (guint i = 0; i < 6; i++)
    lots[i] = (NumSample){ &values[i], 1 };
  g_assert_cmpint (num_lots (lots, 6, (NumLimits){ 4.2, 6.2 }, 0.95, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.lots, out.pooled, 1e-7);
}

/* Two limits against plain draws of the same distribution; the bound is four standard errors of the draws. */
static void
test_lots_by_draws (void)
{
  static const double a[] = { 4.9, 5.3, 5.1, 4.7 }, b[] = { 5.6, 5.2, 5.5 }, c[] = { 4.6, 5.0, 4.4, 4.8, 4.7 }, d[] = { 5.1, 5.2 };
  static const NumLimits limits[] = { { 3.0, 7.0 }, { 3.9, 6.3 }, { 4.0, 8.0 }, { 3.0, HUGE_VAL } };
  const NumSample lots[] = { { a, 4 }, { b, 3 }, { c, 5 }, { d, 2 } };
  const double size = 4.0 / (1.0 / 4.0 + 1.0 / 3.0 + 1.0 / 5.0 + 1.0 / 2.0);
  double within = 0.0, means[4];
  NumMoments moments;
  NumRandom random;

  for (guint i = 0; i < 4; i++)
    {
      num_moments (lots[i].values, lots[i].n, &moments);
      means[i] = moments.mean;
      within += moments.sd * moments.sd * ((double) lots[i].n - 1.0);
    }
  num_moments (means, 4, &moments);
  for (guint l = 0; l < G_N_ELEMENTS (limits); l++)
    {
      guint good = 0;
      double share;
      NumLots out;

      num_random_init (&random, 11, l);
      for (guint32 i = 0; i < 50000; i++)
        {
          double inside, between, mean;

          num_random_draw (&random, i);
          inside = within / num_random_chi_square (&random, 10.0);
          between = size * moments.sd * moments.sd * 3.0 / num_random_chi_square (&random, 3.0);
          mean = moments.mean - num_random_normal (&random) * sqrt (between / (4.0 * size));
          good += num_normal_share (mean, sqrt (inside + fmax (0.0, (between - inside) / size)), limits[l]) >= 0.9;
        }
      share = good / 50000.0;
      g_assert_cmpint (num_lots (lots, 4, limits[l], 0.9, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (out.lots, share, 4.0 * sqrt (share * (1.0 - share) / 50000.0));
    }
}

/* Equal lot means: only the deviation within is unsure, and a single limit leaves a chi-square tail in closed form. */
static void
test_lots_alike (void)
{
  static const double values[] = { 4.0, 6.0 };
  const NumSample lots[] = { { values, 2 }, { values, 2 }, { values, 2 } };
  NumLots out;
  double most = 5.0 / num_normal_quantile (0.9); /* deviation at which a share of 0.9 lies above 0 */

  g_assert_cmpint (num_lots (lots, 3, (NumLimits){ 0.0, HUGE_VAL }, 0.9, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.lots, num_chi_square_upper (6.0 / (most * most), 3.0), 1e-9);
  g_assert_cmpint (num_lots (lots, 3, (NumLimits){ 5.5, HUGE_VAL }, 0.9, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  g_assert_cmpfloat (out.lots, ==, 0.0);
}

/* What is asked of a lot are its size, mean and deviation: given as such they give the answer of the values. */
static void
test_lots_by_moments (void)
{
  static const double a[] = { 4.9, 5.3, 5.1, 4.7 }, b[] = { 5.6, 5.2, 5.5 }, c[] = { 4.6 };
  const NumSample lots[] = { { a, 4 }, { b, 3 }, { c, 1 } };
  const NumLimits limits[] = { { 3.0, 7.0 }, { 3.0, HUGE_VAL } };
  NumMoments moments[3];
  NumLots out;
  double confidence;

  for (guint i = 0; i < 3; i++)
    num_moments (lots[i].values, lots[i].n, &moments[i]);
  for (guint l = 0; l < G_N_ELEMENTS (limits); l++)
    {
      g_assert_cmpint (num_lots (lots, 3, limits[l], 0.9, NUM_SHAPE_NORMAL, 0.5, &out), ==, NUM_OK);
      g_assert_cmpint (num_lots_moments (moments, 3, limits[l], 0.9, 0.5, &confidence), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (confidence, out.lots, 1e-12);
    }
  g_assert_cmpint (num_lots_moments (moments, 2, limits[0], 0.9, 0.0, &confidence), ==, NUM_TOO_FEW);
  g_assert_true (isnan (confidence));
  g_assert_cmpint (num_lots_moments (moments, 3, none, 0.9, 0.0, &confidence), ==, NUM_BAD_INPUT);
  g_assert_cmpint (num_lots_moments (moments, 3, limits[0], 1.0, 0.0, &confidence), ==, NUM_BAD_INPUT);
  moments[1].n = 0;
  g_assert_cmpint (num_lots_moments (moments, 3, limits[0], 0.9, 0.0, &confidence), ==, NUM_TOO_FEW);
}

/*
 * Lots that are much alike: the mean is then nearly certain, and the chance a step over the deviation. The figures are
 * the definition integrated on a grid of 4001 by 4001 logarithms of the chi-squares with SciPy 1.10.1.
 */
static void
test_lots_nearly_alike (void)
{
  static const double a[] = { 9.89 }, b[] = { 9.86 }, c[] = { 10.73, 9.18 }, d[] = { 9.5, 10.3 };
  static const double even[] = { 4.0, 6.0 };
  const NumSample lots[] = { { a, 1 }, { b, 1 }, { c, 2 }, { d, 2 } };
  const NumLimits limits[] = { { 0.0, HUGE_VAL }, { 0.0, 12.0 }, { -HUGE_VAL, 9.5 } };
  NumLots out;

  g_assert_cmpint (num_lots (lots, 4, (NumLimits){ -HUGE_VAL, 12.3 }, 0.99, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.lots, 0.4888446987, 1e-8);
  g_assert_cmpint (num_lots (lots, 4, (NumLimits){ -HUGE_VAL, 12.3 }, 0.99, NUM_SHAPE_LOGNORMAL, 0.0, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.lots, 0.4147941705, 1e-8);

  /* The answer goes over into that for equal lots, by another route. */
  for (guint l = 0; l < G_N_ELEMENTS (limits); l++)
    {
      const double moved[] = { 4.0 + 1e-6, 6.0 + 1e-6 };
      const NumSample alike[] = { { even, 2 }, { even, 2 }, { even, 2 } };
      const NumSample nearly[] = { { even, 2 }, { moved, 2 }, { even, 2 } };
      NumLots near;

      g_assert_cmpint (num_lots (alike, 3, limits[l], 0.9, NUM_SHAPE_NORMAL, 0.0, &out), ==, NUM_OK);
      g_assert_cmpint (num_lots (nearly, 3, limits[l], 0.9, NUM_SHAPE_NORMAL, 0.0, &near), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (near.lots, out.lots, 1e-5);
    }
}

static void
test_yield_does_not_depend_on_cutting (void)
{
  const NumYieldStep one[] = { { 40, 30, 0, 10, 0 } };
  const NumYieldStep two[] = { { 40, 36, 0, 4, 0 }, { 36, 30, 0, 6, 0 } };
  const NumYieldStep drawn[] = { { 40, 36, 0, 4, 0 }, { 37, 30, 0, 6, 1 } };
  NumYieldAnswer answers[2];
  NumYield whole, cut, other;

  g_assert_cmpint (num_yield (one, 1, 0.9, 0.7, 0, 0, 1000, answers, &whole), ==, NUM_OK);
  g_assert_cmpint (num_yield (two, 2, 0.9, 0.7, 0, 0, 1000, answers, &cut), ==, NUM_OK);
  g_assert_cmpfloat (whole.interval.low, ==, cut.interval.low);
  g_assert_cmpfloat (whole.target_confidence, ==, cut.target_confidence);
  g_assert_cmpint (num_yield (drawn, 2, 0.9, 0.7, 0, 0, 50000, answers, &other), ==, NUM_OK);
  g_assert_cmpfloat (other.target_error, >, 0.0);
  g_assert_cmpfloat_with_epsilon (other.interval.low, cut.interval.low, 0.04);
  g_assert_cmpfloat_with_epsilon (answers[1].final_range.low, 30.0 / 37.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (answers[1].final_range.high, 31.0 / 37.0, 1e-15);
}

/* Life: a unit test with no failure is the success run with the units' times to a power; few failures are not oversold. */
static void
test_life (void)
{
  static const double stops[] = { 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000 };
  static const double failed[] = { 1100, 1400, 1800 };
  NumLifeQuestion question = { .stopped = stops, .stops = 10, .at = 1000, .share = 0.9, .shape = { 1.0, 3.0 } };
  NumLife out;
  NumWeibull wald;
  double run, survival, low;

  g_assert_cmpint (num_life (&question, 0, 0, 1, &out), ==, NUM_OK);
  num_demonstration_confidence (0, 10, 0.1, &run);
  g_assert_cmpfloat_with_epsilon (out.confidence, run, 1e-9); /* at the time tested the shape does not matter */

  question = (NumLifeQuestion){ .failed = failed, .failures = 3, .stopped = stops, .stops = 7, .planned = 2000, .at = 500,
                                .share = 0.9, .shape = { NAN, NAN } };
  g_assert_cmpint (num_life (&question, 0, 0, 4000, &out), ==, NUM_OK);
  g_assert_cmpint (out.way, ==, NUM_LIFE_FITTED);
  g_assert_cmpint (num_weibull (failed, 3, stops, 7, 0.9, &wald), ==, NUM_OK);
  num_weibull_survival (&wald, 500, 0.9, &survival, &low);
  g_test_message ("bootstrap confidence %.3f; Wald's bound at 0.9 says %.4f", out.confidence, low);
  g_assert_true (out.confidence > 0.0 && out.confidence < 1.0);
  question.shape = (NumInterval){ NAN, NAN };
  question.failures = 2;
  g_assert_cmpint (num_life (&question, 0, 0, 1, &out), ==, NUM_TOO_FEW);
}

/* A fit does not change with the unit of time, and reproduces an exact Weibull sample. */
static void
test_weibull_scales (void)
{
  double hours[40], minutes[40];
  NumWeibull a, b;

  for (guint i = 0; i < 40; i++)
    {
      hours[i] = 100.0 * pow (-log (1.0 - (i + 0.5) / 40.0), 1.0 / 2.5);
      minutes[i] = 60.0 * hours[i];
    }
  g_assert_cmpint (num_weibull (hours, 40, NULL, 0, 0.9, &a), ==, NUM_OK);
  g_assert_cmpint (num_weibull (minutes, 40, NULL, 0, 0.9, &b), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (a.shape, b.shape, 1e-10);
  g_assert_cmpfloat_with_epsilon (60.0 * a.b10_low, b.b10_low, 1e-7);
  g_assert_cmpfloat_with_epsilon (a.shape, 2.5, 0.1);
  g_assert_cmpfloat_with_epsilon (a.scale, 100.0, 0.5);
  g_assert_cmpint (num_weibull (hours, 1, NULL, 0, 0.9, &a), ==, NUM_NO_SOLUTION);
  g_assert_cmpint (num_weibull (hours, 1, hours + 1, 1, 0.9, &a), ==, NUM_OK);
}

/* A plan's figures against playing it: the assurance is that of the draws themselves, the bad share passes rarely. */
static void
test_plan (void)
{
  NumPlanQuestion question = { 8, 0.0, 1.0, { -HUGE_VAL, 4.0 }, 0.99, 0.95, 0.8 };
  NumPlan counts, measured, more;

  g_assert_cmpint (num_plan_counts (0, 15, 0.1, 0.9, &counts), ==, NUM_OK);
  g_assert_cmpuint (counts.units, ==, 7); /* 22 units in all, the success run of 10 %/90 % */
  g_assert_cmpfloat_with_epsilon (counts.bad_passes, pow (0.9, 7.0), 1e-12);
  g_assert_cmpint (num_plan_measured (&question, 0, 0, 2000, &measured), ==, NUM_OK);
  g_assert_cmpfloat (measured.assurance, >=, 0.8);
  g_assert_cmpfloat (measured.bad_passes, <, 0.1);
  question.assurance = 0.85;
  g_assert_cmpint (num_plan_measured (&question, 0, 0, 2000, &more), ==, NUM_OK);
  g_assert_cmpuint (more.units, >=, measured.units);
  question.limits.upper = 2.0;
  g_assert_cmpint (num_plan_measured (&question, 0, 0, 200, &more), ==, NUM_NO_SOLUTION);
}

/* The looked-up distance decides as the confidence itself does. */
static void
test_critical_agrees (void)
{
  const NumLimits limits = { -5.0, 6.0 };
  NumCritical critical;
  guint decided = 0;

  g_assert_cmpint (num_critical_init (&critical, 12, TRUE, 0.95, 0.9), ==, NUM_OK);
  for (double mean = -4.0; mean < 5.0; mean += 0.37)
    for (double sd = 0.3; sd < 3.0; sd += 0.13)
      {
        double confidence = confidence_of (12, mean, sd, limits, 0.95);

        if (fabs (confidence - 0.9) < 0.01)
          continue;
        decided++;
        g_assert_cmpint (num_critical_met (&critical, mean, sd, limits), ==, confidence >= 0.9);
      }
  g_assert_cmpuint (decided, >, 300);
}

/* A gauge study whose variances are known by construction, and a confidence that falls as the tolerance gets tight. */
static void
test_gauge_confidence (void)
{
  double values[3 * 10 * 3];
  NumGaugeStudy study = { values, 3, 10, 3 };
  double wide, tight, error;
  NumRandom random;
  NumGauge out;

  num_random_init (&random, 12, 13);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    values[i] = 10.0 + (double) (i / 3 % 10) + 0.1 * num_random_normal (&random);
  g_assert_cmpint (num_gauge_anova (&study, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.grr, 0.1, 0.03);
  g_assert_cmpint (num_gauge_confidence (&study, 6.0 * out.grr / 0.25, 0.30, 0, 1, 20000, &wide, &error), ==, NUM_OK);
  g_assert_cmpint (num_gauge_confidence (&study, 6.0 * out.grr / 0.35, 0.30, 0, 1, 20000, &tight, &error), ==, NUM_OK);
  g_test_message ("%.3f where 25 %% of the tolerance is taken up, %.3f where 35 %%", wide, tight);
  g_assert_cmpfloat (wide, >, 0.7);
  g_assert_cmpfloat (tight, <, 0.3);
}

static void
test_attempts_cost (void)
{
  double sum = 0.0;

  for (size_t j = 1; j < 100000; j++)
    sum += 1.0 - num_wanted_at_attempt (0.9, j);
  g_assert_cmpfloat_with_epsilon (sum, 0.1, 2e-6); /* the errors of all attempts add up to the one allowed */
  g_assert_cmpfloat_with_epsilon (num_wanted_at_attempt (0.9, 1), 0.95, 1e-15);
}

static void
test_median_covers (void)
{
  double values[60];

  for (guint i = 0; i < 60; i++)
    values[i] = i;
  for (size_t n = 6; n <= 60; n++)
    {
      NumMedian out;
      double inside = 0.0;

      g_assert_cmpint (num_median (values, n, 0.95, &out), ==, NUM_OK);
      /* the interval x(r) to x(n+1-r) holds the median when r to n - r values lie below it */
      for (size_t k = (size_t) out.interval.low + 1; k <= n - ((size_t) out.interval.low + 1); k++)
        inside += num_binomial_lower ((double) k, (double) n, 0.5) - num_binomial_lower ((double) k - 1.0, (double) n, 0.5);
      g_assert_cmpfloat_with_epsilon (out.coverage, inside, 1e-12);
      g_assert_cmpfloat (out.coverage, >=, 0.95);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/conformance/one-limit-is-the-noncentral-t", test_one_limit_is_noncentral_t);
  g_test_add_func ("/numbers/conformance/the-series-and-the-integral-meet", test_noncentral_t_is_smooth);
  g_test_add_func ("/numbers/conformance/a-far-limit-changes-nothing", test_two_limits_meet_one);
  g_test_add_func ("/numbers/conformance/two-limits-agree-with-draws", test_two_limits_agree_with_draws);
  g_test_add_func ("/numbers/conformance/a-mean-outside-leaves-a-little", test_mean_outside);
  g_test_add_func ("/numbers/conformance/the-tolerance-factor-is-its-inverse", test_tolerance_is_the_inverse);
  g_test_add_func ("/numbers/conformance/the-bound-of-the-share-is-its-inverse", test_share_low_is_the_inverse);
  g_test_add_func ("/numbers/conformance/falls-with-coverage-and-grows-with-units", test_conformance_is_monotone);
  g_test_add_func ("/numbers/conformance/scale-shift-and-order-change-nothing", test_scale_and_shift);
  g_test_add_func ("/numbers/conformance/shapes-are-what-they-say", test_shapes);
  g_test_add_func ("/numbers/conformance/looked-up-distance-decides-alike", test_critical_agrees);
  g_test_add_func ("/numbers/units/are-the-smallest-that-do", test_units_are_the_smallest);
  g_test_add_func ("/numbers/demonstration/without-a-failure-is-a-success-run", test_success_run);
  g_test_add_func ("/numbers/anytime/is-the-mixture-it-is-defined-by", test_anytime_is_its_definition);
  g_test_add_func ("/numbers/anytime/holds-at-every-look", test_anytime_keeps_its_promise);
  g_test_add_func ("/numbers/proportion/exact-limits-cover-every-share", test_exact_limits_cover);
  g_test_add_func ("/numbers/proportion/intervals-shrink-with-n", test_intervals_shrink);
  g_test_add_func ("/numbers/compare-shares/fisher-is-a-sum-of-tables", test_fisher_is_a_sum);
  g_test_add_func ("/numbers/permutation/the-interval-inverts-the-test", test_permutation_inverts_itself);
  g_test_add_func ("/numbers/permutation/draws-agree-with-welch", test_permutation_draws_agree);
  g_test_add_func ("/numbers/control/constants-agree-with-printed-tables", test_chart_constants);
  g_test_add_func ("/numbers/lots/order-does-not-matter-and-lots-cost", test_lots);
  g_test_add_func ("/numbers/lots/of-one-unit-are-a-plain-sample", test_lots_of_one);
  g_test_add_func ("/numbers/lots/agree-with-draws", test_lots_by_draws);
  g_test_add_func ("/numbers/lots/moments-are-enough", test_lots_by_moments);
  g_test_add_func ("/numbers/lots/equal-means-leave-a-chi-square", test_lots_alike);
  g_test_add_func ("/numbers/lots/nearly-equal-means-go-over-into-equal-ones", test_lots_nearly_alike);
  g_test_add_func ("/numbers/yield/does-not-depend-on-how-work-is-cut", test_yield_does_not_depend_on_cutting);
  g_test_add_func ("/numbers/life/agrees-with-the-success-run", test_life);
  g_test_add_func ("/numbers/weibull/does-not-depend-on-the-unit-of-time", test_weibull_scales);
  g_test_add_func ("/numbers/plan/holds-what-it-says", test_plan);
  g_test_add_func ("/numbers/gauge/confidence-falls-with-the-tolerance", test_gauge_confidence);
  g_test_add_func ("/numbers/fix/errors-of-all-attempts-add-up", test_attempts_cost);
  g_test_add_func ("/numbers/median/coverage-is-a-binomial-sum", test_median_covers);
  return g_test_run ();
}
