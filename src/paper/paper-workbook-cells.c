/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* memfd_create() */
#include "config.h"

#include "paper-workbook-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>
#include <xlsxwriter.h>

#define MOST_DECIMALS 9
#define MOST_COLUMNS  48
#define LEAST_WIDTH   8.0
#define NAME_MOST     31      /* letters of a sheet's name, by the format */
#define TEXT_MOST     32767   /* letters of a cell, likewise */
#define ROWS_MOST     1048576 /* likewise */
#define ROOM          2.0     /* letters beside a text, for the margin and the arrow of the filter */
#define WIDE_SHEET    100.0   /* letters from which a sheet is printed across */
#define FIRST_YEAR    1900    /* dates before it are no numbers in a workbook */

struct _Sheets
{
  const Pack    *pack;
  int            fd;   /* of memory that the file is written to */
  char          *path; /* of the same */
  lxw_workbook  *file;
  lxw_format    *text;
  lxw_format    *head;
  lxw_format    *date;
  lxw_format    *moment;
  lxw_format    *numbers[MOST_DECIMALS + 1];
  lxw_format    *general;
  lxw_format    *shares[MOST_DECIMALS + 1];
  GHashTable    *names; /* of sheets, in lower case */

  lxw_worksheet *sheet;
  char          *name;
  char          *heads[MOST_COLUMNS];
  double         most[MOST_COLUMNS];
  double         widths[MOST_COLUMNS];
  guint          n_columns;
  guint          row;
  guint          column;
  lxw_error      problem; /* the first one */
};

static lxw_format *
format_new (Sheets *sheets, const char *number)
{
  lxw_format *format = workbook_add_format (sheets->file);

  format_set_align (format, LXW_ALIGN_VERTICAL_TOP);
  if (number != NULL)
    format_set_num_format (format, number);
  return format;
}

static char *
decimals_format (guint decimals, const char *after)
{
  GString *format = g_string_new ("0");

  for (guint i = 0; i < decimals; i++)
    g_string_append (format, i == 0 ? ".0" : "0");
  g_string_append (format, after);
  return g_string_free (format, FALSE);
}

static void
make_formats (Sheets *sheets)
{
  sheets->text = format_new (sheets, NULL);
  format_set_text_wrap (sheets->text);
  sheets->head = format_new (sheets, NULL);
  format_set_bold (sheets->head);
  format_set_text_wrap (sheets->head);
  format_set_bottom (sheets->head, LXW_BORDER_THIN);
  sheets->date = format_new (sheets, "yyyy-mm-dd");
  sheets->moment = format_new (sheets, "yyyy-mm-dd hh:mm");
  sheets->general = format_new (sheets, "General");
  for (guint i = 0; i <= MOST_DECIMALS; i++)
    {
      g_autofree char *number = decimals_format (i, ""), *share = decimals_format (i, "%");

      sheets->numbers[i] = format_new (sheets, number);
      sheets->shares[i] = format_new (sheets, share);
    }
}

/* Seconds since 1970 at the beginning of a day, so that the same records give the same bytes. */
static time_t
moment_of (const char *date)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc ();
  g_autofree char *text = g_strconcat (date, "T00:00:00Z", NULL);
  g_autoptr(GDateTime) moment = g_date_time_new_from_iso8601 (text, utc);

  return moment != NULL ? (time_t) g_date_time_to_unix (moment) : (time_t) 1;
}

Sheets *
sheets_new (const Pack *pack)
{
  Sheets *sheets = g_new0 (Sheets, 1);
  const PresentDossier *dossier = pack->dossier;
  g_autofree char *title = g_strdup_printf ("%s %s", dossier->evidence->code, dossier->evidence->name);
  lxw_doc_properties properties = { .title = title, .subject = (char *) _("Decision pack"), .created = moment_of (dossier->today) };

  sheets->pack = pack;
  sheets->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  sheets->fd = memfd_create ("workbook", MFD_CLOEXEC);
  if (sheets->fd < 0)
    return sheets;
  sheets->path = g_strdup_printf ("/proc/self/fd/%d", sheets->fd);
  sheets->file = workbook_new_opt (sheets->path, NULL);
  if (sheets->file == NULL)
    return sheets;
  workbook_set_properties (sheets->file, &properties);
  make_formats (sheets);
  return sheets;
}

const PresentDossier *
sheets_dossier (const Sheets *sheets)
{
  return sheets->pack->dossier;
}

const Pack *
sheets_pack (const Sheets *sheets)
{
  return sheets->pack;
}

static void
note (Sheets *sheets, lxw_error problem)
{
  if (sheets->problem == LXW_NO_ERROR)
    sheets->problem = problem;
}

/* ---- sheets ---- */

/* Where '&' begins an order, two of them are one. */
static char *
doubled (const char *text)
{
  g_auto(GStrv) pieces = g_strsplit (text, "&", -1);

  return g_strjoinv ("&&", pieces);
}

static void
print_setup (Sheets *sheets, double width)
{
  g_autofree char *model = doubled (sheets->pack->dossier->evidence->code), *name = doubled (sheets->name);
  /* Translators: stands at the foot of a printed sheet; &P and &N are the page and how many there are, and stay as they are */
  g_autofree char *foot = g_strdup_printf ("&L%s, %s, %s&R%s", model, name, sheets->pack->dossier->today, _("Page &P of &N"));

  worksheet_set_paper (sheets->sheet, sheets->pack->ask->size == PAPER_LETTER ? 1 : 9);
  if (width > WIDE_SHEET)
    worksheet_set_landscape (sheets->sheet);
  worksheet_fit_to_pages (sheets->sheet, 1, 0);
  note (sheets, worksheet_repeat_rows (sheets->sheet, 0, 0));
  note (sheets, worksheet_set_footer (sheets->sheet, foot));
}

static void
end_sheet (Sheets *sheets)
{
  double sum = 0.0;

  if (sheets->sheet == NULL)
    return;
  for (guint i = 0; i < sheets->n_columns; i++)
    {
      double width = CLAMP (sheets->widths[i] + ROOM, LEAST_WIDTH, sheets->most[i]);

      note (sheets, worksheet_set_column (sheets->sheet, (lxw_col_t) i, (lxw_col_t) i, width, NULL));
      sum += width;
    }
  worksheet_freeze_panes (sheets->sheet, 1, 0);
  note (sheets, worksheet_autofilter (sheets->sheet, 0, 0, MAX (sheets->row, 1) - 1, (lxw_col_t) (sheets->n_columns - 1)));
  print_setup (sheets, sum);
  sheets->sheet = NULL;
}

/* (transfer full): a name that a sheet can have and none has yet. */
static char *
free_name (Sheets *sheets, const char *wanted)
{
  g_autofree char *plain = g_strdelimit (g_strdup (wanted), "[]:*?/\\'", ' ');

  for (guint n = 1;; n++)
    {
      g_autofree char *end = n > 1 ? g_strdup_printf (" %u", n) : g_strdup ("");
      g_autofree char *start = g_utf8_substring (plain, 0, MIN (g_utf8_strlen (plain, -1), NAME_MOST - g_utf8_strlen (end, -1)));
      char *name = g_strconcat (start, end, NULL);

      if (g_hash_table_add (sheets->names, g_utf8_strdown (name, -1)))
        return name;
      g_free (name);
    }
}

static double
longest_line (const char *text)
{
  glong longest = 0;

  while (text != NULL)
    {
      const char *end = strchr (text, '\n');

      longest = MAX (longest, g_utf8_strlen (text, end != NULL ? end - text : -1));
      text = end != NULL ? end + 1 : NULL;
    }
  return (double) longest;
}

static void
place_heads (Sheets *sheets)
{
  for (guint i = 0; i < sheets->n_columns; i++)
    {
      note (sheets, worksheet_write_string (sheets->sheet, 0, (lxw_col_t) i, sheets->heads[i], sheets->head));
      sheets->widths[i] = MIN (longest_line (sheets->heads[i]), 14.0);
    }
  sheets->row = 1;
  sheets->column = 0;
}

static void
begin_named (Sheets *sheets, const char *wanted)
{
  g_autofree char *name = free_name (sheets, wanted);

  end_sheet (sheets);
  g_free (sheets->name);
  sheets->name = g_steal_pointer (&name);
  sheets->sheet = workbook_add_worksheet (sheets->file, sheets->name);
  if (sheets->sheet == NULL)
    note (sheets, LXW_ERROR_MEMORY_MALLOC_FAILED);
  else
    place_heads (sheets);
}

/**
 * sheets_begin:
 * @sheets: the workbook
 * @name: of the sheet, translated
 * @columns: (array length=n): from the left
 * @n: at most 48
 *
 * Finishes the sheet before, and begins another one.
 */
void
sheets_begin (Sheets *sheets, const char *name, const SheetsColumn *columns, guint n)
{
  g_return_if_fail (n <= MOST_COLUMNS);

  end_sheet (sheets);
  for (guint i = 0; i < sheets->n_columns; i++)
    g_free (sheets->heads[i]);
  sheets->n_columns = n;
  for (guint i = 0; i < n; i++)
    {
      sheets->heads[i] = g_strdup (columns[i].head);
      sheets->most[i] = columns[i].most;
    }
  begin_named (sheets, name);
}

/* ---- cells ---- */

static gboolean
is_open (const Sheets *sheets)
{
  return sheets->sheet != NULL && sheets->column < sheets->n_columns;
}

static void
widen (Sheets *sheets, double letters)
{
  sheets->widths[sheets->column] = MAX (sheets->widths[sheets->column], letters);
}

static void
put_number (Sheets *sheets, double value, lxw_format *format, double letters)
{
  if (is_open (sheets) && isfinite (value))
    {
      note (sheets, worksheet_write_number (sheets->sheet, sheets->row, (lxw_col_t) sheets->column, value, format));
      widen (sheets, letters);
    }
  sheets->column++;
}

void
sheets_text (Sheets *sheets, const char *text)
{
  if (is_open (sheets) && text != NULL && *text != '\0')
    {
      g_autofree char *cut = g_utf8_strlen (text, -1) > TEXT_MOST ? g_utf8_substring (text, 0, TEXT_MOST) : NULL;

      /* Written as a string, whatever it begins with: nothing that people wrote is ever a formula. */
      note (sheets, worksheet_write_string (sheets->sheet, sheets->row, (lxw_col_t) sheets->column, cut != NULL ? cut : text, sheets->text));
      widen (sheets, longest_line (text));
    }
  sheets->column++;
}

void
sheets_own (Sheets *sheets, const char *text)
{
  g_autofree char *told = paper_discretion_check (sheets->pack->makers, text);

  sheets_text (sheets, told);
}

void
sheets_yes (Sheets *sheets, gboolean yes)
{
  sheets_text (sheets, yes ? _("yes") : "");
}

void
sheets_count (Sheets *sheets, gint64 count)
{
  put_number (sheets, (double) count, sheets->numbers[0], 8.0);
}

void
sheets_number (Sheets *sheets, double value, int decimals)
{
  put_number (sheets, value, decimals < 0 ? sheets->general : sheets->numbers[MIN (decimals, MOST_DECIMALS)], 10.0);
}

void
sheets_share (Sheets *sheets, double share)
{
  put_number (sheets, share, sheets->shares[1], 8.0);
}

static double
rounded_percent (double share, guint decimals)
{
  double scale = pow (10.0, decimals + 2.0);

  return round (share * scale) / scale;
}

/* With as many decimals as keep what is not reached from looking as if it were. */
void
sheets_reached (Sheets *sheets, double reached, double wanted)
{
  guint decimals = 1;

  while (decimals < MOST_DECIMALS && reached < wanted && rounded_percent (reached, decimals) >= rounded_percent (wanted, decimals))
    decimals++;
  put_number (sheets, reached, sheets->shares[decimals], 8.0);
}

static void
put_moment (Sheets *sheets, const lxw_datetime *moment, gboolean with_time)
{
  if (is_open (sheets))
    {
      lxw_datetime copy = *moment;

      note (sheets, worksheet_write_datetime (sheets->sheet, sheets->row, (lxw_col_t) sheets->column, &copy,
                                              with_time ? sheets->moment : sheets->date));
      widen (sheets, with_time ? 16.0 : 10.0);
    }
  sheets->column++;
}

/* Whether @text begins with a date, and what it is; *@with_time: a time follows. */
static gboolean
read_date (const char *text, lxw_datetime *moment, gboolean *with_time)
{
  int second = -1;
  BookDay day = book_day_parse (text, &second);
  g_autofree char *date = NULL;

  if (day == 0)
    return FALSE;
  date = book_day_format (day);
  *moment = (lxw_datetime) { 0 };
  moment->year = (int) g_ascii_strtoll (date, NULL, 10);
  moment->month = (int) g_ascii_strtoll (date + 5, NULL, 10);
  moment->day = (int) g_ascii_strtoll (date + 8, NULL, 10);
  *with_time = second >= 0;
  if (second >= 0)
    {
      moment->hour = second / 3600;
      moment->min = second / 60 % 60;
      moment->sec = second % 60;
    }
  return moment->year >= FIRST_YEAR;
}

void
sheets_date (Sheets *sheets, const char *date)
{
  lxw_datetime moment;
  gboolean with_time;

  if (date != NULL && *date != '\0' && read_date (date, &moment, &with_time))
    put_moment (sheets, &moment, with_time);
  else
    sheets_text (sheets, date);
}

void
sheets_day (Sheets *sheets, BookDay day, int second)
{
  g_autofree char *date = book_day_format (day);
  g_autofree char *moment = NULL;

  if (day != 0 && second >= 0)
    moment = g_strdup_printf ("%sT%02d:%02d:%02d", date, second / 3600, second / 60 % 60, second % 60);
  sheets_date (sheets, moment != NULL ? moment : date);
}

void
sheets_skip (Sheets *sheets, guint cells)
{
  sheets->column += cells;
}

void
sheets_row (Sheets *sheets)
{
  sheets->column = 0;
  sheets->row++;
  if (sheets->row == ROWS_MOST)
    {
      g_autofree char *name = g_strdup (sheets->name);

      begin_named (sheets, name);
    }
}

/* A cell of a table whose rows are those of the data behind it; "" where there is none. */
const char *
sheets_cell (const PresentSheet *sheet, guint row, guint column)
{
  return sheet != NULL && row < sheet->rows->len ? g_array_index (sheet->rows, PresentSheetRow, row).cells[column] : "";
}

static gboolean
is_date (const char *text)
{
  return strlen (text) == strlen ("2026-01-01") && book_day_parse (text, NULL) != 0;
}

void
sheets_sheet (Sheets *sheets, const char *name, const PresentSheet *sheet, gboolean named)
{
  g_autofree SheetsColumn *columns = g_new0 (SheetsColumn, sheet->columns->len + 1);

  for (guint i = 0; i < sheet->columns->len; i++)
    {
      const PresentSheetColumn *column = &g_array_index (sheet->columns, PresentSheetColumn, i);

      columns[i].head = *column->head != '\0' ? column->head : _("what");
      columns[i].most = column->expand ? SHEETS_WIDE : SHEETS_NARROW;
    }
  sheets_begin (sheets, name, columns, sheet->columns->len);
  for (guint i = 0; i < sheet->rows->len; i++)
    {
      const PresentSheetRow *row = &g_array_index (sheet->rows, PresentSheetRow, i);

      for (guint j = 0; j < sheet->columns->len; j++)
        if (is_date (row->cells[j]))
          sheets_date (sheets, row->cells[j]);
        else if (named)
          sheets_text (sheets, row->cells[j]);
        else
          sheets_own (sheets, row->cells[j]);
      sheets_row (sheets);
    }
}

/* ---- the file ---- */

static GBytes *
read_back (int fd)
{
  const off_t length = lseek (fd, 0, SEEK_END);
  g_autofree char *bytes = length > 0 ? g_try_malloc ((gsize) length) : NULL;

  for (off_t done = 0; bytes != NULL && done < length;)
    {
      const ssize_t n = pread (fd, bytes + done, (size_t) (length - done), done);

      if (n == 0 || (n < 0 && errno != EINTR))
        return NULL;
      done += MAX (n, 0);
    }
  return bytes != NULL ? g_bytes_new_take (g_steal_pointer (&bytes), (gsize) length) : NULL;
}

/**
 * sheets_close:
 * @sheets: the workbook, with at least one sheet
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the file
 */
GBytes *
sheets_close (Sheets *sheets, GError **error)
{
  GBytes *bytes = NULL;

  if (sheets->file != NULL)
    {
      end_sheet (sheets);
      note (sheets, workbook_close (sheets->file));
      sheets->file = NULL;
      if (sheets->problem == LXW_NO_ERROR)
        bytes = read_back (sheets->fd);
    }
  if (bytes == NULL)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _("The workbook of model '%s' could not be made (%s): free some memory and try again."),
                 sheets->pack->dossier->evidence->code,
                 sheets->problem != LXW_NO_ERROR ? lxw_strerror (sheets->problem) : g_strerror (errno));
  return bytes;
}

void
sheets_free (Sheets *sheets)
{
  if (sheets == NULL)
    return;

  g_clear_pointer (&sheets->file, lxw_workbook_free);
  if (sheets->fd >= 0)
    close (sheets->fd);
  for (guint i = 0; i < sheets->n_columns; i++)
    g_free (sheets->heads[i]);
  g_hash_table_unref (sheets->names);
  g_free (sheets->path);
  g_free (sheets->name);
  g_free (sheets);
}
