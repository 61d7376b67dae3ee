/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Limits as people write them: `12.5 ±0.1`, `12,5 +0,2/-0,1`, `12.4 … 12.6`, `max 5`, `≥ 30 N`; and the head cell of
 * a column, which may hold name, unit and limits at once.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * ExchangeLimit:
 * @nominal: the value aimed at, NAN where none is written
 * @lower: the least that conforms, NAN where there is none
 * @upper: the most that conforms, NAN where there is none
 * @decimals: the most decimals any of them was written with
 * @unit: (nullable): unit of measure, static
 * @is_weak: two plain whole numbers with a hyphen between them, which may be part of a name
 * @is_turned: written with the larger number first
 * @is_doubtful: a number in it could be read another way
 */
typedef struct
{
  double      nominal;
  double      lower;
  double      upper;
  guint       decimals;
  const char *unit;
  gboolean    is_weak;
  gboolean    is_turned;
  gboolean    is_doubtful;
} ExchangeLimit;

/**
 * ExchangeHead:
 * @name: what remains when unit and limits are taken out; may be empty
 * @plain_name: the name with a weak limit left in it
 * @unit: (nullable): unit of measure, static
 * @unit_is_guess: the unit stood without brackets
 * @has_limit: @limit was found
 * @limit: the limit
 * @limit_text: (nullable): the limit as it was written
 */
typedef struct
{
  char         *name;
  char         *plain_name;
  const char   *unit;
  gboolean      unit_is_guess;
  gboolean      has_limit;
  ExchangeLimit limit;
  char         *limit_text;
} ExchangeHead;

void     exchange_limit_init (ExchangeLimit *limit);
gboolean exchange_limit_scan (const char **text, char decimal_sign, ExchangeLimit *limit);
gboolean exchange_limit_read (const char *text, char decimal_sign, ExchangeLimit *limit);
char    *exchange_limit_write (double nominal, double lower, double upper, char decimal_sign) G_GNUC_WARN_UNUSED_RESULT;

void exchange_head_read (const char *text, char decimal_sign, ExchangeHead *head);
void exchange_head_clear (ExchangeHead *head);

G_END_DECLS
