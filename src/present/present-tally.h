/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Counting pieces at a step, in words: what was counted today, the running yield, why it cannot be counted.
 */

#include "insight-tally.h"

G_BEGIN_DECLS

typedef struct _BookEvidence BookEvidence; /* book-evidence.h */

/* Why nothing can be tallied; NULL where it can. */
char *present_tally_refusal (const InsightTally     *tally,
                             const BookEvidence     *evidence) G_GNUC_WARN_UNUSED_RESULT;
/* 'Today 38 pieces were counted here.' and what waits. */
char *present_tally_today   (const InsightTally     *tally) G_GNUC_WARN_UNUSED_RESULT;
/* The running yield of the step with interval and n. */
char *present_tally_yield   (const InsightPilotStep *step) G_GNUC_WARN_UNUSED_RESULT;
/* What is asked about pieces that were not good; "" where all have their issue. */
char *present_tally_unnamed (const InsightTally     *tally) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
