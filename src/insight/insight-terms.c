/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "insight-study.h"
#include "num-proportion.h"

#include <math.h>

/* What is asked where the terms leave it open: the share that must conform and the confidence, by class. */
static const struct
{
  double share;
  double confidence;
} defaults[INSIGHT_N_CLASSES] = {
  [BOOK_CLASS_SAFETY - 1] = { 0.9999, 0.95 },
  [BOOK_CLASS_FUNCTION - 1] = { 0.95, 0.90 },
  [BOOK_CLASS_APPEARANCE - 1] = { 0.90, 0.90 },
};

double
insight_class_share (BookClass klass)
{
  return defaults[klass - BOOK_CLASS_SAFETY].share;
}

double
insight_class_confidence (BookClass klass)
{
  return defaults[klass - BOOK_CLASS_SAFETY].confidence;
}

/**
 * insight_terms_on:
 * @evidence: the records
 * @criterion: a criterion
 * @day: end of the span: later terms are not seen
 *
 * Returns: what the criterion asks on @day, by its terms and, where these are silent, by its class
 */
InsightTerms
insight_terms_on (const BookEvidence *evidence, guint criterion, BookDay day)
{
  BookClass klass = evidence->criteria[criterion].klass;
  InsightTerms terms = { NAN, NAN, NAN, FALSE, FALSE, NULL, -1 };

  for (guint i = 0; i < evidence->n_terms; i++)
    if (evidence->terms[i].criterion == (int) criterion && evidence->terms[i].from <= day)
      {
        terms.term = &evidence->terms[i];
        terms.row = (int) i;
      }

  if (terms.term != NULL)
    {
      int person = terms.term->person;

      terms.share = terms.term->share;
      terms.confidence = terms.term->confidence;
      terms.target = terms.term->target;
      terms.owner_share = !isnan (terms.share) && person >= 0 && evidence->persons[person].role == BOOK_ROLE_OWNER;
    }
  terms.is_default = isnan (terms.share) || isnan (terms.confidence);
  if (!(terms.share > 0.0 && terms.share < 1.0))
    terms.share = defaults[klass - BOOK_CLASS_SAFETY].share;
  if (!(terms.confidence > 0.0 && terms.confidence < 1.0))
    terms.confidence = defaults[klass - BOOK_CLASS_SAFETY].confidence;
  return terms;
}

/**
 * insight_detection:
 * @evidence: the records
 * @characteristic: a checked characteristic
 * @end: last day that is seen
 * @confidence: of the bound
 *
 * How much of what is bad a check finds at least, by the study with known bad pieces: the one-sided exact bound, of
 * the inspector with the least.
 *
 * Returns: the bound; NAN when there is no study
 */
double
insight_detection (const BookEvidence *evidence, int characteristic, BookDay end, double confidence)
{
  g_autoptr(GArray) inspectors = insight_bad_pieces (evidence, characteristic, end);
  double least = NAN;

  for (guint i = 0; i < inspectors->len; i++)
    {
      const InsightBadPieces *one = &g_array_index (inspectors, InsightBadPieces, i);
      double low;

      if (num_proportion_lower (one->caught, one->tried, confidence, &low) == NUM_OK && !(low >= least))
        least = low;
    }
  return least;
}
