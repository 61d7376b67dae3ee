/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Units of which state of design count, and of which kind of round. The rules are the program's own (see DEVELOPERS.md);
 * expected counts follow from them.
 */
#include "config.h"
#include "evidence-fixture.h"

/* Two rounds P1 and P2 of six units each, a part whose revision differs, a checked characteristic that all pass. */
typedef struct
{
  Fixture *f;
  int      p1, p2, part, a, b, c, first, second;
} Pair;

static void
pair_up (Pair *pair, BookClass klass)
{
  Fixture *f = pair->f = fixture_new ();

  pair->p1 = fixture_round (f, "P1", BOOK_ROUND_PILOT, "2026-01-01", TRUE);
  pair->p2 = fixture_round (f, "P2", BOOK_ROUND_PILOT, "2026-03-01", TRUE);
  pair->part = fixture_part (f, "LEVER");
  pair->a = fixture_revision (f, pair->part, "A", "2026-01-01");
  pair->b = fixture_revision (f, pair->part, "B", "2026-02-20");
  fixture_plan (f, pair->p1, pair->part, pair->a, -1, "");
  fixture_plan (f, pair->p2, pair->part, pair->b, -1, "");
  pair->c = fixture_checked (f, "HOLD", klass);
  fixture_depends (f, pair->c, pair->part, -1);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, pair->c), "2026-01-01", 0.90, 0.90);
  pair->first = fixture_units (f, pair->p1, 6);
  pair->second = fixture_units (f, pair->p2, 6);
  for (int i = 0; i < 6; i++)
    {
      fixture_check (f, pair->first + i, pair->c, TRUE);
      fixture_check (f, pair->second + i, pair->c, TRUE);
    }
}

static void
test_other_revision (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Pair pair;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  criterion = fixture_judge (pair.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 6);
  g_assert_cmpuint (criterion->no_longer.n, ==, 6);
  g_assert_cmpstr (criterion->rounds[0], ==, "P2");
  g_assert_null (criterion->rounds[1]);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_OTHER_STATE)->names[1], ==, "A");
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_OTHER_STATE)->names[2], ==, "B");

  assert_said (criterion, INSIGHT_REASON_CHANGED_BY);
  g_assert_null (insight_criterion_find_reason (criterion, INSIGHT_REASON_CHANGED_BY)->names[0]); /* nobody says why */

  criterion = fixture_judge (pair.f, "P1", &standing);
  g_assert_cmpuint (criterion->n, ==, 6);
  g_assert_cmpuint (criterion->no_longer.n, ==, 0);
  fixture_free (pair.f);
}

/* The change that did it, by way of another revision, and not one that was withdrawn; of a setting likewise. */
static void
test_names_the_change (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightReason *reason;
  Pair pair;
  int between, gone, step;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  between = fixture_revision (pair.f, pair.part, "A2", "2026-02-10");
  fixture_change_item (pair.f, fixture_change (pair.f, "2026-02-10"), pair.part, pair.a, between);
  fixture_change_item (pair.f, fixture_change (pair.f, "2026-02-20"), pair.part, between, pair.b);
  gone = fixture_change (pair.f, "2026-02-20");
  fixture_change_item (pair.f, gone, pair.part, pair.a, pair.b);
  pair.f->e->changes[gone].withdrawn = book_day_parse ("2026-02-21", NULL);
  reason = insight_criterion_find_reason (fixture_judge (pair.f, NULL, &standing), INSIGHT_REASON_CHANGED_BY);
  g_assert_cmpuint (g_strv_length (reason->names), ==, 2);
  g_assert_cmpstr (reason->names[0], ==, "1 steeper");
  g_assert_cmpstr (reason->names[1], ==, "2 steeper");
  g_assert_cmpint (reason->ids[0], ==, pair.f->e->changes[0].id);
  fixture_free (pair.f);

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  step = fixture_step (pair.f, "Temper");
  pair.f->e->plans[1].revision = pair.a;
  fixture_depends (pair.f, pair.c, -1, step);
  fixture_setting (pair.f, step, "2026-01-01", 220, -1);
  fixture_setting (pair.f, step, "2026-02-25", 205, fixture_change (pair.f, "2026-02-25"));
  reason = insight_criterion_find_reason (fixture_judge (pair.f, NULL, &standing), INSIGHT_REASON_CHANGED_BY);
  g_assert_cmpuint (g_strv_length (reason->names), ==, 1);
  g_assert_cmpstr (reason->names[0], ==, "1 steeper");
  fixture_free (pair.f);
}

static void
test_independent_part (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Pair pair;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  pair.f->e->depends[0].part = fixture_part (pair.f, "HANDLE"); /* does not change */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  pair.f->e->n_depends = 0; /* nothing said: on all parts */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  fixture_free (pair.f);
}

static void
test_unit_part_over_plan (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Pair pair;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  fixture_unit_part (pair.f, pair.first, pair.part, pair.b, -1); /* already built with B */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 7);
  fixture_free (pair.f);
}

static void
test_carried_over (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Pair pair;
  int change, lead;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  lead = fixture_person (pair.f, "EH", BOOK_ROLE_LEAD);
  change = fixture_change (pair.f, "2026-02-15");
  fixture_change_item (pair.f, change, pair.part, pair.a, pair.b);
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6); /* a change alone carries nothing over */
  fixture_carry (pair.f, change, pair.c, lead, -1);
  criterion = fixture_judge (pair.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 12);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_CARRIED_OVER)->counts[0], ==, 6);

  pair.f->e->carries[0].reason = ""; /* without a reason it is none */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  pair.f->e->carries[0].reason = "does not touch it";
  pair.f->e->changes[0].withdrawn = pair.f->e->changes[0].day + 1;
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  fixture_free (pair.f);
}

static void
test_carried_over_safety (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Pair pair;
  int change, lead, owner;

  pair_up (&pair, BOOK_CLASS_SAFETY);
  lead = fixture_person (pair.f, "EH", BOOK_ROLE_LEAD);
  owner = fixture_person (pair.f, "MO", BOOK_ROLE_OWNER);
  change = fixture_change (pair.f, "2026-02-15");
  fixture_change_item (pair.f, change, pair.part, pair.a, pair.b);
  fixture_carry (pair.f, change, pair.c, lead, -1);
  criterion = fixture_judge (pair.f, NULL, &standing);
  g_assert_cmpuint (criterion->n, ==, 6);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_SECOND_PERSON)->counts[0], ==, 6);
  pair.f->e->carries[0].second_person = lead; /* the same person twice is one */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  pair.f->e->carries[0].second_person = owner;
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  fixture_free (pair.f);
}

static void
test_carried_through_several (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Pair pair;
  int lead, middle, one, two;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  lead = fixture_person (pair.f, "EH", BOOK_ROLE_LEAD);
  middle = fixture_revision (pair.f, pair.part, "A2", "2026-02-01");
  one = fixture_change (pair.f, "2026-02-01");
  two = fixture_change (pair.f, "2026-02-15");
  fixture_change_item (pair.f, one, pair.part, pair.a, middle);
  fixture_change_item (pair.f, two, pair.part, middle, pair.b);
  fixture_carry (pair.f, one, pair.c, lead, -1);
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6); /* each change on the way must be marked */
  fixture_carry (pair.f, two, pair.c, lead, -1);
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  fixture_free (pair.f);
}

static void
test_split_round (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p3 = fixture_round (f, "P3", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  int part = fixture_part (f, "SPRING");
  int b = fixture_revision (f, part, "B", "2026-01-02"), c = fixture_revision (f, part, "C", "2026-01-05");
  int hold = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  int first = fixture_units (f, p3, 10), next;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fixture_plan (f, p3, part, b, -1, "P3-001");
  fixture_plan (f, p3, part, c, -1, "P3-007");
  for (int i = 0; i < 10; i++)
    fixture_check (f, first + i, hold, TRUE);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, hold), "2026-01-01", 0.90, 0.90);

  criterion = fixture_judge (f, "P3", &standing); /* without a next round the later revision */
  g_assert_cmpuint (criterion->n, ==, 4);
  assert_said (criterion, INSIGHT_REASON_SPLIT_LATER);

  next = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-03-01", FALSE);
  fixture_plan (f, next, part, b, -1, "");
  criterion = fixture_judge (f, "P3", &standing); /* what the next plan takes, though it was chosen later */
  g_assert_cmpuint (criterion->n, ==, 6);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_SPLIT_NEXT_PLAN)->names[1], ==, "B");
  criterion = fixture_judge (f, "A", &standing); /* nothing of A is built: P3 is still the newest */
  g_assert_cmpuint (criterion->n, ==, 6);
}

static void
test_split_without_word (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p3 = fixture_round (f, "P3", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  int part = fixture_part (f, "SPRING");
  int b = fixture_revision (f, part, "B", "2026-01-02"), c = fixture_revision (f, part, "C", "2026-01-05");
  int hold = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  int first = fixture_units (f, p3, 4);
  g_autoptr(InsightStanding) standing = NULL;

  /* Two revisions are planned and nobody says which unit has which: they are not one state. */
  fixture_plan (f, p3, part, b, -1, "");
  fixture_plan (f, p3, part, c, -1, "");
  for (int i = 0; i < 4; i++)
    fixture_check (f, first + i, hold, TRUE);
  fixture_unit_part (f, first, part, c, -1);
  fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, hold);
  g_assert_cmpuint (fixture_judge (f, NULL, &standing)->n, ==, 1);
}

static void
test_step_setting (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Pair pair;
  int step, change, lead;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  lead = fixture_person (pair.f, "EH", BOOK_ROLE_LEAD);
  change = fixture_change (pair.f, "2026-02-15");
  step = fixture_step (pair.f, "Temper");
  pair.f->e->depends[0] = (BookEvidenceDepends){ pair.c, -1, step };
  fixture_setting (pair.f, step, "2026-01-01", 220.0, -1);
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  fixture_setting (pair.f, step, "2026-02-20", 205.0, change); /* between the rounds' days built */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  fixture_event (pair.f, pair.first, BOOK_EVENT_PASSED, "2026-02-25", step, -1); /* this one passed the step later */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 7);
  fixture_carry (pair.f, change, pair.c, lead, -1);
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  pair.f->e->n_carries = 0;
  fixture_setting (pair.f, step, "2026-02-22", 220.0, -1); /* back again: equal is equal */
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  fixture_free (pair.f);
}

static void
test_kind_of_round (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Pair pair;

  pair_up (&pair, BOOK_CLASS_SAFETY); /* safety counts from the pilot on */
  pair.f->e->n_depends = 0;
  pair.f->e->plans[1].revision = pair.a;
  pair.f->e->rounds[pair.p1].kind = BOOK_ROUND_PROTOTYPE;
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  pair.f->e->criteria[0].counts_from = BOOK_COUNTS_PROTOTYPE;
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 12);
  pair.f->e->rounds[pair.p1].kind = BOOK_ROUND_BENCH;
  g_assert_cmpuint (fixture_judge (pair.f, NULL, &standing)->n, ==, 6);
  pair.f->e->rounds[pair.p2].kind = BOOK_ROUND_BENCH;
  criterion = fixture_judge (pair.f, NULL, &standing);
  assert_state (criterion, INSIGHT_NO_DATA);
  assert_said (criterion, INSIGHT_REASON_KIND_EARLY);
  fixture_free (pair.f);
}

static void
test_no_longer (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Pair pair;

  pair_up (&pair, BOOK_CLASS_FUNCTION);
  for (guint i = 0; i < pair.f->e->n_readings; i++)
    if (pair.f->e->readings[i].unit >= (guint) pair.second)
      pair.f->e->readings[i].day = book_day_parse ("2030-01-01", NULL); /* not yet measured */
  assert_state (fixture_judge (pair.f, NULL, &standing), INSIGHT_NO_LONGER);
  fixture_finding (pair.f, fixture_issue (pair.f, -1), pair.first, BOOK_DISPOSITION_USE_AS_IS, TRUE, "2026-02-01");
  assert_state (fixture_judge (pair.f, NULL, &standing), INSIGHT_NO_LONGER); /* an excused unit is of that state, too */
  g_assert_cmpint (((const InsightStep *) standing->steps->pdata[0])->code, ==, INSIGHT_STEP_NEW_UNITS);
  fixture_free (pair.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/counting/another-revision-no-longer-counts", test_other_revision);
  g_test_add_func ("/insight/counting/names-the-change-by-which-units-no-longer-count", test_names_the_change);
  g_test_add_func ("/insight/counting/only-parts-it-depends-on-matter", test_independent_part);
  g_test_add_func ("/insight/counting/a-unit's-own-part-goes-before-the-plan", test_unit_part_over_plan);
  g_test_add_func ("/insight/counting/carried-over-needs-name-and-reason", test_carried_over);
  g_test_add_func ("/insight/counting/carried-over-safety-needs-two", test_carried_over_safety);
  g_test_add_func ("/insight/counting/carried-over-needs-every-change", test_carried_through_several);
  g_test_add_func ("/insight/counting/a-split-round-looks-to-the-next-plan", test_split_round);
  g_test_add_func ("/insight/counting/a-split-without-serials-is-no-state", test_split_without_word);
  g_test_add_func ("/insight/counting/a-step-setting-is-part-of-the-state", test_step_setting);
  g_test_add_func ("/insight/counting/the-kind-of-round-counts", test_kind_of_round);
  g_test_add_func ("/insight/counting/all-on-another-state-is-no-longer", test_no_longer);
  return g_test_run ();
}
