/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A unit as it was built, against its plan, and the units of a lot. The rules are the program's own (see DEVELOPERS.md);
 * what is expected follows from them.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-as-built.h"

/* A lever of revisions A and B, a spring in two lots; four units planned with B and lot 1, the third built with A. */
typedef struct
{
  Fixture *f;
  int      round, lever, spring, a, b, lot1, lot2, c, d, issue, first;
} Bench;

static void
bench_up (Bench *bench)
{
  Fixture *f = bench->f = fixture_new ();

  bench->round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", FALSE);
  bench->lever = fixture_part (f, "LEVER");
  bench->spring = fixture_part (f, "SPRING");
  bench->a = fixture_revision (f, bench->lever, "A", "2025-12-01");
  bench->b = fixture_revision (f, bench->lever, "B", "2025-12-20");
  bench->lot1 = fixture_lot (f, bench->spring, "1");
  bench->lot2 = fixture_lot (f, bench->spring, "2");
  fixture_plan (f, bench->round, bench->lever, bench->b, -1, "");
  fixture_plan (f, bench->round, bench->spring, -1, bench->lot1, "");
  bench->c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  bench->d = fixture_checked (f, "FIT", BOOK_CLASS_FUNCTION);
  bench->issue = fixture_issue (f, bench->c);
  bench->first = fixture_units (f, bench->round, 4);
  fixture_unit_part (f, bench->first + 2, bench->lever, bench->a, -1);
  fixture_unit_part (f, bench->first + 3, bench->spring, -1, bench->lot2);
}

static InsightAsBuilt *
built_of (Bench *bench, int unit)
{
  InsightAsBuilt *built = insight_as_built (bench->f->e, bench->f->e->units[bench->first + unit].id);

  g_assert_nonnull (built);
  return built;
}

static const InsightBuiltPart *
part_of (const InsightAsBuilt *built, guint i)
{
  g_assert_cmpuint (i, <, built->parts->len);
  return g_ptr_array_index (built->parts, i);
}

static void
test_as_planned (void)
{
  g_autoptr(InsightAsBuilt) built = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  fixture_finish (f);
  built = built_of (&bench, 0);
  g_assert_cmpuint (built->parts->len, ==, 2);
  g_assert_cmpstr (part_of (built, 0)->revision, ==, "B");
  g_assert_cmpstr (part_of (built, 1)->lot, ==, "1");
  g_assert_false (part_of (built, 0)->differs);
  g_assert_false (part_of (built, 1)->differs);
  g_assert_cmpstr (built->round, ==, "P1");
  g_assert_cmpint (built->altered, ==, -1);
  g_assert_cmpint (built->aside, ==, -1);
  g_assert_null (insight_as_built (f->e, 1)); /* no such unit */
}

static void
test_differs (void)
{
  g_autoptr(InsightAsBuilt) third = NULL, fourth = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  fixture_finish (f);
  third = built_of (&bench, 2);
  g_assert_cmpstr (part_of (third, 0)->revision, ==, "A");
  g_assert_cmpstr (part_of (third, 0)->planned_revision, ==, "B");
  g_assert_true (part_of (third, 0)->differs);
  g_assert_false (part_of (third, 1)->differs);
  fourth = built_of (&bench, 3);
  g_assert_false (part_of (fourth, 0)->differs);
  g_assert_cmpstr (part_of (fourth, 1)->lot, ==, "2");
  g_assert_cmpstr (part_of (fourth, 1)->planned_lot, ==, "1");
  g_assert_true (part_of (fourth, 1)->differs);
}

/* Readings after an alteration count only for what the change that answers its issue is carried over for. */
static void
test_altered (void)
{
  g_autoptr(InsightAsBuilt) built = NULL;
  g_autoptr(Fixture) f = NULL;
  Bench bench;
  int by, change;

  bench_up (&bench);
  f = bench.f;
  by = fixture_person (f, "EH", BOOK_ROLE_LEAD);
  fixture_event (f, bench.first, BOOK_EVENT_ALTERED, "2026-02-10", -1, bench.issue);
  fixture_event (f, bench.first, BOOK_EVENT_SET_ASIDE, "2026-02-12", -1, -1);
  fixture_finding (f, bench.issue, bench.first, BOOK_DISPOSITION_REWORK, TRUE, "2026-02-10");
  change = fixture_change (f, "2026-02-09");
  fixture_change_issue (f, change, bench.issue);
  fixture_carry (f, change, bench.d, by, -1);
  fixture_finish (f);
  built = built_of (&bench, 0);
  g_assert_cmpint (built->altered, ==, 0);
  g_assert_cmpint (built->aside, ==, 1);
  g_assert_cmpuint (built->events->len, ==, 2);
  g_assert_cmpstr (((InsightBuiltEvent *) built->events->pdata[0])->date, ==, "2026-02-10");
  g_assert_cmpint (((InsightBuiltEvent *) built->events->pdata[0])->issue, ==, f->e->issues[bench.issue].id);
  g_assert_cmpuint (g_strv_length (built->kept), ==, 1);
  g_assert_cmpstr (built->kept[0], ==, "FIT");
  g_assert_cmpuint (built->findings->len, ==, 1);
  g_assert_true (((InsightBuiltFinding *) built->findings->pdata[0])->excused);
}

static void
check_holders (Bench *bench, gint64 lot, gint64 revision, const char *expected)
{
  g_autoptr(GPtrArray) holders = insight_holders (bench->f->e, lot, revision);
  g_autoptr(GString) serials = g_string_new (NULL);

  for (guint i = 0; i < holders->len; i++)
    {
      const InsightHolder *holder = g_ptr_array_index (holders, i);

      g_string_append_printf (serials, "%s%s%s", i > 0 ? " " : "", holder->serial, holder->is_planned ? "" : "!");
    }
  g_assert_cmpstr (serials->str, ==, expected);
}

static void
test_holders (void)
{
  g_autoptr(Fixture) f = NULL;
  Bench bench;

  bench_up (&bench);
  f = bench.f;
  fixture_finish (f);
  check_holders (&bench, f->e->lots[bench.lot1].id, 0, "P1-001 P1-002 P1-003");
  check_holders (&bench, f->e->lots[bench.lot2].id, 0, "P1-004!");
  check_holders (&bench, 0, f->e->revisions[bench.a].id, "P1-003!");
  check_holders (&bench, 0, f->e->revisions[bench.b].id, "P1-001 P1-002 P1-004");
  check_holders (&bench, 1, 0, "");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/as-built/follows-the-plan", test_as_planned);
  g_test_add_func ("/insight/as-built/differs-from-the-plan", test_differs);
  g_test_add_func ("/insight/as-built/is-another-state-once-altered", test_altered);
  g_test_add_func ("/insight/as-built/a-lot-finds-its-units", test_holders);
  return g_test_run ();
}
