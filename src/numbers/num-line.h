/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A straight line through points; what needs a third point is NAN for two. */
typedef struct
{
  double slope;
  double intercept;
  double se_slope;
  double se_intercept;
  double residual_sd; /* divides by n - 2 */
  double r2;          /* NAN when y does not vary at all */
  NumInterval slope_interval;
} NumLine;

NumStatus num_line (const double *x, const double *y, size_t n, double confidence, NumLine *out);
