/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The records as the journal had them at the end of earlier days: a file that SQLite keeps to itself, into which the journal
 * is applied entry by entry, one forward pass that stops where it is asked to.
 */

#include <gio/gio.h>

#include "store-db.h"
#include "store-write.h"

G_BEGIN_DECLS

typedef struct _StorePast StorePast;

/**
 * store_past_size:
 * @db: a reader's connection
 * @bytes: (out): of all changesets, unpacked: what a pass to the end has to apply
 * @error: return location
 *
 * Returns: whether it could be read
 */
gboolean   store_past_size    (StoreDb      *db,
                               gint64       *bytes,
                               GError      **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_past_new:
 * @db: a reader's connection, in one transaction until the pass is over; borrowed
 * @error: return location
 *
 * Returns: (transfer full) (nullable): a pass that stands before the first entry
 */
StorePast *store_past_new     (StoreDb      *db,
                               GError      **error) G_GNUC_WARN_UNUSED_RESULT;
void       store_past_free    (StorePast    *past);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StorePast, store_past_free)

/**
 * store_past_tell:
 * @past: a pass
 * @last: ISO 8601 date: of the last day that will be asked for
 * @progress: (nullable): told from the thread that goes through the journal, in thousandths of all that lies up to @last; each
 *   thousandth once, never going back
 * @progress_data: for @progress
 * @error: return location
 *
 * Returns: whether the journal could be asked
 */
gboolean   store_past_tell    (StorePast    *past,
                               const char   *last,
                               StoreProgress progress,
                               gpointer      progress_data,
                               GError      **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_past_forward:
 * @past: the pass
 * @day: ISO 8601 date, not before that of the last call
 * @then: (out) (nullable) (transfer none): the records and the journal at the end of that day (UTC), until the next call;
 *   %NULL: nothing had been entered yet, or an entry on the way was erased
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Stopped, also in the midst of an entry, the pass stands where it stood before the call. What @then is asked afterwards is stopped by
 * @cancellable too.
 *
 * Returns: %FALSE on failure; %G_IO_ERROR_CANCELLED
 */
gboolean   store_past_forward (StorePast    *past,
                               const char   *day,
                               StoreDb     **then,
                               GCancellable *cancellable,
                               GError      **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
