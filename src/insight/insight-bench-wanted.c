/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-bench-private.h"

#include <math.h>

#include "insight-limits-private.h"

/*
 * What is not read yet: of a unit that waits for a step what that step decides, and what the plan of its round asks for
 * once it has come to the deciding step. Where the plan says who is tested for a characteristic only those are asked, and
 * one that destroys the unit is never asked of others. A life test is its own reading.
 */

/* What the readings of a characteristic say of a unit. */
typedef struct
{
  gboolean done;   /* read, and not again to be */
  gboolean failed; /* before it was mended */
  guint    attempt;
  guint    n;      /* of the last reading, voided or not */
} Read;

static gboolean
is_outside (BookMark mark, double value, double lower, double upper)
{
  switch (mark)
    {
    case BOOK_MARK_PASSED:
      return FALSE;
    case BOOK_MARK_FAILED:
      return TRUE;
    case BOOK_MARK_ABOVE:
      return value >= upper;
    case BOOK_MARK_BELOW:
      return value <= lower;
    case BOOK_MARK_MEASURED:
      break;
    }
  return value < lower || value > upper;
}

gboolean
insight_bench_is_outside (const InsightBenchWanted *wanted, BookMark mark, double value)
{
  return is_outside (mark, value, wanted->lower, wanted->upper);
}

static void
limits_of (const BookEvidence *e, int number, BookDay today, double *lower, double *upper)
{
  int row = insight_limit_on (e, insight_limit_rows (e, number), today);

  *lower = row >= 0 ? e->limits[row].lower : -INFINITY;
  *upper = row >= 0 ? e->limits[row].upper : INFINITY;
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
  gboolean failed = FALSE;
  double lower, upper;

  limits_of (e, number, today, &lower, &upper);

  for (guint i = characteristic->first_reading; i < characteristic->end_reading; i++)
    {
      const BookEvidenceReading *reading = &e->readings[i];
      Read *one;

      if (reading->unit >= e->n_units || reading->day > today)
        continue;
      one = &read[reading->unit];
      if (reading->attempt != one->attempt || one->n == 0)
        failed = FALSE;
      one->attempt = reading->attempt;
      one->n = reading->n;
      if (reading->voided)
        continue;
      failed |= is_outside ((BookMark) reading->mark, reading->value, lower, upper);
      one->failed = failed && is_before_mending (reading, &places[reading->unit]);
      one->done = !one->failed;
    }
  for (guint i = 0; i < e->n_life_tests; i++)
    if (e->life_tests[i].characteristic == number && e->life_tests[i].unit >= 0 && e->life_tests[i].day <= today)
      read[e->life_tests[i].unit].done = TRUE;
}

/* Whether the model's life tests watch it, or its plan says cycles and no reading of it was ever entered. */
static gboolean
is_life (const BookEvidence *e, int number)
{
  if (e->characteristics[number].first_reading < e->characteristics[number].end_reading)
    return FALSE;
  for (guint i = 0; i < e->n_life_tests; i++)
    if (e->life_tests[i].characteristic == number)
      return TRUE;
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].characteristic == number && e->tests[i].cycles > 0)
      return TRUE;
  return FALSE;
}

static void
add_wanted (const BookEvidence *e, int number, int bench, BookDay today, const Read *read, gboolean asked, InsightBenchUnit *unit)
{
  const BookEvidenceCharacteristic *characteristic = &e->characteristics[number];
  InsightBenchWanted wanted = { .characteristic = characteristic->id,
                                .code = characteristic->code,
                                .name = characteristic->name,
                                .kind = characteristic->kind,
                                .unit = characteristic->unit,
                                .planned = asked,
                                .again = read->failed,
                                .here = insight_bench_has_step (e, bench, characteristic->step),
                                .life = is_life (e, number),
                                .attempt = read->n == 0 ? 1 : read->failed ? read->attempt + 1 : read->attempt,
                                .n = read->failed ? 1 : read->n + 1,
                                .decimals = characteristic->decimals };

  limits_of (e, number, today, &wanted.lower, &wanted.upper);
  g_array_append_val (unit->wanted, wanted);
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
      for (guint u = 0; u < e->n_units; u++)
        {
          read[u] = (Read){ FALSE, FALSE, 0, 0 };
          asked[u] = FALSE;
        }
      for (guint r = 0; r < e->n_rounds; r++)
        chosen[r] = FALSE;
      read_readings (e, (int) c, places, today, read);
      read_plan (e, (int) c, asked, chosen);
      for (guint u = 0; u < e->n_units; u++)
        if (!read[u].done && is_wanted (e, (int) c, &places[u], u, asked[u], chosen[e->units[u].round]))
          add_wanted (e, (int) c, bench, today, &read[u], asked[u], g_ptr_array_index (units, u));
    }
}
