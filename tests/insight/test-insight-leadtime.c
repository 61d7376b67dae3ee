/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where the days went, on few records. Days are counted on a calendar of 2026, in which 5 January is a Monday;
 * tests/batch/test-leadtime.py holds many more against Python's calendar, and medians against R's survfit.
 */
#include "config.h"

#include "evidence-fixture.h"
#include "insight-leadtime.h"

#include <math.h>

static InsightLeadtime *
leadtime_of (Fixture *f, gint64 through, const char *today, const BookEvidence *other)
{
  const InsightSpan span = { through, today };
  g_autoptr(GError) error = NULL;
  InsightLeadtime *leadtime;

  fixture_finish (f);
  leadtime = insight_leadtime (f->e, &other, other != NULL ? 1 : 0, &span, &error);
  g_assert_no_error (error);
  return leadtime;
}

/* Every day is worked, so that days are those of the calendar. */
static void
work_always (Fixture *f)
{
  for (guint i = 0; i < 7; i++)
    f->e->week[i] = 8.0;
}

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

/* 15, 25 January, 4, 14 February end the phases; of the days of making, 20 and 21 January were waited. */
static void
test_phases (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  g_autoptr(InsightLeadtime) leadtime = NULL;
  const InsightRoundDays *days;

  fixture_wait (f, round, BOOK_WAIT_DELIVERY, -1, "2026-01-19", "2026-01-21");
  leadtime = leadtime_of (f, 0, "2026-06-01", NULL);
  days = &leadtime->rounds[0];
  g_assert_cmpfloat (days->days[INSIGHT_PHASE_DESIGN], ==, 8.0);
  g_assert_cmpfloat (days->days[INSIGHT_PHASE_WAIT], ==, 2.0);
  g_assert_cmpfloat (days->days[INSIGHT_PHASE_MAKE], ==, 4.0);
  g_assert_cmpfloat (days->days[INSIGHT_PHASE_TEST], ==, 8.0);
  g_assert_cmpfloat (days->days[INSIGHT_PHASE_DECIDE], ==, 7.0);
  g_assert_cmpfloat (leadtime->total, ==, 29.0);
  g_assert_cmpfloat_with_epsilon (leadtime->largest_share, 8.0 / 29.0, 1e-12);
  g_assert_cmpuint (leadtime->decided, ==, 1);
  g_assert_cmpfloat (leadtime->rounds_spread.least, ==, 29.0);
  g_assert_cmpfloat (leadtime->rounds_spread.most, ==, 29.0);
  g_assert_true (isnan (leadtime->rounds_spread.interval.low));
  g_assert_true (isnan (leadtime->next));
  g_assert_cmpuint (leadtime->n_open, ==, 0);
}

static void
test_open (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", FALSE);
  int issue = fixture_issue (f, -1), closed = fixture_issue (f, -1), later = fixture_issue (f, -1);
  g_autoptr(InsightLeadtime) leadtime = NULL;

  f->e->issues[issue].found = f->e->issues[closed].found = day ("2026-01-30");
  f->e->issues[closed].closed = day ("2026-02-02");
  f->e->issues[later].found = day ("2026-02-12");
  fixture_wait (f, round, BOOK_WAIT_DELIVERY, -1, "2026-02-09", NULL);
  fixture_wait (f, round, BOOK_WAIT_DELIVERY, -1, "2026-01-12", "2026-01-13");
  leadtime = leadtime_of (f, 0, "2026-02-11", NULL);
  g_assert_cmpuint (leadtime->n_open, ==, 3);
  g_assert_cmpint (leadtime->open[0].kind, ==, INSIGHT_OPEN_ISSUE);
  g_assert_cmpfloat (leadtime->open[0].days, ==, 8.0);
  g_assert_cmpint (leadtime->open[1].kind, ==, INSIGHT_OPEN_ROUND);
  g_assert_cmpint (leadtime->open[1].phase, ==, INSIGHT_PHASE_DECIDE);
  g_assert_cmpstr (leadtime->open[1].since, ==, "2026-02-04");
  g_assert_cmpfloat (leadtime->open[1].days, ==, 5.0);
  g_assert_cmpint (leadtime->open[2].kind, ==, INSIGHT_OPEN_WAIT);
  g_assert_cmpfloat (leadtime->open[2].days, ==, 2.0);
  g_assert_cmpint (leadtime->open[2].round, ==, f->e->rounds[round].id);
}

/* What ended after the span had not ended in it. */
static void
test_span (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int first = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  int second = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-02-16", TRUE);
  int slow = fixture_supplier (f, "Slow"), quick = fixture_supplier (f, "Quick"), unasked = fixture_supplier (f, "Unasked");
  g_autoptr(InsightLeadtime) all = NULL, one = NULL;
  const InsightWaitGroup *groups;

  g_assert_cmpint (unasked, >, quick);
  fixture_wait (f, first, BOOK_WAIT_DELIVERY, quick, "2026-01-05", "2026-01-06");
  fixture_wait (f, first, BOOK_WAIT_DELIVERY, slow, "2026-01-05", "2026-01-08");
  fixture_wait (f, second, BOOK_WAIT_OTHER, quick, "2026-02-16", "2026-03-02");
  all = leadtime_of (f, 0, "2026-06-01", NULL);
  one = leadtime_of (f, f->e->rounds[first].id, "2026-06-01", NULL);
  g_assert_cmpuint (all->n_rounds, ==, 2);
  g_assert_cmpuint (all->by_supplier->len, ==, 2);
  groups = &g_array_index (all->by_supplier, InsightWaitGroup, 0);
  g_assert_cmpstr (groups[0].name, ==, "Quick"); /* 1 day and 10 */
  g_assert_cmpfloat (groups[0].spread.sum, ==, 11.0);
  g_assert_cmpfloat (groups[0].spread.least, ==, 1.0);
  g_assert_cmpfloat (groups[0].spread.most, ==, 10.0);
  g_assert_cmpuint (all->by_reason->len, ==, 2);
  g_assert_cmpuint (one->n_rounds, ==, 1);
  g_assert_cmpuint (one->n_waits, ==, 2);
  groups = &g_array_index (one->by_supplier, InsightWaitGroup, 0);
  g_assert_cmpstr (groups[0].name, ==, "Slow"); /* 3 days against 1 */
  g_assert_cmpfloat (one->rounds[0].days[INSIGHT_PHASE_WAIT], ==, 3.0); /* days of both count once */
}

static void
add_issue (Fixture *f, guint days, BookIssueOutcome outcome)
{
  int added = fixture_issue (f, -1); /* moves the array */
  BookEvidenceIssue *issue = &f->e->issues[added];

  issue->found = day ("2026-03-02");
  issue->closed = outcome != 0 ? issue->found + (BookDay) days : 0;
  issue->outcome = outcome;
}

/*
 * All ten were followed to the same day, so that the share solved is plainly four in ten and no half was ever solved;
 * to take the duplicates as unfinished gives a median of six days.
 */
static void
test_competing (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightLeadtime) leadtime = NULL;

  work_always (f);
  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  for (guint i = 0; i < 3; i++)
    add_issue (f, 2, BOOK_OUTCOME_PROVEN);
  for (guint i = 0; i < 4; i++)
    add_issue (f, 4, BOOK_OUTCOME_DUPLICATE);
  add_issue (f, 6, BOOK_OUTCOME_PROVEN);
  add_issue (f, 0, 0);
  add_issue (f, 0, 0);
  leadtime = leadtime_of (f, 0, "2026-04-01", NULL);
  g_assert_cmpuint (leadtime->stages[INSIGHT_STAGE_CLOSED].n, ==, 10);
  g_assert_cmpuint (leadtime->stages[INSIGHT_STAGE_CLOSED].ended, ==, 4);
  g_assert_true (isnan (leadtime->stages[INSIGHT_STAGE_CLOSED].median));
  g_assert_cmpfloat_with_epsilon (leadtime->other_ends, 0.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (leadtime->solved_share, 0.4, 1e-12);
}

static void
test_same_day (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightLeadtime) leadtime = NULL;

  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  add_issue (f, 0, BOOK_OUTCOME_PROVEN);
  leadtime = leadtime_of (f, 0, "2026-04-01", NULL);
  g_assert_cmpfloat (leadtime->stages[INSIGHT_STAGE_CLOSED].median, ==, 0.5);
  g_assert_true (isnan (leadtime->solved_share));
}

/* A model is earlier by its first round, whatever it is called. */
static void
test_earlier (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(Fixture) other = fixture_new ();
  g_autoptr(InsightLeadtime) leadtime = NULL, reverse = NULL;

  fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-02-16", TRUE);
  other->e->model_id = 78;
  other->e->code = "N";
  fixture_round (other, "A", BOOK_ROUND_PROTOTYPE, "2026-01-05", TRUE);
  fixture_round (other, "B", BOOK_ROUND_PROTOTYPE, "2026-03-02", FALSE);
  fixture_finish (other);
  leadtime = leadtime_of (f, 0, "2026-04-02", other->e);
  g_assert_cmpuint (leadtime->n_earlier, ==, 1);
  g_assert_cmpstr (leadtime->earlier[0].code, ==, "N");
  g_assert_cmpuint (leadtime->earlier[0].n_rounds, ==, 2);
  g_assert_cmpfloat (leadtime->earlier[0].rounds[0].total, ==, 29.0);
  g_assert_true (leadtime->earlier[0].open);
  reverse = leadtime_of (other, 0, "2026-04-02", f->e);
  g_assert_cmpuint (reverse->n_earlier, ==, 0);
}

static void
test_empty (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightLeadtime) leadtime = leadtime_of (f, 0, "2026-04-02", NULL);

  g_assert_cmpuint (leadtime->n_rounds, ==, 0);
  g_assert_cmpfloat (leadtime->total, ==, 0.0);
  g_assert_true (isnan (leadtime->largest_share));
  g_assert_true (isnan (leadtime->rounds_spread.median));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/leadtime/days-go-to-phases-less-the-waits-in-them", test_phases);
  g_test_add_func ("/insight/leadtime/open-ones-are-told-longest-first", test_open);
  g_test_add_func ("/insight/leadtime/speaks-about-the-span-alone", test_span);
  g_test_add_func ("/insight/leadtime/other-ends-of-issues-are-no-fix-to-come", test_competing);
  g_test_add_func ("/insight/leadtime/closed-on-the-day-found-is-half-a-day", test_same_day);
  g_test_add_func ("/insight/leadtime/earlier-models-began-before", test_earlier);
  g_test_add_func ("/insight/leadtime/no-round-gives-no-figures", test_empty);
  return g_test_run ();
}
