/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold whatever the numbers: identities by another route, inverses, order, scale, coverage by enumeration. */
#include "num-anytime.h"
#include "num-compare.h"
#include "num-control.h"
#include "num-demonstration.h"
#include "num-dist.h"
#include "num-fix.h"
#include "num-gauge.h"
#include "num-life.h"
#include "num-median.h"
#include "num-permutation.h"
#include "num-plan.h"
#include "num-proportion.h"
#include "num-random.h"
#include "num-weibull.h"
#include "num-yield.h"

#include <glib.h>
#include <math.h>
#include <string.h>

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

/* The share of all 352,716 arrangements whose difference of means is at least as large as the one found. */
static double
enumerate (const double *before, const double *after, double found)
{
  double values[21], total = 0.0;
  guint all = 0, reached = 0;

  memcpy (values, before, 10 * sizeof *before);
  memcpy (values + 10, after, 11 * sizeof *after);
  for (guint i = 0; i < 21; i++)
    total += values[i];
  for (guint chosen = 0; chosen < 1u << 21; chosen++)
    {
      double sum = 0.0;

      if (__builtin_popcount (chosen) != 10)
        continue;
      for (guint i = 0; i < 21; i++)
        sum += (chosen >> i & 1) != 0 ? values[i] : 0.0;
      all++;
      reached += fabs ((total - sum) / 11.0 - sum / 10.0) >= fabs (found) * (1.0 - 1e-12);
    }
  g_assert_cmpuint (all, ==, 352716);
  return (double) reached / all;
}

/* Drawn and exact permutation agree: 200,000 draws of a case that is just too large for the program to enumerate. */
static void
test_permutation_draws_agree (void)
{
  double exact;
  double before[10], after[11];
  NumPermutation drawn;
  NumComparison welch;

  /* Quantiles of a normal, not draws of one: how near the t test comes must not hang on a key. */
  for (guint i = 0; i < 10; i++)
    before[i] = num_normal_quantile ((i + 0.5) / 10.0);
  for (guint i = 0; i < 11; i++)
    after[i] = 0.9 + num_normal_quantile ((i + 0.5) / 11.0);
  num_permutation ((NumSample){ before, 10 }, (NumSample){ after, 11 }, 0.95, 1, 2, &drawn);
  num_compare ((NumSample){ before, 10 }, (NumSample){ after, 11 }, 0.95, &welch);
  g_assert_false (drawn.exact);
  g_assert_cmpfloat_with_epsilon (drawn.difference, welch.difference, 1e-12);
  exact = enumerate (before, after, drawn.difference);
  g_test_message ("p %.5f drawn, %.5f of all, %.5f by Welch", drawn.p, exact, welch.p);
  g_assert_cmpfloat_with_epsilon (drawn.p, exact, 4.0 * sqrt (exact * (1.0 - exact) / 200000.0));
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
  g_test_add_func ("/numbers/demonstration/without-a-failure-is-a-success-run", test_success_run);
  g_test_add_func ("/numbers/anytime/is-the-mixture-it-is-defined-by", test_anytime_is_its_definition);
  g_test_add_func ("/numbers/anytime/holds-at-every-look", test_anytime_keeps_its_promise);
  g_test_add_func ("/numbers/proportion/exact-limits-cover-every-share", test_exact_limits_cover);
  g_test_add_func ("/numbers/proportion/intervals-shrink-with-n", test_intervals_shrink);
  g_test_add_func ("/numbers/compare-shares/fisher-is-a-sum-of-tables", test_fisher_is_a_sum);
  g_test_add_func ("/numbers/permutation/the-interval-inverts-the-test", test_permutation_inverts_itself);
  g_test_add_func ("/numbers/permutation/draws-agree-with-all-arrangements", test_permutation_draws_agree);
  g_test_add_func ("/numbers/control/constants-agree-with-printed-tables", test_chart_constants);
  g_test_add_func ("/numbers/yield/does-not-depend-on-how-work-is-cut", test_yield_does_not_depend_on_cutting);
  g_test_add_func ("/numbers/life/agrees-with-the-success-run", test_life);
  g_test_add_func ("/numbers/weibull/does-not-depend-on-the-unit-of-time", test_weibull_scales);
  g_test_add_func ("/numbers/plan/holds-what-it-says", test_plan);
  g_test_add_func ("/numbers/gauge/confidence-falls-with-the-tolerance", test_gauge_confidence);
  g_test_add_func ("/numbers/fix/errors-of-all-attempts-add-up", test_attempts_cost);
  g_test_add_func ("/numbers/median/coverage-is-a-binomial-sum", test_median_covers);
  return g_test_run ();
}
