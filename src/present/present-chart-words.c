/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-chart.h"

#include "chart-table.h"

/**
 * present_chart_say:
 * @chart: (transfer full): a drawing
 * @sentence: what it says
 * @sheet: the table that the page shows beside it
 *
 * For those who do not see it, and for the clipboard.
 *
 * Returns: (transfer full): the drawing
 */
Chart *
present_chart_say (Chart *chart, const char *sentence, const PresentSheet *sheet)
{
  g_autoptr(GArray) columns = g_array_new (FALSE, FALSE, sizeof (ChartTableColumn));

  for (guint i = 0; i < sheet->columns->len; i++)
    {
      const PresentSheetColumn *from = &g_array_index (sheet->columns, PresentSheetColumn, i);
      ChartTableColumn column = { from->head, from->figures };

      g_array_append_val (columns, column);
    }
  chart_set_summary (chart, sentence);
  chart_table_begin (chart, (const ChartTableColumn *) (gpointer) columns->data, columns->len);
  for (guint i = 0; i < sheet->rows->len; i++)
    chart_table_add (chart, (const char *const *) g_array_index (sheet->rows, PresentSheetRow, i).cells);
  return chart;
}
