/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "insight-individuals.h"

#include "insight-values-private.h"
#include "num-control.h"

#include <math.h>

G_STATIC_ASSERT ((guint) INSIGHT_RULE_ONE == NUM_RULE_ONE && (guint) INSIGHT_RULES_ALL == NUM_RULES_ALL);

/*
 * Of the marks that count those with a value of their own. A value that is only known to lie above or below something would
 * pull the limits towards it.
 */
void
insight_values_init (InsightValues *values, const InsightSeries *series)
{
  *values = (InsightValues){ g_new (double, series->n_marks + 1), g_new (guint, series->n_marks + 1), 0, 0 };
  for (guint i = 0; i < series->n_marks; i++)
    {
      const InsightMark *mark = &series->marks[i];

      if (mark->counting != INSIGHT_COUNTS)
        continue;
      if (mark->mark != BOOK_MARK_MEASURED || !isfinite (mark->value))
        {
          values->left_out++;
          continue;
        }
      values->values[values->n] = mark->value;
      values->marks[values->n++] = i;
    }
}

void
insight_values_clear (InsightValues *values)
{
  g_clear_pointer (&values->values, g_free);
  g_clear_pointer (&values->marks, g_free);
  values->n = 0;
}

static void
take_signals (InsightIndividuals *individuals, const InsightValues *values, const NumSignal *signals, size_t n)
{
  individuals->signals = g_new0 (InsightSignal, n + 1);
  for (size_t i = 0; i < n; i++)
    if ((individuals->rules & (1u << signals[i].rule)) != 0)
      individuals->signals[individuals->n_signals++]
          = (InsightSignal){ values->marks[signals[i].index], signals[i].rule };
}

/**
 * insight_individuals:
 * @series: one characteristic
 * @rules: #InsightRules that are looked for
 *
 * Limits are the mean ± 3 times the mean moving range over 2/sqrt(pi), of the units that count for the state of design looked
 * at, in order of build; units of other states, voided readings and later attempts neither make limits nor give signals.
 *
 * Returns: (transfer full): the limits and signals
 */
InsightIndividuals *
insight_individuals (const InsightSeries *series, guint rules)
{
  InsightIndividuals *individuals = g_new0 (InsightIndividuals, 1);
  g_auto(InsightValues) values = { 0 };
  g_autofree NumSignal *signals = NULL;
  NumIndividuals limits;
  size_t n_signals = 0;

  individuals->rules = rules;
  individuals->centre = individuals->lower = individuals->upper = individuals->moving_range = NAN;
  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    {
      individuals->state = INSIGHT_INDIVIDUALS_CHECKED;
      return individuals;
    }
  insight_values_init (&values, series);
  individuals->n = values.n;
  individuals->left_out = values.left_out;
  individuals->so_far = values.n < INSIGHT_INDIVIDUALS_LEAST;
  individuals->state = INSIGHT_INDIVIDUALS_TOO_FEW;
  if (values.n == 1)
    individuals->centre = values.values[0];
  signals = g_new (NumSignal, (gsize) NUM_SIGNALS_A_POINT * values.n + 1);
  if (num_individuals (values.values, values.n, &limits, signals, &n_signals) != NUM_OK)
    return individuals;
  individuals->centre = limits.mean;
  individuals->moving_range = limits.mr_bar;
  individuals->state = limits.mr_bar > 0.0 ? INSIGHT_INDIVIDUALS_DRAWN : INSIGHT_INDIVIDUALS_SAME;
  if (individuals->state != INSIGHT_INDIVIDUALS_DRAWN)
    return individuals;
  individuals->lower = limits.lower;
  individuals->upper = limits.upper;
  take_signals (individuals, &values, signals, n_signals);
  return individuals;
}

void
insight_individuals_free (InsightIndividuals *individuals)
{
  if (individuals == NULL)
    return;
  g_free (individuals->signals);
  g_free (individuals);
}
