/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Bytes by their SHA-256: photographs, documents, frozen evidence. Stored once, never changed, not in changesets.
 */

#include "store-write.h"

G_BEGIN_DECLS

#define STORE_CONTENT_MOST (32 * 1024 * 1024)

/**
 * store_content_add:
 * @action: an action; content that no journaled row came with is not stored
 * @bytes: at most %STORE_CONTENT_MOST
 * @sha256: (out): lower-case hexadecimal
 * @error: return location
 *
 * Returns: whether it is there now; %STORE_ERROR_TOO_LARGE
 */
gboolean store_content_add (StoreAction *action,
                            GBytes      *bytes,
                            char       **sha256,
                            GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_content_read:
 * @db: any connection
 * @sha256: lower-case hexadecimal
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the bytes, proven against @sha256; %STORE_ERROR_MISSING, _DAMAGED
 */
GBytes *store_content_read (StoreDb    *db,
                            const char *sha256,
                            GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
