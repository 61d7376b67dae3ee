/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * One walk over all entries: digests (see 'Method' in store-chain.c), touched ranges, and the replay that follows them.
 */

#include "config.h"

#include "store-chain-private.h"
#include "store-changes-private.h"
#include "store-check-private.h"
#include "store-touch-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>
#include <string.h>

#define PERMILLE_FIRST 200
#define PERMILLE_SPAN  300

/* The walk under way. */
typedef struct
{
  StoreCheck  *check;
  StoreTouch  *touch;
  StoreReplay *replay; /* NULL: not wanted, or given up because a payload is missing */
  gint64       place;  /* of the entry at hand */
  gint64       places; /* of the last entry */
  guint8       head[STORE_DIGEST_LENGTH];
} Walk;

enum
{
  COLUMN_PLACE,
  COLUMN_ORIGIN,
  COLUMN_NUMBER,
  COLUMN_ACTION,
  COLUMN_SCHEMA,
  COLUMN_SIZE,
  COLUMN_DIGEST,
  COLUMN_ENTRY_HASH,
  COLUMN_PLACE_HASH,
  COLUMN_PACKING,
  COLUMN_BYTES,
  COLUMN_KIND,
  COLUMN_REVERSES,
  COLUMN_SITTING,
  COLUMN_PERSON,
  COLUMN_TIME,
  COLUMN_MESSAGE,
  COLUMN_ARGUMENTS,
  COLUMN_IN_ACTION,
  COLUMN_ERASED
};

static const char walk_sql[] =
    "SELECT e.place, e.origin, e.number, e.action, e.schema, e.size, e.digest, e.entry_hash, e.place_hash, p.packing, p.bytes,"
    " a.kind, a.reverses, a.sitting, a.person, a.time, a.message, a.arguments,"
    " e.place BETWEEN a.first_place AND a.first_place + a.entries - 1, x.action IS NOT NULL"
    " FROM entry e LEFT JOIN action a ON a.id = e.action LEFT JOIN payload p ON p.place = e.place"
    " LEFT JOIN erasure x ON x.action = e.action ORDER BY e.place";

static void
add (Walk *walk, const char *column, char *sentence)
{
  store_check_add (walk->check, STORE_CHECK_CHAIN, "entry", walk->place, column, sentence);
}

static const guint8 *
column_digest (sqlite3_stmt *statement, int column)
{
  static const guint8 none[STORE_DIGEST_LENGTH];

  return sqlite3_column_bytes (statement, column) == STORE_DIGEST_LENGTH ? sqlite3_column_blob (statement, column) : none;
}

static const char *
column_text (sqlite3_stmt *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return text != NULL ? text : "";
}

/* Holds the entry against its two digests. */
static void
check_digests (Walk *walk, sqlite3_stmt *statement)
{
  guint8 entry_hash[STORE_DIGEST_LENGTH], place_hash[STORE_DIGEST_LENGTH];
  StoreEntryFacts facts = {
    .origin = sqlite3_column_int64 (statement, COLUMN_ORIGIN),
    .number = sqlite3_column_int64 (statement, COLUMN_NUMBER),
    .action = sqlite3_column_int64 (statement, COLUMN_ACTION),
    .kind = sqlite3_column_int64 (statement, COLUMN_KIND),
    .reverses = sqlite3_column_int64 (statement, COLUMN_REVERSES),
    .sitting = sqlite3_column_int64 (statement, COLUMN_SITTING),
    .person = sqlite3_column_int64 (statement, COLUMN_PERSON),
    .time = column_text (statement, COLUMN_TIME),
    .message = column_text (statement, COLUMN_MESSAGE),
    .arguments = column_text (statement, COLUMN_ARGUMENTS),
    .schema = sqlite3_column_int64 (statement, COLUMN_SCHEMA),
    .size = sqlite3_column_int64 (statement, COLUMN_SIZE),
    .digest = column_digest (statement, COLUMN_DIGEST),
  };

  store_chain_entry (&facts, entry_hash);
  store_chain_place (walk->head, column_digest (statement, COLUMN_ENTRY_HASH), place_hash);
  if (memcmp (entry_hash, column_digest (statement, COLUMN_ENTRY_HASH), STORE_DIGEST_LENGTH) != 0)
    add (walk, "entry_hash",
         g_strdup_printf (_("Entry %" PRId64 " of the journal was altered: open the latest copy of the file instead."),
                          walk->place));
  if (memcmp (place_hash, column_digest (statement, COLUMN_PLACE_HASH), STORE_DIGEST_LENGTH) != 0)
    add (walk, "place_hash",
         g_strdup_printf (_("The order of the journal is broken before entry %" PRId64
                            ": open the latest copy of the file instead."),
                          walk->place));
  /* On with what is stored, so that one break is told once. */
  memcpy (walk->head, column_digest (statement, COLUMN_PLACE_HASH), STORE_DIGEST_LENGTH);
}

static gboolean
write_expected (guint table, gint64 low, gint64 high, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO temp.expected_touch VALUES (?1, ?2, ?3, ?4)";
  Walk *walk = data;
  g_autoptr(StoreStatement) statement = store_db_statement (walk->check->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, table);
  sqlite3_bind_int64 (statement, 2, low);
  sqlite3_bind_int64 (statement, 3, high);
  sqlite3_bind_int64 (statement, 4, walk->place);
  return store_db_run (walk->check->db, statement, _("The journal could not be checked"), error);
}

static gboolean
note_touched (Walk *walk, GBytes *raw, GError **error)
{
  StoreDb *db = walk->check->db;
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gboolean ok;

  store_changes_open (&changes, db, raw);
  while ((ok = store_changes_next (&changes, &row, error)) && row != NULL)
    store_touch_add (walk->touch, row->table, row->id);
  return ok && store_touch_flush (walk->touch, write_expected, walk, error);
}

/* Holds the payload against its digest; replays it. */
static gboolean
check_payload (Walk *walk, sqlite3_stmt *statement, GError **error)
{
  g_autoptr(GBytes) raw = NULL;
  g_autoptr(GError) local = NULL;
  guint8 digest[STORE_DIGEST_LENGTH];

  if (sqlite3_column_type (statement, COLUMN_PACKING) == SQLITE_NULL)
    {
      gboolean erased = sqlite3_column_int (statement, COLUMN_ERASED) != 0;

      if (!erased)
        add (walk, "payload",
             g_strdup_printf (_("The payload of entry %" PRId64
                                " is missing: open the latest copy of the file instead."),
                              walk->place));
      if (erased && walk->replay != NULL)
        store_check_add (walk->check, STORE_CHECK_REPLAY, "entry", walk->place, NULL,
                         g_strdup_printf (_("Entry %" PRId64
                                            " was erased, so the records cannot be held against the journal: "
                                            "compare with a copy from before."),
                                          walk->place));
      g_clear_pointer (&walk->replay, store_replay_free);
      return TRUE;
    }

  raw = store_unpack ((StorePacking) sqlite3_column_int (statement, COLUMN_PACKING), sqlite3_column_blob (statement, COLUMN_BYTES),
                      (gsize) sqlite3_column_bytes (statement, COLUMN_BYTES), sqlite3_column_int64 (statement, COLUMN_SIZE),
                      walk->check->db->shown, &local);
  if (raw != NULL)
    store_digest (g_bytes_get_data (raw, NULL), g_bytes_get_size (raw), digest);
  /* cppcheck-suppress legacyUninitvar ; the digest is there when the payload is */
  if (raw == NULL || memcmp (digest, column_digest (statement, COLUMN_DIGEST), STORE_DIGEST_LENGTH) != 0)
    {
      add (walk, "payload",
           g_strdup_printf (_("The payload of entry %" PRId64
                              " was altered: open the latest copy of the file instead."),
                            walk->place));
      g_clear_pointer (&walk->replay, store_replay_free);
      return TRUE;
    }
  return note_touched (walk, raw, error) &&
         (walk->replay == NULL || store_replay_apply (walk->replay, walk->place, raw, error));
}

static gboolean
walk_entries (Walk *walk, GError **error)
{
  StoreDb *db = walk->check->db;
  g_autoptr(StoreStatement) statement = store_db_statement (db, walk_sql, error);
  gint64 expected = 1;
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (db, statement, _("The journal could not be checked"), &row, error)) && row)
    {
      walk->place = sqlite3_column_int64 (statement, COLUMN_PLACE);
      if (walk->place != expected)
        add (walk, "place",
             g_strdup_printf (_("The journal lacks the entries before %" PRId64
                                ": open the latest copy of the file instead."),
                              walk->place));
      expected = walk->place + 1;
      if (!sqlite3_column_int (statement, COLUMN_IN_ACTION))
        add (walk, "action",
             g_strdup_printf (_("Entry %" PRId64 " belongs to no action: open the latest copy of the file instead."),
                              walk->place));
      check_digests (walk, statement);
      if (!check_payload (walk, statement, error) ||
          !store_check_tell (walk->check,
                             PERMILLE_FIRST + (guint) (walk->place * PERMILLE_SPAN / MAX (walk->places, walk->place)), error))
        return FALSE;
    }
  return ok;
}

/* Actions that claim entries which are not there. */
static gboolean
check_actions (StoreCheck *check, GError **error)
{
  static const char sql[] = "SELECT a.id FROM action a WHERE a.entries <> (SELECT count(*) FROM entry e WHERE e.place "
                            "BETWEEN a.first_place AND a.first_place + a.entries - 1 AND e.action = a.id)";
  g_autoptr(StoreStatement) statement = store_db_statement (check->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (check->db, statement, _("The journal could not be checked"), &row, error)) && row)
    store_check_add (check, STORE_CHECK_CHAIN, "action", sqlite3_column_int64 (statement, 0), "entries",
                     g_strdup_printf (_("Action %" PRId64
                                        " lacks entries: open the latest copy of the file instead."),
                                      (gint64) sqlite3_column_int64 (statement, 0)));
  return ok;
}

static gboolean
compare_touched (StoreCheck *check, GError **error)
{
  static const char sql[] =
      "SELECT place FROM (SELECT * FROM temp.expected_touch EXCEPT SELECT * FROM entry_touch) UNION "
      "SELECT place FROM (SELECT * FROM entry_touch WHERE place NOT IN (SELECT e.place FROM entry e JOIN erasure x ON "
      "x.action = e.action) EXCEPT SELECT * FROM temp.expected_touch)";
  g_autoptr(StoreStatement) statement = store_db_statement (check->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (check->db, statement, _("The journal could not be checked"), &row, error)) && row)
    store_check_add (check, STORE_CHECK_DERIVED, "entry_touch", sqlite3_column_int64 (statement, 0), NULL,
                     g_strdup_printf (_("The history of entry %" PRId64
                                        " is listed under other records than it changed: open the latest copy of the file instead."),
                                      (gint64) sqlite3_column_int64 (statement, 0)));
  return ok;
}

gboolean
store_check_journal (StoreCheck *check, GError **error)
{
  Walk walk = { .check = check };
  gboolean ok;

  if (!store_db_exec (check->db, "CREATE TEMP TABLE expected_touch (tab INTEGER, low INTEGER, high INTEGER, place INTEGER)", error) ||
      !store_db_get_integer (check->db, "SELECT max (place) FROM entry", &walk.places, error))
    return FALSE;
  if (check->replay && (walk.replay = store_replay_new (check, error)) == NULL)
    return FALSE;
  walk.touch = store_touch_new (check->db->profile->n_tables);
  ok = walk_entries (&walk, error) && check_actions (check, error) && compare_touched (check, error) &&
       (walk.replay == NULL || store_replay_compare (walk.replay, error));
  store_touch_free (walk.touch);
  g_clear_pointer (&walk.replay, store_replay_free);
  return ok;
}
