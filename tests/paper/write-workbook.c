/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes a model's workbook: write-workbook BOOK MODEL DAY FILE [letter]. Used by test-paper-workbook.py, which reads it back. */

#include "config.h"

#include "book-evidence.h"
#include "book-record.h"
#include "book.h"
#include "paper-workbook.h"
#include "store.h"

#include <locale.h>

static void
count_calls (guint64 done, guint64 total, gpointer data)
{
  g_assert_cmpuint (done, <, total);
  (*(guint *) data)++;
}

/* A cancelled one gives nothing but the error. */
static void
try_cancelled (const PresentDossier *dossier, const PaperWorkbookAsk *ask)
{
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;

  g_cancellable_cancel (cancellable);
  bytes = paper_workbook_write (dossier, ask, cancellable, &error);
  g_assert_null (bytes);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

int
main (int argc, char **argv)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(PresentDossier) dossier = NULL;
  g_autoptr(PaperDiscretion) makers = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GBytes) again = NULL;
  g_autoptr(GError) error = NULL;
  BookEvidence *evidence;
  InsightSpan span = { 0 };
  PaperWorkbookAsk ask = { 0 };
  StoreDb *db;
  gint64 model = 0;
  guint calls = 0;

  setlocale (LC_ALL, "");
  g_assert_cmpint (argc, >=, 5);
  book = book_open (argv[1], NULL, &error);
  g_assert_no_error (error);
  db = store_front_db (book_get_store (book), &error);
  g_assert_no_error (error);
  g_assert_true (book_record_find_text (db, book_record (BOOK_RECORD_MODEL), argv[2], &model, &error));
  evidence = book_evidence_load (db, model, &error);
  g_assert_no_error (error);
  makers = paper_discretion_read (db, evidence, &error);
  g_assert_no_error (error);
  span.today = argv[3];
  dossier = present_dossier_load (db, evidence, &span, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (present_dossier_compute (dossier, PRESENT_DOSSIER_ALL, NULL, NULL, NULL, &error));
  g_assert_no_error (error);

  ask.book = store_get_uuid (book_get_store (book));
  ask.makers = makers;
  ask.size = argc > 5 ? PAPER_LETTER : PAPER_A4;
  ask.progress = count_calls;
  ask.progress_data = &calls;
  ask.gate = dossier->gates->gates->len - 1;
  try_cancelled (dossier, &ask);
  bytes = paper_workbook_write (dossier, &ask, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (calls, >, 3);
  again = paper_workbook_write (dossier, &ask, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (bytes, again));
  g_assert_true (g_file_set_contents (argv[4], g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), &error));
  return 0;
}
