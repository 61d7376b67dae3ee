/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Two samples; differences are after minus before. NAN where a figure does not exist. */
typedef struct
{
  double difference;
  NumInterval interval;
  double t;
  double df;
  double p;
  double spread_f; /* Brown and Forsythe; NAN when the deviations do not vary within the samples */
  double spread_p;
  double rank_u;   /* pairs with after > before, half of the ties */
  double rank_p;
  double variance_ratio;
} NumComparison;

NumStatus num_compare (NumSample before, NumSample after, double confidence, NumComparison *out);

/* Two shares. */
typedef struct
{
  double difference;
  NumInterval interval; /* Newcombe's method 10 */
  double p;             /* Fisher, two-sided */
} NumShareComparison;

NumStatus num_compare_shares (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double confidence,
                              NumShareComparison *out);
NumStatus num_fisher_less (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double *p);
