/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What lies at a bench. The rules are the program's own (see DEVELOPERS.md); what is expected follows from them. Working
 * days are counted by hand: 2026-02-09 is a Monday.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-bench.h"

#define MONDAY   "2026-02-09"
#define TUESDAY  "2026-02-10"
#define THURSDAY "2026-02-12"
#define NEXT     "2026-02-16" /* the Monday after */

/* Mill and fit at two benches, inspect at a third; an undecided round. */
typedef struct
{
  Fixture *f;
  int      mill, fit, inspect, milling, fitting, table, round, issue, play;
} Shop;

static void
shop_up (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f = fixture_new ();

  shop->milling = fixture_bench (f, "Milling", 1, 1, 40, 1, 1);
  shop->fitting = fixture_bench (f, "Fitting", 1, 1, 40, 1, 1);
  shop->table = fixture_bench (f, "Table", 1, 1, 40, 1, 1);
  shop->mill = fixture_step (f, "Mill");
  shop->fit = fixture_step (f, "Fit");
  shop->inspect = fixture_step (f, "Inspect");
  f->e->steps[shop->mill].bench = shop->milling;
  f->e->steps[shop->fit].bench = shop->fitting;
  f->e->steps[shop->inspect].bench = shop->table;
  f->e->steps[shop->inspect].kind = BOOK_STEP_INSPECTION;
  shop->round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  shop->play = fixture_checked (f, "PLAY", BOOK_CLASS_FUNCTION);
  f->e->characteristics[shop->play].step = shop->inspect;
  shop->issue = fixture_issue (f, shop->play);
}

static void
shop_down (Shop *shop, gconstpointer data)
{
  fixture_free (shop->f);
}

/* A unit of which only events speak. */
static int
unit_of (Shop *shop, const char *serial)
{
  int unit = fixture_unit (shop->f, shop->round, serial);

  shop->f->e->units[unit].assembled = 0;
  return unit;
}

static InsightBench *
look (Shop *shop, int bench, const char *today)
{
  return insight_bench (shop->f->e, bench >= 0 ? shop->f->e->benches[bench].id : 0, 0, 0, today);
}

/* The same anew, once more was added. */
static void
look_again (Shop *shop, InsightBench **answer, int bench, const char *today)
{
  fixture_finish (shop->f);
  g_clear_pointer (answer, insight_bench_free);
  *answer = look (shop, bench, today);
}

/* A unit passes a step: by far the most of what happens to units. */
static void
pass (Shop *shop, int unit, const char *date, int step)
{
  fixture_event (shop->f, unit, BOOK_EVENT_PASSED, date, step, -1);
}

static const InsightBenchUnit *
at (const InsightBench *bench, int unit)
{
  return g_ptr_array_index (bench->units, (guint) unit);
}

static char *
serials (const InsightBench *bench, const GArray *numbers)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < numbers->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", at (bench, (int) g_array_index (numbers, guint, i))->serial);
  return g_string_free (text, FALSE);
}

static void
assert_waiting (Shop *shop, int bench, const char *today, const char *expected)
{
  g_autoptr(InsightBench) answer = look (shop, bench, today);
  g_autofree char *found = serials (answer, answer->waiting);

  g_assert_cmpstr (found, ==, expected);
}

/* Passed moves a unit to the next step, and past the last it waits for nothing. */
static void
test_passed_moves_on (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) all = NULL;
  int first, second, third;

  first = unit_of (shop, "A-1");
  second = unit_of (shop, "A-2");
  third = unit_of (shop, "A-3");
  pass (shop, first, MONDAY, shop->mill);
  pass (shop, second, MONDAY, shop->mill);
  fixture_event (f, second, BOOK_EVENT_BUILT, TUESDAY, shop->fit, -1);
  pass (shop, third, MONDAY, shop->mill);
  pass (shop, third, TUESDAY, shop->fit);
  pass (shop, third, THURSDAY, shop->inspect);
  fixture_finish (f);

  assert_waiting (shop, shop->milling, NEXT, "");
  assert_waiting (shop, shop->fitting, NEXT, "A-1 A-2");
  assert_waiting (shop, shop->table, NEXT, "");
  assert_waiting (shop, shop->table, TUESDAY, "A-3"); /* what came later is not known yet */
  all = look (shop, -1, NEXT);
  g_assert_cmpint (at (all, first)->state, ==, INSIGHT_BENCH_CAME);
  g_assert_cmpstr (at (all, first)->since, ==, MONDAY);
  g_assert_cmpuint (at (all, first)->days, ==, 5); /* Tuesday to Friday, Monday */
  g_assert_cmpint (at (all, second)->state, ==, INSIGHT_BENCH_BEGUN);
  g_assert_cmpuint (at (all, second)->days, ==, 4);
  g_assert_cmpuint (all->longest, ==, 5);
  g_assert_cmpint (at (all, third)->state, ==, INSIGHT_BENCH_DONE);
  g_assert_cmpint (at (all, third)->step, ==, -1);
}

/* Before its first event a unit waits where units begin, an assembled one to be inspected, or after its bench. */
static void
test_before_the_first_event (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) all = NULL;
  int planned, assembled, milled, other, loose;

  planned = unit_of (shop, "A-1");
  assembled = fixture_unit (f, shop->round, "A-2");
  milled = fixture_unit (f, shop->round, "A-3");
  f->e->units[milled].assembled_at = shop->milling;
  loose = unit_of (shop, "A-4");
  f->e->units[loose].part = fixture_part (f, "LEVER");
  fixture_finish (f);
  all = look (shop, -1, NEXT);
  g_assert_cmpint (at (all, planned)->state, ==, INSIGHT_BENCH_PLANNED);
  g_assert_cmpint (at (all, planned)->step, ==, shop->mill);
  g_assert_cmpstr (at (all, planned)->since, ==, "");
  g_assert_cmpint (at (all, assembled)->state, ==, INSIGHT_BENCH_ASSEMBLED);
  g_assert_cmpint (at (all, assembled)->step, ==, shop->inspect);
  g_assert_cmpint (at (all, milled)->step, ==, shop->fit);
  g_assert_cmpint (at (all, loose)->step, ==, -1);

  /* Where units have events only from a step on, tallies count before it. */
  other = unit_of (shop, "A-5");
  pass (shop, other, MONDAY, shop->fit);
  look_again (shop, &all, -1, NEXT);
  g_assert_cmpint (at (all, planned)->step, ==, shop->fit);
}

/* Sent back by the inspection: to whom it was said, else to the bench that assembled it; then to be looked at again. */
static void
test_sent_back_and_put_right (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) before = NULL, after = NULL, milling = NULL;
  int first, second, third;

  first = unit_of (shop, "A-1");
  second = unit_of (shop, "A-2");
  third = unit_of (shop, "A-3");
  for (int u = first; u <= third; u++)
    {
      pass (shop, u, MONDAY, shop->mill);
      fixture_event (f, u, BOOK_EVENT_BUILT, MONDAY, shop->fit, -1);
      if (u == second)
        f->e->units[u].assembled_at = shop->milling;
      if (u == third)
        continue;
      pass (shop, u, MONDAY, shop->fit);
      fixture_event (f, u, BOOK_EVENT_SENT_BACK, TUESDAY, shop->inspect, shop->issue);
    }
  fixture_finish (f);
  before = look (shop, shop->fitting, THURSDAY);
  g_assert_cmpint (at (before, first)->state, ==, INSIGHT_BENCH_BACK);
  g_assert_cmpint (at (before, first)->step, ==, shop->fit);
  g_assert_cmpint (at (before, first)->issue_no, ==, f->e->issues[shop->issue].no);
  g_assert_cmpstr (at (before, first)->reason, ==, "as said");
  g_assert_cmpstr (at (before, first)->found_at, ==, "Inspect");
  g_assert_cmpint (at (before, second)->step, ==, shop->mill);
  g_assert_cmpuint (before->returns->len, ==, 1);
  g_assert_cmpstr (((InsightBenchReturn *) g_ptr_array_index (before->returns, 0))->settled, ==, "");
  assert_waiting (shop, shop->fitting, THURSDAY, "A-1 A-3"); /* what came back comes first, though A-3 waits longer */
  milling = look (shop, shop->milling, THURSDAY);
  g_assert_cmpuint (milling->returns->len, ==, 1);
  g_assert_cmpuint (((InsightBenchReturn *) g_ptr_array_index (milling->returns, 0))->unit, ==, (guint) second);

  /* Said by name it goes there, whoever assembled it. */
  for (guint i = 0; i < f->e->n_events; i++)
    if (f->e->events[i].kind == BOOK_EVENT_SENT_BACK && f->e->events[i].unit == second)
      f->e->events[i].back_to = shop->fit;
  assert_waiting (shop, shop->fitting, THURSDAY, "A-1 A-2 A-3");

  fixture_event (f, first, BOOK_EVENT_REWORKED, THURSDAY, shop->fit, shop->issue);
  fixture_finish (f);
  after = look (shop, shop->table, NEXT);
  g_assert_cmpint (at (after, first)->state, ==, INSIGHT_BENCH_REWORKED);
  g_assert_cmpint (at (after, first)->step, ==, shop->inspect);
  g_assert_cmpuint (at (after, first)->days, ==, 2); /* Friday and Monday */
  g_assert_true (at (after, first)->here);

  pass (shop, first, NEXT, shop->inspect);
  look_again (shop, &before, shop->fitting, NEXT);
  for (guint i = 0; i < before->returns->len; i++)
    {
      const InsightBenchReturn *one = g_ptr_array_index (before->returns, i);

      g_assert_cmpstr (one->settled, ==, one->unit == (guint) first ? NEXT : "");
    }
}

/* Found where it is made, it stays there. */
static void
test_sent_back_where_it_is_made (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) bench = NULL;
  int unit;

  unit = unit_of (shop, "A-1");
  pass (shop, unit, MONDAY, shop->mill);
  fixture_event (f, unit, BOOK_EVENT_SENT_BACK, MONDAY, shop->fit, -1);
  fixture_finish (f);
  bench = look (shop, -1, NEXT);
  g_assert_cmpint (at (bench, unit)->step, ==, shop->fit);
  fixture_event (f, unit, BOOK_EVENT_REWORKED, TUESDAY, shop->fit, -1);
  look_again (shop, &bench, -1, NEXT);
  g_assert_cmpint (at (bench, unit)->step, ==, shop->fit);
  g_assert_cmpint (at (bench, unit)->state, ==, INSIGHT_BENCH_REWORKED);
}

/* Scrapped and set aside for good, lent until it is returned; altered moves nothing; a decided round waits for nothing. */
static void
test_what_leaves (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) bench = NULL;
  int scrapped, lent, altered;

  scrapped = unit_of (shop, "A-1");
  lent = unit_of (shop, "A-2");
  altered = unit_of (shop, "A-3");
  for (int u = scrapped; u <= altered; u++)
    pass (shop, u, MONDAY, shop->mill);
  fixture_event (f, scrapped, BOOK_EVENT_SCRAPPED, TUESDAY, shop->fit, -1);
  pass (shop, scrapped, THURSDAY, shop->fit);
  fixture_event (f, lent, BOOK_EVENT_LENT, TUESDAY, -1, -1);
  fixture_event (f, altered, BOOK_EVENT_ALTERED, TUESDAY, -1, shop->issue);
  fixture_finish (f);
  bench = look (shop, -1, NEXT);
  g_assert_cmpint (at (bench, scrapped)->state, ==, INSIGHT_BENCH_GONE);
  g_assert_cmpint (at (bench, lent)->state, ==, INSIGHT_BENCH_AWAY);
  g_assert_cmpint (at (bench, altered)->state, ==, INSIGHT_BENCH_CAME);
  g_assert_cmpstr (at (bench, altered)->since, ==, MONDAY);
  assert_waiting (shop, -1, NEXT, "A-3");
  fixture_event (f, lent, BOOK_EVENT_RETURNED, THURSDAY, -1, -1);
  look_again (shop, &bench, -1, NEXT);
  g_assert_cmpint (at (bench, lent)->step, ==, shop->fit);
  g_assert_cmpstr (at (bench, lent)->since, ==, THURSDAY);

  f->e->rounds[shop->round].decided = book_day_parse (NEXT, NULL);
  assert_waiting (shop, -1, NEXT, "");
  assert_waiting (shop, -1, THURSDAY, "A-3 A-2");
}

static char *
wanted_of (const InsightBench *bench, int unit)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < at (bench, unit)->wanted->len; i++)
    {
      const InsightBenchWanted *wanted = &g_array_index (at (bench, unit)->wanted, InsightBenchWanted, i);

      g_string_append_printf (text, "%s%s%s%s%s", i > 0 ? " " : "", wanted->code, wanted->planned ? "+" : "",
                              wanted->again ? "!" : "", wanted->here ? "" : "-");
    }
  return g_string_free (text, FALSE);
}

/* Which attempt and repeat the first reading to be taken is, as '2.1'. */
static void
assert_next (Shop *shop, int unit, const char *expected)
{
  g_autoptr(InsightBench) answer = look (shop, -1, NEXT);
  const InsightBenchWanted *wanted = &g_array_index (at (answer, unit)->wanted, InsightBenchWanted, 0);
  g_autofree char *found = g_strdup_printf ("%u.%u", wanted->attempt, wanted->n);

  g_assert_cmpstr (found, ==, expected);
}

static void
assert_wanted (Shop *shop, int bench, int unit, const char *expected)
{
  g_autoptr(InsightBench) answer = look (shop, bench, NEXT);
  g_autofree char *found = wanted_of (answer, unit);

  g_assert_cmpstr (found, ==, expected);
}

/* What the step decides that the unit waits for; what is planned for it; never what destroys it unasked. */
static void
test_what_to_measure (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) bench = NULL;
  int here, before, burst, cycles, sampled;

  burst = fixture_measured (f, "BURST", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  f->e->characteristics[burst].step = shop->inspect;
  f->e->characteristics[burst].destructive = TRUE;
  cycles = fixture_checked (f, "CYCLES", BOOK_CLASS_FUNCTION); /* no step decides it */
  sampled = fixture_checked (f, "SAMPLE", BOOK_CLASS_FUNCTION);
  f->e->characteristics[sampled].step = shop->inspect;
  here = unit_of (shop, "A-1");
  before = unit_of (shop, "A-2");
  pass (shop, here, MONDAY, shop->fit);
  pass (shop, before, MONDAY, shop->mill);
  fixture_planned_test (f, before, sampled, NAN, NAN);
  fixture_finish (f);
  assert_wanted (shop, shop->table, here, "PLAY");
  assert_wanted (shop, shop->table, before, ""); /* it has not come so far */

  fixture_planned_test (f, here, burst, NAN, NAN);
  fixture_planned_test (f, here, cycles, NAN, 3000);
  assert_wanted (shop, shop->table, here, "PLAY BURST+ CYCLES+-");
  assert_wanted (shop, -1, here, "PLAY BURST+ CYCLES+");
  bench = look (shop, shop->table, NEXT);
  g_assert_cmpuint (bench->n_wanted, ==, 2);
  g_assert_cmpuint (bench->measure->len, ==, 1);
  for (guint i = 0; i < at (bench, here)->wanted->len; i++)
    {
      const InsightBenchWanted *wanted = &g_array_index (at (bench, here)->wanted, InsightBenchWanted, i);

      g_assert_cmpint (wanted->life, ==, g_str_equal (wanted->code, "CYCLES"));
      g_assert_cmpuint (wanted->attempt, ==, 1);
      g_assert_cmpuint (wanted->n, ==, 1);
    }

  fixture_life_test (f, here, cycles, 3000, FALSE, -1);
  f->e->life_tests[0].day = book_day_parse (THURSDAY, NULL);
  fixture_reading (f, here, shop->play, 1, 1, BOOK_MARK_PASSED, NAN, THURSDAY);
  fixture_finish (f);
  assert_wanted (shop, -1, here, "BURST+");
  pass (shop, here, THURSDAY, shop->inspect);
  fixture_finish (f);
  assert_wanted (shop, -1, here, "BURST+"); /* planned, so still owed */
  fixture_event (f, here, BOOK_EVENT_SCRAPPED, THURSDAY, shop->inspect, -1);
  fixture_finish (f);
  assert_wanted (shop, -1, here, "");
}

/* What failed is read again once it is put right; a voided reading was none. */
static void
test_measure_again (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  int unit;

  unit = unit_of (shop, "A-1");
  pass (shop, unit, MONDAY, shop->fit);
  fixture_reading (f, unit, shop->play, 1, 1, BOOK_MARK_FAILED, NAN, TUESDAY);
  fixture_finish (f);
  assert_wanted (shop, shop->table, unit, "");
  f->e->readings[0].voided = 1;
  assert_wanted (shop, shop->table, unit, "PLAY");
  assert_next (shop, unit, "1.2"); /* the voided one stays */
  f->e->readings[0].voided = 0;
  fixture_event (f, unit, BOOK_EVENT_SENT_BACK, TUESDAY, shop->inspect, shop->issue);
  fixture_event (f, unit, BOOK_EVENT_REWORKED, THURSDAY, shop->fit, shop->issue);
  fixture_finish (f);
  assert_wanted (shop, shop->table, unit, "PLAY!");
  assert_next (shop, unit, "2.1");
  fixture_reading (f, unit, shop->play, 2, 1, BOOK_MARK_FAILED, NAN, THURSDAY);
  fixture_finish (f);
  assert_wanted (shop, shop->table, unit, ""); /* read on the day on which it was put right: after it */
}

/* A serial as scanned finds the unit that is not finished, else the newest. */
static void
test_a_serial (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightBench) bench = NULL;
  int later, first, second;

  first = unit_of (shop, "A-1");
  later = fixture_round (f, "B", BOOK_ROUND_PILOT, "2026-01-20", FALSE);
  second = fixture_unit (f, later, "a-1");
  fixture_finish (f);
  bench = look (shop, -1, NEXT);
  g_assert_true (insight_bench_find (bench, " A-1 ") == at (bench, second));
  fixture_event (f, second, BOOK_EVENT_SCRAPPED, MONDAY, -1, -1);
  look_again (shop, &bench, -1, NEXT);
  g_assert_true (insight_bench_find (bench, "a-1") == at (bench, first));
  g_assert_null (insight_bench_find (bench, "A-9"));
}

#define ADD(path, test) g_test_add ("/insight/bench/" path, Shop, NULL, shop_up, test, shop_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("passed-moves-on", test_passed_moves_on);
  ADD ("before-the-first-event", test_before_the_first_event);
  ADD ("sent-back-and-put-right", test_sent_back_and_put_right);
  ADD ("sent-back-where-it-is-made", test_sent_back_where_it_is_made);
  ADD ("what-leaves", test_what_leaves);
  ADD ("what-to-measure", test_what_to_measure);
  ADD ("measure-again", test_measure_again);
  ADD ("a-serial-finds-its-unit", test_a_serial);
  return g_test_run ();
}
