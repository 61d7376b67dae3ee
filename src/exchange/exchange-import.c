/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The call as a whole: which files, in which order, what is said about them. See exchange-import-private.h. */
#include "config.h"

#include "exchange-import-private.h"

#include "exchange-error.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define MOST_PROBLEMS 1000
#define KEPT_PROBLEMS 20 /* times as many are kept until they are sorted by place */

static void
problem_clear (gpointer data)
{
  g_free (((ExchangeProblem *) data)->text);
}

static void
file_free (gpointer data)
{
  ExchangeImportFile *file = data;

  g_free (file->path);
  g_free (file->rejected_path);
  g_free (file);
}

static void
source_free (gpointer data)
{
  g_free (data);
}

static void
table_free (ExchangeTable *table)
{
  if (table == NULL)
    return;
  g_ptr_array_unref (table->sources);
  g_free (table->bits);
  g_free (table->types);
  g_free (table->lines);
  g_free (table->states);
  g_free (table->ids);
  g_free (table->kept);
  g_free (table->buckets);
  g_clear_pointer (&table->rejected_keys, g_hash_table_unref);
  g_free (table);
}

static void
import_clear (ExchangeImport *import)
{
  for (guint id = 0; id <= BOOK_N_RECORDS; id++)
    {
      table_free (import->tables[id]);
      g_clear_pointer (&import->keys[id], book_keys_free);
    }
  g_clear_pointer (&import->pool, exchange_pool_free);
  g_clear_pointer (&import->texts, exchange_pool_free);
  g_clear_pointer (&import->problems, g_array_unref);
  g_clear_pointer (&import->reasons, g_hash_table_unref);
}

static guint
most_problems (const ExchangeImport *import)
{
  return import->options->most_problems > 0 ? import->options->most_problems : MOST_PROBLEMS;
}

static guint
order_of (const ExchangeImport *import, const ExchangeSource *source)
{
  guint order = 0;

  g_ptr_array_find (import->report->files, source->report, &order);
  return order;
}

static void
add_problem (ExchangeImport *import, const ExchangeSource *source, guint line, char *text)
{
  ExchangeProblem problem = { order_of (import, source), line, text };

  import->n_problems++;
  if (import->problems->len < most_problems (import) * KEPT_PROBLEMS)
    g_array_append_val (import->problems, problem);
  else
    g_free (text);
}

/* Places stand in front and nothing behind: the full stop of a sentence that came from the book is left away. */
static char *
place_sentence (const ExchangeSource *source, guint line, const char *column, const char *what)
{
  int length = (int) strlen (what);

  if (g_str_has_suffix (what, "."))
    length--;
  if (column != NULL)
    return g_strdup_printf ("%s:%u: %s: %.*s", source->path, line, column, length, what);
  return g_strdup_printf ("%s:%u: %.*s", source->path, line, length, what);
}

/* About a whole file. With line 0, @what is the whole sentence. */
void
exchange_import_problem (ExchangeImport *import, ExchangeSource *source, guint line, const char *column,
                         const char *what)
{
  import->n_file_problems++;
  add_problem (import, source, line, line > 0 ? place_sentence (source, line, column, what) : g_strdup (what));
}

gboolean
exchange_import_tell (ExchangeImport *import, GError **error)
{
  guint64 rest = 1000 - EXCHANGE_READ_PERMILLE;
  guint64 done = EXCHANGE_READ_PERMILLE + import->done_rows * rest / MAX (import->total_rows, 1);

  return store_action_progress (import->action, done, 1000, error);
}

static gpointer
reason_key (guint row, const ExchangeTable *table)
{
  return GSIZE_TO_POINTER (((gsize) row << 8) | table->record->id);
}

void
exchange_import_reject (ExchangeImport *import, ExchangeTable *table, guint row, const char *column, const char *what)
{
  ExchangeSource *source = exchange_table_source (table, row);

  add_problem (import, source, table->lines[row], place_sentence (source, table->lines[row], column, what));
  if (table->states[row] != EXCHANGE_ROW_REJECTED)
    {
      table->states[row] = EXCHANGE_ROW_REJECTED;
      import->n_rejected++;
    }
  if (import->rows != NULL)
    import->rows->refused (row, column, what, import->rows->data);
  if (import->reasons != NULL)
    {
      const char *before = g_hash_table_lookup (import->reasons, reason_key (row, table));
      char *reason = column != NULL ? g_strdup_printf ("%s: %s", column, what) : g_strdup (what);

      if (before != NULL)
        {
          char *both = g_strdup_printf ("%s; %s", before, reason);

          g_free (reason);
          reason = both;
        }
      g_hash_table_insert (import->reasons, reason_key (row, table), reason);
    }
}

static gboolean
add_file (ExchangeImport *import, const char *path, const BookRecord *record)
{
  ExchangeTable *table = import->tables[record->id];
  ExchangeSource *source = g_new0 (ExchangeSource, 1);
  GStatBuf status;

  if (import->rows != NULL)
    source->bytes = import->rows->n_rows;
  else if (g_stat (path, &status) == 0 && status.st_size > 0)
    source->bytes = (guint64) status.st_size;
  import->total_bytes += source->bytes;
  if (table == NULL)
    {
      table = import->tables[record->id] = g_new0 (ExchangeTable, 1);
      table->record = record;
      table->sources = g_ptr_array_new_with_free_func (source_free);
    }
  source->report = g_new0 (ExchangeImportFile, 1);
  source->report->path = g_strdup (path);
  source->report->record = record;
  source->path = source->report->path;
  g_ptr_array_add (import->report->files, source->report);
  g_ptr_array_add (table->sources, source);
  return TRUE;
}

/* `reading.csv` and `reading.csv.rejected.csv` both hold readings. */
static const BookRecord *
record_of_path (const char *path, GError **error)
{
  g_autofree char *base = g_path_get_basename (path);
  const char *names[BOOK_N_RECORDS + 1];
  const BookRecord *record;
  const char *nearest;
  char *dot = strchr (base, '.');

  if (dot != NULL)
    *dot = '\0';
  record = book_record_find (base);
  if (record != NULL)
    return record;
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    names[i] = book_record_in_order (i)->name;
  names[BOOK_N_RECORDS] = NULL;
  nearest = book_nearest_word (base, names);
  if (nearest != NULL)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH,
                 _("%s: there is no record '%s'; the nearest is '%s': name the file after its record"), path, base,
                 nearest);
  else
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH,
                 _("%s: there is no record '%s': name the file after its record"), path, base);
  return NULL;
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char * const *) a, *(const char * const *) b);
}

static gboolean
add_folder (ExchangeImport *import, const char *folder, GError **error)
{
  g_autoptr(GError) failure = NULL;
  g_autoptr(GDir) dir = g_dir_open (folder, 0, &failure);
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  if (dir == NULL)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the folder cannot be read: %s"), folder,
                   failure->message);
      return FALSE;
    }
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".csv") && !g_str_has_suffix (name, ".rejected.csv"))
      g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
      const BookRecord *record = record_of_path (path, error);

      if (record == NULL || !add_file (import, path, record))
        return FALSE;
    }
  if (names->len == 0)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH, _("%s: there is no CSV file in this folder"), folder);
      return FALSE;
    }
  return TRUE;
}

gboolean
exchange_import_find_files (ExchangeImport *import, const char *const *paths, GError **error)
{
  for (guint i = 0; paths[i] != NULL; i++)
    {
      const BookRecord *record;

      if (g_file_test (paths[i], G_FILE_TEST_IS_DIR))
        {
          if (!add_folder (import, paths[i], error))
            return FALSE;
          continue;
        }
      if (!g_file_test (paths[i], G_FILE_TEST_EXISTS))
        {
          g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH,
                       _("%s: there is no such file or folder: correct the path"), paths[i]);
          return FALSE;
        }
      record = record_of_path (paths[i], error);
      if (record == NULL || !add_file (import, paths[i], record))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_files (ExchangeImport *import, GError **error)
{
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      ExchangeTable *table = import->tables[book_record_in_order (i)->id];

      for (guint s = 0; table != NULL && s < table->sources->len; s++)
        if (!exchange_import_read (import, table, g_ptr_array_index (table->sources, s), error))
          return FALSE;
      if (table != NULL)
        import->total_rows += table->n_rows;
    }
  return TRUE;
}

static int
compare_problems (gconstpointer a, gconstpointer b)
{
  const ExchangeProblem *x = a;
  const ExchangeProblem *y = b;

  if (x->source_order != y->source_order)
    return x->source_order < y->source_order ? -1 : 1;
  return x->line < y->line ? -1 : x->line > y->line;
}

static void
report_problems (ExchangeImport *import)
{
  ExchangeImportReport *report = import->report;

  /* The sort keeps equal ones in order: g_array_sort() is a merge sort. */
  g_array_sort (import->problems, compare_problems);
  for (guint i = 0; i < MIN (import->problems->len, most_problems (import)); i++)
    g_ptr_array_add (report->problems, g_strdup (g_array_index (import->problems, ExchangeProblem, i).text));
  report->n_problems = import->n_problems;
}

static gboolean
is_wrong (const ExchangeImport *import)
{
  return import->n_file_problems > 0 || (import->n_problems > 0 && !import->options->keep_good);
}

static gboolean
fail_rows (const ExchangeImport *import, GError **error)
{
  if (import->n_file_problems > 0)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_ROWS, "%s",
                 _("Nothing was stored: mend the files and import again."));
  else
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_ROWS,
                 ngettext ("Nothing was stored, since %u row is wrong: mend it and import again.",
                           "Nothing was stored, since %u rows are wrong: mend them and import again.", import->n_rejected),
                 import->n_rejected);
  return FALSE;
}

/* A private way out of the action that stores nothing. */
#define DRY_RUN (dry_run_quark ())
static G_DEFINE_QUARK (exchange-dry-run, dry_run)

/* Into a book without anybody the writer comes with the files. */
static gboolean
find_writer (ExchangeImport *import, GError **error)
{
  const char *initials = import->options->initials;
  gint64 person;

  if (initials == NULL)
    return TRUE;
  if (!book_record_find_text (import->db, book_record (BOOK_RECORD_PERSON), initials, &person, error))
    {
      if (error == NULL || (*error)->domain != BOOK_ERROR)
        return FALSE;
      g_clear_error (error);
      person = 0;
    }
  if (person == 0)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH,
                   _("Neither the book nor the files have anybody with the initials '%s': add the person first."), initials);
      return FALSE;
    }
  store_action_set_person (import->action, person);
  return TRUE;
}

static gboolean
import_work (StoreAction *action, gpointer data, GError **error)
{
  ExchangeImport *import = data;
  g_autoptr(BookRules) rules = NULL;
  g_autoptr(GVariantBuilder) arguments = g_variant_builder_new (G_VARIANT_TYPE (STORE_ARGUMENTS));

  import->action = action;
  import->db = store_action_db (action);
  import->rules = rules = book_rules_new (import->db);
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      ExchangeTable *table = import->tables[book_record_in_order (i)->id];

      if (table != NULL && !exchange_import_table (import, table, error))
        return FALSE;
    }
  if (is_wrong (import))
    return fail_rows (import, error);
  if (!find_writer (import, error))
    return FALSE;
  if (import->options->dry_run)
    {
      if (store_action_split (action, error)) /* the rules of the book see the rows */
        g_set_error_literal (error, DRY_RUN, 0, "");
      return FALSE;
    }
  if (import->rows == NULL && import->options->keep_good && import->n_rejected > 0 && !exchange_import_write_rejected (import, error))
    return FALSE;
  g_variant_builder_add (arguments, "(sx)", "count", (gint64) import->total_rows - import->n_rejected);
  store_action_message (action, "import", g_variant_builder_end (arguments));
  return TRUE;
}

static gboolean
run (ExchangeImport *import, Book *book, GError **error)
{
  const ExchangeImportOptions *options = import->options;
  StoreIntent intent = { "import", options->person, options->sitting, options->progress, options->progress_data };
  g_autoptr(GError) failure = NULL;

  if (!read_files (import, error))
    return FALSE;
  if (import->n_file_problems > 0)
    return fail_rows (import, error);
  if (store_write (book_get_store (book), &intent, import_work, import, &import->report->receipt, import->cancellable,
                   &failure))
    {
      import->report->stored = import->report->receipt.action != 0;
      return TRUE;
    }
  exchange_import_remove_rejected (import);
  if (g_error_matches (failure, DRY_RUN, 0))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&failure));
  return FALSE;
}

static ExchangeImportReport *
new_report (void)
{
  ExchangeImportReport *report = g_new0 (ExchangeImportReport, 1);

  report->files = g_ptr_array_new_with_free_func (file_free);
  report->problems = g_ptr_array_new_with_free_func (g_free);
  return report;
}

/* Tells the one who gave rows in memory what became of each. */
static void
tell_judged (const ExchangeImport *import)
{
  const ExchangeTable *table = import->tables[import->rows->record->id];

  for (guint row = 0; row < table->n_rows; row++)
    import->rows->judged (row, table->states[row], import->rows->data);
}

/* Once through. @wrong: something in the files is wrong, by this code or by a rule of the book. */
static gboolean
attempt (Book *book, const char *const *paths, const ExchangeImportRows *rows, const ExchangeImportOptions *options,
         gboolean with_rules, ExchangeImportReport *report, gboolean *wrong, GCancellable *cancellable, GError **error)
{
  ExchangeImport import = {
    .options = options, .rows = rows, .report = report, .with_rules = with_rules, .cancellable = cancellable
  };
  g_autoptr(GError) failure = NULL;
  gboolean good;

  import.pool = exchange_pool_new ();
  import.texts = exchange_pool_new ();
  import.problems = g_array_new (FALSE, FALSE, sizeof (ExchangeProblem));
  g_array_set_clear_func (import.problems, problem_clear);
  if (options->keep_good && rows == NULL)
    import.reasons = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  if (rows != NULL)
    good = add_file (&import, rows->name, rows->record) && run (&import, book, &failure);
  else
    good = exchange_import_find_files (&import, paths, &failure) && run (&import, book, &failure);
  if (good && rows != NULL)
    tell_judged (&import);
  report_problems (&import);
  *wrong = import.n_problems > 0 || g_error_matches (failure, STORE_ERROR, STORE_ERROR_RULE);
  import_clear (&import);
  if (!good)
    g_propagate_error (error, g_steal_pointer (&failure));
  return good;
}

/**
 * exchange_import:
 * @book: a book
 * @paths: (array zero-terminated=1): files `RECORD.csv`, and folders of them
 * @options: how
 * @report: (out) (transfer full) (optional): what was read, stored and wrong; also filled on failure
 * @cancellable: (nullable): stops with nothing stored
 * @error: return location
 *
 * Imports files in one action. Rows that the book has already are passed over; importing the same files twice stores
 * nothing the second time. Without @keep_good nothing is stored when any row is wrong.
 *
 * The book asks its rules of every row of a commit by itself, but cannot name a line of a file. So a strict import first
 * goes through without asking, and again, asking, only when something was wrong.
 *
 * Blocks; never to be called from a window's main thread.
 *
 * Returns: %FALSE with %EXCHANGE_ERROR_ROWS when rows or files are wrong (listed in @report), else the error of the
 *   book or of a path. %TRUE with @keep_good although rows were rejected: see the report
 */
gboolean
exchange_import (Book *book, const char *const *paths, const ExchangeImportOptions *options,
                 ExchangeImportReport **report, GCancellable *cancellable, GError **error)
{
  g_autoptr(ExchangeImportReport) made = new_report ();
  g_autoptr(GError) failure = NULL;
  gboolean with_rules = options->keep_good;
  gboolean wrong;
  gboolean good = attempt (book, paths, NULL, options, with_rules, made, &wrong, cancellable, &failure);

  if (!good && wrong && !with_rules)
    {
      g_clear_error (&failure);
      exchange_import_report_free (made);
      made = new_report ();
      good = attempt (book, paths, NULL, options, TRUE, made, &wrong, cancellable, &failure);
    }
  if (report != NULL)
    *report = g_steal_pointer (&made);
  if (!good)
    g_propagate_error (error, g_steal_pointer (&failure));
  return good;
}

/**
 * exchange_import_rows:
 * @book: a book
 * @rows: instead of files
 * @options: how; with @keep_good
 * @report: (out) (transfer full) (optional): what was read, stored and wrong; also filled on failure
 * @cancellable: (nullable): stops with nothing stored
 * @error: return location
 *
 * As exchange_import(), of rows in memory, which are judged one by one. Not told of them when it fails.
 *
 * Returns: %FALSE when the book fails, or on cancelling
 */
gboolean
exchange_import_rows (Book *book, const ExchangeImportRows *rows, const ExchangeImportOptions *options,
                      ExchangeImportReport **report, GCancellable *cancellable, GError **error)
{
  g_autoptr(ExchangeImportReport) made = new_report ();
  gboolean wrong;
  gboolean good;

  g_return_val_if_fail (rows != NULL && options->keep_good, FALSE);

  good = attempt (book, NULL, rows, options, TRUE, made, &wrong, cancellable, error);
  if (report != NULL)
    *report = g_steal_pointer (&made);
  return good;
}

/**
 * exchange_import_report_free:
 * @report: (transfer full) (nullable): a report
 */
void
exchange_import_report_free (ExchangeImportReport *report)
{
  if (report == NULL)
    return;
  g_ptr_array_unref (report->files);
  g_ptr_array_unref (report->problems);
  g_free (report);
}
