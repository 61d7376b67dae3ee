/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-edit.h"
#include "book-shelf.h"
#include "store-undo.h"

/*
 * Random commands on a book with all its rules on: undone one by one they give back every table, the derived one too;
 * redone, the same again. No rule may stand in the way of an undo that only takes back what was just done.
 */

#define SITTING 3
#define N_ACTIONS 150

static gint64
any_id (Shelf *shelf, GRand *rand, const char *table)
{
  g_autofree char *sql = g_strdup_printf ("SELECT COALESCE ((SELECT id FROM %s ORDER BY id LIMIT 1 OFFSET %d %% "
                                          "(SELECT max (1, count (*)) FROM %s)), 0)",
                                          table, g_rand_int_range (rand, 0, 1000), table);

  return shelf_integer (shelf, sql);
}

typedef struct
{
  const BookRecord *record;
  gint64            id;
} Target;

static gboolean
delete_target (StoreAction *action, gpointer data, GError **error)
{
  const Target *target = data;

  return book_record_delete (action, target->record, target->id, error);
}

static gboolean
run_edit (Shelf *shelf, BookEdit *edit)
{
  StoreReceipt receipt;

  return book_edit_run (shelf->book, edit, shelf->person, SITTING, &receipt, NULL, NULL) && receipt.action != 0;
}

/* One random command; FALSE where the book refused it, or nothing changed. */
static gboolean
act (Shelf *shelf, GRand *rand, guint n)
{
  const StoreIntent intent = { .action = "record-deleted", .sitting = SITTING };
  const BookTyped measured = { BOOK_MARK_MEASURED, TRUE, g_rand_int_range (rand, 100, 160) / 100.0 };
  g_autofree char *word = g_strdup_printf ("N%u", n);
  StoreReceipt receipt;
  Target target;

  switch (g_rand_int_range (rand, 0, 8))
    {
    case 0:
      return run_edit (shelf, book_edit_add_unit (any_id (shelf, rand, "round"), word, 0));
    case 1:
      return run_edit (shelf, book_edit_void (any_id (shelf, rand, "reading"), word));
    case 2:
      return run_edit (shelf, book_edit_field (BOOK_RECORD_UNIT, any_id (shelf, rand, "unit"), "serial", word));
    case 3:
      return run_edit (shelf, book_edit_field (BOOK_RECORD_MODEL, any_id (shelf, rand, "model"), "purpose", word));
    case 4:
      return run_edit (shelf, book_edit_add_person (word, BOOK_ROLE_MAKER, NULL));
    case 5:
      target = (Target){ book_record (BOOK_RECORD_UNIT), any_id (shelf, rand, "unit") };
      return store_write (book_get_store (shelf->book), &intent, delete_target, &target, &receipt, NULL, NULL);
    default:
      return run_edit (shelf, book_edit_reading (any_id (shelf, rand, "unit"),
                                                 shelf_id (shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE"),
                                                 (guint) g_rand_int_range (rand, 1, 3), 1, &measured, NULL));
    }
}

static void
test_random_commands_there_and_back (void)
{
  const StoreIntent intent = { .action = "undo", .sitting = SITTING };
  const guint32 seed = 20260311;
  GRand *rand = g_rand_new_with_seed (seed);
  g_autoptr(GPtrArray) states = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  g_test_message ("seed %u", seed);
  shelf_open (&shelf);
  shelf_fill (&shelf);
  g_ptr_array_add (states, shelf_digest (&shelf));
  for (guint n = 0; states->len <= N_ACTIONS; n++)
    if (act (&shelf, rand, n))
      g_ptr_array_add (states, shelf_digest (&shelf));
  g_rand_free (rand);

  for (guint i = states->len - 1; i-- > 0;)
    {
      g_autofree char *now = NULL;

      g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
      g_assert_no_error (error);
      now = shelf_digest (&shelf);
      g_assert_cmpstr (now, ==, states->pdata[i]);
    }
  for (guint i = 1; i < states->len; i++)
    {
      g_autofree char *now = NULL;

      g_assert_true (store_redo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
      g_assert_no_error (error);
      now = shelf_digest (&shelf);
      g_assert_cmpstr (now, ==, states->pdata[i]);
    }
  shelf_check_words (&shelf);
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/journal/random-commands-there-and-back", test_random_commands_there_and_back);
  return g_test_run ();
}
