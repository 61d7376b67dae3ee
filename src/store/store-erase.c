/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Erasing payloads. Digests and touched ranges stay; secure_delete overwrites what the payload's pages held.
 */

#include "config.h"

#include "store-action-private.h"
#include "store-history-private.h"
#include "store-undo.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  gint64      action;
  const char *reason;
} Erase;

static gboolean
note_erasure (StoreAction *action, const Erase *erase, GError **error)
{
  static const char sql[] = "INSERT INTO erasure (action, person, time, word, reason) VALUES (?1, ?2, ?3, ?4, ?5)";
  g_autoptr(StoreStatement) statement = store_db_statement (action->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, erase->action);
  sqlite3_bind_int64 (statement, 2, action->intent->person);
  sqlite3_bind_text (statement, 3, action->time, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 4, action->intent->action, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 5, erase->reason, -1, SQLITE_STATIC);
  return store_db_run (action->db, statement, _("Nothing was erased"), error);
}

static gboolean
erase_work (StoreAction *action, gpointer data, GError **error)
{
  static const char sql[] = "DELETE FROM payload WHERE place BETWEEN ?1 AND ?2";
  const Erase *erase = data;
  g_autoptr(StoreActionInfo) info = store_history_get (action->db, erase->action, error);
  g_autoptr(StoreStatement) statement = NULL;

  if (info == NULL)
    return FALSE;
  if (info->erased)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_ERASED,
                   _("What this action changed was erased before: there is nothing left to erase."));
      return FALSE;
    }
  if (!store_db_exec (action->db, "PRAGMA secure_delete = ON", error))
    return FALSE;
  statement = store_db_statement (action->db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, info->first_place);
  sqlite3_bind_int64 (statement, 2, info->first_place + info->entries - 1);
  if (!store_db_run (action->db, statement, _("Nothing was erased"), error))
    return FALSE;
  store_action_keep (action);
  return note_erasure (action, erase, error);
}

gboolean
store_erase_payload (Store *store, const StoreIntent *intent, gint64 action, const char *reason, GError **error)
{
  Erase erase = { action, reason };

  g_return_val_if_fail (reason != NULL && *reason != '\0', FALSE);

  return store_write (store, intent, erase_work, &erase, NULL, NULL, error);
}
