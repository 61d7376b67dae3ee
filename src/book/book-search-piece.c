/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-search.h"

#include <string.h>

/* The piece of a text around what was found in it, as people wrote it: found in the folded text, cut from the other. */

#define BEFORE 36 /* characters */
#define AFTER  72

/* A folded text, and for each of its bytes where the character that it came from begins in the text. */
typedef struct
{
  GString *folded;
  GArray  *origins; /* gsize */
} Mapped;

static void
map (Mapped *mapped, const char *text)
{
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    {
      g_autofree char *folded = book_search_fold (c, g_utf8_next_char (c) - c);
      gsize origin = (gsize) (c - text);

      g_string_append (mapped->folded, folded);
      for (gsize i = strlen (folded); i > 0; i--)
        g_array_append_val (mapped->origins, origin);
    }
}

/* Words of an index begin where no letter or digit stands before; what begins a word is shown rather than a fragment. */
static const char *
find_word (const char *folded, const char *word)
{
  const char *fragment = strstr (folded, word);

  for (const char *at = fragment; at != NULL; at = strstr (at + 1, word))
    if (at == folded || !g_unichar_isalnum (g_utf8_get_char (g_utf8_prev_char (at))))
      return at;
  return fragment;
}

static const char *
back (const char *text, const char *from, guint characters)
{
  const char *at = from;

  while (at > text && characters-- > 0)
    at = g_utf8_prev_char (at);
  for (const char *c = at; at > text && c < from; c = g_utf8_next_char (c)) /* a whole word where there is one */
    if (*c == ' ')
      return c + 1;
  return at;
}

static const char *
forward (const char *from, guint characters)
{
  while (*from != '\0' && characters-- > 0)
    from = g_utf8_next_char (from);
  return from;
}

/**
 * book_search_piece:
 * @text: as people wrote it
 * @folded_word: what was looked for, folded by book_search_fold()
 * @mark: (out): where in the piece it begins, in bytes
 * @mark_length: (out): how long it is there
 *
 * Returns: (transfer full) (nullable): the text around the first place where a word begins so, else where it occurs, on
 *   one line; %NULL if it does not occur
 */
char *
book_search_piece (const char *text, const char *folded_word, gsize *mark, gsize *mark_length)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autoptr(GString) folded = g_string_new (NULL);
  g_autoptr(GArray) origins = g_array_new (FALSE, FALSE, sizeof (gsize));
  Mapped mapped = { folded, origins };
  GString *piece;
  const char *found, *first, *past, *begin, *end;
  gsize at;

  if (*folded_word == '\0')
    return NULL;
  map (&mapped, valid);
  found = find_word (folded->str, folded_word);
  if (found == NULL)
    return NULL;

  at = (gsize) (found - folded->str);
  first = valid + g_array_index (origins, gsize, at);
  at += strlen (folded_word);
  past = at < origins->len ? valid + g_array_index (origins, gsize, at) : valid + strlen (valid);
  begin = back (valid, first, BEFORE);
  end = forward (past, AFTER);

  piece = g_string_new (begin > valid ? "…" : "");
  *mark = piece->len + (gsize) (first - begin);
  *mark_length = (gsize) (past - first);
  g_string_append_len (piece, begin, end - begin);
  if (*end != '\0')
    g_string_append (piece, "…");
  return g_strdelimit (g_string_free (piece, FALSE), "\n\r\t", ' ');
}
