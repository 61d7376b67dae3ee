/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stored files of an import, which lie beside its CSV files. */
#include "config.h"

#include "exchange-import-private.h"

#include "store-content.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* A size that the file does not have would stand in the book for good. */
static void
check_size (ExchangeImport *import, ExchangeTable *table, guint row, gsize length)
{
  int f = book_field_index (table->record, "size");
  g_autofree char *what = NULL;
  BookValue size;

  if (f < 0)
    return;
  size = exchange_table_value (table, row, (guint) f);
  if (size.type != SQLITE_INTEGER || (gsize) size.integer == length)
    return;
  what = g_strdup_printf (_("the file has %u bytes: correct the cell"), (guint) length);
  exchange_import_reject (import, table, row, "size", what);
}

static gboolean
is_of_name (GBytes *bytes, const char *sha256)
{
  g_autofree char *got = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);

  return strcmp (got, sha256) == 0;
}

static gboolean
add_content (ExchangeImport *import, GBytes *bytes, GError **error)
{
  g_autofree char *sha256 = NULL;

  return store_content_add (import->action, bytes, &sha256, error);
}

/* The bytes of a stored file stand beside the CSV file, named by their SHA-256. */
static gboolean
store_content (ExchangeImport *import, ExchangeTable *table, guint row, const BookField *field, const char *sha256,
               GError **error)
{
  g_autofree char *folder = g_path_get_dirname (exchange_table_source (table, row)->path);
  g_autofree char *path = g_build_filename (folder, "files", sha256, NULL);
  g_autofree char *what = NULL;
  g_autoptr(GError) failure = NULL;
  g_autoptr(GMappedFile) file = g_mapped_file_new (path, FALSE, NULL);
  g_autoptr(GBytes) bytes = NULL;

  if (file == NULL)
    {
      bytes = store_content_read (import->db, sha256, NULL);
      if (bytes == NULL)
        {
          what = g_strdup_printf (_("the file %s cannot be read: put it there, or leave the cell empty"), path);
          exchange_import_reject (import, table, row, field->name, what);
        }
      return TRUE;
    }
  bytes = g_mapped_file_get_bytes (file);
  if (!is_of_name (bytes, sha256))
    {
      what = g_strdup_printf (_("the file %s is not the one that was exported: its SHA-256 is another"), path);
      exchange_import_reject (import, table, row, field->name, what);
      return TRUE;
    }
  if (add_content (import, bytes, &failure))
    {
      check_size (import, table, row, g_bytes_get_size (bytes));
      return TRUE;
    }
  if (g_error_matches (failure, STORE_ERROR, STORE_ERROR_TOO_LARGE))
    {
      exchange_import_reject (import, table, row, field->name, failure->message);
      return TRUE;
    }
  g_propagate_error (error, g_steal_pointer (&failure));
  return FALSE;
}

/**
 * exchange_import_store_contents:
 * @import: the import, in its second half
 * @table: all rows of one record
 * @row: one that is good so far
 * @error: return location
 *
 * Stores the files that a row names; a file that is missing or another than was exported is noted against the row.
 *
 * Returns: %FALSE when the book fails
 */
gboolean
exchange_import_store_contents (ExchangeImport *import, ExchangeTable *table, guint row, GError **error)
{
  const BookRecord *record = table->record;

  for (guint f = 0; f < record->n_fields; f++)
    {
      BookValue value;

      if (record->fields[f].kind != BOOK_KIND_CONTENT)
        continue;
      value = exchange_table_value (table, row, f);
      if (value.type == SQLITE_TEXT && !store_content (import, table, row, &record->fields[f], value.text, error))
        return FALSE;
    }
  return TRUE;
}
