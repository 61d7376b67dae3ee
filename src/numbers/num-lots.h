/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-conformance.h"
#include "num-status.h"

#include <stdint.h>

#define NUM_LOTS_LEAST 3        /* lots below which the variation between them cannot be judged */
#define NUM_LOTS_DRAWS 200000   /* draws at least, where a criterion is decided */

/* Conformance with lots as a grouping factor. */
typedef struct
{
  double confidence; /* the smaller of @lots and @pooled */
  double lots;       /* share of draws that conform */
  double error;      /* standard error of @lots */
  double pooled;     /* all values as one sample, by the shape */
  double contrary;   /* of the pooled answer */
  size_t draws;
} NumLots;

NumStatus num_lots (const NumSample *lots, size_t count, NumLimits limits, double coverage, NumShape shape,
                    double resolution, uint64_t key_high, uint64_t key_low, size_t draws, NumLots *out);
