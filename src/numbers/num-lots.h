/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-conformance.h"
#include "num-describe.h"
#include "num-status.h"

#define NUM_LOTS_LEAST 3 /* lots below which the variation between them cannot be judged */

/* Conformance with lots as a grouping factor. */
typedef struct
{
  double confidence; /* the smaller of @lots and @pooled */
  double lots;       /* with the lots as groups */
  double pooled;     /* all values as one sample, by the shape */
  double contrary;   /* of the pooled answer */
} NumLots;

NumStatus num_lots (const NumSample *lots, size_t count, NumLimits limits, double coverage, NumShape shape,
                    double resolution, NumLots *out);
NumStatus num_lots_moments (const NumMoments *lots, size_t count, NumLimits limits, double coverage, double resolution,
                            double *confidence);
