/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes from the proposal to carrying out, and what stands in the way of taking them back. */

#include "book-change.h"
#include "book-history.h"
#include "book-issue.h"
#include "book-shelf.h"
#include "store-undo.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "person initials=RB | role=designer\n"
               "person initials=MO | role=owner\n"
               "revision part=HF-20 | label=C | date=2026-02-20\n"
               "revision part=HF-20 | label=D | date=2026-02-25 | state=withdrawn\n"
               "step model=HF | position=30 | name=Harden\n"
               "step_setting step=HF/30 | name=temper | from_date=2026-01-05 | value=220 | unit=°C\n"
               "step_setting step=HF/30 | name=temper | from_date=2026-09-01 | value=200 | unit=°C\n"
               "characteristic model=HF | code=LS | name=Load at slip | unit=N | class=safety\n"
               "round model=HF | label=P3 | kind=prototype\n"
               "round_part round=HF/P3 | part=HF-20 | revision=HF-20/C | units=8\n"
               "issue model=HF | no=1 | title=Slips | class=safety\n");
}

static void
check_field (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) form = book_form_read (shelf_db (shelf), book_record (record), shelf_id (shelf, record, key), &error);

  g_assert_no_error (error);
  g_assert_cmpstr (book_form_find (form, field)->text, ==, expected);
}

/* A lever, a setting and a limit, for issue 1, proposed by the designer and entered by the lead. */
static gint64
propose (Shelf *shelf)
{
  BookEdit *edit = book_change_propose (shelf_id (shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title", "reason", "proposed_by", "proposed_on"),
                                        STRINGS ("Steeper ramp", "it slips", "RB", "2026-03-02"));

  book_change_propose_item (edit, STRINGS ("part", "new_label", "new"), STRINGS ("HF-20", "E", "ramp 12 degrees"));
  book_change_propose_item (edit, STRINGS ("step", "setting", "value"), STRINGS ("Harden", "temper", "205"));
  book_change_propose_item (edit, STRINGS ("characteristic", "lower", "upper"), STRINGS ("LE", "1,3", "1.6"));
  book_change_propose_issue (edit, shelf_id (shelf, BOOK_RECORD_ISSUE, "HF/1"));
  return shelf_run (shelf, edit);
}

static void
test_what_a_change_starts_from_is_filled_in (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) item = NULL;
  BookValue part;
  Shelf shelf;

  filled (&shelf);
  propose (&shelf);
  shelf_last_sentence (&shelf, "Proposed a change: Change HF/1");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "proposed_by", "RB");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "proposed_on", "2026-03-02");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "entered_by", "EH");
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/1", "old_revision", "HF-20/C"); /* D was withdrawn */
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/2", "old", "220 °C");           /* 200 holds from September on */
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/2", "new", "205 °C");
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/3", "old", "≥ 1.2 mm");
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/3", "new", "1.3 … 1.6 mm");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM change_issue"), ==, 1);

  item = book_form_new (shelf_db (&shelf), book_record (BOOK_RECORD_CHANGE_ITEM), shelf_id (&shelf, BOOK_RECORD_CHANGE, "HF/1"), &error);
  part = book_value_integer (shelf_id (&shelf, BOOK_RECORD_PART, "HF-20"));
  g_assert_true (book_form_set (item, shelf_db (&shelf), "part", &part, &error));
  g_assert_true (book_change_fill_old (shelf_db (&shelf), item, SHELF_TODAY, &error));
  g_assert_cmpstr (book_form_find (item, "old_revision")->text, ==, "HF-20/C");
  shelf_close (&shelf);
}

static void
test_carrying_out_writes_what_was_agreed (void)
{
  const StoreIntent intent = { .action = "undo", .sitting = SHELF_SITTING };
  g_autoptr(GError) error = NULL;
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  change = propose (&shelf);
  shelf_run_refused (&shelf, book_change_carry_out (change, NULL), "agreed_on", "Nobody has agreed to the change yet: that comes first.");
  shelf_run_refused (&shelf, book_change_agree (change, 0, "2026-03-01", 0, NULL), "agreed_on",
                     "The date lies before 'Proposed on': correct one of the two.");
  shelf_run (&shelf, book_change_agree (change, shelf_id (&shelf, BOOK_RECORD_PERSON, "MO"), "2026-03-04",
                                        shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P3"), NULL));
  shelf_last_sentence (&shelf, "Agreed: Change HF/1");
  shelf_run_refused (&shelf, book_change_agree (change, 0, NULL, 0, NULL), "agreed_on", "The change is agreed already.");
  shelf_run_refused (&shelf, book_change_add_item (change, STRINGS ("part", "new_label"), STRINGS ("HF-10", "B")), "agreed_on",
                     "The change is agreed as it stands: propose another one.");
  shelf_run_refused (&shelf, book_change_carry_out (change, "2026-03-03"), "carried_out", "The date lies before 'Agreed on': correct one of the two.");
  shelf_run (&shelf, book_change_carry_out (change, "2026-03-05"));
  shelf_last_sentence (&shelf, "Carried out: Change HF/1");

  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "carried_out", "2026-03-05");
  check_field (&shelf, BOOK_RECORD_REVISION, "HF-20/E", "state", "draft");
  check_field (&shelf, BOOK_RECORD_REVISION, "HF-20/E", "note", "ramp 12 degrees");
  check_field (&shelf, BOOK_RECORD_CHANGE_ITEM, "HF/1/1", "new_revision", "HF-20/E");
  check_field (&shelf, BOOK_RECORD_STEP_SETTING, "HF/30/temper/2026-03-05", "value", "205");
  check_field (&shelf, BOOK_RECORD_STEP_SETTING, "HF/30/temper/2026-03-05", "unit", "°C");
  check_field (&shelf, BOOK_RECORD_STEP_SETTING, "HF/30/temper/2026-03-05", "change", "HF/1");
  check_field (&shelf, BOOK_RECORD_LIMIT, "HF/LE/2026-03-05", "lower", "1.3");
  check_field (&shelf, BOOK_RECORD_LIMIT, "HF/LE/2026-03-05", "upper", "1.6");
  check_field (&shelf, BOOK_RECORD_LIMIT, "HF/LE/2026-03-05", "change", "HF/1");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN revision r ON r.id = p.revision WHERE r.label = 'E'"),
                   ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part"), ==, 1);

  shelf_run_refused (&shelf, book_change_carry_out (change, NULL), "carried_out", "The change is carried out already.");
  shelf_run_refused (&shelf, book_change_withdraw (change, NULL, "x"), "carried_out",
                     "The change is carried out: propose another one that goes on from it.");
  /* All of it is one action. */
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM revision WHERE label = 'E') + (SELECT count(*) FROM \"limit\") * 10"
                                          " + (SELECT count(*) FROM step_setting) * 100 + (SELECT count(carried_out) FROM change) * 1000"),
                   ==, 210);
  shelf_close (&shelf);
}

static void
test_from_a_serial_on_the_round_is_split (void)
{
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  change = propose (&shelf);
  shelf_run (&shelf, book_change_agree (change, 0, NULL, shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P3"), "P3-05"));
  shelf_run (&shelf, book_change_carry_out (change, NULL));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN revision r ON r.id = p.revision "
                                          "WHERE (r.label = 'E' AND p.first_serial = 'P3-05') OR (r.label = 'C' AND p.units = 8)"), ==, 2);
  shelf_close (&shelf);
}

static void
test_the_plan_of_a_built_round_stays (void)
{
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "round model=HF | label=P4 | kind=prototype | built=2026-03-01\nround_part round=HF/P4 | part=HF-20 | revision=HF-20/C\n");
  change = propose (&shelf);
  shelf_run (&shelf, book_change_agree (change, 0, NULL, shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P4"), NULL));
  shelf_run (&shelf, book_change_carry_out (change, NULL));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN revision r ON r.id = p.revision WHERE r.label = 'E'"),
                   ==, 0);
  shelf_close (&shelf);
}

static void
test_an_item_that_says_too_little_stops_it_all (void)
{
  BookEdit *edit;
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  shelf_run_refused (&shelf, book_change_agree (shelf_run (&shelf, book_change_propose (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title"), STRINGS ("Empty"))),
                                                0, NULL, 0, NULL),
                     NULL, "The change says nothing that is to be different: add an item first, old and new.");
  edit = book_change_propose (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title"), STRINGS ("Words only"));
  book_change_propose_item (edit, STRINGS ("part", "new_label"), STRINGS ("HF-10", "B"));
  book_change_propose_item (edit, STRINGS ("step", "setting", "new"), STRINGS ("30", "temper", "cooler"));
  change = shelf_run (&shelf, edit);
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/2", "proposed_by", "EH");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/2", "entered_by", "");
  shelf_run (&shelf, book_change_agree (change, 0, NULL, 0, NULL));
  shelf_run_refused (&shelf, book_change_carry_out (change, NULL), "value", "Item 2: it says no new value of the setting: write it.");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM revision r JOIN part p ON p.id = r.part WHERE p.number = 'HF-10'"), ==, 1);
  edit = book_change_propose (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title"), STRINGS ("x"));
  book_change_propose_item (edit, STRINGS ("part", "value"), STRINGS ("HF-10", "3"));
  shelf_run_refused (&shelf, edit, "step", "It is empty, but must be filled in where 'New value' is.");
  shelf_close (&shelf);
}

static void
test_carried_over_wants_reason_name_and_a_second_for_safety (void)
{
  gint64 change, le, ls, mo;
  Shelf shelf;

  filled (&shelf);
  change = propose (&shelf);
  le = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE");
  ls = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LS");
  mo = shelf_id (&shelf, BOOK_RECORD_PERSON, "MO");
  shelf_run_refused (&shelf, book_change_set_effect (change, le, BOOK_EFFECT_CARRIED_OVER, 0, 0, NULL), "reason",
                     "Older readings are carried over only with a reason: write why.");
  shelf_run_refused_to (&shelf, book_change_set_effect (change, le, BOOK_EFFECT_CARRIED_OVER, 0, 0, "not touched"), 0, "person",
                        "Older readings are carried over only by name: write who.");
  shelf_run (&shelf, book_change_set_effect (change, le, BOOK_EFFECT_CARRIED_OVER, 0, 0, "not touched"));
  shelf_run_refused (&shelf, book_change_set_effect (change, ls, BOOK_EFFECT_CARRIED_OVER, 0, 0, "not touched"), "second_person",
                     "The characteristic is about safety: a second person must agree.");
  shelf_run_refused (&shelf, book_change_set_effect (change, ls, BOOK_EFFECT_CARRIED_OVER, 0, shelf.person, "not touched"), "second_person",
                     "The second person must be another one.");
  shelf_run (&shelf, book_change_set_effect (change, ls, BOOK_EFFECT_CARRIED_OVER, 0, mo, "not touched"));
  shelf_run (&shelf, book_change_set_effect (change, ls, BOOK_EFFECT_MEASURE_AGAIN, 0, 0, NULL)); /* the same row */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM change_effect"), ==, 2);

  /* Nor does it help to carry over first and to call it safety afterwards. */
  shelf_run_refused (&shelf, book_edit_record (BOOK_RECORD_CHARACTERISTIC, le, STRINGS ("class"), STRINGS ("safety"), NULL), NULL,
                         "Characteristic 'HF/LE', Class: Readings were carried over without a second person: name one there first.");
  shelf_run (&shelf, book_change_set_effect (change, le, BOOK_EFFECT_CARRIED_OVER, 0, mo, "not touched"));
  shelf_run (&shelf, book_edit_record (BOOK_RECORD_CHARACTERISTIC, le, STRINGS ("class"), STRINGS ("safety"), NULL));
  shelf_close (&shelf);
}

static void
test_what_was_agreed_is_not_deleted (void)
{
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  shelf_run (&shelf, book_edit_delete (BOOK_RECORD_CHANGE, propose (&shelf)));
  change = propose (&shelf);
  shelf_run (&shelf, book_change_agree (change, 0, NULL, 0, NULL));
  shelf_run_refused (&shelf, book_edit_delete (BOOK_RECORD_CHANGE, change), NULL,
                     "Change 'HF/1': it is agreed, so it stays: withdraw it with a reason.");
  shelf_run (&shelf, book_change_carry_out (change, NULL));
  shelf_run_refused (&shelf, book_edit_delete (BOOK_RECORD_CHANGE, change), NULL,
                     "Change 'HF/1': it is carried out, so it stays: propose another one that goes on from it.");
  shelf_close (&shelf);
}

static void
test_withdrawing_wants_a_reason (void)
{
  gint64 change;
  Shelf shelf;

  filled (&shelf);
  change = propose (&shelf);
  shelf_run_refused (&shelf, book_change_withdraw (change, NULL, ""), "withdrawn_reason", "It is empty, but must be filled in where 'Withdrawn' is.");
  shelf_run_refused (&shelf, book_change_withdraw (change, "2026-03-01", "x"), "withdrawn", "The date lies before 'Proposed on': correct one of the two.");
  shelf_run (&shelf, book_change_withdraw (change, NULL, "the plating flaked"));
  shelf_last_sentence (&shelf, "Withdrew: Change HF/1");
  shelf_run_refused (&shelf, book_change_agree (change, 0, NULL, 0, NULL), "withdrawn", "The change is withdrawn: propose a new one.");
  shelf_run_refused (&shelf, book_change_carry_out (change, NULL), "withdrawn", "The change is withdrawn: propose a new one.");
  shelf_close (&shelf);
}

static void
test_undo_of_an_issue_names_the_change_that_needs_it (void)
{
  const StoreIntent intent = { .action = "undo", .sitting = SHELF_SITTING, .person = 0 };
  const StoreHistoryQuery query = { .table = -1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(StoreActionInfo) later = NULL;
  g_autoptr(GPtrArray) actions = NULL;
  g_autofree char *sentence = NULL;
  BookEdit *edit;
  gint64 issue;
  Shelf shelf;

  filled (&shelf);
  issue = shelf_run (&shelf, book_issue_raise (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title", "class"), STRINGS ("Sticks", "function"), NULL, NULL));
  edit = book_change_propose (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title"), STRINGS ("Polish the ramp"));
  book_change_propose_item (edit, STRINGS ("part", "new_label"), STRINGS ("HF-20", "E"));
  book_change_propose_issue (edit, issue);
  shelf_run (&shelf, edit);

  actions = book_history_list (shelf_db (&shelf), &query, &error);
  g_assert_no_error (error);
  g_assert_false (store_undo (book_get_store (shelf.book), &intent, ((BookHistoryAction *) actions->pdata[1])->id, NULL, &block, NULL, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CONFLICT);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_REFERRED);
  g_assert_cmpuint (block->n_actions, ==, 1);
  later = store_history_get (shelf_db (&shelf), block->actions[0], NULL);
  sentence = book_history_sentence (shelf_db (&shelf), later);
  g_assert_cmpstr (sentence, ==, "Proposed a change: Change HF/1");
  g_assert_cmpint (shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2"), ==, issue); /* still there */
  g_clear_error (&error);

  /* Without the change it goes. */
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM issue"), ==, 1);
  shelf_close (&shelf);
}

static void
test_what_it_came_with_is_one_with_it (void)
{
  const StoreIntent intent = { .action = "undo", .sitting = SHELF_SITTING };
  g_autoptr(GBytes) bytes = g_bytes_new_static ("please: ramp 12 degrees", 23);
  const BookAttachable what[] = { { .kind = BOOK_ATTACHMENT_OTHER, .name = "mail.txt", .bytes = bytes },
                                  { .kind = BOOK_ATTACHMENT_DRAWING, .name = "cabinet 2", .link = "https://example.org/drawing" } };
  g_autoptr(GError) error = NULL;
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  edit = book_change_propose (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("title"), STRINGS ("Steeper ramp"));
  book_change_propose_attach (edit, what, 1);
  book_change_propose_attach (edit, what, G_N_ELEMENTS (what)); /* the later call counts */
  shelf_run (&shelf, edit);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM attachment"), ==, 2);
  check_field (&shelf, BOOK_RECORD_ATTACHMENT, "change/HF\\/1/1", "name", "mail.txt");
  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error)); /* one undo for both */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM attachment"), ==, 0);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM change"), ==, 0);
  shelf_close (&shelf);
}

#define TEST(path, func) g_test_add_func ("/book/change/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("what-it-starts-from-is-filled-in", test_what_a_change_starts_from_is_filled_in);
  TEST ("what-it-came-with-is-one-with-it", test_what_it_came_with_is_one_with_it);
  TEST ("carrying-out-writes-what-was-agreed", test_carrying_out_writes_what_was_agreed);
  TEST ("from-a-serial-on-the-round-is-split", test_from_a_serial_on_the_round_is_split);
  TEST ("the-plan-of-a-built-round-stays", test_the_plan_of_a_built_round_stays);
  TEST ("an-item-that-says-too-little-stops-it-all", test_an_item_that_says_too_little_stops_it_all);
  TEST ("carried-over-wants-reason-name-and-a-second-for-safety", test_carried_over_wants_reason_name_and_a_second_for_safety);
  TEST ("what-was-agreed-is-not-deleted", test_what_was_agreed_is_not_deleted);
  TEST ("withdrawing-wants-a-reason", test_withdrawing_wants_a_reason);
  TEST ("undo-of-an-issue-names-the-change-that-needs-it", test_undo_of_an_issue_names_the_change_that_needs_it);
  return g_test_run ();
}
