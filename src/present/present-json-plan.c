/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "present-plan.h"

#include "book-choices.h"
#include "present-json.h"

static void
add_criterion (JsonBuilder *builder, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  json_builder_begin_object (builder);
  present_json_text (builder, "code", told->code);
  present_json_text (builder, "characteristic", told->about_code);
  present_json_text (builder, "name", told->name);
  present_json_choice (builder, "class", book_classes, told->klass);
  present_json_flag (builder, "fix", told->is_fix);
  present_json_flag (builder, "by_count", told->by_count);
  present_json_flag (builder, "strict", told->strict);
  present_json_number (builder, "share", told->share);
  present_json_number (builder, "tolerated", told->tolerated);
  present_json_number (builder, "wanted", told->wanted);
  present_json_count (builder, "n", told->n);
  present_json_count (builder, "failed", told->failed);
  present_json_number (builder, "mean", told->mean);
  present_json_number (builder, "sd", told->sd);
  present_json_flag (builder, "log_normal", told->logs);
  present_json_number (builder, "confidence_now", told->confidence);
  present_json_count (builder, "counted", proof->counted);
  present_json_count (builder, "taken", proof->taken);
  present_json_number (builder, "confidence", proof->confidence);
  present_json_number (builder, "pooled", proof->pooled);
  present_json_text (builder, "by_lots_of", proof->by_lots_of != NULL ? proof->by_lots_of : "");
  present_json_flag (builder, "can_be_met", proof->proves && !told->not_enough_alone);
  present_json_count (builder, "allowed", proof->allowed);
  present_json_number (builder, "assurance", proof->assurance);
  present_json_number (builder, "bad_passes", proof->bad_passes);
  present_json_number (builder, "distance", proof->distance);
  present_json_count (builder, "lots", proof->lots);
  present_json_text (builder, "lots_of", proof->lots_of != NULL ? proof->lots_of : "");
  present_json_flag (builder, "lots_assumed", proof->lots_assumed);
  present_json_flag (builder, "lots_short", proof->lots_short);
  present_json_count (builder, "needed", told->needed);
  present_json_count (builder, "needed_clean", told->needed_clean);
  json_builder_end_object (builder);
}

/**
 * present_json_plan:
 * @plan: a plan
 * @answer: what a number of units can prove
 * @present: the same in words
 *
 * Returns: (transfer full): unrounded figures, and the sentences
 */
JsonNode *
present_json_plan (const InsightPlan *plan, const InsightPlanAnswer *answer, const PresentPlan *present)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_count (builder, "units", answer->units);
  present_json_number (builder, "all_pass", answer->all_pass);
  present_json_flag (builder, "at_most", answer->at_most);
  present_json_count (builder, "known", answer->n_known);
  present_json_count (builder, "can_be_met", answer->n_proves);
  present_json_count (builder, "others", insight_plan_n_others (plan));
  present_json_names (builder, "used_up_twice", insight_plan_get_twice (plan));
  present_json_text (builder, "headline", present->headline);
  present_json_list (builder, "criteria");
  for (guint i = 0; i < answer->n; i++)
    add_criterion (builder, insight_plan_get_criterion (plan, i), &answer->proofs[i]);
  json_builder_end_array (builder);
  present_json_list (builder, "notes");
  for (guint i = 0; i < present->notes->len; i++)
    json_builder_add_string_value (builder, present->notes->pdata[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
