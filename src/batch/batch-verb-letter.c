/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch letter: what a designer or a supplier has to know, on paper. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "book-record.h"
#include "paper-letter.h"
#include "paper-size.h"
#include "paper-supplier.h"
#include "store-reader.h"

#include <glib/gi18n.h>

static char *output;
static char *addressee;
static char *from;
static char *to;
static char *paper;
static char *supplier;

static const GOptionEntry options[] = {
  { "for", 0, 0, G_OPTION_ARG_STRING, &addressee, N_("To whom: designer or supplier"), N_("WHOM") },
  { "from", 0, 0, G_OPTION_ARG_STRING, &from, N_("The earlier round; the one before the later when left out"), N_("ROUND") },
  { "to", 0, 0, G_OPTION_ARG_STRING, &to, N_("The later round; the newest with a built unit when left out"), N_("ROUND") },
  { "supplier", 0, 0, G_OPTION_ARG_STRING, &supplier, N_("Which supplier, by name, with --for supplier"), N_("NAME") },
  { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("Where to, a PDF"), N_("FILE") },
  { "paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_("a4 or letter; what the book's setting 'paper' says, else a4"), N_("SIZE") },
  G_OPTION_ENTRY_NULL
};

/* Whom letters can be written to. */
static const char *const addressees[] = { "designer", "supplier", NULL };

static gboolean
check_addressee (BatchCall *call, BatchStatus *status)
{
  g_autofree char *known = g_strjoinv (", ", (char **) addressees);
  const char *nearest;

  if (addressee == NULL)
    {
      *status = batch_usage (call, _("Say whom the letter is for: add --for and one of these: %s."), known);
      return FALSE;
    }
  if (g_strv_contains (addressees, addressee))
    return TRUE;
  nearest = batch_nearest (addressee, addressees);
  *status = nearest != NULL ? batch_usage (call, _("There is no letter for '%s': did you mean '%s'?"), addressee, nearest)
                            : batch_usage (call, _("There is no letter for '%s': choose one of these: %s."), addressee, known);
  return FALSE;
}

static gboolean
read_size (BatchCall *call, StoreDb *db, PaperSize *size, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;

  if (paper == NULL)
    {
      if (paper_size_of_book (db, FALSE, size, &error))
        return TRUE;
      *status = batch_fail (call, error);
      return FALSE;
    }
  if (paper_size_parse (paper, FALSE, size))
    return TRUE;
  *status = batch_usage (call, _("There is no paper '%s': choose a4 or letter."), paper);
  return FALSE;
}

/* Fills in what the letter is about. */
static gboolean
read_ask (BatchCall *call, Book *book, PaperLetterAsk *ask, BatchStatus *status)
{
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(GError) error = NULL;
  StoreDb *db;
  InsightSpan span;

  if (!batch_evidence (call, book, &evidence, &span, status))
    return FALSE;
  ask->model = evidence->model_id;
  ask->to = span.through;
  if ((from != NULL && !batch_round (call, evidence, from, &ask->from, status))
      || (to != NULL && !batch_round (call, evidence, to, &ask->to, status)))
    return FALSE;
  db = store_front_db (book_get_store (book), &error);
  if (db != NULL)
    return read_size (call, db, &ask->size, status);
  *status = batch_fail (call, error);
  return FALSE;
}

/* What a letter to a supplier is about is the model alone: he knows no rounds. */
static gboolean
read_supplier (BatchCall *call, Book *book, const PaperLetterAsk *letter, PaperSupplierAsk *ask, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (book), &error);

  *ask = (PaperSupplierAsk) { letter->model, 0, call->today, letter->size, batch_progress, call };
  if (db != NULL && book_record_find_text (db, book_record (BOOK_RECORD_SUPPLIER), supplier, &ask->supplier, &error) && ask->supplier != 0)
    return TRUE;
  if (db == NULL || (error != NULL && error->domain != BOOK_ERROR))
    *status = batch_fail (call, error);
  else
    *status = batch_usage (call, _("The book has no supplier '%s': look at supplier.csv of an export, or at the Set-up page."), supplier);
  return FALSE;
}

static gpointer
write_supplier (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return paper_supplier_write (db, data, cancellable, error);
}

/* Whether what was given goes together. */
static gboolean
check_supplier (BatchCall *call, gboolean for_supplier, BatchStatus *status)
{
  if (for_supplier && supplier == NULL)
    *status = batch_usage (call, "%s", _("Say which supplier the letter is for: add --supplier and the name."));
  else if (for_supplier && (from != NULL || to != NULL))
    *status = batch_usage (call, "%s", _("A letter to a supplier is about all rounds: leave --from and --to out."));
  else if (!for_supplier && supplier != NULL)
    *status = batch_usage (call, "%s", _("The letter to the designer names no supplier: leave --supplier out, or add --for supplier."));
  else
    return TRUE;
  return FALSE;
}

static gpointer
write_letter (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return paper_letter_write (db, data, cancellable, error);
}

static BatchStatus
run (BatchCall *call)
{
  PaperLetterAsk ask = { .today = call->today, .progress = batch_progress, .progress_data = call };
  g_autoptr(Book) book = NULL;
  g_autoptr(StoreReader) reader = NULL;
  g_autoptr(GBytes) pdf = NULL;
  g_autoptr(GError) error = NULL;
  PaperSupplierAsk to_supplier = { 0 };
  gboolean for_supplier;
  BatchStatus status;

  if (!check_addressee (call, &status))
    return status;
  for_supplier = g_str_equal (addressee, "supplier");
  if (!check_supplier (call, for_supplier, &status))
    return status;
  if (output == NULL)
    return batch_usage (call, _("Say where the letter goes: add -o and a file ending in .pdf."));
  if (!g_str_has_suffix (output, ".pdf") && !g_str_has_suffix (output, ".PDF"))
    return batch_usage (call, _("The letter is a PDF: give '%s' an ending of .pdf."), output);
  if (!batch_book_open (call, &book, &status) || !read_ask (call, book, &ask, &status)
      || (for_supplier && !read_supplier (call, book, &ask, &to_supplier, &status)))
    return status;

  reader = store_reader_new (book_get_store (book), &error);
  if (reader != NULL)
    pdf = for_supplier ? store_reader_run (reader, write_supplier, &to_supplier, call->cancellable, &error)
                       : store_reader_run (reader, write_letter, &ask, call->cancellable, &error);
  batch_clear_progress (call);
  if (g_error_matches (error, PAPER_ERROR, PAPER_ERROR_INPUT))
    return batch_usage (call, "%s", error->message);
  if (pdf == NULL || !paper_save (pdf, output, &error))
    return batch_fail (call, error);
  return BATCH_DONE;
}

const BatchVerb batch_verb_letter = {
  .name = "letter",
  .arguments = N_("--for WHOM -o FILE"),
  .summary = N_("Write a letter to the designer or to a supplier, as PDF."),
  .description = N_("Two to five pages. To the designer: what changed between two rounds and why, what the readings say, where the issues "
                    "stand. To a supplier: his parts, steps and lots, what failed of them, readings by lot, waits. Questions, and room for "
                    "answers. It names no person, cost, other supplier or other model; the designer's no supplier at all."),
  .prints = TRUE,
  .stops = TRUE,
  .options = options,
  .run = run,
};
