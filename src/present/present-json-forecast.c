/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-forecast.h"

#include "present-json.h"

#include <math.h>

static const char *const lefts[INSIGHT_N_FORECAST_LEFTS] = { "run", "no-values", "no-limits" };

static void
add_date (JsonBuilder *builder, const InsightForecastDate *date)
{
  json_builder_begin_object (builder);
  present_json_number (builder, "share", date->share);
  present_json_number (builder, "days", isfinite (date->days) ? date->days : NAN);
  present_json_text (builder, "date", date->date);
  json_builder_end_object (builder);
}

static void
add_dates (JsonBuilder *builder, const char *name, const InsightForecastDate *dates, guint n)
{
  present_json_list (builder, name);
  for (guint i = 0; i < n; i++)
    add_date (builder, &dates[i]);
  json_builder_end_array (builder);
}

static void
add_criteria (JsonBuilder *builder, const InsightForecastInput *input, const InsightForecastSettings *settings)
{
  present_json_list (builder, "criteria");
  for (guint i = 0; i < input->n_criteria; i++)
    {
      const InsightForecastCriterion *criterion = &input->criteria[i];
      const NumForecastCriterion *play = &criterion->play;

      json_builder_begin_object (builder);
      present_json_key (builder, "id", criterion->id);
      present_json_text (builder, "code", criterion->code);
      present_json_text (builder, "left_out", criterion->is_in ? "" : lefts[criterion->left]);
      if (criterion->is_in)
        {
          present_json_flag (builder, "by_values", play->measured);
          present_json_flag (builder, "strict", play->strict);
          present_json_count (builder, "n", (gint64) play->n);
          present_json_count (builder, "failed", (gint64) play->failed);
          present_json_count (builder, "looks", (gint64) play->looks);
          present_json_count (builder, "attempt", (gint64) play->attempt);
          present_json_number (builder, "tolerated", play->tolerated);
          present_json_number (builder, "wanted", play->wanted);
          present_json_count (builder, "units_round", (gint64) (play->units_round + settings->more_units));
        }
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* A supplier by name, else a reason as files write it; "": nobody. */
static const char *
waits_word (const InsightForecastInput *input, int waits)
{
  const BookChoice *reason;

  if (waits < 0)
    return "";
  if (*input->waits[waits].name != '\0')
    return input->waits[waits].name;
  reason = book_choice_by_code (book_wait_reasons, (int) input->waits[waits].reason);
  return reason != NULL ? reason->text : "";
}

static void
add_settings (JsonBuilder *builder, const InsightForecastInput *input, const InsightForecastSettings *settings, const char *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
  present_json_count (builder, "more_units", settings->more_units);
  present_json_text (builder, "waits", waits_word (input, settings->waits));
  present_json_number (builder, "wait_most", settings->wait_most);
  present_json_number (builder, "shortest", settings->shortest);
  present_json_number (builder, "longest", settings->longest);
  present_json_count (builder, "worked", settings->worked);
  present_json_count (builder, "failed", settings->failed);
  present_json_number (builder, "residual", settings->residual);
  json_builder_end_object (builder);
}

static void
add_rounds (JsonBuilder *builder, const InsightForecastInput *input)
{
  present_json_list (builder, "lengths");
  for (guint i = 0; i < input->n_lengths; i++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "round", input->lengths[i].label);
      present_json_number (builder, "days", input->lengths[i].days);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_helps (JsonBuilder *builder, const InsightForecastInput *input, GArray *helps)
{
  present_json_list (builder, "helps");
  for (guint i = 0; helps != NULL && i < helps->len; i++)
    {
      const InsightForecastHelp *help = &g_array_index (helps, InsightForecastHelp, i);

      json_builder_begin_object (builder);
      present_json_count (builder, "more_units", help->more_units);
      present_json_text (builder, "waits", waits_word (input, help->waits));
      present_json_text (builder, "criterion", help->criterion < 0 ? "" : input->criteria[help->criterion].code);
      present_json_number (builder, "days_earlier", isfinite (help->gain) ? help->gain : NAN);
      present_json_text (builder, "date", help->date);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_past (JsonBuilder *builder, GArray *list)
{
  present_json_list (builder, "earlier");
  for (guint i = 0; list != NULL && i < list->len; i++)
    {
      const InsightForecastPast *past = &g_array_index (list, InsightForecastPast, i);

      json_builder_begin_object (builder);
      present_json_text (builder, "round", past->round);
      present_json_text (builder, "on", past->decided);
      present_json_count (builder, "rounds", past->lengths);
      present_json_text (builder, "half", past->dates[0]);
      present_json_text (builder, "four_in_five", past->dates[1]);
      present_json_text (builder, "met", past->met);
      present_json_flag (builder, "recorded", past->recorded);
      present_json_flag (builder, "journal_too_long", past->unread);
      present_json_flag (builder, "entered_later", past->late);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_json_forecast:
 * @present: in words
 * @input: what it is made of
 * @settings: as they are set
 * @forecast: the answer
 * @helps: (element-type InsightForecastHelp) (nullable): what would help
 * @past: (element-type InsightForecastPast) (nullable): what earlier rounds would have said
 *
 * Returns: (transfer full): the document
 */
JsonNode *
present_json_forecast (const PresentForecast *present, const InsightForecastInput *input, const InsightForecastSettings *settings,
                       const InsightForecast *forecast, GArray *helps, GArray *past)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "today", input->today);
  present_json_text (builder, "begin", input->begin);
  present_json_text (builder, "begin_round", input->begin_round);
  present_json_text (builder, "headline", present->headline);
  present_json_text (builder, "note", present->note);
  present_json_count (builder, "futures", forecast->draws);
  add_dates (builder, "dates", forecast->dates, forecast->status == NUM_OK && input->n_lengths >= NUM_FORECAST_LENGTHS ? forecast->n_dates : 0);
  add_dates (builder, "range", forecast->range, forecast->status == NUM_OK ? 2 : 0);
  present_json_count (builder, "rounds", forecast->rounds);
  present_json_number (builder, "never", forecast->status == NUM_OK ? forecast->never : (double) NAN);
  add_dates (builder, "curve", forecast->points, forecast->n_points);
  add_criteria (builder, input, settings);
  add_settings (builder, input, settings, "set");
  add_settings (builder, input, &input->defaults, "records");
  add_rounds (builder, input);
  add_helps (builder, input, helps);
  add_past (builder, past);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
