/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-change.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-change-old-private.h"

/* What stands in the book now, as the old side of a change item. */

gboolean
book_setting_in_force (StoreDb *db, gint64 step, const char *name, gsize length, const char *day, gint64 *id, GError **error)
{
  static const char sql[] = "SELECT id FROM step_setting WHERE step = ?1 AND name = ?2 AND from_date <= ?3 "
                            "ORDER BY from_date DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, step);
  sqlite3_bind_text (statement, 2, name, (int) length, SQLITE_STATIC);
  sqlite3_bind_text (statement, 3, day, 10, SQLITE_STATIC);
  return store_db_ask_integer (db, statement, _("The settings could not be read"), NULL, id, error);
}

gboolean
book_limit_in_force (StoreDb *db, gint64 characteristic, const char *day, gint64 *id, GError **error)
{
  static const char sql[] = "SELECT id FROM \"limit\" WHERE characteristic = ?1 AND from_date <= ?2 "
                            "ORDER BY from_date DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, characteristic);
  sqlite3_bind_text (statement, 2, day, 10, SQLITE_STATIC);
  return store_db_ask_integer (db, statement, _("The limits could not be read"), NULL, id, error);
}

/* The newest by its date, then by its label; one that was withdrawn only where there is no other. */
static gboolean
newest_revision (StoreDb *db, gint64 part, gint64 *id, GError **error)
{
  static const char sql[] = "SELECT id FROM revision WHERE part = ?1 "
                            "ORDER BY state = 3, coalesce (date, '') DESC, length (label) DESC, label DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  G_STATIC_ASSERT (BOOK_REVISION_WITHDRAWN == 3);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, part);
  return store_db_ask_integer (db, statement, _("The revisions could not be read"), NULL, id, error);
}

static void
append_unit (GString *text, const BookValue *unit)
{
  if (unit->type == SQLITE_TEXT && unit->length > 0)
    {
      g_string_append_c (text, ' ');
      g_string_append_len (text, unit->text, (gssize) unit->length);
    }
}

char *
book_limits_words (const BookValue *lower, const BookValue *upper, const BookValue *unit)
{
  GString *text = g_string_new (NULL);
  gboolean has_lower = !book_value_is_empty (lower), has_upper = !book_value_is_empty (upper);

  if (has_lower && !has_upper)
    g_string_append (text, "≥ ");
  else if (has_upper && !has_lower)
    g_string_append (text, "≤ ");
  if (has_lower)
    book_number_append (text, store_value_real (lower, 0));
  if (has_lower && has_upper)
    g_string_append (text, " … ");
  if (has_upper)
    book_number_append (text, store_value_real (upper, 0));
  if (has_lower || has_upper)
    append_unit (text, unit);
  return g_string_free (text, FALSE);
}

char *
book_setting_words (const BookValue *value, const BookValue *unit)
{
  GString *text = g_string_new (NULL);

  book_number_append (text, store_value_real (value, 0));
  append_unit (text, unit);
  return g_string_free (text, FALSE);
}

static gboolean
old_setting (StoreDb *db, const BookValue *step, const BookValue *name, const char *today, char **old, GError **error)
{
  g_autoptr(BookRow) row = NULL;
  gint64 id;

  if (!book_setting_in_force (db, step->integer, name->text, name->length, today, &id, error))
    return FALSE;
  if (id == 0)
    return TRUE;
  row = book_record_read (db, book_record (BOOK_RECORD_STEP_SETTING), id, error);
  if (row == NULL)
    return FALSE;
  *old = book_setting_words (book_row_get (row, "value"), book_row_get (row, "unit"));
  return TRUE;
}

static gboolean
old_limit (StoreDb *db, gint64 characteristic, const char *today, char **old, GError **error)
{
  g_autoptr(BookRow) owner = book_record_read (db, book_record (BOOK_RECORD_CHARACTERISTIC), characteristic, error);
  g_autoptr(BookRow) row = NULL;
  gint64 id;

  if (owner == NULL || !book_limit_in_force (db, characteristic, today, &id, error))
    return FALSE;
  if (id == 0)
    return TRUE;
  row = book_record_read (db, book_record (BOOK_RECORD_LIMIT), id, error);
  if (row == NULL)
    return FALSE;
  *old = book_limits_words (book_row_get (row, "lower"), book_row_get (row, "upper"), book_row_get (owner, "unit"));
  return TRUE;
}

gboolean
book_change_old (StoreDb *db, const char *today, BookValue *item, char **old, GError **error)
{
  const BookRecord *items = book_record (BOOK_RECORD_CHANGE_ITEM);
  const BookValue *part = &item[book_field_index (items, "part")];
  const BookValue *step = &item[book_field_index (items, "step")];
  const BookValue *setting = &item[book_field_index (items, "setting")];
  const BookValue *characteristic = &item[book_field_index (items, "characteristic")];
  BookValue *revision = &item[book_field_index (items, "old_revision")];
  BookValue *text = &item[book_field_index (items, "old")];

  *old = NULL;
  if (part->type == SQLITE_INTEGER && book_value_is_empty (revision))
    {
      gint64 id;

      if (!newest_revision (db, part->integer, &id, error))
        return FALSE;
      if (id != 0)
        *revision = book_value_integer (id);
    }
  if (!book_value_is_empty (text))
    return TRUE;
  if (step->type == SQLITE_INTEGER && setting->type == SQLITE_TEXT && !old_setting (db, step, setting, today, old, error))
    return FALSE;
  if (characteristic->type == SQLITE_INTEGER && !old_limit (db, characteristic->integer, today, old, error))
    return FALSE;
  if (*old != NULL && **old != '\0')
    *text = book_value_text (*old, -1);
  return TRUE;
}

/**
 * book_change_fill_old:
 * @db: any connection
 * @item: a form of a change item that says a part, a step with its setting, or a characteristic
 * @today: ISO 8601
 * @error: return location
 *
 * Fills in what the item starts from, where that is empty: the newest revision of the part, or the setting or limits in
 * force. The commands do the same, so a form needs it only to show it.
 *
 * Returns: whether the book could be asked
 */
gboolean
book_change_fill_old (StoreDb *db, BookForm *item, const char *today, GError **error)
{
  const BookRecord *items = book_record (BOOK_RECORD_CHANGE_ITEM);
  static const char *const filled[] = { "old_revision", "old" };
  g_autofree char *old = NULL;
  BookValue values[BOOK_MAX_FIELDS];

  g_return_val_if_fail (item->record == items, FALSE);

  for (guint i = 0; i < items->n_fields; i++)
    {
      const BookFormField *field = &item->fields[i];

      values[i] = BOOK_VALUE_EMPTY;
      if (field->refers != 0)
        values[i] = book_value_integer (field->refers);
      else if (field->field->kind == BOOK_KIND_TEXT && *field->text != '\0')
        values[i] = book_value_text (field->text, -1);
    }
  if (!book_change_old (db, today, values, &old, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (filled); i++)
    {
      const BookValue *value = &values[book_field_index (items, filled[i])];

      if (*book_form_find (item, filled[i])->text == '\0' && !book_form_set (item, db, filled[i], value, error))
        return FALSE;
    }
  return TRUE;
}
