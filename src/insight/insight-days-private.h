/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Days and phases of one round alone, without its units and issues.
 */

#include "book-evidence.h"
#include "insight-days.h"

G_BEGIN_DECLS

/* Fills in days, total, open and phase. */
void     insight_round_days_count (const BookEvidence *evidence,
                                   int                 round,
                                   BookDay             today,
                                   InsightRoundDays   *out);

G_END_DECLS
