/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opinions, exceptions and the decision about a gate: by name, with a reason, once and for good. */

#include "book-release.h"
#include "book-shelf.h"
#include "store-content.h"
#include "store-undo.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "person initials=AW | role=owner\n"
               "person initials=MO | role=lead\n"
               "gate model=HF | position=1 | name=Release\n"
               "gate model=HF | position=2 | name=Series\n"
               "criterion gate=HF/1 | model=HF | code=C1 | kind=measured | characteristic=HF/LE\n");
}

static gint64
gate_of (Shelf *shelf)
{
  return shelf_id (shelf, BOOK_RECORD_GATE, "HF/1");
}

static BookVersion
version_of (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  BookVersion version;

  g_assert_true (book_version_read (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "HF"), &version, &error));
  g_assert_no_error (error);
  return version;
}

static BookEdit *
decide (Shelf *shelf, const char *const *fields, const char *const *texts)
{
  g_autoptr(GBytes) evidence = g_bytes_new_static ("{\"met\":3}", 9);
  BookVersion seen = version_of (shelf);

  return book_release_decide (gate_of (shelf), fields, texts, evidence, &seen);
}

static void
check_get (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpstr (text, ==, expected);
}

/* An undo must be refused and leave everything. */
static void
check_lasting (Shelf *shelf)
{
  const StoreIntent intent = { .action = "undo", .sitting = SHELF_SITTING };
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_false (store_undo (book_get_store (shelf->book), &intent, 0, NULL, &block, NULL, &error));
  g_assert_nonnull (error);
  g_assert_nonnull (block);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_NEVER);
}

static void
test_an_opinion_has_a_name (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run_refused_to (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion"), STRINGS ("agree")), 0, "person",
                        "An opinion is noted only by name: choose first whose it is.");
  shelf_run_refused (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("person"), STRINGS ("MO")), "opinion",
                     "Choose the opinion: in favour, in favour with conditions, or against.");
  shelf_run_refused (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion", "person"), STRINGS ("agree with conditions", "MO")),
                     "conditions", "Write under which conditions.");
  shelf_run_refused (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion", "date"), STRINGS ("agree", "2036-01-01")), "date",
                     "The day has not come yet: write today's or an earlier one.");
  shelf_run (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion", "person"), STRINGS ("disagree", "MO")));
  shelf_last_sentence (&shelf, "Noted an opinion: Sign-off HF/1/MO/1");
  check_get (&shelf, BOOK_RECORD_SIGNOFF, "HF/1/MO/1", "date", SHELF_TODAY);
  check_lasting (&shelf);
  shelf_run (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion", "person"), STRINGS ("agree", "MO")));
  check_get (&shelf, BOOK_RECORD_SIGNOFF, "HF/1/MO/1", "opinion", "disagree");
  check_get (&shelf, BOOK_RECORD_SIGNOFF, "HF/1/MO/2", "opinion", "agree");
  shelf_close (&shelf);
}

static void
test_a_waiver_has_a_reason_and_an_end (void)
{
  gint64 criterion;
  Shelf shelf;

  filled (&shelf);
  criterion = shelf_id (&shelf, BOOK_RECORD_CRITERION, "HF/C1");
  shelf_run_refused_to (&shelf, book_release_waive (criterion, STRINGS ("reason", "until"), STRINGS ("small batch", "2026-06-01")), 0,
                        "person", "A criterion is waived only by name: choose first who waives it.");
  shelf_run_refused (&shelf, book_release_waive (criterion, STRINGS ("until"), STRINGS ("2026-06-01")), "reason",
                     "It is empty, but must be filled in.");
  shelf_run_refused (&shelf, book_release_waive (criterion, STRINGS ("reason"), STRINGS ("small batch")), "until",
                     "A waiver ends: write the last day on which it holds.");
  shelf_run_refused (&shelf, book_release_waive (criterion, STRINGS ("reason", "until"), STRINGS ("small batch", "2026-03-01")), "until",
                     "The date lies before 'On': correct one of the two.");
  shelf_run (&shelf, book_release_waive (criterion, STRINGS ("reason", "until", "person"), STRINGS ("small batch", "2026-06-01", "AW")));
  shelf_last_sentence (&shelf, "Waived a criterion: Waiver HF/C1/1");
  check_lasting (&shelf);
  shelf_close (&shelf);
}

static void
test_only_an_owner_decides (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run_refused_to (&shelf, decide (&shelf, STRINGS ("verdict"), STRINGS ("release")), 0, "person",
                        "It is decided only by name: choose first who decides.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release", "MO")), "person",
                     "The owner decides: choose a person whose role is owner.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("person"), STRINGS ("AW")), "verdict",
                     "Choose what is decided: release, another round, or stop.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release at most", "AW")), "at_most_units",
                     "Write how many units may be made at most.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "at_most_units", "person"), STRINGS ("release", "200", "AW")), "at_most_units",
                     "A number of units belongs to 'Release of at most' alone.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release with conditions", "AW")), "conditions",
                     "Write under which conditions.");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM decision) + (SELECT count(*) FROM content)"), ==, 0);
  shelf_run (&shelf, decide (&shelf, STRINGS ("verdict", "at_most_units", "person"), STRINGS ("release at most", "200", "AW")));
  shelf_last_sentence (&shelf, "Decided: Decision HF/1/1");
  check_get (&shelf, BOOK_RECORD_DECISION, "HF/1/1", "at_most_units", "200");
  check_lasting (&shelf);
  shelf_close (&shelf);
}

static void
test_a_decision_keeps_what_was_known (void)
{
  g_autofree char *sha256 = NULL;
  g_autoptr(GBytes) kept = NULL;
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_run (&shelf, decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("another round", "AW")));
  sha256 = shelf_get (&shelf, BOOK_RECORD_DECISION, "HF/1/1", "evidence");
  /* sha256sum of the nine bytes, by coreutils */
  g_assert_cmpstr (sha256, ==, "19fcf1cd7aa162705d90323255fc88d49d45545956345a50b052de21e8daf3ac");
  kept = store_content_read (shelf_db (&shelf), sha256, &error);
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (kept, NULL), g_bytes_get_size (kept), "{\"met\":3}", 9);
  shelf_close (&shelf);
}

static void
test_conditions_become_things_to_do (void)
{
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  edit = decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release with conditions", "AW"));
  book_release_condition (edit, "Third spring lot measured", "MO", "");
  shelf_run_refused (&shelf, edit, "due", "A condition says what is to be done, by whom, and until when: write all three.");

  edit = decide (&shelf, STRINGS ("verdict", "person", "conditions"), STRINGS ("release with conditions", "AW", "Only for the spring fair."));
  book_release_condition (edit, "Third spring lot measured", "MO", "2026-04-01");
  book_release_condition (edit, "Instructions approved", "AW", "2026-04-15");
  shelf_run (&shelf, edit);
  check_get (&shelf, BOOK_RECORD_DECISION, "HF/1/1", "conditions",
             "Only for the spring fair.\nThird spring lot measured (MO, 2026-04-01)\nInstructions approved (AW, 2026-04-15)");
  check_get (&shelf, BOOK_RECORD_TODO, "1", "what", "Third spring lot measured");
  check_get (&shelf, BOOK_RECORD_TODO, "2", "due", "2026-04-15");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM todo t JOIN decision d ON t.about = d.id"), ==, 2);
  shelf_close (&shelf);
}

/* As a person writes them: a line each. */
static void
test_conditions_are_lines (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person", "conditions"), STRINGS ("release with conditions", "AW", "Third lot; MO; 2026-04-01\nInstructions")),
                     "conditions", "Line 2 does not say a condition: write what is to be done; who; until when, with a semicolon between.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person", "conditions"), STRINGS ("release with conditions", "AW", "Third lot; MO; April")),
                     "conditions", "'April' is not a date that exists: write it like 2026-03-31.");
  shelf_run_refused (&shelf, decide (&shelf, STRINGS ("verdict", "person", "conditions"), STRINGS ("release with conditions", "AW", "Third lot; ; 2026-04-01")),
                     "conditions", "A condition says what is to be done, by whom, and until when: write all three.");
  shelf_run (&shelf, decide (&shelf, STRINGS ("verdict", "person", "conditions"),
                             STRINGS ("release with conditions", "AW", "Third spring lot measured; MO; 2026-04-01\n\nInstructions approved; AW; 2026-04-15\n")));
  check_get (&shelf, BOOK_RECORD_DECISION, "HF/1/1", "conditions",
             "Third spring lot measured; MO; 2026-04-01\n\nInstructions approved; AW; 2026-04-15");
  check_get (&shelf, BOOK_RECORD_TODO, "1", "what", "Third spring lot measured");
  check_get (&shelf, BOOK_RECORD_TODO, "2", "due", "2026-04-15");
  shelf_close (&shelf);
}

static void
test_nobody_decides_on_what_he_has_not_seen (void)
{
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  edit = decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release", "AW"));
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\n");
  shelf_run_refused (&shelf, edit, NULL,
                     "Something was entered since the evidence was put together: look at it again, then decide.");
  edit = decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release", "AW"));
  shelf_write (&shelf, "holiday date=2026-12-24\n"); /* shared by all models */
  shelf_run_refused (&shelf, edit, NULL,
                     "Something was entered since the evidence was put together: look at it again, then decide.");
  shelf_close (&shelf);
}

static void
test_only_a_later_one_withdraws (void)
{
  gint64 decision, signoff;
  Shelf shelf;

  filled (&shelf);
  signoff = shelf_run (&shelf, book_release_sign (gate_of (&shelf), STRINGS ("opinion", "person"), STRINGS ("agree", "MO")));
  decision = shelf_run (&shelf, decide (&shelf, STRINGS ("verdict", "person"), STRINGS ("release", "AW")));
  shelf_run_refused (&shelf, book_release_withdraw (BOOK_RECORD_DECISION, decision, STRINGS ("person"), STRINGS ("AW")), "reason",
                     "It is withdrawn only with a reason: write why.");
  shelf_run_refused (&shelf, book_release_withdraw (BOOK_RECORD_DECISION, decision, STRINGS ("person", "reason"), STRINGS ("MO", "slips")),
                     "person", "The owner decides: choose a person whose role is owner.");
  shelf_run (&shelf, book_release_withdraw (BOOK_RECORD_DECISION, decision, STRINGS ("person", "reason"), STRINGS ("AW", "slips")));
  shelf_last_sentence (&shelf, "Withdrew a decision: Decision HF/1/2");
  check_get (&shelf, BOOK_RECORD_DECISION, "HF/1/1", "verdict", "release");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT withdraws FROM decision WHERE no = 2"), ==, decision);
  shelf_run_refused (&shelf, book_release_withdraw (BOOK_RECORD_DECISION, decision, STRINGS ("person", "reason"), STRINGS ("AW", "again")),
                     "withdraws", "It is withdrawn already: note a new one instead.");
  shelf_run_refused (&shelf,
                     book_release_withdraw (BOOK_RECORD_DECISION, shelf_id (&shelf, BOOK_RECORD_DECISION, "HF/1/2"),
                                            STRINGS ("person", "reason"), STRINGS ("AW", "again")),
                     "withdraws", "It is withdrawn already: note a new one instead.");
  shelf_run (&shelf, book_release_withdraw (BOOK_RECORD_SIGNOFF, signoff, STRINGS ("reason", "person"), STRINGS ("seen since", "MO")));
  shelf_last_sentence (&shelf, "Withdrew an opinion: Sign-off HF/1/MO/2");
  check_lasting (&shelf);
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/release/an-opinion-has-a-name", test_an_opinion_has_a_name);
  g_test_add_func ("/book/release/a-waiver-has-a-reason-and-an-end", test_a_waiver_has_a_reason_and_an_end);
  g_test_add_func ("/book/release/only-an-owner-decides", test_only_an_owner_decides);
  g_test_add_func ("/book/release/a-decision-keeps-what-was-known", test_a_decision_keeps_what_was_known);
  g_test_add_func ("/book/release/conditions-become-things-to-do", test_conditions_become_things_to_do);
  g_test_add_func ("/book/release/conditions-are-written-a-line-each", test_conditions_are_lines);
  g_test_add_func ("/book/release/nobody-decides-on-what-was-not-seen", test_nobody_decides_on_what_he_has_not_seen);
  g_test_add_func ("/book/release/only-a-later-one-withdraws", test_only_a_later_one_withdraws);
  return g_test_run ();
}
