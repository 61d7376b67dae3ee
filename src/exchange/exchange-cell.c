/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-cell.h"

#include "exchange-number.h"

#include <string.h>

/* Words for a check, in lower case, by trade use in English, German and French (common practice, no source). */
static const struct
{
  const char      *word;
  ExchangeCellKind kind;
} words[] = {
  { "ok", EXCHANGE_CELL_PASSED },        { "o.k.", EXCHANGE_CELL_PASSED },      { "okay", EXCHANGE_CELL_PASSED },
  { "pass", EXCHANGE_CELL_PASSED },      { "passed", EXCHANGE_CELL_PASSED },    { "good", EXCHANGE_CELL_PASSED },
  { "yes", EXCHANGE_CELL_PASSED },       { "i.o.", EXCHANGE_CELL_PASSED },      { "i. o.", EXCHANGE_CELL_PASSED },
  { "i.o", EXCHANGE_CELL_PASSED },       { "io", EXCHANGE_CELL_PASSED },        { "in ordnung", EXCHANGE_CELL_PASSED },
  { "gut", EXCHANGE_CELL_PASSED },       { "ja", EXCHANGE_CELL_PASSED },        { "bon", EXCHANGE_CELL_PASSED },
  { "oui", EXCHANGE_CELL_PASSED },       { "✓", EXCHANGE_CELL_PASSED },         { "✔", EXCHANGE_CELL_PASSED },
  { "☑", EXCHANGE_CELL_PASSED },         { "✅", EXCHANGE_CELL_PASSED },        { "√", EXCHANGE_CELL_PASSED },
  { "go", EXCHANGE_CELL_PASSED },        { "conform", EXCHANGE_CELL_PASSED },   { "accepted", EXCHANGE_CELL_PASSED },
  { "nok", EXCHANGE_CELL_FAILED },       { "n.ok", EXCHANGE_CELL_FAILED },      { "n.o.k.", EXCHANGE_CELL_FAILED },
  { "not ok", EXCHANGE_CELL_FAILED },    { "ng", EXCHANGE_CELL_FAILED },        { "no good", EXCHANGE_CELL_FAILED },
  { "fail", EXCHANGE_CELL_FAILED },      { "failed", EXCHANGE_CELL_FAILED },    { "bad", EXCHANGE_CELL_FAILED },
  { "no", EXCHANGE_CELL_FAILED },        { "n.i.o.", EXCHANGE_CELL_FAILED },    { "n. i. o.", EXCHANGE_CELL_FAILED },
  { "n.i.o", EXCHANGE_CELL_FAILED },     { "nio", EXCHANGE_CELL_FAILED },       { "nicht in ordnung", EXCHANGE_CELL_FAILED },
  { "nicht ok", EXCHANGE_CELL_FAILED },  { "schlecht", EXCHANGE_CELL_FAILED },  { "nein", EXCHANGE_CELL_FAILED },
  { "mauvais", EXCHANGE_CELL_FAILED },   { "non", EXCHANGE_CELL_FAILED },       { "✗", EXCHANGE_CELL_FAILED },
  { "✘", EXCHANGE_CELL_FAILED },         { "☒", EXCHANGE_CELL_FAILED },         { "❌", EXCHANGE_CELL_FAILED },
  { "no go", EXCHANGE_CELL_FAILED },     { "no-go", EXCHANGE_CELL_FAILED },     { "nogo", EXCHANGE_CELL_FAILED },
  { "rejected", EXCHANGE_CELL_FAILED },  { "x", EXCHANGE_CELL_CROSS },          { "×", EXCHANGE_CELL_CROSS },
  { "n/a", EXCHANGE_CELL_ABSENT },       { "n.a.", EXCHANGE_CELL_ABSENT },      { "n.a", EXCHANGE_CELL_ABSENT },
  { "na", EXCHANGE_CELL_ABSENT },        { "-", EXCHANGE_CELL_ABSENT },         { "--", EXCHANGE_CELL_ABSENT },
  { "---", EXCHANGE_CELL_ABSENT },       { "–", EXCHANGE_CELL_ABSENT },         { "—", EXCHANGE_CELL_ABSENT },
  { "−", EXCHANGE_CELL_ABSENT },         { "./.", EXCHANGE_CELL_ABSENT },       { "/", EXCHANGE_CELL_ABSENT },
  { ".", EXCHANGE_CELL_ABSENT },         { "n.m.", EXCHANGE_CELL_ABSENT },      { "not measured", EXCHANGE_CELL_ABSENT },
  { "not tested", EXCHANGE_CELL_ABSENT },
};

gboolean
exchange_cell_is_number (const ExchangeCell *cell)
{
  return cell->kind == EXCHANGE_CELL_NUMBER || cell->kind == EXCHANGE_CELL_ABOVE || cell->kind == EXCHANGE_CELL_BELOW;
}

gboolean
exchange_cell_is_check (const ExchangeCell *cell)
{
  return cell->kind == EXCHANGE_CELL_PASSED || cell->kind == EXCHANGE_CELL_FAILED || cell->kind == EXCHANGE_CELL_CROSS;
}

/* The text from @from to @end without the signs that set a note off. */
static void
set_note (ExchangeCell *cell, const char *from, const char *end)
{
  static const char before[] = "([,;:-*#!";
  gboolean bracket = FALSE;

  from = exchange_text_skip_spaces (from);
  while (from < end && strchr (before, *from) != NULL)
    {
      bracket = bracket || *from == '(' || *from == '[';
      if ((*from == '*' || *from == '#' || *from == '!') && from + 1 >= end)
        break; /* the sign is the whole note */
      from = exchange_text_skip_spaces (from + 1);
    }
  while (end > from && (end[-1] == ' ' || (bracket && (end[-1] == ')' || end[-1] == ']'))))
    end--;
  if (end > from)
    {
      cell->note = from;
      cell->note_length = (gsize) (end - from);
    }
}

/* Whether what stands behind a value may be a note beside it and not a part of it. */
static gboolean
can_be_note (const char *behind, const char *end)
{
  const char *p = exchange_text_skip_spaces (behind);

  if (p == end)
    return TRUE;
  if (p == behind)
    return strchr ("([,;:*!?#", *p) != NULL || g_str_has_prefix (p, "†");
  return !g_ascii_isdigit (*p) && strchr ("/+", *p) == NULL && !g_str_has_prefix (p, "±") && !g_str_has_prefix (p, "…")
         && !(*p == '-' && g_ascii_isdigit (p[1])) && !(*p == '.' && p[1] == '.');
}

static gboolean
read_word (const char *text, const char *end, ExchangeCell *cell)
{
  g_autofree char *lower = g_utf8_strdown (text, end - text);
  gsize best = 0;
  ExchangeCellKind kind = EXCHANGE_CELL_TEXT;

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize length = strlen (words[i].word);

      if (length <= best || strncmp (lower, words[i].word, length) != 0)
        continue;
      if (lower[length] != '\0' && (words[i].kind == EXCHANGE_CELL_ABSENT
                                    || g_unichar_isalnum (g_utf8_get_char (lower + length))
                                    || !can_be_note (lower + length, lower + strlen (lower))))
        continue;
      best = length;
      kind = words[i].kind;
    }
  /* 'no burr' and 'good fit' are remarks, 'ok (tight)' and 'nok: sticks' are checks with one. */
  if (best == 0
      || (lower[best] == ' ' && g_unichar_isalpha (g_utf8_get_char (exchange_text_skip_spaces (lower + best)))
          && kind != EXCHANGE_CELL_TEXT && strncmp (lower, "ok", 2) != 0 && strncmp (lower, "nok", 3) != 0))
    return FALSE;
  cell->kind = kind;
  if (strlen (lower) == (gsize) (end - text)) /* lower case moved no byte: places agree */
    set_note (cell, text + best, end);
  return TRUE;
}

static const char *
read_comparison (const char *text, ExchangeCell *cell)
{
  static const struct
  {
    const char      *sign;
    ExchangeCellKind kind;
  } signs[] = {
    { ">=", EXCHANGE_CELL_ABOVE }, { "≥", EXCHANGE_CELL_ABOVE }, { ">", EXCHANGE_CELL_ABOVE },
    { "<=", EXCHANGE_CELL_BELOW }, { "≤", EXCHANGE_CELL_BELOW }, { "<", EXCHANGE_CELL_BELOW },
  };

  cell->kind = EXCHANGE_CELL_NUMBER;
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (text, signs[i].sign))
      {
        cell->kind = signs[i].kind;
        return exchange_text_skip_spaces (text + strlen (signs[i].sign));
      }
  return text;
}

static gboolean
read_number (const char *text, const char *end, char decimal_sign, ExchangeCell *cell)
{
  const char *p = read_comparison (text, cell);
  const char *behind;
  ExchangeNumber number;

  if (!exchange_number_scan (&p, decimal_sign, &number) || p > end)
    return FALSE;
  cell->value = number.value;
  cell->decimals = number.decimals;
  cell->decimal_sign = number.decimal_sign;
  cell->is_doubtful = number.is_doubtful;
  behind = exchange_text_skip_spaces (p);
  cell->unit = exchange_unit_scan (&behind);
  if (cell->unit != NULL)
    p = behind;
  if (!can_be_note (p, end))
    return FALSE;
  set_note (cell, p, end);
  return TRUE;
}

/**
 * exchange_cell_read:
 * @text: the cell
 * @decimal_sign: '.' or ',' where the sheet is known to use it, else 0
 * @cell: (out): what was read; notes point into @text
 *
 * Reads one cell of a measuring sheet.
 */
void
exchange_cell_read (const char *text, char decimal_sign, ExchangeCell *cell)
{
  const char *p = exchange_text_skip_spaces (text);
  const char *end = p + strlen (p);
  ExchangeCell read = { 0 };

  memset (cell, 0, sizeof *cell);
  while (end > p && g_ascii_isspace (end[-1]))
    end--;
  while (end - p >= 2 && memcmp (end - 2, "\xc2\xa0", 2) == 0)
    end -= 2;
  if (p == end)
    return;
  if (read_number (p, end, decimal_sign, &read) || (memset (&read, 0, sizeof read), read_word (p, end, &read)))
    {
      *cell = read;
      return;
    }
  cell->kind = EXCHANGE_CELL_TEXT;
}

static const char * const months[] = { "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec" };
static const char * const months_de[] = { "jan", "feb", "mär", "apr", "mai", "jun", "jul", "aug", "sep", "okt", "nov", "dez" };

static guint
scan_digits (const char **text, guint most)
{
  guint value = 0;
  guint n = 0;

  while (n < most && g_ascii_isdigit (**text))
    {
      value = value * 10 + (guint) (**text - '0');
      (*text)++;
      n++;
    }
  return n > 0 && !g_ascii_isdigit (**text) ? value : G_MAXUINT;
}

/* A month by name, in English or German, cut or whole: 1 to 12, or 0. */
static guint
scan_month (const char **text)
{
  for (guint i = 0; i < 12; i++)
    {
      gsize length = 0;

      if (g_ascii_strncasecmp (*text, months[i], 3) == 0)
        length = 3;
      else if (g_ascii_strncasecmp (*text, months_de[i], strlen (months_de[i])) == 0)
        length = strlen (months_de[i]);
      if (length == 0)
        continue;
      *text += length;
      while (g_unichar_isalpha (g_utf8_get_char (*text)))
        *text = g_utf8_next_char (*text);
      if (**text == '.')
        (*text)++;
      return i + 1;
    }
  return 0;
}

static gboolean
skip_sign (const char **text, const char *signs)
{
  const char *p = exchange_text_skip_spaces (*text);
  gboolean found = *p != '\0' && strchr (signs, *p) != NULL;

  if (!found && p == *text)
    return FALSE;
  *text = exchange_text_skip_spaces (found ? p + 1 : p);
  return TRUE;
}

static gboolean
scan_parts (const char **text, ExchangeDateOrder order, guint *year, guint *month, guint *day, gboolean *is_doubtful)
{
  const char *p = *text;
  guint first = scan_digits (&p, 4);
  gboolean year_first = p - *text > 2 || first > 31;
  const char *last;
  char sign = *p;

  if (first == G_MAXUINT)
    return FALSE;
  if (year_first)
    {
      if (sign == '\0' || strchr ("-/.", sign) == NULL)
        return FALSE;
      p++;
      *year = first;
      *month = scan_digits (&p, 2);
      if (*p++ != sign)
        return FALSE;
      *day = scan_digits (&p, 2);
      *text = p;
      return first >= 1900;
    }
  if (!skip_sign (&p, "-/."))
    return FALSE;
  *day = first;
  *month = scan_month (&p);
  if (*month == 0)
    {
      *month = scan_digits (&p, 2);
      if (sign == '/' && (order == EXCHANGE_DATE_MONTH_FIRST || (*month > 12 && *month <= 31)))
        {
          *day = *month;
          *month = first;
        }
      *is_doubtful = sign == '/' && *day <= 12 && *day != *month;
    }
  if (!skip_sign (&p, "-/.,"))
    return FALSE;
  last = p;
  *year = scan_digits (&p, 4);
  if (*year < 100 && p - last <= 2) /* a year of four digits is meant as it stands */
    *year += 2000;
  *text = p;
  return *year >= 1900;
}

/**
 * exchange_date_scan:
 * @text: (inout): where a date is looked for; moved behind it on success
 * @order: what `3/4/2025` means
 * @iso: (out): `YYYY-MM-DD`, with `THH:MM` when a time stands behind
 * @is_doubtful: (out): day and month could be the other way round
 *
 * Reads a date as people write it: `2025-03-14`, `14.3.2025`, `14/3/25`, `14 Mar 2025`.
 *
 * Returns: %FALSE when there is none, or none that exists
 */
gboolean
exchange_date_scan (const char **text, ExchangeDateOrder order, char iso[17], gboolean *is_doubtful)
{
  const char *p = *text;
  guint year = 0;
  guint month = 0;
  guint day = 0;

  *is_doubtful = FALSE;
  if (!scan_parts (&p, order, &year, &month, &day, is_doubtful) || year > 2199 || month > 12 || day > 31
      || !g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return FALSE;
  g_snprintf (iso, 17, "%04u-%02u-%02u", year % 10000, month % 100, day % 100);
  if ((*p == 'T' || *p == ' ') && g_ascii_isdigit (p[1]))
    {
      const char *q = p + 1;
      guint hour = scan_digits (&q, 2);
      guint minute = *q == ':' ? (q++, scan_digits (&q, 2)) : G_MAXUINT;

      if (hour < 24 && minute < 60)
        {
          g_snprintf (iso + 10, 7, "T%02u:%02u", hour, minute);
          p = q;
          if (*p == ':' && g_ascii_isdigit (p[1]))
            p += strspn (p + 1, "0123456789") + 1;
        }
    }
  *text = p;
  return TRUE;
}
