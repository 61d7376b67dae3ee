/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* The curve at one time at which something ended. */
typedef struct
{
  double time;
  size_t at_risk;
  size_t ended;
  double survival;
  double se; /* Greenwood; NAN where the curve is 0 */
} NumSurvivalStep;

typedef struct
{
  size_t steps;
  double median;        /* NAN when the curve does not fall to one half */
  NumInterval interval; /* of the median, log-minus-log; an end that never crosses is NAN */
} NumSurvival;

NumStatus num_survival (const double *times, const bool *ended, const double *entered, size_t n, double confidence,
                        NumSurvivalStep *steps, NumSurvival *out);
