/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wrapped sentences and aligned tables for a terminal. */

#include "config.h"

#include "present-text.h"

#include <string.h>

#define GAP 2       /* columns between two columns of a table */
#define NARROWEST 6 /* a column that must shrink keeps this many, so that words stay recognisable */

typedef struct
{
  char        *head;
  PresentAlign align;
} Column;

struct _PresentTable
{
  GArray    *columns; /* of Column */
  GPtrArray *rows;    /* of char**, as long as columns, escaped */
};

static guint
width_of (gunichar c)
{
  if (g_unichar_iszerowidth (c))
    return 0;
  return g_unichar_iswide (c) ? 2 : 1;
}

/**
 * present_text_columns:
 * @text: valid UTF-8
 *
 * Returns: how many columns of a terminal @text takes
 */
guint
present_text_columns (const char *text)
{
  guint columns = 0;

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    columns += width_of (g_utf8_get_char (p));
  return columns;
}

/* Also the marks that turn the reading direction: they can make a line show other than what it holds. */
static gboolean
is_unsafe (gunichar c)
{
  return g_unichar_iscntrl (c) || c == 0x2028 || c == 0x2029 || (c >= 0x202a && c <= 0x202e) ||
         (c >= 0x2066 && c <= 0x2069) || c == 0xfeff;
}

static char *
escape (const char *text, gboolean keep_lines)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  GString *out = g_string_sized_new (strlen (valid));

  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p))
    {
      const gunichar c = g_utf8_get_char (p);

      if (c == '\n' && keep_lines)
        g_string_append_c (out, '\n');
      else if (c == '\n')
        g_string_append (out, "\\n");
      else if (c == '\t')
        g_string_append (out, "\\t");
      else if (c == '\r')
        g_string_append (out, "\\r");
      else if (is_unsafe (c))
        g_string_append_printf (out, "\\u%04x", c);
      else
        g_string_append_unichar (out, c);
    }
  return g_string_free (out, FALSE);
}

/**
 * present_text_escape:
 * @text: any bytes
 *
 * Returns: (transfer full): valid UTF-8 on one line: control characters as '\n', '\t' or '\u001b', bytes that
 *   are not UTF-8 as the replacement character
 */
char *
present_text_escape (const char *text)
{
  return escape (text, FALSE);
}

/* A figure stays with what follows it: '90 %', '12 mm'. */
static gboolean
is_break (const char *start, const char *space)
{
  return space > start && !(g_ascii_isdigit (space[-1]) && (space[1] == '%' || g_ascii_isalpha (space[1])));
}

/* Cuts the next line of at most @width columns off *@text: where a line ends, at a space, else in the middle of a word. */
static char *
take_line (const char **text, guint width)
{
  const char *start = *text;
  const char *space = NULL;
  const char *p = start;
  guint columns = 0;

  while (*p != '\0' && *p != '\n')
    {
      const guint next = width_of (g_utf8_get_char (p));

      if (columns + next > width && p > start)
        break;
      if (*p == ' ' && (is_break (start, p) || space == NULL))
        space = p;
      columns += next;
      p = g_utf8_next_char (p);
    }

  if (*p == '\n')
    {
      *text = p + 1;
      return g_strndup (start, (gsize) (p - start));
    }
  if (*p != '\0' && !(*p == ' ' && is_break (start, p)) && space != NULL && space > start)
    p = space;
  *text = p;
  while (**text == ' ')
    (*text)++;
  return g_strndup (start, (gsize) (p - start));
}

/**
 * present_text_wrap:
 * @text: one paragraph
 * @width: columns a line may take, both prefixes included
 * @first: what stands before the first line
 * @rest: what stands before all others
 *
 * Control characters are escaped.
 *
 * Returns: (transfer full): the lines, each ended
 */
char *
present_text_wrap (const char *text, guint width, const char *first, const char *rest)
{
  g_autofree char *escaped = present_text_escape (text);
  const char *left = escaped;
  const char *prefix = first;
  GString *out = g_string_new (NULL);

  do
    {
      const guint taken = present_text_columns (prefix);
      g_autofree char *line = take_line (&left, width > taken + NARROWEST ? width - taken : NARROWEST);

      g_strchomp (line);
      g_string_append_printf (out, "%s%s\n", prefix, line);
      prefix = rest;
    }
  while (*left != '\0');
  return g_string_free (out, FALSE);
}

/**
 * present_text_add:
 * @out: is added to
 * @text: (nullable): one paragraph; %NULL and "" add nothing
 * @width: columns a line may take, both prefixes included
 * @first: what stands before the first line
 * @rest: what stands before all others
 *
 * As present_text_wrap(), behind what is there.
 */
void
present_text_add (GString *out, const char *text, guint width, const char *first, const char *rest)
{
  g_autofree char *lines = NULL;

  if (text == NULL || *text == '\0')
    return;
  lines = present_text_wrap (text, width, first, rest);
  g_string_append (out, lines);
}

static void
clear_column (gpointer data)
{
  g_free (((Column *) data)->head);
}

/**
 * present_table_new:
 *
 * Returns: (transfer full): a table without columns
 */
PresentTable *
present_table_new (void)
{
  PresentTable *table = g_new0 (PresentTable, 1);

  table->columns = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (table->columns, clear_column);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  return table;
}

void
present_table_free (PresentTable *table)
{
  g_array_unref (table->columns);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

/**
 * present_table_add_column:
 * @table: a table without rows
 * @head: heading of the column
 * @align: numbers stand right, words left
 */
void
present_table_add_column (PresentTable *table, const char *head, PresentAlign align)
{
  Column column = { present_text_escape (head), align };

  g_return_if_fail (table->rows->len == 0);
  g_array_append_val (table->columns, column);
}

/**
 * present_table_add_row:
 * @table: a table
 * @cells: (array): a cell for each column; %NULL is empty. A line that ends in one goes on below, within the column
 */
void
present_table_add_row (PresentTable *table, const char * const *cells)
{
  char **row = g_new0 (char *, table->columns->len + 1);

  for (guint i = 0; i < table->columns->len; i++)
    row[i] = escape (cells[i] == NULL ? "" : cells[i], TRUE);
  g_ptr_array_add (table->rows, row);
}

/* Of the longest line of a cell. */
static guint
cell_columns (const char *cell)
{
  g_auto(GStrv) lines = g_strsplit (cell, "\n", -1);
  guint most = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      const guint columns = present_text_columns (lines[i]);

      most = MAX (most, columns);
    }
  return most;
}

/* Natural widths, then the widest column gives up columns one by one until the table fits. */
static guint *
find_widths (PresentTable *table, guint width)
{
  const guint n = table->columns->len;
  guint *widths = g_new0 (guint, n + 1);
  guint sum = n > 0 ? GAP * (n - 1) : 0;

  for (guint i = 0; i < n; i++)
    {
      widths[i] = present_text_columns (g_array_index (table->columns, Column, i).head);
      for (guint r = 0; r < table->rows->len; r++)
        {
          const guint columns = cell_columns (((char **) g_ptr_array_index (table->rows, r))[i]);

          widths[i] = MAX (widths[i], columns);
        }
      sum += widths[i];
    }

  while (sum > width)
    {
      guint widest = 0;

      for (guint i = 1; i < n; i++)
        if (widths[i] > widths[widest])
          widest = i;
      if (widths[widest] <= NARROWEST)
        break;
      widths[widest]--;
      sum--;
    }
  return widths;
}

static void
append_padded (GString *out, const char *text, guint width, PresentAlign align)
{
  const guint taken = present_text_columns (text);
  const guint pad = width > taken ? width - taken : 0;

  if (align == PRESENT_ALIGN_RIGHT)
    g_string_append_printf (out, "%*s", (int) pad, "");
  g_string_append (out, text);
  if (align == PRESENT_ALIGN_LEFT)
    g_string_append_printf (out, "%*s", (int) pad, "");
}

/* One row over as many lines as its longest cell needs. */
static void
append_row (GString *out, PresentTable *table, const guint *widths, char **cells)
{
  const guint n = table->columns->len;
  g_autofree const char **left = g_new0 (const char *, n + 1);
  gboolean more;

  for (guint i = 0; i < n; i++)
    left[i] = cells[i];
  do
    {
      const gsize start = out->len;

      more = FALSE;
      for (guint i = 0; i < n; i++)
        {
          g_autofree char *line = take_line (&left[i], MAX (widths[i], 1u));

          if (i > 0)
            g_string_append_printf (out, "%*s", GAP, "");
          append_padded (out, g_strchomp (line), widths[i], g_array_index (table->columns, Column, i).align);
          more = more || *left[i] != '\0';
        }
      while (out->len > start && out->str[out->len - 1] == ' ')
        g_string_truncate (out, out->len - 1);
      g_string_append_c (out, '\n');
    }
  while (more);
}

/**
 * present_table_to_text:
 * @table: a table
 * @width: columns it may take; kept as long as each column can have a few
 *
 * Returns: (transfer full): heading, a line of dashes, the rows; empty for a table without columns
 */
char *
present_table_to_text (PresentTable *table, guint width)
{
  const guint n = table->columns->len;
  g_autofree guint *widths = find_widths (table, width);
  g_autofree char **heads = g_new0 (char *, n + 1);
  GString *out = g_string_new (NULL);

  if (n == 0)
    return g_string_free (out, FALSE);

  for (guint i = 0; i < n; i++)
    heads[i] = g_array_index (table->columns, Column, i).head;
  append_row (out, table, widths, heads);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *dashes = g_strnfill (widths[i], '-');

      g_string_append_printf (out, "%s%*s", dashes, i + 1 < n ? GAP : 0, "");
    }
  g_string_append_c (out, '\n');
  for (guint r = 0; r < table->rows->len; r++)
    append_row (out, table, widths, g_ptr_array_index (table->rows, r));
  return g_string_free (out, FALSE);
}
