/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading everything that evidence about a model is made from, out of a real book. */
#include "config.h"

#include "book-edit.h"
#include "book-evidence.h"
#include "book-shelf.h"

#include <math.h>
#include <string.h>

/* A model M, and a model X whose records must not be seen. */
static void
fill (Shelf *shelf, gboolean other_model)
{
  shelf_open (shelf);
  shelf_write (shelf,
               "person initials=MO | role=owner\n"
               "person initials=EH | role=lead\n"
               "holiday date=2026-01-06\n"
               "setting name=working week | value=8 8 8 8 6 0 0\n"
               "gauge name=Caliper 3 | resolution=0.01\n"
               "gauge_calibration gauge=Caliper 3 | date=2026-01-02 | due=2027-01-02 | in_order=yes\n"
               "part number=L-1 | name=Lever\n"
               "part number=S-1 | name=Spring of another model\n"
               "revision part=L-1 | label=A | state=withdrawn | date=2026-01-03\n"
               "revision part=L-1 | label=B | state=released | date=2026-02-03\n"
               "model code=M | name=Model | monthly_demand=120\n"
               "step model=M | position=70 | name=Test | kind=inspection\n"
               "lot part=L-1 | number=K-7 | verdict=accepted\n"
               "lot step=M/70 | number=T-1\n"
               "document model=M | no=1 | kind=drawing | title=Drawing set | state=approved | date=2026-03-01\n"
               "characteristic model=M | code=FORCE | name=Force | unit=N | class=safety | shape=normal | per_unit=worst | "
               "step=M/70 | gauge=Caliper 3 | decimals=1\n"
               "characteristic model=M | code=STICK | name=Sticks | kind=checked\n"
               "depends characteristic=M/FORCE | part=L-1\n"
               "hazard model=M | no=1 | what=It slips | characteristic=M/FORCE\n"
               "round model=M | label=P10 | kind=pilot | opened=2026-03-01\n"
               "round model=M | label=P9 | kind=prototype | question=Does it hold? | opened=2026-01-05 | design_fixed=2026-01-12 | "
               "built=2026-01-20 | tested=2026-01-30 | decided=2026-02-02 | verdict=go on\n"
               "wait round=M/P9 | no=1 | reason=other | from_date=2026-01-13 | to_date=2026-01-15\n"
               "issue model=M | no=1 | title=Slips | class=safety | found_round=M/P9 | found_step=M/70 | characteristic=M/FORCE | "
               "seen_load=120 | seen_cycles=200 | cause=too flat | cause_basis=seen | owner=EH | contained=2026-01-23 | "
               "cause_known=2026-01-24 | closed=2026-03-04 | outcome=accepted | outcome_by=MO\n"
               "issue model=M | no=2 | title=Sticks | class=function\n"
               "change model=M | no=4 | title=Steeper | reason=It slips | proposed_by=MO | proposed_on=2026-01-31 | agreed_by=EH | "
               "agreed_on=2026-02-01 | from_round=M/P10 | from_serial=10-1 | expected_effect=Holds 300 N\n"
               "change_item change=M/4 | no=1 | part=L-1 | old_revision=L-1/A | new_revision=L-1/B\n"
               "change_item change=M/4 | no=2 | step=M/70 | setting=speed | old=5 | new=4\n"
               "change_issue change=M/4 | issue=M/1\n"
               "change_effect change=M/4 | characteristic=M/STICK | effect=carried over | reason=does not touch it | person=EH\n"
               "change_effect change=M/4 | characteristic=M/FORCE | effect=measure again\n"
               "limit characteristic=M/FORCE | from_date=2026-01-01 | lower=250 | nominal=300\n"
               "limit characteristic=M/FORCE | from_date=2026-02-15 | lower=260 | upper=500 | change=M/4\n"
               "step_setting step=M/70 | name=speed | from_date=2026-01-01 | value=5 | unit=mm/s\n"
               "round_part round=M/P9 | part=L-1 | revision=L-1/A | first_serial=9-1\n"
               "round_part round=M/P10 | part=L-1 | revision=L-1/B | lot=L-1///K-7 | units=5\n"
               "unit round=M/P9 | serial=9-10 | assembled_on=2026-01-19\n"
               "unit round=M/P9 | serial=9-2 | assembled_on=2026-01-18\n"
               "unit round=M/P10 | serial=10-1\n"
               "unit_part unit=M/P9/9-2 | part=L-1 | revision=L-1/B | lot=L-1///K-7\n"
               "unit_event unit=M/P9/9-2 | no=1 | date=2026-01-21T09:30 | step=M/70 | kind=altered | issue=M/1 | person=EH | "
               "reason=stoned\n"
               "finding issue=M/1 | no=1 | unit=M/P9/9-10 | disposition=scrap | date=2026-01-31 | person=MO | reason=bad | "
               "excused=yes\n"
               "finding issue=M/1 | no=3 | affected=7 | inspected=20\n"
               "finding issue=M/1 | no=2 | lot=L-1///K-7 | found_at=M/70 | caused_at=M/70 | in_field=yes\n"
               "round_test round=M/P9 | serial=9-2 | characteristic=M/STICK | load=130 | cycles=300 | destroyed=yes\n"
               "round_test round=M/P9 | serial=9-99 | characteristic=M/STICK\n"
               "life_test model=M | no=2 | date=2026-01-25 | unit=M/P9/9-10 | characteristic=M/STICK | cycles=3000 | ended=stopped\n"
               "life_test model=M | no=1 | date=2026-01-25 | unit=M/P9/9-2 | characteristic=M/STICK | load=90 | cycles=640 | "
               "ended=failed | issue=M/2\n"
               "gate model=M | position=1 | name=Release\n"
               "criterion model=M | code=C10 | gate=M/1 | kind=checked | characteristic=M/STICK\n"
               "criterion model=M | code=C9 | gate=M/1 | kind=measured | characteristic=M/FORCE\n"
               "criterion model=M | code=C11 | gate=M/1 | kind=rate | strict=yes | counts_from=prototype\n"
               "criterion_term criterion=M/C9 | from_date=2026-01-01 | share=0.99 | confidence=0.95 | person=MO\n"
               "waiver criterion=M/C10 | no=1 | reason=small batch | person=MO | date=2026-03-02 | until=2026-05-01\n"
               "waiver criterion=M/C9 | no=1 | reason=late | person=MO | date=2026-03-02 | until=2026-06-01\n"
               "signoff gate=M/1 | person=EH | no=1 | opinion=agree | date=2026-03-03\n"
               "signoff gate=M/1 | person=MO | no=1 | opinion=disagree | date=2026-03-03");
  shelf_write (shelf, "waiver criterion=M/C9 | no=2 | reason=no more | person=MO | date=2026-03-04 | withdraws=M/C9/1\n"
                      "signoff gate=M/1 | person=MO | no=2 | date=2026-03-05 | withdraws=M/1/MO/1 | reason=tested since");
  shelf_write (shelf, "gauge_trial gauge=Caliper 3 | characteristic=M/FORCE | person=MO | piece=S1 | trial=1 | date=2026-02-04 | "
                      "value=301.5\n"
                      "gauge_trial gauge=Caliper 3 | characteristic=M/FORCE | person=EH | piece=S1 | trial=2 | date=2026-02-03 | "
                      "value=300.5\n"
                      "gauge_trial gauge=Caliper 3 | characteristic=M/STICK | person=EH | piece=S2 | trial=1 | verdict=failed | "
                      "known_bad=yes");
  if (other_model)
    shelf_write (shelf, "model code=X | name=Other\n"
                        "characteristic model=X | code=FORCE | name=Force\n"
                        "round model=X | label=P9 | kind=prototype | opened=2026-01-01\n"
                        "round_part round=X/P9 | part=S-1\n"
                        "unit round=X/P9 | serial=9-2\n"
                        "reading unit=X/P9/9-2 | characteristic=X/FORCE | value=1\n"
                        "gate model=X | position=1 | name=Release\n"
                        "criterion model=X | code=C1 | gate=X/1 | kind=documents");
  shelf_write (shelf, "reading unit=M/P10/10-1 | characteristic=M/FORCE | value=300\n"
                      "reading unit=M/P9/9-10 | characteristic=M/FORCE | attempt=2 | value=280\n"
                      "reading unit=M/P9/9-10 | characteristic=M/FORCE | attempt=1 | n=2 | value=240 | mark=above | "
                      "taken=2026-01-22T14:05:07 | gauge=Caliper 3 | step=M/70\n"
                      "reading unit=M/P9/9-10 | characteristic=M/FORCE | attempt=1 | n=1 | value=230.5 | taken=2026-01-22 | "
                      "voided=yes | reason=slipped | person=EH\n"
                      "reading unit=M/P9/9-2 | characteristic=M/STICK | mark=failed\n"
                      "reading unit=M/P9/9-2 | characteristic=M/FORCE | value=310");
}

static BookEvidence *
load (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  BookEvidence *e = book_evidence_load (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "M"), &error);

  g_assert_no_error (error);
  return e;
}

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

static void
check_readings (const BookEvidence *e)
{
  const BookEvidenceCharacteristic *force = &e->characteristics[0], *stick = &e->characteristics[1];
  const BookEvidenceReading *r = e->readings + force->first_reading;

  g_assert_cmpuint (e->n_readings, ==, 6);
  g_assert_cmpuint (force->end_reading - force->first_reading, ==, 5);
  /* by the order of build, attempt, n */
  g_assert_cmpuint (r[0].unit, ==, 0);
  g_assert_cmpfloat (r[0].value, ==, 310.0);
  g_assert_cmpuint (r[1].unit, ==, 1);
  g_assert_cmpuint (r[1].attempt, ==, 1);
  g_assert_cmpuint (r[1].n, ==, 1);
  g_assert_true (r[1].voided);
  g_assert_cmpint (r[1].day, ==, day ("2026-01-22"));
  g_assert_cmpint (r[1].second, ==, -1);
  g_assert_cmpint (r[1].gauge, ==, -1);
  g_assert_cmpuint (r[2].n, ==, 2);
  g_assert_cmpuint (r[2].mark, ==, BOOK_MARK_ABOVE);
  g_assert_cmpint (r[2].second, ==, (14 * 60 + 5) * 60 + 7);
  g_assert_cmpint (r[2].gauge, ==, 0);
  g_assert_cmpint (r[2].step, ==, 0);
  g_assert_cmpuint (r[3].attempt, ==, 2);
  g_assert_cmpint (r[3].day, ==, 0);
  g_assert_cmpuint (r[4].unit, ==, 2);
  g_assert_cmpuint (e->readings[stick->first_reading].mark, ==, BOOK_MARK_FAILED);
  g_assert_true (isnan (e->readings[stick->first_reading].value));
}

static void
check_story (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_rounds, ==, 2);
  g_assert_cmpstr (e->rounds[0].label, ==, "P9"); /* opened first */
  g_assert_cmpint (e->rounds[0].verdict, ==, BOOK_VERDICT_GO_ON);
  g_assert_cmpint (e->rounds[0].tested, ==, day ("2026-01-30"));
  g_assert_cmpint (e->rounds[1].decided, ==, 0);
  g_assert_cmpuint (e->n_waits, ==, 1);
  g_assert_cmpuint (e->n_parts, ==, 1); /* the other part belongs to the other model */
  g_assert_cmpuint (e->n_revisions, ==, 2);
  g_assert_cmpuint (e->n_lots, ==, 2);
  g_assert_cmpint (e->lots[1].step, ==, 0);
  g_assert_cmpuint (e->n_plans, ==, 2);
  g_assert_cmpstr (e->plans[0].first_serial, ==, "9-1");
  g_assert_cmpint (e->plans[1].lot, ==, 0);
  g_assert_cmpuint (e->n_units, ==, 3);
  g_assert_cmpstr (e->units[0].serial, ==, "9-2"); /* digits as numbers */
  g_assert_cmpstr (e->units[1].serial, ==, "9-10");
  g_assert_cmpint (e->units[2].assembled, ==, 0);
  g_assert_cmpint (e->unit_parts[0].unit, ==, 0);
  g_assert_cmpstr (e->revisions[e->unit_parts[0].revision].label, ==, "B");
  g_assert_cmpint (e->events[0].kind, ==, BOOK_EVENT_ALTERED);
  g_assert_cmpint (e->events[0].second, ==, (9 * 60 + 30) * 60);
  g_assert_cmpint (e->events[0].issue, ==, 0);
  g_assert_cmpstr (e->persons[e->events[0].person].initials, ==, "EH");
  g_assert_cmpuint (e->n_trials, ==, 2);
  g_assert_cmpint (e->trials[0].day, ==, day ("2026-02-03")); /* by day */
  g_assert_cmpint (e->trials[0].person_id, ==, e->persons[e->events[0].person].id);
  g_assert_cmpstr (e->characteristics[e->trials[1].characteristic].code, ==, "FORCE");
  g_assert_cmpstr (e->gauges[e->trials[1].gauge].name, ==, "Caliper 3");
  g_assert_cmpstr (e->trials[1].piece, ==, "S1");
  g_assert_cmpint (e->trials[1].trial, ==, 1);
  g_assert_cmpfloat (e->trials[1].value, ==, 301.5);
  g_assert_cmpuint (e->n_bad_trials, ==, 1);
  g_assert_true (e->bad_trials[0].caught);
  g_assert_cmpint (e->findings[0].unit, ==, 1);
  g_assert_true (e->findings[0].excused);
  g_assert_cmpint (e->findings[0].disposition, ==, BOOK_DISPOSITION_SCRAP);
}

static void
check_issues (const BookEvidence *e)
{
  const BookEvidenceIssue *issue = &e->issues[0];

  g_assert_cmpuint (e->n_issues, ==, 2);
  g_assert_cmpfloat (issue->seen_load, ==, 120.0);
  g_assert_cmpfloat (issue->seen_cycles, ==, 200.0);
  g_assert_cmpint (issue->found_step, ==, 0);
  g_assert_cmpstr (issue->cause, ==, "too flat");
  g_assert_cmpint (issue->cause_basis, ==, BOOK_CAUSE_SEEN);
  g_assert_cmpstr (e->persons[issue->owner].initials, ==, "EH");
  g_assert_cmpstr (e->persons[issue->outcome_by].initials, ==, "MO");
  g_assert_cmpint (issue->contained, ==, day ("2026-01-23"));
  g_assert_cmpint (issue->cause_known, ==, day ("2026-01-24"));
  g_assert_true (isnan (e->issues[1].seen_load) && isnan (e->issues[1].seen_cycles));
  g_assert_cmpint (e->issues[1].owner, ==, -1);

  g_assert_cmpuint (e->n_findings, ==, 3);
  g_assert_cmpint (e->findings[0].lot, ==, -1);
  g_assert_cmpint (e->findings[1].no, ==, 2);
  g_assert_cmpint (e->findings[1].unit, ==, -1);
  g_assert_cmpstr (e->lots[e->findings[1].lot].number, ==, "K-7");
  g_assert_cmpint (e->findings[2].affected, ==, 7);
  g_assert_cmpint (e->findings[2].inspected, ==, 20);
  g_assert_cmpint (e->findings[1].found_at, ==, 0);
  g_assert_cmpint (e->findings[1].caused_at, ==, 0);
  g_assert_true (e->findings[1].in_field);

  g_assert_cmpuint (e->n_tests, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      gboolean built = g_str_equal (e->tests[i].serial, "9-2");

      g_assert_cmpint (e->tests[i].unit, ==, built ? 0 : -1);
      g_assert_true (built ? e->tests[i].load == 130.0 && e->tests[i].cycles == 300.0 && e->tests[i].destroyed
                           : isnan (e->tests[i].load) && isnan (e->tests[i].cycles) && !e->tests[i].destroyed);
    }
  g_assert_cmpuint (e->n_life_tests, ==, 2);
  g_assert_cmpint (e->life_tests[0].no, ==, 1); /* of a day by number */
  g_assert_cmpint (e->life_tests[0].unit, ==, 0);
  g_assert_cmpint (e->life_tests[0].characteristic, ==, 1);
  g_assert_cmpint (e->life_tests[0].ended, ==, BOOK_LIFE_FAILED);
  g_assert_cmpint (e->life_tests[0].issue, ==, 1);
  g_assert_cmpfloat (e->life_tests[0].load, ==, 90.0);
  g_assert_cmpfloat (e->life_tests[1].cycles, ==, 3000.0);
  g_assert_true (isnan (e->life_tests[1].load));
  g_assert_cmpint (e->life_tests[1].issue, ==, -1);
}

static void
check_design (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_characteristics, ==, 2);
  g_assert_cmpint (e->characteristics[0].klass, ==, BOOK_CLASS_SAFETY);
  g_assert_cmpint (e->characteristics[0].per_unit, ==, BOOK_PER_UNIT_WORST);
  g_assert_cmpint (e->characteristics[0].shape, ==, BOOK_SHAPE_NORMAL);
  g_assert_cmpint (e->characteristics[0].step, ==, 0);
  g_assert_cmpuint (e->n_limits, ==, 2);
  g_assert_cmpfloat (e->limits[0].lower, ==, 250.0);
  g_assert_true (isinf (e->limits[0].upper) && e->limits[0].upper > 0);
  g_assert_cmpfloat (e->limits[0].nominal, ==, 300.0);
  g_assert_true (isnan (e->limits[1].nominal));
  g_assert_cmpint (e->limits[1].change, ==, 0);
  g_assert_cmpuint (e->n_carries, ==, 1); /* 'measure again' carries nothing */
  g_assert_cmpint (e->carries[0].characteristic, ==, 1);
  g_assert_cmpint (e->carries[0].second_person, ==, -1);
  g_assert_cmpint (e->changes[0].proposed, ==, day ("2026-01-31"));
  g_assert_cmpint (e->changes[0].agreed, ==, day ("2026-02-01"));
  g_assert_cmpstr (e->persons[e->changes[0].agreed_by].initials, ==, "EH");
  g_assert_cmpstr (e->persons[e->changes[0].proposed_by].initials, ==, "MO");
  g_assert_cmpstr (e->changes[0].reason, ==, "It slips");
  g_assert_cmpstr (e->changes[0].expected, ==, "Holds 300 N");
  g_assert_cmpstr (e->changes[0].from_serial, ==, "10-1");
  g_assert_cmpint (e->changes[0].from_round, ==, 1);
  g_assert_cmpuint (e->n_items, ==, 2);
  g_assert_cmpstr (e->revisions[e->items[0].old_revision].label, ==, "A");
  g_assert_cmpint (e->items[1].part, ==, -1);
  g_assert_cmpint (e->items[1].step, ==, 0);
  g_assert_cmpstr (e->items[1].setting, ==, "speed");
  g_assert_cmpstr (e->items[1].now, ==, "4");
  g_assert_cmpstr (e->settings[0].unit, ==, "mm/s");
  g_assert_cmpuint (e->n_change_issues, ==, 1);
  g_assert_cmpuint (e->n_settings, ==, 1);
  g_assert_cmpuint (e->n_calibrations, ==, 1);
  g_assert_cmpfloat (e->gauges[0].resolution, ==, 0.01);
  g_assert_cmpfloat (e->week[4], ==, 6.0);
  g_assert_cmpfloat (e->week[5], ==, 0.0);
  g_assert_cmpint (e->holidays[0], ==, day ("2026-01-06"));
  g_assert_cmpfloat (e->monthly_demand, ==, 120.0);
}

static void
check_gates (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_criteria, ==, 3);
  g_assert_cmpstr (e->criteria[0].code, ==, "C9"); /* before C10 */
  g_assert_true (e->criteria[0].strict);           /* safety, unless said otherwise */
  g_assert_cmpint (e->criteria[0].counts_from, ==, BOOK_COUNTS_PILOT);
  g_assert_false (e->criteria[1].strict);
  g_assert_cmpint (e->criteria[1].counts_from, ==, BOOK_COUNTS_PROTOTYPE);
  g_assert_true (e->criteria[2].strict);
  g_assert_cmpint (e->criteria[2].counts_from, ==, BOOK_COUNTS_PROTOTYPE);
  g_assert_cmpuint (e->n_terms, ==, 1);
  g_assert_cmpint (e->terms[0].criterion, ==, 0);
  g_assert_cmpint (e->persons[e->terms[0].person].role, ==, BOOK_ROLE_OWNER);
  g_assert_true (isnan (e->terms[0].target));
  for (guint i = 0; i < e->n_boundaries; i++) /* no plan was declared, no limit widened */
    g_assert_cmpint (e->boundaries[i].kind, ==, BOOK_BOUNDARY_ROUND);
  g_assert_cmpuint (e->n_waivers, ==, 1);    /* the other one was taken back */
  g_assert_cmpint (e->waivers[0].criterion, ==, 1);
  g_assert_cmpuint (e->n_signoffs, ==, 1);
  g_assert_cmpint (e->signoffs[0].opinion, ==, BOOK_OPINION_AGREE);
  g_assert_cmpint (e->documents[0].state, ==, BOOK_DOCUMENT_APPROVED);
  g_assert_cmpint (e->hazards[0].characteristic, ==, 0);
}

static void
check_all (Shelf *shelf)
{
  g_autoptr(BookEvidence) e = load (shelf);

  check_readings (e);
  check_story (e);
  check_issues (e);
  check_design (e);
  check_gates (e);
}

static void
test_one_model (void)
{
  Shelf shelf;

  fill (&shelf, FALSE);
  check_all (&shelf);
  check_all (&shelf); /* with statements that were used before */
  shelf_close (&shelf);
}

static void
test_several_models (void)
{
  Shelf shelf;

  fill (&shelf, TRUE);
  check_all (&shelf);
  check_all (&shelf);
  shelf_close (&shelf);
}

static void
test_becomes_several (void)
{
  Shelf shelf;

  /* The way by which readings are read changes while the connection stays. */
  fill (&shelf, FALSE);
  check_all (&shelf);
  shelf_write (&shelf, "model code=X | name=Other");
  check_all (&shelf);
  shelf_close (&shelf);
}

static void
test_only_indexes (void)
{
  static const char *const large[] = { "unit", "reading", "unit_part", "unit_event", "finding", "limit", "criterion_term" };
  Shelf shelf;

  /* The time must not depend on other models: no table that grows with them is read from end to end. */
  fill (&shelf, TRUE);
  check_all (&shelf);
  for (sqlite3_stmt *s = sqlite3_next_stmt (store_db_handle (shelf_db (&shelf)), NULL); s != NULL;
       s = sqlite3_next_stmt (store_db_handle (shelf_db (&shelf)), s))
    for (guint i = 0; i < G_N_ELEMENTS (large); i++)
      {
        g_autofree char *from = g_strdup_printf ("FROM %s ", large[i]), *join = g_strdup_printf ("JOIN %s ", large[i]);

        if (strstr (sqlite3_sql (s), "?1") != NULL && (strstr (sqlite3_sql (s), from) != NULL || strstr (sqlite3_sql (s), join) != NULL)
            && sqlite3_stmt_status (s, SQLITE_STMTSTATUS_FULLSCAN_STEP, 0) != 0)
          g_error ("%s reads a table from end to end", sqlite3_sql (s));
      }
  shelf_close (&shelf);
}

static void
test_no_model (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  shelf_open (&shelf);
  g_assert_null (book_evidence_load (shelf_db (&shelf), 4711, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_MISSING);
  shelf_close (&shelf);
}

/* Whether the first reading of FORCE on @unit came after the plan was last written, by the journal. */
static gboolean
is_after_plan (Shelf *shelf, const char *key)
{
  g_autoptr(BookEvidence) e = load (shelf);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, key);

  for (guint i = 0; i < e->n_boundaries; i++)
    if (e->boundaries[i].kind == BOOK_BOUNDARY_TERM && book_boundary_is_after (&e->boundaries[i], id))
      return TRUE;
  return FALSE;
}

static void
test_plan_boundary (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  fill (&shelf, TRUE);
  shelf_write (&shelf, "criterion_term criterion=M/C9 | from_date=2026-01-02 | plan_units=22 | plan_failures=0\n"
                       "unit round=M/P10 | serial=10-2\n"
                       "reading unit=M/P10/10-2 | characteristic=M/FORCE | value=320");
  shelf_write (&shelf, "reading unit=M/P10/10-2 | characteristic=M/FORCE | attempt=2 | value=321");
  g_assert_false (is_after_plan (&shelf, "M/P10/10-1/FORCE/1/1")); /* before it */
  g_assert_false (is_after_plan (&shelf, "M/P10/10-2/FORCE/1/1")); /* in the same action */
  g_assert_true (is_after_plan (&shelf, "M/P10/10-2/FORCE/2/1"));

  /* A plan that is changed afterwards was not declared before. */
  book_edit_run (shelf.book, book_edit_field (BOOK_RECORD_CRITERION_TERM,
                                              shelf_id (&shelf, BOOK_RECORD_CRITERION_TERM, "M/C9/2026-01-02"), "plan_units", "21"),
                 0, 0, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (is_after_plan (&shelf, "M/P10/10-2/FORCE/2/1"));
  shelf_close (&shelf);
}

/* How the reading with that key stands to the points of one kind: -1 before, 1 after, 0 neither. */
static int
side_of (Shelf *shelf, BookBoundaryKind kind, const char *key)
{
  g_autoptr(BookEvidence) e = load (shelf);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, key);

  for (guint i = 0; i < e->n_boundaries; i++)
    if (e->boundaries[i].kind == kind && book_boundary_is_before (&e->boundaries[i], id))
      return -1;
    else if (e->boundaries[i].kind == kind && book_boundary_is_after (&e->boundaries[i], id))
      return 1;
  return 0;
}

static char *
today (void)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_utc (); /* as the journal writes */

  return g_date_time_format (now, "%Y-%m-%d");
}

static void
test_limit_boundary (void)
{
  g_autofree char *now = today ();
  Shelf shelf;

  /* Dated before all readings, entered after one and before the other. */
  fill (&shelf, FALSE);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-1/FORCE/1/1"), ==, 0);
  shelf_write (&shelf, "limit characteristic=M/FORCE | from_date=2026-02-20 | lower=255 | upper=500\n"
                       "unit round=M/P10 | serial=10-2\n"
                       "reading unit=M/P10/10-2 | characteristic=M/FORCE | value=320");
  shelf_write (&shelf, "reading unit=M/P10/10-2 | characteristic=M/FORCE | attempt=2 | value=321");
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-1/FORCE/1/1"), ==, -1);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/1/1"), ==, 0); /* in the same action */
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/2/1"), ==, 1);
  {
    g_autoptr(BookEvidence) e = load (&shelf);
    g_autofree char *entered = book_day_format (e->limits[2].entered);

    g_assert_cmpuint (e->n_limits, ==, 3);
    g_assert_cmpint (e->limits[1].entered, ==, 0); /* narrower: nobody asks */
    g_assert_true (strcmp (entered, now) >= 0);    /* midnight may pass in between */
  }

  /* A row that repeats it does not hide it; one that is changed was entered when it was changed. */
  shelf_write (&shelf, "limit characteristic=M/FORCE | from_date=2026-02-21 | lower=255 | upper=500");
  {
    g_autoptr(BookEvidence) e = load (&shelf);

    g_assert_cmpint (e->limits[3].entered, >, 0);
  }
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/1/1"), ==, -1);
  shelf_close (&shelf);
}

static void
set_limit (Shelf *shelf, const char *field, const char *text)
{
  g_autoptr(GError) error = NULL;

  book_edit_run (shelf->book, book_edit_field (BOOK_RECORD_LIMIT, shelf_id (shelf, BOOK_RECORD_LIMIT, "M/GAP/2026-01-01"), field, text),
                 0, 0, NULL, NULL, &error);
  g_assert_no_error (error);
}

/* A row of limits that is changed in place, after the first of two readings. */
static void
test_limit_changed (void)
{
  Shelf shelf;

  shelf_open (&shelf);
  shelf_write (&shelf, "model code=M | name=New\nround model=M | label=A | kind=pilot | opened=2026-02-02\n"
                       "characteristic model=M | code=GAP | name=Gap\nunit round=M/A | serial=1\n"
                       "limit characteristic=M/GAP | from_date=2026-01-01 | lower=1 | upper=2\n"
                       "reading unit=M/A/1 | characteristic=M/GAP | value=2.1");
  set_limit (&shelf, "upper", "1.9"); /* narrower: it judges all readings, and that is all */
  {
    g_autoptr(BookEvidence) e = load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 1);
    g_assert_cmpfloat (e->limits[0].upper, ==, 1.9);
  }
  set_limit (&shelf, "upper", "2.2");
  shelf_write (&shelf, "reading unit=M/A/1 | characteristic=M/GAP | attempt=2 | value=2");
  {
    g_autoptr(BookEvidence) e = load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 3); /* 1 to 2, 1 to 1.9 and now 1 to 2.2 */
    g_assert_cmpfloat (e->limits[0].upper, ==, 2.0);
    g_assert_cmpfloat (e->limits[1].upper, ==, 1.9);
    g_assert_cmpfloat (e->limits[2].upper, ==, 2.2);
    g_assert_cmpint (e->limits[1].entered, ==, 0);
    g_assert_cmpint (e->limits[2].entered, >, 0);
  }
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/A/1/GAP/1/1"), ==, -1);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/A/1/GAP/2/1"), ==, 1);
  set_limit (&shelf, "upper", "1.8"); /* taken back: nothing was widened */
  {
    g_autoptr(BookEvidence) e = load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 1);
  }
  shelf_close (&shelf);
}

static void
set_round (Shelf *shelf, const char *field, const char *text)
{
  g_autoptr(GError) error = NULL;

  book_edit_run (shelf->book, book_edit_field (BOOK_RECORD_ROUND, shelf_id (shelf, BOOK_RECORD_ROUND, "N/Q"), field, text), 0, 0,
                 NULL, NULL, &error);
  g_assert_no_error (error);
}

#define ROUND_Q "model code=N | name=New\nround model=N | label=Q | kind=pilot | opened=2000-01-03%s\n" \
                "characteristic model=N | code=GAP | name=Gap\nunit round=N/Q | serial=1\n" \
                "reading unit=N/Q/1 | characteristic=N/GAP | value=1"

static int
side_of_round (Shelf *shelf, const char *reading)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) e = book_evidence_load (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "N"), &error);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, reading);

  g_assert_no_error (error);
  for (guint i = 0; i < e->n_boundaries; i++)
    if (book_boundary_is_after (&e->boundaries[i], id))
      return 1;
  return 0;
}

static void
test_round_boundary (void)
{
  g_autofree char *all_in_one = g_strdup_printf (ROUND_Q, " | decided=2000-02-01");
  g_autofree char *undecided = g_strdup_printf (ROUND_Q, "");
  g_autofree char *now = NULL;
  Shelf shelf;

  /* Decided long ago: what came with the round is of it, what came afterwards is later. */
  shelf_open (&shelf);
  shelf_write (&shelf, all_in_one);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/1"), ==, 0);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1 | taken=2000-01-20");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/1"), ==, 0);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 1);
  shelf_close (&shelf);

  /* Decided today: the entry of the decision parts them, another change of the round does not. */
  shelf_open (&shelf);
  shelf_write (&shelf, undecided);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  now = today ();
  set_round (&shelf, "decided", now);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=3 | value=1");
  set_round (&shelf, "question", "Does it hold?");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/3"), ==, 1);
  shelf_close (&shelf);

  /* Decided on a day to come: nothing is later yet. */
  shelf_open (&shelf);
  shelf_write (&shelf, undecided);
  set_round (&shelf, "decided", "2099-01-01");
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  shelf_close (&shelf);
}

static void
test_days (void)
{
  static const struct
  {
    const char *text;
    BookDay day;
    int second;
  } rows[] = {
    /* days by GDate's Julian number, which this is */
    { "0001-01-01", 1, -1 },
    { "1900-03-01", 693655, -1 },
    { "2024-02-29", 738945, -1 },
    { "2026-11-26T23:59:58", 739946, 86398 },
    { "2026-11-26T07:05", 739946, 25500 },
    { "2026-11-26 07:05", 739946, 25500 },
    { "", 0, -1 },
    { "2026-1-26", 0, -1 },
    { "2026-13-01", 0, -1 },
    { "soon", 0, -1 },
    { NULL, 0, -1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int second = 0;

      g_assert_cmpint (book_day_parse (rows[i].text, &second), ==, rows[i].day);
      g_assert_cmpint (second, ==, rows[i].second);
    }
  for (guint32 i = 1; i < 800000; i += 97) /* the same day as GDate's, and there and back again */
    {
      g_autofree char *text = book_day_format ((BookDay) i);
      GDate date;

      g_date_clear (&date, 1);
      g_date_set_julian (&date, i);
      g_assert_cmpint (book_day_parse (text, NULL), ==, (BookDay) i);
      g_assert_cmpint (book_day_weekday ((BookDay) i), ==, (int) g_date_get_weekday (&date) - 1);
    }
}

static void
test_serials (void)
{
  static const char *const rising[] = { "", "9-2", "9-10", "10-1", "A", "P1-002", "P1-2", "P1-10", "P2-1", "p1" };

  for (guint i = 0; i < G_N_ELEMENTS (rising); i++)
    for (guint k = 0; k < G_N_ELEMENTS (rising); k++)
      {
        int order = book_serial_compare (rising[i], rising[k]);

        g_assert_cmpint ((order > 0) - (order < 0), ==, (i > k) - (i < k));
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/evidence/of-the-only-model", test_one_model);
  g_test_add_func ("/book/evidence/of-one-of-several-models", test_several_models);
  g_test_add_func ("/book/evidence/of-the-first-when-a-second-comes", test_becomes_several);
  g_test_add_func ("/book/evidence/goes-by-indexes-alone", test_only_indexes);
  g_test_add_func ("/book/evidence/says-that-a-model-is-gone", test_no_model);
  g_test_add_func ("/book/evidence/knows-what-came-after-a-plan", test_plan_boundary);
  g_test_add_func ("/book/evidence/knows-what-came-before-a-wider-limit", test_limit_boundary);
  g_test_add_func ("/book/evidence/knows-limits-that-were-changed-in-their-row", test_limit_changed);
  g_test_add_func ("/book/evidence/knows-what-came-after-a-decision", test_round_boundary);
  g_test_add_func ("/book/day/is-the-day-of-the-calendar", test_days);
  g_test_add_func ("/book/serial/digits-count-as-numbers", test_serials);
  return g_test_run ();
}
