/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-fields-private.h"

/*
 * What a model is set up from: the model itself, its hazards, documents, route, lots, characteristics and limits.
 */

static const BookField model_fields[] = {
  TEXT ("code", 20, N_("Code"), N_("The short sign of the model."), REQUIRED),
  TEXT ("name", 80, N_("Name"), N_("What the model is called."), REQUIRED),
  LONG_TEXT ("purpose", N_("Purpose"), N_("What it is for and who uses it.")),
  TEXT ("designer", 80, N_("Designer"), N_("Who designed it.")),
  DATE ("target_release", N_("Target release"), N_("The day on which it should be released.")),
  INTEGER ("monthly_demand", 0, BOOK_COUNT_MAX, N_("Monthly demand"), N_("How many a month should be made."),
           .unit = N_("units")),
  BOOLEAN ("archived", N_("Archived"), N_("Whether it is put away; its evidence stays."), REQUIRED, .fallback = "no"),
  LONG_TEXT ("caution_text", N_("Caution"), N_("What to add to the caution shown beside strength, life and release.")),
};

static const BookField hazard_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the model."), REQUIRED),
  TEXT ("what", 300, N_("What could hurt whom"), N_("How somebody could be hurt."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("The characteristic that covers it.")),
  REFERENCE ("document", BOOK_RECORD_DOCUMENT, N_("Document"), N_("The document that covers it.")),
};

static const BookField document_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the model."), REQUIRED),
  CHOICE ("kind", book_document_kinds, N_("Kind"), N_("What kind of document it is."), REQUIRED),
  TEXT ("title", 160, N_("Title"), N_("The title of the document."), REQUIRED),
  CHOICE ("state", book_document_states, N_("State"), N_("How far it is."), REQUIRED, .fallback = "wanted"),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who approved it.")),
  DATE ("date", N_("On"), N_("The day on which it reached its state.")),
};

static const BookField step_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  INTEGER ("position", 1, 10000, N_("Order"), N_("The place of the step in the route."), REQUIRED),
  TEXT ("name", 80, N_("Name"), N_("What is done."), REQUIRED),
  CHOICE ("kind", book_step_kinds, N_("Kind"), N_("Whether it is done in the shop, outside, or is an inspection."),
          REQUIRED, .fallback = "own"),
  REFERENCE ("bench", BOOK_RECORD_BENCH, N_("Bench"), N_("Where it is done.")),
  REAL ("setup_min", 0, 1e6, 1, N_("Set-up"), N_("Minutes to set up for a batch."), .unit = N_("min")),
  INTEGER ("batch", 1, 1000000, N_("Batch"), N_("How many pieces are done after one set-up."), .unit = N_("pieces")),
  REAL ("cycle_min", 0, 1e6, 2, N_("Cycle"), N_("Minutes for one piece."), .unit = N_("min")),
  REAL ("rework_min", 0, 1e6, 2, N_("Rework"), N_("Minutes for one piece that comes back."), .unit = N_("min")),
  REAL ("queue_days", 0, 1000, 1, N_("Queue"), N_("Working days that a batch waits or is away."), .unit = N_("days")),
  MONEY ("price", N_("Price"), N_("What an outside step costs for one piece.")),
};

static const BookField step_setting_fields[] = {
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The step."), REQUIRED),
  TEXT ("name", 60, N_("Name"), N_("What is set, such as a temperature or a torque."), REQUIRED),
  DATE ("from_date", N_("From"), N_("The first day on which the setting holds."), REQUIRED),
  REAL ("value", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Value"), N_("What it is set to."), REQUIRED),
  TEXT ("unit", 20, N_("Unit"), N_("The unit of the value.")),
  REFERENCE ("change", BOOK_RECORD_CHANGE, N_("Change"), N_("The change that brought it.")),
};

static const BookField lot_fields[] = {
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part delivered; empty for a batch of an outside step.")),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("The outside step whose batch it is; empty for a part.")),
  TEXT ("number", 40, N_("Number"), N_("The number of the delivery or batch."), REQUIRED),
  REFERENCE ("supplier", BOOK_RECORD_SUPPLIER, N_("Supplier"), N_("Who delivered it.")),
  DATE ("received", N_("Received"), N_("The day on which it came."), .past = TRUE),
  REAL ("quantity", 0, 1e9, 3, N_("Quantity"), N_("How many came.")),
  CHOICE ("verdict", book_lot_verdicts, N_("Verdict"), N_("What the incoming inspection said.")),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("By"), N_("Who inspected it.")),
};

static const BookField characteristic_fields[] = {
  REFERENCE ("model", BOOK_RECORD_MODEL, N_("Model"), N_("The model."), REQUIRED),
  TEXT ("code", 30, N_("Code"), N_("The short sign of the characteristic."), REQUIRED),
  TEXT ("name", 120, N_("Name"), N_("What is measured or checked."), REQUIRED),
  CHOICE ("kind", book_characteristic_kinds, N_("Kind"), N_("Whether it is measured or checked."), REQUIRED,
          .fallback = "measured"),
  TEXT ("unit", 20, N_("Unit"), N_("The unit of its values.")),
  INTEGER ("decimals", 0, 6, N_("Decimals"), N_("How many digits after the point are shown."), REQUIRED,
           .fallback = "2"),
  CHOICE ("class", book_classes, N_("Class"), N_("Whether it is about safety, function or appearance."), REQUIRED,
          .fallback = "function"),
  CHOICE ("per_unit", book_per_units, N_("Per unit"), N_("Which of the repeats on one unit speaks for the unit."),
          REQUIRED, .fallback = "mean"),
  CHOICE ("shape", book_shapes, N_("Shape"), N_("How its values are spread, as known before measuring."), REQUIRED,
          .fallback = "unknown"),
  BOOLEAN ("fitted_at_assembly", N_("Fitted at assembly"),
           N_("Whether the assembler works on it until it is right, so that no shape can be assumed."), REQUIRED,
           .fallback = "no"),
  BOOLEAN ("destructive", N_("Destructive"), N_("Whether the unit is used up by the measurement."), REQUIRED,
           .fallback = "no"),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Deciding step"), N_("The step at which its readings are evidence.")),
  REFERENCE ("gauge", BOOK_RECORD_GAUGE, N_("Gauge"), N_("What it is usually measured with.")),
};

static const BookField limit_fields[] = {
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("The characteristic."), REQUIRED),
  DATE ("from_date", N_("From"), N_("The first day on which the limits hold."), REQUIRED),
  REAL ("nominal", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Nominal"), N_("The value aimed at.")),
  REAL ("lower", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Lower limit"), N_("The least value that conforms.")),
  REAL ("upper", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Upper limit"), N_("The greatest value that conforms.")),
  REFERENCE ("change", BOOK_RECORD_CHANGE, N_("Change"), N_("The change that brought them.")),
};

static const BookField depends_fields[] = {
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("The characteristic."), REQUIRED),
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("A part that it depends on.")),
  REFERENCE ("step", BOOK_RECORD_STEP, N_("Step"), N_("A step that it depends on.")),
};

const BookRecord book_records_model[] = {
  RECORD (BOOK_RECORD_MODEL, "model", N_("Model"), N_("Models"), model_fields, KEY (1, "code")),
  RECORD (BOOK_RECORD_DOCUMENT, "document", N_("Document"), N_("Documents"), document_fields, KEY (2, "model", "no"),
          .ordinal = "no", .parent = "model"),
  RECORD (BOOK_RECORD_STEP, "step", N_("Step"), N_("Steps"), step_fields, KEY (2, "model", "position"),
          .ordinal = "position", .parent = "model"),
  RECORD (BOOK_RECORD_LOT, "lot", N_("Lot"), N_("Lots"), lot_fields, KEY (3, "part", "step", "number"),
          .parent = "step"),
  RECORD (BOOK_RECORD_CHARACTERISTIC, "characteristic", N_("Characteristic"), N_("Characteristics"),
          characteristic_fields, KEY (2, "model", "code"), .parent = "model"),
  RECORD (BOOK_RECORD_HAZARD, "hazard", N_("Hazard"), N_("Hazards"), hazard_fields, KEY (2, "model", "no"),
          .ordinal = "no", .parent = "model"),
  RECORD (BOOK_RECORD_DEPENDS, "depends", N_("Dependence"), N_("Dependences"), depends_fields,
          KEY (3, "characteristic", "part", "step"), .parent = "characteristic"),
  RECORD (BOOK_RECORD_LIMIT, "limit", N_("Limits"), N_("Limits"), limit_fields,
          KEY (2, "characteristic", "from_date"), .parent = "characteristic"),
  RECORD (BOOK_RECORD_STEP_SETTING, "step_setting", N_("Step setting"), N_("Step settings"), step_setting_fields,
          KEY (3, "step", "name", "from_date"), .parent = "step"),
};
const guint book_n_records_model = G_N_ELEMENTS (book_records_model);
