/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds for any evidence: properties over random stories, the seed printed by the test run. */
#include "config.h"
#include "evidence-fixture.h"

#define STORIES 40

/* A story of some rounds with revisions that come and go, failures, voids, excuses, moved limits; @order permutes the
 * values among the units of each round. */
static Fixture *
random_story (guint32 seed, gboolean reversed)
{
  Fixture *f = fixture_new ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  static const char *const labels[] = { "A", "B", "C", "D" };
  static const char *const dates[] = { "2026-01-01", "2026-03-01", "2026-05-01", "2026-07-01" };
  guint n_rounds = 1 + (guint) g_rand_int_range (rand, 0, 4);
  int part = fixture_part (f, "LEVER"), revisions[4];
  int measured = fixture_measured (f, "FORCE", g_rand_boolean (rand) ? BOOK_CLASS_SAFETY : BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int checked = fixture_checked (f, "HOLD", g_rand_boolean (rand) ? BOOK_CLASS_SAFETY : BOOK_CLASS_FUNCTION);
  int owner = fixture_person (f, "MO", BOOK_ROLE_OWNER);

  fixture_limit (f, measured, "2026-01-01", 9.0, INFINITY);
  if (g_rand_boolean (rand))
    fixture_limit (f, measured, "2026-04-01", 8.8, INFINITY);
  for (guint r = 0; r < n_rounds; r++)
    {
      int round = fixture_round (f, labels[r], BOOK_ROUND_PILOT, dates[r], r + 1 < n_rounds || g_rand_boolean (rand));
      guint n = 5 + (guint) g_rand_int_range (rand, 0, 20);
      int first;

      revisions[r] = r > 0 && g_rand_boolean (rand) ? revisions[r - 1] : fixture_revision (f, part, labels[r], dates[r]);
      fixture_plan (f, round, part, revisions[r], -1, "");
      first = fixture_units (f, round, n);
      for (guint i = 0; i < n; i++)
        {
          int unit = first + (int) (reversed ? n - 1 - i : i);
          double value = 10.0 + 0.4 * (g_rand_double (rand) + g_rand_double (rand) - 1.0);
          gboolean passed = g_rand_int_range (rand, 0, 20) > 0;
          int reading = fixture_check (f, unit, checked, passed);

          fixture_value (f, unit, measured, value);
          f->e->readings[reading].voided = g_rand_int_range (rand, 0, 30) == 0;
        }
    }
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, measured), "2026-01-01", 0.95, 0.90);
  fixture_term (f, fixture_criterion (f, "C2", BOOK_CRITERION_CHECKED, checked), "2026-01-01", 0.90, 0.90);
  f->e->terms[1].person = owner;
  return f;
}

static void
test_order (void)
{
  for (guint s = 0; s < STORIES; s++)
    {
      guint32 seed = (guint32) g_test_rand_int ();
      g_autoptr(Fixture) one = random_story (seed, FALSE);
      g_autoptr(Fixture) other = random_story (seed, TRUE);
      g_autoptr(InsightStanding) first = fixture_standing (one, NULL);
      g_autoptr(InsightStanding) second = fixture_standing (other, NULL);

      for (guint i = 0; i < first->criteria->len; i++)
        {
          const InsightCriterion *a = insight_standing_get_criterion (first, i), *b = insight_standing_get_criterion (second, i);

          g_assert_cmpuint (a->n, ==, b->n);
          g_assert_cmpuint (a->failed, ==, b->failed);
          g_assert_cmpuint (a->attempts, ==, b->attempts);
          g_assert_cmpuint (a->looks, ==, b->looks);
          assert_state (a, b->state);
          g_assert_true ((isnan (a->confidence) && isnan (b->confidence)) || fabs (a->confidence - b->confidence) < 1e-9);
        }
    }
}

static void
test_counts_never_go_back (void)
{
  for (guint s = 0; s < STORIES; s++)
    {
      g_autoptr(Fixture) f = random_story ((guint32) g_test_rand_int (), FALSE);
      guint looks[2] = { 0, 0 }, attempts[2] = { 1, 1 };

      for (guint r = 0; r < f->e->n_rounds; r++)
        {
          g_autoptr(InsightStanding) standing = fixture_standing (f, f->e->rounds[r].label);

          for (guint i = 0; i < 2; i++)
            {
              const InsightCriterion *criterion = insight_standing_get_criterion (standing, i);

              g_assert_cmpuint (criterion->looks, >=, looks[i]);
              g_assert_cmpuint (criterion->attempts, >=, attempts[i]);
              looks[i] = criterion->looks;
              attempts[i] = criterion->attempts;
              /* a look without data does not exist; a confidence and a wanted one are shares */
              g_assert_cmpuint (looks[i], <=, r + 1);
              g_assert_true (isnan (criterion->confidence) || (criterion->confidence >= 0.0 && criterion->confidence <= 1.0));
              g_assert_cmpfloat (criterion->wanted, >=, criterion->wanted_base - 1e-12);
              g_assert_cmpfloat (criterion->wanted, <, 1.0);
              g_assert_cmpuint (criterion->n, ==, criterion->counted.n);
              g_assert_cmpuint (criterion->failed, ==, criterion->failing.n);
              g_assert_false (criterion->state == INSIGHT_MET && criterion->score < 1.0);
            }
        }
    }
}

/* Keeping settled units from look to look gives what looking afresh gives: the last point of the course is the standing. */
static void
test_course_is_standing (void)
{
  for (guint s = 0; s < STORIES; s++)
    {
      g_autoptr(Fixture) f = random_story ((guint32) g_test_rand_int (), FALSE);
      g_autoptr(InsightStanding) whole = fixture_standing (f, NULL);

      for (guint r = 0; r < f->e->n_rounds; r++)
        {
          g_autoptr(InsightStanding) part = fixture_standing (f, f->e->rounds[r].label);
          const InsightCoursePoint *point = whole->course->pdata[r];

          g_assert_cmpuint (point->all.met, ==, part->n_met);
          g_assert_true (fabs (point->all.score - part->score.score) < 1e-12);
        }
    }
}

/* A unit that fails never helps; one that passes never harms. */
static void
test_failures_never_help (void)
{
  for (guint s = 0; s < STORIES; s++)
    {
      guint32 seed = (guint32) g_test_rand_int ();
      g_autoptr(Fixture) with = random_story (seed, FALSE);
      g_autoptr(Fixture) without = random_story (seed, FALSE);
      g_autoptr(InsightStanding) before = NULL;
      g_autoptr(InsightStanding) after = NULL;
      const InsightCriterion *a, *b;
      guint changed = 0;

      before = fixture_standing (without, NULL);
      for (guint i = 0; i < with->e->n_readings && changed == 0; i++)
        if (with->e->readings[i].mark == BOOK_MARK_PASSED && !with->e->readings[i].voided
            && with->e->units[with->e->readings[i].unit].round == (int) with->e->n_rounds - 1)
          {
            with->e->readings[i].mark = BOOK_MARK_FAILED;
            changed = i + 1;
          }
      after = fixture_standing (with, NULL);
      a = fixture_criterion_in (before, "C2");
      b = fixture_criterion_in (after, "C2");
      if (changed == 0)
        continue;
      g_assert_cmpuint (b->failed, ==, a->failed + 1);
      g_assert_cmpfloat (b->confidence, <=, a->confidence + 1e-12);
      g_assert_false (b->state == INSIGHT_MET && a->state != INSIGHT_MET);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/properties/order-of-units-does-not-matter", test_order);
  g_test_add_func ("/insight/properties/looks-and-attempts-never-go-back", test_counts_never_go_back);
  g_test_add_func ("/insight/properties/the-course-repeats-each-standing", test_course_is_standing);
  g_test_add_func ("/insight/properties/a-failure-never-helps", test_failures_never_help);
  return g_test_run ();
}
