/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The issues of a model in words: a row of the list for each, and one issue as a whole. Window, paper and command line
 * show the same strings.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-issue.h"

G_BEGIN_DECLS

/**
 * PresentIssueRow:
 * @data: what it says; borrowed from the issues
 * @no: its number
 * @title: in the words of the book
 * @klass: 'safety', 'function', 'appearance'
 * @state: 'open', 'not seen again on 12 units', 'proven at 93 % on 45 units', 'came back', or how it was closed
 * @mark: the state as one shape
 * @recurring: 'recurring', or ""
 * @found_round: label, or ""
 * @found: date, or ""
 * @age: '14 days', "" when not known
 * @before: '4 of 6' units of the old state failing, "" without such units
 * @after: '0 of 12' of the new state
 * @n: counted units of the new state as a figure
 * @confidence: reached, rounded down; "" when none can be told
 */
typedef struct
{
  const InsightIssue *data;
  char               *no;
  const char         *title;
  const char         *klass;
  char               *state;
  const char         *mark;
  const char         *recurring;
  const char         *found_round;
  const char         *found;
  char               *age;
  char               *before;
  char               *after;
  char               *n;
  char               *confidence;
} PresentIssueRow;

/**
 * PresentIssues:
 * @data: (transfer full): the issues
 * @headline: '3 open, 1 came back, 2 not seen again, 4 shown to work'
 * @days: sentences about the days from found to contained, cause known, and shown to work, by #InsightIssueDaysKind; ""
 *   without data
 * @rows: (element-type PresentIssueRow): in the order of numbers
 * @caution: (nullable): to be shown when an issue is about safety
 */
typedef struct
{
  InsightIssues *data;
  char          *headline;
  char          *days[INSIGHT_N_ISSUE_DAYS];
  GPtrArray     *rows;
  const char    *caution;
} PresentIssues;

/**
 * PresentIssueDetail:
 * @sentence: where it stands, in whole sentences
 * @before_after: what failed before and after, and how likely luck alone is; "" without units of both
 * @missing: (element-type utf8): what is missing and what stands beside the figures, one sentence each
 * @findings: (element-type utf8): a line each, in the order of the issue's findings
 * @counted: how often it was found, in one line
 * @cause: the cause and how it is known; "" when not said
 * @dates: found, contained, cause known and shown to work with days, one line
 * @figures: in one line
 * @method: how the confidence was computed
 */
typedef struct
{
  char      *sentence;
  char      *before_after;
  GPtrArray *missing;
  GPtrArray *findings;
  char      *counted;
  char      *cause;
  char      *dates;
  char      *figures;
  char      *method;
} PresentIssueDetail;

PresentIssues      *present_issues_new        (InsightIssues            *issues) G_GNUC_WARN_UNUSED_RESULT;
void                present_issues_free       (PresentIssues            *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentIssues, present_issues_free)

PresentIssueDetail *present_issue_detail_new  (const InsightIssue       *issue) G_GNUC_WARN_UNUSED_RESULT;
void                present_issue_detail_free (PresentIssueDetail       *detail);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentIssueDetail, present_issue_detail_free)

char               *present_issue_state       (const InsightIssue        *issue) G_GNUC_WARN_UNUSED_RESULT;
const char         *present_issue_mark        (const InsightIssue        *issue);
char               *present_issue_sentence    (const InsightIssue        *issue) G_GNUC_WARN_UNUSED_RESULT;
char               *present_issue_finding     (const InsightIssueFinding *finding,
                                               gboolean                   with_person) G_GNUC_WARN_UNUSED_RESULT;
char               *present_issues_to_text    (const PresentIssues       *present,
                                               guint                      width) G_GNUC_WARN_UNUSED_RESULT;
char               *present_issue_to_text     (const InsightIssue        *issue,
                                               guint                      width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode           *present_json_issues       (const PresentIssues       *present,
                                               const InsightIssue        *only) G_GNUC_WARN_UNUSED_RESULT;
Chart              *present_chart_issues      (const InsightIssues       *issues,
                                               gboolean                   with_title) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
