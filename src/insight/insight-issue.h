/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where each issue of a model stands: open, not seen again, proven, came back; what is still missing; how often it was
 * found; how long it took. An issue is proven by units only, never by what somebody wrote in its outcome.
 */

#include "book-day.h"
#include "insight-standing.h"

G_BEGIN_DECLS

/**
 * InsightIssueState:
 * @INSIGHT_ISSUE_OPEN: no unit of the new state speaks yet, or nothing was changed
 * @INSIGHT_ISSUE_NOT_AGAIN: units of the new state do not show it, but that proves nothing yet
 * @INSIGHT_ISSUE_PROVEN: reproduced before, counted units of the new state reach the confidence wanted, and before and
 *   after differ
 * @INSIGHT_ISSUE_CAME_BACK: a unit of the new state shows it
 */
typedef enum
{
  INSIGHT_ISSUE_OPEN,
  INSIGHT_ISSUE_NOT_AGAIN,
  INSIGHT_ISSUE_PROVEN,
  INSIGHT_ISSUE_CAME_BACK,
  INSIGHT_N_ISSUE_STATES
} InsightIssueState;

/* From the day found to the day that … */
typedef enum
{
  INSIGHT_ISSUE_CONTAINED,
  INSIGHT_ISSUE_CAUSE_KNOWN,
  INSIGHT_ISSUE_FIX_PROVEN,
  INSIGHT_N_ISSUE_DAYS
} InsightIssueDaysKind;

/**
 * InsightIssueFinding:
 * @id: key
 * @no: number within the issue
 * @unit: its serial, or "" for a lot or counts
 * @unit_id: its key, or 0
 * @round: label of the unit's round, or of the day's; "" when not known
 * @lot: its number, ""
 * @affected: of counted units; 0 of 0: not counted
 * @found_at: name of the step, ""
 * @caused_at: name of the step, ""
 * @by: initials of who decided, ""
 * @date: on which was decided, ""
 * @disposition: 0: none yet
 */
typedef struct
{
  gint64          id;
  int             no;
  char           *unit;
  gint64          unit_id;
  char           *round;
  char           *lot;
  guint           affected;
  guint           inspected;
  char           *found_at;
  char           *caused_at;
  gboolean        in_field;
  BookDisposition disposition;
  char           *by;
  char           *date;
  char           *reason;
  gboolean        excused;
} InsightIssueFinding;

/**
 * InsightIssue:
 * @id: key
 * @no: number in the model
 * @klass: safety, function or appearance
 * @found_round: label of the round, "" when not said
 * @found_round_id: its key, 0 when not said
 * @found: date, "" when not known
 * @seen_by: code of the characteristic whose test shows it, "" without one
 * @characteristic: its key, or 0
 * @in_life_test: life tests show it
 * @has_test: something shows it
 * @cause: in the words of the book
 * @cause_basis: 0: not said
 * @owner: key of the person, or 0
 * @closed: date on which it was closed in the book by the end of the span, "" while it was not
 * @outcome: written down then, 0: none; says nothing about @state
 * @change: key of the newest change that answers it and is built, else of the newest; 0: none
 * @change_no: its number
 * @change_title: its title, "" without one
 * @changes: keys of all changes that answer it and were not withdrawn
 * @state: by the units
 * @was_proven: proven at some earlier look
 * @tolerated: share of units that may show it
 * @wanted_base: confidence wanted, without surcharge
 * @wanted: at the present attempt
 * @strict: attempts cost confidence
 * @confidence: that less than @tolerated of the units of the new state show it; NAN without units
 * @fisher: chance of so few after by luck alone if nothing had changed, one-sided; NAN without units before or after
 * @reproduced: the test in use showed it on the old state, or its cause was switched on and off
 * @before_n: counted units of the old state
 * @before_failed: of these showing it
 * @after_n: counted units of the new state
 * @after_failed: of these showing it
 * @looks: rounds with new counted units
 * @attempts: 1 and the times it came back or a failure no longer counts
 * @earlier_failures: failures that no longer count
 * @needed_load: to be reached by a unit that counts, NAN: none
 * @needed_cycles: as above: 1.5 times those at which it appeared
 * @units_needed: further units if none shows it; 0: enough; -1: no number would do, or nothing to count
 * @before: units of @before_n
 * @after: units of @after_n
 * @after_failing: units of @after_failed
 * @recurring: found in more than one round, or came back
 * @findings: (element-type InsightIssueFinding): in the book's order
 * @n_findings: written down
 * @n_units: different units among them
 * @n_lots: different lots
 * @affected: of those counted without serials
 * @inspected: likewise
 * @n_rounds: rounds in which it was found
 * @in_field: found after delivery
 * @dates: contained, cause known, proven; "" while not (proven: the day of the last reading that proved it)
 * @days: working days from found to those, half a day on the same day; to the end of the span while not; NAN when the
 *   day found is not known
 * @age: working days from found to closed or to the end of the span
 * @reasons: (element-type InsightReason): what is missing, most important first
 */
typedef struct
{
  gint64            id;
  int               no;
  char             *title;
  BookClass         klass;
  char             *found_round;
  gint64            found_round_id;
  char             *found;
  char             *seen_by;
  gint64            characteristic;
  gboolean          in_life_test;
  gboolean          has_test;
  char             *cause;
  BookCauseBasis    cause_basis;
  gint64            owner;
  char             *closed;
  BookIssueOutcome  outcome;
  gint64            change;
  int               change_no;
  char             *change_title;
  InsightIds        changes;
  InsightIssueState state;
  gboolean          was_proven;
  double            tolerated;
  double            wanted_base;
  double            wanted;
  gboolean          strict;
  double            confidence;
  double            fisher;
  gboolean          reproduced;
  guint             before_n;
  guint             before_failed;
  guint             after_n;
  guint             after_failed;
  guint             looks;
  guint             attempts;
  guint             earlier_failures;
  double            needed_load;
  double            needed_cycles;
  int               units_needed;
  InsightIds        before;
  InsightIds        after;
  InsightIds        after_failing;
  gboolean          recurring;
  GPtrArray        *findings;
  guint             n_findings;
  guint             n_units;
  guint             n_lots;
  guint             affected;
  guint             inspected;
  guint             n_rounds;
  gboolean          in_field;
  char             *dates[INSIGHT_N_ISSUE_DAYS];
  double            days[INSIGHT_N_ISSUE_DAYS];
  double            age;
  GPtrArray        *reasons;
} InsightIssue;

/**
 * InsightIssueAges:
 * @n: issues with a day found; duplicates are left out
 * @n_ended: of these ended
 * @n_open: of these not ended
 * @median: working days, open ones as unfinished; NAN when fewer than half have ended
 * @low: lower end of its interval at 0.90; NAN
 * @high: upper end; NAN
 * @least: of the ended ones; NAN
 * @most: of the ended ones; NAN
 */
typedef struct
{
  guint  n;
  guint  n_ended;
  guint  n_open;
  double median;
  double low;
  double high;
  double least;
  double most;
} InsightIssueAges;

/* How many issues were found, and how many of them proven, by the end of @day. */
typedef struct
{
  BookDay day;
  guint   found;
  guint   proven;
} InsightIssuePoint;

/* A round's span on the axis of days: opened to decided or to the end of the span. */
typedef struct
{
  gint64  id;
  char   *label;
  BookDay from;
  BookDay to;
} InsightIssueRound;

/**
 * InsightIssues:
 * @model: key
 * @round: key of the round looked through, 0 without rounds
 * @end: last day of the span
 * @issues: (element-type InsightIssue): by number
 * @n_states: issues by state, without those closed as something else than proven
 * @n_closed: issues closed as duplicate, not reproduced or accepted, which did not come back
 * @ages: by #InsightIssueDaysKind
 * @points: (element-type InsightIssuePoint): in order of days; the last one at the end of the span
 * @rounds: (element-type InsightIssueRound): in order
 */
typedef struct
{
  gint64           model;
  char            *model_code;
  gint64           round;
  char            *round_label;
  char            *end;
  GPtrArray       *issues;
  guint            n_states[INSIGHT_N_ISSUE_STATES];
  guint            n_closed;
  InsightIssueAges ages[INSIGHT_N_ISSUE_DAYS];
  GArray          *points;
  GPtrArray       *rounds;
} InsightIssues;

InsightIssues      *insight_issues            (const BookEvidence  *evidence,
                                               const InsightSpan   *span,
                                               GCancellable        *cancellable,
                                               GError             **error) G_GNUC_WARN_UNUSED_RESULT;
void                insight_issues_free       (InsightIssues       *issues);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightIssues, insight_issues_free)

const InsightIssue *insight_issues_find       (const InsightIssues *issues,
                                               gint64               id);
gboolean            insight_issue_is_closed   (const InsightIssue  *issue);
const char         *insight_issue_state_name  (InsightIssueState    state);

G_END_DECLS
