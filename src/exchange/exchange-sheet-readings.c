/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of readings: serial, attempt, repeat, and what each cell says. See exchange-sheet-private.h for the method. */
#include "config.h"

#include "exchange-sheet-private.h"

#include "book-number.h"
#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_REPEATS 10000 /* the bounds of the record of a reading */
#define MOST_ATTEMPTS 1000
#define EXCEL_DAY_ZERO 693594 /* Julian day, as GDate counts, of 1899-12-30, from which spreadsheets count days */

static int
find_column (const ExchangeSheet *sheet, ExchangeColumnRole role)
{
  for (guint c = 0; c < sheet->grid->n_columns; c++)
    if (sheet->columns[c].role == role)
      return (int) c;
  return -1;
}

static gboolean
is_value_column (const ExchangeSheetColumn *column)
{
  return column->role == EXCHANGE_COLUMN_MEASURED || column->role == EXCHANGE_COLUMN_CHECKED;
}

static gboolean
has_values (const ExchangeSheet *sheet, guint row)
{
  for (guint c = 0; c < sheet->grid->n_columns; c++)
    if (is_value_column (&sheet->columns[c]) && *exchange_sheet_text (sheet, row, c) != '\0')
      return TRUE;
  return FALSE;
}

static void
read_serials (ExchangeSheet *sheet)
{
  const char *last = NULL;
  guint number = 0;

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      ExchangeSheetRow *row = &sheet->rows[r];
      const char *text = sheet->serial_column >= 0 ? exchange_sheet_text (sheet, r, (guint) sheet->serial_column) : "";

      if (row->role != EXCHANGE_ROW_DATA)
        continue;
      if (sheet->serial_column < 0)
        row->serial = exchange_sheet_keep_printf (sheet, "%u", ++number);
      else if (*text != '\0')
        row->serial = text;
      else if (last != NULL && has_values (sheet, r))
        {
          row->serial = last;
          exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) r, sheet->serial_column,
                                 _("the line has no serial and was taken for '%s', the unit above it"), last);
        }
      else if (has_values (sheet, r))
        exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) r, sheet->serial_column,
                               _("the line has values but no serial: give it one"));
      if (row->serial != NULL && g_utf8_strlen (row->serial, -1) > 40)
        {
          exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) r, sheet->serial_column,
                                 _("the serial is longer than 40 characters: shorten it"));
          row->serial = NULL;
        }
      last = row->serial;
    }
}

static const char *
read_date (ExchangeSheet *sheet, guint row, guint column, gboolean *doubtful)
{
  const char *text = exchange_sheet_text (sheet, row, column);
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);
  gboolean turned;
  char iso[17];

  if (*text == '\0' || cell->kind == EXCHANGE_CELL_ABSENT)
    return NULL;
  if (exchange_text_is_date (text, sheet->date_order, iso, &turned))
    {
      *doubtful = *doubtful || turned;
      return exchange_sheet_keep (sheet, iso);
    }
  if (cell->kind == EXCHANGE_CELL_NUMBER && cell->decimals == 0 && cell->value > 32874 && cell->value < 73051)
    {
      GDate date;

      g_date_clear (&date, 1);
      g_date_set_julian (&date, (guint32) (EXCEL_DAY_ZERO + (guint32) cell->value));
      g_date_strftime (iso, sizeof iso, "%Y-%m-%d", &date);
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) row, (int) column,
                             _("%s was taken for the day number of a spreadsheet, %s"), text, iso);
      return exchange_sheet_keep (sheet, iso);
    }
  exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                         _("'%s' is no date that exists: write it as 2025-03-14"), text);
  return NULL;
}

static void
read_dates_and_people (ExchangeSheet *sheet)
{
  int date = find_column (sheet, EXCHANGE_COLUMN_DATE);
  int person = find_column (sheet, EXCHANGE_COLUMN_PERSON);
  int remark = find_column (sheet, EXCHANGE_COLUMN_REMARK);
  gboolean doubtful = FALSE;
  const char *last_date = NULL;

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      ExchangeSheetRow *row = &sheet->rows[r];

      if (row->role != EXCHANGE_ROW_DATA)
        continue;
      if (date >= 0)
        {
          row->date = read_date (sheet, r, (guint) date, &doubtful);
          if (row->date == NULL && last_date != NULL && *exchange_sheet_text (sheet, r, (guint) date) == '\0')
            {
              row->date = last_date;
              exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) r, date,
                                     _("the line has no date and was given that of the line above it"));
            }
          last_date = row->date;
        }
      if (person >= 0)
        {
          const char *text = exchange_sheet_text (sheet, r, (guint) person);

          if (g_utf8_strlen (text, -1) > 8)
            exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) r, person,
                                   _("'%s' is too long for initials: write at most 8 characters"), text);
          else if (*text != '\0' && exchange_sheet_cell (sheet, r, (guint) person)->kind != EXCHANGE_CELL_ABSENT)
            row->person = text;
        }
      if (remark >= 0 && *exchange_sheet_text (sheet, r, (guint) remark) != '\0')
        row->remark = exchange_sheet_text (sheet, r, (guint) remark);
    }
  if (doubtful)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, date,
                           sheet->date_order == EXCHANGE_DATE_DAY_FIRST
                               ? _("the dates were read with the day first")
                               : _("the dates were read with the month first"));
}

static guint
read_count (ExchangeSheet *sheet, guint row, int column, guint most)
{
  const ExchangeCell *cell = column >= 0 ? exchange_sheet_cell (sheet, row, (guint) column) : NULL;

  if (cell == NULL || cell->kind == EXCHANGE_CELL_EMPTY || cell->kind == EXCHANGE_CELL_ABSENT)
    return 0;
  if (cell->kind == EXCHANGE_CELL_NUMBER && cell->decimals == 0 && cell->value >= 1.0 && cell->value <= most)
    return (guint) cell->value;
  exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, column, _("'%s' is no count: write 1, 2, 3"),
                         exchange_sheet_text (sheet, row, (guint) column));
  return 0;
}

/* Whether the lines of one serial were measured on different days, which speaks for another attempt. */
static gboolean
dates_differ (const ExchangeSheet *sheet)
{
  g_autoptr(GHashTable) dates = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      const ExchangeSheetRow *row = &sheet->rows[r];
      const char *known;

      if (row->role != EXCHANGE_ROW_DATA || row->serial == NULL || row->date == NULL)
        continue;
      known = g_hash_table_lookup (dates, row->serial);
      if (known != NULL && strncmp (known, row->date, 10) != 0)
        return TRUE;
      g_hash_table_insert (dates, (gpointer) row->serial, (gpointer) row->date);
    }
  return FALSE;
}

/* A second line of a serial is a repeat, or another attempt where the days differ or the caller says so. */
static void
number_rows (ExchangeSheet *sheet)
{
  g_autoptr(GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  int attempts = find_column (sheet, EXCHANGE_COLUMN_ATTEMPT);
  int repeats = find_column (sheet, EXCHANGE_COLUMN_REPEAT);
  guint twice = 0;
  const char *example = NULL;

  sheet->again = sheet->has_again       ? sheet->set_again
                 : dates_differ (sheet) ? EXCHANGE_AGAIN_ATTEMPT
                                        : EXCHANGE_AGAIN_REPEAT;
  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      ExchangeSheetRow *row = &sheet->rows[r];
      guint count;
      guint attempt;
      guint repeat;

      if (row->role != EXCHANGE_ROW_DATA || row->serial == NULL)
        continue;
      count = GPOINTER_TO_UINT (g_hash_table_lookup (seen, row->serial)) + 1;
      g_hash_table_insert (seen, (gpointer) row->serial, GUINT_TO_POINTER (count));
      attempt = read_count (sheet, r, attempts, MOST_ATTEMPTS);
      repeat = read_count (sheet, r, repeats, MOST_REPEATS);
      row->attempt = attempt > 0 ? attempt : 1;
      row->n = repeat > 0 ? repeat : 1;
      if (count > 1 && attempt == 0 && repeat == 0)
        {
          twice++;
          example = row->serial;
          if (sheet->again == EXCHANGE_AGAIN_ATTEMPT)
            row->attempt = count;
          else
            row->n = count;
        }
    }
  sheet->n_units = g_hash_table_size (seen);
  if (twice > 0)
    exchange_sheet_remark (
        sheet, EXCHANGE_REMARK_GUESS, -1, sheet->serial_column,
        sheet->again == EXCHANGE_AGAIN_ATTEMPT
            ? _("serials that stand in more than one line, such as '%s', were taken for further attempts")
            : _("serials that stand in more than one line, such as '%s', were taken for repeats of one measurement"),
        example);
}

static void
not_a_value (ExchangeSheet *sheet, guint row, guint column)
{
  const char *text = exchange_sheet_text (sheet, row, column);

  if (*text == '#')
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                           _("'%s' is a fault of the spreadsheet and not stored"), text);
  else if (sheet->columns[column].role == EXCHANGE_COLUMN_CHECKED)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                           _("'%s' is neither passed nor failed and not stored: write ok or nok"), text);
  else
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                           _("'%s' is not a number and not stored"), text);
}

/* What one cell says; remarks are made in the pass over all cells only. */
static ExchangeReadingMark
mark_of (const ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);
  gboolean checked = sheet->columns[column].role == EXCHANGE_COLUMN_CHECKED;
  gboolean mixed = FALSE;

  switch (cell->kind)
    {
    case EXCHANGE_CELL_NUMBER:
      return checked ? EXCHANGE_READING_NONE : EXCHANGE_READING_MEASURED;
    case EXCHANGE_CELL_ABOVE:
      return checked ? EXCHANGE_READING_NONE : EXCHANGE_READING_ABOVE;
    case EXCHANGE_CELL_BELOW:
      return checked ? EXCHANGE_READING_NONE : EXCHANGE_READING_BELOW;
    case EXCHANGE_CELL_PASSED:
      return checked ? EXCHANGE_READING_PASSED : EXCHANGE_READING_NONE;
    case EXCHANGE_CELL_FAILED:
      return checked ? EXCHANGE_READING_FAILED : EXCHANGE_READING_NONE;
    case EXCHANGE_CELL_CROSS:
      for (guint r = 0; r < sheet->grid->n_rows && !mixed; r++)
        mixed = sheet->rows[r].role == EXCHANGE_ROW_DATA
                && exchange_cell_is_check (exchange_sheet_cell (sheet, r, column))
                && exchange_sheet_cell (sheet, r, column)->kind != EXCHANGE_CELL_CROSS;
      return !checked ? EXCHANGE_READING_NONE : mixed ? EXCHANGE_READING_FAILED : EXCHANGE_READING_PASSED;
    case EXCHANGE_CELL_EMPTY:
    case EXCHANGE_CELL_ABSENT:
    case EXCHANGE_CELL_TEXT:
      return EXCHANGE_READING_NONE;
    }
  return EXCHANGE_READING_NONE;
}

static void
remark_on_number (ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);
  const ExchangeSheetColumn *head = &sheet->columns[column];
  const char *text = exchange_sheet_text (sheet, row, column);

  if (cell->is_doubtful
      || (cell->decimal_sign != 0 && sheet->decimal_sign != 0 && cell->decimal_sign != sheet->decimal_sign))
    {
      g_autoptr(GString) number = g_string_new (NULL);

      book_number_append (number, cell->value);
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) row, (int) column, _("'%s' was read as %s"), text, number->str);
    }
  if (cell->unit != NULL && head->unit != NULL && strcmp (cell->unit, head->unit) != 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                           _("the value is in %s, the column in %s: convert it, it is not stored"), cell->unit,
                           head->unit);
}

static gboolean
has_other_unit (const ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);

  return cell->unit != NULL && sheet->columns[column].unit != NULL
         && strcmp (cell->unit, sheet->columns[column].unit) != 0;
}

static void
count_readings (ExchangeSheet *sheet, guint column)
{
  ExchangeSheetColumn *head = &sheet->columns[column];
  guint absent = 0;
  guint comparisons = 0;

  if (head->unit == NULL && head->role == EXCHANGE_COLUMN_MEASURED)
    for (guint r = 0; r < sheet->grid->n_rows && head->unit == NULL; r++)
      if (sheet->rows[r].role == EXCHANGE_ROW_DATA)
        head->unit = exchange_sheet_cell (sheet, r, column)->unit;
  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      const ExchangeCell *cell = exchange_sheet_cell (sheet, r, column);
      ExchangeReadingMark mark = mark_of (sheet, r, column);

      if (sheet->rows[r].role != EXCHANGE_ROW_DATA)
        continue;
      absent += cell->kind == EXCHANGE_CELL_ABSENT;
      if (mark == EXCHANGE_READING_NONE)
        {
          if (cell->kind != EXCHANGE_CELL_EMPTY && cell->kind != EXCHANGE_CELL_ABSENT)
            not_a_value (sheet, r, column);
          continue;
        }
      if (exchange_cell_is_number (cell))
        remark_on_number (sheet, r, column);
      if (has_other_unit (sheet, r, column) || sheet->rows[r].serial == NULL)
        continue;
      comparisons += mark == EXCHANGE_READING_ABOVE || mark == EXCHANGE_READING_BELOW;
      head->n_values++;
      head->n_notes += cell->note != NULL;
      head->decimals = MAX (head->decimals, cell->decimals);
    }
  head->decimals = MIN (head->decimals, 6); /* the bound of the record */
  sheet->n_readings += head->n_values;
  if (absent > 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("a dash or the like was taken for not measured"));
  if (comparisons > 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("a value with > or < is kept as lying above or below it"));
  if (head->n_notes > 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("what stands beside a value is kept as a note on the reading"));
}

/**
 * exchange_sheet_find_readings:
 * @sheet: a sheet whose rows, columns and heads are known
 *
 * Reads serials, attempts, repeats, dates and people of the rows, and counts the readings.
 */
void
exchange_sheet_find_readings (ExchangeSheet *sheet)
{
  read_serials (sheet);
  read_dates_and_people (sheet);
  number_rows (sheet);
  for (guint c = 0; c < sheet->grid->n_columns; c++)
    if (is_value_column (&sheet->columns[c]))
      count_readings (sheet, c);
}

/**
 * exchange_sheet_get_reading:
 * @sheet: a sheet
 * @row: a row
 * @column: a column
 *
 * What a cell says as a reading; %EXCHANGE_READING_NONE where nothing is stored from it.
 *
 * Returns: the reading; its note belongs to the sheet
 */
ExchangeSheetReading
exchange_sheet_get_reading (const ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);
  ExchangeSheetReading reading = { EXCHANGE_READING_NONE, NAN, NULL };

  g_return_val_if_fail (row < sheet->grid->n_rows && column < sheet->grid->n_columns, reading);
  if (!is_value_column (&sheet->columns[column]) || sheet->rows[row].role != EXCHANGE_ROW_DATA
      || sheet->rows[row].serial == NULL || has_other_unit (sheet, row, column))
    return reading;
  reading.mark = mark_of (sheet, row, column);
  if (reading.mark == EXCHANGE_READING_NONE)
    return reading;
  if (exchange_cell_is_number (cell))
    reading.value = cell->value;
  if (cell->note != NULL)
    {
      g_autofree char *note = g_strndup (cell->note, cell->note_length);

      reading.note = g_string_chunk_insert_const (sheet->texts, note); /* once, however often it is asked for */
    }
  return reading;
}
