/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Finding what stands in the way of an undo, while its transaction is still open.
 */

#include "store-changes-private.h"
#include "store-undo.h"

G_BEGIN_DECLS

typedef struct _StoreWay StoreWay;

StoreWay *store_way_new  (guint n_tables);
void      store_way_free (StoreWay *way);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreWay, store_way_free)

/* Notes a row in the way. */
void      store_way_add  (StoreWay *way,
                          guint     table,
                          gint64    id);
gboolean  store_way_is_empty (StoreWay *way);

/* The block: the first table with rows in the way, and the later actions that touched any. */
StoreBlock *store_way_to_block (StoreWay        *way,
                                StoreDb         *db,
                                StoreBlockReason reason,
                                gint64           action,
                                gint64           last_place,
                                GError         **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
