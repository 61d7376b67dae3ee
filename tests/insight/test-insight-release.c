/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nobody may say that criteria are met while something stands against it: each way of trying it, one after the other. */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-release.h"

/* Two gates; at the first a safety check that 30 units of a pilot pass, at the second one about function. */
typedef struct
{
  Fixture         *f;
  int              lock, fit; /* characteristics */
  int              first;     /* unit */
  InsightStanding *standing;
  InsightIssues   *issues;
  InsightRelease  *release;
} Bench;

static void
bench_open (Bench *b, gconstpointer data)
{
  int criterion;

  *b = (Bench){ .f = fixture_new () };
  fixture_round (b->f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  b->lock = fixture_checked (b->f, "LH", BOOK_CLASS_SAFETY);
  b->fit = fixture_checked (b->f, "FT", BOOK_CLASS_FUNCTION);
  criterion = fixture_criterion (b->f, "C1", BOOK_CRITERION_CHECKED, b->lock);
  b->f->e->criteria[criterion].strict = FALSE;
  fixture_term (b->f, criterion, "2026-01-01", 0.90, 0.90);
  b->f->e->terms[0].person = fixture_person (b->f, "AW", BOOK_ROLE_OWNER);
  b->first = fixture_checked_units (b->f, 0, 30, b->lock, 0);
  fixture_gate (b->f, "Series");
}

static const InsightGate *
bench_ask (Bench *b)
{
  const InsightSpan span = { 0, "2026-12-01" };
  g_autoptr(GError) error = NULL;

  fixture_finish (b->f);
  b->standing = insight_standing (b->f->e, &span, NULL, &error);
  g_assert_no_error (error);
  b->issues = insight_issues (b->f->e, &span, NULL, &error);
  g_assert_no_error (error);
  b->release = insight_release (b->f->e, b->standing, b->issues, NULL, &error);
  g_assert_no_error (error);
  return b->release->gates->pdata[0];
}

static void
bench_close (Bench *b, gconstpointer data)
{
  g_clear_pointer (&b->release, insight_release_free);
  g_clear_pointer (&b->issues, insight_issues_free);
  g_clear_pointer (&b->standing, insight_standing_unref);
  fixture_free (b->f);
}

/* Another one at the first gate, of which nothing is known. */
static int
bench_want_fit (Bench *b)
{
  return fixture_criterion (b->f, "C2", BOOK_CRITERION_CHECKED, b->fit);
}

static void
check_stop (const InsightGate *gate, InsightStopCode code, const char *name)
{
  const InsightStop *stop = insight_gate_find_stop (gate, code);

  g_assert_false (gate->may_say_met);
  g_assert_nonnull (stop);
  if (name == NULL)
    g_assert_cmpuint (stop->names->len, ==, 0);
  else
    g_assert_cmpstr (stop->names->pdata[0], ==, name);
}

static void
test_met (Bench *b, gconstpointer data)
{
  const InsightGate *gate;

  gate = bench_ask (b);
  g_assert_true (gate->may_say_met);
  g_assert_cmpuint (gate->total, ==, 1);
  g_assert_cmpuint (gate->met, ==, 1);
  g_assert_cmpuint (b->release->gates->len, ==, 2);
}

static void
test_unmet (Bench *b, gconstpointer data)
{
  bench_want_fit (b);
  check_stop (bench_ask (b), INSIGHT_STOP_CRITERIA, "C2");
}

/* What an earlier gate asks for is asked for at the later one too. */
static void
test_later_gate (Bench *b, gconstpointer data)
{
  const InsightGate *later;

  bench_want_fit (b);
  bench_ask (b);
  later = b->release->gates->pdata[1];
  check_stop (later, INSIGHT_STOP_CRITERIA, "C2");
  g_assert_cmpuint (later->criteria->len, ==, 0); /* it is listed where it belongs */
}

static void
test_no_safety (Bench *b, gconstpointer data)
{
  b->f->e->characteristics[b->lock].klass = b->f->e->criteria[0].klass = BOOK_CLASS_FUNCTION;
  check_stop (bench_ask (b), INSIGHT_STOP_NO_SAFETY, NULL);
}

static void
test_nothing_asked (Bench *b, gconstpointer data)
{
  b->f->e->n_criteria = 0;
  check_stop (bench_ask (b), INSIGHT_STOP_NO_CRITERIA, NULL);
}

/* Written down as accepted or proven is not enough: units decide. */
static void
test_safety_issue (Bench *b, gconstpointer data)
{
  const InsightGate *gate;
  int issue;

  issue = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = BOOK_CLASS_SAFETY;
  b->f->e->issues[issue].closed = book_day_parse ("2026-05-01", NULL);
  b->f->e->issues[issue].outcome = BOOK_OUTCOME_ACCEPTED;
  gate = bench_ask (b);
  g_assert_false (gate->may_say_met);
  g_assert_nonnull (insight_gate_find_stop (gate, INSIGHT_STOP_SAFETY_ISSUE));

  bench_close (b, NULL);
  bench_open (b, NULL);
  issue = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = BOOK_CLASS_APPEARANCE;
  gate = bench_ask (b);
  g_assert_null (insight_gate_find_stop (gate, INSIGHT_STOP_SAFETY_ISSUE));
}

/* Called a duplicate: of what? Of another one about safety, which is asked for then; alone it stands for itself. */
static void
test_duplicate (Bench *b, gconstpointer data)
{
  const InsightGate *gate;
  const InsightStop *stop;
  int issue, other;

  issue = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = BOOK_CLASS_SAFETY;
  b->f->e->issues[issue].closed = book_day_parse ("2026-05-01", NULL);
  b->f->e->issues[issue].outcome = BOOK_OUTCOME_DUPLICATE;
  gate = bench_ask (b);
  g_assert_nonnull (insight_gate_find_stop (gate, INSIGHT_STOP_SAFETY_ISSUE));

  bench_close (b, NULL);
  bench_open (b, NULL);
  issue = fixture_issue (b->f, b->lock);
  other = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = b->f->e->issues[other].klass = BOOK_CLASS_SAFETY;
  b->f->e->issues[issue].closed = book_day_parse ("2026-05-01", NULL);
  b->f->e->issues[issue].outcome = BOOK_OUTCOME_DUPLICATE;
  stop = insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_SAFETY_ISSUE);
  g_assert_nonnull (stop);
  g_assert_cmpuint (stop->names->len, ==, 1);

  /* and each the duplicate of the other */
  bench_close (b, NULL);
  bench_open (b, NULL);
  for (guint i = 0; i < 2; i++)
    {
      issue = fixture_issue (b->f, b->lock);
      b->f->e->issues[issue].klass = BOOK_CLASS_SAFETY;
      b->f->e->issues[issue].closed = book_day_parse ("2026-05-01", NULL);
      b->f->e->issues[issue].outcome = BOOK_OUTCOME_DUPLICATE;
    }
  g_assert_nonnull (insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_SAFETY_ISSUE));
}

/* The round is called finished just before it is found, or before what was found is entered. */
static void
test_found_after_round (Bench *b, gconstpointer data)
{
  const InsightGate *gate;
  int issue;

  b->f->e->rounds[0].decided = book_day_parse ("2026-05-01", NULL);
  g_assert_true (bench_ask (b)->may_say_met);

  bench_close (b, NULL);
  bench_open (b, NULL);
  b->f->e->rounds[0].decided = book_day_parse ("2026-05-01", NULL);
  issue = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = BOOK_CLASS_SAFETY;
  b->f->e->issues[issue].found = book_day_parse ("2026-05-02", NULL);
  gate = bench_ask (b);
  g_assert_nonnull (insight_gate_find_stop (gate, INSIGHT_STOP_SAFETY_ISSUE));
  g_assert_false (gate->may_say_met);
}

static const InsightReason *
find_remark (Bench *b, InsightReasonCode code)
{
  for (guint i = 0; i < b->release->remarks->len; i++)
    if (g_array_index (b->release->remarks, InsightRemark, i).reason->code == code)
      return g_array_index (b->release->remarks, InsightRemark, i).reason;
  return NULL;
}

/* The round is called decided before the last unit is checked. */
static void
decide_before (Bench *b, gboolean passed)
{
  int unit = fixture_unit (b->f, 0, "A-031");

  fixture_reading (b->f, unit, b->lock, 1, 1, passed ? BOOK_MARK_PASSED : BOOK_MARK_FAILED, NAN, "2026-05-04");
  b->f->e->rounds[0].decided = book_day_parse ("2026-05-01", NULL);
}

static void
test_measured_after_round (Bench *b, gconstpointer data)
{
  const InsightReason *remark;
  const InsightGate *gate;
  int issue;

  decide_before (b, TRUE);
  gate = bench_ask (b);
  g_assert_true (gate->may_say_met);
  remark = find_remark (b, INSIGHT_REASON_AFTER_ROUND);
  g_assert_nonnull (remark);
  g_assert_cmpint (remark->counts[0], ==, 1);
  g_assert_cmpint (remark->counts[1], ==, 0);
  g_assert_null (find_remark (b, INSIGHT_REASON_FAILED_AFTER));

  bench_close (b, NULL);
  bench_open (b, NULL);
  decide_before (b, FALSE);
  check_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION, "A-031");
  remark = find_remark (b, INSIGHT_REASON_FAILED_AFTER);
  g_assert_nonnull (remark);
  g_assert_cmpstr (remark->names[0], ==, "A-031");

  /* Once somebody said what becomes of it, it stops no longer, and is still named. */
  bench_close (b, NULL);
  bench_open (b, NULL);
  decide_before (b, FALSE);
  issue = fixture_issue (b->f, b->lock);
  b->f->e->issues[issue].klass = BOOK_CLASS_FUNCTION;
  fixture_finding (b->f, issue, b->first + 30, BOOK_DISPOSITION_SCRAP, FALSE, "2026-05-05");
  g_assert_null (insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION));
  g_assert_nonnull (find_remark (b, INSIGHT_REASON_FAILED_AFTER));
}

/* A gap that 30 units of a round decided on 1 May keep, and one more read after it. */
static int
measure_after (Bench *b, double late)
{
  int gap = fixture_measured (b->f, "GP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int unit = fixture_unit (b->f, 0, "A-031");

  fixture_limit (b->f, gap, "2026-01-01", 0.0, 1.0);
  for (int i = 0; i < 30; i++)
    fixture_value (b->f, b->first + i, gap, 0.9);
  fixture_reading (b->f, unit, gap, 1, 1, BOOK_MARK_MEASURED, late, "2026-05-04");
  b->f->e->rounds[0].decided = book_day_parse ("2026-05-01", NULL);
  return gap;
}

/* Wider limits from the day before it is read do not make a failing unit pass; narrower ones fail none that passed. */
static void
test_limit_after_round (Bench *b, gconstpointer data)
{
  int gap = measure_after (b, 1.5);

  fixture_limit (b->f, gap, "2026-05-03", 0.0, 2.0);
  check_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION, "A-031");

  bench_close (b, NULL);
  bench_open (b, NULL);
  gap = measure_after (b, 0.3);
  fixture_limit (b->f, gap, "2026-05-03", 0.0, 0.5);
  g_assert_null (insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION));
}

/* A part of three revisions: the round has the second, the unit that is built and fails after it the one asked for. */
static void
build_after (Bench *b, int which, gboolean build_newer)
{
  int part = fixture_part (b->f, "PL-2");
  int revisions[3] = { fixture_revision (b->f, part, "A", "2025-10-01"), fixture_revision (b->f, part, "B", "2026-01-01"),
                       fixture_revision (b->f, part, "C", "2026-05-02") };
  int gap = measure_after (b, 1.5), unit = b->first + 30;

  fixture_depends (b->f, gap, part, -1);
  for (int i = 0; i < 30; i++)
    fixture_unit_part (b->f, b->first + i, part, revisions[1], -1);
  fixture_unit_part (b->f, unit, part, revisions[which], -1);
  b->f->e->units[unit].assembled = book_day_parse ("2026-05-03", NULL);
  if (!build_newer)
    return;
  unit = fixture_unit (b->f, 0, "A-032");
  fixture_unit_part (b->f, unit, part, revisions[2], -1);
  b->f->e->units[unit].assembled = book_day_parse ("2026-05-03", NULL);
}

/* Of the round's design, or of the next one, which would be made, it stops; of an older one not. */
static void
test_design_after_round (Bench *b, gconstpointer data)
{
  build_after (b, 0, FALSE);
  g_assert_null (insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION));

  bench_close (b, NULL);
  bench_open (b, NULL);
  build_after (b, 2, FALSE);
  check_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION, "A-031");

  /* Nor does one of a newer design beside it make it go away. */
  bench_close (b, NULL);
  bench_open (b, NULL);
  build_after (b, 1, TRUE);
  check_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION, "A-031");
}

static void
test_life_after_round (Bench *b, gconstpointer data)
{
  const InsightReason *remark;

  for (int i = 0; i < 2; i++) /* the same unit again: it is named once */
    {
      fixture_life_test (b->f, b->first + 2, b->lock, 800.0, TRUE, -1);
      b->f->e->life_tests[i].day = book_day_parse ("2026-05-04", NULL);
    }
  b->f->e->rounds[0].decided = book_day_parse ("2026-05-01", NULL);
  bench_ask (b);
  remark = find_remark (b, INSIGHT_REASON_AFTER_ROUND);
  g_assert_nonnull (remark);
  g_assert_cmpint (remark->counts[0], ==, 0);
  g_assert_cmpint (remark->counts[1], ==, 2);
  remark = find_remark (b, INSIGHT_REASON_FAILED_AFTER);
  g_assert_nonnull (remark);
  g_assert_cmpstr (remark->names[0], ==, "A-003");
  g_assert_null (remark->names[1]);
}

/* A unit that fails something about which no criterion asks. */
static void
test_disposition (Bench *b, gconstpointer data)
{
  int issue;

  fixture_check (b->f, b->first + 3, b->fit, FALSE);
  check_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION, "A-004");

  bench_close (b, NULL);
  bench_open (b, NULL);
  fixture_check (b->f, b->first + 3, b->fit, FALSE);
  issue = fixture_issue (b->f, b->fit);
  b->f->e->issues[issue].klass = BOOK_CLASS_FUNCTION;
  fixture_finding (b->f, issue, b->first + 3, BOOK_DISPOSITION_REWORK, FALSE, "2026-04-01");
  g_assert_null (insight_gate_find_stop (bench_ask (b), INSIGHT_STOP_DISPOSITION));
}

/* All was measured before the part was changed. */
static void
test_other_state (Bench *b, gconstpointer data)
{
  int part, old, new, round, unit;

  part = fixture_part (b->f, "HF-20");
  old = fixture_revision (b->f, part, "A", "2026-01-01");
  new = fixture_revision (b->f, part, "B", "2026-06-01");
  fixture_depends (b->f, b->lock, part, -1);
  for (int i = 0; i < 30; i++)
    fixture_unit_part (b->f, b->first + i, part, old, -1);
  round = fixture_round (b->f, "B", BOOK_ROUND_PILOT, "2026-06-08", FALSE);
  unit = fixture_units (b->f, round, 1);
  fixture_unit_part (b->f, unit, part, new, -1);
  check_stop (bench_ask (b), INSIGHT_STOP_OTHER_STATE, "C1");
}

/* A waiver takes a criterion out of what blocks; it is named, and what is met is not more than before. */
static void
test_waived (Bench *b, gconstpointer data)
{
  const InsightGate *gate;
  int criterion;

  criterion = bench_want_fit (b);
  b->f->e->waivers = g_new0 (BookEvidenceWaiver, 1);
  b->f->e->n_waivers = 1;
  b->f->e->waivers[0] = (BookEvidenceWaiver){ criterion, book_day_parse ("2026-05-01", NULL), book_day_parse ("2027-01-01", NULL), 0, "small batch" };
  gate = bench_ask (b);
  g_assert_cmpuint (gate->met, ==, 1);
  g_assert_cmpuint (gate->total, ==, 2);
  g_assert_cmpuint (gate->block, ==, 0);
  g_assert_nonnull (find_remark (b, INSIGHT_REASON_WAIVED));
}

#define ADD(path, test) g_test_add ("/insight/release/" path, Bench, NULL, bench_open, test, bench_close)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("may-say-met-when-nothing-stands-against-it", test_met);
  ADD ("a-blocking-criterion-stops", test_unmet);
  ADD ("a-later-gate-asks-for-what-earlier-ones-did", test_later_gate);
  ADD ("no-criterion-about-safety-stops", test_no_safety);
  ADD ("nothing-asked-for-stops", test_nothing_asked);
  ADD ("a-safety-issue-not-shown-to-be-solved-stops", test_safety_issue);
  ADD ("a-safety-issue-called-a-duplicate-of-nothing-stops", test_duplicate);
  ADD ("a-safety-issue-found-after-the-round-was-decided-stops", test_found_after_round);
  ADD ("a-unit-that-failed-after-the-round-was-decided-stops-or-is-named", test_measured_after_round);
  ADD ("a-limit-moved-after-the-round-was-decided-changes-nothing", test_limit_after_round);
  ADD ("a-later-design-that-failed-after-the-round-stops", test_design_after_round);
  ADD ("a-life-test-after-the-round-was-decided-is-named", test_life_after_round);
  ADD ("a-failing-unit-without-disposition-stops", test_disposition);
  ADD ("evidence-of-another-state-stops", test_other_state);
  ADD ("a-waiver-is-named-and-meets-nothing", test_waived);
  return g_test_run ();
}
