/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The issues as one JSON document: each sentence with the codes and figures it is made from. */

#include "config.h"

#include "present-issue.h"

#include "present-json.h"

static void
add_missing (JsonBuilder *builder, const InsightIssue *issue, const PresentIssueDetail *detail)
{
  present_json_list (builder, "reasons");
  for (guint i = 0; i < issue->reasons->len; i++)
    {
      const InsightReason *reason = issue->reasons->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "code", insight_reason_code_name (reason->code));
      present_json_text (builder, "sentence", detail->missing->pdata[i]);
      present_json_names (builder, "names", reason->names);
      present_json_list (builder, "counts");
      for (guint k = 0; k < reason->n_counts; k++)
        json_builder_add_int_value (builder, reason->counts[k]);
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_findings (JsonBuilder *builder, const InsightIssue *issue, const PresentIssueDetail *detail)
{
  present_json_list (builder, "findings");
  for (guint i = 0; i < issue->findings->len; i++)
    {
      const InsightIssueFinding *finding = issue->findings->pdata[i];

      json_builder_begin_object (builder);
      present_json_count (builder, "no", finding->no);
      present_json_text (builder, "unit", finding->unit);
      present_json_text (builder, "round", finding->round);
      present_json_text (builder, "lot", finding->lot);
      present_json_count (builder, "affected", finding->affected);
      present_json_count (builder, "inspected", finding->inspected);
      present_json_choice (builder, "disposition", book_dispositions, finding->disposition);
      present_json_flag (builder, "excused", finding->excused);
      present_json_text (builder, "line", detail->findings->pdata[i]);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_days (JsonBuilder *builder, const InsightIssue *issue)
{
  static const char *const names[] = { "contained", "cause_known", "proven" };

  json_builder_set_member_name (builder, "days");
  json_builder_begin_object (builder);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    {
      json_builder_set_member_name (builder, names[i]);
      json_builder_begin_object (builder);
      present_json_text (builder, "date", issue->dates[i]);
      present_json_number (builder, "days", issue->days[i]);
      json_builder_end_object (builder);
    }
  json_builder_end_object (builder);
}

static void
add_issue (JsonBuilder *builder, const PresentIssueRow *row)
{
  const InsightIssue *issue = row->data;
  g_autoptr(PresentIssueDetail) detail = present_issue_detail_new (issue);

  json_builder_begin_object (builder);
  present_json_count (builder, "no", issue->no);
  present_json_key (builder, "id", issue->id);
  present_json_text (builder, "title", issue->title);
  present_json_choice (builder, "class", book_classes, issue->klass);
  present_json_text (builder, "state", insight_issue_state_name (issue->state));
  present_json_text (builder, "state_words", row->state);
  present_json_text (builder, "sentence", detail->sentence);
  present_json_choice (builder, "outcome", book_issue_outcomes, issue->outcome);
  present_json_flag (builder, "closed_otherwise", insight_issue_is_closed (issue));
  present_json_flag (builder, "recurring", issue->recurring);
  present_json_flag (builder, "was_proven", issue->was_proven);
  present_json_flag (builder, "reproduced", issue->reproduced);
  present_json_text (builder, "found_round", issue->found_round);
  present_json_text (builder, "found", issue->found);
  present_json_text (builder, "seen_by", issue->seen_by);
  present_json_flag (builder, "in_life_test", issue->in_life_test);
  present_json_count (builder, "change", issue->change_no);
  present_json_number (builder, "tolerated", issue->tolerated);
  present_json_number (builder, "confidence", issue->confidence);
  present_json_number (builder, "wanted", issue->wanted);
  present_json_number (builder, "wanted_base", issue->wanted_base);
  present_json_flag (builder, "strict", issue->strict);
  present_json_number (builder, "fisher", issue->fisher);
  present_json_count (builder, "before_n", issue->before_n);
  present_json_count (builder, "before_failed", issue->before_failed);
  present_json_count (builder, "after_n", issue->after_n);
  present_json_count (builder, "after_failed", issue->after_failed);
  present_json_count (builder, "looks", issue->looks);
  present_json_count (builder, "attempts", issue->attempts);
  present_json_count (builder, "units_needed", issue->units_needed);
  present_json_number (builder, "needed_load", issue->needed_load);
  present_json_number (builder, "needed_cycles", issue->needed_cycles);
  present_json_number (builder, "age", issue->age);
  add_days (builder, issue);
  present_json_keys (builder, "before_ids", issue->before.ids, issue->before.n);
  present_json_keys (builder, "after_ids", issue->after.ids, issue->after.n);
  present_json_keys (builder, "after_failing_ids", issue->after_failing.ids, issue->after_failing.n);
  add_missing (builder, issue, detail);
  add_findings (builder, issue, detail);
  json_builder_end_object (builder);
}

/**
 * present_json_issues:
 * @present: issues in words
 * @only: (nullable): one of them, %NULL for all
 *
 * Returns: (transfer full): one document with everything that list and details show, unrounded
 */
JsonNode *
present_json_issues (const PresentIssues *present, const InsightIssue *only)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", present->data->model_code);
  present_json_text (builder, "round", present->data->round_label);
  present_json_text (builder, "end", present->data->end);
  present_json_text (builder, "headline", present->headline);
  present_json_list (builder, "days");
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    json_builder_add_string_value (builder, present->days[i]);
  json_builder_end_array (builder);
  present_json_list (builder, "issues");
  for (guint i = 0; i < present->rows->len; i++)
    if (only == NULL || ((const PresentIssueRow *) present->rows->pdata[i])->data == only)
      add_issue (builder, present->rows->pdata[i]);
  json_builder_end_array (builder);
  present_json_text (builder, "caution", present->caution);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
