/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-series.h"

#include "insight-criterion-private.h"
#include "insight-series-private.h"
#include "insight-span-private.h"
#include "num-describe.h"
#include "num-dist.h"
#include "num-proportion.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SERIES_CONFIDENCE 0.95 /* of the interval beside a round's mean */

static const char *const counting_names[] = { "counts",  "voided",  "later-attempt", "other-step",  "state", "later-state",
                                              "kind",    "excused", "altered",       "gauge",       "older-limit", "span" };
G_STATIC_ASSERT (G_N_ELEMENTS (counting_names) == INSIGHT_N_COUNTINGS);

/* An untranslated word, such as `later-attempt`. */
const char *
insight_counting_name (InsightCounting counting)
{
  g_return_val_if_fail ((guint) counting < INSIGHT_N_COUNTINGS, "");

  return counting_names[counting];
}

typedef struct
{
  InsightSeries      *series;
  const InsightBasis *basis;
  const InsightLook  *look;
  InsightUnits       *units;
  GArray             *marks;
} Builder;

static const char *
keep (InsightSeries *series, const char *text)
{
  return g_string_chunk_insert_const (series->strings, text);
}

static const char *
lot_name (const Builder *builder, guint unit)
{
  const BookEvidence *e = builder->basis->e;
  guint width = e->n_parts + e->n_steps;
  int c = builder->units->characteristic;

  for (guint i = builder->basis->depend[c]; i < builder->basis->depend[c + 1]; i++)
    {
      InsightDependence on = g_array_index (builder->basis->dependences, InsightDependence, i);
      guint place = on.part >= 0 ? (guint) on.part : e->n_parts + (guint) on.step;
      int lot = builder->basis->lot_of[(gsize) unit * width + place];

      if (lot >= 0)
        return keep (builder->series, e->lots[lot].number);
    }
  return "";
}

static void
add_mark (Builder *builder, const InsightUnit *unit, InsightCounting counting)
{
  const BookEvidence *e = builder->basis->e;
  BookDay day = unit->day != 0 ? unit->day : builder->basis->built[unit->unit];
  g_autofree char *date = book_day_format (day);
  InsightMark mark = {
    .unit = e->units[unit->unit].id,
    .reading = unit->reading,
    .serial = keep (builder->series, e->units[unit->unit].serial),
    .round = (guint) e->units[unit->unit].round,
    .attempt = unit->attempt,
    .repeats = unit->repeats,
    .value = unit->value,
    .mark = unit->mark,
    .verdict = unit->verdict,
    .counting = counting,
    .date = keep (builder->series, date),
    .lot = lot_name (builder, unit->unit),
  };

  g_array_append_val (builder->marks, mark);
}

/* That the mark added last is made of this reading. */
static void
belongs (Builder *builder, const BookEvidenceReading *reading)
{
  const BookEvidence *e = builder->basis->e;
  guint first = e->characteristics[builder->units->characteristic].first_reading;

  builder->series->of_readings[(guint) (reading - e->readings) - first] = (int) builder->marks->len - 1;
}

/* One mark of readings of one kind of one attempt, beside the unit's own. */
static void
add_other (Builder *builder, const InsightUnit *unit, guint attempt, GPtrArray *readings, InsightCounting counting)
{
  InsightUnit other = { .unit = unit->unit, .attempt = attempt, .value = NAN, .mark = BOOK_MARK_MEASURED,
                        .verdict = INSIGHT_NO_VERDICT };

  if (readings->len == 0)
    return;
  insight_units_judge (builder->units, (const BookEvidenceReading *const *) readings->pdata, readings->len, &other);
  add_mark (builder, &other, counting);
  for (guint i = 0; i < readings->len; i++)
    belongs (builder, readings->pdata[i]);
  g_ptr_array_set_size (readings, 0);
}

static gboolean
is_other_step (const Builder *builder, const BookEvidenceReading *reading)
{
  int deciding = builder->basis->e->characteristics[builder->units->characteristic].step;

  return reading->step >= 0 && deciding >= 0 && reading->step != deciding;
}

/*
 * All readings of a unit: the attempt that is evidence as one mark, each later attempt and each attempt at another step
 * as one, each voided reading as one of its own.
 */
static void
add_unit (Builder *builder, const InsightUnit *unit, guint first, guint end)
{
  const BookEvidence *e = builder->basis->e;
  g_autoptr(GPtrArray) readings = g_ptr_array_new ();
  gboolean shown = FALSE;

  for (guint i = first; i < end;)
    {
      guint attempt = e->readings[i].attempt;
      gboolean later = unit->attempt != 0 && attempt > unit->attempt;
      guint stop = i;

      while (stop < end && e->readings[stop].attempt == attempt)
        stop++;
      for (guint k = i; k < stop; k++)
        if (!e->readings[k].voided && e->readings[k].day <= builder->look->end && is_other_step (builder, &e->readings[k]))
          g_ptr_array_add (readings, (gpointer) &e->readings[k]);
      add_other (builder, unit, attempt, readings, INSIGHT_NOT_OTHER_STEP);

      if (attempt == unit->attempt && unit->has_data && !shown)
        {
          add_mark (builder, unit, unit->counting);
          for (guint k = i; k < stop; k++)
            if (!e->readings[k].voided && e->readings[k].day <= builder->look->end && !is_other_step (builder, &e->readings[k]))
              belongs (builder, &e->readings[k]);
          shown = TRUE;
        }
      for (guint k = i; later && k < stop; k++)
        if (!e->readings[k].voided && e->readings[k].day <= builder->look->end && !is_other_step (builder, &e->readings[k]))
          g_ptr_array_add (readings, (gpointer) &e->readings[k]);
      add_other (builder, unit, attempt, readings, INSIGHT_NOT_LATER_ATTEMPT);

      for (guint k = i; k < stop; k++)
        if (e->readings[k].voided && e->readings[k].day <= builder->look->end)
          {
            g_ptr_array_add (readings, (gpointer) &e->readings[k]);
            add_other (builder, unit, attempt, readings, INSIGHT_NOT_VOIDED);
          }
      for (guint k = i; k < stop; k++)
        if (e->readings[k].day > builder->look->end)
          {
            g_ptr_array_add (readings, (gpointer) &e->readings[k]);
            add_other (builder, unit, attempt, readings, e->readings[k].voided ? INSIGHT_NOT_VOIDED : INSIGHT_NOT_SPAN);
          }
      i = stop;
    }
}

static void
add_marks (Builder *builder)
{
  const BookEvidence *e = builder->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[builder->units->characteristic];
  guint next = 0, n = one->end_reading - one->first_reading;

  builder->series->of_readings = g_new (int, n + 1);
  for (guint i = 0; i < n; i++)
    builder->series->of_readings[i] = -1;
  for (guint i = one->first_reading; i < one->end_reading;)
    {
      guint unit = e->readings[i].unit, first = i;
      InsightUnit none = { .unit = unit };

      while (i < one->end_reading && e->readings[i].unit == unit)
        i++;
      if (e->units[unit].round > builder->look->through)
        continue;
      while (next < builder->units->n && builder->units->units[next].unit < unit)
        next++;
      if (next < builder->units->n && builder->units->units[next].unit == unit)
        add_unit (builder, &builder->units->units[next], first, i);
      else
        add_unit (builder, &none, first, i);
    }
}

/* Mean, deviation and t-interval of the mean; NAN what does not exist for so few values. */
static void
summarise (const double *values, guint n, double *mean, double *sd, double *low, double *high)
{
  NumMoments moments;

  *mean = *sd = *low = *high = NAN;
  if (n == 0 || (num_moments (values, n, &moments) != NUM_OK && n > 1))
    return;
  *mean = moments.mean;
  if (n > 1)
    {
      double half = num_t_quantile (0.5 + SERIES_CONFIDENCE / 2.0, n - 1.0) * moments.sd / sqrt (n);

      *sd = moments.sd;
      *low = moments.mean - half;
      *high = moments.mean + half;
    }
}

static void
summarise_measured (const double *values, guint n, InsightSeriesRound *round)
{
  summarise (values, n, &round->mean, &round->sd, &round->low, &round->high);
}

static void
summarise_checked (InsightSeriesRound *round)
{
  NumInterval interval;

  if (round->n == 0)
    return;
  round->mean = (double) round->failed / round->n;
  if (num_proportion_exact (round->failed, round->n, SERIES_CONFIDENCE, &interval) == NUM_OK)
    {
      round->low = interval.low;
      round->high = interval.high;
    }
}

static void
add_rounds (Builder *builder)
{
  const BookEvidence *e = builder->basis->e;
  InsightSeries *series = builder->series;
  g_autofree double *values = g_new (double, builder->units->n + 1);

  series->n_rounds = (guint) (builder->look->through + 1);
  series->rounds = g_new0 (InsightSeriesRound, series->n_rounds + 1);
  for (guint r = 0; r < series->n_rounds; r++)
    {
      InsightSeriesRound *round = &series->rounds[r];
      guint n = 0;

      round->id = e->rounds[r].id;
      round->label = keep (series, e->rounds[r].label);
      round->kind = e->rounds[r].kind;
      round->mean = round->sd = round->low = round->high = NAN;
      round->current = r + 1 == series->n_rounds;
      for (guint i = 0; i < builder->units->n; i++)
        {
          const InsightUnit *unit = &builder->units->units[i];

          if (e->units[unit->unit].round != (int) r || !unit->has_data)
            continue;
          round->n++;
          round->failed += insight_is_failing (unit->verdict);
          round->counted += unit->counting == INSIGHT_COUNTS;
          if (!isnan (unit->value))
            values[n++] = unit->value;
        }
      round->no_longer = round->n > 0 && round->counted == 0;
      if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
        summarise_checked (round);
      else
        summarise_measured (values, n, round);
    }
}

/* Where a day lies in the rounds: with the first round whose readings are all of that day or later, else within one. */
static double
place_of_day (const Builder *builder, BookDay day)
{
  const BookEvidence *e = builder->basis->e;

  for (guint r = 0; r < builder->series->n_rounds; r++)
    {
      guint n = 0, before = 0;
      BookDay start = e->rounds[r].built != 0 ? e->rounds[r].built : MAX (e->rounds[r].design_fixed, e->rounds[r].opened);

      for (guint i = 0; i < builder->units->n; i++)
        if (e->units[builder->units->units[i].unit].round == (int) r)
          {
            n++;
            before += builder->units->units[i].day < day;
          }
      if (n == 0 && start < day)
        continue;
      if (before < n || n == 0)
        return r + (n > 0 ? (double) before / n : 0.0);
    }
  return builder->series->n_rounds;
}

static void
add_limits (Builder *builder)
{
  const BookEvidence *e = builder->basis->e;
  InsightSeries *series = builder->series;
  InsightLimitRows rows = builder->units->rows;

  series->now = -1;
  series->limits = g_new0 (InsightSeriesLimit, rows.end - rows.first + 1);
  for (guint i = rows.first; i < rows.end && e->limits[i].from <= builder->look->end; i++)
    {
      g_autofree char *date = book_day_format (e->limits[i].from);
      InsightSeriesLimit *limit;

      if (i + 1 < rows.end && e->limits[i + 1].from == e->limits[i].from)
        continue; /* what the same row said before it was changed */
      if ((int) i == builder->units->limit)
        series->now = (int) series->n_limits;
      limit = &series->limits[series->n_limits++];
      limit->date = keep (series, date);
      limit->from = series->n_limits == 1 ? 0.0 : place_of_day (builder, e->limits[i].from);
      limit->lower = e->limits[i].lower;
      limit->upper = e->limits[i].upper;
      limit->nominal = e->limits[i].nominal;
      limit->change = e->limits[i].change >= 0 ? e->changes[e->limits[i].change].id : 0;
    }
}

static void
add_counted (Builder *builder)
{
  InsightSeries *series = builder->series;
  g_autofree double *values = g_new (double, builder->units->n + 1);
  guint n = 0;

  for (guint i = 0; i < builder->units->n; i++)
    {
      const InsightUnit *unit = &builder->units->units[i];

      if (unit->counting != INSIGHT_COUNTS)
        continue;
      series->n++;
      series->failed += insight_is_failing (unit->verdict);
      if (!isnan (unit->value))
        values[n++] = unit->value;
    }
  summarise (values, n, &series->mean, &series->sd, &series->low, &series->high);
  if (series->kind == BOOK_CHARACTERISTIC_CHECKED && series->n > 0)
    {
      NumInterval share;

      if (num_proportion_exact (series->failed, series->n, SERIES_CONFIDENCE, &share) == NUM_OK)
        {
          series->low = share.low;
          series->high = share.high;
        }
    }
}

/* The criterion about it, if there is one, says which units count and what share may fail. */
static BookCountsFrom
ask_criterion (Builder *builder, int characteristic)
{
  const BookEvidence *e = builder->basis->e;

  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].characteristic == characteristic
        && (e->criteria[i].kind == BOOK_CRITERION_MEASURED || e->criteria[i].kind == BOOK_CRITERION_CHECKED))
      {
        builder->series->tolerated = 1.0 - insight_terms_on (e, i, builder->look->end).share;
        return e->criteria[i].counts_from;
      }
  return e->characteristics[characteristic].klass == BOOK_CLASS_SAFETY ? BOOK_COUNTS_PILOT : BOOK_COUNTS_PROTOTYPE;
}

/* The reasons are those of the criterion's way of telling: made through a question whose other answers are dropped. */
static void
add_reasons (Builder *builder, int characteristic)
{
  const BookEvidence *e = builder->basis->e;
  BookEvidenceCriterion asked = { .code = "", .characteristic = characteristic, .issue = -1, .gate = -1,
                                  .klass = e->characteristics[characteristic].klass,
                                  .counts_from = builder->units->counts_from };
  InsightLooks looks = { .looks = 0, .attempts = 1 };
  InsightQuestion question = { .basis = builder->basis, .look = builder->look, .looks = &looks, .units = builder->units,
                               .criterion = &asked, .out = insight_criterion_new () };

  question.out->n = builder->series->n;
  insight_tell_units (&question, builder->series->kind == BOOK_CHARACTERISTIC_CHECKED);
  builder->series->reasons = g_steal_pointer (&question.out->reasons);
  question.out->reasons = g_ptr_array_new ();
  insight_criterion_free (question.out);
}

static void
describe (InsightSeries *series, const BookEvidenceCharacteristic *one)
{
  series->characteristic = one->id;
  series->code = keep (series, one->code);
  series->name = keep (series, one->name);
  series->unit = keep (series, one->unit);
  series->decimals = one->decimals;
  series->kind = one->kind;
  series->klass = one->klass;
  series->per_unit = one->per_unit;
  series->shape = one->shape;
  series->tolerated = series->mean = series->sd = series->low = series->high = NAN;
}

/**
 * insight_series_at:
 * @basis: the records of a model, prepared
 * @look: through which round, as of which day
 * @characteristic: its index
 *
 * Returns: (transfer full): one characteristic at that look
 */
InsightSeries *
insight_series_at (const InsightBasis *basis, const InsightLook *look, guint characteristic)
{
  g_auto(InsightUnits) units = { 0 };
  InsightSeries *series = g_new0 (InsightSeries, 1);
  Builder builder = { series, basis, look, &units, g_array_new (FALSE, FALSE, sizeof (InsightMark)) };

  insight_units_init (&units, basis);
  series->strings = g_string_chunk_new (1024);
  describe (series, &basis->e->characteristics[characteristic]);
  insight_units_gather (&units, look, (int) characteristic, ask_criterion (&builder, (int) characteristic));
  series->guard = units.guard.width;
  add_marks (&builder);
  series->n_marks = builder.marks->len;
  series->marks = (InsightMark *) (gpointer) g_array_free (builder.marks, FALSE);
  add_rounds (&builder);
  add_limits (&builder);
  add_counted (&builder);
  add_reasons (&builder, (int) characteristic);
  return series;
}

void
insight_series_refuse_characteristic (const BookEvidence *evidence, GError **error)
{
  g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_CHARACTERISTIC,
               _("The model '%s' has no such characteristic: choose one of its own."), evidence->code);
}

/**
 * insight_series:
 * @evidence: the records of a model
 * @characteristic: key of a characteristic
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked once
 * @error: return location
 *
 * One characteristic through the rounds.
 *
 * Returns: (transfer full) (nullable): the series; %INSIGHT_ERROR_CHARACTERISTIC, %INSIGHT_ERROR_ROUND,
 *   %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightSeries *
insight_series (const BookEvidence *evidence, gint64 characteristic, const InsightSpan *span, GCancellable *cancellable,
                GError **error)
{
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  int through, number;
  BookDay today;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;
  number = book_evidence_find (evidence, characteristics, characteristic);
  if (number < 0)
    {
      insight_series_refuse_characteristic (evidence, error);
      return NULL;
    }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;

  basis = insight_basis_new (evidence);
  look = insight_look_new (basis, through, through >= 0 ? insight_round_end (evidence, through, today) : today);
  return insight_series_at (basis, look, number);
}

void
insight_series_free (InsightSeries *series)
{
  if (series == NULL)
    return;

  g_free (series->marks);
  g_free (series->of_readings);
  g_free (series->rounds);
  g_free (series->limits);
  g_ptr_array_unref (series->reasons);
  g_string_chunk_free (series->strings);
  g_free (series);
}
