/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A strict look at a line before json-glib reads it. json-glib takes more than JSON (comments, assignments, hexadecimal
 * numbers), asserts on half a surrogate pair, recurses without a bound, and reads an integer beyond 64 bits as another
 * number. Here the grammar of RFC 8259 is checked with a bounded depth; long integers get ".0", which makes them real
 * numbers, and the words NaN and Infinity become null, so that the key that holds one can be named like any other.
 */
#include "config.h"

#include "batch-calc-json.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define DEPTH_MOST 16    /* arrays and objects within each other */
#define INTEGER_DIGITS 18 /* digits that a 64-bit integer holds whatever they are */

typedef struct
{
  BatchCalcLine *line;
  const char *start;
  const char *at;
  const char *end;
  GError **error;
} Scan;

static gboolean scan_value (Scan *scan, guint depth);

static gboolean
wrong (Scan *scan, const char *what)
{
  int place = (int) (scan->at - scan->start) + 1;

  if (scan->line->key != NULL)
    g_set_error (scan->error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, _("\"%s\": %s at character %d of the line."),
                 scan->line->key, what, place);
  else
    g_set_error (scan->error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, _("The line is not a JSON object: %s at character %d."),
                 what, place);
  return FALSE;
}

static void
skip_space (Scan *scan)
{
  while (scan->at < scan->end && strchr (" \t\r\n", *scan->at) != NULL && *scan->at != '\0')
    scan->at++;
}

static char
peek (const Scan *scan)
{
  return scan->at < scan->end ? *scan->at : '\0';
}

static void
copy (Scan *scan, gsize count)
{
  g_string_append_len (scan->line->text, scan->at, (gssize) count);
  scan->at += count;
}

/* Four hexadecimal digits at an offset, or -1. */
static int
hex_unit (const Scan *scan, gsize offset)
{
  int unit = 0;

  if ((gsize) (scan->end - scan->at) < offset + 4)
    return -1;
  for (gsize i = 0; i < 4; i++)
    {
      int digit = g_ascii_xdigit_value (scan->at[offset + i]);

      if (digit < 0)
        return -1;
      unit = unit * 16 + digit;
    }
  return unit;
}

/* At a backslash. A surrogate must be one of a pair, and no character may be 0. */
static gboolean
scan_escape (Scan *scan)
{
  char letter = scan->at + 1 < scan->end ? scan->at[1] : '\0';
  int unit;

  if (letter != '\0' && strchr ("\"\\/bfnrt", letter) != NULL)
    {
      copy (scan, 2);
      return TRUE;
    }
  unit = letter == 'u' ? hex_unit (scan, 2) : -1;
  if (unit >= 0xD800 && unit <= 0xDBFF && scan->end - scan->at >= 12 && scan->at[6] == '\\' && scan->at[7] == 'u')
    {
      int low = hex_unit (scan, 8);

      if (low >= 0xDC00 && low <= 0xDFFF)
        {
          copy (scan, 12);
          return TRUE;
        }
    }
  if (unit > 0 && (unit < 0xD800 || unit > 0xDFFF))
    {
      copy (scan, 6);
      return TRUE;
    }
  return wrong (scan, _("an escape in a text is not valid"));
}

/* Leaves the text between the quotes, still escaped, in @content. */
static gboolean
scan_string (Scan *scan, char **content)
{
  const char *first;

  copy (scan, 1);
  first = scan->at;
  for (;;)
    {
      char letter = peek (scan);

      if (scan->at >= scan->end)
        return wrong (scan, _("a text does not end"));
      if (letter == '"')
        break;
      if (letter == '\\')
        {
          if (!scan_escape (scan))
            return FALSE;
        }
      else if ((guchar) letter < 0x20)
        return wrong (scan, _("a control character stands in a text"));
      else
        copy (scan, 1);
    }
  if (content != NULL)
    *content = g_strndup (first, (gsize) (scan->at - first));
  copy (scan, 1);
  return TRUE;
}

static gsize
digits_at (const Scan *scan, const char *at)
{
  gsize count = 0;

  while (at + count < scan->end && g_ascii_isdigit (at[count]))
    count++;
  return count;
}

static gboolean
scan_number (Scan *scan)
{
  const char *at = scan->at + (peek (scan) == '-');
  gsize whole = digits_at (scan, at);
  gboolean integer = TRUE;

  if (whole == 0 || (whole > 1 && *at == '0'))
    return wrong (scan, _("a value is not valid"));
  at += whole;
  if (at < scan->end && *at == '.')
    {
      gsize part = digits_at (scan, at + 1);

      if (part == 0)
        return wrong (scan, _("a number is not complete"));
      at += part + 1;
      integer = FALSE;
    }
  if (at < scan->end && (*at == 'e' || *at == 'E'))
    {
      const char *power = at + 1 + (at + 1 < scan->end && (at[1] == '+' || at[1] == '-'));
      gsize part = digits_at (scan, power);

      if (part == 0)
        return wrong (scan, _("a number is not complete"));
      at = power + part;
      integer = FALSE;
    }
  copy (scan, (gsize) (at - scan->at));
  if (integer && whole > INTEGER_DIGITS)
    g_string_append (scan->line->text, ".0");
  return TRUE;
}

static gboolean
scan_word (Scan *scan)
{
  static const struct
  {
    const char *word;
    const char *as;
  } words[] = {
    { "true", "true" }, { "false", "false" }, { "null", "null" },
    { "NaN", "null" }, { "Infinity", "null" }, { "-Infinity", "null" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize length = strlen (words[i].word);

      if ((gsize) (scan->end - scan->at) >= length && memcmp (scan->at, words[i].word, length) == 0)
        {
          g_string_append (scan->line->text, words[i].as);
          scan->at += length;
          return TRUE;
        }
    }
  return peek (scan) == '-' || g_ascii_isdigit (peek (scan)) ? scan_number (scan)
                                                             : wrong (scan, _("a value is not valid"));
}

static gboolean
scan_array (Scan *scan, guint depth)
{
  copy (scan, 1);
  skip_space (scan);
  if (peek (scan) == ']')
    {
      copy (scan, 1);
      return TRUE;
    }
  for (;;)
    {
      if (!scan_value (scan, depth))
        return FALSE;
      skip_space (scan);
      if (peek (scan) == ']')
        break;
      if (peek (scan) != ',')
        return wrong (scan, _("a comma or the end of an array is missing"));
      copy (scan, 1);
    }
  copy (scan, 1);
  return TRUE;
}

/* The value of a key of the outermost object; those of "id" and "method" are kept for the answer. */
static gboolean
scan_member (Scan *scan, guint depth)
{
  gsize before = scan->line->text->len;
  char **kept = depth > 1                                     ? NULL
                : g_strcmp0 (scan->line->key, "id") == 0      ? &scan->line->id
                : g_strcmp0 (scan->line->key, "method") == 0 ? &scan->line->method
                                                              : NULL;

  if (!scan_value (scan, depth))
    return FALSE;
  if (kept != NULL)
    {
      g_free (*kept);
      *kept = g_strdup (scan->line->text->str + before);
    }
  return TRUE;
}

static gboolean
scan_object (Scan *scan, guint depth)
{
  copy (scan, 1);
  skip_space (scan);
  if (peek (scan) == '}')
    {
      copy (scan, 1);
      return TRUE;
    }
  for (;;)
    {
      char *key = NULL;

      skip_space (scan);
      if (peek (scan) != '"')
        return wrong (scan, _("a key in quotes is missing"));
      if (!scan_string (scan, &key))
        return FALSE;
      if (depth == 1)
        {
          g_free (scan->line->key);
          scan->line->key = g_steal_pointer (&key);
        }
      g_free (key);
      skip_space (scan);
      if (peek (scan) != ':')
        return wrong (scan, _("a colon is missing"));
      copy (scan, 1);
      if (!scan_member (scan, depth))
        return FALSE;
      skip_space (scan);
      if (peek (scan) == '}')
        break;
      if (peek (scan) != ',')
        return wrong (scan, _("a comma or the end of an object is missing"));
      copy (scan, 1);
    }
  copy (scan, 1);
  return TRUE;
}

static gboolean
scan_value (Scan *scan, guint depth)
{
  skip_space (scan);
  if (depth >= DEPTH_MOST)
    return wrong (scan, _("arrays and objects are nested too deep"));
  switch (peek (scan))
    {
    case '{':
      return scan_object (scan, depth + 1);
    case '[':
      return scan_array (scan, depth + 1);
    case '"':
      return scan_string (scan, NULL);
    default:
      return scan_word (scan);
    }
}

static void
append_real (GString *text, double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (text, isfinite (value) ? g_ascii_formatd (number, sizeof number, "%.17g", value) : "null");
}

/**
 * batch_calc_write:
 * @node: a tree
 * @text: what it is appended to
 *
 * Writes JSON in one line, numbers with 17 significant digits. json-glib 1.6 itself turns 1e+20 into 1e+20.0, which no
 * reader takes; so only texts go through its generator. A number beyond every double, as the id of a question may hold
 * one, is written as null.
 */
void
batch_calc_write (JsonNode *node, GString *text)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    {
      JsonObjectIter iter;
      const char *name;
      JsonNode *member;
      char separator = '{';

      json_object_iter_init_ordered (&iter, json_node_get_object (node));
      while (json_object_iter_next_ordered (&iter, &name, &member))
        {
          g_autoptr(JsonNode) key = json_node_init_string (json_node_alloc (), name);

          g_string_append_c (text, separator);
          batch_calc_write (key, text);
          g_string_append_c (text, ':');
          batch_calc_write (member, text);
          separator = ',';
        }
      g_string_append (text, separator == '{' ? "{}" : "}");
    }
  else if (JSON_NODE_HOLDS_ARRAY (node))
    {
      JsonArray *array = json_node_get_array (node);

      g_string_append_c (text, '[');
      for (guint i = 0; i < json_array_get_length (array); i++)
        {
          if (i > 0)
            g_string_append_c (text, ',');
          batch_calc_write (json_array_get_element (array, i), text);
        }
      g_string_append_c (text, ']');
    }
  else if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_DOUBLE)
    append_real (text, json_node_get_double (node));
  else
    {
      g_autofree char *plain = json_to_string (node, FALSE);

      g_string_append (text, plain);
    }
}

/**
 * batch_calc_line_init:
 * @line: (out caller-allocates): what was found, to be cleared also after a failure
 * @text: a line without its end
 * @length: bytes of it
 * @error: return location
 *
 * Returns: whether the line is one JSON object; the error is a sentence that names the key, where there was one
 */
gboolean
batch_calc_line_init (BatchCalcLine *line, const char *text, gsize length, GError **error)
{
  Scan scan = { line, text, text, text + length, error };

  *line = (BatchCalcLine){ .text = g_string_sized_new (length + 16) };
  if (!g_utf8_validate_len (text, length, NULL))
    return wrong (&scan, _("text that is not UTF-8"));
  skip_space (&scan);
  if (peek (&scan) != '{')
    return wrong (&scan, _("an opening brace is missing"));
  if (!scan_object (&scan, 1))
    return FALSE;
  skip_space (&scan);
  return scan.at == scan.end || wrong (&scan, _("something follows the object"));
}

void
batch_calc_line_clear (BatchCalcLine *line)
{
  g_string_free (line->text, TRUE);
  g_free (line->key);
  g_free (line->id);
  g_free (line->method);
}
