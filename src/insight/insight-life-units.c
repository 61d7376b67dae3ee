/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-life-private.h"

#include "insight-counting-private.h"

#include <math.h>

/*
 * A unit lives once: its first test of the characteristic counts. Which state of design it is of, whether it was excused
 * or altered before, follows the rules of all other evidence.
 */

/* A test has a day and no time. */
static InsightCounting
counting_of (const InsightLook *look, const BookEvidenceLifeTest *test, BookCountsFrom counts_from)
{
  guint unit = (guint) test->unit;
  InsightCounting counting = insight_counting_of (look, test->characteristic, unit, counts_from);

  if (counting == INSIGHT_COUNTS && insight_is_altered (look, test->characteristic, unit, test->day, -1))
    return INSIGHT_NOT_ALTERED;
  return counting;
}

/**
 * insight_life_units:
 * @look: a look
 * @characteristic: what is tested
 * @counts_from: kinds of rounds that count
 * @load: asked for; NAN: any
 *
 * Returns: (transfer full) (element-type InsightLifeUnit): units with a test, by its day and number
 */
GArray *
insight_life_units (const InsightLook *look, int characteristic, BookCountsFrom counts_from, double load)
{
  const BookEvidence *e = look->basis->e;
  g_autofree int *planned = insight_planned_tests (e, characteristic);
  g_autofree guint8 *seen = g_new0 (guint8, e->n_units + 1);
  GArray *units = g_array_new (FALSE, FALSE, sizeof (InsightLifeUnit));

  for (guint i = 0; i < e->n_life_tests; i++)
    {
      const BookEvidenceLifeTest *test = &e->life_tests[i];
      InsightLifeUnit unit;

      if (test->unit < 0 || test->characteristic != characteristic || test->day > look->end
          || e->units[test->unit].round > look->through || seen[test->unit])
        continue;
      seen[test->unit] = 1;
      unit = (InsightLifeUnit){ .unit = (guint) test->unit,
                                .test = i,
                                .day = test->day,
                                .cycles = test->cycles,
                                .failed = test->ended == BOOK_LIFE_FAILED,
                                .mode = test->ended == BOOK_LIFE_FAILED ? test->issue : -1,
                                .planned = planned[test->unit] >= 0 ? e->tests[planned[test->unit]].cycles : (double) NAN,
                                .counting = counting_of (look, test, counts_from) };
      unit.short_load = !unit.failed && !isnan (load) && !(test->load >= load);
      g_array_append_val (units, unit);
    }
  return units;
}
