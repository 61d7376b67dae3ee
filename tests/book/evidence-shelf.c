/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "evidence-shelf.h"

/* A model with every kind of record that evidence is made from, before anything is read. */
static const char records[] =
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
  "signoff gate=M/1 | person=MO | no=1 | opinion=disagree | date=2026-03-03";

void
evidence_shelf_fill (Shelf *shelf, gboolean other_model)
{
  shelf_open (shelf);
  shelf_write (shelf, records);
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

BookEvidence *
evidence_shelf_load (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  BookEvidence *e = book_evidence_load (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "M"), &error);

  g_assert_no_error (error);
  return e;
}
