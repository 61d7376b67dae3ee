/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The confidence that a share of a population conforms: its inverses, its order, its scale, and draws of the definition. */
#include "num-anytime.h"
#include "num-conformance.h"
#include "num-critical.h"
#include "num-demonstration.h"
#include "num-dist.h"
#include "num-random.h"
#include "num-tolerance.h"

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

/* What was found before is found again, and never for another question. */
static void
test_critical_remembers (void)
{
  static const struct { size_t n; gboolean two; double coverage, confidence; } asked[]
      = { { 12, TRUE, 0.95, 0.9 }, { 13, TRUE, 0.95, 0.9 }, { 12, FALSE, 0.95, 0.9 }, { 12, TRUE, 0.96, 0.9 }, { 12, TRUE, 0.95, 0.91 } };
  NumCritical first[G_N_ELEMENTS (asked)];

  for (guint again = 0; again < 2; again++)
    for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
      {
        NumCritical critical = { .two = FALSE };

        g_assert_cmpint (num_critical_init (&critical, asked[i].n, asked[i].two, asked[i].coverage, asked[i].confidence), ==, NUM_OK);
        if (!again)
          first[i] = critical;
        g_assert_true (critical.two == asked[i].two);
        for (guint k = 0; k < (asked[i].two ? NUM_CRITICAL_POINTS : 1); k++)
          g_assert_cmpfloat (critical.distance[k], ==, first[i].distance[k]);
      }
  for (guint i = 1; i < G_N_ELEMENTS (asked); i++)
    g_assert_true (first[i].two != first[0].two || first[i].distance[4] < first[0].distance[4] || first[i].distance[4] > first[0].distance[4]);
  g_assert_cmpint (num_critical_init (&first[0], 1, FALSE, 0.95, 0.9), ==, NUM_TOO_FEW);
  g_assert_cmpint (num_critical_init (&first[0], 12, TRUE, 0.4, 0.9), ==, NUM_BAD_INPUT);
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
  g_test_add_func ("/numbers/conformance/a-distance-is-found-once", test_critical_remembers);
  g_test_add_func ("/numbers/units/are-the-smallest-that-do", test_units_are_the_smallest);
  return g_test_run ();
}
