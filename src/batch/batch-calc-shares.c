/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator's methods for units that pass or fail. */
#include "config.h"

#include "batch-calc-methods.h"
#include "num-anytime.h"
#include "num-demonstration.h"
#include "num-proportion.h"

#include <glib/gi18n.h>

static const BatchCalcKey proportion_keys[] = {
  { "k", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "n", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { 0 },
};

static void
proportion (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  NumProportion out;
  NumStatus status = num_proportion (batch_calc_count (input, "k"), batch_calc_count (input, "n"),
                                     batch_calc_number (input, "confidence", 0.0), &out);

  if (status != NUM_OK)
    {
      batch_calc_fail (answer, _("\"k\" must not exceed \"n\", and \"n\" must be at least 1."));
      return;
    }
  batch_calc_put (answer, "estimate", out.estimate);
  batch_calc_put_interval (answer, "wilson", out.wilson);
  batch_calc_put_interval (answer, "exact", out.exact);
  batch_calc_put_interval (answer, "jeffreys", out.jeffreys);
}

static const BatchCalcKey demonstration_keys[] = {
  { "reliability", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "failures", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "units", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

/* Of "units" and "confidence" exactly one is given, and the other is the answer. */
static gboolean
asks_for_units (const BatchCalcInput *input, BatchCalcAnswer *answer, gboolean *units)
{
  *units = batch_calc_has (input, "confidence");
  if (*units == batch_calc_has (input, "units"))
    {
      batch_calc_fail (answer, _("Give either \"units\" or \"confidence\": the other one is the answer."));
      return FALSE;
    }
  return TRUE;
}

static void
demonstration (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  double tolerated = 1.0 - batch_calc_number (input, "reliability", 0.0);
  gsize failed = batch_calc_count (input, "failures");
  gboolean units_wanted;

  if (!asks_for_units (input, answer, &units_wanted))
    return;
  if (units_wanted)
    {
      size_t units;
      NumStatus status
          = num_demonstration_units (failed, tolerated, batch_calc_number (input, "confidence", 0.0), &units);

      if (batch_calc_ok (answer, status, "reliability"))
        batch_calc_put_count (answer, "units", units);
    }
  else
    {
      double confidence;
      NumStatus status = num_demonstration_confidence (failed, batch_calc_count (input, "units"), tolerated, &confidence);

      if (batch_calc_ok (answer, status, "units"))
        batch_calc_put (answer, "confidence", confidence);
    }
}

static const BatchCalcKey anytime_keys[] = {
  { "failed", BATCH_CALC_COUNT, BATCH_CALC_REQUIRED, NULL, NULL },
  { "tolerated", BATCH_CALC_SHARE, BATCH_CALC_REQUIRED, NULL, NULL },
  { "units", BATCH_CALC_COUNT, BATCH_CALC_OPTIONAL, NULL, NULL },
  { "confidence", BATCH_CALC_SHARE, BATCH_CALC_OPTIONAL, NULL, NULL },
  { 0 },
};

static void
anytime (const BatchCalcInput *input, BatchCalcAnswer *answer)
{
  double tolerated = batch_calc_number (input, "tolerated", 0.0);
  gsize failed = batch_calc_count (input, "failed");
  gboolean units_wanted;

  if (!asks_for_units (input, answer, &units_wanted))
    return;
  if (units_wanted)
    {
      size_t units;
      NumStatus status = num_anytime_units (failed, tolerated, batch_calc_number (input, "confidence", 0.0), &units);

      if (batch_calc_ok (answer, status, "tolerated"))
        batch_calc_put_count (answer, "units", units);
    }
  else
    {
      double e, confidence;
      NumStatus status = num_anytime_confidence (failed, batch_calc_count (input, "units"), tolerated, &e, &confidence);

      if (!batch_calc_ok (answer, status, "units"))
        return;
      batch_calc_put (answer, "e", e);
      batch_calc_put (answer, "confidence", confidence);
    }
}

const BatchCalcMethod batch_calc_shares[] = {
  { "proportion", proportion_keys, proportion },
  { "demonstration", demonstration_keys, demonstration },
  { "anytime", anytime_keys, anytime },
  { 0 },
};
