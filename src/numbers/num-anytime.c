/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Confidence that holds however often one looks.
 *
 * Method. For each failing share q below the tolerated p0, the likelihood ratio of q against p0 of the units so far is a
 * supermartingale under every true share p >= p0, and so is a mixture of such ratios: here half of it at q = 0 and half
 * spread evenly over (0, p0). Such an E is an e-process; by Ville's inequality the chance that it ever exceeds 1/alpha
 * while p >= p0 is at most alpha, so that 1 - 1/E may be looked at after each unit (Ramdas, Gruenwald, Vovk and Shafer
 * 2023, arXiv 2210.01948; the mixture is ours).
 */
#include "num-anytime.h"

#include "num-dist.h"
#include "num-search.h"

#include <math.h>

#define UNITS_MOST ((size_t) 1 << 52) /* counts beyond are not whole in a double */
#define EQUAL 1e-12                   /* relative; a confidence that equals its limit but for rounding reaches it */

/**
 * num_anytime_confidence:
 * @failed: units that failed, at most @units
 * @units: independent units tried so far; 0 gives E = 1 and confidence 0
 * @tolerated: largest acceptable failing share p0, in (0, 1)
 * @e: (out) (nullable): the e-value; INFINITY where it exceeds a double
 * @confidence: (out): max(0, 1 - 1/E), in [0, 1]
 *
 * E = 1/2 [k=0] (1-p0)^-n + 1/2 B(k+1, n-k+1) I_p0(k+1, n-k+1) / (p0 p0^k (1-p0)^(n-k)), in logarithms.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_anytime_confidence (size_t failed, size_t units, double tolerated, double *e, double *confidence)
{
  double k = (double) failed;
  double passed, mixed, log_pass, log_fail, log_e;

  *confidence = NAN;
  if (e != NULL)
    *e = NAN;
  if (failed > units || !(tolerated > 0.0 && tolerated < 1.0))
    return NUM_BAD_INPUT;

  passed = (double) (units - failed);
  log_fail = log (tolerated);
  log_pass = log1p (-tolerated);
  mixed = num_beta_function_log (k + 1.0, passed + 1.0) + num_beta_lower_log (tolerated, k + 1.0, passed + 1.0)
          - (k + 1.0) * log_fail - passed * log_pass;
  log_e = mixed - M_LN2;
  if (failed == 0) /* log (exp (pure) + exp (mixed)) - log 2, the larger term taken out */
    {
      double pure = -passed * log_pass;
      double larger = fmax (pure, mixed);

      log_e = larger + log1p (exp (fmin (pure, mixed) - larger)) - M_LN2;
    }
  if (e != NULL)
    *e = exp (log_e);
  *confidence = log_e > 0.0 ? -expm1 (-log_e) : 0.0;
  return NUM_OK;
}

typedef struct
{
  size_t failed;
  double tolerated;
  double confidence;
} Plan;

static NumStatus
plan_enough (size_t units, void *data, bool *enough)
{
  const Plan *plan = data;
  double reached;
  NumStatus status = num_anytime_confidence (plan->failed, units, plan->tolerated, NULL, &reached);

  *enough = status == NUM_OK && 1.0 - reached <= (1.0 - plan->confidence) * (1.0 + EQUAL);
  return status;
}

/**
 * num_anytime_units:
 * @failed: failures in all
 * @tolerated: largest acceptable failing share, in (0, 1)
 * @confidence: wanted, in (0, 1)
 * @units: (out): the smallest number of units that reaches it; 0 unless the result is %NUM_OK
 *
 * With a given number of failures each further passing unit makes E larger, so that the smallest number can be searched.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT; %NUM_NO_SOLUTION when even 2^52 units are too few
 */
NumStatus
num_anytime_units (size_t failed, double tolerated, double confidence, size_t *units)
{
  Plan plan = { failed, tolerated, confidence };

  *units = 0;
  if (!(tolerated > 0.0 && tolerated < 1.0) || !(confidence > 0.0 && confidence < 1.0) || failed >= UNITS_MOST)
    return NUM_BAD_INPUT;
  return num_search_least (plan_enough, &plan, failed > 0 ? failed : 1, UNITS_MOST, units);
}
