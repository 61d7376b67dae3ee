/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The changeset format, as ext/session/sqlite3session.c of SQLite describes it: for each table a header ('T', number
 * of columns as a varint, one byte a column that is 1 for those of the key, name, zero byte), then its rows: the
 * operation, a byte that says whether a trigger made it, and one record (insert: new, delete: old) or two (update: old,
 * new). A record is one value a column: a type byte, then 8 bytes big-endian for numbers, or a varint and that many
 * bytes. Type 0 is a value left out.
 *
 * Read here rather than by sqlite3changeset_next(): that allocates a value object for each column, which takes as long
 * for a bulk import as making the changeset did.
 */

#include "config.h"

#include "store-changes-private.h"

#include <glib/gi18n-lib.h>

#include <string.h>

#define COLUMNS_MOST 2000 /* SQLite's own limit */

enum
{
  VALUE_NONE = 0,
  VALUE_INTEGER = 1,
  VALUE_FLOAT = 2,
  VALUE_TEXT = 3,
  VALUE_BLOB = 4,
  VALUE_NULL = 5
};

void
store_changes_init (StoreChanges *changes, const StoreProfile *profile, const char *shown, const void *bytes, gsize length)
{
  *changes = (StoreChanges){ .profile = profile, .shown = shown, .at = bytes, .end = (const guint8 *) bytes + length };
}

void
store_changes_open (StoreChanges *changes, StoreDb *db, GBytes *raw)
{
  gsize length;
  const void *bytes = g_bytes_get_data (raw, &length);

  store_changes_init (changes, db->profile, db->shown, bytes, length);
}

void
store_changes_clear (StoreChanges *changes)
{
  g_clear_pointer (&changes->values, g_free);
  g_clear_pointer (&changes->texts, g_free);
}

static gboolean
damaged (StoreChanges *changes, GError **error)
{
  g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
               _("The journal of '%s' holds an entry that cannot be read: open the latest copy of the file instead."),
               changes->shown);
  return FALSE;
}

/* SQLite's varint: seven bits a byte from the high end, the ninth byte whole. */
static gboolean
read_varint (StoreChanges *changes, guint64 *value)
{
  guint64 sum = 0;

  for (guint i = 0; i < 9; i++)
    {
      guint8 byte;

      if (changes->at == changes->end)
        return FALSE;
      byte = *changes->at++;
      if (i == 8)
        sum = sum << 8 | byte;
      else
        sum = sum << 7 | (byte & 0x7f);
      if (byte < 0x80)
        break;
    }
  *value = sum;
  return TRUE;
}

static gboolean
read_integer (StoreChanges *changes, guint64 *bits)
{
  if (changes->end - changes->at < 8)
    return FALSE;
  memcpy (bits, changes->at, 8);
  *bits = GUINT64_FROM_BE (*bits);
  changes->at += 8;
  return TRUE;
}

static gboolean
read_value (StoreChanges *changes, StoreValue *value)
{
  guint64 bits;

  *value = (StoreValue){ .type = STORE_UNCHANGED }; /* NOLINT(clang-analyzer-core.NullDereference): read_table() made room */
  if (changes->at == changes->end)
    return FALSE;

  switch (*changes->at++)
    {
    case VALUE_NONE:
      return TRUE;
    case VALUE_NULL:
      value->type = SQLITE_NULL;
      return TRUE;
    case VALUE_INTEGER:
      value->type = SQLITE_INTEGER;
      if (!read_integer (changes, &bits))
        return FALSE;
      value->integer = (gint64) bits;
      return TRUE;
    case VALUE_FLOAT:
      value->type = SQLITE_FLOAT;
      if (!read_integer (changes, &bits))
        return FALSE;
      memcpy (&value->real, &bits, 8);
      return TRUE;
    case VALUE_TEXT:
    case VALUE_BLOB:
      value->type = changes->at[-1] == VALUE_TEXT ? SQLITE_TEXT : SQLITE_BLOB;
      if (!read_varint (changes, &bits) || bits > (guint64) (changes->end - changes->at))
        return FALSE;
      value->text = (const char *) changes->at;
      value->length = bits;
      changes->at += bits;
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
read_record (StoreChanges *changes, StoreValue *values)
{
  for (guint i = 0; i < changes->row.n_columns; i++)
    if (!read_value (changes, &values[i]))
      return FALSE;
  return TRUE;
}

static gboolean
read_table (StoreChanges *changes)
{
  guint64 n_columns;
  const guint8 *name, *zero;

  changes->at++;
  if (!read_varint (changes, &n_columns) || n_columns == 0 || n_columns > COLUMNS_MOST ||
      n_columns > (guint64) (changes->end - changes->at))
    return FALSE;
  if (changes->at[0] != 1) /* the first column is the key */
    return FALSE;
  name = changes->at + n_columns;
  zero = memchr (name, 0, (gsize) (changes->end - name));
  if (zero == NULL)
    return FALSE;
  changes->at = zero + 1;

  for (guint i = 0; i < changes->profile->n_tables; i++)
    if (strcmp (changes->profile->tables[i].name, (const char *) name) == 0)
      {
        changes->row.table = i;
        changes->row.n_columns = (guint) n_columns;
        changes->in_table = TRUE;
        if (changes->n_values < 2 * n_columns)
          {
            changes->n_values = 2 * (guint) n_columns;
            changes->values = g_renew (StoreValue, changes->values, changes->n_values);
          }
        return TRUE;
      }
  return FALSE;
}

/* Copies the row's texts, so that each ends in a zero byte. */
static void
settle_texts (StoreChanges *changes, StoreValue *values, guint n_values)
{
  gsize needed = 0, used = 0;

  for (guint i = 0; i < n_values; i++)
    if (values[i].text != NULL)
      needed += values[i].length + 1;
  if (needed > changes->texts_size)
    {
      changes->texts_size = needed * 2;
      changes->texts = g_realloc (changes->texts, changes->texts_size);
    }
  for (guint i = 0; i < n_values; i++)
    if (values[i].text != NULL)
      {
        memcpy (changes->texts + used, values[i].text, values[i].length);
        changes->texts[used + values[i].length] = '\0';
        values[i].text = changes->texts + used;
        used += values[i].length + 1;
      }
}

static gboolean
read_row (StoreChanges *changes)
{
  StoreRow *row = &changes->row;
  StoreValue *before, *after;
  const StoreValue *key;
  guint8 op;

  if (!changes->in_table || changes->end - changes->at < 2)
    return FALSE;
  op = *changes->at;
  changes->at += 2; /* the second says whether a trigger did it: none does */
  if (op != SQLITE_INSERT && op != SQLITE_UPDATE && op != SQLITE_DELETE)
    return FALSE;

  before = changes->values;
  after = changes->values + row->n_columns;
  if (op != SQLITE_INSERT && !read_record (changes, before))
    return FALSE;
  if (op != SQLITE_DELETE && !read_record (changes, after))
    return FALSE;

  key = op == SQLITE_INSERT ? after : before;
  if (key->type != SQLITE_INTEGER) /* NOLINT(clang-analyzer-core.NullDereference): read_table() made room */
    return FALSE;
  row->op = (StoreOp) op;
  row->id = key->integer;
  row->before = op == SQLITE_INSERT ? NULL : before;
  row->after = op == SQLITE_DELETE ? NULL : after;
  if (op == SQLITE_UPDATE)
    before->type = STORE_UNCHANGED;
  if (row->before != NULL && row->after != NULL)
    settle_texts (changes, before, 2 * row->n_columns);
  else
    settle_texts (changes, row->before != NULL ? before : after, row->n_columns);
  return TRUE;
}

gboolean
store_changes_conflict (sqlite3_changeset_iter *at, const char **table, gint64 *id)
{
  int n_columns, op, indirect;
  sqlite3_value *key = NULL;

  if (sqlite3changeset_op (at, table, &n_columns, &op, &indirect) != SQLITE_OK)
    return FALSE;
  if (op == SQLITE_INSERT)
    sqlite3changeset_new (at, 0, &key);
  else
    sqlite3changeset_old (at, 0, &key);
  if (key == NULL)
    return FALSE;
  *id = sqlite3_value_int64 (key);
  return TRUE;
}

gboolean
store_changes_next (StoreChanges *changes, const StoreRow **row, GError **error)
{
  *row = NULL;
  while (changes->at < changes->end && *changes->at == 'T')
    if (!read_table (changes))
      return damaged (changes, error);
  if (changes->at == changes->end)
    return TRUE;
  if (!read_row (changes))
    return damaged (changes, error);
  *row = &changes->row;
  return TRUE;
}

/* Where a row stands in a changeset. */
typedef struct
{
  guint         table;
  gint64        id;
  const guint8 *start;
  const guint8 *end;
} Span;

static int
compare_spans (gconstpointer a, gconstpointer b)
{
  const Span *one = a, *other = b;

  if (one->table != other->table)
    return one->table < other->table ? -1 : 1;
  return one->id < other->id ? -1 : one->id > other->id;
}

static void
free_changeset (gpointer bytes)
{
  sqlite3_free (bytes);
}

/* Notes where each row stands, and in @headers the header of each table. */
static gboolean
find_spans (StoreChanges *changes, GArray *spans, Span *headers, gboolean *in_order)
{
  Span last = { .table = 0, .id = G_MININT64 };

  *in_order = TRUE;
  while (changes->at < changes->end)
    {
      Span span = { .start = changes->at };

      if (*changes->at == 'T')
        {
          if (!read_table (changes) || headers[changes->row.table].start != NULL) /* a table comes once */
            return FALSE;
          span.end = changes->at;
          headers[changes->row.table] = span;
          continue;
        }
      if (!read_row (changes))
        return FALSE;
      span.end = changes->at;
      span.table = changes->row.table;
      span.id = changes->row.id;
      *in_order &= spans->len == 0 || compare_spans (&last, &span) < 0;
      last = span;
      g_array_append_val (spans, span);
    }
  return TRUE;
}

static void
put_span (GByteArray *sorted, const Span *span)
{
  g_byte_array_append (sorted, span->start, (guint) (span->end - span->start));
}

GBytes *
store_changes_sort (const StoreProfile *profile, const char *shown, void *bytes, gsize length, GError **error)
{
  g_autoptr(GBytes) whole = g_bytes_new_with_free_func (bytes, length, free_changeset, bytes);
  g_autoptr(GByteArray) sorted = NULL;
  g_autoptr(GArray) spans = g_array_new (FALSE, FALSE, sizeof (Span));
  g_autofree Span *headers = g_new0 (Span, profile->n_tables);
  g_auto(StoreChanges) changes = { 0 };
  gboolean in_order;

  store_changes_init (&changes, profile, shown, bytes, length);
  if (!find_spans (&changes, spans, headers, &in_order))
    {
      damaged (&changes, error);
      return NULL;
    }
  if (in_order)
    return g_steal_pointer (&whole);

  g_array_sort (spans, compare_spans);
  sorted = g_byte_array_sized_new ((guint) length);
  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);

      if (i == 0 || span->table != g_array_index (spans, Span, i - 1).table)
        put_span (sorted, &headers[span->table]);
      put_span (sorted, span);
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&sorted));
}
