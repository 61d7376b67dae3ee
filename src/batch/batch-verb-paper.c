/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch paper: sheets and cards for the bench. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "paper-bench.h"
#include "paper-letter.h"
#include "paper-size.h"
#include "present-json.h"
#include "store-reader.h"

#include <glib/gi18n.h>

static char *output;
static char *round_label;
static char *unit;
static char *issue;
static char *change;
static char *size;
static gboolean list;

static const GOptionEntry options[] = {
  { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("Where to, a PDF"), N_("FILE") },
  { "round", 0, 0, G_OPTION_ARG_STRING, &round_label, N_("Which round; the last one when left out"), N_("ROUND") },
  { "unit", 0, 0, G_OPTION_ARG_STRING, &unit, N_("The unit of a card; all of the round when left out"), N_("SERIAL") },
  { "issue", 0, 0, G_OPTION_ARG_STRING, &issue, N_("The issue of a card"), N_("NO") },
  { "change", 0, 0, G_OPTION_ARG_STRING, &change, N_("The change of a notice"), N_("NO") },
  { "size", 0, 0, G_OPTION_ARG_STRING, &size, N_("A4, A5 or letter; what the book's setting 'paper' says, else A4"), N_("SIZE") },
  { "list", 0, 0, G_OPTION_ARG_NONE, &list, N_("Name the kinds of paper"), NULL },
  G_OPTION_ENTRY_NULL
};

static BatchStatus
write_list (BatchCall *call)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  json_builder_set_member_name (builder, "papers");
  json_builder_begin_array (builder);
  for (guint i = 0; i < PAPER_N_BENCH_KINDS; i++)
    {
      g_autofree char *line = g_strdup_printf ("%-16s%s\n", paper_bench_word (i), paper_bench_summary (i));

      if (!call->json)
        batch_write (call, line);
      json_builder_begin_object (builder);
      json_builder_set_member_name (builder, "paper");
      json_builder_add_string_value (builder, paper_bench_word (i));
      json_builder_set_member_name (builder, "shows");
      json_builder_add_string_value (builder, paper_bench_summary (i));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  if (call->json)
    batch_write_json (call, json_builder_get_root (builder));
  return BATCH_DONE;
}

static void
write_told (BatchCall *call, PaperBenchKind kind, guint pages)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autofree char *shown = g_filename_display_name (output);

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  json_builder_set_member_name (builder, "paper");
  json_builder_add_string_value (builder, paper_bench_word (kind));
  json_builder_set_member_name (builder, "file");
  json_builder_add_string_value (builder, shown);
  present_json_count (builder, "pages", pages);
  json_builder_end_object (builder);
  batch_write_json (call, json_builder_get_root (builder));
}

static gboolean
read_kind (BatchCall *call, PaperBenchKind *kind, BatchStatus *status)
{
  const char *names[PAPER_N_BENCH_KINDS + 1] = { NULL };
  const char *nearest;

  if (call->n_arguments == 0)
    {
      *status = batch_usage (call, _("Say which paper: 'fettle-batch paper --list' names the kinds."));
      return FALSE;
    }
  for (guint i = 0; i < PAPER_N_BENCH_KINDS; i++)
    {
      names[i] = paper_bench_word (i);
      if (g_str_equal (names[i], call->arguments[0]))
        {
          *kind = (PaperBenchKind) i;
          return TRUE;
        }
    }
  nearest = batch_nearest (call->arguments[0], names);
  *status = nearest == NULL
                ? batch_usage (call, _("There is no paper '%s': 'fettle-batch paper --list' names the kinds."), call->arguments[0])
                : batch_usage (call, _("There is no paper '%s': did you mean '%s'?"), call->arguments[0], nearest);
  return FALSE;
}

/* What the call says before the book is asked. */
static gboolean
check_call (BatchCall *call, PaperBenchAsk *ask, BatchStatus *status)
{
  PaperSize wanted;

  if (!read_kind (call, &ask->kind, status))
    return FALSE;
  if (output == NULL)
    *status = batch_usage (call, _("Say where the paper goes: add -o and a file ending in .pdf."));
  else if (!g_str_has_suffix (output, ".pdf") && !g_str_has_suffix (output, ".PDF"))
    *status = batch_usage (call, _("The paper is a PDF: give '%s' an ending of .pdf."), output);
  else if (ask->kind == PAPER_BENCH_ISSUE_CARD && issue == NULL)
    *status = batch_usage (call, _("Say which issue: add --issue and its number."));
  else if (ask->kind == PAPER_BENCH_CHANGE_NOTICE && change == NULL)
    *status = batch_usage (call, _("Say which change: add --change and its number."));
  else if (size != NULL && !paper_size_parse (size, TRUE, &wanted))
    *status = batch_usage (call, _("There is no paper '%s': choose a4, a5 or letter."), size);
  else
    {
      ask->size = size != NULL ? (int) wanted : PAPER_SIZE_OF_BOOK;
      return TRUE;
    }
  return FALSE;
}

static gboolean
find_unit (BatchCall *call, const BookEvidence *e, PaperBenchAsk *ask, BatchStatus *status)
{
  guint n = 0;

  for (guint u = 0; u < e->n_units; u++)
    {
      gboolean in_round = round_label == NULL || e->rounds[e->units[u].round].id == ask->round;

      if (!in_round || !g_str_equal (e->units[u].serial, unit))
        continue;
      ask->unit = e->units[u].id;
      n++;
    }
  if (n == 1)
    return TRUE;
  *status = n == 0 ? batch_usage (call, _("Model '%s' has no unit '%s'."), e->code, unit)
                   : batch_usage (call, _("Several units are called '%s': add --round and its round."), unit);
  return FALSE;
}

/* Numbers are compared as they are shown, so that '1x' is none. */
static gboolean
is_number (int no, const char *typed)
{
  g_autofree char *number = g_strdup_printf ("%d", no);

  return g_str_equal (number, typed);
}

static gboolean
find_subject (BatchCall *call, const BookEvidence *e, const InsightSpan *span, PaperBenchAsk *ask, BatchStatus *status)
{
  ask->round = span->through != 0 ? span->through : e->n_rounds > 0 ? e->rounds[e->n_rounds - 1].id : 0;
  if (round_label != NULL && !batch_round (call, e, round_label, &ask->round, status))
    return FALSE;
  switch (ask->kind)
    {
    case PAPER_BENCH_UNIT_CARD:
      return unit == NULL || find_unit (call, e, ask, status);
    case PAPER_BENCH_ISSUE_CARD:
      for (guint i = 0; i < e->n_issues; i++)
        if (is_number (e->issues[i].no, issue))
          ask->issue = e->issues[i].id;
      if (ask->issue == 0)
        *status = batch_usage (call, _("Model '%s' has no issue '%s': 'fettle-batch issues' lists them."), e->code, issue);
      return ask->issue != 0;
    case PAPER_BENCH_CHANGE_NOTICE:
      for (guint i = 0; i < e->n_changes; i++)
        if (is_number (e->changes[i].no, change))
          ask->change = e->changes[i].id;
      if (ask->change == 0)
        *status = batch_usage (call, _("Model '%s' has no change '%s'."), e->code, change);
      return ask->change != 0;
    case PAPER_BENCH_BUILD_LIST:
    case PAPER_BENCH_MEASURING_SHEET:
    case PAPER_BENCH_TALLY_SHEET:
    case PAPER_N_BENCH_KINDS:
      break;
    }
  return TRUE;
}

typedef struct
{
  PaperBenchAsk ask;
  guint         pages;
} Work;

static gpointer
write_paper (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  Work *work = data;
  g_autoptr(PaperDocument) document = paper_bench_document (db, &work->ask, cancellable, error);

  if (document == NULL)
    return NULL;
  work->pages = paper_document_count_pages (document);
  return paper_document_to_pdf (document, cancellable, error);
}

static BatchStatus
run (BatchCall *call)
{
  Work work = { .ask = { .today = call->today } };
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(StoreReader) reader = NULL;
  g_autoptr(GBytes) pdf = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  BatchStatus status;

  if (list)
    return write_list (call);
  if (!check_call (call, &work.ask, &status) || !batch_book_open (call, &book, &status)
      || !batch_evidence (call, book, &evidence, &span, &status) || !find_subject (call, evidence, &span, &work.ask, &status))
    return status;
  work.ask.model = evidence->model_id;

  reader = store_reader_new (book_get_store (book), &error);
  pdf = reader != NULL ? store_reader_run (reader, write_paper, &work, call->cancellable, &error) : NULL;
  if (g_error_matches (error, PAPER_ERROR, PAPER_ERROR_INPUT))
    return batch_usage (call, "%s", error->message);
  if (pdf == NULL || !paper_save (pdf, output, &error))
    return batch_fail (call, error);
  if (call->json)
    write_told (call, work.ask.kind, work.pages);
  return BATCH_DONE;
}

const BatchVerb batch_verb_paper = {
  .name = "paper",
  .arguments = N_("KIND -o FILE"),
  .summary = N_("Write a sheet or card for the bench as PDF."),
  .description = N_("'paper --list' names the kinds. It is made to be written on with a pencil, in the order of the grid that it is "
                    "typed into. It stays in the shop and names no person."),
  .most = 1,
  .prints = TRUE,
  .stops = TRUE,
  .options = options,
  .run = run,
};
