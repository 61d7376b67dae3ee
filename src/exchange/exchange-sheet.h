/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A measuring sheet as people keep it: units down, characteristics across, limits in the head or not at all. Reading it
 * never fails on what it says: the sheet tells what it took each row and column for and why, lists every guess and
 * everything not understood, lets each be set otherwise, and is then stored in one action (exchange-sheet-store.h).
 *
 * Rows and columns are numbered from 0. Texts belong to the sheet and hold until the next change of it.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef struct _ExchangeSheet ExchangeSheet;

/**
 * ExchangeColumnRole:
 * @EXCHANGE_COLUMN_LEFT_OUT: not stored
 * @EXCHANGE_COLUMN_SERIAL: serial or bag number of the unit
 * @EXCHANGE_COLUMN_MEASURED: values of a measured characteristic
 * @EXCHANGE_COLUMN_CHECKED: outcomes of a checked characteristic
 * @EXCHANGE_COLUMN_DATE: when the unit was measured
 * @EXCHANGE_COLUMN_PERSON: who measured it, by initials
 * @EXCHANGE_COLUMN_ATTEMPT: number of the attempt
 * @EXCHANGE_COLUMN_REPEAT: number of the repeat within the attempt
 * @EXCHANGE_COLUMN_REMARK: text on the unit; kept beside the unit's readings that failed, or its first
 *
 * What a column holds.
 */
typedef enum
{
  EXCHANGE_COLUMN_LEFT_OUT,
  EXCHANGE_COLUMN_SERIAL,
  EXCHANGE_COLUMN_MEASURED,
  EXCHANGE_COLUMN_CHECKED,
  EXCHANGE_COLUMN_DATE,
  EXCHANGE_COLUMN_PERSON,
  EXCHANGE_COLUMN_ATTEMPT,
  EXCHANGE_COLUMN_REPEAT,
  EXCHANGE_COLUMN_REMARK
} ExchangeColumnRole;
#define EXCHANGE_N_COLUMN_ROLES (EXCHANGE_COLUMN_REMARK + 1)

/**
 * ExchangeRowRole:
 * @EXCHANGE_ROW_LEFT_OUT: not stored
 * @EXCHANGE_ROW_TITLE: words about the whole sheet
 * @EXCHANGE_ROW_GROUP: names above the names; a blank continues the one on its left
 * @EXCHANGE_ROW_NAME: names of the columns, perhaps with unit and limits
 * @EXCHANGE_ROW_CODE: short signs of the characteristics
 * @EXCHANGE_ROW_UNIT: units of measure
 * @EXCHANGE_ROW_CLASS: safety, function or appearance
 * @EXCHANGE_ROW_LIMITS: limits in one cell
 * @EXCHANGE_ROW_NOMINAL: nominal values
 * @EXCHANGE_ROW_LOWER: lower limits
 * @EXCHANGE_ROW_UPPER: upper limits
 * @EXCHANGE_ROW_DATA: readings of one unit
 * @EXCHANGE_ROW_SUMMARY: means and other figures made from the readings; never stored
 *
 * What a row holds.
 */
typedef enum
{
  EXCHANGE_ROW_LEFT_OUT,
  EXCHANGE_ROW_TITLE,
  EXCHANGE_ROW_GROUP,
  EXCHANGE_ROW_NAME,
  EXCHANGE_ROW_CODE,
  EXCHANGE_ROW_UNIT,
  EXCHANGE_ROW_CLASS,
  EXCHANGE_ROW_LIMITS,
  EXCHANGE_ROW_NOMINAL,
  EXCHANGE_ROW_LOWER,
  EXCHANGE_ROW_UPPER,
  EXCHANGE_ROW_DATA,
  EXCHANGE_ROW_SUMMARY
} ExchangeRowRole;
#define EXCHANGE_N_ROW_ROLES (EXCHANGE_ROW_SUMMARY + 1)

/**
 * ExchangeAgain:
 * @EXCHANGE_AGAIN_REPEAT: a repeat within the same attempt
 * @EXCHANGE_AGAIN_ATTEMPT: another attempt, after rework
 *
 * What a second row of the same serial is.
 */
typedef enum
{
  EXCHANGE_AGAIN_REPEAT,
  EXCHANGE_AGAIN_ATTEMPT
} ExchangeAgain;

/**
 * ExchangeSheetColumn:
 * @role: what it holds
 * @reason: why it was taken for that
 * @is_set: the caller said so
 * @name: name of the characteristic, group and name in one; of other columns the head as it stands
 * @short_name: the name without that of the group
 * @code: (nullable): short sign of the characteristic where the sheet gives one
 * @unit: (nullable): unit of measure
 * @class_word: (nullable): `safety`, `function` or `appearance` where the sheet or the caller says so
 * @limit_text: (nullable): the limits as they were written, where one text of the sheet gives all of them
 * @nominal: NAN where there is none
 * @lower: NAN where there is none
 * @upper: NAN where there is none
 * @decimals: the most decimals of its values and limits
 * @repeat: number of the repeat, where several columns hold repeats of one characteristic; else 1
 * @n_values: readings it gives
 * @n_notes: notes beside them
 */
typedef struct
{
  ExchangeColumnRole role;
  const char        *reason;
  gboolean           is_set;
  const char        *name;
  const char        *short_name;
  const char        *code;
  const char        *unit;
  const char        *class_word;
  const char        *limit_text;
  double             nominal;
  double             lower;
  double             upper;
  guint              decimals;
  guint              repeat;
  guint              n_values;
  guint              n_notes;
} ExchangeSheetColumn;

/**
 * ExchangeSheetRow:
 * @role: what it holds
 * @reason: why it was taken for that
 * @is_set: the caller said so
 * @line: of the file, from 1
 * @serial: (nullable): of a row of readings
 * @attempt: of a row of readings
 * @n: number of the repeat, of a row of readings
 * @date: (nullable): ISO 8601, of a row of readings
 * @person: (nullable): initials, of a row of readings
 * @remark: (nullable): text on the unit
 */
typedef struct
{
  ExchangeRowRole role;
  const char     *reason;
  gboolean        is_set;
  guint           line;
  const char     *serial;
  guint           attempt;
  guint           n;
  const char     *date;
  const char     *person;
  const char     *remark;
} ExchangeSheetRow;

/**
 * ExchangeReadingMark:
 *
 * What one cell of a measured or checked column says.
 */
typedef enum
{
  EXCHANGE_READING_NONE,
  EXCHANGE_READING_MEASURED,
  EXCHANGE_READING_ABOVE,
  EXCHANGE_READING_BELOW,
  EXCHANGE_READING_PASSED,
  EXCHANGE_READING_FAILED
} ExchangeReadingMark;

typedef struct
{
  ExchangeReadingMark mark;
  double              value; /* of the first three marks, else NAN */
  const char         *note;  /* (nullable) */
} ExchangeSheetReading;

/**
 * ExchangeRemarkKind:
 * @EXCHANGE_REMARK_GUESS: taken one way although it could be meant another
 * @EXCHANGE_REMARK_PROBLEM: not understood, and so not stored
 */
typedef enum
{
  EXCHANGE_REMARK_GUESS,
  EXCHANGE_REMARK_PROBLEM
} ExchangeRemarkKind;

/**
 * ExchangeSheetRemark:
 * @kind: guess or problem
 * @row: the row, or -1 when it is about a column or the whole sheet
 * @column: the column, or -1
 * @place: where, as people say it: `C5`, `column C`, `line 5`, or empty
 * @text: one sentence
 */
typedef struct
{
  ExchangeRemarkKind kind;
  int                row;
  int                column;
  const char        *place;
  const char        *text;
} ExchangeSheetRemark;

/**
 * ExchangeSheetTitle:
 * @model: (nullable): the model, as the title lines have it
 * @round: (nullable): the round
 * @date: (nullable): the day, ISO 8601
 * @person: (nullable): who measured
 *
 * What the lines above the table say about all of it; each is a guess and stands among the remarks.
 */
typedef struct
{
  const char *model;
  const char *round;
  const char *date;
  const char *person;
} ExchangeSheetTitle;

ExchangeSheet *exchange_sheet_read_file (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
ExchangeSheet *exchange_sheet_read_text (const char *name, const char *text, gsize length,
                                         GError **error) G_GNUC_WARN_UNUSED_RESULT;
void           exchange_sheet_free (ExchangeSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeSheet, exchange_sheet_free)

/* What was understood, by index from 0; all of it belongs to @sheet and lasts until the next setter. */
const char *exchange_sheet_get_name (const ExchangeSheet *sheet);
guint       exchange_sheet_count_rows (const ExchangeSheet *sheet);
guint       exchange_sheet_count_columns (const ExchangeSheet *sheet);
guint       exchange_sheet_count_readings (const ExchangeSheet *sheet);
guint       exchange_sheet_count_units (const ExchangeSheet *sheet);
guint       exchange_sheet_count_remarks (const ExchangeSheet *sheet);
guint       exchange_sheet_count_problems (const ExchangeSheet *sheet);

const char                *exchange_sheet_get_cell (const ExchangeSheet *sheet, guint row, guint column);
const ExchangeSheetColumn *exchange_sheet_get_column (const ExchangeSheet *sheet, guint column);
const ExchangeSheetRow    *exchange_sheet_get_row (const ExchangeSheet *sheet, guint row);
ExchangeSheetReading       exchange_sheet_get_reading (const ExchangeSheet *sheet, guint row, guint column);
const ExchangeSheetRemark *exchange_sheet_get_remark (const ExchangeSheet *sheet, guint remark);
const ExchangeSheetTitle  *exchange_sheet_get_title (const ExchangeSheet *sheet);
/* The limits of a column as the sheet writes them, else as exchange_limit_write() does; "" for none. */
char                      *exchange_sheet_dup_limits (const ExchangeSheet *sheet, guint column) G_GNUC_WARN_UNUSED_RESULT;
char                       exchange_sheet_get_decimal_sign (const ExchangeSheet *sheet);

/* Each setter makes the sheet be understood anew, with everything set so far kept. */
void exchange_sheet_set_column_role (ExchangeSheet *sheet, guint column, ExchangeColumnRole role);
void exchange_sheet_set_column_name (ExchangeSheet *sheet, guint column, const char *name);
void exchange_sheet_set_column_unit (ExchangeSheet *sheet, guint column, const char *unit);
void exchange_sheet_set_column_class (ExchangeSheet *sheet, guint column, const char *class_word);
void exchange_sheet_set_column_limits (ExchangeSheet *sheet, guint column, double nominal, double lower, double upper);
void exchange_sheet_set_row_role (ExchangeSheet *sheet, guint row, ExchangeRowRole role);
void exchange_sheet_set_serial_column (ExchangeSheet *sheet, guint column);
void exchange_sheet_set_decimal_sign (ExchangeSheet *sheet, char decimal_sign);
void exchange_sheet_set_again (ExchangeSheet *sheet, ExchangeAgain again);

/* What a role is called, in the reader's language. */
const char *exchange_column_role_label (ExchangeColumnRole role);
const char *exchange_row_role_label (ExchangeRowRole role);
char       *exchange_sheet_place (int row, int column) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
