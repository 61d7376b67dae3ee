/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-limits-private.h"

#include <math.h>

/**
 * insight_limit_rows:
 * @evidence: the records
 * @characteristic: a characteristic
 *
 * Returns: where its limits stand, by date; an empty range when it has none
 */
InsightLimitRows
insight_limit_rows (const BookEvidence *evidence, int characteristic)
{
  InsightLimitRows rows = { 0, 0 };

  while (rows.first < evidence->n_limits && evidence->limits[rows.first].characteristic != characteristic)
    rows.first++;
  rows.end = rows.first;
  while (rows.end < evidence->n_limits && evidence->limits[rows.end].characteristic == characteristic)
    rows.end++;
  return rows;
}

/**
 * insight_limit_on:
 * @evidence: the records
 * @rows: where the limits of a characteristic stand
 * @day: a day
 *
 * Returns: the row in force on @day, -1 when there is none yet
 */
int
insight_limit_on (const BookEvidence *evidence, InsightLimitRows rows, BookDay day)
{
  int found = -1;

  for (guint i = rows.first; i < rows.end && evidence->limits[i].from <= day; i++)
    found = (int) i;
  return found;
}

/* Whether anything lies inside the limits of row @now that lay outside those of row @then. */
gboolean
insight_limit_is_wider (const BookEvidence *evidence, int now, int then)
{
  return now >= 0 && then >= 0
         && (evidence->limits[now].lower < evidence->limits[then].lower
             || evidence->limits[now].upper > evidence->limits[then].upper);
}

/* Whether a check made to row @then was made to other limits than those of row @now. */
gboolean
insight_limit_differs (const BookEvidence *evidence, int now, int then)
{
  return now >= 0 && then >= 0
         && !(evidence->limits[now].lower == evidence->limits[then].lower
              && evidence->limits[now].upper == evidence->limits[then].upper);
}

/* Whether of any row it is known when it was entered. */
gboolean
insight_limit_has_entries (const BookEvidence *evidence, InsightLimitRows rows)
{
  for (guint i = 0; i < evidence->n_boundaries; i++)
    if (evidence->boundaries[i].kind == BOOK_BOUNDARY_LIMIT && evidence->boundaries[i].record >= (int) rows.first
        && evidence->boundaries[i].record < (int) rows.end)
      return TRUE;
  return FALSE;
}

/* Whether @row was entered after the reading with that key. */
gboolean
insight_limit_came_later (const BookEvidence *evidence, int row, gint64 reading)
{
  for (guint i = 0; i < evidence->n_boundaries; i++)
    if (evidence->boundaries[i].kind == BOOK_BOUNDARY_LIMIT && evidence->boundaries[i].record == row
        && book_boundary_is_before (&evidence->boundaries[i], reading))
      return TRUE;
  return FALSE;
}

/**
 * insight_resolution:
 * @evidence: the records
 * @characteristic: a characteristic
 *
 * Returns: the resolution of its usual gauge, else of the gauge of its first reading; 0 when neither is known
 */
double
insight_resolution (const BookEvidence *evidence, int characteristic)
{
  const BookEvidenceCharacteristic *one = &evidence->characteristics[characteristic];
  int gauge = one->gauge;

  if (gauge < 0 && one->first_reading < one->end_reading)
    gauge = evidence->readings[one->first_reading].gauge;
  if (gauge < 0 || isnan (evidence->gauges[gauge].resolution))
    return 0.0;
  return evidence->gauges[gauge].resolution;
}

/**
 * insight_gauge_state:
 * @evidence: the records
 * @gauge: a gauge, -1 for none
 * @day: day of the reading, 0 when not known
 * @end: last day that is seen
 * @memo: the last answer
 *
 * A gauge is out when its newest calibration at or before the reading was not in order or is past its due date. One
 * found not in order also takes the readings since the calibration before it, until somebody excuses them by name.
 *
 * Returns: whether the reading counts
 */
InsightGaugeState
insight_gauge_state (const BookEvidence *evidence, int gauge, BookDay day, BookDay end, InsightGaugeMemo *memo)
{
  const BookEvidenceCalibration *before = NULL, *after = NULL;

  if (gauge < 0 || day == 0)
    return INSIGHT_GAUGE_IN_ORDER;
  if (memo->gauge == gauge && memo->day == day)
    return memo->state;

  for (guint i = 0; i < evidence->n_calibrations; i++)
    {
      const BookEvidenceCalibration *one = &evidence->calibrations[i];

      if (one->gauge != gauge || one->day > end)
        continue;
      if (one->day <= day && (before == NULL || one->day >= before->day))
        before = one;
      if (one->day > day && (after == NULL || one->day < after->day))
        after = one;
    }
  memo->gauge = gauge;
  memo->day = day;
  memo->state = INSIGHT_GAUGE_IN_ORDER;
  memo->calibration = -1;
  if (after != NULL && !after->in_order)
    {
      gboolean excused = after->excused_by >= 0 && MAX (after->excused_on, after->day) <= end;

      memo->state = excused ? INSIGHT_GAUGE_EXCUSED : INSIGHT_GAUGE_OUT;
      memo->calibration = (int) (after - evidence->calibrations);
    }
  if (before != NULL && (!before->in_order || (before->due != 0 && before->due < day)))
    memo->state = INSIGHT_GAUGE_OUT;
  return memo->state;
}
