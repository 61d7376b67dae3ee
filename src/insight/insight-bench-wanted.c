/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-bench-private.h"

#include "insight-limits-private.h"

/*
 * What is not read yet: of a unit that waits for a step what that step decides, and what the plan of its round asks for
 * once it has come to the deciding step. Where the plan says who is tested for a characteristic only those are asked, and
 * one that destroys the unit is never asked of others. A life test is its own reading.
 */

/* What the readings of a characteristic say of each unit. */
typedef enum
{
  READ_NOT,
  READ_DONE,
  READ_FAILED_BEFORE /* failed, and mended since */
} Read;

static gboolean
is_outside (const BookEvidence *e, InsightLimitRows rows, const BookEvidenceReading *reading, BookDay today)
{
  int row = insight_limit_on (e, rows, today);

  switch ((BookMark) reading->mark)
    {
    case BOOK_MARK_PASSED:
      return FALSE;
    case BOOK_MARK_FAILED:
      return TRUE;
    case BOOK_MARK_ABOVE:
      return row >= 0 && reading->value >= e->limits[row].upper;
    case BOOK_MARK_BELOW:
      return row >= 0 && reading->value <= e->limits[row].lower;
    case BOOK_MARK_MEASURED:
      break;
    }
  return row >= 0 && (reading->value < e->limits[row].lower || reading->value > e->limits[row].upper);
}

/* Of one day nobody knows the order unless both moments are known: then it was read after it was mended. */
static gboolean
is_before_mending (const BookEvidenceReading *reading, const InsightPlace *place)
{
  if (place->mended == 0 || reading->day == 0 || reading->day > place->mended)
    return FALSE;
  return reading->day < place->mended
         || (reading->second >= 0 && place->mended_second >= 0 && reading->second < place->mended_second);
}

/* Readings stand by unit and attempt: the last attempt decides, and of its repeats any that fails. */
static void
read_readings (const BookEvidence *e, int number, const InsightPlace *places, BookDay today, Read *read)
{
  const BookEvidenceCharacteristic *characteristic = &e->characteristics[number];
  InsightLimitRows rows = insight_limit_rows (e, number);
  guint last_unit = G_MAXUINT, last_attempt = 0;
  gboolean failed = FALSE;

  for (guint i = characteristic->first_reading; i < characteristic->end_reading; i++)
    {
      const BookEvidenceReading *reading = &e->readings[i];

      if (reading->voided || reading->unit >= e->n_units || reading->day > today)
        continue;
      if (reading->unit != last_unit || reading->attempt != last_attempt)
        failed = FALSE;
      last_unit = reading->unit;
      last_attempt = reading->attempt;
      failed |= is_outside (e, rows, reading, today);
      read[last_unit] = failed && is_before_mending (reading, &places[last_unit]) ? READ_FAILED_BEFORE : READ_DONE;
    }
  for (guint i = 0; i < e->n_life_tests; i++)
    if (e->life_tests[i].characteristic == number && e->life_tests[i].unit >= 0 && e->life_tests[i].day <= today)
      read[e->life_tests[i].unit] = READ_DONE;
}

/* @asked: of each unit whether the plan of its round names it; @chosen: of each round whether it names anybody. */
static void
read_plan (const BookEvidence *e, int number, gboolean *asked, gboolean *chosen)
{
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].characteristic == number)
      {
        chosen[e->tests[i].round] = TRUE;
        if (e->tests[i].unit >= 0)
          asked[e->tests[i].unit] = TRUE;
      }
}

static gboolean
is_wanted (const BookEvidence *e, int number, const InsightPlace *place, guint unit, gboolean asked, gboolean chosen)
{
  const BookEvidenceCharacteristic *characteristic = &e->characteristics[number];
  int step = characteristic->step;

  switch (place->state)
    {
    case INSIGHT_BENCH_PLANNED:
    case INSIGHT_BENCH_AWAY:
    case INSIGHT_BENCH_GONE:
    case INSIGHT_BENCH_DECIDED:
      return FALSE;
    case INSIGHT_BENCH_DONE:
      return asked;
    case INSIGHT_BENCH_ASSEMBLED:
    case INSIGHT_BENCH_CAME:
    case INSIGHT_BENCH_BEGUN:
    case INSIGHT_BENCH_BACK:
    case INSIGHT_BENCH_REWORKED:
    case INSIGHT_N_BENCH_STATES:
      break;
    }
  if (asked)
    return step <= place->step; /* also what no step decides */
  return !chosen && !characteristic->destructive && step >= 0 && step == place->step && e->units[unit].part < 0;
}

void
insight_bench_find_wanted (const BookEvidence *e, const InsightPlace *places, int bench, BookDay today, GPtrArray *units)
{
  g_autofree Read *read = g_new (Read, e->n_units + 1);
  g_autofree gboolean *asked = g_new (gboolean, e->n_units + 1), *chosen = g_new (gboolean, e->n_rounds + 1);

  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *characteristic = &e->characteristics[c];

      for (guint u = 0; u < e->n_units; u++)
        {
          read[u] = READ_NOT;
          asked[u] = FALSE;
        }
      for (guint r = 0; r < e->n_rounds; r++)
        chosen[r] = FALSE;
      read_readings (e, (int) c, places, today, read);
      read_plan (e, (int) c, asked, chosen);
      for (guint u = 0; u < e->n_units; u++)
        if (read[u] != READ_DONE && is_wanted (e, (int) c, &places[u], u, asked[u], chosen[e->units[u].round]))
          {
            InsightBenchUnit *unit = g_ptr_array_index (units, u);
            InsightBenchWanted wanted = { characteristic->id, characteristic->code,          characteristic->name,
                                          asked[u],           read[u] == READ_FAILED_BEFORE, insight_bench_has_step (e, bench, characteristic->step) };

            g_array_append_val (unit->wanted, wanted);
          }
    }
}
