/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-day.h"

#include <string.h>

/* A number of two digits; -1 for anything else. Never looks beyond a zero byte. */
static inline int
two_digits (const char *text)
{
  guint tens = (guint) (guchar) text[0] - '0', ones;

  if (tens > 9)
    return -1;
  ones = (guint) (guchar) text[1] - '0';
  return ones > 9 ? -1 : (int) (10 * tens + ones);
}

static inline int
four_digits (const char *text)
{
  int high = two_digits (text), low = high < 0 ? -1 : two_digits (text + 2);

  return low < 0 ? -1 : 100 * high + low;
}

/* `HH:MM` or `HH:MM:SS`; -1 for anything else. */
static int
second_of_day (const char *text)
{
  int hours = two_digits (text), minutes, seconds = 0;

  if (hours < 0 || text[2] != ':' || (minutes = two_digits (text + 3)) < 0)
    return -1;
  if (text[5] == ':')
    seconds = two_digits (text + 6);
  return seconds < 0 ? -1 : (hours * 60 + minutes) * 60 + seconds;
}

/* Days before the first of March of a year, which puts the leap day last. */
static int
days_before_march (int year)
{
  return 365 * year + year / 4 - year / 100 + year / 400;
}

/**
 * book_day_parse:
 * @text: (nullable): `YYYY-MM-DD`, and after a `T` or a space `HH:MM` or `HH:MM:SS`
 * @second: (out) (optional): second of the day, -1 when no time is given
 *
 * Reads what the book stores, a hundred thousand times in one page; validity was checked when it was stored.
 *
 * Returns: the day; 0 for %NULL or anything else than a date
 */
BookDay
book_day_parse (const char *text, int *second)
{
  int year, month, day, shifted;

  if (second != NULL)
    *second = -1;
  /* Each test ends at the zero byte of a text that is too short, so that the next one is not reached. */
  if (text == NULL || (year = four_digits (text)) < 1 || text[4] != '-' || (month = two_digits (text + 5)) < 1 || month > 12
      || text[7] != '-' || (day = two_digits (text + 8)) < 1 || day > 31)
    return 0;

  if (second != NULL && text[10] != '\0')
    *second = second_of_day (text + 11);

  shifted = month <= 2 ? month + 9 : month - 3; /* months since March */
  /* 153 days in any five months from March on; 306 days lie between March and the year's end. */
  return days_before_march (month <= 2 ? year - 1 : year) + (153 * shifted + 2) / 5 + day - 306;
}

/**
 * book_day_format:
 * @day: a day
 *
 * Returns: (transfer full): `YYYY-MM-DD`, or "" for day 0
 */
char *
book_day_format (BookDay day)
{
  GDate date;

  if (day <= 0)
    return g_strdup ("");

  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) day);
  return g_strdup_printf ("%04u-%02u-%02u", g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date));
}

/**
 * book_day_weekday:
 * @day: a day, from 1
 *
 * Returns: 0 for Monday to 6 for Sunday
 */
int
book_day_weekday (BookDay day)
{
  return (day - 1) % 7; /* 0001-01-01 was a Monday in this calendar */
}

/**
 * book_serial_compare:
 * @a: a serial or label
 * @b: another
 *
 * Orders serials as people count them: runs of digits as numbers, all else bytewise, so that P9 stands before P10.
 *
 * Returns: below, at or above 0
 */
int
book_serial_compare (const char *a, const char *b)
{
  const char *first = a, *second = b;

  while (*a != '\0' && *b != '\0')
    {
      if (g_ascii_isdigit (*a) && g_ascii_isdigit (*b))
        {
          gsize n, m;
          int order;

          a += strspn (a, "0");
          b += strspn (b, "0");
          n = strspn (a, "0123456789");
          m = strspn (b, "0123456789");
          if (n != m)
            return n < m ? -1 : 1;
          order = strncmp (a, b, n);
          if (order != 0)
            return order;
          a += n;
          b += m;
        }
      else if (*a != *b)
        return (guchar) *a < (guchar) *b ? -1 : 1;
      else
        {
          a++;
          b++;
        }
    }
  if (*a != *b)
    return *a == '\0' ? -1 : 1;
  return strcmp (first, second);
}
