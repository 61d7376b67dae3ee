/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A unit as it was built, what happened to it, and the units that hold a lot or a revision: in words and as cells of
 * tables.
 */

#include "insight-as-built.h"

G_BEGIN_DECLS

typedef enum
{
  PRESENT_BUILT_WHAT,
  PRESENT_BUILT_REVISION,
  PRESENT_BUILT_LOT,
  PRESENT_BUILT_PLANNED, /* "" where it is as planned */
  PRESENT_N_BUILT_COLUMNS
} PresentBuiltColumn;

typedef enum
{
  PRESENT_EVENT_DATE,
  PRESENT_EVENT_WHAT,
  PRESENT_EVENT_STEP,
  PRESENT_EVENT_WHY, /* issue and reason */
  PRESENT_EVENT_PERSON,
  PRESENT_N_EVENT_COLUMNS
} PresentEventColumn;

typedef enum
{
  PRESENT_HOLDER_ROUND,
  PRESENT_HOLDER_SERIAL,
  PRESENT_HOLDER_BUILT,
  PRESENT_HOLDER_SOURCE, /* by the plan, or as written down */
  PRESENT_HOLDER_STATE,
  PRESENT_N_HOLDER_COLUMNS
} PresentHolderColumn;

char       *present_unit_title     (const InsightAsBuilt      *built) G_GNUC_WARN_UNUSED_RESULT;
char       *present_unit_words     (const InsightAsBuilt      *built) G_GNUC_WARN_UNUSED_RESULT;
const char *present_built_heading  (PresentBuiltColumn         column);
char       *present_built_cell     (const InsightBuiltPart    *part,
                                    PresentBuiltColumn         column) G_GNUC_WARN_UNUSED_RESULT;
const char *present_event_heading  (PresentEventColumn         column);
char       *present_event_cell     (const InsightBuiltEvent   *event,
                                    PresentEventColumn         column) G_GNUC_WARN_UNUSED_RESULT;
char       *present_finding_words  (const InsightBuiltFinding *finding) G_GNUC_WARN_UNUSED_RESULT;
char       *present_holders_words  (const GPtrArray           *holders,
                                    const char                *what) G_GNUC_WARN_UNUSED_RESULT;
const char *present_holder_heading (PresentHolderColumn        column);
char       *present_holder_cell    (const InsightHolder       *holder,
                                    PresentHolderColumn        column) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
