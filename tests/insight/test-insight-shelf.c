/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A model among others: days, rate and open safety issues, worked out by hand. */
#include "config.h"

#include <math.h>

#include "evidence-fixture.h"
#include "insight-shelf.h"

static InsightShelf *
shelf_of (Fixture *f, const InsightStanding *standing)
{
  g_autoptr(GError) error = NULL;
  InsightShelf *shelf;

  fixture_finish (f);
  shelf = insight_shelf (f->e, standing, "2026-03-31", &error);
  g_assert_no_error (error);
  return shelf;
}

static void
test_empty (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  g_autoptr(InsightShelf) shelf = shelf_of (f, NULL);

  g_assert_false (shelf->known);
  g_assert_cmpuint (shelf->n_rounds, ==, 0);
  g_assert_cmpfloat (shelf->total, ==, 0.0);
  g_assert_false (shelf->open);
  g_assert_cmpuint (shelf->open_safety, ==, 0);
  g_assert_true (isnan (shelf->month));
  g_assert_true (isnan (shelf->interval.low));
}

static void
test_safety (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int lock = fixture_checked (f, "LH", BOOK_CLASS_SAFETY), look = fixture_checked (f, "RB", BOOK_CLASS_APPEARANCE);
  int open = fixture_issue (f, lock), closed = fixture_issue (f, lock), later = fixture_issue (f, lock), other = fixture_issue (f, look);
  g_autoptr(InsightShelf) shelf = NULL;

  f->e->issues[open].klass = f->e->issues[closed].klass = f->e->issues[later].klass = BOOK_CLASS_SAFETY;
  f->e->issues[other].klass = BOOK_CLASS_APPEARANCE;
  f->e->issues[closed].closed = book_day_parse ("2026-03-30", NULL);
  f->e->issues[later].closed = book_day_parse ("2026-04-01", NULL);
  shelf = shelf_of (f, NULL);
  g_assert_cmpuint (shelf->open_safety, ==, 2); /* what is closed tomorrow is open today */
}

/* 38 hours a week on one machine: 38 x 60 x 52/12 = 9880 minutes a month; 10 minutes a piece, nothing lost: 988. */
static void
test_rate (void)
{
  g_autoptr(Fixture) f = fixture_new ();
  int round = fixture_round (f, "A", BOOK_ROUND_PILOT, "2026-03-02", FALSE);
  int step = fixture_step (f, "Fit");
  g_autoptr(InsightShelf) shelf = NULL;

  f->e->steps[step].bench = fixture_bench (f, "Bench", 1, 1, 38, 1, 1);
  f->e->steps[step].cycle_min = 10;
  f->e->steps[step].setup_min = 0;
  fixture_tally (f, step, round, "2026-03-10", 20, 20, 0, 0, 0);
  shelf = shelf_of (f, NULL);
  g_assert_cmpstr (shelf->run, ==, "A");
  g_assert_cmpfloat_with_epsilon (shelf->month, 988.0, 1e-9);
  g_assert_true (isnan (shelf->interval.low)); /* one run day is too few */
  g_assert_true (shelf->open);
  g_assert_cmpuint (shelf->n_rounds, ==, 1);
  g_assert_cmpfloat_with_epsilon (shelf->total, shelf->rounds[0].total, 1e-12);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/shelf/a-model-without-anything-has-no-figures", test_empty);
  g_test_add_func ("/insight/shelf/counts-safety-issues-that-are-open-on-the-day", test_safety);
  g_test_add_func ("/insight/shelf/rate-is-that-of-the-newest-run", test_rate);
  return g_test_run ();
}
