/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The words of drawings that are filled in present-chart.c. */

#include "chart-characteristic.h"
#include "present-chart.h"

G_BEGIN_DECLS

Chart *present_chart_say_score (Chart                 *chart,
                                const InsightStanding *standing);
Chart *present_chart_say_strip (Chart                 *chart,
                                const InsightDays     *days);

ChartReadingFlags present_reading_flags (const InsightMark *mark);
char             *present_limit_words   (double             limit,
                                         const char        *format) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
