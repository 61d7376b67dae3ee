/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The words of drawings that are filled in present-chart.c. */

#include "present-chart.h"

G_BEGIN_DECLS

Chart *present_chart_say_score (Chart                 *chart,
                                const InsightStanding *standing);
Chart *present_chart_say_strip (Chart                 *chart,
                                const InsightDays     *days);

G_END_DECLS
