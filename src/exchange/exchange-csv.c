/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * libcsv does the grammar. What it cannot tell is laid around it: it is fed one physical line at a time, so that the
 * line of every field is known; the bytes are checked as UTF-8 before it sees them; and a carriage return that
 * stands alone, which libcsv takes for the end of a row, is refused.
 */
#include "config.h"

#include "exchange-csv.h"

#include "exchange-error.h"

#include <csv.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#define READ_BYTES (256 * 1024)
#define BLOCK_BYTES (64 * 1024)       /* by how much libcsv lets its field buffer grow */
#define MOST_ROW_BYTES (8u * 1024 * 1024) /* an unfinished quote would otherwise take the whole file into memory */
#define MOST_FIELDS 4096
#define MARK "\xef\xbb\xbf"

typedef struct
{
  gsize offset; /* into texts; made a pointer when the row is complete, since texts may move while it grows */
  gsize length;
  guint line;
} Piece;

struct _ExchangeCsv
{
  char  *name;
  FILE  *file;   /* NULL when reading from text */
  char  *buffer; /* bytes from start to valid are checked UTF-8, from valid to end not yet */
  gsize  start;
  gsize  valid;
  gsize  end;
  gsize  size;
  gint64 total;    /* bytes of the file; 0 when unknown */
  gint64 consumed; /* bytes fed to the parser */
  gboolean at_end; /* nothing more to read into the buffer */
  gboolean done;   /* the parser was told of the end */
  const char *spoilt; /* why the byte at valid cannot be read; NULL while all is well */

  struct csv_parser parser;
  guint             line;       /* of the byte being fed */
  guint             field_line; /* on which the next field begins */
  gboolean          row_ended;
  gboolean          after_return; /* a row ended with a carriage return; only a line feed may follow */
  gboolean          lone_return;
  gboolean          too_long;
  GArray           *pieces; /* of Piece, the row being read */
  GString          *texts;
  GArray           *fields; /* of ExchangeCsvField, the row handed out */
  ExchangeCsvRow    row;
  GPtrArray        *columns;
};

static int
space_is_data (unsigned char c)
{
  return 0; /* RFC 4180: spaces are part of the field; libcsv would trim them */
}

static void
on_field (void *text, size_t length, void *user_data)
{
  ExchangeCsv *self = user_data;
  Piece piece = { self->texts->len, length, self->field_line };

  self->field_line = self->line;
  if (self->after_return)
    {
      self->lone_return = TRUE;
      return;
    }
  if (self->pieces->len >= MOST_FIELDS || self->texts->len + length > MOST_ROW_BYTES)
    {
      self->too_long = TRUE;
      return;
    }
  g_string_append_len (self->texts, text, (gssize) length);
  g_string_append_c (self->texts, '\0');
  g_array_append_val (self->pieces, piece);
}

static void
on_row (int terminator, void *user_data)
{
  ExchangeCsv *self = user_data;

  self->row_ended = TRUE;
  if (terminator == CSV_CR)
    self->after_return = TRUE;
}

static gboolean
fail_at (ExchangeCsv *self, guint line, const char *what, GError **error)
{
  guint column = self->pieces->len;

  if (self->columns != NULL && column < self->columns->len)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT, "%s:%u: %s: %s",
                 self->name, line, (const char *) g_ptr_array_index (self->columns, column), what);
  else
    {
      /* Translators: file, line, number of the column counted from 1, a sentence. */
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT, _("%s:%u: column %u: %s"),
                   self->name, line, column + 1, what);
    }
  return FALSE;
}

/* Checks what was read last. A sequence cut by the end of the buffer waits for its rest. */
static void
check_text (ExchangeCsv *self)
{
  const char *bad = NULL;
  gsize rest = self->end - self->valid;

  if (rest == 0 || self->spoilt != NULL || g_utf8_validate_len (self->buffer + self->valid, rest, &bad))
    {
      if (self->spoilt == NULL)
        self->valid = self->end;
      return;
    }
  self->valid = (gsize) (bad - self->buffer);
  rest = self->end - self->valid;
  if (*bad == '\0')
    self->spoilt = _("the file holds a NUL byte, which is no text: save it as CSV in UTF-8");
  else if (self->at_end || rest >= 4 || g_utf8_get_char_validated (bad, (gssize) rest) != (gunichar) -2)
    self->spoilt = _("the text is not UTF-8: save the file as CSV in UTF-8");
}

static gboolean
fill (ExchangeCsv *self, GError **error)
{
  gsize kept = self->end - self->start;
  gsize got;

  memmove (self->buffer, self->buffer + self->start, kept);
  self->valid -= self->start;
  self->start = 0;
  self->end = kept;
  if (self->file == NULL)
    self->at_end = TRUE;
  else
    {
      got = fread (self->buffer + kept, 1, self->size - kept, self->file);
      if (got < self->size - kept)
        {
          if (ferror (self->file))
            {
              g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE,
                           _("%s: the file could not be read to its end: %s"), self->name, g_strerror (errno));
              return FALSE;
            }
          self->at_end = TRUE;
        }
      self->end += got;
    }
  check_text (self);
  return TRUE;
}

static gboolean
fail_parse (ExchangeCsv *self, GError **error)
{
  if (csv_error (&self->parser) != CSV_EPARSE)
    return fail_at (self, self->line, _("the row is too long to be read"), error);
  if (self->parser.quoted)
    return fail_at (self, self->field_line,
                    _("a quote stands inside a quoted field: write it twice, or end the field after it"), error);
  return fail_at (self, self->field_line,
                  _("a quote stands inside a field that does not begin with one: put the whole field in quotes"),
                  error);
}

/* Feeds the parser up to the end of the line or of the checked bytes. */
static gboolean
feed (ExchangeCsv *self, GError **error)
{
  const char *from = self->buffer + self->start;
  gsize length = self->valid - self->start;
  const char *feed_end = memchr (from, '\n', length);
  gboolean whole = feed_end != NULL;

  if (whole)
    length = (gsize) (feed_end - from) + 1;
  if (csv_parse (&self->parser, from, length, on_field, on_row, self) != length)
    return fail_parse (self, error);
  if (self->after_return && !whole && from[length - 1] != '\r')
    self->lone_return = TRUE; /* the bytes after it have not ended their field yet */
  if (self->lone_return)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                   _("%s:%u: a carriage return stands alone: end the lines with LF or CR LF"), self->name, self->line);
      return FALSE;
    }
  if (self->too_long || csv_get_buffer_size (&self->parser) > MOST_ROW_BYTES)
    return fail_at (self, self->field_line,
                    _("the row is too long to be read: look for a quote that is not closed"), error);
  if (whole)
    {
      self->line++;
      self->after_return = FALSE;
      if (self->row_ended || (self->pieces->len == 0 && !self->parser.quoted))
        self->field_line = self->line;
    }
  self->start += length;
  self->consumed += (gint64) length;
  return TRUE;
}

static gboolean
finish (ExchangeCsv *self, GError **error)
{
  self->done = TRUE;
  if (self->spoilt != NULL)
    return fail_at (self, self->line, self->spoilt, error);
  if (csv_fini (&self->parser, on_field, on_row, self) != 0)
    return fail_at (self, self->field_line, _("a quote is opened and never closed: close it"), error);
  return TRUE;
}

static void
take_row (ExchangeCsv *self)
{
  g_array_set_size (self->fields, self->pieces->len);
  for (guint i = 0; i < self->pieces->len; i++)
    {
      const Piece *piece = &g_array_index (self->pieces, Piece, i);
      ExchangeCsvField *field = &g_array_index (self->fields, ExchangeCsvField, i);

      field->text = self->texts->str + piece->offset;
      field->length = piece->length;
      field->line = piece->line;
    }
  self->row.fields = (const ExchangeCsvField *) (void *) self->fields->data;
  self->row.n_fields = self->fields->len;
  self->row.line = g_array_index (self->pieces, Piece, 0).line;
}

/**
 * exchange_csv_next:
 * @csv: the reader
 * @row: (out) (nullable) (transfer none): the next row, or %NULL after the last; valid until the next call
 *
 * Reads the next row. Empty lines are passed over. A row with more or fewer fields than the header is handed out as
 * it is: whether that is wrong is the caller's affair. After a failure the reader is to be freed.
 *
 * Returns: %FALSE when the file cannot be read on: bad UTF-8, a NUL byte, a quote out of place, a full line that
 *   never ends; the message is `FILE:LINE: column: what is wrong`
 */
gboolean
exchange_csv_next (ExchangeCsv *self, const ExchangeCsvRow **row, GError **error)
{
  *row = NULL;
  g_array_set_size (self->pieces, 0);
  g_string_truncate (self->texts, 0);
  self->row_ended = FALSE;
  while (!self->row_ended)
    {
      if (self->start < self->valid)
        {
          if (!feed (self, error))
            return FALSE;
        }
      else if (self->spoilt == NULL && !self->at_end)
        {
          if (!fill (self, error))
            return FALSE;
        }
      else if (self->done)
        return TRUE;
      else if (!finish (self, error))
        return FALSE;
    }
  take_row (self);
  *row = &self->row;
  return TRUE;
}

/* The separator is the one of the three that stands most often outside quotes in the first line that holds text. */
static char
find_separator (const char *text, gsize length)
{
  static const char separators[] = { ',', ';', '\t' };
  guint counts[G_N_ELEMENTS (separators)] = { 0 };
  gboolean quoted = FALSE;
  gboolean any = FALSE;
  guint best = 0;

  for (gsize i = 0; i < length; i++)
    {
      if (text[i] == '"')
        quoted = !quoted;
      if ((text[i] == '\n' || text[i] == '\r') && !quoted)
        {
          if (any)
            break;
          continue;
        }
      any = TRUE;
      for (guint s = 0; s < G_N_ELEMENTS (separators); s++)
        counts[s] += !quoted && text[i] == separators[s];
    }
  for (guint s = 1; s < G_N_ELEMENTS (separators); s++)
    if (counts[s] > counts[best])
      best = s;
  return separators[best];
}

static gboolean
read_header (ExchangeCsv *self, GError **error)
{
  const ExchangeCsvRow *row;
  g_autoptr(GPtrArray) columns = g_ptr_array_new_with_free_func (g_free);

  if (!fill (self, error))
    return FALSE;
  if (self->valid - self->start >= strlen (MARK) && memcmp (self->buffer + self->start, MARK, strlen (MARK)) == 0)
    {
      self->start += strlen (MARK);
      self->consumed += (gint64) strlen (MARK);
    }
  csv_set_delim (&self->parser, (unsigned char) find_separator (self->buffer + self->start, self->valid - self->start));
  if (!exchange_csv_next (self, &row, error))
    return FALSE;
  if (row == NULL)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                   _("%s:1: the file is empty: its first line must name the columns"), self->name);
      return FALSE;
    }
  for (guint i = 0; i < row->n_fields; i++)
    g_ptr_array_add (columns, g_strdup (row->fields[i].text));
  self->columns = g_steal_pointer (&columns);
  return TRUE;
}

static ExchangeCsv *
new_reader (const char *name, gsize size)
{
  ExchangeCsv *self = g_new0 (ExchangeCsv, 1);

  self->name = g_strdup (name);
  self->size = size;
  self->buffer = g_malloc (size);
  self->line = 1;
  self->field_line = 1;
  self->pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
  self->fields = g_array_new (FALSE, FALSE, sizeof (ExchangeCsvField));
  self->texts = g_string_new (NULL);
  csv_init (&self->parser, CSV_STRICT | CSV_STRICT_FINI); /* fails on a null pointer only */
  csv_set_space_func (&self->parser, space_is_data);
  csv_set_blk_size (&self->parser, BLOCK_BYTES);
  return self;
}

/**
 * exchange_csv_open:
 * @path: a file
 *
 * Opens a file and reads its header line, which also says whether comma, semicolon or tab separates the fields.
 *
 * Returns: (transfer full) (nullable): the reader, standing before the first row
 */
ExchangeCsv *
exchange_csv_open (const char *path, GError **error)
{
  g_autoptr(ExchangeCsv) self = new_reader (path, READ_BYTES);
  struct stat status;

  self->file = g_fopen (path, "rbe");
  if (self->file == NULL || fstat (fileno (self->file), &status) != 0)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE,
                   _("%s: the file cannot be opened: %s"), path, g_strerror (errno));
      return NULL;
    }
  if (S_ISDIR (status.st_mode))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE,
                   _("%s: this is a folder: name a file"), path);
      return NULL;
    }
  self->total = S_ISREG (status.st_mode) ? (gint64) status.st_size : 0;
  if (!read_header (self, error))
    return NULL;
  return g_steal_pointer (&self);
}

/**
 * exchange_csv_open_text:
 * @name: what messages call the text
 * @text: the text; copied
 * @length: its bytes
 *
 * As exchange_csv_open(), for a text in memory.
 *
 * Returns: (transfer full) (nullable): the reader
 */
ExchangeCsv *
exchange_csv_open_text (const char *name, const char *text, gsize length, GError **error)
{
  g_autoptr(ExchangeCsv) self = new_reader (name, MAX (length, 1));

  if (length > 0) /* the text may be NULL then */
    memcpy (self->buffer, text, length);
  self->end = length;
  self->total = (gint64) length;
  if (!read_header (self, error))
    return NULL;
  return g_steal_pointer (&self);
}

void
exchange_csv_free (ExchangeCsv *self)
{
  if (self == NULL)
    return;
  if (self->file != NULL)
    fclose (self->file);
  csv_free (&self->parser);
  g_free (self->name);
  g_free (self->buffer);
  g_array_unref (self->pieces);
  g_array_unref (self->fields);
  g_string_free (self->texts, TRUE);
  g_clear_pointer (&self->columns, g_ptr_array_unref);
  g_free (self);
}

char
exchange_csv_get_separator (const ExchangeCsv *self)
{
  return (char) self->parser.delim_char;
}

guint
exchange_csv_count_columns (const ExchangeCsv *self)
{
  return self->columns->len;
}

const char *
exchange_csv_get_column (const ExchangeCsv *self, guint column)
{
  g_return_val_if_fail (column < self->columns->len, NULL);
  return g_ptr_array_index (self->columns, column);
}

/**
 * exchange_csv_get_share:
 * @csv: the reader
 *
 * Returns: how much of the file was read, from 0 to 1; 0 where the size is not known (a pipe)
 */
double
exchange_csv_get_share (const ExchangeCsv *self)
{
  return self->total > 0 ? MIN (1.0, (double) self->consumed / (double) self->total) : 0.0;
}

/**
 * exchange_csv_write_field:
 * @out: where the field is appended
 * @text: its text
 * @length: bytes of @text
 * @separator: what stands between fields, which is not written here
 *
 * Writes one field, in quotes only where RFC 4180 needs them.
 */
void
exchange_csv_write_field (GString *out, const char *text, gsize length, char separator)
{
  gboolean quote = FALSE;

  for (gsize i = 0; i < length && !quote; i++)
    quote = text[i] == separator || text[i] == '"' || text[i] == '\n' || text[i] == '\r';
  if (!quote)
    {
      g_string_append_len (out, text, (gssize) length);
      return;
    }
  g_string_append_c (out, '"');
  for (gsize i = 0; i < length; i++)
    {
      if (text[i] == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, text[i]);
    }
  g_string_append_c (out, '"');
}
