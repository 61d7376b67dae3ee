/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch import: RECORD.csv files into the book. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "book-record.h"
#include "exchange-error.h"
#include "exchange-import.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static gboolean keep_good;
static gboolean update;
static gboolean dry_run;

static const GOptionEntry options[] = {
  { "keep-good", 0, 0, G_OPTION_ARG_NONE, &keep_good, N_("Store the good rows; write the others to FILE.rejected.csv with the reason"), NULL },
  { "update", 0, 0, G_OPTION_ARG_NONE, &update, N_("Let rows change records that the book has already"), NULL },
  { "dry-run", 'n', 0, G_OPTION_ARG_NONE, &dry_run, N_("Say what would happen, and store nothing"), NULL },
  G_OPTION_ENTRY_NULL
};

static void
add_file (JsonBuilder *builder, const ExchangeImportFile *file)
{
  json_builder_begin_object (builder);
  present_json_text (builder, "path", file->path);
  present_json_text (builder, "record", file->record->name);
  present_json_count (builder, "rows", file->rows);
  present_json_count (builder, "new", file->inserted);
  present_json_count (builder, "changed", file->updated);
  present_json_count (builder, "equal", file->equal);
  present_json_count (builder, "rejected", file->rejected);
  present_json_text (builder, "rejected_path", file->rejected_path);
  json_builder_end_object (builder);
}

static void
write_json (BatchCall *call, const ExchangeImportReport *report)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_flag (builder, "stored", report->stored);
  present_json_key (builder, "action", report->receipt.action);
  present_json_list (builder, "files");
  for (guint i = 0; i < report->files->len; i++)
    add_file (builder, report->files->pdata[i]);
  json_builder_end_array (builder);
  present_json_count (builder, "problems_in_all", report->n_problems);
  present_json_list (builder, "problems");
  for (guint i = 0; i < report->problems->len; i++)
    json_builder_add_string_value (builder, report->problems->pdata[i]);
  json_builder_end_array (builder);
  text = present_json_end (builder);
  batch_write (call, text);
}

static void
write_text (BatchCall *call, const ExchangeImportReport *report)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, _("file"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("rows"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("new"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("changed"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("equal"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("rejected"), PRESENT_ALIGN_RIGHT);
  for (guint i = 0; i < report->files->len; i++)
    {
      const ExchangeImportFile *file = report->files->pdata[i];
      g_autofree char *name = g_path_get_basename (file->path);
      g_autofree char *rows = g_strdup_printf ("%u", file->rows);
      g_autofree char *inserted = g_strdup_printf ("%u", file->inserted);
      g_autofree char *updated = g_strdup_printf ("%u", file->updated);
      g_autofree char *equal = g_strdup_printf ("%u", file->equal);
      g_autofree char *rejected = g_strdup_printf ("%u", file->rejected);
      const char *const cells[] = { name, rows, inserted, updated, equal, rejected };

      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, PRESENT_TEXT_WIDTH);
  batch_write (call, text);
  for (guint i = 0; i < report->files->len; i++)
    {
      const ExchangeImportFile *file = report->files->pdata[i];
      g_autofree char *line = NULL;

      if (file->rejected_path == NULL)
        continue;
      line = g_strdup_printf (_("Rejected rows, ready to be mended: %s\n"), file->rejected_path);
      batch_write (call, line);
    }
  if (dry_run)
    batch_write (call, _("Nothing was stored: this was a dry run.\n"));
}

/* As compilers write them, without the program's name, so that an editor can jump to the place. */
static void
list_problems (const ExchangeImportReport *report)
{
  for (guint i = 0; i < report->problems->len; i++)
    {
      g_autofree char *line = present_text_escape (report->problems->pdata[i]);

      fprintf (stderr, "%s\n", line);
    }
  if (report->n_problems > report->problems->len)
    {
      const guint left = report->n_problems - report->problems->len;

      fprintf (stderr, ngettext ("and %u more\n", "and %u more\n", left), left);
    }
}

static gboolean
has_nobody (Book *book)
{
  StoreDb *db = store_front_db (book_get_store (book), NULL);
  gint64 count = 1;

  return db != NULL && book_record_count (db, book_record (BOOK_RECORD_PERSON), &count, NULL) && count == 0;
}

/* The first import into a new book brings the persons themselves: its writer is looked for among them. */
static gboolean
find_writer (BatchCall *call, Book *book, ExchangeImportOptions *import, BatchStatus *status)
{
  StoreIntent intent;

  if (call->person != NULL && has_nobody (book))
    {
      import->initials = call->person;
      return TRUE;
    }
  if (!batch_intent (call, book, "import", &intent, status))
    return FALSE;
  import->person = intent.person;
  return TRUE;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(ExchangeImportReport) report = NULL;
  g_autoptr(GError) error = NULL;
  ExchangeImportOptions import = { .keep_good = keep_good, .update = update, .dry_run = dry_run };
  BatchStatus status;
  gboolean rejected = FALSE;
  gboolean done;

  if (!batch_book_open (call, &book, &status) || !find_writer (call, book, &import, &status))
    return status;
  import.sitting = store_new_sitting ();
  import.progress = batch_progress;
  import.progress_data = call;
  done = exchange_import (book, (const char *const *) call->arguments, &import, &report, call->cancellable, &error);

  if (report != NULL)
    {
      batch_clear_progress (call);
      list_problems (report);
      rejected = report->n_problems > 0;
      if (call->json)
        write_json (call, report);
      else if (done)
        write_text (call, report);
    }
  if (!done)
    return batch_fail (call, error);
  return rejected ? BATCH_ATTENTION : BATCH_DONE;
}

const BatchVerb batch_verb_import = {
  .name = "import",
  .arguments = N_("PATH…"),
  .summary = N_("Read RECORD.csv files, or folders of them, in the order in which records refer to each other."),
  .description = N_("Strict: if any row is wrong, nothing is stored and all wrong rows are listed. Rows are matched by their visible key; "
                    "equal ones are skipped, different ones are an error without --update. A file never deletes. "
                    "'fettle-batch fields' describes the columns."),
  .least = 1,
  .most = G_MAXUINT,
  .stops = TRUE,
  .options = options,
  .run = run,
};
