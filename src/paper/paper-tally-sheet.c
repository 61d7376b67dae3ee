/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"
#include "insight-tally.h"
#include "paper-flow-private.h"

#include <glib/gi18n-lib.h>

/*
 * One block a step: boxes to be ticked, a piece each, by what became of it; the issues that took pieces away; minutes. A
 * block is never divided between pages.
 */

#define LABEL_SHARE 0.27 /* of the width */
#define TOTAL_WIDTH 46.0
#define LINE        14.0
#define PADDING     5.0
#define ISSUE_ROWS  3 /* named ones and empty ones */
#define LINES_MOST  4
#define HEAD_HEIGHT 16.0
#define ISSUE_HEIGHT 28.0 /* two lines in small letters */

typedef struct
{
  const char *label;
  guint       lines;
  gboolean    is_issue;
} Row;

static double
row_height (const Row *row)
{
  double lines = row->lines * LINE + 2.0 * PADDING - 4.0;

  return MAX (lines, row->is_issue ? ISSUE_HEIGHT : PAPER_FORM_ROW);
}

static void
set_row (PaperFlow *flow, const Row *row)
{
  PaperDocument *document = paper_flow_document (flow);
  double label_width = paper_flow_width (flow) * LABEL_SHARE;
  g_autoptr(PangoLayout) label = paper_style_layout (paper_document_context (document), row->is_issue ? PAPER_TEXT_SMALL : PAPER_TEXT_BODY,
                                                     row->label, label_width - 2.0 * PADDING);
  double left = paper_flow_left (flow), right = left + paper_flow_width (flow), y = paper_flow_y (flow), height = row_height (row);
  guint page = paper_flow_page (flow);

  pango_layout_set_height (label, (int) ((height - 1.0) * PANGO_SCALE));
  pango_layout_set_ellipsize (label, PANGO_ELLIPSIZE_END);
  pango_layout_set_line_spacing (label, 1.0f);
  paper_place_lines (document, page, label, 0, G_MAXINT, PAPER_INK, left + PADDING, y + (height - paper_style_height (label)) / 2.0);
  paper_flow_ticks (flow, left + label_width + PADDING, y + PADDING, right - left - label_width - TOTAL_WIDTH - 2.0 * PADDING, row->lines);
  paper_place_box (document, page, PAPER_INK, 0.6, left, y, right - left, height);
  paper_place_rule (document, page, PAPER_INK, 0.6, left + label_width, y, left + label_width, y + height);
  paper_place_rule (document, page, PAPER_INK, 0.6, right - TOTAL_WIDTH, y, right - TOTAL_WIDTH, y + height);
  paper_flow_move (flow, height);
}

static gboolean
is_seen_at (const BookEvidence *e, guint issue, int step)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].issue == (int) issue && (e->findings[i].found_at == step || e->findings[i].caused_at == step))
      return TRUE;
  return e->issues[issue].found_step == step;
}

/* Issues that are not closed and were seen, or caused, at the step. */
static GPtrArray *
issues_of (const BookEvidence *e, int step)
{
  GPtrArray *issues = g_ptr_array_new ();

  for (guint i = 0; i < e->n_issues && issues->len + 1 < ISSUE_ROWS; i++)
    if (e->issues[i].closed == 0 && is_seen_at (e, i, step))
      g_ptr_array_add (issues, &e->issues[i]);
  return issues;
}

static void
set_head (PaperFlow *flow)
{
  const char *const texts[] = { _("What"), _("A tick a piece"), _("Number") };
  double left = paper_flow_left (flow), right = left + paper_flow_width (flow);
  const double lefts[] = { left, left + paper_flow_width (flow) * LABEL_SHARE, right - TOTAL_WIDTH };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr(PangoLayout) layout
          = paper_style_layout (paper_document_context (paper_flow_document (flow)), PAPER_TEXT_SMALL, texts[i], 0.0);

      paper_place_lines (paper_flow_document (flow), paper_flow_page (flow), layout, 0, 1, PAPER_INK, lefts[i] + PADDING - 1.0,
                         paper_flow_y (flow) + 2.0);
    }
  paper_flow_move (flow, HEAD_HEIGHT);
}

static void
set_step (const Bench *bench, PaperFlow *flow, int step)
{
  const BookEvidence *e = bench->evidence;
  const char *const boxes[] = { _("Pieces in"), _("Day"), _("Minutes"), _("Set-up minutes"), _("Rework minutes"), _("Initials"), NULL };
  const char *bench_name = bench_of_step (bench, &e->steps[step]);
  guint in_line = paper_flow_count_ticks (paper_flow_width (flow) * (1.0 - LABEL_SHARE) - TOTAL_WIDTH - 2.0 * PADDING);
  guint pieces = (guint) MAX (e->rounds[bench->round].planned_units, 1);
  guint lines = CLAMP ((pieces + in_line - 1) / in_line, 1, LINES_MOST);
  g_autoptr(GPtrArray) issues = issues_of (e, step);
  g_autoptr(GArray) rows = g_array_new (FALSE, FALSE, sizeof (Row));
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *name = g_strdup_printf ("%d %s%s%s", e->steps[step].position, e->steps[step].name, bench_name[0] != '\0' ? " · " : "",
                                           bench_name);
  Row row = { _("Good first time"), lines, FALSE };
  double height = HEAD_HEIGHT + 2.0 * PAPER_FORM_ROW + 22.0;

  g_array_append_val (rows, row);
  row = (Row) { _("Good after rework"), 1, FALSE };
  g_array_append_val (rows, row);
  row = (Row) { _("Waiting"), 1, FALSE };
  g_array_append_val (rows, row);
  row = (Row) { _("Scrapped"), 1, FALSE };
  g_array_append_val (rows, row);
  for (guint i = 0; i < ISSUE_ROWS; i++)
    {
      const BookEvidenceIssue *issue = i < issues->len ? issues->pdata[i] : NULL;
      char *text = issue != NULL ? g_strdup_printf (_("Issue %d, %s"), issue->no, issue->title) : g_strdup (_("Issue:"));

      g_ptr_array_add (texts, text);
      row = (Row) { text, 1, TRUE };
      g_array_append_val (rows, row);
    }
  for (guint i = 0; i < rows->len; i++)
    height += row_height (&g_array_index (rows, Row, i));
  bench_heading (flow, name, height);
  set_head (flow);
  for (guint i = 0; i < rows->len; i++)
    set_row (flow, &g_array_index (rows, Row, i));
  paper_flow_move (flow, 6.0);
  bench_boxes (flow, boxes);
}

void
bench_set_tally_sheet (const Bench *bench, PaperFlow *flow)
{
  const BookEvidence *e = bench->evidence;
  const BookEvidenceRound *round = &e->rounds[bench->round];
  g_autofree char *title = g_strdup_printf (ngettext ("Round %s, %d unit", "Round %s, %d units", (gulong) round->planned_units), round->label,
                                            round->planned_units);

  bench_begin (bench, flow, title);
  bench_remark (flow, _("A tick a piece, and the number at the end. A piece that is not good the first time is ticked again at its issue."));
  for (guint s = 0; s < e->n_steps; s++)
    if (!insight_tally_has_serials (e, bench->round, (int) s))
      set_step (bench, flow, (int) s);
}
