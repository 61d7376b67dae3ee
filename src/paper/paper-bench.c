/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "paper-code.h"
#include "present-number.h"
#include "present-reason.h"

/*
 * Method. A paper is set once upright; one whose columns may go on over several pages is set lying too, and the shape with
 * fewer pages is taken. Setting takes some milliseconds, so that trying is cheaper than foretelling.
 */

#define MARGIN_LARGE  40.0 /* 14 mm: room for a clip */
#define MARGIN_SMALL  28.0 /* 10 mm: on A5 each column counts */
#define LETTERS_LARGE 1.22 /* body of 11 points: read from where a pencil writes, at a bench */
#define LETTERS_SMALL 1.1

typedef struct
{
  const char *word;
  const char *title;
  const char *summary;
  gboolean    needs_round;
  gboolean    may_lie;
  void      (*set) (const Bench *bench, PaperFlow *flow);
} Kind;

static const Kind kinds[] = {
  [PAPER_BENCH_BUILD_LIST] = { "build-list", N_("Build List"),
                               N_("what goes into a round, which serial gets which, who is tested for what"), TRUE, FALSE,
                               bench_set_build_list },
  [PAPER_BENCH_MEASURING_SHEET] = { "measuring-sheet", N_("Measuring Sheet"),
                                    N_("units of a round down, characteristics with limits across, room to write"), TRUE, TRUE,
                                    bench_set_measuring_sheet },
  [PAPER_BENCH_UNIT_CARD] = { "unit-card", N_("Unit Card"),
                              N_("travels with a unit: bar code, parts, steps to sign off, what to measure, issues"), TRUE, FALSE,
                              bench_set_unit_cards },
  [PAPER_BENCH_TALLY_SHEET] = { "tally-sheet", N_("Tally Sheet"), N_("pieces counted at each step before they have serials"), TRUE,
                                FALSE, bench_set_tally_sheet },
  [PAPER_BENCH_CHANGE_NOTICE] = { "change-notice", N_("Change Notice"),
                                  N_("old to new, why, from when on, what to measure again, places to sign"), FALSE, FALSE,
                                  bench_set_change_notice },
  [PAPER_BENCH_ISSUE_CARD] = { "issue-card", N_("Issue Card"), N_("an issue with its findings, cause, change and photographs"), FALSE,
                               FALSE, bench_set_issue_card },
};
G_STATIC_ASSERT (G_N_ELEMENTS (kinds) == PAPER_N_BENCH_KINDS);

/* 'build-list': what calls name it by. */
const char *
paper_bench_word (PaperBenchKind kind)
{
  return kinds[kind].word;
}

const char *
paper_bench_title (PaperBenchKind kind)
{
  return _(kinds[kind].title);
}

/* One line about what it is. */
const char *
paper_bench_summary (PaperBenchKind kind)
{
  return _(kinds[kind].summary);
}

/* Whether it is about a round, or a unit of one. */
gboolean
paper_bench_needs_round (PaperBenchKind kind)
{
  return kinds[kind].needs_round;
}

/**
 * paper_bench_file_name:
 * @kind: of paper
 * @model: code of the model
 * @about: (nullable): the round, unit, issue or change
 * @today: the day that it bears
 *
 * Returns: (transfer full): a name for the file, without a folder
 */
char *
paper_bench_file_name (PaperBenchKind kind, const char *model, const char *about, const char *today)
{
  g_autofree char *title = g_utf8_strdown (paper_bench_title (kind), -1);
  char *name = about != NULL && *about != '\0' ? g_strdup_printf ("%s %s %s %s.pdf", model, about, title, today)
                                               : g_strdup_printf ("%s %s %s.pdf", model, title, today);

  return g_strdelimit (name, "/\\:", '-');
}

static double
title_width (PaperFlow *flow, const char *title)
{
  g_autoptr(PangoLayout) layout
      = paper_style_layout (paper_document_context (paper_flow_document (flow)), PAPER_TEXT_TITLE, title, 0.0);
  PangoRectangle box;

  pango_layout_get_extents (layout, NULL, &box);
  return (double) box.width / PANGO_SCALE;
}

/* The name of what it is about, and beside it what paper this is. */
void
bench_begin (const Bench *bench, PaperFlow *flow, const char *title)
{
  const BookEvidence *e = bench->evidence;
  const char *kind = paper_bench_title (bench->ask->kind);
  g_autofree char *what = bench->round >= 0 ? g_strdup_printf (_("%s · %s · round %s"), kind, e->name, e->rounds[bench->round].label)
                                            : g_strdup_printf ("%s · %s", kind, e->name);
  double width = paper_flow_width (flow), right = paper_flow_left (flow) + width, y;

  paper_flow_begin_part (flow, title, kind);
  paper_document_outline (paper_flow_document (flow), paper_flow_page (flow), 0, title, paper_flow_y (flow));
  paper_flow_move (flow, -14.0); /* there is no head above the first page of a part */
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_INK, 0.0, what);
  paper_flow_paragraph (flow, bench->ask->kind == PAPER_BENCH_UNIT_CARD ? PAPER_TEXT_TITLE : PAPER_TEXT_HEADING, PAPER_INK, 0.0, title);
  y = paper_flow_y (flow);
  paper_place_rule (paper_flow_document (flow), paper_flow_page (flow), PAPER_INK, 1.2, paper_flow_left (flow), y, right, y);
  paper_flow_move (flow, 7.0);
  /* A serial stands as bars beside itself, or below where it is long. */
  if (bench->ask->kind == PAPER_BENCH_UNIT_CARD
      && !paper_place_code (flow, title, right, y - PAPER_CODE_HEIGHT - 5.0, width - title_width (flow, title))
      && paper_place_code (flow, title, right, y + 7.0, width))
    paper_flow_move (flow, PAPER_CODE_HEIGHT + 6.0);
}

void
bench_say_caution (const Bench *bench, PaperFlow *flow)
{
  g_autofree char *all = present_caution_with (bench->evidence->caution);

  paper_flow_small_note (flow, all);
}

void
bench_heading (PaperFlow *flow, const char *text, double with)
{
  paper_flow_heading (flow, 2, text, NULL, with);
}

void
bench_paragraph (PaperFlow *flow, const char *text)
{
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, text);
}

/* Said beside. */
void
bench_remark (PaperFlow *flow, const char *text)
{
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_INK, 0.0, text);
}

void
bench_boxes (PaperFlow *flow, const char *const *labels)
{
  guint n = g_strv_length ((char **) labels);
  g_autofree PaperFormColumn *columns = g_new0 (PaperFormColumn, n);
  g_autofree const char **cells = g_new (const char *, n);

  for (guint i = 0; i < n; i++)
    {
      columns[i] = (PaperFormColumn) { .head = labels[i], .share = 1.0 };
      cells[i] = "";
    }
  paper_flow_form (flow, columns, n, cells, 1, PAPER_FORM_ROW);
}

char *
bench_limits (const InsightSheetColumn *column)
{
  if (column->is_life)
    return g_strdup (_("cycles"));
  if (column->kind == BOOK_CHARACTERISTIC_CHECKED)
    return g_strdup (_("✓ or ✗"));
  if (!isfinite (column->lower) && !isfinite (column->upper))
    return column->unit[0] != '\0' ? g_strdup_printf (_("in %s, no limits"), column->unit) : g_strdup (_("no limits"));
  return present_limits (column->lower, column->upper, column->decimals, column->unit);
}

/* What stands in the place to be written into: "" to write there. */
char *
bench_cell (const InsightSheetColumn *column, const InsightSheetCell *cell)
{
  g_autofree char *value = NULL;

  if (cell->state == INSIGHT_SHEET_LEFT_OUT)
    return g_strdup ("–");
  if (cell->state == INSIGHT_SHEET_WANTED)
    return g_strdup (column->kind == BOOK_CHARACTERISTIC_CHECKED && !column->is_life ? "✓   ✗" : "");
  value = isnan (cell->value) ? g_strdup ("") : present_number (cell->value, column->is_life ? 0 : column->decimals);
  switch (cell->mark)
    {
    case BOOK_MARK_PASSED:
      return g_strdup ("✓");
    case BOOK_MARK_FAILED:
      return g_strdup ("✗");
    case BOOK_MARK_ABOVE:
      return g_strdup_printf ("> %s", value);
    case BOOK_MARK_BELOW:
      return g_strdup_printf ("< %s", value);
    case BOOK_MARK_MEASURED:
      break;
    }
  return g_steal_pointer (&value);
}

/* Where a step is done. */
const char *
bench_of_step (const Bench *bench, const BookEvidenceStep *step)
{
  if (step->bench >= 0)
    return bench->evidence->benches[step->bench].name;
  return step->kind == BOOK_STEP_OUTSIDE ? _("outside") : "";
}

static PaperDocument *
set_document (const Bench *bench, gboolean landscape)
{
  const BookEvidence *e = bench->evidence;
  const Kind *kind = &kinds[bench->ask->kind];
  gboolean is_small = bench->size == PAPER_A5;
  const PaperShape shape = { bench->size, landscape, is_small ? MARGIN_SMALL : MARGIN_LARGE, is_small ? LETTERS_SMALL : LETTERS_LARGE };
  g_autofree char *title = g_strdup_printf ("%s, %s", _(kind->title), e->name);
  g_autofree char *foot = bench->round >= 0 ? g_strdup_printf (_("%s, round %s, %s, book %s"), e->code, e->rounds[bench->round].label,
                                                               bench->ask->today, bench->state)
                                            /* Translators: model, day, and the first digits that tell a state of the book */
                                            : g_strdup_printf (_("%s, %s, book %s"), e->code, bench->ask->today, bench->state);
  PaperDocument *document = paper_document_new_shaped (&shape, title, _(kind->title), bench->ask->today);
  g_autoptr(PaperFlow) flow = paper_flow_new_in_parts (document);

  paper_document_set_heads (document, NULL, NULL, foot);
  kind->set (bench, flow);
  return document;
}

/**
 * paper_bench_document:
 * @db: the connection of a reader, within its request; the transaction is ended early (store_reader_done_reading())
 * @ask: what is to be put on paper
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Blocks; never in the main thread of a window. The document must be drawn in the same thread, by paper_document_to_pdf() or
 * paper_document_to_sheets().
 *
 * Returns: (transfer full) (nullable): the pages; %PAPER_ERROR_INPUT when there is nothing to make them of, or what reading gives
 */
PaperDocument *
paper_bench_document (StoreDb *db, const PaperBenchAsk *ask, GCancellable *cancellable, GError **error)
{
  PaperDocument *document = NULL;
  Bench bench;

  if (bench_read (db, ask, &bench, cancellable, error) && !g_cancellable_set_error_if_cancelled (cancellable, error))
    {
      document = set_document (&bench, FALSE);
      if (kinds[ask->kind].may_lie)
        {
          PaperDocument *lying = set_document (&bench, TRUE);

          if (paper_document_count_pages (lying) < paper_document_count_pages (document))
            {
              PaperDocument *upright = document;

              document = lying;
              lying = upright;
            }
          paper_document_free (lying);
        }
    }
  bench_clear (&bench);
  return document;
}
