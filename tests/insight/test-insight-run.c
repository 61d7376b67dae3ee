/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Yields and rates of a run against ways to make them look better than they were, and against records as untidy as a run
 * leaves them. Deleting what was lost is refused by the book itself.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-memo.h"
#include "insight-rate.h"

static InsightPilot *
pilot_of (Fixture *f)
{
  const InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GError) error = NULL;
  InsightPilot *pilot;

  fixture_finish (f);
  pilot = insight_pilot (f->e, &span, &error);
  g_assert_no_error (error);
  return pilot;
}

static int
pilot_round (Fixture *f)
{
  return fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
}

static int
step_at (Fixture *f, const char *name, int bench, double cycle)
{
  int step = fixture_step (f, name);

  f->e->steps[step].bench = bench;
  f->e->steps[step].cycle_min = cycle;
  return step;
}

static int
ask (Fixture *f, BookCriterionKind kind, double share)
{
  int criterion = fixture_criterion (f, "C1", kind, -1);
  int term = fixture_term (f, criterion, "2026-01-01", share, 0.9);

  f->e->criteria[criterion].strict = FALSE;
  return term;
}

static gboolean
has_step (const InsightStanding *standing, InsightStepCode code)
{
  for (guint i = 0; i < standing->steps->len; i++)
    if (((const InsightStep *) standing->steps->pdata[i])->code == code)
      return TRUE;
  return FALSE;
}

/* The worst step is not tallied at all: what remains is good, and is not called so. */
static void
test_step_without_counts (void)
{
  for (int whole = 0; whole < 2; whole++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int round = pilot_round (f), mill = fixture_step (f, "Mill"), fit = fixture_step (f, "Fit");
      g_autoptr(InsightStanding) standing = NULL;
      const InsightCriterion *criterion;

      fixture_tally (f, mill, round, "2026-02-20", 60, 60, 0, 0, 0);
      if (whole)
        fixture_tally (f, fit, round, "2026-02-21", 60, 60, 0, 0, 0);
      ask (f, BOOK_CRITERION_YIELD, 0.9);
      standing = fixture_standing (f, NULL);
      criterion = fixture_criterion_in (standing, "C1");
      g_assert_cmpfloat (criterion->confidence, >, 0.95);
      assert_state (criterion, whole ? INSIGHT_MET : INSIGHT_TOO_FEW);
      g_assert_true (whole == (insight_criterion_find_reason (criterion, INSIGHT_REASON_STEPS_WANTED) == NULL));
      g_assert_true (whole != has_step (standing, INSIGHT_STEP_COUNT_STEPS));
      g_assert_false (has_step (standing, INSIGHT_STEP_RUN)); /* running on would change nothing */
    }
}

/* A supplier's step without counts is named and stands in nobody's way: what comes back bad is counted by the next step. */
static void
test_outside_step_without_counts (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), harden = fixture_step (f, "Harden"), fit = fixture_step (f, "Fit");
  g_autoptr(InsightStanding) standing = NULL;

  f->e->steps[harden].kind = BOOK_STEP_OUTSIDE;
  fixture_tally (f, fit, round, "2026-02-21", 60, 60, 0, 0, 0);
  ask (f, BOOK_CRITERION_YIELD, 0.9);
  standing = fixture_standing (f, NULL);
  assert_state (fixture_criterion_in (standing, "C1"), INSIGHT_MET);
  assert_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_STEPS_UNCOUNTED);
}

/* The bench that sets the pace loses its minutes: the rate rises, and is not called enough. */
static void
test_step_without_minutes (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1);
  int mill = step_at (f, "Mill", bench, 10), fit = step_at (f, "Fit", bench, NAN), term;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  for (guint day = 1; day <= 6; day++)
    {
      g_autofree char *date = g_strdup_printf ("2026-03-0%u", day);

      fixture_tally (f, mill, round, date, 20, 20, 0, 0, 0);
      fixture_tally (f, fit, round, date, 20, 20, 0, 0, 0);
    }
  term = ask (f, BOOK_CRITERION_RATE, NAN);
  f->e->terms[term].target = 500;
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  g_assert_cmpfloat (criterion->confidence, >, 0.9);
  assert_state (criterion, INSIGHT_TOO_FEW);
  assert_said (criterion, INSIGHT_REASON_STEPS_LEFT_OUT);
  g_assert_true (has_step (standing, INSIGHT_STEP_DESCRIBE_STEPS));
}

/* A perfect tally beside units that were not: neither yield nor rate nor days take anything from it. */
static void
test_tally_beside_units (void)
{
  double rolled[2], month[2];
  guint days[2];

  for (guint both = 0; both < 2; both++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int round = pilot_round (f), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1), fit = step_at (f, "Fit", bench, 10);
      int unit = fixture_units (f, round, 10);
      g_autoptr(InsightPilot) pilot = NULL;
      g_autoptr(InsightRateInput) input = NULL;
      g_autoptr(InsightRate) rate = NULL;

      for (int i = 0; i < 10; i++)
        fixture_event (f, unit + i, i < 7 ? BOOK_EVENT_PASSED : BOOK_EVENT_SCRAPPED, "2026-03-01", fit, -1);
      for (guint i = 0; both && i < 5; i++)
        {
          g_autofree char *date = g_strdup_printf ("2026-03-1%u", i);
          int tally = fixture_tally (f, fit, round, date, 100, 100, 0, 0, 0);

          f->e->tallies[tally].minutes = 50; /* half a minute each */
        }
      pilot = pilot_of (f);
      input = insight_rate_input (f->e, pilot);
      rate = insight_rate (input);
      rolled[both] = pilot->rolled;
      month[both] = rate->month;
      days[both] = pilot->n_run_days;
      g_assert_cmpuint (pilot->steps[0].tallies_left_out, ==, both ? 5 : 0);
    }
  g_assert_cmpfloat (rolled[0], ==, 0.7);
  g_assert_cmpfloat (rolled[1], ==, 0.7);
  g_assert_cmpfloat (month[0], ==, month[1]);
  g_assert_cmpuint (days[1], ==, 1);
}

/* Units that fail may be set aside; that they were is said. */
static void
test_set_aside_is_said (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), fit = fixture_step (f, "Fit"), unit = fixture_units (f, round, 60);
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  for (int i = 0; i < 60; i++)
    {
      fixture_event (f, unit + i, i < 50 ? BOOK_EVENT_PASSED : BOOK_EVENT_SENT_BACK, "2026-03-01", fit, -1);
      if (i >= 50)
        fixture_event (f, unit + i, BOOK_EVENT_SET_ASIDE, "2026-03-02", fit, -1);
    }
  ask (f, BOOK_CRITERION_YIELD, 0.9);
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  g_assert_cmpuint (criterion->n, ==, 50);
  assert_said (criterion, INSIGHT_REASON_SET_ASIDE);
  g_assert_cmpint (insight_criterion_find_reason (criterion, INSIGHT_REASON_SET_ASIDE)->counts[0], ==, 10);
}

/* Minutes of half the tallies of a day are minutes of half its pieces; pieces that went in and were not come to take none. */
static void
test_minutes_of_some (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1), mill = step_at (f, "Mill", bench, 3);
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;

  for (guint day = 1; day <= 5; day++)
    {
      g_autofree char *date = g_strdup_printf ("2026-03-0%u", day);
      int tally = fixture_tally (f, mill, round, date, 15, 10, 0, 0, 0);

      f->e->tallies[tally].minutes = 100;
      fixture_tally (f, mill, round, date, 90, 90, 0, 0, 0);
    }
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  g_assert_cmpuint (pilot->days[0].n, ==, 105);
  g_assert_cmpuint (pilot->days[0].minutes_n, ==, 10);
  g_assert_cmpfloat_with_epsilon (input->steps[0].cycle_min, 10.0, 1e-12);
}

/* Sent back and passed on one day: one unit of that day, with the minutes of both, and not good the first time. */
static void
test_unit_counts_once_a_day (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), fit = fixture_step (f, "Fit"), unit = fixture_units (f, round, 2);
  g_autoptr(InsightPilot) pilot = NULL;

  fixture_event (f, unit, BOOK_EVENT_SENT_BACK, "2026-03-01", fit, -1);
  f->e->events[0].minutes = 8;
  fixture_event (f, unit, BOOK_EVENT_PASSED, "2026-03-01", fit, -1);
  f->e->events[1].minutes = 4;
  fixture_event (f, unit + 1, BOOK_EVENT_PASSED, "2026-03-01", fit, -1);
  fixture_event (f, unit + 1, BOOK_EVENT_PASSED, "2026-03-02", fit, -1); /* looked at again without a reason */
  pilot = pilot_of (f);
  g_assert_cmpuint (pilot->n_days, ==, 2);
  g_assert_cmpuint (pilot->days[0].n, ==, 2);
  g_assert_cmpuint (pilot->days[0].first, ==, 1);
  g_assert_cmpuint (pilot->days[0].minutes_n, ==, 1);
  g_assert_cmpfloat (pilot->days[0].minutes, ==, 12.0);
  g_assert_cmpuint (pilot->days[1].first, ==, 0);
}

/*
 * Inspection sends two of ten back to the fitting bench, which had passed them: they are lost at inspection alone, so that
 * the product counts them once; and the bench that mends them needs the minutes.
 */
static void
test_rework_where_it_is_done (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1), table = fixture_bench (f, "Table", 1, 1, 40, 1, 1);
  int fit = step_at (f, "Fit", bench, 10), inspect = step_at (f, "Inspect", table, 5), unit = fixture_units (f, round, 10);
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;

  f->e->steps[fit].rework_min = 20;
  for (int i = 0; i < 10; i++)
    {
      fixture_event (f, unit + i, BOOK_EVENT_PASSED, "2026-03-01", fit, -1);
      if (i < 2)
        {
          fixture_event (f, unit + i, BOOK_EVENT_SENT_BACK, "2026-03-02", inspect, -1);
          fixture_event (f, unit + i, BOOK_EVENT_REWORKED, "2026-03-02", fit, -1);
        }
      fixture_event (f, unit + i, BOOK_EVENT_PASSED, "2026-03-03", inspect, -1);
    }
  pilot = pilot_of (f);
  g_assert_cmpuint (pilot->steps[0].first, ==, 10);
  g_assert_cmpuint (pilot->steps[1].first, ==, 8);
  g_assert_cmpuint (pilot->steps[1].reworked, ==, 2);
  g_assert_cmpfloat (pilot->rolled, ==, 0.8);
  g_assert_cmpuint (pilot->steps[0].worked_again, ==, 2);
  input = insight_rate_input (f->e, pilot);
  rate = insight_rate (input);
  g_assert_cmpfloat_with_epsilon (rate->lines[0].minutes, 10 + 0.2 * 20, 1e-12);
}

/* What is set is for certain; every other figure of every draw stays what it was, so that only the cause shows. */
static void
test_set_moves_no_other_draw (void)
{
  static const InsightRateField set[] = { INSIGHT_RATE_YIELD, INSIGHT_RATE_REWORK_SHARE, INSIGHT_RATE_CYCLE };
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), milling = fixture_bench (f, "Milling", 1, 1, 40, 1, 1), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1);
  int mill = step_at (f, "Mill", milling, 10), fit = step_at (f, "Fit", bench, 12);
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) before = NULL;

  f->e->steps[mill].rework_min = 6;
  for (guint day = 1; day <= 6; day++)
    {
      g_autofree char *date = g_strdup_printf ("2026-03-0%u", day);
      int tally = fixture_tally (f, mill, round, date, 20, 15, 3, 0, 2);

      f->e->tallies[tally].minutes = 180 + 10 * day;
      tally = fixture_tally (f, fit, round, date, 18, 16, 1, 0, 1);
      f->e->tallies[tally].minutes = 200 + 5 * day;
    }
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  before = insight_rate (input);
  g_assert_true (insight_rate_draw (before, input, 2000, NAN, NULL, NULL, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (set); i++)
    {
      g_autoptr(InsightRateInput) other = insight_rate_input_copy (input);
      g_autoptr(InsightRate) after = NULL;

      g_assert_true (insight_rate_set (other, 0, set[i], set[i] == INSIGHT_RATE_CYCLE ? 1.0 : 0.5));
      after = insight_rate (other);
      g_assert_true (insight_rate_draw (after, other, 2000, NAN, NULL, NULL, NULL));
      g_assert_cmpfloat (after->lines[1].interval.low, ==, before->lines[1].interval.low);
      g_assert_cmpfloat (after->lines[1].interval.high, ==, before->lines[1].interval.high);
      g_assert_cmpfloat (after->lines[0].interval.low, !=, before->lines[0].interval.low);
    }
}

static void
same_interval (NumInterval a, NumInterval b)
{
  g_assert_true (a.low == b.low || (isnan (a.low) && isnan (b.low)));
  g_assert_true (a.high == b.high || (isnan (a.high) && isnan (b.high)));
}

/* Whatever is set otherwise, what is remembered is what is drawn anew; @base is remembered before. */
static void
assert_remembers (const InsightRateInput *base, const InsightRateInput *input, double target)
{
  g_autoptr(InsightRate) first = insight_rate (base), asked = insight_rate (input), drawn = insight_rate (input);
  double share[2], error[2];

  g_assert_true (insight_rate_draw (first, base, 500, 400, NULL, NULL, NULL));
  g_assert_true (insight_rate_draw (asked, input, 500, target, &share[0], &error[0], NULL));
  insight_memo_forget ();
  g_assert_true (insight_rate_draw (drawn, input, 500, target, &share[1], &error[1], NULL));
  g_assert_true (share[0] == share[1] && error[0] == error[1]);
  same_interval (asked->interval, drawn->interval);
  same_interval (asked->cost_interval, drawn->cost_interval);
  for (guint i = 0; i < drawn->n_lines; i++)
    {
      same_interval (asked->lines[i].interval, drawn->lines[i].interval);
      g_assert_true (asked->lines[i].constraint_chance == drawn->lines[i].constraint_chance);
    }
}

/* A rate that was drawn before is not drawn again, and no figure that it is made of may be changed without being drawn. */
static void
test_drawn_once (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), milling = fixture_bench (f, "Milling", 1, 1, 40, 1, 1), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1);
  int mill = step_at (f, "Mill", milling, 10), fit = step_at (f, "Fit", bench, 12), coat = step_at (f, "Coat", -1, NAN);
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) long_drawn = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  double share;

  f->e->hourly_cost = 50;
  f->e->steps[coat].kind = BOOK_STEP_OUTSIDE;
  f->e->steps[coat].queue_days = 5;
  f->e->steps[coat].batch = 100;
  for (guint day = 1; day <= 6; day++)
    {
      g_autofree char *date = g_strdup_printf ("2026-03-0%u", day);
      int tally = fixture_tally (f, mill, round, date, 20, 15, 3, 0, 2);

      f->e->tallies[tally].minutes = 180 + 10 * day;
      fixture_tally (f, fit, round, date, 18, 16, 1, 0, 1);
    }
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  for (guint i = 0; i < input->n_steps; i++)
    for (int field = 0; field < INSIGHT_RATE_N_FIELDS; field++)
      {
        g_autoptr(InsightRateInput) other = insight_rate_input_copy (input);
        double value = insight_rate_get (other, MIN (i, insight_rate_field_of_bench (field) ? other->n_benches - 1 : i), field);

        if (insight_rate_set (other, i, field, isnan (value) ? 3.0 : value * 0.5))
          assert_remembers (input, other, 400);
      }
  for (int which = 0; which < 11; which++)
    {
      g_autoptr(InsightRateInput) other = insight_rate_input_copy (input);

      other->material += which == 0 ? 7 : 0;
      other->hourly_cost += which == 1 ? 7 : 0;
      other->days_week -= which == 2 ? 1 : 0;
      other->model += which == 3;
      other->steps[0].n += which == 4 ? 9 : 0;
      other->steps[0].reworked += which == 5;
      other->steps[0].scrapped += which == 6;
      other->steps[0].day_minutes[2] += which == 7 ? 99 : 0;
      other->steps[0].day_units[2] += which == 8 ? 9 : 0;
      other->steps[0].n_days -= which == 9;
      assert_remembers (input, other, which == 10 ? 300 : 400);
    }

  /* So many would take a while, and whoever cancelled would get none. */
  long_drawn = insight_rate (input);
  g_assert_true (insight_rate_draw (long_drawn, input, 5000, 400, &share, NULL, NULL));
  g_cancellable_cancel (cancellable);
  g_assert_true (insight_rate_draw (long_drawn, input, 5000, 400, &share, NULL, cancellable));
  insight_memo_forget ();
  g_assert_false (insight_rate_draw (long_drawn, input, 5000, 400, &share, NULL, cancellable));
}

/* Whoever asks anew does not wait for the answer before. */
static void
test_cancelled (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = pilot_round (f), bench = fixture_bench (f, "Bench", 1, 1, 40, 1, 1), mill = step_at (f, "Mill", bench, 10);
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;

  for (guint day = 1; day <= 6; day++)
    {
      g_autofree char *date = g_strdup_printf ("2026-03-0%u", day);

      fixture_tally (f, mill, round, date, 20, 18, 0, 0, 2);
    }
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  rate = insight_rate (input);
  g_cancellable_cancel (cancellable);
  g_assert_false (insight_rate_draw (rate, input, 1000000, NAN, NULL, NULL, cancellable));
  g_assert_true (isnan (rate->interval.low));
}

#define TEST(path, func) g_test_add_func ("/insight/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("run/a-step-without-counts-is-never-met", test_step_without_counts);
  TEST ("run/a-supplier-without-counts-is-named", test_outside_step_without_counts);
  TEST ("run/a-step-without-minutes-is-never-met", test_step_without_minutes);
  TEST ("run/a-tally-beside-units-changes-nothing", test_tally_beside_units);
  TEST ("run/setting-aside-is-said", test_set_aside_is_said);
  TEST ("run/minutes-of-some-are-minutes-of-these", test_minutes_of_some);
  TEST ("run/a-unit-counts-once-a-day", test_unit_counts_once_a_day);
  TEST ("run/rework-counts-where-it-is-done", test_rework_where_it_is_done);
  TEST ("run/what-is-set-moves-no-other-draw", test_set_moves_no_other_draw);
  TEST ("run/what-was-drawn-is-remembered", test_drawn_once);
  TEST ("run/a-cancelled-interval-is-none", test_cancelled);
  return g_test_run ();
}
