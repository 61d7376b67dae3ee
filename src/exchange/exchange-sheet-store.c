/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A sheet into the book. What is there already is found by its visible key or its name and left as it is; what is not is
 * made. The whole sheet is one action: undo takes all of it back.
 */
#include "config.h"

#include "exchange-sheet-store-private.h"

#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_REASON 300 /* the bound of reading.reason */

static gboolean
store_unit (ExchangeStoring *self, const char *serial, gint64 *id, GError **error)
{
  BookValue key[2] = { book_value_integer (self->stored->round), book_value_text (serial, -1) };
  ExchangeNewRow row;

  if (!book_record_find_id (self->db, book_record (BOOK_RECORD_UNIT), key, id, error))
    return FALSE;
  if (*id != 0)
    return TRUE;
  exchange_new_row_begin (&row, BOOK_RECORD_UNIT);
  exchange_new_row_set (&row, "round", key[0]);
  exchange_new_row_set (&row, "serial", key[1]);
  self->stored->units++;
  return exchange_new_row_insert (self, &row, id, error);
}

static BookMark
mark_code (ExchangeReadingMark mark)
{
  switch (mark)
    {
    case EXCHANGE_READING_NONE:
    case EXCHANGE_READING_MEASURED:
      return BOOK_MARK_MEASURED;
    case EXCHANGE_READING_ABOVE:
      return BOOK_MARK_ABOVE;
    case EXCHANGE_READING_BELOW:
      return BOOK_MARK_BELOW;
    case EXCHANGE_READING_PASSED:
      return BOOK_MARK_PASSED;
    case EXCHANGE_READING_FAILED:
      return BOOK_MARK_FAILED;
    }
  return BOOK_MARK_MEASURED;
}

/* The note beside the value and the remark on the unit, as far as the field holds them. */
static char *
make_reason (const char *note, const char *remark)
{
  g_autofree char *both = note != NULL && remark != NULL ? g_strdup_printf ("%s; %s", note, remark)
                                                         : g_strdup (note != NULL ? note : remark);
  char *lines = both;

  if (both == NULL)
    return NULL;
  for (char *p = lines; *p != '\0'; p++)
    if ((guchar) *p < 0x20)
      *p = ' ';
  if (g_utf8_strlen (both, -1) > MOST_REASON)
    {
      g_autofree char *cut = g_utf8_substring (both, 0, MOST_REASON - 1);

      return g_strconcat (cut, "…", NULL);
    }
  return g_steal_pointer (&both);
}

static void
note_conflict (ExchangeStoring *self, guint r, guint c, const BookRow *found)
{
  const char *serial = exchange_sheet_get_row (self->sheet, r)->serial;
  g_autofree char *place = exchange_sheet_place ((int) exchange_sheet_get_row (self->sheet, r)->line - 1, (int) c);
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  gboolean has_value = book_row_get (found, "value")->type == SQLITE_FLOAT;
  const char *name = has_value ? "value" : "mark";
  g_autofree char *old = book_value_print (book_field_find (record, name), book_row_get (found, name));

  if (self->n_conflicts++ == 0)
    self->conflict = g_strdup_printf (_("%s: the book has '%s' for unit '%s', the sheet '%s': correct one of them, or "
                                         "say that the sheet holds another attempt"),
                                      place, old, serial, exchange_sheet_get_cell (self->sheet, r, c));
}

static gboolean
store_reading (ExchangeStoring *self, guint r, guint c, gint64 unit, const char *remark, GError **error)
{
  const ExchangeSheetRow *line = exchange_sheet_get_row (self->sheet, r);
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  ExchangeSheetReading reading = exchange_sheet_get_reading (self->sheet, r, c);
  const char *initials = line->person != NULL ? line->person : self->person_text;
  g_autofree char *reason = make_reason (reading.note, remark);
  gint64 person = 0;
  gint64 known;
  ExchangeNewRow row;
  BookValue key[4];

  exchange_new_row_begin (&row, BOOK_RECORD_READING);
  key[0] = book_value_integer (unit);
  key[1] = book_value_integer (self->columns[c].id);
  key[2] = book_value_integer (line->attempt);
  key[3] = book_value_integer ((gint64) (line->n - 1) * self->most_repeats + head->repeat);
  if (!book_record_find_id (self->db, row.record, key, &known, error))
    return FALSE;
  if (known != 0)
    {
      g_autoptr(BookRow) found = book_record_read (self->db, row.record, known, error);

      if (found == NULL)
        return FALSE;
      if (book_row_get (found, "mark")->integer == (gint64) mark_code (reading.mark)
          && !exchange_limits_differ (store_value_real (book_row_get (found, "value"), NAN), reading.value))
        self->stored->equal++;
      else
        note_conflict (self, r, c, found);
      return TRUE;
    }
  if (initials != NULL && !exchange_sheet_store_person (self, initials, &person, error))
    return FALSE;
  exchange_new_row_set (&row, "unit", key[0]);
  exchange_new_row_set (&row, "characteristic", key[1]);
  exchange_new_row_set (&row, "attempt", key[2]);
  exchange_new_row_set (&row, "n", key[3]);
  exchange_new_row_set (&row, "mark", book_value_integer (mark_code (reading.mark)));
  exchange_new_row_set_real (&row, "value", reading.value);
  exchange_new_row_set_text (&row, "reason", reason);
  exchange_new_row_set_text (&row, "taken", line->date != NULL ? line->date : self->date);
  if (person != 0)
    exchange_new_row_set (&row, "person", book_value_integer (person));
  self->stored->readings++;
  return exchange_new_row_insert (self, &row, NULL, error);
}

/* The column whose reading carries the remark on a unit: the first that failed, else the first with a reading. */
static int
find_remark_column (const ExchangeStoring *self, guint r)
{
  int first = -1;

  for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
    {
      ExchangeReadingMark mark = exchange_sheet_get_reading (self->sheet, r, c).mark;

      if (mark == EXCHANGE_READING_FAILED)
        return (int) c;
      if (mark != EXCHANGE_READING_NONE && first < 0)
        first = (int) c;
    }
  return first;
}

static gboolean
store_rows (ExchangeStoring *self, GError **error)
{
  guint n = exchange_sheet_count_rows (self->sheet);

  for (guint r = 0; r < n; r++)
    {
      const ExchangeSheetRow *line = exchange_sheet_get_row (self->sheet, r);
      int remark_column;
      gint64 unit;

      if (line->role != EXCHANGE_ROW_DATA || line->serial == NULL)
        continue;
      if (!store_action_progress (self->action, r, n, error) || !store_unit (self, line->serial, &unit, error))
        return FALSE;
      remark_column = line->remark != NULL ? find_remark_column (self, r) : -1;
      for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
        if (self->columns[c].id != 0 && exchange_sheet_get_reading (self->sheet, r, c).mark != EXCHANGE_READING_NONE
            && !store_reading (self, r, c, unit, (int) c == remark_column ? line->remark : NULL, error))
          return FALSE;
    }
  return TRUE;
}

static gboolean
store_work (StoreAction *action, gpointer data, GError **error)
{
  ExchangeStoring *self = data;
  g_autoptr(GVariantBuilder) arguments = g_variant_builder_new (G_VARIANT_TYPE (STORE_ARGUMENTS));

  self->action = action;
  self->db = store_action_db (action);
  if (!exchange_sheet_store_setup (self, error) || !store_rows (self, error))
    return FALSE;
  if (self->n_conflicts > 0)
    {
      g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, self->conflict);
      return FALSE;
    }
  g_variant_builder_add (arguments, "(sx)", "round", self->stored->round);
  g_variant_builder_add (arguments, "(sx)", "count", (gint64) self->stored->readings);
  store_action_message (action, "sheet", g_variant_builder_end (arguments));
  return TRUE;
}

/* The first day of the sheet: limits and terms hold from it. */
static const char *
find_first_date (const ExchangeStoring *self)
{
  const char *first = NULL;

  for (guint r = 0; r < exchange_sheet_count_rows (self->sheet); r++)
    {
      const char *date = exchange_sheet_get_row (self->sheet, r)->date;

      if (date != NULL && (first == NULL || strcmp (date, first) < 0))
        first = date;
    }
  return first != NULL ? first : self->date;
}

static gboolean
is_storable (const ExchangeStoring *self, GError **error)
{
  guint problems = exchange_sheet_count_problems (self->sheet);

  if (self->model_text == NULL || *self->model_text == '\0')
    g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
                         _("The sheet does not say which model it is about: name it."));
  else if (!book_date_is_valid (self->date, strlen (self->date)))
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
                 _("'%s' is no date that exists: write it as 2025-03-14."), self->date);
  else if (exchange_sheet_count_readings (self->sheet) == 0)
    g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
                         _("The sheet holds no reading: say which lines and columns hold values."));
  else if (problems > 0 && !self->target->allow_problems)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
                 ngettext ("%u thing in the sheet was not understood: correct it, or store the rest without it.",
                           "%u things in the sheet were not understood: correct them, or store the rest without them.", problems),
                 problems);
  else
    return TRUE;
  return FALSE;
}

/**
 * exchange_sheet_store:
 * @book: a book
 * @sheet: a sheet; not changed
 * @target: for what the sheet does not say, or says wrongly
 * @stored: (out): what was made and found
 * @cancellable: (nullable): stops with nothing stored
 * @error: return location
 *
 * Stores a sheet in one action. A model, round, person, unit or characteristic that the book has is used; characteristics
 * are found by code, else by name. Readings that the book has with the same value are passed over, with another value
 * they are refused. A model without a gate gets one, with a criterion for each characteristic that can be judged, at the
 * shares and confidences of its class.
 *
 * Blocks; never to be called from a window's main thread.
 *
 * Returns: %FALSE with %EXCHANGE_ERROR_UNDERSTOOD where the sheet must be corrected first, else the book's error
 */
gboolean
exchange_sheet_store (Book *book, ExchangeSheet *sheet, const ExchangeSheetTarget *target, ExchangeSheetStored *stored,
                      GCancellable *cancellable, GError **error)
{
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);
  StoreIntent intent = { "sheet", target->writer, target->sitting, NULL, NULL };
  ExchangeStoring self = { .sheet = sheet, .target = target, .stored = stored };
  gboolean good;

  memset (stored, 0, sizeof *stored);
  self.model_text = target->model != NULL ? target->model : title->model;
  self.round_text = target->round != NULL ? target->round : title->round != NULL ? title->round : "1";
  self.date = target->date != NULL ? target->date : title->date != NULL ? title->date : target->today;
  self.person_text = target->person != NULL ? target->person : title->person;
  if (!is_storable (&self, error))
    return FALSE;
  self.first_date = g_strndup (find_first_date (&self), 10);
  self.columns = g_new0 (ExchangeStoredColumn, exchange_sheet_count_columns (sheet));
  self.people = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  good = store_write (book_get_store (book), &intent, store_work, &self, &stored->receipt, cancellable, error);
  g_hash_table_unref (self.people);
  g_free (self.columns);
  g_free (self.conflict);
  g_free (self.first_date);
  return good;
}
