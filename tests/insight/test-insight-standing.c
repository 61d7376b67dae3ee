/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The standing as a whole: score, what blocks, what was not looked at, next steps, the course, and its kept form. */
#include "config.h"
#include "evidence-fixture.h"

/* Two rounds: four safety strengths that conform, and a function check with a few units; some things nobody looked at. */
static Fixture *
whole_model (void)
{
  Fixture *f = fixture_new ();
  int a = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", TRUE);
  int b = fixture_round (f, "B", BOOK_ROUND_PILOT, "2026-03-01", FALSE);
  int strength = fixture_measured (f, "SLIP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  int stick = fixture_checked (f, "STICK", BOOK_CLASS_FUNCTION);
  int first = fixture_units (f, a, 8), second = fixture_units (f, b, 8);

  fixture_limit (f, strength, "2026-01-01", 360.0, INFINITY);
  fixture_criterion (f, "C1", BOOK_CRITERION_MEASURED, strength);
  fixture_term (f, fixture_criterion (f, "C2", BOOK_CRITERION_CHECKED, stick), "2026-01-01", 0.90, 0.90);
  for (int i = 0; i < 8; i++)
    {
      fixture_value (f, first + i, strength, 400.0 + 2.0 * i);
      fixture_value (f, second + i, strength, 401.0 + 2.0 * i);
      fixture_check (f, first + i, stick, TRUE);
      fixture_check (f, second + i, stick, TRUE);
    }
  return f;
}

static void
test_score (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = fixture_standing (f, NULL);
  const InsightCriterion *met = fixture_criterion_in (standing, "C1");
  const InsightCriterion *unmet = fixture_criterion_in (standing, "C2");

  assert_state (met, INSIGHT_MET);
  g_assert_cmpfloat (met->score, ==, 1.0);
  /* 16 units without a failure: ln (0.9^16) / ln 0.1 = 16 ln 0.9 / ln 0.1 */
  assert_near (unmet->score, 16.0 * log (0.9) / log (0.1), 1e-9);
  g_assert_cmpint (standing->classes[BOOK_CLASS_SAFETY - 1].percent, ==, 100);
  g_assert_cmpint (standing->classes[BOOK_CLASS_FUNCTION - 1].percent, ==, 73); /* 73.2: rounded down */
  g_assert_cmpint (standing->classes[BOOK_CLASS_APPEARANCE - 1].percent, ==, -1);
  g_assert_cmpint (standing->score.percent, ==, 73); /* the lowest class */
  g_assert_cmpuint (standing->n_total, ==, 2);
  g_assert_cmpuint (standing->n_met, ==, 1);
  g_assert_cmpuint (standing->n_block, ==, 1);
  g_assert_false (standing->no_safety);
}

static void
test_never_hundred (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;

  /* The confidence is there, but testing is not declared finished. */
  f->e->rounds[1].tested = 0;
  standing = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_TOO_FEW);
  g_assert_cmpfloat (fixture_criterion_in (standing, "C1")->score, ==, 1.0);
  g_assert_cmpint (standing->classes[BOOK_CLASS_SAFETY - 1].percent, ==, 99);
}

static void
test_no_safety (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;

  f->e->criteria[0].klass = BOOK_CLASS_FUNCTION;
  standing = fixture_standing (f, NULL);
  g_assert_true (standing->no_safety);
}

static void
test_waiver (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) waived = NULL;
  g_autoptr(InsightStanding) over = NULL;

  f->e->waivers = g_new0 (BookEvidenceWaiver, 1);
  f->e->n_waivers = 1;
  f->e->waivers[0] = (BookEvidenceWaiver){ 1, book_day_parse ("2026-02-01", NULL), book_day_parse ("2027-01-01", NULL),
                                           fixture_person (f, "MO", BOOK_ROLE_OWNER), "first fifty only" };
  waived = fixture_standing (f, NULL); /* until and including today */
  assert_state (fixture_criterion_in (waived, "C2"), INSIGHT_TOO_FEW);
  g_assert_false (fixture_criterion_in (waived, "C2")->blocks);
  assert_said (fixture_criterion_in (waived, "C2"), INSIGHT_REASON_WAIVED);
  g_assert_cmpuint (waived->n_block, ==, 0);
  g_assert_cmpint (waived->score.percent, ==, 73);

  f->e->waivers[0].until = book_day_parse ("2026-12-31", NULL);
  over = fixture_standing (f, NULL);
  g_assert_true (fixture_criterion_in (over, "C2")->blocks);
}

/* A gate is decided after its last round: what people say then counts, as long as no later round was opened. */
static void
test_said_after_the_round (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) newest = NULL, earlier = NULL;
  int last = (int) f->e->n_rounds - 1;
  BookDay after = f->e->rounds[last].tested + 30;

  f->e->rounds[last].decided = f->e->rounds[last].tested + 5;
  f->e->waivers = g_new0 (BookEvidenceWaiver, 1);
  f->e->n_waivers = 1;
  f->e->waivers[0] = (BookEvidenceWaiver){ 1, after, book_day_parse ("2027-06-01", NULL), fixture_person (f, "MO", BOOK_ROLE_OWNER),
                                           "first fifty only" };
  newest = fixture_standing (f, NULL);
  g_assert_false (fixture_criterion_in (newest, "C2")->blocks);
  g_assert_cmpstr (newest->end, <, "2027-01-01"); /* measurements are seen until the round was decided */

  fixture_round (f, "Z", BOOK_ROUND_PILOT, "2026-12-01", FALSE);
  earlier = fixture_standing (f, f->e->rounds[last].label);
  g_assert_true (fixture_criterion_in (earlier, "C2")->blocks);
}

static void
test_course (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = fixture_standing (f, NULL);
  g_autoptr(InsightStanding) then = fixture_standing (f, "A");

  g_assert_cmpuint (standing->course->len, ==, 2);
  for (guint c = 0; c < INSIGHT_N_CLASSES; c++)
    {
      const InsightCoursePoint *first = standing->course->pdata[0], *last = standing->course->pdata[1];

      /* each point is what the standing through that round says */
      assert_near (first->classes[c].score, then->classes[c].score, 1e-12);
      assert_near (last->classes[c].score, standing->classes[c].score, 1e-12);
      g_assert_cmpuint (first->classes[c].met, ==, then->classes[c].met);
    }
  g_assert_cmpstr (then->end, ==, "2026-02-10");
  g_assert_false (then->round_open);
  g_assert_cmpstr (standing->end, ==, "2027-01-01");
  g_assert_true (standing->round_open);
}

static void
test_kinds_without_data (void)
{
  static const BookCriterionKind kinds[] = { BOOK_CRITERION_YIELD, BOOK_CRITERION_RATE, BOOK_CRITERION_LIFE,
                                             BOOK_CRITERION_METHOD, BOOK_CRITERION_DETECTION };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr(Fixture) f = whole_model ();
      g_autoptr(InsightStanding) standing = NULL;
      const InsightCriterion *criterion;

      fixture_criterion (f, "C9", kinds[i], -1);
      standing = fixture_standing (f, NULL);
      criterion = fixture_criterion_in (standing, "C9");
      assert_state (criterion, INSIGHT_NO_DATA);
      g_assert_true (isnan (criterion->confidence));
      g_assert_cmpfloat (criterion->score, ==, 0.0);
      g_assert_true (criterion->blocks);
    }
}

static void
test_counts (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;
  int owner = fixture_person (f, "MO", BOOK_ROLE_OWNER), part = fixture_part (f, "LEVER");
  int documents, signs;

  fixture_document (f, BOOK_DOCUMENT_APPROVED, "2026-02-01");
  fixture_document (f, BOOK_DOCUMENT_DRAFT, "2026-02-01");
  documents = fixture_criterion (f, "D", BOOK_CRITERION_DOCUMENTS, -1);
  fixture_plan (f, 1, part, fixture_revision (f, part, "A", "2026-01-01"), -1, "");
  fixture_criterion (f, "R", BOOK_CRITERION_REVISIONS, -1);
  signs = fixture_criterion (f, "S", BOOK_CRITERION_SIGN_OFFS, -1);
  fixture_term (f, signs, "2026-01-01", NAN, NAN);
  f->e->terms[f->e->n_terms - 1].target = 2;
  f->e->signoffs = g_new0 (BookEvidenceSignoff, 2);
  f->e->n_signoffs = 2;
  f->e->signoffs[0] = (BookEvidenceSignoff){ 0, owner, BOOK_OPINION_DISAGREE, book_day_parse ("2026-04-01", NULL) };
  f->e->signoffs[1] = (BookEvidenceSignoff){ 0, owner, BOOK_OPINION_AGREE, book_day_parse ("2026-04-02", NULL) };
  standing = fixture_standing (f, NULL);

  criterion = fixture_criterion_in (standing, "D");
  assert_state (criterion, INSIGHT_TOO_FEW);
  g_assert_cmpuint (criterion->done, ==, 1);
  g_assert_cmpuint (criterion->n, ==, 2);
  g_assert_cmpfloat (criterion->score, ==, 0.5);
  g_assert_cmpstr (insight_criterion_find_reason (criterion, INSIGHT_REASON_COUNT_DONE)->names[0], ==, "Drawing");
  assert_state (fixture_criterion_in (standing, "R"), INSIGHT_MET);
  criterion = fixture_criterion_in (standing, "S"); /* one person's newest opinion of two that are asked for */
  g_assert_cmpuint (criterion->done, ==, 1);
  g_assert_cmpuint (criterion->n, ==, 2);

  /* A target up to 1 is a share of what is asked for: of two documents, half. */
  f->e->terms[f->e->n_terms - 1].criterion = documents;
  f->e->terms[f->e->n_terms - 1].target = 0.5;
  g_clear_pointer (&standing, insight_standing_unref);
  standing = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (standing, "D"), INSIGHT_MET);
  f->e->terms[f->e->n_terms - 1].target = 1.0;
  g_clear_pointer (&standing, insight_standing_unref);
  standing = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (standing, "D"), INSIGHT_TOO_FEW);

  f->e->revisions[0].state = BOOK_REVISION_DRAFT;
  g_clear_pointer (&standing, insight_standing_unref);
  standing = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (standing, "R"), INSIGHT_TOO_FEW);
}

static gboolean
has_gap (const InsightStanding *standing, InsightGapCode code, const char *name)
{
  for (guint i = 0; i < standing->gaps->len; i++)
    {
      const InsightGap *gap = standing->gaps->pdata[i];

      if (gap->code == code && g_str_equal (gap->names[0], name))
        return TRUE;
    }
  return FALSE;
}

static void
test_gaps (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;
  int lever = fixture_part (f, "LEVER");

  fixture_checked (f, "EDGE", BOOK_CLASS_SAFETY);
  fixture_part (f, "SPRING");
  fixture_depends (f, 0, lever, -1);
  fixture_issue (f, -1);
  fixture_issue (f, 0);
  fixture_document (f, BOOK_DOCUMENT_WANTED, "");
  f->e->hazards = g_new0 (BookEvidenceHazard, 2);
  f->e->n_hazards = 2;
  f->e->hazards[0] = (BookEvidenceHazard){ 501, 1, "The blade closes on the fingers", -1, FALSE };
  f->e->hazards[1] = (BookEvidenceHazard){ 502, 2, "The lever pinches", 0, FALSE };
  f->e->criteria[1].not_looked_at = "the rig is broken";
  standing = fixture_standing (f, NULL);

  g_assert_cmpuint (standing->gaps->len, ==, 6);
  g_assert_true (has_gap (standing, INSIGHT_GAP_SAFETY, "EDGE"));
  g_assert_true (has_gap (standing, INSIGHT_GAP_PART, "SPRING"));
  g_assert_true (has_gap (standing, INSIGHT_GAP_HAZARD, "1"));
  g_assert_true (has_gap (standing, INSIGHT_GAP_ISSUE, "1"));
  g_assert_true (has_gap (standing, INSIGHT_GAP_DOCUMENT, "1"));
  g_assert_true (has_gap (standing, INSIGHT_GAP_CRITERION, "C2"));
}

static void
test_steps_in_order (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;
  const InsightStep *first, *second;
  int rub = fixture_checked (f, "RUB", BOOK_CLASS_APPEARANCE), bad = fixture_checked (f, "JAM", BOOK_CLASS_FUNCTION);

  /* By what blocks: not blocking last; within a class what speaks against it first. */
  fixture_term (f, fixture_criterion (f, "C3", BOOK_CRITERION_CHECKED, rub), "2026-01-01", 0.90, 0.90);
  f->e->criteria[2].blocking = FALSE;
  fixture_term (f, fixture_criterion (f, "C4", BOOK_CRITERION_CHECKED, bad), "2026-01-01", 0.90, 0.90);
  for (int i = 0; i < 8; i++)
    {
      fixture_check (f, 8 + i, rub, TRUE);
      fixture_check (f, 8 + i, bad, i > 4);
      fixture_event (f, 8 + i, BOOK_EVENT_SCRAPPED, "2026-04-10", -1, -1);
    }
  standing = fixture_standing (f, NULL);
  g_assert_cmpuint (standing->steps->len, ==, 4);
  first = standing->steps->pdata[0];
  second = standing->steps->pdata[1];
  g_assert_cmpstr (insight_standing_get_criterion (standing, first->criterion)->code, ==, "C4");
  g_assert_cmpint (first->code, ==, INSIGHT_STEP_FIND_CAUSE);
  g_assert_cmpint (first->counts[0], ==, 5);
  g_assert_cmpstr (insight_standing_get_criterion (standing, second->criterion)->code, ==, "C2");
  g_assert_cmpint (second->counts[0], ==, 6); /* 22 in all (success run), 16 are there */
  second = standing->steps->pdata[2]; /* of a safety criterion that is met */
  g_assert_cmpint (second->code, ==, INSIGHT_STEP_STUDY_GAUGE);
}

static void
test_measure_instead (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-01", FALSE), c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  g_autoptr(InsightStanding) standing = NULL;
  gboolean offered = FALSE;

  fixture_check (f, fixture_units (f, round, 1), c, TRUE);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, c), "2026-01-01", 0.99, 0.95);
  standing = fixture_standing (f, NULL);
  for (guint i = 0; i < standing->steps->len; i++)
    {
      const InsightStep *step = standing->steps->pdata[i];

      /* 299 units without a failure at 99 % and 95 % (success run, common practice) */
      if (step->code == INSIGHT_STEP_MEASURE_INSTEAD)
        {
          offered = TRUE;
          g_assert_cmpint (step->counts[0], ==, 298);
        }
    }
  g_assert_true (offered);
}

static void
test_kept_form (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightStanding) again = NULL;
  g_autoptr(GVariant) kept = NULL;
  g_autoptr(GVariant) twice = NULL;
  g_autoptr(GError) error = NULL;

  fixture_document (f, BOOK_DOCUMENT_WANTED, "");
  fixture_criterion (f, "D", BOOK_CRITERION_DOCUMENTS, -1);
  standing = fixture_standing (f, NULL);
  kept = g_variant_ref_sink (insight_standing_to_variant (standing));
  again = insight_standing_from_variant (kept, &error);
  g_assert_no_error (error);
  twice = g_variant_ref_sink (insight_standing_to_variant (again));
  g_assert_cmpmem (g_variant_get_data (kept), g_variant_get_size (kept), g_variant_get_data (twice), g_variant_get_size (twice));
  g_assert_cmpuint (again->criteria->len, ==, 3);
  g_assert_cmpuint (fixture_criterion_in (again, "C1")->counted.n, ==, 16);
  g_assert_true (isinf (fixture_criterion_in (again, "C1")->upper));
  g_assert_true (isnan (fixture_criterion_in (again, "C2")->mean));
}

/* A kept answer is bytes of a file: whatever they are, there is a standing or an error, never a crash. */
static void
test_damaged_form (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(InsightStanding) standing = fixture_standing (f, NULL);
  g_autoptr(GVariant) kept = g_variant_ref_sink (insight_standing_to_variant (standing));
  gsize size = g_variant_get_size (kept);
  g_autoptr(GVariant) other = g_variant_ref_sink (g_variant_new_string ("something else"));
  g_autoptr(GError) error = NULL;

  g_assert_null (insight_standing_from_variant (other, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_KEPT);
  for (gsize i = 0; i < size; i += 3)
    {
      guint8 *bytes = g_memdup2 (g_variant_get_data (kept), size);
      g_autoptr(GVariant) damaged = NULL;
      g_autoptr(InsightStanding) read = NULL;

      bytes[i] ^= 0xff;
      damaged = g_variant_ref_sink (g_variant_new_from_data (g_variant_get_type (kept), bytes, size, FALSE, g_free, bytes));
      read = insight_standing_from_variant (damaged, NULL);
      if (read != NULL)
        g_assert_cmpuint (read->criteria->len, <=, size);
    }
}

static void
test_empty_model (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightStanding) standing = NULL;

  fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, fixture_checked (f, "HOLD", BOOK_CLASS_SAFETY));
  fixture_criterion (f, "D", BOOK_CRITERION_DOCUMENTS, -1);
  standing = fixture_standing (f, NULL);
  g_assert_cmpint (standing->round, ==, 0);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_NO_DATA);
  assert_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_NO_ROUND);
  assert_state (fixture_criterion_in (standing, "D"), INSIGHT_NO_DATA);
  g_assert_cmpint (standing->score.percent, ==, 0);
  g_assert_cmpuint (standing->course->len, ==, 0);
}

static void
test_as_of_an_earlier_day (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  InsightSpan span = { 0, "2026-02-15" }; /* B was opened on the first of March */

  fixture_finish (f);
  standing = insight_standing (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (standing->round_label, ==, "A");
  g_assert_cmpuint (fixture_criterion_in (standing, "C2")->n, ==, 8);
  g_assert_cmpuint (standing->course->len, ==, 1);
}

static void
test_wrong_questions (void)
{
  g_autoptr(Fixture) f = whole_model ();
  g_autoptr(GError) error = NULL;
  InsightSpan no_round = { 999999, "2027-01-01" }, no_date = { 0, "soon" };
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();

  fixture_finish (f);
  g_assert_null (insight_standing (f->e, &no_round, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND);
  g_clear_error (&error);
  g_assert_null (insight_standing (f->e, &no_date, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_DATE);
  g_clear_error (&error);
  g_cancellable_cancel (cancellable);
  no_date.today = "2027-01-01";
  g_assert_null (insight_standing (f->e, &no_date, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_names (void)
{
  for (int i = 0; i < INSIGHT_N_REASONS; i++)
    g_assert_cmpstr (insight_reason_code_name (i), !=, "");
  for (int i = 0; i < INSIGHT_N_STEPS; i++)
    g_assert_cmpstr (insight_step_code_name (i), !=, "");
  for (int i = 0; i < INSIGHT_N_GAPS; i++)
    g_assert_cmpstr (insight_gap_code_name (i), !=, "");
  for (int i = 0; i < INSIGHT_N_COUNTINGS; i++)
    g_assert_cmpstr (insight_counting_name (i), !=, "");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/insight/standing/score-is-the-lowest-class", test_score);
  g_test_add_func ("/insight/standing/never-100-while-unmet", test_never_hundred);
  g_test_add_func ("/insight/standing/says-that-there-is-no-safety-criterion", test_no_safety);
  g_test_add_func ("/insight/standing/a-waiver-lifts-the-block-until-its-date", test_waiver);
  g_test_add_func ("/insight/standing/what-is-said-after-the-newest-round-counts", test_said_after_the_round);
  g_test_add_func ("/insight/standing/the-course-is-the-standing-through-each-round", test_course);
  g_test_add_func ("/insight/standing/kinds-without-readings-have-no-data", test_kinds_without_data);
  g_test_add_func ("/insight/standing/counts-are-met-when-done", test_counts);
  g_test_add_func ("/insight/standing/names-what-was-not-looked-at", test_gaps);
  g_test_add_func ("/insight/standing/steps-come-by-what-blocks-most", test_steps_in_order);
  g_test_add_func ("/insight/standing/offers-to-measure-instead", test_measure_instead);
  g_test_add_func ("/insight/standing/keeps-itself-whole", test_kept_form);
  g_test_add_func ("/insight/standing/refuses-a-damaged-form", test_damaged_form);
  g_test_add_func ("/insight/standing/an-empty-model-has-no-data", test_empty_model);
  g_test_add_func ("/insight/standing/an-earlier-day-sees-no-later-round", test_as_of_an_earlier_day);
  g_test_add_func ("/insight/standing/refuses-wrong-questions", test_wrong_questions);
  g_test_add_func ("/insight/standing/every-code-has-a-name", test_names);
  return g_test_run ();
}
