/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Units picked out of a chart: who they are and what they share. All counts are done by hand on the few records below.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-chosen.h"

/*
 * Ten units of one round, spring lot 1 by the plan; units 1 to 4 and 9 have lot 2. The first four and the tenth lie outside in X.
 * Lever B throughout. Y fails on units 1 to 3; an issue was seen on units 1, 2 (twice) and 4.
 */
typedef struct
{
  Fixture *f;
  int      x, y, lot1, lot2, issue, first;
  gint64   readings[10];
} Bench;

static void
bench_up (Bench *bench)
{
  Fixture *f = bench->f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE), lever = fixture_part (f, "LEVER"),
      spring = fixture_part (f, "SPRING");
  int b = fixture_revision (f, lever, "B", "2025-12-20");

  bench->lot1 = fixture_lot (f, spring, "1");
  bench->lot2 = fixture_lot (f, spring, "2");
  fixture_plan (f, round, lever, b, -1, "");
  fixture_plan (f, round, spring, -1, bench->lot1, "");
  bench->x = fixture_measured (f, "X", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  bench->y = fixture_checked (f, "Y", BOOK_CLASS_FUNCTION);
  fixture_limit (f, bench->x, "2025-01-01", 9.0, 11.0);
  bench->issue = fixture_issue (f, bench->y);
  bench->first = fixture_units (f, round, 10);
  for (int i = 0; i < 10; i++)
    {
      if (i < 4 || i == 8)
        fixture_unit_part (f, bench->first + i, spring, -1, bench->lot2);
      fixture_value (f, bench->first + i, bench->x, i < 4 || i == 9 ? 12.0 : 10.0);
      fixture_check (f, bench->first + i, bench->y, i >= 3);
    }
  fixture_finding (f, bench->issue, bench->first, 0, FALSE, "");
  fixture_finding (f, bench->issue, bench->first + 1, 0, FALSE, "");
  fixture_finding (f, bench->issue, bench->first + 1, 0, FALSE, "");
  fixture_finding (f, bench->issue, bench->first + 3, 0, FALSE, "");
  fixture_finish (f);
  for (guint i = f->e->characteristics[bench->x].first_reading; i < f->e->characteristics[bench->x].end_reading; i++)
    bench->readings[f->e->readings[i].unit] = f->e->readings[i].id;
}

static InsightChosen *
choose (Bench *bench, guint n)
{
  InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GError) error = NULL;
  InsightChosen *chosen = insight_chosen (bench->f->e, bench->f->e->characteristics[bench->x].id, bench->readings, n, &span, NULL,
                                          &error);

  g_assert_no_error (error);
  return chosen;
}

static void
assert_fact (const InsightFact *fact, InsightFactKind kind, gint64 key, guint chosen, guint others)
{
  g_assert_cmpint (fact->kind, ==, kind);
  g_assert_cmpint (fact->key, ==, key);
  g_assert_cmpuint (fact->chosen, ==, chosen);
  g_assert_cmpuint (fact->others, ==, others);
}

static void
test_shared (void)
{
  g_autoptr(InsightChosen) chosen = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  chosen = choose (&bench, 4);
  g_assert_cmpuint (chosen->n, ==, 4);
  g_assert_cmpuint (chosen->n_others, ==, 6);
  /* Lot 2: 4 of 4, 1 of 6. Issue 3 of 4 and Y 3 of 4, none of the others. Lever B is everywhere, lot 1 not among them. */
  g_assert_cmpuint (chosen->n_shared, ==, 3);
  assert_fact (&chosen->shared[0], INSIGHT_FACT_LOT, f->e->lots[bench.lot2].id, 4, 1);
  assert_fact (&chosen->shared[1], INSIGHT_FACT_ISSUE, f->e->issues[bench.issue].id, 3, 0);
  assert_fact (&chosen->shared[2], INSIGHT_FACT_FAILS, f->e->characteristics[bench.y].id, 3, 0);
  g_assert_cmpstr (chosen->shared[0].name, ==, "2");
}

static void
test_told (void)
{
  g_autoptr(InsightChosen) chosen = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;
  const InsightChosenUnit *one;

  bench_up (&bench);
  f = bench.f;
  chosen = choose (&bench, 2);
  g_assert_cmpuint (chosen->n_units, ==, 2);
  one = &chosen->units[1];
  g_assert_cmpint (one->id, ==, f->e->units[bench.first + 1].id);
  g_assert_cmpstr (one->round, ==, "P1");
  g_assert_cmpuint (one->values->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpint (g_array_index (one->values, InsightChosenValue, i).verdict, ==, INSIGHT_OUTSIDE);
  g_assert_cmpuint (one->facts->len, ==, 3); /* lot 2, lever B, the issue once */
}

static void
test_one_and_all (void)
{
  g_autoptr(InsightChosen) none = NULL, one = NULL, all = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  none = choose (&bench, 0);
  g_assert_cmpuint (none->n, ==, 0);
  g_assert_cmpuint (none->n_shared, ==, 0);
  one = choose (&bench, 1);
  g_assert_cmpuint (one->n_units, ==, 1);
  g_assert_cmpuint (one->n_shared, ==, 0); /* one unit has nothing in common with itself */
  all = choose (&bench, 10);
  g_assert_cmpuint (all->n, ==, 10);
  g_assert_cmpuint (all->n_units, ==, INSIGHT_CHOSEN_MOST);
  g_assert_cmpuint (all->n_others, ==, 0);
  g_assert_cmpuint (all->n_shared, ==, 0);
}

static void
test_half_is_not_common (void)
{
  g_autoptr(InsightChosen) chosen = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  bench.readings[2] = bench.readings[8]; /* 1, 2, 9 and 10 */
  bench.readings[3] = bench.readings[9];
  chosen = choose (&bench, 4);
  /* Lot 2: 3 of 4, 2 of 6. Issue and Y: 2 of 4 are not more than half. */
  g_assert_cmpuint (chosen->n_shared, ==, 1);
  assert_fact (&chosen->shared[0], INSIGHT_FACT_LOT, f->e->lots[bench.lot2].id, 3, 2);
}

static void
test_refuses (void)
{
  InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GCancellable) cancelled = g_cancellable_new ();
  g_autoptr(GError) error = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  g_assert_null (insight_chosen (f->e, 1, bench.readings, 1, &span, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_CHARACTERISTIC);
  g_clear_error (&error);
  g_cancellable_cancel (cancelled);
  g_assert_null (insight_chosen (f->e, f->e->characteristics[bench.x].id, bench.readings, 1, &span, cancelled, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/chosen/what-more-of-the-chosen-than-of-the-others-have-is-counted", test_shared);
  g_test_add_func ("/insight/chosen/each-unit-has-its-values-and-what-it-was-built-of", test_told);
  g_test_add_func ("/insight/chosen/one-unit-or-all-units-have-nothing-in-common", test_one_and_all);
  g_test_add_func ("/insight/chosen/what-half-of-them-have-is-not-common", test_half_is_not_common);
  g_test_add_func ("/insight/chosen/an-unknown-characteristic-is-refused", test_refuses);
  return g_test_run ();
}
