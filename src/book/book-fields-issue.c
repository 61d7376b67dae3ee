/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-fields-private.h"

/*
 * What went wrong and what was changed for it.
 */

static const BookField issue_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the model."), REQUIRED),
  TEXT ("title", 160, N_("Title"), N_("What goes wrong, in a few words."), REQUIRED),
  CHOICE ("class", book_classes, N_("Class"), N_("Whether it is about safety, function or appearance."), REQUIRED),
  REFERENCE ("found_round", BOOK_RECORD_ROUND, N_("Found in round"), N_("The round in which it was first seen.")),
  DATE ("found_on", N_("Found on"), N_("The day on which it was first seen."), .past = TRUE),
  REFERENCE ("found_step", BOOK_RECORD_STEP, N_("Found at step"), N_("The step at which it was first seen.")),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Seen by"), N_("The characteristic that shows it.")),
  BOOLEAN ("seen_in_life_test", N_("Seen in life tests"), N_("Whether a life test shows it."), REQUIRED,
           .fallback = "no"),
  REAL ("seen_load", 0, BOOK_REAL_MAX, 3, N_("Load"), N_("The load at which it appeared.")),
  REAL ("seen_cycles", 0, 1e12, 0, N_("Cycles"), N_("The number of cycles at which it appeared.")),
  SHARE ("tolerated_share", N_("Tolerated share"), N_("The largest share of units that may show it."), .open_max = TRUE),
  LONG_TEXT ("cause", N_("Cause"), N_("Why it happens.")),
  CHOICE ("cause_basis", book_cause_bases, N_("Basis"), N_("How the cause is known.")),
  REFERENCE ("owner", BOOK_RECORD_PERSON, N_("Owner"), N_("Who looks after it.")),
  DATE ("contained", N_("Contained"), N_("The day from which it could no longer reach anybody."), .past = TRUE),
  DATE ("cause_known", N_("Cause known"), N_("The day on which the cause was known."), .past = TRUE),
  DATE ("closed", N_("Closed"), N_("The day on which it was closed."), .past = TRUE),
  CHOICE ("outcome", book_issue_outcomes, N_("Outcome"), N_("How it was closed.")),
  REFERENCE ("outcome_by", BOOK_RECORD_PERSON, N_("Closed by"), N_("Who closed it.")),
};

static const BookField finding_fields[] = {
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("The issue that was seen."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the issue."), REQUIRED),
  REFERENCE ("unit", BOOK_RECORD_UNIT, N_("Unit"), N_("The unit on which it was seen.")),
  REFERENCE ("lot", BOOK_RECORD_LOT, N_("Lot"), N_("The lot in which it was seen.")),
  INTEGER ("affected", 0, BOOK_COUNT_MAX, N_("Affected"), N_("How many showed it, where units have no serials.")),
  INTEGER ("inspected", 1, BOOK_COUNT_MAX, N_("Inspected"), N_("How many were looked at, where units have no serials.")),
  REFERENCE ("found_at", BOOK_RECORD_STEP, N_("Found at"), N_("The step that found it.")),
  BOOLEAN ("in_field", N_("In the field"), N_("Whether it was found after delivery."), REQUIRED, .fallback = "no"),
  REFERENCE ("caused_at", BOOK_RECORD_STEP, N_("Caused at"), N_("The step that caused it.")),
  CHOICE ("disposition", book_dispositions, N_("Disposition"), N_("What is done with the unit or lot.")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who decided about it.")),
  DATE ("date", N_("On"), N_("The day on which was decided about it."), .past = TRUE),
  LONG_TEXT ("reason", N_("Reason"), N_("Why it was decided so.")),
  BOOLEAN ("excused", N_("Excused"), N_("Whether the unit counts for no criterion, by name and with a reason."), REQUIRED,
           .fallback = "no"),
};

static const BookField change_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the model."), REQUIRED),
  TEXT ("title", 160, N_("Title"), N_("What is changed, in a few words."), REQUIRED),
  LONG_TEXT ("reason", N_("Reason"), N_("Why it is changed.")),
  REFERENCE ("proposed_by", BOOK_RECORD_PERSON, N_("Proposed by"), N_("Who proposed it; without a person it is whoever writes.")),
  DATE ("proposed_on", N_("Proposed on"), N_("The day on which it was proposed."), .past = TRUE),
  REFERENCE ("entered_by", BOOK_RECORD_PERSON, N_("Entered by"), N_("Who wrote it down for somebody else.")),
  REFERENCE ("agreed_by", BOOK_RECORD_PERSON, N_("Agreed by"), N_("Who agreed.")),
  DATE ("agreed_on", N_("Agreed on"), N_("The day on which it was agreed."), .past = TRUE),
  REFERENCE ("from_round", BOOK_RECORD_ROUND, N_("From round"), N_("The first round built with it.")),
  TEXT ("from_serial", 40, N_("From serial"), N_("The first unit built with it, where a round is split.")),
  DATE ("withdrawn", N_("Withdrawn"), N_("The day on which it was given up."), .past = TRUE),
  LONG_TEXT ("expected_effect", N_("Expected effect"), N_("What should be different afterwards.")),
  LONG_TEXT ("withdrawn_reason", N_("Why withdrawn"), N_("Why it was given up.")),
  DATE ("carried_out", N_("Carried out"), N_("The day from which the new revisions, limits and settings stand."),
        .past = TRUE),
};

static const BookField change_item_fields[] = {
  REFERENCE ("change", BOOK_RECORD_CHANGE, N_("Change"), N_("The change."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the change."), REQUIRED),
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part that is changed.")),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The step whose setting is changed.")),
  TEXT ("setting", 60, N_("Setting"), N_("The name of the step setting that is changed.")),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("The characteristic whose limits are changed.")),
  REFERENCE ("old_revision", BOOK_RECORD_REVISION, N_("Old revision"), N_("The revision of the part before.")),
  REFERENCE ("new_revision", BOOK_RECORD_REVISION, N_("New revision"), N_("The revision of the part after.")),
  TEXT ("old", 300, N_("Old"), N_("How it was, in words.")),
  TEXT ("new", 300, N_("New"), N_("How it is to be, in words.")),
  TEXT ("new_label", 12, N_("New label"), N_("The label of the revision that carrying it out makes.")),
  REAL ("value", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("New value"), N_("What the step is to be set to.")),
  REAL ("nominal", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("New nominal"), N_("The new value aimed at.")),
  REAL ("lower", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("New lower limit"), N_("The new least value that conforms.")),
  REAL ("upper", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("New upper limit"), N_("The new greatest value that conforms.")),
};

static const BookField change_issue_fields[] = {
  REFERENCE ("change", BOOK_RECORD_CHANGE, N_("Change"), N_("The change."), REQUIRED),
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("An issue that it should solve."), REQUIRED),
};

static const BookField change_effect_fields[] = {
  REFERENCE ("change", BOOK_RECORD_CHANGE, N_("Change"), N_("The change."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("A characteristic that it touches."),
             REQUIRED),
  CHOICE ("effect", book_effects, N_("Effect"), N_("Whether older readings still count."), REQUIRED,
          .fallback = "measure again"),
  LONG_TEXT ("reason", N_("Reason"), N_("Why older readings still count.")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who says so.")),
  REFERENCE ("second_person", BOOK_RECORD_PERSON, N_("Second person"),
             N_("Who agrees; wanted where the characteristic is about safety.")),
};

const BookRecord book_records_issue[] = {
  RECORD (BOOK_RECORD_ISSUE, "issue", N_("Issue"), N_("Issues"), issue_fields, KEY (2, "model", "no"), .ordinal = "no",
          .parent = "model"),
  RECORD (BOOK_RECORD_FINDING, "finding", N_("Finding"), N_("Findings"), finding_fields, KEY (2, "issue", "no"),
          .ordinal = "no", .parent = "issue"),
  RECORD (BOOK_RECORD_CHANGE, "change", N_("Change"), N_("Changes"), change_fields, KEY (2, "model", "no"),
          .ordinal = "no", .parent = "model"),
  RECORD (BOOK_RECORD_CHANGE_ITEM, "change_item", N_("Change item"), N_("Change items"), change_item_fields,
          KEY (2, "change", "no"), .ordinal = "no", .parent = "change"),
  RECORD (BOOK_RECORD_CHANGE_ISSUE, "change_issue", N_("Issue of a change"), N_("Issues of changes"),
          change_issue_fields, KEY (2, "change", "issue"), .parent = "change"),
  RECORD (BOOK_RECORD_CHANGE_EFFECT, "change_effect", N_("Effect of a change"), N_("Effects of changes"),
          change_effect_fields, KEY (2, "change", "characteristic"), .parent = "change"),
};
const guint book_n_records_issue = G_N_ELEMENTS (book_records_issue);
