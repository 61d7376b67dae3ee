/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#define NUM_FIX_FISHER 0.10 /* largest chance of so few failures after by luck that still proves a fix */

/* Whether a fix is proven by what failed before and after it. */
typedef struct
{
  double confidence; /* that the failing share after is below the tolerated */
  double wanted;     /* the confidence it is held against, after the price of further attempts */
  double fisher;     /* before against after, one-sided */
  bool proven;
} NumFix;

NumStatus num_fix (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double tolerated, double confidence,
                   size_t attempt, bool strict, NumFix *out);
double num_wanted_at_attempt (double confidence, size_t attempt);
