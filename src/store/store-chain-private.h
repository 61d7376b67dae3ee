/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The digests of the journal. See 'Method' in store-chain.c.
 */

#include "store-private.h"

G_BEGIN_DECLS

/* Everything an entry's digest stands for. */
typedef struct
{
  gint64        origin;
  gint64        number;
  gint64        action;
  gint64        kind;
  gint64        reverses;
  gint64        sitting;
  gint64        person;
  const char   *time;
  const char   *message;
  const char   *arguments; /* as store_arguments_print() writes them */
  gint64        schema;
  gint64        size;
  const guint8 *digest; /* STORE_DIGEST_LENGTH bytes: SHA-256 of the raw changeset */
} StoreEntryFacts;

void store_chain_entry (const StoreEntryFacts *facts,
                        guint8                 entry_hash[STORE_DIGEST_LENGTH]);
void store_chain_place (const guint8 previous[STORE_DIGEST_LENGTH],
                        const guint8 entry_hash[STORE_DIGEST_LENGTH],
                        guint8       place_hash[STORE_DIGEST_LENGTH]);

/* Place and place digest of the last entry; 0 and zeros when there is none. */
gboolean store_chain_head (StoreDb *db,
                           gint64  *place,
                           guint8   head[STORE_DIGEST_LENGTH],
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The digest of a place; @found is %FALSE when the journal does not go as far. */
gboolean store_chain_at (StoreDb *db,
                         gint64   place,
                         guint8   head[STORE_DIGEST_LENGTH],
                         gboolean *found,
                         GError **error);

char *store_hex_dup (const guint8 digest[STORE_DIGEST_LENGTH]) G_GNUC_WARN_UNUSED_RESULT;

/* A message's arguments as stored ('unit:5 count:24') and back; NULL when it is no such text. */
char     *store_arguments_print (GVariant *arguments) G_GNUC_WARN_UNUSED_RESULT;
GVariant *store_arguments_parse (const char *text) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
