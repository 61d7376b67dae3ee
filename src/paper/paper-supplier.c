/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-supplier.h"

#include "paper-letter-private.h"
#include "paper-sheet.h"
#include "present-reason.h"
#include "present-supply.h"
#include "store-reader.h"

#include <glib/gi18n-lib.h>

/*
 * Method. As the designer's letter: set with all that there is, and when it takes more than five pages set anew with less.
 */

#define CHART_HEIGHT 130.0
#define SENTENCE     50.0  /* room for what stands above a drawing */
#define HEADS        110.0 /* the same with a heading of its own */

/* How much is said; the next step says less, until it fits. */
typedef struct
{
  guint         rows;   /* of a table, at most; 0: all */
  guint         readings; /* characteristics, at most */
  guint         charts; /* of them with a drawing */
  LetterMeasure asked;  /* only its questions and lines to answer are used */
} SupplierMeasure;

static const SupplierMeasure measures[] = {
  { 0, 40, 40, { .questions = 20, .answer_lines = 4 } },
  { 40, 12, 6, { .questions = 12, .answer_lines = 3 } },
  { 20, 8, 4, { .questions = 8, .answer_lines = 3 } },
  { 12, 5, 2, { .questions = 6, .answer_lines = 2 } },
  { 6, 2, 1, { .questions = 4, .answer_lines = 2 } },
};

enum
{
  STEP_READ = 60,
  STEP_SET = 80,
  STEP_ALL = 100
};

typedef struct
{
  const PaperSupplierAsk *ask;
  BookEvidence           *evidence;
  InsightSupply          *supply;
  PresentSupply          *words;
  PaperDiscretion        *discretion;
} Supplier;

static void
tell (const PaperSupplierAsk *ask, guint64 done)
{
  if (ask->progress != NULL)
    ask->progress (done, STEP_ALL, ask->progress_data);
}

static char *
take_out (const char *text, gpointer data)
{
  return paper_discretion_apply (data, text);
}

static gboolean
read_supplier (Supplier *supplier, StoreDb *db, GCancellable *cancellable, GError **error)
{
  supplier->evidence = book_evidence_load (db, supplier->ask->model, error);
  if (supplier->evidence == NULL)
    return FALSE;
  supplier->discretion = paper_discretion_read_supplier (db, supplier->evidence, supplier->ask->supplier, error);
  if (supplier->discretion == NULL)
    return FALSE;
  store_reader_done_reading (db);
  supplier->supply = insight_supply (supplier->evidence, supplier->ask->supplier, supplier->ask->today, cancellable, error);
  if (supplier->supply == NULL)
    return FALSE;
  supplier->words = present_supply_new (supplier->supply, take_out, supplier->discretion);
  if (supplier->supply->n_things > 0 || supplier->supply->n_waits > 0)
    return TRUE;
  g_set_error (error, PAPER_ERROR, PAPER_ERROR_INPUT,
               _("Nothing of model '%s' came from '%s', and nobody waited for it: choose a supplier of one of its parts, lots or waits."),
               supplier->evidence->code, supplier->words->name);
  return FALSE;
}

static void
clear_supplier (Supplier *supplier)
{
  g_clear_pointer (&supplier->words, present_supply_free);
  g_clear_pointer (&supplier->supply, insight_supply_free);
  g_clear_pointer (&supplier->discretion, paper_discretion_free);
  g_clear_pointer (&supplier->evidence, book_evidence_free);
}

static void
set_text (const Supplier *supplier, PaperFlow *flow, PaperTextStyle style, PaperTone tone, const char *text)
{
  g_autofree char *told = paper_discretion_check (supplier->discretion, text);

  if (*told != '\0')
    paper_flow_paragraph (flow, style, tone, 0.0, told);
}

static void
set_beginning (const Supplier *supplier, PaperFlow *flow)
{
  const guint n = supplier->words->questions->len;
  g_autofree char *when = g_strdup_printf (_("To %s, %s. Model %s."), supplier->words->name, supplier->ask->today, supplier->evidence->code);
  g_autofree char *asked = g_strdup_printf (ngettext ("We ask you %u question; there is room for the answer at the end of this letter.",
                                                      "We ask you %u questions; there is room for the answers at the end of this letter.", n),
                                            n);

  paper_flow_title (flow, supplier->evidence->name);
  paper_flow_paragraph (flow, PAPER_TEXT_SUBHEADING, PAPER_INK, 0.0, _("What came from you, and what we found"));
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, when);
  paper_flow_space (flow, 6.0);
  set_text (supplier, flow, PAPER_TEXT_BODY, PAPER_INK, supplier->words->headline);
  if (n > 0)
    paper_flow_link (flow, asked, "questions");
}

static void
set_sheet (const Supplier *supplier, PaperFlow *flow, const PresentSheet *sheet, const char *target, guint most)
{
  const PaperSheetWay way = { 1, target, supplier->discretion, NULL, most };

  if (sheet->rows->len > 0)
    paper_flow_sheet (flow, sheet, &way);
}

static void
set_readings (const Supplier *supplier, PaperFlow *flow, const SupplierMeasure *measure)
{
  const GPtrArray *all = supplier->words->readings;
  const guint shown = MIN (all->len, measure->readings);

  if (all->len == 0)
    return;
  paper_flow_heading (flow, 1, _("What the readings say, by your lots"), "readings", CHART_HEIGHT + HEADS);
  for (guint i = 0; i < shown; i++)
    {
      const PresentSupplyReadings *readings = all->pdata[i];
      const PaperSheetWay way = { 0, NULL, supplier->discretion, NULL, measure->rows };
      PaperFigure figure = { .height = CHART_HEIGHT };

      paper_flow_heading (flow, 2, readings->title, NULL, i < measure->charts ? CHART_HEIGHT + SENTENCE : SENTENCE);
      set_text (supplier, flow, PAPER_TEXT_SMALL, PAPER_INK, readings->sentence);
      if (i < measure->charts && readings->data->n_groups > 1)
        {
          figure.chart = present_chart_supply (supplier->supply, readings->data);
          paper_flow_figures (flow, &figure, 1, 1);
        }
      paper_flow_sheet (flow, readings->sheet, &way);
    }
  if (all->len > shown)
    {
      g_autofree char *more = g_strdup_printf (ngettext ("%u further characteristic is left out for want of room.",
                                                         "%u further characteristics are left out for want of room.", all->len - shown),
                                               all->len - shown);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, more);
    }
}

static PaperDocument *
set_letter (const Supplier *supplier, const SupplierMeasure *measure)
{
  const BookEvidence *e = supplier->evidence;
  g_autofree char *title = g_strdup_printf (_("%s: what came from you"), e->name);
  PaperDocument *document = paper_document_new (supplier->ask->size, title, _("Letter to a supplier"), supplier->ask->today);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  g_autoptr(GPtrArray) questions = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < supplier->words->questions->len; i++)
    g_ptr_array_add (questions, paper_discretion_check (supplier->discretion, supplier->words->questions->pdata[i]));
  paper_document_set_heads (document, e->name, supplier->ask->today, _("Names of people, costs, other suppliers and other models are left out."));
  set_beginning (supplier, flow);
  if (supplier->words->is_safety)
    {
      g_autofree char *caution = present_caution_with (e->caution);
      g_autofree char *told = paper_discretion_check (supplier->discretion, caution);

      paper_flow_note (flow, told);
    }
  set_sheet (supplier, flow, supplier->words->things, "things", measure->rows);
  set_sheet (supplier, flow, supplier->words->lots, "lots", measure->rows);
  set_sheet (supplier, flow, supplier->words->faults, "faults", measure->rows);
  if (supplier->words->faults->rows->len == 0 && supplier->supply->n_lots > 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("Nothing was found of these lots."));
  set_readings (supplier, flow, measure);
  set_sheet (supplier, flow, supplier->words->waits, "waits", measure->rows);
  /* Answers are sent back: they begin on a page of their own where there is little before them. */
  if (paper_document_count_pages (document) < PAPER_LETTER_LEAST_PAGES)
    paper_flow_new_page (flow);
  letter_set_questions (flow, questions, &measure->asked);
  return document;
}

/**
 * paper_supplier_write:
 * @db: the connection of a reader, within its request; the transaction is ended early (store_reader_done_reading())
 * @ask: what it is about
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Makes the letter to a supplier. Blocks; never in the main thread of a window.
 *
 * Returns: (transfer full) (nullable): the PDF; %PAPER_ERROR_INPUT when he has nothing to do with the model, %PAPER_ERROR_DRAW, or
 *   what reading gives
 */
GBytes *
paper_supplier_write (StoreDb *db, const PaperSupplierAsk *ask, GCancellable *cancellable, GError **error)
{
  g_autoptr(PaperDocument) document = NULL;
  Supplier supplier = { .ask = ask };
  GBytes *pdf = NULL;

  tell (ask, 0);
  if (read_supplier (&supplier, db, cancellable, error))
    {
      tell (ask, STEP_READ);
      for (guint i = 0; i < G_N_ELEMENTS (measures); i++)
        {
          g_clear_pointer (&document, paper_document_free);
          document = set_letter (&supplier, &measures[i]);
          if (paper_document_count_pages (document) <= PAPER_LETTER_MOST_PAGES)
            break;
        }
      tell (ask, STEP_SET);
      pdf = paper_document_to_pdf (document, cancellable, error);
      tell (ask, STEP_ALL);
    }
  clear_supplier (&supplier);
  return pdf;
}

/**
 * paper_supplier_name:
 * @model: code of the model
 * @supplier: name of whom it is to
 * @today: the day that the letter bears
 *
 * Returns: (transfer full): a name for the file, without a folder
 */
char *
paper_supplier_name (const char *model, const char *supplier, const char *today)
{
  char *name = g_strdup_printf (_("%s letter %s %s.pdf"), model, supplier, today);

  return g_strdelimit (name, "/\\:", '-');
}
