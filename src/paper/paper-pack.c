/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

#include "chart-rows.h"
#include "chart-theme.h"
#include "paper-size.h"
#include "store-reader.h"

/*
 * Method. The pages are set twice: first to learn on which page each section begins, then with that in the table of contents. When
 * they are more than twenty they are set anew with less: smaller charts, then only those of criteria, then shorter tables. What is
 * left out is counted. Setting takes some hundredths of a second, so that trying is cheaper than foretelling.
 */

static const PackMeasure measures[] = {
  { 2, 128.0, 80, 0 },
  { 3, 104.0, 60, 0 },
  { 3, 88.0, 45, 40 },
  { 4, 72.0, 40, 20 },
  { 4, 72.0, 16, 10 },
};

/* Steps of progress. */
enum
{
  STEP_READ = 15,
  STEP_COMPUTE = 85,
  STEP_SET = 95,
  STEP_ALL = 100
};

static void
tell (const PaperPackAsk *ask, guint64 done)
{
  if (ask->progress != NULL)
    ask->progress (done, STEP_ALL, ask->progress_data);
}

static void
on_read (double share, gpointer ask)
{
  tell (ask, (guint64) (share * STEP_READ));
}

static void
on_computed (double share, gpointer ask)
{
  tell (ask, STEP_READ + (guint64) (share * (STEP_COMPUTE - STEP_READ)));
}

/* ---- pieces that the sections share ---- */

void
pack_section (Pack *pack, PaperFlow *flow, const char *title, const char *target, double with)
{
  PackSection section = { title, target, 0 };

  paper_flow_heading (flow, 1, title, target, with);
  section.page = paper_flow_page (flow);
  g_array_append_val (pack->setting, section);
}

static void
set_sheet (Pack *pack, PaperFlow *flow, const PresentSheet *sheet, const PaperDiscretion *discretion)
{
  const PaperSheetWay way = { 2, NULL, discretion, pack->leads, pack->measure->rows };

  if (sheet != NULL)
    paper_flow_sheet (flow, sheet, &way);
}

void
pack_sheet (Pack *pack, PaperFlow *flow, const PresentSheet *sheet)
{
  set_sheet (pack, flow, sheet, pack->makers);
}

void
pack_sheet_named (Pack *pack, PaperFlow *flow, const PresentSheet *sheet)
{
  set_sheet (pack, flow, sheet, NULL);
}

void
pack_sentence (Pack *pack, PaperFlow *flow, PaperTextStyle style, PaperTone tone, const char *text)
{
  g_autofree char *told = paper_discretion_check (pack->makers, text);

  if (*told != '\0')
    paper_flow_paragraph (flow, style, tone, 0.0, told);
}

void
pack_lines (Pack *pack, PaperFlow *flow, GPtrArray *lines)
{
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    pack_sentence (pack, flow, PAPER_TEXT_SMALL, PAPER_INK, lines->pdata[i]);
}

void
pack_chart (PaperFlow *flow, Chart *chart, double height)
{
  const PaperFigure figure = { .chart = chart, .height = height };

  if (chart != NULL)
    paper_flow_figures (flow, &figure, 1, 1);
}

void
pack_rows_chart (PaperFlow *flow, Chart *chart)
{
  pack_chart (flow, chart, chart_rows_height (chart, chart_theme (CHART_LOOK_PRINT)) * PAPER_POINTS_A_DOT);
}

/* ---- the whole ---- */

static PaperDocument *
set_pack (Pack *pack)
{
  const BookEvidence *e = pack->dossier->evidence;
  const char *gate = pack->words != NULL ? pack->words->data->name : "";
  g_autofree char *title = g_strdup_printf (_("%s: decision pack"), e->name);
  g_autofree char *subject = g_strdup_printf (_("Gate: %s"), gate);
  g_autofree char *right = *gate != '\0' ? g_strdup_printf (_("Decision pack, gate %s, %s"), gate, pack->ask->today)
                                         : g_strdup_printf (_("Decision pack, %s"), pack->ask->today);
  g_autofree char *state = g_strndup (pack->dossier->head, 12);
  g_autofree char *foot = g_strdup_printf (_("%s, %s, book at entry %" PRId64 ", %s"), e->code, pack->ask->today, pack->dossier->place, state);
  PaperDocument *document = paper_document_new (pack->size, title, subject, pack->ask->today);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);

  paper_document_set_heads (document, e->name, right, foot);
  pack->setting = g_array_new (FALSE, FALSE, sizeof (PackSection));
  pack_list_charts (pack);
  pack_set_first (pack, flow);
  pack_set_gates (pack, flow);
  pack_set_issues (pack, flow);
  pack_set_charts (pack, flow);
  pack_set_runs (pack, flow);
  pack_set_times (pack, flow);
  pack_set_methods (pack, flow);
  g_clear_pointer (&pack->sections, g_array_unref);
  pack->sections = g_steal_pointer (&pack->setting);
  return document;
}

static gboolean
same_pages (GArray *before, GArray *after)
{
  if (before == NULL || before->len != after->len)
    return FALSE;
  for (guint i = 0; i < after->len; i++)
    if (g_array_index (before, PackSection, i).page != g_array_index (after, PackSection, i).page)
      return FALSE;
  return TRUE;
}

/* Until the table of contents is true; it takes as many lines the second time, so that the third is rare. */
static PaperDocument *
set_with_contents (Pack *pack)
{
  PaperDocument *document = set_pack (pack);

  for (guint i = 0; i < 3; i++)
    {
      g_autoptr(GArray) before = g_array_ref (pack->sections);

      paper_document_free (document);
      document = set_pack (pack);
      if (same_pages (before, pack->sections))
        break;
    }
  return document;
}

gboolean
pack_read (Pack *pack, StoreDb *db, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { pack->ask->through, pack->ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, pack->ask->model, error);

  pack->size = pack->ask->size == PAPER_LETTER ? PAPER_LETTER : PAPER_A4;
  if (evidence == NULL || (pack->ask->size == PAPER_SIZE_OF_BOOK && !paper_size_of_book (db, FALSE, &pack->size, error)))
    return FALSE;
  pack->makers = paper_discretion_read_makers (db, evidence, error);
  if (pack->makers == NULL)
    return FALSE;
  pack->dossier = present_dossier_load (db, g_steal_pointer (&evidence), &span, cancellable, error);
  if (pack->dossier == NULL || !present_dossier_load_past (pack->dossier, db, on_read, (gpointer) pack->ask, cancellable, error))
    return FALSE;
  store_reader_done_reading (db);
  tell (pack->ask, STEP_READ);
  if (!present_dossier_compute (pack->dossier, PRESENT_DOSSIER_ALL | PRESENT_DOSSIER_WALL, on_computed, (gpointer) pack->ask, cancellable,
                                error))
    return FALSE;
  pack->gate = present_release_find_gate (pack->dossier->gates, pack->ask->gate);
  if (pack->gate != G_MAXUINT)
    {
      pack->words = pack->dossier->gates->gates->pdata[pack->gate];
      pack->document = present_dossier_freeze (pack->dossier, pack->gate, pack->ask->book);
    }
  return TRUE;
}

void
pack_clear (Pack *pack)
{
  g_clear_pointer (&pack->sections, g_array_unref);
  g_clear_pointer (&pack->leads, g_hash_table_unref);
  g_clear_pointer (&pack->document, g_bytes_unref);
  g_clear_pointer (&pack->dossier, present_dossier_free);
  g_clear_pointer (&pack->makers, paper_discretion_free);
}

/**
 * paper_pack_document:
 * @db: the connection of a reader, within its request; the transaction is ended early (store_reader_done_reading())
 * @ask: what it is about
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Blocks; never in the main thread of a window. The document must be drawn in the same thread, by paper_document_to_pdf() or
 * paper_document_to_sheets().
 *
 * Returns: (transfer full) (nullable): the pages; %G_IO_ERROR_CANCELLED, or what reading gives
 */
PaperDocument *
paper_pack_document (StoreDb *db, const PaperPackAsk *ask, GCancellable *cancellable, GError **error)
{
  Pack pack = { .ask = ask };
  PaperDocument *document = NULL;

  tell (ask, 0);
  if (pack_read (&pack, db, cancellable, error))
    {
      tell (ask, STEP_COMPUTE);
      for (guint i = 0; i < G_N_ELEMENTS (measures); i++)
        {
          g_clear_pointer (&document, paper_document_free);
          pack.measure = &measures[i];
          document = set_with_contents (&pack);
          if (paper_document_count_pages (document) <= PAPER_PACK_MOST_PAGES)
            break;
        }
      tell (ask, STEP_SET);
    }
  pack_clear (&pack);
  return document;
}

/**
 * paper_pack_write:
 * @db: as of paper_pack_document()
 * @ask: what it is about
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the PDF; errors as of paper_pack_document(), or %PAPER_ERROR_DRAW
 */
GBytes *
paper_pack_write (StoreDb *db, const PaperPackAsk *ask, GCancellable *cancellable, GError **error)
{
  g_autoptr(PaperDocument) document = paper_pack_document (db, ask, cancellable, error);
  GBytes *pdf = document != NULL ? paper_document_to_pdf (document, cancellable, error) : NULL;

  if (pdf != NULL)
    tell (ask, STEP_ALL);
  return pdf;
}

/**
 * paper_pack_name:
 * @model: code of the model
 * @today: the day that the pack bears
 * @ending: of the file, such as "pdf"
 *
 * Returns: (transfer full): a name for the file, without a folder
 */
char *
paper_pack_name (const char *model, const char *today, const char *ending)
{
  char *name = g_strdup_printf (_("%s decision pack %s.%s"), model, today, ending);

  return g_strdelimit (name, "/\\:", '-');
}
