/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * `FILE.rejected.csv`: the rejected rows as they stood, with the reason in a last column. They are written before the
 * commit, so that no good row is stored without the others having been kept, and taken away again when it fails.
 */
#include "config.h"

#include "exchange-import-private.h"

#include "exchange-error.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

static void
append_row (GString *out, const ExchangeCsvRow *row, const ExchangeCsv *csv, int reason_at, const char *reason)
{
  char separator = exchange_csv_get_separator (csv);

  for (guint i = 0; i < row->n_fields; i++)
    {
      if ((int) i == reason_at)
        continue;
      exchange_csv_write_field (out, row->fields[i].text, row->fields[i].length, separator);
      g_string_append_c (out, separator);
    }
  exchange_csv_write_field (out, reason, strlen (reason), separator);
  g_string_append_c (out, '\n');
}

static int
append_header (GString *out, const ExchangeCsv *csv)
{
  int reason_at = -1;

  for (guint i = 0; i < exchange_csv_count_columns (csv); i++)
    {
      const char *name = exchange_csv_get_column (csv, i);

      if (strcmp (name, EXCHANGE_REASON_COLUMN) == 0)
        {
          reason_at = (int) i;
          continue;
        }
      exchange_csv_write_field (out, name, strlen (name), exchange_csv_get_separator (csv));
      g_string_append_c (out, exchange_csv_get_separator (csv));
    }
  g_string_append (out, EXCHANGE_REASON_COLUMN "\n");
  return reason_at;
}

static gboolean
write_rejected (ExchangeImport *import, const ExchangeTable *table, ExchangeSource *source, GError **error)
{
  g_autoptr(ExchangeCsv) csv = exchange_csv_open (source->path, error);
  g_autoptr(GString) out = g_string_new (NULL);
  g_autofree char *path = g_strconcat (source->path, ".rejected.csv", NULL);
  g_autoptr(GError) failure = NULL;
  const ExchangeCsvRow *row;
  int reason_at;

  if (csv == NULL)
    return FALSE;
  reason_at = append_header (out, csv);
  for (guint index = source->first_row; index < source->first_row + source->n_rows; index++)
    {
      const char *reason = g_hash_table_lookup (import->reasons,
                                                GSIZE_TO_POINTER (((gsize) index << 8) | table->record->id));

      if (!exchange_csv_next (csv, &row, error))
        return FALSE;
      if (row == NULL)
        break;
      if (table->states[index] == EXCHANGE_ROW_REJECTED)
        append_row (out, row, csv, reason_at, reason != NULL ? reason : "");
    }
  if (!g_file_set_contents (path, out->str, (gssize) out->len, &failure))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE,
                   _("%s: the rejected rows cannot be written, so nothing was stored: %s"), path, failure->message);
      return FALSE;
    }
  source->report->rejected_path = g_steal_pointer (&path);
  return TRUE;
}

gboolean
exchange_import_write_rejected (ExchangeImport *import, GError **error)
{
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const ExchangeTable *table = import->tables[id];

      for (guint i = 0; table != NULL && i < table->sources->len; i++)
        {
          ExchangeSource *source = g_ptr_array_index (table->sources, i);

          if (source->report->rejected > 0 && !write_rejected (import, table, source, error))
            return FALSE;
        }
    }
  return TRUE;
}

void
exchange_import_remove_rejected (ExchangeImport *import)
{
  for (guint i = 0; i < import->report->files->len; i++)
    {
      ExchangeImportFile *file = g_ptr_array_index (import->report->files, i);

      if (file->rejected_path != NULL)
        g_unlink (file->rejected_path);
      g_clear_pointer (&file->rejected_path, g_free);
    }
}
