/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Method. A limit is tried at one place of the text at a time, by forms in this order: comparators before a number;
 * a number and then ±, signed tolerances, a range, a comparator behind. Each form that fails leaves the text
 * untouched. exchange_head_read() takes bracketed parts out first, then looks for the first place where a form fits.
 */
#include "config.h"

#include "exchange-limit.h"

#include "book-number.h"
#include "exchange-number.h"

#include <math.h>
#include <string.h>

typedef enum
{
  SIDE_NONE,
  SIDE_LOWER,
  SIDE_UPPER
} Side;

static const struct
{
  const char *text;
  Side        side;
  gboolean    is_word;
} comparators[] = {
  { ">=", SIDE_LOWER, FALSE },      { "=>", SIDE_LOWER, FALSE },       { "≥", SIDE_LOWER, FALSE },
  { ">", SIDE_LOWER, FALSE },       { "<=", SIDE_UPPER, FALSE },       { "=<", SIDE_UPPER, FALSE },
  { "≤", SIDE_UPPER, FALSE },       { "<", SIDE_UPPER, FALSE },        { "minimum", SIDE_LOWER, TRUE },
  { "min.", SIDE_LOWER, FALSE },    { "min", SIDE_LOWER, TRUE },       { "mindestens", SIDE_LOWER, TRUE },
  { "mind.", SIDE_LOWER, FALSE },   { "at least", SIDE_LOWER, TRUE },  { "maximum", SIDE_UPPER, TRUE },
  { "max.", SIDE_UPPER, FALSE },    { "max", SIDE_UPPER, TRUE },       { "at most", SIDE_UPPER, TRUE },
  { "höchstens", SIDE_UPPER, TRUE }, { "up to", SIDE_UPPER, TRUE },    { "no more than", SIDE_UPPER, TRUE },
  { "not less than", SIDE_LOWER, TRUE }, { "LSL", SIDE_LOWER, TRUE },  { "USL", SIDE_UPPER, TRUE },
};

/* Returns: whether @word stands at *text, the case of ASCII letters aside; moves behind it */
static gboolean
scan_word (const char **text, const char *word, gboolean whole_word)
{
  gsize length = strlen (word);

  if (g_ascii_strncasecmp (*text, word, length) != 0)
    return FALSE;
  if (whole_word && g_unichar_isalpha (g_utf8_get_char (*text + length)))
    return FALSE;
  *text += length;
  return TRUE;
}

static Side
scan_comparator (const char **text)
{
  for (guint i = 0; i < G_N_ELEMENTS (comparators); i++)
    if (scan_word (text, comparators[i].text, comparators[i].is_word))
      return comparators[i].side;
  return SIDE_NONE;
}

void
exchange_limit_init (ExchangeLimit *limit)
{
  memset (limit, 0, sizeof *limit);
  limit->nominal = NAN;
  limit->lower = NAN;
  limit->upper = NAN;
}

/* A number and the unit behind it, if one is there. */
static gboolean
scan_quantity (const char **text, char decimal_sign, ExchangeLimit *limit, ExchangeNumber *number)
{
  const char *p = exchange_text_skip_spaces (*text);
  const char *behind;
  const char *unit;

  if (!exchange_number_scan (&p, decimal_sign, number))
    return FALSE;
  limit->decimals = MAX (limit->decimals, number->decimals);
  limit->is_doubtful |= number->is_doubtful;
  behind = exchange_text_skip_spaces (p);
  unit = exchange_unit_scan (&behind);
  if (unit != NULL)
    {
      if (limit->unit == NULL)
        limit->unit = unit;
      p = behind;
    }
  *text = p;
  return TRUE;
}

static void
set_side (ExchangeLimit *limit, Side side, double value)
{
  if (side == SIDE_LOWER)
    limit->lower = value;
  else
    limit->upper = value;
}

/* `max 5`, `≥ 30 N`, `min. 1.8 max. 2.2` */
static gboolean
scan_compared (const char **text, char decimal_sign, ExchangeLimit *limit)
{
  const char *p = *text;
  Side first = SIDE_NONE;

  for (guint i = 0; i < 2; i++)
    {
      const char *q = p;
      ExchangeNumber number;
      Side side;

      q = exchange_text_skip_spaces (q);
      if (i > 0 && (*q == ',' || *q == ';' || *q == '/'))
        q = exchange_text_skip_spaces (q + 1);
      side = scan_comparator (&q);
      if (side == SIDE_NONE || side == first)
        break;
      q = exchange_text_skip_spaces (q);
      if (*q == ':' || *q == '=')
        q++;
      if (!scan_quantity (&q, decimal_sign, limit, &number))
        break;
      set_side (limit, side, number.value);
      if (first == SIDE_NONE)
        first = side;
      p = q;
    }
  if (first == SIDE_NONE)
    return FALSE;
  *text = p;
  return TRUE;
}

/* `12.5 ±0.1`, `12.5 ± 1 %` */
static gboolean
scan_plus_minus (const char **text, char decimal_sign, const ExchangeNumber *nominal, ExchangeLimit *limit)
{
  static const char * const signs[] = { "±", "+/-", "+-", "-/+", "+ / -", "+/−" };
  const char *p = exchange_text_skip_spaces (*text);
  const char *percent;
  ExchangeNumber number;
  double width;

  if (*p == '(')
    p = exchange_text_skip_spaces (p + 1);
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (p, signs[i]))
      {
        p = exchange_text_skip_spaces (p + strlen (signs[i]));
        if (!exchange_number_scan (&p, decimal_sign, &number) || number.has_sign)
          return FALSE;
        limit->decimals = MAX (limit->decimals, number.decimals);
        percent = exchange_text_skip_spaces (p);
        width = number.value;
        if (*percent == '%' && (limit->unit == NULL || strcmp (limit->unit, "%") != 0))
          {
            width = fabs (nominal->value) * number.value / 100.0;
            limit->decimals = MIN (nominal->decimals + number.decimals + 2, 12);
            p = percent + 1;
          }
        else if (limit->unit == NULL)
          limit->unit = exchange_unit_scan (&percent);
        else
          exchange_unit_scan (&percent);
        p = MAX (p, percent);
        limit->nominal = nominal->value;
        limit->lower = exchange_number_round (nominal->value - width, limit->decimals);
        limit->upper = exchange_number_round (nominal->value + width, limit->decimals);
        *text = p;
        return TRUE;
      }
  return FALSE;
}

/* `+0.2`, `-0,1`, `0`: one side of a tolerance, with its unit if it has one */
static gboolean
scan_signed (const char **text, char decimal_sign, const char **unit, ExchangeNumber *number)
{
  const char *p = exchange_text_skip_spaces (*text);
  const char *behind;
  const char *found;

  if (!exchange_number_scan (&p, decimal_sign, number) || (!number->has_sign && fabs (number->value) > 0.0))
    return FALSE;
  behind = exchange_text_skip_spaces (p);
  found = exchange_unit_scan (&behind);
  if (found != NULL)
    {
      *unit = found;
      p = behind;
    }
  *text = p;
  return TRUE;
}

/* `12.5 +0.2/-0.1`, `12.5 (+0.2 -0.1)`, `12.5 -0.1/0` */
static gboolean
scan_two_tolerances (const char **text, char decimal_sign, const ExchangeNumber *nominal, ExchangeLimit *limit)
{
  const char *p = exchange_text_skip_spaces (*text);
  ExchangeNumber first;
  ExchangeNumber second;
  gboolean bracket = *p == '(';
  const char *unit = limit->unit;
  guint decimals = limit->decimals;

  p += bracket ? 1 : 0;
  if (!scan_signed (&p, decimal_sign, &unit, &first))
    return FALSE;
  p = exchange_text_skip_spaces (p);
  if (*p == '/' || *p == ';' || *p == ',' || *p == '|')
    p++;
  if (!scan_signed (&p, decimal_sign, &unit, &second) || !(first.has_sign || second.has_sign))
    return FALSE;
  if (bracket)
    {
      p = exchange_text_skip_spaces (p);
      if (*p != ')')
        return FALSE;
      p++;
    }
  /* `12.4-12.6-12.8` are three numbers, not a value with two tolerances below it. */
  if (first.value * second.value > 0.0 && fabs (first.value) > fabs (nominal->value) / 2)
    return FALSE;
  limit->unit = limit->unit != NULL ? limit->unit : unit;
  limit->decimals = MAX (decimals, MAX (first.decimals, second.decimals));
  limit->nominal = nominal->value;
  limit->lower = exchange_number_round (nominal->value + MIN (first.value, second.value), limit->decimals);
  limit->upper = exchange_number_round (nominal->value + MAX (first.value, second.value), limit->decimals);
  *text = p;
  return TRUE;
}

static gboolean
scan_range_sign (const char **text, gboolean *hyphen)
{
  static const char * const signs[] = { "...", "..", "…", "–", "—", "−", "-", "~", "÷" };
  static const char * const words[] = { "to", "bis", "and", "und", "à" };

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (scan_word (text, signs[i], FALSE))
      {
        *hyphen = signs[i][0] == '-';
        return TRUE;
      }
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (scan_word (text, words[i], TRUE))
      return TRUE;
  return FALSE;
}

/* `12.4-12.6`, `12.4 … 12.6`; and `12.5 +0.2`, which is one side of a tolerance */
static gboolean
scan_range (const char **text, char decimal_sign, const ExchangeNumber *first, ExchangeLimit *limit)
{
  const char *p = exchange_text_skip_spaces (*text);
  ExchangeLimit read = *limit;
  ExchangeNumber second;
  gboolean hyphen = FALSE;

  if (*p == '+')
    {
      if (!scan_quantity (&p, decimal_sign, &read, &second))
        return FALSE;
      read.nominal = read.lower = first->value;
      read.upper = exchange_number_round (first->value + second.value, read.decimals);
      *limit = read;
      *text = p;
      return TRUE;
    }
  if (!scan_range_sign (&p, &hyphen) || !scan_quantity (&p, decimal_sign, &read, &second))
    return FALSE;
  read.lower = MIN (first->value, second.value);
  read.upper = MAX (first->value, second.value);
  read.is_turned = second.value < first->value;
  if (read.is_turned && hyphen && !second.has_sign && second.value <= fabs (first->value) / 2)
    {
      read.is_turned = FALSE;
      read.nominal = read.upper = first->value;
      read.lower = exchange_number_round (first->value - second.value, read.decimals);
    }
  read.is_weak = hyphen && read.unit == NULL && read.decimals == 0;
  *limit = read;
  *text = p;
  return TRUE;
}

/* `12.4 ≤ x ≤ 12.6` and `5 max`; a letter stands for the value */
static gboolean
scan_behind (const char **text, char decimal_sign, const ExchangeNumber *first, ExchangeLimit *limit)
{
  const char *p = exchange_text_skip_spaces (*text);
  ExchangeLimit read = *limit;
  ExchangeNumber second;
  gboolean is_word = g_ascii_isalpha (*p);
  Side side = scan_comparator (&p);

  if (side == SIDE_NONE)
    return FALSE;
  if (is_word)
    {
      const char *q = exchange_text_skip_spaces (p);

      if (g_ascii_isdigit (*q))
        return FALSE; /* the comparator belongs to what follows */
      set_side (limit, side, first->value);
      *text = p;
      return TRUE;
    }
  p = exchange_text_skip_spaces (p);
  if (!g_unichar_isalpha (g_utf8_get_char (p)))
    return FALSE;
  while (g_unichar_isalpha (g_utf8_get_char (p)))
    p = g_utf8_next_char (p);
  p = exchange_text_skip_spaces (p);
  if (scan_comparator (&p) != side || !scan_quantity (&p, decimal_sign, &read, &second))
    return FALSE;
  read.lower = MIN (first->value, second.value);
  read.upper = MAX (first->value, second.value);
  *limit = read;
  *text = p;
  return TRUE;
}

/**
 * exchange_limit_scan:
 * @text: (inout): where a limit is looked for; moved behind it on success
 * @decimal_sign: '.' or ',' where the sheet is known to use it, else 0
 * @limit: (out): what was read
 *
 * Reads a limit that stands at @text. A bare number is none.
 *
 * Returns: whether there is one
 */
gboolean
exchange_limit_scan (const char **text, char decimal_sign, ExchangeLimit *limit)
{
  const char *p = *text;
  ExchangeNumber number;
  gboolean found;

  exchange_limit_init (limit);
  if (scan_compared (&p, decimal_sign, limit))
    {
      *text = p;
      return TRUE;
    }
  exchange_limit_init (limit);
  p = *text;
  if (!scan_quantity (&p, decimal_sign, limit, &number))
    return FALSE;
  found = scan_plus_minus (&p, decimal_sign, &number, limit) || scan_two_tolerances (&p, decimal_sign, &number, limit)
          || scan_range (&p, decimal_sign, &number, limit) || scan_behind (&p, decimal_sign, &number, limit);
  if (!found)
    {
      exchange_limit_init (limit);
      return FALSE;
    }
  *text = p;
  return TRUE;
}

static const char *
skip_opening (const char *text)
{
  const char *p = exchange_text_skip_spaces (text);

  return *p == '[' || *p == '(' || *p == '{' ? exchange_text_skip_spaces (p + 1) : p;
}

static gboolean
ends_here (const char *text)
{
  const char *p = exchange_text_skip_spaces (text);

  if (*p == ']' || *p == ')' || *p == '}')
    p = exchange_text_skip_spaces (p + 1);
  return *p == '\0';
}

/**
 * exchange_limit_read:
 * @text: a whole cell that is to hold limits
 * @decimal_sign: '.' or ',' where the sheet is known to use it, else 0
 * @limit: (out): what was read
 *
 * Reads a cell that holds limits and nothing else; `1.8; 2.2` and `1.8/2.2` are then a range, and a bare number is
 * the nominal value.
 *
 * Returns: %FALSE when something in it is not understood
 */
gboolean
exchange_limit_read (const char *text, char decimal_sign, ExchangeLimit *limit)
{
  const char *p = skip_opening (text);
  const char *start = p;
  ExchangeNumber first;
  ExchangeNumber second;

  if (exchange_limit_scan (&p, decimal_sign, limit))
    {
      const char *behind = exchange_text_skip_spaces (p);
      const char *unit = exchange_unit_scan (&behind);

      if (limit->unit == NULL)
        limit->unit = unit;
      return ends_here (behind);
    }
  exchange_limit_init (limit);
  p = start;
  if (!scan_quantity (&p, decimal_sign, limit, &first))
    return FALSE;
  limit->nominal = first.value;
  if (ends_here (p))
    return TRUE;
  p = exchange_text_skip_spaces (p);
  if ((*p != ';' && *p != '/' && *p != '|' && *p != ',') || (p++, !scan_quantity (&p, decimal_sign, limit, &second)))
    return FALSE;
  limit->nominal = NAN;
  limit->lower = MIN (first.value, second.value);
  limit->upper = MAX (first.value, second.value);
  limit->is_turned = second.value < first.value;
  return ends_here (p);
}

/* ---- writing ---- */

/* As exchange_limit_read() takes it with that sign. */
static char *
write_number (double value, char decimal_sign)
{
  char *text = book_number_dup (value);

  return decimal_sign == ',' ? g_strdelimit (text, ".", ',') : text;
}

/* How far a limit lies from the value aimed at, without the noise of the difference. */
static char *
write_deviation (double limit, double nominal, gboolean with_sign, char decimal_sign)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double deviation = limit - nominal;

  if (!(fabs (deviation) > 0.0))
    return g_strdup ("0");
  g_ascii_formatd (text, sizeof text, with_sign ? "%+.12g" : "%.12g", deviation);
  if (decimal_sign == ',')
    g_strdelimit (text, ".", ',');
  return g_strdup (text);
}

static gboolean
is_same (double a, double b)
{
  return isnan (a) ? isnan (b) : !isnan (b) && !(a < b) && !(a > b);
}

/* The same value aimed at and the same limits, to the bit. */
static gboolean
reads_back (const char *text, double nominal, double lower, double upper, char decimal_sign)
{
  ExchangeLimit limit;

  return exchange_limit_read (text, decimal_sign, &limit) && is_same (limit.nominal, nominal) && is_same (limit.lower, lower)
         && is_same (limit.upper, upper);
}

/* NULL where neither form says exactly these three. */
static char *
write_tolerance (double nominal, double lower, double upper, char decimal_sign)
{
  g_autofree char *aim = write_number (nominal, decimal_sign);
  g_autofree char *width = write_deviation (upper, nominal, FALSE, decimal_sign);
  g_autofree char *above = write_deviation (upper, nominal, TRUE, decimal_sign);
  g_autofree char *below = write_deviation (lower, nominal, TRUE, decimal_sign);
  g_autofree char *even = g_strdup_printf ("%s ±%s", aim, width);
  g_autofree char *two = g_strdup_printf ("%s %s/%s", aim, above, below);

  if (reads_back (even, nominal, lower, upper, decimal_sign))
    return g_steal_pointer (&even);
  return reads_back (two, nominal, lower, upper, decimal_sign) ? g_steal_pointer (&two) : NULL;
}

/**
 * exchange_limit_write:
 * @nominal: the value aimed at, NAN for none
 * @lower: NAN for none
 * @upper: NAN for none
 * @decimal_sign: ',' to write a comma; else a point
 *
 * `12.5 ±0.1`, `12.5 +0.2/-0.1`, `12.4 … 12.6`, `≥ 30`, `≤ 5`, or the value aimed at alone. A value aimed at beside a single
 * limit has no notation and is left out.
 *
 * Returns: (transfer full): what exchange_limit_read() reads as the same; "" for nothing
 */
char *
exchange_limit_write (double nominal, double lower, double upper, char decimal_sign)
{
  g_autofree char *least = isnan (lower) ? NULL : write_number (lower, decimal_sign);
  g_autofree char *most = isnan (upper) ? NULL : write_number (upper, decimal_sign);
  char *tolerance = NULL;

  if (least != NULL && most != NULL)
    {
      if (!isnan (nominal))
        tolerance = write_tolerance (nominal, lower, upper, decimal_sign);
      return tolerance != NULL ? tolerance : g_strdup_printf ("%s … %s", least, most);
    }
  if (least != NULL)
    return g_strdup_printf ("≥ %s", least);
  if (most != NULL)
    return g_strdup_printf ("≤ %s", most);
  return isnan (nominal) ? g_strdup ("") : write_number (nominal, decimal_sign);
}
