/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-chain-private.h"
#include "store-check-private.h"
#include "store-schema-private.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>
#include <string.h>

#define FINDINGS_MOST 1000

void
store_finding_free (StoreFinding *finding)
{
  g_free (finding->table);
  g_free (finding->column);
  g_free (finding->sentence);
  g_free (finding);
}

const char *
store_check_name (StoreCheckKind kind)
{
  static const char names[][8] = {
    [STORE_CHECK_SQLITE] = "sqlite",
    [STORE_CHECK_KEYS] = "keys",
    [STORE_CHECK_SCHEMA] = "schema",
    [STORE_CHECK_CHAIN] = "chain",
    [STORE_CHECK_CONTENT] = "content",
    [STORE_CHECK_RULES] = "rules",
    [STORE_CHECK_DERIVED] = "derived",
    [STORE_CHECK_REPLAY] = "replay",
  };

  return names[kind];
}

gboolean
store_check_is_full (StoreCheck *check)
{
  return check->findings->len >= FINDINGS_MOST;
}

void
store_check_add (StoreCheck *check, StoreCheckKind kind, const char *table, gint64 id, const char *column, char *sentence)
{
  StoreFinding *finding;

  if (store_check_is_full (check))
    {
      g_free (sentence);
      return;
    }
  finding = g_new0 (StoreFinding, 1);
  finding->kind = kind;
  finding->table = g_strdup (table);
  finding->id = id;
  finding->column = g_strdup (column);
  finding->sentence = sentence;
  g_ptr_array_add (check->findings, finding);
}

gboolean
store_check_tell (StoreCheck *check, guint permille, GError **error)
{
  if (check->progress != NULL)
    check->progress (permille, 1000, check->progress_data);
  return !g_cancellable_set_error_if_cancelled (check->action->cancellable, error);
}

gboolean
store_check_settle (StoreCheck *check, StoreCheckKind kind, gboolean ok, GError *local, GError **error)
{
  if (ok)
    return TRUE;
  if (!g_error_matches (local, STORE_ERROR, STORE_ERROR_DAMAGED))
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  store_check_add (check, kind, NULL, 0, NULL, g_strdup (local->message));
  g_error_free (local);
  return TRUE;
}

static gboolean
check_sqlite (StoreCheck *check, GError **error)
{
  static const char sql[] = "PRAGMA integrity_check (100)";
  g_autoptr(StoreStatement) statement = store_db_statement (check->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (check->db, statement, _("The file could not be checked"), &row, error)) && row)
    {
      g_autofree char *said = g_strdup ((const char *) sqlite3_column_text (statement, 0));

      if (said != NULL && strcmp (said, "ok") != 0)
        store_check_add (check, STORE_CHECK_SQLITE, NULL, 0, NULL,
                         g_strdup_printf (_("The database is damaged: open the latest copy of it instead (%s)."),
                                          g_strdelimit (said, "\n", ' ')));
    }
  return ok;
}

static gboolean
check_keys (StoreCheck *check, GError **error)
{
  static const char sql[] = "PRAGMA foreign_key_check";
  g_autoptr(StoreStatement) statement = store_db_statement (check->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (check->db, statement, _("The file could not be checked"), &row, error)) && row &&
         !store_check_is_full (check))
    {
      const char *table = (const char *) sqlite3_column_text (statement, 0);
      const char *parent = (const char *) sqlite3_column_text (statement, 2);
      gint64 id = sqlite3_column_int64 (statement, 1);

      store_check_add (check, STORE_CHECK_KEYS, table, id, NULL,
                       g_strdup_printf (_("Row %" PRId64 " of '%s' refers to a row of '%s' that is not there: correct it."),
                                        id, table, parent));
    }
  return ok;
}

/* What a file of this profile should hold, as name and SQL text of each object. */
static GHashTable *
list_schema (StoreDb *db, GError **error)
{
  static const char sql[] = "SELECT type || ' ' || name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GHashTable) schema = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  gboolean ok, row;

  if (statement == NULL)
    return NULL;
  while ((ok = store_db_next (db, statement, _("The file could not be checked"), &row, error)) && row)
    {
      const char *name = (const char *) sqlite3_column_text (statement, 0);
      const char *text = (const char *) sqlite3_column_text (statement, 1);

      if (name == NULL) /* it never is but for want of memory */
        {
          store_db_fail_code (db, SQLITE_NOMEM, _("The file could not be checked"), error);
          return NULL;
        }
      g_hash_table_insert (schema, g_strdup (name), g_strdup (text != NULL ? text : ""));
    }
  return ok ? g_steal_pointer (&schema) : NULL;
}

static void
add_schema (StoreCheck *check, const char *object, char *sentence)
{
  store_check_add (check, STORE_CHECK_SCHEMA, strchr (object, ' ') + 1, 0, NULL, sentence);
}

static gboolean
check_schema (StoreCheck *check, GError **error)
{
  g_autoptr(StoreDb) model = store_db_open (":memory:", check->db->profile, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL, 0,
                                            error);
  g_autoptr(GHashTable) wanted = NULL;
  g_autoptr(GHashTable) found = NULL;
  GHashTableIter iter;
  gpointer name, sql;

  if (model == NULL || !store_schema_make (model, "00000000-0000-4000-8000-000000000000", error) ||
      (wanted = list_schema (model, error)) == NULL || (found = list_schema (check->db, error)) == NULL)
    return FALSE;
  g_hash_table_iter_init (&iter, found);
  while (g_hash_table_iter_next (&iter, &name, &sql))
    {
      const char *same = g_hash_table_lookup (wanted, name);

      if (same == NULL)
        add_schema (check, name,
                    g_strdup_printf (_("The file holds '%s', which this program did not make: nothing of it is run or read."),
                                     (const char *) name));
      else if (strcmp (same, sql) != 0)
        add_schema (check, name,
                    g_strdup_printf (_("'%s' is not as this program makes it: open the latest copy of the file instead."),
                                     (const char *) name));
      g_hash_table_remove (wanted, name);
    }
  g_hash_table_iter_init (&iter, wanted);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    add_schema (check, name,
                g_strdup_printf (_("'%s' is missing: open the latest copy of the file instead."), (const char *) name));
  return TRUE;
}

/* What was found about stored files, until it is known whose they are. */
typedef struct
{
  StoreCheck *check;
  GHashTable *contents; /* SHA-256 to the id of an altered one; 0: as it should be */
  GHashTable *named;    /* SHA-256 of altered ones that an owner was named for */
} Contents;

/* A row that keeps a file: is the file there, and as it was? */
static void
check_owner (const char *sha256, const char *who, const char *table, gint64 id, const char *column, gpointer data)
{
  Contents *contents = data;
  const gint64 *altered = g_hash_table_lookup (contents->contents, sha256);

  if (altered == NULL)
    store_check_add (contents->check, STORE_CHECK_CONTENT, table, id, column,
                     g_strdup_printf (_("The stored file is missing: %s: attach it again."), who));
  else if (*altered != 0)
    {
      g_hash_table_add (contents->named, g_strdup (sha256));
      store_check_add (contents->check, STORE_CHECK_CONTENT, table, id, column,
                       g_strdup_printf (_("The stored file was altered: %s: attach it again."), who));
    }
}

static gboolean
read_contents (Contents *contents, GError **error)
{
  static const char sql[] = "SELECT id, sha256, size, bytes FROM content";
  StoreCheck *check = contents->check;
  g_autoptr(StoreStatement) statement = store_db_statement (check->db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (check->db, statement, _("The file could not be checked"), &row, error)) && row)
    {
      const char *name = (const char *) sqlite3_column_text (statement, 1);
      gint64 id = sqlite3_column_int64 (statement, 0);
      int length = sqlite3_column_bytes (statement, 3);
      guint8 digest[STORE_DIGEST_LENGTH];
      g_autofree char *hex = NULL;

      if (name == NULL)
        return store_db_fail_code (check->db, SQLITE_NOMEM, _("The file could not be checked"), error);
      store_digest (sqlite3_column_blob (statement, 3), (gsize) length, digest);
      hex = store_hex_dup (digest);
      if (strcmp (hex, name) == 0 && sqlite3_column_int64 (statement, 2) == length)
        id = 0;
      g_hash_table_replace (contents->contents, g_strdup (name), g_memdup2 (&id, sizeof id));
    }
  return ok;
}

static gboolean
check_content (StoreCheck *check, GError **error)
{
  const StoreProfile *profile = check->db->profile;
  g_autoptr(GHashTable) digests = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr(GHashTable) named = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Contents contents = { check, digests, named };
  GHashTableIter iter;
  gpointer sha256, id;

  if (!read_contents (&contents, error)
      || (profile->contents != NULL && !profile->contents (check->db, check_owner, &contents, error)))
    return FALSE;
  g_hash_table_iter_init (&iter, digests);
  while (g_hash_table_iter_next (&iter, &sha256, &id))
    if (*(gint64 *) id != 0 && !g_hash_table_contains (named, sha256))
      store_check_add (check, STORE_CHECK_CONTENT, "content", *(gint64 *) id, "bytes",
                       g_strdup_printf (_("The attached file %s was altered: attach it again."), (const char *) sha256));
  return TRUE;
}

static gboolean
check_work (StoreAction *action, gpointer data, GError **error)
{
  static const struct
  {
    StoreCheckKind kind;
    guint          permille; /* done when it begins */
    gboolean (*func) (StoreCheck *check, GError **error);
  } steps[] = {
    { STORE_CHECK_SQLITE, 0, check_sqlite },
    { STORE_CHECK_SCHEMA, 100, check_schema },
    { STORE_CHECK_KEYS, 120, check_keys },
    { STORE_CHECK_CHAIN, 200, store_check_journal }, /* to 700 */
    { STORE_CHECK_CONTENT, 700, check_content },
    /* Before the rules: the profile's last hook writes derived tables. */
    { STORE_CHECK_DERIVED, 720, store_check_derived },
    { STORE_CHECK_RULES, 800, store_check_rules }, /* to 1000 */
  };
  StoreCheck *check = data;

  check->action = action;
  check->db = action->db;
  action->discard = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      GError *local = NULL;
      gboolean ok;

      if (!store_check_tell (check, steps[i].permille, error))
        return FALSE;
      ok = steps[i].func (check, &local);
      if (!store_check_settle (check, steps[i].kind, ok, local, error))
        return FALSE;
    }
  return store_check_tell (check, 1000, error);
}

gboolean
store_check (Store *store, gboolean replay, GPtrArray **findings, StoreProgress progress, gpointer progress_data,
             GCancellable *cancellable, GError **error)
{
  StoreIntent intent = { .action = "check" };
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) store_finding_free);
  StoreCheck check = { .findings = list, .replay = replay, .progress = progress, .progress_data = progress_data };

  if (!store_write (store, &intent, check_work, &check, NULL, cancellable, error))
    return FALSE;
  *findings = g_steal_pointer (&list);
  return TRUE;
}
