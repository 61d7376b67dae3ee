/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies at a bench in words: every state, one and many, with and without an issue, and never a person. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "present-bench.h"

static InsightBenchUnit
unit_in (InsightBenchState state)
{
  return (InsightBenchUnit){ .unit = 7,
                             .serial = "B-08",
                             .round = "B",
                             .state = state,
                             .step = state < INSIGHT_BENCH_AWAY ? 2 : -1,
                             .position = 70,
                             .step_name = "Inspect",
                             .here = state < INSIGHT_BENCH_AWAY,
                             .since = (char *) "2026-11-23",
                             .days = 2,
                             .issue_title = "",
                             .reason = "",
                             .found_at = "",
                             .wanted = g_array_new (FALSE, FALSE, sizeof (InsightBenchWanted)) };
}

static void
test_every_state_is_said (void)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (int s = 0; s < INSIGHT_N_BENCH_STATES; s++)
    {
      InsightBenchUnit unit = unit_in ((InsightBenchState) s);
      g_autofree char *stuck = present_bench_stuck (&unit);
      char *place = present_bench_place (&unit);

      g_assert_true (g_str_has_suffix (place, "."));
      g_assert_true (g_hash_table_add (seen, place)); /* no two states say the same */
      g_assert_cmpint (stuck != NULL, ==, s >= INSIGHT_BENCH_AWAY);
      g_array_unref (unit.wanted);
    }
}

static void
test_why_it_came_back (void)
{
  InsightBenchUnit unit = unit_in (INSIGHT_BENCH_BACK);
  char *place = present_bench_place (&unit);

  g_assert_cmpstr (place, ==, "It waits for step 70 Inspect since 2026-11-23, for 2 working days: came back.");
  g_free (place);
  unit.issue = 3;
  unit.issue_no = 2;
  unit.issue_title = "Lever sticks";
  unit.reason = "when cold";
  unit.found_at = "Inspect";
  unit.days = 1;
  place = present_bench_place (&unit);
  g_assert_cmpstr (place, ==, "It waits for step 70 Inspect since 2026-11-23, for 1 working day: came back: issue 2, Lever sticks: when cold. "
                              "It was found at 'Inspect'.");
  g_free (place);
  g_array_unref (unit.wanted);
}

static void
test_what_to_measure (void)
{
  InsightBenchUnit unit = unit_in (INSIGHT_BENCH_CAME);
  InsightBenchWanted wanted = { .code = "LE", .name = "Lock engagement", .kind = BOOK_CHARACTERISTIC_MEASURED, .unit = "mm",
                                .here = TRUE, .decimals = 2, .lower = 1.2, .upper = INFINITY };
  char *words = present_bench_wanted (&unit);

  g_assert_cmpstr (words, ==, "");
  g_free (words);
  g_array_append_val (unit.wanted, wanted);
  wanted.code = "LH";
  wanted.name = "Lock holds";
  wanted.kind = BOOK_CHARACTERISTIC_CHECKED;
  wanted.again = TRUE;
  g_array_append_val (unit.wanted, wanted);
  words = present_bench_wanted (&unit);
  g_assert_cmpstr (words, ==, "To be measured: LE Lock engagement, LH Lock holds (again).");
  g_free (words);
  words = present_bench_prompt (&wanted);
  g_assert_cmpstr (words, ==, "LH Lock holds: passed or failed");
  g_free (words);
  words = present_bench_prompt (&g_array_index (unit.wanted, InsightBenchWanted, 0));
  g_assert_nonnull (strstr (words, "1.20 mm"));
  g_free (words);
  words = present_bench_read (&wanted, "failed", TRUE);
  g_assert_cmpstr (words, ==, "▲ Stored, and it failed: LH failed.");
  g_free (words);
  g_array_unref (unit.wanted);
}

static InsightBench *
bench_of (guint n)
{
  InsightBench *bench = g_new0 (InsightBench, 1);

  bench->name = "Table";
  bench->units = g_ptr_array_new ();
  bench->waiting = g_array_new (FALSE, FALSE, sizeof (guint));
  bench->measure = g_array_new (FALSE, FALSE, sizeof (guint));
  bench->returns = g_ptr_array_new ();
  for (guint i = 0; i < n; i++)
    {
      InsightBenchUnit unit = unit_in (INSIGHT_BENCH_CAME);

      unit.since = g_strdup (unit.since);
      g_ptr_array_add (bench->units, g_memdup2 (&unit, sizeof unit));
      g_array_append_val (bench->waiting, i);
    }
  bench->longest = n > 0 ? 1 : 0;
  bench->n_wanted = n;
  return bench;
}

static void
bench_free (InsightBench *bench)
{
  for (guint i = 0; i < bench->units->len; i++)
    {
      InsightBenchUnit *unit = g_ptr_array_index (bench->units, i);

      g_free (unit->since);
      g_array_unref (unit->wanted);
      g_free (unit);
    }
  insight_bench_free (bench);
}

static void
assert_headline (guint n, gint64 key, const char *expected)
{
  InsightBench *bench = bench_of (n);
  g_autofree char *words = NULL;

  bench->bench = key;
  words = present_bench_headline (bench);
  g_assert_cmpstr (words, ==, expected);
  bench_free (bench);
}

static void
test_the_lead (void)
{
  assert_headline (0, 1, "The model has no units yet: add them to a round, and they wait here.");
  assert_headline (1, 1, "1 unit waits at 'Table'. The longest has waited for 1 working day. 1 reading is to be taken.");
  assert_headline (2, 0, "2 units wait at all benches. The longest has waited for 1 working day. 2 readings are to be taken.");
}

/* A table is no longer than a person can look through; how many were left out is said. */
static void
test_many (void)
{
  InsightBench *bench = bench_of (PRESENT_BENCH_MOST + 3);
  g_autoptr(PresentSheet) sheet = present_bench_waiting (bench);
  g_autofree char *more = present_bench_more (bench->waiting->len), *none = present_bench_more (PRESENT_BENCH_MOST);

  g_assert_cmpuint (sheet->rows->len, ==, PRESENT_BENCH_MOST);
  g_assert_cmpstr (more, ==, "3 more are not listed: they come up as these leave.");
  g_assert_cmpstr (none, ==, "");
  bench_free (bench);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/bench/every-state-is-said", test_every_state_is_said);
  g_test_add_func ("/present/bench/why-it-came-back", test_why_it_came_back);
  g_test_add_func ("/present/bench/what-to-measure", test_what_to_measure);
  g_test_add_func ("/present/bench/the-lead", test_the_lead);
  g_test_add_func ("/present/bench/a-table-of-many", test_many);
  return g_test_run ();
}
