/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * One action, from BEGIN IMMEDIATE to COMMIT. What happens between is recorded by a session and cut into entries; see
 * 'Method' in store-chain.c. Lock order: none is held while hooks or work run.
 */

#include "config.h"

#include "store-action-private.h"
#include "store-chain-private.h"
#include "store-changes-private.h"
#include "store-id.h"

#include <glib/gi18n-lib.h>

#include <string.h>

#define UNPACKED_MOST 2 /* changesets that are packed beside the work; bounds memory */

/* An entry that is closed but not yet in the chain. */
typedef struct
{
  gint64     place;
  gint64     size;
  guint8     digest[STORE_DIGEST_LENGTH];
  StorePack *pack; /* NULL once its payload is stored */
} EntryDraft;

static void
entry_draft_free (gpointer data)
{
  EntryDraft *draft = data;

  g_clear_pointer (&draft->pack, store_pack_free);
  g_free (draft);
}

static int
is_journaled (void *data, const char *table)
{
  return store_db_find_table (data, table) >= 0;
}

/* Begins to record. Tables are taken in as they are touched: a session looks through all it has at every row. */
static gboolean
start_session (StoreAction *action, GError **error)
{
  int code = sqlite3session_create (action->db->handle, "main", &action->session);

  if (code == SQLITE_OK)
    {
      sqlite3session_table_filter (action->session, is_journaled, action->db);
      code = sqlite3session_attach (action->session, NULL);
    }
  if (code != SQLITE_OK)
    return store_db_fail_code (action->db, code, _("The journal could not be written"), error);
  return TRUE;
}

static void
call_begin (StoreAction *action)
{
  const StoreProfile *profile = action->db->profile;

  if (action->context_begun)
    return;
  action->context = profile->begin != NULL ? profile->begin (action->db, profile->user) : profile->user;
  action->context_begun = TRUE;
}

/* Stores the payloads of the oldest drafts until at most @most are being packed. */
static gboolean
store_payloads (StoreAction *action, guint most, GError **error)
{
  static const char sql[] = "INSERT INTO payload (place, packing, bytes) VALUES (?1, ?2, ?3)";
  GList *at = g_queue_peek_nth_link (&action->drafts, action->drafts.length - action->unpacked);

  for (; action->unpacked > most; at = at->next, action->unpacked--)
    {
      EntryDraft *draft = at->data;
      g_autoptr(StoreStatement) statement = store_db_statement (action->db, sql, error);
      gsize length;
      const void *bytes;

      if (statement == NULL)
        return FALSE;
      store_pack_wait (draft->pack);
      bytes = g_bytes_get_data (draft->pack->packed, &length);
      sqlite3_bind_int64 (statement, 1, draft->place);
      sqlite3_bind_int (statement, 2, draft->pack->packing);
      sqlite3_bind_blob64 (statement, 3, bytes, length, SQLITE_STATIC);
      if (!store_db_run (action->db, statement, _("The journal could not be written"), error))
        return FALSE;
      memcpy (draft->digest, draft->pack->digest, STORE_DIGEST_LENGTH);
      g_clear_pointer (&draft->pack, store_pack_free);
    }
  return TRUE;
}

/* Shows every row of a changeset to the profile, counts it and notes its key. */
static gboolean
look_through (StoreAction *action, GBytes *raw, gint64 place, GError **error)
{
  const StoreProfile *profile = action->db->profile;
  g_auto(StoreChanges) changes = { 0 };
  const StoreRow *row;
  gboolean ok;

  store_changes_open (&changes, action->db, raw);
  while ((ok = store_changes_next (&changes, &row, error)) && row != NULL)
    {
      store_touch_add (action->touch, row->table, row->id);
      switch (row->op)
        {
        case STORE_INSERT:
          action->receipt.inserted++;
          break;
        case STORE_UPDATE:
          action->receipt.updated++;
          break;
        case STORE_DELETE:
          action->receipt.deleted++;
          break;
        }
      if (profile->row != NULL && !profile->row (action->db, row, action->context, error))
        return FALSE;
    }
  return ok && store_touch_write (action->touch, action->db, place, error);
}

/* Closes the present entry, if it holds anything. */
static gboolean
close_entry (StoreAction *action, GError **error)
{
  EntryDraft *draft;
  g_autoptr(GBytes) raw = NULL;
  void *bytes = NULL;
  int length = 0, code;

  if (sqlite3_get_autocommit (action->db->handle)) /* SQLite gave the transaction up after a fault that work ignored */
    return store_db_fail_code (action->db, SQLITE_IOERR, _("Nothing was stored"), error);

  /* Asked even if the session seems empty: one that ran out of memory seems so too, and tells it only here. */
  code = sqlite3session_changeset (action->session, &length, &bytes);
  if (code != SQLITE_OK)
    return store_db_fail_code (action->db, code, _("The journal could not be written"), error);
  g_clear_pointer (&action->session, sqlite3session_delete);
  if (length == 0) /* every row is back at its old value */
    {
      sqlite3_free (bytes);
      return start_session (action, error);
    }
  raw = store_changes_sort (action->db->profile, action->db->shown, bytes, (gsize) length, error);
  if (raw == NULL)
    return FALSE;

  draft = g_new0 (EntryDraft, 1);
  draft->place = action->place + action->drafts.length + 1;
  draft->size = length;
  draft->pack = store_pack_start (raw);
  g_queue_push_tail (&action->drafts, draft);
  action->unpacked++;

  call_begin (action);
  return look_through (action, raw, draft->place, error) && store_payloads (action, UNPACKED_MOST, error) &&
         start_session (action, error);
}

/* The profile's last word. It may write derived tables, and is held to that. */
static gboolean
call_finish (StoreAction *action, GError **error)
{
  const StoreProfile *profile = action->db->profile;
  gboolean ok;

  if (profile->finish == NULL)
    return TRUE;
  action->db->writer = action->person;
  ok = profile->finish (action->db, action->context, error);
  action->db->writer = -1;
  if (!ok)
    return FALSE;
  if (!sqlite3session_isempty (action->session))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                   _("'%s' would have been changed past its journal: please report this."), action->db->shown);
      return FALSE;
    }
  return TRUE;
}

static gboolean
insert_entries (StoreAction *action, GError **error)
{
  static const char sql[] = "INSERT INTO entry (place, origin, number, action, schema, size, digest, entry_hash, place_hash) "
                            "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)";
  StoreEntryFacts facts = {
    .origin = action->origin.origin,
    .action = action->id,
    .kind = action->kind,
    .reverses = action->reverses,
    .sitting = action->intent->sitting,
    .person = action->person,
    .time = action->time,
    .message = action->message,
    .arguments = action->arguments,
    .schema = action->db->profile->n_migrations,
  };

  for (GList *at = action->drafts.head; at != NULL; at = at->next)
    {
      EntryDraft *draft = at->data;
      g_autoptr(StoreStatement) statement = store_db_statement (action->db, sql, error);
      guint8 entry_hash[STORE_DIGEST_LENGTH], place_hash[STORE_DIGEST_LENGTH];

      if (statement == NULL)
        return FALSE;
      facts.number = ++action->origin.number;
      facts.size = draft->size;
      facts.digest = draft->digest;
      store_chain_entry (&facts, entry_hash);
      store_chain_place (action->head, entry_hash, place_hash);
      memcpy (action->head, place_hash, STORE_DIGEST_LENGTH);

      sqlite3_bind_int64 (statement, 1, draft->place);
      sqlite3_bind_int64 (statement, 2, facts.origin);
      sqlite3_bind_int64 (statement, 3, facts.number);
      sqlite3_bind_int64 (statement, 4, facts.action);
      sqlite3_bind_int64 (statement, 5, facts.schema);
      sqlite3_bind_int64 (statement, 6, facts.size);
      sqlite3_bind_blob (statement, 7, draft->digest, STORE_DIGEST_LENGTH, SQLITE_STATIC);
      sqlite3_bind_blob (statement, 8, entry_hash, STORE_DIGEST_LENGTH, SQLITE_STATIC);
      sqlite3_bind_blob (statement, 9, place_hash, STORE_DIGEST_LENGTH, SQLITE_STATIC);
      if (!store_db_run (action->db, statement, _("The journal could not be written"), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
insert_sitting (StoreAction *action, GError **error)
{
  static const char sql[] = "INSERT INTO sitting (id, person, began) VALUES (?1, ?2, ?3) ON CONFLICT (id) DO NOTHING";
  g_autoptr(StoreStatement) statement = store_db_statement (action->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, action->intent->sitting);
  sqlite3_bind_int64 (statement, 2, action->person);
  sqlite3_bind_text (statement, 3, action->time, -1, SQLITE_STATIC);
  return store_db_run (action->db, statement, _("The journal could not be written"), error);
}

static gboolean
insert_action (StoreAction *action, GError **error)
{
  static const char sql[] = "INSERT INTO action (id, kind, reverses, sitting, person, time, message, arguments, first_place, "
                            "entries) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)";
  g_autoptr(StoreStatement) statement = store_db_statement (action->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, action->id);
  sqlite3_bind_int (statement, 2, action->kind);
  sqlite3_bind_int64 (statement, 3, action->reverses);
  sqlite3_bind_int64 (statement, 4, action->intent->sitting);
  sqlite3_bind_int64 (statement, 5, action->person);
  sqlite3_bind_text (statement, 6, action->time, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 7, action->message, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 8, action->arguments, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 9, action->place + 1);
  sqlite3_bind_int (statement, 10, (int) action->drafts.length);
  return store_db_run (action->db, statement, _("The journal could not be written"), error);
}

static gboolean
commit (StoreAction *action, GError **error)
{
  int code;

  action->db->may_commit = TRUE;
  code = sqlite3_exec (action->db->handle, "COMMIT", NULL, NULL, NULL);
  action->db->may_commit = FALSE;
  return code == SQLITE_OK || store_db_fail (action->db, _("The journal could not be written"), error);
}

static gboolean
begin (StoreAction *action, GError **error)
{
  if (sqlite3_exec (action->db->handle, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK)
    return store_db_fail (action->db, _("Nothing could be stored"), error);
  if (!store_origin_take (action->store, action->db, &action->origin, error) ||
      !store_chain_head (action->db, &action->place, action->head, error))
    return FALSE;
  action->id = store_action_new_id (action);
  return start_session (action, error);
}

/* Everything between the end of the work and the end of the transaction. @stored says whether there was anything. */
static gboolean
end (StoreAction *action, gboolean *stored, GError **error)
{
  *stored = FALSE;
  if (!close_entry (action, error))
    return FALSE;
  if (action->discard) /* but not without having asked all rules */
    return action->drafts.length == 0 || call_finish (action, error);
  if (action->drafts.length == 0 && !action->keep)
    return TRUE;

  if (action->drafts.length > 0)
    {
      if (!call_finish (action, error) || !store_payloads (action, 0, error) || !insert_entries (action, error) ||
          !insert_action (action, error) || (action->intent->sitting != 0 && !insert_sitting (action, error)))
        return FALSE;
      action->receipt.action = action->id;
      action->receipt.entries = action->drafts.length;
    }
  if (!store_origin_put (action->db, &action->origin, error) ||
      g_cancellable_set_error_if_cancelled (action->cancellable, error) || !commit (action, error))
    return FALSE;
  *stored = TRUE;
  return TRUE;
}

static void
clear (StoreAction *action)
{
  const StoreProfile *profile = action->db->profile;

  if (action->context_begun && profile->end != NULL)
    profile->end (action->context);
  g_clear_pointer (&action->session, sqlite3session_delete);
  g_clear_pointer (&action->touch, store_touch_free);
  g_queue_clear_full (&action->drafts, entry_draft_free);
  g_free (action->time);
  g_free (action->message);
  g_free (action->arguments);
}

gboolean
store_action_run (Store *store, StoreDb *db, const StoreIntent *intent, StoreWork work, gpointer data,
                  StoreReceipt *receipt, GCancellable *cancellable, GError **error)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_utc ();
  StoreAction action = {
    .store = store,
    .db = db,
    .intent = intent,
    .person = intent->person,
    .cancellable = cancellable,
    .time = g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ"),
    .message = g_strdup (intent->action),
    .arguments = g_strdup (""),
    .touch = store_touch_new (db->profile->n_tables),
    .drafts = G_QUEUE_INIT,
  };
  gboolean ok, stored = FALSE;

  if (receipt != NULL)
    *receipt = (StoreReceipt){ 0 };
  store_db_set_cancellable (db, cancellable);
  ok = !g_cancellable_set_error_if_cancelled (cancellable, error) && store_sole_take (store, cancellable, error) &&
       begin (&action, error) && work (&action, data, error) && end (&action, &stored, error);
  store_db_set_cancellable (db, NULL);

  if (!stored)
    store_db_rollback (db);
  else if (action.drafts.length > 0)
    store_origin_remember (store, &action.origin, action.place + action.drafts.length, action.head);
  if (stored && receipt != NULL)
    *receipt = action.receipt;
  clear (&action);
  return ok;
}

StoreDb *
store_action_db (StoreAction *action)
{
  return action->db;
}

gint64
store_action_get_person (StoreAction *action)
{
  return action->person;
}

void
store_action_set_person (StoreAction *action, gint64 person)
{
  action->person = person;
}

gint64
store_action_new_id (StoreAction *action)
{
  /* Taking an origin made sure of a thousand million keys. */
  g_assert (action->origin.counter < STORE_ID_COUNTER_MOST);

  return store_id_make (action->origin.origin, ++action->origin.counter);
}

void
store_action_message (StoreAction *action, const char *id, GVariant *arguments)
{
  g_autoptr(GVariant) sunk = arguments != NULL ? g_variant_ref_sink (arguments) : NULL;

  g_return_if_fail (id != NULL);
  g_return_if_fail (sunk == NULL || g_variant_is_of_type (sunk, G_VARIANT_TYPE (STORE_ARGUMENTS)));

  g_free (action->message);
  action->message = g_strdup (id);
  g_free (action->arguments);
  action->arguments = store_arguments_print (sunk);
}

gboolean
store_action_split (StoreAction *action, GError **error)
{
  return !g_cancellable_set_error_if_cancelled (action->cancellable, error) && close_entry (action, error);
}

gboolean
store_action_progress (StoreAction *action, guint64 done, guint64 total, GError **error)
{
  if (action->intent->progress != NULL)
    action->intent->progress (done, total, action->intent->progress_data);
  return !g_cancellable_set_error_if_cancelled (action->cancellable, error);
}

void
store_action_keep (StoreAction *action)
{
  action->keep = TRUE;
}
