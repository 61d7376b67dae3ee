/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Storing what was tried for a rate: one action over benches and steps, or nothing at all. */

#include <math.h>

#include "book-rate.h"
#include "book-shelf.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "bench name=Mill | machines=1 | people=1.5\n"
               "model code=M2 | name=Other\n"
               "step model=HF | position=10 | name=Mill | bench=Mill | cycle_min=12\n"
               "step model=M2 | position=10 | name=Saw | bench=Mill | cycle_min=5\n");
}

static BookEdit *
edit_of (Shelf *shelf)
{
  return book_rate_store (shelf_id (shelf, BOOK_RECORD_MODEL, "HF"));
}

static void
set (Shelf *shelf, BookEdit *edit, BookRecordId record, const char *key, const char *field, double value)
{
  book_rate_store_set (edit, record, shelf_id (shelf, record, key), field, value);
}

static void
check_field (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpstr (text, ==, expected);
}

static void
test_is_one_action (void)
{
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  edit = edit_of (&shelf);
  set (&shelf, edit, BOOK_RECORD_BENCH, "Mill", "machines", 2);
  set (&shelf, edit, BOOK_RECORD_BENCH, "Mill", "hours_week", 60);
  set (&shelf, edit, BOOK_RECORD_BENCH, "Mill", "share_free", 0.25);
  set (&shelf, edit, BOOK_RECORD_STEP, "HF/10", "cycle_min", 9.5);
  g_assert_cmpint (shelf_run (&shelf, edit), ==, shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  shelf_last_sentence (&shelf, "Stored 4 figures that were tried for the rate of: Model HF");
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "machines", "2");
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "people", "1.5"); /* was not set */
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "hours_week", "60");
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "share_free", "0.25");
  check_field (&shelf, BOOK_RECORD_STEP, "HF/10", "cycle_min", "9.5");
  check_field (&shelf, BOOK_RECORD_STEP, "M2/10", "cycle_min", "5");

  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "machines", "1");
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "hours_week", "");
  check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "share_free", "1");
  check_field (&shelf, BOOK_RECORD_STEP, "HF/10", "cycle_min", "12");

  edit = edit_of (&shelf);
  set (&shelf, edit, BOOK_RECORD_STEP, "HF/10", "batch", 10);
  shelf_run (&shelf, edit);
  shelf_last_sentence (&shelf, "Stored 1 figure that was tried for the rate of: Model HF");
  shelf_close (&shelf);
}

/* What cannot stand in the book is refused beside its field, and then nothing of the rest is stored. */
static void
test_refuses_as_a_whole (void)
{
  static const struct
  {
    BookRecordId record;
    const char  *key;
    const char  *field;
    double       value;
    const char  *sentence;
  } cases[] = {
    { BOOK_RECORD_BENCH, "Mill", "share_free", 1.5, "1.5 is not a share: write a fraction between 0 and 1 or percent, such as 0.95 or 95 %." },
    { BOOK_RECORD_BENCH, "Mill", "hours_week", 169, "169 is too large: it must be at most 168." },
    { BOOK_RECORD_BENCH, "Mill", "machines", 1.5, "It must be a whole number: set it so." },
    { BOOK_RECORD_STEP, "HF/10", "cycle_min", -1, "-1 is too small: it must be at least 0." },
    { BOOK_RECORD_STEP, "HF/10", "rework_min", INFINITY, "It must be a number: set it so." },
    { BOOK_RECORD_STEP, "M2/10", "cycle_min", 4, "The step belongs to another model: try its figures there." },
  };
  Shelf shelf;

  filled (&shelf);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      BookEdit *edit = edit_of (&shelf);

      set (&shelf, edit, BOOK_RECORD_BENCH, "Mill", "people", 3);
      set (&shelf, edit, cases[i].record, cases[i].key, cases[i].field, cases[i].value);
      shelf_run_refused (&shelf, edit, cases[i].field, cases[i].sentence);
      check_field (&shelf, BOOK_RECORD_BENCH, "Mill", "people", "1.5");
    }
  shelf_run_refused (&shelf, edit_of (&shelf), NULL, "Nothing is set that can be stored: set a figure first.");
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/rate/is-stored-as-one-action", test_is_one_action);
  g_test_add_func ("/book/rate/is-refused-as-a-whole", test_refuses_as_a_whole);
  return g_test_run ();
}
