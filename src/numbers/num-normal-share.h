/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/*
 * The share of a normal population inside limits, judged from a sample of size n. Distances are those of the sample mean
 * to its limits in sample deviations, negative when the mean lies outside, INFINITY where there is no limit. Shares
 * outside (misses) stand for coverages, since 1 - coverage keeps its digits where the coverage is near 1.
 */
double num_normal_share_between (double lower_z, double upper_z);
NumStatus num_normal_share_confidence (size_t n, double to_lower, double to_upper, double miss, double *confidence);
NumStatus num_normal_share_miss (size_t n, double to_lower, double to_upper, double confidence, double *miss);
