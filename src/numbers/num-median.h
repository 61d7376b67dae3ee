/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A median and its interval by order statistics; interval and coverage NAN when the sample is too small for them. */
typedef struct
{
  double median;
  NumInterval interval;
  double coverage;
} NumMedian;

NumStatus num_median (const double *values, size_t n, double confidence, NumMedian *out);
