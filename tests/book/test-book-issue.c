/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Issues from the first finding to the end, units set aside, and what evidence of a failure does not allow. */

#include "book-issue.h"
#include "book-shelf.h"
#include "book-unit.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "step model=HF | position=70 | name=Fit lever\n"
               "person initials=KB | role=inspector\n"
               "reading unit=HF/P2/P2-01 | characteristic=HF/LE | value=1.12 | step=HF/70 | taken=2026-03-04T10:15\n"
               "reading unit=HF/P2/P2-01 | characteristic=HF/LV | mark=failed\n");
}

static void
check_field (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpstr (text, ==, expected);
}

static gint64
reading_of (Shelf *shelf, const char *code)
{
  g_autofree char *key = g_strdup_printf ("HF/P2/P2-01/%s/1/1", code);

  return shelf_id (shelf, BOOK_RECORD_READING, key);
}

static void
test_a_reading_raises_an_issue (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run (&shelf, book_issue_raise_from (reading_of (&shelf, "LE"), STRINGS ("title"), STRINGS ("Lock engages too deep"), NULL, NULL));
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "title", "Lock engages too deep");
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "found_on", "2026-03-04"); /* when it was measured, not when it is typed */
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "class", "function");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM issue i JOIN round r ON r.id = i.found_round JOIN step s ON "
                                          "s.id = i.found_step JOIN characteristic c ON c.id = i.characteristic "
                                          "WHERE r.label = 'P2' AND s.position = 70 AND c.code = 'LE'"), ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM finding f JOIN unit u ON u.id = f.unit JOIN step s ON "
                                          "s.id = f.found_at WHERE u.serial = 'P2-01' AND s.position = 70"), ==, 1);
  shelf_last_sentence (&shelf, "Raised an issue: Issue HF/1");

  shelf_run (&shelf, book_issue_raise_from (reading_of (&shelf, "LV"), STRINGS ("title", "class"), STRINGS ("Lever sticks", "safety"),
                                            STRINGS ("caused_at", "in_field"), STRINGS ("70", "no")));
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/2", "title", "Lever sticks");
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/2", "found_on", SHELF_TODAY);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM finding WHERE caused_at IS NOT NULL AND unit IS NOT NULL"), ==, 1);
  shelf_run_refused (&shelf, book_issue_raise_from (reading_of (&shelf, "LE"), STRINGS ("class"), STRINGS ("safety"), NULL, NULL), "title",
                     "It is empty, but must be filled in.");
  shelf_undo (&shelf); /* one action: issue and finding */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM issue) * 10 + (SELECT count(*) FROM finding)"), ==, 11);
  shelf_close (&shelf);
}

static void
test_a_draft_shows_what_would_be_stored (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) issue = NULL;
  g_autoptr(BookForm) finding = NULL;
  Shelf shelf;

  filled (&shelf);
  g_assert_true (book_issue_draft (shelf_db (&shelf), reading_of (&shelf, "LV"), SHELF_TODAY, &issue, &finding, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (book_form_find (issue, "title")->text, ==, ""); /* how the reading stands is not judged here */
  g_assert_cmpstr (book_form_find (issue, "characteristic")->text, ==, "HF/LV");
  g_assert_cmpstr (book_form_find (issue, "found_round")->shown, ==, "P2");
  g_assert_cmpstr (book_form_find (issue, "found_on")->text, ==, SHELF_TODAY);
  g_assert_cmpstr (book_form_find (finding, "unit")->text, ==, "HF/P2/P2-01");
  g_assert_cmpstr (book_form_find (finding, "found_at")->text, ==, "");
  g_assert_cmpint (finding->model, ==, shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"));
  shelf_close (&shelf);
}

static void
test_an_issue_from_scratch_has_a_first_finding (void)
{
  gint64 model;
  Shelf shelf;

  filled (&shelf);
  model = shelf_id (&shelf, BOOK_RECORD_MODEL, "HF");
  shelf_run (&shelf, book_issue_raise (model, STRINGS ("title", "class"), STRINGS ("Scratches", "appearance"),
                                       STRINGS ("unit", "found_at"), STRINGS ("P1-01", "Fit lever")));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM issue i JOIN round r ON r.id = i.found_round WHERE r.label = 'P1' "
                                          "AND i.found_on = '" SHELF_TODAY "'"), ==, 1);
  shelf_run (&shelf, book_issue_raise (model, STRINGS ("title", "class", "found_on"), STRINGS ("Idea", "function", "2026-03-01"),
                                       NULL, NULL));
  shelf_run (&shelf, book_issue_add_finding (shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2"), STRINGS ("affected", "inspected"),
                                             STRINGS ("3", "40")));
  shelf_last_sentence (&shelf, "Added a finding to: Issue HF/2");
  shelf_run_refused (&shelf, book_issue_add_finding (shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2"), STRINGS ("affected", "inspected"),
                                                     STRINGS ("41", "40")),
                     "affected", "More are affected than were inspected.");
  shelf_run_refused (&shelf, book_issue_raise (model, STRINGS ("title", "class"), STRINGS ("x", "safety"), STRINGS ("unit"), STRINGS ("P9-01")),
                     "unit", "'P9-01' is none of these: Units. Choose one from the list.");
  shelf_run_refused (&shelf, book_issue_raise (model, STRINGS ("title", "class", "found_on"), STRINGS ("x", "safety", "2026-03-11"), NULL, NULL),
                     "found_on", "The day has not come yet: write today's or an earlier one.");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM issue"), ==, 2); /* nothing half done */
  shelf_close (&shelf);
}

static void
test_each_step_of_an_issue_has_its_day (void)
{
  gint64 issue;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety | found_on=2026-03-04\n");
  issue = shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/1");
  shelf_run_refused (&shelf, book_issue_contain (issue, "2026-03-03"), "contained", "The date lies before 'Found on': correct one of the two.");
  shelf_run_refused (&shelf, book_issue_contain (issue, "2026-03-11"), "contained", "The day has not come yet: write today's or an earlier one.");
  shelf_run_refused (&shelf, book_issue_contain (issue, "soon"), "contained",
                     "'soon' is not a date that exists: write it like 2026-03-31.");
  shelf_run (&shelf, book_issue_contain (issue, "2026-03-05"));
  shelf_last_sentence (&shelf, "Contained: Issue HF/1");
  shelf_run_refused (&shelf, book_issue_know_cause (issue, "", BOOK_CAUSE_SEEN, NULL), "cause", "Write why it happens.");
  shelf_run (&shelf, book_issue_know_cause (issue, "The ramp is too flat", BOOK_CAUSE_GUESSED, NULL));
  shelf_run (&shelf, book_issue_know_cause (issue, NULL, BOOK_CAUSE_SWITCHED, "2026-03-09"));
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "cause", "The ramp is too flat");
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "cause_basis", "switched on and off");
  shelf_run_refused_to (&shelf, book_issue_close (issue, BOOK_OUTCOME_PROVEN, 0, NULL), 0, "outcome_by",
                        "An issue is closed only by name: choose first who closes it.");
  shelf_run_refused (&shelf, book_issue_close (issue, 0, 0, NULL), "outcome", "It is empty, but must be filled in where 'Closed' is.");
  shelf_run (&shelf, book_issue_close (issue, BOOK_OUTCOME_PROVEN, shelf_id (&shelf, BOOK_RECORD_PERSON, "KB"), NULL));
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "closed", SHELF_TODAY);
  shelf_run (&shelf, book_issue_reopen (issue));
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "closed", "");
  shelf_run_refused (&shelf, book_issue_reopen (issue), "closed", "The issue is open already.");
  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_ISSUE, "HF/1", "outcome", "proven");
  shelf_close (&shelf);
}

static void
test_a_disposition_has_a_name_and_a_reason (void)
{
  gint64 finding;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\nfinding issue=HF/1 | no=1 | unit=HF/P2/P2-01\n");
  finding = shelf_id (&shelf, BOOK_RECORD_FINDING, "HF/1/1");
  shelf_run_refused (&shelf, book_finding_dispose (finding, BOOK_DISPOSITION_USE_AS_IS, 0, NULL, " "), "reason",
                     "This is decided only with a reason: write why.");
  shelf_run_refused_to (&shelf, book_finding_dispose (finding, BOOK_DISPOSITION_USE_AS_IS, 0, NULL, "x"), 0, "person",
                        "This is decided only by name: choose first who decides.");
  shelf_run_refused (&shelf, book_finding_dispose (finding, 0, 0, NULL, "x"), "disposition", "Choose what is done with it.");
  shelf_run (&shelf, book_finding_dispose (finding, BOOK_DISPOSITION_USE_AS_IS, 0, "2026-03-05", "within what the owner accepts"));
  check_field (&shelf, BOOK_RECORD_FINDING, "HF/1/1", "disposition", "use as is");
  check_field (&shelf, BOOK_RECORD_FINDING, "HF/1/1", "date", "2026-03-05");
  shelf_run_refused (&shelf, book_finding_excuse (finding, 0, NULL, NULL), "reason", "This is decided only with a reason: write why.");
  shelf_run (&shelf, book_finding_excuse (finding, shelf_id (&shelf, BOOK_RECORD_PERSON, "KB"), NULL, "dropped on the floor"));
  check_field (&shelf, BOOK_RECORD_FINDING, "HF/1/1", "excused", "yes");
  shelf_last_sentence (&shelf, "Excused: Finding HF/1/1");
  shelf_close (&shelf);
}

static void
test_a_unit_is_set_aside_with_a_reason (void)
{
  gint64 unit;
  Shelf shelf;

  filled (&shelf);
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  shelf_run_refused (&shelf, book_unit_set_aside (unit, NULL, ""), "reason", "Write what was done, and why.");
  shelf_run_refused_to (&shelf, book_unit_set_aside (unit, NULL, "fell"), 0, "person", "A unit is set aside only by name: write who.");
  shelf_run (&shelf, book_unit_set_aside (unit, "2026-03-02", "fell off the bench"));
  check_field (&shelf, BOOK_RECORD_UNIT_EVENT, "HF/P1/P1-01/1", "kind", "set aside");
  check_field (&shelf, BOOK_RECORD_UNIT_EVENT, "HF/P1/P1-01/1", "date", "2026-03-02");
  shelf_last_sentence (&shelf, "Set aside: Unit HF/P1/P1-01");
  shelf_run (&shelf, book_unit_add_event (unit, BOOK_EVENT_ALTERED, STRINGS ("reason", "step", "minutes"),
                                          STRINGS ("ramp stoned 0.1", "70", "4,5")));
  check_field (&shelf, BOOK_RECORD_UNIT_EVENT, "HF/P1/P1-01/2", "date", SHELF_TODAY);
  shelf_last_sentence (&shelf, "Altered: Unit HF/P1/P1-01");
  shelf_close (&shelf);
}

static void
test_what_was_built_in_is_corrected_by_unit (void)
{
  gint64 unit, part, revision;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "revision part=HF-20 | label=C\nlot part=HF-20 | number=L-7\n");
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  part = shelf_id (&shelf, BOOK_RECORD_PART, "HF-20");
  revision = shelf_id (&shelf, BOOK_RECORD_REVISION, "HF-20/C");
  shelf_run (&shelf, book_unit_build_in (unit, part, 0, revision, 0));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT revision FROM unit_part"), ==, revision);
  shelf_run (&shelf, book_unit_build_in (unit, part, 0, revision, shelf_id (&shelf, BOOK_RECORD_LOT, "HF-20///L-7")));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM unit_part WHERE lot IS NOT NULL"), ==, 1);
  shelf_last_sentence (&shelf, "Corrected what was built into: Unit HF/P1/P1-01");
  shelf_run_refused (&shelf, book_unit_build_in (unit, part, 0, shelf_id (&shelf, BOOK_RECORD_REVISION, "HF-10/A"), 0), "revision",
                     "'Part' and 'Revision' do not belong together: choose one that goes with the other.");
  shelf_run (&shelf, book_unit_build_in (unit, part, 0, 0, 0));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM unit_part"), ==, 0);
  shelf_close (&shelf);
}

#define TEST(path, func) g_test_add_func ("/book/issue/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("a-reading-raises-an-issue", test_a_reading_raises_an_issue);
  TEST ("a-draft-shows-what-would-be-stored", test_a_draft_shows_what_would_be_stored);
  TEST ("an-issue-from-scratch-has-a-first-finding", test_an_issue_from_scratch_has_a_first_finding);
  TEST ("each-step-of-an-issue-has-its-day", test_each_step_of_an_issue_has_its_day);
  TEST ("a-disposition-has-a-name-and-a-reason", test_a_disposition_has_a_name_and_a_reason);
  TEST ("a-unit-is-set-aside-with-a-reason", test_a_unit_is_set_aside_with_a_reason);
  TEST ("what-was-built-in-is-corrected-by-unit", test_what_was_built_in_is_corrected_by_unit);
  return g_test_run ();
}
