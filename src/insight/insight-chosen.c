/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "insight-chosen.h"

#include "insight-capability.h"
#include "insight-series-private.h"
#include "insight-span-private.h"
#include "insight-units-private.h"

#include <stdlib.h>

/*
 * Every fact has a slot: lots, revisions, rounds, issues and characteristics, one behind the other. Facts are counted by slot
 * for the chosen units and for the others; the few units that are told one by one also keep theirs.
 */
typedef enum
{
  OUT,    /* not in the chart */
  OTHER,
  CHOSEN
} Side;

typedef struct
{
  const InsightBasis *basis;
  InsightChosen      *out;
  guint8             *side;   /* Side, by unit */
  int                *told;   /* by unit: its place in out->units, -1 */
  guint               first[INSIGHT_N_FACTS + 1]; /* slots of a kind */
  guint              *chosen; /* by slot */
  guint              *others; /* by slot */
  guint               n_own[INSIGHT_CHOSEN_MOST];     /* values of the characteristic in the chart, by place in out->units */
  guint               n_failing[INSIGHT_CHOSEN_MOST]; /* others that fail */
} Counting;

/* ---- facts ---- */

static const char *
part_name (const BookEvidence *e, int part)
{
  return *e->parts[part].name != '\0' ? e->parts[part].name : e->parts[part].number;
}

static InsightFact
fact_of_lot (const BookEvidence *e, guint i)
{
  const BookEvidenceLot *lot = &e->lots[i];

  return (InsightFact){ .key = lot->id, .name = lot->number,
                        .of = lot->part >= 0 ? part_name (e, lot->part) : lot->step >= 0 ? e->steps[lot->step].name : "" };
}

static InsightFact
fact_at (const Counting *counting, InsightFactKind kind, guint i)
{
  const BookEvidence *e = counting->basis->e;
  InsightFact fact = { .of = "" };

  switch (kind)
    {
    case INSIGHT_FACT_LOT:
      fact = fact_of_lot (e, i);
      break;
    case INSIGHT_FACT_REVISION:
      fact.key = e->revisions[i].id;
      fact.name = e->revisions[i].label;
      fact.of = e->revisions[i].part >= 0 ? part_name (e, e->revisions[i].part) : "";
      break;
    case INSIGHT_FACT_ROUND:
      fact.key = e->rounds[i].id;
      fact.name = e->rounds[i].label;
      break;
    case INSIGHT_FACT_ISSUE:
      fact.key = e->issues[i].id;
      fact.name = e->issues[i].title;
      fact.no = e->issues[i].no;
      break;
    case INSIGHT_FACT_FAILS:
      fact.key = e->characteristics[i].id;
      fact.name = e->characteristics[i].name;
      break;
    case INSIGHT_N_FACTS:
      g_return_val_if_reached (fact);
    }
  fact.kind = kind;
  fact.chosen = counting->chosen[counting->first[kind] + i];
  fact.others = counting->others[counting->first[kind] + i];
  return fact;
}

/* One unit has fact @i of @kind. */
static void
count (Counting *counting, guint unit, InsightFactKind kind, guint i)
{
  const guint slot = counting->first[kind] + i;

  if (counting->side[unit] == CHOSEN)
    counting->chosen[slot]++;
  else if (counting->side[unit] == OTHER)
    counting->others[slot]++;
  if (counting->told[unit] >= 0 && kind != INSIGHT_FACT_ROUND && kind != INSIGHT_FACT_FAILS)
    {
      InsightFact fact = fact_at (counting, kind, i);

      g_array_append_val (counting->out->units[counting->told[unit]].facts, fact);
    }
}

static void
count_built (Counting *counting)
{
  const InsightBasis *basis = counting->basis;
  const BookEvidence *e = basis->e;
  const guint width = e->n_parts + e->n_steps;

  for (guint unit = 0; unit < e->n_units; unit++)
    {
      if (counting->side[unit] == OUT)
        continue;
      for (guint place = 0; place < width; place++)
        {
          const int lot = basis->lot_of[(gsize) unit * width + place];

          if (lot >= 0)
            count (counting, unit, INSIGHT_FACT_LOT, (guint) lot);
        }
      for (guint part = 0; part < e->n_parts; part++)
        {
          const int revision = basis->revision[basis->build_of[unit] * e->n_parts + part];

          if (revision >= 0)
            count (counting, unit, INSIGHT_FACT_REVISION, (guint) revision);
        }
      if (e->units[unit].round >= 0)
        count (counting, unit, INSIGHT_FACT_ROUND, (guint) e->units[unit].round);
    }
}

/* A unit may show an issue several times. */
static void
count_issue (Counting *counting, GHashTable *seen, int unit, int issue)
{
  gint64 pair;

  if (unit < 0 || issue < 0)
    return;
  pair = ((gint64) unit << 32) | issue;
  if (g_hash_table_add (seen, g_memdup2 (&pair, sizeof pair)))
    count (counting, (guint) unit, INSIGHT_FACT_ISSUE, (guint) issue);
}

static void
count_issues (Counting *counting)
{
  const BookEvidence *e = counting->basis->e;
  g_autoptr(GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < e->n_findings; i++)
    count_issue (counting, seen, e->findings[i].unit, e->findings[i].issue);
  for (guint i = 0; i < e->n_life_tests; i++)
    count_issue (counting, seen, e->life_tests[i].unit, e->life_tests[i].issue);
}

/* What was picked comes first, then what fails; else they stay in order. */
static void
keep_value (Counting *counting, guint told, gboolean own, const InsightChosenValue *value)
{
  GArray *values = counting->out->units[told].values;

  if (own)
    g_array_insert_val (values, counting->n_own[told]++, *value);
  else if (insight_is_failing (value->verdict))
    g_array_insert_val (values, counting->n_own[told] + counting->n_failing[told]++, *value);
  else
    g_array_append_val (values, *value);
}

/* The marks stand in the order of units, and so do the units: each is found by going on. */
static void
count_values (Counting *counting, guint characteristic, guint own, const InsightSeries *series)
{
  const BookEvidence *e = counting->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  guint unit = 0, last = G_MAXUINT;

  for (guint i = 0; i < series->n_marks; i++)
    {
      const InsightMark *mark = &series->marks[i];

      if (!insight_mark_is_evidence (mark))
        continue;
      while (unit < e->n_units && e->units[unit].id != mark->unit)
        unit++;
      if (unit == e->n_units)
        return;
      if (insight_is_failing (mark->verdict) && characteristic != own && unit != last)
        {
          count (counting, unit, INSIGHT_FACT_FAILS, characteristic);
          last = unit;
        }
      if (counting->told[unit] >= 0)
        {
          InsightChosenValue value = { mark->reading, one->code, one->name, one->unit, one->decimals, one->kind, mark->value,
                                       mark->mark, mark->verdict, mark->counting };

          keep_value (counting, (guint) counting->told[unit], characteristic == own, &value);
        }
    }
}

/* ---- who ---- */

static void
unit_init (InsightChosenUnit *one, const BookEvidence *e, guint unit)
{
  one->id = e->units[unit].id;
  one->serial = e->units[unit].serial;
  one->round = e->units[unit].round >= 0 ? e->rounds[e->units[unit].round].label : "";
  one->values = g_array_new (FALSE, FALSE, sizeof (InsightChosenValue));
  one->facts = g_array_new (FALSE, FALSE, sizeof (InsightFact));
}

static void
take_sides (Counting *counting, guint characteristic, int through, const gint64 *readings, guint n_readings)
{
  const BookEvidence *e = counting->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  g_autoptr(GHashTable) wanted = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < n_readings; i++)
    g_hash_table_add (wanted, (gpointer) &readings[i]);
  for (guint i = one->first_reading; i < one->end_reading; i++)
    {
      const guint unit = e->readings[i].unit;

      if (e->units[unit].round > through)
        continue;
      if (g_hash_table_contains (wanted, &e->readings[i].id))
        counting->side[unit] = CHOSEN;
      else
        counting->side[unit] = MAX (counting->side[unit], OTHER);
    }
  for (guint unit = 0; unit < e->n_units; unit++)
    {
      counting->told[unit] = -1;
      counting->out->n_others += counting->side[unit] == OTHER;
      if (counting->side[unit] != CHOSEN)
        continue;
      counting->out->n++;
      if (counting->out->n_units == INSIGHT_CHOSEN_MOST)
        continue;
      counting->told[unit] = (int) counting->out->n_units;
      unit_init (&counting->out->units[counting->out->n_units++], e, unit);
    }
}

/* ---- what they share ---- */

typedef struct
{
  InsightFact fact;
  double      distance; /* between the share of the chosen and that of the others */
} Candidate;

static int
compare_candidates (gconstpointer a, gconstpointer b)
{
  const Candidate *x = a, *y = b;

  if (x->distance != y->distance)
    return x->distance > y->distance ? -1 : 1;
  if (x->fact.chosen != y->fact.chosen)
    return x->fact.chosen > y->fact.chosen ? -1 : 1;
  if (x->fact.kind != y->fact.kind)
    return (int) x->fact.kind - (int) y->fact.kind;
  return (x->fact.key > y->fact.key) - (x->fact.key < y->fact.key);
}

/* Without others there is nothing to hold the chosen against. */
static void
compare_sides (Counting *counting)
{
  InsightChosen *out = counting->out;
  g_autoptr(GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint kind = 0; kind < INSIGHT_N_FACTS && out->n_others > 0; kind++)
    for (guint i = 0; i < counting->first[kind + 1] - counting->first[kind]; i++)
      {
        const guint chosen = counting->chosen[counting->first[kind] + i], others = counting->others[counting->first[kind] + i];
        Candidate candidate;

        if (chosen < 2 || 2 * (guint64) chosen <= out->n || (guint64) chosen * out->n_others <= (guint64) others * out->n)
          continue;
        candidate = (Candidate){ fact_at (counting, (InsightFactKind) kind, i),
                                 (double) chosen / out->n - (double) others / out->n_others };
        g_array_append_val (candidates, candidate);
      }
  g_array_sort (candidates, compare_candidates);
  out->n_shared = MIN (candidates->len, INSIGHT_SHARED_MOST);
  out->shared = g_new0 (InsightFact, out->n_shared + 1);
  for (guint i = 0; i < out->n_shared; i++)
    out->shared[i] = g_array_index (candidates, Candidate, i).fact;
}

static gboolean
count_all_values (Counting *counting, const InsightLook *look, guint own, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < counting->basis->e->n_characteristics; i++)
    {
      g_autoptr(InsightSeries) series = NULL;

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      series = insight_series_at (counting->basis, look, i);
      count_values (counting, i, own, series);
    }
  return TRUE;
}

static void
make_slots (Counting *counting)
{
  const BookEvidence *e = counting->basis->e;
  const guint sizes[INSIGHT_N_FACTS] = { e->n_lots, e->n_revisions, e->n_rounds, e->n_issues, e->n_characteristics };

  for (guint i = 0; i < INSIGHT_N_FACTS; i++)
    counting->first[i + 1] = counting->first[i] + sizes[i];
  counting->chosen = g_new0 (guint, counting->first[INSIGHT_N_FACTS] + 1);
  counting->others = g_new0 (guint, counting->first[INSIGHT_N_FACTS] + 1);
  counting->side = g_new0 (guint8, e->n_units + 1);
  counting->told = g_new0 (int, e->n_units + 1);
}

/**
 * insight_chosen:
 * @evidence: the records of a model; must outlive the answer
 * @characteristic: key of the characteristic that the chart shows
 * @readings: (array length=n_readings): keys of the readings whose marks were picked; others than of this characteristic are not
 *   looked at
 * @n_readings: how many
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked before each characteristic
 * @error: return location
 *
 * The other units are those of the same chart: all of which the characteristic was read, up to the round looked through.
 *
 * Returns: (transfer full) (nullable): the chosen units; %INSIGHT_ERROR_CHARACTERISTIC, %INSIGHT_ERROR_ROUND,
 *   %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightChosen *
insight_chosen (const BookEvidence *evidence, gint64 characteristic, const gint64 *readings, guint n_readings,
                const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightChosen) out = g_new0 (InsightChosen, 1);
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  Counting counting = { .out = out };
  gboolean done;
  int through, own;
  BookDay today;

  out->units = g_new0 (InsightChosenUnit, INSIGHT_CHOSEN_MOST);
  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;
  own = book_evidence_find (evidence, characteristics, characteristic);
  if (own < 0)
    {
      insight_series_refuse_characteristic (evidence, error);
      return NULL;
    }
  basis = insight_basis_new (evidence);
  look = insight_look_new (basis, through, through >= 0 ? insight_round_end (evidence, through, today) : today);
  counting.basis = basis;
  make_slots (&counting);
  take_sides (&counting, own, through, readings, n_readings);
  count_built (&counting);
  count_issues (&counting);
  done = count_all_values (&counting, look, own, cancellable, error);
  if (done)
    compare_sides (&counting);
  g_free (counting.side);
  g_free (counting.told);
  g_free (counting.chosen);
  g_free (counting.others);
  return done ? g_steal_pointer (&out) : NULL;
}

void
insight_chosen_free (InsightChosen *chosen)
{
  if (chosen == NULL)
    return;
  for (guint i = 0; i < chosen->n_units; i++)
    {
      g_array_unref (chosen->units[i].values);
      g_array_unref (chosen->units[i].facts);
    }
  g_free (chosen->units);
  g_free (chosen->shared);
  g_free (chosen);
}
