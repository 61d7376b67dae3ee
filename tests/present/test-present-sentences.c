/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every sentence about evidence: whole, filled, without a word that claims too much. */

#include "config.h"

#include "present-reason.h"
#include "present-standing.h"

#include <math.h>
#include <string.h>

/* One sentence or more: begins with a capital or a figure, ends with a full stop, all places filled. */
static void
check_sentence (const char *text)
{
  static const char *const forbidden[] = {
    "significan", "zero defects", "proven", "no difference", "improved by", "p =", "guarantee", "perfect", "certain "
  };
  g_autofree char *lower = g_utf8_strdown (text, -1);

  g_test_message ("%s", text);
  g_assert_cmpuint (strlen (text), >, 10);
  g_assert_true (g_str_has_suffix (text, "."));
  g_assert_false (g_ascii_islower (text[0]));
  g_assert_null (strchr (text, '{'));
  g_assert_null (strstr (text, "  "));
  g_assert_null (strstr (text, "(null)"));
  for (guint i = 0; i < G_N_ELEMENTS (forbidden); i++)
    g_assert_null (strstr (lower, forbidden[i]));
  for (const char *p = strstr (lower, "safe"); p != NULL; p = strstr (p + 1, "safe"))
    g_assert_true (g_str_has_prefix (p, "safety"));
}

static InsightReason *
new_reason (InsightReasonCode code, gint64 count)
{
  InsightReason *reason = insight_reason_new (code);
  static const char *const names[] = { "First name", "Second name", "Third name" };
  static const double numbers[] = { 0.95, 0.875, 0.5, 0.75 };

  for (guint i = 0; i < 3; i++)
    insight_reason_add_name (reason, names[i]);
  for (guint i = 0; i < 4; i++)
    insight_reason_add_count (reason, count + i * 7);
  for (guint i = 0; i < 4; i++)
    insight_reason_add_number (reason, numbers[i]);
  return reason;
}

static void
test_reasons (void)
{
  for (guint code = 0; code < INSIGHT_N_REASONS; code++)
    {
      g_autoptr(InsightReason) one = new_reason ((InsightReasonCode) code, 1);
      g_autoptr(InsightReason) many = new_reason ((InsightReasonCode) code, 5);
      g_autoptr(InsightReason) none = insight_reason_new ((InsightReasonCode) code);
      g_autofree char *for_one = present_reason (one, "mm", 2);
      g_autofree char *for_many = present_reason (many, "mm", 2);

      check_sentence (for_one);
      check_sentence (for_many);
      g_free (present_reason (none, NULL, -1)); /* arguments that a kept answer lost must not crash */
    }
}

static void
check_reason (InsightReason *reason, const char *expected)
{
  g_autofree char *text = present_reason (reason, "mm", 2);

  g_assert_cmpstr (text, ==, expected);
  insight_reason_free (reason);
}

static void
test_arguments (void)
{
  InsightReason *reason = insight_reason_new (INSIGHT_REASON_LIMIT_WIDENED);

  insight_reason_add_name (reason, "2026-04-01");
  insight_reason_add_number (reason, -INFINITY);
  insight_reason_add_number (reason, 0.3);
  insight_reason_add_number (reason, -INFINITY);
  insight_reason_add_number (reason, 0.375);
  check_reason (reason, "The limits were widened on 2026-04-01, after units had been measured: from 'at most 0.30 mm' to 'at most 0.375 mm'.");

  reason = insight_reason_new (INSIGHT_REASON_EXCUSED);
  for (guint i = 0; i < 2; i++)
    {
      insight_reason_add_name (reason, i == 0 ? "B-41" : "B-42");
      insight_reason_add_name (reason, i == 0 ? "EH" : "");
      insight_reason_add_name (reason, i == 0 ? "house tool" : "");
    }
  insight_reason_add_count (reason, 2);
  insight_reason_add_count (reason, 1);
  check_reason (reason, "2 units are excused and do not count: B-41 (EH: house tool), B-42. 1 of them failed.");

  reason = insight_reason_new (INSIGHT_REASON_WAIVED);
  insight_reason_add_name (reason, "EH");
  insight_reason_add_name (reason, "");
  insight_reason_add_name (reason, "first series only");
  check_reason (reason, "EH waives this: first series only.");

  reason = insight_reason_new (INSIGHT_REASON_DISPOSITION);
  for (guint i = 0; i < 14; i++)
    {
      g_autofree char *name = g_strdup_printf ("U%u", i + 1);

      insight_reason_add_name (reason, name);
    }
  check_reason (reason, "Nobody has said what happens to units that fail: U1, U2, U3, U4, U5, U6, U7, U8, U9, U10, … (14 in all).");

  reason = insight_reason_new (INSIGHT_REASON_GUARD_BAND);
  insight_reason_add_number (reason, 0.0475);
  check_reason (reason, "Units are judged with limits pulled in by 0.048 mm, for what the gauge cannot tell.");

  reason = insight_reason_new (INSIGHT_REASON_GUARD_BAND);
  insight_reason_add_number (reason, 0.49742);
  insight_reason_add_number (reason, 0.302373);
  insight_reason_add_name (reason, "2026-02-06");
  insight_reason_add_count (reason, 0);
  check_reason (reason, "Units are judged with limits pulled in by 0.50 mm, for what the gauge cannot tell. "
                        "Its study of 2026-02-06 shows a standard deviation of 0.30 mm.");

  reason = insight_reason_new (INSIGHT_REASON_NOT_COMPUTED);
  insight_reason_add_count (reason, 1);
  check_reason (reason, "The method gave no answer for these values. 1 unit is at 0 or below, where nothing log-normal can be: "
                        "correct the reading or state another shape.");

  reason = insight_reason_new (INSIGHT_REASON_PLAN_LATE);
  insight_reason_add_name (reason, "2026-01-01");
  insight_reason_add_name (reason, "");
  check_reason (reason, "The plan of 2026-01-01 does not count as a plan, because it was not in the book before the first counted reading.");

  reason = insight_reason_new (INSIGHT_REASON_ENTERED_LATER);
  insight_reason_add_name (reason, "P2");
  insight_reason_add_count (reason, 3);
  insight_reason_add_count (reason, 0);
  insight_reason_add_count (reason, 1);
  check_reason (reason, "3 readings that count were entered after the decision of round P2. "
                        "The limits were entered after the decision of round P2.");

  reason = insight_reason_new (INSIGHT_REASON_GAUGE_NOT_STUDIED);
  insight_reason_add_count (reason, 89);
  check_reason (reason, "The gauge was not studied, so the limits are not pulled in for its spread. 89 trials of a study are there "
                        "and do not count: every person must try every piece equally often, at least twice.");

  /* What a person typed may look like a place; it is text. */
  reason = insight_reason_new (INSIGHT_REASON_DISPOSITION);
  insight_reason_add_name (reason, "{count0} %s %n");
  check_reason (reason, "Nobody has said what happens to units that fail: {count0} %s %n.");
}

static void
test_gaps (void)
{
  char *names[] = { (char *) "S1", (char *) "Load at slip", NULL };

  for (guint code = 0; code < INSIGHT_N_GAPS; code++)
    {
      const InsightGap gap = { (InsightGapCode) code, 1, names };
      g_autofree char *text = present_gap (&gap);

      check_sentence (text);
      g_assert_nonnull (strstr (text, "S1"));
      g_assert_nonnull (strstr (text, "Load at slip"));
    }
}

/* A standing made by hand, without a book. */
typedef struct
{
  InsightStanding  standing;
  InsightCriterion criterion;
  char            *rounds[2];
} Made;

static void
make (Made *made)
{
  InsightCriterion *c = &made->criterion;
  InsightStanding *s = &made->standing;

  memset (made, 0, sizeof *made);
  made->rounds[0] = (char *) "B";
  *c = (InsightCriterion) {
    .id = 7, .code = (char *) "K1", .gate = (char *) "Release", .kind = BOOK_CRITERION_CHECKED, .klass = BOOK_CLASS_FUNCTION,
    .about_code = (char *) "LH", .about_name = (char *) "Lock holds", .unit = (char *) "",
    .about_kind = BOOK_CHARACTERISTIC_CHECKED, .blocking = TRUE, .blocks = TRUE, .state = INSIGHT_TOO_FEW,
    .method = INSIGHT_METHOD_EXACT, .lower = -INFINITY, .upper = INFINITY, .nominal = NAN, .share = 0.95, .wanted_base = 0.9,
    .wanted = 0.9, .confidence = 0.8741, .contrary = NAN, .n = 40, .mean = NAN, .sd = NAN, .min = NAN, .max = NAN,
    .share_estimate = 1, .share_low = 0.944, .failing_year = NAN, .rounds = made->rounds, .looks = 1, .attempts = 1,
    .units_needed = 5, .score = 0.9
  };
  c->reasons = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_reason_free);
  s->model_code = (char *) "M";
  s->model_name = (char *) "Model";
  s->round = 3;
  s->round_label = (char *) "B";
  s->end = (char *) "2026-03-01";
  s->today = (char *) "2026-03-01";
  s->n_total = 1;
  s->n_block = 1;
  s->score.percent = 90;
  s->classes[0].percent = -1;
  s->classes[1].percent = 90;
  s->classes[2].percent = -1;
  s->criteria = g_ptr_array_new ();
  s->gaps = g_ptr_array_new ();
  s->steps = g_ptr_array_new ();
  s->course = g_ptr_array_new ();
  g_ptr_array_add (s->criteria, c);
  g_atomic_ref_count_init (&s->references);
}

static void
unmake (Made *made)
{
  g_ptr_array_unref (made->criterion.reasons);
  g_ptr_array_unref (made->standing.criteria);
  g_ptr_array_unref (made->standing.gaps);
  g_ptr_array_unref (made->standing.steps);
  g_ptr_array_unref (made->standing.course);
}

static void
check_criterion (Made *made, const char *expected)
{
  g_autoptr(PresentStanding) present = present_standing_new (&made->standing, NULL);
  const PresentCriterion *criterion = present->criteria->pdata[0];

  check_sentence (criterion->sentence);
  g_assert_cmpstr (criterion->sentence, ==, expected);
}

static void
test_checked (void)
{
  gint64 units[] = { 5 };
  double chance[] = { pow (0.95, 5) }; /* 0.774: the chance that five units of which 1 in 20 fails all pass */
  InsightStep step = { .code = INSIGHT_STEP_TEST, .counts = units, .numbers = chance, .n_counts = 1, .n_numbers = 1 };
  Made made;

  make (&made);
  g_ptr_array_add (made.standing.steps, &step);
  check_criterion (&made,
                   "The tests support \"at least 95 in 100 units pass\" at 87 % confidence (wanted: 90 %), if the units tested "
                   "are like those to be sold. Test 5 more units; without a failure they would do. That also happens about 3 "
                   "times in 4 to a product that fails 1 in 20.");

  units[0] = 1;
  chance[0] = 0.0001;
  check_criterion (&made,
                   "The tests support \"at least 95 in 100 units pass\" at 87 % confidence (wanted: 90 %), if the units tested "
                   "are like those to be sold. Test 1 more unit; without a failure it would do. That happens less than once in "
                   "200 times to a product that fails 1 in 20.");
  unmake (&made);
}

static void
test_measured (void)
{
  Made made;

  make (&made);
  made.criterion.kind = BOOK_CRITERION_MEASURED;
  made.criterion.unit = (char *) "N";
  made.criterion.lower = 200;
  made.criterion.share = 0.9999;
  made.criterion.state = INSIGHT_MET;
  made.criterion.wanted = 0.975;
  made.criterion.confidence = 0.9761;
  check_criterion (&made,
                   "The measurements support \"at least 9999 in 10000 units reach 200 N\" at 97.6 % confidence (wanted: 97.5 %), "
                   "if the units measured are like those to be sold.");
  made.criterion.lower = 11.95;
  made.criterion.upper = 12.05;
  made.criterion.unit = (char *) "mm";
  made.criterion.decimals = 2;
  made.criterion.so_far = TRUE;
  made.criterion.state = INSIGHT_TOO_FEW;
  check_criterion (&made,
                   "So far the measurements support \"at least 9999 in 10000 units lie between 11.95 mm and 12.05 mm\" at 97.6 % "
                   "confidence (wanted: 97.5 %), if the units measured are like those to be sold.");
  unmake (&made);
}

/* Every state of every kind says one or more whole sentences, whatever figures exist. */
static void
test_states (void)
{
  for (guint kind = BOOK_CRITERION_CHECKED; kind <= BOOK_CRITERION_LOTS; kind++)
    for (guint state = INSIGHT_MET; state <= INSIGHT_NO_DATA; state++)
      for (guint figures = 0; figures < 2; figures++)
        {
          g_autofree char *text = NULL;
          PresentStanding *present;
          Made made;

          make (&made);
          made.criterion.kind = (BookCriterionKind) kind;
          made.criterion.state = (InsightState) state;
          made.criterion.confidence = figures ? 0.93 : NAN;
          made.criterion.contrary = figures ? 0.85 : NAN;
          made.criterion.done = figures ? 40 : 3;
          present = present_standing_new (&made.standing, "Mind the guard.");
          check_sentence (((PresentCriterion *) present->criteria->pdata[0])->sentence);
          text = present_standing_to_text (present, 100);
          g_assert_nonnull (strstr (text, "K1 Lock holds"));
          g_assert_nonnull (strstr (text, "not a safety certificate"));
          g_assert_nonnull (strstr (text, "Mind the guard."));
          present_standing_free (present);
          unmake (&made);
        }
}

static void
check_headline (const InsightStanding *standing, const char *expected)
{
  g_autoptr(PresentStanding) present = present_standing_new ((InsightStanding *) standing, NULL);

  g_assert_cmpstr (present->headline, ==, expected);
}

static void
test_headline (void)
{
  Made made;

  make (&made);
  made.standing.n_total = 34;
  made.standing.n_met = 31;
  made.standing.n_block = 3;
  check_headline (&made.standing, "31 of 34 met, 3 block");
  made.standing.n_block = 1;
  check_headline (&made.standing, "31 of 34 met, 1 blocks");
  made.standing.n_block = 0;
  check_headline (&made.standing, "31 of 34 met, none blocks");
  made.standing.no_safety = TRUE;
  check_headline (&made.standing, "No safety criterion yet; 0 criteria block");
  made.standing.n_total = 0;
  check_headline (&made.standing, "No criterion yet");
  unmake (&made);
}

/* Without a safety criterion no line may say that something is met. */
static void
test_no_safety (void)
{
  g_autofree char *text = NULL;
  PresentStanding *present;
  Made made;

  make (&made);
  made.standing.no_safety = TRUE;
  made.criterion.state = INSIGHT_MET;
  made.criterion.blocks = FALSE;
  present = present_standing_new (&made.standing, NULL);
  text = present_standing_to_text (present, 100);
  g_assert_null (strstr (present->headline, "met"));
  g_assert_null (strstr (text, "What is met"));
  g_assert_nonnull (strstr (text, "Reached so far, without a safety criterion"));
  g_assert_nonnull (strstr (text, "No criterion is about safety"));
  present_standing_free (present);
  unmake (&made);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/sentences/every-reason-is-a-whole-sentence", test_reasons);
  g_test_add_func ("/present/sentences/arguments-stand-where-they-belong", test_arguments);
  g_test_add_func ("/present/sentences/every-gap-is-a-whole-sentence", test_gaps);
  g_test_add_func ("/present/sentences/a-check-says-what-would-do-and-how-often-chance-does-it", test_checked);
  g_test_add_func ("/present/sentences/a-measurement-quotes-its-limits", test_measured);
  g_test_add_func ("/present/sentences/every-state-of-every-kind-has-words", test_states);
  g_test_add_func ("/present/sentences/the-headline-counts", test_headline);
  g_test_add_func ("/present/sentences/without-a-safety-criterion-nothing-is-called-met", test_no_safety);
  return g_test_run ();
}
