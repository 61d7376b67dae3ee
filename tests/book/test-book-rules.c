/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-answers.h"
#include "book-edit.h"
#include "book-shelf.h"
#include "store-undo.h"

/*
 * Each rule once refused, once kept: a rule that refuses everything would pass the first half alone.
 */

static Shelf *
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  return shelf;
}

static void
check_refused (Shelf *shelf, const char *lines, const char *sentence)
{
  g_autofree char *refusal = shelf_refuse (shelf, lines);

  g_test_message ("%s", lines);
  g_assert_cmpstr (refusal, ==, sentence);
}

static void
check_kept (Shelf *shelf, const char *lines)
{
  check_refused (shelf, lines, NULL);
}

static void
test_bounds_hold_on_every_row (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | attempt=1001 | value=1",
                 "Reading 'HF/P1/P1-01/LE/1001/1', Attempt: 1001 is too large: it must be at most 1000.");
  check_refused (&shelf, "round model=HF | label=P3 | kind=9",
                 "Round 'HF/P3', Kind: 9 is the code of none of the choices.");
  check_kept (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | attempt=1000 | value=1");
  shelf_close (&shelf);
}

static void
test_a_visible_key_occurs_once (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "model code=HF | name=Another", "Model 'HF' is there already: choose another, or change that one.");
  check_refused (&shelf, "unit round=HF/P1 | serial=x\nunit round=HF/P1 | serial=x",
                 "Unit 'HF/P1/x' is there already: choose another, or change that one.");
  check_refused (&shelf, "depends characteristic=HF/LE | part=HF-10\ndepends characteristic=HF/LE | part=HF-10",
                 "Dependence 'HF/LE/HF-10' is there already: choose another, or change that one.");
  check_kept (&shelf, "unit round=HF/P2 | serial=x\nunit round=HF/P1 | serial=x\nmodel code=hf | name=Small letters");
  shelf_close (&shelf);
}

typedef struct
{
  gint64 unit;
  gint64 characteristic;
  guint  n;
  guint  again; /* this one twice */
} Bulk;

static gboolean
write_bulk (StoreAction *action, gpointer data, GError **error)
{
  const Bulk *bulk = data;
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  BookValue values[BOOK_MAX_FIELDS];

  for (guint i = 0; i < record->n_fields; i++)
    values[i] = BOOK_VALUE_EMPTY;
  values[book_field_index (record, "unit")] = book_value_integer (bulk->unit);
  values[book_field_index (record, "characteristic")] = book_value_integer (bulk->characteristic);
  values[book_field_index (record, "mark")] = book_value_integer (BOOK_MARK_MEASURED);
  values[book_field_index (record, "voided")] = book_value_integer (0);
  for (guint i = 0; i < bulk->n; i++)
    {
      guint key = i == 0 ? bulk->again : i;

      values[book_field_index (record, "attempt")] = book_value_integer (key / 10000 + 1);
      values[book_field_index (record, "n")] = book_value_integer (key % 10000 + 1);
      values[book_field_index (record, "value")] = book_value_real (i);
      if (!book_record_insert (action, record, values, NULL, error)
          || (i % 10000 == 9999 && !store_action_split (action, error)))
        return FALSE;
    }
  return TRUE;
}

/* Beyond some number of rows the keys are compared in another way. */
static void
test_a_visible_key_occurs_once_among_very_many (void)
{
  const StoreIntent intent = { .action = "test" };
  g_autoptr(GError) error = NULL;
  Bulk bulk = { .n = 60000, .again = 41234 };
  Shelf shelf;

  filled (&shelf);
  bulk.unit = shelf_id (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01");
  bulk.characteristic = shelf_id (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE");
  g_assert_false (store_write (book_get_store (shelf.book), &intent, write_bulk, &bulk, NULL, NULL, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_RULE);
  g_assert_cmpstr (error->message, ==,
                   "Reading 'HF/P1/P1-01/LE/5/1235' is there already: choose another, or change that one.");
  g_clear_error (&error);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 0);

  bulk.again = 0;
  g_assert_true (store_write (book_get_store (shelf.book), &intent, write_bulk, &bulk, NULL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM reading"), ==, 60000);
  shelf_close (&shelf);
}

static void
test_readings_are_of_the_characteristics_kind (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE",
                 "Reading 'HF/P1/P1-01/LE/1/1', Value: The characteristic is measured: write the value.");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1 | mark=passed",
                 "Reading 'HF/P1/P1-01/LE/1/1', Mark: The characteristic is measured, not checked: write measured, above or "
                 "below.");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LV | value=1",
                 "Reading 'HF/P1/P1-01/LV/1/1', Mark: The characteristic is checked, not measured: write passed or failed.");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LV | value=1 | mark=failed",
                 "Reading 'HF/P1/P1-01/LV/1/1', Value: The characteristic is checked, not measured: leave the value empty.");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1 | voided=yes | person=EH",
                 "Reading 'HF/P1/P1-01/LE/1/1', Reason: A reading is voided only with a reason: write why.");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1 | voided=yes | reason=slipped",
                 "Reading 'HF/P1/P1-01/LE/1/1', Person: A reading is voided only by name: write who.");
  check_kept (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1 | voided=yes | reason=slipped | person=EH\n"
                      "reading unit=HF/P1/P1-01 | characteristic=HF/LE | n=2 | value=500 | mark=above\n"
                      "reading unit=HF/P1/P1-01 | characteristic=HF/LV | mark=failed");
  shelf_close (&shelf);
}

/* As somebody: NULL when it was stored. */
static char *
refuse_as (Shelf *shelf, const char *initials, const char *lines)
{
  gint64 before = shelf->person;
  char *refusal;

  shelf->person = shelf_id (shelf, BOOK_RECORD_PERSON, initials);
  refusal = shelf_refuse (shelf, lines);
  shelf->person = before;
  return refusal;
}

static void
test_limits_are_widened_by_name (void)
{
  const char *refusal = "The limits of 'HF/GAP' would become wider, and in this book only these widen limits: owner, RB. "
                        "Let one of them do it.";
  StoreIntent by = { .action = "undo" };
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "person initials=OW | role=owner\nperson initials=RB | role=inspector\n"
                       "characteristic model=HF | code=GAP | name=Gap\n"
                       "limit characteristic=HF/GAP | from_date=2026-01-01 | lower=1 | upper=2");
  check_refused (&shelf, "setting name=may widen limits | value=owner, boss",
                 "Setting 'may widen limits': 'boss' is neither a role nor the initials of anybody: write roles or initials "
                 "with commas between, as in 'owner, lead'.");
  check_kept (&shelf, "limit characteristic=HF/GAP | from_date=2026-01-02 | lower=0.9 | upper=2"); /* nothing is said yet */
  g_assert_null (refuse_as (&shelf, "OW", "setting name=may widen limits | value=owner, RB"));

  check_refused (&shelf, "limit characteristic=HF/GAP | from_date=2026-02-01 | lower=0.8 | upper=2", refusal);
  check_refused (&shelf, "limit characteristic=HF/GAP | from_date=2026-02-01 | upper=2", refusal);
  check_kept (&shelf, "limit characteristic=HF/GAP | from_date=2026-02-01 | lower=1.1 | upper=1.9");
  g_assert_null (refuse_as (&shelf, "RB", "limit characteristic=HF/GAP | from_date=2026-03-01 | lower=1.1 | upper=3"));

  /* the same by undoing what made them narrower */
  by.person = shelf_id (&shelf, BOOK_RECORD_PERSON, "EH");
  check_kept (&shelf, "limit characteristic=HF/GAP | from_date=2026-04-01 | lower=1.5 | upper=1.9");
  g_assert_false (store_undo (book_get_store (shelf.book), &by, 0, NULL, NULL, NULL, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_RULE);
  g_assert_cmpstr (error->message, ==, refusal);
  g_clear_error (&error);
  by.person = shelf_id (&shelf, BOOK_RECORD_PERSON, "OW");
  g_assert_true (store_undo (book_get_store (shelf.book), &by, 0, NULL, NULL, NULL, &error));

  /* and by changing the row, or who may */
  g_assert_false (book_edit_run (shelf.book,
                                 book_edit_field (BOOK_RECORD_LIMIT, shelf_id (&shelf, BOOK_RECORD_LIMIT, "HF/GAP/2026-03-01"),
                                                  "upper", "4"), shelf.person, 0, NULL, NULL, &error));
  g_assert_cmpstr (error->message, ==, refusal);
  g_clear_error (&error);
  g_assert_false (book_edit_run (shelf.book,
                                 book_edit_field (BOOK_RECORD_SETTING, shelf_id (&shelf, BOOK_RECORD_SETTING, "may widen limits"),
                                                  "value", "lead"), shelf.person, 0, NULL, NULL, &error));
  g_assert_cmpstr (error->message, ==,
                   "Only those who may widen limits now can say who may: owner, RB. Let one of them do it.");
  g_clear_error (&error);
  g_assert_true (book_edit_run (shelf.book,
                                book_edit_field (BOOK_RECORD_LIMIT, shelf_id (&shelf, BOOK_RECORD_LIMIT, "HF/GAP/2026-03-01"),
                                                 "upper", "2.5"), shelf.person, 0, NULL, NULL, &error));
  shelf_close (&shelf);
}

static void
test_gauges_are_excused_by_name (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "gauge name=Caliper 3\n");
  check_refused (&shelf, "gauge_calibration gauge=Caliper 3 | date=2026-02-20 | excused_by=EH | excused_on=2026-02-22 | reason=x",
                 "Calibration 'Caliper 3/2026-02-20', Excused by: There is nothing to excuse, since the gauge was in order.");
  check_refused (&shelf, "gauge_calibration gauge=Caliper 3 | date=2026-02-20 | in_order=no | excused_by=EH | reason=x",
                 "Calibration 'Caliper 3/2026-02-20', Excused on: It is empty, but must be filled in where 'Excused by' is.");
  check_refused (&shelf, "gauge_calibration gauge=Caliper 3 | date=2026-02-20 | in_order=no | excused_by=EH | excused_on=2026-02-22",
                 "Calibration 'Caliper 3/2026-02-20', Reason: It is empty, but must be filled in where 'Excused by' is.");
  check_refused (&shelf, "gauge_calibration gauge=Caliper 3 | date=2026-02-20 | in_order=no | reason=x",
                 "Calibration 'Caliper 3/2026-02-20', Excused by: It is empty, but must be filled in where 'Reason' is.");
  check_kept (&shelf, "gauge_calibration gauge=Caliper 3 | date=2026-02-20 | in_order=no | excused_by=EH | "
                      "excused_on=2026-02-22 | reason=nothing at 10 mm");
  shelf_close (&shelf);
}

static void
test_references_belong_together (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\nissue model=WT | no=1 | title=x | class=safety\n"
                       "gate model=HF | position=1 | name=Release\ngate model=WT | position=1 | name=Release\n"
                       "lot part=HF-10 | number=1\n");
  check_refused (&shelf, "reading unit=HF/P1/P1-01 | characteristic=WT/KH | value=58",
                 "Reading 'HF/P1/P1-01/KH/1/1', Characteristic: 'Unit' and 'Characteristic' do not belong together: choose "
                 "one that goes with the other.");
  check_refused (&shelf, "unit_part unit=HF/P1/P1-01 | part=HF-10 | revision=HF-20/B",
                 "Part as built 'HF/P1/P1-01/HF-10', Revision: 'Part' and 'Revision' do not belong together: choose one "
                 "that goes with the other.");
  check_refused (&shelf, "unit_part unit=HF/P1/P1-01 | part=HF-20 | lot=HF-10///1",
                 "Part as built 'HF/P1/P1-01/HF-20', Lot: 'Part' and 'Lot' do not belong together: choose one that goes "
                 "with the other.");
  check_refused (&shelf, "criterion model=HF | code=C1 | gate=WT/1 | kind=measured | characteristic=HF/LE",
                 "Criterion 'HF/C1', Gate: 'Model' and 'Gate' do not belong together: choose one that goes with the other.");
  check_refused (&shelf, "unit_event unit=HF/P1/P1-01 | no=1 | date=2026-02-10 | kind=reworked | issue=WT/1",
                 "Event 'HF/P1/P1-01/1', Issue: 'Unit' and 'Issue' do not belong together: choose one that goes with the "
                 "other.");
  check_kept (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.3\n"
                      "unit_part unit=HF/P1/P1-01 | part=HF-10 | revision=HF-10/A | lot=HF-10///1\n"
                      "criterion model=HF | code=C1 | gate=HF/1 | kind=measured | characteristic=HF/LE\n"
                      "unit_event unit=HF/P1/P1-01 | no=1 | date=2026-02-10 | kind=reworked | issue=HF/1");
  shelf_close (&shelf);
}

static void
test_exactly_one_is_filled_in (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "step model=HF | position=30 | name=Harden | kind=outside\nissue model=HF | no=1 | title=x | class=safety\n");
  check_refused (&shelf, "depends characteristic=HF/LE",
                 "Dependence 'HF/LE', Part: Exactly one of these must be filled in: Part, Step.");
  check_refused (&shelf, "depends characteristic=HF/LE | part=HF-10 | step=HF/30",
                 "Dependence 'HF/LE/HF-10/30', Part: Exactly one of these must be filled in: Part, Step.");
  check_refused (&shelf, "finding issue=HF/1 | no=1 | unit=HF/P1/P1-01 | affected=1 | inspected=2",
                 "Finding 'HF/1/1', Unit: Exactly one of these must be filled in: Unit, Lot, Affected.");
  check_refused (&shelf, "attachment owner_record=unit | owner=HF/P1/P1-01 | no=1 | name=x",
                 "Attachment 'unit/HF/P1/P1-01/1', Digest: Exactly one of these must be filled in: Digest, Link.");
  check_kept (&shelf, "depends characteristic=HF/LE | step=HF/30\nlot step=HF/30 | number=7\n"
                      "finding issue=HF/1 | no=1 | affected=1 | inspected=2");
  shelf_close (&shelf);
}

static void
test_dates_follow_one_another (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "round model=HF | label=P3 | kind=pilot | opened=2026-05-01 | built=2026-04-30",
                 "Round 'HF/P3', Built: The date lies before 'Opened': correct one of the two.");
  check_refused (&shelf, "round model=HF | label=P3 | kind=pilot | verdict=stop",
                 "Round 'HF/P3', Decided: It is empty, but must be filled in where 'Verdict' is.");
  check_refused (&shelf, "wait round=HF/P1 | no=1 | reason=tooling | from_date=2026-05-02 | to_date=2026-05-01",
                 "Wait 'HF/P1/1', To: The date lies before 'From': correct one of the two.");
  check_kept (&shelf, "round model=HF | label=P3 | kind=pilot | opened=2026-05-01 | built=2026-05-01 | decided=2026-06-01\n"
                      "wait round=HF/P1 | no=1 | reason=tooling | from_date=2026-05-01");
  shelf_close (&shelf);
}

static void
test_limits_leave_room (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "limit characteristic=HF/LE | from_date=2026-02-01 | lower=2 | upper=2",
                 "Limits 'HF/LE/2026-02-01', Upper limit: The upper limit must be greater than the lower one.");
  check_refused (&shelf, "limit characteristic=HF/LE | from_date=2026-02-01 | nominal=2",
                 "Limits 'HF/LE/2026-02-01', Lower limit: At least one of these must be filled in: Lower limit, Upper limit.");
  check_refused (&shelf, "limit characteristic=HF/LE | from_date=2026-02-01 | lower=1 | upper=3 | nominal=3.5",
                 "Limits 'HF/LE/2026-02-01', Nominal: The nominal value must lie within the limits.");
  check_kept (&shelf, "limit characteristic=HF/LE | from_date=2026-02-01 | upper=3 | nominal=2\n"
                      "limit characteristic=HF/LV | from_date=2026-02-01");
  shelf_close (&shelf);
}

static void
test_names_and_reasons_are_wanted (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "change model=HF | no=1 | title=x\nissue model=HF | no=1 | title=x | class=safety\n"
                       "gate model=HF | position=1 | name=Release\n");
  check_refused (&shelf, "unit_event unit=HF/P1/P1-01 | no=1 | date=2026-02-10 | kind=set aside | reason=x",
                 "Event 'HF/P1/P1-01/1', Person: A unit is set aside only by name: write who.");
  check_refused (&shelf, "change_effect change=HF/1 | characteristic=HF/LE | effect=carried over | person=EH",
                 "Effect of a change 'HF/1/LE', Reason: Older readings are carried over only with a reason: write why.");
  check_refused (&shelf, "change_effect change=HF/1 | characteristic=HF/LE | effect=carried over | person=EH | reason=x | "
                         "second_person=EH",
                 "Effect of a change 'HF/1/LE', Second person: The second person must be another one.");
  check_refused (&shelf, "finding issue=HF/1 | no=1 | unit=HF/P1/P1-01 | excused=yes | reason=x",
                 "Finding 'HF/1/1', By: A unit is excused only by name: write who.");
  check_refused (&shelf, "issue model=HF | no=2 | title=x | class=safety | closed=2026-05-05",
                 "Issue 'HF/2', Outcome: It is empty, but must be filled in where 'Closed' is.");
  check_refused (&shelf, "signoff gate=HF/1 | person=EH | no=1 | date=2026-05-05",
                 "Sign-off 'HF/1/EH/1', Opinion: At least one of these must be filled in: Opinion, Withdraws.");
  shelf_close (&shelf);
}

static void
test_any_record_must_be_there (void)
{
  Shelf shelf;

  filled (&shelf);
  check_refused (&shelf, "todo no=1 | what=x | about_record=unit | about=HF/P9/none",
                 "To do '1', About: There is no such record in the book.");
  check_kept (&shelf, "todo no=1 | what=x | about_record=unit | about=HF/P1/P1-01");
  shelf_close (&shelf);
}

typedef struct
{
  const BookRecord *record;
  gint64            id;
  const char       *field;
  BookValue         value;
} Change;

static gboolean
write_change (StoreAction *action, gpointer data, GError **error)
{
  const Change *change = data;
  BookValue values[BOOK_MAX_FIELDS];

  for (guint i = 0; i < change->record->n_fields; i++)
    values[i] = BOOK_VALUE_UNCHANGED;
  values[book_field_index (change->record, change->field)] = change->value;
  return book_record_update (action, change->record, change->id, values, error);
}

static void
check_change (Shelf *shelf, BookRecordId record, const char *key, const char *field, BookValue value, const char *sentence)
{
  const StoreIntent intent = { .action = "test", .sitting = 5 };
  Change change = { book_record (record), shelf_id (shelf, record, key), field, value };
  g_autoptr(GError) error = NULL;

  store_write (book_get_store (shelf->book), &intent, write_change, &change, NULL, NULL, &error);
  g_assert_cmpstr (error != NULL ? error->message : NULL, ==, sentence);
}

static void
test_a_change_is_checked_as_a_whole (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.3\n"
                       "round model=WT | label=P1 | kind=prototype\n");
  check_change (&shelf, BOOK_RECORD_READING, "HF/P1/P1-01/LE/1/1", "voided", book_value_integer (1),
                "Reading 'HF/P1/P1-01/LE/1/1', Reason: A reading is voided only with a reason: write why.");
  check_change (&shelf, BOOK_RECORD_ROUND, "HF/P1", "decided", book_value_text ("2026-01-01", -1),
                "Round 'HF/P1', Decided: The date lies before 'Opened': correct one of the two.");
  check_change (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LE", "kind", book_value_integer (BOOK_CHARACTERISTIC_CHECKED),
                "Characteristic 'HF/LE', Kind: It has readings of the other kind: enter a new characteristic.");
  check_change (&shelf, BOOK_RECORD_CHARACTERISTIC, "HF/LV", "kind", book_value_integer (BOOK_CHARACTERISTIC_MEASURED), NULL);
  check_change (&shelf, BOOK_RECORD_UNIT, "HF/P1/P1-01", "serial", book_value_text ("P2-01", -1), NULL);
  check_change (&shelf, BOOK_RECORD_UNIT, "HF/P1/P2-01", "round",
                book_value_integer (shelf_id (&shelf, BOOK_RECORD_ROUND, "HF/P2")),
                "Unit 'HF/P2/P2-01' is there already: choose another, or change that one.");
  check_change (&shelf, BOOK_RECORD_UNIT, "HF/P1/P2-01", "round",
                book_value_integer (shelf_id (&shelf, BOOK_RECORD_ROUND, "WT/P1")),
                "Unit 'HF/P1/P2-01', Round: It cannot move to another model: enter a new one there.");
  check_change (&shelf, BOOK_RECORD_REVISION, "HF-10/A", "part",
                book_value_integer (shelf_id (&shelf, BOOK_RECORD_PART, "HF-20")),
                "Revision 'HF-10/A', Part: It cannot move elsewhere, since others may refer to it: enter a new one.");
  shelf_close (&shelf);
}

static void
test_sign_offs_are_lasting (void)
{
  const StoreIntent intent = { .action = "undo" };
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "gate model=HF | position=1 | name=Release\n");
  shelf_write (&shelf, "signoff gate=HF/1 | person=EH | no=1 | opinion=agree | date=2026-05-05\n");
  check_change (&shelf, BOOK_RECORD_SIGNOFF, "HF/1/EH/1", "date", book_value_text ("2026-05-06", -1),
                "Sign-off 'HF/1/EH/1': It stays as it is: withdraw it by a later one.");
  g_assert_false (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_nonnull (error);
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM signoff"), ==, 1);
  check_kept (&shelf, "signoff gate=HF/1 | person=EH | no=2 | withdraws=HF/1/EH/1 | date=2026-05-06 | reason=x");
  shelf_close (&shelf);
}

static gint64
model_version (Shelf *shelf, const char *code)
{
  BookVersion version;

  g_assert_true (book_version_read (shelf_db (shelf), *code != '\0' ? shelf_id (shelf, BOOK_RECORD_MODEL, code) : 0,
                                    &version, NULL));
  return *code != '\0' ? version.model : version.shared;
}

static void
test_a_commit_counts_the_models_it_touched (void)
{
  const StoreIntent intent = { .action = "undo" };
  gint64 hawfinch;
  gint64 wagtail;
  gint64 shared;
  Shelf shelf;

  filled (&shelf);
  hawfinch = model_version (&shelf, "HF");
  wagtail = model_version (&shelf, "WT");
  shared = model_version (&shelf, "");

  shelf_write (&shelf, "reading unit=HF/P1/P1-01 | characteristic=HF/LE | value=1.3\n"
                       "reading unit=HF/P2/P2-01 | characteristic=HF/LE | value=1.3\n");
  g_assert_cmpint (model_version (&shelf, "HF"), ==, hawfinch + 1);
  g_assert_cmpint (model_version (&shelf, "WT"), ==, wagtail);
  g_assert_cmpint (model_version (&shelf, ""), ==, shared);

  g_assert_true (store_undo (book_get_store (shelf.book), &intent, 0, NULL, NULL, NULL, NULL));
  g_assert_cmpint (model_version (&shelf, "HF"), ==, hawfinch + 2);

  shelf_write (&shelf, "part number=HF-30 | name=Spring\n");
  g_assert_cmpint (model_version (&shelf, "HF"), ==, hawfinch + 2);
  g_assert_cmpint (model_version (&shelf, ""), ==, shared + 1);

  shelf_write (&shelf, "todo no=1 | what=x | about_record=unit | about=HF/P1/P1-01\n"
                       "lot part=HF-30 | number=1\n");
  g_assert_cmpint (model_version (&shelf, "HF"), ==, hawfinch + 3);
  g_assert_cmpint (model_version (&shelf, "WT"), ==, wagtail);
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/rules/bounds-hold-on-every-row", test_bounds_hold_on_every_row);
  g_test_add_func ("/book/rules/a-visible-key-occurs-once", test_a_visible_key_occurs_once);
  g_test_add_func ("/book/rules/a-visible-key-occurs-once-among-very-many", test_a_visible_key_occurs_once_among_very_many);
  g_test_add_func ("/book/rules/readings-are-of-the-characteristics-kind", test_readings_are_of_the_characteristics_kind);
  g_test_add_func ("/book/rules/limits-are-widened-by-name", test_limits_are_widened_by_name);
  g_test_add_func ("/book/rules/gauges-are-excused-by-name", test_gauges_are_excused_by_name);
  g_test_add_func ("/book/rules/references-belong-together", test_references_belong_together);
  g_test_add_func ("/book/rules/exactly-one-is-filled-in", test_exactly_one_is_filled_in);
  g_test_add_func ("/book/rules/dates-follow-one-another", test_dates_follow_one_another);
  g_test_add_func ("/book/rules/limits-leave-room", test_limits_leave_room);
  g_test_add_func ("/book/rules/names-and-reasons-are-wanted", test_names_and_reasons_are_wanted);
  g_test_add_func ("/book/rules/any-record-must-be-there", test_any_record_must_be_there);
  g_test_add_func ("/book/rules/a-change-is-checked-as-a-whole", test_a_change_is_checked_as_a_whole);
  g_test_add_func ("/book/rules/sign-offs-are-lasting", test_sign_offs_are_lasting);
  g_test_add_func ("/book/rules/a-commit-counts-the-models-it-touched", test_a_commit_counts_the_models_it_touched);
  return g_test_run ();
}
