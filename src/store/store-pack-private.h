/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Payloads: a changeset as it is stored (raw below 512 bytes, else a zlib stream) with the SHA-256 of its raw bytes.
 */

#include "store-private.h"

G_BEGIN_DECLS

#define STORE_PACK_RAW_BELOW 512

typedef enum
{
  STORE_PACKING_RAW = 0,
  STORE_PACKING_ZLIB = 1
} StorePacking;

/* A changeset being packed, perhaps in another thread. */
typedef struct
{
  GBytes      *raw; /* dropped as soon as it is packed */
  gsize        size;
  guint8       digest[STORE_DIGEST_LENGTH]; /* SHA-256 of the raw bytes */
  StorePacking packing;
  GBytes      *packed;
  gboolean     done;
} StorePack;

StorePack *store_pack_start (GBytes *raw) G_GNUC_WARN_UNUSED_RESULT;
void       store_pack_wait  (StorePack *pack);
void       store_pack_free  (StorePack *pack);

/* The raw bytes of a payload that claims to be @size bytes; STORE_ERROR_DAMAGED when it is not. */
GBytes *store_unpack (StorePacking packing,
                      const void  *bytes,
                      gsize        length,
                      gint64       size,
                      const char  *shown,
                      GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/* The raw changeset of the entry at @place; STORE_ERROR_ERASED, _DAMAGED, _MISSING. */
GBytes *store_payload_read (StoreDb *db,
                            gint64   place,
                            GError **error) G_GNUC_WARN_UNUSED_RESULT;

void store_digest (const void *bytes,
                   gsize       length,
                   guint8      digest[STORE_DIGEST_LENGTH]);

G_END_DECLS
