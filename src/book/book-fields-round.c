/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-fields-private.h"

/*
 * What happens in a round: its plan and dates, its units and what was built into them, readings, tallies, life tests.
 */

static const BookField round_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  TEXT ("label", 20, N_("Label"), N_("What the round is called, such as P1."), REQUIRED),
  CHOICE ("kind", book_round_kinds, N_("Kind"), N_("How far the model is in this round."), REQUIRED),
  LONG_TEXT ("question", N_("Question"), N_("What the round must answer.")),
  INTEGER ("planned_units", 0, 1000000, N_("Planned units"), N_("How many units are to be built."), .unit = N_("units")),
  DATE ("planned_design_fixed", N_("Planned: design fixed"), N_("When the design is to be fixed.")),
  DATE ("planned_parts_ready", N_("Planned: parts ready"), N_("When the parts are to be ready.")),
  DATE ("planned_built", N_("Planned: built"), N_("When the units are to be built.")),
  DATE ("planned_tested", N_("Planned: tested"), N_("When the units are to be tested.")),
  DATE ("planned_decided", N_("Planned: decided"), N_("When the round is to be decided.")),
  DATE ("opened", N_("Opened"), N_("The day on which work on the round began."), .past = TRUE),
  DATE ("design_fixed", N_("Design fixed"), N_("The day on which the design of the round was fixed."), .past = TRUE),
  DATE ("parts_ready", N_("Parts ready"), N_("The day on which all parts were there."), .past = TRUE),
  DATE ("built", N_("Built"), N_("The day on which the last unit was built."), .past = TRUE),
  DATE ("tested", N_("Tested"), N_("The day on which the last reading was taken."), .past = TRUE),
  DATE ("decided", N_("Decided"), N_("The day on which was decided how to go on."), .past = TRUE),
  CHOICE ("verdict", book_round_verdicts, N_("Verdict"), N_("What was decided at its end.")),
  MONEY ("cost", N_("Cost"), N_("What the round cost outside the shop.")),
};

static const BookField wait_fields[] = {
  REFERENCE ("round", BOOK_RECORD_ROUND, N_("Round"), N_("The round that waited."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the round."), REQUIRED),
  CHOICE ("reason", book_wait_reasons, N_("Reason"), N_("What kind of thing was waited for."), REQUIRED),
  TEXT ("what", 160, N_("What"), N_("What was waited for.")),
  REFERENCE ("supplier", BOOK_RECORD_SUPPLIER, N_("Supplier"), N_("Who was waited for.")),
  DATE ("from_date", N_("From"), N_("The day on which the wait began."), REQUIRED, .past = TRUE),
  DATE ("to_date", N_("To"), N_("The day on which it ended; empty while it lasts."), .past = TRUE),
};

static const BookField round_part_fields[] = {
  REFERENCE ("round", BOOK_RECORD_ROUND, N_("Round"), N_("The round."), REQUIRED),
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part planned; empty for a batch of an outside step.")),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The outside step planned; empty for a part.")),
  REFERENCE ("revision", BOOK_RECORD_REVISION, N_("Revision"), N_("The state of design that goes in.")),
  REFERENCE ("lot", BOOK_RECORD_LOT, N_("Lot"), N_("The delivery or batch that goes in.")),
  INTEGER ("units", 1, 1000000, N_("Units"), N_("How many units get it; empty for all."), .unit = N_("units")),
  TEXT ("first_serial", 40, N_("First serial"), N_("The first unit that gets it, where the round is split.")),
};

static const BookField round_test_fields[] = {
  REFERENCE ("round", BOOK_RECORD_ROUND, N_("Round"), N_("The round."), REQUIRED),
  TEXT ("serial", 40, N_("Serial"), N_("The unit that is planned for the test."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("What is measured or checked."),
             REQUIRED),
  REAL ("load", 0, BOOK_REAL_MAX, 3, N_("Load"), N_("The load of the test, in the unit of the characteristic.")),
  INTEGER ("cycles", 0, BOOK_COUNT_MAX, N_("Cycles"), N_("How many cycles are planned.")),
  BOOLEAN ("destroyed", N_("Destroyed"), N_("Whether the test uses the unit up."), REQUIRED, .fallback = "no"),
  BOOLEAN ("lent", N_("Lent"), N_("Whether the unit leaves the shop for the test."), REQUIRED, .fallback = "no"),
};

static const BookField unit_fields[] = {
  REFERENCE ("round", BOOK_RECORD_ROUND, N_("Round"), N_("The round it was built in."), REQUIRED),
  TEXT ("serial", 40, N_("Serial"), N_("The serial or bag number."), REQUIRED),
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part that it is; empty for the product.")),
  TEXT ("variant", 60, N_("Variant"), N_("What makes it different from its neighbours.")),
  DATE ("assembled_on", N_("Assembled on"), N_("The day on which it was assembled."), .past = TRUE),
  REFERENCE ("assembled_by", BOOK_RECORD_PERSON, N_("Assembled by"), N_("Who assembled it.")),
  REFERENCE ("assembled_at", BOOK_RECORD_BENCH, N_("Assembled at"), N_("The bench that assembled it.")),
  REFERENCE ("went_into", BOOK_RECORD_UNIT, N_("Went into"), N_("The unit that it was built into."),
             .qualifier = "went_into_round"),
};

static const BookField unit_part_fields[] = {
  REFERENCE ("unit", BOOK_RECORD_UNIT, N_("Unit"), N_("The unit."), REQUIRED),
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part built in; empty for a batch of an outside step.")),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The outside step done; empty for a part.")),
  REFERENCE ("revision", BOOK_RECORD_REVISION, N_("Revision"), N_("The state of design built in.")),
  REFERENCE ("lot", BOOK_RECORD_LOT, N_("Lot"), N_("The delivery or batch that it is of.")),
};

static const BookField unit_event_fields[] = {
  REFERENCE ("unit", BOOK_RECORD_UNIT, N_("Unit"), N_("The unit."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the unit."), REQUIRED),
  MOMENT ("date", N_("Date"), N_("When it happened."), REQUIRED, .past = TRUE),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The step at which it happened.")),
  CHOICE ("kind", book_event_kinds, N_("Kind"), N_("What happened."), REQUIRED),
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("The issue that it happened for.")),
  REAL ("minutes", 0, 1e6, 1, N_("Minutes"), N_("How long it took."), .unit = N_("min")),
  LONG_TEXT ("reason", N_("Reason"), N_("Why, or what exactly was done.")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Person"), N_("Who did it.")),
  REFERENCE ("back_to", BOOK_RECORD_STEP, N_("Sent back to"), N_("The step that puts it right; only of what was sent back.")),
};

static const BookField reading_fields[] = {
  REFERENCE ("unit", BOOK_RECORD_UNIT, N_("Unit"), N_("The unit that was measured."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("What was measured or checked."),
             REQUIRED),
  INTEGER ("attempt", 1, 1000, N_("Attempt"), N_("1 the first time; one more each time after rework."), REQUIRED,
           .fallback = "1"),
  INTEGER ("n", 1, 10000, N_("Repeat"), N_("The number of the repeat within the attempt."), REQUIRED, .fallback = "1"),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The step at which it was taken; empty for the deciding one.")),
  REAL ("value", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Value"), N_("The measured value; empty for a check.")),
  CHOICE ("mark", book_marks, N_("Mark"),
          N_("How to read the value, or the outcome of a check; above and below mean beyond the value."), REQUIRED,
          .fallback = "measured"),
  BOOLEAN ("voided", N_("Voided"), N_("Whether the reading was taken out of the evidence; it stays visible."), REQUIRED,
           .fallback = "no"),
  TEXT ("reason", 300, N_("Reason"), N_("Why it was voided, or a note.")),
  MOMENT ("taken", N_("Taken"), N_("When it was measured."), .past = TRUE),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Person"), N_("Who measured it; who voided it, when voided.")),
  REFERENCE ("gauge", BOOK_RECORD_GAUGE, N_("Gauge"), N_("What it was measured with.")),
};

static const BookField tally_fields[] = {
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The step that was counted."), REQUIRED),
  DATE ("date", N_("Date"), N_("The day."), REQUIRED, .past = TRUE),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Person"), N_("Who counted."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within step, day and person."), REQUIRED),
  REFERENCE ("round", BOOK_RECORD_ROUND, N_("Round"), N_("The round."), REQUIRED),
  INTEGER ("units_in", 0, BOOK_COUNT_MAX, N_("In"), N_("How many pieces went in."), REQUIRED),
  INTEGER ("good_first", 0, BOOK_COUNT_MAX, N_("Good first"), N_("How many were good at the first try."), REQUIRED),
  INTEGER ("reworked_good", 0, BOOK_COUNT_MAX, N_("Reworked good"), N_("How many were good after rework."), REQUIRED,
           .fallback = "0"),
  INTEGER ("waiting", 0, BOOK_COUNT_MAX, N_("Waiting"), N_("How many wait for rework."), REQUIRED, .fallback = "0"),
  INTEGER ("scrapped", 0, BOOK_COUNT_MAX, N_("Scrapped"), N_("How many were scrapped."), REQUIRED, .fallback = "0"),
  REAL ("minutes", 0, 1e6, 1, N_("Minutes"), N_("How long the step took."), .unit = N_("min")),
  REAL ("setup_minutes", 0, 1e6, 1, N_("Set-up minutes"), N_("How long setting up took."), .unit = N_("min")),
  REAL ("rework_minutes", 0, 1e6, 1, N_("Rework minutes"), N_("How long rework took."), .unit = N_("min")),
};

static const BookField tally_loss_fields[] = {
  REFERENCE ("tally", BOOK_RECORD_TALLY, N_("Tally"), N_("The count that it belongs to."), REQUIRED),
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("Why they were not good."), REQUIRED),
  INTEGER ("units", 1, BOOK_COUNT_MAX, N_("Units"), N_("How many."), REQUIRED),
};

static const BookField life_test_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the model."), REQUIRED),
  DATE ("date", N_("Date"), N_("The day on which the test ended."), REQUIRED, .past = TRUE),
  REFERENCE ("unit", BOOK_RECORD_UNIT, N_("Unit"), N_("The unit that was cycled."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("What was watched."), REQUIRED),
  REAL ("load", 0, BOOK_REAL_MAX, 3, N_("Load"), N_("The load of each cycle, in the unit of the characteristic.")),
  REAL ("cycles", 0, 1e12, 0, N_("Cycles"), N_("How many cycles until it failed or was stopped."), REQUIRED,
        .open_min = TRUE),
  CHOICE ("ended", book_life_ends, N_("Ended"), N_("Whether the unit failed or the test was stopped."), REQUIRED),
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("How it failed.")),
};

const BookRecord book_records_round[] = {
  RECORD (BOOK_RECORD_ROUND, "round", N_("Round"), N_("Rounds"), round_fields, KEY (2, "model", "label"),
          .parent = "model"),
  RECORD (BOOK_RECORD_WAIT, "wait", N_("Wait"), N_("Waits"), wait_fields, KEY (2, "round", "no"), .ordinal = "no",
          .parent = "round"),
  RECORD (BOOK_RECORD_ROUND_PART, "round_part", N_("Planned part"), N_("Planned parts"), round_part_fields,
          KEY (5, "round", "part", "step", "revision", "lot"), .parent = "round"),
  RECORD (BOOK_RECORD_ROUND_TEST, "round_test", N_("Planned test"), N_("Planned tests"), round_test_fields,
          KEY (3, "round", "serial", "characteristic"), .parent = "round"),
  RECORD (BOOK_RECORD_UNIT, "unit", N_("Unit"), N_("Units"), unit_fields, KEY (2, "round", "serial"),
          .parent = "round"),
  RECORD (BOOK_RECORD_UNIT_PART, "unit_part", N_("Part as built"), N_("Parts as built"), unit_part_fields,
          KEY (3, "unit", "part", "step"), .parent = "unit"),
  RECORD (BOOK_RECORD_UNIT_EVENT, "unit_event", N_("Event"), N_("Events"), unit_event_fields, KEY (2, "unit", "no"),
          .ordinal = "no", .parent = "unit"),
  RECORD (BOOK_RECORD_READING, "reading", N_("Reading"), N_("Readings"), reading_fields,
          KEY (4, "unit", "characteristic", "attempt", "n"), .parent = "unit"),
  RECORD (BOOK_RECORD_TALLY, "tally", N_("Tally"), N_("Tallies"), tally_fields, KEY (4, "step", "date", "person", "no"),
          .ordinal = "no", .parent = "step"),
  RECORD (BOOK_RECORD_TALLY_LOSS, "tally_loss", N_("Loss"), N_("Losses"), tally_loss_fields, KEY (2, "tally", "issue"),
          .parent = "tally"),
  RECORD (BOOK_RECORD_LIFE_TEST, "life_test", N_("Life test"), N_("Life tests"), life_test_fields,
          KEY (2, "model", "no"), .ordinal = "no", .parent = "model"),
};
const guint book_n_records_round = G_N_ELEMENTS (book_records_round);
