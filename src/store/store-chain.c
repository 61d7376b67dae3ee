/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Method: how the journal proves itself
 *
 * A commit is one action; an action has one or more entries, each with the changeset that SQLite's session extension
 * recorded over the journaled tables. Entries stand in one order, their place: 1, 2, 3 and so on without a gap. An
 * entry also carries its origin (which copy wrote it) and its number (how many entries that origin had written): these
 * two stay when copies are brought into one order, the place does not. Therefore there are two digests:
 *
 *   entry_hash = SHA-256 (the entry's facts)            what was done; the same in every copy
 *   place_hash = SHA-256 (previous place_hash || entry_hash)    in which order; the first previous is 32 zero bytes
 *
 * The facts are these bytes, in this order, without padding:
 *
 *   text     "fettle-entry-1"
 *   integer  origin, number, key of the action, kind of the action (0 done, 1 undone, 2 redone), key of the action that
 *            it reverses (0: none), sitting, person (0: none)
 *   text     time (ISO 8601, UTC, to the second), message id, arguments
 *   integer  schema number, length of the raw changeset
 *   32 bytes SHA-256 of the raw changeset
 *
 * where an integer is 8 bytes, big-endian, two's complement, and a text is its length in bytes as an integer, then its
 * bytes in UTF-8. Arguments are words and numbers, `word:number`, with single spaces between; no arguments are an empty
 * text. Since the facts hold the digest of the changeset and not the changeset, a payload can be erased and everything
 * still verifies; what was erased, by whom and why stands in `erasure`, outside the chain.
 *
 * What it shows: accident, and editing by hand. Whoever rewrites the file from the altered entry onwards makes a chain
 * that holds; only a head (the last place_hash) that was kept elsewhere shows that. A record edited past the journal
 * does not touch the chain at all: it is found by replaying every changeset into an empty file and comparing.
 *
 * Writing: the writer computes digests at commit, in order of place, within the transaction that stores the rows. A
 * changeset is split off, packed and hashed while the action goes on, so that its size is bounded by
 * store_action_split(); the chain itself needs only its 32 bytes.
 */

#include "config.h"

#include "store-chain-private.h"
#include "store-pack-private.h"

#include <glib/gi18n-lib.h>

#include <string.h>

static void
put_integer (GChecksum *checksum, gint64 value)
{
  guint64 bytes = GUINT64_TO_BE ((guint64) value);

  g_checksum_update (checksum, (const guchar *) &bytes, sizeof bytes);
}

static void
put_text (GChecksum *checksum, const char *text)
{
  gsize length = strlen (text);

  put_integer (checksum, (gint64) length);
  g_checksum_update (checksum, (const guchar *) text, (gssize) length);
}

void
store_chain_entry (const StoreEntryFacts *facts, guint8 entry_hash[STORE_DIGEST_LENGTH])
{
  g_autoptr(GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize length = STORE_DIGEST_LENGTH;

  put_text (checksum, "fettle-entry-1");
  put_integer (checksum, facts->origin);
  put_integer (checksum, facts->number);
  put_integer (checksum, facts->action);
  put_integer (checksum, facts->kind);
  put_integer (checksum, facts->reverses);
  put_integer (checksum, facts->sitting);
  put_integer (checksum, facts->person);
  put_text (checksum, facts->time);
  put_text (checksum, facts->message);
  put_text (checksum, facts->arguments);
  put_integer (checksum, facts->schema);
  put_integer (checksum, facts->size);
  g_checksum_update (checksum, facts->digest, STORE_DIGEST_LENGTH);
  g_checksum_get_digest (checksum, entry_hash, &length);
}

void
store_chain_place (const guint8 previous[STORE_DIGEST_LENGTH],
                   const guint8 entry_hash[STORE_DIGEST_LENGTH],
                   guint8       place_hash[STORE_DIGEST_LENGTH])
{
  guint8 both[2 * STORE_DIGEST_LENGTH];

  memcpy (both, previous, STORE_DIGEST_LENGTH);
  memcpy (both + STORE_DIGEST_LENGTH, entry_hash, STORE_DIGEST_LENGTH);
  store_digest (both, sizeof both, place_hash);
}

gboolean
store_chain_head (StoreDb *db, gint64 *place, guint8 head[STORE_DIGEST_LENGTH], GError **error)
{
  static const char sql[] = "SELECT place, place_hash FROM entry ORDER BY place DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  *place = 0;
  memset (head, 0, STORE_DIGEST_LENGTH);
  if (statement == NULL || !store_db_next (db, statement, _("The journal could not be read"), &row, error))
    return FALSE;
  if (!row)
    return TRUE;
  if (sqlite3_column_bytes (statement, 1) != STORE_DIGEST_LENGTH)
    return store_db_fail_code (db, SQLITE_CORRUPT, _("The journal could not be read"), error);
  *place = sqlite3_column_int64 (statement, 0);
  memcpy (head, sqlite3_column_blob (statement, 1), STORE_DIGEST_LENGTH);
  return TRUE;
}

gboolean
store_chain_at (StoreDb *db, gint64 place, guint8 head[STORE_DIGEST_LENGTH], gboolean *found, GError **error)
{
  static const char sql[] = "SELECT place_hash FROM entry WHERE place = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  *found = FALSE;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, place);
  if (!store_db_next (db, statement, _("The journal could not be read"), &row, error))
    return FALSE;
  if (row && sqlite3_column_bytes (statement, 0) == STORE_DIGEST_LENGTH)
    {
      memcpy (head, sqlite3_column_blob (statement, 0), STORE_DIGEST_LENGTH);
      *found = TRUE;
    }
  return TRUE;
}

char *
store_hex_dup (const guint8 digest[STORE_DIGEST_LENGTH])
{
  char *hex = g_malloc (2 * STORE_DIGEST_LENGTH + 1);

  for (guint i = 0; i < STORE_DIGEST_LENGTH; i++)
    g_snprintf (hex + 2 * i, 3, "%02x", digest[i]);
  return hex;
}

char *
store_arguments_print (GVariant *arguments)
{
  GString *text = g_string_new (NULL);
  GVariantIter iter;
  const char *word;
  gint64 number;

  if (arguments != NULL)
    {
      g_variant_iter_init (&iter, arguments);
      while (g_variant_iter_next (&iter, "(&sx)", &word, &number))
        g_string_append_printf (text, "%s%s:%" G_GINT64_FORMAT, text->len > 0 ? " " : "", word, number);
    }
  return g_string_free (text, FALSE);
}

GVariant *
store_arguments_parse (const char *text)
{
  g_auto(GVariantBuilder) builder = G_VARIANT_BUILDER_INIT (G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_auto(GStrv) parts = g_strsplit (text, " ", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      char *colon = strrchr (parts[i], ':');
      gint64 number;

      if (colon == NULL || !g_ascii_string_to_signed (colon + 1, 10, G_MININT64, G_MAXINT64, &number, NULL))
        return NULL;
      *colon = '\0';
      if (!g_utf8_validate (parts[i], -1, NULL))
        return NULL;
      g_variant_builder_add (&builder, "(sx)", parts[i], number);
    }
  return g_variant_ref_sink (g_variant_builder_end (&builder));
}
