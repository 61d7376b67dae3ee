/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Life tests at one look: the first test of each unit, whether it counts, and its way of failing.
 */

#include "insight-units-private.h"

G_BEGIN_DECLS

typedef struct
{
  guint           unit;
  guint           test; /* in e->life_tests */
  BookDay         day;
  double          cycles;
  gboolean        failed;
  int             mode; /* issue that ended it; -1: none was named, or it was stopped */
  double          planned; /* cycles that the plan of its round says; NAN */
  gboolean        short_load; /* stopped without a failure under less than the load asked for */
  InsightCounting counting;
} InsightLifeUnit;

/* (transfer full) (element-type InsightLifeUnit): by day of the test, then number. */
GArray *insight_life_units (const InsightLook *look,
                            int                characteristic,
                            BookCountsFrom     counts_from,
                            double             load);

G_END_DECLS
