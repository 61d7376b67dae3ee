/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#define NUM_NORMALITY_LEAST 8 /* values below which the table of p does not hold */

typedef struct
{
  double a2;
  double a2_adjusted;
  double p;
} NumNormality;

NumStatus num_normality (const double *values, size_t n, NumNormality *out);
