/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-pilot.h"

#include "present-json.h"

static void
add_range (JsonBuilder *builder, const char *low, const char *high, const NumInterval *interval)
{
  present_json_number (builder, low, interval->low);
  present_json_number (builder, high, interval->high);
}

static void
add_step (JsonBuilder *builder, const InsightPilotStep *step)
{
  static const char *const sources[] = { "nothing", "tally", "events" };

  json_builder_begin_object (builder);
  present_json_key (builder, "id", step->id);
  present_json_count (builder, "position", step->position);
  present_json_text (builder, "name", step->name);
  present_json_choice (builder, "kind", book_step_kinds, (int) step->kind);
  present_json_text (builder, "source", sources[step->source]);
  present_json_count (builder, "in", step->in);
  present_json_count (builder, "n", step->n);
  present_json_count (builder, "first", step->first);
  present_json_count (builder, "reworked", step->reworked);
  present_json_count (builder, "scrapped", step->scrapped);
  present_json_count (builder, "waiting", step->waiting);
  present_json_count (builder, "aside", step->aside);
  present_json_count (builder, "worked_again", step->worked_again);
  present_json_count (builder, "tallies_left_out", step->tallies_left_out);
  present_json_number (builder, "first_pass", step->first_pass);
  add_range (builder, "first_pass_low", "first_pass_high", &step->first_interval);
  present_json_number (builder, "final", step->final);
  add_range (builder, "final_low", "final_high", &step->final_range);
  present_json_number (builder, "minutes", step->minutes);
  present_json_count (builder, "minutes_n", step->minutes_n);
  present_json_number (builder, "setup_minutes", step->setup_min);
  present_json_number (builder, "rework_minutes", step->rework_min);
  present_json_count (builder, "lost_found", step->lost_found);
  present_json_count (builder, "lost_caused", step->lost_caused);
  present_json_count (builder, "run_days", step->run_days);
  json_builder_end_object (builder);
}

static void
add_loss (JsonBuilder *builder, const InsightPilot *pilot, const InsightPilotLoss *loss)
{
  json_builder_begin_object (builder);
  present_json_key (builder, "issue_id", loss->issue);
  present_json_count (builder, "issue", loss->issue_no);
  present_json_text (builder, "title", loss->title);
  present_json_text (builder, "found_at", loss->found >= 0 ? pilot->steps[loss->found].name : "");
  present_json_text (builder, "caused_at", loss->caused >= 0 ? pilot->steps[loss->caused].name : "");
  present_json_count (builder, "units", loss->units);
  present_json_count (builder, "scrapped", loss->scrapped);
  present_json_number (builder, "minutes", loss->minutes);
  json_builder_end_object (builder);
}

static void
add_day (JsonBuilder *builder, const InsightPilot *pilot, const InsightPilotDay *day)
{
  json_builder_begin_object (builder);
  present_json_text (builder, "step", pilot->steps[day->step].name);
  present_json_text (builder, "date", day->date);
  present_json_count (builder, "n", day->n);
  present_json_count (builder, "first", day->first);
  present_json_number (builder, "minutes", day->minutes);
  present_json_count (builder, "minutes_n", day->minutes_n);
  json_builder_end_object (builder);
}

static void
add_line (JsonBuilder *builder, const InsightRateInput *input, const InsightRateLine *line)
{
  json_builder_begin_object (builder);
  present_json_text (builder, line->bench >= 0 ? "bench" : "outside_step",
                     line->bench >= 0 ? input->benches[line->bench].name : input->steps[line->step].name);
  present_json_number (builder, "minutes_unit", line->minutes);
  present_json_number (builder, "minutes_month", line->available);
  present_json_number (builder, "month", line->month);
  add_range (builder, "month_low", "month_high", &line->interval);
  present_json_number (builder, "constraint_chance", line->constraint_chance);
  json_builder_end_object (builder);
}

static void
add_notes (JsonBuilder *builder, GPtrArray *notes, GPtrArray *facts)
{
  present_json_list (builder, "reasons");
  for (guint i = 0; i < notes->len; i++)
    {
      const PresentFact *fact = facts->pdata[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "code", fact->code);
      present_json_text (builder, "sentence", notes->pdata[i]);
      present_json_names (builder, "names", fact->names);
      present_json_count (builder, "count", fact->count);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_delivery (JsonBuilder *builder, const PresentRate *words)
{
  json_builder_set_member_name (builder, "delivery");
  json_builder_begin_object (builder);
  present_json_text (builder, "sentence", words->delivery);
  present_json_text (builder, "date", words->delivery_date);
  present_json_number (builder, "units", words->delivery_units);
  add_range (builder, "units_low", "units_high", &words->delivery_interval);
  json_builder_end_object (builder);
}

static void
add_rate (JsonBuilder *builder, const InsightRateInput *input, const InsightRate *rate, const PresentRate *words)
{
  json_builder_set_member_name (builder, "rate");
  json_builder_begin_object (builder);
  present_json_text (builder, "sentence", words->headline);
  present_json_text (builder, "constraint_sentence", words->constraint);
  add_notes (builder, words->notes, words->facts);
  present_json_count (builder, "run_days", input->run_days);
  present_json_number (builder, "month", rate->month);
  add_range (builder, "month_low", "month_high", &rate->interval);
  present_json_number (builder, "plan", rate->plan);
  present_json_text (builder, "constraint",
                     rate->n_lines == 0 ? ""
                     : rate->lines[rate->constraint].bench >= 0
                       ? input->benches[rate->lines[rate->constraint].bench].name
                       : input->steps[rate->lines[rate->constraint].step].name);
  present_json_number (builder, "flow_days", rate->flow_days);
  present_json_number (builder, "demand", input->demand);
  if (words->delivery_date != NULL)
    add_delivery (builder, words);
  present_json_list (builder, "benches");
  for (guint i = 0; i < rate->n_lines; i++)
    add_line (builder, input, &rate->lines[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);

  json_builder_set_member_name (builder, "cost");
  json_builder_begin_object (builder);
  present_json_text (builder, "sentence", words->cost_sentence);
  present_json_number (builder, "unit", rate->cost);
  add_range (builder, "unit_low", "unit_high", &rate->cost_interval);
  present_json_number (builder, "material", rate->cost_material);
  present_json_number (builder, "outside", rate->cost_outside);
  present_json_number (builder, "minutes", rate->cost_minutes);
  present_json_number (builder, "rework", rate->cost_rework);
  present_json_number (builder, "scrap", rate->cost_scrap);
  json_builder_end_object (builder);
}

/**
 * present_json_pilot:
 * @pilot: in words
 * @input: what the rate is made of
 * @rate: the rate
 * @words: the rate in words
 *
 * Returns: (transfer full): all of it, unrounded
 */
JsonNode *
present_json_pilot (const PresentPilot *pilot, const InsightRateInput *input, const InsightRate *rate, const PresentRate *words)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const InsightPilot *data = pilot->data;

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", data->model_code);
  present_json_text (builder, "round", data->label);
  present_json_text (builder, "today", data->today);
  present_json_text (builder, "sentence", pilot->headline);
  add_notes (builder, pilot->notes, pilot->facts);
  present_json_number (builder, "rolled", data->rolled);
  add_range (builder, "rolled_low", "rolled_high", &data->rolled_interval);
  present_json_number (builder, "final", data->final);
  add_range (builder, "final_low", "final_high", &data->final_range);
  present_json_count (builder, "waiting", data->waiting);
  present_json_count (builder, "run_days", data->n_run_days);
  present_json_list (builder, "steps");
  for (guint i = 0; i < data->n_steps; i++)
    add_step (builder, &data->steps[i]);
  json_builder_end_array (builder);
  present_json_list (builder, "losses");
  for (guint i = 0; i < data->n_losses; i++)
    add_loss (builder, data, &data->losses[i]);
  json_builder_end_array (builder);
  present_json_list (builder, "days");
  for (guint i = 0; i < data->n_days; i++)
    add_day (builder, data, &data->days[i]);
  json_builder_end_array (builder);
  add_rate (builder, input, rate, words);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
