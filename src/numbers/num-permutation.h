/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_PERMUTATION_EXACT 200000  /* arrangements below which all are looked at, and the number sampled otherwise */
#define NUM_PERMUTATION_VALUES 20000  /* values in all, at most */

typedef struct
{
  double difference;    /* of means, after minus before */
  NumInterval interval; /* an end is infinite when the arrangements are too few for the confidence */
  double p;             /* two-sided */
  size_t arrangements;  /* looked at, the one seen included */
  bool exact;
} NumPermutation;

NumStatus num_permutation (NumSample before, NumSample after, double confidence, uint64_t key_high, uint64_t key_low,
                           NumPermutation *out);
