/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-entry.h"

#include "insight-bench-private.h"
#include "insight-limits-private.h"
#include "insight-span-private.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define SLIP         10.0 /* a decimal point that is one place off */
#define SLIP_FAR     3.0  /* times beyond what is usual; less may be a bad part as well */
#define SLIP_LEAST   3    /* values of others, without two limits of one sign */
#define SLIP_PADDING 0.5  /* of the span of the values, to either side */
#define SLIP_ROOM    0.1  /* of the values themselves at least: few of them lie close together by chance */

/* ---- reading the round ---- */

static void
add_gauges (InsightEntry *entry, const BookEvidence *e, BookDay today)
{
  InsightGaugeMemo memo = { .gauge = -1, .calibration = -1 };

  entry->n_gauges = e->n_gauges;
  entry->gauges = g_new0 (InsightEntryGauge, e->n_gauges + 1);
  for (guint i = 0; i < e->n_gauges; i++)
    {
      BookDay due = 0;

      for (guint k = 0; k < e->n_calibrations; k++)
        if (e->calibrations[k].gauge == (int) i && e->calibrations[k].day <= today)
          due = e->calibrations[k].due; /* by day: of the last */
      entry->gauges[i] = (InsightEntryGauge){ e->gauges[i].id, g_strdup (e->gauges[i].name),
                                              insight_gauge_state (e, (int) i, today, today, &memo) == INSIGHT_GAUGE_OUT,
                                              due != 0 ? book_day_format (due) : g_strdup ("") };
    }
}

/* The limits of a characteristic in force on @day: infinite where there is none. */
static void
limits_on (const BookEvidence *e, guint characteristic, BookDay day, InsightEntryColumn *column)
{
  int limit = insight_limit_on (e, insight_limit_rows (e, (int) characteristic), day);

  column->lower = limit >= 0 && !isnan (e->limits[limit].lower) ? e->limits[limit].lower : -INFINITY;
  column->upper = limit >= 0 && !isnan (e->limits[limit].upper) ? e->limits[limit].upper : INFINITY;
}

static void
add_columns (InsightEntry *entry, const BookEvidence *e, BookDay today)
{
  entry->columns = g_new0 (InsightEntryColumn, e->n_characteristics + 1);
  entry->n_columns = e->n_characteristics;
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *one = &e->characteristics[c];

      entry->columns[c] = (InsightEntryColumn){ .id = one->id, .code = g_strdup (one->code), .name = g_strdup (one->name),
                                                .unit = g_strdup (one->unit), .kind = one->kind, .decimals = one->decimals,
                                                .gauge = one->gauge };
      limits_on (e, c, today, &entry->columns[c]);
    }
}

/* Units of the round stand together in the evidence; @first: the index there of the first. */
static void
add_units (InsightEntry *entry, const BookEvidence *e, int round, const InsightPlace *places, guint *first)
{
  guint end = 0;

  *first = e->n_units;
  for (guint u = 0; u < e->n_units; u++)
    if (e->units[u].round == round)
      {
        *first = MIN (*first, u);
        end = u + 1;
      }
  entry->n_units = end > *first ? end - *first : 0;
  entry->units = g_new0 (InsightEntryUnit, entry->n_units + 1);
  for (guint i = 0; i < entry->n_units; i++)
    {
      InsightBenchState state = places[*first + i].state;

      entry->units[i] = (InsightEntryUnit){ e->units[*first + i].id, g_strdup (e->units[*first + i].serial),
                                            state == INSIGHT_BENCH_GONE || state == INSIGHT_BENCH_AWAY, 0 };
    }
}

/*
 * A reading belongs where a unit is still there; where the plan says who is tested for a characteristic only to those, and
 * one that destroys the unit only where the plan asks. A life test is its own reading. A later attempt belongs nowhere of
 * itself.
 */
static void
expect (InsightEntry *entry, const BookEvidence *e, int round, guint first)
{
  g_autofree gboolean *asked = g_new (gboolean, entry->n_units + 1);

  if (entry->attempt > 1 || entry->repeat > 1)
    return;
  for (guint c = 0; c < entry->n_columns; c++)
    {
      gboolean chosen = FALSE, lives = FALSE;

      for (guint i = 0; i < entry->n_units; i++)
        asked[i] = FALSE;
      for (guint i = 0; i < e->n_tests; i++)
        if (e->tests[i].characteristic == (int) c && e->tests[i].round == round)
          {
            chosen = TRUE;
            if (e->tests[i].unit >= (int) first && e->tests[i].unit < (int) (first + entry->n_units))
              asked[e->tests[i].unit - (int) first] = TRUE;
          }
      for (guint i = 0; i < e->n_life_tests && !lives; i++)
        lives = e->life_tests[i].characteristic == (int) c;
      for (guint i = 0; i < entry->n_units; i++)
        insight_entry_cell (entry, i, c)->expected
            = !entry->units[i].gone && !lives && (chosen ? asked[i] : !e->characteristics[c].destructive && e->units[first + i].part < 0);
    }
}

/*
 * Repeats count by what stands: of the attempt's readings that are not voided the one at the place of the repeat wanted;
 * without one the next reading gets the number after the last, voided ones included, since each number stands once.
 */
static void
read_cells (InsightEntry *entry, const BookEvidence *e, guint first)
{
  g_autofree guint *standing = g_new (guint, entry->n_units + 1);

  for (guint c = 0; c < entry->n_columns; c++)
    {
      for (guint i = 0; i < entry->n_units; i++)
        {
          standing[i] = 0;
          *insight_entry_cell (entry, i, c) = (InsightEntryCell){ .value = NAN, .mark = BOOK_MARK_MEASURED, .n = 1 };
        }
      for (guint i = e->characteristics[c].first_reading; i < e->characteristics[c].end_reading; i++)
        {
          const BookEvidenceReading *reading = &e->readings[i];
          guint unit = reading->unit - first;
          InsightEntryCell *cell;

          if (reading->unit < first || unit >= entry->n_units)
            continue;
          cell = insight_entry_cell (entry, unit, c);
          entry->attempts = MAX (entry->attempts, reading->attempt);
          if (reading->attempt != entry->attempt)
            {
              cell->others += !reading->voided;
              continue;
            }
          if (cell->reading != 0)
            {
              cell->others += !reading->voided;
              continue;
            }
          cell->n = reading->n + 1u;
          if (!reading->voided && ++standing[unit] < entry->repeat)
            {
              cell->others++;
              cell->voided = 0;
              cell->value = NAN;
              continue;
            }
          *(reading->voided ? &cell->voided : &cell->reading) = reading->id;
          cell->value = reading->value;
          cell->mark = (BookMark) reading->mark;
          if (!reading->voided)
            {
              cell->n = reading->n;
              cell->voided = 0;
            }
        }
    }
}

static gboolean
is_measured (const InsightEntryCell *cell)
{
  return cell->reading != 0 && cell->mark == BOOK_MARK_MEASURED && !isnan (cell->value);
}

static void
count (InsightEntry *entry)
{
  for (guint i = 0; i < entry->n_units; i++)
    for (guint c = 0; c < entry->n_columns; c++)
      {
        const InsightEntryCell *cell = insight_entry_cell (entry, i, c);

        entry->columns[c].n_values += is_measured (cell);
        if (!cell->expected || cell->reading != 0)
          continue;
        entry->units[i].missing++;
        entry->columns[c].missing++;
        entry->missing++;
      }
}

/**
 * insight_entry:
 * @evidence: of the model, with readings
 * @round: key
 * @attempt: of the readings, from 1
 * @repeat: the how manieth of the attempt's readings that stand, from 1
 * @today: ISO 8601
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the round as it is filled in; %INSIGHT_ERROR_DATE, %INSIGHT_ERROR_ROUND
 */
InsightEntry *
insight_entry (const BookEvidence *evidence, gint64 round, guint attempt, guint repeat, const char *today, GError **error)
{
  InsightSpan span = { round, today };
  g_autofree InsightPlace *places = NULL;
  InsightEntry *entry;
  int through, at = book_evidence_find (evidence, rounds, round);
  BookDay day;
  guint first;

  if (!insight_span_resolve (evidence, &span, &through, &day, error))
    return NULL;
  day = book_day_parse (today, NULL);
  entry = g_new0 (InsightEntry, 1);
  entry->round = round;
  entry->label = g_strdup (at >= 0 ? evidence->rounds[at].label : "");
  entry->attempt = attempt;
  entry->repeat = repeat;
  entry->attempts = MAX (1, attempt);
  places = insight_bench_places (evidence, day);
  add_gauges (entry, evidence, day);
  add_columns (entry, evidence, day);
  add_units (entry, evidence, at, places, &first);
  entry->cells = g_new0 (InsightEntryCell, (gsize) entry->n_units * entry->n_columns + 1);
  read_cells (entry, evidence, first);
  expect (entry, evidence, at, first);
  count (entry);
  return entry;
}

void
insight_entry_free (InsightEntry *entry)
{
  if (entry == NULL)
    return;

  for (guint i = 0; i < entry->n_columns; i++)
    {
      g_free (entry->columns[i].code);
      g_free (entry->columns[i].name);
      g_free (entry->columns[i].unit);
    }
  for (guint i = 0; i < entry->n_units; i++)
    g_free (entry->units[i].serial);
  for (guint i = 0; i < entry->n_gauges; i++)
    {
      g_free (entry->gauges[i].name);
      g_free (entry->gauges[i].due);
    }
  g_free (entry->columns);
  g_free (entry->units);
  g_free (entry->gauges);
  g_free (entry->cells);
  g_free (entry->label);
  g_free (entry);
}

InsightEntryCell *
insight_entry_cell (const InsightEntry *entry, guint unit, guint column)
{
  return &entry->cells[(gsize) unit * entry->n_columns + column];
}

/**
 * insight_entry_put:
 * @entry: the round
 * @unit: row of the cell
 * @column: of the cell
 * @reading: key of the reading that was stored there
 * @mark: of it
 * @value: of it; NAN for a check
 *
 * Takes in what was stored, until the round is read anew.
 */
void
insight_entry_put (InsightEntry *entry, guint unit, guint column, gint64 reading, BookMark mark, double value)
{
  InsightEntryCell *cell = insight_entry_cell (entry, unit, column);

  if (cell->reading == 0 && cell->expected)
    {
      entry->units[unit].missing--;
      entry->columns[column].missing--;
      entry->missing--;
    }
  entry->columns[column].n_values -= is_measured (cell);
  cell->reading = reading;
  cell->voided = 0;
  cell->mark = mark;
  cell->value = value;
  entry->columns[column].n_values += is_measured (cell);
  entry->columns[column].n_usual = 0;
}

/* ---- judging ---- */

/**
 * insight_entry_judge:
 * @column: a characteristic
 * @mark: of the reading
 * @value: in the unit of the characteristic; not looked at for a check
 *
 * A value beyond the range of the gauge is judged only where all that it may be lies on one side.
 *
 * Returns: how it stands against the limits in force
 */
InsightEntryJudged
insight_entry_judge (const InsightEntryColumn *column, BookMark mark, double value)
{
  switch (mark)
    {
    case BOOK_MARK_PASSED:
      return INSIGHT_ENTRY_INSIDE;
    case BOOK_MARK_FAILED:
      return INSIGHT_ENTRY_FAILED;
    case BOOK_MARK_ABOVE:
      return value >= column->upper                              ? INSIGHT_ENTRY_ABOVE
             : isinf (column->upper) && value >= column->lower   ? INSIGHT_ENTRY_INSIDE
                                                                 : INSIGHT_ENTRY_OPEN;
    case BOOK_MARK_BELOW:
      return value <= column->lower                              ? INSIGHT_ENTRY_BELOW
             : isinf (column->lower) && value <= column->upper   ? INSIGHT_ENTRY_INSIDE
                                                                 : INSIGHT_ENTRY_OPEN;
    case BOOK_MARK_MEASURED:
      break;
    }
  if (isinf (column->lower) && isinf (column->upper))
    return INSIGHT_ENTRY_OPEN;
  return value > column->upper ? INSIGHT_ENTRY_ABOVE : value < column->lower ? INSIGHT_ENTRY_BELOW : INSIGHT_ENTRY_INSIDE;
}

/**
 * insight_entry_judge_reading:
 * @evidence: of the model, with readings
 * @reading: key
 * @today: ISO 8601
 *
 * Judges one reading as the grid shows it, whether it counts for anything or not.
 *
 * Returns: how it stands against the limits in force; %INSIGHT_ENTRY_EMPTY: there is no such reading of the model
 */
InsightEntryJudged
insight_entry_judge_reading (const BookEvidence *evidence, gint64 reading, const char *today)
{
  int at = book_evidence_find (evidence, readings, reading);
  InsightEntryColumn column = { 0 };
  guint of = 0;

  if (at < 0)
    return INSIGHT_ENTRY_EMPTY;
  while (of < evidence->n_characteristics && (guint) at >= evidence->characteristics[of].end_reading)
    of++; /* readings stand by characteristic */
  limits_on (evidence, of, book_day_parse (today, NULL), &column);
  return insight_entry_judge (&column, (BookMark) evidence->readings[at].mark, evidence->readings[at].value);
}

/*
 * The least and the greatest of the values of a column that are not themselves three times as far out as the median: a slip
 * that was let pass must not make the next one usual. Read again only when a value was stored, since a frame asks for every
 * cell that it draws. FALSE: none lies near the median.
 */
static gboolean
read_usual (const InsightEntry *entry, guint column)
{
  InsightEntryColumn *one = &entry->columns[column];
  g_autofree double *values = NULL;
  double median;
  guint n = 0;

  if (one->n_usual == one->n_values)
    return one->usual[0] <= one->usual[1];
  values = g_new (double, one->n_values);
  for (guint i = 0; i < entry->n_units; i++)
    if (is_measured (insight_entry_cell (entry, i, column)))
      values[n++] = insight_entry_cell (entry, i, column)->value;
  gsl_sort (values, 1, n);
  median = gsl_stats_median_from_sorted_data (values, 1, n);
  one->usual[0] = INFINITY;
  one->usual[1] = -INFINITY;
  for (guint i = 0; i < n; i++)
    if (median == 0.0 || (fabs (values[i]) < SLIP_FAR * fabs (median) && SLIP_FAR * fabs (values[i]) > fabs (median)))
      {
        one->usual[0] = MIN (one->usual[0], values[i]);
        one->usual[1] = MAX (one->usual[1], values[i]);
      }
  one->n_usual = n;
  return one->usual[0] <= one->usual[1];
}

/*
 * What is usual for a characteristic: between its limits where there are two of one sign, else what the units have, with
 * some room; FALSE while too few others have a value.
 */
static gboolean
usual_range (const InsightEntry *entry, guint unit, guint column, double *low, double *high)
{
  const InsightEntryColumn *one = &entry->columns[column];

  if (isfinite (one->lower) && isfinite (one->upper) && one->lower * one->upper > 0.0)
    {
      *low = one->lower;
      *high = one->upper;
      return TRUE;
    }
  if (one->n_values - is_measured (insight_entry_cell (entry, unit, column)) < SLIP_LEAST || !read_usual (entry, column))
    return FALSE;
  *low = one->usual[0];
  *high = one->usual[1];
  if (isfinite (one->lower) && isfinite (one->upper)) /* of two signs, or from 0 on */
    {
      *low = MIN (*low, one->lower);
      *high = MAX (*high, one->upper);
    }
  else
    {
      double room = MAX (SLIP_PADDING * (*high - *low), SLIP_ROOM * MAX (fabs (*low), fabs (*high)));

      *low -= room;
      *high += room;
    }
  return TRUE;
}

/**
 * insight_entry_slip:
 * @entry: the round
 * @unit: row of the cell
 * @column: of the cell
 * @value: that was measured
 *
 * A value looks like a slipped decimal point when it lies far from what is usual and would be usual with the point one
 * place further.
 *
 * Returns: what may be meant; NAN: nothing is strange
 */
double
insight_entry_slip (const InsightEntry *entry, guint unit, guint column, double value)
{
  double low, high;

  if (isnan (value) || value == 0.0 || !usual_range (entry, unit, column, &low, &high))
    return NAN;
  if (fabs (value) >= SLIP_FAR * MAX (fabs (low), fabs (high)) && value / SLIP >= low && value / SLIP <= high)
    return value / SLIP;
  if (low * high > 0.0 && fabs (value) * SLIP_FAR <= MIN (fabs (low), fabs (high)) && value * SLIP >= low && value * SLIP <= high)
    return value * SLIP;
  return NAN;
}
