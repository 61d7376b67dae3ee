/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counting at a step before units have serials: which round and step, today's counts, issues, and when it is refused. */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-tally.h"

#define TODAY     "2026-02-10"
#define YESTERDAY "2026-02-09"

typedef struct
{
  Fixture *f;
  int      mill, fit, old, round, stick, scratch, by, other;
} Shop;

static void
shop_up (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f = fixture_new ();
  int play = fixture_checked (f, "PLAY", BOOK_CLASS_FUNCTION);

  shop->by = fixture_person (f, "TK", BOOK_ROLE_MAKER);
  shop->other = fixture_person (f, "JS", BOOK_ROLE_MAKER);
  shop->mill = fixture_step (f, "Mill");
  shop->fit = fixture_step (f, "Fit");
  shop->old = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2025-10-01", TRUE);
  shop->round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-01-05", FALSE);
  shop->stick = fixture_issue (f, play);
  shop->scratch = fixture_issue (f, play);
}

static void
shop_down (Shop *shop, gconstpointer data)
{
  fixture_free (shop->f);
}

static InsightTally *
look (Shop *shop, int round, int step)
{
  BookEvidence *e = shop->f->e;

  return insight_tally (e, round >= 0 ? e->rounds[round].id : 0, step >= 0 ? e->steps[step].id : 0, e->persons[shop->by].id, TODAY);
}

/* A unit with a serial is milled: there nothing is tallied any more. */
static int
mill_one (Shop *shop)
{
  int unit = fixture_unit (shop->f, shop->round, "A-1");

  fixture_event (shop->f, unit, BOOK_EVENT_PASSED, TODAY, shop->mill, -1);
  return unit;
}

static int
tally_by (Shop *shop, int person, const char *date, int good, int reworked, int waiting, int scrapped)
{
  int tally = fixture_tally (shop->f, shop->mill, shop->round, date, good + reworked + waiting + scrapped, good, reworked, waiting, scrapped);

  shop->f->e->tallies[tally].person = shop->f->e->persons[person].id;
  return tally;
}

/* The newest round that runs, and the first step at which its units have no serials. */
static void
test_where_counting_begins (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightTally) tally = NULL;

  mill_one (shop);
  fixture_finish (shop->f);
  tally = look (shop, -1, -1);
  g_assert_cmpint (tally->state, ==, INSIGHT_TALLY_OPEN);
  g_assert_cmpint (tally->round, ==, shop->round);
  g_assert_cmpint (tally->step, ==, shop->fit);
}

static void
test_refusals (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightTally) serials = NULL, decided = NULL, altered = NULL, none = NULL, bare = NULL;

  fixture_event (f, mill_one (shop), BOOK_EVENT_ALTERED, TODAY, shop->fit, -1);
  fixture_finish (f);
  serials = look (shop, -1, shop->mill);
  g_assert_cmpint (serials->state, ==, INSIGHT_TALLY_SERIALS);
  altered = look (shop, -1, shop->fit); /* altering counts nothing */
  g_assert_cmpint (altered->state, ==, INSIGHT_TALLY_OPEN);
  decided = look (shop, shop->old, shop->fit);
  g_assert_cmpint (decided->state, ==, INSIGHT_TALLY_DECIDED);
  f->e->rounds[shop->round].decided = book_day_parse (YESTERDAY, NULL);
  none = look (shop, -1, -1);
  g_assert_cmpint (none->state, ==, INSIGHT_TALLY_NO_ROUND);
  f->e->rounds[shop->round].decided = 0;
  f->e->n_steps = 0;
  f->e->n_events = 0;
  bare = look (shop, -1, -1);
  g_assert_cmpint (bare->state, ==, INSIGHT_TALLY_NO_STEP);
}

/* Today's counts are those of all; what waits is of all days; the row is that of who counts. */
static void
test_counts (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightTally) tally = NULL, nobody = NULL;
  int mine;

  tally_by (shop, shop->by, YESTERDAY, 5, 0, 2, 0);
  mine = tally_by (shop, shop->by, TODAY, 10, 1, 1, 2);
  tally_by (shop, shop->other, TODAY, 3, 0, 0, 1);
  fixture_loss (f, mine, shop->stick, 1);
  fixture_finish (f);
  tally = look (shop, -1, shop->mill);
  g_assert_cmpuint (tally->good, ==, 13);
  g_assert_cmpuint (tally->reworked, ==, 1);
  g_assert_cmpuint (tally->waiting, ==, 1);
  g_assert_cmpuint (tally->scrapped, ==, 3);
  g_assert_cmpuint (tally->waiting_all, ==, 3);
  g_assert_cmpint (tally->row, ==, f->e->tallies[mine].id);
  g_assert_cmpuint (tally->unnamed, ==, 3); /* 1 + 1 + 2 less the one that is named */
  nobody = insight_tally (f->e, 0, f->e->steps[shop->mill].id, 0, TODAY);
  g_assert_cmpint (nobody->row, ==, 0);
  g_assert_cmpuint (nobody->good, ==, 13);
}

/* What is counted or raised today moves no issue: its place is the key that is hit without looking. */
static void
test_issues_stay (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightTally) tally = NULL;
  int early = tally_by (shop, shop->by, YESTERDAY, 5, 0, 1, 0), late = tally_by (shop, shop->by, TODAY, 5, 0, 9, 0);
  int raised = fixture_issue (f, 0);

  fixture_loss (f, early, shop->stick, 1);
  fixture_loss (f, late, shop->scratch, 5);
  fixture_loss (f, late, raised, 4);
  f->e->issues[raised].found = book_day_parse (TODAY, NULL);
  fixture_finish (f);
  tally = look (shop, -1, shop->mill);
  g_assert_cmpuint (tally->issues->len, ==, 3);
  g_assert_cmpint (g_array_index (tally->issues, InsightTallyIssue, 0).id, ==, f->e->issues[shop->stick].id);
  g_assert_cmpint (g_array_index (tally->issues, InsightTallyIssue, 1).id, ==, f->e->issues[shop->scratch].id);
  g_assert_cmpuint (g_array_index (tally->issues, InsightTallyIssue, 1).units, ==, 5);
  g_assert_cmpint (g_array_index (tally->issues, InsightTallyIssue, 2).id, ==, f->e->issues[raised].id);
}

/* Open issues, those that took most away at this step and round first, then the newest. */
static void
test_issues (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightTally) fresh = NULL, used = NULL, closed = NULL;
  int one;

  fixture_finish (f);
  fresh = look (shop, -1, shop->mill);
  g_assert_cmpuint (fresh->issues->len, ==, 2);
  g_assert_cmpint (g_array_index (fresh->issues, InsightTallyIssue, 0).id, ==, f->e->issues[shop->scratch].id);
  one = tally_by (shop, shop->by, YESTERDAY, 5, 0, 2, 0);
  fixture_loss (f, one, shop->stick, 2);
  fixture_finish (f);
  used = look (shop, -1, shop->mill);
  g_assert_cmpint (g_array_index (used->issues, InsightTallyIssue, 0).id, ==, f->e->issues[shop->stick].id);
  g_assert_cmpuint (g_array_index (used->issues, InsightTallyIssue, 0).units, ==, 2);
  f->e->issues[shop->stick].closed = book_day_parse (TODAY, NULL);
  closed = look (shop, -1, shop->mill);
  g_assert_cmpuint (closed->issues->len, ==, 1);
}

#define ADD(path, test) g_test_add ("/insight/tally/" path, Shop, NULL, shop_up, test, shop_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("where-counting-begins", test_where_counting_begins);
  ADD ("refusals", test_refusals);
  ADD ("counts-of-today", test_counts);
  ADD ("open-issues-by-what-they-took", test_issues);
  ADD ("what-is-counted-today-moves-no-issue", test_issues_stay);
  return g_test_run ();
}
