/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Units picked out of a chart, in words: who they are, what they have in common, and each of them. */

#include "insight-chosen.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentChosen:
 * @summary: one sentence, for the line below the chart and for those who do not see it
 * @caution: (nullable): what a count says and what it does not
 * @shared: what they have in common; rows lead to lots, revisions, rounds and issues
 * @units: each unit with its values, lots, revisions and issues; rows lead to units, readings and issues
 */
typedef struct
{
  char         *summary;
  char         *caution;
  PresentSheet *shared;
  PresentSheet *units;
} PresentChosen;

PresentChosen *present_chosen_new  (const InsightChosen *chosen) G_GNUC_WARN_UNUSED_RESULT;
void           present_chosen_free (PresentChosen       *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentChosen, present_chosen_free)

G_END_DECLS
