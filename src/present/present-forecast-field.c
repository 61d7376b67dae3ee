/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be assumed otherwise in a forecast: how it is called, shown and moved, and what stands beside it. */

#include "config.h"

#include "present-forecast.h"

#include "present-leadtime.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>

#define PERCENT 100.0

static const PresentFigure fields[INSIGHT_FORECAST_N_FIELDS] = {
  [INSIGHT_FORECAST_MORE_UNITS] = { N_("Further units a round, of each criterion"), "", 1, 0, 1, 0, 100 },
  [INSIGHT_FORECAST_WAIT_MOST] = { N_("Each of these waits at most, working days"), N_("days"), 1, 0, 1, 0, 60 },
  [INSIGHT_FORECAST_SHORTEST] = { N_("Shortest round, working days"), N_("days"), 1, 0, 1, 1, 250 },
  [INSIGHT_FORECAST_LONGEST] = { N_("Longest round, working days"), N_("days"), 1, 0, 1, 1, 250 },
  [INSIGHT_FORECAST_WORKED] = { N_("Fixes that held"), "", 1, 0, 1, 0, 30 },
  [INSIGHT_FORECAST_FAILED] = { N_("Fixes that did not"), "", 1, 0, 1, 0, 30 },
  [INSIGHT_FORECAST_RESIDUAL] = { N_("Failing after a fix that holds"), "%", PERCENT, 2, 0.1, 0, 20 },
};

/**
 * present_forecast_field:
 * @field: what may be set
 *
 * Returns: how it is shown
 */
const PresentFigure *
present_forecast_field (InsightForecastField field)
{
  return &fields[field];
}

/**
 * present_forecast_field_applies:
 * @input: what a forecast is made of
 * @settings: as they are set
 * @field: what may be set
 *
 * Returns: whether setting it can change anything
 */
gboolean
present_forecast_field_applies (const InsightForecastInput *input, const InsightForecastSettings *settings, InsightForecastField field)
{
  switch (field)
    {
    case INSIGHT_FORECAST_WAIT_MOST:
      return settings->waits >= 0;
    case INSIGHT_FORECAST_SHORTEST:
    case INSIGHT_FORECAST_LONGEST:
      return input->n_lengths < NUM_FORECAST_LENGTHS;
    case INSIGHT_FORECAST_MORE_UNITS:
    case INSIGHT_FORECAST_WORKED:
    case INSIGHT_FORECAST_FAILED:
    case INSIGHT_FORECAST_RESIDUAL:
    case INSIGHT_FORECAST_N_FIELDS:
      break;
    }
  return TRUE;
}

/**
 * present_forecast_field_records:
 * @input: what a forecast is made of
 * @settings: as they are set
 * @field: what may be set
 *
 * Returns: (transfer full): what the records say, and of how many
 */
char *
present_forecast_field_records (const InsightForecastInput *input, const InsightForecastSettings *settings, InsightForecastField field)
{
  const guint fixes = input->defaults.worked + input->defaults.failed;
  g_autofree char *value = NULL;

  switch (field)
    {
    case INSIGHT_FORECAST_MORE_UNITS:
      return g_strdup (_("none: as in its newest round"));
    case INSIGHT_FORECAST_WAIT_MOST:
      if (settings->waits < 0)
        return g_strdup ("");
      value = present_number (input->waits[settings->waits].days / input->waits[settings->waits].n, 0);
      /* Translators: working days, and how many waits */
      return g_strdup_printf (ngettext ("is %s on average (%u wait)", "is %s on average (%u waits)", input->waits[settings->waits].n), value,
                              input->waits[settings->waits].n);
    case INSIGHT_FORECAST_SHORTEST:
    case INSIGHT_FORECAST_LONGEST:
      return g_strdup_printf (ngettext ("%u round is finished", "%u rounds are finished", input->n_lengths), input->n_lengths);
    case INSIGHT_FORECAST_WORKED:
    case INSIGHT_FORECAST_FAILED:
      return g_strdup_printf (ngettext ("is %u of %u fix", "is %u of %u fixes", fixes), (guint) insight_forecast_get (&input->defaults, field),
                              fixes);
    case INSIGHT_FORECAST_RESIDUAL:
      return g_strdup (_("a tenth of the tolerated share"));
    case INSIGHT_FORECAST_N_FIELDS:
      break;
    }
  return g_strdup ("");
}

/**
 * present_forecast_waits_names:
 * @input: what a forecast is made of
 *
 * Returns: (transfer full) (element-type utf8): whose waits may be cut, as choices: first none of them
 */
GPtrArray *
present_forecast_waits_names (const InsightForecastInput *input)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (names, g_strdup (_("waits as so far")));
  for (guint i = 0; i < input->n_waits; i++)
    {
      const InsightForecastWaits *waits = &input->waits[i];
      const char *name = *waits->name != '\0' ? waits->name : present_wait_words (waits->reason);

      /* Translators: a supplier, or what is waited for */
      g_ptr_array_add (names, g_strdup_printf (_("waits cut: %s"), name));
    }
  return names;
}

/**
 * present_forecast_instead:
 * @before: the forecast by the records
 * @after: the same with what was set
 *
 * Returns: (transfer full): both in one sentence; "" where one of them has no date
 */
char *
present_forecast_instead (const InsightForecast *before, const InsightForecast *after)
{
  if (before->status != NUM_OK || after->status != NUM_OK || *before->dates[0].date == '\0' || *after->dates[0].date == '\0')
    return g_strdup ("");
  return g_strdup_printf (_("By the records alone it would be %s in 5 of 10 futures; so set it is %s."), before->dates[0].date,
                          after->dates[0].date);
}
