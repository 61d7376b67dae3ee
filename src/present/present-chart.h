/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Answers as drawings: fills the plain structs of src/chart with figures, names and the words for each mark.
 */

#include "chart.h"
#include "insight-days.h"
#include "insight-series.h"
#include "insight-standing.h"
#include "present-sheet.h"

G_BEGIN_DECLS

Chart *present_chart_characteristic (const InsightSeries   *series,
                                     gboolean               with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart *present_chart_score          (const InsightStanding *standing,
                                     gboolean               with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart *present_chart_strip          (const InsightDays     *days) G_GNUC_WARN_UNUSED_RESULT;

char  *present_mark_words           (const InsightSeries   *series,
                                     guint                  mark) G_GNUC_WARN_UNUSED_RESULT;
char  *present_series_words         (const InsightSeries   *series) G_GNUC_WARN_UNUSED_RESULT;

Chart *present_chart_say            (Chart                 *chart,
                                     const char            *sentence,
                                     const PresentSheet    *sheet) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
