/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

void num_sort (double *values, size_t n);
NumStatus num_sorted_copy (const double *values, size_t n, double **sorted);
double num_sorted_quantile (const double *sorted, size_t n, double share);
NumStatus num_quantiles (const double *values, size_t n, const double *shares, size_t count, double *out);
