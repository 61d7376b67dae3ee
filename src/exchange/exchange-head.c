/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The head cell of a column: `Side play [mm] max 0.45` is a name, a unit and a limit. Bracketed parts are looked at
 * first, then the first place of the rest where a limit fits, then a unit at the end.
 */
#include "config.h"

#include "exchange-limit.h"

#include "exchange-number.h"

#include <math.h>
#include <string.h>

static void
take_limit (ExchangeHead *head, const ExchangeLimit *limit, const char *from, gsize length)
{
  head->has_limit = TRUE;
  head->limit = *limit;
  head->limit_text = g_strndup (from, length);
  g_strstrip (head->limit_text);
  if (limit->unit != NULL && head->unit == NULL)
    head->unit = limit->unit;
}

/* `[mm]`, `(HRC)`, `(58-60)`, `(in mm)`: taken out of @text when understood; `(left side)` stays. */
static void
take_brackets (GString *text, char decimal_sign, ExchangeHead *head)
{
  static const char opening[] = "[({";
  static const char closing[] = "])}";
  gsize from = 0;

  while (from < text->len)
    {
      const char *kind = text->str[from] != '\0' ? strchr (opening, text->str[from]) : NULL;
      const char *close = kind != NULL ? strchr (text->str + from, closing[kind - opening]) : NULL;
      g_autofree char *inner = NULL;
      const char *content;
      const char *unit;
      ExchangeLimit limit;
      gsize length;

      if (close == NULL)
        {
          from++;
          continue;
        }
      length = (gsize) (close - (text->str + from)) + 1;
      inner = g_strndup (text->str + from + 1, length - 2);
      content = g_str_has_prefix (inner, "in ") ? inner + 3 : inner;
      unit = exchange_unit_find (content);
      if (unit != NULL && head->unit == NULL)
        head->unit = unit;
      else if (!head->has_limit && exchange_limit_read (inner, decimal_sign, &limit)
               && (!isnan (limit.lower) || !isnan (limit.upper) || limit.unit != NULL))
        take_limit (head, &limit, inner, strlen (inner));
      else
        {
          from++;
          continue;
        }
      g_string_erase (text, (gssize) from, (gssize) length);
      g_string_insert_c (text, (gssize) from, ' ');
    }
}

/* Takes the first limit out of what stands in the open. A limit begins a word. */
static void
take_open_limit (GString *text, char decimal_sign, ExchangeHead *head)
{
  const char *p = text->str;
  gunichar before = ' ';

  while (*p != '\0')
    {
      const char *end = p;
      ExchangeLimit limit;

      if (!g_unichar_isalnum (before) && before != '.' && before != ',' && before != '-'
          && exchange_text_skip_spaces (p) == p && exchange_limit_scan (&end, decimal_sign, &limit))
        {
          gsize from = (gsize) (p - text->str);

          take_limit (head, &limit, p, (gsize) (end - p));
          if (limit.is_weak)
            {
              g_free (head->plain_name);
              head->plain_name = g_strdup (text->str);
            }
          g_string_erase (text, (gssize) from, end - p);
          return;
        }
      before = g_utf8_get_char (p);
      p = g_utf8_next_char (p);
    }
}

/* `opening force N`, `length in mm`, `length / mm`: a unit that ends the name without brackets. */
static void
take_trailing_unit (GString *text, ExchangeHead *head)
{
  const char *space;
  const char *unit;

  if (head->unit != NULL)
    return;
  g_strchomp (text->str);
  g_string_set_size (text, strlen (text->str));
  space = strrchr (text->str, ' ');
  if (space == NULL || space == text->str)
    return;
  unit = exchange_unit_find (space + 1);
  if (unit == NULL)
    return;
  if (!exchange_unit_is_plain_word (unit) && !(space - text->str >= 3 && strncmp (space - 3, " in", 3) == 0)
      && space[-1] != '/' && space[-1] != ',')
    return;
  head->unit = unit;
  head->unit_is_guess = TRUE;
  g_string_truncate (text, (gsize) (space - text->str));
  if (g_str_has_suffix (text->str, " in"))
    g_string_truncate (text, text->len - 3);
}

/* One space between words, and no separators left at the ends. */
static char *
tidy_name (const char *text)
{
  g_autoptr(GString) out = g_string_new (NULL);
  const char *p = exchange_text_skip_spaces (text);

  while (*p != '\0' && strchr (",;:=/|-", *p) != NULL)
    p = exchange_text_skip_spaces (p + 1);
  while (*p != '\0')
    {
      const char *next = exchange_text_skip_spaces (p);

      if (next != p)
        {
          g_string_append_c (out, ' ');
          p = next;
          continue;
        }
      next = g_utf8_next_char (p);
      g_string_append_len (out, p, next - p);
      p = next;
    }
  while (out->len > 0 && strchr (" ,;:=/|-", out->str[out->len - 1]) != NULL)
    g_string_truncate (out, out->len - 1);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/**
 * exchange_head_read:
 * @text: a head cell
 * @decimal_sign: '.' or ',' where the sheet is known to use it, else 0
 * @head: (out): what was read; to be cleared with exchange_head_clear()
 *
 * Splits a head cell into name, unit and limits. What is not understood stays in the name.
 */
void
exchange_head_read (const char *text, char decimal_sign, ExchangeHead *head)
{
  g_autoptr(GString) rest = g_string_new (NULL);

  memset (head, 0, sizeof *head);
  exchange_limit_init (&head->limit);
  for (const char *p = text; *p != '\0';)
    {
      const char *next = exchange_text_skip_spaces (p);

      if (next == p)
        next = g_utf8_next_char (p);
      else
        {
          g_string_append_c (rest, ' ');
          p = next;
          continue;
        }
      g_string_append_len (rest, p, next - p);
      p = next;
    }
  take_brackets (rest, decimal_sign, head);
  if (!head->has_limit)
    take_open_limit (rest, decimal_sign, head);
  take_trailing_unit (rest, head);
  head->name = tidy_name (rest->str);
  if (head->plain_name == NULL)
    head->plain_name = g_strdup (head->name);
  else
    {
      g_autofree char *plain = g_steal_pointer (&head->plain_name);

      head->plain_name = tidy_name (plain);
    }
}

void
exchange_head_clear (ExchangeHead *head)
{
  g_clear_pointer (&head->name, g_free);
  g_clear_pointer (&head->plain_name, g_free);
  g_clear_pointer (&head->limit_text, g_free);
}
