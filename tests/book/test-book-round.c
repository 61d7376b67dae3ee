/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounds from the plan to the verdict: dates in order, waits, and a copy of the last round with agreed changes put in. */

#include "book-change.h"
#include "book-round.h"
#include "book-shelf.h"
#include "store-undo.h"

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "person initials=RB | role=designer\n"
               "supplier name=Alder Hardening\n"
               "revision part=HF-20 | label=C | date=2026-01-20\n"
               "revision part=HF-20 | label=D | date=2026-01-25\n"
               "step model=HF | position=30 | name=Harden\n"
               "step_setting step=HF/30 | name=temper | from_date=2026-01-05 | value=220 | unit=°C\n"
               "characteristic model=HF | code=LS | name=Load at slip | unit=N | class=safety | destructive=yes\n"
               "round model=HF | label=P8 | kind=prototype | planned_units=4 | opened=2026-03-03 | design_fixed=2026-03-04\n"
               "lot part=HF-20 | number=L7\n"
               "round_part round=HF/P8 | part=HF-10 | revision=HF-10/A\n"
               "round_part round=HF/P8 | part=HF-20 | revision=HF-20/C | units=2 | lot=HF-20///L7\n"
               "round_part round=HF/P8 | part=HF-20 | revision=HF-20/D | units=2 | first_serial=P8-03\n"
               "round_test round=HF/P8 | serial=P8-01 | characteristic=HF/LS | load=250 | destroyed=yes\n"
               "round_test round=HF/P8 | serial=P8-03 | characteristic=HF/LE | lent=yes\n");
}

static gint64
round_id (Shelf *shelf, const char *label)
{
  g_autofree char *key = g_strconcat ("HF/", label, NULL);

  return shelf_id (shelf, BOOK_RECORD_ROUND, key);
}

static void
check_field (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookForm) form = book_form_read (shelf_db (shelf), book_record (record), shelf_id (shelf, record, key), &error);

  g_assert_no_error (error);
  g_assert_cmpstr (book_form_find (form, field)->text, ==, expected);
}

static void
test_a_plan_is_one_action (void)
{
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  edit = book_round_plan (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("label", "kind", "question", "planned_units"),
                          STRINGS ("P9", "prototype", "Which lever holds?", "6"));
  book_round_plan_part (edit, STRINGS ("part", "revision", "units"), STRINGS ("HF-20", "HF-20/C", "3"));
  book_round_plan_part (edit, STRINGS ("part", "revision", "units", "first_serial"), STRINGS ("HF-20", "HF-20/D", "3", "P9-04"));
  book_round_plan_test (edit, STRINGS ("serial", "characteristic", "destroyed"), STRINGS ("P9-01", "LS", "yes"));
  shelf_run (&shelf, edit);
  shelf_last_sentence (&shelf, "Planned: Round HF/P9");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round WHERE r.label = 'P9'"), ==, 2);
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P9/P9-01/LS", "destroyed", "yes");
  shelf_undo (&shelf);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM round WHERE label = 'P9') + (SELECT count(*) FROM round_part) * 10"), ==, 30);

  shelf_run_refused (&shelf, book_round_plan (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("label", "kind"), STRINGS ("P8", "prototype")),
                     "label", "Round 'HF/P8' is there already: choose another, or change that one.");
  edit = book_round_plan (shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), STRINGS ("label", "kind"), STRINGS ("P9", "prototype"));
  book_round_plan_part (edit, STRINGS ("units"), STRINGS ("3"));
  shelf_run_refused (&shelf, edit, "part", "Exactly one of these must be filled in: Part, Step.");
  shelf_close (&shelf);
}

static void
test_dates_are_reached_one_after_the_other (void)
{
  gint64 p8;
  Shelf shelf;

  filled (&shelf);
  p8 = round_id (&shelf, "P8");
  shelf_run_refused (&shelf, book_round_reach (p8, BOOK_ROUND_OPENED, NULL), "opened",
                     "'Opened' is noted already, as 2026-03-03: correct the date in the round's form.");
  shelf_run_refused (&shelf, book_round_reach (p8, BOOK_ROUND_BUILT, NULL), "parts_ready",
                     "'Parts ready' comes first and is not noted yet: note its day before 'Built'.");
  shelf_run_refused (&shelf, book_round_reach (p8, BOOK_ROUND_PARTS_READY, "2026-03-03"), "parts_ready",
                     "The date lies before 'Design fixed': correct one of the two.");
  shelf_run_refused (&shelf, book_round_reach (p8, BOOK_ROUND_PARTS_READY, "2036-02-20"), "parts_ready",
                     "The day has not come yet: write today's or an earlier one.");
  shelf_run (&shelf, book_round_reach (p8, BOOK_ROUND_PARTS_READY, "2026-03-06"));
  shelf_last_sentence (&shelf, "Had all parts ready for: Round HF/P8");
  shelf_run (&shelf, book_round_reach (p8, BOOK_ROUND_BUILT, "2026-03-07"));
  shelf_last_sentence (&shelf, "Built all units of: Round HF/P8");
  shelf_run (&shelf, book_round_reach (p8, BOOK_ROUND_TESTED, NULL));
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "tested", SHELF_TODAY);
  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "tested", "");

  shelf_run_refused (&shelf, book_round_decide (p8, 0, NULL, NULL), "verdict",
                     "Choose what was decided: go on, another round, or stop.");
  shelf_run (&shelf, book_round_reach (p8, BOOK_ROUND_TESTED, "2026-03-08"));
  shelf_run (&shelf, book_round_decide (p8, BOOK_VERDICT_ANOTHER_ROUND, "1840.50", "2026-03-09"));
  shelf_last_sentence (&shelf, "Decided how to go on after: Round HF/P8");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "verdict", "another round");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "cost", "1840.5");
  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "verdict", "");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P8", "cost", "");
  shelf_close (&shelf);
}

static void
test_a_wait_begins_and_ends (void)
{
  gint64 p8, wait;
  Shelf shelf;

  filled (&shelf);
  p8 = round_id (&shelf, "P8");
  shelf_run_refused (&shelf, book_round_begin_wait (p8, STRINGS ("what"), STRINGS ("blades")), "reason", "It is empty, but must be filled in.");
  wait = shelf_run (&shelf, book_round_begin_wait (p8, STRINGS ("reason", "what", "supplier", "from_date"),
                                                   STRINGS ("outside step", "hardening", "Alder Hardening", "2026-03-05")));
  shelf_last_sentence (&shelf, "Began to wait: Wait HF/P8/1");
  shelf_run_refused (&shelf, book_round_end_wait (wait, "2026-03-04"), "to_date", "The date lies before 'From': correct one of the two.");
  shelf_run (&shelf, book_round_end_wait (wait, "2026-03-08"));
  shelf_last_sentence (&shelf, "Ended a wait: Wait HF/P8/1");
  shelf_run_refused (&shelf, book_round_end_wait (wait, NULL), "to_date", "The wait is over already: correct its end in its form.");
  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_WAIT, "HF/P8/1", "to_date", "");
  shelf_run (&shelf, book_round_begin_wait (p8, STRINGS ("reason"), STRINGS ("people")));
  check_field (&shelf, BOOK_RECORD_WAIT, "HF/P8/2", "from_date", SHELF_TODAY);
  shelf_write (&shelf, "round model=HF | label=P7 | kind=prototype | decided=2026-02-01\n");
  shelf_run_refused (&shelf, book_round_begin_wait (round_id (&shelf, "P7"), STRINGS ("reason"), STRINGS ("people")), "decided",
                     "The round is decided and waits for nothing more: choose the round that waits.");
  shelf_close (&shelf);
}

static void
test_labels_and_serials_go_on (void)
{
  static const char *const labels[][2] = { { "P3", "P4" }, { "P9", "P10" }, { "A", "B" }, { "pilot A", "pilot B" },
                                           { "Z", "Z 2" }, { "first", "first 2" }, { "P09", "P10" }, { "", " 2" } };
  static const struct
  {
    const char *serial, *from, *to, *expected;
    gint64      further;
  } serials[] = {
    { "P3-07", "P3", "P4", "P4-07", 10 },     { "WP3-07", "P3", "P4", "WP4-07", 10 }, { "A-40", "A", "B", "B-40", 40 },
    { "0107", "P3", "P4", "0117", 10 },       { "P12-07", "P1", "P2", "P12-17", 10 }, { "bag", "P3", "P4", "P4-bag", 10 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    {
      g_autofree char *after = book_round_label_after (labels[i][0]);

      g_assert_cmpstr (after, ==, labels[i][1]);
    }
  for (guint i = 0; i < G_N_ELEMENTS (serials); i++)
    {
      g_autofree char *there = book_round_serial_in (serials[i].serial, serials[i].from, serials[i].to, serials[i].further);

      g_assert_cmpstr (there, ==, serials[i].expected);
    }
}

static void
test_a_copy_takes_parts_and_tests_without_lots (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_run (&shelf, book_round_copy (round_id (&shelf, "P8"), STRINGS ("question"), STRINGS ("And now?")));
  shelf_last_sentence (&shelf, "Planned after the last round, with agreed changes: Round HF/P9");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P9", "planned_units", "4");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P9", "question", "And now?");
  check_field (&shelf, BOOK_RECORD_ROUND, "HF/P9", "opened", "");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P9/P9-01/LS", "load", "250");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P9/P9-01/LS", "destroyed", "yes");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P9/P9-03/LE", "lent", "yes");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round WHERE r.label = 'P9'"), ==, 3);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(lot) FROM round_part p JOIN round r ON r.id = p.round WHERE r.label = 'P9'"), ==, 0);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part WHERE first_serial = 'P9-03' AND units = 2"), ==, 1);
  shelf_undo (&shelf);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM round WHERE label = 'P9') + (SELECT count(*) FROM round_part) * 10"
                                          " + (SELECT count(*) FROM round_test) * 100"), ==, 230);
  shelf_close (&shelf);
}

/* C to D splits P8 by change 1; change 2, agreed for no round yet, brings E and another setting. */
static void
propose (Shelf *shelf)
{
  gint64 model = shelf_id (shelf, BOOK_RECORD_MODEL, "HF");
  BookEdit *edit;

  shelf_write (shelf, "change model=HF | no=1 | title=Nose | proposed_on=2026-03-03 | agreed_by=EH | agreed_on=2026-03-03 | "
                      "from_round=HF/P8 | from_serial=P8-03 | carried_out=2026-03-04\n"
                      "change_item change=HF/1 | no=1 | part=HF-20 | old_revision=HF-20/C | new_revision=HF-20/D\n");
  edit = book_change_propose (model, STRINGS ("title", "proposed_by"), STRINGS ("Ramp", "RB"));
  book_change_propose_item (edit, STRINGS ("part", "new_label"), STRINGS ("HF-20", "E"));
  book_change_propose_item (edit, STRINGS ("step", "setting", "value"), STRINGS ("Harden", "temper", "205"));
  shelf_run (shelf, book_change_agree (shelf_run (shelf, edit), 0, NULL, 0, NULL));
  shelf_run (shelf, book_change_propose (model, STRINGS ("title"), STRINGS ("Not agreed")));
}

static void
test_a_copy_puts_agreed_changes_in (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookRoundDraft) draft = NULL;
  BookEdit *edit;
  Shelf shelf;

  filled (&shelf);
  propose (&shelf);
  draft = book_round_draft (shelf_db (&shelf), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), &error);
  g_assert_no_error (error);
  g_assert_cmpstr (draft->last_label, ==, "P8");
  g_assert_cmpstr (book_form_find (draft->form, "label")->text, ==, "P9");
  g_assert_cmpstr (book_form_find (draft->form, "kind")->text, ==, "prototype");
  g_assert_cmpuint (draft->offers->len, ==, 2);
  edit = book_round_copy (draft->last, STRINGS ("label"), STRINGS ("P9"));
  for (guint i = 0; i < draft->offers->len; i++)
    {
      const BookRoundOffer *offer = draft->offers->pdata[i];

      g_assert_cmpint (offer->no, ==, (int) i + 1);
      g_assert_cmpint (offer->carried_out, ==, i == 0);
      book_round_copy_change (edit, offer->id);
    }
  shelf_run (&shelf, edit);

  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round JOIN revision v ON v.id = p.revision "
                                          "WHERE r.label = 'P9' AND v.label = 'E' AND p.units IS NULL AND p.first_serial IS NULL"), ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round WHERE r.label = 'P9'"), ==, 2);
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/2", "from_round", "HF/P9");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/2", "carried_out", SHELF_TODAY);
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "from_round", "HF/P8");
  check_field (&shelf, BOOK_RECORD_STEP_SETTING, "HF/30/temper/" SHELF_TODAY, "value", "205");
  shelf_undo (&shelf);
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/2", "carried_out", "");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT (SELECT count(*) FROM revision WHERE label = 'E') + (SELECT count(*) FROM step_setting) * 10"), ==, 10);

  edit = book_round_copy (round_id (&shelf, "P8"), STRINGS ("label"), STRINGS ("P9"));
  book_round_copy_change (edit, shelf_id (&shelf, BOOK_RECORD_CHANGE, "HF/3"));
  shelf_run_refused (&shelf, edit, "agreed_on", "Nobody has agreed to the change yet: that comes first.");
  shelf_close (&shelf);
}

static void
test_a_copy_goes_back_from_what_was_withdrawn (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "change model=HF | no=1 | title=Nose | proposed_on=2026-03-03 | agreed_by=EH | agreed_on=2026-03-03 | "
                       "from_round=HF/P8 | from_serial=P8-03 | withdrawn=2026-03-08 | withdrawn_reason=cracks\n"
                       "change_item change=HF/1 | no=1 | part=HF-20 | old_revision=HF-20/C | new_revision=HF-20/D\n");
  shelf_run (&shelf, book_round_copy (round_id (&shelf, "P8"), STRINGS ("label"), STRINGS ("P9")));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round JOIN revision v ON v.id = p.revision "
                                          "JOIN part t ON t.id = p.part WHERE r.label = 'P9' AND t.number = 'HF-20' AND v.label = 'C'"), ==, 1);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part p JOIN round r ON r.id = p.round WHERE r.label = 'P9'"), ==, 2);
  shelf_close (&shelf);
}

static void
test_a_unit_is_planned_for_a_test_and_taken_back (void)
{
  gint64 p8, ls;
  Shelf shelf;

  filled (&shelf);
  p8 = round_id (&shelf, "P8");
  ls = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LS");
  shelf_run (&shelf, book_round_set_test (p8, "P8-01", ls, BOOK_ROUND_TEST_LENT));
  shelf_last_sentence (&shelf, "Said which unit is for which test in: Round HF/P8");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P8/P8-01/LS", "destroyed", "no");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P8/P8-01/LS", "lent", "yes");
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P8/P8-01/LS", "load", "250");
  shelf_run (&shelf, book_round_set_test (p8, "P8-02", ls, BOOK_ROUND_TEST_DESTROYED));
  check_field (&shelf, BOOK_RECORD_ROUND_TEST, "HF/P8/P8-02/LS", "destroyed", "yes");
  shelf_run (&shelf, book_round_set_test (p8, "P8-01", ls, BOOK_ROUND_TEST_NONE));
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_test WHERE serial = 'P8-01'"), ==, 0);
  shelf_undo (&shelf);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_test WHERE serial = 'P8-01'"), ==, 1);
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/round/a-plan-is-one-action", test_a_plan_is_one_action);
  g_test_add_func ("/book/round/dates-are-reached-one-after-the-other", test_dates_are_reached_one_after_the_other);
  g_test_add_func ("/book/round/a-wait-begins-and-ends", test_a_wait_begins_and_ends);
  g_test_add_func ("/book/round/labels-and-serials-go-on", test_labels_and_serials_go_on);
  g_test_add_func ("/book/round/a-copy-takes-parts-and-tests-without-lots", test_a_copy_takes_parts_and_tests_without_lots);
  g_test_add_func ("/book/round/a-copy-puts-agreed-changes-in", test_a_copy_puts_agreed_changes_in);
  g_test_add_func ("/book/round/a-copy-goes-back-from-what-was-withdrawn", test_a_copy_goes_back_from_what_was_withdrawn);
  g_test_add_func ("/book/round/a-unit-is-planned-for-a-test-and-taken-back", test_a_unit_is_planned_for_a_test_and_taken_back);
  return g_test_run ();
}
