/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What criteria and next steps make of fixes; when one is proven is told by test-insight-fix.c. */
#include "config.h"
#include "fix-story.h"

static void
test_criterion (void)
{
  g_auto(Story) story;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  BookEvidence *e;
  int number;

  story_up (&story, (guint[]){ 10, 33, 0 });
  e = story.f->e;
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  number = fixture_criterion (story.f, "F1", BOOK_CRITERION_FIX, -1);
  e->criteria[number].issue = story.issue;
  e->criteria[number].strict = TRUE;
  fixture_term (story.f, number, "2026-01-01", 0.90, 0.90);
  standing = fixture_standing (story.f, NULL);
  criterion = fixture_criterion_in (standing, "F1");
  assert_state (criterion, INSIGHT_MET);
  g_assert_cmpuint (criterion->n, ==, 33);
  assert_near (criterion->confidence, 0.951936767100527, 1e-9);
  g_assert_cmpuint (criterion->attempts, ==, 1);
  g_assert_cmpuint (criterion->looks, ==, 1);
  g_assert_cmpfloat (criterion->score, ==, 1.0);
  g_assert_cmpstr (criterion->about_name, ==, "It slips");
  g_clear_pointer (&standing, insight_standing_unref);

  /* Not strict: 22 units would do (exact binomial), and all are more than that. */
  e->criteria[number].strict = FALSE;
  standing = fixture_standing (story.f, NULL);
  criterion = fixture_criterion_in (standing, "F1");
  assert_near (criterion->confidence, 1.0 - pow (0.9, 33), 1e-9);
  assert_near (criterion->wanted, 0.90, 1e-12);
  g_clear_pointer (&standing, insight_standing_unref);

  /* Of safety a count alone does not do unless the owner sets the share by name. */
  e->rounds[1].kind = BOOK_ROUND_PILOT;
  e->issues[story.issue].klass = e->criteria[number].klass = BOOK_CLASS_SAFETY;
  standing = fixture_standing (story.f, NULL);
  assert_state (fixture_criterion_in (standing, "F1"), INSIGHT_TOO_FEW);
  assert_said (fixture_criterion_in (standing, "F1"), INSIGHT_REASON_COUNT_NOT_SAFETY);
  g_clear_pointer (&standing, insight_standing_unref);
  e->terms[0].person = 0;
  standing = fixture_standing (story.f, NULL);
  assert_state (fixture_criterion_in (standing, "F1"), INSIGHT_MET);
  g_clear_pointer (&standing, insight_standing_unref);

  e->criteria[number].issue = -1;
  standing = fixture_standing (story.f, NULL);
  assert_state (fixture_criterion_in (standing, "F1"), INSIGHT_NO_DATA);
  assert_said (fixture_criterion_in (standing, "F1"), INSIGHT_REASON_NO_ISSUE);
}

static void
test_criterion_against (void)
{
  g_auto(Story) story;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  int number;

  story_up (&story, (guint[]){ 10, 10, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 10, 4);
  number = fixture_criterion (story.f, "F1", BOOK_CRITERION_FIX, -1);
  story.f->e->criteria[number].issue = story.issue;
  standing = fixture_standing (story.f, NULL);
  criterion = fixture_criterion_in (standing, "F1");
  assert_state (criterion, INSIGHT_AGAINST); /* P(X < 4) of 10 at 0.10 is 0.987 */
  assert_near (criterion->contrary, 0.9872048016, 1e-9);
  assert_said (criterion, INSIGHT_REASON_DISPOSITION);
  assert_said (criterion, INSIGHT_REASON_ISSUE_CAME_BACK);
  for (guint i = 0; i < standing->steps->len; i++)
    g_assert_cmpint (((const InsightStep *) standing->steps->pdata[i])->code, !=, INSIGHT_STEP_TEST);
}

/* What all issues are asked for: what units show, not what was written down. */
static void
test_count (void)
{
  g_auto(Story) story;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  BookEvidence *e;
  int duplicate, accepted, claimed;

  story_up (&story, (guint[]){ 10, 33, 0 });
  story_check (&story, 0, 10, 5);
  story_check (&story, 1, 33, 0);
  duplicate = fixture_issue (story.f, story.c);
  accepted = fixture_issue (story.f, story.c);
  claimed = fixture_issue (story.f, -1);
  e = story.f->e;
  for (int i = duplicate; i <= claimed; i++)
    {
      e->issues[i].found = e->issues[0].found;
      e->issues[i].closed = e->issues[0].found + 2;
      e->issues[i].outcome_by = 0;
    }
  e->issues[duplicate].outcome = BOOK_OUTCOME_DUPLICATE;
  e->issues[accepted].outcome = BOOK_OUTCOME_ACCEPTED;
  e->issues[claimed].outcome = BOOK_OUTCOME_PROVEN;
  fixture_criterion (story.f, "I", BOOK_CRITERION_ISSUES, -1);
  standing = fixture_standing (story.f, NULL);
  criterion = fixture_criterion_in (standing, "I");
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_cmpuint (criterion->n, ==, 2);
  g_assert_cmpuint (criterion->done, ==, 1);
  g_assert_cmpint (count_of (criterion->reasons, INSIGHT_REASON_ISSUES_EXCEPTED, 0), ==, 1);
  g_clear_pointer (&standing, insight_standing_unref);

  /* accepting is by name, and never of safety */
  e->issues[accepted].klass = BOOK_CLASS_SAFETY;
  standing = fixture_standing (story.f, NULL);
  g_assert_cmpuint (fixture_criterion_in (standing, "I")->n, ==, 3);
  assert_not_said (fixture_criterion_in (standing, "I"), INSIGHT_REASON_ISSUES_EXCEPTED);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/fix/the-criterion-is-met-when-proven", test_criterion);
  g_test_add_func ("/insight/fix/the-criterion-turns-against", test_criterion_against);
  g_test_add_func ("/insight/fix/the-count-of-issues-asks-the-units", test_count);
  return g_test_run ();
}
