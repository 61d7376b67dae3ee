/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-text-private.h"
#include "book-values.h"

#include <string.h>

#define SHOWN_MOST   60 /* characters of a foreign text in a sentence */
#define COMPARE_MOST 40 /* letters; longer words are not compared */

/*
 * book_text_quote:
 * @text: any bytes, need not end in a zero byte
 * @length: how many
 *
 * Returns: (transfer full): in quotes, shortened, with control characters and bytes that are not UTF-8 shown escaped
 */
char *
book_text_quote (const char *text, gsize length)
{
  GString *shown = g_string_new ("'");
  const char *end = text + length;
  guint n = 0;

  while (text < end && n++ < SHOWN_MOST)
    {
      gunichar c = g_utf8_get_char_validated (text, end - text);

      if (c == (gunichar) -1 || c == (gunichar) -2)
        {
          g_string_append_printf (shown, "\\x%02x", (guchar) *text);
          text++;
          continue;
        }
      if (g_unichar_isprint (c))
        g_string_append_unichar (shown, c);
      else
        g_string_append_printf (shown, "\\u%04x", c);
      text = g_utf8_next_char (text);
    }
  g_string_append (shown, text < end ? "…'" : "'");
  return g_string_free (shown, FALSE);
}

static guint
distance (const char *a, gsize a_length, const char *b, gsize b_length)
{
  guint row[COMPARE_MOST + 1];

  for (guint j = 0; j <= b_length; j++)
    row[j] = j;
  for (guint i = 1; i <= a_length; i++)
    {
      guint diagonal = row[0];

      row[0] = i;
      for (guint j = 1; j <= b_length; j++)
        {
          guint other = diagonal + (g_ascii_tolower (a[i - 1]) != g_ascii_tolower (b[j - 1]));

          diagonal = row[j];
          row[j] = MIN (other, MIN (row[j], row[j - 1]) + 1);
        }
    }
  return row[b_length];
}

/**
 * book_nearest_word:
 * @word: what was written
 * @words: (array zero-terminated=1): what could have been meant
 *
 * By the number of letters inserted, left out or replaced (Levenshtein 1966), at most a third of the longer word.
 *
 * Returns: (nullable): the nearest of @words, or %NULL if none is near
 */
const char *
book_nearest_word (const char *word, const char *const *words)
{
  const char *nearest = NULL;
  guint least = G_MAXUINT;
  gsize length = strlen (word);

  if (length > COMPARE_MOST)
    return NULL;
  for (; *words != NULL; words++)
    {
      gsize other = strlen (*words);
      guint d;

      if (other > COMPARE_MOST)
        continue;
      d = distance (word, length, *words, other);
      if (d < least && d <= MAX (length, other) / 3 + 1 && d < MAX (length, other))
        {
          least = d;
          nearest = *words;
        }
    }
  return nearest;
}
