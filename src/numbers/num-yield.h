/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_YIELD_DRAWS 200000

/* Units at a step: all counts whole. */
typedef struct
{
  size_t in;       /* at least the sum of the others */
  size_t first;    /* good the first time */
  size_t reworked; /* good after rework */
  size_t scrapped;
  size_t waiting;  /* for rework */
} NumYieldStep;

typedef struct
{
  double first_pass;
  double final;            /* of those decided; NAN when all wait */
  NumInterval final_range; /* all waiting scrapped, all good */
} NumYieldAnswer;

typedef struct
{
  double rolled;
  NumInterval interval;
  double target_confidence; /* that the rolled yield is at least the target; NAN without one */
  double target_error;      /* its standard error; 0 where it is exact */
} NumYield;

NumStatus num_yield (const NumYieldStep *steps, size_t count, double confidence, double target, uint64_t key_high,
                     uint64_t key_low, size_t draws, NumYieldAnswer *answers, NumYield *out);
