/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch pack: what an owner has to know to decide about a gate, as a document to be signed. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "paper-letter.h"
#include "paper-pack.h"
#include "paper-size.h"
#include "paper-workbook.h"
#include "store-reader.h"

#include <glib/gi18n.h>

static char *output;
static char *gate;
static char *paper;

static const GOptionEntry options[] = {
  { "gate", 'g', 0, G_OPTION_ARG_STRING, &gate, N_("Which gate, by name or place; the first one that nobody decided about when left out"),
    N_("GATE") },
  { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("Where to: a PDF, or a workbook, FILE.xlsx"), N_("FILE") },
  { "paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_("a4 or letter; what the book's setting 'paper' says, else a4"), N_("SIZE") },
  G_OPTION_ENTRY_NULL
};

static gboolean
read_ask (BatchCall *call, Book *book, PaperPackAsk *ask, BatchStatus *status)
{
  g_autoptr(BookEvidence) evidence = NULL;
  InsightSpan span;

  if (!batch_evidence (call, book, &evidence, &span, status) || !batch_gate (call, evidence, gate, &ask->gate, status))
    return FALSE;
  ask->model = evidence->model_id;
  ask->through = span.through;
  return TRUE;
}

static gpointer
write_workbook (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return paper_workbook_write (db, data, cancellable, error);
}

static gpointer
write_pack (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return paper_pack_write (db, data, cancellable, error);
}

static gboolean
ends_in (const char *name, const char *ending)
{
  g_autofree char *lower = g_ascii_strdown (name, -1);

  return g_str_has_suffix (lower, ending);
}

static BatchStatus
run (BatchCall *call)
{
  PaperPackAsk ask = { .today = call->today, .progress = batch_progress, .progress_data = call };
  g_autoptr(Book) book = NULL;
  g_autoptr(StoreReader) reader = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;
  PaperSize size;
  BatchStatus status;

  if (output == NULL)
    return batch_usage (call, _("Say where the pack goes: add -o and a file ending in .pdf or .xlsx."));
  if (!ends_in (output, ".pdf") && !ends_in (output, ".xlsx"))
    return batch_usage (call, _("The pack is a PDF or a workbook: give '%s' an ending of .pdf or .xlsx."), output);
  if (paper != NULL && !paper_size_parse (paper, FALSE, &size))
    return batch_usage (call, _("There is no paper '%s': choose a4 or letter."), paper);
  if (!batch_book_open (call, &book, &status) || !read_ask (call, book, &ask, &status))
    return status;

  ask.size = paper != NULL ? (int) size : PAPER_SIZE_OF_BOOK;
  ask.book = store_get_uuid (book_get_store (book));
  reader = store_reader_new (book_get_store (book), &error);
  bytes = reader != NULL ? store_reader_run (reader, ends_in (output, ".xlsx") ? write_workbook : write_pack, &ask, call->cancellable, &error) : NULL;
  batch_clear_progress (call);
  if (bytes == NULL || !paper_save (bytes, output, &error))
    return batch_fail (call, error);
  return BATCH_DONE;
}

const BatchVerb batch_verb_pack = {
  .name = "pack",
  .arguments = N_("[--gate GATE] -o FILE"),
  .summary = N_("Write the decision pack of a gate, as PDF or as a workbook."),
  .description = N_("The first page has the answer, what blocks, conditions, the caution and room for signatures; the rest is the "
                    "evidence, what nobody looked at, what was changed once values were there, and where the journal stood. As "
                    "a workbook it has every reading and every figure as a number. It names nobody who builds or inspects."),
  .stops = TRUE,
  .options = options,
  .run = run,
};
