/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two rounds, or two groups of one, set against each other. */
#include "config.h"
#include "evidence-fixture.h"
#include "insight-compare.h"

#include <stdlib.h>
#include <string.h>

static int
compare_unit_parts (const void *a, const void *b)
{
  return ((const BookEvidenceUnitPart *) a)->unit - ((const BookEvidenceUnitPart *) b)->unit;
}

static InsightComparison *
compared (Fixture *f, InsightCompareAsk ask)
{
  g_autoptr(GError) error = NULL;
  InsightComparison *out;

  ask.today = "2027-01-01";
  out = insight_compare (f->e, &ask, NULL, &error);
  g_assert_no_error (error);
  return out;
}

static InsightComparison *
rounds_compared (Fixture *f, int from, int to)
{
  fixture_finish (f);
  return compared (f, (InsightCompareAsk){ .from = f->e->rounds[from].id, .to = f->e->rounds[to].id });
}

static const InsightDifference *
difference_at (const InsightComparison *out, guint i)
{
  g_assert_cmpuint (out->differences->len, >, i);
  return out->differences->pdata[i];
}

static const InsightEffect *
effect_at (const InsightComparison *out, guint i)
{
  g_assert_cmpuint (out->effects->len, >, i);
  return out->effects->pdata[i];
}

static const InsightRemark *
remark_of (const InsightEffect *effect, InsightRemarkCode code)
{
  for (guint i = 0; i < effect->remarks->len; i++)
    if (((InsightRemark *) effect->remarks->pdata[i])->code == code)
      return effect->remarks->pdata[i];
  return NULL;
}

/* Two rounds, a lever that goes from A to B by a change, and a measured characteristic that depends on it. */
typedef struct
{
  Fixture *f;
  int p1, p2, lever, a, b, play, change;
} Pair;

static Pair
pair_new (void)
{
  Pair pair = { .f = fixture_new () };
  Fixture *f = pair.f;

  fixture_person (f, "MO", BOOK_ROLE_LEAD);
  pair.p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  pair.p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-01", TRUE);
  pair.lever = fixture_part (f, "LEVER");
  pair.a = fixture_revision (f, pair.lever, "A", "2026-01-01");
  pair.b = fixture_revision (f, pair.lever, "B", "2026-02-15");
  pair.play = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_depends (f, pair.play, pair.lever, -1);
  return pair;
}

static void
pair_plan (Pair *pair)
{
  fixture_plan (pair->f, pair->p1, pair->lever, pair->a, -1, "");
  fixture_plan (pair->f, pair->p2, pair->lever, pair->b, -1, "");
}

static void
pair_change (Pair *pair, const char *date)
{
  pair->change = fixture_change (pair->f, date);
  pair->f->e->changes[pair->change].agreed_by = 0;
  fixture_change_item (pair->f, pair->change, pair->lever, pair->a, pair->b);
}

static void
add_values (Fixture *f, int round, int characteristic, const double *values, guint n)
{
  int first = fixture_units (f, round, n);

  for (guint i = 0; i < n; i++)
    fixture_value (f, first + (int) i, characteristic, values[i]);
}

static const double before[] = { 10, 11, 12, 10.5, 11.5 }, after[] = { 12, 13, 14, 12.5, 13.5 };

static void
test_across_rounds (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const InsightDifference *difference;
  const InsightEffect *effect;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  fixture_change_issue (f, pair.change, fixture_issue (f, pair.play));
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);

  g_assert_cmpuint (out->differences->len, ==, 1);
  difference = difference_at (out, 0);
  g_assert_cmpint (difference->kind, ==, INSIGHT_DIFFERS_REVISION);
  g_assert_cmpstr (difference->before.built[0].label, ==, "A");
  g_assert_cmpuint (difference->before.built[0].units, ==, 5);
  g_assert_cmpstr (difference->after.built[0].label, ==, "B");
  g_assert_cmpint (difference->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (difference->n_changes, ==, 1);
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->agreed, ==, "2026-02-10");
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->agreed_by, ==, "MO");
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->built, ==, "");
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->issues[0].title, ==, "It slips");

  g_assert_cmpuint (out->effects->len, ==, 1);
  effect = effect_at (out, 0);
  g_assert_cmpint (effect->way, ==, INSIGHT_EFFECT_ROUNDS);
  g_assert_cmpint (effect->method, ==, INSIGHT_EFFECT_WELCH);
  /* R: t.test (c(12,13,14,12.5,13.5), c(10,11,12,10.5,11.5)) */
  assert_near (effect->difference, 2.0, 1e-12);
  assert_near (effect->low, 0.8469979324, 1e-9);
  assert_near (effect->high, 3.1530020676, 1e-9);
  assert_near (effect->p, 0.003949772803, 1e-9);
  g_assert_true (effect->told_apart);
  g_assert_false (effect->to_change); /* the rounds differ; what did it nobody knows */
  g_assert_cmpuint (effect->n_touches, ==, 1);
}

/* Old and new turn by turn in P2: every second unit has the new lever. */
static int
split_units (Pair *pair, const double *old, const double *new, guint n)
{
  Fixture *f = pair->f;
  int first;

  fixture_plan (f, pair->p1, pair->lever, pair->a, -1, "");
  first = fixture_units (f, pair->p2, 2 * n);
  for (guint i = 0; i < 2 * n; i++)
    {
      fixture_unit_part (f, first + (int) i, pair->lever, i % 2 ? pair->b : pair->a, -1);
      fixture_value (f, first + (int) i, pair->play, i % 2 ? new[i / 2] : old[i / 2]);
    }
  return first;
}

static void
test_split_is_preferred (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const InsightEffect *effect;

  pair_change (&pair, "2026-02-10");
  add_values (f, pair.p1, pair.play, before, 5);
  split_units (&pair, before, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);

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
  add_values (f, pair.p2, pair.play, before, 5);
  for (int i = 0, first = fixture_unit (f, pair.p2, "P2-006"); i < 5; i++)
    {
      char *serial = g_strdup_printf ("P2-%03d", 7 + i);

      fixture_value (f, first + i, pair.play, after[i]);
      if (i < 4)
        fixture_unit (f, pair.p2, serial);
      g_free (serial);
    }
  out = rounds_compared (f, pair.p1, pair.p2);
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
  add_values (f, pair.p1, pair.play, before, 5);
  first = split_units (&pair, before, after, 5);
  for (int i = 1; i < 10; i += 2)
    fixture_unit_part (f, first + i, spring, new, -1);
  qsort (f->e->unit_parts, f->e->n_unit_parts, sizeof *f->e->unit_parts, compare_unit_parts);
  out = rounds_compared (f, pair.p1, pair.p2);

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
  add_values (f, pair.p1, pair.play, before, 5);
  split_units (&pair, before, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);

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
test_fitted_without_a_change (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED_NOT);
  g_assert_cmpuint (out->changes->len, ==, 0);
}

static void
test_withdrawn_but_fitted (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  f->e->changes[0].withdrawn = f->e->changes[0].day + 3;
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED_PARTLY);
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->withdrawn, ==, "2026-02-13");
}

static void
test_written_after_the_fact (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-03-25"); /* P2 was built on 2026-03-21 */
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->built, ==, "2026-03-21");
}

static void
test_going_back_on_a_withdrawn_change (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  fixture_plan (f, pair.p1, pair.lever, pair.b, -1, "");
  fixture_plan (f, pair.p2, pair.lever, pair.a, -1, "");
  pair_change (&pair, "2025-12-10");
  f->e->changes[0].withdrawn = f->e->changes[0].day + 60;
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (difference_at (out, 0)->n_changes, ==, 1);
}

static void
test_planned_but_not_fitted (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int first;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  f->e->changes[0].from_round = pair.p2;
  add_values (f, pair.p1, pair.play, before, 5);
  first = fixture_units (f, pair.p2, 5);
  for (int i = 0; i < 5; i++)
    {
      fixture_unit_part (f, first + i, pair.lever, pair.a, -1); /* the old lever went in again */
      fixture_value (f, first + i, pair.play, after[i]);
    }
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpuint (difference_at (out, 0)->off_plan, ==, 5);
  g_assert_cmpstr (difference_at (out, 0)->after.built[0].label, ==, "A");
  g_assert_cmpstr (difference_at (out, 0)->after.planned[0].label, ==, "B");
  g_assert_cmpuint (out->effects->len, ==, 0); /* nothing differs in fact */
  g_assert_cmpstr (out->untouched[0], ==, "PLAY");
  g_assert_cmpuint (out->unseen->len, ==, 1);
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
  first = split_units (&pair, before, after, 5);
  for (guint i = 0; i < f->e->n_readings; i++)
    f->e->readings[i].gauge = (gint16) (((int) f->e->readings[i].unit - first) % 2 ? new : old);
  out = rounds_compared (f, pair.p1, pair.p2);
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
  add_values (f, pair.p1, pair.play, before, 5);
  first = fixture_units (f, pair.p2, 9);
  for (int i = 0; i < 5; i++)
    fixture_value (f, first + i, pair.play, after[i]);
  fixture_value (f, first + 5, pair.play, 99.0); /* excused by a concession */
  fixture_finding (f, fixture_issue (f, pair.play), first + 5, BOOK_DISPOSITION_SCRAP, TRUE, "2026-03-25");
  bad = fixture_value (f, first + 6, pair.play, 120.0); /* typed wrong, and never read again */
  f->e->readings[bad].voided = TRUE;
  fixture_event (f, first + 7, BOOK_EVENT_ALTERED, "2026-03-22", -1, -1);
  fixture_reading (f, first + 7, pair.play, 1, 1, BOOK_MARK_MEASURED, 13.0, "2026-03-23");
  fixture_value (f, first + 8, pair.play, 25.0); /* retested until it passed: the first attempt stands */
  fixture_reading (f, first + 8, pair.play, 2, 1, BOOK_MARK_MEASURED, 13.0, "2026-03-25");
  out = rounds_compared (f, pair.p1, pair.p2);

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
  add_values (f, pair.p1, mass, before, 5);
  add_values (f, pair.p2, mass, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
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
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const InsightEffect *effect;

  pair_plan (&pair);
  add_values (f, pair.p1, pair.play, before, 2);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
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
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_change (&pair, "2026-02-10");
  add_values (f, pair.p1, pair.play, before, 5);
  split_units (&pair, before, after, 3);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpuint (out->effects->len, ==, 2);
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_ARRANGEMENTS));
  g_assert_true (isnan (effect_at (out, 0)->low));
  g_assert_cmpint (effect_at (out, 1)->way, ==, INSIGHT_EFFECT_ROUNDS);
}

static void
test_equal_values (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  const double low[] = { 57, 57, 57, 57, 57 }, high[] = { 58, 58, 58, 58, 58 };

  pair_change (&pair, "2026-02-10");
  split_units (&pair, low, high, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_nonnull (remark_of (effect_at (out, 0), INSIGHT_REMARK_NO_VARIATION));
  g_assert_true (isnan (effect_at (out, 0)->low));
}

static void
test_setting_and_limit (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int step = fixture_step (f, "Harden"), change = fixture_change (f, "2026-02-20");
  const InsightDifference *setting, *limit;

  fixture_depends (f, pair.play, -1, step);
  fixture_plan (f, pair.p1, pair.lever, pair.a, -1, "");
  fixture_setting (f, step, "2026-01-01", 820.0, -1);
  fixture_setting (f, step, "2026-02-25", 835.0, change);
  fixture_limit (f, pair.play, "2026-01-01", 9.0, 13.0);
  fixture_limit (f, pair.play, "2026-03-28", 9.0, 15.0); /* after measuring, by nobody */
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);

  g_assert_cmpuint (out->differences->len, ==, 2);
  setting = difference_at (out, 0);
  g_assert_cmpint (setting->kind, ==, INSIGHT_DIFFERS_SETTING);
  g_assert_cmpstr (setting->setting, ==, "temperature");
  g_assert_cmpfloat (setting->before.built[0].value, ==, 820.0);
  g_assert_cmpfloat (setting->after.built[0].value, ==, 835.0);
  g_assert_cmpint (setting->explained, ==, INSIGHT_EXPLAINED);
  limit = difference_at (out, 1);
  g_assert_cmpint (limit->kind, ==, INSIGHT_DIFFERS_LIMIT);
  g_assert_cmpfloat (limit->before.upper, ==, 13.0);
  g_assert_cmpfloat (limit->after.upper, ==, 15.0);
  g_assert_true (limit->widened);
  g_assert_cmpint (limit->explained, ==, INSIGHT_EXPLAINED_NOT);
  g_assert_cmpuint (out->effects->len, ==, 1);
  g_assert_cmpstr (effect_at (out, 0)->touches[0].setting, ==, "temperature");
}

/* A change that names value and limits accounts for them, though their rows do not name the change. */
static void
test_items_account (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int step = fixture_step (f, "Harden"), change = fixture_change (f, "2026-02-20");

  fixture_plan (f, pair.p1, pair.lever, pair.a, -1, "");
  fixture_setting (f, step, "2026-01-01", 820.0, -1);
  fixture_setting (f, step, "2026-02-25", 835.0, -1);
  fixture_limit (f, pair.play, "2026-01-01", 9.0, 13.0);
  fixture_limit (f, pair.play, "2026-02-25", 9.0, INFINITY);
  fixture_change_item (f, change, -1, -1, -1);
  f->e->items[0].step = step;
  f->e->items[0].setting = "temperature";
  f->e->items[0].now = "835 °C";
  fixture_change_item (f, change, -1, -1, -1);
  f->e->items[1].characteristic = pair.play;
  f->e->items[1].lower = 9.0;
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpuint (out->differences->len, ==, 2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpint (difference_at (out, 1)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (out->changes->len, ==, 1);

  f->e->items[0].value = 840.0; /* the figure decides, not the words */
  insight_comparison_free (out);
  out = compared (f, (InsightCompareAsk){ .from = f->e->rounds[pair.p1].id, .to = f->e->rounds[pair.p2].id });
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED_NOT);
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
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_true (effect_at (out, 0)->told_apart);
  g_assert_cmpstr (remark_of (effect_at (out, 0), INSIGHT_REMARK_CARRIED_DOUBT)->names[0], ==, "1 steeper");
}

static void
test_checks (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int hold = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION), first;
  const InsightEffect *effect;

  fixture_depends (f, hold, pair.lever, -1);
  pair_plan (&pair);
  first = fixture_units (f, pair.p1, 12);
  for (int i = 0; i < 12; i++)
    fixture_check (f, first + i, hold, i >= 8);
  first = fixture_units (f, pair.p2, 15);
  for (int i = 0; i < 15; i++)
    fixture_check (f, first + i, hold, i >= 2);
  out = rounds_compared (f, pair.p1, pair.p2);
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
  add_values (f, pair.p1, pair.play, before, 5);
  first = fixture_units (f, pair.p2, 5);
  for (int i = 0; i < 5; i++)
    fixture_reading (f, first + i, pair.play, 1, 1, i == 0 ? BOOK_MARK_ABOVE : BOOK_MARK_MEASURED, after[i], "2026-03-21");
  out = rounds_compared (f, pair.p1, pair.p2);
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
        fixture_value (f, first + i, all[k], before[i]);
        fixture_value (f, first + 5 + i, all[k], after[i] - 2.0 + shifts[k]);
      }
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpuint (out->n_adjusted, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      assert_near (effect_at (out, i)->p, p[i], 1e-9);
      assert_near (effect_at (out, i)->p_holm, holm[i], 1e-9);
    }
  g_assert_false (effect_at (out, 0)->told_apart); /* 0.017 alone, but 0.051 among three */
  g_assert_cmpfloat (effect_at (out, 0)->low, >, 0.0);
}

static void
test_groups_of_one_round (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  g_autoptr(InsightComparison) named = NULL;

  pair_change (&pair, "2026-02-10");
  split_units (&pair, before, after, 5);
  fixture_finish (f);
  out = compared (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id });
  g_assert_true (out->within);
  g_assert_cmpstr (out->before_label, ==, "A");
  g_assert_cmpstr (out->after_label, ==, "B");
  g_assert_cmpstr (out->divided_by, ==, "LEVER LEVER");
  g_assert_true (difference_at (out, 0)->divides);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  assert_near (effect_at (out, 0)->p, 0.01587301587, 1e-9);
  g_assert_true (effect_at (out, 0)->to_change);

  named = compared (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id, .part = f->e->parts[pair.lever].id,
                                            .old_label = "B", .new_label = "A" });
  assert_near (effect_at (named, 0)->difference, -2.0, 1e-12);
}

static void
test_groups_by_lot (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  int lots[2] = { fixture_lot (f, pair.lever, "L10"), fixture_lot (f, pair.lever, "L9") }, first;

  pair_plan (&pair);
  first = fixture_units (f, pair.p2, 10);
  for (int i = 0; i < 10; i++)
    {
      fixture_unit_part (f, first + i, pair.lever, pair.b, lots[i % 2]);
      fixture_value (f, first + i, pair.play, i % 2 ? before[i / 2] : after[i / 2]);
    }
  fixture_finish (f);
  out = compared (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id, .part = f->e->parts[pair.lever].id });
  g_assert_cmpstr (out->before_label, ==, "L9"); /* digits as numbers */
  g_assert_cmpstr (out->after_label, ==, "L10");
  assert_near (effect_at (out, 0)->difference, 2.0, 1e-12);
}

static void
test_refused (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  gint64 p1, p2, lever;
  const struct { InsightCompareAsk ask; int code; } cases[] = {
    { { .from = 2, .to = 1 }, INSIGHT_ERROR_ROUND },   { { .from = 1, .to = 1 }, INSIGHT_ERROR_ROUND },
    { { .from = 1, .to = 4711 }, INSIGHT_ERROR_ROUND }, { { .round = 2 }, INSIGHT_ERROR_GROUPS },
    { { .round = 2, .part = 4711 }, INSIGHT_ERROR_GROUPS }, { { .round = 2, .part = 3 }, INSIGHT_ERROR_GROUPS },
  };

  pair_plan (&pair);
  add_values (f, pair.p1, pair.play, before, 5);
  add_values (f, pair.p2, pair.play, after, 5);
  fixture_finish (f);
  p1 = f->e->rounds[pair.p1].id;
  p2 = f->e->rounds[pair.p2].id;
  lever = f->e->parts[pair.lever].id;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      InsightCompareAsk ask = cases[i].ask;

      ask.today = "2027-01-01";
      ask.from = ask.from == 1 ? p1 : ask.from == 2 ? p2 : ask.from;
      ask.to = ask.to == 1 ? p1 : ask.to;
      ask.round = ask.round == 2 ? p2 : 0;
      ask.part = ask.part == 3 ? lever : ask.part;
      g_assert_null (insight_compare (f->e, &ask, NULL, &error));
      g_assert_error (error, INSIGHT_ERROR, cases[i].code);
    }
}

static void
test_three_groups (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(GError) error = NULL;
  int first = split_units (&pair, before, after, 5), c = fixture_revision (f, pair.lever, "C", "2026-03-01");
  InsightCompareAsk ask = { .today = "2027-01-01" };

  f->e->unit_parts[9].revision = c;
  g_assert_cmpint (f->e->unit_parts[9].unit, ==, first + 9);
  fixture_finish (f);
  ask.round = f->e->rounds[pair.p2].id;
  g_assert_null (insight_compare (f->e, &ask, NULL, &error));
  g_assert_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS);
  g_assert_nonnull (strstr (error->message, "A, B, C"));
}

static void
test_nothing_built_yet (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  add_values (f, pair.p1, pair.play, before, 5);
  out = rounds_compared (f, pair.p1, pair.p2);
  g_assert_cmpuint (difference_at (out, 0)->after.n_built, ==, 0);
  g_assert_cmpstr (difference_at (out, 0)->after.planned[0].label, ==, "B");
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (effect_at (out, 0)->after.n, ==, 0);
  g_assert_true (isnan (effect_at (out, 0)->difference));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/compare/two-rounds-differ-by-welch", test_across_rounds);
  g_test_add_func ("/insight/compare/a-split-round-is-preferred-and-may-be-put-down-to-the-change", test_split_is_preferred);
  g_test_add_func ("/insight/compare/a-split-in-order-of-build-is-said", test_order_of_build_is_said);
  g_test_add_func ("/insight/compare/what-else-differs-keeps-it-from-being-put-down-to-the-change", test_what_else_differs_is_named);
  g_test_add_func ("/insight/compare/a-change-beside-a-split-is-compared-between-units-alike-in-it", test_change_beside_a_split);
  g_test_add_func ("/insight/compare/a-revision-fitted-without-a-change-is-named", test_fitted_without_a_change);
  g_test_add_func ("/insight/compare/a-withdrawn-change-does-not-account-for-what-was-fitted", test_withdrawn_but_fitted);
  g_test_add_func ("/insight/compare/a-change-agreed-after-it-was-built-is-told", test_written_after_the_fact);
  g_test_add_func ("/insight/compare/a-withdrawn-change-accounts-for-going-back", test_going_back_on_a_withdrawn_change);
  g_test_add_func ("/insight/compare/what-was-planned-and-not-fitted-is-no-difference-but-told", test_planned_but_not_fitted);
  g_test_add_func ("/insight/compare/another-gauge-keeps-it-from-being-put-down-to-the-change", test_other_gauge);
  g_test_add_func ("/insight/compare/excused-voided-altered-and-retested-units-are-named", test_who_is_left_out);
  g_test_add_func ("/insight/compare/only-characteristics-that-depend-on-a-change-are-compared", test_what_it_depends_on);
  g_test_add_func ("/insight/compare/too-few-units-have-no-interval", test_too_few);
  g_test_add_func ("/insight/compare/a-split-of-three-and-three-cannot-tell", test_too_few_arrangements);
  g_test_add_func ("/insight/compare/values-that-do-not-vary-have-no-interval", test_equal_values);
  g_test_add_func ("/insight/compare/settings-and-limits-are-compared", test_setting_and_limit);
  g_test_add_func ("/insight/compare/a-change-that-names-value-and-limits-accounts-for-them", test_items_account);
  g_test_add_func ("/insight/compare/what-was-carried-over-and-differs-is-doubted", test_carried_over);
  g_test_add_func ("/insight/compare/checks-differ-by-their-failed-shares", test_checks);
  g_test_add_func ("/insight/compare/bounds-are-compared-by-the-share-outside", test_bounds_and_older_checks);
  g_test_add_func ("/insight/compare/all-comparisons-are-adjusted-together", test_holm);
  g_test_add_func ("/insight/compare/two-groups-of-one-round", test_groups_of_one_round);
  g_test_add_func ("/insight/compare/two-lots-of-one-round", test_groups_by_lot);
  g_test_add_func ("/insight/compare/what-cannot-be-compared-is-refused", test_refused);
  g_test_add_func ("/insight/compare/of-three-groups-two-are-named", test_three_groups);
  g_test_add_func ("/insight/compare/a-round-not-built-yet-shows-its-plan", test_nothing_built_yet);
  return g_test_run ();
}
