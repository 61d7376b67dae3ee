/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The writer thread and its queue.
 */

#include "store-private.h"

G_BEGIN_DECLS

/* Takes over the connection. */
StoreWriter *store_writer_new (Store   *store,
                               StoreDb *db);
/* Works off the queue, checkpoints, closes the connection, frees the writer. */
gboolean     store_writer_end (StoreWriter *writer,
                               GError     **error);

/* Queues work for a task; its task data must already be set and hold @data. */
void     store_writer_queue (Store             *store,
                             const StoreIntent *intent,
                             StoreWork          work,
                             gpointer           data,
                             StoreReceipt      *receipt,
                             GTask             *task);

G_END_DECLS
