/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of the answer about life tests: lines, growth and plan, each filled in by a file of its own.
 */

#include "book-evidence.h"
#include "insight-life-private.h"
#include "insight-life.h"

G_BEGIN_DECLS

static inline gboolean
insight_life_counts (const InsightLifeUnit *unit)
{
  return unit->counting == INSIGHT_COUNTS && !unit->short_load && unit->cycles > 0.0;
}

void insight_life_add_modes  (InsightLife         *life,
                              const BookEvidence  *evidence,
                              GArray              *units);
void insight_life_add_growth (InsightLife         *life,
                              const BookEvidence  *evidence,
                              const guint         *tests,
                              guint                n);
void insight_life_add_plan   (InsightLife         *life,
                              const BookEvidence  *evidence,
                              GArray              *units);

G_END_DECLS
