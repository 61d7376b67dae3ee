/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Undo applies the inverse of an action's changesets, last first, as a new action of the writer. Every row must be as
 * the action left it. Rows that are not are passed over and noted, so that all of them can be counted and the later
 * actions named; then everything is rolled back.
 */

#include "config.h"

#include "store-action-private.h"
#include "store-block-private.h"
#include "store-history-private.h"
#include "store-references-private.h"
#include "store-undo.h"
#include "store-writer-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>

/* What one undo is about, through its work. */
typedef struct
{
  StoreActionKind kind; /* STORE_UNDO or STORE_REDO */
  gboolean        try;  /* nothing is to be stored */
  gint64          wanted;
  StoreBlock     *block;
  StoreReceipt    receipt;
  gint64          target;     /* the action that is reversed, once known */
  gint64          last_place; /* of the target */
} Undo;

/* Handed through SQLite to on_conflict(). */
typedef struct
{
  StoreDb         *db;
  StoreWay        *way;
  StoreReferences *references;
} Applied;

static int
on_conflict (void *data, int why, sqlite3_changeset_iter *at)
{
  Applied *applied = data;
  const char *name;
  gint64 id;
  int table;

  if (!store_changes_conflict (at, &name, &id))
    return SQLITE_CHANGESET_ABORT;
  table = store_db_find_table (applied->db, name);
  if (table < 0)
    return SQLITE_CHANGESET_ABORT;
  store_way_add (applied->way, (guint) table, id);
  return SQLITE_CHANGESET_OMIT;
}

/* Works within a transaction, where the pragma does nothing. */
static void
enforce_references (StoreDb *db, gboolean enforce)
{
  sqlite3_db_config (db->handle, SQLITE_DBCONFIG_ENABLE_FKEY, (int) enforce, NULL);
}

/* Applies the inverse of one changeset. References are looked at when all are applied. */
static gboolean
apply_inverse (Applied *applied, GBytes *raw, GError **error)
{
  gsize length;
  const void *bytes = g_bytes_get_data (raw, &length);
  void *inverse = NULL;
  int inverse_length = 0;
  int code = sqlite3changeset_invert ((int) length, bytes, &inverse_length, &inverse);

  if (code == SQLITE_OK)
    {
      enforce_references (applied->db, FALSE);
      /* Without its savepoint, whose memory is walked through for every row: on failure all is rolled back anyway. */
      code = sqlite3changeset_apply_v2 (applied->db->handle, inverse_length, inverse, NULL, on_conflict, applied, NULL, NULL,
                                        SQLITE_CHANGESETAPPLY_NOSAVEPOINT);
      enforce_references (applied->db, TRUE);
    }
  sqlite3_free (inverse);
  if (code != SQLITE_OK)
    return store_db_fail_code (applied->db, code, _("It could not be undone"), error);
  return TRUE;
}

/* Looks through a changeset for what forbids an undo altogether, and notes what its references will need. */
static gboolean
look_through (Applied *applied, GBytes *raw, gboolean *never, GError **error)
{
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gboolean ok;

  *never = FALSE;
  store_changes_open (&changes, applied->db, raw);
  while ((ok = store_changes_next (&changes, &row, error)) && row != NULL && !*never)
    {
      *never = applied->db->profile->tables[row->table].never_undo;
      store_references_note (applied->references, row);
    }
  return ok;
}

static gboolean
refuse (Undo *undo, StoreBlock *block, GError **error)
{
  undo->block = block;
  switch (block->reason)
    {
    case STORE_BLOCK_CHANGED:
      g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
                   ngettext ("%" PRIu64 " record was changed since: undo the later action first.",
                             "%" PRIu64 " records were changed since: undo the later actions first.", block->rows),
                   block->rows);
      break;
    case STORE_BLOCK_REFERRED:
      g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
                   ngettext ("%" PRIu64 " record that came since refers to it: undo the later action first.",
                             "%" PRIu64 " records that came since refer to it: undo the later actions first.",
                             block->rows),
                   block->rows);
      break;
    case STORE_BLOCK_REFERS:
      g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
                   ngettext ("%" PRIu64 " record that it refers to is gone: undo the later action first.",
                             "%" PRIu64 " records that it refers to are gone: undo the later actions first.",
                             block->rows),
                   block->rows);
      break;
    case STORE_BLOCK_NEVER:
      g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
                   _("This action is never undone: withdraw what it noted by a new one instead."));
      break;
    case STORE_BLOCK_ERASED:
      g_set_error (error, STORE_ERROR, STORE_ERROR_ERASED,
                   _("What this action changed was erased from the journal: change the records by hand instead."));
      break;
    case STORE_BLOCK_DONE:
      g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
                   _("This action was undone already: look for a later one in the history."));
      break;
    case STORE_BLOCK_RULE: /* the rule speaks for itself */
      break;
    }
  return FALSE;
}

static gboolean
refuse_plainly (Undo *undo, StoreBlockReason reason, GError **error)
{
  StoreBlock *block = g_new0 (StoreBlock, 1);

  block->reason = reason;
  block->action = undo->target;
  block->table = -1;
  return refuse (undo, block, error);
}

static gboolean
refuse_way (Undo *undo, StoreDb *db, StoreWay *way, StoreBlockReason reason, GError **error)
{
  StoreBlock *block = store_way_to_block (way, db, reason, undo->target, undo->last_place, error);

  return block != NULL && refuse (undo, block, error);
}

/* Which action is meant, and may it be reversed at all. */
static gboolean
choose_target (Undo *undo, StoreAction *action, GError **error)
{
  gint64 last_undo, last_redo;
  g_autoptr(StoreActionInfo) info = NULL;

  if (undo->wanted != 0 && undo->kind == STORE_UNDO)
    {
      if (!store_history_stand_in (action->db, undo->wanted, &undo->target, error))
        return FALSE;
    }
  else if (undo->wanted != 0)
    undo->target = undo->wanted;
  else if (!store_undo_find (action->db, action->intent->sitting, &last_undo, &last_redo, error))
    return FALSE;
  else
    undo->target = undo->kind == STORE_UNDO ? last_undo : last_redo;

  if (undo->target == 0)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NOTHING,
                   undo->kind == STORE_UNDO ? _("There is nothing to undo: choose an action in the history.")
                                            : _("There is nothing to redo: only what was undone last can be redone."));
      return FALSE;
    }
  info = store_history_get (action->db, undo->target, error);
  if (info == NULL)
    return FALSE;
  if (undo->kind == STORE_REDO && info->kind != STORE_UNDO)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NOTHING, _("This action undid nothing: choose one that did to redo it."));
      return FALSE;
    }
  undo->last_place = info->first_place + info->entries - 1;
  if (info->undone)
    return refuse_plainly (undo, STORE_BLOCK_DONE, error);
  if (info->erased)
    return refuse_plainly (undo, STORE_BLOCK_ERASED, error);
  return TRUE;
}

/* Applies the inverse of every entry of the target, last first. */
static gboolean
apply_all (Undo *undo, StoreAction *action, Applied *applied, gint64 first_place, GError **error)
{
  for (gint64 place = undo->last_place; place >= first_place; place--)
    {
      g_autoptr(GBytes) raw = store_payload_read (action->db, place, error);
      gboolean never;

      if (raw == NULL || !look_through (applied, raw, &never, error))
        return FALSE;
      if (never)
        return refuse_plainly (undo, STORE_BLOCK_NEVER, error);
      if (!apply_inverse (applied, raw, error))
        return FALSE;
      if (!store_way_is_empty (applied->way))
        continue; /* it ends in a rollback: go on only to count */
      if (!store_action_progress (action, (guint64) (undo->last_place - place + 1),
                                  (guint64) (undo->last_place - first_place + 1), error) ||
          (place > first_place && !store_action_split (action, error)))
        return FALSE;
    }
  return TRUE;
}

/* Refuses when references do not hold. */
static gboolean
hold_references (Undo *undo, Applied *applied, GError **error)
{
  guint n_tables = applied->db->profile->n_tables;
  g_autoptr(StoreWay) referring = store_way_new (n_tables);
  g_autoptr(StoreWay) missing = store_way_new (n_tables);

  if (!store_references_find (applied->references, referring, missing, error))
    return FALSE;
  if (!store_way_is_empty (referring))
    return refuse_way (undo, applied->db, referring, STORE_BLOCK_REFERRED, error);
  if (!store_way_is_empty (missing))
    return refuse_way (undo, applied->db, missing, STORE_BLOCK_REFERS, error);
  return TRUE;
}

/* The work of an undo or redo. */
static gboolean
undo_work (StoreAction *action, gpointer data, GError **error)
{
  Undo *undo = data;
  g_autoptr(StoreWay) way = store_way_new (action->db->profile->n_tables);
  g_autoptr(StoreReferences) references = store_references_new (action->db, error);
  Applied applied = { action->db, way, references };
  g_autoptr(StoreActionInfo) info = NULL;

  if (references == NULL || !choose_target (undo, action, error))
    return FALSE;
  info = store_history_get (action->db, undo->target, error);
  if (info == NULL)
    return FALSE;
  action->kind = undo->kind;
  action->discard = undo->try;
  action->reverses = undo->target;
  store_action_message (action, info->message, info->arguments);

  if (!apply_all (undo, action, &applied, info->first_place, error))
    return FALSE;
  if (!store_way_is_empty (way))
    return refuse_way (undo, action->db, way, STORE_BLOCK_CHANGED, error);
  return hold_references (undo, &applied, error);
}

/* A rule that refuses speaks through hooks, during the work or after it. */
static void
note_rule (Undo *undo, const GError *error)
{
  if (undo->block == NULL && undo->target != 0 && g_error_matches (error, STORE_ERROR, STORE_ERROR_RULE))
    {
      undo->block = g_new0 (StoreBlock, 1);
      undo->block->reason = STORE_BLOCK_RULE;
      undo->block->action = undo->target;
      undo->block->table = -1;
    }
}

static void
undo_free (gpointer data)
{
  Undo *undo = data;

  g_clear_pointer (&undo->block, store_block_free);
  g_free (undo);
}

static void
hand_out (Undo *undo, StoreReceipt *receipt, StoreBlock **block)
{
  if (receipt != NULL)
    *receipt = undo->receipt;
  if (block != NULL)
    *block = g_steal_pointer (&undo->block);
}

static gboolean
reverse (Store *store, const StoreIntent *intent, StoreActionKind kind, gboolean try, gint64 action, StoreReceipt *receipt,
         StoreBlock **block, GCancellable *cancellable, GError **error)
{
  Undo *undo = g_new0 (Undo, 1);
  g_autoptr(GError) local = NULL;
  gboolean ok;

  undo->kind = kind;
  undo->try = try;
  undo->wanted = action;
  ok = store_write (store, intent, undo_work, undo, &undo->receipt, cancellable, &local);
  if (!ok)
    {
      note_rule (undo, local);
      g_propagate_error (error, g_steal_pointer (&local));
    }
  hand_out (undo, receipt, block);
  undo_free (undo);
  return ok;
}

gboolean
store_undo (Store *store, const StoreIntent *intent, gint64 action, StoreReceipt *receipt, StoreBlock **block,
            GCancellable *cancellable, GError **error)
{
  return reverse (store, intent, STORE_UNDO, FALSE, action, receipt, block, cancellable, error);
}

gboolean
store_undo_try (Store *store, const StoreIntent *intent, gint64 action, StoreBlock **block, GCancellable *cancellable, GError **error)
{
  return reverse (store, intent, STORE_UNDO, TRUE, action, NULL, block, cancellable, error);
}

gboolean
store_redo (Store *store, const StoreIntent *intent, gint64 action, StoreReceipt *receipt, StoreBlock **block,
            GCancellable *cancellable, GError **error)
{
  return reverse (store, intent, STORE_REDO, FALSE, action, receipt, block, cancellable, error);
}

static void
reverse_async (Store *store, const StoreIntent *intent, StoreActionKind kind, gint64 action, GCancellable *cancellable,
               GAsyncReadyCallback done, gpointer user_data)
{
  g_autoptr(GTask) task = g_task_new (NULL, cancellable, done, user_data);
  Undo *undo = g_new0 (Undo, 1);
  StoreIntent own = *intent;

  undo->kind = kind;
  undo->wanted = action;
  own.progress = NULL; /* an undo is quick; its caller has no place to hear of it */
  g_task_set_source_tag (task, store_undo_async);
  g_task_set_task_data (task, undo, undo_free);
  store_writer_queue (store, &own, undo_work, undo, &undo->receipt, task);
}

void
store_undo_async (Store *store, const StoreIntent *intent, gint64 action, GCancellable *cancellable, GAsyncReadyCallback done,
                  gpointer user_data)
{
  reverse_async (store, intent, STORE_UNDO, action, cancellable, done, user_data);
}

void
store_redo_async (Store *store, const StoreIntent *intent, gint64 action, GCancellable *cancellable, GAsyncReadyCallback done,
                  gpointer user_data)
{
  reverse_async (store, intent, STORE_REDO, action, cancellable, done, user_data);
}

gboolean
store_undo_finish (Store *store, GAsyncResult *result, StoreReceipt *receipt, StoreBlock **block, GError **error)
{
  g_autoptr(GError) local = NULL;
  Undo *undo;
  gboolean ok;

  g_return_val_if_fail (g_async_result_is_tagged (result, store_undo_async), FALSE);

  undo = g_task_get_task_data (G_TASK (result));
  ok = g_task_propagate_boolean (G_TASK (result), &local);
  if (!ok)
    {
      note_rule (undo, local);
      g_propagate_error (error, g_steal_pointer (&local));
    }
  hand_out (undo, receipt, block);
  return ok;
}

/* What a walk over the actions, newest first, has learnt. */
typedef struct
{
  GHashTable *undone; /* keys of actions whose reversal stands */
  GHashTable *again;  /* keys of actions that were undone and redone: the redo stands for them */
  gint64      undo;
  gint64      redo;
  gboolean    redo_open;
} Search;

static void
note_key (GHashTable *keys, gint64 key)
{
  g_hash_table_add (keys, g_memdup2 (&key, sizeof key));
}

/* Takes in the next older action; @own says whether it is of the sitting that is asked about. */
static void
search_action (Search *search, gint64 id, int kind, gint64 reverses, gboolean own)
{
  gboolean stands = !g_hash_table_contains (search->undone, &id);

  if (reverses != 0)
    note_key (stands ? search->undone : search->again, reverses);
  if (!own)
    return;
  if (kind == STORE_UNDO)
    {
      if (search->redo_open && stands)
        {
          search->redo = id;
          search->redo_open = FALSE;
        }
      return;
    }
  if (kind == STORE_DO) /* something newly done ends redo of all before it */
    search->redo_open = FALSE;
  if (search->undo == 0 && stands && !g_hash_table_contains (search->again, &id))
    search->undo = id;
}

gboolean
store_undo_find (StoreDb *db, gint64 sitting, gint64 *undo, gint64 *redo, GError **error)
{
  static const char sql[] = "SELECT id, kind, reverses, sitting FROM action WHERE ?1 = 0 OR sitting = ?1 OR reverses <> 0 "
                            "ORDER BY first_place DESC";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GHashTable) undone = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr(GHashTable) again = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Search search = { undone, again, 0, 0, TRUE };
  gboolean ok = TRUE, row;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, sitting);
  while ((search.undo == 0 || search.redo_open) &&
         (ok = store_db_next (db, statement, _("The history could not be read"), &row, error)) && row)
    search_action (&search, sqlite3_column_int64 (statement, 0), sqlite3_column_int (statement, 1),
                   sqlite3_column_int64 (statement, 2), sitting == 0 || sqlite3_column_int64 (statement, 3) == sitting);
  if (undo != NULL)
    *undo = search.undo;
  if (redo != NULL)
    *redo = search.redo;
  return ok;
}

gboolean
store_undo_is_never (StoreDb *db, gint64 action, gboolean *never, GError **error)
{
  static const char sql[] = "SELECT EXISTS (SELECT 1 FROM entry_touch t, action a WHERE a.id = ?1 AND t.tab = ?2"
                            " AND t.place BETWEEN a.first_place AND a.first_place + a.entries - 1)";

  *never = FALSE;
  for (guint i = 0; action != 0 && !*never && i < db->profile->n_tables; i++)
    {
      g_autoptr(StoreStatement) statement = NULL;
      gint64 has = 0;

      if (!db->profile->tables[i].never_undo)
        continue;
      statement = store_db_statement (db, sql, error);
      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, action);
      sqlite3_bind_int64 (statement, 2, i);
      if (!store_db_ask_integer (db, statement, _("The history could not be read"), NULL, &has, error))
        return FALSE;
      *never = has != 0;
    }
  return TRUE;
}
