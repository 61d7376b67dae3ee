/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows that lack the number their record counts by: an event of a unit, an issue of a model. What is pasted without one
 * means either a row that the book has already, or a further one; never the first, second and third of the book.
 */
#include "config.h"

#include "exchange-import-private.h"

#include <string.h>

typedef struct
{
  gint64  last; /* number in the book */
  GArray *rows; /* of guint: of the text, not found in the book yet */
} Group;

typedef struct
{
  ExchangeImport *import;
  ExchangeTable  *table;
  guint           ordinal;
  GHashTable     *groups; /* rest of the key, as text, to Group */
  guint           n;
} Walk;

static void
group_free (gpointer data)
{
  Group *group = data;

  g_array_unref (group->rows);
  g_free (group);
}

/* The key without the number, as one text: equal texts for equal keys, whatever the values. */
static char *
join_rest (const Walk *walk, const BookValue *values)
{
  const BookRecord *record = walk->table->record;
  GString *joined = g_string_new (NULL);

  for (guint k = 0; k < record->n_key; k++)
    {
      const BookValue *value = &values[k];

      if (walk->table->key_fields[k] == (int) walk->ordinal)
        continue;
      g_string_append_printf (joined, "%d:", value->type);
      if (value->type == SQLITE_INTEGER)
        g_string_append_printf (joined, "%" G_GINT64_FORMAT, value->integer);
      else if (value->type == SQLITE_FLOAT)
        g_string_append_printf (joined, "%a", value->real);
      else if (value->type == SQLITE_TEXT)
        g_string_append_len (joined, value->text, (gssize) value->length);
      g_string_append_c (joined, '\x1f');
    }
  return g_string_free (joined, FALSE);
}

static void
sort_into_groups (Walk *walk)
{
  ExchangeTable *table = walk->table;
  BookValue key[BOOK_MAX_KEY];

  for (guint row = 0; row < table->n_rows; row++)
    {
      g_autofree char *rest = NULL;
      Group *group;

      if (table->states[row] == EXCHANGE_ROW_REJECTED)
        continue;
      for (guint k = 0; k < table->record->n_key; k++)
        {
          key[k] = exchange_table_value (table, row, (guint) table->key_fields[k]);
          if (key[k].type == STORE_UNCHANGED)
            key[k] = BOOK_VALUE_EMPTY;
        }
      rest = join_rest (walk, key);
      group = g_hash_table_lookup (walk->groups, rest);
      if (group == NULL)
        {
          group = g_new0 (Group, 1);
          group->rows = g_array_new (FALSE, FALSE, sizeof (guint));
          g_hash_table_insert (walk->groups, g_steal_pointer (&rest), group);
        }
      g_array_append_val (group->rows, row);
    }
}

/* References to the record itself are left open: such a row counts as another one. */
static gboolean
is_equal (const ExchangeTable *table, guint row, guint ordinal, const BookValue *values)
{
  for (guint f = 0; f < table->record->n_fields; f++)
    {
      BookValue value = exchange_table_value (table, row, f);

      if (f == ordinal || value.type == STORE_UNCHANGED)
        continue;
      if (value.type != values[f].type || !store_value_equal (&value, &values[f]))
        return FALSE;
    }
  return TRUE;
}

static gboolean
on_book_row (const BookRow *book_row, gpointer data, GError **error)
{
  Walk *walk = data;
  ExchangeTable *table = walk->table;
  BookValue key[BOOK_MAX_KEY];
  g_autofree char *rest = NULL;
  Group *group;

  if (++walk->n % 65536 == 0 && !exchange_import_tell (walk->import, error))
    return FALSE;
  for (guint k = 0; k < table->record->n_key; k++)
    key[k] = book_row->values[table->key_fields[k]];
  rest = join_rest (walk, key);
  group = g_hash_table_lookup (walk->groups, rest);
  if (group == NULL)
    return TRUE;
  group->last = MAX (group->last, book_row->values[walk->ordinal].integer);
  for (guint i = 0; i < group->rows->len; i++)
    {
      guint row = g_array_index (group->rows, guint, i);

      if (!is_equal (table, row, walk->ordinal, book_row->values))
        continue;
      table->ids[row] = book_row->id;
      table->states[row] = EXCHANGE_ROW_EQUAL;
      g_array_remove_index (group->rows, i);
      break;
    }
  return TRUE;
}

/**
 * exchange_import_number:
 * @import: the import, in its second half
 * @table: rows in memory whose references are resolved
 * @ordinal: the field that numbers them, which they lack
 * @error: return location
 *
 * In the place of exchange_import_match(): rows that the book has already are equal, all others are new and numbered on.
 *
 * Returns: %FALSE when the book cannot be read or the import was cancelled
 */
gboolean
exchange_import_number (ExchangeImport *import, ExchangeTable *table, guint ordinal, GError **error)
{
  g_autoptr(GHashTable) groups = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, group_free);
  Walk walk = { import, table, ordinal, groups, 0 };
  GHashTableIter iter;
  gpointer group;

  sort_into_groups (&walk);
  if (!book_record_each (import->db, table->record, on_book_row, &walk, error))
    return FALSE;
  g_hash_table_iter_init (&iter, groups);
  while (g_hash_table_iter_next (&iter, NULL, &group))
    for (guint i = 0; i < ((Group *) group)->rows->len; i++)
      {
        guint row = g_array_index (((Group *) group)->rows, guint, i);
        gsize at = (gsize) row * table->record->n_fields + ordinal;

        table->types[at] = SQLITE_INTEGER;
        table->bits[at].integer = ((Group *) group)->last + 1 + i;
      }
  return TRUE;
}
