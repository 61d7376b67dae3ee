/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What every function of this folder answers with, and the few plain types they share.
 * Nothing here logs or keeps state, nothing includes GLib; what a function allocates it frees before it returns.
 */

#include <stdbool.h>
#include <stddef.h>

/**
 * NumStatus:
 * @NUM_OK: every output holds a result
 * @NUM_TOO_FEW: the sample is too small for a result; outputs are NAN
 * @NUM_BAD_INPUT: an argument lies outside its stated range; outputs are NAN
 * @NUM_NO_VARIATION: all values are equal where a spread is needed; outputs are NAN
 * @NUM_NO_CONVERGENCE: quadrature, root finding or minimising did not settle; outputs are NAN
 * @NUM_NO_SOLUTION: the method has no finite answer for these data
 * @NUM_CANCELLED: the caller asked to stop
 * @NUM_NO_MEMORY: an allocation failed
 */
typedef enum
{
  NUM_OK,
  NUM_TOO_FEW,
  NUM_BAD_INPUT,
  NUM_NO_VARIATION,
  NUM_NO_CONVERGENCE,
  NUM_NO_SOLUTION,
  NUM_CANCELLED,
  NUM_NO_MEMORY
} NumStatus;

/* Ends of an interval, low <= high; NAN where an end does not exist. */
typedef struct
{
  double low;
  double high;
} NumInterval;

/* Values that belong together: a lot, a group, one side of a comparison. Borrowed. */
typedef struct
{
  const double *values;
  size_t n;
} NumSample;

/* Limits of a characteristic; -INFINITY or INFINITY where there is none. */
typedef struct
{
  double lower;
  double upper;
} NumLimits;

const char *num_status_name (NumStatus status);
