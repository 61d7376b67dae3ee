/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A Weibull fit on the logarithms of times: (ln t - location)/sigma has the standard least extreme value distribution. */
typedef struct
{
  double location;      /* ln scale */
  double sigma;         /* 1/shape */
  double var_location;
  double var_log_sigma; /* of ln sigma, by the observed information */
  double covariance;
} NumWeibullFit;

/* Life of units, with Wald intervals on the log scale. */
typedef struct
{
  NumWeibullFit fit;
  double shape;
  double scale;
  NumInterval shape_interval;
  NumInterval scale_interval;
  double b10;
  double b10_low;
} NumWeibull;

NumStatus num_weibull (const double *failed, size_t failures, const double *stopped, size_t stops, double confidence,
                       NumWeibull *out);
NumStatus num_weibull_survival (const NumWeibull *weibull, double at, double confidence, double *survival, double *low);
NumStatus num_weibull_fit_logs (const double *logs, size_t failures, size_t n, NumWeibullFit *out);
double num_weibull_u (const NumWeibullFit *fit, double log_time, double *se);
