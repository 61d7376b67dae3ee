/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Two rounds to be compared: a lever that goes from revision A to B, and a measured characteristic that depends on it.
 */

#include "evidence-fixture.h"
#include "insight-compare.h"

typedef struct
{
  Fixture *f;
  int p1, p2, lever, a, b, play, change;
} Pair;

/* Five values each, two apart in the mean. */
extern const double pair_before[5], pair_after[5];

Pair                     pair_new        (void);
void                     pair_plan       (Pair *pair);
/* A change that leads from A to B, agreed on @date. */
void                     pair_change     (Pair *pair, const char *date);
void                     pair_values     (Pair *pair, int round, int characteristic, const double *values, guint n);
/* Old and new turn by turn in P2: every second unit has the new lever. The index of the first. */
int                      pair_split      (Pair *pair, const double *old, const double *new, guint n);

/* As of 2027-01-01; the records are finished by the first. */
InsightComparison       *pair_compare    (Pair *pair);
InsightComparison       *fixture_compare (Fixture *f, InsightCompareAsk ask);
const InsightDifference *difference_at   (const InsightComparison *out, guint i);
const InsightEffect     *effect_at       (const InsightComparison *out, guint i);
const InsightRemark     *remark_of       (const InsightEffect *effect, InsightRemarkCode code);
