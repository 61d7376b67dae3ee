/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was changed of what is asked for after the first value was there, by the journal; and what was said about gates. */

#include "book-afterwards.h"
#include "book-choices.h"
#include "book-gate-list.h"
#include "book-release.h"
#include "book-shelf.h"
#include "store-undo.h"

#include <string.h>

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf,
               "gate model=HF | position=1 | name=Release\n"
               "characteristic model=HF | code=ZZ | name=Never measured\n"
               "criterion gate=HF/1 | model=HF | code=C1 | kind=measured | characteristic=HF/LE\n"
               "criterion_term criterion=HF/C1 | from_date=2026-01-01 | share=0.99 | confidence=0.95\n"
               "model code=WB | name=Other\n"
               "characteristic model=WB | code=LE | name=Another's\n");
  shelf_run (shelf, book_edit_add_person ("AW", BOOK_ROLE_OWNER, "Ann Wold"));
}

static void
measure (Shelf *shelf)
{
  shelf_write (shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | attempt=1 | n=1 | value=1.1 | mark=measured | taken=2026-02-01\n");
}

static void
set (Shelf *shelf, BookRecordId record, const char *key, const char *field, const char *text)
{
  shelf_run (shelf, book_edit_field (record, shelf_id (shelf, record, key), field, text));
}

static GPtrArray *
list_of (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) evidence = book_evidence_load (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "HF"), &error);
  GPtrArray *list;

  g_assert_no_error (error);
  list = book_afterwards_list (shelf_db (shelf), evidence, NULL, &error);
  g_assert_no_error (error);
  return list;
}

/* 'record op field code before>after xN by' of each, in order. */
static void
check_list (Shelf *shelf, const char *expected)
{
  g_autoptr(GPtrArray) list = list_of (shelf);
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < list->len; i++)
    {
      const BookAfterwards *one = list->pdata[i];

      g_string_append_printf (text, "%s%s %s %s %s %s>%s x%u %s", i > 0 ? "; " : "", one->record->name,
                              one->op == STORE_INSERT ? "+" : one->op == STORE_DELETE ? "-" : "~", one->field != NULL ? one->field->name : "",
                              one->code, one->before, one->after, one->n, one->person);
    }
  g_assert_cmpstr (text->str, ==, expected);
}

static void
test_before_measuring_all_may_change (void)
{
  Shelf shelf;

  filled (&shelf);
  set (&shelf, BOOK_RECORD_CRITERION_TERM, "HF/C1/2026-01-01", "share", "0.9");
  set (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE", "shape", "normal");
  measure (&shelf);
  set (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/ZZ", "shape", "normal"); /* not measured itself */
  set (&shelf, BOOK_RECORD_CHARACTERISTIC, "WB/LE", "shape", "normal"); /* of another model */
  set (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE", "name", "Lever force"); /* judges nothing */
  check_list (&shelf, "");
  shelf_close (&shelf);
}

static void
test_what_is_made_easier_is_named (void)
{
  Shelf shelf;

  filled (&shelf);
  measure (&shelf);
  set (&shelf, BOOK_RECORD_CRITERION_TERM, "HF/C1/2026-01-01", "share", "0.9");
  set (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE", "shape", "normal");
  set (&shelf, BOOK_RECORD_CRITERION, "HF/C1", "blocking", "no");
  check_list (&shelf, "criterion_term ~ share C1 0.99>0.9 x1 EH; characteristic ~ shape LE Unknown>Normal x1 EH; "
                      "criterion ~ blocking C1 yes>no x1 EH");
  shelf_undo (&shelf); /* nothing is left of what was undone */
  check_list (&shelf, "criterion_term ~ share C1 0.99>0.9 x1 EH; characteristic ~ shape LE Unknown>Normal x1 EH");
  shelf_close (&shelf);
}

static void
test_a_criterion_made_anew_is_named (void)
{
  Shelf shelf;

  filled (&shelf);
  measure (&shelf);
  shelf_run (&shelf, book_edit_delete (BOOK_RECORD_CRITERION, shelf_id (&shelf, BOOK_RECORD_CRITERION, "HF/C1")));
  shelf_write (&shelf, "criterion gate=HF/1 | model=HF | code=C1 | kind=measured | characteristic=HF/LE\n"
                       "criterion_term criterion=HF/C1 | from_date=2026-01-01 | share=0.9 | confidence=0.9\n");
  check_list (&shelf, "criterion -  C1 > x1 EH; criterion +  C1 > x1 EH");
  shelf_write (&shelf, "criterion_term criterion=HF/C1 | from_date=2026-03-01 | share=0.8 | confidence=0.9\n");
  check_list (&shelf, "criterion -  C1 > x1 EH; criterion +  C1 > x1 EH; criterion_term +  C1 > x1 EH");
  shelf_close (&shelf);
}

/* An issue about safety that is made one about something else, or its tolerated share, or that is gone. */
static void
test_an_issue_made_lighter_is_named (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Lock slips | class=safety\nissue model=WB | no=1 | title=Another's | class=safety\n"
                       "issue model=HF | no=2 | title=Typed twice | class=safety\n");
  set (&shelf, BOOK_RECORD_ISSUE, "HF/1", "title", "Lock slips under load"); /* judges nothing */
  set (&shelf, BOOK_RECORD_ISSUE, "WB/1", "class", "appearance");            /* of another model */
  check_list (&shelf, "");
  set (&shelf, BOOK_RECORD_ISSUE, "HF/1", "class", "function");
  set (&shelf, BOOK_RECORD_ISSUE, "HF/1", "tolerated_share", "0.2");
  shelf_run (&shelf, book_edit_delete (BOOK_RECORD_ISSUE, shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2")));
  check_list (&shelf, "issue ~ class 1 Safety>Function x1 EH; issue ~ tolerated_share 1 >0.2 x1 EH; issue -  2 > x1 EH");
  shelf_close (&shelf);
}

static void
test_a_reading_typed_over_is_named (void)
{
  gint64 reading;
  Shelf shelf;

  filled (&shelf);
  measure (&shelf);
  reading = shelf_integer (&shelf, "SELECT max (id) FROM reading");
  shelf_run (&shelf, book_edit_field (BOOK_RECORD_READING, reading, "taken", "2026-02-20"));
  check_list (&shelf, "reading ~ taken LE 2026-02-01>2026-02-20 x1 EH");
  shelf_close (&shelf);
}

static void
test_deeds_know_who_entered_them (void)
{
  g_autoptr(GBytes) evidence = g_bytes_new_static ("{}", 2);
  g_autoptr(BookGateList) list = NULL;
  g_autoptr(GError) error = NULL;
  BookVersion seen;
  gint64 gate, decision;
  Shelf shelf;

  filled (&shelf);
  gate = shelf_id (&shelf, BOOK_RECORD_GATE, "HF/1");
  shelf_run (&shelf, book_release_sign (gate, STRINGS ("opinion", "person"), STRINGS ("disagree", "AW")));
  shelf_run (&shelf, book_release_sign (gate, STRINGS ("opinion"), STRINGS ("agree")));
  shelf_run (&shelf, book_release_sign (gate, STRINGS ("opinion", "person"), STRINGS ("agree", "AW")));
  shelf_run (&shelf, book_release_waive (shelf_id (&shelf, BOOK_RECORD_CRITERION, "HF/C1"), STRINGS ("reason", "until", "person"),
                                         STRINGS ("small batch", "2026-06-01", "AW")));
  g_assert_true (book_version_read (shelf_db (&shelf), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), &seen, &error));
  decision = shelf_run (&shelf, book_release_decide (gate, STRINGS ("verdict", "person"), STRINGS ("release", "AW"), evidence, &seen));
  list = book_gate_list_read (shelf_db (&shelf), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (list->n_gates, ==, 1);
  g_assert_cmpuint (list->n_deeds, ==, 5);
  g_assert_cmpstr (list->deeds[0].person, ==, "AW");
  g_assert_cmpstr (list->deeds[0].name, ==, "Ann Wold");
  g_assert_cmpstr (list->deeds[0].entered_by, ==, "EH"); /* somebody noted it for another */
  g_assert_cmpint (list->deeds[0].superseded, ==, 2);
  g_assert_false (book_gate_deed_stands (&list->deeds[0]));
  g_assert_cmpstr (list->deeds[1].person, ==, "EH");
  g_assert_true (book_gate_deed_stands (&list->deeds[1]));
  g_assert_true (book_gate_deed_stands (&list->deeds[2]));
  g_assert_cmpstr (list->deeds[3].code, ==, "C1");
  g_assert_cmpstr (list->deeds[3].until, ==, "2026-06-01");
  g_assert_cmpint (book_gate_list_decision (list, 0)->id, ==, decision);
  g_assert_cmpint (strlen (list->deeds[4].evidence), ==, 64);
  book_gate_list_free (g_steal_pointer (&list));

  shelf_run (&shelf, book_release_withdraw (BOOK_RECORD_DECISION, decision, STRINGS ("person", "reason"), STRINGS ("AW", "slips")));
  list = book_gate_list_read (shelf_db (&shelf), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), &error);
  g_assert_no_error (error);
  g_assert_null (book_gate_list_decision (list, 0));
  g_assert_cmpint (list->deeds[4].withdrawn, ==, 5);
  g_assert_cmpstr (list->deeds[5].reason, ==, "slips");
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/afterwards/before-measuring-all-may-change", test_before_measuring_all_may_change);
  g_test_add_func ("/book/afterwards/what-is-made-easier-is-named", test_what_is_made_easier_is_named);
  g_test_add_func ("/book/afterwards/a-criterion-made-anew-is-named", test_a_criterion_made_anew_is_named);
  g_test_add_func ("/book/afterwards/an-issue-made-lighter-is-named", test_an_issue_made_lighter_is_named);
  g_test_add_func ("/book/afterwards/a-reading-typed-over-is-named", test_a_reading_typed_over_is_named);
  g_test_add_func ("/book/gate-list/deeds-know-who-entered-them", test_deeds_know_who_entered_them);
  return g_test_run ();
}
