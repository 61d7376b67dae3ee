/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fills sentences that stand in tables. A place that is misspelt or has no argument shows as it is written: the test
 * that walks all sentences finds it. */

#include "config.h"

#include "present-sentence.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_NAMES 10 /* of a longer list the reader wants the number, not the names */

/**
 * present_names:
 * @names: (array zero-terminated=1) (nullable): names
 *
 * Returns: (transfer full): 'a, b, c', or with semicolons; of a long list the first, and how many there are
 */
char *
present_names (const char * const *names)
{
  GString *out = g_string_new (NULL);
  const guint n = names == NULL ? 0 : g_strv_length ((char **) names);
  const char *between = ", ";

  /* A title may hold commas of its own. */
  for (guint i = 0; i < n && i < MOST_NAMES; i++)
    if (strchr (names[i], ',') != NULL)
      between = "; ";
  for (guint i = 0; i < n && i < MOST_NAMES; i++)
    g_string_append_printf (out, "%s%s", i == 0 ? "" : between, names[i]);
  if (n > MOST_NAMES)
    /* Translators: closes a list of names that is cut short; %u is how many names there are in all */
    g_string_append_printf (out, _(", … (%u in all)"), n);
  return g_string_free (out, FALSE);
}

/* 'unit (by: reason)', with what is missing left out. */
static char *
fill_triples (const char * const *names)
{
  GString *out = g_string_new (NULL);
  const guint n = names == NULL ? 0 : g_strv_length ((char **) names) / 3;

  for (guint i = 0; i < n && i < MOST_NAMES; i++)
    {
      const char *unit = names[3 * i], *by = names[3 * i + 1], *reason = names[3 * i + 2];

      g_string_append_printf (out, "%s%s", i == 0 ? "" : ", ", unit);
      if (*by != '\0' && *reason != '\0')
        g_string_append_printf (out, " (%s: %s)", by, reason);
      else if (*by != '\0' || *reason != '\0')
        g_string_append_printf (out, " (%s)", *by != '\0' ? by : reason);
    }
  if (n > MOST_NAMES)
    g_string_append_printf (out, _(", … (%u in all)"), n);
  return g_string_free (out, FALSE);
}

static char *
fill_apart (guint i, const PresentArguments *arguments)
{
  char *texts[2];

  present_confidence_pair (arguments->numbers[0], arguments->numbers[1], &texts[0], &texts[1]);
  g_free (texts[1 - i]);
  return texts[i];
}

static char *
fill_number (const char *kind, guint i, const PresentArguments *arguments)
{
  const double number = arguments->numbers[i];

  if (g_str_equal (kind, "value"))
    return present_value (number, arguments->decimals, arguments->unit);
  if (g_str_equal (kind, "confidence"))
    return present_confidence (number, NAN);
  if (g_str_equal (kind, "number"))
    return present_number (number, -1);
  if (g_str_equal (kind, "small"))
    return present_small_value (number, arguments->unit);
  if (g_str_equal (kind, "apart"))
    return i < 2 && arguments->n_numbers >= 2 ? fill_apart (i, arguments) : NULL;
  if (g_str_equal (kind, "wanted"))
    return present_wanted (number);
  if (g_str_equal (kind, "share"))
    return present_share_in (number);
  if (g_str_equal (kind, "fails"))
    return present_fails_in (number);
  if (g_str_equal (kind, "limits") && i + 1 < arguments->n_numbers)
    {
      g_autofree char *text = present_limits (number, arguments->numbers[i + 1], arguments->decimals, arguments->unit);

      return *text == '\0' ? g_strdup (_("no limits")) : g_steal_pointer (&text);
    }
  return NULL;
}

/* @place is a kind and an index, `count0`. NULL when there is no such argument. */
static char *
fill (const char *place, const PresentArguments *arguments)
{
  const gsize length = strcspn (place, "0123456789");
  g_autofree char *kind = g_strndup (place, length);
  const guint i = (guint) g_ascii_strtoull (place + length, NULL, 10);

  if (g_str_equal (place, "names"))
    return present_names (arguments->names);
  if (g_str_equal (place, "triples"))
    return fill_triples (arguments->names);
  if (g_str_equal (kind, "name"))
    {
      if (arguments->names == NULL || i >= g_strv_length ((char **) arguments->names))
        return NULL;
      return g_strdup (*arguments->names[i] == '\0' ? _("none") : arguments->names[i]);
    }
  if (g_str_equal (kind, "count"))
    return i < arguments->n_counts ? g_strdup_printf ("%" G_GINT64_FORMAT, arguments->counts[i]) : NULL;
  return i < arguments->n_numbers ? fill_number (kind, i, arguments) : NULL;
}

static void
append_filled (GString *out, const char *sentence, const PresentArguments *arguments)
{
  const char *p = sentence;

  while (*p != '\0')
    {
      const char *close = *p == '{' ? strchr (p, '}') : NULL;
      g_autofree char *place = close == NULL ? NULL : g_strndup (p + 1, (gsize) (close - p - 1));
      g_autofree char *text = place == NULL ? NULL : fill (place, arguments);

      if (text != NULL)
        {
          g_string_append (out, text);
          p = close + 1;
        }
      else
        g_string_append_c (out, *p++);
    }
}

static gboolean
are_apart (const PresentArguments *arguments)
{
  g_autofree char *one = NULL;
  g_autofree char *other = NULL;

  if (arguments->n_numbers < 2)
    return FALSE;
  present_confidence_pair (arguments->numbers[0], arguments->numbers[1], &one, &other);
  return !g_str_equal (one, other);
}

static gboolean
is_said (const PresentSentence *sentence, const PresentArguments *arguments)
{
  const guint n = arguments->names == NULL ? 0 : g_strv_length ((char **) arguments->names);

  switch (sentence->when)
    {
    case PRESENT_ALWAYS:
      return TRUE;
    case PRESENT_WITH_COUNT:
      return sentence->count < arguments->n_counts && arguments->counts[sentence->count] > 0;
    case PRESENT_WITH_NAMES:
      return n > 0;
    case PRESENT_NO_NAMES:
      return n == 0;
    case PRESENT_APART:
      return are_apart (arguments);
    case PRESENT_NOT_APART:
      return !are_apart (arguments);
    case PRESENT_WITH_NAME1:
      return n > 1 && *arguments->names[1] != '\0';
    case PRESENT_NO_NAME1:
      return n < 2 || *arguments->names[1] == '\0';
    }
  return FALSE;
}

/**
 * present_sentences:
 * @sentences: (array length=3): up to three; one without text ends the list
 * @arguments: what fills them
 *
 * Returns: (transfer full): those that are said, in the reader's language, with a space between
 */
char *
present_sentences (const PresentSentence *sentences, const PresentArguments *arguments)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < PRESENT_MOST_SENTENCES && sentences[i].one != NULL; i++)
    {
      const PresentSentence *sentence = &sentences[i];
      const gint64 count = sentence->count < arguments->n_counts ? arguments->counts[sentence->count] : 0;

      if (!is_said (sentence, arguments))
        continue;
      if (out->len > 0)
        g_string_append_c (out, ' ');
      append_filled (out,
                     sentence->many == NULL
                         ? _(sentence->one)
                         : ngettext (sentence->one, sentence->many, (gulong) MAX (count, 0)),
                     arguments);
    }
  return g_string_free (out, FALSE);
}
