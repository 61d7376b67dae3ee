/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each column of a sheet holds. See exchange-sheet-private.h for the method. */
#include "config.h"

#include "exchange-sheet-private.h"

#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What the cells of a column look like, over the rows of readings. */
typedef struct
{
  guint rows;
  guint filled;
  guint numbers;
  guint whole; /* numbers without decimals */
  guint checks;
  guint crosses;
  guint dates;
  guint texts;
  guint distinct;
} Look;

static gboolean
is_limit_row (ExchangeRowRole role)
{
  return role == EXCHANGE_ROW_LIMITS || role == EXCHANGE_ROW_NOMINAL || role == EXCHANGE_ROW_LOWER
         || role == EXCHANGE_ROW_UPPER;
}

static Look
look_at (const ExchangeSheet *sheet, guint column)
{
  Look look = { 0 };
  g_autoptr(GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      const ExchangeCell *cell = exchange_sheet_cell (sheet, r, column);
      const char *text = exchange_sheet_text (sheet, r, column);
      char iso[17];
      gboolean doubtful;

      if (sheet->rows[r].role != EXCHANGE_ROW_DATA)
        continue;
      look.rows++;
      if (cell->kind == EXCHANGE_CELL_EMPTY || cell->kind == EXCHANGE_CELL_ABSENT)
        continue;
      look.filled++;
      look.distinct += g_hash_table_add (seen, (gpointer) text);
      if (exchange_text_is_date (text, sheet->date_order, iso, &doubtful))
        look.dates++;
      else if (exchange_cell_is_number (cell))
        {
          look.numbers++;
          look.whole += cell->decimals == 0 && cell->kind == EXCHANGE_CELL_NUMBER;
        }
      else if (exchange_cell_is_check (cell))
        {
          look.checks++;
          look.crosses += cell->kind == EXCHANGE_CELL_CROSS;
        }
      else if (*text != '#') /* faults of a spreadsheet stand for a figure that could not be made */
        look.texts++;
    }
  return look;
}

/* The word a column's head is; the words of all its name rows are tried, the lowest first. */
static ExchangeWord
find_column_word (const ExchangeSheet *sheet, guint column)
{
  for (int r = (int) sheet->grid->n_rows - 1; r >= 0; r--)
    {
      ExchangeWord word;

      if (sheet->rows[r].role != EXCHANGE_ROW_NAME && sheet->rows[r].role != EXCHANGE_ROW_GROUP)
        continue;
      word = exchange_word_of_column (exchange_sheet_text (sheet, (guint) r, column));
      if (word != EXCHANGE_WORD_NONE)
        return word;
    }
  return EXCHANGE_WORD_NONE;
}

static gboolean
has_head (const ExchangeSheet *sheet, guint column, gboolean *has_limit)
{
  gboolean found = FALSE;

  *has_limit = FALSE;
  for (guint r = 0; r < sheet->grid->n_rows; r++)
    {
      if (*exchange_sheet_text (sheet, r, column) == '\0')
        continue;
      found = found || sheet->rows[r].role == EXCHANGE_ROW_NAME;
      *has_limit = *has_limit || is_limit_row (sheet->rows[r].role);
    }
  return found;
}

static void
set_role (ExchangeSheet *sheet, guint column, ExchangeColumnRole role, const char *reason)
{
  sheet->columns[column].role = role;
  sheet->columns[column].reason = reason;
}

static void
guess_serial (ExchangeSheet *sheet, guint column, const char *reason, const char *sentence)
{
  sheet->serial_column = (int) column;
  set_role (sheet, column, EXCHANGE_COLUMN_SERIAL, reason);
  if (sentence != NULL)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column, "%s", sentence);
}

static void
find_serial (ExchangeSheet *sheet, const Look *looks, const ExchangeWord *words)
{
  sheet->serial_column = -1;
  for (guint c = 0; c < sheet->grid->n_columns && sheet->serial_column < 0; c++)
    if (sheet->columns[c].is_set && sheet->columns[c].role == EXCHANGE_COLUMN_SERIAL)
      sheet->serial_column = (int) c;
  for (guint c = 0; c < sheet->grid->n_columns && sheet->serial_column < 0; c++)
    if (!sheet->columns[c].is_set && words[c] == EXCHANGE_WORD_SERIAL && looks[c].filled > 0)
      guess_serial (sheet, c, _("its head says so"), NULL);
  for (guint c = 0; c < sheet->grid->n_columns && sheet->serial_column < 0; c++)
    if (!sheet->columns[c].is_set && words[c] == EXCHANGE_WORD_RUNNING && looks[c].filled > 0)
      guess_serial (sheet, c, _("a number for each line"), _("the number of the line was taken for the serial"));
  for (guint c = 0; c < MIN (sheet->grid->n_columns, 3) && sheet->serial_column < 0; c++)
    {
      const Look *look = &looks[c];
      gboolean has_limit;
      gboolean named = has_head (sheet, c, &has_limit);

      if (sheet->columns[c].is_set || has_limit || words[c] != EXCHANGE_WORD_NONE || look->filled * 2 <= look->rows
          || look->dates * 2 > look->filled)
        continue;
      if (look->distinct == look->filled || look->texts * 2 > look->filled)
        {
          /* A named column of numbers is a characteristic; only texts or whole numbers without a name are serials. */
          if (look->texts * 2 > look->filled || (!named && look->whole == look->numbers && look->checks == 0))
            guess_serial (sheet, c, _("different in each line"), _("this column was taken for the serials"));
        }
    }
  if (sheet->serial_column < 0 && sheet->first_data >= 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, -1,
                           _("no column with serials was found: the units are numbered in the order of their lines"));
}

static gboolean
role_by_word (ExchangeSheet *sheet, guint column, ExchangeWord word, const Look *look)
{
  switch (word)
    {
    case EXCHANGE_WORD_DATE:
      set_role (sheet, column, EXCHANGE_COLUMN_DATE, _("its head says so"));
      return TRUE;
    case EXCHANGE_WORD_PERSON:
      set_role (sheet, column, EXCHANGE_COLUMN_PERSON, _("its head says so"));
      return TRUE;
    case EXCHANGE_WORD_REMARK:
      set_role (sheet, column, EXCHANGE_COLUMN_REMARK, _("its head says so"));
      return TRUE;
    case EXCHANGE_WORD_ATTEMPT:
    case EXCHANGE_WORD_REPEAT:
      if (look->whole < look->filled)
        return FALSE;
      set_role (sheet, column, word == EXCHANGE_WORD_ATTEMPT ? EXCHANGE_COLUMN_ATTEMPT : EXCHANGE_COLUMN_REPEAT,
                _("its head says so"));
      return TRUE;
    case EXCHANGE_WORD_VERDICT:
      set_role (sheet, column, EXCHANGE_COLUMN_LEFT_OUT, _("sums up the line"));
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                             _("this column sums up the others and is left out"));
      return TRUE;
    case EXCHANGE_WORD_LOT:
      set_role (sheet, column, EXCHANGE_COLUMN_LEFT_OUT, _("what was built in has its own place"));
      exchange_sheet_remark (
          sheet, EXCHANGE_REMARK_PROBLEM, -1, (int) column,
          _("what was built into the units is not stored from a sheet: import it as unit_part.csv"));
      return TRUE;
    case EXCHANGE_WORD_SERIAL:
    case EXCHANGE_WORD_RUNNING:
      set_role (sheet, column, EXCHANGE_COLUMN_LEFT_OUT, _("another column holds the serials"));
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                             _("another column holds the serials, this one is left out"));
      return TRUE;
    case EXCHANGE_WORD_NONE:
    case EXCHANGE_WORD_NOMINAL:
    case EXCHANGE_WORD_LOWER:
    case EXCHANGE_WORD_UPPER:
    case EXCHANGE_WORD_MIN:
    case EXCHANGE_WORD_MAX:
    case EXCHANGE_WORD_LIMITS:
    case EXCHANGE_WORD_UNIT:
    case EXCHANGE_WORD_CLASS:
    case EXCHANGE_WORD_CODE:
    case EXCHANGE_WORD_SUMMARY:
    case EXCHANGE_WORD_MODEL:
    case EXCHANGE_WORD_ROUND:
      return FALSE;
    }
  return FALSE;
}

static void
role_by_cells (ExchangeSheet *sheet, guint column, const Look *look)
{
  gboolean has_limit;
  gboolean named = has_head (sheet, column, &has_limit);

  if (look->filled == 0)
    {
      if (has_limit)
        set_role (sheet, column, EXCHANGE_COLUMN_MEASURED, _("has limits, but no value yet"));
      else
        {
          set_role (sheet, column, EXCHANGE_COLUMN_LEFT_OUT, _("empty"));
          if (named)
            exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                                   _("nothing was measured here, so the column is left out"));
        }
    }
  else if (look->dates * 2 > look->filled)
    {
      set_role (sheet, column, EXCHANGE_COLUMN_DATE, _("its cells are dates"));
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                             _("the dates in it were taken for the day of measuring"));
    }
  else if (look->checks > look->numbers && look->checks >= look->texts)
    set_role (sheet, column, EXCHANGE_COLUMN_CHECKED, _("its cells are outcomes of a check"));
  else if (look->numbers > 0 && look->numbers >= look->texts)
    set_role (sheet, column, EXCHANGE_COLUMN_MEASURED, _("its cells are numbers"));
  else
    {
      set_role (sheet, column, EXCHANGE_COLUMN_REMARK, _("its cells are words"));
      exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                             _("the words in it were taken for remarks on the units"));
    }
}

static void
check_crosses (ExchangeSheet *sheet, guint column, const Look *look)
{
  if (sheet->columns[column].role != EXCHANGE_COLUMN_CHECKED || look->crosses == 0)
    return;
  if (look->crosses == look->checks)
    exchange_sheet_remark (
        sheet, EXCHANGE_REMARK_PROBLEM, -1, (int) column,
        _("there is only 'x' in it, which was taken for passed: write ok or nok if it means failed"));
  else
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, -1, (int) column,
                           _("'x' beside other signs was taken for failed"));
}

/**
 * exchange_sheet_find_columns:
 * @sheet: a sheet whose rows have their roles
 *
 * Gives every column its role.
 */
void
exchange_sheet_find_columns (ExchangeSheet *sheet)
{
  guint n_columns = sheet->grid->n_columns;
  g_autofree Look *looks = g_new (Look, n_columns);
  g_autofree ExchangeWord *words = g_new (ExchangeWord, n_columns);

  for (guint c = 0; c < n_columns; c++)
    {
      looks[c] = look_at (sheet, c);
      words[c] = find_column_word (sheet, c);
      if (sheet->column_settings[c].has_role)
        {
          set_role (sheet, c, sheet->column_settings[c].role, _("set by hand"));
          sheet->columns[c].is_set = TRUE;
        }
    }
  find_serial (sheet, looks, words);
  for (guint c = 0; c < n_columns; c++)
    {
      if (!sheet->columns[c].is_set && (int) c != sheet->serial_column && !role_by_word (sheet, c, words[c], &looks[c]))
        role_by_cells (sheet, c, &looks[c]);
      check_crosses (sheet, c, &looks[c]);
    }
}
