/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for times: life, growth, durations, discovery. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-discovery.h"
#include "num-growth.h"
#include "num-life.h"
#include "num-survival.h"
#include "num-weibull.h"

#include <glib/gi18n.h>
#include <math.h>

#define LIFE_WORK 1e7   /* units times draws that a line may ask for */
#define LIFE_DRAWS_LEAST 2000
#define LIFE_UNITS_MOST 5000

static const char *const truncation_words[] = { "time", "failure", NULL };

static const BatchCalcKey growth_keys[] = {
  { "times", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "end", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "truncation", BATCH_CALC_WORD, BATCH_CALC_REQUIRED, truncation_words, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
growth (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample times = batch_calc_numbers (input, "times");
  NumGrowth out;
  NumStatus status = num_growth (times.values, times.n, batch_calc_number (input, "end", 0.0),
                                 batch_calc_word (input, "truncation", 0) == 1,
                                 batch_calc_number (input, "confidence", 0.0), &out);

  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"times\" must be above 0 and not after \"end\"; truncated by a failure, the last one is "
                               "\"end\"."));
  if (!batch_calc_ok (answer, status, "times"))
    return;
  batch_calc_put (answer, "beta", out.beta);
  batch_calc_put (answer, "beta_unbiased", out.beta_unbiased);
  batch_calc_put (answer, "lambda", out.lambda);
  batch_calc_put (answer, "mtbf", out.mtbf);
  batch_calc_put_interval (answer, "mtbf_interval", out.mtbf_interval);
  batch_calc_put (answer, "cvm", out.cvm);
}

static const BatchCalcKey weibull_keys[] = {
  { "failed", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "stopped", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED | BATCH_CALC_EMPTY, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "at", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
weibull (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample failed = batch_calc_numbers (input, "failed");
  NumSample stopped = batch_calc_numbers (input, "stopped");
  double confidence = batch_calc_number (input, "confidence", 0.0);
  double survival, low;
  NumWeibull out;
  NumStatus status = num_weibull (failed.values, failed.n, stopped.values, stopped.n, confidence, &out);

  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"failed\" and \"stopped\" must hold times above 0."));
  if (!batch_calc_ok (answer, status, "failed"))
    return;
  batch_calc_put (answer, "shape", out.shape);
  batch_calc_put (answer, "scale", out.scale);
  batch_calc_put_interval (answer, "shape_interval", out.shape_interval);
  batch_calc_put_interval (answer, "scale_interval", out.scale_interval);
  batch_calc_put (answer, "b10", out.b10);
  batch_calc_put (answer, "b10_low", out.b10_low);
  if (!batch_calc_has (input, "at"))
    return;
  status = num_weibull_survival (&out, batch_calc_number (input, "at", 0.0), confidence, &survival, &low);
  if (!batch_calc_ok (answer, status, "at"))
    return;
  batch_calc_put (answer, "survival", survival);
  batch_calc_put (answer, "survival_low", low);
}

static const BatchCalcKey life_keys[] = {
  { "failed", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED | BATCH_CALC_EMPTY, NULL, NULL },
  { "stopped", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED | BATCH_CALC_EMPTY, NULL, NULL },
  { "at", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "share", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "shape_range", BATCH_CALC_NUMBERS, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static gboolean
life_range (const BatchCalcInput *input, BatchCalcAnswer *answer, NumInterval *shape)
{
  NumSample range = batch_calc_numbers (input, "shape_range");

  *shape = (NumInterval){ NAN, NAN };
  if (range.values == NULL)
    return TRUE;
  if (range.n != 2 || !(range.values[0] > 0.0 && range.values[0] <= range.values[1]))
    {
      batch_calc_fail (answer, _("\"shape_range\" must be two numbers above 0 in rising order."));
      return FALSE;
    }
  *shape = (NumInterval){ range.values[0], range.values[1] };
  return TRUE;
}

static void
life (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  static const char *const ways[] = { [NUM_LIFE_STATED] = "stated shape", [NUM_LIFE_FITTED] = "bootstrap" };
  NumSample failed = batch_calc_numbers (input, "failed");
  NumSample stopped = batch_calc_numbers (input, "stopped");
  NumLifeQuestion question = {
    .failed = failed.values,
    .failures = failed.n,
    .stopped = stopped.values,
    .stops = stopped.n,
    .at = batch_calc_number (input, "at", 0.0),
    .share = batch_calc_number (input, "share", 0.0),
  };
  double draws = CLAMP (LIFE_WORK / (double) MAX (failed.n + stopped.n, 1), LIFE_DRAWS_LEAST, NUM_LIFE_DRAWS);
  NumLife out;
  NumStatus status;

  if (!life_range (input, answer, &question.shape))
    return;
  if (failed.n >= NUM_LIFE_FIT_FROM && failed.n + stopped.n > LIFE_UNITS_MOST)
    {
      batch_calc_fail (answer, _("\"failed\" and \"stopped\" hold more than %d units together."), LIFE_UNITS_MOST);
      return;
    }
  status = num_life (&question, 0, 0, (size_t) draws, &out);
  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"failed\", \"stopped\" and \"at\" must be times above 0."));
  else if (status == NUM_TOO_FEW && failed.n + stopped.n > 0)
    batch_calc_fail (answer, _("\"shape_range\" is needed with fewer than 3 failures: the shape cannot be fitted."));
  if (!batch_calc_ok (answer, status, "failed"))
    return;
  batch_calc_put (answer, "confidence", out.confidence);
  batch_calc_put_text (answer, "way", ways[out.way]);
}

static const BatchCalcKey survival_keys[] = {
  { "times", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "ended", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "entered", BATCH_CALC_NUMBERS, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
put_curve (BatchCalcAnswer *answer, const NumSurvivalStep *steps, gsize count)
{
  JsonArray *time = json_array_new ();
  JsonArray *at_risk = json_array_new ();
  g_autofree double *survival = g_new (double, count + 1);
  g_autofree double *se = g_new (double, count + 1);

  for (gsize i = 0; i < count; i++)
    {
      json_array_add_double_element (time, steps[i].time);
      json_array_add_int_element (at_risk, (gint64) steps[i].at_risk);
      survival[i] = steps[i].survival;
      se[i] = steps[i].se;
    }
  batch_calc_put_array (answer, "time", time);
  batch_calc_put_array (answer, "at_risk", at_risk);
  batch_calc_put_numbers (answer, "survival", survival, count);
  batch_calc_put_numbers (answer, "se", se, count);
}

static void
survival (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample times = batch_calc_numbers (input, "times");
  NumSample flags = batch_calc_numbers (input, "ended");
  NumSample entered = batch_calc_numbers (input, "entered");
  g_autofree bool *ended = g_new0 (bool, times.n);
  g_autofree NumSurvivalStep *steps = g_new (NumSurvivalStep, times.n);
  double ends[2];
  NumSurvival out;
  NumStatus status;

  if (flags.n != times.n || (entered.values != NULL && entered.n != times.n))
    {
      batch_calc_fail (answer, _("\"ended\" and \"entered\" must have as many values as \"times\"."));
      return;
    }
  for (gsize i = 0; i < times.n; i++)
    {
      if (flags.values[i] != 0.0 && flags.values[i] != 1.0)
        {
          batch_calc_fail (answer, _("\"ended\" must hold 1 (ended) and 0 (not yet)."));
          return;
        }
      ended[i] = flags.values[i] == 1.0;
    }
  status = num_survival (times.values, ended, entered.values, times.n, batch_calc_number (input, "confidence", 0.95), steps,
                         &out);
  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"times\" must not be negative, and each \"entered\" must lie before its time."));
  if (!batch_calc_ok (answer, status, "times"))
    return;
  put_curve (answer, steps, out.steps);
  ends[0] = out.interval.low;
  ends[1] = out.interval.high;
  batch_calc_put (answer, "median", out.median);
  batch_calc_put_numbers (answer, "median_interval", ends, 2);
  if (answer->lacks)
    batch_calc_why (answer, _("Where the curve is 0 it has no error; a median or an end is missing where the curve does not "
                              "fall to one half."));
}

static const BatchCalcKey discovery_keys[] = {
  { "times", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "end", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
discovery (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample times = batch_calc_numbers (input, "times");
  double ends[2];
  NumDiscovery out;
  NumStatus status = num_discovery (times.values, times.n, batch_calc_number (input, "end", 0.0),
                                    batch_calc_number (input, "confidence", 0.9), &out);

  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"times\" must lie between 0 and \"end\", and \"end\" above 0."));
  else if (status == NUM_NO_SOLUTION)
    batch_calc_fail (answer, _("\"times\" must lie early on average: their mean is not below half of \"end\", so that no "
                               "total can be told."));
  if (!batch_calc_ok (answer, status, "times"))
    return;
  batch_calc_put (answer, "total", out.total);
  batch_calc_put (answer, "rate", out.rate);
  batch_calc_put_count (answer, "found", out.found);
  batch_calc_put (answer, "expected_left", out.expected_left);
  batch_calc_put (answer, "laplace", out.laplace);
  ends[0] = out.total_interval.low;
  ends[1] = out.total_interval.high;
  batch_calc_put_numbers (answer, "total_interval", ends, 2);
  if (answer->lacks)
    batch_calc_why (answer, _("The total has no upper end: discovery has not slowed down enough."));
}

const BatchCalcMethod batch_calc_life[] = {
  { "growth", growth_keys, growth },       { "weibull", weibull_keys, weibull },
  { "life", life_keys, life },             { "survival", survival_keys, survival },
  { "discovery", discovery_keys, discovery },
  { 0 },
};
