/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counting pieces tap by tap before units have serials: what is stored, what is refused, its sentence, undo. */

#include "book-shelf.h"
#include "book-tally.h"

typedef struct
{
  Shelf  shelf;
  gint64 step, other, round, issue;
} Bench;

static void
bench_open (Bench *bench)
{
  shelf_open (&bench->shelf);
  shelf_fill (&bench->shelf);
  shelf_write (&bench->shelf,
               "person initials=TK | role=maker\n"
               "step model=HF | position=10 | name=Mill\n"
               "step model=HF | position=20 | name=Fit\n"
               "step model=WT | position=10 | name=Turn\n"
               "round model=HF | label=A | kind=pilot | opened=2026-03-04\n"
               "round model=HF | label=P0 | kind=prototype | opened=2026-01-02 | decided=2026-02-01\n"
               "issue model=HF | no=1 | title=Slot too wide | class=function | found_on=2026-03-05\n");
  bench->step = shelf_id (&bench->shelf, BOOK_RECORD_STEP, "HF/10");
  bench->other = shelf_id (&bench->shelf, BOOK_RECORD_STEP, "WT/10");
  bench->round = shelf_id (&bench->shelf, BOOK_RECORD_ROUND, "HF/A");
  bench->issue = shelf_id (&bench->shelf, BOOK_RECORD_ISSUE, "HF/1");
}

static BookEdit *
tap (Bench *bench, BookTallyKind kind, int n)
{
  return book_tally_count (bench->step, bench->round, kind, n);
}

static void
assert_row (Bench *bench, const char *key, const char *expected)
{
  static const char *const fields[] = { "units_in", "good_first", "reworked_good", "waiting", "scrapped" };
  g_autoptr(GString) found = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      g_autofree char *text = shelf_get (&bench->shelf, BOOK_RECORD_TALLY, key, fields[i]);

      g_string_append_printf (found, "%s%s", i > 0 ? " " : "", text);
    }
  g_assert_cmpstr (found->str, ==, expected);
}

#define TODAY "HF/10/2026-03-10/EH/1"

/* All taps of a day, person, step and round go into one row; another person, day or round has its own. */
static void
test_taps_add_to_one_row (void)
{
  gint64 first, second;
  Bench bench;

  bench_open (&bench);
  first = shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1));
  shelf_last_sentence (&bench.shelf, "Counted 1 good piece: Tally " TODAY);
  assert_row (&bench, TODAY, "1 1 0 0 0");
  second = shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 10));
  g_assert_cmpint (second, ==, first);
  shelf_last_sentence (&bench.shelf, "Counted 10 good pieces: Tally " TODAY);
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_REWORKED, 1));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_WAITING, 2));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, 1));
  assert_row (&bench, TODAY, "15 11 1 2 1");
  g_assert_cmpint (shelf_integer (&bench.shelf, "SELECT count(*) FROM tally"), ==, 1);

  bench.shelf.person = shelf_id (&bench.shelf, BOOK_RECORD_PERSON, "TK");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1));
  assert_row (&bench, "HF/10/2026-03-10/TK/1", "1 1 0 0 0");
  assert_row (&bench, TODAY, "15 11 1 2 1");
  shelf_run (&bench.shelf, book_tally_count (bench.step, shelf_id (&bench.shelf, BOOK_RECORD_ROUND, "HF/P2"), BOOK_TALLY_GOOD, 3));
  assert_row (&bench, "HF/10/2026-03-10/TK/2", "3 3 0 0 0");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1)); /* back to the first round: its own row again */
  assert_row (&bench, "HF/10/2026-03-10/TK/1", "2 2 0 0 0");
  shelf_close (&bench.shelf);
}

/* Pieces that were said to have gone in come out of those; only what comes out beyond went in too. */
static void
test_pieces_that_went_in_beforehand (void)
{
  Bench bench;

  bench_open (&bench);
  shelf_write (&bench.shelf, "tally step=HF/10 | date=2026-03-10 | person=EH | no=1 | round=HF/A | units_in=12 | good_first=10\n");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1));
  assert_row (&bench, TODAY, "12 11 0 0 0");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, 3));
  assert_row (&bench, TODAY, "14 11 0 0 3");
  shelf_close (&bench.shelf);
}

/* Each tap is an action of its own: the first one made the row, and undoing it takes the row away. */
static void
test_each_tap_is_undone_by_itself (void)
{
  Bench bench;

  bench_open (&bench);
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 10));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, 1));
  shelf_undo (&bench.shelf);
  assert_row (&bench, TODAY, "11 11 0 0 0");
  shelf_undo (&bench.shelf);
  assert_row (&bench, TODAY, "1 1 0 0 0");
  shelf_undo (&bench.shelf);
  g_assert_cmpint (shelf_integer (&bench.shelf, "SELECT count(*) FROM tally"), ==, 0);
  shelf_close (&bench.shelf);
}

static void
test_taking_back (void)
{
  gint64 tally;
  Bench bench;

  bench_open (&bench);
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, -10), "good_first",
                     "Nothing was counted here today that could be taken back.");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 20));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, -10));
  shelf_last_sentence (&bench.shelf, "Took back 10 counted pieces: Tally " TODAY);
  assert_row (&bench, TODAY, "10 10 0 0 0");
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, -1), "scrapped",
                     "Fewer were counted here today than are to be taken back.");
  tally = shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, 2));
  shelf_run (&bench.shelf, book_tally_blame (tally, bench.issue, 2));
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, -1), "units", "An issue is named for them already: undo that first.");
  shelf_close (&bench.shelf);
}

/* What waited is moved in the row that has it, on whichever day and by whomever. */
static void
test_what_waited (void)
{
  Bench bench;

  bench_open (&bench);
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_WAITING_GOOD, 1), "waiting", "Nothing waits for rework at this step.");
  shelf_write (&bench.shelf, "tally step=HF/10 | date=2026-03-09 | person=TK | no=1 | round=HF/A | units_in=12 | good_first=9 | waiting=3\n");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_WAITING_GOOD, 1));
  shelf_last_sentence (&bench.shelf, "1 piece that waited is good: Tally HF/10/2026-03-09/TK/1");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_WAITING_SCRAPPED, 2));
  assert_row (&bench, "HF/10/2026-03-09/TK/1", "12 9 1 0 2");
  shelf_undo (&bench.shelf);
  assert_row (&bench, "HF/10/2026-03-09/TK/1", "12 9 1 2 0");
  shelf_close (&bench.shelf);
}

static void
test_issues_account_for_what_was_not_good (void)
{
  gint64 tally;
  Bench bench;

  bench_open (&bench);
  tally = shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 5));
  shelf_run_refused (&bench.shelf, book_tally_blame (tally, bench.issue, 1), "units",
                     "All that was not good has its issue already: count what it took away first.");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_REWORKED, 1));
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_SCRAPPED, 1));
  shelf_run (&bench.shelf, book_tally_blame (tally, bench.issue, 1));
  shelf_last_sentence (&bench.shelf, "Named the issue of 1 piece: Loss " TODAY "/1");
  shelf_run (&bench.shelf, book_tally_blame (tally, bench.issue, 1));
  g_assert_cmpint (shelf_integer (&bench.shelf, "SELECT units FROM tally_loss"), ==, 2);
  shelf_run_refused (&bench.shelf, book_tally_blame (tally, bench.issue, 1), "units",
                     "All that was not good has its issue already: count what it took away first.");
  shelf_undo (&bench.shelf);
  g_assert_cmpint (shelf_integer (&bench.shelf, "SELECT units FROM tally_loss"), ==, 1);
  shelf_undo (&bench.shelf);
  g_assert_cmpint (shelf_integer (&bench.shelf, "SELECT count(*) FROM tally_loss"), ==, 0);
  shelf_close (&bench.shelf);
}

/* Events and tally never count the same pieces; elsewhere the tally goes on. */
static void
test_refusals (void)
{
  Bench bench;

  bench_open (&bench);
  shelf_run_refused_to (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1), 0, "person",
                        "A tally carries the name of who counts: choose who writes.");
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 0), "good_first", "Count at least one piece.");
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_WAITING_GOOD, -1), "reworked_good", "Count at least one piece.");
  shelf_run_refused (&bench.shelf, book_tally_count (bench.other, bench.round, BOOK_TALLY_GOOD, 1), "step",
                     "Step and round are not of one model: choose both of the same.");
  shelf_run_refused (&bench.shelf, book_tally_count (bench.step, shelf_id (&bench.shelf, BOOK_RECORD_ROUND, "HF/P0"), BOOK_TALLY_GOOD, 1),
                     "round", "The round is decided: choose the one that is running.");
  shelf_write (&bench.shelf, "unit round=HF/A | serial=A-01\n"
                             "unit_event unit=HF/A/A-01 | no=1 | date=2026-03-09 | step=HF/20 | kind=passed\n"
                             "unit_event unit=HF/P2/P2-01 | no=1 | date=2026-03-09 | step=HF/10 | kind=passed\n");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1)); /* events at another step, and of another round */
  shelf_write (&bench.shelf, "unit_event unit=HF/A/A-01 | no=2 | date=2026-03-09 | step=HF/10 | kind=altered | reason=stoned\n");
  shelf_run (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1)); /* altering counts nothing */
  shelf_write (&bench.shelf, "unit_event unit=HF/A/A-01 | no=3 | date=2026-03-09 | step=HF/10 | kind=sent back | reason=wide\n");
  shelf_run_refused (&bench.shelf, tap (&bench, BOOK_TALLY_GOOD, 1), "step",
                     "The units of this round have serials at this step and are counted by what happens to them; a tally would count "
                     "them twice. Say of each unit what happened, on the Bench page.");
  shelf_close (&bench.shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/tally/taps-add-to-one-row", test_taps_add_to_one_row);
  g_test_add_func ("/book/tally/pieces-that-went-in-beforehand", test_pieces_that_went_in_beforehand);
  g_test_add_func ("/book/tally/each-tap-is-undone-by-itself", test_each_tap_is_undone_by_itself);
  g_test_add_func ("/book/tally/taking-back", test_taking_back);
  g_test_add_func ("/book/tally/what-waited", test_what_waited);
  g_test_add_func ("/book/tally/issues-account-for-what-was-not-good", test_issues_account_for_what_was_not_good);
  g_test_add_func ("/book/tally/refusals", test_refusals);
  return g_test_run ();
}
