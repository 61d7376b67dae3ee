/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When the numbers prove a fix. */
#include "num-fix.h"

#include "num-anytime.h"
#include "num-compare.h"
#include "num-demonstration.h"

#include <math.h>

#define EQUAL 1e-12 /* relative; a confidence that equals its limit but for rounding reaches it */

/**
 * num_wanted_at_attempt:
 * @confidence: wanted at all attempts together, in (0, 1)
 * @attempt: from 1
 *
 * Returns: the confidence wanted at this attempt, 1 - alpha/(j (j+1)): the sum of the errors over all j is alpha
 */
double
num_wanted_at_attempt (double confidence, size_t attempt)
{
  double j = (double) attempt;

  return 1.0 - (1.0 - confidence) / (j * (j + 1.0));
}

/**
 * num_fix:
 * @k_before: failures before, at most @n_before
 * @n_before: at least 1
 * @k_after: failures after, at most @n_after
 * @n_after: at least 1
 * @tolerated: failing share still tolerated, in (0, 1)
 * @confidence: wanted, in (0, 1)
 * @attempt: number of the attempt at this fix, from 1
 * @strict: whether the confidence must hold however often one looks and starts again
 * @out: (out): the verdict
 *
 * Strict: the any-time confidence against num_wanted_at_attempt(); else the exact binomial confidence against the one wanted.
 * Besides Fisher's one-sided chance must be below %NUM_FIX_FISHER.
 *
 * Returns: %NUM_OK; %NUM_BAD_INPUT
 */
NumStatus
num_fix (size_t k_before, size_t n_before, size_t k_after, size_t n_after, double tolerated, double confidence,
         size_t attempt, bool strict, NumFix *out)
{
  NumStatus status;

  *out = (NumFix){ NAN, NAN, NAN, false };
  if (!(confidence > 0.0 && confidence < 1.0) || attempt == 0)
    return NUM_BAD_INPUT;
  status = num_fisher_less (k_before, n_before, k_after, n_after, &out->fisher);
  if (status == NUM_OK)
    status = strict ? num_anytime_confidence (k_after, n_after, tolerated, NULL, &out->confidence)
                    : num_demonstration_confidence (k_after, n_after, tolerated, &out->confidence);
  if (status != NUM_OK)
    return status;
  out->wanted = strict ? num_wanted_at_attempt (confidence, attempt) : confidence;
  out->proven = 1.0 - out->confidence <= (1.0 - out->wanted) * (1.0 + EQUAL) && out->fisher < NUM_FIX_FISHER;
  return NUM_OK;
}
