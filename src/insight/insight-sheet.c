/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-sheet.h"

#include "book-day.h"
#include "insight-limits-private.h"

#include <math.h>

void
insight_sheet_free (InsightSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_array_unref (sheet->columns);
  g_array_unref (sheet->rows);
  g_free (sheet->cells);
  g_free (sheet);
}

const InsightSheetCell *
insight_sheet_cell (const InsightSheet *sheet, guint row, guint column)
{
  return &sheet->cells[(gsize) row * sheet->columns->len + column];
}

/* The row of a unit; -1: it is not on the sheet. */
int
insight_sheet_find (const InsightSheet *sheet, int unit)
{
  for (guint r = 0; unit >= 0 && r < sheet->rows->len; r++)
    if (g_array_index (sheet->rows, InsightSheetRow, r).unit == unit)
      return (int) r;
  return -1;
}

/* What is cycled before it is read has readings of its own: that is no life. */
static gboolean
is_life (const BookEvidence *e, guint number)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[number];

  if (one->first_reading < one->end_reading)
    return FALSE;
  for (guint i = 0; i < e->n_life_tests; i++)
    if (e->life_tests[i].characteristic == (int) number)
      return TRUE;
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].characteristic == (int) number && e->tests[i].cycles > 0.0)
      return TRUE;
  return FALSE;
}

static void
add_columns (const BookEvidence *e, InsightSheet *sheet, BookDay today)
{
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *one = &e->characteristics[c];
      int limit = insight_limit_on (e, insight_limit_rows (e, (int) c), today);
      InsightSheetColumn column = { .index = c, .id = one->id, .code = one->code, .name = one->name, .unit = one->unit,
                                    .decimals = one->decimals, .kind = one->kind, .klass = one->klass };

      column.lower = limit >= 0 ? e->limits[limit].lower : -INFINITY;
      column.upper = limit >= 0 ? e->limits[limit].upper : INFINITY;
      column.gauge = one->gauge >= 0 ? e->gauges[one->gauge].name : "";
      column.is_life = is_life (e, c);
      g_array_append_val (sheet->columns, column);
    }
}

static gboolean
has_serial (const InsightSheet *sheet, const char *serial)
{
  for (guint r = 0; r < sheet->rows->len; r++)
    if (g_str_equal (g_array_index (sheet->rows, InsightSheetRow, r).serial, serial))
      return TRUE;
  return FALSE;
}

/* What is built, then what the plan names already, then as many as are planned beside these. */
static void
add_rows (const BookEvidence *e, InsightSheet *sheet, int round)
{
  InsightSheetRow row;

  for (guint u = 0; u < e->n_units; u++)
    if (e->units[u].round == round && e->units[u].part < 0)
      {
        row = (InsightSheetRow) { (int) u, e->units[u].serial };
        g_array_append_val (sheet->rows, row);
      }
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].round == round && e->tests[i].unit < 0 && e->tests[i].serial[0] != '\0' && !has_serial (sheet, e->tests[i].serial))
      {
        row = (InsightSheetRow) { -1, e->tests[i].serial };
        g_array_append_val (sheet->rows, row);
      }
  row = (InsightSheetRow) { -1, "" };
  while ((int) sheet->rows->len < e->rounds[round].planned_units)
    g_array_append_val (sheet->rows, row);
}

static gboolean
is_test_of (const BookEvidenceTest *test, const InsightSheetRow *row)
{
  return row->unit >= 0 ? test->unit == row->unit : row->serial[0] != '\0' && g_str_equal (test->serial, row->serial);
}

/* Readings stand by attempt: the last one that is not voided is the unit's. */
static void
read_cell (const BookEvidence *e, const InsightSheetColumn *column, const InsightSheetRow *row, BookDay today, InsightSheetCell *cell)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[column->index];
  guint attempt = 0;

  for (guint i = one->first_reading; row->unit >= 0 && i < one->end_reading; i++)
    {
      const BookEvidenceReading *reading = &e->readings[i];

      if (reading->unit != (guint32) row->unit || reading->voided || reading->day > today)
        continue;
      if (cell->state != INSIGHT_SHEET_READ || reading->attempt != attempt)
        {
          cell->state = INSIGHT_SHEET_READ;
          cell->value = reading->value;
          cell->mark = (BookMark) reading->mark;
          cell->n = 0;
        }
      attempt = reading->attempt;
      cell->n++;
    }
  for (guint i = 0; row->unit >= 0 && i < e->n_life_tests && cell->state != INSIGHT_SHEET_READ; i++)
    if (e->life_tests[i].unit == row->unit && e->life_tests[i].characteristic == (int) column->index && e->life_tests[i].day <= today)
      *cell = (InsightSheetCell) { INSIGHT_SHEET_READ, cell->is_planned, e->life_tests[i].cycles, BOOK_MARK_MEASURED, 1 };
}

static void
fill_cell (const BookEvidence *e, int round, const InsightSheetColumn *column, const InsightSheetRow *row, BookDay today,
           InsightSheetCell *cell)
{
  gboolean chosen = FALSE;

  *cell = (InsightSheetCell) { .value = NAN };
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].round == round && e->tests[i].characteristic == (int) column->index)
      {
        chosen = TRUE;
        cell->is_planned |= is_test_of (&e->tests[i], row);
      }
  if (!cell->is_planned && (chosen || column->is_life || e->characteristics[column->index].destructive))
    cell->state = INSIGHT_SHEET_LEFT_OUT;
  read_cell (e, column, row, today, cell);
}

/**
 * insight_sheet_new:
 * @evidence: with the readings
 * @round: key of a round
 * @today: ISO 8601: limits in force then; what was read later is not known
 *
 * Where a plan says which units are tested for a characteristic only those are asked; one that destroys the unit, and a life,
 * is never asked of others. A round without units has a row for each that is planned.
 *
 * Returns: (transfer full) (nullable): the sheet; %NULL when there is no such round
 */
InsightSheet *
insight_sheet_new (const BookEvidence *evidence, gint64 round, const char *today)
{
  InsightSheet *sheet;
  BookDay day = book_day_parse (today, NULL);
  int number = book_evidence_find (evidence, rounds, round);

  if (number < 0)
    return NULL;
  sheet = g_new0 (InsightSheet, 1);
  sheet->columns = g_array_new (FALSE, TRUE, sizeof (InsightSheetColumn));
  sheet->rows = g_array_new (FALSE, TRUE, sizeof (InsightSheetRow));
  add_columns (evidence, sheet, day);
  add_rows (evidence, sheet, number);
  sheet->cells = g_new0 (InsightSheetCell, (gsize) sheet->rows->len * sheet->columns->len + 1);
  for (guint r = 0; r < sheet->rows->len; r++)
    for (guint c = 0; c < sheet->columns->len; c++)
      {
        InsightSheetColumn *column = &g_array_index (sheet->columns, InsightSheetColumn, c);
        InsightSheetCell *cell = &sheet->cells[(gsize) r * sheet->columns->len + c];

        fill_cell (evidence, number, column, &g_array_index (sheet->rows, InsightSheetRow, r), day, cell);
        column->is_wanted |= cell->state != INSIGHT_SHEET_LEFT_OUT;
      }
  return sheet;
}
