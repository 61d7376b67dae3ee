/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <stdint.h>

#define NUM_FORECAST_ROUNDS 40      /* further rounds that a run looks ahead */
#define NUM_FORECAST_LENGTHS 3      /* rounds from which their lengths are estimated */

/* A criterion so far, and what each further round adds to it. */
typedef struct
{
  bool measured;      /* else checked: failures are counted */
  bool strict;        /* the confidence wanted grows with looks and attempts; checked: any-time confidence */
  double wanted;      /* confidence, in (0, 1) */
  double tolerated;   /* failing share still tolerated, in (0, 1) */
  size_t n;           /* counted units so far */
  size_t failed;      /* of them; checked only */
  double mean;        /* measured only; of the @n units */
  double sd;
  NumLimits limits;   /* measured only */
  size_t looks;       /* rounds with counted data so far */
  size_t attempt;     /* from 1 */
  size_t units_round; /* units that a further round adds, at least 1 */
} NumForecastCriterion;

typedef struct
{
  const NumForecastCriterion *criteria;
  size_t count;
  const double *round_days;  /* lengths of the rounds so far, above 0 */
  size_t rounds;
  double shortest;           /* a person's range of a round's length, used below %NUM_FORECAST_LENGTHS rounds */
  double longest;
  size_t fixes_worked;       /* fixes so far that held */
  size_t fixes_failed;
  double residual;           /* failing share after a fix that works, in [0, 1) */
} NumForecastInput;

/* One simulated future. */
typedef struct
{
  double days;     /* until all criteria are met; INFINITY when that takes more than the rounds looked at */
  unsigned rounds; /* 0 when all are met already */
} NumForecastRun;

/* Told the share done; answers whether to go on. */
typedef bool (*NumProgress) (double share, void *data);

NumStatus num_forecast (const NumForecastInput *input, uint64_t key_high, uint64_t key_low, NumProgress progress,
                        void *data, NumForecastRun *runs, size_t count);
double num_forecast_days (NumForecastRun *runs, size_t count, double share);
double num_forecast_reached (const NumForecastRun *runs, size_t count, double days);
