/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-keys.h"
#include "book-models.h"
#include "book-shelf.h"

static void
check_key_text (Shelf *shelf, BookRecordId record, const char *exact, const char *shown, const char *short_form)
{
  gint64 id = shelf_id (shelf, record, exact);
  const char *const expected[] = { exact, shown, short_form };

  for (guint form = BOOK_KEY_TEXT_EXACT; form <= BOOK_KEY_TEXT_SHORT; form++)
    {
      g_autoptr(GError) error = NULL;
      g_autofree char *text = book_record_key_text (shelf_db (shelf), book_record (record), id, (BookKeyText) form, &error);

      g_assert_no_error (error);
      g_assert_cmpstr (text, ==, expected[form]);
    }
}

static void
test_a_visible_key_reads_back (void)
{
  Shelf shelf;
  gint64 id;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf,
               "part number=A/B\\C | name=Odd number\n"
               "lot part=HF-10 | number=7/26\n"
               "depends characteristic=HF/LE | part=HF-10\n"
               "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.3\n"
               "attachment owner_record=unit | owner=HF/P1/P1-01 | no=1 | name=Photograph | link=photo.jpg\n");

  check_key_text (&shelf, BOOK_RECORD_MODEL, "HF", "HF", "HF");
  check_key_text (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01", "HF/P1/P1-01", "P1/P1-01");
  check_key_text (&shelf, BOOK_RECORD_PART, "A\\/B\\\\C", "A/B\\C", "A/B\\C");
  check_key_text (&shelf, BOOK_RECORD_LOT, "HF-10///7\\/26", "HF-10/7/26", "HF-10/7/26");
  check_key_text (&shelf, BOOK_RECORD_DEPENDS, "HF/LE/HF-10/", "HF/LE/HF-10", "LE/HF-10");
  check_key_text (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1", "HF/P1/P1-01/LE/1/1", "P1/P1-01/LE/1/1");
  check_key_text (&shelf, BOOK_RECORD_ATTACHMENT, "unit/HF\\/P1\\/P1-01/1", "unit/HF/P1/P1-01/1", "unit/HF/P1/P1-01/1");

  g_assert_true (book_record_find_text (shelf_db (&shelf), book_record (BOOK_RECORD_UNIT), "HF/P1", &id, NULL));
  g_assert_cmpint (id, ==, 0);
  g_assert_true (book_record_find_text (shelf_db (&shelf), book_record (BOOK_RECORD_UNIT), "HF/P9/P1-01", &id, NULL));
  g_assert_cmpint (id, ==, 0);
  g_assert_true (book_record_find_text (shelf_db (&shelf), book_record (BOOK_RECORD_ISSUE), "HF/twelve", &id, NULL));
  g_assert_cmpint (id, ==, 0);
  shelf_close (&shelf);
}

static gboolean
collect (const BookRow *row, gpointer data, GError **error)
{
  GString *keys = data;

  g_string_append_printf (keys, "%s ", (const char *) row->values[book_field_index (row->record, "serial")].text);
  return TRUE;
}

static void
test_rows_come_by_visible_key (void)
{
  g_autoptr(GString) keys = g_string_new (NULL);
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "unit round=HF/P1 | serial=b\nunit round=HF/P1 | serial=B\nunit round=HF/P1 | serial=10\n");
  g_assert_true (book_record_each_by_key (shelf_db (&shelf), book_record (BOOK_RECORD_UNIT), collect, keys, &error));
  g_assert_cmpstr (keys->str, ==, "10 B P1-01 b P2-01 ");
  shelf_close (&shelf);
}

static void
test_keys_in_memory_are_those_of_the_book (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;
  gint64 round;
  gint64 unit;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  round = shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P2");
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P2/P2-01");
  {
    g_autoptr(BookKeys) keys = book_keys_load (shelf_db (&shelf), book_record (BOOK_RECORD_UNIT), &error);
    BookValue key[] = { book_value_integer (round), book_value_text ("P2-01", -1) };
    BookValue found[BOOK_MAX_KEY];

    g_assert_no_error (error);
    g_assert_cmpuint (book_keys_count (keys), ==, 2);
    g_assert_cmpint (book_keys_find (keys, key), ==, unit);
    g_assert_false (book_keys_add (keys, key, 77));
    key[1] = book_value_text ("P2-02", -1);
    g_assert_cmpint (book_keys_find (keys, key), ==, 0);
    for (int i = 0; i < 1000; i++) /* grows */
      {
        g_autofree char *serial = g_strdup_printf ("new %d", i);

        key[1] = book_value_text (serial, -1);
        g_assert_true (book_keys_add (keys, key, 1000 + i));
      }
    key[1] = book_value_text ("new 789", -1);
    g_assert_cmpint (book_keys_find (keys, key), ==, 1789);
    g_assert_true (book_keys_get (keys, 1789, found));
    g_assert_cmpint (found[0].integer, ==, round);
    g_assert_cmpstr (found[1].text, ==, "new 789");
    g_assert_false (book_keys_get (keys, 5, found));
  }
  shelf_close (&shelf);
}

static void
test_the_next_ordinal_is_one_more (void)
{
  g_autoptr(GError) error = NULL;
  BookValue key[2];
  gint64 next;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  key[0] = book_value_integer (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  key[1] = BOOK_VALUE_EMPTY;
  g_assert_true (book_record_next_ordinal (shelf_db (&shelf), book_record (BOOK_RECORD_ISSUE), key, &next, &error));
  g_assert_cmpint (next, ==, 1);
  shelf_write (&shelf, "issue model=HF | no=4 | title=Slips | class=safety\nissue model=WT | no=9 | title=x | class=safety\n");
  g_assert_true (book_record_next_ordinal (shelf_db (&shelf), book_record (BOOK_RECORD_ISSUE), key, &next, &error));
  g_assert_cmpint (next, ==, 5);
  shelf_close (&shelf);
}

typedef struct
{
  const BookRecord *record;
  gint64            id;
} Target;

static gboolean
delete_target (StoreAction *action, gpointer data, GError **error)
{
  Target *target = data;

  return book_record_delete (action, target->record, target->id, error);
}

static char *
try_to_delete (Shelf *shelf, BookRecordId record, const char *key)
{
  const StoreIntent intent = { .action = "record-deleted" };
  Target target = { book_record (record), shelf_id (shelf, record, key) };
  g_autoptr(GError) error = NULL;

  if (store_write (book_get_store (shelf->book), &intent, delete_target, &target, NULL, NULL, &error))
    return NULL;
  return g_strdup (error->message);
}

static void
check_refused (Shelf *shelf, BookRecordId record, const char *key, const char *sentence)
{
  g_autofree char *refusal = try_to_delete (shelf, record, key);

  g_assert_cmpstr (refusal, ==, sentence);
}

static void
check_deleted (Shelf *shelf, BookRecordId record, const char *key)
{
  check_refused (shelf, record, key, NULL);
}

static void
test_deleting_takes_what_belongs_to_it (void)
{
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf,
               "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.3\n"
               "unit_part unit=HF/P1/P1-01 | part=HF-10 | revision=HF-10/A\n"
               "unit round=HF/P1 | serial=bag | went_into=HF/P1/P1-01\n"
               "attachment owner_record=unit | owner=HF/P1/P1-01 | no=1 | name=Photograph | link=photo.jpg\n"
               "todo no=1 | what=look at it | about_record=unit | about=HF/P1/P1-01\n");
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01",
                 "Unit 'HF/P1/P1-01': Unit 'HF/P1/bag' refers to it: delete that first.");
  check_refused (&shelf, BOOK_RECORD_REVISION, "HF-10/A",
                 "Revision 'HF-10/A': Part as built 'HF/P1/P1-01/HF-10' refers to it: delete that first.");
  shelf_write (&shelf, "unit round=HF/P1 | serial=lid | went_into=HF/P1/P1-01\n");
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01",
                 "Unit 'HF/P1/P1-01': Unit 'HF/P1/bag' and 1 other refer to it: delete these first.");
  check_deleted (&shelf, BOOK_RECORD_ROUND, "HF/P1"); /* all units in it, two of which went into another */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM unit"), ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 0);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM attachment"), ==, 0);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM todo WHERE about IS NULL"), ==, 1);
  shelf_close (&shelf);
}

static void
test_evidence_of_a_failure_is_not_deleted (void)
{
  static const char of_reading[] = "Reading 'HF/P1/P1-01/LE/1/1': it failed, and evidence of a failure is not deleted: "
                                   "void it with a reason, or set the unit aside.";
  static const char of_model[] = "Model 'HF' holds what is not deleted; say that it is archived, and it is out of the way. Unit 'HF/P1/P1-01': it "
                                 "failed, and evidence of a failure is not deleted: set the unit aside with a reason.";
  static const char of_unit[] = "Unit 'HF/P1/P1-01': it failed, and evidence of a failure is not deleted: "
                                "set the unit aside with a reason.";
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.1\n"  /* limit 1.2 */
                       "reading unit=HF/P2/P2-01 | characteristic=HF/LE | value=1.2\n");
  check_refused (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1", of_reading);
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01", of_unit);
  check_refused (&shelf, BOOK_RECORD_MODEL, "HF", of_model);
  check_deleted (&shelf, BOOK_RECORD_UNIT, "HF/P2/P2-01");
  /* Limits that were widened afterwards do not make it one that never failed. */
  shelf_write (&shelf, "limit characteristic=HF/LE | from_date=2026-03-01 | lower=1.0\n");
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01", of_unit);
  shelf_close (&shelf);
}

static void
test_what_was_found_on_a_unit_keeps_it (void)
{
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\n"
                       "finding issue=HF/1 | no=1 | unit=HF/P1/P1-01\n"
                       "finding issue=HF/1 | no=2 | affected=0 | inspected=20\n"
                       "life_test model=HF | no=1 | date=2026-02-03 | unit=HF/P2/P2-01 | characteristic=HF/LV | cycles=900 | ended=failed\n");
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01",
                 "Unit 'HF/P1/P1-01': it failed, and evidence of a failure is not deleted: set the unit aside with a reason.");
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P2/P2-01",
                 "Unit 'HF/P2/P2-01': it failed, and evidence of a failure is not deleted: set the unit aside with a reason.");
  check_refused (&shelf, BOOK_RECORD_FINDING, "HF/1/1",
                 "Finding 'HF/1/1': what was found is not deleted: excuse it by name and with a reason, or undo the action "
                 "that entered it.");
  check_refused (&shelf, BOOK_RECORD_ISSUE, "HF/1",
                 "Finding 'HF/1/1': what was found is not deleted: excuse it by name and with a reason, or undo the action "
                 "that entered it.");
  check_refused (&shelf, BOOK_RECORD_LIFE_TEST, "HF/1",
                 "Life test 'HF/1': it failed, and evidence of a failure is not deleted: set the unit aside with a reason.");
  check_deleted (&shelf, BOOK_RECORD_FINDING, "HF/1/2");
  shelf_close (&shelf);
}

/* Yields count them: without its worst day a run would look better than it was. */
static void
test_what_was_lost_in_a_run_is_not_deleted (void)
{
  static const char of_event[] = "Event 'HF/P1/P1-01/2': that a unit was sent back or scrapped is not deleted: undo the action that "
                                 "entered it, or set the unit aside with a reason.";
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "step model=HF | position=90 | name=Pack | kind=own\n"
                       "tally step=HF/90 | date=2026-02-03 | person=EH | no=1 | round=HF/P1 | units_in=20 | good_first=20\n"
                       "tally step=HF/90 | date=2026-02-03 | person=EH | no=2 | round=HF/P1 | units_in=20 | good_first=19 | scrapped=1\n"
                       "unit_event unit=HF/P1/P1-01 | no=1 | date=2026-02-03 | step=HF/90 | kind=passed\n"
                       "unit_event unit=HF/P1/P1-01 | no=2 | date=2026-02-04 | step=HF/90 | kind=sent back\n");
  check_refused (&shelf, BOOK_RECORD_TALLY, "HF/90/2026-02-03/EH/2",
                 "Tally 'HF/90/2026-02-03/EH/2': it counts pieces that were not good, and these are not deleted: correct its "
                 "figures, or undo the action that entered it.");
  check_deleted (&shelf, BOOK_RECORD_TALLY, "HF/90/2026-02-03/EH/1");
  check_refused (&shelf, BOOK_RECORD_UNIT_EVENT, "HF/P1/P1-01/2", of_event);
  check_refused (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01", of_event);
  check_deleted (&shelf, BOOK_RECORD_UNIT_EVENT, "HF/P1/P1-01/1");
  shelf_close (&shelf);
}

static void
test_rounds_come_by_date (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "round model=HF | label=X | kind=bench\n"
                       "round model=HF | label=M1 | kind=bench | design_fixed=2026-01-05 | decided=2026-01-30 | verdict=go on\n");
  {
    gint64 model;
    g_autoptr(GPtrArray) models = book_models_list (shelf_db (&shelf), &error);
    g_autoptr(GPtrArray) rounds = NULL;
    const BookRound *round;

    g_assert_no_error (error);
    g_assert_cmpuint (models->len, ==, 2);
    g_assert_true (book_model_find (shelf_db (&shelf), "HF", &model, &error));
    rounds = book_rounds_list (shelf_db (&shelf), model, &error);
    g_assert_no_error (error);
    g_assert_cmpuint (rounds->len, ==, 4);
    round = rounds->pdata[0];
    g_assert_cmpstr (round->label, ==, "M1");
    g_assert_cmpint (round->verdict, ==, BOOK_VERDICT_GO_ON);
    g_assert_cmpstr (((BookRound *) rounds->pdata[1])->label, ==, "P1");
    g_assert_cmpuint (((BookRound *) rounds->pdata[1])->n_units, ==, 1);
    g_assert_cmpstr (((BookRound *) rounds->pdata[3])->label, ==, "X");
  }
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/record/a-visible-key-reads-back", test_a_visible_key_reads_back);
  g_test_add_func ("/book/record/rows-come-by-visible-key", test_rows_come_by_visible_key);
  g_test_add_func ("/book/record/keys-in-memory-are-those-of-the-book", test_keys_in_memory_are_those_of_the_book);
  g_test_add_func ("/book/record/the-next-ordinal-is-one-more", test_the_next_ordinal_is_one_more);
  g_test_add_func ("/book/record/deleting-takes-what-belongs-to-it", test_deleting_takes_what_belongs_to_it);
  g_test_add_func ("/book/record/evidence-of-a-failure-is-not-deleted", test_evidence_of_a_failure_is_not_deleted);
  g_test_add_func ("/book/record/what-was-found-on-a-unit-keeps-it", test_what_was_found_on_a_unit_keeps_it);
  g_test_add_func ("/book/record/what-was-lost-in-a-run-is-not-deleted", test_what_was_lost_in_a_run_is_not_deleted);
  g_test_add_func ("/book/record/rounds-come-by-date", test_rounds_come_by_date);
  return g_test_run ();
}
