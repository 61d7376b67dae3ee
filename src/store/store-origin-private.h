/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Under which origin this copy of a file writes. See store-origin.c.
 */

#include "store-private.h"

G_BEGIN_DECLS

/* What a writer continues: where its keys and entry numbers stand. */
typedef struct
{
  gint64 origin;
  gint64 counter; /* of the last key made */
  gint64 number;  /* of the last entry written */
} StoreOrigin;

/* Within a write transaction: the origin to write under; a new one unless this copy is known to be its continuation. */
gboolean store_origin_take     (Store       *store,
                                StoreDb     *db,
                                StoreOrigin *origin,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;
/* Within the same transaction: notes how far it came. */
gboolean store_origin_put      (StoreDb           *db,
                                const StoreOrigin *origin,
                                GError           **error) G_GNUC_WARN_UNUSED_RESULT;
/* After the commit: remembers it beside the user's settings. What cannot be written is forgotten: the next is new then. */
void     store_origin_remember (Store             *store,
                                const StoreOrigin *origin,
                                gint64             place,
                                const guint8       head[STORE_DIGEST_LENGTH]);

G_END_DECLS
