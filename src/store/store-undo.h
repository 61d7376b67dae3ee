/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Undo and redo: the inverted changesets of an action applied as a new action that names what it reverses. All or
 * nothing: whatever stands in the way rolls back and is named.
 */

#include "store-write.h"

G_BEGIN_DECLS

/**
 * StoreBlockReason:
 * @STORE_BLOCK_CHANGED: rows of the action were changed since
 * @STORE_BLOCK_REFERRED: rows that came since refer to rows of the action
 * @STORE_BLOCK_REFERS: rows the action needs are gone
 * @STORE_BLOCK_RULE: a rule of the records would not hold; the error says which
 * @STORE_BLOCK_NEVER: the action touched a table that is never undone
 * @STORE_BLOCK_ERASED: the action's payload was erased
 * @STORE_BLOCK_DONE: the action was undone already
 */
typedef enum
{
  STORE_BLOCK_CHANGED,
  STORE_BLOCK_REFERRED,
  STORE_BLOCK_REFERS,
  STORE_BLOCK_RULE,
  STORE_BLOCK_NEVER,
  STORE_BLOCK_ERASED,
  STORE_BLOCK_DONE
} StoreBlockReason;

/**
 * StoreBlock:
 * @reason: why not
 * @action: the action that could not be reversed
 * @table: index of the table whose rows are in the way; -1 without rows
 * @rows: how many rows of that table
 * @id: key of the first of them
 * @actions: (array length=n_actions): later actions that must be undone first, newest first
 * @n_actions: length of @actions
 *
 * What stands in the way of an undo.
 */
typedef struct
{
  StoreBlockReason reason;
  gint64           action;
  int              table;
  guint64          rows;
  gint64           id;
  gint64          *actions;
  guint            n_actions;
} StoreBlock;

void store_block_free (StoreBlock *block);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreBlock, store_block_free)

/**
 * store_undo:
 * @store: a store
 * @intent: who undoes; its sitting says whose last action is meant when @action is 0 (sitting 0: the file's last)
 * @action: key of the action to undo; 0: the last
 * @receipt: (out) (optional): the new action
 * @block: (out) (optional) (nullable): what stood in the way, when it is refused for that
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Undoes an action by a new one. The hooks see its rows like any others.
 *
 * Returns: whether it is undone; otherwise the file is as before, with %STORE_ERROR_CONFLICT, _RULE, _ERASED, _NOTHING
 */
gboolean store_undo (Store             *store,
                     const StoreIntent *intent,
                     gint64             action,
                     StoreReceipt      *receipt,
                     StoreBlock       **block,
                     GCancellable      *cancellable,
                     GError           **error);

/**
 * store_undo_try:
 * @store: a store
 * @intent: as in store_undo()
 * @action: as in store_undo()
 * @block: (out) (optional) (nullable): what would stand in the way
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Does all that store_undo() does and takes it back, so that nothing is stored.
 *
 * Returns: whether it could be undone; otherwise the errors of store_undo()
 */
gboolean store_undo_try (Store             *store,
                         const StoreIntent *intent,
                         gint64             action,
                         StoreBlock       **block,
                         GCancellable      *cancellable,
                         GError           **error);

/**
 * store_redo:
 * @action: key of an action that undid another; 0: the last such of the intent's sitting, unless something new was done since
 *
 * Undoes an undo; else as store_undo().
 */
gboolean store_redo (Store             *store,
                     const StoreIntent *intent,
                     gint64             action,
                     StoreReceipt      *receipt,
                     StoreBlock       **block,
                     GCancellable      *cancellable,
                     GError           **error);

/* As store_undo() and store_redo(), without waiting: @done is called in the caller's main context. No progress is told. */
void store_undo_async (Store              *store,
                       const StoreIntent  *intent,
                       gint64              action,
                       GCancellable       *cancellable,
                       GAsyncReadyCallback done,
                       gpointer            user_data);
void store_redo_async (Store              *store,
                       const StoreIntent  *intent,
                       gint64              action,
                       GCancellable       *cancellable,
                       GAsyncReadyCallback done,
                       gpointer            user_data);
/* Ends store_undo_async() and store_redo_async(). */
gboolean store_undo_finish (Store        *store,
                            GAsyncResult *result,
                            StoreReceipt *receipt,
                            StoreBlock  **block,
                            GError      **error);

/**
 * store_undo_find:
 * @db: any connection
 * @sitting: whose actions; 0: everybody's
 * @undo: (out) (optional): key of what undo would reverse; 0: nothing
 * @redo: (out) (optional): key of what redo would reverse; 0: nothing
 * @error: return location
 *
 * Says what store_undo() and store_redo() would take, for menus.
 *
 * Returns: %FALSE only when the file could not be asked
 */
gboolean store_undo_find (StoreDb *db,
                          gint64   sitting,
                          gint64  *undo,
                          gint64  *redo,
                          GError **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_undo_is_never:
 * @db: any connection
 * @action: key of an action; 0: none
 * @never: (out): whether it touched a table that is never undone, so that store_undo() would refuse it whatever came since
 * @error: return location
 *
 * For menus: it is grey then, and nothing older is taken in its place.
 *
 * Returns: %FALSE only when the file could not be asked
 */
gboolean store_undo_is_never (StoreDb  *db,
                              gint64    action,
                              gboolean *never,
                              GError  **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_erase_payload:
 * @store: a store
 * @intent: who erases; its action word is kept
 * @action: whose changesets are erased
 * @reason: why, kept beside
 * @error: return location
 *
 * Erases what an action changed from the journal, for good: the digests stay and the chain still holds, but nobody can
 * undo it or read its fields. The records themselves stay as they are.
 *
 * Returns: whether it is erased
 */
gboolean store_erase_payload (Store             *store,
                              const StoreIntent *intent,
                              gint64             action,
                              const char        *reason,
                              GError           **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
