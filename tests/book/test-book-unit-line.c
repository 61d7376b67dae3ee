/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What happened to a unit in one line: how it is read, and what is stored of it. */

#include "book-shelf.h"
#include "book-unit-line.h"
#include "book-unit.h"

/* 'serial|event|issue|back to|minutes|reason', the event as its word in files; a serial alone has no event. */
static char *
read_line (const char *text)
{
  g_autoptr(BookUnitLine) line = book_unit_line_parse (text);

  return g_strdup_printf ("%s|%s|%s|%s|%s|%s", line->serial,
                          line->is_event ? book_choice_by_code (book_event_kinds, line->kind)->text : "", line->issue, line->back_to,
                          line->minutes, line->reason);
}

static void
test_lines (void)
{
  static const char *const lines[][2] = {
    { "B-08", "B-08|||||" },
    { "  b-08\n", "b-08|||||" },
    { "", "|||||" },
    { "altered: ramp stoned 0.1, issue 12", "|altered|12|||ramp stoned 0.1" },
    { "B-08 altered: ramp stoned 0.1, issue 12", "B-08|altered|12|||ramp stoned 0.1" },
    { "ALTERED : ramp stoned 0.1 , Issue 12", "|altered|12|||ramp stoned 0.1" },
    { "passed", "|passed||||" },
    { "B-08 passed", "B-08|passed||||" },
    { "passed: 9 min", "|passed|||9|" },
    { "passed: 7,5 min", "|passed|||7.5|" },
    { "altered: ramp stoned 0,1,issue 12", "|altered|12|||ramp stoned 0,1" },
    { "sent back: to Fit lever, issue 2, lever sticks", "|sent back|2|Fit lever||lever sticks" },
    { "sent back to: nothing", "sent back to: nothing|||||" }, /* no event: whoever shows it says so */
    { "reworked: ramp polished, 30 min, issue 2", "|reworked|2||30|ramp polished" },
    { "altered: to size, issue 3", "|altered|3|||to size" }, /* only what is sent back goes somewhere */
    { "scrapped: issue 4, issue 5", "|scrapped|4|||issue 5" },
    { "Used up in a test: slip rig", "|consumed||||slip rig" },
    { "altered: ramp stoned issue 12", "|altered|12|||ramp stoned issue 12" }, /* the comma is easily left out */
    { "sent back: to Fit lever issue 2", "|sent back|2|Fit lever||" },
    { "sent back: to Fit lever Issue  2, lever sticks", "|sent back|2|Fit lever||lever sticks" },
    { "altered: ramp stoned issue 12, issue 3", "|altered|3|||ramp stoned issue 12" },
    { "altered: made tissue 12, issued 3", "|altered||||made tissue 12, issued 3" },
    { "unaltered", "unaltered|||||" },
    { "B-08: 3", "B-08: 3|||||" },
    { "set aside: bent, fell down", "|set aside||||bent, fell down" },
    { "ΑΒ-1 passed", "ΑΒ-1|passed||||" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_autofree char *found = read_line (lines[i][0]);

      g_assert_cmpstr (found, ==, lines[i][1]);
    }
}

static gint64
run_line (Shelf *shelf, gint64 unit, gint64 step, const char *text)
{
  g_autoptr(BookUnitLine) line = book_unit_line_parse (text);

  return shelf_run (shelf, book_unit_line_edit (line, unit, step));
}

static void
refuse_line (Shelf *shelf, gint64 unit, gint64 step, const char *text, const char *field, const char *sentence)
{
  g_autoptr(BookUnitLine) line = book_unit_line_parse (text);

  shelf_run_refused (shelf, book_unit_line_edit (line, unit, step), field, sentence);
}

static void
check (Shelf *shelf, const char *key, const char *field, const char *expected)
{
  g_autofree char *found = shelf_get (shelf, BOOK_RECORD_UNIT_EVENT, key, field);

  g_assert_cmpstr (found, ==, expected);
}

/* References by the key of what they refer to. */
static void
check_refers (Shelf *shelf, const char *key, const char *field, BookRecordId record, const char *to)
{
  g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, shelf_id (shelf, record, to));

  check (shelf, key, field, id);
}

static void
test_what_is_stored (void)
{
  gint64 unit, step;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "step model=HF | position=50 | name=Fit lever\n"
                       "step model=HF | position=70 | name=Inspect | kind=inspection\n"
                       "issue model=HF | no=2 | title=Lever sticks | class=function | found_on=2026-03-05\n");
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  step = shelf_id (&shelf, BOOK_RECORD_STEP, "HF/70");
  run_line (&shelf, unit, step, "sent back: to Fit lever, issue 2, lever sticks");
  shelf_last_sentence (&shelf, "Sent back: Unit HF/P1/P1-01");
  check_refers (&shelf, "HF/P1/P1-01/1", "step", BOOK_RECORD_STEP, "HF/70");
  check_refers (&shelf, "HF/P1/P1-01/1", "back_to", BOOK_RECORD_STEP, "HF/50");
  check_refers (&shelf, "HF/P1/P1-01/1", "issue", BOOK_RECORD_ISSUE, "HF/2");
  check (&shelf, "HF/P1/P1-01/1", "reason", "lever sticks");
  check_refers (&shelf, "HF/P1/P1-01/1", "person", BOOK_RECORD_PERSON, "EH");
  run_line (&shelf, unit, 0, "altered: ramp stoned 0.1, issue 2, 12 min");
  shelf_last_sentence (&shelf, "Altered: Unit HF/P1/P1-01");
  check (&shelf, "HF/P1/P1-01/2", "step", "");
  check (&shelf, "HF/P1/P1-01/2", "minutes", "12");
  run_line (&shelf, unit, step, "passed");
  shelf_last_sentence (&shelf, "Passed: Unit HF/P1/P1-01");
  shelf_undo (&shelf);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM unit_event"), ==, 2);

  refuse_line (&shelf, unit, step, "altered: issue 2", "reason", "Write what was done, and why.");
  refuse_line (&shelf, unit, step, "scrapped", "issue", "Say why: name the issue, or write the reason.");
  refuse_line (&shelf, unit, step, "sent back: to Fit lever", "issue", "Say why: name the issue, or write the reason.");
  refuse_line (&shelf, unit, step, "sent back: to Fit lever issue 999", "issue",
               "'999' is none of these: Issues. Choose one from the list.");
  refuse_line (&shelf, unit, step, "altered: ramp stoned issue 999", "issue",
               "'999' is none of these: Issues. Choose one from the list.");
  shelf_close (&shelf);
}

/* Only what is sent back goes to another step, however it is written. */
static void
test_only_sent_back_goes_back (void)
{
  g_autofree char *sentence = NULL;
  Shelf shelf;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "step model=HF | position=50 | name=Fit lever\n");
  sentence = shelf_refuse (&shelf, "unit_event unit=HF/P1/P1-01 | no=1 | date=2026-03-09 | kind=passed | back_to=HF/50\n");
  g_assert_nonnull (sentence);
  g_assert_nonnull (g_strrstr (sentence, "Only what was sent back goes to another step: leave it empty."));
  shelf_close (&shelf);
}

static void
check_field (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *expected)
{
  g_autofree char *text = shelf_get (shelf, record, key, field);

  g_assert_cmpstr (text, ==, expected);
}

/* What refers to the unit follows; what names the serial, because it was planned before there was a unit, is named anew. */
static void
test_a_wrong_serial (void)
{
  Shelf shelf;
  gint64 unit, again;
  g_autofree char *before = NULL, *after = NULL;

  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "unit round=HF/P2 | serial=P2-02\n"
                       "reading unit=HF/P2/P2-01 | characteristic=HF/LE | attempt=1 | n=1 | mark=measured | value=1.3\n"
                       "round_part round=HF/P2 | part=HF-10 | revision=HF-10/A | first_serial=P2-01\n"
                       "round_test round=HF/P2 | serial=P2-01 | characteristic=HF/LE\n"
                       "round_test round=HF/P2 | serial=P2-01 | characteristic=HF/LV\n"
                       "round_test round=HF/P2 | serial=P2-10 | characteristic=HF/LV\n"
                       "change model=HF | no=1 | title=Stone | proposed_on=2026-03-01 | from_round=HF/P2 | from_serial=P2-01\n");
  unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P2/P2-01");
  before = shelf_digest (&shelf);
  shelf_run_refused (&shelf, book_unit_correct_serial (unit, "P2-02", "P2-01"), "serial",
                     "Another unit of the round has the serial 'P2-02': look at both, and correct the wrong one first.");
  shelf_run_refused (&shelf, book_unit_correct_serial (unit, "", NULL), "serial", "It is empty, but must be filled in.");
  shelf_run_refused (&shelf, book_unit_correct_serial (unit, "P2-10", "P2-07"), "serial",
                     "The serial was changed by somebody else meanwhile.");
  again = shelf_run (&shelf, book_unit_correct_serial (unit, "P2-10", "P2-01"));
  g_assert_cmpint (again, ==, unit);
  shelf_last_sentence (&shelf, "Corrected the serial of: Unit HF/P2/P2-10");
  check_field (&shelf, BOOK_RECORD_READING, "HF/P2/P2-10/LE/1/1", "value", "1.3");
  check_field (&shelf, BOOK_RECORD_CHANGE, "HF/1", "from_serial", "P2-10");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_test WHERE serial = 'P2-10'"), ==, 2); /* LV was planned for it */
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_test"), ==, 2);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM round_part WHERE first_serial = 'P2-10'"), ==, 1);
  shelf_undo (&shelf);
  after = shelf_digest (&shelf);
  g_assert_cmpstr (after, ==, before);
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/unit-line/is-read-as-people-say-it", test_lines);
  g_test_add_func ("/book/unit-line/what-is-stored", test_what_is_stored);
  g_test_add_func ("/book/unit-line/only-what-was-sent-back-goes-back", test_only_sent_back_goes_back);
  g_test_add_func ("/book/unit-line/a-wrong-serial-is-corrected-with-what-names-it", test_a_wrong_serial);
  return g_test_run ();
}
