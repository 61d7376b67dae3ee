/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A share and its two-sided intervals by three ways. */
typedef struct
{
  double estimate;
  NumInterval wilson;
  NumInterval exact;
  NumInterval jeffreys;
} NumProportion;

NumStatus num_proportion (size_t k, size_t n, double confidence, NumProportion *out);
NumStatus num_proportion_wilson (size_t k, size_t n, double confidence, NumInterval *out);
NumStatus num_proportion_exact (size_t k, size_t n, double confidence, NumInterval *out);
NumStatus num_proportion_lower (size_t k, size_t n, double confidence, double *low);
