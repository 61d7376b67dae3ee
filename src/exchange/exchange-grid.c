/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-grid-private.h"

#include "exchange-error.h"
#include "exchange-number.h"

#include <csv.h>
#include <glib/gi18n-lib.h>
#include <string.h>

typedef struct
{
  GPtrArray *rows;  /* of GPtrArray of char* */
  GArray    *lines; /* of guint */
  GPtrArray *row;
  guint      line;
  guint      row_line;
  guint      most_columns;
} Cutter;

static char *
tidy_cell (const char *text, gsize length)
{
  g_autofree char *copy = g_strndup (text, length);
  const char *from = exchange_text_skip_spaces (copy);
  gsize n = strlen (from);

  while (n > 0)
    {
      if (g_ascii_isspace (from[n - 1]))
        n--;
      else if (n >= 2 && memcmp (from + n - 2, "\xc2\xa0", 2) == 0)
        n -= 2;
      else
        break;
    }
  return g_strndup (from, n);
}

static void
on_field (void *text, size_t length, void *user_data)
{
  Cutter *cutter = user_data;

  if (cutter->row == NULL)
    {
      cutter->row = g_ptr_array_new_with_free_func (g_free);
      cutter->row_line = cutter->line;
    }
  g_ptr_array_add (cutter->row, tidy_cell (text, length));
}

static void
on_row (int terminator, void *user_data)
{
  Cutter *cutter = user_data;

  if (cutter->row == NULL)
    {
      cutter->row = g_ptr_array_new_with_free_func (g_free); /* an empty line parts title and table */
      cutter->row_line = cutter->line;
    }
  cutter->most_columns = MAX (cutter->most_columns, cutter->row->len);
  g_array_append_val (cutter->lines, cutter->row_line);
  g_ptr_array_add (cutter->rows, g_steal_pointer (&cutter->row));
}

static void
cutter_init (Cutter *cutter)
{
  memset (cutter, 0, sizeof *cutter);
  cutter->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  cutter->lines = g_array_new (FALSE, FALSE, sizeof (guint));
  cutter->line = 1;
}

static void
cutter_clear (Cutter *cutter)
{
  g_ptr_array_unref (cutter->rows);
  g_array_unref (cutter->lines);
  g_clear_pointer (&cutter->row, g_ptr_array_unref);
}

static int
never_space (unsigned char c)
{
  return 0;
}

static int
is_line_feed (unsigned char c)
{
  return c == '\n';
}

/* Returns: whether every quote that was opened was closed */
static gboolean
cut (Cutter *cutter, const char *text, char separator, gboolean with_quotes)
{
  struct csv_parser parser;
  const char *end = text + strlen (text);
  gboolean closed;

  csv_init (&parser, CSV_REPALL_NL | CSV_STRICT_FINI);
  csv_set_delim (&parser, (unsigned char) separator);
  csv_set_quote (&parser, with_quotes ? '"' : '\x01');
  csv_set_space_func (&parser, never_space);
  csv_set_term_func (&parser, is_line_feed);
  while (text < end)
    {
      const char *feed = memchr (text, '\n', (size_t) (end - text));
      size_t length = feed != NULL ? (size_t) (feed - text) + 1 : (size_t) (end - text);

      csv_parse (&parser, text, length, on_field, on_row, cutter);
      cutter->line++;
      text += length;
    }
  closed = csv_fini (&parser, on_field, on_row, cutter) == 0;
  csv_free (&parser);
  return closed;
}

/* Line feeds alone, so that old files with carriage returns read alike. */
static char *
unify_lines (const char *text)
{
  GString *out = g_string_sized_new (strlen (text));

  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p != '\r')
        g_string_append_c (out, *p);
      else if (p[1] != '\n')
        g_string_append_c (out, '\n');
    }
  return g_string_free (out, FALSE);
}

/* Tabs are never typed into a cell: one is enough. Else the sign that stands in most lines, semicolons first. */
static char
find_separator (const char *text)
{
  guint semicolons = 0;
  guint commas = 0;

  if (strchr (text, '\t') != NULL)
    return '\t';
  for (const char *p = text; *p != '\0';)
    {
      const char *end = p + strcspn (p, "\n");

      semicolons += memchr (p, ';', (size_t) (end - p)) != NULL;
      commas += memchr (p, ',', (size_t) (end - p)) != NULL;
      p = *end == '\0' ? end : end + 1;
    }
  return semicolons > 0 && semicolons * 2 >= commas ? ';' : ',';
}

static char *
decode (const char *name, const char *text, gsize length, gboolean *was_not_utf8, GError **error)
{
  const char *charset = "WINDOWS-1252";
  g_autofree char *decoded = NULL;
  g_autoptr(GError) failure = NULL;

  if (length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0)
    {
      text += 3;
      length -= 3;
    }
  if (g_utf8_validate_len (text, length, NULL))
    return g_strndup (text, length);
  *was_not_utf8 = TRUE;
  if (length >= 2 && (memcmp (text, "\xff\xfe", 2) == 0 || memcmp (text, "\xfe\xff", 2) == 0))
    charset = "UTF-16";
  else if (memchr (text, '\0', length) != NULL)
    {
      g_set_error (
          error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
          _("%s: this is no text: save the sheet as CSV or as text with tabs, or copy its cells and paste them"),
          name);
      return NULL;
    }
  decoded = g_convert (text, (gssize) length, "UTF-8", charset, NULL, NULL, &failure);
  if (decoded == NULL || !g_utf8_validate (decoded, -1, NULL))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                   _("%s: the text is neither UTF-8 nor any other kind known here: save the sheet as CSV in UTF-8"),
                   name);
      return NULL;
    }
  return g_steal_pointer (&decoded);
}

static ExchangeGrid *
make_grid (Cutter *cutter)
{
  ExchangeGrid *grid = g_new0 (ExchangeGrid, 1);

  /* Columns that are empty all the way down at the right end are only separators. */
  for (guint r = 0; r < cutter->rows->len; r++)
    {
      const GPtrArray *row = g_ptr_array_index (cutter->rows, r);

      for (guint c = 0; c < row->len; c++)
        if (*(const char *) g_ptr_array_index (row, c) != '\0')
          {
            grid->n_columns = MAX (grid->n_columns, c + 1);
            grid->n_rows = r + 1;
          }
    }
  grid->cells = g_new0 (char *, (gsize) grid->n_rows * grid->n_columns + 1);
  grid->lines = g_new (guint, grid->n_rows + 1);
  for (guint r = 0; r < grid->n_rows; r++)
    {
      const GPtrArray *row = g_ptr_array_index (cutter->rows, r);

      grid->lines[r] = g_array_index (cutter->lines, guint, r);
      for (guint c = 0; c < grid->n_columns; c++)
        grid->cells[r * grid->n_columns + c] = g_strdup (c < row->len ? g_ptr_array_index (row, c) : "");
    }
  return grid;
}

/**
 * exchange_grid_read:
 * @name: what messages call the text
 * @text: the text
 * @length: its bytes
 * @most_rows: how many rows it may have
 * @error: return location
 *
 * Cuts a text into cells: tabs, semicolons or commas, with or without quotes.
 *
 * Returns: (transfer full) (nullable): the cells
 */
ExchangeGrid *
exchange_grid_read (const char *name, const char *text, gsize length, guint most_rows, GError **error)
{
  gboolean was_not_utf8 = FALSE;
  gboolean quote_was_open = FALSE;
  g_autofree char *decoded = decode (name, text, length, &was_not_utf8, error);
  g_autofree char *lines = NULL;
  g_autoptr(ExchangeGrid) grid = NULL;
  Cutter cutter;
  char separator;

  if (decoded == NULL)
    return NULL;
  lines = unify_lines (decoded);
  separator = find_separator (lines);
  cutter_init (&cutter);
  if (!cut (&cutter, lines, separator, TRUE))
    {
      quote_was_open = TRUE;
      cutter_clear (&cutter);
      cutter_init (&cutter);
      cut (&cutter, lines, separator, FALSE);
    }
  if (cutter.rows->len > most_rows || cutter.most_columns > EXCHANGE_GRID_MOST_COLUMNS)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                 _("%s: it may have at most %u lines and %d columns: cut it into several, or import it as a file of records"),
                 name, most_rows, EXCHANGE_GRID_MOST_COLUMNS);
  else
    grid = make_grid (&cutter);
  cutter_clear (&cutter);
  if (grid == NULL)
    return NULL;
  if (grid->n_columns == 0)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                   _("%s: the sheet is empty: copy the head and the readings"), name);
      return NULL;
    }
  grid->separator = separator;
  grid->was_not_utf8 = was_not_utf8;
  grid->quote_was_open = quote_was_open;
  return g_steal_pointer (&grid);
}

void
exchange_grid_free (ExchangeGrid *grid)
{
  if (grid == NULL)
    return;
  for (gsize i = 0; i < (gsize) grid->n_rows * grid->n_columns; i++)
    g_free (grid->cells[i]);
  g_free (grid->cells);
  g_free (grid->lines);
  g_free (grid);
}
