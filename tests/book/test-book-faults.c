/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

/*
 * The disk fails, or SQLite's memory runs out, in the middle of a command: it is refused with a sentence, or all of it
 * is stored; no text of the record is lost on the way.
 */

#include "book-edit.h"
#include "book-shelf.h"
#include "fault-vfs.h"
#include "store-check.h"

#include <string.h>

#define MOST_ALLOCATIONS 20000 /* the loop ends long before: when a command meets no fault */
#define MOST_OPERATIONS 2000   /* so does this one */

static void
test_no_text_is_lost (void)
{
  g_autofree char *purpose = g_strnfill (2500, 'x'); /* too long for what SQLite keeps beside its heap */
  g_autofree char *line = g_strdup_printf ("model code=LT | name=Long text | purpose=%s\n", purpose);
  gint64 model;
  guint refused = 0;
  gboolean struck = TRUE;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_write (&shelf, line);
  model = shelf_id (&shelf, BOOK_RECORD_MODEL, "LT");
  for (guint nth = 1; struck; nth++)
    {
      g_autofree char *demand = g_strdup_printf ("%u", nth);
      g_autofree char *there = NULL;
      g_autofree char *kept = NULL;
      g_autoptr(GError) error = NULL;
      gboolean done;

      g_assert_cmpuint (nth, <, MOST_ALLOCATIONS);
      fault_vfs_arm (FAULT_ERROR, FAULT_AT_MEMORY, nth, FALSE);
      done = book_edit_run (shelf.book, book_edit_field (BOOK_RECORD_MODEL, model, "monthly_demand", demand), shelf.person, 0, NULL,
                            NULL, &error);
      struck = fault_vfs_struck ();
      fault_vfs_disarm ();
      g_assert_true (done == (error == NULL));
      refused += !done;
      there = shelf_get (&shelf, BOOK_RECORD_MODEL, "LT", "purpose");
      g_assert_cmpstr (there, ==, purpose);
      kept = shelf_get (&shelf, BOOK_RECORD_MODEL, "LT", "monthly_demand");
      g_assert_true (g_str_equal (kept, demand) == done);
    }
  g_assert_cmpuint (refused, >, 0);
  g_test_message ("%u commands were refused", refused);
  shelf_close (&shelf);
}

static void
check_whole (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) findings = NULL;

  g_assert_true (store_check (book_get_store (shelf->book), TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
}

/* Corrects one reading again and again, while each operation of the disk in turn goes wrong in one way. */
static void
correct_while_failing (FaultKind kind, FaultAt at)
{
  g_autoptr(GError) error = NULL;
  guint refused = 0;
  gboolean struck = TRUE;
  Shelf shelf;
  gint64 unit, characteristic;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=0.5\n");
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  characteristic = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE");
  g_assert_true (book_close (shelf.book, &error));
  shelf.options.vfs = FAULT_VFS;
  shelf.book = book_open (shelf.path, &shelf.options, &error);
  g_assert_no_error (error);
  for (guint nth = 1; struck; nth++)
    {
      const BookTyped typed = { BOOK_MARK_MEASURED, TRUE, nth };
      g_autofree char *wanted = g_strdup_printf ("%u", nth);
      g_autofree char *kept = NULL;
      g_autoptr(GError) problem = NULL;
      gboolean done;

      g_assert_cmpuint (nth, <, MOST_OPERATIONS);
      fault_vfs_arm (kind, at, nth, FALSE);
      done = book_edit_run (shelf.book, book_edit_reading (unit, characteristic, 1, 1, &typed, NULL), shelf.person, 0, NULL, NULL, &problem);
      struck = fault_vfs_struck ();
      fault_vfs_disarm ();
      g_assert_true (done == (problem == NULL));
      g_assert_true (done || (g_str_has_suffix (problem->message, ".") && strstr (problem->message, "\n") == NULL));
      refused += !done;
      kept = shelf_get (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1", "value");
      g_assert_true (g_str_equal (kept, wanted) == done);
    }
  check_whole (&shelf);
  g_assert_cmpuint (refused, >, 0);
  g_test_message ("%u corrections were refused", refused);
  shelf_close (&shelf);
}

static void
test_disk_fails (void)
{
  correct_while_failing (FAULT_ERROR, FAULT_AT_ALL);
  correct_while_failing (FAULT_SHORT, FAULT_AT_CHANGES);
  correct_while_failing (FAULT_FULL, FAULT_AT_WRITE);
}

int
main (int argc, char **argv)
{
  fault_vfs_take_memory ();
  fault_vfs_register ();
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/faults/no-text-is-lost-when-memory-runs-out", test_no_text_is_lost);
  g_test_add_func ("/book/faults/a-correction-is-stored-or-not-when-the-disk-fails", test_disk_fails);
  return g_test_run ();
}
