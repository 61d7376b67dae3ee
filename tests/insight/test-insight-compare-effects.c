/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two rounds, or two groups of one: what the readings say, and what keeps it from being said. */
#include "config.h"
#include "compare-pair.h"

#include <stdlib.h>

static int
compare_unit_parts (const void *a, const void *b)
{
  return ((const BookEvidenceUnitPart *) a)->unit - ((const BookEvidenceUnitPart *) b)->unit;
}

static void
test_split_is_preferred (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const InsightEffect *effect;

  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_split (&pair, pair_before, pair_after, 5);
  out = pair_compare (&pair);

  g_assert_cmpuint (difference_at (out, 0)->after.n_built, ==, 2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (out->effects->len, ==, 1); /* the split answers for the only change */
  effect = effect_at (out, 0);
  g_assert_cmpint (effect->way, ==, INSIGHT_EFFECT_SPLIT);
  g_assert_cmpint (effect->method, ==, INSIGHT_EFFECT_PERMUTATION);
  g_assert_cmpstr (effect->before.label, ==, "A");
  g_assert_cmpstr (effect->after.label, ==, "B");
  g_assert_cmpuint (effect->before.n, ==, 5);
  /* R: the share of combn (10, 5) with abs (mean - mean of the rest) >= 2 */
  assert_near (effect->p, 0.01587301587, 1e-9);
  g_assert_true (effect->told_apart);
  g_assert_true (effect->to_change);
  g_assert_null (remark_of (effect, INSIGHT_REMARK_ORDER));
  g_assert_cmpuint (out->splits->len, ==, 1);
}

static void
test_order_of_build_is_said (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_change (&pair, "2026-02-10");
  fixture_plan (f, pair.p1, pair.lever, pair.a, -1, "");
  fixture_plan (f, pair.p2, pair.lever, pair.a, -1, "P2-001");
  fixture_plan (f, pair.p2, pair.lever, pair.b, -1, "P2-006");
  pair_values (&pair, pair.p2, pair.play, pair_before, 5);
  for (int i = 0, first = fixture_unit (f, pair.p2, "P2-006"); i < 5; i++)
    {
      char *serial = g_strdup_printf ("P2-%03d", 7 + i);

      fixture_value (f, first + i, pair.play, pair_after[i]);
      if (i < 4)
        fixture_unit (f, pair.p2, serial);
      g_free (serial);
    }
  out = pair_compare (&pair);
  g_assert_cmpint (effect_at (out, 0)->way, ==, INSIGHT_EFFECT_SPLIT);
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_ORDER));
}

/* Somebody fits another spring into the same units: what the lever did can no longer be told. */
static void
test_what_else_differs_is_named (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int spring = fixture_part (f, "SPRING"), old = fixture_revision (f, spring, "1", "2026-01-01");
  int new = fixture_revision (f, spring, "2", "2026-02-01"), first;
  const InsightEffect *effect;

  fixture_depends (f, pair.play, spring, -1);
  fixture_plan (f, pair.p1, spring, old, -1, "");
  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  first = pair_split (&pair, pair_before, pair_after, 5);
  for (int i = 1; i < 10; i += 2)
    fixture_unit_part (f, first + i, spring, new, -1);
  qsort (f->e->unit_parts, f->e->n_unit_parts, sizeof *f->e->unit_parts, compare_unit_parts);
  out = pair_compare (&pair);

  g_assert_cmpuint (out->differences->len, ==, 2);
  g_assert_cmpstr (difference_at (out, 1)->code, ==, "SPRING");
  g_assert_cmpint (difference_at (out, 1)->explained, ==, INSIGHT_EXPLAINED_NOT); /* nobody wrote a change for it */
  effect = effect_at (out, 0);
  g_assert_cmpint (effect->way, ==, INSIGHT_EFFECT_SPLIT);
  g_assert_true (effect->told_apart);
  g_assert_false (effect->to_change);
  g_assert_cmpuint (effect->n_touches, ==, 1);
  g_assert_cmpstr (effect->touches[0].name, ==, "SPRING SPRING");
  g_assert_cmpint (effect->touches[0].difference, ==, 1);
}

static void
test_change_beside_a_split (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int spring = fixture_part (f, "SPRING");
  const InsightEffect *effect;

  fixture_depends (f, pair.play, spring, -1);
  fixture_plan (f, pair.p1, spring, fixture_revision (f, spring, "1", "2026-01-01"), -1, "");
  fixture_plan (f, pair.p2, spring, fixture_revision (f, spring, "2", "2026-02-01"), -1, "");
  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_split (&pair, pair_before, pair_after, 5);
  out = pair_compare (&pair);

  g_assert_cmpuint (out->effects->len, ==, 2);
  g_assert_true (effect_at (out, 0)->to_change);
  effect = effect_at (out, 1);
  g_assert_cmpint (effect->way, ==, INSIGHT_EFFECT_ROUNDS);
  g_assert_cmpstr (remark_of (effect, INSIGHT_REMARK_ALIKE)->names[1], ==, "A");
  g_assert_cmpuint (effect->after.n, ==, 5); /* only units with the old lever, so that the spring stands alone */
  assert_near (effect->difference, 0.0, 1e-9);
  g_assert_cmpuint (effect->n_touches, ==, 1);
  g_assert_cmpstr (effect->touches[0].name, ==, "SPRING SPRING");
}

static void
test_other_gauge (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int old = fixture_gauge (f, "Caliper 1", 0.01), new = fixture_gauge (f, "Caliper 2", 0.01), first;
  const InsightRemark *remark;

  pair_change (&pair, "2026-02-10");
  first = pair_split (&pair, pair_before, pair_after, 5);
  for (guint i = 0; i < f->e->n_readings; i++)
    f->e->readings[i].gauge = (gint16) (((int) f->e->readings[i].unit - first) % 2 ? new : old);
  out = pair_compare (&pair);
  remark = remark_of (effect_at (out, 0), INSIGHT_REMARK_GAUGES);
  g_assert_nonnull (remark);
  g_assert_cmpstr (remark->names[0], ==, "Caliper 1");
  g_assert_cmpstr (remark->names[1], ==, "Caliper 2");
  g_assert_false (effect_at (out, 0)->to_change);
}

static void
test_who_is_left_out (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int first, bad;
  const InsightEffect *effect;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  fixture_limit (f, pair.play, "2026-01-01", 9.0, 20.0);
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  first = fixture_units (f, pair.p2, 9);
  for (int i = 0; i < 5; i++)
    fixture_value (f, first + i, pair.play, pair_after[i]);
  fixture_value (f, first + 5, pair.play, 99.0); /* excused by a concession */
  fixture_finding (f, fixture_issue (f, pair.play), first + 5, BOOK_DISPOSITION_SCRAP, TRUE, "2026-03-25");
  bad = fixture_value (f, first + 6, pair.play, 120.0); /* typed wrong, and never read again */
  f->e->readings[bad].voided = TRUE;
  fixture_event (f, first + 7, BOOK_EVENT_ALTERED, "2026-03-22", -1, -1);
  fixture_reading (f, first + 7, pair.play, 1, 1, BOOK_MARK_MEASURED, 13.0, "2026-03-23");
  fixture_value (f, first + 8, pair.play, 25.0); /* retested until it passed: the first attempt stands */
  fixture_reading (f, first + 8, pair.play, 2, 1, BOOK_MARK_MEASURED, 13.0, "2026-03-25");
  out = pair_compare (&pair);

  effect = effect_at (out, 0);
  g_assert_cmpuint (effect->after.n, ==, 6);
  assert_near (effect->after.mean, (65.0 + 25.0) / 6.0, 1e-12);
  g_assert_cmpuint (effect->after.failed, ==, 1);
  g_assert_cmpstr (remark_of (effect, INSIGHT_REMARK_EXCUSED)->names[0], ==, "P2-006");
  g_assert_cmpstr (remark_of (effect, INSIGHT_REMARK_VOIDED)->names[0], ==, "P2-007");
  g_assert_cmpstr (remark_of (effect, INSIGHT_REMARK_ALTERED)->names[0], ==, "P2-008");
  g_assert_cmpstr (remark_of (effect, INSIGHT_REMARK_RETESTED)->names[0], ==, "P2-009");
}

static void
test_what_it_depends_on (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int handle = fixture_part (f, "HANDLE"), grip = fixture_measured (f, "GRIP", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  int mass = fixture_measured (f, "MASS", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);

  fixture_depends (f, grip, handle, -1);
  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, mass, pair_before, 5);
  pair_values (&pair, pair.p2, mass, pair_after, 5);
  out = pair_compare (&pair);
  g_assert_cmpuint (out->effects->len, ==, 1);
  g_assert_cmpstr (effect_at (out, 0)->code, ==, "MASS"); /* nobody said, so it depends on everything */
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_DEPENDS));
  g_assert_cmpstr (out->untouched[0], ==, "GRIP");
  g_assert_null (out->untouched[1]);
  g_assert_cmpstr (out->unmeasured[0], ==, "PLAY");
}

static void
test_too_few (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const InsightEffect *effect;

  pair_plan (&pair);
  pair_values (&pair, pair.p1, pair.play, pair_before, 2);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
  effect = effect_at (out, 0);
  g_assert_nonnull (remark_of (effect, INSIGHT_REMARK_TOO_FEW));
  g_assert_true (isnan (effect->low) && isnan (effect->p));
  assert_near (effect->difference, 2.5, 1e-12);
  g_assert_cmpuint (out->n_adjusted, ==, 0);
}

/* Three against three can be arranged in 20 ways: none is as rare as 1 in 40. The rounds are asked as well. */
static void
test_too_few_arrangements (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_split (&pair, pair_before, pair_after, 3);
  out = pair_compare (&pair);
  g_assert_cmpuint (out->effects->len, ==, 2);
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_ARRANGEMENTS));
  g_assert_true (isnan (effect_at (out, 0)->low));
  g_assert_cmpint (effect_at (out, 1)->way, ==, INSIGHT_EFFECT_ROUNDS);
}

static void
test_equal_values (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const double low[] = { 57, 57, 57, 57, 57 }, high[] = { 58, 58, 58, 58, 58 };

  pair_change (&pair, "2026-02-10");
  pair_split (&pair, low, high, 5);
  out = pair_compare (&pair);
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_NO_VARIATION));
  g_assert_true (isnan (effect_at (out, 0)->low));
}

/* Carried over by name although the readings differ: said, for somebody may have been wrong. */
static void
test_carried_over (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  fixture_carry (f, pair.change, pair.play, 0, -1);
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
  g_assert_true (effect_at (out, 0)->told_apart);
  g_assert_cmpstr (remark_of (effect_at (out, 0), INSIGHT_REMARK_CARRIED_DOUBT)->names[0], ==, "1 steeper");
}

static void
test_checks (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int hold = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  const InsightEffect *effect;

  fixture_depends (f, hold, pair.lever, -1);
  pair_plan (&pair);
  fixture_checked_units (f, pair.p1, 12, hold, 8);
  fixture_checked_units (f, pair.p2, 15, hold, 2);
  out = pair_compare (&pair);
  effect = effect_at (out, 0);
  g_assert_cmpint (effect->method, ==, INSIGHT_EFFECT_SHARES);
  assert_near (effect->difference, 2.0 / 15 - 8.0 / 12, 1e-12);
  /* R: fisher.test (matrix (c(2, 13, 8, 4), 2))$p.value */
  assert_near (effect->p, 0.006915840325, 1e-9);
  g_assert_true (effect->told_apart);
}

/* A check made to another limit says nothing about this one; a bound is no value. */
static void
test_bounds_and_older_checks (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int first;
  const InsightEffect *effect;

  pair_plan (&pair);
  fixture_limit (f, pair.play, "2026-01-01", 5.0, INFINITY);
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  first = fixture_units (f, pair.p2, 5);
  for (int i = 0; i < 5; i++)
    fixture_reading (f, first + i, pair.play, 1, 1, i == 0 ? BOOK_MARK_ABOVE : BOOK_MARK_MEASURED, pair_after[i], "2026-03-21");
  out = pair_compare (&pair);
  effect = effect_at (out, 0);
  g_assert_nonnull (remark_of (effect, INSIGHT_REMARK_CENSORED));
  g_assert_cmpint (effect->method, ==, INSIGHT_EFFECT_SHARES);
  g_assert_true (isnan (effect->after.mean));
  g_assert_false (effect->told_apart);
}

static void
test_holm (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  /* R: p <- sapply (c (1.5, 1.2, 0.6), function (d) t.test (after - 2 + d, before)$p.value); p.adjust (p, "holm") */
  static const double shifts[] = { 1.5, 1.2, 0.6 };
  static const double p[] = { 0.01707168123, 0.04317672783, 0.26446710520 };
  static const double holm[] = { 0.05121504370, 0.08635345566, 0.26446710520 };
  int all[3], first;

  pair_plan (&pair);
  all[0] = pair.play;
  all[1] = fixture_measured (f, "PLAY2", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  all[2] = fixture_measured (f, "PLAY3", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  first = fixture_units (f, pair.p1, 5);
  fixture_units (f, pair.p2, 5);
  for (int i = 0; i < 5; i++)
    for (int k = 0; k < 3; k++)
      {
        fixture_value (f, first + i, all[k], pair_before[i]);
        fixture_value (f, first + 5 + i, all[k], pair_after[i] - 2.0 + shifts[k]);
      }
  out = pair_compare (&pair);
  g_assert_cmpuint (out->n_adjusted, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      assert_near (effect_at (out, i)->p, p[i], 1e-9);
      assert_near (effect_at (out, i)->p_holm, holm[i], 1e-9);
    }
  g_assert_false (effect_at (out, 0)->told_apart); /* 0.017 alone, but 0.051 among three */
  g_assert_cmpfloat (effect_at (out, 0)->low, >, 0.0);
}

static double
near_normal (GRand *rand)
{
  double sum = -6.0;

  for (guint i = 0; i < 12; i++)
    sum += g_rand_double (rand);
  return sum;
}

/*
 * Five characteristics of a split round, the change does nothing: lists that tell anything apart stay below 1 in 20 with the
 * adjustment (3.5 deviations of 300 draws are 0.044), and would not without it.
 */
static void
test_promise (void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed (20261125);
  guint adjusted = 0, plain = 0;
  const guint lists = 300;

  for (guint list = 0; list < lists; list++)
    {
      Pair pair = pair_new ();
      g_autoptr(Fixture) f = pair.f;
      g_autoptr(InsightComparison) out = NULL;
      gboolean told = FALSE, small = FALSE;
      int all[5] = { pair.play }, first;

      for (guint c = 1; c < 5; c++)
        all[c] = fixture_measured (f, "MORE", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
      fixture_plan (f, pair.p1, pair.lever, pair.a, -1, "");
      first = fixture_units (f, pair.p2, 12);
      for (int i = 0; i < 12; i++)
        {
          fixture_unit_part (f, first + i, pair.lever, i % 2 ? pair.b : pair.a, -1);
          for (guint c = 0; c < 5; c++)
            fixture_value (f, first + i, all[c], 10.0 + near_normal (rand));
        }
      out = pair_compare (&pair);
      g_assert_cmpuint (out->n_adjusted, ==, 5);
      for (guint i = 0; i < 5; i++)
        {
          const InsightEffect *effect = effect_at (out, i);

          g_assert_cmpfloat (effect->p_holm, >=, effect->p);
          g_assert_cmpfloat (effect->low, <=, effect->difference);
          g_assert_cmpfloat (effect->high, >=, effect->difference);
          told |= effect->told_apart;
          small |= effect->p < 0.05;
        }
      adjusted += told;
      plain += small;
    }
  g_test_message ("of %u lists without an effect %u tell one, %u would without the adjustment", lists, adjusted, plain);
  g_assert_cmpfloat (adjusted / (double) lists, <, 0.05 + 0.044);
  g_assert_cmpfloat (plain / (double) lists, >, 0.15);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/compare/a-split-round-is-preferred-and-may-be-put-down-to-the-change", test_split_is_preferred);
  g_test_add_func ("/insight/compare/a-split-in-order-of-build-is-said", test_order_of_build_is_said);
  g_test_add_func ("/insight/compare/what-else-differs-keeps-it-from-being-put-down-to-the-change", test_what_else_differs_is_named);
  g_test_add_func ("/insight/compare/a-change-beside-a-split-is-compared-between-units-alike-in-it", test_change_beside_a_split);
  g_test_add_func ("/insight/compare/another-gauge-keeps-it-from-being-put-down-to-the-change", test_other_gauge);
  g_test_add_func ("/insight/compare/excused-voided-altered-and-retested-units-are-named", test_who_is_left_out);
  g_test_add_func ("/insight/compare/only-characteristics-that-depend-on-a-change-are-compared", test_what_it_depends_on);
  g_test_add_func ("/insight/compare/too-few-units-have-no-interval", test_too_few);
  g_test_add_func ("/insight/compare/a-split-of-three-and-three-cannot-tell", test_too_few_arrangements);
  g_test_add_func ("/insight/compare/values-that-do-not-vary-have-no-interval", test_equal_values);
  g_test_add_func ("/insight/compare/what-was-carried-over-and-differs-is-doubted", test_carried_over);
  g_test_add_func ("/insight/compare/checks-differ-by-their-failed-shares", test_checks);
  g_test_add_func ("/insight/compare/bounds-are-compared-by-the-share-outside", test_bounds_and_older_checks);
  g_test_add_func ("/insight/compare/all-comparisons-are-adjusted-together", test_holm);
  g_test_add_func ("/insight/compare/lists-without-an-effect-rarely-tell-one", test_promise);
  return g_test_run ();
}
