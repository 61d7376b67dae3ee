/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-rules-private.h"

#include <glib/gi18n-lib.h>

#include "book-id-map-private.h"
#include "book-record-private.h"
#include "book-search-private.h"
#include "book-sql-private.h"
#include "book-widening-private.h"
#include "store-error.h"

/*
 * The store's hooks: every row of a commit, typed, imported or undone, goes through the rules, and what is derived from
 * it is brought up to date.
 *
 * Method. Inserted rows are checked from their own values, changed ones are read back whole. That no visible key occurs
 * twice is asked at the end. Few rows: one by one through the key's index (measured: 4 us each). Very many: once over
 * the whole index (0.3 us for each row of the table); and not even that where the table holds nothing but these rows and
 * their keys have different digests, since equal keys have equal ones.
 */

#define ONE_BY_ONE_MOST 50000 /* rows */

typedef struct
{
  StoreDb   *db;
  BookRules *rules;
  GArray    *keys[BOOK_N_RECORDS + 1];    /* ids whose visible key came or changed; NULL when they are too many */
  BookIdMap  digests[BOOK_N_RECORDS + 1]; /* of the keys that came */
  gint64     n_came[BOOK_N_RECORDS + 1];
  gboolean   unsure[BOOK_N_RECORDS + 1];   /* two digests were equal, a key changed, or a row went */
  gboolean   too_many[BOOK_N_RECORDS + 1];
  GArray    *kinds;  /* characteristics whose kind changed */
  GArray    *classes; /* characteristics whose class changed */
  BookIdMap  models; /* touched */
  gboolean   shared; /* touched */
  gboolean   search_ready;
  BookWidening *widening;
} Commit;

static guint8 key_places[BOOK_N_RECORDS + 1][BOOK_MAX_KEY]; /* of the key fields among the fields */

static void
ensure_key_places (void)
{
  static gsize ready = 0;

  if (g_once_init_enter (&ready))
    {
      for (guint id = 1; id <= BOOK_N_RECORDS; id++)
        for (guint i = 0; i < book_record (id)->n_key; i++)
          key_places[id][i] = (guint8) book_field_index (book_record (id), book_record (id)->key[i]);
      g_once_init_leave (&ready, 1);
    }
}

gpointer
book_rules_begin (StoreDb *db, gpointer user)
{
  Commit *commit = g_new0 (Commit, 1);

  ensure_key_places ();
  commit->db = db;
  commit->rules = book_rules_new (db);
  return commit;
}

void
book_rules_end (gpointer context)
{
  Commit *commit = context;

  book_rules_free (commit->rules);
  for (guint id = 0; id <= BOOK_N_RECORDS; id++)
    {
      g_clear_pointer (&commit->keys[id], g_array_unref);
      book_id_map_clear (&commit->digests[id]);
    }
  g_clear_pointer (&commit->kinds, g_array_unref);
  g_clear_pointer (&commit->classes, g_array_unref);
  g_clear_pointer (&commit->widening, book_widening_free);
  book_id_map_clear (&commit->models);
  g_free (commit);
}

/* Names the record and the field in front of a sentence; other errors pass through. */
static gboolean
blame (Commit *commit, const BookRecord *record, const BookValue *values, const BookField *field, GError *problem,
       GError **error)
{
  g_autoptr(GError) reason = problem;
  g_autofree char *key = NULL;

  if (!g_error_matches (reason, BOOK_ERROR, BOOK_ERROR_VALUE))
    {
      g_propagate_error (error, g_steal_pointer (&reason));
      return FALSE;
    }
  key = book_record_key_text_of (commit->db, record, values, BOOK_KEY_TEXT_SHOWN, NULL);
  if (field != NULL)
    g_set_error (error, STORE_ERROR, STORE_ERROR_RULE, "%s '%s', %s: %s", book_record_label (record), key != NULL ? key : "",
                 book_field_label (field), reason->message);
  else
    g_set_error (error, STORE_ERROR, STORE_ERROR_RULE, "%s '%s': %s", book_record_label (record), key != NULL ? key : "",
                 reason->message);
  return FALSE;
}

static gboolean
refuse (Commit *commit, const BookRecord *record, const BookValue *values, const BookField *field, const char *sentence,
        GError **error)
{
  return blame (commit, record, values, field, g_error_new_literal (BOOK_ERROR, BOOK_ERROR_VALUE, sentence), error);
}

/* A key's digest, above 0. */
static gint64
digest_key (const BookRecord *record, const BookValue *values)
{
  guint64 digest = 0;

  for (guint i = 0; i < record->n_key; i++)
    {
      const BookValue *value = &values[key_places[record->id][i]];

      digest = book_id_hash (digest ^ (guint64) value->integer ^ ((guint64) value->type << 60));
      for (gsize j = 0; value->type == SQLITE_TEXT && j < value->length; j++)
        digest = digest * 31 + (guchar) value->text[j];
    }
  return (gint64) (book_id_hash (digest) >> 1) | 1;
}

/* @values: %NULL when the key of a row changed that was there before. */
static void
note_key (Commit *commit, const BookRecord *record, gint64 id, const BookValue *values)
{
  GArray **ids = &commit->keys[record->id];
  gint64 digest = values != NULL ? digest_key (record, values) : 0;
  gint64 other;

  commit->n_came[record->id]++;
  if (values == NULL || book_id_map_get (&commit->digests[record->id], digest, &other))
    commit->unsure[record->id] = TRUE;
  if (!commit->unsure[record->id])
    book_id_map_put (&commit->digests[record->id], digest, id);

  if (commit->too_many[record->id])
    return;
  if (*ids == NULL)
    *ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_val (*ids, id);
  if ((*ids)->len > ONE_BY_ONE_MOST)
    {
      commit->too_many[record->id] = TRUE;
      g_clear_pointer (ids, g_array_unref);
    }
}

static void
note_model (Commit *commit, gint64 model)
{
  if (model > 0)
    book_id_map_put (&commit->models, model, 1);
  else if (model == 0)
    commit->shared = TRUE;
}

/* Fields of a row of the journal; columns that came with a later schema are empty. */
static void
take_values (const BookRecord *record, const StoreValue *columns, guint n_columns, BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    values[i] = i + 1 < n_columns ? columns[i + 1] : BOOK_VALUE_EMPTY;
}

/* That a record named by kind and key is there: foreign keys cannot say it. */
static gboolean
check_any (Commit *commit, const BookRecord *record, const BookValue *values, GError **error)
{
  for (guint i = 1; i < record->n_fields; i++)
    {
      const BookRecord *target;
      g_autoptr(StoreStatement) statement = NULL;
      gboolean found;

      if (record->fields[i].kind != BOOK_KIND_ANY || values[i].type != SQLITE_INTEGER)
        continue;
      target = book_record ((BookRecordId) values[i - 1].integer);
      statement = store_db_statement (commit->db, book_sql (target, BOOK_SQL_KEY), error);
      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, values[i].integer);
      if (!store_db_next (commit->db, statement, _("The record could not be read"), &found, error))
        return FALSE;
      if (!found)
        return refuse (commit, record, values, &record->fields[i], _("There is no such record in the book."), error);
    }
  return TRUE;
}

/* Once a commit: an older book has no index of words yet. */
static gboolean
make_search_ready (Commit *commit, GError **error)
{
  if (!commit->search_ready)
    commit->search_ready = book_search_ready (commit->db, error);
  return commit->search_ready;
}

static gboolean
look_at_whole_row (Commit *commit, const BookRecord *record, gint64 id, const BookValue *values, gboolean is_new,
                   GError **error)
{
  const BookField *field;
  g_autoptr(GError) problem = NULL;
  gint64 model;

  if (!book_rules_check (commit->rules, record, values, &field, &problem))
    return blame (commit, record, values, field, g_steal_pointer (&problem), error);
  if (!check_any (commit, record, values, error)
      || !book_rules_model_of (commit->rules, record, id, values, &model, error))
    return FALSE;
  note_model (commit, model);
  return make_search_ready (commit, error) && book_search_put (commit->db, record, id, MAX (model, 0), values, is_new, error);
}

static gboolean
look_at_insert (Commit *commit, const BookRecord *record, const StoreRow *row, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];

  take_values (record, row->after, row->n_columns, values);
  note_key (commit, record, row->id, values);
  /* Replaying finds rows that are searched already only when the same id came before: an undone deletion. */
  return look_at_whole_row (commit, record, row->id, values, TRUE, error);
}

/* References within a visible key: a record stays with its model, and a revision or lot with its part or step. */
static gboolean
check_moved (Commit *commit, const BookRow *now, const StoreRow *row, guint field, GError **error)
{
  const BookRecord *record = now->record;
  BookValue before[BOOK_MAX_FIELDS];
  gint64 old_model;
  gint64 new_model;

  for (guint i = 0; i < record->n_fields; i++)
    before[i] = now->values[i];
  before[field] = row->before[field + 1];

  if (record->id == BOOK_RECORD_REVISION || record->id == BOOK_RECORD_LOT)
    return refuse (commit, record, before, &record->fields[field],
                   _("It cannot move elsewhere, since others may refer to it: enter a new one."), error);
  if (!book_rules_model_of (commit->rules, record, now->id, before, &old_model, error)
      || !book_rules_model_of (commit->rules, record, now->id, now->values, &new_model, error))
    return FALSE;
  return old_model == new_model || old_model == -1
         || refuse (commit, record, before, &record->fields[field],
                    _("It cannot move to another model: enter a new one there."), error);
}

static void
note_id (GArray **ids, gint64 id)
{
  if (*ids == NULL)
    *ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_val (*ids, id);
}

static gboolean
look_at_update (Commit *commit, const BookRecord *record, const StoreRow *row, GError **error)
{
  g_autoptr(BookRow) now = book_record_read (commit->db, record, row->id, error);
  gboolean key_changed = FALSE;

  if (now == NULL)
    return FALSE;
  if (record->lasting)
    return refuse (commit, record, now->values, NULL, _("It stays as it is: withdraw it by a later one."), error);

  book_rules_forget (commit->rules, record, row->id);
  for (guint i = 0; i < record->n_fields && i + 1 < row->n_columns; i++)
    {
      const BookField *field = &record->fields[i];

      if (row->after[i + 1].type == STORE_UNCHANGED)
        continue;
      if (book_record_has_in_key (record, field))
        {
          key_changed = TRUE;
          if (field->kind == BOOK_KIND_REFERENCE && !check_moved (commit, now, row, i, error))
            return FALSE;
        }
      if (record->id == BOOK_RECORD_CHARACTERISTIC && g_str_equal (field->name, "kind"))
        note_id (&commit->kinds, row->id);
      if (record->id == BOOK_RECORD_CHARACTERISTIC && g_str_equal (field->name, "class"))
        note_id (&commit->classes, row->id);
    }
  if (key_changed)
    note_key (commit, record, row->id, NULL);
  return look_at_whole_row (commit, record, row->id, now->values, FALSE, error);
}

static gboolean
look_at_delete (Commit *commit, const BookRecord *record, const StoreRow *row, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];
  gint64 model;

  take_values (record, row->before, row->n_columns, values);
  if (record->lasting)
    return refuse (commit, record, values, NULL, _("It stays for good: withdraw it by a later one."), error);
  book_rules_forget (commit->rules, record, row->id);
  commit->unsure[record->id] = TRUE; /* as many rows as came no longer means those that came */
  if (!book_rules_model_of (commit->rules, record, row->id, values, &model, error))
    return FALSE;
  note_model (commit, model);
  return make_search_ready (commit, error) && book_search_remove (commit->db, record, row->id, error);
}

gboolean
book_rules_row (StoreDb *db, const StoreRow *row, gpointer context, GError **error)
{
  Commit *commit = context;
  const BookRecord *record = book_record_of_table (row->table);

  if (!book_widening_note (&commit->widening, db, row, error))
    return FALSE;
  switch (row->op)
    {
    case STORE_INSERT:
      return look_at_insert (commit, record, row, error);
    case STORE_UPDATE:
      return look_at_update (commit, record, row, error);
    case STORE_DELETE:
      return look_at_delete (commit, record, row, error);
    }
  g_return_val_if_reached (FALSE);
}

static gboolean
refuse_twice (Commit *commit, const BookRecord *record, gint64 id, GError **error)
{
  g_autofree char *key = book_record_key_text (commit->db, record, id, BOOK_KEY_TEXT_SHOWN, error);

  if (key != NULL)
    g_set_error (error, STORE_ERROR, STORE_ERROR_RULE, _("%s '%s' is there already: choose another, or change that one."),
                 book_record_label (record), key);
  return FALSE;
}

static gboolean
ask_twice (Commit *commit, const BookRecord *record, BookSql which, gint64 id, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (commit->db, book_sql (record, which), error);
  gboolean found;
  gint64 twice;

  if (statement == NULL)
    return FALSE;
  if (which == BOOK_SQL_TWICE)
    sqlite3_bind_int64 (statement, 1, id);
  if (!store_db_next (commit->db, statement, _("The records could not be compared"), &found, error))
    return FALSE;
  if (!found)
    return TRUE;
  twice = which == BOOK_SQL_TWICE ? id : sqlite3_column_int64 (statement, 0);
  return refuse_twice (commit, record, twice, error);
}

static gboolean
check_keys (Commit *commit, const BookRecord *record, GError **error)
{
  const GArray *ids = commit->keys[record->id];

  if (commit->too_many[record->id])
    {
      gint64 n;

      if (!book_record_count (commit->db, record, &n, error))
        return FALSE;
      return (n == commit->n_came[record->id] && !commit->unsure[record->id])
             || ask_twice (commit, record, BOOK_SQL_TWICE_ANY, 0, error);
    }
  for (guint i = 0; ids != NULL && i < ids->len; i++)
    if (!ask_twice (commit, record, BOOK_SQL_TWICE, g_array_index (ids, gint64, i), error))
      return FALSE;
  return TRUE;
}

/* A characteristic that turned from measured to checked, or back, must not leave readings of the other kind behind. */
static gboolean
check_kind (Commit *commit, gint64 characteristic, GError **error)
{
  static const char sql[] = "SELECT 1 FROM characteristic AS c JOIN round ON round.model = c.model "
                            "JOIN unit ON unit.round = round.id "
                            "JOIN reading AS r ON r.unit = unit.id AND r.characteristic = c.id "
                            "WHERE c.id = ?1 AND (c.kind = 1) <> (r.value IS NOT NULL) LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (commit->db, sql, error);
  g_autoptr(BookRow) row = NULL;
  gboolean found;

  G_STATIC_ASSERT (BOOK_CHARACTERISTIC_MEASURED == 1);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, characteristic);
  if (!store_db_next (commit->db, statement, _("The readings could not be read"), &found, error))
    return FALSE;
  if (!found)
    return TRUE;
  row = book_record_read (commit->db, book_record (BOOK_RECORD_CHARACTERISTIC), characteristic, error);
  if (row == NULL)
    return FALSE;
  return refuse (commit, row->record, row->values, book_field_find (row->record, "kind"),
                 _("It has readings of the other kind: enter a new characteristic."), error);
}

/* A characteristic that is about safety from now on must have a second person wherever readings were carried over. */
static gboolean
check_class (Commit *commit, gint64 characteristic, GError **error)
{
  static const char sql[] = "SELECT 1 FROM characteristic AS c JOIN change_effect AS f ON f.characteristic = c.id "
                            "WHERE c.id = ?1 AND c.class = 1 AND f.effect = 2 AND f.second_person IS NULL LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (commit->db, sql, error);
  g_autoptr(BookRow) row = NULL;
  gboolean found;

  G_STATIC_ASSERT (BOOK_CLASS_SAFETY == 1 && BOOK_EFFECT_CARRIED_OVER == 2);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, characteristic);
  if (!store_db_next (commit->db, statement, _("The changes could not be read"), &found, error))
    return FALSE;
  if (!found)
    return TRUE;
  row = book_record_read (commit->db, book_record (BOOK_RECORD_CHARACTERISTIC), characteristic, error);
  if (row == NULL)
    return FALSE;
  return refuse (commit, row->record, row->values, book_field_find (row->record, "class"),
                 _("Readings were carried over without a second person: name one there first."), error);
}

static gboolean
count_version (Commit *commit, gint64 model, GError **error)
{
  static const char sql[] = "INSERT INTO model_version (model, version) VALUES (?1, 1) "
                            "ON CONFLICT (model) DO UPDATE SET version = version + 1";
  g_autoptr(StoreStatement) statement = store_db_statement (commit->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, model);
  return store_db_run (commit->db, statement, _("The version of the model could not be written"), error);
}

gboolean
book_rules_finish (StoreDb *db, gpointer context, GError **error)
{
  Commit *commit = context;

  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    if (!check_keys (commit, book_record (id), error))
      return FALSE;
  for (guint i = 0; commit->kinds != NULL && i < commit->kinds->len; i++)
    if (!check_kind (commit, g_array_index (commit->kinds, gint64, i), error))
      return FALSE;

  for (guint i = 0; commit->classes != NULL && i < commit->classes->len; i++)
    if (!check_class (commit, g_array_index (commit->classes, gint64, i), error))
      return FALSE;
  if (commit->widening != NULL && !book_widening_check (commit->widening, db, error))
    return FALSE;

  for (gsize i = 0; i < commit->models.n_slots; i++)
    if (commit->models.slots[i].key != 0 && !count_version (commit, commit->models.slots[i].key, error))
      return FALSE;
  return !commit->shared || count_version (commit, 0, error);
}
