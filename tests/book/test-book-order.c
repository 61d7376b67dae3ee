/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set-up of a model as a whole: order, taking over from an earlier model, and making one of two that are the same. */

#include "book-order.h"
#include "book-shelf.h"

static gint64
step (Shelf *shelf, const char *name)
{
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM step WHERE name = '%s'", name);

  return shelf_integer (shelf, sql);
}

static gint64
position (Shelf *shelf, const char *name)
{
  g_autofree char *sql = g_strdup_printf ("SELECT position FROM step WHERE name = '%s'", name);

  return shelf_integer (shelf, sql);
}

static void
with_route (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "step model=HF | position=10 | name=Mill\n"
               "step model=HF | position=20 | name=Harden\n"
               "step model=HF | position=25 | name=Grind\n"
               "step model=HF | position=40 | name=Fit\n");
}

static void
check_route (Shelf *shelf, gint64 mill, gint64 harden, gint64 grind, gint64 fit)
{
  g_assert_cmpint (position (shelf, "Mill"), ==, mill);
  g_assert_cmpint (position (shelf, "Harden"), ==, harden);
  g_assert_cmpint (position (shelf, "Grind"), ==, grind);
  g_assert_cmpint (position (shelf, "Fit"), ==, fit);
}

static void
test_moved (void)
{
  Shelf shelf;

  with_route (&shelf);
  shelf_run (&shelf, book_order_move (BOOK_RECORD_STEP, step (&shelf, "Fit"), -2));
  check_route (&shelf, 10, 25, 40, 20); /* the numbers that there were */
  shelf_last_sentence (&shelf, "Moved in its order: Step HF/20");
  shelf_undo (&shelf); /* all four by one undo */
  check_route (&shelf, 10, 20, 25, 40);
  shelf_run (&shelf, book_order_move (BOOK_RECORD_STEP, step (&shelf, "Mill"), 99)); /* no further than to the end */
  check_route (&shelf, 40, 10, 20, 25);
  shelf_run_refused (&shelf, book_order_move (BOOK_RECORD_STEP, step (&shelf, "Mill"), 1), "position",
                     "It stands at the end of the order already.");
  shelf_close (&shelf);
}

static void
with_setup (Shelf *shelf)
{
  with_route (shelf);
  shelf_write (shelf,
               "person initials=AW | role=owner\n"
               "part number=B1 | name=Blade\n"
               "model code=NW | name=New one\n"
               "characteristic model=HF | code=GAP | name=Gap | unit=mm | step=HF/25\n"
               "limit characteristic=HF/GAP | from_date=2025-01-01 | upper=0.3\n"
               "limit characteristic=HF/GAP | from_date=2026-01-01 | upper=0.2\n"
               "limit characteristic=HF/GAP | from_date=2036-01-01 | upper=0.1\n"
               "depends characteristic=HF/GAP | part=B1\n"
               "depends characteristic=HF/GAP | step=HF/20\n"
               "step_setting step=HF/20 | name=Heat | from_date=2025-06-01 | value=1050\n"
               "step_setting step=HF/20 | name=Heat | from_date=2026-02-01 | value=1080\n"
               "gate model=HF | position=1 | name=Release\n"
               "criterion gate=HF/1 | model=HF | code=C1 | kind=measured | characteristic=HF/GAP\n"
               "criterion_term criterion=HF/C1 | from_date=2026-01-01 | share=0.99 | confidence=0.9 | person=AW | reason=by me\n"
               "document model=HF | no=1 | kind=drawing | title=Drawings | state=approved | person=AW | date=2026-01-05\n"
               "hazard model=HF | no=1 | what=Blade closes on the fingers | characteristic=HF/GAP | document=HF/1\n");
}

static BookEdit *
copy (Shelf *shelf, guint what)
{
  return book_setup_copy (shelf_id (shelf, BOOK_RECORD_MODEL, "HF"), shelf_id (shelf, BOOK_RECORD_MODEL, "NW"), what);
}

static void
check_get (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpstr (text, ==, expected);
}

static void
check_refers (Shelf *shelf, BookRecordId record, const char *key, const char *field, BookRecordId to, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpint (g_ascii_strtoll (text, NULL, 10), ==, shelf_id (shelf, to, expected));
}

#define OF_NEW "(SELECT id FROM model WHERE code = 'NW')"

static void
test_taken_over (void)
{
  Shelf shelf;

  with_setup (&shelf);
  shelf_run (&shelf, copy (&shelf, BOOK_COPY_ALL));
  shelf_last_sentence (&shelf, "Took over the set-up of Model HF into: Model NW");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM step WHERE model = " OF_NEW), ==, 4);
  check_refers (&shelf, BOOK_RECORD_CHARACTERISTIC, "NW/GAP", "step", BOOK_RECORD_STEP, "NW/25");
  check_get (&shelf, BOOK_RECORD_LIMIT, "NW/GAP/" SHELF_TODAY, "upper", "0.2"); /* of today, from today on */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM \"limit\" AS l JOIN characteristic AS c ON c.id = l.characteristic "
                                          "WHERE c.code = 'GAP' AND c.model = " OF_NEW), ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM depends AS d JOIN characteristic AS c ON c.id = d.characteristic "
                                          "WHERE c.code = 'GAP' AND c.model = " OF_NEW), ==, 2);
  check_get (&shelf, BOOK_RECORD_STEP_SETTING, "NW/20/Heat/" SHELF_TODAY, "value", "1080");
  check_refers (&shelf, BOOK_RECORD_CRITERION, "NW/C1", "gate", BOOK_RECORD_GATE, "NW/1");
  check_get (&shelf, BOOK_RECORD_CRITERION_TERM, "NW/C1/" SHELF_TODAY, "share", "0.99");
  check_get (&shelf, BOOK_RECORD_CRITERION_TERM, "NW/C1/" SHELF_TODAY, "person", ""); /* it was set for the other model */
  check_get (&shelf, BOOK_RECORD_DOCUMENT, "NW/1", "state", "wanted");
  check_refers (&shelf, BOOK_RECORD_HAZARD, "NW/1", "characteristic", BOOK_RECORD_CHARACTERISTIC, "NW/GAP");
  check_refers (&shelf, BOOK_RECORD_HAZARD, "NW/1", "document", BOOK_RECORD_DOCUMENT, "NW/1");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round WHERE model = " OF_NEW), ==, 0); /* nothing measured */
  shelf_run_refused (&shelf, copy (&shelf, BOOK_COPY_ALL), "code",
                     "There is nothing to take over: the other model has nothing of it that this one has not.");
  shelf_undo (&shelf);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM step WHERE model = " OF_NEW ") + (SELECT count(*) FROM "
                                          "characteristic WHERE model = " OF_NEW ") + (SELECT count(*) FROM gate WHERE model = " OF_NEW ")"),
                   ==, 0);
  shelf_close (&shelf);
}

static void
test_what_is_there_stays (void)
{
  Shelf shelf;

  with_setup (&shelf);
  shelf_write (&shelf, "characteristic model=NW | code=GAP | name=Gap of its own | unit=mm\n"
                       "step model=NW | position=10 | name=Saw\n");
  shelf_run (&shelf, copy (&shelf, BOOK_COPY_ROUTE | BOOK_COPY_GATES));
  check_get (&shelf, BOOK_RECORD_CHARACTERISTIC, "NW/GAP", "name", "Gap of its own");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM \"limit\" AS l JOIN characteristic AS c ON c.id = l.characteristic "
                                          "WHERE c.code = 'GAP' AND c.model = " OF_NEW), ==, 0);
  check_refers (&shelf, BOOK_RECORD_CRITERION, "NW/C1", "characteristic", BOOK_RECORD_CHARACTERISTIC, "NW/GAP");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM step WHERE model = " OF_NEW), ==, 5); /* beside the one at 10 */
  shelf_close (&shelf);
}

static void
test_refused (void)
{
  Shelf shelf;
  gint64 model;

  with_setup (&shelf);
  model = shelf_id (&shelf, BOOK_RECORD_MODEL, "HF");
  shelf_run_refused (&shelf, copy (&shelf, BOOK_COPY_GATES), NULL,
                     "Criterion 'HF/C1' refers to what this model does not have: take over too: Characteristics.");
  shelf_run_refused (&shelf, book_setup_copy (model, model, BOOK_COPY_ALL), "code",
                     "A model cannot take over from itself: choose another one.");
  shelf_close (&shelf);
}

/* ---- two that are the same ---- */

static void
with_twice (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "supplier name=Springs Ltd\n"
               "supplier name=Springs | note=Order by Tuesday\n"
               "part number=B1 | name=Blade | supplier=Springs\n"
               "part number=B-1 | name=Blade again\n"
               "revision part=B1 | label=A | state=released\n"
               "revision part=B-1 | label=A | state=released | note=First one\n"
               "revision part=B-1 | label=B\n"
               "gauge name=K1\n"
               "gauge name=K 1 | resolution=0.01\n"
               "gauge_calibration gauge=K1 | date=2026-01-10 | due=2027-01-10\n"
               "gauge_calibration gauge=K 1 | date=2026-01-10 | due=2026-07-10\n"
               "person initials=EM\n"
               "person initials=EMM\n"
               "todo no=1 | what=Ask for a quote | about_record=supplier | about=Springs | person=EMM\n");
}

static void
test_merged (void)
{
  Shelf shelf;
  gint64 keep;

  with_twice (&shelf);
  keep = shelf_id (&shelf, BOOK_RECORD_SUPPLIER, "Springs Ltd");
  shelf_run (&shelf, book_merge (BOOK_RECORD_SUPPLIER, keep, shelf_id (&shelf, BOOK_RECORD_SUPPLIER, "Springs")));
  shelf_last_sentence (&shelf, "Made one of two, Supplier Springs went into: Supplier Springs Ltd");
  check_refers (&shelf, BOOK_RECORD_PART, "B1", "supplier", BOOK_RECORD_SUPPLIER, "Springs Ltd");
  check_get (&shelf, BOOK_RECORD_SUPPLIER, "Springs Ltd", "note", "Order by Tuesday"); /* what it left empty */
  check_refers (&shelf, BOOK_RECORD_TODO, "1", "about", BOOK_RECORD_SUPPLIER, "Springs Ltd");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM supplier"), ==, 1);
  shelf_undo (&shelf);
  check_refers (&shelf, BOOK_RECORD_PART, "B1", "supplier", BOOK_RECORD_SUPPLIER, "Springs");
  check_get (&shelf, BOOK_RECORD_SUPPLIER, "Springs Ltd", "note", "");
  shelf_close (&shelf);
}

static void
test_merged_below (void)
{
  Shelf shelf;

  with_twice (&shelf);
  shelf_run (&shelf, book_merge (BOOK_RECORD_PART, shelf_id (&shelf, BOOK_RECORD_PART, "B1"), shelf_id (&shelf, BOOK_RECORD_PART, "B-1")));
  check_get (&shelf, BOOK_RECORD_REVISION, "B1/A", "note", "First one"); /* revision A of both is one */
  check_get (&shelf, BOOK_RECORD_REVISION, "B1/B", "state", "draft");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM revision AS r JOIN part AS p ON p.id = r.part WHERE p.number = 'B1'"), ==, 2);
  shelf_close (&shelf);
}

static void
test_not_merged (void)
{
  Shelf shelf;
  gint64 keep;

  with_twice (&shelf);
  keep = shelf_id (&shelf, BOOK_RECORD_GAUGE, "K1");
  shelf_run_refused (&shelf, book_merge (BOOK_RECORD_GAUGE, keep, shelf_id (&shelf, BOOK_RECORD_GAUGE, "K 1")), NULL,
                     "Calibration 'K 1/2026-01-10': both have it and say something different: make them alike, or take one of them "
                     "away first.");
  shelf_run_refused (&shelf, book_merge (BOOK_RECORD_GAUGE, keep, keep), "name", "Both are the same one already: choose another one.");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM gauge"), ==, 2); /* nothing was stored */
  shelf_close (&shelf);
}

static void
test_person_put_away (void)
{
  Shelf shelf;

  with_twice (&shelf);
  shelf_run (&shelf, book_merge (BOOK_RECORD_PERSON, shelf_id (&shelf, BOOK_RECORD_PERSON, "EM"), shelf_id (&shelf, BOOK_RECORD_PERSON, "EMM")));
  check_refers (&shelf, BOOK_RECORD_TODO, "1", "person", BOOK_RECORD_PERSON, "EM");
  check_get (&shelf, BOOK_RECORD_PERSON, "EMM", "active", "no"); /* the journal names who wrote */
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/order/a-step-moves-and-the-numbers-stay", test_moved);
  g_test_add_func ("/book/order/a-set-up-is-taken-over-as-of-today", test_taken_over);
  g_test_add_func ("/book/order/what-is-there-already-stays", test_what_is_there_stays);
  g_test_add_func ("/book/order/what-would-refer-to-nothing-is-refused", test_refused);
  g_test_add_func ("/book/order/two-that-are-the-same-become-one", test_merged);
  g_test_add_func ("/book/order/so-do-their-revisions", test_merged_below);
  g_test_add_func ("/book/order/what-says-different-things-stays-two", test_not_merged);
  g_test_add_func ("/book/order/a-person-who-was-twice-is-put-away", test_person_put_away);
  return g_test_run ();
}
