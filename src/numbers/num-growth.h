/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Growth of the time between failures by a power law. */
typedef struct
{
  double beta;
  double beta_unbiased;
  double lambda;
  double mtbf; /* at the end */
  NumInterval mtbf_interval;
  double cvm;  /* Cramer and von Mises' statistic */
} NumGrowth;

NumStatus num_growth (const double *times, size_t n, double end, bool failure_truncated, double confidence, NumGrowth *out);
