/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-number.h"

#include <math.h>
#include <string.h>

#define NUMBER_MOST 64 /* characters; no sensible number is longer */

/* A number as it is written. */
typedef struct
{
  guint64  mantissa; /* its first 18 digits, without the decimal sign */
  guint    digits;
  guint    decimals;
  gboolean exponent;
} Written;

/* Whether an exponent, or nothing, follows at @i. */
static gboolean
scan_exponent (const char *text, gsize length, gsize i, Written *written)
{
  if (i == length)
    return TRUE;
  if (text[i] != 'e' && text[i] != 'E')
    return FALSE;
  written->exponent = TRUE;
  i++;
  if (i < length && (text[i] == '-' || text[i] == '+'))
    i++;
  if (i == length)
    return FALSE;
  for (; i < length; i++)
    if (!g_ascii_isdigit (text[i]))
      return FALSE;
  return TRUE;
}

/* Bytes of the sign before a number. The minus of typography, as the window itself shows it, may be copied from there. */
static gsize
sign_length (const char *text, gsize length, gboolean *negative)
{
  static const char minus[] = { '\342', '\210', '\222' };

  if (length > 0 && (text[0] == '-' || text[0] == '+'))
    {
      *negative = text[0] == '-';
      return 1;
    }
  *negative = length >= sizeof minus && memcmp (text, minus, sizeof minus) == 0;
  return *negative ? sizeof minus : 0;
}

static gboolean
scan (const char *text, gsize length, gboolean decimal_comma, Written *written)
{
  gboolean point = FALSE;
  gsize i;

  *written = (Written){ 0 };
  for (i = 0; i < length; i++)
    {
      if (g_ascii_isdigit (text[i]))
        {
          if (written->digits < 18)
            written->mantissa = written->mantissa * 10 + (guint64) (text[i] - '0');
          written->digits++;
          written->decimals += point;
        }
      else if (!point && (text[i] == '.' || (decimal_comma && text[i] == ',')))
        point = TRUE;
      else
        break;
    }
  return written->digits > 0 && scan_exponent (text, length, i, written);
}

/**
 * book_number_parse:
 * @text: need not end in a zero byte
 * @length: its bytes
 * @decimal_comma: whether a comma may stand for the point
 * @number: (out): the number; -0 becomes 0
 *
 * Reads an optional sign (for less than zero '-' or U+2212), digits with at most one decimal sign, an optional exponent, and
 * nothing else.
 *
 * Returns: whether it is a finite number
 */
gboolean
book_number_parse (const char *text, gsize length, gboolean decimal_comma, double *number)
{
  /* Exact as doubles; with a mantissa below 2^53 one multiplication or division is correctly rounded. */
  static const double powers[] = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                   1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
  Written written;
  gboolean negative;
  gsize sign;

  *number = NAN;
  if (length > NUMBER_MOST)
    return FALSE;
  sign = sign_length (text, length, &negative);
  text += sign;
  length -= sign;
  if (!scan (text, length, decimal_comma, &written))
    return FALSE;

  if (!written.exponent && written.digits <= 15 && written.decimals < G_N_ELEMENTS (powers))
    *number = (double) written.mantissa / powers[written.decimals];
  else
    {
      char plain[NUMBER_MOST + 1];

      for (gsize j = 0; j < length; j++)
        plain[j] = text[j] == ',' ? '.' : text[j];
      plain[length] = '\0';
      *number = g_ascii_strtod (plain, NULL);
    }

  if (!isfinite (*number))
    return FALSE;
  *number = (negative ? -*number : *number) + 0.0; /* -0 + 0 is 0 */
  return TRUE;
}

/* Appends a number without the '+' and the leading zeros of its exponent. */
static void
append_short (GString *text, const char *number)
{
  const char *exponent = strchr (number, 'e');

  if (exponent == NULL)
    {
      g_string_append (text, number);
      return;
    }
  g_string_append_len (text, number, exponent + 1 - number);
  exponent++;
  if (*exponent == '-')
    g_string_append_c (text, '-');
  exponent += strspn (exponent, "+-0");
  g_string_append (text, exponent);
}

/**
 * book_number_dup:
 * @number: finite, or NAN
 *
 * Returns: (transfer full): the number as book_number_append() writes it; "" for NAN
 */
char *
book_number_dup (double number)
{
  GString *text = g_string_new (NULL);

  if (!isnan (number))
    book_number_append (text, number);
  return g_string_free (text, FALSE);
}

/**
 * book_number_append:
 * @text: appended to
 * @number: finite
 *
 * The shortest decimal that reads back equal, with a point; with an exponent below 0.0001 and from 1e15 on.
 */
void
book_number_append (GString *text, double number)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      double back;

      g_ascii_formatd (buffer, sizeof buffer, formats[i], number);
      if (i + 1 == G_N_ELEMENTS (formats))
        break;
      if (!book_number_parse (buffer, strlen (buffer), FALSE, &back))
        continue;
      if (memcmp (&back, &number, sizeof back) == 0) /* NOLINT(bugprone-suspicious-memory-comparison): to the bit */
        break;
    }
  append_short (text, buffer);
}
