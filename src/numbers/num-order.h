/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#define NUM_QUANTILES_MOST 4
#define NUM_SELECT_FROM 8192 /* values from which a few ranks are selected rather than all sorted */

void num_sort (double *values, size_t n);
NumStatus num_sorted_copy (const double *values, size_t n, double **sorted);
double num_between (double value, double next, double part);
double num_sorted_quantile (const double *sorted, size_t n, double share);
NumStatus num_quantiles (const double *values, size_t n, const double *shares, size_t count, double *out);
NumStatus num_select (const double *values, size_t n, double least, double most, size_t *ranks, size_t count,
                      double *out);
