/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Words by which sheets name their rows, columns and title lines, in English and German. */

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  EXCHANGE_WORD_NONE,
  EXCHANGE_WORD_NOMINAL,
  EXCHANGE_WORD_LOWER,
  EXCHANGE_WORD_UPPER,
  EXCHANGE_WORD_MIN, /* a lower limit above the readings, a summary below them */
  EXCHANGE_WORD_MAX,
  EXCHANGE_WORD_LIMITS,
  EXCHANGE_WORD_UNIT,
  EXCHANGE_WORD_CLASS,
  EXCHANGE_WORD_CODE,
  EXCHANGE_WORD_SUMMARY,
  EXCHANGE_WORD_SERIAL,
  EXCHANGE_WORD_RUNNING, /* a number that may be a serial where there is nothing better */
  EXCHANGE_WORD_DATE,
  EXCHANGE_WORD_PERSON,
  EXCHANGE_WORD_ATTEMPT,
  EXCHANGE_WORD_REPEAT,
  EXCHANGE_WORD_REMARK,
  EXCHANGE_WORD_VERDICT,
  EXCHANGE_WORD_LOT,
  EXCHANGE_WORD_MODEL,
  EXCHANGE_WORD_ROUND
} ExchangeWord;

ExchangeWord exchange_word_of_row (const char *text);
ExchangeWord exchange_word_of_column (const char *text);
ExchangeWord exchange_word_of_title (const char *text);

G_END_DECLS
