/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-unit.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"

/*
 * A serial that was typed wrong. Most records refer to the unit and so follow by themselves; plans name a serial, because
 * they are made before there is a unit, and are taken along here.
 */

typedef struct
{
  gint64 unit;
  char  *serial;
  char  *expected; /* what the form had read; NULL: whatever it holds */
} Correction;

static void
correction_free (gpointer data)
{
  Correction *correction = data;

  g_free (correction->serial);
  g_free (correction->expected);
  g_free (correction);
}

/* Ids of rows that name serial ?2 within round ?1: (element-type gint64). */
static GArray *
list_named (StoreDb *db, const char *sql, gint64 round, const char *serial, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, round);
  sqlite3_bind_text (statement, 2, serial, -1, SQLITE_TRANSIENT);
  return store_db_add_integers (db, statement, _("What names the serial could not be read"), ids, error) ? g_steal_pointer (&ids) : NULL;
}

static gboolean
name_anew (StoreAction *action, BookRecordId kind, const char *field, gint64 id, BookValue serial, GError **error)
{
  const BookRecord *record = book_record (kind);
  BookValue values[BOOK_MAX_FIELDS];

  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, field, serial);
  return book_edit_store (action, record, values, &id, error);
}

static gboolean
take_along (StoreAction *action, BookRecordId kind, const char *field, const char *sql, gint64 round, const char *old, BookValue serial,
            GError **error)
{
  g_autoptr(GArray) ids = list_named (store_action_db (action), sql, round, old, error);

  if (ids == NULL)
    return FALSE;
  for (guint i = 0; i < ids->len; i++)
    if (!name_anew (action, kind, field, g_array_index (ids, gint64, i), serial, error))
      return FALSE;
  return TRUE;
}

/* Where the plan has the right serial for the same test already, that row stands and the one of the wrong serial goes. */
static gboolean
take_tests_along (StoreAction *action, gint64 round, const char *old, BookValue serial, GError **error)
{
  static const char sql[] = "SELECT id FROM round_test WHERE round = ?1 AND serial = ?2 ORDER BY id";
  const BookRecord *tests = book_record (BOOK_RECORD_ROUND_TEST);
  g_autoptr(GArray) ids = list_named (store_action_db (action), sql, round, old, error);

  if (ids == NULL)
    return FALSE;
  for (guint i = 0; i < ids->len; i++)
    {
      gint64 id = g_array_index (ids, gint64, i), planned = 0;
      g_autoptr(BookRow) row = book_record_read (store_action_db (action), tests, id, error);
      BookValue key[3];

      if (row == NULL)
        return FALSE;
      key[0] = book_value_integer (round);
      key[1] = serial;
      key[2] = *book_row_get (row, "characteristic");
      if (!book_record_find_id (store_action_db (action), tests, key, &planned, error))
        return FALSE;
      if (planned != 0 ? !book_record_delete (action, tests, id, error)
                       : !name_anew (action, BOOK_RECORD_ROUND_TEST, "serial", id, serial, error))
        return FALSE;
    }
  return TRUE;
}

/* The serial as it is to be, of a unit that exists; refused where it is empty, or another unit's. */
static gboolean
check_serial (StoreDb *db, const Correction *correction, const BookRow *row, BookValue *serial, GError **error)
{
  const BookRecord *units = book_record (BOOK_RECORD_UNIT);
  const BookField *field = book_field_find (units, "serial");
  g_autofree char *sentence = NULL;
  BookValue key[2];
  gint64 other = 0;

  if (correction->expected != NULL && g_strcmp0 (correction->expected, book_row_get (row, "serial")->text) != 0)
    {
      book_error_refuse (error, BOOK_ERROR_CHANGED, field, _("The serial was changed by somebody else meanwhile."));
      book_error_tell_now (error != NULL ? *error : NULL, book_row_get (row, "serial")->text);
      return FALSE;
    }
  if (!book_edit_text (units, "serial", correction->serial, serial, error))
    return FALSE;
  key[0] = *book_row_get (row, "round");
  key[1] = *serial;
  if (!book_record_find_id (db, units, key, &other, error))
    return FALSE;
  if (other == 0 || other == correction->unit)
    return TRUE;
  sentence = g_strdup_printf (_("Another unit of the round has the serial '%s': look at both, and correct the wrong one first."),
                              serial->text);
  return book_error_refuse (error, BOOK_ERROR_VALUE, field, sentence);
}

static gboolean
correct (BookEdit *edit, StoreAction *action, GError **error)
{
  static const char plans[] = "SELECT id FROM round_part WHERE round = ?1 AND first_serial = ?2 ORDER BY id";
  static const char changes[] = "SELECT id FROM change WHERE from_round = ?1 AND from_serial = ?2 ORDER BY id";
  const Correction *correction = edit->data;
  StoreDb *db = store_action_db (action);
  g_autoptr(BookRow) row = book_record_read (db, book_record (BOOK_RECORD_UNIT), correction->unit, error);
  BookValue serial;
  gint64 round;
  const char *old;

  if (row == NULL || !check_serial (db, correction, row, &serial, error))
    return FALSE;
  old = book_row_get (row, "serial")->text;
  round = book_row_get (row, "round")->integer;
  edit->id = correction->unit;
  book_edit_tell (action, edit->message, BOOK_RECORD_UNIT, correction->unit);
  if (g_str_equal (old, serial.text))
    return TRUE;
  return name_anew (action, BOOK_RECORD_UNIT, "serial", correction->unit, serial, error)
         && take_along (action, BOOK_RECORD_ROUND_PART, "first_serial", plans, round, old, serial, error)
         && take_along (action, BOOK_RECORD_CHANGE, "from_serial", changes, round, old, serial, error)
         && take_tests_along (action, round, old, serial, error);
}

/**
 * book_unit_correct_serial:
 * @unit: a unit
 * @serial: the serial that it has
 * @expected: (nullable): the serial that the form had read; %NULL: whatever it holds
 *
 * Puts a serial right that was typed wrong. What refers to the unit follows by its key; tests that are planned for it, the
 * first serial of a split round and of a change are named anew. Refused where another unit of the round has the serial,
 * and with %BOOK_ERROR_CHANGED where somebody else corrected it meanwhile; of an error, book_error_field() tells 'serial'.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_unit_correct_serial (gint64 unit, const char *serial, const char *expected)
{
  Correction *correction = g_new0 (Correction, 1);

  correction->unit = unit;
  correction->serial = g_strdup (serial);
  correction->expected = g_strdup (expected);
  return book_edit_new_dated (correct, "unit-serial", correction, correction_free);
}
