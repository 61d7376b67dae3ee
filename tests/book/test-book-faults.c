/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

/*
 * SQLite's memory runs out in the middle of a command: it is refused with a sentence, or all of it is stored; no text
 * of the record is lost on the way.
 */

#include "book-edit.h"
#include "book-shelf.h"
#include "fault-vfs.h"

#include <string.h>

#define MOST_ALLOCATIONS 20000 /* the loop ends long before: when a command meets no fault */

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

int
main (int argc, char **argv)
{
  fault_vfs_take_memory ();
  fault_vfs_register ();
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/faults/no-text-is-lost-when-memory-runs-out", test_no_text_is_lost);
  return g_test_run ();
}
