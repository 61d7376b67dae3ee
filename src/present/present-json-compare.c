/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A comparison as one JSON document: unrounded figures, codes with their arguments beside each sentence. */

#include "config.h"

#include "present-compare.h"
#include "present-json.h"

#include <math.h>

static void
add_texts (JsonBuilder *builder, const char *member, const GPtrArray *texts)
{
  present_json_list (builder, member);
  for (guint i = 0; i < texts->len; i++)
    json_builder_add_string_value (builder, texts->pdata[i]);
  json_builder_end_array (builder);
}

static void
add_states (JsonBuilder *builder, const char *member, const InsightDifference *difference, const InsightCompareState *states,
            guint n)
{
  present_json_list (builder, member);
  for (guint i = 0; i < n; i++)
    {
      json_builder_begin_object (builder);
      if (difference->kind == INSIGHT_DIFFERS_SETTING)
        present_json_number (builder, "value", states[i].value);
      else
        {
          present_json_text (builder, "label", states[i].label);
          present_json_key (builder, "id", states[i].id);
        }
      present_json_count (builder, "units", states[i].units);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_side (JsonBuilder *builder, const char *member, const InsightDifference *difference, const InsightCompareSide *side,
          const char *words)
{
  json_builder_set_member_name (builder, member);
  json_builder_begin_object (builder);
  present_json_text (builder, "words", words);
  if (difference->kind == INSIGHT_DIFFERS_LIMIT)
    {
      present_json_number (builder, "lower", side->lower);
      present_json_number (builder, "upper", side->upper);
      present_json_number (builder, "nominal", side->nominal);
    }
  else
    add_states (builder, "built", difference, side->built, side->n_built);
  if (difference->kind == INSIGHT_DIFFERS_REVISION)
    add_states (builder, "planned", difference, side->planned, side->n_planned);
  json_builder_end_object (builder);
}

static void
add_difference (JsonBuilder *builder, const PresentDifference *present)
{
  static const char *const explained[] = { "yes", "partly", "no" };
  const InsightDifference *difference = present->data;

  json_builder_begin_object (builder);
  present_json_text (builder, "kind", insight_difference_name (difference->kind));
  present_json_text (builder, "code", difference->code);
  present_json_text (builder, "name", difference->name);
  present_json_text (builder, "setting", difference->setting);
  present_json_text (builder, "unit", difference->unit);
  add_side (builder, "before", difference, &difference->before, present->before);
  add_side (builder, "after", difference, &difference->after, present->after);
  present_json_list (builder, "changes");
  for (guint i = 0; i < present->changes->len; i++)
    json_builder_add_int_value (builder, ((PresentCompareChange *) present->changes->pdata[i])->data->no);
  json_builder_end_array (builder);
  present_json_text (builder, "explained", explained[difference->explained]);
  present_json_flag (builder, "widened", difference->widened);
  present_json_count (builder, "off_plan", difference->off_plan);
  present_json_flag (builder, "divides", difference->divides);
  add_texts (builder, "remarks", present->remarks);
  json_builder_end_object (builder);
}

static void
add_changes (JsonBuilder *builder, const char *member, const GPtrArray *changes)
{
  present_json_list (builder, member);
  for (guint i = 0; i < changes->len; i++)
    {
      const PresentCompareChange *present = changes->pdata[i];
      const InsightCompareChange *change = present->data;

      json_builder_begin_object (builder);
      present_json_count (builder, "no", change->no);
      present_json_text (builder, "title", change->title);
      present_json_text (builder, "reason", change->reason);
      present_json_text (builder, "expected_effect", change->expected);
      present_json_text (builder, "proposed_by", change->proposed_by);
      present_json_text (builder, "proposed_on", change->proposed);
      present_json_text (builder, "agreed_by", change->agreed_by);
      present_json_text (builder, "agreed_on", change->agreed);
      present_json_text (builder, "withdrawn", change->withdrawn);
      present_json_text (builder, "withdrawn_reason", change->withdrawn_reason);
      present_json_text (builder, "from_round", change->from_round);
      present_json_text (builder, "from_serial", change->from_serial);
      present_json_text (builder, "used_before_agreed", change->built);
      present_json_list (builder, "issues");
      for (guint k = 0; k < change->n_issues; k++)
        {
          json_builder_begin_object (builder);
          present_json_count (builder, "no", change->issues[k].no);
          present_json_text (builder, "title", change->issues[k].title);
          present_json_choice (builder, "outcome", book_issue_outcomes, change->issues[k].outcome);
          json_builder_end_object (builder);
        }
      json_builder_end_array (builder);
      add_texts (builder, "remarks", present->remarks);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_group (JsonBuilder *builder, const char *member, const InsightEffectGroup *group)
{
  json_builder_set_member_name (builder, member);
  json_builder_begin_object (builder);
  present_json_text (builder, "label", group->label);
  present_json_count (builder, "n", group->n);
  present_json_count (builder, "failed", group->failed);
  present_json_number (builder, "mean", group->mean);
  present_json_number (builder, "sd", group->sd);
  present_json_list (builder, "units");
  for (guint i = 0; i < group->n; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "serial", group->units[i].serial);
      present_json_number (builder, "value", group->units[i].value);
      present_json_choice (builder, "mark", book_marks, group->units[i].mark);
      present_json_text (builder, "date", group->units[i].date);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_remarks (JsonBuilder *builder, const PresentEffect *present)
{
  present_json_list (builder, "remarks");
  for (guint i = 0; i < present->remarks->len; i++)
    {
      const InsightRemark *remark = present->data->remarks->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "code", insight_remark_code_name (remark->code));
      present_json_text (builder, "sentence", present->remarks->pdata[i]);
      present_json_names (builder, "names", remark->names);
      present_json_list (builder, "counts");
      for (guint k = 0; k < remark->n_counts; k++)
        json_builder_add_int_value (builder, remark->counts[k]);
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_effect (JsonBuilder *builder, const PresentEffect *present)
{
  const InsightEffect *effect = present->data;

  json_builder_begin_object (builder);
  present_json_text (builder, "characteristic", effect->code);
  present_json_text (builder, "name", effect->name);
  present_json_text (builder, "unit", effect->unit);
  present_json_choice (builder, "kind", book_characteristic_kinds, (gint) effect->kind);
  present_json_choice (builder, "class", book_classes, (gint) effect->klass);
  present_json_text (builder, "way", insight_effect_way_name (effect->way));
  present_json_text (builder, "round", effect->round_label);
  present_json_text (builder, "part", effect->part_name);
  add_group (builder, "before", &effect->before);
  add_group (builder, "after", &effect->after);
  present_json_text (builder, "method", insight_effect_method_name (effect->method));
  present_json_text (builder, "method_words", present->method);
  present_json_number (builder, "difference", effect->difference);
  present_json_number (builder, "low", effect->low);
  present_json_number (builder, "high", effect->high);
  present_json_number (builder, "confidence", isnan (effect->low) ? effect->low : INSIGHT_COMPARE_CONFIDENCE);
  present_json_number (builder, "p", effect->p);
  present_json_number (builder, "p_holm", effect->p_holm);
  present_json_flag (builder, "told_apart", effect->told_apart);
  present_json_flag (builder, "put_down_to_the_change", effect->told_apart && effect->to_change);
  present_json_list (builder, "differs_as_well");
  for (guint i = 0; i < effect->n_touches; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "kind", insight_difference_name (effect->touches[i].kind));
      present_json_text (builder, "name", effect->touches[i].name);
      present_json_text (builder, "setting", effect->touches[i].setting);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  present_json_text (builder, "sentence", present->sentence);
  add_remarks (builder, present);
  json_builder_end_object (builder);
}

static void
add_splits (JsonBuilder *builder, const InsightComparison *comparison)
{
  present_json_list (builder, "splits");
  for (guint i = 0; i < comparison->splits->len; i++)
    {
      const InsightSplitPart *split = comparison->splits->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "round", split->round_label);
      present_json_text (builder, "part", split->part_number);
      present_json_names (builder, "revisions", split->labels);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_json_comparison:
 * @present: a comparison in words
 *
 * Returns: (transfer full): one document with everything that the text shows, unrounded
 */
JsonNode *
present_json_comparison (const PresentComparison *present)
{
  const InsightComparison *comparison = present->data;
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", comparison->model_code);
  present_json_text (builder, "name", comparison->model_name);
  present_json_text (builder, "from", comparison->from_label);
  present_json_text (builder, "to", comparison->to_label);
  present_json_flag (builder, "within", comparison->within);
  present_json_text (builder, "divided_by", comparison->divided_by);
  present_json_text (builder, "before", comparison->before_label);
  present_json_text (builder, "after", comparison->after_label);
  present_json_text (builder, "end", comparison->end);
  present_json_text (builder, "title", present->title);
  present_json_text (builder, "headline", present->headline);
  present_json_list (builder, "differences");
  for (guint i = 0; i < present->differences->len; i++)
    add_difference (builder, present->differences->pdata[i]);
  json_builder_end_array (builder);
  add_changes (builder, "changes", present->changes);
  add_changes (builder, "unseen", present->unseen);
  present_json_list (builder, "effects");
  for (guint i = 0; i < present->effects->len; i++)
    add_effect (builder, present->effects->pdata[i]);
  json_builder_end_array (builder);
  present_json_count (builder, "adjusted_together", comparison->n_adjusted);
  present_json_names (builder, "untouched", comparison->untouched);
  present_json_names (builder, "unmeasured", comparison->unmeasured);
  add_splits (builder, comparison);
  add_texts (builder, "notes", present->notes);
  present_json_text (builder, "caution", present->caution);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
