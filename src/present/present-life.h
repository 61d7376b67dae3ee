/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Life tests in words, as drawings and as a document. Window and command line show the same.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-life.h"
#include "present-sheet.h"
#include "present-standing.h"

G_BEGIN_DECLS

/**
 * PresentLife:
 * @data: (transfer none): the answer
 * @headline: what the tests support
 * @figures: n, failures and what belongs to them, in one line; "" without tests
 * @remarks: (element-type utf8): what stands beside the result
 * @steps: (element-type utf8): what to do next
 * @growth: what may be said of growth
 * @plan: what would prove it, and how often a bad design would pass that; "" where there is nothing to plan
 * @method: how all of this was found out
 * @caution: stands wherever life tests are spoken about
 * @modes: ways of failing; rows lead to issues
 * @plan_units: units at given cycles
 * @plan_cycles: cycles at given units
 * @rounds: rows lead to rounds
 * @tests: rows lead to units
 */
typedef struct
{
  const InsightLife *data;
  PresentStanding   *standing;
  char              *headline;
  char              *figures;
  GPtrArray         *remarks;
  GPtrArray         *steps;
  char              *growth;
  char              *plan;
  char              *method;
  char              *caution;
  PresentSheet      *modes;
  PresentSheet      *plan_units;
  PresentSheet      *plan_cycles;
  PresentSheet      *rounds;
  PresentSheet      *tests;
} PresentLife;

PresentLife  *present_life_new     (const InsightLife *life,
                                    const char        *caution_added) G_GNUC_WARN_UNUSED_RESULT;
void          present_life_free    (PresentLife       *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentLife, present_life_free)

char         *present_life_to_text (const PresentLife *present,
                                    guint              width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode     *present_json_life    (const PresentLife *present) G_GNUC_WARN_UNUSED_RESULT;
Chart        *present_chart_life   (const InsightLife *life,
                                    gboolean           with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart        *present_chart_growth (const InsightLife *life,
                                    gboolean           with_title) G_GNUC_WARN_UNUSED_RESULT;

/* How many cycles, without more figures than they deserve. */
char         *present_cycles       (double             cycles) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
