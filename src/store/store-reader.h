/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Reading beside the main thread: one thread a window with a read-only connection of its own, and a watch that tells
 * when anybody committed.
 */

#include <gio/gio.h>

#include "store.h"

G_BEGIN_DECLS

typedef struct _StoreReader StoreReader;

/**
 * StoreReadWork:
 * @db: the reader's connection, in one read transaction
 * @data: the request
 * @cancellable: (nullable): queries stop by themselves; calculations must ask
 * @error: return location
 *
 * A request in the reader thread: read into arrays, call store_reader_done_reading(), then compute.
 *
 * Returns: (transfer full) (nullable): the answer; %NULL with @error set on failure
 */
typedef gpointer (*StoreReadWork) (StoreDb      *db,
                                   gpointer      data,
                                   GCancellable *cancellable,
                                   GError      **error);

/* Begins a thread with a connection of its own to the file of @store, which must stay open meanwhile. */
StoreReader *store_reader_new (Store   *store,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Waits for the request under way (cancel it first); queued ones end as cancelled. */
void store_reader_free (StoreReader *reader);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreReader, store_reader_free)

/**
 * store_reader_run_async:
 * @reader: a reader
 * @work: the request
 * @data: (transfer full): for @work
 * @free_data: (nullable): frees @data, after @work
 * @free_answer: (nullable): frees an answer that nobody took
 * @cancellable: (nullable): drops the request
 * @done: called in the caller's main context
 * @user_data: for @done
 *
 * Queues a request; requests are answered in order.
 */
void store_reader_run_async (StoreReader        *reader,
                             StoreReadWork       work,
                             gpointer            data,
                             GDestroyNotify      free_data,
                             GDestroyNotify      free_answer,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback done,
                             gpointer            user_data);

/* The answer of store_reader_run_async(), as its work returned it. */
gpointer store_reader_run_finish (StoreReader  *reader,
                                  GAsyncResult *result,
                                  GError      **error) G_GNUC_WARN_UNUSED_RESULT;

/* The same, waiting: for batch calls and tests. */
gpointer store_reader_run (StoreReader  *reader,
                           StoreReadWork work,
                           gpointer      data,
                           GCancellable *cancellable,
                           GError      **error) G_GNUC_WARN_UNUSED_RESULT;

/* Ends the read transaction early, so that a long calculation does not hold back checkpoints. */
void store_reader_done_reading (StoreDb *db);

typedef struct _StoreWatch StoreWatch;

/**
 * store_watch:
 * @store: a store
 * @interval_ms: how often to look; 0: every 250 ms
 * @changed: called in the thread-default main context of the caller whenever anybody committed since
 * @data: for @changed
 *
 * Returns: (transfer full) (nullable): to be ended with store_watch_free(), before the store is closed
 */
StoreWatch *store_watch (Store   *store,
                         guint    interval_ms,
                         void   (*changed) (gpointer data),
                         gpointer data,
                         GError **error) G_GNUC_WARN_UNUSED_RESULT;

void store_watch_free (StoreWatch *watch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreWatch, store_watch_free)

G_END_DECLS
