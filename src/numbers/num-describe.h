/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Size, centre, spread and extremes of a sample. */
typedef struct
{
  size_t n;
  double mean;
  double sd; /* divides by n - 1; NAN for one value */
  double min;
  double max;
} NumMoments;

/* A sample described; NAN where a figure does not exist. */
typedef struct
{
  size_t n;
  double mean;
  double sd;              /* divides by n - 1; from 2 values */
  double median;
  double min;
  double max;
  double q1;
  double q3;
  double skewness;        /* G1; from 3 values with variation */
  double kurtosis;        /* excess G2; from 4 values with variation */
  double autocorrelation; /* at lag 1; needs variation */
} NumDescription;

bool num_all_finite (const double *values, size_t n);
NumStatus num_moments (const double *values, size_t n, NumMoments *out);
NumStatus num_describe (const double *values, size_t n, NumDescription *out);
