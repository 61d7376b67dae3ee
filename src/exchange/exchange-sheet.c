/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-sheet-private.h"

#include "exchange-error.h"
#include "exchange-limit.h"
#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define MOST_REMARKS 1000
#define MOST_FILE_BYTES (32 * 1024 * 1024)

const char *
exchange_sheet_keep (ExchangeSheet *self, const char *text)
{
  return g_string_chunk_insert (self->texts, text);
}

const char *
exchange_sheet_keep_printf (ExchangeSheet *self, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list arguments;

  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return exchange_sheet_keep (self, text);
}

/**
 * exchange_sheet_place:
 * @row: a row, or -1
 * @column: a column, or -1
 *
 * Where something stands, as a spreadsheet calls it: columns by letters, lines by numbers from 1.
 *
 * Returns: (transfer full): `C5`, `column C`, `line 5`, or the empty text
 */
char *
exchange_sheet_place (int row, int column)
{
  char letters[8];
  guint n = sizeof letters - 1;

  if (column < 0)
    return row < 0 ? g_strdup ("") : g_strdup_printf (_("line %d"), row + 1);
  letters[n] = '\0';
  for (int rest = column; rest >= 0; rest = rest / 26 - 1)
    letters[--n] = (char) ('A' + rest % 26);
  return row < 0 ? g_strdup_printf (_("column %s"), letters + n) : g_strdup_printf ("%s%d", letters + n, row + 1);
}

void
exchange_sheet_remark (ExchangeSheet *self, ExchangeRemarkKind kind, int row, int column, const char *format, ...)
{
  g_autofree char *text = NULL;
  g_autofree char *place = exchange_sheet_place (row >= 0 ? (int) self->grid->lines[row] - 1 : -1, column);
  ExchangeSheetRemark remark = { kind, row, column, exchange_sheet_keep (self, place), NULL };
  va_list arguments;

  if (self->remarks->len >= MOST_REMARKS)
    return;
  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  remark.text = exchange_sheet_keep (self, text);
  g_array_append_val (self->remarks, remark);
}

gboolean
exchange_text_is_date (const char *text, ExchangeDateOrder order, char iso[17], gboolean *is_doubtful)
{
  const char *p = text;

  return exchange_date_scan (&p, order, iso, is_doubtful) && *exchange_text_skip_spaces (p) == '\0';
}

/* Returns: (nullable): the word the book's files use for a class */
const char *
exchange_text_class (const char *text)
{
  static const char * const classes[][2] = {
    { "safety", "safety" },       { "sicherheit", "safety" },      { "function", "function" },
    { "functional", "function" }, { "funktion", "function" },      { "appearance", "appearance" },
    { "cosmetic", "appearance" }, { "optik", "appearance" },       { "aussehen", "appearance" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    if (g_ascii_strcasecmp (text, classes[i][0]) == 0)
      return classes[i][1];
  return NULL;
}

char *
exchange_text_without_brackets (const char *text)
{
  gsize length = strlen (text);

  if (length >= 2 && strchr ("[({", text[0]) != NULL && strchr ("])}", text[length - 1]) != NULL)
    return g_strndup (text + 1, length - 2);
  return g_strdup (text);
}

/* Counts what the cells say about the decimal sign: `12,5` speaks, `1,234` does not. */
static void
find_decimal_sign (ExchangeSheet *self)
{
  guint points = 0;
  guint commas = 0;
  guint doubtful = 0;

  for (gsize i = 0; i < (gsize) self->grid->n_rows * self->grid->n_columns; i++)
    {
      ExchangeCell cell;

      exchange_cell_read (self->grid->cells[i], 0, &cell);
      if (!exchange_cell_is_number (&cell) || cell.decimal_sign == 0)
        continue;
      if (cell.is_doubtful)
        doubtful += cell.decimal_sign == ',';
      else if (cell.decimal_sign == ',')
        commas++;
      else
        points++;
    }
  if (self->set_decimal_sign != 0)
    self->decimal_sign = self->set_decimal_sign;
  else if (points == 0 && commas == 0)
    {
      self->decimal_sign = doubtful > 0 ? ',' : '.';
      if (doubtful > 0)
        exchange_sheet_remark (self, EXCHANGE_REMARK_GUESS, -1, -1,
                               _("the comma was taken for the decimal sign; nothing in the sheet decides it"));
    }
  else
    {
      self->decimal_sign = commas > points ? ',' : '.';
      if (points > 0 && commas > 0)
        exchange_sheet_remark (self, EXCHANGE_REMARK_GUESS, -1, -1,
                               _("the sheet has decimal points and decimal commas; both were read as such"));
      else if (commas > 0)
        exchange_sheet_remark (self, EXCHANGE_REMARK_GUESS, -1, -1, _("the comma is the decimal sign"));
    }
}

/* `13/4/2025` and `4/13/2025` decide; otherwise the day comes first. */
static void
find_date_order (ExchangeSheet *self)
{
  guint month_first = 0;

  self->date_order = EXCHANGE_DATE_DAY_FIRST;
  for (gsize i = 0; i < (gsize) self->grid->n_rows * self->grid->n_columns; i++)
    {
      const char *p = self->grid->cells[i];
      guint first;
      guint second;
      guint year;

      if (sscanf (p, "%2u/%2u/%4u", &first, &second, &year) == 3)
        {
          if (first > 12)
            return;
          month_first += second > 12;
        }
    }
  if (month_first > 0)
    self->date_order = EXCHANGE_DATE_MONTH_FIRST;
}

static void
remark_on_grid (ExchangeSheet *self)
{
  if (self->grid->was_not_utf8)
    exchange_sheet_remark (
        self, EXCHANGE_REMARK_GUESS, -1, -1,
        _("the text is not UTF-8 and was taken for that of an older spreadsheet: look at signs such as ± and °"));
  if (self->grid->quote_was_open)
    exchange_sheet_remark (self, EXCHANGE_REMARK_GUESS, -1, -1,
                           _("a quote is opened and never closed, so quotes were taken as they stand"));
}

void
exchange_sheet_understand (ExchangeSheet *self)
{
  gsize n_cells = (gsize) self->grid->n_rows * self->grid->n_columns;

  g_clear_pointer (&self->texts, g_string_chunk_free);
  self->texts = g_string_chunk_new (4096);
  g_array_set_size (self->remarks, 0);
  memset (self->columns, 0, self->grid->n_columns * sizeof *self->columns);
  memset (self->rows, 0, self->grid->n_rows * sizeof *self->rows);
  memset (&self->title, 0, sizeof self->title);
  self->n_readings = 0;
  self->n_units = 0;
  remark_on_grid (self);
  find_decimal_sign (self);
  find_date_order (self);
  for (gsize i = 0; i < n_cells; i++)
    exchange_cell_read (self->grid->cells[i], self->decimal_sign, &self->cells[i]);
  for (guint r = 0; r < self->grid->n_rows; r++)
    self->rows[r].line = self->grid->lines[r];
  exchange_sheet_find_rows (self);
  exchange_sheet_find_columns (self);
  exchange_sheet_find_heads (self);
  exchange_sheet_find_readings (self);
  exchange_sheet_find_title (self);
}

/**
 * exchange_sheet_read_text:
 * @name: what messages call it
 * @text: the text: pasted cells, or what a file holds
 * @length: its bytes
 *
 * Reads a measuring sheet.
 *
 * Returns: (transfer full) (nullable): the sheet; %NULL only when the text is empty, too large or no text
 */
ExchangeSheet *
exchange_sheet_read_text (const char *name, const char *text, gsize length, GError **error)
{
  ExchangeGrid *grid = exchange_grid_read (name, text, length, EXCHANGE_GRID_MOST_ROWS, error);
  ExchangeSheet *self;

  if (grid == NULL)
    return NULL;
  self = g_new0 (ExchangeSheet, 1);
  self->name = g_strdup (name);
  self->grid = grid;
  self->column_settings = g_new0 (ExchangeColumnSetting, grid->n_columns);
  self->row_settings = g_new0 (ExchangeRowSetting, grid->n_rows);
  self->cells = g_new0 (ExchangeCell, (gsize) grid->n_rows * grid->n_columns);
  self->columns = g_new0 (ExchangeSheetColumn, grid->n_columns);
  self->rows = g_new0 (ExchangeSheetRow, grid->n_rows);
  self->remarks = g_array_new (FALSE, FALSE, sizeof (ExchangeSheetRemark));
  exchange_sheet_understand (self);
  return self;
}

/**
 * exchange_sheet_read_file:
 * @path: a file
 *
 * Reads a measuring sheet from a file of comma, semicolon or tab separated cells.
 *
 * Returns: (transfer full) (nullable): the sheet
 */
ExchangeSheet *
exchange_sheet_read_file (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr(GError) failure = NULL;
  gsize length;

  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: this is a folder: name a file"), path);
      return NULL;
    }
  if (!g_file_get_contents (path, &text, &length, &failure))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the file cannot be read: %s"), path,
                   failure->message);
      return NULL;
    }
  if (length > MOST_FILE_BYTES)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                   _("%s: the file is too large for a measuring sheet: import it as reading.csv"), path);
      return NULL;
    }
  return exchange_sheet_read_text (path, text, length, error);
}

void
exchange_sheet_free (ExchangeSheet *self)
{
  if (self == NULL)
    return;
  for (guint c = 0; c < self->grid->n_columns; c++)
    {
      g_free (self->column_settings[c].name);
      g_free (self->column_settings[c].unit);
      g_free (self->column_settings[c].class_word);
    }
  g_free (self->column_settings);
  g_free (self->row_settings);
  g_free (self->cells);
  g_free (self->columns);
  g_free (self->rows);
  g_array_unref (self->remarks);
  g_clear_pointer (&self->texts, g_string_chunk_free);
  exchange_grid_free (self->grid);
  g_free (self->name);
  g_free (self);
}

const char *
exchange_sheet_get_name (const ExchangeSheet *self)
{
  return self->name;
}

guint
exchange_sheet_count_rows (const ExchangeSheet *self)
{
  return self->grid->n_rows;
}

guint
exchange_sheet_count_columns (const ExchangeSheet *self)
{
  return self->grid->n_columns;
}

guint
exchange_sheet_count_readings (const ExchangeSheet *self)
{
  return self->n_readings;
}

guint
exchange_sheet_count_units (const ExchangeSheet *self)
{
  return self->n_units;
}

guint
exchange_sheet_count_remarks (const ExchangeSheet *self)
{
  return self->remarks->len;
}

guint
exchange_sheet_count_problems (const ExchangeSheet *self)
{
  guint n = 0;

  for (guint i = 0; i < self->remarks->len; i++)
    n += g_array_index (self->remarks, ExchangeSheetRemark, i).kind == EXCHANGE_REMARK_PROBLEM;
  return n;
}

const char *
exchange_sheet_get_cell (const ExchangeSheet *self, guint row, guint column)
{
  g_return_val_if_fail (row < self->grid->n_rows && column < self->grid->n_columns, NULL);
  return exchange_sheet_text (self, row, column);
}

const ExchangeSheetColumn *
exchange_sheet_get_column (const ExchangeSheet *self, guint column)
{
  g_return_val_if_fail (column < self->grid->n_columns, NULL);
  return &self->columns[column];
}

const ExchangeSheetRow *
exchange_sheet_get_row (const ExchangeSheet *self, guint row)
{
  g_return_val_if_fail (row < self->grid->n_rows, NULL);
  return &self->rows[row];
}

const ExchangeSheetRemark *
exchange_sheet_get_remark (const ExchangeSheet *self, guint remark)
{
  g_return_val_if_fail (remark < self->remarks->len, NULL);
  return &g_array_index (self->remarks, ExchangeSheetRemark, remark);
}

const ExchangeSheetTitle *
exchange_sheet_get_title (const ExchangeSheet *self)
{
  return &self->title;
}

char *
exchange_sheet_dup_limits (const ExchangeSheet *self, guint column)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self, column);

  return head->limit_text != NULL ? g_strdup (head->limit_text)
                                  : exchange_limit_write (head->nominal, head->lower, head->upper, self->decimal_sign);
}

char
exchange_sheet_get_decimal_sign (const ExchangeSheet *self)
{
  return self->decimal_sign;
}

void
exchange_sheet_set_column_role (ExchangeSheet *self, guint column, ExchangeColumnRole role)
{
  g_return_if_fail (column < self->grid->n_columns);
  self->column_settings[column].has_role = TRUE;
  self->column_settings[column].role = role;
  exchange_sheet_understand (self);
}

void
exchange_sheet_set_column_name (ExchangeSheet *self, guint column, const char *name)
{
  g_return_if_fail (column < self->grid->n_columns && name != NULL);
  g_free (self->column_settings[column].name);
  self->column_settings[column].name = g_strdup (name);
  exchange_sheet_understand (self);
}

void
exchange_sheet_set_column_unit (ExchangeSheet *self, guint column, const char *unit)
{
  g_return_if_fail (column < self->grid->n_columns && unit != NULL);
  g_free (self->column_settings[column].unit);
  self->column_settings[column].unit = g_strdup (unit);
  exchange_sheet_understand (self);
}

void
exchange_sheet_set_column_class (ExchangeSheet *self, guint column, const char *class_word)
{
  g_return_if_fail (column < self->grid->n_columns && class_word != NULL);
  g_free (self->column_settings[column].class_word);
  self->column_settings[column].class_word = g_strdup (class_word);
  exchange_sheet_understand (self);
}

/* NAN takes a limit away. */
void
exchange_sheet_set_column_limits (ExchangeSheet *self, guint column, double nominal, double lower, double upper)
{
  g_return_if_fail (column < self->grid->n_columns);
  self->column_settings[column].has_limits = TRUE;
  self->column_settings[column].nominal = nominal;
  self->column_settings[column].lower = lower;
  self->column_settings[column].upper = upper;
  exchange_sheet_understand (self);
}

void
exchange_sheet_set_row_role (ExchangeSheet *self, guint row, ExchangeRowRole role)
{
  g_return_if_fail (row < self->grid->n_rows);
  self->row_settings[row].has_role = TRUE;
  self->row_settings[row].role = role;
  exchange_sheet_understand (self);
}

/* The column that held the serials before is taken anew for what it looks like. */
void
exchange_sheet_set_serial_column (ExchangeSheet *self, guint column)
{
  g_return_if_fail (column < self->grid->n_columns);
  for (guint c = 0; c < self->grid->n_columns; c++)
    if (self->column_settings[c].has_role && self->column_settings[c].role == EXCHANGE_COLUMN_SERIAL)
      self->column_settings[c].has_role = FALSE;
  exchange_sheet_set_column_role (self, column, EXCHANGE_COLUMN_SERIAL);
}

/* '.' or ','; 0 lets the sheet decide. */
void
exchange_sheet_set_decimal_sign (ExchangeSheet *self, char decimal_sign)
{
  g_return_if_fail (decimal_sign == 0 || decimal_sign == '.' || decimal_sign == ',');
  self->set_decimal_sign = decimal_sign;
  exchange_sheet_understand (self);
}

void
exchange_sheet_set_again (ExchangeSheet *self, ExchangeAgain again)
{
  self->has_again = TRUE;
  self->set_again = again;
  exchange_sheet_understand (self);
}

const char *
exchange_column_role_label (ExchangeColumnRole role)
{
  static const char * const labels[] = {
    [EXCHANGE_COLUMN_LEFT_OUT] = N_("left out"), [EXCHANGE_COLUMN_SERIAL] = N_("serial"),
    [EXCHANGE_COLUMN_MEASURED] = N_("measured"), [EXCHANGE_COLUMN_CHECKED] = N_("checked"),
    [EXCHANGE_COLUMN_DATE] = N_("date"),         [EXCHANGE_COLUMN_PERSON] = N_("person"),
    [EXCHANGE_COLUMN_ATTEMPT] = N_("attempt"),   [EXCHANGE_COLUMN_REPEAT] = N_("repeat"),
    [EXCHANGE_COLUMN_REMARK] = N_("remark"),
  };

  G_STATIC_ASSERT (G_N_ELEMENTS (labels) == EXCHANGE_N_COLUMN_ROLES);
  return _(labels[role]);
}

const char *
exchange_row_role_label (ExchangeRowRole role)
{
  static const char *const labels[] = {
    [EXCHANGE_ROW_LEFT_OUT] = N_("left out"),
    [EXCHANGE_ROW_TITLE] = N_("title"),
    [EXCHANGE_ROW_GROUP] = N_("groups"),
    [EXCHANGE_ROW_NAME] = N_("names"),
    [EXCHANGE_ROW_CODE] = N_("codes"),
    [EXCHANGE_ROW_UNIT] = N_("units of measure"),
    [EXCHANGE_ROW_CLASS] = N_("classes"),
    [EXCHANGE_ROW_LIMITS] = N_("limits"),
    [EXCHANGE_ROW_NOMINAL] = N_("nominal values"),
    [EXCHANGE_ROW_LOWER] = N_("lower limits"),
    [EXCHANGE_ROW_UPPER] = N_("upper limits"),
    [EXCHANGE_ROW_DATA] = N_("readings"),
    [EXCHANGE_ROW_SUMMARY] = N_("summary"),
  };

  G_STATIC_ASSERT (G_N_ELEMENTS (labels) == EXCHANGE_N_ROW_ROLES);
  return _(labels[role]);
}
