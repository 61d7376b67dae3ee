/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Ways to make an issue look solved that is not. Each test does what somebody in a hurry might do, and shows that state
 * and confidence do not profit from it. Deleting a unit that had failed is refused by the book itself.
 */
#include "config.h"
#include "fix-story.h"

/* P1 shows it on 5 of 10; of 33 units with the fix @failed show it. */
static void
story_with (Story *story, guint failed)
{
  story_up (story, (guint[]){ 10, 33, 0 });
  story_check (story, 0, 10, 5);
  story_check (story, 1, 33, failed);
}

static const InsightIssue *
judge (Story *story, InsightIssues **issues)
{
  g_clear_pointer (issues, insight_issues_free);
  *issues = story_issues (story, NULL);
  return story_issue (*issues, 0);
}

/* Retest until it passes. */
static void
test_retest (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_with (&story, 3);
  for (int i = 0; i < 3; i++)
    for (guint attempt = 2; attempt < 5; attempt++)
      fixture_reading (story.f, story.first[1] + i, story.c, attempt, 1,
                       attempt < 4 ? BOOK_MARK_FAILED : BOOK_MARK_PASSED, NAN, "2026-03-25");
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);
  g_assert_cmpuint (issue->after_failed, ==, 3);
  g_assert_cmpuint (issue->after_n, ==, 33);
}

/* An old reading with a new date: what counts is what the unit was built of. */
static void
test_new_date (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 40, 10, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 10, 0);
  for (int i = 10; i < 40; i++)
    fixture_reading (story.f, story.first[0] + i, story.c, 1, 1, BOOK_MARK_PASSED, NAN, "2026-03-25");
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_cmpuint (issue->after_n, ==, 10);
  g_assert_cmpuint (issue->before_n, ==, 40);
}

/* A failed unit taken out: set aside, excused, or its reading voided. It costs an attempt, and 33 units no longer do. */
static void
test_taken_out (void)
{
  for (guint way = 0; way < 3; way++)
    {
      g_auto(Story) story;
      g_autoptr(InsightIssues) issues = NULL;
      const InsightIssue *issue;

      story_up (&story, (guint[]){ 10, 34, 0 });
      story_check (&story, 0, 10, 5);
      story_check (&story, 1, 34, 1);
      if (way == 0)
        fixture_event (story.f, story.first[1], BOOK_EVENT_SET_ASIDE, "2026-03-24", -1, -1);
      else if (way == 1)
        fixture_finding (story.f, story.issue, story.first[1], BOOK_DISPOSITION_USE_AS_IS, TRUE, "2026-03-24");
      else
        for (guint i = 0; i < story.f->e->n_readings; i++)
          if (story.f->e->readings[i].unit == (guint32) story.first[1])
            story.f->e->readings[i].voided = TRUE;
      issue = judge (&story, &issues);
      assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
      g_assert_cmpuint (issue->after_n, ==, 33); /* enough at the first attempt */
      g_assert_cmpuint (issue->attempts, ==, 2);
      g_assert_cmpuint (issue->earlier_failures, ==, 1);
      assert_near (issue->wanted, 1.0 - 0.10 / 6.0, 1e-12);
      g_assert_cmpint (issue->units_needed, ==, 44 - 33);
      if (way < 2)
        g_assert_true (has_reason (issue->reasons, INSIGHT_REASON_EXCUSED));
    }
}

/* A limit widened after measuring, so that what failed lies inside. */
static void
test_widened (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  int slip;

  story_up (&story, (guint[]){ 10, 33, 0 });
  slip = fixture_measured (story.f, "SLIP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  story.f->e->issues[story.issue].seen_by = slip;
  fixture_limit (story.f, slip, "2026-01-01", 200, INFINITY);
  for (int i = 0; i < 10; i++)
    fixture_value (story.f, story.first[0] + i, slip, i < 5 ? 150 : 230);
  for (int i = 0; i < 33; i++)
    fixture_value (story.f, story.first[1] + i, slip, i < 2 ? 190 : 240);
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);
  g_assert_cmpuint (issue->attempts, ==, 2);

  /* so far that the failures with the fix are inside: a start again */
  fixture_limit (story.f, slip, "2026-03-25", 180, INFINITY);
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_cmpuint (issue->attempts, ==, 2);
  g_assert_cmpuint (issue->after_failed, ==, 0);
  g_assert_cmpint (issue->units_needed, ==, 44 - 33);

  /* so far that nothing ever failed: then nothing was solved either */
  fixture_limit (story.f, slip, "2026-03-26", 140, INFINITY);
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_false (issue->reproduced);
  g_assert_cmpint (issue->units_needed, ==, -1);
}

/* A change recorded after the fact, dated behind the tests it is to explain. */
static void
test_recorded_later (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  BookEvidence *e;

  /* The failing units are given another revision, and a change that brings the one of the others. */
  story_up (&story, (guint[]){ 10, 43, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 43, 10);
  e = story.f->e;
  e->changes[0].day = book_day_parse ("2026-04-01", NULL);
  issue = judge (&story, &issues);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_BEFORE_CHANGE, 0), ==, 43);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);

  /* A second change on top, for the units that passed: the failures are those of the first, and cost an attempt. */
  fixture_change (story.f, "2026-04-02");
  fixture_change_item (story.f, 1, story.part, story.revisions[1], fixture_revision (story.f, story.part, "C", "2026-04-02"));
  fixture_change_issue (story.f, 1, story.issue);
  for (int i = 10; i < 43; i++)
    fixture_unit_part (story.f, story.first[1] + i, story.part, story.f->e->items[1].new_revision, -1);
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_cmpuint (issue->after_n, ==, 33);
  g_assert_cmpuint (issue->attempts, ==, 2);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_BEFORE_CHANGE, 0), ==, 33);

  /* Dated behind the span it is not seen at all. */
  g_clear_pointer (&issues, insight_issues_free);
  story.f->e->changes[0].day = story.f->e->changes[1].day = book_day_parse ("2026-06-01", NULL);
  issues = story_issues (&story, "P2");
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
}

/* Carried over without a reason, without a name, for a safety characteristic by one person alone. */
static void
test_carried_over (void)
{
  for (guint way = 0; way < 3; way++)
    {
      g_auto(Story) story;
      g_autoptr(InsightIssues) issues = NULL;
      const InsightIssue *issue;

      story_up (&story, (guint[]){ 10, 33, 2, 0 });
      story_check (&story, 0, 10, 5);
      story_check (&story, 1, 33, 0);
      story_check (&story, 2, 2, 0);
      story.f->e->change_issues[1].issue = fixture_issue (story.f, -1);
      fixture_carry (story.f, story.changes[2], story.c, way == 1 ? -1 : 0, -1);
      if (way == 0)
        story.f->e->carries[0].reason = "";
      if (way == 2)
        story.f->e->characteristics[story.c].klass = BOOK_CLASS_SAFETY;
      issue = judge (&story, &issues);
      assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
      g_assert_cmpuint (issue->after_n, ==, 2);
      g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_OTHER_STATE, 0), ==, 33);
    }
}

/* Fail, change something, start again, three times: each start costs, and 33 clean units are no longer enough. */
static void
test_three_starts (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 20, 20, 20, 56 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 20, 1);
  story_check (&story, 2, 20, 2);
  story_check (&story, 3, 20, 1);
  story_check (&story, 4, 55, 0);
  issue = judge (&story, &issues);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_cmpuint (issue->attempts, ==, 4);
  g_assert_cmpuint (issue->earlier_failures, ==, 4);
  assert_near (issue->wanted, 0.995, 1e-12);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ATTEMPTS, 0), ==, 4);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ATTEMPTS, 2), ==, 60);
  g_assert_cmpint (issue->units_needed, ==, 1);

  fixture_check (story.f, story.first[4] + 55, story.c, TRUE);
  assert_issue_state (judge (&story, &issues), INSIGHT_ISSUE_PROVEN);
}

/* A failure put down to another issue leaves n as well as k, so that fewer units speak. */
static void
test_put_down_to_another (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  int other;

  story_with (&story, 1);
  other = fixture_issue (story.f, story.c);
  fixture_finding (story.f, other, story.first[1], BOOK_DISPOSITION_SCRAP, FALSE, "2026-03-24");
  issue = judge (&story, &issues);
  g_assert_cmpuint (issue->after_n, ==, 32);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_true (has_reason (issue->reasons, INSIGHT_REASON_ISSUE_OTHER_MODE));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/cheating/retest-until-it-passes", test_retest);
  g_test_add_func ("/insight/cheating/an-old-reading-with-a-new-date", test_new_date);
  g_test_add_func ("/insight/cheating/a-failed-unit-taken-out", test_taken_out);
  g_test_add_func ("/insight/cheating/a-limit-widened-after-measuring", test_widened);
  g_test_add_func ("/insight/cheating/a-change-recorded-after-the-fact", test_recorded_later);
  g_test_add_func ("/insight/cheating/carried-over-without-a-reason", test_carried_over);
  g_test_add_func ("/insight/cheating/starting-again-three-times", test_three_starts);
  g_test_add_func ("/insight/cheating/put-down-to-another-issue", test_put_down_to_another);
  return g_test_run ();
}
