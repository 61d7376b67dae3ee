/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Writing: one thread a store holds the only writable connection and works off a queue. A piece of work is one action:
 * one transaction, durable when its receipt is given, journaled as one or more entries.
 */

#include <gio/gio.h>

#include "store.h"

G_BEGIN_DECLS

typedef struct _StoreAction StoreAction;

/* Called in the writer thread by store_write(), in the caller's main context by store_write_async(). @total 0: unknown. */
typedef void (*StoreProgress) (guint64  done,
                               guint64  total,
                               gpointer data);

/**
 * StoreIntent:
 * @action: short word for what is done ('reading-typed'): the message's id unless store_action_message() says another
 * @person: key of who does it; 0: nobody by name
 * @sitting: from store_new_sitting(); 0: none
 * @progress: (nullable): told by store_action_progress()
 * @progress_data: for @progress
 *
 * Who does what.
 */
typedef struct
{
  const char   *action;
  gint64        person;
  gint64        sitting;
  StoreProgress progress;
  gpointer      progress_data;
} StoreIntent;

/**
 * StoreReceipt:
 * @action: key of the stored action; 0: no journaled row differs from before, nothing was stored
 * @entries: entries of the action
 * @inserted: rows inserted
 * @updated: rows updated
 * @deleted: rows deleted
 *
 * What a commit stored. Rows that an action inserted and deleted again are not counted.
 */
typedef struct
{
  gint64  action;
  guint   entries;
  guint64 inserted;
  guint64 updated;
  guint64 deleted;
} StoreReceipt;

/* The work of one action, in the writer thread, within its transaction. FALSE with @error set rolls everything back. */
typedef gboolean (*StoreWork) (StoreAction *action,
                               gpointer     data,
                               GError     **error);

/**
 * store_new_sitting:
 *
 * Returns: a fresh random key for a sitting: one person in one open window or one call
 */
gint64 store_new_sitting (void);

/**
 * store_write:
 * @store: a store
 * @intent: who does what; copied
 * @work: the changes
 * @data: for @work
 * @receipt: (out) (optional): what was stored
 * @cancellable: (nullable): stops the work with nothing stored
 * @error: return location
 *
 * Queues one action and waits for it. Never from the main thread of a window, nor from within work.
 *
 * Returns: whether the action is durable, or there was nothing to store
 */
gboolean store_write (Store             *store,
                      const StoreIntent *intent,
                      StoreWork          work,
                      gpointer           data,
                      StoreReceipt      *receipt,
                      GCancellable      *cancellable,
                      GError           **error);

/**
 * store_write_async:
 * @store: a store, kept open until @done was called
 * @intent: who does what; copied
 * @work: the changes
 * @data: (transfer full): for @work
 * @free_data: (nullable): frees @data
 * @cancellable: (nullable): stops the work with nothing stored
 * @done: called in the caller's main context
 * @user_data: for @done
 *
 * Queues one action. Actions are done in the order in which they were queued. The task's source object is %NULL.
 */
void store_write_async (Store              *store,
                        const StoreIntent  *intent,
                        StoreWork           work,
                        gpointer            data,
                        GDestroyNotify      free_data,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback done,
                        gpointer            user_data);

/* Ends store_write_async(); @receipt as in store_write(). */
gboolean store_write_finish (Store        *store,
                             GAsyncResult *result,
                             StoreReceipt *receipt,
                             GError      **error);

/* The writable connection. Changes to kept or derived tables of the profile are not journaled. */
StoreDb *store_action_db (StoreAction *action);

gint64 store_action_get_person (StoreAction *action);

/* Says who does it when only the work itself finds out, such as an import that brings its writer's own record. */
void store_action_set_person (StoreAction *action,
                              gint64       person);

/* The next key for a row, unique among all copies of the file. */
gint64 store_action_new_id (StoreAction *action);

/**
 * store_action_message:
 * @action: an action
 * @id: of the message: lower case, digits and hyphens
 * @arguments: (nullable): of type %STORE_ARGUMENTS, sunk if floating: each a word and a number, where the word is a
 *   journaled table and the number a key, or the word is 'count' and the number a count. Never names or free text
 *
 * Says what the action did, for history; rendered in the reader's language. The last call counts.
 */
void store_action_message (StoreAction *action,
                           const char  *id,
                           GVariant    *arguments);
#define STORE_ARGUMENTS "a(sx)"

/**
 * store_action_split:
 * @action: an action
 * @error: return location
 *
 * Closes the present entry and begins another in the same transaction, so that memory stays bounded. Bulk work calls it
 * every 10,000 rows or so; the `row` hook then sees the rows so far.
 *
 * Returns: %FALSE if a rule refuses, the disk fails, or the action was cancelled
 */
gboolean store_action_split (StoreAction *action,
                             GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_action_progress:
 * @action: an action
 * @done: how much is done
 * @total: of how much; 0: unknown
 * @error: return location
 *
 * Tells the progress and asks whether to go on.
 *
 * Returns: %FALSE with %G_IO_ERROR_CANCELLED when the action was cancelled
 */
gboolean store_action_progress (StoreAction *action,
                                guint64      done,
                                guint64      total,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/* Says that kept tables changed (a person's name erased): commit also when no journaled row differs. */
void store_action_keep (StoreAction *action);

G_END_DECLS
