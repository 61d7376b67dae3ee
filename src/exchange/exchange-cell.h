/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One cell of a measuring sheet: a value, a check, a date, or something that is none of these. */

#include <glib.h>

G_BEGIN_DECLS

/**
 * ExchangeCellKind:
 * @EXCHANGE_CELL_EMPTY: nothing
 * @EXCHANGE_CELL_ABSENT: a sign that nothing was measured: a dash, `n/a`
 * @EXCHANGE_CELL_NUMBER: a value
 * @EXCHANGE_CELL_ABOVE: `> 40`: more than the value
 * @EXCHANGE_CELL_BELOW: `< 0.02`: less than the value
 * @EXCHANGE_CELL_PASSED: `ok`
 * @EXCHANGE_CELL_FAILED: `nok`
 * @EXCHANGE_CELL_CROSS: `x`, which some write for passed and some for failed
 * @EXCHANGE_CELL_TEXT: none of these
 */
typedef enum
{
  EXCHANGE_CELL_EMPTY,
  EXCHANGE_CELL_ABSENT,
  EXCHANGE_CELL_NUMBER,
  EXCHANGE_CELL_ABOVE,
  EXCHANGE_CELL_BELOW,
  EXCHANGE_CELL_PASSED,
  EXCHANGE_CELL_FAILED,
  EXCHANGE_CELL_CROSS,
  EXCHANGE_CELL_TEXT
} ExchangeCellKind;

/**
 * ExchangeCell:
 * @kind: what it is
 * @value: of the three kinds of numbers
 * @decimals: digits after the decimal sign
 * @decimal_sign: '.', ',' or 0
 * @is_doubtful: the number could be read another way
 * @unit: (nullable): unit written beside the number, static
 * @note: (nullable): what stands beside the value, within the cell's text
 * @note_length: its bytes
 */
typedef struct
{
  ExchangeCellKind kind;
  double           value;
  guint            decimals;
  char             decimal_sign;
  gboolean         is_doubtful;
  const char      *unit;
  const char      *note;
  gsize            note_length;
} ExchangeCell;

void     exchange_cell_read (const char *text, char decimal_sign, ExchangeCell *cell);
gboolean exchange_cell_is_number (const ExchangeCell *cell);
gboolean exchange_cell_is_check (const ExchangeCell *cell);

/**
 * ExchangeDateOrder:
 * @EXCHANGE_DATE_DAY_FIRST: 3.4.2025 is the third of April
 * @EXCHANGE_DATE_MONTH_FIRST: 3/4/2025 is the fourth of March
 */
typedef enum
{
  EXCHANGE_DATE_DAY_FIRST,
  EXCHANGE_DATE_MONTH_FIRST
} ExchangeDateOrder;

gboolean exchange_date_scan (const char **text, ExchangeDateOrder order, char iso[17], gboolean *is_doubtful);

G_END_DECLS
