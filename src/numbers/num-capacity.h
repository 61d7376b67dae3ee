/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#define NUM_CAPACITY_ALONE ((size_t) -1) /* a step with a bench of its own */

/* A step of the way a piece takes, in order. */
typedef struct
{
  double machines;
  double people;       /* who can work at once; at least as many as machines where they do not matter */
  double share;        /* of the week that is free for this model, in (0, 1] */
  double hours_week;
  double uptime;       /* in (0, 1] */
  double cycle_min;
  double setup_min;    /* once a batch */
  double batch;
  double rework_share; /* of the pieces */
  double rework_min;
  double yield;        /* pieces that go on, in (0, 1] */
  size_t bench;        /* steps of the same number share its minutes, or %NUM_CAPACITY_ALONE */
} NumCapacityStep;

typedef struct
{
  double month;      /* shippable pieces a month */
  size_t constraint; /* first step whose rate is least */
} NumCapacity;

NumStatus num_capacity (const NumCapacityStep *steps, size_t count, double weeks_month, double *rates, NumCapacity *out);
