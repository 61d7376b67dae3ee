/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of a chart. A chart without one is still told: each mark with words is then a row of one cell, in the order
 * in which the arrow keys walk them. Rows of many thousand marks are made when somebody asks, not with every refresh.
 */
#include "chart-table.h"

#include "chart-private.h"

struct _ChartTexts
{
  const char       *summary;
  ChartTableColumn *columns;
  guint             n_columns;
  GPtrArray        *cells; /* row by row; texts of the chart's chunk */
  ChartTableFill    fill;
  gpointer          user_data;
  gboolean          filled;
};

static ChartTexts *
texts_of (Chart *chart)
{
  if (chart->texts == NULL)
    {
      chart->texts = g_new0 (ChartTexts, 1);
      chart->texts->cells = g_ptr_array_new ();
    }
  return chart->texts;
}

void
chart_texts_free (ChartTexts *texts)
{
  if (texts == NULL)
    return;
  g_ptr_array_unref (texts->cells);
  g_free (texts->columns);
  g_free (texts);
}

/**
 * chart_set_summary:
 * @chart: a chart
 * @sentence: (nullable): what it shows, in one sentence; copied
 *
 * What a screen reader says while no mark has the focus.
 */
void
chart_set_summary (Chart *chart, const char *sentence)
{
  g_return_if_fail (chart != NULL);

  texts_of (chart)->summary = chart_keep (chart, sentence);
}

/**
 * chart_get_summary:
 * @chart: a chart
 *
 * Returns: (nullable) (transfer none): the sentence that sums it up
 */
const char *
chart_get_summary (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return chart->texts != NULL ? chart->texts->summary : NULL;
}

/**
 * chart_table_begin:
 * @chart: a chart
 * @columns: (array length=n_columns): from the left; copied
 * @n_columns: how many, at least 1
 *
 * Begins its table anew, without rows.
 */
void
chart_table_begin (Chart *chart, const ChartTableColumn *columns, guint n_columns)
{
  ChartTexts *texts;

  g_return_if_fail (chart != NULL && columns != NULL && n_columns > 0);

  texts = texts_of (chart);
  g_free (texts->columns);
  texts->columns = g_new0 (ChartTableColumn, n_columns);
  texts->n_columns = n_columns;
  for (guint i = 0; i < n_columns; i++)
    texts->columns[i] = (ChartTableColumn){ chart_keep (chart, columns[i].head), columns[i].figures };
  g_ptr_array_set_size (texts->cells, 0);
  texts->fill = NULL;
  texts->filled = TRUE;
}

/**
 * chart_table_add:
 * @chart: a chart whose table was begun
 * @cells: (array): a text for each column, %NULL for an empty cell; copied
 *
 * Adds a row.
 */
void
chart_table_add (Chart *chart, const char *const *cells)
{
  g_return_if_fail (chart != NULL && chart->texts != NULL && chart->texts->n_columns > 0);

  for (guint i = 0; i < chart->texts->n_columns; i++)
    g_ptr_array_add (chart->texts->cells,
                     cells[i] == NULL || *cells[i] == '\0'
                         ? (gpointer) ""
                         : g_string_chunk_insert_const (chart->strings, cells[i]));
}

/**
 * chart_table_set_fill:
 * @chart: a chart whose table was begun
 * @fill: adds the rows
 * @user_data: for @fill; must live as long as the chart
 *
 * Puts the rows off until they are asked for.
 */
void
chart_table_set_fill (Chart *chart, ChartTableFill fill, gpointer user_data)
{
  g_return_if_fail (chart != NULL && chart->texts != NULL && chart->texts->n_columns > 0);

  chart->texts->fill = fill;
  chart->texts->user_data = user_data;
  chart->texts->filled = FALSE;
}

static void
fill_from_marks (Chart *chart)
{
  const ChartTableColumn column = { NULL, FALSE };

  chart_table_begin (chart, &column, 1);
  for (guint i = 0; i < chart->n_marks; i++)
    {
      const char *words = chart->words[chart->order[i]];

      if (words != NULL)
        chart_table_add (chart, &words);
    }
}

static ChartTexts *
filled (Chart *chart)
{
  ChartTexts *texts = texts_of (chart);

  if (texts->n_columns == 0)
    fill_from_marks (chart);
  else if (!texts->filled)
    {
      texts->filled = TRUE;
      texts->fill (chart, texts->user_data);
    }
  return texts;
}

/**
 * chart_table_columns:
 * @chart: a chart
 *
 * Returns: how many columns its table has
 */
guint
chart_table_columns (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, 0);

  return filled (chart)->n_columns;
}

/**
 * chart_table_rows:
 * @chart: a chart
 *
 * Returns: how many rows its table has
 */
guint
chart_table_rows (Chart *chart)
{
  const ChartTexts *texts;

  g_return_val_if_fail (chart != NULL, 0);

  texts = filled (chart);
  return texts->cells->len / texts->n_columns;
}

/**
 * chart_table_head:
 * @chart: a chart
 * @column: from 0
 *
 * Returns: (transfer none): the head of a column, '' where it has none
 */
const char *
chart_table_head (Chart *chart, guint column)
{
  const ChartTexts *texts;

  g_return_val_if_fail (chart != NULL, "");

  texts = filled (chart);
  return column < texts->n_columns && texts->columns[column].head != NULL ? texts->columns[column].head : "";
}

/**
 * chart_table_figures:
 * @chart: a chart
 * @column: from 0
 *
 * Returns: whether a column holds figures
 */
gboolean
chart_table_figures (Chart *chart, guint column)
{
  const ChartTexts *texts;

  g_return_val_if_fail (chart != NULL, FALSE);

  texts = filled (chart);
  return column < texts->n_columns && texts->columns[column].figures;
}

/**
 * chart_table_cell:
 * @chart: a chart
 * @row: from 0
 * @column: from 0
 *
 * Returns: (transfer none): the text of a cell, '' for none
 */
const char *
chart_table_cell (Chart *chart, guint row, guint column)
{
  const ChartTexts *texts;

  g_return_val_if_fail (chart != NULL, "");

  texts = filled (chart);
  if (column >= texts->n_columns || row >= texts->cells->len / texts->n_columns)
    return "";
  return texts->cells->pdata[(gsize) row * texts->n_columns + column];
}

/* A tab or the end of a line within a text would begin another cell. */
static void
append_cell (GString *text, const char *cell, gboolean last)
{
  for (; *cell != '\0'; cell++)
    g_string_append_c (text, *cell == '\t' || *cell == '\n' || *cell == '\r' ? ' ' : *cell);
  g_string_append_c (text, last ? '\n' : '\t');
}

/**
 * chart_table_tabs:
 * @chart: a chart
 *
 * Returns: (transfer full): the table as lines of cells with tabs between, as spreadsheets take it from the clipboard
 */
char *
chart_table_tabs (Chart *chart)
{
  GString *text = g_string_new (NULL);
  const ChartTexts *texts;
  gboolean heads = FALSE;

  g_return_val_if_fail (chart != NULL, g_string_free (text, FALSE));

  texts = filled (chart);
  for (guint c = 0; c < texts->n_columns; c++)
    heads = heads || texts->columns[c].head != NULL;
  for (guint c = 0; heads && c < texts->n_columns; c++)
    append_cell (text, chart_table_head (chart, c), c + 1 == texts->n_columns);
  for (guint i = 0; i < texts->cells->len; i++)
    append_cell (text, texts->cells->pdata[i], (i + 1) % texts->n_columns == 0);
  return g_string_free (text, FALSE);
}
