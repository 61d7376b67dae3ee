/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which keys an entry touched, as ranges in the derived table entry_touch, so that history finds the entries of a record
 * by an index.
 */

#include "store-private.h"

G_BEGIN_DECLS

typedef struct _StoreTouch StoreTouch;

StoreTouch *store_touch_new   (guint n_tables);
void        store_touch_free  (StoreTouch *touch);
void        store_touch_add   (StoreTouch *touch,
                               guint       table,
                               gint64      id);
/* Called for each range; FALSE with @error set stops. */
typedef gboolean (*StoreTouchFunc) (guint    table,
                                    gint64   low,
                                    gint64   high,
                                    gpointer data,
                                    GError **error);
/* Tells all ranges in order of table and key, then forgets them. */
gboolean    store_touch_flush (StoreTouch    *touch,
                               StoreTouchFunc func,
                               gpointer       data,
                               GError       **error) G_GNUC_WARN_UNUSED_RESULT;
/* Writes all ranges as those of the entry at @place, then forgets them. */
gboolean    store_touch_write (StoreTouch *touch,
                               StoreDb    *db,
                               gint64      place,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* Places after @after whose entries may have touched a record: (element-type gint64), ascending. */
GArray     *store_touch_list  (StoreDb *db,
                               guint    table,
                               gint64   id,
                               gint64   after,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreTouch, store_touch_free)

G_END_DECLS
