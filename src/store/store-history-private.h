/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What undo and its blocks ask the journal for.
 */

#include "store-history.h"
#include "store-private.h"

G_BEGIN_DECLS

/* Whether the effect of an action is undone now; an undo that was redone does not count. */
gboolean store_history_is_undone (StoreDb  *db,
                                  gint64    action,
                                  gboolean *undone,
                                  GError  **error) G_GNUC_WARN_UNUSED_RESULT;
/* The action that stands for @action now: itself, or the last that did it again; MISSING when there is no such action. */
gboolean store_history_stand_in  (StoreDb *db,
                                  gint64   action,
                                  gint64  *now,
                                  GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Whether the entry at @place changed a row of @table whose key is in @ids; taken for granted when it was erased. */
gboolean store_history_touches (StoreDb    *db,
                                gint64      place,
                                guint       table,
                                GHashTable *ids,
                                gboolean   *any,
                                GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
