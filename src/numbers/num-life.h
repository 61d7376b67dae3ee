/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_LIFE_FIT_FROM 3 /* failures from which a shape is fitted rather than stated */
#define NUM_LIFE_DRAWS 200000

typedef enum
{
  NUM_LIFE_STATED, /* shape stated beforehand as a range */
  NUM_LIFE_FITTED  /* bootstrap of a fit restricted to the share wanted */
} NumLifeWay;

/* A life test's units, and what is asked of them. */
typedef struct
{
  const double *failed; /* times of failure of the mode looked at */
  size_t failures;
  const double *stopped; /* times of units that stopped without it */
  size_t stops;
  double planned;      /* longest stopping time planned, 0 for the longest stopped time */
  double at;           /* time wanted */
  double share;        /* share that must live beyond it */
  NumInterval shape;   /* stated range of the shape; used below %NUM_LIFE_FIT_FROM failures, NAN for none */
} NumLifeQuestion;

typedef struct
{
  double confidence;
  double error; /* its standard error; 0 where it is exact */
  NumLifeWay way;
} NumLife;

NumStatus num_life (const NumLifeQuestion *question, uint64_t key_high, uint64_t key_low, size_t draws, NumLife *out);
