/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-fields-private.h"

/*
 * What must be shown before a model is released, and who said what about it.
 */

static const BookField gate_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("position", 1, 1000, N_("Order"), N_("The place of the gate among the model's gates."), REQUIRED),
  TEXT ("name", 80, N_("Name"), N_("What is decided there."), REQUIRED),
};

static const BookField criterion_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  TEXT ("code", 30, N_("Code"), N_("The short sign of the criterion, once in a model."), REQUIRED),
  REFERENCE ("gate", BOOK_RECORD_GATE, N_("Gate"), N_("The gate at which it must be shown."), REQUIRED),
  CHOICE ("kind", book_criterion_kinds, N_("Kind"), N_("What kind of evidence it asks for."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("The characteristic that it is about.")),
  REFERENCE ("issue", BOOK_RECORD_ISSUE, N_("Issue"), N_("The issue that it is about.")),
  BOOLEAN ("blocking", N_("Blocking"), N_("Whether the gate stays shut until it is met."), REQUIRED, .fallback = "yes"),
  BOOLEAN ("strict", N_("Strict"),
           N_("Whether looking again and starting again cost confidence; empty: as the class asks.")),
  CHOICE ("counts_from", book_counts_from, N_("Counts from"), N_("The first kind of unit that counts; empty: as the class asks.")),
  TEXT ("not_looked_at", 300, N_("Not looked at"), N_("Why it is left out on purpose.")),
};

static const BookField criterion_term_fields[] = {
  REFERENCE ("criterion", BOOK_RECORD_CRITERION, N_("Criterion"), N_("The criterion."), REQUIRED),
  DATE ("from_date", N_("From"), N_("The first day on which these terms hold."), REQUIRED),
  SHARE ("share", N_("Share"), N_("The share of units that must conform."), .open_max = TRUE),
  REAL ("target", 0, BOOK_REAL_MAX, 3, N_("Target"), N_("What must be reached, where no share is asked for.")),
  SHARE ("confidence", N_("Confidence"), N_("How sure the measurements must make us."), .open_max = TRUE),
  REAL ("cycles", 0, 1e12, 0, N_("Cycles"), N_("How many cycles a unit must live."), .open_min = TRUE),
  REAL ("load", 0, BOOK_REAL_MAX, 3, N_("Load"), N_("The load that a unit must bear.")),
  REAL ("shape_low", 0, 100, 2, N_("Shape, low"), N_("The least Weibull shape that is assumed."), .open_min = TRUE),
  REAL ("shape_high", 0, 100, 2, N_("Shape, high"), N_("The greatest Weibull shape that is assumed."), .open_min = TRUE),
  INTEGER ("plan_units", 1, 1000000, N_("Plan: units"), N_("How many units a declared plan tests."), .unit = N_("units")),
  INTEGER ("plan_failures", 0, 1000000, N_("Plan: failures"), N_("How many of them may fail."), .unit = N_("units")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who set these terms.")),
  LONG_TEXT ("reason", N_("Reason"), N_("Why they were set so.")),
};

static const BookField signoff_fields[] = {
  REFERENCE ("gate", BOOK_RECORD_GATE, N_("Gate"), N_("The gate."), REQUIRED),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Person"), N_("Whose opinion it is."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within gate and person."), REQUIRED),
  CHOICE ("opinion", book_opinions, N_("Opinion"), N_("What the person thinks."), .asked = TRUE),
  LONG_TEXT ("conditions", N_("Conditions"), N_("Under which conditions.")),
  DATE ("date", N_("On"), N_("The day."), REQUIRED, .past = TRUE),
  REFERENCE ("withdraws", BOOK_RECORD_SIGNOFF, N_("Withdraws"), N_("The earlier opinion that it takes back.")),
  LONG_TEXT ("reason", N_("Reason"), N_("Why.")),
};

static const BookField waiver_fields[] = {
  REFERENCE ("criterion", BOOK_RECORD_CRITERION, N_("Criterion"), N_("The criterion that need not be met."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the criterion."), REQUIRED),
  LONG_TEXT ("reason", N_("Reason"), N_("Why it need not be met."), REQUIRED),
  DATE ("until", N_("Until"), N_("The last day on which it holds."), .asked = TRUE),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who waived it."), REQUIRED),
  DATE ("date", N_("On"), N_("The day."), REQUIRED, .past = TRUE),
  REFERENCE ("withdraws", BOOK_RECORD_WAIVER, N_("Withdraws"), N_("The earlier waiver that it takes back.")),
};

static const BookField decision_fields[] = {
  REFERENCE ("gate", BOOK_RECORD_GATE, N_("Gate"), N_("The gate."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the gate."), REQUIRED),
  CHOICE ("verdict", book_decision_verdicts, N_("Verdict"), N_("What was decided."), .asked = TRUE),
  INTEGER ("at_most_units", 1, BOOK_COUNT_MAX, N_("At most"), N_("How many units may be made under it."), .unit = N_("units")),
  LONG_TEXT ("conditions", N_("Conditions"), N_("Under which conditions.")),
  CONTENT ("evidence", N_("Evidence"), N_("The SHA-256 of the frozen evidence.")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who decided."), REQUIRED),
  DATE ("date", N_("On"), N_("The day."), REQUIRED, .past = TRUE),
  REFERENCE ("withdraws", BOOK_RECORD_DECISION, N_("Withdraws"), N_("The earlier decision that it takes back.")),
  LONG_TEXT ("reason", N_("Reason"), N_("Why.")),
};

const BookRecord book_records_gate[] = {
  RECORD (BOOK_RECORD_GATE, "gate", N_("Gate"), N_("Gates"), gate_fields, KEY (2, "model", "position"),
          .ordinal = "position", .parent = "model"),
  RECORD (BOOK_RECORD_CRITERION, "criterion", N_("Criterion"), N_("Criteria"), criterion_fields,
          KEY (2, "model", "code"), .parent = "model"),
  RECORD (BOOK_RECORD_CRITERION_TERM, "criterion_term", N_("Terms of a criterion"), N_("Terms of criteria"),
          criterion_term_fields, KEY (2, "criterion", "from_date"), .parent = "criterion"),
  RECORD (BOOK_RECORD_SIGNOFF, "signoff", N_("Sign-off"), N_("Sign-offs"), signoff_fields,
          KEY (3, "gate", "person", "no"), .ordinal = "no", .parent = "gate", .lasting = TRUE),
  RECORD (BOOK_RECORD_WAIVER, "waiver", N_("Waiver"), N_("Waivers"), waiver_fields, KEY (2, "criterion", "no"),
          .ordinal = "no", .parent = "criterion", .lasting = TRUE),
  RECORD (BOOK_RECORD_DECISION, "decision", N_("Decision"), N_("Decisions"), decision_fields, KEY (2, "gate", "no"),
          .ordinal = "no", .parent = "gate", .lasting = TRUE),
};
const guint book_n_records_gate = G_N_ELEMENTS (book_records_gate);
