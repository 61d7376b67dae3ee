/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * When a fix is proven. Fisher's chances are from R 4.2.2, fisher.test (alternative = "less"); any-time confidences from
 * the formula in R's own pbeta and lbeta: 33 units without a failure are the fewest for 0.95 at a tolerated 0.10, 44 for
 * 0.98333, 56 for 0.995.
 */
#include "config.h"
#include "fix-story.h"

static void
test_proven (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_PROVEN);
  g_assert_cmpuint (issue->before_failed, ==, 5);
  g_assert_cmpuint (issue->before_n, ==, 10);
  g_assert_cmpuint (issue->after_failed, ==, 0);
  g_assert_cmpuint (issue->after_n, ==, 33);
  assert_near (issue->confidence, 0.951936767100527, 1e-9);
  assert_near (issue->fisher, 2.61791526680920e-04, 1e-9);
  assert_near (issue->wanted, 0.95, 1e-12); /* of a first attempt at 0.90 */
  g_assert_cmpuint (issue->attempts, ==, 1);
  g_assert_cmpint (issue->units_needed, ==, 0);
  g_assert_cmpint (issue->change_no, ==, 1);
  g_assert_true (issue->reproduced);
  g_assert_false (issue->recurring);
}

static void
test_too_few (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 32, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 32, 0);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  assert_near (issue->confidence, 0.946915438947712, 1e-9);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_UNITS, 0), ==, 1);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_UNITS, 1), ==, 32);

  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, "P1");
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_OPEN);
  g_assert_true (has_reason (issue->reasons, INSIGHT_REASON_ISSUE_NO_CHANGE));
}

/* One of ten before, none of n after: Fisher's chance is 10/(10 + n), so that 91 are needed for less than 0.10. */
static void
test_luck (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 1);
  story_check (&story, 1, 33, 0);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  assert_near (issue->fisher, 10.0 / 43.0, 1e-9);
  g_assert_true (has_reason (issue->reasons, INSIGHT_REASON_ISSUE_LUCK));
  g_assert_cmpint (issue->units_needed, ==, 91 - 33);
}

static void
test_not_reproduced (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 60, 0 });
  fixture_finding (story.f, story.issue, story.first[0], BOOK_DISPOSITION_SCRAP, FALSE, "2026-01-27");
  story_check (&story, 0, 10, 0); /* somebody saw it, but this test does not show it */
  story_check (&story, 1, 60, 0);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_false (issue->reproduced);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_NOT_REPRODUCED, 0), ==, 10);
  g_assert_cmpint (issue->units_needed, ==, -1);

  story.f->e->issues[story.issue].cause_basis = BOOK_CAUSE_SWITCHED;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  g_assert_true (issue->reproduced);
  g_assert_false (has_reason (issue->reasons, INSIGHT_REASON_ISSUE_NOT_REPRODUCED));
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN); /* nothing failed before, so that nothing differs */
}

static void
test_came_back (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 20, 44, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 20, 1);
  story_check (&story, 2, 43, 0);
  issues = story_issues (&story, "P2");
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);
  g_assert_cmpuint (issue->after_failed, ==, 1);
  g_assert_cmpuint (issue->attempts, ==, 2);
  g_assert_true (issue->recurring);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_CAME_BACK, 0), ==, 1);

  /* The next change is the second attempt: 1 - 0.10/6 is wanted, for which 44 units do and 43 do not. */
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_cmpint (issue->change_no, ==, 2);
  g_assert_cmpuint (issue->attempts, ==, 2);
  g_assert_cmpuint (issue->earlier_failures, ==, 1);
  g_assert_cmpuint (issue->before_n, ==, 30); /* what either change found */
  g_assert_cmpuint (issue->before_failed, ==, 6);
  assert_near (issue->wanted, 1.0 - 0.10 / 6.0, 1e-12);
  g_assert_cmpint (issue->units_needed, ==, 1);

  fixture_check (story.f, story.first[2] + 43, story.c, TRUE);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);
  assert_near (story_issue (issues, 0)->confidence, 0.984105752710516, 1e-9);
}

/* A finding on a unit of the new state is a failure, whatever its test said. */
static void
test_finding_fails (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  fixture_finding (story.f, story.issue, story.first[1] + 7, BOOK_DISPOSITION_REWORK, FALSE, "2026-03-24");
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_CAME_BACK);
  g_assert_cmpuint (story_issue (issues, 0)->after_n, ==, 33);
  g_assert_cmpuint (story_issue (issues, 0)->after_failed, ==, 1);
}

/* A failure that another issue explains says nothing about this one. */
static void
test_other_mode (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  int other;

  story_up (&story, (guint[]){ 10, 34, 0 });
  other = fixture_issue (story.f, story.c);
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 34, 1);
  fixture_finding (story.f, other, story.first[1], BOOK_DISPOSITION_SCRAP, FALSE, "2026-03-24");
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_PROVEN);
  g_assert_cmpuint (issue->after_n, ==, 33);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_OTHER_MODE, 0), ==, 1);
}

/* Units count that were opened and closed at least 1.5 times as often as when it appeared. */
static void
test_cycles (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 36, 0 });
  story.f->e->issues[story.issue].seen_cycles = 200;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 36, 0);
  for (int i = 0; i < 35; i++)
    fixture_planned_test (story.f, story.first[1] + i, story.c, NAN, i < 2 ? 299 : 300);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_near (issue->needed_cycles, 300.0, 1e-12);
  g_assert_cmpuint (issue->after_n, ==, 33);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_CYCLES, 0), ==, 3); /* of one nobody wrote them down */
  assert_issue_state (issue, INSIGHT_ISSUE_PROVEN);
}

/* Where two tests of a unit are planned the one with more cycles counts, whichever stands first. */
static void
test_planned_twice (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 36, 0 });
  story.f->e->issues[story.issue].seen_cycles = 200;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 36, 0);
  for (int i = 0; i < 36; i++)
    {
      fixture_planned_test (story.f, story.first[1] + i, story.c, NAN, i % 2 == 0 ? 100 : 300);
      fixture_planned_test (story.f, story.first[1] + i, story.c, NAN, i % 2 == 0 ? 300 : i % 3 == 0 ? NAN : 100);
    }
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  g_assert_cmpuint (issue->after_n, ==, 36);
}

static void
test_load (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 34, 0 });
  story.f->e->issues[story.issue].seen_load = 120;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 34, 1);
  for (int i = 0; i < 34; i++)
    fixture_planned_test (story.f, story.first[1] + i, story.c, i < 3 ? 119 : 120, NAN);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_LOAD, 0), ==, 2);
  g_assert_cmpuint (issue->after_n, ==, 32); /* the failure counts whatever load it had reached */
  g_assert_cmpuint (issue->after_failed, ==, 1);
  assert_issue_state (issue, INSIGHT_ISSUE_CAME_BACK);
}

static void
test_life (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  int other;

  story_up (&story, (guint[]){ 8, 20, 0 });
  other = fixture_issue (story.f, -1);
  story.f->e->issues[story.issue].seen_in_life_test = TRUE;
  for (int i = 0; i < 8; i++)
    fixture_life_test (story.f, story.first[0] + i, story.c, i < 4 ? 900 + 100 * i : 3000, i < 4, i < 4 ? story.issue : -1);
  for (int i = 0; i < 20; i++)
    fixture_life_test (story.f, story.first[1] + i, story.c, i == 0 ? 640 : i == 1 ? 1349 : 3000, i == 0, i == 0 ? other : -1);
  fixture_life_test (story.f, story.first[1] + 1, story.c, 3000, FALSE, -1); /* once more: no evidence */
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_near (issue->needed_cycles, 1350.0, 1e-12); /* the least failure was at 900 */
  g_assert_cmpuint (issue->before_n, ==, 8);
  g_assert_cmpuint (issue->before_failed, ==, 4);
  g_assert_cmpuint (issue->after_n, ==, 18);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_OTHER_MODE, 0), ==, 1);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_CYCLES, 0), ==, 1);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
}

/* A setting instead of a revision. */
static void
test_setting (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;
  BookEvidence *e;
  int step;

  story_up (&story, (guint[]){ 10, 33, 0 });
  e = story.f->e;
  step = fixture_step (story.f, "Temper");
  e->items[0] = (BookEvidenceItem){ .change = story.changes[1], .part = -1, .old_revision = -1, .new_revision = -1, .step = step,
                                    .characteristic = -1, .setting = "temperature", .old = "220", .now = "205" };
  e->plans[1].revision = story.revisions[0];
  fixture_setting (story.f, step, "2026-01-01", 220, -1);
  fixture_setting (story.f, step, "2026-03-10", 205, story.changes[1]);
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_PROVEN);
  g_assert_cmpuint (issue->before_n, ==, 10);
  g_assert_cmpuint (issue->after_n, ==, 33);

  /* A row that names no change is found by its value. */
  e->settings[1].change = -1;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);
}

static void
test_no_answer (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  BookEvidence *e;

  story_up (&story, (guint[]){ 10, 33, 0 });
  e = story.f->e;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);

  /* limits alone are no new state */
  e->items[0].part = e->items[0].new_revision = e->items[0].old_revision = -1;
  e->items[0].characteristic = story.c;
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_true (has_reason (story_issue (issues, 0)->reasons, INSIGHT_REASON_ISSUE_NO_STATE));

  /* withdrawn */
  e->items[0] = (BookEvidenceItem){ .change = story.changes[1], .part = story.part, .old_revision = story.revisions[0],
                                    .new_revision = story.revisions[1], .step = -1, .characteristic = -1, .setting = "",
                                    .old = "", .now = "" };
  e->changes[0].withdrawn = book_day_parse ("2026-03-20", NULL);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_true (has_reason (story_issue (issues, 0)->reasons, INSIGHT_REASON_ISSUE_NO_CHANGE));

  /* not built */
  e->changes[0].withdrawn = 0;
  e->items[0].new_revision = fixture_revision (story.f, story.part, "X", "2026-04-01");
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_true (has_reason (story_issue (issues, 0)->reasons, INSIGHT_REASON_ISSUE_NOT_BUILT));

  /* no test */
  e->issues[story.issue].seen_by = -1;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_true (has_reason (story_issue (issues, 0)->reasons, INSIGHT_REASON_ISSUE_NO_TEST));
  g_assert_false (story_issue (issues, 0)->has_test);
}

/* Something else that the check depends on was changed since: the units with the fix no longer count, or carried over do. */
static void
test_other_state (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;
  const InsightIssue *issue;

  story_up (&story, (guint[]){ 10, 33, 5, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  story_check (&story, 2, 5, 0);
  story.f->e->change_issues[1].issue = fixture_issue (story.f, -1); /* the second change answers another issue */
  issues = story_issues (&story, NULL);
  issue = story_issue (issues, 0);
  assert_issue_state (issue, INSIGHT_ISSUE_NOT_AGAIN);
  g_assert_true (issue->was_proven);
  g_assert_cmpuint (issue->after_n, ==, 5);
  g_assert_cmpint (count_of (issue->reasons, INSIGHT_REASON_ISSUE_OTHER_STATE, 0), ==, 33);

  fixture_carry (story.f, story.changes[2], story.c, 0, -1);
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);
  g_assert_cmpuint (story_issue (issues, 0)->after_n, ==, 38);
}

static void
test_safety_from_pilot (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story.f->e->issues[story.issue].klass = BOOK_CLASS_SAFETY;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_OPEN);
  g_assert_cmpuint (story_issue (issues, 0)->before_n, ==, 10); /* before is from the prototypes on */
  g_assert_cmpint (count_of (story_issue (issues, 0)->reasons, INSIGHT_REASON_KIND_EARLY, 0), ==, 33);

  story.f->e->rounds[1].kind = BOOK_ROUND_PILOT;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);

  story.f->e->rounds[0].kind = BOOK_ROUND_BENCH;
  g_clear_pointer (&issues, insight_issues_free);
  issues = story_issues (&story, NULL);
  g_assert_cmpuint (story_issue (issues, 0)->before_n, ==, 0);
}

/* Half of a round with the fix, half without. */
static void
test_split_round (void)
{
  g_auto(Story) story;
  g_autoptr(InsightIssues) issues = NULL;

  story_up (&story, (guint[]){ 10, 66, 0 });
  story.f->e->plans[1].first_serial = "P2-034";
  fixture_plan (story.f, story.rounds[1], story.part, story.revisions[0], -1, "P2-001");
  for (int i = 0; i < 66; i++)
    fixture_check (story.f, story.first[1] + i, story.c, i >= 12);
  issues = story_issues (&story, NULL);
  assert_issue_state (story_issue (issues, 0), INSIGHT_ISSUE_PROVEN);
  g_assert_cmpuint (story_issue (issues, 0)->before_n, ==, 33);
  g_assert_cmpuint (story_issue (issues, 0)->before_failed, ==, 12);
  g_assert_cmpuint (story_issue (issues, 0)->after_n, ==, 33);
}

/* Random stories: one failure more on the new state never makes the fix look better, whatever the figures. */
static void
test_failure_never_helps (void)
{
  for (guint s = 0; s < 60; s++)
    {
      guint before = 2 + (guint) g_test_rand_int_range (0, 20), after = 2 + (guint) g_test_rand_int_range (0, 70);
      guint failed = (guint) g_test_rand_int_range (0, 3);
      double confidence = 2.0;
      guint attempts = 0;

      for (guint more = 0; more < 2; more++)
        {
          g_auto(Story) story;
          g_autoptr(InsightIssues) issues = NULL;
          const InsightIssue *issue;

          story_up (&story, (guint[]){ before, after, 0 });
          story_check (&story, 0, before, (before + 1) / 2);
          story_check (&story, 1, after, MIN (failed + more, after));
          issues = story_issues (&story, NULL);
          issue = story_issue (issues, 0);
          g_assert_cmpfloat (issue->confidence, <=, confidence);
          g_assert_cmpuint (issue->attempts, >=, attempts);
          confidence = issue->confidence;
          attempts = issue->attempts;
          if (issue->state == INSIGHT_ISSUE_PROVEN)
            {
              g_assert_cmpfloat (issue->confidence, >=, issue->wanted - 1e-12);
              g_assert_cmpfloat (issue->fisher, <, 0.10);
            }
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/fix/is-proven-by-units-of-both-sides", test_proven);
  g_test_add_func ("/insight/fix/one-unit-less-is-not-seen-again", test_too_few);
  g_test_add_func ("/insight/fix/luck-alone-must-be-unlikely", test_luck);
  g_test_add_func ("/insight/fix/the-test-must-have-shown-it-before", test_not_reproduced);
  g_test_add_func ("/insight/fix/coming-back-costs-an-attempt", test_came_back);
  g_test_add_func ("/insight/fix/a-finding-is-a-failure", test_finding_fails);
  g_test_add_func ("/insight/fix/another-mode-does-not-count", test_other_mode);
  g_test_add_func ("/insight/fix/units-reach-one-and-a-half-times-the-cycles", test_cycles);
  g_test_add_func ("/insight/fix/of-two-planned-tests-the-one-with-more-cycles-counts", test_planned_twice);
  g_test_add_func ("/insight/fix/units-reach-the-load-and-failures-need-not", test_load);
  g_test_add_func ("/insight/fix/life-tests-show-it-by-their-first-run", test_life);
  g_test_add_func ("/insight/fix/a-setting-is-a-fix-too", test_setting);
  g_test_add_func ("/insight/fix/without-an-answer-it-stays-open", test_no_answer);
  g_test_add_func ("/insight/fix/another-state-no-longer-counts", test_other_state);
  g_test_add_func ("/insight/fix/of-safety-counts-from-the-pilot", test_safety_from_pilot);
  g_test_add_func ("/insight/fix/a-split-round-has-both-sides", test_split_round);
  g_test_add_func ("/insight/fix/a-failure-never-helps", test_failure_never_helps);
  return g_test_run ();
}
