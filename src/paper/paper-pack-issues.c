/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>

#include "present-chart.h"

/* Where the issues stand by the units, and each characteristic through the rounds: those of criteria that block first. */

void
pack_set_issues (Pack *pack, PaperFlow *flow)
{
  const PresentIssues *issues = pack->dossier->issues;
  g_autoptr(PresentSheet) sheet = present_sheet_new ("");

  pack_section (pack, flow, _("Issues"), "issues", 80.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, *issues->headline != '\0' ? issues->headline : _("No issue was written down."));
  present_sheet_add_column (sheet, _("issue"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("class"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("found"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("state"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("what the units say"), FALSE, TRUE, 0);
  for (guint i = 0; i < issues->rows->len; i++)
    {
      const PresentIssueRow *row = issues->rows->pdata[i];

      present_sheet_add_row (sheet, "issue", row->data->id, FALSE,
                             PRESENT_CELLS (g_strdup_printf ("%s %s", row->no, row->title), g_strdup (row->klass), g_strdup (row->found_round),
                                            g_strdup_printf ("%s %s", row->mark, row->state), present_issue_sentence (row->data)));
    }
  pack_sheet (pack, flow, sheet);
}

/* ---- characteristics ---- */

static gboolean
is_drawn (const InsightWallItem *item)
{
  return item->series->n_marks > 0;
}

static char *
target_of (const InsightSeries *series)
{
  return g_strdup_printf ("chart-%" G_GINT64_FORMAT, series->characteristic);
}

/* Of the criteria at first, in their order, then the others, the worst first: (element-type InsightWallItem), borrowed. */
static GPtrArray *
order_items (const Pack *pack)
{
  const InsightStanding *standing = pack->dossier->standing->data;
  const InsightWall *wall = pack->dossier->wall;
  GPtrArray *items = g_ptr_array_new ();

  for (guint turn = 0; turn < 3; turn++)
    for (guint i = 0; i < wall->n_items; i++)
      {
        const InsightWallItem *item = &wall->items[i];
        guint own = 2;

        for (guint k = 0; k < standing->criteria->len; k++)
          {
            const InsightCriterion *criterion = insight_standing_get_criterion (standing, k);

            if (criterion->characteristic == item->series->characteristic)
              own = MIN (own, criterion->blocks ? 0 : 1);
          }
        if (own == turn && is_drawn (item) && items->len < pack->measure->charts)
          g_ptr_array_add (items, (gpointer) item);
      }
  return items;
}

/* Which will be drawn, so that rows of criteria can lead there. */
void
pack_list_charts (Pack *pack)
{
  const InsightStanding *standing = pack->dossier->standing->data;
  g_autoptr(GPtrArray) items = order_items (pack);

  g_clear_pointer (&pack->leads, g_hash_table_unref);
  pack->leads = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < items->len; i++)
    for (guint k = 0; k < standing->criteria->len; k++)
      {
        const InsightWallItem *item = items->pdata[i];
        const InsightCriterion *criterion = insight_standing_get_criterion (standing, k);

        if (criterion->characteristic == item->series->characteristic)
          g_hash_table_replace (pack->leads, g_memdup2 (&criterion->id, sizeof criterion->id), target_of (item->series));
      }
}

/* A row of drawings; the targets stand where the row begins. */
static void
set_row (Pack *pack, PaperFlow *flow, GPtrArray *items, guint first)
{
  const guint n = MIN (pack->measure->columns, items->len - first);
  g_autofree PaperFigure *figures = g_new0 (PaperFigure, pack->measure->columns);
  g_autoptr(GPtrArray) captions = g_ptr_array_new_with_free_func (g_free);

  paper_flow_need (flow, pack->measure->chart_height + 40.0);
  for (guint i = 0; i < n; i++)
    {
      const InsightSeries *series = ((const InsightWallItem *) items->pdata[first + i])->series;
      g_autofree char *words = present_series_words (series), *target = target_of (series);

      g_ptr_array_add (captions, g_strdup_printf ("%s %s. %s", series->code, series->name, words));
      figures[i] = (PaperFigure) { .chart = present_chart_characteristic (series, FALSE), .height = pack->measure->chart_height,
                                   .caption = captions->pdata[i] };
      paper_place_target (paper_flow_document (flow), paper_flow_page (flow), target, paper_flow_y (flow));
    }
  paper_flow_figures (flow, figures, n, pack->measure->columns);
}

void
pack_set_charts (Pack *pack, PaperFlow *flow)
{
  g_autoptr(GPtrArray) items = order_items (pack);
  guint left = 0;

  pack_section (pack, flow, _("Characteristics"), "characteristics", pack->measure->chart_height + 60.0);
  if (items->len == 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("Nothing was measured yet."));
  else
    paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0,
                          _("Each unit in the order of build, with the limits as they were; units outside by another shape, what does not "
                            "count in a lighter line. Those of criteria come first."));
  for (guint i = 0; i < items->len; i += pack->measure->columns)
    set_row (pack, flow, items, i);
  for (guint i = 0; i < pack->dossier->wall->n_items; i++)
    left += is_drawn (&pack->dossier->wall->items[i]);
  left -= items->len;
  if (left > 0)
    {
      g_autofree char *said = g_strdup_printf (ngettext ("%u further characteristic is not drawn for want of room; the book has it.",
                                                         "%u further characteristics are not drawn for want of room; the book has them.", left), left);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, said);
    }
}
