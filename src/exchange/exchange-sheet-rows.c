/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each row of a sheet holds. See exchange-sheet-private.h for the method. */
#include "config.h"

#include "exchange-sheet-private.h"

#include "exchange-limit.h"
#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What the cells of one row look like. The first filled cell, mostly a serial or a word, is counted apart. */
typedef struct
{
  guint first;  /* its first filled cell; n_columns when empty */
  guint filled; /* all filled cells */
  guint rest;   /* filled cells behind the first */
  guint numbers, checks, limits, units, classes, texts; /* of the rest */
} Look;

static gboolean
is_limit_text (const ExchangeSheet *sheet, const char *text)
{
  ExchangeLimit limit;

  return exchange_limit_read (text, sheet->decimal_sign, &limit) && (!isnan (limit.lower) || !isnan (limit.upper));
}

static gboolean
is_unit_text (const char *text)
{
  g_autofree char *inner = exchange_text_without_brackets (text);

  return exchange_unit_find (inner) != NULL;
}

static Look
look_at (const ExchangeSheet *sheet, guint row)
{
  Look look = { .first = sheet->grid->n_columns };

  for (guint c = 0; c < sheet->grid->n_columns; c++)
    {
      const ExchangeCell *cell = exchange_sheet_cell (sheet, row, c);
      const char *text = exchange_sheet_text (sheet, row, c);

      if (*text == '\0')
        continue;
      look.filled++;
      if (look.first == sheet->grid->n_columns)
        {
          look.first = c;
          if (sheet->grid->n_columns > 1)
            continue;
        }
      look.rest++;
      if (is_limit_text (sheet, text))
        look.limits++;
      else if (exchange_cell_is_number (cell) || cell->kind == EXCHANGE_CELL_ABSENT)
        look.numbers++;
      else if (exchange_cell_is_check (cell))
        look.checks++;
      else if (is_unit_text (text))
        look.units++;
      else if (exchange_text_class (text) != NULL)
        look.classes++;
      else
        look.texts++;
    }
  return look;
}

/* Rows that hold readings, as far as one row alone can tell. */
static gboolean
may_be_data (const Look *look)
{
  guint values = look->numbers + look->checks;

  return values > 0 && values >= look->limits && values * 2 >= look->texts;
}

static gboolean
confirms (const Look *look, ExchangeWord word)
{
  switch (word)
    {
    case EXCHANGE_WORD_NOMINAL:
    case EXCHANGE_WORD_LOWER:
    case EXCHANGE_WORD_UPPER:
    case EXCHANGE_WORD_MIN:
    case EXCHANGE_WORD_MAX:
      return look->numbers + look->limits > 0 && look->numbers + look->limits >= look->texts;
    case EXCHANGE_WORD_LIMITS:
      return look->rest > 0;
    case EXCHANGE_WORD_UNIT:
      return look->units > 0 && look->units >= look->texts;
    case EXCHANGE_WORD_CLASS:
      return look->classes > 0;
    case EXCHANGE_WORD_CODE:
      return look->texts > 0;
    case EXCHANGE_WORD_SUMMARY:
      return look->texts <= look->numbers + look->checks;
    case EXCHANGE_WORD_NONE:
    case EXCHANGE_WORD_SERIAL:
    case EXCHANGE_WORD_RUNNING:
    case EXCHANGE_WORD_DATE:
    case EXCHANGE_WORD_PERSON:
    case EXCHANGE_WORD_ATTEMPT:
    case EXCHANGE_WORD_REPEAT:
    case EXCHANGE_WORD_REMARK:
    case EXCHANGE_WORD_VERDICT:
    case EXCHANGE_WORD_LOT:
    case EXCHANGE_WORD_MODEL:
    case EXCHANGE_WORD_ROUND:
      return FALSE;
    }
  return FALSE;
}

static ExchangeRowRole
role_of_word (ExchangeWord word, gboolean below)
{
  switch (word)
    {
    case EXCHANGE_WORD_NOMINAL:
      return EXCHANGE_ROW_NOMINAL;
    case EXCHANGE_WORD_LOWER:
      return EXCHANGE_ROW_LOWER;
    case EXCHANGE_WORD_UPPER:
      return EXCHANGE_ROW_UPPER;
    case EXCHANGE_WORD_MIN:
      return below ? EXCHANGE_ROW_SUMMARY : EXCHANGE_ROW_LOWER;
    case EXCHANGE_WORD_MAX:
      return below ? EXCHANGE_ROW_SUMMARY : EXCHANGE_ROW_UPPER;
    case EXCHANGE_WORD_LIMITS:
      return EXCHANGE_ROW_LIMITS;
    case EXCHANGE_WORD_UNIT:
      return EXCHANGE_ROW_UNIT;
    case EXCHANGE_WORD_CLASS:
      return EXCHANGE_ROW_CLASS;
    case EXCHANGE_WORD_CODE:
      return EXCHANGE_ROW_CODE;
    case EXCHANGE_WORD_NONE:
    case EXCHANGE_WORD_SUMMARY:
    case EXCHANGE_WORD_SERIAL:
    case EXCHANGE_WORD_RUNNING:
    case EXCHANGE_WORD_DATE:
    case EXCHANGE_WORD_PERSON:
    case EXCHANGE_WORD_ATTEMPT:
    case EXCHANGE_WORD_REPEAT:
    case EXCHANGE_WORD_REMARK:
    case EXCHANGE_WORD_VERDICT:
    case EXCHANGE_WORD_LOT:
    case EXCHANGE_WORD_MODEL:
    case EXCHANGE_WORD_ROUND:
      return EXCHANGE_ROW_SUMMARY;
    }
  return EXCHANGE_ROW_SUMMARY;
}

static void
set_role (ExchangeSheet *sheet, guint row, ExchangeRowRole role, const char *reason)
{
  sheet->rows[row].role = role;
  sheet->rows[row].reason = reason;
}

/* The word that names the row: in its first filled cell, or in the one beside it. */
static ExchangeWord
find_row_word (const ExchangeSheet *sheet, guint row, const Look *look)
{
  for (guint c = look->first; c < MIN (look->first + 3, sheet->grid->n_columns); c++)
    {
      ExchangeWord word = exchange_word_of_row (exchange_sheet_text (sheet, row, c));

      if (word != EXCHANGE_WORD_NONE && confirms (look, word))
        return word;
    }
  return EXCHANGE_WORD_NONE;
}

static gboolean
is_title_row (const ExchangeSheet *sheet, guint row, const Look *look)
{
  if (look->filled == 1 && look->first == 0)
    return TRUE;
  if (look->filled > 6 || look->first == sheet->grid->n_columns)
    return FALSE;
  return exchange_word_of_title (exchange_sheet_text (sheet, row, look->first)) != EXCHANGE_WORD_NONE && look->rest > 0
         && exchange_word_of_title (exchange_sheet_text (sheet, row, look->first)) != EXCHANGE_WORD_DATE
         && look->rest <= 3;
}

/* A row of short signs, one over every name. */
static gboolean
is_code_row (const ExchangeSheet *sheet, guint row, guint name_row, const Look *look)
{
  g_autoptr(GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  if (look->filled < 3)
    return FALSE;
  for (guint c = 1; c < sheet->grid->n_columns; c++)
    {
      const char *text = exchange_sheet_text (sheet, row, c);

      if (*text == '\0' && *exchange_sheet_text (sheet, name_row, c) != '\0' && c + 1 < sheet->grid->n_columns)
        return FALSE;
      if (*text != '\0'
          && (g_utf8_strlen (text, -1) > 6 || strchr (text, ' ') != NULL || !g_hash_table_add (seen, (gpointer) text)))
        return FALSE;
    }
  return TRUE;
}

/* Whether a row above could hold the names: a lone row of limits or units is itself the head. */
static gboolean
has_row_above (const ExchangeSheet *sheet, const Look *looks, int row)
{
  for (int r = row - 1; r >= 0; r--)
    {
      if (sheet->rows[r].is_set && sheet->rows[r].role == EXCHANGE_ROW_NAME)
        return TRUE;
      if (looks[r].filled == 0)
        return FALSE;
      if (sheet->rows[r].role == EXCHANGE_ROW_LEFT_OUT && !is_title_row (sheet, (guint) r, &looks[r]))
        return TRUE;
    }
  return FALSE;
}

/* The rows above the readings, from the lowest up: limits and units, the names, what stands over them, titles. */
static void
find_head (ExchangeSheet *sheet, const Look *looks, guint first_data)
{
  int name_row = -1;
  gboolean more;
  gboolean above = FALSE; /* an empty row was passed above the names */

  for (int r = (int) first_data - 1; r >= 0; r--)
    {
      const Look *look = &looks[r];

      if (sheet->rows[r].is_set || (sheet->rows[r].role != EXCHANGE_ROW_LEFT_OUT && look->filled > 0))
        {
          if (sheet->rows[r].role == EXCHANGE_ROW_NAME)
            name_row = r;
          continue;
        }
      more = name_row < 0 && has_row_above (sheet, looks, r);
      if (look->filled == 0)
        {
          above = above || name_row >= 0;
          set_role (sheet, (guint) r, EXCHANGE_ROW_LEFT_OUT, _("empty"));
        }
      else if (above || is_title_row (sheet, (guint) r, look))
        {
          set_role (sheet, (guint) r, EXCHANGE_ROW_TITLE, _("stands above the table"));
          above = above || name_row >= 0;
        }
      else if (more && look->limits > 0 && look->limits * 2 >= look->rest - look->numbers)
        set_role (sheet, (guint) r, EXCHANGE_ROW_LIMITS, _("its cells are limits"));
      else if (more && look->units > 0 && look->units * 2 >= look->rest)
        set_role (sheet, (guint) r, EXCHANGE_ROW_UNIT, _("its cells are units of measure"));
      else if (more && look->classes > 0 && look->classes * 2 >= look->rest)
        set_role (sheet, (guint) r, EXCHANGE_ROW_CLASS, _("its cells are classes"));
      else if (name_row < 0)
        {
          set_role (sheet, (guint) r, EXCHANGE_ROW_NAME, _("the last line of words above the readings"));
          name_row = r;
        }
      else if (is_code_row (sheet, (guint) r, (guint) name_row, look))
        {
          set_role (sheet, (guint) r, EXCHANGE_ROW_CODE, _("short signs, one over every name"));
          exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, r, -1,
                                 _("the short words above the names were taken for codes of the characteristics"));
        }
      else
        {
          set_role (sheet, (guint) r, EXCHANGE_ROW_GROUP, _("names above the names"));
          exchange_sheet_remark (
              sheet, EXCHANGE_REMARK_GUESS, r, -1,
              _("the words above the names were put before them, a blank continues the one on its left"));
        }
    }
  if (name_row < 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, -1, -1,
                           _("no line with names was found above the readings: name the columns"));
}

/* A first line such as `Nr;1;2;3` looks like readings; it is the head when it counts the columns. */
static gboolean
counts_columns (const ExchangeSheet *sheet, guint row, const Look *look)
{
  double last = 0.0;

  if (look->first != 0 || look->numbers < 2 || look->checks > 0
      || exchange_word_of_column (exchange_sheet_text (sheet, row, 0)) == EXCHANGE_WORD_NONE)
    return FALSE;
  for (guint c = 1; c < sheet->grid->n_columns; c++)
    {
      const ExchangeCell *cell = exchange_sheet_cell (sheet, row, c);

      if (!exchange_cell_is_number (cell))
        continue;
      if (cell->kind != EXCHANGE_CELL_NUMBER || cell->decimals > 0
          || (fabs (cell->value - last - 1.0) > 0.0 && fabs (cell->value - 1.0) > 0.0))
        return FALSE;
      last = cell->value;
    }
  return TRUE;
}

static gboolean
repeats_head (const ExchangeSheet *sheet, guint row)
{
  for (guint r = 0; r < row; r++)
    {
      gboolean same = sheet->rows[r].role == EXCHANGE_ROW_NAME;

      for (guint c = 0; c < sheet->grid->n_columns && same; c++)
        same = strcmp (exchange_sheet_text (sheet, r, c), exchange_sheet_text (sheet, row, c)) == 0;
      if (same)
        return TRUE;
    }
  return FALSE;
}

/* One text alone in its line that is no serial. */
static gboolean
is_footnote (const ExchangeSheet *sheet, guint row, const Look *look)
{
  if (look->filled != 1 || sheet->grid->n_columns == 1
      || exchange_sheet_cell (sheet, row, look->first)->kind != EXCHANGE_CELL_TEXT)
    return FALSE;
  return look->first > 0 || strchr (exchange_sheet_text (sheet, row, look->first), ' ') != NULL;
}

static void
find_below (ExchangeSheet *sheet, const Look *looks, guint first_data)
{
  for (guint r = first_data; r < sheet->grid->n_rows; r++)
    {
      const Look *look = &looks[r];
      ExchangeWord word;

      if (sheet->rows[r].is_set)
        continue;
      word = look->filled > 0 ? find_row_word (sheet, r, look) : EXCHANGE_WORD_NONE;
      if (look->filled == 0)
        set_role (sheet, r, EXCHANGE_ROW_LEFT_OUT, _("empty"));
      else if (word != EXCHANGE_WORD_NONE)
        {
          set_role (sheet, r, role_of_word (word, TRUE), _("named so in its first cell"));
          if (sheet->rows[r].role == EXCHANGE_ROW_SUMMARY)
            exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, (int) r, -1,
                                   _("this line sums up the others and is left out"));
        }
      else if (repeats_head (sheet, r))
        set_role (sheet, r, EXCHANGE_ROW_LEFT_OUT, _("repeats the head"));
      else if (is_footnote (sheet, r, look))
        {
          set_role (sheet, r, EXCHANGE_ROW_LEFT_OUT, _("one text alone"));
          exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, (int) r, (int) look->first,
                                 _("'%s' stands alone in its line and is not stored"),
                                 exchange_sheet_text (sheet, r, look->first));
        }
      else
        set_role (sheet, r, EXCHANGE_ROW_DATA, _("holds readings"));
    }
}

static void
find_first_data (ExchangeSheet *sheet, const Look *looks)
{
  sheet->first_data = -1;
  for (guint r = 0; r < sheet->grid->n_rows && sheet->first_data < 0; r++)
    {
      if (sheet->rows[r].is_set ? sheet->rows[r].role == EXCHANGE_ROW_DATA
                                : may_be_data (&looks[r]) && find_row_word (sheet, r, &looks[r]) == EXCHANGE_WORD_NONE
                                      && !is_title_row (sheet, r, &looks[r])
                                      && !(sheet->first_data < 0 && counts_columns (sheet, r, &looks[r])))
        sheet->first_data = (int) r;
    }
}

/**
 * exchange_sheet_find_rows:
 * @sheet: a sheet with its cells read
 *
 * Gives every row its role.
 */
void
exchange_sheet_find_rows (ExchangeSheet *sheet)
{
  guint n_rows = sheet->grid->n_rows;
  g_autofree Look *looks = g_new (Look, n_rows);
  guint first_data;

  for (guint r = 0; r < n_rows; r++)
    {
      looks[r] = look_at (sheet, r);
      if (sheet->row_settings[r].has_role)
        {
          set_role (sheet, r, sheet->row_settings[r].role, _("set by hand"));
          sheet->rows[r].is_set = TRUE;
        }
    }
  find_first_data (sheet, looks);
  first_data = sheet->first_data >= 0 ? (guint) sheet->first_data : n_rows;
  for (guint r = 0; r < first_data; r++)
    {
      ExchangeWord word = looks[r].filled > 0 ? find_row_word (sheet, r, &looks[r]) : EXCHANGE_WORD_NONE;

      if (!sheet->rows[r].is_set && word != EXCHANGE_WORD_NONE)
        set_role (sheet, r, role_of_word (word, FALSE), _("named so in its first cell"));
    }
  find_head (sheet, looks, first_data);
  find_below (sheet, looks, first_data);
  if (sheet->first_data < 0)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_PROBLEM, -1, -1, _("no line with readings was found"));
}
