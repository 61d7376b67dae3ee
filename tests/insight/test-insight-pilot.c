/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Yields, losses and run days of a round, and the rate and cost that follow, worked out by hand. */
#include "config.h"

#include "evidence-fixture.h"
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

/* One unit for each fate that a unit can have at a step. */
static void
add_fates (Fixture *f, int round, int step, int issue)
{
  int unit = fixture_units (f, round, 7);

  fixture_event (f, unit, BOOK_EVENT_PASSED, "2026-03-01", step, -1);
  fixture_event (f, unit + 1, BOOK_EVENT_SENT_BACK, "2026-03-01", step, issue);
  fixture_event (f, unit + 1, BOOK_EVENT_REWORKED, "2026-03-02", step, issue);
  f->e->events[f->e->n_events - 1].minutes = 12;
  fixture_event (f, unit + 1, BOOK_EVENT_PASSED, "2026-03-02", step, -1);
  fixture_event (f, unit + 2, BOOK_EVENT_SENT_BACK, "2026-03-02", step, issue);
  fixture_event (f, unit + 2, BOOK_EVENT_SCRAPPED, "2026-03-03", step, issue);
  fixture_event (f, unit + 3, BOOK_EVENT_SENT_BACK, "2026-03-03", step, -1);
  fixture_event (f, unit + 4, BOOK_EVENT_PASSED, "2026-03-03", step, -1);
  fixture_event (f, unit + 4, BOOK_EVENT_SET_ASIDE, "2026-03-04", step, -1);
  fixture_event (f, unit + 5, BOOK_EVENT_PASSED, "2026-03-04", step, -1);
  fixture_event (f, unit + 5, BOOK_EVENT_SENT_BACK, "2026-03-05", step, issue);
  fixture_event (f, unit + 5, BOOK_EVENT_PASSED, "2026-03-06", step, -1);
  fixture_event (f, unit + 6, BOOK_EVENT_BUILT, "2026-03-06", step, -1);
}

static void
test_fates (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int step = fixture_step (f, "Fit");
  g_autoptr(InsightPilot) pilot = NULL;
  const InsightPilotStep *fit;

  add_fates (f, round, step, -1);
  pilot = pilot_of (f);
  fit = &pilot->steps[0];
  g_assert_cmpint (fit->source, ==, INSIGHT_PILOT_EVENTS);
  g_assert_cmpuint (fit->in, ==, 7);
  g_assert_cmpuint (fit->first, ==, 1);
  g_assert_cmpuint (fit->reworked, ==, 2); /* one that passed, and was sent back later, is not good the first time */
  g_assert_cmpuint (fit->scrapped, ==, 1);
  g_assert_cmpuint (fit->waiting, ==, 2);
  g_assert_cmpuint (fit->aside, ==, 1);
  g_assert_cmpuint (fit->n, ==, 6);
  g_assert_cmpfloat_with_epsilon (fit->first_pass, 1.0 / 6.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit->final, 3.0 / 4.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit->final_range.low, 3.0 / 6.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit->final_range.high, 5.0 / 6.0, 1e-12);
  g_assert_cmpfloat (fit->rework_min, ==, 12.0);
  g_assert_cmpuint (fit->run_days, ==, 6);
  g_assert_cmpuint (pilot->waiting, ==, 2);
}

static void
test_never_both (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int mill = fixture_step (f, "Mill"), fit = fixture_step (f, "Fit");
  g_autoptr(InsightPilot) pilot = NULL;

  add_fates (f, round, fit, -1);
  fixture_tally (f, mill, round, "2026-02-20", 40, 36, 2, 1, 1);
  fixture_tally (f, fit, round, "2026-03-01", 40, 40, 0, 0, 0); /* would make the yield look good */
  pilot = pilot_of (f);
  g_assert_cmpint (pilot->steps[0].source, ==, INSIGHT_PILOT_TALLY);
  g_assert_cmpuint (pilot->steps[0].n, ==, 40);
  g_assert_cmpuint (pilot->steps[0].tallies_left_out, ==, 0);
  g_assert_cmpint (pilot->steps[1].source, ==, INSIGHT_PILOT_EVENTS);
  g_assert_cmpuint (pilot->steps[1].n, ==, 6);
  g_assert_cmpuint (pilot->steps[1].tallies_left_out, ==, 1);
}

/* The tallies of another round, and those after today, are not seen. */
static void
test_span (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int a = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", TRUE);
  int b = fixture_round (f, "B", BOOK_ROUND_PILOT, "2026-05-01", FALSE);
  int step = fixture_step (f, "Mill");
  InsightSpan span = { 0, "2026-05-10" };
  g_autoptr(InsightPilot) pilot = NULL, earlier = NULL;

  fixture_tally (f, step, a, "2026-02-20", 10, 9, 0, 0, 1);
  fixture_tally (f, step, b, "2026-05-09", 20, 18, 0, 0, 2);
  fixture_tally (f, step, b, "2026-05-11", 30, 30, 0, 0, 0);
  fixture_finish (f);
  pilot = insight_pilot (f->e, &span, NULL);
  g_assert_cmpstr (pilot->label, ==, "B");
  g_assert_cmpuint (pilot->steps[0].n, ==, 20);
  g_assert_cmpuint (pilot->rounds->len, ==, 2);
  span.through = f->e->rounds[a].id;
  earlier = insight_pilot (f->e, &span, NULL);
  g_assert_cmpuint (earlier->steps[0].n, ==, 10);
}

/* In a pure sequence the rolled yield has a beta posterior: qbeta (c (.05, .95), 30.5, 10.5) of R 4.2.2. */
static void
test_rolled (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int mill = fixture_step (f, "Mill"), fit = fixture_step (f, "Fit");
  g_autoptr(InsightPilot) pilot = NULL;

  fixture_step (f, "Not counted");
  fixture_tally (f, mill, round, "2026-02-20", 40, 36, 0, 0, 4);
  fixture_tally (f, fit, round, "2026-02-21", 36, 30, 4, 0, 2);
  pilot = pilot_of (f);
  g_assert_cmpuint (pilot->counted_steps, ==, 2);
  g_assert_cmpfloat_with_epsilon (pilot->rolled, 0.75, 1e-12);
  g_assert_cmpfloat_with_epsilon (pilot->rolled_interval.low, 0.626514752, 1e-8);
  g_assert_cmpfloat_with_epsilon (pilot->rolled_interval.high, 0.847612881, 1e-8);
  /* of one step: Jeffreys, qbeta (c (.05, .95), 36.5, 4.5) */
  g_assert_cmpfloat_with_epsilon (pilot->steps[0].first_interval.low, 0.801338774, 1e-8);
  g_assert_cmpfloat_with_epsilon (pilot->steps[0].first_interval.high, 0.957435808, 1e-8);
  g_assert_cmpfloat_with_epsilon (pilot->final, 0.9 * (34.0 / 36.0), 1e-12);
}

static const InsightPilotLoss *
loss_of (const InsightPilot *pilot, int issue_no)
{
  for (guint i = 0; i < pilot->n_losses; i++)
    if (pilot->losses[i].issue_no == issue_no)
      return &pilot->losses[i];
  g_assert_not_reached ();
}

static void
test_losses (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int mill = fixture_step (f, "Mill"), fit = fixture_step (f, "Fit");
  int sticks = fixture_issue (f, -1), cracks = fixture_issue (f, -1);
  g_autoptr(InsightPilot) pilot = NULL;
  const InsightPilotLoss *loss;
  int tally;

  add_fates (f, round, fit, sticks);
  fixture_finding (f, sticks, 1, BOOK_DISPOSITION_REWORK, FALSE, "2026-03-01");
  f->e->findings[0].caused_at = mill;
  f->e->findings[0].found_at = fit;
  tally = fixture_tally (f, mill, round, "2026-02-20", 40, 35, 3, 0, 2);
  fixture_loss (f, tally, cracks, 4);
  pilot = pilot_of (f);

  loss = loss_of (pilot, f->e->issues[sticks].no);
  g_assert_cmpuint (loss->units, ==, 3); /* sent back and scrapped is one unit lost */
  g_assert_cmpuint (loss->scrapped, ==, 1);
  g_assert_cmpint (loss->found, ==, fit);
  g_assert_cmpint (loss->caused, ==, mill); /* as the issue's finding says */
  g_assert_cmpfloat (loss->minutes, ==, 12.0);
  loss = loss_of (pilot, f->e->issues[cracks].no);
  g_assert_cmpuint (loss->units, ==, 4);
  g_assert_cmpint (loss->found, ==, mill);
  g_assert_cmpint (loss->caused, ==, -1);
  g_assert_true (isnan (loss->minutes));
  for (guint i = 0; i < pilot->n_losses; i++) /* one piece of the tally, and the one sent back, without an issue */
    if (pilot->losses[i].issue == 0)
      g_assert_cmpuint (pilot->losses[i].units, ==, 1);
  g_assert_cmpuint (pilot->n_losses, ==, 4);
}

static void
set_step (Fixture *f, int step, int bench, double cycle, double setup, int batch)
{
  f->e->steps[step].bench = bench;
  f->e->steps[step].cycle_min = cycle;
  f->e->steps[step].setup_min = setup;
  f->e->steps[step].batch = batch;
}

/*
 * A bench with two steps, one bench for each of two others, and an outside step; worked out by hand:
 *   Mill 20 min and 30/60 setting up, then harden outside (batch 20, 10 days), then fit 8 and drill 6 at one bench.
 *   Yields: mill 36 of 40 go on (4 scrapped), harden all, drill 38 of 40, fit all (and 10 of 40 need rework of 12 min).
 */
static void
make_shop (Fixture *f)
{
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int milling = fixture_bench (f, "Milling", 2, 1, 40, 0.9, 0.5);
  int bench = fixture_bench (f, "Bench", 1, 2, 40, 1.0, 0.25);
  int mill = fixture_step (f, "Mill"), harden = fixture_step (f, "Harden"), drill = fixture_step (f, "Drill"), fit = fixture_step (f, "Fit");

  set_step (f, mill, milling, 20, 30, 60);
  set_step (f, drill, bench, 6, NAN, 0);
  set_step (f, fit, bench, 8, NAN, 0);
  f->e->steps[fit].rework_min = 12;
  f->e->steps[harden].kind = BOOK_STEP_OUTSIDE;
  f->e->steps[harden].batch = 20;
  f->e->steps[harden].queue_days = 10;
  f->e->steps[harden].price = 3;
  f->e->hourly_cost = 60;
  fixture_tally (f, mill, round, "2026-02-20", 40, 36, 0, 0, 4);
  fixture_tally (f, harden, round, "2026-03-02", 36, 36, 0, 0, 0);
  fixture_tally (f, drill, round, "2026-03-03", 40, 38, 0, 0, 2);
  fixture_tally (f, fit, round, "2026-03-04", 40, 30, 10, 0, 0);
}

static void
test_rate_by_hand (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;
  const double weeks = 52.0 / 12.0, after_mill = 0.9 * 0.95, after_drill = 0.95;
  NumInterval interval;
  int part;

  make_shop (f);
  part = fixture_part (f, "S-1");
  f->e->parts[part].source = BOOK_SOURCE_BOUGHT;
  f->e->parts[part].price = 2;
  f->e->parts[part].quantity = 3;
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  rate = insight_rate (input);

  g_assert_cmpuint (rate->n_lines, ==, 3);
  /* milling: min(2 machines, 1 person) * half of 40 h at 90 % */
  g_assert_cmpfloat_with_epsilon (rate->lines[0].available, 0.5 * 40 * 60 * 0.9 * weeks, 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->lines[0].minutes, 20.5 / after_mill, 1e-9);
  /* hardening: 20 every 10 working days, of which the drill spoils one in twenty */
  g_assert_cmpfloat_with_epsilon (rate->lines[1].month, 20 * weeks * 5 / 10 * after_drill, 1e-9);
  /* bench: drill and fit share it, one machine */
  g_assert_cmpfloat_with_epsilon (rate->lines[2].minutes, 6 / after_drill + (8 + 0.25 * 12), 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->lines[2].month, 0.25 * 40 * 60 * weeks / (6 / after_drill + 11), 1e-9);
  g_assert_cmpuint (rate->constraint, ==, 1);
  g_assert_cmpfloat_with_epsilon (rate->month, 20 * weeks * 5 / 10 * after_drill, 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->plan, 0.85 * rate->month, 1e-9);
  g_assert_true (isnan (rate->interval.low));

  /* cost at 1 a minute: 6 of parts, 3 outside, 20.5 + 6 + 8 minutes, 3 of rework; scrap makes each dearer from its step on */
  g_assert_cmpfloat (rate->cost_material, ==, 6.0);
  g_assert_cmpfloat (rate->cost_outside, ==, 3.0);
  g_assert_cmpfloat_with_epsilon (rate->cost_minutes, 34.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->cost_rework, 3.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->cost, (6 + 20.5) / after_mill + (3 + 6) / after_drill + 11, 1e-9);
  g_assert_cmpfloat_with_epsilon (rate->cost_scrap, rate->cost - 46.5, 1e-9);

  /* after the 10 days of the first batch, by the month of 52/12 weeks of 5 days */
  g_assert_cmpfloat (insight_rate_by (input, rate, 10, &interval), ==, 0.0);
  g_assert_true (isnan (interval.low));
  g_assert_cmpfloat (insight_rate_by (input, rate, 75, &interval), ==, floor (rate->plan * 65 / (weeks * 5) + 1e-9));
}

static void
test_what_if (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL, other = NULL;
  g_autoptr(InsightRate) before = NULL, after = NULL, again = NULL;

  make_shop (f);
  pilot = pilot_of (f);
  input = insight_rate_input (f->e, pilot);
  other = insight_rate_input_copy (input);
  before = insight_rate (input);
  g_assert_true (insight_rate_set (other, 1, INSIGHT_RATE_QUEUE, 5));
  after = insight_rate (other);
  g_assert_cmpfloat_with_epsilon (after->lines[1].month, 2 * before->lines[1].month, 1e-9);
  again = insight_rate (input);
  g_assert_cmpfloat (again->month, ==, before->month);
  g_assert_false (insight_rate_set (other, 0, INSIGHT_RATE_UPTIME, 1.2));
  g_assert_false (insight_rate_set (other, 0, INSIGHT_RATE_YIELD, 0.0));
  g_assert_false (insight_rate_set (other, 99, INSIGHT_RATE_YIELD, 0.5));
  g_assert_cmpfloat (insight_rate_get (other, 1, INSIGHT_RATE_QUEUE), ==, 5.0);
}

/* Six days of drilling and fitting, 10 pieces a day, whose minutes are the same every day: only shares are drawn. */
static void
test_interval_from_five_days (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;
  double confidence, error, sum = 0.0;
  NumInterval by;

  make_shop (f);
  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *date = g_strdup_printf ("2026-04-0%u", i + 1);

      fixture_tally (f, 0, 0, date, 10, 9, 0, 0, 1);
    }
  pilot = pilot_of (f);
  g_assert_cmpuint (pilot->n_run_days, ==, 6);
  input = insight_rate_input (f->e, pilot);
  rate = insight_rate (input);
  g_assert_true (insight_rate_draw (rate, input, 4000, rate->month, &confidence, &error, NULL));
  g_assert_cmpfloat (rate->interval.low, <, rate->month);
  g_assert_cmpfloat (rate->interval.high, >, rate->interval.low);
  g_assert_cmpfloat (rate->cost_interval.low, <, rate->cost);
  g_assert_cmpfloat (rate->cost_interval.high, >, rate->cost);
  g_assert_cmpfloat (insight_rate_by (input, rate, 75, &by), >=, by.low);
  g_assert_cmpfloat (by.high, >, by.low);
  for (guint i = 0; i < rate->n_lines; i++)
    sum += rate->lines[i].constraint_chance;
  g_assert_cmpfloat_with_epsilon (sum, 1.0, 1e-9);
  g_assert_cmpfloat (confidence, >, 0.05);
  g_assert_cmpfloat (confidence, <, 0.95);
  input->run_days = 4;
  g_assert_false (insight_rate_draw (rate, input, 4000, rate->month, &confidence, &error, NULL));
  g_assert_true (isnan (confidence));
}

static int
ask (Fixture *f, BookCriterionKind kind, int characteristic, double target, double confidence)
{
  int criterion = fixture_criterion (f, "C1", kind, characteristic);
  int term = fixture_term (f, criterion, "2026-01-01", target, confidence);

  f->e->criteria[criterion].strict = FALSE;
  return term;
}

/* P (Beta (30.5, 10.5) >= 0.6) = 0.976222659, R 4.2.2. */
static void
test_yield_criterion (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  int mill = fixture_step (f, "Mill"), fit = fixture_step (f, "Fit");
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fixture_tally (f, mill, round, "2026-02-20", 40, 36, 0, 0, 4);
  fixture_tally (f, fit, round, "2026-02-21", 36, 30, 4, 0, 2);
  ask (f, BOOK_CRITERION_YIELD, -1, 0.6, 0.9);
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  assert_state (criterion, INSIGHT_MET);
  assert_near (criterion->confidence, 0.976222659, 1e-7);
  assert_near (criterion->estimate, 0.75, 1e-12);
  g_assert_cmpuint (criterion->n, ==, 36);
}

static void
test_rate_criterion (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightStanding) few = NULL, enough = NULL;
  const InsightCriterion *criterion;
  int term;

  make_shop (f);
  term = ask (f, BOOK_CRITERION_RATE, -1, NAN, 0.9);
  f->e->terms[term].target = 20;
  few = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (few, "C1");
  assert_state (criterion, INSIGHT_TOO_FEW);
  assert_said (criterion, INSIGHT_REASON_RUN_DAYS);
  assert_said (criterion, INSIGHT_REASON_CONSTRAINT);
  g_assert_true (isnan (criterion->confidence));

  fixture_tally (f, 0, 0, "2026-04-02", 10, 9, 0, 0, 1);
  enough = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (enough, "C1");
  assert_state (criterion, INSIGHT_MET); /* 20 is half of what hardening gives */
  g_assert_cmpfloat (criterion->confidence, >, 0.99);
}

/* 20 of 20 by one, 19 of 20 by the other: the least counts. 1 - 0.9^20 - 20 * 0.1 * 0.9^19 for one missed. */
static void
test_detection_criterion (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int check = fixture_checked (f, "LV", BOOK_CLASS_SAFETY);
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
  ask (f, BOOK_CRITERION_DETECTION, check, 0.9, 0.8);
  f->e->bad_trials = g_new0 (BookEvidenceBadTrial, 40);
  f->e->n_bad_trials = 40;
  for (guint i = 0; i < 40; i++)
    f->e->bad_trials[i] = (BookEvidenceBadTrial){ .characteristic = check, .person_id = 1 + i / 20, .day = 1, .caught = i != 39,
                                                  .gauge = -1, .piece = "", .trial = (int) i };
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  assert_state (criterion, INSIGHT_TOO_FEW);
  assert_near (criterion->confidence, 1 - pow (0.9, 20) - 20 * 0.1 * pow (0.9, 19), 1e-9);
  g_assert_cmpuint (criterion->failed, ==, 1);
  assert_said (criterion, INSIGHT_REASON_IN_ADDITION);
}

/* Without a spread of the gauge the share is 0; with one as wide as the tolerance nothing is met. */
static void
test_method_criterion (void)
{
  for (guint bad = 0; bad < 2; bad++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int force = fixture_measured (f, "OF", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL), gauge = fixture_gauge (f, "Force gauge", 0.1);
      int persons[2] = { fixture_person (f, "AB", BOOK_ROLE_MAKER), fixture_person (f, "CD", BOOK_ROLE_MAKER) };
      g_autoptr(InsightStanding) standing = NULL;

      fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
      fixture_limit (f, force, "2026-01-01", 0, 10);
      for (guint p = 0; p < 2; p++)
        for (guint piece = 0; piece < 6; piece++)
          for (int trial = 1; trial <= 3; trial++)
            {
              const char name[2] = { (char) ('A' + piece), '\0' };

              fixture_trial (f, gauge, force, persons[p], name, trial, "2026-02-03",
                             piece + (bad ? 3.0 : 0.02) * ((int) ((piece * 5 + (guint) trial * 3 + p * 2) % 7) - 3));
            }
      ask (f, BOOK_CRITERION_METHOD, force, NAN, 0.9);
      standing = fixture_standing (f, NULL);
      assert_state (fixture_criterion_in (standing, "C1"), bad ? INSIGHT_AGAINST : INSIGHT_MET);
      assert_said (fixture_criterion_in (standing, "C1"), INSIGHT_REASON_STUDY);
      g_assert_cmpfloat (fixture_criterion_in (standing, "C1")->target, ==, 0.30);
    }
}

/* 22 units to the wanted cycles without a failure at a stated shape: 1 - 0.9^22 (exponent of the share, any shape). */
static void
test_life_criterion (void)
{
  for (guint n = 21; n <= 22; n++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", FALSE);
      int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
      int unit = fixture_units (f, round, n), term;
      g_autoptr(InsightStanding) standing = NULL;
      const InsightCriterion *criterion;

      for (guint i = 0; i < n; i++)
        fixture_life_test (f, unit + (int) i, cycles, 5000, FALSE, -1);
      term = ask (f, BOOK_CRITERION_LIFE, cycles, 0.9, 0.9);
      f->e->terms[term].cycles = 5000;
      f->e->terms[term].shape_low = 1;
      f->e->terms[term].shape_high = 3;
      standing = fixture_standing (f, NULL);
      criterion = fixture_criterion_in (standing, "C1");
      assert_near (criterion->confidence, 1 - pow (0.9, n), 1e-9);
      assert_state (criterion, n == 22 ? INSIGHT_MET : INSIGHT_TOO_FEW);
      if (n == 21)
        g_assert_cmpint (criterion->units_needed, ==, 1);
    }
}

/* A failure on a state of design that no longer counts is a start again; without a shape nothing is said. */
static void
test_life_starts_again (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int part = fixture_part (f, "S-1");
  int old = fixture_revision (f, part, "A", "2026-01-01"), new = fixture_revision (f, part, "B", "2026-03-20");
  int a = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-02-01", TRUE), b = fixture_round (f, "B", BOOK_ROUND_PILOT, "2026-04-01", FALSE);
  int cycles = fixture_checked (f, "CY", BOOK_CLASS_FUNCTION);
  int first, second, term;
  g_autoptr(InsightStanding) standing = NULL;
  const InsightCriterion *criterion;

  fixture_plan (f, a, part, old, -1, "");
  fixture_plan (f, b, part, new, -1, "");
  fixture_depends (f, cycles, part, -1);
  first = fixture_units (f, a, 4);
  second = fixture_units (f, b, 5);
  fixture_life_test (f, first, cycles, 900, TRUE, -1);
  for (int i = 0; i < 5; i++)
    fixture_life_test (f, second + i, cycles, 5000, FALSE, -1);
  term = ask (f, BOOK_CRITERION_LIFE, cycles, 0.9, 0.9);
  f->e->terms[term].cycles = 5000;
  standing = fixture_standing (f, NULL);
  criterion = fixture_criterion_in (standing, "C1");
  g_assert_cmpuint (criterion->n, ==, 5);
  g_assert_cmpuint (criterion->failed, ==, 0);
  g_assert_cmpuint (criterion->no_longer.n, ==, 1);
  g_assert_cmpuint (criterion->attempts, ==, 2);
  g_assert_cmpuint (criterion->looks, ==, 2);
  assert_said (criterion, INSIGHT_REASON_LIFE_SHAPE);
  assert_said (criterion, INSIGHT_REASON_LIFE_OTHER_STATE);
  assert_state (criterion, INSIGHT_TOO_FEW);
}

#define TEST(path, func) g_test_add_func ("/insight/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("pilot/every-fate-of-a-unit", test_fates);
  TEST ("pilot/events-or-tallies-never-both", test_never_both);
  TEST ("pilot/only-its-round-and-its-days", test_span);
  TEST ("pilot/rolled-yield-as-r", test_rolled);
  TEST ("pilot/losses-by-issue-and-step", test_losses);
  TEST ("rate/a-shared-bench-by-hand", test_rate_by_hand);
  TEST ("rate/what-if-changes-nothing-else", test_what_if);
  TEST ("rate/interval-from-five-days-on", test_interval_from_five_days);
  TEST ("criterion/yield", test_yield_criterion);
  TEST ("criterion/rate", test_rate_criterion);
  TEST ("criterion/detection", test_detection_criterion);
  TEST ("criterion/method", test_method_criterion);
  TEST ("criterion/life-without-a-failure", test_life_criterion);
  TEST ("criterion/life-starts-again", test_life_starts_again);
  return g_test_run ();
}
