/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a model is set up from, read for tables; and what would go along with a record that is deleted. */

#include "book-limit.h"
#include "book-setup.h"
#include "book-shelf.h"

#include <math.h>
#include <string.h>

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "model code=OM | name=Other\n"
               "characteristic model=OM | code=XX | name=Of the other model\n"
               "supplier name=Spring maker\n"
               "step model=HF | position=10 | name=Mill blade\n"
               "step model=HF | position=20 | name=Harden\n"
               "depends characteristic=HF/LE | step=HF/20\n");
}

static guint
count_of (const BookSetup *setup, BookRecordId record)
{
  guint n;
  const BookSetupKind *kinds = book_setup_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (kinds[i].record == record)
      return setup->counts[i];
  g_assert_not_reached ();
}

static BookSetup *
read_all (Shelf *shelf, BookRecordId kind, const char *words, gboolean all)
{
  g_autoptr(GError) error = NULL;
  BookSetup *setup = book_setup_read (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "HF"), kind, words, all, &error);

  g_assert_no_error (error);
  return setup;
}

static BookSetup *
read_setup (Shelf *shelf, BookRecordId kind, const char *words)
{
  return read_all (shelf, kind, words, FALSE);
}

static void
test_of_this_model (void)
{
  g_autoptr(BookSetup) setup = NULL;
  Shelf shelf;

  filled (&shelf);
  setup = read_setup (&shelf, BOOK_RECORD_STEP, NULL);
  g_assert_cmpuint (setup->rows->len, ==, 2);
  g_assert_cmpstr (((BookSetupRow *) setup->rows->pdata[0])->cells[1], ==, "Mill blade"); /* in their order */
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_CHARACTERISTIC), ==, 2); /* LE and LV, not XX */
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_MODEL), ==, 3); /* put away or not */
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_DEPENDS), ==, 1);
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_SUPPLIER), ==, 1); /* shared */
  shelf_close (&shelf);
}

/* What the book counts by itself, against the rows that a table of the kind shows. */
static void
test_counts (void)
{
  guint n, filled_kinds = 0;
  const BookSetupKind *kinds = book_setup_kinds (&n);
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf,
               "limit characteristic=OM/XX | from_date=2026-01-01 | upper=2\n"
               "limit characteristic=HF/LE | from_date=2026-03-01 | upper=2\n"
               "step model=OM | position=10 | name=Mill\n"
               "step_setting step=OM/10 | name=Speed | from_date=2026-01-01 | value=1\n"
               "step_setting step=HF/10 | name=Speed | from_date=2026-01-01 | value=1\n"
               "step_setting step=HF/20 | name=Heat | from_date=2026-01-01 | value=1\n");
  for (guint i = 0; i < n; i++)
    {
      g_autoptr(BookSetup) shown = read_setup (&shelf, kinds[i].record, NULL);
      g_autoptr(BookSetup) beside = read_setup (&shelf, kinds[(i + 1) % n].record, NULL);

      g_assert_cmpuint (shown->counts[i], ==, shown->rows->len);
      g_assert_cmpuint (beside->counts[i], ==, shown->rows->len);
      filled_kinds += shown->rows->len > 0;
    }
  g_assert_cmpuint (filled_kinds, >, 6);
  shelf_close (&shelf);
}

static void
test_looked_for (void)
{
  g_autoptr(BookSetup) setup = NULL;
  g_autoptr(BookSetup) none = NULL;
  g_autoptr(BookSetup) all = NULL;
  Shelf shelf;

  filled (&shelf);
  setup = read_setup (&shelf, BOOK_RECORD_STEP, "HARD"); /* whatever the case */
  g_assert_cmpuint (setup->rows->len, ==, 1);
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_DEPENDS), ==, 1); /* it shows the name of the step */
  g_assert_cmpuint (count_of (setup, BOOK_RECORD_SUPPLIER), ==, 0);
  none = read_setup (&shelf, BOOK_RECORD_STEP, "mill quartz"); /* each word */
  g_assert_cmpuint (none->rows->len, ==, 0);
  all = read_all (&shelf, BOOK_RECORD_STEP, "hard", TRUE); /* all of the kind, and of the others what has the word */
  g_assert_cmpuint (all->rows->len, ==, 2);
  g_assert_cmpuint (count_of (all, BOOK_RECORD_STEP), ==, 2);
  g_assert_cmpuint (count_of (all, BOOK_RECORD_SUPPLIER), ==, 0);
  shelf_close (&shelf);
}

/* As people count, whatever the order of bytes. */
static void
test_in_order (void)
{
  static const char *const wanted[] = { "P2", "P9", "P10", "P100" };
  g_autoptr(BookSetup) setup = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "bench name=P100\nbench name=P10\nbench name=P9\nbench name=P2\n");
  setup = read_setup (&shelf, BOOK_RECORD_BENCH, NULL);
  g_assert_cmpuint (setup->rows->len, ==, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    g_assert_cmpstr (((BookSetupRow *) setup->rows->pdata[i])->cells[0], ==, wanted[i]);
  shelf_close (&shelf);
}

static void
test_goes_along (void)
{
  guint counts[BOOK_N_RECORDS + 1];
  g_autoptr(GError) error = NULL;
  g_autoptr(GError) refused = NULL;
  Shelf shelf;

  filled (&shelf);
  g_assert_true (book_record_goes_with (shelf_db (&shelf), book_record (BOOK_RECORD_MODEL),
                                        shelf_id (&shelf, BOOK_RECORD_MODEL, "OM"), counts, &error));
  g_assert_no_error (error);
  for (guint i = 1; i <= BOOK_N_RECORDS; i++)
    g_assert_cmpuint (counts[i], ==, i == BOOK_RECORD_CHARACTERISTIC ? 1 : 0);
  g_assert_false (book_record_goes_with (shelf_db (&shelf), book_record (BOOK_RECORD_STEP),
                                         shelf_id (&shelf, BOOK_RECORD_STEP, "HF/20"), counts, &refused));
  g_assert_nonnull (strstr (refused->message, "Dependence '"));
  shelf_close (&shelf);
}

static void
test_limits (void)
{
  Shelf shelf;
  gint64 gap;
  g_autoptr(GError) error = NULL;
  g_autoptr(BookLimitNow) none = NULL;
  g_autoptr(BookLimitNow) now = NULL;
  g_autofree char *upper = NULL;

  filled (&shelf);
  shelf_write (&shelf, "characteristic model=HF | code=GAP | name=Gap | unit=mm\n");
  gap = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/GAP");
  none = book_limit_now (shelf_db (&shelf), gap, SHELF_TODAY, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (none->from, ==, "");
  shelf_run (&shelf, book_limit_set (gap, "2026-01-01", 12.5, 12.4, 12.6));
  shelf_last_sentence (&shelf, "Set limits: Limits HF/GAP/2026-01-01");
  shelf_run (&shelf, book_limit_set (gap, NULL, NAN, NAN, 12.7)); /* from today on */
  shelf_run (&shelf, book_limit_set (gap, SHELF_TODAY, NAN, NAN, 12.8)); /* the same day: the same row */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM \"limit\" WHERE from_date >= '2026-01-01' AND characteristic = "
                                          "(SELECT id FROM characteristic WHERE code = 'GAP')"), ==, 2);
  now = book_limit_now (shelf_db (&shelf), gap, SHELF_TODAY, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (now->from, ==, SHELF_TODAY);
  g_assert_true (isnan (now->lower));
  g_assert_cmpfloat (now->upper, ==, 12.8);
  shelf_run_refused (&shelf, book_limit_set (gap, NULL, NAN, 3, 2), "upper", "The upper limit must be greater than the lower one.");
  shelf_undo (&shelf);
  upper = shelf_get (&shelf, BOOK_RECORD_LIMIT, "HF/GAP/" SHELF_TODAY, "upper");
  g_assert_cmpstr (upper, ==, "12.7");
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/setup/has-the-records-of-this-model-and-those-that-are-shared", test_of_this_model);
  g_test_add_func ("/book/setup/counts-as-many-as-it-shows", test_counts);
  g_test_add_func ("/book/setup/is-looked-through-for-every-word", test_looked_for);
  g_test_add_func ("/book/setup/rows-come-as-people-count", test_in_order);
  g_test_add_func ("/book/setup/says-what-would-go-along-or-stands-in-the-way", test_goes_along);
  g_test_add_func ("/book/setup/limits-of-one-day-are-one-row", test_limits);
  return g_test_run ();
}
