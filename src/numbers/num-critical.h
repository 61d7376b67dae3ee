/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#define NUM_CRITICAL_POINTS 9

/*
 * How far, in sample deviations, a sample mean must lie inside its nearer limit for a confidence: computed once for a sample
 * size, asked often by simulations. With two limits it depends on how far off the middle the mean lies.
 */
typedef struct
{
  bool two;
  double distance[NUM_CRITICAL_POINTS]; /* by nearer distance over half the width, from 0 to 1; the first alone for one limit */
} NumCritical;

NumStatus num_critical_init (NumCritical *critical, size_t n, bool two, double coverage, double confidence);
bool num_critical_met (const NumCritical *critical, double mean, double sd, NumLimits limits);
