/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-readings.h"

#include <glib/gi18n.h>
#include <math.h>

/* Units in the order in which they were built: by the round's place, then as they were entered. */
static const char sql_rounds[] =
    "SELECT id FROM round WHERE model = ?1 ORDER BY opened IS NULL, opened, id";
static const char sql_units[] = "SELECT id FROM unit WHERE round = ?1 ORDER BY id";
/* Both run along the index of the visible key, so a million keys need no sorting. */
static const char sql_of_unit[] =
    "SELECT id FROM reading WHERE unit = ?1 ORDER BY characteristic, attempt, n, id";
static const char sql_of_unit_and_characteristic[] =
    "SELECT id FROM reading WHERE unit = ?1 AND characteristic = ?2 ORDER BY attempt, n, id";

static const char sql_row[] =
    "SELECT round.label, unit.serial, characteristic.code, characteristic.name, characteristic.unit,"
    " characteristic.kind, characteristic.decimals, reading.attempt, reading.n, reading.value, reading.mark,"
    " reading.voided, reading.reason, reading.taken, person.initials, gauge.name, unit.id, characteristic.id"
    " FROM reading JOIN unit ON unit.id = reading.unit JOIN round ON round.id = unit.round"
    " JOIN characteristic ON characteristic.id = reading.characteristic"
    " LEFT JOIN person ON person.id = reading.person LEFT JOIN gauge ON gauge.id = reading.gauge"
    " WHERE reading.id = ?1";

void
book_reading_row_free (BookReadingRow *row)
{
  if (row == NULL)
    return;
  g_free (row->round);
  g_free (row->serial);
  g_free (row->code);
  g_free (row->name);
  g_free (row->unit);
  g_free (row->reason);
  g_free (row->taken);
  g_free (row->person);
  g_free (row->gauge);
  g_free (row);
}

/* Appends the first column of every row of @sql with the parameters @first and, if it has a second one, @second. */
static gboolean
append_keys (StoreDb *db, const char *sql, gint64 first, gint64 second, GArray *keys, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, first);
  if (sqlite3_bind_parameter_count (statement) > 1)
    sqlite3_bind_int64 (statement, 2, second);
  return store_db_add_integers (db, statement, _("The readings could not be listed"), keys, error);
}

static gboolean
append_of_unit (StoreDb *db, gint64 unit, gint64 characteristic, GArray *keys, GError **error)
{
  if (characteristic != 0)
    return append_keys (db, sql_of_unit_and_characteristic, unit, characteristic, keys, error);
  return append_keys (db, sql_of_unit, unit, 0, keys, error);
}

/**
 * book_readings_keys:
 * @db: a connection
 * @ask: which readings
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Lists the keys of readings in order of round, unit, characteristic, attempt and repeat; voided ones are among them.
 *
 * Returns: (transfer full) (element-type gint64) (nullable): the keys; %NULL on failure
 */
GArray *
book_readings_keys (StoreDb *db, const BookReadingsAsk *ask, GCancellable *cancellable, GError **error)
{
  g_autoptr(GArray) rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GArray) units = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (ask->unit != 0)
    g_array_append_val (units, ask->unit);
  else if (ask->rounds != NULL)
    g_array_append_vals (rounds, ask->rounds, ask->n_rounds);
  else if (!append_keys (db, sql_rounds, ask->model, 0, rounds, error))
    return NULL;

  for (guint i = 0; i < rounds->len; i++)
    if (!append_keys (db, sql_units, g_array_index (rounds, gint64, i), 0, units, error))
      return NULL;

  for (guint i = 0; i < units->len; i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
          !append_of_unit (db, g_array_index (units, gint64, i), ask->characteristic, keys, error))
        return NULL;
    }
  return g_steal_pointer (&keys);
}

/**
 * book_reading_notes:
 * @db: a connection
 * @round: a round
 * @error: return location
 *
 * Returns: (transfer full) (element-type gint64 utf8) (nullable): notes of its readings, and reasons of those voided, by key
 */
GHashTable *
book_reading_notes (StoreDb *db, gint64 round, GError **error)
{
  static const char sql[] = "SELECT r.id, r.reason FROM unit u JOIN reading r ON r.unit = u.id WHERE u.round = ?1 AND r.reason IS NOT NULL";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GHashTable) notes = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, round);
  for (;;)
    {
      gint64 key;

      if (!store_db_next (db, statement, _("The readings could not be read"), &row, error))
        return NULL;
      if (!row)
        return g_steal_pointer (&notes);
      key = sqlite3_column_int64 (statement, 0);
      g_hash_table_insert (notes, g_memdup2 (&key, sizeof key), g_strdup ((const char *) sqlite3_column_text (statement, 1)));
    }
}

/**
 * book_check_keys:
 * @db: a connection
 * @characteristic: a check
 * @person: who checked
 * @error: return location
 *
 * Returns: (transfer full) (element-type gint64) (nullable): the keys of the person's trials of the check, as entered
 */
GArray *
book_check_keys (StoreDb *db, gint64 characteristic, gint64 person, GError **error)
{
  static const char sql[] = "SELECT id FROM gauge_trial WHERE characteristic = ?1 AND person = ?2 AND verdict IS NOT NULL ORDER BY id";
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  return append_keys (db, sql, characteristic, person, keys, error) ? g_steal_pointer (&keys) : NULL;
}

static char *
dup_column (StoreStatement *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return g_strdup (text != NULL ? text : "");
}

static BookReadingRow *
read_row (StoreStatement *statement, gint64 id)
{
  BookReadingRow *row = g_new0 (BookReadingRow, 1);

  row->id = id;
  row->round = dup_column (statement, 0);
  row->serial = dup_column (statement, 1);
  row->code = dup_column (statement, 2);
  row->name = dup_column (statement, 3);
  row->unit = dup_column (statement, 4);
  row->kind = (BookCharacteristicKind) sqlite3_column_int (statement, 5);
  row->decimals = (guint) sqlite3_column_int (statement, 6);
  row->attempt = (guint) sqlite3_column_int (statement, 7);
  row->n = (guint) sqlite3_column_int (statement, 8);
  row->value = sqlite3_column_type (statement, 9) == SQLITE_NULL ? NAN : sqlite3_column_double (statement, 9);
  row->mark = (BookMark) sqlite3_column_int (statement, 10);
  row->voided = sqlite3_column_int (statement, 11) != 0;
  row->reason = dup_column (statement, 12);
  row->taken = dup_column (statement, 13);
  row->person = dup_column (statement, 14);
  row->gauge = dup_column (statement, 15);
  row->unit_key = sqlite3_column_int64 (statement, 16);
  row->characteristic_key = sqlite3_column_int64 (statement, 17);
  return row;
}

/**
 * book_readings_read:
 * @db: a connection
 * @keys: (array length=n_keys): keys of readings
 * @n_keys: how many, at most 128 when called on the main thread
 * @rows: (out caller-allocates) (array length=n_keys): the readings, each to be freed with book_reading_row_free();
 *   %NULL for one that is gone
 * @error: return location
 *
 * Reads some readings by key.
 *
 * Returns: %FALSE on failure; nothing is left in @rows then
 */
gboolean
book_readings_read (StoreDb *db, const gint64 *keys, guint n_keys, BookReadingRow **rows, GError **error)
{
  const char *what = _("The readings could not be read");

  memset (rows, 0, n_keys * sizeof *rows);
  for (guint i = 0; i < n_keys; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (db, sql_row, error);
      gboolean ok = statement != NULL, row;

      if (ok)
        {
          sqlite3_bind_int64 (statement, 1, keys[i]);
          ok = store_db_next (db, statement, what, &row, error);
        }
      if (ok && row)
        {
          rows[i] = read_row (statement, keys[i]);
          ok = store_db_has_texts (db, what, error);
        }
      if (!ok)
        {
          for (guint j = 0; j <= i; j++)
            g_clear_pointer (&rows[j], book_reading_row_free);
          return FALSE;
        }
    }
  return TRUE;
}
