/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where a unit is (insight-bench-place.c) and what is to be measured on it (insight-bench-wanted.c), in indices.
 */

#include "book-evidence.h"
#include "insight-bench.h"

G_BEGIN_DECLS

/**
 * InsightPlace:
 * @state: what it waits for
 * @step: the step it waits for; -1: none
 * @since: day of the event that left it there; 0: not known
 * @back: index of the event by which it was sent back and is not settled; -1: none
 * @mended: day on which it was last reworked or altered; 0: never
 * @mended_second: of that day; -1: not known
 */
typedef struct
{
  InsightBenchState state;
  int               step;
  BookDay           since;
  int               back;
  BookDay           mended;
  int               mended_second;
} InsightPlace;

/* (array): one a unit, to be freed. */
InsightPlace *insight_bench_places (const BookEvidence *evidence,
                                    BookDay             today) G_GNUC_WARN_UNUSED_RESULT;
/* Which step puts right what @event sent back; -1: nobody knows. */
int           insight_bench_back_to (const BookEvidence      *evidence,
                                     const BookEvidenceEvent *event);
/* Fills @wanted of each of @units, which are in the order of the evidence. */
void          insight_bench_find_wanted (const BookEvidence *evidence,
                                         const InsightPlace *places,
                                         int                 bench,
                                         BookDay             today,
                                         GPtrArray          *units);
/* Whether a step is one of the bench; @bench -1: any. */
gboolean      insight_bench_has_step (const BookEvidence *evidence,
                                      int                 bench,
                                      int                 step);

G_END_DECLS
