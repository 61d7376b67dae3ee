/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inverse of conformance in the distance of the mean. */
#include "num-critical.h"

#include "num-normal-share.h"
#include "num-solve.h"
#include "num-tolerance.h"

#include <math.h>
#include <pthread.h>
#include <stdint.h>
#include <string.h>

#define ACCURACY 1e-6

typedef struct
{
  size_t n;
  double place; /* nearer distance over half the width */
  double miss;
  double confidence;
} Question;

static double
confidence_excess (double distance, void *data)
{
  const Question *x = data;
  double reached;

  if (num_normal_share_confidence (x->n, distance, distance * (2.0 / x->place - 1.0), x->miss, &reached) != NUM_OK)
    return NAN;
  return reached - x->confidence;
}

static NumStatus
find_distances (NumCritical *critical, size_t n, bool two, double coverage, double confidence)
{
  Question question = { n, 0.0, 1.0 - coverage, confidence };
  NumStatus status = num_tolerance_one (n, coverage, confidence, &critical->distance[0]);

  for (int i = 1; two && status == NUM_OK && i < NUM_CRITICAL_POINTS; i++)
    {
      double low = fmax (0.0, critical->distance[i - 1]); /* the farther limit only asks for more */
      double high = low + 0.1;

      question.place = (double) i / (NUM_CRITICAL_POINTS - 1);
      if (!(confidence_excess (low, &question) < 0.0))
        {
          critical->distance[i] = low;
          continue;
        }
      while (confidence_excess (high, &question) < 0.0)
        high += high;
      status = num_root (confidence_excess, &question, low, high, ACCURACY, &critical->distance[i]);
    }
  return status;
}

/*
 * A forecast that leaves out one criterion after the other asks for the same distances each time, and finding them takes a
 * thousand times longer than looking them up. Threads share what was found; a place is taken by whoever comes last.
 */
typedef struct
{
  size_t n; /* 0: nothing yet */
  double coverage;
  double confidence;
  NumCritical critical;
} Found;

#define PLACES 16384

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static Found found[PLACES];

static Found *
place_of (size_t n, bool two, double coverage, double confidence)
{
  uint64_t bits[4] = { n, two, 0, 0 };
  uint64_t hash = 0;

  memcpy (&bits[2], &coverage, sizeof coverage);
  memcpy (&bits[3], &confidence, sizeof confidence);
  for (int i = 0; i < 4; i++)
    hash = (hash ^ bits[i] ^ (bits[i] >> 31)) * UINT64_C (0x9E3779B97F4A7C15); /* 2^64 over the golden ratio: spreads all bits */
  return &found[(hash >> 40) % PLACES];
}

static bool
look_up (NumCritical *critical, size_t n, bool two, double coverage, double confidence)
{
  Found *place = place_of (n, two, coverage, confidence);
  bool known;

  pthread_mutex_lock (&lock);
  known = place->n == n && n > 0 && place->critical.two == two && !(place->coverage < coverage) && !(place->coverage > coverage)
          && !(place->confidence < confidence) && !(place->confidence > confidence);
  if (known)
    *critical = place->critical;
  pthread_mutex_unlock (&lock);
  return known;
}

static void
keep (const NumCritical *critical, size_t n, double coverage, double confidence)
{
  Found *place = place_of (n, critical->two, coverage, confidence);

  pthread_mutex_lock (&lock);
  *place = (Found){ n, coverage, confidence, *critical };
  pthread_mutex_unlock (&lock);
}

/**
 * num_critical_init:
 * @critical: (out caller-allocates): the distances
 * @n: sample size, at least 2
 * @two: whether there are two limits
 * @coverage: share wanted inside, in (0, 1), for two limits at least 0.5
 * @confidence: wanted, in (0, 1)
 *
 * One limit: the exact one-sided tolerance factor. Two: roots of num_normal_share_confidence() at nine places.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_critical_init (NumCritical *critical, size_t n, bool two, double coverage, double confidence)
{
  NumStatus status;

  critical->two = two;
  if (!(coverage > 0.0 && coverage < 1.0 && confidence > 0.0 && confidence < 1.0) || (two && coverage < 0.5))
    return NUM_BAD_INPUT;
  if (look_up (critical, n, two, coverage, confidence))
    return NUM_OK;
  status = find_distances (critical, n, two, coverage, confidence);
  if (status == NUM_OK)
    keep (critical, n, coverage, confidence);
  return status;
}

/**
 * num_critical_met:
 * @critical: the distances
 * @mean: of a sample of its size
 * @sd: of the sample
 * @limits: as many as it was computed for
 *
 * Returns: whether the sample reaches the confidence; between the nine places the distance is taken in a straight line
 */
bool
num_critical_met (const NumCritical *critical, double mean, double sd, NumLimits limits)
{
  double near = fmin (mean - limits.lower, limits.upper - mean);
  double place, part;
  int below;

  if (!critical->two)
    return near >= critical->distance[0] * sd;
  if (near < critical->distance[0] * sd || near < 0.0)
    return false;
  place = near / (0.5 * (limits.upper - limits.lower)) * (NUM_CRITICAL_POINTS - 1);
  below = place < NUM_CRITICAL_POINTS - 1 ? (int) place : NUM_CRITICAL_POINTS - 2;
  part = place - below;
  return near >= ((1.0 - part) * critical->distance[below] + part * critical->distance[below + 1]) * sd;
}
