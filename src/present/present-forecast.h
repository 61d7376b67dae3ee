/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * When it will be ready, in words: always under the assumptions that stand beside it.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-forecast.h"
#include "present-figure.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentForecast:
 * @headline: the dates, or why there are none
 * @note: what is left out, or may not be said; "" for nothing
 * @assumptions: each with what is set, what the records say, and of how many
 * @criteria: what is played, and what is left out and why; rows lead to criteria
 * @helps: what would gain most
 * @past: what earlier rounds would have said, against what happened; %NULL: not asked for
 */
typedef struct
{
  char         *headline;
  char         *note;
  PresentSheet *assumptions;
  PresentSheet *criteria;
  PresentSheet *helps;
  PresentSheet *past;
} PresentForecast;

PresentForecast *present_forecast_new     (const InsightForecastInput    *input,
                                           const InsightForecastSettings *settings,
                                           const InsightForecast         *forecast,
                                           GArray                        *helps,
                                           GArray                        *past) G_GNUC_WARN_UNUSED_RESULT;
void             present_forecast_free    (PresentForecast               *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentForecast, present_forecast_free)

char            *present_forecast_to_text (const PresentForecast         *present,
                                           guint                          width) G_GNUC_WARN_UNUSED_RESULT;
Chart           *present_chart_forecast   (const InsightForecastInput    *input,
                                           const InsightForecastSettings *settings,
                                           const InsightForecast         *forecast,
                                           gboolean                       with_title) G_GNUC_WARN_UNUSED_RESULT;
JsonNode        *present_json_forecast    (const PresentForecast         *present,
                                           const InsightForecastInput    *input,
                                           const InsightForecastSettings *settings,
                                           const InsightForecast         *forecast,
                                           GArray                        *helps,
                                           GArray                        *past) G_GNUC_WARN_UNUSED_RESULT;

/* ---- what may be assumed otherwise ---- */

const PresentFigure *present_forecast_field         (InsightForecastField           field);
gboolean             present_forecast_field_applies (const InsightForecastInput    *input,
                                                     const InsightForecastSettings *settings,
                                                     InsightForecastField           field);
char                *present_forecast_field_records (const InsightForecastInput    *input,
                                                     const InsightForecastSettings *settings,
                                                     InsightForecastField           field) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray           *present_forecast_waits_names   (const InsightForecastInput    *input) G_GNUC_WARN_UNUSED_RESULT;
char                *present_forecast_instead       (const InsightForecast         *before,
                                                     const InsightForecast         *after) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
