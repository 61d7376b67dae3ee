/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The values of a series that single values and capability are computed from. */

#include "insight-series.h"

G_BEGIN_DECLS

/* Values that count, in order of build, and the marks they belong to. */
typedef struct
{
  double *values;
  guint  *marks;
  guint   n;
  guint   left_out; /* count, but have no value of their own */
} InsightValues;

void insight_values_init  (InsightValues       *values,
                           const InsightSeries *series);
void insight_values_clear (InsightValues       *values);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (InsightValues, insight_values_clear)

G_END_DECLS
