/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "insight-supply.h"

#include "insight-series-private.h"
#include "insight-span-private.h"
#include "insight-units-private.h"
#include "num-describe.h"

#include <math.h>
#include <stdlib.h>

typedef struct
{
  InsightSupply *supply;
  InsightBasis  *basis;
  int           *thing_of; /* by part, or n_parts + step: index of the thing; -1 */
} Builder;

static guint
place_of (const BookEvidence *e, int part, int step)
{
  return part >= 0 ? (guint) part : e->n_parts + (guint) step;
}

/* In order: parts, then steps. */
static void
add_things (Builder *builder)
{
  InsightSupply *supply = builder->supply;
  const BookEvidence *e = supply->e;
  const guint width = e->n_parts + e->n_steps;
  g_autofree guint *lots = g_new0 (guint, width + 1);

  builder->thing_of = g_new (int, width + 1);
  supply->things = g_new0 (InsightSupplyThing, width + 1);
  for (guint i = 0; i < e->n_lots; i++)
    if (e->lots[i].supplier == supply->supplier && (e->lots[i].part >= 0 || e->lots[i].step >= 0))
      lots[place_of (e, e->lots[i].part, e->lots[i].step)]++;
  for (guint place = 0; place < width; place++)
    {
      const gboolean is_part = place < e->n_parts;

      builder->thing_of[place] = -1;
      if (lots[place] == 0 && !(is_part && e->parts[place].supplier == supply->supplier))
        continue;
      builder->thing_of[place] = (int) supply->n_things;
      supply->things[supply->n_things++] = (InsightSupplyThing) { is_part ? (int) place : -1, is_part ? -1 : (int) (place - e->n_parts), lots[place] };
    }
}

static int
compare_lots (gconstpointer a, gconstpointer b, gpointer data)
{
  const InsightSupplyLot *x = a, *y = b;
  const BookEvidence *e = data;
  const BookEvidenceLot *one = &e->lots[x->lot], *other = &e->lots[y->lot];

  if (x->thing != y->thing)
    return x->thing < y->thing ? -1 : 1;
  if (one->received != other->received)
    return one->received < other->received ? -1 : 1;
  return book_serial_compare (one->number, other->number);
}

static void
add_lots (Builder *builder)
{
  InsightSupply *supply = builder->supply;
  const BookEvidence *e = supply->e;
  const guint width = e->n_parts + e->n_steps;

  supply->lots = g_new0 (InsightSupplyLot, e->n_lots + 1);
  for (guint i = 0; i < e->n_lots; i++)
    {
      const BookEvidenceLot *lot = &e->lots[i];
      guint place;

      if (lot->supplier != supply->supplier || (lot->part < 0 && lot->step < 0))
        continue;
      place = place_of (e, lot->part, lot->step);
      supply->lots[supply->n_lots] = (InsightSupplyLot) { (int) i, (guint) builder->thing_of[place], 0 };
      for (guint u = 0; u < e->n_units; u++)
        if (builder->basis->lot_of[(gsize) u * width + place] == (int) i && builder->basis->built[u] != 0)
          supply->lots[supply->n_lots].units++;
      supply->n_lots++;
    }
  g_qsort_with_data (supply->lots, (int) supply->n_lots, sizeof *supply->lots, compare_lots, (gpointer) e);
}

/* Index in the answer of a lot of the evidence; -1: not his. */
static int
find_lot (const InsightSupply *supply, int lot)
{
  for (guint i = 0; i < supply->n_lots; i++)
    if (supply->lots[i].lot == lot)
      return (int) i;
  return -1;
}

static void
add_faults (InsightSupply *supply)
{
  const BookEvidence *e = supply->e;

  supply->faults = g_new0 (InsightSupplyFault, e->n_findings + 1);
  for (guint i = 0; i < e->n_findings; i++)
    {
      const int lot = e->findings[i].lot >= 0 ? find_lot (supply, e->findings[i].lot) : -1;

      if (lot >= 0)
        supply->faults[supply->n_faults++] = (InsightSupplyFault) { e->findings[i].issue, (int) i, lot };
    }
}

/* ---- readings by lot ---- */

static gboolean
is_evidence (const InsightMark *mark)
{
  return mark->counting != INSIGHT_NOT_VOIDED && mark->counting != INSIGHT_NOT_LATER_ATTEMPT && mark->counting != INSIGHT_NOT_OTHER_STEP
         && mark->counting != INSIGHT_NOT_SPAN;
}

static void
describe (const InsightSupplyReadings *readings, guint group)
{
  const InsightSeries *series = readings->series;
  InsightSupplyGroup *out = &readings->groups[group];
  g_autofree double *values = g_new (double, series->n_marks + 1);
  NumMoments moments;
  guint n = 0;

  out->mean = out->sd = out->least = out->most = NAN;
  for (guint i = 0; i < series->n_marks; i++)
    if (readings->of_marks[i] == (int) group)
      {
        out->n++;
        out->failed += insight_is_failing (series->marks[i].verdict);
        if (!isnan (series->marks[i].value))
          values[n++] = series->marks[i].value;
      }
  if (n == 0 || (num_moments (values, n, &moments) != NUM_OK && n > 1))
    return;
  out->mean = moments.mean;
  out->least = moments.min;
  out->most = moments.max;
  if (n > 1)
    out->sd = moments.sd;
}

/* Whether a unit of a lot of the thing has a reading; then @readings is filled in. */
static gboolean
group_by (const Builder *builder, guint thing, GHashTable *units, InsightSupplyReadings *readings)
{
  const InsightSupply *supply = builder->supply;
  const BookEvidence *e = supply->e;
  const InsightSeries *series = readings->series;
  const guint place = place_of (e, supply->things[thing].part, supply->things[thing].step), width = e->n_parts + e->n_steps;
  g_autofree int *group_of = g_new (int, supply->n_lots + 1);
  g_autofree int *lot_of = g_new (int, series->n_marks + 1);

  for (guint i = 0; i < supply->n_lots; i++)
    group_of[i] = -1;
  for (guint i = 0; i < series->n_marks; i++)
    {
      gpointer unit = g_hash_table_lookup (units, &series->marks[i].unit);
      int lot = unit != NULL && is_evidence (&series->marks[i])
                  ? builder->basis->lot_of[(gsize) (GPOINTER_TO_UINT (unit) - 1) * width + place] : -1;

      lot_of[i] = lot >= 0 ? find_lot (supply, lot) : -1;
      if (lot_of[i] >= 0)
        group_of[lot_of[i]] = 0;
    }
  readings->thing = thing;
  readings->groups = g_new0 (InsightSupplyGroup, supply->n_lots + 1);
  for (guint i = 0; i < supply->n_lots; i++)
    if (group_of[i] == 0)
      {
        readings->groups[readings->n_groups].lot = i;
        group_of[i] = (int) readings->n_groups++;
      }
  readings->of_marks = g_new (int, series->n_marks + 1);
  for (guint i = 0; i < series->n_marks; i++)
    readings->of_marks[i] = lot_of[i] >= 0 ? group_of[lot_of[i]] : -1;
  for (guint i = 0; i < readings->n_groups; i++)
    describe (readings, i);
  return readings->n_groups > 0;
}

static void
clear_readings (InsightSupplyReadings *readings)
{
  g_clear_pointer (&readings->series, insight_series_free);
  g_clear_pointer (&readings->groups, g_free);
  g_clear_pointer (&readings->of_marks, g_free);
}

static guint
failures (const InsightSupplyReadings *readings)
{
  guint n = 0;

  for (guint i = 0; i < readings->n_groups; i++)
    n += readings->groups[i].failed;
  return n;
}

static int
compare_readings (gconstpointer a, gconstpointer b)
{
  const InsightSupplyReadings *x = a, *y = b;
  const gboolean one = failures (x) > 0, other = failures (y) > 0;

  if (one != other)
    return one ? -1 : 1;
  if (x->series->klass != y->series->klass)
    return x->series->klass < y->series->klass ? -1 : 1;
  if (x->thing != y->thing)
    return x->thing < y->thing ? -1 : 1;
  return g_strcmp0 (x->series->code, y->series->code);
}

/* Only what somebody said to depend on it: what depends on everything says nothing about a lot. */
static gboolean
add_readings (Builder *builder, const InsightLook *look, GCancellable *cancellable, GError **error)
{
  InsightSupply *supply = builder->supply;
  const BookEvidence *e = supply->e;
  g_autoptr(GHashTable) units = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < e->n_units; i++)
    g_hash_table_insert (units, &e->units[i].id, GUINT_TO_POINTER (i + 1));
  supply->readings = g_new0 (InsightSupplyReadings, e->n_depends + 1);
  for (guint i = 0; i < e->n_depends; i++)
    {
      const BookEvidenceDepends *depends = &e->depends[i];
      const int thing = builder->thing_of[place_of (e, depends->part, depends->step)];
      InsightSupplyReadings *readings = &supply->readings[supply->n_readings];

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      if (thing < 0 || supply->things[thing].lots == 0)
        continue;
      readings->series = insight_series_at (builder->basis, look, (guint) depends->characteristic);
      for (guint k = 0; k < e->n_depends; k++)
        readings->others |= k != i && e->depends[k].characteristic == depends->characteristic;
      if (group_by (builder, (guint) thing, units, readings))
        supply->n_readings++;
      else
        clear_readings (readings);
    }
  qsort (supply->readings, supply->n_readings, sizeof *supply->readings, compare_readings);
  return TRUE;
}

/* ---- waits ---- */

static int
compare_waits (gconstpointer a, gconstpointer b)
{
  const InsightSupplyWait *x = a, *y = b;

  return x->days != y->days ? (x->days > y->days ? -1 : 1) : x->wait - y->wait;
}

static void
add_waits (InsightSupply *supply, BookDay today)
{
  const BookEvidence *e = supply->e;

  supply->waits = g_new0 (InsightSupplyWait, e->n_waits + 1);
  for (guint i = 0; i < e->n_waits; i++)
    {
      const BookEvidenceWait *wait = &e->waits[i];
      const BookDay end = wait->to != 0 && wait->to <= today ? wait->to : today;

      if (wait->supplier == supply->supplier && wait->from <= today)
        supply->waits[supply->n_waits++] = (InsightSupplyWait) { (int) i, insight_span_working_days (e, wait->from, end) };
    }
  qsort (supply->waits, supply->n_waits, sizeof *supply->waits, compare_waits);
}

/**
 * insight_supply:
 * @evidence: the records of a model; borrowed by the answer
 * @supplier: key of the supplier
 * @today: ISO 8601
 * @cancellable: (nullable): asked before each characteristic
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what he brought in, empty where nothing of the model is his; %INSIGHT_ERROR_DATE,
 *   %G_IO_ERROR_CANCELLED
 */
InsightSupply *
insight_supply (const BookEvidence *evidence, gint64 supplier, const char *today, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { evidence->n_rounds > 0 ? evidence->rounds[evidence->n_rounds - 1].id : 0, today };
  g_autoptr(InsightSupply) supply = g_new0 (InsightSupply, 1);
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  g_autofree int *thing_of = NULL;
  Builder builder = { supply, NULL, NULL };
  gboolean read;
  int through;
  BookDay day;

  if (!insight_span_resolve (evidence, &span, &through, &day, error))
    return NULL;
  supply->e = evidence;
  supply->today = g_strdup (today);
  supply->supplier = book_evidence_find (evidence, suppliers, supplier);
  if (supply->supplier < 0)
    return g_steal_pointer (&supply);
  builder.basis = basis = insight_basis_new (evidence);
  look = insight_look_new (basis, through, day);
  add_things (&builder);
  thing_of = builder.thing_of;
  add_lots (&builder);
  add_faults (supply);
  read = add_readings (&builder, look, cancellable, error);
  add_waits (supply, day);
  return read ? g_steal_pointer (&supply) : NULL;
}

void
insight_supply_free (InsightSupply *supply)
{
  if (supply == NULL)
    return;
  for (guint i = 0; i < supply->n_readings; i++)
    clear_readings (&supply->readings[i]);
  g_free (supply->things);
  g_free (supply->lots);
  g_free (supply->faults);
  g_free (supply->readings);
  g_free (supply->waits);
  g_free (supply->today);
  g_free (supply);
}
