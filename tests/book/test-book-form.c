/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any record through the texts of a form: reading, storing, choosing references, two people at one record. */

#include "book-edit.h"
#include "book-form.h"
#include "book-shelf.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
}

static void
check_field (BookForm *form, const char *name, const char *text, const char *shown)
{
  BookFormField *field = book_form_find (form, name);

  g_assert_nonnull (field);
  g_assert_cmpstr (field->text, ==, text);
  g_assert_cmpstr (field->shown, ==, shown);
}

static void
test_a_record_goes_out_as_texts_and_comes_back (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) form = NULL;
  BookEdit *edit;
  gint64 first;
  gint64 second;
  Shelf shelf;

  filled (&shelf);
  edit = book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("title", "class", "found_on", "characteristic", "owner", "seen_load"),
                           STRINGS ("Lock slips", "safety", "2026-03-04", "le", "EH", "12,5"), NULL);
  book_edit_record_refer (edit, "model", shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  first = shelf_run (&shelf, edit);
  edit = book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "title", "class"), STRINGS ("HF", "Lever sticks", "function"),
                           NULL);
  second = shelf_run (&shelf, edit);
  g_assert_cmpint (shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2"), ==, second);

  form = book_form_read (shelf_db (&shelf), book_record (BOOK_RECORD_ISSUE), first, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (form->key, ==, "HF/1");
  g_assert_cmpint (form->model, ==, shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  check_field (form, "no", "1", "1");
  check_field (form, "title", "Lock slips", "Lock slips");
  check_field (form, "class", "safety", "Safety");
  check_field (form, "characteristic", "HF/LE", "LE Lock engagement");
  check_field (form, "owner", "EH", "EH");
  check_field (form, "seen_load", "12.5", "12.5");
  check_field (form, "seen_in_life_test", "no", "no");
  check_field (form, "cause", "", "");
  g_assert_cmpint (book_form_find (form, "owner")->refers, ==, shelf.person);
  shelf_close (&shelf);
}

static void
test_a_new_form_holds_what_stands_in_a_new_record (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) form = NULL;
  Shelf shelf;

  filled (&shelf);
  form = book_form_new (shelf_db (&shelf), book_record (BOOK_RECORD_CHARACTERISTIC), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"),
                        &error);
  g_assert_no_error (error);
  check_field (form, "model", "HF", "HF Hawfinch, a folding saw");
  check_field (form, "kind", "measured", "Measured");
  check_field (form, "decimals", "2", "2");
  check_field (form, "code", "", "");
  g_assert_cmpint (form->id, ==, 0);
  g_assert_cmpint (form->model, ==, shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  shelf_close (&shelf);
}

static void
test_a_refusal_names_the_field (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "class"), STRINGS ("HF", "safety"), NULL),
                     "title", "It is empty, but must be filled in.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "title", "class"), STRINGS ("HF", "x", "safe"), NULL),
                     "class", "'safe' is none of the choices; did you mean 'safety'? The choices are: safety, function, appearance.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "title", "class", "found_on"),
                                               STRINGS ("HF", "x", "safety", "2026-03-11"), NULL),
                     "found_on", "The day has not come yet: write today's or an earlier one.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "title", "class", "found_on", "contained"),
                                               STRINGS ("HF", "x", "safety", "2026-03-09", "2026-03-08"), NULL),
                     "contained", "The date lies before 'Found on': correct one of the two.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_ISSUE, 0, STRINGS ("model", "title", "class", "characteristic"),
                                               STRINGS ("HF", "x", "safety", "KH"), NULL),
                     "characteristic", "'KH' is none of these: Characteristics. Choose one from the list.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_UNIT, 0, STRINGS ("round", "serial"), STRINGS ("HF/P1", "P1-01"), NULL),
                     "serial", "Unit 'HF/P1/P1-01' is there already: choose another, or change that one.");
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_TODO, 0, STRINGS ("what", "about"), STRINGS ("ask", "HF"), NULL), "about",
                     "Choose first what kind of record it is about.");
  shelf_close (&shelf);
}

static void
test_references_are_understood_as_people_write_them (void)
{
  g_autoptr(GError) error = NULL;
  const BookRecord *units = book_record (BOOK_RECORD_UNIT);
  const BookRecord *revisions = book_record (BOOK_RECORD_REVISION);
  const BookRecord *persons = book_record (BOOK_RECORD_PERSON);
  gint64 unit;
  gint64 model;
  gint64 id;
  Shelf shelf;
  StoreDb *db;

  filled (&shelf);
  shelf_write (&shelf, "revision part=HF-10 | label=B\nround model=WT | label=P1 | kind=prototype\nunit round=WT/P1 | serial=P1-01\n");
  g_assert_true (book_edit_run (shelf.book, book_edit_record (BOOK_RECORD_PERSON, shelf.person, STRINGS ("name"), STRINGS ("Esme Holt"), NULL),
                                shelf.person, 7, NULL, NULL, &error));
  db = shelf_db (&shelf);
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  model = shelf_id (&shelf, BOOK_RECORD_MODEL, "HF");
  for (guint i = 0; i < 4; i++)
    {
      static const char *const texts[] = { "HF/P1/P1-01", "P1/P1-01", " p1-01 ", "P1-01" };

      g_assert_true (book_option_find (db, units, model, 0, texts[i], &id, &error));
      g_assert_cmpint (id, ==, unit);
    }
  g_assert_false (book_option_find (db, units, 0, 0, "P1-01", &id, &error)); /* two models have one */
  g_assert_error (error, BOOK_ERROR, BOOK_ERROR_VALUE);
  g_clear_error (&error);
  g_assert_false (book_option_find (db, revisions, 0, 0, "B", &id, &error));
  g_clear_error (&error);
  g_assert_true (book_option_find (db, revisions, 0, shelf_id (&shelf, BOOK_RECORD_PART, "HF-20"), "b", &id, &error));
  g_assert_cmpint (id, ==, shelf_id (&shelf, BOOK_RECORD_REVISION, "HF-20/B"));
  g_assert_true (book_option_find (db, persons, model, 0, "esme holt", &id, &error));
  g_assert_cmpint (id, ==, shelf.person);
  g_assert_true (book_option_find (db, persons, model, 0, "", &id, &error));
  g_assert_cmpint (id, ==, 0);
  shelf_close (&shelf);
}

static void
check_options (Shelf *shelf, BookRecordId record, gint64 model, const char *words, const char *const *expected)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) options = book_options_list (shelf_db (shelf), book_record (record), model, 0, words, 0, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < options->len; i++)
    g_assert_cmpstr (((BookOption *) options->pdata[i])->label, ==, expected[i]);
  g_assert_null (expected[options->len]);
}

static void
test_a_reference_chooses_from_its_model (void)
{
  gint64 model;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "person initials=XX | role=maker | active=no\nissue model=HF | no=1 | title=Lock slips | class=safety\n");
  model = shelf_id (&shelf, BOOK_RECORD_MODEL, "HF");
  check_options (&shelf, BOOK_RECORD_CHARACTERISTIC, model, NULL, STRINGS ("LE Lock engagement", "LV Lever sticks"));
  check_options (&shelf, BOOK_RECORD_CHARACTERISTIC, model, "STICK lév", STRINGS ("LV Lever sticks"));
  check_options (&shelf, BOOK_RECORD_CHARACTERISTIC, 0, "hard", STRINGS ("KH Hardness"));
  check_options (&shelf, BOOK_RECORD_PERSON, model, "", STRINGS ("EH"));
  check_options (&shelf, BOOK_RECORD_UNIT, model, "", STRINGS ("P1/P1-01", "P2/P2-01"));
  check_options (&shelf, BOOK_RECORD_ISSUE, model, "slip", STRINGS ("1 Lock slips"));
  shelf_close (&shelf);
}

static void
test_two_people_at_one_record_lose_nothing (void)
{
  g_autoptr(GError) error = NULL;
  const char *const fields[] = { "title", "cause", "owner", NULL };
  gint64 id;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety | cause=ramp\n");
  id = shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/1");

  /* The first changes the cause. The second had read the record before: another field goes through … */
  shelf_run (&shelf, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("Slips", "spring", ""), STRINGS ("Slips", "ramp", "")));
  shelf_run (&shelf, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("Slips at cold", "ramp", "EH"),
                                       STRINGS ("Slips", "ramp", "")));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM issue WHERE title = 'Slips at cold' AND cause = 'spring' AND owner > 0"),
                   ==, 1);
  /* … and the same field is refused with what it holds now. */
  g_assert_false (book_edit_run (shelf.book, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("Slips", "lever", "EH"),
                                                               STRINGS ("Slips", "ramp", "EH")),
                                 shelf.person, 8, NULL, NULL, &error));
  g_assert_error (error, BOOK_ERROR, BOOK_ERROR_CHANGED);
  g_assert_cmpstr (book_error_field (error), ==, "cause");
  g_assert_cmpstr (book_error_now (error), ==, "spring");
  g_assert_cmpstr (error->message, ==, "Somebody changed it meanwhile; it now holds: 'spring'. Keep that, or write yours again.");
  /* Both wrote the same: nothing to decide. */
  shelf_run (&shelf, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("Slips", "spring", "EH"), STRINGS ("Slips", "ramp", "EH")));
  shelf_close (&shelf);
}

static void
test_two_windows_queue_edits_of_one_issue (void)
{
  const char *const fields[] = { "cause", NULL };
  g_autoptr(GError) error = NULL;
  g_autoptr(Book) other = NULL;
  gint64 id;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\n");
  id = shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/1");
  other = book_open (shelf.path, &shelf.options, &error);
  g_assert_no_error (error);
  g_assert_true (book_edit_run (other, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("ramp"), STRINGS ("")), shelf.person,
                                8, NULL, NULL, &error));
  g_assert_false (book_edit_run (shelf.book, book_edit_record (BOOK_RECORD_ISSUE, id, fields, STRINGS ("spring"), STRINGS ("")),
                                 shelf.person, 7, NULL, NULL, &error));
  g_assert_error (error, BOOK_ERROR, BOOK_ERROR_CHANGED);
  g_assert_cmpstr (book_error_now (error), ==, "ramp");
  g_clear_error (&error);
  g_assert_true (book_close (g_steal_pointer (&other), &error));
  shelf_close (&shelf);
}

static void
test_a_record_is_deleted_with_what_belongs_to_it (void)
{
  g_autoptr(GError) error G_GNUC_UNUSED = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "change model=HF | no=1 | title=x\nchange_item change=HF/1 | no=1 | part=HF-10\n");
  shelf_run (&shelf, book_edit_delete (BOOK_RECORD_CHANGE, shelf_id (&shelf, BOOK_RECORD_CHANGE, "HF/1")));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM change) + (SELECT count(*) FROM change_item)"), ==, 0);
  shelf_close (&shelf);
}

#define TEST(path, func) g_test_add_func ("/book/form/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("a-record-goes-out-as-texts-and-comes-back", test_a_record_goes_out_as_texts_and_comes_back);
  TEST ("a-new-form-holds-what-stands-in-a-new-record", test_a_new_form_holds_what_stands_in_a_new_record);
  TEST ("a-refusal-names-the-field", test_a_refusal_names_the_field);
  TEST ("references-are-understood-as-people-write-them", test_references_are_understood_as_people_write_them);
  TEST ("a-reference-chooses-from-its-model", test_a_reference_chooses_from_its_model);
  TEST ("two-people-at-one-record-lose-nothing", test_two_people_at_one_record_lose_nothing);
  TEST ("two-windows-queue-edits-of-one-issue", test_two_windows_queue_edits_of_one_issue);
  TEST ("a-record-is-deleted-with-what-belongs-to-it", test_a_record_is_deleted_with_what_belongs_to_it);
  return g_test_run ();
}
