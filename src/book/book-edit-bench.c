/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-edit-private.h"

#include <glib/gi18n-lib.h>

/* Commands at the bench: readings, units, persons, and one field of anything. */

typedef struct
{
  gint64       unit;
  gint64       characteristic;
  guint        attempt;
  guint        n;
  BookTyped    typed;
  char        *text;  /* reason, serial, initials, value of a field */
  char        *more;  /* name of a person, name of a field, moment */
  gint64       other; /* part, role */
  BookRecordId record;
} Bench;

static void
bench_free (gpointer data)
{
  Bench *bench = data;

  g_free (bench->text);
  g_free (bench->more);
  g_free (bench);
}

static BookEdit *
new_edit (BookEditDatedWork work, const char *message)
{
  return book_edit_new_dated (work, message, g_new0 (Bench, 1), bench_free);
}

static gboolean
set_reading (BookEdit *edit, StoreAction *action, GError **error)
{
  Bench *bench = edit->data;
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  const BookValue key[] = { book_value_integer (bench->unit), book_value_integer (bench->characteristic),
                            book_value_integer (bench->attempt), book_value_integer (bench->n) };
  BookValue values[BOOK_MAX_FIELDS];
  gboolean changed;

  if (!book_record_find_id (store_action_db (action), record, key, &edit->id, error))
    return FALSE;
  changed = edit->id != 0;
  if (changed)
    {
      g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, edit->id, error);

      if (row == NULL)
        return FALSE;
      if (book_row_get (row, "voided")->integer != 0)
        {
          g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED,
                               _("The reading is voided, so its value stays as it is: undo the void first."));
          return FALSE;
        }
      book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
    }
  else
    {
      book_values_begin (record, values);
      for (guint i = 0; i < G_N_ELEMENTS (key); i++)
        book_values_set (record, values, record->key[i], key[i]);
    }
  book_values_set (record, values, "value", bench->typed.has_value ? book_value_real (bench->typed.value) : BOOK_VALUE_EMPTY);
  book_values_set (record, values, "mark", book_value_integer (bench->typed.mark));
  if (!changed || bench->more != NULL)
    book_values_set (record, values, "taken", book_value_text (bench->more, -1));
  if (!changed)
    book_values_set (record, values, "person", book_edit_person (action));
  if (bench->other != 0)
    book_values_set (record, values, "gauge", book_value_integer (bench->other));
  if (bench->text != NULL)
    {
      BookValue note;

      if (!book_edit_text (record, "reason", bench->text, &note, error))
        return FALSE;
      book_values_set (record, values, "reason", note);
    }

  if (!(changed ? book_record_update (action, record, edit->id, values, error)
                : book_record_insert (action, record, values, &edit->id, error)))
    return FALSE;
  book_edit_tell (action, changed ? "reading-changed" : "reading-typed", BOOK_RECORD_READING, edit->id);
  return TRUE;
}

/**
 * book_edit_reading:
 * @unit: a unit
 * @characteristic: a characteristic
 * @attempt: from 1
 * @n: number of the repeat, from 1
 * @typed: what was typed
 * @taken: (nullable): when it was measured
 *
 * Enters a reading, or changes the one that is there; history shows old to new.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_reading (gint64 unit, gint64 characteristic, guint attempt, guint n, const BookTyped *typed, const char *taken)
{
  BookEdit *edit = new_edit (set_reading, "reading-typed");
  Bench *bench = edit->data;

  bench->unit = unit;
  bench->characteristic = characteristic;
  bench->attempt = attempt;
  bench->n = n;
  bench->typed = *typed;
  bench->more = g_strdup (taken);
  return edit;
}

void
book_edit_reading_gauge (BookEdit *edit, gint64 gauge)
{
  g_return_if_fail (edit->work == set_reading);

  ((Bench *) edit->data)->other = gauge;
}

void
book_edit_reading_note (BookEdit *edit, const char *note)
{
  Bench *bench = edit->data;

  g_return_if_fail (edit->work == set_reading);

  g_free (bench->text);
  bench->text = g_strdup (note);
}

static gboolean
void_reading (BookEdit *edit, StoreAction *action, GError **error)
{
  Bench *bench = edit->data;
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue reason;

  if (row == NULL || !book_value_parse (book_field_find (record, "reason"), bench->text, -1, FALSE, &reason, error))
    return FALSE;
  if (book_value_is_empty (&reason))
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("A reading is voided only with a reason: write why."));
      return FALSE;
    }
  if (store_action_get_person (action) <= 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED,
                           _("A reading is voided only by name: choose first who writes."));
      return FALSE;
    }
  if (book_row_get (row, "voided")->integer != 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED, _("The reading is voided already."));
      return FALSE;
    }

  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, "voided", book_value_integer (1));
  book_values_set (record, values, "reason", reason);
  /* Who measured stays; who voided is in the journal, and here where nobody was named. */
  if (book_value_is_empty (book_row_get (row, "person")))
    book_values_set (record, values, "person", book_edit_person (action));
  book_edit_tell (action, edit->message, BOOK_RECORD_READING, edit->id);
  return book_record_update (action, record, edit->id, values, error);
}

/**
 * book_edit_void:
 * @reading: a reading
 * @reason: why
 *
 * Takes a reading out of the evidence, by name and with a reason; it stays visible.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_void (gint64 reading, const char *reason)
{
  BookEdit *edit = new_edit (void_reading, "reading-voided");
  Bench *bench = edit->data;

  edit->id = reading;
  bench->text = g_strdup (reason);
  return edit;
}

static gboolean
add_unit (BookEdit *edit, StoreAction *action, GError **error)
{
  Bench *bench = edit->data;
  const BookRecord *record = book_record (BOOK_RECORD_UNIT);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue serial;

  if (!book_value_parse (book_field_find (record, "serial"), bench->text, -1, FALSE, &serial, error))
    return FALSE;
  book_values_begin (record, values);
  book_values_set (record, values, "round", book_value_integer (bench->unit));
  book_values_set (record, values, "serial", serial);
  if (bench->other != 0)
    book_values_set (record, values, "part", book_value_integer (bench->other));
  if (!book_record_insert (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_UNIT, edit->id);
  return TRUE;
}

/**
 * book_edit_add_unit:
 * @round: in which round
 * @serial: its serial or bag number
 * @part: the part that it is; 0: the product
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_add_unit (gint64 round, const char *serial, gint64 part)
{
  BookEdit *edit = new_edit (add_unit, "unit-added");
  Bench *bench = edit->data;

  bench->unit = round;
  bench->text = g_strdup (serial);
  bench->other = part;
  return edit;
}

static gboolean
add_person (BookEdit *edit, StoreAction *action, GError **error)
{
  Bench *bench = edit->data;
  const BookRecord *record = book_record (BOOK_RECORD_PERSON);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue initials;

  if (!book_value_parse (book_field_find (record, "initials"), bench->text, -1, FALSE, &initials, error))
    return FALSE;
  book_values_begin (record, values);
  book_values_set (record, values, "initials", initials);
  book_values_set (record, values, "role", book_value_integer (bench->other));
  if (!book_record_insert (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_PERSON, edit->id);
  return bench->more == NULL || *bench->more == '\0' || book_person_name_set (action, edit->id, bench->more, error);
}

/**
 * book_edit_add_person:
 * @initials: short sign
 * @role: what the person does most
 * @name: (nullable): the full name, kept outside the journal
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_add_person (const char *initials, BookRole role, const char *name)
{
  BookEdit *edit = new_edit (add_person, "person-added");
  Bench *bench = edit->data;

  bench->text = g_strdup (initials);
  bench->other = role;
  bench->more = g_strdup (name);
  return edit;
}

static gboolean
set_field (BookEdit *edit, StoreAction *action, GError **error)
{
  Bench *bench = edit->data;
  const BookRecord *record = book_record (bench->record);
  const BookField *field = book_field_find (record, bench->more);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue value;

  if (!book_value_parse (field, bench->text, -1, TRUE, &value, error))
    return FALSE;
  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, bench->more, value);
  book_edit_tell_field (action, bench->record, edit->id, (guint) book_field_index (record, bench->more));
  return book_record_update (action, record, edit->id, values, error);
}

/**
 * book_edit_field:
 * @record: what kind
 * @id: which
 * @field: name of a field that is no reference
 * @text: what was typed
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_field (BookRecordId record, gint64 id, const char *field, const char *text)
{
  BookEdit *edit = new_edit (set_field, "field-set");
  Bench *bench = edit->data;

  g_assert (book_field_find (book_record (record), field) != NULL);
  bench->record = record;
  edit->id = id;
  bench->more = g_strdup (field);
  bench->text = g_strdup (text);
  return edit;
}
