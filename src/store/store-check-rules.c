/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The profile's own checks: its rules on every row, shown to its hooks as if it had just been inserted; and its derived
 * tables against rebuilt ones. Whatever this writes is rolled back with the check's transaction.
 */

#include "config.h"

#include "store-check-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>

#define PERMILLE_FIRST 800
#define PERMILLE_SPAN  200
#define ROWS_PER_TELL  50000

/* Turns what a rule says into a finding; anything else stops the check. */
static gboolean
settle_rule (StoreCheck *check, const char *table, gint64 id, GError *local, GError **error)
{
  if (!g_error_matches (local, STORE_ERROR, STORE_ERROR_RULE))
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  store_check_add (check, STORE_CHECK_RULES, table, id, NULL, g_strdup (local->message));
  g_error_free (local);
  return TRUE;
}

static gboolean
show_rows (StoreCheck *check, guint table, sqlite3_stmt *statement, gpointer context, GError **error)
{
  const StoreProfile *profile = check->db->profile;
  guint n_columns = (guint) sqlite3_column_count (statement);
  g_autofree StoreValue *values = g_new0 (StoreValue, n_columns);
  StoreRow row = { .table = table, .op = STORE_INSERT, .n_columns = n_columns, .after = values };
  gboolean ok, more;
  guint64 rows = 0;

  while ((ok = store_db_next (check->db, statement, _("The records could not be checked"), &more, error)) && more &&
         !store_check_is_full (check))
    {
      GError *local = NULL;

      for (guint i = 0; i < n_columns; i++)
        store_value_read (statement, (int) i, &values[i]);
      row.id = values[0].integer;
      if (!profile->row (check->db, &row, context, &local) &&
          !settle_rule (check, profile->tables[table].name, row.id, local, error))
        return FALSE;
      if (++rows % ROWS_PER_TELL == 0 &&
          !store_check_tell (check, PERMILLE_FIRST + table * PERMILLE_SPAN / profile->n_tables, error))
        return FALSE;
    }
  return ok;
}

static gboolean
show_table (StoreCheck *check, guint table, gpointer context, GError **error)
{
  char *sql = sqlite3_mprintf ("SELECT * FROM \"%w\" ORDER BY id", check->db->profile->tables[table].name);
  sqlite3_stmt *statement = NULL;
  gboolean ok;

  if (sql == NULL || sqlite3_prepare_v2 (check->db->handle, sql, -1, &statement, NULL) != SQLITE_OK)
    ok = store_db_fail (check->db, _("The records could not be checked"), error);
  else
    ok = show_rows (check, table, statement, context, error);
  sqlite3_finalize (statement);
  sqlite3_free (sql);
  return ok;
}

gboolean
store_check_rules (StoreCheck *check, GError **error)
{
  const StoreProfile *profile = check->db->profile;
  gpointer context = profile->begin != NULL ? profile->begin (check->db, profile->user) : profile->user;
  GError *local = NULL;
  gboolean ok = TRUE;

  for (guint i = 0; ok && profile->row != NULL && i < profile->n_tables; i++)
    ok = show_table (check, i, context, error);
  if (ok && profile->finish != NULL && !profile->finish (check->db, context, &local))
    ok = settle_rule (check, NULL, 0, local, error);
  if (profile->end != NULL)
    profile->end (context);
  return ok;
}

/* Runs a statement about a derived table, %now, and the copy of it, %was; gives its one integer, if wanted. */
static gboolean
run_for (StoreDb *db, const char *format, const char *table, gint64 *value, GError **error)
{
  g_autoptr(GString) sql = g_string_new (format);
  char *now = sqlite3_mprintf ("main.\"%w\"", table);
  char *was = sqlite3_mprintf ("temp.\"was_%w\"", table);
  sqlite3_stmt *statement = NULL;
  int code = SQLITE_NOMEM;

  if (now != NULL && was != NULL)
    {
      g_string_replace (sql, "%now", now, 0);
      g_string_replace (sql, "%was", was, 0);
      code = sqlite3_prepare_v2 (db->handle, sql->str, -1, &statement, NULL);
    }
  sqlite3_free (now);
  sqlite3_free (was);
  if (code == SQLITE_OK)
    code = sqlite3_step (statement);
  if (code == SQLITE_ROW && value != NULL)
    *value = sqlite3_column_int64 (statement, 0);
  if (code != SQLITE_ROW && code != SQLITE_DONE)
    store_db_fail_code (db, code, _("The derived tables could not be checked"), error);
  sqlite3_finalize (statement);
  return code == SQLITE_ROW || code == SQLITE_DONE;
}

gboolean
store_check_derived (StoreCheck *check, GError **error)
{
  const StoreProfile *profile = check->db->profile;

  for (guint i = 0; i < profile->n_derived; i++)
    if (!run_for (check->db, "CREATE TABLE %was AS SELECT * FROM %now", profile->derived[i].name, NULL, error))
      return FALSE;
  for (guint i = 0; i < profile->n_derived; i++)
    if (!profile->derived[i].rebuild (check->db, profile->user, error))
      return FALSE;
  for (guint i = 0; i < profile->n_derived; i++)
    {
      gint64 differ = 0;

      if (!run_for (check->db,
                    "SELECT (SELECT count(*) FROM (SELECT * FROM %was EXCEPT SELECT * FROM %now)) + "
                    "(SELECT count(*) FROM (SELECT * FROM %now EXCEPT SELECT * FROM %was))",
                    profile->derived[i].name, &differ, error))
        return FALSE;
      if (differ > 0)
        store_check_add (check, STORE_CHECK_DERIVED, profile->derived[i].name, 0, NULL,
                         g_strdup_printf (ngettext ("%" PRId64 " row of '%s' is not as its records make it: rebuild it.",
                                                    "%" PRId64 " rows of '%s' are not as their records make them: rebuild them.",
                                                    (gulong) differ),
                                          differ, profile->derived[i].name));
    }
  return TRUE;
}
