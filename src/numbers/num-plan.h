/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_PLAN_DRAWS 4000
#define NUM_PLAN_UNITS_MOST 100000 /* further units looked at */

/* How many further units to build, and what can be expected of them. */
typedef struct
{
  size_t units;      /* further ones */
  double assurance;  /* chance that the confidence is reached with them, by what is known so far */
  double bad_passes; /* the same chance if the design stood exactly at the tolerated share */
} NumPlan;

/* A measured characteristic so far, and what is wanted of it. */
typedef struct
{
  size_t n;
  double mean;
  double sd;
  NumLimits limits;
  double coverage;
  double confidence;
  double assurance;
} NumPlanQuestion;

NumStatus num_plan_counts (size_t failed, size_t units, double tolerated, double confidence, NumPlan *out);
NumStatus num_plan_measured (const NumPlanQuestion *question, uint64_t key_high, uint64_t key_low, size_t draws,
                             NumPlan *out);
NumStatus num_plan_counts_chance (size_t failed, size_t units, size_t further, size_t allowed, double tolerated, NumPlan *out);
NumStatus num_plan_measured_chance (const NumPlanQuestion *question, size_t further, uint64_t key_high, uint64_t key_low,
                                    size_t draws, NumPlan *out);
