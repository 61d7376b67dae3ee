/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-life.h"

#include "present-json-private.h"
#include "present-json.h"

#include <math.h>

static const char *const growth_names[] = { "too few", "not the law", "none", "up", "down" };
static const char *const counting_names[INSIGHT_N_COUNTINGS]
    = { "counts", "voided", "later attempt", "other step", "other state", "later state", "kind of round", "excused", "altered",
        "gauge", "older limit", "after the span" };

static void
add_tests (JsonBuilder *builder, const InsightLife *life)
{
  present_json_list (builder, "tests");
  for (guint i = 0; i < life->n_tests; i++)
    {
      const InsightLifeTest *test = &life->tests[i];

      json_builder_begin_object (builder);
      present_json_key (builder, "id", test->id);
      present_json_count (builder, "no", test->no);
      present_json_text (builder, "date", test->date);
      present_json_text (builder, "round", test->round);
      present_json_text (builder, "unit", test->serial);
      present_json_number (builder, "load", test->load);
      present_json_number (builder, "cycles", test->cycles);
      present_json_flag (builder, "failed", test->failed);
      present_json_text (builder, "issue", test->mode);
      present_json_text (builder, "counting", counting_names[test->counting]);
      present_json_flag (builder, "again", test->again);
      present_json_flag (builder, "short_load", test->short_load);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_points (JsonBuilder *builder, const InsightLifeMode *mode)
{
  present_json_list (builder, "points");
  for (guint i = 0; i < mode->n_points; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "unit", mode->points[i].serial);
      present_json_number (builder, "cycles", mode->points[i].cycles);
      present_json_number (builder, "failed_share", mode->points[i].share);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  present_json_list (builder, "line");
  for (guint i = 0; i < mode->n_line; i++)
    {
      json_builder_begin_object (builder);
      present_json_number (builder, "cycles", mode->line[i].cycles);
      present_json_number (builder, "failed_share", mode->line[i].share);
      present_json_number (builder, "low", mode->line[i].low);
      present_json_number (builder, "high", mode->line[i].high);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_modes (JsonBuilder *builder, const InsightLife *life)
{
  const NumWeibull none = { .shape = NAN, .scale = NAN, .shape_interval = { NAN, NAN }, .scale_interval = { NAN, NAN }, .b10 = NAN, .b10_low = NAN };

  present_json_list (builder, "modes");
  for (guint i = 0; i < life->n_modes; i++)
    {
      const InsightLifeMode *mode = &life->modes[i];
      const NumWeibull *fit = mode->fitted ? &mode->fit : &none;

      json_builder_begin_object (builder);
      present_json_count (builder, "no", mode->issue_no);
      present_json_text (builder, "issue", mode->title);
      present_json_count (builder, "failures", mode->failures);
      present_json_flag (builder, "fitted", mode->fitted);
      present_json_number (builder, "shape", fit->shape);
      present_json_number (builder, "shape_low", fit->shape_interval.low);
      present_json_number (builder, "shape_high", fit->shape_interval.high);
      present_json_number (builder, "scale", fit->scale);
      present_json_number (builder, "scale_low", fit->scale_interval.low);
      present_json_number (builder, "scale_high", fit->scale_interval.high);
      present_json_number (builder, "b10", fit->b10);
      present_json_number (builder, "b10_low", fit->b10_low);
      present_json_number (builder, "survival", mode->survival);
      present_json_number (builder, "survival_low", mode->survival_low);
      add_points (builder, mode);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_plan (JsonBuilder *builder, const char *name, GArray *rows)
{
  present_json_list (builder, name);
  for (guint i = 0; i < rows->len; i++)
    {
      const InsightLifePlan *row = &g_array_index (rows, InsightLifePlan, i);

      json_builder_begin_object (builder);
      present_json_count (builder, "units", row->units);
      present_json_number (builder, "cycles", row->cycles);
      present_json_count (builder, "failures", row->failures);
      present_json_number (builder, "assurance", row->assurance);
      present_json_number (builder, "bad_passes", row->bad_passes);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_rounds (JsonBuilder *builder, const InsightLifeGrowth *growth)
{
  present_json_list (builder, "rounds");
  for (guint i = 0; i < growth->n_rounds; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "round", growth->rounds[i].label);
      present_json_count (builder, "tests", growth->rounds[i].tests);
      present_json_count (builder, "failures", growth->rounds[i].failures);
      present_json_number (builder, "cycles", growth->rounds[i].cycles);
      present_json_number (builder, "end", growth->rounds[i].end);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_growth (JsonBuilder *builder, const InsightLife *life)
{
  const InsightLifeGrowth *growth = &life->growth;

  json_builder_set_member_name (builder, "growth");
  json_builder_begin_object (builder);
  present_json_text (builder, "state", growth_names[growth->state]);
  present_json_count (builder, "failures", growth->n);
  present_json_number (builder, "cycles", growth->end);
  present_json_text (builder, "truncation", growth->by_failure ? "failure" : "time");
  present_json_number (builder, "beta", growth->fit.beta);
  present_json_number (builder, "beta_unbiased", growth->fit.beta_unbiased);
  present_json_number (builder, "beta_low", growth->beta_interval.low);
  present_json_number (builder, "beta_high", growth->beta_interval.high);
  present_json_number (builder, "lambda", growth->fit.lambda);
  present_json_number (builder, "mtbf", growth->fit.mtbf);
  present_json_number (builder, "mtbf_low", growth->fit.mtbf_interval.low);
  present_json_number (builder, "mtbf_high", growth->fit.mtbf_interval.high);
  present_json_number (builder, "cvm", growth->fit.cvm);
  present_json_number (builder, "cvm_limit", growth->cvm_limit);
  present_json_flag (builder, "mixed_loads", growth->mixed_loads);
  add_rounds (builder, growth);
  json_builder_end_object (builder);
}

/**
 * present_json_life:
 * @present: in words
 *
 * Returns: (transfer full): all of it, unrounded
 */
JsonNode *
present_json_life (const PresentLife *present)
{
  const InsightLife *life = present->data;
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", life->model_code);
  present_json_text (builder, "today", life->today);
  present_json_text (builder, "characteristic", life->code);
  present_json_text (builder, "sentence", present->headline);
  present_json_text (builder, "plan_sentence", present->plan);
  present_json_text (builder, "growth_sentence", present->growth);
  present_json_number (builder, "wanted_cycles", life->wanted_cycles);
  present_json_number (builder, "wanted_load", life->wanted_load);
  present_json_number (builder, "share", life->share);
  present_json_number (builder, "shape_low", life->shape.low);
  present_json_number (builder, "shape_high", life->shape.high);
  present_json_count (builder, "n", life->n);
  present_json_count (builder, "failed", life->failed);
  present_json_number (builder, "survival", life->survival);
  if (present->standing != NULL)
    {
      json_builder_set_member_name (builder, "criterion");
      present_json_criterion (builder, present->standing->criteria->pdata[0]);
    }
  add_tests (builder, life);
  add_modes (builder, life);
  present_json_flag (builder, "plan_fresh", life->plan_fresh);
  present_json_number (builder, "plan_wanted", life->plan_wanted);
  add_plan (builder, "plan_units", life->plan_units);
  add_plan (builder, "plan_cycles", life->plan_cycles);
  add_growth (builder, life);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
