/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What evidence holds of benches, the route, tallies and plans, and what is read only on demand. */
#include "config.h"

#include "book-evidence.h"
#include "book-shelf.h"

#include <math.h>

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

static void
fill (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_write (shelf,
               "person initials=LN | role=inspector\n"
               "setting name=hourly cost | value=62.5\n"
               "supplier name=Outside Hardening\n"
               "bench name=Fitting | machines=2 | people=1.5 | hours_week=38 | uptime=0.9 | share_free=0.5\n"
               "bench name=Milling | machines=1 | people=1\n"
               "gauge name=Force gauge | resolution=0.1\n"
               "part number=L-1 | name=Lever | source=bought | supplier=Outside Hardening | lead_days=12 | quantity=2 | price=3.75\n"
               "model code=M | name=Model | target_release=2027-01-31\n"
               "step model=M | position=20 | name=Harden | kind=outside | batch=40 | queue_days=8 | price=1.9\n"
               "step model=M | position=10 | name=Mill | bench=Milling | setup_min=30 | batch=25 | cycle_min=6.5 | rework_min=4\n"
               "lot part=L-1 | number=K-1 | supplier=Outside Hardening | received=2026-02-01 | quantity=40\n"
               "round model=M | label=A | kind=pilot | opened=2026-02-01 | planned_design_fixed=2026-02-05 | "
               "planned_parts_ready=2026-02-20 | planned_built=2026-03-01 | planned_tested=2026-03-10 | planned_decided=2026-03-12 | "
               "cost=1800\n"
               "round_part round=M/A | part=L-1\n"
               "wait round=M/A | no=1 | reason=outside step | what=hardening | supplier=Outside Hardening | from_date=2026-02-06\n"
               "unit round=M/A | serial=A-1 | assembled_at=Fitting\n"
               "issue model=M | no=1 | title=Cracks | class=function\n"
               "characteristic model=M | code=F | name=Force\n"
               "unit_event unit=M/A/A-1 | no=1 | date=2026-02-25 | step=M/10 | kind=passed | minutes=7.5\n"
               "tally step=M/20 | date=2026-02-10 | person=LN | no=1 | round=M/A | units_in=38 | good_first=36 | scrapped=2\n"
               "tally step=M/10 | date=2026-02-08 | person=LN | no=1 | round=M/A | units_in=40 | good_first=35 | "
               "reworked_good=3 | waiting=1 | scrapped=1 | minutes=260 | setup_minutes=30 | rework_minutes=14\n"
               "tally_loss tally=M/10/2026-02-08/LN/1 | issue=M/1 | units=5\n"
               "gate model=M | position=1 | name=Release\n"
               "criterion model=M | code=C1 | gate=M/1 | kind=life | characteristic=M/F\n"
               "criterion_term criterion=M/C1 | from_date=2026-01-01 | share=0.9 | confidence=0.9 | cycles=5000 | load=30 | "
               "shape_low=1.5 | shape_high=3\n"
               "gauge_trial gauge=Force gauge | characteristic=M/F | person=LN | piece=X1 | trial=2 | verdict=passed | known_bad=yes\n"
               "limit characteristic=M/F | from_date=2026-01-01 | lower=1");
  shelf_write (shelf, "reading unit=M/A/A-1 | characteristic=M/F | value=2");
}

static BookEvidence *
load (Shelf *shelf, BookEvidenceParts parts)
{
  g_autoptr(GError) error = NULL;
  BookEvidence *e = book_evidence_load_parts (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "M"), parts, &error);

  g_assert_no_error (error);
  return e;
}

static void
test_shop (void)
{
  Shelf shelf;

  fill (&shelf);
  {
    g_autoptr(BookEvidence) e = load (&shelf, BOOK_EVIDENCE_RECORDS);

    g_assert_cmpfloat (e->hourly_cost, ==, 62.5);
    g_assert_cmpint (e->target_release, ==, day ("2027-01-31"));
    g_assert_cmpuint (e->n_benches, ==, 2);
    g_assert_cmpstr (e->benches[0].name, ==, "Fitting");
    g_assert_cmpint (e->benches[0].machines, ==, 2);
    g_assert_cmpfloat (e->benches[0].people, ==, 1.5);
    g_assert_cmpfloat (e->benches[0].hours_week, ==, 38.0);
    g_assert_cmpfloat (e->benches[0].uptime, ==, 0.9);
    g_assert_cmpfloat (e->benches[0].share_free, ==, 0.5);
    g_assert_true (isnan (e->benches[1].hours_week));
    g_assert_cmpint (e->units[0].assembled_at, ==, 0);
    g_assert_cmpstr (e->suppliers[e->parts[0].supplier].name, ==, "Outside Hardening");
    g_assert_cmpint (e->parts[0].source, ==, BOOK_SOURCE_BOUGHT);
    g_assert_cmpfloat (e->parts[0].lead_days, ==, 12.0);
    g_assert_cmpfloat (e->parts[0].quantity, ==, 2.0);
    g_assert_cmpfloat (e->parts[0].price, ==, 3.75);
    g_assert_cmpint (e->lots[0].supplier, ==, 0);
    g_assert_cmpint (e->lots[0].received, ==, day ("2026-02-01"));
    g_assert_cmpfloat (e->lots[0].quantity, ==, 40.0);
  }
  shelf_close (&shelf);
}

static void
test_route (void)
{
  Shelf shelf;

  fill (&shelf);
  {
    g_autoptr(BookEvidence) e = load (&shelf, BOOK_EVIDENCE_RECORDS);
    const BookEvidenceTally *tally;

    g_assert_cmpuint (e->n_steps, ==, 2); /* in the order of the route */
    g_assert_cmpstr (e->benches[e->steps[0].bench].name, ==, "Milling");
    g_assert_cmpint (e->steps[0].batch, ==, 25);
    g_assert_cmpfloat (e->steps[0].setup_min, ==, 30.0);
    g_assert_cmpfloat (e->steps[0].cycle_min, ==, 6.5);
    g_assert_cmpfloat (e->steps[0].rework_min, ==, 4.0);
    g_assert_true (isnan (e->steps[0].queue_days) && isnan (e->steps[0].price));
    g_assert_cmpint (e->steps[1].bench, ==, -1);
    g_assert_cmpfloat (e->steps[1].queue_days, ==, 8.0);
    g_assert_cmpfloat (e->steps[1].price, ==, 1.9);
    g_assert_cmpfloat (e->events[0].minutes, ==, 7.5);

    g_assert_cmpuint (e->n_tallies, ==, 2);
    tally = &e->tallies[0];
    g_assert_cmpint (tally->step, ==, 0);
    g_assert_cmpint (tally->round, ==, 0);
    g_assert_cmpint (tally->no, ==, 1);
    g_assert_cmpint (tally->day, ==, day ("2026-02-08"));
    g_assert_cmpint (tally->n_in, ==, 40);
    g_assert_cmpint (tally->good_first, ==, 35);
    g_assert_cmpint (tally->reworked_good, ==, 3);
    g_assert_cmpint (tally->waiting, ==, 1);
    g_assert_cmpint (tally->scrapped, ==, 1);
    g_assert_cmpfloat (tally->minutes, ==, 260.0);
    g_assert_cmpfloat (tally->setup_min, ==, 30.0);
    g_assert_cmpfloat (tally->rework_min, ==, 14.0);
    g_assert_true (isnan (e->tallies[1].minutes));
    g_assert_cmpuint (e->n_tally_losses, ==, 1);
    g_assert_cmpint (e->tally_losses[0].tally, ==, 0);
    g_assert_cmpint (e->tally_losses[0].issue, ==, 0);
    g_assert_cmpint (e->tally_losses[0].units, ==, 5);
  }
  shelf_close (&shelf);
}

static void
test_plan (void)
{
  Shelf shelf;

  fill (&shelf);
  {
    g_autoptr(BookEvidence) e = load (&shelf, BOOK_EVIDENCE_RECORDS);
    const BookEvidenceRound *round = &e->rounds[0];

    g_assert_cmpint (round->planned_design_fixed, ==, day ("2026-02-05"));
    g_assert_cmpint (round->planned_parts_ready, ==, day ("2026-02-20"));
    g_assert_cmpint (round->planned_built, ==, day ("2026-03-01"));
    g_assert_cmpint (round->planned_tested, ==, day ("2026-03-10"));
    g_assert_cmpint (round->planned_decided, ==, day ("2026-03-12"));
    g_assert_cmpfloat (round->cost, ==, 1800.0);
    g_assert_cmpint (e->waits[0].reason, ==, BOOK_WAIT_OUTSIDE_STEP);
    g_assert_cmpstr (e->waits[0].what, ==, "hardening");
    g_assert_cmpint (e->waits[0].supplier, ==, 0);
    g_assert_cmpint (e->waits[0].to, ==, 0);
    g_assert_cmpint (e->waits[0].id, ==, shelf_id (&shelf, BOOK_RECORD_WAIT, "M/A/1"));
    g_assert_cmpfloat (e->terms[0].cycles, ==, 5000.0);
    g_assert_cmpfloat (e->terms[0].load, ==, 30.0);
    g_assert_cmpfloat (e->terms[0].shape_low, ==, 1.5);
    g_assert_cmpfloat (e->terms[0].shape_high, ==, 3.0);
    g_assert_false (e->bad_trials[0].caught);
    g_assert_cmpstr (e->bad_trials[0].piece, ==, "X1");
    g_assert_cmpint (e->bad_trials[0].trial, ==, 2);
    g_assert_cmpint (e->bad_trials[0].gauge, ==, 0);
  }
  shelf_close (&shelf);
}

static void
test_on_demand (void)
{
  Shelf shelf;

  fill (&shelf);
  {
    g_autoptr(BookEvidence) records = load (&shelf, BOOK_EVIDENCE_RECORDS);
    g_autoptr(BookEvidence) readings = load (&shelf, BOOK_EVIDENCE_READINGS);
    g_autoptr(BookEvidence) all = load (&shelf, BOOK_EVIDENCE_ALL);

    g_assert_cmpuint (records->n_readings, ==, 0);
    g_assert_cmpuint (records->characteristics[0].end_reading, ==, 0);
    g_assert_cmpuint (readings->n_readings, ==, 1);
    g_assert_cmpuint (readings->characteristics[0].end_reading, ==, 1);
    g_assert_cmpuint (readings->n_boundaries, ==, 0);
    g_assert_cmpuint (all->n_readings, ==, 1);
  }
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/evidence/benches-parts-and-lots-of-the-shop", test_shop);
  g_test_add_func ("/book/evidence/route-and-tallies-in-its-order", test_route);
  g_test_add_func ("/book/evidence/plans-waits-and-what-terms-ask-of-a-life", test_plan);
  g_test_add_func ("/book/evidence/readings-only-on-demand", test_on_demand);
  return g_test_run ();
}
