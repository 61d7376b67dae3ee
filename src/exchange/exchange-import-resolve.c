/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * References of an import: from the key cells of a row to the id of what they name. The cells stand in one text, a zero
 * byte between them, in the order of book_field_csv_columns(); a key that holds a reference nests.
 */
#include "config.h"

#include "exchange-import-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Where looking up a key ended without a row. */
typedef struct
{
  const BookRecord *record;
  const char       *cells;   /* the first cell of its key */
  guint             n_cells;
  guint             column;  /* index of its last cell among all cells */
} Lack;

static const char *
next_cell (const char *cell)
{
  return cell + strlen (cell) + 1;
}

/**
 * exchange_import_keys:
 * @import: the import, in its second half
 * @record: a record
 *
 * All visible keys of a record, those of rows written by this import among them. Loaded when first asked for.
 *
 * Returns: (transfer none) (nullable): the keys
 */
BookKeys *
exchange_import_keys (ExchangeImport *import, const BookRecord *record, GError **error)
{
  if (import->keys[record->id] == NULL)
    import->keys[record->id] = book_keys_load (import->db, record, error);
  return import->keys[record->id];
}

static guint
count_cells (const BookRecord *record)
{
  guint n = 0;

  for (guint k = 0; k < record->n_key; k++)
    {
      const BookField *field = book_field_find (record, record->key[k]);

      n += field->kind == BOOK_KIND_REFERENCE ? count_cells (book_record (field->refers)) : 1;
    }
  return n;
}

static gboolean
last_cell_is_empty (const char *cells, guint n)
{
  while (--n > 0)
    cells = next_cell (cells);
  return *cells == '\0';
}

/* @id is 0 and @lack filled where there is no such row; FALSE only when the book cannot be read. */
static gboolean
look_up (ExchangeImport *import, const BookRecord *record, const char **cell, guint *column, gint64 *id, Lack *lack,
         GError **error)
{
  BookKeys *keys = exchange_import_keys (import, record, error);
  BookValue key[BOOK_MAX_KEY];
  Lack here = { record, *cell, 0, 0 };
  guint first = *column;
  gboolean readable = TRUE;

  *id = 0;
  if (keys == NULL)
    return FALSE;
  for (guint k = 0; k < record->n_key; k++)
    {
      const BookField *field = book_field_find (record, record->key[k]);
      const BookRecord *target = field->kind == BOOK_KIND_REFERENCE ? book_record (field->refers) : NULL;
      guint n = target != NULL ? count_cells (target) : 1;
      gint64 part = 0;

      key[k] = BOOK_VALUE_EMPTY;
      if (last_cell_is_empty (*cell, n))
        for (guint i = 0; i < n; i++)
          {
            *cell = next_cell (*cell);
            (*column)++;
          }
      else if (target != NULL)
        {
          if (!look_up (import, target, cell, column, &part, lack, error))
            return FALSE;
          if (part == 0)
            return TRUE;
          key[k] = book_value_integer (part);
        }
      else
        {
          readable = book_value_parse (field, *cell, -1, FALSE, &key[k], NULL) && readable;
          *cell = next_cell (*cell);
          (*column)++;
        }
    }
  here.n_cells = *column - first;
  here.column = *column - 1;
  *lack = here;
  *id = readable ? book_keys_find (keys, key) : 0;
  return TRUE;
}

/**
 * exchange_import_resolve:
 * @import: the import, in its second half
 * @field: a field of kind reference
 * @text: what a row refers to by it; its state and id are set
 *
 * Looks up what a text names, once.
 *
 * Returns: %FALSE only when the book cannot be read; a text that names nothing is a state
 */
gboolean
exchange_import_resolve (ExchangeImport *import, const BookField *field, ExchangeText *text, GError **error)
{
  const char *cell = text->text + 1;
  guint column = 0;
  Lack lack;

  if (text->state != EXCHANGE_REFERENCE_OPEN)
    return TRUE;
  if (!look_up (import, book_record (field->refers), &cell, &column, &text->id, &lack, error))
    return FALSE;
  text->state = text->id != 0 ? EXCHANGE_REFERENCE_FOUND : EXCHANGE_REFERENCE_MISSING;
  return TRUE;
}

/* The cells with '/' between them, for people. */
static char *
show_cells (const Lack *lack)
{
  GString *shown = g_string_new (NULL);
  const char *cell = lack->cells;

  for (guint i = 0; i < lack->n_cells; i++, cell = next_cell (cell))
    {
      if (i > 0)
        g_string_append_c (shown, '/');
      g_string_append (shown, cell);
    }
  return g_string_free (shown, FALSE);
}

/* Where the row that the cells name was rejected, if it was. */
static const char *
find_rejected (ExchangeImport *import, const Lack *lack)
{
  const ExchangeTable *table = import->tables[lack->record->id];
  g_autoptr(GString) joined = g_string_new (NULL);
  const char *cell = lack->cells;
  const ExchangeText *known;

  if (table == NULL || table->rejected_keys == NULL)
    return NULL;
  g_string_append_c (joined, (char) lack->record->id);
  for (guint i = 0; i < lack->n_cells; i++, cell = next_cell (cell))
    {
      if (i > 0)
        g_string_append_c (joined, '\0');
      g_string_append (joined, cell);
    }
  known = exchange_pool_find (import->pool, joined->str, joined->len);
  return known != NULL ? g_hash_table_lookup (table->rejected_keys, known) : NULL;
}

/**
 * exchange_import_why_missing:
 * @import: the import, in its second half
 * @record: the record that refers
 * @field: by which field
 * @text: a text that names nothing
 * @column: (out): the column to be mended; static
 *
 * Returns: (transfer full): a sentence without place
 */
char *
exchange_import_why_missing (ExchangeImport *import, const BookRecord *record, const BookField *field,
                             const ExchangeText *text, const char **column)
{
  BookCsvColumn columns[BOOK_MAX_KEY];
  const char *cell = text->text + 1;
  g_autofree char *shown = NULL;
  const char *rejected;
  guint n = 0;
  gint64 id;
  Lack lack = { 0 };

  book_field_csv_columns (record, field, columns);
  *column = field->name;
  if (!look_up (import, book_record (field->refers), &cell, &n, &id, &lack, NULL) || lack.record == NULL)
    return g_strdup (_("what the row refers to could not be looked up"));
  *column = columns[lack.column].name;
  shown = show_cells (&lack);
  rejected = find_rejected (import, &lack);
  if (rejected != NULL)
    return g_strdup_printf (_("the row refers to the %s '%s', which was rejected at %s"), lack.record->name, shown,
                            rejected);
  return g_strdup_printf (_("there is no %s '%s' in the book or in the files: mend the cell or import it too"),
                          lack.record->name, shown);
}
