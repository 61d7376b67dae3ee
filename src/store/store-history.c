/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Actions are listed by their first place; the entries of a record are found by entry_touch and then read, since a range
 * may cover keys that were not touched.
 */

#include "config.h"

#include "store-chain-private.h"
#include "store-changes-private.h"
#include "store-history-private.h"
#include "store-id.h"
#include "store-pack-private.h"
#include "store-touch-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>
#include <string.h>

#define COLUMNS "id, kind, reverses, sitting, person, time, message, arguments, first_place, entries, " \
                "EXISTS (SELECT 1 FROM erasure x WHERE x.action = action.id)"

void
store_action_info_free (StoreActionInfo *info)
{
  if (info == NULL)
    return;
  g_free (info->time);
  g_free (info->message);
  g_clear_pointer (&info->arguments, g_variant_unref);
  g_free (info);
}

static char *
column_text (sqlite3_stmt *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return g_utf8_make_valid (text != NULL ? text : "", -1);
}

static StoreActionInfo *
read_info (StoreDb *db, sqlite3_stmt *statement, GError **error)
{
  g_autoptr(StoreActionInfo) info = g_new0 (StoreActionInfo, 1);
  g_autofree char *arguments = column_text (statement, 7);
  int kind = sqlite3_column_int (statement, 1);

  info->id = sqlite3_column_int64 (statement, 0);
  info->reverses = sqlite3_column_int64 (statement, 2);
  info->sitting = sqlite3_column_int64 (statement, 3);
  info->person = sqlite3_column_int64 (statement, 4);
  info->time = column_text (statement, 5);
  info->message = column_text (statement, 6);
  info->arguments = store_arguments_parse (arguments);
  info->first_place = sqlite3_column_int64 (statement, 8);
  info->entries = (guint) sqlite3_column_int (statement, 9);
  info->erased = sqlite3_column_int (statement, 10) != 0;
  if (!store_db_has_texts (db, _("The history could not be read"), error))
    return NULL;
  if (info->arguments == NULL || kind < STORE_DO || kind > STORE_REDO)
    {
      store_db_fail_code (db, SQLITE_CORRUPT, _("The history could not be read"), error);
      return NULL;
    }
  info->kind = (StoreActionKind) kind;
  if (!store_history_is_undone (db, info->id, &info->undone, error))
    return NULL;
  return g_steal_pointer (&info);
}

/* Keys of the actions that reverse @action, oldest first. */
static GArray *
list_reversals (StoreDb *db, gint64 action, GError **error)
{
  /* Only later ones: a journal that goes in a circle must not lead us round it. */
  static const char sql[] = "SELECT r.id FROM action r JOIN action a ON a.id = r.reverses "
                            "WHERE r.reverses = ?1 AND r.reverses <> 0 AND r.first_place > a.first_place ORDER BY r.first_place";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, action);
  return store_db_add_integers (db, statement, _("The history could not be read"), keys, error) ? g_steal_pointer (&keys) : NULL;
}

gboolean
store_history_is_undone (StoreDb *db, gint64 action, gboolean *undone, GError **error)
{
  gboolean flip = FALSE;

  /* Of several reversals only the last can be in force, so the chain is a line: done, undone, redone, … */
  *undone = FALSE;
  for (;;)
    {
      g_autoptr(GArray) reversals = list_reversals (db, action, error);

      if (reversals == NULL)
        return FALSE;
      if (reversals->len == 0)
        break;
      action = g_array_index (reversals, gint64, reversals->len - 1);
      flip = !flip;
    }
  *undone = flip;
  return TRUE;
}

gboolean
store_history_stand_in (StoreDb *db, gint64 action, gint64 *now, GError **error)
{
  g_autoptr(StoreActionInfo) info = store_history_get (db, action, error);

  if (info == NULL)
    return FALSE;
  *now = action;
  for (;;)
    {
      g_autoptr(GArray) undos = list_reversals (db, *now, error);
      g_autoptr(GArray) redos = NULL;

      if (undos == NULL)
        return FALSE;
      if (undos->len == 0)
        return TRUE;
      redos = list_reversals (db, g_array_index (undos, gint64, undos->len - 1), error);
      if (redos == NULL)
        return FALSE;
      if (redos->len == 0)
        return TRUE;
      *now = g_array_index (redos, gint64, redos->len - 1);
    }
}

StoreActionInfo *
store_history_get (StoreDb *db, gint64 action, GError **error)
{
  static const char sql[] = "SELECT " COLUMNS " FROM action WHERE id = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, action);
  if (!store_db_next (db, statement, _("The history could not be read"), &row, error))
    return NULL;
  if (!row)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_MISSING,
                   _("There is no action %" PRId64 " in '%s': look for its key in the history."), action, db->shown);
      return NULL;
    }
  return read_info (db, statement, error);
}

/* The end of a day or the time itself, as something that sorts after all times it includes. */
static char *
dup_upper_time (const char *to)
{
  return strlen (to) <= strlen ("2000-01-01") ? g_strconcat (to, "T99", NULL) : g_strdup (to);
}

/* Lists actions by date, sitting, person and kind of record. */
static GPtrArray *
list_all (StoreDb *db, const StoreHistoryQuery *query, GError **error)
{
  static const char sql[] = "SELECT " COLUMNS " FROM action WHERE first_place < ?1 AND (?2 IS NULL OR time >= ?2) "
                            "AND (?3 IS NULL OR time <= ?3) AND (?4 = 0 OR sitting = ?4) AND (?6 = 0 OR person = ?6) "
                            "AND (?7 < 0 OR id IN (SELECT e.action FROM entry_touch t JOIN entry e ON e.place = t.place "
                            "WHERE t.tab = ?7)) "
                            "ORDER BY first_place DESC LIMIT ?5";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) store_action_info_free);
  g_autofree char *to = query->to != NULL ? dup_upper_time (query->to) : NULL;
  gboolean ok, row;

  if (statement == NULL)
    return NULL;
  /* Nothing is copied, so no bound is lost for want of memory. */
  sqlite3_bind_int64 (statement, 1, query->before > 0 ? query->before : G_MAXINT64);
  sqlite3_bind_text (statement, 2, query->from, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 3, to, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 4, query->sitting);
  sqlite3_bind_int64 (statement, 5, query->most > 0 ? (gint64) query->most : -1);
  sqlite3_bind_int64 (statement, 6, query->person);
  sqlite3_bind_int64 (statement, 7, query->table);
  while ((ok = store_db_next (db, statement, _("The history could not be read"), &row, error)) && row)
    {
      StoreActionInfo *info = read_info (db, statement, error);

      if (info == NULL)
        return NULL;
      g_ptr_array_add (list, info);
    }
  return ok ? g_steal_pointer (&list) : NULL;
}

StoreActionInfo *
store_history_at (StoreDb *db, gint64 place, GError **error)
{
  static const char sql[] = "SELECT action FROM entry WHERE place = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, place);
  if (!store_db_next (db, statement, _("The history could not be read"), &row, error))
    return NULL;
  return store_history_get (db, row ? sqlite3_column_int64 (statement, 0) : 0, error);
}

static gboolean
is_wanted (const StoreActionInfo *info, const StoreHistoryQuery *query, const char *to)
{
  return (query->before <= 0 || info->first_place < query->before) && (query->sitting == 0 || info->sitting == query->sitting) &&
         (query->person == 0 || info->person == query->person) &&
         (query->from == NULL || strcmp (info->time, query->from) >= 0) && (to == NULL || strcmp (info->time, to) <= 0);
}

gboolean
store_history_touches (StoreDb *db, gint64 place, guint table, GHashTable *ids, gboolean *any, GError **error)
{
  g_autoptr(GError) local = NULL;
  g_autoptr(GBytes) raw = store_payload_read (db, place, &local);
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gboolean ok;

  *any = g_error_matches (local, STORE_ERROR, STORE_ERROR_ERASED); /* the range is all that is left to go by */
  if (raw == NULL)
    {
      if (!*any)
        g_propagate_error (error, g_steal_pointer (&local));
      return *any;
    }
  store_changes_open (&changes, db, raw);
  while ((ok = store_changes_next (&changes, &row, error)) && row != NULL && !*any)
    *any = row->table == table && g_hash_table_contains (ids, &row->id);
  return ok;
}

/* Lists the actions that changed one record. */
static GPtrArray *
list_record (StoreDb *db, const StoreHistoryQuery *query, GError **error)
{
  g_autoptr(GArray) places = store_touch_list (db, (guint) query->table, query->id, 0, error);
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) store_action_info_free);
  g_autofree char *to = query->to != NULL ? dup_upper_time (query->to) : NULL;
  g_autoptr(GHashTable) ids = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (places == NULL)
    return NULL;
  g_hash_table_add (ids, (gpointer) &query->id);
  for (guint i = places->len; i-- > 0 && (query->most == 0 || list->len < query->most);)
    {
      gint64 place = g_array_index (places, gint64, i);
      g_autoptr(StoreActionInfo) info = store_history_at (db, place, error);
      const StoreActionInfo *last = list->len > 0 ? list->pdata[list->len - 1] : NULL;
      gboolean has;

      if (info == NULL)
        return NULL;
      if (!is_wanted (info, query, to) || (last != NULL && last->id == info->id))
        continue;
      if (!store_history_touches (db, place, (guint) query->table, ids, &has, error))
        return NULL;
      if (has)
        g_ptr_array_add (list, g_steal_pointer (&info));
    }
  return g_steal_pointer (&list);
}

GPtrArray *
store_history_list (StoreDb *db, const StoreHistoryQuery *query, GError **error)
{
  g_return_val_if_fail (query->table < (int) db->profile->n_tables, NULL);

  return query->table >= 0 && query->id != 0 ? list_record (db, query, error) : list_all (db, query, error);
}

gboolean
store_history_may_have_more (StoreDb *db, int table, gint64 id, gboolean *may, GError **error)
{
  g_autoptr(GArray) places = store_touch_list (db, (guint) table, id, 0, error);

  *may = places != NULL && places->len > 1;
  return places != NULL;
}

GArray *
store_history_places (StoreDb *db, int table, gboolean older, GError **error)
{
  /* Keys rise within an origin, so a row that an action made has a key above the action's own. */
  static const char sql[] = "SELECT DISTINCT t.place FROM entry_touch t JOIN entry e ON e.place = t.place WHERE t.tab = ?1 AND NOT "
                            "(?2 AND t.low > e.action AND t.high >> ?3 = e.action >> ?3) ORDER BY t.place";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GArray) places = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, table);
  sqlite3_bind_int (statement, 2, older);
  sqlite3_bind_int (statement, 3, STORE_ID_COUNTER_BITS);
  return store_db_add_integers (db, statement, _("The history could not be read"), places, error) ? g_steal_pointer (&places) : NULL;
}

/* The rows of one entry; @go_on becomes FALSE when @func wants no more. */
static gboolean
read_rows (StoreDb *db, gint64 place, int table, gint64 id, StoreRowFunc func, gpointer data, gboolean *go_on, GError **error)
{
  g_autoptr(GBytes) raw = store_payload_read (db, place, error);
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gboolean ok;

  if (raw == NULL)
    return FALSE;
  store_changes_open (&changes, db, raw);
  while ((ok = store_changes_next (&changes, &row, error)) && row != NULL)
    if ((table < 0 || (row->table == (guint) table && (id == 0 || row->id == id))) && !func (row, data))
      {
        *go_on = FALSE;
        return TRUE;
      }
  return ok;
}

gboolean
store_history_rows (StoreDb *db, gint64 action, int table, gint64 id, StoreRowFunc func, gpointer data, GError **error)
{
  g_autoptr(StoreActionInfo) info = store_history_get (db, action, error);
  gboolean go_on = TRUE;

  if (info == NULL)
    return FALSE;
  for (gint64 place = info->first_place; go_on && place < info->first_place + info->entries; place++)
    if (!read_rows (db, place, table, id, func, data, &go_on, error))
      return FALSE;
  return TRUE;
}

gboolean
store_history_rows_at (StoreDb *db, gint64 place, StoreRowFunc func, gpointer data, GError **error)
{
  gboolean go_on = TRUE;

  return read_rows (db, place, -1, 0, func, data, &go_on, error);
}

gboolean
store_history_head (StoreDb *db, gint64 *place, char **head, GError **error)
{
  guint8 digest[STORE_DIGEST_LENGTH];
  gint64 last;

  if (!store_chain_head (db, &last, digest, error))
    return FALSE;
  if (place != NULL)
    *place = last;
  if (head != NULL)
    *head = store_hex_dup (digest);
  return TRUE;
}

gboolean
store_history_holds (StoreDb *db, gint64 place, const char *head, gboolean *holds, GError **error)
{
  guint8 digest[STORE_DIGEST_LENGTH];
  g_autofree char *hex = NULL;

  if (!store_chain_at (db, place, digest, holds, error))
    return FALSE;
  if (*holds)
    {
      hex = store_hex_dup (digest);
      *holds = g_str_equal (hex, head);
    }
  return TRUE;
}
