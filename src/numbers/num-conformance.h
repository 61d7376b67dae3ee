/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/**
 * NumShape:
 * @NUM_SHAPE_NORMAL: normal, stated beforehand
 * @NUM_SHAPE_LEAST: normal or log-normal: the smaller of the two answers (the second only where all values are positive)
 * @NUM_SHAPE_LOGNORMAL: log-normal, stated beforehand
 * @NUM_SHAPE_UNKNOWN: nothing assumed: values outside the limits are counted
 */
typedef enum
{
  NUM_SHAPE_NORMAL,
  NUM_SHAPE_LEAST,
  NUM_SHAPE_LOGNORMAL,
  NUM_SHAPE_UNKNOWN
} NumShape;

/* How sure a sample makes us that a wanted share of the population lies inside its limits; NAN where not computed. */
typedef struct
{
  double confidence; /* that the share inside is at least the coverage; by the shape */
  double contrary;   /* that it is not; for LEAST the smaller of the two contraries, for UNKNOWN P(fewer outside) */
  double normal;     /* the normal answer */
  double lognormal;  /* the log-normal answer */
  double share;      /* estimate of the share inside, by the shape that decided */
  double share_low;  /* one-sided lower bound of it */
  size_t n;
  size_t outside;    /* values outside the limits; 0 when only moments were given */
} NumConformance;

NumStatus num_conformance (size_t n, double mean, double sd, NumLimits limits, double coverage, double share_confidence,
                           NumConformance *out);
NumStatus num_conformance_values (const double *values, size_t n, NumLimits limits, double coverage,
                                  double share_confidence, NumShape shape, double resolution, NumConformance *out);
NumStatus num_conformance_confidence (size_t n, double mean, double sd, NumLimits limits, double coverage,
                                      double *confidence);
NumStatus num_conformance_units (double mean, double sd, NumLimits limits, double coverage, double wanted, size_t least,
                                 size_t most, size_t *units);
NumLimits num_limits_log (NumLimits limits);
double num_normal_share (double mean, double sd, NumLimits limits);
