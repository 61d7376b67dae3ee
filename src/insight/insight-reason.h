/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What has to be said beside a figure, as a code with its arguments; the sentences are written above this layer.
 * A code says which arguments it fills: names[], counts[], numbers[], ids[], each from index 0. Dates are names.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * InsightReasonCode:
 * @INSIGHT_REASON_NO_ROUND: the model has no round with a built unit
 * @INSIGHT_REASON_NO_CHARACTERISTIC: the criterion names no characteristic, or not one of its kind
 * @INSIGHT_REASON_LIMITS_MISSING: measured, and no limit in force at the end of the span
 * @INSIGHT_REASON_TERM_MISSING: no term in force: the defaults of the class are used; numbers: share, confidence
 * @INSIGHT_REASON_OTHER_STATE: units built to another state no longer count; names: part or step, what they have, what
 *   is looked for (those of the newest such unit); counts: units; ids: units
 * @INSIGHT_REASON_SPLIT_NEXT_PLAN: the newest round was built in several states; looked for is what the next round takes
 *   (chosen later); names: part, revision, next round
 * @INSIGHT_REASON_SPLIT_LATER: as above, without a next round: the later revision; names: part, revision
 * @INSIGHT_REASON_CARRIED_OVER: units of an older state count because a change is marked carried over; names: change
 *   numbers with titles; counts: units; ids: changes
 * @INSIGHT_REASON_SECOND_PERSON: a carrying over of a safety characteristic lacks a second person, so it does not
 *   count; names: change numbers; counts: units; ids: changes
 * @INSIGHT_REASON_ALTERED: readings taken after an alteration do not count; names: units; counts: readings; ids: units
 * @INSIGHT_REASON_KIND_EARLY: units of a kind of round that does not count here; names: the kind that counts
 *   (prototype, pilot); counts: units
 * @INSIGHT_REASON_LIMIT_WIDENED: a limit was widened after units were measured; names: date (of limits entered after
 *   readings that their own date precedes: the day on which they were entered); numbers: old lower, old
 *   upper, new lower, new upper (infinite: none); ids: change or 0
 * @INSIGHT_REASON_WIDENED_SAFETY: of a safety characteristic, units measured before that widening do not count;
 *   names: date; counts: units
 * @INSIGHT_REASON_OLDER_LIMIT: checks made to an older limit do not count; names: date of the newest limit; counts: units
 * @INSIGHT_REASON_LATER_ATTEMPTS: readings of later attempts are no evidence; counts: units with more than one
 *   attempt, of these: failed at the first and passed at the last
 * @INSIGHT_REASON_VOIDED: voided readings; counts: readings; ids: readings
 * @INSIGHT_REASON_UNDECIDABLE: readings 'above' or 'below' from which inside cannot be told count as failing; counts: units
 * @INSIGHT_REASON_CENSORED: judged by count, because some readings are 'above' or 'below'; counts: units with such
 * @INSIGHT_REASON_SHAPE_UNKNOWN: judged by count, because no shape is stated
 * @INSIGHT_REASON_FITTED: judged by count, because it is fitted at assembly
 * @INSIGHT_REASON_LOG_NORMAL: the log-normal answer decided; numbers: normal answer, log-normal answer
 * @INSIGHT_REASON_NO_VARIATION: all values are equal and the gauge's resolution is not known: no confidence
 * @INSIGHT_REASON_NOT_COMPUTED: the method gave no answer for these data; counts: units at 0 or below whose
 *   values are stated to be log-normal
 * @INSIGHT_REASON_LOTS_FEW: one or two lots only: variation between deliveries not seen; names: part or step; counts: lots
 * @INSIGHT_REASON_LOTS_THIRD: strict, so a third lot or a waiver is needed; names: part or step; counts: lots
 * @INSIGHT_REASON_LOTS_DECIDED: the lowest confidence comes from lots as groups; names: part or step; counts: lots;
 *   numbers: by lots, pooled
 * @INSIGHT_REASON_LOT_UNKNOWN: units without a lot stand together as one; names: part or step; counts: units
 * @INSIGHT_REASON_GAUGE_NOT_STUDIED: no complete study of the gauge: limits are not pulled in for its spread; counts:
 *   trials of a study with gaps, 0 when there is none
 * @INSIGHT_REASON_GUARD_BAND: limits pulled in by a guard band; numbers: its width, and where the gauge was studied the
 *   deviation found; then also names: last day of the study, "" when not known; counts: trials of a newer study with
 *   gaps, 0 when there is none
 * @INSIGHT_REASON_GUARD_TOO_WIDE: limits pulled in from both sides leave nothing between them: nothing is judged;
 *   numbers: the width at each limit
 * @INSIGHT_REASON_GAUGE_OUT: readings by a gauge out of calibration do not count; names: gauges; counts: readings
 * @INSIGHT_REASON_GAUGE_EXCUSED: readings count although their gauge was found out of order later; names: gauge, by,
 *   reason and so on by threes; counts: readings
 * @INSIGHT_REASON_MISSES_NOTHING: assumes the check misses nothing
 * @INSIGHT_REASON_DETECTION: the tolerated share is lowered by how much the check finds; numbers: lower bound of it
 * @INSIGHT_REASON_BELOW_SIX: measured below six units: so far; counts: units
 * @INSIGHT_REASON_NOT_TESTED_YET: the round's testing is not finished: so far; names: rounds
 * @INSIGHT_REASON_DISPOSITION: failing units without a disposition; names: units; ids: units
 * @INSIGHT_REASON_EXCUSED: excused units; names: unit, by, reason and so on by threes (by and reason may be "");
 *   counts: units, of these failing; ids: units
 * @INSIGHT_REASON_LOOKS: looked at several times; counts: looks
 * @INSIGHT_REASON_ATTEMPTS: started again; names: changes; counts: attempt, failures, units that no longer count
 * @INSIGHT_REASON_SURCHARGE: more confidence is wanted because of looks or attempts; numbers: base, now; counts: the
 *   look or attempt it is for
 * @INSIGHT_REASON_PLAN: judged by a declared plan; counts: units planned, failures allowed, units done
 * @INSIGHT_REASON_PLAN_INCOMPLETE: the declared plan is not complete; counts: as above
 * @INSIGHT_REASON_PLAN_LATE: the plan was declared after the first counted reading, so it is none; names:
 *   dates of both; the second one "" where only its entry in the book came too late
 * @INSIGHT_REASON_COUNT_NOT_SAFETY: a pass or fail count alone does not meet a safety criterion unless the owner sets the share by name
 * @INSIGHT_REASON_COUNT_DONE: k of n done; counts: k, n; names: what is not done
 * @INSIGHT_REASON_WAIVED: excepted by name; names: by, until, reason
 * @INSIGHT_REASON_ENTERED_LATER: what counts by its date was entered only after the round looked through was decided;
 *   names: round; counts: readings, units, limits in force (0 or 1)
 * @INSIGHT_REASON_AFTER_ROUND: dated after the newest round was decided, so it counts for nothing; names: round; counts:
 *   readings, life tests
 * @INSIGHT_REASON_FAILED_AFTER: units that failed in these; names: units; ids: units
 * @INSIGHT_REASON_ISSUE_NO_TEST: no test shows the issue
 * @INSIGHT_REASON_ISSUE_NO_CHANGE: no change answers the issue
 * @INSIGHT_REASON_ISSUE_NO_STATE: the change that answers it brings no new revision or setting; names: change
 * @INSIGHT_REASON_ISSUE_NOT_BUILT: no unit was built with the change yet; names: change
 * @INSIGHT_REASON_ISSUE_NOT_REPRODUCED: the test did not show the failure on the old state, nor was the cause switched
 *   on and off; counts: units of the old state that were tested
 * @INSIGHT_REASON_ISSUE_UNITS: further units without a failure are needed; counts: further units, counted so far
 * @INSIGHT_REASON_ISSUE_LOAD: units did not reach the load at which it appeared, or nobody wrote it down; counts:
 *   units; numbers: load
 * @INSIGHT_REASON_ISSUE_CYCLES: units did not reach the cycles needed, or nobody wrote them down; counts: units;
 *   numbers: cycles
 * @INSIGHT_REASON_ISSUE_LUCK: the difference between before and after may be luck; counts: failing and units before,
 *   failing and units after; numbers: Fisher's chance
 * @INSIGHT_REASON_ISSUE_CAME_BACK: units of the new state show it; names: units; counts: units; ids: units
 * @INSIGHT_REASON_ISSUE_OTHER_MODE: units whose test another issue ended do not count; counts: units
 * @INSIGHT_REASON_ISSUE_OTHER_STATE: units with the change were built to a state of design that no longer counts;
 *   names: what else changed since; counts: units
 * @INSIGHT_REASON_ISSUE_BEFORE_CHANGE: units with the change were tested before the date of the change; names: change;
 *   counts: units
 * @INSIGHT_REASON_ISSUE_NOT_SHOWN: closed as proven, but the units do not show it; names: date, by
 * @INSIGHT_REASON_CHANGED_BY: the changes by which units no longer count; names: change numbers with titles, none where
 *   no change says why; ids: changes
 * @INSIGHT_REASON_NO_ISSUE: the criterion names no issue
 * @INSIGHT_REASON_ISSUES_EXCEPTED: issues closed by name as accepted or not reproduced are not asked for; names: number
 *   with title, by, outcome and so on by threes; counts: issues
 * @INSIGHT_REASON_STEPS_UNCOUNTED: outside steps at which nothing was counted; names: steps
 * @INSIGHT_REASON_IN_HAND: units in hand, neither good nor scrapped; counts: units
 * @INSIGHT_REASON_TALLIES_LEFT_OUT: tallies at steps whose units have events do not count; counts: tallies
 * @INSIGHT_REASON_STEPS_LEFT_OUT: steps without a bench, minutes or supplier's days are not in the rate; names: steps
 * @INSIGHT_REASON_CONSTRAINT: the least bench; names: bench or outside step; numbers: a month, of these a plan takes
 * @INSIGHT_REASON_RUN_DAYS: too few run days for a confidence; counts: run days
 * @INSIGHT_REASON_NO_TARGET: neither the criterion nor the model says how many a month
 * @INSIGHT_REASON_LIFE_CYCLES: the criterion does not say how many cycles are wanted
 * @INSIGHT_REASON_LIFE_SHAPE: below three failures of a mode, and no range of shapes was stated beforehand
 * @INSIGHT_REASON_LIFE_LOAD: units stopped under less than the load asked for do not count; counts: units; numbers: load
 * @INSIGHT_REASON_LIFE_MODES: ways of failing looked at apart; names: titles of issues, "" where none was named; counts: ways
 * @INSIGHT_REASON_LIFE_STOPPED: no unit ran beyond the last failure, nor as far as planned: it cannot be met
 * @INSIGHT_REASON_LIFE_OTHER_STATE: tested units of another state of design do not count; counts: units
 * @INSIGHT_REASON_STUDY_GAPS: the newest study has gaps and does not count; counts: its trials
 * @INSIGHT_REASON_STUDY: the study that counts; names: gauge, last day; counts: persons, pieces, trials each, categories
 * @INSIGHT_REASON_NO_TOLERANCE: without two limits there is no tolerance
 * @INSIGHT_REASON_INSPECTORS: by the inspector for whom it is least; counts: inspectors, caught, tried
 * @INSIGHT_REASON_IN_ADDITION: a check on every unit is in addition to a strength that is shown, never instead
 * @INSIGHT_REASON_STEPS_WANTED: steps in the shop at which nothing was counted: losses there are not known; names: steps
 * @INSIGHT_REASON_SET_ASIDE: units set aside at a step are neither good nor counted; counts: units
 */
typedef enum
{
  INSIGHT_REASON_NO_ROUND,
  INSIGHT_REASON_NO_CHARACTERISTIC,
  INSIGHT_REASON_LIMITS_MISSING,
  INSIGHT_REASON_TERM_MISSING,
  INSIGHT_REASON_OTHER_STATE,
  INSIGHT_REASON_SPLIT_NEXT_PLAN,
  INSIGHT_REASON_SPLIT_LATER,
  INSIGHT_REASON_CARRIED_OVER,
  INSIGHT_REASON_SECOND_PERSON,
  INSIGHT_REASON_ALTERED,
  INSIGHT_REASON_KIND_EARLY,
  INSIGHT_REASON_LIMIT_WIDENED,
  INSIGHT_REASON_WIDENED_SAFETY,
  INSIGHT_REASON_OLDER_LIMIT,
  INSIGHT_REASON_LATER_ATTEMPTS,
  INSIGHT_REASON_VOIDED,
  INSIGHT_REASON_UNDECIDABLE,
  INSIGHT_REASON_CENSORED,
  INSIGHT_REASON_SHAPE_UNKNOWN,
  INSIGHT_REASON_FITTED,
  INSIGHT_REASON_LOG_NORMAL,
  INSIGHT_REASON_NO_VARIATION,
  INSIGHT_REASON_NOT_COMPUTED,
  INSIGHT_REASON_LOTS_FEW,
  INSIGHT_REASON_LOTS_THIRD,
  INSIGHT_REASON_LOTS_DECIDED,
  INSIGHT_REASON_LOT_UNKNOWN,
  INSIGHT_REASON_GAUGE_NOT_STUDIED,
  INSIGHT_REASON_GUARD_BAND,
  INSIGHT_REASON_GUARD_TOO_WIDE,
  INSIGHT_REASON_GAUGE_OUT,
  INSIGHT_REASON_GAUGE_EXCUSED,
  INSIGHT_REASON_MISSES_NOTHING,
  INSIGHT_REASON_DETECTION,
  INSIGHT_REASON_BELOW_SIX,
  INSIGHT_REASON_NOT_TESTED_YET,
  INSIGHT_REASON_DISPOSITION,
  INSIGHT_REASON_EXCUSED,
  INSIGHT_REASON_LOOKS,
  INSIGHT_REASON_ATTEMPTS,
  INSIGHT_REASON_SURCHARGE,
  INSIGHT_REASON_PLAN,
  INSIGHT_REASON_PLAN_INCOMPLETE,
  INSIGHT_REASON_PLAN_LATE,
  INSIGHT_REASON_COUNT_NOT_SAFETY,
  INSIGHT_REASON_COUNT_DONE,
  INSIGHT_REASON_WAIVED,
  INSIGHT_REASON_ENTERED_LATER,
  INSIGHT_REASON_ISSUE_NO_TEST,
  INSIGHT_REASON_ISSUE_NO_CHANGE,
  INSIGHT_REASON_ISSUE_NO_STATE,
  INSIGHT_REASON_ISSUE_NOT_BUILT,
  INSIGHT_REASON_ISSUE_NOT_REPRODUCED,
  INSIGHT_REASON_ISSUE_UNITS,
  INSIGHT_REASON_ISSUE_LOAD,
  INSIGHT_REASON_ISSUE_CYCLES,
  INSIGHT_REASON_ISSUE_LUCK,
  INSIGHT_REASON_ISSUE_CAME_BACK,
  INSIGHT_REASON_ISSUE_OTHER_MODE,
  INSIGHT_REASON_ISSUE_OTHER_STATE,
  INSIGHT_REASON_ISSUE_BEFORE_CHANGE,
  INSIGHT_REASON_ISSUE_NOT_SHOWN,
  INSIGHT_REASON_CHANGED_BY,
  INSIGHT_REASON_NO_ISSUE,
  INSIGHT_REASON_ISSUES_EXCEPTED,
  INSIGHT_REASON_STEPS_UNCOUNTED,
  INSIGHT_REASON_IN_HAND,
  INSIGHT_REASON_TALLIES_LEFT_OUT,
  INSIGHT_REASON_STEPS_LEFT_OUT,
  INSIGHT_REASON_CONSTRAINT,
  INSIGHT_REASON_RUN_DAYS,
  INSIGHT_REASON_NO_TARGET,
  INSIGHT_REASON_LIFE_CYCLES,
  INSIGHT_REASON_LIFE_SHAPE,
  INSIGHT_REASON_LIFE_LOAD,
  INSIGHT_REASON_LIFE_MODES,
  INSIGHT_REASON_LIFE_STOPPED,
  INSIGHT_REASON_LIFE_OTHER_STATE,
  INSIGHT_REASON_STUDY_GAPS,
  INSIGHT_REASON_STUDY,
  INSIGHT_REASON_NO_TOLERANCE,
  INSIGHT_REASON_INSPECTORS,
  INSIGHT_REASON_IN_ADDITION,
  INSIGHT_REASON_STEPS_WANTED,
  INSIGHT_REASON_SET_ASIDE,
  INSIGHT_REASON_AFTER_ROUND,
  INSIGHT_REASON_FAILED_AFTER,
  INSIGHT_N_REASONS
} InsightReasonCode;

/**
 * InsightReason:
 * @code: what it is
 * @names: (array zero-terminated=1): never %NULL
 * @counts: (array length=n_counts):
 * @numbers: (array length=n_numbers):
 * @ids: (array length=n_ids): keys of records
 */
typedef struct
{
  InsightReasonCode code;
  char            **names;
  gint64           *counts;
  double           *numbers;
  gint64           *ids;
  guint             n_counts;
  guint             n_numbers;
  guint             n_ids;
} InsightReason;

const char          *insight_reason_code_name (InsightReasonCode code);

InsightReason       *insight_reason_new        (InsightReasonCode code) G_GNUC_WARN_UNUSED_RESULT;
void                 insight_reason_free       (InsightReason    *reason);
/* Appends what the sentence will tell, in the order in which the code lists it; @name is copied. */
void                 insight_reason_add_name   (InsightReason    *reason,
                                                const char       *name);
void                 insight_reason_add_count  (InsightReason    *reason,
                                                gint64            count);
void                 insight_reason_add_number (InsightReason    *reason,
                                                double            number);
void                 insight_reason_add_id     (InsightReason    *reason,
                                                gint64            id);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightReason, insight_reason_free)

G_END_DECLS
