/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of safety characteristics are pulled in by what the study of the gauge shows. */
#include "config.h"
#include "evidence-fixture.h"

#define PERSONS 3
#define PIECES  10
#define TRIALS  3

/*
 * AIAG, Measurement Systems Analysis, 4th ed., chapter III, 10 parts by 3 appraisers by 3 trials (as quoted in several
 * public sources, the manual itself not seen). By analysis of variance GRR 0.302373.
 */
#define AIAG_GRR 0.302373
static const double aiag[PERSONS][PIECES][TRIALS] = {
  { { 0.29, 0.41, 0.64 }, { -0.56, -0.68, -0.58 }, { 1.34, 1.17, 1.27 }, { 0.47, 0.5, 0.64 }, { -0.8, -0.92, -0.84 },
    { 0.02, -0.11, -0.21 }, { 0.59, 0.75, 0.66 }, { -0.31, -0.2, -0.17 }, { 2.26, 1.99, 2.01 }, { -1.36, -1.25, -1.31 } },
  { { 0.08, 0.25, 0.07 }, { -0.47, -1.22, -0.68 }, { 1.19, 0.94, 1.34 }, { 0.01, 1.03, 0.2 }, { -0.56, -1.2, -1.28 },
    { -0.2, 0.22, 0.06 }, { 0.47, 0.55, 0.83 }, { -0.63, 0.08, -0.34 }, { 1.8, 2.12, 2.19 }, { -1.68, -1.62, -1.5 } },
  { { 0.04, -0.11, -0.15 }, { -1.38, -1.13, -0.96 }, { 0.88, 1.09, 0.67 }, { 0.14, 0.2, 0.11 }, { -1.46, -1.07, -1.45 },
    { -0.29, -0.67, -0.49 }, { 0.02, 0.01, 0.21 }, { -0.46, -0.56, -0.49 }, { 1.77, 1.45, 1.87 }, { -1.49, -1.77, -2.16 } },
};

/* R 4.2.2, anova (lm (y ~ part * person)): one person, grr 0.0083666002653408. */
#define SMALL_GRR 0.0083666002653408
static const double small[5][2] = { { 1.01, 1.02 }, { 1.11, 1.1 }, { 0.95, 0.96 }, { 1.2, 1.22 }, { 1.05, 1.05 } };

typedef struct
{
  Fixture *f;
  int      c, gauge, units;
} Story;

/* Eight pilot units around 2.5, lower limit 1; a gauge that reads to 0.01. Today is long after all studies. */
static void
story_up (Story *story, double lower, double resolution)
{
  static const double values[8] = { 2.42, 2.61, 2.55, 2.38, 2.49, 2.70, 2.31, 2.53 };
  Fixture *f = story->f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-03-01", TRUE); /* decided on 2026-04-10 */

  for (guint i = 0; i < PERSONS; i++)
    fixture_person (f, i == 0 ? "EH" : i == 1 ? "MO" : "TS", BOOK_ROLE_INSPECTOR);
  story->c = fixture_measured (f, "GAP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  story->gauge = fixture_gauge (f, "Caliper", resolution);
  f->e->characteristics[story->c].gauge = story->gauge;
  fixture_limit (f, story->c, "2026-01-01", lower, INFINITY);
  story->units = fixture_units (f, round, 8);
  for (int i = 0; i < 8; i++)
    fixture_value (f, story->units + i, story->c, values[i]);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, story->c), "2026-01-01", 0.90, 0.90);
}

/* Leaves out the last @without trials; each person's on a day of his own. */
static void
study_aiag (Story *story, int gauge, const char *const days[PERSONS], guint without)
{
  for (guint i = 0; i + without < PERSONS * PIECES * TRIALS; i++)
    {
      guint person = i / (PIECES * TRIALS), piece = i / TRIALS % PIECES;
      g_autofree char *name = g_strdup_printf ("S%u", piece + 1);

      fixture_trial (story->f, gauge, story->c, (int) person, name, (int) (i % TRIALS) + 1, days[person],
                     aiag[person][piece][i % TRIALS]);
    }
}

static void
study_small (Story *story, const char *day)
{
  for (guint i = 0; i < 10; i++)
    {
      g_autofree char *name = g_strdup_printf ("T%u", i / 2 + 1);

      fixture_trial (story->f, story->gauge, story->c, 1, name, (int) (i % 2) + 1, day, small[i / 2][i % 2]);
    }
}

static const InsightReason *
guard_reason (Story *story, InsightStanding **standing)
{
  g_clear_pointer (standing, insight_standing_unref);
  *standing = fixture_standing (story->f, NULL);
  return insight_criterion_find_reason (fixture_criterion_in (*standing, "C1"), INSIGHT_REASON_GUARD_BAND);
}

static const char *const in_one_week[PERSONS] = { "2026-02-02", "2026-02-04", "2026-02-06" };

static void
test_published_study (void)
{
  g_autoptr(InsightStanding) standing = NULL, other = NULL;
  const InsightReason *reason;
  Story story, moved;
  double width = 1.645 * sqrt (AIAG_GRR * AIAG_GRR + 0.01 * 0.01 / 12.0);

  story_up (&story, 1.0, 0.01);
  study_aiag (&story, story.gauge, in_one_week, 0);
  reason = guard_reason (&story, &standing);
  assert_near (width, 0.49742625, 1e-7);
  assert_near (reason->numbers[0], width, 1e-5);
  assert_near (reason->numbers[1], AIAG_GRR, 1e-5);
  g_assert_cmpstr (reason->names[0], ==, "2026-02-06");
  g_assert_cmpint (reason->counts[0], ==, 0);
  assert_not_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);

  /* Another route to the same confidence: no guard band, and the limit itself further in. */
  story_up (&moved, 1.0 + reason->numbers[0], NAN);
  other = fixture_standing (moved.f, NULL);
  assert_said (fixture_criterion_in (other, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);
  assert_not_said (fixture_criterion_in (other, "C1"), INSIGHT_REASON_GUARD_BAND);
  assert_near (fixture_criterion_in (standing, "C1")->confidence, fixture_criterion_in (other, "C1")->confidence, 1e-9);
  g_assert_cmpfloat (fixture_criterion_in (standing, "C1")->lower, ==, 1.0); /* the limit shown stays the book's */
  fixture_free (story.f);
  fixture_free (moved.f);
}

static void
test_verdicts (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* lower limit 2, pulled in to 2.4974: of the eight 2.42, 2.38, 2.49 and 2.31 lie outside, without a study none */
  story_up (&story, 2.0, 0.01);
  guard_reason (&story, &standing);
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->failed, ==, 0);
  study_aiag (&story, story.gauge, in_one_week, 0);
  guard_reason (&story, &standing);
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->failed, ==, 4);
  assert_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_DISPOSITION);
  fixture_free (story.f);
}

static gboolean
has_step (const InsightStanding *standing, InsightStepCode code)
{
  for (guint i = 0; i < standing->steps->len; i++)
    if (((const InsightStep *) standing->steps->pdata[i])->code == code)
      return TRUE;
  return FALSE;
}

/* Limits 2.3 and 2.75, pulled in by 0.4974 each: nothing can be shown to lie between. One unit is outside all the same. */
static void
test_too_coarse (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  Story story;

  story_up (&story, 2.32, 0.01);
  story.f->e->limits[0].upper = 2.75;
  guard_reason (&story, &standing);
  assert_not_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_GUARD_TOO_WIDE);
  g_assert_true (has_step (standing, INSIGHT_STEP_STUDY_GAUGE));
  g_assert_false (has_step (standing, INSIGHT_STEP_FINER_GAUGE));

  study_aiag (&story, story.gauge, in_one_week, 0);
  guard_reason (&story, &standing);
  criterion = fixture_criterion_in (standing, "C1");
  assert_said (criterion, INSIGHT_REASON_GUARD_TOO_WIDE);
  assert_not_said (criterion, INSIGHT_REASON_NOT_COMPUTED);
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_true (isnan (criterion->confidence));
  g_assert_cmpuint (criterion->failed, ==, 1); /* 2.31 */
  g_assert_false (has_step (standing, INSIGHT_STEP_STUDY_GAUGE));
  g_assert_true (has_step (standing, INSIGHT_STEP_FINER_GAUGE));

  /* counted instead of measured it claims no more */
  story.f->e->characteristics[story.c].shape = BOOK_SHAPE_UNKNOWN;
  guard_reason (&story, &standing);
  criterion = fixture_criterion_in (standing, "C1");
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_true (isnan (criterion->confidence));
  fixture_free (story.f);
}

static void
test_gaps (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  const InsightReason *reason;
  Story story;

  story_up (&story, 1.0, 0.01);
  study_aiag (&story, story.gauge, in_one_week, 1);
  reason = guard_reason (&story, &standing);
  assert_near (reason->numbers[0], 1.645 * 0.01 / sqrt (12.0), 1e-12); /* the resolution alone */
  g_assert_cmpuint (reason->n_numbers, ==, 1);
  reason = insight_criterion_find_reason (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);
  g_assert_cmpint (reason->counts[0], ==, PERSONS * PIECES * TRIALS - 1);
  fixture_free (story.f);

  /* a piece that only one person tried, and a piece tried once too often */
  for (guint i = 0; i < 2; i++)
    {
      story_up (&story, 1.0, 0.01);
      study_aiag (&story, story.gauge, in_one_week, 0);
      fixture_trial (story.f, story.gauge, story.c, 1, i == 0 ? "S11" : "S1", 4, "2026-02-06", 0.5);
      guard_reason (&story, &standing);
      reason = insight_criterion_find_reason (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);
      g_assert_cmpint (reason->counts[0], ==, PERSONS * PIECES * TRIALS + 1);
      fixture_free (story.f);
    }
}

static void
test_newest (void)
{
  static const char *const later[PERSONS] = { "2026-03-12", "2026-03-12", "2026-03-13" };
  g_autoptr(InsightStanding) standing = NULL;
  const InsightReason *reason;
  Story story;

  /* of two complete ones the newer */
  story_up (&story, 1.0, 0.01);
  study_small (&story, "2026-02-02");
  reason = guard_reason (&story, &standing);
  assert_near (reason->numbers[1], SMALL_GRR, 1e-9);
  study_aiag (&story, story.gauge, later, 0);
  reason = guard_reason (&story, &standing);
  assert_near (reason->numbers[1], AIAG_GRR, 1e-5);
  g_assert_cmpstr (reason->names[0], ==, "2026-03-13");
  fixture_free (story.f);

  /* one with gaps is none: the one before it counts, and that is said */
  story_up (&story, 1.0, 0.01);
  study_small (&story, "2026-02-02");
  study_aiag (&story, story.gauge, later, 5);
  reason = guard_reason (&story, &standing);
  assert_near (reason->numbers[1], SMALL_GRR, 1e-9);
  g_assert_cmpint (reason->counts[0], ==, 85);
  fixture_free (story.f);

  /* what was tried after the round was decided is not seen */
  story_up (&story, 1.0, 0.01);
  study_small (&story, "2026-04-11");
  g_assert_cmpuint (guard_reason (&story, &standing)->n_numbers, ==, 1);
  reason = insight_criterion_find_reason (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_GAUGE_NOT_STUDIED);
  g_assert_cmpint (reason->counts[0], ==, 0);
  fixture_free (story.f);
}

static void
test_other_gauge (void)
{
  static const char *const later[PERSONS] = { "2026-02-12", "2026-02-12", "2026-02-12" };
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  /* trials by two gauges in one month are two studies: together they would have gaps */
  story_up (&story, 1.0, 0.01);
  study_small (&story, "2026-02-10");
  study_aiag (&story, fixture_gauge (story.f, "Height gauge", 0.01), later, 0);
  assert_near (guard_reason (&story, &standing)->numbers[1], AIAG_GRR, 1e-5);
  fixture_free (story.f);
}

static void
test_function_class (void)
{
  g_autoptr(InsightStanding) standing = NULL;
  Story story;

  story_up (&story, 2.0, 0.01);
  story.f->e->characteristics[story.c].klass = story.f->e->criteria[0].klass = BOOK_CLASS_FUNCTION;
  study_aiag (&story, story.gauge, in_one_week, 0);
  g_assert_null (guard_reason (&story, &standing));
  g_assert_cmpuint (fixture_criterion_in (standing, "C1")->failed, ==, 0);
  fixture_free (story.f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/gauge/the-published-study-pulls-limits-in", test_published_study);
  g_test_add_func ("/insight/gauge/units-are-judged-by-limits-pulled-in", test_verdicts);
  g_test_add_func ("/insight/gauge/one-too-coarse-judges-nothing", test_too_coarse);
  g_test_add_func ("/insight/gauge/a-study-with-gaps-is-none", test_gaps);
  g_test_add_func ("/insight/gauge/the-newest-complete-study-counts", test_newest);
  g_test_add_func ("/insight/gauge/each-gauge-has-studies-of-its-own", test_other_gauge);
  g_test_add_func ("/insight/gauge/only-safety-limits-are-pulled-in", test_function_class);
  return g_test_run ();
}
