/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The second half of an import for one record: resolve, match with the book, check, write. */
#include "config.h"

#include "exchange-import-private.h"

#include "exchange-key-cells-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define SPLIT_EVERY 50000 /* rows an entry of the journal */
#define ASK_EVERY 4096
#define AHEAD 12 /* rows whose cells are fetched before they are wanted: sorted rows lie anywhere */

ExchangeSource *
exchange_table_source (const ExchangeTable *table, guint row)
{
  for (guint i = table->sources->len; i-- > 0;)
    {
      ExchangeSource *source = g_ptr_array_index (table->sources, i);

      if (row >= source->first_row)
        return source;
    }
  g_assert_not_reached ();
}

/* A cell as a value of the book; a reference must have been found. */
BookValue
exchange_table_value (const ExchangeTable *table, guint row, guint field)
{
  gsize at = (gsize) row * table->record->n_fields + field;
  const ExchangeBits *bits = &table->bits[at];

  switch (table->types[at])
    {
    case SQLITE_INTEGER:
      return book_value_integer (bits->integer);
    case SQLITE_FLOAT:
      return book_value_real (bits->real);
    case SQLITE_TEXT:
      return book_value_text (bits->text->text, bits->text->length);
    case EXCHANGE_CELL_REFERENCE:
      return bits->text->state == EXCHANGE_REFERENCE_FOUND ? book_value_integer (bits->text->id) : BOOK_VALUE_EMPTY;
    case EXCHANGE_CELL_ABSENT_COLUMN:
      return BOOK_VALUE_UNCHANGED;
    default:
      return BOOK_VALUE_EMPTY;
    }
}

/* A cell as files have it; of a reference the key, its parts joined by '/'. */
char *
exchange_table_print (StoreDb *db, const ExchangeTable *table, guint row, guint field)
{
  gsize at = (gsize) row * table->record->n_fields + field;
  BookValue value;

  if (table->record->fields[field].kind == BOOK_KIND_REFERENCE && table->types[at] == SQLITE_INTEGER)
    return book_record_key_text (db, book_record (table->record->fields[field].refers), table->bits[at].integer, BOOK_KEY_TEXT_SHOWN,
                                 NULL);
  if (table->types[at] == EXCHANGE_CELL_REFERENCE)
    {
      const ExchangeText *text = table->bits[at].text;
      char *shown = g_strndup (text->text + 1, text->length - 1);

      for (gsize i = 0; i + 1 < text->length; i++)
        if (shown[i] == '\0')
          shown[i] = '/';
      return shown;
    }
  value = exchange_table_value (table, row, field);
  return book_value_print (&table->record->fields[field], &value);
}

/* The key cells of a row as a reference to it would have them. */
static const ExchangeText *
join_key (ExchangeImport *import, const ExchangeTable *table, guint row)
{
  g_autoptr(GString) joined = g_string_new (NULL);

  g_string_append_c (joined, (char) table->record->id);
  for (guint k = 0; k < table->record->n_key; k++)
    {
      const BookField *field = &table->record->fields[table->key_fields[k]];
      gsize at = (gsize) row * table->record->n_fields + (guint) table->key_fields[k];
      BookValue value = exchange_table_value (table, row, (guint) table->key_fields[k]);

      if (table->types[at] == EXCHANGE_CELL_REFERENCE)
        {
          g_string_append_len (joined, table->bits[at].text->text + 1, (gssize) table->bits[at].text->length - 1);
          g_string_append_c (joined, '\0');
        }
      else if (field->kind == BOOK_KIND_REFERENCE)
        {
          /* Where the keys cannot be read, the row is only named less well. */
          (void) exchange_key_cells_append (import->db, import->keys, book_record (field->refers),
                                            value.type == SQLITE_INTEGER ? value.integer : 0, joined, NULL);
        }
      else
        {
          if (value.type != STORE_UNCHANGED && field->kind != BOOK_KIND_ANY)
            book_value_append (joined, field, &value);
          g_string_append_c (joined, '\0');
        }
    }
  return exchange_pool_intern (import->pool, joined->str, joined->len - 1);
}

/* What later records may say about rows that are not there. */
static void
remember_rejected (ExchangeImport *import, ExchangeTable *table)
{
  g_clear_pointer (&table->rejected_keys, g_hash_table_unref);
  table->rejected_keys = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  if (table->record->n_key == 0)
    return;
  for (guint row = 0; row < table->n_rows; row++)
    if (table->states[row] == EXCHANGE_ROW_REJECTED)
      {
        gpointer key = (gpointer) join_key (import, table, row);

        g_hash_table_insert (table->rejected_keys, key,
                             g_strdup_printf ("%s:%u", exchange_table_source (table, row)->path, table->lines[row]));
      }
}

static gboolean
is_own (const BookRecord *record, const BookField *field)
{
  return field->kind == BOOK_KIND_REFERENCE && field->refers == record->id;
}

static gboolean
resolve_any (ExchangeImport *import, ExchangeTable *table, guint row, guint f, GError **error)
{
  gsize at = (gsize) row * table->record->n_fields + f;
  BookValue kind = exchange_table_value (table, row, f - 1);
  const BookRecord *target = kind.type == SQLITE_INTEGER ? book_record ((BookRecordId) kind.integer) : NULL;
  g_autofree char *what = NULL;
  gint64 id = 0;

  if (table->types[at] != SQLITE_TEXT)
    return TRUE;
  if (target != NULL && !book_record_find_text (import->db, target, table->bits[at].text->text, &id, error))
    return FALSE;
  if (id != 0)
    {
      table->types[at] = SQLITE_INTEGER;
      table->bits[at].integer = id;
      return TRUE;
    }
  if (target == NULL)
    what = g_strdup (_("the column before it must say what kind of record this is"));
  else
    what = g_strdup_printf (_("there is no %s '%s' in the book or in the files: mend the cell or import it too"),
                            target->name, table->bits[at].text->text);
  exchange_import_reject (import, table, row, table->record->fields[f].name, what);
  return TRUE;
}

static void
reject_missing (ExchangeImport *import, ExchangeTable *table, guint row, guint f)
{
  gsize at = (gsize) row * table->record->n_fields + f;
  const char *column;
  g_autofree char *what = exchange_import_why_missing (import, table->record, &table->record->fields[f],
                                                       table->bits[at].text, &column);

  exchange_import_reject (import, table, row, column, what);
}

/* From here on the cell is the id: following a text for every look at a row would miss the cache each time. */
static void
put_id (ExchangeTable *table, gsize at)
{
  gint64 id = table->bits[at].text->id;

  table->types[at] = SQLITE_INTEGER;
  table->bits[at].integer = id;
}

/* References to the same record are left open: their rows may not be written yet. */
static gboolean
resolve_rows (ExchangeImport *import, ExchangeTable *table, GError **error)
{
  const BookRecord *record = table->record;

  for (guint row = 0; row < table->n_rows; row++)
    {
      if (row % ASK_EVERY == 0 && !exchange_import_tell (import, error))
        return FALSE;
      for (guint f = 0; f < record->n_fields; f++)
        {
          gsize at = (gsize) row * record->n_fields + f;

          if (record->fields[f].kind == BOOK_KIND_ANY && table->states[row] != EXCHANGE_ROW_REJECTED)
            {
              if (!resolve_any (import, table, row, f, error))
                return FALSE;
            }
          if (table->types[at] != EXCHANGE_CELL_REFERENCE || is_own (record, &record->fields[f]))
            continue;
          if (!exchange_import_resolve (import, &record->fields[f], table->bits[at].text, error))
            return FALSE;
          if (table->bits[at].text->state == EXCHANGE_REFERENCE_MISSING)
            reject_missing (import, table, row, f);
          else
            put_id (table, at);
        }
    }
  return TRUE;
}

static void
fill_values (const ExchangeTable *table, guint row, gboolean whole, BookValue *values)
{
  for (guint f = 0; f < table->record->n_fields; f++)
    {
      const BookField *field = &table->record->fields[f];

      values[f] = exchange_table_value (table, row, f);
      if (whole && values[f].type == STORE_UNCHANGED)
        values[f] = book_value_fallback (field);
    }
}

static gboolean
keep_outside (ExchangeImport *import, ExchangeTable *table, guint row, GError **error)
{
  const ExchangeText *text = table->kept != NULL ? table->kept[row] : NULL;

  if (text == NULL)
    return TRUE;
  return book_person_name_set (import->action, table->ids[row], text->length > 0 ? text->text : NULL, error);
}

/* Asks the rules of a row as it will stand in the book; FALSE only when the book cannot be read. */
static gboolean
ask_rules (ExchangeImport *import, ExchangeTable *table, guint row, const BookValue *values, GError **error)
{
  BookValue whole[BOOK_MAX_FIELDS];
  g_autoptr(BookRow) before = NULL;
  g_autoptr(GError) failure = NULL;
  const BookField *field = NULL;

  if (table->states[row] == EXCHANGE_ROW_CHANGES)
    {
      before = book_record_read (import->db, table->record, table->ids[row], error);
      if (before == NULL)
        return FALSE;
    }
  for (guint f = 0; f < table->record->n_fields; f++)
    whole[f] = values[f].type == STORE_UNCHANGED && before != NULL ? before->values[f] : values[f];
  if (!book_rules_check (import->rules, table->record, whole, &field, &failure))
    exchange_import_reject (import, table, row, field != NULL ? field->name : NULL, failure->message);
  return TRUE;
}

/* Writes one row that is good so far; notes what a rule says against it. */
static gboolean
write_row (ExchangeImport *import, ExchangeTable *table, guint row, GError **error)
{
  const BookRecord *record = table->record;
  BookValue values[BOOK_MAX_FIELDS];
  BookValue key[BOOK_MAX_KEY];
  gboolean is_new = table->states[row] == EXCHANGE_ROW_NEW;

  fill_values (table, row, is_new, values);
  if (import->with_rules && !ask_rules (import, table, row, values, error))
    return FALSE;
  if (table->states[row] == EXCHANGE_ROW_REJECTED)
    return TRUE;
  if (!exchange_import_store_contents (import, table, row, error))
    return FALSE;
  if (table->states[row] == EXCHANGE_ROW_REJECTED)
    return TRUE;
  if (!is_new)
    return book_record_update (import->action, record, table->ids[row], values, error)
           && keep_outside (import, table, row, error);
  if (!book_record_insert (import->action, record, values, &table->ids[row], error))
    return FALSE;
  if (import->keys[record->id] != NULL)
    {
      for (guint k = 0; k < record->n_key; k++)
        key[k] = values[table->key_fields[k]];
      book_keys_add (import->keys[record->id], key, table->ids[row]);
    }
  return keep_outside (import, table, row, error);
}

/* Whether all references of a row to its own record can be followed now. */
static gboolean
is_ready (ExchangeImport *import, ExchangeTable *table, guint row, gboolean *ready, GError **error)
{
  const BookRecord *record = table->record;

  *ready = TRUE;
  if (!table->has_own)
    return TRUE;
  for (guint f = 0; f < record->n_fields; f++)
    {
      gsize at = (gsize) row * record->n_fields + f;

      if (table->types[at] != EXCHANGE_CELL_REFERENCE || !is_own (record, &record->fields[f]))
        continue;
      if (table->bits[at].text->state == EXCHANGE_REFERENCE_MISSING)
        table->bits[at].text->state = EXCHANGE_REFERENCE_OPEN; /* its row may have been written meanwhile */
      if (!exchange_import_resolve (import, &record->fields[f], table->bits[at].text, error))
        return FALSE;
      if (table->bits[at].text->state == EXCHANGE_REFERENCE_FOUND)
        put_id (table, at);
      else
        *ready = FALSE;
    }
  return TRUE;
}

static gboolean
count_done (ExchangeImport *import, GError **error)
{
  import->done_rows++;
  import->written_rows++;
  if (import->written_rows % SPLIT_EVERY == 0 && !store_action_split (import->action, error))
    return FALSE;
  return import->written_rows % ASK_EVERY != 0 || exchange_import_tell (import, error);
}

static void
fetch_ahead (const ExchangeTable *table, guint row)
{
  gsize at = (gsize) row * table->record->n_fields;
  const char *bits = (const char *) &table->bits[at];

  for (gsize i = 0; i < table->record->n_fields * sizeof (ExchangeBits); i += 64)
    __builtin_prefetch (bits + i);
  __builtin_prefetch (&table->types[at]);
}

/* A row that refers to its own record waits until that one is written; rounds go on while one is. */
static gboolean
write_rows (ExchangeImport *import, ExchangeTable *table, GError **error)
{
  guint n;
  g_autofree guint32 *order = exchange_import_order (table, &n);
  guint waiting = n;
  gboolean progress = TRUE;

  while (waiting > 0 && progress)
    {
      guint still = 0;

      progress = FALSE;
      for (guint i = 0; i < waiting; i++)
        {
          gboolean ready;

          if (i + AHEAD < waiting)
            fetch_ahead (table, order[i + AHEAD]);
          if (!is_ready (import, table, order[i], &ready, error))
            return FALSE;
          if (!ready)
            {
              order[still++] = order[i];
              continue;
            }
          progress = TRUE;
          if (!write_row (import, table, order[i], error) || !count_done (import, error))
            return FALSE;
        }
      waiting = still;
    }
  remember_rejected (import, table);
  for (guint i = 0; i < waiting; i++)
    for (guint f = 0; f < table->record->n_fields; f++)
      {
        gsize at = (gsize) order[i] * table->record->n_fields + f;

        if (table->types[at] == EXCHANGE_CELL_REFERENCE && table->bits[at].text->state == EXCHANGE_REFERENCE_MISSING)
          reject_missing (import, table, order[i], f);
      }
  return TRUE;
}

/* Of rows in memory only those that need the column are wrong. */
static void
reject_lacking (ExchangeImport *import, ExchangeTable *table, const ExchangeSource *source)
{
  for (guint row = source->first_row; row < source->first_row + source->n_rows; row++)
    for (guint f = 0; f < table->record->n_fields && table->states[row] == EXCHANGE_ROW_NEW; f++)
      if (table->record->fields[f].required && table->record->fields[f].fallback == NULL && !source->plans[f].is_present)
        exchange_import_reject (import, table, row, table->record->fields[f].name,
                                _("no column gives it, but a row that is new in the book needs it"));
}

static void
check_required (ExchangeImport *import, ExchangeTable *table)
{
  for (guint i = 0; i < table->sources->len; i++)
    {
      ExchangeSource *source = g_ptr_array_index (table->sources, i);
      gboolean any_new = FALSE;

      if (import->rows != NULL)
        {
          if (source->lacks_required)
            reject_lacking (import, table, source);
          continue;
        }
      for (guint row = source->first_row;
           row < source->first_row + source->n_rows && source->lacks_required && !any_new; row++)
        any_new = table->states[row] == EXCHANGE_ROW_NEW;
      for (guint f = 0; f < table->record->n_fields && any_new; f++)
        if (table->record->fields[f].required && table->record->fields[f].fallback == NULL
            && !source->plans[f].is_present)
          exchange_import_problem (import, source, 1, table->record->fields[f].name,
                                   _("the column is missing: rows that the book does not have yet need it"));
    }
}

static void
count_rows (ExchangeTable *table)
{
  for (guint i = 0; i < table->sources->len; i++)
    {
      ExchangeSource *source = g_ptr_array_index (table->sources, i);

      for (guint row = source->first_row; row < source->first_row + source->n_rows; row++)
        switch ((ExchangeRowState) table->states[row])
          {
          case EXCHANGE_ROW_NEW:
            source->report->inserted++;
            break;
          case EXCHANGE_ROW_EQUAL:
            source->report->equal++;
            break;
          case EXCHANGE_ROW_CHANGES:
            source->report->updated++;
            break;
          case EXCHANGE_ROW_REJECTED:
            source->report->rejected++;
            break;
          }
    }
}

/**
 * exchange_import_table:
 * @import: the import, in its second half
 * @table: all rows of one record
 *
 * Resolves, matches, checks and writes the rows. Wrong rows are noted, the others written: an import that does not keep
 * good rows is rolled back as a whole at its end.
 *
 * Returns: %FALSE when the book fails or the import was cancelled
 */
gboolean
exchange_import_table (ExchangeImport *import, ExchangeTable *table, GError **error)
{
  guint before = import->done_rows;

  for (guint k = 0; k < table->record->n_key; k++)
    table->key_fields[k] = book_field_index (table->record, table->record->key[k]);
  for (guint f = 0; f < table->record->n_fields; f++)
    table->has_own = table->has_own || is_own (table->record, &table->record->fields[f]);
  if (!resolve_rows (import, table, error) || !exchange_import_match (import, table, error))
    return FALSE;
  check_required (import, table);
  g_clear_pointer (&table->buckets, g_free);
  if (import->n_file_problems == 0 && !write_rows (import, table, error))
    return FALSE;
  remember_rejected (import, table);
  count_rows (table);
  import->done_rows = before + table->n_rows;
  return TRUE;
}
