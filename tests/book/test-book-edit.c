/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-answers.h"
#include "book-edit.h"
#include "book-history.h"
#include "book-shelf.h"
#include "store-check.h"
#include "store-undo.h"

#define SITTING 77

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
}

static gint64
type_reading (Shelf *shelf, const char *unit, const char *characteristic, const char *text)
{
  g_autoptr(GError) error = NULL;
  BookTyped typed;
  gint64 id;

  g_assert_true (book_typed_parse (BOOK_CHARACTERISTIC_MEASURED, text, &typed, NULL));
  book_edit_run (shelf->book,
                 book_edit_reading (shelf_id (shelf, BOOK_RECORD_UNIT, unit),
                                    shelf_id (shelf, BOOK_RECORD_CHARACTERISTIC, characteristic), 1, 1, &typed,
                                    "2026-02-10T08:00"),
                 shelf->person, SITTING, NULL, &id, &error);
  g_assert_no_error (error);
  return id;
}

static void
check_field (Shelf *shelf, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1", field);

  g_assert_cmpstr (text, ==, expected);
}

static void
test_a_typed_value_becomes_a_reading (void)
{
  gint64 first;
  Shelf shelf;

  filled (&shelf);
  first = type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1,27");
  check_field (&shelf, "value", "1.27");
  check_field (&shelf, "mark", "measured");
  check_field (&shelf, "taken", "2026-02-10T08:00");
  g_assert_cmpint (type_reading (&shelf, "HF/P1/P1-01", "HF/LE", ">1.5"), ==, first);
  check_field (&shelf, "value", "1.5");
  check_field (&shelf, "mark", "above");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 1);
  shelf_close (&shelf);
}

static void
check_void (Shelf *shelf, gint64 reading, const char *reason, gint64 person, const char *sentence)
{
  g_autoptr(GError) error = NULL;

  book_edit_run (shelf->book, book_edit_void (reading, reason), person, SITTING, NULL, NULL, &error);
  g_assert_cmpstr (error != NULL ? error->message : NULL, ==, sentence);
}

static BookEdit *
reading_edit (Shelf *shelf, const char *unit, guint n, double value)
{
  const BookTyped typed = { BOOK_MARK_MEASURED, TRUE, value };

  return book_edit_reading (shelf_id (shelf, BOOK_RECORD_UNIT, unit), shelf_id (shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE"), 1, n, &typed,
                            "2026-02-10");
}

/* A block is one action with one sentence; where one of its commands is refused none is stored. A note stays with its value. */
static void
test_several_commands_are_one_action (void)
{
  g_autoptr(GError) error = NULL;
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);
  BookEdit *noted;
  StoreReceipt receipt;
  Shelf shelf;
  gint64 round, reading;

  filled (&shelf);
  round = shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P1");
  noted = reading_edit (&shelf, "HF/P1/P1-01", 1, 1.27);
  book_edit_reading_note (noted, "burr");
  g_ptr_array_add (edits, noted);
  g_ptr_array_add (edits, reading_edit (&shelf, "HF/P1/P1-01", 2, 1.28));
  g_assert_true (book_edit_run (shelf.book, book_edit_several ("readings-typed", BOOK_RECORD_ROUND, round, edits), shelf.person, SITTING,
                                &receipt, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (receipt.inserted, ==, 2);
  check_field (&shelf, "reason", "burr");
  shelf_last_sentence (&shelf, "Typed 2 readings in: Round HF/P1");

  reading = shelf_id (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1");
  check_void (&shelf, reading, "gauge slipped", shelf.person, NULL);
  edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);
  g_ptr_array_add (edits, reading_edit (&shelf, "HF/P1/P1-01", 3, 1.29));
  g_ptr_array_add (edits, reading_edit (&shelf, "HF/P1/P1-01", 1, 1.30)); /* voided: stays as it is */
  g_assert_false (book_edit_run (shelf.book, book_edit_several ("readings-typed", BOOK_RECORD_ROUND, round, edits), shelf.person, SITTING,
                                 NULL, NULL, &error));
  g_assert_error (error, BOOK_ERROR, BOOK_ERROR_REFUSED);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 2);
  shelf_close (&shelf);
}

static void
test_voiding_wants_a_name_and_a_reason (void)
{
  gint64 reading;
  Shelf shelf;

  filled (&shelf);
  reading = type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "0.9");
  check_void (&shelf, reading, "  ", shelf.person, "A reading is voided only with a reason: write why.");
  check_void (&shelf, reading, "gauge slipped", 0, "A reading is voided only by name: choose first who writes.");
  check_void (&shelf, reading, "gauge slipped", shelf.person, NULL);
  check_void (&shelf, reading, "gauge slipped", shelf.person, "The reading is voided already.");
  check_field (&shelf, "voided", "yes");
  check_field (&shelf, "reason", "gauge slipped");
  check_field (&shelf, "value", "0.9");
  shelf_close (&shelf);
}

static void
test_undo_takes_back_one_command (void)
{
  const StoreIntent intent = { .action = "undo", .person = 0, .sitting = SITTING };
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.4");
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  check_field (&shelf, "value", "1.3");
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 0);
  g_assert_true (store_redo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  check_field (&shelf, "value", "1.3");
  g_assert_no_error (error);
  shelf_close (&shelf);
}

static void
test_people_and_units_are_added (void)
{
  const StoreHistoryQuery newest = { .table = -1, .most = 1 };
  g_autoptr(GPtrArray) actions = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *name = NULL;
  gint64 person;
  gint64 unit;
  Shelf shelf;

  filled (&shelf);
  g_assert_true (book_edit_run (shelf.book, book_edit_add_person ("RB", BOOK_ROLE_DESIGNER, "Rowan Birk"), 0, SITTING, NULL,
                                &person, &error));
  g_assert_true (book_person_name_read (shelf_db (&shelf), person, &name, &error));
  g_assert_cmpstr (name, ==, "Rowan Birk");
  g_assert_true (book_edit_run (shelf.book, book_edit_add_unit (shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P1"), " P1-02 ", 0),
                                person, SITTING, NULL, &unit, &error));
  g_assert_cmpint (shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-02"), ==, unit);
  g_assert_false (book_edit_run (shelf.book, book_edit_add_unit (shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P1"), "P1-02", 0),
                                 person, SITTING, NULL, &unit, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_RULE);
  g_assert_cmpint (unit, ==, 0);
  g_clear_error (&error);
  g_assert_true (book_edit_run (shelf.book, book_edit_field (BOOK_RECORD_MODEL, shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"),
                                                             "monthly_demand", "120"),
                                person, SITTING, NULL, NULL, &error));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT monthly_demand FROM model WHERE code = 'HF'"), ==, 120);
  actions = book_history_list (shelf_db (&shelf), &newest, &error);
  g_assert_cmpstr (((const BookHistoryAction *) actions->pdata[0])->sentence, ==, "Changed 'Monthly demand' of: Model HF");
  shelf_close (&shelf);
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **kept = data;

  *kept = g_object_ref (result);
}

static void
test_a_command_runs_in_the_background (void)
{
  g_autoptr(GAsyncResult) result = NULL;
  g_autoptr(GError) error = NULL;
  const BookTyped typed = { BOOK_MARK_MEASURED, TRUE, 1.25 };
  StoreReceipt receipt;
  gint64 id;
  Shelf shelf;

  filled (&shelf);
  book_edit_run_async (shelf.book,
                       book_edit_reading (shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01"),
                                          shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE"), 1, 1, &typed, NULL),
                       shelf.person, SITTING, NULL, on_done, &result);
  while (result == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (book_edit_run_finish (shelf.book, result, &receipt, &id, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (receipt.inserted, ==, 1);
  g_assert_cmpint (shelf_id (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1"), ==, id);
  shelf_close (&shelf);
}

static void
check_sentences (Shelf *shelf, const char *const *expected)
{
  const StoreHistoryQuery query = { .table = -1, .sitting = 0 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = book_history_list (shelf_db (shelf), &query, &error);

  g_assert_no_error (error);
  for (guint i = 0; expected[i] != NULL; i++)
    {
      g_assert_cmpuint (i, <, actions->len);
      g_assert_cmpstr (((BookHistoryAction *) actions->pdata[i])->sentence, ==, expected[i]);
    }
}

static char *
line_text (GPtrArray *lines, guint i)
{
  const BookHistoryLine *line = lines->pdata[i];

  return g_strdup_printf ("%s|%s|%s|%s", line->key, line->field->name, line->before != NULL ? line->before : "",
                          line->after != NULL ? line->after : "");
}

static GPtrArray *
lines_of (Shelf *shelf, guint back)
{
  const StoreHistoryQuery query = { .table = -1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = book_history_list (shelf_db (shelf), &query, &error);
  GPtrArray *lines = book_history_lines (shelf_db (shelf), ((BookHistoryAction *) actions->pdata[back])->id, NULL, 0, 100,
                                         G_MAXUINT64, NULL, &error);

  g_assert_no_error (error);
  return lines;
}

static void
check_lines (Shelf *shelf, guint back, const char *const *expected)
{
  g_autoptr(GPtrArray) lines = lines_of (shelf, back);

  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *line = line_text (lines, i);

      g_assert_nonnull (expected[i]);
      g_assert_cmpstr (line, ==, expected[i]);
    }
  g_assert_null (expected[lines->len]);
}

static void
check_difference (Shelf *shelf, const char *const *expected, guint64 records)
{
  g_autoptr(GError) error = NULL;
  guint64 n_records = 0;
  g_autoptr(GPtrArray) lines = book_history_compare (shelf_db (shelf), NULL, NULL, book_record (BOOK_RECORD_READING), 0, 100,
                                                     &n_records, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (n_records, ==, records);
  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *line = line_text (lines, i);

      g_assert_nonnull (expected[i]);
      g_assert_cmpstr (line, ==, expected[i]);
    }
  g_assert_null (expected[lines->len]);
}

static void
test_two_days_differ_by_what_is_left (void)
{
  static const char *const typed[] = { "HF/P1/P1-01/LE/1/1|unit||HF/P1/P1-01", "HF/P1/P1-01/LE/1/1|characteristic||HF/LE",
                                       "HF/P1/P1-01/LE/1/1|attempt||1", "HF/P1/P1-01/LE/1/1|n||1",
                                       "HF/P1/P1-01/LE/1/1|value||1.4", "HF/P1/P1-01/LE/1/1|mark||Measured",
                                       "HF/P1/P1-01/LE/1/1|voided||no", "HF/P1/P1-01/LE/1/1|taken||2026-02-10T08:00",
                                       "HF/P1/P1-01/LE/1/1|person||EH", NULL };
  static const char *const nothing[] = { NULL };
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.4");
  check_difference (&shelf, typed, 1);
  for (int i = 0; i < 2; i++)
    {
      StoreIntent intent = { .action = "undo", .person = shelf.person, .sitting = SITTING };

      g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
      g_assert_no_error (error);
    }
  check_difference (&shelf, nothing, 0);
  shelf_close (&shelf);
}

static void
test_history_tells_field_by_field (void)
{
  static const char *const sentences[] = { "Undone: Added a unit: Unit HF/P1/P1-09",
                                           "Added a unit: Unit HF/P1/P1-09",
                                           "Voided a reading: Reading HF/P1/P1-01/LE/1/1",
                                           "Changed a reading: Reading HF/P1/P1-01/LE/1/1",
                                           "Typed a reading: Reading HF/P1/P1-01/LE/1/1", NULL };
  static const char *const undone[] = { "HF/P1/P1-09|round|HF/P1|", "HF/P1/P1-09|serial|P1-09|", NULL };
  static const char *const voided[] = { "HF/P1/P1-01/LE/1/1|voided|no|yes", "HF/P1/P1-01/LE/1/1|reason||gauge slipped", NULL };
  static const char *const changed[] = { "HF/P1/P1-01/LE/1/1|value|1.3|1.4", NULL };
  static const char *const typed[] = { "HF/P1/P1-01/LE/1/1|unit||HF/P1/P1-01", "HF/P1/P1-01/LE/1/1|characteristic||HF/LE",
                                       "HF/P1/P1-01/LE/1/1|attempt||1", "HF/P1/P1-01/LE/1/1|n||1",
                                       "HF/P1/P1-01/LE/1/1|value||1.3", "HF/P1/P1-01/LE/1/1|mark||Measured",
                                       "HF/P1/P1-01/LE/1/1|voided||no", "HF/P1/P1-01/LE/1/1|taken||2026-02-10T08:00",
                                       "HF/P1/P1-01/LE/1/1|person||EH", NULL };
  const StoreIntent intent = { .action = "undo", .sitting = SITTING };
  g_autoptr(GError) error = NULL;
  gint64 reading;
  Shelf shelf;

  filled (&shelf);
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  reading = type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.4");
  check_void (&shelf, reading, "gauge slipped", shelf.person, NULL);
  g_assert_true (book_edit_run (shelf.book, book_edit_add_unit (shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P1"), "P1-09", 0),
                                shelf.person, SITTING, NULL, NULL, &error));
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));

  g_assert_no_error (error);
  check_sentences (&shelf, sentences);
  check_lines (&shelf, 0, undone);
  check_lines (&shelf, 2, voided);
  check_lines (&shelf, 3, changed);
  check_lines (&shelf, 4, typed);
  shelf_close (&shelf);
}

static gboolean
delete_round (StoreAction *action, gpointer data, GError **error)
{
  return book_record_delete (action, book_record (BOOK_RECORD_ROUND), *(gint64 *) data, error);
}

static void
test_history_names_what_is_gone (void)
{
  const StoreIntent intent = { .action = "record-deleted" };
  g_autoptr(GError) error = NULL;
  Shelf shelf;
  gint64 round;

  filled (&shelf);
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  round = shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P1");
  g_assert_true (store_write (book_get_store (shelf.book), &intent, delete_round, &round, NULL, NULL, &error));
  g_assert_no_error (error);
  {
    g_autoptr(GPtrArray) lines = lines_of (&shelf, 0);
    gboolean found = FALSE;

    for (guint i = 0; i < lines->len; i++)
      {
        const BookHistoryLine *line = lines->pdata[i];

        g_assert_cmpint (line->op, ==, STORE_DELETE);
        if (line->record->id == BOOK_RECORD_READING && g_str_equal (line->field->name, "unit"))
          {
            g_assert_cmpstr (line->before, ==, "HF/P1/P1-01");
            g_assert_cmpstr (line->key, ==, "HF/P1/P1-01/LE/1/1");
            found = TRUE;
          }
      }
    g_assert_true (found);
  }
  shelf_close (&shelf);
}

static void
test_the_book_holds_together (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  Shelf shelf;

  filled (&shelf);
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  shelf_write (&shelf, "attachment owner_record=unit | owner=HF/P1/P1-01 | no=1 | name=Photograph | link=photo.jpg\n");
  g_assert_true (store_check (book_get_store (shelf.book), TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((StoreFinding *) findings->pdata[i])->sentence);
  g_assert_cmpuint (findings->len, ==, 0);
  shelf_close (&shelf);
}

static gboolean
put_answer (StoreAction *action, gpointer data, GError **error)
{
  g_autoptr(GBytes) answer = g_bytes_new_static ("met", 3);

  return book_answer_put (action, data, answer, error);
}

static void
test_a_kept_answer_is_given_while_nothing_changed (void)
{
  const StoreIntent intent = { .action = "answer-kept" };
  BookQuestion question = { .question = "standing", .today = "2026-03-01" };
  g_autoptr(GBytes) answer = NULL;
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  question.model = shelf_id (&shelf, BOOK_RECORD_MODEL, "HF");
  g_assert_true (book_version_read (shelf_db (&shelf), question.model, &question.version, &error));
  g_assert_true (store_write (book_get_store (shelf.book), &intent, put_answer, &question, NULL, NULL, &error));
  g_assert_true (book_answer_get (shelf_db (&shelf), &question, &answer, &error));
  g_assert_nonnull (answer);
  g_assert_cmpmem (g_bytes_get_data (answer, NULL), g_bytes_get_size (answer), "met", 3);
  g_clear_pointer (&answer, g_bytes_unref);

  question.today = "2026-03-02";
  g_assert_true (book_answer_get (shelf_db (&shelf), &question, &answer, &error));
  g_assert_null (answer);

  question.today = "2026-03-01";
  type_reading (&shelf, "HF/P1/P1-01", "HF/LE", "1.3");
  g_assert_true (book_version_read (shelf_db (&shelf), question.model, &question.version, &error));
  g_assert_true (book_answer_get (shelf_db (&shelf), &question, &answer, &error));
  g_assert_null (answer);
  g_assert_no_error (error);
  shelf_close (&shelf);
}

static gboolean
write_setting (StoreAction *action, gpointer data, GError **error)
{
  return book_setting_write (action, "hourly cost", data, error);
}

static void
test_settings_are_kept_by_name (void)
{
  const StoreIntent intent = { .action = "test" };
  g_autoptr(GError) error = NULL;
  g_autofree char *value = NULL;
  Shelf shelf;

  filled (&shelf);
  g_assert_true (book_setting_read (shelf_db (&shelf), "hourly cost", &value, &error));
  g_assert_null (value);
  g_assert_true (store_write (book_get_store (shelf.book), &intent, write_setting, (gpointer) "54", NULL, NULL, &error));
  g_assert_true (store_write (book_get_store (shelf.book), &intent, write_setting, (gpointer) "58", NULL, NULL, &error));
  g_assert_true (book_setting_read (shelf_db (&shelf), "hourly cost", &value, &error));
  g_assert_cmpstr (value, ==, "58");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM setting"), ==, 1);
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/history/two-days-differ-by-what-is-left", test_two_days_differ_by_what_is_left);
  g_test_add_func ("/book/edit/a-typed-value-becomes-a-reading", test_a_typed_value_becomes_a_reading);
  g_test_add_func ("/book/edit/several-commands-are-one-action", test_several_commands_are_one_action);
  g_test_add_func ("/book/edit/voiding-wants-a-name-and-a-reason", test_voiding_wants_a_name_and_a_reason);
  g_test_add_func ("/book/edit/undo-takes-back-one-command", test_undo_takes_back_one_command);
  g_test_add_func ("/book/edit/people-and-units-are-added", test_people_and_units_are_added);
  g_test_add_func ("/book/edit/a-command-runs-in-the-background", test_a_command_runs_in_the_background);
  g_test_add_func ("/book/history/tells-field-by-field", test_history_tells_field_by_field);
  g_test_add_func ("/book/history/names-what-is-gone", test_history_names_what_is_gone);
  g_test_add_func ("/book/check/the-book-holds-together", test_the_book_holds_together);
  g_test_add_func ("/book/answers/a-kept-answer-is-given-while-nothing-changed",
                   test_a_kept_answer_is_given_while_nothing_changed);
  g_test_add_func ("/book/settings/are-kept-by-name", test_settings_are_kept_by_name);
  return g_test_run ();
}
