/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* One-way analysis of variance. */
typedef struct
{
  double f;
  double df_between;
  double df_within;
  double p;
} NumGroups;

NumStatus num_groups (const NumSample *groups, size_t count, NumGroups *out);
