/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The standing as one JSON document: each sentence with the code and arguments it is made from. */

#include "config.h"

#include "present-json-private.h"

#include "present-reason.h"

#include <math.h>

static void
add_counts (JsonBuilder *builder, const char *member, const gint64 *counts, guint n)
{
  present_json_list (builder, member);
  for (guint i = 0; i < n; i++)
    json_builder_add_int_value (builder, counts[i]);
  json_builder_end_array (builder);
}

static void
add_numbers (JsonBuilder *builder, const char *member, const double *numbers, guint n)
{
  present_json_list (builder, member);
  for (guint i = 0; i < n; i++)
    if (isfinite (numbers[i]))
      json_builder_add_double_value (builder, numbers[i]);
    else
      json_builder_add_null_value (builder);
  json_builder_end_array (builder);
}

static void
add_reasons (JsonBuilder *builder, const PresentCriterion *criterion)
{
  const GPtrArray *reasons = criterion->data->reasons;

  present_json_list (builder, "reasons");
  for (guint i = 0; i < reasons->len; i++)
    {
      const InsightReason *reason = reasons->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "code", insight_reason_code_name (reason->code));
      present_json_text (builder, "sentence", criterion->remarks->pdata[i]);
      present_json_names (builder, "names", reason->names);
      add_counts (builder, "counts", reason->counts, reason->n_counts);
      add_numbers (builder, "numbers", reason->numbers, reason->n_numbers);
      present_json_keys (builder, "ids", reason->ids, reason->n_ids);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* One criterion, all of it. */
void
present_json_criterion (JsonBuilder *builder, const PresentCriterion *criterion)
{
  const InsightCriterion *c = criterion->data;

  json_builder_begin_object (builder);
  present_json_text (builder, "code", c->code);
  present_json_text (builder, "gate", c->gate);
  present_json_choice (builder, "kind", book_criterion_kinds, c->kind);
  present_json_choice (builder, "class", book_classes, c->klass);
  present_json_text (builder, "characteristic", c->about_code);
  present_json_text (builder, "about", c->about_name);
  present_json_text (builder, "unit", c->unit);
  present_json_flag (builder, "blocking", c->blocking);
  present_json_flag (builder, "blocks", c->blocks);
  present_json_flag (builder, "strict", c->strict);
  present_json_text (builder, "state", insight_state_name (c->state));
  present_json_text (builder, "state_words", criterion->state);
  present_json_flag (builder, "so_far", c->so_far);
  present_json_text (builder, "sentence", criterion->sentence);
  present_json_text (builder, "asks", criterion->asks);
  present_json_number (builder, "confidence", c->confidence);
  present_json_number (builder, "contrary", c->contrary);
  present_json_number (builder, "wanted", c->wanted);
  present_json_number (builder, "wanted_base", c->wanted_base);
  present_json_number (builder, "share", c->share);
  present_json_text (builder, "method", insight_method_name (c->method));
  present_json_text (builder, "method_words", criterion->method);
  present_json_number (builder, "lower", c->lower);
  present_json_number (builder, "upper", c->upper);
  present_json_number (builder, "nominal", c->nominal);
  present_json_count (builder, "n", c->n);
  present_json_count (builder, "failed", c->failed);
  present_json_count (builder, "done", c->done);
  present_json_number (builder, "mean", c->mean);
  present_json_number (builder, "sd", c->sd);
  present_json_number (builder, "min", c->min);
  present_json_number (builder, "max", c->max);
  present_json_number (builder, "share_estimate", c->share_estimate);
  present_json_number (builder, "share_low", c->share_low);
  present_json_number (builder, "failing_year", c->failing_year);
  present_json_number (builder, "target", c->target);
  present_json_number (builder, "estimate", c->estimate);
  present_json_number (builder, "estimate_low", c->estimate_low);
  present_json_number (builder, "estimate_high", c->estimate_high);
  present_json_names (builder, "rounds", c->rounds);
  present_json_count (builder, "lots", c->lots);
  present_json_count (builder, "looks", c->looks);
  present_json_count (builder, "attempts", c->attempts);
  present_json_count (builder, "earlier_units", c->earlier_units);
  present_json_count (builder, "earlier_failures", c->earlier_failures);
  present_json_count (builder, "voided", c->voided);
  present_json_count (builder, "units_needed", c->units_needed);
  present_json_number (builder, "score", c->score);
  present_json_keys (builder, "counted_ids", c->counted.ids, c->counted.n);
  present_json_keys (builder, "failing_ids", c->failing.ids, c->failing.n);
  present_json_keys (builder, "no_longer_ids", c->no_longer.ids, c->no_longer.n);
  add_reasons (builder, criterion);
  json_builder_end_object (builder);
}

static void
add_gaps (JsonBuilder *builder, const InsightStanding *standing)
{
  present_json_list (builder, "not_looked_at");
  for (guint i = 0; i < standing->gaps->len; i++)
    {
      const InsightGap *gap = standing->gaps->pdata[i];
      g_autofree char *sentence = present_gap (gap);

      json_builder_begin_object (builder);
      present_json_text (builder, "code", insight_gap_code_name (gap->code));
      present_json_text (builder, "sentence", sentence);
      present_json_names (builder, "names", gap->names);
      present_json_key (builder, "id", gap->id);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_steps (JsonBuilder *builder, const InsightStanding *standing)
{
  present_json_list (builder, "next_steps");
  for (guint i = 0; i < standing->steps->len; i++)
    {
      const InsightStep *step = standing->steps->pdata[i];
      g_autofree char *sentence = present_step (step, standing);

      json_builder_begin_object (builder);
      present_json_text (builder, "code", insight_step_code_name (step->code));
      present_json_text (builder, "criterion", insight_standing_get_criterion (standing, step->criterion)->code);
      present_json_text (builder, "sentence", sentence);
      present_json_names (builder, "names", step->names);
      add_counts (builder, "counts", step->counts, step->n_counts);
      add_numbers (builder, "numbers", step->numbers, step->n_numbers);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* An object with the score as a whole and by class; classes without a criterion are left out. */
static void
add_score (JsonBuilder *builder, const InsightScore *all, const InsightScore *classes)
{
  json_builder_begin_object (builder);
  present_json_count (builder, "total", all->total);
  present_json_count (builder, "met", all->met);
  present_json_number (builder, "score", all->percent < 0 ? NAN : all->score);
  present_json_number (builder, "percent", all->percent < 0 ? NAN : all->percent);
  json_builder_set_member_name (builder, "classes");
  json_builder_begin_object (builder);
  for (guint i = 0; i < INSIGHT_N_CLASSES; i++)
    if (classes[i].percent >= 0)
      {
        json_builder_set_member_name (builder, book_choice_by_code (book_classes, (gint) i + BOOK_CLASS_SAFETY)->text);
        json_builder_begin_object (builder);
        present_json_count (builder, "total", classes[i].total);
        present_json_count (builder, "met", classes[i].met);
        present_json_number (builder, "score", classes[i].score);
        present_json_count (builder, "percent", classes[i].percent);
        json_builder_end_object (builder);
      }
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}

static void
add_course (JsonBuilder *builder, const InsightStanding *standing)
{
  present_json_list (builder, "course");
  for (guint i = 0; i < standing->course->len; i++)
    {
      const InsightCoursePoint *point = standing->course->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "round", point->label);
      present_json_choice (builder, "kind", book_round_kinds, point->kind);
      json_builder_set_member_name (builder, "score");
      add_score (builder, &point->all, point->classes);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_round (JsonBuilder *builder, const InsightStanding *standing)
{
  json_builder_set_member_name (builder, "round");
  if (standing->round == 0)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  present_json_text (builder, "label", standing->round_label);
  present_json_choice (builder, "kind", book_round_kinds, standing->round_kind);
  present_json_flag (builder, "open", standing->round_open);
  json_builder_end_object (builder);
}

/**
 * present_json_standing:
 * @present: a standing in words
 *
 * Returns: (transfer full): one document with everything that the text shows, unrounded
 */
JsonNode *
present_json_standing (const PresentStanding *present)
{
  const InsightStanding *standing = present->data;
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", standing->model_code);
  present_json_text (builder, "name", standing->model_name);
  add_round (builder, standing);
  present_json_text (builder, "end", standing->end);
  present_json_text (builder, "today", standing->today);
  present_json_text (builder, "headline", present->headline);
  present_json_text (builder, "span", present->span);
  present_json_text (builder, "score_words", present->score);
  present_json_count (builder, "total", standing->n_total);
  present_json_count (builder, "met", standing->n_met);
  present_json_count (builder, "block", standing->n_block);
  present_json_flag (builder, "no_safety", standing->no_safety);
  json_builder_set_member_name (builder, "score");
  add_score (builder, &standing->score, standing->classes);

  present_json_list (builder, "criteria");
  for (guint i = 0; i < present->criteria->len; i++)
    present_json_criterion (builder, present->criteria->pdata[i]);
  json_builder_end_array (builder);

  add_gaps (builder, standing);
  add_steps (builder, standing);
  add_course (builder, standing);
  present_json_text (builder, "caution", present->caution);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
