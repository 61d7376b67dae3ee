/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-life-parts-private.h"

#include "num-dist.h"

#include <math.h>

/*
 * Growth: all cycles run one after another, in order of date, whatever the state of design. What is said presumes that the
 * failures follow a power law of all cycles; where the law does not hold, no figure is given.
 */

/* Above it the statistic of Cramer and von Mises speaks against the law, at a tenth (table of MIL-HDBK-189, from memory). */
static double
cvm_limit (guint n)
{
  static const double limits[] = { 0.162, 0.162, 0.162, 0.154, 0.155, 0.160, 0.162, 0.165, 0.165, 0.167, 0.167, 0.169 };

  if (n < G_N_ELEMENTS (limits))
    return limits[n];
  return n < 16 ? 0.169 : n < 20 ? 0.171 : n < 60 ? 0.172 : 0.173;
}

static InsightLifeRound *
round_at (InsightLifeGrowth *growth, const BookEvidence *e, int round)
{
  InsightLifeRound *one;

  for (guint i = 0; i < growth->n_rounds; i++)
    if (growth->rounds[i].round == e->rounds[round].id)
      return &growth->rounds[i];
  one = &growth->rounds[growth->n_rounds++];
  one->round = e->rounds[round].id;
  one->label = g_strdup (e->rounds[round].label);
  return one;
}

static void
run_through (InsightLifeGrowth *growth, const BookEvidence *e, const guint *tests, guint n)
{
  double load = (double) NAN;

  for (guint i = 0; i < n; i++)
    {
      const BookEvidenceLifeTest *test = &e->life_tests[tests[i]];
      InsightLifeRound *round = round_at (growth, e, e->units[test->unit].round);
      gboolean failed = test->ended == BOOK_LIFE_FAILED;

      growth->end += test->cycles;
      round->tests++;
      round->cycles += test->cycles;
      round->end = growth->end;
      growth->by_failure = failed;
      if (!isnan (test->load) && !isnan (load) && test->load != load)
        growth->mixed_loads = TRUE;
      load = isnan (test->load) ? load : test->load;
      if (!failed)
        continue;
      round->failures++;
      growth->times[growth->n] = growth->end;
      growth->units[growth->n] = e->units[test->unit].id;
      growth->serials[growth->n++] = g_strdup (e->units[test->unit].serial);
    }
}

/* 2 n beta over its estimate has a chi-square distribution, with 2 n degrees of freedom, truncated by a failure 2 (n - 1)
 * (MIL-HDBK-189, appendix C, from memory). */
static NumInterval
exponent_interval (const InsightLifeGrowth *growth)
{
  double half = 0.5 * (1.0 - INSIGHT_LIFE_CONFIDENCE);
  double n = growth->n, df = 2.0 * (growth->by_failure ? n - 1.0 : n);

  return (NumInterval){ growth->fit.beta * num_chi_square_quantile (half, df) / (2.0 * n),
                        growth->fit.beta * num_chi_square_quantile (1.0 - half, df) / (2.0 * n) };
}

void
insight_life_add_growth (InsightLife *life, const BookEvidence *evidence, const guint *tests, guint n)
{
  InsightLifeGrowth *growth = &life->growth;
  NumStatus status;

  growth->times = g_new0 (double, n + 1);
  growth->units = g_new0 (gint64, n + 1);
  growth->serials = g_new0 (char *, n + 1);
  growth->rounds = g_new0 (InsightLifeRound, evidence->n_rounds + 1);
  run_through (growth, evidence, tests, n);
  growth->cvm_limit = cvm_limit (growth->by_failure && growth->n > 0 ? growth->n - 1 : growth->n);
  growth->beta_interval = (NumInterval){ (double) NAN, (double) NAN };
  status = num_growth (growth->times, growth->n, growth->end, growth->by_failure, INSIGHT_LIFE_CONFIDENCE, &growth->fit);
  growth->state = INSIGHT_GROWTH_TOO_FEW;
  if (status != NUM_OK)
    return;
  growth->beta_interval = exponent_interval (growth);
  if (growth->n < INSIGHT_LIFE_GROWTH)
    return;
  if (growth->fit.cvm > growth->cvm_limit)
    growth->state = INSIGHT_GROWTH_NOT_LAW;
  else if (growth->beta_interval.high < 1.0)
    growth->state = INSIGHT_GROWTH_UP;
  else if (growth->beta_interval.low > 1.0)
    growth->state = INSIGHT_GROWTH_DOWN;
  else
    growth->state = INSIGHT_GROWTH_NONE;
}
