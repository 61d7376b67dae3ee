/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moments and quantiles: NIST's hard data sets, awkward magnitudes, order. */
#include "num-describe.h"
#include "num-order.h"
#include "num-random.h"

#include <glib.h>
#include <math.h>
#include <stdlib.h>

/* Digits that agree with a certified value: the negative logarithm of the relative error, at most 15. */
static double
digits (double got, double certified)
{
  return got == certified ? 15.0 : fmin (15.0, -log10 (fabs (got - certified) / fabs (certified)));
}

/*
 * NIST Statistical Reference Datasets, univariate, NumAcc1 to NumAcc4: made by rule, certified mean and deviation (seen with
 * the sets at itl.nist.gov; the rules and values are given here from memory). Where the decimal data are not numbers of a double, no
 * method can reach all digits of the certified value; the deviation of NumAcc4 is therefore also held against the exact
 * deviation of the numbers as they are stored.
 */
static void
test_numacc (void)
{
  static const struct
  {
    const char *name;
    guint n;
    double first, low, high, mean, sd;
    double most_digits; /* that the stored numbers allow */
  } sets[] = {
    { "NumAcc1", 3, 10000002.0, 10000001.0, 10000003.0, 10000002.0, 1.0, 15.0 },
    { "NumAcc2", 1001, 1.2, 1.1, 1.3, 1.2, 0.1, 14.0 },
    { "NumAcc3", 1001, 1000000.2, 1000000.1, 1000000.3, 1000000.2, 0.1, 9.0 },
    { "NumAcc4", 1001, 10000000.2, 10000000.1, 10000000.3, 10000000.2, 0.1, 8.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      g_autofree double *values = g_new (double, sets[i].n);
      double half = 0.5 * (sets[i].high - sets[i].low); /* exact: the two are near each other */
      double middle = sets[i].low + half;
      double stored;
      NumDescription out;

      values[0] = sets[i].first;
      for (guint j = 1; j < sets[i].n; j++)
        values[j] = j % 2 == 1 ? sets[i].low : sets[i].high;
      /* One value off the middle of the others by d moves the squares by d^2 (n-1)/n. */
      stored = sqrt (((sets[i].n - 1.0) * half * half
                      + (sets[i].first - middle) * (sets[i].first - middle) * (sets[i].n - 1.0) / sets[i].n)
                     / (sets[i].n - 1.0));
      g_assert_cmpint (num_describe (values, sets[i].n, &out), ==, NUM_OK);
      g_test_message ("%s: mean %.1f digits, deviation %.1f of the certified, %.1f of the stored numbers", sets[i].name,
                      digits (out.mean, sets[i].mean), digits (out.sd, sets[i].sd), digits (out.sd, stored));
      g_assert_cmpfloat (digits (out.mean, sets[i].mean), >, 14.0);
      g_assert_cmpfloat (digits (out.sd, stored), >, 13.0);
      g_assert_cmpfloat (digits (out.sd, sets[i].sd), >, sets[i].most_digits - 0.9);
    }
}

/* SmLs09 is SmLs01 (the file among the check values) with 2,001 values a treatment and 10^12 in front; its certified F is
 * 2001 (from memory). Moments of one treatment: half the values 0.1 below, half above the first. */
static void
test_small_spread_on_a_large_offset (void)
{
  const guint n = 2001;
  g_autofree double *values = g_new (double, n);
  const double low = 1e12 + 0.3;
  const double high = 1e12 + 0.5;
  double half = 0.5 * (high - low);
  double off = 1e12 + 0.4 - (low + half);
  double stored = sqrt (half * half + off * off / n);
  NumMoments out;

  values[0] = 1e12 + 0.4;
  for (guint i = 1; i < n; i++)
    values[i] = i % 2 == 1 ? low : high;
  g_assert_cmpint (num_moments (values, n, &out), ==, NUM_OK);
  g_test_message ("SmLs09, first treatment: mean %.1f digits, deviation %.1f of the stored numbers",
                  digits (out.mean, 1e12 + 0.4), digits (out.sd, stored));
  g_assert_cmpfloat (digits (out.mean, 1e12 + 0.4), >, 14.0);
  g_assert_cmpfloat (digits (out.sd, stored), >, 9.0);
}

static void
test_magnitudes (void)
{
  static const double shape[] = { 1.0, 2.0, 4.0, 8.0, 7.0, 3.0 };
  static const int powers[] = { 1020, 900, 300, 0, -300, -900, -1000 };
  NumDescription base;

  num_describe (shape, G_N_ELEMENTS (shape), &base);
  for (guint i = 0; i < G_N_ELEMENTS (powers); i++)
    {
      double values[G_N_ELEMENTS (shape)];
      NumDescription out;

      for (guint j = 0; j < G_N_ELEMENTS (shape); j++)
        values[j] = ldexp (shape[j], powers[i]);
      g_assert_cmpint (num_describe (values, G_N_ELEMENTS (shape), &out), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (out.sd / ldexp (base.sd, powers[i]), 1.0, 1e-12);
      g_assert_cmpfloat_with_epsilon (out.skewness, base.skewness, 1e-12);
      g_assert_cmpfloat_with_epsilon (out.kurtosis, base.kurtosis, 1e-12);
      g_assert_cmpfloat_with_epsilon (out.autocorrelation, base.autocorrelation, 1e-12);
      g_assert_cmpfloat (out.q1, ==, ldexp (base.q1, powers[i]));
    }
}

static void
test_awkward (void)
{
  static const double equal[] = { 0.1, 0.1, 0.1, 0.1, 0.1 };
  static const double bad[] = { 1.0, NAN, 2.0 };
  static const double endless[] = { 1.0, HUGE_VAL };
  static const double wide[] = { -1.7e308, 1.7e308, 0.0 };
  NumDescription out;

  g_assert_cmpint (num_describe (NULL, 0, &out), ==, NUM_TOO_FEW);
  g_assert_cmpint (num_describe (bad, 3, &out), ==, NUM_BAD_INPUT);
  g_assert_cmpint (num_describe (endless, 2, &out), ==, NUM_BAD_INPUT);
  g_assert_cmpint (num_describe (equal, 1, &out), ==, NUM_OK);
  g_assert_true (isnan (out.sd) && isnan (out.skewness) && out.median == 0.1);
  g_assert_cmpint (num_describe (equal, 5, &out), ==, NUM_OK);
  g_assert_cmpfloat (out.sd, ==, 0.0);
  g_assert_true (isnan (out.skewness) && isnan (out.kurtosis) && isnan (out.autocorrelation));
  g_assert_cmpfloat (out.mean, ==, 0.1);
  g_assert_cmpint (num_describe (wide, 3, &out), ==, NUM_OK);
  g_assert_cmpfloat_with_epsilon (out.sd / 1.7e308, 1.0, 1e-12);
  g_assert_cmpfloat (out.mean, ==, 0.0);
}

/* Quantiles of a large sample are selected rather than sorted: they must be the same. */
static void
check_selected (double *values, guint n, const char *name)
{
  NumDescription out;

  g_assert_cmpint (num_describe (values, n, &out), ==, NUM_OK);
  num_sort (values, n);
  g_test_message ("%s", name);
  g_assert_cmpfloat (out.q1, ==, num_sorted_quantile (values, n, 0.25));
  g_assert_cmpfloat (out.median, ==, num_sorted_quantile (values, n, 0.5));
  g_assert_cmpfloat (out.q3, ==, num_sorted_quantile (values, n, 0.75));
  g_assert_cmpfloat (out.min, ==, values[0]);
  g_assert_cmpfloat (out.max, ==, values[n - 1]);
}

static void
test_selection (void)
{
  const guint n = 50003;
  g_autofree double *values = g_new (double, n);
  NumRandom random;

  num_random_init (&random, 3, 4);
  for (guint i = 0; i < n; i++)
    values[i] = num_random_normal (&random);
  check_selected (values, n, "normal");
  check_selected (values, n, "sorted");
  for (guint i = 0; i < n; i++)
    values[i] = (double) num_random_below (&random, 5);
  check_selected (values, n, "ties");
  for (guint i = 0; i < n; i++)
    values[i] = exp (30.0 * num_random_normal (&random));
  check_selected (values, n, "long tail");
  for (guint i = 0; i < n; i++)
    values[i] = i == 77 ? 1e308 : i == 78 ? -1e308 : num_random_normal (&random);
  check_selected (values, n, "outliers");
  for (guint i = 0; i < n; i++)
    values[i] = 5.0;
  check_selected (values, n, "equal");
}

/* The fast pass over a large sample against plain sums in a wider type. */
static void
test_large_sample (void)
{
  const guint n = 100001;
  g_autofree double *values = g_new (double, n);
  static const double offsets[] = { 0.0, 5.0, 1e6, -1e9 };
  NumRandom random;

  for (guint k = 0; k < G_N_ELEMENTS (offsets); k++)
    {
      long double mean = 0.0L, second = 0.0L, third = 0.0L, fourth = 0.0L, lagged = 0.0L;
      NumDescription out;
      double g1, g2;

      num_random_init (&random, 8, k);
      for (guint i = 0; i < n; i++)
        {
          values[i] = offsets[k] + num_random_exponential (&random) + (i > n / 2 ? 0.5 : 0.0);
          mean += values[i] - offsets[k]; /* exact, so that the reference carries no offset */
        }
      mean /= n;
      for (guint i = 0; i < n; i++)
        {
          long double d = values[i] - offsets[k] - mean;

          second += d * d;
          third += d * d * d;
          fourth += d * d * d * d;
          lagged += i + 1 < n ? d * (values[i + 1] - offsets[k] - mean) : 0.0L;
        }
      g1 = (double) (third / n / powl (second / n, 1.5L));
      g2 = (double) (fourth / n / (second / n) / (second / n)) - 3.0;
      g_assert_cmpint (num_describe (values, n, &out), ==, NUM_OK);
      g_assert_cmpfloat_with_epsilon (out.mean, offsets[k] + (double) mean, 1e-15 * fabs (out.mean) + 1e-14);
      g_assert_cmpfloat_with_epsilon (out.sd, (double) sqrtl (second / (n - 1)), 1e-12);
      g_assert_cmpfloat_with_epsilon (out.skewness, g1 * sqrt (n * (n - 1.0)) / (n - 2.0), 1e-10);
      g_assert_cmpfloat_with_epsilon (out.kurtosis, (n - 1.0) / ((n - 2.0) * (n - 3.0)) * ((n + 1.0) * g2 + 6.0), 1e-10);
      g_assert_cmpfloat_with_epsilon (out.autocorrelation, (double) (lagged / second), 1e-11);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/describe/reaches-the-digits-of-numacc", test_numacc);
  g_test_add_func ("/numbers/describe/keeps-a-small-spread-on-a-large-offset", test_small_spread_on_a_large_offset);
  g_test_add_func ("/numbers/describe/takes-any-magnitude", test_magnitudes);
  g_test_add_func ("/numbers/describe/answers-awkward-samples", test_awkward);
  g_test_add_func ("/numbers/describe/selects-the-same-quantiles-as-sorting", test_selection);
  g_test_add_func ("/numbers/describe/sums-a-large-sample-exactly", test_large_sample);
  return g_test_run ();
}
