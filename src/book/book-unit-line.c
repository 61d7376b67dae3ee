/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-unit-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-unit.h"

void
book_unit_line_free (BookUnitLine *line)
{
  if (line == NULL)
    return;
  g_free (line->serial);
  g_free (line->issue);
  g_free (line->back_to);
  g_free (line->minutes);
  g_free (line->reason);
  g_free (line);
}

/* How many bytes at the end of @text are @word, whole and in any case; 0: not. */
static gsize
ends_in (const char *text, const char *word)
{
  g_autofree char *folded = g_utf8_casefold (word, -1);
  glong length = g_utf8_strlen (word, -1), all = g_utf8_strlen (text, -1);
  const char *tail = g_utf8_offset_to_pointer (text, MAX (all - length, 0));
  g_autofree char *end = g_utf8_casefold (tail, -1);

  if (length == 0 || length > all || !g_str_equal (end, folded))
    return 0;
  if (tail > text && !g_unichar_isspace (g_utf8_get_char (g_utf8_prev_char (tail))))
    return 0;
  return strlen (tail);
}

/* How many bytes at the beginning of @text are @word and the space or colon after it; 0: not. */
static gsize
begins_with (const char *text, const char *word)
{
  g_autofree char *folded = g_utf8_casefold (word, -1);
  glong length = g_utf8_strlen (word, -1);
  const char *after;
  g_autofree char *start = NULL;

  if (length == 0 || length >= g_utf8_strlen (text, -1))
    return 0;
  after = g_utf8_offset_to_pointer (text, length);
  if (*after != ' ' && *after != ':')
    return 0;
  start = g_utf8_casefold (text, after - text);
  return g_str_equal (start, folded) ? (gsize) (after - text) + 1 : 0;
}

/* The event that the words before the colon end in; what stands before it is the serial. */
static gboolean
take_event (BookUnitLine *line, const char *head)
{
  for (const BookChoice *choice = book_event_kinds; choice->text != NULL; choice++)
    {
      gsize length = ends_in (head, choice->text);

      if (length == 0)
        length = ends_in (head, book_choice_label (choice));
      if (length == 0)
        continue;
      line->is_event = TRUE;
      line->kind = (BookEventKind) choice->code;
      g_free (line->serial);
      line->serial = g_strstrip (g_strndup (head, strlen (head) - length));
      return TRUE;
    }
  return FALSE;
}

/* Takes @piece where it says @word and something after it, and nothing did before. */
static gboolean
take_after (char **into, const char *piece, const char *word)
{
  gsize length = begins_with (piece, word);

  if (length == 0 || **into != '\0')
    return FALSE;
  g_free (*into);
  *into = g_strstrip (g_strdup (piece + length));
  return TRUE;
}

/* How many bytes at the end of @piece are @word and a number; 0: not. */
static gsize
ends_in_numbered (const char *piece, const char *word)
{
  const char *number = piece + strlen (piece);
  g_autofree char *before = NULL;
  gsize length;

  while (number > piece && g_ascii_isdigit (number[-1]))
    number--;
  if (*number == '\0' || number == piece || number[-1] != ' ')
    return 0;
  before = g_strchomp (g_strndup (piece, (gsize) (number - piece)));
  length = ends_in (before, word);
  return length > 0 ? strlen (piece) - strlen (before) + length : 0;
}

/*
 * 'ramp stoned issue 12': the comma before the issue is easily left out. What names a step ends before it; a reason keeps
 * its words, since they may be a sentence ('stoned as in issue 12'), and an issue after a comma goes before.
 */
static gsize
take_issue_at_end (BookUnitLine *line, const char *piece)
{
  gsize length = ends_in_numbered (piece, "issue");

  if (length == 0)
    length = ends_in_numbered (piece, _("issue"));
  if (length == 0 || *line->issue != '\0')
    return 0;
  g_free (line->issue);
  line->issue = g_strdup (strrchr (piece, ' ') + 1);
  return length;
}

/* '9 min' and nothing else. */
static gboolean
take_minutes (char **into, const char *piece, const char *word)
{
  gsize length = ends_in (piece, word);
  g_autofree char *figure = length > 0 ? g_strstrip (g_strndup (piece, strlen (piece) - length)) : NULL;

  if (figure == NULL || **into != '\0' || *figure == '\0' || strspn (figure, "0123456789.,") != strlen (figure))
    return FALSE;
  g_free (*into);
  *into = g_strdelimit (g_steal_pointer (&figure), ",", '.');
  return TRUE;
}

/* Parts at commas, but for one between two digits: in many countries that is the decimal sign. */
static char **
split (const char *rest)
{
  g_autoptr(GPtrArray) pieces = g_ptr_array_new ();
  const char *from = rest;

  for (const char *at = strchr (rest, ','); at != NULL; at = strchr (at + 1, ','))
    {
      if (at > rest && g_ascii_isdigit (at[-1]) && g_ascii_isdigit (at[1]))
        continue;
      g_ptr_array_add (pieces, g_strndup (from, (gsize) (at - from)));
      from = at + 1;
    }
  g_ptr_array_add (pieces, g_strdup (from));
  g_ptr_array_add (pieces, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&pieces), FALSE);
}

static void
take_rest (BookUnitLine *line, const char *rest)
{
  g_auto(GStrv) pieces = split (rest);
  GString *reason = g_string_new (NULL);
  gboolean named = FALSE;

  for (guint i = 0; pieces[i] != NULL; i++)
    {
      const char *piece = g_strstrip (pieces[i]);

      named = named || begins_with (piece, "issue") > 0 || begins_with (piece, _("issue")) > 0;
    }
  for (guint i = 0; pieces[i] != NULL; i++)
    {
      char *piece = pieces[i];
      g_autofree char *whole = g_strdup (piece);

      if (*piece == '\0' || take_after (&line->issue, piece, "issue") || take_after (&line->issue, piece, _("issue"))
          || take_minutes (&line->minutes, piece, "min") || take_minutes (&line->minutes, piece, _("min")))
        continue;
      if (!named)
        {
          piece[strlen (piece) - take_issue_at_end (line, piece)] = '\0';
          g_strchomp (piece);
        }
      if (line->kind == BOOK_EVENT_SENT_BACK
          /* Translators: typed before the name of a step, as in 'sent back: to Fit lever, issue 2' */
          && (take_after (&line->back_to, piece, "to") || take_after (&line->back_to, piece, _("to"))))
        continue;
      g_string_append_printf (reason, "%s%s", reason->len > 0 ? ", " : "", whole);
    }
  g_free (line->reason);
  line->reason = g_string_free (reason, FALSE);
}

/**
 * book_unit_line_parse:
 * @text: what was typed or scanned: '[serial] event[: reason, issue 12, to step, 9 min]', or a serial
 *
 * Events are the words of files, or their labels in the language of the program, in any case.
 *
 * Returns: (transfer full): what it says
 */
BookUnitLine *
book_unit_line_parse (const char *text)
{
  BookUnitLine *line = g_new0 (BookUnitLine, 1);
  const char *colon = strchr (text, ':');
  g_autofree char *head = g_strstrip (colon != NULL ? g_strndup (text, (gsize) (colon - text)) : g_strdup (text));

  line->serial = g_strstrip (g_strdup (text));
  line->issue = g_strdup ("");
  line->back_to = g_strdup ("");
  line->minutes = g_strdup ("");
  line->reason = g_strdup ("");
  if (take_event (line, head))
    take_rest (line, colon != NULL ? colon + 1 : "");
  return line;
}

/**
 * book_unit_line_edit:
 * @line: in which something happened
 * @unit: to which unit
 * @step: key of the step at which it happened; 0: not said
 *
 * Returns: (transfer full): the command that stores it, as book_unit_add_event()
 */
BookEdit *
book_unit_line_edit (const BookUnitLine *line, gint64 unit, gint64 step)
{
  const char *fields[5] = { NULL }, *texts[5] = { NULL };
  const char *const names[] = { "issue", "back_to", "minutes", "reason" };
  const char *const said[] = { line->issue, line->back_to, line->minutes, line->reason };
  BookEdit *edit;
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (*said[i] != '\0')
      {
        fields[n] = names[i];
        texts[n++] = said[i];
      }
  edit = book_unit_add_event (unit, line->kind, fields, texts);
  book_unit_event_at (edit, step);
  return edit;
}
