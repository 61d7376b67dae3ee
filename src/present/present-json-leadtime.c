/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-leadtime.h"

#include "present-json.h"

static const char *const phase_names[INSIGHT_N_PHASES] = { "design", "wait", "make", "test", "decide" };

static void
add_rounds (JsonBuilder *builder, const InsightRoundDays *rounds, guint n)
{
  present_json_list (builder, "rounds");
  for (guint r = 0; r < n; r++)
    {
      json_builder_begin_object (builder);
      present_json_key (builder, "id", rounds[r].id);
      present_json_text (builder, "label", rounds[r].label);
      present_json_choice (builder, "kind", book_round_kinds, (int) rounds[r].kind);
      for (guint p = 0; p < INSIGHT_N_PHASES; p++)
        present_json_number (builder, phase_names[p], rounds[r].days[p]);
      present_json_number (builder, "days", rounds[r].total);
      present_json_flag (builder, "open", rounds[r].open);
      present_json_text (builder, "phase", rounds[r].open ? phase_names[rounds[r].phase] : "");
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_spread (JsonBuilder *builder, const InsightSpread *spread)
{
  present_json_count (builder, "n", spread->n);
  present_json_count (builder, "ended", spread->ended);
  present_json_number (builder, "median", spread->median);
  present_json_number (builder, "median_low", spread->interval.low);
  present_json_number (builder, "median_high", spread->interval.high);
  present_json_number (builder, "least", spread->least);
  present_json_number (builder, "most", spread->most);
  present_json_number (builder, "sum", spread->sum);
}

static void
add_named_spread (JsonBuilder *builder, const char *name, const InsightSpread *spread)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
  add_spread (builder, spread);
  json_builder_end_object (builder);
}

static void
add_groups (JsonBuilder *builder, const char *name, GArray *groups)
{
  present_json_list (builder, name);
  for (guint i = 0; i < groups->len; i++)
    {
      const InsightWaitGroup *group = &g_array_index (groups, InsightWaitGroup, i);

      json_builder_begin_object (builder);
      if (group->supplier != 0)
        present_json_text (builder, "supplier", group->name);
      else
        present_json_choice (builder, "reason", book_wait_reasons, (int) group->reason);
      present_json_count (builder, "open", group->open);
      add_spread (builder, &group->spread);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_waits (JsonBuilder *builder, const InsightLeadtime *leadtime)
{
  present_json_list (builder, "waits");
  for (guint i = 0; i < leadtime->n_waits; i++)
    {
      const InsightWait *wait = &leadtime->waits[i];

      json_builder_begin_object (builder);
      present_json_key (builder, "id", wait->id);
      present_json_text (builder, "round", leadtime->rounds[wait->round].label);
      present_json_choice (builder, "reason", book_wait_reasons, (int) wait->reason);
      present_json_text (builder, "what", wait->what);
      present_json_text (builder, "supplier", wait->supplier);
      present_json_text (builder, "from", wait->from);
      present_json_text (builder, "to", wait->to);
      present_json_number (builder, "days", wait->days);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_open (JsonBuilder *builder, const InsightLeadtime *leadtime)
{
  static const char *const kinds[] = { "round", "wait", "issue" };

  present_json_list (builder, "open");
  for (guint i = 0; i < leadtime->n_open; i++)
    {
      const InsightOpen *open = &leadtime->open[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "kind", kinds[open->kind]);
      present_json_key (builder, "id", open->id);
      present_json_text (builder, "name", open->name);
      present_json_text (builder, "phase", open->kind == INSIGHT_OPEN_ROUND ? phase_names[open->phase] : "");
      present_json_text (builder, "since", open->since);
      present_json_number (builder, "days", open->days);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_json_leadtime:
 * @present: in words
 *
 * Returns: (transfer full): all of it, unrounded
 */
JsonNode *
present_json_leadtime (const PresentLeadtime *present)
{
  static const char *const stages[INSIGHT_N_STAGES] = { "contained", "cause_known", "closed" };
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const InsightLeadtime *leadtime = present->data;

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", leadtime->model_code);
  present_json_text (builder, "today", leadtime->today);
  present_json_text (builder, "sentence", present->headline);
  present_json_text (builder, "next_sentence", present->next);
  present_json_number (builder, "days", leadtime->total);
  present_json_text (builder, "largest", phase_names[leadtime->largest]);
  present_json_number (builder, "largest_share", leadtime->largest_share);
  present_json_count (builder, "decided", leadtime->decided);
  present_json_number (builder, "next", leadtime->next);
  present_json_number (builder, "next_low", leadtime->next_range.low);
  present_json_number (builder, "next_high", leadtime->next_range.high);
  add_rounds (builder, leadtime->rounds, leadtime->n_rounds);
  add_named_spread (builder, "round", &leadtime->rounds_spread);
  json_builder_set_member_name (builder, "phases");
  json_builder_begin_object (builder);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    add_named_spread (builder, phase_names[p], &leadtime->phases[p]);
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "issues");
  json_builder_begin_object (builder);
  for (guint s = 0; s < INSIGHT_N_STAGES; s++)
    add_named_spread (builder, stages[s], &leadtime->stages[s]);
  present_json_number (builder, "ended_otherwise", leadtime->other_ends);
  present_json_number (builder, "solved_share", leadtime->solved_share);
  json_builder_end_object (builder);
  add_waits (builder, leadtime);
  add_groups (builder, "by_supplier", leadtime->by_supplier);
  add_groups (builder, "by_reason", leadtime->by_reason);
  add_open (builder, leadtime);
  present_json_list (builder, "earlier");
  for (guint i = 0; i < leadtime->n_earlier; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "model", leadtime->earlier[i].code);
      present_json_text (builder, "name", leadtime->earlier[i].name);
      present_json_number (builder, "days", leadtime->earlier[i].total);
      present_json_flag (builder, "open", leadtime->earlier[i].open);
      add_rounds (builder, leadtime->earlier[i].rounds, leadtime->earlier[i].n_rounds);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  present_json_list (builder, "notes");
  for (guint i = 0; i < present->notes->len; i++)
    json_builder_add_string_value (builder, present->notes->pdata[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
