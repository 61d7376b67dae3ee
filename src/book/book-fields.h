/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The one description of every record. CSV, forms, history lines, checks and search follow it; the hand-written SQL of
 * data/schema is compared with it by a test, both ways.
 *
 * A record is a table of the same name; its first column is `id`, and field i stands in column i + 1. The *visible key*
 * is what people call a record by. Files give a reference by the visible key of what it refers to, one CSV column for
 * each part of it; parts are shared by name, so that one column `model` serves every reference that begins with a model.
 */

#include <glib.h>
#include "book-choices.h"

G_BEGIN_DECLS

/* Codes are written into books (attachment.owner_record): never renumbered. */
typedef enum
{
  BOOK_RECORD_NONE = 0,
  BOOK_RECORD_PERSON = 1,
  BOOK_RECORD_SUPPLIER = 2,
  BOOK_RECORD_BENCH = 3,
  BOOK_RECORD_GAUGE = 4,
  BOOK_RECORD_PART = 5,
  BOOK_RECORD_REVISION = 6,
  BOOK_RECORD_MODEL = 7,
  BOOK_RECORD_DOCUMENT = 8,
  BOOK_RECORD_STEP = 9,
  BOOK_RECORD_LOT = 10,
  BOOK_RECORD_CHARACTERISTIC = 11,
  BOOK_RECORD_HAZARD = 12,
  BOOK_RECORD_DEPENDS = 13,
  BOOK_RECORD_ROUND = 14,
  BOOK_RECORD_WAIT = 15,
  BOOK_RECORD_ISSUE = 16,
  BOOK_RECORD_CHANGE = 17,
  BOOK_RECORD_CHANGE_ITEM = 18,
  BOOK_RECORD_CHANGE_ISSUE = 19,
  BOOK_RECORD_CHANGE_EFFECT = 20,
  BOOK_RECORD_LIMIT = 21,
  BOOK_RECORD_STEP_SETTING = 22,
  BOOK_RECORD_ROUND_PART = 23,
  BOOK_RECORD_ROUND_TEST = 24,
  BOOK_RECORD_UNIT = 25,
  BOOK_RECORD_UNIT_PART = 26,
  BOOK_RECORD_UNIT_EVENT = 27,
  BOOK_RECORD_READING = 28,
  BOOK_RECORD_FINDING = 29,
  BOOK_RECORD_TALLY = 30,
  BOOK_RECORD_TALLY_LOSS = 31,
  BOOK_RECORD_LIFE_TEST = 32,
  BOOK_RECORD_GAUGE_CALIBRATION = 33,
  BOOK_RECORD_GAUGE_TRIAL = 34,
  BOOK_RECORD_GATE = 35,
  BOOK_RECORD_CRITERION = 36,
  BOOK_RECORD_CRITERION_TERM = 37,
  BOOK_RECORD_SIGNOFF = 38,
  BOOK_RECORD_WAIVER = 39,
  BOOK_RECORD_DECISION = 40,
  BOOK_RECORD_TODO = 41,
  BOOK_RECORD_ATTACHMENT = 42,
  BOOK_RECORD_HOLIDAY = 43,
  BOOK_RECORD_SETTING = 44
} BookRecordId;

#define BOOK_N_RECORDS  44 /* ids run from 1 to this */
#define BOOK_MAX_FIELDS 24 /* no record has more */
#define BOOK_MAX_KEY    6  /* no visible key has more fields, nor more CSV columns */

/**
 * BookKind:
 * @BOOK_KIND_TEXT: one line of UTF-8
 * @BOOK_KIND_LONG_TEXT: UTF-8 with line feeds
 * @BOOK_KIND_INTEGER: a whole number
 * @BOOK_KIND_REAL: a finite number
 * @BOOK_KIND_SHARE: a fraction between 0 and 1, shown as a fraction or as percent
 * @BOOK_KIND_MONEY: an amount in the shop's currency
 * @BOOK_KIND_DATE: YYYY-MM-DD
 * @BOOK_KIND_MOMENT: YYYY-MM-DD or YYYY-MM-DDTHH:MM or YYYY-MM-DDTHH:MM:SS, the shop's own time
 * @BOOK_KIND_BOOLEAN: `yes` or `no`; stored as 1 or 0
 * @BOOK_KIND_CHOICE: one of the field's choices; stored as its code
 * @BOOK_KIND_REFERENCE: the id of a record of @refers
 * @BOOK_KIND_RECORD: a kind of record; stored as a #BookRecordId, in files its name
 * @BOOK_KIND_ANY: the id of a record of the kind that the field before it names; in files its visible key, joined by '/'
 * @BOOK_KIND_CONTENT: 64 lower-case hexadecimal digits, the SHA-256 of a stored file
 */
typedef enum
{
  BOOK_KIND_TEXT,
  BOOK_KIND_LONG_TEXT,
  BOOK_KIND_INTEGER,
  BOOK_KIND_REAL,
  BOOK_KIND_SHARE,
  BOOK_KIND_MONEY,
  BOOK_KIND_DATE,
  BOOK_KIND_MOMENT,
  BOOK_KIND_BOOLEAN,
  BOOK_KIND_CHOICE,
  BOOK_KIND_REFERENCE,
  BOOK_KIND_RECORD,
  BOOK_KIND_ANY,
  BOOK_KIND_CONTENT
} BookKind;

/**
 * BookField:
 * @name: of the SQL column and, unless it is a reference, of the CSV column
 * @label: what people read, not yet translated; see book_field_label()
 * @help: one sentence, not yet translated; see book_field_help()
 * @kind: what it holds
 * @required: never empty
 * @asked: nor where it is noted the first time; a row that withdraws another has none
 * @open_min: a value must lie above @min; otherwise it may equal it
 * @open_max: a value must lie below @max; otherwise it may equal it
 * @decimals: digits after the point when shown, of reals; files carry all digits
 * @max_length: of texts, in characters
 * @min: of numbers
 * @max: of numbers
 * @unit: (nullable): of numbers, as shown after them, not yet translated
 * @past: of dates: of something that happened, so that a command refuses a day later than today
 * @fallback: (nullable): the text that stands for an absent CSV column or an empty cell
 * @choices: (nullable): ends with a %NULL text
 * @refers: for references
 * @qualifier: (nullable): for references whose target has a parent of its own that the row does not share: the CSV
 *   column that names this parent; empty means the row's own
 */
typedef struct
{
  const char       *name;
  const char       *label;
  const char       *help;
  BookKind          kind;
  gboolean          required;
  gboolean          asked;
  gboolean          open_min;
  gboolean          open_max;
  gboolean          past;
  guint             decimals;
  guint             max_length;
  double            min;
  double            max;
  const char       *unit;
  const char       *fallback;
  const BookChoice *choices;
  BookRecordId      refers;
  const char       *qualifier;
} BookField;

/**
 * BookRecord:
 * @id: its code
 * @name: of the table, of `NAME.csv`, and in key texts
 * @label: singular, not yet translated
 * @plural: not yet translated
 * @n_fields: how many
 * @fields: in the order of columns and of exported files
 * @n_key: how many fields make the visible key; 0 for none
 * @key: their names, in order
 * @parent: (nullable): the reference that leads towards the model; %NULL for what models share
 * @ordinal: (nullable): the key field that numbers rows within the rest of the key, where a file leaves it out
 * @kept: (nullable): a field kept outside the table and the journal (the name of a person)
 * @lasting: rows are never changed, deleted or undone, only withdrawn by a later one
 */
typedef struct
{
  BookRecordId     id;
  const char      *name;
  const char      *label;
  const char      *plural;
  guint            n_fields;
  const BookField *fields;
  guint            n_key;
  const char      *key[BOOK_MAX_KEY];
  const char      *parent;
  const char      *ordinal;
  const BookField *kept;
  gboolean         lasting;
} BookRecord;

/**
 * BookCsvColumn:
 * @name: of the column
 * @otherwise: (nullable): the column whose cell counts where this one is empty or absent
 * @record: whose visible key the cell belongs to: the record itself, or the one referred to, or one on the way
 * @leaf: the field of @record that the cell is a value of; never a reference
 */
typedef struct
{
  const char       *name;
  const char       *otherwise;
  const BookRecord *record;
  const BookField  *leaf;
} BookCsvColumn;

const BookRecord *book_record             (BookRecordId      id);
const BookRecord *book_record_find        (const char       *name);
const char       *book_record_label       (const BookRecord *record);
const char       *book_record_plural      (const BookRecord *record);
const BookRecord *book_record_in_order    (guint             position);

int               book_field_index        (const BookRecord *record,
                                           const char       *name);
const BookField  *book_field_find         (const BookRecord *record,
                                           const char       *name);
const char       *book_field_label        (const BookField  *field);
const char       *book_field_help         (const BookField  *field);
const char       *book_field_unit         (const BookField  *field);
const char       *book_kind_name          (BookKind          kind);

gboolean          book_record_has_in_key  (const BookRecord *record,
                                           const BookField  *field);
guint             book_field_csv_columns  (const BookRecord *record,
                                           const BookField  *field,
                                           BookCsvColumn     columns[BOOK_MAX_KEY]);
guint             book_record_csv_columns (const BookRecord *record,
                                           BookCsvColumn     columns[BOOK_MAX_FIELDS * 2]);

G_END_DECLS
