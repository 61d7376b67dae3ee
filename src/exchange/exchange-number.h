/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Numbers and units of measure as people write them in a measuring sheet: decimal point or comma, thousands in
 * groups, a typographic minus. A CSV file for the importer is stricter; this is for sheets alone.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * ExchangeNumber:
 * @value: the number, finite
 * @decimals: digits after the decimal sign
 * @decimal_sign: '.' or ',' where it was written with one, else 0
 * @is_grouped: thousands were written in groups
 * @is_doubtful: read one way although it could be read another (`1,234`)
 * @has_sign: a plus or minus stands before it
 */
typedef struct
{
  double   value;
  guint    decimals;
  char     decimal_sign;
  gboolean is_grouped;
  gboolean is_doubtful;
  gboolean has_sign;
} ExchangeNumber;

gboolean    exchange_number_scan (const char **text, char decimal_sign, ExchangeNumber *number);
double      exchange_number_round (double value, guint decimals);
const char *exchange_unit_scan (const char **text);
const char *exchange_unit_find (const char *text);
gboolean    exchange_unit_is_plain_word (const char *unit);
/* Behind the spaces at @text, those of typesetters and spreadsheets too. */
const char *exchange_text_skip_spaces (const char *text);

G_END_DECLS
