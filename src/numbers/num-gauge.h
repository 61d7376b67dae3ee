/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_GAUGE_SHARE_MOST 0.30 /* of the tolerance that 6 grr may take up; 0.10 the aim (AIAG MSA, common practice) */
#define NUM_GAUGE_POOL_ABOVE 0.25 /* p above which the interaction is pooled with the error (AIAG) */

/* A crossed study: values [person][part][trial], one after the other. */
typedef struct
{
  const double *values;
  size_t persons;
  size_t parts;  /* at least 2 */
  size_t trials; /* at least 2 */
} NumGaugeStudy;

/* All deviations, not multiplied. */
typedef struct
{
  double ev;        /* repeatability */
  double av;        /* reproducibility, the interaction included where it is kept */
  double grr;
  double pv;        /* between parts */
  double tv;
  double grr_share; /* of tv; NAN when nothing varies */
  double ndc;       /* distinct categories; NAN when the gauge does not vary */
} NumGauge;

NumStatus num_gauge_anova (const NumGaugeStudy *study, NumGauge *out);
NumStatus num_gauge_range (const NumGaugeStudy *study, NumGauge *out);
NumStatus num_gauge_confidence (const NumGaugeStudy *study, double tolerance, double share_most, uint64_t key_high,
                                uint64_t key_low, size_t draws, double *confidence, double *error);
