/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-readings.h"

#include "present-json.h"

static void
add_head (JsonBuilder *builder, const InsightSeries *series)
{
  const InsightSeriesLimit *now = series->now >= 0 ? &series->limits[series->now] : NULL;

  present_json_key (builder, "id", series->characteristic);
  present_json_text (builder, "code", series->code);
  present_json_text (builder, "name", series->name);
  present_json_text (builder, "unit", series->unit);
  present_json_count (builder, "n", series->n);
  present_json_count (builder, "failed", series->failed);
  present_json_number (builder, "mean", series->mean);
  present_json_number (builder, "sd", series->sd);
  if (now != NULL)
    {
      present_json_number (builder, "lower", now->lower);
      present_json_number (builder, "upper", now->upper);
    }
}

static void
add_individuals (JsonBuilder *builder, const InsightSeries *series, const InsightIndividuals *individuals)
{
  present_json_count (builder, "values", individuals->n);
  present_json_flag (builder, "so_far", individuals->so_far);
  present_json_number (builder, "centre", individuals->centre);
  present_json_number (builder, "control_lower", individuals->lower);
  present_json_number (builder, "control_upper", individuals->upper);
  present_json_number (builder, "moving_range", individuals->moving_range);
  present_json_list (builder, "signals");
  for (guint i = 0; i < individuals->n_signals; i++)
    {
      const InsightMark *mark = &series->marks[individuals->signals[i].mark];

      json_builder_begin_object (builder);
      present_json_key (builder, "reading", mark->reading);
      present_json_text (builder, "unit", mark->serial);
      present_json_count (builder, "rule", individuals->signals[i].rule);
      present_json_number (builder, "value", mark->value);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_capability (JsonBuilder *builder, const InsightCapability *capability)
{
  json_builder_set_member_name (builder, "capability");
  json_builder_begin_object (builder);
  present_json_text (builder, "state", insight_capability_name (capability->state));
  present_json_count (builder, "n", capability->n);
  present_json_number (builder, "cp", capability->cp);
  present_json_number (builder, "cpk", capability->cpk);
  present_json_number (builder, "pp", capability->pp);
  present_json_number (builder, "pp_low", capability->pp_low);
  present_json_number (builder, "pp_high", capability->pp_high);
  present_json_number (builder, "ppk", capability->ppk);
  present_json_number (builder, "ppk_low", capability->ppk_low);
  present_json_number (builder, "ppk_high", capability->ppk_high);
  present_json_number (builder, "sd_within", capability->sd_within);
  present_json_number (builder, "sd_overall", capability->sd_overall);
  present_json_number (builder, "share_low", capability->share_low);
  present_json_number (builder, "share_high", capability->share_high);
  json_builder_end_object (builder);
}

static void
add_rounds (JsonBuilder *builder, const InsightSeries *series, const InsightSpread5 *spreads)
{
  present_json_list (builder, "rounds");
  for (guint r = 0; r < series->n_rounds; r++)
    {
      json_builder_begin_object (builder);
      present_json_key (builder, "id", series->rounds[r].id);
      present_json_text (builder, "label", series->rounds[r].label);
      present_json_count (builder, "n", series->rounds[r].n);
      present_json_count (builder, "failed", series->rounds[r].failed);
      present_json_count (builder, "counted", series->rounds[r].counted);
      present_json_number (builder, "least", spreads[r].least);
      present_json_number (builder, "q1", spreads[r].q1);
      present_json_number (builder, "median", spreads[r].median);
      present_json_number (builder, "q3", spreads[r].q3);
      present_json_number (builder, "most", spreads[r].most);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_json_readings:
 * @present: what the readings of one characteristic say
 *
 * Returns: (transfer full): the document
 */
JsonNode *
present_json_readings (const PresentReadings *present)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const char *const sentences[] = { present->outside, present->fit, present->figures, present->control, present->caution,
                                    present->gauge };

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  add_head (builder, present->series);
  present_json_list (builder, "sentences");
  for (guint i = 0; i < G_N_ELEMENTS (sentences); i++)
    if (sentences[i] != NULL)
      json_builder_add_string_value (builder, sentences[i]);
  json_builder_end_array (builder);
  add_individuals (builder, present->series, present->individuals);
  add_capability (builder, &present->capability);
  add_rounds (builder, present->series, present->spreads);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}

/**
 * present_json_wall:
 * @wall: all characteristics
 *
 * Returns: (transfer full): the document
 */
JsonNode *
present_json_wall (const InsightWall *wall)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autofree char *words = present_wall_words (wall);

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "sentence", words);
  present_json_list (builder, "characteristics");
  for (guint i = 0; i < wall->n_items; i++)
    {
      const InsightWallItem *item = &wall->items[i];
      g_autofree char *figure = present_wall_figure (item);

      json_builder_begin_object (builder);
      add_head (builder, item->series);
      present_json_text (builder, "group", insight_wall_group_name (item->group));
      present_json_number (builder, "measure", item->measure);
      present_json_text (builder, "why", figure);
      add_individuals (builder, item->series, item->individuals);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
