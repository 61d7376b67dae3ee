/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be assumed otherwise in a forecast, by its name and within its bounds. */

#include "config.h"

#include "insight-forecast.h"

#include <math.h>

static const struct
{
  const char *name;
  double      least;
  double      most;
  gboolean    counted;
  gsize       offset; /* of the guint or double */
} fields[INSIGHT_FORECAST_N_FIELDS] = {
  [INSIGHT_FORECAST_MORE_UNITS] = { "more_units", 0.0, 100000.0, TRUE, G_STRUCT_OFFSET (InsightForecastSettings, more_units) },
  [INSIGHT_FORECAST_WAIT_MOST] = { "wait_most", 0.0, 10000.0, FALSE, G_STRUCT_OFFSET (InsightForecastSettings, wait_most) },
  [INSIGHT_FORECAST_SHORTEST] = { "shortest", 0.5, 10000.0, FALSE, G_STRUCT_OFFSET (InsightForecastSettings, shortest) },
  [INSIGHT_FORECAST_LONGEST] = { "longest", 0.5, 10000.0, FALSE, G_STRUCT_OFFSET (InsightForecastSettings, longest) },
  [INSIGHT_FORECAST_WORKED] = { "worked", 0.0, 1000000.0, TRUE, G_STRUCT_OFFSET (InsightForecastSettings, worked) },
  [INSIGHT_FORECAST_FAILED] = { "failed", 0.0, 1000000.0, TRUE, G_STRUCT_OFFSET (InsightForecastSettings, failed) },
  [INSIGHT_FORECAST_RESIDUAL] = { "residual", 0.0, 1.0, FALSE, G_STRUCT_OFFSET (InsightForecastSettings, residual) },
};

const char *
insight_forecast_field_name (InsightForecastField field)
{
  return fields[field].name;
}

InsightForecastField
insight_forecast_field_find (const char *name)
{
  guint field = 0;

  while (field < INSIGHT_FORECAST_N_FIELDS && !g_str_equal (fields[field].name, name))
    field++;
  return field;
}

double
insight_forecast_get (const InsightForecastSettings *settings, InsightForecastField field)
{
  gconstpointer at = G_STRUCT_MEMBER_P (settings, fields[field].offset);

  return fields[field].counted ? *(const guint *) at : *(const double *) at;
}

gboolean
insight_forecast_set (InsightForecastSettings *settings, InsightForecastField field, double value)
{
  gpointer at = G_STRUCT_MEMBER_P (settings, fields[field].offset);

  if (!(value >= fields[field].least && value <= fields[field].most) || (fields[field].counted && value != floor (value)))
    return FALSE;
  if (fields[field].counted)
    *(guint *) at = (guint) value;
  else
    *(double *) at = value;
  return TRUE;
}
