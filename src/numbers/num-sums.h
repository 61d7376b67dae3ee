/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Sums of the powers of deviations from a shift near the mean, and of products of neighbours; extremes. */
typedef struct
{
  size_t n;
  double shift;
  double min;
  double max;
  long double first;
  long double second;
  long double third;
  long double fourth;
  long double lagged;
} NumSums;

double num_sums_shift (const double *values, size_t n);
void num_sums_two (const double *values, size_t n, double shift, NumSums *out);
void num_sums_four (const double *values, size_t n, double shift, NumSums *out);
