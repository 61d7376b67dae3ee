/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch release: what a gate asks for, what blocks, and what whoever decides must know. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-dossier.h"
#include "present-text.h"

#include <glib/gi18n.h>

static char *gate_name;

static const GOptionEntry options[] = {
  { "gate", 'g', 0, G_OPTION_ARG_STRING, &gate_name, N_("Which gate, by name or place; the first one that nobody decided about when left out"),
    N_("GATE") },
  G_OPTION_ENTRY_NULL,
};

static char *
gate_text (const PresentDossier *dossier, guint gate)
{
  g_autofree char *text = present_release_to_text (dossier->gates, gate, dossier->standing, PRESENT_TEXT_WIDTH);
  GString *whole = g_string_new (text);

  if (dossier->series_words != NULL)
    {
      g_string_append_c (whole, '\n');
      present_first_series_add_text (dossier->series_words, whole, PRESENT_TEXT_WIDTH);
    }
  if (dossier->another_words != NULL)
    {
      g_string_append_c (whole, '\n');
      present_another_round_add_text (dossier->another_words, whole, PRESENT_TEXT_WIDTH);
    }
  return g_string_free (whole, FALSE);
}

/* A released model has its first series beside the gate, any other what one more round takes and could prove. */
static PresentDossierParts
parts_of (const BatchCall *call, const PresentDossier *dossier)
{
  if (call->json)
    return PRESENT_DOSSIER_ALL;
  return present_dossier_is_released (dossier) ? PRESENT_DOSSIER_RUNS : PRESENT_DOSSIER_RUNS | PRESENT_DOSSIER_FORECAST;
}

/* Of the journal that is gone through; what is computed of it is soon done. */
static void
on_progress (double share, gpointer call)
{
  batch_progress ((guint64) (share * 100.0), 100, call);
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  StoreDb *db;
  g_autoptr(PresentDossier) dossier = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *text = NULL;
  InsightSpan span;
  BatchStatus status;
  gint64 key;
  guint gate;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status)
      || !batch_gate (call, evidence, gate_name, &key, &status))
    return status;
  db = store_front_db (book_get_store (book), &error);
  if (db != NULL)
    dossier = present_dossier_load (db, g_steal_pointer (&evidence), &span, call->cancellable, &error);
  if (dossier == NULL || (call->json && !present_dossier_load_past (dossier, db, on_progress, call, call->cancellable, &error))
      || !present_dossier_compute (dossier, parts_of (call, dossier), NULL, NULL, call->cancellable, &error))
    return batch_fail (call, error);
  gate = present_release_find_gate (dossier->gates, key);
  if (call->json)
    {
      g_autoptr(GBytes) document = present_dossier_freeze (dossier, gate, store_get_uuid (book_get_store (book)));
      gsize length;
      const char *bytes = g_bytes_get_data (document, &length);

      text = g_strndup (bytes, length);
    }
  else
    text = gate_text (dossier, gate);
  batch_write (call, text);
  return BATCH_DONE;
}

const BatchVerb batch_verb_release = {
  .name = "release",
  .arguments = N_("[--gate GATE]"),
  .summary = N_("Say what a gate asks for, what blocks, what has to be known beside it, who said what, and what one more round takes."),
  .description = N_("With --json the document that a decision now would freeze: every figure with n, rounds, lots, looks and attempts, the "
                    "state of the journal, pilot, lead time, life tests, gauges, issues and forecast."),
  .options = options,
  .run = run,
};
