/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounds as planned and built, those that ran side by side, and what a finished one answered. */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-round.h"

#define TODAY "2026-06-30"

static InsightRounds *
rounds_of (Fixture *f)
{
  g_autoptr(GError) error = NULL;
  InsightRounds *rounds;

  fixture_finish (f);
  rounds = insight_rounds (f->e, TODAY, &error);
  g_assert_no_error (error);
  return rounds;
}

#define ROUND(all, i) (&g_array_index ((all)->rounds, InsightRound, i))

static void
test_states_and_dates (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-02", TRUE);
  int p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-05-04", FALSE);
  int p3 = fixture_round (f, "P3", BOOK_ROUND_PROTOTYPE, "2026-06-01", FALSE);
  int supplier = fixture_supplier (f, "A shop");
  g_autoptr(InsightRounds) all = NULL;
  const InsightRoundWait *wait;

  f->e->rounds[p1].parts_ready = f->e->rounds[p1].design_fixed;
  f->e->rounds[p2].parts_ready = f->e->rounds[p2].built = f->e->rounds[p2].tested = 0;
  f->e->rounds[p2].planned_parts_ready = book_day_parse ("2026-06-29", NULL);
  f->e->rounds[p3].opened = f->e->rounds[p3].design_fixed = f->e->rounds[p3].built = f->e->rounds[p3].tested = 0;
  fixture_wait (f, p2, BOOK_WAIT_DELIVERY, supplier, "2026-06-26", NULL);
  all = rounds_of (f);
  g_assert_cmpint (ROUND (all, 0)->state, ==, INSIGHT_ROUND_DECIDED);
  g_assert_cmpuint (ROUND (all, 0)->next, ==, INSIGHT_N_ROUND_DATES);
  g_assert_cmpint (ROUND (all, 1)->state, ==, INSIGHT_ROUND_UNDER_WAY);
  g_assert_cmpuint (ROUND (all, 1)->next, ==, 2); /* parts ready */
  g_assert_true (ROUND (all, 1)->late);
  g_assert_cmpstr (ROUND (all, 1)->planned[2], ==, "2026-06-29");
  /* Python: numpy.busday_count ('2026-05-05', '2026-07-01') is 41 */
  g_assert_cmpuint (ROUND (all, 1)->days, ==, 41);
  wait = &g_array_index (ROUND (all, 1)->waits, InsightRoundWait, 0);
  g_assert_cmpuint (wait->days, ==, 2); /* from a Friday to a Tuesday */
  g_assert_cmpstr (wait->supplier, ==, "A shop");
  g_assert_cmpstr (wait->to, ==, "");
  g_assert_cmpint (ROUND (all, 2)->state, ==, INSIGHT_ROUND_PLANNED);
  g_assert_cmpuint (ROUND (all, 2)->days, ==, 0);
}

static void
test_side_by_side (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightRounds) all = NULL;
  g_autoptr(InsightDays) days = NULL;
  g_autoptr(GError) error = NULL;

  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-02", TRUE); /* decided 40 days later, on the 14th of March */
  fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-09", TRUE); /* decided on the 18th of April */
  fixture_round (f, "P3", BOOK_ROUND_PROTOTYPE, "2026-05-04", TRUE);
  all = rounds_of (f);
  g_assert_cmpstr (ROUND (all, 0)->beside, ==, "P2");
  g_assert_cmpstr (ROUND (all, 1)->beside, ==, "P1");
  g_assert_cmpstr (ROUND (all, 2)->beside, ==, "");
  days = insight_days (f->e, TODAY, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (days->rounds[0].overlap, ==, 0);
  g_assert_cmpuint (days->rounds[1].overlap, ==, 4); /* Tuesday to Friday of that week */
  g_assert_cmpuint (days->rounds[2].overlap, ==, 0);
}

static void
test_units_tell_what_they_do_not_share (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-02", TRUE);
  int spring = fixture_part (f, "HF-30"), lever = fixture_part (f, "HF-20");
  int b = fixture_revision (f, spring, "B", "2026-01-01"), c = fixture_revision (f, spring, "C", "2026-01-10");
  int a = fixture_revision (f, lever, "A", "2026-01-01");
  g_autoptr(InsightRounds) all = NULL;

  fixture_units (f, p1, 4);
  fixture_plan (f, p1, lever, a, -1, "");
  fixture_plan (f, p1, spring, b, -1, "");
  fixture_plan (f, p1, spring, c, -1, "P1-003");
  all = rounds_of (f);
  g_assert_cmpuint (ROUND (all, 0)->parts->len, ==, 3);
  g_assert_cmpuint (ROUND (all, 0)->units->len, ==, 4);
  g_assert_cmpstr (g_array_index (ROUND (all, 0)->units, InsightRoundUnit, 1).differs, ==, "HF-30 B");
  g_assert_cmpstr (g_array_index (ROUND (all, 0)->units, InsightRoundUnit, 2).differs, ==, "HF-30 C");
}

/* 22 units without a failure meet 0.90 and 0.90; the round before had ten. */
static void
test_answer (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-02", TRUE);
  int p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-23", TRUE);
  int lv = fixture_checked (f, "LV", BOOK_CLASS_APPEARANCE), rb = fixture_checked (f, "RB", BOOK_CLASS_APPEARANCE);
  g_autoptr(InsightRoundAnswer) answer = NULL;
  g_autoptr(InsightRoundAnswer) first = NULL;
  g_autoptr(GError) error = NULL;
  int unit;

  fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, lv);
  fixture_criterion (f, "C2", BOOK_CRITERION_CHECKED, rb);
  unit = fixture_units (f, p1, 10);
  for (int i = 0; i < 10; i++)
    fixture_check (f, unit + i, lv, TRUE);
  unit = fixture_units (f, p2, 12);
  for (int i = 0; i < 12; i++)
    {
      fixture_check (f, unit + i, lv, TRUE);
      fixture_check (f, unit + i, rb, i % 2 == 0); /* half of them fail */
    }
  fixture_finish (f);
  answer = insight_round_answer (f->e, f->e->rounds[p2].id, TODAY, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (answer->total, ==, 2);
  g_assert_cmpuint (answer->met_before, ==, 0);
  g_assert_cmpuint (answer->met, ==, 1);
  g_assert_true (g_str_has_prefix (answer->newly_met[0], "C1 "));
  g_assert_null (answer->newly_met[1]);
  g_assert_null (answer->no_longer_met[0]);
  g_assert_true (g_str_has_prefix (answer->against[0], "C2 "));
  g_assert_true (isnan (answer->rolled));
  first = insight_round_answer (f->e, f->e->rounds[p1].id, TODAY, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (first->met, ==, 0);
  g_assert_cmpuint (first->met_before, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/round/states-and-dates", test_states_and_dates);
  g_test_add_func ("/insight/round/side-by-side", test_side_by_side);
  g_test_add_func ("/insight/round/units-tell-what-they-do-not-share", test_units_tell_what_they_do_not_share);
  g_test_add_func ("/insight/round/answer", test_answer);
  return g_test_run ();
}
