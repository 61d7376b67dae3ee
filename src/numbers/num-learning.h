/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A learning curve in unit form: unit i takes first i^slope, slope = log2 (rate). */
typedef struct
{
  double first;
  double slope;
  double rate;
  double r2; /* of the fit on logarithms; NAN when all times are equal */
  NumInterval slope_interval; /* at 0.9; NAN below 3 units */
} NumLearning;

NumStatus num_learning_fit (const double *minutes, size_t n, NumLearning *out);
NumStatus num_learning_predict (double first, double rate, size_t unit, double *unit_minutes, double *cumulative_minutes);
