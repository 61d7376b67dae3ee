/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two rounds, or two groups of one: what differs, and which changes account for it. */
#include "config.h"
#include "compare-pair.h"

#include <string.h>

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
  f->e->change_issues = g_new0 (BookEvidenceChangeIssue, 1);
  f->e->change_issues[0] = (BookEvidenceChangeIssue){ pair.change, fixture_issue (f, pair.play) };
  f->e->n_change_issues = 1;
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);

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

static void
test_fitted_without_a_change (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED_PARTLY);
  g_assert_cmpstr (((InsightCompareChange *) out->changes->pdata[0])->withdrawn, ==, "2026-02-13");
}

static void
test_written_after_the_fact (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-03-25"); /* P2 was built on 2026-03-21 */
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  first = fixture_units (f, pair.p2, 5);
  for (int i = 0; i < 5; i++)
    {
      fixture_unit_part (f, first + i, pair.lever, pair.a, -1); /* the old lever went in again */
      fixture_value (f, first + i, pair.play, pair_after[i]);
    }
  out = pair_compare (&pair);
  g_assert_cmpuint (difference_at (out, 0)->off_plan, ==, 5);
  g_assert_cmpstr (difference_at (out, 0)->after.built[0].label, ==, "A");
  g_assert_cmpstr (difference_at (out, 0)->after.planned[0].label, ==, "B");
  g_assert_cmpuint (out->effects->len, ==, 0); /* nothing differs in fact */
  g_assert_cmpstr (out->untouched[0], ==, "PLAY");
  g_assert_cmpuint (out->unseen->len, ==, 1);
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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);

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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
  out = pair_compare (&pair);
  g_assert_cmpuint (out->differences->len, ==, 2);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpint (difference_at (out, 1)->explained, ==, INSIGHT_EXPLAINED);
  g_assert_cmpuint (out->changes->len, ==, 1);

  f->e->items[0].value = 840.0; /* the figure decides, not the words */
  insight_comparison_free (out);
  out = fixture_compare (f, (InsightCompareAsk){ .from = f->e->rounds[pair.p1].id, .to = f->e->rounds[pair.p2].id });
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED_NOT);
}

static void
test_groups_of_one_round (void)
{
  Pair pair = pair_new ();
  g_autoptr(Fixture) f = pair.f;
  g_autoptr(InsightComparison) out = NULL;
  g_autoptr(InsightComparison) named = NULL;

  pair_change (&pair, "2026-02-10");
  pair_split (&pair, pair_before, pair_after, 5);
  fixture_finish (f);
  out = fixture_compare (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id });
  g_assert_true (out->within);
  g_assert_cmpstr (out->before_label, ==, "A");
  g_assert_cmpstr (out->after_label, ==, "B");
  g_assert_cmpstr (out->divided_by, ==, "LEVER LEVER");
  g_assert_true (difference_at (out, 0)->divides);
  g_assert_cmpint (difference_at (out, 0)->explained, ==, INSIGHT_EXPLAINED);
  assert_near (effect_at (out, 0)->p, 0.01587301587, 1e-9);
  g_assert_true (effect_at (out, 0)->to_change);

  named = fixture_compare (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id, .part = f->e->parts[pair.lever].id,
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
      fixture_value (f, first + i, pair.play, i % 2 ? pair_before[i / 2] : pair_after[i / 2]);
    }
  fixture_finish (f);
  out = fixture_compare (f, (InsightCompareAsk){ .round = f->e->rounds[pair.p2].id, .part = f->e->parts[pair.lever].id });
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
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  pair_values (&pair, pair.p2, pair.play, pair_after, 5);
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
  int first = pair_split (&pair, pair_before, pair_after, 5), c = fixture_revision (f, pair.lever, "C", "2026-03-01");
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
  g_autoptr(Fixture) f G_GNUC_UNUSED = pair.f;
  g_autoptr(InsightComparison) out = NULL;

  pair_plan (&pair);
  pair_change (&pair, "2026-02-10");
  pair_values (&pair, pair.p1, pair.play, pair_before, 5);
  out = pair_compare (&pair);
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
  g_test_add_func ("/insight/compare/a-revision-fitted-without-a-change-is-named", test_fitted_without_a_change);
  g_test_add_func ("/insight/compare/a-withdrawn-change-does-not-account-for-what-was-fitted", test_withdrawn_but_fitted);
  g_test_add_func ("/insight/compare/a-change-agreed-after-it-was-built-is-told", test_written_after_the_fact);
  g_test_add_func ("/insight/compare/a-withdrawn-change-accounts-for-going-back", test_going_back_on_a_withdrawn_change);
  g_test_add_func ("/insight/compare/what-was-planned-and-not-fitted-is-no-difference-but-told", test_planned_but_not_fitted);
  g_test_add_func ("/insight/compare/settings-and-limits-are-compared", test_setting_and_limit);
  g_test_add_func ("/insight/compare/a-change-that-names-value-and-limits-accounts-for-them", test_items_account);
  g_test_add_func ("/insight/compare/two-groups-of-one-round", test_groups_of_one_round);
  g_test_add_func ("/insight/compare/two-lots-of-one-round", test_groups_by_lot);
  g_test_add_func ("/insight/compare/what-cannot-be-compared-is-refused", test_refused);
  g_test_add_func ("/insight/compare/of-three-groups-two-are-named", test_three_groups);
  g_test_add_func ("/insight/compare/a-round-not-built-yet-shows-its-plan", test_nothing_built_yet);
  return g_test_run ();
}
