/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for a process in the course of time. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-capability.h"
#include "num-control.h"
#include "num-normality.h"

#include <glib/gi18n.h>
#include <math.h>

static const BatchCalcKey capability_keys[] = {
  { "values", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "lower", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "upper", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "target", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "groups", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
capability (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample sample = batch_calc_numbers (input, "values");
  gsize group = batch_calc_count (input, "groups");
  NumLimits limits;
  NumCapability out;
  NumStatus status;

  if (!batch_calc_limits (input, answer, &limits))
    return;
  if (batch_calc_has (input, "groups") && group < 2)
    {
      batch_calc_fail (answer, _("\"groups\" is the size of a subgroup, at least 2."));
      return;
    }
  status = num_capability (sample.values, sample.n, limits, batch_calc_number (input, "target", nan ("")), group,
                           batch_calc_number (input, "confidence", 0.0), &out);
  if (!batch_calc_ok (answer, status, "values"))
    return;
  batch_calc_put (answer, "cp", out.cp);
  batch_calc_put (answer, "cpk", out.cpk);
  batch_calc_put (answer, "pp", out.pp);
  batch_calc_put (answer, "ppk", out.ppk);
  batch_calc_put (answer, "cpm", out.cpm);
  if (isfinite (out.cp_interval.low))
    {
      batch_calc_put (answer, "cp_low", out.cp_interval.low);
      batch_calc_put (answer, "cp_high", out.cp_interval.high);
    }
  batch_calc_put (answer, "cpk_low", out.cpk_interval.low);
  batch_calc_put (answer, "cpk_high", out.cpk_interval.high);
  if (isfinite (out.pp_interval.low))
    {
      batch_calc_put (answer, "pp_low", out.pp_interval.low);
      batch_calc_put (answer, "pp_high", out.pp_interval.high);
    }
  batch_calc_put (answer, "ppk_low", out.ppk_interval.low);
  batch_calc_put (answer, "ppk_high", out.ppk_interval.high);
  batch_calc_put (answer, "sd_within", out.sd_within);
  batch_calc_put (answer, "sd_overall", out.sd_overall);
  if (answer->lacks)
    batch_calc_why (answer, _("cp, pp and cpm need two limits, and cpm a target."));
}

static const BatchCalcKey values_keys[] = {
  { "values", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
normality (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample sample = batch_calc_numbers (input, "values");
  NumNormality out;

  if (!batch_calc_ok (answer, num_normality (sample.values, sample.n, &out), "values"))
    return;
  batch_calc_put (answer, "a2", out.a2);
  batch_calc_put (answer, "a2_adjusted", out.a2_adjusted);
  batch_calc_put (answer, "p", out.p);
}

/* @chart names the chart of a signal where there are two, else NULL. */
static void
add_signals (JsonArray *array, const NumSignal *signals, size_t count, const char *chart)
{
  for (size_t i = 0; i < count; i++)
    {
      JsonObject *object = json_object_new ();

      json_object_set_int_member (object, "index", (gint64) signals[i].index);
      json_object_set_int_member (object, "rule", signals[i].rule);
      if (chart != NULL)
        json_object_set_string_member (object, "chart", chart);
      json_array_add_object_element (array, object);
    }
}

static void
put_signals (BatchCalcAnswer *answer, const NumSignal *signals, size_t count)
{
  JsonArray *array = json_array_new ();

  add_signals (array, signals, count, NULL);
  batch_calc_put_array (answer, "signals", array);
}

static void
individuals (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample sample = batch_calc_numbers (input, "values");
  g_autofree NumSignal *signals = g_new (NumSignal, sample.n * NUM_SIGNALS_A_POINT);
  size_t count;
  NumIndividuals out;

  if (!batch_calc_ok (answer, num_individuals (sample.values, sample.n, &out, signals, &count), "values"))
    return;
  batch_calc_put (answer, "mean", out.mean);
  batch_calc_put (answer, "mr_bar", out.mr_bar);
  batch_calc_put (answer, "lower", out.lower);
  batch_calc_put (answer, "upper", out.upper);
  batch_calc_put (answer, "mr_upper", out.mr_upper);
  put_signals (answer, signals, count);
}

static const char *const spread_words[] = { "range", "deviation", NULL };

static const BatchCalcKey subgroups_keys[] = {
  { "groups", BATCH_CALC_GROUPS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "chart", BATCH_CALC_WORD, BATCH_CALC_REQUIRED, spread_words, NULL },
  { 0 },
};

/* One figure of every subgroup: a number when all have one size, else an array. */
static void
put_by_group (BatchCalcAnswer *answer, const char *name, const NumSubgroup *points, gsize count, gsize offset,
              gboolean single)
{
  g_autofree double *values = g_new (double, count);

  for (gsize i = 0; i < count; i++)
    values[i] = G_STRUCT_MEMBER (double, &points[i], offset);
  if (single)
    batch_calc_put (answer, name, values[0]);
  else
    batch_calc_put_numbers (answer, name, values, count);
}

static void
subgroups (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  static const struct
  {
    const char *name;
    gsize offset;
  } figures[] = {
    { "lower", G_STRUCT_OFFSET (NumSubgroup, lower) },
    { "upper", G_STRUCT_OFFSET (NumSubgroup, upper) },
    { "spread", G_STRUCT_OFFSET (NumSubgroup, spread_centre) },
    { "spread_lower", G_STRUCT_OFFSET (NumSubgroup, spread_lower) },
    { "spread_upper", G_STRUCT_OFFSET (NumSubgroup, spread_upper) },
  };
  gsize count;
  const NumSample *groups = batch_calc_groups (input, "groups", &count);
  g_autofree NumSubgroup *points = g_new0 (NumSubgroup, count);
  g_autofree NumSignal *mean_signals = g_new (NumSignal, count * NUM_SIGNALS_A_POINT);
  g_autofree NumSignal *spread_signals = g_new (NumSignal, count);
  NumSpread spread = batch_calc_word (input, "chart", 0) == 0 ? NUM_SPREAD_RANGE : NUM_SPREAD_DEVIATION;
  size_t mean_count, spread_count;
  gboolean single = TRUE;
  JsonArray *array;
  double mean;
  NumStatus status = num_subgroups (groups, count, spread, &mean, points, mean_signals, &mean_count, spread_signals,
                                    &spread_count);

  if (!batch_calc_ok (answer, status, "groups"))
    return;
  for (gsize i = 1; i < count; i++)
    single = single && groups[i].n == groups[0].n;
  batch_calc_put (answer, "mean", mean);
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    put_by_group (answer, figures[i].name, points, count, figures[i].offset, single);
  array = json_array_new ();
  add_signals (array, mean_signals, mean_count, "mean");
  add_signals (array, spread_signals, spread_count, "spread");
  batch_calc_put_array (answer, "signals", array);
}

typedef NumStatus (*RateChart) (const double *counts, const double *sizes, size_t n, double *mean, NumRatePoint *points,
                                NumSignal *signals, size_t *signal_count);

static void
rate_chart (const BatchCalcInput *input, BatchCalcAnswer *answer, RateChart chart)
{
  NumSample counts = batch_calc_numbers (input, "counts");
  NumSample sizes = batch_calc_numbers (input, "sizes");
  g_autofree NumRatePoint *points = g_new0 (NumRatePoint, counts.n);
  g_autofree NumSignal *signals = g_new (NumSignal, counts.n * NUM_SIGNALS_A_POINT);
  g_autofree double *lower = g_new (double, counts.n);
  g_autofree double *upper = g_new (double, counts.n);
  size_t signal_count;
  double mean;

  if (sizes.values != NULL && sizes.n != counts.n)
    {
      batch_calc_fail (answer, _("\"sizes\" must have as many values as \"counts\"."));
      return;
    }
  if (chart (counts.values, sizes.values, counts.n, &mean, points, signals, &signal_count) != NUM_OK)
    {
      batch_calc_fail (answer, _("\"counts\" must be whole and not negative, \"sizes\" above 0, and no count of units above "
                                 "its size."));
      return;
    }
  for (gsize i = 0; i < counts.n; i++)
    {
      lower[i] = points[i].lower;
      upper[i] = points[i].upper;
    }
  batch_calc_put (answer, "mean", mean);
  batch_calc_put_numbers (answer, "lower", lower, counts.n);
  batch_calc_put_numbers (answer, "upper", upper, counts.n);
  put_signals (answer, signals, signal_count);
}

static const BatchCalcKey fraction_keys[] = {
  { "counts", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "sizes", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
fraction (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  rate_chart (input, answer, num_fraction_chart);
}

static const BatchCalcKey count_keys[] = {
  { "counts", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "sizes", BATCH_CALC_NUMBERS, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
count_chart (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  rate_chart (input, answer, num_count_chart);
}

const BatchCalcMethod batch_calc_charts[] = {
  { "capability", capability_keys, capability }, { "normality", values_keys, normality },
  { "individuals", values_keys, individuals },   { "subgroups", subgroups_keys, subgroups },
  { "fraction", fraction_keys, fraction },       { "count", count_keys, count_chart },
  { 0 },
};
