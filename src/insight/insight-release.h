/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Whether it may be said of a gate that its criteria are met, and what else whoever decides must know: what was widened,
 * voided, excused, carried over, waived, entered later. Nothing of that can be left out by choosing what to look at.
 */

#include "insight-issue.h"
#include "insight-standing.h"

G_BEGIN_DECLS

/**
 * InsightStopCode:
 * @INSIGHT_STOP_NO_CRITERIA: nothing is asked for at this gate or before it
 * @INSIGHT_STOP_CRITERIA: criteria that block; names: codes
 * @INSIGHT_STOP_NO_SAFETY: no criterion is about safety
 * @INSIGHT_STOP_SAFETY_ISSUE: safety issues that units do not show to be solved; names: number with title
 * @INSIGHT_STOP_DISPOSITION: units outside a limit of which nobody decided what becomes of them; names: units
 * @INSIGHT_STOP_OTHER_STATE: criteria, met or not, of which everything was measured on another state of design; names: codes
 *
 * While any of these stands, nobody may say that the criteria are met.
 */
typedef enum
{
  INSIGHT_STOP_NO_CRITERIA,
  INSIGHT_STOP_CRITERIA,
  INSIGHT_STOP_NO_SAFETY,
  INSIGHT_STOP_SAFETY_ISSUE,
  INSIGHT_STOP_DISPOSITION,
  INSIGHT_STOP_OTHER_STATE,
  INSIGHT_N_STOPS
} InsightStopCode;

/* @names: %NULL-terminated; @ids: keys of what is named, in the same order. What fails several times is named once. */
typedef struct
{
  InsightStopCode code;
  GPtrArray      *names;
  GArray         *ids; /* gint64 */
} InsightStop;

/* What is to be named about one criterion: an index into the standing's, and one of its reasons. */
typedef struct
{
  guint                criterion;
  const InsightReason *reason;
} InsightRemark;

/**
 * InsightGate:
 * @id: key
 * @criteria: (element-type guint): indices into the standing's criteria: unmet that block first, then unmet, then met
 * @total: criteria
 * @met: of these
 * @block: of these
 * @stops: (element-type InsightStop): by code
 * @may_say_met: nothing stops
 */
typedef struct
{
  gint64     id;
  int        position;
  char      *name;
  GArray    *criteria;
  guint      total;
  guint      met;
  guint      block;
  GPtrArray *stops;
  gboolean   may_say_met;
} InsightGate;

/**
 * InsightRelease:
 * @standing: borrowed
 * @gates: (element-type InsightGate): in order; each asks for the criteria of those before it too
 * @remarks: (element-type InsightRemark): by reason, then criterion
 */
typedef struct
{
  const InsightStanding *standing;
  GPtrArray             *gates;
  GArray                *remarks;
} InsightRelease;

InsightRelease *insight_release      (const BookEvidence    *evidence,
                                      const InsightStanding *standing,
                                      const InsightIssues   *issues,
                                      GCancellable          *cancellable,
                                      GError               **error) G_GNUC_WARN_UNUSED_RESULT;
void            insight_release_free (InsightRelease        *release);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightRelease, insight_release_free)

const char     *insight_stop_name    (InsightStopCode        code);
const InsightStop *insight_gate_find_stop (const InsightGate *gate,
                                           InsightStopCode    code);

G_END_DECLS
