/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How often a criterion was looked at and started again. Fed with one look after another, in the order of the rounds;
 * neither count ever goes back.
 */

#include "insight-units-private.h"

G_BEGIN_DECLS

typedef struct
{
  guint   looks;
  guint   attempts;         /* 1 and the starts again */
  guint   earlier_failures; /* counted failures that no longer count */
  int    *seen;             /* by unit: round of the look at which it was first seen, -1 not yet */
  guint8 *failure;          /* by unit: 0 none, 1 a counted failure, 2 one that no longer counts */
  GArray *starts;           /* Start */
  GArray *seen_looks;       /* gint64: distinct looks with new data */
} InsightLooks;

void insight_looks_init  (InsightLooks       *looks,
                          const BookEvidence *evidence);
void insight_looks_clear (InsightLooks       *looks);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (InsightLooks, insight_looks_clear)

void insight_looks_add   (InsightLooks       *looks,
                          InsightUnits       *units);
double insight_surcharged (double             confidence,
                           guint              j);

G_END_DECLS
