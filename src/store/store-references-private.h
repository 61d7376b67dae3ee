/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Whether references hold after changesets were inverted and applied without SQLite's own check.
 */

#include "store-block-private.h"

G_BEGIN_DECLS

typedef struct _StoreReferences StoreReferences;

StoreReferences *store_references_new  (StoreDb         *db,
                                        GError         **error) G_GNUC_WARN_UNUSED_RESULT;
void             store_references_free (StoreReferences *references);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreReferences, store_references_free)

/* Notes a row of a changeset whose inverse is applied: what will be gone by it, and what it will want. */
void             store_references_note (StoreReferences *references,
                                        const StoreRow  *row);
/* Once all is applied: rows that refer to what is gone, and rows that are gone although others refer to them again. */
gboolean         store_references_find (StoreReferences *references,
                                        StoreWay        *referring,
                                        StoreWay        *missing,
                                        GError         **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
