/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-key-cells-private.h"

#include <glib/gi18n-lib.h>

/**
 * exchange_key_cells_append:
 * @db: a connection
 * @keys: (array): the visible keys by #BookRecordId; loaded where still %NULL
 * @record: a record
 * @id: a row of it; 0 for empty cells
 * @cells: where the cells are appended, a zero byte behind each
 * @error: return location
 *
 * The key cells of a row in the order of book_field_csv_columns(); a key that holds a reference nests.
 *
 * Returns: %FALSE when the book cannot be read or refers to a row that is not there
 */
gboolean
exchange_key_cells_append (StoreDb *db, BookKeys **keys, const BookRecord *record, gint64 id, GString *cells,
                           GError **error)
{
  BookValue key[BOOK_MAX_KEY];

  if (keys[record->id] == NULL)
    keys[record->id] = book_keys_load (db, record, error);
  if (keys[record->id] == NULL)
    return FALSE;
  if (id != 0 && !book_keys_get (keys[record->id], id, key))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("The book refers to a row of '%s' that is not there: run the check."), record->name);
      return FALSE;
    }
  for (guint k = 0; k < record->n_key; k++)
    {
      const BookField *field = book_field_find (record, record->key[k]);

      if (field->kind == BOOK_KIND_REFERENCE)
        {
          gint64 part = id != 0 && key[k].type == SQLITE_INTEGER ? key[k].integer : 0;

          if (!exchange_key_cells_append (db, keys, book_record (field->refers), part, cells, error))
            return FALSE;
          continue;
        }
      if (id != 0)
        book_value_append (cells, field, &key[k]);
      g_string_append_c (cells, '\0');
    }
  return TRUE;
}
