/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The canonical export. The bytes depend on the records alone, never on keys, on the order of entry or on the journal,
 * so that two books with the same records give the same files.
 */
#include "config.h"

#include "exchange-export.h"

#include "book-attach.h"
#include "exchange-csv.h"
#include "exchange-error.h"
#include "exchange-key-cells-private.h"
#include "store-content.h"
#include "store-reader.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define FLUSH_BYTES (1024 * 1024)
#define ASK_EVERY 4096

typedef struct
{
  const char   *folder;
  GCancellable *cancellable;
  StoreDb      *db;
  BookKeys     *keys[BOOK_N_RECORDS + 1];
  GHashTable   *cells; /* id of a record to its key cells, separators between; dropped when it grows */
  GHashTable   *contents; /* SHA-256 of the files to be written to the key of an attachment, or 0 */
  GPtrArray    *written;  /* paths, taken away on failure */
} Export;

/* The file being written. */
typedef struct
{
  Export           *export;
  const BookRecord *record;
  BookCsvColumn     columns[BOOK_MAX_FIELDS * 2];
  guint             n_columns;
  int               place[BOOK_MAX_FIELDS][BOOK_MAX_KEY]; /* column of each key cell of each field */
  guint             n_places[BOOK_MAX_FIELDS];
  int               last_place[BOOK_MAX_FIELDS];
  GString          *out;
  GString          *row_cells[BOOK_MAX_FIELDS * 2];
  gboolean          filled[BOOK_MAX_FIELDS * 2];
  FILE             *file;
  const char       *path;
  guint             n;
} Sheet;

static gboolean
fail_write (const char *path, GError **error)
{
  g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the file cannot be written: %s"), path,
               g_strerror (errno));
  return FALSE;
}

static gboolean
flush (Sheet *sheet, GError **error)
{
  if (fwrite (sheet->out->str, 1, sheet->out->len, sheet->file) != sheet->out->len)
    return fail_write (sheet->path, error);
  g_string_truncate (sheet->out, 0);
  return TRUE;
}

static gboolean
put_reference (Sheet *sheet, guint f, const BookValue *value, GError **error)
{
  const BookField *field = &sheet->record->fields[f];
  gint64 id = value->type == SQLITE_INTEGER ? value->integer : 0;
  GString *cells = NULL;
  const char *cell;

  if (id == 0)
    return TRUE;
  cells = g_hash_table_lookup (sheet->export->cells, &id);
  if (cells == NULL)
    {
      cells = g_string_new (NULL);
      if (!exchange_key_cells_append (sheet->export->db, sheet->export->keys, book_record (field->refers), id, cells,
                                      error))
        {
          g_string_free (cells, TRUE);
          return FALSE;
        }
      if (g_hash_table_size (sheet->export->cells) > 200000)
        g_hash_table_remove_all (sheet->export->cells);
      g_hash_table_insert (sheet->export->cells, g_memdup2 (&id, sizeof id), cells);
    }
  cell = cells->str;
  for (guint i = 0; i < sheet->n_places[f]; i++, cell += strlen (cell) + 1)
    {
      int at = sheet->place[f][i];

      if (sheet->filled[at] && sheet->row_cells[at]->len > 0)
        continue; /* shared with a field before it, which names the same record */
      g_string_assign (sheet->row_cells[at], cell);
      sheet->filled[at] = TRUE;
    }
  return TRUE;
}

static gboolean
put_value (Sheet *sheet, guint f, const BookRow *row, GError **error)
{
  const BookField *field = &sheet->record->fields[f];
  const BookValue *value = &row->values[f];
  GString *cell = sheet->row_cells[sheet->last_place[f]];

  if (field->kind == BOOK_KIND_REFERENCE)
    return put_reference (sheet, f, value, error);
  if (field->kind == BOOK_KIND_ANY)
    {
      const BookRecord *target = row->values[f - 1].type == SQLITE_INTEGER
                                     ? book_record ((BookRecordId) row->values[f - 1].integer)
                                     : NULL;
      g_autofree char *text = NULL;

      if (value->type != SQLITE_INTEGER || target == NULL)
        return TRUE;
      text = book_record_key_text (sheet->export->db, target, value->integer, BOOK_KEY_TEXT_EXACT, error);
      if (text == NULL)
        return FALSE;
      g_string_assign (cell, text);
      return TRUE;
    }
  book_value_append (cell, field, value);
  if (field->kind == BOOK_KIND_CONTENT && value->type == SQLITE_TEXT)
    {
      gint64 attachment = sheet->record->id == BOOK_RECORD_ATTACHMENT ? row->id : 0;

      g_hash_table_replace (sheet->export->contents, g_strndup (value->text, value->length), g_memdup2 (&attachment, sizeof attachment));
    }
  return TRUE;
}

static gboolean
write_row (const BookRow *row, gpointer data, GError **error)
{
  Sheet *sheet = data;

  if (++sheet->n % ASK_EVERY == 0 && g_cancellable_set_error_if_cancelled (sheet->export->cancellable, error))
    return FALSE;
  for (guint c = 0; c < sheet->n_columns; c++)
    {
      g_string_truncate (sheet->row_cells[c], 0);
      sheet->filled[c] = FALSE;
    }
  for (guint f = 0; f < sheet->record->n_fields; f++)
    if (!put_value (sheet, f, row, error))
      return FALSE;
  if (sheet->record->kept != NULL)
    {
      g_autofree char *kept = NULL;

      if (!book_person_name_read (sheet->export->db, row->id, &kept, error))
        return FALSE;
      g_string_assign (sheet->row_cells[sheet->n_columns - 1], kept != NULL ? kept : "");
    }
  for (guint c = 0; c < sheet->n_columns; c++)
    {
      if (c > 0)
        g_string_append_c (sheet->out, ',');
      exchange_csv_write_field (sheet->out, sheet->row_cells[c]->str, sheet->row_cells[c]->len, ',');
    }
  g_string_append_c (sheet->out, '\n');
  return sheet->out->len < FLUSH_BYTES || flush (sheet, error);
}

static int
find_column (const Sheet *sheet, const char *name)
{
  for (guint c = 0; c < sheet->n_columns; c++)
    if (strcmp (sheet->columns[c].name, name) == 0)
      return (int) c;
  g_assert_not_reached ();
}

static void
sheet_init (Sheet *sheet)
{
  sheet->n_columns = book_record_csv_columns (sheet->record, sheet->columns);
  for (guint f = 0; f < sheet->record->n_fields; f++)
    {
      BookCsvColumn parts[BOOK_MAX_KEY];

      sheet->n_places[f] = book_field_csv_columns (sheet->record, &sheet->record->fields[f], parts);
      for (guint i = 0; i < sheet->n_places[f]; i++)
        sheet->place[f][i] = find_column (sheet, parts[i].name);
      sheet->last_place[f] = sheet->place[f][sheet->n_places[f] - 1];
    }
  sheet->out = g_string_new (NULL);
  for (guint c = 0; c < sheet->n_columns; c++)
    {
      sheet->row_cells[c] = g_string_new (NULL);
      if (c > 0)
        g_string_append_c (sheet->out, ',');
      g_string_append (sheet->out, sheet->columns[c].name);
    }
  g_string_append_c (sheet->out, '\n');
}

static void
sheet_clear (Sheet *sheet)
{
  for (guint c = 0; c < sheet->n_columns; c++)
    g_string_free (sheet->row_cells[c], TRUE);
  g_string_free (sheet->out, TRUE);
  if (sheet->file != NULL)
    fclose (sheet->file);
}

static gboolean
export_record (Export *self, const BookRecord *record, GError **error)
{
  g_autofree char *name = g_strconcat (record->name, ".csv", NULL);
  g_autofree char *path = g_build_filename (self->folder, name, NULL);
  Sheet sheet = { .export = self, .record = record, .path = path };
  gboolean good;

  sheet.file = g_fopen (path, "wbxe");
  if (sheet.file == NULL)
    return fail_write (path, error);
  g_ptr_array_add (self->written, g_strdup (path));
  sheet_init (&sheet);
  good = book_record_each_by_key (self->db, record, write_row, &sheet, error) && flush (&sheet, error);
  if (good && fclose (g_steal_pointer (&sheet.file)) != 0)
    good = fail_write (path, error);
  sheet_clear (&sheet);
  return good;
}

static gboolean
export_contents (Export *self, GError **error)
{
  g_autofree char *folder = g_build_filename (self->folder, "files", NULL);
  GHashTableIter iter;
  gpointer sha256, attachment;

  if (g_hash_table_size (self->contents) == 0)
    return TRUE;
  if (g_mkdir_with_parents (folder, 0777) != 0)
    return fail_write (folder, error);
  g_hash_table_iter_init (&iter, self->contents);
  while (g_hash_table_iter_next (&iter, &sha256, &attachment))
    {
      g_autofree char *path = g_build_filename (folder, (const char *) sha256, NULL);
      /* An attachment is named with its owner when its file is missing or was altered. */
      gint64 id = *(const gint64 *) attachment;
      g_autoptr(GBytes) bytes = id != 0 ? book_attachment_read (self->db, id, NULL, error) : store_content_read (self->db, sha256, error);
      g_autoptr(GError) failure = NULL;
      gconstpointer data;
      gsize length;

      if (bytes == NULL)
        return FALSE;
      data = g_bytes_get_data (bytes, &length);
      if (!g_file_set_contents (path, data != NULL ? data : "", (gssize) length, &failure))
        {
          g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the file cannot be written: %s"), path,
                       failure->message);
          return FALSE;
        }
      g_ptr_array_add (self->written, g_steal_pointer (&path));
      if (g_cancellable_set_error_if_cancelled (self->cancellable, error))
        return FALSE;
    }
  return TRUE;
}

static void
string_free (gpointer data)
{
  g_string_free (data, TRUE);
}

static gpointer
export_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  Export *self = data;
  gboolean good = TRUE;

  self->db = db;
  self->cells = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, string_free);
  self->contents = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  for (guint i = 0; i < BOOK_N_RECORDS && good; i++)
    good = export_record (self, book_record_in_order (i), error);
  good = good && export_contents (self, error);
  for (guint id = 0; id <= BOOK_N_RECORDS; id++)
    g_clear_pointer (&self->keys[id], book_keys_free);
  g_clear_pointer (&self->cells, g_hash_table_unref);
  g_clear_pointer (&self->contents, g_hash_table_unref);
  return good ? self : NULL;
}

/* The folder must not hold CSV files of ours already: an old file beside new ones would be imported with them. */
static gboolean
prepare_folder (const char *folder, GError **error)
{
  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the folder cannot be made: %s"), folder,
                   g_strerror (errno));
      return FALSE;
    }
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      g_autofree char *name = g_strconcat (book_record_in_order (i)->name, ".csv", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_EXISTS))
        {
          g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH,
                       _("%s: the file is there already: export into an empty folder"), path);
          return FALSE;
        }
    }
  return TRUE;
}

/**
 * exchange_export:
 * @book: a book
 * @folder: where; made when it is not there. No file of an earlier export may lie in it
 * @cancellable: (nullable): stops, with the files written so far taken away
 * @error: return location
 *
 * Writes every kind of record as `RECORD.csv`: UTF-8 without mark, line feeds, commas, columns in the description's
 * order, rows by visible key, the shortest decimals that read back equal, quotes only where needed; attached files and
 * frozen evidence as `files/SHA-256`. Importing the folder into a new book and exporting again gives the same bytes.
 *
 * Blocks; never to be called from a window's main thread.
 *
 * Returns: whether all of it was written; otherwise nothing is left behind
 */
gboolean
exchange_export (Book *book, const char *folder, GCancellable *cancellable, GError **error)
{
  Export self = { .folder = folder, .cancellable = cancellable };
  g_autoptr(StoreReader) reader = NULL;
  g_autoptr(GPtrArray) written = g_ptr_array_new_with_free_func (g_free);
  gboolean good;

  self.written = written;
  if (!prepare_folder (folder, error))
    return FALSE;
  reader = store_reader_new (book_get_store (book), error);
  if (reader == NULL)
    return FALSE;
  good = store_reader_run (reader, export_work, &self, cancellable, error) != NULL;
  for (guint i = 0; i < written->len && !good; i++)
    g_unlink (g_ptr_array_index (written, i));
  return good;
}
