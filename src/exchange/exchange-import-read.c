/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first half of an import: files to values, without a book. See exchange-import-private.h for the method. */
#include "config.h"

#include "exchange-import-private.h"

#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define ASK_EVERY 4096 /* rows between two looks at progress and cancelling */

/* What the reading of one file needs beside the table. */
typedef struct
{
  ExchangeImport *import;
  ExchangeTable  *table;
  ExchangeSource *source;
  ExchangeCsv    *csv; /* NULL: the import's rows in memory, of which @at is next */
  guint           at;
  ExchangeCsvRow  filled;
  gboolean        decimal_comma;
  gint           *ignored; /* one a column: whether it is passed over */
  GString        *joined;
  GHashTable     *ordinals; /* joined rest of the key to the last number given */
  /* The last cell of each field and what came of it: columns of a file repeat themselves. */
  GString        *last[BOOK_MAX_FIELDS];
  ExchangeBits    last_bits[BOOK_MAX_FIELDS];
  guint8          last_type[BOOK_MAX_FIELDS];
} Reading;

static const char *
name_at (const ExchangeFieldPlan *plan)
{
  return plan->columns[plan->n_columns - 1].name;
}

static guint
count_columns (const Reading *self)
{
  return self->csv != NULL ? exchange_csv_count_columns (self->csv) : self->import->rows->n_columns;
}

static const char *
column_name (const Reading *self, guint column)
{
  return self->csv != NULL ? exchange_csv_get_column (self->csv, column) : self->import->rows->columns[column];
}

static int
find_column (const Reading *self, const char *name)
{
  if (name == NULL)
    return -1;
  for (guint i = 0; i < count_columns (self); i++)
    if (strcmp (column_name (self, i), name) == 0)
      return (int) i;
  return -1;
}

/* As exchange_csv_next(). */
static gboolean
next_row (Reading *self, const ExchangeCsvRow **row, GError **error)
{
  const ExchangeImportRows *rows = self->import->rows;

  if (self->csv != NULL)
    return exchange_csv_next (self->csv, row, error);
  *row = NULL;
  if (self->at >= rows->n_rows)
    return TRUE;
  rows->fill (self->at++, &self->filled, rows->data);
  *row = &self->filled;
  return TRUE;
}

/* Every column of the file must be known, and stand there once. */
static gboolean
check_columns (Reading *self)
{
  BookCsvColumn columns[BOOK_MAX_FIELDS * 2];
  guint n = book_record_csv_columns (self->table->record, columns);
  const char *names[BOOK_MAX_FIELDS * 2 + 1];
  gboolean good = TRUE;

  for (guint i = 0; i < n; i++)
    names[i] = columns[i].name;
  names[n] = NULL;
  for (guint i = 0; i < count_columns (self); i++)
    {
      const char *name = column_name (self, i);
      g_autofree char *what = NULL;

      if (strcmp (name, EXCHANGE_REASON_COLUMN) == 0)
        continue;
      if (find_column (self, name) < (int) i)
        what = g_strdup (_("the column stands there twice: take one out"));
      else if (!g_strv_contains (names, name))
        {
          const char *nearest = book_nearest_word (name, names);

          what = nearest != NULL ? g_strdup_printf (_("'%s' has no such column; the nearest is '%s'"),
                                                    self->table->record->name, nearest)
                                 : g_strdup_printf (_("'%s' has no such column"), self->table->record->name);
        }
      if (what == NULL)
        continue;
      exchange_import_problem (self->import, self->source, 1, *name != '\0' ? name : _("(no name)"), what);
      good = FALSE;
    }
  return good;
}

static gboolean
plan_fields (Reading *self)
{
  const BookRecord *record = self->table->record;
  gboolean good = TRUE;

  for (guint f = 0; f < record->n_fields; f++)
    {
      const BookField *field = &record->fields[f];
      ExchangeFieldPlan *plan = &self->source->plans[f];

      plan->in_key = book_record_has_in_key (record, field);
      plan->is_ordinal = record->ordinal != NULL && strcmp (record->ordinal, field->name) == 0;
      plan->n_columns = book_field_csv_columns (record, field, plan->columns);
      for (guint i = 0; i < plan->n_columns; i++)
        {
          plan->at[i] = find_column (self, plan->columns[i].name);
          plan->otherwise[i] = find_column (self, plan->columns[i].otherwise);
        }
      plan->is_present = plan->at[plan->n_columns - 1] >= 0;
      if (!field->required || field->fallback != NULL || plan->is_ordinal)
        continue;
      for (guint i = 0; i < plan->n_columns; i++)
        if (plan->at[i] < 0 && plan->otherwise[i] < 0 && plan->columns[i].leaf->required
            && plan->columns[i].leaf->fallback == NULL)
          {
            if (plan->in_key)
              {
                exchange_import_problem (self->import, self->source, 1, plan->columns[i].name,
                                         _("the column is missing: every row needs it"));
                good = FALSE;
              }
            else
              self->source->lacks_required = TRUE;
          }
    }
  self->source->kept_at = record->kept != NULL ? find_column (self, record->kept->name) : -1;
  return good;
}

static void
ensure_room (ExchangeTable *table)
{
  gsize n_fields = table->record->n_fields;

  if (table->n_rows < table->n_allocated)
    return;
  table->n_allocated = MAX (256, table->n_allocated * 2);
  table->bits = g_realloc_n (table->bits, table->n_allocated * n_fields, sizeof *table->bits);
  table->types = g_realloc_n (table->types, table->n_allocated * n_fields, sizeof *table->types);
  table->lines = g_renew (guint32, table->lines, table->n_allocated);
  table->states = g_renew (guint8, table->states, table->n_allocated);
  table->ids = g_renew (gint64, table->ids, table->n_allocated);
  if (table->record->kept != NULL)
    table->kept = g_renew (ExchangeText *, table->kept, table->n_allocated);
}

static const ExchangeCsvField *
cell_at (const ExchangeFieldPlan *plan, guint part, const ExchangeCsvRow *row)
{
  static const ExchangeCsvField empty = { "", 0, 0 };

  if (plan->at[part] >= 0 && row->fields[plan->at[part]].length > 0)
    return &row->fields[plan->at[part]];
  return plan->otherwise[part] >= 0 ? &row->fields[plan->otherwise[part]] : &empty;
}

/* The key cells of what a field refers to as one text, the record in front: a text means something else elsewhere. */
static void
join_reference (Reading *self, guint f, const ExchangeCsvRow *row)
{
  const ExchangeFieldPlan *plan = &self->source->plans[f];

  g_string_truncate (self->joined, 0);
  g_string_append_c (self->joined, (char) self->table->record->fields[f].refers);
  for (guint i = 0; i < plan->n_columns; i++)
    {
      const ExchangeCsvField *cell = cell_at (plan, i, row);

      if (i > 0)
        g_string_append_c (self->joined, '\0'); /* in no cell */
      g_string_append_len (self->joined, cell->text, (gssize) cell->length);
    }
}

static void
read_reference (Reading *self, guint f, const ExchangeCsvRow *row, guint index, ExchangeBits *bits, guint8 *type)
{
  const BookField *field = &self->table->record->fields[f];
  const ExchangeFieldPlan *plan = &self->source->plans[f];

  if (cell_at (plan, plan->n_columns - 1, row)->length == 0)
    {
      *type = SQLITE_NULL;
      bits->bits = 0;
      if (field->required)
        exchange_import_reject (self->import, self->table, index, name_at (plan),
                                _("the cell is empty, but every row needs it"));
      return;
    }
  join_reference (self, f, row);
  *type = EXCHANGE_CELL_REFERENCE;
  bits->text = exchange_pool_intern (self->import->pool, self->joined->str, self->joined->len);
}

static void
keep_value (Reading *self, const BookValue *value, gboolean in_key, ExchangeBits *bits, guint8 *type)
{
  *type = (guint8) value->type;
  bits->bits = 0;
  if (value->type == SQLITE_INTEGER)
    bits->integer = value->integer;
  else if (value->type == SQLITE_FLOAT)
    bits->real = value->real + 0.0; /* no minus zero: equal values have equal bits */
  else if (value->type == SQLITE_TEXT && in_key)
    bits->text = exchange_pool_intern (self->import->texts, value->text, value->length);
  else if (value->type == SQLITE_TEXT)
    bits->text = exchange_pool_add (self->import->texts, value->text, value->length);
}

static void
read_leaf (Reading *self, guint f, const ExchangeCsvRow *row, guint index, ExchangeBits *bits, guint8 *type)
{
  const BookField *field = &self->table->record->fields[f];
  const ExchangeFieldPlan *plan = &self->source->plans[f];
  const ExchangeCsvField *cell = cell_at (plan, 0, row);
  g_autoptr(GError) failure = NULL;
  BookValue value;

  if (self->last[f]->len == cell->length && memcmp (self->last[f]->str, cell->text, cell->length) == 0
      && self->last_type[f] != EXCHANGE_CELL_ABSENT_COLUMN)
    {
      *bits = self->last_bits[f];
      *type = self->last_type[f];
      return;
    }
  if (!book_value_parse (field, cell->text, (gssize) cell->length, self->decimal_comma, &value, &failure))
    {
      *type = SQLITE_NULL;
      bits->bits = 0;
      exchange_import_reject (self->import, self->table, index, field->name, failure->message);
      return;
    }
  keep_value (self, &value, plan->in_key, bits, type);
  g_string_truncate (self->last[f], 0);
  g_string_append_len (self->last[f], cell->text, (gssize) cell->length);
  self->last_bits[f] = *bits;
  self->last_type[f] = *type;
}

/* A row without its number gets its place among the rows with the same rest of the key. */
static void
number_row (Reading *self, guint f, guint index)
{
  const BookRecord *record = self->table->record;
  gsize first = (gsize) index * record->n_fields;
  gpointer known;
  gint64 number;

  g_string_truncate (self->joined, 0);
  for (guint k = 0; k < record->n_key; k++)
    if (self->table->key_fields[k] != (int) f)
      g_string_append_len (self->joined, (const char *) &self->table->bits[first + (gsize) self->table->key_fields[k]],
                           sizeof (ExchangeBits));
  known = exchange_pool_intern (self->import->texts, self->joined->str, self->joined->len);
  number = (gint64) GPOINTER_TO_SIZE (g_hash_table_lookup (self->ordinals, known)) + 1;
  g_hash_table_insert (self->ordinals, known, GSIZE_TO_POINTER ((gsize) number));
  self->table->types[first + f] = SQLITE_INTEGER;
  self->table->bits[first + f].integer = number;
}

static void
read_row (Reading *self, const ExchangeCsvRow *row)
{
  const BookRecord *record = self->table->record;
  guint index = self->table->n_rows;
  gsize first = (gsize) index * record->n_fields;
  int ordinal = -1;

  ensure_room (self->table);
  self->table->n_rows++;
  self->source->n_rows++;
  self->table->lines[index] = row->line;
  self->table->states[index] = EXCHANGE_ROW_NEW;
  self->table->ids[index] = 0;
  if (self->table->kept != NULL)
    self->table->kept[index] = NULL;
  memset (self->table->types + first, EXCHANGE_CELL_ABSENT_COLUMN, record->n_fields);
  memset (self->table->bits + first, 0, record->n_fields * sizeof (ExchangeBits));
  if (row->n_fields != count_columns (self))
    {
      g_autofree char *what = g_strdup_printf (
          ngettext ("the row has %u cell, the header %u: look for a separator inside a cell without quotes",
                    "the row has %u cells, the header %u: look for a separator inside a cell without quotes",
                    row->n_fields),
          row->n_fields, count_columns (self));

      exchange_import_reject (self->import, self->table, index, NULL, what);
      return;
    }
  for (guint f = 0; f < record->n_fields; f++)
    {
      const ExchangeFieldPlan *plan = &self->source->plans[f];

      if (!plan->is_present && plan->is_ordinal)
        ordinal = (int) f;
      else if (!plan->is_present && !plan->in_key)
        continue;
      else if (record->fields[f].kind == BOOK_KIND_REFERENCE)
        read_reference (self, f, row, index, &self->table->bits[first + f], &self->table->types[first + f]);
      else
        read_leaf (self, f, row, index, &self->table->bits[first + f], &self->table->types[first + f]);
    }
  if (ordinal >= 0)
    number_row (self, (guint) ordinal, index);
  if (self->source->kept_at >= 0)
    {
      const ExchangeCsvField *cell = &row->fields[self->source->kept_at];
      g_autoptr(GError) failure = NULL;
      BookValue value;

      if (!book_value_parse (record->kept, cell->text, (gssize) cell->length, FALSE, &value, &failure))
        exchange_import_reject (self->import, self->table, index, record->kept->name, failure->message);
      else
        self->table->kept[index] = exchange_pool_intern (self->import->texts,
                                                         value.type == SQLITE_TEXT ? value.text : "",
                                                         value.type == SQLITE_TEXT ? value.length : 0);
    }
}

static gboolean
ask (Reading *self, GError **error)
{
  const ExchangeImportOptions *options = self->import->options;
  double share = self->csv != NULL ? exchange_csv_get_share (self->csv) : (double) self->at / self->import->rows->n_rows;
  double done = (double) self->import->read_bytes + share * (double) self->source->bytes;

  if (g_cancellable_set_error_if_cancelled (self->import->cancellable, error))
    return FALSE;
  if (options->progress != NULL)
    options->progress ((guint64) (done * EXCHANGE_READ_PERMILLE / (double) MAX (self->import->total_bytes, 1)), 1000,
                       options->progress_data);
  return TRUE;
}

static gboolean
read_rows (Reading *self, GError **error)
{
  const ExchangeCsvRow *row;
  guint n = 0;

  while (next_row (self, &row, error))
    {
      if (row == NULL)
        return TRUE;
      if (self->table->n_rows >= G_MAXINT32)
        {
          g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                       _("%s: the file has more rows than can be imported at once: split it"), self->source->path);
          return FALSE;
        }
      read_row (self, row);
      if (++n % ASK_EVERY == 0 && !ask (self, error))
        return FALSE;
    }
  return FALSE;
}

/**
 * exchange_import_read:
 * @import: the import
 * @table: where the rows go
 * @source: the file
 *
 * Reads one file. Wrong cells and rows are noted; a file that cannot be read to its end is noted as well, since other
 * files may be wrong too.
 *
 * Returns: %FALSE only when cancelled
 */
gboolean
exchange_import_read (ExchangeImport *import, ExchangeTable *table, ExchangeSource *source, GError **error)
{
  g_autoptr(GError) failure = NULL;
  g_autoptr(ExchangeCsv) csv = import->rows == NULL ? exchange_csv_open (source->path, &failure) : NULL;
  Reading self = { .import = import, .table = table, .source = source, .csv = csv };
  gboolean good;

  source->first_row = table->n_rows;
  if (failure != NULL)
    {
      exchange_import_problem (import, source, 0, NULL, failure->message);
      return TRUE;
    }
  good = check_columns (&self);
  if (!plan_fields (&self) || !good)
    return TRUE;
  self.decimal_comma = csv != NULL && exchange_csv_get_separator (csv) != ',';
  self.joined = g_string_new (NULL);
  self.ordinals = g_hash_table_new (NULL, NULL);
  for (guint f = 0; f < table->record->n_fields; f++)
    self.last[f] = g_string_new (NULL);
  good = read_rows (&self, &failure);
  for (guint f = 0; f < table->record->n_fields; f++)
    g_string_free (self.last[f], TRUE);
  g_string_free (self.joined, TRUE);
  g_hash_table_unref (self.ordinals);
  source->report->rows = source->n_rows;
  import->read_bytes += source->bytes;
  if (!good && g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }
  if (!good)
    exchange_import_problem (import, source, 0, NULL, failure->message);
  return TRUE;
}
