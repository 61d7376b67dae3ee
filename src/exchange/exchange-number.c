/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MOST_DIGITS 30

/* Spaces that people and spreadsheets put between digits or around them. */
static gsize
space_length (const char *text)
{
  static const char *const spaces[] = { " ",        "\t",           "\n",           "\r",
                                        "\xc2\xa0", "\xe2\x80\x89", "\xe2\x80\xaf", "\xe2\x80\x87" };

  for (guint i = 0; i < G_N_ELEMENTS (spaces); i++)
    if (g_str_has_prefix (text, spaces[i]))
      return strlen (spaces[i]);
  return 0;
}

const char *
exchange_text_skip_spaces (const char *text)
{
  gsize length;

  while ((length = space_length (text)) > 0)
    text += length;
  return text;
}

static gsize
count_digits (const char *text)
{
  gsize n = 0;

  while (g_ascii_isdigit (text[n]))
    n++;
  return n;
}

/* A group separator with exactly three digits after it: its length, else 0. */
static gsize
group_length (const char *text)
{
  gsize length = *text == '\'' ? 1 : space_length (text);

  if (g_str_has_prefix (text, "\xe2\x80\x99")) /* the typographic apostrophe */
    length = 3;
  return length > 0 && *text != '\n' && *text != '\t' && count_digits (text + length) == 3 ? length : 0;
}

typedef struct
{
  char     digits[MOST_DIGITS * 2 + 8]; /* what g_ascii_strtod() reads */
  guint    length;
  char     signs[MOST_DIGITS]; /* the points and commas, in order */
  gsize    after[MOST_DIGITS]; /* digits after each */
  guint    n_signs;
  gsize    first;              /* digits before the first sign */
} Scan;

static gboolean
append_digits (Scan *scan, const char **text)
{
  gsize n = count_digits (*text);

  if (scan->length + n > MOST_DIGITS)
    return FALSE;
  memcpy (scan->digits + scan->length, *text, n);
  scan->length += (guint) n;
  *text += n;
  return TRUE;
}

/* Which of the points and commas is the decimal one: its index, n_signs when all only group, G_MAXUINT for no number. */
static guint
choose_decimal (const Scan *scan, char decimal_sign, ExchangeNumber *number)
{
  guint last = scan->n_signs - 1;
  gboolean groups = scan->first >= 1 && scan->first <= 3;

  for (guint i = 0; i < last; i++)
    groups = groups && scan->after[i] == 3 && scan->signs[i] == scan->signs[0];
  if (scan->n_signs > 1 && !groups)
    return G_MAXUINT;
  if (scan->n_signs > 1 && scan->signs[last] == scan->signs[0])
    return scan->after[last] == 3 ? scan->n_signs : G_MAXUINT;
  if (scan->n_signs > 1)
    return last;
  if (scan->signs[0] == decimal_sign || scan->after[0] != 3 || !groups)
    return 0;
  number->is_doubtful = TRUE;
  return decimal_sign == 0 ? 0 : 1;
}

/**
 * exchange_number_scan:
 * @text: (inout): where the number is looked for; moved behind it on success
 * @decimal_sign: '.' or ',' where the sheet is known to use it, else 0
 * @number: (out): what was read
 *
 * Reads a number. Of two kinds of signs the last one is the decimal sign; a single one that is not the sheet's
 * own and has three digits after it groups thousands, and is marked doubtful.
 *
 * Returns: %FALSE when there is no number at @text
 */
gboolean
exchange_number_scan (const char **text, char decimal_sign, ExchangeNumber *number)
{
  Scan scan = { 0 };
  const char *p = *text;
  gboolean negative = FALSE;
  gsize length;
  guint decimal;

  memset (number, 0, sizeof *number);
  if (*p == '+' || *p == '-' || g_str_has_prefix (p, "\xe2\x88\x92"))
    {
      number->has_sign = TRUE;
      negative = *p != '+';
      p += g_str_has_prefix (p, "\xe2\x88\x92") ? 3 : 1;
    }
  scan.first = count_digits (p);
  if (!append_digits (&scan, &p) || (scan.first == 0 && !((*p == '.' || *p == ',') && g_ascii_isdigit (p[1]))))
    return FALSE;
  if (scan.first >= 1 && scan.first <= 3)
    while ((length = group_length (p)) > 0)
      {
        p += length;
        if (!append_digits (&scan, &p))
          return FALSE;
        number->is_grouped = TRUE;
      }
  while ((*p == '.' || *p == ',') && g_ascii_isdigit (p[1]) && scan.n_signs < MOST_DIGITS)
    {
      scan.signs[scan.n_signs] = *p++;
      scan.after[scan.n_signs++] = count_digits (p);
      if (!append_digits (&scan, &p))
        return FALSE;
    }
  if (scan.n_signs > 0)
    {
      decimal = choose_decimal (&scan, number->is_grouped ? scan.signs[scan.n_signs - 1] : decimal_sign, number);
      if (decimal == G_MAXUINT)
        return FALSE;
      if (decimal < scan.n_signs)
        {
          number->decimals = (guint) scan.after[decimal];
          number->decimal_sign = scan.signs[decimal];
          memmove (scan.digits + scan.length - number->decimals + 1, scan.digits + scan.length - number->decimals,
                   number->decimals);
          scan.digits[scan.length - number->decimals] = '.';
        }
      number->is_grouped |= scan.n_signs > 1 || decimal == scan.n_signs;
    }
  if ((*p == 'e' || *p == 'E') && (g_ascii_isdigit (p[1]) || ((p[1] == '+' || p[1] == '-') && g_ascii_isdigit (p[2]))))
    {
      char *end;
      g_autofree char *whole = g_strconcat (scan.digits, p, NULL);

      number->value = g_ascii_strtod (whole, &end);
      p += (gsize) (end - whole) - strlen (scan.digits);
    }
  else
    number->value = g_ascii_strtod (scan.digits, NULL);
  if (negative)
    number->value = -number->value;
  if (!isfinite (number->value))
    return FALSE;
  *text = p;
  return TRUE;
}

/**
 * exchange_number_round:
 * @value: a sum of written decimals
 * @decimals: how many decimals they were written with at most
 *
 * Takes away what binary adding left behind: 0.3 - 0.1 is 0.2, not 0.19999999999999998.
 *
 * Returns: the double nearest to @value written with @decimals decimals
 */
double
exchange_number_round (double value, guint decimals)
{
  char text[400];

  g_snprintf (text, sizeof text, "%.*f", (int) MIN (decimals, 30u),
              value); /* a double has at most 309 digits before the point */
  return g_ascii_strtod (text, NULL);
}

/*
 * Units of measure by their usual spellings (common practice, no source). A plain word counts as a unit also where
 * it stands at the end of a name without brackets; a letter such as A or m does not.
 */
static const struct
{
  const char *spelling;
  const char *unit;
  gboolean    plain_word;
} units[] = {
  { "N/mm²", "N/mm²", TRUE }, { "N/mm2", "N/mm²", TRUE }, { "N/mm", "N/mm", TRUE }, { "N·mm", "N·mm", TRUE },
  { "N·cm", "N·cm", TRUE },   { "Ncm", "N·cm", TRUE },    { "Nmm", "N·mm", TRUE },  { "N·m", "N·m", TRUE },
  { "N*m", "N·m", TRUE },     { "N.m", "N·m", TRUE },     { "N m", "N·m", TRUE },   { "Nm", "N·m", TRUE },
  { "kN", "kN", TRUE },       { "mN", "mN", TRUE },       { "N", "N", TRUE },       { "mm²", "mm²", TRUE },
  { "mm2", "mm²", TRUE },     { "mm/s", "mm/s", TRUE },   { "mm", "mm", TRUE },     { "cm", "cm", TRUE },
  { "µm", "µm", TRUE },       { "μm", "µm", TRUE },       { "um", "µm", TRUE },     { "inch", "in", TRUE },
  { "HRC", "HRC", TRUE },     { "HRA", "HRA", TRUE },     { "HRB", "HRB", TRUE },   { "HV10", "HV10", TRUE },
  { "HV1", "HV1", TRUE },     { "HV", "HV", TRUE },       { "HBW", "HBW", TRUE },   { "HB", "HB", TRUE },
  { "°C", "°C", TRUE },       { "°", "°", TRUE },         { "deg", "°", TRUE },     { "kg", "kg", TRUE },
  { "mg", "mg", TRUE },       { "g", "g", FALSE },        { "MPa", "MPa", TRUE },   { "GPa", "GPa", TRUE },
  { "kPa", "kPa", TRUE },     { "Pa", "Pa", FALSE },      { "bar", "bar", FALSE },  { "ms", "ms", FALSE },
  { "sec", "s", TRUE },       { "s", "s", FALSE },        { "h", "h", FALSE },      { "Hz", "Hz", TRUE },
  { "rpm", "1/min", TRUE },   { "1/min", "1/min", TRUE }, { "%", "%", TRUE },       { "‰", "‰", TRUE },
  { "mA", "mA", TRUE },       { "A", "A", FALSE },        { "mV", "mV", TRUE },     { "V", "V", FALSE },
  { "W", "W", FALSE },        { "mJ", "mJ", TRUE },       { "J", "J", FALSE },      { "K", "K", FALSE },
  { "dB", "dB", TRUE },       { "ml", "ml", TRUE },       { "l", "l", FALSE },      { "m", "m", FALSE },
  { "in", "in", FALSE },      { "cycles", "cycles", FALSE },
};

/**
 * exchange_unit_scan:
 * @text: (inout): where a unit is looked for; moved behind it on success
 *
 * Reads the longest unit of measure that stands at @text as a whole word.
 *
 * Returns: (transfer none) (nullable): the unit in the spelling the book keeps
 */
const char *
exchange_unit_scan (const char **text)
{
  gsize best = 0;
  const char *unit = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      gsize length = strlen (units[i].spelling);
      gunichar next;

      if (length <= best || strncmp (*text, units[i].spelling, length) != 0)
        continue;
      next = g_utf8_get_char (*text + length);
      if (g_unichar_isalnum (next) || next == 0xb2 || next == 0xb3 || next == 0xb7)
        continue;
      best = length;
      unit = units[i].unit;
    }
  *text += best;
  return unit;
}

/* Returns: (nullable): the unit that @text is as a whole */
const char *
exchange_unit_find (const char *text)
{
  const char *p = exchange_text_skip_spaces (text);
  const char *unit = exchange_unit_scan (&p);

  return *exchange_text_skip_spaces (p) == '\0' ? unit : NULL;
}

gboolean
exchange_unit_is_plain_word (const char *unit)
{
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (strcmp (units[i].unit, unit) == 0 && units[i].plain_word)
      return TRUE;
  return FALSE;
}
