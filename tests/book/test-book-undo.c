/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every kind of action that a person does: what it is called, that undoing it gives the book back as it was, redoing it as
 * it was after. Sign-offs, waivers and decisions stay.
 */
#include "config.h"
#include "book-shelf.h"

#include "book-attach.h"
#include "book-change.h"
#include "book-history.h"
#include "book-issue.h"
#include "book-limit.h"
#include "book-order.h"
#include "book-rate.h"
#include "book-release.h"
#include "book-round.h"
#include "book-tally.h"
#include "book-unit.h"
#include "store-history.h"
#include "store-undo.h"

#include <math.h>
#include <string.h>

static Shelf shelf; /* one book: an action builds on those before it */

#define ID(KIND, key) shelf_id (&shelf, BOOK_RECORD_##KIND, key)

static BookEdit *
type_reading (void)
{
  const BookTyped typed = { .mark = BOOK_MARK_MEASURED, .has_value = TRUE, .value = 1.42 };

  return book_edit_reading (ID (UNIT, "HF/P1/P1-01"), ID (CHARACTERISTIC, "HF/LE"), 1, 1, &typed, NULL);
}

static BookEdit *
change_reading (void)
{
  const BookTyped typed = { .mark = BOOK_MARK_MEASURED, .has_value = TRUE, .value = 1.31 };

  return book_edit_reading (ID (UNIT, "HF/P1/P1-01"), ID (CHARACTERISTIC, "HF/LE"), 1, 1, &typed, NULL);
}

static BookEdit *void_reading (void) { return book_edit_void (ID (READING, "HF/P1/P1-01/LE/1/1"), "slipped"); }
static BookEdit *add_unit (void) { return book_edit_add_unit (ID (ROUND, "HF/P2"), "P2-09", 0); }
static BookEdit *add_person (void) { return book_edit_add_person ("TK", BOOK_ROLE_MAKER, NULL); }
static BookEdit *set_field (void) { return book_edit_field (BOOK_RECORD_PART, ID (PART, "HF-10"), "name", "Long blade"); }

static BookEdit *
add_record (void)
{
  return book_edit_record (BOOK_RECORD_SUPPLIER, 0, STRINGS ("name", "note"), STRINGS ("Norden", "slow in July"), NULL);
}

static BookEdit *
change_record (void)
{
  return book_edit_record (BOOK_RECORD_SUPPLIER, ID (SUPPLIER, "Norden"), STRINGS ("name", "note"), STRINGS ("Norden", "slow in August"),
                           NULL);
}

static BookEdit *
change_two (void)
{
  return book_edit_record (BOOK_RECORD_PART, ID (PART, "HF-20"), STRINGS ("name", "lead_days"), STRINGS ("Rocker", "12"), NULL);
}

static BookEdit *delete_record (void) { return book_edit_delete (BOOK_RECORD_SUPPLIER, ID (SUPPLIER, "Norden")); }

static BookEdit *
type_several (void)
{
  const BookTyped typed = { .mark = BOOK_MARK_MEASURED, .has_value = TRUE, .value = 1.5 };
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);

  g_ptr_array_add (edits, book_edit_reading (ID (UNIT, "HF/P2/P2-01"), ID (CHARACTERISTIC, "HF/LE"), 1, 1, &typed, NULL));
  g_ptr_array_add (edits, book_edit_reading (ID (UNIT, "HF/P2/P2-09"), ID (CHARACTERISTIC, "HF/LE"), 1, 1, &typed, NULL));
  return book_edit_several ("readings-typed", BOOK_RECORD_ROUND, ID (ROUND, "HF/P2"), edits);
}

static BookEdit *
attach (void)
{
  const BookAttachable link = { .kind = BOOK_ATTACHMENT_OTHER, .name = "drawing", .link = "https://example.org/drawing" };

  return book_edit_attach (BOOK_RECORD_PART, ID (PART, "HF-10"), &link, 1);
}

static BookEdit *detach (void) { return book_edit_detach (shelf_integer (&shelf, "SELECT id FROM attachment")); }

/* ---- issues ---- */

static BookEdit *
raise_issue (void)
{
  return book_issue_raise (ID (MODEL, "HF"), STRINGS ("title", "class", "found_on"), STRINGS ("Lever sticks", "function", "2026-03-02"), NULL,
                          NULL);
}

static BookEdit *contain (void) { return book_issue_contain (ID (ISSUE, "HF/1"), "2026-03-04"); }

static BookEdit *
know_cause (void)
{
  return book_issue_know_cause (ID (ISSUE, "HF/1"), "The ramp wears.", BOOK_CAUSE_SEEN, "2026-03-05");
}

static BookEdit *
add_finding (void)
{
  return book_issue_add_finding (ID (ISSUE, "HF/1"), STRINGS ("unit"), STRINGS ("P1-01"));
}

static BookEdit *
decide_finding (void)
{
  return book_finding_dispose (ID (FINDING, "HF/1/1"), BOOK_DISPOSITION_REWORK, shelf.person, "2026-03-06", "filed");
}

static BookEdit *
excuse_finding (void)
{
  return book_finding_excuse (ID (FINDING, "HF/1/1"), shelf.person, "2026-03-06", "dropped");
}

static BookEdit *
close_issue (void)
{
  return book_issue_close (ID (ISSUE, "HF/1"), BOOK_OUTCOME_ACCEPTED, shelf.person, "2026-03-07");
}

static BookEdit *reopen_issue (void) { return book_issue_reopen (ID (ISSUE, "HF/1")); }

/* ---- units ---- */

static BookEdit *
event (BookEventKind kind)
{
  BookEdit *edit = book_unit_add_event (ID (UNIT, "HF/P1/P1-01"), kind, STRINGS ("date", "reason"), STRINGS ("2026-03-05", "filed"));

  book_unit_event_at (edit, ID (STEP, "HF/20"));
  return edit;
}

static BookEdit *pass (void) { return event (BOOK_EVENT_PASSED); }

static BookEdit *
send_back (void)
{
  BookEdit *edit = book_unit_add_event (ID (UNIT, "HF/P1/P1-01"), BOOK_EVENT_SENT_BACK, STRINGS ("date", "back_to", "reason"),
                                        STRINGS ("2026-03-05", "10", "burr"));

  book_unit_event_at (edit, ID (STEP, "HF/20"));
  return edit;
}

static BookEdit *rework (void) { return event (BOOK_EVENT_REWORKED); }
static BookEdit *set_aside (void) { return book_unit_set_aside (ID (UNIT, "HF/P2/P2-01"), "2026-03-06", "scratched"); }
static BookEdit *build_in (void) { return book_unit_build_in (ID (UNIT, "HF/P1/P1-01"), ID (PART, "HF-10"), 0, ID (REVISION, "HF-10/A"), 0); }

/* ---- changes ---- */

static BookEdit *
propose (void)
{
  return book_change_propose (ID (MODEL, "HF"), STRINGS ("title", "reason", "proposed_on"),
                              STRINGS ("Polish the ramp", "it wears", "2026-03-05"));
}

static BookEdit *
add_item (void)
{
  return book_change_add_item (ID (CHANGE, "HF/1"), STRINGS ("part", "new_label", "new"), STRINGS ("HF-20", "C", "polished"));
}

static BookEdit *answer_issue (void) { return book_change_add_issue (ID (CHANGE, "HF/1"), ID (ISSUE, "HF/1")); }

static BookEdit *
carry_over (void)
{
  return book_change_set_effect (ID (CHANGE, "HF/1"), ID (CHARACTERISTIC, "HF/LE"), BOOK_EFFECT_CARRIED_OVER, shelf.person, 0,
                                 "untouched by it");
}

static BookEdit *
agree (void)
{
  return book_change_agree (ID (CHANGE, "HF/1"), shelf.person, "2026-03-06", 0, NULL);
}

static BookEdit *carry_out (void) { return book_change_carry_out (ID (CHANGE, "HF/1"), "2026-03-07"); }

static BookEdit *
propose_other (void)
{
  return book_change_propose (ID (MODEL, "HF"), STRINGS ("title", "reason", "proposed_on"),
                              STRINGS ("Harden the ramp", "it wears", "2026-03-05"));
}

static BookEdit *withdraw (void) { return book_change_withdraw (ID (CHANGE, "HF/2"), "2026-03-08", "polishing will do"); }

/* ---- rounds ---- */

static BookEdit *
plan (void)
{
  return book_round_plan (ID (MODEL, "HF"), STRINGS ("label", "kind"), STRINGS ("P3", "prototype"));
}

static BookEdit *
copy_round (void)
{
  return book_round_copy (ID (ROUND, "HF/P2"), STRINGS ("label"), STRINGS ("P4"));
}

static BookEdit *
set_test (void)
{
  return book_round_set_test (ID (ROUND, "HF/P2"), "P2-01", ID (CHARACTERISTIC, "HF/LE"), BOOK_ROUND_TEST_TESTED);
}

static BookEdit *reach (BookRoundDate date, const char *on) { return book_round_reach (ID (ROUND, "HF/P2"), date, on); }
static BookEdit *open_round (void) { return book_round_reach (ID (ROUND, "HF/P3"), BOOK_ROUND_OPENED, "2026-03-09"); }
static BookEdit *fix_design (void) { return reach (BOOK_ROUND_DESIGN_FIXED, "2026-03-03"); }
static BookEdit *have_parts (void) { return reach (BOOK_ROUND_PARTS_READY, "2026-03-04"); }
static BookEdit *have_built (void) { return reach (BOOK_ROUND_BUILT, "2026-03-05"); }
static BookEdit *have_tested (void) { return reach (BOOK_ROUND_TESTED, "2026-03-06"); }

static BookEdit *
begin_wait (void)
{
  return book_round_begin_wait (ID (ROUND, "HF/P2"), STRINGS ("reason", "from_date"), STRINGS ("people", "2026-03-07"));
}

static BookEdit *end_wait (void) { return book_round_end_wait (shelf_integer (&shelf, "SELECT id FROM wait"), "2026-03-08"); }
static BookEdit *decide (void) { return book_round_decide (ID (ROUND, "HF/P2"), BOOK_VERDICT_GO_ON, NULL, "2026-03-09"); }

/* ---- steps ---- */

static BookEdit *count_good (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_GOOD, 3); }
static BookEdit *count_scrapped (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_SCRAPPED, 2); }
static BookEdit *take_one_back (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_GOOD, -1); }
static BookEdit *blame (void) { return book_tally_blame (shelf_integer (&shelf, "SELECT id FROM tally"), ID (ISSUE, "HF/1"), 1); }

static BookEdit *
store_rate (void)
{
  BookEdit *edit = book_rate_store (ID (MODEL, "HF"));

  book_rate_store_set (edit, BOOK_RECORD_STEP, ID (STEP, "HF/10"), "cycle_min", 12);
  return edit;
}

static BookEdit *count_reworked (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_REWORKED, 1); }
static BookEdit *count_waiting (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_WAITING, 2); }
static BookEdit *is_good (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_WAITING_GOOD, 1); }
static BookEdit *is_scrapped (void) { return book_tally_count (ID (STEP, "HF/10"), ID (ROUND, "HF/P3"), BOOK_TALLY_WAITING_SCRAPPED, 1); }

/* ---- units, the set-up, and blocks ---- */

static BookEdit *alter (void) { return event (BOOK_EVENT_ALTERED); }
static BookEdit *lend (void) { return event (BOOK_EVENT_LENT); }
static BookEdit *scrap (void) { return event (BOOK_EVENT_SCRAPPED); }
static BookEdit *correct_serial (void) { return book_unit_correct_serial (ID (UNIT, "HF/P2/P2-01"), "P2-10", "P2-01"); }
static BookEdit *set_limits (void) { return book_limit_set (ID (CHARACTERISTIC, "HF/LE"), NULL, NAN, 1.1, 1.9); }
static BookEdit *move_step (void) { return book_order_move (BOOK_RECORD_STEP, ID (STEP, "HF/20"), -1); }
static BookEdit *take_over (void) { return book_setup_copy (ID (MODEL, "HF"), ID (MODEL, "WT"), BOOK_COPY_ROUTE | BOOK_COPY_CHARACTERISTICS); }
static BookEdit *make_one (void) { return book_merge (BOOK_RECORD_PART, ID (PART, "HF-10"), ID (PART, "HF-20")); }
static BookEdit *archive (void) { return book_edit_field (BOOK_RECORD_MODEL, ID (MODEL, "WT"), "archived", "yes"); }
static BookEdit *delete_model (void) { return book_edit_delete (BOOK_RECORD_MODEL, ID (MODEL, "WT")); }

static BookEdit *
type_trials (void)
{
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);

  for (guint i = 0; i < 2; i++)
    {
      const char *const trial = i == 0 ? "1" : "2";

      g_ptr_array_add (edits, book_edit_record (BOOK_RECORD_GAUGE_TRIAL, 0, STRINGS ("gauge", "characteristic", "person", "piece", "trial", "date", "value"),
                                                STRINGS ("C1", "HF/LE", "EH", "1", trial, "2026-03-09", "1.4"), NULL));
    }
  return book_edit_several ("trials-typed", BOOK_RECORD_CHARACTERISTIC, ID (CHARACTERISTIC, "HF/LE"), edits);
}

static BookEdit *
void_several (void)
{
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);

  g_ptr_array_add (edits, book_edit_void (ID (READING, "HF/P2/P2-10/LE/1/1"), "slipped"));
  g_ptr_array_add (edits, book_edit_void (ID (READING, "HF/P2/P2-09/LE/1/1"), "slipped"));
  return book_edit_several ("readings-voided", BOOK_RECORD_ROUND, ID (ROUND, "HF/P2"), edits);
}

typedef struct
{
  BookEdit  *(*make) (void);
  const char *sentence;
  const char *undone; /* where the record is called otherwise by then; NULL: as before */
} Kind;

/* In this order, each done and left. */
static const Kind kinds[] = {
  { type_reading, "Typed a reading: Reading HF/P1/P1-01/LE/1/1", NULL },
  { change_reading, "Changed a reading: Reading HF/P1/P1-01/LE/1/1", NULL },
  { void_reading, "Voided a reading: Reading HF/P1/P1-01/LE/1/1", NULL },
  { add_unit, "Added a unit: Unit HF/P2/P2-09", NULL },
  { type_several, "Typed 2 readings in: Round HF/P2", NULL },
  { add_person, "Added a person: Person TK", NULL },
  { set_field, "Changed 'Name' of: Part HF-10", NULL },
  { add_record, "Added: Supplier Norden", NULL },
  { change_record, "Changed 'Note' of: Supplier Norden", NULL },
  { change_two, "Changed: Part HF-20", NULL },
  { delete_record, "Deleted: Supplier Norden", NULL },
  { attach, "Attached a file or link to: Part HF-10", NULL },
  { detach, "Took an attachment away from: Part HF-10", NULL },
  { raise_issue, "Raised an issue: Issue HF/1", NULL },
  { contain, "Contained: Issue HF/1", NULL },
  { know_cause, "Wrote down the cause of: Issue HF/1", NULL },
  { add_finding, "Added a finding to: Issue HF/1", NULL },
  { decide_finding, "Decided what is done about: Finding HF/1/1", NULL },
  { excuse_finding, "Excused: Finding HF/1/1", NULL },
  { close_issue, "Closed: Issue HF/1", NULL },
  { reopen_issue, "Opened again: Issue HF/1", NULL },
  { pass, "Passed: Unit HF/P1/P1-01", NULL },
  { send_back, "Sent back: Unit HF/P1/P1-01", NULL },
  { rework, "Reworked: Unit HF/P1/P1-01", NULL },
  { set_aside, "Set aside: Unit HF/P2/P2-01", NULL },
  { build_in, "Corrected what was built into: Unit HF/P1/P1-01", NULL },
  { propose, "Proposed a change: Change HF/1", NULL },
  { add_item, "Added an item to: Change HF/1", NULL },
  { answer_issue, "Said which issue it answers: Change HF/1", NULL },
  { carry_over, "Said what is measured again or carried over: Change HF/1", NULL },
  { agree, "Agreed: Change HF/1", NULL },
  { carry_out, "Carried out: Change HF/1", NULL },
  { propose_other, "Proposed a change: Change HF/2", NULL },
  { withdraw, "Withdrew: Change HF/2", NULL },
  { plan, "Planned: Round HF/P3", NULL },
  { open_round, "Opened: Round HF/P3", NULL },
  { set_test, "Said which unit is for which test in: Round HF/P2", NULL },
  { fix_design, "Fixed the design of: Round HF/P2", NULL },
  { have_parts, "Had all parts ready for: Round HF/P2", NULL },
  { have_built, "Built all units of: Round HF/P2", NULL },
  { have_tested, "Finished testing: Round HF/P2", NULL },
  { begin_wait, "Began to wait: Wait HF/P2/1", NULL },
  { end_wait, "Ended a wait: Wait HF/P2/1", NULL },
  { decide, "Decided how to go on after: Round HF/P2", NULL },
  { copy_round, "Planned after the last round, with agreed changes: Round HF/P4", NULL },
  { count_good, "Counted 3 good pieces: Tally HF/10/2026-03-10/EH/1", NULL },
  { count_scrapped, "Counted 2 scrapped pieces: Tally HF/10/2026-03-10/EH/1", NULL },
  { take_one_back, "Took back 1 counted piece: Tally HF/10/2026-03-10/EH/1", NULL },
  { blame, "Named the issue of 1 piece: Loss HF/10/2026-03-10/EH/1/1", NULL },
  { store_rate, "Stored 1 figure that was tried for the rate of: Model HF", NULL },
  { count_reworked, "Counted 1 reworked piece: Tally HF/10/2026-03-10/EH/1", NULL },
  { count_waiting, "Counted 2 pieces that wait for rework: Tally HF/10/2026-03-10/EH/1", NULL },
  { is_good, "1 piece that waited is good: Tally HF/10/2026-03-10/EH/1", NULL },
  { is_scrapped, "1 piece that waited is scrapped: Tally HF/10/2026-03-10/EH/1", NULL },
  { alter, "Altered: Unit HF/P1/P1-01", NULL },
  { lend, "Noted what happened to: Unit HF/P1/P1-01", NULL },
  { scrap, "Scrapped: Unit HF/P1/P1-01", NULL },
  { correct_serial, "Corrected the serial of: Unit HF/P2/P2-10", "Corrected the serial of: Unit HF/P2/P2-01" },
  { set_limits, "Set limits: Limits HF/LE/2026-03-10", NULL },
  { type_trials, "Typed 2 trials of: Characteristic HF/LE", NULL },
  { void_several, "Voided 2 readings in: Round HF/P2", NULL },
  { move_step, "Moved in its order: Step HF/10", "Moved in its order: Step HF/20" },
  { take_over, "Took over the set-up of Model HF into: Model WT", NULL },
  { make_one, "Made one of two, Part HF-20 went into: Part HF-10", NULL },
  { archive, "Changed 'Archived' of: Model WT", NULL },
  { delete_model, "Deleted: Model WT", NULL },
};

/* Messages of what is no command of this library, or stays: why they have no row above. */
static const struct
{
  const char *message;
  const char *reason;
} elsewhere[] = {
  { "import", "undone in tests/exchange/test-exchange-look.c" },
  { "sheet", "undone in tests/exchange/test-exchange-sheet-store.c" },
  { "tally-taps", "tells several taps together; each of them is undone above" },
  { "field-changed", "written by earlier programs; field-set has taken its place" },
  { "payload-erased", "takes words out of the journal for good, by name and with a reason" },
  { "gate-signed", "lasting" },
  { "signoff-withdrawn", "lasting" },
  { "criterion-waived", "lasting" },
  { "waiver-withdrawn", "lasting" },
  { "gate-decided", "lasting" },
  { "decision-withdrawn", "lasting" },
};

static void
fill (void)
{
  shelf_open (&shelf);
  shelf_fill (&shelf);
  shelf_write (&shelf, "step model=HF | position=10 | name=Mill\n"
                       "step model=HF | position=20 | name=Fit\n"
                       "gate model=HF | position=1 | name=Release\n"
                       "criterion gate=HF/1 | model=HF | code=C1 | kind=measured | characteristic=HF/LE\n"
                       "gauge name=C1\n"
                       "round_test round=HF/P2 | serial=P2-01 | characteristic=HF/LV\n");
}

static void
run (BookEdit *edit)
{
  g_autoptr(GError) error = NULL;

  book_edit_set_today (edit, SHELF_TODAY);
  book_edit_run (shelf.book, edit, shelf.person, SHELF_SITTING, NULL, NULL, &error);
  g_assert_no_error (error);
}

/* What the menu will call it: the sentence of the sitting's next undo, or redo. */
static void
check_called (gboolean redo, const char *sentence)
{
  g_autoptr(GError) error = NULL;
  gint64 undo_action, redo_action;
  g_autoptr(StoreActionInfo) info = NULL;
  g_autofree char *called = NULL;

  g_assert_true (store_undo_find (shelf_db (&shelf), SHELF_SITTING, &undo_action, &redo_action, &error));
  g_assert_no_error (error);
  info = store_history_get (shelf_db (&shelf), redo ? redo_action : undo_action, &error);
  g_assert_no_error (error);
  called = book_message_text (shelf_db (&shelf), info->message, info->arguments);
  g_assert_cmpstr (called, ==, sentence);
}

static void
test_every_kind_there_and_back (void)
{
  const StoreIntent redo = { .action = "redo", .sitting = SHELF_SITTING };
  g_autoptr(GError) error = NULL;

  fill ();
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *before = shelf_digest (&shelf);
      g_autofree char *after = NULL, *undone = NULL, *redone = NULL;

      g_test_message ("%s", kinds[i].sentence);
      run (kinds[i].make ());
      after = shelf_digest (&shelf);
      g_assert_cmpstr (after, !=, before);
      check_called (FALSE, kinds[i].sentence);
      shelf_undo (&shelf);
      undone = shelf_digest (&shelf);
      g_assert_cmpstr (undone, ==, before);
      check_called (TRUE, kinds[i].undone != NULL ? kinds[i].undone : kinds[i].sentence);
      g_assert_true (store_redo (book_get_store (shelf.book), &redo, 0, NULL, NULL, NULL, &error));
      g_assert_no_error (error);
      redone = shelf_digest (&shelf);
      g_assert_cmpstr (redone, ==, after);
    }
  shelf_close (&shelf);
}

/* All of them, one after the other, back to the first and forward again. */
static void
test_a_sitting_is_walked_back (void)
{
  const StoreIntent redo = { .action = "redo", .sitting = SHELF_SITTING };
  g_autoptr(GError) error = NULL;
  g_autofree char *first = NULL, *last = NULL, *now = NULL;

  fill ();
  first = shelf_digest (&shelf);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    run (kinds[i].make ());
  last = shelf_digest (&shelf);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    shelf_undo (&shelf);
  now = shelf_digest (&shelf);
  g_assert_cmpstr (now, ==, first);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_true (store_redo (book_get_store (shelf.book), &redo, 0, NULL, NULL, NULL, &error));
  g_free (now);
  now = shelf_digest (&shelf);
  g_assert_cmpstr (now, ==, last);
  shelf_close (&shelf);
}

static gboolean
is_elsewhere (const char *message)
{
  for (gsize i = 0; i < G_N_ELEMENTS (elsewhere); i++)
    if (g_str_equal (elsewhere[i].message, message))
      return TRUE;
  return FALSE;
}

/* A sentence that is added to the journal's is undone above, or it is said why not. */
static void
test_no_kind_is_left_out (void)
{
  g_autoptr(GHashTable) done = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr(GError) error = NULL;
  const char *message;

  fill ();
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr(StoreActionInfo) info = NULL;
      gint64 undo_action, redo_action;

      run (kinds[i].make ());
      g_assert_true (store_undo_find (shelf_db (&shelf), SHELF_SITTING, &undo_action, &redo_action, &error));
      info = store_history_get (shelf_db (&shelf), undo_action, &error);
      g_assert_no_error (error);
      g_hash_table_add (done, g_strdup (info->message));
    }
  for (guint i = 0; (message = book_message_id (i)) != NULL; i++)
    {
      if (g_hash_table_contains (done, message) == is_elsewhere (message))
        g_test_message ("'%s' is neither undone by a row of kinds nor left out with a reason, or it is both", message);
      g_assert_true (g_hash_table_contains (done, message) != is_elsewhere (message));
    }
  shelf_close (&shelf);
}

/* What is signed stays: it is withdrawn by a later one. */
static void
test_what_is_signed_stays (void)
{
  const StoreIntent undo = { .action = "undo", .sitting = SHELF_SITTING };
  g_autoptr(GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;

  fill ();
  shelf_run (&shelf, book_release_sign (ID (GATE, "HF/1"), STRINGS ("person", "opinion"), STRINGS ("EH", "agree")));
  before = shelf_digest (&shelf);
  g_assert_false (store_undo (book_get_store (shelf.book), &undo, 0, NULL, NULL, NULL, &error));
  g_assert_nonnull (error);
  g_test_message ("%s", error->message);
  after = shelf_digest (&shelf);
  g_assert_cmpstr (after, ==, before);
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/undo/every-kind-there-and-back", test_every_kind_there_and_back);
  g_test_add_func ("/book/undo/a-sitting-is-walked-back", test_a_sitting_is_walked_back);
  g_test_add_func ("/book/undo/no-kind-is-left-out", test_no_kind_is_left_out);
  g_test_add_func ("/book/undo/what-is-signed-stays", test_what_is_signed_stays);
  return g_test_run ();
}
