/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Issues in words: every state, the list, one issue as a whole, the document, the marks of the chart. */

#include "config.h"

#include "present-issue.h"

#include "book-evidence.h"
#include "chart-table.h"
#include "chart-test.h"
#include "present-json.h"
#include "present-reading.h"

#include <math.h>
#include <string.h>

/* An issue of which nothing is known but that it was found; freed with its list. */
static InsightIssue *
add_issue (InsightIssues *issues, InsightIssueState state)
{
  InsightIssue *issue = g_new0 (InsightIssue, 1);

  issue->id = 100 + issues->issues->len;
  issue->no = (int) issues->issues->len + 1;
  issue->title = g_strdup ("Lever sticks");
  issue->klass = BOOK_CLASS_FUNCTION;
  issue->found_round = g_strdup ("P1");
  issue->found = g_strdup ("2026-01-26");
  issue->seen_by = g_strdup ("LV");
  issue->cause = g_strdup ("");
  issue->closed = g_strdup ("");
  issue->change_title = g_strdup ("Radius 0.6 mm");
  issue->change_no = 4;
  issue->state = state;
  issue->tolerated = 0.10;
  issue->wanted_base = 0.90;
  issue->wanted = 0.95;
  issue->strict = TRUE;
  issue->confidence = state == INSIGHT_ISSUE_OPEN ? NAN : 0.9519;
  issue->fisher = state == INSIGHT_ISSUE_OPEN ? NAN : 0.00026;
  issue->before_n = 10;
  issue->before_failed = 5;
  issue->after_n = state == INSIGHT_ISSUE_OPEN ? 0 : 33;
  issue->after_failed = state == INSIGHT_ISSUE_CAME_BACK ? 1 : 0;
  issue->looks = issue->attempts = 1;
  issue->needed_load = issue->needed_cycles = NAN;
  issue->findings = g_ptr_array_new ();
  issue->reasons = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_reason_free);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    {
      issue->dates[i] = g_strdup (i == INSIGHT_ISSUE_CONTAINED ? "2026-01-26" : "");
      issue->days[i] = i == INSIGHT_ISSUE_CONTAINED ? 0.5 : 14;
    }
  issue->age = 14;
  g_ptr_array_add (issues->issues, issue);
  issues->n_states[state]++;
  return issue;
}

static InsightIssues *
issues_new (void)
{
  g_autoptr(BookEvidence) evidence = book_evidence_new ();
  g_autoptr(GError) error = NULL;
  InsightSpan span = { 0, "2026-02-13" };
  InsightIssues *issues = insight_issues (evidence, &span, NULL, &error);

  g_assert_no_error (error);
  return issues;
}

static void
check_state (const InsightIssue *issue, const char *mark, const char *state, const char *sentence)
{
  g_autofree char *words = present_issue_state (issue);
  g_autofree char *whole = present_issue_sentence (issue);

  g_assert_cmpstr (present_issue_mark (issue), ==, mark);
  g_assert_cmpstr (words, ==, state);
  g_assert_cmpstr (whole, ==, sentence);
}

#define SUPPORT \
  " The tests support \"at least 90 in 100 units do not show it\" at 95 % confidence (wanted: 95 %), if the units tested " \
  "are like those to be sold."

static void
test_states (void)
{
  g_autoptr(InsightIssues) issues = issues_new ();
  InsightIssue *issue;

  issue = add_issue (issues, INSIGHT_ISSUE_OPEN);
  check_state (issue, "○", "open", "It is open: no unit that counts speaks for change 4 Radius 0.6 mm yet.");
  issue->change_no = 0;
  check_state (issue, "○", "open", "It is open, and no change answers it yet.");

  issue = add_issue (issues, INSIGHT_ISSUE_NOT_AGAIN);
  check_state (issue, "◐", "not seen again on 33 units",
               "It was not seen again on 33 units with change 4 Radius 0.6 mm." SUPPORT);
  issue->after_n = 1;
  check_state (issue, "◐", "not seen again on 1 unit",
               "It was not seen again on 1 unit with change 4 Radius 0.6 mm." SUPPORT);

  issue = add_issue (issues, INSIGHT_ISSUE_PROVEN);
  check_state (issue, "●", "proven at 95 % on 33 units", "Change 4 Radius 0.6 mm is shown to work on 33 units." SUPPORT);

  issue = add_issue (issues, INSIGHT_ISSUE_CAME_BACK);
  check_state (issue, "↺", "came back", "It came back with change 4 Radius 0.6 mm: failing 1 of 33." SUPPORT);

  issue->outcome = BOOK_OUTCOME_ACCEPTED;
  g_free (issue->closed);
  issue->closed = g_strdup ("2026-02-01");
  check_state (issue, "–", "Accepted as it is", "It was closed on 2026-02-01: Accepted as it is.");
  issue->outcome = BOOK_OUTCOME_PROVEN; /* says somebody */
  g_assert_cmpstr (present_issue_mark (issue), ==, "↺");
}

static void
test_list (void)
{
  InsightIssues *issues = issues_new ();
  g_autoptr(PresentIssues) present = NULL;
  g_autofree char *text = NULL;
  const PresentIssueRow *row;

  add_issue (issues, INSIGHT_ISSUE_OPEN);
  add_issue (issues, INSIGHT_ISSUE_CAME_BACK)->recurring = TRUE;
  add_issue (issues, INSIGHT_ISSUE_PROVEN)->klass = BOOK_CLASS_SAFETY;
  issues->n_closed = 2;
  present = present_issues_new (issues);
  g_assert_cmpstr (present->headline, ==, "1 open, 1 came back, 1 shown to be solved, 2 closed otherwise");
  g_assert_nonnull (present->caution);
  row = present->rows->pdata[0];
  g_assert_cmpstr (row->before, ==, "5 of 10");
  g_assert_cmpstr (row->after, ==, "");
  g_assert_cmpstr (row->confidence, ==, "");
  g_assert_cmpstr (row->age, ==, "14 days");
  g_assert_cmpstr (row->recurring, ==, "");
  row = present->rows->pdata[1];
  g_assert_cmpstr (row->after, ==, "1 of 33");
  g_assert_cmpstr (row->n, ==, "33");
  g_assert_cmpstr (row->confidence, ==, "95 %");
  g_assert_cmpstr (row->recurring, ==, "recurring");
  text = present_issues_to_text (present, 100);
  g_assert_nonnull (strstr (text, "came back, recurring"));
  g_assert_nonnull (strstr (text, "not a safety certificate"));
}

static void
test_nothing (void)
{
  g_autoptr(PresentIssues) present = present_issues_new (issues_new ());
  g_autofree char *text = present_issues_to_text (present, 100);

  g_assert_cmpstr (present->headline, ==, "No issue yet");
  g_assert_cmpstr (present->days[0], ==, "");
  g_assert_null (present->caution);
  g_assert_nonnull (strstr (text, "No issue yet"));
}

static void
check_days (const InsightIssueAges *ages, const char *expected)
{
  InsightIssues *issues = issues_new ();
  g_autoptr(PresentIssues) present = NULL;

  issues->ages[INSIGHT_ISSUE_CONTAINED] = *ages;
  present = present_issues_new (issues);
  g_assert_cmpstr (present->days[INSIGHT_ISSUE_CONTAINED], ==, expected);
}

static void
test_days (void)
{
  check_days (&(InsightIssueAges){ 9, 7, 2, 5, 1, 10, 0.5, 10 },
              "From found to contained: half of them within 5 working days, at 90 % confidence 1 to 10 (n 9, unfinished 2).");
  check_days (&(InsightIssueAges){ 9, 7, 2, 5, 1, NAN, 0.5, 10 },
              "From found to contained: half of them within 5 working days (n 9, unfinished 2).");
  check_days (&(InsightIssueAges){ 8, 5, 3, 1, 0.5, NAN, 0.5, 4 },
              "From found to contained: 0.5 to 4 working days (n 8, unfinished 3).");
  check_days (&(InsightIssueAges){ 3, 0, 3, NAN, NAN, NAN, NAN, NAN }, "From found to contained: none yet (n 3).");
}

static void
check_finding (const InsightIssueFinding *finding, gboolean with_person, const char *expected)
{
  g_autofree char *line = present_issue_finding (finding, with_person);

  g_assert_cmpstr (line, ==, expected);
}

static void
test_findings (void)
{
  char none[] = "", unit[] = "P1-02", round[] = "P1", step[] = "Inspect", mill[] = "Mill", by[] = "EH", date[] = "2026-01-27";
  char reason[] = "lock slipped", lot[] = "S-42";
  InsightIssueFinding finding = { .unit = unit, .round = round, .lot = none, .found_at = step, .caused_at = mill,
                                  .disposition = BOOK_DISPOSITION_SCRAP, .by = by, .date = date, .reason = reason };

  check_finding (&finding, TRUE, "P1-02 (P1), found at Inspect, caused at Mill; Scrap, EH 2026-01-27: lock slipped");
  check_finding (&finding, FALSE, "P1-02 (P1), found at Inspect, caused at Mill; Scrap, 2026-01-27: lock slipped");
  finding.excused = TRUE;
  finding.in_field = TRUE;
  finding.caused_at = none;
  check_finding (&finding, FALSE, "P1-02 (P1), found after delivery; Scrap, does not count, 2026-01-27: lock slipped");
  finding = (InsightIssueFinding){ .unit = none, .round = none, .lot = lot, .affected = 7, .inspected = 20, .found_at = none,
                                   .caused_at = none, .by = none, .date = none, .reason = none };
  check_finding (&finding, TRUE, "lot S-42, 7/20; no disposition yet");
  finding.lot = none;
  check_finding (&finding, TRUE, "7 of 20; no disposition yet");
  finding.inspected = 0;
  check_finding (&finding, TRUE, "7 units; no disposition yet");
  finding.affected = 0;
  check_finding (&finding, TRUE, "not counted; no disposition yet");
}

static void
test_detail (void)
{
  g_autoptr(InsightIssues) issues = issues_new ();
  g_autoptr(PresentIssueDetail) detail = NULL;
  InsightIssue *issue = add_issue (issues, INSIGHT_ISSUE_NOT_AGAIN);
  InsightReason *reason = insight_reason_new (INSIGHT_REASON_ISSUE_UNITS);

  insight_reason_add_count (reason, 11);
  insight_reason_add_count (reason, 33);
  g_ptr_array_add (issue->reasons, reason);
  reason = insight_reason_new (INSIGHT_REASON_ISSUE_CYCLES);
  insight_reason_add_count (reason, 2);
  insight_reason_add_number (reason, 300);
  g_ptr_array_add (issue->reasons, reason);
  issue->n_findings = 3;
  issue->n_units = 2;
  issue->n_rounds = 2;
  issue->affected = 7;
  issue->inspected = 20;
  g_free (issue->cause);
  issue->cause = g_strdup ("edge too sharp");
  issue->cause_basis = BOOK_CAUSE_SEEN;
  detail = present_issue_detail_new (issue);
  g_assert_cmpstr (detail->before_after, ==,
                   "Before the change 5 of 10 failed, with it 0 of 33. If the change did nothing, so few would be seen with "
                   "chance 0.026 %.");
  g_assert_cmpstr (detail->missing->pdata[0], ==, "11 more units of the new state without a failure are needed (n 33 so far).");
  g_assert_cmpstr (detail->missing->pdata[1], ==,
                   "2 units do not count, because they did not reach 300 cycles, which is 1.5 times those at which the issue "
                   "appeared, or nobody wrote them down.");
  g_assert_cmpstr (detail->counted, ==, "3 findings, 2 units, counted 7 of 20, 2 rounds");
  g_assert_cmpstr (detail->cause, ==, "edge too sharp (Seen)");
  g_assert_cmpstr (detail->dates, ==,
                   "found 2026-01-26; contained 2026-01-26, after half a working day; cause known: not yet, 14 working days so "
                   "far; shown to be solved: not yet, 14 working days so far");
  g_assert_cmpstr (detail->figures, ==,
                   "before: failing 5, n 10; after: failing 0, n 33; tolerated 10 %; confidence 95 %; wanted 95 %; luck "
                   "alone 0.026 %; looks 1; attempt 1");
  g_assert_nonnull (strstr (detail->method, "Fisher"));
}

static void
test_json (void)
{
  InsightIssues *issues = issues_new ();
  g_autoptr(PresentIssues) present = NULL;
  g_autoptr(JsonNode) all = NULL;
  g_autoptr(JsonNode) one = NULL;
  g_autofree char *text = NULL;
  JsonArray *list;
  JsonObject *issue;

  add_issue (issues, INSIGHT_ISSUE_OPEN);
  add_issue (issues, INSIGHT_ISSUE_PROVEN);
  present = present_issues_new (issues);
  all = present_json_issues (present, NULL);
  list = json_object_get_array_member (json_node_get_object (all), "issues");
  g_assert_cmpuint (json_array_get_length (list), ==, 2);
  issue = json_array_get_object_element (list, 1);
  g_assert_cmpstr (json_object_get_string_member (issue, "state"), ==, "proven");
  g_assert_cmpstr (json_object_get_string_member (issue, "state_words"), ==, "proven at 95 % on 33 units");
  g_assert_cmpfloat (json_object_get_double_member (issue, "confidence"), ==, 0.9519);
  g_assert_true (json_object_get_null_member (json_array_get_object_element (list, 0), "confidence"));
  text = present_json_print (all);
  g_assert_null (strstr (text, "nan"));
  one = present_json_issues (present, issues->issues->pdata[0]);
  list = json_object_get_array_member (json_node_get_object (one), "issues");
  g_assert_cmpuint (json_array_get_length (list), ==, 1);
}

static void
test_chart (void)
{
  g_autoptr(InsightIssues) issues = issues_new ();
  g_autoptr(Chart) chart = NULL;
  InsightIssueRound *round = g_new0 (InsightIssueRound, 1);
  InsightIssuePoint points[] = { { book_day_parse ("2026-01-26", NULL), 1, 0 },
                                 { book_day_parse ("2026-02-02", NULL), 2, 1 },
                                 { book_day_parse ("2026-02-13", NULL), 2, 1 } };

  round->label = g_strdup ("P1");
  round->from = book_day_parse ("2026-01-05", NULL);
  round->to = book_day_parse ("2026-02-13", NULL);
  g_ptr_array_add (issues->rounds, round);
  g_array_append_vals (issues->points, points, G_N_ELEMENTS (points));
  chart = present_chart_issues (issues, TRUE);
  g_assert_cmpuint (chart_count_marks (chart), ==, 2); /* at the end of the span nothing changed */
  g_assert_cmpuint (chart_table_rows (chart), ==, issues->points->len);
  g_assert_cmpstr (chart_table_head (chart, 1), ==, "Found");
  g_assert_nonnull (chart_get_summary (chart));
  g_assert_cmpstr (chart_mark_text (chart, 0), ==, "2026-01-26: 1 issue found, 0 shown to be solved");
  g_assert_cmpstr (chart_mark_text (chart, 1), ==, "2026-02-02: 2 issues found, 1 shown to be solved");
}

/* Raised from a reading: the title judges only where the limits do. */
static void
test_title_from_a_reading (void)
{
  static const struct
  {
    InsightEntryJudged judged;
    const char        *title;
  } cases[] = {
    { INSIGHT_ENTRY_EMPTY, "Lock engagement, unit P2-01" },
    { INSIGHT_ENTRY_OPEN, "Lock engagement, unit P2-01" },
    { INSIGHT_ENTRY_INSIDE, "Lock engagement, unit P2-01" },
    { INSIGHT_ENTRY_ABOVE, "Lock engagement: outside its limits" },
    { INSIGHT_ENTRY_BELOW, "Lock engagement: outside its limits" },
    { INSIGHT_ENTRY_FAILED, "Lock engagement: failed" },
  };
  BookReadingRow row = { .serial = (char *) "P2-01", .name = (char *) "Lock engagement" };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *title = present_reading_issue (&row, cases[i].judged);

      g_assert_cmpstr (title, ==, cases[i].title);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/issue/every-state-has-words-and-a-mark", test_states);
  g_test_add_func ("/present/issue/the-list-says-what-matters", test_list);
  g_test_add_func ("/present/issue/no-issue-says-so", test_nothing);
  g_test_add_func ("/present/issue/days-are-a-median-or-a-range", test_days);
  g_test_add_func ("/present/issue/a-finding-is-a-line", test_findings);
  g_test_add_func ("/present/issue/one-issue-as-a-whole", test_detail);
  g_test_add_func ("/present/issue/a-title-judges-only-what-the-limits-do", test_title_from_a_reading);
  g_test_add_func ("/present/issue/the-document-has-all", test_json);
  g_test_add_func ("/present/issue/the-chart-has-a-mark-for-each-day", test_chart);
  return chart_test_run ();
}
