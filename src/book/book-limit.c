/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-limit.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book-column-private.h"
#include "book-edit-private.h"

/**
 * book_limit_now_free:
 * @now: (transfer full) (nullable): from book_limit_now()
 */
void
book_limit_now_free (BookLimitNow *now)
{
  if (now == NULL)
    return;
  g_free (now->code);
  g_free (now->unit);
  g_free (now->from);
  g_free (now);
}

/**
 * book_limit_now:
 * @db: a connection in a read transaction
 * @characteristic: its key
 * @today: ISO 8601
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the characteristic with the limits in force on that day; %NULL with @error set
 */
BookLimitNow *
book_limit_now (StoreDb *db, gint64 characteristic, const char *today, GError **error)
{
  static const char sql[] =
    "SELECT c.code, c.unit, c.decimals, c.kind, l.from_date, l.nominal, l.lower, l.upper FROM characteristic AS c "
    "LEFT JOIN \"limit\" AS l ON l.characteristic = c.id AND l.from_date <= ?2 WHERE c.id = ?1 "
    "ORDER BY l.from_date DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(BookLimitNow) now = NULL;
  gboolean found;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, characteristic);
  sqlite3_bind_text (statement, 2, today, -1, SQLITE_TRANSIENT);
  if (!store_db_next (db, statement, _("The limits could not be read"), &found, error))
    return NULL;
  if (!found)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_MISSING, _("The characteristic is no longer in the book: choose another one."));
      return NULL;
    }
  now = g_new0 (BookLimitNow, 1);
  now->characteristic = characteristic;
  now->code = book_column_dup (statement, 0);
  now->unit = book_column_dup (statement, 1);
  now->decimals = sqlite3_column_int (statement, 2);
  now->measured = sqlite3_column_int (statement, 3) == BOOK_CHARACTERISTIC_MEASURED;
  now->from = book_column_dup (statement, 4);
  now->nominal = book_column_real (statement, 5, (double) NAN);
  now->lower = book_column_real (statement, 6, (double) NAN);
  now->upper = book_column_real (statement, 7, (double) NAN);
  return g_steal_pointer (&now);
}

typedef struct
{
  gint64 characteristic;
  char  *from;
  double nominal;
  double lower;
  double upper;
} Limits;

static void
limits_free (gpointer data)
{
  Limits *limits = data;

  g_free (limits->from);
  g_free (limits);
}

static BookValue
value_of (double real)
{
  return isnan (real) ? BOOK_VALUE_EMPTY : book_value_real (real);
}

/* The row of this day, so that limits set twice on a day are one row; 0: there is none. */
static gboolean
find_row (StoreDb *db, gint64 characteristic, const BookValue *from, gint64 *id, GError **error)
{
  const BookValue key[] = { book_value_integer (characteristic), *from };

  return book_record_find_id (db, book_record (BOOK_RECORD_LIMIT), key, id, error);
}

static gboolean
set_limits (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_LIMIT);
  Limits *limits = edit->data;
  const char *from = limits->from != NULL && *limits->from != '\0' ? limits->from : edit->today;
  BookValue values[BOOK_MAX_FIELDS];
  BookValue day;
  gint64 id = 0;

  if (!book_edit_text (record, "from_date", from, &day, error)
      || !find_row (store_action_db (action), limits->characteristic, &day, &id, error))
    return FALSE;
  if (id == 0)
    book_values_begin (record, values);
  else
    book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, "characteristic", book_value_integer (limits->characteristic));
  book_values_set (record, values, "from_date", day);
  book_values_set (record, values, "nominal", value_of (limits->nominal));
  book_values_set (record, values, "lower", value_of (limits->lower));
  book_values_set (record, values, "upper", value_of (limits->upper));
  edit->id = id;
  if (!book_edit_store (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_LIMIT, edit->id);
  return TRUE;
}

/**
 * book_limit_set:
 * @characteristic: whose limits
 * @from: (nullable): first day on which they hold; %NULL or "": today
 * @nominal: the value aimed at; NAN: none
 * @lower: the least that conforms; NAN: no such limit
 * @upper: the greatest that conforms; NAN: no such limit
 *
 * Sets the limits from a day on; earlier ones stay as they are, those of the same day are changed. Who may widen limits is
 * held to at the commit, as for any row.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_limit_set (gint64 characteristic, const char *from, double nominal, double lower, double upper)
{
  Limits *limits = g_new0 (Limits, 1);

  *limits = (Limits){ characteristic, g_strdup (from), nominal, lower, upper };
  return book_edit_new_dated (set_limits, "limits-set", limits, limits_free);
}
