/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Indices of a process against its limits; NAN where one does not exist. */
typedef struct
{
  double cp;
  double cpk;
  double pp;
  double ppk;
  double cpm;
  NumInterval cp_interval;
  NumInterval cpk_interval;
  NumInterval pp_interval;
  NumInterval ppk_interval;
  double sd_within;
  double sd_overall;
} NumCapability;

NumStatus num_capability (const double *values, size_t n, NumLimits limits, double target, size_t group,
                          double confidence, NumCapability *out);
