/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The tables every journaled file has beside the profile's own, and bringing a file to the present schema.
 */

#include "store-private.h"

G_BEGIN_DECLS

#define STORE_FORMAT 1 /* of the store's own tables */

/* Makes all tables in an empty database, within one transaction; @uuid as text. */
gboolean store_schema_make    (StoreDb    *db,
                               const char *uuid,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* Runs the migrations from schema @from + 1 on, in one transaction, and rebuilds what is derived. */
gboolean store_schema_migrate (StoreDb *db,
                               gint64   from,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Holds the profile's journaled tables against what the journal needs of a table. */
gboolean store_schema_verify  (StoreDb *db,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Rebuilds entry_touch from the journal. */
gboolean store_touch_rebuild  (StoreDb *db,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
