/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-limits-private.h"

#include "insight-study.h"

#include <math.h>

/*
 * The guard band of a safety characteristic, by the newest complete study of its gauge.
 */

/* The newest complete study, and the trials of a newer one with gaps. */
static void
find_study (const BookEvidence *e, int characteristic, BookDay end, InsightGuard *guard)
{
  g_autoptr(GPtrArray) studies = insight_studies (e, characteristic, end);
  BookDay newest_incomplete = 0;

  for (guint i = 0; i < studies->len; i++)
    {
      const InsightStudy *study = studies->pdata[i];

      if (!study->computed)
        {
          if (guard->incomplete == 0 || study->day >= newest_incomplete)
            {
              newest_incomplete = study->day;
              guard->incomplete = study->end - study->first;
            }
        }
      else if (!guard->has_study || study->day >= guard->studied)
        {
          guard->has_study = TRUE;
          guard->studied = study->day;
          guard->grr = study->answer.grr;
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
