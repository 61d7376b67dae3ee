/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* How many issues there are in all, from when they were found. */
typedef struct
{
  double total;
  double rate;
  size_t found;
  double expected_left;
  double laplace;             /* trend statistic; low when discovery slows down */
  NumInterval total_interval; /* profile likelihood; high is INFINITY when no end can be told */
} NumDiscovery;

NumStatus num_discovery (const double *times, size_t n, double end, double confidence, NumDiscovery *out);
