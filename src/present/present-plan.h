/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a planned round can prove, in words and figures.
 */

#include <json-glib/json-glib.h>

#include "insight-plan.h"

G_BEGIN_DECLS

/**
 * PresentPlanRow:
 * @id: key of the criterion
 * @about: 'LV Lever sticks'
 * @before: what counts already: '10, none fails'; "–" for nothing
 * @further: units of the round that count for it: '12'
 * @reached: confidence if none of them fails, with the one wanted: '90 % of 90 %'; "" when none can be told
 * @assurance: chance of passing by what is known: '67 %'; "" when nothing is
 * @bad: chance that a design at the tolerated share passes too; "" where it cannot, or what counts already is enough
 * @needed: further units for 80 in 100; "–": none would do, or nothing is known
 * @sign: whether the units can be enough, as a shape
 * @can: they can
 * @words: all of it in sentences
 */
typedef struct
{
  gint64      id;
  char       *about;
  char       *before;
  char       *further;
  char       *reached;
  char       *assurance;
  char       *bad;
  char       *needed;
  const char *sign;
  gboolean    can;
  char       *words;
} PresentPlanRow;

/**
 * PresentPlan:
 * @headline: how many criteria the units can meet, and the chance that all do
 * @rows: (element-type PresentPlanRow): by what the round can do least about first
 * @notes: (element-type utf8): the cheaper ways, and what stands in the way
 */
typedef struct
{
  char      *headline;
  GPtrArray *rows;
  GPtrArray *notes;
} PresentPlan;

PresentPlan *present_plan_new     (const InsightPlan       *plan,
                                   const InsightPlanAnswer *answer) G_GNUC_WARN_UNUSED_RESULT;
void         present_plan_free    (PresentPlan             *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentPlan, present_plan_free)

char        *present_plan_to_text (const PresentPlan       *present,
                                   guint                    width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode    *present_json_plan    (const InsightPlan       *plan,
                                   const InsightPlanAnswer *answer,
                                   const PresentPlan       *present) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
