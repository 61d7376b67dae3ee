/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-limits-private.h"

#include "num-gauge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * The guard band of a safety characteristic, by the newest complete study of its gauge.
 *
 * The book has trials, not studies: those by one gauge on one characteristic are one study as long as no pause between
 * them is longer than STUDY_PAUSE. A study counts when every person tried every piece equally often, at least twice.
 */

#define STUDY_PAUSE 30 /* days; common practice, no source */

static int
compare_for_crossing (gconstpointer a, gconstpointer b)
{
  const BookEvidenceTrial *first = *(const BookEvidenceTrial *const *) a, *second = *(const BookEvidenceTrial *const *) b;
  int order;

  if (first->person_id != second->person_id)
    return first->person_id < second->person_id ? -1 : 1;
  order = strcmp (first->piece, second->piece);
  if (order != 0)
    return order;
  return (first->trial > second->trial) - (first->trial < second->trial);
}

/* Whether @trials, in order, are persons by pieces by repeats without a gap. */
static gboolean
is_crossed (const BookEvidenceTrial *const *trials, guint n, NumGaugeStudy *study)
{
  guint repeats = 1, block = 1;

  while (repeats < n && trials[repeats]->person_id == trials[0]->person_id
         && strcmp (trials[repeats]->piece, trials[0]->piece) == 0)
    repeats++;
  while (block < n && trials[block]->person_id == trials[0]->person_id)
    block++;
  if (block % repeats != 0 || n % block != 0)
    return FALSE;

  for (guint i = 0; i < n; i++)
    {
      guint cell = i % block;

      if (trials[i]->person_id != trials[i - cell]->person_id || strcmp (trials[i]->piece, trials[cell]->piece) != 0
          || strcmp (trials[i]->piece, trials[i - cell % repeats]->piece) != 0)
        return FALSE;
      if (cell == 0 && i > 0 && trials[i]->person_id == trials[i - 1]->person_id)
        return FALSE;
      if (cell % repeats == 0 && cell > 0 && strcmp (trials[i]->piece, trials[i - 1]->piece) == 0)
        return FALSE;
    }
  *study = (NumGaugeStudy){ NULL, n / block, block / repeats, repeats };
  return TRUE;
}

/* The deviation that a study found; FALSE when it has gaps or is too small. */
static gboolean
study_deviation (const BookEvidenceTrial *first, guint n, double *grr)
{
  g_autofree const BookEvidenceTrial **trials = g_new (const BookEvidenceTrial *, n);
  g_autofree double *values = g_new (double, n);
  NumGaugeStudy study;
  NumGauge answer;

  for (guint i = 0; i < n; i++)
    trials[i] = first + i;
  qsort (trials, n, sizeof *trials, compare_for_crossing);
  if (!is_crossed (trials, n, &study))
    return FALSE;
  for (guint i = 0; i < n; i++)
    values[i] = trials[i]->value;
  study.values = values;
  if (num_gauge_anova (&study, &answer) != NUM_OK || !isfinite (answer.grr))
    return FALSE;
  *grr = answer.grr;
  return TRUE;
}

/* Goes through the studies of a characteristic up to @end; undated trials are older than all others. */
static void
find_study (const BookEvidence *e, int characteristic, BookDay end, InsightGuard *guard)
{
  BookDay newest_incomplete = 0;

  for (guint i = 0, next; i < e->n_trials; i = next)
    {
      const BookEvidenceTrial *first = &e->trials[i];
      BookDay last = first->day;
      double grr;

      for (next = i + 1; next < e->n_trials && e->trials[next].characteristic == first->characteristic
                         && e->trials[next].gauge == first->gauge && e->trials[next].day <= end
                         && e->trials[next].day - last <= STUDY_PAUSE; next++)
        last = e->trials[next].day;
      if (first->characteristic != characteristic || first->day > end)
        continue;
      if (!study_deviation (first, next - i, &grr))
        {
          if (guard->incomplete == 0 || last >= newest_incomplete)
            {
              newest_incomplete = last;
              guard->incomplete = next - i;
            }
        }
      else if (!guard->has_study || last >= guard->studied)
        {
          guard->has_study = TRUE;
          guard->studied = last;
          guard->grr = grr;
        }
    }
  if (guard->has_study && newest_incomplete <= guard->studied)
    guard->incomplete = 0;
}

/**
 * insight_guard:
 * @evidence: the records
 * @characteristic: a characteristic
 * @end: last day that is seen
 *
 * By how much the limits of a measured safety characteristic are pulled in: 1.645 times the uncertainty of the gauge,
 * u^2 = grr^2 + resolution^2 / 12 (JCGM 106:2012). The deviation grr is that of the newest complete study of this
 * characteristic, by analysis of variance; 0 without one.
 *
 * Returns: the width at each limit, 0 for all other characteristics, and the study behind it
 */
InsightGuard
insight_guard (const BookEvidence *evidence, int characteristic, BookDay end)
{
  const BookEvidenceCharacteristic *one = &evidence->characteristics[characteristic];
  InsightGuard guard = { 0 };

  if (one->klass != BOOK_CLASS_SAFETY || one->kind != BOOK_CHARACTERISTIC_MEASURED)
    return guard;
  find_study (evidence, characteristic, end, &guard);
  guard.width = INSIGHT_GUARD_FACTOR * hypot (guard.grr, insight_resolution (evidence, characteristic) / sqrt (12.0));
  return guard;
}
