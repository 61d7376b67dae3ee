/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure a sample makes us that enough of the population lies inside its limits, by the shapes that one may state. */
#include "num-conformance.h"

#include "num-demonstration.h"
#include "num-describe.h"
#include "num-normal-share.h"
#include "num-proportion.h"
#include "num-search.h"

#include <math.h>
#include <stdlib.h>

static bool
is_share (double share)
{
  return share > 0.0 && share < 1.0; /* false for NAN too */
}

/* At least one limit, in order, and neither NAN. */
static bool
limits_fit (NumLimits limits)
{
  return limits.lower < limits.upper && (isfinite (limits.lower) || isfinite (limits.upper));
}

/**
 * num_normal_share:
 * @mean: of the population
 * @sd: of the population, above 0
 * @limits: either end may be infinite
 *
 * Returns: the share of a normal population inside the limits
 */
double
num_normal_share (double mean, double sd, NumLimits limits)
{
  return num_normal_share_between ((limits.lower - mean) / sd, (limits.upper - mean) / sd);
}

/**
 * num_limits_log:
 * @limits: of positive values
 *
 * Returns: the limits of their logarithms; one at or below 0 becomes -INFINITY
 */
NumLimits
num_limits_log (NumLimits limits)
{
  return (NumLimits){ limits.lower > 0.0 ? log (limits.lower) : -HUGE_VAL,
                      limits.upper > 0.0 ? log (limits.upper) : -HUGE_VAL };
}

/**
 * num_conformance_confidence:
 * @n: sample size, at least 2
 * @mean: of the sample
 * @sd: of the sample, above 0
 * @limits: at least one finite
 * @coverage: share of the population wanted inside, in (0, 1)
 * @confidence: (out): in [0, 1]
 *
 * The confidence alone, without the bound of the share: see num_conformance().
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_conformance_confidence (size_t n, double mean, double sd, NumLimits limits, double coverage, double *confidence)
{
  *confidence = NAN;
  if (!limits_fit (limits) || !is_share (coverage) || !isfinite (mean) || !isfinite (sd) || sd < 0.0)
    return NUM_BAD_INPUT;
  if (n < 2)
    return NUM_TOO_FEW;
  if (sd == 0.0)
    return NUM_NO_VARIATION;
  return num_normal_share_confidence (n, (mean - limits.lower) / sd, (limits.upper - mean) / sd, 1.0 - coverage,
                                      confidence);
}

/**
 * num_conformance:
 * @n: sample size, at least 2
 * @mean: of the sample
 * @sd: of the sample (n - 1), above 0
 * @limits: at least one finite
 * @coverage: share of the population wanted inside, in (0, 1)
 * @share_confidence: one-sided confidence of the lower bound of the share, in (0, 1); NAN: the bound is not wanted,
 *   which saves most of the time
 * @out: (out): the answer; @lognormal NAN, @outside 0
 *
 * The chance, given the data, that at least @coverage of a normal population lies inside the limits, when (n-1)
 * sd^2/sigma^2 is chi-square with n-1 degrees of freedom and mu given sigma is normal around the sample mean with
 * deviation sigma/sqrt(n): the fiducial distribution, equal to the posterior under the reference prior. One limit: exactly
 * the noncentral t (ISO 16269-6; NIST/SEMATECH e-Handbook 7.2.6.3), so that a limit at the one-sided tolerance factor has
 * the factor's confidence. Two limits: integrated over sigma (num-normal-share.c).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW below 2; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_conformance (size_t n, double mean, double sd, NumLimits limits, double coverage, double share_confidence,
                 NumConformance *out)
{
  double confidence, miss = NAN;
  NumStatus status;

  *out = (NumConformance){ NAN, NAN, NAN, NAN, NAN, NAN, n, 0 };
  if (!is_share (share_confidence) && !isnan (share_confidence))
    return NUM_BAD_INPUT;
  status = num_conformance_confidence (n, mean, sd, limits, coverage, &confidence);
  if (status == NUM_OK && !isnan (share_confidence))
    status = num_normal_share_miss (n, (mean - limits.lower) / sd, (limits.upper - mean) / sd, share_confidence, &miss);
  if (status != NUM_OK)
    return status;

  out->confidence = out->normal = confidence;
  out->contrary = 1.0 - confidence;
  out->share = num_normal_share (mean, sd, limits);
  out->share_low = 1.0 - miss;
  return NUM_OK;
}

/* What a sample is judged by. */
typedef struct
{
  const double *values;
  size_t n;
  NumLimits limits;
  double coverage;
  double share_confidence;
  double resolution;
} Question;

static NumStatus
ask_normal (const Question *question, NumConformance *out)
{
  NumMoments moments;
  NumStatus status = num_moments (question->values, question->n, &moments);

  if (status != NUM_OK)
    return status;
  return num_conformance (question->n, moments.mean, fmax (moments.sd, 0.5 * question->resolution), question->limits,
                          question->coverage, question->share_confidence, out);
}

/* The smallest of the sample must be above 0. A limit at or below 0 is -INFINITY on the log scale. */
static NumStatus
ask_lognormal (const Question *question, const NumMoments *plain, NumConformance *out)
{
  NumLimits limits = num_limits_log (question->limits);
  double *logs;
  NumMoments moments;
  NumStatus status;

  if (!isfinite (limits.lower) && !isfinite (limits.upper))
    { /* a positive population lies wholly above a limit of 0, and never below one */
      double certain = limits.upper > 0.0 ? 1.0 : 0.0;

      *out = (NumConformance){ certain, 1.0 - certain, NAN, certain, certain, certain, question->n, 0 };
      return question->n < 2 ? NUM_TOO_FEW : NUM_OK;
    }
  logs = calloc (question->n, sizeof *logs);
  if (logs == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < question->n; i++)
    logs[i] = log (question->values[i]);
  status = num_moments (logs, question->n, &moments);
  free (logs);
  if (status != NUM_OK)
    return status;
  status = num_conformance (question->n, moments.mean, fmax (moments.sd, 0.5 * question->resolution / plain->mean),
                            limits, question->coverage, question->share_confidence, out);
  out->lognormal = out->normal;
  out->normal = NAN;
  return status;
}

/* Values outside the limits are failures among n units. */
static NumStatus
ask_count (const Question *question, size_t outside, NumConformance *out)
{
  double tolerated = 1.0 - question->coverage;
  NumStatus status = num_demonstration_confidence (outside, question->n, tolerated, &out->confidence);

  if (status == NUM_OK)
    status = num_demonstration_contrary (outside, question->n, tolerated, &out->contrary);
  if (status == NUM_OK && !isnan (question->share_confidence))
    status = num_proportion_lower (question->n - outside, question->n, question->share_confidence, &out->share_low);
  if (status == NUM_OK)
    out->share = (double) (question->n - outside) / (double) question->n;
  return status;
}

static NumStatus
ask_least (const Question *question, const NumMoments *plain, NumConformance *out)
{
  NumConformance other;
  NumStatus status = ask_normal (question, out);

  if (status != NUM_OK || !(plain->min > 0.0))
    return status;
  status = ask_lognormal (question, plain, &other);
  if (status != NUM_OK)
    return status;

  if (other.confidence < out->confidence)
    {
      out->confidence = other.confidence;
      out->share = other.share;
      out->share_low = other.share_low;
    }
  out->contrary = fmin (out->contrary, other.contrary);
  out->lognormal = other.lognormal;
  return NUM_OK;
}

/**
 * num_conformance_values:
 * @values: (array length=n): finite values, one a unit, in any order
 * @n: their number, at least 2 (1 where @shape is %NUM_SHAPE_UNKNOWN)
 * @limits: at least one finite; values on a limit are inside
 * @coverage: share of the population wanted inside, in (0, 1)
 * @share_confidence: one-sided confidence of the lower bound of the share, in (0, 1); NAN: the bound is not wanted,
 *   which saves most of the time
 * @shape: what is assumed of the population
 * @resolution: step in which the values were read, 0 where unknown
 * @out: (out): the answer
 *
 * The deviation used is at least half the resolution, on the log scale at least resolution / (2 mean): readings that all
 * fall on one step do not make a population without spread. Log-normal: the normal answer on logarithms of values and
 * limits. Least: the smaller of the normal and, where all values are positive, the log-normal answer; share and bound are
 * those of the smaller. Unknown: the count outside, by num_demonstration_confidence(), with Clopper and Pearson's bound.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_NO_VARIATION; %NUM_BAD_INPUT (also a value of 0 or less where the shape is
 * log-normal); %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_conformance_values (const double *values, size_t n, NumLimits limits, double coverage, double share_confidence,
                        NumShape shape, double resolution, NumConformance *out)
{
  Question question = { values, n, limits, coverage, share_confidence, resolution };
  NumMoments plain;
  NumStatus status;
  size_t outside = 0;

  *out = (NumConformance){ NAN, NAN, NAN, NAN, NAN, NAN, n, 0 };
  if (!limits_fit (limits) || !is_share (coverage) || (!is_share (share_confidence) && !isnan (share_confidence))
      || !(resolution >= 0.0 && isfinite (resolution)))
    return NUM_BAD_INPUT;
  status = num_moments (values, n, &plain);
  if (status != NUM_OK)
    return status;

  for (size_t i = 0; i < n; i++)
    outside += values[i] < limits.lower || values[i] > limits.upper;
  switch (shape)
    {
    case NUM_SHAPE_NORMAL:
      status = ask_normal (&question, out);
      break;
    case NUM_SHAPE_LEAST:
      status = ask_least (&question, &plain, out);
      break;
    case NUM_SHAPE_LOGNORMAL:
      status = plain.min > 0.0 ? ask_lognormal (&question, &plain, out) : NUM_BAD_INPUT;
      break;
    case NUM_SHAPE_UNKNOWN:
      status = ask_count (&question, outside, out);
      break;
    default:
      status = NUM_BAD_INPUT;
    }
  if (status != NUM_OK)
    *out = (NumConformance){ NAN, NAN, NAN, NAN, NAN, NAN, n, 0 };
  out->outside = outside;
  return status;
}

typedef struct
{
  double mean;
  double sd;
  NumLimits limits;
  double coverage;
  double wanted;
} Plan;

static NumStatus
plan_enough (size_t units, void *data, bool *enough)
{
  const Plan *plan = data;
  double reached;
  NumStatus status = num_conformance_confidence (units, plan->mean, plan->sd, plan->limits, plan->coverage, &reached);

  *enough = status == NUM_OK && reached >= plan->wanted;
  return status;
}

/**
 * num_conformance_units:
 * @mean: of the sample so far
 * @sd: of the sample so far, above 0
 * @limits: at least one finite
 * @coverage: share wanted inside, in (0, 1)
 * @wanted: confidence wanted, in (0, 1)
 * @least: smallest number looked at; below 2 it is 2
 * @most: largest number looked at
 * @units: (out): the smallest number in all that reaches the confidence if mean and deviation stay as they are; 0 unless
 *   the result is %NUM_OK
 *
 * Returns: %NUM_OK; %NUM_NO_SOLUTION when @most is not enough; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE
 */
NumStatus
num_conformance_units (double mean, double sd, NumLimits limits, double coverage, double wanted, size_t least,
                       size_t most, size_t *units)
{
  Plan plan = { mean, sd, limits, coverage, wanted };

  *units = 0;
  if (!is_share (wanted))
    return NUM_BAD_INPUT;
  return num_search_least (plan_enough, &plan, least < 2 ? 2 : least, most, units);
}
