/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows that are dated before they were entered: used by their date, and named. Expected counts follow from the rule. */
#include "config.h"
#include "evidence-fixture.h"

typedef struct
{
  Fixture *f;
  int      c, rounds[2], units[2], readings[2];
} Story;

/* Two decided pilot rounds of eight units each, around 2.5. */
static void
story_up (Story *story, BookClass klass)
{
  static const double values[8] = { 2.42, 2.61, 2.55, 2.38, 2.49, 2.70, 2.31, 2.53 };
  Fixture *f = story->f = fixture_new ();

  fixture_person (f, "EH", BOOK_ROLE_OWNER);
  story->c = fixture_measured (f, "GAP", klass, BOOK_SHAPE_NORMAL);
  for (guint r = 0; r < 2; r++)
    {
      /* built 2026-01-21 and 2026-03-22, decided 2026-02-10 and 2026-04-11 */
      story->rounds[r] = fixture_round (f, r == 0 ? "A" : "B", BOOK_ROUND_PILOT, r == 0 ? "2026-01-01" : "2026-03-02", TRUE);
      story->units[r] = fixture_units (f, story->rounds[r], 8);
      story->readings[r] = (int) f->e->n_readings;
      for (int i = 0; i < 8; i++)
        fixture_value (f, story->units[r] + i, story->c, values[i]);
    }
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, story->c), "2026-01-01", 0.90, 0.90);
}

static gint64
key_of (Story *story, guint round, int reading)
{
  return story->f->e->readings[story->readings[round] + reading].id;
}

static void
test_readings (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightReason *reason;
  double confidence;
  Story story;

  story_up (&story, BOOK_CLASS_FUNCTION);
  fixture_limit (story.f, story.c, "2026-01-01", 1.0, INFINITY);
  confidence = fixture_judge (story.f, "A", &standing)->confidence;
  assert_not_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_ENTERED_LATER);

  /* from the sixth reading of round A on; the limit was made last of all */
  fixture_boundary (story.f, BOOK_BOUNDARY_ROUND, story.rounds[0], key_of (&story, 0, 5), key_of (&story, 0, 5));
  reason = insight_criterion_find_reason (fixture_judge (story.f, "A", &standing), INSIGHT_REASON_ENTERED_LATER);
  g_assert_cmpstr (reason->names[0], ==, "A");
  g_assert_cmpint (reason->counts[0], ==, 3);
  g_assert_cmpint (reason->counts[1], ==, 0);
  g_assert_cmpint (reason->counts[2], ==, 1);
  assert_near (fixture_criterion_in (standing, "C1")->confidence, confidence, 1e-15); /* still used by their dates */

  /* a voided one is none that counts; one of a later attempt neither */
  story.f->e->readings[story.readings[0] + 7].voided = TRUE;
  fixture_reading (story.f, story.units[0], story.c, 2, 1, BOOK_MARK_MEASURED, 2.5, "2026-02-01");
  reason = insight_criterion_find_reason (fixture_judge (story.f, "A", &standing), INSIGHT_REASON_ENTERED_LATER);
  g_assert_cmpint (reason->counts[0], ==, 2);

  /* the deciders of round B had all of it */
  assert_not_said (fixture_judge (story.f, "B", &standing), INSIGHT_REASON_ENTERED_LATER);
  fixture_free (story.f);
}

static void
test_units (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightReason *reason;
  Story story;

  story_up (&story, BOOK_CLASS_FUNCTION);
  fixture_limit (story.f, story.c, "2026-01-01", 1.0, INFINITY);
  fixture_boundary (story.f, BOOK_BOUNDARY_ROUND, story.rounds[1], 1, story.f->e->units[story.units[1] + 6].id);
  reason = insight_criterion_find_reason (fixture_judge (story.f, "B", &standing), INSIGHT_REASON_ENTERED_LATER);
  g_assert_cmpint (reason->counts[0], ==, 8); /* all readings of B were made after its units */
  g_assert_cmpint (reason->counts[1], ==, 2);
  fixture_free (story.f);
}

static void
test_kept (void)
{
  g_autoptr(InsightStanding) standing = NULL, again = NULL;
  g_autoptr(GVariant) variant = NULL;
  g_autoptr(GError) error = NULL;
  Story story;

  story_up (&story, BOOK_CLASS_FUNCTION);
  fixture_limit (story.f, story.c, "2026-01-01", 1.0, INFINITY);
  fixture_boundary (story.f, BOOK_BOUNDARY_ROUND, story.rounds[1], 1, 1);
  fixture_judge (story.f, "B", &standing);
  variant = g_variant_ref_sink (insight_standing_to_variant (standing));
  again = insight_standing_from_variant (variant, &error);
  g_assert_no_error (error);
  g_assert_cmpint (insight_criterion_find_reason (fixture_criterion_in (again, "C1"), INSIGHT_REASON_ENTERED_LATER)->counts[0], ==,
                   16);
  g_assert_cmpstr (insight_reason_code_name (INSIGHT_REASON_ENTERED_LATER), ==, "entered-later");
  fixture_free (story.f);
}

/* A wider limit, entered on 2026-03-10 after the readings of round A and before those of B. */
static void
widen (Story *story, const char *from, gboolean by_journal)
{
  fixture_limit (story->f, story->c, "2026-01-01", 2.35, INFINITY); /* 2.31 lies outside */
  fixture_limit (story->f, story->c, from, 2.0, INFINITY);
  fixture_finding (story->f, fixture_issue (story->f, story->c), story->units[0] + 6, BOOK_DISPOSITION_SCRAP, FALSE,
                   "2026-01-25");
  if (!by_journal)
    return;
  story->f->e->limits[1].entered = book_day_parse ("2026-03-10", NULL);
  fixture_boundary (story->f, BOOK_BOUNDARY_LIMIT, 1, key_of (story, 1, 0), key_of (story, 1, 0));
}

/* Dating back must give what the same limit dated as it was entered gives. */
static void
check_dated_back (BookClass klass)
{
  g_autoptr(InsightStanding) standing = NULL, honest_standing = NULL;
  const InsightCriterion *back, *honest;
  const InsightReason *reason;
  Story story, other;

  story_up (&story, klass);
  widen (&story, "2026-01-02", TRUE);
  back = fixture_judge (story.f, "B", &standing);
  story_up (&other, klass);
  widen (&other, "2026-03-10", FALSE);
  honest = fixture_judge (other.f, "B", &honest_standing);

  reason = insight_criterion_find_reason (back, INSIGHT_REASON_LIMIT_WIDENED);
  g_assert_nonnull (reason);
  g_assert_cmpstr (reason->names[0], ==, "2026-03-10");
  g_assert_cmpfloat (reason->numbers[0], ==, 2.35);
  g_assert_cmpfloat (reason->numbers[2], ==, 2.0);
  g_assert_cmpuint (back->n, ==, klass == BOOK_CLASS_SAFETY ? 8 : 16);
  g_assert_cmpuint (back->n, ==, honest->n);
  g_assert_cmpuint (back->failed, ==, honest->failed);
  g_assert_cmpuint (back->attempts, ==, 2); /* the failure of 2.31 was defined away: a start again */
  g_assert_cmpuint (back->attempts, ==, honest->attempts);
  assert_near (back->confidence, honest->confidence, 1e-15);
  assert_state (back, honest->state);
  if (klass == BOOK_CLASS_SAFETY)
    g_assert_cmpint (insight_criterion_find_reason (back, INSIGHT_REASON_WIDENED_SAFETY)->counts[0], ==, 8);
  else
    assert_not_said (back, INSIGHT_REASON_WIDENED_SAFETY);
  fixture_free (story.f);
  fixture_free (other.f);
}

static void
test_dated_back (void)
{
  check_dated_back (BOOK_CLASS_FUNCTION);
}

static void
test_dated_back_safety (void)
{
  check_dated_back (BOOK_CLASS_SAFETY);
}

static void
test_entered_before (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* in force and entered before all readings: nothing to name */
  story_up (&story, BOOK_CLASS_SAFETY);
  widen (&story, "2026-01-02", FALSE);
  fixture_boundary (story.f, BOOK_BOUNDARY_LIMIT, 1, key_of (&story, 0, 0), key_of (&story, 0, 0));
  assert_not_said (fixture_judge (story.f, "B", &standing), INSIGHT_REASON_LIMIT_WIDENED);
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->n, ==, 16);
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->attempts, ==, 1);
  fixture_free (story.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/entries/readings-after-the-decision-are-named", test_readings);
  g_test_add_func ("/insight/entries/units-after-the-decision-are-named", test_units);
  g_test_add_func ("/insight/entries/a-kept-answer-names-them-too", test_kept);
  g_test_add_func ("/insight/entries/a-limit-dated-back-is-a-widened-one", test_dated_back);
  g_test_add_func ("/insight/entries/safety-needs-new-units-after-a-limit-dated-back", test_dated_back_safety);
  g_test_add_func ("/insight/entries/a-limit-entered-before-is-none", test_entered_before);
  return g_test_run ();
}
