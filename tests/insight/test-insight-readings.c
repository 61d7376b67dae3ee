/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single values, capability, how values lie, and the wall: which units they take. */
#include "config.h"
#include "evidence-fixture.h"

#include "insight-capability.h"
#include "insight-individuals.h"
#include "insight-wall.h"

static InsightSeries *
series_of (Fixture *f, int characteristic)
{
  InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GError) error = NULL;
  InsightSeries *series;

  fixture_finish (f);
  series = insight_series (f->e, f->e->characteristics[characteristic].id, &span, NULL, &error);
  g_assert_no_error (error);
  return series;
}

/* Two rounds of another state each: @n units of 10.0, 10.2, 10.0 and so on in the newer one. */
static int
two_states (Fixture *f, guint n, int *newer)
{
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  int p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-01", FALSE);
  int part = fixture_part (f, "LEVER"), c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL), older;

  fixture_plan (f, p1, part, fixture_revision (f, part, "A", "2026-01-01"), -1, "");
  fixture_plan (f, p2, part, fixture_revision (f, part, "B", "2026-02-15"), -1, "");
  older = fixture_units (f, p1, 3);
  *newer = fixture_units (f, p2, n);
  fixture_limit (f, c, "2026-01-01", 9.0, 11.0);
  for (guint i = 0; i < 3; i++)
    fixture_value (f, older + (int) i, c, 50.0);
  for (guint i = 0; i < n; i++)
    fixture_value (f, *newer + (int) i, c, i % 2 == 0 ? 10.0 : 10.2);
  return c;
}

/* Every neighbour differs by 0.2: limits are the mean +- 3 times 0.2 sqrt(pi)/2. */
static void
test_only_what_counts (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int newer, c = two_states (f, 20, &newer), wrong;
  g_autoptr(InsightSeries) series = NULL;
  g_autoptr(InsightIndividuals) found = NULL;

  wrong = fixture_reading (f, newer, c, 1, 2, BOOK_MARK_MEASURED, 99.0, "2026-03-21");
  f->e->readings[wrong].voided = TRUE;
  fixture_reading (f, newer + 1, c, 2, 1, BOOK_MARK_MEASURED, 77.0, "2026-03-25"); /* after rework */
  series = series_of (f, c);
  found = insight_individuals (series, INSIGHT_RULES_ALL);
  g_assert_cmpint (found->state, ==, INSIGHT_INDIVIDUALS_DRAWN);
  g_assert_cmpuint (found->n, ==, 20);
  g_assert_false (found->so_far);
  assert_near (found->centre, 10.1, 1e-12);
  assert_near (found->upper, 10.1 + 3.0 * 0.2 * sqrt (G_PI) / 2.0, 1e-12);
  assert_near (found->lower, 10.1 - 3.0 * 0.2 * sqrt (G_PI) / 2.0, 1e-12);
  g_assert_cmpuint (found->n_signals, ==, 0);
}

static void
test_signal_names_its_mark (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int newer, c = two_states (f, 20, &newer), far;
  g_autoptr(InsightSeries) series = NULL;
  g_autoptr(InsightIndividuals) found = NULL;

  far = fixture_unit (f, 1, "P2-900");
  fixture_value (f, far, c, 15.0);
  series = series_of (f, c);
  found = insight_individuals (series, INSIGHT_RULE_ONE);
  g_assert_cmpuint (found->n_signals, ==, 1);
  g_assert_cmpuint (found->signals[0].rule, ==, 1);
  g_assert_cmpfloat (series->marks[found->signals[0].mark].value, ==, 15.0);
}

static void
test_no_limits_of_nothing (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int newer, c = two_states (f, 1, &newer), check = fixture_checked (f, "HOLDS", BOOK_CLASS_FUNCTION);
  g_autoptr(InsightSeries) one = NULL, checked = NULL;
  g_autoptr(InsightIndividuals) few = NULL, none = NULL;

  fixture_check (f, newer, check, TRUE);
  one = series_of (f, c);
  checked = series_of (f, check);
  few = insight_individuals (one, INSIGHT_RULE_ONE);
  none = insight_individuals (checked, INSIGHT_RULE_ONE);
  g_assert_cmpint (few->state, ==, INSIGHT_INDIVIDUALS_TOO_FEW);
  g_assert_true (isnan (few->lower) && isnan (few->upper));
  g_assert_cmpint (none->state, ==, INSIGHT_INDIVIDUALS_CHECKED);
  g_assert_cmpint (insight_capability (checked).state, ==, INSIGHT_CAPABILITY_CHECKED);
}

static void
test_capability_only_where_it_means_something (void)
{
  const struct
  {
    guint n;
    BookShape shape;
    gboolean limited, above;
    InsightCapabilityState state;
  } cases[] = { { 30, BOOK_SHAPE_NORMAL, TRUE, FALSE, INSIGHT_CAPABILITY_GIVEN },
                { 29, BOOK_SHAPE_NORMAL, TRUE, FALSE, INSIGHT_CAPABILITY_TOO_FEW },
                { 40, BOOK_SHAPE_UNKNOWN, TRUE, FALSE, INSIGHT_CAPABILITY_SHAPE },
                { 40, BOOK_SHAPE_LOG_NORMAL, TRUE, FALSE, INSIGHT_CAPABILITY_SHAPE },
                { 40, BOOK_SHAPE_NORMAL, FALSE, FALSE, INSIGHT_CAPABILITY_NO_LIMITS },
                { 40, BOOK_SHAPE_NORMAL, TRUE, TRUE, INSIGHT_CAPABILITY_LEFT_OUT } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(Fixture) f = fixture_new ();
      int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
      int c = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, cases[i].shape), first = fixture_units (f, p1, cases[i].n);
      g_autoptr(InsightSeries) series = NULL;

      if (cases[i].limited)
        fixture_limit (f, c, "2026-01-01", 9.0, 11.0);
      for (guint u = 0; u < cases[i].n; u++)
        fixture_reading (f, first + (int) u, c, 1, 1, cases[i].above && u == 5 ? BOOK_MARK_ABOVE : BOOK_MARK_MEASURED,
                         10.0 + 0.1 * (u % 3), "2026-01-25");
      series = series_of (f, c);
      g_assert_cmpint (insight_capability (series).state, ==, cases[i].state);
      g_assert_true ((cases[i].state == INSIGHT_CAPABILITY_GIVEN) == isfinite (insight_capability (series).ppk));
    }
}

static void
test_spread_of_every_round (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int newer, c = two_states (f, 20, &newer);
  g_autoptr(InsightSeries) series = series_of (f, c);
  g_autofree InsightSpread5 *spreads = insight_spreads (series);

  g_assert_cmpuint (spreads[0].n, ==, 3);
  g_assert_cmpfloat (spreads[0].median, ==, 50.0);
  g_assert_cmpuint (spreads[1].n, ==, 20);
  g_assert_cmpfloat (spreads[1].least, ==, 10.0);
  g_assert_cmpfloat (spreads[1].most, ==, 10.2);
}

static void
test_worst_first (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE), first = fixture_units (f, p1, 40);
  const char *const codes[] = { "NONE", "FEW", "FAR", "NEAR", "ONE", "HALF", "HOLDS" };
  const char *const expected[] = { "HALF", "ONE", "NEAR", "FAR", "HOLDS", "FEW", "NONE" };
  InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightWall) wall = NULL;
  int c[G_N_ELEMENTS (codes)];

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      c[i] = i == 6 ? fixture_checked (f, codes[i], BOOK_CLASS_FUNCTION)
                    : fixture_measured (f, codes[i], BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
      if (i < 6)
        fixture_limit (f, c[i], "2026-01-01", i == 2 ? -90.0 : 9.0, i == 2 ? 110.0 : 11.0);
    }
  for (int u = 0; u < 40; u++)
    {
      double value = 10.0 + 0.1 * (u % 3);

      if (u < 2)
        fixture_value (f, first + u, c[1], value);
      fixture_value (f, first + u, c[2], value);
      fixture_value (f, first + u, c[3], value);
      fixture_value (f, first + u, c[4], u == 7 ? 12.0 : value);
      if (u < 8)
        fixture_value (f, first + u, c[5], u % 2 == 0 ? 12.0 : value);
      fixture_check (f, first + u, c[6], TRUE);
    }
  fixture_finish (f);
  wall = insight_wall (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (wall->n_items, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < wall->n_items; i++)
    g_assert_cmpstr (wall->items[i].series->code, ==, expected[i]);
  g_assert_cmpuint (wall->counts[INSIGHT_WALL_FAILS], ==, 2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/readings/limits-come-from-what-counts", test_only_what_counts);
  g_test_add_func ("/insight/readings/a-signal-names-its-mark", test_signal_names_its_mark);
  g_test_add_func ("/insight/readings/one-value-and-checks-have-no-limits", test_no_limits_of_nothing);
  g_test_add_func ("/insight/readings/capability-only-where-it-means-something", test_capability_only_where_it_means_something);
  g_test_add_func ("/insight/readings/how-the-values-of-every-round-lie", test_spread_of_every_round);
  g_test_add_func ("/insight/readings/the-worst-characteristic-stands-first", test_worst_first);
  return g_test_run ();
}
