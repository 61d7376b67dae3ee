/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The issues of a model: how often found, how long it took, what was written down against what units show. */
#include "config.h"
#include "fix-story.h"

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

static void
test_findings (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  const InsightIssueFinding *finding;
  BookEvidence *e;

  story_up (&story, (guint[]){ 3, 3, 0 });
  fixture_finding (story.f, story.issue, story.first[0], BOOK_DISPOSITION_SCRAP, FALSE, "2026-01-27");
  fixture_finding (story.f, story.issue, story.first[0], BOOK_DISPOSITION_REWORK, FALSE, "2026-01-28");
  fixture_finding (story.f, story.issue, -1, 0, FALSE, "2026-01-28");
  fixture_finding (story.f, story.issue, -1, BOOK_DISPOSITION_SEND_BACK, FALSE, "2026-01-28");
  e = story.f->e;
  e->findings[2].affected = 7;
  e->findings[2].inspected = 20;
  e->findings[3].lot = fixture_lot (story.f, story.part, "S-42");
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  g_assert_cmpuint (issue->n_findings, ==, 4);
  g_assert_cmpuint (issue->n_units, ==, 1);
  g_assert_cmpuint (issue->n_lots, ==, 1);
  g_assert_cmpuint (issue->affected, ==, 7);
  g_assert_cmpuint (issue->inspected, ==, 20);
  g_assert_cmpuint (issue->n_rounds, ==, 1);
  g_assert_false (issue->recurring);
  g_assert_cmpuint (issue->findings->len, ==, 4);
  finding = issue->findings->pdata[3];
  g_assert_cmpstr (finding->lot, ==, "S-42");
  g_assert_cmpstr (finding->round, ==, "P1");
  g_assert_cmpstr (finding->by, ==, "EH");
  g_assert_cmpint (finding->disposition, ==, BOOK_DISPOSITION_SEND_BACK);

  fixture_finding (story.f, story.issue, story.first[1], BOOK_DISPOSITION_SCRAP, FALSE, "2026-03-24");
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  g_assert_cmpuint (story_issue (issues, 0)->n_rounds, ==, 2);
  g_assert_true (story_issue (issues, 0)->recurring);

  /* through the first round the second finding is not known */
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, "P1");
  g_assert_cmpuint (story_issue (issues, 0)->n_findings, ==, 4);
  g_assert_false (story_issue (issues, 0)->recurring);
}

/* What comes back from the field comes when the newest round is long decided; nothing is told of it through an earlier one. */
static void
test_after_the_round (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  int another;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  for (guint r = 0; r < 2; r++)
    story.f->e->rounds[story.rounds[r]].decided = day (r == 0 ? "2026-03-01" : "2026-05-01");
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);

  /* one that was judged good breaks in the field */
  fixture_finding (story.f, story.issue, story.first[1] + 4, BOOK_DISPOSITION_SEND_BACK, FALSE, "2026-05-20");
  story.f->e->findings[0].in_field = TRUE;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);
  g_assert_cmpuint (issue->n_findings, ==, 1);
  g_assert_true (issue->in_field);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, "P1");
  g_assert_cmpuint (story_issue (issues, 0)->n_findings, ==, 0);

  /* and a new issue */
  another = fixture_issue (story.f, -1);
  story.f->e->issues[another].found = day ("2026-05-21");
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  g_assert_cmpuint (issues->issues->len, ==, 2);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, "P1");
  g_assert_cmpuint (issues->issues->len, ==, 1);
}

/* 2026-01-26 is a Monday. */
static void
test_days (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  BookEvidence *e;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  e = story.f->e;
  e->issues[0].contained = day ("2026-01-26");
  e->issues[0].cause_known = day ("2026-02-02");
  e->holidays = g_new (BookDay, 1);
  e->holidays[0] = day ("2026-01-29");
  e->n_holidays = 1;
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  g_assert_cmpstr (issue->dates[INSIGHT_ISSUE_CONTAINED], ==, "2026-01-26");
  g_assert_cmpfloat (issue->days[INSIGHT_ISSUE_CONTAINED], ==, 0.5); /* the same day */
  g_assert_cmpfloat (issue->days[INSIGHT_ISSUE_CAUSE_KNOWN], ==, 4); /* five days of a week less a holiday */
  g_assert_cmpstr (issue->dates[INSIGHT_ISSUE_FIX_PROVEN], ==, "2026-03-22"); /* the last unit's test, a Sunday */
  g_assert_cmpfloat (issue->days[INSIGHT_ISSUE_FIX_PROVEN], ==, 4 + 7 * 5 - 1);

  /* through the first round neither the proof nor what came later is known */
  g_clear_pointer (&issues, insight_issues_free);
  e->issues[0].cause_known = day ("2026-04-02");
  issues = story_issues (&story, "P1");
  issue = story_issue (issues, 0);
  g_assert_cmpstr (issues->end, ==, "2026-02-14");
  g_assert_cmpstr (issue->dates[INSIGHT_ISSUE_CAUSE_KNOWN], ==, "");
  g_assert_cmpstr (issue->dates[INSIGHT_ISSUE_FIX_PROVEN], ==, "");
  g_assert_cmpfloat (issue->days[INSIGHT_ISSUE_CAUSE_KNOWN], ==, 13); /* unfinished: to the end of the span */
}

/*
 * Seven contained after 0.5, 1, 2, 3, 5, 8 and 10 working days, two open for 20 and 30. R 4.2.2, survfit (conf.int = 0.90,
 * conf.type = "log-log"): median 5, interval 1 to 10.
 */
static void
test_ages (void)
{
  static const int contained[] = { 0, 1, 2, 3, 7, 10, 14 }; /* days of the calendar from a Monday */
  g_autoptr(InsightIssues) issues = NULL;
  g_auto(Story) story;
  const InsightIssueAges *ages;
  BookEvidence *e;

  story_up (&story, (guint[]){ 1, 0 });
  for (int i = 1; i < 10; i++)
    fixture_issue (story.f, -1);
  e = story.f->e;
  e->rounds[0].decided = day ("2026-04-06");
  for (int i = 0; i < 9; i++)
    {
      e->issues[i].found = day (i < 7 ? "2026-01-26" : i == 7 ? "2026-03-09" : "2026-02-23");
      e->issues[i].contained = i < 7 ? e->issues[i].found + contained[i] : 0;
    }
  e->issues[9].found = e->issues[9].contained = e->issues[9].closed = day ("2026-01-26");
  e->issues[9].outcome = BOOK_OUTCOME_DUPLICATE; /* no issue of its own */
  issues = story_issues (&story, NULL);
  ages = &issues->ages[INSIGHT_ISSUE_CONTAINED];
  g_assert_cmpuint (ages->n, ==, 9);
  g_assert_cmpuint (ages->n_ended, ==, 7);
  g_assert_cmpuint (ages->n_open, ==, 2);
  g_assert_cmpfloat (ages->median, ==, 5);
  g_assert_cmpfloat (ages->low, ==, 1);
  g_assert_cmpfloat (ages->high, ==, 10);
  g_assert_cmpfloat (ages->least, ==, 0.5);
  g_assert_cmpfloat (ages->most, ==, 10);
  g_assert_cmpuint (issues->ages[INSIGHT_ISSUE_FIX_PROVEN].n_ended, ==, 0);
  g_assert_true (isnan (issues->ages[INSIGHT_ISSUE_FIX_PROVEN].median));
}

/* What somebody wrote down changes no state. */
static void
test_written_down (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  BookEvidence *e;

  story_up (&story, (guint[]){ 10, 5, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 5, 0);
  e = story.f->e;
  e->issues[0].closed = day ("2026-03-24");
  e->issues[0].outcome = BOOK_OUTCOME_PROVEN;
  e->issues[0].outcome_by = 0;
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_true (has_reason (issue->reasons, INSIGHT_REASON_ISSUE_NOT_SHOWN));
  g_assert_false (insight_issue_is_closed (issue));
  g_assert_cmpuint (issues->n_states[INSIGHT_ISSUE_NOT_AGAIN], ==, 1);

  /* not reproduced closes it, until it is found again */
  e->issues[0].outcome = BOOK_OUTCOME_NOT_REPRODUCED;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  g_assert_true (insight_issue_is_closed (story_issue (issues, 0)));
  g_assert_cmpuint (issues->n_closed, ==, 1);
  fixture_finding (story.f, story.issue, story.first[1] + 1, BOOK_DISPOSITION_SCRAP, FALSE, "2026-03-26");
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  g_assert_false (insight_issue_is_closed (story_issue (issues, 0)));
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_CAME_BACK);
}

static void
check_point (const InsightIssues *issues, guint i, const char *expected_day, guint found, guint proven)
{
  const InsightIssuePoint *point = &g_array_index (issues->points, InsightIssuePoint, i);
  g_autofree char *text = book_day_format (point->day);

  g_assert_cmpuint (i, <, issues->points->len);
  g_assert_cmpstr (text, ==, expected_day);
  g_assert_cmpuint (point->found, ==, found);
  g_assert_cmpuint (point->proven, ==, proven);
}

static void
test_points (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  int late;

  story_up (&story, (guint[]){ 10, 33, 4, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  late = fixture_issue (story.f, -1);
  story.f->e->issues[late].found = day ("2026-03-10");
  issues = story_issues (&story, "P2");
  g_assert_cmpuint (issues->points->len, ==, 4);
  check_point (issues, 0, "2026-01-26", 1, 0);
  check_point (issues, 1, "2026-03-10", 2, 0);
  check_point (issues, 2, "2026-03-22", 2, 1);
  check_point (issues, 3, "2026-04-11", 2, 1); /* the end of the span */
  g_assert_cmpuint (issues->rounds->len, ==, 2);

  /* It comes back in the next round: the proof is gone from then on. */
  story.f->e->plans[2].revision = story.revisions[1];
  story.f->e->n_change_issues = 1;
  story_check (&story, 2, 4, 1);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, "P3");
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_CAME_BACK);
  g_assert_true (story_issue (issues, 0)->was_proven);
  check_point (issues, 2, "2026-03-22", 2, 1);
  check_point (issues, 3, "2026-05-24", 2, 0);
}

static void
test_strip (void)
{
  g_auto(Story) story;
  g_autoptr(InsightDays) days = NULL;
  g_autoptr(GError) error = NULL;
  int written;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  written = fixture_issue (story.f, -1);
  story.f->e->issues[written].found_round = 1;
  story.f->e->issues[written].closed = day ("2026-03-24");
  story.f->e->issues[written].outcome = BOOK_OUTCOME_PROVEN; /* says somebody */
  fixture_finish (story.f);
  days = insight_days (story.f->e, "2027-01-01", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (days->rounds[0].proven, ==, 1);
  g_assert_cmpuint (days->rounds[0].found + days->rounds[0].not_again, ==, 0);
  g_assert_cmpuint (days->rounds[1].found, ==, 1);
  g_assert_cmpuint (days->rounds[1].proven, ==, 0);
  g_clear_pointer (&days, insight_days_free);

  /* before the second round was built it is only found */
  days = insight_days (story.f->e, "2026-03-01", &error);
  g_assert_cmpuint (days->rounds[0].found, ==, 1);
  g_clear_pointer (&days, insight_days_free);

  fixture_finding (story.f, story.issue, story.first[1], BOOK_DISPOSITION_SCRAP, FALSE, "2026-03-24");
  days = insight_days (story.f->e, "2027-01-01", &error);
  g_assert_cmpuint (days->rounds[0].found, ==, 1); /* came back */
}

static void
test_fitted_without_change (void)
{
  g_auto(Story) story;
  g_autoptr(InsightStanding) standing = NULL;
  guint named = 0;

  story_up (&story, (guint[]){ 2, 2, 2, 0 });
  story.f->e->changes[1].withdrawn = day ("2026-05-05");
  standing = fixture_standing (story.f, NULL);
  for (guint i = 0; i < standing->gaps->len; i++)
    {
      const InsightGap *gap = standing->gaps->pdata[i];

      if (gap->code != INSIGHT_GAP_CHANGE)
        continue;
      named++;
      g_assert_cmpstr (gap->names[0], ==, "LEVER C");
      g_assert_cmpstr (gap->names[1], ==, "P3");
      g_assert_cmpint (gap->id, ==, story.f->e->revisions[2].id);
    }
  g_assert_cmpuint (named, ==, 1); /* A was the first, and a change brought B in */
}

static void
test_wrong_questions (void)
{
  g_auto(Story) story;
  g_autoptr(GError) error = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  InsightSpan no_round = { 999999, "2027-01-01" }, no_date = { 0, "soon" }, fine = { 0, "2027-01-01" };

  story_up (&story, (guint[]){ 2, 0 });
  fixture_finish (story.f);
  g_assert_null (insight_issues (story.f->e, &no_round, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND);
  g_clear_error (&error);
  g_assert_null (insight_issues (story.f->e, &no_date, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_DATE);
  g_clear_error (&error);
  g_cancellable_cancel (cancellable);
  g_assert_null (insight_issues (story.f->e, &fine, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_no_rounds (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightIssues) issues = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span = { 0, "2027-01-01" };

  fixture_issue (f, -1);
  f->e->issues[0].found = day ("2026-01-26");
  fixture_finish (f);
  issues = insight_issues (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (issues->issues->len, ==, 1);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_cmpuint (issues->rounds->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/issue/findings-are-counted-and-recur", test_findings);
  g_test_add_func ("/insight/issue/what-is-found-after-the-newest-round-is-known", test_after_the_round);
  g_test_add_func ("/insight/issue/days-are-working-days-and-half-a-day", test_days);
  g_test_add_func ("/insight/issue/open-ones-are-unfinished-times", test_ages);
  g_test_add_func ("/insight/issue/what-was-written-down-changes-no-state", test_written_down);
  g_test_add_func ("/insight/issue/found-and-proven-over-time", test_points);
  g_test_add_func ("/insight/issue/the-strip-follows-the-units", test_strip);
  g_test_add_func ("/insight/issue/a-revision-without-a-change-is-named", test_fitted_without_change);
  g_test_add_func ("/insight/issue/refuses-wrong-questions", test_wrong_questions);
  g_test_add_func ("/insight/issue/a-model-without-rounds-has-issues", test_no_rounds);
  return g_test_run ();
}
