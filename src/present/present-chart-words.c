/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings in words: the sentence and the table of those who do not see them, and of the clipboard. */

#include "config.h"

#include "present-chart-private.h"

#include "chart-table.h"
#include "present-leadtime.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>

/**
 * present_chart_say:
 * @chart: (transfer full): a drawing
 * @sentence: (nullable): what it says
 * @sheet: (nullable): its data in words: the table that the page shows beside it
 *
 * For those who do not see it, and for the clipboard.
 *
 * Returns: (transfer full): the drawing
 */
Chart *
present_chart_say (Chart *chart, const char *sentence, const PresentSheet *sheet)
{
  g_autofree ChartTableColumn *columns = NULL;

  chart_set_summary (chart, sentence);
  if (sheet == NULL || sheet->columns->len == 0)
    return chart;
  columns = g_new0 (ChartTableColumn, sheet->columns->len);
  for (guint i = 0; i < sheet->columns->len; i++)
    {
      const PresentSheetColumn *from = &g_array_index (sheet->columns, PresentSheetColumn, i);

      columns[i] = (ChartTableColumn){ from->head, from->figures };
    }
  chart_table_begin (chart, columns, sheet->columns->len);
  for (guint i = 0; i < sheet->rows->len; i++)
    chart_table_add (chart, (const char *const *) g_array_index (sheet->rows, PresentSheetRow, i).cells);
  return chart;
}

static char *
percent_words (const InsightScore *score)
{
  return score->percent < 0 ? g_strdup ("") : g_strdup_printf ("%d", score->percent);
}

/* A row a round: the score and those of the classes. */
Chart *
present_chart_say_score (Chart *chart, const InsightStanding *standing)
{
  g_autoptr(PresentSheet) sheet = present_sheet_new (_("Evidence gathered"));
  const InsightCoursePoint *last = NULL;
  g_autofree char *sentence = NULL;

  present_sheet_add_column (sheet, _("Round"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Score, of 100"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("Safety"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("Function"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("Appearance"), TRUE, FALSE, 1);
  for (guint i = 0; i < standing->course->len; i++)
    {
      const InsightCoursePoint *point = standing->course->pdata[i];

      if (point->all.percent >= 0)
        last = point;
      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (g_strdup (point->label), percent_words (&point->all), percent_words (&point->classes[0]),
                                            percent_words (&point->classes[1]), percent_words (&point->classes[2])));
    }
  sentence = last == NULL ? g_strdup (_("No round has evidence yet."))
                          /* Translators: name of a round, its score */
                          : g_strdup_printf (_("Through round %s, evidence gathered %d of 100."), last->label, last->all.percent);
  return present_chart_say (chart, sentence, sheet);
}

/* A row a round: working days, in all and by phase. */
Chart *
present_chart_say_strip (Chart *chart, const InsightDays *days)
{
  g_autoptr(PresentSheet) sheet = present_sheet_new (_("Rounds"));
  g_autofree char *sentence = NULL, *number = NULL;
  double total = 0.0;

  present_sheet_add_column (sheet, _("Round"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Working days"), TRUE, FALSE, 0);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    present_sheet_add_column (sheet, present_phase_words (p), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("Units"), TRUE, FALSE, 1);
  for (guint i = 0; i < days->n_rounds; i++)
    {
      const InsightRoundDays *round = &days->rounds[i];
      char **cells = g_new0 (char *, INSIGHT_N_PHASES + 4);

      total += MAX (round->total, 0.0);
      cells[0] = g_strdup (round->label);
      cells[1] = present_number (round->total, -1);
      for (guint p = 0; p < INSIGHT_N_PHASES; p++)
        cells[2 + p] = present_number (round->days[p], -1);
      cells[2 + INSIGHT_N_PHASES] = g_strdup_printf ("%u", round->units);
      present_sheet_add_row (sheet, NULL, 0, round->open, cells);
    }
  number = present_number (total, -1);
  sentence = days->n_rounds == 0
                 ? g_strdup (_("No round yet: the first one appears here."))
                 : g_strdup_printf (ngettext ("%u round, working days: %s.", "%u rounds, working days: %s.", days->n_rounds),
                                    days->n_rounds, number);
  return present_chart_say (chart, sentence, sheet);
}
