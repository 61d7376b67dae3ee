/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a forecast is made of, for the verb and for the chart.
 */

#include "batch-call.h"
#include "book-evidence.h"
#include "insight-forecast.h"

G_BEGIN_DECLS

InsightForecastInput *batch_forecast_input (BatchCall          *call,
                                            const BookEvidence *evidence,
                                            const InsightSpan  *span,
                                            InsightStanding   **standing,
                                            BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
