/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units that come in lots: order, single units, draws of the definition, and lots that are all alike. */
#include "num-conformance.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-lots.h"
#include "num-random.h"

#include <glib.h>
#include <math.h>

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
  g_assert_cmpint (num_lots_moments (moments, 3, (NumLimits){ -HUGE_VAL, HUGE_VAL }, 0.9, 0.0, &confidence), ==, NUM_BAD_INPUT);
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

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/lots/order-does-not-matter-and-lots-cost", test_lots);
  g_test_add_func ("/numbers/lots/of-one-unit-are-a-plain-sample", test_lots_of_one);
  g_test_add_func ("/numbers/lots/agree-with-draws", test_lots_by_draws);
  g_test_add_func ("/numbers/lots/moments-are-enough", test_lots_by_moments);
  g_test_add_func ("/numbers/lots/equal-means-leave-a-chi-square", test_lots_alike);
  g_test_add_func ("/numbers/lots/nearly-equal-means-go-over-into-equal-ones", test_lots_nearly_alike);
  return g_test_run ();
}
