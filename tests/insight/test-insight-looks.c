/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking again and starting again: that cheating does not pay. Expected counts follow from the rules themselves. */
#include "config.h"
#include "evidence-fixture.h"

/* @n_rounds pilot rounds of @n units, each round with a revision of its own unless @same; a strict check. */
typedef struct
{
  Fixture *f;
  int      part, c, revisions[6], first[6];
} Story;

static void
story_up (Story *story, guint n_rounds, guint n, gboolean same, BookCharacteristicKind kind)
{
  static const char *const labels[] = { "A", "B", "C", "D", "E", "F" };
  static const char *const dates[] = { "2026-01-01", "2026-02-15", "2026-04-01", "2026-05-15", "2026-07-01", "2026-08-15" };
  Fixture *f = story->f = fixture_new ();
  int owner = fixture_person (f, "MO", BOOK_ROLE_OWNER), rounds[6];

  story->part = fixture_part (f, "LEVER");
  story->c = kind == BOOK_CHARACTERISTIC_CHECKED ? fixture_checked (f, "HOLD", BOOK_CLASS_SAFETY)
                                                 : fixture_measured (f, "SLIP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  for (guint r = 0; r < n_rounds; r++)
    {
      rounds[r] = fixture_round (f, labels[r], BOOK_ROUND_PILOT, dates[r], TRUE);
      story->revisions[r] = r == 0 || !same ? fixture_revision (f, story->part, labels[r], dates[r]) : story->revisions[0];
      fixture_plan (f, rounds[r], story->part, story->revisions[r], -1, "");
      story->first[r] = fixture_units (f, rounds[r], n);
    }
  fixture_term (f, fixture_criterion (f, "C1", kind == BOOK_CHARACTERISTIC_CHECKED ? BOOK_CRITERION_CHECKED
                                                                                  : BOOK_CRITERION_MEASURED, story->c),
                "2026-01-01", 0.90, 0.90);
  f->e->terms[0].person = owner;
}

static void
check_round (Story *story, guint round, guint n, guint failed)
{
  int issue = fixture_issue (story->f, story->c);

  for (guint i = 0; i < n; i++)
    {
      fixture_check (story->f, story->first[round] + (int) i, story->c, i >= failed);
      if (i < failed)
        fixture_finding (story->f, issue, story->first[round] + (int) i, BOOK_DISPOSITION_SCRAP, FALSE, "2026-01-25");
    }
}

static void
test_three_starts (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  story_up (&story, 4, 33, FALSE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 33, 2);
  check_round (&story, 1, 33, 1);
  check_round (&story, 2, 33, 3);
  check_round (&story, 3, 33, 0);

  criterion = fixture_judge (story.f, "A", &standing);
  g_assert_cmpuint (criterion->attempts, ==, 1);
  criterion = fixture_judge (story.f, "B", &standing);
  g_assert_cmpuint (criterion->attempts, ==, 2);
  criterion = fixture_judge (story.f, "D", &standing);
  g_assert_cmpuint (criterion->attempts, ==, 4);
  g_assert_cmpuint (criterion->earlier_failures, ==, 6);
  g_assert_cmpuint (criterion->earlier_units, ==, 99);
  g_assert_cmpuint (criterion->looks, ==, 4);
  /* at attempt 4 the error is divided by 20: 33 units without a failure, enough at the first, are not enough now */
  assert_near (criterion->wanted, 1.0 - 0.1 / 20.0, 1e-12);
  assert_state (criterion, INSIGHT_TOO_FEW);
  fixture_free (story.f);
}

static void
test_second_attempt_price (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* SciPy 1.10.1: 44 units without a failure at attempt 2 (the mixture reaches 1 - 0.1 / 6), 43 are too few */
  story_up (&story, 2, 44, FALSE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 44, 1);
  check_round (&story, 1, 43, 0);
  assert_state (fixture_judge (story.f, NULL, &standing), INSIGHT_TOO_FEW);
  g_assert_cmpint (fixture_criterion_in (standing, "C1")->units_needed, ==, 1);
  fixture_check (story.f, story.first[1] + 43, story.c, TRUE);
  assert_state (fixture_judge (story.f, NULL, &standing), INSIGHT_MET);
  fixture_free (story.f);
}

static void
test_no_failure_no_start (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  story_up (&story, 3, 33, FALSE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 33, 0);
  check_round (&story, 1, 33, 0);
  check_round (&story, 2, 33, 0);
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 1);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_MET);
  fixture_free (story.f);
}

static void
test_never_back (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  /* Back to the first revision: its failure counts again, and the start remains. */
  story_up (&story, 3, 33, FALSE, BOOK_CHARACTERISTIC_CHECKED);
  story.f->e->plans[2].revision = story.revisions[0];
  check_round (&story, 0, 33, 1);
  check_round (&story, 1, 33, 0);
  check_round (&story, 2, 33, 0);
  criterion = fixture_judge (story.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 66);
  g_assert_cmpuint (criterion->failed, ==, 1);
  g_assert_cmpuint (criterion->attempts, ==, 2);
  fixture_free (story.f);
}

static void
test_voiding_a_failure (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  story_up (&story, 1, 34, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 34, 1);
  story.f->e->readings[0].voided = TRUE;
  criterion = fixture_judge (story.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 33);
  g_assert_cmpuint (criterion->failed, ==, 0);
  g_assert_cmpuint (criterion->attempts, ==, 2); /* a start again: 44 units are wanted now */
  assert_state (criterion, INSIGHT_TOO_FEW);
  fixture_free (story.f);
}

static void
test_voiding_a_pass (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  story_up (&story, 1, 34, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 34, 0);
  story.f->e->readings[0].voided = TRUE;
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 1);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_MET);
  fixture_free (story.f);
}

static void
test_setting_aside (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  story_up (&story, 1, 36, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 36, 3);
  fixture_event (story.f, story.first[0], BOOK_EVENT_SET_ASIDE, "2026-01-26", -1, -1);
  fixture_event (story.f, story.first[0] + 1, BOOK_EVENT_SET_ASIDE, "2026-01-27", -1, -1);
  fixture_event (story.f, story.first[0] + 2, BOOK_EVENT_SET_ASIDE, "2026-01-28", -1, -1);
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 4);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_TOO_FEW);
  fixture_free (story.f);
}

static void
test_widening (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  /* A function characteristic keeps its units; the widening that brings a failure inside is a start again. */
  story_up (&story, 1, 12, TRUE, BOOK_CHARACTERISTIC_MEASURED);
  story.f->e->characteristics[story.c].klass = BOOK_CLASS_FUNCTION;
  story.f->e->criteria[0].klass = BOOK_CLASS_FUNCTION;
  for (int i = 0; i < 12; i++)
    fixture_value (story.f, story.first[0] + i, story.c, 10.0 + 0.1 * i);
  fixture_limit (story.f, story.c, "2026-01-01", 5.0, 11.05);
  fixture_limit (story.f, story.c, "2026-01-28", 5.0, 14.0);
  criterion = fixture_judge (story.f, NULL, &standing);
  g_assert_cmpuint (criterion->failed, ==, 0);
  g_assert_cmpuint (criterion->attempts, ==, 2);
  assert_near (criterion->wanted, 1.0 - 0.1 / 6.0, 1e-12);
  assert_said (criterion, INSIGHT_REASON_LIMIT_WIDENED);

  story.f->e->limits[0].upper = 12.0; /* nothing was outside: no start */
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 1);
  fixture_free (story.f);
}

static void
test_looks (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  /* The same state looked at after each of four rounds: at the fourth look the error is divided by 20. */
  story_up (&story, 4, 6, TRUE, BOOK_CHARACTERISTIC_MEASURED);
  fixture_limit (story.f, story.c, "2026-01-01", 9.3, INFINITY);
  for (guint r = 0; r < 4; r++)
    for (int i = 0; i < 6; i++)
      fixture_value (story.f, story.first[r] + i, story.c, 10.0 + 0.1 * i);
  for (guint r = 0; r < 4; r++)
    {
      static const char *const labels[] = { "A", "B", "C", "D" };

      criterion = fixture_judge (story.f, labels[r], &standing);
      g_assert_cmpuint (criterion->looks, ==, r + 1);
      g_assert_cmpuint (criterion->n, ==, 6 * (r + 1));
      assert_near (criterion->wanted, 1.0 - 0.1 / ((r + 1.0) * (r + 2.0)), 1e-12);
    }
  fixture_free (story.f);
}

static void
test_look_needs_new_data (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  story_up (&story, 3, 6, TRUE, BOOK_CHARACTERISTIC_MEASURED);
  fixture_limit (story.f, story.c, "2026-01-01", 9.3, INFINITY);
  for (int i = 0; i < 6; i++)
    fixture_value (story.f, story.first[0] + i, story.c, 10.0 + 0.1 * i);
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->looks, ==, 1);
  fixture_free (story.f);
}

static void
test_going_on_after_tested (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* Six units, testing declared finished, looked at; then six more in the same round: a second look. */
  story_up (&story, 1, 12, TRUE, BOOK_CHARACTERISTIC_MEASURED);
  fixture_limit (story.f, story.c, "2026-01-01", 9.3, INFINITY);
  for (int i = 0; i < 12; i++)
    fixture_reading (story.f, story.first[0] + i, story.c, 1, 1, BOOK_MARK_MEASURED, 10.0 + 0.1 * i,
                     i < 6 ? "2026-01-25" : "2026-02-03");
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->looks, ==, 2);
  fixture_free (story.f);
}

static void
test_late_reading (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* A reading of round A taken while B is under way is not seen through A, and is new at B. */
  story_up (&story, 2, 6, TRUE, BOOK_CHARACTERISTIC_MEASURED);
  fixture_limit (story.f, story.c, "2026-01-01", 9.3, INFINITY);
  for (int i = 0; i < 6; i++)
    fixture_reading (story.f, story.first[0] + i, story.c, 1, 1, BOOK_MARK_MEASURED, 10.0 + 0.1 * i,
                     i < 4 ? "2026-01-25" : "2026-02-20");
  g_assert_cmpuint (fixture_judge (story.f, "A", &standing)->n, ==, 4);
  g_assert_cmpuint (fixture_judge (story.f, "B", &standing)->n, ==, 6);
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->looks, ==, 2);
  fixture_free (story.f);
}

/* A declared plan: 22 units, no failure; the journal says that readings came after it from key @first on. */
static void
declare_plan (Story *story, gint64 first)
{
  story->f->e->terms[0].plan_units = 22;
  story->f->e->n_boundaries = 0;
  fixture_boundary (story->f, BOOK_BOUNDARY_TERM, 0, first, first);
}

static void
test_declared_plan (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  story_up (&story, 1, 30, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  story.f->e->criteria[0].strict = FALSE;
  check_round (&story, 0, 21, 0);
  declare_plan (&story, 1);
  criterion = fixture_judge (story.f, NULL, &standing);
  g_assert_true (criterion->so_far);
  assert_said (criterion, INSIGHT_REASON_PLAN_INCOMPLETE);
  g_assert_cmpint (criterion->units_needed, ==, 1);

  fixture_check (story.f, story.first[0] + 21, story.c, TRUE);
  criterion = fixture_judge (story.f, NULL, &standing);
  /* R 4.2.2: 1 - pbinom (0, 22, 0.1) = 0.9015229 */
  assert_near (criterion->confidence, 0.901522909781639, 1e-9);
  g_assert_cmpint (criterion->method, ==, INSIGHT_METHOD_PLAN);
  assert_state (criterion, INSIGHT_MET);

  /* a 23rd unit that fails comes after the plan was complete; judged once */
  fixture_check (story.f, story.first[0] + 22, story.c, FALSE);
  criterion = fixture_judge (story.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 22);
  assert_state (criterion, INSIGHT_MET);
  fixture_free (story.f);
}

static void
test_altered_and_excused (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;
  int unit;

  story_up (&story, 1, 10, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 9, 0);
  unit = story.first[0] + 9;
  fixture_event (story.f, unit, BOOK_EVENT_ALTERED, "2026-01-22", -1, -1);
  fixture_reading (story.f, unit, story.c, 1, 1, BOOK_MARK_FAILED, NAN, "2026-01-25");
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 1); /* was never counted */
  fixture_event (story.f, unit, BOOK_EVENT_SET_ASIDE, "2026-01-26", -1, -1);
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 1);

  story.f->e->events[0].day = book_day_parse ("2026-01-27", NULL); /* altered after the failure, which was counted */
  g_assert_cmpuint (fixture_judge (story.f, NULL, &standing)->attempts, ==, 2);
  fixture_free (story.f);
}

static void
test_plan_after_the_fact (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  story_up (&story, 1, 22, TRUE, BOOK_CHARACTERISTIC_CHECKED);
  check_round (&story, 0, 22, 0);
  declare_plan (&story, G_MAXINT32); /* dated before the readings, but written after them */
  criterion = fixture_judge (story.f, NULL, &standing);
  assert_said (criterion, INSIGHT_REASON_PLAN_LATE);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_PLAN_LATE)->names[1], ==, "");
  g_assert_cmpint (criterion->method, ==, INSIGHT_METHOD_ANYTIME);
  assert_state (criterion, INSIGHT_TOO_FEW);

  declare_plan (&story, 1); /* written before them, but dated after */
  story.f->e->terms[0].from = book_day_parse ("2026-01-22", NULL);
  criterion = fixture_judge (story.f, NULL, &standing);
  assert_said (criterion, INSIGHT_REASON_PLAN_LATE);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_PLAN_LATE)->names[1], <, "2026-01-22");
  fixture_free (story.f);
}

static void
test_split_choice (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;
  int other;

  /* Half old, half new; the next plan takes the half that did not fail: a start again. */
  story_up (&story, 2, 40, FALSE, BOOK_CHARACTERISTIC_CHECKED);
  other = fixture_revision (story.f, story.part, "A2", "2026-01-02");
  story.f->e->plans[0].first_serial = "A-001";
  fixture_plan (story.f, 0, story.part, other, -1, "A-021");
  story.f->e->plans[1].revision = other;
  check_round (&story, 0, 40, 2); /* fail */
  criterion = fixture_judge (story.f, "A", &standing);
  g_assert_cmpuint (criterion->n, ==, 20);
  g_assert_cmpuint (criterion->attempts, ==, 2);
  fixture_free (story.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/looks/three-starts-again-cost-confidence", test_three_starts);
  g_test_add_func ("/insight/looks/the-second-attempt-costs-44-units", test_second_attempt_price);
  g_test_add_func ("/insight/looks/a-new-state-without-a-failure-is-no-start", test_no_failure_no_start);
  g_test_add_func ("/insight/looks/attempts-never-go-back", test_never_back);
  g_test_add_func ("/insight/looks/voiding-a-failure-is-a-start", test_voiding_a_failure);
  g_test_add_func ("/insight/looks/voiding-a-pass-is-none", test_voiding_a_pass);
  g_test_add_func ("/insight/looks/setting-failures-aside-is-a-start-each-day", test_setting_aside);
  g_test_add_func ("/insight/looks/widening-over-a-failure-is-a-start", test_widening);
  g_test_add_func ("/insight/looks/each-round-with-new-data-is-a-look", test_looks);
  g_test_add_func ("/insight/looks/a-round-without-data-is-none", test_look_needs_new_data);
  g_test_add_func ("/insight/looks/going-on-after-tested-is-another-look", test_going_on_after_tested);
  g_test_add_func ("/insight/looks/a-late-reading-belongs-to-the-later-look", test_late_reading);
  g_test_add_func ("/insight/looks/a-declared-plan-is-judged-once", test_declared_plan);
  g_test_add_func ("/insight/looks/what-an-alteration-took-out-is-no-start-when-excused", test_altered_and_excused);
  g_test_add_func ("/insight/looks/a-plan-after-the-fact-is-none", test_plan_after_the_fact);
  g_test_add_func ("/insight/looks/choosing-half-of-a-split-is-a-start", test_split_choice);
  return g_test_run ();
}
