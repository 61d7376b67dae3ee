/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for measuring and making. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-capacity.h"
#include "num-gauge.h"
#include "num-learning.h"
#include "num-stackup.h"
#include "num-yield.h"

#include <glib/gi18n.h>
#include <math.h>

#define STEPS_MOST 1000      /* steps of a line */
#define YIELD_WORK 1e7       /* steps times draws */

static const char *const gauge_words[] = { "anova", "range", NULL };

static const BatchCalcKey gauge_keys[] = {
  { "values", BATCH_CALC_BLOCKS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "tolerance", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "way", BATCH_CALC_WORD, BATCH_CALC_OPTIONAL, gauge_words, NULL },
  { 0 },
};

static void
gauge (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const NumSample *cells = batch_calc_groups (input, "values", &count);
  NumGaugeStudy study = { .values = cells[0].values };
  double tolerance = batch_calc_number (input, "tolerance", 1.0);
  NumGauge out;

  if (!batch_calc_block_sizes (input, "values", &study.persons, &study.parts, &study.trials))
    {
      batch_calc_fail (answer, _("\"values\" must hold as many parts for each person and as many trials for each part."));
      return;
    }
  if (!(tolerance > 0.0))
    {
      batch_calc_fail (answer, _("\"tolerance\" must be above 0."));
      return;
    }
  if (!batch_calc_ok (answer,
                      batch_calc_word (input, "way", 0) == 0 ? num_gauge_anova (&study, &out)
                                                             : num_gauge_range (&study, &out),
                      "values"))
    return;
  batch_calc_put (answer, "ev", out.ev);
  batch_calc_put (answer, "av", out.av);
  batch_calc_put (answer, "grr", out.grr);
  batch_calc_put (answer, "pv", out.pv);
  batch_calc_put (answer, "tv", out.tv);
  batch_calc_put (answer, "grr_share", out.grr_share);
  batch_calc_put (answer, "ndc", out.ndc);
  if (batch_calc_has (input, "tolerance"))
    batch_calc_put (answer, "tolerance_share", 6.0 * out.grr / tolerance);
  if (answer->lacks)
    batch_calc_why (answer, _("The gauge shows no variation of its own."));
}

static const BatchCalcKey yield_step_keys[] = {
  { "in", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "first", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "reworked", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "scrapped", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "waiting", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static const BatchCalcKey yield_keys[] = {
  { "steps", BATCH_CALC_OBJECTS, BATCH_CALC_REQUIRED, NULL, yield_step_keys },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "target", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
put_yield_steps (BatchCalcAnswer *answer, const NumYieldAnswer *answers, gsize count)
{
  g_autofree double *first = g_new (double, count);
  g_autofree double *final = g_new (double, count);
  JsonArray *ranges = json_array_new ();

  for (gsize i = 0; i < count; i++)
    {
      JsonArray *range = json_array_new ();

      first[i] = answers[i].first_pass;
      final[i] = answers[i].final;
      json_array_add_double_element (range, answers[i].final_range.low);
      json_array_add_double_element (range, answers[i].final_range.high);
      json_array_add_array_element (ranges, range);
    }
  batch_calc_put_numbers (answer, "first_pass", first, count);
  batch_calc_put_numbers (answer, "final", final, count);
  batch_calc_put_array (answer, "final_range", ranges);
}

static gboolean
steps_fit (BatchCalcAnswer *answer, gsize count)
{
  if (count <= STEPS_MOST)
    return TRUE;
  batch_calc_fail (answer, _("\"steps\" holds more than %d steps."), STEPS_MOST);
  return FALSE;
}

static void
yield (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const BatchCalcInput *first = batch_calc_objects (input, "steps", 0, &count);
  g_autofree NumYieldStep *steps = g_new (NumYieldStep, count);
  g_autofree NumYieldAnswer *answers = g_new (NumYieldAnswer, count);
  double draws = MIN (YIELD_WORK / (double) count, NUM_YIELD_DRAWS);
  NumYield out;
  NumStatus status;

  if (first == NULL || !steps_fit (answer, count))
    return;
  for (gsize i = 0; i < count; i++)
    {
      const BatchCalcInput *step = batch_calc_objects (input, "steps", i, NULL);

      steps[i] = (NumYieldStep){ batch_calc_count (step, "in"), batch_calc_count (step, "first"),
                                 batch_calc_count (step, "reworked"), batch_calc_count (step, "scrapped"),
                                 batch_calc_count (step, "waiting") };
    }
  status = num_yield (steps, count, batch_calc_number (input, "confidence", 0.0),
                      batch_calc_number (input, "target", nan ("")), 0, 0, (size_t) draws, answers, &out);
  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("In \"steps\", more units came out or wait than went \"in\"."));
  if (!batch_calc_ok (answer, status, "steps"))
    return;
  put_yield_steps (answer, answers, count);
  batch_calc_put (answer, "rolled", out.rolled);
  batch_calc_put_interval (answer, "rolled_interval", out.interval);
  if (batch_calc_has (input, "target"))
    batch_calc_put (answer, "target_confidence", out.target_confidence);
  if (answer->lacks)
    batch_calc_why (answer, _("A step whose units all wait has no final yield yet."));
}

static const BatchCalcKey capacity_step_keys[] = {
  { "machines", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "hours_week", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "uptime", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "cycle_min", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "setup_min", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "batch", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "yield", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "bench", BATCH_CALC_TEXT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "rework_share", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "rework_min", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "people", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "share", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static const BatchCalcKey capacity_keys[] = {
  { "steps", BATCH_CALC_OBJECTS, BATCH_CALC_REQUIRED, NULL, capacity_step_keys },
  { "weeks_month", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

/* The first step with the same bench; a step without one stands alone. */
static gsize
bench_of (const BatchCalcInput *input, const char *name, gsize step)
{
  for (gsize i = 0; name != NULL && i <= step; i++)
    if (g_strcmp0 (batch_calc_text (batch_calc_objects (input, "steps", i, NULL), "bench"), name) == 0)
      return i;
  return NUM_CAPACITY_ALONE;
}

static void
put_benches (const BatchCalcInput *input, BatchCalcAnswer *answer, const NumCapacityStep *steps, const double *rates,
             gsize count)
{
  JsonArray *benches = json_array_new ();

  for (gsize i = 0; i < count; i++)
    if (steps[i].bench == i)
      {
        JsonObject *bench = json_object_new ();

        json_object_set_string_member (bench, "bench",
                                       batch_calc_text (batch_calc_objects (input, "steps", i, NULL), "bench"));
        json_object_set_double_member (bench, "rate", rates[i]);
        json_array_add_object_element (benches, bench);
      }
  if (json_array_get_length (benches) > 0)
    batch_calc_put_array (answer, "benches", benches);
  else
    json_array_unref (benches);
}

static void
capacity (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const BatchCalcInput *first = batch_calc_objects (input, "steps", 0, &count);
  g_autofree NumCapacityStep *steps = g_new (NumCapacityStep, count);
  g_autofree double *rates = g_new (double, count);
  NumCapacity out;
  NumStatus status;

  if (first == NULL || !steps_fit (answer, count))
    return;
  for (gsize i = 0; i < count; i++)
    {
      const BatchCalcInput *step = batch_calc_objects (input, "steps", i, NULL);
      double machines = batch_calc_number (step, "machines", 0.0);

      steps[i] = (NumCapacityStep){
        .machines = machines,
        .people = batch_calc_number (step, "people", machines),
        .share = batch_calc_number (step, "share", 1.0),
        .hours_week = batch_calc_number (step, "hours_week", 0.0),
        .uptime = batch_calc_number (step, "uptime", 0.0),
        .cycle_min = batch_calc_number (step, "cycle_min", 0.0),
        .setup_min = batch_calc_number (step, "setup_min", 0.0),
        .batch = batch_calc_number (step, "batch", 0.0),
        .rework_share = batch_calc_number (step, "rework_share", 0.0),
        .rework_min = batch_calc_number (step, "rework_min", 0.0),
        .yield = batch_calc_number (step, "yield", 0.0),
        .bench = bench_of (input, batch_calc_text (step, "bench"), i),
      };
    }
  status = num_capacity (steps, count, batch_calc_number (input, "weeks_month", 0.0), rates, &out);
  if (status == NUM_BAD_INPUT)
    batch_calc_fail (answer, _("\"steps\" and \"weeks_month\": machines, people, hours, batch, yield and weeks must be above "
                               "0, uptime, yield and shares at most 1, times not negative, and steps of one bench alike."));
  else if (status == NUM_NO_SOLUTION)
    batch_calc_fail (answer, _("\"steps\": a step that needs no time has no rate."));
  if (!batch_calc_ok (answer, status, "steps"))
    return;
  batch_calc_put_numbers (answer, "rate", rates, count);
  batch_calc_put (answer, "month", out.month);
  batch_calc_put_count (answer, "constraint", out.constraint);
  put_benches (input, answer, steps, rates, count);
}

static const BatchCalcKey learning_keys[] = {
  { "minutes", BATCH_CALC_NUMBERS, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "first", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "rate", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "unit", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
learning (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  static const char *const curve[] = { "first", "rate", "unit", NULL };
  NumSample minutes = batch_calc_numbers (input, "minutes");

  if (minutes.values != NULL)
    {
      NumLearning out;

      if (!batch_calc_refuse (input, answer, curve)
          || !batch_calc_ok (answer, num_learning_fit (minutes.values, minutes.n, &out), "minutes"))
        return;
      batch_calc_put (answer, "first", out.first);
      batch_calc_put (answer, "slope", out.slope);
      batch_calc_put (answer, "rate", out.rate);
      batch_calc_put (answer, "r2", out.r2);
      if (answer->lacks)
        batch_calc_why (answer, _("All units took the same time."));
    }
  else
    {
      double unit, cumulative;

      if (!batch_calc_need (input, answer, curve))
        return;
      if (num_learning_predict (batch_calc_number (input, "first", 0.0), batch_calc_number (input, "rate", 0.0),
                                batch_calc_count (input, "unit"), &unit, &cumulative)
          != NUM_OK)
        {
          batch_calc_fail (answer, _("\"first\" and \"rate\" must be above 0, and \"unit\" counts from 1."));
          return;
        }
      batch_calc_put (answer, "unit_minutes", unit);
      batch_calc_put (answer, "cumulative_minutes", cumulative);
    }
}

static const BatchCalcKey stackup_part_keys[] = {
  { "nominal", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "tolerance", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { "sensitivity", BATCH_CALC_NUMBER, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static const BatchCalcKey stackup_keys[] = {
  { "parts", BATCH_CALC_OBJECTS, BATCH_CALC_REQUIRED, NULL, stackup_part_keys },
  { 0 },
};

static void
stackup (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const BatchCalcInput *first = batch_calc_objects (input, "parts", 0, &count);
  g_autofree NumStackupPart *parts = g_new (NumStackupPart, count);
  NumStackup out;

  for (gsize i = 0; first != NULL && i < count; i++)
    {
      const BatchCalcInput *part = batch_calc_objects (input, "parts", i, NULL);

      parts[i] = (NumStackupPart){ batch_calc_number (part, "nominal", 0.0), batch_calc_number (part, "tolerance", 0.0),
                                   batch_calc_number (part, "sensitivity", 0.0) };
    }
  if (num_stackup (parts, count, &out) != NUM_OK)
    {
      batch_calc_fail (answer, _("In \"parts\", a \"tolerance\" must not be negative, and no product too large for a number."));
      return;
    }
  batch_calc_put (answer, "nominal", out.nominal);
  batch_calc_put (answer, "worst", out.worst);
  batch_calc_put (answer, "rss", out.rss);
}

const BatchCalcMethod batch_calc_pilot[] = {
  { "gauge", gauge_keys, gauge },          { "yield", yield_keys, yield },
  { "capacity", capacity_keys, capacity }, { "learning", learning_keys, learning },
  { "stackup", stackup_keys, stackup },
  { 0 },
};
