/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One whole sentence for each thing that src/insight says with a code: reasons beside a figure, things nobody looked
 * at, next steps. No other place writes sentences about evidence.
 */

#include "insight-series.h"
#include "insight-standing.h"

G_BEGIN_DECLS

char       *present_reason         (const InsightReason   *reason,
                                    const char            *unit,
                                    int                    decimals) G_GNUC_WARN_UNUSED_RESULT;
char       *present_gap            (const InsightGap      *gap) G_GNUC_WARN_UNUSED_RESULT;
char       *present_step           (const InsightStep     *step,
                                    const InsightStanding *standing) G_GNUC_WARN_UNUSED_RESULT;
const char *present_state_words    (InsightState           state);
const char *present_state_sign     (InsightState           state);
const char *present_method_words   (InsightMethod          method);
const char *present_counting_words (InsightCounting        counting);
const char *present_verdict_words  (InsightVerdict         verdict);
const char *present_caution        (void);
char       *present_caution_with   (const char            *added) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
