/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-sql-private.h"

#include <string.h>

static const char *texts[BOOK_N_RECORDS + 1][BOOK_N_SQL];
static const char *children[BOOK_N_RECORDS + 1][BOOK_MAX_FIELDS];
static GMutex      lock;

/* Quoted throughout: one table has the name of a word of SQL. */
static void
append_name (GString *sql, const char *name)
{
  g_string_append_printf (sql, "\"%s\"", name);
}

static void
append_fields (GString *sql, const BookRecord *record, const char *alias)
{
  g_string_append_printf (sql, "%sid", alias);
  for (guint i = 0; i < record->n_fields; i++)
    {
      g_string_append_printf (sql, ", %s", alias);
      append_name (sql, record->fields[i].name);
    }
}

static void
append_key (GString *sql, const BookRecord *record, const char *before)
{
  for (guint i = 0; i < record->n_key; i++)
    {
      g_string_append (sql, i > 0 ? ", " : before);
      append_name (sql, record->key[i]);
    }
}

/* Joins what the key refers to, and lists the columns that make the order; both grow together. */
static void
append_order (GString *joins, GString *order, const BookRecord *record, guint alias, guint *n_aliases)
{
  for (guint i = 0; i < record->n_key; i++)
    {
      const BookField *field = book_field_find (record, record->key[i]);

      if (field->kind == BOOK_KIND_REFERENCE)
        {
          const BookRecord *target = book_record (field->refers);
          guint next = ++*n_aliases;

          g_string_append (joins, " LEFT JOIN ");
          append_name (joins, target->name);
          g_string_append_printf (joins, " AS t%u ON t%u.id = t%u.", next, next, alias);
          append_name (joins, field->name);
          append_order (joins, order, target, next, n_aliases);
        }
      else
        {
          g_string_append_printf (order, "%st%u.", order->len > 0 ? ", " : "", alias);
          append_name (order, field->name);
        }
    }
}

static void
append_each_by_key (GString *sql, const BookRecord *record)
{
  g_autoptr(GString) joins = g_string_new (NULL);
  g_autoptr(GString) order = g_string_new (NULL);
  guint n_aliases = 0;

  append_order (joins, order, record, 0, &n_aliases);
  g_string_append (sql, "SELECT ");
  append_fields (sql, record, "t0.");
  g_string_append (sql, " FROM ");
  append_name (sql, record->name);
  g_string_append_printf (sql, " AS t0%s ORDER BY %s, t0.id", joins->str, order->str);
}

static void
append_count_of (GString *sql, const BookRecord *record)
{
  const BookField *parent = NULL;
  guint alias = 0;

  g_string_append (sql, "SELECT count (*) FROM ");
  append_name (sql, record->name);
  g_string_append (sql, " AS t0");
  while (record->parent != NULL && (parent = book_field_find (record, record->parent))->refers != BOOK_RECORD_MODEL)
    {
      record = book_record (parent->refers);
      g_string_append (sql, " LEFT JOIN ");
      append_name (sql, record->name);
      g_string_append_printf (sql, " AS t%u ON t%u.id = t%u.\"%s\"", alias + 1, alias + 1, alias, parent->name);
      alias++;
    }
  if (record->parent != NULL)
    g_string_append_printf (sql, " WHERE t%u.\"%s\" IS NULL OR t%u.\"%s\" = ?1", alias, parent->name, alias, parent->name);
}

static void
append_where_key (GString *sql, const BookRecord *record, gboolean without_ordinal)
{
  const char *and = " WHERE ";

  for (guint i = 0; i < record->n_key; i++)
    {
      if (without_ordinal && g_strcmp0 (record->key[i], record->ordinal) == 0)
        continue;
      g_string_append (sql, and);
      append_name (sql, record->key[i]);
      g_string_append_printf (sql, " IS ?%u", i + 1);
      and = " AND ";
    }
}

static void
append_insert (GString *sql, const BookRecord *record)
{
  g_string_append (sql, "INSERT INTO ");
  append_name (sql, record->name);
  g_string_append (sql, " (");
  append_fields (sql, record, "");
  g_string_append (sql, ") VALUES (?1");
  for (guint i = 0; i < record->n_fields; i++)
    g_string_append_printf (sql, ", ?%u", i + 2);
  g_string_append_c (sql, ')');
}

static void
append_update (GString *sql, const BookRecord *record)
{
  g_string_append (sql, "UPDATE ");
  append_name (sql, record->name);
  for (guint i = 0; i < record->n_fields; i++)
    {
      g_string_append (sql, i > 0 ? ", " : " SET ");
      append_name (sql, record->fields[i].name);
      g_string_append_printf (sql, " = ?%u", i + 2);
    }
  g_string_append (sql, " WHERE id = ?1");
}

static void
append_twice (GString *sql, const BookRecord *record)
{
  g_string_append (sql, "SELECT b.id FROM ");
  append_name (sql, record->name);
  g_string_append (sql, " AS a JOIN ");
  append_name (sql, record->name);
  g_string_append (sql, " AS b ON ");
  for (guint i = 0; i < record->n_key; i++)
    g_string_append_printf (sql, "b.\"%s\" IS a.\"%s\" AND ", record->key[i], record->key[i]);
  g_string_append (sql, "b.id <> a.id WHERE a.id = ?1 LIMIT 1");
}

static void
append_twice_any (GString *sql, const BookRecord *record)
{
  g_string_append (sql, "SELECT max (id) FROM ");
  append_name (sql, record->name);
  append_key (sql, record, " GROUP BY ");
  g_string_append (sql, " HAVING count (*) > 1 LIMIT 1");
}

static char *
make (const BookRecord *record, BookSql which)
{
  GString *sql = g_string_new (NULL);

  switch (which)
    {
    case BOOK_SQL_READ:
    case BOOK_SQL_EACH:
      g_string_append (sql, "SELECT ");
      append_fields (sql, record, "");
      g_string_append (sql, " FROM ");
      append_name (sql, record->name);
      g_string_append (sql, which == BOOK_SQL_READ ? " WHERE id = ?1" : " ORDER BY id");
      break;
    case BOOK_SQL_KEY:
    case BOOK_SQL_EACH_KEY:
      g_string_append (sql, "SELECT id");
      append_key (sql, record, ", ");
      g_string_append (sql, " FROM ");
      append_name (sql, record->name);
      g_string_append (sql, which == BOOK_SQL_KEY ? " WHERE id = ?1" : " ORDER BY id");
      break;
    case BOOK_SQL_EACH_BY_KEY:
      append_each_by_key (sql, record);
      break;
    case BOOK_SQL_COUNT:
      g_string_append (sql, "SELECT count (*) FROM ");
      append_name (sql, record->name);
      break;
    case BOOK_SQL_COUNT_OF:
      append_count_of (sql, record);
      break;
    case BOOK_SQL_FIND:
      g_string_append (sql, "SELECT id FROM ");
      append_name (sql, record->name);
      append_where_key (sql, record, FALSE);
      break;
    case BOOK_SQL_ORDINAL:
      g_string_append_printf (sql, "SELECT max (\"%s\") FROM ", record->ordinal);
      append_name (sql, record->name);
      append_where_key (sql, record, TRUE);
      break;
    case BOOK_SQL_INSERT:
      append_insert (sql, record);
      break;
    case BOOK_SQL_UPDATE:
      append_update (sql, record);
      break;
    case BOOK_SQL_DELETE:
      g_string_append (sql, "DELETE FROM ");
      append_name (sql, record->name);
      g_string_append (sql, " WHERE id = ?1");
      break;
    case BOOK_SQL_TWICE:
      append_twice (sql, record);
      break;
    case BOOK_SQL_TWICE_ANY:
      append_twice_any (sql, record);
      break;
    case BOOK_N_SQL:
      break;
    }
  return g_string_free (sql, FALSE);
}

/*
 * book_sql:
 * @record: a record
 * @which: which statement
 *
 * Returns: its text, always at the same address
 */
const char *
book_sql (const BookRecord *record, BookSql which)
{
  const char **place = &texts[record->id][which];
  const char *text = g_atomic_pointer_get (place);

  if (text != NULL) /* asked for each of a million rows */
    return text;
  g_mutex_lock (&lock);
  if (*place == NULL)
    g_atomic_pointer_set (place, make (record, which));
  text = *place;
  g_mutex_unlock (&lock);
  return text;
}

/*
 * book_sql_children:
 * @child: a record
 * @field: index of one of its references
 *
 * Returns: the statement for the ids of all rows that refer by it to ?1, always at the same address
 */
const char *
book_sql_children (const BookRecord *child, guint field)
{
  const char **text = &children[child->id][field];

  g_mutex_lock (&lock);
  if (*text == NULL)
    *text = g_strdup_printf ("SELECT id FROM \"%s\" WHERE \"%s\" = ?1", child->name, child->fields[field].name);
  g_mutex_unlock (&lock);
  return *text;
}
