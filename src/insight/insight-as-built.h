/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One unit as it was built: the revision and lot of each part, the batch of each step, where that is not what the plan
 * said, what happened to it since, and from when it is another state than it was. And the other way round: the units that
 * a lot or a revision went into.
 */

#include <glib.h>

#include "book-choices.h"

G_BEGIN_DECLS

typedef struct _BookEvidence BookEvidence; /* book-evidence.h */

/**
 * InsightBuiltPart:
 * @row: key of the unit's own row about it; 0: only the plan speaks
 * @part: key of the part; 0: a step
 * @step: key of the step; 0: a part
 * @name: number and name of the part, or name of the step
 * @revision: label, "" where nobody said which, or for a step
 * @revision_id: its key, 0
 * @lot: number, "" without one
 * @lot_id: its key, 0
 * @planned_revision: what the plan of its round takes, "" likewise
 * @planned_lot: likewise
 * @is_split: the plan takes several revisions and this unit does not say which
 * @differs: built otherwise than planned
 *
 * Strings are borrowed from the evidence but for @name.
 */
typedef struct
{
  gint64      row;
  gint64      part;
  gint64      step;
  char       *name;
  const char *revision;
  gint64      revision_id;
  const char *lot;
  gint64      lot_id;
  const char *planned_revision;
  const char *planned_lot;
  gboolean    is_split;
  gboolean    differs;
} InsightBuiltPart;

/**
 * InsightBuiltEvent:
 * @date: "" when not known
 * @step: name, ""
 * @issue: key, 0
 * @issue_no: number in the model, 0
 * @issue_title: ""
 * @by: initials, ""
 *
 * Strings are borrowed but for @date.
 */
typedef struct
{
  char         *date;
  const char   *step;
  BookEventKind kind;
  gint64        issue;
  int           issue_no;
  const char   *issue_title;
  const char   *by;
  const char   *reason;
} InsightBuiltEvent;

/**
 * InsightBuiltFinding:
 * @issue: key
 * @disposition: 0: nobody decided yet
 * @excused: the unit counts for no criterion
 * @by: initials of who decided, ""
 * @date: on which was decided, ""
 *
 * An issue that was seen on the unit. Strings are borrowed but for @date.
 */
typedef struct
{
  gint64          issue;
  int             issue_no;
  const char     *issue_title;
  BookDisposition disposition;
  gboolean        excused;
  const char     *by;
  char           *date;
  const char     *reason;
} InsightBuiltFinding;

/**
 * InsightAsBuilt:
 * @unit: key
 * @serial: or bag number
 * @round: label of its round
 * @round_id: its key
 * @part: number and name of the part that it is one of, "" for the product
 * @built: date, "" while it is only planned
 * @parts: (element-type InsightBuiltPart)
 * @events: (element-type InsightBuiltEvent): in order
 * @findings: (element-type InsightBuiltFinding)
 * @altered: index into @events of the first alteration: readings since then are of another state; -1: none
 * @kept: (array zero-terminated=1): codes of the characteristics that nevertheless count after every alteration
 * @aside: index into @events of the first setting aside: from then on it counts for nothing; -1: none
 */
typedef struct
{
  gint64      unit;
  const char *serial;
  const char *round;
  gint64      round_id;
  char       *part;
  char       *built;
  GPtrArray  *parts;
  GPtrArray  *events;
  GPtrArray  *findings;
  int         altered;
  char      **kept;
  int         aside;
} InsightAsBuilt;

/**
 * InsightHolder:
 * @unit: key
 * @serial: borrowed
 * @round: label, borrowed
 * @built: date, "" while only planned
 * @is_planned: by the plan of its round alone; else by what was written down for the unit
 * @failed: an issue was found on it
 * @aside: set aside, or excused
 *
 * A unit that holds a lot or a revision.
 */
typedef struct
{
  gint64      unit;
  const char *serial;
  const char *round;
  char       *built;
  gboolean    is_planned;
  gboolean    failed;
  gboolean    aside;
} InsightHolder;

InsightAsBuilt *insight_as_built       (const BookEvidence *evidence,
                                        gint64              unit) G_GNUC_WARN_UNUSED_RESULT;
void            insight_as_built_free  (InsightAsBuilt     *built);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightAsBuilt, insight_as_built_free)

GPtrArray      *insight_holders        (const BookEvidence *evidence,
                                        gint64              lot,
                                        gint64              revision) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
