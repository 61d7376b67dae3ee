/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-rules.h"

#include <glib/gi18n-lib.h>

#include "book-id-map-private.h"
#include "book-record-private.h"
#include "book-rules-private.h"
#include "book-sql-private.h"

/*
 * Method. References must agree: the unit and the characteristic of a reading belong to one model, the revision of a
 * part as built is one of that part. Files cannot even say otherwise, since both keys share the CSV column; the rule is
 * read off the description in the same way. For each reference of a record we list what its visible key refers to, and
 * so on upwards, each with the CSV column that would give it; where one column stands in the lists of two references,
 * both must lead to the same row. What was looked up is remembered, so that a million readings ask once for each unit.
 */

#define NONE    0    /* the reference is empty */
#define MISSING (-1) /* there is no such row */

/* One hop: key field @key of @record. */
typedef struct
{
  const BookRecord *record;
  guint             key;
} Hop;

/* From field @field of a record, over @n_hops key references, to a row that CSV column @column gives. */
typedef struct
{
  guint       field;
  guint       n_hops;
  Hop         hops[BOOK_MAX_KEY];
  const char *column;
  guint       group; /* paths of one group must agree */
} Path;

typedef struct
{
  guint n_paths;
  guint n_groups;
  Path *paths; /* those of groups with two members or more */
} Agreement;

struct _BookRules
{
  StoreDb  *db;
  BookIdMap parents[BOOK_N_RECORDS + 1][BOOK_MAX_KEY];
  BookIdMap models[BOOK_N_RECORDS + 1]; /* nothing ever moves to another model */
  BookIdMap kinds;                      /* of characteristics */
};

static Agreement agreements[BOOK_N_RECORDS + 1];

static void
list_paths (GArray *paths, const Path *so_far, const BookRecord *record, const BookRecord *target, const BookField *field)
{
  BookCsvColumn columns[BOOK_MAX_KEY];
  guint c = 0;

  book_field_csv_columns (record, field, columns);
  for (guint i = 0; i < target->n_key; i++)
    {
      const BookField *part = book_field_find (target, target->key[i]);
      BookCsvColumn own[BOOK_MAX_KEY];
      guint n = book_field_csv_columns (target, part, own);

      if (part->kind == BOOK_KIND_REFERENCE)
        {
          Path path = *so_far;

          path.hops[path.n_hops++] = (Hop){ target, i };
          path.column = columns[c + n - 1].name;
          g_array_append_val (paths, path);
          list_paths (paths, &path, target, book_record (part->refers), part);
        }
      c += n;
    }
}

static void
find_agreement (const BookRecord *record, Agreement *agreement)
{
  g_autoptr(GArray) all = g_array_new (FALSE, FALSE, sizeof (Path));
  g_autoptr(GArray) kept = g_array_new (FALSE, FALSE, sizeof (Path));
  guint n_groups = 0;

  for (guint i = 0; i < record->n_fields; i++)
    if (record->fields[i].kind == BOOK_KIND_REFERENCE)
      {
        Path path = { .field = i, .column = record->fields[i].name };

        g_array_append_val (all, path);
        list_paths (all, &path, record, book_record (record->fields[i].refers), &record->fields[i]);
      }

  for (guint i = 0; i < all->len; i++)
    {
      Path *first = &g_array_index (all, Path, i);
      guint members = 0;

      if (first->column == NULL)
        continue;
      for (guint j = i + 1; j < all->len; j++)
        {
          Path *other = &g_array_index (all, Path, j);

          if (other->column == NULL || !g_str_equal (first->column, other->column) || first->field == other->field)
            continue;
          if (members++ == 0)
            {
              first->group = n_groups;
              g_array_append_val (kept, *first);
            }
          other->group = n_groups;
          g_array_append_val (kept, *other);
          other->column = NULL;
        }
      n_groups += members > 0;
    }
  agreement->n_groups = n_groups;
  agreement->n_paths = kept->len;
  agreement->paths = (Path *) (gpointer) g_array_free (g_steal_pointer (&kept), FALSE);
}

static void
ensure_agreements (void)
{
  static gsize ready = 0;

  if (g_once_init_enter (&ready))
    {
      for (guint id = 1; id <= BOOK_N_RECORDS; id++)
        find_agreement (book_record (id), &agreements[id]);
      g_once_init_leave (&ready, 1);
    }
}

/**
 * book_rules_new:
 * @db: any connection, borrowed
 *
 * Returns: (transfer full): rules that look things up there
 */
BookRules *
book_rules_new (StoreDb *db)
{
  BookRules *rules = g_new0 (BookRules, 1);

  ensure_agreements ();
  rules->db = db;
  return rules;
}

/**
 * book_rules_free:
 * @rules: (transfer full) (nullable): rules
 */
void
book_rules_free (BookRules *rules)
{
  if (rules == NULL)
    return;
  for (guint id = 0; id <= BOOK_N_RECORDS; id++)
    {
      for (guint i = 0; i < BOOK_MAX_KEY; i++)
        book_id_map_clear (&rules->parents[id][i]);
      book_id_map_clear (&rules->models[id]);
    }
  book_id_map_clear (&rules->kinds);
  g_free (rules);
}

/* What was remembered of a row that has changed since. */
void
book_rules_forget (BookRules *rules, const BookRecord *record, gint64 id)
{
  for (guint i = 0; i < record->n_key; i++)
    book_id_map_remove (&rules->parents[record->id][i], id);
  if (record->id == BOOK_RECORD_CHARACTERISTIC)
    book_id_map_remove (&rules->kinds, id);
}

/* Where key reference @key of a row leads: an id, NONE or MISSING. */
static gboolean
parent_of (BookRules *rules, const BookRecord *record, guint key, gint64 id, gint64 *parent, GError **error)
{
  g_autoptr(StoreStatement) statement = NULL;
  gboolean found;

  if (book_id_map_get (&rules->parents[record->id][key], id, parent))
    return TRUE;

  statement = store_db_statement (rules->db, book_sql (record, BOOK_SQL_KEY), error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  if (!store_db_next (rules->db, statement, _("The record could not be read"), &found, error))
    return FALSE;
  *parent = MISSING;
  if (!found) /* not remembered: it may come */
    return TRUE;
  for (guint i = 0; i < record->n_key; i++)
    if (book_field_find (record, record->key[i])->kind == BOOK_KIND_REFERENCE)
      book_id_map_put (&rules->parents[record->id][i], id, sqlite3_column_int64 (statement, (int) i + 1));
  *parent = sqlite3_column_int64 (statement, (int) key + 1);
  return TRUE;
}

/* What a path leads to; NONE also where a reference on the way is empty. */
static gboolean
follow (BookRules *rules, const Path *path, const BookValue *values, gint64 *id, GError **error)
{
  *id = values[path->field].type == SQLITE_INTEGER ? values[path->field].integer : NONE;
  for (guint i = 0; i < path->n_hops && *id > 0; i++)
    if (!parent_of (rules, path->hops[i].record, path->hops[i].key, *id, id, error))
      return FALSE;
  return TRUE;
}

static gboolean
check_agreement (BookRules *rules, const BookRecord *record, const BookValue *values, const BookField **field,
                 GError **error)
{
  const Agreement *agreement = &agreements[record->id];
  gint64 seen[BOOK_MAX_FIELDS] = { 0 };
  guint seen_from[BOOK_MAX_FIELDS] = { 0 };

  for (guint i = 0; i < agreement->n_paths; i++)
    {
      const Path *path = &agreement->paths[i];
      gint64 id;

      if (!follow (rules, path, values, &id, error))
        return FALSE;
      if (id <= 0)
        continue;
      if (seen[path->group] == 0)
        {
          seen[path->group] = id;
          seen_from[path->group] = path->field;
        }
      else if (seen[path->group] != id)
        {
          *field = &record->fields[path->field];
          /* Translators: '%s' and '%s' are labels of two fields, such as 'Unit' and 'Characteristic' */
          g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE,
                       _("'%s' and '%s' do not belong together: choose one that goes with the other."),
                       book_field_label (&record->fields[seen_from[path->group]]), book_field_label (*field));
          return FALSE;
        }
    }
  return TRUE;
}

/* The #BookCharacteristicKind of a characteristic; 0 if there is none. */
gboolean
book_rules_kind_of (BookRules *rules, gint64 characteristic, gint64 *kind, GError **error)
{
  static const char sql[] = "SELECT kind FROM characteristic WHERE id = ?1";
  g_autoptr(StoreStatement) statement = NULL;
  gboolean found;

  if (book_id_map_get (&rules->kinds, characteristic, kind))
    return TRUE;
  *kind = 0;
  statement = store_db_statement (rules->db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, characteristic);
  if (!store_db_ask_integer (rules->db, statement, _("The characteristic could not be read"), &found, kind, error))
    return FALSE;
  if (found)
    book_id_map_put (&rules->kinds, characteristic, *kind);
  return TRUE;
}

/* Whether a characteristic is about safety. Asked for few rows, so nothing is remembered. */
gboolean
book_rules_is_safety (BookRules *rules, gint64 characteristic, gboolean *is_safety, GError **error)
{
  static const char sql[] = "SELECT class FROM characteristic WHERE id = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (rules->db, sql, error);
  gint64 class;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, characteristic);
  if (!store_db_ask_integer (rules->db, statement, _("The characteristic could not be read"), NULL, &class, error))
    return FALSE;
  *is_safety = class == BOOK_CLASS_SAFETY;
  return TRUE;
}

/**
 * book_rules_check:
 * @rules: rules
 * @record: what kind
 * @values: (array): all values of a row, in order
 * @field: (out) (nullable): which field is to blame; %NULL when no single one is
 * @error: return location: one sentence, without record and field
 *
 * Everything that must hold of one row: kinds, bounds, choices, lengths; columns of which exactly one is filled in;
 * dates in order; references that belong together. That its visible key occurs once, and what must hold of many rows
 * together, is asked at the commit.
 *
 * Returns: whether the row may be stored; %BOOK_ERROR_VALUE if not
 */
gboolean
book_rules_check (BookRules *rules, const BookRecord *record, const BookValue *values, const BookField **field,
                  GError **error)
{
  *field = NULL;
  for (guint i = 0; i < record->n_fields; i++)
    if (!book_value_check (&record->fields[i], &values[i], error))
      {
        *field = &record->fields[i];
        return FALSE;
      }
  return book_rules_check_row (rules, record, values, field, error)
         && check_agreement (rules, record, values, field, error);
}

static gboolean
climb (BookRules *rules, const BookRecord *record, gint64 id, gint64 *model, GError **error)
{
  *model = NONE;
  while (id > 0)
    {
      if (record->id == BOOK_RECORD_MODEL)
        {
          *model = id;
          return TRUE;
        }
      if (record->parent == NULL)
        return TRUE;

      /* Only things to do hang on another column than one of their key; nothing hangs on these. */
      for (guint i = 0; i < record->n_key; i++)
        if (g_str_equal (record->key[i], record->parent))
          {
            if (!parent_of (rules, record, i, id, &id, error))
              return FALSE;
            break;
          }
      if (book_field_find (record, record->parent)->kind != BOOK_KIND_REFERENCE)
        return TRUE;
      record = book_record (book_field_find (record, record->parent)->refers);
    }
  *model = id;
  return TRUE;
}

static gboolean
model_of_id (BookRules *rules, const BookRecord *record, gint64 id, gint64 *model, GError **error)
{
  if (book_id_map_get (&rules->models[record->id], id, model))
    return TRUE;
  if (!climb (rules, record, id, model, error))
    return FALSE;
  if (*model != MISSING)
    book_id_map_put (&rules->models[record->id], id, *model);
  return TRUE;
}

/**
 * book_rules_model_of:
 * @rules: rules
 * @record: what kind
 * @id: which
 * @values: (array): all its values, in order
 * @model: (out): of which model; 0: shared; -1: what it hangs on is no longer there
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_rules_model_of (BookRules *rules, const BookRecord *record, gint64 id, const BookValue *values, gint64 *model,
                     GError **error)
{
  const BookField *parent;
  int i;

  *model = record->id == BOOK_RECORD_MODEL ? id : NONE;
  if (record->parent == NULL)
    return TRUE;

  i = book_field_index (record, record->parent);
  parent = &record->fields[i];
  if (values[i].type != SQLITE_INTEGER)
    return TRUE;
  if (parent->kind == BOOK_KIND_REFERENCE)
    return model_of_id (rules, book_record (parent->refers), values[i].integer, model, error);
  if (i > 0 && values[i - 1].type == SQLITE_INTEGER && book_record ((BookRecordId) values[i - 1].integer) != NULL)
    return model_of_id (rules, book_record ((BookRecordId) values[i - 1].integer), values[i].integer, model, error);
  return TRUE;
}
