/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-pilot-private.h"
#include "insight-rate.h"

#include <math.h>
#include <string.h>

/*
 * What a rate is made of: the route as it is written down, and what the round counted at each of its steps.
 */

static double
hours_of_week (const BookEvidence *e)
{
  double hours = 0.0;

  for (guint i = 0; i < 7; i++)
    hours += e->week[i];
  return hours;
}

static double
or_else (double value, double otherwise)
{
  return isnan (value) ? otherwise : value;
}

static void
add_days (InsightRateStep *step, const InsightPilot *pilot, int index)
{
  guint room = 0;

  for (guint i = 0; i < pilot->n_days; i++)
    room += pilot->days[i].step == index;
  step->day_minutes = g_new0 (double, room + 1);
  step->day_units = g_new0 (guint, room + 1);
  for (guint i = 0; i < pilot->n_days; i++)
    if (pilot->days[i].step == index && pilot->days[i].minutes_n > 0)
      {
        step->day_minutes[step->n_days] = pilot->days[i].minutes;
        step->day_units[step->n_days++] = pilot->days[i].minutes_n;
      }
}

static gboolean
takes_part (const InsightRateStep *step)
{
  if (step->kind == BOOK_STEP_OUTSIDE)
    return !isnan (step->queue_days) && step->queue_days > 0.0;
  return step->bench >= 0 && !isnan (step->cycle_min);
}

static void
fill_step (InsightRateStep *out, const BookEvidence *e, const InsightPilot *pilot, guint s)
{
  const BookEvidenceStep *step = &e->steps[s];
  const InsightPilotStep *counted = &pilot->steps[s];

  out->id = step->id;
  out->position = step->position;
  out->name = g_strdup (step->name);
  out->kind = step->kind;
  out->bench = step->kind == BOOK_STEP_OUTSIDE ? -1 : step->bench;
  out->batch = MAX (step->batch, 1);
  out->setup_min = or_else (step->setup_min, 0.0);
  out->cycle_min = step->cycle_min;
  out->rework_min = or_else (step->rework_min, 0.0);
  out->queue_days = step->queue_days;
  out->price = step->price;
  out->n = counted->n;
  out->reworked = counted->worked_again;
  out->scrapped = counted->scrapped;
  out->yield = out->n > 0 ? 1.0 - (double) out->scrapped / (double) out->n : 1.0;
  out->rework_share = out->n > 0 ? (double) out->reworked / (double) out->n : 0.0;
  add_days (out, pilot, (int) s);
  if (out->n_days >= INSIGHT_RATE_RUN_DAYS)
    { /* what was written down at the bench rather than what was planned */
      double minutes = 0.0, units = 0.0;

      for (guint i = 0; i < out->n_days; i++)
        {
          minutes += out->day_minutes[i];
          units += out->day_units[i];
        }
      out->cycle_min = minutes / units;
    }
  if (out->yield <= 0.0)
    out->yield = 1.0 / (2.0 * out->n + 2.0); /* all were scrapped: no rate is not a number */
  out->counts = takes_part (out);
}

static void
clear_part (gpointer data)
{
  g_free (((InsightRatePart *) data)->number);
}

static void
fill_material (InsightRateInput *input, const BookEvidence *e)
{
  input->parts = g_array_new (FALSE, FALSE, sizeof (InsightRatePart));
  g_array_set_clear_func (input->parts, clear_part);
  for (guint i = 0; i < e->n_parts; i++)
    if (!isnan (e->parts[i].price))
      {
        InsightRatePart part = { e->parts[i].id, g_strdup (e->parts[i].number), e->parts[i].price * e->parts[i].quantity };

        g_array_append_val (input->parts, part);
        input->material += part.cost;
      }
    else if (e->parts[i].source == BOOK_SOURCE_BOUGHT)
      input->unpriced++;
}

/**
 * insight_rate_input:
 * @evidence: the records of a model
 * @pilot: what a round of it counted
 *
 * A step's minutes are those of its record, or from %INSIGHT_RATE_RUN_DAYS run days with minutes on what was written down.
 *
 * Returns: (transfer full): what a rate of the model is made of
 */
InsightRateInput *
insight_rate_input (const BookEvidence *evidence, const InsightPilot *pilot)
{
  InsightRateInput *input = g_new0 (InsightRateInput, 1);

  input->model = evidence->model_id;
  input->label = g_strdup (pilot->label);
  input->n_benches = evidence->n_benches;
  input->benches = g_new0 (InsightRateBench, evidence->n_benches + 1);
  for (guint i = 0; i < evidence->n_benches; i++)
    {
      const BookEvidenceBench *bench = &evidence->benches[i];

      input->benches[i] = (InsightRateBench){ bench->id, g_strdup (bench->name), bench->machines, bench->people,
                                              or_else (bench->hours_week, hours_of_week (evidence)), bench->uptime,
                                              bench->share_free };
    }
  input->n_steps = evidence->n_steps;
  input->steps = g_new0 (InsightRateStep, evidence->n_steps + 1);
  for (guint s = 0; s < evidence->n_steps; s++)
    fill_step (&input->steps[s], evidence, pilot, s);
  fill_material (input, evidence);
  input->hourly_cost = evidence->hourly_cost;
  input->demand = evidence->monthly_demand;
  input->run_days = pilot->n_run_days;
  for (guint i = 0; i < 7; i++)
    input->days_week += evidence->week[i] > 0.0;
  return input;
}

/**
 * insight_rate_input_copy:
 * @input: what a rate is made of
 *
 * Returns: (transfer full): the same, to be set otherwise
 */
InsightRateInput *
insight_rate_input_copy (const InsightRateInput *input)
{
  InsightRateInput *copy = g_memdup2 (input, sizeof *input);

  copy->label = g_strdup (input->label);
  copy->parts = input->parts != NULL ? g_array_ref (input->parts) : NULL;
  copy->benches = g_memdup2 (input->benches, (input->n_benches + 1) * sizeof *input->benches);
  for (guint i = 0; i < input->n_benches; i++)
    copy->benches[i].name = g_strdup (input->benches[i].name);
  copy->steps = g_memdup2 (input->steps, (input->n_steps + 1) * sizeof *input->steps);
  for (guint i = 0; i < input->n_steps; i++)
    {
      const InsightRateStep *step = &input->steps[i];

      copy->steps[i].name = g_strdup (step->name);
      copy->steps[i].day_minutes = g_memdup2 (step->day_minutes, (step->n_days + 1) * sizeof *step->day_minutes);
      copy->steps[i].day_units = g_memdup2 (step->day_units, (step->n_days + 1) * sizeof *step->day_units);
    }
  return copy;
}

void
insight_rate_input_free (InsightRateInput *input)
{
  if (input == NULL)
    return;

  for (guint i = 0; i < input->n_benches; i++)
    g_free (input->benches[i].name);
  for (guint i = 0; i < input->n_steps; i++)
    {
      g_free (input->steps[i].name);
      g_free (input->steps[i].day_minutes);
      g_free (input->steps[i].day_units);
    }
  g_free (input->benches);
  g_free (input->steps);
  g_clear_pointer (&input->parts, g_array_unref);
  g_free (input->label);
  g_free (input);
}

static const struct
{
  const char *name; /* of the record's field; the last two are of what was counted */
  gboolean    of_bench;
  gsize       offset;
  double      least, most;
} fields[INSIGHT_RATE_N_FIELDS] = {
#define BENCH(member, least, most) { #member, TRUE, G_STRUCT_OFFSET (InsightRateBench, member), least, most }
#define STEP(member, least, most)  { #member, FALSE, G_STRUCT_OFFSET (InsightRateStep, member), least, most }
  [INSIGHT_RATE_MACHINES] = BENCH (machines, 1, 1000),
  [INSIGHT_RATE_PEOPLE] = BENCH (people, 0.01, 1000),
  [INSIGHT_RATE_HOURS] = BENCH (hours_week, 0.01, 168),
  [INSIGHT_RATE_UPTIME] = BENCH (uptime, 0.001, 1),
  [INSIGHT_RATE_SHARE_FREE] = BENCH (share_free, 0.001, 1),
  [INSIGHT_RATE_BATCH] = STEP (batch, 1, 1e6),
  [INSIGHT_RATE_SETUP] = STEP (setup_min, 0, 1e6),
  [INSIGHT_RATE_CYCLE] = STEP (cycle_min, 0, 1e6),
  [INSIGHT_RATE_REWORK] = STEP (rework_min, 0, 1e6),
  [INSIGHT_RATE_QUEUE] = STEP (queue_days, 0.01, 1000),
  [INSIGHT_RATE_PRICE] = STEP (price, 0, 1e9),
  [INSIGHT_RATE_YIELD] = STEP (yield, 0.001, 1),
  [INSIGHT_RATE_REWORK_SHARE] = STEP (rework_share, 0, 1),
#undef BENCH
#undef STEP
};

/**
 * insight_rate_field_name:
 * @field: what may be set
 *
 * Returns: its name in files and scripts
 */
const char *
insight_rate_field_name (InsightRateField field)
{
  return fields[field].name;
}

gboolean
insight_rate_field_of_bench (InsightRateField field)
{
  return fields[field].of_bench;
}

static double *
member_of (const InsightRateInput *input, guint index, InsightRateField field)
{
  char *base = fields[field].of_bench ? (char *) &input->benches[index] : (char *) &input->steps[index];

  return (double *) (gpointer) (base + fields[field].offset);
}

/**
 * insight_rate_get:
 * @input: what a rate is made of
 * @index: of a bench or a step, as the field is of
 * @field: which
 *
 * Returns: its value; NAN when not known
 */
double
insight_rate_get (const InsightRateInput *input, guint index, InsightRateField field)
{
  return *member_of (input, index, field);
}

/**
 * insight_rate_set:
 * @input: what a rate is made of
 * @index: of a bench or a step, as the field is of
 * @field: which
 * @value: from now on
 *
 * A cycle, yield or rework share that is set holds for certain: it is drawn no more.
 *
 * Returns: %FALSE when @value lies outside what the field can be; then nothing is set
 */
gboolean
insight_rate_set (InsightRateInput *input, guint index, InsightRateField field, double value)
{
  if (index >= (fields[field].of_bench ? input->n_benches : input->n_steps) || !(value >= fields[field].least)
      || !(value <= fields[field].most))
    return FALSE;
  *member_of (input, index, field) = value;
  if (!fields[field].of_bench)
    {
      InsightRateStep *step = &input->steps[index];

      step->yield_fixed |= field == INSIGHT_RATE_YIELD;
      step->rework_fixed |= field == INSIGHT_RATE_REWORK_SHARE;
      step->cycle_fixed |= field == INSIGHT_RATE_CYCLE;
      step->counts = takes_part (step);
    }
  return TRUE;
}

static void
add_change (GArray *changes, const InsightRateInput *before, const InsightRateInput *after, InsightRateField field, guint index)
{
  double was = insight_rate_get (before, index, field);
  InsightRateChange change = { field, index, insight_rate_get (after, index, field), FALSE };

  if (!(was < change.value || was > change.value) && isnan (was) == isnan (change.value))
    return;
  change.counted = field == INSIGHT_RATE_YIELD || field == INSIGHT_RATE_REWORK_SHARE
                   || (field == INSIGHT_RATE_CYCLE && before->steps[index].n_days >= INSIGHT_RATE_RUN_DAYS);
  g_array_append_val (changes, change);
}

/**
 * insight_rate_changes:
 * @before: as it is
 * @after: the same, with some of it set otherwise
 *
 * Returns: (transfer full) (element-type InsightRateChange): what was set, of benches, then of steps
 */
GArray *
insight_rate_changes (const InsightRateInput *before, const InsightRateInput *after)
{
  GArray *changes = g_array_new (FALSE, FALSE, sizeof (InsightRateChange));

  for (guint i = 0; i < before->n_benches; i++)
    for (guint f = 0; f < INSIGHT_RATE_N_FIELDS; f++)
      if (fields[f].of_bench)
        add_change (changes, before, after, f, i);
  for (guint i = 0; i < before->n_steps; i++)
    for (guint f = 0; f < INSIGHT_RATE_N_FIELDS; f++)
      if (!fields[f].of_bench)
        add_change (changes, before, after, f, i);
  return changes;
}
