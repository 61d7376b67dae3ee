/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for one sample of measured values, and for lots of them. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-conformance.h"
#include "num-describe.h"
#include "num-lots.h"
#include "num-median.h"
#include "num-tolerance.h"

#include <glib/gi18n.h>
#include <math.h>

static const BatchCalcKey describe_keys[] = {
  { "values", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
describe (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample sample = batch_calc_numbers (input, "values");
  NumDescription out;

  if (!batch_calc_ok (answer, num_describe (sample.values, sample.n, &out), "values"))
    return;
  batch_calc_put_count (answer, "n", out.n);
  batch_calc_put (answer, "mean", out.mean);
  batch_calc_put (answer, "sd", out.sd);
  batch_calc_put (answer, "median", out.median);
  batch_calc_put (answer, "min", out.min);
  batch_calc_put (answer, "max", out.max);
  batch_calc_put (answer, "q1", out.q1);
  batch_calc_put (answer, "q3", out.q3);
  batch_calc_put (answer, "skewness", out.skewness);
  batch_calc_put (answer, "kurtosis", out.kurtosis);
  batch_calc_put (answer, "autocorrelation", out.autocorrelation);
  if (answer->lacks)
    batch_calc_why (answer, out.n < 2   ? _("One value has no spread.")
                            : out.min == out.max
                                ? _("The values do not vary.")
                                : _("Skewness needs 3 values and kurtosis 4."));
}

static const BatchCalcKey tolerance_keys[] = {
  { "n", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "coverage", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "sides", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
tolerance (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize n = batch_calc_count (input, "n");
  gsize sides = batch_calc_count (input, "sides");
  double coverage = batch_calc_number (input, "coverage", 0.0);
  double confidence = batch_calc_number (input, "confidence", 0.0);
  double k, howe;

  if (n < 2)
    batch_calc_fail (answer, _("\"n\" must be at least 2."));
  else if (sides == 1)
    {
      if (batch_calc_ok (answer, num_tolerance_one (n, coverage, confidence, &k), "n"))
        batch_calc_put (answer, "k", k);
    }
  else if (sides == 2)
    {
      if (!batch_calc_ok (answer, num_tolerance_two (n, coverage, confidence, &k), "n")
          || !batch_calc_ok (answer, num_tolerance_howe (n, coverage, confidence, &howe), "n"))
        return;
      batch_calc_put (answer, "k", k);
      batch_calc_put (answer, "k_howe", howe);
    }
  else
    batch_calc_fail (answer, _("\"sides\" must be 1 or 2."));
}

static const char *const shape_words[] = { "normal", "least", "lognormal", "unknown", NULL };

static const NumShape shapes[] = { NUM_SHAPE_NORMAL, NUM_SHAPE_LEAST, NUM_SHAPE_LOGNORMAL, NUM_SHAPE_UNKNOWN };

static const BatchCalcKey conformance_keys[] = {
  { "values", BATCH_CALC_NUMBERS, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "n", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "mean", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "sd", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "lower", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "upper", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "coverage", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "shape", BATCH_CALC_WORD, BATCH_CALC_OPTIONAL, shape_words, NULL },
  { "resolution", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static const char *const moment_names[] = { "n", "mean", "sd", NULL };
static const char *const values_name[] = { "values", NULL };

static void
conformance (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumShape shape = shapes[batch_calc_word (input, "shape", 0)];
  double coverage = batch_calc_number (input, "coverage", 0.0);
  double confidence = batch_calc_number (input, "confidence", 0.95);
  double resolution = batch_calc_number (input, "resolution", 0.0);
  NumConformance out;
  NumLimits limits;
  NumStatus status;

  if (!batch_calc_limits (input, answer, &limits))
    return;
  if (resolution < 0.0)
    {
      batch_calc_fail (answer, _("\"resolution\" must not be negative."));
      return;
    }
  if (batch_calc_has (input, "values"))
    {
      NumSample sample = batch_calc_numbers (input, "values");

      if (!batch_calc_refuse (input, answer, moment_names))
        return;
      status = num_conformance_values (sample.values, sample.n, limits, coverage, confidence, shape, resolution, &out);
      if (!batch_calc_ok (answer, status, "values"))
        return;
    }
  else
    {
      double sd = batch_calc_number (input, "sd", 0.0);

      if (shape != NUM_SHAPE_NORMAL && !batch_calc_need (input, answer, values_name))
        return;
      if (!batch_calc_need (input, answer, moment_names))
        return;
      if (sd < 0.0)
        {
          batch_calc_fail (answer, _("\"sd\" must not be negative."));
          return;
        }
      status = num_conformance (batch_calc_count (input, "n"), batch_calc_number (input, "mean", 0.0),
                                fmax (sd, 0.5 * resolution), limits, coverage, confidence, &out);
      if (!batch_calc_ok (answer, status, status == NUM_TOO_FEW ? "n" : "sd"))
        return;
    }
  batch_calc_put (answer, "confidence", out.confidence);
  batch_calc_put (answer, "share", out.share);
  batch_calc_put (answer, "share_low", out.share_low);
  if (shape != NUM_SHAPE_UNKNOWN)
    {
      if (shape != NUM_SHAPE_LOGNORMAL)
        batch_calc_put (answer, "normal", out.normal);
      if (shape != NUM_SHAPE_NORMAL)
        batch_calc_put (answer, "lognormal", out.lognormal);
      if (answer->lacks)
        batch_calc_why (answer, _("Values that are not all above 0 have no log-normal answer."));
    }
}

static const BatchCalcKey lots_keys[] = {
  { "groups", BATCH_CALC_GROUPS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "lower", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "upper", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "coverage", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "shape", BATCH_CALC_WORD, BATCH_CALC_OPTIONAL, shape_words, NULL },
  { "resolution", BATCH_CALC_NUMBER, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
lots (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  gsize count;
  const NumSample *groups = batch_calc_groups (input, "groups", &count);
  NumLimits limits;
  NumStatus status;
  NumLots out;

  if (!batch_calc_limits (input, answer, &limits))
    return;
  if (count < NUM_LOTS_LEAST)
    {
      batch_calc_fail (answer, _("\"groups\" must hold at least 3 lots: the variation between fewer cannot be judged."));
      return;
    }
  status = num_lots (groups, count, limits, batch_calc_number (input, "coverage", 0.0),
                     shapes[batch_calc_word (input, "shape", 0)], batch_calc_number (input, "resolution", 0.0), &out);
  if (!batch_calc_ok (answer, status, "groups"))
    return;
  batch_calc_put (answer, "confidence", out.confidence);
  batch_calc_put (answer, "pooled", out.pooled);
}

static const BatchCalcKey median_keys[] = {
  { "values", BATCH_CALC_NUMBERS, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
median (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumSample sample = batch_calc_numbers (input, "values");
  NumMedian out;
  NumStatus status = num_median (sample.values, sample.n, batch_calc_number (input, "confidence", 0.0), &out);

  if (!batch_calc_ok (answer, status, "values"))
    return;
  batch_calc_put (answer, "median", out.median);
  batch_calc_put (answer, "low", out.interval.low);
  batch_calc_put (answer, "high", out.interval.high);
  batch_calc_put (answer, "coverage", out.coverage);
  if (answer->lacks)
    batch_calc_why (answer, _("The sample is too small for an interval at this confidence."));
}

const BatchCalcMethod batch_calc_samples[] = {
  { "describe", describe_keys, describe },
  { "tolerance", tolerance_keys, tolerance },
  { "conformance", conformance_keys, conformance },
  { "lots", lots_keys, lots },
  { "median", median_keys, median },
  { 0 },
};
