/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch release: what a gate asks for, what blocks, and what whoever decides must know. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-dossier.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static char *gate_name;

static const GOptionEntry options[] = {
  { "gate", 'g', 0, G_OPTION_ARG_STRING, &gate_name, N_("Which gate, by name or place; the first one that nobody decided about when left out"),
    N_("GATE") },
  G_OPTION_ENTRY_NULL,
};

static int
find_gate (BatchCall *call, const PresentDossier *dossier, BatchStatus *status)
{
  const GPtrArray *gates = dossier->gates->gates;
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < gates->len; i++)
    {
      const PresentGate *gate = gates->pdata[i];
      g_autofree char *position = g_strdup_printf ("%d", gate->data->position);

      if (gate_name != NULL ? g_str_equal (gate_name, gate->data->name) || g_str_equal (gate_name, position) : gate->decided == NULL)
        {
          g_string_free (names, TRUE);
          return (int) i;
        }
      g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", gate->data->name);
    }
  if (gate_name == NULL && gates->len > 0)
    {
      g_string_free (names, TRUE);
      return (int) gates->len - 1;
    }
  *status = gates->len == 0 ? batch_usage (call, _("Model '%s' has no gate yet: import gate.csv, or enter one."), dossier->evidence->code)
                            : batch_usage (call, _("Model '%s' has no gate '%s'; it has: %s."), dossier->evidence->code, gate_name, names->str);
  g_string_free (names, TRUE);
  return -1;
}

static void
add_sheet (GString *text, const PresentSheet *sheet)
{
  g_autofree char *table = present_sheet_to_text (sheet, PRESENT_TEXT_WIDTH);

  if (*table != '\0')
    g_string_append_printf (text, "\n%s", table);
}

static void
add_wrapped (GString *text, const char *line, const char *first, const char *rest)
{
  g_autofree char *wrapped = present_text_wrap (line, PRESENT_TEXT_WIDTH, first, rest);

  g_string_append (text, wrapped);
}

static char *
to_text (const PresentDossier *dossier, const PresentGate *gate)
{
  GString *text = g_string_new (NULL);

  add_wrapped (text, gate->headline, "", "");
  add_wrapped (text, dossier->standing->span, "", "");
  for (guint i = 0; i < gate->stops->len; i++)
    add_wrapped (text, gate->stops->pdata[i], "- ", "  ");
  add_sheet (text, gate->criteria);
  add_sheet (text, dossier->gates->remarks);
  add_sheet (text, dossier->gates->afterwards);
  add_sheet (text, dossier->gates->waivers);
  add_sheet (text, gate->opinions);
  add_sheet (text, gate->decisions);
  add_sheet (text, dossier->gates->signed_for);
  g_string_append_c (text, '\n');
  add_wrapped (text, dossier->standing->caution, "", "");
  return g_string_free (text, FALSE);
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
  int gate;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, NULL, &status))
    return status;
  db = store_front_db (book_get_store (book), &error);
  if (db != NULL)
    dossier = present_dossier_load (db, evidence->model_id, &span, call->cancellable, &error);
  if (dossier == NULL
      || !present_dossier_compute (dossier, call->json ? PRESENT_DOSSIER_ALL : PRESENT_DOSSIER_GATES, NULL, NULL, call->cancellable, &error))
    return batch_fail (call, error);
  gate = find_gate (call, dossier, &status);
  if (gate < 0)
    return status;
  if (call->json)
    {
      g_autoptr(GBytes) document = present_dossier_freeze (dossier, (guint) gate, store_get_uuid (book_get_store (book)));
      gsize length;
      const char *bytes = g_bytes_get_data (document, &length);

      text = g_strndup (bytes, length);
    }
  else
    text = to_text (dossier, dossier->gates->gates->pdata[gate]);
  batch_write (call, text);
  return BATCH_DONE;
}

const BatchVerb batch_verb_release = {
  .name = "release",
  .arguments = N_("[--gate GATE]"),
  .summary = N_("Say what a gate asks for, what blocks, what has to be known beside it, and who said what."),
  .description = N_("With --json the document that a decision now would freeze: every figure with n, rounds, lots, looks and attempts, the "
                    "state of the journal, pilot, lead time, life tests, gauges, issues and forecast."),
  .options = options,
  .run = run,
};
