/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-fields-private.h"

/*
 * What the models of a shop share: people, suppliers, parts, benches, gauges, holidays, settings; and what can be hung
 * on any record: todo, attachment.
 */

static const BookField person_name = TEXT ("name", 80, N_("Name"),
                                           N_("The full name, kept outside the journal so that it can be erased."));

static const BookField person_fields[] = {
  TEXT ("initials", 8, N_("Initials"), N_("The short sign of a person, as written on paper."), REQUIRED),
  CHOICE ("role", book_roles, N_("Role"), N_("What the person does most; the page list starts with its pages."), REQUIRED,
          .fallback = "maker"),
  BOOLEAN ("active", N_("Active"), N_("Whether the person can be chosen for new entries."), REQUIRED, .fallback = "yes"),
};

static const BookField supplier_fields[] = {
  TEXT ("name", 80, N_("Name"), N_("The name of the supplier."), REQUIRED),
  LONG_TEXT ("note", N_("Note"), N_("What to know when ordering there.")),
};

static const BookField bench_fields[] = {
  TEXT ("name", 60, N_("Name"), N_("The name of the bench, machine group or work place."), REQUIRED),
  INTEGER ("machines", 0, 1000, N_("Machines"), N_("How many equal machines or places stand there."), REQUIRED,
           .fallback = "1"),
  REAL ("people", 0, 1000, 1, N_("People"), N_("How many people work there at a time."), REQUIRED, .fallback = "1"),
  REAL ("hours_week", 0, 168, 1, N_("Hours a week"), N_("How long the bench is manned in a week."), .unit = N_("h")),
  SHARE ("uptime", N_("Uptime"), N_("The share of the manned time in which the machines run."), REQUIRED,
         .fallback = "1"),
  SHARE ("share_free", N_("Share free"), N_("The share of its time that is free for new models."), REQUIRED,
         .fallback = "1"),
};

static const BookField gauge_fields[] = {
  TEXT ("name", 60, N_("Name"), N_("The name or number engraved on the gauge."), REQUIRED),
  REAL ("resolution", 0, 1e6, 6, N_("Resolution"),
        N_("The smallest step it can show, in the unit of the characteristic it measures."), .open_min = TRUE),
};

static const BookField gauge_calibration_fields[] = {
  REFERENCE ("gauge", BOOK_RECORD_GAUGE, N_("Gauge"), N_("The gauge that was calibrated."), REQUIRED),
  DATE ("date", N_("Date"), N_("The day of the calibration."), REQUIRED),
  DATE ("due", N_("Due"), N_("The last day on which its readings count.")),
  BOOLEAN ("in_order", N_("In order"), N_("Whether the gauge was found within its own limits."), REQUIRED,
           .fallback = "yes"),
  REFERENCE ("excused_by", BOOK_RECORD_PERSON, N_("Excused by"),
             N_("Who lets the readings since the calibration before count although the gauge was found out of order.")),
  DATE ("excused_on", N_("Excused on"), N_("The day on which they were excused.")),
  TEXT ("reason", 300, N_("Reason"), N_("Why those readings count all the same.")),
};

static const BookField gauge_trial_fields[] = {
  REFERENCE ("gauge", BOOK_RECORD_GAUGE, N_("Gauge"), N_("The gauge under study."), REQUIRED),
  REFERENCE ("characteristic", BOOK_RECORD_CHARACTERISTIC, N_("Characteristic"), N_("What was measured or checked."),
             REQUIRED),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Person"), N_("Who measured or checked."), REQUIRED),
  TEXT ("piece", 40, N_("Piece"), N_("The piece of the study, as it is labelled."), REQUIRED),
  INTEGER ("trial", 1, 1000, N_("Trial"), N_("The number of the repeat by this person on this piece."), REQUIRED),
  MOMENT ("date", N_("Date"), N_("When it was measured.")),
  REAL ("value", -BOOK_REAL_MAX, BOOK_REAL_MAX, 6, N_("Value"), N_("The measured value.")),
  CHOICE ("verdict", book_verdict_marks, N_("Verdict"), N_("The outcome of a check.")),
  BOOLEAN ("known_bad", N_("Known bad"), N_("Whether the piece is known to be bad."), REQUIRED, .fallback = "no"),
};

static const BookField part_fields[] = {
  TEXT ("number", 40, N_("Number"), N_("The part number."), REQUIRED),
  TEXT ("name", 80, N_("Name"), N_("What the part is called."), REQUIRED),
  CHOICE ("source", book_sources, N_("Source"), N_("Whether it is made here or bought."), REQUIRED, .fallback = "made"),
  REFERENCE ("supplier", BOOK_RECORD_SUPPLIER, N_("Supplier"), N_("Where it is bought.")),
  INTEGER ("lead_days", 0, 1000, N_("Lead time"), N_("Working days from order to delivery."), .unit = N_("days")),
  REAL ("quantity", 0, 1e6, 3, N_("Quantity"), N_("How many go into one unit."), REQUIRED, .open_min = TRUE,
        .fallback = "1"),
  MONEY ("price", N_("Price"), N_("What one piece costs.")),
};

static const BookField revision_fields[] = {
  REFERENCE ("part", BOOK_RECORD_PART, N_("Part"), N_("The part whose state of design this is."), REQUIRED),
  TEXT ("label", 12, N_("Label"), N_("The letter or number of the revision."), REQUIRED),
  CHOICE ("state", book_revision_states, N_("State"), N_("Whether it may be built to."), REQUIRED, .fallback = "draft"),
  DATE ("date", N_("Date"), N_("When the revision was drawn or released.")),
  LONG_TEXT ("note", N_("Note"), N_("What is different from the revision before.")),
};

static const BookField todo_fields[] = {
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number."), REQUIRED),
  TEXT ("what", 300, N_("What"), N_("What is to be done."), REQUIRED),
  REFERENCE ("person", BOOK_RECORD_PERSON, N_("Who"), N_("Who does it.")),
  DATE ("due", N_("By"), N_("The day by which it should be done.")),
  DATE ("done", N_("Done"), N_("The day on which it was done."), .past = TRUE),
  { .name = "about_record", .label = N_("About a"), .help = N_("The kind of record that it is about."),
    .kind = BOOK_KIND_RECORD },
  { .name = "about", .label = N_("About"), .help = N_("The record that it is about."), .kind = BOOK_KIND_ANY },
};

static const BookField attachment_fields[] = {
  { .name = "owner_record", .label = N_("Belongs to a"), .help = N_("The kind of record that it belongs to."),
    .kind = BOOK_KIND_RECORD, REQUIRED },
  { .name = "owner", .label = N_("Belongs to"), .help = N_("The record that it belongs to."), .kind = BOOK_KIND_ANY,
    REQUIRED },
  INTEGER ("no", 1, BOOK_COUNT_MAX, N_("No"), N_("The running number within the record it belongs to."), REQUIRED),
  CHOICE ("kind", book_attachment_kinds, N_("Kind"), N_("What the file shows."), REQUIRED, .fallback = "other"),
  TEXT ("name", 200, N_("Name"), N_("The name of the file, or a title for the link."), REQUIRED),
  TEXT ("mime_type", 120, N_("Type"), N_("The media type of the file.")),
  CONTENT ("sha256", N_("Digest"), N_("The SHA-256 of the stored file; empty for a link.")),
  INTEGER ("size", 0, 33554432, N_("Size"), N_("The length of the stored file."), .unit = N_("bytes")),
  TEXT ("link", 1000, N_("Link"), N_("Where the file is, when it is not stored in the book.")),
};

static const BookField holiday_fields[] = {
  DATE ("date", N_("Date"), N_("A day on which the shop does not work."), REQUIRED),
  TEXT ("name", 80, N_("Name"), N_("What the day is called.")),
};

static const BookField setting_fields[] = {
  TEXT ("name", 60, N_("Name"),
        N_("The name of the setting: 'working week', 'hourly cost', 'paper' or 'may widen limits'."), REQUIRED),
  TEXT ("value", 1000, N_("Value"),
        N_("Its value as text: hours a weekday as in '8 8 8 8 6 0 0', a number, a size, or roles and initials as in 'owner, EH'.")),
};

const BookRecord book_records_shop[] = {
  RECORD (BOOK_RECORD_PERSON, "person", N_("Person"), N_("People"), person_fields, KEY (1, "initials"),
          .kept = &person_name),
  RECORD (BOOK_RECORD_SUPPLIER, "supplier", N_("Supplier"), N_("Suppliers"), supplier_fields, KEY (1, "name")),
  RECORD (BOOK_RECORD_BENCH, "bench", N_("Bench"), N_("Benches"), bench_fields, KEY (1, "name")),
  RECORD (BOOK_RECORD_GAUGE, "gauge", N_("Gauge"), N_("Gauges"), gauge_fields, KEY (1, "name")),
  RECORD (BOOK_RECORD_GAUGE_CALIBRATION, "gauge_calibration", N_("Calibration"), N_("Calibrations"),
          gauge_calibration_fields, KEY (2, "gauge", "date")),
  RECORD (BOOK_RECORD_GAUGE_TRIAL, "gauge_trial", N_("Gauge trial"), N_("Gauge trials"), gauge_trial_fields,
          KEY (5, "gauge", "characteristic", "person", "piece", "trial"), .parent = "characteristic"),
  RECORD (BOOK_RECORD_PART, "part", N_("Part"), N_("Parts"), part_fields, KEY (1, "number")),
  RECORD (BOOK_RECORD_REVISION, "revision", N_("Revision"), N_("Revisions"), revision_fields,
          KEY (2, "part", "label")),
  RECORD (BOOK_RECORD_TODO, "todo", N_("To do"), N_("To do"), todo_fields, KEY (1, "no"), .ordinal = "no",
          .parent = "about"),
  RECORD (BOOK_RECORD_ATTACHMENT, "attachment", N_("Attachment"), N_("Attachments"), attachment_fields,
          KEY (3, "owner_record", "owner", "no"), .ordinal = "no", .parent = "owner"),
  RECORD (BOOK_RECORD_HOLIDAY, "holiday", N_("Holiday"), N_("Holidays"), holiday_fields, KEY (1, "date")),
  RECORD (BOOK_RECORD_SETTING, "setting", N_("Setting"), N_("Settings"), setting_fields, KEY (1, "name")),
};
const guint book_n_records_shop = G_N_ELEMENTS (book_records_shop);
