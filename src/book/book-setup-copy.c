/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-order.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"

/*
 * Method. Kinds go in the order in which they refer to one another; a table says which record of the earlier model became
 * which of this one. What this model has by the same name already is left as it is, and referred to. Dated rows (limits,
 * settings, terms) come as they are in force today, from today on, and without the change that brought them. Nothing
 * measured comes along, nothing that was approved, no issue, and no terms by name: who set them did so for the other model.
 */

typedef struct
{
  gint64 from;
  gint64 to;
  guint  what;
} Copy;

typedef struct
{
  StoreAction *action;
  StoreDb     *db;
  const char  *today;
  const Copy  *copy;
  GHashTable  *became; /* gint64 * -> gint64 *, of all kinds: keys are unique in a book */
  GHashTable  *made;   /* set of gint64 *, of the new ones: what belongs to them is copied too */
  guint        n;
} Copying;

static gint64
what_became (Copying *copying, gint64 id)
{
  const gint64 *found = g_hash_table_lookup (copying->became, &id);

  return found != NULL ? *found : 0;
}

static void
note (Copying *copying, gint64 old, gint64 new, gboolean made)
{
  g_hash_table_replace (copying->became, g_memdup2 (&old, sizeof old), g_memdup2 (&new, sizeof new));
  if (made)
    g_hash_table_add (copying->made, g_memdup2 (&old, sizeof old));
}

static gboolean
list_ids (StoreDb *db, const char *sql, gint64 key, const char *today, GArray *ids, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, key);
  if (today != NULL)
    sqlite3_bind_text (statement, 2, today, -1, SQLITE_TRANSIENT);
  return store_db_add_integers (db, statement, _("The set-up could not be read"), ids, error);
}

/* What this model calls by the same text; 0: nothing. */
static gboolean
find_like (Copying *copying, const char *sql, const BookValue *text, gint64 *id, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (copying->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, copying->copy->to);
  sqlite3_bind_text (statement, 2, text->text, (int) text->length, SQLITE_TRANSIENT);
  return store_db_ask_integer (copying->db, statement, _("The set-up could not be read"), NULL, id, error);
}

/* References within the model point to what became of it; where nothing did, the row lacks something. */
static gboolean
turn_references (Copying *copying, const BookRow *row, BookValue *values, const char **missing)
{
  static const char *const own[] = { "characteristic", "step", "gate", "criterion", "document" };

  *missing = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (own); i++)
    {
      int place = book_field_index (row->record, own[i]);

      if (place < 0 || values[place].type != SQLITE_INTEGER)
        continue;
      values[place].integer = what_became (copying, values[place].integer);
      if (values[place].integer != 0)
        continue;
      values[place] = BOOK_VALUE_EMPTY;
      *missing = own[i];
    }
  return *missing == NULL;
}

static void
set_if (const BookRecord *record, BookValue *values, const char *field, BookValue value)
{
  if (book_field_index (record, field) >= 0)
    book_values_set (record, values, field, value);
}

/* What belongs to the time or to the people of the other model. */
static void
leave_behind (Copying *copying, const BookRecord *record, BookValue *values)
{
  set_if (record, values, "model", book_value_integer (copying->copy->to));
  set_if (record, values, "from_date", book_value_text (copying->today, -1));
  set_if (record, values, "change", BOOK_VALUE_EMPTY);
  if (record->id == BOOK_RECORD_CRITERION_TERM)
    {
      book_values_set (record, values, "person", BOOK_VALUE_EMPTY);
      book_values_set (record, values, "reason", BOOK_VALUE_EMPTY);
      book_values_set (record, values, "plan_units", BOOK_VALUE_EMPTY);
      book_values_set (record, values, "plan_failures", BOOK_VALUE_EMPTY);
    }
  else if (record->id == BOOK_RECORD_DOCUMENT)
    {
      book_values_set (record, values, "state", book_value_fallback (book_field_find (record, "state")));
      book_values_set (record, values, "person", BOOK_VALUE_EMPTY);
      book_values_set (record, values, "date", BOOK_VALUE_EMPTY);
    }
}

static gboolean
is_free (Copying *copying, const BookRecord *record, const BookValue *values, gboolean *free_, GError **error)
{
  BookValue key[BOOK_MAX_KEY];
  gint64 id;

  for (guint i = 0; i < record->n_key; i++)
    key[i] = values[book_field_index (record, record->key[i])];
  if (!book_record_find_id (copying->db, record, key, &id, error))
    return FALSE;
  *free_ = id == 0;
  return TRUE;
}

/* A record of its own number or place gets the next one where that is taken. */
static gboolean
insert (Copying *copying, const BookRow *row, BookValue *values, GError **error)
{
  const BookRecord *record = row->record;
  gboolean free_;
  gint64 id = 0;

  if (record->ordinal != NULL)
    {
      if (!is_free (copying, record, values, &free_, error))
        return FALSE;
      if (!free_)
        book_values_set (record, values, record->ordinal, BOOK_VALUE_EMPTY);
    }
  if (!book_edit_store (copying->action, record, values, &id, error))
    return FALSE;
  note (copying, row->id, id, TRUE);
  copying->n++;
  return TRUE;
}

static gboolean
refuse_missing (Copying *copying, const BookRow *row, const char *missing, GError **error)
{
  g_autofree char *key = book_record_key_text (copying->db, row->record, row->id, BOOK_KEY_TEXT_SHOWN, error);
  const BookField *field = book_field_find (row->record, missing);

  if (key != NULL)
    /* Translators: a kind of record, its key, and the kind that is missing, for many */
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_REFUSED, _("%s '%s' refers to what this model does not have: take over too: %s."),
                 book_record_label (row->record), key, book_record_plural (book_record (field->refers)));
  return FALSE;
}

/**
 * Kind:
 * @record: what is copied
 * @what: which choice of a person asks for it
 * @list: ids in the other model (?1), or below one of its records; ?2 is today where @dated
 * @like: id of what this model (?1) calls by the same text (?2); %NULL for what belongs to another record
 * @same: the field with that text
 * @below: copied for each new record of this kind; %BOOK_RECORD_NONE: once
 * @loose: a reference that leads nowhere is left empty
 */
typedef struct
{
  BookRecordId record;
  BookCopyWhat what;
  const char  *list;
  const char  *like;
  const char  *same;
  BookRecordId below;
  gboolean     dated;
  gboolean     loose;
} Kind;

static const Kind kinds[] = {
  { BOOK_RECORD_STEP, BOOK_COPY_ROUTE, "SELECT id FROM step WHERE model = ?1 ORDER BY position",
    "SELECT id FROM step WHERE model = ?1 AND name = ?2", "name", BOOK_RECORD_NONE, FALSE, FALSE },
  { BOOK_RECORD_STEP_SETTING, BOOK_COPY_ROUTE,
    "SELECT id FROM step_setting AS s WHERE step = ?1 AND from_date = (SELECT max(from_date) FROM step_setting "
    "WHERE step = ?1 AND name = s.name AND from_date <= ?2) ORDER BY id",
    NULL, NULL, BOOK_RECORD_STEP, TRUE, FALSE },
  { BOOK_RECORD_CHARACTERISTIC, BOOK_COPY_CHARACTERISTICS, "SELECT id FROM characteristic WHERE model = ?1 ORDER BY id",
    "SELECT id FROM characteristic WHERE model = ?1 AND code = ?2", "code", BOOK_RECORD_NONE, FALSE, TRUE },
  { BOOK_RECORD_LIMIT, BOOK_COPY_CHARACTERISTICS,
    "SELECT id FROM \"limit\" WHERE characteristic = ?1 AND from_date <= ?2 ORDER BY from_date DESC LIMIT 1", NULL, NULL,
    BOOK_RECORD_CHARACTERISTIC, TRUE, FALSE },
  { BOOK_RECORD_DEPENDS, BOOK_COPY_DEPENDS, "SELECT id FROM depends WHERE characteristic = ?1 ORDER BY id", NULL, NULL,
    BOOK_RECORD_CHARACTERISTIC, FALSE, FALSE },
  { BOOK_RECORD_GATE, BOOK_COPY_GATES, "SELECT id FROM gate WHERE model = ?1 ORDER BY position",
    "SELECT id FROM gate WHERE model = ?1 AND name = ?2", "name", BOOK_RECORD_NONE, FALSE, FALSE },
  { BOOK_RECORD_CRITERION, BOOK_COPY_GATES, "SELECT id FROM criterion WHERE model = ?1 AND issue IS NULL ORDER BY id",
    "SELECT id FROM criterion WHERE model = ?1 AND code = ?2", "code", BOOK_RECORD_NONE, FALSE, FALSE },
  { BOOK_RECORD_CRITERION_TERM, BOOK_COPY_GATES,
    "SELECT id FROM criterion_term WHERE criterion = ?1 AND from_date <= ?2 ORDER BY from_date DESC LIMIT 1", NULL, NULL,
    BOOK_RECORD_CRITERION, TRUE, FALSE },
  { BOOK_RECORD_DOCUMENT, BOOK_COPY_DOCUMENTS, "SELECT id FROM document WHERE model = ?1 ORDER BY no",
    "SELECT id FROM document WHERE model = ?1 AND title = ?2", "title", BOOK_RECORD_NONE, FALSE, FALSE },
  { BOOK_RECORD_HAZARD, BOOK_COPY_HAZARDS, "SELECT id FROM hazard WHERE model = ?1 ORDER BY no",
    "SELECT id FROM hazard WHERE model = ?1 AND what = ?2", "what", BOOK_RECORD_NONE, FALSE, TRUE },
};

static gboolean
copy_row (Copying *copying, const Kind *kind, gint64 id, gboolean wanted, GError **error)
{
  const BookRecord *record = book_record (kind->record);
  g_autoptr(BookRow) row = book_record_read (copying->db, record, id, error);
  BookValue values[BOOK_MAX_FIELDS];
  const char *missing;
  gint64 like = 0;

  if (row == NULL || (kind->like != NULL && !find_like (copying, kind->like, book_row_get (row, kind->same), &like, error)))
    return FALSE;
  if (like != 0)
    {
      note (copying, id, like, FALSE);
      return TRUE;
    }
  if (!wanted)
    return TRUE;
  for (guint i = 0; i < record->n_fields; i++)
    values[i] = row->values[i];
  leave_behind (copying, record, values);
  if (!turn_references (copying, row, values, &missing) && !kind->loose)
    return refuse_missing (copying, row, missing, error);
  return insert (copying, row, values, error);
}

/* Kinds that are not wanted are looked through all the same, for what both models have. */
static gboolean
copy_kind (Copying *copying, const Kind *kind, GError **error)
{
  gboolean wanted = (copying->copy->what & kind->what) != 0;
  const char *today = kind->dated ? copying->today : NULL;
  g_autoptr(GArray) above = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (kind->below == BOOK_RECORD_NONE)
    g_array_append_val (above, copying->copy->from);
  else if (wanted)
    for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
      if (kinds[i].record == kind->below && !list_ids (copying->db, kinds[i].list, copying->copy->from, NULL, above, error))
        return FALSE;
  for (guint i = 0; i < above->len; i++)
    if ((kind->below == BOOK_RECORD_NONE || g_hash_table_contains (copying->made, &g_array_index (above, gint64, i)))
        && !list_ids (copying->db, kind->list, g_array_index (above, gint64, i), today, ids, error))
      return FALSE;
  for (guint i = 0; i < ids->len; i++)
    if (!copy_row (copying, kind, g_array_index (ids, gint64, i), wanted, error))
      return FALSE;
  return TRUE;
}

static void
tell (StoreAction *action, const char *message, const Copy *copy)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", "model", copy->to);
  g_variant_builder_add (&builder, "(sx)", "model", copy->from);
  store_action_message (action, message, g_variant_builder_end (&builder));
}

static gboolean
copy_setup (BookEdit *edit, StoreAction *action, GError **error)
{
  const Copy *copy = edit->data;
  g_autoptr(GHashTable) became = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr(GHashTable) made = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Copying copying = { action, store_action_db (action), edit->today, copy, became, made, 0 };
  const BookRecord *models = book_record (BOOK_RECORD_MODEL);
  g_autoptr(BookRow) from = book_record_read (copying.db, models, copy->from, error);
  g_autoptr(BookRow) to = from != NULL ? book_record_read (copying.db, models, copy->to, error) : NULL;

  if (to == NULL)
    return FALSE;
  if (copy->from == copy->to)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (models, "code"),
                              _("A model cannot take over from itself: choose another one."));
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (!copy_kind (&copying, &kinds[i], error))
      return FALSE;
  if (copying.n == 0)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (models, "code"),
                              _("There is nothing to take over: the other model has nothing of it that this one has not."));
  edit->id = copy->to;
  tell (action, edit->message, copy);
  return TRUE;
}

/**
 * book_setup_copy:
 * @from: the earlier model
 * @to: the model that takes over
 * @what: #BookCopyWhat, several
 *
 * Takes over the set-up of another model as one action. What @to has by the same code, name or title is left as it is. Parts,
 * gauges and benches are shared by all models, so that references to them stay.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_setup_copy (gint64 from, gint64 to, guint what)
{
  Copy *copy = g_new0 (Copy, 1);

  *copy = (Copy){ from, to, what };
  return book_edit_new_dated (copy_setup, "setup-copied", copy, g_free);
}
