/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The head of each column: name, unit, class and limits. See exchange-sheet-private.h for the method. */
#include "config.h"

#include "exchange-sheet-private.h"

#include "exchange-limit.h"
#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static gboolean
is_characteristic (const ExchangeSheetColumn *column)
{
  return column->role == EXCHANGE_COLUMN_MEASURED || column->role == EXCHANGE_COLUMN_CHECKED;
}

/* The text of a group row over a column; a blank continues the filled cell on its left. */
static const char *
find_group (const ExchangeSheet *sheet, guint row, guint column)
{
  for (int c = (int) column; c >= 0; c--)
    {
      const char *text = exchange_sheet_text (sheet, row, (guint) c);

      if (*text != '\0')
        return (int) column == c || is_characteristic (&sheet->columns[c]) ? text : "";
    }
  return "";
}

/* Whether the values of a column lie where `58-60` in its head could be limits and not part of the name. */
static gboolean
is_plausible (const ExchangeSheet *sheet, guint column, const ExchangeLimit *limit)
{
  double width = MAX (limit->upper - limit->lower, 1.0);
  guint inside = 0;
  guint values = 0;

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      const ExchangeCell *cell = exchange_sheet_cell (sheet, r, column);

      if (sheet->rows[r].role != EXCHANGE_ROW_DATA || !exchange_cell_is_number (cell))
        continue;
      values++;
      inside += cell->value >= limit->lower - 2.0 * width && cell->value <= limit->upper + 2.0 * width;
    }
  return values > 0 && inside * 2 > values;
}

/* Whether a limit that was read is all that is known of the column's: nothing of another line goes with it. */
static gboolean
is_all (const ExchangeSheetColumn *head, const ExchangeLimit *limit)
{
  return isnan (head->nominal) == isnan (limit->nominal) && isnan (head->lower) == isnan (limit->lower)
         && isnan (head->upper) == isnan (limit->upper);
}

/* @text: what it was read from; with @is_limit it is a limit as people write it, not the number of a line 'lower' alone. */
static void
keep_limit (ExchangeSheet *sheet, guint column, const ExchangeLimit *limit, const char *text, gboolean is_limit)
{
  ExchangeSheetColumn *head = &sheet->columns[column];

  if (!isnan (limit->nominal))
    head->nominal = limit->nominal;
  if (!isnan (limit->lower))
    head->lower = limit->lower;
  if (!isnan (limit->upper))
    head->upper = limit->upper;
  head->decimals = MAX (head->decimals, limit->decimals);
  if (limit->unit != NULL && head->unit == NULL)
    head->unit = limit->unit;
  head->limit_text = is_limit && is_all (head, limit) ? exchange_sheet_keep (sheet, text) : NULL;
  if (limit->is_turned)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("the limits '%s' were written with the larger number first"), text);
  if (limit->is_doubtful)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("a number in '%s' can be read in two ways: look at the limits"), text);
}

/* One cell of a name or group row: its name goes onto @name, its unit and limits to the column. */
static void
read_name_cell (ExchangeSheet *sheet, guint column, const char *text, GString *name)
{
  ExchangeSheetColumn *head = &sheet->columns[column];
  ExchangeHead read;
  const char *part;

  if (name->len > 0 && exchange_unit_find (text) != NULL)
    {
      head->unit = exchange_unit_find (text); /* the unit under the name that the group gives */
      return;
    }
  exchange_head_read (text, sheet->decimal_sign, &read);
  part = read.name;
  if (read.has_limit
      && (head->role != EXCHANGE_COLUMN_MEASURED || (read.limit.is_weak && !is_plausible (sheet, column, &read.limit))))
    part = read.plain_name;
  else if (read.has_limit)
    {
      keep_limit (sheet, column, &read.limit, read.limit_text, TRUE);
      if (read.limit.is_weak)
        exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                               _("'%s' in the head was taken for limits"), read.limit_text);
    }
  if (read.unit != NULL)
    {
      head->unit = read.unit;
      if (read.unit_is_guess)
        exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                               _("'%s' at the end of the head was taken for the unit of measure"), read.unit);
    }
  if (*part != '\0')
    {
      if (name->len > 0)
        g_string_append_c (name, ' ');
      g_string_append (name, part);
      head->short_name = exchange_sheet_keep (sheet, part);
    }
  exchange_head_clear (&read);
}

/* A column whose own head only counts (1, 2, 3) under a group holds repeats of what the group names. */
static guint
repeat_number (const ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);

  return cell->kind == EXCHANGE_CELL_NUMBER && cell->decimals == 0 && cell->note == NULL && cell->value >= 1.0
                 && cell->value <= 100.0
             ? (guint) cell->value
             : 0;
}

static void
read_names (ExchangeSheet *sheet, guint column)
{
  ExchangeSheetColumn *head = &sheet->columns[column];
  g_autoptr(GString) name = g_string_new (NULL);
  gboolean grouped = FALSE;

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      const char *text = exchange_sheet_text (sheet, r, column);
      guint repeat;

      if (sheet->rows[r].role == EXCHANGE_ROW_GROUP && is_characteristic (head))
        {
          text = find_group (sheet, r, column);
          grouped = grouped || *text != '\0';
        }
      else if (sheet->rows[r].role != EXCHANGE_ROW_NAME)
        continue;
      if (*text == '\0')
        continue;
      if (!is_characteristic (head))
        {
          g_string_assign (name, text);
          continue;
        }
      repeat = sheet->rows[r].role == EXCHANGE_ROW_NAME && grouped ? repeat_number (sheet, r, column) : 0;
      if (repeat > 0)
        {
          head->repeat = repeat;
          exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) r, (int) column,
                                 _("the number was taken for a repeat of '%s'"), name->str);
        }
      else
        read_name_cell (sheet, column, text, name);
    }
  if (name->len == 0 && is_characteristic (head))
    {
      g_autofree char *place = exchange_sheet_place (-1, (int) column);

      g_string_assign (name, place);
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, -1, (int) column,
                             _("the column has no name: give it one"));
    }
  head->name = exchange_sheet_keep (sheet, name->str);
  if (head->short_name == NULL)
    head->short_name = head->name;
}

static void
not_understood (ExchangeSheet *sheet, guint row, guint column)
{
  exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                         _("'%s' is not understood as limits: give the lower and the upper one"),
                         exchange_sheet_text (sheet, row, column));
}

static void
read_limits_cell (ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeSheetColumn *head = &sheet->columns[column];
  const char *text = exchange_sheet_text (sheet, row, column);
  g_autofree char *whole = NULL;
  ExchangeLimit limit;

  /* `±0.1` and `+0.2/-0.1` need the nominal value of another row. */
  if (!isnan (head->nominal)
      && (strchr ("+-", *text) != NULL || g_str_has_prefix (text, "±") || g_str_has_prefix (text, "−")))
    {
      char number[G_ASCII_DTOSTR_BUF_SIZE];

      g_ascii_formatd (number, sizeof number, "%.12g", head->nominal);
      if (sheet->decimal_sign == ',')
        g_strdelimit (number, ".", ',');
      whole = g_strdup_printf ("%s %s", number, text);
      if (exchange_limit_read (whole, sheet->decimal_sign, &limit))
        {
          keep_limit (sheet, column, &limit, whole, TRUE);
          return;
        }
    }
  if (exchange_limit_read (text, sheet->decimal_sign, &limit))
    keep_limit (sheet, column, &limit, text, TRUE);
  else
    not_understood (sheet, row, column);
}

static void
read_number_cell (ExchangeSheet *sheet, guint row, guint column)
{
  const ExchangeCell *cell = exchange_sheet_cell (sheet, row, column);
  ExchangeLimit limit;

  exchange_limit_init (&limit);
  if (cell->kind == EXCHANGE_CELL_ABSENT)
    return;
  if (!exchange_cell_is_number (cell) || cell->note != NULL)
    {
      not_understood (sheet, row, column);
      return;
    }
  if (sheet->rows[row].role == EXCHANGE_ROW_NOMINAL)
    limit.nominal = cell->value;
  else if (sheet->rows[row].role == EXCHANGE_ROW_LOWER)
    limit.lower = cell->value;
  else
    limit.upper = cell->value;
  limit.decimals = cell->decimals;
  limit.is_doubtful = cell->is_doubtful;
  limit.unit = cell->unit;
  keep_limit (sheet, column, &limit, exchange_sheet_text (sheet, row, column), FALSE);
}

static void
read_unit_cell (ExchangeSheet *sheet, guint row, guint column)
{
  const char *text = exchange_sheet_text (sheet, row, column);
  g_autofree char *inner = exchange_text_without_brackets (text);
  const char *unit = exchange_unit_find (inner);

  if (unit != NULL)
    sheet->columns[column].unit = unit;
  else if (exchange_sheet_cell (sheet, row, column)->kind != EXCHANGE_CELL_ABSENT)
    {
      sheet->columns[column].unit = exchange_sheet_keep (sheet, inner);
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) row, (int) column,
                             _("'%s' was taken for a unit of measure that is not known here"), inner);
    }
}

static void
read_head_row (ExchangeSheet *sheet, guint row, guint column)
{
  ExchangeSheetColumn *head = &sheet->columns[column];
  const char *text = exchange_sheet_text (sheet, row, column);

  if (*text == '\0' || (column == 0 && exchange_word_of_row (text) != EXCHANGE_WORD_NONE))
    return;
  switch (sheet->rows[row].role)
    {
    case EXCHANGE_ROW_CODE:
      head->code = exchange_sheet_keep (sheet, text);
      break;
    case EXCHANGE_ROW_UNIT:
      read_unit_cell (sheet, row, column);
      break;
    case EXCHANGE_ROW_CLASS:
      head->class_word = exchange_text_class (text);
      if (head->class_word == NULL)
        exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) row, (int) column,
                               _("'%s' is no class: write safety, function or appearance"), text);
      break;
    case EXCHANGE_ROW_NOMINAL:
    case EXCHANGE_ROW_LOWER:
    case EXCHANGE_ROW_UPPER:
      if (head->role == EXCHANGE_COLUMN_MEASURED)
        read_number_cell (sheet, row, column);
      break;
    case EXCHANGE_ROW_LEFT_OUT:
    case EXCHANGE_ROW_TITLE:
    case EXCHANGE_ROW_GROUP:
    case EXCHANGE_ROW_NAME:
    case EXCHANGE_ROW_LIMITS: /* in a second pass: it may need the nominal value */
    case EXCHANGE_ROW_DATA:
    case EXCHANGE_ROW_SUMMARY:
      break;
    }
}

/* Two columns of one name are repeats of one characteristic. */
static void
number_repeats (ExchangeSheet *sheet)
{
  for (guint c = 1; c < sheet->grid->n_columns; c++)
    {
      ExchangeSheetColumn *head = &sheet->columns[c];

      if (!is_characteristic (head))
        continue;
      for (int earlier = (int) c - 1; earlier >= 0; earlier--)
        {
          const ExchangeSheetColumn *other = &sheet->columns[earlier];

          if (other->role != head->role || g_utf8_collate (other->name, head->name) != 0)
            continue;
          if (head->repeat <= other->repeat)
            {
              head->repeat = other->repeat + 1;
              exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) c,
                                     _("'%s' stands over several columns, which were taken for repeats"), head->name);
            }
          head->unit = head->unit != NULL ? head->unit : other->unit;
          break;
        }
    }
}

static void
apply_settings (ExchangeSheet *sheet, guint column)
{
  const ExchangeColumnSetting *setting = &sheet->column_settings[column];
  ExchangeSheetColumn *head = &sheet->columns[column];

  if (setting->unit != NULL)
    head->unit = *setting->unit != '\0' ? setting->unit : NULL;
  if (setting->class_word != NULL)
    head->class_word = exchange_text_class (setting->class_word);
  if (setting->has_limits)
    {
      head->nominal = setting->nominal;
      head->lower = setting->lower;
      head->upper = setting->upper;
      head->limit_text = NULL;
    }
  if (!isnan (head->lower) && !isnan (head->upper) && head->lower > head->upper)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, -1, (int) column,
                           _("the lower limit lies above the upper one: correct them"));
}

/**
 * exchange_sheet_find_heads:
 * @sheet: a sheet whose rows and columns have their roles
 *
 * Reads names, units, classes and limits of all columns.
 */
void
exchange_sheet_find_heads (ExchangeSheet *sheet)
{
  for (guint c = 0; c < sheet->grid->n_columns; c++)
    {
      ExchangeSheetColumn *head = &sheet->columns[c];

      head->nominal = NAN;
      head->lower = NAN;
      head->upper = NAN;
      head->repeat = 1;
      read_names (sheet, c);
      if (sheet->column_settings[c].name != NULL)
        head->name = head->short_name = sheet->column_settings[c].name;
      if (!is_characteristic (head))
        continue;
      for (guint r = 0; r < sheet->grid->n_rows; r++)
        read_head_row (sheet, r, c);
      for (guint r = 0; r < sheet->grid->n_rows; r++)
        if (sheet->rows[r].role == EXCHANGE_ROW_LIMITS && head->role == EXCHANGE_COLUMN_MEASURED
            && *exchange_sheet_text (sheet, r, c) != '\0'
            && !(c == 0 && exchange_word_of_row (exchange_sheet_text (sheet, r, c)) != EXCHANGE_WORD_NONE)
            && exchange_sheet_cell (sheet, r, c)->kind != EXCHANGE_CELL_ABSENT)
          read_limits_cell (sheet, r, c);
      apply_settings (sheet, c);
    }
  number_repeats (sheet);
}
